/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the table of fields does: checks, defaults, values in and out, and what is wrong with one.
 */
#include "model/field_table.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "model/member.h"
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"

const tcr_field *tcr_fields(tcr_group group, size_t *count) {
    const bool known = (int)group >= 0 && (int)group < TCR_GROUPS;
    if (count != NULL)
        *count = known ? tcr_groups[group].count : 0;
    return known ? tcr_groups[group].field : NULL;
}

const tcr_field *tcr_field_find(tcr_group group, const char *key) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; key != NULL && i < count; i++)
        if (strcmp(fields[i].key, key) == 0)
            return &fields[i];
    return NULL;
}

const char *tcr_source_text(tcr_source source) {
    static const char *const TEXT[] = {"", "published", "common practice", "assumed"};
    return (int)source >= 0 && (size_t)source < sizeof TEXT / sizeof *TEXT ? TEXT[source] : "";
}

/* ---- Members --------------------------------------------------------------------------------- */

/* The value of a member, in the unit of C. */
static inline double read_member(const tcr_field *field, const void *object) {
    const char *at = (const char *)object + field->offset;
    return field->kind == TCR_KIND_LABEL ? NAN : tcr_member_value(field->kind, at);
}

static void write_member(const tcr_field *field, void *object, double value) {
    char *at = (char *)object + field->offset;
    switch (field->kind) {
    case TCR_KIND_DOUBLE:
        *(double *)(void *)at = value;
        break;
    case TCR_KIND_INT:
    case TCR_KIND_ENUM:
        *(int *)(void *)at = (int)value;
        break;
    case TCR_KIND_SIZE:
        *(size_t *)(void *)at = (size_t)value;
        break;
    case TCR_KIND_UINT64:
        *(uint64_t *)(void *)at = (uint64_t)value;
        break;
    case TCR_KIND_BOOL:
        *(bool *)(void *)at = value != 0.0;
        break;
    case TCR_KIND_LABEL:
        break;
    }
}

/* Whether a field is one of the table, so that its offset lies in an object of its group. */
static bool is_of_table(const tcr_field *field) {
    for (int group = 0; group < TCR_GROUPS; group++) {
        const tcr_group_fields *of = &tcr_groups[group];
        const uintptr_t at = (uintptr_t)field - (uintptr_t)of->field;
        if (at < of->count * sizeof *field && at % sizeof *field == 0)
            return true;
    }
    return false;
}

double tcr_field_value(const tcr_field *field, const void *object) {
    if (object == NULL || !is_of_table(field))
        return NAN;
    const double value = read_member(field, object);
    return field->unit == TCR_UNIT_DEGREES ? tcr_degrees_of(value) : value;
}

/* ---- What is wrong with a number ------------------------------------------------------------- */

static void value_text(double value, char text[TCR_NUMBER_SIZE]) {
    if (isfinite(value))
        tcr_number_text(value, text);
    else
        snprintf(text, TCR_NUMBER_SIZE, "%s", isnan(value) ? "not a number" : "infinite");
}

/* An end of a range, in the unit of C. Angles have two decimals. */
static void bound_text(const tcr_field *field, double value, char text[TCR_NUMBER_SIZE]) {
    if (field->unit == TCR_UNIT_DEGREES)
        tcr_number_fixed(value, 2, text);
    else
        tcr_number_text(value, text);
}

/* Degrees where radians are needed. */
static void degrees_hint(const tcr_field *field, double value, char *hint, size_t size) {
    char found[TCR_NUMBER_SIZE], meant[TCR_NUMBER_SIZE];
    if (field->unit != TCR_UNIT_DEGREES || !tcr_field_takes(field, value * TCR_DEG))
        return;
    tcr_number_text(value, found);
    tcr_number_fixed(value * TCR_DEG, 3, meant);
    snprintf(hint, size, "; %s degrees are %s", found, meant);
}

