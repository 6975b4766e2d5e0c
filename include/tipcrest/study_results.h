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

/*
 * The results of a study: files that grow as it goes, and its answer. Part of libtipcrest-study.
 *
 *     tcr_results_new(file, &options, NULL, &results, &error);
 *     tcr_results_run(results, &run_options, &error);
 *     tcr_results_table(results, sink, context);
 *
 * A folder of results has these files:
 *
 *   results.csv   a row for each point: the factors by their keys; then each output, or with runs
 *                 its .mean, .se, .p5 and .p95; then 'failed', the evaluations that failed.
 *                 Numbers have all digits. An unknown number is an empty cell.
 *   results.npy   the same table for NumPy: one structured array, a field for each column, NaN for
 *                 an unknown number
 *   study.json    what ran, digests, failures and the answer; lib/file/schema/study.schema.json
 *   runs.npy      a row for each evaluation: status and outputs. It is what a study goes on from.
 *                 Removed when a study is done, unless 'all' is set or it is a part.
 *   runs.csv      with 'all': a row for each evaluation, with point, run and factors
 *
 * The files are the same, to the last byte, for any number of threads, however often the study was
 * stopped and went on, and when it was joined from parts.
 *
 * Stack: below 96 kB, beside what threads of a study take.
 */
typedef struct tcr_results tcr_results;

/* What is good in an output. */
typedef enum tcr_goal {
    TCR_GOAL_USUAL = 0, /* most of within_tolerance, zero of layer offsets, least of the others */
    TCR_GOAL_LEAST = 1,
    TCR_GOAL_MOST = 2,
    TCR_GOAL_ZERO = 3 /* nearest to 0 */
} tcr_goal;
enum { TCR_GOALS = 4 };

/* Evaluations whose answer is kept in memory: beyond, there are only files. */
enum { TCR_ANSWER_MAX = 50000000, TCR_PARTS_MAX = 100000 };

typedef struct tcr_results_options {
    size_t size;           /* of this struct; set by tcr_results_options_default */
    const char *dir;       /* the folder, which is made if it is not there; NULL, the default: no
                              files, only the answer */
    bool all;              /* also keep runs.npy and write runs.csv; default false */
    bool decimal_comma;    /* CSV as in tcr_csv_options (report.h), also of what was done before;
                              default false. What is complete stays as it is */
    bool resume;           /* go on with the study in 'dir'; default false: there must be none */
    size_t part, parts;    /* compute part 'part' of 'parts', 1 to TCR_PARTS_MAX; default 1 of 1 */
    const char *of;        /* the output that the answer is about; without a side, with two eyes,
                              the worse eye counts; NULL, the default: the first output */
    tcr_goal goal;         /* default usual */
    tcr_best_options best; /* how combinations are ranked; 'most' and 'exact' are not read */
} tcr_results_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_results_options_init(tcr_results_options *options, size_t size);
static inline tcr_results_options tcr_results_options_default(void) {
    tcr_results_options options;
    tcr_results_options_init(&options, sizeof options);
    return options;
}

/*
 * Prepares results of the study of a file, which must outlive them. With a folder all files are
 * opened for writing, before any work. allocator, options and error may be NULL. TCR_E_CONTENT (the
 * folder has a study already; with 'resume', it has none or another one: error names the first key
 * that differs), TCR_E_OPEN (folder or file; also where another process is at work there),
 * TCR_E_WRITE, TCR_E_MISSING (no such output), TCR_E_RANGE (an option, or more evaluations than
 * TCR_DESIGN_POINTS_MAX), TCR_E_MEMORY, TCR_E_ARGUMENT. The caller frees *results.
 */
TCR_API tcr_status tcr_results_new(const tcr_study_file *file, const tcr_results_options *options,
                                   const tcr_allocator *allocator, tcr_results **results,
                                   tcr_error *error);
/* Frees results; files stay as they are. NULL is accepted. */
TCR_API void tcr_results_free(tcr_results *results);

/*
 * Computes what is left of the study, or of its part, and completes the files. run may be NULL for
 * the defaults. TCR_E_STOPPED (by progress): what is done is kept, and 'resume' goes on from it.
 * TCR_E_WRITE, TCR_E_OPEN, TCR_E_CONTENT (runs.npy is not of this study), TCR_E_MEMORY,
 * TCR_E_ARGUMENT. error may be NULL.
 */
TCR_API tcr_status tcr_results_run(tcr_results *results, const tcr_study_run_options *run,
                                   tcr_error *error);

/*
 * The same block by block, where the points are computed elsewhere: on other machines, or by a
 * host's own threads. tcr_results_run is these three calls about tcr_study_run.
 *
 *     tcr_results_begin    takes in what was done before ('resume') and begins the files. progress
 *                          may be NULL; phase "reading". Then tcr_results_state_of says which point
 *                          is next: first + done. Nothing is left where the study was complete.
 *     tcr_results_take     takes the block that comes next, as tcr_study_run hands it on, with the
 *                          points that tcr_study_evaluate evaluates; 'failed' is not read. What it
 *                          has is then handed to the system, so that it stays if the process ends.
 *     tcr_results_end      completes the files and ranks, once all points of the part are taken
 *
 * TCR_E_ARGUMENT (NULL, a call out of this order, a block that is not the next one or has other
 * runs, factors or outputs), TCR_E_STOPPED (tcr_results_begin, by progress), else as
 * tcr_results_run. error may be NULL.
 */
