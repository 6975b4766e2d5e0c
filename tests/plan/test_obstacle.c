/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where there is no plan: which limit is named, and that loosening just that one makes one. */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/load.h>

#include "support/check.h"
#include "support/client.h"
#include "support/make.h"

/* Three zones whose layer is given one length each: INVENTED. */
static tcr_set *with_lengths(tcr_side side, tcr_layer layer, const double length_mm[3]) {
    tcr_set *set;
    tcr_zone zones[3];
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    for (int z = 0; z < 3; z++) {
        zones[z] = (tcr_zone){.to = (z + 1) / 3.0, .length_mm = length_mm[z], .curl = "C"};
        zones[z].layer[layer] = (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = length_mm[z]};
    }
    expect_status(tcr_set_add_eye(set, side, NULL), TCR_OK);
    expect_status(tcr_set_map(set, side, zones, 3), TCR_OK);
    for (int i = 0; i < 12; i++) {
        char id[8];
        tcr_lash lash = tcr_lash_unknown(0.05 + 0.08 * i, layer);
        lash.length_mm = 9.0;
        snprintf(id, sizeof id, "%d", i);
        expect_status(tcr_set_add_lash(set, side, id, &lash, NULL), TCR_OK);
    }
    return set;
}

static tcr_plan_fault fault_of(const tcr_set *set, const tcr_plan_options *o) {
    tcr_plan *plan = NULL;
    tcr_plan_fault fault = {.obstacle = TCR_OBSTACLE_NONE};
    const tcr_status status = tcr_plan_new(set, o, &plan, &fault);
    expect_status(status, fault.obstacle == TCR_OBSTACLE_NONE ? TCR_OK : TCR_E_NO_SOLUTION);
    expect_true((plan != NULL) == (status == TCR_OK));
    tcr_plan_free(plan);
    return fault;
}

CLAIM(a_step_or_a_number_of_lengths_is_named_and_loosening_it_makes_a_plan) {
    tcr_set *set = with_lengths(TCR_RIGHT, TCR_TOP, (const double[]){8.0, 10.0, 12.0});
    tcr_plan_options o = tcr_plan_options_default();
    o.zone_step_most_mm = 1.75;
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_STEP);
    o.zone_step_most_mm = 2.0; /* the zones' own: 8, 10, 12 */
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_NONE);
    o.lengths_most = 2;
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_LENGTHS);
    o.lengths_most = 3;
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_NONE);
    o.zone_step_most_mm = 1.0;
    o.lengths_most = 2;
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_STEP_AND_LENGTHS);
    o.zone_step_most_mm = INFINITY;
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_LENGTHS);
    o.zone_step_most_mm = 1.0;
    o.lengths_most = 3;
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_STEP);
    tcr_set_free(set);
}

CLAIM(a_set_whose_rows_say_it_all_has_nothing_to_plan) {
    tcr_set *set = with_lengths(TCR_LEFT, TCR_TOP, (const double[]){8.0, 10.0, 12.0}), *worn;
    size_t zones;
    const tcr_zone *map = tcr_set_get_map(set, TCR_LEFT, &zones);
    expect_status(tcr_set_new(NULL, &worn), TCR_OK);
    expect_status(tcr_set_add_eye(worn, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_map(worn, TCR_LEFT, map, zones), TCR_OK);
    tcr_plan_options o = tcr_plan_options_default();
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 9.0};
    for (size_t i = 0; i < tcr_set_lash_count(set, TCR_LEFT); i++)
        expect_status(tcr_set_add_lash(worn, TCR_LEFT, tcr_set_get_id(set, TCR_LEFT, i),
                                       tcr_set_get_lash(set, TCR_LEFT, i), &wish),
                      TCR_OK);
    expect_count(fault_of(worn, &o).obstacle, TCR_OBSTACLE_ROWS);
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_NONE); /* without its rows */
    tcr_set_free(set);
    tcr_set_free(worn);
}

