/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_LID_KERNEL_H
#define TCR_MODEL_LID_KERNEL_H

/*
 * The lid's equations, inline, on constants prepared once a lid (model.md, section 2). Inputs are
 * valid: public calls check them first.
 */

#include <math.h>

#include <tipcrest/lid.h>

#include "geom/vector.h"
#include "num/elementary.h"
#include "num/range.h"

/* What the equations need of a lid, worked out once. */
typedef struct tcr_lid_constants {
    double width, slope; /* W, W tan(tilt): rise of the line of the corners over u */
    double corner;       /* y_in */
    double radius, semiaxis;
    double peak, fullness; /* p, c */
    double open_rise,
        closed_rise; /* factors of s(u): (mrd1 - b(1/2))/s(1/2), (-mrd2 - b(1/2))/s(1/2) */
} tcr_lid_constants;

/* s(u): 0 at both corners, 1 at u = p. */
static inline double tcr_lid_bulge(double p, double c, double u) {
    return tcr_exponential(
        c * (p * tcr_logarithm(u / p) + (1.0 - p) * tcr_logarithm((1.0 - u) / (1.0 - p))));
}

static inline tcr_lid_constants tcr_lid_prepare(const tcr_lid *lid) {
    tcr_lid_constants k;
    k.width = lid->fissure_width_mm;
    k.slope = k.width * tcr_tangent(lid->canthal_tilt_rad);
    k.corner = lid->inner_corner_height_mm;
    k.radius = lid->globe_radius_mm;
    k.semiaxis = lid->lateral_semiaxis_mm;
    k.peak = 0.5 + lid->peak_offset_mm / k.width;
    k.fullness = lid->fullness;
    const double middle = k.corner + 0.5 * k.slope;
    const double bulge = tcr_lid_bulge(k.peak, k.fullness, 0.5);
    k.open_rise = (lid->mrd1_mm - middle) / bulge;
    k.closed_rise = (-lid->mrd2_mm - middle) / bulge;
    return k;
}

/* The two contours and the globe's radius at u. */
typedef struct tcr_contour {
    double x, rho, y_open, y_closed;
    double bulge; /* s(u) */
} tcr_contour;

static inline tcr_contour tcr_lid_contour(const tcr_lid_constants *k, double u) {
    const double x = k->width * (u - 0.5);
    const double base = k->corner + u * k->slope;
    const double s = tcr_lid_bulge(k->peak, k->fullness, u);
    const double share = x / k->semiaxis;
    return (tcr_contour){
        .x = x,
        .rho = k->radius * sqrt(1.0 - share * share),
        .y_open = base + s * k->open_rise,
        .y_closed = base + s * k->closed_rise,
        .bulge = s,
    };
}

/* d(phi)/du of the angle whose sine is y/rho. */
static inline double tcr_lid_angle_slope(double y, double dy, double rho, double drho) {
    return (dy - y / rho * drho) / sqrt(rho * rho - y * y);
}

/* A place of the margin, worked out once for every opening. */
typedef struct tcr_margin_place {
    double x, dx, rho, drho;                             /* d: by u */
    double phi_closed, phi_rise, dphi_closed, dphi_rise; /* rise: from closed to open */
    double nx;                                           /* x/A^2 of the normal */
} tcr_margin_place;

static inline tcr_margin_place tcr_lid_place(const tcr_lid_constants *k, double u) {
    const tcr_contour at = tcr_lid_contour(k, u);
    const double x = at.x, rho = at.rho;
    const double ds = at.bulge * k->fullness * (k->peak / u - (1.0 - k->peak) / (1.0 - u));
    const double dx = k->width;
    const double drho = -k->radius * k->radius * x / (k->semiaxis * k->semiaxis) / rho * dx;
    const double phi_open = tcr_arcsine(at.y_open / rho);
    const double phi_closed = tcr_arcsine(at.y_closed / rho);
    const double dphi_open =
        tcr_lid_angle_slope(at.y_open, k->slope + ds * k->open_rise, rho, drho);
    const double dphi_closed =
        tcr_lid_angle_slope(at.y_closed, k->slope + ds * k->closed_rise, rho, drho);
    return (tcr_margin_place){
        .x = x,
        .dx = dx,
        .rho = rho,
        .drho = drho,
        .phi_closed = phi_closed,
        .phi_rise = phi_open - phi_closed,
        .dphi_closed = dphi_closed,
        .dphi_rise = dphi_open - dphi_closed,
        .nx = x / (k->semiaxis * k->semiaxis),
    };
}

/* The frame of a place at opening a, its tangent from the analytic derivative. */
static inline tcr_frame tcr_lid_frame_at(const tcr_margin_place *p, double radius, double a) {
    const double phi = p->phi_closed + a * p->phi_rise;
    const double dphi = p->dphi_closed + a * p->dphi_rise;
    const tcr_sine_cosine of = tcr_sine_cosine_of(phi);
    const double c = of.cosine, sn = of.sine, rr = radius * radius;

    tcr_frame frame;
    frame.point = (tcr_vec3){p->x, p->rho * sn, p->rho * c};
    frame.t = tcr_vec3_unit(
        (tcr_vec3){p->dx, p->drho * sn + p->rho * c * dphi, p->drho * c - p->rho * sn * dphi});
    frame.n = tcr_vec3_unit((tcr_vec3){p->nx, frame.point.y / rr, frame.point.z / rr});
    frame.b = tcr_vec3_cross(frame.n, frame.t);
    return frame;
}

/* The frame at u and opening a. */
static inline tcr_frame tcr_lid_frame_kernel(const tcr_lid_constants *k, double u, double a) {
    const tcr_margin_place place = tcr_lid_place(k, u);
    return tcr_lid_frame_at(&place, k->radius, a);
}

#endif
