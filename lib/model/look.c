/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Looks. The table is a file of its own, looks.def, that the compiler reads here: data that anybody
 * can add to, and yet nothing that a program could fail to find where it runs. Whoever wants a look
 * for one set alone writes its lengths into the map and needs no entry.
 */
#include <tipcrest/look.h>

#include <math.h>
#include <string.h>

#include "model/field_table.h"

#define LOOK(name, other_name, about, ...)                                                         \
    {name, other_name, about, sizeof((double[]){__VA_ARGS__}) / sizeof(double), {__VA_ARGS__}},

static const tcr_look LOOKS[] = {
#include "model/looks.def"
};
enum { LOOKS_COUNT = sizeof LOOKS / sizeof LOOKS[0] };

const tcr_look *tcr_look_catalogue(size_t *count) {
    if (count != NULL)
        *count = LOOKS_COUNT;
    return LOOKS;
}

const tcr_look *tcr_look_find(const char *name) {
    if (name == NULL || *name == '\0')
        return NULL;
    for (size_t i = 0; i < LOOKS_COUNT; i++)
        if (strcmp(name, LOOKS[i].name) == 0 || strcmp(name, LOOKS[i].other_name) == 0)
            return &LOOKS[i];
    return NULL;
}

tcr_status tcr_look_lengths(const tcr_look *look, double longest_mm, const tcr_tray *tray,
                            double *length_mm) {
    if (look == NULL || length_mm == NULL || look->zones < 1 || look->zones > TCR_LOOK_ZONES_MAX)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_tray_validate(tray, NULL);
    if (status != TCR_OK)
        return status;
    if (!tcr_tray_has(tray, longest_mm))
        return TCR_E_TRAY;
    for (size_t i = 0; i < look->zones; i++)
        if (!(look->share[i] > 0.0 && look->share[i] <= 1.0))
            return TCR_E_RANGE;
    for (size_t i = 0; i < look->zones; i++)
        /* A tray of any length would give zones that are shorter than any extension. */
        length_mm[i] = tcr_tray_nearest(
            tray, fmax(look->share[i] * longest_mm, TCR_EXTENSION_LENGTH_LEAST_MM));
    return TCR_OK;
}

double tcr_look_zone_end(size_t zone, size_t zones) {
    return zone < zones ? round(1000.0 * ((double)zone + 1.0) / (double)zones) / 1000.0 : 1.0;
}
