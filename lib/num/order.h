/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_ORDER_H
#define TCR_NUM_ORDER_H

/* Order statistics without allocation and without a quadratic worst case. Values must not be NaN.
 */

#include <stdbool.h>
#include <stddef.h>

/* Sorts n doubles, rising, in place. */
void tcr_sort(double *values, size_t n);

/* Whether item a has to stand before item b; false for two that may stand either way. */
typedef bool (*tcr_before)(const void *a, const void *b, const void *context);

/*
 * Sorts n items of 'size' bytes in place. Stable: items of which neither comes before the other
 * keep their order, so that the result is the same everywhere. n (log n)^2 at most, n for items
 * that are in order.
 */
void tcr_sort_items(void *items, size_t n, size_t size, tcr_before before, const void *context);

/* Reorders so that values[k] is the k-th smallest (from 0), with no larger before and no smaller
 * behind. */
void tcr_select(double *values, size_t n, size_t k);

/* The median, the mean of the middle two for even n; reorders values; n > 0. */
double tcr_median(double *values, size_t n);

/*
 * The quantile of type 7 of Hyndman & Fan (1996, 10.1080/00031305.1996.10473566) at p in [0, 1]:
 * linear between order statistics at (n - 1) p. Reorders values; n > 0.
 */
double tcr_quantile(double *values, size_t n, double p);

#endif
