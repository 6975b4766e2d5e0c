/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Distributions of factors against GSL's and closed forms, and ranges of values. */
#include <float.h>
#include <math.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>

#include <tipcrest/study_design.h>

#include "study/no_gsl_error.h"
#include "support/check.h"

static const tcr_factor NORMAL = {.distribution = TCR_NORMAL, .mean = 0.0, .sd = 1.0};
static const tcr_factor UNIFORM = {.distribution = TCR_UNIFORM, .least = 2.0, .most = 6.0};
static const tcr_factor TRIANGULAR = {
    .distribution = TCR_TRIANGULAR, .least = 1.0, .most = 5.0, .mode = 2.0};

CLAIM(a_normal_factor_has_the_quantiles_of_the_normal_distribution_cut_at_three) {
    const double below = gsl_cdf_ugaussian_P(-3.0);
    for (int i = 1; i < 2000; i++) {
        const double u = i / 2000.0;
        /* Source: GSL's gsl_cdf_ugaussian_Pinv. */
        const double expected = gsl_cdf_ugaussian_Pinv(below + u * (1.0 - 2.0 * below));
        given("u = %g", u);
        expect_near(tcr_factor_value(&NORMAL, u), expected, 2e-14, "AS 241 and GSL, 1e-15 each");
    }
    expect_near(tcr_factor_value(&NORMAL, 0.0), -3.0, 1e-13, "the cut");
    expect_near(tcr_factor_value(&NORMAL, 1.0 - 0x1p-53), 3.0, 1e-13, "the cut");
    expect_near(tcr_factor_value(&NORMAL, 0.5), 0.0, 0.0, "the middle");
    const tcr_factor other = {.distribution = TCR_NORMAL, .mean = 10.0, .sd = 0.5};
    expect_near(tcr_factor_value(&other, 0.5), 10.0, 0.0, "the mean");
    expect_near(tcr_factor_value(&other, 0.2), 10.0 + 0.5 * tcr_factor_value(&NORMAL, 0.2), 1e-15,
                "scaled and moved");
}

CLAIM(a_normal_factor_is_as_likely_above_its_mean_as_below) {
    for (int i = 0; i <= 1024; i++) {
        const double u = i / 2048.0; /* exact, so 1 - u is too */
        given("u = %g", u);
        if (u > 0.0)
            expect_same(tcr_factor_value(&NORMAL, 1.0 - u), -tcr_factor_value(&NORMAL, u) + 0.0,
                        "odd about 1/2");
    }
}

CLAIM(uniform_and_triangular_factors_have_their_closed_forms) {
    for (int i = 0; i < 1000; i++) {
        const double u = i / 1000.0;
        given("u = %g", u);
        /* Source: GSL's gsl_cdf_flat_Pinv. */
        expect_near(tcr_factor_value(&UNIFORM, u), i == 0 ? 2.0 : gsl_cdf_flat_Pinv(u, 2.0, 6.0),
                    1e-14, "rounding");
        /* Source: F(x) = (x - 1)^2/4 up to 2, 1 - (5 - x)^2/12 beyond. */
        const double x = tcr_factor_value(&TRIANGULAR, u);
        const double share =
            x <= 2.0 ? (x - 1.0) * (x - 1.0) / 4.0 : 1.0 - (5.0 - x) * (5.0 - x) / 12.0;
        expect_near(share, u, 1e-14, "rounding");
    }
    const tcr_factor falling = {.distribution = TCR_TRIANGULAR, .least = 1, .most = 2, .mode = 1};
    expect_near(tcr_factor_value(&falling, 0.0), 1.0, 1e-15, "the mode is the least");
    const tcr_factor rising = {.distribution = TCR_TRIANGULAR, .least = 1, .most = 2, .mode = 2};
    expect_near(tcr_factor_value(&rising, 0.25), 1.5, 1e-15, "F = (x - 1)^2");
}

