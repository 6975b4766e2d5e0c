/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_FREE_H
#define TCR_PLAN_FREE_H

/*
 * The choice of an option for every cell where the line itself may be shifted and tilted as a
 * whole: the least over all choices and over all moves of the line's two ends, between which it is
 * moved in proportion. Proved by branch and bound over the two moves.
 */
#include "plan/assign.h"

#include <tipcrest/alloc.h>

/* Sums over the lashes of a cell, or means of such sums over samples. */
typedef struct tcr_sums {
    double n, x, xx, off, off_x, off_off;
} tcr_sums;

void tcr_sums_add(tcr_sums *sums, double x_mm, double off_mm);
/* Adds a share of others. */
void tcr_sums_join(tcr_sums *sums, const tcr_sums *others, double share);

/* What an option does to the lashes of its cell: where each tip stands, and how far off the line.
 */
typedef struct tcr_free {
    tcr_assign cells;
    const size_t *lashes;        /* of each cell, the fixed ones too, as first, sums and so on */
    const tcr_sums *sums;        /* of each option; read for the sum of squares */
    const double *x_mm, *off_mm; /* of option o, lash j: at[o] + j; read for the maximum */
    const size_t *at;            /* of each option */
    const double *extra;         /* of each option, added to its cost: INFINITY where not allowed */
    /* Cells behind those of 'cells', with one option each: they count, whatever the limits. */
    size_t fixed;
    double move_most_mm; /* how far the line may move at either end; 0 holds it */
    double end_mm[2];    /* X of the ends, the first below the second; read where it may move */
} tcr_free;

typedef struct tcr_free_result {
    double shift_mm, tilt; /* a, b: the line is line(X) + a + b X */
    double total;          /* sum of squares, mm2, or the largest deviation, mm, as the cells say */
    double bound;          /* no choice and no line comes below this */
    bool proved;           /* total and bound agree */
    bool at_limit;         /* the line moved as far as it may, at an end at least */
    size_t boxes;          /* looked into */
} tcr_free_result;

/*
 * choice receives an option for each cell, the fixed ones too. TCR_E_NO_SOLUTION where the limits
 * leave no choice, TCR_E_MEMORY. Where it was stopped the best so far, and its bound.
 */
tcr_status tcr_free_solve(const tcr_free *problem, const tcr_allocator *allocator, size_t *choice,
                          tcr_free_result *result);

#endif
