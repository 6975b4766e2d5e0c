/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cells of eyes that nobody measured: every option of every zone and layer over all the lashes
 * that samples have there. A lash that cannot carry a length gets the longest below it that it can
 * carry, as it would at the chair; an option counts where at least nine lashes in ten of its cell
 * can carry it (assumed).
 */
#include "plan/redraw.h"

#include <math.h>
#include <string.h>

#include "num/memory.h"
#include "num/order.h"
#include "plan/refuse.h"

static const double CARRIED_SHARE = 0.9;

/* An option over lashes: their tips, and how many of them can carry it. */
typedef struct tally {
    tcr_sums sums;
    size_t carried;
} tally;

/* Distances from the line, as many as come; those of the present sample stand behind the others. */
typedef struct distances {
    double *mm;
    size_t count, now, room;
} distances;

typedef struct pool_cell {
    tcr_plan_cell as;
    tcr_plan_range range;
    const tcr_wish *wish;
    size_t first, options; /* each choice of its range with each length that it may have, rising */
    size_t lashes, now;    /* over all samples; in the present one */
} pool_cell;

typedef struct pool {
    tcr_plan *plan;
    tcr_redraw redraw;
    pool_cell *cell;
    size_t cells, options;
    tally *all, *now; /* of each option: over whole samples; in the present one */
    distances *apart; /* of each option, for the largest distance; else NULL */
    size_t samples;   /* gone through */
} pool;

/* ---- Cells --------------------------------------------------------------------------- */

static tcr_status prepare_cell(pool *p, tcr_side side, size_t zone, tcr_layer layer,
                               tcr_error *error) {
    const tcr_zone *map = tcr_set_map(p->plan->set, side, NULL);
    pool_cell *c = &p->cell[p->cells];
    *c = (pool_cell){.as = {.side = side, .zone = zone, .layer = layer},
                     .range = tcr_plan_range_of(p->plan, &map[zone], layer),
                     .wish = &map[zone].layer[layer],
                     .first = p->options};
    c->options = tcr_plan_count_options(p->plan->set, c->wish, &c->range);
    if (c->options > TCR_PLAN_OPTIONS_MAX)
        return tcr_plan_too_many(side, zone, layer, c->options, error);
    p->options += c->options;
    p->cells++;
    return TCR_OK;
}

static tcr_status prepare(pool *p, tcr_error *error) {
    const tcr_allocator *a = &p->plan->allocator;
    tcr_status status = TCR_OK;
    p->cell = tcr_resize(a, NULL, TCR_ASSIGN_CELLS_MAX, sizeof *p->cell);
    if (p->cell == NULL)
        return TCR_E_MEMORY;
    for (int side = 0; side < TCR_SIDES; side++) {
        size_t zones = 0;
        if (p->plan->eye[side].zones_only)
            (void)tcr_set_map(p->plan->set, (tcr_side)side, &zones);
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            for (size_t z = 0; z < zones && status == TCR_OK; z++)
                status = prepare_cell(p, (tcr_side)side, z, (tcr_layer)layer, error);
    }
    if (status != TCR_OK)
        return status;
    p->all = tcr_resize(a, NULL, p->options, sizeof *p->all);
    p->now = tcr_resize(a, NULL, p->options, sizeof *p->now);
    if (p->all == NULL || p->now == NULL)
        return TCR_E_MEMORY;
    memset(p->all, 0, p->options * sizeof *p->all);
    memset(p->now, 0, p->options * sizeof *p->now);
    if (p->plan->options.objective != TCR_LEAST_MAXIMUM)
        return TCR_OK;
    p->apart = tcr_resize(a, NULL, p->options, sizeof *p->apart);
    if (p->apart == NULL)
        return TCR_E_MEMORY;
    memset(p->apart, 0, p->options * sizeof *p->apart);
    return TCR_OK;
}

/* The lengths that one choice of a cell's range may have. */
typedef struct lengths {
    tcr_choice choice;
    const tcr_tray *tray;
    size_t count, index[TCR_TRAY_MAX]; /* into the tray, rising */
} lengths;

static lengths lengths_of(const pool *p, const pool_cell *c, size_t i) {
    lengths of = {.choice = tcr_plan_range_choice(&c->range, i, NAN),
                  .tray = tcr_set_tray(p->plan->set)};
    const uint64_t bits = tcr_plan_lengths_for(p->plan->set, c->wish, &of.choice);
    for (size_t t = 0; t < of.tray->count; t++)
        if ((bits >> t & 1u) != 0)
            of.index[of.count++] = t;
    return of;
}

