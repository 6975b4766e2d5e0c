/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Suitability: which lashes stay bare, and why. The rules are common practice of the trade, without
 * a source; their limits are assumptions that the caller can change.
 */
#include "plan/plan_data.h"

#include <math.h>

#include "model/set_data.h"
#include "num/memory.h"
#include "num/order.h"
#include "plan/cover.h"

/* Points out of the fan: off the direction that the mean lash has at this place. */
static bool is_astray(const tcr_plan *plan, tcr_side side, const tcr_lash *lash) {
    const tcr_limits *limits = &plan->options.limits;
    const tcr_lash usual = tcr_mean_lash_at(&plan->mean[side], lash->u);
    return lash->height_mm > limits->stray_above_mm ||
           fabs(lash->yaw_rad - usual.yaw_rad) > limits->out_of_fan_rad ||
           fabs(lash->pitch_rad - usual.pitch_rad) > limits->out_of_fan_rad;
}

/*
 * Whether a lash bears, of what its cell may choose from, an extension as long as the map asks of
 * its layer, or up to a millimetre less: the room that corrections have anyway.
 */
static bool bears_its_zone(const tcr_plan *plan, tcr_side side, const tcr_lash *lash) {
    static const double ROOM_MM = 1.0, ROUNDING_MM = 1e-9;
    const tcr_set *set = plan->set;
    tcr_sight sight;
    tcr_evaluate(&plan->at[side], lash, NULL, NULL, TCR_ANEW_ALL, &sight);
    const double wanted = tcr_set_map_length(set, side, lash->u, lash->layer);
    const tcr_zone *zone = &tcr_set_map(set, side, NULL)[tcr_set_zone_at(set, side, lash->u)];
    const tcr_wish *wish = &zone->layer[lash->layer];
    const tcr_plan_range r = tcr_plan_range_of(plan, zone, lash->layer);
    const double least =
        wanted - ROUNDING_MM - ((wish->fixed & TCR_FIX_LENGTH) != 0 ? 0.0 : ROOM_MM);
    for (size_t i = 0; i < tcr_plan_range_count(&r); i++) {
        tcr_choice choice = tcr_plan_range_choice(&r, i, NAN);
        tcr_tray room;
        const tcr_tray *tray = tcr_set_tray_for(set, &choice, &room);
        for (size_t t = 0; tray != NULL && t < tray->count; t++) {
            choice.length_mm = tray->length_mm[t];
            if (choice.length_mm >= least && tcr_plan_carries(plan, lash, &choice, &sight))
                return true;
        }
    }
    return false;
}

static tcr_use use_of(const tcr_plan *plan, tcr_side side, size_t i) {
    const tcr_lash *lash = tcr_set_lash(plan->set, side, i);
    const tcr_wish *row = tcr_set_wish(plan->set, side, i);
    const tcr_limits *limits = &plan->options.limits;
    if (row->fixed & TCR_FIX_BARE)
        return TCR_BARE_ROW;
    if (row->fixed & TCR_FIX_LENGTH)
        return TCR_USED_BY_ROW;
    if (lash->condition != TCR_SUITABLE)
        return TCR_BARE_CONDITION;
    if (lash->length_mm - tcr_set_bond(plan->set)->offset_mm < TCR_BOND_LEAST_MM)
        return TCR_BARE_BOND;
    if (row->fixed != 0) /* what it gives is kept, and the rule gives the rest */
        return TCR_USED_BY_ROW;
    if (lash->length_mm < limits->baby_below_mm || lash->root_diameter_mm < limits->thin_below_mm)
        return TCR_BARE_BABY;
    if (is_astray(plan, side, lash))
        return TCR_BARE_STRAY;
    return bears_its_zone(plan, side, lash) ? TCR_USED : TCR_BARE_WEAK;
}

size_t tcr_plan_count_without(const tcr_plan *plan, tcr_side side, unsigned lifted) {
    tcr_plan other = *plan; /* its limits alone are changed, and its lashes are not touched */
    tcr_limits *limits = &other.options.limits;
    size_t count = 0;
    if ((lifted & TCR_BEYOND_LENGTH) != 0)
        limits->overlength_mm = INFINITY;
    if ((lifted & TCR_BEYOND_MASS) != 0)
        limits->mass_ratio = INFINITY;
    if ((lifted & TCR_BEYOND_MOMENT) != 0)
        limits->moment_ratio = INFINITY;
    for (size_t i = 0; i < plan->eye[side].lashes; i++)
        count += use_of(&other, side, i) == TCR_USED;
    return count;
}

