/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a lash is to carry: its own row wins over its zone's layer, that over the layering rule
 * (model.md, section 7). And what the mean lash carries for the intended line.
 */
#include <tipcrest/set.h>

#include <math.h>
#include <stddef.h>

#include "model/set_data.h"

size_t tcr_map_zone_at(const tcr_set_map_zones *map, double u) {
    size_t i = 0;
    while (i + 1 < map->count && !(u < map->zone[i].to))
        i++;
    return i;
}

size_t tcr_set_zone_at(const tcr_set *set, tcr_side side, double u) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    return eye != NULL && eye->map.count > 0 ? tcr_map_zone_at(&eye->map, u) : 0;
}

double tcr_set_layer_length(const tcr_set *set, const tcr_zone *zone, tcr_layer layer) {
    const tcr_wish *wish = &zone->layer[layer];
    if (wish->fixed & TCR_FIX_LENGTH)
        return wish->length_mm;
    return zone->length_mm - set->layering.step_mm * (double)layer;
}

/* The zones whose centres lie about u, and how far it is from the first to the second, 0 to 1. */
typedef struct between {
    const tcr_zone *from, *to;
    double share;
} between;

/* Before the first and after the last centre both zones are the same. */
static between zones_about(const tcr_set_map_zones *map, double u) {
    const tcr_zone *zones = map->zone;
    double centre = zones[0].to / 2.0;
    if (u <= centre)
        return (between){&zones[0], &zones[0], 0.0};
    for (size_t i = 1; i < map->count; i++) {
        const double next = (zones[i - 1].to + zones[i].to) / 2.0;
        if (u < next)
            return (between){&zones[i - 1], &zones[i], (u - centre) / (next - centre)};
        centre = next;
    }
    const tcr_zone *last = &zones[map->count - 1];
    return (between){last, last, 0.0};
}

static double interpolate(double from, double to, double share) {
    return from + (to - from) * share;
}

double tcr_set_smooth_length(const tcr_set *set, const tcr_set_map_zones *map, double u,
                             tcr_layer layer) {
    const between b = zones_about(map, u);
    return interpolate(tcr_set_layer_length(set, b.from, layer),
                       tcr_set_layer_length(set, b.to, layer), b.share);
}

/* The tray's length nearest to a blended one, of what the layer gets if the tray has any of that.
 */
static double nearest_at_hand(const tcr_set *set, const tcr_set_map_zones *map, size_t z,
                              tcr_layer layer, double length_mm) {
    const tcr_choice choice = tcr_set_ruled_choice(set, map, z, layer);
    tcr_tray room;
    const tcr_tray *tray = tcr_set_tray_for(set, &choice, &room);
    return tcr_tray_nearest(tray != NULL ? tray : &set->tray, length_mm);
}

double tcr_set_ruled_length(const tcr_set *set, const tcr_set_map_zones *map, size_t z,
                            tcr_layer layer, double u, bool rounded) {
    const tcr_zone *zone = &map->zone[z];
    if (!set->layering.blend || (zone->layer[layer].fixed & TCR_FIX_LENGTH))
        return tcr_set_layer_length(set, zone, layer);
    const between b = zones_about(map, u);
    const double blended = interpolate(b.from->length_mm, b.to->length_mm, b.share);
    const double length = rounded ? nearest_at_hand(set, map, z, layer, blended) : blended;
    return length - set->layering.step_mm * (double)layer;
}

double tcr_set_map_length(const tcr_set *set, tcr_side side, double u, tcr_layer layer) {
    const tcr_set_map_zones *map = &set->eye[side].map;
    return tcr_set_ruled_length(set, map, tcr_map_zone_at(map, u), layer, u, true);
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
    if (wish->fixed & TCR_FIX_FROM_SKIN)
        choice->moved_out_mm = wish->from_skin_mm - set->bond.offset_mm;
}

