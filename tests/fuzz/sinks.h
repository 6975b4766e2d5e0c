/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FUZZ_SINKS_H
#define TCR_TESTS_FUZZ_SINKS_H

/*
 * Sinks that keep nothing of a report but look at every byte of it. Each is begun by {0}, and after
 * the report its _end says whether that was whole.
 */

#include <stdbool.h>
#include <stddef.h>

enum { TCR_TOKEN_SIZE = 64, TCR_CELLS_MAX = 64, TCR_CELL_SIZE = 64 };

/* JSON: brackets that match, no control characters, and outside texts only true, false, null and
 * numbers that a double holds. */
typedef struct tcr_json_sink {
    size_t bytes;
    size_t nulls;
    unsigned depth;
    bool in_text, escaped;
    char token[TCR_TOKEN_SIZE];
    size_t token_bytes;
} tcr_json_sink;
int tcr_json_sink_take(void *context, const void *bytes, size_t count);
void tcr_json_sink_end(const tcr_json_sink *sink);

/* CSV: as many cells in every row as in the first, numbers or nothing in columns that have a unit
 * in their names. */
typedef struct tcr_csv_sink {
    size_t rows, columns, cells;
    bool is_number[TCR_CELLS_MAX];
    bool in_quotes, was_quote;
    char cell[TCR_CELL_SIZE]; /* its beginning */
    size_t cell_bytes;
} tcr_csv_sink;
int tcr_csv_sink_take(void *context, const void *bytes, size_t count);
void tcr_csv_sink_end(const tcr_csv_sink *sink);

/* A table for people: lines of text, no other control character. */
typedef struct tcr_table_sink {
    size_t bytes;
    char last;
} tcr_table_sink;
int tcr_table_sink_take(void *context, const void *bytes, size_t count);
void tcr_table_sink_end(const tcr_table_sink *sink);

#endif