static tcr_choice choice_of(const lengths *of, size_t k) {
    tcr_choice choice = of->choice;
    choice.length_mm = of->tray->length_mm[of->index[k]];
    return choice;
}

/* ---- Samples ------------------------------------------------------------------------- */

static tcr_status add_tip(pool *p, size_t option, const tcr_plan_tip *tip) {
    tcr_sums_add(&p->now[option].sums, tip->x_mm, tip->off_mm);
    if (p->apart == NULL)
        return TCR_OK;
    distances *to = &p->apart[option];
    void *mm = to->mm;
    const tcr_status status =
        tcr_grow(&p->plan->allocator, &mm, to->count + to->now, &to->room, sizeof *to->mm);
    to->mm = mm;
    if (status == TCR_OK)
        to->mm[to->count + to->now++] = fabs(tip->off_mm);
    return status;
}

/* A lash with every length of one choice of its cell's range, from an option on. */
static tcr_status add_lengths(pool *p, const lengths *of, size_t first, tcr_redrawn *m) {
    tcr_plan_tip tip = {NAN, NAN}; /* with the longest that it carries */
    size_t below = 0;              /* lengths shorter than all that it carries */
    tcr_status status = TCR_OK;
    for (size_t k = 0; k < of->count && status == TCR_OK; k++) {
        const size_t option = first + k;
        const tcr_choice choice = choice_of(of, k);
        if (tcr_redraw_tip(&p->redraw, m, &choice, &tip))
            p->now[option].carried++;
        else if (isnan(tip.off_mm)) {
            below++;
            continue;
        }
        for (; below > 0 && status == TCR_OK; below--) /* those get the shortest */
            status = add_tip(p, option - below, &tip);
        if (status == TCR_OK)
            status = add_tip(p, option, &tip);
    }
    if (below < of->count)
        return status;
    const tcr_choice shortest = choice_of(of, 0);
    if (tcr_redraw_tip_anyway(&p->redraw, m, &shortest, &tip))
        for (size_t k = 0; k < of->count && status == TCR_OK; k++)
            status = add_tip(p, first + k, &tip);
    return status;
}

/* A lash with every option of its cell. */
static tcr_status add_lash(pool *p, const pool_cell *c, tcr_redrawn *m) {
    tcr_status status = TCR_OK;
    size_t first = c->first;
    for (size_t i = 0; i < tcr_plan_range_count(&c->range) && status == TCR_OK; i++) {
        const lengths of = lengths_of(p, c, i);
        if (of.count > 0)
            status = add_lengths(p, &of, first, m);
        first += of.count;
    }
    return status;
}

/* The lashes of a sample; stopped: it is not whole. */
static tcr_status add_sample(pool *p, const tcr_plan_places place[TCR_SIDES], bool *stopped) {
    const double samples = (double)p->plan->options.samples;
    tcr_status status = TCR_OK;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = &p->plan->eye[side];
        for (size_t l = 0; l < eye->lashes && eye->zones_only && status == TCR_OK; l++) {
            const double part = ((double)side + (double)l / (double)eye->lashes) / TCR_SIDES;
            tcr_redrawn m;
            *stopped =
                tcr_watch_stops(&p->plan->watch, "samples", ((double)p->samples + part) / samples);
            if (*stopped)
                return TCR_OK;
            if (!tcr_redraw_lash(&p->redraw, (tcr_side)side, l, &m))
                continue;
            pool_cell *c = &p->cell[place[side].cell[m.zone][m.lash->layer]];
            c->now++;
            status = add_lash(p, c, &m);
        }
    }
    return status;
}

/* The present sample is whole. */
static void keep_sample(pool *p) {
    for (size_t c = 0; c < p->cells; c++) {
        p->cell[c].lashes += p->cell[c].now;
        p->cell[c].now = 0;
    }
    for (size_t o = 0; o < p->options; o++) {
        tcr_sums_join(&p->all[o].sums, &p->now[o].sums, 1.0);
        p->all[o].carried += p->now[o].carried;
        p->now[o] = (tally){.carried = 0};
        if (p->apart != NULL) {
            p->apart[o].count += p->apart[o].now;
            p->apart[o].now = 0;
        }
    }
    p->samples++;
}

