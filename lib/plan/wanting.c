/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What zones alone come to on eyes that nobody measured: how far the tips of all samples lie off
 * their lines, how many lashes want another size than their zone, and by what these differ from the
 * lashes of their zone and layer.
 *
 * A lash wants another size where it cannot carry its zone's, or where its tip lies beyond the
 * tolerance with it and another size that it can carry, all else alike, brings it nearer.
 */
#include "plan/redraw.h"

#include <math.h>
#include <string.h>

#include "model/set_data.h"
#include "num/memory.h"
#include "num/order.h"

static const double GAIN_LEAST_MM = 1e-9; /* less is rounding */

/* Which way a lash leaves its zone; the wants of plan.h, and none. */
enum { STAYS = TCR_PLAN_WANTS, GROUPS };

/* Sums over the lashes of a cell: how many went which way, and their traits. */
typedef struct cell_sums {
    double n[GROUPS], sum[GROUPS][TCR_TRAITS], squares[TCR_TRAITS];
} cell_sums;

typedef struct survey {
    tcr_plan *plan;
    tcr_redraw redraw;
    tcr_plan_places place[TCR_SIDES];
    cell_sums *cell;
    double *apart[TCR_SIDES]; /* of every tip with its zone's choice, without sign */
    size_t tips[TCR_SIDES], room[TCR_SIDES];
    /* of the same lashes with what map and rule give them: tips, those within the tolerance, those
     * with more than they may carry, those with what the tray lacks, and the sum of squares */
    size_t mapped[TCR_SIDES], mapped_within[TCR_SIDES];
    size_t mapped_beyond[TCR_SIDES], mapped_lacking[TCR_SIDES];
    double mapped_squares[TCR_SIDES];
    size_t sized[TCR_SIDES]; /* tips within the tolerance where each lash has the size it wants */
    /* of one sample, and of all before it: their rms, and how many lie nearer as mapped */
    double sample_squares, sample_mapped_squares;
    size_t sample_tips, sample_mapped;
    double *client_mm;
    size_t clients, compared, nearer_as_mapped;
} survey;

static void traits_of(const tcr_lash *lash, double trait[TCR_TRAITS]) {
    trait[TCR_TRAIT_HEIGHT] = lash->height_mm;
    trait[TCR_TRAIT_PITCH] = lash->pitch_rad;
    trait[TCR_TRAIT_LENGTH] = lash->length_mm;
    trait[TCR_TRAIT_TURN] = lash->turn_rad;
}

/* Where a lash's tip lies with its zone's size, or the longest below it that it carries, and with
 * the size that it wants; the group it falls into. */
static int look_at(const survey *s, tcr_redrawn *m, const tcr_choice *zone, double *with_zone,
                   double *with_own) {
    tcr_tray room;
    const tcr_tray *tray = tcr_set_tray_for(s->plan->set, zone, &room); /* the zone's, at least */
    const double tolerance = tcr_set_tolerance(s->plan->set);
    double best = INFINITY, best_mm = NAN, has_mm = NAN;
    *with_zone = NAN;
    for (size_t t = 0; t < tray->count; t++) {
        tcr_choice choice = *zone;
        tcr_plan_tip tip;
        choice.length_mm = tray->length_mm[t];
        if (!tcr_redraw_tip(&s->redraw, m, &choice, &tip))
            continue;
        const double off = tcr_plan_off(s->plan, tip);
        if (choice.length_mm <= zone->length_mm || isnan(*with_zone)) {
            *with_zone = off;
            has_mm = choice.length_mm;
        }
        if (fabs(off) < fabs(best) - GAIN_LEAST_MM) {
            best = off;
            best_mm = choice.length_mm;
        }
    }
    if (isnan(*with_zone)) { /* it carries no size of this kind */
        tcr_choice choice = *zone;
        tcr_plan_tip tip;
        choice.length_mm = tray->length_mm[0];
        if (tcr_redraw_tip_anyway(&s->redraw, m, &choice, &tip))
            *with_zone = tcr_plan_off(s->plan, tip);
        *with_own = *with_zone;
        return TCR_WANTS_SHORTER;
    }
    *with_own = *with_zone;
    const bool is_out =
        fabs(*with_zone) > tolerance && fabs(best) < fabs(*with_zone) - GAIN_LEAST_MM;
    if (is_out) {
        *with_own = best;
        has_mm = best_mm;
    }
    if (has_mm == zone->length_mm)
        return STAYS;
    return has_mm < zone->length_mm ? TCR_WANTS_SHORTER : TCR_WANTS_LONGER;
}

