/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Order statistics: sorting, selection, median, quantiles. */
#include "num/order.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "support/check.h"
#include "support/make.h"

enum { MOST = 300 };
static double values[MOST], sorted[MOST];

/* Columns that are hard on quicksort, by number. */
enum { SHAPES = 6 };
static void fill(gsl_rng *rng, int shape, size_t n) {
    for (size_t i = 0; i < n; i++) {
        const double rising = (double)i;
        const double shapes[SHAPES] = {
            gsl_rng_uniform(rng),                   /* random */
            rising,                                 /* sorted */
            -rising,                                /* backwards */
            7.0,                                    /* all the same */
            (double)gsl_rng_uniform_int(rng, 3),    /* many ties */
            fabs(rising - (double)(n / 2)) + 1e-300 /* an organ pipe */
        };
        values[i] = shapes[shape];
    }
    memcpy(sorted, values, n * sizeof *values);
    gsl_sort(sorted, 1, n);
}

CLAIM(sorting_gives_gsls_order) {
    gsl_rng *rng = tcr_make_rng(1);
    for (size_t n = 0; n < 200; n++)
        for (int shape = 0; shape < SHAPES; shape++) {
            fill(rng, shape, n);
            tcr_sort(values, n);
            given("%zu values of shape %d", n, shape);
            expect_bytes(values, sorted, n * sizeof *values); /* source: gsl_sort */
        }
    gsl_rng_free(rng);
}

/* An item that knows where it was, larger than the buffer that items are swapped through. */
typedef struct item {
    int key;
    char filling[300];
    size_t was;
} item;

static size_t compared;
static bool by_key(const void *a, const void *b, const void *context) {
    const int sign = *(const int *)context;
    compared++;
    return sign * ((const item *)a)->key < sign * ((const item *)b)->key;
}

CLAIM(items_are_sorted_and_equal_ones_keep_their_order) {
    static item items[MOST];
    gsl_rng *rng = tcr_make_rng(3);
    for (size_t n = 0; n < 120; n++)
        for (int keys = 1; keys <= 1000; keys *= 10)
            for (int sign = -1; sign <= 1; sign += 2) {
                int sum = 0;
                for (size_t i = 0; i < n; i++) {
                    items[i].key = (int)gsl_rng_uniform_int(rng, (unsigned long)keys);
                    items[i].was = i;
                    memset(items[i].filling, (int)i, sizeof items[i].filling);
                    sum += items[i].key;
                }
                tcr_sort_items(items, n, sizeof *items, by_key, &sign);
                given("%zu items of %d keys", n, keys);
                for (size_t i = 0; i < n; i++) { /* source: order.h */
                    if (i > 0)
                        expect_true(
                            sign * items[i - 1].key < sign * items[i].key ||
                            (items[i - 1].key == items[i].key && items[i - 1].was < items[i].was));
                    expect_count((unsigned char)items[i].filling[299], (int)items[i].was);
                    sum -= items[i].key;
                }
                expect_count(sum, 0); /* nothing lost */
            }
    gsl_rng_free(rng);
}

CLAIM(items_in_order_cost_a_comparison_each) {
    static item items[MOST];
    const int sign = 1;
    for (size_t i = 0; i < MOST; i++)
        items[i].key = (int)i;
    compared = 0;
    tcr_sort_items(items, MOST, sizeof *items, by_key, &sign);
    expect_true(compared < MOST); /* one for each merge, and there are n - 1 merges */
}

CLAIM(selection_finds_every_order_statistic) {
    gsl_rng *rng = tcr_make_rng(2);
    for (size_t n = 1; n < 60; n++)
        for (int shape = 0; shape < SHAPES; shape++)
            for (size_t k = 0; k < n; k++) {
                fill(rng, shape, n);
                tcr_select(values, n, k);
                given("number %zu of %zu, shape %d", k, n, shape);
                expect_same(values[k], sorted[k], "gsl_sort, no arithmetic");
                for (size_t i = 0; i < n; i++)
                    expect_true(i < k ? values[i] <= values[k] : values[i] >= values[k]);
                gsl_sort(values, 1, n);
                expect_bytes(values, sorted, n * sizeof *values); /* nothing lost */
            }
    gsl_rng_free(rng);
}

/*
 * An order in which nearly every pivot of this selection is the second smallest, made by the
 * adversary of McIlroy (1999, "A killer adversary for quicksort"): after seven rounds the pivots
 * are given up for heapsort.
 */
