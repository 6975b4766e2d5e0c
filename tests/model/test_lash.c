/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The natural lash: defaults, shape, taper, where it stands, what is refused. */
#include <tipcrest/lash.h>

#include <math.h>

#include <gsl/gsl_math.h>

#include <tipcrest/tips.h>

#include "geom/vector.h"
#include "support/check.h"
#include "support/make.h"

static tcr_stance stance_of(const tcr_lash *lash, const tcr_lid *lid, double opening) {
    tcr_stance stance;
    expect_status(tcr_lash_stance(lash, lid, opening, &stance), TCR_OK);
    return stance;
}

static tcr_vec3 bare_tip(const tcr_lash *lash, const tcr_lid *lid, double opening) {
    tcr_vec3 tip;
    expect_status(tcr_tip(lid, opening, lash, NULL, NULL, &tip), TCR_OK);
    return tip;
}

CLAIM(a_default_lash_is_the_contracts) {
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_lash lash = tcr_make_default_lash(0.25, (tcr_layer)layer);
        given("layer %d", layer);
        /* Source: model.md, section 3, and the ranges of lash.h. */
        expect_same(lash.u, 0.25, "given");
        expect_same(lash.height_mm, layer, "0, 1, 2 mm");
        expect_near(lash.pitch_rad, tcr_degrees(-10.0), 1e-16, "one rounding");
        expect_near(lash.yaw_rad, tcr_degrees(-10.0 + 20.0 * 0.25), 1e-16, "one rounding");
        expect_same(lash.roll_rad, 0.0, "default");
        expect_same(lash.length_mm, 7.5, "default");
        expect_near(lash.turn_rad, tcr_degrees(60.0), 1e-15, "one rounding");
        expect_same(lash.root_diameter_mm, 0.08, "default");
        expect_same(lash.tip_diameter_mm, 0.015, "default");
        expect_count(lash.layer, layer);
        expect_count(lash.condition, TCR_SUITABLE);
        expect_nan(lash.final_length_mm); /* no default */
        expect_status(tcr_lash_validate(&lash, NULL), TCR_OK);
    }
}

CLAIM(a_lash_turns_by_4_3_and_2_ninths_in_its_thirds) {
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_profile profile = tcr_lash_profile(&lash);
    for (int i = 0; i <= 3; i++) {
        const double ninths[] = {0.0, 4.0, 7.0, 9.0}; /* source: model.md, section 3, summed up */
        given("after %d thirds", i);
        expect_near(tcr_profile_at(&profile, 7.5, 2.5 * i).angle_rad,
                    tcr_degrees(60.0) * ninths[i] / 9.0, 1e-15, "a few roundings of 1 rad");
    }
    expect_status(tcr_profile_validate(&profile, NULL), TCR_OK);
}

CLAIM(curvature_falls_from_root_to_tip) {
    /* Source: Tohmyoh 2018, 10.1016/j.actbio.2018.07.005 (direction only). */
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_profile p = tcr_lash_profile(&lash);
    for (int i = 1; i < p.pieces; i++)
        expect_true(p.turn_rad[i] / p.share[i] < p.turn_rad[i - 1] / p.share[i - 1]);
}

CLAIM(the_diameter_tapers_linearly) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.length_mm = 8.0;
    lash.root_diameter_mm = 0.1;
    lash.tip_diameter_mm = 0.02;
    const char *why = "two roundings of 0.1"; /* source: model.md, section 3 */
    expect_near(tcr_lash_diameter(&lash, 0.0), 0.1, 0.0, "the root's own");
    expect_near(tcr_lash_diameter(&lash, 2.0), 0.08, 2e-17, why);
    expect_near(tcr_lash_diameter(&lash, 4.0), 0.06, 2e-17, why);
    expect_near(tcr_lash_diameter(&lash, 8.0), 0.02, 2e-17, why);
}

CLAIM(the_lashs_axes_are_orthonormal_with_out_as_up_x_along) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 1000; i++) {
        const tcr_lid lid = tcr_draw_lid(rng);
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_stance s = stance_of(&lash, &lid, gsl_rng_uniform(rng));
        /* b less its part along d is no shorter than cos 84 degrees squared, 0.01. */
        const char *why = "roundings, grown by at most 100 where b is nearly along the lash";
        expect_near(tcr_vec3_length(s.along), 1.0, 1e-14, why);
        expect_near(tcr_vec3_length(s.up), 1.0, 1e-14, why);
        expect_near(tcr_vec3_dot(s.along, s.up), 0.0, 1e-13, why);
        expect_vector(tcr_vec3_cross(s.up, s.along), s.out, 1e-13, why); /* model.md, section 3 */
    }
    gsl_rng_free(rng);
}

