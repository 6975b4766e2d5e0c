/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Text read as numbers. The reference is strtod in the C locale, correctly rounded in glibc, or the
 * way the text was made.
 */
#include "num/number_expect.h"

#include <float.h>
#include <regex.h>

static void reads_as_strtod_does(const char *text) { reads_as(text, strtod(text, NULL)); }

/* count digits with a point somewhere or nowhere and perhaps an exponent. */
static void draw_decimal(uint64_t *state, int count, int exponent, char *text) {
    char *out = text;
    if (below(state, 4) == 0)
        *out++ = below(state, 2) ? '-' : '+';
    const int point = below(state, 2) ? below(state, count + 1) : -1;
    for (int i = 0; i < count; i++) {
        if (i == point)
            *out++ = '.';
        *out++ = (char)('0' + below(state, 10));
    }
    if (exponent != 0)
        out += sprintf(out, below(state, 2) ? "e%d" : "E%+d", exponent);
    *out = '\0';
}

START_TEST(decimals_of_up_to_40_digits_are_read_as_by_strtod) {
    uint64_t state = 5;
    char text[64];
    for (int i = 0; i < 200000; i++) {
        draw_decimal(&state, 1 + below(&state, 40), below(&state, 3) ? below(&state, 700) - 370 : 0,
                     text);
        reads_as_strtod_does(text);
    }
    for (int exponent = -345; exponent <= 310; exponent++) /* every power of the table */
        for (int i = 0; i < 100; i++) {
            (void)snprintf(text, sizeof text, "%" PRIu64 "e%d", next(&state), exponent);
            reads_as_strtod_does(text);
        }
}
END_TEST

START_TEST(long_strings_of_digits_are_read_as_by_strtod) {
    uint64_t state = 6;
    static char text[2100];
    for (int i = 0; i < 2000; i++) {
        const int count = 1 + below(&state, 2000);
        draw_decimal(&state, count, below(&state, 2) ? below(&state, 600) - 300 - count / 2 : 0,
                     text);
        reads_as_strtod_does(text);
    }
}
END_TEST

/*
 * The middle between two neighbouring doubles, exactly: both in all their digits by printf, added
 * digit by digit, halved digit by digit. Ends in the 5 of its last digit.
 */
enum { FRACTION = 1074, WIDTH = 309 + 1 + FRACTION };
static void middle_of(double low, double high, char text[WIDTH + 4]) {
    static char a[WIDTH + 2], b[WIDTH + 2], c[WIDTH + 2];
    (void)snprintf(a, sizeof a, "%0*.*f", WIDTH, FRACTION, low);
    (void)snprintf(b, sizeof b, "%0*.*f", WIDTH, FRACTION, high);
    int carry = 0;
    memset(c, 0, sizeof c);
    for (int i = WIDTH - 1; i >= 0; i--) {
        const int sum = a[i] - '0' + b[i] - '0' + carry;
        carry = a[i] == '.' ? carry : sum / 10;
        c[i] = (char)(a[i] == '.' ? '.' : '0' + sum % 10);
    }
    int rest = carry; /* of the digit before, which counts ten here */
    for (int i = 0; i < WIDTH; i++) {
        text[i] = c[i];
        if (c[i] == '.')
            continue;
        text[i] = (char)('0' + (10 * rest + c[i] - '0') / 2);
        rest = (c[i] - '0') % 2;
    }
    int end = WIDTH;
    text[end++] = (char)('0' + 5 * rest);
    while (text[end - 1] == '0')
        end--;
    text[end] = '\0';
}

/* Expected by construction: a tie goes to the even double, anything beside it to the nearer. */
static void middle_goes_to_even(const char *middle, double low, double high) {
    static char text[WIDTH + 1400];
    const int length = (int)strlen(middle);
    const char *point = strchr(middle, '.') == NULL ? "." : "";
    const double even = bits_of(low) % 2 == 0 ? low : high;
    reads_as(middle, even);
    ck_assert_msg(bits_of(strtod(middle, NULL)) == bits_of(even), "%s is no middle", middle);
    (void)sprintf(text, "%s%s%01200d", middle, point, 0);
    reads_as(text, even);
    (void)sprintf(text, "%s%s%01200d1", middle, point, 0); /* a hair above, beyond what is kept */
    reads_as(text, high);
    (void)sprintf(text, "%s%s1", middle, point);
    reads_as(text, high);
    (void)sprintf(text, "%.*s%c%s99999", length - 1, middle, middle[length - 1] - 1, point);
    reads_as(text, low);
}

