/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sets that are changed: a set changed step by step equals one built so, copies are sets of their
 * own, each call does all of its work or none, and what is given may be the set's own.
 */
#include <tipcrest/set.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/check.h"
#include "support/digest.h"
#include "support/make.h"
#include "support/memory.h"
#include "support/recipe.h"

enum { PAIRS = 200 };

/* Two recipes in a row from one seed; static, since each is large. */
static tcr_recipe first, second;

static gsl_rng *draw_pair(unsigned long seed) {
    gsl_rng *rng = tcr_make_rng(seed);
    given("seed %lu", seed);
    tcr_draw_recipe(rng, &first);
    tcr_draw_recipe(rng, &second);
    return rng;
}

static void expect_equal(const tcr_set *got, const tcr_set *expected) {
    expect_true(tcr_set_digest(got) == tcr_set_digest(expected)); /* all that set.h can read */
}

CLAIM(a_set_changed_step_by_step_equals_one_built_so) {
    for (unsigned long seed = 1; seed <= PAIRS; seed++) {
        gsl_rng *rng = draw_pair(seed);
        tcr_set *set = tcr_recipe_build(&first, NULL), *built = tcr_recipe_build(&second, NULL);
        const uint64_t before = tcr_set_digest(set);
        expect_true(before != tcr_set_digest(built)); /* the digest tells them apart */
        tcr_recipe_change(set, &second);
        expect_equal(set, built);
        tcr_recipe_change(set, &first);
        expect_true(tcr_set_digest(set) == before);
        tcr_set_free(set);
        tcr_set_free(built);
        gsl_rng_free(rng);
    }
}

CLAIM(a_copy_equals_its_original_and_neither_sees_the_other_change) {
    for (unsigned long seed = 1; seed <= PAIRS; seed++) {
        tcr_counted counted = {0};
        const tcr_allocator own = tcr_counted_allocator(&counted);
        gsl_rng *rng = draw_pair(seed);
        tcr_set *set = tcr_recipe_build(&first, NULL), *copy = NULL, *other = NULL;
        tcr_set *as_second = tcr_recipe_build(&second, NULL);
        const uint64_t original = tcr_set_digest(set);
        expect_status(tcr_set_copy(&own, set, &copy), TCR_OK);
        expect_status(tcr_set_copy(NULL, set, &other), TCR_OK);
        expect_equal(copy, set);
        tcr_recipe_change(copy, &second);
        expect_equal(copy, as_second);
        expect_true(tcr_set_digest(set) == original);
        tcr_recipe_change(set, &second);
        expect_true(tcr_set_digest(other) == original);
        tcr_set_free(set); /* the copies live on */
        expect_equal(copy, as_second);
        expect_true(tcr_set_digest(other) == original);
        tcr_set_free(copy);
        tcr_set_free(other);
        tcr_set_free(as_second);
        expect_count(counted.blocks, 0);
        gsl_rng_free(rng);
    }
}

CLAIM(a_set_like_another_has_all_but_its_eyes) {
    for (unsigned long seed = 1; seed <= 20; seed++) {
        gsl_rng *rng = draw_pair(seed);
        tcr_set *set = tcr_recipe_build(&first, NULL), *like = NULL;
        expect_status(tcr_set_new_like(NULL, set, &like), TCR_OK);
        expect_count(tcr_set_eyes(like, NULL), 0);
        tcr_side sides[TCR_SIDES];
        const size_t eyes = tcr_set_eyes(set, sides);
        for (size_t e = 0; e < eyes; e++)
            expect_status(tcr_set_remove_eye(set, sides[e]), TCR_OK);
        expect_equal(like, set);
        tcr_set_free(set);
        tcr_set_free(like);
        gsl_rng_free(rng);
    }
    tcr_set *none = NULL;
    expect_status(tcr_set_new_like(NULL, NULL, &none), TCR_E_ARGUMENT);
    expect_true(none == NULL);
}

/* ---- Whole or not at all --------------------------------------------------------------------- */

