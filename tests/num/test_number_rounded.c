/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers with fewer digits: significant digits, bounds, and numbers beside a limit. The reference
 * is printf in the C locale, correctly rounded in glibc.
 */
#include "num/number_expect.h"

static void expect_significant(double value, int digits, const char *expected) {
    char text[TCR_NUMBER_SIZE];
    ck_assert_uint_eq(tcr_number_significant(value, digits, text), strlen(text));
    ck_assert_str_eq(text, expected);
}

START_TEST(significant_digits_are_those_of_printf) {
    uint64_t state = 5;
    for (int i = 0; i < 300000; i++) {
        const double value = any_double(&state);
        const int digits = 1 + below(&state, 9); /* with more, a shortest decimal may be a tie */
        char text[TCR_NUMBER_SIZE], expected[64];
        (void)tcr_number_significant(value, digits, text);
        (void)snprintf(expected, sizeof expected, "%.*e", digits - 1, value);
        if (bits_of(strtod(text, NULL)) != bits_of(strtod(expected, NULL)))
            ck_abort_msg("%.17g with %d digits was written as %s, printf writes %s", value, digits,
                         text, expected);
    }
}
END_TEST

START_TEST(significant_digits_are_written_the_way_the_header_says) {
    expect_significant(0.123456789, 6, "0.123457"); /* the definition, as all that follow */
    expect_significant(-13.8000004, 6, "-13.8");
    expect_significant(1234567.0, 6, "1234570");
    expect_significant(999999.9, 6, "1000000");
    expect_significant(0.5, 6, "0.5");
    expect_significant(0.0000001234567, 6, "1.23457e-7");
    expect_significant(0.125, 2, "0.12"); /* a tie goes to the even digit */
    expect_significant(0.375, 2, "0.38");
    expect_significant(0.0, 6, "0");
    expect_significant(0.1 + 0.2, 17, "0.30000000000000004");
    expect_significant((double)NAN, 6, "null");
}
END_TEST

static void expect_bound(double value, int decimals, bool up, const char *expected) {
    char text[TCR_NUMBER_SIZE];
    ck_assert_uint_eq(tcr_number_bound(value, decimals, up, text), strlen(text));
    ck_assert_str_eq(text, expected);
}

START_TEST(a_bound_is_never_on_the_wrong_side_and_less_than_a_unit_away) {
    uint64_t state = 9;
    for (int i = 0; i < 300000; i++) {
        const double value = ldexp((double)(int64_t)next(&state), -50 - below(&state, 20));
        const int decimals = below(&state, 5);
        const bool up = below(&state, 2) == 1;
        char text[TCR_NUMBER_SIZE];
        (void)tcr_number_bound(value, decimals, up, text);
        const double shown = strtod(text, NULL), unit = pow(10.0, -decimals);
        /* 1e-10: rounding of the difference, below 8192 in size */
        const double beyond = up ? shown - value : value - shown;
        if (beyond < 0.0 || beyond > unit + 1e-10)
            ck_abort_msg("%.17g bounded %s with %d decimals is %s", value, up ? "above" : "below",
                         decimals, text);
    }
}
END_TEST

START_TEST(bounds_are_written_the_way_the_header_says) {
    expect_bound(0.5001, 2, true, "0.51"); /* the definition, as all that follow */
    expect_bound(0.5001, 2, false, "0.50");
    expect_bound(0.3, 2, true, "0.30"); /* though the double of 0.3 is below it */
    expect_bound(0.3, 2, false, "0.30");
    expect_bound(-0.001, 2, true, "0.00");
    expect_bound(-0.001, 2, false, "-0.01");
    expect_bound(99.97, 0, false, "99");
    expect_bound((double)INFINITY, 2, true, "null");
}
END_TEST

static void expect_beside(double value, double limit, const char *expected) {
    char text[TCR_NUMBER_SIZE];
    ck_assert_uint_eq(tcr_number_beside(value, limit, text), strlen(text));
    ck_assert_str_eq(text, expected);
}

START_TEST(a_third_decimal_stands_where_it_decides) {
    expect_beside(0.498, 0.5, "0.498"); /* the definition, as all that follow */
    expect_beside(0.502, 0.5, "0.502");
    expect_beside(0.5, 0.5, "0.50");
    expect_beside(0.49, 0.5, "0.49");
    expect_beside(0.74, 0.5, "0.74");
    expect_beside(0.50001, 0.5, "0.501"); /* what is above is never shown as the limit */
    expect_beside(0.49999, 0.5, "0.500");
    expect_beside(0.2626, 0.2618, "0.263");
    expect_beside(0.2615, 0.2618, "0.26");
    expect_beside((double)NAN, 0.5, "null");
}
END_TEST

int main(void) {
    TCase *all = tcase_create("number_rounded");
    tcase_add_test(all, significant_digits_are_those_of_printf);
    tcase_add_test(all, significant_digits_are_written_the_way_the_header_says);
    tcase_add_test(all, a_bound_is_never_on_the_wrong_side_and_less_than_a_unit_away);
    tcase_add_test(all, bounds_are_written_the_way_the_header_says);
    tcase_add_test(all, a_third_decimal_stands_where_it_decides);
    return run_claims("number_rounded", all);
}
