/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The level step and the sensitivities, put back into the scalar call for a tip (tcr_tip), which
 * the solver does not use.
 */
#include <tipcrest/mean.h>
#include <tipcrest/step.h>

#include <math.h>
#include <string.h>

#include <gsl/gsl_deriv.h>

#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/make.h"

static tcr_set *new_set(void) {
    tcr_set *set = NULL;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    return set;
}

static void add_curl(tcr_set *set, const char *label, tcr_profile profile) {
    const tcr_curl curl = {label, 1, NULL, &profile};
    expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
}

static tcr_step_question ask(const tcr_set *set, const char *curl, double length_mm,
                             tcr_placement bottom, tcr_placement middle, tcr_placement top) {
    tcr_step_question q = {.side = TCR_LEFT,
                           .bottom_length_mm = length_mm,
                           .bottom = bottom,
                           .middle = middle,
                           .top = top};
    expect_status(tcr_set_find_curl(set, curl, &q.curl), TCR_OK);
    return q;
}

/* The mean lash at the pupil on a layer (step.h), without lashes a gap of 1 mm apart. */
static tcr_lash lash_on(const tcr_set *set, const tcr_step_question *q, int layer) {
    tcr_mean_lash mean;
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    tcr_lash lash = tcr_mean_lash_at(&mean, 0.5);
    lash.height_mm += layer * (q->has_apart ? q->apart_mm : 1.0);
    return lash;
}

/* Y of the tip in the open front view, as the scalar call has it; NaN where it cannot be bonded. */
static double tip_of(const tcr_set *set, const tcr_step_question *q, const tcr_lash *lash,
                     double length_mm, tcr_placement placement) {
    const tcr_layering *rule = tcr_set_layering(set);
    const tcr_extension ext = {
        .length_mm = length_mm,
        .diameter_mm = rule->diameter_mm,
        .fan = rule->fan,
        .spread_rad = rule->spread_rad,
        .placement = placement,
        .profile = tcr_curl_profile(tcr_set_curl(set, q->curl), length_mm),
    };
    tcr_vec3 tip;
    const tcr_status status =
        tcr_tip(tcr_set_lid(set, q->side), 1.0, lash, &ext, tcr_set_bond(set), &tip);
    return status == TCR_OK ? tip.y : (double)NAN;
}

/* How far the tip of an upper layer (0 middle, 1 top) stands above the bottom layer's. */
static double above_bottom(const tcr_set *set, const tcr_step_question *q, int upper,
                           double length_mm) {
    const tcr_lash bottom = lash_on(set, q, 0), lash = lash_on(set, q, upper + 1);
    return tip_of(set, q, &lash, length_mm, upper == 0 ? q->middle : q->top) -
           tip_of(set, q, &bottom, q->bottom_length_mm, q->bottom);
}

CLAIM(all_at_the_outer_side_c_and_j_of_12_mm_need_these_steps) {
    /* Earlier results of this project, by its independent reference too. */
    const struct {
        const char *curl;
        double step_mm;
    } expected[] = {{"C", 1.1528}, {"J", 1.5666}};
    tcr_set *set = new_set();
    for (size_t i = 0; i < 2; i++) {
        const tcr_step_question q =
            ask(set, expected[i].curl, 12.0, TCR_OUTER_SIDE, TCR_OUTER_SIDE, TCR_OUTER_SIDE);
        tcr_step step;
        given("curl %s", expected[i].curl);
        expect_status(tcr_step_of(set, &q, &step), TCR_OK);
        expect_near(step.step_mm[0], expected[i].step_mm, 5e-5, "half a unit of the last digit");
    }
    tcr_set_free(set);
}

/* Every catalogue curl, four lengths, and every placement of three layers. */
static int count_questions(size_t curls) { return (int)curls * 4 * 64; }

static tcr_step_question question_number(int i) {
    static const double LENGTH[] = {3.0, 9.5, 12.0, 15.0};
    return (tcr_step_question){
        .side = TCR_LEFT,
        .curl = (size_t)(i / 256),
        .bottom_length_mm = LENGTH[i / 64 % 4],
        .bottom = (tcr_placement)(i % 4),
        .middle = (tcr_placement)(i / 4 % 4),
        .top = (tcr_placement)(i / 16 % 4),
    };
}

