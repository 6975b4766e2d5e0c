/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which lashes a plan leaves bare, at the limits of limits.h. */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdio.h>

#include "support/check.h"
#include "support/client.h"
#include "support/make.h"

/* How a plan uses a lash of an eye that is else suitable. */
static tcr_use use_of(tcr_set *set, const tcr_lash *lash) {
    tcr_plan_options o = tcr_plan_options_default();
    tcr_plan *plan = NULL;
    const size_t last = tcr_set_lash_count(set, TCR_LEFT) - 1;
    o.limits.overlength_mm = 30.0; /* the load limits are not in question here */
    o.limits.mass_ratio = o.limits.moment_ratio = 1e6;
    expect_status(tcr_set_replace_lash(set, TCR_LEFT, last, lash), TCR_OK);
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    const tcr_use use = tcr_plan_eye_of(plan, TCR_LEFT)->lash[last].use;
    tcr_plan_free(plan);
    return use;
}

/* Measured lashes of an eye, and one more to look at. */
static tcr_set *with_one_more(tcr_lash *lash) {
    tcr_set *set = tcr_make_measured(NULL, 1, 40);
    *lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    lash->length_mm = 8.0;
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "one more", lash, NULL), TCR_OK);
    expect_status(tcr_set_given_lash(set, TCR_LEFT, 40, lash), TCR_OK);
    return set;
}

CLAIM(a_lash_is_a_baby_below_the_limits_and_not_at_them) {
    tcr_lash lash;
    tcr_set *set = with_one_more(&lash);
    expect_count(use_of(set, &lash), TCR_USED);
    lash.length_mm = 5.0; /* limits.h: shorter ones stay bare */
    expect_count(use_of(set, &lash), TCR_USED);
    lash.length_mm = nextafter(5.0, 0.0);
    expect_count(use_of(set, &lash), TCR_BARE_BABY);
    lash.length_mm = 8.0;
    lash.root_diameter_mm = 0.055;
    expect_count(use_of(set, &lash), TCR_USED);
    lash.root_diameter_mm = nextafter(0.055, 0.0);
    expect_count(use_of(set, &lash), TCR_BARE_BABY);
    tcr_set_free(set);
}

CLAIM(a_lash_strays_off_the_mean_lash_and_not_off_straight_ahead) {
    /* Source: limits.h, 25 degrees off the default of the lash's place, which the set gives. */
    static const double TURNED[] = {-4.0, 44.0, -6.0, 46.0};
    tcr_lash lash, mean = tcr_make_default_lash(0.5, TCR_BOTTOM);
    tcr_set *set = with_one_more(&lash);
    mean.yaw_rad = mean.pitch_rad = tcr_degrees(20.0);
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    for (size_t i = 0; i < 40; i++) { /* those stand as the mean lash does */
        tcr_lash other;
        expect_status(tcr_set_given_lash(set, TCR_LEFT, i, &other), TCR_OK);
        other.yaw_rad = other.pitch_rad = tcr_degrees(20.0);
        expect_status(tcr_set_replace_lash(set, TCR_LEFT, i, &other), TCR_OK);
    }
    for (int i = 0; i < 4; i++) {
        lash.pitch_rad = tcr_degrees(20.0);
        lash.yaw_rad = tcr_degrees(TURNED[i]);
        given("%g degrees to the side", TURNED[i]);
        expect_count(use_of(set, &lash), i < 2 ? TCR_USED : TCR_BARE_STRAY);
        lash.yaw_rad = tcr_degrees(20.0);
        lash.pitch_rad = tcr_degrees(TURNED[i]);
        given("%g degrees up", TURNED[i]);
        expect_count(use_of(set, &lash), i < 2 ? TCR_USED : TCR_BARE_STRAY);
    }
    tcr_set_free(set);
}

CLAIM(a_root_above_the_limit_is_a_strays) {
    tcr_lash lash;
    tcr_set *set = with_one_more(&lash);
    lash.height_mm = 3.0; /* limits.h: higher ones are strays */
    expect_count(use_of(set, &lash), TCR_USED);
    lash.height_mm = nextafter(3.0, 4.0);
    expect_count(use_of(set, &lash), TCR_BARE_STRAY);
    tcr_set_free(set);
}

