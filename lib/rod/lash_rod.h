/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ROD_LASH_ROD_H
#define TCR_ROD_LASH_ROD_H

/* A natural lash and its extension as rods (model.md, section 9). */

#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/load.h>

#include "rod/rod.h"

/* A fibre has its diameter over this share of its length, from there on linearly less, down to that
 * share of it at the tip; assumed (model.md, section 9). */
#define TCR_FIBRE_FULL_SHARE 0.5
#define TCR_FIBRE_TIP_SHARE 0.1

/* Root diameters that share one pass over a lash: as it is, thicker, thinner. */
enum { TCR_ROOTS = 3 };

/* An extension on its lash; for a bare lash all pointers are NULL. */
typedef struct tcr_worn {
    const tcr_extension *ext;
    const tcr_bond *bond;
    const tcr_attachment *attachment;
} tcr_worn;

/*
 * The rods at the root, in the lash's own axes, for lashes that differ in their root diameter
 * alone: stiffness, weight, and the place of the extension, which keeps clear of the lash. All is
 * valid; allocates nothing.
 */
void tcr_lash_rods(const tcr_lash *lash, tcr_worn worn, const tcr_materials *materials,
                   const double root_mm[TCR_ROOTS], tcr_rod rod[TCR_ROOTS]);

/* The first moment of the natural lash's weight about its root, uN mm, in its own axes. */
tcr_vec3 tcr_lash_first_moment(const tcr_lash *lash, double kg_m3);

/* The diameter of a fibre at s_mm from its base (model.md, section 9), mm. */
double tcr_fibre_diameter(const tcr_extension *ext, double s_mm);

/* A vector given in a lash's own axes, in the eye's frame. */
tcr_vec3 tcr_stance_to_eye(const tcr_stance *stance, tcr_vec3 local);

/* TCR_E_RANGE where the axes are not orthogonal unit vectors within 1e-6. */
tcr_status tcr_stance_check(const tcr_stance *stance);

/* Masses in mg; of an extension, all its fibres. */
double tcr_lash_mass(const tcr_lash *lash, double kg_m3);
double tcr_extension_mass(const tcr_extension *ext, double kg_m3);

/* The ratio of a moment to the natural lash's own; NaN where that is 0 within rounding (load.h). */
double tcr_moment_ratio(double moment_uNmm, double natural_uNmm, const tcr_lash *lash,
                        double natural_mg);

#endif
