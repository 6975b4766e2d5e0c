/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One pass over the bytes. Line ends are CR LF, LF, or CR alone, as old spreadsheets write it.
 */
#include "file/csv.h"

#include <string.h>

#include "num/utf8.h"

static bool is_end_of_line(char c) { return c == '\n' || c == '\r'; }

/* Steps over a line end; at must be on one. */
static const char *step_over(const tcr_csv *csv, const char *at) {
    return at + (at[0] == '\r' && at + 1 < csv->end && at[1] == '\n' ? 2 : 1);
}

/* Length of the blank at text: a space, a tab, or the no-break space that spreadsheets like; 0 for
 * none. */
static size_t blank_at(const char *text, const char *end) {
    if (text == end)
        return 0;
    if (*text == ' ' || *text == '\t')
        return 1;
    return end - text >= 2 && memcmp(text, "\xC2\xA0", 2) == 0 ? 2 : 0;
}

static const char *skip_blanks(const char *text, const char *end) {
    size_t length;
    while ((length = blank_at(text, end)) > 0)
        text += length;
    return text;
}

/* Line ends can stand at the ends of a cell in quotes. */
static void trim(tcr_cell *cell) {
    const char *at = cell->text, *end = cell->text + cell->bytes;
    size_t length;
    while (at < end && ((length = blank_at(at, end)) > 0 || is_end_of_line(*at)))
        at += length > 0 ? length : 1;
    while (end > at) {
        if (blank_at(end - 1, end) > 0 || is_end_of_line(end[-1]))
            end--;
        else if (end - at >= 2 && blank_at(end - 2, end) == 2)
            end -= 2;
        else
            break;
    }
    cell->text = at;
    cell->bytes = (size_t)(end - at);
}

void tcr_csv_begin(tcr_csv *csv, const char *bytes, size_t size, const char *path,
                   tcr_error *error) {
    const bool marked = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0;
    *csv = (tcr_csv){.path = path,
                     .at = bytes + (marked ? 3 : 0),
                     .end = bytes + size,
                     .separator = ',',
                     .line = 1,
                     .error = error};
}

/* A row is measured as its cells are read; this is for the lines that are skipped. */
static tcr_status fail_long_line(const tcr_csv *csv) {
    return tcr_fail(csv->error, TCR_E_CONTENT, (tcr_place){csv->path, csv->line, 1},
                    "this line is too long; it may have at most 64 kB");
}

/* The end of a comment in quotes that begins here, or NULL where the row is no such comment. A
 * quote that is never closed makes it a row, whose reader has a message for that. */
static const char *end_of_quoted_comment(const tcr_csv *csv) {
    const char *at = csv->at;
    if (csv->end - at < 2 || at[0] != '"' || at[1] != '#')
        return NULL;
    bool quoted = false, first_cell = true;
    for (; at < csv->end && (quoted || !is_end_of_line(*at)); at++) {
        if (*at == '"')
            quoted = !quoted;
        else if (!quoted && *at == csv->separator)
            first_cell = false;
        else if (csv->has_names && !first_cell && blank_at(at, csv->end) == 0)
            return NULL;
        if (at - csv->at > TCR_CSV_LINE_MAX)
            return NULL;
    }
    return quoted ? NULL : at;
}

/* The end of what is skipped at the beginning of a row: a comment, or blanks. */
static const char *end_of_skipped(const tcr_csv *csv) {
    const char *text = end_of_quoted_comment(csv);
    if (text != NULL)
        return text;
    text = skip_blanks(csv->at, csv->end);
    if (*csv->at == '#')
        while (text < csv->end && !is_end_of_line(*text))
            text++;
    return text;
}

/* Goes on behind what is skipped; a comment in quotes may hold line ends. */
static void skip_to(tcr_csv *csv, const char *end) {
    while (csv->at < end) {
        const bool ends_line = is_end_of_line(*csv->at);
        csv->at = ends_line ? step_over(csv, csv->at) : csv->at + 1;
        csv->line += ends_line;
    }
}

