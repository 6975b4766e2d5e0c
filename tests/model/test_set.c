/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set filled by calls: what goes in comes out, and a wrong call or no memory changes nothing. */
#include <tipcrest/set.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/check.h"
#include "support/digest.h"
#include "support/make.h"
#include "support/memory.h"

static const tcr_zone ZONES[] = {
    {.to = 0.3, .length_mm = 9.0, .curl = "C"},
    {.to = 1.0,
     .length_mm = 12.0,
     .curl = "D",
     .layer = {[TCR_TOP] = {.fixed = TCR_FIX_LENGTH | TCR_FIX_CURL,
                            .length_mm = 10.0,
                            .curl = "L"}}},
};

static tcr_set *empty_set(void) {
    tcr_set *set = NULL;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    return set;
}

/* A left eye with a map and two lashes. */
static tcr_set *small_set(void) {
    tcr_set *set = empty_set();
    const tcr_lash lash = tcr_lash_unknown(0.25, TCR_MIDDLE);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, ZONES, 2), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a01", &lash, NULL), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a02", &lash, NULL), TCR_OK);
    return set;
}

/* Holds a wrong call to its status and to having changed nothing. */
#define expect_refused(set, call, status)                                                          \
    do {                                                                                           \
        const uint64_t before = tcr_set_digest(set);                                               \
        expect_status(call, status);                                                               \
        expect_true(tcr_set_digest(set) == before);                                                \
    } while (0)

CLAIM(a_new_set_has_every_default) {
    tcr_set *set = empty_set();
    const tcr_bond bond = tcr_bond_default();
    const tcr_view view = tcr_view_named(TCR_OPEN_FRONT);
    size_t count;
    (void)tcr_curl_catalogue(&count);
    expect_text(tcr_set_title(set), ""); /* source of all: set.h */
    expect_true(!tcr_set_has_eye(set, TCR_LEFT) && !tcr_set_has_eye(set, TCR_RIGHT));
    expect_bytes(tcr_set_bond(set), &bond, sizeof bond);
    expect_bytes(tcr_set_view(set), &view, sizeof view);
    expect_same(tcr_set_tolerance(set), 0.5, "given");
    expect_same(tcr_set_layering(set)->step_mm, 1.0, "given");
    expect_count(tcr_set_tray(set)->count, 16);
    expect_count(tcr_set_curl_count(set), count);
    expect_nan(tcr_set_mean_lash(set)->length_mm);
    expect_true(tcr_set_line(set)->shared);
    expect_count(tcr_set_subject(set), TCR_CLIENT);
    tcr_set_free(set);
    tcr_set_free(NULL); /* accepted */
}

CLAIM(what_was_set_is_read_back) {
    tcr_set *set = empty_set();
    const tcr_tray tray = {.count = 2, .length_mm = {7.0, 7.5}};
    const tcr_bond bond = {0.5, 2.0, 0.05};
    const tcr_view view = {0.5, 0.1};
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = 0.5;
    rule.blend = true;
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    mean.length_mm = 8.0;
    expect_status(tcr_set_put_title(set, "Schichten, erste Übung"), TCR_OK);
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    expect_status(tcr_set_put_bond(set, &bond), TCR_OK);
    expect_status(tcr_set_put_view(set, &view), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_put_tolerance(set, 0.05), TCR_OK);
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    expect_status(tcr_set_put_subject(set, TCR_PRACTICE_HEAD), TCR_OK);
    expect_text(tcr_set_title(set), "Schichten, erste Übung"); /* source: what was given */
    expect_count(tcr_set_tray(set)->count, 2);
    expect_same(tcr_set_tray(set)->length_mm[1], 7.5, "given");
    expect_bytes(tcr_set_bond(set), &bond, sizeof bond);
    expect_bytes(tcr_set_view(set), &view, sizeof view);
    expect_same(tcr_set_layering(set)->step_mm, 0.5, "given");
    expect_true(tcr_set_layering(set)->blend);
    expect_same(tcr_set_tolerance(set), 0.05, "given");
    expect_same(tcr_set_mean_lash(set)->length_mm, 8.0, "given");
    expect_count(tcr_set_subject(set), TCR_PRACTICE_HEAD);
    tcr_set_free(set);
}

