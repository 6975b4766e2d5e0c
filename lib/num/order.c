/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sorting and selection. The C library's qsort may allocate behind the allocator, so order
 * statistics are found here: quickselect with the median of three (Hoare 1961), which gives way to
 * heapsort (Williams 1964) when its pivots turn out bad, so that no input takes quadratic time.
 */
#include "num/order.h"

static void swap(double *a, double *b) {
    const double t = *a;
    *a = *b;
    *b = t;
}

static void sift_down(double *heap, size_t root, size_t n) {
    for (size_t child = 2 * root + 1; child < n; child = 2 * root + 1) {
        if (child + 1 < n && heap[child + 1] > heap[child])
            child++;
        if (heap[root] >= heap[child])
            return;
        swap(&heap[root], &heap[child]);
        root = child;
    }
}

/* Insertion, for columns that are nearly in order; false where that would take long, and the values
 * are in some other order. */
static bool insert_all(double *values, size_t n) {
    size_t allowed = 8 * n; /* moves */
    for (size_t i = 1; i < n; i++) {
        const double value = values[i];
        size_t at = i;
        for (; at > 0 && value < values[at - 1] && allowed > 0; at--, allowed--)
            values[at] = values[at - 1];
        values[at] = value;
        if (allowed == 0)
            return false;
    }
    return true;
}

void tcr_sort(double *values, size_t n) {
    if (insert_all(values, n))
        return;
    for (size_t i = n / 2; i-- > 0;)
        sift_down(values, i, n);
    for (size_t end = n; end-- > 1;) {
        swap(&values[0], &values[end]);
        sift_down(values, 0, end);
    }
}

/* Puts the median of first, middle and last in the middle and returns where that is. */
static double *middle_of_three(double *values, size_t low, size_t high) {
    const size_t middle = low + (high - low) / 2;
    if (values[middle] < values[low])
        swap(&values[middle], &values[low]);
    if (values[high] < values[low])
        swap(&values[high], &values[low]);
    if (values[high] < values[middle])
        swap(&values[high], &values[middle]);
    return &values[middle];
}

/* Moves the values below a pivot to the front; returns where the others begin. Without a branch on
 * the values, which a processor could not foresee. */
static size_t move_first(double *values, size_t low, size_t high, double pivot) {
    size_t others = low;
    for (size_t i = low; i < high; i++) {
        const double value = values[i];
        values[i] = values[others];
        values[others] = value;
        others += value < pivot;
    }
    return others;
}

void tcr_select(double *values, size_t n, size_t k) {
    size_t low = 0, high = n - 1;
    size_t allowed = 6 * n; /* items looked at, after which the pivots are taken to be bad */
    while (low < high) {
        const size_t width = high - low + 1;
        if (allowed < width) {
            tcr_sort(values + low, width);
            return;
        }
        allowed -= width;
        /* The pivot waits at the end, and then stands where it belongs. */
        double *pivot = middle_of_three(values, low, high);
        swap(pivot, &values[high]);
        const size_t from = move_first(values, low, high, values[high]);
        swap(&values[from], &values[high]);
        if (k == from)
            return;
        if (k < from)
            high = from - 1;
        else
            low = from + 1;
    }
}

/* The smallest value behind k, for a column that tcr_select has ordered about k. */
static double next_above(const double *values, size_t n, size_t k) {
    double next = values[k + 1];
    for (size_t i = k + 2; i < n; i++)
        if (values[i] < next)
            next = values[i];
    return next;
}

double tcr_median(double *values, size_t n) {
    const size_t k = (n - 1) / 2;
    tcr_select(values, n, k);
    return n % 2 == 1 ? values[k] : (values[k] + next_above(values, n, k)) / 2.0;
}

double tcr_quantile(double *values, size_t n, double p) {
    const double place = (double)(n - 1) * p;
    size_t k = (size_t)place;
    if (k > n - 1)
        k = n - 1;
    const double share = place - (double)k;
    tcr_select(values, n, k);
    if (k + 1 >= n || share <= 0.0)
        return values[k];
    return values[k] + share * (next_above(values, n, k) - values[k]);
}