tcr_status tcr_field_refuse(const tcr_field *field, double value, tcr_error *error) {
    const tcr_bounds *b = &field->core;
    char found[TCR_NUMBER_SIZE], least[TCR_NUMBER_SIZE], most[TCR_NUMBER_SIZE];
    char hint[80] = "";
    const bool is_enum = field->kind == TCR_KIND_ENUM;
    const tcr_status status = is_enum ? TCR_E_ARGUMENT : TCR_E_RANGE;
    if (error == NULL)
        return status;
    value_text(value, found);
    bound_text(field, b->least, least);
    bound_text(field, b->most, most);
    degrees_hint(field, value, hint, sizeof hint);
    const char *nan = field->unknown ? ", or NaN where it is not known" : "";
    tcr_error_set(error, status, "%s is %s, but must be from %s to %s%s%s", field->member, found,
                  least, most, nan, hint);
    tcr_error_number(error, field->member, value, b->least, b->most);
    return status;
}

/* The words of a unit behind a number of a file. */
static const char *unit_words(tcr_unit unit) {
    switch (unit) {
    case TCR_UNIT_MM:
        return " mm";
    case TCR_UNIT_DEGREES:
        return " degrees";
    case TCR_UNIT_SECONDS:
        return " seconds";
    case TCR_UNIT_MINUTES:
        return " minutes";
    default:
        return "";
    }
}

static bool takes_in_file(const tcr_field *field, double value) {
    const tcr_bounds *b = &field->file;
    return value >= b->least && value <= b->most && !(field->above && value == b->least) &&
           !(field->below && value == b->most);
}

static bool is_whole(const tcr_field *field) { return field->kind != TCR_KIND_DOUBLE; }

/* Whether a full turn more or less is the same: of a direction, and not of a turn or a spread. */
static bool is_direction(const tcr_field *field) {
    static const char *const OTHERS[] = {"turn", "spread", "sd_", "fan"};
    for (size_t i = 0; i < sizeof OTHERS / sizeof *OTHERS; i++)
        if (strstr(field->key, OTHERS[i]) != NULL)
            return false;
    return field->unit == TCR_UNIT_DEGREES;
}

/* What was perhaps meant by a number of a file: per cent, centimetres, more than a turn. */
static void meant_hint(const tcr_field *field, double value, char *hint, size_t size) {
    char found[TCR_NUMBER_SIZE], other[TCR_NUMBER_SIZE];
    const double turned = remainder(value, 360.0);
    value_text(value, found);
    if (field->unit == TCR_UNIT_PLACE && value > 1.0) {
        snprintf(hint, size,
                 "; it is a share of the eye's width from the inner corner (0.5 is the middle), "
                 "not per cent or millimetres");
    } else if (field->unit == TCR_UNIT_SHARE && value > 1.0 && value <= 100.0) {
        tcr_number_text(value / 100.0, other);
        snprintf(hint, size, "; it is a share, not per cent: %s per cent is %s", found, other);
    } else if (field->unit == TCR_UNIT_MM && field->file.least >= 1.0 &&
               value < field->file.least && takes_in_file(field, 10.0 * value)) {
        tcr_number_text(round(1e7 * value) / 1e6, other);
        snprintf(hint, size, "; %s cm is %s mm", found, other);
    } else if (is_direction(field) && takes_in_file(field, turned)) {
        tcr_number_text(turned, other);
        snprintf(hint, size, "; %s degrees are the same as %s", found, other);
    } else if (field->unit == TCR_UNIT_DEGREES && fabs(value) > 360.0) {
        snprintf(hint, size, "; a full turn is 360 degrees");
    }
}

tcr_status tcr_field_validate(const tcr_field *field, double value, tcr_error *error) {
    char found[TCR_NUMBER_SIZE], least[TCR_NUMBER_SIZE], most[TCR_NUMBER_SIZE];
    char hint[160] = "";
    if (field == NULL || field->kind == TCR_KIND_LABEL)
        return tcr_error_set(error, TCR_E_ARGUMENT, "this field takes no number");
    if (takes_in_file(field, value) && (!is_whole(field) || value == floor(value)))
        return TCR_OK;
    const tcr_bounds *b = &field->file;
    value_text(value, found);
    tcr_number_text(b->least, least);
    tcr_number_text(b->most, most);
    meant_hint(field, value, hint, sizeof hint);
    const char *to = field->below ? " and below" : field->above ? " and at most" : " to";
    tcr_error_set(error, TCR_E_RANGE, "%s is %s, but must be %s%s %s%s %s%s%s", field->key, found,
                  is_whole(field) ? "a whole number " : "", field->above ? "above" : "from", least,
                  to, most, unit_words(field->unit), hint);
    tcr_error_number(error, field->key, value, b->least, b->most);
    return TCR_E_RANGE;
}

