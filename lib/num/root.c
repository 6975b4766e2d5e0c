/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Root finding by Chandrupatla's method (1997, Advances in Engineering Software 28:145). */
#include "num/root.h"

#include <float.h>
#include <math.h>

enum { STEPS_MAX = 200 };

/*
 * Where to look next, as a share of the way from x1 to x2: inverse quadratic interpolation through
 * the last three points where these lie so that it stays inside, else the middle.
 */
static double next_share(double x1, double f1, double x2, double f2, double x3, double f3) {
    const double xi = (x1 - x2) / (x3 - x2), phi = (f1 - f2) / (f3 - f2);
    if (!(1.0 - sqrt(1.0 - xi) < phi && phi < sqrt(xi)))
        return 0.5;
    return f1 / (f2 - f1) * f3 / (f2 - f3) +
           (x3 - x1) / (x2 - x1) * (f1 / (f3 - f1)) * (f2 / (f3 - f2));
}

bool tcr_root(tcr_function f, void *context, double a, double b, double *root) {
    /* x1 is the newest point, x2 the one across the root, x3 the one before. */
    double x1 = a, x2 = b, f1 = f(a, context), f2 = f(b, context);
    if (isnan(f1) || isnan(f2) || (f1 > 0.0 && f2 > 0.0) || (f1 < 0.0 && f2 < 0.0))
        return false;
    double share = 0.5;
    for (int i = 0; i < STEPS_MAX; i++) {
        const double best = fabs(f1) < fabs(f2) ? x1 : x2;
        const double wide = fabs(x2 - x1);
        const double least = (2.0 * DBL_EPSILON * fabs(best) + DBL_MIN) / (wide > 0.0 ? wide : 1.0);
        if (f1 == 0.0 || f2 == 0.0 || wide == 0.0 || least > 0.5) {
            *root = best;
            return true;
        }
        const double x = x1 + fmin(fmax(share, least), 1.0 - least) * (x2 - x1);
        const double fx = f(x, context);
        if (isnan(fx))
            return false;
        double x3 = x1, f3 = f1;
        if ((fx > 0.0) != (f1 > 0.0)) {
            x3 = x2;
            f3 = f2;
            x2 = x1;
            f2 = f1;
        }
        x1 = x;
        f1 = fx;
        share = next_share(x1, f1, x2, f2, x3, f3);
    }
    *root = fabs(f1) < fabs(f2) ? x1 : x2;
    return true;
}

/* An end of what was searched, and the function there. */
typedef struct tcr_reached {
    double x, value;
} tcr_reached;

/* Moves an end on to a place; whether a root lies on the way. */
static bool reach(tcr_function f, void *context, tcr_reached *end, double to, double *root) {
    const tcr_reached before = *end;
    if (to == before.x)
        return false;
    *end = (tcr_reached){to, f(to, context)};
    const bool turned = end->value == 0.0 || (end->value > 0.0) != (before.value > 0.0);
    return turned && tcr_root(f, context, before.x, to, root);
}

bool tcr_root_outward(tcr_function f, void *context, double from, tcr_span span, double *root) {
    tcr_reached below = {from, f(from, context)}, above = below;
    if (below.value == 0.0) {
        *root = from;
        return true;
    }
    while (below.x > span.low || above.x < span.high) {
        double lower, upper;
        const bool has_lower =
            reach(f, context, &below, fmax(below.x - span.step, span.low), &lower);
        const bool has_upper =
            reach(f, context, &above, fmin(above.x + span.step, span.high), &upper);
        if (has_lower || has_upper) {
            *root = has_lower && (!has_upper || from - lower < upper - from) ? lower : upper;
            return true;
        }
    }
    return false;
}
