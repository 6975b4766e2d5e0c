/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lid: where its margin runs, how it turns, its own axes, and what is refused. */
#include <tipcrest/lid.h>

#include <math.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_min.h>

#include "geom/vector.h"
#include "support/check.h"
#include "support/make.h"

static tcr_vec3 margin(const tcr_lid *lid, double u, double opening) {
    tcr_vec3 point;
    expect_status(tcr_lid_margin(lid, u, opening, &point), TCR_OK);
    return point;
}

static tcr_frame frame_of(const tcr_lid *lid, double u, double opening) {
    tcr_frame frame;
    expect_status(tcr_lid_frame(lid, u, opening, &frame), TCR_OK);
    return frame;
}

/* The lid's angle about the x axis. */
static double turned(tcr_vec3 point) { return atan2(point.y, point.z); }

CLAIM(the_open_margin_stands_mrd1_above_the_pupil) {
    const tcr_lid lid = tcr_lid_default();
    const tcr_vec3 point = margin(&lid, 0.5, 1.0);
    expect_same(point.x, 0.0, "the pupil stands at x = 0");
    expect_near(point.y, 3.5, 1e-14, "a sine of an arc sine"); /* source: model.md, section 2 */
}

CLAIM(the_closed_margin_stands_mrd2_below_the_pupil) {
    const tcr_lid lid = tcr_lid_default();
    expect_near(margin(&lid, 0.5, 0.0).y, -5.2, 1e-14, "a sine of an arc sine"); /* model.md, 2 */
}

CLAIM(the_margin_slides_on_the_ellipsoid) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 300; i++) {
        const tcr_lid lid = tcr_draw_lid(rng);
        const tcr_vec3 p = margin(&lid, gsl_rng_uniform(rng), gsl_rng_uniform(rng));
        const double a = p.x / lid.lateral_semiaxis_mm;
        const double r = hypot(p.y, p.z) / lid.globe_radius_mm;
        expect_near(a * a + r * r, 1.0, 1e-14, "a few roundings"); /* source: model.md, section 2 */
    }
    gsl_rng_free(rng);
}

CLAIM(the_margin_starts_and_ends_on_the_line_of_the_corners) {
    const tcr_lid lid = tcr_lid_default();
    for (int i = 0; i <= 4; i++) {
        const double opening = i / 4.0;
        given("opening %g", opening);
        /* Source: model.md, section 2: s = 0 at both corners, so y = b there. */
        const tcr_vec3 inner = margin(&lid, 0.0, opening), outer = margin(&lid, 1.0, opening);
        expect_near(inner.x, -13.5, 0.0, "exact");
        expect_near(inner.y, -1.5, 1e-14, "a sine of an arc sine");
        expect_near(outer.x, 13.5, 0.0, "exact");
        expect_near(outer.y, -1.5 + 27.0 * tan(tcr_degrees(5.0)), 1e-14, "a sine of an arc sine");
    }
}

/* |y|/rho of a contour, put together from model.md, section 2. */
static double reach(const tcr_lid *lid, double u, bool open) {
    const double w = lid->fissure_width_mm, p = 0.5 + lid->peak_offset_mm / w;
    const double rise = w * tan(lid->canthal_tilt_rad), x = w * (u - 0.5);
    const double rho = lid->globe_radius_mm * sqrt(1.0 - gsl_pow_2(x / lid->lateral_semiaxis_mm));
    const double s = pow(pow(u / p, p) * pow((1 - u) / (1 - p), 1 - p), lid->fullness);
    const double s_middle = pow(pow(0.5 / p, p) * pow(0.5 / (1 - p), 1 - p), lid->fullness);
    const double level = open ? lid->mrd1_mm : -lid->mrd2_mm;
    const double b = lid->inner_corner_height_mm;
    return fabs(b + u * rise + s * (level - b - rise / 2) / s_middle) / rho;
}

