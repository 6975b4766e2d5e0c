/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of why a set is uneven: its figures and the sentence of each cause. Figures are the
 * library's own (tcr_why_of); words are this project's own.
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
    static const char *const names[] = {"root heights", "layer shortening", "placement",
                                        "zone steps",   "single choices",   "natural variation"};
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
            snprintf(expected, sizeof expected,
                     "Tips off the line %s: %.2f mm rms; with all six causes levelled out %.2f mm",
                     against == TCR_FITTED ? "fitted to them" : "that the map intends",
                     why.whole_rms_mm, why.bare_rms_mm);
            expect_told(table, expected);
        }
        free(table);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

/* Less than 0.1 mm, the least that an eye sees (model.md, section 6), squared counts as little. */
static int effect(double mm2) { return (mm2 > 0.01) - (mm2 < -0.01); }

/* What taking a cause out does, if it shows in the figures printed. */
static int effect_now(const tcr_share *share, const tcr_why *why) {
    char after[16], before[16];
    snprintf(after, sizeof after, "%.2f", share->without_rms_mm);
    snprintf(before, sizeof before, "%.2f", why->whole_rms_mm);
    return strcmp(after, before) == 0 ? 0 : effect(share->last_out_mm2);
}

/* How a sentence goes on after its name, by what its cause does alone and in the set as it is. */
static void write_opening(char opening[200], const tcr_share *share, int now, bool plural,
                          bool small, bool largest) {
    const int alone = effect(share->first_in_mm2);
    if (alone != 0 && alone != now)
        snprintf(opening, 200, " alone would put the tips %.2f mm off the line",
                 share->alone_rms_mm);
    else if (now > 0)
        snprintf(opening, 200, " %s the tips %soff the line%s, because ", plural ? "take" : "takes",
                 small ? "a little " : "", largest ? ", more than anything else" : "");
    else if (now < 0)
        snprintf(opening, 200, " %s the tips %sto the line: ", plural ? "bring" : "brings",
                 small ? "a little nearer " : "");
    else
        snprintf(opening, 200, " %s little here: ", plural ? "matter" : "matters");
}

typedef struct tally {
    int absent, contrast, worse, better, little;
} tally;

static void expect_sentence(const char *table, const tcr_why *why, int cause, bool has, tally *of) {
    static const struct {
        const char *name, *without;
        bool plural;
    } words[TCR_CAUSES] = {
        {"Root heights", "with all roots at the mean lash's height", true},
        {"Layer shortening", "with the bottom layer's lengths on every layer", false},
        {"Placement", "with every extension on top", false},
        {"Zone steps", "with lengths that change smoothly along the lid", true},
        {"Single choices", "with every lash as its zone and layer", true},
        {"Natural variation", "if every lash grew as the mean lash does,", false},
    };
    const tcr_share *share = &why->cause[cause];
    const int alone = effect(share->first_in_mm2), now = effect_now(share, why);
    char expected[300];
    if (!has) {
        snprintf(expected, sizeof expected, "%s%s no part: ", words[cause].name,
                 words[cause].plural ? " play" : " plays");
        expect_told(table, expected);
        of->absent++;
        return;
    }
    int largest = 0;
    for (int i = 1; i < TCR_CAUSES; i++)
        if (why->cause[i].shapley_mm2 > why->cause[largest].shapley_mm2)
            largest = i;
    const bool small = fabs(share->without_rms_mm - why->whole_rms_mm) < 0.05;
    char opening[200];
    write_opening(opening, share, now, words[cause].plural, small, largest == cause);
    snprintf(expected, sizeof expected, "%s%s", words[cause].name, opening);
    expect_told(table, expected);
    char after[16], before[16];
    snprintf(after, sizeof after, "%.2f", share->without_rms_mm);
    snprintf(before, sizeof before, "%.2f", why->whole_rms_mm);
    if (strcmp(after, before) == 0)
        snprintf(expected, sizeof expected,
                 "%s the tips would lie as far off it as they do, %s mm.", words[cause].without,
                 before);
    else
        snprintf(expected, sizeof expected, "%s the tips would lie %s mm off it instead of %s.",
                 words[cause].without, after, before);
    expect_told(table, expected);
    if (alone != 0 && alone != now)
        of->contrast++;
    else
        *(now > 0 ? &of->worse : now < 0 ? &of->better : &of->little) += 1;
}

