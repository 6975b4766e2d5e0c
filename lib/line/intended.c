/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The intended line: what the map asks for, with every lash the mean lash (model.md, section 7). */
#include "line/intended.h"

#include <assert.h>
#include <string.h>
#include <tipcrest/mean.h>

#include "model/evaluate.h"
#include "model/set_data.h"
#include "num/memory.h"

enum { PLACES = TCR_LINE_SAMPLES };

/* Where the line's places are: 0.05 to 0.95, each nearest to its decimal, so that a place on a
 * zone's border is on it. */
static double u_of(int i) { return (100.0 + 9.0 * i) / 2000.0; }

/* Seats the mean lash at a place of the margin that is known. */
static void seat(tcr_mean_place *place, const tcr_lash *lash, const tcr_looking *at) {
    const tcr_rooted rooted = tcr_lash_rooted_at(lash, &place->margin);
    place->stance = tcr_rooted_stance(&rooted, at->opening);
}

/* A place that is not kept, for the mean lash there. */
static void seat_anew(tcr_mean_place *place, const tcr_lash *lash, const tcr_looking *at) {
    place->margin = tcr_lid_place(&at->lid, lash->u);
    place->bed.bond_mm = 0.0;
    seat(place, lash, at);
}

/* The tips that the line runs through: PLACES of one eye. kept: its places, or NULL. */
static tcr_status points_of(const tcr_set *set, tcr_side side, const tcr_view *view,
                            const tcr_mean_lash *mean, tcr_mean_place *kept, double *x, double *y) {
    const tcr_looking at = tcr_looking_at(tcr_set_lid(set, side), view);
    const tcr_set_map_zones *map = tcr_set_intended_map(set, side);
    tcr_choice worn = {0};
    tcr_extension ext = {.fan = 0};
    tcr_kept_fibre fibre = {.known = false};
    tcr_mean_place once = {.bed = {.bond_mm = 0.0}};
    size_t zone = map->count; /* whose choice 'worn' is */
    for (int i = 0; i < PLACES; i++) {
        const double u = u_of(i), length = tcr_set_smooth_length(set, map, u, TCR_BOTTOM);
        const size_t here = tcr_map_zone_at(map, u);
        const tcr_lash lash = tcr_mean_lash_at(mean, u);
        if (here != zone)
            worn = tcr_set_intended_choice(set, map, here);
        if (here != zone || length != worn.length_mm) {
            worn.length_mm = length;
            ext = tcr_set_extension(set, &worn);
            fibre.known = false;
        }
        zone = here;
        tcr_mean_place *place = kept != NULL ? &kept[i] : &once;
        if (kept == NULL)
            seat_anew(place, &lash, &at);
        tcr_vec2 seen;
        const tcr_status status = tcr_evaluate_on(&at, &lash, &ext, tcr_set_bond(set),
                                                  &place->stance, &place->bed, &fibre, &seen);
        if (status != TCR_OK)
            return status;
        x[i] = seen.x;
        y[i] = seen.y;
    }
    return TCR_OK;
}

/* The line through the places of eyes, with the mean lash of each; kept: the places of each side,
 * or NULL. */
static tcr_status fit_through(const tcr_set *set, const tcr_side *sides, size_t eyes,
                              const tcr_view *view, const tcr_mean_lash *mean,
                              const tcr_mean_places *kept, tcr_line *line) {
    double x[TCR_SIDES * PLACES], y[TCR_SIDES * PLACES], scratch[TCR_SIDES * PLACES];
    for (size_t e = 0; e < eyes; e++) {
        tcr_mean_place *place = kept != NULL ? kept[sides[e]].place : NULL;
        const tcr_status status =
            points_of(set, sides[e], view, &mean[e], place, x + e * PLACES, y + e * PLACES);
        if (status != TCR_OK)
            return status;
    }
    tcr_line_options plain = tcr_line_options_default();
    plain.robust = false;
    return tcr_line_fit(x, y, eyes * PLACES, &plain, scratch, line);
}

size_t tcr_intended_sides(const tcr_set *set, tcr_side side, tcr_side sides[TCR_SIDES]) {
    const tcr_stored_eye *left = tcr_set_eye_of(set, TCR_LEFT),
                         *right = tcr_set_eye_of(set, TCR_RIGHT);
    sides[0] = side;
    if (!set->line.shared || left == NULL || right == NULL || left->map.count == 0 ||
        right->map.count == 0)
        return 1;
    sides[0] = TCR_LEFT;
    sides[1] = TCR_RIGHT;
    return TCR_SIDES;
}

