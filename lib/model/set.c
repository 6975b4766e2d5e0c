/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What holds for a whole set, and its beginning and end. Each call checks what it is given, makes
 * all the room it needs, and only then changes the set. Eyes are in set_eye.c, copies in
 * set_copy.c, what a set holds is read in set_get.c, and what a lash wears in choice.c.
 */
#include <tipcrest/set.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <tipcrest/field.h>

#include "model/set_data.h"
#include "num/error.h"
#include "num/memory.h"
#include "num/range.h"
#include "num/utf8.h"

void tcr_set_curl_free(const tcr_allocator *allocator, tcr_stored_curl *curl) {
    if (curl == NULL)
        return;
    tcr_release(allocator, curl->length_mm);
    tcr_release(allocator, curl->profiles);
    tcr_release(allocator, curl);
}

void tcr_set_eye_free(const tcr_allocator *allocator, tcr_stored_eye *eye) {
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
        tcr_set_curl_free(&allocator, set->curls[i]);
    tcr_release(&allocator, set->curls);
    tcr_release(&allocator, set->title);
    for (int side = 0; side < TCR_SIDES; side++)
        tcr_set_eye_free(&allocator, &set->eye[side]);
    tcr_release(&allocator, set);
}

tcr_status tcr_set_new(const tcr_allocator *allocator, tcr_set **out) {
    tcr_allocator chosen;
    if (tcr_allocator_choose(allocator, &chosen) != TCR_OK || out == NULL)
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
        .line = tcr_line_rule_default(),
        .mean_lash = tcr_lash_unknown(0.5, TCR_BOTTOM),
    };
    size_t count;
    const tcr_curl *catalogue = tcr_curl_catalogue(&count);
    tcr_status status = TCR_OK;
    for (size_t i = 0; status == TCR_OK && i < count; i++)
        status = tcr_set_add_curl(set, &catalogue[i]);
    if (status != TCR_OK) {
        tcr_set_free(set);
        return status;
    }
    *out = set;
    return TCR_OK;
}

tcr_error *tcr_set_begin(tcr_set *set) {
    if (set == NULL)
        return NULL;
    tcr_error_clear(&set->error);
    return &set->error;
}

tcr_status tcr_set_end(tcr_set *set, tcr_status status, int side) {
    if (set == NULL)
        return status;
    if (status == TCR_OK) {
        set->changes++;
        return TCR_OK;
    }
    tcr_error *e = &set->error;
    const size_t lash = e->lash, zone = e->zone;
    const int layer = e->layer;
    if (e->status != status)
        tcr_error_status(e, status);
    e->side = side >= 0 && side < TCR_SIDES ? side : -1;
    e->lash = lash;
    e->zone = zone;
    e->layer = layer;
    return status;
}

const tcr_error *tcr_set_error(const tcr_set *set) { return set != NULL ? &set->error : NULL; }

