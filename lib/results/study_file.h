/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RESULTS_STUDY_FILE_H
#define TCR_RESULTS_STUDY_FILE_H

/* A study with the files that it comes from. */

#include <tipcrest/study_file.h>

struct tcr_study_file {
    tcr_allocator allocator;
    tcr_study *study;
    tcr_study_options options; /* of the study */
    tcr_set_file *set;
    char *path;  /* of the study file; NULL: there is none */
    char *title; /* its own; NULL: that of the set */
};

/*
 * The same as tcr_study_file_read for a file whose bytes are in memory; other files are still
 * looked for in the folder of path. ask is whole; nothing may be NULL.
 */
tcr_status tcr_study_file_parse(const char *bytes, size_t size, const char *path,
                                const tcr_study_ask *ask, const tcr_allocator *allocator,
                                tcr_study_file **file, tcr_error *error);

#endif
