/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Choice and line at once. For a given line the best choice is tcr_assign_solve's; what is left are
 * two numbers, how far the line moves at its two ends, a and b, over which boxes are bounded and
 * cut in two. A tip at X is moved by a p + b q, p = (X1 - X) / (X1 - X0), q = (X - X0) / (X1 - X0).
 *
 * Least squares: an option costs a convex quadratic q(a, b). At the centre p0 of a box the best
 * choice has gradients g_c, and for any choice the cost is
 *
 *     sum_c [q_c(p) - g_c (p - p0)] + (sum_c g_c) (p - p0).
 *
 * Each bracket is bounded alone, by its least value in the box, and the best choice for those
 * bounds is a lower bound for the box. For the choice that is best at the centre the brackets are
 * flat there, so that the bound is good to second order in the box's size, as the cost itself is
 * about its least value; without the multipliers it would be good to first order, and the boxes
 * about the least value without number (the cluster effect: Du & Kearfott 1994, Journal of Global
 * Optimization 5:253).
 *
 * Largest deviation: it rises by no more than |p| |da| + |q| |db|, which bounds each option in the
 * box.
 */
#include "plan/free.h"

#include <math.h>
#include <string.h>

#include "num/memory.h"
#include "plan/strip.h"

/* Proved when the bound comes this close, as a share of the total, or in mm2 or mm. */
static const double CLOSE_SHARE = 1e-9, CLOSE_MM = 1e-9;
enum { BOXES_MOST = 1000000 };

/* f - 2 da a - 2 db b + aa a^2 + 2 ab a b + bb b^2 */
typedef struct quadratic {
    double f, da, db, aa, ab, bb;
} quadratic;

typedef struct box {
    double a, b, half_a, half_b, bound;
} box;

typedef struct solver {
    const tcr_free *problem;
    const tcr_allocator *allocator;
    size_t cells; /* with the fixed ones */
    size_t options;
    quadratic *q;  /* of each option; NULL for the largest deviation */
    double *cost;  /* of each option, scratch */
    double *x, *y; /* scratch over the lashes of all cells */
    size_t *choice, *best;
    double x0, x1; /* of the line's ends */
    double best_a, best_b;
    double any_lengths; /* a bound: of the problem without a limit on the number of lengths */
    tcr_free_result result;
    box *heap; /* by bound, the least on top */
    size_t open, capacity;
} solver;

/* ---- Quadratics ---------------------------------------------------------------------- */

void tcr_sums_add(tcr_sums *sums, double x_mm, double off_mm) {
    sums->n += 1.0;
    sums->x += x_mm;
    sums->xx += x_mm * x_mm;
    sums->off += off_mm;
    sums->off_x += off_mm * x_mm;
    sums->off_off += off_mm * off_mm;
}

void tcr_sums_join(tcr_sums *sums, const tcr_sums *others, double share) {
    sums->n += share * others->n;
    sums->x += share * others->x;
    sums->xx += share * others->xx;
    sums->off += share * others->off;
    sums->off_x += share * others->off_x;
    sums->off_off += share * others->off_off;
}

/* From sums over x to sums over p and q. */
static quadratic quadratic_of(const tcr_sums *s, double x0, double x1) {
    const double d = x1 - x0;
    return (quadratic){
        .f = s->off_off,
        .da = (x1 * s->off - s->off_x) / d,
        .db = (s->off_x - x0 * s->off) / d,
        .aa = (x1 * x1 * s->n - 2.0 * x1 * s->x + s->xx) / (d * d),
        .ab = ((x0 + x1) * s->x - x0 * x1 * s->n - s->xx) / (d * d),
        .bb = (x0 * x0 * s->n - 2.0 * x0 * s->x + s->xx) / (d * d),
    };
}

static quadratic sum_of(quadratic p, quadratic q) {
    return (quadratic){p.f + q.f, p.da + q.da, p.db + q.db, p.aa + q.aa, p.ab + q.ab, p.bb + q.bb};
}

static double value_at(const quadratic *q, double a, double b) {
    return q->f + a * (q->aa * a + 2.0 * q->ab * b - 2.0 * q->da) + b * (q->bb * b - 2.0 * q->db);
}

static double clip(double value, double low, double high) { return fmin(fmax(value, low), high); }

/* The least value on the box's edge where one coordinate is held. */
static double least_on_edge(double f, double slope, double curvature, double low, double high) {
    const double at = curvature > 0.0 ? clip(-slope / (2.0 * curvature), low, high)
                      : slope > 0.0   ? low
                                      : high;
    return f + at * (slope + curvature * at);
}

/*
 * Least value over the box. Inside where the whole least value lies there; else on an edge, also
 * where it is a valley without an end, which cannot cross the box without crossing an edge.
 */
