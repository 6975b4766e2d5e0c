/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The weight of a lash and its droop: closed forms, invariants, limits and figures of the model. */
#include <tipcrest/load.h>

#include <math.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_math.h>

#include "geom/vector.h"
#include "model/lash_kernel.h"
#include "rod/lash_rod.h"
#include "rod/refused.h"
#include "support/check.h"
#include "support/make.h"
#include "support/options.h"

/* Level along x, its curl towards y. */
static const tcr_stance LEVEL = {{3.0, -2.0, 9.0}, {1, 0, 0}, {0, 1, 0}, {0, 0, -1}};

static tcr_stance stance_of(const tcr_lash *lash) {
    const tcr_lid lid = tcr_lid_default();
    tcr_stance stance;
    expect_status(tcr_lash_stance(lash, &lid, 1.0, &stance), TCR_OK);
    return stance;
}

static tcr_weight weight_of(const tcr_lash *lash, const tcr_stance *stance,
                            const tcr_extension *ext, const tcr_weight_options *options) {
    const tcr_bond bond = tcr_bond_default();
    tcr_weight weight;
    expect_status(tcr_weight_of(lash, stance, ext, ext == NULL ? NULL : &bond, options, &weight),
                  TCR_OK);
    return weight;
}

/* The default lash with 12 mm of C. */
static tcr_weight default_weight(tcr_placement placement, double clamp) {
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_stance stance = stance_of(&lash);
    const tcr_extension ext = tcr_make_extension("C", 12.0, placement);
    tcr_weight_options options = tcr_weight_options_default();
    options.clamp_uNmm_rad = clamp;
    return weight_of(&lash, &stance, &ext, &options);
}

/* ---- Figures of the model ----------------------------------------------------------------------
 */

CLAIM(the_default_lash_droops_by_the_models_figures) {
    for (int p = 0; p < TCR_PLACEMENTS; p++) {
        const tcr_weight w = default_weight((tcr_placement)p, INFINITY);
        given("placement %d", p);
        /* Source: 0.0035 to 0.0041 by placement, computed by an independent implementation. */
        expect_within(w.droop_mm, 0.0035, 0.0042,
                      "four decimals, of which the last may be cut off");
        expect_true(w.is_linear);
    }
    const tcr_weight top = default_weight(TCR_ON_TOP, INFINITY);
    expect_near(top.droop_mm, 0.004, 5e-4, "model.md, section 9, one digit");
    expect_near(top.shift_length_mm, 0.008, 5e-4, "model.md, section 9, one digit");
}

CLAIM(a_softer_clamp_lets_the_default_lash_sink_by_the_models_figures) {
    static const double TABLE[][3] = {/* model.md, section 9; half a unit of the last digit */
                                      {8800, 0.008, 5e-4},
                                      {1000, 0.04, 5e-3},
                                      {300, 0.13, 5e-3},
                                      {100, 0.39, 5e-3}};
    for (size_t i = 0; i < sizeof TABLE / sizeof *TABLE; i++) {
        given("k %g", TABLE[i][0]);
        expect_near(default_weight(TCR_ON_TOP, TABLE[i][0]).droop_mm, TABLE[i][1], TABLE[i][2],
                    "half a unit of the printed digit");
    }
    expect_same(default_weight(TCR_ON_TOP, INFINITY).droop_what_if_mm,
                default_weight(TCR_ON_TOP, 1000.0).droop_mm, "the what-if is k = 1000");
}

CLAIM(a_blink_triples_the_droop) {
    const tcr_weight w = default_weight(TCR_ON_TOP, INFINITY);
    expect_same(w.droop_blink_mm, 3.0 * w.droop_mm, "model.md, section 9");
}

/* ---- Closed forms ------------------------------------------------------------------------------
 */

