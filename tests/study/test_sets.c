/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A block of sets: the outputs of checks of them, for any threads, with failures and a stop. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/study.h>

#include "study/no_gsl_error.h"
#include "study/sets.h"
#include "support/check.h"

enum { SETS = 70, OUTPUTS = 3 };

/* Two eyes with another step from layer to layer each; set 13 has one eye, the tray of set 29 lacks
 * lengths. */
static void make_sets(tcr_set *sets[SETS]) {
    for (int i = 0; i < SETS; i++) {
        sets[i] = surveyed_set();
        tcr_layering layering = tcr_layering_default();
        layering.step_mm = 0.03 * i;
        expect_status(tcr_set_put_layering(sets[i], &layering), TCR_OK);
    }
    const tcr_tray tray = tcr_tray_default();
    expect_status(tcr_set_remove_eye(sets[13], TCR_RIGHT), TCR_OK);
    expect_status(tcr_set_put_tray(sets[29], &tray), TCR_OK);
}

static void free_sets(tcr_set *sets[SETS]) {
    for (int i = 0; i < SETS; i++)
        tcr_set_free(sets[i]);
}

static tcr_study *study_of(const tcr_set *set) {
    static const char *const NAMES[OUTPUTS] = {"left.fitted.rms_mm", "right.load.mass_ratio.max",
                                               "symmetry.rms_mm"};
    tcr_study *study;
    expect_status(tcr_study_new(NULL, set, NULL, &study, NULL), TCR_OK);
    for (int i = 0; i < OUTPUTS; i++)
        expect_status(tcr_study_add_output(study, NAMES[i], NULL), TCR_OK);
    return study;
}

/* The largest of a column; no lash of these sets lacks a number but bare ones. */
static double largest(const tcr_check *check, tcr_side side, const char *name) {
    static double column[40];
    double most = NAN;
    expect_status(tcr_check_column(check, side, tcr_quantity_find(name), column, 40), TCR_OK);
    for (int i = 0; i < 40; i++)
        most = fmax(most, column[i]);
    return most;
}

CLAIM(the_outputs_are_those_of_a_check_of_each_set_for_any_threads) {
    tcr_set *sets[SETS];
    make_sets(sets);
    tcr_study *study = study_of(sets[0]);
    for (size_t threads = 1; threads <= 3; threads++) {
        double value[SETS * OUTPUTS];
        tcr_status status[SETS];
        tcr_study_run_options o = tcr_study_run_options_default();
        o.threads = threads;
        expect_status(
            tcr_study_evaluate_sets(study, (const tcr_set *const *)sets, SETS, &o, value, status),
            TCR_OK);
        for (int i = 0; i < SETS; i++) {
            tcr_check *check;
            tcr_symmetry symmetry;
            given("%zu threads, set %d", threads, i);
            expect_status(status[i], i == 13 ? TCR_E_MISSING : i == 29 ? TCR_E_TRAY : TCR_OK);
            if (status[i] != TCR_OK) {
                for (int k = 0; k < OUTPUTS; k++)
                    expect_nan(value[i * OUTPUTS + k]);
                continue;
            }
            expect_status(tcr_check_new(sets[i], NULL, &check, NULL), TCR_OK);
            expect_status(tcr_check_symmetry(check, &symmetry), TCR_OK);
            expect_same(value[i * OUTPUTS], tcr_check_eye(check, TCR_LEFT)->fitted.upright.rms_mm,
                        "the same operations");
            expect_same(value[i * OUTPUTS + 1], largest(check, TCR_RIGHT, "mass_ratio"),
                        "the same operations");
            expect_same(value[i * OUTPUTS + 2], symmetry.rms_mm, "the same operations");
            tcr_check_free(check);
        }
        /* Without statuses, too. */
        double again[SETS * OUTPUTS];
        expect_status(
            tcr_study_evaluate_sets(study, (const tcr_set *const *)sets, SETS, &o, again, NULL),
            TCR_OK);
        expect_bytes(again, value, sizeof value);
    }
    tcr_study_free(study);
    free_sets(sets);
}

CLAIM(an_output_of_an_eye_that_is_not_there_is_missing) {
    static const char *const NAMES[] = {"symmetry.rms_mm", "right.fitted.rms_mm"};
    tcr_set *sets[SETS];
    make_sets(sets);
    for (int i = 0; i < 2; i++) {
        tcr_study *study;
        double value = 0.0;
        tcr_status status;
        given("%s", NAMES[i]);
        expect_status(tcr_study_new(NULL, sets[0], NULL, &study, NULL), TCR_OK);
        expect_status(tcr_study_add_output(study, NAMES[i], NULL), TCR_OK);
        const tcr_set *one_eyed[] = {sets[13]};
        expect_status(tcr_study_evaluate_sets(study, one_eyed, 1, NULL, &value, &status), TCR_OK);
        expect_status(status, TCR_E_MISSING); /* source: study.h */
        expect_nan(value);
        tcr_study_free(study);
    }
    free_sets(sets);
}

static bool stop_at_once(void *context, const char *phase, double share) {
    expect_text(phase, "sets");
    expect_within(share, 0.0, 1.0, "a share");
    ++*(int *)context;
    return false;
}

CLAIM(wrong_calls_are_refused_and_progress_stops) {
    tcr_set *sets[SETS];
    make_sets(sets);
    tcr_study *study = study_of(sets[0]);
    const tcr_set *const *const given_sets = (const tcr_set *const *)sets;
    double value[SETS * OUTPUTS];
    tcr_study_run_options o = tcr_study_run_options_default();
    /* Source: study.h. */
    expect_status(tcr_study_evaluate_sets(NULL, given_sets, SETS, NULL, value, NULL),
                  TCR_E_ARGUMENT);
    expect_status(tcr_study_evaluate_sets(study, NULL, SETS, NULL, value, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_evaluate_sets(study, given_sets, SETS, NULL, NULL, NULL),
                  TCR_E_ARGUMENT);
    expect_status(tcr_study_evaluate_sets(study, NULL, 0, NULL, NULL, NULL), TCR_OK);
    const tcr_set *with_null[] = {sets[0], NULL};
    expect_status(tcr_study_evaluate_sets(study, with_null, 2, NULL, value, NULL), TCR_E_ARGUMENT);
    o.threads = TCR_THREADS_MAX + 1;
    expect_status(tcr_study_evaluate_sets(study, given_sets, SETS, &o, value, NULL), TCR_E_RANGE);
    int calls = 0;
    const tcr_set *many[2000];
    static double room[2000 * OUTPUTS];
    for (int i = 0; i < 2000; i++)
        many[i] = sets[i % SETS];
    o.progress = (tcr_progress){stop_at_once, &calls};
    o.threads = 1; /* with one, the report comes between the tiles */
    expect_status(tcr_study_evaluate_sets(study, many, 2000, &o, room, NULL), TCR_E_STOPPED);
    expect_count(calls, 1);
    tcr_study_free(study);
    free_sets(sets);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_outputs_are_those_of_a_check_of_each_set_for_any_threads,
        &an_output_of_an_eye_that_is_not_there_is_missing,
        &wrong_calls_are_refused_and_progress_stops,
    };
    refuse_gsl_errors();
    return RUN_CLAIMS("sets", claims);
}
