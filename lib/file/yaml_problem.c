/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * libyaml speaks of simple keys and flow nodes. What people did is nearly always one of a few
 * things: a tab, a missing blank or colon, a comma or bracket, a quotation mark, a line that is
 * indented wrongly. The message names that thing; where it is none of them, it falls back on
 * libyaml's own words.
 */
#include "file/yaml_problem.h"

#include <stdbool.h>
#include <string.h>

/* A line of the text, without its end. */
typedef struct line {
    const char *text;
    size_t bytes;
} line;

/* Line 'number', from 0; empty beyond the end. */
static line line_at(const char *bytes, size_t size, size_t number) {
    size_t at = 0;
    for (; number > 0 && at < size; number--) {
        while (at < size && bytes[at] != '\n' && bytes[at] != '\r')
            at++;
        if (at + 1 < size && bytes[at] == '\r' && bytes[at + 1] == '\n')
            at++;
        at++;
    }
    line found = {bytes + (at < size ? at : size), 0};
    while (at + found.bytes < size && found.text[found.bytes] != '\n' &&
           found.text[found.bytes] != '\r')
        found.bytes++;
    return found;
}

/* Where character 'column' (from 0) of a line begins; marks count characters, not bytes. */
static size_t byte_of(line at, size_t column) {
    size_t i = 0;
    while (column > 0 && i < at.bytes) {
        i++;
        while (i < at.bytes && ((unsigned char)at.text[i] & 0xC0) == 0x80)
            i++;
        column--;
    }
    return i;
}

static bool is_blank(char c) { return c == ' ' || c == '\t'; }

static bool is_key_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/* What is wrong with a line that should read "key: value". */
typedef enum line_fault { LINE_GOOD, LINE_EMPTY, LINE_NO_COLON, LINE_NO_BLANK } line_fault;

/* Looks at a line; key_end receives where its first word ends, start where it begins. */
static line_fault look_at(line at, size_t *start, size_t *key_end) {
    size_t i = 0;
    while (i < at.bytes && (is_blank(at.text[i]) ||
                            (at.text[i] == '-' && i + 1 < at.bytes && is_blank(at.text[i + 1]))))
        i++;
    *start = i;
    if (i == at.bytes || at.text[i] == '#')
        return LINE_EMPTY;
    while (i < at.bytes && is_key_letter(at.text[i]))
        i++;
    *key_end = i;
    if (i > *start && i + 1 < at.bytes && at.text[i] == ':' && !is_blank(at.text[i + 1]))
        return LINE_NO_BLANK;
    for (size_t j = *start; j < at.bytes; j++)
        if (at.text[j] == ':' && (j + 1 == at.bytes || is_blank(at.text[j + 1])))
            return LINE_GOOD;
    return LINE_NO_COLON;
}

/* Everything that the explanations need. */
typedef struct trouble {
    const yaml_parser_t *parser;
    const char *bytes;
    size_t size;
    const char *path;
    tcr_file_error *error;
} trouble;

static tcr_place place_of(const trouble *t, yaml_mark_t mark) {
    return (tcr_place){t->path, mark.line + 1, mark.column + 1};
}

static tcr_status explain(const trouble *t, tcr_place place, const char *text) {
    return tcr_fail(t->error, TCR_E_CONTENT, place, "%s", text);
}

/* Tells that a line lacks its colon or the blank behind it; false where it lacks neither. */
static bool explain_line(const trouble *t, size_t number) {
    const line at = line_at(t->bytes, t->size, number);
    size_t start = 0, key_end = 0;
    tcr_quoted key, value;
    const line_fault fault = look_at(at, &start, &key_end);
    tcr_place place = {t->path, number + 1, start + 1};
    if (fault == LINE_NO_BLANK) {
        place.column = key_end + 1;
        tcr_quote(&key, at.text + start, key_end - start + 1);
        tcr_quote(&value, at.text + key_end + 1, at.bytes - key_end - 1);
        tcr_fail(t->error, TCR_E_CONTENT, place,
                 "a space is missing after the colon, between %s and %s", key.text, value.text);
        return true;
    }
    if (fault == LINE_NO_COLON) {
        tcr_quote(&key, at.text + start, at.bytes - start);
        tcr_fail(t->error, TCR_E_CONTENT, place,
                 "%s has no colon; a line here reads \"key: value\"", key.text);
        return true;
    }
    return false;
}

