/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VECTOR_H
#define TCR_VECTOR_H

/* Small value types of plane and space geometry, in mm unless a name says otherwise. */

typedef struct tcr_vec2 {
    double x, y;
} tcr_vec2;

/*
 * In an eye's own frame: origin at the centre of the globe, x from the inner to the outer corner,
 * y up, z out of the face. Left and right eyes use the same frame, mirrored.
 */
typedef struct tcr_vec3 {
    double x, y, z;
} tcr_vec3;

#endif
