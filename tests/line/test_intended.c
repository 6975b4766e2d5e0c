/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The intended line of model.md, sections 6 and 7: through the tips of one eye or two, made here by
 * the scalar calls and fitted by GSL's least squares; and the tolerance by the viewer's distance.
 */
#include <tipcrest/check.h>
#include <tipcrest/line_rule.h>
#include <tipcrest/mean.h>

#include <math.h>

#include <tipcrest/tips.h>
#include <tipcrest/why.h>

#include "support/check.h"
#include "support/make.h"
#include "support/spline.h"

enum { PLACES = 201 };

static const tcr_zone MAPS[TCR_SIDES][2] = {
    {{.to = 0.4, .length_mm = 9.0, .curl = "C"}, {.to = 1.0, .length_mm = 12.0, .curl = "C"}},
    {{.to = 0.6, .length_mm = 10.0, .curl = "C"}, {.to = 1.0, .length_mm = 11.0, .curl = "C"}},
};

/* Two described eyes with lids and maps of their own, or one of them. Everything is invented. */
static tcr_set *make_set(bool left, bool right, bool shared) {
    tcr_set *set = NULL;
    tcr_lid lids[TCR_SIDES] = {tcr_lid_default(), tcr_lid_default()};
    lids[TCR_RIGHT].fissure_width_mm = 28.5;
    lids[TCR_RIGHT].mrd1_mm = 2.8;
    tcr_line_rule rule = tcr_line_rule_default();
    rule.shared = shared;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_line(set, &rule), TCR_OK);
    const bool wanted[TCR_SIDES] = {left, right};
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_description d = tcr_description_default();
        d.seed = 5 + (uint64_t)side;
        if (!wanted[side])
            continue;
        expect_status(tcr_set_add_eye(set, (tcr_side)side, &lids[side]), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, MAPS[side], 2), TCR_OK);
        expect_status(tcr_set_describe(set, (tcr_side)side, &d), TCR_OK);
    }
    return set;
}

static tcr_check *checked(const tcr_set *set, tcr_against against) {
    tcr_check *check = NULL;
    tcr_check_options options = tcr_check_options_default();
    options.against = against;
    expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
    return check;
}

/* ---- Lines made by hand ---------------------------------------------------------------------- */

/* The blended bottom length of a map of two zones: straight between their centres. */
static double blended(const tcr_zone zone[2], double u) {
    const double first = zone[0].to / 2.0, second = (zone[0].to + zone[1].to) / 2.0;
    const double share = fmin(fmax((u - first) / (second - first), 0.0), 1.0);
    return zone[0].length_mm + (zone[1].length_mm - zone[0].length_mm) * share;
}

/* The 201 tips of an eye, in the open front view: section 7. The mean lash has a test of its own,
 * tests/model/test_mean.c. */
static void tips_of(const tcr_set *set, tcr_side side, double x[PLACES], double y[PLACES]) {
    const tcr_bond bond = tcr_bond_default();
    tcr_mean_lash mean;
    expect_status(tcr_mean_lash_of(set, side, &mean), TCR_OK);
    for (int i = 0; i < PLACES; i++) {
        const double u = 0.05 + 0.9 * i / 200.0;
        const tcr_lash lash = tcr_mean_lash_at(&mean, u);
        const tcr_extension ext = tcr_make_extension("C", blended(MAPS[side], u), TCR_ON_TOP);
        tcr_vec3 tip;
        expect_status(tcr_tip(tcr_set_lid(set, side), 1.0, &lash, &ext, &bond, &tip), TCR_OK);
        x[i] = tip.x;
        y[i] = tip.y;
    }
}

/* The line through n tips: section 6, not robust, by GSL. */
typedef struct hand_made {
    double low, high, c[TCR_K];
} hand_made;

static hand_made line_through(const double *x, const double *y, size_t n) {
    hand_made line = {INFINITY, -INFINITY, {0}};
    for (size_t i = 0; i < n; i++) {
        line.low = fmin(line.low, x[i]);
        line.high = fmax(line.high, x[i]);
    }
    tcr_dense *dense = tcr_dense_new(x, y, n, 1e-4 * (double)n);
    tcr_dense_solve(dense, NULL, line.c);
    tcr_dense_free(dense);
    return line;
}

static double at(const hand_made *line, double x) {
    double y = 0.0;
    for (int j = 0; j < TCR_K; j++)
        y += line->c[j] * tcr_dense_basis(j, x, line->low, line->high);
    return y;
}

