/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Studies: what they take as factors and outputs, their points, and single evaluations. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/random.h>
#include <tipcrest/study.h>

#include "study/no_gsl_error.h"
#include "study/sets.h"
#include "support/check.h"
#include "support/memory.h"
#include "support/options.h"

static tcr_study *study_of(const tcr_set *set, const tcr_study_options *options) {
    tcr_study *study;
    tcr_error error = tcr_error_none();
    if (tcr_study_new(NULL, set, options, &study, &error) != TCR_OK)
        ck_abort_msg("%s", error.message);
    return study;
}

/* ---- Factors --------------------------------------------------------------------------------- */

CLAIM(a_factor_is_kept_with_its_own_levels) {
    tcr_set *set = described_set();
    tcr_study *study = study_of(set, NULL);
    double level[] = {1.0, 2.0};
    add_levels(study, "placement.middle", level, 2);
    level[0] = 99.0;
    const tcr_study_factor *f = tcr_study_factor_at(study, 0);
    expect_text(f->key.name, "layering.placement.middle");
    expect_text(f->factor.key, "layering.placement.middle");
    expect_near(f->factor.level[0], 1.0, 0.0, "the study's own copy");
    expect_count(tcr_study_factor_count(study), 1);
    expect_true(tcr_study_factor_at(study, 1) == NULL);
    expect_count(tcr_study_factor_count(NULL), 0);
    expect_true(tcr_study_factor_at(NULL, 0) == NULL);
    tcr_study_free(study);
    tcr_set_free(set);
}

static void expect_refused(tcr_study *study, const tcr_factor *factor, tcr_status status,
                           const char *message) {
    tcr_error error = tcr_error_none();
    const size_t before = tcr_study_factor_count(study);
    given("factor %s", factor->key);
    expect_status(tcr_study_add_factor(study, factor, &error), status);
    expect_text(error.message, message);
    expect_count(tcr_study_factor_count(study), before);
}

