/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tray: which lengths are at hand, and of which curl and diameter (model.md, section 7). */
#include <tipcrest/map.h>

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "model/field_table.h"
#include "model/set_data.h"
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"

/* Within this a length or a diameter counts as the tray's own: arithmetic of the rule may leave the
 * last bits off. */
static const double SAME_MM = 1e-9;

static_assert(TCR_TRAY_MAX <= 64, "a bit for each length of a tray");

/* The bits of the first lengths. */
static uint64_t first_bits(size_t count) {
    return count < 64 ? (UINT64_C(1) << count) - 1 : UINT64_MAX;
}

tcr_tray tcr_tray_default(void) {
    tcr_tray tray = {.count = 16};
    for (size_t i = 0; i < tray.count; i++)
        tray.length_mm[i] = 5.0 + (double)i;
    return tray;
}

/* ---- What a tray must be --------------------------------------------------------------------- */

static tcr_status check_lengths(const tcr_tray *tray, tcr_error *error) {
    const tcr_field *field = tcr_fields(TCR_GROUP_TRAY, NULL);
    for (size_t i = 0; i < tray->count; i++) {
        if (!tcr_field_takes(field, tray->length_mm[i]))
            return tcr_field_refuse(field, tray->length_mm[i], error);
        if (i > 0 && !(tray->length_mm[i] > tray->length_mm[i - 1]))
            return tcr_error_set(error, TCR_E_RANGE, "the lengths of the tray do not rise");
    }
    return TCR_OK;
}

static bool is_of(const tcr_tray_kind *kind, const char *curl, double diameter_mm) {
    return fabs(kind->diameter_mm - diameter_mm) <= SAME_MM &&
           strncmp(kind->curl, curl, TCR_LABEL_SIZE) == 0;
}

static tcr_status check_kind(const tcr_tray *tray, size_t k, tcr_error *error) {
    const tcr_tray_kind *kind = &tray->kind[k];
    const tcr_field *diameter = tcr_field_find(TCR_GROUP_EXTENSION, "diameter_mm");
    if (kind->curl[0] == '\0' || memchr(kind->curl, '\0', TCR_LABEL_SIZE) == NULL)
        return tcr_error_set(error, TCR_E_ARGUMENT,
                             "the label of a curl of the tray is empty or "
                             "has no end");
    if (!tcr_field_takes(diameter, kind->diameter_mm))
        return tcr_field_refuse(diameter, kind->diameter_mm, error);
    if (kind->lengths == 0 || (kind->lengths & ~first_bits(tray->count)) != 0)
        return tcr_error_set(error, TCR_E_ARGUMENT,
                             "a curl and diameter of the tray must have lengths of the tray");
    for (size_t i = 0; i < k; i++)
        if (is_of(&tray->kind[i], kind->curl, kind->diameter_mm))
            return tcr_error_set(error, TCR_E_ARGUMENT,
                                 "a curl is in the tray twice in one diameter");
    return TCR_OK;
}

static tcr_status check_kinds(const tcr_tray *tray, tcr_error *error) {
    uint64_t held = 0;
    for (size_t k = 0; k < tray->kinds; k++) {
        const tcr_status status = check_kind(tray, k, error);
        if (status != TCR_OK)
            return status;
        held |= tray->kind[k].lengths;
    }
    if (tray->kinds > 0 && held != first_bits(tray->count))
        return tcr_error_set(error, TCR_E_ARGUMENT,
                             "a length of the tray is there in no curl and diameter");
    return TCR_OK;
}

tcr_status tcr_tray_validate(const tcr_tray *tray, tcr_error *error) {
    if (tray == NULL)
        return tcr_error_set(error, TCR_E_ARGUMENT, "there is no tray to check");
    if (tray->count > TCR_TRAY_MAX)
        return tcr_error_set(error, TCR_E_ARGUMENT, "the tray has %lu lengths; it has up to %d",
                             (unsigned long)tray->count, (int)TCR_TRAY_MAX);
    if (tray->kinds > TCR_TRAY_KINDS_MAX || (tray->kinds > 0 && tray->count == 0))
        return tcr_error_set(error, TCR_E_ARGUMENT,
                             "the tray has %lu curls and diameters; it has up to %d, and none "
                             "without a length",
                             (unsigned long)tray->kinds, (int)TCR_TRAY_KINDS_MAX);
    const tcr_status status = check_lengths(tray, error);
    return status == TCR_OK ? check_kinds(tray, error) : status;
}

