/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The causes in words: a table of cases by the signs of the figures, and the words for drawn sets
 * against sets that are checked by themselves. The words are this project's own.
 */
#include <tipcrest/why.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"

enum { ALL = TCR_COMBINATIONS - 1, DRAWN = 200 };
static const char *const NAMES[TCR_CAUSES] = {"root heights",   "layer shortening",
                                              "placement",      "zone steps",
                                              "single choices", "natural variation"};

/* ---- Figures made up --------------------------------------------------------------- */

/* Causes that add to a bare 0.1 mm, each for itself; heights and shortening may make up for each
 * other by some mm2. */
static tcr_why made_up(const double added_mm2[TCR_CAUSES], double made_up_for_mm2) {
    tcr_why why = {.lashes = 90, .eyes_differ_mm2 = NAN};
    for (unsigned on = 0; on < TCR_COMBINATIONS; on++) {
        double value = 0.01 - ((on & 3u) == 3u ? made_up_for_mm2 : 0.0);
        for (int c = 0; c < TCR_CAUSES; c++)
            value += on >> c & 1u ? added_mm2[c] : 0.0;
        why.mean_square_mm2[on] = value;
    }
    const double *value = why.mean_square_mm2;
    why.whole_rms_mm = sqrt(value[ALL]);
    why.bare_rms_mm = sqrt(value[0]);
    for (int c = 0; c < TCR_CAUSES; c++) {
        why.cause[c].alone_rms_mm = sqrt(value[1u << c]);
        why.cause[c].without_rms_mm = sqrt(value[ALL & ~(1u << c)]);
    }
    why.layering.alone_rms_mm = sqrt(value[3]);
    why.layering.without_rms_mm = sqrt(value[ALL & ~3u]);
    why.layers = (tcr_why_layers){.lengths = TCR_LENGTHS_RULED,
                                  .height_mm = {0.0, 1.0, 2.0},
                                  .tip_by_height_mm = 0.95,
                                  .tip_by_shorter_mm = -0.82,
                                  .step_mm = 1.0,
                                  .equal_rms_mm = why.cause[TCR_CAUSE_SHORTENING].without_rms_mm,
                                  .ruled_rms_mm = why.whole_rms_mm};
    return why;
}

static void expect_said(const tcr_why *why, tcr_why_sentence sentence, const char *expected) {
    char text[TCR_WHY_TEXT];
    tcr_why_say(why, sentence, text);
    expect_text(text, expected);
}

