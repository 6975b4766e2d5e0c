/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_CALL_H
#define TCR_CLI_CALL_H

/* The words of a call of a subcommand: options that take a value, and flags that take none. */

#include <stdbool.h>
#include <stddef.h>

typedef struct tcr_call_option {
    const char *name;   /* "survey" for --survey; one letter, "o", for -o */
    const char **value; /* receives its value, which is not empty; set to NULL beforehand */
} tcr_call_option;

typedef struct tcr_call_flag {
    const char *name; /* "dark" for --dark */
    bool *set;        /* becomes true where the flag is given */
} tcr_call_flag;

enum { TCR_CALL_OPTIONS_MAX = 24, TCR_CALL_FLAGS_MAX = 8 };

/*
 * Reads the words of a call of 'command' through getopt_long; --help and -h are understood. operand
 * receives the one word that is no option, and is NULL where there is to be none. Returns an exit
 * status: TCR_EXIT_DONE, or TCR_EXIT_WRONG after it was said what is wrong.
 */
int tcr_call_read(const char *command, int argc, char **argv, const tcr_call_option *options,
                  size_t count, const char **operand, bool *help);

/* The same for a command that has flags too. */
int tcr_call_read_flags(const char *command, int argc, char **argv, const tcr_call_option *options,
                        size_t count, const tcr_call_flag *flags, size_t flag_count,
                        const char **operand, bool *help);

/* All words that a command knows. */
typedef struct tcr_call_words {
    const tcr_call_option *options;
    size_t count;
    const tcr_call_flag *flags;
    size_t flag_count;
    const char **operand; /* NULL where there is to be none */
} tcr_call_words;

/*
 * How a command begins: its words are read, its help page is printed where that is asked for, and
 * 'understand' says what the words mean; it returns an exit status. argv[0] is the command's name.
 * True where the work is to follow; else the command ends with *exit_status.
 */
bool tcr_call_start(const char *help_page, int argc, char **argv, const tcr_call_words *words,
                    int (*understand)(void *call), void *call, int *exit_status);

#endif