CLAIM(no_value_leaves_its_range) {
    const tcr_factor wide = {.distribution = TCR_UNIFORM, .least = -0.1, .most = 0.7};
    const tcr_factor *const all[] = {&UNIFORM, &TRIANGULAR, &wide};
    for (size_t k = 0; k < 3; k++)
        for (int i = 0; i < 64; i++) {
            const double ends[] = {ldexp(1.0, -i - 1), 1.0 - ldexp(1.0, -i < -52 ? -53 : -i - 1)};
            for (int e = 0; e < 2; e++)
                expect_within(tcr_factor_value(all[k], ends[e]), all[k]->least, all[k]->most,
                              "its range");
        }
}

CLAIM(levels_are_equally_likely_and_in_their_order) {
    const double level[] = {8.0, 9.5, 11.0};
    const tcr_factor f = {.distribution = TCR_LEVELS, .level = level, .levels = 3};
    for (int i = 0; i < 300; i++)
        expect_near(tcr_factor_value(&f, i / 300.0), level[i / 100], 0.0, "a third each");
    expect_near(tcr_factor_value(&f, 1.0 - 0x1p-53), 11.0, 0.0, "the last");
}

CLAIM(shares_out_of_range_have_no_value) {
    const double wrong[] = {-DBL_MIN, 1.0, 2.0, NAN, INFINITY, -INFINITY};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        expect_nan(tcr_factor_value(&UNIFORM, wrong[i]));
    expect_nan(tcr_factor_value(NULL, 0.5));
    expect_nan(tcr_factor_value(&(tcr_factor){.distribution = TCR_LEVELS}, 0.5));
    expect_nan(tcr_factor_value(&(tcr_factor){.distribution = (tcr_distribution)9}, 0.5));
}

CLAIM(numbers_that_make_no_distribution_are_refused) {
    const double level[] = {1.0, NAN};
    const tcr_factor wrong[] = {
        {.distribution = TCR_LEVELS, .level = level, .levels = 0},
        {.distribution = TCR_LEVELS, .level = level, .levels = 2},
        {.distribution = TCR_UNIFORM, .least = 1.0, .most = 1.0},
        {.distribution = TCR_UNIFORM, .least = NAN, .most = 1.0},
        {.distribution = TCR_UNIFORM, .least = 0.0, .most = INFINITY},
        {.distribution = TCR_UNIFORM, .least = -DBL_MAX, .most = DBL_MAX},
        {.distribution = TCR_NORMAL, .mean = DBL_MAX, .sd = 1.0},
        {.distribution = TCR_NORMAL, .mean = 0.0, .sd = DBL_MAX},
        {.distribution = TCR_TRIANGULAR, .least = 0.0, .most = DBL_MAX, .mode = 1.0},
        {.distribution = TCR_NORMAL, .mean = 0.0, .sd = 0.0},
        {.distribution = TCR_NORMAL, .mean = NAN, .sd = 1.0},
        {.distribution = TCR_NORMAL, .mean = 0.0, .sd = INFINITY},
        {.distribution = TCR_TRIANGULAR, .least = 0.0, .most = 1.0, .mode = 1.1},
        {.distribution = TCR_TRIANGULAR, .least = 0.0, .most = 1.0, .mode = NAN},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        tcr_error error = tcr_error_none();
        given("factor %zu", i);
        expect_status(tcr_factor_validate(&wrong[i], &error), TCR_E_RANGE);
        expect_true(error.message[0] != '\0');
        expect_status(tcr_factor_validate(&wrong[i], NULL), TCR_E_RANGE);
    }
    expect_status(tcr_factor_validate(NULL, NULL), TCR_E_ARGUMENT);
    const tcr_factor odd[] = {{.distribution = (tcr_distribution)4},
                              {.distribution = TCR_LEVELS, .levels = 1},
                              {.distribution = TCR_NORMAL, .sd = 1.0, .levels = 3}};
    for (size_t i = 0; i < 3; i++)
        expect_status(tcr_factor_validate(&odd[i], NULL), TCR_E_ARGUMENT);
    expect_status(tcr_factor_validate(&NORMAL, NULL), TCR_OK);
    expect_status(tcr_factor_validate(&UNIFORM, NULL), TCR_OK);
    expect_status(tcr_factor_validate(&TRIANGULAR, NULL), TCR_OK);
}

