/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_H
#define TCR_FILE_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/check.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/plan.h>
#include <tipcrest/set.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>

/*
 * libtipcrest-file: set files and surveys in, JSON and CSV reports out. libyaml allocates by
 * malloc, not by the allocator; its failures are reported as TCR_E_MEMORY.
 */

typedef struct tcr_set_file tcr_set_file;

/*
 * Reads a set file and its surveys. error may be NULL. TCR_E_OPEN (cannot be opened or read),
 * TCR_E_CONTENT (anything in it that is wrong), TCR_E_MEMORY. *file is the caller's to free.
 */
TCR_API tcr_status tcr_set_file_read(const char *path, const tcr_allocator *allocator,
                                     tcr_set_file **file, tcr_error *error);
TCR_API void tcr_set_file_free(tcr_set_file *file);

TCR_API const tcr_set *
tcr_set_file_set(const tcr_set_file *file); /* valid until the file is freed */
TCR_API const char *tcr_set_file_digest(const tcr_set_file *file); /* "sha256:" and 64 hex digits */

/* The paths of the inputs, the set file first, for telling outputs from inputs. */
TCR_API size_t tcr_set_file_input_count(const tcr_set_file *file);
TCR_API const char *tcr_set_file_input(const tcr_set_file *file, size_t i);

/* Evaluates the set; a fault is told as line and column of the row or zone that caused it. */
TCR_API tcr_status tcr_set_file_check(const tcr_set_file *file, const tcr_check_options *options,
                                      tcr_check **check, tcr_error *error);

/* The report of a check, streamed. digest may be NULL where the set came from no file. */
TCR_API tcr_status tcr_report_json(const tcr_check *check, const char *digest, tcr_sink sink,
                                   void *context);
TCR_API tcr_status tcr_report_csv(const tcr_check *check, tcr_sink sink, void *context);
/* The table for people that the command prints. */
TCR_API tcr_status tcr_report_table(const tcr_check *check, tcr_sink sink, void *context);
/* The same with limits of a set file's own (tcr_set_file_plan_limits), beyond which it counts the
 * extensions; tcr_report_table takes the defaults, all assumed. */
TCR_API tcr_status tcr_report_table_limits(const tcr_check *check, const tcr_limits *limits,
                                           tcr_sink sink, void *context);

/*
 * The report of why each eye of a check is uneven (tcr_why_of), streamed. An eye without a line has
 * null or a sentence, with the reason, and is no failure. TCR_E_MEMORY, TCR_E_NO_CONVERGENCE, both
 * before anything is written. Cost: 32 evaluations of each eye.
 */
TCR_API tcr_status tcr_report_why_json(const tcr_check *check, const char *digest, tcr_sink sink,
                                       void *context);
TCR_API tcr_status tcr_report_why_table(const tcr_check *check, tcr_sink sink, void *context);

/* Which level steps (tcr_step_of) are reported. */
typedef struct tcr_step_report_options {
    size_t size;      /* of this struct; set by tcr_step_report_options_default */
    bool has_side;    /* use 'side'; else the eye that was added first */
    tcr_side side;    /* whose lid */
    const char *curl; /* the label of one curl; NULL, the default: each of the set's */
    double length_mm; /* on the bottom layer, 3 to 30; 0, the default: 8 to 15 by 1 in the JSON
                         report, 12 in the table */
} tcr_step_report_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_step_report_options_init(tcr_step_report_options *options, size_t size);
static inline tcr_step_report_options tcr_step_report_options_default(void) {
    tcr_step_report_options options;
    tcr_step_report_options_init(&options, sizeof options);
    return options;
}

/*
 * The report of the level steps, streamed: curls and lengths as the options say, with each
 * placement on the bottom layer and one on both upper layers, and with on top, outer side and
 * underside on the three layers; then what moves the tip of the mean lash. The set needs an eye,
 * but no lash and no map. options may be NULL, digest where the set came from no file.
 * TCR_E_MISSING (eye), TCR_E_CURL, TCR_E_RANGE (length), before anything is written.
 */
TCR_API tcr_status tcr_report_step_json(const tcr_set *set, const tcr_step_report_options *options,
                                        const char *digest, tcr_sink sink, void *context);
TCR_API tcr_status tcr_report_step_table(const tcr_set *set, const tcr_step_report_options *options,
                                         tcr_sink sink, void *context);

/* The limits of a plan: those of the set file's section 'plan', defaults for the others. */
TCR_API tcr_limits tcr_set_file_plan_limits(const tcr_set_file *file);
/* The paces of the work: those of the section 'pace', defaults for the others. */
TCR_API tcr_plan_pace tcr_set_file_pace(const tcr_set_file *file);

/*
 * The report of a plan, streamed. before is a check of the set that was planned, after one of the
 * planned set, work that of the plan. digest may be NULL where the set came from no file.
 */
TCR_API tcr_status tcr_report_plan_json(const tcr_plan *plan, const tcr_plan_work *work,
                                        const tcr_check *before, const tcr_check *after,
                                        const char *digest, tcr_sink sink, void *context);
