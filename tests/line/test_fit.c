/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plain fit: against GSL's general solver, its limits, its invariants, its knots, its ends. */
#include <tipcrest/line.h>

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_fit.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_statistics_double.h>

#include "support/check.h"
#include "support/make.h"
#include "support/spline.h"

enum { MOST = 400 };
static double x[MOST], y[MOST], scratch[MOST];

static tcr_line_options plain(double penalty) {
    tcr_line_options options = tcr_line_options_default();
    options.robust = false;
    options.penalty = penalty;
    return options;
}

static tcr_line fitted(const double *xs, const double *ys, size_t n, double penalty) {
    const tcr_line_options options = plain(penalty);
    tcr_line line;
    expect_status(tcr_line_fit(xs, ys, n, &options, scratch, &line), TCR_OK);
    return line;
}

static const double PENALTY = 1e-4; /* model.md, section 6 */

CLAIM(the_defaults_are_the_contracts) {
    const tcr_line_options o = tcr_line_options_default();
    expect_true(o.robust); /* source: model.md, section 6 */
    expect_same(o.penalty, 1e-4, "given");
    expect_same(o.huber, 1.345, "given");
    expect_same(o.sigma_floor_mm, 0.1, "given");
    expect_count(o.size, sizeof o);
}

CLAIM(the_plain_fit_is_gsls_solution_of_the_extended_system) {
    gsl_rng *rng = tcr_make_rng(1);
    const size_t counts[] = {3, 4, 5, 7, 12, 13, 20, 60, 96, 201, 400};
    for (size_t t = 0; t < sizeof counts / sizeof counts[0]; t++)
        for (int i = 0; i < 20; i++) {
            const size_t n = counts[t];
            double c[TCR_K];
            tcr_draw_tips(rng, n, 0.3, x, y);
            tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
            tcr_dense_solve(dense, NULL, c); /* source: GSL, gsl_multifit_linear */
            tcr_dense_free(dense);
            const tcr_line line = fitted(x, y, n, PENALTY);
            for (int j = 0; j < TCR_K; j++) {
                given("%zu points, coefficient %d", n, j);
                expect_near(line.coefficient_mm[j], c[j], 1e-9,
                            "the accuracy of the contract, model.md; GSL's is about 1e-12");
            }
        }
    gsl_rng_free(rng);
}

CLAIM(points_in_clusters_are_fitted_as_by_gsl) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 100; i++) {
        /* Two or three clusters: most of the coefficients are held by the penalty alone. */
        const size_t n = 30, clusters = 2 + gsl_rng_uniform_int(rng, 2);
        double c[TCR_K];
        tcr_draw_tips(rng, n, 0.3, x, y);
        for (size_t k = 0; k < n; k++)
            x[k] = 10.0 * (double)(k % clusters) + tcr_draw_between(rng, 0.0, 0.3);
        tcr_dense *dense = tcr_dense_new(x, y, n, PENALTY * (double)n);
        tcr_dense_solve(dense, NULL, c);
        tcr_dense_free(dense);
        const tcr_line line = fitted(x, y, n, PENALTY);
        for (int j = 0; j < TCR_K; j++) {
            given("problem %d, coefficient %d", i, j);
            expect_near(line.coefficient_mm[j], c[j], 1e-8,
                        "slopes of clusters 0.3 mm wide carry over 20 mm: both lose two digits");
        }
    }
    gsl_rng_free(rng);
}

CLAIM(the_line_is_the_sum_of_the_basis_on_uniform_knots) {
    /* Source: Cox and de Boor's recursion; 12 functions, three knots beyond each end. */
    tcr_line line = {.x_min_mm = -13.0, .x_max_mm = 17.0};
    for (int j = 0; j < TCR_K; j++) {
        for (int i = 0; i < TCR_K; i++)
            line.coefficient_mm[i] = i == j;
        for (int i = 0; i <= 180; i++) { /* every 20th is a knot, first and last too */
            const double at = -13.0 + 30.0 * i / 180.0;
            given("function %d at %.17g", j, at);
            expect_near(tcr_line_at(&line, at), tcr_dense_basis(j, at, -13.0, 17.0), 1e-14,
                        "roundings of numbers up to 1, place within 9 intervals");
        }
    }
}

