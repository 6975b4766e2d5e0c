/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Choice and line at once: against every choice with its own best line, by GSL's least squares and
 * by Chebyshev's line; bounds; what a shift of all tips does.
 */
#include "plan/free.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_fit.h>
#include <gsl/gsl_rng.h>

#include "plan/strip.h"
#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"

enum { CELLS = 4, OPTIONS = 4 * CELLS, LASHES = 4, TIPS = OPTIONS * LASHES };

typedef struct sample {
    tcr_free p;
    size_t first[CELLS + 1], lashes[CELLS], at[OPTIONS];
    int length[OPTIONS];
    bool follows[CELLS];
    double x[TIPS], off[TIPS], extra[OPTIONS];
    tcr_sums sums[OPTIONS];
} sample;

static void sum_up(sample *s) {
    memset(s->sums, 0, sizeof s->sums);
    for (size_t c = 0; c < CELLS; c++)
        for (size_t o = s->first[c]; o < s->first[c + 1]; o++)
            for (size_t j = 0; j < s->lashes[c]; j++)
                tcr_sums_add(&s->sums[o], s->x[s->at[o] + j], s->off[s->at[o] + j]);
}

static const double LENGTH_MM[4] = {9.0, 10.0, 11.0, 12.0};

/* Four lengths a cell, each a millimetre higher with some variation, cells along the line. */
static void draw(gsl_rng *rng, sample *s, bool maximum) {
    memset(s, 0, sizeof *s);
    size_t tips = 0;
    const double rise = tcr_draw_between(rng, -3.0, 3.0), tilt = tcr_draw_between(rng, -0.1, 0.1);
    for (size_t c = 0; c < CELLS; c++) {
        s->first[c + 1] = s->first[c] + 4;
        s->lashes[c] = 1 + gsl_rng_uniform_int(rng, LASHES);
        s->follows[c] = c > 0;
        double x[LASHES], y[LASHES];
        for (size_t j = 0; j < s->lashes[c]; j++) {
            x[j] = -12.0 + 6.0 * (double)c + tcr_draw_between(rng, 0.0, 6.0);
            y[j] = rise + tilt * x[j] + tcr_draw_between(rng, -1.0, 1.0);
        }
        for (size_t k = 0; k < 4; k++) {
            const size_t o = s->first[c] + k;
            s->length[o] = (int)k;
            s->at[o] = tips;
            s->extra[o] = gsl_rng_uniform(rng) < 0.1 && k != c ? INFINITY : 0.0;
            for (size_t j = 0; j < s->lashes[c]; j++, tips++) {
                s->x[tips] = x[j] + tcr_draw_between(rng, -0.2, 0.2);
                s->off[tips] = y[j] + (double)k - 1.5 + tcr_draw_between(rng, -0.1, 0.1);
            }
        }
    }
    s->p = (tcr_free){
        .cells = {.cells = CELLS,
                  .first = s->first,
                  .length = s->length,
                  .lengths = 4,
                  .length_mm = LENGTH_MM,
                  .follows = s->follows,
                  .step_most_mm = gsl_rng_uniform(rng) < 0.3 ? 1.0 : INFINITY,
                  .lengths_most = gsl_rng_uniform_int(rng, 3),
                  .maximum = maximum},
        .lashes = s->lashes,
        .sums = s->sums,
        .x_mm = s->x,
        .off_mm = s->off,
        .at = s->at,
        .extra = s->extra,
        .move_most_mm = 22.0,
        .end_mm = {-12.0, 12.0},
    };
    sum_up(s);
}