CLAIM(fullness_1_is_half_an_ellipse_and_2_a_parabola) {
    tcr_lid lid = tcr_lid_default();
    lid.peak_offset_mm = lid.canthal_tilt_rad = 0.0;
    for (int c = 1; c <= 2; c++) {
        lid.fullness = c;
        for (int i = 0; i <= 20; i++) {
            const double u = i / 20.0, product = 4.0 * u * (1.0 - u);
            const double bulge = c == 1 ? sqrt(product) : product;
            given("fullness %d, u = %g", c, u);
            /* Source: closed form, model.md section 2 with p = 1/2. */
            expect_near(margin(&lid, u, 1.0).y, -1.5 + 5.0 * bulge, 2e-14,
                        "powers and an arc sine");
        }
    }
}

static double minus_height(double u, void *lid) { return -margin(lid, u, 1.0).y; }

CLAIM(the_default_open_margin_is_highest_1_70_mm_to_the_outer_side) {
    tcr_lid lid = tcr_lid_default();
    gsl_min_fminimizer *search = gsl_min_fminimizer_alloc(gsl_min_fminimizer_brent);
    gsl_function height = {minus_height, &lid};
    gsl_min_fminimizer_set(search, &height, 0.5, 0.2, 0.9);
    for (int i = 0; i < 100; i++)
        (void)gsl_min_fminimizer_iterate(search);
    const double x = margin(&lid, gsl_min_fminimizer_x_minimum(search), 1.0).x;
    gsl_min_fminimizer_free(search);
    /* Source: Shin 2025, 10.1371/journal.pone.0316714: 1.7 (1.0) mm temporal of the pupil. */
    expect_near(x, 1.70, 5e-3, "half of the last digit the default was chosen to");
}

CLAIM(the_default_lid_turns_42_64_degrees_from_closed_to_open) {
    const tcr_lid lid = tcr_lid_default();
    const double turn = turned(margin(&lid, 0.5, 1.0)) - turned(margin(&lid, 0.5, 0.0));
    const double degrees = turn * (180.0 / M_PI);
    expect_near(degrees, 42.64, 5e-3, "half of the last printed digit"); /* model.md, section 2 */
    /* Source: closed form, asin(3.5/12) + asin(5.2/12). */
    expect_near(turn, asin(3.5 / 12.0) + asin(5.2 / 12.0), 1e-14, "a few roundings");
    /* Source: science.md, a search-coil comparison of blinks, n = 7: 43.1 (7.9) degrees. */
    expect_near(degrees, 43.1, 7.9, "one published standard deviation: a check of plausibility");
}

CLAIM(the_lid_turns_in_proportion_to_the_opening) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 100; i++) {
        const tcr_lid lid = tcr_draw_lid(rng);
        const double u = gsl_rng_uniform(rng), a = gsl_rng_uniform(rng);
        const double closed = turned(margin(&lid, u, 0.0)), open = turned(margin(&lid, u, 1.0));
        /* Source: model.md, section 2. */
        expect_near(turned(margin(&lid, u, a)), closed + a * (open - closed), 1e-14,
                    "a few roundings of angles below 1");
    }
    gsl_rng_free(rng);
}

CLAIM(the_frame_stands_on_the_margin) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int i = 0; i < 300; i++) {
        const tcr_lid lid = tcr_draw_lid(rng);
        const double u = tcr_draw_between(rng, 0.02, 0.98), a = gsl_rng_uniform(rng);
        expect_vector(frame_of(&lid, u, a).point, margin(&lid, u, a), 1e-14, "roundings of 12 mm");
    }
    gsl_rng_free(rng);
}

