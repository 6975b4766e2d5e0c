/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_QUICK_H
#define TCR_LINE_QUICK_H

/* The fitted line by few solutions, where a certificate holds in the end; fit.c has what always
 * works. */

#include <stdbool.h>

#include <tipcrest/line.h>

#include "num/band.h"

/* Points of a robust line that there is room for, about 10 kB of stack. */
enum { TCR_QUICK_MOST = 160 };

/* Points that are valid, in the range of x that the line has, and the penalty lambda. */
typedef struct tcr_quick_points {
    const double *x, *y;
    size_t n;
    double lambda;
} tcr_quick_points;

/* Of normal errors, from the median of what is off (Hampel 1974, 10.1080/01621459.1974.10482962).
 */
static const double TCR_MAD_TO_SIGMA = 1.4826;

/* The plain line; false where it is not certified to 1e-10 mm, and the line is not to be used. */
bool tcr_quick_plain(const tcr_quick_points *points, tcr_line *line);

/*
 * The plain line and, from it, the robust one with sigma = TCR_MAD_TO_SIGMA times the median of the
 * plain residuals, at least sigma_floor_mm, and Huber's limit in sigmas. n is at most
 * TCR_QUICK_MOST. As above. scratch: n doubles.
 */
bool tcr_quick_robust(const tcr_quick_points *points, double huber, double sigma_floor_mm,
                      double *scratch, tcr_line *line);

#endif
