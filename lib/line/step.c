/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The level step from layer to layer, solved on the tip itself, and what moves a tip (model.md, 5).
 */
#include <tipcrest/step.h>

#include <math.h>
#include <tipcrest/line_rule.h>
#include <tipcrest/mean.h>

#include "model/evaluate.h"
#include "model/field_table.h"
#include "model/set_data.h"
#include "num/range.h"
#include "num/root.h"

static const double PUPIL_U = 0.5;
static const tcr_span LENGTHS_MM = {TCR_EXTENSION_LENGTH_RANGE, 0.25};
static const double STEP = 1e-4; /* of central differences */

/* A tip whose height is asked for. */
typedef struct tip {
    const tcr_set *set;
    tcr_looking at;
    tcr_lash lash;
    tcr_choice worn;
    tcr_sight sight;
    double level_mm; /* subtracted from the height */
} tip;

static tip make_tip(const tcr_set *set, const tcr_step_question *q, int layer,
                    tcr_placement placement) {
    const tcr_view open_front = tcr_view_named(TCR_OPEN_FRONT);
    const tcr_layering *layering = tcr_set_layering(set);
    tip t = {.set = set, .at = tcr_looking_at(tcr_set_lid(set, q->side), &open_front)};
    tcr_mean_lash mean;
    tcr_layer_heights layers;
    (void)tcr_mean_lash_of(set, q->side, &mean); /* the eye is there */
    (void)tcr_layer_heights_of(set, q->side, &layers);
    if (q->has_apart)
        layers = tcr_layer_heights_apart(&layers, q->apart_mm);
    t.lash = tcr_mean_lash_at(&mean, PUPIL_U);
    t.lash.height_mm += layers.height_mm[layer] - layers.height_mm[TCR_BOTTOM];
    t.worn = (tcr_choice){
        .length_mm = q->bottom_length_mm,
        .curl = q->curl,
        .diameter_mm = layering->diameter_mm,
        .fan = layering->fan,
        .spread_rad = layering->spread_rad,
        .placement = placement,
    };
    return t;
}

/* Height of the tip over the level; NaN where it cannot be bonded. */
static double height_of(tip *t) {
    if (tcr_evaluate_worn(&t->at, t->set, &t->lash, &t->worn, TCR_ANEW_ALL, &t->sight) != TCR_OK)
        return NAN;
    return t->sight.tip.y - t->level_mm;
}

static double height_at(double length_mm, void *context) {
    tip *t = context;
    t->worn.length_mm = length_mm;
    return height_of(t);
}

/* The length at hand whose tip comes nearest to the level, NaN if none of the curl is; without a
 * tray the level length. */
static void nearest_of_tray(tip *t, double level_length, double *length, double *left_over) {
    tcr_tray room;
    const tcr_tray *tray = tcr_set_tray_for(t->set, &t->worn, &room);
    *length = *left_over = NAN;
    for (size_t i = 0; tray != NULL && i < tray->count; i++) {
        const double height = height_at(tray->length_mm[i], t);
        if (!isnan(height) && !(fabs(height) >= fabs(*left_over))) {
            *left_over = height;
            *length = tray->length_mm[i];
        }
    }
    if (tray != NULL && tray->count == 0) {
        *length = level_length;
        *left_over = isnan(level_length) ? NAN : 0.0;
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
    if (q->has_apart && !tcr_within(q->apart_mm, 0.0, 3.0))
        return TCR_E_RANGE;
    return tcr_within(q->bottom_length_mm, LENGTHS_MM.low, LENGTHS_MM.high) ? TCR_OK : TCR_E_RANGE;
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
        const bool level_found = tcr_root_outward(height_at, &upper, question->bottom_length_mm,
                                                  LENGTHS_MM, &step.length_mm[i]);
        step.status[i] = level_found ? TCR_OK : TCR_E_RANGE;
        if (!level_found)
            step.length_mm[i] = NAN;
        step.step_mm[i] = below - step.length_mm[i];
        below = step.length_mm[i];
        nearest_of_tray(&upper, step.length_mm[i], &step.tray_mm[i], &step.left_over_mm[i]);
        step.shows_from_mm[i] = tcr_distance_of(fabs(step.left_over_mm[i]));
    }
    *out = step;
    return TCR_OK;
}

/* d(height)/d(one number of the tip), the number given by its address inside the tip. */
static double slope_by(tip *t, double *number) {
    const double before = *number;
    *number = before + STEP;
    const double up = height_of(t);
    *number = before - STEP;
    const double down = height_of(t);
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
        .per_length = slope_by(&t, &t.worn.length_mm),
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

/* How far the tip of the bottom layer rises when its root or its extension changes by 1 mm. */
static tcr_status find_levers(const tcr_set *set, const tcr_step_question *q, tcr_step_reason *r) {
    tip t = make_tip(set, q, 0, q->bottom);
    const double level = height_at(q->bottom_length_mm, &t);
    const double shorter_mm = q->bottom_length_mm - 1.0;
    if (isnan(level))
        return TCR_E_BOND;
    r->by_shorter_mm = shorter_mm < LENGTHS_MM.low ? NAN : height_at(shorter_mm, &t) - level;
    t.lash.height_mm += 1.0;
    r->by_higher_mm = height_at(q->bottom_length_mm, &t) - level;
    return TCR_OK;
}

tcr_status tcr_step_reason_of(const tcr_set *set, const tcr_step_question *question,
                              tcr_step_reason *out) {
    tcr_status status = check_question(set, question);
    if (status != TCR_OK || out == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    tcr_step_reason reason;
    tcr_step_question alike = *question;
    tcr_step asked, by_height;
    alike.middle = alike.top = question->bottom;
    status = find_levers(set, question, &reason);
    if (status == TCR_OK)
        status = tcr_step_of(set, question, &asked);
    if (status == TCR_OK)
        status = tcr_step_of(set, &alike, &by_height);
    if (status != TCR_OK)
        return status;
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        reason.by_height_mm[i] = question->bottom_length_mm - by_height.length_mm[i];
        reason.by_placement_mm[i] = by_height.length_mm[i] - asked.length_mm[i];
    }
    *out = reason;
    return TCR_OK;
}
