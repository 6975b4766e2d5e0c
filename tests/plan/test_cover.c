/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Even cover: closed forms, every subset tried, invariances. */
#include "plan/cover.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_rng.h>

#include "support/check.h"
#include "support/make.h"
#include "support/memory.h"

enum { MOST = 5000 };
static double place[MOST], mirrored[MOST];
static bool use[MOST];

/* What a choice is. */
typedef struct figures {
    size_t used;
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
        last = place[i];
    }
    return f;
}

static figures choose(size_t n, size_t wanted) {
    expect_status(tcr_cover_choose(place, n, wanted, NULL, use), TCR_OK);
    if (n > 0)
        expect_true(use[0] && use[n - 1]);
    return count(use, n);
}

static figures with_all(size_t n) {
    for (size_t i = 0; i < n; i++)
        use[i] = true;
    return count(use, n);
}

/* Places on a grid of 2^-step, so that sums and differences are exact. */
static void draw(gsl_rng *rng, size_t n, double step) {
    place[0] = 0.0;
    for (size_t i = 1; i < n; i++)
        place[i] = place[i - 1] + step * (double)gsl_rng_uniform_int(rng, 9);
}

CLAIM(evenly_spaced_lashes_leave_the_gap_of_the_closed_form) {
    for (size_t n = 2; n <= 60; n++)
        for (size_t m = 2; m <= n + 1; m++) {
            for (size_t i = 0; i < n; i++)
                place[i] = 0.25 * (double)i;
            given("%zu of %zu", m, n);
            const figures cover = choose(n, m);
            const size_t used = m < n ? m : n;
            /* Source: closed form. n - 1 steps over used - 1 gaps: one has at least the ceiling. */
            const size_t steps = (n - 1 + used - 2) / (used - 1);
            expect_count(cover.used, used);
            expect_same(cover.gap, 0.25 * (double)steps, "multiples of 1/4");
            /* As even as can be: no two gaps differ by more than a step. */
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
    figures best = {0, INFINITY, INFINITY};
    for (unsigned set = 0; set < 1U << n; set++) {
        bool chosen[16];
        for (size_t i = 0; i < n; i++)
            chosen[i] = (set >> i & 1U) != 0;
        const figures f = count(chosen, n);
        if (!chosen[0] || !chosen[n - 1] || f.used != wanted)
            continue;
        if (f.gap < best.gap || (f.gap == best.gap && f.squares < best.squares))
            best = f;
    }
    return best;
}

CLAIM(no_subset_has_a_smaller_largest_gap_and_few_are_more_even) {
    gsl_rng *rng = tcr_make_rng(51);
    double squares = 0.0, least = 0.0;
    for (size_t n = 2; n <= 12; n++)
        for (int trial = 0; trial < 24; trial++) {
            if (trial < 12)
                draw(rng, n, 0.125);
            else
                for (size_t i = 0; i < n; i++)
                    place[i] = i > 0 ? place[i - 1] + gsl_rng_uniform(rng) : -13.0;
            for (size_t m = 2; m <= n; m++) {
                given("%zu of %zu lashes, trial %d", m, n, trial);
                const figures cover = choose(n, m), best = best_subset(n, m);
                /* Source: all subsets. */
                expect_count(cover.used, best.used);
                expect_same(cover.gap, best.gap, "the same differences of places");
                squares += cover.squares;
                least += best.squares;
            }
        }
    given("%g, not %g", squares, least);
    /* Source: all subsets; it was 1.0014, an earlier result of this project. */
    expect_true(squares <= 1.01 * least);
    gsl_rng_free(rng);
}

CLAIM(mirror_and_shift_change_no_gap) {
    gsl_rng *rng = tcr_make_rng(53);
    for (int trial = 0; trial < 40; trial++) {
        const size_t n = 20 + gsl_rng_uniform_int(rng, 120), m = 2 + gsl_rng_uniform_int(rng, n);
        draw(rng, n, 0.0625);
        const figures plain = choose(n, m);
        for (int kind = 0; kind < 2; kind++) {
            for (size_t i = 0; i < n; i++)
                mirrored[i] = kind == 0 ? -place[n - 1 - i] : place[i] - 64.0;
            for (size_t i = 0; i < n; i++)
                place[i] = mirrored[i];
            given("%zu of %zu lashes, %s", m, n, kind == 0 ? "mirrored" : "and shifted");
            const figures other = choose(n, m);
            expect_count(other.used, plain.used);
            expect_same(other.gap, plain.gap, "differences on a grid of 1/16 are exact");
        }
    }
    gsl_rng_free(rng);
}

CLAIM(more_lashes_never_widen_the_gap) {
    gsl_rng *rng = tcr_make_rng(54);
    for (int trial = 0; trial < 10; trial++) {
        const size_t n = 90;
        draw(rng, n, 0.125);
        double last = INFINITY;
        const double least = with_all(n).gap;
        for (size_t m = 0; m <= n + 2; m++) {
            given("%zu lashes, trial %d", m, trial);
            const figures cover = choose(n, m);
            expect_count(cover.used, m < 2 ? 2 : m < n ? m : n);
            expect_true(cover.gap <= last && cover.gap >= least);
            last = cover.gap;
        }
        expect_same(last, least, "all lashes are used");
    }
    gsl_rng_free(rng);
}

CLAIM(few_lashes_and_equal_places_are_no_special_case) {
    expect_status(tcr_cover_choose(NULL, 0, 5, NULL, NULL), TCR_OK);
    place[0] = 3.0;
    expect_count(choose(1, 0).used, 1);
    place[1] = 5.5;
    const figures two = choose(2, 0);
    expect_count(two.used, 2);
    expect_same(two.gap, 2.5, "exact");
    for (size_t i = 0; i < 9; i++)
        place[i] = i % 2 == 0 ? 0.0 : -0.0;
    const figures equal = choose(9, 4);
    expect_count(equal.used, 4);
    expect_same(equal.gap, 0.0, "exact");
}

CLAIM(numbers_that_are_no_places_are_refused_and_nothing_is_written) {
    const double bad[] = {NAN, INFINITY, -INFINITY, 1.5};
    for (size_t k = 0; k < sizeof bad / sizeof *bad; k++) {
        const double places[] = {1.0, 2.0, bad[k], 3.0};
        bool chosen[4] = {true, false, true, false};
        given("%g", bad[k]);
        expect_status(tcr_cover_choose(places, 4, 3, NULL, chosen), TCR_E_RANGE);
        expect_true(chosen[0] && !chosen[1] && chosen[2] && !chosen[3]);
    }
    const double wide[] = {-1.5e308, 0.0, 1.5e308};
    bool chosen[3];
    expect_status(tcr_cover_choose(wide, 3, 2, NULL, chosen), TCR_E_RANGE);
    expect_status(tcr_cover_choose(wide, 3, 2, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_cover_choose(NULL, 3, 2, NULL, chosen), TCR_E_ARGUMENT);
}

CLAIM(huge_and_tiny_places_are_covered_too) {
    const double scales[] = {1e300, 4e-320};
    for (size_t s = 0; s < 2; s++) {
        for (size_t i = 0; i < 8; i++)
            place[i] = scales[s] * (double)i;
        given("scale %g", scales[s]);
        expect_near(choose(8, 3).gap / scales[s], 4.0, 0.01, "closed form; 4e-320 has few digits");
    }
}

CLAIM(no_memory_is_an_error_and_writes_and_leaks_nothing) {
    for (size_t i = 0; i < MOST; i++)
        place[i] = (double)i;
    tcr_counted counted = {.fail_at = 1};
    const tcr_allocator allocator = tcr_counted_allocator(&counted);
    use[0] = use[1] = true;
    expect_status(tcr_cover_choose(place, MOST, MOST / 2, &allocator, use), TCR_E_MEMORY);
    expect_true(use[0] && use[1]);
    counted = (tcr_counted){0};
    expect_status(tcr_cover_choose(place, MOST, MOST / 2, &allocator, use), TCR_OK);
    expect_count(counted.blocks, 0);
    expect_count(count(use, MOST).used, MOST / 2);
    expect_same(count(use, MOST).gap, 3.0, "closed form: 4999 steps over 2499 gaps");
}

int main(void) {
    static const TTest *const claims[] = {
        &evenly_spaced_lashes_leave_the_gap_of_the_closed_form,
        &no_subset_has_a_smaller_largest_gap_and_few_are_more_even,
        &mirror_and_shift_change_no_gap,
        &more_lashes_never_widen_the_gap,
        &few_lashes_and_equal_places_are_no_special_case,
        &numbers_that_are_no_places_are_refused_and_nothing_is_written,
        &huge_and_tiny_places_are_covered_too,
        &no_memory_is_an_error_and_writes_and_leaks_nothing,
    };
    return RUN_CLAIMS("cover", claims);
}
