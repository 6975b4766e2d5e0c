/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Contact over the bond: the closed form of the extremes against sampled centre lines. */
#include <tipcrest/extension.h>

#include <math.h>

#include "support/check.h"
#include "support/make.h"

/* The least and the largest distance of the centre lines along the chord's normal. */
typedef struct gap {
    double least, most;
    double slack; /* a sample may miss an extreme by this */
} gap;

static double sharpest(const tcr_profile *profile, double length_mm) {
    double most = 0.0;
    for (int i = 0; i < profile->pieces; i++)
        most = fmax(most, fabs(profile->turn_rad[i]) / (profile->share[i] * length_mm));
    return most;
}

/*
 * Samples both centre lines at equal arc lengths from the start of the bond. Between samples h
 * apart an extreme lies within h/2 of one, where the distance differs by at most max|d''| h^2/8,
 * and |d''| is at most the sum of both curvatures.
 */
static gap sampled(const tcr_lash *lash, const tcr_extension *ext, const tcr_bond *bond,
                   const tcr_attachment *a, int samples) {
    const tcr_profile natural = tcr_lash_profile(lash);
    const double sa = bond->offset_mm, h = a->bond_mm / samples;
    const tcr_arc_point from = tcr_profile_at(&natural, lash->length_mm, sa),
                        to = tcr_profile_at(&natural, lash->length_mm, sa + a->bond_mm);
    const double chord = hypot(to.x - from.x, to.y - from.y);
    const double normal_x = -(to.y - from.y) / chord, normal_y = (to.x - from.x) / chord;
    gap g = {INFINITY, -INFINITY, 0.0};
    for (int i = 0; i <= samples; i++) {
        const tcr_arc_point q = tcr_profile_at(&natural, lash->length_mm, sa + h * i);
        const tcr_vec3 e = tcr_attachment_fibre(a, ext, 0, h * i);
        const double apart = (e.x - q.x) * normal_x + (e.y - q.y) * normal_y;
        g.least = fmin(g.least, apart);
        g.most = fmax(g.most, apart);
    }
    g.slack = (sharpest(&natural, lash->length_mm) + sharpest(&ext->profile, ext->length_mm)) * h *
              h / 8.0;
    return g;
}

/* Holds a pair to section 4: r apart over the whole bond, and touching. */
static void expect_contact(const tcr_lash *lash, const tcr_extension *ext, const tcr_bond *bond,
                           int samples) {
    const double rounding = 1e-13;
    tcr_attachment a;
    expect_status(tcr_attach(lash, ext, bond, &a), TCR_OK);
    const gap g = sampled(lash, ext, bond, &a, samples);
    if (ext->placement == TCR_ON_TOP)
        expect_within(g.least, a.clearance_mm - rounding, a.clearance_mm + g.slack + rounding,
                      "r, within what sampling may miss");
    else
        expect_within(-g.most, a.clearance_mm - rounding, a.clearance_mm + g.slack + rounding,
                      "r, within what sampling may miss");
}

/* Source of these claims: model.md, section 4. */
CLAIM(every_curl_at_every_length_on_top_clears_the_lash_by_r_and_touches_it) {
    size_t count;
    const tcr_curl *curls = tcr_curl_catalogue(&count);
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_bond bond = tcr_bond_default();
    for (size_t i = 0; i < count; i++)
        for (int length = 5; length <= 18; length++) {
            const tcr_extension ext = tcr_make_extension(curls[i].label, length, TCR_ON_TOP);
            given("curl %s, %d mm", curls[i].label, length);
            expect_contact(&lash, &ext, &bond, 4000);
        }
}

CLAIM(every_curl_at_every_length_underneath_clears_the_lash_by_r_and_touches_it) {
    size_t count;
    const tcr_curl *curls = tcr_curl_catalogue(&count);
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_bond bond = tcr_bond_default();
    for (size_t i = 0; i < count; i++)
        for (int length = 5; length <= 18; length++) {
            const tcr_extension ext = tcr_make_extension(curls[i].label, length, TCR_UNDERSIDE);
            given("curl %s, %d mm", curls[i].label, length);
            expect_contact(&lash, &ext, &bond, 4000);
        }
}

CLAIM(any_valid_pair_clears_by_r_and_touches) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 2000; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        ext.placement = i % 2 == 0 ? TCR_ON_TOP : TCR_UNDERSIDE;
        /* Loops too, where tangents at angles that sum to 180 degrees make extremes. */
        if (i % 4 < 2)
            ext.profile = tcr_draw_profile(rng, -90.0, 270.0);
        given("pair %d", i);
        expect_contact(&lash, &ext, &bond, 2000);
    }
    gsl_rng_free(rng);
}

/* Where the tangents of the lash turn from its chord by more than a right angle, and where the
 * extension's crosses the lash's twice. */
