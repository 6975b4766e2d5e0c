/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The CSV report of the causes of unevenness: a row for each cause and pair of each eye, with the
 * names of the JSON report. An eye without causes has one row with the reason.
 */
#include <tipcrest/file.h>

#include <math.h>

#include "file/csv_put.h"
#include "file/report_why.h"

static const char *const NAMES[] = {
    "side",         "lashes",       "whole_rms_mm", "bare_rms_mm",    "cause", "shapley_mm2",
    "first_in_mm2", "last_out_mm2", "alone_rms_mm", "without_rms_mm", "reason"};
enum { COLUMNS = sizeof NAMES / sizeof *NAMES };

/* The cells that every row of an eye has. */
static void put_eye(tcr_csv_put *csv, const tcr_eye_causes *of) {
    const bool any = of->reason == NULL;
    tcr_csv_put_word(csv, tcr_side_text(of->eye->side));
    tcr_csv_put_number(csv, (double)of->eye->extended);
    tcr_csv_put_number(csv, any ? of->why.whole_rms_mm : (double)NAN);
    tcr_csv_put_number(csv, any ? of->why.bare_rms_mm : (double)NAN);
}

static void put_row(tcr_csv_put *csv, const tcr_eye_causes *of, const char *cause,
                    const tcr_share *share) {
    put_eye(csv, of);
    tcr_csv_put_word(csv, cause);
    tcr_csv_put_number(csv, share->shapley_mm2);
    tcr_csv_put_number(csv, share->first_in_mm2);
    tcr_csv_put_number(csv, share->last_out_mm2);
    tcr_csv_put_number(csv, share->alone_rms_mm);
    tcr_csv_put_number(csv, share->without_rms_mm);
    tcr_csv_put_word(csv, NULL);
    tcr_csv_put_row_end(csv);
}

static void put_reason(tcr_csv_put *csv, const tcr_eye_causes *of) {
    put_eye(csv, of);
    for (int i = 0; i < 6; i++) /* cause and its five numbers */
        tcr_csv_put_word(csv, NULL);
    tcr_csv_put_text(csv, of->reason);
    tcr_csv_put_row_end(csv);
}

tcr_status tcr_report_why_csv(const tcr_check *check, const tcr_csv_options *options, tcr_sink sink,
                              void *context) {
    tcr_eye_causes causes[TCR_SIDES];
    size_t eyes;
    tcr_writer writer;
    tcr_csv_put csv;
    tcr_status status = tcr_report_validate(check, sink);
    if (status == TCR_OK)
        status = tcr_csv_put_begin(&csv, &writer, options, TCR_CSV_REPORT_DIGITS);
    if (status == TCR_OK)
        status = tcr_collect_causes(check, causes, &eyes);
    if (status != TCR_OK)
        return status;
    tcr_writer_begin(&writer, sink, context);
    tcr_csv_put_names(&csv, NAMES, COLUMNS);
    for (size_t e = 0; e < eyes; e++) {
        const tcr_eye_causes *of = &causes[e];
        if (of->reason != NULL) {
            put_reason(&csv, of);
            continue;
        }
        for (int cause = 0; cause < TCR_CAUSES; cause++)
            put_row(&csv, of, tcr_cause_key[cause], &of->why.cause[cause]);
        put_row(&csv, of, "layering", &of->why.layering);
        put_row(&csv, of, "lengths_along_lid", &of->why.lengths_along);
    }
    return tcr_writer_end(&writer);
}
