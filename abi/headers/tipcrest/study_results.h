/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_RESULTS_H
#define TCR_STUDY_RESULTS_H 
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <tipcrest/alloc.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>
#include <tipcrest/study.h>
#include <tipcrest/study_answer.h>
#include <tipcrest/study_file.h>
typedef struct tcr_results tcr_results;
typedef enum tcr_goal {
    TCR_GOAL_USUAL = 0,
    TCR_GOAL_LEAST = 1,
    TCR_GOAL_MOST = 2,
    TCR_GOAL_ZERO = 3
} tcr_goal;
enum { TCR_GOALS = 4 };
enum { TCR_ANSWER_MAX = 50000000, TCR_PARTS_MAX = 100000 };
typedef struct tcr_results_options {
    size_t size;
    const char *dir;
    bool all;
    bool decimal_comma;
    bool resume;
    size_t part, parts;
    const char *of;
    tcr_goal goal;
    tcr_best_options best;
} tcr_results_options;
TCR_API void tcr_results_options_init(tcr_results_options *options, size_t size);
static inline tcr_results_options tcr_results_options_default(void) {
    tcr_results_options options;
    tcr_results_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_results_new(const tcr_study_file *file, const tcr_results_options *options,
                                   const tcr_allocator *allocator, tcr_results **results,
                                   tcr_error *error);
TCR_API void tcr_results_free(tcr_results *results);
TCR_API tcr_status tcr_results_run(tcr_results *results, const tcr_study_run_options *run,
                                   tcr_error *error);
TCR_API tcr_status tcr_results_begin(tcr_results *results, const tcr_progress *progress,
                                     tcr_error *error);
TCR_API tcr_status tcr_results_take(tcr_results *results, const tcr_study_block *block,
                                    tcr_error *error);
TCR_API tcr_status tcr_results_end(tcr_results *results, tcr_error *error);
TCR_API tcr_status tcr_results_join(tcr_results *results, const char *const *dirs, size_t count,
                                    tcr_error *error);
typedef struct tcr_results_state {
    uint64_t points;
    uint64_t first, end;
    uint64_t done;
    size_t runs;
    uint64_t failed;
    bool complete;
    bool was_complete;
    bool has_answer;
} tcr_results_state;
TCR_API tcr_status tcr_results_state_of(const tcr_results *results, tcr_results_state *state);
TCR_API tcr_status tcr_results_table(const tcr_results *results, tcr_sink sink, void *context);
TCR_API const char *tcr_results_output(const tcr_results *results, const char **unit);
TCR_API bool tcr_results_is_most(const tcr_results *results);
TCR_API tcr_status tcr_results_point(const tcr_results *results, uint64_t i, double *scratch,
                                     tcr_summary *summary);
typedef struct tcr_results_bin {
    double at;
    tcr_summary over;
} tcr_results_bin;
enum { TCR_BINS_MAX = 100 };
TCR_API tcr_status tcr_results_bins(const tcr_results *results, size_t factor, size_t bins,
                                    tcr_results_bin *bin, size_t *count, double *share);
TCR_API tcr_status tcr_results_best(const tcr_results *results, uint64_t *point);
TCR_API bool tcr_results_has_best(const tcr_results *results);
enum { TCR_RESULTS_SENTENCE_SIZE = 2048 };
TCR_API tcr_status tcr_results_sentence(const tcr_results *results,
                                        char text[TCR_RESULTS_SENTENCE_SIZE]);
TCR_API tcr_status tcr_results_indices(const tcr_results *results, double level,
                                       tcr_sobol_index *index, tcr_sobol_variance *variance);
#endif
