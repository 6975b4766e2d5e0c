/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of why a set is uneven: the answer, and all of it. Figures and sentences are the
 * library's own (tcr_why_of, tcr_why_say).
 */
#include <tipcrest/file.h>

#include <math.h>
#include <stdio.h>

#include "file/drill.h"

static void expect_row(const char *table, const char *name, const tcr_share *share) {
    char expected[120], mm2[3][16];
    const double number[3] = {share->shapley_mm2, share->first_in_mm2, share->last_out_mm2};
    for (int i = 0; i < 3; i++) {
        snprintf(mm2[i], sizeof mm2[i], "%+.3f", number[i]);
        if (strpbrk(mm2[i], "123456789") == NULL)
            strcpy(mm2[i], "0.000"); /* a zero has no sign */
    }
    snprintf(expected, sizeof expected, "    %-26s%10s%10s%10s%10.2f%10.2f\n", name, mm2[0], mm2[1],
             mm2[2], share->alone_rms_mm, share->without_rms_mm);
    if (strstr(table, expected) == NULL)
        ck_abort_msg("the table lacks \"%s\":\n%s", expected, table);
}

CLAIM(figures_in_the_table_are_the_librarys_own) {
    static const char *const names[] = {"  root heights", "  layer shortening",
                                        "placement",      "zone steps",
                                        "single choices", "natural variation"};
    tcr_set *set = new_sample();
    for (int against = 0; against < 2; against++) {
        tcr_check *check = check_against(set, (tcr_against)against);
        char *table = table_of(check);
        expect_80_columns(table);
        for (int side = 0; side < TCR_SIDES; side++) {
            tcr_why why;
            expect_status(tcr_why_of(check, (tcr_side)side, &why), TCR_OK);
            for (int cause = 0; cause < TCR_CAUSES; cause++)
                expect_row(table, names[cause], &why.cause[cause]);
            expect_row(table, "heights and shortening", &why.layering);
            expect_row(table, "steps and single choices", &why.lengths_along);
            char expected[200];
            snprintf(expected, sizeof expected, "With all six causes levelled out: %.2f mm rms",
                     why.bare_rms_mm);
            expect_told(table, expected);
        }
        free(table);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

/* The lines of the answer, blank ones aside, before what was assumed. */
static size_t lines_of(const char *answer) {
    const char *end = strstr(answer, "\nAssumed");
    size_t lines = 0;
    expect_true(end != NULL);
    for (const char *at = answer; at < end; at++)
        lines += at[0] == '\n' && at[1] != '\n';
    return lines;
}

static char *answer_of(const tcr_check *check) {
    text written = {0};
    expect_status(tcr_report_why_table(check, false, keep_text, &written), TCR_OK);
    return written.bytes;
}

/* Whether the answer and the full table say every sentence about an eye. */
static void expect_sentences(const tcr_why *why, const char *answer, const char *table) {
    char said[TCR_WHY_TEXT];
    for (int sentence = 0; sentence < TCR_WHY_SENTENCES; sentence++) {
        tcr_why_say(why, (tcr_why_sentence)sentence, said);
        const char *words = said + (sentence == TCR_WHY_VERDICT); /* its capital may be none */
        if (sentence != TCR_WHY_LAYERING)
            expect_told(answer, words);
        if (sentence != TCR_WHY_REST)
            expect_told(table, words);
    }
    for (int cause = 0; cause < TCR_CAUSES; cause++) {
        tcr_why_say_cause(why, (tcr_cause)cause, said);
        expect_told(table, said);
    }
}

static void expect_answer(tcr_set *set, const char *title) {
    expect_status(tcr_set_put_title(set, title), TCR_OK);
    for (int against = 0; against < 2; against++) {
        tcr_check *check = check_against(set, (tcr_against)against);
        char *answer = answer_of(check), *table = table_of(check);
        expect_80_columns(answer);
        expect_80_columns(table);
        tcr_side sides[TCR_SIDES];
        const size_t eyes = tcr_set_eyes(set, sides);
        given("against %d, %zu lines", against, lines_of(answer));
        expect_true(lines_of(answer) >= 7 * eyes && lines_of(answer) <= 15 * eyes);
        for (size_t e = 0; e < eyes; e++) {
            tcr_why why;
            expect_status(tcr_why_of(check, sides[e], &why), TCR_OK);
            expect_sentences(&why, answer, table);
        }
        expect_true(strstr(answer, "first in") == NULL && strstr(answer, "How to read") == NULL);
        const char *rms = strstr(answer, "rms: a tip's typical distance");
        expect_true(rms != NULL && strstr(rms + 1, "rms: a ") == NULL); /* once */
        free(answer);
        free(table);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(an_eye_takes_at_most_15_lines_and_has_every_sentence) {
    for (unsigned causes = 0; causes < TCR_COMBINATIONS; causes++) {
        given("causes %u", causes);
        expect_answer(new_drill(causes), "");
        expect_answer(new_drill(causes), "A title that is as long as a table lets it be, so wide");
    }
    expect_answer(new_sample(), "Two eyes");
}

CLAIM(layering_that_is_not_there_or_half_there_is_told_so) {
    const struct {
        unsigned causes;
        const char *part;
    } cases[] = {
        {0, "Layering plays no part."},
        {1u << TCR_CAUSE_HEIGHTS, "Layering: here it is the heights alone, since no layer is "
                                  "shortened for them."},
        {1u << TCR_CAUSE_SHORTENING, "Layering: here it is the shortening alone."},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tcr_set *set = new_drill(cases[i].causes);
        tcr_check *check = new_check(set, NULL);
        char *table = table_of(check);
        expect_told(table, cases[i].part);
        expect_true(strstr(table, "shortening make up for each other:") == NULL);
        free(table);
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(heights_that_the_placement_makes_up_for_are_not_said_to_be_why_lengths_differ) {
    /* The top layer roots higher and is laid underneath; it is the middle one that is shorter. */
    tcr_set *set = new_set("");
    const tcr_tray tray = {.count = 2, .length_mm = {11.7, 12.0}};
    tcr_layering layering = tcr_layering_default();
    layering.step_mm = 0.0;
    layering.placement[TCR_TOP] = TCR_UNDERSIDE;
    tcr_zone zone = {.to = 1, .length_mm = 12, .curl = "C"};
    zone.layer[TCR_MIDDLE] = (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = 11.7};
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    for (int i = 0; i < 90; i++) {
        char id[16];
        snprintf(id, sizeof id, "p%d", i);
        tcr_lash lash = tcr_lash_unknown(0.05 + 0.01 * i, (tcr_layer)(i % TCR_LAYERS));
        lash.height_mm = lash.layer == TCR_TOP ? 0.4 : 0.0;
        add_lash(set, TCR_LEFT, id, &lash, NULL);
    }
    tcr_check *check = new_check(set, NULL);
    tcr_why why;
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    expect_within(why.cause[TCR_CAUSE_HEIGHTS].last_out_mm2, -1.0, -0.01, "levelling is worse");
    char *table = table_of(check);
    expect_told(table, "Layering: root heights and layer shortening together ");
    expect_true(strstr(table, "shortening make up for each other:") == NULL);
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(shortening_that_goes_far_beyond_the_heights_is_not_said_to_make_up_for_them) {
    /* Roots 1 mm apart and lengths 3 mm apart: level roots are worse, but level lengths better. */
    tcr_set *set = new_drill(1u << TCR_CAUSE_HEIGHTS | 1u << TCR_CAUSE_SHORTENING);
    tcr_layering layering = tcr_layering_default();
    layering.step_mm = 3.0;
    expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
    tcr_check *check = new_check(set, NULL);
    tcr_why why;
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    expect_within(why.cause[TCR_CAUSE_HEIGHTS].last_out_mm2, -9.0, -0.01, "levelling is worse");
    expect_within(why.cause[TCR_CAUSE_SHORTENING].last_out_mm2, 0.01, 9.0, "levelling is better");
    char *table = table_of(check);
    expect_told(table, "Layering: root heights and layer shortening together hurt: ");
    expect_true(strstr(table, "shortening make up for each other:") == NULL);
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(upper_layers_that_are_longer_do_not_make_up_for_their_heights) {
    /* Against all sense: a millimetre longer for each layer up, so both lift the upper tips. */
    tcr_set *set = new_set("");
    tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    for (int layer = 1; layer < TCR_LAYERS; layer++)
        zone.layer[layer] = (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = 10.0 + layer};
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    for (int i = 0; i < 90; i++) {
        char id[16];
        snprintf(id, sizeof id, "l%d", i);
        const tcr_lash lash = tcr_lash_unknown(0.05 + 0.01 * i, (tcr_layer)(i % TCR_LAYERS));
        add_lash(set, TCR_LEFT, id, &lash, NULL);
    }
    tcr_check *check = new_check(set, NULL);
    char *table = table_of(check);
    expect_told(table, "Layering: root heights and layer shortening together hurt: ");
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(a_line_fitted_to_few_tips_has_no_causes_and_an_intended_one_has) {
    static const char words[] = "No causes to tell: too few tips";
    for (size_t carrying = 11; carrying <= 12; carrying++)
        for (int against = 0; against < 2; against++) {
            tcr_set *set = new_small(carrying);
            tcr_check *check = check_against(set, (tcr_against)against);
            char *table = table_of(check), *answer = answer_of(check);
            given("%zu lashes, against %d", carrying, against);
            /* Source: check.h, a fitted line of fewer than 12 tips is not judged. */
            const bool too_few = carrying < 12 && against == TCR_FITTED;
            expect_true((strstr(table, words) != NULL) == too_few);
            expect_true((strstr(answer, words) != NULL) == too_few);
            expect_true((strstr(table, "natural variation  ") != NULL) == !too_few);
            free(answer);
            free(table);
            tcr_check_free(check);
            tcr_set_free(set);
        }
}

int main(void) {
    static const TTest *const claims[] = {
        &figures_in_the_table_are_the_librarys_own,
        &an_eye_takes_at_most_15_lines_and_has_every_sentence,
        &layering_that_is_not_there_or_half_there_is_told_so,
        &heights_that_the_placement_makes_up_for_are_not_said_to_be_why_lengths_differ,
        &shortening_that_goes_far_beyond_the_heights_is_not_said_to_make_up_for_them,
        &upper_layers_that_are_longer_do_not_make_up_for_their_heights,
        &a_line_fitted_to_few_tips_has_no_causes_and_an_intended_one_has,
    };
    return RUN_CLAIMS("report_why_table", claims);
}
