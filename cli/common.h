/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_COMMON_H
#define TCR_CLI_COMMON_H

/* What the subcommands share: messages, exit status, the commands, standard output. */

#include <stdbool.h>

#include <tipcrest/file.h>

#include "call.h"

#if defined(__GNUC__)
#define TCR_PRINTF(text, first) __attribute__((format(printf, text, first)))
#else
#define TCR_PRINTF(text, first)
#endif

/* Exit status: done; the work failed; the call or the content of an input is wrong. */
enum { TCR_EXIT_DONE = 0, TCR_EXIT_FAILED = 1, TCR_EXIT_WRONG = 2 };

/* Which commands know an option. */
enum {
    TCR_BIT_BEGIN = 1,
    TCR_BIT_CHECK = 2,
    TCR_BIT_DRAW = 4,
    TCR_BIT_WHY = 8,
    TCR_BIT_STEP = 16,
    TCR_BIT_PLAN = 32,
    TCR_BIT_STUDY = 64
};

/* Whether a call names a set file. */
typedef enum tcr_set_use { TCR_NO_SET, TCR_ONE_SET, TCR_MAY_SET, TCR_MANY_SETS } tcr_set_use;

struct tcr_command {
    const char *name;
    unsigned bit; /* in the table of options */
    tcr_set_use set;
    const char *brief;                /* one line of the list of commands */
    const char *about;                /* of the help page: what it does, before the options */
    const char *notes;                /* and behind them */
    int (*run)(const tcr_call *call); /* does the work; an exit status */
};

/* How help pages end. */
#define TCR_NOTES_EXIT "Exit status: 0 done; 1 the work failed; 2 the call or the set is wrong.\n"
#define TCR_NOTES_OUTPUTS                                                                          \
    "If FILE is -, the report goes to standard output and no table is printed. Files\n"            \
    "appear whole or not at all: a run that fails leaves an older file as it was.\n"               \
    "\n" TCR_NOTES_EXIT

extern const tcr_command tcr_command_begin, tcr_command_check, tcr_command_draw, tcr_command_plan,
    tcr_command_step, tcr_command_study, tcr_command_why;

/* All of them, as help lists them. */
enum { TCR_COMMANDS = 7 };
extern const tcr_command *const tcr_commands[TCR_COMMANDS];

/* A word as a shell takes it, in quotes where it needs them. False, and out is left alone, for one
 * that cannot be shown or typed so. */
enum { TCR_SHELL_WORD_SIZE = 300 };
bool tcr_shell_word(const char *word, char *out, size_t size);

/* The last part of a path, behind its folders. */
const char *tcr_base_name(const char *path);

/* How the command was called, for messages that name a command to type: argv[0] as it was typed, as
 * a shell takes it, or "tipcrest" where there is none that could be typed. */
void tcr_set_program(const char *called);
const char *tcr_program(void);

/* Its last part alone, for text that does not depend on where the command lies: help, notes. */
const char *tcr_program_name(void);

/* A message on standard error, made safe for a terminal, behind "tipcrest: ". */
void tcr_say(const char *format, ...) TCR_PRINTF(1, 2);

/* What is wrong with the call, behind "tipcrest check: " for the command that is at work. Returns
 * TCR_EXIT_WRONG, so that a caller can return the call. */
int tcr_say_wrong(const char *format, ...) TCR_PRINTF(1, 2);
void tcr_set_command(const char *name);

/* Tells an error of the library as path:line:column: message; returns the exit status for it. */
int tcr_say_error(const tcr_error *error);

/* Fills an error with the words of a status; returns the status. */
tcr_status tcr_fill_error(tcr_error *error, tcr_status status, const char *path);

/* The exit status for a status of the library. */
int tcr_exit_for(tcr_status status);

/* Writes a text to standard output; the exit status. */
int tcr_print(const char *text);

/* Opens descriptors 0 to 2 where they are closed, so that no output file becomes one of them. */
void tcr_guard_descriptors(void);

#endif
