/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Plans as a whole: against every option tried through the public calls, the set that they are
 * written into, limits, what may change nothing.
 */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/check.h>
#include <tipcrest/load.h>
#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/client.h"
#include "support/make.h"
#include "support/memory.h"

static const double RMS_MM = 1e-9; /* the accuracy of the contract */

static tcr_plan *planned(const tcr_set *set, const tcr_plan_options *options) {
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, options, &plan, NULL), TCR_OK);
    return plan;
}

/* How far off the plan's line the tip of a lash stands with a choice; NaN where it cannot bear it.
 */
static double off_line(const tcr_plan *plan, const tcr_set *set, tcr_side side, size_t i,
                       const tcr_choice *choice) {
    const tcr_limits *limits = &tcr_plan_options_of(plan)->limits;
    const tcr_lash *lash = tcr_set_lash(set, side, i);
    const tcr_extension ext = tcr_set_extension(set, choice);
    const tcr_view *view = tcr_set_view(set);
    tcr_vec3 tip;
    tcr_stance stance;
    tcr_weight weight;
    const tcr_load *load = &weight.load;
    expect_status(tcr_lash_stance(lash, tcr_set_lid(set, side), view->opening, &stance), TCR_OK);
    if (choice->length_mm > lash->length_mm + limits->overlength_mm ||
        tcr_weight_of(lash, &stance, &ext, tcr_set_bond(set), NULL, &weight) != TCR_OK)
        return NAN;
    if (load->mass_ratio > limits->mass_ratio || load->moment_ratio > limits->moment_ratio)
        return NAN;
    expect_status(
        tcr_tip(tcr_set_lid(set, side), view->opening, lash, &ext, tcr_set_bond(set), &tip),
        TCR_OK);
    const tcr_vec2 seen = tcr_view_project(view, tip);
    return seen.y - tcr_line_at(&tcr_plan_result_of(plan)->line[side], seen.x);
}

/* Sum of squares of a cell with a choice; INFINITY where a lash cannot bear it. */
static double squares_with(const tcr_plan *plan, const tcr_set *set, const tcr_plan_cell *cell,
                           const tcr_choice *choice) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, cell->side);
    double sum = 0.0;
    size_t lashes = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash *lash = tcr_set_lash(set, cell->side, i);
        if (eye->lash[i].use != TCR_USED || lash->layer != cell->layer ||
            tcr_set_zone_at(set, cell->side, lash->u) != cell->zone)
            continue;
        const double off = off_line(plan, set, cell->side, i, choice);
        sum += isnan(off) ? INFINITY : off * off;
        lashes++;
    }
    expect_count(lashes, cell->lashes);
    return sum;
}

