/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which combination is best: on numbers by hand, and on synthetic studies with a known truth. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>

#include <tipcrest/study_answer.h>

#include "study/no_gsl_error.h"
#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"
#include "support/options.h"

static tcr_ranked *rank(const double *value, size_t combinations, size_t runs,
                        const tcr_best_options *options) {
    tcr_ranked *ranked = malloc(combinations * sizeof *ranked);
    expect_status(tcr_best_of(NULL, value, 1, combinations, runs, options, ranked), TCR_OK);
    return ranked;
}

CLAIM(combinations_are_ranked_by_their_mean_and_compared_run_by_run) {
    const double value[3][4] = {
        {0.5, 0.7, 0.6, 0.8}, {0.3, 0.5, 0.4, 0.6}, {0.31, 0.52, 0.43, 0.6}};
    tcr_ranked *r = rank(value[0], 3, 4, NULL);
    expect_count(r[0].combination, 1);
    expect_count(r[1].combination, 2);
    expect_count(r[2].combination, 0);
    expect_near(r[0].value, 0.45, 1e-15, "a mean of four");
    expect_count(r[0].standing, TCR_STANDING_FIRST);
    expect_near(r[0].difference.estimate, 0.0, 0.0, "the first beside itself");
    expect_nan(r[0].difference.low);
    /* Source: the runs of the other lie 0.2 above in every run, so there is no error. */
    expect_near(r[2].difference.estimate, 0.2, 1e-15, "equal differences");
    expect_near(r[2].difference.low, 0.2, 1e-14, "equal differences");
    expect_count(r[2].standing, TCR_STANDING_WORSE);
    /* Source: differences 0.01 0.02 0.03 0, mean 0.015, sd sqrt(5/3)/100; Student's t with 3
     * degrees of freedom at 1 - 0.05/3/2, three pairs. */
    const double half = gsl_cdf_tdist_Pinv(1.0 - 0.05 / 6.0, 3.0) * sqrt(5.0 / 3.0) / 100.0 / 2.0;
    expect_near(r[1].difference.estimate, 0.015, 1e-15, "a mean of four");
    expect_near(r[1].difference.high, 0.015 + half, 1e-12, "rounding");
    expect_near(r[1].difference.low, 0.015 - half, 1e-12, "rounding");
    expect_count(r[1].standing, half + 0.015 <= 0.05 ? TCR_STANDING_ALIKE : TCR_STANDING_OPEN);
    free(r);
}

CLAIM(the_largest_is_best_where_that_is_asked_for) {
    const double value[2][3] = {{0.8, 0.9, 0.85}, {0.7, 0.8, 0.75}};
    tcr_best_options o = tcr_best_options_default();
    o.most = true;
    tcr_ranked *r = rank(value[0], 2, 3, &o);
    expect_count(r[0].combination, 0);
    expect_near(r[0].value, 0.85, 1e-15, "a mean of three");
    expect_near(r[1].value, 0.75, 1e-15, "a mean of three");
    expect_near(r[1].difference.estimate, 0.1, 1e-15, "how much worse, so above 0");
    free(r);
}

CLAIM(what_has_no_value_never_looks_best) {
    const double value[4][3] = {
        {0.3, 0.4, 0.5}, {NAN, 0.0, 0.0}, {0.2, 0.3, 0.4}, {INFINITY, -INFINITY, 0.0}};
    tcr_ranked *r = rank(value[0], 4, 3, NULL);
    expect_count(r[0].combination, 2);
    expect_count(r[1].combination, 0);
    expect_count(r[2].combination, 1);
    expect_count(r[2].missing, 1);
    expect_count(r[3].missing, 2);
    for (int i = 2; i < 4; i++) {
        expect_nan(r[i].value);
        expect_nan(r[i].difference.estimate);
        expect_count(r[i].standing, TCR_STANDING_NONE);
    }
    free(r);
    const double none[2][2] = {{NAN, NAN}, {NAN, 1.0}};
    r = rank(none[0], 2, 2, NULL);
    expect_count(r[0].standing, TCR_STANDING_NONE);
    expect_count(r[1].standing, TCR_STANDING_NONE);
    free(r);
}

