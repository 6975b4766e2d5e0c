/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to do about a staggered lash, by brute force over the tray; and how a check fails. */
#include <tipcrest/check.h>

#include <math.h>
#include <stdint.h>

#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/make.h"
#include "support/recipe.h"

static const tcr_zone MAP[] = {
    {.to = 0.35, .length_mm = 9.0, .curl = "C"},
    {.to = 0.75, .length_mm = 12.0, .curl = "D"},
    {.to = 1.0, .length_mm = 10.0, .curl = "M"},
};

/* One eye, all lengths of a described eye, so that many tips stray. */
static tcr_set *make_set(void) {
    tcr_set *set = NULL;
    tcr_description d = tcr_description_default();
    d.seed = 11;
    d.count = 150;
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = 0.0;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, MAP, 3), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    return set;
}

/* What is left of the deviation of lash i with another length. */
static double left_with(const tcr_check *check, tcr_side side, const tcr_line *line, size_t i,
                        double length_mm) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_view view = tcr_check_view(check);
    tcr_choice choice = tcr_check_eye(check, side)->lash[i].choice;
    choice.length_mm = length_mm;
    const tcr_extension ext = tcr_set_extension(set, &choice);
    const tcr_bond bond = tcr_set_bond_of(set, &choice);
    tcr_vec3 tip;
    if (tcr_tip(tcr_set_lid(set, side), view.opening, tcr_set_lash(set, side, i), &ext, &bond,
                &tip) != TCR_OK)
        return INFINITY;
    const tcr_vec2 seen = tcr_view_project(&view, tip);
    return seen.y - tcr_line_at(line, seen.x);
}

/* Holds the remedy of every staggered lash to the best of the whole tray. */
static void expect_best(const tcr_check *check, const tcr_line *line) {
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    const tcr_tray *tray = tcr_set_tray(tcr_check_set(check));
    size_t staggered = 0, changed = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash_result *r = &eye->lash[i];
        if (!r->staggered)
            continue;
        staggered++;
        size_t best = 0, present = 0;
        for (size_t t = 0; t < tray->count; t++) {
            const double length = tray->length_mm[t];
            if (fabs(left_with(check, TCR_LEFT, line, i, length)) <
                fabs(left_with(check, TCR_LEFT, line, i, tray->length_mm[best])))
                best = t;
            if (length == r->choice.length_mm)
                present = t;
        }
        given("lash %zu of %.17g mm", i, r->choice.length_mm);
        /* Source: brute force over the tray. */
        expect_same(r->remedy.length_mm, tray->length_mm[best], "no arithmetic");
        expect_near(r->remedy.deviation_mm,
                    left_with(check, TCR_LEFT, line, i, tray->length_mm[best]), 1e-13,
                    "the same operations");
        expect_count(r->remedy.sizes, (intmax_t)best - (intmax_t)present);
        changed += r->remedy.sizes != 0;
    }
    ck_assert_int_gt((int)staggered, 10);
    ck_assert_int_gt((int)changed, 10);
}