CLAIM(the_verdict_follows_the_figures_in_both_directions) {
    static const struct {
        tcr_layer_lengths lengths;
        bool worn;
        double step_mm, whole_mm, equal_mm, ruled_mm;
        const char *verdict;
    } cases[] = {
        {TCR_LENGTHS_RULED, false, 1, 0.30, 0.68, 0.30,
         "The rule (each layer 1 mm shorter) helps: 0.30 mm rms with it, 0.68 mm with equal "
         "lengths."},
        {TCR_LENGTHS_RULED, false, 0.5, 0.45, 0.31, 0.45,
         "The rule (each layer 0.5 mm shorter) hurts: 0.45 mm rms with it, 0.31 mm with equal "
         "lengths."},
        {TCR_LENGTHS_RULED, false, 1, 0.33, 0.35, 0.33,
         "The rule (each layer 1 mm shorter) changes little: 0.33 mm rms with it, 0.35 mm with "
         "equal lengths."},
        {TCR_LENGTHS_RULED, false, 1, 0.3049, 0.3451, 0.3049, /* two decimals would be 0.05 apart */
         "The rule (each layer 1 mm shorter) changes little: 0.305 mm rms with it, 0.345 mm with "
         "equal lengths."},
        {TCR_LENGTHS_RULED, false, 1, 0.304, 0.3545, 0.304,
         "The rule (each layer 1 mm shorter) helps: 0.30 mm rms with it, 0.35 mm with equal "
         "lengths."},
        {TCR_LENGTHS_RULED, true, 1, 0.30, 0.68, 0.30,
         "The lengths worn on the layers help: 0.30 mm rms with them, 0.68 mm with equal lengths."},
        {TCR_LENGTHS_OTHER, true, 1, 0.68, 0.30, 0.25,
         "The lengths worn on the layers hurt: 0.68 mm rms with them, 0.30 mm with equal lengths."},
        {TCR_LENGTHS_OTHER, true, 1, 0.30, 0.30, 0.25,
         "The lengths worn on the layers change little: 0.30 mm rms with them, 0.30 mm with equal "
         "lengths."},
        {TCR_LENGTHS_OTHER, false, 1, 0.25, 0.68, 0.30,
         "The layers' own lengths help: 0.25 mm rms with them, 0.68 mm with equal lengths, 0.30 mm "
         "by the rule (each layer 1 mm shorter)."},
        {TCR_LENGTHS_OTHER, false, 1, 0.68, 0.25, NAN,
         "The layers' own lengths hurt: 0.68 mm rms with them, 0.25 mm with equal lengths."},
        {TCR_LENGTHS_EQUAL, false, 1, 0.81, 0.81, 0.29,
         "All layers have equal lengths; the rule (each layer 1 mm shorter) would help: 0.29 mm "
         "rms with it, 0.81 mm without."},
        {TCR_LENGTHS_EQUAL, true, 1, 0.31, 0.31, 0.60,
         "All layers wear equal lengths; the rule (each layer 1 mm shorter) would hurt: 0.60 mm "
         "rms with it, 0.31 mm without."},
        {TCR_LENGTHS_EQUAL, false, 1, 0.31, 0.31, 0.32,
         "All layers have equal lengths; the rule (each layer 1 mm shorter) would change little: "
         "0.32 mm rms with it, 0.31 mm without."},
        {TCR_LENGTHS_EQUAL, false, 1, 0.31, 0.31, NAN,
         "All layers have equal lengths; the rule (each layer 1 mm shorter) cannot be followed: "
         "0.31 mm rms."},
        {TCR_LENGTHS_ONE_LAYER, false, 1, 0.31, 0.31, 0.31,
         "Only one layer wears extensions, so no rule for layers plays a part: 0.31 mm rms."},
    };
    const double added[TCR_CAUSES] = {0};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tcr_why why = made_up(added, 0);
        why.whole_rms_mm = cases[i].whole_mm;
        why.layers.lengths = cases[i].lengths;
        why.layers.worn = cases[i].worn;
        why.layers.step_mm = cases[i].step_mm;
        why.layers.equal_rms_mm = cases[i].equal_mm;
        why.layers.ruled_rms_mm = cases[i].ruled_mm;
        given("case %zu", i);
        expect_said(&why, TCR_WHY_VERDICT, cases[i].verdict);
    }
}

CLAIM(what_the_tray_lacks_for_the_rule_is_told_once) {
    static const char LACKING[] = "; the tray lacks its sizes for 23 of 90 lashes.";
    const double added[TCR_CAUSES] = {0};
    for (int k = 0; k < 3; k++) { /* equal, other and worn lengths: the last names no rule first */
        char text[TCR_WHY_TEXT];
        tcr_why why = made_up(added, 0);
        why.whole_rms_mm = 0.68;
        why.layers.lengths = k == 0 ? TCR_LENGTHS_EQUAL : TCR_LENGTHS_OTHER;
        why.layers.worn = k == 2;
        why.layers.ruled_lacking = 23;
        why.layers.ruled_rms_mm = 0.05; /* better than with any cause levelled: 0.1 */
        given("case %d", k);
        tcr_why_say(&why, TCR_WHY_VERDICT, text);
        expect_true((strstr(text, LACKING) != NULL) == (k < 2));
        tcr_why_say(&why, TCR_WHY_CHANGE, text);
        expect_true((strstr(text, LACKING) != NULL) == (k == 2));
    }
}

