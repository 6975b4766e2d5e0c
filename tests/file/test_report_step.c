/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The reports of the level steps. Expected numbers are the library's own (tcr_step_of), so each
 * must come back as the same double; and put back into tcr_tip, steps must bring tips level.
 */
#include <tipcrest/file.h>
#include <tipcrest/mean.h>

#include <math.h>
#include <stdio.h>

#include "file/read_report.h"
#include "file/step_rows.h"

static json_t *report_of(const tcr_set *set, const tcr_step_report_options *options) {
    text written = {0};
    expect_status(tcr_report_step_json(set, options, NULL, keep_text, &written), TCR_OK);
    return read_report(&written);
}

/* The table in full. */
static char *table_of(const tcr_set *set, const tcr_step_report_options *options) {
    tcr_step_report_options full = options != NULL ? *options : tcr_step_report_options_default();
    text written = {0};
    full.full = true;
    expect_status(tcr_report_step_table(set, &full, keep_text, &written), TCR_OK);
    return written.bytes;
}

static const char *placement_of(const json_t *row, const char *layer) {
    return get_text(get(row, "placement"), layer);
}

static void expect_upper(const json_t *row, const char *key, const double expected[]) {
    const json_t *found = get(row, key);
    expect_names(found, "middle top");
    expect_member(found, "middle", expected[0]);
    expect_member(found, "top", expected[1]);
}

static void expect_question(const json_t *row, const tcr_set *set, const tcr_step_question *q) {
    expect_names(row, "curl length_mm placement step_mm tray_mm left_over_mm shows_from_mm");
    expect_text(get_text(row, "curl"), tcr_set_curl(set, q->curl)->label);
    expect_member(row, "length_mm", q->bottom_length_mm);
    expect_names(get(row, "placement"), "bottom middle top");
    expect_text(placement_of(row, "bottom"), PLACEMENTS[q->bottom]);
    expect_text(placement_of(row, "middle"), PLACEMENTS[q->middle]);
    expect_text(placement_of(row, "top"), PLACEMENTS[q->top]);
}

/* ---- JSON -------------------------------------------------------------------------- */

CLAIM(every_row_is_the_librarys_own) {
    tcr_set *set = new_plain();
    json_t *root = report_of(set, NULL);
    const json_t *rows = get(root, "steps");
    expect_count(json_array_size(rows), CURLS * LENGTHS * PLACED);
    for (size_t i = 0; i < json_array_size(rows); i++) {
        const json_t *row = json_array_get(rows, i);
        const tcr_step_question q =
            question_of((int)(i % PLACED), i / (LENGTHS * PLACED),
                        8.0 + (double)(i / PLACED % LENGTHS)); /* 8 to 15 mm by 1 */
        tcr_step step;
        given("row %zu", i);
        expect_status(tcr_step_of(set, &q, &step), TCR_OK);
        expect_question(row, set, &q);
        expect_upper(row, "step_mm", step.step_mm);
        expect_upper(row, "tray_mm", step.tray_mm);
        expect_upper(row, "left_over_mm", step.left_over_mm);
        expect_upper(row, "shows_from_mm", step.shows_from_mm);
    }
    json_decref(root);
    tcr_set_free(set);
}

/* Height and placement sum to the level step: middle, and both steps for top. The tolerance is that
 * of level lengths, step.h. */
CLAIM(the_reason_sums_to_the_level_step) {
    tcr_set *set = new_plain();
    json_t *root = report_of(set, NULL);
    const json_t *reason = get(root, "reason"), *step = get(get(root, "pupil"), "step_mm");
    const double middle = json_number_value(get(step, "middle"));
    const double less[TCR_UPPER_LAYERS] = {middle, middle + json_number_value(get(step, "top"))};
    static const char *const LAYER[TCR_UPPER_LAYERS] = {"middle", "top"};
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        const double height = json_number_value(get(get(reason, "less_by_height_mm"), LAYER[i]));
        expect_near(height + json_number_value(get(get(reason, "less_by_placement_mm"), LAYER[i])),
                    less[i], 1e-8, "two level lengths, each to 1e-9 mm, and their sums");
        expect_true(height > 0.5); /* a higher root wants a shorter extension */
    }
    expect_true(json_number_value(get(reason, "tip_by_height_mm")) > 0.0);
    expect_true(json_number_value(get(reason, "tip_by_shorter_mm")) < 0.0);
    json_decref(root);
    tcr_set_free(set);
}