static void expect_line(const tcr_line *found, const hand_made *expected) {
    expect_near(found->x_min_mm, expected->low, 1e-12, "a tip at 20 mm");
    expect_near(found->x_max_mm, expected->high, 1e-12, "a tip at 20 mm");
    for (int i = 0; i <= 100; i++) {
        const double x = expected->low + (expected->high - expected->low) * i / 100.0;
        given("at %.17g", x);
        expect_near(tcr_line_at(found, x), at(expected, x), 1e-9, "the accuracy of the contract");
    }
}

/* ---- Claims ---------------------------------------------------------------------------------- */

CLAIM(two_eyes_share_the_line_through_the_402_places_of_both) {
    tcr_set *set = make_set(true, true, true);
    tcr_check *check = checked(set, TCR_FITTED);
    double x[2 * PLACES], y[2 * PLACES];
    tips_of(set, TCR_LEFT, x, y);
    tips_of(set, TCR_RIGHT, x + PLACES, y + PLACES);
    const hand_made line = line_through(x, y, 2 * PLACES);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        expect_status(eye->intended_status, TCR_OK);
        expect_line(&eye->intended_line, &line);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_set_may_ask_for_each_eyes_own_line) {
    tcr_set *set = make_set(true, true, false);
    tcr_check *check = checked(set, TCR_FITTED);
    hand_made line[TCR_SIDES];
    for (int side = 0; side < TCR_SIDES; side++) {
        double x[PLACES], y[PLACES];
        tips_of(set, (tcr_side)side, x, y);
        line[side] = line_through(x, y, PLACES);
        expect_line(&tcr_check_eye(check, (tcr_side)side)->intended_line, &line[side]);
    }
    ck_assert(fabs(at(&line[TCR_LEFT], 0.0) - at(&line[TCR_RIGHT], 0.0)) > 0.1); /* they differ */
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(one_eye_has_its_own_line_whatever_the_set_asks_for) {
    for (int shared = 0; shared < 2; shared++) {
        tcr_set *set = make_set(false, true, shared != 0);
        tcr_check *check = checked(set, TCR_FITTED);
        double x[PLACES], y[PLACES];
        tips_of(set, TCR_RIGHT, x, y);
        const hand_made line = line_through(x, y, PLACES);
        given("shared %d", shared);
        expect_line(&tcr_check_eye(check, TCR_RIGHT)->intended_line, &line);
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(lines_are_shared_unless_the_set_asks_for_its_own) {
    expect_true(tcr_line_rule_default().shared); /* source: model.md, section 7 */
}

/* Makes all lashes of the right eye too short for a bond, 1 mm behind the offset of 0.7 mm. */
static void shorten_right_eye(tcr_set *set) {
    for (size_t i = 0; i < tcr_set_lash_count(set, TCR_RIGHT); i++) {
        tcr_lash lash;
        expect_status(tcr_set_given_lash(set, TCR_RIGHT, i, &lash), TCR_OK);
        lash.length_mm = 1.5;
        expect_status(tcr_set_replace_lash(set, TCR_RIGHT, i, &lash), TCR_OK);
    }
}

CLAIM(an_eye_whose_mean_lash_cannot_bond_leaves_both_without_a_shared_line) {
    for (int shared = 0; shared < 2; shared++) {
        tcr_set *set = make_set(true, true, shared != 0);
        shorten_right_eye(set);
        tcr_check *check = checked(set, TCR_INTENDED);
        tcr_why why;
        given("shared %d", shared);
        /* Source: model.md, section 7. The right eye has no extension, the left one has. */
        ck_assert_uint_gt(tcr_check_eye(check, TCR_LEFT)->extended, 12);
        expect_status(tcr_check_eye(check, TCR_LEFT)->intended_status,
                      shared ? TCR_E_BOND : TCR_OK);
        expect_true(tcr_check_eye(check, TCR_RIGHT)->intended_status != TCR_OK);
        expect_status(tcr_check_eye(check, TCR_LEFT)->fitted_status, TCR_OK);
        expect_status(tcr_why_of(check, TCR_LEFT, &why), shared ? TCR_E_BOND : TCR_OK);
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(causes_of_a_shared_line_show_how_the_eyes_differ) {
    for (int shared = 0; shared < 2; shared++)
        for (int against = 0; against < 2; against++) {
            tcr_set *set = make_set(true, true, shared != 0);
            tcr_check *check = checked(set, (tcr_against)against);
            tcr_why why;
            given("shared %d, against %d", shared, against);
            expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
            /* Source: model.md, section 8: what the bare set keeps, against such a line alone. */
            if (shared && against == TCR_INTENDED)
                expect_same(why.eyes_differ_mm2, why.mean_square_mm2[0], "no arithmetic");
            else
                expect_nan(why.eyes_differ_mm2);
            tcr_check_free(check);
            tcr_set_free(set);
        }
}

/* ---- The tolerance --------------------------------------------------------------------------- */

CLAIM(the_tolerance_of_a_distance_is_three_minutes_of_arc) {
    /* Source: model.md, section 6, to two decimals. */
    const double distance[] = {300, 400, 573, 1000}, tolerance[] = {0.26, 0.35, 0.50, 0.87};
    for (int i = 0; i < 4; i++) {
        given("%g mm", distance[i]);
        expect_near(tcr_tolerance_from(distance[i]), tolerance[i], 0.005, "two decimals");
        /* Closed form: tan 3' = tan(pi / 3600). */
        expect_near(tcr_tolerance_from(distance[i]), distance[i] * tan(acos(-1.0) / 3600.0), 1e-14,
                    "a few roundings of 1");
        expect_near(tcr_distance_of(tcr_tolerance_from(distance[i])), distance[i], 1e-11,
                    "an inverse: roundings of 1000");
    }
    expect_near(tcr_distance_of(0.5), 573.0, 0.5, "whole millimetres");
}

CLAIM(the_viewers_distance_makes_the_tolerance_of_a_set) {
    tcr_set *set = make_set(true, false, true);
    tcr_line_rule rule = tcr_line_rule_default();
    expect_same(tcr_set_tolerance(set), 0.5, "the default; model.md, section 6");
    for (int i = 0; i < 3; i++) {
        const double seen_from[] = {300, 400, 1000};
        rule.seen_from_mm = seen_from[i];
        rule.tolerance_mm = 2.0; /* line_rule.h: the distance wins */
        expect_status(tcr_set_put_line(set, &rule), TCR_OK);
        expect_same(tcr_set_tolerance(set), tcr_tolerance_from(seen_from[i]), "the same call");
        tcr_check *check = checked(set, TCR_INTENDED);
        const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
        size_t beyond = 0;
        for (size_t k = 0; k < eye->lashes; k++)
            beyond += eye->lash[k].status == TCR_OK &&
                      fabs(eye->lash[k].deviation_mm) > tcr_tolerance_from(seen_from[i]);
        given("seen from %g mm", seen_from[i]);
        expect_count(eye->staggered, beyond);
        expect_same(eye->intended.tolerance_mm, tcr_tolerance_from(seen_from[i]), "the same call");
        ck_assert_uint_gt(beyond, 0);
        tcr_check_free(check);
    }
    expect_status(tcr_set_put_tolerance(set, 0.7), TCR_OK); /* set.h: no distance then makes it */
    expect_same(tcr_set_tolerance(set), 0.7, "given");
    expect_nan(tcr_set_line(set)->seen_from_mm);
    tcr_set_free(set);
}

CLAIM(rules_out_of_range_are_refused_and_the_set_keeps_its_own) {
    tcr_set *set = make_set(true, false, true);
    const double tolerance[] = {0.049, 5.01, NAN, INFINITY},
                 distance[] = {59.9, 5701, -1, INFINITY};
    for (int i = 0; i < 4; i++) { /* source of the ranges: line_rule.h */
        tcr_line_rule rule = tcr_line_rule_default();
        rule.tolerance_mm = tolerance[i];
        given("tolerance %g", tolerance[i]);
        expect_status(tcr_set_put_line(set, &rule), TCR_E_RANGE);
        rule = tcr_line_rule_default();
        rule.seen_from_mm = distance[i];
        given("distance %g", distance[i]);
        expect_status(tcr_set_put_line(set, &rule), TCR_E_RANGE);
    }
    expect_same(tcr_set_tolerance(set), 0.5, "as it was");
    expect_status(tcr_line_rule_validate(NULL, NULL), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &two_eyes_share_the_line_through_the_402_places_of_both,
        &a_set_may_ask_for_each_eyes_own_line,
        &one_eye_has_its_own_line_whatever_the_set_asks_for,
        &lines_are_shared_unless_the_set_asks_for_its_own,
        &an_eye_whose_mean_lash_cannot_bond_leaves_both_without_a_shared_line,
        &causes_of_a_shared_line_show_how_the_eyes_differ,
        &the_tolerance_of_a_distance_is_three_minutes_of_arc,
        &the_viewers_distance_makes_the_tolerance_of_a_set,
        &rules_out_of_range_are_refused_and_the_set_keeps_its_own,
    };
    return RUN_CLAIMS("intended", claims);
}
