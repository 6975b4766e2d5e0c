/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RESULTS_RESULTS_H
#define TCR_RESULTS_RESULTS_H

/* Results being made: their files, what is kept for the answer, and what failed. */

#include <tipcrest/study_results.h>

#include "file/csv_put.h"
#include "file/error.h"
#include "file/target.h"
#include "results/growing.h"
#include "results/npy.h"
#include "results/record.h"

/* The files that grow, in the order in which they are opened: the log comes first, since its lock
 * keeps a second process away from all. */
typedef enum tcr_results_name {
    TCR_RUNS_NPY,
    TCR_RESULTS_CSV,
    TCR_RESULTS_NPY,
    TCR_RUNS_CSV,
    TCR_STUDY_JSON /* does not grow */
} tcr_results_name;
enum { TCR_GROWING = TCR_STUDY_JSON, TCR_RESULTS_FILES = TCR_STUDY_JSON + 1 };

enum { TCR_STATUSES = TCR_E_FONT + 1 };

/* Which evaluations failed, and the first of them. */
typedef struct tcr_failures {
    uint64_t count, of_status[TCR_STATUSES];
    uint64_t point; /* of the first */
    size_t run;
} tcr_failures;

/* What is best for one combination of the factors that nobody chooses. */
typedef struct tcr_each_row {
    tcr_ranked best;    /* combination: the point, in the part */
    double next;        /* of the second best; NaN: there is none with a value */
    size_t choice;      /* its place among the combinations of the factors that are chosen */
    size_t alike, open; /* other choices that are as good, or not told apart */
    size_t none;        /* others without a value */
} tcr_each_row;

typedef struct tcr_each {
    bool given[TCR_FACTORS_MAX]; /* which factors nobody chooses */
    size_t rows, choices; /* rows: 0 where all factors are of one kind, or nothing is ranked */
    tcr_each_row *row;    /* in the order of the study */
    /* Of each choice: of how many rows it is the best; of how many it is that, as good or not told
     * apart from it; a point that has it. */
    size_t *first, *good, *point;
} tcr_each;

/* Runs of which extensions are counted against limits, and of how many combinations, as good as the
 * best, that is done: each takes as long as the study took for it. */
enum { TCR_ANSWER_LIMIT_RUNS = 100, TCR_ANSWER_LIMIT_OTHERS = 20 };

/* What lashes would have to carry. */
typedef struct tcr_beyond {
    double share; /* of the best combination's extensions, over its first runs, that are beyond the
                     limits that a plan of the set assumes; NaN where nothing is ranked */
    double least; /* the same of the best of those tried that are as good, if less by 0.01 */
    uint64_t combination; /* of least, where it is less than share */
} tcr_beyond;

struct tcr_results {
    tcr_allocator allocator;
    const tcr_study_file *file;
    const tcr_study *study;
    const tcr_set *set;
    tcr_results_options options; /* dir and of are not kept here */
    tcr_record record;
    uint64_t points, first, end, next; /* next: the first point that is not done */
    size_t runs, factors, outputs;
    bool has_runs; /* else 'runs' is 1 */
    bool has_files, complete, was_complete;
    bool begun;                          /* tcr_results_begin is done, tcr_results_end is not */
    char *dir, *path[TCR_RESULTS_FILES]; /* NULL without files */
    tcr_growing grow[TCR_GROWING];       /* runs.csv only with 'all' */
    tcr_writer writer[2];                /* of the two CSV files */
    tcr_csv_put csv[2];
    tcr_npy_column *column; /* of results.npy, then of runs.npy */
    size_t columns, run_columns, row_bytes, run_bytes;
    char *head; /* of runs.npy */
    size_t head_bytes;
    unsigned char *row; /* one of either */
    double *scratch;    /* runs */
    tcr_failures failures;
    char digest[TCR_DIGEST_SIZE]; /* of results.csv, when complete */
    /* The answer */
    char of[TCR_OUTPUT_SIZE];        /* the output, without its side where it is of both */
    size_t judge[TCR_SIDES], judges; /* outputs; 0: no answer */
    tcr_goal goal;
    tcr_ranked *ranked; /* all points of the part, best first; NULL: no ranking, or not yet */
    tcr_each each;      /* what is best for each, ranked with them */
    tcr_beyond beyond;  /* of the best, known with it */
    double *judged;     /* of each evaluation of the part, in order */
    tcr_error *error;   /* where a failure of a block goes */
};

