/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The largest plan, two eyes of 64 zones and a tray of 64 lengths, with limits for which a proof
 * takes longer than anybody waits: it ends when its caller stops it, with a choice that keeps the
 * limits and a bound. No clock is asked; a hanging search runs into the harness's timeout. The
 * client is INVENTED.
 */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdio.h>

#include "support/check.h"
#include "support/client.h"

enum { ZONES = 64, LENGTHS = 64, LASHES = 384 };
static const double FIRST_MM = 5.0, APART_MM = 0.15;

static tcr_set *the_largest(void) {
    static const char *const CURLS[] = {"C", "D"};
    tcr_set *set = tcr_make_measured(NULL, 2, LASHES);
    tcr_tray tray = {.count = LENGTHS};
    tcr_zone zone[ZONES] = {0};
    for (int i = 0; i < LENGTHS; i++)
        tray.length_mm[i] = FIRST_MM + APART_MM * i;
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    for (int i = 0; i < ZONES; i++) { /* rises to two thirds of the lid, then falls */
        zone[i].to = (i + 1.0) / ZONES;
        zone[i].length_mm = tray.length_mm[20 + (i < 42 ? i / 2 : (ZONES - i))];
        snprintf(zone[i].curl, sizeof zone[i].curl, "%s", CURLS[i % 2]);
    }
    for (int side = 0; side < TCR_SIDES; side++)
        expect_status(tcr_set_put_map(set, (tcr_side)side, zone, ZONES), TCR_OK);
    return set;
}

typedef struct patience {
    int left; /* reports of a search */
    int after;
} patience;

static bool until_out(void *context, const char *phase, double share) {
    patience *p = context;
    (void)share;
    p->after += p->left <= 0;
    if (phase[0] == 'z' || phase[1] == 'e') /* zones, lengths */
        p->left--;
    return p->left > 0;
}

static bool neighbours(const tcr_plan_cell *a, const tcr_plan_cell *b) {
    return a->side == b->side && a->layer == b->layer && a->zone + 1 == b->zone;
}

static void expect_limits_kept(const tcr_plan_result *r, const tcr_plan_options *o) {
    double length[LENGTHS];
    size_t lengths = 0;
    for (size_t i = 0; i < r->cells; i++) {
        const double own = r->cell[i].choice.length_mm;
        size_t k = 0;
        while (k < lengths && length[k] != own)
            k++;
        if (k == lengths)
            length[lengths++] = own;
        for (size_t n = 0; n < r->cells; n++)
            if (neighbours(&r->cell[i], &r->cell[n]))
                expect_within(fabs(r->cell[n].choice.length_mm - own), 0,
                              o->zone_step_most_mm + 1e-9, "the slack of assign.c");
    }
    expect_true(lengths <= o->lengths_most);
}

static void expect_stopped(const tcr_set *set, tcr_plan_options o, int reports) {
    patience left = {.left = reports};
    tcr_plan *plan = NULL;
    o.progress = (tcr_progress){until_out, &left};
    given("%d reports, %zu lengths, step %g mm, objective %d", reports, o.lengths_most,
          o.zone_step_most_mm, (int)o.objective);
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const double value = o.objective == TCR_LEAST_MAXIMUM ? r->max_mm : r->rms_mm;
    expect_true(r->stopped && !r->proved);
    expect_count(left.after, 0); /* source: progress.h, not asked again */
    expect_true(r->cells > 200); /* two eyes, three layers, most zones */
    expect_true(r->bound_mm > 0.0 && r->bound_mm < value);
    expect_limits_kept(r, &o);
    printf("# %d reports, %zu lengths, step %g: %.3f mm, bound %.3f mm\n", reports, o.lengths_most,
           o.zone_step_most_mm, value, r->bound_mm);
    tcr_plan_free(plan);
}

CLAIM(the_largest_plan_ends_when_it_is_stopped_with_a_choice_and_a_bound) {
    tcr_set *set = the_largest();
    tcr_plan_options o = tcr_plan_options_default();
    o.free_mm = 1.0;
    o.corrections = 0;
    o.lengths_most = 4;
    expect_stopped(set, o, 500);
    o.zone_step_most_mm = 0.6;
    expect_stopped(set, o, 500);
    o.objective = TCR_LEAST_MAXIMUM;
    o.lengths_most = 8;
    expect_stopped(set, o, 500);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_largest_plan_ends_when_it_is_stopped_with_a_choice_and_a_bound,
    };
    return RUN_CLAIMS("large", claims);
}
