/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Checks that compute parts, and checks that are run again in the memory they have: each result
 * equals that of a new, full check to the last bit.
 */
#include <tipcrest/check.h>

#include <math.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"
#include "support/recipe.h"

static const char *const SAME = "the same operations in the same order";

static tcr_recipe recipe;

static tcr_set *draw_set(gsl_rng *rng, const tcr_allocator *allocator) {
    tcr_draw_recipe(rng, &recipe);
    return tcr_recipe_build(&recipe, allocator);
}

/* ---- Every member of a result ---------------------------------------------------------------- */

static void expect_doubles(const void *got, const void *expected, size_t size) {
    for (size_t at = 0; at < size; at += sizeof(double)) {
        double a, b;
        memcpy(&a, (const char *)got + at, sizeof a);
        memcpy(&b, (const char *)expected + at, sizeof b);
        expect_same(a, b, SAME);
    }
}
#define EXPECT_DOUBLES(got, expected) expect_doubles(&(got), &(expected), sizeof(got))

static void expect_choice(const tcr_choice *got, const tcr_choice *expected) {
    expect_same(got->length_mm, expected->length_mm, SAME);
    expect_count(got->curl, expected->curl);
    expect_same(got->diameter_mm, expected->diameter_mm, SAME);
    expect_count(got->fan, expected->fan);
    expect_same(got->spread_rad, expected->spread_rad, SAME);
    expect_count(got->placement, expected->placement);
    expect_same(got->moved_out_mm, expected->moved_out_mm, SAME);
}

static void expect_remedy(const tcr_remedy *got, const tcr_remedy *expected) {
    expect_same(got->length_mm, expected->length_mm, SAME);
    expect_same(got->deviation_mm, expected->deviation_mm, SAME);
    expect_count(got->sizes, expected->sizes);
}

static void expect_lash(const tcr_lash_result *got, const tcr_lash_result *expected) {
    expect_status(got->status, expected->status);
    expect_choice(&got->choice, &expected->choice);
    EXPECT_DOUBLES(got->attachment, expected->attachment);
    EXPECT_DOUBLES(got->stance, expected->stance);
    EXPECT_DOUBLES(got->tip, expected->tip);
    EXPECT_DOUBLES(got->seen, expected->seen);
    expect_same(got->line_mm, expected->line_mm, SAME);
    expect_same(got->deviation_mm, expected->deviation_mm, SAME);
    expect_same(got->across_mm, expected->across_mm, SAME);
    expect_true(got->staggered == expected->staggered);
}

static void expect_evenness(const tcr_evenness *got, const tcr_evenness *expected) {
    expect_count(got->lashes, expected->lashes);
    EXPECT_DOUBLES(got->upright, expected->upright);
    EXPECT_DOUBLES(got->across, expected->across);
    expect_same(got->tolerance_mm, expected->tolerance_mm, SAME);
    expect_same(got->within_tolerance, expected->within_tolerance, SAME);
    EXPECT_DOUBLES(got->layer_offset_mm, expected->layer_offset_mm);
}

/* What holds whatever parts were asked for. */
static void expect_places(const tcr_eye_result *got, const tcr_eye_result *expected) {
    expect_count(got->side, expected->side);
    expect_count(got->lashes, expected->lashes);
    expect_count(got->extended, expected->extended);
    expect_same(got->largest_gap_mm, expected->largest_gap_mm, SAME);
    expect_true(got->too_few == expected->too_few);
    expect_count(got->staggered, expected->staggered);
    for (size_t i = 0; i < got->lashes; i++)
        expect_lash(&got->lash[i], &expected->lash[i]);
}

static void expect_fitted(const tcr_eye_result *got, const tcr_eye_result *expected) {
    expect_status(got->fitted_status, expected->fitted_status);
    EXPECT_DOUBLES(got->fitted_line, expected->fitted_line);
    expect_evenness(&got->fitted, &expected->fitted);
}

