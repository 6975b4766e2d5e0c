/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which length of the map a plan does not reach, and for what: against lines and tips put together
 * here by the scalar calls. */
#include <tipcrest/plan.h>

#include <math.h>
#include <string.h>

#include <tipcrest/check.h>
#include <tipcrest/line_rule.h>
#include <tipcrest/mean.h>
#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/client.h"
#include "support/make.h"

static tcr_line intended_line(const tcr_set *set, tcr_side side) {
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_check_eye(check, side)->intended_status, TCR_OK);
    const tcr_line line = tcr_check_eye(check, side)->intended_line;
    tcr_check_free(check);
    return line;
}

CLAIM(a_shared_line_runs_lower_than_the_eyes_own_by_what_is_told) {
    tcr_set *set = tcr_make_measured(NULL, 2, 60);
    tcr_lid wide = tcr_lid_default();
    wide.mrd1_mm = 5.0;
    expect_status(tcr_set_replace_lid(set, TCR_RIGHT, &wide), TCR_OK);
    tcr_line_rule rule = tcr_line_rule_default();
    tcr_plan *shared = NULL, *apart = NULL;
    tcr_line line[TCR_SIDES][2];
    for (int own = 0; own < 2; own++) {
        rule.shared = own == 0;
        expect_status(tcr_set_put_line(set, &rule), TCR_OK);
        expect_status(tcr_plan_new(set, NULL, own ? &apart : &shared, NULL), TCR_OK);
        for (int side = 0; side < TCR_SIDES; side++)
            line[side][own] = intended_line(set, (tcr_side)side);
    }
    const tcr_bond bond = tcr_bond_default();
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_mean_lash mean;
        tcr_vec3 tip;
        expect_status(tcr_mean_lash_of(set, (tcr_side)side, &mean), TCR_OK);
        /* The middle of the longest zone, 0.3 to 0.7, which asks for 11 mm (client.c). */
        const tcr_lash lash = tcr_mean_lash_at(&mean, 0.5);
        const tcr_extension ext = tcr_make_extension("C", 11.0, TCR_ON_TOP);
        expect_status(tcr_tip(tcr_set_lid(set, (tcr_side)side), 1.0, &lash, &ext, &bond, &tip),
                      TCR_OK);
        const double lower =
            tcr_line_at(&line[side][1], tip.x) - tcr_line_at(&line[side][0], tip.x);
        const tcr_plan_reach *reach = &tcr_plan_eye_of(shared, (tcr_side)side)->reach;
        given("side %d", side);
        expect_true(fabs(lower) > 0.1);
        expect_near(reach->lowered_mm, lower, 1e-9, "the accuracy of the contract");
        expect_same(reach->asked_mm, 11.0, "the map's own number");
        expect_same(tcr_plan_eye_of(apart, (tcr_side)side)->reach.lowered_mm, 0.0,
                    "plan.h: where it is not shared");
    }
    tcr_plan_free(shared);
    tcr_plan_free(apart);
    tcr_set_free(set);
}

CLAIM(a_limit_that_no_lash_of_the_zone_keeps_is_told) {
    /* Lashes of about 8 mm may wear 13 (limits.h, overlength): all of the middle zone stay bare. */
    const tcr_zone zones[] = {{.to = 0.3, .length_mm = 9.0, .curl = "C"},
                              {.to = 0.7, .length_mm = 20.0, .curl = "C"},
                              {.to = 1.0, .length_mm = 10.0, .curl = "C"}};
    tcr_set *set = tcr_make_measured(NULL, 1, 90);
    tcr_plan *plan = NULL;
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, 3), TCR_OK);
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, TCR_LEFT);
    for (size_t i = 0; i < eye->lashes; i++) {
        const double u = tcr_set_lash(set, TCR_LEFT, i)->u;
        expect_true(u < 0.3 || u >= 0.7 || eye->lash[i].use != TCR_USED);
    }
    expect_same(eye->reach.asked_mm, 20.0, "the map's own number");
    expect_true(eye->reach.given_mm < 20.0);
    expect_true((eye->reach.limits & TCR_BEYOND_LENGTH) != 0);
    char text[TCR_PLAN_REACH_SIZE];
    tcr_plan_reach_text(plan, text);
    expect_true(strstr(text, "20 mm is not reached in zone 2; the longest is ") == text);
    expect_true(strstr(text, "not every lash there can carry it (limit") != NULL);
    expect_true(strstr(text, "at most 5 mm longer than the lash") != NULL); /* the default */
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(zones_that_ask_for_the_longest_are_told_and_nothing_where_it_is_reached) {
    const tcr_zone far[] = {{.to = 0.3, .length_mm = 20.0, .curl = "C"},
                            {.to = 0.7, .length_mm = 9.0, .curl = "C"},
                            {.to = 1.0, .length_mm = 20.0, .curl = "C"}};
    const tcr_zone near[] = {{.to = 1.0, .length_mm = 9.0, .curl = "C"}};
    tcr_set *set = tcr_make_measured(NULL, 1, 90);
    tcr_plan *plan = NULL;
    char text[TCR_PLAN_REACH_SIZE];
    expect_status(tcr_set_put_map(set, TCR_LEFT, far, 3), TCR_OK);
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    tcr_plan_reach_text(plan, text);
    expect_true(strstr(text, "20 mm is not reached in zones 1 and 3; the longest is ") == text);
    expect_status(tcr_set_put_map(set, TCR_LEFT, near, 1), TCR_OK);
    tcr_plan_reach_text(plan, text); /* the set is no longer the planned one */
    expect_text(text, "");
    tcr_plan_free(plan);
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    tcr_plan_reach_text(plan, text);
    expect_text(text, "");
    tcr_plan_reach_text(NULL, text);
    expect_text(text, "");
    tcr_plan_reach_text(plan, NULL);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_shared_line_runs_lower_than_the_eyes_own_by_what_is_told,
        &a_limit_that_no_lash_of_the_zone_keeps_is_told,
        &zones_that_ask_for_the_longest_are_told_and_nothing_where_it_is_reached,
    };
    return RUN_CLAIMS("reach", claims);
}
