/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tally and time: by hand, against a plain count, and no matter in which order. */
#include "plan/tally.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"

static tcr_tally tally_of(const tcr_tally_use *uses, size_t n, size_t changes,
                          const tcr_plan_pace *pace) {
    const tcr_plan_pace usual = tcr_plan_pace_default();
    tcr_tally tally;
    expect_status(tcr_tally_new(uses, n, pace, NULL, &tally), TCR_OK);
    tcr_tally_time(&tally, changes, 0, pace != NULL ? pace : &usual);
    return tally;
}

static void expect_row(const tcr_tally_row *row, double length, const char *curl, double diameter,
                       size_t lashes, size_t fibres, size_t with_loss) {
    expect_same(row->length_mm, length, "as given");
    expect_text(row->curl, curl);
    expect_same(row->diameter_mm, diameter, "as given");
    expect_count(row->lashes, lashes);
    expect_count(row->fibres, fibres);
    expect_count(row->with_loss, with_loss);
}

CLAIM(rows_are_counted_and_come_in_order) {
    const tcr_tally_use uses[] = {
        {12.0, "C", 0.15, 1}, {9.0, "D", 0.07, 3},  {12.0, "C", 0.15, 1}, {12.0, "C", 0.12, 1},
        {9.0, "D", 0.07, 5},  {9.0, "CC", 0.07, 1}, {12.0, "C", 0.15, 1},
    };
    tcr_tally tally = tally_of(uses, 7, 0, NULL);
    /* Source: by hand; a tenth is lost, rounded up. */
    expect_count(tally.rows, 4);
    expect_row(&tally.row[0], 9.0, "CC", 0.07, 1, 1, 2);
    expect_row(&tally.row[1], 9.0, "D", 0.07, 2, 8, 9);
    expect_row(&tally.row[2], 12.0, "C", 0.12, 1, 1, 2);
    expect_row(&tally.row[3], 12.0, "C", 0.15, 3, 3, 4);
    expect_count(tally.lashes, 7);
    expect_count(tally.fibres, 13);
    expect_count(tally.with_loss, 17);
    tcr_tally_free(&tally);
    expect_true(tally.row == NULL);
}

CLAIM(the_allowance_is_rounded_up_and_not_by_rounding) {
    static tcr_tally_use uses[1000];
    for (size_t n = 1; n <= 1000; n++)
        uses[n - 1] = (tcr_tally_use){10.0, "C", 0.15, 1};
    for (size_t n = 1; n <= 1000; n++)
        for (size_t percent = 0; percent <= 100; percent++) {
            tcr_plan_pace pace = tcr_plan_pace_default();
            pace.loss_share = (double)percent / 100.0;
            given("%zu fibres, %zu %%", n, percent);
            tcr_tally tally = tally_of(uses, n > 30 && n % 37 != 0 ? 30 : n, 0, &pace);
            /* Source: whole numbers. */
            expect_count(tally.with_loss, tally.fibres + (tally.fibres * percent + 99) / 100);
            tcr_tally_free(&tally);
        }
}

CLAIM(minutes_and_drops_follow_from_the_paces) {
    static tcr_tally_use uses[160];
    for (size_t i = 0; i < 160; i++)
        uses[i] = (tcr_tally_use){10.0, "C", 0.15, 1};
    tcr_tally tally = tally_of(uses, 160, 24, NULL);
    /* Source: by hand with the defaults: 160 x 45 s and 24 x 5 s are 122 minutes. */
    expect_same(tally.placing_minutes, 122.0, "whole seconds, a whole quotient");
    expect_same(tally.minutes, 142.0, "whole numbers");
    expect_count(tally.drops, 7);
    expect_count(tally.refreshes, 6);
    tcr_tally_free(&tally);
    tally = tally_of(uses, 160, 0, NULL); /* 120 minutes, just six drops of 20 */
    expect_count(tally.drops, 6);
    tcr_tally_free(&tally);
    tcr_plan_pace quick = tcr_plan_pace_default();
    quick.drop_min = 0.1, quick.lash_s = 0.3, quick.change_s = quick.preparation_min = 0.0;
    tally = tally_of(uses, 60, 1000, &quick); /* 0.3 minutes of 0.1: neither is a double */
    expect_count(tally.drops, 3);
    expect_near(tally.minutes, 0.3, 1e-15, "rounding");
    tcr_tally_free(&tally);
    tally = tally_of(uses, 60, 0, NULL);
    const double alone = tally.placing_minutes;
    const tcr_plan_pace usual = tcr_plan_pace_default();
    tcr_tally_time(&tally, 0, 3, &usual); /* three changes of eye, 20 s each */
    expect_near(tally.placing_minutes - alone, 1.0, 1e-12, "rounding");
    tcr_tally_free(&tally);
    tally = tally_of(NULL, 0, 0, NULL);
    expect_count(tally.rows + tally.lashes + tally.drops + tally.refreshes, 0);
    expect_same(tally.minutes, 20.0, "preparation alone");
    tcr_tally_free(&tally);
}

CLAIM(lengths_that_differ_by_rounding_are_one) {
    const tcr_tally_use uses[] = {
        {0.1 * 3.0, "C", 0.15, 1}, {0.3, "D", 0.15, 1},        {0.3, "C", 0.05 * 3.0, 1},
        {0.3, "D", 0.15, 1},       {0.3 + 2e-9, "C", 0.15, 1}, {0.3, "C", 0.15 + 2e-9, 1},
    };
    tcr_tally tally = tally_of(uses, 6, 0, NULL);
    expect_count(tally.rows, 4); /* source: header */
    expect_count(tally.row[0].lashes, 2);
    expect_text(tally.row[2].curl, "D");
    expect_count(tally.row[2].lashes, 2);
    expect_same(tally.row[0].length_mm, 0.3, "the least of those that are one");
    tcr_tally_free(&tally);
}

