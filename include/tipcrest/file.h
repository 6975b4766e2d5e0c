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
#include <tipcrest/report.h>
#include <tipcrest/set.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>

/*
 * libtipcrest-file reads set files and surveys and writes reports as JSON, CSV and tables. libyaml
 * allocates with malloc, not with the allocator; if that fails, the status is TCR_E_MEMORY.
 *
 * The calls that write a report or a file stream it to a sink (sink.h); context may be NULL. They
 * return TCR_E_WRITE if the sink stops, TCR_E_ARGUMENT for NULL and TCR_E_MISSING for a check that
 * has no eyes (check.h). An error found before the first byte leaves the sink uncalled. digest is
 * that of tcr_set_file_digest; it may be NULL if the set came from no file. Stack: below 48 kB.
 */

typedef struct tcr_set_file tcr_set_file;

/*
 * Reads a set file and its surveys. path is the set file's; allocator and error may be NULL.
 * TCR_E_OPEN (a file cannot be opened or read), TCR_E_CONTENT (wrong content; error has the place),
 * TCR_E_MEMORY, TCR_E_ARGUMENT. The caller frees *file.
 */
TCR_API tcr_status tcr_set_file_read(const char *path, const tcr_allocator *allocator,
                                     tcr_set_file **file, tcr_error *error);

/*
 * Finds a survey in the host's memory by the name that the set file gives it, and writes its number
 * of bytes to *size. The bytes must stay until the next call. NULL if there is no such survey.
 */
typedef const char *(*tcr_survey_find)(void *context, const char *name, size_t *size);

/*
 * The same for a set file in memory, of 'size' bytes without a NUL, for a host without files. path
 * is its name in messages. find hands out its surveys; NULL if the host has none. context is passed
 * to find. allocator and error may be NULL. Statuses as for tcr_set_file_read; TCR_E_OPEN for a
 * survey that find does not know. The bytes may be freed after the call.
 */
TCR_API tcr_status tcr_set_file_parse(const char *bytes, size_t size, const char *path,
                                      tcr_survey_find find, void *context,
                                      const tcr_allocator *allocator, tcr_set_file **file,
                                      tcr_error *error);
/* Frees a set file with its set. NULL is accepted. */
TCR_API void tcr_set_file_free(tcr_set_file *file);

/* The set of the file. Valid until the file is freed. NULL for NULL. */
TCR_API const tcr_set *tcr_set_file_set(const tcr_set_file *file);
/* The digest of the inputs: "sha256:" and 64 hex digits. Valid until the file is freed. */
TCR_API const char *tcr_set_file_digest(const tcr_set_file *file);

/* The number of input files: the set file and its surveys. */
TCR_API size_t tcr_set_file_input_count(const tcr_set_file *file);

/*
 * The path of input i; input 0 is the set file. Valid until the file is freed. See
 * tcr_outputs_protect.
 */
TCR_API const char *tcr_set_file_input(const tcr_set_file *file, size_t i);

/*
 * Evaluates the set as tcr_check_new does. The error gives line and column of the row or zone at
 * fault; for a wrong option it names the number and no place. options and error may be NULL. The
 * caller frees *check before the file. Stack: below 48 kB.
 */
TCR_API tcr_status tcr_set_file_check(const tcr_set_file *file, const tcr_check_options *options,
                                      tcr_check **check, tcr_error *error);

/* Writes the JSON report of a check. */
TCR_API tcr_status tcr_report_json(const tcr_check *check, const char *digest, tcr_sink sink,
                                   void *context);
/*
 * Writes the CSV report of a check: one line for each lash. options may be NULL for the defaults.
 * TCR_E_RANGE (digits), before the first byte.
 */
TCR_API tcr_status tcr_report_csv(const tcr_check *check, const tcr_csv_options *options,
                                  tcr_sink sink, void *context);
/*
 * Writes the table for people that the command prints: a verdict on each eye first, then at most 15
 * lines an eye beside cautions, or all with 'full'. options may be NULL for the defaults.
 */
