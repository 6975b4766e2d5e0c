/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The eyes of a set: lids, maps and lashes, added, replaced and taken out. Each call checks what it
 * is given, makes all the room it needs, and only then changes the set. What it is given may be the
 * set's own.
 */
#include <tipcrest/set.h>

#include <math.h>
#include <string.h>
#include <tipcrest/field.h>

#include "model/set_data.h"
#include "model/valid.h"
#include "num/error.h"
#include "num/memory.h"
#include "num/number.h"
#include "num/range.h"
#include "num/utf8.h"

/* The eye of a side, to be changed; NULL and the status where there is none. */
static tcr_stored_eye *eye_to_change(tcr_set *set, tcr_side side, tcr_status *status) {
    const bool found = tcr_set_eye_of(set, side) != NULL;
    *status = found ? TCR_OK : set == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    return found ? &set->eye[side] : NULL;
}

static tcr_status do_add_eye(tcr_set *set, tcr_side side, const tcr_lid *lid) {
    if (set == NULL || (int)side < 0 || (int)side >= TCR_SIDES)
        return TCR_E_ARGUMENT;
    if (set->eye[side].present)
        return TCR_E_DUPLICATE;
    unsigned assumed;
    const tcr_lid chosen = tcr_lid_complete(lid, &assumed);
    const tcr_status status = tcr_lid_validate(&chosen, &set->error);
    if (status != TCR_OK)
        return status;
    if (tcr_set_eyes(set, NULL) == 0)
        set->first = side;
    set->eye[side].present = true;
    set->eye[side].lid = chosen;
    set->eye[side].lid_assumed = assumed;
    return TCR_OK;
}

static tcr_status do_remove_eye(tcr_set *set, tcr_side side) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    if (eye == NULL)
        return status;
    tcr_set_eye_free(&set->allocator, eye);
    *eye = (tcr_stored_eye){0};
    set->first = side == TCR_LEFT ? TCR_RIGHT : TCR_LEFT;
    return TCR_OK;
}

static tcr_status do_replace_lid(tcr_set *set, tcr_side side, const tcr_lid *lid) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    if (eye == NULL)
        return status;
    if (lid == NULL)
        return TCR_E_ARGUMENT;
    unsigned assumed;
    const tcr_lid chosen = tcr_lid_complete(lid, &assumed);
    status = tcr_lid_validate(&chosen, &set->error);
    if (status == TCR_OK) {
        eye->lid = chosen;
        eye->lid_assumed = assumed;
    }
    return status;
}

/* Whether a member that is not fixed says nothing. */
static bool says_no_more(const tcr_wish *wish) {
    const unsigned fixed = wish->fixed;
    return ((fixed & TCR_FIX_LENGTH) || wish->length_mm == 0.0) &&
           ((fixed & TCR_FIX_CURL) || wish->curl[0] == '\0') &&
           ((fixed & TCR_FIX_DIAMETER) || wish->diameter_mm == 0.0) &&
           ((fixed & TCR_FIX_FAN) || wish->fan == 0) &&
           ((fixed & TCR_FIX_SPREAD) || wish->spread_rad == 0.0) &&
           ((fixed & TCR_FIX_PLACEMENT) || wish->placement == TCR_ON_TOP) &&
           ((fixed & TCR_FIX_FROM_SKIN) || wish->from_skin_mm == 0.0);
}

/* The set lacks a curl that a map or a row names. */
static tcr_status refuse_curl(const char *label, tcr_error *error) {
    tcr_error_set(error, TCR_E_CURL, "curl is \"%.*s\", which the set lacks", TCR_LABEL_SIZE - 1,
                  label);
    tcr_error_number(error, "curl", NAN, NAN, NAN);
    return TCR_E_CURL;
}

static tcr_status refuse_length(double length_mm, tcr_error *error) {
    char found[TCR_NUMBER_SIZE];
    tcr_number_text(length_mm, found);
    tcr_error_set(error, TCR_E_TRAY, "length_mm is %s, which the tray lacks", found);
    tcr_error_number(error, "length_mm", length_mm, NAN, NAN);
    return TCR_E_TRAY;
}