tcr_status tcr_csv_row(tcr_csv *csv, bool *found) {
    *found = false;
    while (csv->at < csv->end) {
        const char *text = end_of_skipped(csv);
        if (text - csv->at > TCR_CSV_LINE_MAX)
            return fail_long_line(csv);
        if (text == csv->end) {
            csv->at = text;
            break;
        }
        if (!is_end_of_line(*text)) {
            csv->row = csv->at;
            csv->cells = 0;
            csv->row_goes_on = true;
            *found = true;
            break;
        }
        skip_to(csv, step_over(csv, text));
    }
    return TCR_OK;
}

static tcr_status check_text(const tcr_csv *csv, const tcr_cell *cell) {
    const char *at = cell->text, *end = cell->text + cell->bytes;
    while (at < end) {
        uint32_t code = (unsigned char)*at;
        if (code - 1 < 0x7F) { /* nearly always */
            at++;
            continue;
        }
        if (code == 0)
            return tcr_fail(csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
                            "this cell holds a character that no text can hold (a byte 0); save "
                            "the sheet as CSV in UTF-8");
        at += tcr_utf8_next(at, &code);
        if (code == TCR_UTF8_INVALID)
            return tcr_fail(
                csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
                "this cell holds a character that is not UTF-8; save the sheet as CSV in UTF-8");
    }
    return TCR_OK;
}

/* Reads a cell in quotes; csv->at stands behind the opening one. */
static tcr_status read_quoted(tcr_csv *csv, tcr_cell *cell) {
    const char *at = csv->at;
    cell->text = at;
    for (;;) {
        if (at == csv->end || at - csv->row > TCR_CSV_LINE_MAX)
            return tcr_fail(csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
                            "the quotation mark that opens this cell is not closed%s",
                            at == csv->end ? "" : " within 64 kB");
        if (*at == '"' && at + 1 < csv->end && at[1] == '"') {
            cell->doubled = true;
            at++;
        } else if (*at == '"') {
            break;
        } else if (*at == '\n' || (*at == '\r' && at[1] != '\n')) {
            csv->line++;
        }
        at++;
    }
    cell->bytes = (size_t)(at - cell->text);
    csv->at = skip_blanks(at + 1, csv->end);
    if (csv->at < csv->end && *csv->at != csv->separator && !is_end_of_line(*csv->at))
        return tcr_fail(csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
                        "text goes on after the closing quotation mark of this cell; inside it, "
                        "write \"\" for a \"");
    return TCR_OK;
}

static tcr_status read_plain(tcr_csv *csv, tcr_cell *cell) {
    const char *at = csv->at, *end = csv->end;
    const char separator = csv->separator;
    cell->text = at;
    while (at < end && *at != separator && !is_end_of_line(*at) && *at != '"')
        at++;
    if (at < csv->end && *at == '"')
        return tcr_fail(
            csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
            "a quotation mark inside a cell; put the whole cell in quotes and double those in it");
    cell->bytes = (size_t)(at - cell->text);
    csv->at = at;
    return TCR_OK;
}

tcr_status tcr_csv_cell(tcr_csv *csv, tcr_cell *cell) {
    *cell = (tcr_cell){.line = csv->line, .column = ++csv->cells};
    const char *start = skip_blanks(csv->at, csv->end);
    tcr_status status;
    if (start < csv->end && *start == '"' && csv->separator != '"') {
        csv->at = start + 1;
        status = read_quoted(csv, cell);
    } else {
        status = read_plain(csv, cell);
    }
    if (status == TCR_OK && csv->at - csv->row > TCR_CSV_LINE_MAX)
        status = tcr_fail(csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
                          "this row is too long; it may have at most 64 kB");
    if (status == TCR_OK)
        status = check_text(csv, cell);
    if (status != TCR_OK)
        return status;
    trim(cell);
    csv->row_goes_on = csv->at < csv->end && *csv->at == csv->separator;
    if (csv->row_goes_on) {
        csv->at++;
    } else if (csv->at < csv->end) {
        csv->at = step_over(csv, csv->at);
        csv->line++;
    }
    return TCR_OK;
}

bool tcr_cell_copy(const tcr_cell *cell, char *to, size_t room) {
    size_t used = 0;
    for (size_t i = 0; i < cell->bytes; i++) {
        if (used + 1 >= room)
            return false;
        to[used++] = cell->text[i];
        if (cell->doubled && cell->text[i] == '"')
            i++;
    }
    to[used] = '\0';
    return true;
}
