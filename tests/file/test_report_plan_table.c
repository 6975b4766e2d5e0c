/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the table of a plan says of plans of many forms. Numbers are the plan's own, taken from its
 * result; words are this project's own. The client is described and taken as measured: INVENTED.
 */
#include <tipcrest/file.h>
#include <tipcrest/text.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "file/sample.h"
#include "support/client.h"

/* The table with blanks and line ends as one blank each; what is wrong with a claim is printed. */
static char *table_of(const tcr_plan *plan, const tcr_set *set,
                      const tcr_plan_report_options *options) {
    tcr_set *planned = NULL;
    tcr_plan_work *work = NULL;
    text written = {0};
    tcr_check_options any = tcr_check_options_default();
    any.any_length = true;
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    tcr_check *before = new_check(set, &any), *after = new_check(planned, NULL);
    expect_status(tcr_report_plan_table(plan, work, before, after, options, keep_text, &written),
                  TCR_OK);
    tcr_check_free(before);
    tcr_check_free(after);
    tcr_plan_work_free(work);
    tcr_set_free(planned);
    char *to = written.bytes;
    for (const char *at = written.bytes; *at != '\0'; at++)
        if ((*at != ' ' && *at != '\n') || (to > written.bytes && to[-1] != ' '))
            *to++ = *at == '\n' ? ' ' : *at;
    *to = '\0';
    return written.bytes;
}

static void expect_says(const char *table, const char *words) {
    if (strstr(table, words) == NULL)
        ck_abort_msg("the table lacks \"%s\":\n%s", words, table);
}

static const tcr_plan_report_options *full_report(void) {
    static tcr_plan_report_options full;
    full = tcr_plan_report_options_default();
    full.full = true;
    return &full;
}

/* The plan of a measured client with two eyes; both are the caller's to free. */
static tcr_plan *plan_of(tcr_set **set, const tcr_plan_options *o) {
    tcr_plan *plan = NULL;
    *set = tcr_make_measured(NULL, 2, 40);
    expect_status(tcr_plan_new(*set, o, &plan, NULL), TCR_OK);
    return plan;
}