/* A choice with the line that suits it best; INFINITY where a limit forbids it. */
static double best_line(const sample *s, const size_t *choice) {
    double x[CELLS * LASHES], y[CELLS * LASHES];
    size_t n = 0;
    unsigned used = 0, count = 0;
    for (size_t c = 0; c < CELLS; c++) {
        const int l = s->length[choice[c]];
        if (!(s->extra[choice[c]] < INFINITY) ||
            (c > 0 && fabs((double)(l - s->length[choice[c - 1]])) > s->p.cells.step_most_mm))
            return INFINITY;
        count += (used >> l & 1) == 0;
        used |= 1u << l;
        for (size_t j = 0; j < s->lashes[c]; j++, n++) {
            x[n] = s->x[s->at[choice[c]] + j];
            y[n] = s->off[s->at[choice[c]] + j];
        }
    }
    if (s->p.cells.lengths_most > 0 && count > s->p.cells.lengths_most)
        return INFINITY;
    if (s->p.cells.maximum)
        return tcr_strip_of(x, y, n).most_mm;
    double a, b, aa, ab, bb, sum;
    gsl_fit_linear(x, 1, y, 1, n, &a, &b, &aa, &ab, &bb, &sum);
    return sum;
}

static double least_by_trying(const sample *s) {
    double least = INFINITY;
    size_t choice[CELLS];
    for (size_t i = 0; i < 256; i++) {
        for (size_t c = 0; c < CELLS; c++)
            choice[c] = s->first[c] + (i >> (2 * c) & 3);
        least = fmin(least, best_line(s, choice));
    }
    return least;
}

static void expect_least(bool maximum, unsigned long seed, int problems) {
    gsl_rng *rng = tcr_make_rng(seed);
    const tcr_allocator allocator = tcr_counted_allocator(&(tcr_counted){0});
    for (int i = 0; i < problems; i++) {
        sample s;
        size_t choice[CELLS];
        tcr_free_result result = {0};
        draw(rng, &s, maximum);
        given("problem %d, step %g, at most %zu lengths", i, s.p.cells.step_most_mm,
              s.p.cells.lengths_most);
        const double least = least_by_trying(&s);
        const tcr_status status = tcr_free_solve(&s.p, &allocator, choice, &result);
        if (!(least < INFINITY)) {
            expect_status(status, TCR_E_NO_SOLUTION);
            continue;
        }
        expect_status(status, TCR_OK);
        expect_true(result.proved && !result.at_limit);
        expect_true(result.bound <= result.total);
        /* Source: every choice, each with its own best line (GSL; test_strip.c for the other). */
        expect_near(result.total, least, 2e-9 * (1.0 + least), "it is proved to 1e-9 of the total");
        expect_near(result.bound, least, 2e-9 * (1.0 + least), "it is proved to 1e-9 of the total");
        expect_near(best_line(&s, choice), result.total, 2e-9 * (1.0 + least), "its own choice");
    }
    gsl_rng_free(rng);
}

CLAIM(no_choice_with_its_own_line_has_less_squares) { expect_least(false, 4, 400); }

CLAIM(no_choice_with_its_own_line_strays_less) { expect_least(true, 5, 400); }

CLAIM(a_line_moves_no_farther_than_it_may_and_says_where_it_would_like_to) {
    gsl_rng *rng = tcr_make_rng(8);
    const tcr_allocator allocator = tcr_counted_allocator(&(tcr_counted){0});
    int at_one_end = 0, at_none = 0;
    for (int i = 0; i < 200; i++) {
        sample s;
        size_t choice[CELLS];
        tcr_free_result result;
        draw(rng, &s, i % 2 == 1);
        s.p.move_most_mm = 1.0;
        if (tcr_free_solve(&s.p, &allocator, choice, &result) != TCR_OK)
            continue;
        const double a = fabs(result.shift_mm - 12.0 * result.tilt),
                     b = fabs(result.shift_mm + 12.0 * result.tilt);
        const double most = fmax(a, b), near = 1.0 - 1e-6; /* it is proved, not solved */
        given("problem %d: the ends move by %.17g and %.17g", i, a, b);
        expect_within(most, 0.0, 1.0 + 1e-9, "rounding of sums below 10"); /* free.h */
        expect_true(result.at_limit ? most >= near : most < 1.0);
        at_one_end += most >= 1.0 && fmin(a, b) < near;
        at_none += most < near;
    }
    expect_true(at_one_end > 10 && at_none > 10); /* or too little was tested */
    gsl_rng_free(rng);
}

