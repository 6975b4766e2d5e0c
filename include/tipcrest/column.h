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
 * The table of quantities: every number that a check gives for a lash or an eye, with its name in
 * reports, its unit and an explanation. The CSV report, the JSON report and columns for NumPy come
 * from it. The table is constant. Calls may run in any thread and allocate nothing.
 *
 *     const tcr_quantity *deviation = tcr_quantity_find("deviation_mm");
 *     tcr_check_column(check, TCR_LEFT, deviation, values, tcr_set_lash_count(set, TCR_LEFT));
 */

/* What a quantity belongs to. */
typedef enum tcr_owner {
    TCR_OWNER_LASH = 0,     /* a lash: a column has a number for each lash of the eye */
    TCR_OWNER_EYE = 1,      /* an eye: a column has one number */
    TCR_OWNER_FITTED = 2,   /* an eye: deviations of its tips from the fitted line */
    TCR_OWNER_INTENDED = 3, /* an eye: deviations of its tips from the intended line */
    TCR_OWNER_VIEW = 4      /* an eye: layer offsets in one of the three views */
} tcr_owner;

typedef struct tcr_quantity {
    const char *name; /* unique; the column of the CSV report: "tip_x_mm" */
    const char *json; /* place in a lash or an eye of the JSON report: "tip_mm[0]",
                         "load.mass_ratio"; NULL if absent there */
    tcr_owner owner;
    tcr_kind kind; /* a bool is 0 or 1, an enumeration its number, a curl its index in the set
                      (tcr_set_curl) */
    tcr_unit unit; /* of the numbers of a column; angles are in this unit too */
    unsigned part; /* bit TCR_PART_... of the part that computes it; 0: always computed; loads also
                      without their part, but for a check of figures_only */
    bool csv;      /* whether the CSV report has it */
    const char *const *words; /* of an enumeration or a bool, indexed by number; else NULL */
    const char *note;         /* explanation in one line */
    int from, when;           /* used by the library */
    size_t offset;            /* used by the library */
} tcr_quantity;

/*
 * All quantities: first those of a lash, then those of an eye, each in the order of reports. Static
 * storage. count receives their number and may be NULL.
 */
TCR_API const tcr_quantity *tcr_quantities(size_t *count);

/* The quantity with a name, or NULL. Static storage. */
TCR_API const tcr_quantity *tcr_quantity_find(const char *name);

/*
 * One quantity of an eye. values receives n numbers: one for each lash in the order of the set, or
 * one for the eye; n must be that count. A number that does not exist is NaN: the deviation of a
 * bare lash, the remedy of a lash that is not staggered, statistics without a line, a part that was
 * not computed. TCR_E_MISSING (eye), TCR_E_ARGUMENT (NULL, n, a quantity not from the table);
 * values is then unchanged. Cost: one pass; for a mass or moment tcr_check_load of each lash, for a
 * droop tcr_check_weight (load.h).
 */
TCR_API tcr_status tcr_check_column(const tcr_check *check, tcr_side side,
                                    const tcr_quantity *quantity, double *values, size_t n);

/*
 * One quantity of the lashes of an eye where it lies in memory, so that a column needs no copy.
 * first receives the address of the number of lash 0; that of lash i lies i * stride bytes behind
 * it. The numbers have the type of quantity->kind in C: double, int (also an enumeration), bool or
 * size_t. They are those of tcr_check_column. They stay valid until the check runs again or is
 * freed; 'u', 'layer' and 'condition' lie in the set, and stay until it changes or is freed.
 *
 * TCR_E_MISSING (eye; a quantity that does not lie there, since it is computed when it is read, is
 * converted to degrees, or has no NaN for a bare lash), TCR_E_ARGUMENT (NULL, a quantity of an eye
 * or not from the table); outputs are then unchanged.
 */
TCR_API tcr_status tcr_check_column_in_place(const tcr_check *check, tcr_side side,
                                             const tcr_quantity *quantity, const void **first,
                                             size_t *stride);

/*
 * Several quantities of one lash or one eye. values receives n numbers: 'first' and the n - 1
 * quantities after it in the table. These must all belong to a lash or all to an eye; for an eye,
 * 'lash' is not read. Statuses as for tcr_check_column; TCR_E_MISSING also if there is no such
 * lash.
 */
TCR_API tcr_status tcr_check_row(const tcr_check *check, tcr_side side, size_t lash,
                                 const tcr_quantity *first, double *values, size_t n);

#endif