/* A lash with what map and rule give it. */
static void add_mapped(survey *s, tcr_redrawn *m) {
    const tcr_set *set = s->plan->set;
    tcr_choice choice = tcr_set_ruled_choice(set, &set->eye[m->side].map, m->zone, m->lash->layer);
    tcr_plan_tip tip;
    choice.length_mm = tcr_set_map_length(set, m->side, m->lash->u, m->lash->layer);
    if (!tcr_redraw_tip_anyway(&s->redraw, m, &choice, &tip))
        return;
    s->mapped[m->side]++;
    s->mapped_within[m->side] += fabs(tip.off_mm) <= tcr_set_tolerance(set);
    s->mapped_squares[m->side] += tip.off_mm * tip.off_mm;
    s->sample_mapped++;
    s->sample_mapped_squares += tip.off_mm * tip.off_mm;
    s->mapped_beyond[m->side] += !tcr_redraw_tip(&s->redraw, m, &choice, &tip);
    s->mapped_lacking[m->side] += tcr_set_take_length(set, &choice) != TCR_OK;
}

static tcr_status add_lash(survey *s, tcr_redrawn *m) {
    const size_t c = s->place[m->side].cell[m->zone][m->lash->layer];
    double with_zone, with_own, trait[TCR_TRAITS];
    const int group = look_at(s, m, &s->plan->cell[c].choice, &with_zone, &with_own);
    if (isnan(with_zone))
        return TCR_OK;
    void *apart = s->apart[m->side];
    const tcr_status status = tcr_grow(&s->plan->allocator, &apart, s->tips[m->side],
                                       &s->room[m->side], sizeof *s->apart[0]);
    s->apart[m->side] = apart;
    if (status != TCR_OK)
        return status;
    s->apart[m->side][s->tips[m->side]++] = fabs(with_zone);
    s->sized[m->side] += fabs(with_own) <= tcr_set_tolerance(s->plan->set);
    s->sample_tips++;
    s->sample_squares += with_zone * with_zone;
    traits_of(m->lash, trait);
    s->cell[c].n[group] += 1.0;
    for (int k = 0; k < TCR_TRAITS; k++) {
        s->cell[c].sum[group][k] += trait[k];
        s->cell[c].squares[k] += trait[k] * trait[k];
    }
    return TCR_OK;
}

/* The lashes of sample k; true where it was stopped, which the first one never is. */
static bool look_over_sample(survey *s, size_t k, tcr_status *status) {
    const double samples = (double)s->plan->result.samples;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = &s->plan->eye[side];
        for (size_t i = 0; i < eye->lashes && eye->zones_only && *status == TCR_OK; i++) {
            const double part = ((double)side + (double)i / (double)eye->lashes) / TCR_SIDES;
            tcr_redrawn m;
            if (tcr_watch_stops(&s->plan->watch, "wanting", ((double)k + part) / samples) && k > 0)
                return true;
            if (!tcr_redraw_lash(&s->redraw, (tcr_side)side, i, &m))
                continue;
            add_mapped(s, &m);
            *status = add_lash(s, &m);
        }
    }
    return false;
}

/* One sample is one client. */
static void end_sample(survey *s) {
    const double squares = s->sample_squares / (double)s->sample_tips;
    const double mapped = s->sample_mapped_squares / (double)s->sample_mapped;
    if (s->sample_tips > 0)
        s->client_mm[s->clients++] = sqrt(squares);
    if (s->sample_tips > 0 && s->sample_mapped > 0) {
        s->compared++;
        s->nearer_as_mapped += mapped < squares;
    }
    s->sample_squares = s->sample_mapped_squares = 0.0;
    s->sample_tips = s->sample_mapped = 0;
}

static tcr_status go_through(survey *s) {
    tcr_status status = TCR_OK;
    for (size_t k = 0; k < s->plan->result.samples && status == TCR_OK; k++) {
        status = tcr_redraw_next(&s->redraw, k);
        if (status == TCR_OK && look_over_sample(s, k, &status))
            break;
        end_sample(s);
    }
    return status;
}

/* ---- Figures ------------------------------------------------------------------------- */

/* How a group's lashes differ from those of their cells, over all cells of an eye. */
static tcr_plan_wanting wanting_of(const survey *s, tcr_side side, int group) {
    tcr_plan_wanting w = {0};
    double all = 0.0, own = 0.0, squares[TCR_TRAITS] = {0.0};
    for (size_t c = 0; c < s->plan->result.cells; c++) {
        const cell_sums *cell = &s->cell[c];
        double n = 0.0;
        if (s->plan->cell[c].side != side)
            continue;
        for (int g = 0; g < GROUPS; g++)
            n += cell->n[g];
        all += n;
        own += cell->n[group];
        for (int k = 0; k < TCR_TRAITS && n > 0.0; k++) {
            double sum = 0.0;
            for (int g = 0; g < GROUPS; g++)
                sum += cell->sum[g][k];
            w.apart[k] += cell->sum[group][k] - cell->n[group] * sum / n;
            squares[k] += cell->squares[k] - sum * sum / n;
        }
    }
    w.share = all > 0.0 ? own / all : 0.0;
    for (int k = 0; k < TCR_TRAITS; k++) {
        const double sd = all > 0.0 ? sqrt(fmax(squares[k], 0.0) / all) : 0.0;
        w.apart[k] = own > 0.0 ? w.apart[k] / own : NAN;
        w.in_sd[k] = own > 0.0 && sd > 1e-9 ? w.apart[k] / sd : NAN;
    }
    return w;
}

