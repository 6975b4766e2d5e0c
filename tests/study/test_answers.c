/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a set to an answer: sensitivities and rankings of real eyes, by the public calls alone. */
#include <math.h>
#include <stdlib.h>

#include <tipcrest/study.h>

#include "study/no_gsl_error.h"
#include "study/sets.h"
#include "support/check.h"

static tcr_study *new_study(const tcr_set *set, const tcr_study_options *o, const char *output) {
    tcr_study *study;
    expect_status(tcr_study_new(NULL, set, o, &study, NULL), TCR_OK);
    expect_status(tcr_study_add_output(study, output, NULL), TCR_OK);
    return study;
}

static double *evaluate(const tcr_study *study, uint64_t *points) {
    const size_t runs = tcr_study_runs(study) > 0 ? tcr_study_runs(study) : 1;
    expect_status(tcr_study_count(study, points, NULL), TCR_OK);
    double *value = malloc((size_t)*points * runs * sizeof *value);
    tcr_status *status = malloc((size_t)*points * runs * sizeof *status);
    expect_status(tcr_study_evaluate(study, 0, (size_t)*points, NULL, value, status), TCR_OK);
    for (size_t i = 0; i < (size_t)*points * runs; i++)
        expect_status(status[i], TCR_OK);
    free(status);
    return value;
}

static void add_uniform(tcr_study *study, const char *key, double least, double most) {
    const tcr_factor f = {.key = key, .distribution = TCR_UNIFORM, .least = least, .most = most};
    expect_status(tcr_study_add_factor(study, &f, NULL), TCR_OK);
}

CLAIM(a_factor_that_an_output_does_not_depend_on_has_no_share_of_it) {
    enum { FACTORS = 2, POINTS = 64, RUNS = 2 };
    tcr_set *set = described_set();
    tcr_study_options o = tcr_study_options_default();
    o.design = TCR_DESIGN_SENSITIVITY;
    o.points = POINTS;
    o.runs = RUNS;
    tcr_study *study = new_study(set, &o, "fitted.rms_mm");
    add_uniform(study, "layering.step_mm", 0.0, 2.0);
    add_uniform(study, "line.tolerance_mm", 0.2, 1.0); /* of which the rms knows nothing */
    uint64_t points;
    double *value = evaluate(study, &points), scratch[RUNS];
    double *mean = malloc((size_t)points * sizeof *mean),
           *spread = malloc((size_t)points * sizeof *mean);
    for (size_t i = 0; i < points; i++) {
        tcr_summary s;
        expect_status(tcr_summarise(value + i * RUNS, RUNS, 1, scratch, &s), TCR_OK);
        mean[i] = s.mean;
        spread[i] = s.se * s.se * (double)s.runs;
    }
    tcr_sobol_index index[FACTORS];
    tcr_sobol_variance variance;
    expect_status(
        tcr_sobol_indices(mean, spread, 1, FACTORS, POINTS, o.scramblings, 0.95, index, &variance),
        TCR_OK);
    expect_near(index[1].first.estimate, 0.0, 0.0, "the mixed points equal those of A");
    expect_near(index[1].total.estimate, 0.0, 0.0, "the mixed points equal those of A");
    /* Source: what one factor leaves to the other; 1024 base points, so to a tenth. */
    expect_near(index[0].total.estimate, 1.0, 0.1, "all of it");
    expect_true(index[0].total.low <= 1.0 && index[0].total.high >= 1.0);
    expect_true(variance.left > 0.0 && variance.left_share > 0.0 && variance.left_share < 1.0);
    free(spread);
    free(mean);
    free(value);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(the_best_step_is_told_from_one_that_is_far_off) {
    enum { RUNS = 30 };
    tcr_set *set = described_set();
    tcr_study_options o = tcr_study_options_default();
    o.runs = RUNS;
    tcr_study *study = new_study(set, &o, "fitted.rms_mm");
    const double steps[] = {0.0, 0.5, 1.0, 3.0};
    add_levels(study, "layering.step_mm", steps, 4);
    uint64_t points;
    double *value = evaluate(study, &points);
    tcr_ranked ranked[4];
    expect_status(tcr_best_of(NULL, value, 1, 4, RUNS, NULL, ranked), TCR_OK);
    for (int i = 0; i < 4; i++) {
        double sum = 0.0;
        for (size_t r = 0; r < RUNS; r++)
            sum += value[ranked[i].combination * RUNS + r];
        expect_near(ranked[i].value, sum / RUNS, 1e-15, "its own mean");
        if (i > 0)
            expect_true(ranked[i].value >= ranked[i - 1].value);
    }
    /* Source: 3 mm a layer puts the top layer 6 mm below the bottom one, whatever the lashes. */
    expect_count(ranked[3].combination, 3);
    expect_count(ranked[3].standing, TCR_STANDING_WORSE);
    free(value);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(runs_are_the_same_lashes_for_every_point) {
    /* Source: where the tolerance alone varies, each run has the same tips, so the same rms. */
    enum { RUNS = 20 };
    tcr_set *set = described_set();
    tcr_study_options o = tcr_study_options_default();
    o.runs = RUNS;
    tcr_study *study = new_study(set, &o, "fitted.rms_mm");
    add_levels(study, "line.tolerance_mm", (const double[]){0.3, 0.6}, 2);
    uint64_t points;
    double *value = evaluate(study, &points);
    for (size_t r = 0; r < RUNS; r++) {
        given("run %zu", r);
        expect_same(value[RUNS + r], value[r], "the same tips");
        if (r > 0)
            expect_true(value[r] != value[r - 1]); /* and other runs have other lashes */
    }
    free(value);
    tcr_study_free(study);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_factor_that_an_output_does_not_depend_on_has_no_share_of_it,
        &the_best_step_is_told_from_one_that_is_far_off,
        &runs_are_the_same_lashes_for_every_point,
    };
    refuse_gsl_errors();
    return RUN_CLAIMS("answers", claims);
}
