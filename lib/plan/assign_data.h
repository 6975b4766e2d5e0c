/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_ASSIGN_DATA_H
#define TCR_PLAN_ASSIGN_DATA_H

/* What the parts of the choice share: assign.c, and assign_few.c for at most K lengths. */

#include <math.h>

#include "plan/assign.h"

enum { TCR_ASSIGN_NONE = TCR_ASSIGN_OPTIONS_MAX };

typedef struct tcr_assign_solver {
    const tcr_assign *problem;
    const double *cost;
    /* The cheapest option of each length, counted from the cell's first. */
    uint16_t best_option[TCR_ASSIGN_CELLS_MAX][TCR_ASSIGN_LENGTHS_MAX];
    unsigned char pick[TCR_ASSIGN_CELLS_MAX]; /* a length for each cell, by the last bound */
    unsigned char best[TCR_ASSIGN_CELLS_MAX]; /* of the cheapest choice so far */
    double best_total;
    double bound; /* no choice costs less */
    bool stopped; /* before the search was done */
} tcr_assign_solver;

/* What cell c costs with length l; INFINITY where it cannot have it. */
static inline double tcr_assign_cost(const tcr_assign_solver *s, size_t c, size_t l) {
    const uint16_t option = s->best_option[c][l];
    return option == TCR_ASSIGN_NONE ? INFINITY : s->cost[s->problem->first[c] + option];
}

static inline size_t tcr_assign_bits(uint64_t set) {
    size_t count = 0;
    for (; set != 0; set &= set - 1)
        count++;
    return count;
}

/* The least cost with the allowed lengths, however many are used; the lengths in s->pick. */
double tcr_assign_chains(tcr_assign_solver *s, uint64_t allowed);

/* Keeps the lengths of s->pick as the cheapest choice so far. */
void tcr_assign_keep(tcr_assign_solver *s, double total);

/* The cheapest choice with at most problem->lengths_most lengths, 1 or more of them, that costs
 * less than s->best_total; and the bound. */
void tcr_assign_few(tcr_assign_solver *s);

#endif
