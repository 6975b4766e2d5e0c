/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_COVER_H
#define TCR_PLAN_COVER_H

/*
 * Which of the lashes that could carry an extension are used, so that they cover the line evenly:
 * the first and the last always, the largest gap between neighbours as small as can be with so
 * many, and of the ways to reach that the one with the fewest weak lashes.
 */
#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/status.h>

typedef struct tcr_cover {
    size_t used;         /* lashes chosen */
    size_t weak;         /* of them weak ones */
    double gap_mm;       /* the largest gap that the choice leaves; 0 below two lashes */
    double least_gap_mm; /* with every lash used: no choice can do better */
} tcr_cover;

/*
 * place_mm: n places along the line, rising (equal ones allowed). is_weak: n flags, or NULL.
 * wanted: how many to use, cut to n; at least 2 are used where n is 2 or more, and as many more as
 * are asked for where fewer would leave the same gap. use receives n flags. TCR_E_MEMORY. Exact;
 * beyond n x wanted of TCR_COVER_EXACT the weak ones are left out of account.
 */
enum { TCR_COVER_EXACT = 4000000 };
tcr_status tcr_cover_choose(const double *place_mm, const bool *is_weak, size_t n, size_t wanted,
                            const tcr_allocator *allocator, bool *use, tcr_cover *cover);

#endif
