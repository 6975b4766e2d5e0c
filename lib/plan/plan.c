/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A plan: the line, the lashes that are used, the best choice for every zone and layer,
 * corrections. The parts are in suit.c and cover.c, table.c and samples.c, assign.c and
 * placed.c, free.c, and correct.c; refuse.c says why there is none.
 */
#include "plan/plan_data.h"

#include <math.h>
#include <stdint.h>
#include <tipcrest/check.h>

#include "line/intended.h"
#include "model/set_data.h"
#include "num/error.h"
#include "num/memory.h"
#include "num/options.h"
#include "plan/refuse.h"

void tcr_plan_options_init(tcr_plan_options *options, size_t size) {
    const tcr_plan_options defaults = {
        .limits = tcr_limits_default(),
        .share = 0.7,
        .zone_step_most_mm = INFINITY,
        .placement = {[TCR_ON_TOP] = true, [TCR_UNDERSIDE] = true, [TCR_OUTER_SIDE] = true},
        .corrections = SIZE_MAX,
        .samples_share = 0.95,
    };
    tcr_options_init(options, size, &defaults, sizeof defaults);
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

static tcr_assign cells_of(const tcr_plan *plan, const tcr_plan_table *t, tcr_watch *watch) {
    const tcr_tray *tray = tcr_set_tray(plan->set);
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
        .watch = watch,
    };
}

/* Which of the limits that tie cells together is in the way: the step, the lengths, or both; or one
 * placement for each layer, without which they leave a choice. */
static tcr_status name_tie(const tcr_plan *plan, const tcr_plan_table *t, tcr_assign cells,
                           size_t *choice, tcr_error *error) {
    double total;
    tcr_assign any_step = cells;
    any_step.step_most_mm = INFINITY;
    if (plan->options.same_placement) {
        const tcr_status status = tcr_assign_solve(&cells, t->extra, choice, &total, NULL);
        if (status != TCR_E_NO_SOLUTION)
            return status == TCR_OK ? tcr_plan_tied_by_placement(error) : status;
    }
    cells.lengths_most = 0;
    if (tcr_assign_solve(&cells, t->extra, choice, &total, NULL) == TCR_OK)
        return tcr_plan_tied(&plan->options, false, true, error);
    const bool lengths_too =
        tcr_assign_solve(&any_step, t->extra, choice, &total, NULL) == TCR_E_NO_SOLUTION;
    return tcr_plan_tied(&plan->options, true, lengths_too, error);
}

/* Squared distances from the line as it was moved, by their sums. */
static double squares_of(const tcr_sums *s, double shift, double tilt) {
    return fmax(0.0, s->off_off - 2.0 * (shift * s->off + tilt * s->off_x) + shift * shift * s->n +
                         2.0 * shift * tilt * s->x + tilt * tilt * s->xx);
}

