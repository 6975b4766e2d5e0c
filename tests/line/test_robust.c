/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The robust fit: its conditions of a minimum, other minimisers on the same objective, closed
 * forms, what stray tips do to it.
 */
#include <tipcrest/line.h>

#include <math.h>
#include <string.h>

#include <gsl/gsl_multimin.h>

#include "support/check.h"
#include "support/make.h"
#include "support/spline.h"

enum { MOST = 2000 };
static double x[MOST], y[MOST], r[MOST], weight[MOST], scratch[MOST];

static const double PENALTY = 1e-4, HUBER = 1.345, FLOOR_MM = 0.1; /* model.md, section 6 */

static tcr_line fitted(size_t n) {
    tcr_line line;
    expect_status(tcr_line_fit(x, y, n, NULL, scratch, &line), TCR_OK);
    return line;
}

/* Tips with strays: a share of them far off, to one side or both. */
static void draw_with_strays(gsl_rng *rng, size_t n, double scatter, double share, bool one_side) {
    tcr_draw_tips(rng, n, scatter, x, y);
    for (size_t i = 0; i < n; i++)
        if (gsl_rng_uniform(rng) < share)
            y[i] += tcr_draw_between(rng, 1.0, 6.0) *
                    (one_side || gsl_rng_uniform(rng) < 0.5 ? 1.0 : -1.0);
}

CLAIM(sigma_is_1_4826_median_deviations_of_the_plain_fit) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 100; i++) {
        const size_t n = 3 + gsl_rng_uniform_int(rng, i % 5 == 0 ? 400 : 100);
        double c[TCR_K];
        draw_with_strays(rng, n, 0.5, 0.1, false);
        tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
        tcr_dense_solve(dense, NULL, c);
        given("problem %d of %zu points", i, n);
        /* Source: model.md, section 6, by GSL's least squares and sorting. */
        expect_near(fitted(n).sigma_mm, tcr_dense_scale(dense, c, FLOOR_MM), 1e-9,
                    "the accuracy of the contract");
        tcr_dense_free(dense);
    }
    gsl_rng_free(rng);
}

CLAIM(the_gradient_of_the_contracts_objective_is_0_at_the_line) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 300; i++) {
        const size_t n = 3 + gsl_rng_uniform_int(rng, 150);
        double gradient[TCR_K];
        draw_with_strays(rng, n, tcr_draw_between(rng, 0.0, 1.0), 0.2 * gsl_rng_uniform(rng),
                         i % 2 == 0);
        const tcr_line line = fitted(n);
        tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
        tcr_dense_gradient(dense, line.coefficient_mm, HUBER * line.sigma_mm, gradient);
        tcr_dense_free(dense);
        for (int j = 0; j < TCR_K; j++) {
            given("problem %d of %zu points, coefficient %d", i, n, j);
            /* Source: the condition of a minimum of a convex function with a gradient. */
            expect_near(gradient[j], 0.0, 1e-8, "sums of 150 terms of up to 6 mm");
        }
    }
    gsl_rng_free(rng);
}

/* Few tips above a few places, or within 1e-12 to 1 mm of them, many of them of one height. */
static size_t draw_crowded(gsl_rng *rng) {
    double place[4];
    const size_t n = 3 + gsl_rng_uniform_int(rng, gsl_rng_uniform(rng) < 0.7 ? 9 : 40);
    const size_t places = 1 + gsl_rng_uniform_int(rng, 4);
    const double crowd = pow(10.0, -(double)gsl_rng_uniform_int(rng, 13));
    const bool alike = gsl_rng_uniform(rng) < 0.5;
    for (size_t i = 0; i < places; i++)
        place[i] = tcr_draw_between(rng, -20.0, 20.0);
    for (size_t i = 0; i < n; i++) {
        x[i] = place[gsl_rng_uniform_int(rng, places)];
        x[i] += gsl_rng_uniform(rng) < 0.3 ? 0.0 : tcr_draw_between(rng, -crowd, crowd);
        y[i] = alike && gsl_rng_uniform(rng) < 0.7 ? 12.0 : tcr_draw_between(rng, 0.0, 30.0);
    }
    return n;
}