TCR_API tcr_status tcr_report_table(const tcr_check *check, const tcr_table_options *options,
                                    tcr_sink sink, void *context);

/* A set of a ranking: what the caller gives, and what tcr_rank_sets finds. */
typedef struct tcr_ranked_set {
    const char *name; /* what it is called there, such as the path of its set file */
    const tcr_check *check;
    tcr_judgement found; /* of all eyes of the set together; rms_mm NaN if not judged */
    size_t rank;         /* of the set's place, from 1, or of the place of the first that shares it;
                            0: not ranked yet */
    bool shares;         /* its rank with another set; both are judged */
} tcr_ranked_set;

/*
 * Puts 'count' sets in order, the most even first, and fills what is found of each: ranked by the
 * rms of all tips of a set from the lines of its check's 'against', equal ones in the order of the
 * call, those that cannot be judged last, each with a rank of its own. A set shares the rank before
 * it if it is behind the first of that rank by less than counts as a difference (0.05 mm, assumed;
 * tcr_effect_of). TCR_E_ARGUMENT (NULL, also for a name or a check, or count is 0); nothing is then
 * changed.
 */
TCR_API tcr_status tcr_rank_sets(tcr_ranked_set *sets, size_t count);

/*
 * Writes a line for each of 'count' sets, as tcr_rank_sets leaves them. Below stands, by the names,
 * which sets have one eye where others have two, why a set is not judged, and the doubts about the
 * sets (doubts.h). TCR_E_ARGUMENT (NULL, also for a name or a check, count is 0, or sets that are
 * not ranked).
 */
TCR_API tcr_status tcr_report_ranking(const tcr_ranked_set *sets, size_t count, tcr_sink sink,
                                      void *context);

/* Writes the doubts about a set (doubts.h), a line each; nothing where there is none. */
TCR_API tcr_status tcr_report_doubts(const tcr_set *set, tcr_sink sink, void *context);

/*
 * Writes the report of the causes of each eye of a check (tcr_why_of), as JSON. An eye without a
 * line is no failure: the report gives null and the reason. TCR_E_MEMORY, TCR_E_NO_CONVERGENCE,
 * both before the first byte. Cost: 65 evaluations of each eye.
 */
TCR_API tcr_status tcr_report_why_json(const tcr_check *check, const char *digest, tcr_sink sink,
                                       void *context);
/*
 * The same as CSV: one line for each cause and pair of an eye, with the names of the JSON report.
 * options may be NULL for the defaults. TCR_E_RANGE (digits).
 */
TCR_API tcr_status tcr_report_why_csv(const tcr_check *check, const tcr_csv_options *options,
                                      tcr_sink sink, void *context);
/*
 * The same as a table for people: the answer, at most 15 lines an eye. full: also a sentence and
 * the figures of each cause. An eye without a line has a sentence with the reason.
 */
TCR_API tcr_status tcr_report_why_table(const tcr_check *check, bool full, tcr_sink sink,
                                        void *context);

/* The level steps (tcr_step_of) and what the layering rule gains (tcr_lesson_of), to report. */
typedef struct tcr_step_report_options {
    size_t size;           /* of this struct; set by tcr_step_report_options_default */
    bool has_side;         /* use 'side'; default false: the eye that was added first */
    tcr_side side;         /* whose lid */
    const char *curl;      /* the label of one curl; NULL, the default: each of the set's */
    double length_mm;      /* on the bottom layer, 3 to 30; 0, the default: 8 to 15 in steps of 1 in
                              JSON and CSV; in the table that of the map at u = 1/2, 12 without a map */
    bool has_apart;        /* use 'apart_mm'; default false: the heights of the eye's own layers */
    double apart_mm;       /* 0 to 3, from layer to layer */
    bool full;             /* the table has all; default false: the answer and what it rests on */
    tcr_progress progress; /* default: none */
} tcr_step_report_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_step_report_options_init(tcr_step_report_options *options, size_t size);
static inline tcr_step_report_options tcr_step_report_options_default(void) {
    tcr_step_report_options options;
    tcr_step_report_options_init(&options, sizeof options);
    return options;
}

