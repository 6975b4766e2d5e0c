/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sensitivity indices against published ones and closed forms, and how often their intervals hold.
 * TIPCREST_STUDY=all tries 1000 seeds at the size of a real study, which takes a minute.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_math.h>

#include <tipcrest/random.h>
#include <tipcrest/study_answer.h>
#include <tipcrest/study_design.h>

#include "study/no_gsl_error.h"
#include "support/check.h"

enum { FACTORS = 3, SCRAMBLINGS = 16, POINTS = 4096 };

/* Ishigami & Homma 1990, 10.1109/ISUMA.1990.151285, with a = 7, b = 0.1. */
static double ishigami(const double *u) {
    double x[FACTORS];
    for (int j = 0; j < FACTORS; j++)
        x[j] = M_PI * (2.0 * u[j] - 1.0);
    return sin(x[0]) + 7.0 * pow(sin(x[1]), 2.0) + 0.1 * pow(x[2], 4.0) * sin(x[0]);
}

/* Factors of which the third does nothing; the variance of each is c^2/12. */
static double linear(const double *u) { return 1000.0 + 4.0 * u[0] + 2.0 * u[1] + 0.0 * u[2]; }

typedef double (*function)(const double *u);

/* The outputs of a function at the points of a design; the caller's to free. */
static double *outputs_of(function f, const tcr_design *design, uint64_t *count) {
    expect_status(tcr_design_count(design, count, NULL), TCR_OK);
    double *u = malloc((size_t)*count * design->factors * sizeof *u);
    double *y = malloc((size_t)*count * sizeof *y);
    expect_true(u != NULL && y != NULL);
    expect_status(tcr_design_points(design, 0, (size_t)*count, u), TCR_OK);
    for (uint64_t i = 0; i < *count; i++)
        y[i] = f(u + i * design->factors);
    free(u);
    return y;
}

static tcr_design design_of(uint64_t points, uint64_t seed) {
    return (tcr_design){.kind = TCR_DESIGN_SENSITIVITY,
                        .factors = FACTORS,
                        .points = points,
                        .scramblings = SCRAMBLINGS,
                        .seed = seed};
}

static void indices_of(function f, uint64_t points, uint64_t seed, tcr_sobol_index *index,
                       tcr_sobol_variance *variance) {
    const tcr_design design = design_of(points, seed);
    uint64_t count;
    double *y = outputs_of(f, &design, &count);
    expect_status(
        tcr_sobol_indices(y, NULL, 1, FACTORS, points, SCRAMBLINGS, 0.95, index, variance), TCR_OK);
    free(y);
}

/*
 * Source: Saltelli et al. 2008, Global Sensitivity Analysis: The Primer, 10.1002/9780470725184,
 * from the closed form of Ishigami & Homma: V = a^2/8 + b pi^4/5 + b^2 pi^8/18 + 1/2.
 */
static const double FIRST[FACTORS] = {0.3139, 0.4424, 0.0},
                    TOTAL[FACTORS] = {0.5576, 0.4424, 0.2437};

CLAIM(ishigami_has_its_published_indices) {
    tcr_sobol_index index[FACTORS];
    tcr_sobol_variance variance;
    indices_of(ishigami, POINTS, 1, index, &variance);
    for (int j = 0; j < FACTORS; j++) {
        given("factor %d", j);
        expect_near(index[j].first.estimate, FIRST[j], 2e-3, "65536 base points, and four digits");
        expect_near(index[j].total.estimate, TOTAL[j], 2e-3, "65536 base points, and four digits");
        expect_true(index[j].first.high - index[j].first.low < 0.01);
    }
    const double v = 49.0 / 8.0 + 0.1 * pow(M_PI, 4.0) / 5.0 + 0.01 * pow(M_PI, 8.0) / 18.0 + 0.5;
    expect_near(variance.variance, v, 0.01, "65536 base points");
    expect_near(variance.mean, 3.5, 0.002, "a/2; 65536 base points");
    expect_nan(variance.left);
    expect_count(variance.missing, 0);
}

CLAIM(a_linear_model_has_its_closed_form) {
    /* Source: S_j = T_j = c_j^2 / sum c^2: 16/20 and 4/20. The mean of 1003 must not spoil it. */
    tcr_sobol_index index[FACTORS];
    tcr_sobol_variance variance;
    indices_of(linear, 1024, 7, index, &variance);
    const double expected[FACTORS] = {0.8, 0.2, 0.0};
    for (int j = 0; j < FACTORS; j++) {
        given("factor %d", j);
        expect_near(index[j].first.estimate, expected[j], 2e-4, "16384 base points, smooth");
        expect_near(index[j].total.estimate, expected[j], 2e-4, "16384 base points, smooth");
    }
    expect_near(index[2].total.estimate, 0.0, 1e-20, "the mixed points equal those of A");
    expect_near(variance.variance, 20.0 / 12.0, 1e-4, "16384 base points, smooth");
}

