/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first row of a survey: what separates the cells, and what the columns are. */
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "file/survey.h"
#include "num/memory.h"

static void add_columns(tcr_columns *columns, tcr_group group, const char *prefix) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; i < count && columns->count < TCR_COLUMNS_MAX; i++) {
        tcr_column *column = &columns->column[columns->count++];
        snprintf(column->name, sizeof column->name, "%s%s", prefix, fields[i].key);
        column->field = &fields[i];
        column->group = group;
    }
}

tcr_columns tcr_survey_columns(void) {
    tcr_columns columns = {.column = {{.name = "id"}}, .count = 1};
    add_columns(&columns, TCR_GROUP_LASH, "");
    add_columns(&columns, TCR_GROUP_WISH, "ext_");
    return columns;
}

/*
 * The separator is the first of , ; tab | in the first row that stands outside quotes. Only the
 * first two are taken; 0 where there is none at all.
 */
static char find_separator(const tcr_csv *csv) {
    bool quoted = false;
    for (const char *at = csv->at; at < csv->end && *at != '\n' && *at != '\r'; at++) {
        if (*at == '"')
            quoted = !quoted;
        else if (!quoted && (*at == ',' || *at == ';' || *at == '\t' || *at == '|'))
            return *at;
    }
    return '\0';
}

/* Where a first line "sep=;" begins behind its "sep=", perhaps in quotes; NULL where it is none. */
static const char *find_sep_line(const tcr_csv *csv) {
    const char *at = csv->at + (*csv->at == '"');
    return csv->end - at >= 4 && strncasecmp(at, "sep=", 4) == 0 ? at + 4 : NULL;
}

/* Takes the separator from a line sep=, which a spreadsheet may have filled up with separators, and
 * goes on to the row of names. */
static tcr_status read_sep_line(tcr_csv *csv, const char *at, bool *found) {
    const char filling[] = {*at, '"', ' ', '\0'};
    const char *end = at + (*at == ',' || *at == ';' ? strspn(at, filling) : 0);
    if (end == at || end > csv->end || (end < csv->end && *end != '\r' && *end != '\n'))
        return tcr_fail(csv->error, TCR_E_CONTENT, (tcr_place){csv->path, csv->line, 1},
                        "a line sep= names the separator of the cells: sep=, or sep=;");
    csv->separator = *at;
    csv->at = end;
    return tcr_csv_row(csv, found);
}

static tcr_status find_separator_of_names(tcr_csv *csv) {
    const char separator = find_separator(csv);
    if (separator == '\t' || separator == '|')
        return tcr_fail(csv->error, TCR_E_CONTENT, (tcr_place){csv->path, csv->line, 1},
                        "the cells are separated by %s; save the sheet as CSV, separated by , or ;",
                        separator == '\t' ? "tabs" : "|");
    csv->separator = separator == ';' ? ';' : ',';
    return TCR_OK;
}

static tcr_status fail_unknown(const tcr_csv *csv, const tcr_cell *cell, const tcr_columns *known) {
    const char *names[TCR_COLUMNS_MAX + 1];
    tcr_list list = {0};
    tcr_quoted found;
    for (size_t i = 0; i < known->count; i++) {
        names[i] = known->column[i].name;
        tcr_list_add(&list, names[i]);
    }
    names[known->count] = "note";
    const char *meant = tcr_suggest(cell->text, cell->bytes, names, known->count + 1);
    tcr_quote(&found, cell->text, cell->bytes);
    if (meant != NULL)
        return tcr_fail(
            csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
            "column %s is not known; did you mean %s? Known are %s, and those that begin with note",
            found.text, meant, list.text);
    return tcr_fail(csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
                    "column %s is not known; known are %s, and those that begin with note",
                    found.text, list.text);
}

