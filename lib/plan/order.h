/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_ORDER_H
#define TCR_PLAN_ORDER_H

/*
 * The working order over both eyes: no lash is placed within a distance of any of the last few that
 * were placed, for their adhesive is still soft and neighbours would stick together; and the row of
 * the tray is changed seldom, for each change costs a reach.
 */
#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/status.h>

typedef struct tcr_order_lash {
    int eye;           /* 0 or 1; lashes of different eyes never lie near each other */
    double x_mm, y_mm; /* its root in the closed eye, as seen by the artist */
    int row;           /* of the tray: the same number, the same row */
} tcr_order_lash;

typedef struct tcr_order {
    size_t changes;       /* of the tray's row */
    size_t least_changes; /* rows less one: no order can have fewer */
    size_t conflicts;     /* lashes placed nearer than that to one of the last few: 0 where it is
                             feasible */
} tcr_order;

/*
 * distance_mm > 0; last: how many of the lashes placed before are still soft. sequence receives n
 * indices. TCR_OK with conflicts 0; TCR_E_NO_SOLUTION where no order without a conflict was found,
 * and then the sequence with the fewest that were found, with order->conflicts telling how many,
 * and proved_none saying whether that none exists is proved (as for three lashes within the
 * distance and last = 2, in one eye alone). TCR_E_MEMORY.
 */
tcr_status tcr_order_find(const tcr_order_lash *lashes, size_t n, double distance_mm, size_t last,
                          const tcr_allocator *allocator, size_t *sequence, tcr_order *order,
                          int *proved_none);

#endif
