/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VECTOR_H
#define TCR_VECTOR_H

/* Points and vectors of the plane and of space, in mm unless a name says otherwise. */

/* A point or vector of a plane, which whoever has one names. */
typedef struct tcr_vec2 {
    double x, y; /* mm; of a direction no unit */
} tcr_vec2;

/*
 * A point or vector in an eye's own frame. The origin is the centre of the globe; x runs from the
 * inner to the outer corner, y up, z out of the face. Both eyes use the same frame; the right eye's
 * is mirrored.
 */
typedef struct tcr_vec3 {
    double x, y, z; /* mm; of a direction no unit */
} tcr_vec3;

#endif
