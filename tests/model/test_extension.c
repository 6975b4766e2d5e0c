/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An extension on its lash: bond, base, fan, lengths, what is refused. */
#include <tipcrest/extension.h>

#include <math.h>

#include <gsl/gsl_math.h>

#include "geom/vector.h"
#include "support/check.h"
#include "support/make.h"

static tcr_attachment attached(const tcr_lash *lash, const tcr_extension *ext,
                               const tcr_bond *bond) {
    tcr_attachment attachment;
    expect_status(tcr_attach(lash, ext, bond, &attachment), TCR_OK);
    return attachment;
}

static tcr_lash straight_lash(void) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.turn_rad = 0.0;
    return lash;
}

static const tcr_profile STRAIGHT = {1, {1.0}, {0.0}};

/* How far apart the centre lines are to be: model.md, section 4, for the default lash and bond. */
static double clearance(double ext_diameter_mm) {
    const double at_middle = 0.08 + (0.015 - 0.08) * (0.7 + 1.5) / 7.5;
    return at_middle / 2.0 + ext_diameter_mm / 2.0 + 0.03;
}

CLAIM(a_straight_extension_on_a_straight_lash_lies_beside_it) {
    const tcr_lash lash = straight_lash();
    const tcr_bond bond = tcr_bond_default();
    const double r = clearance(0.15);
    const tcr_vec3 aside[TCR_PLACEMENTS] = {
        {0.7, r, 0.0}, {0.7, -r, 0.0}, {0.7, 0.0, -r}, {0.7, 0.0, r}};
    for (int placement = 0; placement < TCR_PLACEMENTS; placement++) {
        tcr_extension ext = tcr_make_extension("C", 12.0, (tcr_placement)placement);
        ext.profile = STRAIGHT;
        const tcr_attachment a = attached(&lash, &ext, &bond);
        given("placement %d", placement);
        /* Source: closed form, model.md section 4. */
        expect_vector(a.base, aside[placement], 1e-15, "roundings of numbers below 1");
        const tcr_vec3 tip = {aside[placement].x + 12.0, aside[placement].y, aside[placement].z};
        expect_vector(a.tip, tip, 1e-14, "roundings of 12 mm");
        expect_near(a.clearance_mm, r, 1e-16, "roundings of 0.1");
        expect_near(a.base_angle_rad, 0.0, 1e-16, "both chords run along x");
    }
}

/* A single arc on a straight lash: the base stands askew by half the turn over the bond. */
CLAIM(an_arc_on_a_straight_lash_has_the_heights_of_its_sagitta) {
    const tcr_lash lash = straight_lash();
    const tcr_bond bond = tcr_bond_default();
    const double turn = M_PI / 2.0, length = 12.0, radius = length / turn, half = 1.5 / radius;
    const double sagitta = radius * (1.0 - cos(half)), r = clearance(0.15);
    tcr_extension ext = tcr_make_extension("C", length, TCR_ON_TOP);
    ext.profile = (tcr_profile){1, {1.0}, {turn}};
    const tcr_vec3 above = {0.7, r + sagitta, 0.0}, beneath = {0.7, -r, 0.0};
    const char *why = "roundings of numbers about 1";
    /* Source: closed form. It is below its chord by up to the sagitta: on top it touches there. */
    const tcr_attachment top = attached(&lash, &ext, &bond);
    expect_near(top.base_angle_rad, -half, 1e-15, why);
    expect_vector(top.base, above, 2e-15, why);
    /* Underneath it touches at both ends of the bond, where it meets its chord. */
    ext.placement = TCR_UNDERSIDE;
    const tcr_attachment below = attached(&lash, &ext, &bond);
    expect_vector(below.base, beneath, 2e-15, why);
    expect_near(below.part.y, -r, 2e-15, why);
}