CLAIM(what_height_and_length_do_to_the_tip_follows_their_signs) {
    static const struct {
        double by_height_mm, by_shorter_mm, height_mm[TCR_LAYERS];
        const char *lever;
    } cases[] = {
        {0.95,
         -0.82,
         {0.1, 1.1, 2.1},
         "A root 1 mm higher raises the mean lash's tip 0.95 mm; 1 mm less length lowers it "
         "0.82 mm. Mean root heights: bottom 0.10, middle 1.10, top 2.10 mm."},
        {-0.2,
         0.4,
         {0.1, NAN, 2.1},
         "A root 1 mm higher lowers the mean lash's tip 0.20 mm; 1 mm less length raises it "
         "0.40 mm. Mean root heights: bottom 0.10, top 2.10 mm."},
        {0.004,
         NAN,
         {NAN, 1.1, NAN},
         "A root 1 mm higher moves the mean lash's tip less than 0.01 mm; 1 mm less length "
         "cannot be worn. Mean root heights: middle 1.10 mm."},
        {NAN,
         NAN,
         {0.1, NAN, NAN},
         "The mean lash in the middle of the lid is too short to bond to. Mean root heights: "
         "bottom 0.10 mm."},
    };
    const double added[TCR_CAUSES] = {0};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tcr_why why = made_up(added, 0);
        why.layers.tip_by_height_mm = cases[i].by_height_mm;
        why.layers.tip_by_shorter_mm = cases[i].by_shorter_mm;
        memcpy(why.layers.height_mm, cases[i].height_mm, sizeof why.layers.height_mm);
        given("case %zu", i);
        expect_said(&why, TCR_WHY_LEVER, cases[i].lever);
    }
}

CLAIM(what_an_artist_can_change_and_the_rest_follow_the_figures) {
    static const struct {
        double added_mm2[TCR_CAUSES], made_up_for_mm2;
        const char *change, *rest;
    } cases[] = {
        /* Variation costs most, but an artist cannot change it. 0.01 + 0.15 is 0.4 squared. */
        {{0, 0, 0, 0.07, 0, 0.08},
         0,
         "Of what an artist can change, zone steps cost most: with smooth, unrounded lengths "
         "along the lid 0.30 mm rms instead of 0.40.",
         "Hurts too: natural variation (0.28 without, but lashes grow so). No part: root heights, "
         "layer shortening, placement, single choices."},
        {{0, 0, 0, 0, 0, 0.15},
         0,
         "Of what an artist can change, nothing costs 0.05 mm rms or more by itself.",
         "Hurts: natural variation (0.10 without, but lashes grow so). No part: root heights, "
         "layer "
         "shortening, placement, zone steps, single choices."},
        {{0.07, -0.05, 0.001, 0, 0, 0.129},
         0, /* 0.16 in all; shortening helps by itself */
         "Of what an artist can change, nothing costs 0.05 mm rms or more by itself.",
         "Root heights and layer shortening together change little: 0.37 mm rms with both "
         "levelled, "
         "0.30 with the roots alone levelled, 0.46 with the lengths alone. Hurts: natural "
         "variation "
         "(0.18 without, but lashes grow so). Changes little: placement (0.40 without). No part: "
         "zone steps, single choices."},
        /* The rule hurts: 0.16 + 0.01 - 0.07 with both levelled. */
        {{-0.01, 0.07, 0, 0, 0, 0.09},
         0,
         "Of what an artist can change, layer shortening costs most: with the bottom layer's "
         "lengths on every layer 0.30 mm rms instead of 0.40.",
         "Root heights and layer shortening together hurt: 0.32 mm rms with both levelled, 0.41 "
         "with the roots alone levelled, 0.30 with the lengths alone. Hurts too: natural variation "
         "(0.26 without, but lashes grow so). No part: placement, zone steps, single choices."},
        {{0, 0.15, 0, 0, 0, 0},
         0,
         "Of what an artist can change, layer shortening costs most: with the bottom layer's "
         "lengths on every layer 0.10 mm rms instead of 0.40.",
         "No part: root heights, placement, zone steps, single choices, natural variation."},
        /* 0.16 in all; both help, each by itself, and make up for others than each other. */
        {{-0.09, -0.09, 0.11, 0.11, 0, 0.11},
         0,
         "Of what an artist can change, placement costs most: with every extension on top 0.22 mm "
         "rms instead of 0.40.",
         "Root heights and layer shortening together help: 0.58 mm rms with both levelled, 0.50 "
         "with the roots alone levelled, 0.50 with the lengths alone. Hurts too: zone steps (0.22 "
         "without), natural variation (0.22 without, but lashes grow so). No part: single "
         "choices."},
        {{0.6, 0.48, 0, 0, 0, 0},
         1.08, /* 0.01 in all */
         "Of what an artist can change, nothing costs 0.05 mm rms or more by itself.",
         "Root heights and layer shortening make up for each other: 0.10 mm rms with both "
         "levelled, 0.70 with the roots alone levelled, 0.78 with the lengths alone. No part: "
         "placement, zone steps, single choices, "
         "natural variation."},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const tcr_why why = made_up(cases[i].added_mm2, cases[i].made_up_for_mm2);
        given("case %zu", i);
        expect_said(&why, TCR_WHY_CHANGE, cases[i].change);
        expect_said(&why, TCR_WHY_REST, cases[i].rest);
    }
}

