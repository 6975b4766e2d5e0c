/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The choice of one option a cell under limits that tie the cells together. Of the options of a
 * cell that have one length only the cheapest can be of use, so that what is to be chosen is a
 * length for each cell. Where any number of lengths may be used, dynamic programming along each
 * chain of neighbours gives the least cost. Where at most K may, the same gives a lower bound for a
 * set of lengths that are still allowed; if the cheapest choice uses more than K of them, one of
 * them is either forbidden or counted as taken, and both cases are bounded again (Land & Doig 1960,
 * Econometrica 28:497, for branch and bound).
 */
#include "plan/assign.h"

#include <math.h>

/* Bounds that agree to this share of the cost are equal: rounding of a sum. */
static const double SLACK = 1e-14;

typedef struct solver {
    const tcr_assign *problem;
    /* The cheapest option of each length, counted from the cell's first. */
    uint16_t best_option[TCR_ASSIGN_CELLS_MAX][TCR_ASSIGN_LENGTHS_MAX];
    const double *cost;
    unsigned char pick[TCR_ASSIGN_CELLS_MAX]; /* a length for each cell, by the last bound */
    unsigned char best[TCR_ASSIGN_CELLS_MAX];
    double best_total;
} solver;

enum { NONE = TCR_ASSIGN_OPTIONS_MAX };

static void find_best_options(solver *s) {
    const tcr_assign *p = s->problem;
    for (size_t c = 0; c < p->cells; c++) {
        for (size_t l = 0; l < p->lengths; l++)
            s->best_option[c][l] = NONE;
        for (size_t o = p->first[c]; o < p->first[c + 1]; o++) {
            uint16_t *best = &s->best_option[c][p->length[o]];
            if (s->cost[o] < INFINITY &&
                (*best == NONE || s->cost[o] < s->cost[p->first[c] + *best]))
                *best = (uint16_t)(o - p->first[c]);
        }
    }
}

static double join(const tcr_assign *p, double a, double b) {
    return p->maximum ? fmax(a, b) : a + b;
}

/* What cell c costs with length l; INFINITY where it cannot have it. */
static double cell_cost(const solver *s, uint64_t allowed, size_t c, size_t l) {
    const uint16_t option = s->best_option[c][l];
    if ((allowed >> l & 1) == 0 || option == NONE)
        return INFINITY;
    return s->cost[s->problem->first[c] + option];
}

/*
 * The cheapest lengths of the chain of cells from 'start' to 'end' - 1, into s->pick. value[l] is
 * the least cost of the cells up to the present one if that has length l.
 */
static double solve_chain(solver *s, uint64_t allowed, size_t start, size_t end) {
    const tcr_assign *p = s->problem;
    static const double ROUNDING_MM = 1e-9;
    double value[TCR_ASSIGN_LENGTHS_MAX], next[TCR_ASSIGN_LENGTHS_MAX];
    unsigned char from[64][TCR_ASSIGN_LENGTHS_MAX];
    for (size_t l = 0; l < p->lengths; l++)
        value[l] = cell_cost(s, allowed, start, l);
    for (size_t c = start + 1; c < end; c++) {
        for (size_t l = 0; l < p->lengths; l++) {
            const double own = cell_cost(s, allowed, c, l);
            double least = INFINITY;
            unsigned char least_from = 0;
            for (size_t k = 0; own < INFINITY && k < p->lengths; k++)
                if (value[k] < least &&
                    fabs(p->length_mm[k] - p->length_mm[l]) <= p->step_most_mm + ROUNDING_MM) {
                    least = value[k];
                    least_from = (unsigned char)k;
                }
            next[l] = least < INFINITY ? join(p, least, own) : INFINITY;
            from[c - start][l] = least_from;
        }
        for (size_t l = 0; l < p->lengths; l++)
            value[l] = next[l];
    }
    size_t last = 0;
    for (size_t l = 1; l < p->lengths; l++)
        if (value[l] < value[last])
            last = l;
    const double total = value[last]; /* NOLINT: there is a length at least */
    for (size_t c = end; total < INFINITY && c-- > start;) {
        s->pick[c] = (unsigned char)last;
        last = c > start ? from[c - start][last] : last;
    }
    return total;
}

/* The least cost with the allowed lengths, however many are used. */
static double solve_chains(solver *s, uint64_t allowed) {
    const tcr_assign *p = s->problem;
    double total = 0.0;
    for (size_t start = 0, end; start < p->cells && total < INFINITY; start = end) {
        end = start + 1;
        while (end < p->cells && p->follows[end] && end - start < 64)
            end++;
        total = join(p, total, solve_chain(s, allowed, start, end));
    }
    return total;
}

static size_t bits(uint64_t set) {
    size_t count = 0;
    for (; set != 0; set &= set - 1)
        count++;
    return count;
}

static uint64_t picked(const solver *s) {
    uint64_t set = 0;
    for (size_t c = 0; c < s->problem->cells; c++)
        set |= (uint64_t)1 << s->pick[c];
    return set;
}

static void keep(solver *s, double total) {
    s->best_total = total;
    for (size_t c = 0; c < s->problem->cells; c++)
        s->best[c] = s->pick[c];
}

/* A set of lengths that may still be used, and those that count as used. */
typedef struct node {
    uint64_t allowed, taken;
} node;

/* Which of the lengths that the last bound uses and that are not decided is used by most cells. */
static size_t branch_length(const solver *s, uint64_t open) {
    size_t uses[TCR_ASSIGN_LENGTHS_MAX] = {0}, most = 0;
    for (size_t c = 0; c < s->problem->cells; c++)
        if ((open >> s->pick[c] & 1) != 0)
            uses[s->pick[c]]++;
    for (size_t l = 1; l < TCR_ASSIGN_LENGTHS_MAX; l++)
        if (uses[l] > uses[most])
            most = l;
    return most;
}

/* Each node decides one length more, so that the stack holds at most one open node for each. */
static void search(solver *s) {
    const tcr_assign *p = s->problem;
    const size_t most = p->lengths_most == 0 ? p->lengths : p->lengths_most;
    const uint64_t all = p->lengths == 64 ? UINT64_MAX : ((uint64_t)1 << p->lengths) - 1;
    node stack[TCR_ASSIGN_LENGTHS_MAX + 2] = {{all, 0}};
    size_t open = 1;
    while (open > 0) {
        node now = stack[--open];
        if (bits(now.taken) >= most)
            now.allowed = now.taken;
        const double bound = solve_chains(s, now.allowed);
        if (!(bound < s->best_total * (1.0 - SLACK)) || !(bound < INFINITY))
            continue;
        const uint64_t used = picked(s);
        if (bits(used) <= most) {
            keep(s, bound);
            continue;
        }
        const uint64_t bit = (uint64_t)1 << branch_length(s, used & ~now.taken);
        stack[open++] = (node){now.allowed & ~bit, now.taken};
        stack[open++] = (node){now.allowed, now.taken | bit};
    }
}

tcr_status tcr_assign_solve(const tcr_assign *problem, const double *cost, size_t *choice,
                            double *total) {
    solver s = {.problem = problem, .cost = cost, .best_total = INFINITY};
    find_best_options(&s);
    search(&s);
    if (!(s.best_total < INFINITY))
        return TCR_E_NO_SOLUTION;
    for (size_t c = 0; c < problem->cells; c++)
        choice[c] = problem->first[c] + s.best_option[c][s.best[c]];
    *total = s.best_total;
    return TCR_OK;
}
