/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a lash is to carry: its own row wins over its zone's layer, that over the layering rule
 * (model.md, section 7). And what the mean lash carries for the intended line.
 */
#include <tipcrest/set.h>

#include <stddef.h>

#include "model/set_data.h"

static size_t zone_at(const tcr_set_eye *eye, double u) {
    size_t i = 0;
    while (i + 1 < eye->zone_count && !(u < eye->zones[i].to))
        i++;
    return i;
}

size_t tcr_set_zone_at(const tcr_set *set, tcr_side side, double u) {
    const tcr_set_eye *eye = tcr_set_eye_of(set, side);
    return eye != NULL && eye->zone_count > 0 ? zone_at(eye, u) : 0;
}

/* The mapped length of a zone, or what the zone fixes for the bottom layer. */
static double zone_length(const tcr_zone *zone, bool bottom) {
    const tcr_wish *wish = &zone->layer[TCR_BOTTOM];
    return bottom && (wish->fixed & TCR_FIX_LENGTH) ? wish->length_mm : zone->length_mm;
}

/* Zone lengths interpolated between the zones' centres, constant before the first and after the
 * last. */
static double blended_length(const tcr_set_eye *eye, double u, bool bottom) {
    const tcr_zone *zones = eye->zones;
    double centre = zones[0].to / 2.0;
    if (u <= centre)
        return zone_length(&zones[0], bottom);
    for (size_t i = 1; i < eye->zone_count; i++) {
        const double next = (zones[i - 1].to + zones[i].to) / 2.0;
        if (u < next) {
            const double from = zone_length(&zones[i - 1], bottom),
                         to = zone_length(&zones[i], bottom);
            return from + (to - from) * ((u - centre) / (next - centre));
        }
        centre = next;
    }
    return zone_length(&zones[eye->zone_count - 1], bottom);
}

/* Lays a wish over a choice; curls were checked when the wish was added. */
static void apply_wish(const tcr_set *set, const tcr_wish *wish, tcr_choice *choice) {
    if (wish->fixed & TCR_FIX_LENGTH)
        choice->length_mm = wish->length_mm;
    if (wish->fixed & TCR_FIX_CURL)
        (void)tcr_set_find_curl(set, wish->curl, &choice->curl);
    if (wish->fixed & TCR_FIX_DIAMETER)
        choice->diameter_mm = wish->diameter_mm;
    if (wish->fixed & TCR_FIX_FAN)
        choice->fan = wish->fan;
    if (wish->fixed & TCR_FIX_SPREAD)
        choice->spread_rad = wish->spread_rad;
    if (wish->fixed & TCR_FIX_PLACEMENT)
        choice->placement = wish->placement;
}

/* What the layering rule gives on a layer of a zone, before zone and row have their say; no length.
 */
static tcr_choice rule_choice(const tcr_set *set, const tcr_zone *zone, tcr_layer layer) {
    const tcr_layering *rule = &set->layering;
    tcr_choice choice = {
        .diameter_mm = rule->diameter_mm,
        .fan = rule->fan,
        .spread_rad = rule->spread_rad,
        .placement = rule->placement[layer],
    };
    (void)tcr_set_find_curl(set, zone->curl, &choice.curl);
    return choice;
}

tcr_status tcr_set_choice(const tcr_set *set, tcr_side side, size_t i, tcr_choice *out) {
    const tcr_set_eye *eye = tcr_set_eye_of(set, side);
    if (eye == NULL || i >= eye->count)
        return set == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    if (eye->zone_count == 0)
        return TCR_E_MAP;
    if (out == NULL)
        return TCR_E_ARGUMENT;
    const tcr_lash *lash = &eye->lashes[i].lash;
    const tcr_wish *row = &eye->lashes[i].wish;
    if (row->fixed & TCR_FIX_BARE)
        return TCR_E_BARE_BY_ROW;
    if (lash->condition != TCR_SUITABLE && !(row->fixed & TCR_FIX_LENGTH))
        return TCR_E_BARE;

    const tcr_zone *zone = &eye->zones[zone_at(eye, lash->u)];
    const tcr_wish *layer = &zone->layer[lash->layer];
    tcr_choice choice = rule_choice(set, zone, lash->layer);
    apply_wish(set, layer, &choice);
    apply_wish(set, row, &choice);
    tcr_status status = TCR_OK;
    if (!((layer->fixed | row->fixed) & TCR_FIX_LENGTH)) {
        const double mapped =
            set->layering.blend ? tcr_tray_nearest(&set->tray, blended_length(eye, lash->u, false))
                                : zone->length_mm;
        choice.length_mm = mapped - set->layering.step_mm * (double)lash->layer;
        if (tcr_tray_has(&set->tray, choice.length_mm))
            choice.length_mm = tcr_tray_nearest(&set->tray, choice.length_mm);
        else
            status = TCR_E_TRAY;
    }
    *out = choice;
    return status;
}

tcr_extension tcr_set_extension(const tcr_set *set, const tcr_choice *choice) {
    return (tcr_extension){
        .length_mm = choice->length_mm,
        .diameter_mm = choice->diameter_mm,
        .fan = choice->fan,
        .spread_rad = choice->spread_rad,
        .placement = choice->placement,
        .profile = tcr_curl_profile(&set->curls[choice->curl]->curl, choice->length_mm),
    };
}

tcr_extension tcr_set_intended_extension(const tcr_set *set, tcr_side side, double u) {
    const tcr_set_eye *eye = &set->eye[side];
    const tcr_zone *zone = &eye->zones[zone_at(eye, u)];
    tcr_choice choice = rule_choice(set, zone, TCR_BOTTOM);
    apply_wish(set, &zone->layer[TCR_BOTTOM], &choice);
    choice.length_mm = blended_length(eye, u, true);
    choice.fan = 1;
    choice.spread_rad = 0.0;
    choice.placement = TCR_ON_TOP;
    return tcr_set_extension(set, &choice);
}

tcr_lash tcr_set_mean_lash_at(const tcr_set *set, double u) {
    tcr_lash mean = set->mean_lash;
    const tcr_lash standard = tcr_lash_default(u, TCR_BOTTOM);
    mean.u = u;
    mean.layer = TCR_BOTTOM;
    if (mean.assumed & TCR_LASH_HEIGHT)
        mean.height_mm = standard.height_mm;
    if (mean.assumed & TCR_LASH_PITCH)
        mean.pitch_rad = standard.pitch_rad;
    if (mean.assumed & TCR_LASH_YAW)
        mean.yaw_rad = standard.yaw_rad;
    if (mean.assumed & TCR_LASH_ROLL)
        mean.roll_rad = standard.roll_rad;
    if (mean.assumed & TCR_LASH_LENGTH)
        mean.length_mm = standard.length_mm;
    if (mean.assumed & TCR_LASH_TURN)
        mean.turn_rad = standard.turn_rad;
    if (mean.assumed & TCR_LASH_ROOT_DIAMETER)
        mean.root_diameter_mm = standard.root_diameter_mm;
    if (mean.assumed & TCR_LASH_TIP_DIAMETER)
        mean.tip_diameter_mm = standard.tip_diameter_mm;
    return mean;
}
