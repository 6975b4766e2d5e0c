/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_REDRAW_H
#define TCR_PLAN_REDRAW_H

/*
 * Eyes that nobody measured, drawn anew sample by sample: sample 0 is the set's own, each further
 * one another client of the same description. In each the eyes are open as the sample's opening
 * says, the line is the one that the map intends for these lashes, and the lashes that get an
 * extension are chosen as for any client.
 */
#include "line/intended.h"
#include "plan/plan_data.h"

typedef struct tcr_redraw {
    const tcr_plan *plan; /* that the samples are for */
    tcr_set *set;         /* a copy of its set; the drawn eyes change from sample to sample */
    tcr_plan as;          /* the plan of the copy, as far as suitability needs one */
    tcr_description by[TCR_SIDES];
    tcr_looking at[TCR_SIDES]; /* of the sample */
    tcr_line line[TCR_SIDES];  /* of the sample */
    tcr_intended intended[TCR_SIDES];
} tcr_redraw;

/* TCR_E_MEMORY. To be ended in any case. */
tcr_status tcr_redraw_begin(tcr_redraw *redraw, const tcr_plan *plan);
void tcr_redraw_end(tcr_redraw *redraw);

/* Draws a sample, or takes it as it is kept. TCR_E_MEMORY, or the status of the intended line. */
tcr_status tcr_redraw_next(tcr_redraw *redraw, size_t sample);

/* A lash of the present sample. */
typedef struct tcr_redrawn {
    tcr_side side;
    const tcr_lash *lash;
    size_t zone;
    tcr_sight sight;   /* at the set's opening, for the limits */
    tcr_stance stance; /* at the sample's opening */
} tcr_redrawn;

/* Lash i of a drawn eye; false where it gets no extension. */
bool tcr_redraw_lash(const tcr_redraw *redraw, tcr_side side, size_t i, tcr_redrawn *lash);

/* Where its tip stands with a choice; returns whether it stays within the limits. */
bool tcr_redraw_tip(const tcr_redraw *redraw, tcr_redrawn *lash, const tcr_choice *choice,
                    tcr_plan_tip *tip);

/* The same whatever the limits; false where there is no room for the bond. */
bool tcr_redraw_tip_anyway(const tcr_redraw *redraw, tcr_redrawn *lash, const tcr_choice *choice,
                           tcr_plan_tip *tip);

/* Where the cells of plan->cell are, by zone and layer; SIZE_MAX for none. */
typedef struct tcr_plan_places {
    size_t cell[TCR_ZONES_MAX][TCR_LAYERS];
} tcr_plan_places;
void tcr_plan_find_places(const tcr_plan *plan, tcr_side side, size_t cells, tcr_plan_places *out);

#endif