CLAIM(a_remedy_against_the_fitted_line_is_the_best_length_of_the_tray) {
    tcr_set *set = make_set();
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_best(check, &tcr_check_eye(check, TCR_LEFT)->fitted_line);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* ---- Random sets ----------------------------------------------------------------------------- */

/* A lash that is staggered, its remedy, and what stands about it. */
typedef struct case_of {
    const tcr_check *check;
    tcr_side side;
    const tcr_line *line;
    size_t lash;
    const tcr_lash_result *r;
    double tolerance_mm;
    const tcr_tray *tray;
} case_of;

static double off(const case_of *c, double length_mm) {
    return left_with(c->check, c->side, c->line, c->lash, length_mm);
}

/* Counts over all cases. */
static int cases, best_of_all, staggered_still;

/* With a tray: remedy.c promises that neither neighbour comes nearer, and where the tip stays
 * staggered, that no length of the tray does. */
static void expect_promise_of_tray(const case_of *c) {
    const double left = fabs(c->r->remedy.deviation_mm);
    double best = INFINITY, below = NAN, above = NAN;
    for (size_t t = 0; t < c->tray->count; t++) {
        const double length = c->tray->length_mm[t];
        best = fmin(best, fabs(off(c, length)));
        if (length < c->r->remedy.length_mm - 1e-9)
            below = length;
        if (length > c->r->remedy.length_mm + 1e-9 && isnan(above))
            above = length;
    }
    expect_true(isnan(below) || fabs(off(c, below)) >= left - 1e-8);
    expect_true(isnan(above) || fabs(off(c, above)) >= left - 1e-8);
    if (left > c->tolerance_mm)
        expect_within(left, 0.0, fmin(best, fabs(c->r->deviation_mm)) + 1e-8,
                      "brute force over the tray; gains below 1e-9 mm are none");
    best_of_all += left <= best + 1e-8;
}

/* Without one: on the line at the nearest crossing; where no step of 0.25 mm from the present
 * length on crosses it, at no more than the least distance of all steps. */
static void expect_promise_without_tray(const case_of *c) {
    const double present = c->r->choice.length_mm, left = fabs(c->r->remedy.deviation_mm);
    const double moved = fabs(c->r->remedy.length_mm - present);
    const double start = off(c, present);
    double least = fabs(start), crossing = INFINITY;
    for (int direction = -1; direction <= 1; direction += 2) {
        double before = start;
        for (int i = 1; i <= 108; i++) {
            const double length = fmin(fmax(present + direction * 0.25 * i, 3.0), 30.0);
            const double here = off(c, length);
            if ((here > 0.0) != (before > 0.0))
                crossing = fmin(crossing, 0.25 * i);
            least = fmin(least, fabs(here));
            before = here;
        }
    }
    expect_count(c->r->remedy.sizes, 0); /* source: check.h */
    if (isinf(crossing)) {
        expect_within(left, 0.0, least + 1e-8, "brute force in steps of 0.25 mm");
        for (int i = -25; i <= 25; i++) {
            const double length = fmin(fmax(c->r->remedy.length_mm + 0.01 * i, 3.0), 30.0);
            expect_within(fabs(off(c, length)), left - 1e-8, INFINITY, "none about it is nearer");
        }
        return;
    }
    best_of_all++;
    expect_near(left, 0.0, 1e-12, "a root, times the slope of about 1");
    expect_within(moved, crossing - 0.25 - 1e-9, crossing + 1e-9, "the step with the crossing");
}

static void expect_promises(const tcr_check *check, tcr_side side) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    case_of c = {check,
                 side,
                 &eye->fitted_line,
                 0,
                 NULL,
                 tcr_check_tolerance(check),
                 tcr_set_tray(tcr_check_set(check))};
    if (tcr_check_against(check) == TCR_INTENDED)
        c.line = &eye->intended_line;
    for (c.lash = 0; c.lash < eye->lashes; c.lash++) {
        c.r = &eye->lash[c.lash];
        if (!c.r->staggered)
            continue;
        given("lash %zu of %.17g mm, tolerance %.17g", c.lash, c.r->choice.length_mm,
              c.tolerance_mm);
        cases++;
        staggered_still += fabs(c.r->remedy.deviation_mm) > c.tolerance_mm;
        expect_within(fabs(c.r->remedy.deviation_mm), 0.0, fabs(c.r->deviation_mm),
                      "never worse than as it is");
        expect_near(c.r->remedy.deviation_mm, off(&c, c.r->remedy.length_mm), 1e-12,
                    "the same operations");
        if (c.tray->count > 0)
            expect_promise_of_tray(&c);
        else
            expect_promise_without_tray(&c);
    }
}

