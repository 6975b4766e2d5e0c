/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The working order: first what can be proved, then sequences built lash by lash with different
 * weights and bettered. Measured on two eyes of 30 to 150 described lashes, strides along the line
 * and trying every order, when these find nothing, added nothing.
 */
#include "plan/order.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#include "num/memory.h"
#include "num/order.h"
#include "plan/order_data.h"

/* Nearer than a distance by less than this is not near: 3 x 0.1 is not 0.3. */
static const double SLACK_MM = 1e-9;

/* Limits on the work, so that some hundreds of lashes take milliseconds. */
enum { ATTEMPTS = 18, BUILD_WORK = 4000000, IMPROVE_WORK = 250000 };

size_t tcr_order_conflicts(const tcr_order_problem *p, const uint16_t *sequence, size_t from,
                           size_t to) {
    size_t conflicts = 0;
    for (size_t i = from; i < to && i < p->n; i++)
        for (size_t k = 1; k <= p->last && k <= i; k++)
            if (tcr_order_near(p, sequence[i], sequence[i - k])) {
                conflicts++;
                break;
            }
    return conflicts;
}

tcr_order_score tcr_order_score_of(const tcr_order_problem *p, const uint16_t *sequence) {
    tcr_order_score score = {tcr_order_conflicts(p, sequence, 0, p->n), 0};
    for (size_t i = 1; i < p->n; i++)
        score.cost += tcr_order_cost(p, sequence[i - 1], sequence[i]);
    return score;
}

/* ---- The problem in numbers ---------------------------------------------------------------------
 */

/* All memory of a call; what the problem points to is written here. */
typedef struct memory {
    uint16_t *words; /* row, line, sequence, best, scratch: n each */
    uint8_t *bits;
    uint32_t *first;
    uint16_t *near;
} memory;

/* By eye and x. */
static bool comes_before(const void *a, const void *b, const void *lashes) {
    const tcr_order_lash *one = (const tcr_order_lash *)lashes + *(const uint16_t *)a;
    const tcr_order_lash *other = (const tcr_order_lash *)lashes + *(const uint16_t *)b;
    return one->eye != other->eye ? one->eye < other->eye : one->x_mm < other->x_mm;
}

static void sort_line(const tcr_order_lash *lash, size_t n, uint16_t *line) {
    for (size_t i = 0; i < n; i++)
        line[i] = (uint16_t)i;
    tcr_sort_items(line, n, sizeof *line, comes_before, lash);
}

/* Rows numbered by where they first come. */
static size_t number_rows(const tcr_order_lash *lash, size_t n, uint16_t *row, uint16_t *first_of) {
    size_t rows = 0;
    for (size_t i = 0; i < n; i++) {
        size_t r = 0;
        while (r < rows && lash[first_of[r]].row != lash[i].row)
            r++;
        if (r == rows)
            first_of[rows++] = (uint16_t)i;
        row[i] = (uint16_t)r;
    }
    return rows;
}

static void find_near(const tcr_order_problem *p, uint8_t *bits) {
    const double limit = p->distance_mm - SLACK_MM;
    for (size_t i = 0; i < p->n; i++) {
        const size_t a = p->line[i], eye_end = i < p->second_eye ? p->second_eye : p->n;
        for (size_t j = i + 1; j < eye_end; j++) {
            const size_t b = p->line[j];
            const double dx = p->lash[b].x_mm - p->lash[a].x_mm;
            if (!(dx < limit))
                break;
            const double dy = p->lash[b].y_mm - p->lash[a].y_mm;
            if (sqrt(dx * dx + dy * dy) < limit) {
                bits[(a * p->n + b) / 8] |= (uint8_t)(1U << ((a * p->n + b) % 8));
                bits[(b * p->n + a) / 8] |= (uint8_t)(1U << ((b * p->n + a) % 8));
            }
        }
    }
}

static tcr_status list_near(const tcr_order_problem *p, const tcr_allocator *allocator, memory *m) {
    for (int pass = 0; pass < 2; pass++) {
        uint32_t count = 0;
        for (size_t i = 0; i < p->n; i++) {
            m->first[i] = count;
            for (size_t j = 0; j < p->n; j++)
                if (tcr_order_near(p, i, j)) {
                    if (pass == 1)
                        m->near[count] = (uint16_t)j;
                    count++;
                }
        }
        m->first[p->n] = count;
        if (pass == 0 && (m->near = tcr_resize(allocator, NULL, count, sizeof *m->near)) == NULL)
            return TCR_E_MEMORY;
    }
    return TCR_OK;
}

enum { OWN_WORDS = 4 }; /* of n each, before the scratch */

