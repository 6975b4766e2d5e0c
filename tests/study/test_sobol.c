/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sobol points: the generator against GSL's, the project's own direction numbers by what such
 * numbers must have. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_qrng.h>

#include <tipcrest/random.h>
#include <tipcrest/study_design.h>

#include "study/no_gsl_error.h"
#include "study/sobol.h"
#include "support/check.h"

/* ---- Against GSL ----------------------------------------------------------------------------- */

enum { GSL_DIMENSIONS = 40, GSL_BITS = 30, GSL_POINTS = 1 << 14, GSL_DEGREE_MAX = 8 };

/* GSL's points, with the one at 0 that it drops; as whole numbers of 30 bits. */
static uint64_t (*gsl_points(size_t count))[GSL_DIMENSIONS] {
    uint64_t(*points)[GSL_DIMENSIONS] = calloc(count, sizeof *points);
    gsl_qrng *generator = gsl_qrng_alloc(gsl_qrng_sobol, GSL_DIMENSIONS);
    ck_assert_ptr_nonnull(points);
    for (size_t i = 1; i < count; i++) {
        double u[GSL_DIMENSIONS];
        gsl_qrng_get(generator, u);
        for (int j = 0; j < GSL_DIMENSIONS; j++)
            points[i][j] = (uint64_t)ldexp(u[j], GSL_BITS);
    }
    gsl_qrng_free(generator);
    return points;
}

/*
 * The direction numbers of a dimension of GSL, by a polynomial and first numbers of ours: those
 * first numbers are read off GSL's points 2^k, and the polynomial is the one whose recurrence gives
 * GSL's further direction numbers. Only the right recurrence has one that does. Returns whether
 * there is one.
 */
static bool find_numbers(const uint64_t *directions, size_t known, tcr_sobol_numbers *numbers) {
    for (unsigned polynomial = 3; polynomial < 1u << (GSL_DEGREE_MAX + 1); polynomial += 2) {
        uint64_t ours[TCR_SOBOL_BITS];
        int degree = 0;
        while (polynomial >> (degree + 1) != 0)
            degree++;
        *numbers = (tcr_sobol_numbers){.degree = degree, .polynomial = polynomial};
        for (int k = 0; k < degree; k++)
            numbers->first[k] = (unsigned short)(directions[k] >> (GSL_BITS - 1 - k));
        tcr_sobol_directions(numbers, ours);
        bool same = true;
        for (size_t k = 0; k < known && same; k++)
            same = ours[k] >> (TCR_SOBOL_BITS - GSL_BITS) == directions[k];
        if (same)
            return true;
    }
    return false;
}

CLAIM(points_by_index_are_those_of_gsl_with_its_direction_numbers) {
    enum { KNOWN = 14 }; /* direction numbers that 2^14 points show */
    uint64_t(*points)[GSL_DIMENSIONS] = gsl_points(GSL_POINTS);
    for (int j = 1; j < GSL_DIMENSIONS; j++) {
        uint64_t directions[KNOWN], ours[TCR_SOBOL_BITS];
        tcr_sobol_numbers numbers;
        given("dimension %d", j);
        for (int k = 0; k < KNOWN; k++) {
            const size_t at = (size_t)1 << k; /* of the Gray code only bit k and k - 1 are set */
            directions[k] = points[at][j] ^ points[at - 1][j];
        }
        expect_true(find_numbers(directions, KNOWN, &numbers));
        tcr_sobol_directions(&numbers, ours);
        for (size_t i = 0; i < GSL_POINTS; i++) {
            const uint64_t bits = tcr_sobol_bits(ours, i) >> (TCR_SOBOL_BITS - GSL_BITS);
            given("dimension %d, point %zu", j, i);
            /* Source: GSL's gsl_qrng_sobol, bit for bit. */
            expect_true(bits == points[i][j]);
        }
    }
    free(points);
}

CLAIM(the_first_dimension_is_that_of_gsl_and_of_van_der_corput) {
    uint64_t(*points)[GSL_DIMENSIONS] = gsl_points(GSL_POINTS);
    double *u = malloc(GSL_POINTS * sizeof *u);
    expect_status(tcr_sobol_points(0, GSL_POINTS, 0, 1, NULL, u), TCR_OK);
    for (size_t i = 0; i < GSL_POINTS; i++)
        expect_same(u[i], ldexp((double)points[i][0], -GSL_BITS), "multiples of 2^-30");
    free(u);
    free(points);
}

/* ---- The project's own numbers --------------------------------------------------------------- */

static double *own_points(size_t from, size_t dimensions, size_t n) {
    double *u = malloc(n * dimensions * sizeof *u);
    ck_assert_ptr_nonnull(u);
    expect_status(tcr_sobol_points(0, n, from, dimensions, NULL, u), TCR_OK);
    return u;
}