/* A mean of equal numbers may be off by a rounding, which is no variance to share out. */
static double always(const double x[FACTORS]) {
    (void)x;
    return 12.1;
}

CLAIM(what_is_the_same_everywhere_has_no_shares) {
    tcr_sobol_index index[FACTORS];
    tcr_sobol_variance variance;
    indices_of(always, 128, 3, index, &variance);
    expect_same(variance.mean, 12.1, "the same number everywhere");
    expect_same(variance.variance, 0.0, "and none apart from it");
    for (int j = 0; j < FACTORS; j++) {
        expect_nan(index[j].first.estimate);
        expect_nan(index[j].total.estimate);
    }
}

/* How many of the seeds have each index in its interval. */
static void count_covers(uint64_t points, size_t seeds, size_t first[FACTORS],
                         size_t total[FACTORS]) {
    /* To all digits: four digits would be off by up to a twentieth of an interval. */
    const double v = 49.0 / 8.0 + 0.1 * pow(M_PI, 4.0) / 5.0 + 0.01 * pow(M_PI, 8.0) / 18.0 + 0.5;
    const double v1 = 0.5 * pow(1.0 + 0.1 * pow(M_PI, 4.0) / 5.0, 2.0), v2 = 49.0 / 8.0;
    const double v13 = 0.01 * pow(M_PI, 8.0) * (1.0 / 18.0 - 1.0 / 50.0);
    const double s[FACTORS] = {v1 / v, v2 / v, 0.0}, t[FACTORS] = {(v1 + v13) / v, v2 / v, v13 / v};
    memset(first, 0, FACTORS * sizeof *first);
    memset(total, 0, FACTORS * sizeof *total);
    for (size_t seed = 0; seed < seeds; seed++) {
        tcr_sobol_index index[FACTORS];
        tcr_sobol_variance variance;
        indices_of(ishigami, points, 1000 + seed, index, &variance);
        for (int j = 0; j < FACTORS; j++) {
            first[j] += index[j].first.low <= s[j] && s[j] <= index[j].first.high;
            total[j] += index[j].total.low <= t[j] && t[j] <= index[j].total.high;
        }
    }
}

CLAIM(intervals_of_95_percent_hold_in_95_of_100_seeds) {
    const char *all = getenv("TIPCREST_STUDY");
    const bool whole = all != NULL && strcmp(all, "all") == 0;
    const size_t seeds = 1000;
    size_t first[FACTORS], total[FACTORS];
    count_covers(whole ? POINTS : 128, seeds, first, total);
    for (int j = 0; j < FACTORS; j++) {
        given("factor %d, %zu points a scrambling", j, (size_t)(whole ? POINTS : 128));
        /* Source: the level; 3.3 standard errors of a share of 1000 are 2.3 %. */
        expect_within((double)first[j] / (double)seeds, 0.92, 0.97, "0.95, 1000 seeds");
        expect_within((double)total[j] / (double)seeds, 0.92, 0.97, "0.95, 1000 seeds");
    }
}

CLAIM(what_is_left_when_all_factors_are_known_is_the_variance_over_runs) {
    const tcr_design design = design_of(64, 3);
    uint64_t count;
    tcr_sobol_index index[FACTORS];
    tcr_sobol_variance variance;
    double *y = outputs_of(linear, &design, &count);
    double *spread = malloc((size_t)count * sizeof *spread);
    for (uint64_t i = 0; i < count; i++)
        spread[i] = 0.5;
    expect_status(tcr_sobol_indices(y, spread, 1, FACTORS, 64, SCRAMBLINGS, 0.95, index, &variance),
                  TCR_OK);
    expect_near(variance.left, 0.5, 1e-15, "the mean of equal numbers");
    /* Source: its definition, 0.5/(20/12 + 0.5). */
    expect_near(variance.left_share, 0.5 / (20.0 / 12.0 + 0.5), 1e-3, "1024 base points");
    free(spread);
    free(y);
}

