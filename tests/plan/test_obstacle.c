/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where there is no plan: which limit is named, and that loosening just that one makes one. */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/load.h>

#include "support/check.h"
#include "support/client.h"
#include "support/make.h"

/* Three zones whose layer is given one length each: INVENTED. */
static tcr_set *with_lengths(tcr_side side, tcr_layer layer, const double length_mm[3]) {
    tcr_set *set;
    tcr_zone zones[3];
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    for (int z = 0; z < 3; z++) {
        zones[z] = (tcr_zone){.to = (z + 1) / 3.0, .length_mm = length_mm[z], .curl = "C"};
        zones[z].layer[layer] = (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = length_mm[z]};
    }
    expect_status(tcr_set_add_eye(set, side, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, side, zones, 3), TCR_OK);
    for (int i = 0; i < 12; i++) {
        char id[8];
        tcr_lash lash = tcr_lash_unknown(0.05 + 0.08 * i, layer);
        lash.length_mm = 9.0;
        snprintf(id, sizeof id, "%d", i);
        expect_status(tcr_set_add_lash(set, side, id, &lash, NULL), TCR_OK);
    }
    return set;
}

/* What stands in the way; TCR_OK and no member where there is a plan. */
static tcr_error error_of(const tcr_set *set, const tcr_plan_options *o) {
    tcr_plan *plan = NULL;
    tcr_error error = tcr_error_none();
    const tcr_status status = tcr_plan_new(set, o, &plan, &error);
    expect_status(error.status, status);
    expect_true((error.message[0] == '\0') == (status == TCR_OK));
    expect_true((plan != NULL) == (status == TCR_OK));
    tcr_plan_free(plan);
    return error;
}

static void expect_plan(const tcr_set *set, const tcr_plan_options *o) {
    expect_status(error_of(set, o).status, TCR_OK);
}

static tcr_error expect_obstacle(const tcr_set *set, const tcr_plan_options *o, const char *member,
                                 const char *message) {
    const tcr_error error = error_of(set, o);
    expect_status(error.status, TCR_E_NO_SOLUTION);
    expect_text(error.member, member);
    expect_text(error.message, message);
    return error;
}

CLAIM(a_step_or_a_number_of_lengths_is_named_and_loosening_it_makes_a_plan) {
    tcr_set *set = with_lengths(TCR_RIGHT, TCR_TOP, (const double[]){8.0, 10.0, 12.0});
    tcr_plan_options o = tcr_plan_options_default();
    o.zone_step_most_mm = 1.75;
    expect_obstacle(set, &o, "zone_step_most_mm",
                    "no choice keeps neighbouring zones within a step of 1.75 mm; a larger zone "
                    "step would leave one");
    o.zone_step_most_mm = 2.0; /* the zones' own: 8, 10, 12 */
    expect_plan(set, &o);
    o.lengths_most = 2;
    expect_obstacle(set, &o, "lengths_most",
                    "no choice has at most 2 lengths; more lengths would leave one");
    o.lengths_most = 3;
    expect_plan(set, &o);
    o.zone_step_most_mm = 1.0;
    o.lengths_most = 2;
    expect_obstacle(set, &o, "zone_step_most_mm",
                    "no choice keeps neighbouring zones within a step of 1 mm, and none has at "
                    "most 2 lengths; a larger zone step and more lengths would leave one");
    o.zone_step_most_mm = INFINITY;
    expect_obstacle(set, &o, "lengths_most",
                    "no choice has at most 2 lengths; more lengths would leave one");
    o.zone_step_most_mm = 1.0;
    o.lengths_most = 3;
    expect_obstacle(set, &o, "zone_step_most_mm",
                    "no choice keeps neighbouring zones within a step of 1 mm; a larger zone "
                    "step would leave one");
    tcr_set_free(set);
}

