/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FILE_READ_REPORT_H
#define TCR_TESTS_FILE_READ_REPORT_H

/* A JSON report read back with jansson, and its members held against what they should be; and what
 * a table for people should hold. */

#include <math.h>
#include <string.h>

#include <jansson.h>

#include "file/sample.h"

/* The report, the caller's to json_decref; its text is freed. */
static inline json_t *read_report(text *written) {
    json_error_t error;
    json_t *root = json_loads(written->bytes, JSON_REJECT_DUPLICATES, &error);
    if (root == NULL)
        ck_abort_msg("line %d of the report: %s", error.line, error.text);
    free(written->bytes);
    return root;
}

/* A member that must be there. */
static inline json_t *get(const json_t *object, const char *key) {
    json_t *value = json_object_get(object, key);
    if (value == NULL)
        ck_abort_msg("the report lacks %s", key);
    return value;
}

static inline const char *get_text(const json_t *object, const char *key) {
    const char *value = json_string_value(get(object, key));
    if (value == NULL)
        ck_abort_msg("%s is not a string", key);
    return value;
}

/* The same double, or null for NaN and infinity. */
static inline void expect_member(const json_t *object, const char *key, double expected) {
    const json_t *value = get(object, key);
    given("member %s", key);
    if (!isfinite(expected)) {
        expect_true(json_is_null(value));
        return;
    }
    expect_true(json_is_number(value));
    expect_same(json_number_value(value), expected, "fewest digits that read back as the same");
}

static inline void expect_whole(const json_t *object, const char *key, size_t expected) {
    given("member %s", key);
    expect_true(json_is_integer(get(object, key)));
    expect_count(json_integer_value(get(object, key)), expected);
}

static inline void expect_flag(const json_t *object, const char *key, bool expected) {
    given("member %s", key);
    expect_true(json_is_boolean(get(object, key)));
    expect_count(json_is_true(get(object, key)), expected);
}

/* The names of an object's members in order, with blanks between. */
static inline void expect_names(const json_t *object, const char *expected) {
    char names[400] = "";
    const char *key;
    json_t *value;
    json_object_foreach((json_t *)(uintptr_t)object, key, value) {
        strcat(names, names[0] != '\0' ? " " : "");
        strcat(names, key);
    }
    expect_text(names, expected);
}

/* The table has this in it; blanks and ends of lines count as one blank, however many. */
static inline void expect_told(const char *table, const char *expected) {
    char *joined = malloc(strlen(table) + 1), *to = joined;
    ck_assert_ptr_nonnull(joined);
    for (const char *at = table; *at != '\0';) {
        const size_t blanks = strspn(at, " \n");
        *to++ = blanks > 0 ? ' ' : *at;
        at += blanks > 0 ? blanks : 1;
    }
    *to = '\0';
    if (strstr(joined, expected) == NULL)
        ck_abort_msg("the table lacks \"%s\":\n%s", expected, table);
    free(joined);
}

/* Every line is at most 80 columns wide: bytes that do not continue a character. */
static inline void expect_80_columns(const char *table) {
    for (const char *at = table; *at != '\0';) {
        const size_t bytes = strcspn(at, "\n");
        int columns = 0;
        for (size_t i = 0; i < bytes; i++)
            columns += ((unsigned char)at[i] & 0xc0) != 0x80;
        given("line \"%.*s\"", (int)bytes, at);
        expect_within(columns, 0, 80, "the width of a terminal");
        at += bytes + (at[bytes] == '\n');
    }
}

#endif
