/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Eyes that nobody measured: what their zones are expected to come to, and which lashes want
 * another size, against plain draws of the test's own that are put together from public calls.
 */
#include <tipcrest/plan.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/random.h>
#include <tipcrest/tips.h>

#include "support/check.h"
#include "support/client.h"

enum { LASHES = 40, EYES = 2, SAMPLES = 6, CELLS_MOST = 32, TRAITS = 4 };
static const char ACCURACY[] = "the contract's accuracy";
static const double MM = 1e-9;

static tcr_plan *planned(const tcr_set *set, const tcr_plan_options *o) {
    tcr_plan *plan = NULL;
    expect_status(tcr_plan_new(set, o, &plan, NULL), TCR_OK);
    return plan;
}

static tcr_plan_options over_samples(size_t samples) {
    tcr_plan_options o = tcr_plan_options_default();
    o.samples = samples;
    return o;
}

/* Seed of a sample (random.h: use 2, the words of counter (sample, 0, 0, 2)); sample 0 is the set's
 * own. */
static uint64_t seed_of(uint64_t seed, uint32_t sample) {
    const uint32_t counter[4] = {sample, 0, 0, 2};
    const uint32_t key[2] = {(uint32_t)seed, (uint32_t)(seed >> 32)};
    uint32_t words[4];
    tcr_philox(counter, key, words);
    return sample == 0 ? seed : (uint64_t)words[1] << 32 | words[0];
}

/* The client's set of a sample, the eyes of 'redrawn' (bits) drawn anew. */
static tcr_set *sample_of(const tcr_set *set, unsigned redrawn, uint32_t sample) {
    tcr_set *copy;
    expect_status(tcr_set_copy(NULL, set, &copy), TCR_OK);
    for (int side = 0; side < EYES; side++) {
        const tcr_description *d = tcr_set_description(set, (tcr_side)side);
        if ((redrawn >> side & 1) == 0)
            continue;
        tcr_description other = *d;
        other.seed = seed_of(d->seed, sample);
        for (uint32_t k = 0; k < d->count; k++) {
            tcr_lash lash;
            expect_status(tcr_describe_lash(&other, (uint32_t)side, k, &lash), TCR_OK);
            expect_status(tcr_set_replace_lash(copy, (tcr_side)side, k, &lash), TCR_OK);
        }
    }
    return copy;
}

/* Openings of samples: DEVELOPERS.md, evenly from 0.8 to 1 in sixteen strata. */
static double opening_of(uint32_t k) { return 0.8 + 0.2 * ((9 * k + k / 32) % 16 + 0.5) / 16.0; }

/* A tip off the line of its sample. */
static double off_anyway(const tcr_set *set, tcr_side side, size_t i, const tcr_choice *choice,
                         double opening, const tcr_line *line) {
    const tcr_lash *lash = tcr_set_lash(set, side, i);
    const tcr_view view = tcr_view_named(TCR_OPEN_FRONT);
    const tcr_extension ext = tcr_set_extension(set, choice);
    tcr_vec3 tip;
    expect_status(tcr_tip(tcr_set_lid(set, side), opening, lash, &ext, tcr_set_bond(set), &tip),
                  TCR_OK);
    const tcr_vec2 at = tcr_view_project(&view, tip);
    return at.y - tcr_line_at(line, at.x);
}

static tcr_limits limits; /* of the plain draws */

/* The same, NaN where the limits forbid it. */
static double off_with(const tcr_set *set, tcr_side side, size_t i, const tcr_choice *choice,
                       double opening, const tcr_line *line) {
    tcr_stance stance;
    expect_status(tcr_lash_stance(tcr_set_lash(set, side, i), tcr_set_lid(set, side), 1.0, &stance),
                  TCR_OK);
    return tcr_limits_beyond(&limits, set, tcr_set_lash(set, side, i), &stance, choice) == 0
               ? off_anyway(set, side, i, choice, opening, line)
               : NAN;
}

/* Plain sums over all samples: of a cell's lashes with each length and placement, and of those
 * that want another size than the plan's. */
