/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The lashes of a run: drawn from the description with the values of the point, or about those of a
 * survey; then moved where the point says how far apart the layers are. The random numbers of a run
 * are kept while the run stays, so that all points of a tile share them.
 */
#include <math.h>
#include <stddef.h>
#include <string.h>

#include <tipcrest/field.h>
#include <tipcrest/mean.h>
#include <tipcrest/random.h>

#include "num/error.h"
#include "num/memory.h"
#include "num/range.h"
#include "study/study.h"

enum { USE_VARIED = 6 };

/* What varies in a survey: the random number's field, the key of the lash, the spread's sd. */
static const struct {
    tcr_describe_field field;
    const char *key;
    size_t lash, sd;
} VARIED[TCR_VARIED] = {
    {TCR_FIELD_HEIGHT, "height_mm", offsetof(tcr_lash, height_mm),
     offsetof(tcr_description, height_sd_mm)},
    {TCR_FIELD_PITCH, "pitch_deg", offsetof(tcr_lash, pitch_rad),
     offsetof(tcr_description, pitch_sd_rad)},
    {TCR_FIELD_YAW, "yaw_deg", offsetof(tcr_lash, yaw_rad), offsetof(tcr_description, yaw_sd_rad)},
    {TCR_FIELD_ROLL, "roll_deg", offsetof(tcr_lash, roll_rad),
     offsetof(tcr_description, roll_sd_rad)},
    {TCR_FIELD_TURN, "turn_deg", offsetof(tcr_lash, turn_rad),
     offsetof(tcr_description, turn_sd_rad)},
};

static double number_at(const void *object, size_t offset) {
    return *(const double *)(const void *)((const char *)object + offset);
}

/* ---- Room ------------------------------------------------------------------------------------ */

static tcr_status make_room(tcr_trial *trial, tcr_side side, size_t n) {
    const tcr_allocator *a = &trial->allocator;
    tcr_trial_eye *eye = &trial->eye[side];
    const bool described = tcr_set_description(trial->study->set, side) != NULL;
    if (n <= eye->room)
        return TCR_OK;
    tcr_lash *lash = tcr_resize(a, eye->lash, n, sizeof *lash);
    eye->lash = lash != NULL ? lash : eye->lash;
    tcr_lash *moved = tcr_resize(a, eye->moved, n, sizeof *moved);
    eye->moved = moved != NULL ? moved : eye->moved;
    double *base = tcr_resize(a, eye->base_mm, n, sizeof *base);
    eye->base_mm = base != NULL ? base : eye->base_mm;
    void *numbers;
    if (described)
        eye->draw = (numbers = tcr_resize(a, eye->draw, n, sizeof *eye->draw)) != NULL ? numbers
                                                                                       : eye->draw;
    else
        eye->shift = (numbers = tcr_resize(a, eye->shift, n, sizeof *eye->shift)) != NULL
                         ? numbers
                         : eye->shift;
    if (lash == NULL || moved == NULL || base == NULL || numbers == NULL)
        return TCR_E_MEMORY;
    eye->room = n;
    eye->drawn = eye->described = eye->based = false;
    return TCR_OK;
}

void tcr_trial_release_lashes(tcr_trial *trial) {
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_trial_eye *eye = &trial->eye[side];
        void *const blocks[] = {eye->lash, eye->moved, eye->base_mm, eye->draw, eye->shift};
        for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++)
            tcr_release(&trial->allocator, blocks[i]);
    }
}

/* ---- The lashes of a run --------------------------------------------------------------------- */

/* By the description of the point, drawn with a seed. */
static tcr_status draw(tcr_trial *trial, tcr_side side, uint64_t seed, size_t n) {
    tcr_trial_eye *eye = &trial->eye[side];
    const tcr_description *by = &trial->description[side];
    const bool same_draw = eye->drawn && eye->seed == seed;
    /* Bits that differ for equal numbers only mean that the work is done again. */
    /* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison,cert-exp42-c,cert-flp37-c) */
    if (same_draw && eye->described && memcmp(&eye->by, by, sizeof *by) == 0)
        return TCR_OK;
    if (!same_draw)
        (void)tcr_describe_draw(seed, (uint32_t)side, 0, n, eye->draw);
    eye->drawn = true;
    eye->seed = seed;
    const tcr_status status = tcr_describe_lashes(by, 0, n, eye->draw, eye->lash);
    eye->described = status == TCR_OK;
    eye->based = false;
    memcpy(&eye->by, by, sizeof *by);
    return status;
}

static void draw_shifts(tcr_trial_eye *eye, tcr_side side, uint64_t seed, size_t n) {
    tcr_random number = {.seed = seed, .eye = (uint32_t)side, .use = USE_VARIED};
    for (size_t i = 0; i < n; i++)
        for (int k = 0; k < TCR_VARIED; k++) {
            number.lash = (uint32_t)i;
            number.field = (uint32_t)VARIED[k].field;
            eye->shift[i][k] = tcr_random_normal(&number);
        }
    eye->drawn = true;
    eye->seed = seed;
}

/* About the lashes of a survey. What does not vary stays as it was given, or unknown. */
static void vary(tcr_trial *trial, tcr_side side, uint64_t seed, size_t n) {
    const tcr_study *study = trial->study;
    tcr_trial_eye *eye = &trial->eye[side];
    if (!eye->drawn || eye->seed != seed)
        draw_shifts(eye, side, seed, n);
    for (size_t i = 0; i < n; i++)
        (void)tcr_set_given_lash(study->set, side, i, &eye->lash[i]); /* the lash is there */
    for (int k = 0; k < TCR_VARIED; k++) {
        const tcr_field *field = tcr_field_find(TCR_GROUP_LASH, VARIED[k].key);
        const double sd = number_at(&study->options.spread, VARIED[k].sd);
        for (size_t i = 0; i < n && sd > 0.0; i++) {
            const double about = number_at(tcr_set_lash(study->set, side, i), VARIED[k].lash);
            double *at = (double *)(void *)((char *)&eye->lash[i] + VARIED[k].lash);
            *at = tcr_cut(about + sd * eye->shift[i][k], field->core.least, field->core.most);
        }
    }
}

