/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_BASIS_H
#define TCR_LINE_BASIS_H

/* The uniform cubic B-spline basis of a line: 12 coefficients over 9 intervals (de Boor 1978). */

#include <tipcrest/line.h>

#include "num/band.h"
#include "num/elementary_kernel.h"

enum { TCR_LINE_INTERVALS = TCR_LINE_COEFFICIENTS - 3 };

/* The four basis functions that are not 0 at a point, the first being number 'first'. */
typedef struct tcr_basis {
    int first;
    double value[4];
} tcr_basis;

/* A number, or 0 where it is negative, by its sign: no comparison that a compiler might branch on.
 */
TCR_LANE double tcr_not_below_0(double value) {
    const uint64_t bits = tcr_bits(value);
    return tcr_of_bits(bits & ((bits >> 63) - 1U));
}

/*
 * Where x lies: its interval, and the share of the interval, beyond [0, 1] for points beyond the
 * ends. The interval is the whole number nearest to its place less 1/2, from 0 to 8; at a knot
 * either side will do. NaN has one too.
 */
TCR_LANE int tcr_basis_interval(double x, double x_min, double x_max, double *share) {
    const double last = TCR_LINE_INTERVALS - 1, to_whole = 0x1p52;
    const double place = (x - x_min) / (x_max - x_min) * TCR_LINE_INTERVALS;
    const double whole = (last - tcr_not_below_0(last - tcr_not_below_0(place - 0.5))) + to_whole;
    const int i = (int)(tcr_bits(whole) & 15U);
    *share = place - (whole - to_whole);
    return i < TCR_LINE_INTERVALS ? i : 0;
}

TCR_LANE tcr_basis tcr_basis_at(double x, double x_min, double x_max) {
    double t;
    const int first = tcr_basis_interval(x, x_min, x_max, &t);
    const double s = 1.0 - t, sixth = 1.0 / 6.0;
    return (tcr_basis){first,
                       {s * s * s * sixth, (3.0 * t * t * t - 6.0 * t * t + 4.0) * sixth,
                        (3.0 * s * s * s - 6.0 * s * s + 4.0) * sixth, t * t * t * sixth}};
}

/* Derivatives of the four by x. */
TCR_LANE tcr_basis tcr_basis_slope_at(double x, double x_min, double x_max) {
    double t;
    const int first = tcr_basis_interval(x, x_min, x_max, &t);
    const double s = 1.0 - t, per_x = TCR_LINE_INTERVALS / (x_max - x_min);
    return (tcr_basis){first,
                       {-s * s / 2.0 * per_x, (3.0 * t * t - 4.0 * t) / 2.0 * per_x,
                        -(3.0 * s * s - 4.0 * s) / 2.0 * per_x, t * t / 2.0 * per_x}};
}

TCR_LANE double tcr_basis_sum(const tcr_basis *basis, const double *coefficient) {
    const double *c = coefficient + basis->first;
    return basis->value[0] * c[0] + basis->value[1] * c[1] + basis->value[2] * c[2] +
           basis->value[3] * c[3];
}

/* A line at any X, and its slope there. Beyond its ends it goes on straight. */
typedef struct tcr_line_point {
    double y, slope;
} tcr_line_point;

TCR_LANE tcr_line_point tcr_line_point_lane(const tcr_line *line, double x_mm) {
    const double low = line->x_min_mm, high = line->x_max_mm;
    const double inside = tcr_less(tcr_more(x_mm, low), high);
    const tcr_basis value = tcr_basis_at(inside, low, high);
    const tcr_basis rise = tcr_basis_slope_at(inside, low, high);
    const double slope = tcr_basis_sum(&rise, line->coefficient_mm);
    return (tcr_line_point){tcr_basis_sum(&value, line->coefficient_mm) + slope * (x_mm - inside),
                            slope};
}

/* lambda DtD added to the matrix; D: second differences. */
static inline void tcr_penalty_matrix(double lambda, tcr_band *matrix) {
    static const double second[3] = {1.0, -2.0, 1.0};
    for (int i = 0; i + 2 < TCR_LINE_COEFFICIENTS; i++)
        for (int a = 0; a < 3; a++)
            for (int b = a; b < 3; b++)
                matrix->entry[i + a][b - a] += lambda * second[a] * second[b];
}

/* -lambda DtD c added to the gradient. */
static inline void tcr_penalty_gradient(double lambda, const double *c, double *gradient) {
    for (int i = 0; i + 2 < TCR_LINE_COEFFICIENTS; i++) {
        const double d = lambda * (c[i] - 2.0 * c[i + 1] + c[i + 2]);
        gradient[i] -= d;
        gradient[i + 1] += 2.0 * d;
        gradient[i + 2] -= d;
    }
}

#endif
