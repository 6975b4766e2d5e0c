/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON (RFC 8259), streamed: the text of each value, commas, and line breaks for a reader's eye. */
#include "file/json.h"

#include <math.h>

#include "num/printable.h"

void tcr_json_begin(tcr_json *json, tcr_writer *writer) {
    *json = (tcr_json){.writer = writer, .is_empty = true};
}

static bool is_in_line(const tcr_json *json) {
    return json->in_line > 0 && json->depth >= json->in_line;
}

static void new_line(tcr_json *json) {
    tcr_put(json->writer, "\n");
    for (unsigned i = 0; i < json->depth; i++)
        tcr_put(json->writer, " ");
}

static void put_digits(tcr_writer *writer, const char *mark, unsigned digits, uint32_t code) {
    tcr_put(writer, mark);
    for (unsigned i = digits; i-- > 0;)
        tcr_put_byte(writer, "0123456789abcdef"[code >> (4 * i) & 15]);
}

/* \u001b; what lies beyond 16 bits is two of them in JSON (RFC 8259, section 7), and \U000e0001 in
 * YAML (1.1, section 5.7), which knows no pairs. */
static void put_escape(tcr_writer *writer, uint32_t code, bool yaml) {
    if (code <= 0xffff) {
        put_digits(writer, "\\u", 4, code);
    } else if (yaml) {
        put_digits(writer, "\\U", 8, code);
    } else {
        put_digits(writer, "\\u", 4, 0xd800 + ((code - 0x10000) >> 10));
        put_digits(writer, "\\u", 4, 0xdc00 + ((code - 0x10000) & 0x3ff));
    }
}

/* Reports may be printed on a terminal, so what must not reach one is escaped too. */
static void put_text(tcr_writer *writer, const char *text, bool yaml) {
    tcr_put_byte(writer, '"');
    const char *plain = text; /* start of what needs no escape */
    while (*text != '\0') {
        uint32_t code = (unsigned char)*text;
        const size_t bytes = code < 0x80 ? 1 : tcr_utf8_next(text, &code);
        if (code != '"' && code != '\\' && !tcr_utf8_is_unsafe(code)) {
            text += bytes;
            continue;
        }
        tcr_put_bytes(writer, plain, (size_t)(text - plain));
        if (code == TCR_UTF8_INVALID)
            tcr_put(writer, "\xef\xbf\xbd");
        else if (code == '"' || code == '\\')
            tcr_put(writer, code == '"' ? "\\\"" : "\\\\");
        else
            put_escape(writer, code, yaml);
        text += bytes;
        plain = text;
    }
    tcr_put_bytes(writer, plain, (size_t)(text - plain));
    tcr_put_byte(writer, '"');
}

void tcr_json_put_text(tcr_writer *writer, const char *text) { put_text(writer, text, false); }

void tcr_yaml_put_text(tcr_writer *writer, const char *text) { put_text(writer, text, true); }

/* What stands before a value: comma, line break, key. */
static void lead(tcr_json *json, const char *key) {
    if (!json->is_empty)
        tcr_put(json->writer, is_in_line(json) ? ", " : ",");
    if (json->depth > 0 && !is_in_line(json))
        new_line(json);
    if (key != NULL) {
        tcr_put_byte(json->writer, '"');
        tcr_put(json->writer, key);
        tcr_put_bytes(json->writer, "\": ", 3);
    }
    json->is_empty = false;
}

static void open_container(tcr_json *json, const char *key, bool is_array) {
    lead(json, key);
    tcr_put(json->writer, is_array ? "[" : "{");
    const uint64_t bit = (uint64_t)1 << (json->depth & 63);
    json->arrays = is_array ? json->arrays | bit : json->arrays & ~bit;
    json->depth++;
    json->is_empty = true;
}

void tcr_json_object(tcr_json *json, const char *key) { open_container(json, key, false); }

void tcr_json_array(tcr_json *json, const char *key) { open_container(json, key, true); }

void tcr_json_in_line(tcr_json *json) {
    if (json->in_line == 0)
        json->in_line = json->depth;
}

void tcr_json_end(tcr_json *json) {
    const bool line_breaks = !is_in_line(json) && !json->is_empty;
    if (json->in_line == json->depth)
        json->in_line = 0;
    json->depth--;
    if (line_breaks)
        new_line(json);
    tcr_put(json->writer, json->arrays >> (json->depth & 63) & 1 ? "]" : "}");
    if (json->depth == 0)
        tcr_put(json->writer, "\n");
    json->is_empty = false;
}

void tcr_json_text(tcr_json *json, const char *key, const char *text) {
    if (text == NULL) {
        tcr_json_null(json, key);
        return;
    }
    lead(json, key);
    tcr_json_put_text(json->writer, text);
}

void tcr_json_number(tcr_json *json, const char *key, double number) {
    if (!isfinite(number)) {
        tcr_json_null(json, key);
        return;
    }
    lead(json, key);
    tcr_put_number(json->writer, number);
}

void tcr_json_count(tcr_json *json, const char *key, size_t count) {
    lead(json, key);
    tcr_put_count(json->writer, count);
}

void tcr_json_bool(tcr_json *json, const char *key, bool value) {
    lead(json, key);
    tcr_put(json->writer, value ? "true" : "false");
}

void tcr_json_null(tcr_json *json, const char *key) {
    lead(json, key);
    tcr_put(json->writer, "null");
}