static void expect_intended(const tcr_eye_result *got, const tcr_eye_result *expected) {
    expect_status(got->intended_status, expected->intended_status);
    EXPECT_DOUBLES(got->intended_line, expected->intended_line);
    expect_evenness(&got->intended, &expected->intended);
}

static void expect_views(const tcr_eye_result *got, const tcr_eye_result *expected) {
    for (int view = 0; view < TCR_VIEWS; view++)
        expect_status(got->view_status[view], expected->view_status[view]);
    EXPECT_DOUBLES(got->view_offset_mm, expected->view_offset_mm);
}

static void expect_remedies(const tcr_eye_result *got, const tcr_eye_result *expected) {
    for (size_t i = 0; i < got->lashes; i++)
        expect_remedy(&got->lash[i].remedy, &expected->lash[i].remedy);
}

static void expect_assumptions(const tcr_eye_result *got, const tcr_eye_result *expected) {
    expect_count(got->assumptions, expected->assumptions);
    for (size_t i = 0; i < got->assumptions; i++) {
        expect_count(got->assumption[i].field, expected->assumption[i].field);
        expect_count(got->assumption[i].count, expected->assumption[i].count);
        expect_same(got->assumption[i].per_unit, expected->assumption[i].per_unit, SAME);
    }
}

static void expect_eye(const tcr_eye_result *got, const tcr_eye_result *expected) {
    expect_places(got, expected);
    expect_fitted(got, expected);
    expect_intended(got, expected);
    expect_views(got, expected);
    expect_remedies(got, expected);
    expect_assumptions(got, expected);
}

static void expect_symmetry(const tcr_check *got, const tcr_check *expected) {
    tcr_symmetry a = {0}, b = {0};
    expect_status(tcr_check_symmetry(got, &a), tcr_check_symmetry(expected, &b));
    EXPECT_DOUBLES(a, b);
}

static void expect_check(const tcr_check *got, const tcr_check *expected) {
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *a = tcr_check_eye(got, (tcr_side)side),
                             *b = tcr_check_eye(expected, (tcr_side)side);
        expect_true((a == NULL) == (b == NULL));
        if (a != NULL)
            expect_eye(a, b);
    }
    expect_symmetry(got, expected);
    expect_true(tcr_check_set(got) == tcr_check_set(expected));
    expect_count(tcr_check_parts(got), tcr_check_parts(expected));
    expect_same(tcr_check_tolerance(got), tcr_check_tolerance(expected), SAME);
}

/* ---- Run again ------------------------------------------------------------------------------- */

static tcr_check_options draw_options(gsl_rng *rng, tcr_line_options *line) {
    tcr_check_options options = tcr_check_options_default();
    *line = tcr_line_options_default();
    options.against = (tcr_against)gsl_rng_uniform_int(rng, 2);
    options.has_view = gsl_rng_uniform_int(rng, 2) == 0;
    options.view = tcr_view_named((tcr_named_view)gsl_rng_uniform_int(rng, TCR_VIEWS));
    if (gsl_rng_uniform_int(rng, 2) == 0)
        options.parts = (unsigned)gsl_rng_uniform_int(rng, TCR_PART_ALL + 1);
    if (gsl_rng_uniform_int(rng, 2) == 0) {
        line->robust = gsl_rng_uniform_int(rng, 2) == 0;
        line->penalty = tcr_draw_between(rng, 1e-5, 1e-2);
        options.line = line;
        options.tolerance_mm = tcr_draw_between(rng, 0.05, 2.0);
    }
    return options;
}

