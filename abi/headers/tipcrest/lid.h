/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LID_H
#define TCR_LID_H 
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>
enum {
    TCR_LID_FISSURE_WIDTH = 1 << 0,
    TCR_LID_CANTHAL_TILT = 1 << 1,
    TCR_LID_INNER_CORNER_HEIGHT = 1 << 2,
    TCR_LID_MRD1 = 1 << 3,
    TCR_LID_MRD2 = 1 << 4,
    TCR_LID_PEAK_OFFSET = 1 << 5,
    TCR_LID_FULLNESS = 1 << 6,
    TCR_LID_GLOBE_RADIUS = 1 << 7,
    TCR_LID_LATERAL_SEMIAXIS = 1 << 8,
    TCR_LID_ALL = (1 << 9) - 1
};
typedef struct tcr_lid {
    double fissure_width_mm;
    double canthal_tilt_rad;
    double inner_corner_height_mm;
    double mrd1_mm;
    double mrd2_mm;
    double peak_offset_mm;
    double fullness;
    double globe_radius_mm;
    double lateral_semiaxis_mm;
} tcr_lid;
typedef struct tcr_frame {
    tcr_vec3 point;
    tcr_vec3 t;
    tcr_vec3 n;
    tcr_vec3 b;
} tcr_frame;
TCR_API tcr_lid tcr_lid_unknown(void);
TCR_API tcr_lid tcr_lid_complete(const tcr_lid *lid, unsigned *assumed);
TCR_API tcr_lid tcr_lid_default(void);
TCR_API tcr_status tcr_lid_validate(const tcr_lid *lid, tcr_error *error);
TCR_API tcr_status tcr_lid_frame(const tcr_lid *lid, double u, double opening, tcr_frame *frame);
TCR_API tcr_status tcr_lid_margin(const tcr_lid *lid, double u, double opening, tcr_vec3 *point);
#endif
