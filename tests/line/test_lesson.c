/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the layering rule gains, against sets that are built for each choice and checked one by one
 * (model.md, section 8). The check does not use the code of the lesson.
 */
#include <tipcrest/lesson.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/tipcrest.h>

#include "support/check.h"
#include "support/make.h"

enum { LASHES = 90, ZONES = 3 };

static const tcr_zone MAP[ZONES] = {
    {.to = 0.3, .length_mm = 10.0, .curl = "C"},
    {.to = 0.7, .length_mm = 12.0, .curl = "C"},
    {.to = 1.0, .length_mm = 11.0, .curl = "D"},
};

/* Why figures of the lesson and of a check differ at all. */
static const char WHY[] = "two sums of up to 90 squares, lines good to 1e-10 mm (line.h)";

static tcr_set *new_set(void) {
    tcr_set *set = NULL;
    tcr_description d = tcr_description_default();
    tcr_layering rule = tcr_layering_default();
    d.seed = 5;
    d.count = LASHES;
    rule.placement[TCR_MIDDLE] = TCR_OUTER_SIDE;
    rule.placement[TCR_TOP] = TCR_UNDERSIDE;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, MAP, ZONES), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    return set;
}

/* The mean root height of a layer's suitable lashes. */
static double mean_height(const tcr_set *set, tcr_layer layer) {
    double sum = 0.0, count = 0.0;
    for (size_t i = 0; i < LASHES; i++) {
        const tcr_lash *lash = tcr_set_lash(set, TCR_LEFT, i);
        if (lash->layer != layer || lash->condition != TCR_SUITABLE)
            continue;
        sum += lash->height_mm;
        count++;
    }
    return sum / count;
}

/* Height of the root of lash i with layers apart, its own distance from its layer kept or not. */
static double height_at(const tcr_set *set, size_t i, const tcr_lesson_place *place) {
    const tcr_lash *lash = tcr_set_lash(set, TCR_LEFT, i);
    const double own = mean_height(set, lash->layer);
    const double level =
        place->has_apart ? mean_height(set, TCR_BOTTOM) + (int)lash->layer * place->apart_mm : own;
    return place->alike ? level : level + (lash->height_mm - own);
}

/* The set with its lashes as a place has them; seed of the pitches. */
static tcr_set *set_at(const tcr_set *set, const tcr_lesson_place *place, uint64_t seed) {
    tcr_set *made = NULL;
    tcr_mean_lash mean;
    expect_status(tcr_set_copy(NULL, set, &made), TCR_OK);
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    for (size_t i = 0; i < LASHES; i++) {
        const tcr_lash *own = tcr_set_lash(set, TCR_LEFT, i);
        tcr_lash lash = place->alike ? tcr_mean_lash_at(&mean, own->u) : *own;
        lash.layer = own->layer;
        lash.condition = own->condition;
        lash.height_mm = height_at(set, i, place);
        if (place->pitch_sd_rad > 0.0) {
            const tcr_random draw = {
                .seed = seed, .lash = (uint32_t)i, .field = TCR_FIELD_PITCH, .eye = 0, .use = 3};
            lash.pitch_rad += place->pitch_sd_rad * tcr_random_normal(&draw);
        }
        expect_status(tcr_set_replace_lash(made, TCR_LEFT, i, &lash), TCR_OK);
    }
    return made;
}

/* The rms off the fitted line of a set whose middle and top layers are shorter. */
static double checked_rms(tcr_set *set, double middle_less_mm, double top_less_mm,
                          const tcr_view *view) {
    const double less[TCR_LAYERS] = {0.0, middle_less_mm, top_less_mm};
    tcr_zone map[ZONES];
    tcr_check *check = NULL;
    tcr_check_options options = tcr_check_options_default();
    memcpy(map, MAP, sizeof map);
    for (int zone = 0; zone < ZONES; zone++)
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            map[zone].layer[layer] =
                (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = MAP[zone].length_mm - less[layer]};
    expect_status(tcr_set_put_map(set, TCR_LEFT, map, ZONES), TCR_OK);
    options.has_view = true;
    options.view = *view;
    options.parts = TCR_PART_FITTED;
    expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
    const double rms = tcr_check_eye(check, TCR_LEFT)->fitted.upright.rms_mm;
    tcr_check_free(check);
    return rms;
}

