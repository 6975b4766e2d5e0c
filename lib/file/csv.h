/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_CSV_H
#define TCR_FILE_CSV_H

/*
 * CSV cell by cell (RFC 4180), over the bytes of a file and without a copy: cells in quotes may
 * hold separators, line ends and doubled quotes. Besides, as interface.md says: lines that begin
 * with # and blank lines are skipped, cells are trimmed, a byte order mark is no text.
 *
 * A spreadsheet may save a comment in quotes. A row whose first cell is quoted and begins with # is
 * a comment in front of the row of names, and behind it where all other cells are empty: an id may
 * begin with # too.
 */

#include <stdbool.h>
#include <stddef.h>

#include "file/error.h"

enum { TCR_CSV_LINE_MAX = 64 * 1000 }; /* bytes of a row, and of a line that is skipped */

typedef struct tcr_csv {
    const char *path;
    const char *at, *end; /* what is still to be read; a NUL stands at the end */
    char separator;
    unsigned long line;  /* of what is at 'at', from 1 */
    unsigned long cells; /* cells of the row that were read */
    const char *row;     /* where the row begins */
    bool row_goes_on;    /* the row has another cell */
    bool has_names;      /* the row of names was read; the caller sets it */
    tcr_error *error;
} tcr_csv;

typedef struct tcr_cell {
    const char *text; /* trimmed, without the quotes about it */
    size_t bytes;
    bool doubled;               /* quotes in it are doubled */
    unsigned long line, column; /* column: its number in the row, from 1 */
} tcr_cell;

/* Begins at the first row. bytes[size] must be a NUL. The separator is to be set before the first
 * cell. */
void tcr_csv_begin(tcr_csv *csv, const char *bytes, size_t size, const char *path,
                   tcr_error *error);

/* Goes on to the next row that is not blank and no comment; *found is false at the end. The row
 * before must be done. TCR_E_CONTENT: a line that is skipped is too long. */
tcr_status tcr_csv_row(tcr_csv *csv, bool *found);

/* Reads the next cell of a row that goes on. TCR_E_CONTENT. */
tcr_status tcr_csv_cell(tcr_csv *csv, tcr_cell *cell);

/* The place of a cell. */
static inline tcr_place tcr_cell_place(const tcr_csv *csv, const tcr_cell *cell) {
    return (tcr_place){csv->path, cell->line, cell->column};
}

/* Copies a cell's text with its quotes undoubled and a NUL behind; false if it takes more than room
 * bytes. */
bool tcr_cell_copy(const tcr_cell *cell, char *to, size_t room);

#endif
