/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Philox 4x32-10 (Salmon, Moraes, Dror & Shaw 2011, 10.1145/2063384.2063405): ten rounds of two
 * 32 x 32 -> 64 bit products, the keys raised by two Weyl constants between rounds. Then how words
 * become numbers; both are part of the contract and held by regression values.
 */
#include <tipcrest/random.h>

#include <math.h>
#include <stddef.h>

#include "num/elementary.h"
#include "num/range.h"

enum { ROUNDS = 10, ATTEMPTS = 1000 };

static const double CUT = 3.0; /* standard deviations at which a normal is drawn again */

void tcr_philox(const uint32_t counter[4], const uint32_t key[2], uint32_t words[4]) {
    if (counter == NULL || key == NULL || words == NULL)
        return;
    uint32_t c0 = counter[0], c1 = counter[1], c2 = counter[2], c3 = counter[3];
    uint32_t k0 = key[0], k1 = key[1];
    for (int round = 0; round < ROUNDS; round++) {
        const uint64_t p0 = UINT64_C(0xD2511F53) * c0;
        const uint64_t p1 = UINT64_C(0xCD9E8D57) * c2;
        c0 = (uint32_t)(p1 >> 32) ^ c1 ^ k0;
        c1 = (uint32_t)p1;
        c2 = (uint32_t)(p0 >> 32) ^ c3 ^ k1;
        c3 = (uint32_t)p0;
        k0 += UINT32_C(0x9E3779B9);
        k1 += UINT32_C(0xBB67AE85);
    }
    words[0] = c0;
    words[1] = c1;
    words[2] = c2;
    words[3] = c3;
}

static void words_of(const tcr_random *number, uint32_t attempt, uint32_t words[4]) {
    const uint32_t counter[4] = {number->lash, number->field, number->eye,
                                 number->use + (attempt << 16)};
    const uint32_t key[2] = {(uint32_t)number->seed, (uint32_t)(number->seed >> 32)};
    tcr_philox(counter, key, words);
}

/* Uniform in (0, 1) from two words: 53 bits and a half of the last. */
static double unit_interval(uint32_t high, uint32_t low) {
    const uint64_t bits = ((uint64_t)high << 32 | low) >> 11;
    return ((double)bits + 0.5) * 0x1p-53;
}

double tcr_random_uniform(const tcr_random *number) {
    uint32_t words[4];
    if (number == NULL)
        return NAN;
    words_of(number, 0, words);
    return unit_interval(words[0], words[1]);
}

double tcr_random_normal(const tcr_random *number) {
    if (number == NULL)
        return NAN;
    for (uint32_t attempt = 0; attempt < ATTEMPTS; attempt++) {
        uint32_t words[4];
        words_of(number, attempt, words);
        const double radius = sqrt(-2.0 * tcr_logarithm(unit_interval(words[0], words[1])));
        const double value = radius * tcr_cosine(2.0 * TCR_PI * unit_interval(words[2], words[3]));
        if (fabs(value) <= CUT)
            return value;
    }
    return 0.0;
}