CLAIM(a_straight_uniform_bare_lash_sinks_by_the_closed_form) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.turn_rad = 0.0;
    lash.tip_diameter_mm = lash.root_diameter_mm;
    const double d = 0.08, L = 7.5, section = M_PI / 4.0 * d * d;
    const double w = 1.32 * 9.80665 * section, EI = 3.9e9 * M_PI * gsl_pow_4(d) / 64.0;
    tcr_weight_options options = tcr_weight_options_default();
    const tcr_weight rigid = weight_of(&lash, &LEVEL, NULL, &options);
    options.clamp_uNmm_rad = 500.0;
    const tcr_weight soft = weight_of(&lash, &LEVEL, NULL, &options);
    /* Source: closed form, w L^4 / 8 EI, and the clamp's w L^3 / 2 k. */
    const double droop = w * gsl_pow_4(L) / 8.0 / EI;
    expect_near(rigid.droop_mm, droop, 1e-13 * droop, "roundings of 4 arcs");
    expect_near(soft.droop_mm, droop + w * gsl_pow_3(L) / 2.0 / 500.0, 1e-15, "roundings of 0.03");
    expect_near(rigid.load.root_moment_uNmm, w * L * L / 2.0, 1e-14, "closed form; roundings of 2");
    expect_near(rigid.moment_uNmm.z, -w * L * L / 2.0, 1e-14, "weight turns +x to -y");
    expect_near(rigid.load.moment_ratio, 1.0, 1e-13, "bare: both are its own");
    expect_same(rigid.load.extension_mass_mg, 0.0, "bare");
    expect_same(rigid.load.mass_ratio, 0.0, "bare");
    /* The same bar one sd thicker: thinner by d^-2. */
    expect_near(rigid.droop_thinner_mm, droop, 1e-13 * droop, "never below the tip's diameter");
}

typedef struct taper {
    double root, tip, length;
} taper;

/* Moment of the weight beyond s times the lever to the tip over stiffness, of a straight taper. */
static double taper_sinks_at(double t, void *context) {
    const taper *p = context;
    const double slope = (p->root - p->tip) / p->length, d = p->tip + slope * t;
    /* t from the tip; the integral of (tip + slope x)^2 (t - x) over x from 0 to t. */
    const double first =
        t * t * (p->tip * p->tip / 2.0 + p->tip * slope * t / 3.0 + slope * slope * t * t / 12.0);
    return 1.32 * 9.80665 * M_PI / 4.0 * first * t / (3.9e9 * M_PI * gsl_pow_4(d) / 64.0);
}

CLAIM(a_lash_of_any_taper_sinks_as_gsl_integrates) {
    const double tips[] = {0.0, 1e-300, 1e-9, 1e-6, 1e-5, 1e-4, 1e-3, 5e-3, 0.015, 0.04};
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(1000);
    for (size_t i = 0; i < sizeof tips / sizeof *tips; i++) {
        tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
        lash.turn_rad = 0.0;
        lash.tip_diameter_mm = tips[i];
        taper p = {0.08, tips[i], 7.5};
        gsl_function f = {taper_sinks_at, &p};
        double value = 0.0, from = 0.0;
        for (double to = 7.5e-9; from < 7.5; from = to, to = fmin(7.5, 10.0 * to)) {
            double part, error; /* by decades, since the tip's end is steep */
            (void)gsl_integration_qag(&f, from, to, 0.0, 1e-13, 1000, GSL_INTEG_GAUSS61, space,
                                      &part, &error);
            value += isfinite(part) ? part : 0.0; /* 0/0 at the very tip */
        }
        given("tip %g", tips[i]);
        expect_near(weight_of(&lash, &LEVEL, NULL, NULL).droop_mm, value, 1e-9 * value,
                    "load.h promises 1e-9 of the shift");
    }
    gsl_integration_workspace_free(space);
}

/* ---- Accuracy ----------------------------------------------------------------------------------
 */

/* The same curve with each piece in two, and so with shorter arcs. */
static tcr_profile in_halves(const tcr_profile *p) {
    tcr_profile halves = {.pieces = 2 * p->pieces};
    for (int i = 0; i < halves.pieces; i++) {
        halves.share[i] = p->share[i / 2] / 2.0;
        halves.turn_rad[i] = p->turn_rad[i / 2] / 2.0;
    }
    return halves;
}