static inline bool tcr_results_has(const tcr_results *r, int name) {
    return r->has_files && (name != TCR_RUNS_CSV || r->options.all);
}

/* Prepares columns, row and scratch (rows.c). TCR_E_MEMORY. */
tcr_status tcr_rows_prepare(tcr_results *r);
/* Writes the heads of all tables, runs.npy's only if it is new. */
tcr_status tcr_rows_begin(tcr_results *r, bool new_log);
/* Takes a block: rows of all tables, failures, the answer; the log only if it does not come from
 * there. A failure is in r->error. */
tcr_status tcr_rows_put(tcr_results *r, const tcr_study_block *block, bool to_log);
/* Writes what is still on its way. */
tcr_status tcr_rows_flush(tcr_results *r);
/* Fills an error with the words of a status, which it returns. */
tcr_status tcr_results_fail(tcr_error *error, tcr_status status, tcr_place place);
/* Fills r->error for a file that cannot be written. */
tcr_status tcr_results_fail_write(tcr_results *r, int name);

/* How a log is taken in (resume.c), which begins at point r->next. */
typedef struct tcr_log_use {
    uint64_t end; /* of the points that it is for */
    bool go_on;   /* it is the study's own, written on behind what it has whole */
    bool to_log;  /* it is another's: what it has goes into the study's own */
    tcr_progress progress;
} tcr_log_use;
tcr_status tcr_log_take(tcr_results *r, tcr_growing *log, const tcr_log_use *use);

/* A file of a folder of results; the caller's to release, NULL without memory. */
char *tcr_results_path(const tcr_allocator *allocator, const char *dir, int name);
/* Behind the last point of part 'part' of 'parts'. */
uint64_t tcr_part_end(uint64_t points, uint64_t part, uint64_t parts);

/* Holds the study that a folder has against the one in hand (resume.c). *done: it is complete. With
 * part: also finds out which part it is. TCR_E_CONTENT, TCR_E_OPEN, TCR_E_MEMORY. */
typedef struct tcr_found_study {
    size_t part, parts;
    bool complete;
} tcr_found_study;
tcr_status tcr_results_compare(const tcr_results *r, const char *json, tcr_found_study *found,
                               tcr_error *error);

/* Takes in part 'part' of the study from among the folders (resume.c). A failure is in r->error. */
tcr_status tcr_parts_take(tcr_results *r, const char *const *dirs, size_t count, size_t part);

/* Writes study.json (study_json.c). fresh: there must be none yet. */
tcr_status tcr_study_json_put(tcr_results *r, bool fresh, tcr_error *error);
tcr_status tcr_study_json_write(const tcr_results *r, tcr_sink sink, void *context);

/* Finds the output that the answer is about and makes room for it (answer.c). */
tcr_status tcr_answer_prepare(tcr_results *r, const char *of, tcr_error *error);
void tcr_answer_take(tcr_results *r, const tcr_study_block *block);
/* Ranks all points once all are there; nothing where there is no ranking. */
tcr_status tcr_answer_rank(tcr_results *r);
/* Whether points are ranked: not in a sensitivity design. */
bool tcr_answer_is_ranking(const tcr_results *r);
/* "mm", "degrees", "" where there is none. */
const char *tcr_unit_word(tcr_unit unit);
/* What lashes would have to carry, for r->beyond, once all is ranked (answer_limits.c).
 * TCR_E_MEMORY. */
tcr_status tcr_answer_beyond(const tcr_results *r, tcr_beyond *beyond);
/* Ranks the choices for each combination of what is given into r->each (answer_each.c), once all
 * points are ranked. TCR_E_MEMORY: r->each is then empty. */
tcr_status tcr_answer_rank_each(tcr_results *r);
void tcr_answer_free_each(tcr_results *r);
/* How combinations are ranked. */
tcr_best_options tcr_answer_best_options(const tcr_results *r);
/* Why the first evaluation that failed did so; no reason where none failed. TCR_E_MEMORY if it
 * cannot be told for lack of memory. */
tcr_status tcr_answer_first_failure(const tcr_results *r, tcr_error *error);

#endif
