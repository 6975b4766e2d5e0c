/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Options of the core, for programs of other releases. The structs named first_ are those of
 * version 0.1.0 and never change; the set is INVENTED.
 */
#include <tipcrest/tipcrest.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"
#include "support/options.h"

typedef struct first_line_options {
    size_t size;
    bool robust;
    double penalty, huber, sigma_floor_mm;
} first_line_options;

typedef struct first_check_options {
    size_t size;
    tcr_against against;
    bool has_view;
    tcr_view view;
} first_check_options;

typedef struct first_plan_options {
    size_t size;
    tcr_plan_limits limits;
    double share;
    tcr_objective objective;
    bool free_line;
    size_t lengths_most;
    double zone_step_most_mm;
    bool placement[4];
    size_t curls;
    size_t curl[16];
    size_t diameters;
    double diameter_mm[8];
    size_t fans;
    int fan[8];
    size_t corrections;
    bool correct_all;
    size_t spread;
    double spread_share;
    bool (*stop)(void *);
    void *context;
} first_plan_options;

typedef struct first_plan_pace {
    size_t size;
    double setting_s, distance_mm, lash_s, change_s, preparation_min, loss_share, drop_min;
} first_plan_pace;

INIT_OF(tcr_line_options)
INIT_OF(tcr_check_options)
INIT_OF(tcr_plan_options)
INIT_OF(tcr_plan_pace)

static tcr_set *make_set(void) {
    const tcr_zone zone = {.to = 1.0, .length_mm = 10.0, .curl = "C"};
    tcr_description description = tcr_description_default();
    tcr_set *set;
    description.count = 20;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &description), TCR_OK);
    expect_status(tcr_set_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    return set;
}

/* ---- Where members lie --------------------------------------------------------------- */

CLAIM(members_of_the_first_release_lie_where_they_lay) {
    SAME_PLACE(first_line_options, tcr_line_options, size);
    SAME_PLACE(first_line_options, tcr_line_options, robust);
    SAME_PLACE(first_line_options, tcr_line_options, penalty);
    SAME_PLACE(first_line_options, tcr_line_options, huber);
    SAME_PLACE(first_line_options, tcr_line_options, sigma_floor_mm);
    SAME_PLACE(first_check_options, tcr_check_options, size);
    SAME_PLACE(first_check_options, tcr_check_options, against);
    SAME_PLACE(first_check_options, tcr_check_options, has_view);
    SAME_PLACE(first_check_options, tcr_check_options, view);
    SAME_PLACE(first_plan_pace, tcr_plan_pace, size);
    SAME_PLACE(first_plan_pace, tcr_plan_pace, setting_s);
    SAME_PLACE(first_plan_pace, tcr_plan_pace, distance_mm);
    SAME_PLACE(first_plan_pace, tcr_plan_pace, lash_s);
    SAME_PLACE(first_plan_pace, tcr_plan_pace, change_s);
    SAME_PLACE(first_plan_pace, tcr_plan_pace, preparation_min);
    SAME_PLACE(first_plan_pace, tcr_plan_pace, loss_share);
    SAME_PLACE(first_plan_pace, tcr_plan_pace, drop_min);
}

CLAIM(members_of_the_first_plan_lie_where_they_lay) {
    SAME_PLACE(first_plan_options, tcr_plan_options, size);
    SAME_PLACE(first_plan_options, tcr_plan_options, limits);
    SAME_PLACE(first_plan_options, tcr_plan_options, share);
    SAME_PLACE(first_plan_options, tcr_plan_options, objective);
    SAME_PLACE(first_plan_options, tcr_plan_options, free_line);
    SAME_PLACE(first_plan_options, tcr_plan_options, lengths_most);
    SAME_PLACE(first_plan_options, tcr_plan_options, zone_step_most_mm);
    SAME_PLACE(first_plan_options, tcr_plan_options, placement);
    SAME_PLACE(first_plan_options, tcr_plan_options, curls);
    SAME_PLACE(first_plan_options, tcr_plan_options, curl);
    SAME_PLACE(first_plan_options, tcr_plan_options, diameters);
    SAME_PLACE(first_plan_options, tcr_plan_options, diameter_mm);
    SAME_PLACE(first_plan_options, tcr_plan_options, fans);
    SAME_PLACE(first_plan_options, tcr_plan_options, fan);
    SAME_PLACE(first_plan_options, tcr_plan_options, corrections);
    SAME_PLACE(first_plan_options, tcr_plan_options, correct_all);
    SAME_PLACE(first_plan_options, tcr_plan_options, spread);
    SAME_PLACE(first_plan_options, tcr_plan_options, spread_share);
    SAME_PLACE(first_plan_options, tcr_plan_options, stop);
    SAME_PLACE(first_plan_options, tcr_plan_options, context);
}

/* ---- Defaults ------------------------------------------------------------------------ */

