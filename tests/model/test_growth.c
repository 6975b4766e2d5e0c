/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Growth of the shape: tau against the curvature of the natural profile, the full-grown lash, steps
 * of growth, what stays as it was, what is refused.
 */
#include <tipcrest/growth.h>

#include <math.h>

#include <gsl/gsl_integration.h>
#include <gsl/gsl_math.h>

#include "support/check.h"
#include "support/make.h"

enum { MANY = 20000 };

/* Turn and root diameter, written out from model.md, section 3, by pieces from the tip. */
static double share_of_turn(double q) {
    double share = 0.0;
    for (int third = 0; third < 3; third++) {
        const double inside = fmin(fmax(q - third / 3.0, 0.0), 1.0 / 3.0);
        share += (2.0 + third) / 9.0 * inside * 3.0;
    }
    return share;
}

/* A full-grown lash from all over the ranges of lash.h, its turn at most 'turn_deg'. */
static tcr_lash draw_full(gsl_rng *rng, double turn_deg) {
    tcr_lash full = tcr_draw_lash(rng);
    full.height_mm = full.roll_rad = NAN; /* not known: growth does not look at them */
    full.layer = (tcr_layer)gsl_rng_uniform_int(rng, TCR_LAYERS);
    full.condition = (tcr_condition)gsl_rng_uniform_int(rng, TCR_CONDITIONS);
    full.final_length_mm = full.length_mm = tcr_draw_between(rng, 1.0, 20.0);
    full.turn_rad = tcr_degrees(tcr_draw_between(rng, -60.0, turn_deg));
    full.root_diameter_mm = tcr_draw_between(rng, 0.02, 0.2);
    full.tip_diameter_mm = gsl_rng_uniform(rng) * full.root_diameter_mm;
    return full;
}

/* The same lash when it was q of its final length: not cut to any range. */
static tcr_lash young_of(const tcr_lash *full, double q) {
    tcr_lash young = *full;
    young.length_mm = full->final_length_mm * q;
    young.turn_rad = full->turn_rad * share_of_turn(q);
    young.root_diameter_mm =
        full->tip_diameter_mm + (full->root_diameter_mm - full->tip_diameter_mm) * q;
    return young;
}

/* As tcr_lash_validate, with defaults for what is not known. */
static void expect_valid(const tcr_lash *lash) {
    const tcr_lash complete = tcr_lash_complete(lash, NULL);
    expect_status(tcr_lash_validate(&complete, NULL), TCR_OK);
}

static tcr_lash full_of(const tcr_lash *lash) {
    tcr_lash full;
    expect_status(tcr_lash_full_grown(lash, &full), TCR_OK);
    return full;
}

static tcr_lash grown_to(const tcr_lash *lash, const tcr_lash *full, double length_mm) {
    tcr_lash grown;
    expect_status(tcr_lash_grow(lash, full, length_mm, &grown), TCR_OK);
    return grown;
}

/* Source: growth.h, which lists what growth keeps. */
static void expect_the_rest_kept(const tcr_lash *before, const tcr_lash *after) {
    expect_same(after->u, before->u, "kept");
    expect_same(after->height_mm, before->height_mm, "kept, NaN too");
    expect_same(after->pitch_rad, before->pitch_rad, "kept");
    expect_same(after->yaw_rad, before->yaw_rad, "kept");
    expect_same(after->roll_rad, before->roll_rad, "kept");
    expect_same(after->final_length_mm, before->final_length_mm, "kept");
    expect_same(after->tip_diameter_mm, before->tip_diameter_mm, "kept");
    expect_count(after->layer, before->layer);
    expect_count(after->condition, before->condition);
}

static void expect_the_same_lash(const tcr_lash *got, const tcr_lash *expected, const char *why) {
    expect_same(got->length_mm, expected->length_mm, why);
    expect_same(got->turn_rad, expected->turn_rad, why);
    expect_same(got->root_diameter_mm, expected->root_diameter_mm, why);
    expect_the_rest_kept(expected, got);
}

CLAIM(the_share_of_the_turn_rises_from_0_to_1_in_ninths) {
    const char *why = "two roundings of 1";
    expect_same(tcr_lash_turn_share(0.0), 0.0, "model.md, section 3");
    expect_near(tcr_lash_turn_share(1.0 / 3.0), 2.0 / 9.0, 2e-16, why); /* closed form */
    expect_near(tcr_lash_turn_share(2.0 / 3.0), 5.0 / 9.0, 2e-16, why);
    expect_same(tcr_lash_turn_share(1.0), 1.0, "model.md, section 3");
}