CLAIM(put_back_the_lengths_bring_the_tips_level) {
    tcr_set *set = new_set();
    int level = 0;
    const int count = count_questions(tcr_set_curl_count(set));
    for (int i = 0; i < count; i++) {
        const tcr_step_question q = question_number(i);
        tcr_step step;
        expect_status(tcr_step_of(set, &q, &step), TCR_OK);
        for (int j = 0; j < TCR_UPPER_LAYERS; j++) {
            given("question %d, upper layer %d", i, j);
            if (step.status[j] != TCR_OK)
                continue;
            level++;
            expect_near(above_bottom(set, &q, j, step.length_mm[j]), 0.0, 2e-9,
                        "lengths are level to 1e-9 mm (step.h); a tip moves by at most two of it");
        }
        expect_same(step.step_mm[0], q.bottom_length_mm - step.length_mm[0], "one subtraction");
        expect_same(step.step_mm[1], step.length_mm[0] - step.length_mm[1], "one subtraction");
    }
    expect_within(level, count, 2 * count, "most questions have an answer, or nothing was tested");
    tcr_set_free(set);
}

CLAIM(at_any_distance_of_the_layers_the_tips_come_level) {
    static const double APART[] = {0.0, 0.3, 0.6, 1.0, 1.4, 3.0};
    tcr_set *set = new_set();
    for (int i = 0; i < 6; i++) {
        tcr_step_question q = ask(set, "C", 12.0, TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE);
        tcr_step step;
        q.has_apart = true;
        q.apart_mm = APART[i];
        given("%g mm apart", APART[i]);
        expect_status(tcr_step_of(set, &q, &step), TCR_OK);
        for (int j = 0; j < TCR_UPPER_LAYERS; j++)
            expect_near(above_bottom(set, &q, j, step.length_mm[j]), 0.0, 2e-9,
                        "lengths are level to 1e-9 mm (step.h); a tip moves by at most two of it");
    }
    tcr_set_free(set);
}

CLAIM(the_layers_are_as_far_apart_as_the_eyes_own) {
    /* Heights 0.2, 0.6 and 1.9: the question with the same two differences, one for each layer. */
    static const double HEIGHT[] = {0.2, 0.6, 1.9};
    tcr_set *set = new_set();
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        for (int sign = -1; sign <= 1; sign += 2) {
            tcr_lash lash = tcr_make_default_lash(0.5, (tcr_layer)layer);
            lash.height_mm = HEIGHT[layer] + 0.1 * sign;
            expect_status(tcr_set_add_lash(set, TCR_LEFT, sign < 0 ? "a" : "b", &lash, NULL),
                          TCR_OK);
        }
    const tcr_step_question own = ask(set, "C", 12.0, TCR_ON_TOP, TCR_ON_TOP, TCR_ON_TOP);
    tcr_step_question middle = own, top = own;
    tcr_step found, by_middle, by_top;
    middle.has_apart = top.has_apart = true;
    middle.apart_mm = 0.4;
    top.apart_mm = 0.85;
    expect_status(tcr_step_of(set, &own, &found), TCR_OK);
    expect_status(tcr_step_of(set, &middle, &by_middle), TCR_OK);
    expect_status(tcr_step_of(set, &top, &by_top), TCR_OK);
    expect_near(found.length_mm[0], by_middle.length_mm[0], 4e-9, "two lengths, 1e-9 mm (step.h)");
    expect_near(found.length_mm[1], by_top.length_mm[1], 4e-9, "two lengths, 1e-9 mm (step.h)");
    tcr_set_free(set);
}

