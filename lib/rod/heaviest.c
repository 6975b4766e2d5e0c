/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the lashes of a check carry, and which of them come nearest to the limits. */
#include <tipcrest/limits.h>

#include <math.h>

#include "line/check_data.h"
#include "rod/limits.h"

/* A ratio as a share of its limit; 0 where there is no ratio. */
static double share_of(double ratio, double limit) { return isfinite(ratio) ? ratio / limit : 0.0; }

tcr_status tcr_laden_of(const tcr_check *check, tcr_side side, size_t lash, tcr_laden *laden) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (check == NULL)
        return TCR_E_ARGUMENT;
    if (eye == NULL || lash >= eye->lashes)
        return TCR_E_MISSING;
    const tcr_set *set = tcr_check_set(check);
    const tcr_lash_result *result = &eye->lash[lash];
    if (result->status != TCR_OK)
        return result->status;
    *laden =
        (tcr_laden){tcr_set_lash(set, side, lash), result, tcr_set_extension(set, &result->choice),
                    tcr_set_bond_of(set, &result->choice)};
    return TCR_OK;
}

/* A load that a check of figures keeps. */
static tcr_status kept_load(const tcr_check *check, tcr_side side, size_t lash, tcr_load *load) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    if (eye == NULL || lash >= eye->lashes || isnan(check->eye[side].load[lash].natural_mass_mg))
        return TCR_E_MISSING;
    *load = check->eye[side].load[lash];
    return TCR_OK;
}

tcr_status tcr_check_load(const tcr_check *check, tcr_side side, size_t lash, tcr_load *load) {
    tcr_laden laden;
    if (load == NULL)
        return TCR_E_ARGUMENT;
    if (check != NULL && tcr_check_keeps_loads(check))
        return kept_load(check, side, lash, load);
    const tcr_status status = tcr_laden_of(check, side, lash, &laden);
    if (status != TCR_OK)
        return status;
    *load = tcr_usual_load(laden.lash, &laden.result->stance,
                           (tcr_worn){&laden.ext, &laden.bond, &laden.result->attachment});
    return TCR_OK;
}

size_t tcr_limits_nearest(const tcr_limits *limits, const tcr_check *check, unsigned sides,
                          tcr_loaded_lash *nearest, size_t most) {
    size_t count = 0;
    if (limits == NULL || check == NULL || nearest == NULL)
        return 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        for (size_t i = 0; eye != NULL && (sides & 1u << side) != 0 && i < eye->lashes; i++) {
            tcr_loaded_lash lash = {.side = (tcr_side)side, .lash = i};
            if (tcr_check_load(check, (tcr_side)side, i, &lash.load) != TCR_OK)
                continue;
            lash.share = fmax(share_of(lash.load.mass_ratio, limits->mass_ratio),
                              share_of(lash.load.moment_ratio, limits->moment_ratio));
            size_t at = count < most ? count++ : most;
            for (; at > 0 && nearest[at - 1].share < lash.share; at--)
                if (at < most)
                    nearest[at] = nearest[at - 1];
            if (at < most)
                nearest[at] = lash;
        }
    }
    return count;
}
