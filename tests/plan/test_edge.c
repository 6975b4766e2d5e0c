/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Calls at the edge of what C lets a caller write: NULL, any index, any value of an enumeration,
 * structs that no call of the library made, and a check or plan whose set has changed. Expected is
 * what the headers say; that nothing is read out of bounds is for the sanitizers to see.
 */
#include <tipcrest/tipcrest.h>

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include <tipcrest/text.h>

#include "support/check.h"
#include "support/client.h"
#include "support/make.h"

static const int ODD[] = {INT_MIN, -1, 99, INT_MAX};
enum { ODDS = sizeof ODD / sizeof *ODD };

static void expect_no_point(tcr_vec3 point) {
    expect_nan(point.x);
    expect_nan(point.y);
    expect_nan(point.z);
}

CLAIM(null_is_no_lash_no_lid_and_no_line) {
    const tcr_vec3 here = {1.0, 2.0, 3.0};
    unsigned assumed = 0;
    expect_nan(tcr_lash_complete(NULL, &assumed).u);
    expect_count(assumed, TCR_LASH_ALL & ~(TCR_LASH_FINAL_LENGTH | TCR_LASH_YAW));
    expect_nan(tcr_lash_profile(NULL).turn_rad[0]);
    expect_nan(tcr_lash_diameter(NULL, 1.0));
    expect_no_point(tcr_stance_point(NULL, here));
    const tcr_lid lid = tcr_lid_complete(NULL, &assumed);
    expect_count(assumed, TCR_LID_ALL);
    expect_status(tcr_lid_validate(&lid, NULL), TCR_OK);
    expect_nan(tcr_view_project(NULL, here).x);
    expect_nan(tcr_mean_lash_at(NULL, 0.5).length_mm);
    const tcr_layer_heights heights = tcr_layer_heights_apart(NULL, 1.0);
    expect_nan(heights.height_mm[TCR_TOP]);
    expect_count(heights.lashes[TCR_TOP], 0);
    expect_nan(tcr_line_at(NULL, 0.0));
    expect_nan(tcr_line_slope(NULL, 0.0));
    expect_nan(tcr_line_largest_gap(NULL, 5, NULL));
    expect_count(tcr_likeness_of(NULL, 1.0), TCR_UNLIKE);
    expect_nan(tcr_random_uniform(NULL));
    expect_nan(tcr_random_normal(NULL));
    tcr_philox(NULL, NULL, NULL);
}

CLAIM(a_profile_of_no_such_pieces_has_no_points) {
    static const int PIECES[] = {INT_MIN, -1, 0, TCR_PIECES_MAX + 1, INT_MAX};
    const tcr_attachment attachment = {.bond_mm = 3.0};
    for (size_t i = 0; i < sizeof PIECES / sizeof *PIECES; i++) {
        tcr_extension ext = tcr_make_extension("C", 10.0, TCR_ON_TOP);
        ext.profile.pieces = PIECES[i];
        given("%d pieces", PIECES[i]);
        expect_nan(tcr_profile_at(&ext.profile, 10.0, 5.0).x);
        expect_no_point(tcr_attachment_fibre(&attachment, &ext, 0, 5.0));
        const tcr_profile two[] = {ext.profile, ext.profile};
        const double length_mm[] = {8.0, 12.0};
        const tcr_curl curl = {"X", 2, length_mm, two};
        const tcr_profile between = tcr_curl_profile(&curl, 10.0);
        expect_status(tcr_profile_validate(&between, NULL), TCR_E_ARGUMENT);
    }
    expect_nan(tcr_profile_at(NULL, 10.0, 5.0).angle_rad);
    expect_no_point(tcr_attachment_fibre(NULL, NULL, 0, 5.0));
}

CLAIM(a_curl_without_what_it_counts_has_no_profile) {
    const tcr_profile one = tcr_curl_catalogue(NULL)->profiles[0];
    const double length_mm[] = {8.0};
    const tcr_curl curls[] = {{"X", 0, length_mm, &one},
                              {"X", TCR_CURL_LENGTHS_MAX + 1, length_mm, &one},
                              {"X", SIZE_MAX, length_mm, &one},
                              {"X", 2, NULL, &one},
                              {"X", 1, NULL, NULL}};
    for (size_t i = 0; i < sizeof curls / sizeof *curls; i++) {
        given("curl %zu", i);
        expect_count(tcr_curl_profile(&curls[i], 9.0).pieces, 0);
        expect_status(tcr_curl_validate(&curls[i], NULL), TCR_E_ARGUMENT);
    }
    expect_count(tcr_curl_profile(NULL, 9.0).pieces, 0);
}