static tcr_status set_up(tcr_order_problem *p, const tcr_allocator *allocator, memory *m) {
    const size_t n = p->n, bytes = n * n / 8 + 1;
    m->words = tcr_resize(allocator, NULL, (OWN_WORDS + TCR_ORDER_SCRATCH) * n, sizeof *m->words);
    m->bits = tcr_resize(allocator, NULL, bytes, 1);
    m->first = tcr_resize(allocator, NULL, n + 1, sizeof *m->first);
    if (m->words == NULL || m->bits == NULL || m->first == NULL)
        return TCR_E_MEMORY;
    memset(m->bits, 0, bytes);
    p->scratch = m->words + OWN_WORDS * n;
    p->rows = number_rows(p->lash, n, m->words, p->scratch);
    sort_line(p->lash, n, m->words + n);
    p->row = m->words;
    p->line = m->words + n;
    while (p->second_eye < n && p->lash[p->line[p->second_eye]].eye == 0)
        p->second_eye++;
    p->near_bit = m->bits;
    find_near(p, m->bits);
    const tcr_status status = list_near(p, allocator, m);
    p->first = m->first;
    p->near = m->near;
    return status;
}

static void count_changes(const tcr_order_problem *p, const uint16_t *sequence, tcr_order *order) {
    for (size_t i = 1; i < p->n; i++) {
        order->changes += p->row[sequence[i]] != p->row[sequence[i - 1]];
        order->eye_changes += p->lash[sequence[i]].eye != p->lash[sequence[i - 1]].eye;
    }
}

/* ---- The search ---------------------------------------------------------------------------------
 */

typedef struct search {
    const tcr_order_problem *p;
    uint16_t *sequence, *best;
    tcr_order_score score;
    tcr_watch *watch;
} search;

/* Betters what stands in sequence and keeps it if it is the best so far. */
static void consider(search *s) {
    uint64_t work = IMPROVE_WORK;
    tcr_order_score score = tcr_order_score_of(s->p, s->sequence);
    tcr_order_improve(s->p, &work, s->sequence, &score);
    if (tcr_order_better(score, s->score)) {
        s->score = score;
        memcpy(s->best, s->sequence, s->p->n * sizeof *s->best);
    }
}

/* Two eyes take one change of eye at least. */
static bool is_best_possible(const search *s, const tcr_order *order) {
    const tcr_order_problem *p = s->p;
    const bool both = p->second_eye > 0 && p->second_eye < p->n;
    return s->score.conflicts == 0 &&
           s->score.cost <= (long)order->least_changes * p->row_cost + (both ? p->eye_cost : 0);
}

/* ---- One eye after the other -------------------------------------------------------------------
 */

/* The orders of both eyes by themselves, joined where it costs least; each may run backwards, which
 * keeps its distances. part[e]: of eye e. */
static void join(search *s, const uint16_t *const part[2], const size_t count[2]) {
    const tcr_order_problem *p = s->p;
    long least = LONG_MAX;
    int best = 0;
    for (int way = 0; way < 8; way++) { /* bits: which eye is first, and which runs backwards */
        const int first = way & 1, second = 1 - first;
        const size_t end = way & 2 ? 0 : count[first] - 1, begin = way & 4 ? count[second] - 1 : 0;
        const long cost = tcr_order_cost(p, part[first][end], part[second][begin]);
        if (cost < least) {
            least = cost;
            best = way;
        }
    }
    size_t at = 0;
    for (int k = 0; k < 2; k++) {
        const int eye = k == 0 ? best & 1 : 1 - (best & 1);
        const bool backwards = (best & (k == 0 ? 2 : 4)) != 0;
        for (size_t i = 0; i < count[eye]; i++)
            s->sequence[at++] = part[eye][backwards ? count[eye] - 1 - i : i];
    }
}

/* Considers the order in which an eye is finished before the other begins. */
static tcr_status eye_by_eye(search *s, const tcr_allocator *allocator) {
    const tcr_order_problem *p = s->p;
    const size_t count[2] = {p->second_eye, p->n - p->second_eye};
    if (count[0] == 0 || count[1] == 0 || p->eye_cost == 0)
        return TCR_OK;
    tcr_order_lash *lash = tcr_resize(allocator, NULL, p->n, sizeof *lash);
    size_t *found = tcr_resize(allocator, NULL, p->n, sizeof *found);
    uint16_t *part = tcr_resize(allocator, NULL, p->n, sizeof *part);
    tcr_status status = lash != NULL && found != NULL && part != NULL ? TCR_OK : TCR_E_MEMORY;
    for (size_t eye = 0; eye < 2 && status == TCR_OK; eye++) {
        const size_t from = eye == 0 ? 0 : p->second_eye;
        tcr_order ignored;
        for (size_t i = 0; i < count[eye]; i++)
            lash[i] = p->lash[p->line[from + i]];
        status = tcr_order_find(lash, count[eye], p->distance_mm, p->last, NULL, NULL, allocator,
                                found, &ignored);
        status = status == TCR_E_NO_SOLUTION ? TCR_OK : status;
        for (size_t i = 0; i < count[eye] && status == TCR_OK; i++)
            part[from + i] = p->line[from + found[i]];
    }
    if (status == TCR_OK) {
        join(s, (const uint16_t *const[]){part, part + p->second_eye}, count);
        consider(s);
    }
    tcr_release(allocator, lash);
    tcr_release(allocator, found);
    tcr_release(allocator, part);
    return status;
}