CLAIM(a_curl_given_in_more_pieces_droops_the_same) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int i = 0; i < 200; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        tcr_extension ext = tcr_draw_extension(rng), halves = ext;
        do
            ext.profile =
                tcr_draw_profile(rng, i % 2 == 0 ? -90.0 : 200.0, i % 2 == 0 ? 60.0 : 270.0);
        while (ext.profile.pieces > TCR_PIECES_MAX / 2);
        halves.profile = in_halves(&ext.profile);
        const tcr_stance stance = stance_of(&lash);
        const tcr_weight a = weight_of(&lash, &stance, &ext, NULL);
        const tcr_weight b = weight_of(&lash, &stance, &halves, NULL);
        given("lash %d", i);
        /* Source: invariant; the shape is the same. */
        expect_vector(a.shift_mm, b.shift_mm, 1e-9 * b.shift_length_mm,
                      "load.h promises 1e-9 of the shift");
    }
    gsl_rng_free(rng);
}

/* ---- Invariants --------------------------------------------------------------------------------
 */

CLAIM(a_mirrored_lash_droops_as_much) {
    static const tcr_placement other[] = {TCR_ON_TOP, TCR_UNDERSIDE, TCR_OUTER_SIDE,
                                          TCR_INNER_SIDE};
    gsl_rng *rng = tcr_make_rng(4);
    tcr_lid lid = tcr_lid_default();
    lid.peak_offset_mm = lid.canthal_tilt_rad = 0.0;
    for (int i = 0; i < 50; i++) {
        tcr_lash lash = tcr_draw_lash(rng), mirrored = lash;
        tcr_extension ext = tcr_draw_extension(rng), swapped = ext;
        tcr_weight_options options = tcr_weight_options_default();
        mirrored.u = 1.0 - lash.u;
        mirrored.yaw_rad = -lash.yaw_rad;
        mirrored.roll_rad = -lash.roll_rad;
        swapped.placement = other[ext.placement];
        options.viewer_rad = 0.4;
        tcr_stance here, there;
        expect_status(tcr_lash_stance(&lash, &lid, 0.6, &here), TCR_OK);
        expect_status(tcr_lash_stance(&mirrored, &lid, 0.6, &there), TCR_OK);
        const tcr_weight a = weight_of(&lash, &here, &ext, &options);
        const tcr_weight b = weight_of(&mirrored, &there, &swapped, &options);
        given("lash %d", i);
        /* Source: mirror at x = 0, in which gravity lies. */
        const double small = 1e-11 * a.shift_length_mm;
        expect_vector(b.shift_mm, tcr_mirror(a.shift_mm), small, "roundings of the stance");
        expect_near(b.droop_mm, a.droop_mm, small, "the same");
        expect_near(b.droop_what_if_mm, a.droop_what_if_mm,
                    1e-11 * (fabs(a.droop_what_if_mm) + a.shift_length_mm), "the same");
    }
    gsl_rng_free(rng);
}

/* Turned about an axis of its own, by 1 rad. */
static tcr_vec3 turned(tcr_vec3 v) {
    const tcr_vec3 e = tcr_vec3_unit((tcr_vec3){1, 2, -2});
    const tcr_vec3 a = tcr_vec3_step(tcr_vec3_scale(cos(1.0), v), sin(1.0), tcr_vec3_cross(e, v));
    return tcr_vec3_step(a, (1.0 - cos(1.0)) * tcr_vec3_dot(e, v), e);
}