/* Where a zone ends: after the one before it, the last at 1. */
static tcr_status refuse_end(double to, double from, bool last, tcr_error *error) {
    char found[TCR_NUMBER_SIZE], before[TCR_NUMBER_SIZE];
    tcr_number_text(to, found);
    tcr_number_text(from, before);
    if (last)
        tcr_error_set(error, TCR_E_MAP, "to is %s; the last zone of a map ends at 1", found);
    else
        tcr_error_set(error, TCR_E_MAP,
                      "to is %s, but must be above %s, where the zone begins, and up to 1", found,
                      before);
    tcr_error_number(error, "to", to, last ? 1.0 : from, 1.0);
    return TCR_E_MAP;
}

/* A wish: known curl, numbers within the ranges of an extension. */
static tcr_status check_wish(const tcr_set *set, const tcr_wish *wish, tcr_error *error) {
    size_t index;
    if ((wish->fixed & ~(unsigned)TCR_FIX_ALL) || !says_no_more(wish))
        return TCR_E_ARGUMENT;
    if ((wish->fixed & TCR_FIX_CURL) && tcr_set_find_curl(set, wish->curl, &index) != TCR_OK)
        return refuse_curl(wish->curl, error);
    return tcr_fields_validate(TCR_GROUP_WISH, wish, error);
}

static tcr_status check_zone(const tcr_set *set, const tcr_zone *zone, double from,
                             tcr_error *error) {
    size_t index;
    if (!tcr_within(zone->to, 0.0, 1.0) || !(zone->to > from))
        return refuse_end(zone->to, from, false, error);
    const tcr_status fits = tcr_fields_validate(TCR_GROUP_ZONE, zone, error);
    if (fits != TCR_OK)
        return fits;
    if (tcr_set_find_curl(set, zone->curl, &index) != TCR_OK)
        return refuse_curl(zone->curl, error);
    if (!tcr_tray_has(&set->tray, zone->length_mm))
        return refuse_length(zone->length_mm, error);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_wish *wish = &zone->layer[layer];
        tcr_status status = check_wish(set, wish, error);
        if (status == TCR_OK && (wish->fixed & TCR_FIX_FROM_SKIN))
            status = TCR_E_ARGUMENT;
        if (status == TCR_OK && (wish->fixed & TCR_FIX_LENGTH) &&
            !tcr_tray_has(&set->tray, wish->length_mm))
            status = refuse_length(wish->length_mm, error);
        if (status != TCR_OK) {
            error->layer = layer;
            return status;
        }
    }
    return TCR_OK;
}

/* Puts a checked copy of the zones in place of a map. */
static tcr_status put_map(tcr_set *set, const tcr_zone *zones, size_t count,
                          tcr_set_map_zones *map) {
    double from = 0.0;
    for (size_t i = 0; i < count; i++) {
        const tcr_status status = check_zone(set, &zones[i], from, &set->error);
        if (status != TCR_OK) {
            set->error.zone = i;
            return status;
        }
        from = zones[i].to;
    }
    if (from != 1.0) {
        (void)refuse_end(from, NAN, true, &set->error);
        set->error.zone = count - 1;
        return TCR_E_MAP;
    }
    tcr_zone *copy = tcr_resize(&set->allocator, NULL, count, sizeof *copy);
    if (copy == NULL)
        return TCR_E_MEMORY;
    memcpy(copy, zones, count * sizeof *copy);
    tcr_release(&set->allocator, map->zone);
    *map = (tcr_set_map_zones){copy, count};
    return TCR_OK;
}

static tcr_status do_map(tcr_set *set, tcr_side side, const tcr_zone *zones, size_t count) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    if (set == NULL || zones == NULL || count < 1 || count > TCR_ZONES_MAX)
        return TCR_E_ARGUMENT;
    return eye != NULL ? put_map(set, zones, count, &eye->map) : status;
}

static tcr_status do_intend(tcr_set *set, tcr_side side, const tcr_zone *zones, size_t count) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    if (set == NULL || (zones == NULL) != (count == 0) || count > TCR_ZONES_MAX)
        return TCR_E_ARGUMENT;
    if (eye == NULL || count > 0)
        return eye != NULL ? put_map(set, zones, count, &eye->intended) : status;
    tcr_release(&set->allocator, eye->intended.zone);
    eye->intended = (tcr_set_map_zones){0};
    return TCR_OK;
}

