/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chebyshev's line: closed forms of approximation theory, every pair of points tried, invariance.
 */
#include "plan/strip.h"

#include <math.h>

#include <gsl/gsl_rng.h>

#include "support/check.h"
#include "support/make.h"

enum { MOST = 4001 };
static double x[MOST], y[MOST];

static double largest(size_t n, double a, double b) {
    double most = 0.0;
    for (size_t i = 0; i < n; i++)
        most = fmax(most, fabs(y[i] - a - b * x[i]));
    return most;
}

static tcr_strip strip_of(size_t n) {
    const tcr_strip strip = tcr_strip_of(x, y, n);
    expect_near(largest(n, strip.a_mm, strip.b), strip.most_mm,
                1e-13 * (1.0 + fabs(strip.a_mm) + strip.most_mm), "rounding of the line");
    return strip;
}

CLAIM(the_line_of_x_squared_is_one_half) {
    for (size_t i = 0; i < MOST; i++) {
        x[i] = -1.0 + 2.0 * (double)i / (MOST - 1);
        y[i] = x[i] * x[i];
    }
    const tcr_strip strip = strip_of(MOST);
    /* Source: closed form. x^2 - 1/2 = T_2(x)/2, Chebyshev's polynomial, is the monic one of degree
     * 2 that strays least, so that 1/2 is the line of least deviation, 1/2. */
    expect_near(strip.a_mm, 0.5, 1e-15, "rounding");
    expect_near(strip.b, 0.0, 1e-15, "rounding");
    expect_near(strip.most_mm, 0.5, 1e-15, "rounding");
}

CLAIM(the_line_of_the_exponential_is_the_known_one) {
    /* A point of the grid must be where the error is extreme: ln(sinh 1). */
    for (size_t i = 0; i < MOST; i++)
        x[i] = -1.0 + 2.0 * (double)i / (MOST - 1);
    x[MOST / 2 + 1] = log(sinh(1.0));
    for (size_t i = 0; i < MOST; i++)
        y[i] = exp(x[i]);
    const tcr_strip strip = strip_of(MOST);
    /* Source: closed form (from memory an example in textbooks of approximation theory): slope
     * sinh 1, since the error is equal at both ends; extreme where exp x = sinh 1. */
    const double b = sinh(1.0), e = (exp(1.0) - b - (b - b * log(b))) / 2.0;
    expect_near(strip.b, b, 1e-13, "rounding of a quotient");
    expect_near(strip.most_mm, e, 1e-14, "rounding");
    expect_near(strip.most_mm, 0.27880, 5e-6, "half a unit of the last digit");
}

/* Of all lines through two points, shifted to the middle, the least: where the strip is flattest
 * one of its sides holds two points, or all are at one x. */
static double least_by_trying(size_t n) {
    double least = INFINITY;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) {
            const double b = x[i] == x[j] ? 0.0 : (y[j] - y[i]) / (x[j] - x[i]);
            double high = -INFINITY, low = INFINITY;
            for (size_t k = 0; k < n; k++) {
                high = fmax(high, y[k] - b * x[k]);
                low = fmin(low, y[k] - b * x[k]);
            }
            least = fmin(least, (high - low) / 2.0);
        }
    return least;
}

CLAIM(no_line_through_two_points_is_better) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int i = 0; i < 3000; i++) {
        const size_t n = 1 + gsl_rng_uniform_int(rng, 12);
        for (size_t k = 0; k < n; k++) {
            x[k] = i % 3 == 0 ? (double)gsl_rng_uniform_int(rng, 4)
                              : tcr_draw_between(rng, -14.0, 14.0);
            y[k] = tcr_draw_between(rng, -3.0, 3.0);
        }
        given("problem %d of %zu points", i, n);
        const double least = least_by_trying(n);
        /* Source: all lines that can be the best, tried. */
        expect_near(strip_of(n).most_mm, least, 1e-12, "rounding of slopes up to 1e3");
    }
    gsl_rng_free(rng);
}

CLAIM(one_point_and_points_at_one_x_have_a_level_line) {
    x[0] = 3.0, y[0] = 2.0;
    expect_same(strip_of(1).most_mm, 0.0, "one point is on its line");
    for (size_t k = 0; k < 5; k++)
        x[k] = 7.0, y[k] = (double)k;
    const tcr_strip strip = strip_of(5);
    /* Source: closed form, half of the range 0 to 4. */
    expect_same(strip.most_mm, 2.0, "whole numbers");
    expect_same(strip.b, 0.0, "as the header says");
}

int main(void) {
    static const TTest *const claims[] = {
        &the_line_of_x_squared_is_one_half,
        &the_line_of_the_exponential_is_the_known_one,
        &no_line_through_two_points_is_better,
        &one_point_and_points_at_one_x_have_a_level_line,
    };
    return RUN_CLAIMS("strip", claims);
}
