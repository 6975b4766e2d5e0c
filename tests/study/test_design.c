/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which points a design has: grids, random, Sobol and sensitivity designs. */
#include <math.h>
#include <string.h>

#include <tipcrest/random.h>
#include <tipcrest/study_design.h>

#include "support/check.h"
#include "support/statistics.h"

CLAIM(a_grid_has_every_combination_once_the_last_factor_fastest) {
    const size_t levels[] = {2, 3, 4};
    const tcr_design design = {.kind = TCR_DESIGN_GRID, .factors = 3, .levels = levels};
    uint64_t count;
    double u[24 * 3];
    expect_status(tcr_design_count(&design, &count, NULL), TCR_OK);
    expect_count(count, 24);
    expect_status(tcr_design_points(&design, 0, 24, u), TCR_OK);
    for (size_t i = 0; i < 24; i++) {
        const size_t place[] = {i / 12, i / 4 % 3, i % 4};
        for (size_t j = 0; j < 3; j++) {
            given("point %zu, factor %zu", i, j);
            expect_count((size_t)(u[3 * i + j] * (double)levels[j]), place[j]);
            expect_near(u[3 * i + j], ((double)place[j] + 0.5) / (double)levels[j], 1e-16,
                        "the middle of its part");
        }
    }
}

CLAIM(a_grid_finds_the_index_of_each_of_very_many_levels) {
    const size_t levels[] = {TCR_LEVELS_MAX};
    const tcr_design design = {.kind = TCR_DESIGN_GRID, .factors = 1, .levels = levels};
    for (uint64_t i = 0; i < TCR_LEVELS_MAX; i += 999) {
        double u;
        expect_status(tcr_design_points(&design, i, 1, &u), TCR_OK);
        expect_count((size_t)(u * TCR_LEVELS_MAX), i);
    }
}

CLAIM(random_points_are_numbers_of_random_h) {
    const tcr_design design = {
        .kind = TCR_DESIGN_RANDOM, .factors = 2, .points = UINT64_C(9000000000), .seed = 5};
    double u[4];
    const uint64_t first = UINT64_C(4294967295); /* the low word of the next one is 0 */
    expect_status(tcr_design_points(&design, first, 2, u), TCR_OK);
    for (uint32_t i = 0; i < 4; i++) {
        const uint64_t index = first + i / 2;
        const tcr_random number = {.seed = 5,
                                   .lash = (uint32_t)index,
                                   .field = i % 2,
                                   .eye = (uint32_t)(index >> 32),
                                   .use = 5};
        expect_same(u[i], tcr_random_uniform(&number), "study_design.h");
    }
}

CLAIM(random_points_are_uniform) {
    enum { N = 20000 };
    static double u[N * 3], one[N];
    const tcr_design design = {.kind = TCR_DESIGN_RANDOM, .factors = 3, .points = N, .seed = 1};
    expect_status(tcr_design_points(&design, 0, N, u), TCR_OK);
    for (size_t j = 0; j < 3; j++) {
        for (size_t i = 0; i < N; i++)
            one[i] = u[3 * i + j];
        expect_within(tcr_kolmogorov(one, N, tcr_cumulative_uniform), 0.0, 1.9495,
                      "Kolmogorov's test at 0.001");
    }
}

CLAIM(sobol_points_are_shifted_where_that_is_asked_for) {
    tcr_design design = {.kind = TCR_DESIGN_SOBOL, .factors = 3, .points = 64, .seed = 2};
    double u[64 * 3], expected[64 * 3];
    expect_status(tcr_design_points(&design, 0, 64, u), TCR_OK);
    expect_status(tcr_sobol_points(0, 64, 0, 3, NULL, expected), TCR_OK);
    expect_bytes(u, expected, sizeof u);
    design.shifted = true;
    expect_status(tcr_design_points(&design, 0, 64, u), TCR_OK);
    expect_status(tcr_sobol_points(0, 64, 0, 3, &(tcr_sobol_shift){2, 0}, expected), TCR_OK);
    expect_bytes(u, expected, sizeof u);
}

CLAIM(a_sensitivity_design_mixes_a_column_of_b_into_a) {
    enum { K = 3, POINTS = 5, ROWS = K + 2 };
    const tcr_design design = {.kind = TCR_DESIGN_SENSITIVITY,
                               .factors = K,
                               .points = POINTS,
                               .scramblings = 16,
                               .seed = 11};
    uint64_t count;
    double u[K], base[2 * K];
    expect_status(tcr_design_count(&design, &count, NULL), TCR_OK);
    expect_count(count, 16 * POINTS * ROWS);
    for (uint64_t i = 0; i < count; i++) {
        const tcr_sobol_shift shift = {11, (uint32_t)(i / ROWS / POINTS)};
        const size_t m = (size_t)(i % ROWS);
        given("point %zu", (size_t)i);
        expect_status(tcr_design_points(&design, i, 1, u), TCR_OK);
        expect_status(tcr_sobol_points(i / ROWS % POINTS, 1, 0, 2 * K, &shift, base), TCR_OK);
        for (size_t j = 0; j < K; j++) /* source: study_design.h */
            expect_same(u[j], base[m == 1 || m == 2 + j ? K + j : j], "A, B, or A with j of B");
    }
}

