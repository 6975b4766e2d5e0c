/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How many extensions of the best combination are beyond the limits that a plan assumes. A study
 * asks how a set looks; what lashes carry is another question, which must not go under.
 */
#include "results/results.h"

#include <math.h>
#include <tipcrest/check.h>

#include "file/report_table.h"

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

tcr_status tcr_answer_beyond(const tcr_results *r, double *share) {
    double value[TCR_FACTORS_MAX];
    uint64_t best;
    counted of = {0.0, 0.0};
    *share = NAN;
    if (tcr_results_best(r, &best) != TCR_OK)
        return TCR_OK;
    const tcr_limits limits = tcr_set_file_plan_limits(tcr_study_file_set_file(r->file));
    tcr_status status = tcr_study_points(r->study, best, 1, value);
    for (size_t run = 0; run < r->runs && run < TCR_ANSWER_LIMIT_RUNS && status == TCR_OK; run++)
        status = count_run(r, &limits, value, run, &of);
    if (status == TCR_OK)
        *share = of.beyond / of.tips;
    return status == TCR_E_MEMORY ? status : TCR_OK;
}
