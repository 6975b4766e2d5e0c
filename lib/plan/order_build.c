/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Working orders to begin with, lash by lash by weights. */
#include <math.h>
#include <string.h>

#include <tipcrest/random.h>

#include "plan/order_data.h"

/* What speaks for a lash that may be placed next. */
typedef struct weights {
    double same;   /* it is in the row at hand */
    double plenty; /* many lashes of its row could be placed now: a share */
    double crowd;  /* many lashes near it are still to come: a share */
    double kin;    /* many of them in its row: a share */
    double chance; /* a number from 0 to 1 */
    double urgent; /* it is put off no longer from this urgency on, see pick */
    double eye;    /* it is of the eye at hand; not in the table, see eye_weight */
} weights;

/* What speaks for a lash of the eye at hand, of what speaks for one of the row at hand: in the
 * first attempts what a change of eye costs against one of row, at most MOST_EYE; then nothing. */
static const double MOST_EYE = 8.0;
static double eye_weight(const tcr_order_problem *p, uint32_t attempt, double same,
                         size_t attempts) {
    const double cost = (double)p->eye_cost / (double)p->row_cost;
    return attempt < attempts ? same * (cost < MOST_EYE ? cost : MOST_EYE) : 0.0;
}

/*
 * Chosen by trial on sets of 70 to 400 lashes an eye: how long a row may be kept while others crowd
 * differs from set to set, so that several limits are tried; the last weighs crowds alone.
 */
static const weights WEIGHTS[] = {
    {8.0, 2.0, 1.0, 1.0, 0.0, 0.7, 0.0}, {8.0, 2.0, 1.0, 1.0, 0.0, 0.9, 0.0},
    {8.0, 2.0, 1.0, 1.0, 0.0, 0.5, 0.0}, {8.0, 2.0, 1.0, 1.0, 0.0, 1e9, 0.0},
    {8.0, 1.0, 1.0, 2.0, 0.3, 0.8, 0.0}, {8.0, 2.0, 1.0, 1.0, 0.0, 1.2, 0.0},
    {8.0, 2.0, 2.0, 0.0, 0.3, 0.6, 0.0}, {8.0, 2.0, 1.0, 1.0, 0.3, 0.4, 0.0},
    {0.0, 0.0, 1.0, 0.0, 0.0, 1e9, 0.0},
};
static const double URGENT = 10.0; /* more than all else together */

typedef struct builder {
    const tcr_order_problem *p;
    uint16_t *left;    /* lashes still to come */
    uint16_t *blocked; /* of each: the last few that it is near */
    uint16_t *crowd;   /* of each: lashes to come that are near it */
    uint16_t *kin;     /* those of them in its row */
    uint16_t *plenty;  /* of each row: lashes to come that are not blocked */
    double most_crowd; /* at the start */
} builder;

static void start(builder *b) {
    const tcr_order_problem *p = b->p;
    b->left = p->scratch;
    b->blocked = b->left + p->n;
    b->crowd = b->blocked + p->n;
    b->kin = b->crowd + p->n;
    b->plenty = b->kin + p->n;
    memset(b->blocked, 0, 4 * p->n * sizeof *b->blocked);
    b->most_crowd = 1.0;
    for (size_t i = 0; i < p->n; i++) {
        b->left[i] = (uint16_t)i;
        b->crowd[i] = (uint16_t)(p->first[i + 1] - p->first[i]);
        b->most_crowd = b->crowd[i] > b->most_crowd ? b->crowd[i] : b->most_crowd;
        for (uint32_t k = p->first[i]; k < p->first[i + 1]; k++)
            b->kin[i] = (uint16_t)(b->kin[i] + (p->row[p->near[k]] == p->row[i]));
        b->plenty[p->row[i]]++;
    }
}

static void place(builder *b, size_t lash) {
    const tcr_order_problem *p = b->p;
    if (b->blocked[lash] == 0)
        b->plenty[p->row[lash]]--;
    b->crowd[lash] = UINT16_MAX; /* marks it as placed */
    for (uint32_t k = p->first[lash]; k < p->first[lash + 1]; k++) {
        const size_t other = p->near[k];
        if (b->crowd[other] == UINT16_MAX)
            continue;
        b->crowd[other]--;
        b->kin[other] = (uint16_t)(b->kin[other] - (p->row[other] == p->row[lash]));
        if (b->blocked[other]++ == 0)
            b->plenty[p->row[other]]--;
    }
}

/* Its adhesive has set. */
static void let_go(builder *b, size_t lash) {
    const tcr_order_problem *p = b->p;
    for (uint32_t k = p->first[lash]; k < p->first[lash + 1]; k++) {
        const size_t other = p->near[k];
        if (b->crowd[other] != UINT16_MAX && --b->blocked[other] == 0)
            b->plenty[p->row[other]]++;
    }
}

/* A number from 0 to 1 for a lash in an attempt. */
static double chance(size_t lash, uint32_t attempt) {
    const uint32_t counter[4] = {(uint32_t)lash, attempt, 0, 0}, key[2] = {0x6f726465, 0x72};
    uint32_t words[4];
    tcr_philox(counter, key, words);
    return (double)words[0] / 4294967296.0;
}

/*
 * Urgency: of the lashes near one about half lie all near each other, on either side of it. Between
 * each two of them others must come, last of them; urgency is the lashes this takes over those that
 * are left.
 */
static size_t pick(const builder *b, const weights *w, uint32_t attempt, size_t left,
                   const uint16_t *before) {
    const tcr_order_problem *p = b->p;
    const double urgency = (double)(p->last + 1) / (2.0 * (double)left);
    size_t best = 0;
    double most = -1e300;
    for (size_t i = 0; i < left; i++) {
        const size_t lash = b->left[i];
        double value = -100.0 * b->blocked[lash];
        if (b->blocked[lash] > 0 && value < most)
            continue;
        if (before != NULL && p->lash[lash].eye == p->lash[*before].eye)
            value += w->eye;
        value += before != NULL && p->row[lash] == p->row[*before]
                     ? w->same
                     : w->plenty * b->plenty[p->row[lash]] / (double)left;
        value += (w->crowd * b->crowd[lash] + w->kin * b->kin[lash]) / b->most_crowd;
        const double urgent = urgency * b->crowd[lash];
        if (urgent > w->urgent)
            value += URGENT + urgent;
        if (w->chance > 0.0 && value + w->chance > most)
            value += w->chance * chance(lash, attempt);
        if (value > most) {
            most = value;
            best = i;
        }
    }
    return best;
}

void tcr_order_build(const tcr_order_problem *p, uint32_t attempt, uint16_t *sequence) {
    builder b = {.p = p};
    enum { KINDS = sizeof WEIGHTS / sizeof *WEIGHTS };
    weights w = WEIGHTS[attempt % KINDS];
    w.eye = eye_weight(p, attempt, fmax(w.same, 1.0), KINDS);
    start(&b);
    for (size_t at = 0; at < p->n; at++) {
        const size_t left = p->n - at,
                     i = pick(&b, &w, attempt, left, at > 0 ? &sequence[at - 1] : NULL);
        const uint16_t lash = b.left[i];
        b.left[i] = b.left[left - 1];
        sequence[at] = lash;
        if (p->last == 0) /* then nothing ever blocks */
            continue;
        place(&b, lash);
        if (at >= p->last)
            let_go(&b, sequence[at - p->last]);
    }
}