CLAIM(a_set_whose_rows_say_it_all_has_nothing_to_plan) {
    tcr_set *set = with_lengths(TCR_LEFT, TCR_TOP, (const double[]){8.0, 10.0, 12.0}), *worn;
    size_t zones;
    const tcr_zone *map = tcr_set_map(set, TCR_LEFT, &zones);
    expect_status(tcr_set_new(NULL, &worn), TCR_OK);
    expect_status(tcr_set_add_eye(worn, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(worn, TCR_LEFT, map, zones), TCR_OK);
    tcr_plan_options o = tcr_plan_options_default();
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 9.0};
    for (size_t i = 0; i < tcr_set_lash_count(set, TCR_LEFT); i++)
        expect_status(tcr_set_add_lash(worn, TCR_LEFT, tcr_set_id(set, TCR_LEFT, i),
                                       tcr_set_lash(set, TCR_LEFT, i), &wish),
                      TCR_OK);
    expect_obstacle(worn, &o, "rows",
                    "there is nothing to plan: the survey says what each lash gets; empty the "
                    "ext_ columns of the lashes to plan");
    expect_plan(set, &o); /* without its rows */
    tcr_set_free(set);
    tcr_set_free(worn);
}

CLAIM(the_eye_without_a_lash_to_use_is_named) {
    for (int bare = 0; bare < TCR_SIDES; bare++) {
        tcr_set *set = tcr_make_client(NULL, 2, 30), *other;
        tcr_plan_options o = tcr_plan_options_default();
        expect_status(tcr_set_new(NULL, &other), TCR_OK);
        for (int side = 0; side < TCR_SIDES; side++) { /* lashes of one eye are all short */
            size_t zones;
            const tcr_zone *map = tcr_set_map(set, (tcr_side)side, &zones);
            expect_status(tcr_set_add_eye(other, (tcr_side)side, NULL), TCR_OK);
            expect_status(tcr_set_put_map(other, (tcr_side)side, map, zones), TCR_OK);
            for (size_t i = 0; i < 30; i++) {
                tcr_lash lash = *tcr_set_lash(set, (tcr_side)side, i);
                lash.condition = TCR_SUITABLE;
                lash.length_mm = side == bare ? 4.9 : 9.0;
                expect_status(tcr_set_add_lash(other, (tcr_side)side,
                                               tcr_set_id(set, (tcr_side)side, i), &lash, NULL),
                              TCR_OK);
            }
        }
        given("eye %d", bare);
        const tcr_error error = expect_obstacle(
            other, &o, "baby_below_mm",
            bare == TCR_LEFT
                ? "0 of 30 suitable lashes of the left eye are left to plan, and a line needs 12; "
                  "30 "
                  "stay bare by "
                  "baby_below_mm 5 or thin_below_mm 0.055, and other limits under plan in the "
                  "set file would leave more"
                : "0 of 30 suitable lashes of the right eye are left to plan, and a line needs 12; "
                  "30 "
                  "stay bare by "
                  "baby_below_mm 5 or thin_below_mm 0.055, and other limits under plan in the "
                  "set file would leave more");
        expect_count((size_t)error.side, (size_t)bare);
        expect_true(error.zone == SIZE_MAX && error.layer == -1);
        o.limits.baby_below_mm = 4.8; /* the limit that they fall under */
        o.limits.overlength_mm = 6.0; /* and those that so short a lash meets else */
        o.limits.mass_ratio = o.limits.moment_ratio = 1e6;
        expect_plan(other, &o);
        tcr_set_free(set);
        tcr_set_free(other);
    }
}

/* An eye of 'count' full-grown lashes, all alike but for those that 'change' changes: INVENTED. */
static tcr_set *with_lashes(size_t count, size_t changed, void (*change)(tcr_lash *)) {
    static const tcr_zone ZONE = {.to = 1.0, .length_mm = 10.0, .curl = "C"};
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_RIGHT, &ZONE, 1), TCR_OK);
    for (size_t i = 0; i < count; i++) {
        char id[24];
        tcr_lash lash = tcr_lash_unknown(0.1 + 0.8 * (double)i / (double)count, TCR_BOTTOM);
        lash.length_mm = 9.0;
        if (i < changed)
            change(&lash);
        snprintf(id, sizeof id, "%zu", i);
        expect_status(tcr_set_add_lash(set, TCR_RIGHT, id, &lash, NULL), TCR_OK);
    }
    return set;
}

