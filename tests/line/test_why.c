/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The causes of the unevenness against their definition (model.md, section 8): sets in which a
 * cause was levelled out beforehand are checked by themselves, and shares are averaged over all
 * orders of the causes.
 */
#include <tipcrest/why.h>

#include <math.h>
#include <stdio.h>

#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"

enum { ALL = TCR_COMBINATIONS - 1, LASHES = 96 };

static unsigned bit(tcr_cause cause) { return 1u << cause; }
static bool has(unsigned causes, tcr_cause cause) { return (causes & bit(cause)) != 0; }

static const tcr_zone ZONES[] = {
    {.to = 0.3, .length_mm = 10.0, .curl = "C"},
    {.to = 0.7, .length_mm = 12.0, .curl = "C"},
    {.to = 1.0, .length_mm = 11.0, .curl = "C"},
};

/* The map's lengths without its steps: straight from centre to centre of the zones, which lie at
 * 0.15, 0.5 and 0.85 (model.md, section 7). */
static double smooth_length(double u) {
    const double rising = 10.0 + 2.0 * (u - 0.15) / 0.35, falling = 12.0 - (u - 0.5) / 0.35;
    return u < 0.5 ? fmax(rising, 10.0) : fmax(falling, 11.0);
}

/* The mean lash, said in full, so that it is the same in every set (model.md, section 7). */
static tcr_lash mean_lash(void) {
    tcr_lash mean = tcr_make_default_lash(0.5, TCR_BOTTOM);
    mean.height_mm = 0.9;
    mean.yaw_rad = 0.02;
    mean.length_mm = 7.4;
    return mean;
}

/* A set with a left eye, a map of three zones, and a rule as the causes ask for it. */
static tcr_set *new_set(const tcr_allocator *allocator, unsigned causes) {
    tcr_set *set = NULL;
    tcr_layering rule = tcr_layering_default();
    const tcr_lash mean = mean_lash();
    rule.step_mm = has(causes, TCR_CAUSE_SHORTENING) ? 1.0 : 0.0;
    if (has(causes, TCR_CAUSE_PLACEMENT)) {
        rule.placement[TCR_MIDDLE] = TCR_OUTER_SIDE;
        rule.placement[TCR_TOP] = TCR_UNDERSIDE;
    }
    expect_status(tcr_set_new(allocator, &set), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, ZONES, 3), TCR_OK);
    return set;
}

/* Lash k of an invented eye, suitable for an extension. */
static tcr_lash drawn_lash(uint32_t k) {
    tcr_description d = tcr_description_default();
    tcr_lash lash;
    d.seed = 8;
    d.count = LASHES;
    expect_status(tcr_describe_lash(&d, 0, k, &lash), TCR_OK);
    lash.condition = TCR_SUITABLE;
    lash.length_mm = fmax(lash.length_mm, 5.0); /* room for a bond of the full length */
    return lash;
}

/* Few lashes wear what they chose themselves, so that a cell's median is still the map's. */
static bool chose_itself(uint32_t k) { return k % 7 == 3; }

/* What lash k wears by its row: what it chose, or what the map gives without its steps. */
static tcr_wish wish_of(uint32_t k, const tcr_lash *own, unsigned causes) {
    const double zone = ZONES[own->u < 0.3 ? 0 : own->u < 0.7 ? 1 : 2].length_mm;
    const double shorter = has(causes, TCR_CAUSE_SHORTENING) ? (double)own->layer : 0.0;
    const double cell = (has(causes, TCR_CAUSE_ZONES) ? zone : smooth_length(own->u)) - shorter;
    const bool single = has(causes, TCR_CAUSE_SINGLE) && chose_itself(k);
    tcr_wish wish = {0};
    if (single || !has(causes, TCR_CAUSE_ZONES)) {
        wish.fixed = TCR_FIX_LENGTH;
        wish.length_mm = cell + (single ? 1.0 : 0.0);
    }
    if (single) {
        wish.fixed |= TCR_FIX_CURL;
        snprintf(wish.curl, sizeof wish.curl, "D");
    }
    if (k % 5 == 1) { /* where the glue sits is no cause: it stays in every combination */
        wish.fixed |= TCR_FIX_FROM_SKIN;
        wish.from_skin_mm = 1.5;
    }
    return wish;
}

