/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_GROWTH_KERNEL_H
#define TCR_MODEL_GROWTH_KERNEL_H

/* Growth of the shape, inline (model.md, section 3). Inputs are valid: public calls check them. */

#include <math.h>

#include <tipcrest/lash.h>

#include "model/field_table.h"
#include "num/range.h"

/* A turn and a root diameter kept within a lash's ranges (lash.h). */
static inline double tcr_lash_turn_kept(double turn_rad) {
    return tcr_cut(turn_rad, TCR_TURN_LEAST_DEG * TCR_DEG, TCR_TURN_MOST_DEG * TCR_DEG);
}
static inline double tcr_lash_root_diameter_kept(double diameter_mm, double tip_diameter_mm) {
    return tcr_cut(diameter_mm, fmax(TCR_ROOT_DIAMETER_LEAST, tip_diameter_mm),
                   TCR_ROOT_DIAMETER_MOST);
}

/* q, the share of the final length that a lash has reached. */
static inline double tcr_lash_grown_share(double length_mm, double final_length_mm) {
    return fmin(length_mm / final_length_mm, 1.0);
}

/* tau(q) for q from 0 to 1: the outer third has 2/9 of the turn, the next 3/9, the root's 4/9. */
static inline double tcr_lash_turn_share_kernel(double q) {
    if (q <= 1.0 / 3.0)
        return 2.0 * q / 3.0;
    if (q <= 2.0 / 3.0)
        return q - 1.0 / 9.0;
    return (4.0 * q - 1.0) / 3.0;
}

/* The lash at another length; exact at q' = q, so that a full-grown lash stays itself. */
static inline tcr_lash tcr_lash_grow_kernel(const tcr_lash *lash, const tcr_lash *full,
                                            double length_mm) {
    const double q = tcr_lash_grown_share(lash->length_mm, full->length_mm);
    const double then = tcr_lash_grown_share(length_mm, full->length_mm);
    tcr_lash grown = *lash;
    grown.length_mm = length_mm;
    if (!isnan(lash->turn_rad)) {
        const double share = tcr_lash_turn_share_kernel(then) - tcr_lash_turn_share_kernel(q);
        grown.turn_rad = tcr_lash_turn_kept(lash->turn_rad + full->turn_rad * share);
    }
    if (!isnan(lash->root_diameter_mm)) {
        const double tip =
            isnan(lash->tip_diameter_mm) ? TCR_TIP_DIAMETER_MM : lash->tip_diameter_mm;
        const double thicker = full->root_diameter_mm - tip;
        grown.root_diameter_mm =
            tcr_lash_root_diameter_kept(lash->root_diameter_mm + thicker * (then - q), tip);
    }
    return grown;
}

#endif
