/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Doubles as text by Schubfach (Raffaello Giulietti 2021, "The Schubfach way to render doubles"):
 * the decimal with the fewest digits among those that read back as the double c 2^q, found from
 * c 2^q / 10^k and the two ends of its rounding interval, each one 64 x 128 bit product. k is such
 * that the interval holds at least one whole number and at most one multiple of ten.
 */
#include "num/number.h"

#include <string.h>

#include "num/number_table.h"
#include "num/wide.h"

/* A number digits x 10^exponent. */
typedef struct decimal {
    uint64_t digits;
    int exponent;
} decimal;

/* |value| = c 2^q with c below 2^53. */
typedef struct binary {
    bool negative, finite;
    bool closer_below; /* the next double below is half as far as the one above */
    uint64_t c;
    int q;
} binary;

enum { DIGITS_MAX = 20 }; /* of 64 bits */

static binary binary_of(double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    const uint64_t fraction = bits & ((UINT64_C(1) << 52) - 1);
    const int biased = (int)(bits >> 52 & 0x7ff);
    binary b = {.negative = bits >> 63, .finite = biased != 0x7ff};
    b.closer_below = fraction == 0 && biased > 1;
    b.c = biased == 0 ? fraction : fraction | UINT64_C(1) << 52;
    b.q = biased == 0 ? -1074 : biased - 1075;
    return b;
}

/* floor(q log10(2)) and floor(q log10(2) + log10(3/4)), exact for the exponents of doubles. */
static int floor_log10_pow2(int q) { return (int)((q * INT64_C(1262611)) >> 22); }

static int floor_log10_three_quarters_pow2(int q) {
    return (int)((q * INT64_C(1262611) - 524031) >> 22);
}

/* The upper word of g c, its last bit set where anything below is not 0 ("round to odd"). */
static uint64_t round_to_odd(const uint64_t g[2], uint64_t c) {
    uint64_t carry, high;
    (void)tcr_multiply(g[1], c, &carry);
    const uint64_t middle = tcr_multiply(g[0], c, &high) + carry;
    high += middle < carry;
    return high | (middle > 1);
}