CLAIM(lash_and_gravity_turned_together_turn_the_shift_and_the_moment) {
    gsl_rng *rng = tcr_make_rng(5);
    for (int i = 0; i < 50; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        tcr_weight_options options = tcr_weight_options_default();
        options.clamp_uNmm_rad = i % 2 == 0 ? INFINITY : 700.0;
        const tcr_stance here = stance_of(&lash);
        const tcr_stance there = {here.root, turned(here.along), turned(here.up), turned(here.out)};
        const tcr_weight a = weight_of(&lash, &here, &ext, &options);
        options.gravity = turned(options.gravity);
        const tcr_weight b = weight_of(&lash, &there, &ext, &options);
        given("lash %d", i);
        /* Source: rotation. */
        expect_vector(b.shift_mm, turned(a.shift_mm), 1e-12 * a.shift_length_mm, "roundings");
        expect_vector(b.moment_uNmm, turned(a.moment_uNmm),
                      1e-12 * (1.0 + tcr_vec3_length(a.moment_uNmm)), "roundings");
    }
    gsl_rng_free(rng);
}

CLAIM(shifts_of_two_gravities_add_up) {
    const tcr_lash lash = tcr_make_default_lash(0.3, TCR_BOTTOM);
    const tcr_extension ext = tcr_make_extension("D", 13.0, TCR_INNER_SIDE);
    const tcr_stance stance = stance_of(&lash);
    tcr_weight_options options = tcr_weight_options_default();
    tcr_vec3 sum = {0};
    for (int i = 0; i < 3; i++) {
        options.gravity = (tcr_vec3){i == 0, i == 1, i == 2};
        const double share = (double[]){0.6, -0.48, 0.64}[i];
        sum = tcr_vec3_step(sum, share, weight_of(&lash, &stance, &ext, &options).shift_mm);
    }
    options.gravity = (tcr_vec3){0.6, -0.48, 0.64};
    /* Source: linear theory. */
    expect_vector(weight_of(&lash, &stance, &ext, &options).shift_mm, sum, 1e-16,
                  "roundings of 0.01");
}

CLAIM(shifts_of_two_densities_add_up) {
    const tcr_lash lash = tcr_make_default_lash(0.3, TCR_BOTTOM);
    const tcr_extension ext = tcr_make_extension("D", 13.0, TCR_UNDERSIDE);
    const tcr_stance stance = stance_of(&lash);
    tcr_weight_options one = tcr_weight_options_default(), two = one, both = one;
    one.materials.hair_kg_m3 = 700.0, one.materials.fibre_kg_m3 = 1200.0;
    two.materials.hair_kg_m3 = 400.0, two.materials.fibre_kg_m3 = 300.0;
    both.materials.hair_kg_m3 = 1100.0, both.materials.fibre_kg_m3 = 1500.0;
    const tcr_vec3 sum = tcr_vec3_add(weight_of(&lash, &stance, &ext, &one).shift_mm,
                                      weight_of(&lash, &stance, &ext, &two).shift_mm);
    /* Source: linear theory. */
    expect_vector(weight_of(&lash, &stance, &ext, &both).shift_mm, sum, 1e-16, "roundings of 0.01");
}

CLAIM(the_droop_is_what_the_viewer_sees_of_the_shift) {
    const tcr_lash lash = tcr_make_default_lash(0.2, TCR_BOTTOM);
    const tcr_extension ext = tcr_make_extension("C", 11.0, TCR_OUTER_SIDE);
    const tcr_stance stance = stance_of(&lash);
    tcr_weight_options options = tcr_weight_options_default();
    options.gravity = (tcr_vec3){0, 0, -1}; /* lying */
    options.viewer_rad = 1.0;
    const tcr_weight w = weight_of(&lash, &stance, &ext, &options);
    /* Source: model.md, section 5, Y = y cos e - z sin e. */
    expect_near(w.droop_mm, -(w.shift_mm.y * cos(1.0) - w.shift_mm.z * sin(1.0)), 0.0, "the same");
    expect_near(w.shift_length_mm, tcr_vec3_length(w.shift_mm), 0.0, "the same");
}

/* ---- Parts --------------------------------------------------------------------------------------
 */

