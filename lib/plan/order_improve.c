/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A working order made better piece by piece. Two neighbouring pieces change places, or a piece is
 * turned round; either opens and joins the sequence at three places at most, so that the cost of
 * changes follows at once, and only where it falls are conflicts looked for, near those places.
 */
#include "plan/order_data.h"

#include <limits.h>

typedef struct improver {
    const tcr_order_problem *p;
    uint16_t *sequence;
    tcr_order_score *score;
    uint64_t *work;
} improver;

static void turn(uint16_t *sequence, size_t from, size_t to) {
    for (; from + 1 < to; from++, to--) {
        const uint16_t swap = sequence[from];
        sequence[from] = sequence[to - 1];
        sequence[to - 1] = swap;
    }
}

/* The pieces from a to b and from b to c change places. */
static void exchange(uint16_t *sequence, size_t a, size_t b, size_t c) {
    turn(sequence, a, b);
    turn(sequence, b, c);
    turn(sequence, a, c);
}

/* Conflicts in two stretches, or in all from the first to the second where they meet. */
static size_t conflicts_in(const improver *m, size_t a, size_t a_end, size_t c, size_t c_end,
                           bool meet) {
    const size_t n = m->p->n;
    if (meet) {
        a_end = c_end;
        c = c_end;
    }
    a_end = a_end < n ? a_end : n;
    c_end = c_end < n ? c_end : n;
    const uint64_t pairs = (a_end - a + (c_end > c ? c_end - c : 0)) * m->p->last + 1;
    *m->work -= *m->work < pairs ? *m->work : pairs;
    return tcr_order_conflicts(m->p, m->sequence, a, a_end) +
           (c < c_end ? tcr_order_conflicts(m->p, m->sequence, c, c_end) : 0);
}

/* What it costs to go from a place to another, n and -1 being none. */
static long change(const improver *m, size_t before, size_t behind) {
    if (before >= m->p->n || behind >= m->p->n)
        return 0;
    return tcr_order_cost(m->p, m->sequence[before], m->sequence[behind]);
}

/* What exchange(a, b, c) saves. */
static long exchange_gain(const improver *m, size_t a, size_t b, size_t c) {
    return change(m, a - 1, a) + change(m, b - 1, b) + change(m, c - 1, c) - change(m, a - 1, b) -
           change(m, c - 1, a) - change(m, b - 1, c);
}

/* Exchanges if that takes conflicts away, or costs less and adds no conflict. */
static bool try_exchange(const improver *m, size_t a, size_t b, size_t c, bool less_conflicts) {
    const long gain = exchange_gain(m, a, b, c);
    if (!less_conflicts && gain <= 0)
        return false;
    const size_t last = m->p->last, left = b - a, right = c - b;
    /* The shorter piece is looked at whole, of the longer one its first lashes. */
    const bool left_whole = left <= right, meet = left_whole ? b + last >= c : a + last >= b;
    const size_t before =
        conflicts_in(m, a, left_whole ? b + last : a + last, left_whole ? c : b, c + last, meet);
    exchange(m->sequence, a, b, c);
    *m->work -= *m->work < (c - a) / 4 ? *m->work : (c - a) / 4;
    const size_t behind = conflicts_in(m, a, left_whole ? a + last : a + right + last,
                                       left_whole ? c - left : c, c + last, meet);
    if (behind < before || (behind == before && gain > 0)) {
        m->score->conflicts -= before - behind;
        m->score->cost -= gain;
        return true;
    }
    exchange(m->sequence, a, a + right, c);
    return false;
}

/* Whether a lash is near none of those that would be close in time, between places to - 1 and to.
 */
static bool fits(const improver *m, size_t at, size_t to) {
    const size_t n = m->p->n, last = m->p->last, lash = m->sequence[at];
    const size_t from = to > last ? to - last : 0, end = to + last < n ? to + last : n;
    for (size_t i = from; i < end; i++)
        if (i != at && tcr_order_near(m->p, lash, m->sequence[i]))
            return false;
    return true;
}

