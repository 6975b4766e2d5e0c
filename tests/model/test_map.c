/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layering rule and the tray. */
#include <tipcrest/map.h>

#include <math.h>

#include "support/check.h"
#include "support/make.h"

CLAIM(the_default_rule_is_1_mm_a_layer_0_15_mm_thick_all_on_top) {
    const tcr_layering rule = tcr_layering_default();
    /* Source: interface.md, the set file (common practice, no source). */
    expect_same(rule.step_mm, 1.0, "given");
    expect_same(rule.diameter_mm, 0.15, "given");
    expect_count(rule.fan, 1);
    expect_same(rule.spread_rad, 0.0, "given");
    expect_true(!rule.blend);
    for (int i = 0; i < TCR_LAYERS; i++)
        expect_count(rule.placement[i], TCR_ON_TOP);
    expect_status(tcr_layering_validate(&rule, NULL), TCR_OK);
}

CLAIM(the_default_tray_holds_5_to_20_by_1) {
    const tcr_tray tray = tcr_tray_default();
    expect_count(tray.count, 16); /* source: interface.md, the set file */
    for (size_t i = 0; i < tray.count; i++)
        expect_same(tray.length_mm[i], 5.0 + (double)i, "given");
    expect_status(tcr_tray_validate(&tray, NULL), TCR_OK);
}

CLAIM(rules_out_of_range_are_refused) {
    const tcr_layering good = tcr_layering_default();
    const double steps[] = {-1e-9, 3.001, NAN}, diameters[] = {0.0199, 0.301, NAN},
                 spreads[] = {-1e-6, tcr_degrees(120.001), NAN};
    for (int i = 0; i < 3; i++) {
        tcr_layering step = good, diameter = good, spread = good, placement = good;
        step.step_mm = steps[i];
        diameter.diameter_mm = diameters[i];
        spread.spread_rad = spreads[i];
        placement.placement[i] = (tcr_placement)TCR_PLACEMENTS;
        given("number %d", i);
        expect_status(tcr_layering_validate(&step, NULL),
                      TCR_E_RANGE); /* source: map.h, interface.md */
        expect_status(tcr_layering_validate(&diameter, NULL), TCR_E_RANGE);
        expect_status(tcr_layering_validate(&spread, NULL), TCR_E_RANGE);
        expect_status(tcr_layering_validate(&placement, NULL), TCR_E_ARGUMENT);
    }
    tcr_layering fan = good;
    fan.fan = 0;
    expect_status(tcr_layering_validate(&fan, NULL), TCR_E_RANGE);
    fan.fan = 21;
    expect_status(tcr_layering_validate(&fan, NULL), TCR_E_RANGE);
    expect_status(tcr_layering_validate(NULL, NULL), TCR_E_ARGUMENT);
}

CLAIM(trays_that_break_the_rules_are_refused) {
    const tcr_tray good[] = {{0, {0.0}}, {1, {3.0}}, {2, {3.0, 30.0}}, {3, {7.0, 7.5, 8.0}}};
    const tcr_tray range[] = {
        {1, {2.999}}, {1, {30.001}}, {1, {NAN}}, {2, {8.0, 8.0}}, {3, {7.0, 9.0, 8.0}}};
    const tcr_tray too_many = {TCR_TRAY_MAX + 1, {5.0}};
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++)
        expect_status(tcr_tray_validate(&good[i], NULL), TCR_OK); /* source: map.h */
    for (size_t i = 0; i < sizeof range / sizeof range[0]; i++) {
        given("tray %zu", i);
        expect_status(tcr_tray_validate(&range[i], NULL), TCR_E_RANGE);
    }
    expect_status(tcr_tray_validate(&too_many, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_tray_validate(NULL, NULL), TCR_E_ARGUMENT);
}