CLAIM(the_envelope_says_what_was_assumed_of_the_mean_lash) {
    tcr_set *set = new_plain();
    json_t *root = report_of(set, NULL);
    expect_names(
        root,
        "tipcrest command input_digest title assumptions doubts drawn side layer_height_mm lesson "
        "lesson_reason pupil reason steps sensitivities");
    expect_text(get_text(root, "command"), "step");
    expect_text(get_text(root, "side"), "left");
    expect_true(json_is_null(get(root, "input_digest")) && json_is_null(get(root, "title")));
    const char *const expected[] = {"height_mm",        "pitch_deg",      "yaw_deg",
                                    "roll_deg",         "length_mm",      "turn_deg",
                                    "root_diameter_mm", "tip_diameter_mm"};
    const json_t *per_unit = get(get(root, "sensitivities"), "mm_per_unit");
    expect_count(json_array_size(get(root, "assumptions")), 8);
    for (size_t i = 0; i < 8; i++) {
        const json_t *found = json_array_get(get(root, "assumptions"), i);
        const json_t *same = json_object_get(per_unit, expected[i]);
        expect_names(found, "what count mm_per_unit");
        expect_text(get_text(found, "what"), expected[i]);
        expect_whole(found, "count", 1);
        expect_member(found, "mm_per_unit", same != NULL ? fabs(json_number_value(same)) : NAN);
    }
    json_decref(root);
    tcr_set_free(set);
    set = new_set("Given (invented)");
    add_eye(set, TCR_LEFT);
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    mean.turn_rad = tcr_degrees(70);
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    root = report_of(set, NULL);
    expect_text(get_text(root, "title"), "Given (invented)");
    expect_count(json_array_size(get(root, "assumptions")), 7);
    json_decref(root);
    tcr_set_free(set);
}

/* ---- Steps put back into tips ------------------------------------------------------ */

/* Height in the open front view of the tip of a layer's mean lash; section 5 of model.md. */
static double height_of(const tcr_set *set, size_t curl, double length_mm, int layer,
                        const char *placement) {
    tcr_mean_lash mean;
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    tcr_lash lash = tcr_mean_lash_at(&mean, 0.5);
    lash.height_mm += layer; /* a gap of 1 mm */
    int placed = 0;
    while (strcmp(PLACEMENTS[placed], placement) != 0)
        placed++;
    const tcr_extension ext = {.length_mm = length_mm,
                               .diameter_mm = 0.15,
                               .fan = 1,
                               .placement = (tcr_placement)placed,
                               .profile = tcr_curl_profile(tcr_set_curl(set, curl), length_mm)};
    tcr_vec3 tip;
    expect_status(tcr_tip(tcr_set_lid(set, TCR_LEFT), 1.0, &lash, &ext, tcr_set_bond(set), &tip),
                  TCR_OK);
    return tip.y;
}

CLAIM(the_exact_steps_bring_the_tips_level) {
    const char *why = "lengths are good to 1e-9 mm; a tip rises by less than 1.5 mm per mm";
    tcr_set *set = new_plain();
    json_t *root = report_of(set, NULL);
    const json_t *rows = get(root, "steps");
    for (size_t i = 0; i < json_array_size(rows); i++) {
        const json_t *row = json_array_get(rows, i), *step = get(row, "step_mm");
        size_t curl;
        expect_status(tcr_set_find_curl(set, get_text(row, "curl"), &curl), TCR_OK);
        const double bottom_mm = json_number_value(get(row, "length_mm"));
        const double middle_mm = bottom_mm - json_number_value(get(step, "middle"));
        const double top_mm = middle_mm - json_number_value(get(step, "top"));
        const double level = height_of(set, curl, bottom_mm, 0, placement_of(row, "bottom"));
        given("row %zu", i);
        expect_near(height_of(set, curl, middle_mm, 1, placement_of(row, "middle")), level, 1.5e-9,
                    why);
        expect_near(height_of(set, curl, top_mm, 2, placement_of(row, "top")), level, 1.5e-9, why);
    }
    json_decref(root);
    tcr_set_free(set);
}