TCR_API tcr_status tcr_report_plan_table(const tcr_plan *plan, const tcr_plan_work *work,
                                         const tcr_check *before, const tcr_check *after,
                                         tcr_sink sink, void *context);

/* What stands in a set file beside the set. */
typedef struct tcr_set_write_options {
    size_t size;                   /* of this struct; set by tcr_set_write_options_default */
    const char *comment;           /* at the top, each line behind a "#"; NULL, the default: none */
    const char *survey[TCR_SIDES]; /* of each eye that there is, from the set file's folder */
    const tcr_limits *limits;      /* for the section 'plan'; NULL, the default: left out */
    const tcr_plan_pace *pace;     /* for the section 'pace'; NULL, the default: left out */
} tcr_set_write_options;

TCR_API void tcr_set_write_options_init(tcr_set_write_options *options, size_t size);
static inline tcr_set_write_options tcr_set_write_options_default(void) {
    tcr_set_write_options options;
    tcr_set_write_options_init(&options, sizeof options);
    return options;
}

/*
 * A set as the text of a set file, streamed, and one eye's lashes as a survey beside it; together
 * they read back as the same set, with the same doubles, but for what files do not hold: an angle
 * that is no multiple of a double of degrees comes back as the next one; of ids, blanks at the ends
 * are lost, and what must not reach a terminal becomes its escape; the length of a lash is given,
 * never assumed. An eye without a lash, or with an id twice, is written and then refused. What was
 * assumed is left out. TCR_E_ARGUMENT (no survey for an eye), TCR_E_MISSING (eye), TCR_E_MAP (an
 * eye without a map), TCR_E_RANGE (limits or paces), TCR_E_WRITE. An id or a curl that a
 * spreadsheet would take for a formula gets an apostrophe in front.
 */
TCR_API tcr_status tcr_set_write(const tcr_set *set, const tcr_set_write_options *options,
                                 tcr_sink sink, void *context);
/* A remark on a lash, for the survey's last column; valid until the next call. */
typedef const char *(*tcr_survey_note)(void *context, tcr_side side, size_t lash);
TCR_API tcr_status tcr_survey_write(const tcr_set *set, tcr_side side, tcr_survey_note note,
                                    void *note_context, tcr_sink sink, void *context);

/*
 * Files that appear whole or not at all: each output is prepared beside its target and renamed into
 * place when all are ready. A path that is a device or a pipe is written through; "-" is standard
 * output.
 */
typedef struct tcr_outputs tcr_outputs;

TCR_API tcr_status tcr_outputs_new(const tcr_allocator *allocator, tcr_outputs **outputs);
/* Adds a target; index receives its number. TCR_E_OPEN or TCR_E_CONTENT (same as an input or
 * another output). */
TCR_API tcr_status tcr_outputs_add(tcr_outputs *outputs, const char *path, size_t *index,
                                   tcr_error *error);
/* The same for a file that must be new: TCR_E_WRITE where there is one of this name, and again at
 * commit where one has come into being meanwhile. */
TCR_API tcr_status tcr_outputs_add_new(tcr_outputs *outputs, const char *path, size_t *index,
                                       tcr_error *error);
/* Refuses targets that are this file, or with "-" what standard output goes to, unless that is a
 * device such as /dev/null. Call before tcr_outputs_add. */
TCR_API tcr_status tcr_outputs_protect(tcr_outputs *outputs, const char *input_path);
TCR_API tcr_status tcr_outputs_write(tcr_outputs *outputs, size_t index, const void *bytes,
                                     size_t count);
/* One output as a sink: writers take tcr_outputs_sink, and a pointer to this as its context. */
typedef struct tcr_outputs_target {
    tcr_outputs *outputs;
    size_t index;
} tcr_outputs_target;
TCR_API int tcr_outputs_sink(void *context, const void *bytes, size_t count);
/* Says that an output is complete: its file is synced and closed, though not in place yet, so that
 * any number of outputs takes few descriptors. It takes no more bytes. Devices and pipes wait for
 * the commit. TCR_E_WRITE where that failed; the commit then refuses, and says why. */
TCR_API tcr_status tcr_outputs_finish(tcr_outputs *outputs, size_t index);
/*
 * Flushes and syncs every output; then writes to devices and pipes; then renames one file after the
 * other into place and syncs the folders. TCR_E_MEMORY, or TCR_E_WRITE: where one of the first two
 * steps fails, all files are as they were. Several files cannot be renamed at once: where that
 * fails for one of them, those before it are in place, and the message names them ("written") and
 * the others ("as before"). Temporary files are removed. The outputs take no more calls but
 * tcr_outputs_free.
 */
TCR_API tcr_status tcr_outputs_commit(tcr_outputs *outputs, tcr_error *error);
/* Removes what was not committed. NULL is accepted. */
TCR_API void tcr_outputs_free(tcr_outputs *outputs);

#endif
