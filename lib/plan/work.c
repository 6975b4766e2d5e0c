/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The work that a plan makes: order.h and tally.h put to the lashes of both eyes. */
#include "plan/plan_data.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <tipcrest/field.h>

#include "num/memory.h"
#include "num/options.h"
#include "plan/order.h"
#include "plan/tally.h"

void tcr_plan_pace_init(tcr_plan_pace *pace, size_t size) {
    tcr_plan_pace defaults = {0};
    tcr_fields_default(TCR_GROUP_PACE, &defaults);
    tcr_options_init(pace, size, &defaults, sizeof defaults);
}

/* One block, which tcr_plan_work_free knows by its first member: a pace may grow, so that it cannot
 * stand among the members of the work, and the plan may be gone by then. */
typedef struct paced_work {
    tcr_plan_work work;
    tcr_plan_pace pace;
    tcr_allocator allocator;
} paced_work;

/* What is put together before it becomes the caller's. */
typedef struct draft {
    const tcr_plan *plan;
    tcr_plan_work *work;
    tcr_plan_place *place; /* by eye and lash, then in working order */
    tcr_plan_row *row;
    tcr_tally_use *use;
    tcr_order_lash *lash;
    size_t *sequence;
    tcr_tally tally;
} draft;

void tcr_plan_work_free(tcr_plan_work *work) {
    if (work == NULL)
        return;
    const tcr_allocator allocator = ((paced_work *)(void *)work)->allocator;
    tcr_release(&allocator, (void *)(uintptr_t)work->place);
    tcr_release(&allocator, (void *)(uintptr_t)work->row);
    tcr_release(&allocator, work);
}

static tcr_status allocate(draft *d) {
    const tcr_allocator *allocator = &d->plan->allocator;
    size_t n = 0;
    for (int side = 0; side < TCR_SIDES; side++)
        n += d->plan->lash[side] != NULL ? d->plan->eye[side].used : 0;
    d->work->places = n;
    d->place = tcr_resize(allocator, NULL, n, sizeof *d->place);
    d->use = tcr_resize(allocator, NULL, n, sizeof *d->use);
    d->lash = tcr_resize(allocator, NULL, n, sizeof *d->lash);
    d->sequence = tcr_resize(allocator, NULL, n, sizeof *d->sequence);
    return d->place != NULL && d->use != NULL && d->lash != NULL && d->sequence != NULL
               ? TCR_OK
               : TCR_E_MEMORY;
}

static tcr_tally_use use_of(const tcr_plan *plan, const tcr_choice *choice) {
    return (tcr_tally_use){
        .length_mm = choice->length_mm,
        .curl = tcr_set_curl(plan->set, choice->curl)->label,
        .diameter_mm = choice->diameter_mm,
        .fan = choice->fan,
    };
}

/* Every lash that gets an extension: what it carries, and where the artist sees its root. */
static void gather(draft *d) {
    const tcr_view seat = tcr_view_named(TCR_ARTIST);
    size_t n = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = &d->plan->eye[side];
        if (d->plan->lash[side] == NULL)
            continue;
        const tcr_looking at = tcr_looking_at(tcr_set_lid(d->plan->set, (tcr_side)side), &seat);
        for (size_t i = 0; i < eye->lashes; i++) {
            const tcr_plan_lash *lash = &eye->lash[i];
            if (lash->use != TCR_USED && lash->use != TCR_USED_BY_ROW)
                continue;
            tcr_sight sight;
            tcr_evaluate(&at, tcr_set_lash(d->plan->set, (tcr_side)side, i), NULL, NULL,
                         TCR_ANEW_ALL, &sight);
            const tcr_vec2 root = tcr_project(&at, sight.stance.root);
            d->place[n] = (tcr_plan_place){.side = (tcr_side)side, .lash = i};
            d->use[n] = use_of(d->plan, &lash->choice);
            d->lash[n++] = (tcr_order_lash){.eye = side, .x_mm = root.x, .y_mm = root.y};
        }
    }
}

