/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options of the core: defaults and sizes. The set is INVENTED. */
#include <tipcrest/tipcrest.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"
#include "support/options.h"

static tcr_set *make_set(void) {
    const tcr_zone zone = {.to = 1.0, .length_mm = 10.0, .curl = "C"};
    tcr_description description = tcr_description_default();
    tcr_set *set;
    description.count = 20;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &description), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    return set;
}

/* ---- Defaults ------------------------------------------------------------------------ */

CLAIM(the_defaults_are_what_the_headers_say) {
    const tcr_line_options line = tcr_line_options_default();
    expect_count(line.size, sizeof line); /* source: line.h */
    expect_true(line.robust);
    expect_same(line.penalty, 1e-4, "given");
    expect_same(line.huber, 1.345, "given");
    expect_same(line.sigma_floor_mm, 0.1, "given");
    const tcr_check_options check = tcr_check_options_default();
    expect_count(check.size, sizeof check); /* source: check.h */
    expect_count(check.against, TCR_FITTED);
    expect_true(!check.has_view);
    expect_count(check.parts, TCR_PART_ALL);
    expect_true(check.line == NULL);
    expect_nan(check.tolerance_mm);
    const tcr_plan_pace pace = tcr_plan_pace_default();
    expect_count(pace.size, sizeof pace); /* source: plan.h, as all that follows */
    expect_same(pace.setting_s, 120.0, "given");
    expect_same(pace.distance_mm, 2.0, "given");
    expect_same(pace.lash_s, 45.0, "given");
    expect_same(pace.change_s, 5.0, "given");
    expect_same(pace.eye_change_s, 20.0, "given");
    expect_same(pace.preparation_min, 20.0, "given");
    expect_same(pace.loss_share, 0.1, "given");
    expect_same(pace.drop_min, 20.0, "given");
}

CLAIM(without_a_tray_there_is_nothing_to_plan_from) {
    const tcr_tray none = {.count = 0};
    tcr_set *set = make_set();
    tcr_plan *plan = NULL;
    expect_status(tcr_set_put_tray(set, &none), TCR_OK);
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_E_TRAY); /* source: plan.h */
    expect_true(plan == NULL);
    tcr_set_free(set);
}

CLAIM(the_defaults_of_a_plan_are_what_its_header_says) {
    const tcr_plan_options plan = tcr_plan_options_default();
    expect_count(plan.size, sizeof plan); /* source: plan.h */
    expect_same(plan.limits.baby_below_mm, 5.0, "given");
    expect_same(plan.limits.thin_below_mm, 0.055, "given");
    expect_same(plan.limits.stray_above_mm, 3.0, "given");
    expect_near(plan.limits.out_of_fan_rad, tcr_degrees(25.0), 1e-15, "rounding of two products");
    expect_same(plan.limits.overlength_mm, 5.0, "given");
    expect_same(plan.limits.mass_ratio, 10.0, "given");
    expect_same(plan.limits.moment_ratio, 20.0, "given");
    expect_same(plan.share, 0.7, "given");
    expect_count(plan.objective, TCR_LEAST_SQUARES);
    expect_same(plan.free_mm, 0.0, "plan.h");
    expect_count(plan.lengths_most, 0);
    expect_true(isinf(plan.zone_step_most_mm) && plan.zone_step_most_mm > 0.0);
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        expect_true(plan.placement[p] == (p != TCR_INNER_SIDE));
    expect_true(!plan.same_placement);
    expect_count(plan.curls, 0);
    expect_count(plan.diameters, 0);
    expect_true(plan.corrections == SIZE_MAX);
    expect_true(!plan.correct_all);
    expect_count(plan.samples, 0);
    expect_true(plan.progress.report == NULL && plan.progress.context == NULL);
}

/* ---- Calls --------------------------------------------------------------------------- */

static tcr_status fit_line(const void *options, void *context) {
    static const double X[] = {0.0, 1.0, 2.0, 3.0}, Y[] = {0.0, 1.0, 0.5, 1.0};
    double scratch[4];
    tcr_line line, before;
    (void)context;
    memset(&line, 0xa5, sizeof line);
    before = line;
    const tcr_status status = tcr_line_fit(X, Y, 4, options, scratch, &line);
    expect_true((status == TCR_OK) == (memcmp(&line, &before, sizeof line) != 0));
    return status;
}

static tcr_status check_set(const void *options, void *set) {
    tcr_check *check = NULL;
    const tcr_status status = tcr_check_new(set, options, &check, NULL);
    expect_true((status == TCR_OK) == (check != NULL));
    tcr_check_free(check);
    return status;
}

static tcr_status plan_set(const void *options, void *set) {
    tcr_plan *plan = NULL;
    tcr_error error = {.status = TCR_E_CURL, .side = TCR_RIGHT, .zone = 7};
    const tcr_status status = tcr_plan_new(set, options, &plan, &error);
    expect_true((status == TCR_OK) == (plan != NULL));
    expect_count(error.zone, status == TCR_OK ? 7 : SIZE_MAX); /* left as it was by success */
    expect_status(error.status, status == TCR_OK ? TCR_E_CURL : status);
    if (plan != NULL) /* what is handed out is the library's own, whole */
        expect_count(tcr_plan_options_of(plan)->size, sizeof(tcr_plan_options));
    tcr_plan_free(plan);
    return status;
}

static tcr_status make_work(const void *pace, void *plan) {
    tcr_plan_work *work = NULL;
    const tcr_status status = tcr_plan_work_new(plan, pace, &work);
    expect_true((status == TCR_OK) == (work != NULL));
    if (work != NULL)
        expect_count(work->pace->size, sizeof(tcr_plan_pace));
    tcr_plan_work_free(work);
    return status;
}

CLAIM(a_smaller_older_size_is_taken_and_a_wrong_one_refused) {
    tcr_set *set = make_set();
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    const tcr_line_options line_options = tcr_line_options_default();
    tcr_expect_sizes(&line_options, sizeof line_options, fit_line, NULL);
    const tcr_check_options check_options = tcr_check_options_default();
    tcr_expect_sizes(&check_options, sizeof check_options, check_set, set);
    const tcr_plan_options plan_options = tcr_plan_options_default();
    tcr_expect_sizes(&plan_options, sizeof plan_options, plan_set, set);
    const tcr_plan_pace plan_pace = tcr_plan_pace_default();
    tcr_expect_sizes(&plan_pace, sizeof plan_pace, make_work, plan);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_defaults_are_what_the_headers_say,
        &without_a_tray_there_is_nothing_to_plan_from,
        &the_defaults_of_a_plan_are_what_its_header_says,
        &a_smaller_older_size_is_taken_and_a_wrong_one_refused,
    };
    return RUN_CLAIMS("plan/options", claims);
}
