/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Text as doubles, correctly rounded. Most numbers are exact products of doubles (Clinger 1990,
 * 10.1145/93542.93557); the rest take one 64 x 128 bit product with a power of ten, whose error is
 * known (Lemire 2021, 10.1002/spe.2984); what lies too near the middle between two doubles for
 * that, or has more than 19 digits that matter, is compared with the middle exactly.
 */
#include "num/number.h"

#include <math.h>
#include <string.h>

#include "num/number_table.h"
#include "num/wide.h"

enum {
    DIGITS_KEPT = 800, /* a middle between doubles has at most 767 digits */
    WORD_DIGITS = 19,  /* that 64 bits hold */
    EXPONENT_MAX = 100000
};

/* digits x 10^exponent, of which the first 19 digits stand in 'word'. */
typedef struct parsed {
    bool negative;
    uint64_t word;
    int word_digits, exponent; /* of the word */
    bool more;                 /* digits other than 0 follow the word */
    const char *text;          /* where the digits that matter begin */
    const char *end;
} parsed;

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

static bool parse_exponent(const char **at, const char *end, int *exponent) {
    const char *p = *at;
    if (p == end || (*p != 'e' && *p != 'E'))
        return true;
    p++;
    const bool negative = p < end && *p == '-';
    if (p < end && (*p == '-' || *p == '+'))
        p++;
    if (p == end || !is_digit(*p))
        return false;
    int value = 0;
    for (; p < end && is_digit(*p); p++)
        if (value < EXPONENT_MAX)
            value = 10 * value + (*p - '0');
    *exponent = negative ? -value : value;
    *at = p;
    return true;
}

/* Takes one digit; leading zeros do not count. */
static void take_digit(parsed *n, int digit, bool after_point, long *places) {
    if (n->word_digits == 0 && digit == 0) {
        *places -= after_point;
        return;
    }
    if (n->word_digits < WORD_DIGITS) {
        n->word = 10 * n->word + (uint64_t)digit;
        n->word_digits++;
        *places -= after_point;
    } else {
        n->more = n->more || digit != 0;
        *places += !after_point;
    }
}

static bool scan(const char *text, size_t length, bool comma, parsed *n) {
    const char *p = text, *end = text + length;
    *n = (parsed){0};
    if (p < end && (*p == '-' || *p == '+'))
        n->negative = *p++ == '-';
    n->text = p;
    bool any = false, after_point = false;
    long places = 0;
    for (; p < end; p++) {
        if (is_digit(*p)) {
            any = true;
            take_digit(n, *p - '0', after_point, &places);
        } else if (!after_point && (*p == '.' || (comma && *p == ','))) {
            after_point = true;
        } else {
            break;
        }
    }
    n->end = p;
    int exponent = 0;
    if (!any || !parse_exponent(&p, end, &exponent) || p != end)
        return false;
    places += exponent;
    n->exponent = places > EXPONENT_MAX    ? EXPONENT_MAX
                  : places < -EXPONENT_MAX ? -EXPONENT_MAX
                                           : (int)places;
    return true;
}

/* A double m 2^e with m of at most 53 bits. */
static double compose(uint64_t m, int e) { return ldexp((double)m, e); }

/*
 * word 10^q rounded; false where the 128 bits leave it open, with the double below. The product's
 * upper 128 bits are right to one unit, so the rounding is settled unless the bits below the
 * double's last lie that near the middle.
 */
static bool from_product(uint64_t word, int q, double *value) {
    int zeros = 0;
    while (!(word >> 63)) {
        word <<= 1;
        zeros++;
    }
    const uint64_t *g = TCR_TEN[q - TCR_TEN_FIRST];
    uint64_t carry, high;
    (void)tcr_multiply(g[1], word, &carry);
    uint64_t low = tcr_multiply(g[0], word, &high);
    low += carry;
    high += low < carry;
    /* value = (high, low) 2^e, up to one unit of low */
    const int e = tcr_floor_log2_pow10(q) - 127 - zeros + 64;
    const int bits = 128 - !(high >> 63);
    int drop = bits - 53;
    if (e + drop < -1074)
        drop = -1074 - e; /* a denormal has fewer bits */
    if (drop > 129 || (drop == 129 && high < UINT64_MAX)) {
        *value = 0.0; /* below half of the least double */
        return true;
    }
    const int inside = drop - 64; /* bits to drop of the high word: 10 to 65 */
    const uint64_t m = inside < 64 ? high >> inside : 0;
    const uint64_t rest = inside < 64 ? high & ((UINT64_C(1) << inside) - 1) : high;
    const uint64_t half = inside < 65 ? UINT64_C(1) << (inside - 1) : 0;
    if (inside == 65 || (rest == half && low <= 1) || (rest + 1 == half && low >= UINT64_MAX - 1)) {
        *value = compose(m, e + drop);
        return false;
    }
    *value = compose(m + (rest >= half), e + drop);
    return true;
}