CLAIM(the_bond_is_as_long_as_asked_or_as_lash_and_extension_allow) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 1000; i++) {
        tcr_lash lash = tcr_draw_lash(rng);
        lash.length_mm = tcr_draw_between(rng, 4.0, 12.0);
        const tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        const double expected =
            GSL_MIN(GSL_MIN(bond.length_mm, lash.length_mm - bond.offset_mm), ext.length_mm);
        const tcr_attachment a = attached(&lash, &ext, &bond);
        expect_near(a.bond_mm, expected, 0.0, "the same subtraction"); /* source: model.md, 4 */
    }
    gsl_rng_free(rng);
}

CLAIM(centre_lines_are_kept_apart_by_both_half_diameters_and_the_glue) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 1000; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        const tcr_attachment a = attached(&lash, &ext, &bond);
        const double natural = tcr_lash_diameter(&lash, bond.offset_mm + a.bond_mm / 2.0);
        /* Source: model.md, section 4. */
        expect_near(a.clearance_mm, natural / 2.0 + ext.diameter_mm / 2.0 + bond.glue_mm, 1e-15,
                    "roundings of numbers below 1");
    }
    gsl_rng_free(rng);
}

CLAIM(the_chords_over_the_bond_are_parallel) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int i = 0; i < 1000; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        const tcr_attachment a = attached(&lash, &ext, &bond);
        const tcr_profile natural = tcr_lash_profile(&lash);
        const double sa = bond.offset_mm;
        const tcr_arc_point from = tcr_profile_at(&natural, lash.length_mm, sa),
                            to = tcr_profile_at(&natural, lash.length_mm, sa + a.bond_mm);
        const double nx = to.x - from.x, ny = to.y - from.y;
        const double ex = a.part.x - a.base.x, ey = a.part.y - a.base.y;
        given("pair %d, bond %.17g", i, a.bond_mm);
        /* Source: model.md, section 4: no turn from one chord to the other, and no U-turn. */
        expect_near(nx * ey - ny * ex, 0.0, 1e-13, "roundings of products of up to 64");
        expect_true(nx * ex + ny * ey > 0.0);
        expect_near(a.part_angle_rad - a.base_angle_rad,
                    tcr_profile_at(&ext.profile, ext.length_mm, a.bond_mm).angle_rad, 1e-14,
                    "roundings of angles of a few radians");
    }
    gsl_rng_free(rng);
}

CLAIM(side_placements_start_r_beside_the_lash_and_stay_there) {
    gsl_rng *rng = tcr_make_rng(4);
    for (int i = 0; i < 500; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        ext.placement = i % 2 == 0 ? TCR_INNER_SIDE : TCR_OUTER_SIDE;
        const double side = ext.placement == TCR_OUTER_SIDE ? 1.0 : -1.0;
        const tcr_attachment a = attached(&lash, &ext, &bond);
        const tcr_profile natural = tcr_lash_profile(&lash);
        const tcr_arc_point start = tcr_profile_at(&natural, lash.length_mm, bond.offset_mm);
        /* Source: model.md, section 4; w is the third axis. */
        expect_near(a.base.x, start.x, 2e-15, "roundings of an arc of up to 3 mm");
        expect_near(a.base.y, start.y, 2e-15, "roundings of an arc of up to 3 mm");
        expect_same(a.base.z, side * a.clearance_mm, "exactly r");
        for (int j = 0; j <= 4; j++)
            expect_same(tcr_attachment_fibre(&a, &ext, 0, a.bond_mm * j / 4.0).z, a.base.z,
                        "the bonded stretch lies in one plane");
    }
    gsl_rng_free(rng);
}

CLAIM(inner_and_outer_side_differ_by_the_sign_of_r_alone) {
    gsl_rng *rng = tcr_make_rng(5);
    for (int i = 0; i < 300; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        ext.placement = TCR_INNER_SIDE;
        const tcr_attachment in = attached(&lash, &ext, &bond);
        ext.placement = TCR_OUTER_SIDE;
        const tcr_attachment out = attached(&lash, &ext, &bond);
        const tcr_vec3 mirrored = {out.tip.x, out.tip.y, -out.tip.z};
        expect_vector(in.tip, mirrored, 0.0, "mirror in the lash's plane, same operations");
    }
    gsl_rng_free(rng);
}

