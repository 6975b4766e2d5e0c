/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_STUDY_H
#define TCR_CLI_STUDY_H

/* A study at work, and what is made of it. */

#include <tipcrest/study_results.h>

#include "call.h"
#include "output.h"
#include "picture.h"

typedef struct tcr_study_work tcr_study_work;

/* Computes what is left of the results, and completes them. */
typedef tcr_status (*tcr_study_computer)(const tcr_study_work *work,
                                         const tcr_study_run_options *run, tcr_error *error);

struct tcr_study_work {
    const tcr_call *call;
    tcr_study_file *file;
    tcr_results *results;
    tcr_study_computer compute;
    tcr_picture_look look;
};

/* Does what a call asks for; an exit status. */
int tcr_study_command(const tcr_call *call, tcr_study_computer compute);

/* What a call says of the study. It refers to the call. */
tcr_study_ask tcr_study_ask_of(const tcr_call *call);

/* Prints how many evaluations a study takes and about how long; an exit status. */
int tcr_study_dry_run(const tcr_study_work *work);

/* The path of the chart of a folder; the caller's to free, NULL without a folder or memory. */
char *tcr_study_chart_path(const char *dir);

/* Prints the table, and writes the pictures that there are to be. */
tcr_status tcr_study_report(const tcr_study_work *work, const tcr_results_state *state,
                            tcr_report_writer table, tcr_error *error);

#ifdef TCR_WITH_DRAW
/* Writes the chart of a study that is done. TCR_E_MISSING where no form shows its answer. */
tcr_status tcr_study_chart(const tcr_study_work *work, tcr_picture_format format,
                           const tcr_picture_options *options, tcr_sink sink, void *context);
#endif

/* Says what is wrong with the options of a call; an exit status. */
int tcr_study_say_wrong(const tcr_error *error);

#endif
