/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Growth of the shape for callers outside the kernels (model.md, section 3). */
#include <tipcrest/growth.h>

#include <stddef.h>

#include "model/growth_kernel.h"

double tcr_lash_turn_share(double q) {
    if (q < 0.0)
        return 0.0;
    return q > 1.0 ? 1.0 : tcr_lash_turn_share_kernel(q);
}

tcr_status tcr_lash_full_grown(const tcr_lash *lash, tcr_lash *full) {
    const tcr_status status = tcr_lash_check(lash);
    if (status != TCR_OK)
        return status;
    if (full == NULL)
        return TCR_E_ARGUMENT;
    if (lash->final_length_mm == 0.0)
        return TCR_E_RANGE;
    tcr_lash grown = *lash;
    if (lash->length_mm < lash->final_length_mm) {
        const double q = tcr_lash_grown_share(lash->length_mm, lash->final_length_mm);
        grown.length_mm = lash->final_length_mm;
        if ((lash->assumed & TCR_LASH_TURN) == 0)
            grown.turn_rad = tcr_lash_turn_kept(lash->turn_rad / tcr_lash_turn_share_kernel(q));
        if ((lash->assumed & TCR_LASH_ROOT_DIAMETER) == 0) {
            const double tip = lash->tip_diameter_mm;
            grown.root_diameter_mm =
                tcr_lash_root_diameter_kept(tip + (lash->root_diameter_mm - tip) / q, tip);
        }
    }
    *full = grown;
    return TCR_OK;
}

tcr_status tcr_lash_grow(const tcr_lash *lash, const tcr_lash *full, double length_mm,
                         tcr_lash *grown) {
    tcr_status status = tcr_lash_check(lash);
    if (status == TCR_OK)
        status = tcr_lash_check(full);
    if (status != TCR_OK)
        return status;
    if (grown == NULL)
        return TCR_E_ARGUMENT;
    if (!tcr_within(length_mm, TCR_LASH_LENGTH_LEAST_MM, full->length_mm))
        return TCR_E_RANGE;
    *grown = tcr_lash_grow_kernel(lash, full, length_mm);
    return TCR_OK;
}
