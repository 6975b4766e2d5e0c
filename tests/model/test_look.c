/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks: what the catalogue holds, and the lengths that a look comes to. */
#include <tipcrest/look.h>

#include <math.h>
#include <string.h>

#include "support/check.h"

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

int main(void) {
    static const TTest *const claims[] = {
        &the_looks_of_the_trade_are_there,
        &names_that_nobody_gave_are_not_found,
        &every_look_has_a_name_of_its_own_a_word_about_it_and_shares_up_to_one,
        &shapes_are_what_their_names_say,
        &lengths_are_shares_of_the_longest_to_the_nearest_of_the_tray,
        &a_look_keeps_to_what_the_tray_has,
        &wrong_arguments_are_told,
    };
    return RUN_CLAIMS("look", claims);
}
