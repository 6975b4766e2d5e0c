/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_BEGIN_H
#define TCR_BEGIN_H 
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <tipcrest/export.h>
#include <tipcrest/file.h>
#include <tipcrest/map.h>
#include <tipcrest/set.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>
typedef struct tcr_begin_options {
    size_t size;
    bool eye[TCR_SIDES];
    size_t zones;
    double length_mm[TCR_ZONES_MAX];
    const char *look;
    const char *curl;
    bool has_layers;
    double layer_mm[TCR_LAYERS];
    const char *survey[TCR_SIDES];
    const char *program;
    const char *title;
    size_t count;
    double lash_mm;
    double mrd1_mm;
    double
        diameter_mm;
    size_t tray_lengths;
    double tray_mm[TCR_TRAY_MAX];
    bool decimal_comma;
    double mrd1_right_mm;
    uint64_t seed[TCR_SIDES];
} tcr_begin_options;
TCR_API void tcr_begin_options_init(tcr_begin_options *options, size_t size);
static inline tcr_begin_options tcr_begin_options_default(void) {
    tcr_begin_options options;
    tcr_begin_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_begin_validate(const tcr_begin_options *options, tcr_error *error);
typedef struct tcr_begin_fit {
    double step_mm;
    size_t zones;
    double length_mm[TCR_ZONES_MAX];
    size_t lacking;
    double lacking_mm[TCR_TRAY_MAX];
    bool keeps;
    double kept_mm[TCR_ZONES_MAX];
} tcr_begin_fit;
TCR_API bool tcr_begin_fit_of(const tcr_begin_options *options, tcr_begin_fit *fit);
TCR_API tcr_status tcr_begin_try(const tcr_begin_options *options, tcr_error *error);
TCR_API tcr_status tcr_begin_find_seeds(const tcr_begin_options *options, uint64_t seed[TCR_SIDES],
                                        tcr_error *error);
typedef struct tcr_begin_question {
    const char *key;
    const char *text;
} tcr_begin_question;
enum { TCR_BEGIN_ANSWER_SIZE = 512 };
TCR_API const tcr_begin_question *tcr_begin_questions(size_t *count);
TCR_API tcr_status tcr_begin_usual(const tcr_begin_options *options, size_t question,
                                   char text[TCR_BEGIN_ANSWER_SIZE]);
TCR_API tcr_status tcr_begin_answer(tcr_begin_options *options, size_t question, char *answer,
                                    tcr_error *error);
TCR_API tcr_status tcr_begin_write(const tcr_begin_options *options, tcr_sink sink, void *context);
TCR_API tcr_status tcr_begin_write_survey(tcr_side side, const tcr_csv_options *csv, tcr_sink sink,
                                          void *context);
TCR_API tcr_status tcr_begin_place(const char *set_path, tcr_outputs *outputs, tcr_error *error);
TCR_API tcr_status tcr_begin_files(const tcr_begin_options *options, const char *set_path,
                                   const char *survey_path, tcr_outputs *outputs, tcr_error *error);
#endif
