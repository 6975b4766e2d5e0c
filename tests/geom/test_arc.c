/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arc splines: published and closed forms, and GSL's integration of the same curvature. */
#include <tipcrest/profile.h>

#include <float.h>
#include <math.h>

#include <gsl/gsl_integration.h>
#include <gsl/gsl_math.h>

#include "geom/arc.h"
#include "support/check.h"
#include "support/make.h"

static tcr_profile single(double turn_rad) { return (tcr_profile){1, {1.0}, {turn_rad}}; }

CLAIM(a_chord_is_shorter_than_its_arc_as_tabled) {
    /* Source: science.md, chord of an arc, "computed": per cent of the length. */
    static const struct {
        double turn_deg, per_cent;
    } table[] = {
        {30.0, 1.138407}, {45.0, 2.550464}, {60.0, 4.507034}, {90.0, 9.968368}, {120.0, 17.300666},
    };
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        const tcr_profile arc = single(tcr_degrees(table[i].turn_deg));
        const tcr_arc_point end = tcr_profile_at(&arc, 12.0, 12.0);
        given("a turn of %g degrees", table[i].turn_deg);
        expect_near(100.0 * (1.0 - hypot(end.x, end.y) / 12.0), table[i].per_cent, 5e-7,
                    "half of the table's last digit");
    }
}

CLAIM(a_quarter_circle_ends_at_its_radius) {
    const double radius = 2.0, length = radius * M_PI / 2.0;
    const tcr_profile arc = single(M_PI / 2.0);
    const tcr_arc_point end = tcr_profile_at(&arc, length, length);
    /* Source: closed form, (R sin, R (1 - cos)). */
    expect_near(end.x, radius, 1e-15, "a few roundings of numbers about 2");
    expect_near(end.y, radius, 1e-15, "a few roundings of numbers about 2");
    expect_same(end.angle_rad, M_PI / 2.0, "the turn itself");
}

CLAIM(three_quarters_of_a_circle_end_below_their_start) {
    const tcr_profile arc = single(1.5 * M_PI);
    const tcr_arc_point end = tcr_profile_at(&arc, 1.5 * M_PI, 1.5 * M_PI);
    /* Source: closed form for R = 1: (sin 270, 1 - cos 270) = (-1, 1). */
    expect_near(end.x, -1.0, 2e-15, "a few roundings of numbers about 5");
    expect_near(end.y, 1.0, 2e-15, "a few roundings of numbers about 5");
}

CLAIM(a_profile_without_turn_is_straight) {
    const tcr_profile straight = {3, {0.2, 0.3, 0.5}, {0.0, 0.0, 0.0}};
    for (int i = 0; i <= 16; i++) {
        const double s = 9.0 * i / 16.0;
        const tcr_arc_point at = tcr_profile_at(&straight, 9.0, s);
        given("s = %.17g", s);
        expect_near(at.x, s, 4e-15, "sums of three parts of 9"); /* source: closed form */
        expect_same(at.y, 0.0, "no turn, no height");
        expect_same(at.angle_rad, 0.0, "no turn");
    }
}

typedef struct stretch {
    double angle, curvature;
} stretch;

static double run(double s, void *p) {
    const stretch *at = p;
    return cos(at->angle + at->curvature * s);
}

static double rise(double s, void *p) {
    const stretch *at = p;
    return sin(at->angle + at->curvature * s);
}

static double integral(double (*f)(double, void *), stretch *at, double length,
                       gsl_integration_workspace *space) {
    double value, error;
    gsl_function function = {f, at};
    ck_assert_int_eq(gsl_integration_qag(&function, 0.0, length, 1e-12, 0.0, 1000,
                                         GSL_INTEG_GAUSS61, space, &value, &error),
                     0);
    return value;
}

/* The point at s by GSL's integration of the tangent over each piece. */
static tcr_arc_point integrated(const tcr_profile *profile, double length, double s,
                                gsl_integration_workspace *space) {
    tcr_arc_point at = {0.0, 0.0, 0.0};
    for (int i = 0; i < profile->pieces && s > 0.0; i++) {
        const double piece = profile->share[i] * length, part = fmin(s, piece);
        stretch here = {at.angle_rad, profile->turn_rad[i] / piece};
        at.x += integral(run, &here, part, space);
        at.y += integral(rise, &here, part, space);
        at.angle_rad += here.curvature * part;
        s -= part;
    }
    return at;
}

