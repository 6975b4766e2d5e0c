/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Growth of the shape for callers outside the kernels (model.md, section 3). */
#include <tipcrest/growth.h>

#include <math.h>
#include <stddef.h>

#include "model/growth_kernel.h"

/* The check of a lash of which some numbers may not be known. */
static tcr_status check_given(const tcr_lash *lash) {
    if (lash == NULL)
        return TCR_E_ARGUMENT;
    const tcr_lash complete = tcr_lash_complete(lash, NULL);
    return tcr_lash_validate(&complete, NULL);
}

double tcr_lash_turn_share(double q) {
    if (q < 0.0)
        return 0.0;
    return q > 1.0 ? 1.0 : tcr_lash_turn_share_kernel(q);
}

tcr_status tcr_lash_full_grown(const tcr_lash *lash, tcr_lash *full) {
    const tcr_status status = check_given(lash);
    if (status != TCR_OK)
        return status;
    if (full == NULL)
        return TCR_E_ARGUMENT;
    if (isnan(lash->final_length_mm) || isnan(lash->length_mm))
        return TCR_E_RANGE;
    tcr_lash grown = *lash;
    if (lash->length_mm < lash->final_length_mm) {
        const double q = tcr_lash_grown_share(lash->length_mm, lash->final_length_mm);
        grown.length_mm = lash->final_length_mm;
        if (!isnan(lash->turn_rad))
            grown.turn_rad = tcr_lash_turn_kept(lash->turn_rad / tcr_lash_turn_share_kernel(q));
        if (!isnan(lash->root_diameter_mm)) {
            const double tip = tcr_lash_complete(lash, NULL).tip_diameter_mm;
            grown.root_diameter_mm =
                tcr_lash_root_diameter_kept(tip + (lash->root_diameter_mm - tip) / q, tip);
        }
    }
    *full = grown;
    return TCR_OK;
}

tcr_status tcr_lash_grow(const tcr_lash *lash, const tcr_lash *full, double length_mm,
                         tcr_lash *grown) {
    tcr_status status = check_given(lash);
    if (status == TCR_OK)
        status = check_given(full);
    if (status != TCR_OK)
        return status;
    if (grown == NULL)
        return TCR_E_ARGUMENT;
    if (isnan(lash->length_mm) || !tcr_within(length_mm, TCR_LASH_LENGTH_LEAST_MM, full->length_mm))
        return TCR_E_RANGE;
    *grown = tcr_lash_grow_kernel(lash, full, length_mm);
    return TCR_OK;
}
