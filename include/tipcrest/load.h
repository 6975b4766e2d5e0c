/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LOAD_H
#define TCR_LOAD_H

#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>

/*
 * What a lash carries: masses, and the moment at the root of the rigid lash. No validated limit of
 * what a lash may carry exists; these are figures to compare, not a verdict.
 */
typedef struct tcr_materials {
    double hair_kg_m3;  /* default 1320 (Robbins, Chemical and Physical Behavior of Human Hair) */
    double fibre_kg_m3; /* default 1310, assumed; PBT is given as 1300 to 1310 */
} tcr_materials;

typedef struct tcr_load {
    double natural_mass_mg;
    double
        extension_mass_mg; /* all fibres; full diameter over the first half, then linear to 10 % */
    double mass_ratio;     /* extension / natural */
    double natural_moment_uNmm;   /* of the natural lash's own weight about its root, eye's frame,
                                     gravity -y */
    double extension_moment_uNmm; /* of the extension's weight */
    double root_moment_uNmm;      /* of both together, as one vector's length */
    double moment_ratio; /* both together / the natural lash's own; infinite where that has none */
} tcr_load;

TCR_API tcr_materials tcr_materials_default(void);

/*
 * The load on a lash at its stance. ext and attachment may both be NULL for a bare lash. materials
 * may be NULL for the defaults. Lash and extension must be valid. TCR_E_RANGE for materials outside
 * 100 to 20000 kg/m3. Closed form.
 */
TCR_API tcr_status tcr_load_of(const tcr_lash *lash, const tcr_stance *stance,
                               const tcr_extension *ext, const tcr_attachment *attachment,
                               const tcr_materials *materials, tcr_load *load);

#endif
