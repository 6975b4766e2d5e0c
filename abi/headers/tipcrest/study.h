/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_H
#define TCR_STUDY_H 
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <tipcrest/alloc.h>
#include <tipcrest/check.h>
#include <tipcrest/column.h>
#include <tipcrest/describe.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/progress.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
#include <tipcrest/study_answer.h>
#include <tipcrest/study_design.h>
#include <tipcrest/study_key.h>
typedef struct tcr_study tcr_study;
enum {
    TCR_OUTPUTS_MAX = 256,
    TCR_OUTPUT_SIZE = 64,
    TCR_RUNS_MAX = 1000000,
    TCR_THREADS_MAX = 256
};
typedef struct tcr_study_options {
    size_t size;
    tcr_design_kind design;
    uint64_t points;
    size_t scramblings;
    uint64_t seed;
    size_t runs;
    tcr_description spread;
    tcr_against against;
} tcr_study_options;
TCR_API void tcr_study_options_init(tcr_study_options *options, size_t size);
static inline tcr_study_options tcr_study_options_default(void) {
    tcr_study_options options;
    tcr_study_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_study_new(const tcr_allocator *allocator, const tcr_set *set,
                                 const tcr_study_options *options, tcr_study **study,
                                 tcr_error *error);
TCR_API void tcr_study_free(tcr_study *study);
TCR_API tcr_status tcr_study_add_factor(tcr_study *study, const tcr_factor *factor,
                                        tcr_error *error);
typedef struct tcr_study_factor {
    tcr_key key;
    tcr_factor factor;
} tcr_study_factor;
TCR_API size_t tcr_study_factor_count(const tcr_study *study);
TCR_API const tcr_study_factor *tcr_study_factor_at(const tcr_study *study, size_t i);
typedef enum tcr_over {
    TCR_OVER_NONE = 0,
    TCR_OVER_MEAN = 1,
    TCR_OVER_MIN = 2,
    TCR_OVER_MAX = 3,
    TCR_OVER_P95 = 4
} tcr_over;
typedef struct tcr_output {
    char name[TCR_OUTPUT_SIZE];
    int side;
    const tcr_quantity *quantity;
    tcr_over over;
    tcr_unit unit;
    int member;
} tcr_output;
TCR_API tcr_status tcr_study_add_output(tcr_study *study, const char *name, tcr_error *error);
TCR_API tcr_status tcr_study_add_usual_outputs(tcr_study *study);
TCR_API size_t tcr_study_output_count(const tcr_study *study);
TCR_API const tcr_output *tcr_study_output_at(const tcr_study *study, size_t i);
TCR_API tcr_status tcr_study_design(const tcr_study *study, size_t levels[TCR_FACTORS_MAX],
                                    tcr_design *design);
TCR_API tcr_status tcr_study_count(const tcr_study *study, uint64_t *points, tcr_error *error);
TCR_API size_t tcr_study_runs(const tcr_study *study);
TCR_API tcr_status tcr_study_points(const tcr_study *study, uint64_t first, size_t n,
                                    double *value);
TCR_API uint64_t tcr_study_run_seed(const tcr_study *study, size_t run);
TCR_API tcr_status tcr_study_set(const tcr_study *study, const double *value, size_t run,
                                 tcr_set **set, tcr_error *error);
typedef struct tcr_trial tcr_trial;
TCR_API tcr_status tcr_trial_new(const tcr_study *study, tcr_trial **trial);
TCR_API void tcr_trial_free(tcr_trial *trial);
TCR_API tcr_status tcr_trial_evaluate(tcr_trial *trial, const double *value, size_t run,
                                      double *output, tcr_error *error);
typedef struct tcr_study_run_options {
    size_t size;
    size_t threads;
    size_t block;
    tcr_progress progress;
} tcr_study_run_options;
TCR_API void tcr_study_run_options_init(tcr_study_run_options *options, size_t size);
static inline tcr_study_run_options tcr_study_run_options_default(void) {
    tcr_study_run_options options;
    tcr_study_run_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_study_evaluate(const tcr_study *study, uint64_t first, size_t count,
                                      const tcr_study_run_options *options, double *value,
                                      tcr_status *status);
TCR_API uint64_t tcr_study_usual_block(const tcr_study *study);
TCR_API tcr_status tcr_study_evaluate_sets(const tcr_study *study, const tcr_set *const *sets,
                                           size_t count, const tcr_study_run_options *options,
                                           double *value, tcr_status *status);
typedef struct tcr_study_block {
    uint64_t first;
    size_t points;
    size_t runs;
    size_t factors, outputs;
    const double *factor;
    const double *value;
    const tcr_status *status;
    size_t failed;
} tcr_study_block;
typedef bool (*tcr_study_receive)(void *context, const tcr_study_block *block);
TCR_API tcr_status tcr_study_run(const tcr_study *study, uint64_t first, uint64_t end,
                                 const tcr_study_run_options *options, tcr_study_receive receive,
                                 void *context);
#endif
