/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Which combination is best. All are compared with the first of the ranking by differences in the
 * same runs, with intervals by Student's t for every pair at once (Bonferroni): the pair that is
 * looked at was chosen by the runs themselves. For percentiles and worst cases batches of runs give
 * the differences (sectioning; Asmussen & Glynn 2007, 10.1007/978-0-387-69033-9, III.5).
 */
#include <math.h>
#include <string.h>

#include "num/memory.h"
#include "num/options.h"
#include "num/order.h"
#include "study/student.h"

const char *tcr_best_by_text(tcr_best_by by) {
    static const char *const TEXT[TCR_BEST_BYS] = {"mean", "p90", "worst"};
    return (unsigned)by < TCR_BEST_BYS ? TEXT[by] : "unknown";
}

void tcr_best_options_init(tcr_best_options *options, size_t size) {
    const tcr_best_options defaults = {.by = TCR_BEST_MEAN, .level = 0.95, .alike = 0.05};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

/* What is ranked: the smaller, the better. */
typedef struct contest {
    const double *value;
    size_t stride, combinations, runs;
    tcr_best_options options;
    double *run;           /* of one combination */
    double *first, *other; /* what is compared pair by pair: runs, or batches */
    size_t compared;       /* how many of them */
} contest;

static double run_of(const contest *c, size_t combination, size_t r) {
    const double y = c->value[(combination * c->runs + r) * c->stride];
    return c->options.most ? -y : y;
}

static size_t a_batch(const contest *c) { return c->runs / TCR_BEST_BATCHES; }

/* The criterion of a batch, or of all runs of a combination as they stand in c->run. */
static double percentile_of(double *run, size_t n) { return tcr_quantile(run, n, 0.9); }

static double worst_of(const double *run, size_t n) {
    double worst = run[0];
    for (size_t i = 1; i < n; i++)
        worst = fmax(worst, run[i]);
    return worst;
}

/* Writes what is compared of a combination; returns its criterion. */
static double judge(const contest *c, size_t combination, double *compared) {
    double sum = 0.0;
    for (size_t r = 0; r < c->runs; r++)
        c->run[r] = run_of(c, combination, r);
    if (c->options.by == TCR_BEST_MEAN || c->options.exact) {
        for (size_t r = 0; r < c->runs; r++) {
            compared[r] = c->run[r];
            sum += c->run[r];
        }
        if (c->options.by == TCR_BEST_MEAN)
            return sum / (double)c->runs;
        return c->options.by == TCR_BEST_P90 ? percentile_of(c->run, c->runs)
                                             : worst_of(c->run, c->runs);
    }
    const size_t n = a_batch(c);
    for (size_t b = 0; b < TCR_BEST_BATCHES; b++) {
        double *batch = c->run + b * n;
        compared[b] = c->options.by == TCR_BEST_P90 ? percentile_of(batch, n) : worst_of(batch, n);
        sum += compared[b];
    }
    return c->options.by == TCR_BEST_P90 ? percentile_of(c->run, c->runs) : sum / TCR_BEST_BATCHES;
}

static size_t missing_of(const contest *c, size_t combination) {
    size_t missing = 0;
    for (size_t r = 0; r < c->runs; r++)
        missing += isfinite(run_of(c, combination, r)) ? 0 : 1;
    return missing;
}

/* The better first; those that are not ranked last. */
static bool stands_before(const void *a, const void *b, const void *context) {
    const tcr_ranked *left = a, *right = b;
    const double sign = *(const bool *)context ? -1.0 : 1.0;
    if (isnan(left->value) || isnan(right->value))
        return !isnan(left->value) && isnan(right->value);
    return sign * left->value < sign * right->value;
}

/* How much worse a combination is than the first, with its interval. */
static tcr_interval compare(const contest *c, double difference, double reach) {
    double squares = 0.0;
    if (c->options.exact)
        return (tcr_interval){difference, difference, difference};
    for (size_t i = 0; i < c->compared; i++) {
        const double d = c->other[i] - c->first[i] - difference;
        squares += d * d;
    }
    const double n = (double)c->compared;
    const double half = reach * sqrt(squares / (n - 1.0) / n);
    return (tcr_interval){difference, difference - half, difference + half};
}

static tcr_standing standing_of(const tcr_interval *difference, double alike) {
    if (difference->high <= alike)
        return TCR_STANDING_ALIKE;
    return difference->low > 0.0 ? TCR_STANDING_WORSE : TCR_STANDING_OPEN;
}

static void rank_all(contest *c, tcr_ranked *ranked) {
    const size_t k = c->combinations;
    size_t there = 0;
    const double sign = c->options.most ? -1.0 : 1.0;
    for (size_t i = 0; i < k; i++) {
        ranked[i] = (tcr_ranked){.combination = i,
                                 .value = NAN,
                                 .difference = {NAN, NAN, NAN},
                                 .standing = TCR_STANDING_NONE,
                                 .missing = missing_of(c, i)};
        if (ranked[i].missing > 0)
            continue;
        ranked[i].value = sign * judge(c, i, c->other);
        there++;
    }
    tcr_sort_items(ranked, k, sizeof *ranked, stands_before, &c->options.most);
    if (there == 0)
        return;
    const double best = judge(c, ranked[0].combination, c->first);
    const double pairs = (double)there * ((double)there - 1.0) / 2.0;
    const double reach = c->options.exact || there < 2
                             ? 0.0
                             : tcr_student_reach((1.0 - c->options.level) / pairs, c->compared);
    ranked[0].difference.estimate = 0.0;
    ranked[0].standing = TCR_STANDING_FIRST;
    for (size_t i = 1; i < there; i++) {
        const double own = judge(c, ranked[i].combination, c->other);
        ranked[i].difference = compare(c, own - best, reach);
        ranked[i].standing = standing_of(&ranked[i].difference, c->options.alike);
    }
}

static tcr_status check(const contest *c) {
    const tcr_best_options *o = &c->options;
    if ((unsigned)o->by >= TCR_BEST_BYS)
        return TCR_E_ARGUMENT;
    if (!(o->level >= TCR_LEVEL_LEAST && o->level <= TCR_LEVEL_MOST) || !(o->alike >= 0.0) ||
        !isfinite(o->alike))
        return TCR_E_RANGE;
    const size_t least = o->exact                 ? 1
                         : o->by == TCR_BEST_MEAN ? 2
                         : o->by == TCR_BEST_P90  ? TCR_BEST_P90_RUNS
                                                  : TCR_BEST_WORST_RUNS;
    return c->runs >= least ? TCR_OK : TCR_E_FEW;
}

tcr_status tcr_best_of(const tcr_allocator *allocator, const double *value, size_t stride,
                       size_t combinations, size_t runs, const tcr_best_options *options,
                       tcr_ranked *ranked) {
    contest c = {.value = value,
                 .stride = stride,
                 .combinations = combinations,
                 .runs = runs,
                 .options = tcr_best_options_default()};
    tcr_allocator a;
    if (value == NULL || ranked == NULL || stride == 0 || combinations == 0 ||
        tcr_allocator_choose(allocator, &a) != TCR_OK ||
        tcr_options_take(&c.options, sizeof c.options, options) != TCR_OK)
        return TCR_E_ARGUMENT;
    const tcr_status status = check(&c);
    if (status != TCR_OK)
        return status;
    c.compared = c.options.by == TCR_BEST_MEAN || c.options.exact ? runs : TCR_BEST_BATCHES;
    c.run = tcr_resize(&a, NULL, runs, sizeof *c.run);
    c.first = tcr_resize(&a, NULL, c.compared, sizeof *c.first);
    c.other = tcr_resize(&a, NULL, c.compared, sizeof *c.other);
    const bool room = c.run != NULL && c.first != NULL && c.other != NULL;
    if (room)
        rank_all(&c, ranked);
    tcr_release(&a, c.run);
    tcr_release(&a, c.first);
    tcr_release(&a, c.other);
    return room ? TCR_OK : TCR_E_MEMORY;
}