static void note_eye(survey *s, tcr_side side) {
    tcr_plan_eye *eye = &s->plan->eye[side];
    tcr_plan_over *over = &eye->over;
    const double tolerance = tcr_set_tolerance(s->plan->set), n = (double)s->tips[side];
    double squares = 0.0;
    size_t within = 0;
    for (size_t i = 0; i < s->tips[side]; i++) {
        const double apart = s->apart[side][i];
        squares += apart * apart;
        over->max_mm = fmax(over->max_mm, apart);
        within += apart <= tolerance;
    }
    over->rms_mm = sqrt(squares / n);
    over->p95_mm = tcr_quantile(s->apart[side], s->tips[side], 0.95);
    over->within_tolerance = (double)within / n;
    over->within_sized = (double)s->sized[side] / n;
    over->tips = s->tips[side];
    const double mapped = (double)s->mapped[side]; /* NaN of them where there are none */
    over->mapped_rms_mm = sqrt(s->mapped_squares[side] / mapped);
    over->mapped_within = (double)s->mapped_within[side] / mapped;
    over->mapped_beyond = (double)s->mapped_beyond[side] / mapped;
    over->mapped_lacking = (double)s->mapped_lacking[side] / mapped;
    for (int w = 0; w < TCR_PLAN_WANTS; w++)
        over->wants[w] = wanting_of(s, side, w);
    s->plan->result.enough_within =
        s->plan->result.enough_within && 20 * within >= 19 * s->tips[side];
    s->plan->result.max_mm = fmax(s->plan->result.max_mm, over->max_mm);
}

static void note_clients(survey *s) {
    tcr_plan_result *r = &s->plan->result;
    if (s->clients == 0)
        return;
    r->client_rms_mm[0] = tcr_quantile(s->client_mm, s->clients, 0.05);
    r->client_rms_mm[1] = tcr_quantile(s->client_mm, s->clients, 0.95);
    r->clients_nearer_as_mapped = (double)s->nearer_as_mapped / (double)s->compared;
}

/* What the set's own lashes, one sample, get from their zones. */
static void wear(tcr_plan *plan, tcr_side side, const tcr_plan_places *place) {
    for (size_t i = 0; i < plan->eye[side].lashes; i++) {
        tcr_plan_lash *to = &plan->lash[side][i];
        const tcr_lash *lash = tcr_set_lash(plan->set, side, i);
        if (to->use != TCR_USED)
            continue;
        const size_t zone = tcr_set_zone_at(plan->set, side, lash->u);
        const tcr_choice *given = &plan->cell[place->cell[zone][lash->layer]].choice;
        tcr_sight sight;
        (void)tcr_evaluate(&plan->at[side], lash, NULL, NULL, TCR_ANEW_ALL, &sight);
        tcr_tray room;
        const tcr_tray *tray = tcr_set_tray_for(plan->set, given, &room);
        to->choice = *given;
        to->better_mm = NAN;
        for (size_t t = tray->count; t-- > 0;) {
            to->choice.length_mm = tray->length_mm[t];
            if (to->choice.length_mm <= given->length_mm &&
                tcr_plan_bears(plan, side, lash, &to->choice, &sight))
                break;
        }
        (void)tcr_evaluate_worn(&plan->at[side], plan->set, lash, &to->choice, TCR_ANEW_ATTACHMENT,
                                &sight);
        const tcr_plan_tip tip = tcr_plan_tip_of(plan, side, &sight);
        to->deviation_mm = tcr_plan_off(plan, tip);
        to->zone_deviation_mm = to->deviation_mm;
    }
}

tcr_status tcr_plan_look_over(tcr_plan *plan) {
    survey s = {.plan = plan};
    const tcr_allocator *a = &plan->allocator;
    const size_t cells = plan->result.cells;
    tcr_status status = tcr_redraw_begin(&s.redraw, plan);
    s.cell = tcr_resize(a, NULL, cells, sizeof *s.cell);
    s.client_mm = tcr_resize(a, NULL, plan->result.samples, sizeof *s.client_mm);
    if (s.cell == NULL || s.client_mm == NULL)
        status = TCR_E_MEMORY;
    else
        memset(s.cell, 0, cells * sizeof *s.cell);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        tcr_plan_find_places(plan, (tcr_side)side, cells, &s.place[side]);
    if (status == TCR_OK)
        status = go_through(&s);
    plan->result.enough_within = true;
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (plan->eye[side].zones_only) {
            note_eye(&s, (tcr_side)side);
            wear(plan, (tcr_side)side, &s.place[side]);
        }
    if (status == TCR_OK)
        note_clients(&s);
    for (int side = 0; side < TCR_SIDES; side++)
        tcr_release(a, s.apart[side]);
    tcr_release(a, s.cell);
    tcr_release(a, s.client_mm);
    tcr_redraw_end(&s.redraw);
    return status;
}
