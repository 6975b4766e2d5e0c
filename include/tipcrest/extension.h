/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_EXTENSION_H
#define TCR_EXTENSION_H

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/profile.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/* An extension and how it lies on its lash (model.md, section 4). */

typedef enum tcr_placement {
    TCR_ON_TOP = 0,
    TCR_UNDERSIDE = 1,
    TCR_INNER_SIDE = 2,
    TCR_OUTER_SIDE = 3
} tcr_placement;
enum { TCR_PLACEMENTS = 4 };
/* "top", "underside", "inner-side" or "outer-side", as files say it; static storage; "unknown" for
 * any other value. */
TCR_API const char *tcr_placement_text(tcr_placement placement);

typedef struct tcr_extension {
    double length_mm;   /* 3 to 30, along the fibre */
    double diameter_mm; /* 0.02 to 0.3, of one fibre */
    int fan;            /* fibres of one base, 1 to 20 */
    double spread_rad;  /* 0 to 120 degrees, over the whole fan */
    tcr_placement placement;
    tcr_profile profile; /* of the curl at this length */
} tcr_extension;

typedef struct tcr_bond {
    double offset_mm; /* 0 to 3, from the skin to the start of the bond; default 0.7, common
                         practice */
    double length_mm; /* 1 to 8; default 3, common practice */
    double glue_mm;   /* 0 to 0.2, between lash and extension; default 0.03, assumed */
} tcr_bond;

/*
 * An extension on its lash, in the lash's own axes (along, up, out): independent of the lid, so one
 * attachment serves every opening. Made by tcr_attach; plain data, nothing to free.
 */
typedef struct tcr_attachment {
    double bond_mm;        /* length of the bond */
    double clearance_mm;   /* r: how far apart the centre lines are kept */
    double base_angle_rad; /* of the extension's base tangent, from along towards up */
    tcr_vec3 base;         /* of the extension, over the start of the bond */
    tcr_vec3
        part; /* where the fibres of a fan part: the extension's point at the end of the bond */
    double part_angle_rad; /* of its tangent there */
    tcr_vec3 tip;          /* of the extension; of a fan, the mean of its fibres' tips */
} tcr_attachment;

TCR_API tcr_bond tcr_bond_default(void);

TCR_API tcr_status tcr_bond_check(const tcr_bond *bond,
                                  tcr_error *error); /* TCR_OK or TCR_E_RANGE */
TCR_API tcr_status tcr_extension_check(const tcr_extension *ext,
                                       tcr_error *error); /* as tcr_profile_check, TCR_E_RANGE */

/*
 * Lays an extension on a lash. TCR_E_BOND when less than 1 mm is left to bond; else the status of
 * the checks of lash, extension and bond. Closed form; thread-safe; allocates nothing.
 */
TCR_API tcr_status tcr_attach(const tcr_lash *lash, const tcr_extension *ext, const tcr_bond *bond,
                              tcr_attachment *attachment);

/*
 * A point of fibre j (0 to fan - 1) at arc length s_mm from the extension's base, in the lash's own
 * axes. For drawing and for tests; s is cut to [0, length], j must exist.
 */
TCR_API tcr_vec3 tcr_attachment_fibre(const tcr_attachment *attachment, const tcr_extension *ext,
                                      int j, double s_mm);

#endif
