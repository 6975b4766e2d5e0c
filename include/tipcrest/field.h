/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FIELD_H
#define TCR_FIELD_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>

/*
 * The table of fields: every number of a lid, a lash, an extension and so on, with its key in
 * files, its member in C, its unit, range and default, and the source of the default. Checks,
 * defaults, set files, surveys and messages come from it. The table is constant. Calls may run in
 * any thread and allocate nothing.
 */

/* A group is the fields of one struct, and one block of a set file. */
typedef enum tcr_group {
    TCR_GROUP_LID = 0,          /* tcr_lid; 'lid' of an eye */
    TCR_GROUP_LASH = 1,         /* tcr_lash; a row of a survey */
    TCR_GROUP_MEAN_LASH = 2,    /* tcr_lash; 'mean_lash': without u, layer and condition */
    TCR_GROUP_WISH = 3,         /* tcr_wish; a layer of a zone; a row, as ext_KEY */
    TCR_GROUP_EXTENSION = 4,    /* tcr_extension; no block of its own */
    TCR_GROUP_ZONE = 5,         /* tcr_zone; an item of 'map' and 'intended' */
    TCR_GROUP_LAYERING = 6,     /* tcr_layering; 'layering' */
    TCR_GROUP_PLACEMENT = 7,    /* tcr_layering; 'placement' in layering */
    TCR_GROUP_TRAY = 8,         /* tcr_tray; each length of 'tray' */
    TCR_GROUP_BOND = 9,         /* tcr_bond; 'bond' */
    TCR_GROUP_PIECE = 10,       /* tcr_profile; each piece of a curl */
    TCR_GROUP_LINE = 11,        /* tcr_line_rule; 'line' */
    TCR_GROUP_VIEW = 12,        /* tcr_view; top level of the set file */
    TCR_GROUP_DESCRIPTION = 13, /* tcr_description; 'describe' in lashes */
    TCR_GROUP_LIMITS = 14,      /* tcr_limits; 'plan' */
    TCR_GROUP_PACE = 15         /* tcr_plan_pace; 'pace' */
} tcr_group;
enum { TCR_GROUPS = 16 };

/* The type of a member in C. */
typedef enum tcr_kind {
    TCR_KIND_DOUBLE = 0,
    TCR_KIND_INT = 1,
    TCR_KIND_SIZE = 2,   /* size_t */
    TCR_KIND_UINT64 = 3, /* uint64_t */
    TCR_KIND_BOOL = 4,   /* as a number 0 or 1; "false" or "true" in files */
    TCR_KIND_ENUM = 5,   /* an enumeration from 0; one of 'words' in files */
    TCR_KIND_LABEL = 6   /* the label of a curl: no number, no range, no default */
} tcr_kind;

/* The unit in files. In C angles are in radians; all other units are the same. */
typedef enum tcr_unit {
    TCR_UNIT_NONE = 0,
    TCR_UNIT_MM = 1,
    TCR_UNIT_DEGREES = 2,
    TCR_UNIT_PLACE = 3, /* along the lid, 0 at the inner and 1 at the outer corner */
    TCR_UNIT_SHARE = 4, /* 0.1 is 10 % */
    TCR_UNIT_RATIO = 5,
    TCR_UNIT_COUNT = 6,
    TCR_UNIT_SECONDS = 7,
    TCR_UNIT_MINUTES = 8,
    TCR_UNIT_MG = 9,
    TCR_UNIT_UNMM = 10 /* micronewton-millimetres */
} tcr_unit;

/* The source of a default. */
typedef enum tcr_source {
    TCR_SOURCE_NONE = 0,      /* a neutral value, or no default */
    TCR_SOURCE_PUBLISHED = 1, /* 'reference' names the source */
    TCR_SOURCE_TRADE = 2,     /* common practice of the trade, no source */
    TCR_SOURCE_ASSUMED = 3    /* our assumption */
} tcr_source;

