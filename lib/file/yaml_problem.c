/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * libyaml says where it stopped, in words about simple keys and flow nodes that may change with its
 * version. So only its places are used: what people did is nearly always one of a few things, and
 * the bytes before that place show which: a tab, a missing blank or colon, a comma or bracket, a
 * quotation mark, a line that is indented wrongly.
 */
#include "file/yaml_problem.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include "file/syntax.h"
#include "num/printable.h"

static const char GENERAL[] =
    "this cannot be read as YAML; lines read \"key: value\", those that belong together begin in "
    "the same column, and a text with any of : # , [ ] { } needs quotes";

enum { OPEN_MAX = 64 }; /* brackets that are kept; a set file may have 32 in each other */

/* What is open at a place: a quotation mark, and brackets. */
typedef struct opened {
    size_t quote; /* where it stands; SIZE_MAX: none */
    size_t bracket[OPEN_MAX];
    size_t depth;
} opened;

typedef struct trouble {
    const char *bytes;
    size_t size;
    size_t at;   /* where libyaml stopped */
    size_t from; /* where what it was reading began; SIZE_MAX: not told */
    bool in_scanner;
    opened before; /* what is open there */
    const char *path;
    tcr_error *error;
} trouble;

/* ---- Places -------------------------------------------------------------------------- */

static bool is_blank(char c) { return c == ' ' || c == '\t'; }

static bool is_end(char c) { return c == '\n' || c == '\r' || c == '\0'; }

static char byte_at(const trouble *t, size_t i) { return i < t->size ? t->bytes[i] : '\0'; }

static bool is_gap(const trouble *t, size_t i) {
    return is_blank(byte_at(t, i)) || is_end(byte_at(t, i));
}

static bool starts_character(char c) { return ((unsigned char)c & 0xC0) != 0x80; }