/* Where tips leave a line hardly anything to stand on, or a range to lie in. */
CLAIM(crowded_tips_have_a_line_and_its_gradient_is_0) {
    enum { PROBLEMS = 50000 };
    gsl_rng *rng = tcr_make_rng(9);
    size_t lines = 0;
    for (int i = 0; i < PROBLEMS; i++) {
        const size_t n = draw_crowded(rng);
        double gradient[TCR_K];
        tcr_line line;
        const tcr_status status = tcr_line_fit(x, y, n, NULL, scratch, &line);
        given("problem %d of %zu points", i, n);
        if (status == TCR_E_ONE_X)
            continue;
        expect_status(status, TCR_OK);
        lines++;
        tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
        tcr_dense_gradient(dense, line.coefficient_mm, HUBER * line.sigma_mm, gradient);
        tcr_dense_free(dense);
        for (int j = 0; j < TCR_K; j++)
            /* Source: the condition of a minimum of a convex function with a gradient. */
            expect_near(gradient[j], 0.0, 1e-8, "sums of 42 terms of up to 30 mm");
    }
    expect_true(lines > PROBLEMS / 2);
    gsl_rng_free(rng);
}

/* Iteratively reweighted least squares by GSL, from the plain fit on, to the end. */
static void reweighted(const tcr_dense *dense, double limit, double c[TCR_K]) {
    tcr_dense_solve(dense, NULL, c);
    for (int step = 0; step < 3000; step++) {
        double before[TCR_K], change = 0.0;
        memcpy(before, c, sizeof before);
        tcr_dense_residuals(dense, c, r);
        for (size_t i = 0; i < dense->n; i++)
            weight[i] = fabs(r[i]) <= limit ? 1.0 : limit / fabs(r[i]);
        tcr_dense_solve(dense, weight, c);
        for (int j = 0; j < TCR_K; j++)
            change = fmax(change, fabs(c[j] - before[j]));
        if (change < 1e-13)
            return;
    }
}

CLAIM(the_line_is_where_reweighted_least_squares_ends) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int i = 0; i < 12; i++) {
        const size_t n = 40 + gsl_rng_uniform_int(rng, 60);
        double c[TCR_K];
        draw_with_strays(rng, n, 0.4, 0.1, i % 2 == 0);
        const tcr_line line = fitted(n);
        tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
        reweighted(dense, HUBER * line.sigma_mm, c); /* source: GSL's solver, 3000 times at most */
        tcr_dense_free(dense);
        for (int j = 0; j < TCR_K; j++) {
            given("problem %d of %zu points, coefficient %d", i, n, j);
            expect_near(line.coefficient_mm[j], c[j], 1e-9,
                        "reweighting creeps: a last step of 1e-13 may leave 1e-10");
        }
    }
    gsl_rng_free(rng);
}

typedef struct huber {
    const tcr_dense *dense;
    double limit;
} huber;

static double value_of(const gsl_vector *c, void *p) {
    const huber *h = p;
    return tcr_dense_objective(h->dense, c->data, h->limit);
}

static void gradient_of(const gsl_vector *c, void *p, gsl_vector *gradient) {
    const huber *h = p;
    tcr_dense_gradient(h->dense, c->data, h->limit, gradient->data);
}

static void both_of(const gsl_vector *c, void *p, double *value, gsl_vector *gradient) {
    *value = value_of(c, p);
    gradient_of(c, p, gradient);
}

/* GSL's BFGS from 0 on; the lowest objective that it finds. */
static double by_bfgs(huber *h, gsl_vector *c) {
    gsl_multimin_function_fdf f = {value_of, gradient_of, both_of, TCR_K, h};
    gsl_multimin_fdfminimizer *search =
        gsl_multimin_fdfminimizer_alloc(gsl_multimin_fdfminimizer_vector_bfgs2, TCR_K);
    gsl_vector_set_zero(c);
    gsl_multimin_fdfminimizer_set(search, &f, c, 0.1, 0.01);
    for (int i = 0; i < 5000; i++)
        if (gsl_multimin_fdfminimizer_iterate(search) != 0 ||
            gsl_multimin_test_gradient(search->gradient, 1e-10) == 0)
            break;
    gsl_vector_memcpy(c, gsl_multimin_fdfminimizer_x(search));
    const double least = gsl_multimin_fdfminimizer_minimum(search);
    gsl_multimin_fdfminimizer_free(search);
    return least;
}

CLAIM(gsls_bfgs_finds_the_same_minimum_and_nothing_lower) {
    gsl_rng *rng = tcr_make_rng(4);
    gsl_vector *c = gsl_vector_alloc(TCR_K);
    for (int i = 0; i < 20; i++) {
        const size_t n = 25;
        draw_with_strays(rng, n, 0.4, 0.15, true);
        const tcr_line line = fitted(n);
        tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
        huber h = {dense, HUBER * line.sigma_mm};
        const double ours = tcr_dense_objective(dense, line.coefficient_mm, h.limit);
        const double least = by_bfgs(&h, c); /* source: GSL, vector_bfgs2 */
        given("problem %d", i);
        expect_within(ours, 0.0, least + 1e-12 * least, "rounding of the sum");
        expect_near(ours, least, 1e-6 * least, "BFGS stops where the objective is this flat");
        tcr_dense_free(dense);
    }
    gsl_vector_free(c);
    gsl_rng_free(rng);
}

