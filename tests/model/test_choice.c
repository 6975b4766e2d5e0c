/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a lash is to carry: zone, layering rule, what a zone fixes, what a row asks for, blending.
 */
#include <tipcrest/mean.h>
#include <tipcrest/set.h>

#include <math.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"

/* A set with a left eye and a map; half millimetres in the tray. */
static tcr_set *mapped(const tcr_zone *zones, size_t count, const tcr_layering *rule) {
    tcr_set *set = NULL;
    tcr_tray halves = {.count = 31};
    for (size_t i = 0; i < halves.count; i++)
        halves.length_mm[i] = 5.0 + 0.5 * (double)i;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_tray(set, &halves), TCR_OK);
    if (rule != NULL)
        expect_status(tcr_set_put_layering(set, rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, count), TCR_OK);
    return set;
}

/* Adds a lash; its index. */
static size_t plant(tcr_set *set, double u, tcr_layer layer, tcr_condition condition,
                    const tcr_wish *wish) {
    tcr_lash lash = tcr_lash_unknown(u, layer);
    lash.condition = condition;
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, wish), TCR_OK);
    return tcr_set_lash_count(set, TCR_LEFT) - 1;
}

static tcr_choice chosen(const tcr_set *set, size_t i) {
    tcr_choice choice;
    expect_status(tcr_set_choice(set, TCR_LEFT, i, &choice), TCR_OK);
    return choice;
}

static const char *label(const tcr_set *set, size_t curl) { return tcr_set_curl(set, curl)->label; }

static const tcr_zone THREE[] = {
    {.to = 0.2, .length_mm = 9.0, .curl = "B"},
    {.to = 0.5, .length_mm = 11.0, .curl = "C"},
    {.to = 1.0, .length_mm = 12.0, .curl = "D"},
};

CLAIM(a_zone_holds_the_lashes_below_its_border) {
    static const struct {
        double u;
        size_t zone;
    } table[] = {
        /* Source: model.md, section 7: u < to; the last zone holds those up to 1. */
        {0.02, 0}, {0.19999999, 0}, {0.2, 1}, {0.3, 1}, {0.49999999, 1}, {0.5, 2}, {0.98, 2},
    };
    tcr_set *set = mapped(THREE, 3, NULL);
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        const size_t lash = plant(set, table[i].u, TCR_BOTTOM, TCR_SUITABLE, NULL);
        given("u = %.17g", table[i].u);
        expect_count(tcr_set_zone_at(set, TCR_LEFT, table[i].u), table[i].zone);
        expect_same(chosen(set, lash).length_mm, THREE[table[i].zone].length_mm, "the zone's");
        expect_text(label(set, chosen(set, lash).curl), THREE[table[i].zone].curl);
    }
    expect_count(tcr_set_zone_at(set, TCR_LEFT, 1.0), 2);
    tcr_set_free(set);
}

CLAIM(each_layer_is_shorter_by_the_step) {
    tcr_layering rule = tcr_layering_default();
    const double steps[] = {0.0, 0.5, 1.0, 1.5, 3.0};
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        rule.step_mm = steps[i];
        tcr_set *set = mapped(THREE, 3, &rule);
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            const size_t lash = plant(set, 0.7, (tcr_layer)layer, TCR_SUITABLE, NULL);
            given("step %g, layer %d", steps[i], layer);
            expect_same(chosen(set, lash).length_mm, 12.0 - steps[i] * layer, "exact in binary");
        } /* source: model.md, section 7 */
        tcr_set_free(set);
    }
}

CLAIM(the_rule_gives_diameter_fan_spread_and_placement_by_layer) {
    tcr_layering rule = tcr_layering_default();
    rule.diameter_mm = 0.07;
    rule.fan = 3;
    rule.spread_rad = 0.5;
    rule.placement[TCR_MIDDLE] = TCR_OUTER_SIDE;
    rule.placement[TCR_TOP] = TCR_UNDERSIDE;
    static const tcr_placement expected[] = {TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE};
    tcr_set *set = mapped(THREE, 3, &rule);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_choice c = chosen(set, plant(set, 0.3, (tcr_layer)layer, TCR_SUITABLE, NULL));
        given("layer %d", layer);
        expect_same(c.diameter_mm, 0.07, "given"); /* source: what was given */
        expect_count(c.fan, 3);
        expect_same(c.spread_rad, 0.5, "given");
        expect_count(c.placement, expected[layer]);
    }
    tcr_set_free(set);
}

