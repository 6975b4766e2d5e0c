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
#include "num/elementary_kernel.h"
#include "num/range.h"

/* What the equations need of a lid, worked out once. */
typedef struct tcr_lid_constants {
    double width, slope; /* W, W tan(tilt): rise of the line of the corners over u */
    double corner;       /* y_in */
    double radius, semiaxis;
    double peak, fullness;      /* p, c */
    double log_peak, log_other; /* of p and 1 - p */
    double open_rise,
        closed_rise; /* factors of s(u): (mrd1 - b(1/2))/s(1/2), (-mrd2 - b(1/2))/s(1/2) */
} tcr_lid_constants;

/* s(u): 1 at u = p, 0 at both corners, where the logarithm of 0 comes out as -709 or so. */
TCR_LANE double tcr_lid_bulge(const tcr_lid_constants *k, double u) {
    const double power =
        k->fullness * (k->peak * (tcr_logarithm_lane(u) - k->log_peak) +
                       (1.0 - k->peak) * (tcr_logarithm_lane(1.0 - u) - k->log_other));
    return tcr_exponential_lane(tcr_more(power, -700.0));
}

TCR_SHARED tcr_lid_constants tcr_lid_prepare(const tcr_lid *lid) {
    tcr_lid_constants k;
    k.width = lid->fissure_width_mm;
    k.slope = k.width * tcr_tangent(lid->canthal_tilt_rad);
    k.corner = lid->inner_corner_height_mm;
    k.radius = lid->globe_radius_mm;
    k.semiaxis = lid->lateral_semiaxis_mm;
    k.peak = 0.5 + lid->peak_offset_mm / k.width;
    k.fullness = lid->fullness;
    k.log_peak = tcr_logarithm(k.peak);
    k.log_other = tcr_logarithm(1.0 - k.peak);
    const double middle = k.corner + 0.5 * k.slope;
    const double bulge = tcr_lid_bulge(&k, 0.5);
    k.open_rise = (lid->mrd1_mm - middle) / bulge;
    k.closed_rise = (-lid->mrd2_mm - middle) / bulge;
    return k;
}

/* The two contours and the globe's radius at u. */
typedef struct tcr_contour {
    double x, rho, y_open, y_closed;
    double bulge; /* s(u) */
} tcr_contour;

TCR_LANE tcr_contour tcr_lid_contour(const tcr_lid_constants *k, double u) {
    const double x = k->width * (u - 0.5);
    const double base = k->corner + u * k->slope;
    const double s = tcr_lid_bulge(k, u);
    const double share = x / k->semiaxis;
    return (tcr_contour){
        .x = x,
        .rho = k->radius * sqrt(1.0 - share * share),
        .y_open = base + s * k->open_rise,
        .y_closed = base + s * k->closed_rise,
        .bulge = s,
    };
}

/*
 * A place of the margin, worked out once for every opening. Of the angles phi of the two contours,
 * the sine is y/rho, so that neither the open nor the closed eye takes an arcsine. d: by u.
 */
typedef struct tcr_margin_place {
    double x, dx, rho, drho;
    double sine_open, sine_closed, cosine_open, cosine_closed;
    double dphi_open, dphi_closed;
    double n_x, n_r; /* of the normal: along x, and away from the axis of x */
} tcr_margin_place;

TCR_LANE tcr_margin_place tcr_lid_place(const tcr_lid_constants *k, double u) {
    const tcr_contour at = tcr_lid_contour(k, u);
    const double x = at.x, rho = at.rho, dx = k->width;
    const double ds = at.bulge * k->fullness * ((k->peak - u) / (u * (1.0 - u)));
    const double n_x = x / (k->semiaxis * k->semiaxis), n_r = rho / (k->radius * k->radius);
    const double drho = -k->radius * k->radius * n_x / rho * dx;
    const double unit = 1.0 / sqrt(n_x * n_x + n_r * n_r);
    const double so = at.y_open / rho, sc = at.y_closed / rho;
    const double co = sqrt((1.0 - so) * (1.0 + so)), cc = sqrt((1.0 - sc) * (1.0 + sc));
    return (tcr_margin_place){
        .x = x,
        .dx = dx,
        .rho = rho,
        .drho = drho,
        .sine_open = so,
        .sine_closed = sc,
        .cosine_open = co,
        .cosine_closed = cc,
        .dphi_open = (k->slope + ds * k->open_rise - so * drho) / (rho * co),
        .dphi_closed = (k->slope + ds * k->closed_rise - sc * drho) / (rho * cc),
        .n_x = n_x * unit,
        .n_r = n_r * unit,
    };
}