CLAIM(the_share_of_the_turn_is_continuous) {
    for (int third = 1; third < 3; third++) {
        const double joint = third / 3.0;
        given("joint %d", third);
        /* Source: both pieces of model.md, section 3, have one value at their joint. */
        expect_near(tcr_lash_turn_share(nextafter(joint, 1.0)),
                    tcr_lash_turn_share(nextafter(joint, 0.0)), 1e-15, "a few roundings of 1");
    }
}

CLAIM(the_share_of_the_turn_rises_by_2_3_and_4_ninths_a_third_from_the_tip) {
    for (int third = 0; third < 3; third++)
        for (int i = 0; i < 10; i++) {
            const double low = (third + i / 10.0) / 3.0, high = (third + (i + 1) / 10.0) / 3.0;
            const double slope =
                (tcr_lash_turn_share(high) - tcr_lash_turn_share(low)) / (high - low);
            given("third %d, tenth %d", third, i);
            /* Source: model.md, section 3: 4/9, 3/9 and 2/9 from the root, each over a third. */
            expect_near(slope, 3.0 * (2.0 + third) / 9.0, 2e-14, "rounding of 1 over 1/30");
        }
}

static double curvature(double s, void *lash) {
    const tcr_profile p = tcr_lash_profile(lash);
    double end = 0.0;
    int i = 0;
    while (i < p.pieces - 1 && s > (end += p.share[i] * ((tcr_lash *)lash)->length_mm))
        i++;
    return p.turn_rad[i] / (p.share[i] * ((tcr_lash *)lash)->length_mm);
}

CLAIM(the_share_of_the_turn_is_the_curvature_over_the_outer_length) {
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(1000);
    ck_assert_ptr_nonnull(space);
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    gsl_function function = {curvature, &lash};
    for (int i = 1; i <= 40; i++) {
        const double q = i / 40.0, from = (1.0 - q) * lash.length_mm;
        double ends[4] = {from}, turned, error;
        size_t n = 1;
        for (int third = 1; third < 3; third++)
            if (third / 3.0 * lash.length_mm > from)
                ends[n++] = third / 3.0 * lash.length_mm;
        ends[n++] = lash.length_mm;
        expect_count(
            gsl_integration_qagp(&function, ends, n, 0.0, 1e-10, 1000, space, &turned, &error), 0);
        given("q = %g", q);
        /* Source: computed by GSL's adaptive quadrature of the profile's curvature. */
        expect_near(tcr_lash_turn_share(q), turned / lash.turn_rad, 1e-9, "asked for 1e-10");
    }
    gsl_integration_workspace_free(space);
}

CLAIM(a_share_beyond_its_range_is_cut_and_nan_stays) {
    expect_same(tcr_lash_turn_share(-0.1), 0.0, "growth.h");
    expect_same(tcr_lash_turn_share(1.1), 1.0, "growth.h");
    expect_same(tcr_lash_turn_share(INFINITY), 1.0, "growth.h");
    expect_nan(tcr_lash_turn_share(NAN));
}

CLAIM(a_lash_that_was_measured_young_gives_its_full_grown_one) {
    gsl_rng *rng = tcr_make_rng(21);
    int tried = 0;
    for (int i = 0; i < MANY; i++) {
        const tcr_lash full = draw_full(rng, 200.0);
        const tcr_lash young = young_of(&full, tcr_draw_between(rng, 0.3 / full.length_mm, 1.0));
        if (young.root_diameter_mm < 0.02)
            continue; /* no lash by lash.h */
        tried++;
        const tcr_lash found = full_of(&young);
        given("lash %d", i);
        const char *why = "roundings of 3.5, divided by a share of 0.01 or more";
        expect_same(found.length_mm, full.final_length_mm, "growth.h"); /* source: section 3 */
        expect_near(found.turn_rad, full.turn_rad, 1e-12, why);
        expect_near(found.root_diameter_mm, full.root_diameter_mm, 1e-12, why);
        expect_the_rest_kept(&young, &found);
    }
    ck_assert_int_gt(tried, MANY / 2);
    gsl_rng_free(rng);
}