CLAIM(eyes_maps_and_lashes_are_read_back) {
    tcr_set *set = empty_set();
    tcr_lid lid = tcr_lid_default();
    lid.mrd1_mm = 3.0;
    const tcr_wish wish = {.fixed = TCR_FIX_CURL, .curl = "DD"};
    char id[8];
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, &lid), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_RIGHT, ZONES, 2), TCR_OK);
    for (int i = 0; i < 1000; i++) {
        const tcr_lash lash = tcr_lash_unknown(0.02 + 0.96 * i / 999.0, (tcr_layer)(i % 3));
        (void)snprintf(id, sizeof id, "n%d", i);
        expect_status(tcr_set_add_lash(set, TCR_RIGHT, id, &lash, i % 2 ? &wish : NULL), TCR_OK);
    }
    size_t zones;
    expect_same(tcr_set_lid(set, TCR_RIGHT)->mrd1_mm, 3.0, "given"); /* source: what was given */
    const tcr_zone *map = tcr_set_map(set, TCR_RIGHT, &zones);
    expect_count(zones, 2);
    expect_text(map[1].layer[TCR_TOP].curl, "L");
    expect_count(tcr_set_lash_count(set, TCR_RIGHT), 1000);
    expect_count(tcr_set_lash_count(set, TCR_LEFT), 0);
    size_t stride;
    const tcr_lash *first = tcr_set_lashes(set, TCR_RIGHT, &stride);
    expect_true(tcr_set_lashes(set, TCR_RIGHT, NULL) == first);
    for (size_t i = 0; i < 1000; i++) {
        (void)snprintf(id, sizeof id, "n%zu", i);
        expect_text(tcr_set_id(set, TCR_RIGHT, i), id);
        expect_true((const char *)tcr_set_lash(set, TCR_RIGHT, i) ==
                    (const char *)first + i * stride);
        expect_same(tcr_set_lash(set, TCR_RIGHT, i)->u, 0.02 + 0.96 * (int)i / 999.0, "given");
        expect_count(tcr_set_wish(set, TCR_RIGHT, i)->fixed, i % 2 ? TCR_FIX_CURL : 0);
    }
    tcr_set_free(set);
}

CLAIM(eyes_keep_the_order_in_which_they_were_added) {
    tcr_side sides[TCR_SIDES] = {TCR_LEFT, TCR_LEFT};
    tcr_set *set = empty_set();
    expect_count(tcr_set_eyes(set, sides), 0); /* source: set.h */
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_count(tcr_set_eyes(set, sides), 1);
    expect_count(sides[0], TCR_RIGHT);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_count(tcr_set_eyes(set, sides), 2);
    expect_count(sides[0], TCR_RIGHT);
    expect_count(sides[1], TCR_LEFT);
    expect_count(tcr_set_eyes(set, NULL), 2); /* the sides need not be asked for */
    tcr_set_free(set);
    set = empty_set();
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_count(tcr_set_eyes(set, sides), 2);
    expect_count(sides[0], TCR_LEFT);
    expect_count(sides[1], TCR_RIGHT);
    tcr_set_free(set);
}

CLAIM(a_tolerance_takes_the_place_of_the_viewers_distance) {
    tcr_set *set = empty_set();
    tcr_line_rule rule = tcr_line_rule_default();
    rule.seen_from_mm = 1000.0;
    expect_status(tcr_set_put_line(set, &rule), TCR_OK);
    expect_near(tcr_set_tolerance(set), 0.873, 0.0005, "three decimals"); /* 1000 tan 3', by hand */
    expect_status(tcr_set_put_tolerance(set, 0.25), TCR_OK);
    expect_same(tcr_set_tolerance(set), 0.25, "given"); /* source: set.h */
    expect_nan(tcr_set_line(set)->seen_from_mm);
    tcr_set_free(set);
}

CLAIM(place_layer_and_condition_of_a_mean_lash_are_not_read) {
    tcr_set *set = empty_set();
    tcr_lash mean = tcr_lash_unknown(7.0, (tcr_layer)7);
    mean.condition = (tcr_condition)7;
    mean.pitch_rad = -0.25;
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK); /* source: set.h */
    expect_same(tcr_set_mean_lash(set)->pitch_rad, -0.25, "given");
    tcr_set_free(set);
}

