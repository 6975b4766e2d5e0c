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

/*
 * libtipcrest-study tries a set with other numbers: hundreds or millions of them, on all
 * processors.
 *
 *     tcr_study_new(NULL, set, &options, &study, &error);
 *     tcr_study_add_factor(study, &step, &error);         what varies: layering.step_mm from 0 to 2
 *     tcr_study_add_output(study, "fitted.rms_mm", &error);
 *     tcr_study_evaluate(study, 0, points, NULL, value, status);
 *
 * A study has factors (what varies; study_key.h), a design (which values are tried together;
 * study_design.h), runs (by which lashes) and outputs (what is computed). An evaluation is a check
 * of the set with the values of one point and the lashes of one run. Its outputs are, to the last
 * bit, those of tcr_check_new for the same set written out (tcr_study_set).
 *
 * Every evaluation depends on the study, the point and the run alone. So results are the same, to
 * the last bit, for any number of threads, in blocks of any size, in any order, in parts on several
 * machines, and when a study goes on later.
 *
 * A point at which the set is not valid fails: all of its outputs are NaN, and its status says why.
 * A study goes on after it. See study_answer.h for what comes of the results.
 *
 * A study may be used by several threads at once while none changes it; its allocator must then be
 * thread-safe. Threads of its own (POSIX) end before the call does. They take no signals. It
 * uses GSL for Student's t alone. Stack: below 48 kB, in each thread.
 */
typedef struct tcr_study tcr_study;

enum {
    TCR_OUTPUTS_MAX = 256,
    TCR_OUTPUT_SIZE = 64, /* bytes for the name of an output, NUL included */
    TCR_RUNS_MAX = 1000000,
    TCR_THREADS_MAX = 256
};

typedef struct tcr_study_options {
    size_t size;            /* of this struct; set by tcr_study_options_default */
    tcr_design_kind design; /* default grid */
    uint64_t points;        /* as in tcr_design; not read for a grid; default 1024 */
    size_t scramblings;     /* as in tcr_design; default TCR_SCRAMBLINGS_MIN */
    uint64_t seed;          /* of runs, random points and shifts; default 1 */
    /* Number of runs, 0 to TCR_RUNS_MAX; default 0: the lashes of the set are evaluated as they
     * are. With runs each point is evaluated once for each run, every point with the same lashes,
     * so that differences between points are of the factors alone:
     *
     *   - an eye with a description (tcr_set_description) is drawn anew by it, with the values of
     * the point and the seed of the run (tcr_study_run_seed);
     *   - of any other eye each lash keeps its place, layer, length, diameters and condition;
     * height, pitch, yaw, roll and turn are normal about the lash's own, with the standard
     * deviations of 'spread'. Their numbers are tcr_random_normal with the seed of the run, lash
     * and eye, field as in a description, use 6. They are cut to the ranges of a lash and count as
     * given. */
    size_t runs;
    tcr_description spread; /* only its height_sd_mm and *_sd_rad of pitch, yaw, roll and turn are
                               read; default tcr_description_default(), assumed */
    tcr_against against;    /* the line for staggered lashes and verdicts; default fitted */
} tcr_study_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_study_options_init(tcr_study_options *options, size_t size);
static inline tcr_study_options tcr_study_options_default(void) {
    tcr_study_options options;
    tcr_study_options_init(&options, sizeof options);
    return options;
}

/*
 * Makes a study of a set, which is copied. options may be NULL for the defaults, allocator may be
 * NULL. TCR_E_MISSING (no eye, or an eye without lashes), TCR_E_MAP (an eye without a map),
 * TCR_E_RANGE (an option), TCR_E_MEMORY, TCR_E_ARGUMENT. error may be NULL. The caller frees
 * *study.
 */
TCR_API tcr_status tcr_study_new(const tcr_allocator *allocator, const tcr_set *set,
                                 const tcr_study_options *options, tcr_study **study,
                                 tcr_error *error);
