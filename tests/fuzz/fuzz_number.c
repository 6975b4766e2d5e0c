/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any bytes as the text of a number, and any double as text. The reference is the C library in the
 * C locale, in which this process stays: strtod and printf, correctly rounded in glibc.
 */
#include "fuzz/target.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz/claim.h"
#include "num/number.h"

enum { TEXT_MAX = 4096, DECIMALS_MAX = 9, SHORTEST_MAX = 25 /* "-2.2250738585072014e-308" */ };

static bool same(double a, double b) { return memcmp(&a, &b, sizeof a) == 0; }

/* ---- Text to double -------------------------------------------------------------------------- */

static const char *skip_digits(const char *at, size_t *count) {
    for (; *at >= '0' && *at <= '9'; at++)
        ++*count;
    return at;
}

/* [+-] digits [. digits] [e [+-] digits], the whole of a text that ends with a NUL. */
static bool is_number(const char *at) {
    size_t digits = 0, exponent = 0;
    at += *at == '+' || *at == '-';
    at = skip_digits(at, &digits);
    if (*at == '.')
        at = skip_digits(at + 1, &digits);
    if (digits > 0 && (*at == 'e' || *at == 'E')) {
        at++;
        at = skip_digits(at + (*at == '+' || *at == '-'), &exponent);
        if (exponent == 0)
            return false;
    }
    return digits > 0 && *at == '\0';
}

/* text[length] is a NUL; read is what the library made of it, or where 'ok' is false left alone. */
static void claim_read(const char *text, size_t length, bool ok, double read) {
    static const double BEFORE = -1.25;
    const double expected = strtod(text, NULL);
    const bool is = strlen(text) == length && is_number(text) && isfinite(expected);
    claim(ok == is, "\"%s\" of %zu bytes read: %d", text, length, (int)ok);
    claim(same(read, ok ? expected : BEFORE), "\"%s\" read as %.17g, not %.17g", text, read,
          ok ? expected : BEFORE);
}

static void read_text(const uint8_t *data, size_t size) {
    char text[TEXT_MAX + 1];
    const size_t length = size < TEXT_MAX ? size : TEXT_MAX;
    double value = -1.25;
    if (length > 0)
        memcpy(text, data, length);
    text[length] = '\0';
    bool ok = tcr_number_parse((const char *)data, length, &value);
    claim_read(text, length, ok, value);
    value = -1.25;
    ok = tcr_number_parse_comma((const char *)data, length, &value);
    char *comma = memchr(text, ',', length);
    if (comma != NULL) /* beside a point it is no number, as a second point would be */
        *comma = '.';
    claim_read(text, length, ok, value);
}

/* ---- Double to text -------------------------------------------------------------------------- */

static size_t digits_of(const char *text) {
    size_t digits = 0, zeros = 0;
    for (; *text != '\0' && *text != 'e'; text++) {
        if (*text == '0') {
            zeros += digits > 0; /* counts if another digit follows */
        } else if (*text > '0' && *text <= '9') {
            digits += zeros + 1;
            zeros = 0;
        }
    }
    return digits;
}

/* No decimal with a digit less reads back as the value. Left out where the doubles below are nearer
 * than those above: there the nearest decimal is not the first that might. */
static void claim_shortest(double value, const char *text) {
    char shorter[SHORTEST_MAX + 8];
    int exponent;
    const size_t digits = digits_of(text);
    if (digits < 2 || fabs(frexp(value, &exponent)) == 0.5)
        return;
    (void)snprintf(shorter, sizeof shorter, "%.*e", (int)digits - 2, value);
    claim(!same(strtod(shorter, NULL), value), "%s says as much as %s", shorter, text);
}

static void write_shortest(double value) {
    char text[TCR_NUMBER_SIZE];
    double back;
    const size_t length = tcr_number_text(value, text);
    claim(length == strlen(text) && length < SHORTEST_MAX, "\"%s\" has length %zu", text, length);
    if (!isfinite(value)) {
        claim(strcmp(text, "null") == 0, "%g became \"%s\"", value, text);
        return;
    }
    claim(tcr_number_parse(text, length, &back) && same(back, value), "%a became \"%s\"", value,
          text);
    claim(same(strtod(text, NULL), value), "%a became \"%s\"", value, text);
    claim_shortest(value, text);
}

static void write_fixed(double value, int decimals) {
    char text[TCR_NUMBER_SIZE], expected[64];
    const size_t length = tcr_number_fixed(value, decimals, text);
    claim(length == strlen(text) && length < sizeof text, "\"%s\" has length %zu", text, length);
    if (!(fabs(value) < 1e15) || decimals < 0 || decimals > DECIMALS_MAX) {
        (void)tcr_number_text(value, expected);
    } else {
        (void)snprintf(expected, sizeof expected, "%.*f", decimals, value);
        if (strpbrk(expected, "123456789") == NULL && expected[0] == '-')
            memmove(expected, expected + 1, strlen(expected)); /* never "-0.00" */
    }
    claim(strcmp(text, expected) == 0, "%a with %d decimals is \"%s\", not \"%s\"", value, decimals,
          text, expected);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    double value = 0.0;
    read_text(data, size);
    if (size < sizeof value)
        return 0;
    memcpy(&value, data, sizeof value);
    write_shortest(value);
    write_fixed(value, size > sizeof value ? (int)data[sizeof value] % 12 - 1 : 3);
    /* Doubles that people mean are those of short texts. */
    if (tcr_number_parse((const char *)data, size, &value)) {
        write_shortest(value);
        write_fixed(value, (int)(size % (DECIMALS_MAX + 1)));
    }
    return 0;
}
