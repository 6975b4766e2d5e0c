/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_COLUMN_H
#define TCR_COLUMN_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/field.h>
#include <tipcrest/status.h>

/*
 * The table of quantities: everything that a check says of a lash or of an eye, with its name in
 * reports, its unit, and what it is. Columns for NumPy and the like, the CSV report and the JSON
 * report are made from it. It is constant; calls may run in any threads; none allocates.
 *
 *     const tcr_quantity *deviation = tcr_quantity_find("deviation_mm");
 *     tcr_check_column(check, TCR_LEFT, deviation, values, tcr_set_lash_count(set, TCR_LEFT));
 */

/* What a quantity belongs to. */
typedef enum tcr_owner {
    TCR_OWNER_LASH = 0,     /* a lash: a column has a number for each lash of the eye */
    TCR_OWNER_EYE = 1,      /* an eye: a column has one number */
    TCR_OWNER_FITTED = 2,   /* an eye: how its tips lie about the fitted line */
    TCR_OWNER_INTENDED = 3, /* an eye: how its tips lie about the intended line */
    TCR_OWNER_VIEW = 4      /* an eye: its layers in one of the three views */
} tcr_owner;

typedef struct tcr_quantity {
    const char *name; /* no other has it; the column of the CSV report: "tip_x_mm" */
    const char *json; /* its place in a lash or an eye of the JSON report: "tip_mm[0]", "load.mass_
                         ratio", or NULL: it is not there */
    tcr_owner owner;
    tcr_kind kind; /* a bool is 0 or 1, an enumeration its number, the label of a curl its index in
                      the set (tcr_set_get_curl) */
    tcr_unit unit; /* of the numbers of a column, angles too */
    unsigned part; /* the bit TCR_PART_... of the checks that have it; 0: all have it */
    bool csv;      /* the CSV report has it */
    const char *const *words; /* of an enumeration or a bool, by number; else NULL */
    const char *note;         /* what it is, one line */
    int from, when;           /* for the library */
    size_t offset;
} tcr_quantity;

/* All quantities: first those of a lash, then those of an eye, each in the order of reports. count
 * may be NULL. */
TCR_API const tcr_quantity *tcr_quantities(size_t *count);

/* The quantity of a name, or NULL. */
TCR_API const tcr_quantity *tcr_quantity_find(const char *name);

/*
 * One quantity of an eye: values receives n numbers, one for each lash in the order of the set, or
 * one for the eye; n must be that count. NaN where there is no such number: a bare lash has no
 * deviation, a lash that is not staggered no remedy, an eye without a line no figures of it, and a
 * part that the check did not compute none at all. TCR_E_MISSING (eye), TCR_E_ARGUMENT (NULL, n, a
 * quantity that is not of the table); values then stay. Cost: one pass; a mass or moment takes
 * tcr_check_load for each lash, a droop tcr_check_weight (load.h).
 */
TCR_API tcr_status tcr_check_column(const tcr_check *check, tcr_side side,
                                    const tcr_quantity *quantity, double *values, size_t n);

/*
 * Several quantities of one lash: values receives n numbers, of the quantity that is given and of
 * those behind it in the table, all of a lash, or all of an eye, for which 'lash' is not read.
 * Statuses as of tcr_check_column, TCR_E_MISSING also where there is no such lash.
 */
TCR_API tcr_status tcr_check_row(const tcr_check *check, tcr_side side, size_t lash,
                                 const tcr_quantity *first, double *values, size_t n);

#endif
