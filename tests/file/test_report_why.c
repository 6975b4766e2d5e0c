/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The reports of why a set is uneven. Expected numbers are the library's own (tcr_why_of), so each
 * must come back as the same double; words are this project's own.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <stdio.h>

#include "file/read_report.h"
#include "file/sample.h"
#include "support/memory.h"

static const char *const CAUSES[TCR_CAUSES] = {"root_heights", "layer_shortening", "placement",
                                               "zone_steps", "natural_variation"};
static const char *const SIDES[] = {"left", "right"};

/* An invented eye of 90 lashes; a bit for each cause that it is to have. */
static tcr_set *new_drill(unsigned causes) {
    tcr_set *set = new_set("");
    tcr_layering layering = tcr_layering_default();
    const bool placed = causes >> TCR_CAUSE_PLACEMENT & 1u;
    layering.step_mm = causes >> TCR_CAUSE_SHORTENING & 1u ? 1.0 : 0.0;
    layering.placement[TCR_BOTTOM] = placed ? TCR_ON_TOP : TCR_OUTER_SIDE;
    layering.placement[TCR_MIDDLE] = TCR_OUTER_SIDE;
    layering.placement[TCR_TOP] = placed ? TCR_UNDERSIDE : TCR_OUTER_SIDE;
    const tcr_zone one = {.to = 1, .length_mm = 12, .curl = "C"};
    const tcr_zone three[] = {{.to = 0.3, .length_mm = 10, .curl = "C"},
                              {.to = 0.7, .length_mm = 12, .curl = "C"},
                              {.to = 1, .length_mm = 11, .curl = "C"}};
    const bool zones = causes >> TCR_CAUSE_ZONES & 1u;
    expect_status(tcr_set_layering(set, &layering), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_map(set, TCR_LEFT, zones ? three : &one, zones ? 3 : 1), TCR_OK);
    for (int i = 0; i < 90; i++) {
        char id[16];
        snprintf(id, sizeof id, "d%d", i);
        tcr_lash lash = tcr_lash_default(0.05 + 0.01 * i, (tcr_layer)(i % TCR_LAYERS));
        if (!(causes >> TCR_CAUSE_HEIGHTS & 1u))
            lash.height_mm = 1.0;
        if (causes >> TCR_CAUSE_VARIATION & 1u)
            lash.turn_rad += tcr_degrees(i * 7 % 21 - 10);
        add_lash(set, TCR_LEFT, id, &lash, NULL);
    }
    return set;
}

static tcr_check *check_against(const tcr_set *set, tcr_against against) {
    tcr_check_options options = tcr_check_options_default();
    options.against = against;
    return new_check(set, &options);
}

static json_t *report_of(const tcr_check *check, const char *digest) {
    text written = {0};
    expect_status(tcr_report_why_json(check, digest, keep_text, &written), TCR_OK);
    return read_report(&written);
}

static char *table_of(const tcr_check *check) {
    text written = {0};
    expect_status(tcr_report_why_table(check, keep_text, &written), TCR_OK);
    return written.bytes;
}

/* ---- JSON -------------------------------------------------------------------------- */

static void expect_share(const json_t *found, const tcr_share *expected) {
    expect_member(found, "shapley_mm2", expected->shapley_mm2);
    expect_member(found, "first_in_mm2", expected->first_in_mm2);
    expect_member(found, "last_out_mm2", expected->last_out_mm2);
    expect_member(found, "alone_rms_mm", expected->alone_rms_mm);
    expect_member(found, "without_rms_mm", expected->without_rms_mm);
}