/* The eye with the causes that are asked for, and every other one levelled out by hand. */
static tcr_set *drawn_set(const tcr_allocator *allocator, unsigned causes) {
    tcr_set *set = new_set(allocator, causes);
    for (uint32_t k = 0; k < LASHES; k++) {
        char id[16];
        snprintf(id, sizeof id, "w%u", (unsigned)k);
        const tcr_lash own = drawn_lash(k);
        tcr_lash lash = own;
        if (!has(causes, TCR_CAUSE_VARIATION)) {
            lash = mean_lash();
            lash.u = own.u;
            lash.layer = own.layer;
        }
        lash.height_mm = has(causes, TCR_CAUSE_HEIGHTS) ? own.height_mm : mean_lash().height_mm;
        const tcr_wish wish = wish_of(k, &own, causes);
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, &wish), TCR_OK);
    }
    return set;
}

static tcr_check *check_against(const tcr_set *set, int against) {
    tcr_check_options options = tcr_check_options_default();
    options.against = (tcr_against)against;
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
    return check;
}

static tcr_why causes_of(const tcr_set *set, int against) {
    tcr_check *check = check_against(set, against);
    tcr_why why;
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    tcr_check_free(check);
    return why;
}

/* The rms deviation of a set by a check of its own. */
static double rms_of(const tcr_set *set, int against) {
    tcr_check *check = check_against(set, against);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    const double rms = (against == TCR_FITTED ? &eye->fitted : &eye->intended)->upright.rms_mm;
    tcr_check_free(check);
    return rms;
}

CLAIM(each_combination_is_a_set_with_the_other_causes_levelled_out) {
    tcr_set *whole = drawn_set(NULL, ALL);
    for (int against = 0; against < 2; against++) {
        const tcr_why why = causes_of(whole, against);
        expect_count(why.lashes, LASHES);
        for (unsigned causes = 0; causes <= ALL; causes++) {
            tcr_set *set = drawn_set(NULL, causes);
            given("causes %u, against %d", causes, against);
            expect_near(sqrt(why.mean_square_mm2[causes]), rms_of(set, against), 1e-9,
                        "the contract; two fitted lines, each good to 1e-10 mm");
            tcr_set_free(set);
        }
        expect_same(why.whole_rms_mm, sqrt(why.mean_square_mm2[ALL]), "one square root");
        expect_same(why.bare_rms_mm, sqrt(why.mean_square_mm2[0]), "one square root");
    }
    tcr_set_free(whole);
}

CLAIM(the_shares_sum_to_the_whole_less_the_bare_set) {
    /* Efficiency of Shapley's value (Shapley 1953); for the joint cause too. */
    static const char *const NEAR = "rounding of sums of 64 numbers below 4 mm2";
    for (unsigned causes = 0; causes <= ALL; causes++) {
        tcr_set *set = drawn_set(NULL, causes);
        for (int against = 0; against < 2; against++) {
            const tcr_why why = causes_of(set, against);
            double sum = 0.0;
            for (int c = 0; c < TCR_CAUSES; c++)
                sum += why.cause[c].shapley_mm2;
            given("causes %u, against %d", causes, against);
            expect_near(sum, why.mean_square_mm2[ALL] - why.mean_square_mm2[0], 1e-12, NEAR);
        }
        tcr_set_free(set);
    }
}

CLAIM(a_cause_that_a_set_cannot_have_does_nothing) {
    /* Equal lengths have no shortening, all on top no placement, roots at the mean height no
     * heights, lashes as their cells no choices, mean lashes no variation; one zone has no steps.
     */
    static const char *const NEAR = "the levelled set is the set itself but for rounding";
    const tcr_zone one = {.to = 1.0, .length_mm = 12.0, .curl = "C"};
    for (int lacking = 0; lacking < TCR_CAUSES; lacking++) {
        const bool zones = lacking == TCR_CAUSE_ZONES;
        tcr_set *set = drawn_set(NULL, zones ? ALL : ALL & ~(1u << lacking));
        if (zones)
            expect_status(tcr_set_put_map(set, TCR_LEFT, &one, 1), TCR_OK);
        for (int against = 0; against < 2; against++) {
            const tcr_why why = causes_of(set, against);
            for (int c = 0; c < TCR_CAUSES; c++) {
                given("cause %d in a set without %d, against %d", c, lacking, against);
                if (c != lacking) {
                    expect_true(fabs(why.cause[c].shapley_mm2) > 1e-6);
                    continue;
                }
                expect_near(why.cause[c].shapley_mm2, 0.0, 1e-12, NEAR);
                expect_near(why.cause[c].first_in_mm2, 0.0, 1e-12, NEAR);
                expect_near(why.cause[c].last_out_mm2, 0.0, 1e-12, NEAR);
                expect_near(why.cause[c].alone_rms_mm, why.bare_rms_mm, 1e-12, NEAR);
                expect_near(why.cause[c].without_rms_mm, why.whole_rms_mm, 1e-12, NEAR);
            }
        }
        tcr_set_free(set);
    }
}

