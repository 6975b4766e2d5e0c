/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What every artist knows, held against the model: that the layers show, and that shorter lengths
 * above and placement draw them together. Facts of the trade are common practice, no source.
 */
#include <tipcrest/tips.h>

#include <math.h>

#include "support/check.h"
#include "support/make.h"

/* Y of a tip at the pupil with the eye open, seen from the front; layers a gap of 1 mm apart. */
static double stands_at(int layer, const char *curl, double length_mm, tcr_placement placement) {
    const tcr_view open = tcr_view_named(TCR_OPEN_FRONT);
    const tcr_lash lash = tcr_make_default_lash(0.5, (tcr_layer)layer);
    const tcr_extension ext = tcr_make_extension(curl, length_mm, placement);
    return tcr_seen_height(&lash, &ext, &open);
}

CLAIM(equal_lengths_stagger_by_about_the_layer_gap) {
    for (int layer = 1; layer < TCR_LAYERS; layer++) {
        const double step = stands_at(layer, "C", 12.0, TCR_OUTER_SIDE) -
                            stands_at(layer - 1, "C", 12.0, TCR_OUTER_SIDE);
        given("layer %d above the one below", layer);
        /* Source: common practice, no source: layers stand about 1 mm apart. */
        expect_within(step, 0.8, 1.1, "what 'about a millimetre' is taken to mean");
    }
}

CLAIM(twelve_eleven_ten_brings_each_layer_near_its_neighbour) {
    for (int placement = 0; placement < TCR_PLACEMENTS; placement++)
        for (int layer = 1; layer < TCR_LAYERS; layer++) {
            const double step = stands_at(layer, "C", 12.0 - layer, (tcr_placement)placement) -
                                stands_at(layer - 1, "C", 13.0 - layer, (tcr_placement)placement);
            given("layer %d above the one below, placement %d", layer, placement);
            /* Source: common practice, no source: a millimetre less for each layer up. */
            expect_within(fabs(step), 0.0, 0.15, "far less than the gap that it takes away");
        }
}

CLAIM(top_side_and_underside_draw_all_three_layers_together) {
    static const tcr_placement placement[] = {TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE};
    double least = INFINITY, most = -INFINITY;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const double y = stands_at(layer, "C", 12.0 - layer, placement[layer]);
        least = fmin(least, y);
        most = fmax(most, y);
    }
    /* Source: common practice, no source: bottom on top, middle at the side, top underneath. */
    expect_within(most - least, 0.0, 0.15, "far less than the 2 mm between bottom and top roots");
}

CLAIM(shorter_lengths_alone_leave_more_between_bottom_and_top) {
    static const tcr_placement mixed[] = {TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE};
    const double alone =
        fabs(stands_at(2, "C", 10.0, TCR_OUTER_SIDE) - stands_at(0, "C", 12.0, TCR_OUTER_SIDE));
    const double with = fabs(stands_at(2, "C", 10.0, mixed[2]) - stands_at(0, "C", 12.0, mixed[0]));
    expect_within(with, 0.0, alone, "placement draws layers together: common practice, no source");
}

/* The step from bottom to middle that levels a curl of 12 mm, all at the outer side. */
static double level_step(const char *curl) {
    const double target = stands_at(0, curl, 12.0, TCR_OUTER_SIDE);
    double low = 0.0, high = 3.0;
    for (int i = 0; i < 60; i++) {
        const double middle = (low + high) / 2.0;
        if (stands_at(1, curl, 12.0 - middle, TCR_OUTER_SIDE) > target)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2.0;
}

CLAIM(a_step_of_1_1528_mm_levels_c_at_12_mm) {
    /* Source: computed by an independent program of this project. */
    expect_near(level_step("C"), 1.1528, 5e-5, "half of the last printed digit");
}

CLAIM(a_step_of_1_5666_mm_levels_j_at_12_mm) {
    /* Source: computed by an independent program of this project. */
    expect_near(level_step("J"), 1.5666, 5e-5, "half of the last printed digit");
}

int main(void) {
    static const TTest *const claims[] = {
        &equal_lengths_stagger_by_about_the_layer_gap,
        &twelve_eleven_ten_brings_each_layer_near_its_neighbour,
        &top_side_and_underside_draw_all_three_layers_together,
        &shorter_lengths_alone_leave_more_between_bottom_and_top,
        &a_step_of_1_1528_mm_levels_c_at_12_mm,
        &a_step_of_1_5666_mm_levels_j_at_12_mm,
    };
    return RUN_CLAIMS("trade", claims);
}
