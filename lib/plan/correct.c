/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Corrections: lashes that leave their zone's choice, by one size of the tray, another placement,
 * or both, and so come nearer the line. With the line held each lash stands for itself, so the best
 * correction of each is found by trying all.
 *
 * In each eye the first ones bring tips from outside the tolerance to inside, the farthest first,
 * until at least 95 % of the eye's tips lie within it. Each such correction brings one tip inside
 * and no other correction changes their number, so that these are the fewest, and all of them where
 * 95 % is out of reach. Then the others: tips that come inside, that stay outside but come nearer,
 * and that were inside already, the last two by what they take off the sum of squares.
 */
#include "plan/plan_data.h"

#include <math.h>
#include <stdint.h>

#include "model/set_data.h"
#include "num/memory.h"
#include "num/order.h"

static const double GAIN_LEAST_MM = 1e-9; /* less is rounding, not a reason to change a lash */

typedef enum rank { COMES_INSIDE, STAYS_OUTSIDE, WAS_INSIDE } rank;

typedef struct correction {
    tcr_side side;
    size_t lash;
    tcr_choice choice;
    double from_mm, to_mm; /* deviations */
    bool needed;           /* for 95 % of its eye's tips */
    rank rank;
} correction;

static bool comes_before(const void *one, const void *other, const void *unused) {
    const correction *a = one, *b = other;
    (void)unused;
    if (a->needed != b->needed)
        return a->needed;
    if (a->rank != b->rank)
        return a->rank < b->rank;
    if (a->rank == COMES_INSIDE)
        return fabs(a->from_mm) > fabs(b->from_mm);
    return a->from_mm * a->from_mm - a->to_mm * a->to_mm >
           b->from_mm * b->from_mm - b->to_mm * b->to_mm;
}

/* Whether a correction may take a length: with a limit of their number, one that a zone has. */
static bool may_have(const tcr_plan *plan, const tcr_plan_table *t, double length_mm) {
    bool has = plan->options.lengths_most == 0;
    for (size_t c = 0; c < t->choosing && !has; c++)
        has = plan->cell[c].choice.length_mm == length_mm;
    return has;
}

static rank rank_of(const tcr_plan *plan, double from, double to) {
    const double tolerance = tcr_set_tolerance(plan->set);
    if (fabs(from) <= tolerance)
        return WAS_INSIDE;
    return fabs(to) <= tolerance ? COMES_INSIDE : STAYS_OUTSIDE;
}

/* The best that can be done for one lash; false where nothing is better than its zone's choice. */
static bool best_for(const tcr_plan *plan, const tcr_plan_table *t, tcr_plan_member *m,
                     const tcr_choice *zone, const tcr_tray *tray, correction *best) {
    const tcr_lash *lash = tcr_set_lash(plan->set, m->side, m->lash);
    const double from = plan->lash[m->side][m->lash].deviation_mm;
    const size_t zone_at = tcr_set_zone_at(plan->set, m->side, lash->u);
    const unsigned kept = tcr_set_map(plan->set, m->side, NULL)[zone_at].layer[lash->layer].fixed;
    *best = (correction){.side = m->side, .lash = m->lash, .from_mm = from, .to_mm = from};
    const size_t size = tcr_tray_index(tray, zone->length_mm);
    for (size_t k = size > 0 ? size - 1 : 0; k <= size + 1 && k < tray->count; k++)
        for (int p = 0; p < TCR_PLACEMENTS; p++) {
            tcr_choice choice = *zone;
            choice.length_mm = tray->length_mm[k];
            choice.placement = (tcr_placement)p;
            if ((kept & TCR_FIX_LENGTH) != 0 ? choice.length_mm != zone->length_mm
                                             : !may_have(plan, t, choice.length_mm))
                continue; /* what a zone fixes is kept */
            if ((kept & TCR_FIX_PLACEMENT) != 0 ? choice.placement != zone->placement
                                                : !plan->options.placement[p])
                continue;
            if (!tcr_plan_bears(plan, m->side, lash, &choice, &m->sight))
                continue;
            const tcr_plan_tip tip = tcr_plan_tip_of(plan, m->side, &m->sight);
            const double off = tcr_plan_off(plan, tip);
            if (fabs(off) < fabs(best->to_mm) - GAIN_LEAST_MM) {
                best->to_mm = off;
                best->choice = choice;
            }
        }
    best->rank = rank_of(plan, from, best->to_mm);
    return best->to_mm != from;
}

static size_t find_corrections(tcr_plan *plan, const tcr_plan_table *t, correction *c) {
    const double lashes = (double)t->member_first[t->choosing];
    /* A choice that was stopped still gets its corrections, which take little. */
    const bool was_stopped = plan->watch.stopped;
    size_t n = 0;
    for (int side = 0; side < TCR_SIDES; side++)
        for (size_t i = 0; i < plan->eye[side].lashes; i++)
            plan->lash[side][i].better_mm = NAN;
    for (size_t cell = 0; cell < t->choosing; cell++) {
        const tcr_choice *zone = &plan->cell[cell].choice;
        tcr_tray room;
        const tcr_tray *tray = tcr_set_tray_for(plan->set, zone, &room);
        for (size_t m = t->member_first[cell]; m < t->member_first[cell + 1]; m++) {
            if (!was_stopped && tcr_watch_stops(&plan->watch, "corrections", (double)m / lashes))
                break;
            if (best_for(plan, t, &t->member[m], zone, tray, &c[n])) {
                tcr_plan_lash *lash = &plan->lash[c[n].side][c[n].lash];
                lash->better = c[n].choice;
                lash->better_mm = c[n].to_mm;
                n++;
            }
        }
    }
    tcr_sort_items(c, n, sizeof *c, comes_before, NULL);
    return n;
}