CLAIM(a_choice_that_is_not_the_sets_gives_an_extension_that_no_call_takes) {
    tcr_set *set = tcr_make_client(NULL, 1, 30);
    tcr_choice choice;
    size_t worn = 0;
    while (tcr_set_choice(set, TCR_LEFT, worn, &choice) != TCR_OK)
        expect_true(++worn < 30); /* some are bare */
    const size_t curls[] = {tcr_set_curl_count(set), SIZE_MAX};
    for (int i = 0; i < 2; i++) {
        choice.curl = curls[i];
        const tcr_extension ext = tcr_set_extension(set, &choice);
        expect_status(tcr_extension_validate(&ext, NULL), TCR_E_RANGE);
    }
    const tcr_extension none = tcr_set_extension(NULL, &choice), nor = tcr_set_extension(set, NULL);
    expect_count(none.fan + nor.fan, 0);
    const tcr_bond bond = tcr_set_bond_of(NULL, &choice), own = tcr_set_bond_of(set, NULL);
    expect_status(tcr_bond_validate(&bond, NULL), TCR_E_RANGE);
    expect_status(tcr_bond_validate(&own, NULL), TCR_E_RANGE);
    for (int i = 0; i < ODDS; i++) {
        given("side %d", ODD[i]);
        expect_count(tcr_set_intended_extension(set, (tcr_side)ODD[i], 0.5).fan, 0);
        expect_count(tcr_set_zone_at(set, (tcr_side)ODD[i], 0.5), 0);
        expect_count(tcr_set_lashes_in(set, TCR_LEFT, SIZE_MAX, (tcr_layer)ODD[i]), 0);
    }
    expect_count(tcr_set_intended_extension(set, TCR_RIGHT, 0.5).fan, 0);
    expect_count(tcr_set_intended_extension(NULL, TCR_LEFT, 0.5).fan, 0);
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK); /* without a map */
    expect_count(tcr_set_intended_extension(set, TCR_RIGHT, 0.5).fan, 0);
    for (int k = -10; k <= 10; k++)
        expect_count(tcr_set_intended_extension(set, TCR_LEFT, 0.3 * k).fan, 1);
    expect_count(tcr_set_intended_extension(set, TCR_LEFT, (double)NAN).fan, 1);
    tcr_set_free(set);
}

CLAIM(a_field_that_is_not_of_the_table_touches_no_object) {
    size_t count;
    tcr_bond bond = tcr_bond_default();
    const tcr_field *fields = tcr_fields(TCR_GROUP_BOND, &count);
    tcr_field own = fields[0];
    own.offset = 1u << 20;
    expect_nan(tcr_field_value(&own, &bond));
    expect_status(tcr_field_put(&own, &bond, 1.0, NULL), TCR_E_ARGUMENT);
    const char *inside = (const char *)(const void *)&fields[0] + sizeof(size_t);
    expect_nan(tcr_field_value((const tcr_field *)(const void *)inside, &bond));
    expect_same(tcr_field_value(&fields[0], &bond), 0.7, "the default of the header");
    for (int i = 0; i < ODDS; i++) {
        given("group %d", ODD[i]);
        expect_true(tcr_fields((tcr_group)ODD[i], &count) == NULL);
        expect_count(count, 0);
        expect_status(tcr_fields_validate((tcr_group)ODD[i], &bond, NULL), TCR_E_ARGUMENT);
        tcr_fields_default((tcr_group)ODD[i], &bond);
    }
}

CLAIM(words_for_any_value_of_an_enumeration) {
    for (int i = 0; i < ODDS; i++) {
        const int odd = ODD[i];
        given("value %d", odd);
        expect_text(tcr_side_text((tcr_side)odd), "unknown");
        expect_text(tcr_layer_text((tcr_layer)odd), "unknown");
        expect_text(tcr_placement_text((tcr_placement)odd), "unknown");
        expect_text(tcr_verdict_text((tcr_verdict)odd), "unknown");
        expect_text(tcr_likeness_text((tcr_likeness)odd), "unknown");
        expect_text(tcr_doubt_text((tcr_doubt_kind)odd), "unknown");
        expect_text(tcr_cause_text((tcr_cause)odd), "unknown");
        expect_text(tcr_cause_levelled_text((tcr_cause)odd), "unknown");
        expect_text(tcr_source_text((tcr_source)odd), "");
        expect_text(tcr_status_text((tcr_status)odd), "unknown status");
        expect_true(!tcr_cause_can_change((tcr_cause)odd));
        expect_true(tcr_bare_text((tcr_status)odd, (tcr_condition)odd) != NULL);
        expect_true(tcr_bare_text(TCR_E_BARE, (tcr_condition)odd) != NULL);
        /* Source: view.h. */
        expect_same(tcr_view_named((tcr_named_view)odd).opening, 1.0, "open front");
    }
}