CLAIM(a_full_grown_turn_and_diameter_stay_in_their_ranges) {
    tcr_lash young = tcr_make_default_lash(0.5, TCR_BOTTOM);
    young.length_mm = 0.75;
    young.final_length_mm = 7.5; /* q = 0.1, tau = 1/15 */
    young.turn_rad = tcr_degrees(60.0);
    young.root_diameter_mm = 0.08;
    tcr_lash full = full_of(&young);
    /* Source: model.md, section 3: 900 degrees are kept at 200, 0.665 mm at 0.2. */
    expect_near(full.turn_rad, tcr_degrees(200.0), 1e-15, "one rounding");
    expect_same(full.root_diameter_mm, 0.2, "given");
    young.turn_rad = tcr_degrees(-5.0);
    full = full_of(&young);
    expect_near(full.turn_rad, tcr_degrees(-60.0), 1e-15, "-75 degrees are kept at -60");
}

CLAIM(a_lash_of_its_final_length_is_its_own_full_grown_one) {
    gsl_rng *rng = tcr_make_rng(22);
    for (int i = 0; i < 1000; i++) {
        tcr_lash lash = draw_full(rng, 200.0);
        if (i % 2 == 1) /* measured longer than it was thought to grow */
            lash.final_length_mm = 1.0;
        const tcr_lash full = full_of(&lash);
        given("lash %d", i);
        expect_the_same_lash(&full, &lash, "growth.h");
    }
    gsl_rng_free(rng);
}

CLAIM(a_grown_lash_has_the_turn_and_diameter_of_its_length) {
    gsl_rng *rng = tcr_make_rng(23);
    for (int i = 0; i < MANY; i++) {
        const tcr_lash full = draw_full(rng, 200.0);
        const double q = tcr_draw_between(rng, 0.3 / full.length_mm, 1.0);
        const tcr_lash young = young_of(&full, q);
        const tcr_lash made = grown_to(&full, &full, young.length_mm);
        given("lash %d", i);
        /* Source: model.md, section 3; lash.h: a root diameter is 0.02 mm or more. */
        expect_near(made.turn_rad, young.turn_rad, 1e-12, "roundings of 3.5");
        expect_near(made.root_diameter_mm, fmax(young.root_diameter_mm, 0.02), 1e-12,
                    "roundings of 0.2");
        expect_same(made.length_mm, young.length_mm, "given");
        expect_the_rest_kept(&full, &made);
    }
    gsl_rng_free(rng);
}

CLAIM(a_lash_grown_to_its_final_length_is_its_full_grown_one) {
    gsl_rng *rng = tcr_make_rng(24);
    for (int i = 0; i < MANY; i++) {
        const tcr_lash drawn = draw_full(rng, 200.0);
        const double q = tcr_draw_between(rng, 0.3 / drawn.length_mm, 1.0);
        const tcr_lash young = young_of(&drawn, q);
        if (young.root_diameter_mm < 0.02)
            continue; /* no lash by lash.h */
        const tcr_lash full = full_of(&young);
        const tcr_lash grown = grown_to(&young, &full, full.length_mm);
        given("lash %d", i);
        expect_near(grown.turn_rad, full.turn_rad, 1e-12, "roundings of 3.5"); /* section 3 */
        expect_near(grown.root_diameter_mm, full.root_diameter_mm, 1e-12, "roundings of 0.2");
    }
    gsl_rng_free(rng);
}

/* Any valid lash that is still growing, also one that no full-grown lash explains. */
static tcr_lash draw_young(gsl_rng *rng) {
    tcr_lash lash = draw_full(rng, 200.0);
    lash.length_mm = tcr_draw_between(rng, 0.3, lash.final_length_mm);
    if (gsl_rng_uniform_int(rng, 4) == 0)
        lash.turn_rad = NAN;
    if (gsl_rng_uniform_int(rng, 4) == 0) {
        lash.root_diameter_mm = NAN;
        lash.tip_diameter_mm *= 0.4; /* at most the root's default of 0.08 mm */
    }
    return lash;
}

/* Near each other, or neither known. */
static void expect_near_or_unknown(double got, double expected, const char *why) {
    if (isnan(expected))
        expect_nan(got);
    else
        expect_near(got, expected, 1e-12, why);
}

CLAIM(two_steps_of_growth_equal_one) {
    gsl_rng *rng = tcr_make_rng(25);
    int cut = 0;
    for (int i = 0; i < MANY; i++) {
        const tcr_lash lash = draw_young(rng), full = full_of(&lash);
        const double last = tcr_draw_between(rng, lash.length_mm, full.length_mm);
        const double first = tcr_draw_between(rng, lash.length_mm, last);
        const tcr_lash between = grown_to(&lash, &full, first);
        const tcr_lash twice = grown_to(&between, &full, last), once = grown_to(&lash, &full, last);
        cut += once.root_diameter_mm == 0.2;
        given("lash %d", i);
        expect_near_or_unknown(twice.turn_rad, once.turn_rad, "roundings of 3.5"); /* invariant */
        expect_near_or_unknown(twice.root_diameter_mm, once.root_diameter_mm, "roundings of 0.2");
        expect_same(twice.length_mm, once.length_mm, "given");
        expect_valid(&between); /* source: growth.h */
        expect_valid(&once);
    }
    ck_assert_int_gt(cut, 0); /* the cut ranges were met */
    gsl_rng_free(rng);
}