CLAIM(every_dimension_puts_one_of_the_first_powers_of_two_into_each_part) {
    /* Source: each dimension of a Sobol sequence is a (0, 1)-sequence (Sobol 1967). */
    enum { MOST = 4096 };
    double *u = own_points(0, TCR_SOBOL_DIMENSIONS, MOST);
    for (int j = 0; j < TCR_SOBOL_DIMENSIONS; j++)
        for (size_t n = 2; n <= MOST; n *= 4) {
            static unsigned char seen[MOST];
            memset(seen, 0, sizeof seen);
            given("dimension %d, %zu points", j, n);
            for (size_t i = 0; i < n; i++)
                seen[(size_t)(u[i * TCR_SOBOL_DIMENSIONS + (size_t)j] * (double)n)]++;
            for (size_t k = 0; k < n; k++)
                expect_count(seen[k], 1);
        }
    free(u);
}

/* Whether two columns of 2^m points are a net of quality t: each box of 2^(t-m) has 2^t points. */
static bool is_net(const double *x, const double *y, size_t stride, int m, int t) {
    static unsigned short count[1 << 12];
    for (int a = 0; a <= m - t; a++) {
        const int b = m - t - a;
        memset(count, 0, sizeof count);
        for (size_t i = 0; i < (size_t)1 << m; i++) {
            const size_t across = (size_t)ldexp(x[i * stride], a),
                         up = (size_t)ldexp(y[i * stride], b);
            count[across << b | up]++;
        }
        for (size_t k = 0; k < (size_t)1 << (m - t); k++)
            if (count[k] != 1 << t)
                return false;
    }
    return true;
}

/* Degrees of the polynomials: 0 for the first dimension, then as many as there are primitive ones
 * of each degree (OEIS A011260). */
static int degree_of(int dimension) {
    static const int PRIMITIVE[] = {0, 1, 1, 2, 2, 6, 6, 18, 16, 48, 60};
    int degree = 0;
    for (int left = dimension; left > 0; left -= PRIMITIVE[degree])
        degree++;
    return degree;
}

CLAIM(pairs_of_dimensions_are_nets_of_the_quality_that_their_degrees_promise) {
    /* Source: t is at most the sum of the degrees less 1 (Sobol 1967; Niederreiter 1992,
     * 10.1137/1.9781611970081, theorem 4.49); van der Corput's dimension counts as degree 1. */
    enum { M = 12, DIMENSIONS = 40 };
    double *u = own_points(0, DIMENSIONS, 1 << M);
    for (int i = 0; i < DIMENSIONS; i++)
        for (int j = 0; j < i; j++) {
            const int t = degree_of(i) - 1 + (j > 0 ? degree_of(j) - 1 : 0);
            given("dimensions %d and %d, t = %d", j, i, t);
            if (t < M)
                expect_true(is_net(u + j, u + i, DIMENSIONS, M, t));
        }
    free(u);
}

/* The least t of two columns. */
static int quality(const double *x, const double *y, size_t stride, int m) {
    int t = 0;
    while (t < m && !is_net(x, y, stride, m, t))
        t++;
    return t;
}

CLAIM(no_pair_of_dimensions_is_poor) {
    /* Source: computed by build-aux/sobol-table.py's search, which chose the numbers for it: an
     * earlier result of this project. The largest t that 2^10 points could have is 9. */
    enum { M = 10 };
    double *u = own_points(0, TCR_SOBOL_DIMENSIONS, 1 << M);
    int most = 0, sum = 0;
    for (int i = 1; i < TCR_SOBOL_DIMENSIONS; i++)
        for (int j = 0; j < i; j++) {
            const int t = quality(u + j, u + i, TCR_SOBOL_DIMENSIONS, M);
            most = t > most ? t : most;
            sum += t;
        }
    const double mean = (double)sum / (TCR_SOBOL_DIMENSIONS * (TCR_SOBOL_DIMENSIONS - 1) / 2.0);
    expect_within(most, 0, 8, "as the search found them");
    expect_within(mean, 0.0, 2.74, "as the search found them");
    free(u);
}

CLAIM(the_first_dimensions_have_sobols_property_a) {
    /* Source: Sobol 1976, 10.1016/0041-5553(76)90154-3: of the first 2^d points in d dimensions one
     * lies in each part that halving every side makes. */
    enum { MOST = 16 };
    double *u = own_points(0, MOST, 1 << MOST);
    unsigned char *seen = malloc(1 << MOST);
    for (int d = 1; d <= MOST; d++) {
        memset(seen, 0, 1 << MOST);
        given("%d dimensions", d);
        for (size_t i = 0; i < (size_t)1 << d; i++) {
            size_t part = 0;
            for (int j = 0; j < d; j++)
                part = part << 1 | (u[i * MOST + (size_t)j] >= 0.5);
            seen[part]++;
        }
        for (size_t k = 0; k < (size_t)1 << d; k++)
            expect_count(seen[k], 1);
    }
    free(seen);
    free(u);
}

