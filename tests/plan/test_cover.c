/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Even cover: closed forms, every subset tried, invariances, another dynamic programme. */
#include "plan/cover.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_rng.h>

#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"

enum { MOST = 5000 };
static double place[MOST], mirrored[MOST];
static bool weak[MOST], mirrored_weak[MOST], use[MOST];

/* What a choice is, counted anew. */
typedef struct figures {
    size_t used, weak;
    double gap, squares;
} figures;

static figures count(const bool *chosen, size_t n) {
    figures f = {0};
    double last = 0.0;
    for (size_t i = 0; i < n; i++) {
        if (!chosen[i])
            continue;
        const double gap = f.used > 0 ? place[i] - last : 0.0;
        f.gap = fmax(f.gap, gap);
        f.squares += gap * gap;
        f.used++;
        f.weak += weak[i];
        last = place[i];
    }
    return f;
}

static tcr_cover choose(size_t n, size_t wanted) {
    tcr_cover cover;
    expect_status(tcr_cover_choose(place, weak, n, wanted, NULL, use, &cover), TCR_OK);
    const figures f = count(use, n);
    expect_count(cover.used, f.used);
    expect_count(cover.weak, f.weak);
    expect_same(cover.gap_mm, f.gap, "the same differences");
    if (n > 0)
        expect_true(use[0] && use[n - 1]);
    return cover;
}

/* Places on a grid of 2^-step, so that sums and differences are exact; weak with a chance. */
static void draw(gsl_rng *rng, size_t n, double step, double chance) {
    place[0] = 0.0;
    for (size_t i = 0; i < n; i++) {
        if (i > 0)
            place[i] = place[i - 1] + step * (double)gsl_rng_uniform_int(rng, 9);
        weak[i] = gsl_rng_uniform(rng) < chance;
    }
}

CLAIM(evenly_spaced_lashes_leave_the_gap_of_the_closed_form) {
    for (size_t n = 2; n <= 60; n++)
        for (size_t m = 2; m <= n + 1; m++) {
            for (size_t i = 0; i < n; i++) {
                place[i] = 0.25 * (double)i;
                weak[i] = false;
            }
            given("%zu of %zu", m, n);
            const tcr_cover cover = choose(n, m);
            const size_t used = m < n ? m : n;
            /* Source: closed form. n - 1 steps over used - 1 gaps: one has at least the ceiling. */
            const size_t steps = (n - 1 + used - 2) / (used - 1);
            expect_count(cover.used, used);
            expect_same(cover.gap_mm, 0.25 * (double)steps, "multiples of 1/4");
            expect_same(cover.least_gap_mm, 0.25, "multiples of 1/4");
            /* And the squares are least where no two gaps differ by more than a step. */
            double last = 0.0;
            for (size_t i = 1; i < n; i++)
                if (use[i]) {
                    expect_true(place[i] - last > 0.25 * ((double)steps - 1.5));
                    last = place[i];
                }
        }
}

/* The best of all subsets of 'wanted' lashes that hold the first and the last. */
static figures best_subset(size_t n, size_t wanted) {
    figures best = {0, 0, INFINITY, INFINITY};
    for (unsigned set = 0; set < 1U << n; set++) {
        bool chosen[16];
        for (size_t i = 0; i < n; i++)
            chosen[i] = (set >> i & 1U) != 0;
        const figures f = count(chosen, n);
        if (!chosen[0] || !chosen[n - 1] || f.used != wanted)
            continue;
        if (f.gap < best.gap ||
            (f.gap == best.gap &&
             (f.weak < best.weak || (f.weak == best.weak && f.squares < best.squares))))
            best = f;
    }
    return best;
}

CLAIM(no_subset_is_better) {
    gsl_rng *rng = tcr_make_rng(51);
    for (size_t n = 2; n <= 12; n++)
        for (int trial = 0; trial < 12; trial++) {
            draw(rng, n, 0.125, trial < 6 ? 0.3 : 0.7);
            for (size_t m = 2; m <= n; m++) {
                given("%zu of %zu lashes, trial %d", m, n, trial);
                const tcr_cover cover = choose(n, m);
                const figures best = best_subset(n, m); /* source: all subsets */
                expect_count(cover.used, best.used);
                expect_same(cover.gap_mm, best.gap, "differences on a grid of 1/8 are exact");
                expect_count(cover.weak, best.weak);
                expect_same(count(use, n).squares, best.squares, "squares of eighths are exact");
            }
        }
    gsl_rng_free(rng);
}