/* The three rules of a lesson against sets checked one by one. */
static void expect_rules(const tcr_set *set, const tcr_lesson_place *place) {
    const int draws = place->pitch_sd_rad > 0.0 ? 10 : 1; /* model.md: seeds 1 to 10 */
    double square[3] = {0.0};
    tcr_lesson lesson;
    expect_status(tcr_lesson_of(set, TCR_LEFT, place, 1, NULL, &lesson), TCR_OK);
    for (int draw = 1; draw <= draws; draw++) {
        tcr_set *built = set_at(set, place, (uint64_t)draw);
        for (int less = 0; less < 3; less++)
            square[less] += pow(checked_rms(built, less, 2 * less, &place->view), 2);
        tcr_set_free(built);
    }
    for (int less = 0; less < 3; less++) {
        given("%g mm apart, %d mm less", place->apart_mm, less);
        expect_near(lesson.rms_mm[less], sqrt(square[less] / draws), 1e-9, WHY);
    }
}

static tcr_lesson_place apart(double mm) {
    tcr_lesson_place place = tcr_lesson_place_default();
    place.has_apart = true;
    place.apart_mm = mm;
    return place;
}

CLAIM(at_four_distances_figures_are_those_of_four_sets_checked_one_by_one) {
    static const double APART[] = {0.3, 0.6, 1.0, 1.4};
    tcr_set *set = new_set();
    for (int i = 0; i < 4; i++) {
        tcr_lesson_place place = apart(APART[i]);
        expect_rules(set, &place);
        place.alike = true;
        expect_rules(set, &place);
    }
    tcr_set_free(set);
}

CLAIM(the_own_heights_and_other_views_are_those_of_a_check) {
    tcr_set *set = new_set();
    tcr_lesson_place place = tcr_lesson_place_default();
    expect_rules(set, &place);
    place.view = tcr_view_named(TCR_ARTIST);
    expect_rules(set, &place);
    place.view = (tcr_view){.opening = 0.6, .viewer_rad = tcr_degrees(25)};
    expect_rules(set, &place);
    tcr_set_free(set);
}

CLAIM(a_spread_of_pitch_is_the_mean_over_ten_seeds) {
    tcr_set *set = new_set();
    tcr_lesson_place place = tcr_lesson_place_default();
    tcr_lesson lesson;
    place.alike = true;
    place.pitch_sd_rad = tcr_degrees(8);
    expect_rules(set, &place);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_OK);
    expect_nan(lesson.rms_mm[TCR_LESSON_BEST]);
    expect_nan(lesson.best_less_mm[0]);
    tcr_set_free(set);
}

CLAIM(the_best_sizes_are_the_best_of_all_pairs_tried_one_by_one) {
    static const double APART[] = {0.5, 1.4};
    tcr_set *set = new_set();
    for (int i = 0; i < 2; i++) {
        const tcr_lesson_place place = apart(APART[i]);
        tcr_set *built = set_at(set, &place, 0);
        double least = INFINITY, best[2] = {NAN, NAN};
        tcr_lesson lesson;
        for (int middle = 0; middle <= 5; middle++) /* 10 mm less 6 is no size: the tray has 5 */
            for (int top = 0; top <= 5; top++) {
                const double rms = checked_rms(built, middle, top, &place.view);
                if (rms < least) {
                    least = rms;
                    best[0] = middle;
                    best[1] = top;
                }
            }
        expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_OK);
        given("%g mm apart", APART[i]);
        expect_near(lesson.rms_mm[TCR_LESSON_BEST], least, 1e-9, WHY);
        expect_same(lesson.best_less_mm[0], best[0], "whole millimetres");
        expect_same(lesson.best_less_mm[1], best[1], "whole millimetres");
        tcr_set_free(built);
    }
    tcr_set_free(set);
}

