/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The planned set: the plan written into a set of its own, which a check takes like any other. */
#include "plan/plan_data.h"

#include <string.h>

#include "model/set_data.h"
#include "num/memory.h"

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
    memcpy(wish.curl, tcr_set_get_curl(set, choice->curl)->label, TCR_LABEL_SIZE);
    wish.curl[TCR_LABEL_SIZE - 1] = '\0';
    return wish;
}

/* The map with what the plan gives each layer; a layer without lashes keeps the rule. What was
 * intended stays so. */
static tcr_status copy_map(const tcr_plan *plan, tcr_side side, tcr_set *to) {
    tcr_zone zones[TCR_ZONES_MAX];
    size_t count;
    const tcr_zone *map = tcr_set_get_map(plan->set, side, &count);
    size_t meant;
    const tcr_zone *intended = tcr_set_get_intended(plan->set, side, &meant);
    const tcr_status status = meant > 0 ? tcr_set_intend(to, side, intended, meant)
                                        : tcr_set_intend(to, side, map, count);
    if (status != TCR_OK)
        return status;
    memcpy(zones, map, count * sizeof *zones);
    for (size_t c = 0; c < plan->result.cells; c++) {
        const tcr_plan_cell *cell = &plan->cell[c];
        if (cell->side == side)
            zones[cell->zone].layer[cell->layer] = wish_for(plan->set, &cell->choice);
    }
    return tcr_set_map(to, side, zones, count);
}

static tcr_status copy_lash(const tcr_plan *plan, tcr_side side, size_t i, tcr_set *to) {
    const tcr_plan_lash *planned = &plan->lash[side][i];
    tcr_lash lash = *tcr_set_get_lash(plan->set, side, i);
    tcr_wish wish = *tcr_set_get_wish(plan->set, side, i);
    switch (planned->use) {
    case TCR_USED:
        if (planned->corrected)
            wish = wish_for(plan->set, &planned->choice);
        else
            wish = (tcr_wish){0}; /* the zone says it all */
        break;
    case TCR_USED_BY_ROW:
        wish = wish_for(plan->set, &planned->choice);
        break;
    case TCR_BARE_BABY:
        lash.condition = TCR_BABY;
        break;
    case TCR_BARE_STRAY:
        lash.condition = TCR_STRAY;
        break;
    default: /* a limit of load is no condition of the lash */
        wish.fixed |= TCR_FIX_BARE;
        break;
    }
    return tcr_set_add_lash(to, side, tcr_set_get_id(plan->set, side, i), &lash, &wish);
}

tcr_status tcr_plan_apply(const tcr_plan *plan, tcr_set **out) {
    if (plan == NULL || out == NULL)
        return TCR_E_ARGUMENT;
    tcr_set *planned;
    tcr_status status = tcr_set_new_like(&plan->allocator, plan->set, &planned);
    if (status != TCR_OK)
        return status;
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(plan->set, sides);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++) {
        status = tcr_set_add_eye(planned, sides[e], tcr_set_get_lid(plan->set, sides[e]));
        if (status == TCR_OK)
            status = copy_map(plan, sides[e], planned);
        for (size_t i = 0; i < plan->eye[sides[e]].lashes && status == TCR_OK; i++)
            status = copy_lash(plan, sides[e], i, planned);
        if (status == TCR_OK)
            status =
                tcr_set_mark_drawn(planned, sides[e], tcr_set_drawn_count(plan->set, sides[e]));
    }
    if (status != TCR_OK) {
        tcr_set_free(planned);
        return status;
    }
    *out = planned;
    return TCR_OK;
}