/*
 * Writes the report of the level steps, as JSON: what the layering rule gains on the eye's own
 * lashes; the level step of what map and layering give at u = 1/2; for each curl and length each
 * placement on the bottom layer with each one on both upper layers, and also on top, outer side and
 * underside on the three layers; then the sensitivities of the mean lash's tip. The set needs an
 * eye; without lashes or without a map there is nothing to say of the rule. options may be NULL for
 * the defaults. Uses the set's allocator. TCR_E_MISSING (eye), TCR_E_CURL, TCR_E_RANGE (length,
 * apart), TCR_E_STOPPED, TCR_E_MEMORY, all before the first byte.
 */
TCR_API tcr_status tcr_report_step_json(const tcr_set *set, const tcr_step_report_options *options,
                                        const char *digest, tcr_sink sink, void *context);
/*
 * The 'steps' of the JSON report as CSV, one line each: "side", then the names of the JSON report,
 * behind the layer where there is a number for each layer ("middle_step_mm"). A number that there
 * is not is an empty cell. options and form may be NULL for the defaults. TCR_E_MISSING (eye),
 * TCR_E_CURL, TCR_E_RANGE (length, apart, digits), all before the first byte.
 */
TCR_API tcr_status tcr_report_step_csv(const tcr_set *set, const tcr_step_report_options *options,
                                       const tcr_csv_options *form, tcr_sink sink, void *context);
/* The same as a table for people. */
TCR_API tcr_status tcr_report_step_table(const tcr_set *set, const tcr_step_report_options *options,
                                         tcr_sink sink, void *context);

/* The limits from the section 'plan' of a set file; defaults for those that it omits. */
TCR_API tcr_limits tcr_set_file_plan_limits(const tcr_set_file *file);
/* The pace from the section 'pace' of a set file; defaults for what it omits. */
TCR_API tcr_plan_pace tcr_set_file_pace(const tcr_set_file *file);

/*
 * Writes the report of a plan, as JSON. work is the plan's. before is a check of the set that was
 * planned, after a check of the planned set (tcr_plan_apply). TCR_E_ARGUMENT also for the work of
 * another plan and for sets that do not fit the plan (tcr_plan_fits).
 */
TCR_API tcr_status tcr_report_plan_json(const tcr_plan *plan, const tcr_plan_work *work,
                                        const tcr_check *before, const tcr_check *after,
                                        const char *digest, tcr_sink sink, void *context);
/*
 * What each zone and layer gets, as CSV: one line for each cell of the plan (tcr_plan_cell), with
 * the zone counted from 1 at the inner corner, where it ends ("to"), the choice under the names of
 * tcr_report_csv, and the cell's lashes, corrected ones too. set is the one that was planned.
 * options may be NULL for the defaults. TCR_E_RANGE (digits), TCR_E_ARGUMENT (also a set that does
 * not fit the plan), before the first byte.
 */
TCR_API tcr_status tcr_report_plan_csv(const tcr_plan *plan, const tcr_set *set,
                                       const tcr_csv_options *options, tcr_sink sink,
                                       void *context);
typedef struct tcr_plan_report_options {
    size_t size;     /* of this struct; set by tcr_plan_report_options_default */
    bool full;       /* all that is known; default false: at most 15 lines an eye beside zones,
                        doubts and cautions */
    const char *map; /* where the map comes from, in the caller's own words: the beginning of a
                        sentence that goes on with how long it is; NULL, the default: none */
} tcr_plan_report_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_plan_report_options_init(tcr_plan_report_options *options, size_t size);
static inline tcr_plan_report_options tcr_plan_report_options_default(void) {
    tcr_plan_report_options options;
    tcr_plan_report_options_init(&options, sizeof options);
    return options;
}

