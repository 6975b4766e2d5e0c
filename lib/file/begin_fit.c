/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How a look fits a tray: its zones get lengths under which the tray still holds the shorter ones
 * of the upper layers. The step from layer to layer is the usual one if such lengths reach down to
 * the look's longest, else a smaller one. And which lengths a tray lacks for the look as it is.
 */
#include "file/begin.h"

#include <math.h>

#include <tipcrest/field.h>

#include "num/order.h"

/* Where nobody says it: the longest zone of a look is this much longer than the lashes. */
static const double LONGER_MM = 2.5;

/* The tray's lengths from which both upper layers find theirs; possibly none. */
static tcr_tray layered(const tcr_tray *tray, double step_mm) {
    tcr_tray fits = *tray;
    fits.count = 0;
    for (size_t i = 0; i < tray->count; i++) {
        const double mm = tray->length_mm[i];
        if (tcr_tray_has(tray, mm - step_mm) && tcr_tray_has(tray, mm - 2.0 * step_mm))
            fits.length_mm[fits.count++] = mm;
    }
    return fits;
}

double tcr_begin_longest(const tcr_begin_map *map) { return floor(map->lash_mm + LONGER_MM); }

/* The look's zones from a tray that is not empty, the longest as near as can be to the wanted. */
static tcr_status take_look(const tcr_begin_map *map, const tcr_tray *tray, double *length_mm) {
    return tcr_look_lengths(map->look, tcr_tray_nearest(tray, tcr_begin_longest(map)), tray,
                            length_mm);
}

tcr_status tcr_begin_fit_look(tcr_begin_map *map) {
    const double usual = tcr_layering_default().step_mm;
    const double steps_mm[] = {usual, usual / 2.0, 0.0};
    const bool given = map->options.tray_lengths > 0;
    tcr_tray fits = map->tray;
    double step_mm = 0.0;
    for (size_t i = 0; i < sizeof steps_mm / sizeof *steps_mm; i++) {
        step_mm = steps_mm[i];
        fits = layered(&map->tray, step_mm);
        if (step_mm == 0.0 ||
            (fits.count > 0 && (!given || fits.length_mm[0] <= tcr_begin_longest(map))))
            break;
    }
    for (size_t layer = 0; layer < TCR_LAYERS; layer++)
        map->less_mm[layer] = (double)layer * step_mm;
    return take_look(map, &fits, map->length_mm);
}

/* ---- What a tray lacks --------------------------------------------------------------- */

/* Adds a length that the tray has not; false if it is no length of an extension, or one too many.
 */
static bool add_length(tcr_tray *tray, double mm) {
    if (tcr_tray_has(tray, mm))
        return true;
    const tcr_field *field = tcr_field_find(TCR_GROUP_TRAY, "lengths_mm");
    if (tray->count == TCR_TRAY_MAX || tcr_field_validate(field, mm, NULL) != TCR_OK)
        return false;
    tray->length_mm[tray->count++] = mm;
    tcr_sort(tray->length_mm, tray->count);
    return true;
}

/* Adds what the layers of all zones need at the usual step. */
static bool add_layers(tcr_tray *tray, const double *length_mm, size_t zones) {
    for (size_t i = 0; i < zones; i++)
        for (size_t layer = 0; layer < TCR_LAYERS; layer++)
            if (!add_length(tray, length_mm[i] - (double)layer * tcr_layering_default().step_mm))
                return false;
    return true;
}

/*
 * The zones as they would be in a tray that lacks nothing. A look's zones come from the tray: with
 * shorter lengths in it they may be shorter themselves, until no layer lacks its length. False if
 * no tray has all.
 */
static bool find_zones(const tcr_begin_map *map, double *length_mm) {
    tcr_tray grown = map->tray;
    for (size_t i = 0; i < map->zones; i++)
        length_mm[i] = map->length_mm[i];
    for (size_t before = 0; before != grown.count;) {
        before = grown.count;
        if (map->look != NULL && take_look(map, &grown, length_mm) != TCR_OK)
            return false;
        if (!add_layers(&grown, length_mm, map->zones))
            return false;
    }
    return true;
}

static void find_lacking(const tcr_begin_map *map, tcr_begin_fit *fit) {
    double length_mm[TCR_ZONES_MAX];
    tcr_tray grown = map->tray;
    fit->lacking = 0;
    if (!find_zones(map, length_mm) || !add_layers(&grown, length_mm, map->zones))
        return;
    for (size_t i = 0; i < grown.count; i++)
        if (!tcr_tray_has(&map->tray, grown.length_mm[i]))
            fit->lacking_mm[fit->lacking++] = grown.length_mm[i];
}

bool tcr_begin_other_zones(const tcr_begin_map *map) {
    double length_mm[TCR_LOOK_ZONES_MAX];
    if (map->look == NULL || map->options.has_layers ||
        take_look(map, &map->tray, length_mm) != TCR_OK)
        return false;
    for (size_t i = 0; i < map->zones; i++)
        if (length_mm[i] != map->length_mm[i])
            return true;
    return false;
}

static bool are_alike(const double *numbers, size_t count) {
    for (size_t i = 1; i < count; i++)
        if (numbers[i] != numbers[0])
            return false;
    return true;
}

/* Where nothing of a look is left, or its layers have not the usual step: the least longer longest
 * zone with which something is, at the usual step. */
static void find_kept(const tcr_begin_map *map, tcr_begin_fit *fit) {
    const double usual = tcr_layering_default().step_mm;
    const tcr_tray fits = layered(&map->tray, usual);
    fit->keeps = false;
    if (map->look == NULL || (fit->step_mm == usual && !are_alike(map->length_mm, map->zones)))
        return;
    for (size_t i = 0; i < fits.count && !fit->keeps; i++)
        fit->keeps =
            fits.length_mm[i] > map->length_mm[0] &&
            tcr_look_lengths(map->look, fits.length_mm[i], &fits, fit->kept_mm) == TCR_OK &&
            !are_alike(fit->kept_mm, map->zones);
}

bool tcr_begin_fit_of(const tcr_begin_options *options, tcr_begin_fit *fit) {
    tcr_begin_map map;
    tcr_error unread;
    if (fit == NULL || tcr_begin_map_of(options, &map, &unread) != TCR_OK ||
        map.options.has_layers || (map.is_taught && !tcr_begin_other_zones(&map)))
        return false;
    fit->step_mm = map.less_mm[TCR_MIDDLE];
    fit->zones = map.zones;
    for (size_t i = 0; i < map.zones; i++)
        fit->length_mm[i] = map.length_mm[i];
    find_lacking(&map, fit);
    find_kept(&map, fit);
    return true;
}