CLAIM(no_small_move_of_the_coefficients_lowers_the_objective) {
    gsl_rng *rng = tcr_make_rng(5);
    const size_t n = 60;
    draw_with_strays(rng, n, 0.4, 0.15, true);
    const tcr_line line = fitted(n);
    tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
    const double limit = HUBER * line.sigma_mm;
    const double least = tcr_dense_objective(dense, line.coefficient_mm, limit);
    for (int i = 0; i < 5000; i++) {
        double c[TCR_K];
        const double size = pow(10.0, tcr_draw_between(rng, -7.0, 0.0));
        for (int j = 0; j < TCR_K; j++)
            c[j] = line.coefficient_mm[j] + tcr_draw_between(rng, -size, size);
        given("move %d of size %g", i, size);
        /* Source: definition of a minimum. */
        expect_within(tcr_dense_objective(dense, c, limit), least * (1.0 - 1e-13), INFINITY,
                      "rounding of the sum");
    }
    tcr_dense_free(dense);
    gsl_rng_free(rng);
}

/*
 * The same tips at every X: four at 0 and one at height. The line is level, so the problem is one
 * of location, with a closed form: c0 is the mean, height/5; the four are off by that, which is the
 * median; the robust line stands where 4 mu = 1.345 sigma, whatever the penalty.
 */
static double location(double height, double *sigma) {
    for (int i = 0; i < 100; i++) {
        x[i] = i / 5;
        y[i] = i % 5 == 0 ? height : 0.0;
    }
    *sigma = fmax(1.4826 * height / 5.0, FLOOR_MM);
    return HUBER * *sigma / 4.0;
}

CLAIM(a_fifth_of_strays_at_every_place_lifts_the_line_by_the_closed_form) {
    double sigma;
    const double level = location(3.0, &sigma);
    const tcr_line line = fitted(100);
    /* Source: closed form above: sigma 0.88956, level 0.2991 mm. */
    expect_near(line.sigma_mm, sigma, 1e-12, "rounding of 1 mm");
    for (int i = 0; i <= 19; i++) {
        given("at %d mm", i);
        expect_near(tcr_line_at(&line, i), level, 1e-10, "the accuracy promised by line.h");
        expect_near(tcr_line_slope(&line, i), 0.0, 1e-10, "the same over a millimetre");
    }
}

CLAIM(strays_ten_times_as_far_lift_the_line_by_the_closed_form_too) {
    double sigma;
    const double level = location(30.0, &sigma);
    const tcr_line line = fitted(100);
    expect_near(line.sigma_mm, sigma, 1e-11, "rounding of 10 mm");
    expect_near(tcr_line_at(&line, 7.3), level, 1e-10, "the accuracy promised by line.h");
}

CLAIM(sigma_is_never_below_its_floor) {
    double sigma;
    const double level = location(0.3, &sigma); /* 1.4826 x 0.06 = 0.089 mm */
    ck_assert(sigma == FLOOR_MM);
    const tcr_line line = fitted(100);
    /* Source: model.md, section 6, and closed form: level 1.345 x 0.1 / 4 = 0.0336 mm. */
    expect_same(line.sigma_mm, FLOOR_MM, "the floor itself");
    expect_near(tcr_line_at(&line, 7.3), level, 1e-10, "the accuracy promised by line.h");
}

CLAIM(two_strays_move_the_robust_line_less_than_a_fifth_of_the_plain_one) {
    for (int i = 0; i < 60; i++) {
        x[i] = -15.0 + 30.0 * i / 59.0;
        y[i] = 5.0 + 0.2 * x[i];
    }
    y[20] += 4.0;
    y[45] -= 3.0;
    const tcr_line line = fitted(60);
    tcr_line_options plain_options = tcr_line_options_default();
    plain_options.robust = false;
    tcr_line plain;
    expect_status(tcr_line_fit(x, y, 60, &plain_options, scratch, &plain), TCR_OK);
    double robust_most = 0.0, plain_most = 0.0;
    for (int i = 0; i < 60; i++) {
        robust_most = fmax(robust_most, fabs(tcr_line_at(&line, x[i]) - 5.0 - 0.2 * x[i]));
        plain_most = fmax(plain_most, fabs(tcr_line_at(&plain, x[i]) - 5.0 - 0.2 * x[i]));
    }
    /* Source: bounded influence. A stray pulls as a deviation of 1.345 sigma would, at the floor
     * 0.13 mm, where its whole 4 mm pull the plain fit. */
    expect_within(robust_most, 0.0, plain_most / 5.0, "a thirtieth, with room for sigma to grow");
    expect_within(plain_most, 0.3, 1.5, "the plain fit of ten parameters follows a stray of 60");
}