CLAIM(the_points_are_what_they_were) {
    /* Source: an earlier result of this project: results of studies rest on these points. */
    double *u = own_points(0, TCR_SOBOL_DIMENSIONS, 1024);
    uint64_t sum = 0;
    for (size_t i = 0; i < (size_t)1024 * TCR_SOBOL_DIMENSIONS; i++)
        sum = sum * UINT64_C(6364136223846793005) + (uint64_t)ldexp(u[i], 10) + 1;
    given("the sum is %llx", (unsigned long long)sum);
    expect_true(sum == UINT64_C(0x35eb920b596b0000));
    free(u);
}

/* ---- By index, and shifted ------------------------------------------------------------------- */

CLAIM(any_block_of_points_is_that_of_the_whole) {
    enum { DIMENSIONS = 7, N = 500 };
    double *all = own_points(0, DIMENSIONS, N), part[DIMENSIONS * N];
    expect_near(all[0], 0.0, 0.0, "point 0 is kept");
    for (size_t first = 0; first < N; first += 61)
        for (size_t n = 0; n <= N - first; n += 83) {
            expect_status(tcr_sobol_points(first, n, 0, DIMENSIONS, NULL, part), TCR_OK);
            expect_bytes(part, all + first * DIMENSIONS, n * DIMENSIONS * sizeof *all);
        }
    /* A block of dimensions too. */
    expect_status(tcr_sobol_points(3, 1, 2, 4, NULL, part), TCR_OK);
    expect_bytes(part, all + 3 * DIMENSIONS + 2, 4 * sizeof *all);
    free(all);
}

CLAIM(far_points_are_there_too) {
    const uint64_t last = (UINT64_C(1) << 53) - 1;
    double u[2 * TCR_SOBOL_DIMENSIONS];
    expect_status(tcr_sobol_points(last - 1, 2, 0, TCR_SOBOL_DIMENSIONS, NULL, u), TCR_OK);
    for (int j = 0; j < 2 * TCR_SOBOL_DIMENSIONS; j++)
        expect_within(u[j], 0.0, 1.0 - 0x1p-53, "from 0 to below 1");
    /* Source: the Gray code of 2^53 - 1 is 2^52, so the point is the last direction number. */
    expect_near(u[TCR_SOBOL_DIMENSIONS], 0x1p-53, 0.0, "van der Corput's last bit");
}

CLAIM(a_shift_is_the_exclusive_or_with_words_of_philox) {
    const tcr_sobol_shift shift = {UINT64_C(0x123456789abcdef0), 9};
    const uint32_t key[2] = {0x9abcdef0, 0x12345678};
    double plain[3], shifted[3];
    expect_status(tcr_sobol_points(77, 1, 5, 3, NULL, plain), TCR_OK);
    expect_status(tcr_sobol_points(77, 1, 5, 3, &shift, shifted), TCR_OK);
    for (uint32_t j = 0; j < 3; j++) {
        /* Source: study_design.h, put together here again. */
        const uint32_t counter[4] = {5 + j, 9, 0, 4};
        uint32_t words[4];
        tcr_philox(counter, key, words);
        const uint64_t bits =
            (uint64_t)ldexp(plain[j], 53) ^ (((uint64_t)words[0] << 32) + words[1]) / 2048;
        expect_same(shifted[j], ldexp((double)bits, -53), "whole numbers below 2^53");
    }
}

CLAIM(arguments_out_of_range_are_refused) {
    double u[4];
    const uint64_t end = UINT64_C(1) << 53;
    expect_status(tcr_sobol_points(0, 1, 0, 1, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_sobol_points(end, 1, 0, 1, NULL, u), TCR_E_RANGE);
    expect_status(tcr_sobol_points(end - 1, 2, 0, 1, NULL, u), TCR_E_RANGE);
    expect_status(tcr_sobol_points(UINT64_MAX, SIZE_MAX, 0, 1, NULL, u), TCR_E_RANGE);
    expect_status(tcr_sobol_points(0, 1, TCR_SOBOL_DIMENSIONS, 1, NULL, u), TCR_E_RANGE);
    expect_status(tcr_sobol_points(0, 1, SIZE_MAX, 2, NULL, u), TCR_E_RANGE);
    expect_status(tcr_sobol_points(0, 1, 0, TCR_SOBOL_DIMENSIONS + 1, NULL, u), TCR_E_RANGE);
    expect_status(tcr_sobol_points(end, 0, TCR_SOBOL_DIMENSIONS, 0, NULL, u), TCR_OK);
}

int main(void) {
    static const TTest *const claims[] = {
        &points_by_index_are_those_of_gsl_with_its_direction_numbers,
        &the_first_dimension_is_that_of_gsl_and_of_van_der_corput,
        &every_dimension_puts_one_of_the_first_powers_of_two_into_each_part,
        &pairs_of_dimensions_are_nets_of_the_quality_that_their_degrees_promise,
        &no_pair_of_dimensions_is_poor,
        &the_first_dimensions_have_sobols_property_a,
        &the_points_are_what_they_were,
        &any_block_of_points_is_that_of_the_whole,
        &far_points_are_there_too,
        &a_shift_is_the_exclusive_or_with_words_of_philox,
        &arguments_out_of_range_are_refused,
    };
    refuse_gsl_errors();
    return RUN_CLAIMS("sobol", claims);
}