static const tcr_zone ZONES[] = {{.to = 0.5, .length_mm = 10.0, .curl = "C"},
                                 {.to = 1.0, .length_mm = 12.0, .curl = "X"}};
static const char *const IDS[] = {"one", "two", "three"};

/* With the allocator that runs out of memory for the copy itself. */
static tcr_counted failing;
static tcr_status do_copy(tcr_set *set) {
    const tcr_allocator allocator = tcr_counted_allocator(&failing);
    tcr_set *copy = NULL;
    const size_t blocks = failing.blocks;
    const tcr_status status = tcr_set_copy(&allocator, set, &copy);
    expect_true((copy != NULL) == (status == TCR_OK));
    if (status == TCR_OK)
        expect_equal(copy, set);
    tcr_set_free(copy);
    expect_count(failing.blocks, blocks);
    return status;
}

static tcr_status do_add_eye(tcr_set *set) {
    const tcr_side side = tcr_set_has_eye(set, TCR_LEFT) ? TCR_RIGHT : TCR_LEFT;
    (void)tcr_set_remove_eye(set, side); /* takes no memory */
    return tcr_set_add_eye(set, side, NULL);
}

static tcr_status do_add_lash(tcr_set *set) {
    const tcr_lash lash = tcr_lash_unknown(0.3, TCR_TOP);
    return tcr_set_add_lash(set, first.first, "a lash that is added", &lash, NULL);
}

static tcr_status do_add_lashes(tcr_set *set) {
    const tcr_lash lashes[] = {tcr_lash_unknown(0.3, TCR_TOP), tcr_lash_unknown(0.4, TCR_BOTTOM),
                               tcr_lash_unknown(0.5, TCR_MIDDLE)};
    return tcr_set_add_lashes(set, first.first, 3, IDS, lashes, NULL);
}

static tcr_status do_add_numbered(tcr_set *set) {
    return tcr_set_add_lashes(set, first.first, second.eye[second.first].lashes, NULL,
                              second.eye[second.first].lash, NULL);
}

static tcr_status do_describe(tcr_set *set) {
    tcr_description d = tcr_description_default();
    d.count = 300;
    return tcr_set_describe(set, first.first, &d);
}

static tcr_status do_map(tcr_set *set) { return tcr_set_put_map(set, first.first, ZONES, 2); }
static tcr_status do_intend(tcr_set *set) {
    return tcr_set_put_intended(set, first.first, ZONES, 2);
}
static tcr_status do_title(tcr_set *set) { return tcr_set_put_title(set, "another title"); }

static tcr_status do_add_curl(tcr_set *set) {
    tcr_curl curl = *tcr_set_curl(set, 0);
    curl.label = "new";
    return tcr_set_add_curl(set, &curl);
}

static tcr_status do_replace_lash(tcr_set *set) {
    const tcr_lash lash = tcr_lash_unknown(0.3, TCR_TOP);
    return tcr_set_replace_lash(set, first.first, 0, &lash);
}

static tcr_status do_replace_wish(tcr_set *set) {
    const tcr_wish wish = {.fixed = TCR_FIX_FAN, .fan = 7};
    return tcr_set_replace_wish(set, first.first, 0, &wish);
}

static tcr_status do_replace_lid(tcr_set *set) {
    tcr_lid lid = tcr_lid_default();
    lid.mrd1_mm = 2.25;
    return tcr_set_replace_lid(set, first.first, &lid);
}

