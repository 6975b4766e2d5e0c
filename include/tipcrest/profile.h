/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PROFILE_H
#define TCR_PROFILE_H

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>

/*
 * An arc spline: pieces of constant curvature, joined with a common tangent. It is the shape of a
 * natural lash and of an extension. A profile gives the turn of each piece, whatever the length of
 * the whole: on a fibre of length L, the piece with share f and turn a is f L long and has
 * curvature a/(f L).
 */
enum { TCR_PIECES_MAX = 8 };

typedef struct tcr_profile {
    int pieces;                      /* 1 to TCR_PIECES_MAX */
    double share[TCR_PIECES_MAX];    /* of the length, above 0, summing to 1 within 1e-9 */
    double turn_rad[TCR_PIECES_MAX]; /* -90 to 270 degrees */
} tcr_profile;

/* A point of an arc spline that starts at the origin along x and turns towards y. */
typedef struct tcr_arc_point {
    double x, y;      /* mm */
    double angle_rad; /* of the tangent, not reduced to one turn */
} tcr_arc_point;

/*
 * Checks a profile. TCR_E_ARGUMENT (NULL, number of pieces), TCR_E_RANGE (turn), TCR_E_CURL
 * (shares). error may be NULL.
 */
TCR_API tcr_status tcr_profile_validate(const tcr_profile *profile, tcr_error *error);

/*
 * The point at arc length s_mm (any; cut to 0 to length_mm) of a fibre of length_mm (above 0, not
 * checked). The profile must be valid, which is not checked either. All NaN for NULL and for a
 * number of pieces out of range. Cost: one sine and cosine for each piece.
 */
TCR_API tcr_arc_point tcr_profile_at(const tcr_profile *profile, double length_mm, double s_mm);

#endif
