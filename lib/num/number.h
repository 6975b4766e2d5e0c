/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_NUMBER_H
#define TCR_NUM_NUMBER_H

/*
 * Numbers as text, whatever the locale: a host may have set one with decimal commas. Nothing is
 * allocated and no state is read. What hosts may call too is in <tipcrest/text.h>.
 */

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/text.h>

/*
 * With a fixed number of decimals, 0 to 9, for tables: rounded to nearest, ties to even, never
 * "-0.00". As tcr_number_text from 1e15 on, for what is not finite and for other numbers of
 * decimals.
 */
size_t tcr_number_fixed(double value, int decimals, char text[TCR_NUMBER_SIZE]);

/*
 * With at most 'digits' significant digits, 1 to 17, in the form of tcr_number_text and without
 * zeros at the end: that text's digits, rounded to nearest, ties to even. As tcr_number_text for 17
 * digits and more, and for what is not finite.
 */
size_t tcr_number_significant(double value, int digits, char text[TCR_NUMBER_SIZE]);

/*
 * A bound with a fixed number of decimals: up, never below the value, or down, never above it. "At
 * most 0.51" for 0.5001. The value counts as tcr_number_text writes it, so that 0.3 stays "0.30".
 */
size_t tcr_number_bound(double value, int decimals, bool up, char text[TCR_NUMBER_SIZE]);

/*
 * With two decimals, or with three where two would hide on which side of a limit the value lies:
 * "0.498" and "0.502" for a limit of 0.5. A value above the limit is never shown as the limit:
 * where three decimals hide it too, the third is rounded up, "0.501" for 0.5001.
 */
size_t tcr_number_beside(double value, double limit, char text[TCR_NUMBER_SIZE]);

#endif
