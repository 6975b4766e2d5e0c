/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checks that give figures alone: those of a full check, to the last bit, also when run again. */
#include <tipcrest/check.h>
#include <tipcrest/load.h>

#include <math.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"
#include "support/recipe.h"

static const char *const SAME = "the same operations in the same order";

static tcr_recipe recipe;

static void expect_evenness(const tcr_evenness *got, const tcr_evenness *expected) {
    expect_count(got->lashes, expected->lashes);
    expect_bytes(&got->upright, &expected->upright, sizeof got->upright);
    expect_bytes(&got->across, &expected->across, sizeof got->across);
    expect_same(got->within_tolerance, expected->within_tolerance, SAME);
    for (int l = 0; l < TCR_LAYERS; l++)
        expect_same(got->layer_offset_mm[l], expected->layer_offset_mm[l], SAME);
}

static void expect_eye(const tcr_eye_result *got, const tcr_eye_result *full) {
    expect_count(got->lashes, full->lashes);
    expect_count(got->extended, full->extended);
    expect_count(got->staggered, full->staggered);
    expect_count(got->verdict, full->verdict);
    expect_same(got->largest_gap_mm, full->largest_gap_mm, SAME);
    expect_status(got->fitted_status, full->fitted_status);
    expect_status(got->intended_status, full->intended_status);
    for (size_t i = 0; i < got->lashes; i++) {
        expect_status(got->lash[i].status, TCR_E_MISSING); /* source: check.h */
        expect_nan(got->lash[i].tip.y);
        expect_nan(got->lash[i].deviation_mm);
    }
    if (full->fitted_status == TCR_OK) {
        expect_bytes(&got->fitted_line, &full->fitted_line, sizeof got->fitted_line);
        expect_evenness(&got->fitted, &full->fitted);
    }
    if (full->intended_status == TCR_OK)
        expect_evenness(&got->intended, &full->intended);
}

static tcr_check_options options_of(int i, bool figures) {
    tcr_check_options o = tcr_check_options_default();
    o.parts = TCR_PART_FITTED | TCR_PART_INTENDED | (i % 4 != 3 ? TCR_PART_LOADS : 0u);
    o.against = i % 3 == 0 ? TCR_INTENDED : TCR_FITTED;
    o.any_length = i % 5 == 0;
    o.figures_only = figures;
    return o;
}

/* The loads of a full check, or none where they were not asked for. */
static void expect_loads(const tcr_check *got, const tcr_check *full, tcr_side side) {
    const tcr_eye_result *eye = tcr_check_eye(full, side);
    const bool asked = (tcr_check_parts(got) & TCR_PART_LOADS) != 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        tcr_load mine, theirs;
        const tcr_status expected = tcr_check_load(full, side, i, &theirs);
        const tcr_status status = tcr_check_load(got, side, i, &mine);
        expect_status(status, expected == TCR_OK && asked ? TCR_OK : TCR_E_MISSING); /* load.h */
        if (status == TCR_OK)
            expect_bytes(&mine, &theirs, sizeof mine); /* the same operations */
    }
}

/* One set by a full check and by the figures alone; whether it can be checked. */
static bool compare(const tcr_set *set, int i, tcr_check **figures) {
    tcr_check *full = NULL;
    tcr_error why[2];
    const tcr_check_options whole = options_of(i, false), alone = options_of(i, true);
    const tcr_status expected = tcr_check_new(set, &whole, &full, &why[0]);
    const tcr_status got = *figures == NULL ? tcr_check_new(set, &alone, figures, &why[1])
                                            : tcr_check_again(*figures, set, &alone, &why[1]);
    expect_status(got, expected);
    if (expected != TCR_OK) {
        expect_text(why[1].message, why[0].message);
        expect_count(why[1].lash, why[0].lash);
        expect_count(why[1].side, why[0].side);
        return false;
    }
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(full, (tcr_side)side);
        if (eye == NULL)
            continue;
        expect_eye(tcr_check_eye(*figures, (tcr_side)side), eye);
        expect_loads(*figures, full, (tcr_side)side);
    }
    tcr_check_free(full);
    return true;
}

