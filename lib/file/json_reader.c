/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * JSON by RFC 8259, fed into a tree: objects as mappings, arrays as lists, texts as quoted scalars,
 * all else as plain ones, whose text stays as it is in the file, so that numbers are read by the
 * same code as those of YAML. What is open is kept in the tree's builder, so nothing here calls
 * itself.
 */
#include <string.h>

#include "file/syntax.h"
#include "file/tree.h"
#include "num/printable.h"

typedef struct json {
    const char *bytes;
    size_t size, at;
    tcr_place place; /* of 'at' */
    tcr_tree_builder build;
} json;

/* ---- Characters ------------------------------------------------------------------------------ */

/* '\0' at the end, and for a NUL, which nothing takes. */
static char here(const json *j) { return j->at < j->size ? j->bytes[j->at] : '\0'; }

static bool starts_character(char c) { return ((unsigned char)c & 0xC0) != 0x80; }

/* Past one byte. A carriage return with a line feed behind it ends one line. */
static void pass(json *j) {
    const char c = j->bytes[j->at++];
    if (c == '\n' || (c == '\r' && here(j) != '\n')) {
        j->place.line++;
        j->place.column = 1;
    } else if (starts_character(c) && c != '\r') {
        j->place.column++;
    }
}

static void skip_blanks(json *j) {
    while (j->at < j->size && strchr(" \t\r\n", here(j)) != NULL && here(j) != '\0')
        pass(j);
}

static tcr_status fail_at(const json *j, tcr_place place, const char *text) {
    return tcr_fail(j->build.error, TCR_E_CONTENT, place, "%s", text);
}

static tcr_status fail(const json *j, const char *text) { return fail_at(j, j->place, text); }

/* ---- Texts ----------------------------------------------------------------------------------- */

static int hex_of(char c) {
    if (c >= '0' && c <= '9')
        return c - '0';
    const char small = (char)(c | 0x20);
    return small >= 'a' && small <= 'f' ? small - 'a' + 10 : -1;
}

/* The four digits of an escape from an offset on; UINT32_MAX where they are none. */
static uint32_t code_at(const json *j, size_t at) {
    uint32_t code = 0;
    for (size_t i = at; i < at + 4; i++) {
        const int digit = i < j->size ? hex_of(j->bytes[i]) : -1;
        if (digit < 0)
            return UINT32_MAX;
        code = code * 16 + (uint32_t)digit;
    }
    return code;
}

static char *put_utf8(char *out, uint32_t code) {
    if (code < 0x80) {
        *out++ = (char)code;
        return out;
    }
    if (code >= 0x10000) {
        *out++ = (char)(0xF0 | code >> 18);
        *out++ = (char)(0x80 | (code >> 12 & 0x3F));
    } else if (code >= 0x800) {
        *out++ = (char)(0xE0 | code >> 12);
    }
    *out++ = (char)(code >= 0x800 ? 0x80 | (code >> 6 & 0x3F) : 0xC0 | code >> 6);
    *out++ = (char)(0x80 | (code & 0x3F));
    return out;
}

/* \uXXXX, or two of them for a character beyond 0xFFFF; 'at' is at the backslash. */
static tcr_status read_code(json *j, char **out) {
    uint32_t code = code_at(j, j->at + 2);
    size_t taken = 6;
    if (code >= 0xD800 && code < 0xDC00 && j->at + 12 <= j->size &&
        memcmp(j->bytes + j->at + 6, "\\u", 2) == 0) {
        const uint32_t low = code_at(j, j->at + 8);
        if (low >= 0xDC00 && low < 0xE000) {
            code = 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00);
            taken = 12;
        }
    }
    if (code == UINT32_MAX || (code >= 0xD800 && code < 0xE000))
        return fail(j, TCR_NO_ESCAPE);
    *out = put_utf8(*out, code);
    for (; taken > 0; taken--)
        pass(j);
    return TCR_OK;
}

static tcr_status read_escape(json *j, char **out) {
    static const char FROM[] = "\"\\/bfnrt", TO[] = "\"\\/\b\f\n\r\t";
    const char c = j->at + 1 < j->size ? j->bytes[j->at + 1] : '\0';
    if (c == 'u')
        return read_code(j, out);
    const char *known = c != '\0' ? strchr(FROM, c) : NULL;
    if (known == NULL)
        return fail(j, TCR_NO_ESCAPE);
    *(*out)++ = TO[known - FROM];
    pass(j);
    pass(j);
    return TCR_OK;
}

