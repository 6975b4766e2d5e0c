/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading what a set holds, and finding an id that is used twice. */
#include <tipcrest/set.h>

#include <math.h>
#include <string.h>

#include "model/field_table.h"
#include "model/set_data.h"
#include "num/memory.h"
#include "num/order.h"

static const tcr_stored_lash *lash_of(const tcr_set *set, tcr_side side, size_t i) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    return eye != NULL && i < eye->count ? &eye->lashes[i] : NULL;
}

const char *tcr_set_title(const tcr_set *set) {
    return set != NULL && set->title != NULL ? set->title : "";
}

tcr_subject tcr_set_subject(const tcr_set *set) { return set != NULL ? set->subject : TCR_CLIENT; }

size_t tcr_set_eyes(const tcr_set *set, tcr_side sides[TCR_SIDES]) {
    if (set == NULL)
        return 0;
    size_t count = 0;
    const tcr_side order[TCR_SIDES] = {set->first, set->first == TCR_LEFT ? TCR_RIGHT : TCR_LEFT};
    for (int i = 0; i < TCR_SIDES; i++) {
        if (!set->eye[order[i]].present)
            continue;
        if (sides != NULL)
            sides[count] = order[i];
        count++;
    }
    return count;
}

bool tcr_set_has_eye(const tcr_set *set, tcr_side side) {
    return tcr_set_eye_of(set, side) != NULL;
}

size_t tcr_set_lash_count(const tcr_set *set, tcr_side side) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    return eye != NULL ? eye->count : 0;
}

const tcr_description *tcr_set_description(const tcr_set *set, tcr_side side) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    return eye != NULL && eye->described ? &eye->description : NULL;
}

size_t tcr_set_drawn_count(const tcr_set *set, tcr_side side) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    return eye != NULL ? eye->drawn : 0;
}

const tcr_lash *tcr_set_lash(const tcr_set *set, tcr_side side, size_t i) {
    const tcr_stored_lash *entry = lash_of(set, side, i);
    return entry != NULL ? &entry->lash : NULL;
}

const tcr_lash *tcr_set_lashes(const tcr_set *set, tcr_side side, size_t *stride) {
    const tcr_stored_lash *first = lash_of(set, side, 0);
    if (stride != NULL)
        *stride = first != NULL ? sizeof *first : 0;
    return first != NULL ? &first->lash : NULL;
}

tcr_lash tcr_set_lash_as_given(const tcr_stored_lash *entry) {
    tcr_lash lash = entry->lash;
    tcr_fields_clear(TCR_GROUP_LASH, &lash, entry->assumed);
    return lash;
}

tcr_status tcr_set_given_lash(const tcr_set *set, tcr_side side, size_t i, tcr_lash *lash) {
    const tcr_stored_lash *entry = lash_of(set, side, i);
    if (entry == NULL || lash == NULL)
        return set == NULL || lash == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    *lash = tcr_set_lash_as_given(entry);
    return TCR_OK;
}

unsigned tcr_set_assumed(const tcr_set *set, tcr_side side, size_t i) {
    const tcr_stored_lash *entry = lash_of(set, side, i);
    return entry != NULL ? entry->assumed : 0;
}

const char *tcr_set_id(const tcr_set *set, tcr_side side, size_t i) {
    const tcr_stored_lash *entry = lash_of(set, side, i);
    return entry != NULL ? set->eye[side].text + entry->id_at : NULL;
}

const tcr_wish *tcr_set_wish(const tcr_set *set, tcr_side side, size_t i) {
    const tcr_stored_lash *entry = lash_of(set, side, i);
    return entry != NULL ? &entry->wish : NULL;
}

const tcr_lid *tcr_set_lid(const tcr_set *set, tcr_side side) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    return eye != NULL ? &eye->lid : NULL;
}

tcr_status tcr_set_given_lid(const tcr_set *set, tcr_side side, tcr_lid *lid) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    if (eye == NULL || lid == NULL)
        return set == NULL || lid == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    *lid = eye->lid;
    tcr_fields_clear(TCR_GROUP_LID, lid, eye->lid_assumed);
    return TCR_OK;
}

unsigned tcr_set_lid_assumed(const tcr_set *set, tcr_side side) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    return eye != NULL ? eye->lid_assumed : 0;
}

const tcr_zone *tcr_set_map(const tcr_set *set, tcr_side side, size_t *count) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    if (count != NULL)
        *count = eye != NULL ? eye->map.count : 0;
    return eye != NULL ? eye->map.zone : NULL;
}

