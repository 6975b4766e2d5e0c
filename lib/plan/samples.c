/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What an option costs on the client and not only on paper: the mean of its squares over samples of
 * what varies, or the distance that a share of them keeps. A sample is how far the eye is open, 0.8
 * to 1, against the line that is intended at that opening, and for each lash how its pose (pitch,
 * yaw, height) and its turn lie about the given ones, by the standard deviations that a described
 * eye has; all assumed. Openings and turns are stratified: a few values each, met in turn, since a
 * tip's place in its lash depends on the turn alone and need not be computed for every sample.
 */
#include "plan/plan_data.h"

#include <math.h>
#include <string.h>
#include <tipcrest/random.h>

#include "num/memory.h"
#include "num/order.h"
#include "num/range.h"

enum { OPENINGS = 16, TURNS = 32, USE_SAMPLES = 1 };
static const double OPENING_LEAST = 0.8;

static double normal(size_t sample, const tcr_plan_member *m, uint32_t field) {
    const tcr_random draw = {.seed = sample,
                             .lash = (uint32_t)m->lash,
                             .field = field,
                             .eye = (uint32_t)m->side,
                             .use = USE_SAMPLES};
    return tcr_random_normal(&draw);
}

/*
 * Equally likely turns: the normal deviates below which shares of (k + 1/2) / TURNS lie, of the
 * upper half; the lower half mirrors it. Computed by Python's statistics.NormalDist().inv_cdf.
 */
static const double DEVIATE[TURNS / 2] = {
    0.0391760855030976, 0.1177698745790953, 0.1970990842943123, 0.2776904398215768,
    0.3601298917895694, 0.4450965249855163, 0.5334097062412805, 0.6260990123464213,
    0.7245143834923653, 0.8305108782053992, 0.9467817563010456, 1.0775155670402803,
    1.2298587592165890, 1.4177971379962673, 1.6759397227734436, 2.1538746940614555};

static double deviate(size_t k) {
    return k < TURNS / 2 ? -DEVIATE[TURNS / 2 - 1 - k] : DEVIATE[k - TURNS / 2];
}

/* Samples are taken in ranges; a share is told from all samples of a lash at once. */
typedef struct sampling {
    tcr_plan *plan;
    tcr_plan_table *table;
    tcr_description by; /* standard deviations */
    tcr_line line[OPENINGS][TCR_SIDES];
    double opening[OPENINGS], turn[TURNS];
    size_t first, count; /* the present range */
    tcr_stance *stance;  /* of one lash in each sample of the range */
    double *x, *off;     /* where its tip stands in each */
} sampling;

/*
 * Steps coprime to the number of strata, about 0.6 of it: any run of samples is spread over all of
 * them, and OPENINGS x TURNS samples hold each pair of an opening and a turn once.
 */
static size_t opening_of(size_t sample) { return (9 * sample + sample / TURNS) % OPENINGS; }

static double opening_at(size_t i) {
    return OPENING_LEAST + (1.0 - OPENING_LEAST) * ((double)i + 0.5) / OPENINGS;
}

double tcr_plan_opening_of(size_t sample) { return opening_at(opening_of(sample)); }

/* Not all lashes turn alike in a sample. */
static size_t turn_of(size_t sample, size_t member) { return (19 * sample + 7 * member) % TURNS; }

/* A member's stance in a sample. Poses stay inside the ranges of a lash (lash.h). */
static tcr_stance stance_in(const sampling *s, const tcr_plan_member *m, size_t sample) {
    static const double POSE_MOST_RAD = 1.48; /* 84.8 degrees */
    tcr_lash lash = *tcr_set_lash(s->plan->set, m->side, m->lash);
    tcr_looking at = s->plan->at[m->side];
    tcr_sight sight = m->sight;
    at.opening = s->opening[opening_of(sample)];
    lash.pitch_rad += s->by.pitch_sd_rad * normal(sample, m, TCR_FIELD_PITCH);
    lash.pitch_rad = tcr_cut(lash.pitch_rad, -POSE_MOST_RAD, POSE_MOST_RAD);
    lash.yaw_rad += s->by.yaw_sd_rad * normal(sample, m, TCR_FIELD_YAW);
    lash.yaw_rad = tcr_cut(lash.yaw_rad, -POSE_MOST_RAD, POSE_MOST_RAD);
    lash.height_mm += s->by.height_sd_mm * normal(sample, m, TCR_FIELD_HEIGHT);
    tcr_evaluate(&at, &lash, NULL, NULL, TCR_ANEW_ROOT | TCR_ANEW_OPENING, &sight);
    return sight.stance;
}