/* Runs a check again and holds it against a new one; whether it succeeded. */
static bool run_both(tcr_check *check, const tcr_set *set, const tcr_check_options *options) {
    tcr_check *anew = NULL;
    tcr_error fault = tcr_error_none(), fault_anew = tcr_error_none();
    const tcr_status expected = tcr_check_new(set, options, &anew, &fault_anew);
    const tcr_status got = tcr_check_again(check, set, options, &fault);
    expect_status(got, expected);
    expect_count(fault.side, fault_anew.side);
    expect_count(fault.lash, fault_anew.lash);
    expect_same(fault.value, fault_anew.value, SAME);
    if (got == TCR_OK) {
        expect_check(check, anew);
    } else {
        tcr_symmetry symmetry;
        expect_true(tcr_check_eye(check, TCR_LEFT) == NULL &&
                    tcr_check_eye(check, TCR_RIGHT) == NULL); /* source: check.h */
        expect_status(tcr_check_symmetry(check, &symmetry), TCR_E_MISSING);
    }
    tcr_check_free(anew);
    return got == TCR_OK;
}

/* A set that can be checked, to begin with. */
static tcr_check *begin_check(gsl_rng *rng, const tcr_allocator *allocator, tcr_set **set) {
    tcr_check *check = NULL;
    for (;;) {
        *set = draw_set(rng, allocator);
        if (tcr_check_new(*set, NULL, &check, NULL) == TCR_OK)
            return check;
        tcr_set_free(*set);
    }
}

/* Makes some sets impossible to check: an id used twice, a lash too short for what its row gives,
 * an eye without lashes. */
static void spoil(tcr_set *set, int round) {
    const tcr_side other = recipe.first == TCR_LEFT ? TCR_RIGHT : TCR_LEFT;
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_MIDDLE);
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 11.0};
    if (round % 10 == 0)
        expect_status(tcr_set_add_lash(set, recipe.first, "n002", &lash, NULL), TCR_OK);
    lash.length_mm = 1.2;
    if (round % 10 == 3)
        expect_status(tcr_set_add_lash(set, recipe.first, "short", &lash, &wish), TCR_OK);
    if (round % 10 == 6)
        (void)tcr_set_remove_eye(set, other);
    if (round % 10 == 6)
        expect_status(tcr_set_add_eye(set, other, NULL), TCR_OK);
}

CLAIM(a_check_run_again_on_other_sets_equals_a_new_one) {
    gsl_rng *rng = tcr_make_rng(1);
    tcr_set *begun;
    tcr_check *check = begin_check(rng, NULL, &begun);
    int succeeded = 0, failed = 0, two_eyes = 0;
    for (int round = 0; round < 200; round++) {
        tcr_line_options line;
        tcr_set *set = draw_set(rng, NULL);
        spoil(set, round);
        for (int again = 0; again < 3; again++) {
            const tcr_check_options options = draw_options(rng, &line);
            given("round %d, %d", round, again);
            const bool whole = run_both(check, set, &options);
            succeeded += whole;
            failed += !whole;
            two_eyes += whole && tcr_set_eyes(set, NULL) == 2;
        }
        tcr_set_free(set);
    }
    /* All kinds have to come up for the claim to mean anything. */
    ck_assert_int_gt(succeeded, 100);
    ck_assert_int_gt(failed, 30);
    ck_assert_int_gt(two_eyes, 30);
    tcr_check_free(check);
    tcr_set_free(begun);
    gsl_rng_free(rng);
}

