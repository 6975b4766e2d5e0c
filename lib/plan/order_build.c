/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Working orders to begin with: lash by lash by weights, by strides along the line, and all. */
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
} weights;

/*
 * Chosen by trial on sets of 70 to 400 lashes an eye: how long a row may be kept while others crowd
 * differs from set to set, so that several limits are tried; the last weighs crowds alone.
 */
static const weights WEIGHTS[] = {
    {8.0, 2.0, 1.0, 1.0, 0.0, 0.7}, {8.0, 2.0, 1.0, 1.0, 0.0, 0.9}, {8.0, 2.0, 1.0, 1.0, 0.0, 0.5},
    {8.0, 2.0, 1.0, 1.0, 0.0, 1e9}, {8.0, 1.0, 1.0, 2.0, 0.3, 0.8}, {8.0, 2.0, 1.0, 1.0, 0.0, 1.2},
    {8.0, 2.0, 2.0, 0.0, 0.3, 0.6}, {8.0, 2.0, 1.0, 1.0, 0.3, 0.4}, {0.0, 0.0, 1.0, 0.0, 0.0, 1e9},
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
static size_t pick(const builder *b, const weights *w, uint32_t attempt, size_t left, size_t row) {
    const tcr_order_problem *p = b->p;
    const double urgency = (double)(p->last + 1) / (2.0 * (double)left);
    size_t best = 0;
    double most = -1e300;
    for (size_t i = 0; i < left; i++) {
        const size_t lash = b->left[i];
        double value = -100.0 * b->blocked[lash];
        if (b->blocked[lash] > 0 && value < most)
            continue;
        value += p->row[lash] == row ? w->same : w->plenty * b->plenty[p->row[lash]] / (double)left;
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
    const weights *w = &WEIGHTS[attempt % (sizeof WEIGHTS / sizeof *WEIGHTS)];
    start(&b);
    size_t row = p->rows;
    for (size_t at = 0; at < p->n; at++) {
        const size_t left = p->n - at, i = pick(&b, w, attempt, left, row);
        const uint16_t lash = b.left[i];
        b.left[i] = b.left[left - 1];
        sequence[at] = lash;
        row = p->row[lash];
        if (p->last == 0) /* then nothing ever blocks */
            continue;
        place(&b, lash);
        if (at >= p->last)
            let_go(&b, sequence[at - p->last]);
    }
}

/* ---- Strides ------------------------------------------------------------------------------------
 */

static size_t stride_through(const uint16_t *line, size_t m, size_t stride, uint16_t *sequence) {
    size_t at = 0;
    for (size_t start_at = stride < m ? stride : m; start_at-- > 0;)
        for (size_t i = start_at; i < m; i += stride)
            sequence[at++] = line[i];
    return at;
}

void tcr_order_stride(const tcr_order_problem *p, size_t stride, bool by_turns,
                      uint16_t *sequence) {
    if (!by_turns) {
        (void)stride_through(p->line, p->n, stride, sequence);
        return;
    }
    uint16_t *own = p->scratch;
    const size_t a = p->second_eye, b = p->n - a;
    (void)stride_through(p->line, a, stride, own);
    (void)stride_through(p->line + a, b, stride, own + a);
    size_t i = 0, j = 0;
    for (size_t at = 0; at < p->n; at++) /* the eye that is behind its share */
        sequence[at] = j == b || (i < a && i * b <= j * a) ? own[i++] : own[a + j++];
}

/* ---- All ----------------------------------------------------------------------------------------
 */

typedef struct trial {
    const tcr_order_problem *p;
    uint16_t *by_crowd;    /* lashes, those with most lashes near them first */
    uint16_t *next;        /* of each place: where in by_crowd to go on */
    uint16_t *taken;       /* of each lash */
    uint16_t *left_in_row; /* of each row: lashes to come */
    uint16_t *at;          /* the sequence so far */
    uint16_t *changes;     /* of each place: up to it */
    size_t rows_left;      /* rows with lashes to come */
} trial;

static void begin_trial(trial *t) {
    const tcr_order_problem *p = t->p;
    uint16_t **const fields[] = {&t->by_crowd,    &t->next, &t->taken,
                                 &t->left_in_row, &t->at,   &t->changes};
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
        *fields[i] = p->scratch + i * p->n;
    memset(p->scratch, 0, 6 * p->n * sizeof *p->scratch);
    for (size_t i = 0; i < p->n; i++) {
        const uint32_t degree = p->first[i + 1] - p->first[i];
        size_t k = i;
        for (; k > 0; k--) {
            const size_t other = t->by_crowd[k - 1];
            if (p->first[other + 1] - p->first[other] >= degree)
                break;
            t->by_crowd[k] = t->by_crowd[k - 1];
        }
        t->by_crowd[k] = (uint16_t)i;
        t->left_in_row[p->row[i]]++;
    }
    t->rows_left = p->rows;
}

static void take_back(trial *t, size_t lash) {
    t->taken[lash] = 0;
    t->rows_left += t->left_in_row[t->p->row[lash]]++ == 0;
}

static void take(trial *t, size_t depth, size_t lash, size_t changes) {
    t->at[depth] = (uint16_t)lash;
    t->changes[depth] = (uint16_t)changes;
    t->taken[lash] = 1;
    t->rows_left -= --t->left_in_row[t->p->row[lash]] == 0;
}

/* Whether a lash may come at a place and the whole can still be better than 'best'. */
static bool may_come(trial *t, size_t depth, size_t lash, tcr_order_score best, size_t *changes) {
    const tcr_order_problem *p = t->p;
    if (t->taken[lash])
        return false;
    *changes = 0;
    if (depth > 0)
        *changes = t->changes[depth - 1] + (size_t)(p->row[t->at[depth - 1]] != p->row[lash]);
    /* Every row with lashes to come but this one takes a change more. */
    const size_t to_come = t->rows_left - 1;
    if (best.conflicts == 0 && *changes + to_come >= best.changes)
        return false;
    for (size_t k = 1; k <= p->last && k <= depth; k++)
        if (tcr_order_near(p, lash, t->at[depth - k]))
            return false;
    return true;
}

bool tcr_order_try_all(const tcr_order_problem *p, size_t least_changes, uint64_t *work,
                       uint16_t *sequence, tcr_order_score *best) {
    trial t = {.p = p};
    begin_trial(&t);
    for (size_t depth = 0; *work > 0; --*work) {
        if (best->conflicts == 0 && best->changes <= least_changes)
            return true;
        if (t.next[depth] == p->n) { /* back to the place before */
            if (depth == 0)
                return true;
            depth--;
            take_back(&t, t.at[depth]);
            continue;
        }
        const size_t lash = t.by_crowd[t.next[depth]++];
        size_t changes;
        if (!may_come(&t, depth, lash, *best, &changes))
            continue;
        take(&t, depth, lash, changes);
        if (depth + 1 < p->n) {
            t.next[++depth] = 0;
            continue;
        }
        *best = (tcr_order_score){0, changes};
        memcpy(sequence, t.at, p->n * sizeof *sequence);
        take_back(&t, lash);
    }
    return false;
}