CLAIM(what_a_zone_fixes_for_a_layer_wins_over_the_rule) {
    tcr_zone zones[3];
    memcpy(zones, THREE, sizeof zones);
    zones[2].layer[TCR_TOP] = (tcr_wish){
        .fixed = TCR_FIX_LENGTH | TCR_FIX_CURL | TCR_FIX_DIAMETER | TCR_FIX_FAN | TCR_FIX_SPREAD |
                 TCR_FIX_PLACEMENT,
        .length_mm = 8.5,
        .curl = "L",
        .diameter_mm = 0.05,
        .fan = 4,
        .spread_rad = 0.25,
        .placement = TCR_INNER_SIDE,
    };
    zones[2].layer[TCR_MIDDLE] = (tcr_wish){.fixed = TCR_FIX_CURL, .curl = "M"};
    tcr_set *set = mapped(zones, 3, NULL);
    const tcr_choice top = chosen(set, plant(set, 0.6, TCR_TOP, TCR_SUITABLE, NULL));
    expect_same(top.length_mm, 8.5, "given"); /* source: model.md, section 7 */
    expect_text(label(set, top.curl), "L");
    expect_same(top.diameter_mm, 0.05, "given");
    expect_count(top.fan, 4);
    expect_same(top.spread_rad, 0.25, "given");
    expect_count(top.placement, TCR_INNER_SIDE);
    const tcr_choice middle = chosen(set, plant(set, 0.6, TCR_MIDDLE, TCR_SUITABLE, NULL));
    expect_same(middle.length_mm, 11.0, "12 less the step: the rule still gives the length");
    expect_text(label(set, middle.curl), "M");
    const tcr_choice elsewhere = chosen(set, plant(set, 0.3, TCR_TOP, TCR_SUITABLE, NULL));
    expect_same(elsewhere.length_mm, 9.0, "another zone is not touched");
    tcr_set_free(set);
}

CLAIM(what_a_row_asks_for_wins_over_zone_and_rule) {
    tcr_zone zones[3];
    memcpy(zones, THREE, sizeof zones);
    zones[2].layer[TCR_TOP] =
        (tcr_wish){.fixed = TCR_FIX_LENGTH | TCR_FIX_CURL, .length_mm = 8.5, .curl = "L"};
    tcr_set *set = mapped(zones, 3, NULL);
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH | TCR_FIX_PLACEMENT,
                           .length_mm = 10.3, /* what was worn need not be in the tray */
                           .placement = TCR_UNDERSIDE};
    const tcr_choice c = chosen(set, plant(set, 0.6, TCR_TOP, TCR_SUITABLE, &wish));
    expect_same(c.length_mm, 10.3, "given"); /* source: interface.md, the survey */
    expect_count(c.placement, TCR_UNDERSIDE);
    expect_text(label(set, c.curl), "L"); /* of the zone, for the row says nothing of it */
    tcr_set_free(set);
}

CLAIM(a_row_moves_its_own_glue_and_no_others) {
    tcr_set *set = mapped(THREE, 3, NULL);
    const tcr_wish from_skin = {.fixed = TCR_FIX_FROM_SKIN, .from_skin_mm = 1.5};
    const tcr_choice moved = chosen(set, plant(set, 0.6, TCR_TOP, TCR_SUITABLE, &from_skin));
    const tcr_choice usual = chosen(set, plant(set, 0.6, TCR_TOP, TCR_SUITABLE, NULL));
    /* By hand, from the default bond: it begins 0.7 mm from the skin. */
    expect_near(moved.moved_out_mm, 0.8, 1e-15, "one difference");
    expect_same(usual.moved_out_mm, 0.0, "nothing asked for");
    expect_near(tcr_set_bond_of(set, &moved).offset_mm, 1.5, 1e-15, "a difference and a sum");
    expect_same(tcr_set_bond_of(set, &usual).offset_mm, 0.7, "the bond's own");
    tcr_set_free(set);
}

