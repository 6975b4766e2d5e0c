/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The work of a plan: held against an independent look at its order, and a plain count. All data is
 * INVENTED.
 */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/view.h>

#include "support/check.h"
#include "support/client.h"
#include "support/memory.h"

static tcr_plan *planned(const tcr_allocator *allocator, size_t eyes, size_t lashes,
                         tcr_set **made) {
    tcr_set *set = tcr_make_client(allocator, eyes, lashes);
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, NULL, &plan, NULL), TCR_OK);
    *made = set;
    return plan;
}

static const tcr_plan_lash *lash_at(const tcr_plan *plan, const tcr_plan_place *place) {
    return &tcr_plan_eye_of(plan, place->side)->lash[place->lash];
}

static bool is_used(tcr_use use) { return use == TCR_USED || use == TCR_USED_BY_ROW; }

/* Each lash with an extension comes once, and no other. */
static void expect_each_once(const tcr_plan *plan, const tcr_plan_work *work) {
    size_t used = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(plan, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++) {
            size_t times = 0;
            for (size_t p = 0; p < work->places; p++)
                times += work->place[p].side == (tcr_side)side && work->place[p].lash == i;
            expect_count(times, is_used(eye->lash[i].use) ? 1 : 0);
            used += is_used(eye->lash[i].use);
        }
    }
    expect_count(work->places, used);
}

/* Where the artist sees a root, by the public calls alone. */
static tcr_vec2 root_of(const tcr_set *set, const tcr_plan_place *place) {
    const tcr_view seat = tcr_view_named(TCR_ARTIST);
    tcr_stance stance;
    expect_status(tcr_lash_stance(tcr_set_lash(set, place->side, place->lash),
                                  tcr_set_lid(set, place->side), seat.opening, &stance),
                  TCR_OK);
    return tcr_view_project(&seat, stance.root);
}

/* Lashes placed nearer than the distance to one placed less than the setting time before. */
static size_t conflicts_of(const tcr_set *set, const tcr_plan_work *work) {
    size_t conflicts = 0;
    for (size_t p = 0; p < work->places; p++) {
        const tcr_vec2 root = root_of(set, &work->place[p]);
        bool near = false;
        for (size_t q = 0; q < p; q++) {
            const tcr_vec2 other = root_of(set, &work->place[q]);
            const bool soft = (double)(p - q) * work->pace->lash_s < work->pace->setting_s;
            /* 1e-9: as order.h says what is near */
            near = near ||
                   (soft && work->place[p].side == work->place[q].side &&
                    hypot(root.x - other.x, root.y - other.y) < work->pace->distance_mm - 1e-9);
        }
        conflicts += near;
    }
    return conflicts;
}

static void expect_tally(const tcr_plan *plan, const tcr_plan_work *work) {
    size_t lashes = 0, fibres = 0, changes = 0, eye_changes = 0;
    for (size_t r = 0; r < work->rows; r++) {
        size_t here = 0;
        for (size_t p = 0; p < work->places; p++) {
            const tcr_choice *choice = &lash_at(plan, &work->place[p])->choice;
            if (work->place[p].row != r)
                continue;
            here++;
            expect_same(choice->length_mm, work->row[r].length_mm, "sizes of one tray");
            expect_same(choice->diameter_mm, work->row[r].diameter_mm, "one layering");
            expect_count(choice->curl, work->row[r].curl);
        }
        expect_count(work->row[r].lashes, here);
        lashes += work->row[r].lashes;
        fibres += work->row[r].fibres;
        expect_true(work->row[r].with_loss >= work->row[r].fibres);
    }
    for (size_t p = 1; p < work->places; p++)
        changes += work->place[p].row != work->place[p - 1].row;
    for (size_t p = 1; p < work->places; p++)
        eye_changes += work->place[p].side != work->place[p - 1].side;
    expect_count(lashes, work->places);
    expect_count(fibres, work->fibres);
    expect_count(changes, work->changes);
    expect_count(eye_changes, work->eye_changes);
    expect_true(work->least_changes <= work->changes || work->order != TCR_ORDER_FOUND);
    /* Source: by the definition of the paces; a few sums of doubles. */
    const double placing =
        ((double)work->places * work->pace->lash_s + (double)changes * work->pace->change_s +
         (double)eye_changes * work->pace->eye_change_s) /
        60.0;
    expect_near(work->placing_min, placing, 1e-9 * placing, "rounding of a sum");
    expect_near(work->minutes, placing + work->pace->preparation_min, 1e-9 * placing, "the same");
}

