/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The choice of one option a cell under limits that tie the cells together. Of the options of a
 * cell that have one length only the cheapest can be of use, so that what is to be chosen is a
 * length for each cell. Where any number of lengths may be used, dynamic programming along each
 * chain of neighbours gives the least cost. At most K
 * lengths: assign_few.c.
 */
#include "plan/assign_data.h"

static void find_best_options(tcr_assign_solver *s) {
    const tcr_assign *p = s->problem;
    for (size_t c = 0; c < p->cells; c++) {
        for (size_t l = 0; l < p->lengths; l++)
            s->best_option[c][l] = TCR_ASSIGN_NONE;
        for (size_t o = p->first[c]; o < p->first[c + 1]; o++) {
            uint16_t *best = &s->best_option[c][p->length[o]];
            if (s->cost[o] < INFINITY &&
                (*best == TCR_ASSIGN_NONE || s->cost[o] < s->cost[p->first[c] + *best]))
                *best = (uint16_t)(o - p->first[c]);
        }
    }
}

static double join(const tcr_assign *p, double a, double b) {
    return p->maximum ? fmax(a, b) : a + b;
}

/* The allowed lengths, as a list. */
typedef struct choices {
    size_t count;
    unsigned char length[TCR_ASSIGN_LENGTHS_MAX];
} choices;

static choices list(const tcr_assign *p, uint64_t allowed) {
    choices of = {0};
    for (size_t l = 0; l < p->lengths; l++)
        if ((allowed >> l & 1) != 0)
            of.length[of.count++] = (unsigned char)l;
    return of;
}

/* The cheapest length of one cell alone, into s->pick. */
static double solve_cell(tcr_assign_solver *s, const choices *of, size_t c) {
    double least = INFINITY;
    for (size_t i = 0; i < of->count; i++) {
        const double cost = tcr_assign_cost(s, c, of->length[i]);
        if (cost < least) {
            least = cost;
            s->pick[c] = of->length[i];
        }
    }
    return least;
}

/*
 * The cheapest lengths of the chain of cells from 'start' to 'end' - 1, into s->pick. value[i] is
 * the least cost of the cells up to the present one if that has the i-th allowed length.
 */
static double solve_chain(tcr_assign_solver *s, const choices *of, size_t start, size_t end) {
    const tcr_assign *p = s->problem;
    static const double ROUNDING_MM = 1e-9;
    if (of->count == 0)
        return INFINITY;
    double value[TCR_ASSIGN_LENGTHS_MAX], next[TCR_ASSIGN_LENGTHS_MAX];
    unsigned char from[64][TCR_ASSIGN_LENGTHS_MAX];
    for (size_t i = 0; i < of->count; i++)
        value[i] = tcr_assign_cost(s, start, of->length[i]);
    for (size_t c = start + 1; c < end; c++) {
        for (size_t i = 0; i < of->count; i++) {
            const double own = tcr_assign_cost(s, c, of->length[i]);
            double least = INFINITY;
            unsigned char least_from = 0;
            for (size_t k = 0; own < INFINITY && k < of->count; k++)
                if (value[k] < least &&
                    fabs(p->length_mm[of->length[k]] - p->length_mm[of->length[i]]) <=
                        p->step_most_mm + ROUNDING_MM) {
                    least = value[k];
                    least_from = (unsigned char)k;
                }
            next[i] = least < INFINITY ? join(p, least, own) : INFINITY;
            from[c - start][i] = least_from;
        }
        for (size_t i = 0; i < of->count; i++)
            value[i] = next[i];
    }
    size_t last = 0;
    for (size_t i = 1; i < of->count; i++)
        if (value[i] < value[last])
            last = i;
    const double total = value[last];
    for (size_t c = end; total < INFINITY && c-- > start;) {
        s->pick[c] = of->length[last];
        last = c > start ? from[c - start][last] : last;
    }
    return total;
}

double tcr_assign_chains(tcr_assign_solver *s, uint64_t allowed) {
    const tcr_assign *p = s->problem;
    const choices of = list(p, allowed);
    double total = p->maximum ? -INFINITY : 0.0;
    for (size_t start = 0, end; start < p->cells && total < INFINITY; start = end) {
        end = start + 1;
        while (p->step_most_mm < INFINITY && end < p->cells && p->follows[end] && end - start < 64)
            end++;
        total =
            join(p, total,
                 end == start + 1 ? solve_cell(s, &of, start) : solve_chain(s, &of, start, end));
    }
    return total;
}

void tcr_assign_keep(tcr_assign_solver *s, double total) {
    s->best_total = total;
    for (size_t c = 0; c < s->problem->cells; c++)
        s->best[c] = s->pick[c];
}

tcr_status tcr_assign_solve(const tcr_assign *problem, const double *cost, size_t *choice,
                            double *total, double *bound) {
    tcr_assign_solver s = {
        .problem = problem, .cost = cost, .best_total = INFINITY, .bound = -INFINITY};
    const uint64_t all =
        problem->lengths == 64 ? UINT64_MAX : ((uint64_t)1 << problem->lengths) - 1;
    find_best_options(&s);
    if (problem->lengths_most > 0 && problem->lengths_most < problem->lengths) {
        tcr_assign_few(&s);
    } else {
        const double least = tcr_assign_chains(&s, all);
        if (least < INFINITY)
            tcr_assign_keep(&s, least);
        s.bound = least;
    }
    if (!(s.best_total < INFINITY))
        return s.stopped ? TCR_E_STOPPED : TCR_E_NO_SOLUTION;
    for (size_t c = 0; c < problem->cells; c++)
        choice[c] = problem->first[c] + s.best_option[c][s.best[c]];
    *total = s.best_total;
    if (bound != NULL)
        *bound = fmin(s.bound, s.best_total);
    return TCR_OK;
}
