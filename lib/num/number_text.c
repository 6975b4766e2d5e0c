/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Doubles as text by Schubfach (Giulietti 2021, "The Schubfach way to render doubles"): the decimal
 * with the fewest digits in the interval of what reads back as the double, from one 64 x 128 bit
 * product for each end of the interval.
 */
#include "num/number.h"

#include <math.h>
#include <string.h>

#include "num/number_table.h"
#include "num/wide.h"

/* A number digits x 10^exponent. */
typedef struct decimal {
    uint64_t digits;
    int exponent;
} decimal;

/* floor(e log10(2)), floor(e log10(2) + log10(3/4)): exact for the exponents of doubles. */
static int floor_log10_pow2(int e) { return (int)((e * INT64_C(1262611)) >> 22); }

static int floor_log10_three_quarters_pow2(int e) {
    return (int)((e * INT64_C(1262611) - 524031) >> 22);
}

/* The upper part of g times c, its last bit set where anything below is not 0. */
static uint64_t round_to_odd(const uint64_t g[2], uint64_t c) {
    uint64_t x_high, y_high;
    (void)tcr_multiply(g[1], c, &x_high);
    const uint64_t low = tcr_multiply(g[0], c, &y_high);
    const uint64_t middle = low + x_high;
    y_high += middle < low;
    return y_high | (middle > 1);
}

/* The shortest decimal for c x 2^q, c at most 2^53. */
static decimal shortest(uint64_t c, int q, bool closer_below) {
    const bool even = c % 2 == 0;
    const int k = closer_below ? floor_log10_three_quarters_pow2(q) : floor_log10_pow2(q);
    const int h = q + tcr_floor_log2_pow10(-k) + 1;
    const uint64_t *g = TCR_TEN[-k - TCR_TEN_FIRST];
    const uint64_t low = round_to_odd(g, (4 * c - 2 + closer_below) << h) + !even;
    const uint64_t at = round_to_odd(g, (4 * c) << h);
    const uint64_t high = round_to_odd(g, (4 * c + 2) << h) - !even;
    const uint64_t s = at / 4;
    if (s >= 10) {
        const uint64_t tens = s / 10;
        const bool down = low <= 40 * tens, up = 40 * tens + 40 <= high;
        if (down != up)
            return (decimal){tens + up, k + 1};
    }
    const bool down = low <= 4 * s, up = 4 * s + 4 <= high;
    if (down != up)
        return (decimal){s + up, k};
    const uint64_t middle = 4 * s + 2;
    return (decimal){s + (at > middle || (at == middle && s % 2 == 1)), k};
}

static decimal decimal_of(double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    const uint64_t fraction = bits & ((UINT64_C(1) << 52) - 1);
    const int biased = (int)(bits >> 52 & 0x7ff);
    decimal d;
    if (biased == 0)
        d = shortest(fraction, -1074, false);
    else
        d = shortest(fraction | UINT64_C(1) << 52, biased - 1075, fraction == 0 && biased > 1);
    while (d.digits % 10 == 0) {
        d.digits /= 10;
        d.exponent++;
    }
    return d;
}

/* Writes the digits of a number and returns how many. */
static size_t write_digits(uint64_t value, char *out) {
    char reversed[20];
    size_t n = 0;
    do {
        reversed[n++] = (char)('0' + value % 10);
        value /= 10;
    } while (value > 0);
    for (size_t i = 0; i < n; i++)
        out[i] = reversed[n - 1 - i];
    return n;
}

/* digits without a point, n of them, with the point after the first 'whole' (which may be <= 0). */
static size_t write_plain(const char *digits, size_t n, int whole, char *out) {
    size_t at = 0;
    if (whole <= 0) {
        out[at++] = '0';
        out[at++] = '.';
        for (int i = whole; i < 0; i++)
            out[at++] = '0';
        memcpy(out + at, digits, n);
        return at + n;
    }
    const size_t before = (size_t)whole;
    for (size_t i = 0; i < before; i++)
        out[at++] = i < n ? digits[i] : '0';
    if (n > before) {
        out[at++] = '.';
        memcpy(out + at, digits + before, n - before);
        at += n - before;
    }
    return at;
}

static size_t write_exponent(const char *digits, size_t n, int exponent, char *out) {
    size_t at = write_plain(digits, n, 1, out);
    out[at++] = 'e';
    if (exponent < 0)
        out[at++] = '-';
    return at + write_digits((uint64_t)(exponent < 0 ? -exponent : exponent), out + at);
}

size_t tcr_number_text(double value, char text[TCR_NUMBER_SIZE]) {
    if (!isfinite(value)) {
        memcpy(text, "null", 5);
        return 4;
    }
    size_t at = 0;
    if (signbit(value))
        text[at++] = '-';
    if (value == 0.0) {
        text[at++] = '0';
    } else {
        const decimal d = decimal_of(fabs(value));
        char digits[20];
        const size_t n = write_digits(d.digits, digits);
        const int whole = (int)n + d.exponent; /* digits before the point */
        if (whole > -5 && whole <= 17)
            at += write_plain(digits, n, whole, text + at);
        else
            at += write_exponent(digits, n, whole - 1, text + at);
    }
    text[at] = '\0';
    return at;
}

/*
 * value x 10^decimals rounded to a whole number, ties to even, exactly: value = c 2^q, and c
 * 10^decimals fits 128 bits for decimals up to 9.
 */
static uint64_t scaled(double value, int decimals) {
    uint64_t ten = 1;
    for (int i = 0; i < decimals; i++)
        ten *= 10;
    int exponent;
    const uint64_t c = (uint64_t)ldexp(frexp(value, &exponent), 53);
    const int shift = 53 - exponent; /* value = c / 2^shift */
    uint64_t high;
    const uint64_t low = tcr_multiply(c, ten, &high);
    if (shift <= 0)
        return low << -shift;
    if (shift >= 128)
        return 0;
    return tcr_shift_to_even(high, low, shift);
}

size_t tcr_number_fixed(double value, int decimals, char text[TCR_NUMBER_SIZE]) {
    if (!(fabs(value) < 1e15) || decimals < 0 || decimals > 9)
        return tcr_number_text(value, text);
    /* 64 bits hold value x 10^decimals below 1.8e19. */
    while (decimals > 3 && fabs(value) >= 1e9)
        decimals--;
    const uint64_t whole = value == 0.0 ? 0 : scaled(fabs(value), decimals);
    char digits[32];
    size_t n = write_digits(whole, digits + 10);
    char *from = digits + 10;
    while (n < (size_t)decimals + 1) {
        *--from = '0';
        n++;
    }
    size_t at = 0;
    if (value < 0.0 && whole != 0)
        text[at++] = '-';
    at += write_plain(from, n, (int)n - decimals, text + at);
    text[at] = '\0';
    return at;
}
