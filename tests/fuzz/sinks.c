/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sinks that look at reports. */
#include "fuzz/sinks.h"

#include <string.h>

#include "fuzz/claim.h"
#include "num/number.h"

static bool is_number(const char *text, size_t bytes) {
    double number;
    return tcr_number_parse(text, bytes, &number);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static void end_token(tcr_json_sink *sink) {
    const size_t bytes = sink->token_bytes;
    const bool is_null = bytes == 4 && memcmp(sink->token, "null", 4) == 0;
    sink->token_bytes = 0;
    sink->nulls += is_null;
    if (bytes == 0 || is_null || (bytes == 4 && memcmp(sink->token, "true", 4) == 0) ||
        (bytes == 5 && memcmp(sink->token, "false", 5) == 0))
        return;
    claim(is_number(sink->token, bytes), "\"%.*s\" in JSON", (int)bytes, sink->token);
}

static void take_json(tcr_json_sink *sink, char c) {
    claim((unsigned char)c >= 0x20 || (c == '\n' && !sink->in_text), "byte %d in JSON", c);
    if (sink->in_text) {
        sink->in_text = c != '"' || sink->escaped;
        sink->escaped = c == '\\' && !sink->escaped;
        return;
    }
    if (strchr("{}[],: \n\"", c) == NULL) {
        claim(sink->token_bytes < TCR_TOKEN_SIZE, "\"%.*s...\" in JSON", TCR_TOKEN_SIZE,
              sink->token);
        sink->token[sink->token_bytes++] = c;
        return;
    }
    end_token(sink);
    sink->in_text = c == '"';
    if (c == '{' || c == '[')
        sink->depth++;
    if (c == '}' || c == ']') {
        claim(sink->depth > 0, "%c in JSON, byte %zu, closes nothing", c, sink->bytes);
        sink->depth--;
    }
}

int tcr_json_sink_take(void *context, const void *bytes, size_t count) {
    tcr_json_sink *sink = context;
    const char *text = bytes;
    for (size_t i = 0; i < count; i++, sink->bytes++)
        take_json(sink, text[i]);
    return 0;
}

void tcr_json_sink_end(const tcr_json_sink *sink) {
    claim(sink->bytes > 0 && sink->depth == 0 && !sink->in_text && sink->token_bytes == 0,
          "the JSON ends after %zu bytes at depth %u", sink->bytes, sink->depth);
}

/* ---- CSV ------------------------------------------------------------------------------------- */

static bool ends_with(const tcr_csv_sink *sink, const char *ending) {
    const size_t bytes = strlen(ending);
    return sink->cell_bytes >= bytes && sink->cell_bytes <= TCR_CELL_SIZE &&
           memcmp(sink->cell + sink->cell_bytes - bytes, ending, bytes) == 0;
}

static void end_cell(tcr_csv_sink *sink) {
    const size_t bytes = sink->cell_bytes < TCR_CELL_SIZE ? sink->cell_bytes : TCR_CELL_SIZE;
    claim(sink->cells < TCR_CELLS_MAX, "a row of the CSV has %zu cells", sink->cells + 1);
    if (sink->rows == 0)
        sink->is_number[sink->cells] =
            ends_with(sink, "_mm") || ends_with(sink, "_deg") || ends_with(sink, "_fan");
    else if (sink->is_number[sink->cells])
        claim(bytes == 0 || is_number(sink->cell, bytes), "\"%.*s\" in cell %zu of row %zu",
              (int)bytes, sink->cell, sink->cells + 1, sink->rows + 1);
    sink->cells++;
    sink->cell_bytes = 0;
    sink->was_quote = false;
}

static void end_row(tcr_csv_sink *sink) {
    if (sink->rows == 0)
        sink->columns = sink->cells;
    claim(sink->cells == sink->columns, "row %zu has %zu cells, the first %zu", sink->rows + 1,
          sink->cells, sink->columns);
    sink->cells = 0;
    sink->rows++;
}

static void take_csv(tcr_csv_sink *sink, char c) {
    if (sink->in_quotes) {
        sink->in_quotes = c != '"';
        sink->was_quote = c == '"';
        sink->cell_bytes++; /* of a text, which is not kept */
        return;
    }
    if (c == '"') {
        claim(sink->cell_bytes == 0 || sink->was_quote, "a quotation mark inside a plain cell");
        sink->in_quotes = true;
        return;
    }
    if (c != ',' && c != '\n') {
        claim(!sink->was_quote, "text behind the closing quotation mark");
        if (sink->cell_bytes < TCR_CELL_SIZE)
            sink->cell[sink->cell_bytes] = c;
        sink->cell_bytes++;
        return;
    }
    end_cell(sink);
    if (c == '\n')
        end_row(sink);
}

int tcr_csv_sink_take(void *context, const void *bytes, size_t count) {
    tcr_csv_sink *sink = context;
    const char *text = bytes;
    for (size_t i = 0; i < count; i++)
        take_csv(sink, text[i]);
    return 0;
}

void tcr_csv_sink_end(const tcr_csv_sink *sink) {
    claim(sink->rows > 1 && sink->cells == 0 && sink->cell_bytes == 0 && !sink->in_quotes,
          "the CSV ends in row %zu, cell %zu", sink->rows + 1, sink->cells + 1);
}

/* ---- Tables ---------------------------------------------------------------------------------- */

int tcr_table_sink_take(void *context, const void *bytes, size_t count) {
    tcr_table_sink *sink = context;
    const char *text = bytes;
    for (size_t i = 0; i < count; i++, sink->bytes++) {
        const unsigned char c = (unsigned char)text[i];
        claim((c >= 0x20 && c != 0x7f) || c == '\n', "byte %d in a table", c);
        sink->last = text[i];
    }
    return 0;
}

void tcr_table_sink_end(const tcr_table_sink *sink) {
    claim(sink->last == '\n', "the table of %zu bytes has no last line", sink->bytes);
}
