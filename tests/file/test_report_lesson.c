/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the reports of the level steps say of the layering rule. Figures are the library's own
 * (tcr_lesson_of), and words must follow from them in either direction.
 */
#include <tipcrest/file.h>
#include <tipcrest/lesson.h>

#include <math.h>
#include <stdio.h>

#include "file/read_report.h"
#include "file/sample.h"

/* A described left eye with one zone of 12 mm; its lashes vary by so much of what is usual. */
static tcr_set *new_varying(uint64_t seed, double share) {
    const tcr_zone zone = {.to = 1.0, .length_mm = 12.0, .curl = "C"};
    tcr_description d = tcr_description_default();
    tcr_set *set = new_set("Drawn (invented)");
    d.seed = seed;
    d.pitch_sd_rad *= share;
    d.turn_sd_rad *= share;
    d.length_sd_mm *= share;
    d.phases = share < 1.0 ? TCR_PHASES_NONE : TCR_PHASES_A;
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    return set;
}

static tcr_set *new_described(uint64_t seed) { return new_varying(seed, 1.0); }

static tcr_step_report_options apart(double mm) {
    tcr_step_report_options options = tcr_step_report_options_default();
    options.has_apart = true;
    options.apart_mm = mm;
    return options;
}

static char *table_of(const tcr_set *set, const tcr_step_report_options *options) {
    text written = {0};
    expect_status(tcr_report_step_table(set, options, keep_text, &written), TCR_OK);
    expect_80_columns(written.bytes);
    return written.bytes;
}

static tcr_lesson lesson_at(const tcr_set *set, const tcr_lesson_place *place) {
    tcr_lesson lesson;
    expect_status(tcr_lesson_of(set, TCR_LEFT, place, 1, NULL, &lesson), TCR_OK);
    return lesson;
}

static size_t lines_of(const char *table) {
    size_t lines = 0;
    for (; *table != '\0'; table++)
        lines += *table == '\n';
    return lines;
}

/* ---- JSON -------------------------------------------------------------------------- */

static void expect_figures(const json_t *row, const tcr_lesson *l) {
    expect_member(row, "equal_mm", l->rms_mm[TCR_LESSON_EQUAL]);
    expect_member(row, "one_less_mm", l->rms_mm[TCR_LESSON_ONE_LESS]);
    expect_member(row, "two_less_mm", l->rms_mm[TCR_LESSON_TWO_LESS]);
    expect_member(row, "best_mm", l->rms_mm[TCR_LESSON_BEST]);
    expect_member(get(row, "best_less_mm"), "middle", l->best_less_mm[0]);
    expect_member(get(row, "best_less_mm"), "top", l->best_less_mm[1]);
}

CLAIM(figures_are_the_librarys_own) {
    tcr_set *set = new_described(3);
    text written = {0};
    expect_status(tcr_report_step_json(set, NULL, NULL, keep_text, &written), TCR_OK);
    json_t *root = read_report(&written);
    const json_t *lesson = get(root, "lesson");
    tcr_lesson_place place = tcr_lesson_place_default();
    tcr_lesson expected = lesson_at(set, &place);
    expect_whole(lesson, "lashes", expected.lashes);
    expect_figures(get(lesson, "here"), &expected);
    for (int alike = 0; alike < 2; alike++) {
        const json_t *rows = get(get(lesson, "apart"), alike ? "alike" : "own");
        expect_count(json_array_size(rows), 17); /* 0 to 1.6 mm by 0.1 */
        for (size_t i = 0; i < 17; i += 5) {
            const json_t *row = json_array_get(rows, i);
            place = tcr_lesson_place_default();
            place.has_apart = true;
            place.apart_mm = (double)i / 10.0;
            place.alike = alike != 0;
            expected = lesson_at(set, &place);
            given("row %zu, alike %d", i, alike);
            expect_member(row, "apart_mm", place.apart_mm);
            expect_figures(row, &expected);
        }
    }
    for (int alike = 0; alike < 2; alike++)
        for (int less = 1; less <= 2; less++) {
            double from_mm;
            given("%d mm less, alike %d", less, alike);
            expect_status(tcr_lesson_pays_from(set, TCR_LEFT, less, alike != 0, &from_mm), TCR_OK);
            expect_member(get(get(lesson, "pays_from_mm"), alike ? "alike" : "own"),
                          less == 1 ? "one_less" : "two_less", from_mm);
        }
    place = tcr_lesson_place_default();
    place.view = tcr_view_named(TCR_ARTIST); /* closed, from 60 degrees above */
    expected = lesson_at(set, &place);
    const json_t *row = json_array_get(get(get(lesson, "viewer"), "closed"), 6);
    expect_member(row, "viewer_deg", 60.0);
    expect_figures(row, &expected);
    json_decref(root);
    tcr_set_free(set);
}

