/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The planned set: the plan written into a set of its own, which a check takes like any other. */
#include "plan/plan_data.h"

#include <string.h>

#include "model/set_data.h"
#include "num/memory.h"

/* A wish that fixes all of a choice. */
static tcr_wish wish_for(const tcr_set *set, const tcr_choice *choice) {
    tcr_wish wish = {
        .fixed = TCR_FIX_LENGTH | TCR_FIX_CURL | TCR_FIX_DIAMETER | TCR_FIX_FAN | TCR_FIX_SPREAD |
                 TCR_FIX_PLACEMENT,
        .length_mm = choice->length_mm,
        .diameter_mm = choice->diameter_mm,
        .fan = choice->fan,
        .spread_rad = choice->spread_rad,
        .placement = choice->placement,
    };
    memcpy(wish.curl, tcr_set_curl(set, choice->curl)->label, TCR_LABEL_SIZE);
    wish.curl[TCR_LABEL_SIZE - 1] = '\0';
    return wish;
}

/* What the plan gives each layer, in the map; a layer without lashes keeps the rule. What was
 * intended stays so. */
static tcr_status plan_map(const tcr_plan *plan, tcr_side side, tcr_set *to) {
    tcr_zone zones[TCR_ZONES_MAX];
    size_t count, intended;
    const tcr_zone *map = tcr_set_map(plan->set, side, &count);
    memcpy(zones, map, count * sizeof *zones);
    for (size_t c = 0; c < plan->result.cells; c++) {
        const tcr_plan_cell *cell = &plan->cell[c];
        if (cell->side == side)
            zones[cell->zone].layer[cell->layer] = wish_for(plan->set, &cell->choice);
    }
    (void)tcr_set_intended(plan->set, side, &intended);
    const tcr_status status = intended > 0 ? TCR_OK : tcr_set_put_intended(to, side, map, count);
    return status == TCR_OK ? tcr_set_put_map(to, side, zones, count) : status;
}

/* What a lash's row says once the zones have what the plan gives them. */
static tcr_wish planned_row(const tcr_plan *plan, tcr_side side, size_t i) {
    const tcr_plan_lash *planned = &plan->lash[side][i];
    const tcr_wish *row = tcr_set_wish(plan->set, side, i);
    tcr_wish wish = *row;
    switch (planned->use) {
    case TCR_USED:
        return planned->corrected ? wish_for(plan->set, &planned->choice) : (tcr_wish){0};
    case TCR_USED_BY_ROW:
        wish = wish_for(plan->set, &planned->choice);
        wish.fixed |= row->fixed & TCR_FIX_FROM_SKIN;
        wish.from_skin_mm = row->from_skin_mm;
        return wish;
    default:
        wish.fixed |= TCR_FIX_BARE;
        return wish;
    }
}

static tcr_status plan_eye(const tcr_plan *plan, tcr_side side, tcr_set *to) {
    tcr_status status = plan_map(plan, side, to);
    if (plan->eye[side].zones_only) /* its lashes are nobody's */
        return status;
    for (size_t i = 0; i < plan->eye[side].lashes && status == TCR_OK; i++) {
        const tcr_wish wish = planned_row(plan, side, i);
        status = tcr_set_replace_wish(to, side, i, &wish);
    }
    return status;
}

tcr_status tcr_plan_apply(const tcr_plan *plan, tcr_set **out) {
    if (plan == NULL || out == NULL || !tcr_plan_fits(plan, plan->set))
        return TCR_E_ARGUMENT;
    tcr_set *planned;
    tcr_status status = tcr_set_copy(&plan->allocator, plan->set, &planned);
    if (status != TCR_OK)
        return status;
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(plan->set, sides);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++)
        status = plan_eye(plan, sides[e], planned);
    if (status != TCR_OK) {
        tcr_set_free(planned);
        return status;
    }
    *out = planned;
    return TCR_OK;
}
