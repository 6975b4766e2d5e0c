/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_COVER_H
#define TCR_PLAN_COVER_H

/*
 * Which of the lashes that could carry an extension are used, so that they cover the line evenly.
 * The first and the last are used always. Of all choices of so many lashes those count whose
 * largest gap between neighbours is the least; of these, those with the fewest weak lashes; of
 * these, the one with the least sum of squared gaps, which spreads the lashes where the largest gap
 * leaves them free.
 */
#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/status.h>

enum {
    TCR_COVER_MOST = 1000000,        /* lashes */
    TCR_COVER_SQUARES_MOST = 1 << 22 /* used x (left out + 1), for the squares to be sought */
};

typedef struct tcr_cover {
    size_t used;         /* lashes chosen */
    size_t weak;         /* of them weak ones */
    double gap_mm;       /* the largest gap that the choice leaves, and the least that so many can;
                            0 below two lashes */
    double least_gap_mm; /* with every lash used: no choice of any size can do better */
} tcr_cover;

/*
 * place_mm: n places along the line, rising; several may be equal. is_weak: n flags, or NULL for
 * none. wanted: how many to use, cut to n; and at least 2, or all where there are fewer than 2. use
 * receives n flags. Exact; beyond TCR_COVER_SQUARES_MOST, which no eye reaches, the squares are
 * left out, and of equal choices it is any. TCR_E_ARGUMENT for NULL or more than TCR_COVER_MOST
 * lashes, TCR_E_RANGE for places that fall or are not finite, TCR_E_MEMORY; then nothing is
 * written. n log n for gap and weak lashes, used x (left out + 1) x log n for the squares, and as
 * much memory.
 */
tcr_status tcr_cover_choose(const double *place_mm, const bool *is_weak, size_t n, size_t wanted,
                            const tcr_allocator *allocator, bool *use, tcr_cover *cover);

#endif
