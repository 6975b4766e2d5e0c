/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_ANSWER_H
#define TCR_STUDY_ANSWER_H 
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <tipcrest/alloc.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
typedef struct tcr_summary {
    size_t runs;
    double mean;
    double se;
    double p5, p95;
    double least, most;
} tcr_summary;
TCR_API tcr_status tcr_summarise(const double *value, size_t n, size_t stride, double *scratch,
                                 tcr_summary *summary);
typedef struct tcr_interval {
    double estimate, low, high;
} tcr_interval;
typedef struct tcr_sobol_index {
    tcr_interval first;
    tcr_interval total;
} tcr_sobol_index;
typedef struct tcr_sobol_variance {
    double mean;
    double variance;
    double left;
    double left_share;
    size_t missing;
} tcr_sobol_variance;
TCR_API tcr_status tcr_sobol_indices(const double *value, const double *spread, size_t stride,
                                     size_t factors, uint64_t points, size_t scramblings,
                                     double level, tcr_sobol_index *index,
                                     tcr_sobol_variance *variance);
typedef enum tcr_best_by {
    TCR_BEST_MEAN = 0,
    TCR_BEST_P90 = 1,
    TCR_BEST_WORST = 2
} tcr_best_by;
enum { TCR_BEST_BYS = 3, TCR_BEST_BATCHES = 16 };
enum { TCR_BEST_P90_RUNS = 10 * TCR_BEST_BATCHES, TCR_BEST_WORST_RUNS = 2 * TCR_BEST_BATCHES };
TCR_API const char *tcr_best_by_text(tcr_best_by by);
typedef struct tcr_best_options {
    size_t size;
    tcr_best_by by;
    bool most;
    double level;
    double alike;
    bool exact;
} tcr_best_options;
TCR_API void tcr_best_options_init(tcr_best_options *options, size_t size);
static inline tcr_best_options tcr_best_options_default(void) {
    tcr_best_options options;
    tcr_best_options_init(&options, sizeof options);
    return options;
}
typedef enum tcr_standing {
    TCR_STANDING_FIRST = 0,
    TCR_STANDING_ALIKE = 1,
    TCR_STANDING_OPEN = 2,
    TCR_STANDING_WORSE = 3,
    TCR_STANDING_NONE = 4
} tcr_standing;
enum { TCR_STANDINGS = 5 };
typedef struct tcr_ranked {
    size_t combination;
    double value;
    tcr_interval difference;
    tcr_standing standing;
    size_t missing;
} tcr_ranked;
TCR_API tcr_status tcr_best_of(const tcr_allocator *allocator, const double *value, size_t stride,
                               size_t combinations, size_t runs, const tcr_best_options *options,
                               tcr_ranked *ranked);
#endif
