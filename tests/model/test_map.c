/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layering rule. */
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

int main(void) {
    static const TTest *const claims[] = {
        &the_default_rule_is_1_mm_a_layer_0_15_mm_thick_all_on_top,
        &rules_out_of_range_are_refused,
    };
    return RUN_CLAIMS("map", claims);
}
