/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TEXT_H
#define TCR_TEXT_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/export.h>

/*
 * Text for people and from people: numbers whose digits do not depend on the locale, foreign text
 * made safe for a terminal, and suggestions for a misspelt word. The calls keep no state, allocate
 * nothing and are thread-safe.
 */

enum { TCR_NUMBER_SIZE = 32 }; /* bytes for the text of any number, NUL included */

/*
 * Writes the fewest digits that read back as the same value (no unit, any); among those, the
 * nearest to it. The form is that of a JSON number: "0", "-0", "12", "0.1", "1e-7", "1.5e300".
 * Numbers from 1e-5 to below 1e17 have no exponent. A number that is not finite gives "null". text
 * receives at most TCR_NUMBER_SIZE bytes, NUL included. Returns the length without the NUL; 0 for
 * NULL.
 */
TCR_API size_t tcr_number_text(double value, char text[TCR_NUMBER_SIZE]);

/*
 * Reads a number from the whole of a text of 'length' bytes, which needs no NUL: [+-] digits [.
 * digits] [e [+-] digits], with at least one digit before or after the point. Rounds to nearest,
 * ties to even; a number too small becomes a denormal or 0. Returns false for any other text, for a
 * number too large for a double and for NULL; *value is then unchanged.
 */
TCR_API bool tcr_number_parse(const char *text, size_t length, double *value);

/* As tcr_number_parse, but also accepts a decimal comma. */
TCR_API bool tcr_number_parse_comma(const char *text, size_t length, double *value);

/*
 * Copies a text, which ends with a NUL, so that a terminal can show it. Control characters, marks
 * that change the direction of writing and malformed bytes become \x1b, \u202e, \xff. A text that
 * would take more than 'columns' columns or more than size - 1 bytes is cut and ends in "...". out
 * receives at most 'size' bytes, NUL included. size is at least 4 and columns at least 3: less
 * gives an empty text, as NULL does, and a size of 0 nothing. Returns the columns used.
 */
TCR_API int tcr_printable(const char *text, int columns, char *out, size_t size);

/*
 * Suggests one of 'count' known words for a misspelt text of 'bytes' bytes. It picks the nearest by
 * letters changed, left out, added or swapped, ignoring case, or a word that begins with the text;
 * if none is near, the only one that begins with the same five letters. Returns a pointer from
 * known, or NULL if none is near, also for NULL; NULL among the words is passed over.
 */
TCR_API const char *tcr_suggest(const char *text, size_t bytes, const char *const *known,
                                size_t count);

#endif