/* The last line before 'number' that holds anything; 'number' itself if there is none. */
static size_t line_above(const trouble *t, size_t number) {
    for (size_t above = number; above > 0; above--) {
        size_t start, key_end;
        if (look_at(line_at(t->bytes, t->size, above - 1), &start, &key_end) != LINE_EMPTY)
            return above - 1;
    }
    return number;
}

/* "mapping values are not allowed in this context": a colon where none can be. */
static tcr_status explain_colon(const trouble *t) {
    const yaml_mark_t mark = t->parser->problem_mark;
    const line at = line_at(t->bytes, t->size, mark.line);
    const size_t end = byte_of(at, mark.column);
    for (size_t i = 0; i + 1 < end; i++)
        if (at.text[i] == ':' && is_blank(at.text[i + 1]))
            return explain(t, place_of(t, mark),
                           "a second colon in one line; put a text that holds a colon in quotes, "
                           "and give each key a line of its own, or put them in { }");
    const size_t above = line_above(t, mark.line);
    if (above != mark.line && explain_line(t, above))
        return t->error->status;
    size_t start = 0, key_end;
    look_at(at, &start, &key_end);
    return explain(t, (tcr_place){t->path, mark.line + 1, start + 1},
                   "this line is indented further than the one above it allows; lines that belong "
                   "together begin in the same column");
}

/* "did not find expected key": what stands there is not a key of the block that is open. */
static tcr_status explain_no_key(const trouble *t) {
    const yaml_mark_t mark = t->parser->problem_mark;
    const line at = line_at(t->bytes, t->size, mark.line);
    const size_t here = byte_of(at, mark.column);
    size_t before = here;
    while (before > 0 && is_blank(at.text[before - 1]))
        before--;
    if (before > 0 && (at.text[before - 1] == '"' || at.text[before - 1] == '\''))
        return explain(t, place_of(t, mark),
                       "text goes on after the closing quotation mark; inside '...' write a ' "
                       "twice, or put the whole "
                       "text in \"...\"");
    if (here < at.bytes && (at.text[here] == '}' || at.text[here] == ']'))
        return explain(t, place_of(t, mark), "this bracket closes nothing that was opened");
    if (here < at.bytes && at.text[here] == '-')
        return explain(t, place_of(t, mark),
                       "a list item where none belongs; the items of one list begin with \"- \" in "
                       "the same column");
    return explain(t, place_of(t, mark),
                   "this line begins in a column where nothing above begins; lines that belong "
                   "together begin in the same column");
}

/* "found character that cannot start any token", and tabs. */
static tcr_status explain_character(const trouble *t) {
    const yaml_mark_t mark = t->parser->problem_mark;
    const line at = line_at(t->bytes, t->size, mark.line);
    const size_t here = byte_of(at, mark.column);
    const char found[2] = {here < at.bytes ? at.text[here] : '\0', '\0'};
    if (found[0] == '\t')
        return explain(t, place_of(t, mark),
                       "a tab where only spaces can indent; write spaces instead");
    return tcr_fail(t->error, TCR_E_CONTENT, place_of(t, mark),
                    "a text cannot begin with %s; put it in quotes", found);
}

/* Brackets: where one was opened, and where it was seen that it is not closed. */
static tcr_status explain_bracket(const trouble *t) {
    const bool list = strstr(t->parser->problem, "']'") != NULL;
    return tcr_fail(t->error, TCR_E_CONTENT, place_of(t, t->parser->problem_mark),
                    "a comma is missing before this, or the %s that closes the %s of line %lu",
                    list ? "]" : "}", list ? "[" : "{",
                    (unsigned long)(t->parser->context_mark.line + 1));
}

