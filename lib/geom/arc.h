/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_GEOM_ARC_H
#define TCR_GEOM_ARC_H

/*
 * Arc splines, inline. A piece of length l that turns by a, entered at angle t, ends at
 * l sinc(a/2) (cos(t + a/2), sin(t + a/2)), with tangent t + a (model.md, section 3).
 */

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/profile.h>

#include "num/elementary.h"
#include "num/inline.h"

/* Whether a profile, which may be NULL, has pieces that one may walk along. */
TCR_SHARED bool tcr_profile_has_pieces(const tcr_profile *profile) {
    return profile != NULL && profile->pieces >= 1 && profile->pieces <= TCR_PIECES_MAX;
}

/* The end of a piece that starts at a point. */
TCR_SHARED tcr_arc_point tcr_arc_step(tcr_arc_point from, double length_mm, double turn_rad) {
    const double half = turn_rad / 2.0;
    const double chord = length_mm * tcr_sinc(half);
    const tcr_sine_cosine middle = tcr_sine_cosine_of(from.angle_rad + half);
    return (tcr_arc_point){from.x + chord * middle.cosine, from.y + chord * middle.sine,
                           from.angle_rad + turn_rad};
}

/* Where an arc spline stands at an arc length, and in which piece. */
typedef struct tcr_arc_place {
    int piece;
    double into_mm; /* arc length from the start of the piece */
    tcr_arc_point point;
} tcr_arc_place;

/* Walks to arc length s_mm, which is cut to the profile's length. The profile has pieces. */
TCR_SHARED tcr_arc_place tcr_arc_walk(const tcr_profile *profile, double length_mm, double s_mm) {
    tcr_arc_place place = {0, 0.0, {0.0, 0.0, 0.0}};
    double left = s_mm > 0.0 ? s_mm : 0.0;
    for (;; place.piece++) {
        const int i = place.piece;
        const double piece_mm = profile->share[i] * length_mm;
        const double turn_rad = profile->turn_rad[i];
        if (left < piece_mm || i == profile->pieces - 1) {
            place.into_mm = left < piece_mm ? left : piece_mm;
            place.point =
                tcr_arc_step(place.point, place.into_mm, turn_rad * (place.into_mm / piece_mm));
            return place;
        }
        place.point = tcr_arc_step(place.point, piece_mm, turn_rad);
        left -= piece_mm;
    }
}

#endif
