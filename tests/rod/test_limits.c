/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Limits of what a lash may be given, who comes nearest to them, and the weights of a check. All
 * data is INVENTED. */
#include <tipcrest/limits.h>

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "support/check.h"
#include "support/client.h"
#include "support/make.h"

CLAIM(the_limits_that_an_extension_passes_are_named_one_by_one) {
    tcr_set *set;
    tcr_limits limits = tcr_limits_default();
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    lash = tcr_lash_complete(&lash, NULL);
    lash.length_mm = 8.0;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    const tcr_lid lid = tcr_lid_default();
    tcr_stance stance;
    tcr_weight weight;
    const tcr_load *load = &weight.load;
    tcr_choice choice = {.length_mm = 13.0, .diameter_mm = 0.15, .fan = 1};
    expect_status(tcr_set_find_curl(set, "C", &choice.curl), TCR_OK);
    expect_status(tcr_lash_stance(&lash, &lid, 1.0, &stance), TCR_OK);
    const tcr_extension ext = tcr_set_extension(set, &choice);
    expect_status(tcr_weight_of(&lash, &stance, &ext, tcr_set_bond(set), NULL, &weight), TCR_OK);
    /* Source: limits.h, each limit just kept and just passed; 13 is 8 and 5. */
    limits.overlength_mm = 5.0;
    limits.mass_ratio = load->mass_ratio;
    limits.moment_ratio = load->moment_ratio;
    expect_count(tcr_limits_beyond(&limits, set, &lash, &stance, &choice), 0);
    limits.overlength_mm = 4.999;
    expect_count(tcr_limits_beyond(&limits, set, &lash, &stance, &choice), TCR_BEYOND_LENGTH);
    limits.mass_ratio = load->mass_ratio * (1.0 - 1e-12);
    expect_count(tcr_limits_beyond(&limits, set, &lash, &stance, &choice),
                 TCR_BEYOND_LENGTH | TCR_BEYOND_MASS);
    limits.overlength_mm = 5.0;
    limits.mass_ratio = INFINITY;
    limits.moment_ratio = load->moment_ratio * (1.0 - 1e-12);
    expect_count(tcr_limits_beyond(&limits, set, &lash, &stance, &choice), TCR_BEYOND_MOMENT);
    lash.length_mm = tcr_set_bond(set)->offset_mm + 0.1; /* no room for glue */
    expect_count(tcr_limits_beyond(&limits, set, &lash, &stance, &choice), TCR_BEYOND_BOND);
    expect_count(tcr_limits_beyond(NULL, set, &lash, &stance, &choice), 0);
    choice.curl = tcr_set_curl_count(set);
    expect_count(tcr_limits_beyond(&limits, set, &lash, &stance, &choice), 0);
    choice.curl = 0;
    choice.length_mm = NAN;
    expect_count(tcr_limits_beyond(&limits, set, &lash, &stance, &choice), 0);
    tcr_set_free(set);
}

