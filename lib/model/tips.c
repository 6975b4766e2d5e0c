/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tips of one lash or of many, by the one evaluator (model.md, sections 2 to 4). */
#include <tipcrest/tips.h>

#include <math.h>

#include "model/evaluate.h"
#include "num/range.h"

/* The tip alone of an evaluation; no view is asked for. */
static inline tcr_status tip_of(const tcr_looking *at, const tcr_lash *lash,
                                const tcr_extension *ext, const tcr_bond *bond, tcr_vec3 *tip) {
    tcr_sight sight;
    const tcr_status status = tcr_evaluate(at, lash, ext, bond, TCR_ANEW_ALL, &sight);
    if (status == TCR_OK)
        *tip = sight.tip;
    return status;
}

tcr_status tcr_tip(const tcr_lid *lid, double opening, const tcr_lash *lash,
                   const tcr_extension *ext, const tcr_bond *bond, tcr_vec3 *tip) {
    tcr_status status = tcr_lid_validate(lid, NULL);
    if (status == TCR_OK)
        status = tcr_lash_validate(lash, NULL);
    if (status == TCR_OK && ext != NULL)
        status = tcr_extension_validate(ext, NULL);
    if (status == TCR_OK && ext != NULL)
        status = tcr_bond_validate(bond, NULL);
    if (status == TCR_OK && !tcr_within(opening, 0.0, 1.0))
        status = TCR_E_RANGE;
    if (status != TCR_OK)
        return status;
    if (tip == NULL)
        return TCR_E_ARGUMENT;
    const tcr_looking at = tcr_looking_at(lid, &(tcr_view){opening, 0.0});
    return tip_of(&at, lash, ext, bond, tip);
}

static tcr_lash lash_of_columns(const tcr_lash_columns *c, size_t i) {
    return (tcr_lash){
        .u = c->u[i],
        .height_mm = c->height_mm[i],
        .pitch_rad = c->pitch_rad[i],
        .yaw_rad = c->yaw_rad[i],
        .roll_rad = c->roll_rad[i],
        .length_mm = c->length_mm[i],
        .final_length_mm = NAN,
        .turn_rad = c->turn_rad[i],
        .root_diameter_mm = c->root_diameter_mm[i],
        .tip_diameter_mm = c->tip_diameter_mm[i],
    };
}

/* One row of the columns; profiles were checked once for all rows. */
static tcr_status tip_of_row(const tcr_looking *at, const tcr_bond *bond,
                             const tcr_profile *profiles, size_t profile_count,
                             const tcr_lash_columns *c, size_t i, tcr_vec3 *tip) {
    const tcr_lash lash = lash_of_columns(c, i);
    const tcr_status status = tcr_lash_validate(&lash, NULL);
    if (status != TCR_OK)
        return status;
    if (c->ext_length_mm[i] == 0.0)
        return tip_of(at, &lash, NULL, NULL, tip);
    const int profile = c->ext_profile[i];
    if (profile < 0 || (size_t)profile >= profile_count)
        return TCR_E_ARGUMENT;
    const tcr_extension ext = {
        .length_mm = c->ext_length_mm[i],
        .diameter_mm = c->ext_diameter_mm[i],
        .fan = c->ext_fan[i],
        .spread_rad = c->ext_spread_rad[i],
        .placement = (tcr_placement)c->ext_placement[i],
        .profile = profiles[profile],
    };
    const tcr_status fits = tcr_extension_validate(&ext, NULL);
    return fits != TCR_OK ? fits : tip_of(at, &lash, &ext, bond, tip);
}

static bool columns_complete(const tcr_lash_columns *c, const tcr_tip_columns *t) {
    return c != NULL && t != NULL && c->u && c->height_mm && c->pitch_rad && c->yaw_rad &&
           c->roll_rad && c->length_mm && c->turn_rad && c->root_diameter_mm &&
           c->tip_diameter_mm && c->ext_length_mm && c->ext_diameter_mm && c->ext_spread_rad &&
           c->ext_fan && c->ext_placement && c->ext_profile && t->x && t->y && t->z;
}

tcr_status tcr_tips_n(const tcr_lid *lid, double opening, const tcr_bond *bond,
                      const tcr_profile *profiles, size_t profile_count, size_t n,
                      const tcr_lash_columns *lashes, tcr_tip_columns *tips) {
    tcr_status status = tcr_lid_validate(lid, NULL);
    if (status == TCR_OK)
        status = tcr_bond_validate(bond, NULL);
    if (status == TCR_OK && !tcr_within(opening, 0.0, 1.0))
        status = TCR_E_RANGE;
    if (status == TCR_OK && profiles == NULL && profile_count > 0)
        status = TCR_E_ARGUMENT;
    for (size_t i = 0; status == TCR_OK && i < profile_count; i++)
        status = tcr_profile_validate(&profiles[i], NULL);
    if (status != TCR_OK)
        return status;
    if (n > 0 && !columns_complete(lashes, tips))
        return TCR_E_ARGUMENT;
    const tcr_looking at = tcr_looking_at(lid, &(tcr_view){opening, 0.0});
    for (size_t i = 0; i < n; i++) {
        tcr_vec3 tip;
        const tcr_status row = tip_of_row(&at, bond, profiles, profile_count, lashes, i, &tip);
        if (row != TCR_OK)
            tip = tcr_vec3_none();
        tips->x[i] = tip.x;
        tips->y[i] = tip.y;
        tips->z[i] = tip.z;
        if (tips->status != NULL)
            tips->status[i] = (int)row;
    }
    return TCR_OK;
}
