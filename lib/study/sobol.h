/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_SOBOL_H
#define TCR_STUDY_SOBOL_H

/* What Sobol points are made of, for tests with other direction numbers too. */

#include <tipcrest/study_design.h>

enum { TCR_SOBOL_BITS = 53, TCR_SOBOL_FIRST_MAX = 10 };

/* A dimension: its primitive polynomial, bit k the coefficient of x^k, and the first m_1, m_2, ...,
 * as many as its degree. Degree 0 is van der Corput's sequence. */
typedef struct tcr_sobol_numbers {
    int degree;
    unsigned polynomial;
    unsigned short first[TCR_SOBOL_FIRST_MAX];
} tcr_sobol_numbers;

/* The direction numbers v_1, v_2, ... of a dimension, as 53-bit numbers. */
void tcr_sobol_directions(const tcr_sobol_numbers *numbers, uint64_t direction[TCR_SOBOL_BITS]);

/* 53 random bits of their own for every place (a, b) of a use. */
uint64_t tcr_study_bits(uint64_t seed, uint32_t a, uint32_t b, uint32_t use);

/* The same of dimension 0 to TCR_SOBOL_DIMENSIONS - 1 of the table. */
void tcr_sobol_dimension(size_t dimension, uint64_t direction[TCR_SOBOL_BITS]);

/* The bits of a digital shift; 0 for NULL. */
uint64_t tcr_sobol_shift_bits(const tcr_sobol_shift *shift, size_t dimension);

/* The bits of a point. */
uint64_t tcr_sobol_bits(const uint64_t direction[TCR_SOBOL_BITS], uint64_t index);

/* Those of point 'index', from those of the one before it. */
static inline uint64_t tcr_sobol_next(const uint64_t direction[TCR_SOBOL_BITS], uint64_t bits,
                                      uint64_t index) {
    int lowest = 0;
    while ((index >> lowest & 1u) == 0)
        lowest++;
    return bits ^ direction[lowest];
}

/* A number from 0 to below 1. */
static inline double tcr_sobol_number(uint64_t bits) { return (double)bits * 0x1p-53; }

#endif