CLAIM(an_arc_spline_is_the_integral_of_its_tangent) {
    gsl_rng *rng = tcr_make_rng(1);
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(1000);
    for (int i = 0; i < 500; i++) {
        const tcr_profile profile = tcr_draw_profile(rng, -90.0, 270.0);
        const double length = tcr_draw_between(rng, 0.3, 30.0), s = length * gsl_rng_uniform(rng);
        const tcr_arc_point got = tcr_profile_at(&profile, length, s);
        const tcr_arc_point by_gsl = integrated(&profile, length, s, space); /* source: GSL, qag */
        given("profile %d of %d pieces, s = %.17g of %.17g", i, profile.pieces, s, length);
        expect_near(got.x, by_gsl.x, 1e-12, "rounding over lengths of 30 and angles of 37 rad");
        expect_near(got.y, by_gsl.y, 1e-12, "rounding over lengths of 30 and angles of 37 rad");
        expect_near(got.angle_rad, by_gsl.angle_rad, 1e-13, "rounding of angles up to 37 rad");
    }
    gsl_integration_workspace_free(space);
    gsl_rng_free(rng);
}

CLAIM(every_length_of_a_curl_has_the_same_shape) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 100; i++) {
        const tcr_profile profile = tcr_draw_profile(rng, -90.0, 270.0);
        const double share = gsl_rng_uniform(rng);
        const tcr_arc_point one = tcr_profile_at(&profile, 1.0, share);
        const tcr_arc_point large = tcr_profile_at(&profile, 16.0, 16.0 * share);
        /* Source: similarity; the turn of a piece is the same at every length. */
        expect_near(large.x, 16.0 * one.x, 1e-13, "rounding of numbers up to 16");
        expect_near(large.y, 16.0 * one.y, 1e-13, "rounding of numbers up to 16");
        expect_near(large.angle_rad, one.angle_rad, 1e-13, "rounding of angles up to 37 rad");
    }
    gsl_rng_free(rng);
}

CLAIM(turning_the_other_way_mirrors_the_curve) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int i = 0; i < 100; i++) {
        const tcr_profile profile = tcr_draw_profile(rng, -90.0, 90.0);
        tcr_profile mirrored = profile;
        for (int j = 0; j < profile.pieces; j++)
            mirrored.turn_rad[j] = -profile.turn_rad[j];
        const double s = 7.0 * gsl_rng_uniform(rng);
        const tcr_arc_point a = tcr_profile_at(&profile, 7.0, s),
                            b = tcr_profile_at(&mirrored, 7.0, s);
        expect_near(b.x, a.x, 1e-14, "cosines of opposite angles"); /* source: mirror */
        expect_near(b.y, -a.y, 1e-14, "sines of opposite angles");
        expect_near(b.angle_rad, -a.angle_rad, 0.0, "the same sums with the other sign");
    }
    gsl_rng_free(rng);
}

CLAIM(splitting_a_piece_changes_nothing) {
    const tcr_profile whole = {2, {0.4, 0.6}, {0.3, 1.5}};
    const tcr_profile split = {3, {0.4, 0.2, 0.4}, {0.3, 0.5, 1.0}};
    for (int i = 0; i <= 50; i++) {
        const double s = 11.0 * i / 50.0;
        const tcr_arc_point a = tcr_profile_at(&whole, 11.0, s),
                            b = tcr_profile_at(&split, 11.0, s);
        given("s = %.17g", s);
        expect_near(b.x, a.x, 1e-14, "rounding of numbers about 10"); /* source: the same curve */
        expect_near(b.y, a.y, 1e-14, "rounding of numbers about 10");
        expect_near(b.angle_rad, a.angle_rad, 1e-15, "rounding of angles about 1");
    }
}

CLAIM(walking_a_curve_backwards_leads_to_its_start) {
    gsl_rng *rng = tcr_make_rng(4);
    for (int i = 0; i < 100; i++) {
        const tcr_profile there = tcr_draw_profile(rng, -90.0, 200.0);
        tcr_profile back = there;
        for (int j = 0; j < there.pieces; j++) {
            back.share[j] = there.share[there.pieces - 1 - j];
            back.turn_rad[j] = -there.turn_rad[there.pieces - 1 - j];
        }
        const tcr_arc_point end = tcr_profile_at(&there, 9.0, 9.0),
                            home = tcr_profile_at(&back, 9.0, 9.0);
        /* Facing back from the end; curves to the left then curve to the right. */
        const double turned = end.angle_rad + M_PI;
        const double x = end.x + cos(turned) * home.x - sin(turned) * home.y;
        const double y = end.y + sin(turned) * home.x + cos(turned) * home.y;
        expect_near(x, 0.0, 1e-13, "rounding of numbers about 9"); /* source: reversal */
        expect_near(y, 0.0, 1e-13, "rounding of numbers about 9");
    }
    gsl_rng_free(rng);
}

