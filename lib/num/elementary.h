/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_ELEMENTARY_H
#define TCR_NUM_ELEMENTARY_H

/*
 * Elementary functions with the same bits on every machine, one number at a time; see
 * elementary_kernel.h for their ranges and for loops over many. At most 1.5 units of the last place
 * off over these ranges, which tests/num/test_elementary.c holds.
 */

typedef struct tcr_sine_cosine {
    double sine, cosine;
} tcr_sine_cosine;

tcr_sine_cosine tcr_sine_cosine_of(double angle_rad);
double tcr_sine(double angle_rad);
double tcr_cosine(double angle_rad);
double tcr_tangent(double angle_rad); /* of sine and cosine: up to 3 units */
double tcr_sinc(double q);
double tcr_arcsine(double x);
double tcr_angle_of(double y, double x);
double tcr_logarithm(double x);
double tcr_exponential(double x);

#endif
