/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LASH_H
#define TCR_LASH_H

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/lid.h>
#include <tipcrest/profile.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/* A natural lash: its root, direction and curl (model.md, section 3). */

typedef enum tcr_layer { TCR_BOTTOM = 0, TCR_MIDDLE = 1, TCR_TOP = 2 } tcr_layer;
enum { TCR_LAYERS = 3 };
/* "bottom", "middle" or "top", as in files; "unknown" for any other value. Static storage. */
TCR_API const char *tcr_layer_text(tcr_layer layer);

typedef enum tcr_condition {
    TCR_SUITABLE = 0,
    TCR_BABY = 1,
    TCR_STRAY = 2,
    TCR_WEAK = 3,
    TCR_SHEDDING = 4
} tcr_condition;
enum { TCR_CONDITIONS = 5 };

/*
 * Why a lash carries no extension, in a few words such as "baby lash". status is TCR_E_BARE,
 * TCR_E_BARE_BY_ROW or TCR_E_BOND; condition is the lash's. Returns NULL for TCR_OK and
 * tcr_status_text for any other status. Static storage.
 */
TCR_API const char *tcr_bare_text(tcr_status status, tcr_condition condition);

/* The numbers of a lash that may be unknown, as bits. */
enum {
    TCR_LASH_HEIGHT = 1 << 0,
    TCR_LASH_PITCH = 1 << 1,
    TCR_LASH_YAW = 1 << 2,
    TCR_LASH_ROLL = 1 << 3,
    TCR_LASH_LENGTH = 1 << 4,
    TCR_LASH_FINAL_LENGTH = 1 << 5,
    TCR_LASH_TURN = 1 << 6,
    TCR_LASH_ROOT_DIAMETER = 1 << 7,
    TCR_LASH_TIP_DIAMETER = 1 << 8,
    TCR_LASH_ALL = (1 << 9) - 1
};

/*
 * A NaN means that the number is unknown. Its default is then used, and reports list it as assumed.
 * Any other number counts as given. Calls that change a set accept unknown numbers. Calls that
 * compute (tcr_tip, tcr_attach, ...) need every number but final_length_mm: see tcr_lash_complete.
 */
typedef struct tcr_lash {
    double u;         /* share, 0.02 to 0.98: place along the lid; always given */
    double height_mm; /* -2 to 8: of the root above the margin; default 0, 1 or 2 by layer */
    double pitch_rad; /* above -85 and below 85 degrees, up the lid from its normal; default -10
                         degrees, assumed */
    double yaw_rad;  /* above -85 and below 85 degrees, towards the outer corner; default -10 + 20 u
                        degrees, assumed */
    double roll_rad; /* -90 to 90 degrees: turns the plane of the curl about the lash; default 0 */
    double length_mm;        /* 0.3 to 20, along the lash; default 7.5 (a Japanese study, read in
                                translation) */
    double final_length_mm;  /* 1 to 20: the full-grown length; no default */
    double turn_rad;         /* -60 to 200 degrees, from root to tip; default 60 degrees, assumed */
    double root_diameter_mm; /* 0.02 to 0.2; default 0.08, assumed */
    double tip_diameter_mm;  /* 0 to root_diameter_mm; default 0.015, assumed */
    tcr_layer layer;
    tcr_condition condition; /* map and rule give an extension to suitable lashes only */
} tcr_lash;

/* A lash's own axes in the eye's frame. Local coordinates are (along, up, out). */
typedef struct tcr_stance {
    tcr_vec3 root;  /* mm */
    tcr_vec3 along; /* unit, the direction of growth at the root */
    tcr_vec3 up;    /* unit, the side towards which the lash curls */
    tcr_vec3 out;   /* unit, up x along: the outer side */
} tcr_stance;

/*
 * A suitable lash with every number unknown but its place: u (share, 0.02 to 0.98) and layer.
 * Nothing is checked.
 */
TCR_API tcr_lash tcr_lash_unknown(double u, tcr_layer layer);

/*
 * The lash with the default of its place for each unknown number. final_length_mm has no default
 * and stays unknown. The other numbers are not checked. assumed receives the bits TCR_LASH_... of
 * the defaults and may be NULL. NULL as a lash is one without a place: u and yaw are NaN.
 */
TCR_API tcr_lash tcr_lash_complete(const tcr_lash *lash, unsigned *assumed);

/*
 * Checks a complete lash. TCR_E_RANGE, or TCR_E_ARGUMENT for NULL and for a layer or condition that
 * does not exist. error names the number and may be NULL.
 */
TCR_API tcr_status tcr_lash_validate(const tcr_lash *lash, tcr_error *error);

/*
 * The profile of a natural lash: three equal pieces with 4/9, 3/9 and 2/9 of turn_rad. The lash is
 * not checked; of NULL, the turns are NaN.
 */
TCR_API tcr_profile tcr_lash_profile(const tcr_lash *lash);

/*
 * The diameter in mm at s_mm (0 to lash->length_mm) from the root, by the linear taper. Neither
 * s_mm nor the lash is checked; NaN for NULL.
 */
TCR_API double tcr_lash_diameter(const tcr_lash *lash, double s_mm);

/*
 * The root and axes of a lash on a lid at an opening (0 to 1). TCR_E_RANGE (opening),
 * TCR_E_ARGUMENT, or the status of tcr_lash_validate or tcr_lid_validate.
 */
TCR_API tcr_status tcr_lash_stance(const tcr_lash *lash, const tcr_lid *lid, double opening,
                                   tcr_stance *stance);

/*
 * Converts a point in mm from a lash's own axes (x along, y up, z out) to the eye's frame. All NaN
 * for NULL.
 */
TCR_API tcr_vec3 tcr_stance_point(const tcr_stance *stance, tcr_vec3 local);

#endif