/* Whether YAML lets a character stand in a file; it bars some controls that JSON does not. */
static bool is_allowed(uint32_t code) {
    return code >= 0x20 && (code < 0x7F || code == 0x85 || code >= 0xA0) && code != 0xFFFE &&
           code != 0xFFFF;
}

/* A character as it stands in the file. */
static tcr_status read_character(json *j, char **out) {
    char next[8] = "";
    uint32_t code = 0;
    size_t length = 1;
    memcpy(next, j->bytes + j->at, j->size - j->at < 4 ? j->size - j->at : 4);
    if (next[0] != '\0')
        length = tcr_utf8_next(next, &code);
    if (code == TCR_UTF8_INVALID)
        return fail(j, TCR_NO_UTF8);
    if (!is_allowed(code))
        return fail(j, TCR_CONTROL_CHARACTER);
    memcpy(*out, next, length);
    *out += length;
    for (size_t i = 0; i < length; i++)
        pass(j);
    return TCR_OK;
}

/* No text is longer decoded than between its quotation marks, so this gives room for it. */
static size_t bytes_to_quote(const json *j) {
    size_t i = j->at + 1;
    while (i < j->size && j->bytes[i] != '"')
        i += j->bytes[i] == '\\' ? 2 : 1;
    return i - j->at;
}

static tcr_status read_text(json *j) {
    const tcr_place place = j->place;
    char *const text = tcr_tree_room(&j->build, bytes_to_quote(j)), *end = text;
    tcr_status status = TCR_OK;
    if (text == NULL)
        return tcr_fail_memory(j->build.error, place.path);
    pass(j);
    while (status == TCR_OK && here(j) != '"') {
        if (j->at >= j->size || here(j) == '\n' || here(j) == '\r')
            return fail_at(j, place, TCR_OPEN_QUOTE);
        status = here(j) == '\\' ? read_escape(j, &end) : read_character(j, &end);
    }
    if (status != TCR_OK)
        return status;
    pass(j);
    return tcr_tree_add_scalar(&j->build, (size_t)(end - text), true, place);
}

/* ---- Words and numbers ----------------------------------------------------------------------- */

static size_t digits_at(const char *text, size_t at, size_t size) {
    size_t end = at;
    while (end < size && text[end] >= '0' && text[end] <= '9')
        end++;
    return end - at;
}

/* -0.5e-3: as section 6 has it, so no sign +, no zero in front, digits on both sides of a point. */
static bool is_number(const char *text, size_t size) {
    size_t at = size > 0 && text[0] == '-' ? 1 : 0;
    const size_t whole = digits_at(text, at, size);
    if (whole == 0 || (whole > 1 && text[at] == '0'))
        return false;
    at += whole;
    if (at < size && text[at] == '.') {
        const size_t digits = digits_at(text, at + 1, size);
        if (digits == 0)
            return false;
        at += 1 + digits;
    }
    if (at < size && (text[at] == 'e' || text[at] == 'E')) {
        at++;
        if (at < size && (text[at] == '+' || text[at] == '-'))
            at++;
        const size_t digits = digits_at(text, at, size);
        if (digits == 0)
            return false;
        at += digits;
    }
    return at == size;
}

static bool is_word(const char *word, const char *text, size_t bytes) {
    return strlen(word) == bytes && memcmp(word, text, bytes) == 0;
}

/* What ends a word: blanks, the signs of JSON, and the end of the file. */
static bool ends_word(char c) { return c == '\0' || strchr(" \t\r\n,:[]{}\"", c) != NULL; }

/* A word that is none: what is no text at all is told where it is. */
static tcr_status fail_word(json *j, const char *text, size_t bytes) {
    const tcr_place place = j->place;
    char unused[8], *out = unused;
    tcr_quoted quoted;
    for (size_t i = 0; i < bytes; out = unused) {
        const size_t before = j->at;
        const tcr_status status = read_character(j, &out);
        if (status != TCR_OK)
            return status;
        i += j->at - before;
    }
    if (j->build.depth == 0)
        return fail_at(j, place,
                       "this is not JSON, which begins with {; a set file in YAML needs tipcrest "
                       "with libyaml");
    return tcr_fail(j->build.error, TCR_E_CONTENT, place,
                    "%s is no value in JSON; write a number such as 0.5, a text in \"...\", true, "
                    "false or null",
                    tcr_quote(&quoted, text, bytes));
}