/* ---- Layers apart ---------------------------------------------------------------------------- */

/* Keeps how high the lashes of the set root. */
static void keep_heights(tcr_trial *trial, tcr_side side, size_t n) {
    tcr_trial_eye *eye = &trial->eye[side];
    (void)tcr_layer_heights_of(trial->set, side, &eye->heights); /* the eye is there */
    for (size_t i = 0; i < n; i++)
        eye->base_mm[i] = tcr_set_lash(trial->set, side, i)->height_mm;
}

/* Puts the lashes of a run into the set as they root. For layers that are then moved, lashes that
 * are there already need not be put again: how they root is kept. */
static tcr_status put_lashes(tcr_trial *trial, tcr_side side, size_t n) {
    tcr_trial_eye *eye = &trial->eye[side];
    const bool moves = !isnan(trial->apart_mm);
    if (moves && eye->based)
        return TCR_OK;
    const tcr_status status = tcr_set_replace_lashes(trial->set, side, n, eye->lash);
    if (status != TCR_OK || !moves)
        return status;
    keep_heights(trial, side, n);
    eye->based = eye->described; /* others are made anew for each point */
    return TCR_OK;
}

/* Moves the lashes so that their layers are as far apart as the point says. The bottom layer stays
 * as it was given. */
static tcr_status move_layers(tcr_trial *trial, tcr_side side, size_t n) {
    tcr_trial_eye *eye = &trial->eye[side];
    const tcr_layer_heights *own = &eye->heights;
    const tcr_layer_heights apart = tcr_layer_heights_apart(own, trial->apart_mm);
    for (size_t i = 0; i < n; i++) {
        const tcr_layer layer = eye->lash[i].layer;
        eye->moved[i] = eye->lash[i];
        if (layer != TCR_BOTTOM)
            eye->moved[i].height_mm =
                apart.height_mm[layer] + (eye->base_mm[i] - own->height_mm[layer]);
    }
    return tcr_set_replace_lashes(trial->set, side, n, eye->moved);
}

/* ---- An eye ---------------------------------------------------------------------------------- */

/* The eye with another number of lashes: described anew. */
static tcr_status describe_anew(tcr_trial *trial, tcr_side side, uint64_t seed) {
    tcr_description d = trial->description[side];
    d.seed = seed;
    tcr_status status = make_room(trial, side, d.count);
    if (status == TCR_OK)
        status = tcr_set_remove_lashes(trial->set, side);
    if (status == TCR_OK)
        status = tcr_set_describe(trial->set, side, &d);
    for (size_t i = 0; i < d.count && status == TCR_OK; i++)
        status = tcr_set_given_lash(trial->set, side, i, &trial->eye[side].lash[i]);
    trial->eye[side].described = trial->eye[side].based = false;
    if (status == TCR_OK)
        keep_heights(trial, side, d.count);
    return status;
}

static tcr_status lay_eye(tcr_trial *trial, tcr_side side, size_t run) {
    const tcr_study *study = trial->study;
    const bool described = tcr_set_description(study->set, side) != NULL;
    const bool runs = study->options.runs > 0;
    const bool anew = runs || (described && tcr_study_varies(study, TCR_AT_DESCRIPTION));
    if (!anew && isnan(trial->apart_mm))
        return TCR_OK;
    const uint64_t seed = runs        ? tcr_study_run_seed(study, run)
                          : described ? trial->description[side].seed
                                      : 0;
    size_t n = tcr_set_lash_count(study->set, side);
    tcr_status status;
    if (tcr_study_varies_count(study, side)) {
        n = trial->description[side].count;
        status = describe_anew(trial, side, seed);
    } else {
        status = make_room(trial, side, n);
        if (status == TCR_OK && described && anew)
            status = draw(trial, side, seed, n);
        else if (status == TCR_OK && anew)
            vary(trial, side, seed, n);
        for (size_t i = 0; i < n && status == TCR_OK && !anew; i++)
            status = tcr_set_given_lash(study->set, side, i, &trial->eye[side].lash[i]);
        if (status == TCR_OK)
            status = put_lashes(trial, side, n);
    }
    return status == TCR_OK && !isnan(trial->apart_mm) ? move_layers(trial, side, n) : status;
}

tcr_status tcr_trial_lay(tcr_trial *trial, size_t run, tcr_error *error) {
    const tcr_study *study = trial->study;
    if (trial->laid && (trial->run == run || study->options.runs == 0))
        return TCR_OK;
    trial->laid = false;
    for (int side = 0; side < TCR_SIDES; side++) {
        if (!tcr_set_has_eye(study->set, (tcr_side)side))
            continue;
        const tcr_status status = lay_eye(trial, (tcr_side)side, run);
        if (status != TCR_OK) {
            if (error != NULL && tcr_set_error(trial->set)->status == status)
                *error = *tcr_set_error(trial->set);
            else
                (void)tcr_error_status(error, status);
            return status;
        }
    }
    trial->run = run;
    trial->laid =
        !tcr_study_varies(study, TCR_AT_DESCRIPTION) && !tcr_study_varies(study, TCR_AT_APART);
    return TCR_OK;
}
