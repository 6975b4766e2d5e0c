/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The opening of a blink: s^4 (35 - 84 s + 70 s^2 - 20 s^3), the polynomial of least degree whose
 * first three derivatives vanish at both ends. Its slope in the middle is 35/16.
 */
#include <tipcrest/view.h>

#include <math.h>

double tcr_blink_opening(double share) {
    const double s = fmax(0, fmin(1, share));
    const double rest = 1 - s;
    /* Each half by the form that is exact at its end, so that 0 and 1 come out as such. */
    if (s > 0.5)
        return 1 - rest * rest * rest * rest * (35 - rest * (84 - rest * (70 - 20 * rest)));
    return s * s * s * s * (35 - s * (84 - s * (70 - 20 * s)));
}