/* What a player adds to those before it, summed over all orders of the players that are left. */
static double sum_over_orders(const double *value, const unsigned *players, int count, int of,
                              unsigned before, unsigned met, int *orders) {
    double sum = 0.0;
    if (met == (1u << count) - 1u) {
        ++*orders;
        return 0.0;
    }
    for (int i = 0; i < count; i++) {
        if (met >> i & 1u)
            continue;
        int below = 0;
        const unsigned with = before | players[i];
        sum += sum_over_orders(value, players, count, of, with, met | 1u << i, &below);
        *orders += below;
        if (i == of)
            sum += below * (value[with] - value[before]);
    }
    return sum;
}

static double mean_over_orders(const double *value, const unsigned *players, int count, int of) {
    int orders = 0;
    const double sum = sum_over_orders(value, players, count, of, 0, 0, &orders);
    return sum / orders;
}

CLAIM(a_share_is_the_mean_over_all_orders) {
    static const unsigned ALONE[] = {1, 2, 4, 8, 16, 32}, JOINT[] = {1 | 2, 4, 8, 16, 32},
                          ALONG[] = {8 | 16, 1, 2, 4, 32};
    static const char *const NEAR = "sums of 720 differences of numbers below 4 mm2";
    tcr_set *set = drawn_set(NULL, ALL);
    for (int against = 0; against < 2; against++) {
        const tcr_why why = causes_of(set, against);
        const double *value = why.mean_square_mm2;
        for (int c = 0; c < TCR_CAUSES; c++) {
            given("cause %d, against %d", c, against);
            expect_near(why.cause[c].shapley_mm2, mean_over_orders(value, ALONE, 6, c), 1e-13,
                        NEAR);
            expect_same(why.cause[c].first_in_mm2, value[1u << c] - value[0], "one subtraction");
            expect_same(why.cause[c].last_out_mm2, value[ALL] - value[ALL & ~(1u << c)],
                        "one subtraction");
        }
        expect_near(why.layering.shapley_mm2, mean_over_orders(value, JOINT, 5, 0), 1e-13, NEAR);
        expect_near(why.lengths_along.shapley_mm2, mean_over_orders(value, ALONG, 5, 0), 1e-13,
                    NEAR);
        expect_same(why.lengths_along.alone_rms_mm, sqrt(value[8 | 16]), "one square root");
        expect_same(why.layering.alone_rms_mm, sqrt(value[1 | 2]), "one square root");
        expect_same(why.layering.without_rms_mm, sqrt(value[ALL & ~3u]), "one square root");
    }
    tcr_set_free(set);
}

CLAIM(on_a_good_layered_set_levelling_the_roots_alone_makes_it_worse) {
    /* model.md, section 8: the lengths of 12/11/10 are made for roots at different heights. */
    tcr_set *set = drawn_set(NULL, ALL & ~bit(TCR_CAUSE_VARIATION));
    const tcr_why why = causes_of(set, TCR_FITTED);
    const double without = why.cause[TCR_CAUSE_HEIGHTS].without_rms_mm;
    expect_within(without, 2.0 * why.whole_rms_mm, 10.0, "worse means far worse, not by rounding");
    expect_true(why.cause[TCR_CAUSE_HEIGHTS].last_out_mm2 < 0.0);
    expect_within(why.layering.without_rms_mm, 0.0, without, "both levelled fit again");
    tcr_set_free(set);
}

