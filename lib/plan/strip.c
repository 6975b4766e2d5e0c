/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Chebyshev's line through points. The height of the strip of slope b that holds them,
 * max (y - b x) - min (y - b x), is convex and piecewise linear in b. Each pair of a highest and a
 * lowest point bounds it from below by a straight line; where two such bounds, one falling and one
 * rising, meet, the height is taken anew and gives the next bound (Kelley 1960, Journal of the
 * Society for Industrial and Applied Mathematics 8:703, in one dimension, where it ends).
 */
#include "plan/strip.h"

#include <math.h>
#include <stdbool.h>

/* A bound of the height: rise - b run. */
typedef struct support {
    double rise, run;
} support;

typedef struct edge {
    double value, x;
} edge;

static support between(edge high, edge low) {
    return (support){high.value - low.value, high.x - low.x};
}

/* The bounds far to the left and far to the right, where the outermost points count alone. */
static void outer_supports(const double *x, const double *y, size_t n, support *left,
                           support *right) {
    double first_low = y[0], first_high = y[0], last_low = y[0], last_high = y[0];
    double first = x[0], last = x[0];
    for (size_t i = 1; i < n; i++) {
        if (x[i] < first)
            first_low = first_high = y[i];
        if (x[i] > last)
            last_low = last_high = y[i];
        first = fmin(first, x[i]);
        last = fmax(last, x[i]);
        if (x[i] == first) {
            first_low = fmin(first_low, y[i]);
            first_high = fmax(first_high, y[i]);
        }
        if (x[i] == last) {
            last_low = fmin(last_low, y[i]);
            last_high = fmax(last_high, y[i]);
        }
    }
    *left = between((edge){last_high, last}, (edge){first_low, first});
    *right = between((edge){first_high, first}, (edge){last_low, last});
}

/* The strip of slope b; also the bound that its highest and its lowest point give. */
static tcr_strip at_slope(const double *x, const double *y, size_t n, double b, support *bound) {
    size_t high = 0, low = 0;
    double most = -INFINITY, least = INFINITY;
    for (size_t i = 0; i < n; i++) {
        const double r = y[i] - b * x[i];
        if (r > most) {
            most = r;
            high = i;
        }
        if (r < least) {
            least = r;
            low = i;
        }
    }
    *bound = between((edge){y[high], x[high]}, (edge){y[low], x[low]});
    return (tcr_strip){least + (most - least) / 2.0, b, (most - least) / 2.0};
}

tcr_strip tcr_strip_of(const double *x_mm, const double *y_mm, size_t n) {
    support falling, rising, bound; /* by the sign of the height's slope, -run */
    outer_supports(x_mm, y_mm, n, &falling, &rising);
    tcr_strip best = at_slope(x_mm, y_mm, n, 0.0, &bound);
    if (!(falling.run > 0.0)) /* all at one x */
        return best;
    for (size_t pass = 0; pass <= n * 2; pass++) {
        const double b = (falling.rise - rising.rise) / (falling.run - rising.run);
        const double below = falling.rise - b * falling.run; /* the height cannot be less */
        const tcr_strip strip = at_slope(x_mm, y_mm, n, b, &bound);
        if (strip.most_mm < best.most_mm)
            best = strip;
        const double left = 2.0 * strip.most_mm - below;
        if (!(left > 1e-14 * (fabs(falling.rise) + fabs(b * falling.run))) || bound.run == 0.0)
            break;
        if (bound.run > 0.0)
            falling = bound;
        else
            rising = bound;
    }
    return best;
}
