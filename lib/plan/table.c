/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cells of a plan and their options: every length of the tray with every curl, placement and
 * diameter to choose from that all lashes of the cell bear, and where each brings each tip. What a
 * zone fixes for a layer is kept.
 */
#include "plan/plan_data.h"

#include <math.h>
#include <string.h>

#include "model/set_data.h"
#include "num/memory.h"
#include "plan/refuse.h"

tcr_plan_tip tcr_plan_tip_of(const tcr_plan *plan, tcr_side side, const tcr_sight *sight) {
    const double x = sight->seen.x;
    return (tcr_plan_tip){x, sight->seen.y - tcr_line_at(&plan->result.line[side], x)};
}

void tcr_plan_table_free(const tcr_plan *plan, tcr_plan_table *table) {
    void *const blocks[] = {table->first,  table->member_first, table->member, table->choice,
                            table->length, table->follows,      table->lashes, table->at,
                            table->x_mm,   table->off_mm,       table->extra,  table->sums,
                            table->kept_mm};
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++)
        tcr_release(&plan->allocator, blocks[i]);
    *table = (tcr_plan_table){0};
}

_Static_assert((int)TCR_PLAN_OPTIONS_MAX == (int)TCR_ASSIGN_OPTIONS_MAX, "the solver's limit");

/* Makes room for 'more' items behind 'count' in an array of *room. */
static tcr_status make_room(const tcr_plan *plan, void **array, size_t count, size_t more,
                            size_t room, size_t size) {
    if (count + more <= room)
        return TCR_OK;
    void *grown = tcr_resize(&plan->allocator, *array, 2 * room + more, size);
    if (grown == NULL)
        return TCR_E_MEMORY;
    *array = grown;
    return TCR_OK;
}

/* Room for one option more and the tips of n lashes. */
static tcr_status reserve(tcr_plan_filling *f, size_t n) {
    tcr_plan_table *t = f->table;
    void *choice = t->choice, *length = t->length, *at = t->at, *extra = t->extra, *sums = t->sums;
    void *x = t->x_mm, *off = t->off_mm;
    const size_t o = t->options, room = f->option_room, tips = f->tips;
    tcr_status status = TCR_OK;
    const struct {
        void **array;
        size_t count, more, room, size;
    } arrays[] = {
        {&choice, o, 1, room, sizeof *t->choice},
        {&length, o, 1, room, sizeof *t->length},
        {&at, o, 1, room, sizeof *t->at},
        {&extra, o, 1, room, sizeof *t->extra},
        {&sums, o, 1, room, sizeof *t->sums},
        {&x, tips, n, f->tip_room, sizeof *t->x_mm},
        {&off, tips, n, f->tip_room, sizeof *t->off_mm},
    };
    for (size_t i = 0; i < sizeof arrays / sizeof *arrays && status == TCR_OK; i++)
        status = make_room(f->plan, arrays[i].array, arrays[i].count, arrays[i].more,
                           arrays[i].room, arrays[i].size);
    t->choice = choice, t->length = length, t->at = at, t->extra = extra, t->sums = sums;
    t->x_mm = x, t->off_mm = off;
    if (status != TCR_OK)
        return status;
    if (o + 1 > room)
        f->option_room = 2 * room + 1;
    if (tips + n > f->tip_room)
        f->tip_room = 2 * f->tip_room + n;
    return TCR_OK;
}

/* Adds an option if every lash of the cell bears it, or, kept, if it can be bonded. */
static tcr_status add_option(tcr_plan_filling *f, size_t cell, const tcr_choice *choice,
                             size_t length, bool kept) {
    tcr_plan_table *t = f->table;
    const tcr_set *set = f->plan->set;
    const size_t n = t->lashes[cell], option = t->options;
    const double done = (double)t->member_first[cell] / (double)f->lashes;
    if (tcr_watch_stops(&f->plan->watch, "tips", done))
        return TCR_E_STOPPED;
    tcr_status status = reserve(f, n);
    if (status != TCR_OK)
        return status;
    tcr_sums sums = {0};
    for (size_t j = 0; j < n; j++) {
        tcr_plan_member *m = &t->member[t->member_first[cell] + j];
        const tcr_lash *lash = tcr_set_lash(set, m->side, m->lash);
        if (kept)
            status = tcr_evaluate_worn(&f->plan->at[m->side], set, lash, choice,
                                       TCR_ANEW_ATTACHMENT, &m->sight);
        else if (!tcr_plan_bears(f->plan, m->side, lash, choice, &m->sight))
            return TCR_OK;
        if (status != TCR_OK)
            return status;
        const tcr_plan_tip tip = tcr_plan_tip_of(f->plan, m->side, &m->sight);
        t->x_mm[f->tips + j] = tip.x_mm;
        t->off_mm[f->tips + j] = tip.off_mm;
        tcr_sums_add(&sums, tip.x_mm, tip.off_mm);
    }
    t->choice[option] = *choice;
    t->length[option] = (int)length;
    t->at[option] = f->tips;
    t->extra[option] = 0.0;
    t->sums[option] = sums;
    t->options++;
    f->tips += n;
    return TCR_OK;
}

