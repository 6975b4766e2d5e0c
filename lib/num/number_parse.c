/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Text as doubles, rounded to nearest, ties to even. The first 19 digits and the power of ten give
 * one 64 x 128 bit product whose error is known (Daniel Lemire 2021, "Number parsing at a gigabyte
 * per second", 10.1002/spe.2984, after an idea of Michael Eisel). Where it lies too near the middle
 * between two doubles, and where further digits matter, the number is compared with that middle
 * exactly. There is no floating-point arithmetic here, so that the host's rounding mode is of no
 * account and no flag is raised.
 */
#include "num/number.h"

#include <string.h>

#include "num/number_table.h"
#include "num/wide.h"

enum {
    WORD_DIGITS = 19,  /* that 64 bits hold */
    DIGITS_KEPT = 800, /* the middle between two doubles has at most 768 */
    TEN_MOST = 308     /* from 10^309 on a word of at least 1 is too large */
};
static const int64_t EXPONENT_LIMIT = 100000000000000000; /* more than any text has digits */
static const uint64_t INFINITE = UINT64_C(0x7ff) << 52;   /* the bits of infinity */

/* word 10^exponent, to which digits beyond the word add less than 10^exponent. */
typedef struct parsed {
    bool negative;
    bool more; /* digits other than 0 follow the word */
    uint64_t word;
    int64_t exponent;
    const char *digits, *end; /* all digits, perhaps with a point among them */
} parsed;

static bool is_digit(char c) { return (unsigned char)(c - '0') < 10; }

/* Digits from 'at' onward, added to the word, which wraps around if they are too many. */
static const char *read_digits(const char *at, const char *end, uint64_t *word) {
    uint64_t w = *word;
    for (; at < end && is_digit(*at); at++)
        w = 10 * w + (uint64_t)(*at - '0');
    *word = w;
    return at;
}

/* How far an exponent goes, "e-12" or nothing; NULL where the text ends before its digits. */
static const char *read_exponent(const char *at, const char *end, int64_t *exponent) {
    *exponent = 0;
    if (at == end || (*at != 'e' && *at != 'E'))
        return at;
    at++;
    const bool negative = at < end && *at == '-';
    if (at < end && (*at == '-' || *at == '+'))
        at++;
    if (at == end)
        return NULL;
    int64_t value = 0;
    for (; at < end && is_digit(*at); at++)
        if (value < EXPONENT_LIMIT)
            value = 10 * value + (*at - '0');
    *exponent = negative ? -value : value;
    return at;
}

/* The word again, of the first 19 digits from the first that is not 0. */
static void shorten(parsed *n) {
    n->word = 0;
    int kept = 0;
    for (const char *at = n->digits; at < n->end; at++) {
        if (!is_digit(*at) || (kept == 0 && *at == '0'))
            continue;
        if (kept < WORD_DIGITS) {
            n->word = 10 * n->word + (uint64_t)(*at - '0');
            kept++;
        } else {
            n->exponent++;
            n->more = n->more || *at != '0';
        }
    }
}

static bool scan(const char *text, size_t length, bool comma, parsed *n) {
    const char *at = text, *end = text + length;
    *n = (parsed){.negative = length > 0 && *at == '-'};
    if (length > 0 && (*at == '-' || *at == '+'))
        at++;
    n->digits = at;
    at = read_digits(at, end, &n->word);
    ptrdiff_t count = at - n->digits, after_point = 0;
    if (at < end && (*at == '.' || (comma && *at == ','))) {
        const char *point = at++;
        at = read_digits(at, end, &n->word);
        after_point = at - point - 1;
        count += after_point;
    }
    n->end = at;
    at = count > 0 ? read_exponent(at, end, &n->exponent) : NULL;
    n->exponent -= after_point;
    if (count > WORD_DIGITS)
        shorten(n);
    return at == end;
}

/* What the product says: the bits of the double at or below the number, and where to round. */
typedef struct product {
    uint64_t below;
    enum { DOWN, UP, UNSURE } rounding;
} product;

/* Bits of doubles count the doubles: one more is the next larger one, up to infinity. */
static uint64_t rounded(product p) { return p.below + (p.rounding == UP); }

/*
 * word 10^q, word not 0. The upper 128 bits (high, low) of the product with the rounded-up power of
 * ten are less than one unit of low away from the truth. So the rounding is plain unless they are
 * the middle or one unit above it; a little below the lower double still rounds to that double.
 */
static product multiply(uint64_t word, int q) {
    const int zeros = tcr_leading_zeros(word);
    word <<= zeros;
    const uint64_t *g = TCR_TEN[q - TCR_TEN_FIRST];
    uint64_t carry, high;
    (void)tcr_multiply(g[1], word, &carry);
    const uint64_t low = tcr_multiply(g[0], word, &high) + carry;
    high += low < carry;
    const int top = (int)(high >> 63);
    /* The number is (high, low) 2^(64 - 127 + floor(log2 10^q) - zeros). */
    int biased = tcr_floor_log2_pow10(q) + 63 - zeros + top + 1023;
    int drop = 10 + top; /* bits of high beyond the double's 53 */
    if (biased <= 0) {
        drop += 1 - biased; /* a denormal has fewer */
        biased = 1;
    }
    if (biased >= 0x7ff)
        return (product){INFINITE, DOWN};
    if (drop > 64)
        return (product){0, DOWN}; /* below half of the least double */
    const uint64_t m = drop < 64 ? high >> drop : 0;
    const uint64_t rest = high << (64 - drop), half = UINT64_C(1) << 63;
    product p = {((uint64_t)(biased - 1) << 52) + m, rest < half ? DOWN : UP};
    if (rest == half && low <= 1)
        p.rounding = UNSURE;
    return p;
}

/*
 * Whole numbers of n 32-bit words, low word first. The largest compared are 801 digits, or 54 bits
 * times 5^1125 for as many digits near the least double: less than 86 words, and one is shifted
 * only to where the other is.
 */
enum { WORDS = 96 };
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

static void big_multiply_power_of_5(big *a, int exponent) {
    for (; exponent >= 13; exponent -= 13)
        big_multiply_add(a, 1220703125, 0); /* 5^13 */
    for (; exponent > 0; exponent--)
        big_multiply_add(a, 5, 0);
}

static void big_shift(big *a, int bits) {
    big_multiply_add(a, UINT32_C(1) << bits % 32, 0);
    const int words = bits / 32 < WORDS - a->n ? bits / 32 : WORDS - a->n;
    memmove(a->word + words, a->word, (size_t)a->n * sizeof a->word[0]);
    memset(a->word, 0, (size_t)words * sizeof a->word[0]);
    a->n += words;
}

static int big_compare(const big *a, const big *b) {
    if (a->n != b->n)
        return a->n > b->n ? 1 : -1;
    for (int i = a->n - 1; i >= 0; i--)
        if (a->word[i] != b->word[i])
            return a->word[i] > b->word[i] ? 1 : -1;
    return 0;
}

/*
 * All digits as a whole number; those past DIGITS_KEPT by a 1 in their place where not all are 0.
 * Returns the power of ten that goes with it.
 */
static int big_from_digits(const parsed *n, big *a) {
    int kept = 0, waiting = 0;
    uint32_t power = 1, digits = 0; /* up to nine digits go at once */
    bool rest = false;
    a->n = 0;
    for (const char *at = n->digits; at < n->end && !rest; at++) {
        if (!is_digit(*at) || (kept == 0 && *at == '0'))
            continue;
        rest = kept == DIGITS_KEPT && *at != '0';
        if (kept == DIGITS_KEPT)
            continue;
        digits = 10 * digits + (uint32_t)(*at - '0');
        power *= 10;
        kept++;
        if (++waiting == 9) {
            big_multiply_add(a, power, digits);
            waiting = 0;
            power = 1;
            digits = 0;
        }
    }
    big_multiply_add(a, power, digits);
    if (rest)
        big_multiply_add(a, 10, 1);
    return (int)n->exponent - (kept > WORD_DIGITS ? kept - WORD_DIGITS : 0) - rest;
}

/* Of a number and the middle between the doubles of bits 'below' and below + 1: the larger? */
static int compare_with_middle(const parsed *n, uint64_t below) {
    const int biased = (int)(below >> 52);
    const uint64_t fraction = below & ((UINT64_C(1) << 52) - 1);
    const uint64_t m = 2 * (biased == 0 ? fraction : fraction | UINT64_C(1) << 52) + 1;
    const int e = (biased == 0 ? 1 : biased) - 1076; /* the middle is m 2^e */
    big left, right = {.n = m >> 32 != 0 ? 2 : 1, .word = {(uint32_t)m, (uint32_t)(m >> 32)}};
    const int ten = big_from_digits(n, &left);
    /* digits 10^ten against m 2^e; the twos of 10^ten join those of 2^e */
    big_multiply_power_of_5(ten < 0 ? &right : &left, ten < 0 ? -ten : ten);
    big_shift(ten > e ? &left : &right, ten > e ? ten - e : e - ten);
    return big_compare(&left, &right);
}

/* The bits of the double nearest to a number that is at or above 'below' and not beyond the next.
 */
static uint64_t round_exactly(const parsed *n, uint64_t below) {
    if (below >= INFINITE)
        return INFINITE;
    const int order = compare_with_middle(n, below);
    return below + (order > 0 || (order == 0 && below % 2 == 1));
}

/* The bits of the number without its sign. */
static uint64_t magnitude(const parsed *n) {
    if (n->word == 0 || n->exponent < TCR_TEN_FIRST)
        return 0;
    if (n->exponent > TEN_MOST)
        return INFINITE;
    const int q = (int)n->exponent;
    const product p = multiply(n->word, q);
    if (p.rounding == UNSURE)
        return round_exactly(n, p.below);
    if (n->more) { /* then the number lies between the word and the next */
        const product next = multiply(n->word + 1, q);
        if (next.rounding == UNSURE || rounded(next) != rounded(p))
            return round_exactly(n, p.below);
    }
    return rounded(p);
}

static bool parse(const char *text, size_t length, bool comma, double *value) {
    parsed n;
    if (value == NULL || text == NULL || !scan(text, length, comma, &n))
        return false;
    uint64_t bits = magnitude(&n);
    if (bits >= INFINITE)
        return false;
    bits |= (uint64_t)n.negative << 63;
    memcpy(value, &bits, sizeof bits);
    return true;
}

bool tcr_number_parse(const char *text, size_t length, double *value) {
    return parse(text, length, false, value);
}

bool tcr_number_parse_comma(const char *text, size_t length, double *value) {
    return parse(text, length, true, value);
}
