/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VECTOR_H
#define TCR_VECTOR_H 
typedef struct tcr_vec2 {
    double x, y;
} tcr_vec2;
typedef struct tcr_vec3 {
    double x, y, z;
} tcr_vec3;
#endif
