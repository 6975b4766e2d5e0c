/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_EXTENSION_H
#define TCR_EXTENSION_H

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/profile.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/* An extension and its attachment to a lash (model.md, section 4). */

typedef enum tcr_placement {
    TCR_ON_TOP = 0,
    TCR_UNDERSIDE = 1,
    TCR_INNER_SIDE = 2,
    TCR_OUTER_SIDE = 3
} tcr_placement;
enum { TCR_PLACEMENTS = 4 };

/*
 * "top", "underside", "inner-side" or "outer-side", as in files; "unknown" for any other value.
 * Static storage.
 */
TCR_API const char *tcr_placement_text(tcr_placement placement);

typedef struct tcr_extension {
    double length_mm;   /* 3 to 30, along the fibre */
    double diameter_mm; /* 0.02 to 0.3, of one fibre */
    int fan;            /* fibres of one base, 1 to 20 */
    double spread_rad;  /* 0 to 120 degrees: from the first to the last fibre */
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
 * An extension on its lash, in the lash's own axes (along, up, out). It does not depend on the lid,
 * so one attachment serves every opening. tcr_attach makes it. Plain data: nothing to free.
 */
typedef struct tcr_attachment {
    double bond_mm;        /* length of the bond */
    double clearance_mm;   /* r: distance kept between the centre lines */
    double base_angle_rad; /* of the extension's base tangent, from along towards up */
    tcr_vec3 base;         /* mm, of the extension, at the start of the bond */
    tcr_vec3 part;         /* mm, where the fibres of a fan part: the end of the bond */
    double part_angle_rad; /* of the extension's tangent there */
    tcr_vec3 tip;          /* mm, of the extension; of a fan, the mean of its fibres' tips */
} tcr_attachment;

/* The default bond, as given above. */
TCR_API tcr_bond tcr_bond_default(void);

/* Checks a bond. TCR_E_RANGE or TCR_E_ARGUMENT (NULL). error may be NULL. */
TCR_API tcr_status tcr_bond_validate(const tcr_bond *bond, tcr_error *error);

/*
 * Checks an extension. TCR_E_RANGE, TCR_E_ARGUMENT (NULL, placement), or the status of
 * tcr_profile_validate. error may be NULL.
 */
TCR_API tcr_status tcr_extension_validate(const tcr_extension *ext, tcr_error *error);

/*
 * Attaches an extension to a lash. TCR_E_BOND if the bond would be shorter than 1 mm,
 * TCR_E_ARGUMENT, or the status of tcr_lash_validate, tcr_extension_validate or tcr_bond_validate.
 * Closed form; thread-safe; allocates nothing.
 */
TCR_API tcr_status tcr_attach(const tcr_lash *lash, const tcr_extension *ext, const tcr_bond *bond,
                              tcr_attachment *attachment);

/*
 * A point of one fibre in the lash's own axes, mm, for drawing and for tests. j counts fibres from
 * 0 to fan - 1. s_mm (any; cut to 0 to ext->length_mm) is the arc length from the extension's base.
 * Nothing else is checked. All NaN for NULL and for a profile whose number of pieces is out of
 * range.
 */
TCR_API tcr_vec3 tcr_attachment_fibre(const tcr_attachment *attachment, const tcr_extension *ext,
                                      int j, double s_mm);

#endif