/* What a lash is without what it fixes for itself, which stays valid. */
static tcr_status take_shape(tcr_set *set, const tcr_lash *lash, tcr_stored_lash *taken) {
    taken->lash = tcr_lash_complete(lash, &taken->assumed);
    return tcr_lash_validate(&taken->lash, &set->error);
}

/* A lash and what it wears, both valid, as the set keeps them. */
static tcr_status take_lash(tcr_set *set, const tcr_lash *lash, const tcr_wish *wish,
                            tcr_stored_lash *taken) {
    if (lash == NULL)
        return TCR_E_ARGUMENT;
    tcr_stored_lash own = {.wish = wish != NULL ? *wish : (tcr_wish){0}};
    tcr_status status = take_shape(set, lash, &own);
    if (status == TCR_OK)
        status = check_wish(set, &own.wish, &set->error);
    if (status == TCR_OK)
        *taken = own;
    return status;
}

/* The bytes of an id; 0 where it is none. */
static size_t id_size(const char *id) {
    const size_t bytes = id != NULL ? strnlen(id, TCR_ID_SIZE_MAX) : 0;
    return bytes < TCR_ID_SIZE_MAX && bytes > 0 && tcr_utf8_valid(id) ? bytes : 0;
}

/* A block with the same items and room for more of them; NULL without memory. */
static void *roomier(const tcr_allocator *allocator, const void *items, size_t n, size_t more,
                     size_t size) {
    void *block = tcr_resize(allocator, NULL, more, size);
    if (block != NULL && n > 0)
        memcpy(block, items, n * size);
    return block;
}

/*
 * Room for n lashes more, and for bytes of their ids with each one's NUL. The blocks that an eye
 * has outgrown go to *outgrown, to be freed when the lashes are in: ids, lash and wish may lie in
 * them.
 */
static tcr_status make_room(const tcr_allocator *allocator, tcr_stored_eye *eye, size_t n,
                            size_t bytes, tcr_stored_eye *outgrown) {
    tcr_stored_eye grown = *eye, left = {0};
    *outgrown = left;
    if (n > eye->capacity - eye->count) {
        grown.capacity = eye->count + eye->count / 2 + n + 8;
        grown.lashes =
            roomier(allocator, eye->lashes, eye->count, grown.capacity, sizeof *eye->lashes);
        left.lashes = eye->lashes;
    }
    if (bytes > eye->text_capacity - eye->text_size) {
        grown.text_capacity = eye->text_size + eye->text_size / 2 + bytes + 256;
        grown.text = roomier(allocator, eye->text, eye->text_size, grown.text_capacity, 1);
        left.text = eye->text;
    }
    if (grown.lashes != NULL && grown.text != NULL) {
        *eye = grown;
        *outgrown = left;
        return TCR_OK;
    }
    tcr_release(allocator, grown.lashes != eye->lashes ? grown.lashes : NULL);
    tcr_release(allocator, grown.text != eye->text ? grown.text : NULL);
    return TCR_E_MEMORY;
}

/* Appends a lash, for which there is room. */
static void append(tcr_stored_eye *eye, const tcr_stored_lash *lash, const char *id, size_t bytes) {
    memcpy(eye->text + eye->text_size, id, bytes);
    eye->text[eye->text_size + bytes] = '\0';
    eye->lashes[eye->count] = *lash;
    eye->lashes[eye->count++].id_at = eye->text_size;
    eye->text_size += bytes + 1;
}

/* "n001", "n002", ...: n and the number of the lash from 1, at least three digits. */
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
    *at++ = 'n';
    while (n > 0)
        *at++ = digits[--n];
    *at = '\0';
}

/* Where many lashes come from: columns, or a description. */
typedef struct source {
    const char *const *id; /* NULL: numbered */
    const tcr_lash *lash;
    const tcr_wish *wish;               /* NULL: none */
    const tcr_description *description; /* in place of the columns */
} source;

static tcr_status take_from(tcr_set *set, tcr_side side, const source *from, size_t k,
                            tcr_stored_lash *taken) {
    if (from->description == NULL)
        return take_lash(set, &from->lash[k], from->wish != NULL ? &from->wish[k] : NULL, taken);
    *taken = (tcr_stored_lash){0};
    return tcr_describe_lash(from->description, (uint32_t)side, (uint32_t)k, &taken->lash);
}