CLAIM(arc_length_is_cut_to_the_fibre) {
    const tcr_profile c = {2, {0.2, 0.8}, {0.0, M_PI / 2.0}};
    const tcr_arc_point end = tcr_profile_at(&c, 12.0, 12.0), start = {0.0, 0.0, 0.0};
    const tcr_arc_point beyond = tcr_profile_at(&c, 12.0, 99.0);
    const tcr_arc_point before = tcr_profile_at(&c, 12.0, -1.0);
    expect_near(beyond.x, end.x, 1e-14, "rounding of what is left for the last piece of 12 mm");
    expect_near(beyond.y, end.y, 1e-14, "rounding of what is left for the last piece of 12 mm");
    expect_bytes(&before, &start, sizeof start); /* source of both: profile.h */
}

CLAIM(sinc_has_its_closed_forms) {
    expect_same(tcr_sinc(0.0), 1.0, "its limit");
    /* Source: closed form at a quarter and half turn. */
    expect_near(tcr_sinc(M_PI / 2.0), 2.0 / M_PI, 0x1p-51, "elementary_kernel.h");
    expect_near(tcr_sinc(M_PI), 0.0, 0x1p-51, "elementary_kernel.h");
}

CLAIM(profiles_outside_their_limits_are_refused) {
    const tcr_profile good = {2, {0.4, 0.6}, {0.0, 1.0}};
    expect_status(tcr_profile_validate(&good, NULL), TCR_OK);
    expect_status(tcr_profile_validate(NULL, NULL), TCR_E_ARGUMENT);
    tcr_profile bad = good;
    bad.pieces = 0;
    expect_status(tcr_profile_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad.pieces = TCR_PIECES_MAX + 1;
    expect_status(tcr_profile_validate(&bad, NULL), TCR_E_ARGUMENT);
    const double shares[] = {0.0, -0.4, 0.4 + 2e-9, NAN, INFINITY};
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        bad = good;
        bad.share[0] = shares[i];
        given("share %.17g", shares[i]);
        expect_status(tcr_profile_validate(&bad, NULL), TCR_E_CURL);
        if (shares[i] > 0.0)
            continue;
        bad.share[1] = 1.0 - shares[i]; /* none is above 0 because the sum is right */
        expect_status(tcr_profile_validate(&bad, NULL), TCR_E_CURL);
    }
    const double turns[] = {tcr_degrees(-90.001), tcr_degrees(270.001), NAN, -INFINITY};
    for (size_t i = 0; i < sizeof turns / sizeof turns[0]; i++) {
        bad = good;
        bad.turn_rad[1] = turns[i];
        given("turn %.17g", turns[i]);
        expect_status(tcr_profile_validate(&bad, NULL), TCR_E_RANGE);
    }
}

CLAIM(shares_may_miss_1_by_1e_9_and_turns_reach_their_limits) {
    tcr_profile good = {2, {0.4 + 0.9e-9, 0.6}, {tcr_degrees(-90.0), tcr_degrees(270.0)}};
    expect_status(tcr_profile_validate(&good, NULL), TCR_OK); /* source: profile.h */
}

int main(void) {
    static const TTest *const claims[] = {
        &a_chord_is_shorter_than_its_arc_as_tabled,
        &a_quarter_circle_ends_at_its_radius,
        &three_quarters_of_a_circle_end_below_their_start,
        &a_profile_without_turn_is_straight,
        &an_arc_spline_is_the_integral_of_its_tangent,
        &every_length_of_a_curl_has_the_same_shape,
        &turning_the_other_way_mirrors_the_curve,
        &splitting_a_piece_changes_nothing,
        &walking_a_curve_backwards_leads_to_its_start,
        &arc_length_is_cut_to_the_fibre,
        &sinc_has_its_closed_forms,
        &profiles_outside_their_limits_are_refused,
        &shares_may_miss_1_by_1e_9_and_turns_reach_their_limits,
    };
    return RUN_CLAIMS("arc", claims);
}