CLAIM(no_length_or_placement_of_any_cell_would_do_better) {
    tcr_set *set = tcr_make_client(NULL, 2, 60);
    tcr_plan_options options = tcr_plan_options_default();
    options.corrections = 0;
    tcr_plan *plan = planned(set, &options);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_tray *tray = tcr_set_tray(set);
    double least = 0.0;
    expect_true(r->cells > 6 && r->proved);
    for (size_t c = 0; c < r->cells; c++) {
        double best = INFINITY;
        for (size_t t = 0; t < tray->count; t++)
            for (int p = 0; p < TCR_PLACEMENTS; p++) {
                tcr_choice choice = r->cell[c].choice;
                choice.length_mm = tray->length_mm[t];
                choice.placement = (tcr_placement)p;
                if (options.placement[p])
                    best = fmin(best, squares_with(plan, set, &r->cell[c], &choice));
            }
        least += best;
    }
    /* Source: every option of every cell, through tcr_tip; without limits that tie cells together
     * the best of each is the best of all. */
    expect_near(r->rms_mm, sqrt(least / (double)r->planned), RMS_MM, "the contract's accuracy");
    expect_true(r->bound_mm <= r->rms_mm);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(a_planned_set_that_is_planned_again_stays_as_it_is) {
    static const size_t CORRECTIONS[] = {0, SIZE_MAX};
    for (size_t k = 0; k < 2; k++) {
        tcr_set *set = tcr_make_client(NULL, 2, 70), *once = NULL;
        tcr_plan_options o = tcr_plan_options_default();
        o.corrections = CORRECTIONS[k];
        tcr_plan *plan = planned(set, &o);
        expect_status(tcr_plan_apply(plan, &once), TCR_OK);
        o.corrections = 0;
        tcr_plan *again = planned(once, &o);
        const tcr_plan_result *first = tcr_plan_result_of(plan),
                              *second = tcr_plan_result_of(again);
        const tcr_plan_point *made = first->point;
        while (made->corrections < first->corrections)
            made++;
        given("%zu corrections", first->corrections);
        /* Source: invariance; what was intended is kept, so that the line is the same. */
        expect_near(second->rms_mm, made->rms_mm, RMS_MM, "the contract's accuracy");
        expect_near(second->max_mm, made->max_mm, RMS_MM, "the contract's accuracy");
        expect_near(second->bound_mm, second->rms_mm, RMS_MM, "proved");
        expect_bytes(&second->line, &first->line, sizeof first->line);
        tcr_plan_free(again);
        tcr_plan_free(plan);
        tcr_set_free(once);
        tcr_set_free(set);
    }
}

CLAIM(one_eyes_match_to_the_map_is_what_its_plan_says) {
    tcr_set *set = tcr_make_client(NULL, 1, 80), *after = NULL;
    tcr_plan *plan = planned(set, NULL);
    tcr_check *check = NULL;
    expect_status(tcr_plan_apply(plan, &after), TCR_OK);
    expect_status(tcr_check_new(after, NULL, &check, NULL), TCR_OK);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_plan_point *made = r->point;
    while (made->corrections < r->corrections)
        made++;
    const tcr_evenness *match = &tcr_check_eye(check, TCR_LEFT)->intended;
    /* Source: the check's own statistics of the planned set. */
    expect_near(made->rms_mm, match->upright.rms_mm, RMS_MM, "the contract's accuracy");
    expect_near(made->p95_mm, match->upright.p95_abs_mm, RMS_MM, "the contract's accuracy");
    expect_near(made->max_mm, match->upright.max_abs_mm, RMS_MM, "the contract's accuracy");
    tcr_check_free(check);
    tcr_plan_free(plan);
    tcr_set_free(after);
    tcr_set_free(set);
}

CLAIM(of_fans_the_one_is_taken_that_does_best) {
    tcr_set *set = tcr_make_client(NULL, 1, 60);
    tcr_plan_options o = tcr_plan_options_default();
    tcr_layering rule = *tcr_set_layering(set);
    double alone[3], least = INFINITY;
    static const int FAN[3] = {1, 3, 5};
    rule.diameter_mm = 0.07;
    rule.spread_rad = 0.7;
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    o.corrections = 0;
    o.limits.mass_ratio = o.limits.moment_ratio = 100.0;
    for (size_t i = 0; i < 3; i++) {
        o.fans = 1;
        o.fan[0] = FAN[i];
        tcr_plan *plan = planned(set, &o);
        alone[i] = tcr_plan_result_of(plan)->rms_mm;
        least = fmin(least, alone[i]);
        expect_count(tcr_plan_result_of(plan)->cell[0].choice.fan, FAN[i]);
        tcr_plan_free(plan);
    }
    o.fans = 3;
    memcpy(o.fan, FAN, sizeof FAN);
    tcr_plan *plan = planned(set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    double squares = 0.0;
    for (size_t c = 0; c < r->cells; c++) {
        double best = INFINITY;
        for (size_t t = 0; t < tcr_set_tray(set)->count; t++)
            for (int p = 0; p < TCR_PLACEMENTS; p++)
                for (size_t i = 0; i < 3; i++) {
                    tcr_choice choice = r->cell[c].choice;
                    choice.length_mm = tcr_set_tray(set)->length_mm[t];
                    choice.placement = (tcr_placement)p;
                    choice.fan = FAN[i];
                    if (o.placement[p])
                        best = fmin(best, squares_with(plan, set, &r->cell[c], &choice));
                }
        squares += best;
    }
    /* Source: every option of every cell, through tcr_tip. */
    expect_near(r->rms_mm, sqrt(squares / (double)r->planned), RMS_MM, "the contract's accuracy");
    expect_true(r->rms_mm <= least && alone[0] != alone[2]);
    tcr_plan_free(plan);
    o.fan[1] = 21;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_E_RANGE); /* source: plan.h */
    tcr_set_free(set);
}

CLAIM(the_planned_set_stands_where_the_plan_says) {
    tcr_set *set = tcr_make_client(NULL, 2, 80), *after = NULL;
    tcr_plan *plan = planned(set, NULL);
    tcr_check *check = NULL;
    expect_status(tcr_plan_apply(plan, &after), TCR_OK);
    expect_status(tcr_check_new(after, NULL, &check, NULL), TCR_OK);
    size_t corrected = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        const tcr_eye_result *result = tcr_check_eye(check, (tcr_side)side);
        expect_count(result->extended, eye->used);
        for (size_t i = 0; i < eye->lashes; i++) {
            given("eye %d, lash %zu", side, i);
            const tcr_lash_result *lash = &result->lash[i];
            const bool carries = eye->lash[i].use == TCR_USED;
            expect_true((lash->status == TCR_OK) == carries);
            if (!carries)
                continue;
            /* Source: the check of the planned set, against the plan's line. */
            expect_near(lash->seen.y -
                            tcr_line_at(&tcr_plan_result_of(plan)->line[side], lash->seen.x),
                        eye->lash[i].deviation_mm, RMS_MM, "the contract's accuracy");
            corrected += eye->lash[i].corrected;
        }
    }
    expect_count(corrected, tcr_plan_result_of(plan)->corrections);
    expect_true(corrected > 0);
    tcr_check_free(check);
    tcr_set_free(after);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(every_lash_keeps_to_the_limits) {
    tcr_set *set = tcr_make_client(NULL, 1, 120);
    tcr_plan_options options = tcr_plan_options_default();
    options.limits.overlength_mm = 3.0;
    options.limits.mass_ratio = 7.0;
    options.correct_all = true;
    tcr_plan *plan = planned(set, &options);
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, TCR_LEFT);
    expect_true(eye->used > 20 && eye->uses[TCR_BARE_WEAK] > 0);
    for (size_t i = 0; i < eye->lashes; i++)
        if (eye->lash[i].use == TCR_USED) {
            const double off = off_line(plan, set, TCR_LEFT, i, &eye->lash[i].choice);
            /* Source: loads and lengths through the public calls; NaN where a limit is broken. */
            expect_near(eye->lash[i].deviation_mm, off, RMS_MM, "the contract's accuracy");
        }
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* Tips of an eye within the tolerance, with those corrections of a set of lashes made. */
typedef struct tips {
    size_t all, within;
} tips;

/* Lash i is corrected where bit of[i] is in the set; of[i] is -1 where nothing betters it. */
static tips tips_with(const tcr_plan_eye *eye, const int *of, unsigned long made,
                      double tolerance) {
    tips t = {0, 0};
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_plan_lash *lash = &eye->lash[i];
        if (isnan(lash->zone_deviation_mm))
            continue;
        const bool is_made = of[i] >= 0 && (made >> of[i] & 1) != 0;
        t.all++;
        t.within += fabs(is_made ? lash->better_mm : lash->zone_deviation_mm) <= tolerance;
    }
    return t;
}

