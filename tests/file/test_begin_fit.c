/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a tray makes of a first set's map and layers, and which lengths it lacks for more. */
#include <tipcrest/begin.h>
#include <tipcrest/file.h>
#include <tipcrest/limits.h>
#include <tipcrest/look.h>

#include "file/sample.h"

static void set_tray(tcr_begin_options *o, const double *length_mm, size_t count) {
    o->tray_lengths = count;
    memcpy(o->tray_mm, length_mm, count * sizeof *length_mm);
}

/* The set that the options come to. */
static tcr_set_file *read_begun(const tcr_begin_options *options) {
    tcr_error error = {.message = "?"};
    tcr_set_file *file = NULL;
    text to = {0};
    expect_status(tcr_begin_write(options, keep_text, &to), TCR_OK);
    expect_status(
        tcr_set_file_parse(to.bytes, to.count, "begun.yaml", NULL, NULL, NULL, &file, &error),
        TCR_OK);
    free(to.bytes);
    return file;
}

/* The set that is written has these zones, and each layer is 1 mm shorter. */
static void expect_map(const tcr_begin_options *options, size_t zones, const double *length_mm) {
    tcr_set_file *file = read_begun(options);
    size_t count;
    const tcr_zone *zone = tcr_set_map(tcr_set_file_set(file), TCR_LEFT, &count);
    expect_count(count, zones);
    for (size_t i = 0; i < count; i++) {
        given("zone %zu", i);
        expect_same(zone[i].length_mm, length_mm[i], "read from the same text");
    }
    expect_same(tcr_set_layering(tcr_set_file_set(file))->step_mm, 1, "begin.h");
    tcr_set_file_free(file);
}

CLAIM(a_tray_without_the_lengths_of_the_usual_step_has_a_smaller_one) {
    /* Source: begin.h, 1 mm a layer, or 0.5 or 0 mm if a given tray lacks the lengths for more. The
     * zone is 10 mm. What is lacking: 9 and 8 mm, as far as they are not there. */
    static const double BY_ONE[] = {5, 6, 7, 8, 9, 10}, BY_HALF[] = {8.5, 9, 9.5, 10}, ONE[] = {10};
    const struct {
        const double *length_mm;
        size_t count;
        double step_mm; /* NaN: the usual one */
        size_t lacking;
    } trays[] = {{BY_ONE, 6, NAN, 0}, {BY_HALF, 4, 0.5, 1}, {ONE, 1, 0.0, 2}};
    for (size_t i = 0; i < sizeof trays / sizeof *trays; i++) {
        tcr_begin_options options = tcr_begin_options_default();
        tcr_begin_fit fit = {.step_mm = -1.0};
        options.zones = 1;
        options.length_mm[0] = 10.0;
        set_tray(&options, trays[i].length_mm, trays[i].count);
        given("tray %zu", i);
        expect_true(tcr_begin_fit_of(&options, &fit) == !isnan(trays[i].step_mm));
        expect_same(fit.step_mm, isnan(trays[i].step_mm) ? -1.0 : trays[i].step_mm, "given");
        expect_count(fit.lacking, trays[i].lacking);
        options.count = TCR_LASHES_MAX + 1; /* wrong options */
        fit.step_mm = -1.0;
        expect_true(!tcr_begin_fit_of(&options, &fit));
        expect_same(fit.step_mm, -1.0, "unchanged");
        expect_true(!tcr_begin_fit_of(&options, NULL));
    }
}

CLAIM(a_look_takes_lengths_under_which_the_tray_has_two_more) {
    /* By hand from looks.def and begin.h: cat is 7.4, 8.3, 9.1, 10.1 and 11 mm with 11 mm as the
     * longest, which is 9 + 2.5 in whole millimetres; 10 mm is the shortest of 8 to 13 under which
     * two more lie. As it is, it would need 7 to 11 mm and, for the layers, 6 and 5. */
    static const double TRAY[] = {8, 9, 10, 11, 12, 13}, LIFTED[] = {10, 10, 10, 10, 11};
    static const double AS_IT_IS[] = {7, 8, 9, 10, 11}, LACKING[] = {5, 6, 7};
    tcr_begin_options options = tcr_begin_options_default();
    tcr_begin_fit fit = {.step_mm = -1.0};
    options.look = "cat";
    options.lash_mm = 9.0;
    set_tray(&options, TRAY, 6);
    expect_map(&options, 5, LIFTED);
    expect_true(tcr_begin_fit_of(&options, &fit));
    expect_same(fit.step_mm, 1, "begin.h");
    expect_count(fit.zones, 5);
    expect_count(fit.lacking, 3);
    for (size_t i = 0; i < 5; i++)
        expect_same(fit.length_mm[i], LIFTED[i], "as in the set");
    for (size_t i = 0; i < 3; i++)
        expect_same(fit.lacking_mm[i], LACKING[i], "by hand");
    memcpy(options.tray_mm + 6, LACKING, sizeof LACKING);
    options.tray_lengths = 9;
    expect_true(!tcr_begin_fit_of(&options, &fit));
    expect_map(&options, 5, AS_IT_IS);
}

