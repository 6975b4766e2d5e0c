/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RANDOM_H
#define TCR_RANDOM_H

#include <stdint.h>

#include <tipcrest/export.h>

/*
 * Counter-based random numbers: Philox 4x32-10 (Salmon, Moraes, Dror & Shaw 2011, "Parallel random
 * numbers: as easy as 1, 2, 3", SC'11, 10.1145/2063384.2063405). The same key and counter give the
 * same words on every machine and in every thread; there is no state.
 */

/* The four words for a counter of four words and a key of two. */
TCR_API void tcr_philox(const uint32_t counter[4], const uint32_t key[2], uint32_t words[4]);

/*
 * What a number is drawn for. The counter of a draw is (lash, field, eye, use + 65536 x attempt),
 * the key is the seed's low and high word; the numbers of fields and uses are part of the contract.
 */
typedef struct tcr_draw {
    uint64_t seed;
    uint32_t lash;  /* number of the lash in its eye, from 0 */
    uint32_t field; /* which quantity: tcr_describe_field */
    uint32_t eye;   /* 0 left, 1 right */
    uint32_t use;   /* what for, below 65536: 0 the described eye */
} tcr_draw;

/* Uniform in (0, 1): (words 0 and 1 as 64 bits, shifted right by 11, plus a half) / 2^53. */
TCR_API double tcr_draw_uniform(const tcr_draw *draw);

/*
 * Standard normal, cut at three standard deviations by drawing again (attempt + 1): Box and
 * Muller's cosine branch, radius from words 0 and 1, angle from words 2 and 3. After 1000 attempts,
 * which chance does not reach, 0.
 */
TCR_API double tcr_draw_normal(const tcr_draw *draw);

#endif
