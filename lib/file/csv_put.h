/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_CSV_PUT_H
#define TCR_FILE_CSV_PUT_H

/*
 * Cells of a CSV file (RFC 4180 but for line ends, which are LF), each with its comma in front. A
 * user's text that a spreadsheet would take for a formula gets an apostrophe; what must not reach a
 * terminal becomes \x1b or \u202e, all but tabs and line ends. A text that has apostrophes in front
 * of such a beginning gets one more, so that a reader takes one away from both.
 */
#include "file/writer.h"

#define TCR_CSV_FORMULA "=+-@\t\r" /* how a text begins that may be taken for a formula */

void tcr_csv_put_word(tcr_writer *writer, const char *word); /* a word of our own */
/* Empty where it is not finite. */
void tcr_csv_put_number(tcr_writer *writer, double number);
/* A user's text, quoted where it has to be. */
void tcr_csv_put_text(tcr_writer *writer, const char *text);
/* The same without the comma, as the first cell of a row. */
void tcr_csv_put_first(tcr_writer *writer, const char *text);

#endif