static tcr_status put_title(tcr_set *set, const char *title) {
    if (title == NULL)
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

tcr_status tcr_set_put_title(tcr_set *set, const char *title) {
    (void)tcr_set_begin(set);
    return set != NULL ? tcr_set_end(set, put_title(set, title), -1) : TCR_E_ARGUMENT;
}

tcr_status tcr_set_put_subject(tcr_set *set, tcr_subject subject) {
    (void)tcr_set_begin(set);
    if (set == NULL || (int)subject < 0 || (int)subject > TCR_PRACTICE_HEAD)
        return tcr_set_end(set, TCR_E_ARGUMENT, -1);
    set->subject = subject;
    return tcr_set_end(set, TCR_OK, -1);
}

tcr_stored_curl *tcr_set_curl_copy(const tcr_allocator *allocator, const tcr_curl *curl) {
    tcr_stored_curl *copy = tcr_resize(allocator, NULL, 1, sizeof *copy);
    if (copy == NULL)
        return NULL;
    *copy = (tcr_stored_curl){0};
    copy->profiles = tcr_resize(allocator, NULL, curl->count, sizeof *copy->profiles);
    if (curl->length_mm != NULL)
        copy->length_mm = tcr_resize(allocator, NULL, curl->count, sizeof *copy->length_mm);
    if (copy->profiles == NULL || (curl->length_mm != NULL && copy->length_mm == NULL)) {
        tcr_set_curl_free(allocator, copy);
        return NULL;
    }
    memcpy(copy->profiles, curl->profiles, curl->count * sizeof *copy->profiles);
    if (curl->length_mm != NULL)
        memcpy(copy->length_mm, curl->length_mm, curl->count * sizeof *copy->length_mm);
    memcpy(copy->label, curl->label, strlen(curl->label) + 1);
    copy->curl = (tcr_curl){copy->label, curl->count, copy->length_mm, copy->profiles};
    return copy;
}

static tcr_status add_curl(tcr_set *set, const tcr_curl *curl) {
    const tcr_status status = tcr_curl_validate(curl, &set->error);
    if (status != TCR_OK)
        return status;
    if (!tcr_utf8_valid(curl->label))
        return TCR_E_ARGUMENT;
    size_t index = set->curl_count;
    const bool replaces = tcr_set_find_curl(set, curl->label, &index) == TCR_OK;
    if (!replaces && tcr_grow(&set->allocator, (void **)&set->curls, set->curl_count,
                              &set->curl_capacity, sizeof(tcr_stored_curl *)) != TCR_OK)
        return TCR_E_MEMORY;
    tcr_stored_curl *copy = tcr_set_curl_copy(&set->allocator, curl);
    if (copy == NULL)
        return TCR_E_MEMORY;
    if (replaces)
        tcr_set_curl_free(&set->allocator, set->curls[index]);
    else
        set->curl_count++;
    set->curls[index] = copy;
    return TCR_OK;
}

tcr_status tcr_set_add_curl(tcr_set *set, const tcr_curl *curl) {
    (void)tcr_set_begin(set);
    return set != NULL ? tcr_set_end(set, add_curl(set, curl), -1) : TCR_E_ARGUMENT;
}

tcr_status tcr_set_put_layering(tcr_set *set, const tcr_layering *layering) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_layering_validate(layering, tcr_set_begin(set));
    if (status == TCR_OK)
        set->layering = *layering;
    return tcr_set_end(set, status, -1);
}

tcr_status tcr_set_put_tray(tcr_set *set, const tcr_tray *tray) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_tray_validate(tray, tcr_set_begin(set));
    if (status == TCR_OK)
        set->tray = *tray;
    return tcr_set_end(set, status, -1);
}

tcr_status tcr_set_put_bond(tcr_set *set, const tcr_bond *bond) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_bond_validate(bond, tcr_set_begin(set));
    if (status == TCR_OK)
        set->bond = *bond;
    return tcr_set_end(set, status, -1);
}

tcr_status tcr_set_put_view(tcr_set *set, const tcr_view *view) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_view_validate(view, tcr_set_begin(set));
    if (status == TCR_OK)
        set->view = *view;
    return tcr_set_end(set, status, -1);
}

tcr_status tcr_set_put_line(tcr_set *set, const tcr_line_rule *rule) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    const tcr_status status = tcr_line_rule_validate(rule, tcr_set_begin(set));
    if (status == TCR_OK)
        set->line = *rule;
    return tcr_set_end(set, status, -1);
}

tcr_status tcr_set_put_tolerance(tcr_set *set, double tolerance_mm) {
    if (set == NULL)
        return TCR_E_ARGUMENT;
    tcr_line_rule rule = set->line;
    rule.tolerance_mm = tolerance_mm;
    rule.seen_from_mm = NAN;
    return tcr_set_put_line(set, &rule);
}

tcr_status tcr_set_put_mean_lash(tcr_set *set, const tcr_lash *mean) {
    tcr_error *error = tcr_set_begin(set);
    if (set == NULL || mean == NULL)
        return tcr_set_end(set, TCR_E_ARGUMENT, -1);
    tcr_lash said = *mean;
    said.u = 0.5; /* place, layer and condition are not its own */
    said.layer = TCR_BOTTOM;
    said.condition = TCR_SUITABLE;
    const tcr_lash complete = tcr_lash_complete(&said, NULL);
    const tcr_status status = tcr_lash_validate(&complete, error);
    if (status == TCR_OK)
        set->mean_lash = said;
    return tcr_set_end(set, status, -1);
}