/* A place for a lash, as the pieces that change places. */
typedef struct move {
    long gain;
    size_t to, a, b, c;
} move;

static move move_to(const improver *m, size_t at, size_t to) {
    move way = {.to = to, .a = to, .b = at, .c = at + 1};
    if (to > at)
        way = (move){.to = to, .a = at, .b = at + 1, .c = to};
    way.gain = exchange_gain(m, way.a, way.b, way.c);
    return way;
}

/* A lash to a place between others where it fits, of all such places one that costs least. */
static bool move_lash(const improver *m, size_t at) {
    const size_t n = m->p->n;
    move tried = {.gain = LONG_MAX};
    while (*m->work > 0) {
        move best = {.gain = LONG_MIN};
        for (size_t to = 0; to <= n && *m->work > 0; to++) {
            if (to == at || to == at + 1)
                continue;
            const move way = move_to(m, at, to);
            const bool is_new =
                way.gain < tried.gain || (way.gain == tried.gain && way.to > tried.to);
            if (!is_new || way.gain <= best.gain)
                continue;
            *m->work -= *m->work < m->p->last ? *m->work : m->p->last;
            if (fits(m, at, to))
                best = way;
        }
        if (best.gain == LONG_MIN)
            return false;
        if (try_exchange(m, best.a, best.b, best.c, true))
            return true;
        tried = best;
    }
    return false;
}

static bool mend(const improver *m) {
    bool better = false;
    for (size_t i = 0; i < m->p->n && m->score->conflicts > 0 && *m->work > 0; i++)
        if (tcr_order_conflicts(m->p, m->sequence, i, i + 1) > 0)
            better = move_lash(m, i) || better;
    return better;
}

static size_t run_end(const improver *m, size_t from) {
    size_t end = from + 1;
    while (end < m->p->n && !change(m, from, end))
        end++;
    return end;
}

/* Lashes that follow each other at no cost, to where others like them are. */
static bool move_runs(const improver *m) {
    bool better = false;
    const size_t n = m->p->n;
    for (size_t from = 0, end; from<n && * m->work> 0; from = end) {
        end = run_end(m, from);
        bool moved = false;
        for (size_t to = 0; to < from && !moved && *m->work > 0; to++)
            moved = try_exchange(m, to, from, end, false);
        for (size_t to = end + 1; to <= n && !moved && *m->work > 0; to++)
            moved = try_exchange(m, from, end, to, false);
        better = better || moved;
    }
    return better;
}

/* Pieces turned round, in an order without conflicts: none arises within them. */
static bool turn_pieces(const improver *m) {
    bool better = false;
    const size_t n = m->p->n, last = m->p->last;
    for (size_t a = 0; a<n && * m->work> 0; a = run_end(m, a))
        for (size_t b = run_end(m, a); b <= n && *m->work > 0; b = b < n ? run_end(m, b) : n + 1) {
            const long gain = change(m, a - 1, a) + change(m, b - 1, b) - change(m, a - 1, b - 1) -
                              change(m, a, b);
            --*m->work;
            if (gain <= 0)
                continue;
            turn(m->sequence, a, b);
            if (conflicts_in(m, a, a + last, b, b + last, a + last >= b) > 0) {
                turn(m->sequence, a, b);
                continue;
            }
            m->score->cost -= gain;
            better = true;
        }
    return better;
}

void tcr_order_improve(const tcr_order_problem *p, uint64_t *work, uint16_t *sequence,
                       tcr_order_score *score) {
    const improver m = {p, sequence, score, work};
    for (bool better = true; better && *work > 0;) {
        better = score->conflicts > 0 && mend(&m);
        better = move_runs(&m) || better;
        if (score->conflicts == 0)
            better = turn_pieces(&m) || better;
    }
}
