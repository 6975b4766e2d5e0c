/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_ORDER_DATA_H
#define TCR_PLAN_ORDER_DATA_H

/* What the parts of the working order share. Lashes are 16-bit numbers: TCR_ORDER_MOST is less. */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "plan/order.h"

typedef struct tcr_order_problem {
    const tcr_order_lash *lash;
    size_t n;
    size_t last; /* less than n */
    double distance_mm;
    long row_cost, eye_cost; /* of a change, ms */
    size_t rows;
    const uint16_t *row;     /* of each lash, numbered from 0 */
    const uint16_t *line;    /* lashes by eye, then x */
    size_t second_eye;       /* where the lashes of eye 1 begin in line */
    const uint8_t *near_bit; /* n x n bits */
    const uint32_t *first;   /* n + 1: the lashes near lash i are near[first[i]] and on */
    const uint16_t *near;
    uint16_t *scratch; /* SCRATCH x n */
} tcr_order_problem;

enum { TCR_ORDER_SCRATCH = 5 };

typedef struct tcr_order_score {
    size_t conflicts;
    long cost; /* of all changes, ms */
} tcr_order_score;

static inline bool tcr_order_near(const tcr_order_problem *p, size_t a, size_t b) {
    const size_t bit = a * p->n + b;
    return (p->near_bit[bit / 8] >> (bit % 8) & 1) != 0;
}

static inline bool tcr_order_better(tcr_order_score a, tcr_order_score b) {
    return a.conflicts != b.conflicts ? a.conflicts < b.conflicts : a.cost < b.cost;
}

/* What it costs that lash b follows lash a. */
static inline long tcr_order_cost(const tcr_order_problem *p, size_t a, size_t b) {
    return (p->row[a] != p->row[b] ? p->row_cost : 0) +
           (p->lash[a].eye != p->lash[b].eye ? p->eye_cost : 0);
}

/* Of the places from 'from' up to before 'to', cut to the sequence, those whose lash is near one of
 * the last few before it. */
size_t tcr_order_conflicts(const tcr_order_problem *p, const uint16_t *sequence, size_t from,
                           size_t to);

tcr_order_score tcr_order_score_of(const tcr_order_problem *p, const uint16_t *sequence);

/* Fills in crowd, crowd_needs, apart, least_changes and, where they prove it, none. Uses scratch 0
 * and 1. */
void tcr_order_bound(const tcr_order_problem *p, tcr_order *order);

/*
 * One sequence, lash by lash, what may be placed first, then what weighs most; attempt 0 and on
 * weigh differently. Uses scratch 0 to 4.
 */
void tcr_order_build(const tcr_order_problem *p, uint32_t attempt, uint16_t *sequence);

/* Betters a sequence by moving and reversing pieces, until nothing helps or *work, in pairs of
 * lashes looked at, is used up. */
void tcr_order_improve(const tcr_order_problem *p, uint64_t *work, uint16_t *sequence,
                       tcr_order_score *score);

#endif