CLAIM(the_lashes_nearest_the_limits_are_those_with_the_largest_ratios) {
    enum { MOST = 5 };
    tcr_set *set = tcr_make_client(NULL, 2, 40);
    tcr_limits limits = tcr_limits_default();
    tcr_loaded_lash nearest[MOST];
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    limits.moment_ratio = INFINITY;
    for (unsigned sides = 1; sides <= 3; sides++) {
        const size_t n = tcr_limits_nearest(&limits, check, sides, nearest, MOST);
        given("sides %u", sides);
        expect_count(n, MOST);
        for (size_t k = 0; k < n; k++) {
            size_t larger = 0;
            for (int side = 0; side < TCR_SIDES; side++) {
                const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
                for (size_t i = 0; i < eye->lashes && (sides & 1u << side) != 0; i++) {
                    const tcr_lash_result *lash = &eye->lash[i];
                    tcr_load load;
                    if (lash->status != TCR_OK)
                        continue;
                    expect_status(tcr_check_load(check, (tcr_side)side, i, &load), TCR_OK);
                    larger += load.mass_ratio > nearest[k].load.mass_ratio;
                    if ((tcr_side)side == nearest[k].side && i == nearest[k].lash)
                        expect_bytes(&nearest[k].load, &load, sizeof load);
                }
            }
            /* Source: every lash's load; drawn lashes have no two alike. */
            expect_count(larger, k);
            expect_near(nearest[k].share, nearest[k].load.mass_ratio / limits.mass_ratio, 1e-15,
                        "the same quotient");
        }
    }
    expect_count(tcr_limits_nearest(&limits, check, 0, nearest, MOST), 0);
    expect_count(tcr_limits_nearest(NULL, check, 3, nearest, MOST), 0);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_check_has_the_weight_of_each_lash_where_it_stands) {
    tcr_set *set = tcr_make_client(NULL, 2, 30);
    tcr_check_options options = tcr_check_options_default();
    tcr_weight_options seen = tcr_weight_options_default();
    options.has_view = true;
    options.view = (tcr_view){.opening = 0.4, .viewer_rad = 0.3};
    seen.viewer_rad = 0.3;
    tcr_check *check = NULL;
    size_t bare = 0, worn = 0;
    expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++)
        for (size_t i = 0; i < tcr_set_lash_count(set, (tcr_side)side); i++) {
            const tcr_lash *lash = tcr_set_lash(set, (tcr_side)side, i);
            tcr_weight found, expected;
            tcr_load load;
            tcr_stance stance;
            tcr_choice choice;
            const tcr_status status = tcr_set_choice(set, (tcr_side)side, i, &choice);
            given("side %d, lash %zu", side, i);
            expect_status(tcr_check_weight(check, (tcr_side)side, i, &found), status);
            expect_status(tcr_check_load(check, (tcr_side)side, i, &load), status);
            *(status != TCR_OK ? &bare : &worn) += 1;
            if (status != TCR_OK)
                continue;
            const tcr_extension ext = tcr_set_extension(set, &choice);
            expect_status(tcr_lash_stance(lash, tcr_set_lid(set, (tcr_side)side), 0.4, &stance),
                          TCR_OK);
            /* Source: tcr_weight_of, of what the set gives the lash. */
            expect_status(tcr_weight_of(lash, &stance, &ext, tcr_set_bond(set), &seen, &expected),
                          TCR_OK);
            expect_bytes(&found.load, &expected.load, sizeof load); /* one computation */
            expect_bytes(&load, &expected.load, sizeof load);
            expect_same(found.droop_mm, expected.droop_mm, "one computation");
            expect_same(found.droop_what_if_mm, expected.droop_what_if_mm, "the same");
            expect_true(found.is_linear == expected.is_linear);
        }
    expect_true(bare > 0 && worn > 0);
    tcr_weight kept = {.droop_mm = 7.0};
    /* Source: load.h. */
    expect_status(tcr_check_weight(NULL, TCR_LEFT, 0, &kept), TCR_E_ARGUMENT);
    expect_status(tcr_check_weight(check, TCR_LEFT, 0, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_check_weight(check, TCR_LEFT, 30, &kept), TCR_E_MISSING);
    expect_status(tcr_check_weight(check, (tcr_side)2, 0, &kept), TCR_E_MISSING);
    expect_status(tcr_check_load(NULL, TCR_LEFT, 0, &kept.load), TCR_E_ARGUMENT);
    expect_status(tcr_check_load(check, TCR_LEFT, 0, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_check_load(check, TCR_LEFT, 30, &kept.load), TCR_E_MISSING);
    expect_same(kept.droop_mm, 7.0, "outputs stay");
    tcr_check_free(check);
    tcr_set_free(set);
}

/* Whether a lash has a droop of this size by one of the figures, and none has a larger one. */
static void expect_most(const tcr_check *check, tcr_side side, size_t offset, double most) {
    bool found = false;
    for (size_t i = 0; i < tcr_check_eye(check, side)->lashes; i++) {
        tcr_weight weight;
        if (tcr_check_weight(check, side, i, &weight) != TCR_OK)
            continue;
        double droop;
        memcpy(&droop, (const char *)&weight + offset, sizeof droop);
        expect_true(fabs(droop) <= most);
        found = found || fabs(droop) == most;
    }
    expect_true(found);
}

CLAIM(the_largest_droops_of_an_eye_are_those_of_its_lashes) {
    tcr_set *set = tcr_make_client(NULL, 2, 30);
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    tcr_weight_most most;
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_weight weight;
        given("side %d", side);
        expect_status(tcr_check_weight_most(check, (tcr_side)side, &most), TCR_OK);
        expect_count(most.lashes, tcr_check_eye(check, (tcr_side)side)->extended);
        expect_status(tcr_check_weight(check, (tcr_side)side, most.lash, &weight), TCR_OK);
        expect_same(fabs(weight.droop_mm), most.droop_mm, "the same lash");
        expect_most(check, (tcr_side)side, offsetof(tcr_weight, droop_mm), most.droop_mm);
        expect_most(check, (tcr_side)side, offsetof(tcr_weight, droop_thinner_mm),
                    most.droop_thinner_mm);
        expect_most(check, (tcr_side)side, offsetof(tcr_weight, droop_what_if_mm),
                    most.droop_what_if_mm);
        expect_same(most.droop_blink_mm, 3.0 * most.droop_mm, "model.md, section 9: three times");
        size_t not_linear = 0;
        for (size_t i = 0; i < 30; i++)
            not_linear +=
                tcr_check_weight(check, (tcr_side)side, i, &weight) == TCR_OK && !weight.is_linear;
        expect_count(most.not_linear, not_linear);
    }
    const double kept = most.droop_mm;
    expect_status(tcr_check_weight_most(NULL, TCR_LEFT, &most), TCR_E_ARGUMENT);
    expect_status(tcr_check_weight_most(check, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_check_weight_most(check, (tcr_side)2, &most), TCR_E_MISSING);
    expect_same(most.droop_mm, kept, "outputs stay");
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_bond_that_a_row_moves_far_out_is_weighed_like_any_other) {
    /* Source: map.h, a row moves the bond by up to 20 mm; extension.h, a set's own by up to 3. */
    tcr_set *set;
    tcr_check *check = NULL;
    tcr_load load;
    tcr_weight weight;
    tcr_limits limits = tcr_limits_default();
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    lash.length_mm = 12.0;
    const tcr_wish wish = {.fixed = TCR_FIX_FROM_SKIN, .from_skin_mm = 5.0};
    const tcr_zone zone = {.to = 1.0, .length_mm = 10.0, .curl = "C"};
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "far", &lash, &wish), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    const tcr_lash_result *result = tcr_check_eye(check, TCR_LEFT)->lash;
    expect_status(result->status, TCR_OK);
    expect_status(tcr_check_load(check, TCR_LEFT, 0, &load), TCR_OK);
    expect_status(tcr_check_weight(check, TCR_LEFT, 0, &weight), TCR_OK);
    expect_bytes(&weight.load, &load, sizeof load);
    expect_true(isfinite(weight.droop_mm) && weight.droop_mm != 0.0);
    limits.mass_ratio = load.mass_ratio * (1.0 - 1e-12); /* just passed */
    expect_count(tcr_limits_beyond(&limits, set, tcr_set_lash(set, TCR_LEFT, 0), &result->stance,
                                   &result->choice),
                 TCR_BEYOND_MASS);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_largest_droop_is_that_of_its_lash_whichever_way_it_is_seen) {
    size_t upwards = 0; /* droops that the viewer sees as a rise */
    for (int viewer = -80; viewer <= 80; viewer += 20) {
        tcr_set *set = tcr_make_client(NULL, 1, 24);
        tcr_check_options options = tcr_check_options_default();
        tcr_check *check;
        tcr_weight_most most;
        tcr_weight weight;
        size_t largest = 0;
        double droop = -1.0;
        options.has_view = true;
        options.view = (tcr_view){1.0, tcr_degrees(viewer)};
        expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
        for (size_t i = 0; i < tcr_set_lash_count(set, TCR_LEFT); i++) {
            if (tcr_check_weight(check, TCR_LEFT, i, &weight) != TCR_OK)
                continue;
            upwards += weight.droop_mm < 0.0;
            largest = fabs(weight.droop_mm) > droop ? i : largest;
            droop = fmax(droop, fabs(weight.droop_mm));
        }
        expect_status(tcr_check_weight_most(check, TCR_LEFT, &most), TCR_OK);
        given("viewer %d", viewer);
        expect_count(most.lash, largest);
        expect_same(most.droop_mm, droop, "the same numbers");
        tcr_check_free(check);
        tcr_set_free(set);
    }
    expect_true(upwards > 0);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_largest_droop_is_that_of_its_lash_whichever_way_it_is_seen,
        &the_limits_that_an_extension_passes_are_named_one_by_one,
        &the_lashes_nearest_the_limits_are_those_with_the_largest_ratios,
        &a_check_has_the_weight_of_each_lash_where_it_stands,
        &the_largest_droops_of_an_eye_are_those_of_its_lashes,
        &a_bond_that_a_row_moves_far_out_is_weighed_like_any_other,
    };
    return RUN_CLAIMS("limits", claims);
}
