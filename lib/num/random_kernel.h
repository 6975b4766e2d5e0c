/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_RANDOM_KERNEL_H
#define TCR_NUM_RANDOM_KERNEL_H

/*
 * Philox 4x32-10 (Salmon, Moraes, Dror & Shaw 2011, 10.1145/2063384.2063405), inline: ten rounds of
 * two 32 x 32 -> 64 bit products, the keys raised by two Weyl constants between rounds. Then how
 * words become numbers; both are part of the contract and held by regression values.
 */

#include <stdint.h>

#include <tipcrest/random.h>

#include "num/elementary_kernel.h"
#include "num/range.h"

static const double TCR_NORMAL_CUT = 3.0; /* standard deviations at which a normal is drawn again */

/* The words of a draw: 0 and 1, and 2 and 3, as 64 bits each. */
typedef struct tcr_random_words {
    uint64_t high, low;
} tcr_random_words;

/*
 * The rounds, for a counter's words and a seed, over words that stand in WORD: in 32 bits, or in
 * the lower half of 64. Of the first a compiler makes vectors for the older instruction sets, which
 * have the product of two halves; AVX-512 multiplies 64 bits at once, and takes half the
 * instructions for the second. The ten are written out: a loop would hide that there are lanes
 * beside it.
 */
#define TCR_ROUND(WORD)                                                                            \
    do {                                                                                           \
        const uint64_t p0 = UINT64_C(0xD2511F53) * c0, p1 = UINT64_C(0xCD9E8D57) * c2;             \
        c0 = (WORD)(p1 >> 32) ^ c1 ^ (WORD)k0;                                                     \
        c1 = (WORD)(p1 & UINT32_MAX);                                                              \
        c2 = (WORD)(p0 >> 32) ^ c3 ^ (WORD)k1;                                                     \
        c3 = (WORD)(p0 & UINT32_MAX);                                                              \
        k0 += UINT32_C(0x9E3779B9);                                                                \
        k1 += UINT32_C(0xBB67AE85);                                                                \
    } while (0)
#define TCR_PHILOX_ROUNDS(NAME, WORD)                                                              \
    TCR_LANE tcr_random_words NAME(WORD c0, WORD c1, WORD c2, WORD c3, uint64_t seed) {            \
        uint32_t k0 = (uint32_t)seed, k1 = (uint32_t)(seed >> 32);                                 \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        TCR_ROUND(WORD);                                                                           \
        return (tcr_random_words){(uint64_t)c0 << 32 | c1, (uint64_t)c2 << 32 | c3};               \
    }
TCR_PHILOX_ROUNDS(tcr_philox_rounds, uint32_t)
TCR_PHILOX_ROUNDS(tcr_philox_rounds_in_64, uint64_t)
#undef TCR_PHILOX_ROUNDS
#undef TCR_ROUND

/* The words of a number, i lashes further on, at the first attempt. */
TCR_LANE tcr_random_words tcr_philox_lane(const tcr_random *number, uint32_t i) {
    return tcr_philox_rounds(number->lash + i, number->field, number->eye, number->use,
                             number->seed);
}
TCR_LANE tcr_random_words tcr_philox_lane_in_64(const tcr_random *number, uint32_t i) {
    return tcr_philox_rounds_in_64(number->lash + i, number->field, number->eye, number->use,
                                   number->seed);
}

/* Uniform in (0, 1): 53 bits and a half of the last. */
TCR_LANE double tcr_unit_interval_lane(uint64_t words) {
    /* Of a number below 2^53 the upper 21 and the lower 32 bits become doubles by their exponents;
     * not every instruction set can convert it as a whole. Their sum is exact. */
    const uint64_t bits = words >> 11;
    const double upper = tcr_of_bits((bits >> 32) | tcr_bits(0x1p84)) - 0x1p84;
    const double lower = tcr_of_bits((bits & UINT64_C(0xFFFFFFFF)) | tcr_bits(0x1p52)) - 0x1p52;
    return ((upper + lower) + 0.5) * 0x1p-53;
}

/* Box and Muller's cosine branch, before the cut. */
TCR_LANE double tcr_normal_lane(uint64_t radius, uint64_t angle) {
    return sqrt(-2.0 * tcr_logarithm_lane(tcr_unit_interval_lane(radius))) *
           tcr_sine_cosine_lane(2.0 * TCR_PI * tcr_unit_interval_lane(angle)).cosine;
}

#endif
