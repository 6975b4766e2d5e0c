/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One placement for each layer: plan.h, against plans that may choose from one placement alone. */
#include <tipcrest/plan.h>

#include <math.h>

#include "support/check.h"
#include "support/client.h"

/* Every lash can carry everything, so that the same ones are used whatever the placements. */
static tcr_plan_options lax(void) {
    tcr_plan_options o = tcr_plan_options_default();
    o.limits.overlength_mm = 30.0;
    o.limits.mass_ratio = o.limits.moment_ratio = 1e6;
    o.corrections = 0;
    return o;
}

enum { ZONES = 3 }; /* of the client's map */
static const tcr_wish INNER = {.fixed = TCR_FIX_PLACEMENT, .placement = TCR_INNER_SIDE};

/* A zone of the left eye fixes something for a layer. */
static void fix(tcr_set *set, size_t zone, tcr_layer layer, tcr_wish wish) {
    size_t count;
    const tcr_zone *map = tcr_set_map(set, TCR_LEFT, &count);
    expect_count(count, ZONES);
    tcr_zone zones[ZONES] = {map[0], map[1], map[2]};
    zones[zone].layer[layer] = wish;
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, ZONES), TCR_OK);
}

static tcr_plan *planned(const tcr_set *set, const tcr_plan_options *options) {
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, options, &plan, NULL), TCR_OK);
    return plan;
}

/* What layers come to where all have one placement: sums of squares, or the largest distance. */
typedef struct by_layer {
    double cost[TCR_LAYERS], lashes;
} by_layer;

static by_layer with_placement(const tcr_set *set, tcr_plan_options o, tcr_placement placement) {
    by_layer of = {.lashes = 0.0};
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        o.placement[p] = p == (int)placement;
    tcr_plan *plan = planned(set, &o);
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++) {
            double *cost = &of.cost[tcr_set_lash(set, (tcr_side)side, i)->layer];
            const double off = fabs(eye->lash[i].zone_deviation_mm);
            if (eye->lash[i].use != TCR_USED)
                continue;
            *cost = o.objective == TCR_LEAST_MAXIMUM ? fmax(*cost, off) : *cost + off * off;
            of.lashes += 1.0;
        }
    }
    tcr_plan_free(plan);
    return of;
}

CLAIM(each_layer_gets_the_placement_that_costs_it_least) {
    bool differ = false;
    for (int k = 0; k < 4; k++) {
        tcr_set *set = tcr_make_measured(NULL, 1 + (size_t)k / 2, 90);
        tcr_plan_options o = lax();
        const bool maximum = k % 2 == 1;
        o.objective = maximum ? TCR_LEAST_MAXIMUM : TCR_LEAST_SQUARES;
        by_layer of[TCR_PLACEMENTS];
        for (int p = 0; p < TCR_PLACEMENTS; p++)
            of[p] = with_placement(set, o, (tcr_placement)p);
        tcr_plan *plan = planned(set, &o);
        const tcr_plan_result *r = tcr_plan_result_of(plan);
        double total = 0.0;
        given("%d eyes, maximum %d", 1 + k / 2, maximum);
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            int best = TCR_ON_TOP;
            for (int p = 0; p < TCR_PLACEMENTS; p++)
                if (o.placement[p] && of[p].cost[layer] < of[best].cost[layer])
                    best = p;
            expect_count(r->layer_placement[layer], (size_t)best);
            differ = differ || best != (int)r->layer_placement[0];
            total = maximum ? fmax(total, of[best].cost[layer]) : total + of[best].cost[layer];
        }
        /* source: the plans with one placement; rounding of sums */
        expect_near(r->by_layer_mm, maximum ? total : sqrt(total / of[0].lashes), 1e-9, "sums");
        expect_near(r->by_zone_mm, maximum ? r->max_mm : r->rms_mm, 1e-9, "sums");
        expect_within(r->by_layer_mm - r->by_zone_mm, maximum ? 0.0 : 1e-6, INFINITY,
                      "fewer choices");
        tcr_plan_free(plan);
        tcr_set_free(set);
    }
    expect_true(differ);
}

/* Whether all cells have their layer's placement, but those of one zone another. */
static void expect_placed(const tcr_plan_result *r, size_t zone, tcr_placement fixed) {
    for (size_t c = 0; c < r->cells; c++)
        expect_count(r->cell[c].choice.placement,
                     r->cell[c].zone == zone ? fixed : r->layer_placement[r->cell[c].layer]);
}

CLAIM(a_plan_by_it_comes_to_what_was_told_before) {
    for (int k = 0; k < 4; k++) {
        const bool measured = k % 2 == 0;
        tcr_set *set = measured ? tcr_make_measured(NULL, 2, 90) : tcr_make_client(NULL, 2, 90);
        tcr_plan_options o = lax();
        o.objective = k < 2 ? TCR_LEAST_SQUARES : TCR_LEAST_MAXIMUM;
        o.samples = measured ? 0 : 10;
        tcr_plan *free = planned(set, &o);
        o.same_placement = true;
        tcr_plan *held = planned(set, &o);
        const tcr_plan_result *f = tcr_plan_result_of(free), *h = tcr_plan_result_of(held);
        given("case %d", k);
        expect_placed(h, TCR_ZONES_MAX, TCR_ON_TOP);
        expect_same(h->by_layer_mm, f->by_layer_mm, "plan.h");
        expect_same(h->by_zone_mm, f->by_zone_mm, "plan.h");
        expect_near(h->by_layer_mm,
                    measured ? (k < 2 ? h->rms_mm : h->max_mm)
                             : (k < 2 ? h->expected_rms_mm : h->samples_max_mm),
                    1e-9, "sums");
        expect_within(h->bound_mm - h->by_layer_mm, -1e-6, 1e-12, "plan.h: its bound");
        expect_true(h->proved);
        tcr_plan_free(free);
        tcr_plan_free(held);
        tcr_set_free(set);
    }
}

