/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ROD_LASH_ROD_H
#define TCR_ROD_LASH_ROD_H

/* A natural lash and its extension as rods (model.md, section 9). */

#include <tipcrest/check.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/load.h>

#include "model/load.h"
#include "rod/rod.h"

/* Root diameters that share one pass over a lash: as it is, thicker, thinner. */
enum { TCR_ROOTS = 3 };

/*
 * The rods at the root, in the lash's own axes, for lashes that differ in their root diameter
 * alone: stiffness, weight, and the place of the extension, which keeps clear of the lash. All is
 * valid; allocates nothing.
 */
void tcr_lash_rods(const tcr_lash *lash, tcr_worn worn, const tcr_materials *materials,
                   const double root_mm[TCR_ROOTS], tcr_rod rod[TCR_ROOTS]);

/* A lash of a check that carries an extension; result and lash are those of the check. */
typedef struct tcr_laden {
    const tcr_lash *lash;
    const tcr_lash_result *result;
    tcr_extension ext;
    tcr_bond bond;
} tcr_laden;

/*
 * TCR_E_ARGUMENT (no check), TCR_E_MISSING (eye, lash), or the status of a lash that carries none;
 * *laden is then unchanged.
 */
tcr_status tcr_laden_of(const tcr_check *check, tcr_side side, size_t lash, tcr_laden *laden);

#endif
