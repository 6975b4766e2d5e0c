/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FIELD_H
#define TCR_FIELD_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
typedef enum tcr_group {
    TCR_GROUP_LID = 0,
    TCR_GROUP_LASH = 1,
    TCR_GROUP_MEAN_LASH = 2,
    TCR_GROUP_WISH = 3,
    TCR_GROUP_EXTENSION = 4,
    TCR_GROUP_ZONE = 5,
    TCR_GROUP_LAYERING = 6,
    TCR_GROUP_PLACEMENT = 7,
    TCR_GROUP_TRAY = 8,
    TCR_GROUP_BOND = 9,
    TCR_GROUP_PIECE = 10,
    TCR_GROUP_LINE = 11,
    TCR_GROUP_VIEW = 12,
    TCR_GROUP_DESCRIPTION = 13,
    TCR_GROUP_LIMITS = 14,
    TCR_GROUP_PACE = 15
} tcr_group;
enum { TCR_GROUPS = 16 };
typedef enum tcr_kind {
    TCR_KIND_DOUBLE = 0,
    TCR_KIND_INT = 1,
    TCR_KIND_SIZE = 2,
    TCR_KIND_UINT64 = 3,
    TCR_KIND_BOOL = 4,
    TCR_KIND_ENUM = 5,
    TCR_KIND_LABEL = 6
} tcr_kind;
typedef enum tcr_unit {
    TCR_UNIT_NONE = 0,
    TCR_UNIT_MM = 1,
    TCR_UNIT_DEGREES = 2,
    TCR_UNIT_PLACE = 3,
    TCR_UNIT_SHARE = 4,
    TCR_UNIT_RATIO = 5,
    TCR_UNIT_COUNT = 6,
    TCR_UNIT_SECONDS = 7,
    TCR_UNIT_MINUTES = 8,
    TCR_UNIT_MG = 9,
    TCR_UNIT_UNMM = 10
} tcr_unit;
typedef enum tcr_source {
    TCR_SOURCE_NONE = 0,
    TCR_SOURCE_PUBLISHED = 1,
    TCR_SOURCE_TRADE = 2,
    TCR_SOURCE_ASSUMED = 3
} tcr_source;
typedef struct tcr_bounds {
    double least, most, standard;
} tcr_bounds;
typedef struct tcr_field {
    tcr_kind kind;
    size_t offset;
    tcr_bounds core;
    bool unknown;
    unsigned bit;
    const char *key;
    const char *member;
    tcr_unit unit;
    tcr_bounds file;
    bool above;
    bool below;
    tcr_source source;
    const char *reference;
    const char *note;
    const char *const *words;
} tcr_field;
TCR_API const tcr_field *tcr_fields(tcr_group group, size_t *count);
TCR_API const tcr_field *tcr_field_find(tcr_group group, const char *key);
TCR_API const char *tcr_source_text(tcr_source source);
TCR_API double tcr_field_value(const tcr_field *field, const void *object);
TCR_API tcr_status tcr_field_validate(const tcr_field *field, double value, tcr_error *error);
TCR_API tcr_status tcr_field_put(const tcr_field *field, void *object, double value,
                                 tcr_error *error);
TCR_API tcr_status tcr_field_value_n(const tcr_field *field, const void *objects, size_t stride,
                                     size_t n, double *value);
TCR_API tcr_status tcr_field_put_n(const tcr_field *field, void *objects, size_t stride, size_t n,
                                   const double *value, tcr_error *error);
TCR_API tcr_status tcr_fields_validate(tcr_group group, const void *object, tcr_error *error);
TCR_API void tcr_fields_default(tcr_group group, void *object);
#endif