CLAIM(a_range_has_the_decimals_it_is_written_with) {
    double level[32];
    expect_count(tcr_factor_range(0.0, 1.0, 0.1, level, 32), 11);
    const double tenths[] = {0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0};
    for (int i = 0; i < 11; i++)
        expect_same(level[i], tenths[i], "the nearest double of the decimal");
    expect_count(tcr_factor_range(8.0, 14.0, 2.5, level, 32), 3);
    expect_near(level[2], 13.0, 0.0, "the end is not met");
    expect_count(tcr_factor_range(2.0, -1.0, -0.75, level, 32), 5);
    expect_near(level[4], -1.0, 0.0, "downwards");
    expect_count(tcr_factor_range(3.0, 3.0, 1.0, level, 32), 1);
    expect_count(tcr_factor_range(0.0, 1e6, 1.0, level, 4), 0);
    level[2] = 77.0;
    expect_count(tcr_factor_range(0.0, 9.0, 1.0, level, 2), 10);
    expect_near(level[2], 77.0, 0.0, "beyond the room");
    expect_count(tcr_factor_range(0.0, 9.0, 1.0, NULL, 0), 10);
    expect_count(tcr_factor_range(0.0, 1.0 / 3.0, 1.0 / 3.0, level, 4), 2);
    expect_near(level[1], 1.0 / 3.0, 1e-16, "no decimal: as it is");
}

CLAIM(ranges_that_lead_nowhere_have_no_levels) {
    const double odd[] = {NAN, INFINITY, -INFINITY};
    for (int i = 0; i < 3; i++) {
        expect_count(tcr_factor_range(odd[i], 1.0, 1.0, NULL, 0), 0);
        expect_count(tcr_factor_range(0.0, odd[i], 1.0, NULL, 0), 0);
        expect_count(tcr_factor_range(0.0, 1.0, odd[i], NULL, 0), 0);
    }
    expect_count(tcr_factor_range(0.0, 1.0, 0.0, NULL, 0), 0);
    expect_count(tcr_factor_range(0.0, 1.0, -1.0, NULL, 0), 0);
    expect_count(tcr_factor_range(0.0, 1e300, 1e-300, NULL, 0), 0);
    expect_count(tcr_factor_range(0.0, 999999.0, 1.0, NULL, 0), TCR_LEVELS_MAX);
}

CLAIM(distributions_have_names) {
    expect_text(tcr_distribution_text(TCR_LEVELS), "levels");
    expect_text(tcr_distribution_text(TCR_TRIANGULAR), "triangular");
    expect_text(tcr_distribution_text((tcr_distribution)4), "unknown");
    expect_text(tcr_distribution_text((tcr_distribution)-1), "unknown");
}

int main(void) {
    static const TTest *const claims[] = {
        &a_normal_factor_has_the_quantiles_of_the_normal_distribution_cut_at_three,
        &a_normal_factor_is_as_likely_above_its_mean_as_below,
        &uniform_and_triangular_factors_have_their_closed_forms,
        &no_value_leaves_its_range,
        &levels_are_equally_likely_and_in_their_order,
        &shares_out_of_range_have_no_value,
        &numbers_that_make_no_distribution_are_refused,
        &a_range_has_the_decimals_it_is_written_with,
        &ranges_that_lead_nowhere_have_no_levels,
        &distributions_have_names,
    };
    refuse_gsl_errors();
    return RUN_CLAIMS("factor", claims);
}
