/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PROFILE_H
#define TCR_PROFILE_H 
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
enum { TCR_PIECES_MAX = 8 };
typedef struct tcr_profile {
    int pieces;
    double share[TCR_PIECES_MAX];
    double turn_rad[TCR_PIECES_MAX];
} tcr_profile;
typedef struct tcr_arc_point {
    double x, y;
    double angle_rad;
} tcr_arc_point;
TCR_API tcr_status tcr_profile_validate(const tcr_profile *profile, tcr_error *error);
TCR_API tcr_arc_point tcr_profile_at(const tcr_profile *profile, double length_mm, double s_mm);
#endif
