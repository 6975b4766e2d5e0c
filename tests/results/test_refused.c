/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What calls of studies, and of the core beside them, refuse: half an allocator, lists that are not
 * there, and what their headers say must be given. */
#include "results/made.h"

#include <tipcrest/tipcrest.h>

static const char *const VARY[] = {"layering.step_mm=0,1", "opening=0.2:1:0.2"};
enum { POINTS = 10 };

static tcr_study_file *file;

static void begin(void) {
    tcr_study_ask ask = tcr_study_ask_default();
    enter_folder();
    file = study_of(VARY, 2, &ask);
}

static void end(void) {
    tcr_study_file_free(file);
    leave_folder();
}

static void release_none(void *context, void *block) {
    (void)context;
    (void)block;
}

static void *resize_none(void *context, void *block, size_t bytes) {
    (void)context;
    (void)block;
    (void)bytes;
    return NULL;
}

/* By the headers: an allocator has both calls. */
CLAIM(half_an_allocator_is_refused) {
    static const tcr_allocator HALVES[] = {{resize_none, NULL, NULL}, {NULL, release_none, NULL}};
    static const char TEXT[] = "tipcrest: 1\n";
    begin();
    const tcr_set *set = tcr_set_file_set(tcr_study_file_set_file(file));
    for (size_t i = 0; i < sizeof HALVES / sizeof *HALVES; i++) {
        const tcr_allocator *half = &HALVES[i];
        tcr_results *results = NULL;
        tcr_study_file *study_file = NULL;
        tcr_study *study = NULL;
        tcr_set_file *set_file = NULL;
        tcr_ranked ranked[2];
        tcr_error error;
        const double value[2] = {1.0, 2.0};
        expect_status(tcr_results_new(file, NULL, half, &results, &error), TCR_E_ARGUMENT);
        expect_status(tcr_study_file_read("set.yaml", NULL, half, &study_file, &error),
                      TCR_E_ARGUMENT);
        expect_status(tcr_study_new(half, set, NULL, &study, &error), TCR_E_ARGUMENT);
        expect_status(tcr_set_file_read("set.yaml", half, &set_file, &error), TCR_E_ARGUMENT);
        expect_status(tcr_set_file_parse(TEXT, sizeof TEXT - 1, "a.yaml", NULL, NULL, half,
                                         &set_file, &error),
                      TCR_E_ARGUMENT);
        expect_status(tcr_best_of(half, value, 1, 2, 1, NULL, ranked), TCR_E_ARGUMENT);
        expect_true(results == NULL && study_file == NULL && study == NULL && set_file == NULL);
    }
    end();
}

CLAIM(what_is_asked_without_its_list_is_refused) {
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_study_file *made = NULL;
    tcr_error error;
    size_t levels[TCR_FACTORS_MAX];
    tcr_design design;
    tcr_key key;
    begin();
    const tcr_study *study = tcr_study_file_study(file);
    const tcr_set *set = tcr_set_file_set(tcr_study_file_set_file(file));
    ask.varied = 1;
    expect_status(tcr_study_file_read("set.yaml", &ask, NULL, &made, &error), TCR_E_ARGUMENT);
    ask = tcr_study_ask_default();
    ask.outputs = 1;
    expect_status(tcr_study_file_read("set.yaml", &ask, NULL, &made, &error), TCR_E_ARGUMENT);
    expect_true(made == NULL);
    expect_status(tcr_study_design(NULL, levels, &design), TCR_E_ARGUMENT);
    expect_status(tcr_study_design(study, NULL, &design), TCR_E_ARGUMENT);
    expect_status(tcr_study_design(study, levels, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_points(study, 0, 1, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_points(study, POINTS + 1, 0, NULL), TCR_E_RANGE);
    expect_status(tcr_study_points(study, POINTS, 0, NULL), TCR_OK);
    expect_true(!tcr_key_at(NULL, 0, &key) && !tcr_key_at(set, 0, NULL));
    expect_true(tcr_key_at(set, 0, &key));
    expect_status(tcr_key_validate(NULL, &key, 1.0, &error), TCR_E_ARGUMENT);
    expect_status(tcr_key_validate(set, NULL, 1.0, &error), TCR_E_ARGUMENT);
    key.field = NULL;
    expect_status(tcr_key_validate(set, &key, 1.0, &error), TCR_E_ARGUMENT);
    tcr_factor factor = {.distribution = TCR_LEVELS, .levels = 1};
    expect_status(tcr_factor_validate(&factor, &error), TCR_E_ARGUMENT);
    const double one = 1.0;
    factor.level = &one;
    factor.levels = 0;
    expect_status(tcr_factor_validate(&factor, &error), TCR_E_RANGE);
    factor.levels = TCR_LEVELS_MAX + 1;
    expect_status(tcr_factor_validate(&factor, &error), TCR_E_RANGE);
    end();
}

/* By check.h, limits.h and random.h. */
CLAIM(calls_of_the_core_without_what_they_need_are_refused) {
    const tcr_limits limits = tcr_limits_default();
    const tcr_view front = tcr_view_named(TCR_OPEN_FRONT), never = {2.0, 0.0};
    tcr_loaded_lash nearest[1];
    tcr_line line;
    tcr_check *check;
    const uint32_t in[4] = {1, 2, 3, 4};
    uint32_t out[4] = {5, 6, 7, 8};
    begin();
    const tcr_set *set = tcr_set_file_set(tcr_study_file_set_file(file));
    expect_status(tcr_intended_line(NULL, TCR_LEFT, &front, &line), TCR_E_ARGUMENT);
    expect_status(tcr_intended_line(set, TCR_LEFT, &front, NULL), TCR_E_ARGUMENT);
    expect_true(tcr_intended_line(set, TCR_LEFT, &never, &line) != TCR_OK);
    expect_status(tcr_intended_line(set, TCR_RIGHT, &front, &line), TCR_E_MISSING);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_count(tcr_limits_nearest(NULL, check, 3, nearest, 1), 0);
    expect_count(tcr_limits_nearest(&limits, NULL, 3, nearest, 1), 0);
    expect_count(tcr_limits_nearest(&limits, check, 3, NULL, 1), 0);
    expect_count(tcr_limits_nearest(&limits, check, 3, nearest, 1), 1);
    tcr_check_free(check);
    tcr_philox(NULL, in, out);
    tcr_philox(in, NULL, out);
    tcr_philox(in, in, NULL);
    for (uint32_t i = 0; i < 4; i++)
        expect_count(out[i], 5 + i);
    expect_true(tcr_plan_eye_of(NULL, TCR_LEFT) == NULL);
    end();
}

int main(void) {
    static const TTest *const claims[] = {
        &half_an_allocator_is_refused,
        &what_is_asked_without_its_list_is_refused,
        &calls_of_the_core_without_what_they_need_are_refused,
    };
    return RUN_CLAIMS("what studies refuse", claims);
}
