/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tray: its lengths, and what it has of each curl and diameter. */
#include <tipcrest/map.h>

#include <math.h>
#include <string.h>

#include <tipcrest/set.h>

#include "support/check.h"
#include "support/make.h"

CLAIM(the_default_tray_holds_5_to_20_by_1) {
    const tcr_tray tray = tcr_tray_default();
    expect_count(tray.count, 16); /* source: interface.md, the set file */
    for (size_t i = 0; i < tray.count; i++)
        expect_same(tray.length_mm[i], 5.0 + (double)i, "given");
    expect_status(tcr_tray_validate(&tray, NULL), TCR_OK);
}

CLAIM(trays_that_break_the_rules_are_refused) {
    const tcr_tray good[] = {{.count = 0},
                             {.count = 1, .length_mm = {3.0}},
                             {.count = 2, .length_mm = {3.0, 30.0}},
                             {.count = 3, .length_mm = {7.0, 7.5, 8.0}}};
    const tcr_tray range[] = {{.count = 1, .length_mm = {2.999}},
                              {.count = 1, .length_mm = {30.001}},
                              {.count = 1, .length_mm = {NAN}},
                              {.count = 2, .length_mm = {8.0, 8.0}},
                              {.count = 3, .length_mm = {7.0, 9.0, 8.0}}};
    const tcr_tray too_many = {.count = TCR_TRAY_MAX + 1, .length_mm = {5.0}};
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++)
        expect_status(tcr_tray_validate(&good[i], NULL), TCR_OK); /* source: map.h */
    for (size_t i = 0; i < sizeof range / sizeof range[0]; i++) {
        given("tray %zu", i);
        expect_status(tcr_tray_validate(&range[i], NULL), TCR_E_RANGE);
    }
    expect_status(tcr_tray_validate(&too_many, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_tray_validate(NULL, NULL), TCR_E_ARGUMENT);
}

CLAIM(without_a_tray_every_length_from_3_to_30_mm_is_at_hand) {
    const tcr_tray none = {.count = 0};
    expect_same(tcr_tray_nearest(&none, 11.37), 11.37, "map.h");
    expect_true(tcr_tray_has(&none, 3.0) && tcr_tray_has(&none, 11.37) &&
                tcr_tray_has(&none, 30.0));
    expect_true(!tcr_tray_has(&none, 2.999) && !tcr_tray_has(&none, 30.001) &&
                !tcr_tray_has(&none, NAN));
}

CLAIM(the_nearest_length_is_found_and_ties_go_to_the_longer) {
    const tcr_tray tray = {.count = 5, .length_mm = {6.0, 8.0, 8.5, 12.0, 20.0}};
    static const struct {
        double wanted, nearest;
    } table[] = {
        /* Source: by hand; model.md, section 7: ties to the longer. */
        {3.0, 6.0},  {6.9, 6.0},    {7.0, 8.0},   {7.1, 8.0},   {8.25, 8.5},  {8.24, 8.0},
        {10.0, 8.5}, {10.25, 12.0}, {15.9, 12.0}, {16.0, 20.0}, {99.0, 20.0},
    };
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        given("wanted %g", table[i].wanted);
        expect_same(tcr_tray_nearest(&tray, table[i].wanted), table[i].nearest, "no arithmetic");
    }
}

CLAIM(the_nearest_length_is_that_of_brute_force) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 2000; i++) {
        tcr_tray tray = {.count = 1 + gsl_rng_uniform_int(rng, TCR_TRAY_MAX)};
        double length = 3.0;
        for (size_t j = 0; j < tray.count; j++)
            tray.length_mm[j] = length += tcr_draw_between(rng, 0.01, 0.4);
        const double wanted = tcr_draw_between(rng, 0.0, 33.0);
        double best = INFINITY;
        for (size_t j = 0; j < tray.count; j++)
            best = fmin(best, fabs(tray.length_mm[j] - wanted));
        given("a tray of %zu, wanted %.17g", tray.count, wanted);
        expect_near(fabs(tcr_tray_nearest(&tray, wanted) - wanted), best, 1e-9,
                    "within 1e-9 mm two lengths are as near"); /* source: brute force */
    }
    gsl_rng_free(rng);
}

