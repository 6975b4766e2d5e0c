/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_ORDER_H
#define TCR_PLAN_ORDER_H

/*
 * The working order over both eyes: no lash is placed near any of the last few that were placed,
 * for their adhesive is still soft and neighbours would stick together; and changes of the tray's
 * row and of the eye take little time together.
 *
 * Such an order is hard to find in general, so that this is a search with a limit on its work. It
 * may miss an order that exists, and says so.
 */
#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/status.h>

#include "num/watch.h"

enum { TCR_ORDER_MOST = 2000 }; /* lashes */

typedef struct tcr_order_lash {
    int eye;           /* 0 or 1; lashes of different eyes never lie near each other */
    double x_mm, y_mm; /* its root in the closed eye, as seen by the artist */
    int row;           /* of the tray: the same number, the same row */
} tcr_order_lash;

/* Why no order can be without a conflict. */
typedef enum tcr_order_proof {
    TCR_ORDER_NO_PROOF = 0, /* there is one, or it is not known */
    TCR_ORDER_CROWDED = 1,  /* 'crowd' lashes lie near each other: between each two of them 'last'
                               others must come, and there are too few others */
    TCR_ORDER_CLOSE = 2     /* some parts of the eyes hold too many lashes for how few of one
                               part may follow each other; 'apart' if it is the whole */
} tcr_order_proof;

typedef struct tcr_order {
    size_t conflicts;     /* lashes placed near one of the last few: 0 where TCR_OK */
    size_t changes;       /* of the tray's row */
    size_t eye_changes;   /* from one eye to the other */
    size_t least_changes; /* no order without a conflict has fewer: see below */
    tcr_order_proof none; /* why there is no order without a conflict, where that is proved */
    size_t crowd;         /* most lashes found that all lie near each other */
    size_t crowd_needs;   /* lashes over all that the crowd takes: (crowd - 1) (last + 1) + 1 */
    size_t apart;         /* no more lashes than that can lie all apart from each other */
} tcr_order;

/* What changes cost, s, 0 to 1e6 each. */
typedef struct tcr_order_costs {
    double row_s, eye_s; /* of the tray's row; of the eye */
} tcr_order_costs;

/*
 * Finds an order. Two lashes of an eye are near where their distance is less than distance_mm (by
 * more than 1e-9 mm); last: how many of those placed before are still soft. costs: what is kept
 * low, to the millisecond; where row_s is 0, changes of row still count a millisecond; NULL: row_s
 * is 1 and eye_s 0. sequence receives n indices. TCR_OK: an order without a conflict.
 * TCR_E_NO_SOLUTION: none was found; sequence is the one with the fewest conflicts that was met,
 * and order says how many and whether more can be hoped for. TCR_E_ARGUMENT for NULL, an eye that
 * is neither 0 nor 1, more than TCR_ORDER_MOST lashes; TCR_E_RANGE for numbers that are not finite
 * or a distance that is not positive; TCR_E_MEMORY; then nothing is written. The same lashes in the
 * same order give the same sequence. watch, which may be NULL, ends the search with the best
 * sequence so far.
 *
 * least_changes: the lashes of a row are put into as few groups as they can be found to make in
 * which all are near each other, say a of them. Where a is at most 'last', no more than a of the
 * row may follow each other, so that the row must be taken up n/a times, rounded up. One less than
 * all rows are taken up together.
 */
tcr_status tcr_order_find(const tcr_order_lash *lashes, size_t n, double distance_mm, size_t last,
                          const tcr_order_costs *costs, tcr_watch *watch,
                          const tcr_allocator *allocator, size_t *sequence, tcr_order *order);

/*
 * How many of the lashes placed before are still soft when one is placed, if adhesive takes
 * setting_s to set and a lash is placed every pace_s: those placed less than setting_s ago.
 * TCR_E_RANGE for a setting time that is negative, a pace that is not positive, numbers that are
 * not finite, or more than a million lashes; TCR_E_ARGUMENT for NULL; then nothing is written.
 */
tcr_status tcr_order_still_soft(double setting_s, double pace_s, size_t *last);

#endif
