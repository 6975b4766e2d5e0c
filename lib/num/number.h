/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_NUMBER_H
#define TCR_NUM_NUMBER_H

/*
 * Numbers as text, whatever the locale: a host may have set one with decimal commas. Nothing is
 * allocated and no state is read.
 */

#include <stdbool.h>
#include <stddef.h>

enum { TCR_NUMBER_SIZE = 32 };

/*
 * The fewest digits that read back as the same double, and of those the nearest to it, as JSON has
 * numbers: "0", "-0", "12", "0.1", "1e-7", "1.5e300". Plain from 1e-5 up to below 1e17, with an
 * exponent elsewhere; "null" for what is not finite. Ends with a NUL; returns the length.
 */
size_t tcr_number_text(double value, char text[TCR_NUMBER_SIZE]);

/*
 * With a fixed number of decimals, 0 to 9, for tables: rounded to nearest, ties to even, never
 * "-0.00". As tcr_number_text from 1e15 on, for what is not finite and for other numbers of
 * decimals.
 */
size_t tcr_number_fixed(double value, int decimals, char text[TCR_NUMBER_SIZE]);

/*
 * Reads the whole of a text as [+-] digits [. digits] [e [+-] digits], with at least one digit
 * before or after the point, rounded to nearest, ties to even, whatever its length. false for
 * anything else and for what is too large for a double, and value stays as it was; what is too
 * small becomes a denormal or 0. text may be NULL, which is no number.
 */
bool tcr_number_parse(const char *text, size_t length, double *value);

/* The same, where a decimal comma may stand in place of the point. */
bool tcr_number_parse_comma(const char *text, size_t length, double *value);

#endif
