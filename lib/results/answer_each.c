/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is best for each client. Some factors are chosen (curls, lengths, the rule), others are
 * given: lashes, lid, where one looks from. To rank across what is given would say which client to
 * have, so here the choices are ranked within each combination of what is given.
 */
#include "results/results.h"

#include <math.h>
#include <string.h>

#include "num/memory.h"
#include "results/answer_table.h"
#include "study/key.h"

/* Whether no artist chooses a key's value. */
static bool is_given(const tcr_key *key) {
    switch (key->what) {
    case TCR_AT_LID:
    case TCR_AT_DESCRIPTION:
    case TCR_AT_MEAN_LASH:
    case TCR_AT_VIEW:
    case TCR_AT_APART:
        return true;
    case TCR_AT_LINE: /* whether two eyes share a line is chosen, from how near they are seen is not
                       */
        return strcmp(key->field->key, "shared") != 0;
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

/* Ranks the choices of a row. judged: their evaluations; point: of each its point. */
static tcr_status rank_row(const tcr_results *r, tcr_each *each, size_t number,
                           const double *judged, const size_t *point, tcr_ranked *ranked) {
    const tcr_best_options o = tcr_answer_best_options(r);
    const tcr_status status =
        tcr_best_of(&r->allocator, judged, 1, each->choices, r->runs, &o, ranked);
    if (status != TCR_OK)
        return status;
    tcr_each_row *row = &each->row[number];
    *row =
        (tcr_each_row){.best = ranked[0], .next = ranked[1].value, .choice = ranked[0].combination};
    row->best.combination = point[row->choice];
    if (isnan(row->best.value))
        return TCR_OK;
    each->first[row->choice]++;
    each->good[row->choice]++;
    for (size_t i = 1; i < each->choices; i++) {
        const bool alike = ranked[i].standing == TCR_STANDING_ALIKE;
        const bool open = ranked[i].standing == TCR_STANDING_OPEN;
        row->alike += alike;
        row->open += open;
        row->none += ranked[i].standing == TCR_STANDING_NONE;
        each->good[ranked[i].combination] += alike || open;
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
    each->first = tcr_resize(a, NULL, each->choices, 3 * sizeof *each->first);
    tcr_status status = judged != NULL && point != NULL && ranked != NULL && each->row != NULL &&
                                each->first != NULL
                            ? TCR_OK
                            : TCR_E_MEMORY;
    if (status == TCR_OK) {
        each->good = each->first + each->choices;
        each->point = each->good + each->choices;
        memset(each->first, 0, 2 * each->choices * sizeof *each->first);
    }
    for (size_t p = 0; status == TCR_OK && p < points; p++) {
        const size_t choice = place_of(r, each, p, false);
        const size_t to = place_of(r, each, p, true) * each->choices + choice;
        memcpy(judged + to * runs, r->judged + p * runs, runs * sizeof *judged);
        point[to] = each->point[choice] = p;
    }
    for (size_t i = 0; status == TCR_OK && i < each->rows; i++)
        status = rank_row(r, each, i, judged + i * each->choices * runs, point + i * each->choices,
                          ranked);
    tcr_release(a, judged);
    tcr_release(a, point);
    tcr_release(a, ranked);
    return status;
}

/* Parts the factors; false where all are of one kind, or nothing is ranked. */
static bool part(const tcr_results *r, tcr_each *each) {
    uint64_t best;
    size_t rows = 1;
    *each = (tcr_each){.choices = 1};
    if (tcr_results_best(r, &best) != TCR_OK)
        return false;
    for (size_t i = 0; i < r->factors; i++) {
        const tcr_study_factor *f = tcr_study_factor_at(r->study, i);
        each->given[i] = is_given(&f->key);
        if (r->file->options.design == TCR_DESIGN_GRID)
            *(each->given[i] ? &rows : &each->choices) *= f->factor.levels;
    }
    each->rows = rows < 2 || each->choices < 2 ? 0 : rows;
    return each->rows > 0;
}

tcr_status tcr_answer_rank_each(tcr_results *r) {
    if (!part(r, &r->each))
        return TCR_OK;
    const tcr_status status = rank_rows(r, &r->each);
    if (status != TCR_OK)
        tcr_answer_free_each(r);
    return status;
}

bool tcr_results_has_best(const tcr_results *r) {
    uint64_t best;
    return tcr_results_best(r, &best) == TCR_OK && r->each.rows == 0 && !tcr_answer_is_given(r);
}

void tcr_answer_free_each(tcr_results *r) {
    tcr_release(&r->allocator, r->each.row);
    tcr_release(&r->allocator, r->each.first);
    r->each = (tcr_each){.rows = 0};
}