/* ---- What a tray has ------------------------------------------------------------------------- */

uint64_t tcr_tray_lengths_of(const tcr_tray *tray, const char *curl, double diameter_mm) {
    if (tray->kinds == 0)
        return first_bits(tray->count);
    for (size_t k = 0; k < tray->kinds; k++)
        if (is_of(&tray->kind[k], curl, diameter_mm))
            return tray->kind[k].lengths;
    return 0;
}

tcr_status tcr_tray_of(const tcr_tray *tray, const char *curl, double diameter_mm, tcr_tray *out) {
    if (tray == NULL || curl == NULL || out == NULL || tray->count > TCR_TRAY_MAX ||
        tray->kinds > TCR_TRAY_KINDS_MAX)
        return TCR_E_ARGUMENT;
    const uint64_t lengths = tcr_tray_lengths_of(tray, curl, diameter_mm);
    if (lengths == 0 && tray->count > 0)
        return TCR_E_TRAY;
    tcr_tray of = {0};
    for (size_t i = 0; i < tray->count; i++)
        if ((lengths >> i & 1u) != 0)
            of.length_mm[of.count++] = tray->length_mm[i];
    *out = of;
    return TCR_OK;
}

const tcr_tray *tcr_set_tray_for(const tcr_set *set, const tcr_choice *choice, tcr_tray *room) {
    if (set->tray.kinds == 0)
        return &set->tray;
    const char *curl = tcr_set_curl(set, choice->curl)->label;
    return tcr_tray_of(&set->tray, curl, choice->diameter_mm, room) == TCR_OK ? room : NULL;
}

void tcr_tray_kinds_text(const tcr_tray *tray, char *text, size_t size) {
    static const size_t MORE_SIZE = 16; /* for " and 63 more" */
    size_t used = 0;
    text[0] = '\0';
    for (size_t k = 0; k < tray->kinds; k++) {
        char one[TCR_LABEL_SIZE + TCR_NUMBER_SIZE + 16], diameter[TCR_NUMBER_SIZE];
        tcr_number_text(tray->kind[k].diameter_mm, diameter);
        const int n = snprintf(one, sizeof one, "%s%s of %s mm", k > 0 ? ", " : "",
                               tray->kind[k].curl, diameter);
        if (used + (size_t)n + MORE_SIZE > size) {
            snprintf(text + used, size - used, " and %zu more", tray->kinds - k);
            return;
        }
        memcpy(text + used, one, (size_t)n + 1);
        used += (size_t)n;
    }
}

size_t tcr_tray_index(const tcr_tray *tray, double length_mm) {
    /* Lengths rise: the first that is not shorter, or the last, and the one before it. */
    size_t low = 0, high = tray->count - 1;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (tray->length_mm[middle] < length_mm)
            low = middle + 1;
        else
            high = middle;
    }
    if (low == 0)
        return 0;
    const double shorter = tray->length_mm[low - 1], longer = tray->length_mm[low];
    const double gain = fabs(length_mm - shorter) - fabs(length_mm - longer);
    return gain >= -SAME_MM ? low : low - 1;
}

double tcr_tray_nearest(const tcr_tray *tray, double length_mm) {
    if (tray == NULL || tray->count > TCR_TRAY_MAX)
        return NAN;
    return tray->count > 0 ? tray->length_mm[tcr_tray_index(tray, length_mm)] : length_mm;
}

tcr_status tcr_tray_take(const tcr_tray *tray, double *length_mm) {
    const double nearest = tcr_tray_nearest(tray, *length_mm);
    if (!(fabs(nearest - *length_mm) <= SAME_MM) ||
        !tcr_within(nearest, TCR_EXTENSION_LENGTH_RANGE))
        return TCR_E_TRAY;
    *length_mm = nearest;
    return TCR_OK;
}

tcr_status tcr_set_take_length(const tcr_set *set, tcr_choice *choice) {
    tcr_tray room;
    const tcr_tray *tray = tcr_set_tray_for(set, choice, &room);
    return tray != NULL ? tcr_tray_take(tray, &choice->length_mm) : TCR_E_TRAY;
}

bool tcr_tray_has(const tcr_tray *tray, double length_mm) {
    return tcr_tray_take(tray, &length_mm) == TCR_OK;
}
