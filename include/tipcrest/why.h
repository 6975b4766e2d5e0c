/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_WHY_H
#define TCR_WHY_H

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * The causes of unevenness: how much each adds to the mean square deviation from the line
 * (model.md, section 8). A cell is a zone of a layer. The extension of a lash is split into that of
 * its cell and the lash's own choice. Switching a cause off levels it on every lash:
 *
 *   root heights       all roots at the mean lash's height
 *   layer shortening   every cell as long as the bottom cell of its zone, or of the nearest zone
 *                      that has one
 *   placement          every cell on top
 *   zone steps         the cells' lengths interpolated between zone centres and not rounded
 *   single choices     every lash as its cell
 *   natural variation  pitch, yaw, roll, length, turn and diameters of the mean lash at the place
 *
 * The extension of a cell is that of map and rule. But if rows of its lashes give their extensions,
 * and the eye has no intended map, it has the median of their lengths and the most frequent of the
 * other properties. The fitted line is fitted again for every combination of causes; the intended
 * line stays.
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

/* The effect of one cause on the mean square deviation, mm2; negative: it evens the line. */
typedef struct tcr_share {
    double shapley_mm2;    /* Shapley value: its mean contribution over all orders (Shapley 1953) */
    double first_in_mm2;   /* change when it is switched on first */
    double last_out_mm2;   /* its contribution when all others are on */
    double alone_rms_mm;   /* rms if it were the only cause */
    double without_rms_mm; /* rms if it alone were switched off */
} tcr_share;

typedef struct tcr_why {
    size_t lashes;                            /* lashes that carry an extension */
    double mean_square_mm2[TCR_COMBINATIONS]; /* indexed by the causes switched on: bit c for cause
                                                 c */
    double whole_rms_mm, bare_rms_mm;         /* all causes on, and all off */
    tcr_share cause[TCR_CAUSES];              /* shapley_mm2 sum to whole^2 - bare^2 */
    tcr_share layering;                       /* root heights and layer shortening as one cause */
    tcr_share lengths_along;                  /* zone steps and single choices as one cause */
    double eyes_differ_mm2; /* mean square that is left with all causes off against a line that two
                               eyes share: the difference of the eyes; NaN against any other line */
} tcr_why;

/*
 * Finds the causes for one eye of a check, against the check's own line. TCR_E_MISSING (eye), the
 * status of the line if some combination has none, TCR_E_BOND if a lash cannot bond in some
 * combination, TCR_E_MEMORY, TCR_E_ARGUMENT. Uses the check's allocator and frees what it takes.
 * Cost: 64 evaluations of the eye.
 */
TCR_API tcr_status tcr_why_of(const tcr_check *check, tcr_side side, tcr_why *why);

#endif