/* The fewest corrections of an eye that bring 95 % of its tips within the tolerance, or, where none
 * do, as many as all do: by trying every set of them. */
static size_t fewest_by_trying(const tcr_plan_eye *eye, double tolerance, bool *reached) {
    enum { LASHES = 64, MOST = 20 };
    int of[LASHES], count = 0;
    expect_true(eye->lashes <= LASHES);
    for (size_t i = 0; i < eye->lashes; i++)
        of[i] = isnan(eye->lash[i].better_mm) ? -1 : count++;
    expect_true(count <= MOST);
    const unsigned long sets = 1UL << count;
    const tips all = tips_with(eye, of, sets - 1, tolerance);
    size_t fewest = SIZE_MAX;
    *reached = all.within * 100 >= all.all * 95;
    for (unsigned long made = 0; made < sets; made++) {
        const tips t = tips_with(eye, of, made, tolerance);
        size_t corrections = 0;
        for (int bit = 0; bit < count; bit++)
            corrections += made >> bit & 1;
        if ((*reached ? t.within * 100 >= t.all * 95 : t.within == all.within) &&
            corrections < fewest)
            fewest = corrections;
    }
    return fewest;
}

CLAIM(no_set_of_fewer_corrections_brings_95_percent_within_the_tolerance) {
    size_t in_reach = 0, out_of_reach = 0, some = 0;
    for (size_t lashes = 12; lashes <= 24; lashes += 2)
        for (double tolerance = 0.05; tolerance < 0.7; tolerance += 0.05) {
            tcr_set *set = tcr_make_client(NULL, 2, lashes);
            tcr_plan_options o = tcr_plan_options_default();
            o.limits.overlength_mm = 30.0; /* no limit is to leave too few */
            o.limits.mass_ratio = o.limits.moment_ratio = 1e6;
            expect_status(tcr_set_put_tolerance(set, tolerance), TCR_OK);
            tcr_plan *plan = planned(set, &o);
            size_t fewest = 0;
            bool enough = true;
            for (int side = 0; side < TCR_SIDES; side++) {
                bool reached;
                fewest +=
                    fewest_by_trying(tcr_plan_eye_of(plan, (tcr_side)side), tolerance, &reached);
                enough = enough && reached;
            }
            given("%zu lashes an eye, tolerance %g", lashes, tolerance);
            /* Source: every set of corrections, counted from the plan's own deviations. */
            expect_count(tcr_plan_result_of(plan)->corrections, fewest);
            expect_count(tcr_plan_result_of(plan)->enough_within, enough);
            in_reach += enough;
            out_of_reach += !enough;
            some += enough && fewest > 0;
            tcr_plan_free(plan);
            tcr_set_free(set);
        }
    given("%zu in reach, %zu of them with corrections, %zu out of reach", in_reach, some,
          out_of_reach);
    expect_true(some > 10 && out_of_reach > 10);
}

