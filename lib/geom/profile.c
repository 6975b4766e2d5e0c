/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arc-spline profiles for callers outside the kernels: validity and points (model.md, section 3).
 */
#include <tipcrest/profile.h>

#include <math.h>
#include <stddef.h>

#include "geom/arc.h"
#include "num/range.h"

static const double SHARE_SLACK = 1e-9;

tcr_status tcr_profile_check(const tcr_profile *profile) {
    if (profile == NULL || profile->pieces < 1 || profile->pieces > TCR_PIECES_MAX)
        return TCR_E_ARGUMENT;
    double sum = 0.0;
    for (int i = 0; i < profile->pieces; i++) {
        if (!tcr_within_degrees(profile->turn_rad[i], -90.0, 270.0))
            return TCR_E_RANGE;
        /* A share too small to divide a length by is no piece. */
        if (!tcr_within(profile->share[i], 1e-12, 1.0 + SHARE_SLACK))
            return TCR_E_CURL;
        sum += profile->share[i];
    }
    return fabs(sum - 1.0) <= SHARE_SLACK ? TCR_OK : TCR_E_CURL;
}

tcr_arc_point tcr_profile_at(const tcr_profile *profile, double length_mm, double s_mm) {
    return tcr_arc_walk(profile, length_mm, s_mm).point;
}