CLAIM(a_remedy_against_the_intended_line_in_the_artists_view_keeps_what_is_promised) {
    tcr_set *set = make_set();
    tcr_check *check = NULL;
    tcr_check_options options = tcr_check_options_default();
    options.against = TCR_INTENDED;
    options.has_view = true;
    options.view = tcr_view_named(TCR_ARTIST); /* the longer, the lower */
    expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
    cases = best_of_all = staggered_still = 0;
    expect_promises(check, TCR_LEFT);
    ck_assert_int_gt(cases, 10);
    ck_assert_int_gt(best_of_all, cases * 9 / 10);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* Checks random sets, with a tray or without. */
static void check_random_sets(bool with_tray, int sets) {
    static tcr_recipe recipe;
    gsl_rng *rng = tcr_make_rng(1);
    cases = best_of_all = staggered_still = 0;
    for (int checked = 0; checked < sets;) {
        tcr_check *check = NULL;
        tcr_check_options options = tcr_check_options_default();
        options.against = (tcr_against)(checked % 2);
        tcr_draw_recipe(rng, &recipe);
        tcr_set *set = tcr_recipe_build(&recipe, NULL);
        if ((recipe.tray.count > 0) == with_tray &&
            tcr_check_new(set, &options, &check, NULL) == TCR_OK) {
            expect_promises(check, recipe.first);
            checked++;
        }
        tcr_check_free(check);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

CLAIM(a_remedy_of_random_sets_keeps_what_is_promised_over_the_whole_tray) {
    check_random_sets(true, 150);
    ck_assert_int_gt(cases, 1000);
    ck_assert_int_gt(staggered_still, 50);
    /* Earlier result of this project: 16 of 6897 end at a crossing that is not the best of all. */
    ck_assert_int_gt(best_of_all, cases * 98 / 100);
}

CLAIM(without_a_tray_a_remedy_is_the_exact_length) {
    check_random_sets(false, 60);
    ck_assert_int_gt(cases, 500);
    ck_assert_int_gt(best_of_all, cases / 2);
    ck_assert_int_lt(best_of_all, cases); /* some tips cannot reach the line */
}

CLAIM(with_one_length_in_the_tray_there_is_nothing_to_do) {
    tcr_set *set = NULL;
    const tcr_tray one = {.count = 1, .length_mm = {11.0}};
    const tcr_zone whole = {.to = 1.0, .length_mm = 11.0, .curl = "C"};
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = 0.0;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_tray(set, &one), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &whole, 1), TCR_OK);
    for (int i = 0; i < 30; i++) {
        const tcr_lash lash = tcr_lash_unknown(0.05 + 0.03 * i, (tcr_layer)(i % 3));
        const char id[] = {'a', (char)('0' + i), '\0'};
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    ck_assert_int_gt((int)eye->staggered, 0); /* equal lengths stagger */
    for (size_t i = 0; i < eye->lashes; i++)
        if (eye->lash[i].staggered) {
            expect_same(eye->lash[i].remedy.length_mm, 11.0, "the only one"); /* check.h */
            expect_count(eye->lash[i].remedy.sizes, 0);
            expect_near(eye->lash[i].remedy.deviation_mm, eye->lash[i].deviation_mm, 1e-14, "same");
        }
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_worn_length_outside_the_tray_is_counted_from_where_it_would_lie) {
    tcr_set *set = make_set();
    /* 14.5 is not in the tray 5, 6, 7 ...: 14 is one size shorter, 12 three. */
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 14.5};
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_MIDDLE);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "own", &lash, &wish), TCR_OK);
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    const tcr_lash_result *r = &tcr_check_eye(check, TCR_LEFT)->lash[150];
    expect_true(r->staggered);
    /* Source: by hand, check.h: steps of the tray from the present length. */
    expect_count(r->remedy.sizes, (int)r->remedy.length_mm - 15);
    ck_assert(r->remedy.length_mm < 14.5);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(an_incomplete_set_cannot_be_checked) {
    tcr_set *set = NULL;
    tcr_check *check = NULL;
    tcr_error fault;
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_MISSING); /* no eye: check.h */
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_MAP);
    expect_count(fault.side, TCR_RIGHT);
    expect_true(fault.lash == SIZE_MAX);
    expect_status(tcr_set_put_map(set, TCR_RIGHT, MAP, 3), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_MISSING); /* no lash */
    expect_count(fault.side, TCR_RIGHT);
    expect_status(tcr_set_add_lash(set, TCR_RIGHT, "a", &lash, NULL), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_RIGHT, "b", &lash, NULL), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_RIGHT, "a", &lash, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_DUPLICATE);
    expect_count(fault.side, TCR_RIGHT);
    expect_count(fault.lash, 2);
    expect_true(check == NULL); /* outputs stay */
    tcr_set_free(set);
}

