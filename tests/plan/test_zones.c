/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What zones and corrections may choose from, and what a plan says of it: plan.h, by the plan's own
 * numbers. */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/line_rule.h>

#include "plan/plan_data.h"
#include "support/check.h"
#include "support/client.h"
#include "support/make.h"

static tcr_plan *planned(const tcr_set *set, const tcr_plan_options *options) {
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, options, &plan, NULL), TCR_OK);
    return plan;
}

/* The length of a cell; NaN where the plan has none. */
static double length_of(const tcr_plan *plan, size_t zone, tcr_layer layer) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    for (size_t c = 0; c < r->cells; c++)
        if (r->cell[c].zone == zone && r->cell[c].layer == layer)
            return r->cell[c].choice.length_mm;
    return NAN;
}

CLAIM(zones_with_a_bare_one_between_them_are_no_neighbours) {
    const double length_mm[] = {8.0, 11.0, 14.0};
    tcr_set *set = tcr_make_measured(NULL, 1, 60);
    tcr_zone zones[3];
    for (int z = 0; z < 3; z++)
        zones[z] = (tcr_zone){.to = (z + 1) / 3.0, .length_mm = length_mm[z], .curl = "C"};
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, 3), TCR_OK);
    for (size_t i = 0; i < 60; i++) {
        tcr_lash lash = tcr_lash_unknown(0.02 + 0.016 * (double)i, TCR_BOTTOM);
        lash.length_mm = 10.0;
        lash.condition = lash.u < 0.34 || lash.u > 0.66 ? TCR_SUITABLE : TCR_WEAK;
        expect_status(tcr_set_replace_lash(set, TCR_LEFT, i, &lash), TCR_OK);
    }
    tcr_plan_options o = tcr_plan_options_default();
    o.limits.mass_ratio = o.limits.moment_ratio = 1e6;
    o.zone_step_most_mm = 1.0;
    tcr_plan *plan = planned(set, &o);
    expect_nan(length_of(plan, 1, TCR_BOTTOM));
    /* The map's line asks for about what the map says. */
    expect_true(length_of(plan, 2, TCR_BOTTOM) - length_of(plan, 0, TCR_BOTTOM) > 2.0);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(a_step_holds_within_a_layer_and_not_from_one_to_the_next) {
    tcr_zone zones[5];
    for (int z = 0; z < 5; z++)
        zones[z] = (tcr_zone){.to = (z + 1) / 5.0, .length_mm = 17.0 - 2.0 * z, .curl = "C"};
    for (int measured = 0; measured < 2; measured++) {
        tcr_set *set = measured ? tcr_make_measured(NULL, 1, 90) : tcr_make_client(NULL, 1, 90);
        tcr_plan_options o = tcr_plan_options_default();
        expect_status(tcr_set_put_map(set, TCR_LEFT, zones, 5), TCR_OK);
        o.limits.overlength_mm = 30.0;
        o.limits.mass_ratio = o.limits.moment_ratio = 1e6;
        o.zone_step_most_mm = 2.0;
        o.samples = measured ? 0 : 10;
        tcr_plan *plan = planned(set, &o);
        given("measured %d", measured);
        expect_true(tcr_plan_eye_of(plan, TCR_LEFT)->zones_only == (measured == 0));
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            for (size_t z = 1; z < 5; z++)
                expect_within(fabs(length_of(plan, z, (tcr_layer)layer) -
                                   length_of(plan, z - 1, (tcr_layer)layer)),
                              0.0, 2.0, "plan.h");
        for (int layer = 1; layer < TCR_LAYERS; layer++)
            expect_within(length_of(plan, 0, (tcr_layer)layer) -
                              length_of(plan, 4, (tcr_layer)(layer - 1)),
                          nextafter(2.0, 3.0), INFINITY, "the map has 7 mm there");
        tcr_plan_free(plan);
        tcr_set_free(set);
    }
}

