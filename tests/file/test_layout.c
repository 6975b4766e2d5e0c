/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers, columns and lines of text for people. Expected texts are what layout.h says. */
#include "file/layout.h"

#include <math.h>
#include <string.h>

#include "support/check.h"

static tcr_paragraph line;

static void expect_added(const char *expected) {
    expect_text(line.text, expected);
    tcr_paragraph_begin(&line);
}

CLAIM(a_number_has_a_plus_where_asked_for_unless_it_reads_as_zero) {
    static const struct {
        double number;
        bool sign;
        const char *text;
    } cases[] = {
        {1.25, true, "+1.25"}, {1.25, false, "1.25"},  {-1.25, true, "-1.25"}, {0.0, true, "0.00"},
        {0.004, true, "0.00"}, {-0.004, true, "0.00"}, {0.006, true, "+0.01"}, {NAN, true, "-"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        given("%.17g", cases[i].number);
        tcr_add_fixed(&line, cases[i].number, 2, cases[i].sign);
        expect_added(cases[i].text);
    }
}

CLAIM(a_size_beside_a_limit_of_it_is_never_shown_as_the_limit) {
    static const struct {
        double number;
        const char *text;
    } cases[] = {
        {0.5001, "+0.501"}, {-0.5001, "-0.501"}, {0.498, "+0.498"}, {1.25, "+1.25"}, {0.0, "0.00"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        given("%.17g", cases[i].number);
        tcr_add_beside(&line, cases[i].number, 0.5, true);
        expect_added(cases[i].text);
    }
}

CLAIM(bounds_and_shares_never_say_too_much) {
    tcr_add_bound(&line, 0.501, 2, true);
    expect_added("0.51");
    tcr_add_bound(&line, 0.509, 2, false);
    expect_added("0.50");
    tcr_add_share(&line, 0.949);
    expect_added("94 %");
    tcr_add_share(&line, 0.29); /* 100 times that is below 29 in a double */
    expect_added("29 %");
    tcr_add_share(&line, 1.0);
    expect_added("100 %");
}

CLAIM(a_given_number_stands_as_given_up_to_two_decimals) {
    tcr_add_given(&line, 0.75);
    expect_added("0.75");
    tcr_add_given(&line, 0.751);
    expect_added("0.75");
    tcr_add_given(&line, 0.759);
    expect_added("0.76");
    tcr_add_given(&line, 0.0012345);
    expect_added("0.0012");
    tcr_add_given(&line, 12.0);
    expect_added("12");
}

CLAIM(columns_count_what_a_terminal_shows) {
    tcr_add(&line, "\xe4\xbd\xa0"); /* a wide character: two columns */
    tcr_add_to_column(&line, 4);
    tcr_add_count(&line, 120);
    expect_added("\xe4\xbd\xa0  120");
    tcr_add(&line, "a");
    tcr_add_fixed_at(&line, 8, 2.5, 1, true);
    expect_added("a   +2.5");
}

CLAIM(a_paragraph_is_broken_at_blanks_within_80_columns) {
    char words[81];
    memset(words, 'a', 80);
    words[39] = ' ';
    words[80] = '\0';
    tcr_add(&line, words);
    expect_count(tcr_paragraph_lines(&line, 0, 0), 1);
    expect_count(tcr_paragraph_lines(&line, 1, 4), 2);
    tcr_add(&line, "b");
    expect_count(tcr_paragraph_lines(&line, 0, 4), 2);
    tcr_paragraph_begin(&line);
    expect_count(tcr_paragraph_lines(&line, 2, 4), 1); /* an empty one is an empty line */
}

int main(void) {
    static const TTest *const claims[] = {
        &a_number_has_a_plus_where_asked_for_unless_it_reads_as_zero,
        &a_size_beside_a_limit_of_it_is_never_shown_as_the_limit,
        &bounds_and_shares_never_say_too_much,
        &a_given_number_stands_as_given_up_to_two_decimals,
        &columns_count_what_a_terminal_shows,
        &a_paragraph_is_broken_at_blanks_within_80_columns,
    };
    return RUN_CLAIMS("layout", claims);
}
