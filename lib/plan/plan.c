/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A plan: the line, the lashes that are used, the best choice for every zone and layer,
 * corrections. The parts are in suit.c and cover.c, table.c and spread.c, assign.c and
 * free.c, and correct.c.
 */
#include "plan/plan_data.h"

#include <math.h>
#include <stdint.h>
#include <tipcrest/check.h>
#include <tipcrest/field.h>

#include "model/set_data.h"
#include "num/memory.h"
#include "num/options.h"
#include "num/range.h"

/* How far a free line may move. */
static const double SHIFT_MOST_MM = 5.0, TILT_MOST = 0.36397; /* 20 degrees */

void tcr_plan_options_init(tcr_plan_options *options, size_t size) {
    const tcr_plan_options defaults = {
        .limits = tcr_limits_default(),
        .share = 0.7,
        .zone_step_most_mm = INFINITY,
        .placement = {[TCR_ON_TOP] = true, [TCR_UNDERSIDE] = true, [TCR_OUTER_SIDE] = true},
        .corrections = SIZE_MAX,
        .spread_share = 0.95,
    };
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

static tcr_status check_options(const tcr_set *set, const tcr_plan_options *o) {
    const tcr_field *fan = tcr_field_find(TCR_GROUP_EXTENSION, "fan"),
                    *diameter = tcr_field_find(TCR_GROUP_EXTENSION, "diameter_mm");
    if (o->curls > TCR_PLAN_CURLS_MAX || o->diameters > TCR_PLAN_DIAMETERS_MAX ||
        o->fans > TCR_PLAN_FANS_MAX || (int)o->objective < 0 || o->objective > TCR_LEAST_MAXIMUM ||
        o->spread > TCR_SPREAD_MAX)
        return TCR_E_ARGUMENT;
    bool willing = false;
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        willing = willing || o->placement[p];
    for (size_t i = 0; i < o->curls; i++)
        if (o->curl[i] >= tcr_set_curl_count(set))
            return TCR_E_ARGUMENT;
    if (!willing || (o->spread > 0 && o->objective == TCR_LEAST_MAXIMUM && o->free_line))
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < o->fans; i++)
        if (tcr_field_allows(fan, o->fan[i], NULL) != TCR_OK)
            return TCR_E_RANGE;
    for (size_t i = 0; i < o->diameters; i++)
        if (tcr_field_allows(diameter, o->diameter_mm[i], NULL) != TCR_OK)
            return TCR_E_RANGE;
    if (!tcr_within(o->share, 0.05, 1.0) || !tcr_within(o->spread_share, 0.5, 1.0) ||
        !(o->zone_step_most_mm >= 0.0))
        return TCR_E_RANGE;
    return tcr_fields_check(TCR_GROUP_LIMITS, &o->limits, NULL);
}

void tcr_plan_free(tcr_plan *plan) {
    if (plan == NULL)
        return;
    const tcr_allocator allocator = plan->allocator;
    for (int side = 0; side < TCR_SIDES; side++)
        tcr_release(&allocator, plan->lash[side]);
    tcr_release(&allocator, plan->cell);
    tcr_release(&allocator, plan->point);
    tcr_release(&allocator, plan);
}

static tcr_assign cells_of(tcr_plan *plan, const tcr_plan_table *t) {
    const tcr_tray *tray = tcr_set_get_tray(plan->set);
    return (tcr_assign){
        .cells = t->choosing,
        .first = t->first,
        .length = t->length,
        .lengths = tray->count,
        .length_mm = tray->length_mm,
        .follows = t->follows,
        .step_most_mm = plan->options.zone_step_most_mm,
        .lengths_most = plan->options.lengths_most,
        .maximum = plan->options.objective == TCR_LEAST_MAXIMUM,
        .watch = &plan->watch,
    };
}

/* Which of the two limits that tie cells together is in the way. */
static tcr_plan_obstacle obstacle_of(const tcr_plan_table *t, tcr_assign cells, size_t *choice) {
    double total;
    tcr_assign any_step = cells;
    any_step.step_most_mm = INFINITY;
    cells.lengths_most = 0;
    if (tcr_assign_solve(&cells, t->extra, choice, &total, NULL) == TCR_OK)
        return TCR_OBSTACLE_LENGTHS;
    return tcr_assign_solve(&any_step, t->extra, choice, &total, NULL) == TCR_OK
               ? TCR_OBSTACLE_STEP
               : TCR_OBSTACLE_STEP_AND_LENGTHS;
}

/* How far a tip lies off the line as it was moved. */
static double off_moved(const tcr_plan_result *r, double x_mm, double off_mm) {
    return off_mm - r->shift_mm - r->tilt * x_mm;
}