CLAIM(a_rows_own_length_keeps_its_difference_from_the_maps) {
    /* Rows that all ask for 1.5 mm more than the map make the set that a map 1.5 mm longer makes:
     * against the fitted line, which asks the map nothing, both have the same causes. */
    tcr_set *by_row = new_set(NULL, ALL), *by_map = new_set(NULL, ALL);
    const tcr_tray tray = {.count = 5, .length_mm = {9.5, 10.5, 11.5, 12.5, 13.5}};
    tcr_zone longer[3];
    for (int i = 0; i < 3; i++) {
        longer[i] = ZONES[i];
        longer[i].length_mm += 1.5;
    }
    expect_status(tcr_set_put_tray(by_map, &tray), TCR_OK);
    expect_status(tcr_set_put_map(by_map, TCR_LEFT, longer, 3), TCR_OK);
    for (uint32_t k = 0; k < LASHES; k++) {
        char id[16];
        snprintf(id, sizeof id, "r%u", (unsigned)k);
        const tcr_lash lash = drawn_lash(k);
        const double zone = ZONES[lash.u < 0.3 ? 0 : lash.u < 0.7 ? 1 : 2].length_mm;
        const tcr_wish wish = {.fixed = TCR_FIX_LENGTH,
                               .length_mm = zone - (double)lash.layer + 1.5};
        expect_status(tcr_set_add_lash(by_row, TCR_LEFT, id, &lash, &wish), TCR_OK);
        expect_status(tcr_set_add_lash(by_map, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    const tcr_why rows = causes_of(by_row, TCR_FITTED), map = causes_of(by_map, TCR_FITTED);
    for (int c = 0; c < TCR_COMBINATIONS; c++) {
        given("causes %d", c);
        expect_near(rows.mean_square_mm2[c], map.mean_square_mm2[c], 1e-9,
                    "two fitted lines, each good to 1e-10 mm");
    }
    tcr_set_free(by_row);
    tcr_set_free(by_map);
}

/* ---- The layers -------------------------------------------------------------------- */

CLAIM(equal_lengths_and_the_rule_are_sets_of_their_own) {
    /* A set with equal lengths is as far off by the rule as the ruled one is, and the reverse. */
    static const char *const NEAR = "the contract; two fitted lines, each good to 1e-10 mm";
    tcr_set *ruled = drawn_set(NULL, ALL),
            *equal = drawn_set(NULL, ALL & ~bit(TCR_CAUSE_SHORTENING));
    for (int against = 0; against < 2; against++) {
        const tcr_why of_ruled = causes_of(ruled, against), of_equal = causes_of(equal, against);
        given("against %d", against);
        expect_near(of_ruled.layers.equal_rms_mm, rms_of(equal, against), 1e-9, NEAR);
        expect_near(of_equal.layers.equal_rms_mm, rms_of(equal, against), 1e-9, NEAR);
        expect_near(of_ruled.layers.ruled_rms_mm, rms_of(ruled, against), 1e-9, NEAR);
        expect_near(of_equal.layers.ruled_rms_mm, rms_of(ruled, against), 1e-9, NEAR);
        expect_true(of_ruled.layers.lengths == TCR_LENGTHS_RULED);
        expect_true(of_equal.layers.lengths == TCR_LENGTHS_EQUAL);
        expect_same(of_equal.layers.step_mm, 1.0, "common practice, where the set has no step");
    }
    tcr_set_free(ruled);
    tcr_set_free(equal);
}

/* Y of the mean lash's tip at u = 1/2, by the scalar call. */
static double mean_tip(const tcr_set *set, double higher_mm, double length_mm,
                       const tcr_view *view) {
    tcr_choice worn;
    tcr_vec3 tip;
    tcr_lash mean = mean_lash();
    mean.height_mm += higher_mm;
    expect_status(tcr_set_choice(set, TCR_LEFT, 0, &worn), TCR_OK);
    worn.length_mm = length_mm;
    worn.placement = TCR_ON_TOP;
    const tcr_extension ext = tcr_set_extension(set, &worn);
    expect_status(
        tcr_tip(tcr_set_lid(set, TCR_LEFT), view->opening, &mean, &ext, tcr_set_bond(set), &tip),
        TCR_OK);
    return tip.y * cos(view->viewer_rad) - tip.z * sin(view->viewer_rad);
}

CLAIM(a_higher_root_and_a_shorter_extension_move_the_mean_lashs_tip) {
    tcr_set *set = drawn_set(NULL, ALL);
    const tcr_view views[] = {{1.0, 0.0}, {0.6, tcr_degrees(35.0)}, {0.0, tcr_degrees(60.0)}};
    for (size_t i = 0; i < 3; i++) {
        tcr_check_options options = tcr_check_options_default();
        options.has_view = true;
        options.view = views[i];
        tcr_check *check = NULL;
        tcr_why why;
        expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
        expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
        const double level = mean_tip(set, 0.0, 12.0, &views[i]); /* the middle zone's 12 mm */
        given("view %zu", i);
        expect_near(why.layers.tip_by_height_mm, mean_tip(set, 1.0, 12.0, &views[i]) - level, 1e-13,
                    "rounding of tips at 20 mm");
        expect_near(why.layers.tip_by_shorter_mm, mean_tip(set, 0.0, 11.0, &views[i]) - level,
                    1e-13, "rounding of tips at 20 mm");
        if (i == 0) /* model.md, section 5: layers 1 mm apart differ by this, open from the front */
            expect_near(why.layers.tip_by_height_mm, 0.9549, 0.00005, "its last digit");
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(a_cell_worn_in_halves_wears_the_longer_half) {
    tcr_set *set = new_set(NULL, ALL);
    for (int i = 0; i < 12; i++) { /* six of them in the middle zone */
        char id[16];
        snprintf(id, sizeof id, "m%d", i);
        const tcr_lash lash = tcr_lash_unknown(0.1 + 0.07 * i, TCR_BOTTOM);
        const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = i % 2 ? 13.0 : 11.0};
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, &wish), TCR_OK);
    }
    const tcr_view open = tcr_view_named(TCR_OPEN_FRONT);
    const tcr_why why = causes_of(set, TCR_FITTED);
    /* Source: model.md, section 8, the longer of the middle two. */
    expect_near(why.layers.tip_by_shorter_mm,
                mean_tip(set, 0.0, 12.0, &open) - mean_tip(set, 0.0, 13.0, &open), 1e-13,
                "rounding of tips at 20 mm");
    tcr_set_free(set);
}

/* Bottom lashes in the outer zones; in the middle zone middle ones, by the map or by their rows. */
static tcr_set *hollow_set(double by_row_mm) {
    tcr_set *set = new_set(NULL, ALL);
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = by_row_mm};
    for (int i = 0; i < 24; i++) {
        char id[16];
        snprintf(id, sizeof id, "v%d", i);
        const double u = 0.06 + 0.038 * i;
        const bool is_middle = u >= 0.3 && u < 0.7;
        const tcr_lash lash = tcr_lash_unknown(u, is_middle ? TCR_MIDDLE : TCR_BOTTOM);
        expect_status(
            tcr_set_add_lash(set, TCR_LEFT, id, &lash, is_middle && by_row_mm > 0.0 ? &wish : NULL),
            TCR_OK);
    }
    return set;
}

CLAIM(a_zone_without_a_bottom_layer_has_the_nearest_ones_and_of_two_the_inner_ones) {
    /* Source: model.md, section 8. The zones of 10 and of 11 mm are equally near. */
    tcr_set *set = hollow_set(0.0), *levelled = hollow_set(10.0);
    expect_near(causes_of(set, TCR_FITTED).layers.equal_rms_mm, rms_of(levelled, TCR_FITTED), 1e-9,
                "the contract; two fitted lines, each good to 1e-10 mm");
    tcr_set_free(set);
    tcr_set_free(levelled);
}

CLAIM(layers_have_their_mean_heights_and_an_empty_one_none) {
    tcr_set *set = new_set(NULL, ALL);
    for (int i = 0; i < 20; i++) {
        char id[16];
        snprintf(id, sizeof id, "h%d", i);
        tcr_lash lash = tcr_lash_unknown(0.05 + 0.045 * i, i % 2 ? TCR_TOP : TCR_BOTTOM);
        lash.height_mm = i % 2 ? 1.0 + 0.5 * (i % 4 == 1) : 0.25;
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    const tcr_why why = causes_of(set, TCR_FITTED);
    expect_same(why.layers.height_mm[TCR_BOTTOM], 0.25, "all alike");
    expect_true(isnan(why.layers.height_mm[TCR_MIDDLE]));
    expect_same(why.layers.height_mm[TCR_TOP], 1.25, "half at 1, half at 1.5");
    tcr_set_free(set);
}

/* Twelve lashes on one or two layers; the rows of some say what they wear. */
static tcr_why worn_set_of(const tcr_tray *tray, int layers, tcr_layer first, int rows,
                           double length_mm) {
    tcr_set *set = new_set(NULL, ALL);
    for (int i = 0; i < 12; i++) {
        char id[16];
        snprintf(id, sizeof id, "o%d", i);
        tcr_lash lash =
            tcr_lash_unknown(0.1 + 0.07 * i, (tcr_layer)((int)first + (layers > 1 ? i % 2 : 0)));
        const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = length_mm};
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, i < rows ? &wish : NULL), TCR_OK);
    }
    if (tray != NULL)
        expect_status(tcr_set_put_tray(set, tray), TCR_OK);
    const tcr_why why = causes_of(set, TCR_FITTED);
    tcr_set_free(set);
    return why;
}

