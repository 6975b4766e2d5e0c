/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A set filled by calls: each checks what it is given, makes all the room it needs, and only then
 * changes the set. What a set holds is read in set_get.c; what a lash is to carry is in choice.c.
 */
#include <tipcrest/set.h>

#include <string.h>

#include <tipcrest/field.h>

#include "model/set_data.h"
#include "num/memory.h"
#include "num/range.h"
#include "num/utf8.h"

static void free_curl(const tcr_allocator *allocator, tcr_set_curl *curl) {
    if (curl == NULL)
        return;
    tcr_release(allocator, curl->length_mm);
    tcr_release(allocator, curl->profiles);
    tcr_release(allocator, curl);
}

static void free_eye(const tcr_allocator *allocator, tcr_set_eye *eye) {
    tcr_release(allocator, eye->map.zone);
    tcr_release(allocator, eye->intended.zone);
    tcr_release(allocator, eye->lashes);
    tcr_release(allocator, eye->text);
}

void tcr_set_free(tcr_set *set) {
    if (set == NULL)
        return;
    const tcr_allocator allocator = set->allocator;
    for (size_t i = 0; i < set->curl_count; i++)
        free_curl(&allocator, set->curls[i]);
    tcr_release(&allocator, set->curls);
    tcr_release(&allocator, set->title);
    for (int side = 0; side < TCR_SIDES; side++)
        free_eye(&allocator, &set->eye[side]);
    tcr_release(&allocator, set);
}

tcr_status tcr_set_new(const tcr_allocator *allocator, tcr_set **out) {
    tcr_allocator chosen;
    tcr_status status = tcr_allocator_choose(allocator, &chosen);
    if (status != TCR_OK || out == NULL)
        return TCR_E_ARGUMENT;
    tcr_set *set = tcr_resize(&chosen, NULL, 1, sizeof *set);
    if (set == NULL)
        return TCR_E_MEMORY;
    *set = (tcr_set){
        .allocator = chosen,
        .layering = tcr_layering_default(),
        .tray = tcr_tray_default(),
        .bond = tcr_bond_default(),
        .view = tcr_view_named(TCR_OPEN_FRONT),
        .tolerance_mm = tcr_fields(TCR_GROUP_LINE, NULL)->core.standard,
        .mean_lash = tcr_lash_default(0.5, TCR_BOTTOM),
    };
    size_t count;
    const tcr_curl *catalogue = tcr_curl_catalogue(&count);
    for (size_t i = 0; status == TCR_OK && i < count; i++)
        status = tcr_set_add_curl(set, &catalogue[i]);
    if (status != TCR_OK) {
        tcr_set_free(set);
        return status;
    }
    *out = set;
    return TCR_OK;
}

tcr_status tcr_set_title(tcr_set *set, const char *title) {
    if (set == NULL || title == NULL)
        return TCR_E_ARGUMENT;
    const size_t bytes = strnlen(title, TCR_TITLE_SIZE_MAX);
    if (bytes >= TCR_TITLE_SIZE_MAX || !tcr_utf8_valid(title))
        return TCR_E_ARGUMENT;
    char *copy = tcr_resize(&set->allocator, NULL, bytes + 1, 1);
    if (copy == NULL)
        return TCR_E_MEMORY;
    memcpy(copy, title, bytes + 1);
    tcr_release(&set->allocator, set->title);
    set->title = copy;
    return TCR_OK;
}

tcr_status tcr_set_subject(tcr_set *set, tcr_subject subject) {
    if (set == NULL || (int)subject < 0 || (int)subject > TCR_PRACTICE_HEAD)
        return TCR_E_ARGUMENT;
    set->subject = subject;
    return TCR_OK;
}