CLAIM(a_length_within_1e_9_mm_is_the_trays_own) {
    const tcr_tray tray = {.count = 3, .length_mm = {7.0, 7.5, 8.0}};
    expect_true(tcr_tray_has(&tray, 7.5)); /* source: map.h */
    expect_true(tcr_tray_has(&tray, 7.5 + 0.9e-9));
    expect_true(tcr_tray_has(&tray, 7.0 - 0.9e-9));
    expect_true(!tcr_tray_has(&tray, 7.5 + 1.1e-9));
    expect_true(!tcr_tray_has(&tray, 7.25));
    expect_true(!tcr_tray_has(&tray, 6.0));
    expect_true(!tcr_tray_has(&tray, 9.0));
    expect_true(!tcr_tray_has(&tray, NAN));
}

CLAIM(sums_of_tenths_are_found_in_the_tray) {
    /* Source: 13 steps of 0.1 make 1.3 to a rounding, not to the bit. */
    tcr_tray tray = {.count = 2, .length_mm = {7.0, 8.3}};
    double sum = 7.0;
    for (int i = 0; i < 13; i++)
        sum += 0.1;
    ck_assert(sum != 8.3);
    expect_true(tcr_tray_has(&tray, sum));
    expect_same(tcr_tray_nearest(&tray, sum), 8.3, "the tray's own number comes back");
}

/* ---- By curl and diameter -------------------------------------------------------------------- */

/* C: 8, 9 and 10 mm in 0.12; D: 9 in 0.12, 8 and 12 in 0.15. */
static const tcr_tray KINDS = {
    .count = 4,
    .length_mm = {8.0, 9.0, 10.0, 12.0},
    .kinds = 3,
    .kind = {{"C", 0.12, 1 | 2 | 4}, {"D", 0.12, 2}, {"D", 0.15, 1 | 8}},
};

CLAIM(a_tray_tells_what_it_has_of_a_curl_in_a_diameter) {
    tcr_tray of;
    expect_status(tcr_tray_validate(&KINDS, NULL), TCR_OK);
    expect_status(tcr_tray_of(&KINDS, "D", 0.15, &of), TCR_OK);
    expect_count(of.kinds, 0); /* source of all: the tray as it stands above */
    expect_count(of.count, 2);
    expect_same(of.length_mm[0], 8.0, "given");
    expect_same(of.length_mm[1], 12.0, "given");
    expect_status(tcr_tray_of(&KINDS, "C", 0.1 + 0.02, &of), TCR_OK); /* 0.12 to a rounding */
    expect_count(of.count, 3);
    expect_status(tcr_tray_of(&KINDS, "C", 0.15, &of), TCR_E_TRAY);
    expect_status(tcr_tray_of(&KINDS, "CC", 0.12, &of), TCR_E_TRAY);
    expect_status(tcr_tray_of(&KINDS, "C", NAN, &of), TCR_E_TRAY);
    expect_count(of.count, 3); /* as before */
    expect_status(tcr_tray_of(NULL, "C", 0.12, &of), TCR_E_ARGUMENT);
    expect_status(tcr_tray_of(&KINDS, NULL, 0.12, &of), TCR_E_ARGUMENT);
    expect_status(tcr_tray_of(&KINDS, "C", 0.12, NULL), TCR_E_ARGUMENT);
}

CLAIM(a_tray_without_kinds_has_all_of_everything) {
    const tcr_tray plain = {.count = 2, .length_mm = {7.0, 8.0}}, none = {.count = 0};
    tcr_tray of;
    expect_status(tcr_tray_of(&plain, "C", 0.15, &of), TCR_OK); /* source: map.h */
    expect_count(of.count, 2);
    expect_same(of.length_mm[1], 8.0, "given");
    expect_status(tcr_tray_of(&none, "C", 0.15, &of), TCR_OK);
    expect_count(of.count, 0); /* any */
}

