/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Doubts about a set: numbers that are in range and yet look like those of another unit or column.
 * Each is a pass or two over the lashes of an eye. All bounds are assumed; they lie far from what
 * is published or common (doc/model.md, sections 2, 3 and 11), so that real eyes stay clear of
 * them.
 */
#include <tipcrest/doubts.h>

#include <math.h>
#include <stdint.h>

#include <tipcrest/line.h>

#include "num/range.h"

static const double REVERSED_MM = 0.1;     /* the sd of a described height */
static const double LENGTH_LEAST_MM = 2.0; /* natural lashes: 7.5, sd 1 */
/* Layers 1 mm apart, in centimetres; those of people are at least 0.3 mm apart. */
static const double APART_LEAST_MM = 0.04, APART_MOST_MM = 0.15;
/* A natural turn of 60 degrees is 1.05 rad; the longest, 200 degrees, is 3.5. */
/* The roots of one layer: sd 0.1; the layers of people are 1 mm apart. */
static const double SPREAD_LEAST_MM = 0.8;
static const double TURN_LEAST_DEG = 0.2, TURN_MOST_DEG = 3.5;
static const double WHOLE_TURN = 6.3;    /* radians of a full turn */
static const double MRD1_LEAST_MM = 1.0; /* of a lid: 3.5 */
enum { LAYER_FEWEST = 6 };               /* 12 random lashes stand so once in 462 times */

static const char *const TEXT[] = {
    "layers_reversed",  "lengths_cm",       "heights_cm", "turns_rad", "curls_rad",
    "lid_hardly_opens", "layers_along_lid", "all_alike",  "one_half",  "one_layer"};

const char *tcr_doubt_text(tcr_doubt_kind kind) {
    return (int)kind >= 0 && (int)kind < TCR_DOUBT_KINDS ? TEXT[kind] : "unknown";
}

/* ---- The lashes of an eye ------------------------------------------------------------ */

typedef struct layer_sums {
    size_t lashes;
    double height_mm; /* sum */
    double low_mm, high_mm;
    double u_least, u_most;
} layer_sums;

/* Lashes of one condition: how many, how many of them too short, the sum of their lengths. */
typedef struct length_sums {
    size_t lashes, shorter;
    double mm;
} length_sums;

static void add_length(length_sums *sums, bool counts, double length_mm) {
    sums->lashes += counts;
    sums->shorter += counts && length_mm < LENGTH_LEAST_MM;
    sums->mm += counts ? length_mm : 0.0;
}

/* What one pass over the lashes of an eye tells. */
typedef struct eye_sums {
    size_t lashes, turned;
    double u, u_least, u_most;
    length_sums suitable, baby;
    double turn_deg, turn_most_deg;
    layer_sums layer[TCR_LAYERS];
} eye_sums;

static void add_lash(eye_sums *sums, const tcr_lash *lash, bool turn_assumed) {
    layer_sums *layer = &sums->layer[lash->layer];
    const bool suitable = lash->condition == TCR_SUITABLE, baby = lash->condition == TCR_BABY;
    sums->lashes++;
    sums->u += lash->u;
    sums->u_least = fmin(sums->u_least, lash->u);
    sums->u_most = fmax(sums->u_most, lash->u);
    add_length(&sums->suitable, suitable, lash->length_mm);
    add_length(&sums->baby, baby, lash->length_mm);
    layer->lashes++;
    layer->height_mm += lash->height_mm;
    if (suitable) {
        layer->low_mm = fmin(layer->low_mm, lash->height_mm);
        layer->high_mm = fmax(layer->high_mm, lash->height_mm);
    }
    layer->u_least = fmin(layer->u_least, lash->u);
    layer->u_most = fmax(layer->u_most, lash->u);
    if (turn_assumed)
        return;
    sums->turned++;
    sums->turn_deg += lash->turn_rad / TCR_DEG;
    sums->turn_most_deg = fmax(sums->turn_most_deg, fabs(lash->turn_rad) / TCR_DEG);
}