CLAIM(the_level_length_is_the_nearest_to_the_bottom_layers) {
    /* Between the bottom layer's length and the answer, and as far on the other side of it, no tip
     * crosses the level. Where there is no answer, none does from 3 to 30 mm. */
    tcr_set *set = new_set();
    add_curl(set, "hook", (tcr_profile){1, {1.0}, {tcr_degrees(210.0)}});
    add_curl(set, "down", (tcr_profile){2, {0.5, 0.5}, {tcr_degrees(-60.0), tcr_degrees(-80.0)}});
    /* Rises with its length, then falls: two lengths may be level. */
    const tcr_profile bent[] = {{1, {1.0}, {tcr_degrees(60.0)}}, {1, {1.0}, {tcr_degrees(-60.0)}}};
    const tcr_curl both = {"both", 2, (const double[]){8.0, 16.0}, bent};
    expect_status(tcr_set_add_curl(set, &both), TCR_OK);
    int longer = 0, shorter = 0, none = 0;
    const int count = count_questions(tcr_set_curl_count(set));
    for (int i = 0; i < count; i += 7) {
        const tcr_step_question q = question_number(i);
        tcr_step step;
        expect_status(tcr_step_of(set, &q, &step), TCR_OK);
        for (int j = 0; j < TCR_UPPER_LAYERS; j++) {
            const bool found = step.status[j] == TCR_OK;
            const double reach = found ? fabs(step.length_mm[j] - q.bottom_length_mm) - 0.25 : 27.0;
            const double start = above_bottom(set, &q, j, q.bottom_length_mm);
            longer += found && step.length_mm[j] > q.bottom_length_mm;
            shorter += found && step.length_mm[j] < q.bottom_length_mm;
            none += !found;
            for (double away = 0.25; away < reach; away += 0.25) {
                const double up = fmin(q.bottom_length_mm + away, 30.0);
                const double down = fmax(q.bottom_length_mm - away, 3.0);
                given("question %d, upper layer %d, %.17g mm away", i, j, away);
                expect_true(above_bottom(set, &q, j, up) * start > 0.0);
                expect_true(above_bottom(set, &q, j, down) * start > 0.0);
            }
        }
    }
    expect_true(longer > 0 && shorter > 0 && none > 0); /* or one case was not tested */
    tcr_set_free(set);
}

CLAIM(a_straight_extension_steps_by_the_gap_over_its_rise) {
    /* Closed form: at the side a straight extension's tip moves along one line with its length, and
     * a root that is a gap higher moves it by the gap times b, up the lid (model.md, 2 to 4). */
    tcr_set *set = new_set();
    add_curl(set, "I", (tcr_profile){1, {1.0}, {0.0}});
    const tcr_step_question q = ask(set, "I", 12.0, TCR_OUTER_SIDE, TCR_OUTER_SIDE, TCR_OUTER_SIDE);
    const tcr_lash bottom = lash_on(set, &q, 0), middle = lash_on(set, &q, 1);
    const double at_12 = tip_of(set, &q, &bottom, 12.0, TCR_OUTER_SIDE);
    const double rise = tip_of(set, &q, &bottom, 13.0, TCR_OUTER_SIDE) - at_12;
    const double gap = tip_of(set, &q, &middle, 12.0, TCR_OUTER_SIDE) - at_12;
    tcr_step step;
    expect_status(tcr_step_of(set, &q, &step), TCR_OK);
    for (int j = 0; j < TCR_UPPER_LAYERS; j++)
        expect_near(step.step_mm[j], gap / rise, 1e-9,
                    "step.h, and rounding of heights over a rise of about a half");
    tcr_set_free(set);
}

CLAIM(height_alone_asks_for_what_the_two_levers_say) {
    /* Closed form: at the side a straight extension's tip is level where its length times the one
     * lever is its root's height times the other (see the claim above). */
    tcr_set *set = new_set();
    add_curl(set, "I", (tcr_profile){1, {1.0}, {0.0}});
    const tcr_step_question q = ask(set, "I", 12.0, TCR_OUTER_SIDE, TCR_ON_TOP, TCR_UNDERSIDE);
    const tcr_lash bottom = lash_on(set, &q, 0), middle = lash_on(set, &q, 1);
    const double at_12 = tip_of(set, &q, &bottom, 12.0, TCR_OUTER_SIDE);
    tcr_step_reason r;
    expect_status(tcr_step_reason_of(set, &q, &r), TCR_OK);
    expect_near(r.by_shorter_mm, tip_of(set, &q, &bottom, 11.0, TCR_OUTER_SIDE) - at_12, 1e-12,
                "rounding: the same tip by another call");
    expect_near(r.by_higher_mm, tip_of(set, &q, &middle, 12.0, TCR_OUTER_SIDE) - at_12, 1e-12,
                "rounding: the same tip by another call");
    for (int j = 0; j < TCR_UPPER_LAYERS; j++)
        expect_near(r.by_height_mm[j], (j + 1) * r.by_higher_mm / -r.by_shorter_mm, 2e-9,
                    "step.h, and rounding of heights over a rise of about a half");
    tcr_set_free(set);
}