CLAIM(a_bond_over_nearly_all_of_a_lash_that_curls_back_clears_by_r_and_touches) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 3000; i++) {
        tcr_lash lash = tcr_draw_lash(rng);
        lash.length_mm = tcr_draw_between(rng, 2.0, 8.0);
        lash.turn_rad = tcr_degrees(tcr_draw_between(rng, 120.0, 200.0));
        tcr_extension ext = tcr_draw_extension(rng);
        ext.length_mm = lash.length_mm * tcr_draw_between(rng, 1.0, 1.5);
        ext.length_mm = fmax(ext.length_mm, 3.0);
        ext.placement = i % 8 < 4 ? TCR_ON_TOP : TCR_UNDERSIDE;
        ext.profile = i % 4 == 0   ? tcr_draw_profile(rng, -90.0, -40.0)
                      : i % 4 == 1 ? tcr_draw_profile(rng, 0.0, 90.0)
                                   : tcr_draw_profile(rng, 0.0, 160.0);
        tcr_bond bond = tcr_draw_bond(rng);
        bond.offset_mm = i % 3 == 0 ? 0.0 : lash.length_mm * tcr_draw_between(rng, 0.0, 0.2);
        bond.length_mm = 8.0;
        given("pair %d", i);
        expect_contact(&lash, &ext, &bond, 2000);
    }
    gsl_rng_free(rng);
}

/* Where the least distance along the bond is, as a share of the bond. */
static double touches_at(const tcr_lash *lash, const tcr_extension *ext) {
    const tcr_bond bond = tcr_bond_default();
    const tcr_profile natural = tcr_lash_profile(lash);
    tcr_attachment a;
    expect_status(tcr_attach(lash, ext, &bond, &a), TCR_OK);
    const tcr_arc_point from = tcr_profile_at(&natural, lash->length_mm, 0.7),
                        to = tcr_profile_at(&natural, lash->length_mm, 3.7);
    double nearest = INFINITY, where = -1.0;
    for (int i = 0; i <= 1000; i++) {
        const tcr_arc_point q = tcr_profile_at(&natural, lash->length_mm, 0.7 + 0.003 * i);
        const tcr_vec3 e = tcr_attachment_fibre(&a, ext, 0, 0.003 * i);
        const double apart = fabs((e.x - q.x) * (from.y - to.y) + (e.y - q.y) * (to.x - from.x));
        if (apart < nearest) {
            nearest = apart;
            where = i / 1000.0;
        }
    }
    return where;
}

CLAIM(a_tighter_curl_on_top_touches_in_the_middle_and_underneath_at_the_ends) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.turn_rad = tcr_degrees(20.0);
    tcr_extension ext = tcr_make_extension("DD", 8.0, TCR_ON_TOP);
    ext.profile = (tcr_profile){1, {1.0}, {tcr_degrees(150.0)}};
    expect_within(touches_at(&lash, &ext), 0.4, 0.6, "in words: model.md, section 4");
    ext.placement = TCR_UNDERSIDE;
    const double at = touches_at(&lash, &ext);
    expect_within(fmin(at, 1.0 - at), 0.0, 1e-9, "one of the ends itself");
}

CLAIM(laid_on_top_it_stands_above_and_laid_underneath_below) {
    size_t count;
    const tcr_curl *curls = tcr_curl_catalogue(&count);
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const tcr_bond bond = tcr_bond_default();
    for (size_t i = 0; i < count; i++) {
        tcr_extension ext = tcr_make_extension(curls[i].label, 10.0, TCR_ON_TOP);
        tcr_attachment top, side, below;
        expect_status(tcr_attach(&lash, &ext, &bond, &top), TCR_OK);
        ext.placement = TCR_OUTER_SIDE;
        expect_status(tcr_attach(&lash, &ext, &bond, &side), TCR_OK);
        ext.placement = TCR_UNDERSIDE;
        expect_status(tcr_attach(&lash, &ext, &bond, &below), TCR_OK);
        given("curl %s", curls[i].label);
        /* Source: the same curve moved along the normal: by r at least to either side. */
        expect_true(hypot(top.tip.x - side.tip.x, top.tip.y - side.tip.y) >=
                    top.clearance_mm - 1e-13);
        expect_true(top.tip.y > side.tip.y && side.tip.y > below.tip.y);
        expect_near(top.base_angle_rad, below.base_angle_rad, 0.0, "placement does not enter");
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &every_curl_at_every_length_on_top_clears_the_lash_by_r_and_touches_it,
        &every_curl_at_every_length_underneath_clears_the_lash_by_r_and_touches_it,
        &any_valid_pair_clears_by_r_and_touches,
        &a_bond_over_nearly_all_of_a_lash_that_curls_back_clears_by_r_and_touches,
        &a_tighter_curl_on_top_touches_in_the_middle_and_underneath_at_the_ends,
        &laid_on_top_it_stands_above_and_laid_underneath_below,
    };
    return RUN_CLAIMS("contact", claims);
}
