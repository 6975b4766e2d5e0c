/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A plan chooses from what the tray has of each curl and diameter. Expected values: the plan of
 * the same set with a tray that says the same without kinds; what stands in the tray; and all that
 * can be chosen, tried one by one. Sets are described: INVENTED.
 */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"

enum { LASHES = 60, ZONES = 3 };

static uint64_t bits(const tcr_tray *tray, double from_mm, double to_mm) {
    uint64_t which = 0;
    for (size_t i = 0; i < tray->count; i++)
        if (tray->length_mm[i] >= from_mm && tray->length_mm[i] <= to_mm)
            which |= UINT64_C(1) << i;
    return which;
}

static void add_kind(tcr_tray *tray, const char *curl, double diameter_mm, double from_mm,
                     double to_mm) {
    tcr_tray_kind *kind = &tray->kind[tray->kinds++];
    memcpy(kind->curl, curl, strlen(curl) + 1);
    kind->diameter_mm = diameter_mm;
    kind->lengths = bits(tray, from_mm, to_mm);
}

static tcr_tray lengths(double from_mm, double to_mm) {
    tcr_tray tray = {.count = 0};
    for (; from_mm + (double)tray.count <= to_mm; tray.count++)
        tray.length_mm[tray.count] = from_mm + (double)tray.count;
    return tray;
}

/* A described eye, or, measured, the same lashes as a survey has them. */
static tcr_set *make_set(const tcr_tray *tray, const char *curl, bool measured) {
    tcr_description d = tcr_description_default();
    tcr_zone zones[ZONES] = {
        {0.35, 9.0, "", {{0}}}, {0.7, 11.0, "", {{0}}}, {1.0, 10.0, "", {{0}}}};
    tcr_set *set;
    d.count = LASHES;
    d.seed = 5;
    for (int z = 0; z < ZONES; z++)
        memcpy(zones[z].curl, curl, strlen(curl) + 1);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_tray(set, tray), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, ZONES), TCR_OK);
    for (uint32_t k = 0; k < LASHES && measured; k++) {
        tcr_lash lash;
        char id[8];
        snprintf(id, sizeof id, "l%02u", (unsigned)k);
        expect_status(tcr_describe_lash(&d, TCR_LEFT, k, &lash), TCR_OK);
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, NULL), TCR_OK);
    }
    if (!measured)
        expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    return set;
}

static tcr_plan_options options_of(size_t samples) {
    tcr_plan_options o = tcr_plan_options_default();
    o.samples = samples;
    return o;
}

CLAIM(a_tray_of_one_kind_plans_as_its_lengths_do) {
    for (int measured = 0; measured < 2; measured++) {
        const tcr_tray plain = lengths(7.0, 12.0);
        tcr_tray kinds = lengths(5.0, 15.0); /* other curls have other lengths */
        add_kind(&kinds, "D", 0.15, 5.0, 15.0);
        add_kind(&kinds, "C", 0.15, 7.0, 12.0);
        const tcr_plan_options o = options_of(measured ? 0 : 8);
        tcr_set *a = make_set(&plain, "C", measured), *b = make_set(&kinds, "C", measured);
        tcr_plan *one, *other;
        expect_status(tcr_plan_new(a, &o, &one, NULL), TCR_OK);
        expect_status(tcr_plan_new(b, &o, &other, NULL), TCR_OK);
        const tcr_plan_result *r = tcr_plan_result_of(one), *s = tcr_plan_result_of(other);
        given("measured %d", measured);
        expect_count(s->cells, r->cells);
        for (size_t c = 0; c < r->cells; c++)
            expect_same(tcr_plan_result_of(other)->cell[c].choice.length_mm,
                        tcr_plan_result_of(one)->cell[c].choice.length_mm, "the same choice");
        expect_same(s->rms_mm, r->rms_mm, "the same arithmetic");
        expect_count(s->corrections, r->corrections);
        tcr_plan_free(one);
        tcr_plan_free(other);
        tcr_set_free(a);
        tcr_set_free(b);
    }
}

static void expect_at_hand(const tcr_set *set, const tcr_choice *choice) {
    tcr_tray of;
    expect_status(tcr_tray_of(tcr_set_tray(set), tcr_set_curl(set, choice->curl)->label,
                              choice->diameter_mm, &of),
                  TCR_OK);
    expect_true(tcr_tray_has(&of, choice->length_mm));
}