static tcr_why worn_set(int layers, tcr_layer first, int rows, double length_mm) {
    return worn_set_of(NULL, layers, first, rows, length_mm);
}

CLAIM(how_lengths_differ_by_layer_is_told) {
    tcr_why why = worn_set(1, TCR_BOTTOM, 0, 0);
    expect_true(why.layers.lengths == TCR_LENGTHS_ONE_LAYER && !why.layers.worn);
    expect_near(why.layers.ruled_rms_mm, why.whole_rms_mm, 1e-10, "the bottom layer keeps its own");
    why = worn_set(2, TCR_BOTTOM, 6, 11.5);
    expect_true(!why.layers.worn); /* half is not more than half */
    why = worn_set(2, TCR_BOTTOM, 12, 11.5);
    expect_true(why.layers.lengths == TCR_LENGTHS_EQUAL && why.layers.worn);
    why = worn_set(2, TCR_BOTTOM, 7, 11.5);
    expect_true(why.layers.lengths == TCR_LENGTHS_OTHER && why.layers.worn);
}

CLAIM(who_would_wear_by_the_rule_what_the_tray_lacks_is_counted) {
    /* Six of twelve lashes are on the middle layer, and 1 mm less than 11 is 10 mm. */
    const tcr_tray has = {.count = 3, .length_mm = {10, 11, 12}};
    const tcr_tray lacks = {.count = 2, .length_mm = {11, 12}};
    expect_count(worn_set_of(&has, 2, TCR_BOTTOM, 12, 11).layers.ruled_lacking, 0);
    expect_count(worn_set_of(&lacks, 2, TCR_BOTTOM, 12, 11).layers.ruled_lacking, 6);
    expect_count(worn_set(2, TCR_BOTTOM, 12, 3.5).layers.ruled_lacking, 0); /* no rule at all */
}