CLAIM(at_the_ends_three_coefficients_weigh_1_4_1_sixths) {
    tcr_line line = {.x_min_mm = 0.0, .x_max_mm = 9.0};
    for (int j = 0; j < TCR_K; j++)
        line.coefficient_mm[j] = pow(10.0, j % 6);
    /* Source: closed form of a uniform cubic B-spline at a knot. */
    expect_near(tcr_line_at(&line, 0.0), (1.0 + 40.0 + 100.0) / 6.0, 1e-14, "rounding of 24");
    expect_near(tcr_line_at(&line, 9.0), (1e3 + 4e4 + 1e5) / 6.0, 1e-10, "rounding of 2e4");
    expect_near(tcr_line_slope(&line, 0.0), (100.0 - 1.0) / 2.0, 1e-13, "rounding of 50");
    expect_near(tcr_line_slope(&line, 9.0), (1e5 - 1e3) / 2.0, 1e-10, "rounding of 5e4");
}

CLAIM(the_slope_is_the_limit_of_differences_at_second_order) {
    gsl_rng *rng = tcr_make_rng(3);
    tcr_draw_tips(rng, 96, 0.5, x, y);
    gsl_rng_free(rng);
    const tcr_line line = fitted(x, y, 96, PENALTY);
    const double spacing = (line.x_max_mm - line.x_min_mm) / 9.0;
    double error[2] = {0.0, 0.0};
    for (int half = 0; half < 2; half++)
        for (int interval = 0; interval < 9; interval++)
            for (int i = 2; i <= 8; i++) {
                /* Within one interval the line is one cubic. */
                const double at = line.x_min_mm + spacing * (interval + 0.1 * i);
                const double h = 0.2 * spacing / (half + 1.0);
                const double difference =
                    (tcr_line_at(&line, at + h) - tcr_line_at(&line, at - h)) / (2.0 * h);
                error[half] += gsl_pow_2(difference - tcr_line_slope(&line, at));
            }
    /* Source: of a cubic, central differences miss exactly h^2/6 times its third derivative. */
    expect_near(sqrt(error[0] / error[1]), 4.0, 1e-9, "exact but for rounding over h = 0.3 mm");
}

CLAIM(beyond_its_ends_the_line_goes_on_straight) {
    gsl_rng *rng = tcr_make_rng(4);
    tcr_draw_tips(rng, 60, 0.5, x, y);
    gsl_rng_free(rng);
    const tcr_line line = fitted(x, y, 60, PENALTY);
    const double low = line.x_min_mm, high = line.x_max_mm;
    for (int i = 1; i <= 5; i++) {
        const double out = 0.7 * i;
        given("%g mm beyond", out);
        /* Source: model.md, section 7. */
        expect_same(tcr_line_slope(&line, low - out), tcr_line_slope(&line, low), "kept");
        expect_same(tcr_line_slope(&line, high + out), tcr_line_slope(&line, high), "kept");
        expect_near(tcr_line_at(&line, low - out),
                    tcr_line_at(&line, low) - out * tcr_line_slope(&line, low), 1e-13,
                    "rounding of 20 mm");
        expect_near(tcr_line_at(&line, high + out),
                    tcr_line_at(&line, high) + out * tcr_line_slope(&line, high), 1e-13,
                    "rounding of 20 mm");
    }
}

CLAIM(the_ends_are_the_least_and_the_largest_x) {
    gsl_rng *rng = tcr_make_rng(5);
    tcr_draw_tips(rng, 50, 0.5, x, y);
    gsl_rng_free(rng);
    const tcr_line line = fitted(x, y, 50, PENALTY);
    expect_same(line.x_min_mm, gsl_stats_min(x, 1, 50), "no arithmetic"); /* model.md, section 6 */
    expect_same(line.x_max_mm, gsl_stats_max(x, 1, 50), "no arithmetic");
    expect_same(line.sigma_mm, 0.0, "line.h: 0 for a plain fit");
}

CLAIM(a_straight_line_comes_back_exactly) {
    gsl_rng *rng = tcr_make_rng(6);
    const double penalties[] = {1e-8, 1e-4, 1.0, 1e4};
    for (size_t p = 0; p < sizeof penalties / sizeof penalties[0]; p++)
        for (size_t n = 3; n < 60; n += 8) {
            for (size_t i = 0; i < n; i++) {
                x[i] = tcr_draw_between(rng, -15.0, 15.0);
                y[i] = 4.0 - 0.3 * x[i];
            }
            const tcr_line line = fitted(x, y, n, penalties[p]);
            for (int i = -2; i <= 22; i++) {
                const double at = line.x_min_mm + (line.x_max_mm - line.x_min_mm) * i / 20.0;
                given("%zu points, penalty %g, at %g", n, penalties[p], at);
                /* Source: invariant, straight lines are in the space and cost no penalty. */
                expect_near(tcr_line_at(&line, at), 4.0 - 0.3 * at, 1e-10,
                            "the accuracy promised by line.h");
                expect_near(tcr_line_slope(&line, at), -0.3, 1e-9, "the same over 0.1 mm");
            }
        }
    gsl_rng_free(rng);
}

