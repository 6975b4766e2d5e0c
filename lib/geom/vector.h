/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_GEOM_VECTOR_H
#define TCR_GEOM_VECTOR_H

/* Arithmetic of small vectors, all inline: the kernels live from it. */

#include <math.h>

#include <tipcrest/vector.h>

/* A point that there is not. */
static inline tcr_vec3 tcr_vec3_none(void) { return (tcr_vec3){NAN, NAN, NAN}; }

static inline tcr_vec3 tcr_vec3_add(tcr_vec3 a, tcr_vec3 b) {
    return (tcr_vec3){a.x + b.x, a.y + b.y, a.z + b.z};
}

static inline tcr_vec3 tcr_vec3_scale(double s, tcr_vec3 a) {
    return (tcr_vec3){s * a.x, s * a.y, s * a.z};
}

/* a + s b */
static inline tcr_vec3 tcr_vec3_step(tcr_vec3 a, double s, tcr_vec3 b) {
    return (tcr_vec3){a.x + s * b.x, a.y + s * b.y, a.z + s * b.z};
}

static inline double tcr_vec3_dot(tcr_vec3 a, tcr_vec3 b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline tcr_vec3 tcr_vec3_cross(tcr_vec3 a, tcr_vec3 b) {
    return (tcr_vec3){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

static inline double tcr_vec3_length(tcr_vec3 a) { return sqrt(tcr_vec3_dot(a, a)); }

static inline tcr_vec3 tcr_vec3_unit(tcr_vec3 a) {
    return tcr_vec3_scale(1.0 / tcr_vec3_length(a), a);
}

#endif
