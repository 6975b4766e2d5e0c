/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Threads that share a set, a check and columns, as the headers allow: each of them does the whole
 * work a few times while the others do, and must come to what one thread alone came to. Built with
 * -fsanitize=thread too, which sees a shared write that happens to do no harm.
 */
#include <math.h>

#include <tipcrest/file.h>
#include <tipcrest/plan.h>
#include <tipcrest/step.h>
#include <tipcrest/tipcrest.h>
#include <tipcrest/tips.h>
#include <tipcrest/why.h>

#include "num/number.h"
#include "support/check.h"
#include "threads/together.h"

enum { LASHES = 60 };

/* ---- What is shared ----------------------------------------------------------------------------
 */

static tcr_set *set;
static tcr_check *check;

static void share_set(void) {
    static const tcr_zone zones[] = {
        {.to = 0.4, .length_mm = 10.0, .curl = "C"},
        {.to = 1.0, .length_mm = 12.0, .curl = "D"},
    };
    tcr_description eye = tcr_description_default();
    eye.count = LASHES;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++) {
        eye.seed = 3 + (unsigned)side;
        expect_status(tcr_set_add_eye(set, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, zones, 2), TCR_OK);
        expect_status(tcr_set_describe(set, (tcr_side)side, &eye), TCR_OK);
    }
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
}

static void drop_set(void) {
    tcr_check_free(check);
    tcr_set_free(set);
}

static void keep_double(kept *k, double value) {
    char text[TCR_NUMBER_SIZE];
    double back;
    const size_t length = tcr_number_text(value, text);
    if (isfinite(value) && (!tcr_number_parse(text, length, &back) || back != value))
        note(k, TCR_E_RANGE);
    if (keep(k, text, length) != 0 || keep(k, " ", 1) != 0)
        note(k, TCR_E_MEMORY);
}

/* ---- The pieces of work ------------------------------------------------------------------------
 */

static void check_the_set(kept *k) {
    tcr_check *own = NULL;
    tcr_check_options options = tcr_check_options_default();
    options.against = TCR_INTENDED;
    note(k, tcr_check_new(set, &options, &own, NULL));
    if (own != NULL)
        note(k, tcr_report_json(own, NULL, keep, k));
    tcr_check_free(own);
}

static void report_the_check(kept *k) {
    note(k, tcr_report_json(check, NULL, keep, k));
    note(k, tcr_report_csv(check, NULL, keep, k));
    note(k, tcr_report_table(check, NULL, keep, k));
}

static void explain_the_check(kept *k) {
    note(k, tcr_report_why_json(check, NULL, keep, k));
    note(k, tcr_report_why_csv(check, NULL, keep, k));
    note(k, tcr_report_why_table(check, true, keep, k));
}

static void level_the_steps(kept *k) {
    const tcr_step_report_options options = tcr_step_report_options_default();
    note(k, tcr_report_step_csv(set, &options, NULL, keep, k));
    note(k, tcr_report_step_table(set, &options, keep, k));
}

/* A plan from its options to the set file, with all that it is told by. */
static void plan_the_set(kept *k) {
    tcr_set_write_options written = tcr_set_write_options_default();
    written.survey[TCR_LEFT] = "left.csv";
    written.survey[TCR_RIGHT] = "right.csv";
    tcr_plan_options options = tcr_plan_options_default();
    tcr_plan *plan = NULL;
    tcr_plan_work *order = NULL;
    tcr_set *planned = NULL;
    tcr_check *after = NULL;
    options.samples = 20;
    options.lengths_most = 4;
    note(k, tcr_plan_new(set, &options, &plan, NULL));
    if (k->status == TCR_OK)
        note(k, tcr_plan_apply(plan, &planned));
    if (k->status == TCR_OK)
        note(k, tcr_check_new(planned, NULL, &after, NULL));
    if (k->status == TCR_OK)
        note(k, tcr_plan_work_new(plan, NULL, &order));
    if (k->status == TCR_OK) {
        note(k, tcr_report_plan_json(plan, order, check, after, NULL, keep, k));
        note(k, tcr_report_plan_csv(plan, set, NULL, keep, k));
        note(k, tcr_report_plan_table(plan, order, check, after, NULL, keep, k));
        note(k, tcr_set_write(planned, &written, keep, k));
        note(k, tcr_survey_write(planned, TCR_LEFT, NULL, NULL, NULL, keep, k));
    }
    tcr_check_free(after);
    tcr_set_free(planned);
    tcr_plan_work_free(order);
    tcr_plan_free(plan);
}

