/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_COVER_H
#define TCR_PLAN_COVER_H

/*
 * Which of the lashes that could carry an extension get one, so that they cover the line evenly:
 * the first, the last, and between them as many as are wanted, with the least largest gap that so
 * many can leave; where that leaves a choice, each as near as it can to an even spacing.
 */
#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/status.h>

/*
 * place_mm: n places along the line, rising; several may be equal. wanted: how many to use, cut to
 * n; and at least 2, or all where there are fewer than 2. use receives n flags. The largest gap is
 * exact. TCR_E_ARGUMENT for NULL, TCR_E_RANGE for places that fall or are not finite, TCR_E_MEMORY;
 * then nothing is written. Cost: 64 n for the gap, and n times the lashes within it.
 */
tcr_status tcr_cover_choose(const double *place_mm, size_t n, size_t wanted,
                            const tcr_allocator *allocator, bool *use);

#endif