static tcr_status explain_missing_colon(const trouble *t) {
    const yaml_mark_t mark = t->parser->context_mark;
    if (explain_line(t, mark.line))
        return t->error->status;
    return explain(t, place_of(t, mark),
                   "a colon and a space are missing after this; a line here reads \"key: value\"");
}

/* Where a byte of the text stands; for what is no text at all, which libyaml tells by its offset.
 */
static tcr_status explain_bytes(const trouble *t) {
    const size_t offset = t->parser->problem_offset < t->size ? t->parser->problem_offset : t->size;
    tcr_place place = {t->path, 1, 1};
    for (size_t i = 0; i < offset; i++) {
        if (t->bytes[i] == '\n' ||
            (t->bytes[i] == '\r' && (i + 1 >= t->size || t->bytes[i + 1] != '\n'))) {
            place.line++;
            place.column = 1;
        } else if (((unsigned char)t->bytes[i] & 0xC0) != 0x80) {
            place.column++;
        }
    }
    if (strncmp(t->parser->problem, "control", 7) == 0)
        return explain(t, place,
                       "a control character, which no set file may hold; is this a text file?");
    return explain(t, place, "a character that is not UTF-8; save the file as text in UTF-8");
}

/* What needs no look at the text: part of libyaml's words, ours, and whether the context's mark is
 * the place. */
static const struct {
    const char *theirs, *ours;
    bool at_context;
} SIMPLE[] = {
    {"found unexpected end of stream",
     "the quotation mark that opens here is never closed; write another one where the text ends",
     true},
    {"found unexpected document indicator",
     "the quotation mark that opens here is never closed; write another one where the text ends",
     true},
    {"expected '-' indicator",
     "this line stands in a list, but begins without \"- \"; put that in front of it, or indent it "
     "as far as the lines of the item above",
     false},
    {"expected <document start>", "more text after the end of the set; one file holds one set",
     false},
    {"unknown escape character", "a \\ has a meaning inside \"...\"; write it twice, or use '...'",
     false},
    {"Unicode character escape", "this \\u escape is no character; write the character itself",
     false},
    {"hexdecimal number",
     "this \\x or \\u escape lacks hexadecimal digits; write the character itself", false},
    {"comment or line break",
     "nothing may follow | or > in its line; put a text that begins so in quotes", false},
    {"block sequence entries are not allowed",
     "a list item cannot begin here; put each \"- \" on a line of its own", false},
    {"incompatible YAML",
     "this version of YAML is not known; leave out the line that begins with %YAML", false},
    {"expected node content", "a value is missing here", false},
    {"mapping keys are not allowed", "a text cannot begin with \"? \"; put it in quotes", false},
};

tcr_status tcr_yaml_problem(const yaml_parser_t *parser, const char *bytes, size_t size,
                            const char *path, tcr_file_error *error) {
    const trouble t = {parser, bytes, size, path, error};
    if (parser->error == YAML_MEMORY_ERROR || parser->problem == NULL)
        return tcr_fail_memory(error, path);
    if (parser->error == YAML_READER_ERROR)
        return explain_bytes(&t);
    static const struct {
        const char *theirs;
        tcr_status (*explain)(const trouble *);
    } LOOKING[] = {
        {"mapping values are not allowed", explain_colon},
        {"could not find expected ':'", explain_missing_colon},
        {"did not find expected key", explain_no_key},
        {"did not find expected ',' or", explain_bracket},
        {"cannot start any token", explain_character},
        {"found a tab character", explain_character},
    };
    for (size_t i = 0; i < sizeof LOOKING / sizeof LOOKING[0]; i++)
        if (strstr(parser->problem, LOOKING[i].theirs) != NULL)
            return LOOKING[i].explain(&t);
    for (size_t i = 0; i < sizeof SIMPLE / sizeof SIMPLE[0]; i++)
        if (strstr(parser->problem, SIMPLE[i].theirs) != NULL)
            return explain(
                &t,
                place_of(&t, SIMPLE[i].at_context ? parser->context_mark : parser->problem_mark),
                SIMPLE[i].ours);
    return tcr_fail(error, TCR_E_CONTENT, place_of(&t, parser->problem_mark),
                    "this is not YAML: %s", parser->problem);
}
