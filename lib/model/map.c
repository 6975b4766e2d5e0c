/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layering rule and the tray (model.md, section 7). */
#include <tipcrest/map.h>

#include <math.h>
#include <stddef.h>

#include "num/range.h"

/* Within this a length counts as the tray's own: arithmetic of the rule may leave the last bits
 * off. */
static const double SAME_LENGTH_MM = 1e-9;

tcr_layering tcr_layering_default(void) {
    return (tcr_layering){
        .step_mm = 1.0,
        .diameter_mm = 0.15,
        .fan = 1,
        .spread_rad = 0.0,
        .placement = {TCR_ON_TOP, TCR_ON_TOP, TCR_ON_TOP},
        .blend = false,
    };
}

tcr_tray tcr_tray_default(void) {
    tcr_tray tray = {.count = 16};
    for (size_t i = 0; i < tray.count; i++)
        tray.length_mm[i] = 5.0 + (double)i;
    return tray;
}

tcr_status tcr_layering_check(const tcr_layering *layering) {
    if (layering == NULL)
        return TCR_E_ARGUMENT;
    for (int i = 0; i < TCR_LAYERS; i++)
        if ((int)layering->placement[i] < 0 || (int)layering->placement[i] >= TCR_PLACEMENTS)
            return TCR_E_ARGUMENT;
    const bool fits = tcr_within(layering->step_mm, 0.0, 3.0) &&
                      tcr_within(layering->diameter_mm, 0.02, 0.3) && layering->fan >= 1 &&
                      layering->fan <= 20 && tcr_within_degrees(layering->spread_rad, 0.0, 120.0);
    return fits ? TCR_OK : TCR_E_RANGE;
}

tcr_status tcr_tray_check(const tcr_tray *tray) {
    if (tray == NULL || tray->count < 1 || tray->count > TCR_TRAY_MAX)
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < tray->count; i++) {
        if (!tcr_within(tray->length_mm[i], 3.0, 30.0))
            return TCR_E_RANGE;
        if (i > 0 && !(tray->length_mm[i] > tray->length_mm[i - 1]))
            return TCR_E_RANGE;
    }
    return TCR_OK;
}

double tcr_tray_nearest(const tcr_tray *tray, double length_mm) {
    double nearest = tray->length_mm[0];
    for (size_t i = 1; i < tray->count; i++) {
        const double gain = fabs(length_mm - nearest) - fabs(length_mm - tray->length_mm[i]);
        /* Lengths rise, so what comes later and is as near is the longer one. */
        if (gain >= -SAME_LENGTH_MM)
            nearest = tray->length_mm[i];
    }
    return nearest;
}

bool tcr_tray_has(const tcr_tray *tray, double length_mm) {
    return fabs(tcr_tray_nearest(tray, length_mm) - length_mm) <= SAME_LENGTH_MM;
}
