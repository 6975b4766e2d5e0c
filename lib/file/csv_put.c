/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows and cells of a CSV file. */
#include "file/csv_put.h"

#include <math.h>
#include <string.h>

#include "num/number.h"
#include "num/options.h"
#include "num/printable.h"

void tcr_csv_options_init(tcr_csv_options *options, size_t size) {
    const tcr_csv_options defaults = {.size = sizeof defaults};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

tcr_status tcr_csv_put_begin(tcr_csv_put *csv, tcr_writer *writer, const tcr_csv_options *options,
                             int digits) {
    tcr_csv_options o = tcr_csv_options_default();
    if (tcr_options_take(&o, sizeof o, options) != TCR_OK)
        return TCR_E_ARGUMENT;
    if (o.digits < 0 || o.digits > TCR_CSV_ALL_DIGITS)
        return TCR_E_RANGE;
    *csv = (tcr_csv_put){.writer = writer,
                         .separator = o.decimal_comma ? ';' : ',',
                         .decimal = o.decimal_comma ? ',' : '.',
                         .digits = o.digits > 0 ? o.digits : digits};
    return TCR_OK;
}

static void begin_cell(tcr_csv_put *csv) {
    if (csv->in_row)
        tcr_put_byte(csv->writer, csv->separator);
    csv->in_row = true;
}

void tcr_csv_put_row_end(tcr_csv_put *csv) {
    tcr_put_byte(csv->writer, '\n');
    csv->in_row = false;
}

void tcr_csv_put_word(tcr_csv_put *csv, const char *word) {
    begin_cell(csv);
    tcr_put(csv->writer, word != NULL ? word : "");
}

void tcr_csv_put_number(tcr_csv_put *csv, double number) {
    char text[TCR_NUMBER_SIZE];
    begin_cell(csv);
    if (!isfinite(number))
        return;
    const size_t length = tcr_number_significant(number, csv->digits, text);
    char *point = memchr(text, '.', length);
    if (point != NULL)
        *point = csv->decimal;
    tcr_put_bytes(csv->writer, text, length);
}

/* A user's text with its quotes doubled. */
static void put_safe(tcr_writer *writer, const char *text) {
    while (*text != '\0') {
        enum { ESCAPE_SIZE = 16, CHARACTER_SIZE = 5 };
        uint32_t code;
        char character[CHARACTER_SIZE] = "", escape[ESCAPE_SIZE];
        const size_t bytes = tcr_utf8_next(text, &code);
        if (code == '"')
            tcr_put(writer, "\"\"");
        else if (tcr_utf8_is_unsafe(code) && strchr("\t\r\n", *text) == NULL) {
            memcpy(character, text, bytes);
            tcr_printable(character, ESCAPE_SIZE, escape, sizeof escape);
            tcr_put(writer, escape);
        } else
            tcr_put_bytes(writer, text, bytes);
        text += bytes;
    }
}

/* Whether a text is one cell only in quotes. A row that begins with # is a comment. */
static bool needs_quotes(const tcr_csv_put *csv, const char *text) {
    return strpbrk(text, "\"\r\n") != NULL || strchr(text, csv->separator) != NULL ||
           *text == ' ' || *text == '#';
}

void tcr_csv_put_text(tcr_csv_put *csv, const char *text) {
    const char *beginning = text + strspn(text, "'");
    const char *apostrophe =
        *beginning != '\0' && strchr(TCR_CSV_FORMULA, *beginning) != NULL ? "'" : "";
    begin_cell(csv);
    const char *quote = needs_quotes(csv, text) ? "\"" : "";
    tcr_put(csv->writer, quote);
    tcr_put(csv->writer, apostrophe);
    put_safe(csv->writer, text);
    tcr_put(csv->writer, quote);
}

void tcr_csv_put_names(tcr_csv_put *csv, const char *const *names, size_t columns) {
    for (size_t c = 0; c < columns; c++)
        tcr_csv_put_word(csv, names[c]);
    tcr_csv_put_row_end(csv);
}
