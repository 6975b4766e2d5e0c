/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The level step from layer to layer, solved on the tip itself, and what moves a tip (model.md, 5).
 */
#include <tipcrest/step.h>

#include <math.h>

#include "model/lash_kernel.h"
#include "model/set_data.h"
#include "num/range.h"
#include "num/root.h"

static const double PUPIL_U = 0.5, GAP_MM = 1.0;
static const double SHORTEST_MM = 3.0, LONGEST_MM = 30.0, SCAN_MM = 0.25;
static const double STEP = 1e-4; /* of central differences */

/* A tip whose height is asked for. */
typedef struct tip {
    const tcr_set *set;
    tcr_lid_constants lid;
    tcr_lash lash;
    tcr_extension ext;
    const tcr_curl *curl;
    double level_mm; /* subtracted from the height */
} tip;

static tip make_tip(const tcr_set *set, const tcr_step_question *q, int layer,
                    tcr_placement placement) {
    tip t = {.set = set, .lid = tcr_lid_prepare(tcr_set_get_lid(set, q->side))};
    t.lash = tcr_set_mean_lash_at(set, PUPIL_U);
    t.lash.height_mm += layer * GAP_MM;
    t.curl = tcr_set_get_curl(set, q->curl);
    t.ext = (tcr_extension){
        .length_mm = q->bottom_length_mm,
        .diameter_mm = set->layering.diameter_mm,
        .fan = set->layering.fan,
        .spread_rad = set->layering.spread_rad,
        .placement = placement,
    };
    return t;
}

/* Height of the tip over the level at an extension length; NaN where it cannot be bonded. */
static double height_at(double length_mm, void *context) {
    tip *t = context;
    t->ext.length_mm = length_mm;
    t->ext.profile = tcr_curl_profile(t->curl, length_mm);
    tcr_attachment attachment;
    if (tcr_attach_kernel(&t->lash, &t->ext, tcr_set_get_bond(t->set), &attachment) != TCR_OK)
        return NAN;
    const tcr_stance stance = tcr_lash_stance_kernel(&t->lash, &t->lid, 1.0);
    return tcr_stance_point_kernel(&stance, attachment.tip).y - t->level_mm;
}

/* Looks outward from a length, in steps, for the nearest change of sign, and solves there. */
static bool solve_level(tip *t, double from, double *length) {
    double below = from, above = from;
    const double start = height_at(from, t);
    double at_below = start, at_above = start;
    if (start == 0.0) {
        *length = from;
        return true;
    }
    while (below > SHORTEST_MM || above < LONGEST_MM) {
        const double lower = fmax(below - SCAN_MM, SHORTEST_MM);
        const double at_lower = height_at(lower, t);
        if (lower < below && (at_lower > 0.0) != (at_below > 0.0))
            return tcr_root(height_at, t, lower, below, length);
        const double upper = fmin(above + SCAN_MM, LONGEST_MM);
        const double at_upper = height_at(upper, t);
        if (upper > above && (at_upper > 0.0) != (at_above > 0.0))
            return tcr_root(height_at, t, above, upper, length);
        below = lower;
        at_below = at_lower;
        above = upper;
        at_above = at_upper;
    }
    return false;
}

/* The tray's length whose tip comes nearest to the level. */
static void nearest_of_tray(tip *t, double *length, double *left_over) {
    const tcr_tray *tray = tcr_set_get_tray(t->set);
    *left_over = INFINITY;
    for (size_t i = 0; i < tray->count; i++) {
        const double height = height_at(tray->length_mm[i], t);
        if (fabs(height) < fabs(*left_over)) {
            *left_over = height;
            *length = tray->length_mm[i];
        }
    }
}

static tcr_status check_question(const tcr_set *set, const tcr_step_question *q) {
    if (set == NULL || q == NULL)
        return TCR_E_ARGUMENT;
    if (tcr_set_eye_of(set, q->side) == NULL)
        return TCR_E_MISSING;
    const tcr_placement placements[] = {q->bottom, q->middle, q->top};
    for (int i = 0; i < TCR_LAYERS; i++)
        if ((int)placements[i] < 0 || (int)placements[i] >= TCR_PLACEMENTS)
            return TCR_E_ARGUMENT;
    if (q->curl >= tcr_set_curl_count(set))
        return TCR_E_ARGUMENT;
    return tcr_within(q->bottom_length_mm, SHORTEST_MM, LONGEST_MM) ? TCR_OK : TCR_E_RANGE;
}

tcr_status tcr_step_of(const tcr_set *set, const tcr_step_question *question, tcr_step *out) {
    const tcr_status status = check_question(set, question);
    if (status != TCR_OK || out == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    tip bottom = make_tip(set, question, 0, question->bottom);
    const double level = height_at(question->bottom_length_mm, &bottom);
    if (isnan(level))
        return TCR_E_BOND;
    const tcr_placement placement[TCR_UPPER_LAYERS] = {question->middle, question->top};
    tcr_step step = {0};
    double below = question->bottom_length_mm;
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        tip upper = make_tip(set, question, i + 1, placement[i]);
        upper.level_mm = level;
        const bool level_found =
            solve_level(&upper, question->bottom_length_mm, &step.length_mm[i]);
        step.status[i] = level_found ? TCR_OK : TCR_E_RANGE;
        if (!level_found)
            step.length_mm[i] = NAN;
        step.step_mm[i] = below - step.length_mm[i];
        below = step.length_mm[i];
        nearest_of_tray(&upper, &step.tray_mm[i], &step.left_over_mm[i]);
    }
    *out = step;
    return TCR_OK;
}

/* d(height)/d(one number of the tip), the number given by its address inside the tip. */
static double slope_by(tip *t, double *number) {
    const double length = t->ext.length_mm, before = *number;
    *number = before + STEP;
    const double up = height_at(number == &t->ext.length_mm ? *number : length, t);
    *number = before - STEP;
    const double down = height_at(number == &t->ext.length_mm ? *number : length, t);
    *number = before;
    return (up - down) / (2.0 * STEP);
}

tcr_status tcr_step_sensitivity(const tcr_set *set, const tcr_step_question *question,
                                tcr_sensitivity *out) {
    const tcr_status status = check_question(set, question);
    if (status != TCR_OK || out == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    tip t = make_tip(set, question, 0, question->bottom);
    if (isnan(height_at(question->bottom_length_mm, &t)))
        return TCR_E_BOND;
    tcr_sensitivity s = {
        .per_height = slope_by(&t, &t.lash.height_mm),
        .per_pitch = slope_by(&t, &t.lash.pitch_rad),
        .per_natural = slope_by(&t, &t.lash.length_mm),
        .per_turn = slope_by(&t, &t.lash.turn_rad),
        .per_length = slope_by(&t, &t.ext.length_mm),
    };
    tip on_top = make_tip(set, question, 0, TCR_ON_TOP);
    const double reference = height_at(question->bottom_length_mm, &on_top);
    for (int p = 0; p < TCR_PLACEMENTS; p++) {
        tip laid = make_tip(set, question, 0, (tcr_placement)p);
        s.by_placement_mm[p] = height_at(question->bottom_length_mm, &laid) - reference;
    }
    *out = s;
    return TCR_OK;
}