CLAIM(the_order_of_uses_does_not_matter) {
    enum { N = 400 };
    static const char *const curls[] = {"B", "C", "CC", "D"};
    static tcr_tally_use uses[N];
    gsl_rng *rng = tcr_make_rng(71);
    for (size_t i = 0; i < N; i++)
        uses[i] = (tcr_tally_use){8.0 + 0.5 * (double)gsl_rng_uniform_int(rng, 9),
                                  curls[gsl_rng_uniform_int(rng, 4)],
                                  0.03 + 0.02 * (double)gsl_rng_uniform_int(rng, 3),
                                  (int)gsl_rng_uniform_int(rng, 5) + 1};
    tcr_tally first = tally_of(uses, N, 0, NULL);
    expect_true(first.rows > 90); /* else the claim would say little; there are 108 kinds */
    for (int trial = 0; trial < 20; trial++) {
        gsl_ran_shuffle(rng, uses, N, sizeof *uses);
        tcr_tally other = tally_of(uses, N, 0, NULL);
        expect_count(other.rows, first.rows);
        for (size_t r = 0; r < first.rows; r++) {
            const tcr_tally_row *row = &other.row[r];
            size_t lashes = 0, fibres = 0; /* source: a plain count */
            for (size_t i = 0; i < N; i++)
                if (uses[i].length_mm == row->length_mm &&
                    fabs(uses[i].diameter_mm - row->diameter_mm) < 1e-6 &&
                    strcmp(uses[i].curl, row->curl) == 0) {
                    lashes++;
                    fibres += (size_t)uses[i].fan;
                }
            given("trial %d, row %zu", trial, r);
            expect_row(row, first.row[r].length_mm, first.row[r].curl, first.row[r].diameter_mm,
                       lashes, fibres, first.row[r].with_loss);
        }
        tcr_tally_free(&other);
    }
    tcr_tally_free(&first);
    gsl_rng_free(rng);
}

CLAIM(what_is_no_use_or_pace_is_refused_and_nothing_is_written) {
    tcr_tally tally = {.rows = 77};
    const double bad[] = {NAN, INFINITY, -INFINITY, -1.0, 1e10};
    for (size_t field = 0; field < 6; field++)
        for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
            tcr_plan_pace pace = tcr_plan_pace_default();
            double *const fields[] = {&pace.loss_share, &pace.drop_min,        &pace.lash_s,
                                      &pace.change_s,   &pace.preparation_min, &pace.eye_change_s};
            *fields[field] = bad[i];
            given("pace %zu, %g", field, bad[i]);
            expect_status(tcr_tally_new(NULL, 0, &pace, NULL, &tally), TCR_E_RANGE);
        }
    tcr_plan_pace no_drop = tcr_plan_pace_default();
    no_drop.drop_min = 0.0;
    expect_status(tcr_tally_new(NULL, 0, &no_drop, NULL, &tally), TCR_E_RANGE);
    const tcr_tally_use uses[] = {{NAN, "C", 0.15, 1},
                                  {10.0, "C", INFINITY, 1},
                                  {10.0, "C", 0.15, 0},
                                  {10.0, "C", 0.15, 1001}};
    for (size_t i = 0; i < 4; i++)
        expect_status(tcr_tally_new(&uses[i], 1, NULL, NULL, &tally), TCR_E_RANGE);
    const tcr_tally_use unnamed = {10.0, NULL, 0.15, 1}, good = {10.0, "C", 0.15, 1};
    expect_status(tcr_tally_new(&unnamed, 1, NULL, NULL, &tally), TCR_E_ARGUMENT);
    expect_status(tcr_tally_new(NULL, 1, NULL, NULL, &tally), TCR_E_ARGUMENT);
    expect_status(tcr_tally_new(&good, 1, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_tally_new(&good, 1000001, NULL, NULL, &tally), TCR_E_RANGE);
    expect_count(tally.rows, 77);
    tcr_tally_free(NULL);
}

CLAIM(no_memory_is_an_error_and_leaks_nothing) {
    const tcr_tally_use uses[] = {{12.0, "C", 0.15, 1}, {9.0, "D", 0.07, 3}};
    for (size_t fail_at = 1; fail_at <= 3; fail_at++) {
        tcr_counted counted = {.fail_at = fail_at};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_tally tally = {.rows = 77};
        given("call %zu fails", fail_at);
        const tcr_status status = tcr_tally_new(uses, 2, NULL, &allocator, &tally);
        expect_status(status, fail_at <= 2 ? TCR_E_MEMORY : TCR_OK);
        expect_count(tally.rows, fail_at <= 2 ? 77 : 2);
        if (status == TCR_OK)
            tcr_tally_free(&tally);
        expect_count(counted.blocks, 0);
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &rows_are_counted_and_come_in_order,
        &the_allowance_is_rounded_up_and_not_by_rounding,
        &minutes_and_drops_follow_from_the_paces,
        &lengths_that_differ_by_rounding_are_one,
        &the_order_of_uses_does_not_matter,
        &what_is_no_use_or_pace_is_refused_and_nothing_is_written,
        &no_memory_is_an_error_and_leaks_nothing,
    };
    return RUN_CLAIMS("tally", claims);
}
