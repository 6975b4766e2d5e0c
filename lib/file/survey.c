/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A survey row by row. The cells of a row are found first, so that a wrong number of them is told
 * before what is in them; then they are read into a lash and what its row asks for. The bytes are
 * passed over once and nothing is kept of them but the lashes and their lines.
 */
#include "file/survey.h"

#include <string.h>

#include "file/csv_put.h"
#include "file/curl_name.h"
#include "file/keys.h"
#include "num/memory.h"
#include "num/printable.h"

/* What the reading of one survey needs. */
typedef struct reading {
    tcr_csv csv;
    tcr_header header;
    tcr_cell *cells; /* of one row, header.count of them */
    tcr_set *set;
    tcr_side side;
    tcr_error *error;
} reading;

/* A row as it was read. */
typedef struct survey_row {
    char id[TCR_ID_SIZE_MAX], curl[TCR_LABEL_SIZE];
    bool bare;                     /* its extension is "none" */
    double value[TCR_COLUMNS_MAX]; /* of the fields, in the unit of files */
    uint32_t filled;               /* bit i: column i has a value */
} survey_row;

/* An apostrophe that keeps a spreadsheet from taking a text for a formula is none of it
 * (csv_put.h).
 */
static bool has_apostrophe(const char *text) {
    const size_t apostrophes = strspn(text, "'");
    return apostrophes > 0 && text[apostrophes] != '\0' &&
           strchr(TCR_CSV_FORMULA, text[apostrophes]) != NULL;
}

static tcr_status read_id(const reading *r, const tcr_cell *cell, survey_row *row) {
    if (tcr_cell_copy(cell, row->id, sizeof row->id)) {
        if (has_apostrophe(row->id))
            memmove(row->id, row->id + 1, strlen(row->id));
        return TCR_OK;
    }
    return tcr_fail(r->error, TCR_E_CONTENT, tcr_cell_place(&r->csv, cell),
                    "this id is too long; at most 255 bytes");
}

/* The curl that is shown as this text where a terminal may not be given its label. */
static const char *curl_shown_as(const tcr_set *set, const char *text) {
    enum { SHOWN = 4 * TCR_LABEL_SIZE };
    for (size_t i = 0; i < tcr_set_curl_count(set); i++) {
        char shown[SHOWN + 1];
        const char *label = tcr_set_curl(set, i)->label;
        (void)tcr_printable(label, SHOWN, shown, sizeof shown);
        if (strcmp(shown, text) == 0)
            return label;
    }
    return NULL;
}

static tcr_status read_curl(const reading *r, const char *name, const tcr_cell *cell, char *curl) {
    char text[TCR_ID_SIZE_MAX];
    const char *label = text;
    size_t index;
    if (memchr(cell->text, '\0', cell->bytes) != NULL || !tcr_cell_copy(cell, text, sizeof text))
        text[0] = '\0';
    label += has_apostrophe(text);
    if (tcr_set_find_curl(r->set, label, &index) != TCR_OK) {
        const char *shown = curl_shown_as(r->set, label);
        label = shown != NULL ? shown : label;
    }
    const bool cut = text[0] == '\0'; /* told as it stands in the file */
    return tcr_curl_name_read(r->set, name, cut ? cell->text : label,
                              cut ? cell->bytes : strlen(label), curl,
                              tcr_cell_place(&r->csv, cell), r->error);
}

/* Whether a cell was perhaps meant to say none, the one length that is a word. */
static bool is_nearly_none(const tcr_cell *cell) {
    const char *none = "none";
    const char first = cell->text[0];
    if (first != 'n' && first != 'N')
        return tcr_is_word("-", cell->text, cell->bytes);
    return tcr_suggest(cell->text, cell->bytes, &none, 1) != NULL;
}

