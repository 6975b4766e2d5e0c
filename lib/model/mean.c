/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The mean lash of an eye (model.md, section 7). */
#include <tipcrest/mean.h>

#include <math.h>

#include "model/field_table.h"
#include "model/lash_kernel.h"
#include "model/set_data.h"
#include "num/range.h"

enum { KNOTS = TCR_MEAN_KNOTS, FEWEST_FOR_A_BROKEN_LINE = 12 };

static const double KNOT_U[KNOTS] = {0.0, 0.5, 1.0};
static const double NEAR_A_KNOT = 0.25;

/* A mean that is being taken. */
typedef struct running {
    double sum;
    size_t count;
} running;

/* Adds a number of a lash unless it is not known. */
static void add(running *r, const tcr_stored_lash *one, unsigned bit, double value) {
    if (one->assumed & bit)
        return;
    r->sum += value;
    r->count++;
}

static double mean_of(const running *r) { return r->sum / (double)r->count; }

/* The weights of the knots at u: 1 at one knot, 0 at the others, straight between. */
static void hats(double u, double weight[KNOTS]) {
    const double left = fmax(1.0 - 2.0 * u, 0.0), right = fmax(2.0 * u - 1.0, 0.0);
    weight[0] = left;
    weight[1] = 1.0 - left - right;
    weight[2] = right;
}

/*
 * The values at the knots from those that are free: an outer knot without a lash takes its
 * neighbour's value, the middle one the straight line between its neighbours.
 */
static void tie_knots(const bool has[KNOTS], double ties[KNOTS][KNOTS]) {
    for (int k = 0; k < KNOTS; k++) {
        for (int j = 0; j < KNOTS; j++)
            ties[k][j] = 0.0;
        if (has[k])
            ties[k][k] = 1.0;
        else if (k == 1)
            ties[k][0] = ties[k][2] = 0.5;
        else
            ties[k][1] = 1.0;
    }
}

/* Solves the normal equations of the free knots, in place; knots that are not free stay 0. */
static void solve(double a[KNOTS][KNOTS], double b[KNOTS], const bool is_free[KNOTS]) {
    for (int i = 0; i < KNOTS; i++) {
        if (!is_free[i]) {
            a[i][i] = 1.0;
            b[i] = 0.0;
        }
        for (int k = i + 1; k < KNOTS; k++) { /* positive definite: no pivoting */
            const double factor = a[k][i] / a[i][i];
            for (int j = i; j < KNOTS; j++)
                a[k][j] -= factor * a[i][j];
            b[k] -= factor * b[i];
        }
    }
    for (int i = KNOTS - 1; i >= 0; i--) {
        for (int j = i + 1; j < KNOTS; j++)
            b[i] -= a[i][j] * b[j];
        b[i] /= a[i][i];
    }
}

/* Whether a lash counts for the mean length. */
static bool has_length(const tcr_stored_lash *one) {
    return one->lash.condition == TCR_SUITABLE && !(one->assumed & TCR_LASH_LENGTH);
}

/* Where the lashes stand: near which knots, and whether all at one u. */
static bool can_break(const tcr_stored_eye *eye, bool has[KNOTS]) {
    double low = INFINITY, high = -INFINITY;
    size_t count = 0;
    for (size_t i = 0; i < eye->count; i++) {
        const double u = eye->lashes[i].lash.u;
        if (!has_length(&eye->lashes[i]))
            continue;
        count++;
        low = fmin(low, u);
        high = fmax(high, u);
        for (int k = 0; k < KNOTS; k++)
            has[k] = has[k] || fabs(u - KNOT_U[k]) < NEAR_A_KNOT;
    }
    return count >= FEWEST_FOR_A_BROKEN_LINE && low < high && has[0] + has[1] + has[2] >= 2;
}

/* The least-squares broken line through the lengths; false where their mean has to do. */
static bool broken_line(const tcr_stored_eye *eye, double length_mm[KNOTS]) {
    bool has[KNOTS] = {false};
    if (!can_break(eye, has))
        return false;
    double ties[KNOTS][KNOTS], a[KNOTS][KNOTS] = {{0.0}}, b[KNOTS] = {0.0};
    tie_knots(has, ties);
    for (size_t i = 0; i < eye->count; i++) {
        const tcr_stored_lash *one = &eye->lashes[i];
        double hat[KNOTS], row[KNOTS] = {0.0};
        if (!has_length(one))
            continue;
        hats(one->lash.u, hat);
        for (int j = 0; j < KNOTS; j++)
            for (int k = 0; k < KNOTS; k++)
                row[j] += hat[k] * ties[k][j];
        for (int j = 0; j < KNOTS; j++) {
            b[j] += row[j] * one->lash.length_mm;
            for (int k = 0; k < KNOTS; k++)
                a[j][k] += row[j] * row[k];
        }
    }
    solve(a, b, has);
    for (int k = 0; k < KNOTS; k++)
        length_mm[k] = ties[k][0] * b[0] + ties[k][1] * b[1] + ties[k][2] * b[2];
    return true;
}