CLAIM(a_thin_fibre_droops_alone) {
    /* The fibre's own droop is in proportion to d^2 / d^4, and what its weight does to the lash to
     * d^2. So d^2 times the shift tends to a constant, and what is left falls with d^4. */
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_bond bond = tcr_bond_default();
    tcr_extension ext = tcr_make_extension("C", 12.0, TCR_ON_TOP);
    tcr_materials materials = tcr_materials_default();
    materials.hair_kg_m3 = 0.0; /* the fibre's weight alone; rods ask for no range */
    const double root_mm[TCR_ROOTS] = {0.08, 0.08, 0.08};
    double thin[3];
    for (int i = 0; i < 3; i++) {
        tcr_attachment attachment;
        tcr_rod rod[TCR_ROOTS];
        ext.diameter_mm = 0.004 / gsl_pow_int(2.0, i);
        expect_status(tcr_attach_kernel(&lash, &ext, &bond, &attachment), TCR_OK);
        const tcr_worn worn = {&ext, &bond, &attachment};
        tcr_lash_rods(&lash, worn, &materials, root_mm, rod);
        thin[i] = rod[0].shift[1][1] * gsl_pow_2(ext.diameter_mm);
    }
    given("%.17g, %.17g, %.17g", thin[0], thin[1], thin[2]);
    /* Source: order of convergence, as above. */
    expect_within((thin[0] - thin[1]) / (thin[1] - thin[2]), 15.0, 17.0, "16, and terms in d^5");
}

CLAIM(a_thicker_or_thinner_root_is_the_same_lash_with_that_root) {
    const tcr_bond bond = tcr_bond_default();
    gsl_rng *rng = tcr_make_rng(6);
    for (int i = 0; i < 60; i++) {
        tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        tcr_weight_options options = tcr_weight_options_default();
        const tcr_stance stance = stance_of(&lash);
        double sd = 0.01;
        lash.root_diameter_mm = tcr_draw_between(rng, 0.03, 0.18);
        lash.tip_diameter_mm = lash.root_diameter_mm * gsl_rng_uniform(rng);
        if (i % 3 == 0) { /* model.md, section 9: in proportion for young lashes */
            lash.length_mm = tcr_draw_between(rng, 4.0, 10.0);
            lash.final_length_mm = 2.0 * lash.length_mm;
            sd = 0.005;
        }
        options.clamp_uNmm_rad = i % 2 == 0 ? INFINITY : 2000.0;
        const tcr_weight w = weight_of(&lash, &stance, &ext, &options);
        tcr_lash thick = lash, thin = lash;
        thick.root_diameter_mm += sd;
        thin.root_diameter_mm = fmax(lash.root_diameter_mm - sd, lash.tip_diameter_mm);
        tcr_weight a, b;
        expect_status(tcr_weight_of(&thick, &stance, &ext, &bond, &options, &a), TCR_OK);
        expect_status(tcr_weight_of(&thin, &stance, &ext, &bond, &options, &b), TCR_OK);
        given("lash %d", i);
        /* Source: invariant. The roots share the arcs, so these differ. */
        const char *why = "load.h promises 1e-9 of the shift, for both";
        expect_near(w.droop_thicker_mm, a.droop_mm, 2e-9 * a.shift_length_mm, why);
        expect_near(w.droop_thinner_mm, b.droop_mm, 2e-9 * b.shift_length_mm, why);
    }
    gsl_rng_free(rng);
}

