/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The CSV report of the level steps: a row for each member of the JSON report's 'steps'. A column
 * has the name of the JSON report behind the layer that it is of.
 */
#include <tipcrest/file.h>

#include "file/csv_put.h"
#include "file/report_step.h"

static const char *const NAMES[] = {"side",
                                    "curl",
                                    "length_mm",
                                    "bottom_placement",
                                    "middle_placement",
                                    "top_placement",
                                    "middle_step_mm",
                                    "top_step_mm",
                                    "middle_tray_mm",
                                    "top_tray_mm",
                                    "middle_left_over_mm",
                                    "top_left_over_mm",
                                    "middle_shows_from_mm",
                                    "top_shows_from_mm"};
enum { COLUMNS = sizeof NAMES / sizeof *NAMES };

/* Middle and top. */
static void put_upper(tcr_csv_put *csv, const double number[TCR_UPPER_LAYERS]) {
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        tcr_csv_put_number(csv, number[i]);
}

static void put_row(tcr_csv_put *csv, const tcr_step_range *range, const tcr_step_row *row) {
    const tcr_step step = tcr_step_answer(range, row->curl, row->length_mm, &row->placements);
    tcr_csv_put_word(csv, tcr_side_text(range->side));
    tcr_csv_put_text(csv, tcr_set_curl(range->set, row->curl)->label);
    tcr_csv_put_number(csv, row->length_mm);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        tcr_csv_put_word(csv, tcr_word(&tcr_words_placement, (int)row->placements.layer[layer]));
    put_upper(csv, step.step_mm);
    put_upper(csv, step.tray_mm);
    put_upper(csv, step.left_over_mm);
    put_upper(csv, step.shows_from_mm);
    tcr_csv_put_row_end(csv);
}

tcr_status tcr_report_step_csv(const tcr_set *set, const tcr_step_report_options *options,
                               const tcr_csv_options *form, tcr_sink sink, void *context) {
    tcr_step_range range;
    tcr_writer writer;
    tcr_csv_put csv;
    tcr_status status = tcr_step_range_of(set, options, &range);
    if (status == TCR_OK)
        status = tcr_csv_put_begin(&csv, &writer, form, TCR_CSV_REPORT_DIGITS);
    if (status != TCR_OK || sink == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    tcr_writer_begin(&writer, sink, context);
    tcr_csv_put_names(&csv, NAMES, COLUMNS);
    const size_t rows = tcr_step_row_count(&range);
    for (size_t i = 0; i < rows && writer.status == TCR_OK; i++) {
        const tcr_step_row row = tcr_step_row_at(&range, i);
        put_row(&csv, &range, &row);
    }
    return tcr_writer_end(&writer);
}