CLAIM(no_other_size_of_the_tray_leaves_less_over) {
    tcr_set *set = new_plain();
    const tcr_tray *tray = tcr_set_tray(set);
    json_t *root = report_of(set, NULL);
    const json_t *rows = get(root, "steps");
    const char *const layers[] = {"middle", "top"};
    for (size_t i = 0; i < json_array_size(rows); i++) {
        const json_t *row = json_array_get(rows, i);
        size_t curl;
        expect_status(tcr_set_find_curl(set, get_text(row, "curl"), &curl), TCR_OK);
        const double level = height_of(set, curl, json_number_value(get(row, "length_mm")), 0,
                                       placement_of(row, "bottom"));
        for (int layer = 1; layer <= 2; layer++) {
            const char *name = layers[layer - 1], *placement = placement_of(row, name);
            const double left = json_number_value(get(get(row, "left_over_mm"), name));
            const double nearest = json_number_value(get(get(row, "tray_mm"), name));
            given("row %zu, %s", i, name);
            expect_near(height_of(set, curl, nearest, layer, placement) - level, left, 1e-13,
                        "roundings of heights of 20 mm");
            for (size_t k = 0; k < tray->count; k++)
                expect_within(
                    fabs(left), 0.0,
                    fabs(height_of(set, curl, tray->length_mm[k], layer, placement) - level) +
                        1e-13,
                    "roundings as above");
        }
    }
    json_decref(root);
    tcr_set_free(set);
}

CLAIM(all_at_the_outer_side_c_and_j_of_12_mm_ask_for_these_steps) {
    /* Earlier results of this project, to four decimals. */
    const struct {
        const char *curl;
        double middle_mm;
    } expected[] = {{"C", 1.1528}, {"J", 1.5666}};
    tcr_set *set = new_plain();
    for (size_t i = 0; i < 2; i++) {
        tcr_step_report_options options = tcr_step_report_options_default();
        options.curl = expected[i].curl;
        options.length_mm = 12.0;
        json_t *root = report_of(set, &options);
        expect_count(json_array_size(get(root, "steps")), PLACED);
        const json_t *row = json_array_get(get(root, "steps"), 15);
        expect_text(placement_of(row, "bottom"), "outer-side");
        expect_text(placement_of(row, "middle"), "outer-side");
        expect_near(json_number_value(get(get(row, "step_mm"), "middle")), expected[i].middle_mm,
                    5e-5, "half a unit of the last digit");
        json_decref(root);
    }
    tcr_set_free(set);
}

/* ---- Sensitivities ----------------------------------------------------------------- */

CLAIM(sensitivities_are_the_librarys_own_per_degree_and_millimetre) {
    tcr_set *set = new_plain();
    tcr_step_report_options options = tcr_step_report_options_default();
    options.curl = "D";
    options.length_mm = 9.5;
    json_t *root = report_of(set, &options);
    const json_t *found = get(root, "sensitivities");
    tcr_sensitivity s;
    tcr_step_question q = question_of(15, 0, 9.5); /* all at the outer side */
    expect_status(tcr_set_find_curl(set, "D", &q.curl), TCR_OK);
    expect_status(tcr_step_sensitivity(set, &q, &s), TCR_OK);
    expect_names(found, "curl length_mm placement mm_per_unit placement_mm");
    expect_text(get_text(found, "curl"), "D");
    expect_member(found, "length_mm", 9.5);
    expect_text(get_text(found, "placement"), "outer-side");
    const json_t *unit = get(found, "mm_per_unit");
    expect_names(unit, "height_mm pitch_deg length_mm turn_deg ext_length_mm");
    expect_member(unit, "height_mm", s.per_height);
    expect_member(unit, "pitch_deg", s.per_pitch * tcr_degrees(1));
    expect_member(unit, "length_mm", s.per_natural);
    expect_member(unit, "turn_deg", s.per_turn * tcr_degrees(1));
    expect_member(unit, "ext_length_mm", s.per_length);
    for (int placement = 0; placement < TCR_PLACEMENTS; placement++)
        expect_member(get(found, "placement_mm"), PLACEMENTS[placement],
                      s.by_placement_mm[placement]);
    json_decref(root);
    tcr_set_free(set);
}

