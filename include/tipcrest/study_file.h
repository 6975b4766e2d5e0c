/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_FILE_H
#define TCR_STUDY_FILE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/alloc.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/file.h>
#include <tipcrest/status.h>
#include <tipcrest/study.h>

/*
 * A study by name: a study file with the set file that it names, or a set file and the words of a
 * call. Part of libtipcrest-study.
 *
 *     tipcrest-study: 1                 # format, required; it tells a study file from a set file
 *     set: drill.yaml                   # beside the study file or below it
 *     title: Which curl forgives
 *     vary:
 *       curl: [C, CC, D]                # a list
 *       longest_mm: 8:14:1              # a range, FROM:TO:STEP
 *       apart_mm: {distribution: uniform, least: 0.2, most: 1.2}
 *     outputs: [fitted.rms_mm, largest_gap_mm]
 *     design: sobol                     # grid, random, sobol or sensitivity
 *     points: 4096
 *     runs: 100
 *
 * Other keys: scramblings, seed, against, spread. Each has the meaning and the default of its
 * member of tcr_study_options. Keys of 'vary' are those of study_key.h. The values of a
 * distribution have the names of tcr_factor: least, most, mode, mean, sd.
 */
typedef struct tcr_study_file tcr_study_file;

/* What a call adds to a study file, or says of a set file. What it leaves open is the file's, or
 * the default. */
typedef struct tcr_study_ask {
    size_t size;               /* of this struct; set by tcr_study_ask_default */
    const char *const *vary;   /* KEY=VALUES, such as "layering.step_mm=0:2:0.5"; more factors */
    size_t varied;             /* how many; default 0 */
    const char *const *output; /* names of outputs, in place of the file's */
    size_t outputs;            /* how many; default 0: those of the file */
    bool has_design, has_points, has_scramblings, has_runs, has_seed; /* default false */
    tcr_design_kind design;
    uint64_t points;
    size_t scramblings, runs;
    uint64_t seed;
} tcr_study_ask;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_study_ask_init(tcr_study_ask *ask, size_t size);
static inline tcr_study_ask tcr_study_ask_default(void) {
    tcr_study_ask ask;
    tcr_study_ask_init(&ask, sizeof ask);
    return ask;
}

/*
 * Reads a study file or a set file and makes the study. allocator, ask and error may be NULL.
 * TCR_E_OPEN (a file cannot be opened or read), TCR_E_CONTENT (wrong content of a file; error has
 * the place), TCR_E_MEMORY, TCR_E_ARGUMENT; for what 'ask' says, without a place, the statuses of
 * tcr_key_parse_levels, tcr_study_new, tcr_study_add_factor and tcr_study_add_output. The caller
 * frees *file. Stack: below 48 kB.
 */
TCR_API tcr_status tcr_study_file_read(const char *path, const tcr_study_ask *ask,
                                       const tcr_allocator *allocator, tcr_study_file **file,
                                       tcr_error *error);
/* Frees a study file with its study and its set. NULL is accepted. */
TCR_API void tcr_study_file_free(tcr_study_file *file);

/* The study; NULL for NULL. Valid until the file is freed. */
TCR_API const tcr_study *tcr_study_file_study(const tcr_study_file *file);
/* The set file that it tries; NULL for NULL. Valid until the file is freed. */
TCR_API const tcr_set_file *tcr_study_file_set_file(const tcr_study_file *file);
/* Its title, else that of the set; "" for none and for NULL. Valid until the file is freed. */
TCR_API const char *tcr_study_file_title(const tcr_study_file *file);

enum { TCR_STUDY_DIGEST_SIZE = 72 };

/*
 * Writes the SHA-256 of everything that the results depend on, "sha256:..." with a NUL: equal for
 * two readers of the same study, whatever comments their files have. TCR_E_MEMORY, TCR_E_ARGUMENT.
 * Stack: below 40 kB.
 */
TCR_API tcr_status tcr_study_file_digest(const tcr_study_file *file,
                                         char text[TCR_STUDY_DIGEST_SIZE]);

/* The number of input files: the study file, if there is one, the set file and its surveys. */
TCR_API size_t tcr_study_file_input_count(const tcr_study_file *file);
/* The path of input i, NULL if there is none. Valid until the file is freed. See
 * tcr_outputs_protect. */
TCR_API const char *tcr_study_file_input(const tcr_study_file *file, size_t i);

#endif