static double least_in(const quadratic *q, const box *in, double *at_a, double *at_b) {
    const double det = q->aa * q->bb - q->ab * q->ab;
    if (det > 1e-12 * q->aa * q->bb) {
        const double a = (q->da * q->bb - q->db * q->ab) / det;
        const double b = (q->db * q->aa - q->da * q->ab) / det;
        if (fabs(a - in->a) <= in->half_a && fabs(b - in->b) <= in->half_b) {
            if (at_a != NULL) {
                *at_a = a;
                *at_b = b;
            }
            return value_at(q, a, b);
        }
    }
    double least = INFINITY;
    for (int side = -1; side <= 1; side += 2) {
        const double a = in->a + side * in->half_a, b = in->b + side * in->half_b;
        const double along_b =
            least_on_edge(q->f + a * (q->aa * a - 2.0 * q->da), 2.0 * (q->ab * a - q->db), q->bb,
                          in->b - in->half_b, in->b + in->half_b);
        const double along_a =
            least_on_edge(q->f + b * (q->bb * b - 2.0 * q->db), 2.0 * (q->ab * b - q->da), q->aa,
                          in->a - in->half_a, in->a + in->half_a);
        if (at_a != NULL && along_b < least && q->bb > 0.0) {
            *at_a = a;
            *at_b = clip((q->db - q->ab * a) / q->bb, in->b - in->half_b, in->b + in->half_b);
        }
        least = fmin(least, along_b);
        if (at_a != NULL && along_a < least && q->aa > 0.0) {
            *at_b = b;
            *at_a = clip((q->da - q->ab * b) / q->aa, in->a - in->half_a, in->a + in->half_a);
        }
        least = fmin(least, along_a);
    }
    return least;
}

/* ---- Costs at a line ----------------------------------------------------------------- */

/* The least that the largest deviation of an option's n lashes is in a box. */
static double largest_off(const solver *s, size_t option, size_t n, const box *in) {
    const double *x = s->problem->x_mm + s->problem->at[option];
    const double *off = s->problem->off_mm + s->problem->at[option];
    double most = 0.0;
    for (size_t j = 0; j < n; j++) {
        const double p = (s->x1 - x[j]) / (s->x1 - s->x0), q = (x[j] - s->x0) / (s->x1 - s->x0);
        const double r = fabs(off[j] - in->a * p - in->b * q);
        most = fmax(most, r - in->half_a * fabs(p) - in->half_b * fabs(q));
    }
    return most;
}

static void costs_at(solver *s, double a, double b) {
    const tcr_free *p = s->problem;
    const box point = {.a = a, .b = b};
    for (size_t c = 0; c < s->cells; c++)
        for (size_t o = p->cells.first[c]; o < p->cells.first[c + 1]; o++)
            s->cost[o] = p->extra[o] + (p->cells.maximum ? largest_off(s, o, p->lashes[c], &point)
                                                         : value_at(&s->q[o], a, b));
}

/* What the chosen cost, together with the fixed cells; s->cost has these. */
static double with_fixed(const solver *s, double total) {
    const tcr_assign *p = &s->problem->cells;
    for (size_t c = p->cells; c < s->cells; c++) {
        const double cost = s->cost[p->first[c]];
        total = p->maximum ? fmax(total, cost) : total + cost;
    }
    return total;
}

/* The largest box, by the problem's limits. */
static box whole_box(const solver *s) {
    return (box){0.0, 0.0, s->problem->move_most_mm, s->problem->move_most_mm, s->any_lengths};
}

/* The line that suits a choice best, and what it then costs. */
static double line_for(solver *s, const size_t *choice, double *a, double *b) {
    const tcr_free *p = s->problem;
    const box whole = whole_box(s);
    double extra = 0.0;
    if (!p->cells.maximum) {
        quadratic q = {0};
        for (size_t c = 0; c < s->cells; c++) {
            q = sum_of(q, s->q[choice[c]]);
            extra += p->extra[choice[c]];
        }
        return extra + fmax(least_in(&q, &whole, a, b), 0.0);
    }
    size_t n = 0;
    for (size_t c = 0; c < s->cells; c++) {
        memcpy(s->x + n, p->x_mm + p->at[choice[c]], p->lashes[c] * sizeof *s->x);
        memcpy(s->y + n, p->off_mm + p->at[choice[c]], p->lashes[c] * sizeof *s->y);
        n += p->lashes[c];
    }
    const tcr_strip strip = tcr_strip_of(s->x, s->y, n);
    *a = strip.a_mm + strip.b * s->x0;
    *b = strip.a_mm + strip.b * s->x1;
    return fabs(*a) <= whole.half_a && fabs(*b) <= whole.half_b ? strip.most_mm : INFINITY;
}

