/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What an assumed input hides: the mean rise or fall of a tip in the view for one unit of it, by
 * central differences on at most SAMPLE lashes spread evenly over the eye.
 */
#include "line/check_data.h"

#include <math.h>
#include <stddef.h>

enum { SAMPLE = 200 };

/* Small against every range, large against rounding: the error is about 1e-8 of the answer. */
static const double STEP = 1e-4;

/* An input, and what has to be evaluated anew where it changes. Those that leave the attachments
 * stand first, so that these are still the set's own. */
typedef struct input {
    size_t offset; /* in tcr_lash */
    unsigned field;
    unsigned anew;
} input;

static const input INPUTS[TCR_ASSUMPTIONS_MAX] = {
    {offsetof(tcr_lash, height_mm), TCR_LASH_HEIGHT, TCR_ANEW_ROOT},
    {offsetof(tcr_lash, pitch_rad), TCR_LASH_PITCH, TCR_ANEW_ROOT},
    {offsetof(tcr_lash, yaw_rad), TCR_LASH_YAW, TCR_ANEW_ROOT},
    {offsetof(tcr_lash, roll_rad), TCR_LASH_ROLL, TCR_ANEW_ROOT},
    {offsetof(tcr_lash, turn_rad), TCR_LASH_TURN, TCR_ANEW_ALL},
    {offsetof(tcr_lash, root_diameter_mm), TCR_LASH_ROOT_DIAMETER, TCR_ANEW_ALL},
    {offsetof(tcr_lash, tip_diameter_mm), TCR_LASH_TIP_DIAMETER, TCR_ANEW_ALL},
};

typedef struct move {
    size_t offset;
    double by;
} move;

static void move_input(const void *context, tcr_changed *changed) {
    const move *m = context;
    *(double *)(void *)((char *)&changed->lash + m->offset) += m->by;
}

/* Height of a tip in the view with an input moved. */
static double height_with(const tcr_variant *v, size_t j, const input *of, double by) {
    const move m = {of->offset, by};
    const tcr_status status = tcr_variant_evaluate_one(v, j, move_input, &m, of->anew);
    return status == TCR_OK ? v->y_mm[j] : NAN;
}

static double mean_rise(const tcr_checked_eye *eye, const input *of) {
    const tcr_variant *v = &eye->variant;
    const size_t stride = eye->result.lashes / SAMPLE + 1;
    double sum = 0.0;
    size_t count = 0;
    for (size_t j = 0; j < v->n; j++) {
        if (v->index[j] % stride != 0 ||
            !(tcr_set_assumed(v->set, v->side, v->index[j]) & of->field))
            continue;
        sum += fabs(height_with(v, j, of, STEP) - height_with(v, j, of, -STEP)) / (2.0 * STEP);
        count++;
    }
    return count > 0 ? sum / (double)count : NAN;
}

void tcr_check_assumptions(tcr_checked_eye *eye) {
    const tcr_variant *v = &eye->variant;
    tcr_eye_result *result = &eye->result;
    for (size_t f = 0; f < TCR_ASSUMPTIONS_MAX; f++) {
        size_t count = 0;
        for (size_t i = 0; i < result->lashes; i++)
            count += (tcr_set_assumed(v->set, v->side, i) & INPUTS[f].field) != 0;
        if (count > 0)
            result->assumption[result->assumptions++] =
                (tcr_assumption){INPUTS[f].field, count, mean_rise(eye, &INPUTS[f])};
    }
}