/* Frees a study. NULL is accepted. */
TCR_API void tcr_study_free(tcr_study *study);

/* ---- Factors --------------------------------------------------------------------------------- */

/*
 * Adds a factor, which is copied. Its key must be in the set, and its values in the range of the
 * key; a normal distribution is cut to that range instead. Words, labels and whole numbers take
 * levels only, and so does every factor of a grid.
 *
 * The values of a point are put into the set in this order: the shorts curl and longest_mm; the
 * other keys; the lashes of the run; apart_mm. line.tolerance_mm takes the place of a seen_from_mm,
 * and the other way round.
 *
 * TCR_E_MISSING (no such key; error names the nearest), TCR_E_DUPLICATE (a key twice, also once by
 * itself and once for every eye), TCR_E_RANGE, TCR_E_ARGUMENT (NULL, distribution, more than
 * TCR_FACTORS_MAX; the seed of a description while there are runs), TCR_E_MEMORY. The study is then
 * as it was. error may be NULL.
 */
TCR_API tcr_status tcr_study_add_factor(tcr_study *study, const tcr_factor *factor,
                                        tcr_error *error);

/* A factor as a study keeps it. */
typedef struct tcr_study_factor {
    tcr_key key;
    tcr_factor factor; /* its key is key.name; level is the study's own copy */
} tcr_study_factor;

/* The number of factors; 0 for NULL. */
TCR_API size_t tcr_study_factor_count(const tcr_study *study);
/* Factor i; NULL if there is none. Valid until the study is freed. */
TCR_API const tcr_study_factor *tcr_study_factor_at(const tcr_study *study, size_t i);

/* ---- Outputs --------------------------------------------------------------------------------- */

/* What a number for each lash is made one number for an eye by: over the lashes that have it. */
typedef enum tcr_over {
    TCR_OVER_NONE = 0, /* the quantity is one of an eye */
    TCR_OVER_MEAN = 1,
    TCR_OVER_MIN = 2,
    TCR_OVER_MAX = 3,
    TCR_OVER_P95 = 4 /* quantile of type 7 */
} tcr_over;

typedef struct tcr_output {
    char name[TCR_OUTPUT_SIZE];   /* "fitted.rms_mm"; with two eyes "left.fitted.rms_mm" */
    int side;                     /* a tcr_side; -1 for the symmetry of two eyes */
    const tcr_quantity *quantity; /* column.h; NULL for the symmetry of two eyes */
    tcr_over over;
    tcr_unit unit;
    int member; /* used by the library */
} tcr_output;

/*
 * Adds an output by its name, which is one of:
 *
 *     fitted.rms_mm              a quantity of an eye, by its name in the table of quantities
 *     load.mass_ratio.max        a quantity of a lash, by its name or its place in the JSON report,
 *                                with .mean, .min, .max or .p95 over the lashes that have it
 *     symmetry.level_rms_mm      rms_mm, max_mm, level_rms_mm or level_max_mm of two eyes' symmetry
 *     left.fitted.rms_mm         of one eye alone; without a side, of each eye of the set
 *
 * Words (a verdict, a placement) and labels are no numbers and no outputs. A new study has the
 * usual outputs (tcr_study_add_usual_outputs); the first call of this function takes their place.
 *
 * TCR_E_MISSING (no such quantity or eye; error names the nearest), TCR_E_DUPLICATE, TCR_E_ARGUMENT
 * (NULL, no number, more than TCR_OUTPUTS_MAX), TCR_E_MEMORY. The study is then as it was.
 */
TCR_API tcr_status tcr_study_add_output(tcr_study *study, const char *name, tcr_error *error);

/*
 * Adds the usual outputs, to others or in their own place: of the fitted line rms_mm, p95_abs_mm,
 * max_abs_mm, within_tolerance and the layers' offsets; largest_gap_mm; load.mass_ratio.max and
 * load.moment_ratio.max. Those that the study has are passed over. TCR_E_ARGUMENT, TCR_E_MEMORY.
 */