CLAIM(how_far_out_a_stray_stands_does_not_matter) {
    gsl_rng *rng = tcr_make_rng(6);
    tcr_draw_tips(rng, 80, 0.0, x, y); /* all on a parabola, so sigma stays at its floor */
    gsl_rng_free(rng);
    y[33] += 5.0;
    const tcr_line near = fitted(80);
    const double pulled = y[33];
    y[33] = pulled + 1.0;
    const tcr_line far = fitted(80);
    ck_assert(near.sigma_mm == far.sigma_mm);
    for (int j = 0; j < TCR_K; j++)
        /* Source: closed form, the pull of a point beyond the limit is constant. */
        expect_near(far.coefficient_mm[j], near.coefficient_mm[j], 2e-10,
                    "twice the accuracy promised by line.h");
}

CLAIM(without_strays_the_robust_line_is_the_plain_one) {
    gsl_rng *rng = tcr_make_rng(7);
    tcr_draw_tips(rng, 80, 0.0, x, y);
    for (int i = 0; i < 80; i++)
        y[i] += tcr_draw_between(rng, -0.1, 0.1); /* all within 1.345 x 0.1 mm */
    gsl_rng_free(rng);
    tcr_line_options o = tcr_line_options_default();
    o.robust = false;
    tcr_line plain;
    expect_status(tcr_line_fit(x, y, 80, &o, scratch, &plain), TCR_OK);
    const tcr_line robust = fitted(80);
    for (int j = 0; j < TCR_K; j++) /* source: limit, h is a square for all points */
        expect_near(robust.coefficient_mm[j], plain.coefficient_mm[j], 2e-10,
                    "twice the accuracy promised by line.h");
}

CLAIM(the_order_of_the_points_changes_nothing) {
    gsl_rng *rng = tcr_make_rng(8);
    draw_with_strays(rng, 101, 0.4, 0.1, true);
    const tcr_line there = fitted(101);
    for (int i = 0; i < 50; i++) { /* backwards */
        const double tx = x[i], ty = y[i];
        x[i] = x[100 - i];
        y[i] = y[100 - i];
        x[100 - i] = tx;
        y[100 - i] = ty;
    }
    const tcr_line back = fitted(101);
    gsl_rng_free(rng);
    for (int i = 0; i <= 100; i++) {
        const double at = there.x_min_mm + (there.x_max_mm - there.x_min_mm) * i / 100.0;
        expect_near(tcr_line_at(&back, at), tcr_line_at(&there, at), 1e-12,
                    "sums of 101 numbers of 10 mm in another order"); /* invariant */
    }
}

CLAIM(a_mirrored_set_has_a_mirrored_line) {
    gsl_rng *rng = tcr_make_rng(9);
    draw_with_strays(rng, 90, 0.4, 0.1, true);
    gsl_rng_free(rng);
    const tcr_line left = fitted(90);
    for (int i = 0; i < 90; i++)
        x[i] = -x[i];
    const tcr_line right = fitted(90);
    for (int i = 0; i <= 100; i++) {
        const double at = left.x_min_mm + (left.x_max_mm - left.x_min_mm) * i / 100.0;
        expect_near(tcr_line_at(&right, -at), tcr_line_at(&left, at), 1e-11,
                    "roundings of places on the knots, times slopes"); /* mirror */
    }
}

CLAIM(awkward_columns_end_at_the_minimum_too) {
    gsl_rng *rng = tcr_make_rng(10);
    for (int i = 0; i < 400; i++) {
        const size_t n = 3 + gsl_rng_uniform_int(rng, 40);
        double gradient[TCR_K];
        for (size_t k = 0; k < n; k++) { /* ties in X, two levels in Y, a few far out */
            x[k] = (double)gsl_rng_uniform_int(rng, 6) * (i % 3 == 0 ? 1e-6 : 3.0);
            y[k] = (double)gsl_rng_uniform_int(rng, 2) * (i % 5 == 0 ? 1000.0 : 3.0);
        }
        x[0] = -1.0;
        x[1] = 1.0;
        const tcr_line line = fitted(n);
        tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
        tcr_dense_gradient(dense, line.coefficient_mm, HUBER * line.sigma_mm, gradient);
        tcr_dense_free(dense);
        for (int j = 0; j < TCR_K; j++) {
            given("problem %d of %zu points, coefficient %d", i, n, j);
            expect_near(gradient[j], 0.0, 1e-8, "sums of 40 terms of up to 1000 mm");
        }
    }
    gsl_rng_free(rng);
}

