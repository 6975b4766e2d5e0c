/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What an assumed input hides: the mean rise or fall of a tip in the view for one unit of it, by
 * central differences on at most SAMPLE lashes spread evenly over the eye.
 */
#include "line/check_data.h"

#include <math.h>

#include "model/lash_kernel.h"

enum { SAMPLE = 200 };

/* Small against every range, large against rounding: the error is about 1e-8 of the answer. */
static const double STEP = 1e-4;

static const unsigned FIELDS[TCR_ASSUMPTIONS_MAX] = {
    TCR_LASH_HEIGHT, TCR_LASH_PITCH,         TCR_LASH_YAW,          TCR_LASH_ROLL,
    TCR_LASH_TURN,   TCR_LASH_ROOT_DIAMETER, TCR_LASH_TIP_DIAMETER,
};

static double *field_of(tcr_lash *lash, unsigned field) {
    switch (field) {
    case TCR_LASH_HEIGHT:
        return &lash->height_mm;
    case TCR_LASH_PITCH:
        return &lash->pitch_rad;
    case TCR_LASH_YAW:
        return &lash->yaw_rad;
    case TCR_LASH_ROLL:
        return &lash->roll_rad;
    case TCR_LASH_TURN:
        return &lash->turn_rad;
    case TCR_LASH_ROOT_DIAMETER:
        return &lash->root_diameter_mm;
    default:
        return &lash->tip_diameter_mm;
    }
}

/* Height of the tip in the view with a field moved by a step. */
static double height_with(const tcr_set *set, const tcr_lid_constants *k, const tcr_lash *lash,
                          const tcr_extension *ext, const tcr_view *view, unsigned field,
                          double step) {
    tcr_lash moved = *lash;
    *field_of(&moved, field) += step;
    tcr_attachment attachment;
    if (tcr_attach_kernel(&moved, ext, tcr_set_get_bond(set), &attachment) != TCR_OK)
        return NAN;
    const tcr_stance stance = tcr_lash_stance_kernel(&moved, k, view->opening);
    return tcr_view_project(view, tcr_stance_point_kernel(&stance, attachment.tip)).y;
}

static double mean_rise(const tcr_set *set, tcr_side side, const tcr_view *view,
                        const tcr_eye_result *eye, unsigned field) {
    const tcr_lid_constants k = tcr_lid_prepare(tcr_set_get_lid(set, side));
    const size_t stride = eye->lashes / SAMPLE + 1;
    double sum = 0.0;
    size_t count = 0;
    for (size_t i = 0; i < eye->lashes; i += stride) {
        const tcr_lash *lash = tcr_set_get_lash(set, side, i);
        if (eye->lash[i].bare != TCR_OK || !(lash->assumed & field))
            continue;
        const tcr_extension ext = tcr_set_extension(set, &eye->lash[i].choice);
        const double up = height_with(set, &k, lash, &ext, view, field, STEP);
        const double down = height_with(set, &k, lash, &ext, view, field, -STEP);
        sum += fabs(up - down) / (2.0 * STEP);
        count++;
    }
    return count > 0 ? sum / (double)count : NAN;
}

void tcr_check_assumptions(const tcr_set *set, tcr_side side, const tcr_view *view,
                           tcr_eye_result *eye) {
    eye->assumptions = 0;
    for (size_t f = 0; f < TCR_ASSUMPTIONS_MAX; f++) {
        size_t count = 0;
        for (size_t i = 0; i < eye->lashes; i++)
            if (tcr_set_get_lash(set, side, i)->assumed & FIELDS[f])
                count++;
        if (count > 0)
            eye->assumption[eye->assumptions++] =
                (tcr_assumption){FIELDS[f], count, mean_rise(set, side, view, eye, FIELDS[f])};
    }
}
