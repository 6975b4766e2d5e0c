/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_CALL_H
#define TCR_CLI_CALL_H

/* What a call of a command says, read by the table of options. */

#include <stdbool.h>

#include <tipcrest/set.h>

#include "option.h"

typedef struct tcr_command tcr_command;

enum { TCR_SETS_MAX = 500 }; /* of a command that takes many sets */

/* A member for each option; those that the command does not have stay empty. */
typedef struct tcr_call {
    const char *set; /* the set file, the first of many; NULL: none is given */
    const char *sets[TCR_SETS_MAX];
    size_t set_count;
    tcr_value output, sheet, sheet_zones, survey, json, csv, reports, decimal, digits, picture;
    tcr_value width, dpi, dark, full;
    tcr_value title, count, mrd1, mrd1_right, tray, diameter;
    tcr_value opening, viewer, against, seen_from, eye;
    tcr_value view, plain, at, with, frames, from_head;
    tcr_value lengths, layers, curl, eyes, look, length;
    tcr_value longest, share, least, free_line, each_eye, most_lengths, zone_step, curls;
    tcr_value placements, same_placement, diameters, fans, overlength, corrections, samples,
        time_limit;
    tcr_value apart;
    tcr_value vary, outputs, design, points, scramblings, indices, runs, seed, threads;
    tcr_value best, of, goal, alike, all, no_chart, resume, part, join, dry_run;
} tcr_call;

/*
 * Reads the words of a call by getopt_long; argv[0] is the command's name. *help becomes true for
 * --help or -h. Returns an exit status: TCR_EXIT_DONE, or TCR_EXIT_WRONG after a message.
 */
int tcr_call_read(const tcr_command *command, int argc, char **argv, tcr_call *call, bool *help);

/* Prints the help page of a command; the exit status. */
int tcr_print_help(const tcr_command *command);

/*
 * Says that a value is none of the words of an option, and which word was perhaps meant. of_list:
 * the value is one of a list. Returns TCR_EXIT_WRONG.
 */
int tcr_say_unknown(const char *option, bool of_list, const char *value, const char *const *words,
                    size_t count);

/* The value of a list that begins at *at, without the blanks about it; *at is then where its
 * separator stands, or the end. */
const char *tcr_next_value(const char **at, char separator, size_t *bytes);

/* How the values of a list are written. */
typedef struct tcr_list_form {
    const char *option; /* its name with hyphens */
    char separator;
    bool numbers; /* with a comma it may be a decimal one */
    bool runs;    /* 8-13 may stand for 8,9,10,11,12,13 */
    bool (*is_value)(const void *context, const char *text, size_t bytes);
    const void *context;
} tcr_list_form;

/* Whether another mark than the separator stands between the values of a list, as in 8/9/10; says
 * then how to write it. */
bool tcr_say_separator(const tcr_list_form *form, const char *list);

/* The curl of a label in a set, for the value of an option. An exit status: TCR_EXIT_DONE, or
 * TCR_EXIT_WRONG after a message. */
int tcr_find_curl(const tcr_set *set, const char *option, bool of_list, const char *label,
                  size_t *index);

#endif
