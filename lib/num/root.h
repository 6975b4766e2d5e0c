/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_ROOT_H
#define TCR_NUM_ROOT_H

/* A root of a function of one number, between two places where its signs differ. */

#include <stdbool.h>

typedef double (*tcr_function)(double x, void *context);

/*
 * Finds x between a and b with f(x) = 0, to the last digits that f allows; false where f has the
 * same sign at both, or gives NaN. Chandrupatla 1997, 10.1016/S0965-9978(96)00051-8: inverse
 * quadratic interpolation where it is safe, bisection elsewhere.
 */
bool tcr_root(tcr_function f, void *context, double a, double b, double *root);

/* Where a root is looked for: between two numbers, in steps. */
typedef struct tcr_span {
    double low, high, step;
} tcr_span;

/*
 * The root nearest to a place: looks outward from it, step by step to both sides, for the first
 * change of sign and solves there; of two in the same step the nearer, of two equally near the
 * upper. 'from' lies in the span. False where no sign changes from step to step.
 */
bool tcr_root_outward(tcr_function f, void *context, double from, tcr_span span, double *root);

#endif
