/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The reports of why a set is uneven. Expected numbers are the library's own (tcr_why_of), so each
 * must come back as the same double; words are this project's own.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <stdio.h>

#include "file/drill.h"
#include "support/memory.h"

static const char *const SIDES[] = {"left", "right"};

static json_t *report_of(const tcr_check *check, const char *digest) {
    text written = {0};
    expect_status(tcr_report_why_json(check, digest, keep_text, &written), TCR_OK);
    return read_report(&written);
}

/* ---- JSON -------------------------------------------------------------------------- */

static void expect_share(const json_t *found, const tcr_share *expected) {
    expect_member(found, "shapley_mm2", expected->shapley_mm2);
    expect_member(found, "first_in_mm2", expected->first_in_mm2);
    expect_member(found, "last_out_mm2", expected->last_out_mm2);
    expect_member(found, "alone_rms_mm", expected->alone_rms_mm);
    expect_member(found, "without_rms_mm", expected->without_rms_mm);
}

static void expect_layers(const json_t *found, const tcr_why_layers *layers) {
    static const char *const lengths[] = {"one-layer", "equal", "ruled", "other"};
    static const char *const names[] = {"bottom", "middle", "top"};
    expect_names(found, "lengths worn_by_rows height_mm tip_by_height_mm tip_by_shorter_mm step_mm "
                        "equal_rms_mm ruled_rms_mm ruled_lacking");
    expect_text(get_text(found, "lengths"), lengths[layers->lengths]);
    expect_true(json_is_true(get(found, "worn_by_rows")) == layers->worn);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        expect_member(get(found, "height_mm"), names[layer], layers->height_mm[layer]);
    expect_member(found, "tip_by_height_mm", layers->tip_by_height_mm);
    expect_member(found, "tip_by_shorter_mm", layers->tip_by_shorter_mm);
    expect_member(found, "step_mm", layers->step_mm);
    expect_member(found, "equal_rms_mm", layers->equal_rms_mm);
    expect_member(found, "ruled_rms_mm", layers->ruled_rms_mm);
    expect_member(found, "ruled_lacking", (double)layers->ruled_lacking);
}

static void expect_eye(const json_t *found, const tcr_check *check, tcr_side side) {
    tcr_why why;
    expect_status(tcr_why_of(check, side, &why), TCR_OK);
    tcr_side sides[TCR_SIDES];
    const bool shared = tcr_check_against(check) == TCR_INTENDED &&
                        tcr_set_eyes(tcr_check_set(check), sides) == TCR_SIDES;
    expect_names(found, shared ? "side opening viewer_deg against lashes whole_rms_mm bare_rms_mm "
                                 "eyes_differ_mm2 layers causes layering lengths_along_lid"
                               : "side opening viewer_deg against lashes whole_rms_mm bare_rms_mm "
                                 "layers causes layering lengths_along_lid");
    expect_text(get_text(found, "side"), SIDES[side]);
    expect_member(found, "opening", tcr_check_view(check).opening);
    expect_member(found, "viewer_deg", 0.0);
    expect_text(get_text(found, "against"),
                tcr_check_against(check) == TCR_FITTED ? "fitted" : "intended");
    expect_whole(found, "lashes", why.lashes);
    expect_member(found, "whole_rms_mm", why.whole_rms_mm);
    expect_member(found, "bare_rms_mm", why.bare_rms_mm);
    if (shared) /* model.md, section 8: what the bare set keeps */
        expect_near(json_number_value(get(found, "eyes_differ_mm2")),
                    why.bare_rms_mm * why.bare_rms_mm, 1e-14, "the square of a root below 4");
    expect_layers(get(found, "layers"), &why.layers);
    expect_count(json_array_size(get(found, "causes")), TCR_CAUSES);
    for (size_t cause = 0; cause < TCR_CAUSES; cause++) {
        const json_t *share = json_array_get(get(found, "causes"), cause);
        expect_names(share, "cause shapley_mm2 first_in_mm2 last_out_mm2 alone_rms_mm "
                            "without_rms_mm");
        expect_text(get_text(share, "cause"), CAUSES[cause]);
        expect_share(share, &why.cause[cause]);
    }
    const char *const pairs[] = {"layering", "lengths_along_lid"};
    for (size_t pair = 0; pair < 2; pair++)
        expect_names(get(found, pairs[pair]),
                     "shapley_mm2 first_in_mm2 last_out_mm2 alone_rms_mm without_rms_mm");
    expect_share(get(found, "layering"), &why.layering);
    expect_share(get(found, "lengths_along_lid"), &why.lengths_along);
}