/* Which column a cell of the first row names. */
static tcr_status name_column(const tcr_csv *csv, const tcr_cell *cell, tcr_header *header,
                              unsigned char *column) {
    if (cell->bytes == 0) {
        *column = TCR_COLUMN_UNNAMED;
        return TCR_OK;
    }
    if (cell->bytes >= 4 && memcmp(cell->text, "note", 4) == 0) {
        *column = TCR_COLUMN_NOTE;
        return TCR_OK;
    }
    for (size_t i = 0; i < header->known.count; i++) {
        const char *name = header->known.column[i].name;
        if (!tcr_is_word(name, cell->text, cell->bytes))
            continue;
        if (header->number[i] != 0)
            return tcr_fail(csv->error, TCR_E_CONTENT, tcr_cell_place(csv, cell),
                            "column %s is here twice; cell %lu is %s already", name,
                            header->number[i], name);
        header->number[i] = cell->column;
        *column = (unsigned char)i;
        return TCR_OK;
    }
    return fail_unknown(csv, cell, &header->known);
}

/* Whether a row that should name columns is one of data: its first cell is no column, nor nearly
 * one. */
static bool names_nothing(const tcr_cell *cell, const tcr_columns *known) {
    if (cell->bytes == 0 || (cell->bytes >= 4 && memcmp(cell->text, "note", 4) == 0))
        return false;
    for (size_t i = 0; i < known->count; i++) {
        const char *name = known->column[i].name;
        if (tcr_suggest(cell->text, cell->bytes, &name, 1) != NULL)
            return false;
    }
    for (size_t i = 0; i < cell->bytes; i++)
        if (cell->text[i] >= '0' && cell->text[i] <= '9')
            return true;
    return false;
}

static tcr_status check_required(const tcr_csv *csv, const tcr_header *header, unsigned long line) {
    for (size_t i = 0; i < TCR_COLUMNS_REQUIRED; i++)
        if (header->number[i] == 0)
            return tcr_fail(
                csv->error, TCR_E_CONTENT, (tcr_place){csv->path, line, 1},
                "column %s is missing; every survey has the columns id, u, layer and length_mm",
                header->known.column[i].name);
    return TCR_OK;
}

tcr_status tcr_header_read(const tcr_allocator *allocator, tcr_csv *csv, tcr_header *header) {
    *header = (tcr_header){.known = tcr_survey_columns()};
    bool found;
    tcr_status status = tcr_csv_row(csv, &found);
    const char *sep = status == TCR_OK && found ? find_sep_line(csv) : NULL;
    if (sep != NULL)
        status = read_sep_line(csv, sep, &found);
    if (status == TCR_OK && !found)
        return tcr_fail(
            csv->error, TCR_E_CONTENT, (tcr_place){csv->path, 1, 1},
            "the survey is empty; its first row names the columns, such as id,u,layer,length_mm");
    const unsigned long line = csv->line;
    csv->has_names = true; /* for the rows behind this one */
    if (status == TCR_OK && sep == NULL)
        status = find_separator_of_names(csv);
    size_t named = 0;
    while (status == TCR_OK && csv->row_goes_on) {
        tcr_cell cell;
        unsigned char column = TCR_COLUMN_UNNAMED;
        status = tcr_csv_cell(csv, &cell);
        if (status == TCR_OK && cell.column == 1 && names_nothing(&cell, &header->known))
            status = tcr_fail(csv->error, TCR_E_CONTENT, tcr_cell_place(csv, &cell),
                              "this row has data where the names of the columns should be; begin "
                              "with a row such as "
                              "id,u,layer,length_mm");
        if (status == TCR_OK)
            status = name_column(csv, &cell, header, &column);
        if (status == TCR_OK && tcr_grow(allocator, (void **)&header->column, header->count,
                                         &header->capacity, sizeof *header->column) != TCR_OK)
            status = tcr_fail_memory(csv->error, csv->path);
        if (status == TCR_OK) {
            header->column[header->count++] = column;
            if (column != TCR_COLUMN_UNNAMED)
                named = header->count;
        }
    }
    header->written = header->count;
    header->count = named; /* spreadsheets write empty columns behind the last */
    return status == TCR_OK ? check_required(csv, header, line) : status;
}

void tcr_header_release(const tcr_allocator *allocator, tcr_header *header) {
    tcr_release(allocator, header->column);
    *header = (tcr_header){0};
}
