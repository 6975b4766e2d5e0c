/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_ANSWER_H
#define TCR_STUDY_ANSWER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/alloc.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>

/*
 * Answers from the results of a study, or of any other function: figures over runs, sensitivity
 * indices, and which combination is best. The calls read plain arrays and know nothing of eyes.
 * Values and figures are in the unit of the output. Quantiles of Student's t come from GSL; its
 * error handler is never reached.
 *
 * A value that does not exist is NaN. It is never counted as 0 and never looks best.
 */

/* ---- Over runs ------------------------------------------------------------------------------- */

/* Figures of one output over the runs of a point. */
typedef struct tcr_summary {
    size_t runs;    /* values that there are; the figures are over these */
    double mean;    /* NaN without a value */
    double se;      /* standard error of the mean, from the sd with n - 1; NaN below two values */
    double p5, p95; /* quantiles of type 7 (line.h); NaN without a value */
    double least, most; /* smallest and largest value; NaN without a value */
} tcr_summary;

/*
 * Summarises n numbers, value (any; not finite: missing), which lie 'stride' doubles apart; stride
 * is at least 1. scratch holds n doubles of the caller's. TCR_E_ARGUMENT (NULL, n or stride is 0).
 * Allocates nothing.
 */
TCR_API tcr_status tcr_summarise(const double *value, size_t n, size_t stride, double *scratch,
                                 tcr_summary *summary);

/* An estimate with the ends of its interval; NaN where there is none. */
typedef struct tcr_interval {
    double estimate, low, high; /* in the unit of the estimate */
} tcr_interval;

/* ---- Sensitivity ----------------------------------------------------------------------------- */

/*
 * The indices of one factor. 'first' is the share of the output's variance that this factor
 * explains by itself; 'total' the share that is lost if it is fixed, with all that it does together
 * with others. Both are estimates: a small one can come out negative, within its interval, though
 * the true one is 0.
 */
typedef struct tcr_sobol_index {
    tcr_interval first; /* Saltelli et al. 2010, 10.1016/j.cpc.2009.09.018, table 2 (b) */
    tcr_interval total; /* Jansen 1999, 10.1016/S0010-4655(98)00154-4 */
} tcr_sobol_index;

/* The variance of an output in a sensitivity design. */
typedef struct tcr_sobol_variance {
    double mean;     /* of the output, over A and B */
    double variance; /* square of the unit of the output: of it over the factors, over A and B; 0:
                        nothing depends on them */
    /* square of the unit of the output. With runs: the variance over the runs of a point, averaged
     * over the points of A and B. It is what is left when all factors are known: the lashes' own
     * variation. NaN without runs. */
    double left;
    double left_share; /* left / (variance of the factors + left); NaN without runs */
    size_t missing;    /* points without a value; if there are any, all indices are NaN */
} tcr_sobol_variance;

/*
 * First-order and total indices from the outputs of a TCR_DESIGN_SENSITIVITY (study_design.h).
 * value (any; not finite: missing) has the output of every point in the order of the design:
 * scramblings x points x (factors + 2) numbers, 'stride' doubles apart. Outputs are centred first.
 * The scramblings are independent and alike, so an index, a ratio of means over them, has an
 * interval by Student's t. A bootstrap over the points of one scrambling would not show the error
 * of Sobol points.
 *
 * level (share, 0.5 to 0.9999) is that of the intervals, such as 0.95. index receives one item for
 * each factor. spread (square of the unit of the output, 0 or more) has the variance over the runs
 * of each point (of a tcr_summary, se x se x runs), 'stride' doubles apart like value, or is NULL:
 * no runs. Where the output never varies the indices are NaN.
 *
 * TCR_E_RANGE (factors 1 to TCR_FACTORS_MAX, points below 2, scramblings, level), TCR_E_ARGUMENT
 * (NULL, stride is 0). Allocates nothing. Cost: a pass for each factor.
 */
TCR_API tcr_status tcr_sobol_indices(const double *value, const double *spread, size_t stride,
                                     size_t factors, uint64_t points, size_t scramblings,
                                     double level, tcr_sobol_index *index,
                                     tcr_sobol_variance *variance);