static tcr_status fail_none(const reading *r, const char *name, const tcr_cell *cell) {
    tcr_quoted found;
    return tcr_fail(r->error, TCR_E_CONTENT, tcr_cell_place(&r->csv, cell),
                    "%s is %s; write a length, or none for a lash that stays bare", name,
                    tcr_quote(&found, cell->text, cell->bytes));
}

/* Reads a cell that is not empty into its row. */
static tcr_status read_value(const reading *r, size_t column, const tcr_cell *cell,
                             survey_row *row) {
    const tcr_column *known = &r->header.known.column[column];
    const tcr_field *field = known->field;
    const tcr_place place = tcr_cell_place(&r->csv, cell);
    const bool is_length =
        known->group == TCR_GROUP_WISH && field != NULL && field->bit == TCR_FIX_LENGTH;
    row->filled |= (uint32_t)1 << column;
    if (field == NULL)
        return read_id(r, cell, row);
    if (field->kind == TCR_KIND_LABEL)
        return read_curl(r, known->name, cell, row->curl);
    if (is_length && tcr_is_word("none", cell->text, cell->bytes)) {
        row->bare = true;
        return TCR_OK;
    }
    if (is_length && is_nearly_none(cell))
        return fail_none(r, known->name, cell);
    if (field->words == NULL)
        return tcr_key_read(field, known->name, cell->text, cell->bytes, r->csv.separator == ';',
                            &row->value[column], place, r->error);
    const tcr_words words = tcr_words_of(field);
    size_t index = 0;
    const tcr_status status =
        tcr_word_read(&words, known->name, cell->text, cell->bytes, &index, place, r->error);
    row->value[column] = (double)index;
    return status;
}

/* ---- The cells of a row ---------------------------------------------------------------------- */

/* An empty cell too many is one as well: with a decimal comma all that stands behind it moves by a
 * column, and what falls over the edge is often empty. */
static tcr_status fail_more_cells(const reading *r, const tcr_cell *cell) {
    const bool named = cell->column <= r->header.written || r->header.written == r->header.count;
    return tcr_fail(
        r->error, TCR_E_CONTENT, tcr_cell_place(&r->csv, cell),
        "this row has more cells than the %lu that the first row %s%s",
        (unsigned long)(named ? r->header.count : r->header.written), named ? "names" : "has",
        r->csv.separator == ','
            ? "; if it has decimal commas, write points, or separate the cells by ; instead"
            : "");
}

static tcr_status fail_fewer_cells(const reading *r, unsigned long line) {
    const unsigned long found = r->csv.cells, named = (unsigned long)r->header.count;
    const char other = r->csv.separator == ',' ? ';' : ',';
    const tcr_place place = {r->csv.path, line, found};
    if (found == 1 && memchr(r->cells[0].text, other, r->cells[0].bytes) != NULL)
        return tcr_fail(r->error, TCR_E_CONTENT, place,
                        "this row separates its cells by %c, the first row by %c", other,
                        r->csv.separator);
    return tcr_fail(r->error, TCR_E_CONTENT, place,
                    "this row ends after %lu %s, but the first row has %lu names; keep a "
                    "separator for each empty cell",
                    found, found == 1 ? "cell" : "cells", named);
}

/* Finds the cells of a row; blank tells whether all of them are empty. */
static tcr_status read_cells(reading *r, bool *blank) {
    const unsigned long line = r->csv.line;
    tcr_cell more = {0}; /* the first cell that has no column, or is none of the first row's */
    *blank = true;
    while (r->csv.row_goes_on) {
        tcr_cell cell;
        const tcr_status status = tcr_csv_cell(&r->csv, &cell);
        if (status != TCR_OK)
            return status;
        const size_t i = cell.column - 1;
        if (i < r->header.count)
            r->cells[i] = cell;
        else if ((cell.bytes > 0 || i >= r->header.written) && more.column == 0)
            more = cell;
        *blank = *blank && cell.bytes == 0;
    }
    if (*blank)
        return TCR_OK;
    if (more.column > 0)
        return fail_more_cells(r, &more);
    return r->csv.cells < r->header.count ? fail_fewer_cells(r, line) : TCR_OK;
}