static bool is_at_hand(const tcr_set *set, size_t curl, double diameter_mm) {
    const char *label = tcr_set_curl(set, curl)->label;
    return tcr_tray_lengths_of(tcr_set_tray(set), label, diameter_mm) != 0;
}

/* Whether the tray has anything of a range's curls and diameters. */
static bool has_any(const tcr_set *set, const tcr_plan_range *r) {
    for (size_t c = 0; c < r->curls; c++)
        for (size_t d = 0; d < r->diameters; d++)
            if (is_at_hand(set, r->curl[c], r->diameter_mm[d]))
                return true;
    return false;
}

/* The tray's diameters of a range's curls, where it has any, in place of the range's own. */
static void take_tray_diameters(const tcr_set *set, tcr_plan_range *r) {
    const tcr_tray *tray = tcr_set_tray(set);
    size_t count = 0;
    for (size_t k = 0; k < tray->kinds && count < TCR_PLAN_DIAMETERS_MAX; k++) {
        const double diameter_mm = tray->kind[k].diameter_mm;
        bool is_ours = false, is_new = true;
        for (size_t c = 0; c < r->curls; c++)
            is_ours = is_ours || is_at_hand(set, r->curl[c], diameter_mm);
        for (size_t d = 0; d < count; d++)
            is_new = is_new && r->diameter_mm[d] != diameter_mm;
        if (is_ours && is_new)
            r->diameter_mm[count++] = diameter_mm;
    }
    if (count > 0)
        r->diameters = count;
}

tcr_plan_range tcr_plan_range_of(const tcr_plan *plan, const tcr_zone *zone, tcr_layer layer) {
    const tcr_plan_options *o = &plan->options;
    const tcr_wish *wish = &zone->layer[layer];
    const tcr_layering *rule = tcr_set_layering(plan->set);
    tcr_plan_range r = {
        .curls = o->curls,
        .diameters = o->diameters,
        .fans = o->fans,
        .spread_rad = (wish->fixed & TCR_FIX_SPREAD) != 0 ? wish->spread_rad : rule->spread_rad,
    };
    memcpy(r.curl, o->curl, sizeof r.curl);
    memcpy(r.diameter_mm, o->diameter_mm, sizeof r.diameter_mm);
    memcpy(r.fan, o->fan, sizeof r.fan);
    if (r.curls == 0 || (wish->fixed & TCR_FIX_CURL) != 0) {
        r.curls = 1;
        (void)tcr_set_find_curl(
            plan->set, (wish->fixed & TCR_FIX_CURL) != 0 ? wish->curl : zone->curl, &r.curl[0]);
    }
    const bool diameters_given = r.diameters > 0 || (wish->fixed & TCR_FIX_DIAMETER) != 0;
    if (r.diameters == 0 || (wish->fixed & TCR_FIX_DIAMETER) != 0) {
        r.diameters = 1;
        r.diameter_mm[0] =
            (wish->fixed & TCR_FIX_DIAMETER) != 0 ? wish->diameter_mm : rule->diameter_mm;
    }
    if (!diameters_given && !has_any(plan->set, &r))
        take_tray_diameters(plan->set, &r);
    if (r.fans == 0 || (wish->fixed & TCR_FIX_FAN) != 0) {
        r.fans = 1;
        r.fan[0] = (wish->fixed & TCR_FIX_FAN) != 0 ? wish->fan : rule->fan;
    }
    for (int p = 0; p < TCR_PLACEMENTS; p++)
        if ((wish->fixed & TCR_FIX_PLACEMENT) != 0 ? wish->placement == (tcr_placement)p
                                                   : o->placement[p])
            r.placement[r.placements++] = (tcr_placement)p;
    return r;
}

size_t tcr_plan_range_count(const tcr_plan_range *range) {
    return range->curls * range->diameters * range->fans * range->placements;
}

tcr_choice tcr_plan_range_choice(const tcr_plan_range *range, size_t i, double length_mm) {
    const size_t of_fan = i / range->placements;
    return (tcr_choice){
        .length_mm = length_mm,
        .curl = range->curl[of_fan / (range->fans * range->diameters)],
        .diameter_mm = range->diameter_mm[of_fan / range->fans % range->diameters],
        .fan = range->fan[of_fan % range->fans],
        .spread_rad = range->spread_rad,
        .placement = range->placement[i % range->placements],
    };
}