CLAIM(strays_babies_weak_and_shedding_lashes_stay_bare) {
    tcr_set *set = mapped(THREE, 3, NULL);
    tcr_choice choice = {.length_mm = 99.0};
    for (int condition = TCR_BABY; condition < TCR_CONDITIONS; condition++) {
        const size_t i = plant(set, 0.5, TCR_TOP, (tcr_condition)condition, NULL);
        given("condition %d", condition);
        /* Source: common practice, no source: strays, babies, weak and shedding ones get none. */
        expect_status(tcr_set_choice(set, TCR_LEFT, i, &choice), TCR_E_BARE);
        expect_same(choice.length_mm, 99.0, "outputs stay");
    }
    tcr_set_free(set);
}

CLAIM(a_rows_own_length_overrules_the_condition_and_none_makes_bare) {
    tcr_set *set = mapped(THREE, 3, NULL);
    tcr_choice choice;
    const tcr_wish length = {.fixed = TCR_FIX_LENGTH, .length_mm = 7.0};
    const tcr_wish curl = {.fixed = TCR_FIX_CURL, .curl = "M"}, bare = {.fixed = TCR_FIX_BARE};
    const size_t stray = plant(set, 0.5, TCR_TOP, TCR_STRAY, &length);
    const size_t baby = plant(set, 0.5, TCR_TOP, TCR_BABY, &curl);
    const size_t good = plant(set, 0.5, TCR_TOP, TCR_SUITABLE, &bare);
    expect_same(chosen(set, stray).length_mm, 7.0, "given"); /* source: interface.md, the survey */
    expect_status(tcr_set_choice(set, TCR_LEFT, baby, &choice), TCR_E_BARE);
    expect_status(tcr_set_choice(set, TCR_LEFT, good, &choice), TCR_E_BARE_BY_ROW);
    tcr_set_free(set);
}

/* Zones whose centres are 0.25 and 0.75. */
static const tcr_zone TWO[] = {
    {.to = 0.5, .length_mm = 10.0, .curl = "C"},
    {.to = 1.0, .length_mm = 12.0, .curl = "D"},
};

CLAIM(blended_lengths_are_interpolated_between_zone_centres_and_rounded_to_the_tray) {
    static const struct {
        double u, length_mm;
    } table[] = {
        /* Source: by hand; model.md, section 7: 10 + 4 (u - 1/4), steps of a half, ties longer. */
        {0.02, 10.0}, {0.25, 10.0}, {0.3, 10.0},  {0.3125, 10.5}, {0.4375, 11.0}, {0.43, 10.5},
        {0.5, 11.0},  {0.6, 11.5},  {0.68, 11.5}, {0.6875, 12.0}, {0.75, 12.0},   {0.98, 12.0},
    };
    tcr_layering rule = tcr_layering_default();
    rule.blend = true;
    tcr_set *set = mapped(TWO, 2, &rule);
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        const size_t bottom = plant(set, table[i].u, TCR_BOTTOM, TCR_SUITABLE, NULL);
        const size_t top = plant(set, table[i].u, TCR_TOP, TCR_SUITABLE, NULL);
        given("u = %g", table[i].u);
        expect_same(chosen(set, bottom).length_mm, table[i].length_mm, "the tray's own number");
        expect_same(chosen(set, top).length_mm, table[i].length_mm - 2.0, "two steps less");
        /* The curl is the zone's: blending is of lengths alone. */
        expect_text(label(set, chosen(set, top).curl), table[i].u < 0.5 ? "C" : "D");
    }
    tcr_set_free(set);
}