/* Tips of an eye, and how many of them lie within the tolerance. */
typedef struct tally {
    size_t tips, within;
} tally;

static bool is_enough(tally of) { return 20 * of.within >= 19 * of.tips; } /* 95 % */

/* How far off the lashes of an eye are with some corrections made, without sign, into size. */
static tally sizes_of(const tcr_plan *plan, tcr_side side, const correction *c, size_t count,
                      double *size) {
    const double tolerance = tcr_set_tolerance(plan->set);
    const tcr_plan_eye *eye = &plan->eye[side];
    for (size_t i = 0; i < eye->lashes; i++)
        size[i] = fabs(plan->lash[side][i].deviation_mm);
    for (size_t k = 0; k < count; k++)
        if (c[k].side == side)
            size[c[k].lash] = fabs(c[k].to_mm);
    tally of = {0, 0};
    for (size_t i = 0; i < eye->lashes; i++)
        if (!isnan(size[i])) {
            of.within += size[i] <= tolerance;
            size[of.tips++] = size[i];
        }
    return of;
}

/* What the plan reaches with its first 'count' corrections made. */
static tcr_plan_point reached(const tcr_plan *plan, const correction *c, size_t count,
                              double *scratch) {
    tcr_plan_point point = {.corrections = count, .within_tolerance = 1.0, .enough_within = true};
    double squares = 0.0;
    size_t used = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        if (plan->eye[side].zones_only)
            continue;
        const tally of = sizes_of(plan, (tcr_side)side, c, count, scratch);
        if (of.tips == 0)
            continue;
        for (size_t i = 0; i < of.tips; i++) {
            squares += scratch[i] * scratch[i];
            point.max_mm = fmax(point.max_mm, scratch[i]);
        }
        point.p95_mm = fmax(point.p95_mm, tcr_quantile(scratch, of.tips, 0.95));
        point.within_tolerance = fmin(point.within_tolerance, (double)of.within / (double)of.tips);
        point.enough_within = point.enough_within && is_enough(of);
        used += of.tips;
    }
    point.rms_mm = sqrt(squares / (double)used);
    return point;
}

/* Marks the fewest corrections that bring 95 % of an eye's tips within the tolerance, or as many as
 * can be; how many these are. */
static size_t mark_needed(const tcr_plan *plan, tcr_side side, correction *c, size_t n,
                          double *scratch) {
    tally of = sizes_of(plan, side, c, 0, scratch);
    size_t marked = 0;
    for (size_t k = 0; k < n && !is_enough(of); k++)
        if (c[k].side == side && c[k].rank == COMES_INSIDE) {
            c[k].needed = true;
            of.within++;
            marked++;
        }
    return marked;
}

static void make_corrections(tcr_plan *plan, const correction *c, size_t count) {
    for (size_t k = 0; k < count; k++) {
        tcr_plan_lash *lash = &plan->lash[c[k].side][c[k].lash];
        lash->corrected = true;
        lash->choice = c[k].choice;
        lash->deviation_mm = c[k].to_mm;
    }
    plan->result.corrections = count;
}

/* The curve: every number of corrections, or about 200 of them where there are more; that of the
 * corrections made is always among them. */
static tcr_status draw_curve(tcr_plan *plan, const correction *c, size_t n, size_t made,
                             double *scratch) {
    enum { POINTS_MOST = 200 };
    const size_t step = n / POINTS_MOST + 1;
    plan->point = tcr_resize(&plan->allocator, NULL, n / step + 3, sizeof *plan->point);
    if (plan->point == NULL)
        return TCR_E_MEMORY;
    size_t points = 0;
    for (size_t k = 0, last = SIZE_MAX; k <= n; k = k < n && k + step > n ? n : k + step) {
        if (last != SIZE_MAX && last < made && made < k)
            plan->point[points++] = reached(plan, c, made, scratch);
        plan->point[points++] = reached(plan, c, k, scratch);
        last = k;
    }
    plan->result.points = points;
    plan->result.point = plan->point;
    return TCR_OK;
}

tcr_status tcr_plan_correct(tcr_plan *plan, const tcr_plan_table *table) {
    const tcr_plan_options *o = &plan->options;
    size_t lashes = 0;
    for (int side = 0; side < TCR_SIDES; side++)
        if (!plan->eye[side].zones_only && plan->eye[side].lashes > lashes)
            lashes = plan->eye[side].lashes;
    if (lashes == 0)
        return TCR_OK;
    correction *c =
        tcr_resize(&plan->allocator, NULL, table->member_first[table->choosing] + 1, sizeof *c);
    double *scratch = tcr_resize(&plan->allocator, NULL, lashes, sizeof *scratch);
    tcr_status status = c == NULL || scratch == NULL ? TCR_E_MEMORY : TCR_OK;
    if (status == TCR_OK) {
        const size_t n = find_corrections(plan, table, c);
        size_t count = 0;
        for (int side = 0; side < TCR_SIDES; side++)
            if (!plan->eye[side].zones_only)
                count += mark_needed(plan, (tcr_side)side, c, n, scratch);
        tcr_sort_items(c, n, sizeof *c, comes_before, NULL);
        if (o->correct_all)
            count = n;
        else if (o->corrections < SIZE_MAX)
            count = o->corrections < n ? o->corrections : n;
        status = draw_curve(plan, c, n, count, scratch);
        const tcr_plan_point at = reached(plan, c, count, scratch);
        plan->result.enough_within = at.enough_within;
        make_corrections(plan, c, count);
    }
    tcr_release(&plan->allocator, c);
    tcr_release(&plan->allocator, scratch);
    return status;
}
