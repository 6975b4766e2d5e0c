/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The line and its slope over columns of points, by blocks: the basis of all, then the sums, which
 * take coefficients from here and there and are no vectors, then the rest.
 */
#include "line/deviations.h"

#include <math.h>

#include "line/basis.h"
#include "num/elementary_kernel.h"

enum { BLOCK = 32 };

typedef struct block {
    double value[4][BLOCK], rise[4][BLOCK];
    double beyond[BLOCK]; /* how far a point lies beyond the line's ends */
    double y[BLOCK], slope[BLOCK];
    int first[BLOCK];
} block;

TCR_CLONED static void fill(const tcr_line *restrict line, const double *restrict x, size_t n,
                            block *restrict b) {
    const double low = line->x_min_mm, high = line->x_max_mm;
    for (size_t i = 0; i < n; i++) {
        const double inside = tcr_less(tcr_more(x[i], low), high);
        const tcr_basis value = tcr_basis_at(inside, low, high);
        const tcr_basis rise = tcr_basis_slope_at(inside, low, high);
        b->first[i] = value.first;
        b->beyond[i] = x[i] - inside;
        b->value[0][i] = value.value[0];
        b->value[1][i] = value.value[1];
        b->value[2][i] = value.value[2];
        b->value[3][i] = value.value[3];
        b->rise[0][i] = rise.value[0];
        b->rise[1][i] = rise.value[1];
        b->rise[2][i] = rise.value[2];
        b->rise[3][i] = rise.value[3];
    }
}

/* As tcr_line_point_lane. */
static void sum(const tcr_line *line, size_t n, block *b) {
    for (size_t i = 0; i < n; i++) {
        const tcr_basis value = {b->first[i],
                                 {b->value[0][i], b->value[1][i], b->value[2][i], b->value[3][i]}};
        const tcr_basis rise = {b->first[i],
                                {b->rise[0][i], b->rise[1][i], b->rise[2][i], b->rise[3][i]}};
        b->slope[i] = tcr_basis_sum(&rise, line->coefficient_mm);
        b->y[i] = tcr_basis_sum(&value, line->coefficient_mm) + b->slope[i] * b->beyond[i];
    }
}

TCR_CLONED static void subtract(const block *restrict b, const double *restrict y, size_t n,
                                double *restrict deviation, double *restrict across) {
    for (size_t i = 0; i < n; i++) {
        const double d = y[i] - b->y[i];
        deviation[i] = d;
        across[i] = d / sqrt(1.0 + b->slope[i] * b->slope[i]);
    }
}

void tcr_line_deviations(const tcr_line *line, const double *x_mm, const double *y_mm, size_t n,
                         double *deviation_mm, double *across_mm) {
    block b;
    for (size_t at = 0; at < n; at += BLOCK) {
        const size_t part = n - at < BLOCK ? n - at : BLOCK;
        fill(line, x_mm + at, part, &b);
        sum(line, part, &b);
        subtract(&b, y_mm + at, part, deviation_mm + at, across_mm + at);
    }
}
