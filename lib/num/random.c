/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random numbers one at a time; random_kernel.h says how they are made. */
#include <tipcrest/random.h>

#include <math.h>
#include <stddef.h>

#include "num/random_kernel.h"

enum { ATTEMPTS = 1000 };

void tcr_philox(const uint32_t counter[4], const uint32_t key[2], uint32_t words[4]) {
    if (counter == NULL || key == NULL || words == NULL)
        return;
    const tcr_random_words w = tcr_philox_rounds(counter[0], counter[1], counter[2], counter[3],
                                                 (uint64_t)key[1] << 32 | key[0]);
    words[0] = (uint32_t)(w.high >> 32);
    words[1] = (uint32_t)w.high;
    words[2] = (uint32_t)(w.low >> 32);
    words[3] = (uint32_t)w.low;
}

static tcr_random_words words_of(const tcr_random *number, uint32_t attempt) {
    return tcr_philox_rounds(number->lash, number->field, number->eye,
                             number->use + (attempt << 16), number->seed);
}

double tcr_random_uniform(const tcr_random *number) {
    return number != NULL ? tcr_unit_interval_lane(words_of(number, 0).high) : NAN;
}

double tcr_random_normal(const tcr_random *number) {
    if (number == NULL)
        return NAN;
    for (uint32_t attempt = 0; attempt < ATTEMPTS; attempt++) {
        const tcr_random_words words = words_of(number, attempt);
        const double value = tcr_normal_lane(words.high, words.low);
        if (fabs(value) <= TCR_NORMAL_CUT)
            return value;
    }
    return 0.0;
}