CLAIM(values_without_chance_are_compared_as_they_are) {
    const double value[] = {0.30, 0.31, 0.50, 0.30};
    tcr_best_options o = tcr_best_options_default();
    o.exact = true;
    tcr_ranked *r = rank(value, 4, 1, &o);
    expect_count(r[0].combination, 0); /* of equal ones the first of the call */
    expect_count(r[1].combination, 3);
    expect_count(r[1].standing, TCR_STANDING_ALIKE);
    expect_count(r[2].standing, TCR_STANDING_ALIKE); /* 0.01 is within 0.05 */
    expect_count(r[3].standing, TCR_STANDING_WORSE);
    expect_near(r[3].difference.low, 0.2, 1e-15, "a difference of two");
    free(r);
}

CLAIM(percentile_and_worst_case_come_from_the_runs) {
    enum { RUNS = 160 };
    double value[2][RUNS];
    for (int i = 0; i < RUNS; i++) {
        value[0][i] = (double)((i * 37) % RUNS); /* 0 to 159, mixed */
        value[1][i] = value[0][i] + 5.0;
    }
    tcr_best_options o = tcr_best_options_default();
    o.by = TCR_BEST_P90;
    tcr_ranked *r = rank(value[0], 2, RUNS, &o);
    expect_near(r[0].value, 0.9 * 159.0, 1e-12, "quantile of type 7 of 0 to 159");
    expect_near(r[1].difference.low, 5.0, 1e-10, "equal differences in every batch");
    free(r);
    o.by = TCR_BEST_WORST;
    r = rank(value[0], 2, RUNS, &o);
    double sum = 0.0;
    for (int b = 0; b < 16; b++) {
        double worst = 0.0;
        for (int i = 0; i < 10; i++)
            worst = fmax(worst, value[0][10 * b + i]);
        sum += worst;
    }
    expect_near(r[0].value, sum / 16.0, 1e-12, "the mean of the batches' worst");
    expect_near(r[1].difference.estimate, 5.0, 1e-12, "equal differences in every batch");
    free(r);
}

/* ---- Synthetic studies ----------------------------------------------------------------------- */

enum { COMBINATIONS = 8, BATCH_RUNS = 320 };

/* A study whose truth is known: skewed runs that all combinations share in part, as lashes do. */
typedef struct synthetic {
    double shift[COMBINATIONS];
    double scale[COMBINATIONS];
} synthetic;

static double normal(gsl_rng *rng) { return gsl_ran_ugaussian(rng); }

static synthetic draw_synthetic(gsl_rng *rng) {
    synthetic s;
    for (int c = 0; c < COMBINATIONS; c++) {
        s.shift[c] = 0.5 + 0.02 * normal(rng); /* near each other, so that mistakes are possible */
        s.scale[c] = 0.10 * exp(0.1 * normal(rng));
    }
    return s;
}

static void draw_runs(const synthetic *s, gsl_rng *rng, size_t runs, double *value) {
    for (size_t r = 0; r < runs; r++) {
        const double shared = normal(rng);
        for (size_t c = 0; c < COMBINATIONS; c++) {
            const double z = 0.8 * shared + 0.6 * normal(rng); /* standard normal */
            value[c * runs + r] = s->shift[c] + s->scale[c] * z;
        }
    }
}

/* The criterion of a normal run in closed form; of the worst, by the mean of the largest of n
 * normal numbers, Blom's approximation being near enough for the order: the scale decides it alike.
 */
static double truth(const synthetic *s, int c, tcr_best_by by, double worst) {
    const double z = by == TCR_BEST_MEAN ? 0.0 : by == TCR_BEST_P90 ? 1.2815515655446004 : worst;
    return s->shift[c] + s->scale[c] * z;
}

/* The mean of the largest of n normal numbers, by the trapezoidal rule. */
static double mean_of_largest(size_t n) {
    double sum = 0.0;
    const double step = 1e-3;
    for (double z = -10.0; z < 10.0; z += step)
        sum += step * z * (double)n * pow(gsl_cdf_ugaussian_P(z), (double)n - 1.0) *
               gsl_ran_ugaussian_pdf(z);
    return sum;
}

/* Whether any statement about a study is wrong. */
static bool is_wrong(const synthetic *s, const tcr_ranked *r, tcr_best_by by, double alike,
                     double worst) {
    const double first = truth(s, (int)r[0].combination, by, worst);
    for (int i = 1; i < COMBINATIONS; i++) {
        const double difference = truth(s, (int)r[i].combination, by, worst) - first;
        if ((r[i].standing == TCR_STANDING_WORSE && difference <= 0.0) ||
            (r[i].standing == TCR_STANDING_ALIKE && difference > alike))
            return true;
    }
    return false;
}

