/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STEP_H
#define TCR_STEP_H

#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * The step that brings the layers level: how much shorter an extension must be on each layer so
 * that the tips of the mean lash stand at one height, at the pupil, in the open front view. And
 * what moves a tip by how much, so that a rule can be given a reason.
 *
 * The mean lash stands at u = 1/2 with its root at 0, one and two gaps of 1 mm (the set's mean lash
 * for everything else); lid, bond, tray, curls, diameter and fan are the set's.
 */
typedef struct tcr_step_question {
    tcr_side side; /* whose lid */
    size_t curl;   /* index into the set's curls */
    double bottom_length_mm;
    tcr_placement bottom, middle, top;
} tcr_step_question;

/* Middle (0) and top (1). */
enum { TCR_UPPER_LAYERS = 2 };

typedef struct tcr_step {
    tcr_status status[TCR_UPPER_LAYERS]; /* TCR_E_RANGE where no length from 3 to 30 mm is level */
    double length_mm[TCR_UPPER_LAYERS];  /* the level length, to 1e-9 mm */
    double step_mm[TCR_UPPER_LAYERS];    /* shorter than on the layer below by this */
    double tray_mm[TCR_UPPER_LAYERS];    /* the tray's length that brings the tip nearest; without a
                                            tray the level length */
    double
        left_over_mm[TCR_UPPER_LAYERS]; /* the tip then stands this much above the bottom layer's */
    double shows_from_mm[TCR_UPPER_LAYERS]; /* the distance from which so much is 3 minutes of arc
                                               (tcr_distance_of); from farther away it is less */
} tcr_step;

/*
 * Answers a question. Where several lengths are level, the one nearest to the bottom layer's.
 * TCR_E_BOND (the mean lash cannot carry it), TCR_E_MISSING (eye), TCR_E_ARGUMENT, TCR_E_RANGE
 * (length).
 */
TCR_API tcr_status tcr_step_of(const tcr_set *set, const tcr_step_question *question,
                               tcr_step *step);

/* How far the tip of the mean lash rises in the open front view, per unit of one thing, all else
 * kept. */
typedef struct tcr_sensitivity {
    double per_height;                      /* mm per mm of root height */
    double per_pitch;                       /* mm per rad of growth angle up the lid */
    double per_natural;                     /* mm per mm of natural length */
    double per_turn;                        /* mm per rad of natural turn */
    double per_length;                      /* mm per mm of extension */
    double by_placement_mm[TCR_PLACEMENTS]; /* mm above the same extension laid on top */
} tcr_sensitivity;

/* Sensitivities of the bottom layer of a question, by central differences (error below 1e-6 of
 * each). */
TCR_API tcr_status tcr_step_sensitivity(const tcr_set *set, const tcr_step_question *question,
                                        tcr_sensitivity *sensitivity);

#endif
