/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ROD_ROD_H
#define TCR_ROD_ROD_H

/*
 * Linear bending of curved rods under their own weight (model.md, section 9), followed from the tip
 * towards the root, one arc at a time. Nothing here depends on the direction of gravity or on how
 * the root is held: both come in at the end, by products with 3 x 3 matrices.
 *
 * A rod lies in the plane of x and y; z is across it.
 */

#include <stdbool.h>

#include <tipcrest/load.h>
#include <tipcrest/vector.h>

#include "model/load.h"
#include "rod/gauss_table.h"

/* What a round rod of 1 mm diameter has; d is the diameter. */
typedef struct tcr_rod_matter {
    double bending_uN_mm2; /* E pi/64, times d^4 */
    double torsion_uN_mm2; /* G pi/32, times d^4 */
    double tension_uN_mm2; /* E pi/4, times d^2 */
    double weight_uN_mm3;  /* of a mm of rod, times d^2 */
} tcr_rod_matter;

tcr_rod_matter tcr_rod_matter_of(double e_gpa, double g_gpa, double kg_m3);

/* A stretch of a rod: an arc of linear taper, with n fibres bonded to it or none. */
typedef struct tcr_rod_stretch {
    tcr_rod_matter core, fibre;
    double core_mm[2];  /* diameters where it starts and ends */
    double fibre_mm[2]; /* of one fibre */
    int fibres;         /* 0: the core alone */
    double apart_mm;    /* between the axes of core and fibres */
    bool aside;         /* fibres lie beside the core along z, not in the plane */
} tcr_rod_stretch;

/* The Gauss nodes of an arc, for all rods of that shape. */
typedef struct tcr_rod_arc {
    double half_mm;                            /* half its length */
    double cosine[TCR_GAUSS], sine[TCR_GAUSS]; /* of the tangent's angle at the nodes */
    double x[TCR_GAUSS], y[TCR_GAUSS];         /* from the nodes to the arc's end, mm */
    double all_x, all_y;                       /* from its start to its end */
} tcr_rod_arc;

/* Of an arc that turns by turn_rad over its length and ends at an angle. */
void tcr_rod_arc_set(tcr_rod_arc *arc, double length_mm, double turn_rad, double end_angle_rad);

/* What lies beyond a place on a rod. All zero at a free tip. */
typedef struct tcr_rod {
    double weight_uN;
    tcr_vec3 first;     /* first moment of the weight about the place, uN mm */
    tcr_vec3 lever;     /* from the place to the tip, mm */
    double shift[3][3]; /* times the unit vector of gravity: shift of the tip by the bending beyond
                           the place, mm */
} tcr_rod;

/* Goes back over an arc, from its end to its start. Where it does not bend, it only weighs. */
void tcr_rod_step(tcr_rod *rod, const tcr_rod_arc *arc, const tcr_rod_stretch *stretch, bool bends);

/* The shift of the tip where a hinge at the place turns by the moment there, in rad per uN mm: mm.
 */
tcr_vec3 tcr_rod_hinge(const tcr_rod *rod, tcr_vec3 gravity);

/* The shift of the tip, mm; a clamp of k uN mm/rad at the place, INFINITY for a rigid one. */
tcr_vec3 tcr_rod_shift(const tcr_rod *rod, tcr_vec3 gravity, double clamp_uNmm_rad);

#endif