/* One change that an intended line depends on, or not. */
static void change_one(gsl_rng *rng, tcr_set *set) {
    tcr_side sides[TCR_SIDES];
    (void)tcr_set_eyes(set, sides);
    const size_t i = gsl_rng_uniform_int(rng, tcr_set_lash_count(set, sides[0]));
    tcr_lash lash = *tcr_set_lash(set, sides[0], i), mean = *tcr_set_mean_lash(set);
    tcr_lid lid = *tcr_set_lid(set, sides[0]);
    tcr_bond bond = *tcr_set_bond(set);
    tcr_layering rule = *tcr_set_layering(set);
    const tcr_profile profile = tcr_draw_profile(rng, 0.0, 40.0);
    const tcr_curl curl = {"X", 1, NULL, &profile};
    size_t zones;
    const tcr_zone *map;
    tcr_zone zone[TCR_RECIPE_ZONES];
    switch (gsl_rng_uniform_int(rng, 11)) {
    case 0:
        lash.pitch_rad = tcr_draw_between(rng, -0.5, 0.5);
        expect_status(tcr_set_replace_lash(set, sides[0], i, &lash), TCR_OK);
        break;
    case 1:
        mean.pitch_rad = tcr_draw_between(rng, -0.5, 0.5);
        expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
        break;
    case 8: /* the shape alone: what a kept bed depends on */
        mean.turn_rad = tcr_draw_between(rng, 0.5, 1.5);
        expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
        break;
    case 9:
        mean.root_diameter_mm = tcr_draw_between(rng, 0.07, 0.12);
        expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
        break;
    case 10:
        bond.offset_mm = tcr_draw_between(rng, 0.3, 1.0);
        expect_status(tcr_set_put_bond(set, &bond), TCR_OK);
        break;
    case 2:
        lid.mrd1_mm = tcr_draw_between(rng, 2.0, 4.0);
        expect_status(tcr_set_replace_lid(set, sides[0], &lid), TCR_OK);
        break;
    case 3:
        bond.glue_mm = tcr_draw_between(rng, 0.0, 0.1);
        expect_status(tcr_set_put_bond(set, &bond), TCR_OK);
        break;
    case 4:
        rule.diameter_mm = tcr_draw_between(rng, 0.03, 0.2);
        expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
        break;
    case 5:
        expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
        break;
    case 6:
        map = tcr_set_map(set, sides[0], &zones);
        memcpy(zone, map, zones * sizeof *zone);
        zone[gsl_rng_uniform_int(rng, zones)].length_mm = 9.0;
        expect_status(tcr_set_put_map(set, sides[0], zone, zones), TCR_OK);
        break;
    default:
        expect_status(tcr_set_put_intended(set, sides[0], NULL, 0), TCR_OK);
    }
}