CLAIM(selection_survives_an_order_made_against_its_pivots) {
    static const double killer[] = {0, 14, 2, 15, 4,  16, 6,  17, 8,  18, 10, 19, 12, 20, 21, 3,
                                    5, 7,  9, 11, 13, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 1};
    for (size_t k = 0; k < 32; k++) {
        memcpy(values, killer, sizeof killer);
        tcr_select(values, 32, k);
        given("number %zu", k);
        expect_same(values[k], (double)k, "a permutation of 0 to 31, no arithmetic");
        for (size_t i = 0; i < 32; i++)
            expect_true(i < k ? values[i] < values[k] : values[i] >= values[k]);
    }
}

CLAIM(the_median_of_an_odd_count_is_the_middle_value) {
    double odd[] = {9.0, -1.0, 4.0, 2.0, 100.0};
    expect_same(tcr_median(odd, 5), 4.0, "by hand, no arithmetic");
}

CLAIM(the_median_of_an_even_count_is_the_mean_of_the_middle_two) {
    double even[] = {9.0, -1.0, 4.0, 2.0}; /* source: model.md, section 6, by hand */
    expect_same(tcr_median(even, 4), 3.0, "one exact sum");
    double two[] = {1.0, 2.0};
    expect_same(tcr_median(two, 2), 1.5, "one exact sum");
    double one[] = {-3.0};
    expect_same(tcr_median(one, 1), -3.0, "no arithmetic");
}

CLAIM(the_median_is_gsls) {
    gsl_rng *rng = tcr_make_rng(3);
    for (size_t n = 1; n < 300; n++)
        for (int shape = 0; shape < SHAPES; shape++) {
            fill(rng, shape, n);
            given("%zu values of shape %d", n, shape);
            expect_near(tcr_median(values, n), gsl_stats_median_from_sorted_data(sorted, 1, n),
                        1e-13, "rounding of one mean of numbers up to 300");
        }
    gsl_rng_free(rng);
}

CLAIM(the_quantile_is_gsls_type_7) {
    static const double shares[] = {0.0, 1e-9, 0.05, 0.25, 1.0 / 3.0, 0.5, 0.9, 0.95, 0.999, 1.0};
    gsl_rng *rng = tcr_make_rng(4);
    for (size_t n = 1; n < 150; n++)
        for (int shape = 0; shape < SHAPES; shape++)
            for (size_t j = 0; j < sizeof shares / sizeof shares[0]; j++) {
                fill(rng, shape, n);
                given("%zu values of shape %d at %.17g", n, shape, shares[j]);
                expect_near(tcr_quantile(values, n, shares[j]),
                            gsl_stats_quantile_from_sorted_data(sorted, 1, n, shares[j]), 1e-12,
                            "rounding of (n - 1) p, times gaps of up to 1 between 150 values");
            }
    gsl_rng_free(rng);
}

CLAIM(the_quantile_interpolates_as_hyndman_and_fan_write) {
    /*
     * Source: by hand from the definition (1996, 10.1080/00031305.1996.10473566, type 7): of 1 to
     * 10 the place of 0.95 is 9 x 0.95 = 8.55 steps from the first, of 0.25 it is 2.25.
     */
    double ten[] = {7.0, 3.0, 10.0, 1.0, 5.0, 9.0, 2.0, 8.0, 6.0, 4.0};
    expect_near(tcr_quantile(ten, 10, 0.95), 9.55, 1e-14, "rounding of one product and one sum");
    expect_near(tcr_quantile(ten, 10, 0.25), 3.25, 1e-14, "rounding of one product and one sum");
    expect_same(tcr_quantile(ten, 10, 0.0), 1.0, "no arithmetic");
    expect_same(tcr_quantile(ten, 10, 1.0), 10.0, "no arithmetic");
}

int main(void) {
    static const TTest *const claims[] = {
        &sorting_gives_gsls_order,
        &items_are_sorted_and_equal_ones_keep_their_order,
        &items_in_order_cost_a_comparison_each,
        &selection_finds_every_order_statistic,
        &selection_survives_an_order_made_against_its_pivots,
        &the_median_of_an_odd_count_is_the_middle_value,
        &the_median_of_an_even_count_is_the_mean_of_the_middle_two,
        &the_median_is_gsls,
        &the_quantile_is_gsls_type_7,
        &the_quantile_interpolates_as_hyndman_and_fan_write,
    };
    return RUN_CLAIMS("order", claims);
}
