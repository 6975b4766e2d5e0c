/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_ERROR_H
#define TCR_FILE_ERROR_H

/* Telling what was wrong, and where, in words that reach a terminal safely. */

#include <stddef.h>

#include <tipcrest/error.h>
#include <tipcrest/text.h>

#include "num/error.h"

/* Where something stands in a file; line and column from 1, 0 where there is none. */
typedef struct tcr_place {
    const char *path;
    unsigned long line, column;
} tcr_place;

/*
 * Fills an error with a message and a place and returns its status (num/error.h). error must not be
 * NULL.
 */
tcr_status tcr_fail(tcr_error *error, tcr_status status, tcr_place place, const char *format, ...)
    TCR_PRINTF(4, 5);

/* Gives an error a place. */
void tcr_put_place(tcr_error *error, tcr_place place);

/* Gives an error that the core has filled its place in a file; it is TCR_E_CONTENT then. */
tcr_status tcr_fail_here(tcr_error *error, tcr_place place);

/* Out of memory, somewhere in work on a file. */
tcr_status tcr_fail_memory(tcr_error *error, const char *path);

/*
 * The outcome of a call of the core whose arguments were checked before: TCR_OK as it is, anything
 * else told in the words of its status.
 */
tcr_status tcr_accept(tcr_error *error, tcr_status status, tcr_place place);

/* Text of a user between quotation marks, made safe and cut to a few words. */
typedef struct tcr_quoted {
    char text[260];
} tcr_quoted;
const char *tcr_quote(tcr_quoted *quoted, const char *text, size_t bytes);

/* Words with commas between, cut by "..." where they do not fit. Start from {0}. */
typedef struct tcr_list {
    char text[480];
    size_t bytes;
} tcr_list;
void tcr_list_add(tcr_list *list, const char *word);
void tcr_list_add_number(tcr_list *list, double number);

/* A word that is none of the names, in no file: what may be meant, and which there are. */
tcr_status tcr_fail_unknown(tcr_error *error, tcr_status status, const char *what, const char *word,
                            const char *const *names, size_t count);

/* What to say behind a text that is not known where it has curly quotation marks, as word
 * processors write them: they are part of it. Else "". */
const char *tcr_curly_note(const char *text, size_t bytes);

#endif
