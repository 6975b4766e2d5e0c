/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What holds for the plan of any set: the order of lashes and the side of an eye change nothing,
 * more to choose from makes nothing worse, no bound lies above its value, samples say what the
 * public calls say. Sets are described with drawn numbers: INVENTED. Expected values come from
 * invariance, or from the same quantity put together here from public calls.
 */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/random.h>
#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/make.h"

enum { LASHES = 48, ZONES = 3, SETS = 200, FREE_SETS = 100 };
static const char SUMS[] = "sums in another order";
static const double SUM_MM = 1e-9; /* the accuracy of the contract */

/* What a set is made of, so that it can be made again in another way. */
typedef struct eye {
    tcr_lid lid;
    tcr_zone zones[ZONES];
    tcr_lash lash[LASHES];
} eye;

static void draw_eye(gsl_rng *rng, eye *e) {
    tcr_description d = tcr_description_default();
    d.count = LASHES;
    d.seed = gsl_rng_get(rng);
    d.length_mm = tcr_draw_between(rng, 7.0, 9.0);
    e->lid = tcr_lid_default();
    e->lid.mrd1_mm = tcr_draw_between(rng, 2.5, 4.5);
    for (int z = 0; z < ZONES; z++)
        e->zones[z] = (tcr_zone){.to = z == ZONES - 1 ? 1.0 : 0.3 + 0.4 * z,
                                 .length_mm = 9.0 + (double)gsl_rng_uniform_int(rng, 3),
                                 .curl = "C"};
    for (uint32_t k = 0; k < LASHES; k++)
        expect_status(tcr_describe_lash(&d, 0, k, &e->lash[k]), TCR_OK);
}

static void add_eye(tcr_set *set, tcr_side side, const eye *e, bool backwards) {
    expect_status(tcr_set_add_eye(set, side, &e->lid), TCR_OK);
    expect_status(tcr_set_put_map(set, side, e->zones, ZONES), TCR_OK);
    for (size_t k = 0; k < LASHES; k++) {
        char id[16];
        const size_t i = backwards ? LASHES - 1 - k : k;
        snprintf(id, sizeof id, "%zu", i);
        expect_status(tcr_set_add_lash(set, side, id, &e->lash[i], NULL), TCR_OK);
    }
}

static tcr_set *set_of(const eye *left, const eye *right, bool backwards) {
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    if (left != NULL)
        add_eye(set, TCR_LEFT, left, backwards);
    if (right != NULL)
        add_eye(set, TCR_RIGHT, right, backwards);
    return set;
}

static tcr_plan *planned(const tcr_set *set, const tcr_plan_options *options) {
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, options, &plan, NULL), TCR_OK);
    return plan;
}

static void expect_same_choice(const tcr_choice *a, const tcr_choice *b) {
    expect_same(a->length_mm, b->length_mm, "of the tray");
    expect_count(a->curl, b->curl);
    expect_same(a->diameter_mm, b->diameter_mm, "given");
    expect_count(a->fan, b->fan);
    expect_count(a->placement, b->placement);
}

/* A lash of each plan, wherever it stands. */
static void expect_same_lash(const tcr_plan_lash *a, const tcr_plan_lash *b) {
    expect_count(a->use, b->use);
    if (a->use != TCR_USED)
        return;
    expect_count(a->corrected, b->corrected);
    expect_same_choice(&a->choice, &b->choice);
    expect_near(a->deviation_mm, b->deviation_mm, SUM_MM, SUMS);
}

CLAIM(another_order_of_lashes_changes_their_order_alone) {
    gsl_rng *rng = tcr_make_rng(41);
    for (int i = 0; i < SETS; i++) {
        static eye e;
        draw_eye(rng, &e);
        tcr_set *set = set_of(&e, NULL, false), *turned = set_of(&e, NULL, true);
        tcr_plan *a = planned(set, NULL), *b = planned(turned, NULL);
        given("set %d", i);
        expect_near(tcr_plan_result_of(b)->rms_mm, tcr_plan_result_of(a)->rms_mm, SUM_MM, SUMS);
        expect_count(tcr_plan_result_of(b)->corrections, tcr_plan_result_of(a)->corrections);
        for (size_t k = 0; k < LASHES; k++)
            expect_same_lash(&tcr_plan_eye_of(a, TCR_LEFT)->lash[k],
                             &tcr_plan_eye_of(b, TCR_LEFT)->lash[LASHES - 1 - k]);
        tcr_plan_free(a);
        tcr_plan_free(b);
        tcr_set_free(set);
        tcr_set_free(turned);
    }
    gsl_rng_free(rng);
}

