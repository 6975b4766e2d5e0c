/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks: what the catalogue holds, and the lengths that a look comes to. */
#include <tipcrest/set.h>

#include <math.h>
#include <string.h>

#include "support/check.h"
#include "support/memory.h"

static const char NO_ARITHMETIC[] = "a length of the tray, copied";

static bool has_name(const tcr_look *look, const char *name) {
    return strcmp(look->name, name) == 0 || strcmp(look->other_name, name) == 0;
}

CLAIM(the_looks_of_the_trade_are_there) {
    /* Names of the trade: common practice, no source. */
    static const char *const NAMES[] = {"natural", "doll", "open", "cat", "squirrel"};
    for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++) {
        given("look %s", NAMES[i]);
        const tcr_look *look = tcr_look_find(NAMES[i]);
        expect_true(look != NULL);
        expect_true(has_name(look, NAMES[i]));
    }
    expect_true(tcr_look_find("open") == tcr_look_find("doll"));
}

CLAIM(names_that_nobody_gave_are_not_found) {
    expect_true(tcr_look_find("Cat") == NULL);
    expect_true(tcr_look_find("") == NULL);
    expect_true(tcr_look_find(NULL) == NULL);
}

CLAIM(every_look_has_a_name_of_its_own_a_word_about_it_and_shares_up_to_one) {
    size_t count;
    const tcr_look *looks = tcr_look_catalogue(&count);
    expect_true(count >= 4);
    for (size_t i = 0; i < count; i++) {
        given("look %zu, %s", i, looks[i].name);
        expect_true(looks[i].name[0] != '\0');
        expect_true(looks[i].about[0] != '\0');
        expect_true(tcr_look_find(looks[i].name) == &looks[i]);
        expect_true(looks[i].other_name[0] == '\0' ||
                    tcr_look_find(looks[i].other_name) == &looks[i]);
        expect_within((double)looks[i].zones, 1, TCR_LOOK_ZONES_MAX, "the rule of look.h");
        double longest = 0;
        for (size_t zone = 0; zone < looks[i].zones; zone++) {
            expect_within(looks[i].share[zone], 0.1, 1, "the rule of look.h, and no tiny zone");
            longest = fmax(longest, looks[i].share[zone]);
        }
        expect_same(longest, 1, "the rule of look.h");
    }
}

CLAIM(shapes_are_what_their_names_say) {
    /* Common practice, no source. */
    const tcr_look *cat = tcr_look_find("cat"), *doll = tcr_look_find("doll"),
                   *squirrel = tcr_look_find("squirrel");
    for (size_t i = 1; i < cat->zones; i++)
        expect_true(cat->share[i] >= cat->share[i - 1]); /* longer and longer */
    for (size_t i = 0; i < doll->zones; i++)
        expect_same(doll->share[i], doll->share[doll->zones - 1 - i], "the same number twice");
    expect_same(squirrel->share[squirrel->zones - 2], 1, "the same number"); /* before the end */
    expect_true(squirrel->share[squirrel->zones - 1] < 1);
}

CLAIM(looks_of_12_mm_are_the_maps_that_are_taught) {
    /* Common practice, no source: whole millimetres, longest 12. */
    static const struct {
        const char *name;
        double length_mm[6];
    } MAPS[] = {{"natural", {10, 11, 12, 12, 11}},
                {"doll", {9, 10, 12, 12, 10, 9}},
                {"cat", {8, 9, 10, 11, 12}},
                {"squirrel", {8, 9, 10, 11, 12, 10}}};
    const tcr_tray tray = tcr_tray_default();
    for (size_t k = 0; k < sizeof MAPS / sizeof *MAPS; k++) {
        double length[TCR_LOOK_ZONES_MAX];
        const tcr_look *look = tcr_look_find(MAPS[k].name);
        expect_status(tcr_look_lengths(look, 12, &tray, length), TCR_OK);
        for (size_t i = 0; i < look->zones; i++) {
            given("zone %zu of %s", i, look->name);
            expect_same(length[i], MAPS[k].length_mm[i], NO_ARITHMETIC);
        }
    }
}

