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
typedef struct tcr_study_file tcr_study_file;
typedef struct tcr_study_ask {
    size_t size;
    const char *const *vary;
    size_t varied;
    const char *const *output;
    size_t outputs;
    bool has_design, has_points, has_scramblings, has_runs, has_seed;
    tcr_design_kind design;
    uint64_t points;
    size_t scramblings, runs;
    uint64_t seed;
} tcr_study_ask;
TCR_API void tcr_study_ask_init(tcr_study_ask *ask, size_t size);
static inline tcr_study_ask tcr_study_ask_default(void) {
    tcr_study_ask ask;
    tcr_study_ask_init(&ask, sizeof ask);
    return ask;
}
TCR_API tcr_status tcr_study_file_read(const char *path, const tcr_study_ask *ask,
                                       const tcr_allocator *allocator, tcr_study_file **file,
                                       tcr_error *error);
TCR_API void tcr_study_file_free(tcr_study_file *file);
TCR_API const tcr_study *tcr_study_file_study(const tcr_study_file *file);
TCR_API const tcr_set_file *tcr_study_file_set_file(const tcr_study_file *file);
TCR_API const char *tcr_study_file_title(const tcr_study_file *file);
enum { TCR_STUDY_DIGEST_SIZE = 72 };
TCR_API tcr_status tcr_study_file_digest(const tcr_study_file *file,
                                         char text[TCR_STUDY_DIGEST_SIZE]);
TCR_API size_t tcr_study_file_input_count(const tcr_study_file *file);
TCR_API const char *tcr_study_file_input(const tcr_study_file *file, size_t i);
#endif