TCR_API tcr_status tcr_study_add_usual_outputs(tcr_study *study);

/* The number of outputs; 0 for NULL. */
TCR_API size_t tcr_study_output_count(const tcr_study *study);
/* Output i; NULL if there is none. Valid until the study changes or is freed. */
TCR_API const tcr_output *tcr_study_output_at(const tcr_study *study, size_t i);

/* ---- Points ---------------------------------------------------------------------------------- */

/*
 * The design of the study, with its levels in 'levels', which has room for TCR_FACTORS_MAX of them
 * and must live as long as the design is used. TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_study_design(const tcr_study *study, size_t levels[TCR_FACTORS_MAX],
                                    tcr_design *design);

/*
 * The number of points; a study without factors has one. Evaluations are points x runs, or points
 * without runs. TCR_E_RANGE (more than TCR_DESIGN_POINTS_MAX evaluations; error says how many),
 * TCR_E_ARGUMENT. error may be NULL.
 */
TCR_API tcr_status tcr_study_count(const tcr_study *study, uint64_t *points, tcr_error *error);
/* The runs of each point, 0 for none and for NULL. */
TCR_API size_t tcr_study_runs(const tcr_study *study);

/*
 * The values of the factors at n points from 'first' on, a point's behind each other, in the units
 * of keys (study_key.h): n x factors numbers. Statuses of tcr_study_count; TCR_E_RANGE also if
 * there is no such point.
 */
TCR_API tcr_status tcr_study_points(const tcr_study *study, uint64_t first, size_t n,
                                    double *value);

/*
 * The seed of a run: words 0 and 1 of tcr_philox, as a 64-bit number shifted right by 11, for the
 * counter (run, 0, 0, 7) and the study's seed as key. Below 2^53, so a set file can have it: an eye
 * described with this seed has the lashes of the run. 0 for NULL.
 */
TCR_API uint64_t tcr_study_run_seed(const tcr_study *study, size_t run);

/*
 * Writes a point out: the set with these values of the factors and the lashes of a run; run is not
 * read without runs. value (unit of the keys, the range of the keys) need not be a point of the
 * design; it is not read without factors. Lashes that were drawn or moved count as drawn at random
 * (tcr_set_mark_drawn). Statuses as for tcr_trial_evaluate. The caller frees *set.
 */
TCR_API tcr_status tcr_study_set(const tcr_study *study, const double *value, size_t run,
                                 tcr_set **set, tcr_error *error);

/* ---- Evaluations ----------------------------------------------------------------------------- */

/*
 * One evaluation after another, at any values: for an optimiser or a loop of the host's own. A
 * trial keeps memory from call to call. It belongs to one thread at a time; several trials of one
 * study may run in several threads. The study must outlive it and stay as it is. TCR_E_MEMORY,
 * TCR_E_ARGUMENT, or the statuses of tcr_study_count. The caller frees *trial.
 */
typedef struct tcr_trial tcr_trial;
TCR_API tcr_status tcr_trial_new(const tcr_study *study, tcr_trial **trial);
/* Frees a trial. NULL is accepted. */
TCR_API void tcr_trial_free(tcr_trial *trial);

/*
 * Evaluates the outputs with these values of the factors and the lashes of a run; value (unit of
 * the keys, the range of the keys) and run as for tcr_study_set. output receives a number for each
 * output. The status is that of the call that refused the set, such as TCR_E_MRD1, TCR_E_TRAY,
 * TCR_E_RANGE or TCR_E_BOND, with its message in error; all outputs are then NaN. TCR_E_ARGUMENT
 * and TCR_E_MEMORY leave them as they were. An output that there is not, such as the offset of an
 * empty layer, is NaN and no failure. error may be NULL.
 */
TCR_API tcr_status tcr_trial_evaluate(tcr_trial *trial, const double *value, size_t run,
                                      double *output, tcr_error *error);

