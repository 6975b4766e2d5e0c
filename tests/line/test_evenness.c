/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How tips lie about a line: figures by hand, the largest gap, the symmetry of two lines. */
#include <tipcrest/line.h>

#include <math.h>

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "support/check.h"
#include "support/make.h"

enum { MOST = 500 };
static double deviation[MOST], across[MOST], scratch[MOST];

/* The line a + b x: a coefficient is the height over its middle knot. */
static tcr_line straight(double x_min, double x_max, double a, double b) {
    tcr_line line = {.x_min_mm = x_min, .x_max_mm = x_max};
    const double spacing = (x_max - x_min) / 9.0;
    for (int j = 0; j < TCR_LINE_COEFFICIENTS; j++)
        line.coefficient_mm[j] = a + b * (x_min + spacing * (j - 1));
    return line;
}

static tcr_evenness measured(const tcr_line *line, const double *x, const double *y,
                             const tcr_layer *layer, size_t n, double tolerance) {
    tcr_evenness e;
    expect_status(
        tcr_line_evenness(line, x, y, layer, n, tolerance, deviation, across, scratch, &e), TCR_OK);
    return e;
}

/* Four tips about the level line Y = 10, by hand: deviations 1, -2, 0, 0.5. */
static const double X4[] = {0.0, 3.0, 6.0, 9.0}, Y4[] = {11.0, 8.0, 10.0, 10.5};
static const tcr_layer LAYERS4[] = {TCR_BOTTOM, TCR_TOP, TCR_BOTTOM, TCR_TOP};

CLAIM(deviations_are_heights_over_the_line) {
    const tcr_line line = straight(0.0, 9.0, 10.0, 0.0);
    (void)measured(&line, X4, Y4, LAYERS4, 4, 0.5);
    const double expected[] = {1.0, -2.0, 0.0, 0.5}; /* by hand */
    for (int i = 0; i < 4; i++) {
        expect_near(deviation[i], expected[i], 1e-14, "rounding of 10 mm");
        expect_near(across[i], expected[i], 1e-14, "on a level line both are the same");
    }
}

CLAIM(the_figures_are_those_of_the_deviations) {
    const tcr_line line = straight(0.0, 9.0, 10.0, 0.0);
    const tcr_evenness e = measured(&line, X4, Y4, LAYERS4, 4, 0.5);
    const char *why = "rounding of 10 mm"; /* source of all: by hand; model.md, section 6 */
    expect_count(e.lashes, 4);
    expect_near(e.upright.rms_mm, sqrt((1.0 + 4.0 + 0.0 + 0.25) / 4.0), 1e-14, why);
    expect_near(e.upright.mean_abs_mm, 3.5 / 4.0, 1e-14, why);
    expect_near(e.upright.max_abs_mm, 2.0, 1e-14, why);
    /* Type 7 at 0.95 of 0, 0.5, 1, 2: 2.85 steps from the first. */
    expect_near(e.upright.p95_abs_mm, 1.0 + 0.85, 1e-14, why);
    expect_near(e.layer_offset_mm[TCR_BOTTOM], 0.5, 1e-14, why);
    expect_near(e.layer_offset_mm[TCR_TOP], -0.75, 1e-14, why);
    expect_nan(e.layer_offset_mm[TCR_MIDDLE]); /* line.h: NaN for an empty one */
    expect_same(e.tolerance_mm, 0.5, "given");
}

CLAIM(the_share_within_counts_the_tolerance_itself) {
    const tcr_line line = straight(0.0, 8.0, 0.0, 0.0); /* exact: coefficients 0 */
    const double x[] = {1.0, 2.0, 3.0, 4.0}, y[] = {0.5, -0.5, 0.25, 0.75};
    const tcr_layer layer[4] = {TCR_BOTTOM};
    /* Source: by hand; model.md, section 6: at most the tolerance. */
    expect_same(measured(&line, x, y, layer, 4, 0.5).within_tolerance, 0.75, "exact");
    expect_same(measured(&line, x, y, layer, 4, 0.75).within_tolerance, 1.0, "exact");
    expect_same(measured(&line, x, y, layer, 4, 0.1).within_tolerance, 0.0, "exact");
}

