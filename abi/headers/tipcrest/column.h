/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_COLUMN_H
#define TCR_COLUMN_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/field.h>
#include <tipcrest/status.h>
typedef enum tcr_owner {
    TCR_OWNER_LASH = 0,
    TCR_OWNER_EYE = 1,
    TCR_OWNER_FITTED = 2,
    TCR_OWNER_INTENDED = 3,
    TCR_OWNER_VIEW = 4
} tcr_owner;
typedef struct tcr_quantity {
    const char *name;
    const char *json;
    tcr_owner owner;
    tcr_kind kind;
    tcr_unit unit;
    unsigned part;
    bool csv;
    const char *const *words;
    const char *note;
    int from, when;
    size_t offset;
} tcr_quantity;
TCR_API const tcr_quantity *tcr_quantities(size_t *count);
TCR_API const tcr_quantity *tcr_quantity_find(const char *name);
TCR_API tcr_status tcr_check_column(const tcr_check *check, tcr_side side,
                                    const tcr_quantity *quantity, double *values, size_t n);
TCR_API tcr_status tcr_check_column_in_place(const tcr_check *check, tcr_side side,
                                             const tcr_quantity *quantity, const void **first,
                                             size_t *stride);
TCR_API tcr_status tcr_check_row(const tcr_check *check, tcr_side side, size_t lash,
                                 const tcr_quantity *first, double *values, size_t n);
#endif