/* Makes a call with less and less want of memory, until it succeeds. */
static void starve(tcr_status (*call)(tcr_set *set), bool needs_memory) {
    failing = (tcr_counted){0};
    const tcr_allocator allocator = tcr_counted_allocator(&failing);
    tcr_set *set = tcr_recipe_build(&first, &allocator);
    const uint64_t before = tcr_set_digest(set);
    const size_t blocks = failing.blocks;
    tcr_status status = TCR_E_MEMORY;
    size_t failures = 0;
    while (status == TCR_E_MEMORY) {
        failing.calls = 0;
        failing.fail_at = failures + 1;
        status = call(set);
        failing.fail_at = 0;
        if (status != TCR_E_MEMORY)
            break;
        given("%zu allocations succeed", failures);
        expect_true(tcr_set_digest(set) == before); /* style.md: a failed call changes nothing */
        expect_count(failing.blocks, blocks);
        failures++;
    }
    expect_status(status, TCR_OK);
    expect_true((failures > 0) == needs_memory);
    tcr_set_free(set);
    expect_count(failing.blocks, 0);
}

CLAIM(without_memory_every_call_leaves_the_set_as_it_was) {
    static tcr_status (*const hungry[])(tcr_set *) = {do_copy,   do_describe, do_map,
                                                      do_intend, do_title,    do_add_curl};
    static tcr_status (*const frugal[])(tcr_set *) = {do_replace_lash, do_replace_wish,
                                                      do_replace_lid};
    for (unsigned long seed = 1; seed <= 5; seed++) {
        gsl_rng *rng = draw_pair(seed);
        for (size_t i = 0; i < sizeof hungry / sizeof *hungry; i++)
            starve(hungry[i], true);
        for (size_t i = 0; i < sizeof frugal / sizeof *frugal; i++)
            starve(frugal[i], false);
        gsl_rng_free(rng);
    }
    tcr_recipe *r = &first; /* an eye with lashes may have room for a few more: start with none */
    r->eye[r->first].lashes = 0;
    r->eye[r->first == TCR_LEFT ? TCR_RIGHT : TCR_LEFT].present = false;
    starve(do_add_lash, true);
    starve(do_add_lashes, true);
    starve(do_add_numbered, true);
    starve(do_add_eye, false);
}