static eye_sums sum_up(const tcr_set *set, tcr_side side) {
    eye_sums sums = {.u_least = INFINITY, .u_most = -INFINITY};
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        sums.layer[layer].u_least = INFINITY;
        sums.layer[layer].u_most = -INFINITY;
        sums.layer[layer].low_mm = INFINITY;
        sums.layer[layer].high_mm = -INFINITY;
    }
    const size_t count = tcr_set_lash_count(set, side);
    for (size_t i = 0; i < count; i++)
        add_lash(&sums, tcr_set_lash(set, side, i),
                 (tcr_set_assumed(set, side, i) & TCR_LASH_TURN) != 0);
    return sums;
}

/* How far the highest layer with lashes lies above the lowest, mm, and how many layers up; NaN for
 * one layer. */
static double rise_of(const eye_sums *sums, int *layers_up) {
    int low = 0, high = TCR_LAYERS - 1;
    while (low < high && sums->layer[low].lashes == 0)
        low++;
    while (high > low && sums->layer[high].lashes == 0)
        high--;
    *layers_up = high - low;
    if (low == high)
        return NAN;
    const layer_sums *above = &sums->layer[high], *below = &sums->layer[low];
    return above->height_mm / (double)above->lashes - below->height_mm / (double)below->lashes;
}

/* How far apart the suitable lashes of an eye root that has one layer only; -INFINITY for others.
 */
static double spread_of_only_layer(const eye_sums *sums) {
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        if (sums->layer[layer].lashes == sums->lashes)
            return sums->layer[layer].high_mm - sums->layer[layer].low_mm;
    return -INFINITY;
}

/* The number of layers where each has a stretch of the lid of its own, else 0. */
static size_t layers_along_lid(const eye_sums *sums) {
    size_t layers = 0;
    for (int a = 0; a < TCR_LAYERS; a++) {
        const layer_sums *one = &sums->layer[a];
        if (one->lashes == 0)
            continue;
        if (one->lashes < LAYER_FEWEST)
            return 0;
        layers++;
        for (int b = 0; b < a; b++) {
            const layer_sums *other = &sums->layer[b];
            if (other->lashes > 0 && one->u_least <= other->u_most && other->u_least <= one->u_most)
                return 0;
        }
    }
    return layers > 1 ? layers : 0;
}

static bool are_alike(const tcr_set *set, tcr_side side) {
    const tcr_lash *of_layer[TCR_LAYERS] = {NULL};
    const size_t count = tcr_set_lash_count(set, side);
    const tcr_lash *first = tcr_set_lash(set, side, 0);
    for (size_t i = 0; i < count; i++) {
        const tcr_lash *lash = tcr_set_lash(set, side, i);
        const tcr_lash **same = &of_layer[lash->layer];
        if (*same == NULL)
            *same = lash;
        if (lash->length_mm != first->length_mm || lash->pitch_rad != first->pitch_rad ||
            lash->turn_rad != first->turn_rad || lash->height_mm != (*same)->height_mm)
            return false;
    }
    return count >= TCR_TOO_FEW;
}

/* ---- The doubts ---------------------------------------------------------------------- */

typedef struct doubt_list {
    tcr_doubt *doubt;
    size_t count;
} doubt_list;

static void add(doubt_list *list, tcr_doubt_kind kind, int side, double found, size_t lashes) {
    list->doubt[list->count++] =
        (tcr_doubt){.kind = kind, .side = side, .curl = SIZE_MAX, .found = found, .lashes = lashes};
}

/* How far a profile turns in all, each piece counted as positive, degrees. */
static double whole_turn(const tcr_profile *profile) {
    double turn_rad = 0.0;
    for (int piece = 0; piece < profile->pieces; piece++)
        turn_rad += fabs(profile->turn_rad[piece]);
    return turn_rad / TCR_DEG;
}