/* ---- Words against figures --------------------------------------------------------- */

static bool takes(const tcr_lesson *l, double middle, double top) {
    return l->best_less_mm[0] == middle && l->best_less_mm[1] == top;
}

/* The first line of the table against the figures; counts which of three it was. */
static void expect_verdict(const tcr_set *set, double apart_mm, int count[3]) {
    const tcr_step_report_options options = apart(apart_mm);
    tcr_lesson_place place = tcr_lesson_place_default();
    place.has_apart = true;
    place.apart_mm = apart_mm;
    const tcr_lesson l = lesson_at(set, &place);
    const double e = l.rms_mm[TCR_LESSON_EQUAL], o = l.rms_mm[TCR_LESSON_ONE_LESS];
    char *table = table_of(set, &options), expected[200];
    if (takes(&l, 1.0, 2.0)) {
        snprintf(expected, sizeof expected, "Best %g mm apart: 1 mm less a layer, %.2f", apart_mm,
                 o);
        expect_true(o <= e);
        count[0]++;
    } else if (takes(&l, 0.0, 0.0)) {
        snprintf(expected, sizeof expected, "Best %g mm apart: equal lengths, %.2f", apart_mm, e);
        expect_true(e <= o);
        count[1]++;
    } else {
        snprintf(expected, sizeof expected, "Best here: 12/%g/%g, %.2f", 12.0 - l.best_less_mm[0],
                 12.0 - l.best_less_mm[1], l.rms_mm[TCR_LESSON_BEST]);
        expect_true(l.rms_mm[TCR_LESSON_BEST] <= fmin(e, o));
        count[2]++;
    }
    given("%g mm apart: %.80s", apart_mm, table);
    expect_true(strncmp(table, expected, strlen(expected)) == 0);
    expect_within((double)lines_of(table), 10.0, 17.0,
                  "15 lines, the caution and that nobody measured");
    free(table);
}

CLAIM(the_first_line_is_what_the_figures_say) {
    int count[3] = {0};
    for (uint64_t seed = 1; seed <= 4; seed++) {
        tcr_set *set = new_described(seed);
        for (int i = 0; i <= 16; i += 4)
            expect_verdict(set, i / 10.0, count);
        tcr_set_free(set);
    }
    expect_true(count[0] > 0 && count[1] > 0 && count[2] > 0); /* or not all was tested */
}

/* The sentence on the couch against the angle at which the order turns. */
static int expect_couch(const tcr_set *set, double apart_mm) {
    const tcr_step_report_options options = apart(apart_mm);
    tcr_lesson_place place = tcr_lesson_place_default();
    double turns_rad;
    char *table = table_of(set, &options), expected[200];
    place.has_apart = true;
    place.apart_mm = apart_mm;
    expect_status(tcr_lesson_turns_at(set, TCR_LEFT, &place, &turns_rad), TCR_OK);
    place.view = tcr_view_named(TCR_ARTIST);
    const tcr_lesson couch = lesson_at(set, &place);
    snprintf(expected, sizeof expected,
             "Eye closed, couch (60°): equal %.2f, 1 mm less %.2f; equal ",
             couch.rms_mm[TCR_LESSON_EQUAL], couch.rms_mm[TCR_LESSON_ONE_LESS]);
    expect_told(table, expected);
    if (isnan(turns_rad))
        snprintf(expected, sizeof expected, "; equal never better. ");
    else if (turns_rad == 0.0)
        snprintf(expected, sizeof expected, "; equal always better. ");
    else
        snprintf(expected, sizeof expected, "; equal better above %.0f°. ",
                 ceil(turns_rad / tcr_degrees(1)));
    expect_told(table, expected);
    free(table);
    return isnan(turns_rad) ? 0 : turns_rad == 0.0 ? 1 : 2;
}

