/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers written as text, and what writing and reading leave alone. The reference is the C library
 * in the C locale: strtod and printf, both correctly rounded in glibc.
 */
#include "num/number_expect.h"

#include <errno.h>
#include <fenv.h>
#include <float.h>
#include <locale.h>
#include <regex.h>

static void call_around(double value, void (*call)(double)) {
    call(value);
    call(-value);
    call(nextafter(value, 0.0));
    if (value < DBL_MAX)
        call(nextafter(value, DBL_MAX));
}

/* Calls for 0, all +-2^n and +-10^n, the largest double, and what lies next to them. */
static void with_special_doubles(void (*call)(double)) {
    call_around(0.0, call);
    call_around(DBL_MAX, call);
    for (int n = -1074; n <= 1023; n++)
        call_around(ldexp(1.0, n), call);
    for (int n = -323; n <= 308; n++) {
        char ten[16];
        (void)snprintf(ten, sizeof ten, "1e%d", n);
        call_around(strtod(ten, NULL), call);
    }
}

static void comes_back(double value) {
    char text[TCR_NUMBER_SIZE];
    const size_t length = tcr_number_text(value, text);
    reads_bytes_as(text, length, value);
    const double read = strtod(text, NULL);
    if (length != strlen(text) || bits_of(read) != bits_of(value))
        ck_abort_msg("%.17g (%a) was written as \"%s\" of length %zu, which strtod reads as %.17g",
                     value, value, text, length, read);
}

START_TEST(every_written_number_reads_back_as_the_same_double) {
    uint64_t state = 1;
    for (int i = 0; i < 2000000; i++)
        comes_back(any_double(&state));
    for (int i = 0; i < 100000; i++)
        comes_back(double_of(next(&state) >> 12 >> below(&state, 52))); /* denormals */
    for (int i = 0; i < 100000; i++)
        comes_back((double)(next(&state) >> below(&state, 64))); /* whole numbers */
    with_special_doubles(comes_back);
}
END_TEST

/* A decimal 0.d1 d2 ... x 10^exponent without zeros at its ends. */
typedef struct decimal {
    int count, exponent;
    char digits[64];
} decimal;

static decimal decimal_of(const char *text) {
    decimal d = {0};
    bool after_point = false;
    text += *text == '-';
    for (; *text != '\0' && *text != 'e'; text++) {
        if (*text == '.') {
            after_point = true;
        } else if (d.count > 0 || *text != '0') {
            d.digits[d.count++] = *text;
            d.exponent += !after_point;
        } else {
            d.exponent -= after_point;
        }
    }
    if (*text == 'e')
        d.exponent += atoi(text + 1);
    while (d.count > 0 && d.digits[d.count - 1] == '0')
        d.digits[--d.count] = '\0';
    return d;
}

/* No decimal of n digits reads as the value: not the nearest, and not those beside it. */
static void no_decimal_of(int n, double value, const char *text) {
    char nearest[40], beside[40];
    (void)snprintf(nearest, sizeof nearest, "%.*e", n - 1, fabs(value));
    const decimal d = decimal_of(nearest);
    int64_t whole = strtoll(d.digits, NULL, 10);
    for (int i = d.count; i < n; i++)
        whole *= 10;
    for (int step = -1; step <= 1; step++) {
        (void)snprintf(beside, sizeof beside, "%" PRId64 "e%d", whole + step, d.exponent - n);
        if (strtod(beside, NULL) == fabs(value))
            ck_abort_msg("%.17g (%a) was written as \"%s\", but \"%s\" reads back", value, value,
                         text, beside);
    }
}

/*
 * The decimals of n - 1 digits include all of fewer, so none of n - 1 may read back. Of those with
 * n digits printf's is the nearest; it may not read back beside a power of two, where the doubles
 * below lie closer, and then the next decimal on the wider side is all there is.
 */
static void has_fewest_digits(double value) {
    char text[TCR_NUMBER_SIZE], nearest[40];
    (void)tcr_number_text(value, text);
    const decimal d = decimal_of(text);
    if (d.count > 1)
        no_decimal_of(d.count - 1, value, text);
    if (d.count == 0)
        return;
    (void)snprintf(nearest, sizeof nearest, "%.*e", d.count - 1, value);
    const decimal expected = decimal_of(nearest);
    if (strtod(nearest, NULL) == value &&
        (strcmp(d.digits, expected.digits) != 0 || d.exponent != expected.exponent))
        ck_abort_msg("%.17g (%a) was written as \"%s\", but \"%s\" is nearer", value, value, text,
                     nearest);
}

