/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_ERROR_H
#define TCR_NUM_ERROR_H

/* How an error comes about: every message of the libraries passes through here. */

#include <stdarg.h>

#include <tipcrest/error.h>

#if defined(__GNUC__)
#define TCR_PRINTF(text, first) __attribute__((format(printf, text, first)))
#else
#define TCR_PRINTF(text, first)
#endif

/* Makes an error one that names nothing, in place: an error is too large to pass about. */
void tcr_error_clear(tcr_error *error);

/*
 * Fills an error, if there is one, with a status and a message and nothing else, and returns the
 * status, so that a caller can return the call. The message is made safe for a terminal and cut to
 * the room there is. No format may print a double: its decimal point depends on the locale
 * (num/number.h has the text of a number).
 */
tcr_status tcr_error_set(tcr_error *error, tcr_status status, const char *format, ...)
    TCR_PRINTF(3, 4);
tcr_status tcr_error_set_list(tcr_error *error, tcr_status status, const char *format,
                              va_list arguments) TCR_PRINTF(3, 0);

/* The same in the words of the status; TCR_OK changes nothing. */
tcr_status tcr_error_status(tcr_error *error, tcr_status status);

/* Adds to an error, if there is one, which number it is about. */
void tcr_error_number(tcr_error *error, const char *member, double value, double least,
                      double most);

/* A number out of its range, in words and as numbers; most may be INFINITY. Returns the status. */
tcr_status tcr_error_range(tcr_error *error, tcr_status status, const char *member, double value,
                           double least, double most);

#endif