/*
 * The same as a table for people: one line that answers, then the rest. options may be NULL for the
 * defaults.
 */
TCR_API tcr_status tcr_report_plan_table(const tcr_plan *plan, const tcr_plan_work *work,
                                         const tcr_check *before, const tcr_check *after,
                                         const tcr_plan_report_options *options, tcr_sink sink,
                                         void *context);

/* What a set file has besides the set. */
typedef struct tcr_set_write_options {
    size_t size;                   /* of this struct; set by tcr_set_write_options_default */
    const char *comment;           /* at the top, each line after a "#"; NULL, the default: none */
    const char *survey[TCR_SIDES]; /* path of each eye's survey, from the set file's folder; needed
                                      for every eye of the set */
    const tcr_limits *limits;      /* for the section 'plan'; NULL, the default: no section */
    const tcr_plan_pace *pace;     /* for the section 'pace'; NULL, the default: no section */
} tcr_set_write_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_set_write_options_init(tcr_set_write_options *options, size_t size);
static inline tcr_set_write_options tcr_set_write_options_default(void) {
    tcr_set_write_options options;
    tcr_set_write_options_init(&options, sizeof options);
    return options;
}

/*
 * Writes a set as a set file; tcr_survey_write writes the lashes of each eye. Together they read
 * back as the same set with the same doubles, except:
 *
 *   - an angle that no double of degrees gives exactly changes to the nearest one;
 *   - ids lose blanks at their ends, and characters unsafe for a terminal become escapes;
 *   - lash lengths count as given, never as assumed.
 *
 * Unknown numbers are left out. An eye without a lash, or with a repeated id, is written, but
 * reading it fails. An id or a label that a spreadsheet would take for a formula gets an apostrophe
 * in front. options must not be NULL. TCR_E_ARGUMENT (also no survey path for an eye),
 * TCR_E_MISSING (no eye), TCR_E_MAP (an eye without a map), TCR_E_RANGE (limits or pace).
 */
TCR_API tcr_status tcr_set_write(const tcr_set *set, const tcr_set_write_options *options,
                                 tcr_sink sink, void *context);
/* Returns a remark on a lash for the survey's last column, or NULL. Valid until the next call. */
typedef const char *(*tcr_survey_note)(void *context, tcr_side side, size_t lash);

/*
 * Writes the lashes of one eye as a survey. note may be NULL: no remarks; note_context is passed to
 * it. csv may be NULL for the defaults: decimal points, all digits. TCR_E_MISSING (eye),
 * TCR_E_RANGE (digits).
 */
TCR_API tcr_status tcr_survey_write(const tcr_set *set, tcr_side side, tcr_survey_note note,
                                    void *note_context, const tcr_csv_options *csv, tcr_sink sink,
                                    void *context);

/*
 * Outputs that appear whole or not at all. Each file is prepared beside its target; the commit
 * renames all of them into place when all are ready. A device or a pipe is written through. "-" is
 * standard output.
 */
typedef struct tcr_outputs tcr_outputs;

/*
 * Makes an empty list of outputs. allocator may be NULL. TCR_E_MEMORY, TCR_E_ARGUMENT. The caller
 * frees *outputs.
 */
TCR_API tcr_status tcr_outputs_new(const tcr_allocator *allocator, tcr_outputs **outputs);

/*
 * Adds a target. index receives its number. TCR_E_OPEN (cannot be opened for writing),
 * TCR_E_CONTENT (the same file as a protected input or another output), TCR_E_MEMORY,
 * TCR_E_ARGUMENT (also after the commit). error may be NULL.
 */
TCR_API tcr_status tcr_outputs_add(tcr_outputs *outputs, const char *path, size_t *index,
                                   tcr_error *error);

/*
 * The same for a file that must not exist yet. TCR_E_CONTENT if it exists; the commit returns it
 * too, if one has been created since.
 */
TCR_API tcr_status tcr_outputs_add_new(tcr_outputs *outputs, const char *path, size_t *index,
                                       tcr_error *error);