static void keep(solver *s, const size_t *choice, double a, double b, double total) {
    if (!(total < s->result.total))
        return;
    memcpy(s->best, choice, s->cells * sizeof *choice);
    s->result.total = total;
    s->best_a = a;
    s->best_b = b;
}

/* ---- Boxes --------------------------------------------------------------------------- */

static tcr_status push(solver *s, box b) {
    void *heap = s->heap;
    if (tcr_grow(s->allocator, &heap, s->open, &s->capacity, sizeof *s->heap) != TCR_OK)
        return TCR_E_MEMORY;
    s->heap = heap;
    size_t at = s->open++;
    for (; at > 0 && s->heap[(at - 1) / 2].bound > b.bound; at = (at - 1) / 2)
        s->heap[at] = s->heap[(at - 1) / 2];
    s->heap[at] = b;
    return TCR_OK;
}

static box pop(solver *s) {
    const box top = s->heap[0], last = s->heap[--s->open];
    size_t at = 0;
    for (size_t child; (child = 2 * at + 1) < s->open; at = child) {
        if (child + 1 < s->open && s->heap[child + 1].bound < s->heap[child].bound)
            child++;
        if (last.bound <= s->heap[child].bound)
            break;
        s->heap[at] = s->heap[child];
    }
    s->heap[at] = last;
    return top;
}

/* Half the slope of a quadratic. */
typedef struct slope {
    double a, b;
} slope;

static slope half_slope(const quadratic *q, const box *at) {
    return (slope){q->aa * at->a + q->ab * at->b - q->da, q->ab * at->a + q->bb * at->b - q->db};
}

/*
 * The least value in a box of option o, without the slope of its cell's choice. s->cost has its
 * value at the centre. A convex function is nowhere below its tangent; only where that does not
 * rule the option out is the box itself looked at.
 */
static double bound_of(const solver *s, size_t o, const box *in, slope choice, double of_choice) {
    const slope own = half_slope(&s->q[o], in);
    const double tangent = s->cost[o] - 2.0 * fabs(own.a - choice.a) * in->half_a -
                           2.0 * fabs(own.b - choice.b) * in->half_b;
    if (tangent >= of_choice)
        return tangent;
    quadratic q = s->q[o];
    q.f += 2.0 * (choice.a * in->a + choice.b * in->b) + s->problem->extra[o];
    q.da += choice.a;
    q.db += choice.b;
    return fmax(tangent, least_in(&q, in, NULL, NULL));
}

/*
 * Bounds of all options in a box in place of their costs at its centre, which s->cost and s->choice
 * have; what has to be added to their sum is returned.
 */
static double bounds_in(solver *s, const box *in) {
    const tcr_free *p = s->problem;
    slope sum = {0.0, 0.0};
    for (size_t c = 0; c < s->cells; c++) {
        const size_t chosen = s->choice[c];
        const double of_choice = s->cost[chosen];
        slope choice = {0.0, 0.0};
        if (!p->cells.maximum)
            choice = half_slope(&s->q[chosen], in);
        sum.a += choice.a;
        sum.b += choice.b;
        for (size_t o = p->cells.first[c]; o < p->cells.first[c + 1]; o++) {
            if (p->cells.maximum)
                s->cost[o] = p->extra[o] + largest_off(s, o, p->lashes[c], in);
            else if (o != chosen && s->cost[o] < INFINITY)
                s->cost[o] = bound_of(s, o, in, choice, of_choice);
        }
    }
    return -2.0 * fabs(sum.a) * in->half_a - 2.0 * fabs(sum.b) * in->half_b;
}

/* Looks for a better choice at the centre of a box, bounds it, and puts it aside if it may hold
 * one. */
static tcr_status look_into(solver *s, box in) {
    double total, bound, a = in.a, b = in.b;
    s->result.boxes++;
    costs_at(s, in.a, in.b);
    const tcr_assign *cells = &s->problem->cells;
    tcr_status status = tcr_assign_solve(cells, s->cost, s->choice, &total, &bound);
    if (status == TCR_E_STOPPED && s->result.total < INFINITY)
        return push(s, in); /* there is a choice from another box */
    if (status != TCR_OK)
        return status;
    keep(s, s->choice, in.a, in.b, with_fixed(s, total));
    if (in.half_a == 0.0 && in.half_b == 0.0) { /* the line is held */
        s->result.bound = fmax(in.bound, with_fixed(s, bound));
        return TCR_OK;
    }
    const double of_line = line_for(s, s->choice, &a, &b); /* before a and b are handed on */
    keep(s, s->choice, a, b, of_line);
    const double add = bounds_in(s, &in);
    /* The choice is kept for the multipliers; the bound's own is of no interest. */
    status = tcr_assign_solve(cells, s->cost, s->choice, &total, &bound);
    if (status == TCR_E_STOPPED)
        return push(s, in);
    if (status != TCR_OK)
        return status;
    in.bound = fmax(in.bound, with_fixed(s, bound) + add);
    return in.bound < s->result.total ? push(s, in) : TCR_OK;
}

