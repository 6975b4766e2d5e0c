/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws the eyes that nobody measured anew; the other eye of such a set stays as it is. */
#include "plan/redraw.h"

#include <math.h>
#include <stdint.h>
#include <tipcrest/field.h>
#include <tipcrest/random.h>

#include "model/set_data.h"
#include "num/memory.h"
#include "num/range.h"
#include "plan/scratch.h"

enum { USE_REDRAW = 2 };

bool tcr_plan_redraws(const tcr_plan *plan, tcr_side side) {
    const size_t lashes = tcr_set_lash_count(plan->set, side);
    if (plan->options.samples == 0 || lashes == 0 || tcr_set_drawn_count(plan->set, side) < lashes)
        return false;
    for (size_t i = 0; i < lashes; i++)
        if (tcr_set_wish(plan->set, side, i)->fixed != 0)
            return false; /* somebody decided lash by lash */
    return true;
}

/* Cut to what a description may say, which is less than a lash may have. */
static double in_range(const char *key, double value) {
    const tcr_bounds bounds = tcr_field_find(TCR_GROUP_DESCRIPTION, key)->core;
    return tcr_cut(value, bounds.least, bounds.most);
}

/* The eye's description, or one of how the lashes of a survey stand: about its mean lash, with the
 * spreads of any described eye. */
static tcr_description description_of(const tcr_set *set, tcr_side side) {
    const tcr_description *own = tcr_set_description(set, side);
    tcr_description d = tcr_description_default();
    tcr_mean_lash mean;
    if (own != NULL)
        return *own;
    (void)tcr_mean_lash_of(set, side, &mean); /* the eye is there */
    d.count = tcr_set_lash_count(set, side);
    d.pitch_rad = in_range("pitch_deg", mean.lash.pitch_rad);
    d.yaw_rad = in_range("yaw_deg", mean.lash.yaw_rad);
    d.yaw_fan_rad = in_range("yaw_fan_deg", mean.yaw_slope_rad);
    d.roll_rad = in_range("roll_deg", mean.lash.roll_rad);
    return d;
}

/* A lash of a survey in a sample: it stands as drawn anew, and is otherwise as the survey has it.
 */
static tcr_lash stand_anew(const tcr_lash *of_survey, const tcr_lash *drawn) {
    tcr_lash lash = *of_survey;
    lash.layer = drawn->layer;
    lash.height_mm = drawn->height_mm;
    lash.pitch_rad = drawn->pitch_rad;
    lash.yaw_rad = drawn->yaw_rad;
    lash.roll_rad = drawn->roll_rad;
    return lash;
}

tcr_status tcr_redraw_begin(tcr_redraw *r, const tcr_plan *plan) {
    *r = (tcr_redraw){.plan = plan, .as = *plan};
    const tcr_status status = tcr_set_copy(&plan->allocator, plan->set, &r->set);
    r->as.set = r->set;
    r->as.watch = (tcr_watch){{NULL, NULL}, false};
    for (int side = 0; side < TCR_SIDES; side++)
        r->as.lash[side] = NULL;
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        if (!plan->eye[side].zones_only)
            continue;
        const size_t lashes = plan->eye[side].lashes;
        r->by[side] = description_of(plan->set, (tcr_side)side);
        r->as.lash[side] = tcr_resize(&plan->allocator, NULL, lashes, sizeof *r->as.lash[side]);
        if (r->as.lash[side] == NULL)
            return TCR_E_MEMORY;
    }
    return status;
}

void tcr_redraw_end(tcr_redraw *r) {
    for (int side = 0; side < TCR_SIDES; side++) {
        tcr_release(&r->plan->allocator, r->as.lash[side]);
        tcr_intended_free(&r->intended[side], &r->plan->allocator);
    }
    tcr_set_free(r->set);
}

/* A seed for each sample, far from those that users count up. */
static uint64_t seed_of(uint64_t seed, size_t sample) {
    const uint32_t counter[4] = {(uint32_t)sample, (uint32_t)((uint64_t)sample >> 32), 0,
                                 USE_REDRAW};
    const uint32_t key[2] = {(uint32_t)seed, (uint32_t)(seed >> 32)};
    uint32_t words[4];
    tcr_philox(counter, key, words);
    return (uint64_t)words[1] << 32 | words[0];
}

static tcr_status draw_eye(tcr_redraw *r, tcr_side side, size_t sample) {
    tcr_stored_eye *eye = &r->set->eye[side];
    tcr_description d = r->by[side];
    tcr_status status = TCR_OK;
    d.seed = seed_of(d.seed, sample);
    const bool described = tcr_set_description(r->plan->set, side) != NULL;
    for (size_t i = 0; i < eye->count && status == TCR_OK && sample > 0; i++) {
        tcr_lash drawn;
        status = tcr_describe_lash(&d, (uint32_t)side, (uint32_t)i, &drawn);
        if (status != TCR_OK)
            return status;
        eye->lashes[i].lash =
            described ? drawn : stand_anew(tcr_set_lash(r->plan->set, side, i), &drawn);
        eye->lashes[i].assumed = 0;
    }
    return status;
}

