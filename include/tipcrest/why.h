/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_WHY_H
#define TCR_WHY_H

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * Why a set is uneven: which cause makes which part of the mean square deviation from the line
 * (model.md, section 8). A cause that is switched off is levelled out on every lash:
 *
 *   root heights       all roots at the mean height of the eye's lashes that carry an extension
 *   layer shortening   every length as the map gives it to the bottom layer
 *   placement          every extension at the outer side
 *   zone steps         lengths interpolated between the zones' centres, not rounded
 *   natural variation  pitch, yaw, roll, length, turn and diameters of the mean lash at the place
 *
 * A length that a lash's own row gives keeps its difference from the map's length. The fitted line
 * is fitted anew for every combination; the intended one stays.
 */
typedef enum tcr_cause {
    TCR_CAUSE_HEIGHTS = 0,
    TCR_CAUSE_SHORTENING = 1,
    TCR_CAUSE_PLACEMENT = 2,
    TCR_CAUSE_ZONES = 3,
    TCR_CAUSE_VARIATION = 4
} tcr_cause;
enum { TCR_CAUSES = 5, TCR_COMBINATIONS = 1 << TCR_CAUSES };

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
    tcr_share layering; /* root heights and layer shortening as one joint cause */
} tcr_why;

/*
 * The causes of one eye of a check, against the check's own line. TCR_E_MISSING (no such eye), the
 * status of the line where it has none in some combination, TCR_E_BOND where the mean lash cannot
 * carry an extension, TCR_E_MEMORY. Cost: 32 evaluations of the eye.
 */
TCR_API tcr_status tcr_why_of(const tcr_check *check, tcr_side side, tcr_why *why);

#endif