/* Puts an option into the lashes of its cell; the rms of these. */
static double take_option(tcr_plan *plan, const tcr_plan_table *t, size_t cell, size_t option) {
    const size_t members = t->member_first[cell + 1] - t->member_first[cell];
    const tcr_plan_result *r = &plan->result;
    double squares = 0.0;
    if (members == 0)
        return sqrt(squares_of(&t->sums[option], r->shift_mm, r->tilt) / t->sums[option].n);
    for (size_t j = 0; j < members; j++) {
        const tcr_plan_member *m = &t->member[t->member_first[cell] + j];
        const size_t at = t->at[option] + j;
        tcr_plan_lash *lash = &plan->lash[m->side][m->lash];
        lash->choice = t->choice[option];
        lash->deviation_mm = tcr_plan_off(plan, (tcr_plan_tip){t->x_mm[at], t->off_mm[at]});
        lash->zone_deviation_mm = lash->deviation_mm;
        squares += lash->deviation_mm * lash->deviation_mm;
    }
    return sqrt(squares / (double)members);
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

/* Adds the cells of eyes that are drawn anew: their squares and lashes, means over the samples. */
static void add_redrawn(const tcr_plan *plan, const tcr_plan_table *t, const size_t *choice,
                        double *squares, double *lashes) {
    for (size_t c = 0; c < t->choosing; c++) {
        const tcr_sums *sums = &t->sums[choice[c]];
        if (t->member_first[c] < t->member_first[c + 1])
            continue;
        *squares += squares_of(sums, plan->result.shift_mm, plan->result.tilt);
        *lashes += sums->n;
    }
}

/* Figures of the zones' choices, from what the solver proved. */
static void note_figures(tcr_plan *plan, const tcr_plan_table *t, const size_t *choice,
                         const tcr_free_result *found) {
    tcr_plan_result *r = &plan->result;
    const bool maximum = plan->options.objective == TCR_LEAST_MAXIMUM;
    const size_t members = t->member_first[t->cells];
    double squares = 0.0, n = (double)members;
    r->planned = t->member_first[t->choosing];
    for (int side = 0; side < TCR_SIDES; side++)
        r->planned += plan->eye[side].zones_only ? plan->eye[side].used : 0;
    for (size_t m = 0; m < members; m++) {
        const double off = plan->lash[t->member[m].side][t->member[m].lash].deviation_mm;
        squares += off * off;
        r->max_mm = fmax(r->max_mm, fabs(off));
    }
    add_redrawn(plan, t, choice, &squares, &n);
    r->rms_mm = sqrt(squares / n);
    r->expected_rms_mm = r->samples > 0 && !maximum ? sqrt(found->total / n) : NAN;
    r->samples_max_mm = r->samples > 0 && maximum ? found->total : NAN;
    r->client_rms_mm[0] = r->client_rms_mm[1] = r->clients_nearer_as_mapped = NAN;
    const double sampled = maximum ? r->samples_max_mm : r->expected_rms_mm;
    const double held = maximum ? r->max_mm : r->rms_mm;
    /* The sums above and the solver's are rounded in different orders. */
    r->bound_mm =
        fmin(maximum ? found->bound : sqrt(found->bound / n), r->samples > 0 ? sampled : held);
    r->proved = found->proved && r->samples == plan->options.samples;
    r->at_limit = found->at_limit;
}

/* What is minimised, over the tips or samples of a choice, as a distance. */
static double distance_of(const tcr_plan *plan, const tcr_plan_table *t, const size_t *choice,
                          double total) {
    double squares = 0.0, n = (double)t->member_first[t->cells];
    add_redrawn(plan, t, choice, &squares, &n);
    return plan->options.objective == TCR_LEAST_MAXIMUM ? total : sqrt(total / n);
}

static tcr_status solve(const tcr_plan *plan, const tcr_plan_table *t, const double *extra,
                        tcr_watch *watch, size_t *choice, tcr_free_result *found) {
    const tcr_plan_result *r = &plan->result;
    const tcr_free problem = {
        .cells = cells_of(plan, t, watch),
        .lashes = t->lashes,
        .sums = t->sums,
        .x_mm = t->x_mm,
        .off_mm = t->kept_mm != NULL ? t->kept_mm : t->off_mm,
        .at = t->at,
        .extra = extra,
        .fixed = t->cells - t->choosing,
        .move_most_mm = plan->options.free_mm,
        .end_mm = {r->end_mm[0], r->end_mm[1]},
    };
    return tcr_free_solve(&problem, &plan->allocator, choice, found);
}

/* What the zones come to the other way, with one placement a layer or with each zone its own;
 * quick, so that it reports no progress. */
static tcr_status compare(const tcr_plan *plan, const tcr_plan_table *t, const double *extra,
                          size_t *choice, double *distance_mm) {
    tcr_free_result found;
    *distance_mm = NAN;
    if (plan->options.lengths_most > 0 || plan->options.free_mm > 0.0 || plan->watch.stopped)
        return TCR_OK;
    const tcr_status status = solve(plan, t, extra, NULL, choice, &found);
    if (status == TCR_OK)
        *distance_mm = distance_of(plan, t, choice, found.total);
    return status == TCR_E_NO_SOLUTION ? TCR_OK : status;
}

/* choice: for each cell; placed: of each option, what one placement for each layer costs it. */
static tcr_status choose(tcr_plan *plan, const tcr_plan_table *t, size_t *choice, double *placed,
                         tcr_error *error) {
    tcr_plan_result *r = &plan->result;
    const bool same = plan->options.same_placement;
    tcr_free_result found;
    tcr_plan_place_by_layer(plan, t, placed);
    tcr_status status = solve(plan, t, same ? placed : t->extra, &plan->watch, choice, &found);
    if (status == TCR_E_NO_SOLUTION)
        return name_tie(plan, t, cells_of(plan, t, &plan->watch), choice, error);
    if (status != TCR_OK)
        return status;
    r->shift_mm = found.shift_mm;
    r->tilt = found.tilt;
    take(plan, t, choice);
    note_figures(plan, t, choice, &found);
    *(same ? &r->by_layer_mm : &r->by_zone_mm) = distance_of(plan, t, choice, found.total);
    return compare(plan, t, same ? t->extra : placed, choice,
                   same ? &r->by_zone_mm : &r->by_layer_mm);
}

tcr_status tcr_plan_lines(const tcr_set *set, const tcr_view *view, tcr_line line[TCR_SIDES]) {
    tcr_side sides[TCR_SIDES], through[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(set, sides);
    tcr_status status = TCR_OK;
    for (size_t e = 0; e < eyes && status == TCR_OK; e++)
        if (e > 0 && tcr_intended_sides(set, sides[e], through) > 1)
            line[sides[e]] = line[sides[0]]; /* they share it */
        else
            status = tcr_intended_line(set, sides[e], view, &line[sides[e]]);
    return status;
}

/* From where to where the lines of the eyes run. */
static void find_ends(tcr_plan *plan) {
    double *end = plan->result.end_mm;
    end[0] = INFINITY, end[1] = -INFINITY;
    for (int side = 0; side < TCR_SIDES; side++)
        if (plan->lash[side] != NULL) {
            end[0] = fmin(end[0], plan->result.line[side].x_min_mm);
            end[1] = fmax(end[1], plan->result.line[side].x_max_mm);
        }
}

/* Puts the samples of measured lashes into their cells; those drawn anew have theirs. */
static tcr_status sample_members(tcr_plan *plan, tcr_plan_table *table) {
    size_t samples = plan->result.samples;
    const bool redrawn = samples > 0;
    if (redrawn && table->member_first[table->cells] == 0)
        return TCR_OK;
    const tcr_status status = tcr_plan_sample(plan, table, &samples);
    plan->result.samples =
        redrawn && plan->result.samples < samples ? plan->result.samples : samples;
    return status;
}

static tcr_status work(tcr_plan *plan, tcr_plan_table *table, tcr_error *error) {
    bool zones_only = false;
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(plan->set, sides);
    tcr_status status = tcr_plan_lines(plan->set, &plan->view, plan->result.line);
    find_ends(plan);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++) {
        plan->eye[sides[e]].zones_only = tcr_plan_redraws(plan, sides[e]);
        zones_only = zones_only || plan->eye[sides[e]].zones_only;
        status = tcr_plan_is_at_hand(plan, sides[e], error);
        if (status == TCR_OK)
            status = tcr_plan_suit(plan, sides[e]);
        if (status == TCR_OK)
            status = tcr_plan_has_enough(plan, sides[e], error);
    }
    if (status == TCR_OK)
        status = tcr_plan_table_make(plan, table, error);
    if (status == TCR_OK && table->choosing == 0)
        status = tcr_plan_all_by_row(error);
    if (status == TCR_OK && plan->options.samples > 0)
        status = sample_members(plan, table);
    if (status != TCR_OK)
        return status;
    size_t *choice = tcr_resize(&plan->allocator, NULL, table->cells, sizeof *choice);
    double *placed = tcr_resize(&plan->allocator, NULL, table->options, sizeof *placed);
    status = choice != NULL && placed != NULL ? choose(plan, table, choice, placed, error)
                                              : TCR_E_MEMORY;
    tcr_release(&plan->allocator, choice);
    tcr_release(&plan->allocator, placed);
    plan->result.cells = table->choosing;
    plan->result.cell = plan->cell;
    if (status == TCR_OK && zones_only)
        status = tcr_plan_look_over(plan);
    if (status == TCR_OK)
        status = tcr_plan_correct(plan, table);
    for (size_t e = 0; e < eyes && status == TCR_OK; e++)
        tcr_plan_find_reach(plan, table, sides[e]);
    plan->result.stopped = plan->watch.stopped || plan->samples_ended;
    return status;
}

/* Eyes, their lashes, and room for all cells. */
static tcr_status allocate(tcr_plan *plan) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(plan->set, sides);
    plan->cell = tcr_resize(&plan->allocator, NULL, TCR_ASSIGN_CELLS_MAX, sizeof *plan->cell);
    if (plan->cell == NULL)
        return TCR_E_MEMORY;
    for (size_t e = 0; e < eyes; e++) {
        const size_t count = tcr_set_lash_count(plan->set, sides[e]);
        tcr_plan_lash *lash = tcr_resize(&plan->allocator, NULL, count, sizeof *lash);
        if (lash == NULL)
            return TCR_E_MEMORY;
        plan->at[sides[e]] = tcr_looking_at(tcr_set_lid(plan->set, sides[e]), &plan->view);
        plan->lash[sides[e]] = lash;
        plan->eye[sides[e]].lash = lash;
        plan->eye[sides[e]].lashes = count;
    }
    return TCR_OK;
}

