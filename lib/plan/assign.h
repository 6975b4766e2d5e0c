/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_ASSIGN_H
#define TCR_PLAN_ASSIGN_H

/*
 * One option for every cell of the map, of least cost, where an option's cost does not depend on
 * what other cells get; cells are tied to each other by two limits: how many different lengths
 * there may be over all, and by how much neighbouring cells may differ in length. Solved exactly:
 * dynamic programming along the chains of neighbours, branch and bound over the lengths.
 */
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/status.h>

#include "num/watch.h"

enum {
    TCR_ASSIGN_LENGTHS_MAX = 64,
    TCR_ASSIGN_CELLS_MAX = 2 * 64 * 3,  /* eyes, zones, layers */
    TCR_ASSIGN_OPTIONS_MAX = UINT16_MAX /* of a cell */
};

typedef struct tcr_assign {
    size_t cells;            /* 1 to TCR_ASSIGN_CELLS_MAX */
    const size_t *first;     /* cells + 1: the options of cell c are first[c] to first[c + 1] - 1 */
    const int *length;       /* of each option, 0 to lengths - 1 */
    size_t lengths;          /* 1 to TCR_ASSIGN_LENGTHS_MAX */
    const double *length_mm; /* rising */
    const bool *follows;     /* of each cell: it is the neighbour of the cell before it */
    double step_most_mm;     /* between neighbours; INFINITY for no limit */
    size_t lengths_most;     /* different lengths over all cells; 0 for no limit */
    bool maximum;            /* the whole cost is the largest of the cells', not their sum */
    tcr_watch *watch;        /* stopped, the search ends with the best so far; NULL: never */
} tcr_assign;

/*
 * The best choice for these costs, one for each option, not NaN; INFINITY forbids it. choice
 * receives an option for each cell, total their cost. TCR_E_NO_SOLUTION where the limits leave
 * none, TCR_E_STOPPED where it was stopped before one was found: then nothing is written. bound,
 * which may be NULL: no choice costs less; the same as total up to rounding of its sum unless the
 * search was stopped. Of equal options the first. Allocates nothing; needs about 70 kB of stack.
 */
tcr_status tcr_assign_solve(const tcr_assign *problem, const double *cost, size_t *choice,
                            double *total, double *bound);

#endif
