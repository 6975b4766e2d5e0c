/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The CSV report of the causes of unevenness: a row for each cause and pair of each eye, with the
 * names of the JSON report. An eye without causes has one row with the reason.
 */
#include <tipcrest/file.h>

#include <math.h>

#include "file/csv_put.h"
#include "file/report_why.h"

static const char HEAD[] = "side,lashes,whole_rms_mm,bare_rms_mm,cause,shapley_mm2,first_in_mm2,"
                           "last_out_mm2,alone_rms_mm,without_rms_mm,reason\n";

/* The cells that every row of an eye has. */
static void put_eye(tcr_writer *writer, const tcr_eye_causes *of) {
    const bool any = of->reason == NULL;
    tcr_put(writer, tcr_side_text(of->eye->side));
    tcr_csv_put_number(writer, (double)of->eye->extended);
    tcr_csv_put_number(writer, any ? of->why.whole_rms_mm : (double)NAN);
    tcr_csv_put_number(writer, any ? of->why.bare_rms_mm : (double)NAN);
}

static void put_row(tcr_writer *writer, const tcr_eye_causes *of, const char *cause,
                    const tcr_share *share) {
    put_eye(writer, of);
    tcr_csv_put_word(writer, cause);
    tcr_csv_put_number(writer, share->shapley_mm2);
    tcr_csv_put_number(writer, share->first_in_mm2);
    tcr_csv_put_number(writer, share->last_out_mm2);
    tcr_csv_put_number(writer, share->alone_rms_mm);
    tcr_csv_put_number(writer, share->without_rms_mm);
    tcr_csv_put_word(writer, "");
    tcr_put(writer, "\n");
}

static void put_reason(tcr_writer *writer, const tcr_eye_causes *of) {
    put_eye(writer, of);
    for (int i = 0; i < 6; i++) /* cause and its five numbers */
        tcr_csv_put_word(writer, "");
    tcr_csv_put_text(writer, of->reason);
    tcr_put(writer, "\n");
}

tcr_status tcr_report_why_csv(const tcr_check *check, tcr_sink sink, void *context) {
    if (check == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_eye_causes causes[TCR_SIDES];
    size_t eyes;
    const tcr_status status = tcr_collect_causes(check, causes, &eyes);
    if (status != TCR_OK)
        return status;
    tcr_writer writer;
    tcr_writer_begin(&writer, sink, context);
    tcr_put(&writer, HEAD);
    for (size_t e = 0; e < eyes; e++) {
        const tcr_eye_causes *of = &causes[e];
        if (of->reason != NULL) {
            put_reason(&writer, of);
            continue;
        }
        for (int cause = 0; cause < TCR_CAUSES; cause++)
            put_row(&writer, of, tcr_cause_key[cause], &of->why.cause[cause]);
        put_row(&writer, of, "layering", &of->why.layering);
        put_row(&writer, of, "lengths_along_lid", &of->why.lengths_along);
    }
    return tcr_writer_end(&writer);
}