static size_t count_wrong(tcr_best_by by, size_t runs, size_t studies, size_t *told) {
    gsl_rng *rng = tcr_make_rng(20 + (unsigned long)by);
    double *value = malloc(COMBINATIONS * runs * sizeof *value);
    const double worst = mean_of_largest(runs / TCR_BEST_BATCHES);
    size_t wrong = 0;
    *told = 0;
    for (size_t i = 0; i < studies; i++) {
        const synthetic s = draw_synthetic(rng);
        tcr_best_options o = tcr_best_options_default();
        o.by = by;
        o.alike = 0.01;
        draw_runs(&s, rng, runs, value);
        tcr_ranked *r = rank(value, COMBINATIONS, runs, &o);
        wrong += is_wrong(&s, r, by, o.alike, worst);
        for (int c = 1; c < COMBINATIONS; c++)
            *told += r[c].standing == TCR_STANDING_WORSE || r[c].standing == TCR_STANDING_ALIKE;
        free(r);
    }
    free(value);
    gsl_rng_free(rng);
    return wrong;
}

CLAIM(at_most_one_study_in_twenty_says_anything_wrong) {
    const size_t studies = 1000, runs[] = {40, BATCH_RUNS, BATCH_RUNS};
    for (int by = 0; by < TCR_BEST_BYS; by++) {
        size_t told;
        given("by %s", tcr_best_by_text((tcr_best_by)by));
        const size_t wrong = count_wrong((tcr_best_by)by, runs[by], studies, &told);
        /* Source: the level of 0.95, whatever is said of all seven others together. */
        expect_within((double)wrong, 0.0, 0.05 * (double)studies, "the stated level");
        /* And it says something: of 7000 comparisons a tenth at least. */
        expect_true(told > studies * (COMBINATIONS - 1) / 10);
    }
}

CLAIM(equal_combinations_are_seldom_told_apart) {
    enum { RUNS = 20, STUDIES = 1000 };
    gsl_rng *rng = tcr_make_rng(5);
    double value[COMBINATIONS * RUNS];
    size_t wrong = 0;
    for (int i = 0; i < STUDIES; i++) {
        synthetic s;
        for (int c = 0; c < COMBINATIONS; c++) {
            s.shift[c] = 0.5;
            s.scale[c] = 0.1;
        }
        tcr_best_options o = tcr_best_options_default();
        o.alike = 0.0;
        draw_runs(&s, rng, RUNS, value);
        tcr_ranked *r = rank(value, COMBINATIONS, RUNS, &o);
        bool any = false;
        for (int c = 1; c < COMBINATIONS; c++)
            any = any || r[c].standing == TCR_STANDING_WORSE;
        wrong += any;
        free(r);
    }
    gsl_rng_free(rng);
    /* Source: the level of 0.95 for all pairs; the first was chosen by the same runs. */
    expect_within((double)wrong, 0.0, 50.0, "the stated level");
}

/* ---- Arguments ------------------------------------------------------------------------------- */

CLAIM(too_few_runs_are_refused) {
    double value[2 * 160] = {0.0};
    tcr_ranked r[2];
    tcr_best_options o = tcr_best_options_default();
    expect_status(tcr_best_of(NULL, value, 1, 2, 1, &o, r), TCR_E_FEW);
    o.by = TCR_BEST_P90;
    expect_status(tcr_best_of(NULL, value, 1, 2, 159, &o, r), TCR_E_FEW);
    expect_status(tcr_best_of(NULL, value, 1, 2, 160, &o, r), TCR_OK);
    o.by = TCR_BEST_WORST;
    expect_status(tcr_best_of(NULL, value, 1, 2, 31, &o, r), TCR_E_FEW);
    expect_status(tcr_best_of(NULL, value, 1, 2, 32, &o, r), TCR_OK);
}