CLAIM(best_sizes_are_sizes_of_the_tray) {
    const tcr_tray halves = {.count = 9, .length_mm = {8, 8.5, 9, 9.5, 10, 10.5, 11, 11.5, 12}};
    const tcr_tray few = {.count = 3, .length_mm = {10, 11, 12}};
    const tcr_tray any = {.count = 0};
    const tcr_lesson_place place = apart(1.0);
    tcr_set *set = new_set();
    tcr_lesson whole, half, none, without;
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &whole), TCR_OK);
    expect_status(tcr_set_put_tray(set, &halves), TCR_OK);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &half), TCR_OK);
    expect_status(tcr_set_put_tray(set, &few), TCR_OK);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &none), TCR_OK);
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &without), TCR_OK);
    /* Halves hold the whole millimetres up to 2 less, which the best whole sizes are. */
    expect_true(whole.best_less_mm[0] <= 2.0 && whole.best_less_mm[1] <= 2.0);
    expect_within(half.rms_mm[TCR_LESSON_BEST], 0.0, whole.rms_mm[TCR_LESSON_BEST], "more sizes");
    expect_same(fmod(half.best_less_mm[0], 0.5), 0.0, "half millimetres");
    /* Of 10 mm at the inner corner nothing shorter is left. */
    expect_same(none.rms_mm[TCR_LESSON_BEST], none.rms_mm[TCR_LESSON_EQUAL], "one choice is left");
    expect_same(without.best_less_mm[1], whole.best_less_mm[1], "whole millimetres without a tray");
    tcr_set_free(set);
}

CLAIM(rows_of_worn_lengths_play_no_part) {
    const tcr_lesson_place place[] = {apart(0.4), tcr_lesson_place_default()};
    tcr_set *set = new_set();
    tcr_lesson before[2], after[2];
    expect_status(tcr_lesson_of(set, TCR_LEFT, place, 2, NULL, before), TCR_OK);
    for (size_t i = 0; i < LASHES; i += 2) {
        tcr_wish worn = {.fixed = TCR_FIX_LENGTH | TCR_FIX_FROM_SKIN | TCR_FIX_PLACEMENT,
                         .length_mm = 7.0,
                         .from_skin_mm = 2.0,
                         .placement = TCR_INNER_SIDE};
        expect_status(tcr_set_replace_wish(set, TCR_LEFT, i, &worn), TCR_OK);
    }
    expect_status(tcr_lesson_of(set, TCR_LEFT, place, 2, NULL, after), TCR_OK);
    for (int i = 0; i < 2; i++)
        for (int choice = 0; choice < TCR_LESSON_CHOICES; choice++)
            expect_same(after[i].rms_mm[choice], before[i].rms_mm[choice], "same lashes and map");
    tcr_set_free(set);
}

CLAIM(the_intended_map_of_a_planned_set_is_what_the_rule_is_tried_on) {
    const tcr_zone planned[] = {{.to = 1.0, .length_mm = 8.0, .curl = "J"}};
    const tcr_lesson_place place = apart(1.0);
    tcr_set *set = new_set();
    tcr_lesson before, after;
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &before), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, planned, 1), TCR_OK);
    expect_status(tcr_set_put_intended(set, TCR_LEFT, MAP, ZONES), TCR_OK);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &after), TCR_OK);
    expect_bytes(&after, &before, sizeof after);
    tcr_set_free(set);
}

static double lead(const tcr_set *set, const tcr_lesson_place *place, int from, int to) {
    tcr_lesson lesson;
    expect_status(tcr_lesson_of(set, TCR_LEFT, place, 1, NULL, &lesson), TCR_OK);
    return lesson.rms_mm[from] - lesson.rms_mm[to];
}