CLAIM(across_a_line_at_45_degrees_deviations_shrink_by_the_root_of_2) {
    const tcr_line line = straight(0.0, 9.0, 1.0, 1.0);
    const double y[] = {2.0, 2.0, 7.0, 12.0}; /* deviations 1, -2, 0, 2 */
    const tcr_evenness e = measured(&line, X4, y, LAYERS4, 4, 0.5);
    for (int i = 0; i < 4; i++)
        expect_near(across[i], deviation[i] / sqrt(2.0), 1e-14, "rounding"); /* closed form */
    expect_near(e.across.rms_mm, 1.5 / sqrt(2.0), 1e-14, "rounding of 10 mm");
    expect_near(e.across.max_abs_mm, sqrt(2.0), 1e-14, "rounding of 10 mm");
    expect_near(e.upright.max_abs_mm, 2.0, 1e-14, "rounding of 10 mm");
}

CLAIM(across_uses_the_slope_at_each_tip) {
    gsl_rng *rng = tcr_make_rng(1);
    tcr_line line = {.x_min_mm = -13.0, .x_max_mm = 14.0};
    for (int j = 0; j < TCR_LINE_COEFFICIENTS; j++)
        line.coefficient_mm[j] = tcr_draw_between(rng, -5.0, 5.0);
    for (int i = 0; i < 200; i++) {
        const double x[] = {tcr_draw_between(rng, -16.0, 16.0)}, y[] = {3.0};
        const tcr_layer layer[] = {TCR_TOP};
        (void)measured(&line, x, y, layer, 1, 0.5);
        /* Source: model.md, section 6, as it is written. */
        expect_near(deviation[0], 3.0 - tcr_line_at(&line, x[0]), 0.0, "the same subtraction");
        expect_near(across[0], deviation[0] * cos(atan(tcr_line_slope(&line, x[0]))), 1e-14,
                    "two ways to one cosine");
    }
    gsl_rng_free(rng);
}

CLAIM(the_figures_are_gsls_for_many_tips) {
    gsl_rng *rng = tcr_make_rng(2);
    const tcr_line line = straight(-14.0, 14.0, 5.0, 0.1);
    double x[MOST], y[MOST], size[MOST];
    tcr_layer layer[MOST];
    for (size_t n = 1; n <= MOST; n += 7) {
        double squares = 0.0;
        for (size_t i = 0; i < n; i++) {
            x[i] = tcr_draw_between(rng, -14.0, 14.0);
            y[i] = 5.0 + 0.1 * x[i] + tcr_draw_between(rng, -2.0, 2.0);
            layer[i] = (tcr_layer)gsl_rng_uniform_int(rng, TCR_LAYERS);
        }
        const tcr_evenness e = measured(&line, x, y, layer, n, 0.5);
        for (size_t i = 0; i < n; i++) {
            size[i] = fabs(deviation[i]);
            squares += size[i] * size[i] / (double)n;
        }
        gsl_sort(size, 1, n);
        given("%zu tips", n);
        /* Source: GSL's statistics. */
        expect_near(e.upright.rms_mm, sqrt(squares), 1e-14, "500 roundings of 1 mm, averaged");
        expect_near(e.upright.mean_abs_mm, gsl_stats_mean(size, 1, n), 1e-14, "the same");
        expect_near(e.upright.p95_abs_mm, gsl_stats_quantile_from_sorted_data(size, 1, n, 0.95),
                    1e-13, "rounding of 0.95 (n - 1)");
        expect_same(e.upright.max_abs_mm, size[n - 1], "no arithmetic");
    }
    gsl_rng_free(rng);
}