CLAIM(lengths_are_shares_of_the_longest_to_the_nearest_of_the_tray) {
    const tcr_look look = {"own", "", "invented", 4, {0.5, 0.79, 1, 0.96}};
    const tcr_tray tray = tcr_tray_default();
    double length[4];
    /* By hand: 6, 9.48, 12, 11.52 mm. */
    static const double EXPECTED[] = {6, 9, 12, 12};
    expect_status(tcr_look_lengths(&look, 12, &tray, length), TCR_OK);
    for (size_t i = 0; i < 4; i++)
        expect_same(length[i], EXPECTED[i], NO_ARITHMETIC);

    /* By hand: 6.5 is a tie and goes to the longer; 10.27; 13; 12.48. */
    static const double LONGER[] = {7, 10, 13, 12};
    expect_status(tcr_look_lengths(&look, 13, &tray, length), TCR_OK);
    for (size_t i = 0; i < 4; i++)
        expect_same(length[i], LONGER[i], NO_ARITHMETIC);
}

CLAIM(a_look_keeps_to_what_the_tray_has) {
    const tcr_look look = {"own", "", "invented", 2, {0.5, 1}};
    const tcr_tray tray = {.count = 3, .length_mm = {8, 10, 12.5}};
    double length[2] = {-1, -1};
    expect_status(tcr_look_lengths(&look, 12.5, &tray, length), TCR_OK);
    expect_same(length[0], 8, NO_ARITHMETIC); /* 6.25 is shorter than all */
    expect_same(length[1], 12.5, NO_ARITHMETIC);
    length[0] = -1;
    expect_status(tcr_look_lengths(&look, 12, &tray, length), TCR_E_TRAY);
    expect_status(tcr_look_lengths(&look, (double)NAN, &tray, length), TCR_E_TRAY);
    expect_same(length[0], -1, "a failed call leaves its outputs");
}

CLAIM(without_a_tray_no_zone_is_shorter_than_an_extension_may_be) {
    const tcr_tray any = {.count = 0};
    size_t count;
    const tcr_look *looks = tcr_look_catalogue(&count);
    double length[TCR_LOOK_ZONES_MAX];
    for (size_t k = 0; k < count; k++) {
        given("%s", looks[k].name);
        expect_status(tcr_look_lengths(&looks[k], 3.0, &any, length), TCR_OK);
        for (size_t i = 0; i < looks[k].zones; i++)
            expect_true(length[i] == 3.0); /* Source: extension.h: 3 to 30 mm */
    }
}

CLAIM(wrong_arguments_are_told) {
    const tcr_tray tray = tcr_tray_default();
    const tcr_tray falling = {.count = 2, .length_mm = {9, 8}};
    const tcr_look *cat = tcr_look_find("cat");
    tcr_look wide = *cat;
    double length[TCR_LOOK_ZONES_MAX];
    wide.zones = TCR_LOOK_ZONES_MAX + 1;
    expect_status(tcr_look_lengths(NULL, 12, &tray, length), TCR_E_ARGUMENT);
    expect_status(tcr_look_lengths(cat, 12, NULL, length), TCR_E_ARGUMENT);
    expect_status(tcr_look_lengths(cat, 12, &tray, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_look_lengths(&wide, 12, &tray, length), TCR_E_ARGUMENT);
    expect_status(tcr_look_lengths(cat, 12, &falling, length), TCR_E_RANGE);
}

static tcr_set *two_eyes(void) {
    tcr_set *set;
    const tcr_zone zones[2] = {
        {.to = 0.5, .length_mm = 9, .curl = "C"},
        {.to = 1, .length_mm = 11, .curl = "D", .layer[TCR_TOP].fixed = TCR_FIX_BARE}};
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 8};
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_title(set, "two"), TCR_OK);
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_lid lid = tcr_lid_default();
        lid.mrd1_mm = 3.0 + side;
        expect_status(tcr_set_add_eye(set, (tcr_side)side, &lid), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, zones, 2), TCR_OK);
        expect_status(tcr_set_put_intended(set, (tcr_side)side, zones, 2), TCR_OK);
        expect_status(tcr_set_add_lash(set, (tcr_side)side, "a", &lash, &wish), TCR_OK);
        expect_status(tcr_set_add_lash(set, (tcr_side)side, "b", &lash, NULL), TCR_OK);
    }
    return set;
}