static void put_away(tcr_set *set, tcr_plan *plan, char *table) {
    free(table);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(cells_of_many_kinds_say_each_what_it_is) {
    tcr_set *set;
    tcr_plan_options o = tcr_plan_options_default();
    o.diameters = 2, o.diameter_mm[0] = 0.07, o.diameter_mm[1] = 0.12;
    o.fans = 2, o.fan[0] = 2, o.fan[1] = 3;
    tcr_plan *plan = plan_of(&set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    char *table = table_of(plan, set, full_report());
    expect_true(!r->one_kind);
    for (size_t c = 0; c < r->cells; c++) {
        char kind[64], number[TCR_NUMBER_SIZE];
        const tcr_choice *choice = &r->cell[c].choice;
        tcr_number_text(choice->diameter_mm, number);
        snprintf(kind, sizeof kind, choice->fan > 1 ? "%s mm, fan of %d" : "%s mm", number,
                 choice->fan);
        expect_says(table, kind);
    }
    put_away(set, plan, table);
}

CLAIM(a_plan_of_one_kind_of_fan_says_it_once) {
    tcr_set *set;
    tcr_plan_options o = tcr_plan_options_default();
    o.fans = 1, o.fan[0] = 2;
    o.diameters = 1, o.diameter_mm[0] = 0.07;
    tcr_plan *plan = plan_of(&set, &o);
    char *table = table_of(plan, set, full_report());
    expect_says(table, "Each is 0.07 mm thick, a fan of 2.");
    /* Source: plan.h, a loss of a tenth unless given. */
    expect_says(table, "To lay out, with 10 % for loss (assumed), in fibres: ");
    put_away(set, plan, table);
}

CLAIM(what_is_minimised_is_named) {
    tcr_set *set;
    char words[160];
    tcr_plan_options o = tcr_plan_options_default();
    o.objective = TCR_LEAST_MAXIMUM;
    o.samples = 7;
    tcr_plan *plan = plan_of(&set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    char *table = table_of(plan, set, full_report());
    snprintf(words, sizeof words, "zones alone: %.3f mm at most in 95 %% of the samples (assumed).",
             r->samples_max_mm);
    expect_says(table, words);
    expect_says(table, " mm at most");
    put_away(set, plan, table);
}

CLAIM(corrections_are_counted_and_what_is_left_is_told) {
    tcr_set *set;
    tcr_plan_options o = tcr_plan_options_default();
    o.corrections = 1;
    tcr_plan *plan = plan_of(&set, &o);
    char *table = table_of(plan, set, full_report());
    expect_count(tcr_plan_result_of(plan)->corrections, 1);
    expect_says(table, " 1 correction");
    put_away(set, plan, table);
    o = tcr_plan_options_default();
    o.correct_all = true;
    plan = plan_of(&set, &o);
    table = table_of(plan, set, full_report());
    expect_says(table, "What is left, neither the next size nor another placement corrects.");
    free(table);
    table = table_of(plan, set, NULL);
    expect_says(table, "; the others: --full."); /* they are more than the short table names */
    put_away(set, plan, table);
}

static bool stop(void *context, const char *phase, double share) {
    (void)context;
    (void)share;
    return strcmp(phase, "zones") != 0 && strcmp(phase, "corrections") != 0;
}

CLAIM(a_plan_that_was_stopped_says_so) {
    tcr_set *set;
    tcr_plan_options o = tcr_plan_options_default();
    o.progress = (tcr_progress){stop, NULL};
    tcr_plan *plan = plan_of(&set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    char *table = table_of(plan, set, full_report());
    expect_true(r->stopped);
    expect_says(table, r->proved ? "Stopped before every lash was looked at for a correction."
                                 : "Stopped: the best choice so far, not proved.");
    put_away(set, plan, table);
}

CLAIM(what_the_tray_lacks_of_the_rule_is_told) {
    tcr_plan *plan = NULL;
    tcr_set *set = tcr_make_measured(NULL, 1, 40);
    const tcr_tray tray = {.count = 4, .length_mm = {7, 9, 11, 13}};
    const tcr_zone zone = {.to = 1, .length_mm = 11, .curl = "C"};
    tcr_side sides[TCR_SIDES];
    expect_count(tcr_set_eyes(set, sides), 1);
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    expect_status(tcr_set_put_map(set, sides[0], &zone, 1), TCR_OK);
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    char *table = table_of(plan, set, NULL);
    /* The rule is 11/10/9, and 10 is not at hand. */
    expect_says(table, "The tray lacks 10 mm, which the rule would give.");
    put_away(set, plan, table);
}

CLAIM(a_look_in_place_of_the_map_is_told_with_its_share_of_the_eye) {
    tcr_set *set;
    char words[80];
    double width_mm = 0.0;
    tcr_plan *plan = plan_of(&set, NULL);
    tcr_plan_report_options options = tcr_plan_report_options_default();
    options.map = "The map: of this test";
    char *table = table_of(plan, set, &options);
    for (int side = 0; side < TCR_SIDES; side++)
        width_mm = fmax(width_mm, tcr_set_lid(set, (tcr_side)side)->fissure_width_mm);
    snprintf(words, sizeof words, "The map: of this test, %.2f of the eye's width",
             tcr_set_longest_mm(set) / width_mm);
    expect_says(table, words);
    put_away(set, plan, table);
}

CLAIM(the_share_within_the_tolerance_is_rounded_down) {
    tcr_set *set;
    tcr_plan_options o = tcr_plan_options_default();
    o.corrections = 4;
    tcr_plan *plan = plan_of(&set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    char *table = table_of(plan, set, full_report());
    char row[80];
    size_t cut = 0;
    for (size_t i = 0; i < r->points; i++) {
        const tcr_plan_point *p = &r->point[i];
        const double percent = floor(1000.0 * p->within_tolerance + 1e-9) / 10.0;
        if (p->corrections != 0 && p->corrections != 4)
            continue; /* the table may leave others out */
        snprintf(row, sizeof row, " %.2f %.2f %.2f %.1f %%", p->rms_mm, p->p95_mm, p->max_mm,
                 percent);
        expect_says(table, row);
        cut += 100.0 * p->within_tolerance - percent > 0.01;
    }
    expect_true(cut > 0); /* else the nearest would pass too */
    put_away(set, plan, table);
}

CLAIM(lashes_that_stay_off_the_line_are_counted_as_corrected) {
    tcr_set *set;
    char words[80];
    const tcr_plan_options o = tcr_plan_options_default();
    tcr_plan *plan = plan_of(&set, &o);
    char *table = table_of(plan, set, NULL);
    const double tolerance = tcr_set_tolerance(set);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        size_t left = 0, before = 0;
        for (size_t i = 0; i < eye->lashes; i++) {
            left += fabs(eye->lash[i].deviation_mm) > tolerance;
            before += fabs(eye->lash[i].zone_deviation_mm) > tolerance;
        }
        given("eye %d: %zu, %zu with the zone's", side, left, before);
        expect_true(left > 0 && left < before);
        snprintf(words, sizeof words, " %zu stay%s more than 0.5 mm off the line: ", left,
                 left == 1 ? "s" : "");
        expect_says(table, words);
    }
    put_away(set, plan, table);
}

/* Whether lash i is one of those that a cell chooses for. */
static bool is_of(const tcr_plan *plan, const tcr_set *set, const tcr_plan_cell *cell, size_t i) {
    const tcr_lash *lash = tcr_set_lash(set, cell->side, i);
    return tcr_plan_eye_of(plan, cell->side)->lash[i].use == TCR_USED &&
           lash->layer == cell->layer && tcr_set_zone_at(set, cell->side, lash->u) == cell->zone;
}

/* How many lashes of a cell get more than it, and how many cannot carry the least of that. */
static size_t longer_of(const tcr_plan *plan, const tcr_set *set, const tcr_plan_cell *cell,
                        size_t *weak) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, cell->side);
    const tcr_limits *limits = &tcr_plan_options_of(plan)->limits;
    tcr_choice next = cell->choice;
    size_t longer = 0;
    next.length_mm = INFINITY;
    for (size_t i = 0; i < eye->lashes; i++)
        if (is_of(plan, set, cell, i) && eye->lash[i].choice.length_mm > cell->choice.length_mm) {
            next.length_mm = fmin(next.length_mm, eye->lash[i].choice.length_mm);
            longer++;
        }
    *weak = 0;
    for (size_t i = 0; i < eye->lashes && longer > 0; i++) {
        const tcr_lash *lash = tcr_set_lash(set, cell->side, i);
        tcr_stance stance;
        expect_status(tcr_lash_stance(lash, tcr_set_lid(set, cell->side), 1.0, &stance), TCR_OK);
        *weak +=
            is_of(plan, set, cell, i) && tcr_limits_beyond(limits, set, lash, &stance, &next) != 0;
    }
    return longer;
}

CLAIM(a_few_weak_lashes_that_hold_their_zone_back_are_told) {
    static const char words[] = " cannot carry a longer one; ";
    tcr_set *set = tcr_make_measured(NULL, 1, 80);
    tcr_plan *plan = NULL;
    tcr_plan_options o = tcr_plan_options_default();
    size_t told = 0, many = 0, none = 0, found = 0;
    o.correct_all = true;
    o.limits.overlength_mm = 2.5;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    char *table = table_of(plan, set, full_report());
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    for (size_t c = 0; c < r->cells; c++) {
        char sentence[80];
        size_t weak;
        const size_t longer = longer_of(plan, set, &r->cell[c], &weak);
        given("cell %zu: %zu longer, %zu weak", c, longer, weak);
        none += longer > 1 && weak == 0;
        many += longer > 1 && weak >= longer;
        if (longer < 2 || weak == 0 || weak >= longer)
            continue;
        told++;
        snprintf(sentence, sizeof sentence, "%s%zu others get more than the zone.", words, longer);
        expect_says(table, sentence);
    }
    for (const char *at = table; (at = strstr(at, words)) != NULL; at++)
        found++;
    /* Source: this project's own words: those who are fewer are told of. */
    expect_count(found, told);
    expect_true(told > 0 && many > 0 && none > 0);
    put_away(set, plan, table);
}

CLAIM(the_map_of_eyes_that_nobody_measured_has_the_share_of_the_worse_one) {
    tcr_plan_options o = tcr_plan_options_default();
    o.samples = 6;
    tcr_set *set = tcr_make_client(NULL, 2, 40);
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    char *table = table_of(plan, set, NULL), words[80];
    const tcr_plan_over *left = &tcr_plan_eye_of(plan, TCR_LEFT)->over;
    const tcr_plan_over *right = &tcr_plan_eye_of(plan, TCR_RIGHT)->over;
    /* Whole per cents, rounded down: of counts over fewer than a thousand tips. */
    const double of[2] = {floor(100.0 * left->mapped_within + 1e-9),
                          floor(100.0 * right->mapped_within + 1e-9)};
    given("%g %% and %g %%", of[0], of[1]);
    expect_true(of[0] < of[1] || of[1] < of[0]);
    const double rms = sqrt(((double)left->tips * left->mapped_rms_mm * left->mapped_rms_mm +
                             (double)right->tips * right->mapped_rms_mm * right->mapped_rms_mm) /
                            (double)(left->tips + right->tips));
    snprintf(words, sizeof words, "The map as it stands: %.2f mm rms; %.0f %%; ", rms,
             fmin(of[0], of[1]));
    expect_says(table, words);
    put_away(set, plan, table);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_share_within_the_tolerance_is_rounded_down,
        &cells_of_many_kinds_say_each_what_it_is,
        &a_plan_of_one_kind_of_fan_says_it_once,
        &what_is_minimised_is_named,
        &corrections_are_counted_and_what_is_left_is_told,
        &a_plan_that_was_stopped_says_so,
        &what_the_tray_lacks_of_the_rule_is_told,
        &a_look_in_place_of_the_map_is_told_with_its_share_of_the_eye,
        &lashes_that_stay_off_the_line_are_counted_as_corrected,
        &a_few_weak_lashes_that_hold_their_zone_back_are_told,
        &the_map_of_eyes_that_nobody_measured_has_the_share_of_the_worse_one,
    };
    return RUN_CLAIMS("table of a plan", claims);
}
