/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_WHY_H
#define TCR_WHY_H

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * Why a set is uneven: which cause makes which part of the mean square deviation from the line
 * (model.md, section 8). What a lash wears is split into what its cell, a zone of a layer, wears
 * and its own choice. A cause that is switched off is levelled out on every lash:
 *
 *   root heights       all roots at the mean lash's height
 *   layer shortening   every cell as long as the bottom cell of its zone, or of the nearest zone
 *                      that has one
 *   placement          every cell on top
 *   zone steps         the cells' lengths blended between the zones' centres and not rounded
 *   single choices     every lash as its cell
 *   natural variation  pitch, yaw, roll, length, turn and diameters of the mean lash at the place
 *
 * A cell wears what map and rule give it; where rows of its lashes say what they wear, and the eye
 * has no intended map, it wears the median of their lengths and the most frequent of the rest. The
 * fitted line is fitted anew for every combination; the intended one stays.
 */
typedef enum tcr_cause {
    TCR_CAUSE_HEIGHTS = 0,
    TCR_CAUSE_SHORTENING = 1,
    TCR_CAUSE_PLACEMENT = 2,
    TCR_CAUSE_ZONES = 3,
    TCR_CAUSE_SINGLE = 4,
    TCR_CAUSE_VARIATION = 5
} tcr_cause;
enum { TCR_CAUSES = 6, TCR_COMBINATIONS = 1 << TCR_CAUSES };

/* What one cause does to the mean square deviation, mm2; negative where it evens the line. */
typedef struct tcr_share {
    double shapley_mm2;    /* its mean contribution over all orders (Shapley 1953) */
    double first_in_mm2;   /* added to the bare set */
    double last_out_mm2;   /* taken from the whole set */
    double alone_rms_mm;   /* rms if it were the only cause */
    double without_rms_mm; /* rms if it alone were switched off */
} tcr_share;

typedef struct tcr_why {
    size_t lashes;                            /* that carry an extension */
    double mean_square_mm2[TCR_COMBINATIONS]; /* by the causes switched on, bit c for cause c */
    double whole_rms_mm, bare_rms_mm;         /* all causes on, all off */
    tcr_share cause[TCR_CAUSES];              /* shapley_mm2 sum to whole^2 - bare^2 */
    tcr_share layering;                       /* root heights and layer shortening as one cause */
    tcr_share lengths_along;                  /* zone steps and single choices as one cause */
    double eyes_differ_mm2; /* what the bare set keeps against a line that two eyes share: their
                               difference; NaN against any other line */
} tcr_why;

/*
 * The causes of one eye of a check, against the check's own line. TCR_E_MISSING (no such eye), the
 * status of the line where it has none in some combination, TCR_E_BOND where a lash cannot bond in
 * some combination, TCR_E_MEMORY. Cost: 64 evaluations of the eye.
 */
TCR_API tcr_status tcr_why_of(const tcr_check *check, tcr_side side, tcr_why *why);

#endif
