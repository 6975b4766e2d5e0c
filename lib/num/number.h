/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_NUMBER_H
#define TCR_NUM_NUMBER_H

/*
 * Numbers as text, whatever the locale: a host may have set one with decimal commas. Nothing is
 * allocated and no state is read. What hosts may call too is in <tipcrest/text.h>.
 */

#include <stddef.h>

#include <tipcrest/text.h>

/*
 * With a fixed number of decimals, 0 to 9, for tables: rounded to nearest, ties to even, never
 * "-0.00". As tcr_number_text from 1e15 on, for what is not finite and for other numbers of
 * decimals.
 */
size_t tcr_number_fixed(double value, int decimals, char text[TCR_NUMBER_SIZE]);

#endif