START_TEST(no_shorter_decimal_reads_back_and_none_as_short_is_nearer) {
    uint64_t state = 2;
    for (int i = 0; i < 150000; i++)
        has_fewest_digits(any_double(&state));
    for (int i = 0; i < 40000; i++) /* what a set file or a tape measure has */
        has_fewest_digits(below(&state, 1000000) / 1e4);
    for (int i = 0; i < 20000; i++)
        has_fewest_digits(double_of(next(&state) >> 12 >> below(&state, 52)));
    with_special_doubles(has_fewest_digits);
}
END_TEST

/* JSON's grammar of a number: RFC 8259, section 6. */
static regex_t json;

static void is_json_in_the_right_notation(double value) {
    char text[TCR_NUMBER_SIZE];
    (void)tcr_number_text(value, text);
    const double size = fabs(value);
    const bool plain = size == 0.0 || (size >= 1e-5 && size < 1e17);
    if (regexec(&json, text, 0, NULL, 0) != 0 || (strchr(text, 'e') == NULL) != plain)
        ck_abort_msg("%.17g (%a) was written as \"%s\"", value, value, text);
    const char *dot = strchr(text, '.');
    if (dot != NULL) { /* no zeros that say nothing */
        const char *last = dot + strspn(dot, ".0123456789") - 1;
        if (*last == '0' || *last == '.')
            ck_abort_msg("%.17g (%a) was written as \"%s\"", value, value, text);
    }
}

START_TEST(every_written_number_is_json_plain_from_a_hundred_thousandth_to_1e17) {
    ck_assert_int_eq(regcomp(&json, "^-?(0|[1-9][0-9]*)([.][0-9]+)?(e-?[1-9][0-9]*)?$",
                             REG_EXTENDED | REG_NOSUB),
                     0);
    uint64_t state = 3;
    for (int i = 0; i < 20000; i++) {
        is_json_in_the_right_notation(any_double(&state));
        is_json_in_the_right_notation(ldexp((double)next(&state), -32 - below(&state, 64)));
    }
    with_special_doubles(is_json_in_the_right_notation);
    regfree(&json);
}
END_TEST

START_TEST(numbers_are_written_the_way_the_header_says) {
    /* By the header's definition; the extremes are those of IEEE 754. */
    writes(0.0, "0");
    writes(-0.0, "-0");
    writes(12.0, "12");
    writes(0.1, "0.1");
    writes(-3.25, "-3.25");
    writes(1e-5, "0.00001");
    writes(9.5e-6, "9.5e-6");
    writes(1e-7, "1e-7");
    writes(1e16, "10000000000000000");
    writes(99999999999999984.0, "99999999999999980");
    writes(1e17, "1e17");
    writes(1.5e300, "1.5e300");
    writes(1e23, "1e23");
    writes(9007199254740991.0, "9007199254740991");
    writes(DBL_MAX, "1.7976931348623157e308");
    writes(DBL_MIN, "2.2250738585072014e-308");
    writes(0x1p-1074, "5e-324");
    writes(-0x1p-1074, "-5e-324");
    writes(NAN, "null");
    writes(INFINITY, "null");
    writes(-INFINITY, "null");
}
END_TEST

/* ---- Writing with fixed decimals ------------------------------------------------------------- */

static void is_fixed_as_printf_does(double value, int decimals) {
    char expected[64];
    (void)snprintf(expected, sizeof expected, "%.*f", decimals, value);
    const bool no_digit = expected[strspn(expected, "-0.")] == '\0';
    writes_fixed(value, decimals, expected + (no_digit && expected[0] == '-'));
}

START_TEST(fixed_decimals_are_those_of_printf_but_for_minus_zero) {
    uint64_t state = 4;
    for (int i = 0; i < 200000; i++) {
        const int decimals = below(&state, 10);
        const double value = ldexp((double)(int64_t)next(&state), -14 - below(&state, 110));
        if (fabs(value) < 1e15)
            is_fixed_as_printf_does(value, decimals);
        /* ties: the last bit is half a unit of the last decimal or near it */
        const double half = ldexp(1.0, -decimals - 1), many = below(&state, 100000);
        is_fixed_as_printf_does(many * half, decimals);
        is_fixed_as_printf_does(-many * half, decimals);
        is_fixed_as_printf_does(nextafter(many * half, 1e9), decimals);
    }
    for (int decimals = 0; decimals <= 9; decimals++) {
        is_fixed_as_printf_does(0.0, decimals);
        is_fixed_as_printf_does(-0.0, decimals);
        is_fixed_as_printf_does(0x1p-1074, decimals);
        is_fixed_as_printf_does(nextafter(1e15, 0.0), decimals);
        is_fixed_as_printf_does(-nextafter(1e15, 0.0), decimals);
        is_fixed_as_printf_does(nextafter(1.0, 0.0), decimals);
    }
}
END_TEST