CLAIM(no_subset_is_better_off_the_grid) {
    gsl_rng *rng = tcr_make_rng(52);
    for (int trial = 0; trial < 60; trial++) {
        const size_t n = 3 + gsl_rng_uniform_int(rng, 10);
        place[0] = -13.0;
        for (size_t i = 1; i < n; i++)
            place[i] = place[i - 1] + gsl_rng_uniform(rng);
        for (size_t i = 0; i < n; i++)
            weak[i] = gsl_rng_uniform(rng) < 0.4;
        for (size_t m = 2; m <= n; m++) {
            given("%zu of %zu lashes, trial %d", m, n, trial);
            const tcr_cover cover = choose(n, m);
            const figures best = best_subset(n, m); /* source: all subsets */
            expect_same(cover.gap_mm, best.gap, "the same differences of places");
            expect_count(cover.weak, best.weak);
            expect_near(count(use, n).squares, best.squares, 1e-12,
                        "twelve squares of up to 144, rounded in another order");
        }
    }
    gsl_rng_free(rng);
}

CLAIM(mirror_and_shift_change_no_figure) {
    gsl_rng *rng = tcr_make_rng(53);
    for (int trial = 0; trial < 40; trial++) {
        const size_t n = 20 + gsl_rng_uniform_int(rng, 120), m = 2 + gsl_rng_uniform_int(rng, n);
        draw(rng, n, 0.0625, 0.3);
        const tcr_cover plain = choose(n, m);
        const double squares = count(use, n).squares;
        for (int kind = 0; kind < 2; kind++) {
            for (size_t i = 0; i < n; i++) {
                mirrored[i] = kind == 0 ? -place[n - 1 - i] : place[i] - 64.0;
                mirrored_weak[i] = kind == 0 ? weak[n - 1 - i] : weak[i];
            }
            for (size_t i = 0; i < n; i++) {
                place[i] = mirrored[i];
                weak[i] = mirrored_weak[i];
            }
            given("%zu of %zu lashes, %s", m, n, kind == 0 ? "mirrored" : "and shifted");
            const tcr_cover other = choose(n, m);
            expect_same(other.gap_mm, plain.gap_mm, "differences on a grid of 1/16 are exact");
            expect_same(other.least_gap_mm, plain.least_gap_mm, "as above");
            expect_count(other.weak, plain.weak);
            /* Shares of the line are rounded, so that ties may fall either way by rounding. */
            expect_near(count(use, n).squares, squares, 1e-9, "140 squares of up to 4000");
        }
    }
    gsl_rng_free(rng);
}

CLAIM(more_lashes_never_widen_the_gap) {
    gsl_rng *rng = tcr_make_rng(54);
    for (int trial = 0; trial < 10; trial++) {
        const size_t n = 90;
        draw(rng, n, 0.125, 0.2);
        double last = INFINITY;
        for (size_t m = 0; m <= n + 2; m++) {
            given("%zu lashes, trial %d", m, trial);
            const tcr_cover cover = choose(n, m);
            expect_count(cover.used, m < 2 ? 2 : m < n ? m : n);
            expect_true(cover.gap_mm <= last && cover.gap_mm >= cover.least_gap_mm);
            last = cover.gap_mm;
        }
        expect_same(last, choose(n, n).least_gap_mm, "all lashes are used");
    }
    gsl_rng_free(rng);
}

/*
 * The fewest weak ones, by the plain dynamic programme over lashes and their number, at a size that
 * takes the other way through the code. The gap is checked by going as far as it allows: m lashes
 * suffice for it and not for any gap below.
 */
CLAIM(weak_lashes_are_fewest_where_the_layers_would_take_too_much) {
    enum { N = MOST, M = 2500 };
    _Static_assert((long)M * (N - M + 1) > TCR_COVER_SQUARES_MOST, "the other way");
    gsl_rng *rng = tcr_make_rng(55);
    static size_t row[2][N];
    for (int trial = 0; trial < 6; trial++) {
        const double chances[] = {0.2, 0.5, 0.9};
        draw(rng, N, 0.125, chances[trial / 2]);
        /* All near the best gap, or one wide gap that leaves the others free. */
        for (size_t i = 0; i < N; i++)
            place[i] = 0.125 * (double)i + (i % 7 == 0 ? 0.0625 : 0.0) +
                       (trial % 2 == 1 && i > N / 3 ? 0.625 : 0.0);
        given("trial %d", trial);
        const tcr_cover cover = choose(N, M);
        expect_count(cover.used, M);
        size_t lashes = 1;
        for (size_t at = 0, next; at + 1 < N; at = next, lashes++)
            for (next = at + 1; next + 1 < N && place[next + 1] - place[at] < cover.gap_mm; next++)
                ;
        expect_true(lashes > M || cover.gap_mm <= cover.least_gap_mm);
        for (size_t j = 0; j < N; j++)
            row[0][j] = j == 0 ? weak[0] : MOST + 1;
        for (size_t k = 1; k < M; k++)
            for (size_t j = 0; j < N; j++) {
                size_t *now = row[k % 2], least = MOST + 1;
                for (size_t i = j; i-- > 0 && place[j] - place[i] <= cover.gap_mm;)
                    least = row[(k + 1) % 2][i] < least ? row[(k + 1) % 2][i] : least;
                now[j] = least > MOST ? MOST + 1 : least + weak[j];
            }
        expect_count(cover.weak, row[(M - 1) % 2][N - 1]); /* source: dynamic programme */
    }
    gsl_rng_free(rng);
}