static tcr_status prepare(sampling *s, size_t range) {
    const tcr_plan *plan = s->plan;
    for (size_t i = 0; i < OPENINGS; i++) {
        tcr_view view = plan->view;
        s->opening[i] = opening_at(i);
        view.opening = s->opening[i];
        const tcr_status status = tcr_plan_lines(plan->set, &view, s->line[i]);
        if (status != TCR_OK)
            return status;
    }
    for (size_t i = 0; i < TURNS; i++)
        s->turn[i] = s->by.turn_sd_rad * deviate(i);
    s->stance = tcr_resize(&plan->allocator, NULL, range, sizeof *s->stance);
    s->x = tcr_resize(&plan->allocator, NULL, range, sizeof *s->x);
    s->off = tcr_resize(&plan->allocator, NULL, range, sizeof *s->off);
    return s->stance != NULL && s->x != NULL && s->off != NULL ? TCR_OK : TCR_E_MEMORY;
}

/* How one lash stands in each sample of the range. */
static void sample_stances(const sampling *s, const tcr_plan_member *m) {
    for (size_t i = 0; i < s->count; i++)
        s->stance[i] = stance_in(s, m, s->first + i);
}

/* Where its tip stands with an option in each sample of the range. */
static void sample_tips(const sampling *s, size_t member, const tcr_choice *choice) {
    const tcr_plan *plan = s->plan;
    const tcr_plan_member *m = &s->table->member[member];
    const tcr_looking *at = &plan->at[m->side];
    tcr_lash lash = *tcr_set_lash(plan->set, m->side, m->lash);
    tcr_sight sight = m->sight;
    const double turn = lash.turn_rad;
    tcr_vec3 tip[TURNS];
    for (size_t i = 0; i < TURNS; i++) {
        lash.turn_rad = tcr_cut(turn + s->turn[i], -1.0, 3.4);
        /* Whether there is bond enough does not depend on the turn. */
        (void)tcr_evaluate_worn(at, plan->set, &lash, choice, TCR_ANEW_ATTACHMENT, &sight);
        tip[i] = sight.attachment.tip;
    }
    for (size_t i = 0; i < s->count; i++) {
        const size_t sample = s->first + i;
        const tcr_vec2 seen = tcr_see(at, &s->stance[i], tip[turn_of(sample, member)]);
        s->x[i] = seen.x;
        s->off[i] = seen.y - tcr_line_at(&s->line[opening_of(sample)][m->side], seen.x);
    }
}

static void add_samples(const sampling *s, tcr_sums *sums) {
    for (size_t i = 0; i < s->count; i++)
        tcr_sums_add(sums, s->x[i], s->off[i]);
}

/* The distance from the line that a share of the samples keeps. Changes the samples. */
static double kept_by(const sampling *s) {
    for (size_t i = 0; i < s->count; i++)
        s->off[i] = fabs(s->off[i]);
    return tcr_quantile(s->off, s->count, s->plan->options.samples_share);
}

/* What the samples of lashes come to, in place of what they are on paper. */
typedef struct outcome {
    tcr_sums *sums; /* of each option, of the range and then of all */
    double *kept;   /* of each option's lashes; NULL where sums are asked for */
} outcome;

/* The options of a cell for one of its lashes; false where it was stopped. */
static bool sample_member(const sampling *s, size_t cell, size_t j, outcome *to) {
    const tcr_plan_table *t = s->table;
    const size_t m = t->member_first[cell] + j;
    const double part = (double)m / (double)t->member_first[t->cells];
    const double done =
        ((double)s->first + part * (double)s->count) / (double)s->plan->options.samples;
    sample_stances(s, &t->member[m]);
    for (size_t option = t->first[cell]; option < t->first[cell + 1]; option++) {
        if (tcr_watch_stops(&s->plan->watch, "samples", done))
            return false;
        sample_tips(s, m, &t->choice[option]);
        if (to->kept != NULL)
            to->kept[t->at[option] + j] = kept_by(s);
        else
            add_samples(s, &to->sums[option]);
    }
    return true;
}

