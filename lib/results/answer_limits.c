/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How many extensions of the best combination are beyond the limits that a plan assumes, and which
 * of those as good has fewer. A study asks how a set looks; what lashes carry is another question,
 * which must not go under.
 */
#include "results/results.h"

#include <math.h>
#include <tipcrest/check.h>

#include "file/report_table.h"
#include "results/answer_table.h"

static const double COUNTS = 0.01; /* a share that is worth a word, and such a difference */

/* Extensions, and those of them that are beyond. */
typedef struct counted {
    double tips, beyond;
} counted;

/* The extensions of a point in one run. */
static tcr_status count_run(const tcr_results *r, const tcr_limits *limits, const double *value,
                            size_t run, counted *of) {
    tcr_set *set = NULL;
    tcr_check *check = NULL;
    tcr_check_options options = tcr_check_options_default();
    options.parts = 0;
    tcr_status status = tcr_study_set(r->study, value, run, &set, NULL);
    if (status == TCR_OK)
        status = tcr_check_new(set, &options, &check, NULL);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        of->tips += eye != NULL ? (double)eye->extended : 0.0;
        of->beyond += eye != NULL ? (double)tcr_count_beyond(set, limits, eye) : 0.0;
    }
    tcr_check_free(check);
    tcr_set_free(set);
    return status;
}

/* Of a combination of the part; NaN without an extension. */
static tcr_status share_of(const tcr_results *r, uint64_t combination, double *share) {
    const tcr_limits limits = tcr_set_file_plan_limits(tcr_study_file_set_file(r->file));
    double value[TCR_FACTORS_MAX];
    counted of = {0.0, 0.0};
    tcr_status status = tcr_study_points(r->study, r->first + combination, 1, value);
    for (size_t run = 0; run < r->runs && run < TCR_ANSWER_LIMIT_RUNS && status == TCR_OK; run++)
        status = count_run(r, &limits, value, run, &of);
    *share = status == TCR_OK ? of.beyond / of.tips : NAN;
    return status == TCR_E_MEMORY ? status : TCR_OK;
}

tcr_status tcr_answer_beyond(const tcr_results *r, tcr_beyond *beyond) {
    uint64_t best;
    *beyond = (tcr_beyond){.share = NAN, .least = NAN};
    if (tcr_results_best(r, &best) != TCR_OK)
        return TCR_OK;
    /* Others are named only where all factors of a grid are an artist's choice. */
    const bool all_chosen = r->each.rows == 0 && r->each.choices > 1;
    tcr_status status = share_of(r, r->ranked[0].combination, &beyond->share);
    beyond->least = beyond->share;
    if (!(beyond->share >= COUNTS) || !all_chosen)
        return status;
    for (uint64_t i = 1; i < r->end - r->first && i <= TCR_ANSWER_LIMIT_OTHERS && status == TCR_OK;
         i++) {
        double share;
        if (r->ranked[i].standing != TCR_STANDING_ALIKE)
            continue;
        status = share_of(r, r->ranked[i].combination, &share);
        if (share < beyond->least && share <= beyond->share - COUNTS) {
            beyond->least = share;
            beyond->combination = r->ranked[i].combination;
        }
    }
    return status;
}

static void add_share(tcr_paragraph *line, double share) {
    if (share == 0.0) {
        tcr_add(line, "none");
        return;
    }
    if (share < 0.005)
        tcr_add(line, "less than 1");
    else
        tcr_add_fixed(line, 100.0 * share, 0, false);
    tcr_add(line, " %");
}

void tcr_answer_add_beyond(const tcr_results *r, tcr_paragraph *line) {
    const tcr_beyond *beyond = &r->beyond;
    tcr_add(line, " ");
    add_share(line, beyond->share);
    tcr_add(line, " of extensions are beyond the limits that plan assumes");
    if (beyond->least < beyond->share) {
        tcr_add(line, "; with ");
        tcr_answer_add_combination(r, line, r->first + beyond->combination, true, 300);
        tcr_add(line, ", which is as good, ");
        add_share(line, beyond->least);
    }
    tcr_add(line, r->runs > TCR_ANSWER_LIMIT_RUNS ? ", in the first 100 runs." : ".");
}