/* Puts an option into the lashes of its cell; the rms of these. */
static double take_option(tcr_plan *plan, const tcr_plan_table *t, size_t cell, size_t option) {
    double squares = 0.0;
    for (size_t j = 0; j < t->lashes[cell]; j++) {
        const tcr_plan_member *m = &t->member[t->member_first[cell] + j];
        const size_t at = t->at[option] + j;
        tcr_plan_lash *lash = &plan->lash[m->side][m->lash];
        lash->choice = t->choice[option];
        lash->deviation_mm = off_moved(&plan->result, t->x_mm[at], t->off_mm[at]);
        lash->zone_deviation_mm = lash->deviation_mm;
        squares += lash->deviation_mm * lash->deviation_mm;
    }
    return sqrt(squares / (double)t->lashes[cell]);
}

/* Puts the chosen options into the cells and their lashes. */
static void take(tcr_plan *plan, const tcr_plan_table *t, const size_t *choice) {
    plan->result.one_kind = true;
    for (size_t c = 0; c < t->cells; c++) {
        const double rms = take_option(plan, t, c, choice[c]);
        if (c >= t->choosing)
            continue;
        plan->cell[c].choice = t->choice[choice[c]];
        plan->cell[c].rms_mm = rms;
        const tcr_choice *first = &plan->cell[0].choice, *own = &plan->cell[c].choice;
        plan->result.one_kind = plan->result.one_kind && own->diameter_mm == first->diameter_mm &&
                                own->fan == first->fan;
    }
}

/* Figures of the zones' choices, from what the solver proved. */
static void note_figures(tcr_plan *plan, const tcr_plan_table *t, const tcr_free_result *found) {
    tcr_plan_result *r = &plan->result;
    const bool maximum = plan->options.objective == TCR_LEAST_MAXIMUM;
    const size_t members = t->member_first[t->cells];
    double squares = 0.0;
    r->planned = t->member_first[t->choosing];
    for (size_t m = 0; m < members; m++) {
        const double off = plan->lash[t->member[m].side][t->member[m].lash].deviation_mm;
        squares += off * off;
        r->max_mm = fmax(r->max_mm, fabs(off));
    }
    const double n = (double)members;
    r->rms_mm = sqrt(squares / n);
    r->expected_rms_mm = r->samples > 0 && !maximum ? sqrt(found->total / n) : NAN;
    r->spread_max_mm = r->samples > 0 && maximum ? found->total : NAN;
    const double sampled = maximum ? r->spread_max_mm : r->expected_rms_mm;
    const double held = maximum ? r->max_mm : r->rms_mm;
    /* The sums above and the solver's are rounded in different orders. */
    r->bound_mm =
        fmin(maximum ? found->bound : sqrt(found->bound / n), r->samples > 0 ? sampled : held);
    r->proved = found->proved && r->samples == plan->options.spread;
    r->at_limit = found->at_limit;
}

static tcr_status choose(tcr_plan *plan, const tcr_plan_table *t, size_t *choice,
                         tcr_plan_fault *fault) {
    tcr_plan_result *r = &plan->result;
    const tcr_free problem = {
        .cells = cells_of(plan, t),
        .lashes = t->lashes,
        .sums = t->sums,
        .x_mm = t->x_mm,
        .off_mm = t->kept_mm != NULL ? t->kept_mm : t->off_mm,
        .at = t->at,
        .extra = t->extra,
        .fixed = t->cells - t->choosing,
        .shift_most_mm = plan->options.free_line ? SHIFT_MOST_MM : 0.0,
        .tilt_most = plan->options.free_line ? TILT_MOST : 0.0,
    };
    tcr_free_result found;
    const tcr_status status = tcr_free_solve(&problem, &plan->allocator, choice, &found);
    if (status == TCR_E_NO_SOLUTION)
        fault->obstacle = obstacle_of(t, problem.cells, choice);
    if (status != TCR_OK)
        return status;
    r->shift_mm = found.shift_mm;
    r->tilt = found.tilt;
    take(plan, t, choice);
    note_figures(plan, t, &found);
    return TCR_OK;
}

tcr_status tcr_plan_lines(const tcr_set *set, const tcr_view *view, tcr_line line[TCR_SIDES]) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(set, sides);
    tcr_status status = TCR_OK;
    for (size_t e = 0; e < eyes && status == TCR_OK; e++)
        status = tcr_intended_line(set, sides[e], view, &line[sides[e]]);
    return status;
}

