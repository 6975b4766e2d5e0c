/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where the longest length of the map is out of an eye's reach: the limits that keep it from its
 * zones, and how much lower than its own the line runs that it shares with the other eye.
 */
#include "plan/plan_data.h"

#include <math.h>
#include <tipcrest/check.h>

#include "model/set_data.h"

static const double ROUNDING_MM = 1e-9;

/* The length that the map gives the bottom layer of a zone. */
static double asked_of(const tcr_plan *plan, const tcr_zone *zone) {
    return tcr_set_layer_length(plan->set, zone, TCR_BOTTOM);
}

/* The longest that the plan gives, and whether any bottom cell that is asked for the longest has an
 * option as long. */
static double given_of(const tcr_plan *plan, const tcr_plan_table *t, tcr_side side,
                       const tcr_zone *map, double asked_mm, bool *has_option) {
    double given = 0.0;
    *has_option = false;
    for (size_t c = 0; c < t->choosing; c++) {
        const tcr_plan_cell *cell = &plan->cell[c];
        if (cell->side != side)
            continue;
        given = fmax(given, cell->choice.length_mm);
        if (cell->layer != TCR_BOTTOM || asked_of(plan, &map[cell->zone]) < asked_mm - ROUNDING_MM)
            continue;
        for (size_t o = t->first[c]; o < t->first[c + 1]; o++)
            *has_option = *has_option || t->choice[o].length_mm >= asked_mm - ROUNDING_MM;
    }
    for (size_t i = 0; i < plan->eye[side].lashes; i++)
        if (plan->lash[side][i].corrected || plan->lash[side][i].use == TCR_USED_BY_ROW)
            given = fmax(given, plan->lash[side][i].choice.length_mm);
    return given;
}

/* The limits that lashes of the zones that ask for it would exceed with it. */
static unsigned limits_of(const tcr_plan *plan, tcr_side side, const tcr_zone *map,
                          double asked_mm) {
    unsigned found = 0;
    for (size_t i = 0; i < plan->eye[side].lashes; i++) {
        const tcr_lash *lash = tcr_set_lash(plan->set, side, i);
        const tcr_use use = plan->lash[side][i].use;
        const size_t zone = tcr_set_zone_at(plan->set, side, lash->u);
        tcr_sight sight;
        if ((use != TCR_USED && use != TCR_BARE_WEAK) || lash->layer != TCR_BOTTOM ||
            asked_of(plan, &map[zone]) < asked_mm - ROUNDING_MM)
            continue;
        const tcr_plan_range range = tcr_plan_range_of(plan, &map[zone], TCR_BOTTOM);
        const tcr_choice choice = tcr_plan_range_choice(&range, 0, asked_mm);
        (void)tcr_evaluate(&plan->at[side], lash, NULL, NULL, TCR_ANEW_ALL, &sight);
        found |= tcr_limits_beyond(&plan->options.limits, plan->set, lash, &sight.stance, &choice);
    }
    return found;
}

/* X of the tip of the mean lash in the middle of a zone, with what the map gives it; NaN without.
 */
static double tip_x(const tcr_plan *plan, tcr_side side, const tcr_zone *map, size_t zone) {
    const double from = zone > 0 ? map[zone - 1].to : 0.0;
    const double u = (from + map[zone].to) / 2.0;
    const tcr_lash lash = tcr_mean_lash_at(&plan->mean[side], u);
    const tcr_extension ext = tcr_set_intended_extension(plan->set, side, u);
    tcr_sight sight;
    return tcr_evaluate(&plan->at[side], &lash, &ext, tcr_set_bond(plan->set), TCR_ANEW_ALL,
                        &sight) == TCR_OK
               ? sight.seen.x
               : NAN;
}

/* How much lower at x the shared line runs than the eye's own. */
static double lowered_at(const tcr_plan *plan, tcr_side side, double x) {
    tcr_set apart = *plan->set; /* only read: the same eyes, each with its own line */
    tcr_line own;
    apart.line.shared = false;
    if (!tcr_set_line(plan->set)->shared || tcr_set_eyes(plan->set, NULL) < TCR_SIDES ||
        tcr_intended_line(&apart, side, &plan->view, &own) != TCR_OK)
        return 0.0;
    return tcr_line_at(&own, x) - tcr_line_at(&plan->result.line[side], x);
}

/* Whether a zone that asks for the longest may have it as far as the tray goes. */
static bool is_at_hand(const tcr_plan *plan, const tcr_zone *map, size_t zones, double asked_mm) {
    for (size_t z = 0; z < zones; z++) {
        if (asked_of(plan, &map[z]) < asked_mm - ROUNDING_MM)
            continue;
        const tcr_plan_range range = tcr_plan_range_of(plan, &map[z], TCR_BOTTOM);
        for (size_t i = 0; i < tcr_plan_range_count(&range); i++) {
            tcr_choice choice = tcr_plan_range_choice(&range, i, asked_mm);
            if (tcr_set_take_length(plan->set, &choice) == TCR_OK)
                return true;
        }
    }
    return false;
}

void tcr_plan_find_reach(tcr_plan *plan, const tcr_plan_table *t, tcr_side side) {
    size_t zones, longest = 0;
    const tcr_zone *map = tcr_set_map(plan->set, side, &zones);
    tcr_plan_reach *reach = &plan->eye[side].reach;
    bool has_option;
    for (size_t z = 1; z < zones; z++)
        if (asked_of(plan, &map[z]) > asked_of(plan, &map[longest]) + ROUNDING_MM)
            longest = z;
    *reach = (tcr_plan_reach){.asked_mm = asked_of(plan, &map[longest])};
    reach->given_mm = given_of(plan, t, side, map, reach->asked_mm, &has_option);
    reach->at_hand = is_at_hand(plan, map, zones, reach->asked_mm);
    const double x = tip_x(plan, side, map, longest);
    reach->lowered_mm = isnan(x) ? 0.0 : lowered_at(plan, side, x);
    plan->moved_mm[side] = isnan(x) ? 0.0 : plan->result.shift_mm + plan->result.tilt * x;
    if (!has_option && reach->at_hand && reach->given_mm < reach->asked_mm - ROUNDING_MM)
        reach->limits = limits_of(plan, side, map, reach->asked_mm);
}
