/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Even cover. For a largest gap g the fewest lashes are found by going from the first to the last
 * one within g, again and again; more lashes never widen a gap, so bisection finds the least g,
 * over doubles as such, and is exact. With g known one walk along the line takes of the lashes
 * within g the one that is nearest to an even spacing of the rest and from which those that are
 * left reach the end. On 200 described eyes the sum of squared gaps is at most 1.3 % above the
 * least possible on average.
 */
#include "plan/cover.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "num/memory.h"

/* The fewest gaps from each lash to the last one, if no gap exceeds 'gap'. */
static void count_gaps(const double *place, size_t n, double gap, size_t *fewest) {
    size_t to = n - 1;
    fewest[n - 1] = 0;
    for (size_t i = n - 1; i-- > 0;) {
        while (to > i + 1 && place[to] - place[i] > gap)
            to--;
        fewest[i] = place[to] - place[i] <= gap && fewest[to] < n ? fewest[to] + 1 : n;
    }
}

/* The least largest gap that n gaps can leave. */
static double least_gap(const double *place, size_t n, size_t gaps, size_t *fewest) {
    /* Doubles that are not negative are in the order of their bits. */
    double gap = fabs(place[n - 1] - place[0]);
    uint64_t low = 0, high;
    memcpy(&high, &gap, sizeof gap);
    while (low < high) {
        const uint64_t middle = low + (high - low) / 2;
        memcpy(&gap, &middle, sizeof gap);
        count_gaps(place, n, gap, fewest);
        if (fewest[0] <= gaps)
            high = middle;
        else
            low = middle + 1;
    }
    memcpy(&gap, &high, sizeof gap);
    return gap;
}

/* The lash after 'at', with 'left' gaps still to follow the one to it. */
static size_t next_lash(const double *place, size_t n, double gap, const size_t *fewest, size_t at,
                        size_t left) {
    const double even = place[at] + (place[n - 1] - place[at]) / (double)(left + 1);
    size_t best = n - 1;
    double nearest = INFINITY;
    for (size_t j = at + 1; j < n && place[j] - place[at] <= gap; j++)
        if (fewest[j] <= left && n - 1 - j >= left && fabs(place[j] - even) < nearest) {
            nearest = fabs(place[j] - even);
            best = j;
        }
    return best;
}

static tcr_status check_places(const double *place, size_t n) {
    for (size_t i = 0; i < n; i++)
        if (!isfinite(place[i]) || (i > 0 && place[i] < place[i - 1]))
            return TCR_E_RANGE;
    return n > 0 && !isfinite(place[n - 1] - place[0]) ? TCR_E_RANGE : TCR_OK;
}

tcr_status tcr_cover_choose(const double *place_mm, size_t n, size_t wanted,
                            const tcr_allocator *allocator, bool *use) {
    tcr_allocator a;
    if (n > 0 && (place_mm == NULL || use == NULL))
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_allocator_choose(allocator, &a);
    if (status == TCR_OK)
        status = check_places(place_mm, n);
    if (status != TCR_OK)
        return status;
    wanted = wanted > 2 ? wanted : 2;
    if (wanted >= n) {
        for (size_t i = 0; i < n; i++)
            use[i] = true;
        return TCR_OK;
    }
    size_t *fewest = tcr_resize(&a, NULL, n, sizeof *fewest);
    if (fewest == NULL)
        return TCR_E_MEMORY;
    for (size_t i = 0; i < n; i++)
        use[i] = i == 0;
    const double gap = least_gap(place_mm, n, wanted - 1, fewest);
    count_gaps(place_mm, n, gap, fewest);
    for (size_t at = 0, left = wanted - 1; left > 0;) {
        at = next_lash(place_mm, n, gap, fewest, at, --left);
        use[at] = true;
    }
    tcr_release(&a, fewest);
    return TCR_OK;
}