CLAIM(eyes_that_change_places_take_their_plans_with_them) {
    gsl_rng *rng = tcr_make_rng(42);
    for (int i = 0; i < SETS; i++) {
        static eye one, other;
        draw_eye(rng, &one);
        draw_eye(rng, &other);
        tcr_set *set = set_of(&one, &other, false), *swapped = set_of(&other, &one, false);
        tcr_plan *a = planned(set, NULL), *b = planned(swapped, NULL);
        given("set %d", i);
        expect_near(tcr_plan_result_of(b)->rms_mm, tcr_plan_result_of(a)->rms_mm, SUM_MM, SUMS);
        for (int side = 0; side < TCR_SIDES; side++)
            for (size_t k = 0; k < LASHES; k++)
                expect_same_lash(&tcr_plan_eye_of(a, (tcr_side)side)->lash[k],
                                 &tcr_plan_eye_of(b, (tcr_side)(1 - side))->lash[k]);
        tcr_plan_free(a);
        tcr_plan_free(b);
        tcr_set_free(set);
        tcr_set_free(swapped);
    }
    gsl_rng_free(rng);
}

/* What is made least, with its bound held against it. */
static double least_of(const tcr_set *set, const tcr_plan_options *o) {
    tcr_plan *plan = planned(set, o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const double value = o->objective == TCR_LEAST_MAXIMUM ? r->max_mm : r->rms_mm;
    expect_true(r->proved);
    /* Proved to 1e-9 of the total (free.h). */
    expect_within(r->bound_mm, value - 1e-6, value + 1e-12,
                  "a bound, and a proof to 1e-9 of squares");
    tcr_plan_free(plan);
    return value;
}

/* Options from the narrowest on, each wider than the one before. */
static void widen(tcr_plan_options *o, int step) {
    if (step == 0)
        o->lengths_most = 3, o->placement[TCR_UNDERSIDE] = o->placement[TCR_OUTER_SIDE] = false;
    else if (step == 1)
        o->lengths_most = 5;
    else if (step == 2)
        o->lengths_most = 0;
    else if (step == 3)
        o->placement[TCR_UNDERSIDE] = true;
    else if (step == 4)
        o->placement[TCR_INNER_SIDE] = o->placement[TCR_OUTER_SIDE] = true;
    else
        o->free_mm = 1.0;
}

/* The lashes that are used must stay the same ones: none is left bare as too weak. */
static void expect_no_worse(tcr_objective objective, bool free_line, int sets, unsigned long seed) {
    gsl_rng *rng = tcr_make_rng(seed);
    for (int i = 0; i < sets; i++) {
        static eye one, other;
        tcr_plan_options o = tcr_plan_options_default();
        double before = INFINITY;
        draw_eye(rng, &one);
        draw_eye(rng, &other);
        tcr_set *set = set_of(&one, i % 2 == 0 ? &other : NULL, false);
        o.objective = objective;
        o.limits.overlength_mm = 30.0;
        o.limits.mass_ratio = o.limits.moment_ratio = 1e6; /* as good as none: field_table.c */
        for (int step = free_line ? 4 : 0; step <= 4 + free_line; step++) {
            widen(&o, step);
            given("set %d, step %d", i, step);
            const double value = least_of(set, &o);
            expect_true(value <= before + 1e-9);
            before = value;
        }
        tcr_tray halves = {.count = 0};
        for (double mm = 5.0; mm <= 20.0 && !free_line; mm += 0.5)
            halves.length_mm[halves.count++] = mm;
        if (!free_line) {
            expect_status(tcr_set_put_tray(set, &halves), TCR_OK);
            given("set %d, a tray in halves", i);
            expect_true(least_of(set, &o) <= before + 1e-9);
        }
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

CLAIM(more_to_choose_from_never_leaves_more_squares) {
    expect_no_worse(TCR_LEAST_SQUARES, false, SETS, 43);
}

CLAIM(more_to_choose_from_never_strays_more) {
    expect_no_worse(TCR_LEAST_MAXIMUM, false, SETS, 44);
}

CLAIM(a_free_line_never_leaves_more_squares) {
    expect_no_worse(TCR_LEAST_SQUARES, true, FREE_SETS, 45);
}

CLAIM(a_free_line_never_strays_more) { expect_no_worse(TCR_LEAST_MAXIMUM, true, 4, 46); }

/* ---- What varies ----------------------------------------------------------------------------- */

enum { OPENINGS = 16 };

/* The mean square over the lashes and over plain draws of what varies, put together from public
 * calls (DEVELOPERS.md: pitch, yaw, height and turn by the description's deviations, opening evenly
 * from 0.8 to 1), and its standard error. */
static double plain_mean_square(const eye *e, const tcr_plan *plan, const tcr_set *set,
                                uint32_t draws, double *error) {
    const tcr_description by = tcr_description_default();
    const tcr_plan_eye *used = tcr_plan_eye_of(plan, TCR_LEFT);
    tcr_line line[OPENINGS];
    double opening[OPENINGS], sum = 0.0, squares = 0.0;
    for (int i = 0; i < OPENINGS; i++) { /* the line planned for, eye open so far */
        tcr_view view = tcr_view_named(TCR_OPEN_FRONT);
        opening[i] = view.opening = 0.8 + 0.2 * (i + 0.5) / OPENINGS;
        tcr_set *seen = set_of(e, NULL, false);
        expect_status(tcr_set_put_view(seen, &view), TCR_OK);
        tcr_plan *at = planned(seen, NULL);
        line[i] = tcr_plan_result_of(at)->line[TCR_LEFT];
        tcr_plan_free(at);
        tcr_set_free(seen);
    }
    const tcr_view view = tcr_view_named(TCR_OPEN_FRONT);
    for (uint32_t n = 0; n < draws; n++) {
        double square = 0.0;
        size_t lashes = 0;
        for (uint32_t k = 0; k < LASHES; k++) {
            if (used->lash[k].use != TCR_USED)
                continue;
            const tcr_extension ext = tcr_set_extension(set, &used->lash[k].choice);
            tcr_lash lash = e->lash[k];
            tcr_random d = {.seed = n, .lash = k, .use = 77};
            d.field = 1, lash.pitch_rad += by.pitch_sd_rad * tcr_random_normal(&d);
            d.field = 2, lash.yaw_rad += by.yaw_sd_rad * tcr_random_normal(&d);
            d.field = 3, lash.height_mm += by.height_sd_mm * tcr_random_normal(&d);
            d.field = 4, lash.turn_rad += by.turn_sd_rad * tcr_random_normal(&d);
            d.field = 5;
            const int open = (int)(OPENINGS * tcr_random_uniform(&d));
            tcr_vec3 tip;
            expect_status(tcr_tip(&e->lid, opening[open], &lash, &ext, tcr_set_bond(set), &tip),
                          TCR_OK);
            const tcr_vec2 at = tcr_view_project(&view, tip);
            const double off = at.y - tcr_line_at(&line[open], at.x);
            square += off * off;
            lashes++;
        }
        square /= (double)lashes;
        sum += square;
        squares += square * square;
    }
    const double mean = sum / draws;
    *error = sqrt((squares / draws - mean * mean) / draws);
    return mean;
}

CLAIM(samples_expect_what_plain_draws_of_what_varies_come_to) {
    gsl_rng *rng = tcr_make_rng(47);
    for (int i = 0; i < 3; i++) {
        static eye e;
        double error[2], standard;
        draw_eye(rng, &e);
        /* On a steep line the yaw tells, which moves tips along it: a hundredth of the whole. */
        const uint32_t draws = i == 2 ? 100000 : 4000;
        for (int z = 0; z < ZONES && i == 2; z++)
            e.zones[z].length_mm = 7.0 + 4.0 * z;
        tcr_set *set = set_of(&e, NULL, false);
        tcr_plan_options o = tcr_plan_options_default();
        o.limits.overlength_mm = 10.0;
        o.corrections = 0;
        o.samples = 4096;
        tcr_plan *plan = planned(set, &o);
        const double many = tcr_plan_result_of(plan)->expected_rms_mm;
        const double plain = plain_mean_square(&e, plan, set, draws, &standard);
        given("eye %d", i);
        /* Source: draws of the test's own, by the same distributions; strata leave out what lies
         * beyond the middle of the last of 32, a few thousandths of the turn's variance. */
        expect_near(many * many, plain, 4.0 * standard + 0.005 * plain, "four standard errors");
        /* The more samples, the nearer: at 64 and 1024, by N^-1/2 at least on the whole. */
        for (int k = 0; k < 2; k++) {
            o.samples = k == 0 ? 64 : 1024;
            tcr_plan *fewer = planned(set, &o);
            error[k] = fabs(tcr_plan_result_of(fewer)->expected_rms_mm - many);
            tcr_plan_free(fewer);
        }
        /* Of N draws a mean square has the standard error of draws, times sqrt(draws / N). */
        for (int k = 0; k < 2; k++)
            expect_true(2.0 * many * error[k] <=
                        4.0 * standard * sqrt(draws / (k == 0 ? 64.0 : 1024.0)));
        tcr_plan_free(plan);
        tcr_set_free(set);
    }
    gsl_rng_free(rng);
}

/* Stops at the call of a number, of those about samples. */
typedef struct stopper {
    size_t at, calls;
} stopper;

static bool stop_at(void *context, const char *phase, double share) {
    stopper *s = context;
    expect_true(isnan(share) || (share >= 0.0 && share <= 1.0));
    return strcmp(phase, "samples") != 0 || ++s->calls != s->at;
}

CLAIM(stopped_on_its_way_the_plan_is_that_of_the_samples_gone_through) {
    enum { RANGE = 1024 }; /* plan.h: what was begun and not gone through is dropped */
    gsl_rng *rng = tcr_make_rng(48);
    static eye e;
    draw_eye(rng, &e);
    tcr_set *set = set_of(&e, NULL, false);
    tcr_plan_options o = tcr_plan_options_default();
    stopper asked = {.at = 0};
    o.samples = 3 * RANGE;
    o.progress = (tcr_progress){stop_at, &asked};
    tcr_plan_free(planned(set, &o));
    const size_t calls = asked.calls; /* the same number in each range */
    expect_true(calls >= 3);
    for (size_t ranges = 0; ranges < 3; ranges++) {
        asked = (stopper){.at = ranges * calls / 3 + 1 + ranges}; /* within the next range */
        o.samples = 3 * RANGE;
        o.progress.report = stop_at;
        tcr_plan *stopped = planned(set, &o);
        o.samples = ranges * RANGE;
        o.progress.report = NULL;
        tcr_plan *fewer = planned(set, &o);
        const tcr_plan_result *is = tcr_plan_result_of(stopped), *as = tcr_plan_result_of(fewer);
        given("%zu ranges", ranges);
        expect_count(is->samples, ranges * RANGE);
        expect_count(as->samples, ranges * RANGE);
        expect_true(is->stopped && !is->proved && !as->stopped);
        /* Source: the same samples in the same order, by another call. */
        expect_same(is->rms_mm, as->rms_mm, "the same plan");
        expect_same(is->bound_mm, as->bound_mm, "the same plan");
        if (ranges > 0)
            expect_same(is->expected_rms_mm, as->expected_rms_mm, "the same plan");
        expect_count(is->cells, as->cells);
        for (size_t c = 0; c < is->cells; c++)
            expect_same_choice(&is->cell[c].choice, &as->cell[c].choice);
        tcr_plan_free(stopped);
        tcr_plan_free(fewer);
    }
    tcr_set_free(set);
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &another_order_of_lashes_changes_their_order_alone,
        &eyes_that_change_places_take_their_plans_with_them,
        &more_to_choose_from_never_leaves_more_squares,
        &more_to_choose_from_never_strays_more,
        &a_free_line_never_leaves_more_squares,
        &a_free_line_never_strays_more,
        &samples_expect_what_plain_draws_of_what_varies_come_to,
        &stopped_on_its_way_the_plan_is_that_of_the_samples_gone_through,
    };
    return RUN_CLAIMS("property", claims);
}
