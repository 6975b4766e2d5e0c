/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_SURVEY_H
#define TCR_FILE_SURVEY_H

/* A survey: the natural lashes of one eye, a row each, read from CSV into a set (interface.md, "The
 * survey"). */

#include <stddef.h>
#include <stdint.h>

#include <tipcrest/alloc.h>
#include <tipcrest/set.h>

#include "file/csv.h"
#include "file/error.h"

/* Columns in the order in which they are listed to a user; the first four are required. */
enum { TCR_COLUMNS = 19, TCR_COLUMNS_REQUIRED = 4 };

typedef enum tcr_column_kind {
    TCR_COLUMN_ID,
    TCR_COLUMN_LAYER,
    TCR_COLUMN_CONDITION,
    TCR_COLUMN_LASH,      /* a number of the lash */
    TCR_COLUMN_EXTENSION, /* a number of what it wears */
    TCR_COLUMN_CURL,
    TCR_COLUMN_PLACEMENT
} tcr_column_kind;

typedef struct tcr_column {
    const char *name;
    tcr_column_kind kind;
} tcr_column;

extern const tcr_column tcr_columns[TCR_COLUMNS];

/* What the first row says: for each place in a row, which column stands there. */
enum { TCR_COLUMN_NOTE = 255, TCR_COLUMN_UNNAMED = 254 };
typedef struct tcr_header {
    unsigned char *column;  /* index into tcr_columns, or one of the two above */
    size_t count, capacity; /* places up to the last with a name */
    size_t written;         /* with the empty ones behind it, as spreadsheets write them */
    unsigned long number[TCR_COLUMNS]; /* number of the cell in which a column stands, 0 where it is
                                          missing */
} tcr_header;

/* Reads the first row and finds the separator. TCR_E_CONTENT, TCR_E_MEMORY; the header is to be
 * released. */
tcr_status tcr_header_read(const tcr_allocator *allocator, tcr_csv *csv, tcr_header *header);
void tcr_header_release(const tcr_allocator *allocator, tcr_header *header);

/* Where the rows stand that became lashes, for what shows only later. */
typedef struct tcr_survey_rows {
    uint32_t *line; /* of each lash, in their order */
    size_t count, capacity;
    unsigned long id_column,
        ext_length_column; /* number of the cell; 0 where there is no such column */
} tcr_survey_rows;

/*
 * Adds the lashes of a survey to an eye that the set has. bytes[size] must be a NUL; path is for
 * messages. TCR_E_CONTENT, TCR_E_MEMORY. rows must be {0} and is to be released also after a
 * failure.
 */
tcr_status tcr_survey_parse(const tcr_allocator *allocator, const char *bytes, size_t size,
                            const char *path, tcr_set *set, tcr_side side, tcr_survey_rows *rows,
                            tcr_file_error *error);
void tcr_survey_rows_release(const tcr_allocator *allocator, tcr_survey_rows *rows);

#endif
