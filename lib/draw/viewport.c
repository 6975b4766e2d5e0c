/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where an eye stands on the sheet. The upper margin is the model's own. The lower lid and the
 * crease are drawn and not modelled. The lower lid of the open eye runs from corner to corner on
 * the globe, mrd2 (5.2 mm by default) below the pupil, by the same family of curves as the upper
 * one but fuller towards the outer corner; of the closed eye it runs where the model's lids meet.
 */
#include "draw/viewport.h"

#include <math.h>

#include "num/range.h"

tcr_vec2 tcr_viewport_seen(const tcr_viewport *viewport, tcr_vec2 seen) {
    return (tcr_vec2){viewport->origin.x + viewport->mirror * viewport->scale * seen.x,
                      viewport->origin.y - viewport->scale * seen.y};
}

tcr_vec2 tcr_viewport_project(const tcr_viewport *viewport, tcr_vec3 point) {
    if (viewport->profile)
        return (tcr_vec2){point.z, point.y};
    return tcr_view_project(&viewport->view, point);
}

tcr_vec2 tcr_viewport_point(const tcr_viewport *viewport, tcr_vec3 point) {
    return tcr_viewport_seen(viewport, tcr_viewport_project(viewport, point));
}

double tcr_viewport_depth(const tcr_viewport *viewport, tcr_vec3 point) {
    const double raised = viewport->view.viewer_rad;
    if (viewport->profile)
        return point.x;
    return point.y * sin(raised) + point.z * cos(raised);
}

/* A point moved up the globe by an arc. */
static tcr_vec3 up_the_globe(tcr_vec3 point, double arc_mm) {
    const double radius = hypot(point.y, point.z);
    const double angle = atan2(point.y, point.z) + (radius > 0 ? arc_mm / radius : 0);
    return (tcr_vec3){point.x, radius * sin(angle), radius * cos(angle)};
}

/* The lid folds away as it opens: what stays in sight between margin and crease, mm along the lid.
 */
static double crease_height(double opening) { return 9.5 + opening * (4.3 - 9.5); }

/* The crease runs out beside the corners, farther at the outer one. */
static tcr_vec3 crease_point(tcr_vec3 upper, double u, double opening) {
    const double swell = pow(sin(TCR_PI * u), 0.75), end = pow(1 - sin(TCR_PI * u), 3);
    const double rise = swell + (u < 0.5 ? 0.35 : 0.22) * end;
    upper.x += (u < 0.5 ? -0.9 : 1.8) * end;
    return up_the_globe(upper, rise * crease_height(opening));
}

/* The open eye's lower lid, never above a limit: the upper margin. */
static tcr_vec3 lower_point(const tcr_lid *lid, double u, double opening, tcr_vec3 closed,
                            double limit) {
    const double p = 0.54, c = 1.35, slope = lid->fissure_width_mm * tan(lid->canthal_tilt_rad);
    const double half = pow(pow(0.5 / p, p) * pow(0.5 / (1 - p), 1 - p), c);
    const double swell = pow(pow(u / p, p) * pow((1 - u) / (1 - p), 1 - p), c);
    const double base = lid->inner_corner_height_mm;
    const double open = base + u * slope - swell / half * (lid->mrd2_mm + base + slope / 2);
    const double radius = hypot(closed.y, closed.z);
    const double y = fmin(closed.y + opening * (open - closed.y), limit);
    closed.y = fmax(-radius, fmin(radius, y));
    closed.z = sqrt(radius * radius - closed.y * closed.y);
    return closed;
}

void tcr_eye_shape_of(const tcr_lid *lid, const tcr_viewport *viewport, tcr_eye_shape *shape) {
    const double opening = viewport->view.opening;
    double gap = 0;
    shape->low = (tcr_vec2){INFINITY, INFINITY};
    shape->high = (tcr_vec2){-INFINITY, -INFINITY};
    for (int i = 0; i < TCR_CONTOUR; i++) {
        /* Close at the corners, where the contour bends most. */
        const double u = (1 - cos(TCR_PI * i / (TCR_CONTOUR - 1))) / 2;
        tcr_vec3 upper = {0, 0, 0}, closed = {0, 0, 0};
        (void)tcr_lid_margin(lid, u, opening, &upper); /* all is valid */
        (void)tcr_lid_margin(lid, u, 0, &closed);
        shape->upper[i] = tcr_viewport_point(viewport, upper);
        shape->lower[i] =
            tcr_viewport_point(viewport, lower_point(lid, u, opening, closed, upper.y));
        shape->crease[i] = tcr_viewport_point(viewport, crease_point(upper, u, opening));
        const tcr_vec2 a = shape->upper[i], b = shape->lower[i];
        gap = fmax(gap, b.y - a.y);
        shape->low = (tcr_vec2){fmin(shape->low.x, a.x), fmin(shape->low.y, fmin(a.y, b.y))};
        shape->high = (tcr_vec2){fmax(shape->high.x, a.x), fmax(shape->high.y, fmax(a.y, b.y))};
    }
    shape->open = gap > 0.02 * viewport->scale;
}

void tcr_contour_moved(const tcr_vec2 contour[TCR_CONTOUR], double by,
                       tcr_vec2 moved[TCR_CONTOUR]) {
    for (int i = 0; i < TCR_CONTOUR; i++) {
        const double u = (1 - cos(TCR_PI * i / (TCR_CONTOUR - 1))) / 2;
        moved[i] = (tcr_vec2){contour[i].x, contour[i].y + by * pow(sin(TCR_PI * u), 0.6)};
    }
}