CLAIM(blended_lengths_are_rounded_before_the_step_is_taken_off) {
    /* Source: by hand; model.md, section 7: 10.31 is nearest to 10.5, two steps less is 8.5; the
     * other way round 8.31 would be nearest to 8.25. */
    const tcr_tray uneven = {.count = 6, .length_mm = {8.0, 8.25, 8.5, 10.0, 10.5, 12.0}};
    tcr_layering rule = tcr_layering_default();
    rule.blend = true;
    tcr_set *set = mapped(TWO, 2, &rule);
    expect_status(tcr_set_put_tray(set, &uneven), TCR_OK);
    const size_t top = plant(set, 0.3275, TCR_TOP, TCR_SUITABLE, NULL);
    expect_same(chosen(set, top).length_mm, 8.5, "the tray's own number");
    tcr_set_free(set);
}

CLAIM(a_length_of_the_rule_that_the_tray_lacks_is_an_error_that_tells_it) {
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = 0.75;
    tcr_set *set = mapped(THREE, 3, &rule);
    tcr_choice choice = {0};
    const size_t middle = plant(set, 0.6, TCR_MIDDLE, TCR_SUITABLE, NULL);
    const size_t top = plant(set, 0.6, TCR_TOP, TCR_SUITABLE, NULL);
    expect_status(tcr_set_choice(set, TCR_LEFT, middle, &choice), TCR_E_TRAY); /* source: set.h */
    expect_same(choice.length_mm, 11.25, "12 - 0.75");
    expect_same(chosen(set, top).length_mm, 10.5, "12 - 1.5");
    tcr_set_free(set);
}

CLAIM(the_extension_has_the_curls_profile_at_its_length) {
    tcr_set *set = mapped(THREE, 3, NULL);
    const double lengths[] = {8.0, 12.0};
    const tcr_profile measured[] = {{1, {1.0}, {1.0}}, {1, {1.0}, {2.0}}};
    const tcr_curl d = {"D", 2, lengths, measured};
    expect_status(tcr_set_add_curl(set, &d), TCR_OK);
    const tcr_choice choice = chosen(set, plant(set, 0.6, TCR_TOP, TCR_SUITABLE, NULL));
    const tcr_extension ext = tcr_set_extension(set, &choice);
    expect_same(ext.length_mm, 10.0, "12 less two steps"); /* source: model.md, 4 and 7 */
    expect_near(ext.profile.turn_rad[0], 1.5, 1e-15, "half way from 8 to 12");
    expect_same(ext.diameter_mm, 0.15, "the rule's");
    expect_count(ext.fan, 1);
    expect_count(ext.placement, TCR_ON_TOP);
    tcr_set_free(set);
}

CLAIM(the_intended_length_is_blended_and_not_rounded) {
    tcr_set *set = mapped(TWO, 2, NULL); /* whether or not the rule asks for blending */
    for (int i = 0; i <= 200; i++) {
        const double u = 0.05 + 0.9 * i / 200.0;
        const double expected = u <= 0.25 ? 10.0 : (u >= 0.75 ? 12.0 : 10.0 + 4.0 * (u - 0.25));
        const tcr_extension ext = tcr_set_intended_extension(set, TCR_LEFT, u);
        given("u = %.17g", u);
        expect_near(ext.length_mm, expected, 1e-14, "one interpolation"); /* model.md, section 7 */
    }
    tcr_set_free(set);
}

