/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_RANGE_H
#define TCR_NUM_RANGE_H

/* Ranges of numbers and degrees. A test for a range is false for NaN. */

#include <math.h>
#include <stdbool.h>

#define TCR_PI 3.14159265358979323846
#define TCR_DEG (TCR_PI / 180.0) /* one degree in radians */

/* A share of a curl too small to divide a length by is no piece; how far a piece may turn. */
#define TCR_PIECE_SHARE_LEAST 1e-12
#define TCR_PIECE_TURN_LEAST_DEG -90.0
#define TCR_PIECE_TURN_MOST_DEG 270.0

static inline bool tcr_within(double value, double low, double high) {
    return value >= low && value <= high;
}

/* The nearest value of a range. */
static inline double tcr_cut(double value, double low, double high) {
    return fmin(fmax(value, low), high);
}

/*
 * An angle within degrees, ends included: the slack lets through what a conversion from degrees may
 * add in its last bit.
 */
static inline bool tcr_within_degrees(double angle_rad, double low_deg, double high_deg) {
    return tcr_within(angle_rad, low_deg * TCR_DEG - 1e-12, high_deg * TCR_DEG + 1e-12);
}

/*
 * Degrees of an angle: the decimal of few digits that gives the same radians, if there is one, so
 * that what was read from a file is written as it was.
 */
double tcr_degrees_of(double angle_rad);

#endif