TCR_API tcr_status tcr_results_begin(tcr_results *results, const tcr_progress *progress,
                                     tcr_error *error);
TCR_API tcr_status tcr_results_take(tcr_results *results, const tcr_study_block *block,
                                    tcr_error *error);
TCR_API tcr_status tcr_results_end(tcr_results *results, tcr_error *error);

/*
 * The same from the folders of all parts of the study, in any order, which are only read.
 * TCR_E_CONTENT (a folder without a study, of another study, a part that is missing, twice or not
 * done), else as tcr_results_run.
 */
TCR_API tcr_status tcr_results_join(tcr_results *results, const char *const *dirs, size_t count,
                                    tcr_error *error);

/* How far a study has come. */
typedef struct tcr_results_state {
    uint64_t points;     /* of the whole study */
    uint64_t first, end; /* of the part: from 'first' to below 'end' */
    uint64_t done;       /* points of the part that are done */
    size_t runs;         /* evaluations of each point, at least 1 */
    uint64_t failed;     /* evaluations that failed */
    bool complete;       /* all of the part is done and its files are complete */
    bool was_complete;   /* it was so before tcr_results_run */
    bool has_answer;     /* the calls below have something to say */
} tcr_results_state;

/* TCR_E_ARGUMENT. */
TCR_API tcr_status tcr_results_state_of(const tcr_results *results, tcr_results_state *state);

/*
 * Writes the answer as a table for people, at most 15 lines beside failures and cautions: which
 * combinations are best, or of a sensitivity design which factors matter. TCR_E_ARGUMENT,
 * TCR_E_MEMORY, TCR_E_WRITE.
 */
TCR_API tcr_status tcr_results_table(const tcr_results *results, tcr_sink sink, void *context);

/* ---- The answer as numbers, for pictures: all about the output 'of' -------------------------- */

/* Its name and unit, "fitted.rms_mm" and "mm"; "" where there is no answer. unit may be NULL.
 * Valid until the results are freed. */
TCR_API const char *tcr_results_output(const tcr_results *results, const char **unit);
/* Whether the largest is best; false for NULL. */
TCR_API bool tcr_results_is_most(const tcr_results *results);

/*
 * The figures of point i of the part over its runs. Without runs 'mean' is the value, and the rest
 * NaN. scratch holds 'runs' doubles of the caller's. TCR_E_MISSING (no answer), TCR_E_RANGE (i),
 * TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_results_point(const tcr_results *results, uint64_t i, double *scratch,
                                     tcr_summary *summary);

/* Points whose values of a factor lie near each other. */
typedef struct tcr_results_bin {
    double at; /* in the unit of the factor: the mean of their values; of a factor whose levels all
                  have a bin the level's place in its list, from 0; NaN without a point */
    tcr_summary over; /* over the points, each with the mean of its runs */
} tcr_results_bin;
enum { TCR_BINS_MAX = 100 };

/*
 * How the output goes with a factor of random or Sobol points: 'bins' bins, 1 to TCR_BINS_MAX, with
 * about equally many points; where the factor has fewer levels, one for each. bin receives *count
 * of them, in order; *share the variance between their means, of that of the points, NaN where that
 * is 0. Of more than a million points the first million are taken. TCR_E_MISSING (another design,
 * or no answer), TCR_E_RANGE, TCR_E_MEMORY, TCR_E_ARGUMENT. Stack: below 48 kB.
 */
TCR_API tcr_status tcr_results_bins(const tcr_results *results, size_t factor, size_t bins,
                                    tcr_results_bin *bin, size_t *count, double *share);

/* The point of the whole study that ranks first. TCR_E_MISSING (a sensitivity design, no answer, or
 * no point that can be ranked), TCR_E_MEMORY, TCR_E_ARGUMENT. */
TCR_API tcr_status tcr_results_best(const tcr_results *results, uint64_t *point);

/*
 * Whether one point is the best of all. Not where a grid varies what no artist chooses (lashes,
 * lid, mean lash, opening, viewer, apart_mm, and what else says how the line is judged) beside what
 * is chosen: each combination of the former has its own best. And not where a study of any design
 * varies only that: nothing is the best then. false for NULL and where nothing is ranked.
 */
TCR_API bool tcr_results_has_best(const tcr_results *results);

enum { TCR_RESULTS_SENTENCE_SIZE = 2048 };

/*
 * The answer in a sentence or two: the best of all, what is best for each combination of what no
 * artist chooses, or, where all is of that kind, from what to what it reaches; and what lashes
 * would have to carry then. Of a sensitivity design which factor matters most. UTF-8, safe for a
 * terminal. TCR_E_MISSING and "" (no answer, or no factor matters), TCR_E_MEMORY, TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_results_sentence(const tcr_results *results,
                                        char text[TCR_RESULTS_SENTENCE_SIZE]);

/*
 * The indices of a sensitivity design, one item for each factor; of a grid the exact shares of the
 * variance over its points, without intervals. All are NaN where a point has no value, or the
 * variance is 0. level (share, 0.5 to 0.9999) and statuses as for tcr_sobol_indices; TCR_E_MISSING
 * (another design, or no answer), TCR_E_MEMORY. Cost of a grid: two passes for each factor.
 */
TCR_API tcr_status tcr_results_indices(const tcr_results *results, double level,
                                       tcr_sobol_index *index, tcr_sobol_variance *variance);

#endif