CLAIM(the_eye_without_a_lash_to_use_is_named) {
    for (int bare = 0; bare < TCR_SIDES; bare++) {
        tcr_set *set = tcr_make_client(NULL, 2, 30), *other;
        tcr_plan_options o = tcr_plan_options_default();
        expect_status(tcr_set_new(NULL, &other), TCR_OK);
        for (int side = 0; side < TCR_SIDES; side++) { /* lashes of one eye are all short */
            size_t zones;
            const tcr_zone *map = tcr_set_get_map(set, (tcr_side)side, &zones);
            expect_status(tcr_set_add_eye(other, (tcr_side)side, NULL), TCR_OK);
            expect_status(tcr_set_map(other, (tcr_side)side, map, zones), TCR_OK);
            for (size_t i = 0; i < 30; i++) {
                tcr_lash lash = *tcr_set_get_lash(set, (tcr_side)side, i);
                lash.condition = TCR_SUITABLE;
                lash.length_mm = side == bare ? 4.9 : 9.0;
                expect_status(tcr_set_add_lash(other, (tcr_side)side,
                                               tcr_set_get_id(set, (tcr_side)side, i), &lash, NULL),
                              TCR_OK);
            }
        }
        given("eye %d", bare);
        const tcr_plan_fault fault = fault_of(other, &o);
        expect_count(fault.obstacle, TCR_OBSTACLE_LASHES);
        expect_count(fault.side, bare);
        o.limits.baby_below_mm = 4.8; /* the limit that they fall under */
        expect_count(fault_of(other, &o).obstacle, TCR_OBSTACLE_NONE);
        tcr_set_free(set);
        tcr_set_free(other);
    }
}

/* The moment of a lash with a curl, in times its own. */
static double moment_ratio(const tcr_set *set, const tcr_lash *known, size_t curl) {
    const tcr_lash complete = tcr_lash_complete(known, NULL), *lash = &complete;
    const tcr_choice choice = {.length_mm = 10.0, .curl = curl, .diameter_mm = 0.15, .fan = 1};
    const tcr_extension ext = tcr_set_extension(set, &choice);
    const tcr_lid lid = tcr_lid_default();
    tcr_stance stance;
    tcr_weight weight;
    expect_status(tcr_lash_stance(lash, &lid, 1.0, &stance), TCR_OK);
    expect_status(tcr_weight_of(lash, &stance, &ext, tcr_set_get_bond(set), NULL, &weight), TCR_OK);
    return weight.load.moment_ratio;
}

/* Of two lashes, one that only bears the first curl and one that only bears the second, within a
 * limit of the moment that lies between: then each has something to wear, and their cell nothing.
 */
CLAIM(the_cell_that_no_option_suits_is_named_and_a_wider_limit_makes_a_plan) {
    gsl_rng *rng = tcr_make_rng(31);
    tcr_plan_options o = tcr_plan_options_default();
    const tcr_tray tray = {.count = 1, .length_mm = {10.0}};
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = 0.0;
    tcr_zone zones[3];
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_tray(set, &tray), TCR_OK);
    expect_status(tcr_set_layering(set, &rule), TCR_OK);
    for (int z = 0; z < 3; z++)
        zones[z] = (tcr_zone){.to = (z + 1) / 3.0, .length_mm = 10.0, .curl = "C"};
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_map(set, TCR_RIGHT, zones, 3), TCR_OK);
    o.curls = 2;
    expect_status(tcr_set_find_curl(set, "J", &o.curl[0]), TCR_OK);
    expect_status(tcr_set_find_curl(set, "DD", &o.curl[1]), TCR_OK);
    memset(o.placement, 0, sizeof o.placement);
    o.placement[TCR_ON_TOP] = true;
    o.share = 1.0;
    o.limits.mass_ratio = o.limits.overlength_mm = 30.0;
    o.limits.out_of_fan_rad = tcr_degrees(90.0);
    tcr_lash pair[2];
    double least[2], most[2];
    for (int tries = 0;; tries++) {
        expect_true(tries < 100000);
        for (int i = 0; i < 2; i++) {
            pair[i] = tcr_lash_unknown(0.45 + 0.1 * i, TCR_MIDDLE);
            pair[i].turn_rad = tcr_degrees(tcr_draw_between(rng, 10.0, 120.0));
            pair[i].pitch_rad = tcr_degrees(tcr_draw_between(rng, -80.0, 80.0));
        }
        least[0] = moment_ratio(set, &pair[0], o.curl[0]);
        most[0] = moment_ratio(set, &pair[0], o.curl[1]);
        least[1] = moment_ratio(set, &pair[1], o.curl[1]);
        most[1] = moment_ratio(set, &pair[1], o.curl[0]);
        if (fmax(least[0], least[1]) < 0.99 * fmin(most[0], most[1]))
            break;
    }
    for (int i = 0; i < 2; i++)
        expect_status(tcr_set_add_lash(set, TCR_RIGHT, i == 0 ? "a" : "b", &pair[i], NULL), TCR_OK);
    given("turns %.17g, %.17g, pitches %.17g, %.17g, limit %.17g", pair[0].turn_rad,
          pair[1].turn_rad, pair[0].pitch_rad, pair[1].pitch_rad,
          (fmax(least[0], least[1]) + fmin(most[0], most[1])) / 2.0);
    o.limits.moment_ratio = (fmax(least[0], least[1]) + fmin(most[0], most[1])) / 2.0;
    const tcr_plan_fault fault = fault_of(set, &o);
    expect_count(fault.obstacle, TCR_OBSTACLE_LOAD);
    expect_count(fault.side, TCR_RIGHT);
    expect_count(fault.zone, 1);
    expect_count(fault.layer, TCR_MIDDLE);
    /* Source: the loads themselves; with the lesser of the two that are too much there is one. */
    o.limits.moment_ratio = fmin(most[0], most[1]) * (1.0 + 1e-9);
    expect_count(fault_of(set, &o).obstacle, TCR_OBSTACLE_NONE);
    tcr_set_free(set);
    gsl_rng_free(rng);
}

