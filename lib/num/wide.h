/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_WIDE_H
#define TCR_NUM_WIDE_H

/* What numbers as text need of 64-bit words: in standard C, with a compiler's own way where there
 * is one. */

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

/* How many bits above the highest 1 are 0; word is not 0. */
static inline int tcr_leading_zeros(uint64_t word) {
#ifdef __GNUC__
    return __builtin_clzll(word);
#else
    int zeros = 0;
    for (int half = 32; half > 0; half /= 2)
        if (word >> (64 - half) == 0) {
            word <<= half;
            zeros += half;
        }
    return zeros;
#endif
}

/* floor(e log2(10)), exact for -1200 < e < 1200. */
static inline int tcr_floor_log2_pow10(int e) { return (int)((e * INT64_C(1741647)) >> 19); }

#endif
