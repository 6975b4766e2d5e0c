/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws the eyes that nobody measured anew; the other eye of such a set stays as it is. */
#include "plan/redraw.h"

#include <math.h>
#include <stdint.h>
#include <tipcrest/random.h>

#include "model/set_data.h"
#include "num/memory.h"

enum { USE_REDRAW = 2 };

bool tcr_plan_redraws(const tcr_plan *plan, tcr_side side) {
    const size_t lashes = tcr_set_lash_count(plan->set, side);
    if (plan->options.samples == 0 || lashes == 0 ||
        tcr_set_drawn_count(plan->set, side) < lashes)
        return false;
    for (size_t i = 0; i < lashes; i++)
        if (tcr_set_wish(plan->set, side, i)->fixed != 0)
            return false; /* somebody decided lash by lash */
    return true;
}

static double within(double value, double least, double most) {
    return fmin(fmax(value, least), most);
}

/* The eye's description, or one made of its mean lash, its spreads those of any described eye. */
static tcr_description description_of(const tcr_set *set, tcr_side side) {
    const tcr_description *own = tcr_set_description(set, side);
    tcr_description d = tcr_description_default();
    tcr_mean_lash mean;
    if (own != NULL)
        return *own;
    (void)tcr_mean_lash_of(set, side, &mean); /* the eye is there */
    d.count = tcr_set_lash_count(set, side);
    d.phases = TCR_PHASES_NONE; /* the mean length is that of lashes as they are */
    d.pitch_rad = within(mean.lash.pitch_rad, -1.46, 1.46);
    d.yaw_rad = within(mean.lash.yaw_rad, -1.46, 1.46);
    d.yaw_fan_rad = within(mean.yaw_slope_rad, -2.9, 2.9);
    d.roll_rad = mean.lash.roll_rad;
    d.turn_rad = mean.lash.turn_rad;
    d.root_diameter_mm = mean.lash.root_diameter_mm;
    d.tip_diameter_mm = mean.lash.tip_diameter_mm;
    d.length_mm = within(mean.length_mm[1], 1.0, 20.0);
    d.length_inner_share = within(mean.length_mm[0] / d.length_mm, 0.1, 2.0);
    d.length_outer_share = within(mean.length_mm[2] / d.length_mm, 0.1, 2.0);
    return d;
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
    for (int side = 0; side < TCR_SIDES; side++)
        tcr_release(&r->plan->allocator, r->as.lash[side]);
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
    for (size_t i = 0; i < eye->count && status == TCR_OK && sample > 0; i++) {
        status = tcr_describe_lash(&d, (uint32_t)side, (uint32_t)i, &eye->lashes[i].lash);
        eye->lashes[i].assumed = 0;
    }
    return status;
}

tcr_status tcr_redraw_next(tcr_redraw *r, size_t sample) {
    tcr_view view = r->plan->view;
    tcr_status status = TCR_OK;
    view.opening = tcr_plan_opening_of(sample);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (r->plan->eye[side].zones_only)
            status = draw_eye(r, (tcr_side)side, sample);
    if (status == TCR_OK)
        status = tcr_plan_lines(r->set, &view, r->line);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        tcr_plan_eye *eye = &r->as.eye[side];
        if (!r->plan->eye[side].zones_only)
            continue;
        r->at[side] = r->as.at[side];
        tcr_look_from(&r->at[side], &view);
        *eye = (tcr_plan_eye){.lashes = eye->lashes, .lash = r->as.lash[side], .zones_only = true};
        status = tcr_plan_suit(&r->as, (tcr_side)side);
    }
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
    const tcr_vec2 seen = tcr_project(
        &r->at[m->side], tcr_stance_point_kernel(&m->stance, m->sight.attachment.tip));
    return (tcr_plan_tip){seen.x, seen.y - tcr_line_at(&r->line[m->side], seen.x)};
}

bool tcr_redraw_tip(const tcr_redraw *r, tcr_redrawn *m, const tcr_choice *choice,
                    tcr_plan_tip *tip) {
    if (!tcr_plan_bears(&r->as, m->side, m->lash, choice, &m->sight))
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
