/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_JSON_QUANTITIES_H
#define TCR_FILE_JSON_QUANTITIES_H

/* Quantities of a check in a JSON report, by their places in the table (tipcrest/column.h). */

#include <tipcrest/column.h>

#include "file/json.h"

/* Several quantities that stand together in the table. */
typedef struct tcr_quantity_run {
    const tcr_quantity *first;
    size_t count;
} tcr_quantity_run;

/* All of an owner. */
tcr_quantity_run tcr_quantities_of(tcr_owner owner);

/*
 * Into the object that is open: the members of a run, with the objects and arrays in which they
 * stand. An object whose own numbers are all missing is null, but a remedy and a load are left out.
 */
void tcr_json_quantities(tcr_json *json, const tcr_check *check, tcr_side side, size_t lash,
                         tcr_quantity_run run);

#endif
