/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_RESULTS_MADE_H
#define TCR_TESTS_RESULTS_MADE_H

/* A small INVENTED set and studies of it, in a folder of the test's own. */

#include <tipcrest/study_results.h>

#include "file/folder.h"

static const char DRAWN_SET[] = "tipcrest: 1\n"
                                "title: Small drill (invented)\n"
                                "eyes:\n"
                                "  - side: left\n"
                                "    lashes: {describe: {count: 24, phases: none}}\n"
                                "    map: [{to: 0.5, length_mm: 10, curl: C}, {to: 1, length_mm: "
                                "11, curl: C}]\n";

/* Reads a study of the set with factors as a command line gives them. */
static inline tcr_study_file *study_of(const char *const *vary, size_t varied, tcr_study_ask *ask) {
    tcr_study_file *file;
    tcr_error error = tcr_error_none();
    put("set.yaml", DRAWN_SET);
    ask->vary = vary;
    ask->varied = varied;
    if (tcr_study_file_read("set.yaml", ask, NULL, &file, &error) != TCR_OK)
        ck_abort_msg("%s", error.message);
    return file;
}

static inline tcr_results *results_of(const tcr_study_file *file,
                                      const tcr_results_options *options) {
    tcr_results *results;
    tcr_error error = tcr_error_none();
    if (tcr_results_new(file, options, NULL, &results, &error) != TCR_OK)
        ck_abort_msg("%s", error.message);
    return results;
}

static inline void run(tcr_results *results) {
    tcr_error error = tcr_error_none();
    if (tcr_results_run(results, NULL, &error) != TCR_OK)
        ck_abort_msg("%s", error.message);
}

#endif