static tcr_placement placement_of(const tcr_plan_result *r, size_t zone, tcr_layer layer) {
    for (size_t c = 0; c < r->cells; c++)
        if (r->cell[c].zone == zone && r->cell[c].layer == layer)
            return r->cell[c].choice.placement;
    return (tcr_placement)TCR_PLACEMENTS;
}

/* The fixed placement is none that the others may have: it must not be taken for the layer's,
 * whether these agree or not. */
CLAIM(a_zone_that_fixes_another_keeps_it_and_the_others_have_one) {
    bool disagree = false;
    for (size_t lashes = 40; lashes <= 100; lashes += 10) {
        tcr_set *set = tcr_make_measured(NULL, 1, lashes);
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            fix(set, 1, (tcr_layer)layer, INNER);
        tcr_plan_options o = lax();
        tcr_plan *free = planned(set, &o);
        o.same_placement = true;
        tcr_plan *held = planned(set, &o);
        const tcr_plan_result *f = tcr_plan_result_of(free), *h = tcr_plan_result_of(held);
        given("%zu lashes", lashes);
        expect_placed(h, 1, TCR_INNER_SIDE);
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            expect_true(h->layer_placement[layer] != TCR_INNER_SIDE);
            disagree = disagree ||
                       placement_of(f, 0, (tcr_layer)layer) != placement_of(f, 2, (tcr_layer)layer);
        }
        tcr_plan_free(free);
        tcr_plan_free(held);
        tcr_set_free(set);
    }
    expect_true(disagree);
}

CLAIM(a_layer_of_which_all_zones_fix_theirs_has_the_rules) {
    tcr_set *set = tcr_make_measured(NULL, 1, 60);
    tcr_layering rule = *tcr_set_layering(set);
    rule.placement[TCR_TOP] = TCR_UNDERSIDE;
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    for (size_t z = 0; z < ZONES; z++)
        fix(set, z, TCR_TOP, INNER);
    tcr_plan_options o = lax();
    o.same_placement = true;
    tcr_plan *plan = planned(set, &o);
    /* source: plan.h */
    expect_count(tcr_plan_result_of(plan)->layer_placement[TCR_TOP], TCR_UNDERSIDE);
    expect_count(placement_of(tcr_plan_result_of(plan), 0, TCR_TOP), TCR_INNER_SIDE);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(the_other_way_is_not_computed_where_it_would_take_as_long_as_the_plan) {
    tcr_set *set = tcr_make_measured(NULL, 1, 60);
    for (int k = 0; k < 4; k++) {
        tcr_plan_options o = lax();
        o.lengths_most = k < 2 ? 3 : 0;
        o.free_mm = k < 2 ? 0.0 : 0.5;
        o.same_placement = k % 2 == 1;
        tcr_plan *plan = planned(set, &o);
        const tcr_plan_result *r = tcr_plan_result_of(plan);
        given("case %d", k);
        expect_near(o.same_placement ? r->by_layer_mm : r->by_zone_mm, r->rms_mm, 1e-9, "sums");
        expect_nan(o.same_placement ? r->by_zone_mm : r->by_layer_mm);
        if (o.same_placement)
            expect_placed(r, TCR_ZONES_MAX, TCR_ON_TOP);
        tcr_plan_free(plan);
    }
    tcr_set_free(set);
}

/* The status of a plan with one placement a layer and a zone step that leaves a choice without it.
 */
static tcr_status tied(const tcr_set *set, double moment_ratio, tcr_error *error) {
    tcr_plan_options o = lax();
    tcr_plan *plan = NULL;
    o.share = 1.0;
    o.limits.moment_ratio = moment_ratio;
    o.zone_step_most_mm = 1.0;
    tcr_status status = tcr_plan_new(set, &o, &plan, NULL);
    tcr_plan_free(plan);
    plan = NULL;
    o.same_placement = true;
    if (status == TCR_OK)
        status = tcr_plan_new(set, &o, &plan, error);
    else
        status = TCR_OK;
    tcr_plan_free(plan);
    return status;
}

/* How much a lash carries depends a little on the placement: some limit lets zones keep the step
 * with each its own, and not with one. */
CLAIM(a_step_that_one_placement_cannot_keep_is_told) {
    tcr_set *set = tcr_make_measured(NULL, 1, 50);
    tcr_error error = {.status = TCR_OK};
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        fix(set, 1, (tcr_layer)layer,
            (tcr_wish){.fixed = TCR_FIX_LENGTH, .length_mm = 12.0 - layer});
    double ratio = 20.0;
    while (ratio < 40.0 && tied(set, ratio, &error) == TCR_OK)
        ratio += 0.1;
    given("moment_ratio %g", ratio);
    expect_status(error.status, TCR_E_NO_SOLUTION); /* source: plan.h */
    expect_text(error.member, "same_placement");
    expect_text(error.message,
                "with the placement that costs each layer least no choice keeps to the zone step "
                "and the lengths; each zone's own placement would leave one");
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &each_layer_gets_the_placement_that_costs_it_least,
        &a_plan_by_it_comes_to_what_was_told_before,
        &a_zone_that_fixes_another_keeps_it_and_the_others_have_one,
        &a_layer_of_which_all_zones_fix_theirs_has_the_rules,
        &the_other_way_is_not_computed_where_it_would_take_as_long_as_the_plan,
        &a_step_that_one_placement_cannot_keep_is_told,
    };
    return RUN_CLAIMS("placed", claims);
}