CLAIM(every_member_is_the_librarys_own) {
    tcr_set *set = new_sample();
    for (int against = 0; against < 2; against++) {
        tcr_check *check = check_against(set, (tcr_against)against);
        json_t *root = report_of(check, "sha256:00");
        expect_names(root, "tipcrest command input_digest title assumptions doubts drawn eyes");
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

CLAIM(an_eye_of_one_layer_is_told_as_such) {
    tcr_set *set = new_small(14); /* all on the bottom layer */
    tcr_check *check = new_check(set, NULL);
    json_t *root = report_of(check, NULL);
    const json_t *eye = json_array_get(get(root, "eyes"), 0);
    expect_text(get_text(get(eye, "layers"), "lengths"), "one-layer");
    expect_eye(eye, check, TCR_LEFT);
    json_decref(root);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_envelope_is_that_of_check) {
    tcr_set *set = new_sample();
    tcr_check *check = new_check(set, NULL);
    text written = {0};
    expect_status(tcr_report_json(check, NULL, keep_text, &written), TCR_OK);
    json_t *of_check = read_report(&written), *of_why = report_of(check, NULL);
    const char *const members[] = {"tipcrest", "input_digest", "title", "assumptions"};
    for (size_t i = 0; i < 4; i++)
        expect_true(json_equal(get(of_check, members[i]), get(of_why, members[i])));
    expect_true(json_array_size(get(of_why, "assumptions")) > 0);
    json_decref(of_check);
    json_decref(of_why);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(the_shares_sum_to_the_whole_less_the_bare_set) {
    /* Efficiency of Shapley's value (Shapley 1953). */
    const char *const near = "sums of 32 numbers below 4 mm2, and two squares of roots";
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
            expect_near(sum, whole * whole - bare * bare, 1e-12, near);
            json_decref(root);
            tcr_check_free(check);
        }
        tcr_set_free(set);
    }
}

/* The mean lash comes from sums, so a lash without a difference to it differs by its rounding. */
static void expect_number(const json_t *object, const char *key, double expected) {
    expect_near(json_number_value(get(object, key)), expected, 1e-13, "rounding of tips at 20 mm");
}

CLAIM(a_cause_that_a_set_cannot_have_is_zero) {
    /* Equal lengths have no shortening, all on top no placement, one zone no steps; likewise roots
     * at one height, rows that ask for nothing and lashes that are all the mean lash. */
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
                expect_number(found, "shapley_mm2", 0.0);
                expect_number(found, "first_in_mm2", 0.0);
                expect_number(found, "last_out_mm2", 0.0);
                expect_number(found, "alone_rms_mm", json_number_value(get(eye, "bare_rms_mm")));
                expect_number(found, "without_rms_mm", json_number_value(get(eye, "whole_rms_mm")));
            }
            json_decref(root);
            tcr_check_free(check);
        }
        tcr_set_free(set);
    }
}