CLAIM(a_rule_that_is_not_followed_counts_as_a_change) {
    const double added[TCR_CAUSES] = {[TCR_CAUSE_HEIGHTS] = 0.48, [TCR_CAUSE_ZONES] = 0.15};
    tcr_why why = made_up(added, 0); /* 0.8 as it is */
    why.layers.lengths = TCR_LENGTHS_EQUAL;
    why.layers.ruled_rms_mm = 0.3;
    expect_said(&why, TCR_WHY_CHANGE,
                "Of what an artist can change, lengths by layer cost most: by the rule (each layer "
                "1 mm shorter) 0.30 mm rms instead of 0.80.");
    why.layers.ruled_rms_mm = 0.9; /* smooth lengths: the root of 0.49 */
    expect_said(
        &why, TCR_WHY_CHANGE,
        "Of what an artist can change, zone steps cost most: with smooth, unrounded lengths "
        "along the lid 0.70 mm rms instead of 0.80.");
}

static void expect_cause(const tcr_why *why, tcr_cause cause, const char *expected) {
    char text[TCR_WHY_TEXT];
    tcr_why_say_cause(why, cause, text);
    expect_text(text, expected);
}

CLAIM(each_cause_is_told_by_what_it_does_alone_and_what_levelling_it_would_do) {
    const double apart[TCR_CAUSES] = {0.07, -0.09, 0.001, 0.15, 0, 0.019}; /* 0.16 in all */
    tcr_why why = made_up(apart, 0);
    expect_cause(&why, TCR_CAUSE_HEIGHTS,
                 "Root heights take the tips off the line, because roots are at different heights: "
                 "with all roots at the mean lash's height 0.30 mm rms instead of 0.40.");
    expect_cause(&why, TCR_CAUSE_PLACEMENT,
                 "Placement changes little here: with every extension on top 0.40 mm rms instead "
                 "of 0.40.");
    expect_cause(&why, TCR_CAUSE_SINGLE,
                 "Single choices play no part: every lash wears what its zone and layer give it.");
    why.cause[TCR_CAUSE_SHORTENING].alone_rms_mm = 0.06; /* of 0.1: changes little */
    expect_cause(&why, TCR_CAUSE_SHORTENING,
                 "Layer shortening brings the tips to the line: with the bottom layer's lengths on "
                 "every layer 0.50 mm rms instead of 0.40.");
    expect_said(&why, TCR_WHY_LAYERING,
                "Layering: root heights and layer shortening together change little: 0.42 mm rms "
                "with both levelled, 0.30 with the roots alone levelled, 0.50 with the lengths "
                "alone.");
    const double both[TCR_CAUSES] = {0.6, 0.48, 0, 0, 0, 0};
    why = made_up(both, 1.08);
    expect_cause(&why, TCR_CAUSE_HEIGHTS,
                 "Root heights alone would put the tips 0.78 mm rms off the line instead of 0.10, "
                 "but the rest of this set suits them: with all roots at the mean lash's height "
                 "0.70 mm rms instead of 0.10.");
    why.cause[TCR_CAUSE_SHORTENING].without_rms_mm = why.whole_rms_mm;
    expect_cause(&why, TCR_CAUSE_SHORTENING,
                 "Layer shortening alone would put the tips 0.70 mm rms off the line instead of "
                 "0.10, but here it changes little: with the bottom layer's lengths on every layer "
                 "0.10 mm rms instead of 0.10.");
}