CLAIM(a_check_run_again_on_the_same_set_changed_equals_a_new_one) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int round = 0; round < 20; round++) {
        tcr_set *set;
        tcr_check *check = begin_check(rng, NULL, &set);
        tcr_check_options options = tcr_check_options_default();
        options.has_view = true;
        for (int change = 0; change < 20; change++) {
            change_one(rng, set);
            given("round %d, change %d", round, change);
            if (gsl_rng_uniform_int(rng, 4) == 0)
                options.view.opening = tcr_draw_between(rng, 0.0, 1.0);
            (void)run_both(check, set, &options);
        }
        tcr_check_free(check);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

CLAIM(a_check_that_runs_out_of_memory_succeeds_once_there_is_some) {
    for (unsigned long seed = 1; seed <= 5; seed++) {
        gsl_rng *rng = tcr_make_rng(seed);
        tcr_counted counted = {0};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_set *small, *large = NULL;
        tcr_check *check = begin_check(rng, &allocator, &small);
        do {
            tcr_set_free(large);
            large = draw_set(rng, NULL);
        } while (tcr_set_lash_count(large, recipe.first) < 150 ||
                 tcr_check_again(check, large, NULL, NULL) != TCR_OK);
        tcr_check_free(check);
        expect_status(tcr_check_new(small, NULL, &check, NULL), TCR_OK);
        size_t failures = 0;
        tcr_status status = TCR_E_MEMORY;
        while (status == TCR_E_MEMORY) {
            counted.calls = 0;
            counted.fail_at = ++failures;
            status = tcr_check_again(check, large, NULL, NULL);
            counted.fail_at = 0;
            given("seed %lu, %zu failures", seed, failures);
            if (status == TCR_E_MEMORY)
                expect_true(tcr_check_eye(check, recipe.first) == NULL);
            if (failures % 3 == 0)
                expect_true(run_both(check, small, NULL));
        }
        expect_status(status, TCR_OK);
        ck_assert_int_gt((int)failures, 5);
        expect_true(run_both(check, large, NULL));
        tcr_check_free(check);
        tcr_set_free(small);
        tcr_set_free(large);
        expect_count(counted.blocks, 0);
        gsl_rng_free(rng);
    }
}

CLAIM(wrong_options_leave_no_eyes_and_the_check_can_be_used_again) {
    gsl_rng *rng = tcr_make_rng(3);
    tcr_set *set;
    tcr_check *check = begin_check(rng, NULL, &set);
    tcr_line_options line = tcr_line_options_default();
    tcr_check_options wrong[6];
    for (int i = 0; i < 6; i++)
        wrong[i] = tcr_check_options_default();
    wrong[0].tolerance_mm = 0.04; /* sources: check.h, line.h */
    wrong[1].tolerance_mm = 5.01;
    wrong[2].parts = TCR_PART_ALL + 1;
    wrong[3].line = &line;
    wrong[4].against = (tcr_against)2;
    wrong[5].tolerance_mm = INFINITY;
    line.penalty = -1.0;
    for (int i = 0; i < 6; i++) {
        given("options %d", i);
        expect_true(!run_both(check, set, &wrong[i]));
        expect_true(run_both(check, set, NULL));
    }
    expect_status(tcr_check_again(NULL, set, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_check_again(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    tcr_check_free(check);
    tcr_set_free(set);
    gsl_rng_free(rng);
}

/* ---- Parts ----------------------------------------------------------------------------------- */

static void expect_no_fitted(const tcr_eye_result *eye) {
    expect_status(eye->fitted_status, TCR_E_MISSING); /* source: check.h */
    expect_count(eye->fitted.lashes, 0);
}

static void expect_no_intended(const tcr_eye_result *eye) {
    expect_status(eye->intended_status, TCR_E_MISSING);
    expect_count(eye->intended.lashes, 0);
}

static void expect_no_views(const tcr_eye_result *eye) {
    for (int view = 0; view < TCR_VIEWS; view++) {
        expect_status(eye->view_status[view], TCR_E_MISSING);
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            expect_nan(eye->view_offset_mm[view][layer]);
    }
}

static void expect_no_remedies(const tcr_eye_result *eye) {
    for (size_t i = 0; i < eye->lashes; i++) {
        expect_nan(eye->lash[i].remedy.length_mm);
        expect_nan(eye->lash[i].remedy.deviation_mm);
        expect_count(eye->lash[i].remedy.sizes, 0);
    }
}

static void expect_parts(const tcr_eye_result *got, const tcr_eye_result *full, unsigned parts) {
    expect_places(got, full);
    if (parts & TCR_PART_FITTED)
        expect_fitted(got, full);
    else
        expect_no_fitted(got);
    if (parts & TCR_PART_INTENDED)
        expect_intended(got, full);
    else
        expect_no_intended(got);
    if (parts & TCR_PART_VIEWS)
        expect_views(got, full);
    else
        expect_no_views(got);
    if (parts & TCR_PART_REMEDIES)
        expect_remedies(got, full);
    else
        expect_no_remedies(got);
    if (parts & TCR_PART_ASSUMPTIONS)
        expect_assumptions(got, full);
    else
        expect_count(got->assumptions, 0);
}

CLAIM(parts_equal_those_of_a_full_check_and_the_others_are_absent) {
    gsl_rng *rng = tcr_make_rng(4);
    for (int round = 0; round < 10; round++) {
        tcr_set *set;
        tcr_check *full = begin_check(rng, NULL, &set), *check = NULL;
        tcr_check_options options = tcr_check_options_default();
        options.against = (tcr_against)(round % 2);
        expect_status(tcr_check_again(full, set, &options, NULL), TCR_OK);
        for (options.parts = 0; options.parts <= TCR_PART_ALL; options.parts++) {
            expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
            given("round %d, parts %u", round, options.parts);
            /* The line of 'against' is computed in any case, and views need the fitted one. */
            unsigned parts = options.parts;
            parts |= options.against == TCR_FITTED ? TCR_PART_FITTED : TCR_PART_INTENDED;
            parts |= parts & TCR_PART_VIEWS ? (unsigned)TCR_PART_FITTED : 0u;
            expect_count(tcr_check_parts(check), parts); /* source: check.h */
            for (int side = 0; side < TCR_SIDES; side++)
                if (tcr_set_has_eye(set, (tcr_side)side))
                    expect_parts(tcr_check_eye(check, (tcr_side)side),
                                 tcr_check_eye(full, (tcr_side)side), parts);
            if (parts & TCR_PART_FITTED)
                expect_symmetry(check, full);
            tcr_check_free(check);
        }
        tcr_check_free(full);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

/* ---- Line options and tolerance -------------------------------------------------------------- */

/* The tips of an eye that carry an extension, as seen, fitted by tcr_line_fit. */
static void expect_line_of_tips(const tcr_eye_result *eye, const tcr_line_options *options,
                                double tolerance_mm) {
    static double x[TCR_RECIPE_LASHES], y[TCR_RECIPE_LASHES], scratch[TCR_RECIPE_LASHES];
    size_t n = 0, within = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        if (eye->lash[i].status != TCR_OK)
            continue;
        x[n] = eye->lash[i].seen.x;
        y[n++] = eye->lash[i].seen.y;
        within += fabs(eye->lash[i].deviation_mm) <= tolerance_mm;
        expect_true(eye->lash[i].staggered == (fabs(eye->lash[i].deviation_mm) > tolerance_mm));
    }
    tcr_line line;
    expect_status(tcr_line_fit(x, y, n, options, scratch, &line), eye->fitted_status);
    if (eye->fitted_status != TCR_OK)
        return;
    EXPECT_DOUBLES(eye->fitted_line, line);
    expect_same(eye->fitted.tolerance_mm, tolerance_mm, "no arithmetic");
    expect_near(eye->fitted.within_tolerance * (double)n, (double)within, 1e-9, "rounding");
}

CLAIM(line_options_and_tolerance_are_those_of_the_fitted_line_and_its_figures) {
    gsl_rng *rng = tcr_make_rng(5);
    for (int round = 0; round < 30; round++) {
        tcr_set *set;
        tcr_check *check = begin_check(rng, NULL, &set);
        tcr_line_options line = tcr_line_options_default();
        tcr_check_options options = tcr_check_options_default();
        line.robust = round % 2 == 0;
        line.penalty = tcr_draw_between(rng, 1e-5, 1e-2);
        line.huber = tcr_draw_between(rng, 1.0, 3.0);
        line.sigma_floor_mm = tcr_draw_between(rng, 0.05, 0.5);
        options.line = &line;
        options.tolerance_mm = tcr_draw_between(rng, 0.05, 2.0);
        expect_status(tcr_check_again(check, set, &options, NULL), TCR_OK);
        expect_same(tcr_check_tolerance(check), options.tolerance_mm, "no arithmetic");
        expect_line_of_tips(tcr_check_eye(check, recipe.first), &line, options.tolerance_mm);
        expect_status(tcr_check_again(check, set, NULL, NULL), TCR_OK);
        expect_line_of_tips(tcr_check_eye(check, recipe.first), NULL, tcr_set_tolerance(set));
        tcr_check_free(check);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_check_run_again_on_other_sets_equals_a_new_one,
        &a_check_run_again_on_the_same_set_changed_equals_a_new_one,
        &a_check_that_runs_out_of_memory_succeeds_once_there_is_some,
        &wrong_options_leave_no_eyes_and_the_check_can_be_used_again,
        &parts_equal_those_of_a_full_check_and_the_others_are_absent,
        &line_options_and_tolerance_are_those_of_the_fitted_line_and_its_figures,
    };
    return RUN_CLAIMS("check_again", claims);
}