CLAIM(a_set_by_a_look_has_its_map_and_all_else_as_it_was) {
    const tcr_look look = {"own", "", "invented", 3, {0.5, 1, 0.75}};
    tcr_set *from = two_eyes(), *set = NULL;
    expect_same(tcr_set_longest_mm(from), 11, NO_ARITHMETIC);
    expect_status(tcr_set_new_by_look(NULL, from, &look, 12, &set), TCR_OK);
    expect_text(tcr_set_title(set), "two");
    for (int side = 0; side < TCR_SIDES; side++) {
        size_t count, meant;
        const tcr_zone *map = tcr_set_map(set, (tcr_side)side, &count);
        /* By hand: thirds; 0.5, 1 and 0.75 of 12; middles at 1/6, 1/2 (the next zone's) and 5/6. */
        static const double TO[] = {0.333, 0.667, 1}, LENGTH[] = {6, 12, 9};
        static const char *const CURL[] = {"C", "D", "D"};
        expect_count(count, 3);
        for (size_t z = 0; z < count; z++) {
            given("zone %zu", z);
            expect_same(map[z].to, TO[z], NO_ARITHMETIC);
            expect_same(map[z].length_mm, LENGTH[z], NO_ARITHMETIC);
            expect_text(map[z].curl, CURL[z]);
            for (int layer = 0; layer < TCR_LAYERS; layer++)
                expect_count(map[z].layer[layer].fixed, 0);
        }
        expect_true(tcr_set_intended(set, (tcr_side)side, &meant) == NULL && meant == 0);
        expect_same(tcr_set_lid(set, (tcr_side)side)->mrd1_mm, 3.0 + side, NO_ARITHMETIC);
        expect_count(tcr_set_lash_count(set, (tcr_side)side), 2);
        expect_text(tcr_set_id(set, (tcr_side)side, 1), "b");
        expect_same(tcr_set_wish(set, (tcr_side)side, 0)->length_mm, 8, NO_ARITHMETIC);
        expect_count(tcr_set_wish(set, (tcr_side)side, 1)->fixed, 0);
    }
    tcr_set_free(set);
    tcr_set_free(from);
}

CLAIM(a_set_that_no_look_fits_is_told) {
    const tcr_look *cat = tcr_look_find("cat");
    tcr_set *from = two_eyes(), *set = NULL, *bare;
    expect_status(tcr_set_new_by_look(NULL, NULL, cat, 12, &set), TCR_E_ARGUMENT);
    expect_status(tcr_set_new_by_look(NULL, from, NULL, 12, &set), TCR_E_ARGUMENT);
    expect_status(tcr_set_new_by_look(NULL, from, cat, 12, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_new_by_look(NULL, from, cat, 12.25, &set), TCR_E_TRAY);
    expect_status(tcr_set_new(NULL, &bare), TCR_OK);
    expect_true(isnan(tcr_set_longest_mm(bare)));
    expect_status(tcr_set_add_eye(bare, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_new_by_look(NULL, bare, cat, 12, &set), TCR_E_MISSING);
    expect_true(set == NULL);
    tcr_set_free(bare);
    tcr_set_free(from);
}

CLAIM(without_memory_there_is_no_set_by_a_look_and_nothing_leaks) {
    const tcr_look *cat = tcr_look_find("cat");
    tcr_set *from = two_eyes();
    size_t failed = 0;
    for (size_t n = 1;; n++) {
        tcr_counted counted = {.fail_at = n};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_set *set = NULL;
        const tcr_status status = tcr_set_new_by_look(&allocator, from, cat, 12, &set);
        given("call %zu", n);
        if (status != TCR_OK) {
            expect_status(status, TCR_E_MEMORY);
            expect_true(set == NULL);
            failed++;
        }
        tcr_set_free(set);
        expect_count(counted.blocks, 0);
        if (status == TCR_OK)
            break;
    }
    expect_true(failed >= 4);
    tcr_set_free(from);
}

CLAIM(evenly_wide_zones_end_at_thousandths) {
    /* By hand. */
    expect_same(tcr_look_zone_end(0, 3), 0.333, NO_ARITHMETIC);
    expect_same(tcr_look_zone_end(0, 16), 0.063, NO_ARITHMETIC);
    expect_same(tcr_look_zone_end(15, 16), 1, NO_ARITHMETIC);
    expect_same(tcr_look_zone_end(0, 0), 1, NO_ARITHMETIC);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_looks_of_the_trade_are_there,
        &names_that_nobody_gave_are_not_found,
        &every_look_has_a_name_of_its_own_a_word_about_it_and_shares_up_to_one,
        &shapes_are_what_their_names_say,
        &looks_of_12_mm_are_the_maps_that_are_taught,
        &lengths_are_shares_of_the_longest_to_the_nearest_of_the_tray,
        &a_look_keeps_to_what_the_tray_has,
        &without_a_tray_no_zone_is_shorter_than_an_extension_may_be,
        &wrong_arguments_are_told,
        &a_set_by_a_look_has_its_map_and_all_else_as_it_was,
        &a_set_that_no_look_fits_is_told,
        &without_memory_there_is_no_set_by_a_look_and_nothing_leaks,
        &evenly_wide_zones_end_at_thousandths,
    };
    return RUN_CLAIMS("look", claims);
}