/* The share of some causes by its definition: what they add to those before them, averaged over all
 * orders of the players; the two causes of a pair are one player. */
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
    const unsigned alone[] = {1, 2, 4, 8, 16, 32}, layering[] = {1 | 2, 4, 8, 16, 32};
    const unsigned along[] = {8 | 16, 1, 2, 4, 32};
    const char *const near = "sums of 720 differences of numbers below 4 mm2";
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
                    mean_over_orders(why.mean_square_mm2, alone, 6, cause), 1e-12, near);
    }
    expect_near(json_number_value(get(get(eye, "layering"), "shapley_mm2")),
                mean_over_orders(why.mean_square_mm2, layering, 5, 0), 1e-12, near);
    expect_near(json_number_value(get(get(eye, "lengths_along_lid"), "shapley_mm2")),
                mean_over_orders(why.mean_square_mm2, along, 5, 0), 1e-12, near);
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
    expect_names(eye, "side opening viewer_deg against lashes whole_rms_mm bare_rms_mm layers "
                      "causes layering lengths_along_lid reason");
    expect_text(get_text(eye, "reason"), reason);
    expect_true(json_is_null(get(eye, "whole_rms_mm")) && json_is_null(get(eye, "bare_rms_mm")));
    expect_true(json_is_null(get(eye, "causes")) && json_is_null(get(eye, "layering")));
    expect_true(json_is_null(get(eye, "lengths_along_lid")));
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
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    mean.length_mm = 1.5; /* less than 1 mm behind the offset of 0.7 mm */
    const char *const reasons[] = {
        "with some causes levelled out, a lash has less than 1 mm to bond to",
        "the mean lash is too short to bond to"};
    for (size_t i = 0; i < 2; i++) {
        tcr_set *set = new_small(14);
        expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
        expect_reason(set, (tcr_against)i, reasons[i]);
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

/* ---- CSV --------------------------------------------------------------------------- */

CLAIM(csv_has_a_row_for_each_cause_and_pair) {
    /* Source: the names of the JSON report; the numbers are the library's own. */
    static const char *const ROWS[] = {"root_heights", "layer_shortening", "placement",
                                       "zone_steps",   "single_choices",   "natural_variation",
                                       "layering",     "lengths_along_lid"};
    tcr_set *set = new_drill((1u << TCR_CAUSES) - 1);
    tcr_check *check = new_check(set, NULL);
    tcr_csv_options form = tcr_csv_options_default();
    text written = {0};
    tcr_why why;
    form.digits = 17;
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    expect_status(tcr_report_why_csv(check, &form, keep_text, &written), TCR_OK);
    const char *at = strchr(written.bytes, '\n') + 1;
    for (int i = 0; i < 8; i++, at = strchr(at, '\n') + 1) {
        const tcr_share *share = i < TCR_CAUSES    ? &why.cause[i]
                                 : i == TCR_CAUSES ? &why.layering
                                                   : &why.lengths_along;
        char name[40] = "", side[8] = "";
        double whole, bare, number[5];
        size_t lashes;
        given("%.90s", at);
        expect_count(sscanf(at, "%7[a-z],%zu,%lf,%lf,%39[a-z_],%lf,%lf,%lf,%lf,%lf", side, &lashes,
                            &whole, &bare, name, &number[0], &number[1], &number[2], &number[3],
                            &number[4]),
                     10);
        expect_text(side, "left");
        expect_text(name, ROWS[i]);
        expect_count(lashes, why.lashes);
        expect_same(whole, why.whole_rms_mm, "17 digits");
        expect_same(bare, why.bare_rms_mm, "17 digits");
        expect_same(number[0], share->shapley_mm2, "17 digits");
        expect_same(number[1], share->first_in_mm2, "17 digits");
        expect_same(number[2], share->last_out_mm2, "17 digits");
        expect_same(number[3], share->alone_rms_mm, "17 digits");
        expect_same(number[4], share->without_rms_mm, "17 digits");
    }
    expect_text(at, "");
    free(written.bytes);
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
    expect_status(tcr_report_why_table(check, true, keep_text, &written), TCR_E_WRITE);
    expect_count(written.calls, 2);
    expect_status(tcr_report_why_csv(check, NULL, keep_text, &written), TCR_E_WRITE);
    expect_count(written.calls, 3);
    expect_status(tcr_report_why_csv(NULL, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_csv(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_json(NULL, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_json(check, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_table(NULL, true, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_why_table(check, true, NULL, NULL), TCR_E_ARGUMENT);
    expect_count(written.calls, 3);
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
    expect_status(tcr_report_why_table(check, true, keep_text, &written), TCR_E_MEMORY);
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
        &csv_has_a_row_for_each_cause_and_pair,
        &a_sink_that_stops_is_not_called_again,
        &without_memory_nothing_is_written,
        &an_eye_of_one_layer_is_told_as_such,
    };
    return RUN_CLAIMS("report_why", claims);
}