/* Found by fuzzing: steps went to and fro where two tips pull alike. */
CLAIM(two_tips_that_pull_alike_leave_the_line_to_the_others) {
    for (int i = 0; i < 17; i++) {
        x[i] = i < 2 ? 0.625 : i;
        y[i] = 12.0;
    }
    y[0] = 15.46875;
    y[1] = 0.0;
    const tcr_line line = fitted(17);
    /* Closed form: the level line meets 15 tips, and the pulls of the other two cancel. */
    for (int j = 0; j < TCR_K; j++)
        expect_near(line.coefficient_mm[j], 12.0, 1e-10, "the accuracy promised by line.h");
}

/* Found by fuzzing: points within Huber's limit that do not determine a line, or hardly. */
CLAIM(tips_nearly_above_two_places_end_at_the_minimum) {
    static const double columns[][2][5] = {
        {{-4.0e-5, 10.00001, 2e-5, 10.00003, 10.00002}, {1.468, 12, 12, 12, 12}},
        {{6.25e-9, 10.00000001, 2e-8, 10.00000003, 5e-9}, {0, 12, 12, 12, 0}},
        {{-0.305908203125, 9.695068359375, -0.305908203125, 9.694091796875, -0.305908203125},
         {12.7056884765625, 12.7056884765625, 12.7056884765625, 4.1510009765625, 12.7056884765625}},
    };
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
        for (size_t n = 4; n <= 5; n++) {
            double gradient[TCR_K];
            memcpy(x, columns[i][0], n * sizeof *x);
            memcpy(y, columns[i][1], n * sizeof *y);
            given("problem %zu, %zu points", i, n);
            const tcr_line line = fitted(n);
            tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
            tcr_dense_gradient(dense, line.coefficient_mm, HUBER * line.sigma_mm, gradient);
            tcr_dense_free(dense);
            for (int j = 0; j < TCR_K; j++)
                expect_near(gradient[j], 0.0, 1e-8, "sums of 5 terms of up to 12 mm");
        }
}

CLAIM(a_tiny_limit_of_huber_ends_at_the_minimum_too) {
    gsl_rng *rng = tcr_make_rng(11);
    tcr_line_options options = tcr_line_options_default();
    options.huber = 0.01; /* nearly the sum of sizes: at first all points lie beyond the limit */
    for (int i = 0; i < 100; i++) {
        const size_t n = 10 + gsl_rng_uniform_int(rng, 80);
        double gradient[TCR_K];
        tcr_line line;
        draw_with_strays(rng, n, 0.5, 0.1, true);
        given("problem %d of %zu points", i, n);
        expect_status(tcr_line_fit(x, y, n, &options, scratch, &line), TCR_OK);
        tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
        tcr_dense_gradient(dense, line.coefficient_mm, options.huber * line.sigma_mm, gradient);
        tcr_dense_free(dense);
        for (int j = 0; j < TCR_K; j++)
            expect_near(gradient[j], 0.0, 1e-8, "sums of 90 terms of 0.01 mm");
    }
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &sigma_is_1_4826_median_deviations_of_the_plain_fit,
        &the_gradient_of_the_contracts_objective_is_0_at_the_line,
        &crowded_tips_have_a_line_and_its_gradient_is_0,
        &the_line_is_where_reweighted_least_squares_ends,
        &gsls_bfgs_finds_the_same_minimum_and_nothing_lower,
        &no_small_move_of_the_coefficients_lowers_the_objective,
        &a_fifth_of_strays_at_every_place_lifts_the_line_by_the_closed_form,
        &strays_ten_times_as_far_lift_the_line_by_the_closed_form_too,
        &sigma_is_never_below_its_floor,
        &two_strays_move_the_robust_line_less_than_a_fifth_of_the_plain_one,
        &how_far_out_a_stray_stands_does_not_matter,
        &without_strays_the_robust_line_is_the_plain_one,
        &the_order_of_the_points_changes_nothing,
        &a_mirrored_set_has_a_mirrored_line,
        &awkward_columns_end_at_the_minimum_too,
        &two_tips_that_pull_alike_leave_the_line_to_the_others,
        &tips_nearly_above_two_places_end_at_the_minimum,
        &a_tiny_limit_of_huber_ends_at_the_minimum_too,
    };
    return RUN_CLAIMS("robust", claims);
}
