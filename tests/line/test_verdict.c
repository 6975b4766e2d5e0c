/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Verdicts: their limits, and what a check says of one eye and of both. The convention of model.md,
 * section 6, common practice without a source, is the source of every word. All sets are INVENTED.
 */
#include <tipcrest/check.h>
#include <tipcrest/verdict.h>

#include <math.h>
#include <stdio.h>

#include "support/check.h"
#include "support/make.h"

CLAIM(the_words_change_at_95_and_80_per_cent) {
    static const struct {
        size_t tips, staggered;
        const char *text;
    } cases[] = {{0, 0, "not-judged"},    {1, 0, "even"},
                 {1, 1, "uneven"},        {20, 1, "even"},
                 {20, 2, "mostly-even"},  {20, 4, "mostly-even"},
                 {20, 5, "uneven"},       {100, 5, "even"},
                 {100, 6, "mostly-even"}, {100, 20, "mostly-even"},
                 {100, 21, "uneven"},     {81, 4, "even"},
                 {81, 5, "mostly-even"},  {81, 16, "mostly-even"},
                 {81, 17, "uneven"},      {100000, 100000, "uneven"},
                 {19, 1, "mostly-even"}, /* 94.7 % */
                 {4, 1, "uneven"}};      /* 75 % */
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        given("%zu of %zu", cases[i].staggered, cases[i].tips);
        expect_text(tcr_verdict_text(tcr_verdict_of(cases[i].tips, cases[i].staggered)),
                    cases[i].text);
    }
    expect_text(tcr_verdict_text((tcr_verdict)TCR_VERDICTS), "unknown");
    /* source: verdict.h, which gives these two */
    expect_text(tcr_verdict_words(TCR_MOSTLY_EVEN, TCR_FITTED), "mostly even");
    expect_text(tcr_verdict_words(TCR_MOSTLY_EVEN, TCR_INTENDED), "mostly as mapped");
    expect_text(tcr_verdict_words((tcr_verdict)TCR_VERDICTS, TCR_FITTED), "unknown");
    expect_text(tcr_verdict_words((tcr_verdict)-1, TCR_FITTED), "unknown");
    expect_text(tcr_verdict_words(TCR_EVEN, (tcr_against)9), "unknown");
}

CLAIM(two_lines_are_alike_where_they_differ_by_no_more_than_the_tolerance) {
    const tcr_symmetry near = {.max_mm = 0.5, .level_max_mm = 0.1},
                       high = {.max_mm = 0.6, .level_max_mm = 0.5},
                       other = {.max_mm = 0.6, .level_max_mm = 0.51};
    expect_text(tcr_likeness_text(tcr_likeness_of(&near, 0.5)), "alike");
    expect_text(tcr_likeness_text(tcr_likeness_of(&high, 0.5)), "alike-but-for-height");
    expect_text(tcr_likeness_text(tcr_likeness_of(&other, 0.5)), "unlike");
    expect_text(tcr_likeness_text((tcr_likeness)TCR_LIKENESSES), "unknown");
}

/* Adds an eye of level lashes of which every n-th wears 2 mm more; 0: none. */
static void add_eye(tcr_set *set, tcr_side side, size_t lashes, size_t longer) {
    const tcr_zone zone = {.to = 1, .length_mm = 10, .curl = "C"};
    expect_status(tcr_set_add_eye(set, side, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, side, &zone, 1), TCR_OK);
    for (size_t i = 0; i < lashes; i++) {
        char id[32];
        const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 12.0};
        const double u = 0.05 + 0.9 * (double)i / (double)lashes;
        const tcr_lash lash = tcr_lash_unknown(u, TCR_BOTTOM);
        snprintf(id, sizeof id, "b%zu", i);
        expect_status(
            tcr_set_add_lash(set, side, id, &lash, longer > 0 && i % longer == 1 ? &wish : NULL),
            TCR_OK);
    }
}

static tcr_check *new_check(const tcr_set *set, tcr_against against) {
    tcr_check *check = NULL;
    tcr_check_options options = tcr_check_options_default();
    options.against = against;
    expect_status(tcr_check_new(set, &options, &check, NULL), TCR_OK);
    return check;
}