typedef struct plain {
    size_t lashes[CELLS_MOST], carried[CELLS_MOST][TCR_TRAY_MAX][TCR_PLACEMENTS];
    double squares[CELLS_MOST][TCR_TRAY_MAX][TCR_PLACEMENTS];
    size_t tips[EYES], within[EYES], sized[EYES], wants[EYES][TCR_PLAN_WANTS];
    double of_eye[EYES];
    size_t mapped_within[EYES], mapped_beyond[EYES]; /* with what map and rule give */
    double mapped[EYES];
    double pitch[CELLS_MOST], wanting_pitch[CELLS_MOST][TCR_PLAN_WANTS];
    size_t wanting[CELLS_MOST][TCR_PLAN_WANTS];
    double client[SAMPLES];   /* rms of each sample's tips */
    size_t below[CELLS_MOST]; /* with the plan's choice: carry a longer length alone, or none */
    size_t nearer_as_mapped;
} plain;

static size_t cell_at(const tcr_plan_result *r, tcr_side side, size_t zone, tcr_layer layer) {
    size_t c = 0;
    while (c < r->cells &&
           !(r->cell[c].side == side && r->cell[c].zone == zone && r->cell[c].layer == layer))
        c++;
    expect_true(c < r->cells && c < CELLS_MOST);
    return c;
}

/* One lash of one sample: every option of its cell, and what it wants. */
static void add_lash(plain *p, const tcr_plan_result *r, const tcr_set *set, tcr_side side,
                     size_t i, double opening, const tcr_line *line) {
    const tcr_tray *tray = tcr_set_tray(set);
    const tcr_lash *lash = tcr_set_lash(set, side, i);
    const size_t c = cell_at(r, side, tcr_set_zone_at(set, side, lash->u), lash->layer);
    const tcr_choice *chosen = &r->cell[c].choice;
    double own = NAN, has = NAN, best = INFINITY, best_mm = NAN;
    p->lashes[c]++;
    for (int place = 0; place < TCR_PLACEMENTS; place++) {
        tcr_choice choice = *chosen;
        double with[TCR_TRAY_MAX], last = NAN;
        choice.placement = (tcr_placement)place;
        for (size_t t = tray->count; t-- > 0;) { /* last: with the shortest that it carries */
            choice.length_mm = tray->length_mm[t];
            with[t] = off_with(set, side, i, &choice, opening, line);
            last = isnan(with[t]) ? last : with[t];
        }
        if (isnan(last)) /* it carries none: the shortest of the tray */
            last = off_anyway(set, side, i, &choice, opening, line);
        for (size_t t = 0, carried = 0; t < tray->count; t++) {
            const double off = with[t];
            choice.length_mm = tray->length_mm[t];
            p->carried[c][t][place] += isnan(off) ? 0 : 1;
            carried += isnan(off) ? 0 : 1;
            last = isnan(off) ? last : off; /* with the longest that it carries so far */
            p->squares[c][t][place] += last * last;
            p->below[c] += carried == 0 && choice.length_mm == chosen->length_mm &&
                           choice.placement == chosen->placement;
            if ((tcr_placement)place != chosen->placement || isnan(off))
                continue;
            if (choice.length_mm <= chosen->length_mm)
                own = off, has = choice.length_mm;
            if (fabs(off) < fabs(best))
                best = off, best_mm = choice.length_mm;
        }
    }
    tcr_choice by_map;
    expect_status(tcr_set_choice(set, side, i, &by_map), TCR_OK);
    const double mapped = off_anyway(set, side, i, &by_map, opening, line);
    p->mapped[side] += mapped * mapped;
    p->mapped_within[side] += fabs(mapped) <= 0.5;
    p->mapped_beyond[side] += isnan(off_with(set, side, i, &by_map, opening, line)) ? 1 : 0;
    p->of_eye[side] += own * own;
    p->tips[side]++;
    p->within[side] += fabs(own) <= 0.5;
    const bool out = fabs(own) > 0.5 && fabs(best) < fabs(own);
    p->sized[side] += fabs(out ? best : own) <= 0.5;
    has = out ? best_mm : has;
    p->pitch[c] += lash->pitch_rad;
    if (has == chosen->length_mm)
        return;
    const int want = has < chosen->length_mm ? TCR_WANTS_SHORTER : TCR_WANTS_LONGER;
    p->wants[side][want]++;
    p->wanting[c][want]++;
    p->wanting_pitch[c][want] += lash->pitch_rad;
}

