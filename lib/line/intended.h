/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_INTENDED_H
#define TCR_LINE_INTENDED_H

/* The intended line, kept as long as nothing that it depends on has changed. */

#include <tipcrest/check.h>

#include "model/lash_kernel.h"

/* Whose places the intended line of an eye runs through: its own, or both eyes' where the set has
 * two and shares the line. The eye is there. Their number. */
size_t tcr_intended_sides(const tcr_set *set, tcr_side side, tcr_side sides[TCR_SIDES]);

/* The mean lash at one of the line's places: where it is rooted, how it stands, and the bed of the
 * bond that was laid last. */
typedef struct tcr_mean_place {
    tcr_margin_place margin;
    tcr_stance stance;
    tcr_bond_bed bed; /* bond_mm is 0 where none was laid */
} tcr_mean_place;

enum { TCR_LID_NUMBERS = 9, TCR_SEAT_NUMBERS = 15 };

/* The places of an eye, and from what they were worked out. */
typedef struct tcr_mean_places {
    tcr_mean_place *place; /* NULL at first */
    double lid[TCR_LID_NUMBERS];
    double seat[TCR_SEAT_NUMBERS]; /* opening, bond, mean lash */
} tcr_mean_places;

typedef struct tcr_intended {
    tcr_status status; /* of the line: TCR_OK, TCR_E_BOND or as tcr_line_fit */
    tcr_line line;
    double *key; /* every number that the line was made from */
    size_t count, room;
    tcr_mean_places places[TCR_SIDES];
} tcr_intended;

/*
 * Brings the line of an eye of a set up to date. The eye is there and has a map. TCR_OK, with the
 * status of the line in it, or TCR_E_MEMORY.
 */
tcr_status tcr_intended_renew(tcr_intended *intended, const tcr_allocator *allocator,
                              const tcr_set *set, tcr_side side, const tcr_view *view);
void tcr_intended_free(tcr_intended *intended, const tcr_allocator *allocator);

#endif