CLAIM(pitch_yaw_and_height_are_those_that_were_given) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 1000; i++) {
        const tcr_lid lid = tcr_draw_lid(rng);
        const tcr_lash lash = tcr_draw_lash(rng);
        const double opening = gsl_rng_uniform(rng);
        const tcr_stance s = stance_of(&lash, &lid, opening);
        tcr_frame f;
        expect_status(tcr_lid_frame(&lid, lash.u, opening, &f), TCR_OK);
        /* Source: model.md, section 3, read the other way round: elevation and azimuth of d. */
        const double along_n = tcr_vec3_dot(s.along, f.n), along_t = tcr_vec3_dot(s.along, f.t);
        const char *why = "roundings, grown by 1/cos 84 degrees";
        expect_near(asin(tcr_vec3_dot(s.along, f.b)), lash.pitch_rad, 1e-13, why);
        expect_near(atan2(along_t, along_n), lash.yaw_rad, 1e-13, why);
        expect_vector(s.root, tcr_vec3_step(f.point, lash.height_mm, f.b), 1e-14, "roundings");
    }
    gsl_rng_free(rng);
}

CLAIM(without_roll_the_lash_curls_up_the_lid_and_out_is_level_with_the_margin) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int i = 0; i < 300; i++) {
        const tcr_lid lid = tcr_lid_default();
        tcr_lash lash = tcr_draw_lash(rng);
        lash.roll_rad = 0.0;
        const tcr_stance s = stance_of(&lash, &lid, 1.0);
        tcr_frame f;
        expect_status(tcr_lid_frame(&lid, lash.u, 1.0, &f), TCR_OK);
        /* Source: model.md, section 3: v is b less its part along d, so v.b = cos(pitch), w.b = 0.
         */
        expect_near(tcr_vec3_dot(s.up, f.b), cos(lash.pitch_rad), 1e-13, "roundings, times 100");
        expect_near(tcr_vec3_dot(s.out, f.b), 0.0, 1e-13, "roundings, times 100");
        expect_true(tcr_vec3_dot(s.out, f.t) > 0.0);
    }
    gsl_rng_free(rng);
}

CLAIM(roll_turns_the_plane_of_the_curl_about_the_lash) {
    gsl_rng *rng = tcr_make_rng(4);
    for (int i = 0; i < 300; i++) {
        const tcr_lid lid = tcr_lid_default();
        tcr_lash rolled = tcr_draw_lash(rng), level = rolled;
        level.roll_rad = 0.0;
        const tcr_stance a = stance_of(&level, &lid, 1.0), b = stance_of(&rolled, &lid, 1.0);
        /* Source: model.md, section 3; a positive roll leans the curl to the outer side. */
        expect_vector(b.along, a.along, 0.0, "roll does not enter");
        expect_near(atan2(tcr_vec3_dot(b.up, a.out), tcr_vec3_dot(b.up, a.up)), rolled.roll_rad,
                    1e-13, "roundings, times 100");
    }
    gsl_rng_free(rng);
}

CLAIM(a_lash_without_turn_is_straight_and_roll_does_not_move_its_tip) {
    gsl_rng *rng = tcr_make_rng(5);
    for (int i = 0; i < 300; i++) {
        const tcr_lid lid = tcr_lid_default();
        tcr_lash lash = tcr_draw_lash(rng), rolled;
        lash.turn_rad = 0.0;
        rolled = lash;
        rolled.roll_rad = tcr_degrees(tcr_draw_between(rng, -90.0, 90.0));
        const tcr_stance s = stance_of(&lash, &lid, 1.0);
        /* Source: closed form, and rotation about the lash itself. */
        expect_vector(bare_tip(&lash, &lid, 1.0), tcr_vec3_step(s.root, lash.length_mm, s.along),
                      1e-13, "roundings of 20 mm");
        expect_vector(bare_tip(&rolled, &lid, 1.0), bare_tip(&lash, &lid, 1.0), 1e-13,
                      "roundings of 20 mm");
    }
    gsl_rng_free(rng);
}

CLAIM(the_bare_tip_stands_where_the_profile_ends_in_the_lashs_axes) {
    gsl_rng *rng = tcr_make_rng(6);
    for (int i = 0; i < 300; i++) {
        const tcr_lid lid = tcr_lid_default();
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_stance s = stance_of(&lash, &lid, 0.5);
        const tcr_profile profile = tcr_lash_profile(&lash);
        const tcr_arc_point end = tcr_profile_at(&profile, lash.length_mm, lash.length_mm);
        const tcr_vec3 tip = tcr_vec3_step(tcr_vec3_step(s.root, end.x, s.along), end.y, s.up);
        expect_vector(bare_tip(&lash, &lid, 0.5), tip, 1e-13,
                      "roundings of 20 mm"); /* model.md, 3 */
    }
    gsl_rng_free(rng);
}

CLAIM(a_point_in_the_lashs_axes_is_measured_along_up_and_out) {
    const tcr_stance s = {{1.0, 2.0, 3.0}, {0.0, 0.0, 1.0}, {0.0, 1.0, 0.0}, {1.0, 0.0, 0.0}};
    const tcr_vec3 expected = {1.0 + 4.0, 2.0 + 8.0, 3.0 + 16.0}; /* by hand */
    expect_vector(tcr_stance_point(&s, (tcr_vec3){16.0, 8.0, 4.0}), expected, 0.0, "exact");
}