CLAIM(a_soft_clamp_turns_the_lash_by_the_moment_at_its_root) {
    gsl_rng *rng = tcr_make_rng(7);
    const tcr_bond bond = tcr_bond_default();
    const double k = 500.0;
    for (int i = 0; i < 50; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        const tcr_stance stance = stance_of(&lash);
        tcr_weight_options options = tcr_weight_options_default();
        tcr_attachment a;
        expect_status(tcr_attach(&lash, &ext, &bond, &a), TCR_OK);
        const tcr_weight rigid = weight_of(&lash, &stance, &ext, &options);
        options.clamp_uNmm_rad = k;
        const tcr_weight soft = weight_of(&lash, &stance, &ext, &options);
        const tcr_vec3 lever = tcr_vec3_step(tcr_stance_point(&stance, a.tip), -1.0, stance.root);
        const tcr_vec3 swing = tcr_vec3_scale(1.0 / k, tcr_vec3_cross(soft.moment_uNmm, lever));
        given("lash %d", i);
        /* Source: model.md, section 9, (M(0)/k) x (p_tip - p(0)). The rods have their own M(0). */
        expect_vector(tcr_vec3_step(soft.shift_mm, -1.0, rigid.shift_mm), swing,
                      1e-11 * (1.0 + tcr_vec3_length(swing)), "closed form and Gauss's rule");
        expect_near(tcr_vec3_length(rigid.moment_uNmm), rigid.load.root_moment_uNmm,
                    1e-14 * rigid.load.root_moment_uNmm, "sitting is the default");
    }
    gsl_rng_free(rng);
}

CLAIM(a_lash_that_hangs_straight_down_has_no_ratio) {
    const tcr_stance hanging = {{0, 0, 0}, {0, -1, 0}, {1, 0, 0}, {0, 0, 1}};
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.turn_rad = 0.0;
    const tcr_extension ext = tcr_make_extension("C", 12.0, TCR_ON_TOP);
    const tcr_weight w = weight_of(&lash, &hanging, &ext, NULL);
    expect_nan(w.load.moment_ratio); /* load.h */
    expect_near(w.load.natural_moment_uNmm, 0.0, 1e-15, "closed form; roundings of 0.4");
    expect_within(w.load.root_moment_uNmm, 1.0, 20.0, "the extension turns it");
}

CLAIM(moments_for_limits_are_those_of_a_client_who_sits) {
    const tcr_lash lash = tcr_make_default_lash(0.4, TCR_BOTTOM);
    const tcr_extension ext = tcr_make_extension("C", 12.0, TCR_ON_TOP);
    const tcr_stance stance = stance_of(&lash);
    tcr_weight_options lying = tcr_weight_options_default();
    lying.gravity = (tcr_vec3){0, 0, -1};
    const tcr_weight a = weight_of(&lash, &stance, &ext, NULL);
    const tcr_weight b = weight_of(&lash, &stance, &ext, &lying);
    expect_same(b.load.root_moment_uNmm, a.load.root_moment_uNmm,
                "model.md, section 9: both sitting");
    expect_same(b.load.moment_ratio, a.load.moment_ratio, "both sitting");
    expect_near(b.moment_uNmm.z, 0.0, 0.0, "closed form: gravity along z turns nothing about z");
    /* Source: closed form. With first moment F: sitting M = (Fz, 0, -Fx), lying (-Fy, Fx, 0). */
    expect_near(b.moment_uNmm.y, -a.moment_uNmm.z, 1e-14, "roundings of 8");
}

CLAIM(linear_theory_holds_below_a_twentieth_of_the_extension) {
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_extension ext = tcr_make_extension("C", 12.0, TCR_ON_TOP);
    const tcr_stance stance = stance_of(&lash);
    tcr_weight_options options = tcr_weight_options_default();
    const double limit = 12.0 / 20.0; /* model.md, section 9 */
    for (double k = 30.0; k < 120.0; k += 1.0) {
        options.what_if_clamp_uNmm_rad = k;
        const tcr_weight w = weight_of(&lash, &stance, &ext, &options);
        given("k %g, droop %g", k, w.droop_what_if_mm);
        expect_true(w.is_linear == (w.droop_what_if_mm < limit));
    }
    options.what_if_clamp_uNmm_rad = INFINITY;
    expect_true(weight_of(&lash, &stance, &ext, &options).is_linear);
    options.clamp_uNmm_rad = 150.0; /* 0.26 mm, of which a blink makes 0.78 */
    const tcr_weight w = weight_of(&lash, &stance, &ext, &options);
    expect_true(w.droop_mm < limit && w.droop_blink_mm > limit && !w.is_linear);
}

/* ---- Arguments ----------------------------------------------------------------------------------
 */

