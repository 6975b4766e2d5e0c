/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The planned set: the plan and a check of it agree, and no lash is another one afterwards. */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <tipcrest/check.h>
#include <tipcrest/mean.h>

#include "support/check.h"
#include "support/client.h"

static const double RMS_MM = 1e-9; /* the accuracy of the contract */

/* Two eyes whose lids and maps differ, so that their own intended lines do too: INVENTED. */
static tcr_set *client(bool shared) {
    tcr_set *set = tcr_make_client(NULL, 2, 90);
    tcr_lid lid = tcr_lid_default();
    tcr_line_rule rule = *tcr_set_line(set);
    static const tcr_zone ZONES[] = {{.to = 0.4, .length_mm = 8.0, .curl = "C"},
                                     {.to = 1.0, .length_mm = 10.0, .curl = "D"}};
    lid.mrd1_mm = 2.9;
    rule.shared = shared;
    expect_status(tcr_set_replace_lid(set, TCR_RIGHT, &lid), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_RIGHT, ZONES, 2), TCR_OK);
    expect_status(tcr_set_put_line(set, &rule), TCR_OK);
    return set;
}

static tcr_plan *planned(const tcr_set *set, const tcr_plan_options *options, tcr_set **after) {
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, options, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, after), TCR_OK);
    return plan;
}

/* The rms of all tips of a set off their intended lines, and the largest deviation. */
static double rms_of(const tcr_set *set, double *most) {
    tcr_check *check = NULL;
    double squares = 0.0, tips = 0.0;
    *most = 0.0;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        const tcr_residuals *off = &eye->intended.upright;
        expect_status(eye->intended_status, TCR_OK);
        squares += (double)eye->extended * off->rms_mm * off->rms_mm;
        tips += (double)eye->extended;
        *most = fmax(*most, off->max_abs_mm);
    }
    tcr_check_free(check);
    return sqrt(squares / tips);
}

/* What the plan says of the corrections that it made. */
static const tcr_plan_point *made_by(const tcr_plan *plan) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_plan_point *made = r->point;
    while (made->corrections < r->corrections)
        made++;
    return made;
}

CLAIM(two_planned_eyes_are_as_far_off_their_lines_as_the_plan_says) {
    static const size_t CORRECTIONS[] = {0, 5, SIZE_MAX};
    for (int k = 0; k < 6; k++) {
        const bool shared = k % 2 == 0;
        tcr_set *set = client(shared), *after = NULL;
        tcr_plan_options o = tcr_plan_options_default();
        o.corrections = CORRECTIONS[k / 2];
        tcr_plan *plan = planned(set, &o, &after);
        given("shared %d, %zu corrections", shared, tcr_plan_result_of(plan)->corrections);
        expect_true((tcr_plan_result_of(plan)->corrections > 0) == (k / 2 > 0));
        double most;
        /* Source: the check's own statistics of the planned set. */
        expect_near(rms_of(after, &most), made_by(plan)->rms_mm, RMS_MM, "the contract's accuracy");
        expect_near(most, made_by(plan)->max_mm, RMS_MM, "the contract's accuracy");
        tcr_plan_free(plan);
        tcr_set_free(after);
        tcr_set_free(set);
    }
}

CLAIM(plans_have_the_lines_of_checks_before_and_after) {
    for (int shared = 0; shared < 2; shared++) {
        tcr_set *set = client(shared != 0), *after = NULL;
        tcr_plan *plan = planned(set, NULL, &after);
        const tcr_line *line = tcr_plan_result_of(plan)->line;
        for (int side = 0; side < TCR_SIDES; side++) {
            tcr_line before_it, after_it;
            const tcr_view *view = tcr_set_view(set);
            expect_status(tcr_intended_line(set, (tcr_side)side, view, &before_it), TCR_OK);
            expect_status(tcr_intended_line(after, (tcr_side)side, view, &after_it), TCR_OK);
            expect_bytes(&line[side], &before_it, sizeof before_it);
            expect_bytes(&after_it, &before_it, sizeof before_it);
        }
        /* Source: model.md, section 7. */
        expect_true((memcmp(&line[TCR_LEFT], &line[TCR_RIGHT], sizeof *line) == 0) ==
                    (shared != 0));
        tcr_plan_free(plan);
        tcr_set_free(after);
        tcr_set_free(set);
    }
}