CLAIM(height_and_placement_sum_to_the_level_step) {
    /* The part of the height is that of a question that places every layer as the bottom one. */
    tcr_set *set = new_set();
    const int count = count_questions(tcr_set_curl_count(set));
    int alike = 0, longer = 0, shorter = 0;
    for (int i = 0; i < count; i += 3) {
        const tcr_step_question q = question_number(i);
        tcr_step_question level = q;
        tcr_step asked, by_height;
        tcr_step_reason r;
        level.middle = level.top = q.bottom;
        expect_status(tcr_step_reason_of(set, &q, &r), TCR_OK);
        expect_status(tcr_step_of(set, &q, &asked), TCR_OK);
        expect_status(tcr_step_of(set, &level, &by_height), TCR_OK);
        for (int j = 0; j < TCR_UPPER_LAYERS; j++) {
            const double less = q.bottom_length_mm - asked.length_mm[j];
            given("question %d, upper layer %d", i, j);
            expect_same(r.by_height_mm[j], q.bottom_length_mm - by_height.length_mm[j],
                        "one subtraction");
            if (isnan(r.by_placement_mm[j])) {
                expect_true(asked.status[j] != TCR_OK || by_height.status[j] != TCR_OK);
                continue;
            }
            expect_near(r.by_height_mm[j] + r.by_placement_mm[j], less, 1e-12, "rounding");
            alike += r.by_placement_mm[j] == 0.0;
            longer += r.by_placement_mm[j] < 0.0;
            shorter += r.by_placement_mm[j] > 0.0;
            if ((j == 0 ? q.middle : q.top) == q.bottom)
                expect_same(r.by_placement_mm[j], 0.0, "placed alike");
        }
    }
    expect_true(alike > 0 && longer > 0 && shorter > 0); /* or not all was tested */
    tcr_set_free(set);
}

CLAIM(a_reason_is_told_what_is_wrong_with_its_question) {
    tcr_set *set = new_set();
    const tcr_step_question q = ask(set, "C", 12.0, TCR_ON_TOP, TCR_ON_TOP, TCR_ON_TOP);
    tcr_step_question bad = q, shortest = q;
    tcr_step_reason r, before;
    memset(&r, 1, sizeof r);
    before = r;
    expect_status(tcr_step_reason_of(NULL, &q, &r), TCR_E_ARGUMENT);
    expect_status(tcr_step_reason_of(set, NULL, &r), TCR_E_ARGUMENT);
    expect_status(tcr_step_reason_of(set, &q, NULL), TCR_E_ARGUMENT);
    bad.bottom_length_mm = 2.9;
    expect_status(tcr_step_reason_of(set, &bad, &r), TCR_E_RANGE);
    bad = q;
    bad.side = TCR_RIGHT;
    expect_status(tcr_step_reason_of(set, &bad, &r), TCR_E_MISSING);
    expect_true(memcmp(&r, &before, sizeof r) == 0);
    shortest.bottom_length_mm = 3.5; /* 1 mm shorter is no extension: 3 to 30 mm (step.h) */
    expect_status(tcr_step_reason_of(set, &shortest, &r), TCR_OK);
    expect_true(isnan(r.by_shorter_mm) && isfinite(r.by_higher_mm));
    tcr_set_free(set);
}

CLAIM(the_trays_length_is_the_one_that_leaves_least) {
    tcr_set *set = new_set();
    const tcr_tray tray = {.count = 6, .length_mm = {6.0, 8.0, 9.5, 10.0, 13.0, 17.0}};
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    for (int i = 0; i < count_questions(tcr_set_curl_count(set)); i += 5) {
        const tcr_step_question q = question_number(i);
        tcr_step step;
        expect_status(tcr_step_of(set, &q, &step), TCR_OK);
        for (int j = 0; j < TCR_UPPER_LAYERS; j++) {
            double least = INFINITY;
            for (size_t t = 0; t < tray.count; t++)
                least = fmin(least, fabs(above_bottom(set, &q, j, tray.length_mm[t])));
            given("question %d, upper layer %d", i, j);
            expect_true(tcr_tray_has(&tray, step.tray_mm[j]));
            expect_near(step.left_over_mm[j], above_bottom(set, &q, j, step.tray_mm[j]), 1e-12,
                        "two sums of a few millimetres in another order");
            expect_near(fabs(step.left_over_mm[j]), least, 1e-12, "the same");
            /* Closed form: model.md, 7, left over / tan 3'. */
            expect_near(step.shows_from_mm[j], fabs(step.left_over_mm[j]) / tan(tcr_degrees(0.05)),
                        1e-9, "roundings of metres");
        }
    }
    tcr_set_free(set);
}

