/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_SCRATCH_H
#define TCR_PLAN_SCRATCH_H

/*
 * What is kept while a plan is made, so that it is not computed twice: of choices and lashes what
 * bear.c works out, and the eyes that redraw.c draws.
 */
#include <stdint.h>

#include "plan/plan_data.h"
#include "rod/lash_rod.h"

/* An extension with a bond of a length, whatever lash carries it. */
typedef struct tcr_kept_choice {
    bool known;
    tcr_choice choice; /* its placement and what moves the bond out do not count */
    tcr_extension ext;
    tcr_fibre fibre;
    tcr_parting parting; /* of bond_mm */
    bool weighed;        /* 'rest' is known */
    tcr_moments rest;    /* beyond the bond */
    uint64_t on;         /* the lash on which it leans like that; 0 for none */
    tcr_lean lean;
    tcr_vec2 rest_turned; /* rest.first there */
} tcr_kept_choice;

/* A lash with a bond, whatever it carries. */
typedef struct tcr_kept_lash {
    uint64_t number; /* of the lashes kept so far, this one included */
    double length_mm, turn_rad, root_diameter_mm, tip_diameter_mm;
    tcr_bond_bed bed; /* bond_mm of 0: nothing is known */
    bool weighed;     /* the following is known */
    double full_mm, diameter_mm, tapered_mm;
    tcr_moments own, bonded;
} tcr_kept_lash;

/* Samples of eyes that nobody measured, from the first on: the lines of each, and of both eyes
 * each lash and whether it gets an extension. */
typedef struct tcr_kept_samples {
    size_t samples, room; /* kept so far, and at most */
    tcr_line *line;       /* two for each sample */
    tcr_lash *lash;       /* of each sample those of the left eye, then those of the right */
    bool *used;
} tcr_kept_samples;

enum { TCR_KEPT_CHOICES = 32 };

struct tcr_plan_scratch {
    tcr_kept_choice choice[TCR_KEPT_CHOICES]; /* each at the place that its numbers give */
    tcr_kept_lash lash;                       /* the last one */
    tcr_kept_samples drawn;
};

#endif