static void make_baby(tcr_lash *lash) { lash->length_mm = 4.5; }
static void make_thin(tcr_lash *lash) { lash->root_diameter_mm = 0.05; }
static void make_stray(tcr_lash *lash) { lash->height_mm = 3.5; }
static void make_short(tcr_lash *lash) { lash->length_mm = 6.0; }

/* A limit that leaves fewer than 12 of an eye's lashes is named; that 12 are enough, and that an
 * eye with fewer than 12 to begin with is planned as it is, is plan.h's word. */
CLAIM(fewer_than_twelve_lashes_left_are_an_error_that_names_the_limit) {
    static const struct {
        void (*change)(tcr_lash *);
        const char *member, *words;
    } CASES[] = {
        {make_baby, "baby_below_mm",
         "baby_below_mm 5 or thin_below_mm 0.055, and other limits under plan "
         "in the set file"},
        {make_thin, "baby_below_mm",
         "baby_below_mm 5 or thin_below_mm 0.055, and other limits under plan "
         "in the set file"},
        {make_stray, "stray_above_mm",
         "stray_above_mm 3 or out_of_fan_deg 25, and other limits under plan "
         "in the set file"},
        {make_short, "overlength_mm",
         "overlength_mm 2, and thinner or fewer fibres, shorter lengths, or "
         "wider limits under plan in the set file"},
    };
    for (size_t k = 0; k < sizeof CASES / sizeof *CASES; k++) {
        char message[400];
        tcr_plan_options o = tcr_plan_options_default();
        o.share = 1.0;
        o.limits.overlength_mm = 2.0; /* 6 mm bear 8 of the map's 10, but for its last millimetre */
        given("%s", CASES[k].member);
        tcr_set *set = with_lashes(20, 9, CASES[k].change);
        snprintf(message, sizeof message,
                 "11 of 20 suitable lashes of the right eye are left to plan, and a line needs 12; "
                 "9 stay bare "
                 "by %s would leave more",
                 CASES[k].words);
        const tcr_error error = expect_obstacle(set, &o, CASES[k].member, message);
        expect_same(error.value, 11.0, "20 less 9");
        expect_count((size_t)error.side, TCR_RIGHT);
        tcr_set_free(set);
        set = with_lashes(20, 8, CASES[k].change);
        expect_plan(set, &o);
        tcr_set_free(set);
        set = with_lashes(11, 9, CASES[k].change);
        expect_plan(set, &o);
        tcr_set_free(set);
    }
}

CLAIM(the_load_limits_that_leave_too_few_are_named_together) {
    tcr_set *set = with_lashes(20, 0, NULL);
    tcr_plan_options o = tcr_plan_options_default();
    o.fans = 1, o.fan[0] = 6;
    expect_obstacle(
        set, &o, "mass_ratio",
        "0 of 20 suitable lashes of the right eye are left to plan, and a line needs 12; 20 "
        "stay bare by mass_ratio 10 and moment_ratio 20, and thinner or fewer "
        "fibres, shorter lengths, or wider limits under plan in the set file would "
        "leave more");
    o.limits.mass_ratio = 1e6;
    expect_obstacle(
        set, &o, "moment_ratio",
        "0 of 20 suitable lashes of the right eye are left to plan, and a line needs 12; 20 "
        "stay bare by moment_ratio 20, and thinner or fewer fibres, shorter "
        "lengths, or wider limits under plan in the set file would leave more");
    o.limits.moment_ratio = 1e6;
    expect_plan(set, &o);
    o.share = 0.05; /* a share is no limit: it may leave as few as it will */
    expect_plan(set, &o);
    tcr_set_free(set);
}