typedef struct parts {
    tcr_lash lash;
    tcr_stance stance;
    tcr_extension ext;
    tcr_bond bond;
    tcr_weight_options options;
    tcr_weight weight;
} parts;

static parts some_parts(void) {
    parts p = {.lash = tcr_make_default_lash(0.5, TCR_BOTTOM),
               .stance = LEVEL,
               .ext = tcr_make_extension("C", 12.0, TCR_ON_TOP),
               .bond = tcr_bond_default(),
               .options = tcr_weight_options_default()};
    memset(&p.weight, 7, sizeof p.weight);
    return p;
}

static tcr_status weight_of_parts(void *context) {
    parts *p = context;
    return tcr_weight_of(&p->lash, &p->stance, &p->ext, &p->bond, &p->options, &p->weight);
}

CLAIM(numbers_out_of_range_are_refused) {
    parts p = some_parts();
    const tcr_weight kept = p.weight;
    tcr_materials *m = &p.options.materials;
    double *const numbers[] = {
        &p.lash.u,
        &p.lash.length_mm,
        &p.lash.turn_rad,
        &p.lash.root_diameter_mm,
        &p.lash.tip_diameter_mm,
        &p.ext.length_mm,
        &p.ext.diameter_mm,
        &p.ext.spread_rad,
        &p.ext.profile.turn_rad[0],
        &p.bond.offset_mm,
        &p.bond.length_mm,
        &p.bond.glue_mm,
        &p.stance.along.x,
        &p.stance.up.y,
        &p.stance.out.z,
        &p.options.gravity.x,
        &p.options.gravity.y,
        &p.options.gravity.z,
        &p.options.viewer_rad,
        &p.options.root_sd_mm,
        &m->hair_kg_m3,
        &m->fibre_kg_m3,
        &m->hair_e_gpa,
        &m->hair_g_gpa,
        &m->fibre_e_gpa,
        &m->fibre_poisson,
    };
    tcr_expect_refused(numbers, sizeof numbers / sizeof *numbers, weight_of_parts, &p);
    const double bad_clamps[] = {NAN, -INFINITY, 0.0, 0.999, -1000.0};
    for (size_t i = 0; i < sizeof bad_clamps / sizeof *bad_clamps; i++) {
        given("clamp %g", bad_clamps[i]);
        p.options.clamp_uNmm_rad = bad_clamps[i];
        expect_status(weight_of_parts(&p), TCR_E_RANGE);
        p.options.clamp_uNmm_rad = INFINITY;
        p.options.what_if_clamp_uNmm_rad = bad_clamps[i];
        expect_status(weight_of_parts(&p), TCR_E_RANGE);
        p.options.what_if_clamp_uNmm_rad = 1000.0;
    }
    p.options.gravity = (tcr_vec3){0.0, -1.0 - 1e-8, 0.0};
    expect_status(weight_of_parts(&p), TCR_E_RANGE);
    expect_bytes(&p.weight, &kept, sizeof kept);
}