CLAIM(kinds_that_break_the_rules_are_refused) {
    tcr_tray bad = KINDS;
    bad.kind[1].lengths = 0; /* source of all: map.h */
    expect_status(tcr_tray_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = KINDS;
    bad.kind[1].lengths |= 16; /* there is no fifth length */
    expect_status(tcr_tray_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = KINDS;
    bad.kind[2].lengths = 1; /* nothing has 12 mm */
    expect_status(tcr_tray_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = KINDS;
    bad.kind[2].diameter_mm = 0.12; /* D in 0.12 twice */
    expect_status(tcr_tray_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = KINDS;
    bad.kind[0].curl[0] = '\0';
    expect_status(tcr_tray_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = KINDS;
    memset(bad.kind[0].curl, 'C', sizeof bad.kind[0].curl);
    expect_status(tcr_tray_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = KINDS;
    bad.kinds = TCR_TRAY_KINDS_MAX + 1;
    expect_status(tcr_tray_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = KINDS;
    bad.count = 0;
    expect_status(tcr_tray_validate(&bad, NULL), TCR_E_ARGUMENT);
    const double diameter_mm[] = {0.019, 0.301, NAN};
    for (size_t i = 0; i < sizeof diameter_mm / sizeof *diameter_mm; i++) {
        bad = KINDS;
        bad.kind[0].diameter_mm = diameter_mm[i];
        given("%g mm", diameter_mm[i]);
        expect_status(tcr_tray_validate(&bad, NULL), TCR_E_RANGE);
    }
}

/* A set whose one lash on a layer gets a curl by the map. */
static tcr_status chosen(const char *curl, double length_mm, bool blend, tcr_layer layer,
                         tcr_choice *choice) {
    tcr_zone zone = {.to = 1.0, .length_mm = length_mm};
    tcr_layering rule = tcr_layering_default();
    const tcr_lash lash = tcr_make_default_lash(0.5, layer);
    tcr_set *set;
    rule.diameter_mm = 0.12;
    rule.blend = blend;
    memcpy(zone.curl, curl, strlen(curl) + 1);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_tray(set, &KINDS), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, NULL), TCR_OK);
    const tcr_status status = tcr_set_choice(set, TCR_LEFT, 0, choice);
    tcr_set_free(set);
    return status;
}

CLAIM(the_rule_gives_what_is_there_in_its_curl_and_diameter) {
    tcr_choice choice;
    expect_status(chosen("C", 10.0, false, TCR_TOP, &choice), TCR_OK); /* source: KINDS */
    expect_same(choice.length_mm, 8.0, "the tray's own");
    expect_status(chosen("D", 9.0, false, TCR_BOTTOM, &choice), TCR_OK);
    expect_status(chosen("D", 9.0, false, TCR_MIDDLE, &choice), TCR_E_TRAY); /* 8: of 0.15 alone */
    expect_same(choice.length_mm, 8.0, "what is lacking");
    expect_status(chosen("D", 12.0, false, TCR_BOTTOM, &choice), TCR_E_TRAY);
    expect_status(chosen("B", 9.0, false, TCR_BOTTOM, &choice), TCR_E_TRAY);
    /* Blending rounds to what there is: D has 9 mm alone in this diameter. */
    expect_status(chosen("D", 12.0, true, TCR_BOTTOM, &choice), TCR_OK);
    expect_same(choice.length_mm, 9.0, "the tray's own");
}

int main(void) {
    static const TTest *const claims[] = {
        &the_default_tray_holds_5_to_20_by_1,
        &trays_that_break_the_rules_are_refused,
        &without_a_tray_every_length_from_3_to_30_mm_is_at_hand,
        &the_nearest_length_is_found_and_ties_go_to_the_longer,
        &the_nearest_length_is_that_of_brute_force,
        &a_length_within_1e_9_mm_is_the_trays_own,
        &sums_of_tenths_are_found_in_the_tray,
        &a_tray_tells_what_it_has_of_a_curl_in_a_diameter,
        &a_tray_without_kinds_has_all_of_everything,
        &kinds_that_break_the_rules_are_refused,
        &the_rule_gives_what_is_there_in_its_curl_and_diameter,
    };
    return RUN_CLAIMS("tray", claims);
}
