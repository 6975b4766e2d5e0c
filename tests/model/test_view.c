/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Views: the projection, and how layers differ in the three named ones. */
#include <tipcrest/view.h>

#include <math.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_math.h>

#include "support/check.h"
#include "support/make.h"

CLAIM(from_the_front_a_point_is_seen_at_its_x_and_y) {
    const tcr_view front = {1.0, 0.0};
    const tcr_vec2 seen = tcr_view_project(&front, (tcr_vec3){1.5, -2.5, 30.0});
    expect_same(seen.x, 1.5, "no arithmetic"); /* source: model.md, section 5 */
    expect_near(seen.y, -2.5, 0.0, "times 1, less 30 times 0");
}

CLAIM(a_raised_viewer_sees_depth_as_lowness) {
    const tcr_view raised = {0.0, tcr_degrees(60.0)};
    const tcr_vec2 seen = tcr_view_project(&raised, (tcr_vec3){4.0, 2.0, 10.0});
    expect_same(seen.x, 4.0, "no arithmetic");
    /* Source: closed form, y/2 - z sqrt(3)/2. */
    expect_near(seen.y, 1.0 - 5.0 * M_SQRT3, 1e-14, "a few roundings of 9");
}

CLAIM(the_named_views_are_those_of_the_contract) {
    /* Source: model.md, section 5. */
    expect_same(tcr_view_named(TCR_OPEN_FRONT).opening, 1.0, "given");
    expect_same(tcr_view_named(TCR_OPEN_FRONT).viewer_rad, 0.0, "given");
    expect_same(tcr_view_named(TCR_CLOSED_FRONT).opening, 0.0, "given");
    expect_same(tcr_view_named(TCR_CLOSED_FRONT).viewer_rad, 0.0, "given");
    expect_same(tcr_view_named(TCR_ARTIST).opening, 0.0, "given");
    expect_near(tcr_view_named(TCR_ARTIST).viewer_rad, M_PI / 3.0, 1e-15, "60 degrees, rounded");
}

CLAIM(views_outside_their_range_are_refused) {
    const tcr_view good[] = {{0.0, tcr_degrees(-80.0)}, {1.0, tcr_degrees(80.0)}};
    const tcr_view bad[] = {{-0.1, 0.0},      {1.1, 0.0}, {NAN, 0.0}, {1.0, tcr_degrees(80.1)},
                            {1.0, -INFINITY}, {1.0, NAN}};
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++)
        expect_status(tcr_view_validate(&good[i], NULL), TCR_OK); /* source: view.h */
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        expect_status(tcr_view_validate(&bad[i], NULL), TCR_E_RANGE);
    expect_status(tcr_view_validate(NULL, NULL), TCR_E_ARGUMENT);
}

/* How far the tips of bottom and middle layer differ in height, the bottom's extension 12 mm. */
static double differ(tcr_named_view name, double middle_mm) {
    const tcr_view view = tcr_view_named(name);
    const tcr_lash bottom = tcr_make_lash(0.5, 0.0), middle = tcr_make_lash(0.5, 1.0);
    const tcr_extension twelve = tcr_make_extension("C", 12.0, TCR_OUTER_SIDE);
    const tcr_extension other = tcr_make_extension("C", middle_mm, TCR_OUTER_SIDE);
    return fabs(tcr_seen_height(&middle, &other, &view) - tcr_seen_height(&bottom, &twelve, &view));
}

/* Source of the six figures: model.md, section 5. */
static const char *const PRINTED = "half of the last printed digit";

CLAIM(equal_lengths_differ_by_0_0746_mm_in_the_artists_view) {
    expect_near(differ(TCR_ARTIST, 12.0), 0.0746, 5e-5, PRINTED);
}

CLAIM(equal_lengths_differ_by_0_8923_mm_with_the_eye_closed) {
    expect_near(differ(TCR_CLOSED_FRONT, 12.0), 0.8923, 5e-5, PRINTED);
}

CLAIM(equal_lengths_differ_by_0_9549_mm_with_the_eye_open) {
    expect_near(differ(TCR_OPEN_FRONT, 12.0), 0.9549, 5e-5, PRINTED);
}

CLAIM(twelve_and_eleven_differ_by_0_5398_mm_in_the_artists_view) {
    expect_near(differ(TCR_ARTIST, 11.0), 0.5398, 5e-5, PRINTED);
}

CLAIM(twelve_and_eleven_differ_by_0_4857_mm_with_the_eye_closed) {
    expect_near(differ(TCR_CLOSED_FRONT, 11.0), 0.4857, 5e-5, PRINTED);
}

CLAIM(twelve_and_eleven_differ_by_0_1274_mm_with_the_eye_open) {
    expect_near(differ(TCR_OPEN_FRONT, 11.0), 0.1274, 5e-5, PRINTED);
}

CLAIM(a_blink_opens_by_the_beta_distribution) {
    /* The polynomial of blink.c is the incomplete beta function I(4, 4), by GSL's own way. */
    for (int i = 0; i <= 64; i++) {
        const double share = i / 64.0;
        given("share %g", share);
        expect_near(tcr_blink_opening(share), gsl_cdf_beta_P(share, 4, 4), 1e-13, "rounding");
    }
    expect_same(tcr_blink_opening(-3.0), 0.0, "cut");
    expect_same(tcr_blink_opening(7.0), 1.0, "cut");
    expect_same(tcr_blink_opening(NAN), 1.0, "said so");
    expect_near((tcr_blink_opening(0.501) - tcr_blink_opening(0.499)) / 0.002, 35.0 / 16.0, 1e-4,
                "the largest speed, view.h; error of a central difference, of second order");
}

int main(void) {
    static const TTest *const claims[] = {
        &from_the_front_a_point_is_seen_at_its_x_and_y,
        &a_raised_viewer_sees_depth_as_lowness,
        &the_named_views_are_those_of_the_contract,
        &views_outside_their_range_are_refused,
        &a_blink_opens_by_the_beta_distribution,
        &equal_lengths_differ_by_0_0746_mm_in_the_artists_view,
        &equal_lengths_differ_by_0_8923_mm_with_the_eye_closed,
        &equal_lengths_differ_by_0_9549_mm_with_the_eye_open,
        &twelve_and_eleven_differ_by_0_5398_mm_in_the_artists_view,
        &twelve_and_eleven_differ_by_0_4857_mm_with_the_eye_closed,
        &twelve_and_eleven_differ_by_0_1274_mm_with_the_eye_open,
    };
    return RUN_CLAIMS("view", claims);
}
