/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Messages about files: their places, what they quote, and what was perhaps meant. */
#include "file/error.h"

#include <limits.h>
#include <stdbool.h>
#include <string.h>

#include "num/number.h"
#include "num/printable.h"

enum { QUOTED_COLUMNS = 60 };

const char *tcr_quote(tcr_quoted *quoted, const char *text, size_t bytes) {
    char start[sizeof quoted->text]; /* more than this is not shown */
    const size_t length = bytes < sizeof start ? bytes : sizeof start - 1;
    memcpy(start, text, length);
    start[length] = '\0';
    quoted->text[0] = '"';
    tcr_printable(start, QUOTED_COLUMNS, quoted->text + 1, sizeof quoted->text - 2);
    strcat(quoted->text, "\"");
    return quoted->text;
}

void tcr_put_place(tcr_error *error, tcr_place place) {
    error->line = place.line;
    error->column = place.column;
    tcr_printable(place.path, INT_MAX, error->path, sizeof error->path);
}

tcr_status tcr_fail(tcr_error *error, tcr_status status, tcr_place place, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    tcr_error_set_list(error, status, format, arguments);
    va_end(arguments);
    tcr_put_place(error, place);
    return status;
}

tcr_status tcr_fail_here(tcr_error *error, tcr_place place) {
    error->status = TCR_E_CONTENT;
    tcr_put_place(error, place);
    return TCR_E_CONTENT;
}

tcr_status tcr_fail_memory(tcr_error *error, const char *path) {
    const tcr_place place = {path, 0, 0};
    return tcr_fail(error, TCR_E_MEMORY, place, "there is not enough memory");
}

tcr_status tcr_accept(tcr_error *error, tcr_status status, tcr_place place) {
    if (status == TCR_OK)
        return TCR_OK;
    if (status == TCR_E_MEMORY)
        return tcr_fail_memory(error, place.path);
    return tcr_fail(error, TCR_E_CONTENT, place, "%s", tcr_status_text(status));
}

const char *tcr_curly_note(const char *text, size_t bytes) {
    /* U+2018 to U+201F begin so in UTF-8. */
    for (size_t i = 0; i + 2 < bytes; i++)
        if (memcmp(text + i, "\xE2\x80", 2) == 0 && (unsigned char)text[i + 2] >= 0x98 &&
            (unsigned char)text[i + 2] <= 0x9F)
            return "; curly quotation marks are part of the text here, leave them out";
    return "";
}

void tcr_list_add(tcr_list *list, const char *word) {
    const size_t length = strlen(word), room = sizeof list->text - sizeof ", ...";
    if (list->bytes >= room)
        return;
    if (list->bytes > 0) {
        memcpy(list->text + list->bytes, ", ", 2);
        list->bytes += 2;
    }
    const bool fits = list->bytes + length < room;
    memcpy(list->text + list->bytes, fits ? word : "...", fits ? length + 1 : sizeof "...");
    list->bytes = fits ? list->bytes + length : room;
}

void tcr_list_add_number(tcr_list *list, double number) {
    char text[TCR_NUMBER_SIZE];
    tcr_number_text(number, text);
    tcr_list_add(list, text);
}

tcr_status tcr_fail_unknown(tcr_error *error, tcr_status status, const char *what, const char *word,
                            const char *const *names, size_t count) {
    static const tcr_place NOWHERE = {"", 0, 0};
    tcr_quoted found;
    tcr_list list = {0};
    for (size_t i = 0; i < count; i++)
        tcr_list_add(&list, names[i]);
    const char *meant = tcr_suggest(word, strlen(word), names, count);
    tcr_quote(&found, word, strlen(word));
    if (meant != NULL)
        return tcr_fail(error, status, NOWHERE, "%s %s is not known; did you mean %s? One of %s",
                        what, found.text, meant, list.text);
    return tcr_fail(error, status, NOWHERE, "%s %s is not known; one of %s", what, found.text,
                    list.text);
}