CLAIM(a_curl_that_a_zone_fixes_for_a_layer_is_kept) {
    tcr_set *set = tcr_make_measured(NULL, 1, 90);
    size_t count;
    const tcr_zone *map = tcr_set_map(set, TCR_LEFT, &count);
    tcr_zone zones[3];
    expect_count(count, 3);
    memcpy(zones, map, sizeof zones);
    zones[1].layer[TCR_TOP] = (tcr_wish){.fixed = TCR_FIX_CURL, .curl = "D"};
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, 3), TCR_OK);
    tcr_plan *plan = planned(set, NULL);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    bool met = false;
    for (size_t c = 0; c < r->cells; c++) {
        const bool fixed = r->cell[c].zone == 1 && r->cell[c].layer == TCR_TOP;
        expect_text(tcr_set_curl(set, r->cell[c].choice.curl)->label, fixed ? "D" : "C");
        met = met || fixed;
    }
    expect_true(met);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(the_bound_of_a_proved_plan_is_what_it_comes_to) {
    tcr_set *set = tcr_make_measured(NULL, 1, 60);
    for (int maximum = 0; maximum < 2; maximum++) {
        tcr_plan_options o = tcr_plan_options_default();
        o.objective = maximum ? TCR_LEAST_MAXIMUM : TCR_LEAST_SQUARES;
        tcr_plan *plan = planned(set, &o);
        const tcr_plan_result *r = tcr_plan_result_of(plan);
        given("maximum %d", maximum);
        expect_true(r->proved);
        expect_near(r->bound_mm, maximum ? r->max_mm : r->rms_mm, 1e-6, "a proof to 1e-9");
        tcr_plan_free(plan);
    }
    tcr_set_free(set);
}

/* Where a length stands in the tray. */
static long place_of(const tcr_tray *tray, double length_mm) {
    for (size_t i = 0; i < tray->count; i++)
        if (tray->length_mm[i] == length_mm)
            return (long)i;
    ck_abort_msg("%g mm is not in the tray", length_mm);
}

CLAIM(a_correction_is_by_one_size_of_the_tray_and_of_few_lengths_one_of_those) {
    tcr_set *set = tcr_make_measured(NULL, 1, 90);
    const tcr_tray *tray = tcr_set_tray(set);
    for (size_t most = 0; most <= 3; most += 3) {
        tcr_plan_options o = tcr_plan_options_default();
        o.correct_all = true;
        o.lengths_most = most;
        tcr_plan *plan = planned(set, &o);
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, TCR_LEFT);
        double lengths[TCR_TRAY_MAX];
        size_t count = 0, corrected = 0;
        for (size_t i = 0; i < eye->lashes; i++) {
            const tcr_plan_lash *lash = &eye->lash[i];
            if (lash->use != TCR_USED)
                continue;
            size_t k = 0;
            while (k < count && lengths[k] != lash->choice.length_mm)
                k++;
            lengths[k] = lash->choice.length_mm;
            count += k == count;
            if (!lash->corrected)
                continue;
            const tcr_lash *natural = tcr_set_lash(set, TCR_LEFT, i);
            const double by_zone =
                length_of(plan, tcr_set_zone_at(set, TCR_LEFT, natural->u), natural->layer);
            given("lash %zu, at most %zu lengths", i, most);
            expect_within(
                (double)labs(place_of(tray, lash->choice.length_mm) - place_of(tray, by_zone)), 0.0,
                1.0, "the order of the work: no source, this project's");
            corrected++;
        }
        given("at most %zu lengths", most);
        expect_true(corrected > 0);
        expect_true(most == 0 ? count > 3 : count <= most); /* plan.h, with corrections */
        tcr_plan_free(plan);
    }
    tcr_set_free(set);
}