CLAIM(a_rule_pays_from_where_it_overtakes) {
    tcr_set *set = new_set();
    int found = 0;
    for (int alike = 0; alike < 2; alike++)
        for (int less = 1; less <= 2; less++) {
            double from;
            given("%d mm less, alike %d", less, alike);
            expect_status(tcr_lesson_pays_from(set, TCR_LEFT, less, alike != 0, &from), TCR_OK);
            for (int k = 0; k <= 16; k++) { /* model.md: steps of 0.1 mm */
                tcr_lesson_place place = apart(k / 10.0);
                place.alike = alike != 0;
                const double gained = lead(set, &place, less - 1, less);
                if (isnan(from) || k / 10.0 <= from)
                    expect_true(gained <= 0.0);
            }
            if (isnan(from))
                continue;
            found++;
            tcr_lesson_place place = apart(from);
            place.alike = alike != 0;
            expect_near(lead(set, &place, less - 1, less), 0.0, 1e-9, "lines good to 1e-10 mm");
            place.apart_mm = from + 1e-4;
            expect_true(lead(set, &place, less - 1, less) > 0.0);
        }
    expect_within(found, 2, 4, "or nothing was tested");
    tcr_set_free(set);
}

CLAIM(the_order_turns_where_equal_lengths_look_more_even) {
    tcr_set *set = new_set();
    tcr_lesson_place close = apart(1.0), wide = apart(3.0);
    double from;
    close.alike = wide.alike = true;
    expect_status(tcr_lesson_turns_at(set, TCR_LEFT, &close, &from), TCR_OK);
    expect_within(from, tcr_degrees(1), tcr_degrees(69), "or nothing was tested");
    tcr_lesson_place place = close;
    place.view = (tcr_view){.opening = 0.0, .viewer_rad = from};
    expect_near(lead(set, &place, TCR_LESSON_ONE_LESS, TCR_LESSON_EQUAL), 0.0, 1e-9,
                "lines good to 1e-10 mm");
    for (int deg = 0; deg <= 70; deg += 5) {
        given("%d degrees", deg);
        place.view.viewer_rad = tcr_degrees(deg);
        if (place.view.viewer_rad > from)
            expect_true(lead(set, &place, TCR_LESSON_ONE_LESS, TCR_LESSON_EQUAL) > 0.0);
    }
    /* With layers 3 mm apart a millimetre less never looks worse. */
    expect_status(tcr_lesson_turns_at(set, TCR_LEFT, &wide, &from), TCR_OK);
    place = wide;
    place.view = (tcr_view){.opening = 0.0, .viewer_rad = tcr_degrees(70)};
    expect_true(isnan(from) == !(lead(set, &place, TCR_LESSON_ONE_LESS, TCR_LESSON_EQUAL) > 0.0));
    tcr_set_free(set);
}

/* Lashes alike on all layers but for the pitch of each, which a row does not change. */
static tcr_set *pitched_set(const double pitch_deg[TCR_LAYERS]) {
    tcr_set *set = NULL;
    const tcr_zone one = {.to = 1.0, .length_mm = 12.0, .curl = "C"};
    tcr_layering rule = tcr_layering_default();
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        rule.placement[layer] = TCR_ON_TOP;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &one, 1), TCR_OK);
    for (uint32_t i = 0; i < 30; i++) {
        char id[8];
        snprintf(id, sizeof id, "p%u", (unsigned)i);
        tcr_lash lash = tcr_make_default_lash(0.1 + 0.025 * i, (tcr_layer)(i % TCR_LAYERS));
        lash.pitch_rad += tcr_degrees(pitch_deg[lash.layer]);
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    return set;
}

