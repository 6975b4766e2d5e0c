/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The elementary functions one number at a time: one lane of the kernel. */
#include "num/elementary.h"

#include "num/elementary_kernel.h"

tcr_sine_cosine tcr_sine_cosine_of(double angle_rad) { return tcr_sine_cosine_lane(angle_rad); }

double tcr_sine(double angle_rad) { return tcr_sine_cosine_lane(angle_rad).sine; }

double tcr_cosine(double angle_rad) { return tcr_sine_cosine_lane(angle_rad).cosine; }

double tcr_tangent(double angle_rad) {
    const tcr_sine_cosine of = tcr_sine_cosine_lane(angle_rad);
    return of.sine / of.cosine;
}

double tcr_sinc(double q) { return tcr_sinc_lane(q); }

double tcr_arcsine(double x) { return tcr_arcsine_lane(x); }

double tcr_angle_of(double y, double x) { return tcr_angle_lane(y, x); }

double tcr_logarithm(double x) { return tcr_logarithm_lane(x); }

double tcr_exponential(double x) { return tcr_exponential_lane(x); }
