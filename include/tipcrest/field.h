/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FIELD_H
#define TCR_FIELD_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>

/*
 * The table of fields: every number of a lid, a lash, what it wears, and so on, with its key in
 * files, its member in C, its unit, range and default, and where the default comes from. Checks,
 * defaults, set files, surveys and messages are made from it. It is constant; calls may run in any
 * threads; none allocates.
 */

/* A group is the fields of one struct, and one block of a set file. */
typedef enum tcr_group {
    TCR_GROUP_LID = 0,          /* tcr_lid; 'lid' of an eye */
    TCR_GROUP_LASH = 1,         /* tcr_lash; a row of a survey */
    TCR_GROUP_MEAN_LASH = 2,    /* tcr_lash; 'mean_lash': a lash but for u, layer and condition */
    TCR_GROUP_WISH = 3,         /* tcr_wish; a layer of a zone, and, with ext_ in front, a row */
    TCR_GROUP_EXTENSION = 4,    /* tcr_extension; no block of its own */
    TCR_GROUP_ZONE = 5,         /* tcr_zone; an item of 'map' and 'intended' */
    TCR_GROUP_LAYERING = 6,     /* tcr_layering; 'layering' */
    TCR_GROUP_PLACEMENT = 7,    /* tcr_layering; 'placement' in layering */
    TCR_GROUP_TRAY = 8,         /* tcr_tray; each length of 'tray' */
    TCR_GROUP_BOND = 9,         /* tcr_bond; 'bond' */
    TCR_GROUP_PIECE = 10,       /* tcr_profile; each piece of a curl */
    TCR_GROUP_LINE = 11,        /* tcr_line_rule; 'line' */
    TCR_GROUP_VIEW = 12,        /* tcr_view; in the set file itself */
    TCR_GROUP_DESCRIPTION = 13, /* tcr_description; 'describe' in lashes */
    TCR_GROUP_LIMITS = 14,      /* tcr_limits; 'plan' */
    TCR_GROUP_PACE = 15         /* tcr_plan_pace; 'pace' */
} tcr_group;
enum { TCR_GROUPS = 16 };

/* How a member is kept in C. */
typedef enum tcr_kind {
    TCR_KIND_DOUBLE = 0,
    TCR_KIND_INT = 1,
    TCR_KIND_SIZE = 2,   /* size_t */
    TCR_KIND_UINT64 = 3, /* uint64_t */
    TCR_KIND_BOOL = 4,   /* as a number 0 or 1; "false" or "true" in files */
    TCR_KIND_ENUM = 5,   /* an enumeration from 0 on; one of 'words' in files */
    TCR_KIND_LABEL = 6   /* the label of a curl: no number, without range or default */
} tcr_kind;

/* The unit in files. Angles are in radians in C; all else is in the same unit there. */
typedef enum tcr_unit {
    TCR_UNIT_NONE = 0,
    TCR_UNIT_MM = 1,
    TCR_UNIT_DEGREES = 2,
    TCR_UNIT_PLACE = 3, /* along the lid, 0 at the inner and 1 at the outer corner */
    TCR_UNIT_SHARE = 4, /* 0.1 is ten per cent */
    TCR_UNIT_RATIO = 5,
    TCR_UNIT_COUNT = 6,
    TCR_UNIT_SECONDS = 7,
    TCR_UNIT_MINUTES = 8,
    TCR_UNIT_MG = 9,
    TCR_UNIT_UNMM = 10 /* micronewton-millimetres */
} tcr_unit;

/* Where a default comes from. */
typedef enum tcr_source {
    TCR_SOURCE_NONE = 0,      /* a neutral value, or no default */
    TCR_SOURCE_PUBLISHED = 1, /* 'reference' says where */
    TCR_SOURCE_TRADE = 2,     /* common practice of the trade, no source */
    TCR_SOURCE_ASSUMED = 3    /* our assumption */
} tcr_source;

/* A range and the default; standard is NaN where there is none. */
typedef struct tcr_bounds {
    double least, most, standard;
} tcr_bounds;

typedef struct tcr_field {
    tcr_kind kind;
    size_t offset;      /* in the group's struct */
    tcr_bounds core;    /* in the unit of C; both ends are in the range */
    bool unknown;       /* NaN is allowed in C beside the range and means: not known */
    unsigned bit;       /* of the struct's 'assumed' or 'fixed'; 0 where it has none */
    const char *key;    /* "pitch_deg" */
    const char *member; /* "pitch_rad" */
    tcr_unit unit;
    tcr_bounds file; /* in the unit of files */
    bool above;      /* file.least is not in the range */
    bool below;      /* file.most is not in the range */
    tcr_source source;
    const char *reference;    /* of a published default, else NULL */
    const char *note;         /* what it is, one line of plain words, or NULL */
    const char *const *words; /* of an enumeration, core.most + 1 of them; else NULL */
} tcr_field;

/* The fields of a group in the order of files. count may be NULL. NULL and 0 for no group. */
TCR_API const tcr_field *tcr_fields(tcr_group group, size_t *count);

/* The field of a key, or NULL. */
TCR_API const tcr_field *tcr_field_find(tcr_group group, const char *key);

/* "published", "common practice", "assumed", or "" for TCR_SOURCE_NONE; static storage. */
TCR_API const char *tcr_source_text(tcr_source source);

/* The value of a field in an object of its group, in the unit of files: for an angle the decimal
 * of fewest digits that gives the same radians, if there is one. NaN for a label. */
TCR_API double tcr_field_value(const tcr_field *field, const void *object);

/* TCR_OK for a value in the unit of files that the field takes; else as tcr_field_put. */
TCR_API tcr_status tcr_field_allows(const tcr_field *field, double value, tcr_error *error);

/*
 * Stores a value, given in the unit of files. TCR_E_RANGE where it is not finite, outside the
 * range, or no whole number where one is needed; the error then has the key. TCR_E_ARGUMENT for
 * NULL or a label. error may be NULL.
 */
TCR_API tcr_status tcr_field_put(const tcr_field *field, void *object, double value,
                                 tcr_error *error);

/*
 * Checks each field of an object against its range; of a tcr_wish those that are fixed. Says
 * nothing of what fields have to do with each other. TCR_E_RANGE, TCR_E_ARGUMENT (NULL, an unknown
 * value of an enumeration); the error has the member, in the unit of C. error may be NULL.
 */
TCR_API tcr_status tcr_fields_check(tcr_group group, const void *object, tcr_error *error);

/* Gives each field of an object that has a default its default; leaves all else. */
TCR_API void tcr_fields_default(tcr_group group, void *object);

#endif