/* The tally: of lashes that were measured each, of others what their cells have in the mean over
 * the samples, for nobody knows how many the client has. */
static tcr_status tally_up(draft *d) {
    const tcr_plan *plan = d->plan;
    size_t n = 0;
    for (size_t i = 0; i < d->work->places; i++)
        n += !plan->eye[d->place[i].side].zones_only;
    for (size_t c = 0; c < plan->result.cells; c++)
        n += plan->eye[plan->cell[c].side].zones_only ? plan->cell[c].lashes : 0;
    tcr_tally_use *use = tcr_resize(&plan->allocator, NULL, n > 0 ? n : 1, sizeof *use);
    if (use == NULL)
        return TCR_E_MEMORY;
    n = 0;
    for (size_t i = 0; i < d->work->places; i++)
        if (!plan->eye[d->place[i].side].zones_only)
            use[n++] = d->use[i];
    for (size_t c = 0; c < plan->result.cells; c++)
        if (plan->eye[plan->cell[c].side].zones_only)
            for (size_t i = 0; i < plan->cell[c].lashes; i++)
                use[n++] = use_of(plan, &plan->cell[c].choice);
    const tcr_status status = tcr_tally_new(use, n, d->work->pace, &plan->allocator, &d->tally);
    tcr_release(&plan->allocator, use);
    return status;
}

/* The row of the tally that counts a use: of its curl, and nearest. */
static size_t row_of(const tcr_tally *tally, const tcr_tally_use *use) {
    double nearest = INFINITY;
    size_t row = 0;
    for (size_t r = 0; r < tally->rows; r++) {
        const double off = fabs(tally->row[r].length_mm - use->length_mm) +
                           fabs(tally->row[r].diameter_mm - use->diameter_mm);
        if (off < nearest && strcmp(tally->row[r].curl, use->curl) == 0) {
            nearest = off;
            row = r;
        }
    }
    return row;
}

static tcr_plan_order order_for(tcr_status status, tcr_order_proof proof) {
    static const tcr_plan_order BY_PROOF[] = {
        [TCR_ORDER_NO_PROOF] = TCR_ORDER_NOT_FOUND,
        [TCR_ORDER_CROWDED] = TCR_ORDER_CROWD,
        [TCR_ORDER_CLOSE] = TCR_ORDER_NARROW,
    };
    return status == TCR_OK ? TCR_ORDER_FOUND : BY_PROOF[proof];
}

/* The lashes as they come, where there are too many to look for an order. */
static void keep_order(draft *d) {
    tcr_plan_work *w = d->work;
    w->order = TCR_ORDER_TOO_MANY;
    for (size_t i = 0; i < w->places; i++) {
        d->sequence[i] = i;
        w->changes += i > 0 && d->lash[i].row != d->lash[i - 1].row;
        w->eye_changes += i > 0 && d->lash[i].eye != d->lash[i - 1].eye;
    }
    w->least_changes = w->rows > 0 ? w->rows - 1 : 0;
}

static tcr_status order(draft *d) {
    tcr_plan_work *w = d->work;
    tcr_order found;
    tcr_watch watch = {.progress = d->plan->options.progress};
    const tcr_order_costs costs = {w->pace->change_s, w->pace->eye_change_s};
    if (w->places > TCR_ORDER_MOST) {
        keep_order(d);
        return TCR_OK;
    }
    const tcr_status status =
        tcr_order_find(d->lash, w->places, w->pace->distance_mm, w->still_soft, &costs, &watch,
                       &d->plan->allocator, d->sequence, &found);
    if (status != TCR_OK && status != TCR_E_NO_SOLUTION)
        return status;
    w->order = order_for(status, found.none);
    w->stopped = watch.stopped;
    w->conflicts = found.conflicts;
    w->changes = found.changes;
    w->eye_changes = found.eye_changes;
    w->least_changes = found.least_changes;
    w->crowd = found.crowd;
    w->crowd_needs = found.crowd_needs;
    w->apart = found.apart;
    return TCR_OK;
}