static bool is_close(const solver *s, double bound) {
    return s->result.total - bound <= CLOSE_SHARE * s->result.total + CLOSE_MM * CLOSE_MM;
}

static tcr_status search(solver *s) {
    tcr_status status = look_into(s, whole_box(s));
    while (status == TCR_OK && s->open > 0 && !is_close(s, s->heap[0].bound)) {
        if (s->result.boxes > BOXES_MOST || tcr_watch_stops(s->problem->cells.watch, "zones", NAN))
            break;
        const box whole = pop(s);
        box half[2] = {whole, whole};
        const bool by_a = whole.half_a >= whole.half_b;
        for (int k = 0; k < 2 && status == TCR_OK; k++) {
            double *half_size = by_a ? &half[k].half_a : &half[k].half_b;
            double *centre = by_a ? &half[k].a : &half[k].b;
            *half_size /= 2.0;
            *centre += k == 0 ? -*half_size : *half_size;
            status = look_into(s, half[k]);
        }
    }
    if (s->problem->move_most_mm > 0.0)
        s->result.bound = s->open > 0 ? s->heap[0].bound : s->result.total;
    s->result.bound = fmax(fmin(s->result.bound, s->result.total), 0.0);
    s->result.proved = is_close(s, s->result.bound);
    return status;
}

/* ---- All of it ----------------------------------------------------------------------- */

static tcr_status prepare(solver *s) {
    const tcr_free *p = s->problem;
    size_t lashes = 0;
    s->cells = p->cells.cells + p->fixed;
    s->options = p->cells.first[s->cells];
    s->x0 = p->move_most_mm > 0.0 ? p->end_mm[0] : -1.0; /* of no account where it is held */
    s->x1 = p->move_most_mm > 0.0 ? p->end_mm[1] : 1.0;
    for (size_t c = 0; c < s->cells; c++)
        lashes += p->lashes[c];
    s->q = tcr_resize(s->allocator, NULL, s->options, sizeof *s->q);
    s->cost = tcr_resize(s->allocator, NULL, s->options, sizeof *s->cost);
    s->x = tcr_resize(s->allocator, NULL, lashes, sizeof *s->x);
    s->y = tcr_resize(s->allocator, NULL, lashes, sizeof *s->y);
    s->choice = tcr_resize(s->allocator, NULL, s->cells, sizeof *s->choice);
    s->best = tcr_resize(s->allocator, NULL, s->cells, sizeof *s->best);
    if (s->q == NULL || s->cost == NULL || s->x == NULL || s->y == NULL || s->choice == NULL ||
        s->best == NULL)
        return TCR_E_MEMORY;
    for (size_t c = p->cells.cells; c < s->cells; c++)
        s->choice[c] = p->cells.first[c];
    for (size_t o = 0; o < s->options && !p->cells.maximum; o++)
        s->q[o] = quadratic_of(&p->sums[o], s->x0, s->x1);
    return TCR_OK;
}

/* Any number of lengths is quickly solved, and gives a bound to those who have no time to prove. */
static tcr_status bound_any_lengths(solver *s, size_t *choice) {
    tcr_free any = *s->problem;
    tcr_free_result found;
    any.cells.lengths_most = 0;
    const tcr_status status = tcr_free_solve(&any, s->allocator, choice, &found);
    if (status == TCR_OK)
        s->any_lengths = found.bound;
    return status;
}

tcr_status tcr_free_solve(const tcr_free *problem, const tcr_allocator *allocator, size_t *choice,
                          tcr_free_result *result) {
    solver s = {.problem = problem, .allocator = allocator};
    s.result.total = INFINITY;
    tcr_status status = problem->cells.lengths_most > 0 ? bound_any_lengths(&s, choice) : TCR_OK;
    if (status == TCR_OK)
        status = prepare(&s);
    if (status == TCR_OK)
        status = search(&s);
    if (status == TCR_OK) {
        memcpy(choice, s.best, s.cells * sizeof *choice);
        s.result.tilt = (s.best_b - s.best_a) / (s.x1 - s.x0);
        s.result.shift_mm = s.best_a - s.result.tilt * s.x0;
        s.result.at_limit = problem->move_most_mm > 0.0 &&
                            fmax(fabs(s.best_a), fabs(s.best_b)) >= problem->move_most_mm;
        *result = s.result;
    }
    void *const blocks[] = {s.q, s.cost, s.x, s.y, s.choice, s.best, s.heap};
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++)
        tcr_release(allocator, blocks[i]);
    return status;
}
