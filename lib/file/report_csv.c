/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The CSV report of a check: one row a lash, all eyes in one table. Behind side and id stand the
 * quantities that the table marks for it (tipcrest/column.h). An empty cell means that there is no
 * such number.
 */
#include <tipcrest/file.h>

#include <math.h>

#include <tipcrest/column.h>

#include "file/csv_put.h"
#include "file/report.h"

enum { COLUMNS_MOST = 64 };

/* The columns: the quantities of a lash that the report has, which stand first in the table. */
static size_t count_columns(const tcr_quantity *quantity) {
    size_t count = 0;
    while (count < COLUMNS_MOST && quantity[count].csv)
        count++;
    return count;
}

static void put_value(tcr_csv_put *csv, const tcr_set *set, const tcr_quantity *quantity,
                      double value) {
    if (isnan(value))
        tcr_csv_put_word(csv, NULL);
    else if (quantity->words != NULL)
        tcr_csv_put_word(csv, quantity->words[(size_t)value]);
    else if (quantity->kind == TCR_KIND_LABEL)
        tcr_csv_put_text(csv, tcr_set_curl(set, (size_t)value)->label);
    else
        tcr_csv_put_number(csv, value);
}

/* Writes the rows of an eye. */
static tcr_status put_eye(tcr_csv_put *csv, const tcr_check *check, tcr_side side,
                          const tcr_quantity *quantity, size_t columns) {
    const tcr_set *set = tcr_check_set(check);
    const size_t lashes = tcr_check_eye(check, side)->lashes;
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < lashes && status == TCR_OK && csv->writer->status == TCR_OK; i++) {
        double value[COLUMNS_MOST];
        status = tcr_check_row(check, side, i, quantity, value, columns);
        tcr_csv_put_word(csv, tcr_side_text(side));
        tcr_csv_put_text(csv, tcr_set_id(set, side, i));
        for (size_t c = 0; c < columns && status == TCR_OK; c++)
            put_value(csv, set, &quantity[c], value[c]);
        tcr_csv_put_row_end(csv);
    }
    return status;
}

tcr_status tcr_report_csv(const tcr_check *check, const tcr_csv_options *options, tcr_sink sink,
                          void *context) {
    tcr_status status = tcr_report_validate(check, sink);
    if (status != TCR_OK)
        return status;
    const tcr_quantity *quantity = tcr_quantities(NULL);
    const size_t columns = count_columns(quantity);
    tcr_writer writer;
    tcr_csv_put csv;
    status = tcr_csv_put_begin(&csv, &writer, options, TCR_CSV_REPORT_DIGITS);
    if (status != TCR_OK)
        return status;
    tcr_writer_begin(&writer, sink, context);
    tcr_csv_put_word(&csv, "side");
    tcr_csv_put_word(&csv, "id");
    for (size_t c = 0; c < columns; c++)
        tcr_csv_put_word(&csv, quantity[c].name);
    tcr_csv_put_row_end(&csv);
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(tcr_check_set(check), sides);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++)
        status = put_eye(&csv, check, sides[e], quantity, columns);
    const tcr_status written = tcr_writer_end(&writer);
    return status != TCR_OK ? status : written;
}
