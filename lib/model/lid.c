/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The lid for callers outside the kernels: defaults, validity, frame and margin (model.md, section
 * 2).
 */
#include <tipcrest/lid.h>

#include <stddef.h>

#include "model/lid_kernel.h"
#include "num/range.h"

/* Lashes root between these. */
static const double U_LOW = 0.02, U_HIGH = 0.98;

tcr_lid tcr_lid_default(void) {
    return (tcr_lid){
        .fissure_width_mm = 27.0,
        .canthal_tilt_rad = 5.0 * TCR_DEG,
        .inner_corner_height_mm = -1.5,
        .mrd1_mm = 3.5,
        .mrd2_mm = 5.2,
        .peak_offset_mm = -0.938,
        .fullness = 1.6,
        .globe_radius_mm = 12.0,
        .lateral_semiaxis_mm = 16.0,
        .assumed = TCR_LID_ALL,
    };
}

static bool measures_in_range(const tcr_lid *lid) {
    return tcr_within(lid->fissure_width_mm, 15.0, 40.0) &&
           tcr_within_degrees(lid->canthal_tilt_rad, -20.0, 20.0) &&
           tcr_within(lid->inner_corner_height_mm, -5.0, 5.0) &&
           tcr_within(lid->mrd1_mm, 0.0, 8.0) && tcr_within(lid->mrd2_mm, 2.0, 10.0) &&
           tcr_within(lid->peak_offset_mm, -6.0, 6.0) && tcr_within(lid->fullness, 0.8, 4.0) &&
           tcr_within(lid->globe_radius_mm, 8.0, 16.0) &&
           tcr_within(lid->lateral_semiaxis_mm, 0.0, 40.0);
}

/* |y|/rho of the open or the closed contour at u. */
static double reach(const tcr_lid_constants *k, bool open, double u) {
    const tcr_contour at = tcr_lid_contour(k, u);
    return fabs(open ? at.y_open : at.y_closed) / at.rho;
}

/*
 * The largest |y|/rho on the rooting range: a scan, then golden sections about the best point,
 * since the contour may touch the edge between two points of the scan.
 */
static double largest_reach(const tcr_lid_constants *k, bool open) {
    enum { STEPS = 256, SECTIONS = 40 };
    const double step = (U_HIGH - U_LOW) / STEPS, golden = 0.6180339887498949;
    double best = -1.0, best_u = U_LOW;
    for (int i = 0; i <= STEPS; i++) {
        const double u = i < STEPS ? U_LOW + step * i : U_HIGH;
        const double value = reach(k, open, u);
        if (value > best) {
            best = value;
            best_u = u;
        }
    }
    double low = fmax(U_LOW, best_u - step), high = fmin(U_HIGH, best_u + step);
    for (int i = 0; i < SECTIONS; i++) {
        const double left = high - golden * (high - low), right = low + golden * (high - low);
        const double at_left = reach(k, open, left), at_right = reach(k, open, right);
        best = fmax(best, fmax(at_left, at_right));
        if (at_left > at_right)
            high = right;
        else
            low = left;
    }
    return best;
}

/*
 * A bound that most lids meet, cheap enough for every call: the line of the corners plus the whole
 * bulge stays below the globe's radius at the ends of the rooting range.
 */
static bool surely_on_globe(const tcr_lid_constants *k) {
    const double at_end = (0.5 - U_LOW) * k->width / k->semiaxis;
    const double rho = k->radius * sqrt(1.0 - at_end * at_end);
    const double base = fmax(fabs(k->corner), fabs(k->corner + k->slope));
    return base + fmax(fabs(k->open_rise), fabs(k->closed_rise)) < rho * (1.0 - 1e-9);
}

tcr_status tcr_lid_check(const tcr_lid *lid) {
    if (lid == NULL)
        return TCR_E_ARGUMENT;
    if (!measures_in_range(lid))
        return TCR_E_RANGE;
    if (lid->lateral_semiaxis_mm <= lid->fissure_width_mm / 2.0)
        return TCR_E_SEMIAXIS;
    const tcr_lid_constants k = tcr_lid_prepare(lid);
    if (surely_on_globe(&k))
        return TCR_OK;
    if (!(largest_reach(&k, true) < 1.0))
        return TCR_E_MRD1;
    if (!(largest_reach(&k, false) < 1.0))
        return TCR_E_MRD2;
    return TCR_OK;
}

tcr_status tcr_lid_frame(const tcr_lid *lid, double u, double opening, tcr_frame *frame) {
    const tcr_status status = tcr_lid_check(lid);
    if (status != TCR_OK)
        return status;
    if (frame == NULL)
        return TCR_E_ARGUMENT;
    if (!tcr_within(u, U_LOW, U_HIGH) || !tcr_within(opening, 0.0, 1.0))
        return TCR_E_RANGE;
    const tcr_lid_constants k = tcr_lid_prepare(lid);
    *frame = tcr_lid_frame_kernel(&k, u, opening);
    return TCR_OK;
}

static double edge_asin(double y, double rho) { return asin(fmin(fmax(y / rho, -1.0), 1.0)); }

tcr_status tcr_lid_margin(const tcr_lid *lid, double u, double opening, tcr_vec3 *point) {
    const tcr_status status = tcr_lid_check(lid);
    if (status != TCR_OK)
        return status;
    if (point == NULL)
        return TCR_E_ARGUMENT;
    if (!tcr_within(u, 0.0, 1.0) || !tcr_within(opening, 0.0, 1.0))
        return TCR_E_RANGE;
    const tcr_lid_constants k = tcr_lid_prepare(lid);
    const tcr_contour at = tcr_lid_contour(&k, u);
    const double closed = edge_asin(at.y_closed, at.rho), open = edge_asin(at.y_open, at.rho);
    const double phi = closed + opening * (open - closed);
    *point = (tcr_vec3){at.x, at.rho * sin(phi), at.rho * cos(phi)};
    return TCR_OK;
}