/* ---- Which is best --------------------------------------------------------------------------- */

/* By what combinations are ranked, over the runs. */
typedef enum tcr_best_by {
    TCR_BEST_MEAN = 0,
    TCR_BEST_P90 = 1,  /* 90th percentile: nine runs in ten are at least as good */
    TCR_BEST_WORST = 2 /* the mean, over the batches, of the worst run of a batch */
} tcr_best_by;
enum { TCR_BEST_BYS = 3, TCR_BEST_BATCHES = 16 };
/* Runs that a criterion needs at least: 10 a batch, and 2. */
enum { TCR_BEST_P90_RUNS = 10 * TCR_BEST_BATCHES, TCR_BEST_WORST_RUNS = 2 * TCR_BEST_BATCHES };
/* "mean", "p90" or "worst"; "unknown" for any other value. Static storage. */
TCR_API const char *tcr_best_by_text(tcr_best_by by);

typedef struct tcr_best_options {
    size_t size;    /* of this struct; set by tcr_best_options_default */
    tcr_best_by by; /* default mean */
    bool most;      /* the largest is best; default false: the smallest, as with deviations */
    double level;   /* share, 0.5 to 0.9999: probability that all statements hold together; default
                       0.95 */
    double alike;   /* 0 or more: a difference, in the unit of the output, that does not matter;
                       default 0.05, assumed: mm that nobody sees */
    bool exact;     /* the values have no chance in them, as of a set without runs; then one run is
                       enough; default false */
} tcr_best_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_best_options_init(tcr_best_options *options, size_t size);
static inline tcr_best_options tcr_best_options_default(void) {
    tcr_best_options options;
    tcr_best_options_init(&options, sizeof options);
    return options;
}

/* What the runs tell of a combination beside the first of the ranking. */
typedef enum tcr_standing {
    TCR_STANDING_FIRST = 0, /* the first itself */
    TCR_STANDING_ALIKE = 1, /* shown to be worse by no more than 'alike' */
    TCR_STANDING_OPEN = 2,  /* not told apart from the first: more runs would be needed */
    TCR_STANDING_WORSE = 3, /* shown to be worse */
    TCR_STANDING_NONE = 4   /* a run without a value: not ranked */
} tcr_standing;
enum { TCR_STANDINGS = 5 };

typedef struct tcr_ranked {
    size_t combination;      /* index in the call */
    double value;            /* of the criterion; NaN if not ranked */
    tcr_interval difference; /* how much worse than the first, in the unit of the output, by the
                                same runs; 0 and NaN for the first, NaN if not ranked */
    tcr_standing standing;
    size_t missing; /* runs without a value */
} tcr_ranked;

/*
 * Ranks combinations by one output. value (any; not finite: missing) has runs x combinations
 * numbers: run r of combination c is value[(c * runs + r) * stride]. Run r must have the same
 * lashes for every combination: the runs are compared pair by pair. ranked receives one item for
 * each combination, best first; equal ones in the order of the call, those not ranked last.
 *
 * Intervals of the differences are by Student's t, corrected by Bonferroni for every pair of
 * combinations, since the runs that compare are those that chose the first. So with probability
 * 'level' all standings hold together: the truly best combination is not called worse, and none
 * called alike is worse than the first by more than 'alike'. The number of runs must be fixed
 * beforehand: looking and adding runs until something is told apart voids that probability.
 *
 * For p90 and worst the runs are split into TCR_BEST_BATCHES batches, one behind the other, which
 * give the interval; runs beyond a multiple of the batches count for p90 as it stands, and not
 * otherwise. They need TCR_BEST_P90_RUNS and TCR_BEST_WORST_RUNS runs.
 *
 * options may be NULL for the defaults; allocator may be NULL. TCR_E_RANGE (a number of the
 * options), TCR_E_FEW (fewer than 2 runs that are not exact, or too few for the batches),
 * TCR_E_MEMORY, TCR_E_ARGUMENT (NULL, no combination, stride is 0).
 */
TCR_API tcr_status tcr_best_of(const tcr_allocator *allocator, const double *value, size_t stride,
                               size_t combinations, size_t runs, const tcr_best_options *options,
                               tcr_ranked *ranked);

#endif