CLAIM(layering_is_told_by_which_of_its_two_causes_is_there) {
    static const struct {
        double heights, shortening;
        const char *words;
    } each[] = {
        {0, 0, "Layering plays no part."},
        {0, 0.07, "Layering: here it is the shortening alone."},
        {0.07, 0, "Layering: here it is the heights alone, since no layer is shortened for them."}};
    for (size_t i = 0; i < sizeof each / sizeof *each; i++) {
        const double added[TCR_CAUSES] = {each[i].heights, each[i].shortening, 0, 0.1, 0, 0};
        const tcr_why why = made_up(added, 0);
        expect_said(&why, TCR_WHY_LAYERING, each[i].words);
    }
}

CLAIM(what_a_cause_does_alone_is_set_against_what_it_does_here_in_one_and_in_many) {
    const double added[TCR_CAUSES] = {0.07, 0.07, 0.07, 0.07, 0.07, 0.07};
    tcr_why why = made_up(added, 0);
    tcr_share *placement = &why.cause[TCR_CAUSE_PLACEMENT], *zones = &why.cause[TCR_CAUSE_ZONES];
    why.bare_rms_mm = 0.5;
    why.whole_rms_mm = 0.6;
    placement->alone_rms_mm = zones->alone_rms_mm = 0.8;     /* hurt by themselves */
    placement->without_rms_mm = zones->without_rms_mm = 0.7; /* and help here */
    expect_cause(&why, TCR_CAUSE_PLACEMENT,
                 "Placement alone would put the tips 0.80 mm rms off the line instead of 0.50, but "
                 "the rest of this set suits it: with every extension on top 0.70 mm rms instead "
                 "of 0.60.");
    expect_cause(&why, TCR_CAUSE_ZONES,
                 "Zone steps alone would put the tips 0.80 mm rms off the line instead of 0.50, "
                 "but the rest of this set suits them: with smooth, unrounded lengths along the "
                 "lid 0.70 mm rms instead of 0.60.");
    placement->alone_rms_mm = 0.3;   /* helps by itself */
    placement->without_rms_mm = 0.4; /* and hurts here */
    expect_cause(&why, TCR_CAUSE_PLACEMENT,
                 "Placement alone would put the tips 0.30 mm rms off the line instead of 0.50, but "
                 "not with the rest of this set: with every extension on top 0.40 mm rms instead "
                 "of 0.60.");
    zones->without_rms_mm = 0.6; /* changes little here */
    expect_cause(&why, TCR_CAUSE_ZONES,
                 "Zone steps alone would put the tips 0.80 mm rms off the line instead of 0.50, "
                 "but here they change little: with smooth, unrounded lengths along the lid 0.60 "
                 "mm rms instead of 0.60.");
    zones->alone_rms_mm = 0.5;
    zones->without_rms_mm = 0.8;
    expect_cause(&why, TCR_CAUSE_ZONES,
                 "Zone steps bring the tips to the line: with smooth, unrounded lengths along the "
                 "lid 0.80 mm rms instead of 0.60.");
    placement->alone_rms_mm = 0.7;
    expect_cause(&why, TCR_CAUSE_PLACEMENT,
                 "Placement takes the tips off the line, because a tip moves with the side of the "
                 "lash at which its extension sits: with every extension on top 0.40 mm rms "
                 "instead of 0.60.");
    const double none[TCR_CAUSES] = {0.07, 0.07, 0, 0, 0, 0};
    why = made_up(none, 0);
    expect_cause(&why, TCR_CAUSE_PLACEMENT,
                 "Placement plays no part: every extension is placed on top.");
    expect_cause(&why, TCR_CAUSE_ZONES,
                 "Zone steps play no part: lengths do not jump from zone to zone.");
}

