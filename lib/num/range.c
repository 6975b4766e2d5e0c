/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Degrees as people write them. */
#include "num/range.h"

#include <math.h>

double tcr_degrees_of(double angle_rad) {
    const double degrees = angle_rad / TCR_DEG;
    if (degrees == 0.0 || !isfinite(degrees))
        return degrees;
    if (fabs(degrees) >= 1e12)
        return degrees;
    double power = 1.0; /* leaves 12 digits before the point: more than anybody writes, and
                         * far from a double's last ones */
    for (int shift = 0; fabs(degrees) * power < 1e11; shift++) {
        if (shift == 22) /* powers of ten up to 10^22 are exact */
            return degrees;
        power *= 10.0;
    }
    const double rounded = round(degrees * power) / power;
    return rounded * TCR_DEG == angle_rad ? rounded : degrees;
}