/* Bonds: model.md, section 4: 1 mm at least, so that 3 mm off the skin needs 4 mm. */
CLAIM(a_bond_too_far_from_the_skin_is_named_where_it_leaves_too_few) {
    tcr_plan *plan = NULL;
    tcr_error error;
    char words[200];
    size_t suitable = 0;
    tcr_set *set = tcr_make_measured(NULL, 1, 40);
    tcr_bond bond = tcr_bond_default();
    tcr_lash mean = tcr_lash_unknown(NAN, TCR_BOTTOM);
    mean.length_mm = 8.0; /* the line is of longer lashes, and only these must be bare */
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    bond.offset_mm = 3.0;
    expect_status(tcr_set_put_bond(set, &bond), TCR_OK);
    for (size_t i = 0; i < tcr_set_lash_count(set, TCR_LEFT); i++) {
        tcr_lash lash = *tcr_set_lash(set, TCR_LEFT, i);
        lash.length_mm = suitable < 11 ? 9.0 : 3.9;
        suitable += lash.condition == TCR_SUITABLE;
        expect_status(tcr_set_replace_lash(set, TCR_LEFT, i, &lash), TCR_OK);
    }
    expect_status(tcr_plan_new(set, NULL, &plan, &error), TCR_E_NO_SOLUTION);
    ck_assert_ptr_null(plan);
    expect_text(error.member, "offset_mm");
    snprintf(words, sizeof words,
             "11 of %zu suitable lashes of the left eye are left to plan, and a line needs 12; %zu "
             "stay bare by offset_mm 3 of the bond, and a bond nearer to the skin would leave more",
             suitable, suitable - 11);
    expect_text(error.message, words);
    tcr_set_free(set);
}

CLAIM(a_lash_is_weak_beyond_a_millimetre_less_than_its_zone_asks) {
    /* suit.c: an extension as long as the map asks, or up to a millimetre less, unless the zone
     * fixes the layer's length. An extension may be 4 mm longer than its lash. */
    for (int fixed = 0; fixed <= 1; fixed++)
        for (int tenth = 0; tenth <= 20; tenth += 2) {
            tcr_lash lash;
            tcr_set *set = with_one_more(&lash);
            tcr_plan_options o = tcr_plan_options_default();
            tcr_plan *plan = NULL;
            tcr_tray tray = {.count = TCR_TRAY_MAX};
            tcr_zone zone = {.to = 1, .length_mm = 12, .curl = "C"};
            for (int i = 0; i < TCR_TRAY_MAX; i++)
                tray.length_mm[i] = 6 + 0.1 * i; /* to 12.3 mm */
            expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
            if (fixed == 1)
                zone.layer[TCR_BOTTOM] =
                    (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = tray.length_mm[60]};
            zone.length_mm = tray.length_mm[60]; /* 12 mm */
            expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
            o.limits.mass_ratio = o.limits.moment_ratio = 1e6;
            o.limits.overlength_mm = 4;
            lash.length_mm = 8.05 - 0.1 * tenth; /* it bears 12.05 mm, and a tenth less each time */
            expect_status(tcr_set_replace_lash(set, TCR_LEFT, 40, &lash), TCR_OK);
            expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
            given("fixed %d, it bears %g mm of 12", fixed, lash.length_mm + 4);
            const bool weak = tenth > (fixed == 1 ? 0 : 10);
            expect_count(tcr_plan_eye_of(plan, TCR_LEFT)->lash[40].use,
                         weak ? TCR_BARE_WEAK : TCR_USED);
            tcr_plan_free(plan);
            tcr_set_free(set);
        }
}

int main(void) {
    static const TTest *const claims[] = {
        &a_lash_is_a_baby_below_the_limits_and_not_at_them,
        &a_lash_strays_off_the_mean_lash_and_not_off_straight_ahead,
        &a_root_above_the_limit_is_a_strays,
        &a_bond_too_far_from_the_skin_is_named_where_it_leaves_too_few,
        &a_lash_is_weak_beyond_a_millimetre_less_than_its_zone_asks,
    };
    return RUN_CLAIMS("suit", claims);
}
