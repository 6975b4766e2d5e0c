/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_PRINTABLE_H
#define TCR_NUM_PRINTABLE_H

/* Text of others made safe to show: UTF-8 character by character, and what a terminal may be given.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/text.h>

#define TCR_UTF8_INVALID UINT32_MAX

/*
 * The first character of a text that is not empty: its code, and how many bytes it takes. A byte
 * that begins no well-formed character (Unicode 15, table 3-7) gives TCR_UTF8_INVALID and 1.
 */
size_t tcr_utf8_next(const char *text, uint32_t *code);

/* The columns that a character takes on a terminal: 0, 1 or 2. */
int tcr_utf8_columns(uint32_t code);

/* Whether a terminal may not be given it: control characters, separators of lines, marks that
 * change the direction of writing, TCR_UTF8_INVALID. */
bool tcr_utf8_is_unsafe(uint32_t code);

#endif
