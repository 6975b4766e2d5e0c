/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LID_H
#define TCR_LID_H

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/*
 * The upper lid: its margin slides on an ellipsoid of revolution about the x axis as the eye opens
 * (model.md, section 2). A place along the margin is u, the share of the fissure's width from the
 * inner (0) to the outer corner (1).
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
    double canthal_tilt_rad; /* within 20 degrees; default 5 degrees, within the published range */
    double inner_corner_height_mm; /* -5 to 5; default -1.5, our assumption */
    double mrd1_mm; /* 0 to 8; default 3.5: margin above the pupil centre, eye open (Rana 2023) */
    double mrd2_mm; /* 2 to 10; default 5.2: where the lids meet, below the pupil (Rana 2023) */
    double peak_offset_mm;  /* -6 to 6; default -0.938: puts the open peak 1.7 mm to the outer side
                               (Shin 2025, 10.1371/journal.pone.0316714) */
    double fullness;        /* 0.8 to 4; default 1.6, our assumption: exponent c of the contour */
    double globe_radius_mm; /* 8 to 16; default 12 (textbook) */
    double lateral_semiaxis_mm; /* above half the width, up to 40; default 16, our assumption */
} tcr_lid;

/* The lid's own axes at a place of its margin. */
typedef struct tcr_frame {
    tcr_vec3 point; /* on the margin, mm */
    tcr_vec3 t;     /* unit, along the margin towards the outer corner */
    tcr_vec3 n;     /* unit, outward */
    tcr_vec3 b;     /* unit, n x t, up the lid */
} tcr_frame;

/*
 * A lid of which nothing is known: every measure NaN. Calls on a set take it and put the default in
 * the place of what is not known, as an assumption; those that compute need all.
 */
TCR_API tcr_lid tcr_lid_unknown(void);

/* The lid with the defaults for what is not known; assumed receives their bits TCR_LID_... and may
 * be NULL. */
TCR_API tcr_lid tcr_lid_complete(const tcr_lid *lid, unsigned *assumed);

/* A lid of the contract's defaults. */
TCR_API tcr_lid tcr_lid_default(void);

/*
 * TCR_OK, or TCR_E_RANGE, TCR_E_SEMIAXIS, or TCR_E_MRD1 / TCR_E_MRD2 where the open / closed margin
 * leaves the globe anywhere on 0.02 <= u <= 0.98.
 */
TCR_API tcr_status tcr_lid_check(const tcr_lid *lid, tcr_error *error);

/*
 * The frame at u (0.02 to 0.98) and opening (0 closed to 1 open) of a lid. TCR_E_RANGE for either,
 * or the status of tcr_lid_check. The axes come from the analytic derivative of the margin.
 */
TCR_API tcr_status tcr_lid_frame(const tcr_lid *lid, double u, double opening, tcr_frame *frame);

/*
 * A point of the margin at any u from 0 to 1 (the corners included, for pictures; where the contour
 * leaves the globe beyond 0.02 and 0.98 it is kept on its edge). Status as tcr_lid_frame.
 */
TCR_API tcr_status tcr_lid_margin(const tcr_lid *lid, double u, double opening, tcr_vec3 *point);

#endif
