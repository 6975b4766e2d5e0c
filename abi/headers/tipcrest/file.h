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
typedef struct tcr_set_file tcr_set_file;
TCR_API tcr_status tcr_set_file_read(const char *path, const tcr_allocator *allocator,
                                     tcr_set_file **file, tcr_error *error);
typedef const char *(*tcr_survey_find)(void *context, const char *name, size_t *size);
TCR_API tcr_status tcr_set_file_parse(const char *bytes, size_t size, const char *path,
                                      tcr_survey_find find, void *context,
                                      const tcr_allocator *allocator, tcr_set_file **file,
                                      tcr_error *error);
TCR_API void tcr_set_file_free(tcr_set_file *file);
TCR_API const tcr_set *tcr_set_file_set(const tcr_set_file *file);
TCR_API const char *tcr_set_file_digest(const tcr_set_file *file);
TCR_API size_t tcr_set_file_input_count(const tcr_set_file *file);
TCR_API const char *tcr_set_file_input(const tcr_set_file *file, size_t i);
TCR_API tcr_status tcr_set_file_check(const tcr_set_file *file, const tcr_check_options *options,
                                      tcr_check **check, tcr_error *error);
TCR_API tcr_status tcr_report_json(const tcr_check *check, const char *digest, tcr_sink sink,
                                   void *context);
TCR_API tcr_status tcr_report_csv(const tcr_check *check, const tcr_csv_options *options,
                                  tcr_sink sink, void *context);
TCR_API tcr_status tcr_report_table(const tcr_check *check, const tcr_table_options *options,
                                    tcr_sink sink, void *context);
typedef struct tcr_ranked_set {
    const char *name;
    const tcr_check *check;
    tcr_judgement found;
    size_t rank;
    bool shares;
} tcr_ranked_set;
TCR_API tcr_status tcr_rank_sets(tcr_ranked_set *sets, size_t count);
TCR_API tcr_status tcr_report_ranking(const tcr_ranked_set *sets, size_t count, tcr_sink sink,
                                      void *context);
TCR_API tcr_status tcr_report_doubts(const tcr_set *set, tcr_sink sink, void *context);
TCR_API tcr_status tcr_report_why_json(const tcr_check *check, const char *digest, tcr_sink sink,
                                       void *context);
TCR_API tcr_status tcr_report_why_csv(const tcr_check *check, const tcr_csv_options *options,
                                      tcr_sink sink, void *context);
TCR_API tcr_status tcr_report_why_table(const tcr_check *check, bool full, tcr_sink sink,
                                        void *context);
typedef struct tcr_step_report_options {
    size_t size;
    bool has_side;
    tcr_side side;
    const char *curl;
    double length_mm;
    bool has_apart;
    double apart_mm;
    bool full;
    tcr_progress progress;
} tcr_step_report_options;
TCR_API void tcr_step_report_options_init(tcr_step_report_options *options, size_t size);
static inline tcr_step_report_options tcr_step_report_options_default(void) {
    tcr_step_report_options options;
    tcr_step_report_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_report_step_json(const tcr_set *set, const tcr_step_report_options *options,
                                        const char *digest, tcr_sink sink, void *context);
TCR_API tcr_status tcr_report_step_csv(const tcr_set *set, const tcr_step_report_options *options,
                                       const tcr_csv_options *form, tcr_sink sink, void *context);
TCR_API tcr_status tcr_report_step_table(const tcr_set *set, const tcr_step_report_options *options,
                                         tcr_sink sink, void *context);
TCR_API tcr_limits tcr_set_file_plan_limits(const tcr_set_file *file);
TCR_API tcr_plan_pace tcr_set_file_pace(const tcr_set_file *file);
TCR_API tcr_status tcr_report_plan_json(const tcr_plan *plan, const tcr_plan_work *work,
                                        const tcr_check *before, const tcr_check *after,
                                        const char *digest, tcr_sink sink, void *context);
TCR_API tcr_status tcr_report_plan_csv(const tcr_plan *plan, const tcr_set *set,
                                       const tcr_csv_options *options, tcr_sink sink,
                                       void *context);
typedef struct tcr_plan_report_options {
    size_t size;
    bool full;
    const char *map;
} tcr_plan_report_options;
TCR_API void tcr_plan_report_options_init(tcr_plan_report_options *options, size_t size);
static inline tcr_plan_report_options tcr_plan_report_options_default(void) {
    tcr_plan_report_options options;
    tcr_plan_report_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_report_plan_table(const tcr_plan *plan, const tcr_plan_work *work,
                                         const tcr_check *before, const tcr_check *after,
                                         const tcr_plan_report_options *options, tcr_sink sink,
                                         void *context);
typedef struct tcr_set_write_options {
    size_t size;
    const char *comment;
    const char *survey[TCR_SIDES];
    const tcr_limits *limits;
    const tcr_plan_pace *pace;
} tcr_set_write_options;
TCR_API void tcr_set_write_options_init(tcr_set_write_options *options, size_t size);
static inline tcr_set_write_options tcr_set_write_options_default(void) {
    tcr_set_write_options options;
    tcr_set_write_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_set_write(const tcr_set *set, const tcr_set_write_options *options,
                                 tcr_sink sink, void *context);
typedef const char *(*tcr_survey_note)(void *context, tcr_side side, size_t lash);
TCR_API tcr_status tcr_survey_write(const tcr_set *set, tcr_side side, tcr_survey_note note,
                                    void *note_context, const tcr_csv_options *csv, tcr_sink sink,
                                    void *context);
typedef struct tcr_outputs tcr_outputs;
TCR_API tcr_status tcr_outputs_new(const tcr_allocator *allocator, tcr_outputs **outputs);
TCR_API tcr_status tcr_outputs_add(tcr_outputs *outputs, const char *path, size_t *index,
                                   tcr_error *error);
TCR_API tcr_status tcr_outputs_add_new(tcr_outputs *outputs, const char *path, size_t *index,
                                       tcr_error *error);
TCR_API tcr_status tcr_outputs_add_sealed(tcr_outputs *outputs, const char *path, size_t *index,
                                          tcr_error *error);
TCR_API tcr_status tcr_outputs_may_seal(const char *path, tcr_error *error);
TCR_API tcr_status tcr_outputs_protect(tcr_outputs *outputs, const char *input_path);
TCR_API tcr_status tcr_outputs_write(tcr_outputs *outputs, size_t index, const void *bytes,
                                     size_t count);
typedef struct tcr_outputs_target {
    tcr_outputs *outputs;
    size_t index;
} tcr_outputs_target;
TCR_API int tcr_outputs_sink(void *context, const void *bytes, size_t count);
TCR_API tcr_status tcr_outputs_finish(tcr_outputs *outputs, size_t index);
typedef void (*tcr_leftover_say)(void *context, const char *path, size_t count);
TCR_API void tcr_outputs_leftovers(const tcr_outputs *outputs, tcr_leftover_say say, void *context);
TCR_API tcr_status tcr_outputs_commit(tcr_outputs *outputs, tcr_error *error);
TCR_API void tcr_outputs_abandon(const tcr_outputs *outputs);
TCR_API void tcr_outputs_free(tcr_outputs *outputs);
#endif