/* Whole numbers of up to WORDS 32-bit words, low word first, for the exact comparison. */
enum { WORDS = 260 };
typedef struct big {
    int n;
    uint32_t word[WORDS];
} big;

static void big_multiply_add(big *a, uint32_t factor, uint32_t plus) {
    uint64_t carry = plus;
    for (int i = 0; i < a->n; i++) {
        carry += (uint64_t)a->word[i] * factor;
        a->word[i] = (uint32_t)carry;
        carry >>= 32;
    }
    if (carry != 0 && a->n < WORDS)
        a->word[a->n++] = (uint32_t)carry;
}

static void big_power_of_ten(big *a, int exponent) {
    for (; exponent >= 9; exponent -= 9)
        big_multiply_add(a, 1000000000u, 0);
    for (; exponent > 0; exponent--)
        big_multiply_add(a, 10u, 0);
}

static void big_shift(big *a, int bits) {
    for (; bits >= 31; bits -= 31)
        big_multiply_add(a, UINT32_C(1) << 31, 0);
    if (bits > 0)
        big_multiply_add(a, UINT32_C(1) << bits, 0);
}

static int big_compare(const big *a, const big *b) {
    if (a->n != b->n)
        return a->n > b->n ? 1 : -1;
    for (int i = a->n - 1; i >= 0; i--)
        if (a->word[i] != b->word[i])
            return a->word[i] > b->word[i] ? 1 : -1;
    return 0;
}

/* The digits of a text as a whole number, those past DIGITS_KEPT by a 1 at the end where not all 0.
 */
static void big_from_digits(const parsed *n, big *a, int *exponent) {
    int kept = 0;
    bool rest = false;
    a->n = 0;
    for (const char *p = n->text; p < n->end; p++) {
        if (!is_digit(*p) || (kept == 0 && *p == '0'))
            continue;
        if (kept < DIGITS_KEPT) {
            big_multiply_add(a, 10u, (uint32_t)(*p - '0'));
            kept++;
        } else {
            rest = rest || *p != '0';
        }
    }
    *exponent = n->exponent - (kept - n->word_digits);
    if (rest) {
        big_multiply_add(a, 10u, 1u);
        *exponent -= 1;
    }
}

/* The sign of (digits 10^exponent) - (m 2^e). */
static int compare_exactly(const parsed *n, uint64_t m, int e) {
    big left, right = {2, {(uint32_t)m, (uint32_t)(m >> 32)}};
    int exponent;
    big_from_digits(n, &left, &exponent);
    while (right.n > 0 && right.word[right.n - 1] == 0)
        right.n--;
    if (exponent >= 0)
        big_power_of_ten(&left, exponent);
    else
        big_power_of_ten(&right, -exponent);
    if (e >= 0)
        big_shift(&right, e);
    else
        big_shift(&left, -e);
    return big_compare(&left, &right);
}

/* From a double not above the number and near it, upward to the one that is nearest. */
static double settle(const parsed *n, double value) {
    for (;;) {
        uint64_t bits;
        memcpy(&bits, &value, sizeof bits);
        const int biased = (int)(bits >> 52);
        if (biased == 0x7ff)
            return value;
        const uint64_t fraction = bits & ((UINT64_C(1) << 52) - 1);
        const uint64_t m = biased == 0 ? fraction : fraction | UINT64_C(1) << 52;
        const int e = biased == 0 ? -1074 : biased - 1075;
        const int order = compare_exactly(n, 2 * m + 1, e - 1);
        if (order < 0 || (order == 0 && m % 2 == 0))
            return value;
        value = nextafter(value, INFINITY);
    }
}

static double round_exactly(const parsed *n) {
    double value;
    (void)from_product(n->word, n->exponent, &value);
    /* A step down makes sure of a start below the number. */
    return settle(n, value > 0.0 ? nextafter(value, 0.0) : 0.0);
}

static double magnitude(const parsed *n) {
    static const double TEN[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                 1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    const int q = n->exponent;
    if (n->word == 0 || q < TCR_TEN_FIRST)
        return 0.0;
    if (q > 308)
        return INFINITY;
    if (!n->more && n->word <= UINT64_C(1) << 53 && q >= -22 && q <= 22)
        return q < 0 ? (double)n->word / TEN[-q] : (double)n->word * TEN[q];
    double low, high;
    if (!from_product(n->word, q, &low))
        return round_exactly(n);
    if (n->more && (n->word == UINT64_MAX || !from_product(n->word + 1, q, &high) || low != high))
        return round_exactly(n);
    return low;
}

static bool parse(const char *text, size_t length, bool comma, double *value) {
    parsed n;
    if (text == NULL || !scan(text, length, comma, &n))
        return false;
    const double size = magnitude(&n);
    if (isinf(size))
        return false;
    *value = n.negative ? -size : size;
    return true;
}

bool tcr_number_parse(const char *text, size_t length, double *value) {
    return parse(text, length, false, value);
}

bool tcr_number_parse_comma(const char *text, size_t length, double *value) {
    return parse(text, length, true, value);
}
