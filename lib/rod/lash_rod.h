/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ROD_LASH_ROD_H
#define TCR_ROD_LASH_ROD_H

/* A natural lash and its extension as rods (model.md, section 9). */

#include <tipcrest/check.h>
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

/* First moments of weight about the root, in the lash's own axes, uN mm: of the natural lash, and
 * of all. In closed form, where tcr_lash_rods has them by its rule. */
typedef struct tcr_first_moments {
    tcr_vec3 own_uNmm, all_uNmm;
} tcr_first_moments;

tcr_first_moments tcr_first_moments_of(const tcr_lash *lash, tcr_worn worn,
                                       const tcr_materials *materials);

/* First moments of a curve whose every mm weighs its diameter squared, about where the curve
 * begins. */
typedef struct tcr_moments {
    double weight;  /* integral of d^2, mm3 */
    tcr_vec2 first; /* of d^2 times the point, mm4 */
} tcr_moments;

/* Along the natural centre line: the lash itself, and one fibre as far as it is bonded. */
void tcr_bonded_moments(const tcr_lash *lash, tcr_worn worn, tcr_moments *own, tcr_moments *bonded);

/* One fibre beyond a bond of a length, of a fan the mean of all, about where the bond ends and with
 * the tangent there along x. Whatever lash carries it. */
tcr_moments tcr_free_moments(const tcr_extension *ext, double bond_mm);

/* The first moments by these three, 'rest' turned as the bond's end is; of a bare lash only 'own'
 * is read. */
tcr_first_moments tcr_first_moments_by(const tcr_moments *own, const tcr_moments *bonded,
                                       const tcr_moments *rest, tcr_worn worn,
                                       const tcr_materials *materials);

/* Masses and moments, of first moments made of the same lash. All is valid. */
tcr_load tcr_load_of(const tcr_lash *lash, const tcr_stance *stance, tcr_worn worn,
                     const tcr_materials *materials, const tcr_first_moments *first);

/* The diameter of a fibre at s_mm from its base (model.md, section 9), mm. */
double tcr_fibre_diameter(const tcr_extension *ext, double s_mm);

/* A vector given in a lash's own axes, in the eye's frame. */
tcr_vec3 tcr_stance_to_eye(const tcr_stance *stance, tcr_vec3 local);

/* TCR_E_RANGE where the axes are not orthogonal unit vectors within 1e-6. */
tcr_status tcr_stance_validate(const tcr_stance *stance);

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