CLAIM(evenness_of_nothing_or_of_unknown_layers_is_refused) {
    const tcr_line line = straight(0.0, 9.0, 10.0, 0.0);
    tcr_evenness e;
    const tcr_layer bad[] = {TCR_BOTTOM, (tcr_layer)3, TCR_TOP, TCR_TOP};
    expect_status(tcr_line_evenness(&line, X4, Y4, LAYERS4, 0, 0.5, deviation, across, scratch, &e),
                  TCR_E_ARGUMENT); /* source: line.h */
    expect_status(tcr_line_evenness(&line, X4, Y4, bad, 4, 0.5, deviation, across, scratch, &e),
                  TCR_E_ARGUMENT);
    expect_status(tcr_line_evenness(NULL, X4, Y4, LAYERS4, 4, 0.5, deviation, across, scratch, &e),
                  TCR_E_ARGUMENT);
    expect_status(tcr_line_evenness(&line, X4, Y4, LAYERS4, 4, 0.5, deviation, across, NULL, &e),
                  TCR_E_ARGUMENT);
}

CLAIM(a_tip_that_is_nowhere_spoils_no_other) {
    const tcr_line line = straight(0.0, 9.0, 10.0, 0.0);
    const double bad[] = {NAN, INFINITY, -INFINITY, 1e300};
    for (size_t b = 0; b < sizeof bad / sizeof bad[0]; b++)
        for (int k = 0; k < 4; k++) {
            double x[] = {0.0, 3.0, 6.0, 9.0}, y[] = {11.0, 8.0, 10.0, 10.5};
            x[k] = bad[b];
            y[k] = bad[b];
            (void)measured(&line, x, y, LAYERS4, 4, 0.5);
            for (int i = 0; i < 4; i++) {
                given("%g at tip %d, deviation of tip %d", bad[b], k, i);
                if (i != k) /* source: each deviation is of one tip alone */
                    expect_near(deviation[i], Y4[i] - 10.0, 1e-14, "rounding of 10 mm");
            }
        }
}

CLAIM(the_largest_gap_is_between_neighbours_in_order_of_x) {
    const double mixed[] = {5.0, -3.0, 0.5, 2.0, 4.5, -1.0}; /* steps 2, 1.5, 1.5, 2.5, 0.5 */
    expect_same(tcr_line_largest_gap(mixed, 6, scratch), 2.5, "by hand, exact in binary");
    const double equal[] = {1.0, 1.0, 1.0};
    expect_same(tcr_line_largest_gap(equal, 3, scratch), 0.0, "by hand");
    const double two[] = {4.0, 1.0};
    expect_same(tcr_line_largest_gap(two, 2, scratch), 3.0, "by hand");
    expect_same(mixed[0], 5.0, "the column is only read");
}

CLAIM(fewer_than_two_tips_have_no_gap) {
    const double one[] = {4.0};
    expect_nan(tcr_line_largest_gap(one, 1, scratch)); /* source: line.h */
    expect_nan(tcr_line_largest_gap(one, 0, scratch));
}

static tcr_symmetry compared(const tcr_line *left, const tcr_line *right) {
    tcr_symmetry s;
    expect_status(tcr_line_symmetry(left, right, &s), TCR_OK);
    return s;
}

CLAIM(a_line_is_symmetric_to_itself) {
    tcr_line line = straight(-10.0, 12.0, 3.0, 0.2);
    line.coefficient_mm[5] += 2.0;
    const tcr_symmetry s = compared(&line, &line);
    expect_same(s.rms_mm, 0.0, "a difference of equal numbers"); /* source: closed form */
    expect_same(s.max_mm, 0.0, "a difference of equal numbers");
    expect_same(s.level_rms_mm, 0.0, "a difference of equal numbers");
    expect_same(s.level_max_mm, 0.0, "a difference of equal numbers");
}

