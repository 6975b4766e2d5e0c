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
#include "file/keys.h"

/*
 * The columns in the order in which they are listed to a user: id, the fields of a lash, and with
 * ext_ in front those of a wish. The first four are required.
 */
enum { TCR_COLUMNS_MAX = 32, TCR_COLUMNS_REQUIRED = 4, TCR_COLUMN_NAME_SIZE = 32 };

typedef struct tcr_column {
    char name[TCR_COLUMN_NAME_SIZE];
    const tcr_field *field; /* NULL for the id */
    tcr_group group;        /* of the field: TCR_GROUP_LASH or TCR_GROUP_WISH */
} tcr_column;

typedef struct tcr_columns {
    tcr_column column[TCR_COLUMNS_MAX];
    size_t count;
} tcr_columns;

tcr_columns tcr_survey_columns(void);

/* What the first row says: for each place in a row, which column stands there. */
enum { TCR_COLUMN_NOTE = 255, TCR_COLUMN_UNNAMED = 254 };
typedef struct tcr_header {
    tcr_columns known;
    unsigned char *column;  /* index into known, or one of the two above */
    size_t count, capacity; /* places up to the last with a name */
    size_t written;         /* with the empty ones behind it, as spreadsheets write them */
    unsigned long number[TCR_COLUMNS_MAX]; /* number of the cell in which a column stands, 0 where
                                              it is missing */
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
                            tcr_error *error);
void tcr_survey_rows_release(const tcr_allocator *allocator, tcr_survey_rows *rows);

#endif