CLAIM(the_frame_is_orthonormal_and_right_handed) {
    gsl_rng *rng = tcr_make_rng(4);
    for (int i = 0; i < 1000; i++) {
        const tcr_lid lid = tcr_draw_lid(rng);
        const tcr_frame f = frame_of(&lid, tcr_draw_between(rng, 0.02, 0.98), gsl_rng_uniform(rng));
        const char *why = "a few roundings of numbers up to 1"; /* source: definition */
        expect_near(tcr_vec3_length(f.t), 1.0, 1e-15, why);
        expect_near(tcr_vec3_length(f.n), 1.0, 1e-15, why);
        expect_near(tcr_vec3_length(f.b), 1.0, 2e-15, why);
        expect_near(tcr_vec3_dot(f.t, f.n), 0.0, 1e-14, "t and n are worked out apart");
        expect_vector(tcr_vec3_cross(f.n, f.t), f.b, 1e-15, why);
    }
    gsl_rng_free(rng);
}

CLAIM(the_axes_point_to_the_outer_corner_out_and_up) {
    const tcr_lid lid = tcr_lid_default();
    for (double u = 0.02; u <= 0.98; u += 0.04) {
        const tcr_frame f = frame_of(&lid, u, 1.0);
        given("u = %g", u);
        /* Source: model.md, section 2, in words. */
        expect_true(f.t.x > 0.0);
        expect_true(tcr_vec3_dot(f.n, f.point) > 0.0);
        expect_true(f.b.y > 0.0);
    }
}

/* Root mean square error of tangents by central differences of the margin with step h. */
static double tangent_error(const tcr_lid *lid, double opening, double h) {
    double squares = 0.0;
    int count = 0;
    for (double u = 0.1; u <= 0.9; u += 0.01, count++) {
        const tcr_vec3 step =
            tcr_vec3_step(margin(lid, u + h, opening), -1.0, margin(lid, u - h, opening));
        const tcr_vec3 miss = tcr_vec3_step(tcr_vec3_unit(step), -1.0, frame_of(lid, u, opening).t);
        squares += tcr_vec3_dot(miss, miss);
    }
    return sqrt(squares / count);
}

CLAIM(the_tangent_is_the_limit_of_central_differences_at_second_order) {
    gsl_rng *rng = tcr_make_rng(5);
    for (int i = 0; i < 40; i++) {
        const tcr_lid lid = i < 3 ? tcr_lid_default() : tcr_draw_lid(rng);
        const double opening = i < 3 ? i / 2.0 : gsl_rng_uniform(rng);
        const double coarse = tangent_error(&lid, opening, 4e-3);
        const double fine = tangent_error(&lid, opening, 2e-3);
        given("lid %d, errors %.3g and %.3g", i, coarse, fine);
        /* Source: central differences have order 2. */
        expect_within(log2(coarse / fine), 1.9, 2.1, "the next term is about 1e-4 of the error");
        expect_within(fine, 0.0, 1e-3, "an error of second order in 2e-3 of the width");
    }
    gsl_rng_free(rng);
}

CLAIM(a_lid_without_tilt_and_peak_is_its_own_mirror_image) {
    gsl_rng *rng = tcr_make_rng(6);
    for (int i = 0; i < 200; i++) {
        tcr_lid lid = tcr_draw_lid(rng);
        lid.peak_offset_mm = lid.canthal_tilt_rad = 0.0;
        const double u = tcr_draw_between(rng, 0.02, 0.98), a = gsl_rng_uniform(rng);
        const tcr_frame here = frame_of(&lid, u, a), there = frame_of(&lid, 1.0 - u, a);
        const char *why = "roundings of 12 mm and of 1 - u"; /* source: mirror at x = 0 */
        expect_vector(there.point, tcr_mirror(here.point), 2e-14, why);
        expect_vector(there.t, tcr_vec3_scale(-1.0, tcr_mirror(here.t)), 2e-14, why);
        expect_vector(there.n, tcr_mirror(here.n), 2e-14, why);
        expect_vector(there.b, tcr_mirror(here.b), 2e-14, why);
    }
    gsl_rng_free(rng);
}

/* The largest |y|/rho of a contour over the rooting range, by brute force. */
static double furthest(const tcr_lid *lid, bool open) {
    double most = 0.0;
    for (int i = 0; i <= 4000; i++)
        most = fmax(most, reach(lid, 0.02 + 0.96 * i / 4000.0, open));
    return most;
}