CLAIM(eyes_are_judged_by_all_their_tips_together) {
    enum { LEFT = 1u << TCR_LEFT, RIGHT = 1u << TCR_RIGHT };
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    add_eye(set, TCR_LEFT, 60, 0);
    add_eye(set, TCR_RIGHT, 20, 4);
    tcr_check *check = new_check(set, TCR_FITTED);
    tcr_judgement left, right, both;
    expect_status(tcr_check_judge(check, LEFT, &left), TCR_OK);
    expect_status(tcr_check_judge(check, RIGHT, &right), TCR_OK);
    expect_status(tcr_check_judge(check, LEFT | RIGHT, &both), TCR_OK);
    expect_count(left.verdict, TCR_EVEN);
    expect_count(right.staggered, tcr_check_eye(check, TCR_RIGHT)->staggered);
    expect_count(right.verdict, TCR_UNEVEN);
    expect_count(tcr_check_eye(check, TCR_RIGHT)->verdict, TCR_UNEVEN);
    expect_count(both.lashes, 80);
    expect_count(both.tips, 80);
    expect_count(both.staggered, left.staggered + right.staggered);
    expect_count(both.verdict, tcr_verdict_of(80, both.staggered));
    const double mean_square =
        (60.0 * left.rms_mm * left.rms_mm + 20.0 * right.rms_mm * right.rms_mm) / 80.0;
    expect_near(both.rms_mm, sqrt(mean_square), 1e-15, "rounding of a root");
    expect_near(right.rms_mm, tcr_check_eye(check, TCR_RIGHT)->fitted.upright.rms_mm, 1e-15,
                "rounding of a root");
    tcr_likeness likeness;
    tcr_symmetry symmetry;
    expect_status(tcr_check_symmetry(check, &symmetry), TCR_OK);
    expect_status(tcr_check_likeness(check, &likeness), TCR_OK);
    expect_count(likeness, tcr_likeness_of(&symmetry, tcr_check_tolerance(check)));
    expect_status(tcr_check_likeness(check, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_check_likeness(NULL, &likeness), TCR_E_ARGUMENT);
    expect_same(right.within_tolerance, tcr_check_eye(check, TCR_RIGHT)->fitted.within_tolerance,
                "the same count");
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(what_cannot_be_judged_is_not) {
    tcr_judgement got = {.tips = 7};
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    add_eye(set, TCR_LEFT, 30, 0);
    add_eye(set, TCR_RIGHT, TCR_TOO_FEW - 1, 0);
    tcr_check *check = new_check(set, TCR_FITTED);
    expect_status(tcr_check_judge(check, ~0u, &got), TCR_OK);
    expect_count(got.verdict, TCR_NOT_JUDGED);
    expect_count(got.tips, 30 + TCR_TOO_FEW - 1);
    expect_nan(got.rms_mm);
    expect_nan(got.within_tolerance);
    tcr_likeness likeness = TCR_UNLIKE;
    tcr_symmetry symmetry;
    expect_status(tcr_check_symmetry(check, &symmetry), TCR_OK); /* there are two lines */
    expect_status(tcr_check_likeness(check, &likeness), TCR_E_FEW);
    expect_count(likeness, TCR_UNLIKE);
    tcr_check_free(check);
    check = new_check(set, TCR_INTENDED); /* that line does not bend to the tips */
    expect_status(tcr_check_judge(check, 1u << TCR_RIGHT, &got), TCR_OK);
    expect_true(got.verdict != TCR_NOT_JUDGED);
    const tcr_judgement before = got;
    expect_status(tcr_check_judge(check, 0, &got), TCR_E_MISSING);
    expect_status(tcr_check_judge(NULL, ~0u, &got), TCR_E_ARGUMENT);
    expect_status(tcr_check_judge(check, ~0u, NULL), TCR_E_ARGUMENT);
    expect_count(got.tips, before.tips);
    tcr_check_free(check);
    tcr_set_free(set);
}

CLAIM(an_offset_shows_from_nearer_than_where_it_spans_3_minutes_of_arc) {
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    add_eye(set, TCR_LEFT, 30, 3);
    tcr_check *check = new_check(set, TCR_FITTED);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    const double tangent = tan(3.0 / 60.0 * 3.14159265358979323846 / 180.0); /* section 6 */
    for (int v = 0; v < TCR_VIEWS; v++) {
        expect_near(eye->view_shows_from_mm[v][TCR_BOTTOM] * tangent,
                    fabs(eye->view_offset_mm[v][TCR_BOTTOM]), 1e-15, "two roundings");
        expect_nan(eye->view_shows_from_mm[v][TCR_TOP]);
    }
    tcr_check_free(check);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_words_change_at_95_and_80_per_cent,
        &two_lines_are_alike_where_they_differ_by_no_more_than_the_tolerance,
        &eyes_are_judged_by_all_their_tips_together,
        &what_cannot_be_judged_is_not,
        &an_offset_shows_from_nearer_than_where_it_spans_3_minutes_of_arc,
    };
    return RUN_CLAIMS("verdict", claims);
}