CLAIM(wrong_arguments_give_no_words) {
    char text[TCR_WHY_TEXT] = "before";
    const double added[TCR_CAUSES] = {0};
    const tcr_why why = made_up(added, 0);
    tcr_why_say(NULL, TCR_WHY_VERDICT, text);
    expect_text(text, "");
    strcpy(text, "before");
    tcr_why_say(&why, (tcr_why_sentence)TCR_WHY_SENTENCES, text);
    expect_text(text, "");
    strcpy(text, "before");
    tcr_why_say_cause(&why, (tcr_cause)-1, text);
    expect_text(text, "");
    strcpy(text, "before");
    tcr_why_say_cause(NULL, TCR_CAUSE_ZONES, text);
    expect_text(text, "");
    tcr_why_say(&why, TCR_WHY_VERDICT, NULL);
    tcr_why_say_cause(&why, TCR_CAUSE_ZONES, NULL);
    expect_text(tcr_cause_text((tcr_cause)TCR_CAUSES), "unknown");
    expect_text(tcr_cause_levelled_text((tcr_cause)-1), "unknown");
}

/* ---- Drawn sets -------------------------------------------------------------------- */

/* How a set is drawn: layers this far apart, shorter by this for each layer up. */
typedef struct recipe {
    uint64_t seed;
    double apart_mm, step_mm;
    bool by_rows, placed, steps, planned;
} recipe;

static recipe recipe_of(unsigned k) {
    return (recipe){
        .seed = 100 + k,
        .apart_mm = 0.1 * (double)(k % 17), /* 0 to 1.6 */
        .step_mm = 0.5 * (double)(k % 4),
        .by_rows = k % 5 == 4,
        .placed = k % 3 == 1,
        .steps = k % 2 == 1,
        .planned = k % 5 == 3,
    };
}

/* step_mm: as the recipe says, or another that is tried. */
static tcr_set *set_of(const recipe *r, double step_mm) {
    static const double half_mm[] = {9.0, 12.0};
    tcr_set *set = NULL;
    tcr_layering rule = tcr_layering_default();
    rule.step_mm = r->by_rows || r->planned ? 1.0 : step_mm;
    rule.placement[TCR_MIDDLE] = r->placed ? TCR_OUTER_SIDE : TCR_ON_TOP;
    rule.placement[TCR_TOP] = r->placed ? TCR_UNDERSIDE : TCR_ON_TOP;
    const tcr_tray any = {.count = 0};
    tcr_zone zones[2] = {
        {.to = r->steps ? 0.5 : 1.0, .length_mm = half_mm[r->steps ? 0 : 1], .curl = "C"},
        {.to = 1.0, .length_mm = half_mm[1], .curl = "C"}};
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    if (r->planned) {
        expect_status(tcr_set_put_intended(set, TCR_LEFT, zones, r->steps ? 2 : 1), TCR_OK);
        for (int z = 0; z < 2; z++)
            for (int layer = 0; layer < TCR_LAYERS; layer++)
                zones[z].layer[layer] = (tcr_wish){
                    .fixed = TCR_FIX_LENGTH, .length_mm = zones[z].length_mm - layer * step_mm};
    }
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, r->steps ? 2 : 1), TCR_OK);
    tcr_description d = tcr_description_default();
    d.seed = r->seed;
    d.count = 60;
    d.gap_mm = r->apart_mm;
    for (uint32_t k = 0; k < d.count; k++) {
        char id[16];
        tcr_lash lash;
        expect_status(tcr_describe_lash(&d, 0, k, &lash), TCR_OK);
        lash.condition = TCR_SUITABLE;
        lash.length_mm = fmax(lash.length_mm, 5.0);
        snprintf(id, sizeof id, "w%u", (unsigned)k);
        const double zone_mm = r->steps && lash.u < 0.5 ? half_mm[0] : half_mm[1];
        const tcr_wish wish = {.fixed = TCR_FIX_LENGTH,
                               .length_mm = zone_mm - (double)lash.layer * step_mm};
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, r->by_rows ? &wish : NULL),
                      TCR_OK);
    }
    return set;
}

static double rms_of(const recipe *r, double step_mm) {
    tcr_set *set = set_of(r, step_mm);
    tcr_check *check = NULL;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    const double rms = tcr_check_eye(check, TCR_LEFT)->fitted.upright.rms_mm;
    tcr_check_free(check);
    tcr_set_free(set);
    return rms;
}