CLAIM(a_rule_pays_at_any_distance_where_upper_lashes_point_up) {
    static const double UP[TCR_LAYERS] = {0, 8, 16}, DOWN[TCR_LAYERS] = {0, -20, -40};
    double from = 7.0;
    /* With the roots at one height the upper tips are too high already: shorter is better. */
    tcr_set *set = pitched_set(UP);
    const tcr_lesson_place level = apart(0.0);
    expect_true(lead(set, &level, TCR_LESSON_EQUAL, TCR_LESSON_ONE_LESS) > 0.0);
    expect_status(tcr_lesson_pays_from(set, TCR_LEFT, 1, false, &from), TCR_OK);
    expect_same(from, 0.0, "from the first distance on");
    tcr_set_free(set);
    /* Where they point far down, they are too low even 1.6 mm up. */
    set = pitched_set(DOWN);
    const tcr_lesson_place far = apart(1.6);
    expect_true(lead(set, &far, TCR_LESSON_EQUAL, TCR_LESSON_ONE_LESS) < 0.0);
    expect_status(tcr_lesson_pays_from(set, TCR_LEFT, 1, false, &from), TCR_OK);
    expect_nan(from);
    tcr_set_free(set);
}

CLAIM(equal_lengths_look_more_even_at_any_angle_where_layers_root_at_one_height) {
    static const double ALIKE[TCR_LAYERS] = {0};
    tcr_set *set = pitched_set(ALIKE);
    const tcr_lesson_place level = apart(0.0);
    double from = 7.0;
    expect_status(tcr_lesson_turns_at(set, TCR_LEFT, &level, &from), TCR_OK);
    expect_near(from, 0.0, 1e-12, "70 degrees less 70 times one");
    tcr_set_free(set);
}

CLAIM(alike_lashes_too_short_to_bond_have_no_figure) {
    tcr_set *set = new_set();
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    tcr_lesson_place place = apart(1.0);
    tcr_lesson lesson;
    mean.length_mm = 1.6; /* 0.9 mm beyond the 0.7 that stay free; a bond takes 1 (model.md, 4) */
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    place.alike = true;
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_OK);
    for (int choice = 0; choice < TCR_LESSON_CHOICES; choice++)
        expect_nan(lesson.rms_mm[choice]);
    place.alike = false; /* the eye's own lashes are long enough */
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_OK);
    expect_true(isfinite(lesson.rms_mm[TCR_LESSON_EQUAL]));
    tcr_set_free(set);
}

CLAIM(a_lash_that_its_row_leaves_bare_takes_no_part) {
    static const double ALIKE[TCR_LAYERS] = {0};
    tcr_set *set = pitched_set(ALIKE);
    const tcr_wish bare = {.fixed = TCR_FIX_BARE};
    const tcr_lesson_place place = apart(1.0);
    tcr_lesson lesson;
    expect_status(tcr_set_replace_wish(set, TCR_LEFT, 4, &bare), TCR_OK);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_OK);
    expect_count(lesson.lashes, 29);
    for (size_t i = 0; i < 30; i++)
        expect_status(tcr_set_replace_wish(set, TCR_LEFT, i, &bare), TCR_OK);
    double number = 7.0;
    expect_status(tcr_lesson_pays_from(set, TCR_LEFT, 1, false, &number), TCR_E_MISSING);
    expect_status(tcr_lesson_turns_at(set, TCR_LEFT, &place, &number), TCR_E_MISSING);
    expect_same(number, 7.0, "left alone");
    tcr_set_free(set);
}

CLAIM(lengths_below_3_mm_leave_a_choice_without_a_figure) {
    const tcr_zone shorter[] = {{.to = 1.0, .length_mm = 6.5, .curl = "C"}};
    const tcr_tray any = {.count = 0};
    const tcr_lesson_place place = apart(1.0);
    tcr_set *set = new_set();
    tcr_lesson lesson;
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, shorter, 1), TCR_OK);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_OK);
    expect_true(isfinite(lesson.rms_mm[TCR_LESSON_ONE_LESS])); /* 4.5 mm on top */
    expect_nan(lesson.rms_mm[TCR_LESSON_TWO_LESS]);            /* 2.5 mm on top */
    expect_true(lesson.best_less_mm[1] <= 3.0);
    tcr_set_free(set);
}

static bool stop(void *context, const char *phase, double share) {
    int *calls = context;
    expect_true(phase != NULL && share >= 0.0 && share <= 1.0);
    return ++*calls < 3;
}