static tcr_status work(tcr_plan *plan, tcr_plan_table *table, tcr_plan_fault *fault) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(plan->set, sides);
    tcr_status status = tcr_plan_lines(plan->set, &plan->view, plan->result.line);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++) {
        status = tcr_plan_suit(plan, sides[e]);
        if (status == TCR_OK && plan->eye[sides[e]].used == 0) {
            *fault = (tcr_plan_fault){.obstacle = TCR_OBSTACLE_LASHES, .side = sides[e]};
            status = TCR_E_NO_SOLUTION;
        }
    }
    if (status == TCR_OK)
        status = tcr_plan_table_make(plan, table, fault);
    if (status == TCR_OK && table->choosing == 0) {
        *fault = (tcr_plan_fault){.obstacle = TCR_OBSTACLE_ROWS, .side = sides[0]};
        status = TCR_E_NO_SOLUTION;
    }
    if (status == TCR_OK && plan->options.spread > 0)
        status = tcr_plan_spread(plan, table, &plan->result.samples);
    if (status != TCR_OK)
        return status;
    size_t *choice = tcr_resize(&plan->allocator, NULL, table->cells, sizeof *choice);
    if (choice == NULL)
        return TCR_E_MEMORY;
    status = choose(plan, table, choice, fault);
    tcr_release(&plan->allocator, choice);
    plan->result.cells = table->choosing;
    plan->result.cell = plan->cell;
    if (status == TCR_OK)
        status = tcr_plan_correct(plan, table);
    plan->result.stopped = plan->watch.stopped;
    return status;
}

/* Eyes, their lashes, and room for all cells. */
static tcr_status allocate(tcr_plan *plan) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_get_eyes(plan->set, sides);
    plan->cell = tcr_resize(&plan->allocator, NULL, TCR_ASSIGN_CELLS_MAX, sizeof *plan->cell);
    if (plan->cell == NULL)
        return TCR_E_MEMORY;
    for (size_t e = 0; e < eyes; e++) {
        const size_t count = tcr_set_lash_count(plan->set, sides[e]);
        tcr_plan_lash *lash = tcr_resize(&plan->allocator, NULL, count, sizeof *lash);
        if (lash == NULL)
            return TCR_E_MEMORY;
        plan->at[sides[e]] = tcr_looking_at(tcr_set_get_lid(plan->set, sides[e]), &plan->view);
        plan->lash[sides[e]] = lash;
        plan->eye[sides[e]].lash = lash;
        plan->eye[sides[e]].lashes = count;
    }
    return TCR_OK;
}

/* A plan takes what a check takes. */
static tcr_status check_set(const tcr_set *set) {
    tcr_check *check;
    if (tcr_set_get_tray(set)->count == 0)
        return TCR_E_TRAY; /* nothing to choose from */
    const tcr_status status = tcr_check_new(set, NULL, &check, NULL);
    if (status == TCR_OK)
        tcr_check_free(check);
    return status;
}

tcr_status tcr_plan_new(const tcr_set *set, const tcr_plan_options *options, tcr_plan **out,
                        tcr_plan_fault *fault) {
    tcr_plan_options o = tcr_plan_options_default();
    tcr_plan_fault unread = {.obstacle = TCR_OBSTACLE_NONE};
    fault = fault != NULL ? fault : &unread;
    if (set == NULL || out == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_options_take(&o, sizeof o, options);
    if (status == TCR_OK)
        status = check_options(set, &o);
    if (status == TCR_OK)
        status = check_set(set);
    if (status != TCR_OK)
        return status;
    *fault = (tcr_plan_fault){.obstacle = TCR_OBSTACLE_NONE};
    tcr_plan *plan = tcr_resize(&set->allocator, NULL, 1, sizeof *plan);
    if (plan == NULL)
        return TCR_E_MEMORY;
    *plan = (tcr_plan){.set = set,
                       .allocator = set->allocator,
                       .view = *tcr_set_get_view(set),
                       .options = o,
                       .watch = {.progress = o.progress}};
    tcr_plan_table table = {0};
    status = allocate(plan);
    if (status == TCR_OK)
        status = work(plan, &table, fault);
    tcr_plan_table_free(plan, &table);
    if (status != TCR_OK) {
        tcr_plan_free(plan);
        return status;
    }
    *out = plan;
    return TCR_OK;
}

const tcr_plan_options *tcr_plan_get_options(const tcr_plan *plan) {
    return plan != NULL ? &plan->options : NULL;
}

const tcr_plan_result *tcr_plan_get(const tcr_plan *plan) {
    return plan != NULL ? &plan->result : NULL;
}

const tcr_plan_eye *tcr_plan_get_eye(const tcr_plan *plan, tcr_side side) {
    if (plan == NULL || (int)side < 0 || (int)side >= TCR_SIDES || plan->lash[side] == NULL)
        return NULL;
    return &plan->eye[side];
}