CLAIM(few_lashes_and_equal_places_are_no_special_case) {
    weak[0] = weak[1] = weak[2] = weak[3] = true;
    tcr_cover cover;
    expect_status(tcr_cover_choose(NULL, NULL, 0, 5, NULL, NULL, &cover), TCR_OK);
    expect_count(cover.used, 0);
    expect_same(cover.gap_mm, 0.0, "as the header says");
    place[0] = 3.0;
    cover = choose(1, 0);
    expect_count(cover.used, 1);
    expect_count(cover.weak, 1);
    expect_same(cover.gap_mm, 0.0, "as the header says");
    place[1] = 5.5;
    cover = choose(2, 0);
    expect_count(cover.used, 2);
    expect_same(cover.gap_mm, 2.5, "exact");
    for (size_t i = 0; i < 9; i++)
        place[i] = i % 2 == 0 ? 0.0 : -0.0;
    cover = choose(9, 4);
    expect_count(cover.used, 4);
    expect_same(cover.gap_mm, 0.0, "exact");
    weak[3] = false;
    expect_count(choose(9, 3).weak, 1 + weak[8]); /* the first, and the last if it is */
}

CLAIM(numbers_that_are_no_places_are_refused_and_nothing_is_written) {
    const double bad[] = {NAN, INFINITY, -INFINITY, 1.5};
    for (size_t k = 0; k < sizeof bad / sizeof *bad; k++) {
        const double places[] = {1.0, 2.0, bad[k], 3.0};
        bool chosen[4] = {true, false, true, false};
        tcr_cover cover = {7, 7, 7.0, 7.0};
        given("%g", bad[k]);
        expect_status(tcr_cover_choose(places, NULL, 4, 3, NULL, chosen, &cover), TCR_E_RANGE);
        expect_true(chosen[0] && !chosen[1] && chosen[2] && !chosen[3] && cover.used == 7);
    }
    const double wide[] = {-1.5e308, 0.0, 1.5e308};
    bool chosen[3];
    tcr_cover cover;
    expect_status(tcr_cover_choose(wide, NULL, 3, 2, NULL, chosen, &cover), TCR_E_RANGE);
    expect_status(tcr_cover_choose(wide, NULL, 3, 2, NULL, NULL, &cover), TCR_E_ARGUMENT);
    expect_status(tcr_cover_choose(NULL, NULL, 3, 2, NULL, chosen, &cover), TCR_E_ARGUMENT);
    expect_status(tcr_cover_choose(wide, NULL, 3, 2, NULL, chosen, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_cover_choose(wide, NULL, (size_t)TCR_COVER_MOST + 1, 2, NULL, chosen, &cover),
                  TCR_E_ARGUMENT);
}

CLAIM(huge_and_tiny_places_are_covered_too) {
    const double scales[] = {1e300, 4e-320};
    for (size_t s = 0; s < 2; s++) {
        for (size_t i = 0; i < 8; i++) {
            place[i] = scales[s] * (double)i;
            weak[i] = false;
        }
        given("scale %g", scales[s]);
        const tcr_cover cover = choose(8, 3);
        expect_near(cover.gap_mm / scales[s], 4.0, 0.01, "closed form; 4e-320 has few digits");
    }
}

CLAIM(no_memory_is_an_error_and_leaks_nothing) {
    for (int large = 0; large < 2; large++) {
        const size_t n = large ? MOST : 50;
        for (size_t i = 0; i < n; i++) {
            place[i] = (double)i;
            weak[i] = i % 3 == 0;
        }
        tcr_status status = TCR_E_MEMORY;
        size_t failures = 0;
        for (size_t fail_at = 1; status == TCR_E_MEMORY && fail_at < 20; fail_at++) {
            tcr_counted counted = {.fail_at = fail_at};
            const tcr_allocator allocator = tcr_counted_allocator(&counted);
            tcr_cover cover = {.used = 7};
            status = tcr_cover_choose(place, weak, n, n / 2, &allocator, use, &cover);
            given("%zu lashes, call %zu fails", n, fail_at);
            expect_count(counted.blocks, 0);
            expect_count(cover.used, status == TCR_OK ? n / 2 : 7);
            failures += status == TCR_E_MEMORY;
        }
        expect_status(status, TCR_OK);
        expect_true(failures > 0);
    }
}

int main(void) {
    static const TTest *const claims[] = {
        &evenly_spaced_lashes_leave_the_gap_of_the_closed_form,
        &no_subset_is_better,
        &no_subset_is_better_off_the_grid,
        &mirror_and_shift_change_no_figure,
        &more_lashes_never_widen_the_gap,
        &weak_lashes_are_fewest_where_the_layers_would_take_too_much,
        &few_lashes_and_equal_places_are_no_special_case,
        &numbers_that_are_no_places_are_refused_and_nothing_is_written,
        &huge_and_tiny_places_are_covered_too,
        &no_memory_is_an_error_and_leaks_nothing,
    };
    return RUN_CLAIMS("cover", claims);
}
