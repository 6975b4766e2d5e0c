/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The CSV report of the level steps. Expected numbers are the library's own (tcr_step_of), so each
 * must come back as the same double.
 */
#include <tipcrest/file.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "file/step_rows.h"

static const char CSV_HEADER[] =
    "side,curl,length_mm,bottom_placement,middle_placement,top_placement,middle_step_mm,"
    "top_step_mm,middle_tray_mm,top_tray_mm,middle_left_over_mm,top_left_over_mm,"
    "middle_shows_from_mm,top_shows_from_mm\n"; /* the header says how names are made (file.h) */

/* Takes a number and the mark behind it off a row; returns what follows. */
static const char *take_number(const char *at, double expected) {
    char *end;
    expect_same(strtod(at, &end), expected, "17 digits read back as the same double (report.h)");
    expect_true(end > at && (*end == ',' || *end == '\n'));
    return end + 1;
}

CLAIM(rows_of_csv_are_the_librarys_own_in_the_order_of_json) {
    tcr_set *set = new_plain();
    text written = {0};
    tcr_csv_options form = tcr_csv_options_default();
    form.digits = 17;
    expect_status(tcr_report_step_csv(set, NULL, &form, keep_text, &written), TCR_OK);
    const char *at = written.bytes;
    expect_true(strncmp(at, CSV_HEADER, strlen(CSV_HEADER)) == 0);
    at += strlen(CSV_HEADER);
    for (size_t i = 0; i < CURLS * LENGTHS * PLACED; i++) {
        const size_t curl = i / (LENGTHS * PLACED);
        const double length = 8.0 + (double)(i / PLACED % LENGTHS); /* 8 to 15 mm by 1 */
        const tcr_step_question q = question_of((int)(i % PLACED), curl, length);
        tcr_step step;
        char words[100];
        given("row %zu", i);
        expect_status(tcr_step_of(set, &q, &step), TCR_OK);
        snprintf(words, sizeof words, "left,%s,%d,%s,%s,%s,", tcr_set_curl(set, curl)->label,
                 (int)length, PLACEMENTS[q.bottom], PLACEMENTS[q.middle], PLACEMENTS[q.top]);
        expect_true(strncmp(at, words, strlen(words)) == 0);
        at += strlen(words);
        const double *const numbers[] = {step.step_mm, step.tray_mm, step.left_over_mm,
                                         step.shows_from_mm};
        for (size_t k = 0; k < 8; k++)
            at = take_number(at, numbers[k / 2][k % 2]);
    }
    expect_text(at, "");
    free(written.bytes);
    tcr_set_free(set);
}

CLAIM(wrong_digits_and_null_are_refused_before_anything_is_written) {
    tcr_set *set = new_plain();
    text written = {0};
    tcr_csv_options form = tcr_csv_options_default();
    form.digits = 18;
    expect_status(tcr_report_step_csv(set, NULL, &form, keep_text, &written), TCR_E_RANGE);
    expect_status(tcr_report_step_csv(set, NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_report_step_csv(NULL, NULL, NULL, keep_text, &written), TCR_E_ARGUMENT);
    expect_count(written.calls, 0);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &rows_of_csv_are_the_librarys_own_in_the_order_of_json,
        &wrong_digits_and_null_are_refused_before_anything_is_written,
    };
    return RUN_CLAIMS("report_step_csv", claims);
}