/* Where the text begins: behind the byte order mark. */
static size_t beginning_of(const trouble *t) {
    return t->size >= 3 && memcmp(t->bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

/* Marks count characters behind the byte order mark; here it is bytes. */
static size_t offset_of(const trouble *t, yaml_mark_t mark) {
    size_t i = beginning_of(t);
    for (size_t left = mark.index; left > 0 && i < t->size; left--)
        for (i++; i < t->size && !starts_character(t->bytes[i]);)
            i++;
    return i;
}

static size_t line_of(const trouble *t, size_t i) {
    while (i > beginning_of(t) && !is_end(t->bytes[i - 1]))
        i--;
    return i;
}

static size_t end_of(const trouble *t, size_t i) {
    while (i < t->size && !is_end(t->bytes[i]))
        i++;
    return i;
}

static size_t text_of(const trouble *t, size_t line) {
    while (is_blank(byte_at(t, line)))
        line++;
    return line;
}

/* The last line above this one that holds more than a comment; SIZE_MAX: none. */
static size_t line_above(const trouble *t, size_t line) {
    while (line > beginning_of(t)) {
        line = line_of(t, line - 1);
        const char first = byte_at(t, text_of(t, line));
        if (!is_end(first) && first != '#')
            return line;
    }
    return SIZE_MAX;
}

static tcr_place place_at(const trouble *t, size_t offset) {
    tcr_place place = {t->path, 1, 1};
    for (size_t i = beginning_of(t); i < offset && i < t->size; i++) {
        const char c = t->bytes[i];
        if (c == '\n' || (c == '\r' && byte_at(t, i + 1) != '\n')) {
            place.line++;
            place.column = 1;
        } else if (starts_character(c)) {
            place.column++;
        }
    }
    return place;
}

static bool tell(const trouble *t, size_t offset, const char *text) {
    tcr_fail(t->error, TCR_E_CONTENT, place_at(t, offset), "%s", text);
    return true;
}

/* The same of a line that is indented otherwise than the one above it: either may be the wrong one.
 */
static bool tell_indent(const trouble *t, size_t offset, const char *text) {
    const size_t above = line_above(t, line_of(t, offset));
    if (above == SIZE_MAX)
        return tell(t, offset, text);
    const tcr_place here = place_at(t, offset), other = place_at(t, text_of(t, above));
    tcr_fail(t->error, TCR_E_CONTENT, here,
             "%s; it begins in column %zu, and line %zu above it in column %zu", text,
             (size_t)here.column, (size_t)other.line, (size_t)other.column);
    return true;
}

/* ---- What is open -------------------------------------------------------------------- */

/* The end of a quoted text that begins at i; SIZE_MAX where it has none. */
static size_t past_quote(const trouble *t, size_t i) {
    const char quote = t->bytes[i++];
    for (; i < t->size; i++) {
        if (t->bytes[i] == quote && quote == '\'' && byte_at(t, i + 1) == '\'')
            i++;
        else if (t->bytes[i] == quote)
            return i + 1;
        else if (t->bytes[i] == '\\' && quote == '"')
            i++;
        else if (is_end(t->bytes[i - 1]) && t->size - i > 3 && memcmp(t->bytes + i, "---", 3) == 0)
            break; /* the end of a document ends the text too */
    }
    return SIZE_MAX;
}

/* What is open at an offset. Block texts behind | and > are read as if they were not. */
static void look_for_open(const trouble *t, size_t end, opened *found) {
    bool fresh = true; /* a value may begin here */
    *found = (opened){.quote = SIZE_MAX};
    for (size_t i = 0; i < end;) {
        const char c = t->bytes[i];
        if (fresh && (c == '"' || c == '\'')) {
            const size_t past = past_quote(t, i);
            if (past > end) {
                found->quote = i;
                return;
            }
            i = past;
            fresh = false;
            continue;
        }
        if (c == '#' && (i == 0 || is_gap(t, i - 1))) {
            i = end_of(t, i);
            continue;
        }
        const bool in_flow = found->depth > 0;
        if ((c == '[' || c == '{') && (fresh || in_flow) && found->depth < OPEN_MAX)
            found->bracket[found->depth++] = i;
        else if (in_flow && (c == ']' || c == '}') &&
                 t->bytes[found->bracket[found->depth - 1]] == (c == ']' ? '[' : '{'))
            found->depth--;
        if (!is_blank(c))
            fresh = is_end(c) || c == '[' || c == '{' || (in_flow && c == ',') ||
                    ((c == ':' || c == '-' || c == '?') && is_gap(t, i + 1));
        i++;
    }
}

/* ---- What may be wrong --------------------------------------------------------------- */

/* A line without its colon, or without the blank behind it; false where it lacks neither. */
static bool about_line(const trouble *t, size_t line) {
    size_t start = text_of(t, line);
    while (byte_at(t, start) == '-' && is_blank(byte_at(t, start + 1)))
        start = text_of(t, start + 1);
    const size_t end = end_of(t, start);
    size_t key = start;
    while (key < end && (t->bytes[key] == '_' || (t->bytes[key] == '-' && key > start) ||
                         (t->bytes[key] >= '0' && t->bytes[key] <= '9') ||
                         ((t->bytes[key] | 0x20) >= 'a' && (t->bytes[key] | 0x20) <= 'z')))
        key++;
    tcr_quoted words, value;
    if (key > start && byte_at(t, key) == ':' && !is_gap(t, key + 1)) {
        tcr_quote(&words, t->bytes + start, key - start + 1);
        tcr_quote(&value, t->bytes + key + 1, end - key - 1);
        tcr_fail(t->error, TCR_E_CONTENT, place_at(t, key),
                 "a space is missing after the colon, between %s and %s", words.text, value.text);
        return true;
    }
    for (size_t i = start; i < end; i++)
        if (t->bytes[i] == ':' && is_gap(t, i + 1))
            return false;
    if (start == end)
        return false;
    tcr_quote(&words, t->bytes + start, end - start);
    tcr_fail(t->error, TCR_E_CONTENT, place_at(t, start),
             "%s has no colon; a line here reads \"key: value\"", words.text);
    return true;
}

static bool about_quotes(const trouble *t) {
    opened all;
    look_for_open(t, t->size, &all);
    if (t->before.quote != SIZE_MAX && all.quote == SIZE_MAX)
        return tell(t, t->at,
                    byte_at(t, t->at) == '\\'
                        ? "a \\ has a meaning inside \"...\"; write it twice, or use '...'"
                        : TCR_NO_ESCAPE);
    return all.quote != SIZE_MAX && all.quote <= t->at && tell(t, all.quote, TCR_OPEN_QUOTE);
}

/* Inside [ ] or { }. */
static bool about_brackets(const trouble *t) {
    if (t->before.depth == 0)
        return false;
    const char here = byte_at(t, t->at);
    size_t i = t->at;
    while (i > 0 && is_gap(t, i - 1))
        i--;
    if (i > 0 && strchr(",[{", t->bytes[i - 1]) != NULL && here == ',')
        return tell(t, t->at, TCR_NO_VALUE);
    const size_t open = t->before.bracket[t->before.depth - 1];
    const bool list = t->bytes[open] == '[';
    tcr_fail(t->error, TCR_E_CONTENT, place_at(t, t->at), TCR_NO_COMMA, list ? "]" : "}",
             list ? "[" : "{", place_at(t, open).line);
    return true;
}

/* Characters that mean something to YAML. */
static bool about_characters(const trouble *t) {
    static const char SIGNS[] = "@`%&*!|>?";
    const size_t line = line_of(t, t->at), start = text_of(t, line);
    const size_t suspects[] = {t->at, t->from};
    if (byte_at(t, t->at) == '\t' ||
        (start >= t->at && memchr(t->bytes + line, '\t', start - line)))
        return tell(t, byte_at(t, t->at) == '\t' ? t->at : line,
                    "a tab where only spaces can indent; write spaces instead");
    for (int k = 0; k < 2; k++) {
        const char c = suspects[k] < t->size ? t->bytes[suspects[k]] : '\0';
        if (c != '\0' && strchr(SIGNS, c) != NULL) {
            tcr_fail(t->error, TCR_E_CONTENT, place_at(t, suspects[k]),
                     "a text cannot begin with %c; put it in quotes", c);
            return true;
        }
    }
    return false;
}

/* A colon where none can be: a second one, or behind a line that lacks one. */
static bool about_colon(const trouble *t) {
    const size_t line = line_of(t, t->at), above = line_above(t, line);
    if (byte_at(t, t->at) != ':')
        return false;
    for (size_t i = line; i + 1 < t->at; i++)
        if (t->bytes[i] == ':' && is_blank(t->bytes[i + 1]))
            return tell(t, t->at,
                        "a second colon in one line; put a text that holds a colon in quotes, and "
                        "give each key a line of its own, or put them in { }");
    return (above != SIZE_MAX && about_line(t, above)) ||
           tell_indent(t, text_of(t, line),
                       "this line is indented further than the one above it allows; lines that "
                       "belong together begin in the same column");
}

/* What stands behind a quoted text, which ends before 'end'. One of several lines lacks its mark.
 */
static bool about_quoted(const trouble *t, size_t end) {
    opened within;
    look_for_open(t, end - 1, &within);
    if (within.quote == SIZE_MAX || line_of(t, within.quote) == line_of(t, end))
        return tell(t, t->at,
                    "text goes on after the closing quotation mark; inside '...' write a ' twice, "
                    "or put the whole text in \"...\"");
    tcr_fail(t->error, TCR_E_CONTENT, place_at(t, within.quote),
             "the text that begins here is closed in line %zu only, where more follows; is a %c "
             "missing in this line?",
             (size_t)place_at(t, end).line, t->bytes[within.quote]);
    return true;
}

/* What stands behind something that is complete. */
static bool about_text_behind(const trouble *t) {
    const char here = byte_at(t, t->at);
    size_t i = t->at;
    while (i > 0 && is_blank(t->bytes[i - 1]))
        i--;
    if (i > 0 && (t->bytes[i - 1] == '"' || t->bytes[i - 1] == '\''))
        return about_quoted(t, i);
    if (here == '}' || here == ']')
        return tell(t, t->at, "this bracket closes nothing that was opened");
    const size_t first = text_of(t, beginning_of(t));
    return (byte_at(t, first) == '{' || byte_at(t, first) == '[') && tell(t, t->at, TCR_MORE_TEXT);
}

/* Dashes of lists. */
static bool about_dash(const trouble *t) {
    const size_t line = line_of(t, t->at), start = text_of(t, line);
    if (byte_at(t, t->at) == '-' && is_gap(t, t->at + 1))
        return tell(t, t->at,
                    start == t->at
                        ? "a list item where none belongs; the items of one list begin with \"- \" "
                          "in the same column"
                        : "a list item cannot begin here; put each \"- \" on a line of its own");
    size_t above = start == t->at ? line_above(t, line) : SIZE_MAX;
    while (above != SIZE_MAX && text_of(t, above) - above > start - line)
        above = line_above(t, above);
    if (above == SIZE_MAX || text_of(t, above) - above != start - line)
        return false;
    const size_t dash = text_of(t, above);
    return byte_at(t, dash) == '-' && is_gap(t, dash + 1) &&
           tell(t, t->at,
                "this line is in a list, but begins without \"- \"; put that in front of it, "
                "or indent it as far as the lines of the item above");
}

/* A line that begins as far to the right as the one above it, which is no list item: what does not
 * fit is above. */
static bool about_above(const trouble *t, size_t line) {
    const size_t above = line_above(t, line);
    return above != SIZE_MAX && byte_at(t, text_of(t, above)) != '-' &&
           text_of(t, above) - above == text_of(t, line) - line && about_line(t, above);
}

static bool about_rest(const trouble *t) {
    const size_t line = line_of(t, t->at);
    if (t->in_scanner && t->from < t->size && about_line(t, line_of(t, t->from)))
        return true;
    if (text_of(t, line) == t->at && t->at < t->size)
        return about_above(t, line) ||
               tell_indent(t, t->at,
                           "this line begins in a column where nothing above begins; lines that "
                           "belong together begin in the same column");
    return tell(t, t->at, GENERAL);
}

/* What is no text at all: libyaml tells about where. */
static tcr_status about_bytes(const trouble *t, size_t offset) {
    for (size_t i = 0; i <= offset && i < t->size;) {
        char next[8] = "";
        uint32_t code;
        memcpy(next, t->bytes + i, t->size - i < 4 ? t->size - i : 4);
        const size_t length = tcr_utf8_next(next, &code);
        if (code == TCR_UTF8_INVALID) {
            tell(t, i, TCR_NO_UTF8);
            return TCR_E_CONTENT;
        }
        i += length;
    }
    tell(t, offset, TCR_CONTROL_CHARACTER);
    return TCR_E_CONTENT;
}

tcr_status tcr_yaml_problem(const yaml_parser_t *parser, const char *bytes, size_t size,
                            const char *path, tcr_error *error) {
    trouble t = {.bytes = bytes, .size = size, .path = path, .error = error};
    if (parser->error == YAML_MEMORY_ERROR || parser->error == YAML_NO_ERROR)
        return tcr_fail_memory(error, path);
    if (parser->error == YAML_READER_ERROR)
        return about_bytes(&t, parser->problem_offset < size ? parser->problem_offset : size);
    if (parser->encoding != YAML_UTF8_ENCODING) /* the bytes are not those that libyaml counts */
        return tcr_fail(
            error, TCR_E_CONTENT,
            (tcr_place){path, parser->problem_mark.line + 1, parser->problem_mark.column + 1}, "%s",
            GENERAL);
    t.at = offset_of(&t, parser->problem_mark);
    t.from = parser->context != NULL ? offset_of(&t, parser->context_mark) : SIZE_MAX;
    t.in_scanner = parser->error == YAML_SCANNER_ERROR;
    look_for_open(&t, t.at, &t.before);
    static bool (*const ABOUT[])(const trouble *) = {
        about_quotes, about_characters,  about_brackets, about_colon,
        about_dash,   about_text_behind, about_rest,
    };
    for (size_t i = 0; i < sizeof ABOUT / sizeof *ABOUT && !ABOUT[i](&t);)
        i++;
    return TCR_E_CONTENT;
}