CLAIM(halves_counts_and_indices_are_refused) {
    parts p = some_parts();
    const tcr_weight kept = p.weight;
    expect_status(tcr_weight_of(NULL, &p.stance, &p.ext, &p.bond, NULL, &p.weight), TCR_E_ARGUMENT);
    expect_status(tcr_weight_of(&p.lash, NULL, &p.ext, &p.bond, NULL, &p.weight), TCR_E_ARGUMENT);
    expect_status(tcr_weight_of(&p.lash, &p.stance, NULL, &p.bond, NULL, &p.weight),
                  TCR_E_ARGUMENT);
    expect_status(tcr_weight_of(&p.lash, &p.stance, &p.ext, NULL, NULL, &p.weight), TCR_E_ARGUMENT);
    expect_status(tcr_weight_of(&p.lash, &p.stance, &p.ext, &p.bond, NULL, NULL), TCR_E_ARGUMENT);
    const int pieces[] = {0, -1, TCR_PIECES_MAX + 1, 2147483647, -2147483647 - 1};
    for (int i = 0; i < 5; i++) {
        given("%d pieces", pieces[i]);
        p.ext.profile.pieces = pieces[i];
        expect_status(weight_of_parts(&p), TCR_E_ARGUMENT);
    }
    p = some_parts();
    const int fans[] = {0, -1, 21, 2147483647};
    for (int i = 0; i < 4; i++) {
        given("a fan of %d", fans[i]);
        p.ext.fan = fans[i];
        expect_status(weight_of_parts(&p), TCR_E_RANGE);
    }
    p = some_parts();
    p.ext.placement = (tcr_placement)4;
    expect_status(weight_of_parts(&p), TCR_E_ARGUMENT);
    p = some_parts();
    p.ext.profile.share[0] = 0.5;
    expect_status(weight_of_parts(&p), TCR_E_CURL);
    p = some_parts();
    p.lash.length_mm = 1.5; /* 0.8 mm to bond */
    expect_status(weight_of_parts(&p), TCR_E_BOND);
    p = some_parts();
    p.options.size = 3;
    expect_status(weight_of_parts(&p), TCR_E_ARGUMENT);
    expect_bytes(&p.weight, &kept, sizeof kept);
}

static tcr_status weigh_by(const void *options, void *context) {
    parts *p = context;
    return tcr_weight_of(&p->lash, &p->stance, &p->ext, &p->bond, options, &p->weight);
}

CLAIM(options_of_any_smaller_size_are_taken) {
    parts p = some_parts();
    tcr_expect_sizes(&p.options, sizeof p.options, weigh_by, &p); /* tipcrest.h */
}

CLAIM(defaults_are_the_models) {
    const tcr_weight_options o = tcr_weight_options_default();
    const tcr_materials m = o.materials;
    /* model.md, section 9 */
    expect_same(m.hair_e_gpa, 3.9, "published");
    expect_same(m.hair_g_gpa, 0.89, "published");
    expect_same(m.fibre_e_gpa, 2.4, "assumed");
    expect_same(m.fibre_poisson, 0.4, "assumed");
    const tcr_vec3 down = {0, -1, 0};
    expect_vector(o.gravity, down, 0.0, "sitting");
    expect_same(o.clamp_uNmm_rad, INFINITY, "rigid");
    expect_same(o.what_if_clamp_uNmm_rad, 1000.0, "the what-if");
    expect_same(o.root_sd_mm, 0.01, "assumed");
    expect_same(o.viewer_rad, 0.0, "from the front");
}

int main(void) {
    gsl_set_error_handler_off(); /* 0/0 at a tip of no thickness */
    static const TTest *const claims[] = {
        &the_default_lash_droops_by_the_models_figures,
        &a_softer_clamp_lets_the_default_lash_sink_by_the_models_figures,
        &a_blink_triples_the_droop,
        &a_straight_uniform_bare_lash_sinks_by_the_closed_form,
        &a_lash_of_any_taper_sinks_as_gsl_integrates,
        &a_curl_given_in_more_pieces_droops_the_same,
        &a_mirrored_lash_droops_as_much,
        &lash_and_gravity_turned_together_turn_the_shift_and_the_moment,
        &shifts_of_two_gravities_add_up,
        &shifts_of_two_densities_add_up,
        &the_droop_is_what_the_viewer_sees_of_the_shift,
        &a_thin_fibre_droops_alone,
        &a_thicker_or_thinner_root_is_the_same_lash_with_that_root,
        &a_soft_clamp_turns_the_lash_by_the_moment_at_its_root,
        &a_lash_that_hangs_straight_down_has_no_ratio,
        &moments_for_limits_are_those_of_a_client_who_sits,
        &linear_theory_holds_below_a_twentieth_of_the_extension,
        &numbers_out_of_range_are_refused,
        &halves_counts_and_indices_are_refused,
        &options_of_any_smaller_size_are_taken,
        &defaults_are_the_models,
    };
    return RUN_CLAIMS("weight", claims);
}
