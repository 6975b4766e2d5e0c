/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_EXTENSION_H
#define TCR_EXTENSION_H 
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/profile.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>
typedef enum tcr_placement {
    TCR_ON_TOP = 0,
    TCR_UNDERSIDE = 1,
    TCR_INNER_SIDE = 2,
    TCR_OUTER_SIDE = 3
} tcr_placement;
enum { TCR_PLACEMENTS = 4 };
TCR_API const char *tcr_placement_text(tcr_placement placement);
typedef struct tcr_extension {
    double length_mm;
    double diameter_mm;
    int fan;
    double spread_rad;
    tcr_placement placement;
    tcr_profile profile;
} tcr_extension;
typedef struct tcr_bond {
    double offset_mm;
    double length_mm;
    double glue_mm;
} tcr_bond;
typedef struct tcr_attachment {
    double bond_mm;
    double clearance_mm;
    double base_angle_rad;
    tcr_vec3 base;
    tcr_vec3 part;
    double part_angle_rad;
    tcr_vec3 tip;
} tcr_attachment;
TCR_API tcr_bond tcr_bond_default(void);
TCR_API tcr_status tcr_bond_validate(const tcr_bond *bond, tcr_error *error);
TCR_API tcr_status tcr_extension_validate(const tcr_extension *ext, tcr_error *error);
TCR_API tcr_status tcr_attach(const tcr_lash *lash, const tcr_extension *ext, const tcr_bond *bond,
                              tcr_attachment *attachment);
TCR_API tcr_vec3 tcr_attachment_fibre(const tcr_attachment *attachment, const tcr_extension *ext,
                                      int j, double s_mm);
#endif