CLAIM(factors_that_cannot_be_are_refused_with_the_reason) {
    tcr_set *set = described_set();
    tcr_study_options o = tcr_study_options_default();
    o.runs = 2;
    tcr_study *study = study_of(set, &o);
    const double one[] = {1.0}, far[] = {1.0, 4.0};
    add_levels(study, "lid.mrd1_mm", (const double[]){3.0}, 1);
    add_levels(study, "line.tolerance_mm", one, 1);
    expect_refused(study, &(tcr_factor){"layering.step", TCR_LEVELS, one, 1, 0, 0, 0, 0, 0},
                   TCR_E_MISSING,
                   "the set has no key \"layering.step\"; did you mean layering.step_mm?");
    expect_refused(study, &(tcr_factor){"layering.step_mm", TCR_LEVELS, far, 2, 0, 0, 0, 0, 0},
                   TCR_E_RANGE, "layering.step_mm is 4, but must be from 0 to 3 mm");
    expect_refused(study, &(tcr_factor){"eyes.left.lid.mrd1_mm", TCR_LEVELS, one, 1, 0, 0, 0, 0, 0},
                   TCR_E_DUPLICATE, "lid.mrd1_mm and eyes.left.lid.mrd1_mm are one factor");
    const double distance[] = {400.0};
    expect_refused(study,
                   &(tcr_factor){"line.seen_from_mm", TCR_LEVELS, distance, 1, 0, 0, 0, 0, 0},
                   TCR_E_DUPLICATE, "line.tolerance_mm and line.seen_from_mm are one factor");
    expect_refused(
        study, &(tcr_factor){.key = "layering.step_mm", .distribution = TCR_UNIFORM, .most = 2},
        TCR_E_ARGUMENT,
        "a grid takes a list or a range for layering.step_mm; a distribution needs random "
        "or Sobol points");
    expect_refused(study,
                   &(tcr_factor){.key = "curl", .distribution = TCR_NORMAL, .mean = 1, .sd = 1},
                   TCR_E_ARGUMENT, "curl takes a list of values and no distribution");
    expect_refused(
        study, &(tcr_factor){"describe.seed", TCR_LEVELS, one, 1, 0, 0, 0, 0, 0}, TCR_E_ARGUMENT,
        "lashes.describe.seed is no factor of a study with runs, which have seeds of their "
        "own");
    expect_status(tcr_study_add_factor(study, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_add_factor(NULL, &(tcr_factor){.key = "curl"}, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_add_factor(study, &(tcr_factor){.key = NULL}, NULL), TCR_E_ARGUMENT);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(a_number_of_one_eye_and_of_both_is_one_factor) {
    tcr_set *set = surveyed_set();
    tcr_study *study = study_of(set, NULL);
    const double mrd1[] = {3.0};
    add_levels(study, "eyes.left.lid.mrd1_mm", mrd1, 1);
    add_levels(study, "eyes.right.lid.mrd1_mm", mrd1, 1);
    expect_refused(study, &(tcr_factor){"lid.mrd1_mm", TCR_LEVELS, mrd1, 1, 0, 0, 0, 0, 0},
                   TCR_E_DUPLICATE, "eyes.left.lid.mrd1_mm and lid.mrd1_mm are one factor");
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(a_tolerance_takes_the_place_of_a_viewers_distance) {
    tcr_set *set = described_set();
    tcr_line_rule rule = tcr_line_rule_default();
    tcr_trial *trial;
    double output;
    rule.seen_from_mm = 400.0;
    expect_status(tcr_set_put_line(set, &rule), TCR_OK);
    tcr_study *study = study_of(set, NULL);
    const double tolerance[] = {0.5, 0.8};
    add_levels(study, "line.tolerance_mm", tolerance, 2);
    expect_status(tcr_study_add_output(study, "fitted.tolerance_mm", NULL), TCR_OK);
    expect_status(tcr_trial_new(study, &trial), TCR_OK);
    for (int i = 0; i < 2; i++) {
        expect_status(tcr_trial_evaluate(trial, &tolerance[i], 0, &output, NULL), TCR_OK);
        expect_near(output, tolerance[i], 0.0, "the value of the point");
    }
    tcr_trial_free(trial);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(a_number_of_lashes_varies_only_where_no_lash_fixes_what_it_wears) {
    tcr_set *set = described_set();
    const tcr_wish bare = {.fixed = TCR_FIX_BARE};
    expect_status(tcr_set_replace_wish(set, TCR_LEFT, 3, &bare), TCR_OK);
    tcr_study *study = study_of(set, NULL);
    const double count[] = {50.0, 60.0};
    if (tcr_set_description(set, TCR_LEFT) != NULL) /* else there is no such key at all */
        expect_refused(study, &(tcr_factor){"describe.count", TCR_LEVELS, count, 2, 0, 0, 0, 0, 0},
                       TCR_E_ARGUMENT,
                       "lashes.describe.count is no factor where a lash fixes what it wears");
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(there_is_room_for_64_factors_and_no_more) {
    tcr_set *set = described_set();
    tcr_study *study = study_of(set, NULL);
    size_t added = 0;
    tcr_key key;
    for (size_t i = 0; tcr_key_at(set, i, &key) && added < TCR_FACTORS_MAX; i++) {
        const tcr_factor f = {
            .key = key.name, .distribution = TCR_LEVELS, .level = &key.least, .levels = 1};
        added += tcr_study_add_factor(study, &f, NULL) == TCR_OK;
    }
    expect_count(added, TCR_FACTORS_MAX);
    const double one[] = {1.0};
    expect_refused(study, &(tcr_factor){"apart_mm", TCR_LEVELS, one, 1, 0, 0, 0, 0, 0},
                   TCR_E_ARGUMENT, "a study has at most 64 factors");
    tcr_study_free(study);
    tcr_set_free(set);
}

/* ---- Outputs --------------------------------------------------------------------------------- */

CLAIM(outputs_have_the_names_of_the_report_with_their_side_where_there_are_two) {
    tcr_set *one = described_set(), *two = surveyed_set();
    tcr_study *s = study_of(one, NULL);
    expect_count(tcr_study_output_count(s), 10); /* the usual ones */
    expect_text(tcr_study_output_at(s, 0)->name, "fitted.rms_mm");
    expect_status(tcr_study_add_output(s, "droop_mm.max", NULL), TCR_OK);
    expect_count(tcr_study_output_count(s), 1); /* in place of them */
    expect_text(tcr_study_output_at(s, 0)->name, "load.droop_mm.max");
    expect_status(tcr_study_add_output(s, "load.mass_ratio.mean", NULL), TCR_OK);
    expect_text(tcr_study_output_at(s, 1)->name, "load.mass_ratio.mean");
    expect_status(tcr_study_add_usual_outputs(s), TCR_OK);
    expect_count(tcr_study_output_count(s), 12);
    expect_status(tcr_study_add_usual_outputs(s), TCR_OK);
    expect_count(tcr_study_output_count(s), 12);
    tcr_study_free(s);
    s = study_of(two, NULL);
    expect_count(tcr_study_output_count(s), 20);
    expect_status(tcr_study_add_output(s, "right.intended.p95_abs_mm", NULL), TCR_OK);
    expect_text(tcr_study_output_at(s, 0)->name, "right.intended.p95_abs_mm");
    expect_count(tcr_study_output_at(s, 0)->side, TCR_RIGHT);
    expect_status(tcr_study_add_output(s, "largest_gap_mm", NULL), TCR_OK);
    expect_text(tcr_study_output_at(s, 1)->name, "left.largest_gap_mm");
    expect_text(tcr_study_output_at(s, 2)->name, "right.largest_gap_mm");
    expect_status(tcr_study_add_output(s, "symmetry.level_rms_mm", NULL), TCR_OK);
    expect_count(tcr_study_output_at(s, 3)->side, -1);
    expect_true(tcr_study_output_at(s, 4) == NULL);
    expect_true(tcr_study_output_at(NULL, 0) == NULL);
    expect_count(tcr_study_output_count(NULL), 0);
    tcr_study_free(s);
    tcr_set_free(one);
    tcr_set_free(two);
}

CLAIM(outputs_that_cannot_be_are_refused_with_the_reason) {
    static const struct {
        const char *name;
        tcr_status status;
        const char *message;
    } WRONG[] = {
        {"fited.rms_mm", TCR_E_MISSING,
         "there is no output \"fited.rms_mm\"; did you mean fitted.rms_mm?"},
        {"load.mas_ratio.p95", TCR_E_MISSING,
         "there is no output \"load.mas_ratio.p95\"; did you mean load.mass_ratio.p95?"},
        {"deviation_mm", TCR_E_ARGUMENT,
         "deviation_mm is a number for each lash; write deviation_mm.mean, .min, .max or .p95"},
        {"fitted.rms_mm.max", TCR_E_ARGUMENT,
         "fitted.rms_mm is one number for an eye; leave out .max"},
        {"verdict", TCR_E_ARGUMENT, "verdict is a word and no number to study"},
        {"ext_curl.max", TCR_E_ARGUMENT, "ext_curl.max is a word and no number to study"},
        {"right.fitted.rms_mm", TCR_E_MISSING,
         "the set has no right eye for the output right.fitted.rms_mm"},
        {"symmetry.rms_mm", TCR_E_MISSING,
         "symmetry.rms_mm is a figure of two eyes, and the set has one"},
        {"", TCR_E_MISSING, "there is no output \"\""},
        {"fitted.max_abs_mm", TCR_E_DUPLICATE, "the output fitted.max_abs_mm is here twice"},
    };
    tcr_set *set = described_set();
    tcr_study *study = study_of(set, NULL);
    expect_status(tcr_study_add_output(study, "fitted.max_abs_mm", NULL), TCR_OK);
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        tcr_error error = tcr_error_none();
        given("output %s", WRONG[i].name);
        expect_status(tcr_study_add_output(study, WRONG[i].name, &error), WRONG[i].status);
        expect_text(error.message, WRONG[i].message);
    }
    expect_count(tcr_study_output_count(study), 1);
    expect_status(tcr_study_add_output(study, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_add_output(NULL, "u.max", NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_add_usual_outputs(NULL), TCR_E_ARGUMENT);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(symmetry_is_that_of_the_check) {
    static const char *const NAMES[] = {"symmetry.rms_mm", "symmetry.max_mm",
                                        "symmetry.level_rms_mm", "symmetry.level_max_mm"};
    tcr_set *set = surveyed_set();
    tcr_study *study = study_of(set, NULL);
    tcr_trial *trial;
    tcr_check *check;
    tcr_symmetry s;
    double output[4];
    for (int i = 0; i < 4; i++)
        expect_status(tcr_study_add_output(study, NAMES[i], NULL), TCR_OK);
    expect_status(tcr_trial_new(study, &trial), TCR_OK);
    expect_status(tcr_trial_evaluate(trial, NULL, 0, output, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_check_symmetry(check, &s), TCR_OK);
    expect_same(output[0], s.rms_mm, "of a check");
    expect_same(output[1], s.max_mm, "of a check");
    expect_same(output[2], s.level_rms_mm, "of a check");
    expect_same(output[3], s.level_max_mm, "of a check");
    tcr_check_free(check);
    tcr_trial_free(trial);
    tcr_study_free(study);
    tcr_set_free(set);
}

/* ---- Points ---------------------------------------------------------------------------------- */

CLAIM(points_have_the_values_of_their_factors) {
    tcr_set *set = described_set();
    tcr_study_options o = tcr_study_options_default();
    o.design = TCR_DESIGN_SOBOL;
    o.points = 256;
    tcr_study *study = study_of(set, &o);
    const double curls[] = {2.0, 4.0};
    const tcr_factor step = {
        .key = "layering.step_mm", .distribution = TCR_UNIFORM, .least = 0.5, .most = 1.5};
    const tcr_factor mrd1 = {
        .key = "lid.mrd1_mm", .distribution = TCR_NORMAL, .mean = 0.5, .sd = 1.0};
    expect_status(tcr_study_add_factor(study, &step, NULL), TCR_OK);
    expect_status(tcr_study_add_factor(study, &mrd1, NULL), TCR_OK);
    add_levels(study, "curl", curls, 2);
    uint64_t points;
    size_t levels[TCR_FACTORS_MAX], cut = 0;
    tcr_design design;
    double value[256 * 3], u[256 * 3];
    expect_status(tcr_study_count(study, &points, NULL), TCR_OK);
    expect_count(points, 256);
    expect_status(tcr_study_points(study, 0, 256, value), TCR_OK);
    expect_status(tcr_study_design(study, levels, &design), TCR_OK);
    expect_status(tcr_design_points(&design, 0, 256, u), TCR_OK);
    for (size_t i = 0; i < 256; i++) {
        given("point %zu", i);
        expect_near(value[3 * i], 0.5 + u[3 * i], 1e-15, "uniform from 0.5 to 1.5");
        expect_near(value[3 * i + 1], fmax(tcr_factor_value(&mrd1, u[3 * i + 1]), 0.0), 0.0,
                    "cut to the range of the lid");
        expect_near(value[3 * i + 2], curls[u[3 * i + 2] >= 0.5], 0.0, "half each");
        cut += value[3 * i + 1] == 0.0;
    }
    expect_true(cut > 0);
    expect_status(tcr_study_points(study, 256, 1, value), TCR_E_RANGE);
    expect_status(tcr_study_points(study, 0, 1, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_points(NULL, 0, 1, value), TCR_E_ARGUMENT);
    expect_status(tcr_study_design(NULL, levels, &design), TCR_E_ARGUMENT);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(too_many_evaluations_are_refused) {
    tcr_set *set = described_set();
    tcr_study_options o = tcr_study_options_default();
    o.runs = TCR_RUNS_MAX;
    tcr_study *study = study_of(set, &o);
    double *level = malloc(100000 * sizeof *level);
    for (int i = 0; i < 100000; i++)
        level[i] = 3.0 * i / 100000.0;
    add_levels(study, "layering.step_mm", level, 100000);
    uint64_t points;
    tcr_error error;
    expect_status(tcr_study_count(study, &points, &error), TCR_E_RANGE);
    expect_text(error.message, "100000 points with 1000000 runs each are more than 10000000000 "
                               "evaluations");
    tcr_trial *trial;
    tcr_set *point;
    tcr_error same;
    expect_status(tcr_trial_new(study, &trial), TCR_E_RANGE);
    expect_status(tcr_study_set(study, level, 0, &point, &same), TCR_E_RANGE);
    expect_text(same.message, error.message);
    expect_status(tcr_study_count(NULL, &points, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_count(study, NULL, NULL), TCR_E_ARGUMENT);
    expect_count(tcr_study_runs(study), TCR_RUNS_MAX);
    expect_count(tcr_study_runs(NULL), 0);
    free(level);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(seeds_of_runs_fit_into_set_files_and_are_words_of_philox) {
    tcr_set *set = described_set();
    tcr_study_options o = tcr_study_options_default();
    o.runs = 3;
    o.seed = UINT64_C(0xfedcba9876543210);
    tcr_study *study = study_of(set, &o);
    for (uint32_t run = 0; run < 3; run++) {
        const uint32_t counter[4] = {run, 0, 0, 7}, key[2] = {0x76543210, 0xfedcba98};
        uint32_t words[4];
        tcr_philox(counter, key, words); /* source: study.h */
        const uint64_t expected = (((uint64_t)words[0] << 32) + words[1]) / 2048;
        expect_true(tcr_study_run_seed(study, run) == expected);
        expect_true(expected < UINT64_C(1) << 53);
    }
    expect_count(tcr_study_run_seed(NULL, 0), 0);
    tcr_study_free(study);
    tcr_set_free(set);
}

/* ---- Evaluations ----------------------------------------------------------------------------- */

CLAIM(a_point_that_is_not_valid_fails_with_its_reason_and_spoils_nothing) {
    tcr_set *set = described_set();
    tcr_study *study = study_of(set, NULL);
    const double any[] = {3.5, 5.2};
    tcr_trial *trial;
    double before[10], output[10];
    tcr_error error = tcr_error_none();
    add_levels(study, "lid.mrd1_mm", any, 2);
    add_levels(study, "lid.fissure_width_mm", (const double[]){27.0}, 1);
    add_levels(study, "lid.globe_radius_mm", (const double[]){12.0}, 1);
    expect_status(tcr_trial_new(study, &trial), TCR_OK);
    const double right[] = {3.5, 27.0, 12.0}, wide[] = {3.5, 35.0, 12.0}, high[] = {8.0, 27.0, 8.0},
                 outside[] = {9.0, 27.0, 12.0}, none[] = {NAN, 27.0, 12.0};
    expect_status(tcr_trial_evaluate(trial, right, 0, before, NULL), TCR_OK);
    expect_status(tcr_trial_evaluate(trial, wide, 0, output, &error), TCR_E_SEMIAXIS);
    expect_true(error.message[0] != '\0');
    for (int i = 0; i < 10; i++)
        expect_nan(output[i]);
    expect_status(tcr_trial_evaluate(trial, high, 0, output, &error), TCR_E_MRD1);
    expect_status(tcr_trial_evaluate(trial, outside, 0, output, &error), TCR_E_RANGE);
    expect_text(error.message, "lid.mrd1_mm is 9, but must be from 0 to 8 mm");
    expect_status(tcr_trial_evaluate(trial, none, 0, output, NULL), TCR_E_RANGE);
    expect_status(tcr_trial_evaluate(trial, right, 0, output, NULL), TCR_OK);
    expect_bytes(output, before, sizeof output);
    tcr_trial_free(trial);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(a_length_that_the_tray_lacks_fails_as_in_a_check) {
    tcr_set *set = described_set();
    const tcr_tray tray = tcr_tray_default();
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    tcr_study *study = study_of(set, NULL);
    tcr_trial *trial;
    double output[10];
    tcr_error error;
    add_levels(study, "layering.step_mm", (const double[]){1.0}, 1);
    add_levels(study, "longest_mm", (const double[]){12.0}, 1);
    expect_status(tcr_trial_new(study, &trial), TCR_OK);
    expect_status(tcr_trial_evaluate(trial, (const double[]){0.5, 12.0}, 0, output, &error),
                  TCR_E_TRAY);
    expect_status(tcr_trial_evaluate(trial, (const double[]){1.0, 12.5}, 0, output, &error),
                  TCR_E_TRAY);
    expect_status(tcr_trial_evaluate(trial, (const double[]){2.0, 14.0}, 0, output, &error),
                  TCR_OK);
    tcr_trial_free(trial);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(results_do_not_depend_on_what_was_tried_before) {
    tcr_set *set = described_set();
    tcr_study_options o = tcr_study_options_default();
    o.runs = 3;
    tcr_study *study = study_of(set, &o);
    add_levels(study, "describe.count", (const double[]){96.0}, 1);
    add_levels(study, "describe.pitch_sd_deg", (const double[]){4.0}, 1);
    add_levels(study, "apart_mm", (const double[]){1.0}, 1);
    add_levels(study, "lid.mrd1_mm", (const double[]){3.5}, 1);
    const double value[][4] = {
        {96, 4, 1, 3.5}, {20, 11, 0, 3.5}, {96, 4, 2, 3.5}, {130, 0, 1, 3.5}, {96, 4, 1, 8}};
    tcr_trial *kept;
    double again[10], fresh[10];
    expect_status(tcr_trial_new(study, &kept), TCR_OK);
    for (int round = 0; round < 60; round++) {
        const double *at = value[round * 7 % 5];
        const size_t run = (size_t)(round * 11 % 3);
        tcr_trial *new;
        given("round %d", round);
        expect_status(tcr_trial_new(study, &new), TCR_OK);
        const tcr_status status = tcr_trial_evaluate(new, at, run, fresh, NULL);
        expect_status(tcr_trial_evaluate(kept, at, run, again, NULL), status);
        if (status == TCR_OK)
            expect_bytes(again, fresh, sizeof fresh);
        tcr_trial_free(new);
    }
    tcr_trial_free(kept);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(arguments_out_of_range_are_refused) {
    tcr_set *set = described_set(), *written, *empty;
    tcr_study_options o = tcr_study_options_default();
    tcr_study *study;
    tcr_trial *trial;
    double output[10] = {77.0};
    o.runs = 2;
    study = study_of(set, &o);
    add_levels(study, "layering.step_mm", (const double[]){1.0}, 1);
    expect_status(tcr_trial_new(study, &trial), TCR_OK);
    const double step[] = {1.0};
    expect_status(tcr_trial_evaluate(trial, NULL, 0, output, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_trial_evaluate(trial, step, 2, output, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_trial_evaluate(NULL, step, 0, output, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_trial_evaluate(trial, step, 0, NULL, NULL), TCR_E_ARGUMENT);
    expect_near(output[0], 77.0, 0.0, "a failed call leaves its outputs");
    expect_status(tcr_trial_new(NULL, &trial), TCR_E_ARGUMENT);
    expect_status(tcr_trial_new(study, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_set(study, step, 2, &written, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_set(study, NULL, 0, &written, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_set(NULL, step, 0, &written, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_set(study, step, 0, NULL, NULL), TCR_E_ARGUMENT);
    tcr_trial_free(trial);
    tcr_study_free(study);
    tcr_trial_free(NULL);
    tcr_study_free(NULL);
    study = NULL;
    expect_status(tcr_set_new(NULL, &empty), TCR_OK);
    expect_status(tcr_study_new(NULL, empty, NULL, &study, NULL), TCR_E_MISSING);
    expect_status(tcr_set_add_eye(empty, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_study_new(NULL, empty, NULL, &study, NULL), TCR_E_MAP);
    expect_status(tcr_study_new(NULL, NULL, NULL, &study, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_new(NULL, set, NULL, NULL, NULL), TCR_E_ARGUMENT);
    tcr_error error;
    o.runs = TCR_RUNS_MAX + 1;
    expect_status(tcr_study_new(NULL, set, &o, &study, &error), TCR_E_RANGE);
    expect_text(error.message, "runs is 1000001, but must be at most 1000000");
    o = tcr_study_options_default();
    o.design = (tcr_design_kind)9;
    expect_status(tcr_study_new(NULL, set, &o, &study, NULL), TCR_E_ARGUMENT);
    o.design = TCR_DESIGN_SENSITIVITY;
    o.scramblings = 3;
    expect_status(tcr_study_new(NULL, set, &o, &study, NULL), TCR_E_RANGE);
    o = tcr_study_options_default();
    o.against = (tcr_against)2;
    expect_status(tcr_study_new(NULL, set, &o, &study, NULL), TCR_E_ARGUMENT);
    o = tcr_study_options_default();
    o.spread.pitch_sd_rad = NAN;
    expect_status(tcr_study_new(NULL, set, &o, &study, NULL), TCR_E_RANGE);
    expect_true(study == NULL);
    tcr_set_free(empty);
    tcr_set_free(set);
}

static tcr_status make_study(const void *options, void *context) {
    tcr_study *study = NULL;
    const tcr_status status = tcr_study_new(NULL, context, options, &study, NULL);
    tcr_study_free(study);
    return status;
}

CLAIM(options_may_be_those_of_an_older_header) {
    tcr_set *set = described_set();
    const tcr_study_options o = tcr_study_options_default();
    tcr_expect_sizes(&o, sizeof o, make_study, set);
    tcr_set_free(set);
}

/* All that a study does, with an allocator; nothing may be lost. */
static tcr_status do_all(const tcr_set *set, const tcr_allocator *allocator) {
    static const double step[] = {0.5, 1.0}, count[] = {30.0}, value[] = {0.5, 30.0, 1.0};
    tcr_study_options o = tcr_study_options_default();
    tcr_study *study = NULL;
    tcr_trial *trial = NULL;
    tcr_set *written = NULL;
    double output[TCR_OUTPUTS_MAX];
    o.runs = 2;
    tcr_status status = tcr_study_new(allocator, set, &o, &study, NULL);
    const tcr_factor factors[] = {{"layering.step_mm", TCR_LEVELS, step, 2, 0, 0, 0, 0, 0},
                                  {"describe.count", TCR_LEVELS, count, 1, 0, 0, 0, 0, 0},
                                  {"apart_mm", TCR_LEVELS, step, 2, 0, 0, 0, 0, 0}};
    for (int i = 0; i < 3 && status == TCR_OK; i++)
        status = tcr_study_add_factor(study, &factors[i], NULL);
    if (status == TCR_OK)
        status = tcr_study_add_output(study, "load.mass_ratio.mean", NULL);
    if (status == TCR_OK)
        status = tcr_study_set(study, value, 1, &written, NULL);
    if (status == TCR_OK)
        status = tcr_trial_new(study, &trial);
    if (status == TCR_OK)
        status = tcr_trial_evaluate(trial, value, 1, output, NULL);
    tcr_set_free(written);
    tcr_trial_free(trial);
    tcr_study_free(study);
    return status;
}

CLAIM(without_memory_every_call_fails_and_loses_nothing) {
    tcr_set *set = described_set();
    size_t fail = 1;
    for (;; fail++) {
        tcr_counted counted = {.fail_at = fail};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        given("the %zu-th allocation fails", fail);
        const tcr_status status = do_all(set, &allocator);
        expect_count(counted.blocks, 0);
        if (status == TCR_OK)
            break;
        expect_status(status, TCR_E_MEMORY);
    }
    expect_true(fail > 40);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_factor_is_kept_with_its_own_levels,
        &factors_that_cannot_be_are_refused_with_the_reason,
        &a_number_of_one_eye_and_of_both_is_one_factor,
        &a_tolerance_takes_the_place_of_a_viewers_distance,
        &a_number_of_lashes_varies_only_where_no_lash_fixes_what_it_wears,
        &there_is_room_for_64_factors_and_no_more,
        &outputs_have_the_names_of_the_report_with_their_side_where_there_are_two,
        &outputs_that_cannot_be_are_refused_with_the_reason,
        &symmetry_is_that_of_the_check,
        &points_have_the_values_of_their_factors,
        &too_many_evaluations_are_refused,
        &seeds_of_runs_fit_into_set_files_and_are_words_of_philox,
        &a_point_that_is_not_valid_fails_with_its_reason_and_spoils_nothing,
        &a_length_that_the_tray_lacks_fails_as_in_a_check,
        &results_do_not_depend_on_what_was_tried_before,
        &arguments_out_of_range_are_refused,
        &options_may_be_those_of_an_older_header,
        &without_memory_every_call_fails_and_loses_nothing,
    };
    refuse_gsl_errors();
    return RUN_CLAIMS("study", claims);
}
