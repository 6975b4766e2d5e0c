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

/* Tip positions: of one lash, or of many lashes in columns. Both run the same code. */

/*
 * The tip of a lash with its extension, in the eye's frame, mm. If ext is NULL, the tip of the bare
 * lash; bond is then not read and may be NULL. opening is 0 to 1. TCR_E_RANGE (opening),
 * TCR_E_ARGUMENT, TCR_E_BOND, or the status of the validators of lid, lash, extension and
 * bond. Allocates nothing; thread-safe.
 */
TCR_API tcr_status tcr_tip(const tcr_lid *lid, double opening, const tcr_lash *lash,
                           const tcr_extension *ext, const tcr_bond *bond, tcr_vec3 *tip);

/*
 * Columns of n numbers, one for each lash. No pointer may be NULL. Units and ranges as in tcr_lash
 * and tcr_extension; no number may be unknown.
 */
typedef struct tcr_lash_columns {
    const double *u; /* share */
    const double *height_mm, *pitch_rad, *yaw_rad, *roll_rad;
    const double *length_mm, *turn_rad, *root_diameter_mm, *tip_diameter_mm;
    const double *ext_length_mm; /* 0: bare, and the other ext_ columns are not read */
    const double *ext_diameter_mm, *ext_spread_rad;
    const int *ext_fan;
    const int *ext_placement; /* tcr_placement */
    const int *ext_profile;   /* index into profiles */
} tcr_lash_columns;

/* Columns of n tips in the caller's memory, mm. status may be NULL. */
typedef struct tcr_tip_columns {
    double *x, *y, *z; /* mm */
    int *status;       /* a tcr_status for each lash; if not 0, its tip is (NaN, NaN, NaN) */
} tcr_tip_columns;

/*
 * The tips of n lashes on one lid at one opening (0 to 1) with one bond. profiles has profile_count
 * profiles and may be NULL if that is 0; lashes and tips may be NULL if n is 0. Returns TCR_OK even
 * if single lashes fail: see the column status. Otherwise TCR_E_RANGE (opening), TCR_E_ARGUMENT, or
 * the status of the validator of lid, bond or a profile, and no column is written. Allocates
 * nothing. Inputs are only read, so threads may share them, each with its own range of rows.
 * Stack: below 24 kB.
 */
TCR_API tcr_status tcr_tips_n(const tcr_lid *lid, double opening, const tcr_bond *bond,
                              const tcr_profile *profiles, size_t profile_count, size_t n,
                              const tcr_lash_columns *lashes, tcr_tip_columns *tips);

#endif
