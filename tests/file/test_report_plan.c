/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table and the CSV report of a plan. Expected numbers are the plan's own; words are this
 * project's own. The client is described: INVENTED.
 */
#include <tipcrest/file.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "file/read_report.h"
#include "support/client.h"

static char *table_of(const tcr_plan *plan, const tcr_set *set) {
    tcr_set *planned = NULL;
    tcr_plan_work *work = NULL;
    text written = {0};
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    tcr_check *before = new_check(set, NULL), *after = new_check(planned, NULL);
    expect_status(tcr_report_plan_table(plan, work, before, after, NULL, keep_text, &written),
                  TCR_OK);
    tcr_check_free(before);
    tcr_check_free(after);
    tcr_plan_work_free(work);
    tcr_set_free(planned);
    return written.bytes;
}

/* A table with every run of blanks and line ends as one blank, in its own memory. */
static void join_lines(char *table) {
    char *to = table;
    for (const char *from = table; *from != '\0'; from++) {
        const bool blank = *from == ' ' || *from == '\n';
        if (!blank || (to > table && to[-1] != ' '))
            *to++ = (char)(blank ? ' ' : *from);
    }
    *to = '\0';
}

/* The number behind some words of a text. */
static double number_behind(const char *table, const char *words) {
    const char *at = strstr(table, words);
    if (at == NULL)
        ck_abort_msg("the table lacks \"%s\":\n%s", words, table);
    return strtod(at + strlen(words), NULL);
}

CLAIM(a_printed_bound_is_a_bound) {
    enum { DECIMALS_PER_MM = 1000 };
    size_t rounded_up = 0;
    for (int i = 0; i < 12; i++) {
        tcr_set *set = tcr_make_client(NULL, 1, 30 + (size_t)i);
        tcr_plan_options o = tcr_plan_options_default();
        tcr_plan *plan = NULL;
        o.objective = i % 2 == 0 ? TCR_LEAST_SQUARES : TCR_LEAST_MAXIMUM;
        expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
        char *table = table_of(plan, set);
        join_lines(table);
        const double bound = tcr_plan_result_of(plan)->bound_mm;
        const double printed = number_behind(table, "no choice for the zones comes nearer than ");
        char nearest[32];
        snprintf(nearest, sizeof nearest, "%.3f", bound);
        given("bound %.17g, printed %.3f", bound, printed);
        /* Source: the plan's own bound; three decimals. */
        expect_true(printed <= bound && bound < printed + 1.0 / DECIMALS_PER_MM);
        rounded_up += strtod(nearest, NULL) > bound;
        free(table);
        tcr_plan_free(plan);
        tcr_set_free(set);
    }
    expect_true(rounded_up >= 3); /* else the nearest decimals would pass too */
}

/* ---- CSV --------------------------------------------------------------------------- */

static const char CSV_HEADER[] =
    "side,zone,to,layer,ext_length_mm,ext_curl,ext_diameter_mm,ext_placement,ext_fan,"
    "ext_spread_deg,lashes\n"; /* from ext_length_mm to ext_spread_deg as in test_csv.c */

/* Takes a number and the comma or the line end behind it off a row; returns what follows. */
static const char *take_number(const char *at, double expected) {
    char *end;
    expect_same(strtod(at, &end), expected, "17 digits read back as the same double (report.h)");
    expect_true(end > at && (*end == ',' || *end == '\n'));
    return end + 1;
}

static const char *take_word(const char *at, const char *expected) {
    given("\"%s\" before \"%.20s\"", expected, at);
    expect_true(strncmp(at, expected, strlen(expected)) == 0 && at[strlen(expected)] == ',');
    return at + strlen(expected) + 1;
}

static const char *take_cell(const char *at, const tcr_set *set, const tcr_plan_cell *cell) {
    static const char *const layers[] = {"bottom", "middle", "top"};
    static const char *const placements[] = {"top", "underside", "inner-side", "outer-side"};
    const tcr_choice *choice = &cell->choice;
    size_t zones;
    at = take_word(at, cell->side == TCR_LEFT ? "left" : "right");
    at = take_number(at, (double)cell->zone + 1);
    at = take_number(at, tcr_set_map(set, cell->side, &zones)[cell->zone].to);
    at = take_word(at, layers[cell->layer]);
    at = take_number(at, choice->length_mm);
    at = take_word(at, tcr_set_curl(set, choice->curl)->label);
    at = take_number(at, choice->diameter_mm);
    at = take_word(at, placements[choice->placement]);
    at = take_number(at, choice->fan);
    at = take_number(at, choice->spread_rad); /* 0: a single extension */
    return take_number(at, (double)cell->lashes);
}

