/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The choice with at most K different lengths, by branch and bound over the lengths (Land & Doig
 * 1960, Econometrica 28:497): one that is not decided is either forbidden or counted as taken.
 *
 * The sum of costs is that of K medians. It is bounded by prices (Lagrange multipliers; Cornuejols,
 * Fisher & Nemhauser 1977, Management Science 23:789): each cell offers a price for being served,
 * each length earns what cells offer above their cost, and the K that earn most bound the sum from
 * below, whatever the prices. Prices of cells that are served by none rise, of those that are
 * served more than once fall. Lengths that would lift the bound above the best choice so far are
 * forbidden, those whose absence would are taken.
 *
 * The largest cost is that of K centres: the least cost for which some K lengths reach every cell
 * is found by bisection over the costs, and for each, the cell that is reached by fewest lengths is
 * branched on.
 */
#include "plan/assign_data.h"

enum { ROOT_PASSES = 300, NODE_PASSES = 40, PATIENCE = 6 };
/* How many nodes a search that was stopped looks into for a first choice, which is mostly near; a
 * node of 384 cells and 64 lengths takes about a millisecond. */
enum { LATE_NODES = 1000 };

/* Less than this share of the cost is rounding of a sum, not a better choice. */
static const double SLACK = 1e-12;

/* Lengths that may still be used, those that count as used, and a bound from before. */
typedef struct node {
    uint64_t allowed, taken;
    double bound;
} node;

typedef struct search {
    tcr_assign_solver *s;
    size_t most;
    double price[TCR_ASSIGN_CELLS_MAX];
    /* By the prices with the best bound: what each length earns, 0 or less, and who earns most. */
    double earns[TCR_ASSIGN_LENGTHS_MAX];
    uint64_t chosen;
    int late; /* nodes since it was stopped */
} search;

static uint64_t bit_of(size_t l) { return (uint64_t)1 << l; }

static bool is_less(double a, double b) {
    return a < INFINITY && (b == INFINITY || a < b - SLACK * fabs(b));
}

/* Asked once a node. */
static bool is_stopped(search *f) {
    tcr_assign_solver *s = f->s;
    if (tcr_watch_stops(s->problem->watch, "lengths", NAN))
        s->stopped = s->best_total < INFINITY || ++f->late > LATE_NODES;
    return s->stopped;
}

static uint64_t picked(const tcr_assign_solver *s) {
    uint64_t set = 0;
    for (size_t c = 0; c < s->problem->cells; c++)
        set |= bit_of(s->pick[c]);
    return set;
}

/* The best with these lengths, kept where it is better; its cost. */
static double try_lengths(search *f, uint64_t allowed) {
    const double total = tcr_assign_chains(f->s, allowed);
    if (is_less(total, f->s->best_total) && tcr_assign_bits(picked(f->s)) <= f->most)
        tcr_assign_keep(f->s, total);
    return total;
}

/* ---- The sum ------------------------------------------------------------------------- */

/* Lengths one by one, each the one that helps most where the others are kept. */
static uint64_t greedy(const search *f, uint64_t allowed) {
    const tcr_assign *p = f->s->problem;
    double now[TCR_ASSIGN_CELLS_MAX], far = 0.0;
    uint64_t set = 0;
    for (size_t c = 0; c < p->cells; c++)
        for (size_t l = 0; l < p->lengths; l++) {
            const double cost = tcr_assign_cost(f->s, c, l);
            far = cost < INFINITY ? fmax(far, fabs(cost)) : far;
        }
    for (size_t c = 0; c < p->cells; c++)
        now[c] = (double)p->cells * (far + 1.0); /* as bad as no length at all */
    for (size_t k = 0; k < f->most; k++) {
        size_t best = 0;
        double most = 0.0;
        for (size_t l = 0; l < p->lengths; l++) {
            double gain = 0.0;
            for (size_t c = 0; c < p->cells && (allowed & ~set & bit_of(l)) != 0; c++)
                gain += fmax(0.0, now[c] - tcr_assign_cost(f->s, c, l));
            if (gain > most) {
                most = gain;
                best = l;
            }
        }
        if (!(most > 0.0))
            break;
        set |= bit_of(best);
        for (size_t c = 0; c < p->cells; c++)
            now[c] = fmin(now[c], tcr_assign_cost(f->s, c, best));
    }
    return set;
}