CLAIM(any_block_of_a_design_is_that_of_the_whole) {
    const size_t levels[] = {3, 5, 4};
    for (int kind = 0; kind < TCR_DESIGNS; kind++) {
        const tcr_design design = {.kind = (tcr_design_kind)kind,
                                   .factors = 3,
                                   .levels = levels,
                                   .points = kind == TCR_DESIGN_SENSITIVITY ? 2 : 60,
                                   .scramblings = 16,
                                   .shifted = true,
                                   .seed = 3};
        double all[60 * 3], part[60 * 3];
        given("%s", tcr_design_text(design.kind));
        expect_status(tcr_design_points(&design, 0, 60, all), TCR_OK);
        for (size_t first = 0; first <= 60; first += 7)
            for (size_t n = 0; n <= 60 - first; n += 5) {
                expect_status(tcr_design_points(&design, first, n, part), TCR_OK);
                expect_bytes(part, all + 3 * first, 3 * n * sizeof *all);
            }
    }
}

CLAIM(too_many_points_are_refused_and_counted) {
    const size_t levels[] = {10000, 10000, 10000};
    tcr_design design = {.kind = TCR_DESIGN_GRID, .factors = 3, .levels = levels};
    uint64_t count = 77;
    tcr_error error = tcr_error_none();
    expect_status(tcr_design_count(&design, &count, &error), TCR_E_RANGE);
    expect_text(error.message,
                "the design has 1000000000000 points, but must have at most 10000000000");
    expect_count(count, 77);
    const size_t most[TCR_FACTORS_MAX] = {
        [0] = TCR_LEVELS_MAX, [1] = TCR_LEVELS_MAX, [2] = TCR_LEVELS_MAX, [3] = TCR_LEVELS_MAX};
    design.levels = most;
    design.factors = 4;
    expect_status(tcr_design_count(&design, &count, &error), TCR_E_RANGE);
    expect_text(error.message, "the design has more than 4611686018427387904 points, but must have "
                               "at most 10000000000");
    design = (tcr_design){
        .kind = TCR_DESIGN_SENSITIVITY, .factors = 64, .points = UINT64_MAX, .scramblings = 256};
    expect_status(tcr_design_count(&design, &count, NULL), TCR_E_RANGE);
}

CLAIM(designs_out_of_range_are_refused) {
    const size_t levels[] = {2, 0}, many[] = {TCR_LEVELS_MAX + 1};
    const tcr_design wrong[] = {
        {.kind = TCR_DESIGN_GRID, .factors = 0, .levels = levels},
        {.kind = TCR_DESIGN_GRID, .factors = TCR_FACTORS_MAX + 1, .levels = levels},
        {.kind = TCR_DESIGN_GRID, .factors = 2, .levels = levels},
        {.kind = TCR_DESIGN_GRID, .factors = 1, .levels = many},
        {.kind = TCR_DESIGN_RANDOM, .factors = 1, .points = 0},
        {.kind = TCR_DESIGN_SOBOL, .factors = 1, .points = TCR_DESIGN_POINTS_MAX + 1},
        {.kind = TCR_DESIGN_SENSITIVITY, .factors = 1, .points = 1, .scramblings = 16},
        {.kind = TCR_DESIGN_SENSITIVITY, .factors = 1, .points = 2, .scramblings = 15},
        {.kind = TCR_DESIGN_SENSITIVITY, .factors = 1, .points = 2, .scramblings = 257},
    };
    double u[2] = {77.0, 77.0};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        uint64_t count;
        given("design %zu", i);
        expect_status(tcr_design_count(&wrong[i], &count, NULL), TCR_E_RANGE);
        expect_status(tcr_design_points(&wrong[i], 0, 1, u), TCR_E_RANGE);
    }
    uint64_t count;
    const tcr_design right = {.kind = TCR_DESIGN_RANDOM, .factors = 1, .points = 2};
    const tcr_design no_levels = {.kind = TCR_DESIGN_GRID, .factors = 1};
    const tcr_design no_kind = {.kind = (tcr_design_kind)4, .factors = 1, .points = 2};
    expect_status(tcr_design_count(&no_levels, &count, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_design_count(&no_kind, &count, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_design_count(NULL, &count, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_design_count(&right, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_design_points(&right, 0, 1, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_design_points(&right, 1, 2, u), TCR_E_RANGE);
    expect_status(tcr_design_points(&right, 3, 0, u), TCR_E_RANGE);
    expect_near(u[0], 77.0, 0.0, "a failed call leaves its outputs");
    expect_text(tcr_design_text(TCR_DESIGN_SOBOL), "sobol");
    expect_text(tcr_design_text((tcr_design_kind)-1), "unknown");
}

int main(void) {
    static const TTest *const claims[] = {
        &a_grid_has_every_combination_once_the_last_factor_fastest,
        &a_grid_finds_the_index_of_each_of_very_many_levels,
        &random_points_are_numbers_of_random_h,
        &random_points_are_uniform,
        &sobol_points_are_shifted_where_that_is_asked_for,
        &a_sensitivity_design_mixes_a_column_of_b_into_a,
        &any_block_of_a_design_is_that_of_the_whole,
        &too_many_points_are_refused_and_counted,
        &designs_out_of_range_are_refused,
    };
    return RUN_CLAIMS("design", claims);
}