/* The largest distance from GSL's straight line for a penalty. */
static double from_straight(size_t n, double penalty) {
    double c0, c1, c00, c01, c11, squares, most = 0.0;
    gsl_fit_linear(x, 1, y, 1, n, &c0, &c1, &c00, &c01, &c11, &squares);
    const tcr_line line = fitted(x, y, n, penalty);
    for (int i = 0; i <= 100; i++) {
        const double at = line.x_min_mm + (line.x_max_mm - line.x_min_mm) * i / 100.0;
        most = fmax(most, fabs(tcr_line_at(&line, at) - (c0 + c1 * at)));
    }
    return most;
}

CLAIM(a_heavy_penalty_leaves_the_straight_line_of_least_squares) {
    gsl_rng *rng = tcr_make_rng(7);
    tcr_draw_tips(rng, 80, 0.5, x, y);
    gsl_rng_free(rng);
    const double heavy = from_straight(80, 1e4), heavier = from_straight(80, 1e6);
    /* Source: GSL, gsl_fit_linear; perturbation: the distance falls as 1/penalty. */
    expect_near(heavy / heavier, 100.0, 1.0, "the next order is a share of about 1/penalty");
    expect_within(from_straight(80, 1e9), 0.0, 1e-8, "about the curvature of the points / 1e9");
}

CLAIM(a_light_penalty_through_12_well_spread_points_passes_through_them) {
    for (int i = 0; i < 12; i++) {
        /* Each where its own function is not 0, as Schoenberg and Whitney ask for. */
        x[i] = 9.0 * i / 11.0;
        y[i] = cos(1.3 * i);
    }
    const tcr_line line = fitted(x, y, 12, 1e-12);
    for (int i = 0; i < 12; i++) {
        given("point %d", i);
        /* Source: limit, interpolation. */
        expect_near(tcr_line_at(&line, x[i]), y[i], 1e-7, "penalty 1e-12 times a curvature of 1e4");
    }
}

CLAIM(the_order_of_the_points_changes_nothing) {
    gsl_rng *rng = tcr_make_rng(8);
    for (int i = 0; i < 50; i++) {
        size_t order[90];
        double x2[90], y2[90];
        tcr_draw_tips(rng, 90, 0.5, x, y);
        for (size_t k = 0; k < 90; k++)
            order[k] = k;
        gsl_ran_shuffle(rng, order, 90, sizeof order[0]);
        for (size_t k = 0; k < 90; k++) {
            x2[k] = x[order[k]];
            y2[k] = y[order[k]];
        }
        const tcr_line a = fitted(x, y, 90, PENALTY), b = fitted(x2, y2, 90, PENALTY);
        for (int j = 0; j <= 50; j++) {
            const double at = a.x_min_mm + (a.x_max_mm - a.x_min_mm) * j / 50.0;
            expect_near(tcr_line_at(&a, at), tcr_line_at(&b, at), 1e-12,
                        "sums of 90 numbers of 10 mm in another order"); /* invariant */
        }
    }
    gsl_rng_free(rng);
}

CLAIM(points_shifted_scaled_and_sheared_have_a_line_shifted_scaled_and_sheared) {
    gsl_rng *rng = tcr_make_rng(9);
    for (int i = 0; i < 50; i++) {
        double x2[90], y2[90];
        const double wide = tcr_draw_between(rng, 0.2, 5.0),
                     right = tcr_draw_between(rng, -9.0, 9.0);
        const double tall = tcr_draw_between(rng, -3.0, 3.0), up = tcr_draw_between(rng, -9.0, 9.0);
        const double shear = tcr_draw_between(rng, -1.0, 1.0);
        tcr_draw_tips(rng, 90, 0.5, x, y);
        for (size_t k = 0; k < 90; k++) {
            x2[k] = right + wide * x[k];
            y2[k] = up + tall * y[k] + shear * x[k];
        }
        const tcr_line a = fitted(x, y, 90, PENALTY), b = fitted(x2, y2, 90, PENALTY);
        for (int j = 0; j <= 50; j++) {
            const double at = a.x_min_mm + (a.x_max_mm - a.x_min_mm) * j / 50.0;
            given("problem %d at %.17g", i, at);
            /* Source: equivariance of penalised least squares on knots tied to the ends. */
            expect_near(tcr_line_at(&b, right + wide * at),
                        up + tall * tcr_line_at(&a, at) + shear * at, 1e-11,
                        "roundings of 50 mm, grown by the condition of the basis, about 100");
        }
    }
    gsl_rng_free(rng);
}