CLAIM(all_that_a_plan_gives_is_in_the_tray_in_its_curl_and_diameter) {
    for (int measured = 0; measured < 2; measured++) {
        tcr_tray tray = lengths(7.0, 12.0);
        add_kind(&tray, "C", 0.10, 7.0, 9.0);
        add_kind(&tray, "C", 0.15, 10.0, 12.0);
        add_kind(&tray, "D", 0.15, 7.0, 8.0);
        tcr_plan_options o = options_of(measured ? 0 : 8);
        tcr_set *set = make_set(&tray, "C", measured);
        bool differ = false;
        o.curls = 2;
        expect_status(tcr_set_find_curl(set, "C", &o.curl[0]), TCR_OK);
        expect_status(tcr_set_find_curl(set, "D", &o.curl[1]), TCR_OK);
        o.diameters = 2;
        o.diameter_mm[0] = 0.10;
        o.diameter_mm[1] = 0.15;
        tcr_plan *plan;
        expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
        for (size_t c = 0; c < tcr_plan_result_of(plan)->cells; c++) {
            const tcr_choice *choice = &tcr_plan_result_of(plan)->cell[c].choice;
            expect_at_hand(set, choice);
            differ = differ ||
                     choice->diameter_mm != tcr_plan_result_of(plan)->cell[0].choice.diameter_mm;
        }
        for (size_t i = 0; i < LASHES; i++)
            if (tcr_plan_eye_of(plan, TCR_LEFT)->lash[i].use == TCR_USED)
                expect_at_hand(set, &tcr_plan_eye_of(plan, TCR_LEFT)->lash[i].choice);
        expect_true(differ); /* short ones are thin here and long ones thick */
        tcr_plan_free(plan);
        tcr_set_free(set);
    }
}

CLAIM(the_trays_own_diameter_stands_in_for_one_that_it_lacks) {
    tcr_tray tray = lengths(7.0, 12.0);
    add_kind(&tray, "C", 0.10, 7.0, 12.0);
    add_kind(&tray, "D", 0.15, 7.0, 12.0); /* the rule's diameter, but another curl */
    const tcr_plan_options o = options_of(0);
    tcr_set *set = make_set(&tray, "C", true);
    tcr_plan *plan;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    for (size_t c = 0; c < tcr_plan_result_of(plan)->cells; c++)
        expect_same(tcr_plan_result_of(plan)->cell[c].choice.diameter_mm, 0.10, "of the tray");
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(a_curl_that_the_tray_lacks_is_told_at_its_cell) {
    tcr_tray tray = lengths(7.0, 12.0);
    add_kind(&tray, "D", 0.15, 7.0, 12.0);
    const tcr_plan_options o = options_of(0);
    tcr_set *set = make_set(&tray, "C", true);
    tcr_plan *plan = NULL;
    tcr_error error = tcr_error_none();
    expect_status(tcr_plan_new(set, &o, &plan, &error), TCR_E_TRAY);
    expect_true(plan == NULL);
    expect_text(error.member, "tray");
    expect_count(error.side, TCR_LEFT);
    expect_true(strstr(error.message, "it has D of 0.15 mm") != NULL);
    tcr_set_free(set);
}

CLAIM(the_longest_that_the_tray_lacks_in_its_kind_is_out_of_reach) {
    tcr_tray tray = lengths(7.0, 12.0);
    add_kind(&tray, "C", 0.15, 7.0, 10.0);
    add_kind(&tray, "D", 0.15, 7.0, 12.0);
    const tcr_plan_options o = options_of(0);
    tcr_set *set = make_set(&tray, "C", true); /* whose map asks for 11 mm */
    tcr_plan *plan;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    const tcr_plan_reach *reach = &tcr_plan_eye_of(plan, TCR_LEFT)->reach;
    expect_same(reach->asked_mm, 11.0, "given");
    expect_true(!reach->at_hand);
    expect_count(reach->limits, 0);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_tray_of_one_kind_plans_as_its_lengths_do,
        &all_that_a_plan_gives_is_in_the_tray_in_its_curl_and_diameter,
        &the_trays_own_diameter_stands_in_for_one_that_it_lacks,
        &a_curl_that_the_tray_lacks_is_told_at_its_cell,
        &the_longest_that_the_tray_lacks_in_its_kind_is_out_of_reach,
    };
    return RUN_CLAIMS("tray", claims);
}