CLAIM(a_line_that_is_held_leaves_the_choice_alone) {
    gsl_rng *rng = tcr_make_rng(6);
    const tcr_allocator allocator = tcr_counted_allocator(&(tcr_counted){0});
    for (int i = 0; i < 200; i++) {
        sample s;
        size_t choice[CELLS], expected[CELLS];
        tcr_free_result result;
        double cost[OPTIONS], total;
        draw(rng, &s, false);
        s.p.move_most_mm = 0.0;
        for (size_t c = 0; c < CELLS; c++)
            for (size_t o = s.first[c]; o < s.first[c + 1]; o++) {
                cost[o] = s.extra[o];
                for (size_t j = 0; j < s.lashes[c]; j++)
                    cost[o] += s.off[s.at[o] + j] * s.off[s.at[o] + j];
            }
        const tcr_status status = tcr_assign_solve(&s.p.cells, cost, expected, &total, NULL);
        expect_status(tcr_free_solve(&s.p, &allocator, choice, &result), status);
        if (status != TCR_OK)
            continue;
        given("problem %d", i);
        /* Source: test_assign.c. */
        expect_near(result.total, total, 1e-12 * total, "rounding of a sum");
        expect_true(result.proved && memcmp(choice, expected, sizeof choice) == 0);
    }
    gsl_rng_free(rng);
}

CLAIM(tips_moved_along_a_line_move_the_line_and_nothing_else) {
    gsl_rng *rng = tcr_make_rng(7);
    size_t same = 0;
    const tcr_allocator allocator = tcr_counted_allocator(&(tcr_counted){0});
    for (int i = 0; i < 100; i++) {
        sample s;
        size_t choice[2][CELLS];
        tcr_free_result result[2];
        draw(rng, &s, i % 2 == 1);
        s.p.cells.lengths_most = 0;
        if (tcr_free_solve(&s.p, &allocator, choice[0], &result[0]) != TCR_OK)
            continue;
        for (size_t k = 0; k < TIPS; k++)
            s.off[k] += 1.25 - 0.0625 * s.x[k];
        sum_up(&s);
        expect_status(tcr_free_solve(&s.p, &allocator, choice[1], &result[1]), TCR_OK);
        given("problem %d", i);
        /* Source: invariance. */
        expect_near(result[1].total, result[0].total, 4e-9 * (1.0 + result[0].total),
                    "both are proved to 1e-9");
        /* Options that cost nearly the same may change places, and then their lines too: those are
         * told by the line that suits each choice best. */
        if (memcmp(choice[0], choice[1], sizeof choice[0]) != 0) {
            expect_near(best_line(&s, choice[0]), result[1].total, 4e-9 * (1.0 + result[1].total),
                        "both are proved to 1e-9");
            continue;
        }
        same++;
        /* A total within 1e-9 of the least leaves a line of least squares within the root of it. */
        expect_near(result[1].shift_mm - result[0].shift_mm, 1.25, 2e-4,
                    "root of 1e-9, over 1 lash");
        expect_near(result[1].tilt - result[0].tilt, -0.0625, 2e-4, "the same");
    }
    expect_true(same > 60);
    gsl_rng_free(rng);
}