CLAIM(a_line_raised_by_1_mm_is_1_mm_off_and_0_when_levelled) {
    tcr_line left = straight(-10.0, 12.0, 3.0, 0.2), right;
    left.coefficient_mm[5] += 2.0;
    right = left;
    for (int j = 0; j < TCR_LINE_COEFFICIENTS; j++)
        right.coefficient_mm[j] += 1.0;
    const tcr_symmetry s = compared(&left, &right);
    const char *why = "rounding of 5 mm"; /* source: closed form */
    expect_near(s.rms_mm, 1.0, 1e-14, why);
    expect_near(s.max_mm, 1.0, 1e-14, why);
    expect_near(s.level_rms_mm, 0.0, 1e-14, why);
    expect_near(s.level_max_mm, 0.0, 1e-14, why);
}

CLAIM(lines_that_cross_are_compared_at_201_places_of_their_common_range) {
    /* Common range -8 to 10; right minus left is 0.5 + 0.1 x there. */
    const tcr_line left = straight(-12.0, 10.0, 1.0, 0.3), right = straight(-8.0, 15.0, 1.5, 0.4);
    const tcr_symmetry s = compared(&left, &right);
    /* Source: closed form. Over 201 equal steps about the middle x = 1, where it is 0.6, the
     * deviation is 0.9 k/100 for k = -100 to 100; the mean of k^2 is 100 x 101/3. */
    const double level = 0.9 / 100.0 * sqrt(100.0 * 101.0 / 3.0);
    const char *why = "rounding of 5 mm";
    expect_near(s.level_rms_mm, level, 1e-14, why);
    expect_near(s.level_max_mm, 0.9, 1e-14, why);
    expect_near(s.rms_mm, sqrt(0.36 + level * level), 1e-14, why);
    expect_near(s.max_mm, 1.5, 1e-14, why);
}

CLAIM(left_and_right_may_change_places) {
    const tcr_line left = straight(-12.0, 10.0, 1.0, 0.3), right = straight(-8.0, 15.0, 1.5, 0.4);
    const tcr_symmetry a = compared(&left, &right), b = compared(&right, &left);
    expect_same(a.rms_mm, b.rms_mm, "differences of the other sign"); /* source: invariant */
    expect_same(a.max_mm, b.max_mm, "differences of the other sign");
    expect_same(a.level_rms_mm, b.level_rms_mm, "differences of the other sign");
}

CLAIM(lines_without_a_common_range_cannot_be_compared) {
    const tcr_line left = straight(-12.0, -1.0, 1.0, 0.3), right = straight(1.0, 15.0, 1.5, 0.4);
    const tcr_line touching = straight(-1.0, 4.0, 0.0, 0.0);
    tcr_symmetry s = {.rms_mm = 7.0};
    expect_status(tcr_line_symmetry(&left, &right, &s), TCR_E_COMMON); /* source: line.h */
    expect_status(tcr_line_symmetry(&left, &touching, &s), TCR_E_COMMON);
    expect_status(tcr_line_symmetry(NULL, &right, &s), TCR_E_ARGUMENT);
    expect_status(tcr_line_symmetry(&left, NULL, &s), TCR_E_ARGUMENT);
    expect_status(tcr_line_symmetry(&left, &right, NULL), TCR_E_ARGUMENT);
    expect_same(s.rms_mm, 7.0, "outputs stay");
}

int main(void) {
    static const TTest *const claims[] = {
        &deviations_are_heights_over_the_line,
        &the_figures_are_those_of_the_deviations,
        &the_share_within_counts_the_tolerance_itself,
        &across_a_line_at_45_degrees_deviations_shrink_by_the_root_of_2,
        &across_uses_the_slope_at_each_tip,
        &the_figures_are_gsls_for_many_tips,
        &evenness_of_nothing_or_of_unknown_layers_is_refused,
        &a_tip_that_is_nowhere_spoils_no_other,
        &the_largest_gap_is_between_neighbours_in_order_of_x,
        &fewer_than_two_tips_have_no_gap,
        &a_line_is_symmetric_to_itself,
        &a_line_raised_by_1_mm_is_1_mm_off_and_0_when_levelled,
        &lines_that_cross_are_compared_at_201_places_of_their_common_range,
        &left_and_right_may_change_places,
        &lines_without_a_common_range_cannot_be_compared,
    };
    return RUN_CLAIMS("evenness", claims);
}