/* A copy of a curl with all it points to; NULL without memory. */
static tcr_set_curl *copy_curl(const tcr_allocator *allocator, const tcr_curl *curl) {
    tcr_set_curl *copy = tcr_resize(allocator, NULL, 1, sizeof *copy);
    if (copy == NULL)
        return NULL;
    *copy = (tcr_set_curl){0};
    copy->profiles = tcr_resize(allocator, NULL, curl->count, sizeof *copy->profiles);
    if (curl->length_mm != NULL)
        copy->length_mm = tcr_resize(allocator, NULL, curl->count, sizeof *copy->length_mm);
    if (copy->profiles == NULL || (curl->length_mm != NULL && copy->length_mm == NULL)) {
        free_curl(allocator, copy);
        return NULL;
    }
    memcpy(copy->profiles, curl->profiles, curl->count * sizeof *copy->profiles);
    if (curl->length_mm != NULL)
        memcpy(copy->length_mm, curl->length_mm, curl->count * sizeof *copy->length_mm);
    memcpy(copy->label, curl->label, strlen(curl->label) + 1);
    copy->curl = (tcr_curl){copy->label, curl->count, copy->length_mm, copy->profiles};
    return copy;
}

tcr_status tcr_set_add_curl(tcr_set *set, const tcr_curl *curl) {
    const tcr_status status = tcr_curl_check(curl, NULL);
    if (status != TCR_OK || set == NULL)
        return set == NULL ? TCR_E_ARGUMENT : status;
    if (!tcr_utf8_valid(curl->label))
        return TCR_E_ARGUMENT;
    size_t index = set->curl_count;
    const bool replaces = tcr_set_find_curl(set, curl->label, &index) == TCR_OK;
    if (!replaces && tcr_grow(&set->allocator, (void **)&set->curls, set->curl_count,
                              &set->curl_capacity, sizeof(tcr_set_curl *)) != TCR_OK)
        return TCR_E_MEMORY;
    tcr_set_curl *copy = copy_curl(&set->allocator, curl);
    if (copy == NULL)
        return TCR_E_MEMORY;
    if (replaces)
        free_curl(&set->allocator, set->curls[index]);
    else
        set->curl_count++;
    set->curls[index] = copy;
    return TCR_OK;
}

tcr_status tcr_set_layering(tcr_set *set, const tcr_layering *layering) {
    const tcr_status status = tcr_layering_check(layering, NULL);
    if (set == NULL || status != TCR_OK)
        return set == NULL ? TCR_E_ARGUMENT : status;
    set->layering = *layering;
    return TCR_OK;
}

tcr_status tcr_set_tray(tcr_set *set, const tcr_tray *tray) {
    const tcr_status status = tcr_tray_check(tray, NULL);
    if (set == NULL || status != TCR_OK)
        return set == NULL ? TCR_E_ARGUMENT : status;
    set->tray = *tray;
    return TCR_OK;
}

tcr_status tcr_set_bond(tcr_set *set, const tcr_bond *bond) {
    const tcr_status status = tcr_bond_check(bond, NULL);
    if (set == NULL || status != TCR_OK)
        return set == NULL ? TCR_E_ARGUMENT : status;
    set->bond = *bond;
    return TCR_OK;
}

tcr_status tcr_set_view(tcr_set *set, const tcr_view *view) {
    const tcr_status status = tcr_view_check(view, NULL);
    if (set == NULL || status != TCR_OK)
        return set == NULL ? TCR_E_ARGUMENT : status;
    set->view = *view;
    return TCR_OK;
}

tcr_status tcr_set_tolerance(tcr_set *set, double tolerance_mm) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_fields_check(TCR_GROUP_LINE, &tolerance_mm, NULL);
    if (status != TCR_OK)
        return status;
    set->tolerance_mm = tolerance_mm;
    return TCR_OK;
}

tcr_status tcr_set_mean_lash(tcr_set *set, const tcr_lash *mean) {
    const tcr_status status = tcr_lash_check(mean, NULL);
    if (set == NULL || status != TCR_OK)
        return set == NULL ? TCR_E_ARGUMENT : status;
    set->mean_lash = *mean;
    return TCR_OK;
}