tcr_status tcr_intended_line(const tcr_set *set, tcr_side side, const tcr_view *view,
                             tcr_line *line) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    const tcr_status valid = tcr_view_validate(view, NULL);
    if (set == NULL || line == NULL || valid != TCR_OK)
        return set == NULL || line == NULL ? TCR_E_ARGUMENT : valid;
    if (eye == NULL || eye->map.count == 0)
        return eye == NULL ? TCR_E_MISSING : TCR_E_MAP;
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_intended_sides(set, side, sides);
    tcr_mean_lash mean[TCR_SIDES];
    for (size_t e = 0; e < eyes; e++)
        (void)tcr_mean_lash_of(set, sides[e], &mean[e]); /* the eyes are there */
    return fit_through(set, sides, eyes, view, mean, NULL, line);
}

/* The measures of a lid, to be compared. */
static void lid_numbers(const tcr_lid *lid, double number[TCR_LID_NUMBERS]) {
    const double numbers[TCR_LID_NUMBERS] = {
        lid->fissure_width_mm, lid->canthal_tilt_rad, lid->inner_corner_height_mm,
        lid->mrd1_mm,          lid->mrd2_mm,          lid->peak_offset_mm,
        lid->fullness,         lid->globe_radius_mm,  lid->lateral_semiaxis_mm,
    };
    memcpy(number, numbers, sizeof numbers);
}

enum { BOND_NUMBERS = 3, MEAN_NUMBERS = 11 };
static_assert(1 + BOND_NUMBERS + MEAN_NUMBERS == TCR_SEAT_NUMBERS, "the opening, bond, mean lash");

static void bond_numbers(const tcr_bond *bond, double number[BOND_NUMBERS]) {
    const double numbers[BOND_NUMBERS] = {bond->offset_mm, bond->length_mm, bond->glue_mm};
    memcpy(number, numbers, sizeof numbers);
}

static void mean_numbers(const tcr_mean_lash *mean, double number[MEAN_NUMBERS]) {
    const tcr_lash *lash = &mean->lash;
    const double numbers[MEAN_NUMBERS] = {
        lash->height_mm,    lash->pitch_rad,     lash->yaw_rad,          lash->roll_rad,
        lash->turn_rad,     mean->yaw_slope_rad, lash->root_diameter_mm, lash->tip_diameter_mm,
        mean->length_mm[0], mean->length_mm[1],  mean->length_mm[2]};
    memcpy(number, numbers, sizeof numbers);
}

/* Numbers being gathered; room stays short where memory ran out. */
typedef struct gathering {
    const tcr_allocator *allocator;
    double *number;
    size_t count, room;
    bool lacks_memory;
} gathering;

static void gather(gathering *g, double number) {
    if (g->count == g->room &&
        tcr_grow(g->allocator, (void **)&g->number, g->count, &g->room, sizeof(double)) != TCR_OK)
        g->lacks_memory = true;
    else
        g->number[g->count++] = number;
}

static void gather_all(gathering *g, const double *number, size_t n) {
    for (size_t i = 0; i < n; i++)
        gather(g, number[i]);
}

static void gather_curl(gathering *g, const tcr_curl *curl) {
    gather(g, (double)curl->count);
    if (curl->length_mm != NULL)
        gather_all(g, curl->length_mm, curl->count);
    for (size_t i = 0; i < curl->count; i++) {
        const tcr_profile *profile = &curl->profiles[i];
        gather(g, profile->pieces);
        gather_all(g, profile->share, (size_t)profile->pieces);
        gather_all(g, profile->turn_rad, (size_t)profile->pieces);
    }
}

/* A place in each zone says which curl and diameter it has; the length is what the ends say. */
static void gather_map(gathering *g, const tcr_set *set, tcr_side side) {
    const tcr_set_map_zones *map = tcr_set_intended_map(set, side);
    for (size_t z = 0; z < map->count; z++) {
        const tcr_choice worn = tcr_set_intended_choice(set, map, z);
        const double numbers[] = {map->zone[z].to, worn.length_mm, worn.diameter_mm};
        gather_all(g, numbers, sizeof numbers / sizeof *numbers);
        gather_curl(g, tcr_set_curl(set, worn.curl));
    }
}