/*
 * The same for a set file or a survey that may be written again, but not over what somebody else
 * wrote or changed. Its last line becomes a seal: a comment with the SHA-256 digest of all lines
 * above it. TCR_E_CONTENT if there is a file whose seal does not hold; the commit returns it too.
 */
TCR_API tcr_status tcr_outputs_add_sealed(tcr_outputs *outputs, const char *path, size_t *index,
                                          tcr_error *error);

/*
 * Whether tcr_outputs_add_sealed may write to a path now: before long work. Changes nothing.
 * TCR_E_CONTENT, TCR_E_OPEN, TCR_E_MEMORY, TCR_E_ARGUMENT. error may be NULL.
 */
TCR_API tcr_status tcr_outputs_may_seal(const char *path, tcr_error *error);

/*
 * Protects an input file: tcr_outputs_add refuses it as a target from then on. "-" protects the
 * file that standard output goes to. Devices such as /dev/null are not protected. TCR_E_OPEN (no
 * such file), TCR_E_MEMORY, TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_outputs_protect(tcr_outputs *outputs, const char *input_path);

/*
 * Writes count bytes to an output; bytes may be NULL if count is 0. TCR_E_WRITE or TCR_E_MEMORY;
 * all later writes and the commit then fail. TCR_E_ARGUMENT (index, a finished output, after the
 * commit).
 */
TCR_API tcr_status tcr_outputs_write(tcr_outputs *outputs, size_t index, const void *bytes,
                                     size_t count);
/* An output as a sink: pass tcr_outputs_sink with a pointer to this as context. */
typedef struct tcr_outputs_target {
    tcr_outputs *outputs;
    size_t index;
} tcr_outputs_target;

/*
 * Writes to a tcr_outputs_target, as tcr_outputs_write does. Returns 0, or -1 if the write fails or
 * context is NULL.
 */
TCR_API int tcr_outputs_sink(void *context, const void *bytes, size_t count);

/*
 * Completes an output: syncs and closes its file, but does not put it in place. This limits open
 * descriptors; later writes fail. Devices and pipes are completed by the commit. TCR_E_WRITE if a
 * write failed; the commit then fails too and gives the reason. TCR_E_ARGUMENT (index, after the
 * commit).
 */
TCR_API tcr_status tcr_outputs_finish(tcr_outputs *outputs, size_t index);

/*
 * Tells of temporary files that killed processes left in the folders of these outputs, one call a
 * folder: the path of the first by name, and how many there are. path is valid only during the
 * call. Call it before the commit.
 */
typedef void (*tcr_leftover_say)(void *context, const char *path, size_t count);
TCR_API void tcr_outputs_leftovers(const tcr_outputs *outputs, tcr_leftover_say say, void *context);

/*
 * Syncs every file, then writes to devices and pipes, then renames the files into place one after
 * the other and syncs the folders. If one of the first two steps fails, all files are as they were.
 * Several files cannot be renamed at once: if a rename fails, earlier files are in place, and the
 * message names them ("written") and the others ("as before"). Temporary files are removed.
 * Afterwards only tcr_outputs_free may be called. TCR_E_WRITE, TCR_E_CONTENT (a file that must not
 * be replaced), TCR_E_MEMORY, TCR_E_ARGUMENT. error may be NULL.
 */
TCR_API tcr_status tcr_outputs_commit(tcr_outputs *outputs, tcr_error *error);
/*
 * Removes the temporary files of outputs, for a signal handler that ends the process: it may
 * interrupt any call on them but tcr_outputs_new and tcr_outputs_free, in the same thread. Only
 * async-signal-safe calls. Afterwards only tcr_outputs_free may be called. NULL is accepted.
 */
TCR_API void tcr_outputs_abandon(const tcr_outputs *outputs);
/* Frees the outputs and removes files that were not committed. NULL is accepted. */
TCR_API void tcr_outputs_free(tcr_outputs *outputs);

#endif