/* What the eye's own suitable lashes say, over those numbers that are known; NaN for the rest. */
static tcr_lash own_means(const tcr_stored_eye *eye) {
    running height = {0}, pitch = {0}, yaw = {0}, roll = {0}, length = {0}, turn = {0}, root = {0},
            tip = {0};
    for (size_t i = 0; i < eye->count; i++) {
        const tcr_stored_lash *one = &eye->lashes[i];
        const tcr_lash *l = &one->lash;
        if (l->condition != TCR_SUITABLE)
            continue;
        if (l->layer == TCR_BOTTOM)
            add(&height, one, TCR_LASH_HEIGHT, l->height_mm);
        add(&pitch, one, TCR_LASH_PITCH, l->pitch_rad);
        add(&yaw, one, TCR_LASH_YAW, l->yaw_rad - tcr_yaw_by_default(l->u));
        add(&roll, one, TCR_LASH_ROLL, l->roll_rad);
        add(&length, one, TCR_LASH_LENGTH, l->length_mm);
        add(&turn, one, TCR_LASH_TURN, l->turn_rad);
        add(&root, one, TCR_LASH_ROOT_DIAMETER, l->root_diameter_mm);
        add(&tip, one, TCR_LASH_TIP_DIAMETER, l->tip_diameter_mm);
    }
    tcr_lash mean = tcr_lash_unknown(0.0, TCR_BOTTOM);
    mean.height_mm = mean_of(&height);
    mean.pitch_rad = mean_of(&pitch);
    mean.yaw_rad = tcr_yaw_by_default(0.0) + mean_of(&yaw);
    mean.roll_rad = mean_of(&roll);
    mean.length_mm = mean_of(&length);
    mean.turn_rad = mean_of(&turn);
    mean.root_diameter_mm = mean_of(&root);
    mean.tip_diameter_mm = mean_of(&tip);
    return mean;
}

tcr_status tcr_mean_lash_of(const tcr_set *set, tcr_side side, tcr_mean_lash *out) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    if (eye == NULL || out == NULL)
        return set == NULL || out == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    const tcr_lash *said = &set->mean_lash;
    const tcr_lash own = own_means(eye);
    tcr_lash known = *said;
    known.u = 0.0;
    known.final_length_mm = NAN; /* it does not grow */
    (void)tcr_fields_fill(TCR_GROUP_MEAN_LASH, &known, &own);
    tcr_mean_lash mean = {.yaw_slope_rad = 0.0}; /* whole before a call fills a part of it */
    mean.lash = tcr_lash_complete(&known, &mean.assumed);
    mean.yaw_slope_rad = isnan(said->yaw_rad) ? TCR_YAW_FAN_DEG * TCR_DEG : 0.0;
    mean.lash.tip_diameter_mm = fmin(mean.lash.tip_diameter_mm, mean.lash.root_diameter_mm);
    for (int k = 0; k < KNOTS; k++)
        mean.length_mm[k] = mean.lash.length_mm;
    if (isnan(said->length_mm))
        (void)broken_line(eye, mean.length_mm);
    *out = mean;
    return TCR_OK;
}

tcr_lash tcr_mean_lash_at(const tcr_mean_lash *mean, double u) {
    double hat[KNOTS];
    if (mean == NULL)
        return tcr_lash_unknown(NAN, TCR_BOTTOM);
    hats(u, hat);
    tcr_lash lash = mean->lash;
    lash.u = u;
    lash.yaw_rad += mean->yaw_slope_rad * u;
    lash.length_mm =
        hat[0] * mean->length_mm[0] + hat[1] * mean->length_mm[1] + hat[2] * mean->length_mm[2];
    return lash;
}

/* Layers without a lash lie a gap from their neighbour. */
static void assume_missing(tcr_layer_heights *h) {
    int lowest = 0;
    while (lowest < TCR_LAYERS && h->lashes[lowest] == 0)
        lowest++;
    if (lowest == TCR_LAYERS)
        h->height_mm[lowest = 0] = 0.0;
    for (int l = lowest - 1; l >= 0; l--)
        h->height_mm[l] = h->height_mm[l + 1] - TCR_GAP_MM;
    for (int l = lowest + 1; l < TCR_LAYERS; l++)
        if (h->lashes[l] == 0)
            h->height_mm[l] = h->height_mm[l - 1] + TCR_GAP_MM;
}

tcr_status tcr_layer_heights_of(const tcr_set *set, tcr_side side, tcr_layer_heights *out) {
    const tcr_stored_eye *eye = tcr_set_eye_of(set, side);
    if (eye == NULL || out == NULL)
        return set == NULL || out == NULL ? TCR_E_ARGUMENT : TCR_E_MISSING;
    tcr_layer_heights h = {.lashes = {0}};
    for (size_t i = 0; i < eye->count; i++) {
        const tcr_lash *lash = &eye->lashes[i].lash;
        if (lash->condition != TCR_SUITABLE)
            continue;
        h.height_mm[lash->layer] += lash->height_mm;
        h.lashes[lash->layer]++;
    }
    for (int l = 0; l < TCR_LAYERS; l++)
        if (h.lashes[l] > 0)
            h.height_mm[l] /= (double)h.lashes[l];
    assume_missing(&h);
    *out = h;
    return TCR_OK;
}

tcr_layer_heights tcr_layer_heights_apart(const tcr_layer_heights *heights, double apart_mm) {
    tcr_layer_heights h = {.height_mm = {NAN, NAN, NAN}};
    if (heights != NULL)
        h = *heights;
    for (int l = 1; l < TCR_LAYERS; l++)
        h.height_mm[l] = h.height_mm[TCR_BOTTOM] + l * apart_mm;
    return h;
}