CLAIM(causes_of_no_such_kind_are_absent_and_say_nothing) {
    tcr_why why;
    char text[TCR_WHY_TEXT];
    memset(&why, 0x7f, sizeof why); /* huge numbers, and kinds of lengths that there are not */
    for (int i = 0; i < ODDS; i++) {
        expect_true(tcr_cause_is_absent(&why, (tcr_cause)ODD[i]));
        tcr_why_say_cause(&why, (tcr_cause)ODD[i], text);
        expect_text(text, "");
        tcr_why_say(&why, (tcr_why_sentence)ODD[i], text);
        expect_text(text, "");
    }
    expect_true(tcr_cause_is_absent(NULL, TCR_CAUSE_HEIGHTS));
    why.layers.worn = false; /* a bool may hold no other byte */
    for (int s = 0; s < TCR_WHY_SENTENCES; s++) {
        tcr_why_say(&why, (tcr_why_sentence)s, text);
        expect_true(memchr(text, '\0', sizeof text) != NULL);
    }
}

CLAIM(a_verdict_on_any_number_of_tips_is_that_of_their_share) {
    /* Source: verdict.h, 95 and 80 %. */
    expect_count(tcr_verdict_of(SIZE_MAX, 0), TCR_EVEN);
    expect_count(tcr_verdict_of(SIZE_MAX, SIZE_MAX / 20), TCR_EVEN);
    expect_count(tcr_verdict_of(SIZE_MAX, SIZE_MAX / 20 + 1), TCR_MOSTLY_EVEN);
    expect_count(tcr_verdict_of(SIZE_MAX, SIZE_MAX / 5), TCR_MOSTLY_EVEN);
    expect_count(tcr_verdict_of(SIZE_MAX, SIZE_MAX / 5 + 1), TCR_UNEVEN);
    expect_count(tcr_verdict_of(3, SIZE_MAX), TCR_UNEVEN);
}

CLAIM(a_look_whose_shares_are_none_is_refused) {
    static const double SHARES[] = {0.0, -1.0, 1.5, NAN, INFINITY};
    const tcr_tray tray = tcr_tray_default();
    tcr_look look = *tcr_look_catalogue(NULL);
    double length_mm[TCR_LOOK_ZONES_MAX];
    for (size_t i = 0; i < sizeof SHARES / sizeof *SHARES; i++) {
        look.share[0] = SHARES[i];
        given("share %g", SHARES[i]);
        expect_status(tcr_look_lengths(&look, 12.0, &tray, length_mm), TCR_E_RANGE);
    }
    look.zones = SIZE_MAX;
    expect_status(tcr_look_lengths(&look, 12.0, &tray, length_mm), TCR_E_ARGUMENT);
    expect_same(tcr_look_zone_end(SIZE_MAX, 3), 1.0, "behind the last");
    expect_same(tcr_look_zone_end(3, 3), 1.0, "behind the last");
    expect_same(tcr_look_zone_end(0, 0), 1.0, "no zones");
}

CLAIM(a_tray_with_counts_out_of_range_has_nothing) {
    tcr_tray tray = tcr_tray_default(), of = {.count = 77};
    expect_status(tcr_tray_of(&tray, "C", 0.1, NULL), TCR_E_ARGUMENT);
    for (int which = 0; which < 2; which++) {
        const size_t counts[] = {TCR_TRAY_MAX + 1, SIZE_MAX};
        tray = tcr_tray_default();
        tray.count = counts[which];
        expect_nan(tcr_tray_nearest(&tray, 10.0));
        expect_true(!tcr_tray_has(&tray, 10.0));
        expect_status(tcr_tray_of(&tray, "C", 0.1, &of), TCR_E_ARGUMENT);
        tray = tcr_tray_default();
        tray.kinds = counts[which];
        expect_status(tcr_tray_of(&tray, "C", 0.1, &of), TCR_E_ARGUMENT);
        expect_status(tcr_tray_validate(&tray, NULL), TCR_E_ARGUMENT);
    }
    expect_count(of.count, 77); /* not touched */
    expect_nan(tcr_tray_nearest(NULL, 10.0));
    expect_true(!tcr_tray_has(NULL, 10.0));
}