CLAIM(the_couch_is_told_as_it_is) {
    int count[3] = {0};
    for (uint64_t seed = 1; seed <= 4; seed++) {
        tcr_set *set = new_varying(seed, seed % 2 ? 1.0 : 0.3);
        for (int i = 0; i <= 12; i += 4)
            count[expect_couch(set, i / 10.0)]++;
        tcr_set_free(set);
    }
    given("%d never, %d always, %d from an angle", count[0], count[1], count[2]);
    expect_true(count[0] > 0 && count[2] > 0); /* or too little was tested */
}

CLAIM(from_where_the_rule_pays_is_rounded_up) {
    tcr_set *set = new_described(2);
    double pays[2];
    char *table = table_of(set, NULL), expected[120];
    for (int less = 1; less <= 2; less++)
        expect_status(tcr_lesson_pays_from(set, TCR_LEFT, less, false, &pays[less - 1]), TCR_OK);
    expect_true(pays[0] > 0.0);
    snprintf(expected, sizeof expected, "1 mm less beats equal from %.2f mm apart, 2 mm beats 1 ",
             ceil(100.0 * pays[0]) / 100.0);
    expect_told(table, expected);
    if (isnan(pays[1]))
        expect_told(table, "2 mm beats 1 nowhere up to 1.6 mm. ");
    free(table);
    tcr_set_free(set);
}

/* ---- Where there is little to say -------------------------------------------------- */

CLAIM(few_lashes_are_too_few_and_one_layer_has_no_rule) {
    for (size_t lashes = 1; lashes <= 14; lashes += 13) {
        tcr_set *set = new_small(lashes); /* on the bottom layer */
        char *table = table_of(set, NULL);
        const char *expected =
            lashes == 1 ? "1 lash is too few to judge how even a choice of lengths is.\n"
                        : "All lashes are on the bottom layer: a rule for layers changes nothing; ";
        given("%zu lashes", lashes);
        expect_true(strncmp(table, expected, strlen(expected)) == 0);
        expect_true(strstr(table, "layers apart, mm") == NULL);
        free(table);
        tcr_set_free(set);
    }
}

CLAIM(without_lashes_the_report_says_why_there_is_no_lesson) {
    tcr_set *set = new_set("");
    text written = {0};
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_report_step_json(set, NULL, NULL, keep_text, &written), TCR_OK);
    json_t *root = read_report(&written);
    expect_true(json_is_null(get(root, "lesson")));
    expect_true(*get_text(root, "lesson_reason") != '\0');
    json_decref(root);
    char *table = table_of(set, NULL);
    expect_true(strncmp(table, "Level at the pupil (C 12 mm): ", 30) == 0);
    expect_count(lines_of(table), 16);
    free(table);
    tcr_set_free(set);
}

static bool stop(void *context, const char *phase, double share) {
    (void)context;
    (void)phase;
    (void)share;
    return false;
}

CLAIM(a_report_that_is_stopped_writes_nothing) {
    tcr_set *set = new_described(1);
    tcr_step_report_options options = tcr_step_report_options_default();
    text written = {0};
    options.progress = (tcr_progress){stop, NULL};
    expect_status(tcr_report_step_json(set, &options, NULL, keep_text, &written), TCR_E_STOPPED);
    expect_status(tcr_report_step_table(set, &options, keep_text, &written), TCR_E_STOPPED);
    expect_count(written.calls, 0);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &figures_are_the_librarys_own,
        &the_first_line_is_what_the_figures_say,
        &the_couch_is_told_as_it_is,
        &from_where_the_rule_pays_is_rounded_up,
        &few_lashes_are_too_few_and_one_layer_has_no_rule,
        &without_lashes_the_report_says_why_there_is_no_lesson,
        &a_report_that_is_stopped_writes_nothing,
    };
    return RUN_CLAIMS("report_lesson", claims);
}
