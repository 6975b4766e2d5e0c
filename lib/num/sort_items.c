/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A stable sort without memory: runs of growing length are merged in place, by the symmetric merge
 * of Kim & Kutzner (2004). The C library's qsort is not stable, and may allocate behind the
 * allocator.
 */
#include <string.h>

#include "num/order.h"

typedef struct sorting {
    char *items;
    size_t size;
    tcr_before before;
    const void *context;
} sorting;

static bool comes_before(const sorting *s, size_t a, size_t b) {
    return s->before(s->items + a * s->size, s->items + b * s->size, s->context);
}

/* Swaps n items from a with n from b. */
static void swap_runs(const sorting *s, size_t a, size_t b, size_t n) {
    char kept[256], *one = s->items + a * s->size, *other = s->items + b * s->size;
    for (size_t left = n * s->size, part; left > 0; left -= part) {
        part = left < sizeof kept ? left : sizeof kept;
        memcpy(kept, one, part);
        memcpy(one, other, part);
        memcpy(other, kept, part);
        one += part;
        other += part;
    }
}

/* Puts the run from 'middle' to 'end' in front of that from 'low' to 'middle'. */
static void rotate(const sorting *s, size_t low, size_t middle, size_t end) {
    size_t i = middle - low, j = end - middle;
    while (i != j) {
        if (i > j) {
            swap_runs(s, middle - i, middle, j);
            i -= j;
        } else {
            swap_runs(s, middle - i, middle + j - i, i);
            j -= i;
        }
    }
    swap_runs(s, middle - i, middle, i);
}

/* Merges two sorted runs, neither empty; half of the shorter is left in each call of itself. */
static void merge(const sorting *s, size_t low, size_t middle, size_t end) {
    if (!comes_before(s, middle, middle - 1))
        return;
    if (end - low == 2) {
        rotate(s, low, middle, end);
        return;
    }
    const size_t half = low + (end - low) / 2, sum = half + middle;
    size_t from = middle > half ? sum - end : low, to = middle > half ? half : middle;
    while (from < to) {
        const size_t at = from + (to - from) / 2;
        if (comes_before(s, sum - 1 - at, at))
            to = at;
        else
            from = at + 1;
    }
    const size_t last = sum - from;
    if (from < middle && middle < last)
        rotate(s, from, middle, last);
    if (low < from && from < half)
        merge(s, low, from, half);
    if (half < last && last < end)
        merge(s, half, last, end);
}

void tcr_sort_items(void *items, size_t n, size_t size, tcr_before before, const void *context) {
    const sorting s = {items, size, before, context};
    for (size_t width = 1; width < n; width *= 2)
        for (size_t low = 0; low + width < n; low += 2 * width)
            merge(&s, low, low + width, low + 2 * width < n ? low + 2 * width : n);
}