/* A range and the default, in the unit of the field, in C or in files; 'standard' is NaN if there
 * is no default. */
typedef struct tcr_bounds {
    double least, most, standard;
} tcr_bounds;

typedef struct tcr_field {
    tcr_kind kind;
    size_t offset;      /* of the member in the group's struct, bytes */
    tcr_bounds core;    /* in the unit of C; both ends are in the range */
    bool unknown;       /* NaN is also allowed in C and means: unknown */
    unsigned bit;       /* its bit in 'assumed' or 'fixed'; 0 if none */
    const char *key;    /* "pitch_deg" */
    const char *member; /* "pitch_rad" */
    tcr_unit unit;
    tcr_bounds file; /* in the unit of files */
    bool above;      /* file.least is excluded */
    bool below;      /* file.most is excluded */
    tcr_source source;
    const char *reference;    /* of a published default; else NULL */
    const char *note;         /* explanation in one plain line, or NULL */
    const char *const *words; /* of an enumeration: core.most + 1 words; else NULL */
} tcr_field;

/*
 * The fields of a group in the order of files. count receives their number and may be NULL. NULL
 * and 0 if the group does not exist. Static storage.
 */
TCR_API const tcr_field *tcr_fields(tcr_group group, size_t *count);

/* The field with a key in a group, or NULL. Static storage. */
TCR_API const tcr_field *tcr_field_find(tcr_group group, const char *key);

/* "published", "common practice", "assumed", or "" for TCR_SOURCE_NONE; static storage. */
TCR_API const char *tcr_source_text(tcr_source source);

/*
 * The value of a field in an object of its group's type, in the unit of files. An angle is given as
 * the shortest decimal of degrees that converts back to the same radians, if there is one. NaN for
 * a label, for NULL and for a field that is not from the table.
 */
TCR_API double tcr_field_value(const tcr_field *field, const void *object);

/*
 * Checks a value (unit of files, the range of the field). The field may be a copy from the table
 * with another key or range. Statuses as for tcr_field_put. error may be NULL.
 */
TCR_API tcr_status tcr_field_validate(const tcr_field *field, double value, tcr_error *error);

/*
 * Stores a value (unit of files, the range of the field) in an object of the field's group.
 * TCR_E_RANGE if it is not finite, out of range, or not whole where a whole number is needed; error
 * then has the key. TCR_E_ARGUMENT (NULL, a label, a field that is not from the table). error may
 * be NULL.
 */
TCR_API tcr_status tcr_field_put(const tcr_field *field, void *object, double value,
                                 tcr_error *error);

/*
 * The values of a field in n objects, as tcr_field_value gives them. Object i lies i * stride bytes
 * behind the first. value receives n numbers. TCR_E_ARGUMENT (NULL while n is above 0, a field that
 * is not from the table).
 */
TCR_API tcr_status tcr_field_value_n(const tcr_field *field, const void *objects, size_t stride,
                                     size_t n, double *value);

/*
 * Stores n numbers, value (unit of files, the range of the field), in n objects, as tcr_field_put
 * does: all or none. A NaN leaves its object as it is. Object i lies i * stride bytes behind the
 * first. Statuses of tcr_field_put; error then also has the index of the value, as 'lash'. error
 * may be NULL.
 */
TCR_API tcr_status tcr_field_put_n(const tcr_field *field, void *objects, size_t stride, size_t n,
                                   const double *value, tcr_error *error);

/*
 * Checks each field of an object of the group's type against its range; of a tcr_wish, the fixed
 * ones. It does not check how fields depend on each other. TCR_E_RANGE, or TCR_E_ARGUMENT (NULL, an
 * unknown value of an enumeration). error has the member, in the unit of C; it may be NULL.
 */
TCR_API tcr_status tcr_fields_validate(tcr_group group, const void *object, tcr_error *error);

/*
 * Sets each field of an object that has a default to it; other members stay. Does nothing for NULL.
 */
TCR_API void tcr_fields_default(tcr_group group, void *object);

#endif