tcr_status tcr_field_put(const tcr_field *field, void *object, double value, tcr_error *error) {
    if (object == NULL)
        return tcr_error_set(error, TCR_E_ARGUMENT, "there is no object to put a number into");
    if (!is_of_table(field))
        return tcr_error_set(error, TCR_E_ARGUMENT, "there is no such field to put a number into");
    const tcr_status status = tcr_field_validate(field, value, error);
    if (status == TCR_OK)
        write_member(field, object, field->unit == TCR_UNIT_DEGREES ? value * TCR_DEG : value);
    return status;
}

/* ---- Many objects ---------------------------------------------------------------------------- */

tcr_status tcr_field_value_n(const tcr_field *field, const void *objects, size_t stride, size_t n,
                             double *value) {
    if (!is_of_table(field) || (n > 0 && (objects == NULL || value == NULL)))
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < n; i++)
        value[i] = tcr_field_value(field, (const char *)objects + i * stride);
    return TCR_OK;
}

tcr_status tcr_field_put_n(const tcr_field *field, void *objects, size_t stride, size_t n,
                           const double *value, tcr_error *error) {
    if (n > 0 && (objects == NULL || value == NULL))
        return tcr_error_set(error, TCR_E_ARGUMENT, "there are no objects to put numbers into");
    if (!is_of_table(field))
        return tcr_error_set(error, TCR_E_ARGUMENT, "there is no such field to put a number into");
    for (size_t i = 0; i < n; i++) {
        const tcr_status status =
            isnan(value[i]) ? TCR_OK : tcr_field_validate(field, value[i], error);
        if (status != TCR_OK && error != NULL)
            error->lash = i;
        if (status != TCR_OK)
            return status;
    }
    for (size_t i = 0; i < n; i++)
        if (!isnan(value[i]))
            write_member(field, (char *)objects + i * stride,
                         field->unit == TCR_UNIT_DEGREES ? value[i] * TCR_DEG : value[i]);
    return TCR_OK;
}

/* ---- Whole objects --------------------------------------------------------------------------- */

/* Bits of an object that say which of its fields are there. */
static unsigned bits_of(const tcr_group_fields *fields, const void *object) {
    if (fields->fixed == TCR_NO_BITS)
        return ~0U;
    return *(const unsigned *)(const void *)((const char *)object + fields->fixed);
}

tcr_status tcr_fields_validate(tcr_group group, const void *object, tcr_error *error) {
    if (object == NULL || (int)group < 0 || (int)group >= TCR_GROUPS)
        return tcr_error_set(error, TCR_E_ARGUMENT, "there is no object to check");
    const tcr_group_fields *fields = &tcr_groups[group];
    const tcr_field *field = fields->field, *end = field + fields->count;
    const unsigned there = bits_of(fields, object);
    for (; field < end; field++) {
        const double value = read_member(field, object);
        if (tcr_field_takes(field, value))
            continue;
        if (field->kind == TCR_KIND_LABEL || (field->unknown && isnan(value)) ||
            (field->bit != 0 && (field->bit & there) == 0))
            continue;
        return tcr_field_refuse(field, value, error);
    }
    return TCR_OK;
}

void tcr_fields_default(tcr_group group, void *object) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; object != NULL && i < count; i++)
        if (!isnan(fields[i].core.standard) && fields[i].kind != TCR_KIND_LABEL)
            write_member(&fields[i], object, fields[i].core.standard);
}

unsigned tcr_fields_fill(tcr_group group, void *object, const void *usual) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    unsigned filled = 0;
    for (size_t i = 0; i < count; i++) {
        const tcr_field *field = &fields[i];
        if (field->bit == 0 || !isnan(read_member(field, object)) ||
            isnan(read_member(field, usual)))
            continue;
        write_member(field, object, read_member(field, usual));
        filled |= field->bit;
    }
    return filled;
}

void tcr_fields_clear(tcr_group group, void *object, unsigned bits) {
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; i < count; i++)
        if (fields[i].bit & bits)
            write_member(&fields[i], object, NAN);
}
