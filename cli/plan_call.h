/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_PLAN_CALL_H
#define TCR_CLI_PLAN_CALL_H

/* What a call of tipcrest plan asks for, word by word, and what it comes to. */

#include <stdbool.h>

#include <tipcrest/file.h>
#include <tipcrest/plan.h>

typedef struct tcr_plan_call {
    const char *set, *output, *sheet, *json, *share, *least, *lengths, *step, *curls, *placements;
    const char *diameters, *fans, *overlength, *corrections, *spread, *look, *longest;
    bool free_line, help;
} tcr_plan_call;

int tcr_plan_call_read(int argc, char **argv, tcr_plan_call *call);

/* Fills in the options that need no set. An exit status; TCR_EXIT_DONE: the work may begin. */
int tcr_plan_call_understand(const tcr_plan_call *call, tcr_plan_options *options);

/* Fills in those that the set file or its curls have a say in. */
int tcr_plan_call_understand_set(const tcr_plan_call *call, const tcr_set_file *file,
                                 tcr_plan_options *options);

/* The look and its longest length; *look is NULL where the call names none. */
int tcr_plan_call_look(const tcr_plan_call *call, const tcr_set *set, const tcr_look **look,
                       double *longest_mm);

/* The length of a path without the ending of a set file; 0 where it has none. */
size_t tcr_plan_call_stem(const char *path);

#endif
