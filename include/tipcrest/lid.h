/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LID_H
#define TCR_LID_H

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/*
 * The upper lid. Its margin slides on an ellipsoid of revolution about the x axis as the eye opens
 * (model.md, section 2). u is a place along the margin: the share of the fissure's width from the
 * inner corner (0) to the outer corner (1).
 */

/* The measures of a lid, as bits. */
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
    double fissure_width_mm; /* 15 to 40; default 27.0 (Read
                                2006, 10.1097/01.opx.0000236811.78177.97) */
    double canthal_tilt_rad; /* -20 to 20 degrees; default 5 degrees, within the published range */
    double inner_corner_height_mm; /* -5 to 5; default -1.5, assumed */
    double mrd1_mm; /* 0 to 8: height of the open margin above the centre of the pupil; default 3.5
                       (Rana 2023) */
    double mrd2_mm; /* 2 to 10: depth below the centre of the pupil at which the lids meet;
                       default 5.2 (Rana 2023) */
    double peak_offset_mm; /* -6 to 6; default -0.938: the open margin is then highest 1.7 mm to the
                              outer side of the pupil (Shin 2025, 10.1371/journal.pone.0316714) */
    double fullness;       /* no unit, 0.8 to 4: exponent c of the contour; default 1.6, assumed */
    double globe_radius_mm;     /* 8 to 16; default 12 (textbook) */
    double lateral_semiaxis_mm; /* above half fissure_width_mm to 40; default 16, assumed */
} tcr_lid;

/* The lid's own axes at a place of its margin. */
typedef struct tcr_frame {
    tcr_vec3 point; /* on the margin, mm */
    tcr_vec3 t;     /* unit, along the margin towards the outer corner */
    tcr_vec3 n;     /* unit, outward */
    tcr_vec3 b;     /* unit, n x t, up the lid */
} tcr_frame;

/*
 * A lid with every measure unknown (NaN). Calls that change a set accept unknown measures and use
 * their defaults, which reports list as assumed. Calls that compute need every measure.
 */
TCR_API tcr_lid tcr_lid_unknown(void);

/*
 * The lid with the default for each unknown measure; of NULL, all are unknown. The other measures
 * are not checked. assumed receives the bits TCR_LID_... of the defaults and may be NULL.
 */
TCR_API tcr_lid tcr_lid_complete(const tcr_lid *lid, unsigned *assumed);

/* A lid with every measure at its default. */
TCR_API tcr_lid tcr_lid_default(void);

/*
 * Checks a complete lid. TCR_E_ARGUMENT (NULL), TCR_E_RANGE, TCR_E_SEMIAXIS, or TCR_E_MRD1 or
 * TCR_E_MRD2 if the open or the closed margin leaves the globe anywhere on 0.02 <= u <= 0.98. error
 * names the measure and may be NULL.
 */
TCR_API tcr_status tcr_lid_validate(const tcr_lid *lid, tcr_error *error);

/*
 * The lid's own axes, from the analytic derivative of the margin, at u (share, 0.02 to 0.98) and
 * opening (0 to 1, closed to open). TCR_E_RANGE (u, opening), TCR_E_ARGUMENT, or the status of
 * tcr_lid_validate.
 */
TCR_API tcr_status tcr_lid_frame(const tcr_lid *lid, double u, double opening, tcr_frame *frame);

/*
 * A point of the margin in mm, for pictures, at u (share, 0 to 1, corners included) and opening (0
 * to 1). Where the contour leaves the globe below u = 0.02 or above 0.98, the point stays on the
 * globe's edge. Statuses as for tcr_lid_frame.
 */
TCR_API tcr_status tcr_lid_margin(const tcr_lid *lid, double u, double opening, tcr_vec3 *point);

#endif
