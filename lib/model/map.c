/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layering rule and the tray (model.md, section 7). */
#include <tipcrest/map.h>

#include <math.h>
#include <stddef.h>

#include "model/field_table.h"
#include "model/set_data.h"
#include "num/error.h"
#include "num/range.h"

/* Within this a length counts as the tray's own: arithmetic of the rule may leave the last bits
 * off. */
static const double SAME_LENGTH_MM = 1e-9;

tcr_layering tcr_layering_default(void) {
    tcr_layering layering = {0};
    tcr_fields_default(TCR_GROUP_LAYERING, &layering);
    tcr_fields_default(TCR_GROUP_PLACEMENT, &layering);
    return layering;
}

tcr_tray tcr_tray_default(void) {
    tcr_tray tray = {.count = 16};
    for (size_t i = 0; i < tray.count; i++)
        tray.length_mm[i] = 5.0 + (double)i;
    return tray;
}

tcr_status tcr_layering_validate(const tcr_layering *layering, tcr_error *error) {
    const tcr_status status = tcr_fields_validate(TCR_GROUP_PLACEMENT, layering, error);
    return status == TCR_OK ? tcr_fields_validate(TCR_GROUP_LAYERING, layering, error) : status;
}

tcr_status tcr_tray_validate(const tcr_tray *tray, tcr_error *error) {
    if (tray == NULL)
        return tcr_error_set(error, TCR_E_ARGUMENT, "there is no tray to check");
    if (tray->count > TCR_TRAY_MAX)
        return tcr_error_set(error, TCR_E_ARGUMENT, "the tray has %lu lengths; it has up to %d",
                             (unsigned long)tray->count, (int)TCR_TRAY_MAX);
    const tcr_field *field = tcr_fields(TCR_GROUP_TRAY, NULL);
    for (size_t i = 0; i < tray->count; i++) {
        if (!tcr_field_takes(field, tray->length_mm[i]))
            return tcr_field_refuse(field, tray->length_mm[i], error);
        if (i > 0 && !(tray->length_mm[i] > tray->length_mm[i - 1]))
            return tcr_error_set(error, TCR_E_RANGE, "the lengths of the tray do not rise");
    }
    return TCR_OK;
}

size_t tcr_tray_index(const tcr_tray *tray, double length_mm) {
    /* Lengths rise: the first that is not shorter, or the last, and the one before it. */
    size_t low = 0, high = tray->count - 1;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (tray->length_mm[middle] < length_mm)
            low = middle + 1;
        else
            high = middle;
    }
    if (low == 0)
        return 0;
    const double shorter = tray->length_mm[low - 1], longer = tray->length_mm[low];
    const double gain = fabs(length_mm - shorter) - fabs(length_mm - longer);
    return gain >= -SAME_LENGTH_MM ? low : low - 1;
}

double tcr_tray_nearest(const tcr_tray *tray, double length_mm) {
    return tray->count > 0 ? tray->length_mm[tcr_tray_index(tray, length_mm)] : length_mm;
}

tcr_status tcr_tray_take(const tcr_tray *tray, double *length_mm) {
    const double nearest = tcr_tray_nearest(tray, *length_mm);
    if (!(fabs(nearest - *length_mm) <= SAME_LENGTH_MM) ||
        !tcr_within(nearest, TCR_EXTENSION_LENGTH_RANGE))
        return TCR_E_TRAY;
    *length_mm = nearest;
    return TCR_OK;
}

bool tcr_tray_has(const tcr_tray *tray, double length_mm) {
    return tcr_tray_take(tray, &length_mm) == TCR_OK;
}
