/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The lid for callers outside the kernels: defaults, validity, frame and margin (model.md, section
 * 2).
 */
#include <tipcrest/lid.h>

#include <math.h>
#include <stddef.h>

#include "model/field_table.h"
#include "model/lid_kernel.h"
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"

/* Lashes root between these (model.md, section 2), the range of a lash's u. */
static const double U_LOW = TCR_U_LEAST, U_HIGH = TCR_U_MOST;

tcr_lid tcr_lid_default(void) {
    tcr_lid lid;
    tcr_fields_default(TCR_GROUP_LID, &lid);
    return lid;
}

tcr_lid tcr_lid_unknown(void) { return (tcr_lid){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN}; }

tcr_lid tcr_lid_complete(const tcr_lid *lid, unsigned *assumed) {
    const tcr_lid usual = tcr_lid_default();
    tcr_lid complete = lid != NULL ? *lid : tcr_lid_unknown();
    const unsigned bits = tcr_fields_fill(TCR_GROUP_LID, &complete, &usual);
    if (assumed != NULL)
        *assumed = bits;
    return complete;
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

static tcr_status refuse_semiaxis(const tcr_lid *lid, tcr_error *error) {
    const tcr_field *field = tcr_field_find(TCR_GROUP_LID, "lateral_semiaxis_mm");
    const double least = lid->fissure_width_mm / 2.0;
    char found[TCR_NUMBER_SIZE], half[TCR_NUMBER_SIZE];
    tcr_number_text(lid->lateral_semiaxis_mm, found);
    tcr_number_text(least, half);
    tcr_error_set(error, TCR_E_SEMIAXIS,
                  "lateral_semiaxis_mm is %s, but must be above %s, half of fissure_width_mm",
                  found, half);
    tcr_error_number(error, field->member, lid->lateral_semiaxis_mm, least, field->core.most);
    return TCR_E_SEMIAXIS;
}

static tcr_status refuse_globe(const tcr_lid *lid, bool open, tcr_error *error) {
    const tcr_status status = open ? TCR_E_MRD1 : TCR_E_MRD2;
    const tcr_field *field = tcr_field_find(TCR_GROUP_LID, open ? "mrd1_mm" : "mrd2_mm");
    const double value = open ? lid->mrd1_mm : lid->mrd2_mm;
    char found[TCR_NUMBER_SIZE];
    tcr_number_text(value, found);
    tcr_error_set(error, status,
                  "%s is %s; with the other measures the %s lid then leaves the globe",
                  field->member, found, open ? "open" : "closed");
    tcr_error_number(error, field->member, value, field->core.least, field->core.most);
    return status;
}

tcr_status tcr_lid_validate(const tcr_lid *lid, tcr_error *error) {
    const tcr_status status = tcr_fields_validate(TCR_GROUP_LID, lid, error);
    if (status != TCR_OK)
        return status;
    if (lid->lateral_semiaxis_mm <= lid->fissure_width_mm / 2.0)
        return refuse_semiaxis(lid, error);
    const tcr_lid_constants k = tcr_lid_prepare(lid);
    if (surely_on_globe(&k))
        return TCR_OK;
    if (!(largest_reach(&k, true) < 1.0))
        return refuse_globe(lid, true, error);
    if (!(largest_reach(&k, false) < 1.0))
        return refuse_globe(lid, false, error);
    return TCR_OK;
}

tcr_status tcr_lid_frame(const tcr_lid *lid, double u, double opening, tcr_frame *frame) {
    const tcr_status status = tcr_lid_validate(lid, NULL);
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

static double edge_asin(double y, double rho) { return tcr_arcsine(tcr_cut(y / rho, -1.0, 1.0)); }

tcr_status tcr_lid_margin(const tcr_lid *lid, double u, double opening, tcr_vec3 *point) {
    const tcr_status status = tcr_lid_validate(lid, NULL);
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
    *point = (tcr_vec3){at.x, at.rho * tcr_sine(phi), at.rho * tcr_cosine(phi)};
    return TCR_OK;
}