/* What each length earns by the prices, and the bound that this gives with the K that earn most. */
static double bound_by_prices(const search *f, const node *at, double *earns, uint64_t *chosen) {
    const tcr_assign *p = f->s->problem;
    double bound = 0.0;
    for (size_t c = 0; c < p->cells; c++)
        bound += f->price[c];
    for (size_t l = 0; l < p->lengths; l++) {
        earns[l] = 0.0;
        for (size_t c = 0; c < p->cells && (at->allowed & bit_of(l)) != 0; c++)
            earns[l] += fmin(0.0, tcr_assign_cost(f->s, c, l) - f->price[c]);
        if ((at->taken & bit_of(l)) != 0)
            bound += earns[l];
    }
    *chosen = at->taken;
    while (tcr_assign_bits(*chosen) < f->most) {
        size_t best = p->lengths;
        for (size_t l = 0; l < p->lengths; l++)
            if ((at->allowed & ~*chosen & bit_of(l)) != 0 &&
                (best == p->lengths || earns[l] < earns[best]))
                best = l;
        if (best == p->lengths)
            break;
        *chosen |= bit_of(best);
        bound += earns[best];
    }
    return bound;
}

/* Moves the prices up the slope of the bound; false where it is level. */
static bool move_prices(search *f, uint64_t chosen, double by) {
    const tcr_assign *p = f->s->problem;
    double slope[TCR_ASSIGN_CELLS_MAX], squares = 0.0;
    for (size_t c = 0; c < p->cells; c++) {
        slope[c] = 1.0;
        for (size_t l = 0; l < p->lengths; l++)
            if ((chosen & bit_of(l)) != 0 && tcr_assign_cost(f->s, c, l) < f->price[c])
                slope[c] -= 1.0;
        squares += slope[c] * slope[c];
    }
    for (size_t c = 0; c < p->cells && squares > 0.0; c++)
        f->price[c] += by / squares * slope[c];
    return squares > 0.0;
}

/* The best bound of some passes (Polyak 1969, 10.1016/0041-5553(69)90061-5, for the steps). */
static double bound_sum(search *f, const node *at, int passes) {
    double best = -INFINITY, share = 1.0, earns[TCR_ASSIGN_LENGTHS_MAX];
    int misses = 0;
    for (int i = 0; i < passes; i++) {
        uint64_t chosen;
        const double bound = bound_by_prices(f, at, earns, &chosen);
        if (bound > best) {
            best = bound;
            f->chosen = chosen;
            for (size_t l = 0; l < f->s->problem->lengths; l++)
                f->earns[l] = earns[l];
            misses = 0;
        } else if (++misses == PATIENCE) {
            share /= 2.0;
            misses = 0;
        }
        const double aim = f->s->best_total < INFINITY ? f->s->best_total : bound + fabs(bound) + 1;
        if (!is_less(best, f->s->best_total) || !move_prices(f, chosen, share * (aim - bound)))
            break;
    }
    return best;
}

/* Forbids and takes what the bound decides already. */
static void decide(const search *f, double bound, node *at) {
    const double best = f->s->best_total;
    double last = -INFINITY, next = 0.0; /* of the chosen the least, of the others the most earns */
    for (size_t l = 0; l < f->s->problem->lengths; l++) {
        if ((f->chosen & ~at->taken & bit_of(l)) != 0)
            last = fmax(last, f->earns[l]);
        if ((at->allowed & ~f->chosen & bit_of(l)) != 0)
            next = fmin(next, f->earns[l]);
    }
    const uint64_t open = at->allowed & ~at->taken;
    for (size_t l = 0; l < f->s->problem->lengths; l++) {
        if ((open & bit_of(l)) == 0)
            continue;
        if ((f->chosen & bit_of(l)) == 0 && !is_less(bound + f->earns[l] - last, best))
            at->allowed &= ~bit_of(l);
        if ((f->chosen & bit_of(l)) != 0 && !is_less(bound - f->earns[l] + next, best))
            at->taken |= bit_of(l);
    }
}