uint64_t tcr_plan_lengths_for(const tcr_set *set, const tcr_wish *wish, const tcr_choice *choice) {
    const tcr_tray *all = tcr_set_tray(set);
    tcr_tray room;
    if ((wish->fixed & TCR_FIX_LENGTH) == 0)
        return tcr_tray_lengths_of(all, tcr_set_curl(set, choice->curl)->label,
                                   choice->diameter_mm);
    const tcr_tray *tray = tcr_set_tray_for(set, choice, &room);
    if (tray == NULL)
        return 0;
    return UINT64_C(1) << tcr_tray_index(all, tcr_tray_nearest(tray, wish->length_mm));
}

size_t tcr_plan_count_options(const tcr_set *set, const tcr_wish *wish,
                              const tcr_plan_range *range) {
    size_t options = 0;
    for (size_t i = 0; i < tcr_plan_range_count(range); i++) {
        const tcr_choice choice = tcr_plan_range_choice(range, i, NAN);
        for (uint64_t left = tcr_plan_lengths_for(set, wish, &choice); left != 0; left &= left - 1)
            options++;
    }
    return options;
}

/* The options of the next cell. A proof needs all of them, so that too many are an error. */
static tcr_status add_options(tcr_plan_filling *f, tcr_side side, size_t zone, tcr_layer layer,
                              tcr_error *error) {
    const tcr_tray *tray = tcr_set_tray(f->plan->set);
    const tcr_zone *zones = tcr_set_map(f->plan->set, side, NULL);
    const tcr_wish *wish = &zones[zone].layer[layer];
    const tcr_plan_range r = tcr_plan_range_of(f->plan, &zones[zone], layer);
    tcr_status status = TCR_OK;
    const size_t options = tcr_plan_count_options(f->plan->set, wish, &r);
    if (options > TCR_PLAN_OPTIONS_MAX)
        return tcr_plan_too_many(side, zone, layer, options, error);
    for (size_t i = 0; i < tcr_plan_range_count(&r); i++) {
        tcr_choice choice = tcr_plan_range_choice(&r, i, NAN);
        const uint64_t lengths = tcr_plan_lengths_for(f->plan->set, wish, &choice);
        for (size_t t = 0; t < tray->count && status == TCR_OK; t++) {
            choice.length_mm = tray->length_mm[t];
            if ((lengths >> t & 1u) != 0)
                status = add_option(f, f->table->cells, &choice, t, false);
        }
    }
    return status;
}

/* A lash as the last member of the table's next cell. */
static void add_member(const tcr_plan *plan, tcr_plan_table *t, tcr_side side, size_t i) {
    const size_t cell = t->cells;
    tcr_plan_member *m = &t->member[t->member_first[cell] + t->lashes[cell]++];
    *m = (tcr_plan_member){.side = side, .lash = i};
    tcr_evaluate(&plan->at[side], tcr_set_lash(plan->set, side, i), NULL, NULL, TCR_ANEW_ALL,
                 &m->sight);
}

/* The table's next cell has its members and options. */
static void end_cell(tcr_plan_table *t) {
    const size_t cell = t->cells++;
    t->member_first[cell + 1] = t->member_first[cell] + t->lashes[cell];
    t->first[cell + 1] = t->options;
    t->lashes[cell + 1] = 0;
}

/* The cell of a zone and layer, if it has a lash to choose for. */
static tcr_status add_cell(tcr_plan_filling *f, tcr_side side, size_t zone, tcr_layer layer,
                           tcr_error *error) {
    tcr_plan *plan = f->plan;
    tcr_plan_table *t = f->table;
    const size_t cell = t->cells;
    for (size_t i = 0; i < plan->eye[side].lashes; i++) {
        const tcr_lash *lash = tcr_set_lash(plan->set, side, i);
        if (plan->lash[side][i].use == TCR_USED && lash->layer == layer &&
            tcr_set_zone_at(plan->set, side, lash->u) == zone)
            add_member(plan, t, side, i);
    }
    if (t->lashes[cell] == 0)
        return TCR_OK;
    const tcr_status status = add_options(f, side, zone, layer, error);
    if (status != TCR_OK)
        return status;
    if (t->options == t->first[cell])
        return tcr_plan_nothing_suits(side, zone, layer, error);
    plan->cell[cell] =
        (tcr_plan_cell){.side = side, .zone = zone, .layer = layer, .lashes = t->lashes[cell]};
    end_cell(t);
    t->choosing = t->cells;
    return TCR_OK;
}

