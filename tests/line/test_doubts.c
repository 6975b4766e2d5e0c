/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Doubts: each mistake is found where it was made and nowhere else, and real eyes have none. */
#include <tipcrest/doubts.h>

#include <math.h>
#include <stdint.h>

#include <tipcrest/describe.h>

#include "support/check.h"
#include "support/doubtful.h"
#include "support/make.h"

CLAIM(each_mistake_is_doubted_once_and_alone) {
    for (int kind = 0; kind < TCR_DOUBT_KINDS; kind++) {
        tcr_set *set = tcr_make_doubtful((tcr_doubt_kind)kind, TCR_RIGHT);
        tcr_doubt doubts[TCR_DOUBTS_MAX];
        size_t count = 99;
        given("%s", tcr_doubt_text((tcr_doubt_kind)kind));
        expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
        expect_count(count, 1);
        expect_count(doubts[0].kind, kind);
        expect_count(doubts[0].side, kind == TCR_DOUBT_CURLS_RAD ? -1 : TCR_RIGHT);
        tcr_set_free(set);
    }
}

CLAIM(lengths_are_doubted_from_half_of_the_lashes_on) {
    for (size_t kept = 18; kept <= 19; kept++) { /* source: doubts.h, at least half of 36 */
        tcr_set *set = tcr_make_doubtful(TCR_DOUBT_LENGTHS_CM, TCR_LEFT);
        tcr_doubt doubts[TCR_DOUBTS_MAX];
        size_t count = 99;
        for (size_t i = 0; i < kept; i++) {
            tcr_lash lash = *tcr_set_lash(set, TCR_LEFT, i);
            lash.length_mm *= 10.0;
            expect_status(tcr_set_replace_lash(set, TCR_LEFT, i, &lash), TCR_OK);
        }
        given("%zu of 36 long enough", kept);
        expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
        expect_count(count, kept == 18);
        tcr_set_free(set);
    }
}

/* What was put in by tcr_make_doubtful. */
CLAIM(a_doubt_has_the_number_at_fault) {
    static const struct {
        tcr_doubt_kind kind;
        double found;
        size_t lashes;
    } expected[] = {
        {TCR_DOUBT_LAYERS_REVERSED, -2.0, DOUBTFUL_LASHES},
        {TCR_DOUBT_HEIGHTS_CM, 0.1, DOUBTFUL_LASHES},
        {TCR_DOUBT_CURLS_RAD, 1.5, 1},
        {TCR_DOUBT_LID_HARDLY_OPENS, 0.35, 0},
        {TCR_DOUBT_LAYERS_ALONG_LID, 3.0, DOUBTFUL_LASHES},
        {TCR_DOUBT_ALL_ALIKE, 8.0, DOUBTFUL_LASHES},
    };
    for (size_t i = 0; i < sizeof expected / sizeof *expected; i++) {
        tcr_set *set = tcr_make_doubtful(expected[i].kind, TCR_LEFT);
        tcr_doubt doubts[TCR_DOUBTS_MAX];
        size_t count;
        given("%s", tcr_doubt_text(expected[i].kind));
        expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
        expect_near(doubts[0].found, expected[i].found, 1e-12, "rounding of a mean of 36");
        expect_count(doubts[0].lashes, expected[i].lashes);
        tcr_set_free(set);
    }
}

CLAIM(a_curl_in_doubt_is_named) {
    tcr_set *set = tcr_make_doubtful(TCR_DOUBT_CURLS_RAD, TCR_LEFT);
    tcr_doubt doubts[TCR_DOUBTS_MAX];
    size_t count;
    expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
    expect_text(tcr_set_curl(set, doubts[0].curl)->label, "MINE");
    tcr_set_free(set);
}

CLAIM(described_lashes_in_centimetres_are_doubted) {
    tcr_description d = tcr_description_default();
    tcr_doubt doubts[TCR_DOUBTS_MAX];
    size_t count;
    tcr_set *set;
    d.length_mm = 1.75; /* a slip for 7.5: no lash of such an eye can carry an extension */
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
    expect_count(count, 1);
    expect_count(doubts[0].kind, TCR_DOUBT_LENGTHS_CM);
    tcr_set_free(set);
}

/* All kinds that one eye can have at once, in both eyes: the most that fit. */
CLAIM(many_doubts_come_in_order) {
    tcr_set *set = tcr_make_doubtful(TCR_DOUBT_CURLS_RAD, TCR_LEFT);
    tcr_lid lid = tcr_lid_unknown();
    lid.mrd1_mm = 0.5;
    expect_status(tcr_set_replace_lid(set, TCR_LEFT, &lid), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_RIGHT, &lid), TCR_OK);
    for (size_t i = 0; i < 12; i++) {
        tcr_lash lash = tcr_lash_unknown(0.05 + 0.03 * (double)i, TCR_BOTTOM);
        lash.length_mm = 0.8;
        expect_status(tcr_set_add_lashes(set, TCR_RIGHT, 1, NULL, &lash, NULL), TCR_OK);
    }
    static const struct {
        tcr_doubt_kind kind;
        int side;
    } expected[] = {
        {TCR_DOUBT_CURLS_RAD, -1},         {TCR_DOUBT_LID_HARDLY_OPENS, TCR_LEFT},
        {TCR_DOUBT_LENGTHS_CM, TCR_RIGHT}, {TCR_DOUBT_LID_HARDLY_OPENS, TCR_RIGHT},
        {TCR_DOUBT_ALL_ALIKE, TCR_RIGHT},  {TCR_DOUBT_ONE_HALF, TCR_RIGHT},
    };
    tcr_doubt doubts[TCR_DOUBTS_MAX];
    size_t count;
    expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
    expect_count(count, sizeof expected / sizeof *expected);
    for (size_t i = 0; i < count; i++) {
        given("doubt %zu", i);
        expect_count(doubts[i].kind, expected[i].kind);
        expect_count(doubts[i].side, expected[i].side);
    }
    tcr_set_free(set);
}

