/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RANDOM_H
#define TCR_RANDOM_H

#include <stdint.h>

#include <tipcrest/export.h>

/*
 * Counter-based random numbers: Philox 4x32-10 (Salmon, Moraes, Dror & Shaw 2011, "Parallel random
 * numbers: as easy as 1, 2, 3", SC'11, 10.1145/2063384.2063405). The same key and counter give the
 * same words on every machine and in every thread. The calls keep no state, allocate nothing and
 * cannot fail. For NULL the numbers are NaN, and tcr_philox does nothing.
 */

/* The four random words for a counter of four words and a key of two. */
TCR_API void tcr_philox(const uint32_t counter[4], const uint32_t key[2], uint32_t words[4]);

/*
 * Names one random number. Its counter is (lash, field, eye, use + 65536 x attempt), its key the
 * low and the high word of the seed. The numbers of fields and uses are part of the contract.
 */
typedef struct tcr_random {
    uint64_t seed;
    uint32_t lash;  /* index of the lash in its eye */
    uint32_t field; /* the quantity: a tcr_describe_field */
    uint32_t eye;   /* 0 left, 1 right */
    uint32_t use;   /* the purpose, below 65536: 0 the described eye, 1 a plan's samples,
                       2 the seeds of eyes that a plan draws anew,
                       3 the spread of pitch in a lesson, 4 digital shifts of Sobol points, 5 random
                       points of a study, 6 the lashes of a survey in a study's runs, 7 the seeds of
                       a study's runs */
} tcr_random;

/*
 * A uniform number in (0, 1), ends excluded: (words 0 and 1 as 64 bits, shifted right by 11, plus
 * 1/2) / 2^53.
 */
TCR_API double tcr_random_uniform(const tcr_random *number);

/*
 * A standard normal number. It is cut at three standard deviations by drawing again (attempt + 1).
 * The method is Box and Muller's cosine branch, with the radius from words 0 and 1 and the angle
 * from words 2 and 3. Returns 0 after 1000 attempts, which is practically impossible.
 */
TCR_API double tcr_random_normal(const tcr_random *number);

#endif