CLAIM(arguments_out_of_range_are_refused) {
    const double value[4] = {0.0, 1.0, 2.0, 3.0};
    tcr_ranked r[2];
    tcr_best_options o = tcr_best_options_default();
    expect_status(tcr_best_of(NULL, NULL, 1, 2, 2, NULL, r), TCR_E_ARGUMENT);
    expect_status(tcr_best_of(NULL, value, 0, 2, 2, NULL, r), TCR_E_ARGUMENT);
    expect_status(tcr_best_of(NULL, value, 1, 0, 2, NULL, r), TCR_E_ARGUMENT);
    expect_status(tcr_best_of(NULL, value, 1, 2, 2, NULL, NULL), TCR_E_ARGUMENT);
    const double wrong[] = {-1.0, NAN, INFINITY};
    for (size_t i = 0; i < 3; i++) {
        o = tcr_best_options_default();
        o.alike = wrong[i];
        expect_status(tcr_best_of(NULL, value, 1, 2, 2, &o, r), TCR_E_RANGE);
        o = tcr_best_options_default();
        o.level = wrong[i];
        expect_status(tcr_best_of(NULL, value, 1, 2, 2, &o, r), TCR_E_RANGE);
    }
    o = tcr_best_options_default();
    o.by = (tcr_best_by)3;
    expect_status(tcr_best_of(NULL, value, 1, 2, 2, &o, r), TCR_E_ARGUMENT);
}

static tcr_status call_best(const void *options, void *context) {
    const double value[4] = {0.0, 1.0, 2.0, 3.0};
    return tcr_best_of(NULL, value, 1, 2, 2, options, context);
}

CLAIM(options_may_be_those_of_an_older_header) {
    tcr_ranked r[2];
    const tcr_best_options o = tcr_best_options_default();
    tcr_expect_sizes(&o, sizeof o, call_best, r);
}

CLAIM(without_memory_nothing_is_ranked) {
    const double value[4] = {0.0, 1.0, 2.0, 3.0};
    for (size_t fail = 1; fail <= 4; fail++) {
        tcr_counted counted = {.fail_at = fail};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_ranked r[2] = {{.combination = 77}};
        const tcr_status status = tcr_best_of(&allocator, value, 1, 2, 2, NULL, r);
        expect_status(status, fail < 4 ? TCR_E_MEMORY : TCR_OK);
        expect_count(r[0].combination, fail < 4 ? 77 : 0);
        expect_count(counted.blocks, 0);
    }
}

CLAIM(figures_over_runs_are_those_of_the_textbook) {
    /* Source: mean 3, sd sqrt(2.5); quantiles of type 7 of 1 to 5 lie at 1 + 4 p. */
    const double value[] = {4.0, NAN, 1.0, NAN, 5.0, NAN, 2.0, NAN, 3.0, NAN};
    double scratch[5];
    tcr_summary s;
    expect_status(tcr_summarise(value, 5, 2, scratch, &s), TCR_OK);
    expect_count(s.runs, 5);
    expect_near(s.mean, 3.0, 0.0, "small whole numbers");
    expect_near(s.se, sqrt(2.5 / 5.0), 1e-15, "rounding");
    expect_near(s.p5, 1.2, 1e-15, "rounding");
    expect_near(s.p95, 4.8, 1e-15, "rounding");
    expect_status(tcr_summarise(value + 1, 5, 2, scratch, &s), TCR_OK);
    expect_count(s.runs, 0);
    expect_nan(s.mean);
    expect_nan(s.p5);
    expect_status(tcr_summarise(value, 1, 1, scratch, &s), TCR_OK);
    expect_near(s.mean, 4.0, 0.0, "one value");
    expect_nan(s.se);
    expect_status(tcr_summarise(NULL, 1, 1, scratch, &s), TCR_E_ARGUMENT);
    expect_status(tcr_summarise(value, 0, 1, scratch, &s), TCR_E_ARGUMENT);
    expect_status(tcr_summarise(value, 1, 0, scratch, &s), TCR_E_ARGUMENT);
    expect_status(tcr_summarise(value, 1, 1, NULL, &s), TCR_E_ARGUMENT);
    expect_status(tcr_summarise(value, 1, 1, scratch, NULL), TCR_E_ARGUMENT);
}

int main(void) {
    static const TTest *const claims[] = {
        &combinations_are_ranked_by_their_mean_and_compared_run_by_run,
        &the_largest_is_best_where_that_is_asked_for,
        &what_has_no_value_never_looks_best,
        &values_without_chance_are_compared_as_they_are,
        &percentile_and_worst_case_come_from_the_runs,
        &at_most_one_study_in_twenty_says_anything_wrong,
        &equal_combinations_are_seldom_told_apart,
        &too_few_runs_are_refused,
        &arguments_out_of_range_are_refused,
        &options_may_be_those_of_an_older_header,
        &without_memory_nothing_is_ranked,
        &figures_over_runs_are_those_of_the_textbook,
    };
    refuse_gsl_errors();
    return RUN_CLAIMS("best", claims);
}
