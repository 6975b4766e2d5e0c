/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_DATA_H
#define TCR_PLAN_DATA_H

/* What a plan is made of, and the steps that plan.c puts together. */

#include <tipcrest/mean.h>
#include <tipcrest/plan.h>

#include "model/evaluate.h"
#include "plan/free.h"

struct tcr_plan {
    const tcr_set *set;
    size_t changes; /* of the set, when it was planned */
    tcr_allocator allocator;
    tcr_view view;
    tcr_looking at[TCR_SIDES]; /* by the view; of the eyes that there are */
    tcr_plan_options options;
    tcr_plan_result result;
    tcr_plan_eye eye[TCR_SIDES];
    double moved_mm[TCR_SIDES];    /* how far a free line was moved up where the map is longest */
    tcr_mean_lash mean[TCR_SIDES]; /* of the eyes that are there */
    tcr_plan_lash *lash[TCR_SIDES];
    tcr_plan_cell *cell;
    tcr_plan_point *point;
    tcr_watch watch;
    bool samples_ended; /* before there were all: by a caller, who is asked again afterwards */
    struct tcr_plan_scratch *scratch; /* while it is made; then NULL */
};

/* The intended lines of the eyes that there are, in a view. Statuses as tcr_intended_line. */
tcr_status tcr_plan_lines(const tcr_set *set, const tcr_view *view, tcr_line line[TCR_SIDES]);

/* Which lashes of an eye could carry an extension, and which of these are used: their 'use'. */
tcr_status tcr_plan_suit(tcr_plan *plan, tcr_side side);

/* How many lashes of an eye the plan could give an extension with some load limits lifted: bits
 * TCR_BEYOND_... */
size_t tcr_plan_count_without(const tcr_plan *plan, tcr_side side, unsigned lifted);

/* What is kept while a plan is made (scratch.h). */
tcr_status tcr_plan_scratch_new(tcr_plan *plan);
/* Makes room to keep samples of eyes that are drawn anew, unless they are too many. */
tcr_status tcr_plan_scratch_draws(const tcr_plan *plan);
void tcr_plan_scratch_free(tcr_plan *plan);

/* Attaches a choice to a lash, whose sight has its stance. Returns whether it stays within the
 * limits of overlength and load; else the attachment may be left as it was. */
bool tcr_plan_carries(const tcr_plan *plan, const tcr_lash *lash, const tcr_choice *choice,
                      tcr_sight *sight);

/* The same, and where it stays within them, the tip and where that is seen. */
bool tcr_plan_bears(const tcr_plan *plan, tcr_side side, const tcr_lash *lash,
                    const tcr_choice *choice, tcr_sight *sight);

/* What may be chosen from in a cell, beside the lengths; the spread of fans is given. */
typedef struct tcr_plan_range {
    size_t curls, diameters, fans, placements;
    double spread_rad;
    size_t curl[TCR_PLAN_CURLS_MAX];
    double diameter_mm[TCR_PLAN_DIAMETERS_MAX];
    int fan[TCR_PLAN_FANS_MAX];
    tcr_placement placement[TCR_PLACEMENTS];
} tcr_plan_range;

tcr_plan_range tcr_plan_range_of(const tcr_plan *plan, const tcr_zone *zone, tcr_layer layer);

/* How many choices of one length a range holds, and number i of them, from 0. */
size_t tcr_plan_range_count(const tcr_plan_range *range);
tcr_choice tcr_plan_range_choice(const tcr_plan_range *range, size_t i, double length_mm);

/* A lash of a cell: of which eye, which, and how it stands and was evaluated last. */
typedef struct tcr_plan_member {
    tcr_side side;
    size_t lash;
    tcr_sight sight;
} tcr_plan_member;

/* All cells with their options, and what each option does to each lash of its cell. Behind the
 * cells that choose stands one for each lash that has what its row gives, with that one option. */