/*
 * Source: plan.h, a count by hand. 64 lengths, 16 curls, 8 diameters, 2 fans and 4 placements are
 * 65536, one more than a cell takes; with 7 diameters they are 57344. A curl may be named twice.
 */
CLAIM(a_cell_with_more_options_than_can_be_proved_is_refused_with_their_number) {
    tcr_set *set = with_lengths(TCR_LEFT, TCR_MIDDLE, (const double[]){8.0, 8.0, 8.0}), *one;
    tcr_plan_options o = tcr_plan_options_default();
    tcr_zone zone = {.to = 1.0, .length_mm = 8.0, .curl = "C"};
    tcr_tray tray = {.count = TCR_TRAY_MAX};
    for (size_t t = 0; t < tray.count; t++)
        tray.length_mm[t] = 5.0 + 0.125 * (double)t;
    expect_status(tcr_set_new(NULL, &one), TCR_OK);
    expect_status(tcr_set_tray(one, &tray), TCR_OK);
    expect_status(tcr_set_add_eye(one, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_map(one, TCR_LEFT, &zone, 1), TCR_OK);
    expect_status(tcr_set_add_lash(one, TCR_LEFT, "a", tcr_set_get_lash(set, TCR_LEFT, 5), NULL),
                  TCR_OK);
    o.share = 1.0;
    o.curls = TCR_PLAN_CURLS_MAX;
    for (size_t i = 0; i < o.curls; i++)
        o.curl[i] = i % tcr_set_curl_count(one);
    o.diameters = TCR_PLAN_DIAMETERS_MAX;
    for (size_t i = 0; i < o.diameters; i++)
        o.diameter_mm[i] = 0.03 + 0.01 * (double)i;
    o.fans = 2;
    o.fan[0] = 1, o.fan[1] = 2;
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        o.placement[p] = true;
    const tcr_plan_fault fault = fault_of(one, &o);
    expect_count(fault.obstacle, TCR_OBSTACLE_OPTIONS);
    expect_count(fault.options, 65536);
    expect_count(fault.side, TCR_LEFT);
    expect_count(fault.zone, 0);
    expect_count(fault.layer, TCR_MIDDLE);
    o.diameters--;
    expect_count(fault_of(one, &o).obstacle, TCR_OBSTACLE_NONE);
    tcr_set_free(set);
    tcr_set_free(one);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_step_or_a_number_of_lengths_is_named_and_loosening_it_makes_a_plan,
        &a_set_whose_rows_say_it_all_has_nothing_to_plan,
        &the_eye_without_a_lash_to_use_is_named,
        &the_cell_that_no_option_suits_is_named_and_a_wider_limit_makes_a_plan,
        &a_cell_with_more_options_than_can_be_proved_is_refused_with_their_number,
    };
    return RUN_CLAIMS("obstacles", claims);
}
