/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One placement for each layer, over all its zones and both eyes: easier to work by, and seldom
 * much farther from the line. With the line held and no limit that ties cells together the layers
 * do not touch each other, so that the placement that costs each layer least is the best; else it
 * is that of the line where it was and without such limits.
 */
#include "plan/plan_data.h"

#include <math.h>
#include <stdint.h>

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

/* Whether the zone fixes the placement of a cell, which then is no matter of the layer's. */
static bool is_fixed(const tcr_plan *plan, size_t cell) {
    const tcr_plan_cell *c = &plan->cell[cell];
    return (tcr_set_map(plan->set, c->side, NULL)[c->zone].layer[c->layer].fixed &
            TCR_FIX_PLACEMENT) != 0;
}

/* Whether a cell has an option of a placement; its lashes may carry no length so. */
static bool may_have(const tcr_plan_table *t, size_t cell, tcr_placement placement) {
    for (size_t o = t->first[cell]; o < t->first[cell + 1]; o++)
        if (t->choice[o].placement == placement)
            return true;
    return false;
}

/* The least that a cell costs with a placement, or with any. */
static double least_of(const tcr_plan *plan, const tcr_plan_table *t, size_t cell,
                       tcr_placement placement, bool any) {
    double least = INFINITY;
    for (size_t o = t->first[cell]; o < t->first[cell + 1]; o++)
        if (any || t->choice[o].placement == placement)
            least = fmin(least, cost_of(plan, t, cell, o));
    return least;
}

/* How a placement suits the zones of a layer: how many have it, how many cannot, and what all of
 * them then cost. */
typedef struct suits {
    size_t having, lacking;
    double cost;
} suits;

static suits layer_with(const tcr_plan *plan, const tcr_plan_table *t, tcr_layer layer,
                        tcr_placement placement) {
    const bool maximum = plan->options.objective == TCR_LEAST_MAXIMUM;
    suits of = {.cost = 0.0};
    for (size_t c = 0; c < t->choosing; c++) {
        if (plan->cell[c].layer != layer || is_fixed(plan, c))
            continue;
        const bool has = may_have(t, c, placement);
        const double least = least_of(plan, t, c, placement, !has);
        of.having += has;
        of.lacking += !has;
        of.cost = maximum ? fmax(of.cost, least) : of.cost + least;
    }
    return of;
}

/* That which the fewest zones lack, and of such the one that costs least: a zone that cannot have
 * it takes any, so that what few can have would seem cheap. */
static bool is_better(const suits *one, const suits *other) {
    if (one->having == 0 || one->lacking != other->lacking)
        return one->having > 0 && one->lacking < other->lacking;
    return one->cost < other->cost;
}

void tcr_plan_place_by_layer(tcr_plan *plan, const tcr_plan_table *t, double *extra) {
    tcr_placement *of = plan->result.layer_placement;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        suits best = {.lacking = SIZE_MAX, .cost = INFINITY};
        of[layer] = tcr_set_layering(plan->set)->placement[layer];
        for (int p = 0; p < TCR_PLACEMENTS; p++) {
            const suits own = layer_with(plan, t, (tcr_layer)layer, (tcr_placement)p);
            if (is_better(&own, &best)) {
                best = own;
                of[layer] = (tcr_placement)p;
            }
        }
    }
    for (size_t c = 0; c < t->cells; c++) {
        const tcr_placement own = c < t->choosing ? of[plan->cell[c].layer] : TCR_ON_TOP;
        const bool free = c >= t->choosing || is_fixed(plan, c) || !may_have(t, c, own);
        for (size_t o = t->first[c]; o < t->first[c + 1]; o++)
            extra[o] = free || t->choice[o].placement == own ? t->extra[o] : INFINITY;
    }
}