/* Every option of every lash over a range; false where it was stopped. */
static bool go_through(const sampling *s, outcome *to) {
    const tcr_plan_table *t = s->table;
    for (size_t c = 0; c < t->cells; c++)
        for (size_t j = 0; j < t->member_first[c + 1] - t->member_first[c]; j++)
            if (!sample_member(s, c, j, to))
                return false;
    return true;
}

/* Range after range; how many samples were gone through. What was begun and stopped is dropped. */
static size_t go_through_all(sampling *s, size_t range, outcome *to) {
    const size_t samples = s->plan->options.samples, sums = s->table->options;
    for (s->first = 0; s->first < samples; s->first += s->count) {
        s->count = samples - s->first < range ? samples - s->first : range;
        if (to->sums != NULL)
            memset(to->sums, 0, sums * sizeof *to->sums);
        if (!go_through(s, to))
            break;
        for (size_t i = 0; i < sums && to->sums != NULL; i++)
            tcr_sums_join(&to->sums[sums + i], &to->sums[i], 1.0);
    }
    return s->first;
}

/* Room for what is asked for. */
static tcr_status make_room(const tcr_plan *plan, const tcr_plan_table *t, outcome *to) {
    const size_t tips = t->at[t->options - 1] + t->lashes[t->cells - 1];
    const size_t sums = 2 * t->options;
    const tcr_allocator *a = &plan->allocator;
    if (plan->options.objective == TCR_LEAST_SQUARES) {
        to->sums = tcr_resize(a, NULL, sums, sizeof *to->sums);
        if (to->sums != NULL)
            memset(to->sums, 0, sums * sizeof *to->sums);
        return to->sums != NULL ? TCR_OK : TCR_E_MEMORY;
    }
    to->kept = tcr_resize(a, NULL, tips, sizeof *to->kept);
    if (to->kept != NULL) /* cells without members keep theirs */
        memcpy(to->kept, t->off_mm, tips * sizeof *to->kept);
    return to->kept != NULL ? TCR_OK : TCR_E_MEMORY;
}

/* Puts the outcome of the samples into the table, which takes over the kept distances. */
static void take(tcr_plan_table *t, outcome *to, size_t samples) {
    const double share = 1.0 / (double)samples;
    if (to->kept != NULL) {
        t->kept_mm = to->kept;
        to->kept = NULL;
        return;
    }
    const tcr_sums *all = to->sums + t->options;
    for (size_t c = 0; c < t->cells; c++)
        for (size_t i = t->first[c];
             i < t->first[c + 1] && t->member_first[c] < t->member_first[c + 1]; i++) {
            t->sums[i] = (tcr_sums){0};
            tcr_sums_join(&t->sums[i], &all[i], share);
        }
}

void tcr_plan_end_samples(tcr_plan *plan) {
    plan->samples_ended = plan->samples_ended || plan->watch.stopped;
    plan->watch.stopped = false;
}

tcr_status tcr_plan_sample(tcr_plan *plan, tcr_plan_table *table, size_t *samples) {
    enum { RANGE = 2 * OPENINGS * TURNS };
    sampling s = {.plan = plan, .table = table, .by = tcr_description_default()};
    const bool whole = plan->options.objective == TCR_LEAST_MAXIMUM;
    const size_t range =
        whole || plan->options.samples < RANGE ? plan->options.samples : (size_t)RANGE;
    const tcr_allocator *a = &plan->allocator;
    outcome to = {0};
    tcr_status status = prepare(&s, range);
    if (status == TCR_OK)
        status = make_room(plan, table, &to);
    *samples = status == TCR_OK ? go_through_all(&s, range, &to) : 0;
    if (*samples > 0)
        take(table, &to, *samples);
    if (status == TCR_OK)
        tcr_plan_end_samples(plan);
    void *const blocks[] = {s.stance, s.x, s.off, to.sums, to.kept};
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++)
        tcr_release(a, blocks[i]);
    return status;
}