static tcr_status read_row(const reading *r, survey_row *row) {
    for (size_t i = 0; i < r->header.count; i++) {
        const tcr_cell *cell = &r->cells[i];
        const unsigned column = r->header.column[i];
        if (cell->bytes == 0 || column == TCR_COLUMN_NOTE)
            continue;
        if (column == TCR_COLUMN_UNNAMED)
            return tcr_fail(r->error, TCR_E_CONTENT, tcr_cell_place(&r->csv, cell),
                            "this cell is in a column that the first row does not name; name it "
                            "there (note, if it is a remark), or empty the cell");
        const tcr_status status = read_value(r, column, cell, row);
        if (status != TCR_OK)
            return status;
    }
    for (size_t i = 0; i < TCR_COLUMNS_REQUIRED; i++)
        if (!(row->filled >> i & 1))
            return tcr_fail(r->error, TCR_E_CONTENT,
                            tcr_cell_place(&r->csv, &r->cells[r->header.number[i] - 1]),
                            "this cell is empty, but every lash needs its %s",
                            r->header.known.column[i].name);
    return TCR_OK;
}

/* ---- From rows to lashes --------------------------------------------------------------------- */

static bool is_filled(const survey_row *row, size_t column) {
    return (row->filled >> column & 1) != 0;
}

/* Puts what a row gives of a group into its object; the bits of what it gives. */
static unsigned put_fields(const reading *r, const survey_row *row, tcr_group group, void *object) {
    unsigned given = 0;
    for (size_t i = 1; i < r->header.known.count; i++) {
        const tcr_column *column = &r->header.known.column[i];
        if (column->group != group || !is_filled(row, i))
            continue;
        (void)tcr_field_put(column->field, object, row->value[i], NULL); /* was checked */
        given |= column->field->bit;
    }
    return given;
}

static tcr_lash lash_of(const reading *r, const survey_row *row) {
    tcr_lash lash = tcr_lash_unknown(0.0, TCR_BOTTOM);
    (void)put_fields(r, row, TCR_GROUP_LASH, &lash);
    return lash;
}

static tcr_wish wish_of(const reading *r, const survey_row *row) {
    tcr_wish wish = {0};
    wish.fixed = put_fields(r, row, TCR_GROUP_WISH, &wish);
    memcpy(wish.curl, row->curl, sizeof wish.curl);
    if (row->bare)
        wish.fixed = (wish.fixed & ~(unsigned)TCR_FIX_LENGTH) | TCR_FIX_BARE;
    return wish;
}

/* The number of the cell of a column, by its name. */
static unsigned long number_of(const reading *r, const char *name) {
    for (size_t i = 0; i < r->header.known.count; i++)
        if (strcmp(r->header.known.column[i].name, name) == 0)
            return r->header.number[i];
    return 0;
}

static tcr_status add_lash(const reading *r, const survey_row *row, unsigned long line) {
    const tcr_lash lash = lash_of(r, row);
    const tcr_wish wish = wish_of(r, row);
    const tcr_place place = {r->csv.path, line, 1};
    const tcr_status tapers = tcr_taper_validate(
        &lash, (tcr_place){r->csv.path, line, number_of(r, "tip_diameter_mm")}, r->error);
    if (tapers != TCR_OK)
        return tapers;
    if (tcr_set_lash_count(r->set, r->side) >= TCR_LASHES_MAX)
        return tcr_fail(r->error, TCR_E_CONTENT, place,
                        "there are too many lashes; a survey may have 100000");
    return tcr_accept(r->error, tcr_set_add_lash(r->set, r->side, row->id, &lash, &wish), place);
}

