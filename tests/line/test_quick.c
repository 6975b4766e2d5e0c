/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The quick way to a line against the careful one: where it certifies its end, both are within the
 * promised 1e-10 mm of the minimiser. The careful way is held to GSL's minimisers in test_robust.c.
 */
#include "line/quick.h"

#include <math.h>

#include "line/fit.h"
#include "support/check.h"
#include "support/make.h"
#include "support/spline.h"

enum { MOST = 300, ORDINARY = 12000, EXTREME = 12000 };
static double x[MOST], y[MOST], scratch[MOST];

static const double BOTH_MM = 2e-10; /* each within 1e-10 mm of the minimiser: line.h */

/* The largest difference of two lines at the points. */
static double apart(const tcr_line *a, const tcr_line *b, size_t n) {
    double most = 0.0;
    for (size_t i = 0; i < n; i++)
        most = fmax(most, fabs(tcr_line_at(a, x[i]) - tcr_line_at(b, x[i])));
    return most;
}

/* Whether the quick way ends at a line; it is then the careful one's. */
static bool is_quick(size_t n, const tcr_line_options *o, double tolerance) {
    tcr_line careful = {0}, quick;
    const tcr_status status = tcr_line_fit_carefully(x, y, n, o, scratch, &careful);
    quick = careful;
    const tcr_quick_points points = {x, y, n, o->penalty * (double)n};
    if (status == TCR_E_ONE_X)
        return true;
    if (status != TCR_OK) { /* it needs no end, but its range */
        quick.x_min_mm = quick.x_max_mm = x[0];
        for (size_t i = 0; i < n; i++) {
            quick.x_min_mm = fmin(quick.x_min_mm, x[i]);
            quick.x_max_mm = fmax(quick.x_max_mm, x[i]);
        }
    }
    const bool ended = o->robust
                           ? tcr_quick_robust(&points, o->huber, o->sigma_floor_mm, scratch, &quick)
                           : tcr_quick_plain(&points, &quick);
    if (ended && status == TCR_OK)
        expect_within(apart(&quick, &careful, n), 0.0, tolerance, "both near the minimiser");
    return ended;
}

/* Tips as eyes have them: layers apart, a share of strays, a map's steps. */
static size_t draw_ordinary(gsl_rng *rng) {
    const size_t n = 12 + gsl_rng_uniform_int(rng, 140);
    const double scatter = tcr_draw_between(rng, 0.0, 0.8),
                 layers = tcr_draw_between(rng, 0.0, 2.0);
    const double strays = 0.3 * gsl_rng_uniform(rng);
    tcr_draw_tips(rng, n, scatter, x, y);
    for (size_t i = 0; i < n; i++) {
        y[i] += layers * (double)gsl_rng_uniform_int(rng, 3);
        if (gsl_rng_uniform(rng) < strays)
            y[i] += tcr_draw_between(rng, -6.0, 6.0);
    }
    return n;
}

CLAIM(ordinary_sets_have_the_careful_line_and_nearly_all_quickly) {
    gsl_rng *rng = tcr_make_rng(1);
    tcr_line_options o = tcr_line_options_default();
    size_t quick = 0;
    for (int i = 0; i < ORDINARY; i++) {
        const size_t n = draw_ordinary(rng);
        given("set %d of %zu points", i, n);
        quick += is_quick(n, &o, 1e-10);
    }
    /* Source: an own aim; without a look at overshoots it is 0.98. */
    expect_within((double)quick / ORDINARY, 0.999, 1.0, "it has to serve");
    gsl_rng_free(rng);
}

/* Anything within the range of which line.h promises a line. */
static size_t draw_extreme(gsl_rng *rng, tcr_line_options *o) {
    const size_t n = 3 + gsl_rng_uniform_int(rng, TCR_QUICK_MOST - 2);
    const double size = pow(10.0, tcr_draw_between(rng, -3.0, 3.0));
    const unsigned long clusters = 1 + gsl_rng_uniform_int(rng, 12);
    const bool crowded = gsl_rng_uniform(rng) < 0.4, split = gsl_rng_uniform(rng) < 0.3;
    o->robust = gsl_rng_uniform(rng) < 0.8;
    o->penalty = pow(10.0, tcr_draw_between(rng, -8.0, 4.0));
    o->huber = pow(10.0, tcr_draw_between(rng, -1.0, 1.5));
    o->sigma_floor_mm = pow(10.0, tcr_draw_between(rng, -3.0, 0.0));
    for (size_t i = 0; i < n; i++) {
        x[i] = crowded ? (double)gsl_rng_uniform_int(rng, clusters) + 1e-6 * gsl_rng_uniform(rng)
                       : tcr_draw_between(rng, -12.0, 12.0);
        y[i] = size * tcr_draw_between(rng, -0.5, 0.5);
        if (split) /* two rows that pull against each other */
            y[i] = size * ((i % 2 == 0 ? 0.5 : -0.5) + 1e-3 * gsl_rng_uniform(rng));
    }
    return n;
}

CLAIM(extreme_sets_have_the_careful_line_or_go_the_careful_way) {
    gsl_rng *rng = tcr_make_rng(2);
    size_t quick = 0;
    for (int i = 0; i < EXTREME; i++) {
        tcr_line_options o = tcr_line_options_default();
        const size_t n = draw_extreme(rng, &o);
        given("set %d of %zu points: penalty %g, huber %g, floor %g", i, n, o.penalty, o.huber,
              o.sigma_floor_mm);
        quick += is_quick(n, &o, BOTH_MM);
    }
    expect_within((double)quick / EXTREME, 0.2, 1.0, "or the claim would be empty");
    gsl_rng_free(rng);
}

CLAIM(more_points_than_there_is_room_for_have_the_same_plain_line) {
    gsl_rng *rng = tcr_make_rng(3);
    tcr_line_options o = tcr_line_options_default();
    o.robust = false;
    for (int i = 0; i < 100; i++) {
        const size_t n = TCR_QUICK_MOST - 2 + gsl_rng_uniform_int(rng, MOST - TCR_QUICK_MOST);
        tcr_draw_tips(rng, n, 1.0, x, y);
        given("set %d of %zu points", i, n);
        expect_true(is_quick(n, &o, 1e-10));
    }
    gsl_rng_free(rng);
}

CLAIM(the_public_line_is_the_quick_one) {
    /* A set of a hundred takes the quick way, to the last bit. */
    gsl_rng *rng = tcr_make_rng(4);
    tcr_draw_tips(rng, 100, 0.3, x, y);
    tcr_line line, quick;
    expect_status(tcr_line_fit(x, y, 100, NULL, scratch, &line), TCR_OK);
    quick = line;
    const tcr_quick_points points = {x, y, 100, 1e-4 * 100.0};
    expect_true(tcr_quick_robust(&points, 1.345, 0.1, scratch, &quick));
    expect_bytes(&line, &quick, sizeof line);
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &ordinary_sets_have_the_careful_line_and_nearly_all_quickly,
        &extreme_sets_have_the_careful_line_or_go_the_careful_way,
        &more_points_than_there_is_room_for_have_the_same_plain_line,
        &the_public_line_is_the_quick_one,
    };
    return RUN_CLAIMS("quick", claims);
}