CLAIM(without_three_points_there_is_no_line) {
    const double xs[] = {0.0, 1.0, 2.0}, ys[] = {0.0, 1.0, 0.0};
    tcr_line line = {.x_min_mm = 7.0};
    for (size_t n = 0; n < 3; n++)
        expect_status(tcr_line_fit(xs, ys, n, NULL, scratch, &line), TCR_E_FEW); /* line.h */
    expect_same(line.x_min_mm, 7.0, "outputs stay");
    expect_status(tcr_line_fit(xs, ys, 3, NULL, scratch, &line), TCR_OK);
}

CLAIM(points_above_one_place_have_no_line) {
    const double ys[] = {0.0, 1.0, 5.0}, one[] = {2.0, 2.0, 2.0};
    const double near[] = {2.0, 2.0 + 0.5e-9, 2.0 + 0.9e-9}, apart[] = {2.0, 2.0 + 2e-9, 2.0};
    tcr_line line;
    expect_status(tcr_line_fit(one, ys, 3, NULL, scratch, &line), TCR_E_ONE_X); /* line.h */
    expect_status(tcr_line_fit(near, ys, 3, NULL, scratch, &line), TCR_E_ONE_X);
    expect_status(tcr_line_fit(apart, ys, 3, NULL, scratch, &line), TCR_OK);
}

CLAIM(numbers_that_are_no_place_are_refused) {
    const double bad[] = {NAN, INFINITY, -INFINITY, 1.1e6, -1.1e6, 1e300};
    tcr_line line = {.x_min_mm = 7.0};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        for (int k = 0; k < 4; k++) {
            double xs[] = {0.0, 1.0, 2.0, 3.0}, ys[] = {0.0, 1.0, 0.0, 1.0};
            xs[k] = bad[i];
            given("%g at place %d", bad[i], k);
            expect_status(tcr_line_fit(xs, ys, 4, NULL, scratch, &line), TCR_E_RANGE); /* line.h */
            xs[k] = k;
            ys[k] = bad[i];
            expect_status(tcr_line_fit(xs, ys, 4, NULL, scratch, &line), TCR_E_RANGE);
        }
    expect_same(line.x_min_mm, 7.0, "outputs stay");
}

CLAIM(options_that_make_no_sense_are_refused) {
    const double xs[] = {0.0, 1.0, 2.0}, ys[] = {0.0, 1.0, 0.0}, bad[] = {0.0, -1.0, NAN, INFINITY};
    tcr_line line;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        tcr_line_options penalty = tcr_line_options_default(), huber = penalty, sigma = penalty;
        penalty.penalty = bad[i];
        huber.huber = bad[i];
        sigma.sigma_floor_mm = bad[i];
        given("%g", bad[i]);
        expect_status(tcr_line_fit(xs, ys, 3, &penalty, scratch, &line), TCR_E_RANGE);
        expect_status(tcr_line_fit(xs, ys, 3, &huber, scratch, &line), TCR_E_RANGE);
        expect_status(tcr_line_fit(xs, ys, 3, &sigma, scratch, &line), TCR_E_RANGE);
    }
    tcr_line_options size = tcr_line_options_default();
    size.size = 3;
    expect_status(tcr_line_fit(xs, ys, 3, &size, scratch, &line), TCR_E_ARGUMENT); /* line.h */
    expect_status(tcr_line_fit(NULL, ys, 3, NULL, scratch, &line), TCR_E_ARGUMENT);
    expect_status(tcr_line_fit(xs, NULL, 3, NULL, scratch, &line), TCR_E_ARGUMENT);
    expect_status(tcr_line_fit(xs, ys, 3, NULL, NULL, &line), TCR_E_ARGUMENT);
    expect_status(tcr_line_fit(xs, ys, 3, NULL, scratch, NULL), TCR_E_ARGUMENT);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_defaults_are_the_contracts,
        &the_plain_fit_is_gsls_solution_of_the_extended_system,
        &points_in_clusters_are_fitted_as_by_gsl,
        &the_line_is_the_sum_of_the_basis_on_uniform_knots,
        &at_the_ends_three_coefficients_weigh_1_4_1_sixths,
        &the_slope_is_the_limit_of_differences_at_second_order,
        &beyond_its_ends_the_line_goes_on_straight,
        &the_ends_are_the_least_and_the_largest_x,
        &a_straight_line_comes_back_exactly,
        &a_heavy_penalty_leaves_the_straight_line_of_least_squares,
        &a_light_penalty_through_12_well_spread_points_passes_through_them,
        &the_order_of_the_points_changes_nothing,
        &points_shifted_scaled_and_sheared_have_a_line_shifted_scaled_and_sheared,
        &without_three_points_there_is_no_line,
        &points_above_one_place_have_no_line,
        &numbers_that_are_no_place_are_refused,
        &options_that_make_no_sense_are_refused,
    };
    return RUN_CLAIMS("fit", claims);
}