static tcr_status remember_line(const tcr_allocator *allocator, tcr_survey_rows *rows,
                                unsigned long line) {
    const tcr_status status =
        tcr_grow(allocator, (void **)&rows->line, rows->count, &rows->capacity, sizeof *rows->line);
    if (status == TCR_OK)
        rows->line[rows->count++] = (uint32_t)line;
    return status;
}

static tcr_status check_ids(const reading *r, const tcr_survey_rows *rows) {
    size_t index, first = 0;
    const tcr_status status = tcr_set_find_duplicate(r->set, r->side, &index);
    if (status == TCR_OK)
        return TCR_OK;
    const tcr_place place = {r->csv.path, status == TCR_E_DUPLICATE ? rows->line[index] : 0,
                             rows->id_column};
    if (status != TCR_E_DUPLICATE)
        return tcr_accept(r->error, status, place);
    const char *id = tcr_set_id(r->set, r->side, index);
    while (strcmp(tcr_set_id(r->set, r->side, first), id) != 0)
        first++;
    tcr_quoted quoted;
    return tcr_fail(r->error, TCR_E_CONTENT, place,
                    "id %s is here twice; it was given in line %lu already",
                    tcr_quote(&quoted, id, strlen(id)), (unsigned long)rows->line[first]);
}

/* Goes on to the next row, unless the one before was wrong. */
static tcr_status next_row(reading *r, tcr_status status, bool *found) {
    return status == TCR_OK ? tcr_csv_row(&r->csv, found) : status;
}

static tcr_status read_rows(const tcr_allocator *allocator, reading *r, tcr_survey_rows *rows) {
    r->cells = tcr_resize(allocator, NULL, r->header.count, sizeof *r->cells);
    if (r->cells == NULL)
        return tcr_fail_memory(r->error, r->csv.path);
    rows->id_column = number_of(r, "id");
    rows->ext_length_column = number_of(r, "ext_length_mm");
    bool found;
    tcr_status status = tcr_csv_row(&r->csv, &found);
    for (; status == TCR_OK && found; status = next_row(r, status, &found)) {
        const unsigned long line = r->csv.line;
        survey_row row = {.filled = 0};
        bool blank;
        status = read_cells(r, &blank);
        if (status != TCR_OK || blank)
            continue;
        status = read_row(r, &row);
        if (status == TCR_OK)
            status = add_lash(r, &row, line);
        if (status == TCR_OK && remember_line(allocator, rows, line) != TCR_OK)
            status = tcr_fail_memory(r->error, r->csv.path);
        if (status != TCR_OK) {
            r->error->side = (int)r->side;
            r->error->lash = rows->count;
        }
    }
    if (status == TCR_OK && rows->count == 0)
        status = tcr_fail(r->error, TCR_E_CONTENT, (tcr_place){r->csv.path, 0, 0},
                          "the survey has no lash; below the first row, each row is one");
    return status == TCR_OK ? check_ids(r, rows) : status;
}

tcr_status tcr_survey_parse(const tcr_allocator *allocator, const char *bytes, size_t size,
                            const char *path, tcr_set *set, tcr_side side, tcr_survey_rows *rows,
                            tcr_error *error) {
    reading r = {.set = set, .side = side, .error = error};
    if (size >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0))
        return tcr_fail(error, TCR_E_CONTENT, (tcr_place){path, 0, 0},
                        "this is text in UTF-16; save the sheet as CSV in UTF-8");
    tcr_csv_begin(&r.csv, bytes, size, path, error);
    tcr_status status = tcr_header_read(allocator, &r.csv, &r.header);
    if (status == TCR_OK)
        status = read_rows(allocator, &r, rows);
    tcr_release(allocator, r.cells);
    tcr_header_release(allocator, &r.header);
    return status;
}

void tcr_survey_rows_release(const tcr_allocator *allocator, tcr_survey_rows *rows) {
    tcr_release(allocator, rows->line);
    *rows = (tcr_survey_rows){0};
}
