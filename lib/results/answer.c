/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the answer needs of a study: one number of each evaluation, and from these a ranking, or
 * indices of a sensitivity design. Of two eyes the worse one counts.
 */
#include "results/results.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "num/memory.h"

/* Points that are ranked at most: each takes some 80 bytes. */
enum { RANKED_MAX = 2000000 };

static const tcr_place NOWHERE = {"", 0, 0};

/* ---- Which output ---------------------------------------------------------------------------- */

/* A name without "left." or "right." */
static const char *without_side(const char *name) {
    for (int side = 0; side < TCR_SIDES; side++) {
        const char *text = tcr_side_text((tcr_side)side);
        const size_t bytes = strlen(text);
        if (strncmp(name, text, bytes) == 0 && name[bytes] == '.')
            return name + bytes + 1;
    }
    return name;
}

static tcr_goal usual_goal(const char *name) {
    return strstr(name, "within_tolerance") != NULL ? TCR_GOAL_MOST
           : strstr(name, "layer_offset") != NULL   ? TCR_GOAL_ZERO
                                                    : TCR_GOAL_LEAST;
}

/* Takes the outputs of a name: one, or without a side that of each eye. */
static void choose(tcr_results *r, const char *name) {
    for (size_t o = 0; o < r->outputs; o++) {
        const char *own = tcr_study_output_at(r->study, o)->name;
        const bool same = strcmp(own, name) == 0 || strcmp(without_side(own), name) == 0;
        if (same && r->judges < TCR_SIDES)
            r->judge[r->judges++] = o;
    }
    (void)snprintf(r->of, sizeof r->of, "%s", name);
}

static tcr_status fail_output(const tcr_results *r, const char *of, tcr_error *error) {
    const char *names[TCR_OUTPUTS_MAX];
    size_t n = 0;
    for (size_t o = 0; o < r->outputs && n < TCR_OUTPUTS_MAX; o++) {
        const char *name = without_side(tcr_study_output_at(r->study, o)->name);
        size_t i = 0;
        while (i < n && strcmp(names[i], name) != 0)
            i++;
        if (i == n)
            names[n++] = name;
    }
    tcr_error unknown;
    (void)tcr_fail_unknown(&unknown, TCR_E_MISSING, "the output", of, names, n);
    return tcr_error_set(error, TCR_E_MISSING,
                         "%s; --output, or outputs in a study file, adds others", unknown.message);
}

/* Whether the runs suffice for the criterion. */
static tcr_status check_runs(const tcr_results *r, tcr_error *error) {
    const tcr_best_by by = r->options.best.by;
    const size_t least = by == TCR_BEST_P90     ? TCR_BEST_P90_RUNS
                         : by == TCR_BEST_WORST ? TCR_BEST_WORST_RUNS
                                                : 1;
    if (by == TCR_BEST_MEAN || (r->has_runs && r->runs >= least))
        return TCR_OK;
    return tcr_fail(error, TCR_E_FEW, NOWHERE,
                    "to rank by %s takes %zu runs or more of each combination, and there are %zu",
                    tcr_best_by_text(by), least, r->has_runs ? r->runs : 0);
}

tcr_status tcr_answer_prepare(tcr_results *r, const char *of, tcr_error *error) {
    const uint64_t points = r->end - r->first;
    tcr_status status = check_runs(r, error);
    if (status != TCR_OK)
        return status;
    choose(r, of != NULL ? of : without_side(tcr_study_output_at(r->study, 0)->name));
    if (r->judges == 0)
        return fail_output(r, of, error);
    r->goal = r->options.goal != TCR_GOAL_USUAL ? r->options.goal : usual_goal(r->of);
    if (points > TCR_ANSWER_MAX / r->runs || r->options.parts > 1 ||
        (tcr_answer_is_ranking(r) && points > RANKED_MAX)) {
        r->judges = 0;
        return TCR_OK;
    }
    r->judged = tcr_resize(&r->allocator, NULL, (size_t)points * r->runs, sizeof *r->judged);
    return r->judged != NULL ? TCR_OK : tcr_fail_memory(error, "");
}

bool tcr_answer_is_ranking(const tcr_results *r) {
    return r->file->options.design != TCR_DESIGN_SENSITIVITY || r->factors == 0;
}

/* ---- Taking it in ---------------------------------------------------------------------------- */