CLAIM(where_no_length_is_level_the_step_is_not_a_number_and_the_tray_answers) {
    /* 3 mm is the least there is, so nothing shorter can be level on the upper layers. */
    tcr_set *set = new_set();
    const tcr_step_question q = ask(set, "C", 3.0, TCR_OUTER_SIDE, TCR_OUTER_SIDE, TCR_OUTER_SIDE);
    tcr_step step;
    expect_status(tcr_step_of(set, &q, &step), TCR_OK);
    for (int j = 0; j < TCR_UPPER_LAYERS; j++) {
        given("upper layer %d", j);
        expect_status(step.status[j], TCR_E_RANGE);
        expect_nan(step.length_mm[j]);
        expect_nan(step.step_mm[j]);
        expect_same(step.tray_mm[j], 5.0, "the shortest of the default tray, copied");
        expect_near(step.left_over_mm[j], above_bottom(set, &q, j, 5.0), 1e-12,
                    "two sums of a few millimetres in another order");
    }
    tcr_set_free(set);
}

/* ---- Sensitivities ----------------------------------------------------------------- */

typedef struct probe {
    const tcr_set *set;
    const tcr_step_question *q;
    tcr_lash lash;
    double *number; /* of the lash; NULL moves the extension's length */
} probe;

static double probed(double x, void *context) {
    probe *p = context;
    if (p->number == NULL)
        return tip_of(p->set, p->q, &p->lash, x, p->q->bottom);
    *p->number = x;
    return tip_of(p->set, p->q, &p->lash, p->q->bottom_length_mm, p->q->bottom);
}

/* GSL's derivative, of fourth order, by the scalar call. */
static double derivative(probe *p) {
    const double at = p->number != NULL ? *p->number : p->q->bottom_length_mm;
    const gsl_function f = {probed, p};
    double slope, error;
    ck_assert_int_eq(gsl_deriv_central(&f, at, 1e-3, &slope, &error), 0);
    if (p->number != NULL)
        *p->number = at;
    return slope;
}

CLAIM(sensitivities_are_derivatives_of_the_tips_height) {
    static const char *const NEAR = "step.h: error below 1e-6 of each, and GSL's own";
    tcr_set *set = new_set();
    for (int i = 0; i < count_questions(tcr_set_curl_count(set)); i += 37) {
        const tcr_step_question q = question_number(i);
        tcr_sensitivity s;
        if (q.bottom_length_mm < 3.5)
            continue; /* the scalar call takes no length below 3 mm, as GSL's would be */
        given("question %d", i);
        expect_status(tcr_step_sensitivity(set, &q, &s), TCR_OK);
        probe p = {set, &q, lash_on(set, &q, 0), NULL};
        const struct {
            double got, *number;
        } one[] = {
            {s.per_height, &p.lash.height_mm},
            {s.per_pitch, &p.lash.pitch_rad},
            {s.per_natural, &p.lash.length_mm},
            {s.per_turn, &p.lash.turn_rad},
            {s.per_length, NULL},
        };
        for (size_t k = 0; k < sizeof one / sizeof *one; k++) {
            p.number = one[k].number;
            const double expected = derivative(&p);
            given("question %d, number %zu", i, k);
            expect_near(one[k].got, expected, 1e-6 * fmax(fabs(expected), 1.0), NEAR);
        }
    }
    tcr_set_free(set);
}

CLAIM(placements_are_told_against_the_same_extension_on_top) {
    tcr_set *set = new_set();
    const tcr_step_question q = ask(set, "C", 12.0, TCR_UNDERSIDE, TCR_ON_TOP, TCR_ON_TOP);
    const tcr_lash lash = lash_on(set, &q, 0);
    const double on_top = tip_of(set, &q, &lash, 12.0, TCR_ON_TOP);
    tcr_sensitivity s;
    expect_status(tcr_step_sensitivity(set, &q, &s), TCR_OK);
    expect_same(s.by_placement_mm[TCR_ON_TOP], 0.0, "a number less itself");
    for (int p = 0; p < TCR_PLACEMENTS; p++) {
        given("placement %d", p);
        expect_near(s.by_placement_mm[p], tip_of(set, &q, &lash, 12.0, (tcr_placement)p) - on_top,
                    1e-12, "the same sums, perhaps in another order");
    }
    expect_true(s.by_placement_mm[TCR_UNDERSIDE] < 0.0); /* underneath is lower: common practice */
    tcr_set_free(set);
}

/* ---- Wrong questions --------------------------------------------------------------- */

static void expect_refused(const tcr_set *set, const tcr_step_question *q, tcr_status status) {
    tcr_step step = {.step_mm = {7.0, 7.0}};
    tcr_sensitivity s = {.per_height = 7.0};
    expect_status(tcr_step_of(set, q, &step), status);
    expect_status(tcr_step_sensitivity(set, q, &s), status);
    expect_same(step.step_mm[0], 7.0, "a failed call leaves its outputs");
    expect_same(s.per_height, 7.0, "a failed call leaves its outputs");
}