static int by_size(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* What sample k added to the sums before it. */
static void add_client(plain *p, const plain *before, uint32_t k) {
    double squares = 0.0, mapped = 0.0, tips = 0.0;
    for (int side = 0; side < EYES; side++) {
        squares += p->of_eye[side] - before->of_eye[side];
        mapped += p->mapped[side] - before->mapped[side];
        tips += (double)(p->tips[side] - before->tips[side]);
    }
    p->client[k] = sqrt(squares / tips);
    p->nearer_as_mapped += mapped < squares;
}

/* All samples; the eyes of 'redrawn'. */
static void draw_plainly(plain *p, const tcr_plan_result *r, const tcr_set *set, unsigned redrawn,
                         uint32_t samples) {
    tcr_plan_options o = tcr_plan_options_default();
    o.corrections = 0;
    o.limits = limits;
    memset(p, 0, sizeof *p);
    for (uint32_t k = 0; k < samples; k++) {
        tcr_set *drawn = sample_of(set, redrawn, k);
        tcr_view view = tcr_view_named(TCR_OPEN_FRONT);
        view.opening = opening_of(k);
        for (int side = 0; side < EYES; side++)
            expect_status(tcr_set_mark_drawn(drawn, (tcr_side)side, 0), TCR_OK);
        tcr_plan *as = planned(drawn, &o); /* which lashes a plan of this client uses */
        const plain before = *p;
        for (int side = 0; side < EYES; side++) {
            tcr_line line;
            expect_status(tcr_intended_line(drawn, (tcr_side)side, &view, &line), TCR_OK);
            const tcr_plan_eye *eye = tcr_plan_eye_of(as, (tcr_side)side);
            for (size_t i = 0; i < eye->lashes && (redrawn >> side & 1) != 0; i++)
                if (eye->lash[i].use == TCR_USED)
                    add_lash(p, r, drawn, (tcr_side)side, i, view.opening, &line);
        }
        add_client(p, &before, k);
        tcr_plan_free(as);
        tcr_set_free(drawn);
    }
}

CLAIM(the_zones_come_to_what_plain_draws_of_such_clients_come_to) {
    tcr_set *set = tcr_make_client(NULL, EYES, LASHES);
    const tcr_plan_options o = over_samples(SAMPLES);
    tcr_plan *plan = planned(set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    static plain p;
    draw_plainly(&p, r, set, 3, SAMPLES);
    double squares = 0.0;
    size_t tips = 0;
    for (int side = 0; side < EYES; side++) {
        const tcr_plan_over *over = &tcr_plan_eye_of(plan, (tcr_side)side)->over;
        const double n = (double)p.tips[side];
        given("eye %d", side);
        expect_true(tcr_plan_eye_of(plan, (tcr_side)side)->zones_only);
        /* Source: plain draws, through tcr_tip, tcr_intended_line and tcr_limits_beyond. */
        expect_near(over->rms_mm, sqrt(p.of_eye[side] / n), MM, ACCURACY);
        expect_near(over->within_tolerance, (double)p.within[side] / n, 1e-12, "counted");
        expect_near(over->mapped_rms_mm, sqrt(p.mapped[side] / n), MM, ACCURACY);
        expect_near(over->mapped_within, (double)p.mapped_within[side] / n, 1e-12, "counted");
        expect_near(over->mapped_beyond, (double)p.mapped_beyond[side] / n, 1e-12, "counted");
        expect_true(p.mapped_beyond[side] > 0);
        expect_same(over->mapped_lacking, 0, "the tray has what the map gives");
        expect_count(over->tips, p.tips[side]);
        expect_near(over->within_sized, (double)p.sized[side] / n, 1e-12, "counted");
        for (int w = 0; w < TCR_PLAN_WANTS; w++)
            expect_near(over->wants[w].share, (double)p.wants[side][w] / n, 1e-12, "counted");
        squares += p.of_eye[side];
        tips += p.tips[side];
    }
    expect_near(r->expected_rms_mm, sqrt(squares / (double)tips), MM, ACCURACY);
    expect_near(r->rms_mm, r->expected_rms_mm, MM, ACCURACY);
    /* Type 7 of Hyndman & Fan: the places 0.05 and 0.95 of the way from the first to the last. */
    qsort(p.client, SAMPLES, sizeof *p.client, by_size);
    for (int end = 0; end < 2; end++) {
        const double at = (end == 0 ? 0.05 : 0.95) * (SAMPLES - 1);
        const int k = (int)at;
        expect_near(r->client_rms_mm[end], p.client[k] + (at - k) * (p.client[k + 1] - p.client[k]),
                    MM, ACCURACY);
    }
    expect_near(r->clients_nearer_as_mapped, (double)p.nearer_as_mapped / SAMPLES, 1e-12,
                "counted");
    expect_true(r->proved && r->samples == SAMPLES && r->points == 0 && r->corrections == 0);
    expect_within(r->bound_mm, r->expected_rms_mm - 1e-6, r->expected_rms_mm, "proved to 1e-9");
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* A length or placement that nine lashes in ten of a cell carry (plan.h) never does better. */
CLAIM(no_other_choice_for_a_zone_is_expected_nearer) {
    tcr_set *set = tcr_make_client(NULL, EYES, LASHES);
    const tcr_plan_options o = over_samples(SAMPLES);
    tcr_plan *plan = planned(set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_tray *tray = tcr_set_tray(set);
    static plain p;
    size_t held_back = 0;
    draw_plainly(&p, r, set, 3, SAMPLES);
    expect_true(r->cells > 12);
    for (size_t c = 0; c < r->cells; c++) {
        const tcr_choice *chosen = &r->cell[c].choice;
        size_t own = 0;
        while (tray->length_mm[own] != chosen->length_mm)
            own++;
        const double reached = p.squares[c][own][chosen->placement];
        given("cell %zu", c);
        expect_near(r->cell[c].rms_mm, sqrt(reached / (double)p.lashes[c]), MM, ACCURACY);
        expect_true(10 * p.carried[c][own][chosen->placement] >= 9 * p.lashes[c]);
        for (size_t t = 0; t < tray->count; t++)
            for (int place = 0; place < TCR_PLACEMENTS; place++) {
                if (!o.placement[place])
                    continue;
                if (10 * p.carried[c][t][place] >= 9 * p.lashes[c])
                    expect_true(p.squares[c][t][place] >= reached - MM);
                else
                    held_back++;
            }
    }
    expect_true(held_back > 0);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* A lash that points up far enough leans the less on its root the longer a curl of 90 degrees is.
 */
CLAIM(a_lash_that_carries_a_longer_one_alone_counts_with_it) {
    static const tcr_zone zone = {.to = 1.0, .length_mm = 8.0, .curl = "D"};
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    for (int side = 0; side < EYES; side++) {
        tcr_description d = tcr_description_default();
        d.count = LASHES;
        d.seed = 5 + (uint64_t)side;
        d.length_mm = 8.0;
        d.pitch_rad = 50.0 * acos(-1.0) / 180.0;
        expect_status(tcr_set_add_eye(set, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_describe(set, (tcr_side)side, &d), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, &zone, 1), TCR_OK);
    }
    tcr_plan_options o = over_samples(SAMPLES);
    o.limits.moment_ratio = 9.0;
    o.limits.overlength_mm = 8.0;
    tcr_plan *plan = planned(set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_tray *tray = tcr_set_tray(set);
    static plain p;
    size_t below = 0;
    limits = o.limits;
    draw_plainly(&p, r, set, 3, SAMPLES);
    limits = tcr_limits_default();
    for (size_t c = 0; c < r->cells; c++) {
        size_t own = 0;
        while (tray->length_mm[own] != r->cell[c].choice.length_mm)
            own++;
        given("cell %zu, %zu of %zu", c, p.below[c], p.lashes[c]);
        /* Source: plan.h; plain draws. */
        expect_near(r->cell[c].rms_mm,
                    sqrt(p.squares[c][own][r->cell[c].choice.placement] / (double)p.lashes[c]), MM,
                    ACCURACY);
        below += p.below[c];
    }
    expect_true(below > 0);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* By how much the pitch of those that want a size differs from their cells' means. */
CLAIM(how_lashes_that_want_another_size_differ_is_told) {
    tcr_set *set = tcr_make_client(NULL, EYES, LASHES);
    const tcr_plan_options o = over_samples(SAMPLES);
    tcr_plan *plan = planned(set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    static plain p;
    draw_plainly(&p, r, set, 3, SAMPLES);
    for (int side = 0; side < EYES; side++)
        for (int w = 0; w < TCR_PLAN_WANTS; w++) {
            double apart = 0.0;
            for (size_t c = 0; c < r->cells; c++)
                if (r->cell[c].side == (tcr_side)side)
                    apart += p.wanting_pitch[c][w] -
                             (double)p.wanting[c][w] * p.pitch[c] / (double)p.lashes[c];
            given("eye %d, want %d", side, w);
            expect_true(p.wants[side][w] > 0);
            expect_near(tcr_plan_eye_of(plan, (tcr_side)side)->over.wants[w].apart[TCR_TRAIT_PITCH],
                        apart / (double)p.wants[side][w], 1e-12, "sums in another order");
        }
    /* A lash that points higher has its tip higher, and wants a shorter one: section 5. */
    for (int side = 0; side < EYES; side++) {
        const tcr_plan_wanting *w = tcr_plan_eye_of(plan, (tcr_side)side)->over.wants;
        expect_true(w[TCR_WANTS_SHORTER].apart[TCR_TRAIT_PITCH] > 0.0);
        expect_true(w[TCR_WANTS_LONGER].apart[TCR_TRAIT_PITCH] < 0.0);
        expect_true(w[TCR_WANTS_SHORTER].in_sd[TCR_TRAIT_PITCH] > 0.0);
    }
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* Which eyes are planned by zones alone, and what becomes of the others. */
CLAIM(lashes_are_corrected_where_somebody_measured_them) {
    tcr_set *set = tcr_make_client(NULL, EYES, 80), *after = NULL;
    tcr_plan_options o = over_samples(5);
    expect_status(tcr_set_mark_drawn(set, TCR_RIGHT, 0), TCR_OK); /* as if it were measured */
    tcr_plan *plan = planned(set, &o);
    const tcr_plan_eye *left = tcr_plan_eye_of(plan, TCR_LEFT);
    const tcr_plan_eye *right = tcr_plan_eye_of(plan, TCR_RIGHT);
    size_t corrected[EYES] = {0}, rows[EYES] = {0};
    expect_true(left->zones_only && !right->zones_only);
    for (size_t i = 0; i < 80; i++) {
        corrected[TCR_LEFT] += left->lash[i].corrected;
        corrected[TCR_RIGHT] += right->lash[i].corrected;
    }
    expect_count(corrected[TCR_LEFT], 0);
    expect_true(corrected[TCR_RIGHT] > 0);
    expect_count(tcr_plan_result_of(plan)->corrections, corrected[TCR_RIGHT]);
    /* Source: plan.h; of the left eye the cells, of the right eye each lash. */
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    tcr_plan_work *work = NULL;
    size_t worn = right->used;
    for (size_t c = 0; c < r->cells; c++)
        worn += r->cell[c].side == TCR_LEFT ? r->cell[c].lashes : 0;
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    expect_count(work->lashes, worn);
    expect_count(work->places, left->used + right->used);
    ck_assert_int_ne((int)work->lashes, (int)work->places); /* or it would tell nothing */
    tcr_plan_work_free(work);
    expect_status(tcr_plan_apply(plan, &after), TCR_OK);
    for (int side = 0; side < EYES; side++)
        for (size_t i = 0; i < 80; i++)
            rows[side] += tcr_set_wish(after, (tcr_side)side, i)->fixed != 0;
    expect_true(rows[TCR_LEFT] == 0 && rows[TCR_RIGHT] > corrected[TCR_RIGHT]);
    tcr_plan_free(plan);
    tcr_set_free(after);
    o.samples = 0; /* one sample, lash by lash */
    plan = planned(set, &o);
    expect_true(!tcr_plan_eye_of(plan, TCR_LEFT)->zones_only);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* A drawn survey has no description, but a mean lash: it is drawn anew by that. A row that says
 * what one lash gets makes it a plan of lashes. */
CLAIM(a_survey_of_lashes_drawn_by_chance_is_nobodys_unless_a_row_decides) {
    tcr_set *set = tcr_make_client(NULL, 1, 300);
    tcr_plan_options o = over_samples(10);
    expect_true(tcr_set_description(set, TCR_LEFT) != NULL);
    tcr_plan *plan = planned(set, &o);
    const double described = tcr_plan_result_of(plan)->expected_rms_mm;
    tcr_plan_free(plan);
    const tcr_lash first = *tcr_set_lash(set, TCR_LEFT, 0);
    expect_status(tcr_set_replace_lash(set, TCR_LEFT, 0, &first), TCR_OK);
    expect_true(tcr_set_description(set, TCR_LEFT) == NULL);
    plan = planned(set, &o);
    expect_true(tcr_plan_eye_of(plan, TCR_LEFT)->zones_only);
    /* Both draw lashes of one kind: they differ by what one sample's lengths differ from their
     * law. */
    expect_near(tcr_plan_result_of(plan)->expected_rms_mm, described, 0.1, "the same spreads");
    tcr_plan_free(plan);
    const tcr_wish wish = {.fixed = TCR_FIX_LENGTH, .length_mm = 8.0};
    expect_status(tcr_set_replace_wish(set, TCR_LEFT, 30, &wish), TCR_OK);
    plan = planned(set, &o);
    expect_true(!tcr_plan_eye_of(plan, TCR_LEFT)->zones_only);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* A lash may grow more steeply than the mean of a description: 85 degrees against 84. */
CLAIM(a_drawn_survey_steeper_than_any_description_is_drawn_anew_at_its_limit) {
    tcr_set *set = tcr_make_client(NULL, 1, 40);
    for (size_t i = 0; i < 40; i++) {
        tcr_lash lash = *tcr_set_lash(set, TCR_LEFT, i);
        lash.pitch_rad = -1.482; /* 84.9 degrees down */
        expect_status(tcr_set_replace_lash(set, TCR_LEFT, i, &lash), TCR_OK);
    }
    expect_status(tcr_set_mark_drawn(set, TCR_LEFT, 40), TCR_OK);
    tcr_plan_options o = over_samples(3);
    o.limits.out_of_fan_rad = 1.5;
    tcr_plan *plan = planned(set, &o);
    expect_true(tcr_plan_eye_of(plan, TCR_LEFT)->zones_only);
    expect_true(isfinite(tcr_plan_result_of(plan)->expected_rms_mm));
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* Stops at a call of a phase. */
typedef struct stop {
    const char *phase;
    size_t at, calls;
} stop;

static bool stops(void *context, const char *phase, double share) {
    stop *s = context;
    (void)share;
    return strcmp(phase, s->phase) != 0 || s->calls++ != s->at;
}

CLAIM(a_plan_that_is_stopped_is_that_of_the_samples_gone_through) {
    tcr_set *set = tcr_make_client(NULL, EYES, LASHES);
    tcr_plan_options o = over_samples(10);
    stop s = {"samples", 0, 0};
    tcr_plan *plan = NULL;
    o.progress = (tcr_progress){stops, &s};
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_E_STOPPED);
    s = (stop){"samples", 4 * EYES * LASHES + 7, 0}; /* it is polled for each lash */
    plan = planned(set, &o);
    expect_count(tcr_plan_result_of(plan)->samples, 4);
    expect_true(tcr_plan_result_of(plan)->stopped && !tcr_plan_result_of(plan)->proved);
    o = over_samples(4);
    tcr_plan *four = planned(set, &o);
    s = (stop){"wanting", 0, 0}; /* after the choice: shares of the one sample that is looked at */
    o.progress = (tcr_progress){stops, &s};
    tcr_plan *late = planned(set, &o);
    o = over_samples(4);
    expect_true(tcr_plan_result_of(late)->stopped && tcr_plan_result_of(late)->proved);
    tcr_plan_free(late);
    /* Source: the same samples by another call. */
    expect_same(tcr_plan_result_of(plan)->expected_rms_mm,
                tcr_plan_result_of(four)->expected_rms_mm, "the same sums");
    expect_true(tcr_plan_result_of(plan)->bound_mm > 0.0);
    expect_same(tcr_plan_result_of(plan)->bound_mm, tcr_plan_result_of(four)->bound_mm,
                "the choice goes on to its end");
    tcr_plan_free(four);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

/* The largest distance that 95 % of a cell's tips keep is made least for the worst cell. */
CLAIM(least_maximum_counts_the_worst_cell) {
    tcr_set *set = tcr_make_client(NULL, 1, LASHES);
    tcr_plan_options o = over_samples(20);
    tcr_plan *squares = planned(set, &o);
    o.objective = TCR_LEAST_MAXIMUM;
    tcr_plan *plan = planned(set, &o);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    expect_true(r->proved && isnan(r->expected_rms_mm));
    expect_within(r->samples_max_mm, r->rms_mm, r->max_mm, "a quantile of distances");
    /* Least squares are least there. */
    expect_true(tcr_plan_result_of(squares)->expected_rms_mm <= r->rms_mm + MM);
    tcr_plan_free(squares);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(lashes_that_want_another_size_are_told_by_what_tells_most) {
    char text[TCR_PLAN_WANTING_SIZE];
    tcr_plan_wanting w = {.share = 0.2};
    /* Source: plan.h; 8 sin 3.1 degrees = 0.43 */
    w.apart[TCR_TRAIT_PITCH] = -3.1 * acos(-1.0) / 180.0;
    w.in_sd[TCR_TRAIT_PITCH] = -0.9;
    w.apart[TCR_TRAIT_HEIGHT] = 0.128;
    w.in_sd[TCR_TRAIT_HEIGHT] = 0.6;
    w.apart[TCR_TRAIT_LENGTH] = -0.4;
    w.in_sd[TCR_TRAIT_LENGTH] = -0.55;
    tcr_plan_wanting_text(&w, 8.0, text);
    expect_text(text, "natural tip 0.4 mm (3.1\xc2\xb0) lower, root 0.13 mm higher");
    w.in_sd[TCR_TRAIT_PITCH] = 0.49;
    tcr_plan_wanting_text(&w, 8.0, text);
    expect_text(text, "root 0.13 mm higher, lash 0.40 mm shorter");
    w.in_sd[TCR_TRAIT_HEIGHT] = w.in_sd[TCR_TRAIT_LENGTH] = 0.0;
    w.apart[TCR_TRAIT_TURN] = 0.2;
    w.in_sd[TCR_TRAIT_TURN] = 0.5;
    tcr_plan_wanting_text(&w, 8.0, text);
    expect_text(text, "curl 11.5\xc2\xb0 more"); /* 0.2 rad */
    w.in_sd[TCR_TRAIT_TURN] = NAN;
    tcr_plan_wanting_text(&w, 8.0, text);
    expect_text(text, "nothing tells them by itself");
    w.share = 0.009;
    tcr_plan_wanting_text(&w, 8.0, text);
    expect_text(text, "");
    tcr_plan_wanting_text(NULL, 8.0, text);
    expect_text(text, "");
    tcr_plan_wanting_text(&w, 8.0, NULL);
    /* However large the numbers, the text ends within its room. */
    w = (tcr_plan_wanting){.share = 1.0, .apart = {1e300, -1e300, 1e300, -1e300}};
    for (int k = 0; k < TCR_TRAITS; k++)
        w.in_sd[k] = 1.0 + k;
    tcr_plan_wanting_text(&w, 1e300, text);
    expect_true(memchr(text, '\0', sizeof text) != NULL && *text != '\0');
}

CLAIM(the_length_of_lashes_that_nobody_measured_is_the_described_one) {
    tcr_set *set = tcr_make_client(NULL, EYES, LASHES);
    const tcr_description *described = tcr_set_description(set, TCR_LEFT);
    expect_true(described != NULL);
    expect_same(tcr_plan_lash_mm(set, TCR_LEFT), described->length_mm, "the same number");
    tcr_set_free(set);
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_same(tcr_plan_lash_mm(set, TCR_LEFT), 7.5, "model.md, section 3");
    tcr_set_free(set);
}

int main(void) {
    limits = tcr_limits_default();
    static const TTest *const claims[] = {
        &the_zones_come_to_what_plain_draws_of_such_clients_come_to,
        &no_other_choice_for_a_zone_is_expected_nearer,
        &a_lash_that_carries_a_longer_one_alone_counts_with_it,
        &how_lashes_that_want_another_size_differ_is_told,
        &lashes_are_corrected_where_somebody_measured_them,
        &a_survey_of_lashes_drawn_by_chance_is_nobodys_unless_a_row_decides,
        &a_drawn_survey_steeper_than_any_description_is_drawn_anew_at_its_limit,
        &a_plan_that_is_stopped_is_that_of_the_samples_gone_through,
        &least_maximum_counts_the_worst_cell,
        &lashes_that_want_another_size_are_told_by_what_tells_most,
        &the_length_of_lashes_that_nobody_measured_is_the_described_one,
    };
    return RUN_CLAIMS("unmeasured", claims);
}