/* A fixed cell, held against one of which a single option is allowed. */
CLAIM(a_fixed_cell_counts_as_one_that_has_no_choice) {
    gsl_rng *rng = tcr_make_rng(10);
    const tcr_allocator allocator = tcr_counted_allocator(&(tcr_counted){0});
    int solved = 0;
    for (int i = 0; i < 200; i++) {
        sample s;
        size_t choice[CELLS], fixed[CELLS];
        tcr_free_result by_cell, by_fixed;
        draw(rng, &s, i % 2 == 1);
        s.p.cells.lengths_most = 0;
        s.p.cells.step_most_mm = INFINITY;
        if (i % 3 == 0)
            s.p.move_most_mm = 0.0;
        const size_t kept = s.first[CELLS - 1] + gsl_rng_uniform_int(rng, 4);
        for (size_t o = s.first[CELLS - 1]; o < s.first[CELLS]; o++)
            s.extra[o] = o == kept ? 0.0 : INFINITY;
        expect_status(tcr_free_solve(&s.p, &allocator, choice, &by_cell), TCR_OK);
        s.p.cells.cells = CELLS - 1;
        s.p.fixed = 1;
        s.first[CELLS - 1] = kept; /* its one option; those before it cost INFINITY */
        s.first[CELLS] = kept + 1;
        expect_status(tcr_free_solve(&s.p, &allocator, fixed, &by_fixed), TCR_OK);
        given("problem %d", i);
        /* Source: the same problem in other words. */
        expect_near(by_fixed.total, by_cell.total, 4e-9 * (1.0 + by_cell.total),
                    "both are proved to 1e-9");
        expect_near(by_fixed.shift_mm, by_cell.shift_mm, 1e-3, "flat to the 1e-9 of the total");
        expect_near(by_fixed.tilt, by_cell.tilt, 1e-4, "flat to the 1e-9 of the total");
        expect_true(by_fixed.proved && by_fixed.bound <= by_fixed.total);
        solved += memcmp(choice, fixed, sizeof fixed - sizeof fixed[0]) == 0;
    }
    expect_true(solved > 190); /* but for ties within 1e-9 */
    gsl_rng_free(rng);
}

static bool at_once(void *context, const char *phase, double share) {
    (void)phase, (void)share;
    ++*(int *)context;
    return false;
}

CLAIM(a_search_that_is_stopped_has_a_choice_and_a_bound_below_it) {
    gsl_rng *rng = tcr_make_rng(8);
    const tcr_allocator allocator = tcr_counted_allocator(&(tcr_counted){0});
    int asked = 0, unproved = 0;
    for (int i = 0; i < 50; i++) {
        sample s;
        size_t choice[CELLS];
        tcr_free_result result;
        draw(rng, &s, false);
        s.p.cells.lengths_most = 0;
        tcr_watch watch = {.progress = {at_once, &asked}};
        s.p.cells.watch = &watch;
        if (tcr_free_solve(&s.p, &allocator, choice, &result) != TCR_OK)
            continue;
        const double least = least_by_trying(&s);
        expect_true(result.bound <= least * (1.0 + 1e-9) && result.total >= least * (1.0 - 1e-9));
        unproved += !result.proved;
    }
    expect_true(asked > 0 && unproved > 10);
    gsl_rng_free(rng);
}

CLAIM(memory_that_runs_out_is_an_error_and_nothing_leaks) {
    gsl_rng *rng = tcr_make_rng(9);
    sample s;
    draw(rng, &s, false);
    s.p.cells.lengths_most = 0;
    size_t failed = 0;
    for (size_t n = 1;; n++) {
        tcr_counted counted = {.fail_at = n};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        size_t choice[CELLS];
        tcr_free_result result;
        const tcr_status status = tcr_free_solve(&s.p, &allocator, choice, &result);
        expect_count(counted.blocks, 0);
        if (status == TCR_OK)
            break;
        expect_status(status, TCR_E_MEMORY);
        failed++;
    }
    expect_true(failed >= 6);
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &no_choice_with_its_own_line_has_less_squares,
        &no_choice_with_its_own_line_strays_less,
        &a_line_moves_no_farther_than_it_may_and_says_where_it_would_like_to,
        &a_line_that_is_held_leaves_the_choice_alone,
        &tips_moved_along_a_line_move_the_line_and_nothing_else,
        &a_fixed_cell_counts_as_one_that_has_no_choice,
        &a_search_that_is_stopped_has_a_choice_and_a_bound_below_it,
        &memory_that_runs_out_is_an_error_and_nothing_leaks,
    };
    return RUN_CLAIMS("free", claims);
}