CLAIM(a_lash_that_is_wrong_keeps_all_of_its_call_out) {
    gsl_rng *rng = draw_pair(3);
    tcr_set *set = tcr_recipe_build(&first, NULL);
    const tcr_side side = first.first;
    const uint64_t before = tcr_set_digest(set);
    tcr_lash lashes[3];
    tcr_wish wishes[3] = {{0}};
    for (int i = 0; i < 3; i++)
        lashes[i] = tcr_lash_unknown(0.2 + 0.1 * i, TCR_BOTTOM);
    const char *ids[] = {"a", "b", ""};
    const tcr_lash good = lashes[2];
    /* Sources: set.h, lash.h. */
    expect_status(tcr_set_add_lashes(set, side, 3, ids, lashes, NULL), TCR_E_ARGUMENT);
    ids[2] = NULL;
    expect_status(tcr_set_add_lashes(set, side, 3, ids, lashes, NULL), TCR_E_ARGUMENT);
    ids[2] = "\xff";
    expect_status(tcr_set_add_lashes(set, side, 3, ids, lashes, NULL), TCR_E_ARGUMENT);
    ids[2] = "c";
    lashes[2].pitch_rad = 40.0;
    expect_status(tcr_set_add_lashes(set, side, 3, ids, lashes, NULL), TCR_E_RANGE);
    lashes[2] = good;
    wishes[2] = (tcr_wish){.fixed = TCR_FIX_CURL, .curl = "none"};
    expect_status(tcr_set_add_lashes(set, side, 3, NULL, lashes, wishes), TCR_E_CURL);
    expect_status(tcr_set_add_lashes(set, side, 3, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_add_lashes(set, side, TCR_LASHES_MAX, NULL, lashes, NULL),
                  TCR_E_ARGUMENT);
    expect_status(tcr_set_add_lashes(set, side, SIZE_MAX, NULL, lashes, NULL), TCR_E_ARGUMENT);
    expect_true(tcr_set_digest(set) == before);
    expect_status(tcr_set_add_lashes(set, side, 0, NULL, NULL, NULL), TCR_OK);
    expect_true(tcr_set_digest(set) == before);
    tcr_set_free(set);
    gsl_rng_free(rng);
}

CLAIM(calls_refuse_what_is_not_there) {
    tcr_set *set = NULL, *copy = NULL;
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const tcr_wish wish = {0};
    const tcr_lid lid = tcr_lid_default();
    tcr_lid wide = lid;
    wide.fissure_width_mm = 100.0;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, NULL), TCR_OK);
    /* Source: set.h. */
    expect_status(tcr_set_remove_eye(set, TCR_RIGHT), TCR_E_MISSING);
    expect_status(tcr_set_remove_eye(NULL, TCR_RIGHT), TCR_E_ARGUMENT);
    expect_status(tcr_set_replace_lid(set, TCR_RIGHT, &lid), TCR_E_MISSING);
    expect_status(tcr_set_replace_lid(set, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_replace_lid(set, TCR_LEFT, &wide), TCR_E_RANGE);
    expect_status(tcr_set_replace_lash(set, TCR_LEFT, 1, &lash), TCR_E_MISSING);
    expect_status(tcr_set_replace_lash(set, TCR_RIGHT, 0, &lash), TCR_E_MISSING);
    expect_status(tcr_set_replace_lash(set, TCR_LEFT, 0, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_replace_wish(set, TCR_LEFT, 1, &wish), TCR_E_MISSING);
    expect_status(tcr_set_replace_wish(set, (tcr_side)7, 0, &wish), TCR_E_MISSING);
    expect_status(tcr_set_replace_wish(set, TCR_LEFT, 0, NULL), TCR_OK);
    expect_status(tcr_set_add_lashes(set, TCR_RIGHT, 1, NULL, &lash, NULL), TCR_E_MISSING);
    expect_status(tcr_set_add_lashes(NULL, TCR_RIGHT, 1, NULL, &lash, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_copy(NULL, NULL, &copy), TCR_E_ARGUMENT);
    expect_status(tcr_set_copy(NULL, set, NULL), TCR_E_ARGUMENT);
    expect_true(copy == NULL);
    tcr_set_free(set);
}

CLAIM(an_eye_taken_out_leaves_the_other_and_its_place_free) {
    tcr_set *set = NULL;
    tcr_side sides[TCR_SIDES];
    const tcr_description d = tcr_description_default();
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_RIGHT, &d), TCR_OK);
    expect_status(tcr_set_remove_eye(set, TCR_RIGHT), TCR_OK);
    expect_count(tcr_set_eyes(set, sides), 1);
    expect_count(sides[0], TCR_LEFT);
    expect_count(tcr_set_lash_count(set, TCR_RIGHT), 0);
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_count(tcr_set_eyes(set, sides), 2);
    expect_count(sides[0], TCR_LEFT); /* the order in which they were added: set.h */
    expect_count(tcr_set_lash_count(set, TCR_RIGHT), 0);
    expect_count(tcr_set_drawn_count(set, TCR_RIGHT), 0);
    expect_status(tcr_set_remove_eye(set, TCR_RIGHT), TCR_OK);
    expect_status(tcr_set_remove_eye(set, TCR_LEFT), TCR_OK);
    expect_count(tcr_set_eyes(set, sides), 0);
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_count(tcr_set_eyes(set, sides), 1);
    expect_count(sides[0], TCR_RIGHT);
    tcr_set_free(set);
}

/* ---- What is given may be the set's own ------------------------------------------------------ */

CLAIM(lashes_may_be_added_from_the_sets_own) {
    for (unsigned long seed = 1; seed <= 20; seed++) {
        gsl_rng *rng = draw_pair(seed);
        const tcr_side side = first.first;
        tcr_set *set = tcr_recipe_build(&first, NULL), *other = tcr_recipe_build(&first, NULL);
        const size_t count = tcr_set_lash_count(set, side);
        for (size_t k = 0; k < 500; k++) {
            const size_t i = k % count;
            char id[TCR_ID_SIZE_MAX];
            (void)snprintf(id, sizeof id, "%s", tcr_set_id(other, side, i));
            const tcr_lash lash = *tcr_set_lash(other, side, i);
            const tcr_wish wish = *tcr_set_wish(other, side, i);
            expect_status(tcr_set_add_lash(set, side, tcr_set_id(set, side, i),
                                           tcr_set_lash(set, side, i), tcr_set_wish(set, side, i)),
                          TCR_OK);
            expect_status(tcr_set_add_lash(other, side, id, &lash, &wish), TCR_OK);
        }
        expect_equal(set, other);
        tcr_set_free(set);
        tcr_set_free(other);
        gsl_rng_free(rng);
    }
}