/* The rule gives 9 and 8 mm on the upper layers; the tray begins at 10. */
CLAIM(a_tray_that_lacks_what_the_rule_gives_stops_no_plan) {
    tcr_set *set = with_lengths(TCR_LEFT, TCR_BOTTOM, (const double[]){10.0, 10.0, 10.0});
    const tcr_tray tray = {.count = 2, .length_mm = {10.0, 11.0}};
    tcr_check *check = NULL;
    tcr_lash lash = tcr_lash_unknown(0.5, TCR_TOP);
    lash.length_mm = 9.0;
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "top", &lash, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_E_TRAY);
    const tcr_plan_options o = tcr_plan_options_default();
    expect_plan(set, &o);
    tcr_set_free(set);
}

/* The moment of a lash with a curl, in times its own. */
static double moment_ratio(const tcr_set *set, const tcr_lash *known, size_t curl) {
    const tcr_lash complete = tcr_lash_complete(known, NULL), *lash = &complete;
    const tcr_choice choice = {.length_mm = 10.0, .curl = curl, .diameter_mm = 0.15, .fan = 1};
    const tcr_extension ext = tcr_set_extension(set, &choice);
    const tcr_lid lid = tcr_lid_default();
    tcr_stance stance;
    tcr_weight weight;
    expect_status(tcr_lash_stance(lash, &lid, 1.0, &stance), TCR_OK);
    expect_status(tcr_weight_of(lash, &stance, &ext, tcr_set_bond(set), NULL, &weight), TCR_OK);
    return weight.load.moment_ratio;
}

/* Of two lashes, one that only bears the first curl and one that only bears the second, within a
 * limit of the moment that lies between: then each has something to wear, and their cell nothing.
 */
CLAIM(the_cell_that_no_option_suits_is_named_and_a_wider_limit_makes_a_plan) {
    gsl_rng *rng = tcr_make_rng(31);
    tcr_plan_options o = tcr_plan_options_default();
    const tcr_tray tray = {.count = 1, .length_mm = {10.0}};
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = 0.0;
    tcr_zone zones[3];
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    for (int z = 0; z < 3; z++)
        zones[z] = (tcr_zone){.to = (z + 1) / 3.0, .length_mm = 10.0, .curl = "C"};
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_RIGHT, zones, 3), TCR_OK);
    o.curls = 2;
    expect_status(tcr_set_find_curl(set, "J", &o.curl[0]), TCR_OK);
    expect_status(tcr_set_find_curl(set, "DD", &o.curl[1]), TCR_OK);
    memset(o.placement, 0, sizeof o.placement);
    o.placement[TCR_ON_TOP] = true;
    o.share = 1.0;
    o.limits.mass_ratio = o.limits.overlength_mm = 30.0;
    o.limits.out_of_fan_rad = tcr_degrees(90.0);
    tcr_lash pair[2];
    double least[2], most[2];
    for (int tries = 0;; tries++) {
        expect_true(tries < 100000);
        for (int i = 0; i < 2; i++) {
            pair[i] = tcr_lash_unknown(0.45 + 0.1 * i, TCR_MIDDLE);
            pair[i].turn_rad = tcr_degrees(tcr_draw_between(rng, 10.0, 120.0));
            pair[i].pitch_rad = tcr_degrees(tcr_draw_between(rng, -80.0, 80.0));
        }
        least[0] = moment_ratio(set, &pair[0], o.curl[0]);
        most[0] = moment_ratio(set, &pair[0], o.curl[1]);
        least[1] = moment_ratio(set, &pair[1], o.curl[1]);
        most[1] = moment_ratio(set, &pair[1], o.curl[0]);
        if (fmax(least[0], least[1]) < 0.99 * fmin(most[0], most[1]))
            break;
    }
    for (int i = 0; i < 2; i++)
        expect_status(tcr_set_add_lash(set, TCR_RIGHT, i == 0 ? "a" : "b", &pair[i], NULL), TCR_OK);
    given("turns %.17g, %.17g, pitches %.17g, %.17g, limit %.17g", pair[0].turn_rad,
          pair[1].turn_rad, pair[0].pitch_rad, pair[1].pitch_rad,
          (fmax(least[0], least[1]) + fmin(most[0], most[1])) / 2.0);
    o.limits.moment_ratio = (fmax(least[0], least[1]) + fmin(most[0], most[1])) / 2.0;
    const tcr_error error = expect_obstacle(
        set, &o, "limits",
        "no length of the tray suits all lashes of the middle layer in zone 2 of the right eye; a "
        "larger overlength, more placements, diameters, fans or curls, a smaller share, or wider "
        "limits under plan would leave a choice");
    expect_count((size_t)error.side, TCR_RIGHT);
    expect_count(error.zone, 1);
    expect_count((size_t)error.layer, TCR_MIDDLE);
    /* Source: the loads themselves; with the lesser of the two that are too much there is one. */
    o.limits.moment_ratio = fmin(most[0], most[1]) * (1.0 + 1e-9);
    expect_plan(set, &o);
    tcr_set_free(set);
    gsl_rng_free(rng);
}

