/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sobol indices of a sensitivity design. With f of matrix A, of B, and of A with column j of B, all
 * centred, and V the variance over A and B,
 *
 *     first_j = mean f(B) (f(A_B^j) - f(A)) / V        Saltelli et al. 2010, table 2 (b)
 *     total_j = mean (f(A) - f(A_B^j))^2 / (2 V)       Jansen 1999
 *
 * Centred, since the first is a difference of products that grow with the square of the mean. Each
 * scrambling gives a numerator and a V, independent of the others; an index is the ratio of their
 * means. Its error is that of the mean of numerator - index x V, divided by the mean V (Cochran
 * 1977, Sampling Techniques, section 6.3), so that few points in a scrambling bias it little.
 */
#include <math.h>

#include <tipcrest/study_design.h>

#include "study/student.h"

/* A block of outputs. */
typedef struct block {
    const double *value, *spread;
    size_t stride, factors, scramblings;
    uint64_t points;
} block;

/* Output m of a base point of a scrambling. */
static double output(const block *b, const double *of, size_t s, uint64_t i, size_t m) {
    return of[((s * b->points + i) * (b->factors + 2) + m) * b->stride];
}

static size_t count_missing(const block *b) {
    const uint64_t all = b->scramblings * b->points * (b->factors + 2);
    size_t missing = 0;
    for (uint64_t i = 0; i < all; i++)
        missing += isfinite(b->value[i * b->stride]) ? 0 : 1;
    return missing;
}

static bool is_constant(const block *b) {
    const uint64_t all = b->scramblings * b->points * (b->factors + 2);
    uint64_t same = 1;
    while (same < all && b->value[same * b->stride] == b->value[0])
        same++;
    return same == all;
}

/* The mean over A and B of one scrambling, or with a centre the mean square about it. */
static double mean_of(const block *b, size_t s, const double *centre) {
    double sum = 0.0;
    for (uint64_t i = 0; i < b->points; i++)
        for (size_t m = 0; m < 2; m++) {
            const double y = output(b, b->value, s, i, m);
            sum += centre != NULL ? (y - *centre) * (y - *centre) : y;
        }
    return sum / (2.0 * (double)b->points);
}

static double mean_spread(const block *b) {
    double sum = 0.0;
    for (size_t s = 0; s < b->scramblings; s++)
        for (uint64_t i = 0; i < b->points; i++)
            for (size_t m = 0; m < 2; m++)
                sum += output(b, b->spread, s, i, m);
    return sum / (2.0 * (double)b->points * (double)b->scramblings);
}

/* Both numerators of a factor from one scrambling. */
static void add_up(const block *b, size_t s, size_t j, double mean, double *first, double *total) {
    double products = 0.0, squares = 0.0;
    for (uint64_t i = 0; i < b->points; i++) {
        const double a = output(b, b->value, s, i, 0) - mean;
        const double other = output(b, b->value, s, i, 1) - mean;
        const double mixed = output(b, b->value, s, i, 2 + j) - mean;
        products += other * (mixed - a);
        squares += (a - mixed) * (a - mixed);
    }
    *first = products / (double)b->points;
    *total = squares / (2.0 * (double)b->points);
}

/* The ratio of the means of two columns, with its interval. */
static tcr_interval ratio_of(const double *above, const double *below, size_t n, double reach) {
    double over = 0.0, under = 0.0, rest[TCR_SCRAMBLINGS_MAX];
    for (size_t s = 0; s < n; s++) {
        over += above[s];
        under += below[s];
    }
    const double ratio = over / under;
    for (size_t s = 0; s < n; s++)
        rest[s] = above[s] - ratio * below[s];
    const tcr_interval error = tcr_interval_of_mean(rest, n, reach);
    const double half = (error.high - error.low) / 2.0 / (under / (double)n);
    return (tcr_interval){ratio, ratio - half, ratio + half};
}

static tcr_status check(const block *b, double level) {
    const bool fits = b->factors >= 1 && b->factors <= TCR_FACTORS_MAX && b->points >= 2 &&
                      b->points <= TCR_DESIGN_POINTS_MAX && b->scramblings >= TCR_SCRAMBLINGS_MIN &&
                      b->scramblings <= TCR_SCRAMBLINGS_MAX && level >= TCR_LEVEL_LEAST &&
                      level <= TCR_LEVEL_MOST;
    return fits ? TCR_OK : TCR_E_RANGE;
}

tcr_status tcr_sobol_indices(const double *value, const double *spread, size_t stride,
                             size_t factors, uint64_t points, size_t scramblings, double level,
                             tcr_sobol_index *index, tcr_sobol_variance *variance) {
    const block b = {value, spread, stride, factors, scramblings, points};
    const tcr_interval none = {NAN, NAN, NAN};
    double square[TCR_SCRAMBLINGS_MAX], first[TCR_SCRAMBLINGS_MAX], total[TCR_SCRAMBLINGS_MAX];
    tcr_sobol_variance v = {.mean = NAN, .variance = NAN, .left = NAN, .left_share = NAN};
    if (value == NULL || index == NULL || variance == NULL || stride == 0)
        return TCR_E_ARGUMENT;
    if (check(&b, level) != TCR_OK)
        return TCR_E_RANGE;
    v.missing = count_missing(&b);
    if (v.missing == 0) {
        v.mean = v.variance = 0.0;
        for (size_t s = 0; s < scramblings; s++)
            v.mean += mean_of(&b, s, NULL) / (double)scramblings;
        for (size_t s = 0; s < scramblings; s++) {
            square[s] = mean_of(&b, s, &v.mean);
            v.variance += square[s] / (double)scramblings;
        }
        if (is_constant(&b)) { /* rounding makes a mean of equal numbers another one */
            v.mean = value[0];
            v.variance = 0.0;
        }
    }
    if (v.missing == 0 && spread != NULL) {
        v.left = mean_spread(&b);
        v.left_share = v.left / (v.variance + v.left);
    }
    const double reach = tcr_student_reach(1.0 - level, scramblings);
    const bool varies = v.variance > 0.0; /* false for NaN */
    for (size_t j = 0; j < factors; j++) {
        for (size_t s = 0; s < scramblings && varies; s++)
            add_up(&b, s, j, v.mean, &first[s], &total[s]);
        index[j].first = varies ? ratio_of(first, square, scramblings, reach) : none;
        index[j].total = varies ? ratio_of(total, square, scramblings, reach) : none;
    }
    *variance = v;
    return TCR_OK;
}