CLAIM(wrong_calls_are_refused_and_leave_outputs_alone) {
    tcr_set *set = new_set(), *bare = NULL;
    tcr_lesson lesson, before;
    tcr_lesson_place place = apart(3.1);
    double number = 7.0;
    int calls = 0;
    const tcr_progress progress = {stop, &calls};
    memset(&lesson, 0x5A, sizeof lesson);
    before = lesson;
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_E_RANGE);
    place = apart(NAN);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_E_RANGE);
    expect_status(tcr_lesson_turns_at(set, TCR_LEFT, &place, &number), TCR_E_RANGE);
    place = apart(1.0);
    place.pitch_sd_rad = tcr_degrees(4); /* of lashes that are not alike */
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, &lesson), TCR_E_RANGE);
    place.pitch_sd_rad = 0.0;
    expect_status(tcr_lesson_of(set, TCR_RIGHT, &place, 1, NULL, &lesson), TCR_E_MISSING);
    expect_status(tcr_lesson_of(set, TCR_LEFT, NULL, 1, NULL, &lesson), TCR_E_ARGUMENT);
    expect_status(tcr_lesson_of(NULL, TCR_LEFT, &place, 1, NULL, &lesson), TCR_E_ARGUMENT);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, &progress, &lesson), TCR_E_STOPPED);
    expect_count(calls, 3);
    expect_status(tcr_lesson_pays_from(set, TCR_LEFT, 3, false, &number), TCR_E_RANGE);
    expect_status(tcr_lesson_pays_from(set, TCR_LEFT, 1, false, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_lesson_pays_from(NULL, TCR_LEFT, 1, false, &number), TCR_E_ARGUMENT);
    expect_status(tcr_lesson_turns_at(set, TCR_LEFT, NULL, &number), TCR_E_ARGUMENT);
    expect_status(tcr_lesson_turns_at(set, TCR_LEFT, &place, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_lesson_turns_at(set, TCR_RIGHT, &place, &number), TCR_E_MISSING);
    expect_status(tcr_lesson_of(set, TCR_LEFT, &place, 1, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_lesson_of(set, TCR_LEFT, NULL, 0, NULL, NULL), TCR_OK); /* of no place */
    expect_status(tcr_set_new(NULL, &bare), TCR_OK);
    expect_status(tcr_set_add_eye(bare, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_lesson_of(bare, TCR_LEFT, &place, 1, NULL, &lesson), TCR_E_MAP);
    expect_status(tcr_set_put_map(bare, TCR_LEFT, MAP, ZONES), TCR_OK);
    expect_status(tcr_lesson_of(bare, TCR_LEFT, &place, 1, NULL, &lesson), TCR_E_MISSING);
    expect_bytes(&lesson, &before, sizeof lesson);
    expect_same(number, 7.0, "left alone");
    tcr_set_free(bare);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &at_four_distances_figures_are_those_of_four_sets_checked_one_by_one,
        &the_own_heights_and_other_views_are_those_of_a_check,
        &a_spread_of_pitch_is_the_mean_over_ten_seeds,
        &the_best_sizes_are_the_best_of_all_pairs_tried_one_by_one,
        &best_sizes_are_sizes_of_the_tray,
        &rows_of_worn_lengths_play_no_part,
        &the_intended_map_of_a_planned_set_is_what_the_rule_is_tried_on,
        &a_rule_pays_from_where_it_overtakes,
        &the_order_turns_where_equal_lengths_look_more_even,
        &a_rule_pays_at_any_distance_where_upper_lashes_point_up,
        &equal_lengths_look_more_even_at_any_angle_where_layers_root_at_one_height,
        &alike_lashes_too_short_to_bond_have_no_figure,
        &a_lash_that_its_row_leaves_bare_takes_no_part,
        &lengths_below_3_mm_leave_a_choice_without_a_figure,
        &wrong_calls_are_refused_and_leave_outputs_alone,
    };
    return RUN_CLAIMS("lesson", claims);
}
