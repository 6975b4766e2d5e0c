/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The natural lash for callers outside the kernels (model.md, section 3). */
#include <tipcrest/lash.h>

#include <math.h>
#include <stddef.h>

#include "model/field_table.h"
#include "model/lash_kernel.h"
#include "model/valid.h"
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"

tcr_lash tcr_lash_unknown(double u, tcr_layer layer) {
    return (tcr_lash){
        .u = u,
        .height_mm = NAN,
        .pitch_rad = NAN,
        .yaw_rad = NAN,
        .roll_rad = NAN,
        .length_mm = NAN,
        .final_length_mm = NAN,
        .turn_rad = NAN,
        .root_diameter_mm = NAN,
        .tip_diameter_mm = NAN,
        .layer = layer,
        .condition = TCR_SUITABLE,
    };
}

/* Whether every number that has a default is known, quickly: drawn lashes are, and there are many.
 * A sum is NaN where one of them is. */
static bool knows_all(const tcr_lash *l) {
    return !isnan(l->height_mm + l->pitch_rad + l->yaw_rad + l->roll_rad + l->length_mm +
                  l->turn_rad + l->root_diameter_mm + l->tip_diameter_mm);
}

tcr_lash tcr_lash_complete(const tcr_lash *lash, unsigned *assumed) {
    if (lash != NULL && knows_all(lash)) {
        if (assumed != NULL)
            *assumed = 0;
        return *lash;
    }
    tcr_lash complete = lash != NULL ? *lash : tcr_lash_unknown(NAN, TCR_BOTTOM);
    tcr_lash usual = complete;
    tcr_fields_default(TCR_GROUP_LASH, &usual);
    usual.height_mm += (double)complete.layer * TCR_GAP_MM;
    usual.yaw_rad = tcr_yaw_by_default(complete.u);
    const unsigned bits = tcr_fields_fill(TCR_GROUP_LASH, &complete, &usual);
    if (assumed != NULL)
        *assumed = bits;
    return complete;
}

tcr_status tcr_lash_validate(const tcr_lash *lash, tcr_error *error) {
    if (lash != NULL && tcr_lash_is_valid(lash))
        return TCR_OK;
    const tcr_status status = tcr_fields_validate(TCR_GROUP_LASH, lash, error);
    if (status != TCR_OK || lash == NULL || lash->tip_diameter_mm <= lash->root_diameter_mm)
        return status;
    char tip[TCR_NUMBER_SIZE], root[TCR_NUMBER_SIZE];
    tcr_number_text(lash->tip_diameter_mm, tip);
    tcr_number_text(lash->root_diameter_mm, root);
    tcr_error_set(error, TCR_E_RANGE,
                  "tip_diameter_mm is %s; it is at most root_diameter_mm, %s here", tip, root);
    tcr_error_number(error, "tip_diameter_mm", lash->tip_diameter_mm, 0.0, lash->root_diameter_mm);
    return TCR_E_RANGE;
}

tcr_profile tcr_lash_profile(const tcr_lash *lash) {
    return tcr_lash_profile_kernel(lash != NULL ? lash->turn_rad : NAN);
}

double tcr_lash_diameter(const tcr_lash *lash, double s_mm) {
    if (lash == NULL)
        return NAN;
    return lash->root_diameter_mm +
           (lash->tip_diameter_mm - lash->root_diameter_mm) * (s_mm / lash->length_mm);
}

tcr_status tcr_lash_stance(const tcr_lash *lash, const tcr_lid *lid, double opening,
                           tcr_stance *stance) {
    tcr_status status = tcr_lash_validate(lash, NULL);
    if (status == TCR_OK)
        status = tcr_lid_validate(lid, NULL);
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
    return stance != NULL ? tcr_stance_point_kernel(stance, local) : tcr_vec3_none();
}