/* The nine numbers of a lash and their documented limits (lash.h, interface.md). */
static double *number(tcr_lash *lash, int i) {
    double *const numbers[] = {
        &lash->u,        &lash->height_mm,        &lash->pitch_rad,
        &lash->yaw_rad,  &lash->roll_rad,         &lash->length_mm,
        &lash->turn_rad, &lash->root_diameter_mm, &lash->tip_diameter_mm,
    };
    return numbers[i];
}

CLAIM(a_number_outside_its_range_is_refused) {
    const double steep = 85.0 * M_PI / 180.0;
    const double limits[9][2] = {
        {0.02, 0.98},
        {-2.0, 8.0},
        {-steep + 1e-6, steep - 1e-6}, /* strictly inside */
        {-steep + 1e-6, steep - 1e-6},
        {-M_PI / 2.0, M_PI / 2.0},
        {0.3, 20.0},
        {-M_PI / 3.0, M_PI / 0.9},
        {0.02, 0.2},
        {0.0, 0.08}, /* the root's */
    };
    for (int i = 0; i < 9; i++) {
        const double bad[] = {limits[i][0] - 1e-6, limits[i][1] + 1e-6, NAN, INFINITY, -INFINITY};
        for (int j = 0; j < 2; j++) {
            tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
            *number(&lash, i) = limits[i][j];
            if (i == 7)
                lash.tip_diameter_mm = 0.01;
            given("number %d at its limit %.17g", i, limits[i][j]);
            expect_status(tcr_lash_validate(&lash, NULL), TCR_OK);
        }
        for (size_t j = 0; j < sizeof bad / sizeof bad[0]; j++) {
            tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
            *number(&lash, i) = bad[j];
            given("number %d at %.17g", i, bad[j]);
            expect_status(tcr_lash_validate(&lash, NULL), TCR_E_RANGE);
        }
    }
}

CLAIM(a_final_length_is_1_to_20_mm_or_nan_for_unknown) {
    const double good[] = {NAN, 1.0, 20.0}, bad[] = {0.99, 20.01, -1.0, 0.0, INFINITY};
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
        lash.final_length_mm = good[i];
        expect_status(tcr_lash_validate(&lash, NULL), TCR_OK); /* source: lash.h */
    }
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        lash.final_length_mm = bad[i];
        expect_status(tcr_lash_validate(&lash, NULL), TCR_E_RANGE);
    }
}

CLAIM(layers_and_conditions_that_do_not_exist_are_refused) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    expect_status(tcr_lash_validate(NULL, NULL), TCR_E_ARGUMENT); /* source: lash.h */
    lash.layer = (tcr_layer)3;
    expect_status(tcr_lash_validate(&lash, NULL), TCR_E_ARGUMENT);
    lash.layer = TCR_TOP;
    lash.condition = (tcr_condition)-1;
    expect_status(tcr_lash_validate(&lash, NULL), TCR_E_ARGUMENT);
    lash.condition = (tcr_condition)5;
    expect_status(tcr_lash_validate(&lash, NULL), TCR_E_ARGUMENT);
}

CLAIM(a_refused_stance_leaves_its_output_alone) {
    const tcr_lid lid = tcr_lid_default();
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    tcr_stance stance = stance_of(&lash, &lid, 0.5);
    const tcr_stance before = stance;
    expect_status(tcr_lash_stance(&lash, &lid, -0.1, &stance), TCR_E_RANGE);
    expect_status(tcr_lash_stance(&lash, &lid, NAN, &stance), TCR_E_RANGE);
    expect_status(tcr_lash_stance(NULL, &lid, 0.5, &stance), TCR_E_ARGUMENT);
    expect_status(tcr_lash_stance(&lash, NULL, 0.5, &stance), TCR_E_ARGUMENT);
    expect_status(tcr_lash_stance(&lash, &lid, 0.5, NULL), TCR_E_ARGUMENT);
    expect_bytes(&stance, &before, sizeof stance); /* source: status.h */
}

int main(void) {
    static const TTest *const claims[] = {
        &a_default_lash_is_the_contracts,
        &a_lash_turns_by_4_3_and_2_ninths_in_its_thirds,
        &curvature_falls_from_root_to_tip,
        &the_diameter_tapers_linearly,
        &the_lashs_axes_are_orthonormal_with_out_as_up_x_along,
        &pitch_yaw_and_height_are_those_that_were_given,
        &without_roll_the_lash_curls_up_the_lid_and_out_is_level_with_the_margin,
        &roll_turns_the_plane_of_the_curl_about_the_lash,
        &a_lash_without_turn_is_straight_and_roll_does_not_move_its_tip,
        &the_bare_tip_stands_where_the_profile_ends_in_the_lashs_axes,
        &a_point_in_the_lashs_axes_is_measured_along_up_and_out,
        &a_number_outside_its_range_is_refused,
        &a_final_length_is_1_to_20_mm_or_nan_for_unknown,
        &layers_and_conditions_that_do_not_exist_are_refused,
        &a_refused_stance_leaves_its_output_alone,
    };
    return RUN_CLAIMS("lash", claims);
}