/* Sum of n chords of a fibre between two arc lengths. */
static double polyline(const tcr_attachment *a, const tcr_extension *ext, int j, double from,
                       double to, int n) {
    double sum = 0.0;
    tcr_vec3 last = tcr_attachment_fibre(a, ext, j, from);
    for (int i = 1; i <= n; i++) {
        const tcr_vec3 next = tcr_attachment_fibre(a, ext, j, from + (to - from) * i / n);
        sum += tcr_vec3_length(tcr_vec3_step(next, -1.0, last));
        last = next;
    }
    return sum;
}

CLAIM(the_length_of_every_fibre_is_kept) {
    gsl_rng *rng = tcr_make_rng(6);
    for (int i = 0; i < 60; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        /* One arc, so that the error has one term; a fibre bends where the fan parts. */
        ext.profile = (tcr_profile){1, {1.0}, {tcr_draw_between(rng, 0.5, 3.0)}};
        const tcr_attachment a = attached(&lash, &ext, &bond);
        const int j = (int)gsl_rng_uniform_int(rng, (unsigned long)ext.fan);
        const double parts = ext.length_mm - a.bond_mm;
        const double coarse = polyline(&a, &ext, j, 0.0, a.bond_mm, 64) +
                              polyline(&a, &ext, j, a.bond_mm, ext.length_mm, 64);
        const double fine = polyline(&a, &ext, j, 0.0, a.bond_mm, 128) +
                            polyline(&a, &ext, j, a.bond_mm, ext.length_mm, 128);
        given("fibre %d of %d, length %.17g, %.17g of it free", j, ext.fan, ext.length_mm, parts);
        /* Source: invariant; chords of an arc fall short by a term of second order. */
        const double missing = ext.length_mm - fine;
        expect_within(log2((ext.length_mm - coarse) / missing), 1.9, 2.1, "order of convergence");
        expect_near(fine + (fine - coarse) / 3.0, ext.length_mm, 1.2e-4 * missing + 1e-11,
                    "Richardson leaves a share (turn/64)^2/20 of the error, and rounding");
    }
    gsl_rng_free(rng);
}

CLAIM(the_fibres_of_a_fan_lie_together_over_the_bond) {
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_bond bond = tcr_bond_default();
    tcr_extension ext = tcr_make_extension("D", 11.0, TCR_ON_TOP);
    ext.fan = 5;
    ext.spread_rad = tcr_degrees(40.0);
    const tcr_attachment a = attached(&lash, &ext, &bond);
    for (int j = 1; j < 5; j++)
        for (int i = 0; i <= 10; i++) {
            const double s = a.bond_mm * i / 10.0;
            given("fibre %d at %.17g", j, s);
            expect_vector(tcr_attachment_fibre(&a, &ext, j, s),
                          tcr_attachment_fibre(&a, &ext, 0, s), 0.0, "one curve; model.md, 4");
        }
}

CLAIM(a_fibre_of_a_fan_is_the_rest_turned_about_the_normal_where_it_parts) {
    gsl_rng *rng = tcr_make_rng(7);
    for (int i = 0; i < 300; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        tcr_extension ext = tcr_draw_extension(rng), one = ext;
        const tcr_bond bond = tcr_draw_bond(rng);
        one.fan = 1;
        ext.fan = 2 + (int)gsl_rng_uniform_int(rng, 19);
        const tcr_attachment fan = attached(&lash, &ext, &bond);
        const tcr_attachment single = attached(&lash, &one, &bond);
        const int j = (int)gsl_rng_uniform_int(rng, (unsigned long)ext.fan);
        const double turn = ext.spread_rad * (j / (ext.fan - 1.0) - 0.5);
        const double s = tcr_draw_between(rng, fan.bond_mm, ext.length_mm);
        /* Source: model.md, section 4: parts along tau turn towards w, parts along nu stay. */
        const double c = cos(fan.part_angle_rad), sn = sin(fan.part_angle_rad);
        const tcr_vec3 tau = {c, sn, 0.0}, nu = {-sn, c, 0.0}, w = {0.0, 0.0, 1.0};
        const tcr_vec3 rest =
            tcr_vec3_step(tcr_attachment_fibre(&single, &one, 0, s), -1.0, single.part);
        const double along = tcr_vec3_dot(rest, tau), across = tcr_vec3_dot(rest, nu);
        tcr_vec3 expected = tcr_vec3_step(fan.part, along * cos(turn), tau);
        expected = tcr_vec3_step(tcr_vec3_step(expected, along * sin(turn), w), across, nu);
        given("fibre %d of %d at %.17g", j, ext.fan, s);
        expect_vector(tcr_attachment_fibre(&fan, &ext, j, s), expected, 5e-14,
                      "roundings of 30 mm");
    }
    gsl_rng_free(rng);
}