CLAIM(csv_has_a_row_for_each_cell_of_each_eye) {
    tcr_set *set = tcr_make_measured(NULL, 2, 40);
    tcr_plan *plan = NULL;
    text written = {0}, stopped = {.fail_at = 1};
    tcr_csv_options form = tcr_csv_options_default();
    form.digits = 17;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_report_plan_csv(plan, set, &form, keep_text, &written), TCR_OK);
    const char *at = written.bytes;
    expect_true(strncmp(at, CSV_HEADER, strlen(CSV_HEADER)) == 0);
    at += strlen(CSV_HEADER);
    const tcr_plan_result *result = tcr_plan_result_of(plan);
    expect_true(result->cells > 6);
    for (int side = 0; side < TCR_SIDES; side++)
        for (size_t c = 0; c < result->cells; c++)
            if (result->cell[c].side == (tcr_side)side)
                at = take_cell(at, set, &result->cell[c]);
    expect_text(at, "");

    const size_t calls = written.calls;
    expect_status(tcr_report_plan_csv(NULL, set, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_plan_csv(plan, NULL, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_report_plan_csv(plan, set, NULL, NULL, NULL), TCR_E_ARGUMENT);
    form.digits = 18;
    expect_status(tcr_report_plan_csv(plan, set, &form, keep_text, &written), TCR_E_RANGE);
    expect_count(written.calls, calls);
    expect_status(tcr_report_plan_csv(plan, set, NULL, keep_text, &stopped), TCR_E_WRITE);
    expect_count(stopped.calls, 1);
    free(written.bytes);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* ---- JSON -------------------------------------------------------------------------- */

CLAIM(json_has_what_the_plan_decided_for_each_lash) {
    /* Source: plan.schema.json, in the order of tcr_use. */
    static const char *const USES[TCR_USES] = {"used",           "used-by-row", "bare-cover",
                                               "bare-condition", "bare-by-row", "bare-baby",
                                               "bare-stray",     "bare-bond",   "bare-weak"};
    tcr_set *set = tcr_make_measured(NULL, 2, 40), *planned = NULL;
    tcr_plan_options o = tcr_plan_options_default();
    tcr_plan *plan = NULL;
    tcr_plan_work *work = NULL;
    text written = {0};
    size_t of[TCR_USES] = {0};
    const tcr_lash far = {.u = 0.5, .layer = TCR_BOTTOM};
    tcr_lash lash = tcr_lash_unknown(far.u, far.layer);
    lash.height_mm = 5; /* above the top row, by more than the limit */
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a stray", &lash, NULL), TCR_OK);
    lash = tcr_lash_unknown(far.u, far.layer);
    lash.length_mm = 1.6; /* 0.7 mm off the skin, it has less than a millimetre for a bond */
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "no bond", &lash, NULL), TCR_OK);
    lash.length_mm = 3;
    expect_status(tcr_set_add_lash(set, TCR_LEFT, "a baby", &lash, NULL), TCR_OK);
    o.corrections = 3;
    o.free_mm = 5;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    tcr_check *before = new_check(set, NULL), *after = new_check(planned, NULL);
    expect_status(tcr_report_plan_json(plan, work, before, after, NULL, keep_text, &written),
                  TCR_OK);
    json_t *root = read_report(&written);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        const json_t *found = NULL;
        for (size_t e = 0; e < 2; e++)
            if (strcmp(get_text(json_array_get(get(root, "eyes"), e), "side"),
                       side == TCR_LEFT ? "left" : "right") == 0)
                found = json_array_get(get(root, "eyes"), e);
        for (size_t i = 0; i < eye->lashes; i++) {
            const json_t *lash_of = json_array_get(get(found, "lashes"), i);
            given("side %d, lash %zu", side, i);
            expect_text(get_text(lash_of, "use"), USES[eye->lash[i].use]);
            expect_member(lash_of, "deviation_mm", eye->lash[i].deviation_mm);
            expect_member(lash_of, "zone_deviation_mm", eye->lash[i].zone_deviation_mm);
            expect_member(lash_of, "better_mm", eye->lash[i].better_mm);
            expect_flag(lash_of, "corrected", eye->lash[i].corrected);
            of[eye->lash[i].use]++;
        }
    }
    expect_true(of[TCR_BARE_STRAY] > 0 && of[TCR_BARE_BOND] > 0 && of[TCR_BARE_BABY] > 0);
    /* The line at its ends: moved by the shift, and tilted about X = 0. */
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const json_t *result = get(root, "plan");
    const double shift = json_number_value(get(result, "shift_mm"));
    const double tilt = tan(json_number_value(get(result, "tilt_deg")) * 0.017453292519943295);
    expect_true(fabs(tilt) > 1e-6);
    expect_near(json_number_value(get(result, "moved_inner_mm")), shift + tilt * r->end_mm[0], 1e-9,
                "rounding of a tangent");
    expect_near(json_number_value(get(result, "moved_outer_mm")), shift + tilt * r->end_mm[1], 1e-9,
                "rounding of a tangent");
    /* Rows of the tray are counted from one. */
    const json_t *sequence = get(get(root, "work"), "sequence");
    expect_count(json_array_size(sequence), work->places);
    for (size_t p = 0; p < work->places; p++) {
        const json_t *place = json_array_get(sequence, p);
        expect_whole(place, "row", work->place[p].row + 1);
        expect_text(get_text(place, "id"),
                    tcr_set_id(set, work->place[p].side, work->place[p].lash));
    }
    json_decref(root);
    tcr_check_free(before);
    tcr_check_free(after);
    tcr_plan_work_free(work);
    tcr_plan_free(plan);
    tcr_set_free(planned);
    tcr_set_free(set);
}

