/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Degrees as people write them. */
#include "num/range.h"

#include <math.h>

double tcr_degrees_of(double angle_rad) {
    static const int DIGITS = 12; /* more than anybody writes, and far from a double's last ones */
    const double degrees = angle_rad / TCR_DEG;
    if (degrees == 0.0 || !isfinite(degrees))
        return degrees;
    const int shift = DIGITS - 1 - (int)floor(log10(fabs(degrees)));
    if (shift < 0 || shift > 22) /* powers of ten up to 10^22 are exact */
        return degrees;
    double power = 1.0;
    for (int i = 0; i < shift; i++)
        power *= 10.0;
    const double rounded = round(degrees * power) / power;
    return rounded * TCR_DEG == angle_rad ? rounded : degrees;
}