static tcr_why why_of(const recipe *r) {
    tcr_set *set = set_of(r, r->step_mm);
    tcr_check *check = NULL;
    tcr_why why;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    tcr_check_free(check);
    tcr_set_free(set);
    return why;
}

/* What the first of two rms does, other than the second; less than 0.05 mm is little (why.h). */
static int sign_of(double with_mm, double without_mm) {
    return (with_mm - without_mm >= 0.05) - (with_mm - without_mm <= -0.05);
}

CLAIM(the_verdict_of_drawn_sets_agrees_with_sets_that_are_checked_by_themselves) {
    int told[3] = {0}, would[3] = {0}, worn = 0, own = 0;
    for (unsigned k = 0; k < DRAWN; k++) {
        const recipe r = recipe_of(k);
        const tcr_why why = why_of(&r);
        char text[TCR_WHY_TEXT];
        const double whole = rms_of(&r, r.step_mm);
        tcr_why_say(&why, TCR_WHY_VERDICT, text);
        given("set %u: %s", k, text);
        expect_near(why.whole_rms_mm, whole, 1e-9, "the contract");
        const bool equal = r.step_mm == 0.0;
        const int sign = equal ? sign_of(rms_of(&r, 1.0), whole) : sign_of(whole, rms_of(&r, 0.0));
        expect_true((strstr(text, "help") != NULL) == (sign < 0));
        expect_true((strstr(text, "hurt") != NULL) == (sign > 0));
        expect_true((strstr(text, "little") != NULL) == (sign == 0));
        expect_true((strstr(text, "would ") != NULL) == equal);
        expect_true((strstr(text, "wear equal") != NULL || strstr(text, "worn on") != NULL) ==
                    r.by_rows);
        (equal ? would : told)[sign + 1]++;
        worn += r.by_rows;
        own += strstr(text, "own lengths") != NULL;
    }
    given("with the rule %d help, %d little, %d hurt; without %d, %d, %d; %d worn, %d planned",
          told[0], told[1], told[2], would[0], would[1], would[2], worn, own);
    for (int i = 0; i < 3; i++) /* else the claim would say less than its name */
        expect_true(told[i] > 0 && would[i] > 0);
    expect_true(worn > 0 && own > 0);
}

/* The group of a text in which a name is: from its head to the next full stop and blank. */
static bool is_in_group(const char *text, const char *head, const char *name) {
    const char *from = strstr(text, head), *found = from == NULL ? NULL : strstr(from, name);
    const char *end = from == NULL ? NULL : strstr(from, ". ");
    return found != NULL && (end == NULL || found < end);
}

/* The joint word by the joint figure, and both single figures behind it. */
static void expect_pair(const tcr_why *why, const char *rest, bool matched) {
    static const char *const words[] = {
        " together help: ", " together change little: ", " together hurt: "};
    char expected[120];
    const int sign = sign_of(why->whole_rms_mm, why->layering.without_rms_mm);
    for (int i = 0; i < 3; i++)
        expect_true((strstr(rest, words[i]) != NULL) == (!matched && sign == i - 1));
    snprintf(expected, sizeof expected,
             "%.2f with the roots alone levelled, %.2f with the lengths alone.",
             why->cause[0].without_rms_mm, why->cause[1].without_rms_mm);
    expect_true(strstr(rest, expected) != NULL);
}