CLAIM(text_for_no_room_is_empty) {
    char out[8] = "before";
    expect_count(tcr_printable("a long text", 80, out, 0), 0);
    expect_text(out, "before");
    for (size_t size = 1; size < 4; size++) {
        expect_count(tcr_printable("a long text", 80, out, size), 0);
        expect_text(out, "");
    }
    for (int i = 0; i < ODDS; i++)
        (void)tcr_printable("a long text", ODD[i], out, sizeof out);
    expect_count(tcr_printable("a long text", 2, out, sizeof out), 0);
    expect_text(out, "");
    expect_count(tcr_printable(NULL, 80, out, sizeof out), 0);
    expect_count(tcr_printable("a", 80, NULL, 8), 0);
    expect_count(tcr_printable("a long text", 80, out, 4), 3);
    expect_text(out, "...");
    const char *const words[] = {NULL, "", "length", NULL};
    expect_true(tcr_suggest("lenght", 6, words, 4) == words[2]);
    expect_true(tcr_suggest(NULL, 6, words, 4) == NULL);
    expect_true(tcr_suggest("lenght", 6, NULL, 4) == NULL);
    expect_count(tcr_number_text(1.0, NULL), 0);
    double value = 7.0;
    expect_true(!tcr_number_parse("1", 1, NULL) && !tcr_number_parse(NULL, 1, &value));
    expect_same(value, 7.0, "unchanged");
}