static void expect_eye(const json_t *found, const tcr_check *check, tcr_side side) {
    tcr_why why;
    expect_status(tcr_why_of(check, side, &why), TCR_OK);
    expect_names(found, "side opening viewer_deg against lashes whole_rms_mm bare_rms_mm causes "
                        "layering");
    expect_text(get_text(found, "side"), SIDES[side]);
    expect_member(found, "opening", tcr_check_view(check).opening);
    expect_member(found, "viewer_deg", 0.0);
    expect_text(get_text(found, "against"),
                tcr_check_against(check) == TCR_FITTED ? "fitted" : "intended");
    expect_whole(found, "lashes", why.lashes);
    expect_member(found, "whole_rms_mm", why.whole_rms_mm);
    expect_member(found, "bare_rms_mm", why.bare_rms_mm);
    expect_count(json_array_size(get(found, "causes")), TCR_CAUSES);
    for (size_t cause = 0; cause < TCR_CAUSES; cause++) {
        const json_t *share = json_array_get(get(found, "causes"), cause);
        expect_names(share, "cause shapley_mm2 first_in_mm2 last_out_mm2 alone_rms_mm "
                            "without_rms_mm");
        expect_text(get_text(share, "cause"), CAUSES[cause]);
        expect_share(share, &why.cause[cause]);
    }
    expect_names(get(found, "layering"),
                 "shapley_mm2 first_in_mm2 last_out_mm2 alone_rms_mm without_rms_mm");
    expect_share(get(found, "layering"), &why.layering);
}

