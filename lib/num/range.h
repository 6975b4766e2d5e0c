/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_RANGE_H
#define TCR_NUM_RANGE_H

/* Ranges of numbers and degrees, false for NaN. */

#include <stdbool.h>

#define TCR_PI 3.14159265358979323846
#define TCR_DEG (TCR_PI / 180.0) /* one degree in radians */

static inline bool tcr_within(double value, double low, double high) {
    return value >= low && value <= high;
}

/*
 * An angle within degrees, ends included: the slack lets through what a conversion from degrees may
 * add in its last bit.
 */
static inline bool tcr_within_degrees(double angle_rad, double low_deg, double high_deg) {
    return tcr_within(angle_rad, low_deg * TCR_DEG - 1e-12, high_deg * TCR_DEG + 1e-12);
}

#endif