/* The id of lash k of n; number has room for one that is made. */
static const char *id_from(const source *from, size_t count, size_t k, char number[16]) {
    if (from->id != NULL)
        return from->id[k];
    number_id(count + k + 1, number);
    return number;
}

/* The bytes of n ids, with each one's NUL; 0 where one of them is none. */
static size_t ids_size(const source *from, size_t count, size_t n) {
    size_t sum = 0;
    for (size_t k = 0; k < n; k++) {
        char number[16];
        const size_t bytes = id_size(id_from(from, count, k, number));
        if (bytes == 0)
            return 0;
        sum += bytes + 1;
    }
    return sum;
}

/* Adds n lashes, or none. */
static tcr_status add_many(tcr_set *set, tcr_stored_eye *eye, tcr_side side, const source *from,
                           size_t n) {
    const size_t count = eye->count, text_size = eye->text_size;
    if (n > TCR_LASHES_MAX - count)
        return TCR_E_ARGUMENT;
    const size_t bytes = ids_size(from, count, n);
    tcr_stored_eye outgrown;
    if (n == 0 || bytes == 0)
        return n == 0 ? TCR_OK : TCR_E_ARGUMENT;
    const bool first = count == 0;
    tcr_status status = make_room(&set->allocator, eye, n, bytes, &outgrown);
    for (size_t k = 0; k < n && status == TCR_OK; k++) {
        char number[16];
        const char *id = id_from(from, count, k, number);
        tcr_stored_lash taken;
        status = take_from(set, side, from, k, &taken);
        if (status == TCR_OK)
            append(eye, &taken, id, strlen(id));
        else
            set->error.lash = count + k;
    }
    if (status != TCR_OK) {
        eye->count = count;
        eye->text_size = text_size;
    } else {
        eye->described = first && from->description != NULL;
        if (eye->described)
            eye->description = *from->description;
    }
    tcr_set_eye_free(&set->allocator, &outgrown);
    return status;
}

static tcr_status do_add_lash(tcr_set *set, tcr_side side, const char *id, const tcr_lash *lash,
                              const tcr_wish *wish) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    if (eye == NULL || id == NULL || lash == NULL)
        return eye == NULL ? status : TCR_E_ARGUMENT;
    return add_many(set, eye, side, &(source){&id, lash, wish, NULL}, 1);
}

static tcr_status do_add_lashes(tcr_set *set, tcr_side side, size_t n, const char *const *ids,
                                const tcr_lash *lashes, const tcr_wish *wishes) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    if (eye == NULL)
        return status;
    if (lashes == NULL && n > 0)
        return TCR_E_ARGUMENT;
    return add_many(set, eye, side, &(source){ids, lashes, wishes, NULL}, n);
}

static tcr_status do_describe(tcr_set *set, tcr_side side, const tcr_description *description) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    const tcr_status valid =
        tcr_description_validate(description, set != NULL ? &set->error : NULL);
    if (set == NULL || valid != TCR_OK)
        return set == NULL ? TCR_E_ARGUMENT : valid;
    if (eye == NULL)
        return status;
    status = add_many(set, eye, side, &(source){.description = description}, description->count);
    if (status == TCR_OK)
        eye->drawn += description->count;
    return status;
}

/* A lash to be changed; NULL and the status where there is none. */
static tcr_stored_lash *lash_to_change(tcr_set *set, tcr_side side, size_t i, tcr_status *status) {
    tcr_stored_eye *eye = eye_to_change(set, side, status);
    if (eye != NULL && i >= eye->count)
        *status = TCR_E_MISSING;
    if (*status != TCR_OK)
        return NULL;
    return &eye->lashes[i];
}

static tcr_status do_replace_lash(tcr_set *set, tcr_side side, size_t i, const tcr_lash *lash) {
    tcr_status status;
    tcr_stored_lash *one = lash_to_change(set, side, i, &status);
    if (one == NULL)
        return status;
    tcr_stored_lash taken;
    status = take_lash(set, lash, &one->wish, &taken);
    if (status != TCR_OK)
        set->error.lash = i;
    if (status == TCR_OK) {
        one->lash = taken.lash;
        one->assumed = taken.assumed;
        set->eye[side].described = false;
    }
    return status;
}