CLAIM(the_fans_tip_is_the_mean_of_its_fibres_tips) {
    gsl_rng *rng = tcr_make_rng(8);
    for (int i = 0; i < 300; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        const tcr_attachment a = attached(&lash, &ext, &bond);
        tcr_vec3 mean = {0.0, 0.0, 0.0};
        for (int j = 0; j < ext.fan; j++)
            mean = tcr_vec3_step(mean, 1.0 / ext.fan,
                                 tcr_attachment_fibre(&a, &ext, j, ext.length_mm));
        given("a fan of %d", ext.fan);
        expect_vector(a.tip, mean, 1e-13,
                      "20 roundings of 30 mm"); /* source: model.md, section 4 */
    }
    gsl_rng_free(rng);
}

CLAIM(a_fan_without_spread_is_one_fibre) {
    const tcr_lash lash = tcr_make_default_lash(0.3, TCR_MIDDLE);
    const tcr_bond bond = tcr_bond_default();
    tcr_extension one = tcr_make_extension("CC", 13.0, TCR_UNDERSIDE), closed = one, spread = one;
    closed.fan = 6;
    spread.spread_rad = tcr_degrees(90.0); /* n = 1 is one fibre, whatever the spread */
    expect_vector(attached(&lash, &closed, &bond).tip, attached(&lash, &one, &bond).tip, 1e-14,
                  "a mean of equal numbers"); /* source: limit */
    expect_vector(attached(&lash, &spread, &bond).tip, attached(&lash, &one, &bond).tip, 0.0,
                  "spread does not enter");
}

CLAIM(a_bond_of_1_mm_holds_and_less_does_not) {
    const tcr_extension ext = tcr_make_extension("C", 10.0, TCR_ON_TOP);
    tcr_bond bond = tcr_bond_default();
    tcr_attachment a = attached(&(tcr_lash){.u = 0.5,
                                            .length_mm = 1.7,
                                            .final_length_mm = NAN,
                                            .turn_rad = 1.0,
                                            .root_diameter_mm = 0.08},
                                &ext, &bond);
    const tcr_attachment before = a;
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    expect_near(a.bond_mm, 1.0, 1e-15, "1.7 - 0.7 in doubles");
    lash.length_mm = 1.6999;
    expect_status(tcr_attach(&lash, &ext, &bond, &a), TCR_E_BOND); /* source: model.md, section 4 */
    lash.length_mm = 0.3;
    expect_status(tcr_attach(&lash, &ext, &bond, &a), TCR_E_BOND);
    expect_bytes(&a, &before, sizeof a); /* source: status.h */
}

CLAIM(a_bond_that_falls_short_of_1_mm_by_rounding_alone_holds) {
    const tcr_extension ext = tcr_make_extension("C", 10.0, TCR_ON_TOP);
    const tcr_bond bond = {0.4, 3.0, 0.03};
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.length_mm = 1.4;
    ck_assert(lash.length_mm - bond.offset_mm < 1.0); /* in doubles */
    expect_near(attached(&lash, &ext, &bond).bond_mm, 1.0, 1e-15, "1.4 - 0.4 in doubles");
}

