/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_WIDE_H
#define TCR_NUM_WIDE_H

/* Products of 64 bits in 128, in standard C; compilers turn them into one multiplication. */

#include <stdint.h>

/* a b: the low word is returned, the high one set. */
static inline uint64_t tcr_multiply(uint64_t a, uint64_t b, uint64_t *high) {
#ifdef __SIZEOF_INT128__
    __extension__ typedef unsigned __int128 wide;
    const wide product = (wide)a * b;
    *high = (uint64_t)(product >> 64);
    return (uint64_t)product;
#else
    const uint64_t mask = UINT32_MAX;
    const uint64_t a0 = a & mask, a1 = a >> 32, b0 = b & mask, b1 = b >> 32;
    const uint64_t p00 = a0 * b0, p01 = a0 * b1, p10 = a1 * b0, p11 = a1 * b1;
    const uint64_t middle = (p00 >> 32) + (p01 & mask) + (p10 & mask);
    *high = p11 + (p01 >> 32) + (p10 >> 32) + (middle >> 32);
    return middle << 32 | (p00 & mask);
#endif
}

/* (high, low) / 2^shift rounded to nearest, ties to even; shift from 1 to 127, the result in 64
 * bits. */
static inline uint64_t tcr_shift_to_even(uint64_t high, uint64_t low, int shift) {
    uint64_t result, rest_high, rest_low, half_high, half_low;
    if (shift < 64) {
        result = high << (64 - shift) | low >> shift;
        rest_high = 0;
        rest_low = low & ((UINT64_C(1) << shift) - 1);
        half_high = 0;
        half_low = UINT64_C(1) << (shift - 1);
    } else {
        result = shift == 64 ? high : high >> (shift - 64);
        rest_high = shift == 64 ? 0 : high & ((UINT64_C(1) << (shift - 64)) - 1);
        rest_low = low;
        half_high = shift == 64 ? 0 : UINT64_C(1) << (shift - 65);
        half_low = shift == 64 ? UINT64_C(1) << 63 : 0;
    }
    const int more = rest_high > half_high || (rest_high == half_high && rest_low > half_low);
    const int tie = rest_high == half_high && rest_low == half_low;
    return result + (uint64_t)(more || (tie && (result & 1)));
}

/* floor(e log2(10)), exact for -1200 < e < 1200. */
static inline int tcr_floor_log2_pow10(int e) { return (int)((e * INT64_C(1741647)) >> 19); }

#endif