CLAIM(of_lashes_that_come_within_the_tolerance_the_farthest_off_are_corrected_first) {
    tcr_set *set = tcr_make_measured(NULL, 1, 60);
    tcr_plan_options o = tcr_plan_options_default();
    expect_status(tcr_set_put_tolerance(set, 0.3), TCR_OK);
    tcr_plan *plan = planned(set, &o);
    const size_t needed = tcr_plan_result_of(plan)->corrections;
    tcr_plan_free(plan);
    expect_true(needed > 2);
    for (size_t made = 1; made < needed; made++) {
        double least_made = INFINITY, most_left = 0.0;
        o.corrections = made;
        plan = planned(set, &o);
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, TCR_LEFT);
        for (size_t i = 0; i < eye->lashes; i++) {
            const tcr_plan_lash *lash = &eye->lash[i];
            const double off = fabs(lash->zone_deviation_mm);
            if (lash->corrected)
                least_made = fmin(least_made, off);
            else if (off > 0.3 && fabs(lash->better_mm) <= 0.3)
                most_left = fmax(most_left, off);
        }
        given("%zu of %zu corrections", made, needed); /* their order: no source, this project's */
        expect_true(most_left > 0.3 && least_made >= most_left);
        tcr_plan_free(plan);
    }
    tcr_set_free(set);
}