/* The number of an evaluation: of two eyes the worse. NaN where one has none. */
static double judge(const tcr_results *r, const double *value) {
    double worst = NAN;
    for (size_t i = 0; i < r->judges; i++) {
        const double own = value[r->judge[i]], y = r->goal == TCR_GOAL_ZERO ? fabs(own) : own;
        if (isnan(y))
            return NAN;
        if (i == 0 || (r->goal == TCR_GOAL_MOST ? y < worst : y > worst))
            worst = y;
    }
    return worst;
}

void tcr_answer_take(tcr_results *r, const tcr_study_block *b) {
    if (r->judges == 0)
        return;
    double *to = r->judged + (b->first - r->first) * r->runs;
    for (size_t i = 0; i < b->points * b->runs; i++)
        to[i] = judge(r, b->value + i * b->outputs);
}

/* ---- The answer ------------------------------------------------------------------------------ */

tcr_best_options tcr_answer_best_options(const tcr_results *r) {
    tcr_best_options o = r->options.best;
    o.size = sizeof o;
    o.most = r->goal == TCR_GOAL_MOST;
    o.exact = !r->has_runs || r->runs < 2; /* one run tells nothing of chance */
    return o;
}

tcr_status tcr_answer_rank(tcr_results *r) {
    const size_t points = (size_t)(r->end - r->first);
    const tcr_best_options o = tcr_answer_best_options(r);
    if (r->judges == 0 || r->next != r->end || !tcr_answer_is_ranking(r) || points == 0)
        return TCR_OK;
    tcr_release(&r->allocator, r->ranked);
    tcr_answer_free_each(r);
    r->ranked = tcr_resize(&r->allocator, NULL, points, sizeof *r->ranked);
    if (r->ranked == NULL)
        return TCR_E_MEMORY;
    tcr_status status = tcr_best_of(&r->allocator, r->judged, 1, points, r->runs, &o, r->ranked);
    if (status == TCR_OK)
        status = tcr_answer_rank_each(r);
    if (status == TCR_OK)
        status = tcr_answer_beyond(r, &r->beyond);
    if (status != TCR_OK) {
        tcr_release(&r->allocator, r->ranked);
        r->ranked = NULL;
    }
    return status;
}

tcr_status tcr_answer_first_failure(const tcr_results *r, tcr_error *error) {
    double value[TCR_FACTORS_MAX], output[TCR_OUTPUTS_MAX];
    tcr_trial *trial = NULL;
    *error = tcr_error_none();
    if (r->failures.count == 0)
        return TCR_OK;
    tcr_status status = tcr_study_points(r->study, r->failures.point, 1, value);
    if (status == TCR_OK)
        status = tcr_trial_new(r->study, &trial);
    if (status == TCR_OK &&
        tcr_trial_evaluate(trial, value, r->failures.run, output, error) == TCR_E_MEMORY)
        status = TCR_E_MEMORY;
    tcr_trial_free(trial);
    return status;
}

const char *tcr_results_output(const tcr_results *r, const char **unit) {
    const bool has = r != NULL && r->judges > 0;
    if (unit != NULL)
        *unit = has ? tcr_unit_word(tcr_study_output_at(r->study, r->judge[0])->unit) : "";
    return has ? r->of : "";
}

bool tcr_results_is_most(const tcr_results *r) { return r != NULL && r->goal == TCR_GOAL_MOST; }

tcr_status tcr_results_point(const tcr_results *r, uint64_t i, double *scratch,
                             tcr_summary *summary) {
    if (r == NULL || scratch == NULL || summary == NULL)
        return TCR_E_ARGUMENT;
    if (r->judges == 0 || r->next != r->end)
        return TCR_E_MISSING;
    if (i >= r->end - r->first)
        return TCR_E_RANGE;
    if (r->has_runs)
        return tcr_summarise(r->judged + i * r->runs, r->runs, 1, scratch, summary);
    *summary = (tcr_summary){.runs = 1,
                             .mean = r->judged[i],
                             .se = NAN,
                             .p5 = NAN,
                             .p95 = NAN,
                             .least = NAN,
                             .most = NAN};
    return TCR_OK;
}

