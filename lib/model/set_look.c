/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set like another whose maps are a look. */
#include <tipcrest/set.h>

#include <math.h>
#include <string.h>

/* The zones of the look, each with the curl that the old map has at its middle. */
static tcr_status map_by_look(const tcr_set *from, tcr_side side, const tcr_look *look,
                              const double *length_mm, tcr_set *to) {
    tcr_zone zones[TCR_LOOK_ZONES_MAX] = {{0}};
    const double width = 1.0 / (double)look->zones;
    size_t count;
    const tcr_zone *map = tcr_set_get_map(from, side, &count);
    if (count == 0)
        return TCR_E_MISSING;
    for (size_t z = 0; z < look->zones; z++) {
        const size_t old = tcr_set_zone_at(from, side, ((double)z + 0.5) * width);
        zones[z].to = tcr_look_zone_end(z, look->zones);
        zones[z].length_mm = length_mm[z];
        memcpy(zones[z].curl, map[old].curl, sizeof zones[z].curl);
    }
    return tcr_set_map(to, side, zones, look->zones);
}

static tcr_status copy_eye(const tcr_set *from, tcr_side side, const tcr_look *look,
                           const double *length_mm, tcr_set *to) {
    tcr_status status = tcr_set_add_eye(to, side, tcr_set_get_lid(from, side));
    if (status == TCR_OK)
        status = map_by_look(from, side, look, length_mm, to);
    const size_t lashes = tcr_set_lash_count(from, side);
    for (size_t i = 0; i < lashes && status == TCR_OK; i++)
        status = tcr_set_add_lash(to, side, tcr_set_get_id(from, side, i),
                                  tcr_set_get_lash(from, side, i), tcr_set_get_wish(from, side, i));
    if (status == TCR_OK)
        status = tcr_set_mark_drawn(to, side, tcr_set_drawn_count(from, side));
    return status;
}

double tcr_set_longest_mm(const tcr_set *set) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(set, sides);
    double longest = NAN;
    for (size_t e = 0; e < eyes; e++) {
        size_t count;
        const tcr_zone *map = tcr_set_get_map(set, sides[e], &count);
        for (size_t z = 0; z < count; z++)
            longest = fmax(longest, map[z].length_mm);
    }
    return longest;
}

tcr_status tcr_set_new_by_look(const tcr_allocator *allocator, const tcr_set *from,
                               const tcr_look *look, double longest_mm, tcr_set **set) {
    double length_mm[TCR_LOOK_ZONES_MAX];
    if (from == NULL || set == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_look_lengths(look, longest_mm, tcr_set_get_tray(from), length_mm);
    tcr_set *made;
    if (status == TCR_OK)
        status = tcr_set_new_like(allocator, from, &made);
    if (status != TCR_OK)
        return status;
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(from, sides);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++)
        status = copy_eye(from, sides[e], look, length_mm, made);
    if (status != TCR_OK) {
        tcr_set_free(made);
        return status;
    }
    *set = made;
    return TCR_OK;
}