CLAIM(the_rule_has_no_figure_where_it_cannot_be_followed) {
    tcr_why why = worn_set(2, TCR_MIDDLE, 0, 0); /* no bottom layer to start from */
    expect_true(isnan(why.layers.ruled_rms_mm) && isfinite(why.layers.equal_rms_mm));
    why =
        worn_set(2, TCR_BOTTOM, 12, 3.5); /* 2.5 mm on the middle layer; at least 3 (extension.h) */
    expect_true(isnan(why.layers.ruled_rms_mm) && isnan(why.layers.tip_by_shorter_mm));
    expect_true(isfinite(why.layers.tip_by_height_mm));
    why = worn_set(2, TCR_BOTTOM, 12, 4.0);
    expect_true(isfinite(why.layers.ruled_rms_mm) && isfinite(why.layers.tip_by_shorter_mm));
}

CLAIM(an_artist_changes_what_a_lash_wears_and_not_how_it_grows) {
    for (int cause = 0; cause < TCR_CAUSES; cause++)
        expect_true(tcr_cause_can_change((tcr_cause)cause) ==
                    (cause != TCR_CAUSE_HEIGHTS && cause != TCR_CAUSE_VARIATION));
}

/* ---- Where there are no causes ----------------------------------------------------- */

static void expect_none(const tcr_check *check, tcr_side side, tcr_status status) {
    tcr_why why = {.whole_rms_mm = 7.0};
    expect_status(tcr_why_of(check, side, &why), status);
    expect_same(why.whole_rms_mm, 7.0, "a failed call leaves its output");
}