static void build_some(search *s, const tcr_order *order) {
    const size_t n = s->p->n;
    uint64_t work = BUILD_WORK;
    for (uint32_t attempt = 0; attempt < ATTEMPTS && work > 0 && !is_best_possible(s, order);
         attempt++) {
        const bool stops = tcr_watch_stops(s->watch, "order", (double)attempt / ATTEMPTS);
        if (stops && attempt > 0)
            break;
        tcr_order_build(s->p, attempt, s->sequence);
        work -= work < n * n ? work : n * n;
        /* To mend a conflict takes a change or two. */
        const tcr_order_score score = tcr_order_score_of(s->p, s->sequence);
        if (s->score.conflicts > 0 ||
            (long)score.conflicts * s->p->row_cost + score.cost < 2 * s->score.cost)
            consider(s);
    }
}

/* Searches, and writes what was found. */
static tcr_status conclude(search *s, size_t *sequence, tcr_order *order) {
    tcr_order_bound(s->p, order);
    build_some(s, order);
    order->conflicts = s->score.conflicts;
    count_changes(s->p, s->best, order);
    for (size_t i = 0; i < s->p->n; i++)
        sequence[i] = s->best[i];
    return order->conflicts == 0 ? TCR_OK : TCR_E_NO_SOLUTION;
}

static bool is_cost(double seconds) { return seconds >= 0.0 && seconds <= 1e6; }

static tcr_status check(const tcr_order_lash *lashes, size_t n, double distance_mm,
                        const tcr_order_costs *costs, const size_t *sequence,
                        const tcr_order *order) {
    if (order == NULL || n > TCR_ORDER_MOST || (n > 0 && (lashes == NULL || sequence == NULL)))
        return TCR_E_ARGUMENT;
    if (!isfinite(distance_mm) || !(distance_mm > 0.0) || !is_cost(costs->row_s) ||
        !is_cost(costs->eye_s))
        return TCR_E_RANGE;
    for (size_t i = 0; i < n; i++) {
        if (lashes[i].eye != 0 && lashes[i].eye != 1)
            return TCR_E_ARGUMENT;
        if (!isfinite(lashes[i].x_mm) || !isfinite(lashes[i].y_mm))
            return TCR_E_RANGE;
    }
    return TCR_OK;
}

tcr_status tcr_order_find(const tcr_order_lash *lashes, size_t n, double distance_mm, size_t last,
                          const tcr_order_costs *costs, tcr_watch *watch,
                          const tcr_allocator *allocator, size_t *sequence, tcr_order *order) {
    static const tcr_order_costs ROWS_ALONE = {.row_s = 1};
    tcr_allocator a;
    costs = costs != NULL ? costs : &ROWS_ALONE;
    tcr_status status = check(lashes, n, distance_mm, costs, sequence, order);
    if (status == TCR_OK)
        status = tcr_allocator_choose(allocator, &a);
    if (status != TCR_OK)
        return status;
    if (n == 0) {
        *order = (tcr_order){0};
        return TCR_OK;
    }
    memory m = {0};
    tcr_order_problem p = {
        .lash = lashes, .n = n, .last = last < n ? last : n - 1, .distance_mm = distance_mm};
    p.row_cost = lround(fmax(1.0, 1000.0 * costs->row_s));
    p.eye_cost = lround(1000.0 * costs->eye_s);
    status = set_up(&p, &a, &m);
    if (status == TCR_OK) {
        search s = {&p, m.words + 2 * n, m.words + 3 * n, {SIZE_MAX, LONG_MAX / 2}, watch};
        status = eye_by_eye(&s, &a);
        if (status == TCR_OK)
            status = conclude(&s, sequence, order);
    }
    tcr_release(&a, m.words);
    tcr_release(&a, m.bits);
    tcr_release(&a, m.first);
    tcr_release(&a, m.near);
    return status;
}

tcr_status tcr_order_still_soft(double setting_s, double pace_s, size_t *last) {
    if (last == NULL)
        return TCR_E_ARGUMENT;
    if (!isfinite(setting_s) || !isfinite(pace_s) || setting_s < 0.0 || !(pace_s > 0.0))
        return TCR_E_RANGE;
    /* The k-th before was placed k pace_s ago; a quotient that is whole but for rounding is whole.
     */
    const double lashes = ceil(setting_s / pace_s * (1.0 - 1e-12)) - 1.0;
    if (!(lashes <= 1e6))
        return TCR_E_RANGE;
    *last = lashes > 0.0 ? (size_t)lashes : 0;
    return TCR_OK;
}
