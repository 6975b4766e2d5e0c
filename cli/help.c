/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Help pages, made from the table of options and each command's own words. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "call.h"
#include "common.h"

enum { PAGE_SIZE = 12000, WIDTH = 80, TEXT_COLUMN = 22, TOKEN_SIZE = 80, TEXT_SIZE = 800 };

typedef struct page {
    char text[PAGE_SIZE];
    size_t used;
    size_t column; /* of the line that is being written */
} page;

static void put(page *p, const char *text) {
    const int written = snprintf(p->text + p->used, sizeof p->text - p->used, "%s", text);
    const size_t room = sizeof p->text - p->used - 1;
    p->used += (size_t)written < room ? (size_t)written : room;
    const char *line = strrchr(text, '\n');
    p->column = line != NULL ? strlen(line + 1) : p->column + strlen(text);
}

static void put_blanks(page *p, size_t column) {
    while (p->column < column)
        put(p, " ");
}

/* In texts that are wrapped, a blank that no line ends at. */
static const char FIRM = '~';

/* A word, on a new line where this one is full; blanks in front. */
static void put_word(page *p, const char *word, size_t indent) {
    if (p->column + 1 + strlen(word) > WIDTH) {
        put(p, "\n");
        put_blanks(p, indent);
    } else if (p->column > indent) {
        put(p, " ");
    }
    put(p, word);
}

static void put_wrapped(page *p, const char *text, size_t indent) {
    char word[TOKEN_SIZE];
    while (*text != '\0') {
        const size_t bytes = strcspn(text, " ");
        snprintf(word, sizeof word, "%.*s", (int)bytes, text);
        for (char *blank = word; (blank = strchr(blank, FIRM)) != NULL;)
            *blank = ' ';
        put_word(p, word, indent);
        text += bytes;
        text += strspn(text, " ");
    }
    put(p, "\n");
}

/* "--json FILE", "--free[=MM]", "--dark" */
static const char *form_of(char *out, size_t size, const tcr_option *o) {
    tcr_option_name name;
    snprintf(out, size, "%s%s%s%s", tcr_option_named(&name, o),
             o->value == NULL ? ""
             : o->bare        ? "[="
                              : " ",
             o->value != NULL ? o->value : "", o->bare ? "]" : "");
    return out;
}

static void put_usage(page *p, const tcr_command *command) {
    static const char *const SET[] = {"", "SET", "[SET]", "SET..."};
    char token[TOKEN_SIZE], form[TOKEN_SIZE - 2];
    put(p, "usage: tipcrest ");
    put(p, command->name);
    put(p, " ");
    const size_t indent = p->column;
    if (command->set != TCR_NO_SET)
        put_word(p, SET[command->set], indent);
    /* What is required comes first. */
    for (int optional = 0; optional <= 1; optional++) {
        size_t i = 0;
        for (const tcr_option *o; (o = tcr_option_next(command->bit, &i)) != NULL;) {
            if (o->required == (optional == 1))
                continue;
            snprintf(token, sizeof token, "%s%s%s", optional ? "[" : "",
                     form_of(form, sizeof form, o), optional ? "]" : "");
            put_word(p, token, indent);
        }
    }
    put(p, "\n");
}

/* Range, words and default of an option, in brackets behind its help: "(20 to 2000 mm; default
 * 254)"; nothing where it has none. */
static void describe(char *out, size_t size, const tcr_option *o) {
    tcr_range_text range = {""};
    tcr_word_list words = {""};
    const bool number = o->kind == TCR_OPTION_NUMBER || o->kind == TCR_OPTION_COUNT;
    if (number)
        tcr_option_range_text(&range, o, " to ");
    for (char *blank = range.text; (blank = strchr(blank, ' ')) != NULL;)
        *blank = FIRM;
    tcr_option_words(&words, o);
    const char *ends = o->kind == TCR_OPTION_FILE && *words.text != '\0' ? "ends in " : "";
    const char *parts[] = {range.text, number && *words.text != '\0' ? "or " : "", words.text};
    char limits[TEXT_SIZE / 2];
    snprintf(limits, sizeof limits, "%s%s%s%s%s", ends, parts[0], *parts[1] != '\0' ? ", " : "",
             parts[1], parts[2]);
    out[0] = '\0';
    tcr_word_list standard;
    tcr_option_standard(&standard, o);
    if (*limits != '\0' || *standard.text != '\0')
        snprintf(out, size, " (%s%s%s%s)", limits,
                 *limits != '\0' && *standard.text != '\0' ? "; " : "",
                 *standard.text != '\0' ? "default: " : "", standard.text);
}

static void put_option(page *p, const tcr_option *o) {
    char text[2 * TEXT_SIZE], brackets[TEXT_SIZE], form[TOKEN_SIZE];
    describe(brackets, sizeof brackets, o);
    snprintf(text, sizeof text, "%s%s", o->help, brackets);
    put(p, "  ");
    put(p, form_of(form, sizeof form, o));
    put_blanks(p, TEXT_COLUMN);
    put_wrapped(p, text, TEXT_COLUMN);
}

int tcr_print_help(const tcr_command *command) {
    page p = {.used = 0};
    size_t i = 0;
    put_usage(&p, command);
    put(&p, "\n");
    put(&p, command->about);
    put(&p, "\n");
    for (const tcr_option *o; (o = tcr_option_next(command->bit, &i)) != NULL;)
        put_option(&p, o);
    put(&p, "\n");
    put(&p, command->notes);
    return tcr_print(p.text);
}