/* Every lash of an eye at once, by columns that all threads read. */
static struct {
    double u[LASHES], zero[LASHES], length[LASHES], turn[LASHES], root[LASHES], ext[LASHES];
    double diameter[LASHES];
    int one[LASHES], none[LASHES];
    tcr_profile profile;
} columns;

static void fill_columns(void) {
    size_t count;
    columns.profile = tcr_curl_profile(&tcr_curl_catalogue(&count)[2], 12.0);
    for (int i = 0; i < LASHES; i++) {
        const double share = (double)i / LASHES;
        columns.u[i] = 0.05 + 0.9 * share;
        columns.length[i] = 6.0 + 3.0 * share;
        columns.turn[i] = 1.0 + 0.1 * share;
        columns.root[i] = 0.08;
        columns.ext[i] = 8.0 + 4.0 * share;
        columns.diameter[i] = 0.15;
        columns.one[i] = 1;
    }
}

static void place_the_tips(kept *k) {
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    double x[LASHES], y[LASHES], z[LASHES];
    tcr_tip_columns tips = {.x = x, .y = y, .z = z};
    const tcr_lash_columns lashes = {
        .u = columns.u,
        .height_mm = columns.zero,
        .pitch_rad = columns.zero,
        .yaw_rad = columns.zero,
        .roll_rad = columns.zero,
        .length_mm = columns.length,
        .turn_rad = columns.turn,
        .root_diameter_mm = columns.root,
        .tip_diameter_mm = columns.zero,
        .ext_length_mm = columns.ext,
        .ext_diameter_mm = columns.diameter,
        .ext_spread_rad = columns.zero,
        .ext_fan = columns.one,
        .ext_placement = columns.none,
        .ext_profile = columns.none,
    };
    note(k, tcr_tips_n(&lid, 1.0, &bond, &columns.profile, 1, LASHES, &lashes, &tips));
    for (int i = 0; i < LASHES; i++) {
        keep_double(k, x[i]);
        keep_double(k, y[i]);
        keep_double(k, z[i]);
    }
}

/* ---- Many threads, one result ------------------------------------------------------------------
 */

/* Shares the set and does the work in threads. */
static void compare_sharing(const work *works, int kinds) {
    fill_columns();
    share_set();
    compare(works, kinds);
    drop_set();
}

CLAIM(threads_that_share_columns_find_the_same_tips) {
    compare_sharing((const work[]){place_the_tips}, 1);
}

CLAIM(threads_that_share_a_set_come_to_the_same_check) {
    compare_sharing((const work[]){check_the_set}, 1);
}

CLAIM(threads_that_share_a_check_write_the_same_reports) {
    compare_sharing((const work[]){report_the_check}, 1);
}

CLAIM(threads_that_share_a_check_find_the_same_causes) {
    compare_sharing((const work[]){explain_the_check}, 1);
}

CLAIM(threads_that_share_a_set_level_the_same_steps) {
    compare_sharing((const work[]){level_the_steps}, 1);
}

CLAIM(threads_that_share_a_set_make_the_same_plan) {
    compare_sharing((const work[]){plan_the_set}, 1);
}

CLAIM(threads_at_different_work_leave_each_other_alone) {
    compare_sharing((const work[]){place_the_tips, check_the_set, report_the_check,
                                   explain_the_check, level_the_steps, plan_the_set},
                    6);
}

int main(void) {
    static const TTest *const claims[] = {
        &threads_that_share_columns_find_the_same_tips,
        &threads_that_share_a_set_come_to_the_same_check,
        &threads_that_share_a_check_write_the_same_reports,
        &threads_that_share_a_check_find_the_same_causes,
        &threads_that_share_a_set_level_the_same_steps,
        &threads_that_share_a_set_make_the_same_plan,
        &threads_at_different_work_leave_each_other_alone,
    };
    return RUN_CLAIMS("shared", claims);
}