/* The mean of each point over its runs, and with runs its variance; NaN where a run has none. */
static void average(const tcr_results *r, double *mean, double *variance) {
    for (uint64_t i = 0; i < r->end - r->first; i++) {
        const double *own = r->judged + i * r->runs;
        double sum = 0.0, squares = 0.0;
        for (size_t k = 0; k < r->runs; k++)
            sum += own[k];
        mean[i] = sum / (double)r->runs;
        for (size_t k = 0; k < r->runs; k++)
            squares += (own[k] - mean[i]) * (own[k] - mean[i]);
        if (variance != NULL)
            variance[i] = squares / (double)(r->runs - 1);
    }
}

/* The points of a grid that differ in factor j alone lie 'step' apart, 'count' of them. */
typedef struct lines {
    size_t step, count;
} lines;

static lines lines_of(const tcr_results *r, size_t j) {
    lines l = {1, tcr_study_factor_at(r->study, j)->factor.levels};
    for (size_t k = j + 1; k < r->factors; k++)
        l.step *= tcr_study_factor_at(r->study, k)->factor.levels;
    return l;
}

/* The mean square, about the mean, of the means over all points with the same value of a factor. */
static double square_between(const double *y, size_t points, lines l, double mean) {
    double squares = 0.0;
    for (size_t level = 0; level < l.count; level++) {
        double sum = 0.0;
        for (size_t i = level * l.step; i < points; i += l.step * l.count)
            for (size_t k = 0; k < l.step; k++)
                sum += y[i + k];
        const double own = sum / ((double)points / (double)l.count) - mean;
        squares += own * own;
    }
    return squares / (double)l.count;
}

/* The mean square of points about the mean of their line. */
static double square_within(const double *y, size_t points, lines l) {
    double squares = 0.0;
    for (size_t i = 0; i < points; i++) {
        double sum = 0.0;
        if (i / l.step % l.count != 0)
            continue;
        for (size_t k = 0; k < l.count; k++)
            sum += y[i + k * l.step];
        for (size_t k = 0; k < l.count; k++) {
            const double d = y[i + k * l.step] - sum / (double)l.count;
            squares += d * d;
        }
    }
    return squares / (double)points;
}

/* The shares of a grid, which is known as a whole. */
static void share_grid(const tcr_results *r, const double *y, size_t points, tcr_sobol_index *index,
                       tcr_sobol_variance *v) {
    *v = (tcr_sobol_variance){.left = NAN, .left_share = NAN};
    for (size_t i = 0; i < points; i++) {
        v->mean += y[i] / (double)points;
        v->missing += isfinite(y[i]) ? 0 : 1;
    }
    for (size_t i = 0; i < points; i++)
        v->variance += (y[i] - v->mean) * (y[i] - v->mean) / (double)points;
    const double whole = v->missing == 0 && v->variance > 0.0 ? v->variance : NAN;
    for (size_t j = 0; j < r->factors; j++) {
        const lines l = lines_of(r, j);
        index[j].first = (tcr_interval){square_between(y, points, l, v->mean) / whole, NAN, NAN};
        index[j].total = (tcr_interval){square_within(y, points, l) / whole, NAN, NAN};
    }
}

tcr_status tcr_results_indices(const tcr_results *r, double level, tcr_sobol_index *index,
                               tcr_sobol_variance *variance) {
    if (r == NULL || index == NULL || variance == NULL)
        return TCR_E_ARGUMENT;
    const tcr_study_options *o = &r->file->options;
    const bool is_grid = o->design == TCR_DESIGN_GRID;
    if (r->judges == 0 || r->next != r->end || (tcr_answer_is_ranking(r) && !is_grid))
        return TCR_E_MISSING;
    const size_t points = (size_t)(r->end - r->first);
    const bool spreads = r->has_runs && r->runs > 1;
    double *mean = tcr_resize(&r->allocator, NULL, points, 2 * sizeof *mean);
    if (mean == NULL)
        return TCR_E_MEMORY;
    tcr_status status = TCR_OK;
    average(r, mean, spreads ? mean + points : NULL);
    if (is_grid)
        share_grid(r, mean, points, index, variance);
    else
        status = tcr_sobol_indices(mean, spreads ? mean + points : NULL, 1, r->factors, o->points,
                                   o->scramblings, level, index, variance);
    tcr_release(&r->allocator, mean);
    return status;
}

tcr_status tcr_results_best(const tcr_results *r, uint64_t *point) {
    if (r == NULL || point == NULL)
        return TCR_E_ARGUMENT;
    if (r->ranked == NULL || isnan(r->ranked[0].value))
        return TCR_E_MISSING;
    *point = r->first + r->ranked[0].combination;
    return TCR_OK;
}
