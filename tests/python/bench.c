/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The C side of bench.py: it times the same work in the same process, without Python between. No
 * test and no part of the package.
 */
#include <time.h>

#include <tipcrest/study.h>
#include <tipcrest/tipcrest.h>

static double now_s(void) {
    struct timespec t;
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Checks 'count' times; returns the seconds, and the sum of what was found. */
double bench_checks(const tcr_set *set, size_t count, int figures_only, double *sum) {
    tcr_check_options options = tcr_check_options_default();
    if (figures_only) {
        options.parts = TCR_PART_FITTED | TCR_PART_INTENDED;
        options.figures_only = true;
    }
    const double start = now_s();
    for (size_t i = 0; i < count; i++) {
        tcr_check *check;
        if (tcr_check_new(set, &options, &check, NULL) != TCR_OK)
            return -1.0;
        *sum += tcr_check_eye(check, TCR_LEFT)->fitted.upright.rms_mm;
        tcr_check_free(check);
    }
    return now_s() - start;
}

/* Evaluates a study of one output, one point after the other: the values of one factor. */
double bench_trials(const tcr_study *study, const double *value, size_t count, double *sum) {
    tcr_trial *trial;
    double output;
    const double start = now_s();
    if (tcr_trial_new(study, &trial) != TCR_OK)
        return -1.0;
    for (size_t i = 0; i < count; i++) {
        if (tcr_trial_evaluate(trial, &value[i], 0, &output, NULL) == TCR_OK)
            *sum += output;
    }
    tcr_trial_free(trial);
    return now_s() - start;
}

/* Makes a study with one factor and one output, and evaluates it at once. */
double bench_sweep(const tcr_set *set, const double *level, size_t count, size_t threads,
                   double *value) {
    const tcr_factor factor = {
        .key = "layering.step_mm", .distribution = TCR_LEVELS, .level = level, .levels = count};
    tcr_study_run_options options = tcr_study_run_options_default();
    tcr_study *study = NULL;
    options.threads = threads;
    const double start = now_s();
    tcr_status status = tcr_study_new(NULL, set, NULL, &study, NULL);
    if (status == TCR_OK)
        status = tcr_study_add_factor(study, &factor, NULL);
    if (status == TCR_OK)
        status = tcr_study_add_output(study, "fitted.rms_mm", NULL);
    if (status == TCR_OK)
        status = tcr_study_evaluate(study, 0, count, &options, value, NULL);
    tcr_study_free(study);
    return status == TCR_OK ? now_s() - start : -1.0;
}
