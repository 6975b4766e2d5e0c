/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Philox, logarithm, root and cosine over columns of lashes. Words of 32 bits stand in 64, where
 * every instruction set has their product. A normal beyond the cut is drawn again by itself: three
 * in a thousand.
 */
#include "num/random_rows.h"

#include <math.h>

#include "num/elementary_kernel.h"
#include "num/random_kernel.h"

enum { BLOCK = 32 };

/* Blocks of whole vectors: rows behind the last are drawn too, and not taken. */
TCR_CLONED static void uniform_block(const tcr_random *restrict number, double *restrict out) {
    for (uint32_t i = 0; i < BLOCK; i++)
        out[i] = tcr_unit_interval_lane(tcr_philox_lane(number, i).high);
}

TCR_CLONED static void normal_block(const tcr_random *restrict number, double *restrict out) {
    for (uint32_t i = 0; i < BLOCK; i++) {
        const tcr_random_words words = tcr_philox_lane(number, i);
        out[i] = tcr_normal_lane(words.high, words.low);
    }
}

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