CLAIM(the_intended_extension_is_the_bottom_layers_alone_and_on_top) {
    tcr_zone zones[2];
    memcpy(zones, TWO, sizeof zones);
    zones[1].layer[TCR_BOTTOM] = (tcr_wish){
        .fixed = TCR_FIX_LENGTH | TCR_FIX_CURL | TCR_FIX_DIAMETER,
        .length_mm = 14.0,
        .curl = "M",
        .diameter_mm = 0.1,
    };
    tcr_layering rule = tcr_layering_default();
    rule.fan = 5;
    rule.spread_rad = 1.0;
    for (int i = 0; i < TCR_LAYERS; i++)
        rule.placement[i] = TCR_UNDERSIDE;
    tcr_set *set = mapped(zones, 2, &rule);
    const tcr_extension here = tcr_set_intended_extension(set, TCR_LEFT, 0.9);
    const tcr_extension there = tcr_set_intended_extension(set, TCR_LEFT, 0.1);
    const tcr_extension between = tcr_set_intended_extension(set, TCR_LEFT, 0.5);
    /* Source: model.md, section 7. */
    expect_same(here.length_mm, 14.0, "the zone's bottom length");
    expect_same(there.length_mm, 10.0, "the zone's length");
    expect_near(between.length_mm, 12.0, 1e-14, "half way between bottom lengths 10 and 14");
    expect_same(here.diameter_mm, 0.1, "as on the bottom layer");
    expect_same(there.diameter_mm, 0.15, "as on the bottom layer");
    expect_near(here.profile.turn_rad[1], tcr_degrees(60.0), 1e-15, "curl M");
    expect_near(there.profile.turn_rad[1], tcr_degrees(90.0), 1e-15, "curl C");
    expect_count(here.fan, 1);
    expect_same(here.spread_rad, 0.0, "one fibre");
    expect_count(here.placement, TCR_ON_TOP);
    tcr_set_free(set);
}

CLAIM(the_mean_lash_has_what_was_given_and_defaults_of_its_place) {
    tcr_set *set = mapped(TWO, 2, NULL);
    tcr_lash said = tcr_lash_unknown(0.5, TCR_BOTTOM);
    said.length_mm = 8.0;
    said.pitch_rad = 0.1;
    expect_status(tcr_set_put_mean_lash(set, &said), TCR_OK);
    tcr_mean_lash mean;
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    for (int i = 0; i <= 4; i++) {
        const double u = 0.05 + 0.9 * i / 4.0;
        const tcr_lash at = tcr_mean_lash_at(&mean, u);
        given("u = %g", u);
        expect_same(at.u, u, "given"); /* source: model.md, sections 3 and 7; set.h */
        expect_near(at.length_mm, 8.0, 1e-14, "given, at every u: three products");
        expect_same(at.pitch_rad, 0.1, "given, at every u");
        expect_near(at.yaw_rad, tcr_degrees(-10.0 + 20.0 * u), 1e-16, "the default at u");
        expect_same(at.height_mm, 0.0, "on the bottom layer");
        expect_count(at.layer, TCR_BOTTOM);
        expect_status(tcr_lash_validate(&at, NULL), TCR_OK);
    }
    tcr_set_free(set);
}

CLAIM(choices_of_what_is_not_there_are_refused) {
    tcr_set *set = NULL;
    tcr_choice choice;
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_choice(set, TCR_LEFT, 0, &choice), TCR_E_MISSING); /* source: set.h */
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_choice(set, TCR_LEFT, 0, &choice), TCR_E_MISSING);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, NULL), TCR_OK);
    expect_status(tcr_set_choice(set, TCR_LEFT, 0, &choice), TCR_E_MAP);
    expect_status(tcr_set_choice(NULL, TCR_LEFT, 0, &choice), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_zone_holds_the_lashes_below_its_border,
        &each_layer_is_shorter_by_the_step,
        &the_rule_gives_diameter_fan_spread_and_placement_by_layer,
        &what_a_zone_fixes_for_a_layer_wins_over_the_rule,
        &what_a_row_asks_for_wins_over_zone_and_rule,
        &a_row_moves_its_own_glue_and_no_others,
        &strays_babies_weak_and_shedding_lashes_stay_bare,
        &a_rows_own_length_overrules_the_condition_and_none_makes_bare,
        &blended_lengths_are_interpolated_between_zone_centres_and_rounded_to_the_tray,
        &blended_lengths_are_rounded_before_the_step_is_taken_off,
        &a_length_of_the_rule_that_the_tray_lacks_is_an_error_that_tells_it,
        &the_extension_has_the_curls_profile_at_its_length,
        &the_intended_length_is_blended_and_not_rounded,
        &the_intended_extension_is_the_bottom_layers_alone_and_on_top,
        &the_mean_lash_has_what_was_given_and_defaults_of_its_place,
        &choices_of_what_is_not_there_are_refused,
    };
    return RUN_CLAIMS("choice", claims);
}