/*
 * Source: plan.h, a count by hand. 64 lengths, 16 curls, 8 diameters, 2 fans and 4 placements are
 * 65536, one more than a cell takes; with 7 diameters they are 57344. A curl may be named twice.
 */
CLAIM(a_cell_with_more_options_than_can_be_proved_is_refused_with_their_number) {
    tcr_set *set = with_lengths(TCR_LEFT, TCR_MIDDLE, (const double[]){8.0, 8.0, 8.0}), *one;
    tcr_plan_options o = tcr_plan_options_default();
    tcr_zone zone = {.to = 1.0, .length_mm = 8.0, .curl = "C"};
    tcr_tray tray = {.count = TCR_TRAY_MAX};
    for (size_t t = 0; t < tray.count; t++)
        tray.length_mm[t] = 5.0 + 0.125 * (double)t;
    expect_status(tcr_set_new(NULL, &one), TCR_OK);
    expect_status(tcr_set_put_tray(one, &tray), TCR_OK);
    expect_status(tcr_set_add_eye(one, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(one, TCR_LEFT, &zone, 1), TCR_OK);
    expect_status(tcr_set_add_lash(one, TCR_LEFT, "a", tcr_set_lash(set, TCR_LEFT, 5), NULL),
                  TCR_OK);
    o.share = 1.0;
    o.curls = TCR_PLAN_CURLS_MAX;
    for (size_t i = 0; i < o.curls; i++)
        o.curl[i] = i % tcr_set_curl_count(one);
    o.diameters = TCR_PLAN_DIAMETERS_MAX;
    for (size_t i = 0; i < o.diameters; i++)
        o.diameter_mm[i] = 0.03 + 0.01 * (double)i;
    o.fans = 2;
    o.fan[0] = 1, o.fan[1] = 2;
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        o.placement[p] = true;
    const tcr_error error = expect_obstacle(
        one, &o, "options",
        "the middle layer in zone 1 of the left eye has 65536 options (lengths, curls, diameters, "
        "fans and placements, each with each); plan takes at most 65535, so give fewer");
    expect_same(error.value, 65536.0, "counted by hand");
    expect_same(error.most, 65535.0, "plan.h");
    expect_count((size_t)error.side, TCR_LEFT);
    expect_count(error.zone, 0);
    expect_count((size_t)error.layer, TCR_MIDDLE);
    o.diameters--;
    expect_plan(one, &o);
    tcr_set_free(set);
    tcr_set_free(one);
}

/* One option of a plan that is wrong, told by its member. Ranges: plan.h. */
static void expect_wrong(const tcr_set *set, const tcr_plan_options *o, tcr_status status,
                         const char *member, const char *message) {
    const tcr_error error = error_of(set, o);
    given("%s", member);
    expect_status(error.status, status);
    expect_text(error.member, member);
    expect_text(error.message, message);
    expect_true(error.side == -1 && error.zone == SIZE_MAX && error.layer == -1);
}

CLAIM(a_wrong_option_is_named_with_its_value_and_range) {
    tcr_set *set = with_lengths(TCR_LEFT, TCR_TOP, (const double[]){8.0, 10.0, 12.0});
    const tcr_plan_options usual = tcr_plan_options_default();
    tcr_plan_options o = usual;
    o.curls = TCR_PLAN_CURLS_MAX + 1;
    expect_wrong(set, &o, TCR_E_ARGUMENT, "curls", "curls is 17, but must be from 0 to 16");
    o = usual, o.diameters = 9;
    expect_wrong(set, &o, TCR_E_ARGUMENT, "diameters", "diameters is 9, but must be from 0 to 8");
    o = usual, o.fans = 9;
    expect_wrong(set, &o, TCR_E_ARGUMENT, "fans", "fans is 9, but must be from 0 to 8");
    o = usual, o.fans = 1, o.fan[0] = 21;
    expect_wrong(set, &o, TCR_E_RANGE, "fan", "fan is 21, but must be from 1 to 20");
    o = usual, o.diameters = 1, o.diameter_mm[0] = 0.01;
    expect_wrong(set, &o, TCR_E_RANGE, "diameter_mm",
                 "diameter_mm is 0.01, but must be from 0.02 to 0.3");
    o = usual, o.share = 0.01;
    expect_wrong(set, &o, TCR_E_RANGE, "share", "share is 0.01, but must be from 0.05 to 1");
    o = usual, o.samples_share = 0.25;
    expect_wrong(set, &o, TCR_E_RANGE, "samples_share",
                 "samples_share is 0.25, but must be from 0.5 to 1");
    o = usual, o.samples = TCR_SAMPLES_MAX + 1;
    expect_wrong(set, &o, TCR_E_ARGUMENT, "samples",
                 "samples is 100001, but must be from 0 to 100000");
    o = usual, o.objective = (tcr_objective)2;
    expect_wrong(set, &o, TCR_E_ARGUMENT, "objective", "objective is 2, but must be from 0 to 1");
    o = usual, o.free_mm = 10.5;
    expect_wrong(set, &o, TCR_E_RANGE, "free_mm", "free_mm is 10.5, but must be from 0 to 10");
    o = usual, o.zone_step_most_mm = -1.0;
    expect_wrong(set, &o, TCR_E_RANGE, "zone_step_most_mm",
                 "zone_step_most_mm is -1; it is 0 or more");
    o = usual, memset(o.placement, 0, sizeof o.placement);
    expect_wrong(set, &o, TCR_E_ARGUMENT, "placement",
                 "placement allows none; it allows one at least");
    o = usual, o.free_mm = 1.0, o.samples = 10, o.objective = TCR_LEAST_MAXIMUM;
    expect_wrong(set, &o, TCR_E_ARGUMENT, "free_mm",
                 "samples make the maximum least only for a line that is held; free_mm is above 0");
    const tcr_tray any = {.count = 0};
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    expect_wrong(set, &usual, TCR_E_TRAY, "tray",
                 "the set has no tray (tray: any), and plan chooses from a tray; give its lengths, "
                 "such as tray: {lengths_mm: [8, 9, 10, 11, 12]}");
    tcr_set_free(set);
}

CLAIM(without_an_error_to_fill_the_status_is_the_same) {
    tcr_set *set = with_lengths(TCR_RIGHT, TCR_TOP, (const double[]){8.0, 10.0, 12.0});
    tcr_plan_options o = tcr_plan_options_default();
    tcr_plan *plan = NULL;
    o.zone_step_most_mm = 1.0;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_E_NO_SOLUTION);
    o.share = 2.0;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_E_RANGE);
    expect_true(plan == NULL);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_step_or_a_number_of_lengths_is_named_and_loosening_it_makes_a_plan,
        &a_set_whose_rows_say_it_all_has_nothing_to_plan,
        &the_eye_without_a_lash_to_use_is_named,
        &fewer_than_twelve_lashes_left_are_an_error_that_names_the_limit,
        &the_load_limits_that_leave_too_few_are_named_together,
        &a_tray_that_lacks_what_the_rule_gives_stops_no_plan,
        &the_cell_that_no_option_suits_is_named_and_a_wider_limit_makes_a_plan,
        &a_cell_with_more_options_than_can_be_proved_is_refused_with_their_number,
        &a_wrong_option_is_named_with_its_value_and_range,
        &without_an_error_to_fill_the_status_is_the_same,
    };
    return RUN_CLAIMS("obstacles", claims);
}
