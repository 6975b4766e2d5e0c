/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Calls of the core with NULL for what they read or write, and with eyes that are not there.
 * Expected is what the headers say: getters give NULL, 0, false or the default of their comment,
 * and calls that change a set refuse and leave it as it was.
 */
#include <tipcrest/tipcrest.h>

#include "support/check.h"
#include "support/make.h"

static const tcr_zone ALIKE = {.to = 1, .length_mm = 10, .curl = "C"};

CLAIM(no_set_has_nothing) {
    size_t count = 7;
    tcr_side sides[TCR_SIDES];
    expect_text(tcr_set_title(NULL), "");
    expect_count(tcr_set_subject(NULL), TCR_CLIENT);
    expect_count(tcr_set_eyes(NULL, sides), 0);
    expect_true(!tcr_set_has_eye(NULL, TCR_LEFT));
    expect_count(tcr_set_lash_count(NULL, TCR_LEFT), 0);
    expect_count(tcr_set_drawn_count(NULL, TCR_LEFT), 0);
    ck_assert_ptr_null(tcr_set_description(NULL, TCR_LEFT));
    ck_assert_ptr_null(tcr_set_lash(NULL, TCR_LEFT, 0));
    expect_count(tcr_set_assumed(NULL, TCR_LEFT, 0), 0);
    ck_assert_ptr_null(tcr_set_id(NULL, TCR_LEFT, 0));
    ck_assert_ptr_null(tcr_set_wish(NULL, TCR_LEFT, 0));
    ck_assert_ptr_null(tcr_set_lid(NULL, TCR_LEFT));
    expect_count(tcr_set_lid_assumed(NULL, TCR_LEFT), 0);
    expect_nan(tcr_set_longest_mm(NULL));
    ck_assert_ptr_null(tcr_set_map(NULL, TCR_LEFT, &count));
    expect_count(count, 0);
    count = 7;
    ck_assert_ptr_null(tcr_set_intended(NULL, TCR_LEFT, &count));
    expect_count(count, 0);
    ck_assert_ptr_null(tcr_set_intended(NULL, TCR_LEFT, NULL));
    ck_assert_ptr_null(tcr_set_layering(NULL));
    ck_assert_ptr_null(tcr_set_tray(NULL));
    ck_assert_ptr_null(tcr_set_bond(NULL));
    ck_assert_ptr_null(tcr_set_view(NULL));
    ck_assert_ptr_null(tcr_set_line(NULL));
    expect_nan(tcr_set_tolerance(NULL));
    ck_assert_ptr_null(tcr_set_mean_lash(NULL));
    expect_count(tcr_set_curl_count(NULL), 0);
    ck_assert_ptr_null(tcr_set_curl(NULL, 0));
    expect_count(tcr_set_zone_at(NULL, TCR_LEFT, 0.5), 0);
    expect_count(tcr_set_lashes_in(NULL, TCR_LEFT, 0, TCR_BOTTOM), 0);
    ck_assert_ptr_null(tcr_set_error(NULL));
}