/* What each report of a plan says to a plan, work and checks. */
static void expect_reports(const tcr_plan *plan, const tcr_plan_work *work, const tcr_check *before,
                           const tcr_check *after, tcr_status status) {
    text written = {0};
    expect_status(tcr_report_plan_json(plan, work, before, after, NULL, keep_text, &written),
                  status);
    expect_status(tcr_report_plan_table(plan, work, before, after, NULL, keep_text, &written),
                  status);
    expect_true(status == TCR_OK || written.calls == 0);
    free(written.bytes);
}

CLAIM(what_does_not_belong_together_is_refused) {
    tcr_set *set = tcr_make_measured(NULL, 1, 40), *other = tcr_make_measured(NULL, 1, 30);
    tcr_set *planned = NULL;
    tcr_plan *plan = NULL, *second = NULL;
    tcr_plan_work *work = NULL, *others = NULL;
    text written = {0};
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_new(set, NULL, &second, NULL), TCR_OK);
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    expect_status(tcr_plan_work_new(second, NULL, &others), TCR_OK);
    tcr_check *before = new_check(set, NULL), *after = new_check(planned, NULL);
    tcr_check *foreign = new_check(other, NULL);
    expect_reports(plan, work, before, after, TCR_OK);
    expect_reports(plan, others, before, after, TCR_E_ARGUMENT);
    expect_reports(plan, work, foreign, after, TCR_E_ARGUMENT);
    expect_reports(plan, work, before, foreign, TCR_E_ARGUMENT);
    expect_status(tcr_report_plan_csv(plan, other, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_status(tcr_set_remove_eye(planned, TCR_LEFT), TCR_OK);
    expect_reports(plan, work, before, after, TCR_E_MISSING);
    expect_count(written.calls, 0);
    tcr_check_free(before);
    tcr_check_free(after);
    tcr_check_free(foreign);
    tcr_plan_work_free(work);
    tcr_plan_work_free(others);
    tcr_plan_free(plan);
    tcr_plan_free(second);
    tcr_set *const sets[] = {set, other, planned};
    for (int i = 0; i < 3; i++)
        tcr_set_free(sets[i]);
}

CLAIM(a_check_without_eyes_has_no_report) {
    tcr_set *set = tcr_make_client(NULL, 1, 30);
    tcr_check *check = new_check(set, NULL);
    text written = {0};
    tcr_check_options bad = tcr_check_options_default();
    bad.tolerance_mm = -1.0;
    expect_status(tcr_check_again(check, set, &bad, NULL), TCR_E_RANGE);
    const tcr_status statuses[] = {
        tcr_report_json(check, NULL, keep_text, &written),
        tcr_report_csv(check, NULL, keep_text, &written),
        tcr_report_table(check, NULL, keep_text, &written),
        tcr_report_why_json(check, NULL, keep_text, &written),
        tcr_report_why_csv(check, NULL, keep_text, &written),
        tcr_report_why_table(check, true, keep_text, &written),
    };
    for (size_t i = 0; i < sizeof statuses / sizeof *statuses; i++) {
        given("report %zu", i);
        expect_status(statuses[i], TCR_E_MISSING);
    }
    expect_count(written.calls, 0);
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_printed_bound_is_a_bound,
        &csv_has_a_row_for_each_cell_of_each_eye,
        &json_has_what_the_plan_decided_for_each_lash,
        &what_does_not_belong_together_is_refused,
        &a_check_without_eyes_has_no_report,
    };
    return RUN_CLAIMS("report of a plan", claims);
}
