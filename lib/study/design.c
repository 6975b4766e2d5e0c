/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which points are tried: grids, random points, Sobol points, and those for sensitivities. */
#include <tipcrest/study_design.h>

#include <tipcrest/random.h>

#include "num/error.h"
#include "study/sobol.h"

enum { USE_POINTS = 5 };

const char *tcr_design_text(tcr_design_kind kind) {
    static const char *const TEXT[TCR_DESIGNS] = {"grid", "random", "sobol", "sensitivity"};
    return (unsigned)kind < TCR_DESIGNS ? TEXT[kind] : "unknown";
}

/* Multiplies, up to a number that is too many in any case. */
static uint64_t times(uint64_t a, uint64_t b) {
    const uint64_t most = UINT64_C(1) << 62;
    return b != 0 && a > most / b ? most : a * b;
}

static tcr_status refuse_points(uint64_t count, tcr_error *error) {
    if (count == 0)
        return tcr_error_set(error, TCR_E_RANGE, "a design needs at least 1 point");
    const char *over = count >= UINT64_C(1) << 62 ? "more than " : "";
    return tcr_error_set(error, TCR_E_RANGE,
                         "the design has %s%llu points, but must have at most %llu", over,
                         (unsigned long long)count, (unsigned long long)TCR_DESIGN_POINTS_MAX);
}

static tcr_status count_grid(const tcr_design *design, uint64_t *count, tcr_error *error) {
    if (design->levels == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    *count = 1;
    for (size_t j = 0; j < design->factors; j++) {
        if (design->levels[j] < 1 || design->levels[j] > TCR_LEVELS_MAX)
            return tcr_error_set(error, TCR_E_RANGE,
                                 "factor %zu has %zu levels, but must have 1 to %d", j + 1,
                                 design->levels[j], TCR_LEVELS_MAX);
        *count = times(*count, design->levels[j]);
    }
    return TCR_OK;
}

static tcr_status count_sensitivity(const tcr_design *design, uint64_t *count, tcr_error *error) {
    if (design->scramblings < TCR_SCRAMBLINGS_MIN || design->scramblings > TCR_SCRAMBLINGS_MAX)
        return tcr_error_set(error, TCR_E_RANGE, "scramblings is %zu, but must be from %d to %d",
                             design->scramblings, TCR_SCRAMBLINGS_MIN, TCR_SCRAMBLINGS_MAX);
    if (design->points < 2)
        return tcr_error_set(error, TCR_E_RANGE,
                             "a sensitivity design needs at least 2 base points");
    *count = times(times(design->points, design->scramblings), design->factors + 2);
    return TCR_OK;
}

tcr_status tcr_design_count(const tcr_design *design, uint64_t *count, tcr_error *error) {
    if (design == NULL || count == NULL || (unsigned)design->kind >= TCR_DESIGNS)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    if (design->factors < 1 || design->factors > TCR_FACTORS_MAX)
        return tcr_error_set(error, TCR_E_RANGE, "a design has 1 to %d factors, not %zu",
                             TCR_FACTORS_MAX, design->factors);
    uint64_t points = design->points;
    tcr_status status = TCR_OK;
    if (design->kind == TCR_DESIGN_GRID)
        status = count_grid(design, &points, error);
    else if (design->kind == TCR_DESIGN_SENSITIVITY)
        status = count_sensitivity(design, &points, error);
    if (status == TCR_OK && (points < 1 || points > TCR_DESIGN_POINTS_MAX))
        status = refuse_points(points, error);
    if (status == TCR_OK)
        *count = points;
    return status;
}

/* ---- Points ---------------------------------------------------------------------------------- */

static void grid_point(const tcr_design *design, uint64_t index, double *u) {
    for (size_t j = design->factors; j-- > 0;) {
        const uint64_t levels = design->levels[j];
        u[j] = ((double)(index % levels) + 0.5) / (double)levels;
        index /= levels;
    }
}

static void random_point(const tcr_design *design, uint64_t index, double *u) {
    for (size_t j = 0; j < design->factors; j++) {
        const tcr_random number = {.seed = design->seed,
                                   .lash = (uint32_t)index,
                                   .field = (uint32_t)j,
                                   .eye = (uint32_t)(index >> 32),
                                   .use = USE_POINTS};
        u[j] = tcr_random_uniform(&number);
    }
}

static void sobol_points(const tcr_design *design, uint64_t first, size_t n, double *u) {
    const tcr_sobol_shift shift = {design->seed, 0};
    (void)tcr_sobol_points(first, n, 0, design->factors, design->shifted ? &shift : NULL, u);
}

/* Puts the number of a dimension at a base point into the rows that have it: of A into all but row
 * 1 and the row of its own factor, of B into these two. Row 'first' of the design is at u. */
static void put_base(const tcr_design *design, uint64_t base, size_t dimension, double number,
                     uint64_t first, size_t n, double *u) {
    const size_t k = design->factors, rows = k + 2, j = dimension % k;
    const bool is_b = dimension >= k;
    for (size_t m = 0; m < rows; m++) {
        const uint64_t row = base * rows + m;
        if (row >= first && row - first < n && (m == 1 || m == 2 + j) == is_b)
            u[(row - first) * k + j] = number;
    }
}

/* Base points and their mixed points, as many of them as are asked for: dimension by dimension,
 * each of which goes from base point to base point of a scrambling. */
static void sensitivity_points(const tcr_design *design, uint64_t first, size_t n, double *u) {
    const size_t k = design->factors, rows = k + 2;
    for (size_t dimension = 0; dimension < 2 * k && n > 0; dimension++) {
        uint64_t direction[TCR_SOBOL_BITS], bits = 0;
        tcr_sobol_dimension(dimension, direction);
        for (uint64_t base = first / rows; base <= (first + n - 1) / rows; base++) {
            const uint64_t index = base % design->points;
            const tcr_sobol_shift shift = {design->seed, (uint32_t)(base / design->points)};
            bits = base == first / rows || index == 0
                       ? tcr_sobol_bits(direction, index) ^ tcr_sobol_shift_bits(&shift, dimension)
                       : tcr_sobol_next(direction, bits, index);
            put_base(design, base, dimension, tcr_sobol_number(bits), first, n, u);
        }
    }
}

tcr_status tcr_design_points(const tcr_design *design, uint64_t first, size_t n, double *u) {
    uint64_t count = 0;
    const tcr_status status = tcr_design_count(design, &count, NULL);
    if (status != TCR_OK || u == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    if (first > count || n > count - first)
        return TCR_E_RANGE;
    if (design->kind == TCR_DESIGN_SENSITIVITY)
        sensitivity_points(design, first, n, u);
    else if (design->kind == TCR_DESIGN_SOBOL)
        sobol_points(design, first, n, u);
    for (size_t i = 0; i < n && design->kind == TCR_DESIGN_GRID; i++)
        grid_point(design, first + i, u + i * design->factors);
    for (size_t i = 0; i < n && design->kind == TCR_DESIGN_RANDOM; i++)
        random_point(design, first + i, u + i * design->factors);
    return TCR_OK;
}