CLAIM(wrong_arguments_are_told) {
    tcr_set *set = drawn_set(NULL, ALL);
    tcr_check *check = check_against(set, TCR_FITTED);
    expect_none(NULL, TCR_LEFT, TCR_E_ARGUMENT);
    expect_none(check, TCR_RIGHT, TCR_E_MISSING);
    expect_status(tcr_why_of(check, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(an_eye_without_a_line_has_its_status) {
    tcr_set *set = new_set(NULL, ALL);
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, NULL), TCR_OK);
    tcr_check *check = check_against(set, TCR_FITTED);
    expect_none(check, TCR_LEFT, TCR_E_FEW); /* one tip makes no line */
    tcr_check_free(check);
    check = check_against(set, TCR_INTENDED);
    tcr_why why;
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK); /* the map's line takes none */
    expect_count(why.lashes, 1);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(lashes_that_stand_at_one_place_without_their_variation_have_no_line) {
    tcr_set *set = new_set(NULL, ALL);
    for (int i = 0; i < 12; i++) {
        char id[16];
        snprintf(id, sizeof id, "y%d", i);
        tcr_lash lash = tcr_lash_unknown(0.5, TCR_BOTTOM);
        lash.yaw_rad = tcr_degrees(3.0 * i); /* tips apart by their growth alone */
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    tcr_check *check = check_against(set, TCR_FITTED);
    expect_status(tcr_check_eye(check, TCR_LEFT)->fitted_status, TCR_OK);
    expect_none(check, TCR_LEFT, TCR_E_ONE_X);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_mean_lash_without_room_for_a_bond_is_told) {
    tcr_set *set = drawn_set(NULL, ALL);
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    mean.length_mm = 1.6; /* 0.9 mm beyond the 0.7 that stay free; a bond takes 1 (model.md, 4) */
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    for (int against = 0; against < 2; against++) {
        tcr_check *check = check_against(set, against);
        given("against %d", against);
        expect_none(check, TCR_LEFT, TCR_E_BOND);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(without_memory_the_answer_is_that_and_nothing_leaks) {
    tcr_counted counted = {0};
    const tcr_allocator allocator = tcr_counted_allocator(&counted);
    tcr_set *set = drawn_set(&allocator, ALL);
    tcr_check *check = check_against(set, TCR_FITTED);
    const size_t blocks = counted.blocks;
    counted.fail_at = counted.calls + 1;
    expect_none(check, TCR_LEFT, TCR_E_MEMORY);
    expect_count(counted.blocks, blocks);
    counted.fail_at = 0;
    tcr_why why;
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    expect_count(counted.blocks, blocks);
    tcr_check_free(check);
    tcr_set_free(set);
    expect_count(counted.blocks, 0);
}

int main(void) {
    static const TTest *const claims[] = {
        &each_combination_is_a_set_with_the_other_causes_levelled_out,
        &the_shares_sum_to_the_whole_less_the_bare_set,
        &a_cause_that_a_set_cannot_have_does_nothing,
        &a_share_is_the_mean_over_all_orders,
        &on_a_good_layered_set_levelling_the_roots_alone_makes_it_worse,
        &a_rows_own_length_keeps_its_difference_from_the_maps,
        &equal_lengths_and_the_rule_are_sets_of_their_own,
        &a_higher_root_and_a_shorter_extension_move_the_mean_lashs_tip,
        &a_cell_worn_in_halves_wears_the_longer_half,
        &a_zone_without_a_bottom_layer_has_the_nearest_ones_and_of_two_the_inner_ones,
        &layers_have_their_mean_heights_and_an_empty_one_none,
        &how_lengths_differ_by_layer_is_told,
        &who_would_wear_by_the_rule_what_the_tray_lacks_is_counted,
        &the_rule_has_no_figure_where_it_cannot_be_followed,
        &an_artist_changes_what_a_lash_wears_and_not_how_it_grows,
        &wrong_arguments_are_told,
        &an_eye_without_a_line_has_its_status,
        &lashes_that_stand_at_one_place_without_their_variation_have_no_line,
        &a_mean_lash_without_room_for_a_bond_is_told,
        &without_memory_the_answer_is_that_and_nothing_leaks,
    };
    return RUN_CLAIMS("why", claims);
}