CLAIM(many_lashes_may_be_added_by_the_sets_own_ids) {
    gsl_rng *rng = draw_pair(4);
    const tcr_side side = first.first;
    tcr_set *set = tcr_recipe_build(&first, NULL);
    const size_t count = tcr_set_lash_count(set, side);
    const char *ids[TCR_RECIPE_LASHES];
    for (int times = 0; times < 6; times++) {
        const size_t had = tcr_set_lash_count(set, side);
        for (size_t i = 0; i < count; i++)
            ids[i] = tcr_set_id(set, side, i);
        expect_status(tcr_set_add_lashes(set, side, count, ids, first.eye[side].lash, NULL),
                      TCR_OK);
        for (size_t i = 0; i < count; i++)
            expect_text(tcr_set_id(set, side, had + i), tcr_set_id(set, side, i));
    }
    tcr_set_free(set);
    gsl_rng_free(rng);
}

CLAIM(all_else_may_be_the_sets_own_and_then_changes_nothing) {
    for (unsigned long seed = 1; seed <= 50; seed++) {
        gsl_rng *rng = draw_pair(seed);
        const tcr_side side = first.first;
        size_t zones, meant;
        tcr_set *set = tcr_recipe_build(&first, NULL);
        const uint64_t before = tcr_set_digest(set);
        const tcr_zone *map = tcr_set_map(set, side, &zones);
        expect_status(tcr_set_put_map(set, side, map, zones), TCR_OK);
        map = tcr_set_intended(set, side, &meant);
        expect_status(tcr_set_put_intended(set, side, map, meant), TCR_OK);
        for (size_t i = 0; i < tcr_set_lash_count(set, side); i++) {
            tcr_lash lash; /* as it was given: a complete one would be known in full */
            expect_status(tcr_set_given_lash(set, side, i, &lash), TCR_OK);
            expect_status(tcr_set_replace_lash(set, side, i, &lash), TCR_OK);
            expect_status(tcr_set_replace_wish(set, side, i, tcr_set_wish(set, side, i)), TCR_OK);
        }
        tcr_lid lid;
        expect_status(tcr_set_given_lid(set, side, &lid), TCR_OK);
        expect_status(tcr_set_replace_lid(set, side, &lid), TCR_OK);
        expect_status(tcr_set_put_title(set, tcr_set_title(set)), TCR_OK);
        expect_status(tcr_set_put_layering(set, tcr_set_layering(set)), TCR_OK);
        expect_status(tcr_set_put_tray(set, tcr_set_tray(set)), TCR_OK);
        expect_status(tcr_set_put_bond(set, tcr_set_bond(set)), TCR_OK);
        expect_status(tcr_set_put_view(set, tcr_set_view(set)), TCR_OK);
        expect_status(tcr_set_put_mean_lash(set, tcr_set_mean_lash(set)), TCR_OK);
        for (size_t i = 0; i < tcr_set_curl_count(set); i++)
            expect_status(tcr_set_add_curl(set, tcr_set_curl(set, i)), TCR_OK);
        expect_true(tcr_set_digest(set) == before);
        /* The map as what is intended, and back. */
        map = tcr_set_map(set, side, &zones);
        expect_status(tcr_set_put_intended(set, side, map, zones), TCR_OK);
        map = tcr_set_intended(set, side, &meant);
        expect_status(tcr_set_put_map(set, side, map, meant), TCR_OK);
        expect_status(tcr_set_put_intended(set, side,
                                           first.eye[side].intended ? first.eye[side].meant : NULL,
                                           first.eye[side].intended),
                      TCR_OK);
        expect_true(tcr_set_digest(set) == before);
        tcr_set_free(set);
        gsl_rng_free(rng);
    }
}

