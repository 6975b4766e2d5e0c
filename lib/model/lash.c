/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The natural lash for callers outside the kernels (model.md, section 3). */
#include <tipcrest/lash.h>

#include <stddef.h>

#include "model/lash_kernel.h"
#include "num/range.h"

tcr_lash tcr_lash_default(double u, tcr_layer layer) {
    return (tcr_lash){
        .u = u,
        .height_mm = (double)layer * 1.0, /* the gap between layers, common practice */
        .pitch_rad = -10.0 * TCR_DEG,
        .yaw_rad = (-10.0 + 20.0 * u) * TCR_DEG,
        .roll_rad = 0.0,
        .length_mm = 7.5,
        .final_length_mm = 0.0,
        .turn_rad = 60.0 * TCR_DEG,
        .root_diameter_mm = 0.08,
        .tip_diameter_mm = 0.015,
        .layer = layer,
        .condition = TCR_SUITABLE,
        .assumed = TCR_LASH_ALL,
    };
}

tcr_status tcr_lash_check(const tcr_lash *lash) {
    if (lash == NULL || (int)lash->layer < 0 || (int)lash->layer >= TCR_LAYERS ||
        (int)lash->condition < 0 || (int)lash->condition >= TCR_CONDITIONS)
        return TCR_E_ARGUMENT;
    const double steep = 85.0 * TCR_DEG;
    const bool fits =
        tcr_within(lash->u, 0.02, 0.98) && tcr_within(lash->height_mm, -2.0, 8.0) &&
        lash->pitch_rad > -steep && lash->pitch_rad < steep && lash->yaw_rad > -steep &&
        lash->yaw_rad < steep && tcr_within_degrees(lash->roll_rad, -90.0, 90.0) &&
        tcr_within(lash->length_mm, 0.3, 20.0) &&
        (lash->final_length_mm == 0.0 || tcr_within(lash->final_length_mm, 1.0, 20.0)) &&
        tcr_within_degrees(lash->turn_rad, -60.0, 200.0) &&
        tcr_within(lash->root_diameter_mm, 0.02, 0.2) &&
        tcr_within(lash->tip_diameter_mm, 0.0, lash->root_diameter_mm);
    return fits ? TCR_OK : TCR_E_RANGE;
}

tcr_profile tcr_lash_profile(const tcr_lash *lash) {
    return tcr_lash_profile_kernel(lash->turn_rad);
}

double tcr_lash_diameter(const tcr_lash *lash, double s_mm) {
    return lash->root_diameter_mm +
           (lash->tip_diameter_mm - lash->root_diameter_mm) * (s_mm / lash->length_mm);
}

tcr_status tcr_lash_stance(const tcr_lash *lash, const tcr_lid *lid, double opening,
                           tcr_stance *stance) {
    tcr_status status = tcr_lash_check(lash);
    if (status == TCR_OK)
        status = tcr_lid_check(lid);
    if (status != TCR_OK)
        return status;
    if (stance == NULL)
        return TCR_E_ARGUMENT;
    if (!tcr_within(opening, 0.0, 1.0))
        return TCR_E_RANGE;
    const tcr_lid_constants k = tcr_lid_prepare(lid);
    *stance = tcr_lash_stance_kernel(lash, &k, opening);
    return TCR_OK;
}

tcr_vec3 tcr_stance_point(const tcr_stance *stance, tcr_vec3 local) {
    return tcr_stance_point_kernel(stance, local);
}