CLAIM(a_quantity_from_the_middle_of_the_table_is_none) {
    tcr_set *set = tcr_make_client(NULL, 1, 30);
    tcr_check *check;
    size_t count;
    double value[30];
    const tcr_quantity *table = tcr_quantities(&count);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    const size_t shifts[] = {1, sizeof(void *), sizeof *table - 1, count * sizeof *table};
    for (size_t i = 0; i < sizeof shifts / sizeof *shifts; i++) {
        const void *at = (const char *)(const void *)table + shifts[i];
        given("%zu bytes into the table", shifts[i]);
        expect_status(tcr_check_column(check, TCR_LEFT, at, value, 30), TCR_E_ARGUMENT);
        expect_status(tcr_check_row(check, TCR_LEFT, 0, at, value, 1), TCR_E_ARGUMENT);
    }
    expect_status(tcr_check_row(check, TCR_LEFT, 0, table, value, count + 1), TCR_E_ARGUMENT);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* ---- A set that has changed since ------------------------------------------------------------ */

CLAIM(a_check_whose_set_has_changed_has_no_eyes_until_it_runs_again) {
    tcr_set *set = tcr_make_client(NULL, 2, 30);
    tcr_check *check;
    tcr_load load;
    tcr_weight weight;
    tcr_weight_most most;
    tcr_why why;
    tcr_symmetry symmetry;
    tcr_likeness likeness;
    tcr_judgement judgement;
    tcr_loaded_lash nearest[4];
    double values[30];
    const tcr_limits limits = tcr_limits_default();
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_set_put_tolerance(set, -1.0), TCR_E_RANGE); /* no change */
    expect_true(tcr_check_eye(check, TCR_LEFT) != NULL);
    expect_status(tcr_set_remove_eye(set, TCR_LEFT), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_side s = (tcr_side)side;
        given("side %d", side);
        expect_true(tcr_check_eye(check, s) == NULL);
        expect_status(tcr_check_load(check, s, 29, &load), TCR_E_MISSING);
        expect_status(tcr_check_weight(check, s, 29, &weight), TCR_E_MISSING);
        expect_status(tcr_check_weight_most(check, s, &most), TCR_E_MISSING);
        expect_status(tcr_why_of(check, s, &why), TCR_E_MISSING);
        expect_status(tcr_check_column(check, s, tcr_quantities(NULL), values, 30), TCR_E_MISSING);
        expect_status(tcr_check_row(check, s, 0, tcr_quantities(NULL), values, 3), TCR_E_MISSING);
    }
    expect_status(tcr_check_symmetry(check, &symmetry), TCR_E_MISSING);
    expect_status(tcr_check_likeness(check, &likeness), TCR_E_MISSING);
    expect_status(tcr_check_judge(check, 3, &judgement), TCR_E_MISSING);
    expect_count(tcr_limits_nearest(&limits, check, 3, nearest, 4), 0);
    expect_status(tcr_check_again(check, set, NULL, NULL), TCR_OK);
    expect_true(tcr_check_eye(check, TCR_RIGHT) != NULL);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_check_that_failed_reads_the_set_that_it_was_given_last) {
    tcr_set *first = tcr_make_client(NULL, 1, 30), *second = tcr_make_client(NULL, 1, 30);
    tcr_check *check;
    tcr_check_options bad = tcr_check_options_default();
    bad.tolerance_mm = -1.0;
    expect_status(tcr_check_new(first, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_check_again(check, second, &bad, NULL), TCR_E_RANGE);
    tcr_set_free(first); /* the check must not read it any more */
    expect_true(tcr_check_set(check) == second);
    expect_true(tcr_check_eye(check, TCR_LEFT) == NULL);
    tcr_check_free(check);
    tcr_set_free(second);
}

CLAIM(a_plan_fits_sets_of_its_shape_until_its_own_changes) {
    tcr_set *set = tcr_make_client(NULL, 1, 30), *copy = NULL, *planned = NULL, *other = NULL;
    tcr_plan *plan;
    tcr_plan_work *work = NULL;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_set_copy(NULL, set, &copy), TCR_OK);
    expect_true(tcr_plan_fits(plan, set) && tcr_plan_fits(plan, planned) &&
                tcr_plan_fits(plan, copy));
    expect_true(!tcr_plan_fits(NULL, set) && !tcr_plan_fits(plan, NULL));
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_add_lash(copy, TCR_LEFT, "one more", &lash, NULL), TCR_OK);
    expect_true(!tcr_plan_fits(plan, copy));
    const tcr_zone zones[] = {{.to = 1.0, .length_mm = 10.0, .curl = "C"}};
    expect_status(tcr_set_put_map(planned, TCR_LEFT, zones, 1), TCR_OK);
    expect_true(!tcr_plan_fits(plan, planned));
    other = tcr_make_client(NULL, 2, 30);
    expect_true(!tcr_plan_fits(plan, other));
    expect_status(tcr_set_put_title(set, "another"), TCR_OK);
    expect_true(!tcr_plan_fits(plan, set));
    tcr_set *again = NULL;
    expect_status(tcr_plan_apply(plan, &again), TCR_E_ARGUMENT);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_E_ARGUMENT);
    expect_true(again == NULL && work == NULL);
    tcr_plan_free(plan);
    tcr_set *const sets[] = {set, copy, planned, other};
    for (int i = 0; i < 4; i++)
        tcr_set_free(sets[i]);
}

CLAIM(work_outlives_its_plan) {
    tcr_set *set = tcr_make_client(NULL, 1, 30);
    tcr_plan *plan;
    tcr_plan_work *work;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    expect_true(work->plan == plan);
    tcr_plan_free(plan);
    tcr_set_free(set);
    expect_true(work->places > 0 && work->pace->lash_s > 0.0);
    tcr_plan_work_free(work);
}

int main(void) {
    static const TTest *const claims[] = {
        &null_is_no_lash_no_lid_and_no_line,
        &a_profile_of_no_such_pieces_has_no_points,
        &a_curl_without_what_it_counts_has_no_profile,
        &a_choice_that_is_not_the_sets_gives_an_extension_that_no_call_takes,
        &a_field_that_is_not_of_the_table_touches_no_object,
        &words_for_any_value_of_an_enumeration,
        &causes_of_no_such_kind_are_absent_and_say_nothing,
        &a_verdict_on_any_number_of_tips_is_that_of_their_share,
        &a_look_whose_shares_are_none_is_refused,
        &a_tray_with_counts_out_of_range_has_nothing,
        &text_for_no_room_is_empty,
        &a_quantity_from_the_middle_of_the_table_is_none,
        &a_check_whose_set_has_changed_has_no_eyes_until_it_runs_again,
        &a_check_that_failed_reads_the_set_that_it_was_given_last,
        &a_plan_fits_sets_of_its_shape_until_its_own_changes,
        &work_outlives_its_plan,
    };
    return RUN_CLAIMS("edge", claims);
}
