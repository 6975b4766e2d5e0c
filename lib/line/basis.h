/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_BASIS_H
#define TCR_LINE_BASIS_H

/* The uniform cubic B-spline basis of a line: 12 coefficients over 9 intervals (de Boor 1978). */

#include <tipcrest/line.h>

enum { TCR_LINE_INTERVALS = TCR_LINE_COEFFICIENTS - 3 };

/* The four basis functions that are not 0 at a point, the first being number 'first'. */
typedef struct tcr_basis {
    int first;
    double value[4];
} tcr_basis;

/* Where x lies: its interval, and the share of the interval, beyond [0, 1] for points beyond the
 * ends. */
static inline int tcr_basis_interval(double x, double x_min, double x_max, double *share) {
    const double place = (x - x_min) / (x_max - x_min) * TCR_LINE_INTERVALS;
    int i = place > 0.0 ? (place < TCR_LINE_INTERVALS ? (int)place : TCR_LINE_INTERVALS - 1) : 0;
    *share = place - i;
    return i;
}

static inline tcr_basis tcr_basis_at(double x, double x_min, double x_max) {
    double t;
    const int first = tcr_basis_interval(x, x_min, x_max, &t);
    const double s = 1.0 - t;
    return (tcr_basis){first,
                       {s * s * s / 6.0, (3.0 * t * t * t - 6.0 * t * t + 4.0) / 6.0,
                        (3.0 * s * s * s - 6.0 * s * s + 4.0) / 6.0, t * t * t / 6.0}};
}

/* Derivatives of the four by x. */
static inline tcr_basis tcr_basis_slope_at(double x, double x_min, double x_max) {
    double t;
    const int first = tcr_basis_interval(x, x_min, x_max, &t);
    const double s = 1.0 - t, per_x = TCR_LINE_INTERVALS / (x_max - x_min);
    return (tcr_basis){first,
                       {-s * s / 2.0 * per_x, (3.0 * t * t - 4.0 * t) / 2.0 * per_x,
                        -(3.0 * s * s - 4.0 * s) / 2.0 * per_x, t * t / 2.0 * per_x}};
}

static inline double tcr_basis_sum(const tcr_basis *basis, const double *coefficient) {
    const double *c = coefficient + basis->first;
    return basis->value[0] * c[0] + basis->value[1] * c[1] + basis->value[2] * c[2] +
           basis->value[3] * c[3];
}

#endif
