/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_JSON_H
#define TCR_FILE_JSON_H

/*
 * JSON (RFC 8259), streamed. Members are given in the order in which they shall stand; key is NULL
 * in an array and for the outermost value, else a word of our own that needs no escape. Failures
 * stick to the writer.
 */
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "file/writer.h"

typedef struct tcr_json {
    tcr_writer *writer;
    unsigned depth;   /* containers that are open, at most 64 */
    unsigned in_line; /* from this depth on all stands on one line; 0: nowhere */
    uint64_t arrays;  /* bit d: the container at depth d + 1 is an array */
    bool is_empty;    /* the innermost container has no member yet */
} tcr_json;

void tcr_json_begin(tcr_json *json, tcr_writer *writer);

/* Open a container; each is ended by tcr_json_end. */
void tcr_json_object(tcr_json *json, const char *key);
void tcr_json_array(tcr_json *json, const char *key);
void tcr_json_end(tcr_json *json);

/* The container that was just opened stands on one line, with all that is in it. */
void tcr_json_in_line(tcr_json *json);

/* A text with its quotes and escapes, and the same for YAML. */
void tcr_json_put_text(tcr_writer *writer, const char *text);
void tcr_yaml_put_text(tcr_writer *writer, const char *text);

/* UTF-8; each byte that is not becomes U+FFFD. NULL becomes null. */
void tcr_json_text(tcr_json *json, const char *key, const char *text);
/* null where it is not finite. */
void tcr_json_number(tcr_json *json, const char *key, double number);
void tcr_json_count(tcr_json *json, const char *key, size_t count);
void tcr_json_bool(tcr_json *json, const char *key, bool value);
void tcr_json_null(tcr_json *json, const char *key);

#endif