CLAIM(a_tray_with_what_it_lacked_lacks_nothing) {
    /* Source: begin.h, on trays and lashes of many kinds: with the lengths that are named, the set
     * has the usual step and the look as it is. Which of these trays lack something is not known
     * beforehand, but some must, and some must not. */
    size_t looks, lacking = 0, whole = 0;
    const tcr_look *look = tcr_look_catalogue(&looks);
    for (unsigned kind = 0; kind < 600; kind++) {
        tcr_begin_options options = tcr_begin_options_default();
        tcr_begin_fit fit = {.step_mm = -1.0};
        options.look = look[kind % looks].name;
        options.lash_mm = 5.0 + kind % 7;
        for (unsigned k = 0; k < 12; k++) /* every length from 5 mm on, or one in two or three */
            if ((kind * 2654435761u >> (k + 8)) % (1 + kind % 3) == 0)
                options.tray_mm[options.tray_lengths++] = 5.0 + kind % 5 + k;
        given("kind %u, %zu lengths", kind, options.tray_lengths);
        if (options.tray_lengths == 0 || !tcr_begin_fit_of(&options, &fit)) {
            whole++;
            continue;
        }
        if (fit.lacking == 0)
            continue;
        lacking++;
        memcpy(options.tray_mm + options.tray_lengths, fit.lacking_mm,
               fit.lacking * sizeof *fit.lacking_mm);
        options.tray_lengths += fit.lacking;
        expect_status(tcr_begin_validate(&options, NULL), TCR_OK);
        expect_true(!tcr_begin_fit_of(&options, &fit));
    }
    expect_true(lacking > 100 && whole > 20);
}

/* The extensions of an eye that a lash may not carry by plan's default limits. */
static size_t beyond_of(const tcr_begin_options *options, tcr_side side) {
    tcr_set_file *file = read_begun(options);
    const tcr_set *set = tcr_set_file_set(file);
    const tcr_limits limits = tcr_limits_default();
    size_t beyond = 0, extended = 0;
    for (size_t i = 0; i < tcr_set_lash_count(set, side); i++) {
        const tcr_lash *lash = tcr_set_lash(set, side, i);
        tcr_stance stance;
        tcr_choice choice;
        if (tcr_set_choice(set, side, i, &choice) != TCR_OK)
            continue;
        extended++;
        expect_status(tcr_lash_stance(lash, tcr_set_lid(set, side), 1, &stance), TCR_OK);
        beyond += tcr_limits_beyond(&limits, set, lash, &stance, &choice) != 0;
    }
    expect_true(extended > 40);
    tcr_set_file_free(file);
    return beyond;
}

CLAIM(a_seed_is_the_first_whose_client_can_carry_the_map) {
    /* Source: begin.h. Each lash is asked by itself here. */
    size_t looks, later = 0;
    const tcr_look *look = tcr_look_catalogue(&looks);
    for (size_t k = 0; k < looks; k++) {
        tcr_begin_options options = tcr_begin_options_default();
        options.look = look[k].name;
        uint64_t seed[TCR_SIDES] = {77, 77};
        tcr_error error = {.message = "?"};
        expect_status(tcr_begin_find_seeds(&options, seed, &error), TCR_OK);
        for (int side = 0; side < TCR_SIDES; side++)
            for (uint64_t tried = 1 + (uint64_t)side; tried <= seed[side]; tried += 2) {
                given("%s, side %d, seed %d of %d", look[k].name, side, (int)tried,
                      (int)seed[side]);
                options.seed[side] = tried;
                expect_true((beyond_of(&options, (tcr_side)side) == 0) == (tried == seed[side]));
                later += tried != seed[side];
            }
        given("%s", look[k].name);
        expect_true(seed[TCR_LEFT] % 2 == 1 && seed[TCR_RIGHT] % 2 == 0 && seed[TCR_RIGHT] > 0);
    }
    expect_true(later > 0); /* not every first seed will do */
}

CLAIM(where_no_client_can_carry_the_map_seeds_stay) {
    const struct {
        const char *why;
        double diameter_mm;
        size_t count;
        const char *survey;
        tcr_status status;
    } of[] = {{"thick", 0.3, 0, NULL, TCR_OK},
              {"more than 400 lashes, thin fibres", 0.05, 401, NULL, TCR_OK},
              {"a survey", NAN, 0, "lashes.csv", TCR_OK},
              {"no diameter", 5, 0, NULL, TCR_E_RANGE}};
    for (size_t i = 0; i < sizeof of / sizeof *of; i++) {
        tcr_begin_options options = tcr_begin_options_default();
        uint64_t seed[TCR_SIDES] = {77, 77};
        options.eye[TCR_RIGHT] = false;
        options.diameter_mm = of[i].diameter_mm;
        options.count = of[i].count;
        options.survey[TCR_LEFT] = of[i].survey;
        given("%s", of[i].why);
        expect_status(tcr_begin_find_seeds(&options, seed, NULL), of[i].status);
        expect_count(seed[TCR_LEFT] + seed[TCR_RIGHT], 0);
    }
    tcr_begin_options few = tcr_begin_options_default();
    uint64_t seed[TCR_SIDES] = {77, 77};
    few.eye[TCR_LEFT] = false;
    expect_status(tcr_begin_find_seeds(&few, seed, NULL), TCR_OK);
    expect_true(seed[TCR_LEFT] == 0 && seed[TCR_RIGHT] > 0);
    expect_status(tcr_begin_find_seeds(&few, NULL, NULL), TCR_E_ARGUMENT);
    few.survey[TCR_RIGHT] = "lashes.csv";
    seed[TCR_RIGHT] = 77;
    expect_status(tcr_begin_find_seeds(&few, seed, NULL), TCR_OK);
    expect_count(seed[TCR_RIGHT], 0);
    few.survey[TCR_RIGHT] = NULL;
    few.seed[TCR_RIGHT] = (UINT64_C(1) << 53) + 2;
    expect_status(tcr_begin_validate(&few, NULL), TCR_E_RANGE);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_tray_without_the_lengths_of_the_usual_step_has_a_smaller_one,
        &a_look_takes_lengths_under_which_the_tray_has_two_more,
        &a_tray_with_what_it_lacked_lacks_nothing,
        &a_seed_is_the_first_whose_client_can_carry_the_map,
        &where_no_client_can_carry_the_map_seeds_stay,
    };
    return RUN_CLAIMS("begin_fit", claims);
}