tcr_choice tcr_set_ruled_choice(const tcr_set *set, const tcr_set_map_zones *map, size_t z,
                                tcr_layer layer) {
    const tcr_layering *rule = &set->layering;
    const tcr_zone *zone = &map->zone[z];
    tcr_choice choice = {
        .diameter_mm = rule->diameter_mm,
        .fan = rule->fan,
        .spread_rad = rule->spread_rad,
        .placement = rule->placement[layer],
    };
    (void)tcr_set_find_curl(set, zone->curl, &choice.curl);
    apply_wish(set, &zone->layer[layer], &choice);
    choice.length_mm = tcr_set_layer_length(set, zone, layer);
    return choice;
}

tcr_status tcr_set_choice(const tcr_set *set, tcr_side side, size_t i, tcr_choice *out) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    if (eye == NULL || i >= eye->count)
        return set == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    if (eye->map.count == 0)
        return TCR_E_MAP;
    if (out == NULL)
        return TCR_E_ARGUMENT;
    const tcr_lash *lash = &eye->lashes[i].lash;
    const tcr_wish *row = &eye->lashes[i].wish;
    if (row->fixed & TCR_FIX_BARE)
        return TCR_E_BARE_BY_ROW;
    if (lash->condition != TCR_SUITABLE && !(row->fixed & TCR_FIX_LENGTH))
        return TCR_E_BARE;

    const size_t z = tcr_map_zone_at(&eye->map, lash->u);
    tcr_choice choice = tcr_set_ruled_choice(set, &eye->map, z, lash->layer);
    apply_wish(set, row, &choice);
    tcr_status status = TCR_OK;
    if (!(row->fixed & TCR_FIX_LENGTH)) {
        choice.length_mm = tcr_set_ruled_length(set, &eye->map, z, lash->layer, lash->u, true);
        status = tcr_set_take_length(set, &choice);
    }
    *out = choice;
    return status;
}

tcr_extension tcr_set_extension(const tcr_set *set, const tcr_choice *choice) {
    if (set == NULL || choice == NULL || choice->curl >= set->curl_count)
        return (tcr_extension){0};
    return (tcr_extension){
        .length_mm = choice->length_mm,
        .diameter_mm = choice->diameter_mm,
        .fan = choice->fan,
        .spread_rad = choice->spread_rad,
        .placement = choice->placement,
        .profile = tcr_curl_profile(&set->curls[choice->curl]->curl, choice->length_mm),
    };
}

tcr_bond tcr_set_bond_of(const tcr_set *set, const tcr_choice *choice) {
    if (set == NULL || choice == NULL)
        return (tcr_bond){0};
    tcr_bond bond = set->bond;
    bond.offset_mm = fmax(bond.offset_mm + choice->moved_out_mm, 0.0);
    return bond;
}

const tcr_set_map_zones *tcr_set_intended_map(const tcr_set *set, tcr_side side) {
    const tcr_stored_eye *eye = &set->eye[side];
    return eye->intended.count > 0 ? &eye->intended : &eye->map;
}

tcr_choice tcr_set_intended_choice(const tcr_set *set, const tcr_set_map_zones *map, size_t z) {
    tcr_choice choice = tcr_set_ruled_choice(set, map, z, TCR_BOTTOM);
    choice.fan = 1;
    choice.spread_rad = 0.0;
    choice.placement = TCR_ON_TOP;
    return choice;
}

tcr_extension tcr_set_intended_extension(const tcr_set *set, tcr_side side, double u) {
    if (tcr_set_eye_of(set, side) == NULL || set->eye[side].map.count == 0)
        return (tcr_extension){0};
    const tcr_set_map_zones *map = tcr_set_intended_map(set, side);
    tcr_choice choice = tcr_set_intended_choice(set, map, tcr_map_zone_at(map, u));
    choice.length_mm = tcr_set_smooth_length(set, map, u, TCR_BOTTOM);
    return tcr_set_extension(set, &choice);
}