CLAIM(the_order_holds_every_lash_once_and_keeps_its_distance) {
    static const size_t LASHES[] = {3, 20, 90};
    for (size_t eyes = 1; eyes <= 2; eyes++)
        for (int i = 0; i < 3; i++) {
            tcr_set *set;
            tcr_plan_work *work;
            given("%zu eyes of %zu lashes", eyes, LASHES[i]);
            tcr_plan *plan = planned(NULL, eyes, LASHES[i], &set);
            expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
            expect_each_once(plan, work);
            expect_count(conflicts_of(set, work), work->conflicts);
            expect_true((work->order == TCR_ORDER_FOUND) == (work->conflicts == 0));
            expect_true(LASHES[i] < 20 || work->order == TCR_ORDER_FOUND);
            expect_tally(plan, work);
            tcr_plan_work_free(work);
            tcr_plan_free(plan);
            tcr_set_free(set);
        }
}

static bool stop(void *context, const char *phase, double share) {
    (void)context, (void)share;
    return strcmp(phase, "zones") != 0 && strcmp(phase, "corrections") != 0;
}

CLAIM(more_lashes_than_an_order_is_looked_for_come_as_they_stand) {
    enum { MOST = 2000 }; /* plan.h */
    tcr_set *set = tcr_make_measured(NULL, 2, 2 * MOST);
    tcr_plan *plan = NULL;
    tcr_plan_work *work;
    tcr_plan_options o = tcr_plan_options_default();
    o.progress = (tcr_progress){stop, NULL}; /* any choice will do */
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    expect_true(work->places > MOST);
    expect_count(work->order, TCR_ORDER_TOO_MANY);
    expect_each_once(plan, work);
    for (size_t p = 1; p < work->places; p++)
        expect_true(work->place[p].side != work->place[p - 1].side
                        ? work->eye_changes == 1
                        : work->place[p].lash > work->place[p - 1].lash);
    expect_tally(plan, work);
    tcr_plan_work_free(work);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(a_distance_beyond_the_eye_is_told_to_be_too_much) {
    tcr_set *set;
    tcr_plan_work *work;
    tcr_plan *plan = planned(NULL, 1, 30, &set);
    tcr_plan_pace pace = tcr_plan_pace_default();
    pace.distance_mm = 50.0; /* no lid is so wide: all lashes are near each other */
    expect_status(tcr_plan_work_new(plan, &pace, &work), TCR_OK);
    expect_true(work->order == TCR_ORDER_CROWD || work->order == TCR_ORDER_NARROW);
    expect_true(work->conflicts > 0);
    expect_count(conflicts_of(set, work), work->conflicts);
    expect_each_once(plan, work);
    tcr_plan_work_free(work);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(paces_out_of_range_are_refused) {
    tcr_set *set;
    tcr_plan_work *work = NULL;
    tcr_plan *plan = planned(NULL, 1, 20, &set);
    for (size_t i = 0; i < 8; i++) {
        static const double BAD[] = {-1.0, NAN, INFINITY};
        for (size_t b = 0; b < 3; b++) {
            tcr_plan_pace pace = tcr_plan_pace_default();
            double *const member[] = {&pace.setting_s,       &pace.distance_mm, &pace.lash_s,
                                      &pace.change_s,        &pace.loss_share,  &pace.drop_min,
                                      &pace.preparation_min, &pace.eye_change_s};
            given("member %zu is %g", i, BAD[b]);
            *member[i] = BAD[b];
            expect_status(tcr_plan_work_new(plan, &pace, &work), TCR_E_RANGE);
            expect_true(work == NULL);
        }
    }
    tcr_plan_pace pace = tcr_plan_pace_default();
    pace.size--;
    expect_status(tcr_plan_work_new(plan, &pace, &work), TCR_E_ARGUMENT);
    expect_status(tcr_plan_work_new(NULL, NULL, &work), TCR_E_ARGUMENT);
    expect_status(tcr_plan_work_new(plan, NULL, NULL), TCR_E_ARGUMENT);
    tcr_plan_work_free(NULL);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(no_memory_is_an_error_and_leaks_nothing) {
    tcr_counted counted = {0};
    const tcr_allocator allocator = tcr_counted_allocator(&counted);
    tcr_set *set;
    tcr_plan *plan = planned(&allocator, 2, 12, &set);
    const size_t before = counted.blocks;
    tcr_status status = TCR_E_MEMORY;
    for (size_t n = 1; status != TCR_OK && n < 1000; n++) {
        tcr_plan_work *work = NULL;
        given("call %zu fails", n);
        counted.calls = 0;
        counted.fail_at = n;
        status = tcr_plan_work_new(plan, NULL, &work);
        expect_true(status == TCR_OK || (status == TCR_E_MEMORY && work == NULL));
        tcr_plan_work_free(work);
        expect_count(counted.blocks, before);
    }
    expect_status(status, TCR_OK);
    counted.fail_at = 0;
    tcr_plan_free(plan);
    tcr_set_free(set);
    expect_count(counted.blocks, 0);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_order_holds_every_lash_once_and_keeps_its_distance,
        &more_lashes_than_an_order_is_looked_for_come_as_they_stand,
        &a_distance_beyond_the_eye_is_told_to_be_too_much,
        &paces_out_of_range_are_refused,
        &no_memory_is_an_error_and_leaks_nothing,
    };
    return RUN_CLAIMS("work", claims);
}