CLAIM(a_length_of_the_rule_that_the_tray_lacks_is_told_with_its_lash) {
    tcr_set *set = NULL;
    tcr_check *check = NULL;
    tcr_error fault;
    const tcr_zone whole = {.to = 1.0, .length_mm = 6.0, .curl = "C"};
    const tcr_lash bottom = tcr_lash_unknown(0.5, TCR_BOTTOM), top = tcr_lash_unknown(0.5, TCR_TOP);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &whole, 1), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &bottom, NULL), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "b", &top, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_TRAY); /* source: check.h */
    expect_count(fault.side, TCR_LEFT);
    expect_count(fault.lash, 1);
    expect_same(fault.value, 4.0, "6 less two steps, and the tray begins at 5");
    tcr_set_free(set);
}

CLAIM(an_extension_that_a_row_asks_for_and_that_cannot_be_bonded_is_an_error) {
    tcr_set *set = make_set();
    tcr_check *check = NULL;
    tcr_error fault;
    tcr_lash shorter = tcr_lash_unknown(0.5, TCR_MIDDLE);
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 11.0};
    shorter.length_mm = 1.5;
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "own", &shorter, &wish), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_BOND); /* model.md, section 4 */
    expect_count(fault.lash, 150);
    tcr_set_free(set);
}

CLAIM(a_mean_lash_too_short_to_bond_leaves_no_intended_line) {
    tcr_set *set = make_set();
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    mean.length_mm = 1.0;
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_check_eye(check, TCR_LEFT)->intended_status, TCR_E_BOND); /* check.h */
    expect_status(tcr_check_eye(check, TCR_LEFT)->fitted_status, TCR_OK);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(wrong_options_are_refused) {
    tcr_set *set = make_set();
    tcr_check *check = NULL;
    tcr_check_options bad = tcr_check_options_default();
    bad.size = 1;
    expect_status(tcr_check_new(set, &bad, &check, NULL), TCR_E_ARGUMENT); /* source: check.h */
    bad = tcr_check_options_default();
    bad.against = (tcr_against)2;
    expect_status(tcr_check_new(set, &bad, &check, NULL), TCR_E_ARGUMENT);
    bad = tcr_check_options_default();
    bad.has_view = true;
    bad.view.opening = 2.0;
    expect_status(tcr_check_new(set, &bad, &check, NULL), TCR_E_RANGE);
    expect_status(tcr_check_new(NULL, NULL, &check, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_check_new(set, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_true(check == NULL);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_remedy_against_the_fitted_line_is_the_best_length_of_the_tray,
        &a_remedy_against_the_intended_line_in_the_artists_view_keeps_what_is_promised,
        &a_remedy_of_random_sets_keeps_what_is_promised_over_the_whole_tray,
        &without_a_tray_a_remedy_is_the_exact_length,
        &with_one_length_in_the_tray_there_is_nothing_to_do,
        &a_worn_length_outside_the_tray_is_counted_from_where_it_would_lie,
        &an_incomplete_set_cannot_be_checked,
        &a_length_of_the_rule_that_the_tray_lacks_is_told_with_its_lash,
        &an_extension_that_a_row_asks_for_and_that_cannot_be_bonded_is_an_error,
        &a_mean_lash_too_short_to_bond_leaves_no_intended_line,
        &wrong_options_are_refused,
    };
    return RUN_CLAIMS("remedy", claims);
}