CLAIM(two_steps_equal_one_where_the_full_grown_lash_is_found_anew) {
    gsl_rng *rng = tcr_make_rng(26);
    for (int i = 0; i < MANY; i++) {
        const tcr_lash drawn = draw_full(rng, 200.0);
        const double q = tcr_draw_between(rng, 0.3 / drawn.length_mm, 1.0);
        const tcr_lash lash = young_of(&drawn, q);
        if (lash.root_diameter_mm < 0.02)
            continue; /* no lash by lash.h */
        const tcr_lash full = full_of(&lash);
        const double last = tcr_draw_between(rng, lash.length_mm, full.length_mm);
        const tcr_lash between =
            grown_to(&lash, &full, tcr_draw_between(rng, lash.length_mm, last));
        const tcr_lash again = full_of(&between);
        const tcr_lash twice = grown_to(&between, &again, last),
                       once = grown_to(&lash, &full, last);
        given("lash %d", i);
        expect_near(twice.turn_rad, once.turn_rad, 1e-12, "roundings of 3.5"); /* an invariant */
        expect_near(twice.root_diameter_mm, once.root_diameter_mm, 1e-12, "roundings of 0.2");
    }
    gsl_rng_free(rng);
}

CLAIM(a_lash_at_its_own_length_stays_as_it_is) {
    gsl_rng *rng = tcr_make_rng(27);
    for (int i = 0; i < MANY; i++) {
        const tcr_lash lash = draw_young(rng), full = full_of(&lash);
        const tcr_lash same = grown_to(&lash, &full, lash.length_mm);
        given("lash %d", i);
        expect_the_same_lash(&same, &lash, "an invariant: q' = q");
    }
    gsl_rng_free(rng);
}

CLAIM(a_grown_lash_is_valid_whatever_its_full_grown_one) {
    gsl_rng *rng = tcr_make_rng(28);
    for (int i = 0; i < MANY; i++) {
        const tcr_lash lash = draw_young(rng), full = draw_full(rng, 200.0);
        const tcr_lash grown = grown_to(&lash, &full, tcr_draw_between(rng, 0.3, full.length_mm));
        given("lash %d", i);
        expect_valid(&grown); /* source: growth.h */
    }
    gsl_rng_free(rng);
}

CLAIM(a_lash_longer_than_its_full_grown_one_counts_as_full_grown) {
    tcr_lash full = tcr_make_default_lash(0.5, TCR_BOTTOM), lash = full;
    lash.length_mm = 9.0; /* full: 7.5 */
    const tcr_lash cut = grown_to(&lash, &full, 2.5);
    /* Source: model.md, section 3, for q = 1, q' = 1/3: 60 * 2/9 degrees, 0.015 + 0.065/3 mm. */
    expect_near(cut.turn_rad, tcr_degrees(60.0 * 2.0 / 9.0), 1e-15, "a few roundings of 1");
    expect_near(cut.root_diameter_mm, 0.015 + 0.065 / 3.0, 1e-16, "a few roundings of 0.1");
}

CLAIM(what_was_not_measured_stays_unknown) {
    for (unsigned unknown = 0; unknown < 4; unknown++) {
        const bool turn = (unknown & 1U) == 0, diameter = (unknown & 2U) == 0;
        tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
        lash.turn_rad = turn ? lash.turn_rad : NAN;
        lash.root_diameter_mm = diameter ? lash.root_diameter_mm : NAN;
        lash.tip_diameter_mm = NAN; /* 0.015 by default */
        lash.length_mm = 5.0;
        lash.final_length_mm = 7.5; /* q = 2/3, tau = 5/9 */
        const tcr_lash full = full_of(&lash), grown = grown_to(&lash, &full, 7.5);
        const tcr_lash complete = tcr_lash_complete(&grown, NULL);
        given("unknown %u", unknown);
        /* Source: model.md, section 3: 60 / (5/9) = 108 degrees, 0.015 + 0.065 * 3/2 mm, or the
         * defaults. */
        expect_near(complete.turn_rad, tcr_degrees(turn ? 108.0 : 60.0), 1e-14,
                    "a few roundings of 2");
        expect_near(complete.root_diameter_mm, diameter ? 0.1125 : 0.08, 1e-16,
                    "a few roundings of 0.1");
        expect_near_or_unknown(grown.turn_rad, full.turn_rad, "roundings of 3.5");
        expect_near_or_unknown(grown.root_diameter_mm, full.root_diameter_mm, "roundings of 0.2");
        expect_true(isnan(grown.turn_rad) == !turn);
        expect_true(isnan(grown.root_diameter_mm) == !diameter);
        expect_nan(grown.tip_diameter_mm); /* source: growth.h */
    }
}

