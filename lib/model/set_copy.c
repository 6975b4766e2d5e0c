/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sets made of others: a copy, the rules alone, and the same lashes with a look for a map. */
#include <tipcrest/set.h>

#include <math.h>
#include <string.h>

#include "model/set_data.h"
#include "num/memory.h"

/* A copy of n items in a block of its own, or NULL; of nothing, NULL too. */
static void *copied(const tcr_allocator *allocator, const void *from, size_t n, size_t size) {
    void *copy = n > 0 ? tcr_resize(allocator, NULL, n, size) : NULL;
    if (copy != NULL)
        memcpy(copy, from, n * size);
    return copy;
}

/* A set with what holds for the whole of another, and nothing else. */
static tcr_status copy_rules(const tcr_allocator *allocator, const tcr_set *from, tcr_set **out) {
    tcr_set *set = tcr_resize(allocator, NULL, 1, sizeof *set);
    if (set == NULL)
        return TCR_E_MEMORY;
    *set = *from;
    set->allocator = *allocator;
    (void)tcr_set_begin(set);
    set->curl_count = 0;
    set->curl_capacity = from->curl_count;
    memset(set->eye, 0, sizeof set->eye);
    const char *title = tcr_set_title(from);
    set->title = copied(allocator, title, strlen(title) + 1, 1);
    set->curls = tcr_resize(allocator, NULL, from->curl_count, sizeof(tcr_stored_curl *));
    bool whole = set->title != NULL && set->curls != NULL;
    while (whole && set->curl_count < from->curl_count) {
        tcr_stored_curl *curl = tcr_set_curl_copy(allocator, &from->curls[set->curl_count]->curl);
        whole = curl != NULL;
        if (whole)
            set->curls[set->curl_count++] = curl;
    }
    if (!whole) {
        tcr_set_free(set);
        return TCR_E_MEMORY;
    }
    *out = set;
    return TCR_OK;
}

static tcr_status copy_eye(const tcr_allocator *allocator, const tcr_stored_eye *from,
                           tcr_stored_eye *to) {
    *to = *from;
    to->map.zone = copied(allocator, from->map.zone, from->map.count, sizeof(tcr_zone));
    to->intended.zone =
        copied(allocator, from->intended.zone, from->intended.count, sizeof(tcr_zone));
    to->lashes = copied(allocator, from->lashes, from->count, sizeof *from->lashes);
    to->text = copied(allocator, from->text, from->text_size, 1);
    to->capacity = from->count;
    to->text_capacity = from->text_size;
    const bool whole = (to->map.zone != NULL || to->map.count == 0) &&
                       (to->intended.zone != NULL || to->intended.count == 0) &&
                       (to->lashes != NULL || to->count == 0) &&
                       (to->text != NULL || to->text_size == 0);
    return whole ? TCR_OK : TCR_E_MEMORY;
}

/* The allocator that was given, or that of the set that is copied. */
static tcr_status choose(const tcr_allocator *given, const tcr_set *from, tcr_set *const *out,
                         tcr_allocator *chosen) {
    if (from == NULL || out == NULL)
        return TCR_E_ARGUMENT;
    return tcr_allocator_choose(given, chosen);
}

tcr_status tcr_set_new_like(const tcr_allocator *allocator, const tcr_set *from, tcr_set **set) {
    tcr_allocator chosen;
    const tcr_status status = choose(allocator, from, set, &chosen);
    return status == TCR_OK ? copy_rules(&chosen, from, set) : status;
}

tcr_status tcr_set_copy(const tcr_allocator *allocator, const tcr_set *from, tcr_set **out) {
    tcr_allocator chosen;
    tcr_set *set;
    tcr_status status = choose(allocator, from, out, &chosen);
    if (status == TCR_OK)
        status = copy_rules(&chosen, from, &set);
    if (status != TCR_OK)
        return status;
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        status = copy_eye(&chosen, &from->eye[side], &set->eye[side]);
    if (status != TCR_OK) {
        tcr_set_free(set);
        return status;
    }
    *out = set;
    return TCR_OK;
}

/* The zones of the look, each with the curl that the old map has at its middle. */
static tcr_status map_by_look(tcr_set *set, tcr_side side, const tcr_look *look,
                              const double *length_mm) {
    tcr_zone zones[TCR_LOOK_ZONES_MAX] = {{0}};
    const double width = 1.0 / (double)look->zones;
    size_t count;
    const tcr_zone *map = tcr_set_map(set, side, &count);
    if (count == 0)
        return TCR_E_MISSING;
    for (size_t z = 0; z < look->zones; z++) {
        const size_t old = tcr_set_zone_at(set, side, ((double)z + 0.5) * width);
        zones[z].to = tcr_look_zone_end(z, look->zones);
        zones[z].length_mm = length_mm[z];
        memcpy(zones[z].curl, map[old].curl, sizeof zones[z].curl);
    }
    return tcr_set_put_map(set, side, zones, look->zones);
}

tcr_status tcr_set_new_by_look(const tcr_allocator *allocator, const tcr_set *from,
                               const tcr_look *look, double longest_mm, tcr_set **out) {
    double length_mm[TCR_LOOK_ZONES_MAX];
    if (from == NULL || out == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_look_lengths(look, longest_mm, tcr_set_tray(from), length_mm);
    tcr_set *set;
    if (status == TCR_OK)
        status = tcr_set_copy(allocator, from, &set);
    if (status != TCR_OK)
        return status;
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(from, sides);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++) {
        status = map_by_look(set, sides[e], look, length_mm);
        if (status == TCR_OK)
            status = tcr_set_put_intended(set, sides[e], NULL, 0);
    }
    if (status != TCR_OK) {
        tcr_set_free(set);
        return status;
    }
    *out = set;
    return TCR_OK;
}
