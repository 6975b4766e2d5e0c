/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Philox, logarithm, root and cosine over columns of lashes. A normal beyond the cut is drawn again
 * by itself: three in a thousand.
 */
#include "num/random_rows.h"

#include <math.h>
#include <stdbool.h>

#include "num/elementary_kernel.h"
#include "num/random_kernel.h"

enum { BLOCK = 32 };

/* Blocks of whole vectors: rows behind the last are drawn too, and not taken. */
#define UNIFORM_BLOCK(PHILOX)                                                                      \
    for (uint32_t i = 0; i < BLOCK; i++)                                                           \
        out[i] = tcr_unit_interval_lane(PHILOX(number, i).high);
#define NORMAL_BLOCK(PHILOX)                                                                       \
    for (uint32_t i = 0; i < BLOCK; i++) {                                                         \
        const tcr_random_words words = PHILOX(number, i);                                          \
        out[i] = tcr_normal_lane(words.high, words.low);                                           \
    }

/* Like TCR_CLONED, but that AVX-512 has a form of its own. */
#ifdef TCR_WITH_CLONES
#define NARROW __attribute__((target_clones("default", "avx2")))
#define WIDE __attribute__((target("avx512f,avx512dq")))
static bool has_wide(void) {
    return __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq");
}

WIDE static void uniform_block_wide(const tcr_random *restrict number, double *restrict out) {
    UNIFORM_BLOCK(tcr_philox_lane_in_64);
}
WIDE static void normal_block_wide(const tcr_random *restrict number, double *restrict out) {
    NORMAL_BLOCK(tcr_philox_lane_in_64);
}
NARROW static void uniform_block_narrow(const tcr_random *restrict number, double *restrict out) {
    UNIFORM_BLOCK(tcr_philox_lane);
}
NARROW static void normal_block_narrow(const tcr_random *restrict number, double *restrict out) {
    NORMAL_BLOCK(tcr_philox_lane);
}

/* Each is called and none pointed to: on 32-bit x86 nothing can link to the address of a clone that
 * is static. */
static void uniform_block(const tcr_random *number, double *out) {
    if (has_wide())
        uniform_block_wide(number, out);
    else
        uniform_block_narrow(number, out);
}
static void normal_block(const tcr_random *number, double *out) {
    if (has_wide())
        normal_block_wide(number, out);
    else
        normal_block_narrow(number, out);
}
#else
static void uniform_block(const tcr_random *restrict number, double *restrict out) {
    UNIFORM_BLOCK(tcr_philox_lane);
}
static void normal_block(const tcr_random *restrict number, double *restrict out) {
    NORMAL_BLOCK(tcr_philox_lane);
}
#endif

void tcr_random_uniforms(const tcr_random *number, size_t n, double *uniform) {
    tcr_random from = *number;
    for (size_t at = 0; at < n; at += BLOCK, from.lash += BLOCK) {
        double block[BLOCK];
        uniform_block(&from, block);
        for (size_t i = 0; i < BLOCK && at + i < n; i++)
            uniform[at + i] = block[i];
    }
}

void tcr_random_normals(const tcr_random *number, size_t n, double *normal) {
    tcr_random from = *number;
    for (size_t at = 0; at < n; at += BLOCK, from.lash += BLOCK) {
        double block[BLOCK];
        normal_block(&from, block);
        for (size_t i = 0; i < BLOCK && at + i < n; i++) {
            tcr_random one = from;
            one.lash += (uint32_t)i;
            normal[at + i] = fabs(block[i]) <= TCR_NORMAL_CUT ? block[i] : tcr_random_normal(&one);
        }
    }
}