CLAIM(the_share_within_the_tolerance_is_the_worse_eyes) {
    tcr_set *set = tcr_make_measured(NULL, 2, 60);
    double share[TCR_SIDES];
    tcr_plan_options o = tcr_plan_options_default();
    o.corrections = 0;
    expect_status(tcr_set_put_tolerance(set, 0.3), TCR_OK);
    for (int swapped = 0; swapped < 2; swapped++) {
        tcr_plan *plan = planned(set, &o);
        for (int side = 0; side < TCR_SIDES; side++) {
            const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
            size_t tips = 0, within = 0;
            for (size_t i = 0; i < eye->lashes; i++) {
                tips += isfinite(eye->lash[i].deviation_mm) ? 1 : 0;
                within += fabs(eye->lash[i].deviation_mm) <= 0.3;
            }
            share[side] = (double)within / (double)tips;
        }
        given("swapped %d: %g and %g", swapped, share[0], share[1]);
        expect_true((share[TCR_LEFT] > share[TCR_RIGHT]) == (swapped == 0));
        expect_near(tcr_plan_point_made(plan)->within_tolerance,
                    fmin(share[TCR_LEFT], share[TCR_RIGHT]), 1e-15, "two counts");
        tcr_plan_free(plan);
        /* The other way round: each eye gets the other's lashes. */
        for (size_t i = 0; i < 60; i++) {
            tcr_lash left, right;
            expect_status(tcr_set_given_lash(set, TCR_LEFT, i, &left), TCR_OK);
            expect_status(tcr_set_given_lash(set, TCR_RIGHT, i, &right), TCR_OK);
            expect_status(tcr_set_replace_lash(set, TCR_LEFT, i, &right), TCR_OK);
            expect_status(tcr_set_replace_lash(set, TCR_RIGHT, i, &left), TCR_OK);
        }
    }
    tcr_set_free(set);
}

CLAIM(a_range_holds_every_choice_once) {
    const tcr_plan_range range = {.curls = 2,
                                  .diameters = 2,
                                  .fans = 2,
                                  .placements = 3,
                                  .curl = {1, 4},
                                  .diameter_mm = {0.07, 0.12},
                                  .fan = {1, 3},
                                  .placement = {TCR_ON_TOP, TCR_UNDERSIDE, TCR_OUTER_SIDE}};
    const size_t count = tcr_plan_range_count(&range);
    expect_count(count, 2 * 2 * 2 * 3);
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < i; k++) {
            const tcr_choice a = tcr_plan_range_choice(&range, i, 10),
                             b = tcr_plan_range_choice(&range, k, 10);
            given("choices %zu and %zu", k, i);
            expect_true(a.curl != b.curl || a.diameter_mm != b.diameter_mm || a.fan != b.fan ||
                        a.placement != b.placement);
        }
}

CLAIM(samples_open_the_eye_from_four_fifths_on_evenly) {
    enum { OPENINGS = 16 }; /* samples.c: as many strata, each at its middle */
    size_t met[OPENINGS] = {0};
    for (size_t i = 0; i < 32 * OPENINGS; i++) {
        const double opening = tcr_plan_opening_of(i);
        const double place = (opening - 0.8) / 0.2 * OPENINGS - 0.5;
        const double nearest = round(place);
        given("sample %zu, opening %g", i, opening);
        expect_near(place, nearest, 1e-9, "rounding");
        expect_within(nearest, 0, OPENINGS - 1, "source: samples.c, 0.8 to 1");
        met[(size_t)nearest]++;
    }
    for (size_t i = 0; i < OPENINGS; i++)
        expect_count(met[i], 32);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_range_holds_every_choice_once,
        &samples_open_the_eye_from_four_fifths_on_evenly,
        &zones_with_a_bare_one_between_them_are_no_neighbours,
        &a_step_holds_within_a_layer_and_not_from_one_to_the_next,
        &a_curl_that_a_zone_fixes_for_a_layer_is_kept,
        &the_bound_of_a_proved_plan_is_what_it_comes_to,
        &a_correction_is_by_one_size_of_the_tray_and_of_few_lengths_one_of_those,
        &the_share_within_the_tolerance_is_the_worse_eyes,
    };
    return RUN_CLAIMS("zones", claims);
}