CLAIM(what_a_set_lacks_is_null_or_missing) {
    tcr_set *set = small_set();
    size_t n = 99;
    expect_true(tcr_set_lash(set, TCR_LEFT, 2) == NULL); /* source: set.h */
    expect_true(tcr_set_lashes(set, TCR_RIGHT, &n) == NULL);
    expect_count(n, 0);
    expect_true(tcr_set_lashes(NULL, TCR_LEFT, NULL) == NULL);
    expect_true(tcr_set_id(set, TCR_RIGHT, 0) == NULL);
    expect_true(tcr_set_wish(set, (tcr_side)7, 0) == NULL);
    expect_true(tcr_set_lid(set, TCR_RIGHT) == NULL);
    expect_true(tcr_set_curl(set, 1000) == NULL);
    expect_true(tcr_set_map(set, TCR_RIGHT, &n) == NULL);
    expect_count(n, 0);
    expect_status(tcr_set_find_curl(set, "Q", &n), TCR_E_CURL);
    expect_status(tcr_set_find_curl(set, "CC", &n), TCR_OK);
    expect_text(tcr_set_curl(set, n)->label, "CC");
    tcr_set_free(set);
}

CLAIM(a_curl_of_the_same_label_replaces_and_another_is_added) {
    tcr_set *set = small_set();
    const size_t before = tcr_set_curl_count(set);
    size_t c, x;
    const double lengths[] = {8.0, 12.0};
    const tcr_profile own[] = {{1, {1.0}, {0.5}}, {1, {1.0}, {1.5}}};
    const tcr_curl replaced = {"C", 1, NULL, own}, added = {"X", 2, lengths, own};
    expect_status(tcr_set_find_curl(set, "C", &c), TCR_OK);
    expect_status(tcr_set_add_curl(set, &replaced), TCR_OK);
    expect_count(tcr_set_curl_count(set), before); /* source: set.h */
    expect_same(tcr_set_curl(set, c)->profiles[0].turn_rad[0], 0.5, "given");
    expect_status(tcr_set_add_curl(set, &added), TCR_OK);
    expect_count(tcr_set_curl_count(set), before + 1);
    expect_status(tcr_set_find_curl(set, "X", &x), TCR_OK);
    expect_near(tcr_curl_profile(tcr_set_curl(set, x), 10.0).turn_rad[0], 1.0, 1e-15,
                "half way, one interpolation");
    expect_true(tcr_set_curl(set, x)->profiles != own); /* copied */
    tcr_set_free(set);
}

CLAIM(a_described_eye_is_its_lashes_by_number) {
    tcr_set *set = empty_set();
    tcr_description d = tcr_description_default();
    d.seed = 11;
    d.count = 1200;
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_RIGHT, &d), TCR_OK);
    expect_count(tcr_set_lash_count(set, TCR_RIGHT), 1200);
    expect_text(tcr_set_id(set, TCR_RIGHT, 0), "n001"); /* source: set.h */
    expect_text(tcr_set_id(set, TCR_RIGHT, 1199), "n1200");
    for (uint32_t k = 0; k < 1200; k++) {
        tcr_lash lash;
        expect_status(tcr_describe_lash(&d, 1, k, &lash), TCR_OK);
        expect_same(tcr_set_lash(set, TCR_RIGHT, k)->u, lash.u, "describe.h");
        expect_same(tcr_set_lash(set, TCR_RIGHT, k)->pitch_rad, lash.pitch_rad, "describe.h");
    }
    tcr_set_free(set);
}

CLAIM(lashes_drawn_by_chance_are_counted) {
    tcr_set *set = empty_set();
    tcr_description d = tcr_description_default();
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_TOP);
    d.count = 3;
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_RIGHT, "own", &lash, NULL), TCR_OK);
    expect_count(tcr_set_drawn_count(set, TCR_RIGHT), 0);
    expect_status(tcr_set_describe(set, TCR_RIGHT, &d), TCR_OK);
    expect_count(tcr_set_drawn_count(set, TCR_RIGHT), 3); /* and not the fourth */
    expect_count(tcr_set_drawn_count(set, TCR_LEFT), 0);
    expect_status(tcr_set_mark_drawn(set, TCR_RIGHT, 5), TCR_E_RANGE);
    expect_count(tcr_set_drawn_count(set, TCR_RIGHT), 3);
    expect_status(tcr_set_mark_drawn(set, TCR_RIGHT, 4), TCR_OK);
    expect_count(tcr_set_drawn_count(set, TCR_RIGHT), 4);
    expect_status(tcr_set_mark_drawn(set, TCR_RIGHT, 0), TCR_OK);
    expect_count(tcr_set_drawn_count(set, TCR_RIGHT), 0);
    expect_status(tcr_set_mark_drawn(set, TCR_LEFT, 0), TCR_E_MISSING);
    expect_status(tcr_set_mark_drawn(NULL, TCR_LEFT, 0), TCR_E_ARGUMENT);
    expect_count(tcr_set_drawn_count(NULL, TCR_LEFT), 0);
    tcr_set_free(set);
}

