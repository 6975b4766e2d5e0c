/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sobol points by index. With v_1, v_2, ... the direction numbers of a dimension, point i is the
 * exclusive or of those v_k whose bit k - 1 is set in the Gray code of i, i xor i/2, so that one
 * direction number leads from a point to the next (Antonov & Saleev 1979). The v_k follow from the
 * table by the recurrence of the dimension's polynomial (Bratley & Fox 1988, 10.1145/42288.214372).
 */
#include "study/sobol.h"

#include <tipcrest/random.h>

enum { USE_SHIFT = 4 };

static const tcr_sobol_numbers TABLE[TCR_SOBOL_DIMENSIONS] = {
#include "study/sobol_table.h"
};

void tcr_sobol_directions(const tcr_sobol_numbers *numbers, uint64_t direction[TCR_SOBOL_BITS]) {
    const int degree = numbers->degree;
    uint64_t m[TCR_SOBOL_BITS];
    for (int i = 0; i < TCR_SOBOL_BITS; i++) {
        if (i < degree || degree == 0) {
            m[i] = degree == 0 ? 1 : numbers->first[i];
        } else {
            m[i] = m[i - degree] ^ m[i - degree] << degree;
            for (int k = 1; k < degree; k++)
                if (numbers->polynomial >> (degree - k) & 1u)
                    m[i] ^= m[i - k] << k;
        }
        direction[i] = m[i] << (TCR_SOBOL_BITS - 1 - i);
    }
}

void tcr_sobol_dimension(size_t dimension, uint64_t direction[TCR_SOBOL_BITS]) {
    tcr_sobol_directions(&TABLE[dimension], direction);
}

uint64_t tcr_sobol_bits(const uint64_t direction[TCR_SOBOL_BITS], uint64_t index) {
    uint64_t gray = index ^ index >> 1, bits = 0;
    for (int k = 0; gray != 0; k++, gray >>= 1)
        if (gray & 1u)
            bits ^= direction[k];
    return bits;
}

uint64_t tcr_study_bits(uint64_t seed, uint32_t a, uint32_t b, uint32_t use) {
    const uint32_t counter[4] = {a, b, 0, use};
    const uint32_t key[2] = {(uint32_t)seed, (uint32_t)(seed >> 32)};
    uint32_t words[4];
    tcr_philox(counter, key, words);
    return ((uint64_t)words[0] << 32 | words[1]) >> (64 - TCR_SOBOL_BITS);
}

uint64_t tcr_sobol_shift_bits(const tcr_sobol_shift *shift, size_t dimension) {
    if (shift == NULL)
        return 0;
    return tcr_study_bits(shift->seed, (uint32_t)dimension, shift->scrambling, USE_SHIFT);
}

tcr_status tcr_sobol_points(uint64_t first, size_t n, size_t from, size_t dimensions,
                            const tcr_sobol_shift *shift, double *u) {
    const uint64_t end = UINT64_C(1) << TCR_SOBOL_BITS;
    if (u == NULL)
        return TCR_E_ARGUMENT;
    if (from > TCR_SOBOL_DIMENSIONS || dimensions > TCR_SOBOL_DIMENSIONS - from || first > end ||
        n > end - first)
        return TCR_E_RANGE;
    for (size_t j = 0; j < dimensions && n > 0; j++) {
        uint64_t direction[TCR_SOBOL_BITS];
        tcr_sobol_dimension(from + j, direction);
        uint64_t bits = tcr_sobol_bits(direction, first) ^ tcr_sobol_shift_bits(shift, from + j);
        for (size_t i = 0; i < n; i++) {
            u[i * dimensions + j] = tcr_sobol_number(bits);
            if (i + 1 < n)
                bits = tcr_sobol_next(direction, bits, first + i + 1);
        }
    }
    return TCR_OK;
}