/* All that an eye's intended line depends on. */
static void gather_eye(gathering *g, const tcr_set *set, tcr_side side, const tcr_mean_lash *mean) {
    double lid[TCR_LID_NUMBERS], lash[MEAN_NUMBERS];
    lid_numbers(tcr_set_lid(set, side), lid);
    mean_numbers(mean, lash);
    gather_all(g, lid, TCR_LID_NUMBERS);
    gather_map(g, set, side);
    gather_all(g, lash, MEAN_NUMBERS);
}

/* By their bytes: an unknown number is the same as before. */
static bool same_numbers(const double *a, const double *b, size_t count) {
    return memcmp(a, b, count * sizeof *a) == 0;
}

/* Brings an eye's places up to date: on its lid, and how the mean lash stands there. */
static tcr_status keep_places(tcr_mean_places *places, const tcr_allocator *allocator,
                              const tcr_set *set, tcr_side side, const tcr_view *view,
                              const tcr_mean_lash *mean) {
    const bool known = places->place != NULL;
    if (!known)
        places->place = tcr_resize(allocator, NULL, PLACES, sizeof *places->place);
    if (places->place == NULL)
        return TCR_E_MEMORY;
    double lid[TCR_LID_NUMBERS], seated[TCR_SEAT_NUMBERS] = {view->opening};
    lid_numbers(tcr_set_lid(set, side), lid);
    bond_numbers(tcr_set_bond(set), seated + 1);
    mean_numbers(mean, seated + 1 + BOND_NUMBERS);
    const bool on_lid = known && same_numbers(lid, places->lid, TCR_LID_NUMBERS);
    if (on_lid && same_numbers(seated, places->seat, TCR_SEAT_NUMBERS))
        return TCR_OK;
    /* A bed has the shape of the lash and the bond, which follow the opening. */
    const bool same_beds =
        known && same_numbers(seated + 1, places->seat + 1, TCR_SEAT_NUMBERS - 1);
    const tcr_looking at = tcr_looking_at(tcr_set_lid(set, side), view);
    for (int i = 0; i < PLACES; i++) {
        tcr_mean_place *place = &places->place[i];
        const double u = u_of(i);
        const tcr_lash lash = tcr_mean_lash_at(mean, u);
        if (!on_lid)
            place->margin = tcr_lid_place(&at.lid, u);
        if (!same_beds)
            place->bed.bond_mm = 0.0;
        seat(place, &lash, &at);
    }
    memcpy(places->lid, lid, sizeof lid);
    memcpy(places->seat, seated, sizeof seated);
    return TCR_OK;
}

tcr_status tcr_intended_renew(tcr_intended *intended, const tcr_allocator *allocator,
                              const tcr_set *set, tcr_side side, const tcr_view *view) {
    /* The new numbers are gathered behind the old ones, and take their place where they differ. */
    const size_t old = intended->count;
    gathering g = {allocator, intended->key, old, intended->room, false};
    double bond[BOND_NUMBERS];
    bond_numbers(tcr_set_bond(set), bond);
    gather(&g, view->opening);
    gather(&g, view->viewer_rad);
    gather_all(&g, bond, BOND_NUMBERS);
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_intended_sides(set, side, sides);
    tcr_mean_lash mean[TCR_SIDES];
    for (size_t e = 0; e < eyes; e++) {
        (void)tcr_mean_lash_of(set, sides[e], &mean[e]); /* the eyes are there */
        gather_eye(&g, set, sides[e], &mean[e]);
    }
    intended->key = g.number;
    intended->room = g.room;
    if (g.lacks_memory)
        return TCR_E_MEMORY;
    const size_t count = g.count - old;
    if (count == old && same_numbers(g.number, g.number + old, count))
        return TCR_OK;
    memmove(g.number, g.number + old, count * sizeof *g.number);
    intended->count = count;
    for (size_t e = 0; e < eyes; e++)
        if (keep_places(&intended->places[sides[e]], allocator, set, sides[e], view, &mean[e]) !=
            TCR_OK) {
            intended->count = 0; /* nothing is known of the line */
            return TCR_E_MEMORY;
        }
    intended->status = fit_through(set, sides, eyes, view, mean, intended->places, &intended->line);
    return TCR_OK;
}

void tcr_intended_free(tcr_intended *intended, const tcr_allocator *allocator) {
    for (int side = 0; side < TCR_SIDES; side++)
        tcr_release(allocator, intended->places[side].place);
    tcr_release(allocator, intended->key);
    *intended = (tcr_intended){0};
}