CLAIM(a_missing_output_leaves_no_index) {
    const tcr_design design = design_of(8, 3);
    uint64_t count;
    tcr_sobol_index index[FACTORS];
    tcr_sobol_variance variance;
    double *y = outputs_of(linear, &design, &count);
    y[count - 1] = NAN;
    expect_status(tcr_sobol_indices(y, NULL, 1, FACTORS, 8, SCRAMBLINGS, 0.95, index, &variance),
                  TCR_OK);
    expect_count(variance.missing, 1);
    expect_nan(index[0].first.estimate);
    expect_nan(index[2].total.low);
    expect_nan(variance.variance);
    free(y);
}

CLAIM(an_output_that_never_varies_has_no_index) {
    double y[SCRAMBLINGS * 2 * (FACTORS + 2)];
    tcr_sobol_index index[FACTORS];
    tcr_sobol_variance variance;
    for (size_t i = 0; i < sizeof y / sizeof *y; i++)
        y[i] = 2.5;
    expect_status(tcr_sobol_indices(y, NULL, 1, FACTORS, 2, SCRAMBLINGS, 0.95, index, &variance),
                  TCR_OK);
    expect_nan(index[1].total.estimate);
    expect_near(variance.variance, 0.0, 0.0, "equal numbers");
    expect_near(variance.mean, 2.5, 1e-15, "equal numbers");
}

CLAIM(outputs_may_lie_apart) {
    const tcr_design design = design_of(16, 9);
    uint64_t count;
    tcr_sobol_index near[FACTORS], apart[FACTORS];
    tcr_sobol_variance variance;
    double *y = outputs_of(ishigami, &design, &count);
    double *wide = malloc((size_t)count * 3 * sizeof *wide);
    for (uint64_t i = 0; i < 3 * count; i++)
        wide[i] = i % 3 == 0 ? y[i / 3] : NAN;
    expect_status(tcr_sobol_indices(y, NULL, 1, FACTORS, 16, SCRAMBLINGS, 0.9, near, &variance),
                  TCR_OK);
    expect_status(tcr_sobol_indices(wide, NULL, 3, FACTORS, 16, SCRAMBLINGS, 0.9, apart, &variance),
                  TCR_OK);
    expect_bytes(apart, near, sizeof near);
    free(wide);
    free(y);
}

CLAIM(arguments_out_of_range_are_refused) {
    double y[SCRAMBLINGS * 2 * 3] = {0.0};
    tcr_sobol_index index[1];
    tcr_sobol_variance v;
    expect_status(tcr_sobol_indices(NULL, NULL, 1, 1, 2, 16, 0.95, index, &v), TCR_E_ARGUMENT);
    expect_status(tcr_sobol_indices(y, NULL, 1, 1, 2, 16, 0.95, NULL, &v), TCR_E_ARGUMENT);
    expect_status(tcr_sobol_indices(y, NULL, 1, 1, 2, 16, 0.95, index, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_sobol_indices(y, NULL, 0, 1, 2, 16, 0.95, index, &v), TCR_E_ARGUMENT);
    expect_status(tcr_sobol_indices(y, NULL, 1, 0, 2, 16, 0.95, index, &v), TCR_E_RANGE);
    expect_status(tcr_sobol_indices(y, NULL, 1, 65, 2, 16, 0.95, index, &v), TCR_E_RANGE);
    expect_status(tcr_sobol_indices(y, NULL, 1, 1, 1, 16, 0.95, index, &v), TCR_E_RANGE);
    expect_status(tcr_sobol_indices(y, NULL, 1, 1, 2, 15, 0.95, index, &v), TCR_E_RANGE);
    expect_status(tcr_sobol_indices(y, NULL, 1, 1, 2, 257, 0.95, index, &v), TCR_E_RANGE);
    const double wrong[] = {0.0, 0.49, 1.0, 2.0, -1.0, NAN, INFINITY};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        expect_status(tcr_sobol_indices(y, NULL, 1, 1, 2, 16, wrong[i], index, &v), TCR_E_RANGE);
}

int main(void) {
    static const TTest *const claims[] = {
        &ishigami_has_its_published_indices,
        &a_linear_model_has_its_closed_form,
        &what_is_the_same_everywhere_has_no_shares,
        &intervals_of_95_percent_hold_in_95_of_100_seeds,
        &what_is_left_when_all_factors_are_known_is_the_variance_over_runs,
        &a_missing_output_leaves_no_index,
        &an_output_that_never_varies_has_no_index,
        &outputs_may_lie_apart,
        &arguments_out_of_range_are_refused,
    };
    refuse_gsl_errors();
    return RUN_CLAIMS("indices", claims);
}