double tcr_set_longest_mm(const tcr_set *set) {
    double longest = NAN;
    for (int side = 0; side < TCR_SIDES; side++) {
        size_t count;
        const tcr_zone *map = tcr_set_map(set, (tcr_side)side, &count);
        for (size_t z = 0; z < count; z++)
            longest = fmax(longest, map[z].length_mm);
    }
    return longest;
}

const tcr_zone *tcr_set_intended(const tcr_set *set, tcr_side side, size_t *count) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    if (count != NULL)
        *count = eye != NULL ? eye->intended.count : 0;
    return eye != NULL ? eye->intended.zone : NULL;
}

const tcr_layering *tcr_set_layering(const tcr_set *set) {
    return set != NULL ? &set->layering : NULL;
}

const tcr_tray *tcr_set_tray(const tcr_set *set) { return set != NULL ? &set->tray : NULL; }

const tcr_bond *tcr_set_bond(const tcr_set *set) { return set != NULL ? &set->bond : NULL; }

const tcr_view *tcr_set_view(const tcr_set *set) { return set != NULL ? &set->view : NULL; }

const tcr_line_rule *tcr_set_line(const tcr_set *set) { return set != NULL ? &set->line : NULL; }

double tcr_set_tolerance(const tcr_set *set) {
    if (set == NULL)
        return NAN;
    const tcr_line_rule *rule = &set->line;
    return isnan(rule->seen_from_mm) ? rule->tolerance_mm : tcr_tolerance_from(rule->seen_from_mm);
}

const tcr_lash *tcr_set_mean_lash(const tcr_set *set) {
    return set != NULL ? &set->mean_lash : NULL;
}

size_t tcr_set_curl_count(const tcr_set *set) { return set != NULL ? set->curl_count : 0; }

const tcr_curl *tcr_set_curl(const tcr_set *set, size_t i) {
    return set != NULL && i < set->curl_count ? &set->curls[i]->curl : NULL;
}

tcr_status tcr_set_find_curl(const tcr_set *set, const char *label, size_t *index) {
    if (set == NULL || label == NULL || index == NULL)
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < set->curl_count; i++)
        if (set->curls[i]->label[0] == label[0] &&
            strncmp(set->curls[i]->label, label, TCR_LABEL_SIZE) == 0) {
            *index = i;
            return TCR_OK;
        }
    return TCR_E_CURL;
}

static bool has_lesser_id(const void *a, const void *b, const void *context) {
    const tcr_stored_eye *eye = context;
    return strcmp(eye->text + eye->lashes[*(const size_t *)a].id_at,
                  eye->text + eye->lashes[*(const size_t *)b].id_at) < 0;
}

tcr_status tcr_set_find_duplicate(const tcr_set *set, tcr_side side, size_t *index) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    if (eye == NULL || index == NULL)
        return set == NULL || index == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    const size_t n = eye->count;
    size_t rising = 1; /* ids that stand in their order, as most do, need no sorting */
    while (rising < n && has_lesser_id(&(size_t){rising - 1}, &(size_t){rising}, eye))
        rising++;
    if (rising >= n)
        return TCR_OK;
    size_t *from = tcr_resize(&set->allocator, NULL, n, sizeof *from);
    if (from == NULL)
        return TCR_E_MEMORY;
    for (size_t i = 0; i < n; i++)
        from[i] = i;
    /* Stable, so that a repeat stands behind what it repeats. */
    tcr_sort_items(from, n, sizeof *from, has_lesser_id, eye);
    size_t first = n;
    for (size_t i = 1; i < n; i++) {
        const char *a = eye->text + eye->lashes[from[i - 1]].id_at,
                   *b = eye->text + eye->lashes[from[i]].id_at;
        if (from[i] < first && strcmp(a, b) == 0)
            first = from[i];
    }
    tcr_release(&set->allocator, from);
    if (first == n)
        return TCR_OK;
    *index = first;
    return TCR_E_DUPLICATE;
}

size_t tcr_set_lashes_in(const tcr_set *set, tcr_side side, size_t zone, tcr_layer layer) {
    size_t count = 0;
    for (size_t i = 0; i < tcr_set_lash_count(set, side); i++) {
        const tcr_lash *lash = tcr_set_lash(set, side, i);
        count += lash->layer == layer && tcr_set_zone_at(set, side, lash->u) == zone;
    }
    return count;
}