/* Puts the places into working order. */
static tcr_status arrange(draft *d) {
    const size_t n = d->work->places;
    tcr_plan_place *placed = tcr_resize(&d->plan->allocator, NULL, n, sizeof *placed);
    if (placed == NULL)
        return TCR_E_MEMORY;
    for (size_t i = 0; i < n; i++)
        placed[i] = d->place[d->sequence[i]];
    tcr_release(&d->plan->allocator, d->place);
    d->place = placed;
    return TCR_OK;
}

static tcr_status take_rows(draft *d) {
    const tcr_tally *t = &d->tally;
    d->row = tcr_resize(&d->plan->allocator, NULL, t->rows, sizeof *d->row);
    if (d->row == NULL)
        return TCR_E_MEMORY;
    d->work->rows = t->rows;
    for (size_t r = 0; r < t->rows; r++) {
        d->row[r] = (tcr_plan_row){
            .length_mm = t->row[r].length_mm,
            .diameter_mm = t->row[r].diameter_mm,
            .lashes = t->row[r].lashes,
            .fibres = t->row[r].fibres,
            .with_loss = t->row[r].with_loss,
        };
        tcr_set_find_curl(d->plan->set, t->row[r].curl, &d->row[r].curl);
    }
    for (size_t i = 0; i < d->work->places; i++) {
        d->place[i].row = row_of(t, &d->use[i]);
        d->lash[i].row = (int)d->place[i].row;
    }
    return TCR_OK;
}

static tcr_status make(draft *d) {
    tcr_plan_work *w = d->work;
    tcr_status status = allocate(d);
    if (status != TCR_OK)
        return status;
    gather(d);
    status = tally_up(d);
    if (status == TCR_OK)
        status = take_rows(d);
    if (status == TCR_OK)
        status = order(d);
    if (status == TCR_OK)
        status = arrange(d);
    if (status != TCR_OK)
        return status;
    tcr_tally_time(&d->tally, w->changes, w->eye_changes, w->pace);
    w->lashes = d->tally.lashes;
    w->fibres = d->tally.fibres;
    w->with_loss = d->tally.with_loss;
    w->placing_min = d->tally.placing_minutes;
    w->minutes = d->tally.minutes;
    w->drops = d->tally.drops;
    w->refreshes = d->tally.refreshes;
    return TCR_OK;
}

tcr_status tcr_plan_work_new(const tcr_plan *plan, const tcr_plan_pace *pace,
                             tcr_plan_work **work) {
    tcr_plan_pace by = tcr_plan_pace_default();
    size_t soft;
    if (plan == NULL || work == NULL || !tcr_plan_fits(plan, plan->set))
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_options_take(&by, sizeof by, pace);
    if (status != TCR_OK)
        return status;
    status = tcr_fields_validate(TCR_GROUP_PACE, &by, NULL);
    if (status != TCR_OK)
        return status;
    status = tcr_order_still_soft(by.setting_s, by.lash_s, &soft);
    if (status != TCR_OK)
        return status;
    draft d = {.plan = plan};
    paced_work *whole = tcr_resize(&plan->allocator, NULL, 1, sizeof *whole);
    if (whole == NULL)
        return TCR_E_MEMORY;
    *whole = (paced_work){.work = {.pace = &whole->pace, .still_soft = soft, .plan = plan},
                          .pace = by,
                          .allocator = plan->allocator};
    d.work = &whole->work;
    status = make(&d);
    tcr_tally_free(&d.tally);
    tcr_release(&plan->allocator, d.use);
    tcr_release(&plan->allocator, d.lash);
    tcr_release(&plan->allocator, d.sequence);
    d.work->place = d.place;
    d.work->row = d.row;
    if (status != TCR_OK) {
        tcr_plan_work_free(d.work);
        return status;
    }
    *work = d.work;
    return TCR_OK;
}