/* A plan takes what a check takes. What the rule gives need not be in the tray, since the plan
 * chooses. */
static tcr_status check_set(const tcr_set *set, tcr_error *error) {
    tcr_check *check;
    tcr_check_options options = tcr_check_options_default();
    options.any_length = true;
    options.parts = 0;
    if (tcr_set_tray(set)->count == 0)
        return tcr_plan_without_tray(error);
    const tcr_status status = tcr_check_new(set, &options, &check, error);
    if (status == TCR_OK)
        tcr_check_free(check);
    return status;
}

/* A plan of a set and options that were checked. */
static tcr_status make(const tcr_set *set, const tcr_plan_options *o, tcr_plan **out,
                       tcr_error *error) {
    tcr_plan *plan = tcr_resize(&set->allocator, NULL, 1, sizeof *plan);
    if (plan == NULL)
        return TCR_E_MEMORY;
    *plan = (tcr_plan){.set = set,
                       .changes = set->changes,
                       .allocator = set->allocator,
                       .view = *tcr_set_view(set),
                       .options = *o,
                       .watch = {.progress = o->progress}};
    tcr_plan_table table = {0};
    tcr_status status = allocate(plan);
    if (status == TCR_OK)
        status = tcr_plan_scratch_new(plan);
    if (status == TCR_OK)
        status = work(plan, &table, error);
    tcr_plan_scratch_free(plan);
    tcr_plan_table_free(plan, &table);
    if (status == TCR_OK)
        *out = plan;
    else
        tcr_plan_free(plan);
    return status;
}