CLAIM(a_margin_that_leaves_the_globe_is_refused_by_its_name) {
    gsl_rng *rng = tcr_make_rng(7);
    int refused[2] = {0, 0}, accepted = 0;
    for (int i = 0; i < 800; i++) {
        tcr_lid lid = tcr_lid_default();
        lid.fissure_width_mm = tcr_draw_between(rng, 22.0, 34.0);
        lid.lateral_semiaxis_mm = lid.fissure_width_mm / 2.0 + tcr_draw_between(rng, 0.5, 6.0);
        lid.globe_radius_mm = tcr_draw_between(rng, 8.0, 13.0);
        lid.mrd1_mm = tcr_draw_between(rng, 0.0, 8.0);
        lid.mrd2_mm = tcr_draw_between(rng, 2.0, 10.0);
        lid.canthal_tilt_rad = tcr_degrees(tcr_draw_between(rng, -20.0, 20.0));
        lid.inner_corner_height_mm = tcr_draw_between(rng, -5.0, 5.0);
        lid.peak_offset_mm = tcr_draw_between(rng, -6.0, 6.0);
        lid.fullness = tcr_draw_between(rng, 0.8, 4.0);
        const double open = furthest(&lid, true), closed = furthest(&lid, false);
        if (fabs(open - 1.0) < 1e-5 || fabs(closed - 1.0) < 1e-5)
            continue; /* too close for a grid of 4000 to tell */
        given("lid %d: |y|/rho reaches %.17g open, %.17g closed", i, open, closed);
        /* Source: model.md, section 2, by brute force; the open contour is named first. */
        expect_status(tcr_lid_validate(&lid, NULL),
                      open >= 1.0 ? TCR_E_MRD1 : (closed >= 1.0 ? TCR_E_MRD2 : TCR_OK));
        refused[0] += open >= 1.0;
        refused[1] += open < 1.0 && closed >= 1.0;
        accepted += open < 1.0 && closed < 1.0;
    }
    gsl_rng_free(rng);
    ck_assert(refused[0] > 50 && refused[1] > 50 && accepted > 50); /* all three were met */
}

CLAIM(an_axis_not_longer_than_half_the_width_is_refused) {
    tcr_lid lid = tcr_lid_default();
    lid.lateral_semiaxis_mm = 13.5;
    expect_status(tcr_lid_validate(&lid, NULL), TCR_E_SEMIAXIS); /* source: model.md, section 2 */
    lid.lateral_semiaxis_mm = 13.6;
    lid.mrd1_mm = 1.0;
    lid.mrd2_mm = 2.0;
    lid.canthal_tilt_rad = lid.inner_corner_height_mm = 0.0;
    expect_status(tcr_lid_validate(&lid, NULL), TCR_OK);
}

/* The nine measures of a lid, and their documented limits (lid.h, interface.md). */
static double *measure(tcr_lid *lid, int i) {
    double *const measures[] = {
        &lid->fissure_width_mm, &lid->canthal_tilt_rad, &lid->inner_corner_height_mm,
        &lid->mrd1_mm,          &lid->mrd2_mm,          &lid->peak_offset_mm,
        &lid->fullness,         &lid->globe_radius_mm,  &lid->lateral_semiaxis_mm,
    };
    return measures[i];
}

CLAIM(a_measure_outside_its_range_is_refused) {
    const double limits[9][2] = {
        {15.0, 40.0}, {-M_PI / 9.0, M_PI / 9.0},
        {-5.0, 5.0},  {0.0, 8.0},
        {2.0, 10.0},  {-6.0, 6.0},
        {0.8, 4.0},   {8.0, 16.0},
        {0.0, 40.0},
    };
    for (int i = 0; i < 9; i++) {
        const double bad[] = {limits[i][0] - 1e-6, limits[i][1] + 1e-6, NAN, INFINITY, -INFINITY};
        for (size_t j = 0; j < sizeof bad / sizeof bad[0]; j++) {
            tcr_lid lid = tcr_lid_default();
            *measure(&lid, i) = bad[j];
            given("measure %d at %.17g", i, bad[j]);
            expect_status(tcr_lid_validate(&lid, NULL), TCR_E_RANGE);
        }
    }
}