CLAIM(a_plan_changes_no_lash_and_writes_none_for_what_it_leaves_bare) {
    tcr_set *set = client(true), *after = NULL;
    tcr_plan_options o = tcr_plan_options_default();
    o.limits.baby_below_mm = 6.0; /* more than the description's 5: some suitable ones stay bare */
    o.limits.out_of_fan_rad = 0.1;
    tcr_plan *plan = planned(set, &o, &after);
    size_t uses[TCR_USES] = {0};
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        tcr_mean_lash was, is;
        expect_status(tcr_mean_lash_of(set, (tcr_side)side, &was), TCR_OK);
        expect_status(tcr_mean_lash_of(after, (tcr_side)side, &is), TCR_OK);
        expect_bytes(&is, &was, sizeof was);
        expect_count(tcr_set_drawn_count(after, (tcr_side)side), eye->lashes);
        for (size_t i = 0; i < eye->lashes; i++) {
            tcr_lash before_it, after_it;
            expect_status(tcr_set_given_lash(set, (tcr_side)side, i, &before_it), TCR_OK);
            expect_status(tcr_set_given_lash(after, (tcr_side)side, i, &after_it), TCR_OK);
            given("eye %d, lash %zu, use %d", side, i, (int)eye->lash[i].use);
            /* Source: model.md, section 7. */
            expect_bytes(&after_it, &before_it, sizeof before_it);
            const unsigned fixed = tcr_set_wish(after, (tcr_side)side, i)->fixed;
            expect_true(((fixed & TCR_FIX_BARE) != 0) == (eye->lash[i].use >= TCR_BARE_COVER));
            uses[eye->lash[i].use]++;
        }
    }
    expect_true(uses[TCR_USED] > 0 && uses[TCR_BARE_BABY] > 0 && uses[TCR_BARE_STRAY] > 0);
    tcr_plan_free(plan);
    tcr_set_free(after);
    tcr_set_free(set);
}

CLAIM(a_row_keeps_what_it_wears_and_where_its_glue_begins) {
    tcr_set *set = client(true), *after = NULL;
    tcr_wish worn = {.fixed = TCR_FIX_LENGTH | TCR_FIX_FROM_SKIN, .length_mm = 9.0};
    size_t i = 0;
    worn.from_skin_mm = 2.2;
    while (tcr_set_lash(set, TCR_LEFT, i)->length_mm < 7.0)
        i++;
    expect_status(tcr_set_replace_wish(set, TCR_LEFT, i, &worn), TCR_OK);
    tcr_plan *plan = planned(set, NULL, &after);
    const tcr_wish *kept = tcr_set_wish(after, TCR_LEFT, i);
    double most;
    expect_count(tcr_plan_eye_of(plan, TCR_LEFT)->lash[i].use, TCR_USED_BY_ROW);
    expect_true((kept->fixed & worn.fixed) == worn.fixed);
    expect_same(kept->from_skin_mm, 2.2, "as given");
    expect_same(kept->length_mm, 9.0, "as given");
    expect_near(rms_of(after, &most), made_by(plan)->rms_mm, RMS_MM, "the contract's accuracy");
    tcr_plan_free(plan);
    tcr_set_free(after);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &two_planned_eyes_are_as_far_off_their_lines_as_the_plan_says,
        &plans_have_the_lines_of_checks_before_and_after,
        &a_plan_changes_no_lash_and_writes_none_for_what_it_leaves_bare,
        &a_row_keeps_what_it_wears_and_where_its_glue_begins,
    };
    return RUN_CLAIMS("apply", claims);
}
