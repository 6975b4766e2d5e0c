/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_NUM_NUMBER_EXPECT_H
#define TCR_TESTS_NUM_NUMBER_EXPECT_H

/*
 * What the tests of numbers as text share: drawing doubles, and demands on one text or one number
 * that print both sides in full. There are no tolerances: texts must be the same, doubles the same
 * bit for bit.
 */
#include "num/number.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <check.h>

static inline uint64_t next(uint64_t *state) { /* xorshift64*, Vigna 2016, 10.1145/2845077 */
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * UINT64_C(0x2545F4914F6CDD1D);
}

static inline int below(uint64_t *state, int limit) { return (int)(next(state) >> 33) % limit; }

static inline double double_of(uint64_t bits) {
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

static inline uint64_t bits_of(double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

/* Any finite double. */
static inline double any_double(uint64_t *state) {
    double value;
    do
        value = double_of(next(state));
    while (!isfinite(value));
    return value;
}

static inline void reads_bytes_as(const char *text, size_t length, double expected) {
    const double before = -7.25;
    double value = before;
    const bool read = tcr_number_parse(text, length, &value);
    const int shown = length < 300 ? (int)length : 300; /* Check's messages have their limit */
    if (read != isfinite(expected))
        ck_abort_msg("\"%.*s\" was %s as %.17g, expected %.17g (infinite: refused)", shown, text,
                     read ? "read" : "refused", value, expected);
    if (!read)
        expected = before; /* a refusal leaves the value alone */
    if (bits_of(value) != bits_of(expected))
        ck_abort_msg("\"%.*s\" was read as %.17g (%a), expected %.17g (%a)", shown, text, value,
                     value, expected, expected);
}

/* The text is read as this number, or refused if this is infinite. */
static inline void reads_as(const char *text, double expected) {
    reads_bytes_as(text, strlen(text), expected);
}

static inline void is_refused(const char *text) { reads_as(text, INFINITY); }

static inline void writes(double value, const char *expected) {
    char text[TCR_NUMBER_SIZE];
    const size_t length = tcr_number_text(value, text);
    if (strcmp(text, expected) != 0 || length != strlen(expected))
        ck_abort_msg("%.17g (%a) was written as \"%s\" of length %zu, expected \"%s\"", value,
                     value, text, length, expected);
}

static inline void writes_fixed(double value, int decimals, const char *expected) {
    char text[TCR_NUMBER_SIZE];
    const size_t length = tcr_number_fixed(value, decimals, text);
    if (strcmp(text, expected) != 0 || length != strlen(expected))
        ck_abort_msg("%.17g (%a) with %d decimals was written as \"%s\" of length %zu, expected "
                     "\"%s\"",
                     value, value, decimals, text, length, expected);
}

/* Runs the claims of a case in this process; the value is main's exit status. */
static inline int run_claims(const char *topic, TCase *claims) {
    Suite *suite = suite_create(topic);
    suite_add_tcase(suite, claims);
    SRunner *runner = srunner_create(suite);
    srunner_set_fork_status(runner, CK_NOFORK);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

#endif