static void doubt_curls(doubt_list *list, const tcr_set *set) {
    size_t first = SIZE_MAX, found = 0;
    double turn_deg = NAN;
    for (size_t i = 0; i < tcr_set_curl_count(set); i++) {
        const double turn = whole_turn(&tcr_set_curl(set, i)->profiles[0]);
        if (turn <= 0.0 || turn >= WHOLE_TURN)
            continue;
        if (found++ > 0)
            continue;
        first = i;
        turn_deg = turn;
    }
    if (found == 0)
        return;
    add(list, TCR_DOUBT_CURLS_RAD, -1, turn_deg, found);
    list->doubt[list->count - 1].curl = first;
}

static void doubt_heights(doubt_list *list, tcr_side side, const eye_sums *sums) {
    int layers_up;
    const double rise_mm = rise_of(sums, &layers_up);
    const double apart_mm = rise_mm / layers_up;
    if (rise_mm <= -REVERSED_MM)
        add(list, TCR_DOUBT_LAYERS_REVERSED, (int)side, rise_mm, sums->lashes);
    if (apart_mm >= APART_LEAST_MM && apart_mm <= APART_MOST_MM)
        add(list, TCR_DOUBT_HEIGHTS_CM, (int)side, apart_mm, sums->lashes);
}

static void doubt_turns(doubt_list *list, tcr_side side, const eye_sums *sums) {
    const double turn_deg = sums->turn_deg / (double)sums->turned;
    const bool looks_so = fabs(turn_deg) >= TURN_LEAST_DEG && fabs(turn_deg) <= TURN_MOST_DEG;
    /* Few lashes may turn both ways by chance. */
    if (looks_so && (sums->turned >= TCR_TOO_FEW || sums->turn_most_deg <= WHOLE_TURN))
        add(list, TCR_DOUBT_TURNS_RAD, (int)side, turn_deg, sums->turned);
}

static void doubt_eye(doubt_list *list, const tcr_set *set, tcr_side side) {
    const eye_sums sums = sum_up(set, side);
    const double mrd1_mm = tcr_set_lid(set, side)->mrd1_mm;
    const size_t along = layers_along_lid(&sums);
    /* Described lashes in centimetres are all too short to be anything but babies. */
    const length_sums *of = sums.suitable.lashes > 0 ? &sums.suitable : &sums.baby;
    if (of->lashes > 0 && 2 * of->shorter >= of->lashes)
        add(list, TCR_DOUBT_LENGTHS_CM, (int)side, of->mm / (double)of->lashes, of->shorter);
    doubt_heights(list, side, &sums);
    if (sums.turned > 0)
        doubt_turns(list, side, &sums);
    if (mrd1_mm < MRD1_LEAST_MM)
        add(list, TCR_DOUBT_LID_HARDLY_OPENS, (int)side, mrd1_mm, 0);
    if (along > 0)
        add(list, TCR_DOUBT_LAYERS_ALONG_LID, (int)side, (double)along, sums.lashes);
    if (are_alike(set, side))
        add(list, TCR_DOUBT_ALL_ALIKE, (int)side, tcr_set_lash(set, side, 0)->length_mm,
            sums.lashes);
    if (sums.lashes >= TCR_TOO_FEW && (sums.u_most < 0.5 || sums.u_least > 0.5))
        add(list, TCR_DOUBT_ONE_HALF, (int)side, sums.u / (double)sums.lashes, sums.lashes);
    if (sums.lashes >= TCR_TOO_FEW && spread_of_only_layer(&sums) >= SPREAD_LEAST_MM)
        add(list, TCR_DOUBT_ONE_LAYER, (int)side, spread_of_only_layer(&sums), sums.lashes);
}

tcr_status tcr_doubts_of(const tcr_set *set, tcr_doubt doubts[TCR_DOUBTS_MAX], size_t *count) {
    if (set == NULL || doubts == NULL || count == NULL)
        return TCR_E_ARGUMENT;
    doubt_list list = {.doubt = doubts};
    doubt_curls(&list, set);
    for (int side = 0; side < TCR_SIDES; side++)
        if (tcr_set_has_eye(set, (tcr_side)side))
            doubt_eye(&list, set, (tcr_side)side);
    *count = list.count;
    return TCR_OK;
}