CLAIM(extensions_outside_their_range_are_refused) {
    const tcr_extension good = tcr_make_extension("C", 12.0, TCR_ON_TOP);
    const double lengths[] = {2.999, 30.001, NAN, INFINITY}, diameters[] = {0.0199, 0.301, NAN};
    const double spreads[] = {-1e-6, tcr_degrees(120.001), NAN};
    tcr_extension bad = good;
    expect_status(tcr_extension_validate(&good, NULL), TCR_OK);
    expect_status(tcr_extension_validate(NULL, NULL),
                  TCR_E_ARGUMENT); /* source of all: extension.h */
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++, bad = good) {
        bad.length_mm = lengths[i];
        expect_status(tcr_extension_validate(&bad, NULL), TCR_E_RANGE);
    }
    for (size_t i = 0; i < sizeof diameters / sizeof diameters[0]; i++, bad = good) {
        bad.diameter_mm = diameters[i];
        expect_status(tcr_extension_validate(&bad, NULL), TCR_E_RANGE);
    }
    for (size_t i = 0; i < sizeof spreads / sizeof spreads[0]; i++, bad = good) {
        bad.spread_rad = spreads[i];
        expect_status(tcr_extension_validate(&bad, NULL), TCR_E_RANGE);
    }
    bad.fan = 0;
    expect_status(tcr_extension_validate(&bad, NULL), TCR_E_RANGE);
    bad.fan = 21;
    expect_status(tcr_extension_validate(&bad, NULL), TCR_E_RANGE);
    bad = good;
    bad.placement = (tcr_placement)4;
    expect_status(tcr_extension_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = good;
    bad.profile.share[0] = 0.3;
    expect_status(tcr_extension_validate(&bad, NULL), TCR_E_CURL);
}

CLAIM(bonds_outside_their_range_are_refused) {
    const tcr_bond good = tcr_bond_default(), least = {0.0, 1.0, 0.0}, most = {3.0, 8.0, 0.2};
    const tcr_bond bad[] = {{-1e-9, 3, 0},   {3.001, 3, 0},   {NAN, 3, 0},
                            {0.7, 0.999, 0}, {0.7, 8.01, 0},  {0.7, NAN, 0},
                            {0.7, 3, -1e-9}, {0.7, 3, 0.201}, {0.7, 3, NAN}};
    expect_status(tcr_bond_validate(&good, NULL), TCR_OK); /* source of all: extension.h */
    expect_status(tcr_bond_validate(&least, NULL), TCR_OK);
    expect_status(tcr_bond_validate(&most, NULL), TCR_OK);
    expect_status(tcr_bond_validate(NULL, NULL), TCR_E_ARGUMENT);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        given("bond %zu", i);
        expect_status(tcr_bond_validate(&bad[i], NULL), TCR_E_RANGE);
    }
    expect_same(good.offset_mm, 0.7, "model.md, section 4");
    expect_same(good.length_mm, 3.0, "model.md, section 4");
    expect_same(good.glue_mm, 0.03, "model.md, section 4");
}

int main(void) {
    static const TTest *const claims[] = {
        &a_straight_extension_on_a_straight_lash_lies_beside_it,
        &an_arc_on_a_straight_lash_has_the_heights_of_its_sagitta,
        &the_bond_is_as_long_as_asked_or_as_lash_and_extension_allow,
        &centre_lines_are_kept_apart_by_both_half_diameters_and_the_glue,
        &the_chords_over_the_bond_are_parallel,
        &side_placements_start_r_beside_the_lash_and_stay_there,
        &inner_and_outer_side_differ_by_the_sign_of_r_alone,
        &the_length_of_every_fibre_is_kept,
        &the_fibres_of_a_fan_lie_together_over_the_bond,
        &a_fibre_of_a_fan_is_the_rest_turned_about_the_normal_where_it_parts,
        &the_fans_tip_is_the_mean_of_its_fibres_tips,
        &a_fan_without_spread_is_one_fibre,
        &a_bond_of_1_mm_holds_and_less_does_not,
        &a_bond_that_falls_short_of_1_mm_by_rounding_alone_holds,
        &extensions_outside_their_range_are_refused,
        &bonds_outside_their_range_are_refused,
    };
    return RUN_CLAIMS("extension", claims);
}
