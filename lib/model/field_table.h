/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_FIELD_TABLE_H
#define TCR_MODEL_FIELD_TABLE_H

/* The groups of the table of fields, and what the validators of single structs need of it. */

#include <float.h>

#include <tipcrest/field.h>

/*
 * Ranges that the table shares with the quick checks of a lash and an extension, of which there is
 * one for every tip (lash.c, extension.c): least and most, in the unit of files.
 */
#define TCR_U_LEAST 0.02
#define TCR_U_MOST 0.98
#define TCR_HEIGHT_RANGE -2.0, 8.0
#define TCR_GROWTH_MOST_DEG 85.0 /* pitch and yaw, which lie inside */
#define TCR_ROLL_RANGE -90.0, 90.0
#define TCR_LASH_LENGTH_LEAST_MM 0.3
#define TCR_LENGTH_RANGE TCR_LASH_LENGTH_LEAST_MM, 20.0
#define TCR_FINAL_LENGTH_RANGE 1.0, 20.0
#define TCR_TURN_LEAST_DEG (-60.0)
#define TCR_TURN_MOST_DEG 200.0
#define TCR_TURN_RANGE TCR_TURN_LEAST_DEG, TCR_TURN_MOST_DEG
#define TCR_ROOT_DIAMETER_LEAST 0.02
#define TCR_ROOT_DIAMETER_MOST 0.2
#define TCR_ROOT_DIAMETER_RANGE TCR_ROOT_DIAMETER_LEAST, TCR_ROOT_DIAMETER_MOST
#define TCR_TIP_DIAMETER_MM 0.015
#define TCR_TIP_DIAMETER_RANGE 0.0, 0.2
#define TCR_EXTENSION_LENGTH_LEAST_MM 3.0
#define TCR_EXTENSION_LENGTH_RANGE TCR_EXTENSION_LENGTH_LEAST_MM, 30.0
#define TCR_EXTENSION_DIAMETER_RANGE 0.02, 0.3
#define TCR_FAN_RANGE 1, 20
#define TCR_SPREAD_RANGE 0.0, 120.0

/* Takes an end that is not in its range at most two doubles towards 0. */
#define TCR_JUST_INSIDE (1.0 - DBL_EPSILON / 2.0)

/* Defaults of a lash that its place adds to: from layer to layer, from corner to corner. */
#define TCR_GAP_MM 1.0
#define TCR_YAW_INNER_DEG (-10.0)
#define TCR_YAW_FAN_DEG 20.0

enum { TCR_NO_BITS = -1 };

typedef struct tcr_group_fields {
    const tcr_field *field;
    size_t count;
    ptrdiff_t fixed; /* offset of bits that say which fields there are; TCR_NO_BITS: all are */
} tcr_group_fields;

extern const tcr_group_fields tcr_groups[TCR_GROUPS];

/* Whether a field takes a value in the unit of C. */
static inline bool tcr_field_takes(const tcr_field *field, double value) {
    return value >= field->core.least && value <= field->core.most;
}

/* Puts the values of 'usual' where an object of a group has NaN; the bits of these fields. */
unsigned tcr_fields_fill(tcr_group group, void *object, const void *usual);

/* Makes the fields of these bits unknown: NaN. */
void tcr_fields_clear(tcr_group group, void *object, unsigned bits);

/* Refuses a value in the unit of C: TCR_E_RANGE, or TCR_E_ARGUMENT for an enumeration. */
tcr_status tcr_field_refuse(const tcr_field *field, double value, tcr_error *error);

#endif