CLAIM(without_a_tray_every_length_from_3_to_30_mm_is_at_hand) {
    const tcr_tray none = {.count = 0};
    expect_same(tcr_tray_nearest(&none, 11.37), 11.37, "map.h");
    expect_true(tcr_tray_has(&none, 3.0) && tcr_tray_has(&none, 11.37) &&
                tcr_tray_has(&none, 30.0));
    expect_true(!tcr_tray_has(&none, 2.999) && !tcr_tray_has(&none, 30.001) &&
                !tcr_tray_has(&none, NAN));
}

CLAIM(the_nearest_length_is_found_and_ties_go_to_the_longer) {
    const tcr_tray tray = {5, {6.0, 8.0, 8.5, 12.0, 20.0}};
    static const struct {
        double wanted, nearest;
    } table[] = {
        /* Source: by hand; model.md, section 7: ties to the longer. */
        {3.0, 6.0},  {6.9, 6.0},    {7.0, 8.0},   {7.1, 8.0},   {8.25, 8.5},  {8.24, 8.0},
        {10.0, 8.5}, {10.25, 12.0}, {15.9, 12.0}, {16.0, 20.0}, {99.0, 20.0},
    };
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        given("wanted %g", table[i].wanted);
        expect_same(tcr_tray_nearest(&tray, table[i].wanted), table[i].nearest, "no arithmetic");
    }
}

CLAIM(the_nearest_length_is_that_of_brute_force) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 2000; i++) {
        tcr_tray tray = {.count = 1 + gsl_rng_uniform_int(rng, TCR_TRAY_MAX)};
        double length = 3.0;
        for (size_t j = 0; j < tray.count; j++)
            tray.length_mm[j] = length += tcr_draw_between(rng, 0.01, 0.4);
        const double wanted = tcr_draw_between(rng, 0.0, 33.0);
        double best = INFINITY;
        for (size_t j = 0; j < tray.count; j++)
            best = fmin(best, fabs(tray.length_mm[j] - wanted));
        given("a tray of %zu, wanted %.17g", tray.count, wanted);
        expect_near(fabs(tcr_tray_nearest(&tray, wanted) - wanted), best, 1e-9,
                    "within 1e-9 mm two lengths are as near"); /* source: brute force */
    }
    gsl_rng_free(rng);
}

CLAIM(a_length_within_1e_9_mm_is_the_trays_own) {
    const tcr_tray tray = {3, {7.0, 7.5, 8.0}};
    expect_true(tcr_tray_has(&tray, 7.5)); /* source: map.h */
    expect_true(tcr_tray_has(&tray, 7.5 + 0.9e-9));
    expect_true(tcr_tray_has(&tray, 7.0 - 0.9e-9));
    expect_true(!tcr_tray_has(&tray, 7.5 + 1.1e-9));
    expect_true(!tcr_tray_has(&tray, 7.25));
    expect_true(!tcr_tray_has(&tray, 6.0));
    expect_true(!tcr_tray_has(&tray, 9.0));
    expect_true(!tcr_tray_has(&tray, NAN));
}

CLAIM(sums_of_tenths_are_found_in_the_tray) {
    /* Source: 13 steps of 0.1 make 1.3 to a rounding, not to the bit. */
    tcr_tray tray = {2, {7.0, 8.3}};
    double sum = 7.0;
    for (int i = 0; i < 13; i++)
        sum += 0.1;
    ck_assert(sum != 8.3);
    expect_true(tcr_tray_has(&tray, sum));
    expect_same(tcr_tray_nearest(&tray, sum), 8.3, "the tray's own number comes back");
}

int main(void) {
    static const TTest *const claims[] = {
        &the_default_rule_is_1_mm_a_layer_0_15_mm_thick_all_on_top,
        &the_default_tray_holds_5_to_20_by_1,
        &rules_out_of_range_are_refused,
        &trays_that_break_the_rules_are_refused,
        &without_a_tray_every_length_from_3_to_30_mm_is_at_hand,
        &the_nearest_length_is_found_and_ties_go_to_the_longer,
        &the_nearest_length_is_that_of_brute_force,
        &a_length_within_1e_9_mm_is_the_trays_own,
        &sums_of_tenths_are_found_in_the_tray,
    };
    return RUN_CLAIMS("map", claims);
}