CLAIM(wrong_questions_are_told) {
    tcr_set *set = new_set();
    const tcr_step_question good = ask(set, "C", 12.0, TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE);
    expect_refused(NULL, &good, TCR_E_ARGUMENT);
    expect_refused(set, NULL, TCR_E_ARGUMENT);
    expect_status(tcr_step_of(set, &good, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_step_sensitivity(set, &good, NULL), TCR_E_ARGUMENT);
    tcr_step_question bad = good;
    bad.side = TCR_RIGHT;
    expect_refused(set, &bad, TCR_E_MISSING);
    bad = good;
    bad.curl = tcr_set_curl_count(set);
    expect_refused(set, &bad, TCR_E_ARGUMENT);
    tcr_placement *const places[] = {&bad.bottom, &bad.middle, &bad.top};
    for (size_t i = 0; i < 3; i++) {
        bad = good;
        memset(places[i], 0x7f, sizeof *places[i]); /* no placement has such a number */
        expect_refused(set, &bad, TCR_E_ARGUMENT);
    }
    bad.top = (tcr_placement)-1;
    expect_refused(set, &bad, TCR_E_ARGUMENT);
    static const double APART[] = {-0.001, 3.001, (double)NAN}; /* source: step.h: 0 to 3 mm */
    for (size_t i = 0; i < sizeof APART / sizeof *APART; i++) {
        bad = good;
        bad.has_apart = true;
        bad.apart_mm = APART[i];
        given("%.17g mm apart", APART[i]);
        expect_refused(set, &bad, TCR_E_RANGE);
    }
    static const double LENGTH[] = {2.999, 30.001, (double)NAN, (double)INFINITY, -12.0};
    for (size_t i = 0; i < sizeof LENGTH / sizeof *LENGTH; i++) {
        bad = good;
        bad.bottom_length_mm = LENGTH[i];
        given("%.17g mm", LENGTH[i]);
        expect_refused(set, &bad, TCR_E_RANGE);
    }
    tcr_set_free(set);
}

CLAIM(without_a_tray_each_layer_gets_its_level_length) {
    tcr_set *set = new_set();
    const tcr_tray any = {.count = 0};
    tcr_step step;
    expect_status(tcr_set_put_tray(set, &any), TCR_OK);
    const tcr_step_question q = ask(set, "C", 12.0, TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE);
    expect_status(tcr_step_of(set, &q, &step), TCR_OK);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) { /* any length is at hand: nothing is left over */
        expect_same(step.tray_mm[i], step.length_mm[i], "the level length");
        expect_same(step.left_over_mm[i], 0.0, "nothing");
    }
    tcr_set_free(set);
}

CLAIM(a_mean_lash_without_room_for_a_bond_is_told) {
    tcr_set *set = new_set();
    tcr_lash mean = tcr_lash_unknown(0.5, TCR_BOTTOM);
    mean.length_mm = 1.6; /* 0.9 mm beyond the 0.7 that stay free; a bond takes 1 (model.md, 4) */
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    const tcr_step_question q = ask(set, "C", 12.0, TCR_ON_TOP, TCR_ON_TOP, TCR_ON_TOP);
    expect_refused(set, &q, TCR_E_BOND);
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &all_at_the_outer_side_c_and_j_of_12_mm_need_these_steps,
        &put_back_the_lengths_bring_the_tips_level,
        &at_any_distance_of_the_layers_the_tips_come_level,
        &the_layers_are_as_far_apart_as_the_eyes_own,
        &the_level_length_is_the_nearest_to_the_bottom_layers,
        &a_straight_extension_steps_by_the_gap_over_its_rise,
        &height_alone_asks_for_what_the_two_levers_say,
        &height_and_placement_sum_to_the_level_step,
        &a_reason_is_told_what_is_wrong_with_its_question,
        &the_trays_length_is_the_one_that_leaves_least,
        &where_no_length_is_level_the_step_is_not_a_number_and_the_tray_answers,
        &sensitivities_are_derivatives_of_the_tips_height,
        &placements_are_told_against_the_same_extension_on_top,
        &wrong_questions_are_told,
        &without_a_tray_each_layer_gets_its_level_length,
        &a_mean_lash_without_room_for_a_bond_is_told,
    };
    return RUN_CLAIMS("step", claims);
}