typedef struct tcr_study_run_options {
    size_t size;           /* of this struct; set by tcr_study_run_options_default */
    size_t threads;        /* 1 to TCR_THREADS_MAX; 0, the default: one for each processor that is
                              online. With 1 all work is done in the caller's thread. */
    size_t block;          /* points that tcr_study_run hands on at once; 0, the default: about 4096
                              evaluations, at least one point */
    tcr_progress progress; /* phase "study"; default: none */
} tcr_study_run_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_study_run_options_init(tcr_study_run_options *options, size_t size);
static inline tcr_study_run_options tcr_study_run_options_default(void) {
    tcr_study_run_options options;
    tcr_study_run_options_init(&options, sizeof options);
    return options;
}

/*
 * Evaluates 'count' points of the design from 'first' on. With R = runs, or 1 without runs, and O
 * outputs:
 *
 *     value[(p * R + r) * O + o]   receives output o of run r at point first + p
 *     status[p * R + r]            receives TCR_OK, or why that evaluation failed; it may be NULL
 *
 * options may be NULL. Statuses of tcr_study_points, TCR_E_STOPPED (by progress), TCR_E_MEMORY,
 * TCR_E_RANGE (an option), TCR_E_ARGUMENT; value and status then have anything. If no thread can be
 * started the caller's does the work.
 */
TCR_API tcr_status tcr_study_evaluate(const tcr_study *study, uint64_t first, size_t count,
                                      const tcr_study_run_options *options, double *value,
                                      tcr_status *status);

/* The points that tcr_study_run hands on at once by default; 0 for NULL. */
TCR_API uint64_t tcr_study_usual_block(const tcr_study *study);

/*
 * Evaluates the outputs of 'count' other sets, as they are: a block of sets, on all processors. Of
 * the study the outputs and 'against' count, and no factor, run or set of its own; so one study
 * serves many blocks. sets has count sets, which are only read; the same one may be there twice.
 * With O outputs:
 *
 *     value[i * O + o]   receives output o of set i; all are NaN if its status is not TCR_OK
 *     status[i]          receives TCR_OK, TCR_E_MISSING (a set without an eye of the outputs), or a
 *                        status of tcr_check_new; it may be NULL
 *
 * options may be NULL; its 'block' is not read, its phase is "sets". TCR_E_STOPPED (by progress),
 * TCR_E_MEMORY, TCR_E_RANGE (an option), TCR_E_ARGUMENT (also a NULL among the sets, which is found
 * before any work); value and status then have anything.
 */
TCR_API tcr_status tcr_study_evaluate_sets(const tcr_study *study, const tcr_set *const *sets,
                                           size_t count, const tcr_study_run_options *options,
                                           double *value, tcr_status *status);

/* Points that have been evaluated; valid during the call that hands them on. */
typedef struct tcr_study_block {
    uint64_t first; /* index of the first point in the design */
    size_t points;
    size_t runs; /* evaluations of each point: at least 1 */
    size_t factors, outputs;
    const double *factor;     /* of the factors, in the unit of the keys: tcr_study_points */
    const double *value;      /* in the unit of the output: tcr_study_evaluate */
    const tcr_status *status; /* likewise */
    size_t failed;            /* evaluations whose status is not TCR_OK */
} tcr_study_block;

/* Receives a block on the caller's thread. Returns true to go on; after false the call ends with
 * TCR_E_STOPPED. */
typedef bool (*tcr_study_receive)(void *context, const tcr_study_block *block);

/*
 * Evaluates the points from 'first' to below 'end' and hands them on in their order, block by
 * block, so that files can grow as it goes and memory stays small: three blocks of about (block x R
 * x O) numbers. Points that were handed on are done; after TCR_E_STOPPED a later call goes on from
 * the next one. Progress counts from first to end. context may be NULL. Statuses as for
 * tcr_study_evaluate.
 */
TCR_API tcr_status tcr_study_run(const tcr_study *study, uint64_t first, uint64_t end,
                                 const tcr_study_run_options *options, tcr_study_receive receive,
                                 void *context);

#endif
