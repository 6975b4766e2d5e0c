/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TIPS_H
#define TCR_TIPS_H

#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/lid.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/* Where tips stand: one lash at a time, or many from columns; both run the same code. */

/*
 * The tip, in the eye's frame, of a lash with its extension, or of the bare lash where ext is NULL
 * (bond is then not read). The status of the checks of all parts, or TCR_E_BOND.
 */
TCR_API tcr_status tcr_tip(const tcr_lid *lid, double opening, const tcr_lash *lash,
                           const tcr_extension *ext, const tcr_bond *bond, tcr_vec3 *tip);

/* Columns of n lashes; every pointer is needed. Units and ranges as in tcr_lash and tcr_extension.
 */
typedef struct tcr_lash_columns {
    const double *u, *height_mm, *pitch_rad, *yaw_rad, *roll_rad;
    const double *length_mm, *turn_rad, *root_diameter_mm, *tip_diameter_mm;
    const double *ext_length_mm; /* 0: bare; the other ext_ columns are then not read */
    const double *ext_diameter_mm, *ext_spread_rad;
    const int *ext_fan;
    const int *ext_placement; /* tcr_placement */
    const int *ext_profile;   /* index into profiles */
} tcr_lash_columns;

/* Columns of n tips, the caller's. status may be NULL. */
typedef struct tcr_tip_columns {
    double *x, *y, *z;
    int *status; /* tcr_status of each lash; where it is not 0 the tip is (NaN, NaN, NaN) */
} tcr_tip_columns;

/*
 * The tips of n lashes of one lid. Nothing is allocated; inputs are only read, so threads may share
 * them and cut the columns among themselves. Returns TCR_OK, also where single lashes failed, or
 * the status of the lid, the bond, the opening or a profile.
 */
TCR_API tcr_status tcr_tips_n(const tcr_lid *lid, double opening, const tcr_bond *bond,
                              const tcr_profile *profiles, size_t profile_count, size_t n,
                              const tcr_lash_columns *lashes, tcr_tip_columns *tips);

#endif