CLAIM(defaults_fill_a_struct_of_any_size_and_no_byte_behind_it) {
    tcr_expect_init("tcr_line_options", init_tcr_line_options, sizeof(tcr_line_options));
    tcr_expect_init("tcr_check_options", init_tcr_check_options, sizeof(tcr_check_options));
    tcr_expect_init("tcr_plan_options", init_tcr_plan_options, sizeof(tcr_plan_options));
    tcr_expect_init("tcr_plan_pace", init_tcr_plan_pace, sizeof(tcr_plan_pace));
}

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
    const tcr_plan_pace pace = tcr_plan_pace_default();
    expect_count(pace.size, sizeof pace); /* source: plan.h, as all that follows */
    expect_same(pace.setting_s, 120.0, "given");
    expect_same(pace.distance_mm, 2.0, "given");
    expect_same(pace.lash_s, 45.0, "given");
    expect_same(pace.change_s, 5.0, "given");
    expect_same(pace.preparation_min, 20.0, "given");
    expect_same(pace.loss_share, 0.1, "given");
    expect_same(pace.drop_min, 20.0, "given");
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
    expect_true(!plan.free_line);
    expect_count(plan.lengths_most, 0);
    expect_true(isinf(plan.zone_step_most_mm) && plan.zone_step_most_mm > 0.0);
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        expect_true(plan.placement[p] == (p != TCR_INNER_SIDE));
    expect_count(plan.curls, 0);
    expect_count(plan.diameters, 0);
    expect_true(plan.corrections == SIZE_MAX);
    expect_true(!plan.correct_all);
    expect_count(plan.spread, 0);
    expect_true(plan.stop == NULL && plan.context == NULL);
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
    tcr_plan_fault fault = {TCR_OBSTACLE_STEP, TCR_RIGHT, 7, TCR_TOP};
    const tcr_status status = tcr_plan_new(set, options, &plan, &fault);
    expect_true((status == TCR_OK) == (plan != NULL));
    expect_count(fault.zone, status == TCR_OK ? 0 : 7);
    if (plan != NULL) /* what is handed out is the library's own, whole */
        expect_count(tcr_plan_get_options(plan)->size, sizeof(tcr_plan_options));
    tcr_plan_free(plan);
    return status;
}

static tcr_status make_work(const void *pace, void *plan) {
    tcr_plan_work *work = NULL;
    const tcr_status status = tcr_plan_work_new(plan, pace, &work);
    expect_true((status == TCR_OK) == (work != NULL));
    if (work != NULL)
        expect_count(work->pace->size, sizeof(tcr_plan_pace));
    tcr_plan_work_free(plan, work);
    return status;
}

CLAIM(every_size_from_the_first_releases_to_todays_is_taken_and_no_other) {
    tcr_set *set = make_set();
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    tcr_expect_sizes(init_tcr_line_options, sizeof(first_line_options), sizeof(tcr_line_options),
                     fit_line, NULL);
    tcr_expect_sizes(init_tcr_check_options, sizeof(first_check_options), sizeof(tcr_check_options),
                     check_set, set);
    tcr_expect_sizes(init_tcr_plan_options, sizeof(first_plan_options), sizeof(tcr_plan_options),
                     plan_set, set);
    tcr_expect_sizes(init_tcr_plan_pace, sizeof(first_plan_pace), sizeof(tcr_plan_pace), make_work,
                     plan);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(a_program_of_the_first_release_gets_what_it_asks_for) {
    /* Source: the same call with today's struct; no tolerance, the same arithmetic. */
    tcr_set *set = make_set();
    first_check_options seen;
    tcr_check_options_init((tcr_check_options *)&seen, sizeof seen);
    seen.against = TCR_INTENDED;
    seen.has_view = true;
    seen.view = tcr_view_named(TCR_ARTIST);
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, (const tcr_check_options *)&seen, &check, NULL), TCR_OK);
    expect_count(tcr_check_against(check), TCR_INTENDED);
    expect_same(tcr_check_view(check).viewer_rad, seen.view.viewer_rad, "a copy");
    first_plan_options asked;
    tcr_plan_options_init((tcr_plan_options *)&asked, sizeof asked);
    tcr_plan_options same = tcr_plan_options_default();
    asked.share = same.share = 0.4;
    asked.corrections = same.corrections = 0;
    tcr_plan *plan[2] = {NULL, NULL};
    expect_status(tcr_plan_new(set, (const tcr_plan_options *)&asked, &plan[0], NULL), TCR_OK);
    expect_status(tcr_plan_new(set, &same, &plan[1], NULL), TCR_OK);
    expect_same(tcr_plan_get_options(plan[0])->share, 0.4, "a copy");
    expect_count(tcr_plan_get(plan[0])->planned, tcr_plan_get(plan[1])->planned);
    expect_same(tcr_plan_get(plan[0])->rms_mm, tcr_plan_get(plan[1])->rms_mm, "the same");
    first_plan_pace quick;
    tcr_plan_pace_init((tcr_plan_pace *)&quick, sizeof quick);
    quick.lash_s = 10.0;
    tcr_plan_work *work = NULL;
    expect_status(tcr_plan_work_new(plan[0], (const tcr_plan_pace *)&quick, &work), TCR_OK);
    expect_same(work->pace->lash_s, 10.0, "a copy");
    expect_same(work->pace->drop_min, 20.0, "the default");
    tcr_plan_work_free(plan[0], work);
    tcr_plan_free(plan[0]);
    tcr_plan_free(plan[1]);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &members_of_the_first_release_lie_where_they_lay,
        &members_of_the_first_plan_lie_where_they_lay,
        &defaults_fill_a_struct_of_any_size_and_no_byte_behind_it,
        &the_defaults_are_what_the_headers_say,
        &the_defaults_of_a_plan_are_what_its_header_says,
        &every_size_from_the_first_releases_to_todays_is_taken_and_no_other,
        &a_program_of_the_first_release_gets_what_it_asks_for,
    };
    return RUN_CLAIMS("plan/options", claims);
}