/* The length to branch on: of those that are chosen and not taken, the one that earns most. */
static size_t branch_length(const search *f, const node *at) {
    const uint64_t open = at->allowed & ~at->taken;
    const uint64_t from = (f->chosen & open) != 0 ? f->chosen & open : open;
    size_t best = TCR_ASSIGN_LENGTHS_MAX;
    for (size_t l = 0; l < f->s->problem->lengths; l++)
        if ((from & bit_of(l)) != 0 &&
            (best == TCR_ASSIGN_LENGTHS_MAX || f->earns[l] < f->earns[best]))
            best = l;
    return best;
}

/* Looks into a node until it is done, true, or has to be branched on. */
static bool is_done(search *f, node *at, int passes) {
    for (;;) {
        if (tcr_assign_bits(at->taken) >= f->most)
            at->allowed = at->taken;
        at->bound = fmax(at->bound, try_lengths(f, at->allowed));
        if (tcr_assign_bits(at->allowed) <= f->most || !is_less(at->bound, f->s->best_total) ||
            tcr_assign_bits(picked(f->s)) <= f->most)
            return true;
        const double bound = bound_sum(f, at, passes);
        const uint64_t allowed = at->allowed, taken = at->taken;
        at->bound = fmax(at->bound, bound);
        if (!is_less(at->bound, f->s->best_total))
            return true;
        (void)try_lengths(f, f->chosen);
        decide(f, bound, at);
        if (at->allowed == allowed && at->taken == taken)
            return false;
    }
}

/* Each node decides one length more, so that the stack holds at most one open node for each. */
static void least_sum(search *f, uint64_t all) {
    tcr_assign_solver *s = f->s;
    node stack[TCR_ASSIGN_LENGTHS_MAX + 2] = {{all, 0, -INFINITY}};
    size_t open = 1;
    int passes = ROOT_PASSES;
    if (tcr_assign_chains(s, all) == INFINITY)
        return;
    (void)try_lengths(f, greedy(f, all));
    (void)tcr_assign_chains(s, all);
    for (size_t c = 0; c < s->problem->cells; c++) /* as it is served with few, or with all */
        f->price[c] = tcr_assign_cost(s, c, s->best_total < INFINITY ? s->best[c] : s->pick[c]);
    while (open > 0 && !is_stopped(f)) {
        node now = stack[--open];
        if (!is_less(now.bound, s->best_total) || is_done(f, &now, passes))
            continue;
        passes = NODE_PASSES;
        const uint64_t bit = bit_of(branch_length(f, &now));
        stack[open++] = (node){now.allowed & ~bit, now.taken, now.bound};
        stack[open++] = (node){now.allowed, now.taken | bit, now.bound};
    }
    s->bound = s->best_total;
    while (open > 0)
        s->bound = fmin(s->bound, stack[--open].bound);
}

/* ---- The largest --------------------------------------------------------------------- */

/* The lengths that reach a cell at no more than a cost. */
static uint64_t reach(const search *f, size_t c, uint64_t allowed, double cost) {
    uint64_t set = 0;
    for (size_t l = 0; l < f->s->problem->lengths; l++)
        if ((allowed & bit_of(l)) != 0 && tcr_assign_cost(f->s, c, l) <= cost)
            set |= bit_of(l);
    return set;
}

/* Of the cells that no taken length reaches: how many share no length with another of them, and
 * the lengths of the one that is reached by fewest; 0 where all are reached. */