CLAIM(the_curve_counts_tips_and_never_turns_back) {
    size_t reached = 0, out_of_reach = 0;
    /* Earlier result of this project: 95 % are out of reach up to 1.05 mm and need corrections from
     * 1.15 to 1.65 mm, since the tips of young lashes, which are straighter, spread a zone. */
    for (double tolerance = 0.25; tolerance < 2.0; tolerance += 0.1) {
        tcr_set *set = tcr_make_client(NULL, 2, 100);
        expect_status(tcr_set_put_tolerance(set, tolerance), TCR_OK);
        tcr_plan *plan = planned(set, NULL);
        const tcr_plan_result *r = tcr_plan_result_of(plan);
        reached += r->enough_within && r->corrections > 0;
        out_of_reach += !r->enough_within;
        for (size_t i = 0; i < r->points; i++) {
            const tcr_plan_point *p = &r->point[i];
            given("tolerance %g, %zu corrections", tolerance, p->corrections);
            if (i > 0) {
                expect_true(p->rms_mm <= r->point[i - 1].rms_mm);
                expect_true(p->p95_mm <= r->point[i - 1].p95_mm);
                expect_true(p->within_tolerance >= r->point[i - 1].within_tolerance);
            }
            /* Source: plan.h; a share of whole tips is 0.95 or off it by more than rounding. */
            expect_true(p->enough_within == (p->within_tolerance >= 0.95));
            if (p->corrections < r->corrections)
                expect_true(!p->enough_within);
            else
                expect_true(p->enough_within == r->enough_within);
        }
        tcr_plan_free(plan);
        tcr_set_free(set);
    }
    given("%zu in reach, %zu out of reach", reached, out_of_reach);
    expect_true(reached >= 4 && out_of_reach >= 4);
}

static double rms_of(const tcr_set *set, const tcr_plan_options *options) {
    tcr_plan *plan = planned(set, options);
    const double rms = tcr_plan_result_of(plan)->rms_mm;
    tcr_plan_free(plan);
    return rms;
}

CLAIM(more_to_choose_from_never_makes_it_worse) {
    tcr_set *set = tcr_make_client(NULL, 1, 90);
    tcr_plan_options o = tcr_plan_options_default();
    double before = INFINITY;
    for (size_t most = 3; most <= 8; most++) {
        o.lengths_most = most;
        const double rms = rms_of(set, &o);
        given("at most %zu lengths", most);
        expect_true(rms <= before + 1e-12);
        before = rms;
    }
    o.lengths_most = 0;
    expect_true(rms_of(set, &o) <= before + 1e-12);
    o.zone_step_most_mm = 1.0;
    const double stepped = rms_of(set, &o);
    o.zone_step_most_mm = 2.0;
    expect_true(rms_of(set, &o) <= stepped + 1e-12);
    o.zone_step_most_mm = INFINITY;
    const double held = rms_of(set, &o);
    o.curls = 2;
    expect_status(tcr_set_find_curl(set, "C", &o.curl[0]), TCR_OK);
    expect_status(tcr_set_find_curl(set, "D", &o.curl[1]), TCR_OK);
    expect_true(rms_of(set, &o) <= held + 1e-12);
    o.curls = 0;
    o.free_mm = 1.0;
    expect_true(rms_of(set, &o) <= held + 1e-12);
    tcr_set_free(set);
}

CLAIM(a_halved_tray_holds_the_whole_one) {
    tcr_set *set = tcr_make_client(NULL, 1, 90);
    const double whole = rms_of(set, NULL);
    tcr_tray tray = {.count = 0};
    for (double mm = 5.0; mm <= 20.0; mm += 0.5)
        tray.length_mm[tray.count++] = mm;
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    expect_true(rms_of(set, NULL) < whole);
    tcr_set_free(set);
}

