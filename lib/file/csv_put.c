/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cells of a CSV file. */
#include "file/csv_put.h"

#include <math.h>
#include <string.h>

#include "num/printable.h"

void tcr_csv_put_word(tcr_writer *writer, const char *word) {
    tcr_put(writer, ",");
    tcr_put(writer, word);
}

void tcr_csv_put_number(tcr_writer *writer, double number) {
    tcr_put(writer, ",");
    if (isfinite(number))
        tcr_put_number(writer, number);
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

void tcr_csv_put_first(tcr_writer *writer, const char *text) {
    const char *beginning = text + strspn(text, "'");
    const char *apostrophe =
        *beginning != '\0' && strchr(TCR_CSV_FORMULA, *beginning) != NULL ? "'" : "";
    /* A row that begins with # is a comment. */
    if (strpbrk(text, ",\"\r\n") == NULL && *text != ' ' && *text != '#') {
        tcr_put(writer, apostrophe);
        put_safe(writer, text);
        return;
    }
    tcr_put(writer, "\"");
    tcr_put(writer, apostrophe);
    put_safe(writer, text);
    tcr_put(writer, "\"");
}

void tcr_csv_put_text(tcr_writer *writer, const char *text) {
    tcr_put(writer, ",");
    tcr_csv_put_first(writer, text);
}
