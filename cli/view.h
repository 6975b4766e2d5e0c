/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_VIEW_H
#define TCR_CLI_VIEW_H

/* How commands that evaluate a set are told which set, how it is seen, and from which line its
 * lashes are measured. */

#include <tipcrest/check.h>
#include <tipcrest/file.h>

typedef struct tcr_view_words {
    const char *set;                        /* the set file */
    const char *opening, *viewer, *against; /* options; NULL: not given */
} tcr_view_words;

/* What the words mean; the rest of the view comes from the set. An exit status: TCR_EXIT_DONE, or
 * TCR_EXIT_WRONG after it was said what is wrong. */
int tcr_view_understand(const char *command, const tcr_view_words *words,
                        tcr_check_options *options);

/* Evaluates the set in the view of the call where it gives one, else in the set's; each of the two
 * numbers for itself. */
tcr_status tcr_view_evaluate(const tcr_view_words *words, const tcr_set_file *file,
                             const tcr_check_options *options, tcr_check **check,
                             tcr_file_error *error);

#endif