typedef struct tcr_plan_table {
    size_t cells, options;
    size_t choosing;         /* the first of the cells: one for each zone and layer */
    size_t *first;           /* cells + 1, of options */
    size_t *member_first;    /* cells + 1, of members */
    tcr_plan_member *member; /* by cell; cells of eyes that are drawn anew have none */
    tcr_choice *choice;      /* of each option */
    int *length;             /* of each option, index into the tray */
    bool *follows;           /* of each cell */
    size_t *lashes; /* of each cell: tips of an option, of its members or one for its samples */
    size_t *at;     /* of each option, into x and off */
    double *x_mm, *off_mm; /* where the tip stands, and how far off the line */
    double *kept_mm;       /* as off_mm: what a share of the samples keeps; NULL unless asked for */
    double *extra;         /* of each option */
    tcr_sums *sums;        /* of each option; means over the samples, if there are any */
} tcr_plan_table;

/* A table that is being filled: how much room there is for options and tips. */
typedef struct tcr_plan_filling {
    tcr_plan *plan;
    tcr_plan_table *table;
    size_t option_room, tips, tip_room;
    size_t lashes; /* over both eyes */
} tcr_plan_filling;

/* How many choices a range holds, each with its lengths. */
size_t tcr_plan_count_options(const tcr_set *set, const tcr_wish *wish,
                              const tcr_plan_range *range);

/* Bit t: a choice for a zone's layer may have length t of the tray: any that is at hand in its curl
 * and diameter, or where the zone fixes one, the nearest to it. */
uint64_t tcr_plan_lengths_for(const tcr_set *set, const tcr_wish *wish, const tcr_choice *choice);

/* An option of the next cell, which has no members: its sums, means over samples, and what a share
 * of them keeps, read where the largest distance is made least. */
tcr_status tcr_plan_table_add(tcr_plan_filling *filling, const tcr_choice *choice, size_t length,
                              const tcr_sums *sums, double kept_mm);
/* The cell has its options. follows: it is the neighbour of the cell before. */
tcr_status tcr_plan_table_end(tcr_plan_filling *filling, const tcr_plan_cell *cell, bool follows,
                              tcr_error *error);

/* Whether an eye's zones and layers alone are planned: nobody measured its lashes, no row says what
 * one of them gets, and samples are asked for. */
bool tcr_plan_redraws(const tcr_plan *plan, tcr_side side);

/* Adds the cells of the eyes that redraw, and notes how many samples there were. */
tcr_status tcr_plan_pool(tcr_plan *plan, tcr_plan_filling *filling, tcr_error *error);

/* Notes what the zones come to over the samples of these eyes, once all is chosen. */
tcr_status tcr_plan_look_over(tcr_plan *plan);

/* Statuses and error as of tcr_plan_new. */
tcr_status tcr_plan_table_make(tcr_plan *plan, tcr_plan_table *table, tcr_error *error);
void tcr_plan_table_free(const tcr_plan *plan, tcr_plan_table *table);

/* The placement of each layer that costs it least, into the result; extra: of each option, as that
 * of the table, but INFINITY for other placements than its layer's where its cell may have this. */
void tcr_plan_place_by_layer(tcr_plan *plan, const tcr_plan_table *table, double *extra);

/* Where the tip of an evaluated lash is seen, and how far off its eye's line, mm. */
typedef struct tcr_plan_tip {
    double x_mm, off_mm;
} tcr_plan_tip;
tcr_plan_tip tcr_plan_tip_of(const tcr_plan *plan, tcr_side side, const tcr_sight *sight);

/* How far a tip lies off the line as the plan has moved it. */
static inline double tcr_plan_off(const tcr_plan *plan, tcr_plan_tip tip) {
    return tip.off_mm - plan->result.shift_mm - plan->result.tilt * tip.x_mm;
}

/* How far the eye is open in a sample. */
double tcr_plan_opening_of(size_t sample);

/* Replaces the sums of every option by their means over plan->options.samples samples, or where the
 * largest is made least fills kept_mm. samples: how many it came to before it was stopped; 0, and
 * nothing is replaced, where that was none, or not all of those for kept_mm. */
tcr_status tcr_plan_sample(tcr_plan *plan, tcr_plan_table *table, size_t *samples);
/* After samples: a caller who stopped them may still allow the choice, so progress is asked again.
 */
void tcr_plan_end_samples(tcr_plan *plan);

/* The lashes that leave their zone's choice. Fills the corrections and points of the result.
 */
tcr_status tcr_plan_correct(tcr_plan *plan, const tcr_plan_table *table);

/* Notes whether an eye gets the longest length of its map. */
void tcr_plan_find_reach(tcr_plan *plan, const tcr_plan_table *table, tcr_side side);

#endif