CLAIM(lashes_of_a_zones_layer_are_counted) {
    static const double AT[] = {0.1, 0.2, 0.49, 0.5, 0.9}; /* 0.5 is the second zone's */
    const tcr_zone zones[] = {{.to = 0.5, .length_mm = 9, .curl = "C"},
                              {.to = 1, .length_mm = 9, .curl = "C"}};
    tcr_set *set = empty_set();
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, 2), TCR_OK);
    for (int i = 0; i < 5; i++) {
        const tcr_lash lash = tcr_lash_unknown(AT[i], i == 1 ? TCR_TOP : TCR_MIDDLE);
        const char id[] = {(char)('a' + i), '\0'};
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    /* By hand. */
    expect_count(tcr_set_lashes_in(set, TCR_LEFT, 0, TCR_MIDDLE), 2);
    expect_count(tcr_set_lashes_in(set, TCR_LEFT, 0, TCR_TOP), 1);
    expect_count(tcr_set_lashes_in(set, TCR_LEFT, 1, TCR_MIDDLE), 2);
    expect_count(tcr_set_lashes_in(set, TCR_LEFT, 1, TCR_BOTTOM), 0);
    expect_count(tcr_set_lashes_in(set, TCR_RIGHT, 0, TCR_TOP), 0);
    tcr_set_free(set);
}

CLAIM(sides_layers_and_placements_have_the_words_of_files) {
    /* Source: the words of interface.md's set file and survey. */
    static const char *const LAYER[] = {"bottom", "middle", "top"};
    static const char *const PLACEMENT[] = {"top", "underside", "inner-side", "outer-side"};
    for (int i = 0; i < TCR_LAYERS; i++)
        expect_text(tcr_layer_text((tcr_layer)i), LAYER[i]);
    for (int i = 0; i < TCR_PLACEMENTS; i++)
        expect_text(tcr_placement_text((tcr_placement)i), PLACEMENT[i]);
    expect_text(tcr_side_text(TCR_LEFT), "left");
    expect_text(tcr_side_text(TCR_RIGHT), "right");
    expect_text(tcr_side_text((tcr_side)2), "unknown");
    expect_text(tcr_layer_text((tcr_layer)-1), "unknown");
    expect_text(tcr_placement_text((tcr_placement)4), "unknown");
}

CLAIM(numbers_of_the_whole_set_out_of_range_change_nothing) {
    tcr_set *set = small_set();
    const double tolerances[] = {0.049, 5.01, NAN, INFINITY, -1.0};
    for (size_t i = 0; i < sizeof tolerances / sizeof tolerances[0]; i++)
        expect_refused(set, tcr_set_put_tolerance(set, tolerances[i]), TCR_E_RANGE);
    tcr_tray tray = tcr_tray_default();
    tray.length_mm[3] = tray.length_mm[2];
    expect_refused(set, tcr_set_put_tray(set, &tray), TCR_E_RANGE);
    tray.count = 65;
    expect_refused(set, tcr_set_put_tray(set, &tray), TCR_E_ARGUMENT);
    const tcr_bond bond = {0.7, 0.5, 0.03};
    expect_refused(set, tcr_set_put_bond(set, &bond), TCR_E_RANGE);
    const tcr_view view = {1.5, 0.0};
    expect_refused(set, tcr_set_put_view(set, &view), TCR_E_RANGE);
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = NAN;
    expect_refused(set, tcr_set_put_layering(set, &rule), TCR_E_RANGE);
    rule = tcr_layering_default();
    rule.placement[1] = (tcr_placement)-1;
    expect_refused(set, tcr_set_put_layering(set, &rule), TCR_E_ARGUMENT);
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    mean.turn_rad = 9.0;
    expect_refused(set, tcr_set_put_mean_lash(set, &mean), TCR_E_RANGE);
    expect_refused(set, tcr_set_put_subject(set, (tcr_subject)2), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

CLAIM(wrong_texts_change_nothing) {
    tcr_set *set = small_set();
    char longest[TCR_TITLE_SIZE_MAX + 8];
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    memset(longest, 'x', sizeof longest);
    longest[TCR_TITLE_SIZE_MAX] = '\0';
    expect_refused(set, tcr_set_put_title(set, longest), TCR_E_ARGUMENT); /* source: set.h */
    longest[TCR_TITLE_SIZE_MAX - 1] = '\0';
    expect_status(tcr_set_put_title(set, longest), TCR_OK);
    static const char *const malformed[] = {"\xff",         "a\xc3",    "\xc0\x80",
                                            "\xed\xa0\x80", "\xe2\x82", "\xf5\x80\x80\x80"};
    for (size_t i = 0; i < sizeof malformed / sizeof malformed[0]; i++) {
        given("text %zu", i);
        expect_refused(set, tcr_set_put_title(set, malformed[i]), TCR_E_ARGUMENT);
        expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, malformed[i], &lash, NULL),
                       TCR_E_ARGUMENT);
    }
    longest[TCR_ID_SIZE_MAX] = '\0';
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, longest, &lash, NULL), TCR_E_ARGUMENT);
    longest[TCR_ID_SIZE_MAX - 1] = '\0';
    expect_status(tcr_set_add_lash(set, TCR_LEFT, longest, &lash, NULL), TCR_OK);
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, "", &lash, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, NULL, &lash, NULL), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