/* Height of the tip of a mean lash that was changed; curl C, 12 mm, at the outer side. */
static double height_with(const tcr_lash *lash, double length_mm, tcr_placement placement) {
    const tcr_extension ext = tcr_make_extension("C", length_mm, placement);
    const tcr_view view = {.opening = 1.0};
    return tcr_seen_height(lash, &ext, &view);
}

CLAIM(sensitivities_are_what_tips_do) {
    /* Richardson's extrapolation of central differences at h and h/2: the error is of order h^4. */
    const char *why = "h^4 = 1e-8 times fifth derivatives, and 1e-6 that step.h allows";
    tcr_set *set = new_plain();
    json_t *root = report_of(set, NULL);
    const json_t *unit = get(get(root, "sensitivities"), "mm_per_unit");
    const char *const names[] = {"height_mm", "pitch_deg", "length_mm", "turn_deg",
                                 "ext_length_mm"};
    for (int i = 0; i < 5; i++) {
        double slope[2], height[2];
        for (int half = 0; half < 2; half++) {
            const double step = half ? 0.005 : 0.01; /* h */
            for (int up = 0; up < 2; up++) {
                tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
                double *const field[] = {&lash.height_mm, &lash.pitch_rad, &lash.length_mm,
                                         &lash.turn_rad};
                double length_mm = 12.0;
                *(i < 4 ? field[i] : &length_mm) += up ? step : -step;
                height[up] = height_with(&lash, length_mm, TCR_OUTER_SIDE);
            }
            slope[half] = (height[1] - height[0]) / (2.0 * step);
        }
        const double extrapolated = (4.0 * slope[1] - slope[0]) / 3.0;
        const bool is_angle = strstr(names[i], "_deg") != NULL;
        given("%s", names[i]);
        expect_near(json_number_value(get(unit, names[i])),
                    is_angle ? extrapolated * tcr_degrees(1) : extrapolated, 2e-6, why);
    }
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    const double on_top = height_with(&lash, 12.0, TCR_ON_TOP);
    for (int placement = 0; placement < TCR_PLACEMENTS; placement++)
        expect_near(json_number_value(get(get(get(root, "sensitivities"), "placement_mm"),
                                          PLACEMENTS[placement])),
                    height_with(&lash, 12.0, (tcr_placement)placement) - on_top, 1e-13,
                    "roundings of heights of 20 mm");
    json_decref(root);
    tcr_set_free(set);
}

/* ---- Where there is no number ------------------------------------------------------ */

CLAIM(a_mean_lash_that_is_too_short_leaves_nothing_but_null) {
    tcr_set *set = new_plain();
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    mean.length_mm = 1.5; /* less than 1 mm behind the offset of 0.7 mm */
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    json_t *root = report_of(set, NULL);
    const double none[] = {NAN, NAN};
    for (size_t i = 0; i < json_array_size(get(root, "steps")); i++) {
        const json_t *row = json_array_get(get(root, "steps"), i);
        expect_upper(row, "step_mm", none);
        expect_upper(row, "tray_mm", none);
        expect_upper(row, "left_over_mm", none);
        expect_upper(row, "shows_from_mm", none);
    }
    expect_true(json_is_null(get(root, "sensitivities")));
    json_decref(root);
    char *table = table_of(set, NULL);
    expect_told(table, "The mean lash cannot carry an extension: less than 1 mm is left to bond "
                       "the extension to the lash. ");
    expect_true(strstr(table, "exact step") == NULL);
    expect_true(strstr(table, "What moves") == NULL);
    free(table);
    tcr_set_free(set);
}

CLAIM(where_no_length_is_level_the_step_is_null_and_the_tray_still_answers) {
    /* 3 mm is the least there is, so nothing shorter can be level on the upper layers. */
    tcr_set *set = new_plain();
    tcr_step_report_options options = tcr_step_report_options_default();
    options.curl = "C";
    options.length_mm = 3.0;
    json_t *root = report_of(set, &options);
    const json_t *row = json_array_get(get(root, "steps"), 15);
    const double none[] = {NAN, NAN}, shortest[] = {5.0, 5.0}; /* of the default tray */
    expect_upper(row, "step_mm", none);
    expect_upper(row, "tray_mm", shortest);
    expect_true(json_number_value(get(get(row, "left_over_mm"), "middle")) > 0.0);
    json_decref(root);
    tcr_set_free(set);
}

