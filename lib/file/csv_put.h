/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_CSV_PUT_H
#define TCR_FILE_CSV_PUT_H

/*
 * Rows and cells of a CSV file (RFC 4180 but for line ends, which are LF), in the form that
 * tcr_csv_options asks for. Every CSV file of this library is written through it.
 *
 * A user's text that a spreadsheet would take for a formula gets an apostrophe; what must not reach
 * a terminal becomes \x1b or \u202e, all but tabs and line ends. A text that has apostrophes in
 * front of such a beginning gets one more, so that a reader takes one away from both.
 */
#include <tipcrest/report.h>

#include "file/writer.h"

#define TCR_CSV_FORMULA "=+-@\t\r" /* how a text begins that may be taken for a formula */

/* A CSV file that is written cell by cell. */
typedef struct tcr_csv_put {
    tcr_writer *writer;
    char separator, decimal;
    int digits;
    bool in_row; /* the row has a cell already */
} tcr_csv_put;

enum { TCR_CSV_REPORT_DIGITS = 6, TCR_CSV_ALL_DIGITS = 17 };

/*
 * Begins at the first cell. options may be NULL for the defaults; digits is the number of digits
 * where they leave it open. The writer must have begun before the first cell. TCR_E_ARGUMENT (a
 * wrong size of options), TCR_E_RANGE (digits).
 */
tcr_status tcr_csv_put_begin(tcr_csv_put *csv, tcr_writer *writer, const tcr_csv_options *options,
                             int digits);

/* A word of our own; NULL: an empty cell. */
void tcr_csv_put_word(tcr_csv_put *csv, const char *word);
/* Empty where it is not finite. */
void tcr_csv_put_number(tcr_csv_put *csv, double number);
/* A user's text, quoted where it has to be. */
void tcr_csv_put_text(tcr_csv_put *csv, const char *text);
void tcr_csv_put_row_end(tcr_csv_put *csv);
/* The row with the names of the columns. */
void tcr_csv_put_names(tcr_csv_put *csv, const char *const *names, size_t columns);

#endif