CLAIM(places_and_openings_outside_their_range_are_refused) {
    const tcr_lid lid = tcr_lid_default();
    tcr_frame frame = frame_of(&lid, 0.3, 0.5);
    const tcr_frame before = frame;
    const double places[] = {0.0199, 0.9801, NAN, -INFINITY}, openings[] = {-1e-9, 1.0001, NAN};
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++)
        expect_status(tcr_lid_frame(&lid, places[i], 1.0, &frame), TCR_E_RANGE);
    for (size_t i = 0; i < sizeof openings / sizeof openings[0]; i++)
        expect_status(tcr_lid_frame(&lid, 0.5, openings[i], &frame), TCR_E_RANGE);
    tcr_vec3 point;
    expect_status(tcr_lid_margin(&lid, 1.0000001, 1.0, &point), TCR_E_RANGE);
    expect_status(tcr_lid_margin(&lid, 0.5, NAN, &point), TCR_E_RANGE);
    expect_status(tcr_lid_frame(NULL, 0.5, 1.0, &frame), TCR_E_ARGUMENT);
    expect_status(tcr_lid_frame(&lid, 0.5, 1.0, NULL), TCR_E_ARGUMENT);
    expect_bytes(&frame, &before, sizeof frame); /* source: status.h, outputs stay */
}

CLAIM(a_contour_that_leaves_the_globe_near_a_corner_is_kept_on_its_edge) {
    tcr_lid lid = tcr_lid_default();
    lid.lateral_semiaxis_mm = 13.501; /* rho is 0.15 mm at the corners, which stand at -1.5 mm */
    lid.canthal_tilt_rad = 0.0;
    lid.inner_corner_height_mm = -1.5;
    expect_status(tcr_lid_validate(&lid, NULL), TCR_OK);
    const tcr_vec3 corner = margin(&lid, 0.0, 1.0);
    const double rho = 12.0 * sqrt(1.0 - gsl_pow_2(13.5 / 13.501));
    expect_near(corner.y, -rho, 1e-14, "rounding"); /* source: lid.h */
    expect_near(corner.z, 0.0, 1e-14, "the cosine of a right angle");
}

int main(void) {
    gsl_set_error_handler_off();
    static const TTest *const claims[] = {
        &the_open_margin_stands_mrd1_above_the_pupil,
        &the_closed_margin_stands_mrd2_below_the_pupil,
        &the_margin_slides_on_the_ellipsoid,
        &the_margin_starts_and_ends_on_the_line_of_the_corners,
        &fullness_1_is_half_an_ellipse_and_2_a_parabola,
        &the_default_open_margin_is_highest_1_70_mm_to_the_outer_side,
        &the_default_lid_turns_42_64_degrees_from_closed_to_open,
        &the_lid_turns_in_proportion_to_the_opening,
        &the_frame_stands_on_the_margin,
        &the_frame_is_orthonormal_and_right_handed,
        &the_axes_point_to_the_outer_corner_out_and_up,
        &the_tangent_is_the_limit_of_central_differences_at_second_order,
        &a_lid_without_tilt_and_peak_is_its_own_mirror_image,
        &a_margin_that_leaves_the_globe_is_refused_by_its_name,
        &an_axis_not_longer_than_half_the_width_is_refused,
        &a_measure_outside_its_range_is_refused,
        &places_and_openings_outside_their_range_are_refused,
        &a_contour_that_leaves_the_globe_near_a_corner_is_kept_on_its_edge,
    };
    return RUN_CLAIMS("lid", claims);
}