tcr_status tcr_set_add_eye(tcr_set *set, tcr_side side, const tcr_lid *lid) {
    if (set == NULL || (int)side < 0 || (int)side >= TCR_SIDES)
        return TCR_E_ARGUMENT;
    if (set->eye[side].present)
        return TCR_E_DUPLICATE;
    const tcr_lid chosen = lid != NULL ? *lid : tcr_lid_default();
    const tcr_status status = tcr_lid_check(&chosen, NULL);
    if (status != TCR_OK)
        return status;
    if (tcr_set_get_eyes(set, NULL) == 0)
        set->first = side;
    set->eye[side].present = true;
    set->eye[side].lid = chosen;
    return TCR_OK;
}

/* A wish: known curl, numbers within the ranges of an extension. */
static tcr_status check_wish(const tcr_set *set, const tcr_wish *wish) {
    size_t index;
    if (wish->fixed & ~(unsigned)TCR_FIX_ALL)
        return TCR_E_ARGUMENT;
    if ((wish->fixed & TCR_FIX_CURL) && tcr_set_find_curl(set, wish->curl, &index) != TCR_OK)
        return TCR_E_CURL;
    return tcr_fields_check(TCR_GROUP_WISH, wish, NULL);
}

static tcr_status check_zone(const tcr_set *set, const tcr_zone *zone, double from) {
    size_t index;
    if (!tcr_within(zone->to, 0.0, 1.0) || !(zone->to > from))
        return TCR_E_MAP;
    const tcr_status fits = tcr_fields_check(TCR_GROUP_ZONE, zone, NULL);
    if (fits != TCR_OK)
        return fits;
    if (tcr_set_find_curl(set, zone->curl, &index) != TCR_OK)
        return TCR_E_CURL;
    if (!tcr_tray_has(&set->tray, zone->length_mm))
        return TCR_E_TRAY;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_wish *wish = &zone->layer[layer];
        const tcr_status status = check_wish(set, wish);
        if (status != TCR_OK)
            return status;
        if ((wish->fixed & TCR_FIX_LENGTH) && !tcr_tray_has(&set->tray, wish->length_mm))
            return TCR_E_TRAY;
    }
    return TCR_OK;
}

/* Puts a checked copy of the zones in place of a map. */
static tcr_status put_map(const tcr_set *set, const tcr_zone *zones, size_t count,
                          tcr_set_map_zones *map) {
    double from = 0.0;
    for (size_t i = 0; i < count; i++) {
        const tcr_status status = check_zone(set, &zones[i], from);
        if (status != TCR_OK)
            return status;
        from = zones[i].to;
    }
    if (from != 1.0)
        return TCR_E_MAP;
    tcr_zone *copy = tcr_resize(&set->allocator, NULL, count, sizeof *copy);
    if (copy == NULL)
        return TCR_E_MEMORY;
    memcpy(copy, zones, count * sizeof *copy);
    tcr_release(&set->allocator, map->zone);
    *map = (tcr_set_map_zones){copy, count};
    return TCR_OK;
}

tcr_status tcr_set_map(tcr_set *set, tcr_side side, const tcr_zone *zones, size_t count) {
    if (set == NULL || zones == NULL || count < 1 || count > TCR_ZONES_MAX)
        return TCR_E_ARGUMENT;
    if (tcr_set_eye_of(set, side) == NULL)
        return TCR_E_MISSING;
    return put_map(set, zones, count, &set->eye[side].map);
}

tcr_status tcr_set_intend(tcr_set *set, tcr_side side, const tcr_zone *zones, size_t count) {
    if (set == NULL || zones == NULL || count < 1 || count > TCR_ZONES_MAX)
        return TCR_E_ARGUMENT;
    if (tcr_set_eye_of(set, side) == NULL)
        return TCR_E_MISSING;
    return put_map(set, zones, count, &set->eye[side].intended);
}