START_TEST(fixed_decimals_are_written_the_way_the_header_says) {
    writes_fixed(0.08, 2, "0.08"); /* by the header's definition */
    writes_fixed(-1.5, 2, "-1.50");
    writes_fixed(-0.001, 2, "0.00");
    writes_fixed(0.5, 0, "0");
    writes_fixed(1.5, 0, "2");
    writes_fixed(0.125, 2, "0.12");
    writes_fixed(1e15, 2, "1000000000000000");
    writes_fixed(-2.5e300, 2, "-2.5e300");
    writes_fixed(NAN, 2, "null");
    writes_fixed(-INFINITY, 0, "null");
    writes_fixed(0.125, 10, "0.125");
    writes_fixed(0.125, -1, "0.125");
}
END_TEST

/* ---- The host's state ------------------------------------------------------------------------ */

static void write_and_read_samples(void) {
    writes(1234.5678, "1234.5678"); /* by definition, here and below */
    writes_fixed(1234.5678, 2, "1234.57");
    writes_fixed(-0.125, 2, "-0.12");
    reads_as("0.1", 0x1.999999999999ap-4); /* nearest to 0.1: exact in hexadecimal */
    reads_as("-0.1", -0x1.999999999999ap-4);
    reads_as("9007199254740993", 9007199254740992.0);
    reads_as("1234.5", 1234.5);
    is_refused("1234,5");
    is_refused("1e400");
    reads_as("1e-400", 0.0);
    double value = 0.0;
    ck_assert(tcr_number_parse_comma("1234,5", 6, &value) && value == 1234.5);
}

START_TEST(neither_errno_nor_floating_point_flags_nor_the_rounding_mode_matter) {
    static const int MODES[] = {FE_TONEAREST, FE_UPWARD, FE_DOWNWARD, FE_TOWARDZERO};
    for (size_t i = 0; i < sizeof MODES / sizeof *MODES; i++) {
        ck_assert_int_eq(fesetround(MODES[i]), 0);
        errno = EDOM;
        feclearexcept(FE_ALL_EXCEPT);
        write_and_read_samples();
        const int raised = fetestexcept(FE_ALL_EXCEPT), number = errno, mode = fegetround();
        fesetround(FE_TONEAREST);
        ck_assert_int_eq(raised, 0);
        ck_assert_int_eq(number, EDOM);
        ck_assert_int_eq(mode, MODES[i]);
    }
}
END_TEST

/* A locale with decimal commas, or NULL if this machine has none. */
static const char *comma_locale(void) {
    static const char *const NAMES[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "es_ES.UTF-8",
                                        "nl_NL.UTF-8", "de_DE",      "fr_FR"};
    const char *found = NULL;
    for (size_t i = 0; found == NULL && i < sizeof NAMES / sizeof *NAMES; i++)
        if (setlocale(LC_ALL, NAMES[i]) != NULL && *localeconv()->decimal_point == ',')
            found = NAMES[i];
    setlocale(LC_ALL, "C");
    return found;
}

START_TEST(a_locale_with_decimal_commas_changes_nothing) {
    setlocale(LC_ALL, comma_locale());
    char commas[16];
    (void)snprintf(commas, sizeof commas, "%.1f", 0.5);
    write_and_read_samples();
    char after[64];
    (void)snprintf(after, sizeof after, "%s", setlocale(LC_ALL, NULL));
    setlocale(LC_ALL, "C");
    ck_assert_str_eq(commas, "0,5"); /* printf did write commas */
    ck_assert_str_eq(after, comma_locale());
}
END_TEST

int main(void) {
    TCase *all = tcase_create("number");
    tcase_add_test(all, every_written_number_reads_back_as_the_same_double);
    tcase_add_test(all, no_shorter_decimal_reads_back_and_none_as_short_is_nearer);
    tcase_add_test(all, every_written_number_is_json_plain_from_a_hundred_thousandth_to_1e17);
    tcase_add_test(all, numbers_are_written_the_way_the_header_says);
    tcase_add_test(all, fixed_decimals_are_those_of_printf_but_for_minus_zero);
    tcase_add_test(all, fixed_decimals_are_written_the_way_the_header_says);
    tcase_add_test(all, neither_errno_nor_floating_point_flags_nor_the_rounding_mode_matter);
    if (comma_locale() != NULL)
        tcase_add_test(all, a_locale_with_decimal_commas_changes_nothing);
    else
        puts("no locale with decimal commas here: that claim was not tested");
    return run_claims("number", all);
}
