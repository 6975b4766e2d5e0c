/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RANDOM_H
#define TCR_RANDOM_H 
#include <stdint.h>
#include <tipcrest/export.h>
TCR_API void tcr_philox(const uint32_t counter[4], const uint32_t key[2], uint32_t words[4]);
typedef struct tcr_random {
    uint64_t seed;
    uint32_t lash;
    uint32_t field;
    uint32_t eye;
    uint32_t use;
} tcr_random;
TCR_API double tcr_random_uniform(const tcr_random *number);
TCR_API double tcr_random_normal(const tcr_random *number);
#endif
