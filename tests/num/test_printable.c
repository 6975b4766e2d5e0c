/* SPDX-License-Identifier: GPL-3.0-or-later */
/* UTF-8 character by character, and text of others made safe for a terminal. */
#include "num/printable.h"

#include <limits.h>
#include <string.h>

#include "support/check.h"

CLAIM(every_character_of_unicode_is_read_back) {
    /* Encoded here by the bit patterns of Unicode 15, table 3-6. */
    int good = 0;
    for (uint32_t code = 1; code <= 0x10ffff; code++) {
        if (code >= 0xd800 && code <= 0xdfff)
            continue;
        char text[5] = {0};
        size_t bytes;
        if (code < 0x80) {
            text[0] = (char)code;
            bytes = 1;
        } else if (code < 0x800) {
            text[0] = (char)(0xc0 | code >> 6);
            bytes = 2;
        } else if (code < 0x10000) {
            text[0] = (char)(0xe0 | code >> 12);
            bytes = 3;
        } else {
            text[0] = (char)(0xf0 | code >> 18);
            bytes = 4;
        }
        for (size_t i = 1; i < bytes; i++)
            text[i] = (char)(0x80 | (code >> 6 * (bytes - 1 - i) & 0x3f));
        uint32_t read;
        const size_t taken = tcr_utf8_next(text, &read);
        if (taken == bytes && read == code) {
            good++;
            continue;
        }
        given("U+%04X", (unsigned)code);
        expect_count(taken, bytes);
        expect_count(read, code);
    }
    expect_count(good, 0x10ffff - 2048); /* all but NUL and the surrogates */
}

CLAIM(a_byte_that_begins_no_character_is_taken_alone) {
    /* Stray second bytes, overlong forms, surrogates, beyond U+10FFFF, cut short: table 3-7. */
    const char *const texts[] = {"\x80",
                                 "\xbf",
                                 "\xc0\x80",
                                 "\xc1\xbf",
                                 "\xe0\x80\x80",
                                 "\xe0\x9f\xbf",
                                 "\xed\xa0\x80",
                                 "\xed\xbf\xbf",
                                 "\xf0\x80\x80\x80",
                                 "\xf0\x8f\xbf\xbf",
                                 "\xf4\x90\x80\x80",
                                 "\xf5\x80\x80\x80",
                                 "\xff",
                                 "\xfe",
                                 "\xc3",
                                 "\xe4\xbd",
                                 "\xf0\x9f\x98",
                                 "\xc3(",
                                 "\xe4\xbd("};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        uint32_t code = 0;
        given("text %zu", i);
        expect_count(tcr_utf8_next(texts[i], &code), 1);
        expect_count(code, TCR_UTF8_INVALID);
    }
}

CLAIM(columns_are_those_of_a_terminal) {
    /* Unicode Standard Annex 11 for wide characters; combining marks take none. */
    const struct {
        uint32_t code;
        int columns;
    } cases[] = {{'a', 1},     {0xe9, 1},   {0xb0, 1},   {0x301, 0},   {0x200d, 0},
                 {0xfe0f, 0},  {0x4f60, 2}, {0xac00, 2}, {0xff21, 2},  {0x3042, 2},
                 {0x1f600, 2}, {0x416, 1},  {0x2013, 1}, {0x20000, 2}, {0x1100, 2}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        given("U+%04X", (unsigned)cases[i].code);
        expect_count(tcr_utf8_columns(cases[i].code), cases[i].columns);
    }
}

CLAIM(what_a_terminal_would_obey_is_spelt_out) {
    const struct {
        const char *text, *expected;
    } cases[] = {
        {"", ""},
        {"plain", "plain"},
        {"\xc3\xa9\xe4\xbd\xa0", "\xc3\xa9\xe4\xbd\xa0"},
        {"a\x1b[31mb", "a\\x1b[31mb"},
        {"a\nb\tc\rd", "a\\x0ab\\x09c\\x0dd"},
        {"\x7f", "\\x7f"},
        {"\xc2\x9b\x33\x31m", "\\u009b31m"},        /* the one-character form of ESC [ */
        {"\xe2\x80\xae\x61\x62\x63", "\\u202eabc"}, /* right-to-left override */
        {"\xe2\x81\xa6", "\\u2066"},                /* left-to-right isolate */
        {"\xe2\x80\xa8", "\\u2028"},                /* line separator */
        {"\xf3\xa0\x80\x81", "\\U000e0001"},        /* language tag */
        {"a\xff\xc3", "a\\xff\\xc3"},
        {"back\\slash", "back\\slash"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char out[64];
        given("case %zu", i);
        const int columns = tcr_printable(cases[i].text, INT_MAX, out, sizeof out);
        expect_text(out, cases[i].expected);
        if (i != 2)
            expect_count(columns, strlen(cases[i].expected));
        else
            expect_count(columns, 3);
    }
}

CLAIM(a_text_is_cut_to_columns_and_to_bytes_between_characters) {
    const struct {
        const char *text;
        int columns;
        size_t size;
        const char *expected;
    } cases[] = {
        {"abcdef", 6, 64, "abcdef"},
        {"abcdefg", 6, 64, "abc..."},
        {"abcdefg", 3, 64, "..."},
        {"\xe4\xbd\xa0\xe4\xbd\xa0\xe4\xbd\xa0", 5, 64, "\xe4\xbd\xa0..."},
        {"\xe4\xbd\xa0\xe4\xbd\xa0\xe4\xbd\xa0", 6, 64, "\xe4\xbd\xa0\xe4\xbd\xa0\xe4\xbd\xa0"},
        {"abc\x1b\x64\x65\x66", 8, 64, "abc..."},
        {"abcdefg", INT_MAX, 8, "abcdefg"},
        {"abcdefgh", INT_MAX, 8, "abcd..."},
        {"\xe4\xbd\xa0\xe4\xbd\xa0\xe4\xbd\xa0", INT_MAX, 8, "\xe4\xbd\xa0..."},
        {"abcdefgh", INT_MAX, 4, "..."},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char out[64];
        memset(out, '#', sizeof out);
        given("case %zu", i);
        const int columns = tcr_printable(cases[i].text, cases[i].columns, out, cases[i].size);
        expect_text(out, cases[i].expected);
        expect_within(columns, 0, cases[i].columns, "as asked");
        for (size_t k = cases[i].size; k < sizeof out; k++)
            expect_count(out[k], '#');
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &every_character_of_unicode_is_read_back,
        &a_byte_that_begins_no_character_is_taken_alone,
        &columns_are_those_of_a_terminal,
        &what_a_terminal_would_obey_is_spelt_out,
        &a_text_is_cut_to_columns_and_to_bytes_between_characters,
    };
    return RUN_CLAIMS("printable", claims);
}