/* ---- Numbers that are given ------------------------------------------------------------------ */

CLAIM(a_number_of_a_wish_that_is_not_fixed_is_refused) {
    tcr_wish wrong[8] = {{0}};
    wrong[0].length_mm = 11.0;
    wrong[1].curl[0] = 'C';
    wrong[2].diameter_mm = 0.07;
    wrong[3].fan = 3;
    wrong[4].spread_rad = 0.2;
    wrong[5].placement = TCR_OUTER_SIDE;
    wrong[6].from_skin_mm = 1.0;
    wrong[7].length_mm = NAN;
    const unsigned bit[] = {TCR_FIX_LENGTH, TCR_FIX_CURL,      TCR_FIX_DIAMETER, TCR_FIX_FAN,
                            TCR_FIX_SPREAD, TCR_FIX_PLACEMENT, TCR_FIX_FROM_SKIN};
    tcr_set *set = NULL;
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, NULL), TCR_OK);
    const uint64_t before = tcr_set_digest(set);
    for (size_t i = 0; i < 8; i++) {
        tcr_zone zone = {.to = 1.0, .length_mm = 10.0, .curl = "C"};
        zone.layer[TCR_MIDDLE] = wrong[i];
        given("member %zu", i);
        /* Source: map.h. */
        expect_status(tcr_set_add_lash(set, TCR_LEFT, "b", &lash, &wrong[i]), TCR_E_ARGUMENT);
        expect_status(tcr_set_add_lashes(set, TCR_LEFT, 1, NULL, &lash, &wrong[i]), TCR_E_ARGUMENT);
        expect_status(tcr_set_replace_wish(set, TCR_LEFT, 0, &wrong[i]), TCR_E_ARGUMENT);
        expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_E_ARGUMENT);
        expect_status(tcr_set_put_intended(set, TCR_LEFT, &zone, 1), TCR_E_ARGUMENT);
        wrong[i].fixed = TCR_FIX_ALL & ~TCR_FIX_BARE & ~bit[i % 7];
        expect_status(tcr_set_replace_wish(set, TCR_LEFT, 0, &wrong[i]), TCR_E_ARGUMENT);
    }
    expect_true(tcr_set_digest(set) == before);
    for (size_t i = 0; i < 7; i++) {
        given("member %zu, fixed", i);
        wrong[i].fixed = bit[i];
        expect_status(tcr_set_replace_wish(set, TCR_LEFT, 0, &wrong[i]), TCR_OK);
    }
    tcr_set_free(set);
}

/* A set with a left eye of three lashes that have wishes. */
static tcr_set *three_lashes(void) {
    tcr_set *set;
    const tcr_wish longer = {.fixed = TCR_FIX_LENGTH, .length_mm = 14.0};
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    for (int i = 0; i < 3; i++) {
        const tcr_lash lash = tcr_lash_unknown(0.2 + 0.1 * i, (tcr_layer)i);
        const char id[] = {(char)('a' + i), '\0'};
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, &longer), TCR_OK);
    }
    return set;
}

CLAIM(all_lashes_replaced_at_once_are_those_replaced_one_by_one) {
    tcr_set *set = three_lashes(), *other = three_lashes();
    tcr_lash lashes[3];
    for (int i = 0; i < 3; i++) {
        lashes[i] = tcr_lash_unknown(0.3 + 0.2 * i, TCR_BOTTOM);
        lashes[i].pitch_rad = 0.1 * i; /* the others stay unknown */
        expect_status(tcr_set_replace_lash(other, TCR_LEFT, (size_t)i, &lashes[i]), TCR_OK);
    }
    expect_status(tcr_set_replace_lashes(set, TCR_LEFT, 3, lashes), TCR_OK);
    expect_equal(set, other); /* ids and wishes stay as they were */
    tcr_set_free(set);
    tcr_set_free(other);
}