/* ---- Options ----------------------------------------------------------------------- */

CLAIM(the_lid_is_that_of_the_eye_that_is_asked_for) {
    tcr_set *set = new_set("");
    tcr_lid lid = tcr_lid_default();
    lid.mrd1_mm = 1.5;
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, &lid), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    tcr_step_report_options options = tcr_step_report_options_default();
    double middle[3];
    for (int i = 0; i < 3; i++) {
        options.has_side = i > 0;
        options.side = i == 1 ? TCR_RIGHT : TCR_LEFT;
        json_t *root = report_of(set, &options);
        expect_text(get_text(root, "side"), i == 2 ? "left" : "right"); /* right was added first */
        middle[i] =
            json_number_value(get(get(json_array_get(get(root, "steps"), 0), "step_mm"), "middle"));
        json_decref(root);
    }
    expect_same(middle[0], middle[1], "the same question");
    expect_true(fabs(middle[1] - middle[2]) > 0.01);
    tcr_set_free(set);
}

CLAIM(a_wrong_option_is_refused_before_anything_is_written) {
    tcr_set *set = new_plain(), *none = new_set("");
    const tcr_step_report_options good = tcr_step_report_options_default();
    tcr_step_report_options bad[7] = {good, good, good, good, good, good, good};
    const tcr_status expected[7] = {TCR_E_CURL,    TCR_E_RANGE,    TCR_E_RANGE, TCR_E_RANGE,
                                    TCR_E_MISSING, TCR_E_ARGUMENT, TCR_E_RANGE};
    bad[0].curl = "Q";
    bad[1].length_mm = 2.99;
    bad[2].length_mm = 30.01;
    bad[3].length_mm = NAN;
    bad[4].has_side = true;
    bad[4].side = TCR_RIGHT;
    bad[5].size = 0;
    bad[6].has_apart = true;
    bad[6].apart_mm = NAN;
    text written = {0};
    for (size_t i = 0; i < 7; i++) {
        given("option %zu", i);
        expect_status(tcr_report_step_json(set, &bad[i], NULL, keep_text, &written), expected[i]);
        expect_status(tcr_report_step_csv(set, &bad[i], NULL, keep_text, &written), expected[i]);
        expect_status(tcr_report_step_table(set, &bad[i], keep_text, &written), expected[i]);
    }
    expect_status(tcr_report_step_json(none, NULL, NULL, keep_text, &written), TCR_E_MISSING);
    expect_status(tcr_report_step_csv(none, NULL, NULL, keep_text, &written), TCR_E_MISSING);
    expect_status(tcr_report_step_table(none, NULL, keep_text, &written), TCR_E_MISSING);
    expect_status(tcr_report_step_json(NULL, NULL, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_table(NULL, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_json(set, NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_table(set, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_count(written.calls, 0);
    tcr_set_free(none);
    tcr_set_free(set);
}

CLAIM(a_sink_that_stops_is_not_called_again) {
    tcr_set *set = new_plain();
    for (size_t at = 1; at <= 3; at++) {
        text written = {.fail_at = at};
        expect_status(tcr_report_step_json(set, NULL, NULL, keep_text, &written), TCR_E_WRITE);
        expect_count(written.calls, at);
        free(written.bytes);
    }
    text written = {.fail_at = 1};
    expect_status(tcr_report_step_table(set, NULL, keep_text, &written), TCR_E_WRITE);
    expect_count(written.calls, 1);
    expect_status(tcr_report_step_csv(set, NULL, NULL, keep_text, &written), TCR_E_WRITE);
    expect_count(written.calls, 2);
    tcr_set_free(set);
}

/* ---- The table --------------------------------------------------------------------- */

static void expect_line(const char *table, const char *expected) {
    if (strstr(table, expected) == NULL)
        ck_abort_msg("the table lacks \"%s\":\n%s", expected, table);
}

CLAIM(rows_of_the_table_are_the_librarys_own_and_say_where_most_is_left_over) {
    static const char *const LAYERS[] = {"middle", "top"};
    tcr_set *set = new_plain();
    char *table = table_of(set, NULL), expected[120];
    for (int i = PLACED - 2; i < PLACED; i++) { /* all at the outer side, and as it is taught */
        double most = 0.0;
        char sentence[120] = "";
        for (size_t curl = 0; curl < CURLS; curl++) {
            const tcr_step_question q = question_of(i, curl, 12.0);
            const char *label = tcr_set_curl(set, curl)->label;
            tcr_step step;
            expect_status(tcr_step_of(set, &q, &step), TCR_OK);
            char from[TCR_UPPER_LAYERS][16]; /* from 10 cm on it says from where, table.h */
            for (int layer = 0; layer < TCR_UPPER_LAYERS; layer++)
                snprintf(from[layer], sizeof from[layer],
                         step.shows_from_mm[layer] > 100.0 ? "%.0f" : "<10",
                         step.shows_from_mm[layer] / 10.0);
            snprintf(expected, sizeof expected, "    %-4s%8.2f%6.2f%6.2f%8g%5g%+7.2f%+6.2f%8s%5s\n",
                     label, step.step_mm[0], step.step_mm[1], step.step_mm[0] + step.step_mm[1],
                     step.tray_mm[0], step.tray_mm[1], step.left_over_mm[0], step.left_over_mm[1],
                     from[0], from[1]);
            expect_line(table, expected);
            for (int layer = 0; layer < TCR_UPPER_LAYERS; layer++)
                if (fabs(step.left_over_mm[layer]) > most) {
                    most = fabs(step.left_over_mm[layer]);
                    snprintf(sentence, sizeof sentence,
                             " Most is left over with %s on the %s layer: %.2f mm, which shows "
                             "from nearer than %.0f cm. ",
                             label, LAYERS[layer], most, step.shows_from_mm[layer] / 10.0);
                }
        }
        expect_told(table, sentence);
    }
    free(table);
    tcr_step_report_options options = tcr_step_report_options_default();
    options.curl = "C";
    table = table_of(set, &options);
    expect_true(strstr(table, "Most is left over") == NULL); /* one row says it itself */
    free(table);
    tcr_set_free(set);
}

CLAIM(a_size_has_as_many_digits_as_the_tray_gives_it) {
    tcr_set *set = new_plain();
    const tcr_tray tray = {.count = 3, .length_mm = {9.75, 10.5, 12}};
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    char *table = table_of(set, NULL);
    expect_told(table, " J 1.39 1.09 2.48 10.5 9.75 "); /* steps: earlier results of ours */
    free(table);
    tcr_set_free(set);
}

CLAIM(without_a_tray_the_level_lengths_stand_for_sizes) {
    tcr_set *set = new_plain();
    const tcr_tray any = {.count = 0};
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    json_t *root = report_of(set, NULL);
    char *table = table_of(set, NULL), expected[120];
    const double nothing[] = {0.0, 0.0};
    for (int i = PLACED - 2; i < PLACED; i++)
        for (size_t curl = 0; curl < CURLS; curl++) {
            const tcr_step_question q = question_of(i, curl, 12.0);
            tcr_step step;
            expect_status(tcr_step_of(set, &q, &step), TCR_OK);
            const double level[] = {12.0 - step.step_mm[0],
                                    12.0 - step.step_mm[0] - step.step_mm[1]};
            snprintf(expected, sizeof expected, "    %-4s%8.2f%6.2f%6.2f%8.2f%6.2f\n",
                     tcr_set_curl(set, curl)->label, step.step_mm[0], step.step_mm[1],
                     step.step_mm[0] + step.step_mm[1], level[0], level[1]);
            expect_line(table, expected);
            const json_t *row =
                json_array_get(get(root, "steps"), (curl * LENGTHS + 4) * PLACED + (size_t)i);
            expect_near(json_number_value(get(get(row, "tray_mm"), "top")), level[1], 1e-14,
                        "two differences of lengths of 12 mm");
            expect_upper(row, "left_over_mm", nothing);
            expect_upper(row, "shows_from_mm", nothing);
        }
    expect_told(table, " The set has no tray (tray: any): a level length is exact, and nothing is "
                       "left over. ");
    expect_true(strstr(table, "Most is left over") == NULL && strstr(table, "of arc") == NULL);
    free(table);
    json_decref(root);
    tcr_set_free(set);
}

CLAIM(sentences_say_what_lifts_a_tip_and_what_lowers_it) {
    tcr_set *set = new_plain();
    tcr_sensitivity s;
    tcr_step_question q = question_of(15, 0, 12.0);
    expect_status(tcr_set_find_curl(set, "C", &q.curl), TCR_OK);
    expect_status(tcr_step_sensitivity(set, &q, &s), TCR_OK);
    char *table = table_of(set, NULL), expected[600];
    expect_told(table, "(mean lash, curl C, 12 mm, at the outer side)");
    /* Signs by geometry: a higher root, steeper growth, more turn and a longer extension lift. */
    expect_true(s.per_height > 0 && s.per_pitch > 0 && s.per_turn > 0 && s.per_length > 0);
    expect_true(s.per_natural < 0); /* the same turn over a longer lash */
    snprintf(
        expected, sizeof expected,
        "A root 1 mm higher lifts it by %.2f mm. A lash that grows 1° further up the lid lifts "
        "it by %.2f mm. A natural lash 1 mm longer lowers it by %.2f mm, because the same "
        "turn bends it less where the extension is bonded. A natural lash that turns 10° more "
        "from root to tip lifts it by %.2f mm. An extension 1 mm longer lifts it by %.2f mm. ",
        s.per_height, s.per_pitch * tcr_degrees(1), -s.per_natural,
        10 * s.per_turn * tcr_degrees(1), s.per_length);
    expect_told(table, expected);
    snprintf(expected, sizeof expected,
             "Instead of on top of the lash, the underside lowers it by %.2f mm, the inner side "
             "lowers it by %.2f mm, the outer side lowers it by %.2f mm.",
             -s.by_placement_mm[TCR_UNDERSIDE], -s.by_placement_mm[TCR_INNER_SIDE],
             -s.by_placement_mm[TCR_OUTER_SIDE]);
    expect_told(table, expected);
    snprintf(expected, sizeof expected, "about %.2f / %.2f = %.2f mm, where both are placed alike.",
             s.per_height, s.per_length, s.per_height / s.per_length);
    expect_told(table, expected);
    free(table);
    tcr_set_free(set);
}

CLAIM(labels_of_a_user_stay_safe_and_narrow) {
    tcr_set *set = new_set(SAMPLE_TITLE);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    const tcr_profile straight = {.pieces = 1, .share = {1.0}, .turn_rad = {1.0}};
    const char *const labels[] = {"\x1b[31mred", "fifteen letters", "\xe2\x80\xaertl"};
    for (size_t i = 0; i < 3; i++) {
        const tcr_curl curl = {.label = labels[i], .count = 1, .profiles = &straight};
        expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
    }
    char *table = table_of(set, NULL);
    expect_80_columns(table);
    for (const char *at = table; *at != '\0'; at++)
        expect_true(((unsigned char)*at >= 0x20 && *at != 0x7f) || *at == '\n');
    expect_true(strstr(table, "\xe2\x80\xae") == NULL); /* U+202E turns the writing round */
    expect_line(table, "fifteen letters");
    free(table);
    json_t *root = report_of(set, NULL);
    expect_count(json_array_size(get(root, "steps")), (CURLS + 3) * LENGTHS * PLACED);
    json_decref(root);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &every_row_is_the_librarys_own,
        &the_reason_sums_to_the_level_step,
        &the_envelope_says_what_was_assumed_of_the_mean_lash,
        &the_exact_steps_bring_the_tips_level,
        &no_other_size_of_the_tray_leaves_less_over,
        &all_at_the_outer_side_c_and_j_of_12_mm_ask_for_these_steps,
        &sensitivities_are_the_librarys_own_per_degree_and_millimetre,
        &sensitivities_are_what_tips_do,
        &a_mean_lash_that_is_too_short_leaves_nothing_but_null,
        &where_no_length_is_level_the_step_is_null_and_the_tray_still_answers,
        &the_lid_is_that_of_the_eye_that_is_asked_for,
        &a_wrong_option_is_refused_before_anything_is_written,
        &a_sink_that_stops_is_not_called_again,
        &rows_of_the_table_are_the_librarys_own_and_say_where_most_is_left_over,
        &a_size_has_as_many_digits_as_the_tray_gives_it,
        &without_a_tray_the_level_lengths_stand_for_sizes,
        &sentences_say_what_lifts_a_tip_and_what_lowers_it,
        &labels_of_a_user_stay_safe_and_narrow,
    };
    return RUN_CLAIMS("report_step", claims);
}