CLAIM(figures_of_any_set_are_those_of_a_full_check) {
    gsl_rng *rng = tcr_make_rng(1);
    tcr_check *figures = NULL;
    int checked = 0;
    for (int i = 0; i < 300; i++) {
        tcr_draw_recipe(rng, &recipe);
        tcr_set *set = tcr_recipe_build(&recipe, NULL);
        given("set %d", i);
        checked += compare(set, i, &figures); /* in the memory of the sets before */
        tcr_set_free(set);
    }
    expect_true(checked > 150);
    tcr_check_free(figures);
    gsl_rng_free(rng);
}

/* Lashes that change and rules that stay, as in a study. */
CLAIM(figures_follow_changes_of_lashes_rule_lid_and_curl) {
    gsl_rng *rng = tcr_make_rng(2);
    tcr_set *set;
    tcr_check *figures = NULL;
    tcr_description d = tcr_description_default();
    const tcr_zone zones[] = {{.to = 0.5, .length_mm = 11, .curl = "C"},
                              {.to = 1.0, .length_mm = 12, .curl = "D"}};
    const tcr_lid lid = tcr_lid_default();
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, &lid), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, 2), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    for (int i = 0; i < 200; i++) {
        given("change %d", i);
        for (uint32_t k = 0; k < d.count; k++) {
            tcr_lash lash;
            d.seed = i % 7 == 0 ? 11 : (uint64_t)i; /* now and then with the places of before */
            expect_status(tcr_describe_lash(&d, 0, k, &lash), TCR_OK);
            if (i % 7 == 0)
                lash.pitch_rad += 1e-3 * i;
            expect_status(tcr_set_replace_lash(set, TCR_LEFT, k, &lash), TCR_OK);
        }
        tcr_layering rule = tcr_layering_default();
        rule.placement[i % 3] = (tcr_placement)(i / 20 % TCR_PLACEMENTS);
        rule.blend = i / 50 == 3;
        rule.diameter_mm = i % 40 < 20 ? 0.15 : 0.1;
        expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
        tcr_lid other = tcr_lid_default();
        other.mrd1_mm = i / 30 % 2 == 0 ? 3.5 : 4.0;
        expect_status(tcr_set_replace_lid(set, TCR_LEFT, &other), TCR_OK);
        expect_true(compare(set, i % 11 == 10 ? 7 : 1, &figures)); /* now and then without loads */
        if (i % 5 != 4)
            continue;
        other.mrd1_mm += 0.5; /* the lid alone: its lashes stand in other seats */
        expect_status(tcr_set_replace_lid(set, TCR_LEFT, &other), TCR_OK);
        expect_true(compare(set, 1, &figures));
    }
    tcr_check_free(figures);
    tcr_set_free(set);
    gsl_rng_free(rng);
}

CLAIM(parts_that_need_single_lashes_are_refused) {
    gsl_rng *rng = tcr_make_rng(3);
    tcr_check *check;
    tcr_set *set;
    bool can = false;
    do { /* a set that can be checked */
        tcr_draw_recipe(rng, &recipe);
        set = tcr_recipe_build(&recipe, NULL);
        check = NULL;
        can = tcr_check_new(set, NULL, &check, NULL) == TCR_OK;
        tcr_check_free(check);
        if (!can)
            tcr_set_free(set);
    } while (!can);
    static const unsigned refused[] = {TCR_PART_VIEWS, TCR_PART_REMEDIES, TCR_PART_ASSUMPTIONS,
                                       TCR_PART_ALL};
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        tcr_check_options o = tcr_check_options_default();
        o.figures_only = true;
        o.parts = refused[i];
        expect_status(tcr_check_new(set, &o, &check, NULL), TCR_E_ARGUMENT);
    }
    tcr_set_free(set);
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &figures_of_any_set_are_those_of_a_full_check,
        &figures_follow_changes_of_lashes_rule_lid_and_curl,
        &parts_that_need_single_lashes_are_refused,
    };
    return RUN_CLAIMS("figures", claims);
}