/* The shortest decimal; its last digits may be 0. Everything is in quarters of 10^k. */
static decimal shortest(const binary *b) {
    const bool odd = b->c % 2 == 1; /* then the ends of the interval read as the neighbours */
    const int k = b->closer_below ? floor_log10_three_quarters_pow2(b->q) : floor_log10_pow2(b->q);
    const int h = b->q + tcr_floor_log2_pow10(-k) + 1;
    const uint64_t *g = TCR_TEN[-k - TCR_TEN_FIRST];
    const uint64_t low = round_to_odd(g, (4 * b->c - 2 + b->closer_below) << h) + odd;
    const uint64_t at = round_to_odd(g, (4 * b->c) << h);
    const uint64_t high = round_to_odd(g, (4 * b->c + 2) << h) - odd;
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

static void drop_zeros(decimal *d) {
    while (d->digits % 100000000 == 0) {
        d->digits /= 100000000;
        d->exponent += 8;
    }
    while (d->digits % 10 == 0) {
        d->digits /= 10;
        d->exponent++;
    }
}

/* Writes the digits of a number so that they end before 'end'; returns their beginning. */
static char *write_digits(uint64_t value, char *end) {
    static const char PAIRS[] =
        "00010203040506070809101112131415161718192021222324252627282930313233"
        "34353637383940414243444546474849505152535455565758596061626364656667"
        "6869707172737475767778798081828384858687888990919293949596979899";
    while (value >= 10) {
        end -= 2;
        memcpy(end, PAIRS + 2 * (value % 100), 2);
        value /= 100;
    }
    if (value > 0)
        *--end = (char)('0' + value);
    return end;
}

/* The decimal without zeros at its end, or a whole number as it is. */
static decimal decimal_of(const binary *b) {
    if (b->q <= 0 && b->q > -53 && (b->c & ((UINT64_C(1) << -b->q) - 1)) == 0)
        return (decimal){b->c >> -b->q, 0}; /* below 2^53 all whole numbers are doubles */
    decimal d = shortest(b);
    drop_zeros(&d);
    return d;
}

/* n digits with the point after the first 'whole' (which may be <= 0); returns the end. */
static char *write_plain(const char *digits, int n, int whole, char *out) {
    if (whole <= 0) {
        *out++ = '0';
        *out++ = '.';
        for (; whole < 0; whole++)
            *out++ = '0';
    }
    const int before = whole <= 0 ? 0 : whole < n ? whole : n;
    memcpy(out, digits, (size_t)before);
    out += before;
    if (before > 0 && before < n)
        *out++ = '.';
    memcpy(out, digits + before, (size_t)(n - before));
    out += n - before;
    for (; n < whole; n++)
        *out++ = '0';
    return out;
}

static char *write_exponent(int exponent, char *out) {
    *out++ = 'e';
    if (exponent < 0)
        *out++ = '-';
    char digits[DIGITS_MAX];
    char *end = digits + DIGITS_MAX;
    const char *from = write_digits((uint64_t)(exponent < 0 ? -exponent : exponent), end);
    while (from < end)
        *out++ = *from++;
    return out;
}

/* Rounds to at most 'most' digits: to nearest, ties to even. */
static void keep_digits(decimal *d, int most) {
    uint64_t unit = 1, digits = d->digits;
    int count = 0;
    for (; digits > 0; digits /= 10)
        count++;
    if (count <= most)
        return;
    for (int i = count; i > most; i--)
        unit *= 10;
    const uint64_t rest = d->digits % unit, kept = d->digits / unit, half = unit / 2;
    d->digits = kept + (rest > half || (rest == half && kept % 2 == 1));
    d->exponent += count - most;
    drop_zeros(d);
}

/* Writes the number with at most 'digits_most' digits. */
static size_t write_number(double value, int digits_most, char text[TCR_NUMBER_SIZE]) {
    const binary b = binary_of(value);
    if (!b.finite) {
        memcpy(text, "null", 5);
        return 4;
    }
    char *out = text;
    if (b.negative)
        *out++ = '-';
    if (b.c == 0) {
        *out++ = '0';
    } else {
        decimal d = decimal_of(&b);
        keep_digits(&d, digits_most);
        char digits[DIGITS_MAX];
        const char *from = write_digits(d.digits, digits + DIGITS_MAX);
        const int n = (int)(digits + DIGITS_MAX - from);
        const int whole = n + d.exponent; /* digits before the point */
        if (whole > -5 && whole <= 17)
            out = write_plain(from, n, whole, out);
        else
            out = write_exponent(whole - 1, write_plain(from, n, 1, out));
    }
    *out = '\0';
    return (size_t)(out - text);
}

size_t tcr_number_text(double value, char text[TCR_NUMBER_SIZE]) {
    return text == NULL ? 0 : write_number(value, DIGITS_MAX, text);
}

size_t tcr_number_significant(double value, int digits, char text[TCR_NUMBER_SIZE]) {
    return write_number(value, digits >= 1 && digits < 17 ? digits : DIGITS_MAX, text);
}

/* (high, low) / 2^shift in 64 bits, ties to even; shift from 1 to 127. */
static uint64_t divide_to_even(uint64_t high, uint64_t low, int shift) {
    if (shift > 64) { /* the last bit stands for all that fall off */
        const int less = shift - 64;
        const uint64_t fallen = low & ((UINT64_C(1) << less) - 1);
        low = high << (64 - less) | low >> less | (fallen != 0);
        high >>= less;
        shift = 64;
    }
    const uint64_t result = shift == 64 ? high : high << (64 - shift) | low >> shift;
    const uint64_t rest = low << (64 - shift), half = UINT64_C(1) << 63;
    return result + (rest > half || (rest == half && result % 2 == 1));
}

size_t tcr_number_fixed(double value, int decimals, char text[TCR_NUMBER_SIZE]) {
    if (!(value < 1e15 && value > -1e15) || decimals < 0 || decimals > 9)
        return tcr_number_text(value, text);
    const binary b = binary_of(value);
    const int shift = -b.q; /* at least 3, for value is below 2^50 */
    uint64_t ten = 1;
    for (int i = 0; i < decimals; i++)
        ten *= 10;
    /* An even whole number and what is left, below 2, whose decimals fit 128 bits. */
    uint64_t whole = shift < 53 ? b.c >> shift & ~UINT64_C(1) : 0;
    uint64_t high, rest;
    rest = tcr_multiply(shift < 53 ? b.c - (whole << shift) : b.c, ten, &high);
    rest = shift < 128 ? divide_to_even(high, rest, shift) : 0;
    whole += rest / ten;
    rest %= ten;

    char *end = text + TCR_NUMBER_SIZE, *from = end;
    if (decimals > 0) {
        from = write_digits(rest, from);
        while (end - from < decimals)
            *--from = '0';
        *--from = '.';
    }
    from = whole > 0 ? write_digits(whole, from) : from;
    if (whole == 0)
        *--from = '0';
    if (b.negative && (whole > 0 || rest > 0))
        *--from = '-';
    const size_t length = (size_t)(end - from);
    memmove(text, from, length);
    text[length] = '\0';
    return length;
}

size_t tcr_number_bound(double value, int decimals, bool up, char text[TCR_NUMBER_SIZE]) {
    double shown = value, unit = 1.0;
    const size_t length = tcr_number_fixed(value, decimals, text);
    if (!tcr_number_parse(text, length, &shown) || (up ? shown >= value : shown <= value))
        return length;
    for (int i = 0; i < decimals; i++)
        unit *= 10.0;
    return tcr_number_fixed(up ? shown + 1.0 / unit : shown - 1.0 / unit, decimals, text);
}

size_t tcr_number_beside(double value, double limit, char text[TCR_NUMBER_SIZE]) {
    double shown;
    const size_t length = tcr_number_fixed(value, 2, text);
    const bool above = value > limit;
    if (!tcr_number_parse(text, length, &shown) ||
        (above ? shown > limit : (shown < limit) == (value < limit)))
        return length;
    const size_t longer = tcr_number_fixed(value, 3, text);
    (void)tcr_number_parse(text, longer, &shown);
    return (shown > limit) == above ? longer : tcr_number_bound(value, 3, above, text);
}