CLAIM(outputs_may_be_inputs) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    lash.length_mm = 5.0;
    lash.final_length_mm = 7.5;
    const tcr_lash full = full_of(&lash), grown = grown_to(&lash, &full, 6.0);
    tcr_lash both = lash;
    expect_status(tcr_lash_full_grown(&both, &both), TCR_OK);
    expect_the_same_lash(&both, &full, "growth.h");
    expect_status(tcr_lash_grow(&lash, &both, 6.0, &both), TCR_OK);
    expect_the_same_lash(&both, &grown, "growth.h");
}

/* Source of each status: growth.h. */
static void expect_refused(const tcr_lash *lash, const tcr_lash *full, double length_mm,
                           tcr_status status) {
    tcr_lash out = tcr_make_default_lash(0.4, TCR_TOP);
    const tcr_lash before = out;
    expect_status(tcr_lash_grow(lash, full, length_mm, &out), status);
    expect_bytes(&out, &before, sizeof out);
}

CLAIM(lashes_and_lengths_out_of_range_are_refused) {
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM), out = lash;
    expect_status(tcr_lash_full_grown(&lash, &out), TCR_E_RANGE); /* final length not known */
    expect_bytes(&out, &lash, sizeof out);
    lash.final_length_mm = 9.0;
    tcr_lash unmeasured = lash;
    unmeasured.length_mm = NAN;
    expect_status(tcr_lash_full_grown(&unmeasured, &out), TCR_E_RANGE); /* length not known */
    const tcr_lash full = full_of(&lash);
    tcr_lash bad = lash;
    bad.turn_rad = 60.0; /* degrees for radians */
    out = lash;
    expect_status(tcr_lash_full_grown(&bad, &out), TCR_E_RANGE);
    expect_bytes(&out, &lash, sizeof out);
    expect_status(tcr_lash_full_grown(NULL, &out), TCR_E_ARGUMENT);
    expect_status(tcr_lash_full_grown(&lash, NULL), TCR_E_ARGUMENT);

    static const double lengths[] = {0.0, 0.29, 9.01, -1.0, NAN, INFINITY};
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        given("length %g", lengths[i]);
        expect_refused(&lash, &full, lengths[i], TCR_E_RANGE);
    }
    expect_refused(&bad, &full, 8.0, TCR_E_RANGE);
    expect_refused(&lash, &bad, 7.5, TCR_E_RANGE);
    expect_refused(NULL, &full, 8.0, TCR_E_ARGUMENT);
    expect_refused(&lash, NULL, 8.0, TCR_E_ARGUMENT);
    expect_status(tcr_lash_grow(&lash, &full, 8.0, NULL), TCR_E_ARGUMENT);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_share_of_the_turn_rises_from_0_to_1_in_ninths,
        &the_share_of_the_turn_is_continuous,
        &the_share_of_the_turn_rises_by_2_3_and_4_ninths_a_third_from_the_tip,
        &the_share_of_the_turn_is_the_curvature_over_the_outer_length,
        &a_share_beyond_its_range_is_cut_and_nan_stays,
        &a_lash_that_was_measured_young_gives_its_full_grown_one,
        &a_full_grown_turn_and_diameter_stay_in_their_ranges,
        &a_lash_of_its_final_length_is_its_own_full_grown_one,
        &a_grown_lash_has_the_turn_and_diameter_of_its_length,
        &a_lash_grown_to_its_final_length_is_its_full_grown_one,
        &two_steps_of_growth_equal_one,
        &two_steps_equal_one_where_the_full_grown_lash_is_found_anew,
        &a_lash_at_its_own_length_stays_as_it_is,
        &a_grown_lash_is_valid_whatever_its_full_grown_one,
        &a_lash_longer_than_its_full_grown_one_counts_as_full_grown,
        &what_was_not_measured_stays_unknown,
        &outputs_may_be_inputs,
        &lashes_and_lengths_out_of_range_are_refused,
    };
    return RUN_CLAIMS("growth", claims);
}