START_TEST(exact_middles_go_to_the_even_double_and_a_hair_beside_them_to_the_nearer) {
    uint64_t state = 7;
    static char text[WIDTH + 4];
    for (int i = 0; i < 600; i++) {
        /* all exponents, then those near 1, then denormals and the way to normal numbers */
        const uint64_t fraction = next(&state) >> 12;
        const int biased = i % 3 == 0   ? below(&state, 2046)
                           : i % 3 == 1 ? 1023 - 30 + below(&state, 100)
                                        : below(&state, 3);
        const uint64_t bits =
            i < 6 ? (uint64_t)i : (uint64_t)biased << 52 | (i % 7 == 0 ? 0 : fraction);
        const double low = double_of(bits), high = double_of(bits + 1);
        middle_of(low, high, text);
        if (text[strlen(text) - 1] == '.')
            text[strlen(text) - 1] = '\0';
        /* a whole middle may end in zeros, which leave nothing to take away from */
        if (strchr(text, '.') != NULL || text[strlen(text) - 1] != '0')
            middle_goes_to_even(text, low, high);
    }
}
END_TEST

START_TEST(short_middles_go_to_the_even_double) {
    /* An odd whole number of 54 bits, times or over a power of two, is a middle. */
    uint64_t state = 8;
    char text[64];
    for (int i = 0; i < 100000; i++) {
        const uint64_t odd = UINT64_C(1) << 53 | next(&state) >> 11 | 1;
        const int power = below(&state, 11);
        const double even = ldexp((double)(odd / 2 + odd / 2 % 2), power + 1);
        (void)snprintf(text, sizeof text, "%" PRIu64, odd << power);
        reads_as(text, even);
        (void)snprintf(text, sizeof text, "%" PRIu64 "e-1", 5 * odd); /* odd / 2 */
        reads_as(text, ldexp(even, -power - 1));
        if (odd < UINT64_C(18446744073709551615) / 1000) {
            (void)snprintf(text, sizeof text, "%" PRIu64 "000e-3", odd);
            reads_as(text, ldexp(even, -power));
        }
    }
}
END_TEST

START_TEST(the_edge_to_infinity_is_the_middle_beyond_the_largest_double) {
    /* 2^1024 - 2^970, computed by Python's whole numbers; a tie would go to 2^1024. */
    static const char EDGE[] =
        "1797693134862315807937289714053034150799341327100378269361737789804449682927647509466490"
        "1797758720709633028641669288791094655554785194040263065748867150582068190890200070838367"
        "6273854845817711531764475730270069855571366959622842914819860834936475292719074168444365"
        "510704342711559699508093042880177904174497792";
    char text[400];
    is_refused(EDGE);
    strcpy(text, EDGE);
    text[strlen(text) - 1] = '1';
    reads_as(text, DBL_MAX);
    strcat(text, ".99999999999");
    reads_as(text, DBL_MAX);
    reads_as("1.7976931348623158e308", DBL_MAX); /* below the edge */
    is_refused("1.7976931348623159e308");
    is_refused("-1.7976931348623159e308");
    reads_as("2.4703282292062327e-324", 0.0); /* below half of 2^-1074 = 4.94...e-324 */
    reads_as("-2.4703282292062327e-324", -0.0);
    reads_as("2.4703282292062328e-324", 0x1p-1074);
}
END_TEST

/* A text of a head, a number of zeros and a tail; to be freed. */
static char *with_zeros(const char *head, size_t zeros, const char *tail) {
    char *text = malloc(strlen(head) + zeros + strlen(tail) + 1);
    ck_assert_ptr_nonnull(text);
    strcpy(text, head);
    memset(text + strlen(head), '0', zeros);
    strcpy(text + strlen(head) + zeros, tail);
    return text;
}

START_TEST(zeros_and_exponents_of_any_size_balance) {
    /* By the meaning of decimal numbers. */
    static const struct {
        const char *head;
        size_t zeros;
        const char *tail;
        double value;
    } CASES[] = {
        {"0.", 1234566, "1e1234567", 1.0},
        {"-25", 1234566, "e-1234567", -2.5},
        {"", 100000, "12.5", 12.5},
        {"12.5", 100000, "", 12.5},
        {"1", 309, "", INFINITY},
        {"1", 308, "", 1e308},
        {"0.", 400, "1", 0.0},
        {"1e", 50, "3", 1000.0},
        {"1e-", 50, "3", 0.001},
        {"1e1", 50, "", INFINITY},
        {"1e-1", 50, "", 0.0},
        {"-1e-1", 50, "", -0.0},
        {"0e1", 50, "", 0.0},
        {"0.", 30, "e99999999999999999999999", 0.0},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        char *text = with_zeros(CASES[i].head, CASES[i].zeros, CASES[i].tail);
        reads_as(text, CASES[i].value);
        free(text);
    }
}
END_TEST

