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
TCR_API tcr_status tcr_tip(const tcr_lid *lid, double opening, const tcr_lash *lash,
                           const tcr_extension *ext, const tcr_bond *bond, tcr_vec3 *tip);
typedef struct tcr_lash_columns {
    const double *u;
    const double *height_mm, *pitch_rad, *yaw_rad, *roll_rad;
    const double *length_mm, *turn_rad, *root_diameter_mm, *tip_diameter_mm;
    const double *ext_length_mm;
    const double *ext_diameter_mm, *ext_spread_rad;
    const int *ext_fan;
    const int *ext_placement;
    const int *ext_profile;
} tcr_lash_columns;
typedef struct tcr_tip_columns {
    double *x, *y, *z;
    int *status;
} tcr_tip_columns;
TCR_API tcr_status tcr_tips_n(const tcr_lid *lid, double opening, const tcr_bond *bond,
                              const tcr_profile *profiles, size_t profile_count, size_t n,
                              const tcr_lash_columns *lashes, tcr_tip_columns *tips);
#endif
