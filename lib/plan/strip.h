/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_STRIP_H
#define TCR_PLAN_STRIP_H

#include <stddef.h>

/* A straight line a + b x, and how far the points lie from it at most. */
typedef struct tcr_strip {
    double a_mm, b, most_mm;
} tcr_strip;

/*
 * Chebyshev's line through n points (n > 0): of all lines the one whose largest deviation is least.
 * Exact up to rounding. Points at one x get slope 0. Each pass takes n steps, and there are no more
 * passes than edges of the points' convex hull, in practice a handful.
 */
tcr_strip tcr_strip_of(const double *x_mm, const double *y_mm, size_t n);

#endif