START_TEST(what_is_no_whole_decimal_number_is_refused) {
    static const char BAD[] =
        "| |+|-|.|+.|-.|e|e5|.e5|-e5|1e|1e+|1e-|1e+-2|1e2.|1e.5|1e 5|1 e5| 1|1 "
        "|1\n|\t1|--1|++1|+-1|"
        "-+1|1-|1+|1.2.3|1..2|..1|1.5,|1,2,3|,|+,|,e1|0x10|0x1p3|1p3|1d5|1f|1.0f|inf|-inf|nan|NaN|"
        "infinity|null|1e5e5|1_000|1'000|12mm|1e5x|a1|1:|1/|1e999|-1e309|\xc2\xa0" /* no-break */
        "1|\xe2\x88\x92" /* the minus sign of typography */
        "1|\xd9\xa1" /* the digit one of Arabic */;
    const char *at = BAD;
    for (size_t length; at <= BAD + strlen(BAD); at += length + 1) {
        length = strcspn(at, "|");
        reads_bytes_as(at, length, INFINITY);
        double value = 0.0;
        if (tcr_number_parse_comma(at, length, &value))
            ck_abort_msg("\"%.*s\" with commas was read as %.17g", (int)length, at, value);
    }
    is_refused("1,5");
    reads_bytes_as("1\0002", 3, INFINITY);
    reads_bytes_as("12", 3, INFINITY);
    reads_bytes_as("\0", 1, INFINITY);
    reads_bytes_as("1e\0005", 4, INFINITY);
    reads_bytes_as("1234", 2, 12.0); /* what follows the length is not looked at */
    reads_bytes_as("1.5e99", 3, 1.5);
    double value;
    ck_assert(!tcr_number_parse(NULL, 0, &value) && !tcr_number_parse_comma(NULL, 0, &value));
}
END_TEST

START_TEST(just_the_texts_of_the_grammar_are_read) {
    static const char ALPHABET[] = "0123456789..,eE+-+- xXnaif";
    regex_t points, commas; /* the grammar again, as the header has it */
    ck_assert_int_eq(regcomp(&points, "^[+-]?([0-9]+([.][0-9]*)?|[.][0-9]+)([eE][+-]?[0-9]+)?$",
                             REG_EXTENDED | REG_NOSUB),
                     0);
    ck_assert_int_eq(regcomp(&commas, "^[+-]?([0-9]+([.,][0-9]*)?|[.,][0-9]+)([eE][+-]?[0-9]+)?$",
                             REG_EXTENDED | REG_NOSUB),
                     0);
    uint64_t state = 9;
    int good = 0, good_commas = 0;
    for (int i = 0; i < 100000; i++) {
        char text[12];
        const int length = below(&state, 8);
        for (int k = 0; k < length; k++)
            text[k] = ALPHABET[below(&state, i % 2 ? 18 : (int)sizeof ALPHABET - 1)];
        text[length] = '\0';
        const bool point = regexec(&points, text, 0, NULL, 0) == 0;
        const bool comma = regexec(&commas, text, 0, NULL, 0) == 0;
        char *block = malloc((size_t)length + 1); /* a sanitiser sees who reads beyond it */
        ck_assert_ptr_nonnull(block);
        memcpy(block + 1, text, (size_t)length);
        reads_bytes_as(block + 1, (size_t)length, point ? strtod(text, NULL) : INFINITY);
        free(block);
        char dotted[12];
        strcpy(dotted, text);
        if (strchr(dotted, ',') != NULL)
            *strchr(dotted, ',') = '.';
        double value = 0.0;
        const double expected = comma ? strtod(dotted, NULL) : INFINITY;
        if (tcr_number_parse_comma(text, (size_t)length, &value) != isfinite(expected) ||
            (isfinite(expected) && bits_of(value) != bits_of(expected)))
            ck_abort_msg("\"%s\" with commas was read as %.17g, expected %.17g", text, value,
                         expected);
        good += point;
        good_commas += comma && !point;
    }
    ck_assert_int_gt(good, 10000); /* the draw had both kinds: else nothing was shown */
    ck_assert_int_gt(good_commas, 1000);
    regfree(&points);
    regfree(&commas);
}
END_TEST

int main(void) {
    TCase *all = tcase_create("number_parse");
    tcase_add_test(all, decimals_of_up_to_40_digits_are_read_as_by_strtod);
    tcase_add_test(all, long_strings_of_digits_are_read_as_by_strtod);
    tcase_add_test(all, exact_middles_go_to_the_even_double_and_a_hair_beside_them_to_the_nearer);
    tcase_add_test(all, short_middles_go_to_the_even_double);
    tcase_add_test(all, the_edge_to_infinity_is_the_middle_beyond_the_largest_double);
    tcase_add_test(all, zeros_and_exponents_of_any_size_balance);
    tcase_add_test(all, what_is_no_whole_decimal_number_is_refused);
    tcase_add_test(all, just_the_texts_of_the_grammar_are_read);
    return run_claims("number_parse", all);
}