/*
 * A place at an opening, and its frame in the axes of its meridian: x, away from the axis of x (r),
 * and up along the circle about it (p). The last turn into the eye's y and z is left for the end. n
 * has no part along p; b = n x t is (-n_r t_p, n_x t_p, b_p).
 */
typedef struct tcr_seat {
    double x, rho, sine, cosine; /* of phi */
    double n_x, n_r, t_x, t_r, t_p, b_p;
} tcr_seat;

/* By phi and its derivative. */
TCR_LANE tcr_seat tcr_seat_by(const tcr_margin_place *p, double sine, double cosine, double dphi) {
    const double along = p->rho * dphi;
    const double unit = 1.0 / sqrt(p->dx * p->dx + p->drho * p->drho + along * along);
    const double t_x = p->dx * unit, t_r = p->drho * unit;
    return (tcr_seat){
        .x = p->x,
        .rho = p->rho,
        .sine = sine,
        .cosine = cosine,
        .n_x = p->n_x,
        .n_r = p->n_r,
        .t_x = t_x,
        .t_r = t_r,
        .t_p = along * unit,
        .b_p = p->n_r * t_x - p->n_x * t_r,
    };
}

TCR_LANE tcr_seat tcr_seat_open(const tcr_margin_place *p) {
    return tcr_seat_by(p, p->sine_open, p->cosine_open, p->dphi_open);
}

TCR_LANE tcr_seat tcr_seat_closed(const tcr_margin_place *p) {
    return tcr_seat_by(p, p->sine_closed, p->cosine_closed, p->dphi_closed);
}

/* At any opening a: phi = phi_closed + a (phi_open - phi_closed). */
TCR_LANE tcr_seat tcr_seat_between(const tcr_margin_place *p, double a) {
    const double closed = tcr_arcsine_lane(p->sine_closed), open = tcr_arcsine_lane(p->sine_open);
    const tcr_sine_cosine phi = tcr_sine_cosine_lane(closed + a * (open - closed));
    const double dphi = p->dphi_closed + a * (p->dphi_open - p->dphi_closed);
    return tcr_seat_by(p, phi.sine, phi.cosine, dphi);
}

TCR_SHARED tcr_seat tcr_seat_at(const tcr_margin_place *p, double opening) {
    return opening == 1.0   ? tcr_seat_open(p)
           : opening == 0.0 ? tcr_seat_closed(p)
                            : tcr_seat_between(p, opening);
}

/* A vector of a seat's meridian in the eye's frame. */
TCR_LANE tcr_vec3 tcr_seat_turned(const tcr_seat *s, double x, double r, double p) {
    return (tcr_vec3){x, s->sine * r + s->cosine * p, s->cosine * r - s->sine * p};
}

TCR_SHARED tcr_frame tcr_seat_frame(const tcr_seat *s) {
    return (tcr_frame){
        .point = tcr_seat_turned(s, s->x, s->rho, 0.0),
        .t = tcr_seat_turned(s, s->t_x, s->t_r, s->t_p),
        .n = tcr_seat_turned(s, s->n_x, s->n_r, 0.0),
        .b = tcr_seat_turned(s, -s->n_r * s->t_p, s->n_x * s->t_p, s->b_p),
    };
}

/* The frame at u and opening a. */
TCR_SHARED tcr_frame tcr_lid_frame_kernel(const tcr_lid_constants *k, double u, double a) {
    const tcr_margin_place place = tcr_lid_place(k, u);
    const tcr_seat seat = tcr_seat_at(&place, a);
    return tcr_seat_frame(&seat);
}

#endif