CLAIM(the_other_eye_or_another_order_of_lashes_has_the_same_plan) {
    tcr_set *left = tcr_make_client(NULL, 1, 90), *other;
    tcr_zone zones[3];
    memcpy(zones, tcr_set_map(left, TCR_LEFT, NULL), sizeof zones);
    expect_status(tcr_set_new(NULL, &other), TCR_OK);
    expect_status(tcr_set_add_eye(other, TCR_RIGHT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(other, TCR_RIGHT, zones, 3), TCR_OK);
    for (size_t i = 90; i-- > 0;)
        expect_status(tcr_set_add_lash(other, TCR_RIGHT, tcr_set_id(left, TCR_LEFT, i),
                                       tcr_set_lash(left, TCR_LEFT, i), NULL),
                      TCR_OK);
    /* Source: invariance; both eyes have one frame, mirrored. */
    expect_near(rms_of(other, NULL), rms_of(left, NULL), 1e-12, "sums in another order");
    tcr_set_free(left);
    tcr_set_free(other);
}

CLAIM(with_samples_the_plan_expects_more_than_it_sees) {
    tcr_set *set = tcr_make_measured(NULL, 1, 60);
    tcr_plan_options o = tcr_plan_options_default();
    o.corrections = 0;
    const double held = rms_of(set, &o);
    o.samples = 200;
    tcr_plan *plan = planned(set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    /* Source: the nominal plan is the best for what is given, so that no other sees less; what
     * varies adds its variance. */
    expect_true(r->rms_mm >= held - 1e-12);
    expect_true(r->expected_rms_mm > r->rms_mm && r->expected_rms_mm < 3.0);
    expect_true(r->proved);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(what_stands_in_the_way_is_named) {
    tcr_set *set = tcr_make_client(NULL, 1, 60);
    tcr_plan_options o = tcr_plan_options_default();
    tcr_error error;
    tcr_plan *plan = NULL;
    o.limits.baby_below_mm = 20.0;
    expect_status(tcr_plan_new(set, &o, &plan, &error), TCR_E_NO_SOLUTION);
    expect_text(error.member, "baby_below_mm");
    o = tcr_plan_options_default();
    memset(o.placement, 0, sizeof o.placement);
    expect_status(tcr_plan_new(set, &o, &plan, &error), TCR_E_ARGUMENT);
    o = tcr_plan_options_default();
    o.share = NAN;
    expect_status(tcr_plan_new(set, &o, &plan, &error), TCR_E_RANGE);
    o.share = 0.049; /* plan.h: from 0.05 on */
    expect_status(tcr_plan_new(set, &o, &plan, &error), TCR_E_RANGE);
    expect_status(tcr_plan_new(NULL, NULL, &plan, &error), TCR_E_ARGUMENT);
    expect_true(tcr_plan_result_of(NULL) == NULL && tcr_plan_eye_of(NULL, TCR_LEFT) == NULL);
    expect_true(tcr_plan_point_made(NULL) == NULL);
    tcr_plan_free(NULL);
    tcr_set_free(set);
}

CLAIM(memory_that_runs_out_is_an_error_and_nothing_leaks) {
    size_t failed = 0;
    for (size_t n = 1;; n++) {
        tcr_counted counted = {0};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_set *set = tcr_make_client(&allocator, 1, 30), *after = NULL;
        const size_t blocks = counted.blocks;
        tcr_plan_options o = tcr_plan_options_default();
        tcr_plan *plan = NULL;
        o.samples = 4;
        counted.fail_at = counted.calls + n;
        tcr_status status = tcr_plan_new(set, &o, &plan, NULL);
        if (status == TCR_OK)
            status = tcr_plan_apply(plan, &after);
        given("call %zu", n);
        if (status != TCR_OK) {
            expect_status(status, TCR_E_MEMORY);
            expect_true(after == NULL);
            tcr_plan_free(plan);
            expect_count(counted.blocks, blocks);
            failed++;
        } else {
            tcr_plan_free(plan);
            tcr_set_free(after);
        }
        tcr_set_free(set);
        expect_count(counted.blocks, 0);
        if (status == TCR_OK)
            break;
    }
    expect_true(failed > 40);
}

int main(void) {
    static const TTest *const claims[] = {
        &no_length_or_placement_of_any_cell_would_do_better,
        &a_planned_set_that_is_planned_again_stays_as_it_is,
        &one_eyes_match_to_the_map_is_what_its_plan_says,
        &of_fans_the_one_is_taken_that_does_best,
        &the_planned_set_stands_where_the_plan_says,
        &every_lash_keeps_to_the_limits,
        &no_set_of_fewer_corrections_brings_95_percent_within_the_tolerance,
        &of_lashes_that_come_within_the_tolerance_the_farthest_off_are_corrected_first,
        &the_curve_counts_tips_and_never_turns_back,
        &more_to_choose_from_never_makes_it_worse,
        &a_halved_tray_holds_the_whole_one,
        &the_other_eye_or_another_order_of_lashes_has_the_same_plan,
        &with_samples_the_plan_expects_more_than_it_sees,
        &what_stands_in_the_way_is_named,
        &memory_that_runs_out_is_an_error_and_nothing_leaks,
    };
    return RUN_CLAIMS("plan", claims);
}