/* Room for an id of bytes and its NUL in the eye's text. */
static tcr_status grow_text(const tcr_allocator *allocator, tcr_set_eye *eye, size_t bytes) {
    if (bytes < eye->text_capacity - eye->text_size)
        return TCR_OK;
    const size_t more = eye->text_capacity + eye->text_capacity / 2 + bytes + 256;
    char *text = tcr_resize(allocator, eye->text, more, 1);
    if (text == NULL)
        return TCR_E_MEMORY;
    eye->text = text;
    eye->text_capacity = more;
    return TCR_OK;
}

tcr_status tcr_set_add_lash(tcr_set *set, tcr_side side, const char *id, const tcr_lash *lash,
                            const tcr_wish *wish) {
    if (tcr_set_eye_of(set, side) == NULL)
        return set == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    const size_t bytes = id != NULL ? strnlen(id, TCR_ID_SIZE_MAX) : 0;
    if (bytes < 1 || bytes >= TCR_ID_SIZE_MAX || !tcr_utf8_valid(id))
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_lash_check(lash, NULL);
    if (status == TCR_OK && wish != NULL)
        status = check_wish(set, wish);
    if (status != TCR_OK)
        return status;
    tcr_set_eye *eye = &set->eye[side];
    if (eye->count >= TCR_LASHES_MAX)
        return TCR_E_ARGUMENT;
    if (tcr_grow(&set->allocator, (void **)&eye->lashes, eye->count, &eye->capacity,
                 sizeof *eye->lashes) != TCR_OK ||
        grow_text(&set->allocator, eye, bytes) != TCR_OK)
        return TCR_E_MEMORY;
    memcpy(eye->text + eye->text_size, id, bytes + 1);
    eye->lashes[eye->count++] =
        (tcr_set_lash){*lash, wish != NULL ? *wish : (tcr_wish){0}, eye->text_size};
    eye->text_size += bytes + 1;
    return TCR_OK;
}

/* "l001", "l002", ...: l and the number of the lash from 1, at least three digits. */
static void number_id(size_t number, char id[16]) {
    char digits[12];
    int n = 0;
    do {
        digits[n++] = (char)('0' + number % 10);
        number /= 10;
    } while (number > 0);
    while (n < 3)
        digits[n++] = '0';
    char *at = id;
    *at++ = 'l';
    while (n > 0)
        *at++ = digits[--n];
    *at = '\0';
}

tcr_status tcr_set_describe(tcr_set *set, tcr_side side, const tcr_description *description) {
    const tcr_status valid = tcr_description_check(description, NULL);
    if (set == NULL || valid != TCR_OK)
        return set == NULL ? TCR_E_ARGUMENT : valid;
    if (tcr_set_eye_of(set, side) == NULL)
        return TCR_E_MISSING;
    tcr_set_eye *eye = &set->eye[side];
    const size_t count = eye->count, text_size = eye->text_size;
    tcr_status status = TCR_OK;
    for (size_t k = 0; status == TCR_OK && k < description->count; k++) {
        tcr_lash lash;
        char id[16];
        number_id(count + k + 1, id);
        status = tcr_describe_lash(description, (uint32_t)side, (uint32_t)k, &lash);
        if (status == TCR_OK)
            status = tcr_set_add_lash(set, side, id, &lash, NULL);
    }
    if (status == TCR_OK) {
        eye->drawn += description->count;
    } else {
        eye->count = count;
        eye->text_size = text_size;
    }
    return status;
}

tcr_status tcr_set_mark_drawn(tcr_set *set, tcr_side side, size_t count) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    if (tcr_set_eye_of(set, side) == NULL)
        return TCR_E_MISSING;
    if (count > set->eye[side].count)
        return TCR_E_RANGE;
    set->eye[side].drawn = count;
    return TCR_OK;
}
