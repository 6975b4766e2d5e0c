/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STEP_H
#define TCR_STEP_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * The level step: how much shorter an extension must be on each layer so that the tips of the mean
 * lash are level at the pupil, in the open front view. Also the sensitivity of a tip's height to
 * each input, and what root heights and placement each ask for.
 *
 * The mean lash (mean.h) is at u = 1/2. On the upper layers its root is higher by what the eye's
 * own layers root higher (tcr_layer_heights_of), or by what the question says. Lid, bond, tray,
 * curls, diameter and fan are the set's.
 */
typedef struct tcr_step_question {
    tcr_side side;           /* whose lid */
    size_t curl;             /* index into the set's curls */
    double bottom_length_mm; /* 3 to 30 */
    tcr_placement bottom, middle, top;
    bool has_apart;  /* use 'apart_mm'; false: the heights of the eye's own layers */
    double apart_mm; /* 0 to 3, from layer to layer */
} tcr_step_question;

/* The upper layers: index 0 is middle, 1 is top. */
enum { TCR_UPPER_LAYERS = 2 };

typedef struct tcr_step {
    tcr_status status[TCR_UPPER_LAYERS]; /* TCR_E_RANGE if no length from 3 to 30 mm is level */
    double length_mm[TCR_UPPER_LAYERS];  /* the level length, to 1e-9 mm; NaN if none */
    double step_mm[TCR_UPPER_LAYERS];    /* how much shorter than on the layer below */
    double tray_mm[TCR_UPPER_LAYERS];    /* the tray's length that brings the tip nearest; without a
                                            tray the level length */
    double left_over_mm[TCR_UPPER_LAYERS];  /* height of the tip above the bottom layer's with
                                               tray_mm */
    double shows_from_mm[TCR_UPPER_LAYERS]; /* the distance at which left_over_mm spans 3 minutes of
                                               arc (tcr_distance_of); it spans less from farther
                                               away */
} tcr_step;

/*
 * Finds the level steps. If several lengths are level, it takes the one nearest to the length on
 * the bottom layer. TCR_E_BOND (the mean lash cannot carry the bottom extension), TCR_E_MISSING
 * (eye), TCR_E_RANGE (length, apart), TCR_E_ARGUMENT (NULL, curl, placement). Allocates nothing.
 * Stack: below 24 kB.
 */
TCR_API tcr_status tcr_step_of(const tcr_set *set, const tcr_step_question *question,
                               tcr_step *step);

/*
 * How far the tip of the mean lash rises in the open front view, per unit of one input; the others
 * stay.
 */
typedef struct tcr_sensitivity {
    double per_height;                      /* mm per mm of root height */
    double per_pitch;                       /* mm per rad of growth angle up the lid */
    double per_natural;                     /* mm per mm of natural length */
    double per_turn;                        /* mm per rad of natural turn */
    double per_length;                      /* mm per mm of extension */
    double by_placement_mm[TCR_PLACEMENTS]; /* mm above the same extension on top */
} tcr_sensitivity;

/*
 * The sensitivities of the bottom layer of a question, by central differences (error below 1e-6 of
 * each). Statuses as for tcr_step_of.
 */
TCR_API tcr_status tcr_step_sensitivity(const tcr_set *set, const tcr_step_question *question,
                                        tcr_sensitivity *sensitivity);

/*
 * Why the level lengths are what they are. On each upper layer by_height_mm and by_placement_mm
 * sum to how much shorter than on the bottom layer the level length is.
 */
typedef struct tcr_step_reason {
    double by_higher_mm;  /* rise of the bottom layer's tip with a root 1 mm higher */
    double by_shorter_mm; /* and with an extension 1 mm shorter; NaN where that is below 3 mm or
                             cannot be bonded */
    double by_height_mm[TCR_UPPER_LAYERS];    /* shorter than on the bottom layer if all layers are
                                                 placed as the bottom one; NaN if no length is level */
    double by_placement_mm[TCR_UPPER_LAYERS]; /* shorter, beside that, for the layer's own
                                                 placement; negative: longer; NaN if there is no
                                                 level length of either placement */
} tcr_step_reason;

/* Finds the reason for the level steps of a question. Statuses as for tcr_step_of. Allocates
 * nothing. */
TCR_API tcr_status tcr_step_reason_of(const tcr_set *set, const tcr_step_question *question,
                                      tcr_step_reason *reason);

#endif
