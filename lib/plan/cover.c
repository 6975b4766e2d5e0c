/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Even cover. For a largest gap g the fewest lashes are found by going from the first to the last
 * one that lies within g, again and again; the least g that so few suffice for is a difference of
 * two places. Which of the sets of just so many lashes without a larger gap has the fewest weak
 * ones is found by dynamic programming over the number of lashes and the last of them.
 */
#include "plan/cover.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "num/memory.h"

/* What going as far as a gap allows takes. */
typedef struct walk {
    size_t lashes; /* SIZE_MAX where two neighbours lie farther apart than that */
    double gap_mm; /* the largest that was met */
} walk;

/* With gaps up to g, or below it where strict. use may be NULL. */
static walk walk_by(const double *place, size_t n, double g, bool strict, bool *use) {
    walk w = {1, 0.0};
    size_t at = 0;
    if (use != NULL) {
        memset(use, 0, n * sizeof *use);
        use[0] = true;
    }
    while (at + 1 < n) {
        size_t next = at;
        while (next + 1 < n &&
               (strict ? place[next + 1] - place[at] < g : place[next + 1] - place[at] <= g))
            next++;
        if (next == at)
            return (walk){SIZE_MAX, INFINITY};
        w.gap_mm = fmax(w.gap_mm, place[next] - place[at]);
        w.lashes++;
        at = next;
        if (use != NULL)
            use[at] = true;
    }
    return w;
}

/* The least largest gap of 'wanted' lashes. */
static double least_gap(const double *place, size_t n, size_t wanted) {
    double low = 0.0, high = place[n - 1] - place[0];
    for (int i = 0; i < 50; i++) {
        const double middle = low + (high - low) / 2.0;
        const walk w = walk_by(place, n, middle, false, NULL);
        if (w.lashes <= wanted)
            high = w.gap_mm;
        else
            low = middle;
    }
    for (;;) { /* each round ends with a smaller difference of two places */
        const walk w = walk_by(place, n, high, true, NULL);
        if (w.lashes > wanted)
            return high;
        high = w.gap_mm;
    }
}

/* Adds lashes, whichever, until there are 'wanted'. */
static void fill_up(size_t n, size_t wanted, bool *use) {
    size_t used = 0;
    for (size_t i = 0; i < n; i++)
        used += use[i];
    for (size_t i = 0; i < n && used < wanted; i++)
        if (!use[i]) {
            use[i] = true;
            used++;
        }
}

/*
 * least[j]: the fewest weak ones among k lashes of which the last is j; from[k n + j]: the one
 * before.
 */
static tcr_status fewest_weak(const double *place, const bool *weak, size_t n, size_t wanted,
                              double g, const tcr_allocator *allocator, bool *use) {
    uint32_t *from = tcr_resize(allocator, NULL, wanted * n, sizeof *from);
    size_t *least = tcr_resize(allocator, NULL, n, 2 * sizeof *least);
    if (from == NULL || least == NULL) {
        tcr_release(allocator, from);
        tcr_release(allocator, least);
        return TCR_E_MEMORY;
    }
    size_t *now = least, *before = least + n;
    for (size_t j = 0; j < n; j++)
        now[j] = j == 0 ? weak[0] : SIZE_MAX;
    for (size_t k = 1; k < wanted; k++) {
        size_t *other = before;
        before = now;
        now = other;
        for (size_t j = 0; j < n; j++) {
            now[j] = SIZE_MAX;
            for (size_t i = j; i-- > 0 && place[j] - place[i] <= g;)
                if (before[i] < SIZE_MAX && before[i] + weak[j] < now[j]) {
                    now[j] = before[i] + weak[j];
                    from[k * n + j] = (uint32_t)i;
                }
        }
    }
    memset(use, 0, n * sizeof *use);
    for (size_t k = wanted, j = n - 1; k-- > 0; j = k > 0 ? from[k * n + j] : 0)
        use[j] = true;
    tcr_release(allocator, from);
    tcr_release(allocator, least);
    return TCR_OK;
}

static void measure(const double *place, const bool *weak, const bool *use, size_t n,
                    tcr_cover *cover) {
    *cover = (tcr_cover){0};
    size_t last = 0;
    for (size_t i = 0; i < n; i++) {
        if (i > 0)
            cover->least_gap_mm = fmax(cover->least_gap_mm, place[i] - place[i - 1]);
        if (!use[i])
            continue;
        if (cover->used > 0)
            cover->gap_mm = fmax(cover->gap_mm, place[i] - place[last]);
        last = i;
        cover->used++;
        cover->weak += weak != NULL && weak[i];
    }
}

tcr_status tcr_cover_choose(const double *place_mm, const bool *is_weak, size_t n, size_t wanted,
                            const tcr_allocator *allocator, bool *use, tcr_cover *cover) {
    wanted = wanted < 2 ? 2 : wanted;
    wanted = wanted < n ? wanted : n;
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < n; i++)
        use[i] = true;
    if (wanted < n) {
        const double g = least_gap(place_mm, n, wanted);
        (void)walk_by(place_mm, n, g, false, use);
        if (is_weak == NULL || n > TCR_COVER_EXACT / wanted)
            fill_up(n, wanted, use);
        else
            status = fewest_weak(place_mm, is_weak, n, wanted, g, allocator, use);
    }
    if (status == TCR_OK)
        measure(place_mm, is_weak, use, n, cover);
    return status;
}