CLAIM(one_wrong_lash_keeps_all_from_being_replaced) {
    tcr_set *set = three_lashes();
    const uint64_t before = tcr_set_digest(set);
    tcr_lash lashes[3];
    for (int i = 0; i < 3; i++)
        lashes[i] = tcr_lash_unknown(0.5, TCR_TOP);
    lashes[2].height_mm = 9.0;
    expect_status(tcr_set_replace_lashes(set, TCR_LEFT, 3, lashes), TCR_E_RANGE);
    expect_count(tcr_set_error(set)->lash, 2);
    expect_status(tcr_set_replace_lashes(set, TCR_LEFT, 2, lashes), TCR_E_ARGUMENT);
    expect_status(tcr_set_replace_lashes(set, TCR_LEFT, 3, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_replace_lashes(set, TCR_RIGHT, 3, lashes), TCR_E_MISSING);
    expect_status(tcr_set_replace_lashes(NULL, TCR_LEFT, 3, lashes), TCR_E_ARGUMENT);
    expect_true(tcr_set_digest(set) == before);
    tcr_set_free(set);
}

CLAIM(an_eye_without_its_lashes_takes_others) {
    tcr_set *set = three_lashes(), *fresh;
    const tcr_description d = tcr_description_default();
    expect_status(tcr_set_new(NULL, &fresh), TCR_OK);
    expect_status(tcr_set_add_eye(fresh, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_remove_lashes(set, TCR_LEFT), TCR_OK);
    expect_count(tcr_set_lash_count(set, TCR_LEFT), 0);
    expect_equal(set, fresh);
    expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    expect_status(tcr_set_describe(fresh, TCR_LEFT, &d), TCR_OK);
    expect_equal(set, fresh);
    expect_count(tcr_set_drawn_count(set, TCR_LEFT), 96);
    /* Described lashes that were replaced are those of a description no more. */
    tcr_lash lashes[96];
    for (size_t i = 0; i < 96; i++)
        expect_status(tcr_set_given_lash(set, TCR_LEFT, i, &lashes[i]), TCR_OK);
    expect_status(tcr_set_replace_lashes(set, TCR_LEFT, 96, lashes), TCR_OK);
    expect_true(tcr_set_description(set, TCR_LEFT) == NULL);
    expect_status(tcr_set_remove_lashes(set, TCR_LEFT), TCR_OK);
    expect_count(tcr_set_drawn_count(set, TCR_LEFT), 0);
    expect_status(tcr_set_remove_lashes(set, TCR_RIGHT), TCR_E_MISSING);
    expect_status(tcr_set_remove_lashes(NULL, TCR_LEFT), TCR_E_ARGUMENT);
    tcr_set_free(set);
    tcr_set_free(fresh);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_set_changed_step_by_step_equals_one_built_so,
        &a_copy_equals_its_original_and_neither_sees_the_other_change,
        &a_set_like_another_has_all_but_its_eyes,
        &without_memory_every_call_leaves_the_set_as_it_was,
        &a_lash_that_is_wrong_keeps_all_of_its_call_out,
        &calls_refuse_what_is_not_there,
        &an_eye_taken_out_leaves_the_other_and_its_place_free,
        &lashes_may_be_added_from_the_sets_own,
        &many_lashes_may_be_added_by_the_sets_own_ids,
        &all_else_may_be_the_sets_own_and_then_changes_nothing,
        &a_number_of_a_wish_that_is_not_fixed_is_refused,
        &all_lashes_replaced_at_once_are_those_replaced_one_by_one,
        &one_wrong_lash_keeps_all_from_being_replaced,
        &an_eye_without_its_lashes_takes_others,
    };
    return RUN_CLAIMS("set_change", claims);
}