/* The lines of a drawn sample. */
static tcr_status draw_lines(tcr_redraw *r, const tcr_view *view) {
    tcr_side sides[TCR_SIDES], through[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(r->set, sides);
    for (size_t e = 0; e < eyes; e++) {
        tcr_intended *intended = &r->intended[sides[e]];
        if (e > 0 && tcr_intended_sides(r->set, sides[e], through) > 1) {
            r->line[sides[e]] = r->line[sides[0]]; /* they share it */
            continue;
        }
        tcr_status status =
            tcr_intended_renew(intended, &r->plan->allocator, r->set, sides[e], view);
        status = status == TCR_OK ? intended->status : status;
        if (status != TCR_OK)
            return status;
        r->line[sides[e]] = intended->line;
    }
    return TCR_OK;
}

/* Draws a sample: its lashes, its lines, and which lashes get an extension. */
static tcr_status draw(tcr_redraw *r, size_t sample, const tcr_view *view) {
    tcr_status status = TCR_OK;
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (r->plan->eye[side].zones_only)
            status = draw_eye(r, (tcr_side)side, sample);
    if (status == TCR_OK)
        status = draw_lines(r, view);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        tcr_plan_eye *eye = &r->as.eye[side];
        if (!r->plan->eye[side].zones_only)
            continue;
        *eye = (tcr_plan_eye){.lashes = eye->lashes, .lash = r->as.lash[side], .zones_only = true};
        status = tcr_plan_suit(&r->as, (tcr_side)side);
    }
    return status;
}

/* Where the lashes of an eye are kept of a sample. */
static size_t kept_from(const tcr_redraw *r, int side, size_t sample) {
    const tcr_plan_eye *eye = r->plan->eye;
    return sample * (eye[TCR_LEFT].lashes + eye[TCR_RIGHT].lashes) +
           (side == TCR_RIGHT ? eye[TCR_LEFT].lashes : 0);
}

/* Keeps the sample that was drawn. */
static void keep(const tcr_redraw *r, tcr_kept_samples *kept, size_t sample) {
    for (int side = 0; side < TCR_SIDES; side++) {
        const size_t from = kept_from(r, side, sample);
        kept->line[TCR_SIDES * sample + (size_t)side] = r->line[side];
        for (size_t i = 0; i < r->plan->eye[side].lashes && r->plan->eye[side].zones_only; i++) {
            kept->lash[from + i] = r->set->eye[side].lashes[i].lash;
            kept->used[from + i] = r->as.lash[side][i].use == TCR_USED;
        }
    }
    kept->samples++;
}

/* Takes a sample that is kept. */
static void take(tcr_redraw *r, const tcr_kept_samples *kept, size_t sample) {
    for (int side = 0; side < TCR_SIDES; side++) {
        const size_t from = kept_from(r, side, sample);
        r->line[side] = kept->line[TCR_SIDES * sample + (size_t)side];
        for (size_t i = 0; i < r->plan->eye[side].lashes && r->plan->eye[side].zones_only; i++) {
            r->set->eye[side].lashes[i].lash = kept->lash[from + i];
            r->as.lash[side][i].use = kept->used[from + i] ? TCR_USED : TCR_BARE_ROW;
        }
    }
}

tcr_status tcr_redraw_next(tcr_redraw *r, size_t sample) {
    tcr_kept_samples *kept = &r->plan->scratch->drawn;
    tcr_view view = r->plan->view;
    view.opening = tcr_plan_opening_of(sample);
    for (int side = 0; side < TCR_SIDES; side++)
        if (r->plan->eye[side].zones_only) {
            r->at[side] = r->as.at[side];
            tcr_look_from(&r->at[side], &view);
        }
    if (sample < kept->samples) {
        take(r, kept, sample);
        return TCR_OK;
    }
    const tcr_status status = draw(r, sample, &view);
    if (status == TCR_OK && sample == kept->samples && sample < kept->room)
        keep(r, kept, sample);
    return status;
}

bool tcr_redraw_lash(const tcr_redraw *r, tcr_side side, size_t i, tcr_redrawn *m) {
    if (r->as.lash[side][i].use != TCR_USED)
        return false;
    tcr_sight open;
    m->side = side;
    m->lash = tcr_set_lash(r->set, side, i);
    m->zone = tcr_set_zone_at(r->set, side, m->lash->u);
    (void)tcr_evaluate(&r->as.at[side], m->lash, NULL, NULL, TCR_ANEW_ALL, &m->sight);
    open = m->sight;
    (void)tcr_evaluate(&r->at[side], m->lash, NULL, NULL, TCR_ANEW_OPENING, &open);
    m->stance = open.stance;
    return true;
}

static tcr_plan_tip tip_of(const tcr_redraw *r, const tcr_redrawn *m) {
    const tcr_vec2 seen = tcr_see(&r->at[m->side], &m->stance, m->sight.attachment.tip);
    return (tcr_plan_tip){seen.x, seen.y - tcr_line_at(&r->line[m->side], seen.x)};
}

bool tcr_redraw_tip(const tcr_redraw *r, tcr_redrawn *m, const tcr_choice *choice,
                    tcr_plan_tip *tip) {
    if (!tcr_plan_carries(&r->as, m->lash, choice, &m->sight))
        return false;
    *tip = tip_of(r, m);
    return true;
}

bool tcr_redraw_tip_anyway(const tcr_redraw *r, tcr_redrawn *m, const tcr_choice *choice,
                           tcr_plan_tip *tip) {
    if (tcr_evaluate_worn(&r->as.at[m->side], r->set, m->lash, choice, TCR_ANEW_ATTACHMENT,
                          &m->sight) != TCR_OK)
        return false;
    *tip = tip_of(r, m);
    return true;
}

void tcr_plan_find_places(const tcr_plan *plan, tcr_side side, size_t cells, tcr_plan_places *out) {
    for (int z = 0; z < TCR_ZONES_MAX; z++)
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            out->cell[z][layer] = SIZE_MAX;
    for (size_t c = 0; c < cells; c++)
        if (plan->cell[c].side == side)
            out->cell[plan->cell[c].zone][plan->cell[c].layer] = c;
}