static tcr_status read_plain(json *j) {
    const tcr_place place = j->place;
    const char *text = j->bytes + j->at;
    size_t bytes = 0;
    while (j->at + bytes < j->size && !ends_word(text[bytes]))
        bytes++;
    if (bytes == 0) /* a NUL: all other signs were seen to */
        return fail(j, TCR_CONTROL_CHARACTER);
    if (!is_word("true", text, bytes) && !is_word("false", text, bytes) &&
        !is_word("null", text, bytes) && !is_number(text, bytes))
        return fail_word(j, text, bytes);
    char *room = tcr_tree_room(&j->build, bytes);
    if (room == NULL)
        return tcr_fail_memory(j->build.error, place.path);
    memcpy(room, text, bytes);
    for (size_t i = 0; i < bytes; i++)
        pass(j);
    return tcr_tree_add_scalar(&j->build, bytes, false, place);
}

/* ---- Structure ------------------------------------------------------------------------------- */

static tcr_node_kind open_kind(const json *j) {
    return j->build.tree->nodes[j->build.open[j->build.depth - 1].node].kind;
}

/* A value, or the opening of one. */
static tcr_status read_value(json *j) {
    const char c = here(j);
    if (c == '"')
        return read_text(j);
    if (j->at >= j->size || strchr(",:]}", c) != NULL)
        return c == '\0' && j->at < j->size ? fail(j, TCR_CONTROL_CHARACTER)
                                            : fail(j, TCR_NO_VALUE);
    if (c != '{' && c != '[')
        return read_plain(j);
    const tcr_status status =
        tcr_tree_open(&j->build, c == '{' ? TCR_NODE_MAPPING : TCR_NODE_LIST, j->place);
    if (status == TCR_OK)
        pass(j);
    return status;
}

/* A key with its colon. */
static tcr_status read_key(json *j) {
    if (here(j) == '{' || here(j) == '[')
        return tcr_tree_open(&j->build, TCR_NODE_LIST, j->place); /* which says that it cannot be */
    if (here(j) != '"')
        return fail(j, j->at >= j->size || strchr(",:]}", here(j)) != NULL
                           ? "a key is missing here"
                           : "a key needs quotation marks in JSON: \"...\"");
    const tcr_status status = read_text(j);
    if (status != TCR_OK)
        return status;
    skip_blanks(j);
    if (here(j) != ':')
        return fail(j, "a colon is missing before this");
    pass(j);
    return TCR_OK;
}

/* Behind a value: closes what ends here, and passes the comma before the next one. */
static tcr_status end_value(json *j, bool *more) {
    skip_blanks(j);
    while (j->build.depth > 0) {
        const bool list = open_kind(j) == TCR_NODE_LIST;
        if (here(j) == ',') {
            pass(j);
            *more = true;
            return TCR_OK;
        }
        if (here(j) != (list ? ']' : '}')) {
            const tcr_node *open = &j->build.tree->nodes[j->build.open[j->build.depth - 1].node];
            return tcr_fail(j->build.error, TCR_E_CONTENT, j->place, TCR_NO_COMMA, list ? "]" : "}",
                            list ? "[" : "{", (unsigned long)open->line);
        }
        tcr_tree_close(&j->build);
        pass(j);
        skip_blanks(j);
    }
    *more = false;
    return j->at < j->size ? fail(j, TCR_MORE_TEXT) : TCR_OK;
}

/* Whether a list or mapping that has just been opened is empty. */
static bool is_empty(const json *j) {
    return here(j) == (open_kind(j) == TCR_NODE_LIST ? ']' : '}');
}

static tcr_status read_all(json *j) {
    tcr_status status = TCR_OK;
    bool more = true;
    while (status == TCR_OK && more) {
        const size_t depth = j->build.depth;
        skip_blanks(j);
        if (tcr_tree_key_is_due(&j->build)) {
            status = read_key(j);
            skip_blanks(j);
        }
        if (status == TCR_OK)
            status = read_value(j);
        skip_blanks(j);
        const bool opened = status == TCR_OK && j->build.depth > depth;
        if (status == TCR_OK && (!opened || is_empty(j)))
            status = end_value(j, &more);
    }
    return status;
}

tcr_status tcr_tree_read_json(const tcr_allocator *allocator, const char *bytes, size_t size,
                              const char *path, tcr_tree *tree, tcr_error *error) {
    json j = {.bytes = bytes, .size = size, .place = {path, 1, 1}};
    j.build = tcr_tree_begin(allocator, path, tree, error);
    if (size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0)
        j.at = 3;
    skip_blanks(&j);
    return j.at < size ? read_all(&j) : tcr_tree_end(&j.build);
}
