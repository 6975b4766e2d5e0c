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

#endif