CLAIM(no_set_and_nothing_to_write_to_are_refused) {
    tcr_set *set;
    tcr_lash lash;
    tcr_lid lid;
    tcr_choice choice;
    size_t index;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &ALIKE, 1), TCR_OK);
    lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "one", &lash, NULL), TCR_OK);
    expect_status(tcr_set_given_lash(NULL, TCR_LEFT, 0, &lash), TCR_E_ARGUMENT);
    expect_status(tcr_set_given_lash(set, TCR_LEFT, 0, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_given_lash(set, TCR_RIGHT, 0, &lash), TCR_E_MISSING);
    expect_status(tcr_set_given_lash(set, TCR_LEFT, 1, &lash), TCR_E_MISSING);
    expect_status(tcr_set_given_lid(NULL, TCR_LEFT, &lid), TCR_E_ARGUMENT);
    expect_status(tcr_set_given_lid(set, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_given_lid(set, TCR_RIGHT, &lid), TCR_E_MISSING);
    expect_status(tcr_set_find_curl(NULL, "C", &index), TCR_E_ARGUMENT);
    expect_status(tcr_set_find_curl(set, NULL, &index), TCR_E_ARGUMENT);
    expect_status(tcr_set_find_curl(set, "C", NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_find_duplicate(NULL, TCR_LEFT, &index), TCR_E_ARGUMENT);
    expect_status(tcr_set_find_duplicate(set, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_find_duplicate(set, TCR_RIGHT, &index), TCR_E_MISSING);
    expect_status(tcr_set_choice(NULL, TCR_LEFT, 0, &choice), TCR_E_ARGUMENT);
    expect_status(tcr_set_choice(set, TCR_LEFT, 0, NULL), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

CLAIM(no_set_takes_no_change) {
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const tcr_tray tray = tcr_tray_default();
    const tcr_bond bond = tcr_bond_default();
    const tcr_view view = tcr_view_named(TCR_OPEN_FRONT);
    const tcr_line_rule rule = tcr_line_rule_default();
    const tcr_layering layering = tcr_layering_default();
    const tcr_description description = tcr_description_default();
    expect_status(tcr_set_put_title(NULL, "x"), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_subject(NULL, TCR_CLIENT), TCR_E_ARGUMENT);
    expect_status(tcr_set_add_curl(NULL, tcr_curl_catalogue(NULL)), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_layering(NULL, &layering), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_tray(NULL, &tray), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_bond(NULL, &bond), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_view(NULL, &view), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_line(NULL, &rule), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_tolerance(NULL, 0.5), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_mean_lash(NULL, &lash), TCR_E_ARGUMENT);
    expect_status(tcr_set_add_eye(NULL, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_remove_eye(NULL, TCR_LEFT), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_intended(NULL, TCR_LEFT, NULL, 0), TCR_E_ARGUMENT);
    expect_status(tcr_set_describe(NULL, TCR_LEFT, &description), TCR_E_ARGUMENT);
    tcr_set_free(NULL);
}

CLAIM(a_set_says_of_itself_what_it_refused) {
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_subject(set, (tcr_subject)-1), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_subject(set, (tcr_subject)2), TCR_E_ARGUMENT);
    expect_count(tcr_set_subject(set), TCR_CLIENT);
    expect_status(tcr_set_put_mean_lash(set, NULL), TCR_E_ARGUMENT);
    /* A map needs its zones and their number, both or neither, and an eye. */
    expect_status(tcr_set_put_intended(set, TCR_LEFT, &ALIKE, 0), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_intended(set, TCR_LEFT, NULL, 1), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_intended(set, TCR_LEFT, &ALIKE, TCR_ZONES_MAX + 1), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_intended(set, TCR_LEFT, &ALIKE, 1), TCR_E_MISSING);
    expect_status(tcr_set_put_intended(set, TCR_LEFT, NULL, 0), TCR_E_MISSING);
    expect_status(tcr_set_describe(set, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_count(tcr_set_error(set)->status, TCR_E_ARGUMENT);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_count(tcr_set_error(set)->status, TCR_OK);
    expect_text(tcr_set_error(set)->message, "");
    tcr_set_free(set);
}

CLAIM(no_check_and_no_plan_have_their_defaults) {
    const tcr_view view = tcr_check_view(NULL), front = tcr_view_named(TCR_OPEN_FRONT);
    tcr_symmetry symmetry;
    tcr_likeness likeness;
    tcr_judgement judgement;
    ck_assert_ptr_null(tcr_check_set(NULL));
    expect_same(view.opening, front.opening, "open");
    expect_same(view.viewer_rad, front.viewer_rad, "from the front");
    expect_count(tcr_check_against(NULL), TCR_FITTED);
    expect_count(tcr_check_parts(NULL), 0);
    expect_nan(tcr_check_tolerance(NULL));
    ck_assert_ptr_null(tcr_check_eye(NULL, TCR_LEFT));
    expect_status(tcr_check_symmetry(NULL, &symmetry), TCR_E_ARGUMENT);
    expect_status(tcr_check_likeness(NULL, &likeness), TCR_E_ARGUMENT);
    expect_status(tcr_check_judge(NULL, 1u << TCR_LEFT, &judgement), TCR_E_ARGUMENT);
    tcr_check_free(NULL);
    ck_assert_ptr_null(tcr_plan_result_of(NULL));
    ck_assert_ptr_null(tcr_plan_point_made(NULL));
    ck_assert_ptr_null(tcr_plan_eye_of(NULL, TCR_LEFT));
    ck_assert_ptr_null(tcr_plan_options_of(NULL));
    expect_true(!tcr_plan_fits(NULL, NULL));
    expect_status(tcr_plan_apply(NULL, NULL), TCR_E_ARGUMENT);
    tcr_plan_free(NULL);
    tcr_plan_work_free(NULL);
}

CLAIM(a_check_has_no_eyes_but_its_own) {
    tcr_set *set;
    tcr_check *check;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_RIGHT, &ALIKE, 1), TCR_OK);
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_add_lash(set, TCR_RIGHT, "one", &lash, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    ck_assert_ptr_nonnull(tcr_check_eye(check, TCR_RIGHT));
    for (int side = -1; side <= TCR_SIDES; side++)
        if (side != TCR_RIGHT)
            ck_assert_ptr_null(tcr_check_eye(check, (tcr_side)side));
    expect_status(tcr_check_symmetry(check, NULL), TCR_E_ARGUMENT);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_line_of_nothing_is_refused) {
    enum { TIPS = 4 };
    double x[TIPS] = {0, 1, 2, 3}, y[TIPS] = {1, 1, 1, 1}, off[TIPS], across[TIPS], room[4 * TIPS];
    tcr_layer layer[TIPS] = {TCR_BOTTOM, TCR_MIDDLE, TCR_TOP, TCR_BOTTOM};
    tcr_line line = {.x_min_mm = 0, .x_max_mm = 3};
    tcr_evenness even;
    for (int k = 0; k < TCR_LINE_COEFFICIENTS; k++) /* B-splines sum to 1 */
        line.coefficient_mm[k] = 1;
    for (int left_out = 0; left_out <= 8; left_out++) {
        given("argument %d left out", left_out);
        expect_status(tcr_line_evenness(left_out == 1 ? NULL : &line, left_out == 2 ? NULL : x,
                                        left_out == 3 ? NULL : y, left_out == 4 ? NULL : layer,
                                        TIPS, 0.5, left_out == 5 ? NULL : off,
                                        left_out == 6 ? NULL : across, left_out == 7 ? NULL : room,
                                        left_out == 8 ? NULL : &even),
                      left_out == 0 ? TCR_OK : TCR_E_ARGUMENT);
    }
    layer[2] = (tcr_layer)TCR_LAYERS;
    expect_status(tcr_line_evenness(&line, x, y, layer, TIPS, 0.5, off, across, room, &even),
                  TCR_E_ARGUMENT);
    layer[2] = (tcr_layer)-1;
    expect_status(tcr_line_evenness(&line, x, y, layer, TIPS, 0.5, off, across, room, &even),
                  TCR_E_ARGUMENT);
    expect_nan(tcr_line_largest_gap(x, 4, NULL));
    expect_same(tcr_line_largest_gap(x, 4, room), 1, "tips 1 mm apart");
}

/* The tip of one lash by columns, with one of the columns left out; 17 and more: none. */
static tcr_status tip_without(int left_out) {
    double u = 0.5, height = 0, pitch = 0, yaw = 0, roll = 0, length = 9, turn = 0.5, root = 0.1;
    double tip = 0.02, ext = 12, diameter = 0.15, spread = 0, x, y, z;
    int fan = 1, placement = TCR_ON_TOP, profile = 0;
    const tcr_profile profiles[] = {tcr_curl_profile(tcr_curl_catalogue(NULL), 12)};
    const tcr_lid lid = tcr_lid_complete(NULL, NULL);
    const tcr_bond bond = tcr_bond_default();
#define UNLESS(k, column) (left_out == (k) ? NULL : &(column))
    const tcr_lash_columns lashes = {.u = UNLESS(0, u),
                                     .height_mm = UNLESS(1, height),
                                     .pitch_rad = UNLESS(2, pitch),
                                     .yaw_rad = UNLESS(3, yaw),
                                     .roll_rad = UNLESS(4, roll),
                                     .length_mm = UNLESS(5, length),
                                     .turn_rad = UNLESS(6, turn),
                                     .root_diameter_mm = UNLESS(7, root),
                                     .tip_diameter_mm = UNLESS(8, tip),
                                     .ext_length_mm = UNLESS(9, ext),
                                     .ext_diameter_mm = UNLESS(10, diameter),
                                     .ext_spread_rad = UNLESS(11, spread),
                                     .ext_fan = UNLESS(12, fan),
                                     .ext_placement = UNLESS(13, placement),
                                     .ext_profile = UNLESS(14, profile)};
    tcr_tip_columns tips = {.x = UNLESS(15, x), .y = UNLESS(16, y), .z = UNLESS(17, z)};
#undef UNLESS
    return tcr_tips_n(&lid, 1, &bond, profiles, 1, 1, &lashes, &tips);
}

CLAIM(tips_need_every_column) {
    for (int left_out = 0; left_out <= 18; left_out++) {
        given("column %d left out", left_out);
        expect_status(tip_without(left_out), left_out == 18 ? TCR_OK : TCR_E_ARGUMENT);
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &no_set_has_nothing,
        &no_set_and_nothing_to_write_to_are_refused,
        &no_set_takes_no_change,
        &a_set_says_of_itself_what_it_refused,
        &no_check_and_no_plan_have_their_defaults,
        &a_check_has_no_eyes_but_its_own,
        &a_line_of_nothing_is_refused,
        &tips_need_every_column,
    };
    return RUN_CLAIMS("null", claims);
}
