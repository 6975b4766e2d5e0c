/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_COMMON_H
#define TCR_CLI_COMMON_H

/* What the subcommands share: messages, exit status, numbers of options, standard output. */

#include <stdbool.h>

#include <tipcrest/file.h>

#include "file/error.h"

/* Exit status: done; the work failed; the call or the content of an input is wrong. */
enum { TCR_EXIT_DONE = 0, TCR_EXIT_FAILED = 1, TCR_EXIT_WRONG = 2 };

typedef struct tcr_command {
    const char *name;
    const char *brief; /* one line of the list of commands */
    const char *help;  /* the whole page */
    /* Its exit status. argv[0] is the command's name; everything goes through getopt_long. */
    int (*run)(int argc, char **argv);
} tcr_command;

extern const tcr_command tcr_command_begin, tcr_command_check, tcr_command_draw, tcr_command_plan,
    tcr_command_step, tcr_command_why;

/* A word as a shell takes it, in quotes where it needs them. False, and out is left alone, for one
 * that cannot be shown or typed so. */
enum { TCR_SHELL_WORD_SIZE = 300 };
bool tcr_shell_word(const char *word, char *out, size_t size);

/* How the command was called, for messages that name a command to type: argv[0] as it was typed, as
 * a shell takes it, or "tipcrest" where there is none that could be typed. */
void tcr_set_program(const char *called);
const char *tcr_program(void);

/* Its last part alone, for text that does not depend on where the command lies: help, notes. */
const char *tcr_program_name(void);

/* A message on standard error, made safe for a terminal, behind "tipcrest: ". */
void tcr_say(const char *format, ...) TCR_PRINTF(1, 2);

/* The same; returns TCR_EXIT_WRONG, so that a caller can return the call. */
int tcr_say_wrong(const char *format, ...) TCR_PRINTF(1, 2);

/* Tells an error of the library as path:line:column: message; returns the exit status for it. */
int tcr_say_error(const tcr_file_error *error);

/* The exit status for a status of the library. */
int tcr_exit_for(tcr_status status);

/* Writes a text to standard output; the exit status. */
int tcr_print(const char *text);

/* The number of an option. range says in words what it may be. False: it was said what is wrong. */
bool tcr_option_number(const char *option, const char *text, double low, double high,
                       const char *range, double *value);

/* Opens descriptors 0 to 2 where they are closed, so that no output file becomes one of them. */
void tcr_guard_descriptors(void);

#endif