/* Ranges: doc/model.md, sections 2 and 11, published spreads about its means; layers down to the
 * 0.3 mm that the practice head is tried with. */
CLAIM(two_hundred_drawn_eyes_have_no_doubt) {
    gsl_rng *rng = tcr_make_rng(41);
    for (int i = 0; i < 200; i++) {
        tcr_description d = tcr_description_default();
        tcr_lid lid = tcr_lid_unknown();
        tcr_set *set;
        d.count = (size_t)tcr_draw_between(rng, 12.0, 140.0);
        d.seed = (uint64_t)i;
        d.length_mm = tcr_draw_between(rng, 5.0, 11.0);
        d.gap_mm = tcr_draw_between(rng, 0.3, 1.4);
        d.turn_rad = tcr_degrees(tcr_draw_between(rng, 20.0, 120.0));
        d.pitch_rad = tcr_degrees(tcr_draw_between(rng, -30.0, 20.0));
        d.phases = (tcr_phases)(i % 3);
        lid.mrd1_mm = tcr_draw_between(rng, 1.5, 5.0);
        expect_status(tcr_set_new(NULL, &set), TCR_OK);
        for (int side = 0; side < 1 + i % 2; side++) {
            expect_status(tcr_set_add_eye(set, (tcr_side)side, &lid), TCR_OK);
            expect_status(tcr_set_describe(set, (tcr_side)side, &d), TCR_OK);
        }
        tcr_doubt doubts[TCR_DOUBTS_MAX];
        size_t count = 99;
        given("set %d, %zu lashes", i, d.count);
        expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
        expect_count(count, 0);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

CLAIM(lashes_that_are_straight_on_purpose_are_not_doubted) {
    tcr_set *set = tcr_make_doubtful(TCR_DOUBT_LID_HARDLY_OPENS, TCR_LEFT);
    const tcr_profile straight = {.pieces = 1, .share = {1.0}, .turn_rad = {0.0}};
    const tcr_curl curl = {"S", 1, NULL, &straight};
    const tcr_lid lid = tcr_lid_unknown();
    expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
    expect_status(tcr_set_replace_lid(set, TCR_LEFT, &lid), TCR_OK);
    for (size_t i = 0; i < tcr_set_lash_count(set, TCR_LEFT); i++) {
        tcr_lash lash = *tcr_set_lash(set, TCR_LEFT, i);
        lash.turn_rad = 0.0;
        expect_status(tcr_set_replace_lash(set, TCR_LEFT, i, &lash), TCR_OK);
    }
    tcr_doubt doubts[TCR_DOUBTS_MAX];
    size_t count = 99;
    expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
    expect_count(count, 0);
    tcr_set_free(set);
}

CLAIM(an_assumed_turn_is_not_doubted_and_a_set_without_lashes_has_no_doubt) {
    tcr_set *set;
    tcr_doubt doubts[TCR_DOUBTS_MAX];
    size_t count = 99;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
    expect_count(count, 0);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
    expect_count(count, 0);
    const tcr_lash lash = tcr_lash_unknown(0.5, TCR_TOP);
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a", &lash, NULL), TCR_OK);
    expect_status(tcr_doubts_of(set, doubts, &count), TCR_OK);
    expect_count(count, 0);
    tcr_set_free(set);
}

CLAIM(arguments_are_checked_and_names_are_texts) {
    tcr_set *set;
    tcr_doubt doubts[TCR_DOUBTS_MAX];
    size_t count = 7;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_doubts_of(NULL, doubts, &count), TCR_E_ARGUMENT);
    expect_status(tcr_doubts_of(set, NULL, &count), TCR_E_ARGUMENT);
    expect_status(tcr_doubts_of(set, doubts, NULL), TCR_E_ARGUMENT);
    expect_count(count, 7);
    expect_text(tcr_doubt_text((tcr_doubt_kind)-1), "unknown");
    expect_text(tcr_doubt_text((tcr_doubt_kind)TCR_DOUBT_KINDS), "unknown");
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &each_mistake_is_doubted_once_and_alone,
        &lengths_are_doubted_from_half_of_the_lashes_on,
        &a_doubt_has_the_number_at_fault,
        &a_curl_in_doubt_is_named,
        &described_lashes_in_centimetres_are_doubted,
        &many_doubts_come_in_order,
        &two_hundred_drawn_eyes_have_no_doubt,
        &lashes_that_are_straight_on_purpose_are_not_doubted,
        &an_assumed_turn_is_not_doubted_and_a_set_without_lashes_has_no_doubt,
        &arguments_are_checked_and_names_are_texts,
    };
    return RUN_CLAIMS("doubts", claims);
}