/* A suitable lash with its place along the lid. */
typedef struct candidate {
    double place_mm;
    size_t lash;
} candidate;

static bool lies_before(const void *one, const void *other, const void *unused) {
    (void)unused;
    return ((const candidate *)one)->place_mm < ((const candidate *)other)->place_mm;
}

static tcr_status choose_cover(tcr_plan *plan, tcr_side side, candidate *c, size_t n, double *place,
                               bool *use) {
    const tcr_plan_eye *eye = &plan->eye[side];
    const double wanted = ceil(plan->options.share * (double)eye->lashes - 1e-9);
    const size_t kept = eye->uses[TCR_USED_BY_ROW];
    tcr_sort_items(c, n, sizeof *c, lies_before, NULL);
    for (size_t i = 0; i < n; i++)
        place[i] = c[i].place_mm;
    const tcr_status status = tcr_cover_choose(
        place, n, wanted > (double)kept ? (size_t)wanted - kept : 0, &plan->allocator, use);
    for (size_t i = 0; i < n && status == TCR_OK; i++)
        if (!use[i])
            plan->lash[side][c[i].lash].use = TCR_BARE_COVER;
    return status;
}

/* The largest gap between neighbours of those that a test picks; place is scratch. */
static double gap_of(const tcr_plan *plan, tcr_side side, bool suitable, double *place) {
    const double width = tcr_set_lid(plan->set, side)->fissure_width_mm;
    double gap = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < plan->eye[side].lashes; i++) {
        const tcr_use use = plan->lash[side][i].use;
        if (use == TCR_USED || use == TCR_USED_BY_ROW || (suitable && use == TCR_BARE_COVER))
            place[n++] = width * tcr_set_lash(plan->set, side, i)->u;
    }
    tcr_sort(place, n);
    for (size_t i = 1; i < n; i++)
        gap = fmax(gap, place[i] - place[i - 1]);
    return gap;
}

tcr_status tcr_plan_suit(tcr_plan *plan, tcr_side side) {
    tcr_plan_eye *eye = &plan->eye[side];
    const double width = tcr_set_lid(plan->set, side)->fissure_width_mm;
    const size_t count = eye->lashes;
    candidate *c = tcr_resize(&plan->allocator, NULL, count, sizeof *c);
    double *place = tcr_resize(&plan->allocator, NULL, count, sizeof *place);
    bool *use_it = tcr_resize(&plan->allocator, NULL, count, sizeof *use_it);
    tcr_status status = c == NULL || place == NULL || use_it == NULL ? TCR_E_MEMORY : TCR_OK;
    (void)tcr_mean_lash_of(plan->set, side, &plan->mean[side]); /* the eye is there */
    size_t n = 0;
    for (size_t i = 0; i < count && status == TCR_OK; i++) {
        if (tcr_watch_stops(&plan->watch, "lashes", (double)i / (double)count)) {
            status = TCR_E_STOPPED;
            break;
        }
        const tcr_use use = use_of(plan, side, i);
        plan->lash[side][i] =
            (tcr_plan_lash){.use = use, .deviation_mm = NAN, .zone_deviation_mm = NAN};
        if (use == TCR_USED)
            c[n++] = (candidate){width * tcr_set_lash(plan->set, side, i)->u, i};
        eye->uses[TCR_USED_BY_ROW] += use == TCR_USED_BY_ROW;
    }
    eye->suitable = n + eye->uses[TCR_USED_BY_ROW];
    if (status == TCR_OK)
        status = choose_cover(plan, side, c, n, place, use_it);
    eye->uses[TCR_USED_BY_ROW] = 0;
    if (status == TCR_OK) { /* lashes used by their row cover the line too */
        eye->gap_mm = gap_of(plan, side, false, place);
        eye->least_gap_mm = gap_of(plan, side, true, place);
    }
    for (size_t i = 0; i < count && status == TCR_OK; i++)
        eye->uses[plan->lash[side][i].use]++;
    eye->used = eye->uses[TCR_USED] + eye->uses[TCR_USED_BY_ROW];
    tcr_release(&plan->allocator, c);
    tcr_release(&plan->allocator, place);
    tcr_release(&plan->allocator, use_it);
    return status;
}
