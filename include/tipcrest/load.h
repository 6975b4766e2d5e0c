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
 * The load of a lash, and how far its tip moves under it (model.md, section 9). No validated limit
 * for this load exists: these are figures to compare, not a verdict.
 *
 * Moments are p x f, by components in the eye's frame. That frame is left-handed for the right eye,
 * so the vector is there the mirror image of the one by the right-hand rule.
 */
typedef struct tcr_materials {
    double hair_kg_m3;    /* 100 to 20000; default 1320 (Robbins, Chemical and Physical Behavior of
                             Human Hair) */
    double fibre_kg_m3;   /* 100 to 20000; default 1310, assumed; PBT is given as 1300 to 1310 */
    double hair_e_gpa;    /* Young's modulus, 0.001 to 1000; default 3.9 (Robbins, scalp hair) */
    double hair_g_gpa;    /* shear modulus, 0.001 to 1000; default 0.89 (Robbins, scalp hair) */
    double fibre_e_gpa;   /* 0.001 to 1000; default 2.4, assumed; PBT is given as 2.3 to 2.7 */
    double fibre_poisson; /* no unit, -0.9 to 0.5: Poisson's ratio; default 0.4, assumed */
} tcr_materials;

/* The default materials, as given above. */
TCR_API tcr_materials tcr_materials_default(void);

/*
 * Checks materials. TCR_E_RANGE or TCR_E_ARGUMENT (NULL). error names the number and may be NULL.
 */
TCR_API tcr_status tcr_materials_validate(const tcr_materials *materials, tcr_error *error);

/*
 * Masses, and moments about the root with the client sitting. Along the bond the fibres' weight
 * acts on the natural lash's centre line.
 */
typedef struct tcr_load {
    double natural_mass_mg;
    double extension_mass_mg;   /* of all fibres: full diameter over the first half of the length,
                                   then linear to 10 % at the tip; 0 for a bare lash */
    double mass_ratio;          /* extension / natural */
    double natural_moment_uNmm; /* of the natural lash alone */
    double root_moment_uNmm;    /* of lash and extension together */
    double moment_ratio; /* root / natural moment; NaN if the natural moment is below 1e-12 of the
                            lash's weight times its length */
} tcr_load;

typedef struct tcr_weight_options {
    size_t size;             /* of this struct */
    tcr_materials materials; /* default tcr_materials_default() */
    tcr_vec3 gravity;  /* unit vector within 1e-9, direction of gravity in the eye's frame; default
                          (0, -1, 0): sitting; (0, 0, -1): lying */
    double viewer_rad; /* -80 to 80 degrees: how far the viewer is raised (view.h); default 0 */
    double clamp_uNmm_rad; /* 1 to INFINITY: stiffness with which the skin holds the lash, for every
                              figure but the what-if; default INFINITY: rigid, assumed */
    double what_if_clamp_uNmm_rad; /* 1 to INFINITY: the stiffness for the what-if; default 1000.
                                      The true stiffness is not published */
    double root_sd_mm; /* 0 to 0.05: standard deviation of a full-grown root's diameter; default
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
 * The load of a lash and the movement of its tip, by linear theory. The tip is the mean of the
 * fibres' tips; for a bare lash, its own.
 */
typedef struct tcr_weight {
    tcr_load load;
    tcr_vec3 moment_uNmm; /* of lash and extension about the root, for the given gravity */
    tcr_vec3 shift_mm;    /* movement of the tip, in the eye's frame */
    double shift_length_mm;
    double droop_mm;         /* how far the tip sinks in the view; negative: it rises */
    double droop_thicker_mm; /* with the root one sd thicker */
    double droop_thinner_mm; /* with the root one sd thinner, but not thinner than its tip */
    double droop_blink_mm;   /* three times droop_mm, as the size of a blink's effect, assumed */
    double droop_what_if_mm; /* with the skin's stiffness what_if_clamp_uNmm_rad */
    bool is_linear; /* linear theory holds: the largest of the five droops, up or down, is below
                       1/20 of the extension's length (of a bare lash's own) */
} tcr_weight;

/*
 * Computes the weight of a lash. Of the stance only the axes count. ext and bond are both NULL for
 * a bare lash, which droops under its own weight. options may be NULL for the defaults. Accuracy:
 * 1e-9 of the shift's size. Thread-safe; allocates nothing.
 *
 * The sd of a growing lash's root is in proportion to its length. A lash with a thicker or thinner
 * root also holds its extension farther off or closer (section 4).
 *
 * TCR_E_ARGUMENT (another NULL, a wrong size of options), TCR_E_BOND (the bond would be shorter
 * than 1 mm), TCR_E_RANGE (an option, or axes that are not orthogonal unit vectors within 1e-6), or
 * the status of the validators of lash, extension, bond and materials. A failed call leaves *weight
 * as it was.
 */
TCR_API tcr_status tcr_weight_of(const tcr_lash *lash, const tcr_stance *stance,
                                 const tcr_extension *ext, const tcr_bond *bond,
                                 const tcr_weight_options *options, tcr_weight *weight);

/* ---- Loads in a check ---- */

/*
 * The load of one lash of a check, with the default materials. Reports, limits and work sheets use
 * these figures. 'lash' is its index in the order of the set. Returns the status of its
 * tcr_lash_result if it carries no extension, TCR_E_MISSING (eye, lash; of a check of figures_only
 * without TCR_PART_LOADS any lash) or TCR_E_ARGUMENT; *load is then unchanged. Closed form: costs
 * about as much as one tip; of a check of figures_only a copy.
 */
TCR_API tcr_status tcr_check_load(const tcr_check *check, tcr_side side, size_t lash,
                                  tcr_load *load);

/*
 * The load with its droops: client sitting, rigid skin, in the view of the check. A check does not
 * compute droops by itself, because one costs about as much as seven tips. Arguments and statuses
 * as for tcr_check_load.
 */
TCR_API tcr_status tcr_check_weight(const tcr_check *check, tcr_side side, size_t lash,
                                    tcr_weight *weight);

/* By how little weight moves the tips of an eye: the largest droop, up or down, over its lashes
 * with an extension, mm. Each figure may be another lash's. */
typedef struct tcr_weight_most {
    size_t lashes; /* with an extension */
    size_t lash;   /* the one whose droop_mm is largest; the first of equals */
    double droop_mm, droop_thinner_mm, droop_blink_mm,
        droop_what_if_mm; /* as in tcr_weight, sizes */
    size_t not_linear;    /* lashes for which linear theory does not hold */
} tcr_weight_most;

/*
 * The largest droops of an eye, by tcr_check_weight. TCR_E_MISSING (eye), TCR_E_FEW (no lash
 * carries an extension), TCR_E_ARGUMENT; *most is then unchanged.
 */
TCR_API tcr_status tcr_check_weight_most(const tcr_check *check, tcr_side side,
                                         tcr_weight_most *most);

#endif