tcr_status tcr_plan_new(const tcr_set *set, const tcr_plan_options *options, tcr_plan **out,
                        tcr_error *error) {
    tcr_plan_options o = tcr_plan_options_default();
    tcr_error own = tcr_error_none(); /* handed on where the call fails */
    tcr_status status =
        set != NULL && out != NULL ? tcr_options_take(&o, sizeof o, options) : TCR_E_ARGUMENT;
    if (status == TCR_OK)
        status = tcr_plan_check_options(set, &o, &own);
    if (status == TCR_OK)
        status = check_set(set, &own);
    if (status == TCR_OK)
        status = make(set, &o, out, &own);
    if (status != TCR_OK && own.status != status)
        tcr_error_status(&own, status);
    if (status != TCR_OK && error != NULL)
        *error = own;
    return status;
}

/* Whether an eye of a set has what the planned set has there. */
static bool fits_eye(const tcr_plan *plan, const tcr_set *set, tcr_side side) {
    size_t planned, zones;
    (void)tcr_set_map(plan->set, side, &planned);
    (void)tcr_set_map(set, side, &zones);
    return tcr_set_has_eye(set, side) == (plan->lash[side] != NULL) &&
           tcr_set_lash_count(set, side) == plan->eye[side].lashes && zones == planned;
}

bool tcr_plan_fits(const tcr_plan *plan, const tcr_set *set) {
    return plan != NULL && set != NULL && plan->set->changes == plan->changes &&
           fits_eye(plan, set, TCR_LEFT) && fits_eye(plan, set, TCR_RIGHT) &&
           tcr_set_curl_count(set) == tcr_set_curl_count(plan->set);
}

const tcr_plan_options *tcr_plan_options_of(const tcr_plan *plan) {
    return plan != NULL ? &plan->options : NULL;
}

const tcr_plan_result *tcr_plan_result_of(const tcr_plan *plan) {
    return plan != NULL ? &plan->result : NULL;
}

const tcr_plan_point *tcr_plan_point_made(const tcr_plan *plan) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    for (size_t i = 0; r != NULL && i < r->points; i++)
        if (r->point[i].corrections == r->corrections)
            return &r->point[i];
    return NULL;
}

const tcr_plan_eye *tcr_plan_eye_of(const tcr_plan *plan, tcr_side side) {
    if (plan == NULL || (int)side < 0 || (int)side >= TCR_SIDES || plan->lash[side] == NULL)
        return NULL;
    return &plan->eye[side];
}
