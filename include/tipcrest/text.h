/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TEXT_H
#define TCR_TEXT_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/export.h>

/*
 * Text between people and the library: numbers whose digits do not depend on the locale, text of
 * others made safe for a terminal, and the word that was perhaps meant. No call allocates or keeps
 * state; all are thread-safe.
 */

enum { TCR_NUMBER_SIZE = 32 }; /* bytes of the text of any number, with its NUL */

/*
 * The fewest digits that read back as the same double, and of those the nearest to it, as JSON has
 * numbers: "0", "-0", "12", "0.1", "1e-7", "1.5e300". Plain from 1e-5 up to below 1e17, with an
 * exponent elsewhere; "null" for what is not finite. Ends with a NUL; returns the length.
 */
TCR_API size_t tcr_number_text(double value, char text[TCR_NUMBER_SIZE]);

/*
 * Reads the whole of a text of 'length' bytes as [+-] digits [. digits] [e [+-] digits], with at
 * least one digit before or after the point, rounded to nearest, ties to even. text may be NULL,
 * which is no number. Returns false for anything else and for what is too large for a double, and
 * leaves *value as it was; what is too small becomes a denormal or 0.
 */
TCR_API bool tcr_number_parse(const char *text, size_t length, double *value);

/* The same, where a decimal comma may stand in place of the point. */
TCR_API bool tcr_number_parse_comma(const char *text, size_t length, double *value);

/*
 * Copies a text so that a terminal can show it: control characters, marks that change the direction
 * of writing and ill-formed bytes become \x1b, \u202e, \xff. Where it would take more than
 * 'columns', or more than size - 1 bytes, it is cut and ends in "...". out receives 'size' bytes at
 * most, at least 4, and is always terminated. Returns the columns it takes.
 */
TCR_API int tcr_printable(const char *text, int columns, char *out, size_t size);

/*
 * The one of 'count' known words that was perhaps meant by a text of 'bytes' bytes: the nearest by
 * letters changed, left out, added or swapped, whatever their case, or the one that goes on where
 * the text ends; NULL where none is near.
 */
TCR_API const char *tcr_suggest(const char *text, size_t bytes, const char *const *known,
                                size_t count);

#endif
