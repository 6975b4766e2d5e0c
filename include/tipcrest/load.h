/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LOAD_H
#define TCR_LOAD_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/check.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/*
 * What a lash carries, and by how little its tip moves under it (model.md, section 9). No validated
 * limit of what a lash may carry exists; these are figures to compare, not a verdict.
 *
 * Moments are p x f by components in the eye's frame, which is left-handed for the right eye: there
 * the vector is the mirror image of what the right-hand rule gives.
 */
typedef struct tcr_materials {
    double hair_kg_m3;    /* 100 to 20000; default 1320 (Robbins, Chemical and Physical Behavior of
                             Human Hair) */
    double fibre_kg_m3;   /* 100 to 20000; default 1310, assumed; PBT is given as 1300 to 1310 */
    double hair_e_gpa;    /* Young's modulus, 0.001 to 1000; default 3.9 (Robbins, scalp hair) */
    double hair_g_gpa;    /* shear modulus, 0.001 to 1000; default 0.89 (Robbins, scalp hair) */
    double fibre_e_gpa;   /* 0.001 to 1000; default 2.4, assumed; PBT is given as 2.3 to 2.7 */
    double fibre_poisson; /* Poisson's ratio, -0.9 to 0.5; default 0.4, assumed */
} tcr_materials;

TCR_API tcr_materials tcr_materials_default(void);

/* TCR_OK, TCR_E_RANGE, or TCR_E_ARGUMENT for NULL. error, which may be NULL, names the number. */
TCR_API tcr_status tcr_materials_check(const tcr_materials *materials, tcr_error *error);

/*
 * Masses, and moments about the root where the client sits. Fibres weigh on the natural lash's
 * centre line as far as they are bonded.
 */
typedef struct tcr_load {
    double natural_mass_mg;
    double extension_mass_mg;   /* all fibres; full diameter over the first half of the length, then
                                   linear to 10 % at the tip; 0 for a bare lash */
    double mass_ratio;          /* extension / natural */
    double natural_moment_uNmm; /* of the natural lash's own weight */
    double root_moment_uNmm;    /* of all */
    double moment_ratio; /* of the two; NaN where the natural lash's own is below 1e-12 of its
                            weight times its length */
} tcr_load;

typedef struct tcr_weight_options {
    size_t size;             /* of this struct */
    tcr_materials materials; /* default tcr_materials_default() */
    tcr_vec3 gravity;  /* unit vector within 1e-9, where weight pulls, in the eye's frame; default
                          (0, -1, 0): sitting; (0, 0, -1): lying */
    double viewer_rad; /* within 80 degrees: how far the viewer is raised (view.h); default 0 */
    double clamp_uNmm_rad; /* 1 to INFINITY: stiffness with which the skin holds the lash, for every
                              figure but the what-if; default INFINITY: rigidly, assumed */
    double what_if_clamp_uNmm_rad; /* 1 to INFINITY: the same, for the what-if; default 1000. How
                                      stiffly skin holds a lash is not published */
    double root_sd_mm; /* 0 to 0.05: by how much a full-grown root is thicker and thinner; default
                          0.01, assumed */
} tcr_weight_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_weight_options_init(tcr_weight_options *options, size_t size);
static inline tcr_weight_options tcr_weight_options_default(void) {
    tcr_weight_options options;
    tcr_weight_options_init(&options, sizeof options);
    return options;
}

/*
 * What a lash carries, and how its tip moves, by linear theory. The tip is the mean of the fibres'
 * tips; of a bare lash, its own.
 */
typedef struct tcr_weight {
    tcr_load load;
    tcr_vec3 moment_uNmm; /* of all about the root, in the posture given */
    tcr_vec3 shift_mm;    /* of the tip, in the eye's frame */
    double shift_length_mm;
    double droop_mm;         /* how far the tip sinks as the viewer sees it; negative: it rises */
    double droop_thicker_mm; /* of the same lash with its root one sd thicker */
    double droop_thinner_mm; /* and one sd thinner, but no thinner than its tip */
    double droop_blink_mm;   /* three times droop_mm: size only, assumed */
    double droop_what_if_mm; /* held by what_if_clamp_uNmm_rad */
    bool is_linear; /* the largest of the five droops, up or down, is below a twentieth of the
                       extension's length (of a bare lash's own): linear theory holds */
} tcr_weight;

/*
 * The weight of a lash at its stance, of which only the axes count. ext and bond are both NULL for
 * a bare lash, which droops under its own weight; options may be NULL for the defaults. To 1e-9 of
 * the shift's size. Thread-safe; allocates nothing.
 *
 * The root's sd is in proportion to the length of a lash that is not yet full grown. A lash with a
 * thicker or thinner root also holds its extension further off or nearer (section 4).
 *
 * TCR_E_ARGUMENT for another NULL or a wrong size of options; the status of the checks of lash,
 * extension, bond and materials; TCR_E_BOND where less than 1 mm is left to bond; TCR_E_RANGE for a
 * stance whose axes are not orthogonal unit vectors within 1e-6 and for an option out of its range.
 * A failed call leaves weight as it was.
 */
TCR_API tcr_status tcr_weight_of(const tcr_lash *lash, const tcr_stance *stance,
                                 const tcr_extension *ext, const tcr_bond *bond,
                                 const tcr_weight_options *options, tcr_weight *weight);

/* ---- Of a check --------------------------------------------------------------------------------
 */

/*
 * The load of a lash of a check that carries an extension, in the order of the set, as it stands
 * there and of the default materials. Reports, limits and work sheets have these figures. Statuses:
 * that of the lash's result where it is bare, TCR_E_MISSING (eye, lash), TCR_E_ARGUMENT (NULL);
 * load then stays as it was. Closed form: about as much as a tip.
 */
TCR_API tcr_status tcr_check_load(const tcr_check *check, tcr_side side, size_t lash,
                                  tcr_load *load);

/*
 * The same with its droops: client sitting, held rigidly, seen in the check's view. A check does
 * not compute them of itself, for each costs as much as seven tips. Statuses as of tcr_check_load.
 */
TCR_API tcr_status tcr_check_weight(const tcr_check *check, tcr_side side, size_t lash,
                                    tcr_weight *weight);

#endif