static void expect_sentences(tcr_set *set, unsigned causes, tally *of) {
    for (int against = 0; against < 2; against++) {
        tcr_check *check = check_against(set, (tcr_against)against);
        char *table = table_of(check);
        expect_80_columns(table);
        for (int side = 0; side < TCR_SIDES; side++) {
            tcr_why why;
            if (tcr_why_of(check, (tcr_side)side, &why) == TCR_E_MISSING)
                continue;
            for (int cause = 0; cause < TCR_CAUSES; cause++) {
                given("causes %u against %d, %s", causes, against, CAUSES[cause]);
                expect_sentence(table, &why, cause, causes >> cause & 1u, of);
            }
        }
        free(table);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(each_cause_is_told_by_what_it_does_alone_and_what_taking_it_out_would_do) {
    tally of = {0};
    for (unsigned causes = 0; causes < TCR_COMBINATIONS; causes++)
        expect_sentences(new_drill(causes), causes, &of);
    expect_sentences(new_sample(), TCR_COMBINATIONS - 1u, &of);
    /* All at the outer side is nearly as even as all on top. */
    tcr_set *outside = new_drill(1u << TCR_CAUSE_HEIGHTS);
    tcr_layering layering = tcr_layering_default();
    layering.step_mm = 0.0;
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        layering.placement[layer] = TCR_OUTER_SIDE;
    expect_status(tcr_set_put_layering(outside, &layering), TCR_OK);
    expect_sentences(outside, 1u << TCR_CAUSE_HEIGHTS | 1u << TCR_CAUSE_PLACEMENT, &of);
    /* Shortening too small to show alone that makes up for a little of the heights. */
    tcr_set *a_little = new_drill(1u << TCR_CAUSE_HEIGHTS);
    const tcr_tray tray = {.count = 3, .length_mm = {11.8, 11.9, 12.0}};
    layering = tcr_layering_default();
    layering.step_mm = 0.1;
    expect_status(tcr_set_put_tray(a_little, &tray), TCR_OK);
    expect_status(tcr_set_put_layering(a_little, &layering), TCR_OK);
    expect_sentences(a_little, 1u << TCR_CAUSE_HEIGHTS | 1u << TCR_CAUSE_SHORTENING, &of);
    /* Else the claim would say less than its name. */
    given("%d absent, %d contrasts, %d worse, %d better, %d little", of.absent, of.contrast,
          of.worse, of.better, of.little);
    expect_true(of.absent > 0 && of.contrast > 0 && of.worse > 0 && of.better > 0 && of.little > 0);
}

CLAIM(a_good_layered_set_is_told_why_levelling_the_roots_alone_would_make_it_worse) {
    const unsigned both = 1u << TCR_CAUSE_HEIGHTS | 1u << TCR_CAUSE_SHORTENING;
    const unsigned others = TCR_COMBINATIONS - 1u - both;
    for (unsigned i = 0; i < 2; i++) {
        tcr_set *set = new_drill(both | (i == 0 ? 0 : others));
        tcr_check *check = new_check(set, NULL);
        tcr_why why;
        expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
        const double levelled = why.cause[TCR_CAUSE_HEIGHTS].without_rms_mm;
        expect_true(levelled > why.whole_rms_mm + 0.1); /* what model.md, section 8, says */
        expect_true(why.layering.without_rms_mm < levelled);
        char *table = table_of(check), expected[400];
        snprintf(expected, sizeof expected,
                 "Layering: root heights and shortening make up for each other here. That is why "
                 "levelling the roots alone would make it worse, %.2f mm off the line instead of "
                 "%.2f; with both levelled the tips would lie %.2f mm off it.",
                 levelled, why.whole_rms_mm, why.layering.without_rms_mm);
        expect_told(table, expected);
        free(table);
        tcr_check_free(check);
        tcr_set_free(set);
    }
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
        expect_true(strstr(table, "each other here") == NULL);
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
    expect_told(table, "Root heights alone would put the tips ");
    expect_told(table, "Layering, heights and shortening together, ");
    expect_true(strstr(table, "each other here") == NULL);
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
    expect_told(table, "Layering, heights and shortening together, takes the tips off the line, "
                       "because the two do not make up for each other: with neither of the two ");
    expect_true(strstr(table, "each other here") == NULL);
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(upper_layers_that_are_longer_are_not_called_chosen_for_their_heights) {
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
    expect_told(table, "Layering, heights and shortening together, takes the tips off the line, "
                       "because the two do not make up for each other: with neither of the two ");
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &figures_in_the_table_are_the_librarys_own,
        &each_cause_is_told_by_what_it_does_alone_and_what_taking_it_out_would_do,
        &a_good_layered_set_is_told_why_levelling_the_roots_alone_would_make_it_worse,
        &layering_that_is_not_there_or_half_there_is_told_so,
        &heights_that_the_placement_makes_up_for_are_not_said_to_be_why_lengths_differ,
        &shortening_that_goes_far_beyond_the_heights_is_not_said_to_make_up_for_them,
        &upper_layers_that_are_longer_are_not_called_chosen_for_their_heights,
    };
    return RUN_CLAIMS("report_why_table", claims);
}
