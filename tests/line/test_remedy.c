/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to do about a staggered lash, by brute force over the tray; and how a check fails. */
#include <tipcrest/check.h>

#include <math.h>
#include <stdint.h>

#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/make.h"

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
    expect_status(tcr_set_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_map(set, TCR_LEFT, MAP, 3), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    return set;
}

/* What is left of the deviation of lash i with another length. */
static double left_with(const tcr_check *check, const tcr_line *line, size_t i, double length_mm) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_view view = tcr_check_view(check);
    tcr_choice choice = tcr_check_eye(check, TCR_LEFT)->lash[i].choice;
    choice.length_mm = length_mm;
    const tcr_extension ext = tcr_set_extension(set, &choice);
    tcr_vec3 tip;
    if (tcr_tip(tcr_set_get_lid(set, TCR_LEFT), view.opening, tcr_set_get_lash(set, TCR_LEFT, i),
                &ext, tcr_set_get_bond(set), &tip) != TCR_OK)
        return INFINITY;
    const tcr_vec2 seen = tcr_view_project(&view, tip);
    return seen.y - tcr_line_at(line, seen.x);
}

/* Holds the remedy of every staggered lash to the best of the whole tray. */
static void expect_best(const tcr_check *check, const tcr_line *line) {
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    const tcr_tray *tray = tcr_set_get_tray(tcr_check_set(check));
    size_t staggered = 0, changed = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash_result *r = &eye->lash[i];
        if (!r->staggered)
            continue;
        staggered++;
        size_t best = 0, present = 0;
        for (size_t t = 0; t < tray->count; t++) {
            const double length = tray->length_mm[t];
            if (fabs(left_with(check, line, i, length)) <
                fabs(left_with(check, line, i, tray->length_mm[best])))
                best = t;
            if (length == r->choice.length_mm)
                present = t;
        }
        given("lash %zu of %.17g mm", i, r->choice.length_mm);
        /* Source: brute force over the tray. */
        expect_same(r->remedy.length_mm, tray->length_mm[best], "no arithmetic");
        expect_near(r->remedy.deviation_mm, left_with(check, line, i, tray->length_mm[best]), 1e-13,
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

CLAIM(a_remedy_against_the_intended_line_in_the_artists_view_is_the_best_length_too) {
    tcr_set *set = make_set();
    tcr_check *check = NULL;
    tcr_check_options options = tcr_check_options_default();
    options.against = TCR_INTENDED;
    options.has_view = true;
    options.view = tcr_view_named(TCR_ARTIST); /* the longer, the lower */
    expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
    expect_best(check, &tcr_check_eye(check, TCR_LEFT)->intended_line);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(with_one_length_in_the_tray_there_is_nothing_to_do) {
    tcr_set *set = NULL;
    const tcr_tray one = {1, {11.0}};
    const tcr_zone whole = {.to = 1.0, .length_mm = 11.0, .curl = "C"};
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = 0.0;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_tray(set, &one), TCR_OK);
    expect_status(tcr_set_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_map(set, TCR_LEFT, &whole, 1), TCR_OK);
    for (int i = 0; i < 30; i++) {
        const tcr_lash lash = tcr_lash_default(0.05 + 0.03 * i, (tcr_layer)(i % 3));
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
    const tcr_lash lash = tcr_lash_default(0.5, TCR_MIDDLE);
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
    tcr_check_fault fault;
    const tcr_lash lash = tcr_lash_default(0.5, TCR_BOTTOM);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_MISSING); /* no eye: check.h */
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_MAP);
    expect_count(fault.side, TCR_RIGHT);
    expect_true(fault.lash == SIZE_MAX);
    expect_status(tcr_set_map(set, TCR_RIGHT, MAP, 3), TCR_OK);
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
    tcr_check_fault fault;
    const tcr_zone whole = {.to = 1.0, .length_mm = 6.0, .curl = "C"};
    const tcr_lash bottom = tcr_lash_default(0.5, TCR_BOTTOM), top = tcr_lash_default(0.5, TCR_TOP);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_map(set, TCR_LEFT, &whole, 1), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &bottom, NULL), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "b", &top, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_TRAY); /* source: check.h */
    expect_count(fault.side, TCR_LEFT);
    expect_count(fault.lash, 1);
    expect_same(fault.length_mm, 4.0, "6 less two steps, and the tray begins at 5");
    tcr_set_free(set);
}

CLAIM(an_extension_that_a_row_asks_for_and_that_cannot_be_bonded_is_an_error) {
    tcr_set *set = make_set();
    tcr_check *check = NULL;
    tcr_check_fault fault;
    tcr_lash shorter = tcr_lash_default(0.5, TCR_MIDDLE);
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 11.0};
    shorter.length_mm = 1.5;
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "own", &shorter, &wish), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, &fault), TCR_E_BOND); /* model.md, section 4 */
    expect_count(fault.lash, 150);
    tcr_set_free(set);
}

CLAIM(a_mean_lash_too_short_to_bond_leaves_no_intended_line) {
    tcr_set *set = make_set();
    tcr_lash mean = tcr_lash_default(0.5, TCR_BOTTOM);
    mean.length_mm = 1.0;
    mean.assumed &= ~(unsigned)TCR_LASH_LENGTH;
    expect_status(tcr_set_mean_lash(set, &mean), TCR_OK);
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
        &a_remedy_against_the_intended_line_in_the_artists_view_is_the_best_length_too,
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