CLAIM(every_member_is_the_librarys_own) {
    tcr_set *set = new_sample();
    for (int against = 0; against < 2; against++) {
        tcr_check *check = check_against(set, (tcr_against)against);
        json_t *root = report_of(check, "sha256:00");
        expect_names(root, "tipcrest command input_digest title assumptions eyes");
        expect_text(get_text(get(root, "tipcrest"), "version"), tcr_version());
        expect_whole(get(root, "tipcrest"), "format", 1); /* interface.md */
        expect_text(get_text(root, "command"), "why");
        expect_text(get_text(root, "input_digest"), "sha256:00");
        expect_text(get_text(root, "title"), SAMPLE_TITLE);
        expect_count(json_array_size(get(root, "eyes")), 2);
        for (size_t side = 0; side < 2; side++)
            expect_eye(json_array_get(get(root, "eyes"), side), check, (tcr_side)side);
        json_decref(root);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

CLAIM(the_envelope_is_that_of_check) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    text written = {0};
    expect_status(tcr_report_json(check, NULL, keep_text, &written), TCR_OK);
    json_t *of_check = read_report(&written), *of_why = report_of(check, NULL);
    const char *const members[] = {"tipcrest", "input_digest", "title", "assumptions"};
    for (size_t i = 0; i < 4; i++) {
        given("member %s", members[i]);
        expect_true(json_equal(get(of_check, members[i]), get(of_why, members[i])));
    }
    expect_true(json_array_size(get(of_why, "assumptions")) > 0);
    json_decref(of_check);
    json_decref(of_why);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_shares_sum_to_the_whole_less_the_bare_set) {
    /* Efficiency of Shapley's value (Shapley 1953). */
    const char *why = "sums of 32 numbers below 4 mm2, and two squares of roots";
    for (unsigned causes = 0; causes < TCR_COMBINATIONS; causes++) {
        tcr_set *set = new_drill(causes);
        for (int against = 0; against < 2; against++) {
            tcr_check *check = check_against(set, (tcr_against)against);
            json_t *root = report_of(check, NULL);
            const json_t *eye = json_array_get(get(root, "eyes"), 0);
            const double whole = json_number_value(get(eye, "whole_rms_mm"));
            const double bare = json_number_value(get(eye, "bare_rms_mm"));
            double sum = 0.0;
            for (size_t cause = 0; cause < TCR_CAUSES; cause++)
                sum += json_number_value(
                    get(json_array_get(get(eye, "causes"), cause), "shapley_mm2"));
            given("causes %u", causes);
            expect_near(sum, whole * whole - bare * bare, 1e-12, why);
            json_decref(root);
            tcr_check_free(check);
        }
        tcr_set_free(set);
    }
}

CLAIM(a_cause_that_a_set_cannot_have_is_zero) {
    /* Equal lengths have no shortening, all at the outer side no placement, one zone no steps;
     * likewise roots at one height and lashes that are all the mean lash. */
    const unsigned all = TCR_COMBINATIONS - 1u;
    for (unsigned lacking = 0; lacking < TCR_CAUSES; lacking++) {
        tcr_set *set = new_drill(all & ~(1u << lacking));
        for (int against = 0; against < 2; against++) {
            tcr_check *check = check_against(set, (tcr_against)against);
            json_t *root = report_of(check, NULL);
            const json_t *eye = json_array_get(get(root, "eyes"), 0);
            for (unsigned cause = 0; cause < TCR_CAUSES; cause++) {
                const json_t *found = json_array_get(get(eye, "causes"), cause);
                given("%s in a set without %s", CAUSES[cause], CAUSES[lacking]);
                if (cause != lacking) {
                    expect_true(fabs(json_number_value(get(found, "shapley_mm2"))) > 1e-6);
                    continue;
                }
                expect_member(found, "shapley_mm2", 0.0);
                expect_member(found, "first_in_mm2", 0.0);
                expect_member(found, "last_out_mm2", 0.0);
                expect_member(found, "alone_rms_mm", json_number_value(get(eye, "bare_rms_mm")));
                expect_member(found, "without_rms_mm", json_number_value(get(eye, "whole_rms_mm")));
            }
            json_decref(root);
            tcr_check_free(check);
        }
        tcr_set_free(set);
    }
}

/* The share of some causes by its definition: what they add to those before them, averaged over all
 * orders of the players; layering's two causes are one player. */
static double mean_over_orders(const double *value, const unsigned *player, int players, int of) {
    double sum = 0.0;
    int orders = 0, order[TCR_CAUSES] = {0};
    for (;;) { /* every word of that many letters; orders are those without a letter twice */
        unsigned seen = 0, before = 0, met = 0;
        for (int i = 0; i < players; i++) {
            before = order[i] == of ? seen : before;
            seen |= player[order[i]];
            met |= 1u << order[i];
        }
        if (met == (1u << players) - 1u) {
            sum += value[before | player[of]] - value[before];
            orders++;
        }
        int i = 0;
        while (i < players && ++order[i] == players)
            order[i++] = 0;
        if (i == players)
            return sum / orders;
    }
}

CLAIM(a_share_is_the_mean_over_all_orders) {
    const unsigned alone[] = {1, 2, 4, 8, 16}, joint[] = {1 | 2, 4, 8, 16};
    const char *why_near = "sums of 120 differences of numbers below 4 mm2";
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    tcr_why why;
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    json_t *root = report_of(check, NULL);
    const json_t *eye = json_array_get(get(root, "eyes"), 0);
    for (int cause = 0; cause < TCR_CAUSES; cause++) {
        const json_t *found = json_array_get(get(eye, "causes"), (size_t)cause);
        given("%s", CAUSES[cause]);
        expect_near(json_number_value(get(found, "shapley_mm2")),
                    mean_over_orders(why.mean_square_mm2, alone, 5, cause), 1e-13, why_near);
    }
    expect_near(json_number_value(get(get(eye, "layering"), "shapley_mm2")),
                mean_over_orders(why.mean_square_mm2, joint, 4, 0), 1e-13, why_near);
    json_decref(root);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(levelling_out_a_cause_is_as_if_the_set_did_not_have_it) {
    /* A drill without a cause is the whole drill with that cause levelled out, but for zones, whose
     * lengths are then not 12 mm everywhere. So a check of it must find the same. */
    const unsigned all = TCR_COMBINATIONS - 1u, zones = 1u << TCR_CAUSE_ZONES;
    tcr_set *set = new_drill(all);
    for (int against = 0; against < 2; against++) {
        tcr_check *check = check_against(set, (tcr_against)against);
        tcr_why why;
        expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
        for (unsigned causes = 0; causes <= all; causes++) {
            if (!(causes & zones))
                continue;
            tcr_set *less = new_drill(causes);
            tcr_check *of_less = check_against(less, (tcr_against)against);
            const tcr_eye_result *eye = tcr_check_eye(of_less, TCR_LEFT);
            const double rms =
                (against == TCR_FITTED ? &eye->fitted : &eye->intended)->upright.rms_mm;
            given("causes %u against %d", causes, against);
            expect_near(sqrt(why.mean_square_mm2[causes]), rms, 1e-9, "the contract; model.md");
            tcr_check_free(of_less);
            tcr_set_free(less);
        }
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

/* ---- Where there are no causes ----------------------------------------------------- */

static void expect_reason(tcr_set *set, tcr_against against, const char *reason) {
    tcr_check *check = check_against(set, against);
    json_t *root = report_of(check, NULL);
    const json_t *eye = json_array_get(get(root, "eyes"), 0);
    expect_names(eye, "side opening viewer_deg against lashes whole_rms_mm bare_rms_mm causes "
                      "layering reason");
    expect_text(get_text(eye, "reason"), reason);
    expect_true(json_is_null(get(eye, "whole_rms_mm")) && json_is_null(get(eye, "bare_rms_mm")));
    expect_true(json_is_null(get(eye, "causes")) && json_is_null(get(eye, "layering")));
    expect_whole(eye, "lashes", tcr_check_eye(check, TCR_LEFT)->extended);
    json_decref(root);
    char *table = table_of(check);
    char expected[200];
    snprintf(expected, sizeof expected, "No causes to tell, because %s ", reason);
    expect_told(table, expected);
    expect_true(strstr(table, "How to read") == NULL);
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(an_eye_without_a_line_has_null_and_the_reason) {
    expect_reason(new_small(0), TCR_FITTED, "no lash carries an extension");
    expect_reason(new_small(0), TCR_INTENDED, "no lash carries an extension");
    expect_reason(new_small(2), TCR_FITTED, "fewer than three lashes carry an extension");
}

CLAIM(a_mean_lash_that_is_too_short_is_told_as_the_reason) {
    tcr_lash mean = tcr_lash_default(0.5, TCR_BOTTOM);
    mean.length_mm = 1.5; /* less than 1 mm behind the offset of 0.7 mm */
    mean.assumed &= ~(unsigned)TCR_LASH_LENGTH;
    const char *const reasons[] = {
        "with some causes levelled out, a lash has less than 1 mm to bond to",
        "the mean lash is too short to bond to"};
    for (int against = 0; against < 2; against++) {
        tcr_set *set = new_small(14);
        expect_status(tcr_set_mean_lash(set, &mean), TCR_OK);
        expect_reason(set, (tcr_against)against, reasons[against]);
    }
}

CLAIM(one_eye_without_a_line_leaves_the_other_its_causes) {
    tcr_set *set = new_small(2);
    add_eye(set, TCR_RIGHT);
    add_lashes(set, TCR_RIGHT, 71);
    tcr_check *check = new_check(set, NULL);
    json_t *root = report_of(check, NULL);
    expect_true(json_is_null(get(json_array_get(get(root, "eyes"), 0), "causes")));
    expect_eye(json_array_get(get(root, "eyes"), 1), check, TCR_RIGHT);
    json_decref(root);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* ---- The table --------------------------------------------------------------------- */

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
                                        "zone steps", "natural variation"};
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
            char expected[200];
            snprintf(expected, sizeof expected,
                     "Tips off the line %s: %.2f mm rms; with all five causes levelled out %.2f mm",
                     against == TCR_FITTED ? "fitted to them" : "that the map intends",
                     why.whole_rms_mm, why.bare_rms_mm);
            expect_told(table, expected);
        }
        free(table);
        tcr_check_free(check);
    }
    tcr_set_free(set);
}

/* Effects of less than a hundredth of a square millimetre count as little: 0.1 mm, the least that
 * an eye sees (model.md, section 6), squared. */
static int effect(double mm2) { return (mm2 > 0.01) - (mm2 < -0.01); }

/* How a sentence goes on after its name, by what its cause does alone and in the set as it is. */
static void write_opening(char opening[200], const tcr_share *share, bool plural, bool small,
                          bool largest) {
    const int alone = effect(share->first_in_mm2), now = effect(share->last_out_mm2);
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
        {"Root heights", "with all roots at one height", true},
        {"Layer shortening", "with the bottom layer's lengths on every layer", false},
        {"Placement", "with every extension at the outer side", false},
        {"Zone steps", "with lengths that change smoothly along the lid", true},
        {"Natural variation", "if every lash grew as the mean lash does,", false},
    };
    const tcr_share *share = &why->cause[cause];
    const int alone = effect(share->first_in_mm2), now = effect(share->last_out_mm2);
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
    write_opening(opening, share, words[cause].plural, small, largest == cause);
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
    /* All on top is nearly as even as all at the outer side. */
    tcr_set *on_top = new_drill(1u << TCR_CAUSE_HEIGHTS);
    tcr_layering layering = tcr_layering_default();
    layering.step_mm = 0.0;
    expect_status(tcr_set_layering(on_top, &layering), TCR_OK);
    expect_sentences(on_top, 1u << TCR_CAUSE_HEIGHTS | 1u << TCR_CAUSE_PLACEMENT, &of);
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
                 "Layering: the shortening on the upper layers was chosen for the heights of their "
                 "roots. That is why levelling the roots alone would make it worse, %.2f mm off "
                 "the line instead of %.2f: level roots ask for equal lengths, and with both "
                 "levelled the tips would lie %.2f mm off it.",
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
        expect_true(strstr(table, "was chosen for") == NULL);
        free(table);
        tcr_check_free(check);
        tcr_set_free(set);
    }
}

