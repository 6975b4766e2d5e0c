/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is best for each client. Some factors are chosen (curls, lengths, the rule), others are
 * given: lashes, lid, where one looks from. To rank across what is given would say which client to
 * have, so here the choices are ranked within each combination of what is given.
 */
#include "results/results.h"

#include <string.h>

#include "num/memory.h"
#include "study/key.h"

/* Whether nobody who makes a set chooses a key's value. */
static bool is_given(const tcr_key *key) {
    switch (key->what) {
    case TCR_AT_LID:
    case TCR_AT_DESCRIPTION:
    case TCR_AT_MEAN_LASH:
    case TCR_AT_LINE:
    case TCR_AT_VIEW:
    case TCR_AT_APART:
        return true;
    default:
        return false;
    }
}

/* The place of a point among the combinations of the factors that are given, or of the others. */
static size_t place_of(const tcr_results *r, const tcr_each *each, size_t point, bool given) {
    size_t place = 0, step = 1;
    for (size_t i = r->factors; i-- > 0;) { /* the last factor goes fastest */
        const size_t levels = tcr_study_factor_at(r->study, i)->factor.levels;
        if (each->given[i] == given) {
            place += point % levels * step;
            step *= levels;
        }
        point /= levels;
    }
    return place;
}

/* Ranks the choices of one row, whose evaluations are given; 'point' has the point of each. */
static tcr_status rank_row(const tcr_results *r, const double *judged, const size_t *point,
                           size_t choices, tcr_ranked *ranked, tcr_each_row *row) {
    const tcr_best_options o = tcr_answer_best_options(r);
    const tcr_status status = tcr_best_of(&r->allocator, judged, 1, choices, r->runs, &o, ranked);
    if (status != TCR_OK)
        return status;
    *row = (tcr_each_row){.best = ranked[0], .choice = ranked[0].combination};
    row->best.combination = point[row->choice];
    for (size_t i = 1; i < choices; i++) {
        row->alike += ranked[i].standing == TCR_STANDING_ALIKE;
        row->open += ranked[i].standing == TCR_STANDING_OPEN;
    }
    return TCR_OK;
}

static tcr_status rank_rows(const tcr_results *r, tcr_each *each) {
    const size_t points = each->rows * each->choices, runs = r->runs;
    const tcr_allocator *a = &r->allocator;
    double *judged = tcr_resize(a, NULL, points * runs, sizeof *judged); /* row by row */
    size_t *point = tcr_resize(a, NULL, points, sizeof *point);
    tcr_ranked *ranked = tcr_resize(a, NULL, each->choices, sizeof *ranked);
    each->row = tcr_resize(a, NULL, each->rows, sizeof *each->row);
    tcr_status status = judged != NULL && point != NULL && ranked != NULL && each->row != NULL
                            ? TCR_OK
                            : TCR_E_MEMORY;
    for (size_t p = 0; status == TCR_OK && p < points; p++) {
        const size_t to = place_of(r, each, p, true) * each->choices + place_of(r, each, p, false);
        memcpy(judged + to * runs, r->judged + p * runs, runs * sizeof *judged);
        point[to] = p;
    }
    for (size_t i = 0; status == TCR_OK && i < each->rows; i++)
        status = rank_row(r, judged + i * each->choices * runs, point + i * each->choices,
                          each->choices, ranked, &each->row[i]);
    tcr_release(a, judged);
    tcr_release(a, point);
    tcr_release(a, ranked);
    return status;
}

tcr_status tcr_answer_each(const tcr_results *r, tcr_each *each) {
    *each = (tcr_each){.choices = 1};
    uint64_t best;
    size_t rows = 1;
    if (tcr_results_best(r, &best) != TCR_OK || r->file->options.design != TCR_DESIGN_GRID)
        return TCR_OK;
    for (size_t i = 0; i < r->factors; i++) {
        const tcr_study_factor *f = tcr_study_factor_at(r->study, i);
        each->given[i] = is_given(&f->key);
        *(each->given[i] ? &rows : &each->choices) *= f->factor.levels;
    }
    if (rows < 2 || each->choices < 2)
        return TCR_OK;
    each->rows = rows;
    const tcr_status status = rank_rows(r, each);
    if (status != TCR_OK)
        tcr_each_free(r, each);
    return status;
}

void tcr_each_free(const tcr_results *r, tcr_each *each) {
    tcr_release(&r->allocator, each->row);
    each->row = NULL;
    each->rows = 0;
}