CLAIM(the_rest_of_drawn_sets_follows_the_signs_of_their_figures) {
    int groups[4] = {0}, pairs[3] = {0}, changes = 0, nothing = 0;
    for (unsigned k = 0; k < DRAWN; k++) {
        const recipe r = recipe_of(k);
        const tcr_why why = why_of(&r);
        char change[TCR_WHY_TEXT], rest[TCR_WHY_TEXT];
        tcr_why_say(&why, TCR_WHY_CHANGE, change);
        tcr_why_say(&why, TCR_WHY_REST, rest);
        given("set %u: %s | %s", k, change, rest);
        const bool matched = strstr(rest, "make up for each other") != NULL;
        const bool pair = strstr(rest, "Root heights and layer shortening") == rest;
        pairs[sign_of(why.whole_rms_mm, why.layering.without_rms_mm) + 1] += pair && !matched;
        if (pair)
            expect_pair(&why, rest, matched);
        double best =
            why.layers.lengths == TCR_LENGTHS_RULED ? why.whole_rms_mm : why.layers.ruled_rms_mm;
        for (int c = 0; c < TCR_CAUSES; c++) {
            const int sign = sign_of(why.whole_rms_mm, why.cause[c].without_rms_mm);
            if (c >= 1 && c <= 4) /* what an artist can change: model.md, section 8 */
                best = fmin(best, why.cause[c].without_rms_mm);
            if (pair && c <= 1) {
                expect_true(!matched || sign < 0);
                continue;
            }
            const int found[4] = {
                is_in_group(rest, "Helps: ", NAMES[c]),
                is_in_group(rest, "Changes little: ", NAMES[c]),
                is_in_group(rest, "Hurts: ", NAMES[c]) ||
                    is_in_group(rest, "Hurts too: ", NAMES[c]),
                is_in_group(rest, "No part: ", NAMES[c]),
            };
            const bool told = strstr(change, NAMES[c]) != NULL;
            given("set %u, %s, sign %d: %s | %s", k, NAMES[c], sign, change, rest);
            expect_count((size_t)(found[0] + found[1] + found[2] + found[3] + told), 1);
            expect_true(found[3] ? fabs(why.whole_rms_mm - why.cause[c].without_rms_mm) < 1e-6
                        : told   ? sign > 0
                                 : found[sign + 1]);
            for (int g = 0; g < 4; g++)
                groups[g] += found[g];
        }
        expect_true((strstr(change, "nothing costs") == NULL) ==
                    (sign_of(why.whole_rms_mm, best) > 0));
        changes += strstr(change, "most: ") != NULL;
        nothing += strstr(change, "nothing costs") != NULL;
        expect_true(strstr(change, "chosen") == NULL && strstr(rest, "chosen") == NULL);
    }
    given("%d help, %d little, %d hurt, %d no part; %d changes, %d without", groups[0], groups[1],
          groups[2], groups[3], changes, nothing);
    expect_true(groups[0] > 0 && groups[1] > 0 && groups[2] > 0 && groups[3] > 0);
    expect_true(changes > 0 && nothing > 0);
    given("pairs that do not match: %d help, %d little, %d hurt", pairs[0], pairs[1], pairs[2]);
    expect_true(pairs[1] > 0 && pairs[2] > 0);
}

CLAIM(an_effect_is_a_change_of_a_twentieth_of_a_millimetre_or_more) {
    /* Source: why.h, TCR_WHY_LITTLE_MM and the signs. */
    expect_count(tcr_effect_of(1.0, 0.5), TCR_HURTS);
    expect_count(tcr_effect_of(0.5, 1.0), TCR_HELPS);
    expect_count(tcr_effect_of(TCR_WHY_LITTLE_MM, 0.0), TCR_HURTS);
    expect_count(tcr_effect_of(0.0, TCR_WHY_LITTLE_MM), TCR_HELPS);
    expect_count(tcr_effect_of(0.04, 0.0), TCR_LITTLE);
    expect_count(tcr_effect_of(0.0, 0.04), TCR_LITTLE);
    expect_count(tcr_effect_of((double)NAN, 0.0), TCR_LITTLE);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_verdict_follows_the_figures_in_both_directions,
        &what_the_tray_lacks_for_the_rule_is_told_once,
        &what_height_and_length_do_to_the_tip_follows_their_signs,
        &what_an_artist_can_change_and_the_rest_follow_the_figures,
        &a_rule_that_is_not_followed_counts_as_a_change,
        &each_cause_is_told_by_what_it_does_alone_and_what_levelling_it_would_do,
        &layering_is_told_by_which_of_its_two_causes_is_there,
        &what_a_cause_does_alone_is_set_against_what_it_does_here_in_one_and_in_many,
        &wrong_arguments_give_no_words,
        &an_effect_is_a_change_of_a_twentieth_of_a_millimetre_or_more,
        &the_verdict_of_drawn_sets_agrees_with_sets_that_are_checked_by_themselves,
        &the_rest_of_drawn_sets_follows_the_signs_of_their_figures,
    };
    return RUN_CLAIMS("why_words", claims);
}