static tcr_status do_replace_lashes(tcr_set *set, tcr_side side, size_t n, const tcr_lash *lashes) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    tcr_stored_lash tried;
    if (eye == NULL)
        return status;
    if (n != eye->count || (lashes == NULL && n > 0))
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < n; i++) {
        /* Valid ones know every number, and a study has many of them. */
        status = tcr_lash_is_valid(&lashes[i]) ? TCR_OK : take_shape(set, &lashes[i], &tried);
        if (status != TCR_OK) {
            set->error.lash = i;
            return status;
        }
    }
    for (size_t i = 0; i < n; i++)
        eye->lashes[i].lash = tcr_lash_complete(&lashes[i], &eye->lashes[i].assumed);
    eye->described = eye->described && n == 0;
    return TCR_OK;
}

static tcr_status do_replace_wish(tcr_set *set, tcr_side side, size_t i, const tcr_wish *wish) {
    tcr_status status;
    tcr_stored_lash *one = lash_to_change(set, side, i, &status);
    if (one == NULL)
        return status;
    status = wish != NULL ? check_wish(set, wish, &set->error) : TCR_OK;
    if (status != TCR_OK)
        set->error.lash = i;
    if (status == TCR_OK)
        one->wish = wish != NULL ? *wish : (tcr_wish){0};
    return status;
}

static tcr_status do_remove_lashes(tcr_set *set, tcr_side side) {
    tcr_status status;
    tcr_stored_eye *eye = eye_to_change(set, side, &status);
    if (eye == NULL)
        return status;
    eye->count = eye->drawn = eye->text_size = 0;
    eye->described = false;
    return TCR_OK;
}

static tcr_status do_mark_drawn(tcr_set *set, tcr_side side, size_t count) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    if (tcr_set_eye_of(set, side) == NULL)
        return TCR_E_MISSING;
    if (count > set->eye[side].count)
        return TCR_E_RANGE;
    set->eye[side].drawn = count;
    return TCR_OK;
}

/* ---- The calls, each of which keeps why it failed -------------------------------------------- */

tcr_status tcr_set_add_eye(tcr_set *set, tcr_side side, const tcr_lid *lid) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_add_eye(set, side, lid), (int)side);
}

tcr_status tcr_set_remove_eye(tcr_set *set, tcr_side side) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_remove_eye(set, side), (int)side);
}

tcr_status tcr_set_replace_lid(tcr_set *set, tcr_side side, const tcr_lid *lid) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_replace_lid(set, side, lid), (int)side);
}

tcr_status tcr_set_put_map(tcr_set *set, tcr_side side, const tcr_zone *zones, size_t count) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_map(set, side, zones, count), (int)side);
}

tcr_status tcr_set_put_intended(tcr_set *set, tcr_side side, const tcr_zone *zones, size_t count) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_intend(set, side, zones, count), (int)side);
}

tcr_status tcr_set_add_lash(tcr_set *set, tcr_side side, const char *id, const tcr_lash *lash,
                            const tcr_wish *wish) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_add_lash(set, side, id, lash, wish), (int)side);
}

tcr_status tcr_set_add_lashes(tcr_set *set, tcr_side side, size_t n, const char *const *ids,
                              const tcr_lash *lashes, const tcr_wish *wishes) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_add_lashes(set, side, n, ids, lashes, wishes), (int)side);
}

tcr_status tcr_set_describe(tcr_set *set, tcr_side side, const tcr_description *description) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_describe(set, side, description), (int)side);
}

tcr_status tcr_set_replace_lash(tcr_set *set, tcr_side side, size_t i, const tcr_lash *lash) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_replace_lash(set, side, i, lash), (int)side);
}

tcr_status tcr_set_replace_lashes(tcr_set *set, tcr_side side, size_t n, const tcr_lash *lashes) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_replace_lashes(set, side, n, lashes), (int)side);
}

tcr_status tcr_set_replace_wish(tcr_set *set, tcr_side side, size_t i, const tcr_wish *wish) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_replace_wish(set, side, i, wish), (int)side);
}

tcr_status tcr_set_remove_lashes(tcr_set *set, tcr_side side) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_remove_lashes(set, side), (int)side);
}

tcr_status tcr_set_mark_drawn(tcr_set *set, tcr_side side, size_t count) {
    (void)tcr_set_begin(set);
    return tcr_set_end(set, do_mark_drawn(set, side, count), (int)side);
}