tcr_status tcr_plan_table_add(tcr_plan_filling *f, const tcr_choice *choice, size_t length,
                              const tcr_sums *sums, double kept_mm) {
    tcr_plan_table *t = f->table;
    const tcr_status status = reserve(f, 1);
    if (status != TCR_OK)
        return status;
    t->choice[t->options] = *choice;
    t->length[t->options] = (int)length;
    t->at[t->options] = f->tips;
    t->extra[t->options] = 0.0;
    t->sums[t->options++] = *sums;
    t->x_mm[f->tips] = 0.0; /* of no account, since the line is then held */
    t->off_mm[f->tips++] = kept_mm;
    return TCR_OK;
}

tcr_status tcr_plan_table_end(tcr_plan_filling *f, const tcr_plan_cell *as, bool follows,
                              tcr_error *error) {
    tcr_plan_table *t = f->table;
    const size_t cell = t->cells;
    if (t->options == t->first[cell])
        return tcr_plan_nothing_suits(as->side, as->zone, as->layer, error);
    f->plan->cell[cell] = *as;
    t->follows[cell] = follows;
    end_cell(t);
    t->lashes[cell] = 1;
    t->choosing = t->cells;
    return TCR_OK;
}

/* Every cell of an eye that chooses; one follows another in the zone before. */
static tcr_status add_cells(tcr_plan_filling *f, tcr_side side, tcr_error *error) {
    tcr_plan_table *t = f->table;
    tcr_status status = TCR_OK;
    size_t zones;
    (void)tcr_set_map(f->plan->set, side, &zones);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        t->follows[t->cells] = false;
        for (size_t z = 0; z < zones && status == TCR_OK; z++) {
            const size_t cell = t->cells;
            status = add_cell(f, side, z, (tcr_layer)layer, error);
            t->follows[t->cells] = t->cells > cell;
        }
    }
    return status;
}

/* A cell for each lash of an eye that has what its row gives. */
static tcr_status add_kept(tcr_plan_filling *f, tcr_side side) {
    tcr_plan *plan = f->plan;
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < plan->eye[side].lashes && status == TCR_OK; i++) {
        tcr_choice choice;
        if (plan->lash[side][i].use != TCR_USED_BY_ROW)
            continue;
        add_member(plan, f->table, side, i);
        status = tcr_set_choice(plan->set, side, i, &choice);
        if (status == TCR_OK)
            status = add_option(f, f->table->cells, &choice, 0, true);
        if (status == TCR_OK)
            end_cell(f->table);
    }
    return status;
}

/* Room for all lashes, of which 'kept' have what their row gives. */
static tcr_status allocate(const tcr_plan *plan, tcr_plan_table *t, size_t lashes, size_t kept) {
    const size_t cells = TCR_ASSIGN_CELLS_MAX + kept + 1;
    t->first = tcr_resize(&plan->allocator, NULL, cells, sizeof *t->first);
    t->member_first = tcr_resize(&plan->allocator, NULL, cells, sizeof *t->member_first);
    t->lashes = tcr_resize(&plan->allocator, NULL, cells, sizeof *t->lashes);
    t->follows = tcr_resize(&plan->allocator, NULL, cells, sizeof *t->follows);
    t->member = tcr_resize(&plan->allocator, NULL, lashes, sizeof *t->member);
    if (t->first == NULL || t->member_first == NULL || t->lashes == NULL || t->follows == NULL ||
        t->member == NULL)
        return TCR_E_MEMORY;
    t->first[0] = t->member_first[0] = t->lashes[0] = 0;
    return TCR_OK;
}

tcr_status tcr_plan_table_make(tcr_plan *plan, tcr_plan_table *table, tcr_error *error) {
    tcr_plan_filling f = {.plan = plan, .table = table};
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(plan->set, sides);
    size_t lashes = 0, kept = 0;
    for (size_t e = 0; e < eyes; e++) {
        lashes += plan->eye[sides[e]].lashes;
        kept += plan->eye[sides[e]].uses[TCR_USED_BY_ROW];
    }
    f.lashes = lashes;
    tcr_status status = allocate(plan, table, lashes, kept);
    bool redraws = false;
    for (size_t e = 0; e < eyes && status == TCR_OK; e++) {
        redraws = redraws || plan->eye[sides[e]].zones_only;
        if (!plan->eye[sides[e]].zones_only)
            status = add_cells(&f, sides[e], error);
    }
    if (status == TCR_OK && redraws)
        status = tcr_plan_pool(plan, &f, error);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (plan->lash[side] != NULL)
            status = add_kept(&f, (tcr_side)side);
    return status;
}