CLAIM(upper_layers_that_are_longer_are_not_called_chosen_for_their_heights) {
    /* Against all sense: a millimetre longer for each layer up, so both lift the upper tips. */
    tcr_set *set = new_set("");
    tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    for (int layer = 1; layer < TCR_LAYERS; layer++)
        zone.layer[layer] = (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = 10.0 + layer};
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_map(set, TCR_LEFT, &zone, 1), TCR_OK);
    for (int i = 0; i < 90; i++) {
        char id[16];
        snprintf(id, sizeof id, "l%d", i);
        const tcr_lash lash = tcr_lash_default(0.05 + 0.01 * i, (tcr_layer)(i % TCR_LAYERS));
        add_lash(set, TCR_LEFT, id, &lash, NULL);
    }
    tcr_check *check = new_check(set, NULL);
    char *table = table_of(check);
    expect_told(table, "Layering, heights and shortening together, takes the tips off the line, "
                       "because the one does not make up for the other: with neither of the two ");
    free(table);
    tcr_check_free(check);
    tcr_set_free(set);
}

/* ---- Failures ---------------------------------------------------------------------- */

CLAIM(a_sink_that_stops_is_not_called_again) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    text written = {.fail_at = 1};
    expect_status(tcr_report_why_json(check, NULL, keep_text, &written), TCR_E_WRITE);
    expect_count(written.calls, 1);
    expect_status(tcr_report_why_table(check, keep_text, &written), TCR_E_WRITE);
    expect_count(written.calls, 2);
    expect_status(tcr_report_why_json(NULL, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_json(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_table(NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_table(check, NULL, NULL), TCR_E_ARGUMENT);
    expect_count(written.calls, 2);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(without_memory_nothing_is_written) {
    tcr_counted counted = {0};
    const tcr_allocator allocator = tcr_counted_allocator(&counted);
    tcr_set *set;
    expect_status(tcr_set_new(&allocator, &set), TCR_OK);
    add_eye(set, TCR_LEFT);
    add_lashes(set, TCR_LEFT, 96);
    tcr_check *check = new_check(set, NULL);
    counted.fail_at = counted.calls + 1;
    text written = {0};
    expect_status(tcr_report_why_json(check, NULL, keep_text, &written), TCR_E_MEMORY);
    expect_status(tcr_report_why_table(check, keep_text, &written), TCR_E_MEMORY);
    expect_count(written.calls, 0);
    tcr_check_free(check);
    tcr_set_free(set);
    expect_count(counted.blocks, 0);
}

int main(void) {
    static const TTest *const claims[] = {
        &every_member_is_the_librarys_own,
        &the_envelope_is_that_of_check,
        &the_shares_sum_to_the_whole_less_the_bare_set,
        &a_cause_that_a_set_cannot_have_is_zero,
        &a_share_is_the_mean_over_all_orders,
        &levelling_out_a_cause_is_as_if_the_set_did_not_have_it,
        &an_eye_without_a_line_has_null_and_the_reason,
        &a_mean_lash_that_is_too_short_is_told_as_the_reason,
        &one_eye_without_a_line_leaves_the_other_its_causes,
        &figures_in_the_table_are_the_librarys_own,
        &each_cause_is_told_by_what_it_does_alone_and_what_taking_it_out_would_do,
        &a_good_layered_set_is_told_why_levelling_the_roots_alone_would_make_it_worse,
        &layering_that_is_not_there_or_half_there_is_told_so,
        &upper_layers_that_are_longer_are_not_called_chosen_for_their_heights,
        &a_sink_that_stops_is_not_called_again,
        &without_memory_nothing_is_written,
    };
    return RUN_CLAIMS("report_why", claims);
}