/* Every sample, or those until it is stopped, but one at least. */
static tcr_status go_through(pool *p) {
    tcr_plan_places place[TCR_SIDES];
    memset(place, 0, sizeof place);
    for (size_t c = 0; c < p->cells; c++)
        place[p->cell[c].as.side].cell[p->cell[c].as.zone][p->cell[c].as.layer] = c;
    while (p->samples < p->plan->options.samples) {
        bool stopped = false;
        tcr_status status = tcr_redraw_next(&p->redraw, p->samples);
        if (status == TCR_OK)
            status = add_sample(p, place, &stopped);
        if (status != TCR_OK)
            return status;
        if (stopped && p->samples == 0)
            return TCR_E_STOPPED;
        if (stopped)
            break;
        keep_sample(p);
    }
    tcr_plan_end_samples(p->plan);
    return TCR_OK;
}

/* ---- Into the table ------------------------------------------------------------------ */

/* The least number of lashes that an option of a cell must suit. */
static size_t carried_least(const pool *p, const pool_cell *c) {
    size_t most = 0;
    for (size_t o = c->first; o < c->first + c->options; o++)
        most = p->all[o].carried > most ? p->all[o].carried : most;
    const size_t wanted = (size_t)ceil(CARRIED_SHARE * (double)c->lashes - 1e-9);
    return wanted < most ? wanted : most;
}

static tcr_status add_cell(pool *p, tcr_plan_filling *f, const pool_cell *c) {
    const size_t least = carried_least(p, c);
    tcr_status status = TCR_OK;
    size_t o = c->first;
    for (size_t i = 0; i < tcr_plan_range_count(&c->range); i++) {
        const lengths of = lengths_of(p, c, i);
        for (size_t k = 0; k < of.count && status == TCR_OK; k++, o++) {
            if (p->all[o].carried < least || p->all[o].carried == 0)
                continue;
            const tcr_choice choice = choice_of(&of, k);
            tcr_sums mean = {0};
            tcr_sums_join(&mean, &p->all[o].sums, 1.0 / (double)p->samples);
            const double kept = p->apart == NULL ? NAN
                                                 : tcr_quantile(p->apart[o].mm, p->apart[o].count,
                                                                p->plan->options.samples_share);
            status = tcr_plan_table_add(f, &choice, of.index[k], &mean, kept);
        }
    }
    return status;
}

/* A number of lashes over all samples as a mean, rounded. */
static size_t mean_of(const pool *p, size_t lashes) {
    return (size_t)lround((double)lashes / (double)p->samples);
}

/* The cells that have a lash in any sample. What is rounded of their means adds up to the rounded
 * mean of the eye, so that many cells with a part of a lash each come to what they have together.
 */
static tcr_status fill(pool *p, tcr_plan_filling *f, tcr_error *error) {
    tcr_status status = TCR_OK;
    bool follows = false; /* the cell before is the one of the zone before */
    size_t lashes[TCR_SIDES] = {0};
    for (size_t c = 0; c < p->cells && status == TCR_OK; c++) {
        const pool_cell *cell = &p->cell[c];
        follows = follows && cell->as.zone > 0;
        if (cell->lashes == 0) {
            follows = false;
            continue;
        }
        tcr_plan_cell as = cell->as;
        const size_t before = mean_of(p, lashes[as.side]);
        lashes[as.side] += cell->lashes;
        as.lashes = mean_of(p, lashes[as.side]) - before;
        status = add_cell(p, f, cell);
        if (status == TCR_OK)
            status = tcr_plan_table_end(f, &as, follows, error);
        follows = true;
    }
    return status;
}

tcr_status tcr_plan_pool(tcr_plan *plan, tcr_plan_filling *f, tcr_error *error) {
    pool p = {.plan = plan};
    const tcr_allocator *a = &plan->allocator;
    tcr_status status = tcr_redraw_begin(&p.redraw, plan);
    if (status == TCR_OK)
        status = tcr_plan_scratch_draws(plan);
    if (status == TCR_OK)
        status = prepare(&p, error);
    if (status == TCR_OK)
        status = go_through(&p);
    if (status == TCR_OK)
        status = fill(&p, f, error);
    plan->result.samples = p.samples;
    for (size_t o = 0; o < p.options && p.apart != NULL; o++)
        tcr_release(a, p.apart[o].mm);
    void *const blocks[] = {p.cell, p.all, p.now, p.apart};
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++)
        tcr_release(a, blocks[i]);
    tcr_redraw_end(&p.redraw);
    return status;
}
