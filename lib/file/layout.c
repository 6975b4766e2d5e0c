/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text for people: paragraphs in lines of at most 80 columns, numbers without the locale. */
#include "file/layout.h"

#include <math.h>
#include <string.h>

#include "num/number.h"
#include "num/printable.h"

void tcr_paragraph_begin(tcr_paragraph *paragraph) {
    paragraph->text[0] = '\0';
    paragraph->used = 0;
    paragraph->columns = 0;
}

static int columns_of(const char *text) {
    int columns = 0;
    while (*text != '\0') {
        uint32_t code;
        text += tcr_utf8_next(text, &code);
        columns += tcr_utf8_columns(code);
    }
    return columns;
}

void tcr_add(tcr_paragraph *paragraph, const char *text) {
    const size_t bytes = strlen(text);
    if (bytes >= sizeof paragraph->text - paragraph->used)
        return;
    memcpy(paragraph->text + paragraph->used, text, bytes + 1);
    paragraph->used += bytes;
    paragraph->columns += columns_of(text);
}

void tcr_add_safe(tcr_paragraph *paragraph, const char *text, int columns) {
    char safe[1024];
    tcr_printable(text, columns, safe, sizeof safe);
    tcr_add(paragraph, safe);
}

void tcr_add_number(tcr_paragraph *paragraph, double number) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_text(number, text);
    tcr_add(paragraph, text);
}

void tcr_add_count(tcr_paragraph *paragraph, size_t count) {
    char digits[24];
    size_t at = sizeof digits;
    digits[--at] = '\0';
    do {
        digits[--at] = (char)('0' + count % 10);
        count /= 10;
    } while (count > 0);
    tcr_add(paragraph, digits + at);
}

/* The text of tcr_add_fixed; returns it. */
static const char *fixed_text(double number, int decimals, bool sign,
                              char text[TCR_NUMBER_SIZE + 1]) {
    if (!isfinite(number))
        return "-";
    tcr_number_fixed(number, decimals, text + 1);
    text[0] = '+';
    const bool is_zero = strpbrk(text + 1, "123456789") == NULL; /* and then has no sign */
    return sign && number > 0.0 && !is_zero ? text : text + 1;
}

void tcr_add_fixed(tcr_paragraph *paragraph, double number, int decimals, bool sign) {
    char text[TCR_NUMBER_SIZE + 1];
    tcr_add(paragraph, fixed_text(number, decimals, sign, text));
}

void tcr_add_bound(tcr_paragraph *paragraph, double number, int decimals, bool up) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_bound(number, decimals, up, text);
    tcr_add(paragraph, isfinite(number) ? text : "-");
}

void tcr_add_beside(tcr_paragraph *paragraph, double number, double limit, bool sign) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_beside(fabs(number), limit, text);
    if (isfinite(number) && strpbrk(text, "123456789") != NULL)
        tcr_add(paragraph, number < 0.0 ? "-" : sign ? "+" : "");
    tcr_add(paragraph, isfinite(number) ? text : "-");
}

void tcr_add_given(tcr_paragraph *paragraph, double number) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_text(number, text);
    const char *point = strchr(text, '.');
    if (point != NULL && strlen(point + 1) > 2 && fabs(number) < 0.1)
        tcr_number_significant(number, 2, text);
    else if (point != NULL && strlen(point + 1) > 2)
        tcr_number_text(round(100.0 * number) / 100.0, text);
    tcr_add(paragraph, text);
}

void tcr_add_share(tcr_paragraph *paragraph, double share) {
    /* A share is a count over another: what rounding takes off a whole per cent is given back. */
    tcr_add_bound(paragraph, 100.0 * share + 1e-9, 0, false);
    tcr_add(paragraph, " %");
}

void tcr_add_to_column(tcr_paragraph *paragraph, int column) {
    for (int i = paragraph->columns; i < column; i++)
        tcr_add(paragraph, " ");
}

void tcr_add_text_at(tcr_paragraph *paragraph, int right, const char *text) {
    tcr_add_to_column(paragraph, right - (int)strlen(text));
    tcr_add(paragraph, text);
}

void tcr_add_fixed_at(tcr_paragraph *paragraph, int right, double number, int decimals, bool sign) {
    char text[TCR_NUMBER_SIZE + 1];
    tcr_add_text_at(paragraph, right, fixed_text(number, decimals, sign, text));
}

static void put_blanks(tcr_writer *writer, int count) {
    for (int i = 0; i < count; i++)
        tcr_put(writer, " ");
}

/* How many bytes fit into n columns: up to a blank, or the first word if it is longer. */
static size_t line_length(const char *text, int columns) {
    size_t at = 0, last_blank = 0;
    int column = 0;
    while (text[at] != '\0') {
        uint32_t code;
        const size_t bytes = tcr_utf8_next(text + at, &code);
        if (text[at] == ' ')
            last_blank = at;
        column += tcr_utf8_columns(code);
        if (column > columns && last_blank > 0)
            return last_blank;
        at += bytes;
    }
    return at;
}

/* The text behind its next line, of which *length bytes are to be written. */
static const char *next_line(const char *text, int indent, size_t *length) {
    *length = line_length(text, TCR_TABLE_COLUMNS - indent);
    const char *rest = text + *length;
    while (*length > 0 && text[*length - 1] == ' ')
        --*length;
    return rest + strspn(rest, " ");
}

int tcr_paragraph_lines(const tcr_paragraph *paragraph, int first, int next) {
    const char *text = paragraph->text;
    size_t length;
    int lines = 0;
    do
        text = next_line(text, lines++ == 0 ? first : next, &length);
    while (*text != '\0');
    return lines;
}

void tcr_paragraph_end(tcr_paragraph *paragraph, tcr_writer *writer, int first, int next) {
    const char *text = paragraph->text;
    int indent = first;
    do {
        size_t length;
        const char *rest = next_line(text, indent, &length);
        if (length > 0)
            put_blanks(writer, indent);
        tcr_put_bytes(writer, text, length);
        tcr_put(writer, "\n");
        text = rest;
        indent = next;
    } while (*text != '\0');
    tcr_paragraph_begin(paragraph);
}
