/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One placement for each layer, over all its zones and both eyes: easier to work by, and seldom
 * much farther from the line. With the line held and no limit that ties cells together the layers
 * do not touch each other, so that the placement that costs each layer least is the best; else it
 * is that of the line where it was and without such limits.
 */
#include "plan/plan_data.h"

#include <math.h>

/* What an option costs with the line where it was. */
static double cost_of(const tcr_plan *plan, const tcr_plan_table *t, size_t cell, size_t option) {
    double most = 0.0;
    if (plan->options.objective != TCR_LEAST_MAXIMUM)
        return t->sums[option].off_off;
    const double *off_mm = (t->kept_mm != NULL ? t->kept_mm : t->off_mm) + t->at[option];
    for (size_t j = 0; j < t->lashes[cell]; j++)
        most = fmax(most, fabs(off_mm[j]));
    return most;
}

/* Whether a cell has an option of a placement; a zone may fix another. */
static bool may_have(const tcr_plan_table *t, size_t cell, tcr_placement placement) {
    for (size_t o = t->first[cell]; o < t->first[cell + 1]; o++)
        if (t->choice[o].placement == placement)
            return true;
    return false;
}

/* The least that a cell costs with a placement, or where it cannot have that, with any. */
static double least_of(const tcr_plan *plan, const tcr_plan_table *t, size_t cell,
                       tcr_placement placement) {
    const bool any = !may_have(t, cell, placement);
    double least = INFINITY;
    for (size_t o = t->first[cell]; o < t->first[cell + 1]; o++)
        if (any || t->choice[o].placement == placement)
            least = fmin(least, cost_of(plan, t, cell, o));
    return least;
}

/* What a layer costs with a placement; INFINITY where no zone may have it. */
static double layer_cost(const tcr_plan *plan, const tcr_plan_table *t, tcr_layer layer,
                         tcr_placement placement) {
    double total = 0.0;
    bool has = false;
    for (size_t c = 0; c < t->choosing; c++) {
        if (plan->cell[c].layer != layer)
            continue;
        const double least = least_of(plan, t, c, placement);
        has = has || may_have(t, c, placement);
        total = plan->options.objective == TCR_LEAST_MAXIMUM ? fmax(total, least) : total + least;
    }
    return has ? total : INFINITY;
}

void tcr_plan_place_by_layer(tcr_plan *plan, const tcr_plan_table *t, double *extra) {
    tcr_placement *of = plan->result.layer_placement;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        double least = INFINITY;
        of[layer] = tcr_set_layering(plan->set)->placement[layer];
        for (int p = 0; p < TCR_PLACEMENTS; p++) {
            const double cost = layer_cost(plan, t, (tcr_layer)layer, (tcr_placement)p);
            if (cost < least) {
                least = cost;
                of[layer] = (tcr_placement)p;
            }
        }
    }
    for (size_t c = 0; c < t->cells; c++) {
        const tcr_placement own = c < t->choosing ? of[plan->cell[c].layer] : TCR_ON_TOP;
        const bool free = c >= t->choosing || !may_have(t, c, own);
        for (size_t o = t->first[c]; o < t->first[c + 1]; o++)
            extra[o] = free || t->choice[o].placement == own ? t->extra[o] : INFINITY;
    }
}