CLAIM(a_wrong_eye_or_lid_changes_nothing) {
    tcr_set *set = small_set();
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const tcr_description d = tcr_description_default();
    tcr_lid lid = tcr_lid_default();
    expect_refused(set, tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_E_DUPLICATE); /* source: set.h */
    expect_refused(set, tcr_set_add_eye(set, (tcr_side)2, NULL), TCR_E_ARGUMENT);
    lid.globe_radius_mm = lid.mrd1_mm = 8.0;
    expect_refused(set, tcr_set_add_eye(set, TCR_RIGHT, &lid), TCR_E_MRD1);
    expect_refused(set, tcr_set_put_map(set, TCR_RIGHT, ZONES, 2), TCR_E_MISSING);
    expect_refused(set, tcr_set_add_lash(set, TCR_RIGHT, "b", &lash, NULL), TCR_E_MISSING);
    expect_refused(set, tcr_set_describe(set, TCR_RIGHT, &d), TCR_E_MISSING);
    tcr_set_free(set);
}

CLAIM(a_wrong_map_changes_nothing) {
    tcr_set *set = small_set();
    tcr_zone z[2];
#define WRONG(change, status)                                                                      \
    memcpy(z, ZONES, sizeof z);                                                                    \
    change;                                                                                        \
    given("%s", #change);                                                                          \
    expect_refused(set, tcr_set_put_map(set, TCR_LEFT, z, 2), status)
    /* Source: set.h. */
    WRONG(z[1].to = 0.99, TCR_E_MAP);
    WRONG(z[0].to = 1.0, TCR_E_MAP);
    WRONG(z[0].to = 0.0, TCR_E_MAP);
    WRONG(z[0].to = NAN, TCR_E_MAP);
    WRONG(z[1].to = 1.5, TCR_E_MAP);
    WRONG(z[0].length_mm = 2.0, TCR_E_RANGE);
    WRONG(z[0].length_mm = NAN, TCR_E_RANGE);
    WRONG(z[0].length_mm = 9.5, TCR_E_TRAY);
    WRONG(strcpy(z[0].curl, "Q"), TCR_E_CURL);
    WRONG(memset(z[0].curl, 'C', TCR_LABEL_SIZE), TCR_E_CURL); /* no NUL */
    WRONG(strcpy(z[1].layer[TCR_TOP].curl, "Q"), TCR_E_CURL);
    WRONG(z[1].layer[TCR_TOP].length_mm = 10.5, TCR_E_TRAY);
    WRONG(z[1].layer[TCR_TOP].length_mm = 31.0, TCR_E_RANGE);
    WRONG(z[0].layer[0].fixed = TCR_FIX_FAN, TCR_E_RANGE); /* a fan of 0 */
    WRONG(z[0].layer[0].fixed = TCR_FIX_DIAMETER, TCR_E_RANGE);
    WRONG(z[0].layer[0].fixed = 1u << 12, TCR_E_ARGUMENT);
#undef WRONG
    expect_refused(set, tcr_set_put_map(set, TCR_LEFT, ZONES, 0), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_put_map(set, TCR_LEFT, ZONES, 65), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_put_map(set, TCR_LEFT, NULL, 2), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

CLAIM(a_wrong_lash_curl_or_description_changes_nothing) {
    tcr_set *set = small_set();
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const tcr_wish curl = {.fixed = TCR_FIX_CURL, .curl = "Q"};
    const tcr_wish spread = {.fixed = TCR_FIX_SPREAD, .spread_rad = NAN};
    const tcr_wish placement = {.fixed = TCR_FIX_PLACEMENT, .placement = (tcr_placement)4};
    const tcr_wish length = {.fixed = TCR_FIX_LENGTH, .length_mm = 2.9};
    /* Source: set.h. */
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, "b", &lash, &curl), TCR_E_CURL);
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, "b", &lash, &spread), TCR_E_RANGE);
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, "b", &lash, &placement), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, "b", &lash, &length), TCR_E_RANGE);
    lash.u = 0.99;
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, "b", &lash, NULL), TCR_E_RANGE);
    tcr_description d = tcr_description_default();
    d.turn_sd_rad = INFINITY;
    expect_refused(set, tcr_set_describe(set, TCR_LEFT, &d), TCR_E_RANGE);
    const tcr_profile short_of_1 = {1, {0.9}, {1.0}}, whole = {1, {1.0}, {1.0}};
    const tcr_curl bad = {"X", 1, NULL, &short_of_1}, unreadable = {"\xff", 1, NULL, &whole};
    expect_refused(set, tcr_set_add_curl(set, &bad), TCR_E_CURL);
    expect_refused(set, tcr_set_add_curl(set, &unreadable), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

CLAIM(null_is_refused_everywhere) {
    tcr_set *set = small_set();
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_new(NULL, NULL), TCR_E_ARGUMENT); /* source: status.h */
    expect_refused(set, tcr_set_put_title(set, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_add_curl(set, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_put_layering(set, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_put_tray(set, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_put_bond(set, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_put_view(set, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_put_mean_lash(set, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_add_lash(set, TCR_LEFT, "b", NULL, NULL), TCR_E_ARGUMENT);
    expect_refused(set, tcr_set_describe(set, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_title(NULL, "a"), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_tolerance(NULL, 0.5), TCR_E_ARGUMENT);
    expect_status(tcr_set_add_eye(NULL, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_set_put_map(NULL, TCR_LEFT, ZONES, 2), TCR_E_ARGUMENT);
    expect_status(tcr_set_add_lash(NULL, TCR_LEFT, "b", &lash, NULL), TCR_E_ARGUMENT);
    tcr_set_free(set);
}

CLAIM(the_first_lash_that_repeats_an_id_is_found) {
    static const struct {
        const char *id[6];
        size_t found; /* 6: none */
    } table[] = {
        /* Source: by hand; set.h: the first lash that repeats an earlier id. */
        {{"a", "b", "c", "d", "e", "f"}, 6}, {{"f", "e", "d", "c", "b", "f"}, 5},
        {{"a", "b", "b", "a", "a", "b"}, 2}, {{"x", "a", "y", "a", "x", "y"}, 3},
        {{"a", "a", "a", "a", "a", "a"}, 1}, {{"A", "a", "b", "B", "c", "C"}, 6},
    };
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        tcr_set *set = empty_set();
        size_t found = 6;
        expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
        for (int j = 0; j < 6; j++)
            expect_status(tcr_set_add_lash(set, TCR_LEFT, table[i].id[j], &lash, NULL), TCR_OK);
        given("row %zu", i);
        expect_status(tcr_set_find_duplicate(set, TCR_LEFT, &found),
                      table[i].found < 6 ? TCR_E_DUPLICATE : TCR_OK);
        expect_count(found, table[i].found);
        tcr_set_free(set);
    }
}

CLAIM(a_repeated_id_among_many_is_that_of_brute_force) {
    gsl_rng *rng = tcr_make_rng(1);
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    for (int i = 0; i < 200; i++) {
        tcr_set *set = empty_set();
        expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
        const size_t n = 1 + gsl_rng_uniform_int(rng, 60);
        size_t first = n, found = n;
        for (size_t j = 0; j < n; j++) {
            char id[12];
            (void)snprintf(id, sizeof id, "%lu", gsl_rng_uniform_int(rng, 600));
            for (size_t k = 0; k < j && first == n; k++)
                if (strcmp(tcr_set_id(set, TCR_LEFT, k), id) == 0)
                    first = j;
            expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
        }
        (void)tcr_set_find_duplicate(set, TCR_LEFT, &found);
        given("set %d of %zu lashes", i, n);
        expect_count(found, first); /* source: brute force */
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

/* Every call that allocates, in turn; the first status that is not TCR_OK. */
static tcr_status fill(tcr_set *set) {
    const tcr_profile own = {1, {1.0}, {1.0}};
    const double length = 9.0;
    const tcr_curl curl = {"X", 1, &length, &own}, again = {"C", 1, NULL, &own};
    tcr_description d = tcr_description_default();
    d.count = 40;
    size_t index;
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
#define DO(call)                                                                                   \
    do {                                                                                           \
        const uint64_t before = tcr_set_digest(set);                                               \
        const tcr_status status = call;                                                            \
        if (status != TCR_OK) {                                                                    \
            expect_true(tcr_set_digest(set) == before);                                            \
            return status;                                                                         \
        }                                                                                          \
    } while (0)
    DO(tcr_set_put_title(set, "one"));
    DO(tcr_set_put_title(set, "another"));
    DO(tcr_set_add_curl(set, &curl));
    DO(tcr_set_add_curl(set, &again));
    DO(tcr_set_add_eye(set, TCR_LEFT, NULL));
    DO(tcr_set_put_map(set, TCR_LEFT, ZONES, 2));
    DO(tcr_set_put_map(set, TCR_LEFT, ZONES, 2));
    DO(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, NULL));
    DO(tcr_set_describe(set, TCR_LEFT, &d));
    DO(tcr_set_find_duplicate(set, TCR_LEFT, &index));
#undef DO
    return TCR_OK;
}

CLAIM(without_memory_a_call_changes_nothing_and_nothing_leaks) {
    size_t at = 1;
    for (bool done = false; !done; at++) {
        tcr_counted counted = {.fail_at = at};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_set *set = NULL;
        tcr_status status = tcr_set_new(&allocator, &set);
        if (status == TCR_OK)
            status = fill(set);
        done = status == TCR_OK;
        given("memory ends at call %zu", at);
        expect_status(status, done ? TCR_OK : TCR_E_MEMORY);
        tcr_set_free(set);
        expect_count(counted.blocks, 0); /* source: what was taken is given back */
    }
    ck_assert_int_gt((int)at, 25); /* the eight curls alone take sixteen calls */
}

CLAIM(half_an_allocator_is_refused) {
    tcr_counted counted = {0};
    tcr_allocator half = tcr_counted_allocator(&counted);
    tcr_set *set = NULL;
    half.release = NULL;
    expect_status(tcr_set_new(&half, &set), TCR_E_ARGUMENT);
    half = tcr_counted_allocator(&counted);
    half.resize = NULL;
    expect_status(tcr_set_new(&half, &set), TCR_E_ARGUMENT);
    expect_true(set == NULL); /* source: status.h, outputs stay */
}

int main(void) {
    static const TTest *const claims[] = {
        &a_new_set_has_every_default,
        &what_was_set_is_read_back,
        &eyes_maps_and_lashes_are_read_back,
        &eyes_keep_the_order_in_which_they_were_added,
        &a_tolerance_takes_the_place_of_the_viewers_distance,
        &place_layer_and_condition_of_a_mean_lash_are_not_read,
        &what_a_set_lacks_is_null_or_missing,
        &a_curl_of_the_same_label_replaces_and_another_is_added,
        &a_described_eye_is_its_lashes_by_number,
        &lashes_drawn_by_chance_are_counted,
        &lashes_of_a_zones_layer_are_counted,
        &sides_layers_and_placements_have_the_words_of_files,
        &numbers_of_the_whole_set_out_of_range_change_nothing,
        &wrong_texts_change_nothing,
        &a_wrong_eye_or_lid_changes_nothing,
        &a_wrong_map_changes_nothing,
        &a_wrong_lash_curl_or_description_changes_nothing,
        &null_is_refused_everywhere,
        &the_first_lash_that_repeats_an_id_is_found,
        &a_repeated_id_among_many_is_that_of_brute_force,
        &without_memory_a_call_changes_nothing_and_nothing_leaks,
        &half_an_allocator_is_refused,
    };
    return RUN_CLAIMS("set", claims);
}