static size_t apart(const search *f, const node *at, double cost, uint64_t *fewest) {
    uint64_t seen = 0;
    size_t count = 0;
    *fewest = 0;
    for (size_t c = 0; c < f->s->problem->cells; c++) {
        const uint64_t set = reach(f, c, at->allowed, cost);
        if ((set & at->taken) != 0)
            continue;
        if ((set & seen) == 0) {
            seen |= set;
            count++;
        }
        if (*fewest == 0 || tcr_assign_bits(set) < tcr_assign_bits(*fewest))
            *fewest = set;
    }
    return count;
}

/* Of some lengths the one that reaches most cells that no taken one reaches. */
static size_t farthest_reaching(const search *f, const node *at, uint64_t from, double cost) {
    size_t best = 0, most = 0;
    for (size_t l = 0; l < f->s->problem->lengths; l++) {
        size_t count = 1;
        if ((from & bit_of(l)) == 0)
            continue;
        for (size_t c = 0; c < f->s->problem->cells; c++)
            count += tcr_assign_cost(f->s, c, l) <= cost && reach(f, c, at->taken, cost) == 0;
        if (count > most) {
            most = count;
            best = l;
        }
    }
    return best;
}

/* Whether K lengths reach all cells at no more than a cost; the choice is then kept. */
static bool can_reach(search *f, uint64_t all, double cost) {
    node stack[TCR_ASSIGN_LENGTHS_MAX + 2] = {{all, 0, 0.0}};
    size_t open = 1;
    while (open > 0 && !is_stopped(f)) {
        node now = stack[--open];
        uint64_t fewest;
        if (tcr_assign_bits(now.taken) >= f->most)
            now.allowed = now.taken;
        if (try_lengths(f, now.allowed) > cost)
            continue;
        const uint64_t used = picked(f->s);
        if (f->s->best_total <= cost)
            return true;
        if (tcr_assign_bits(now.taken) + apart(f, &now, cost, &fewest) > f->most)
            continue;
        /* Where all are reached, it is the steps between neighbours that ask for more. */
        const uint64_t from = fewest != 0 ? fewest : used & ~now.taken;
        const uint64_t bit = bit_of(farthest_reaching(f, &now, from, cost));
        stack[open++] = (node){now.allowed & ~bit, now.taken, 0.0};
        stack[open++] = (node){now.allowed, now.taken | bit, 0.0};
    }
    return false;
}

/* The cost of an option between two, the one nearest below their middle or else the first above;
 * false where there is none. */
static bool cost_between(const tcr_assign_solver *s, double low, double high, double *cost) {
    const tcr_assign *p = s->problem;
    double most = low;
    for (size_t c = 0; c < p->cells; c++)
        for (size_t l = 0; l < p->lengths; l++) {
            const double at = tcr_assign_cost(s, c, l);
            most = at < high ? fmax(most, at) : most;
        }
    const double middle = low + (most - low) / 2.0;
    double below = low, above = most;
    for (size_t c = 0; c < p->cells; c++)
        for (size_t l = 0; l < p->lengths; l++) {
            const double at = tcr_assign_cost(s, c, l);
            if (at <= middle)
                below = fmax(below, at);
            else
                above = fmin(above, at);
        }
    *cost = below > low ? below : above;
    return most > low;
}

static void least_largest(search *f, uint64_t all) {
    tcr_assign_solver *s = f->s;
    double low = tcr_assign_chains(s, all), cost = low;
    if (low == INFINITY)
        return;
    (void)try_lengths(f, greedy(f, all));
    bool found = can_reach(f, all, cost);
    while (!found && !s->stopped && cost_between(s, low, s->best_total, &cost)) {
        if (!can_reach(f, all, cost) && !s->stopped)
            low = cost;
    }
    s->bound = s->stopped ? low : s->best_total;
}

void tcr_assign_few(tcr_assign_solver *s) {
    const tcr_assign *p = s->problem;
    const uint64_t all = p->lengths == 64 ? UINT64_MAX : ((uint64_t)1 << p->lengths) - 1;
    search f = {.s = s, .most = p->lengths_most};
    if (p->maximum)
        least_largest(&f, all);
    else
        least_sum(&f, all);
}
