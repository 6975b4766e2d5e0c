/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_LOAD_H
#define TCR_MODEL_LOAD_H

/* The load of one lash: masses, and the moments of weight at its root (model.md, section 9). */

#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/load.h>

/* A fibre has its diameter over this share of its length, from there on linearly less, down to that
 * share of it at the tip; assumed (model.md, section 9). */
#define TCR_FIBRE_FULL_SHARE 0.5
#define TCR_FIBRE_TIP_SHARE 0.1

static const double TCR_UN_PER_MG = 9.80665; /* weight of 1 mg in uN (model.md, section 1) */

/* An extension on its lash; for a bare lash all pointers are NULL. */
typedef struct tcr_worn {
    const tcr_extension *ext;
    const tcr_bond *bond;
    const tcr_attachment *attachment;
} tcr_worn;

/* First moments of a curve whose every mm weighs its diameter squared, about where the curve
 * begins. */
typedef struct tcr_moments {
    double weight;  /* integral of d^2, mm3 */
    tcr_vec2 first; /* of d^2 times the point, mm4 */
} tcr_moments;

/* First moments of weight about the root, in the lash's own axes, uN mm: of the natural lash, and
 * of all. In closed form, where tcr_lash_rods has them by its rule. */
typedef struct tcr_first_moments {
    tcr_vec3 own_uNmm, all_uNmm;
} tcr_first_moments;

tcr_first_moments tcr_first_moments_of(const tcr_lash *lash, tcr_worn worn,
                                       const tcr_materials *materials);

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

/* The load with the default materials. */
tcr_load tcr_usual_load(const tcr_lash *lash, const tcr_stance *stance, tcr_worn worn);

/* The mass of all fibres, mg. */
double tcr_extension_mass(const tcr_extension *ext, double kg_m3);

/* Micronewtons of a body of which d^2 sums to 1 mm3. */
double tcr_uN_of(double kg_m3);

/* The diameter of a fibre at s_mm from its base (model.md, section 9), mm. */
double tcr_fibre_diameter(const tcr_extension *ext, double s_mm);

/* A vector given in a lash's own axes, in the eye's frame. */
tcr_vec3 tcr_stance_to_eye(const tcr_stance *stance, tcr_vec3 local);

/* TCR_E_RANGE where the axes are not orthogonal unit vectors within 1e-6. */
tcr_status tcr_stance_validate(const tcr_stance *stance);

#endif
