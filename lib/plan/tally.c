/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counts what a set takes: equal lengths and diameters are made the same double, sorted, counted.
 */
#include "plan/tally.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include <tipcrest/field.h>

#include "num/memory.h"
#include "num/order.h"

/* Lengths nearer than this are one, as everywhere in the model. */
static const double SAME_MM = 1e-9;

enum { USES_MOST = 1000000, FAN_MOST = 1000 };

/* Rounded up, but for what a product may exceed a whole number by rounding: 30 x 0.1. */
static double round_up(double value) { return ceil(value * (1.0 - 1e-12)); }

static tcr_status check(const tcr_tally_use *uses, size_t n, const tcr_plan_pace *pace) {
    if (n > USES_MOST || tcr_fields_validate(TCR_GROUP_PACE, pace, NULL) != TCR_OK)
        return TCR_E_RANGE;
    for (size_t i = 0; i < n; i++) {
        if (uses[i].curl == NULL)
            return TCR_E_ARGUMENT;
        if (!isfinite(uses[i].length_mm) || !isfinite(uses[i].diameter_mm) || uses[i].fan < 1 ||
            uses[i].fan > FAN_MOST)
            return TCR_E_RANGE;
    }
    return TCR_OK;
}

/* ---- Rows, at first one for each use ------------------------------------------------------------
 */

static bool comes_before(const void *one, const void *other, const void *unused) {
    const tcr_tally_row *a = one, *b = other;
    (void)unused;
    if (a->length_mm != b->length_mm)
        return a->length_mm < b->length_mm;
    const int order = strcmp(a->curl, b->curl);
    return order != 0 ? order < 0 : a->diameter_mm < b->diameter_mm;
}

/* Of sorted values keeps the least of each that are one; returns how many. */
static size_t keep_distinct(double *values, size_t n) {
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (kept == 0 || values[i] - values[kept - 1] > SAME_MM)
            values[kept++] = values[i];
    return kept;
}

/* The last of rising values that is not above one. */
static double take_for(const double *values, size_t n, double value) {
    size_t low = 0, high = n;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (values[middle] <= value)
            low = middle;
        else
            high = middle;
    }
    return values[low];
}

static double *number_of(tcr_tally_row *row, bool diameter) {
    return diameter ? &row->diameter_mm : &row->length_mm;
}

/* Makes those that are one the same double. */
static void unify(tcr_tally_row *row, size_t n, bool diameter, double *values) {
    for (size_t i = 0; i < n; i++)
        values[i] = *number_of(&row[i], diameter);
    tcr_sort(values, n);
    const size_t kept = keep_distinct(values, n);
    for (size_t i = 0; i < n; i++)
        *number_of(&row[i], diameter) = take_for(values, kept, *number_of(&row[i], diameter));
}

static size_t merge(tcr_tally_row *row, size_t n) {
    size_t rows = 0;
    for (size_t i = 0; i < n; i++) {
        if (rows > 0 && !comes_before(&row[rows - 1], &row[i], NULL)) {
            row[rows - 1].lashes += row[i].lashes;
            row[rows - 1].fibres += row[i].fibres;
        } else
            row[rows++] = row[i];
    }
    return rows;
}

/* ---- The call -----------------------------------------------------------------------------------
 */

static void sum_up(tcr_tally *t, double loss_share) {
    for (size_t i = 0; i < t->rows; i++) {
        tcr_tally_row *row = &t->row[i];
        row->with_loss = row->fibres + (size_t)round_up((double)row->fibres * loss_share);
        t->lashes += row->lashes;
        t->fibres += row->fibres;
        t->with_loss += row->with_loss;
    }
}

void tcr_tally_time(tcr_tally *t, size_t changes, size_t eye_changes, const tcr_plan_pace *pace) {
    t->placing_minutes = ((double)t->lashes * pace->lash_s + (double)changes * pace->change_s +
                          (double)eye_changes * pace->eye_change_s) /
                         60.0;
    t->minutes = pace->preparation_min + t->placing_minutes;
    if (t->lashes > 0) {
        const double drops = round_up(t->placing_minutes / pace->drop_min);
        t->drops = drops > 1.0 ? (size_t)drops : 1;
        t->refreshes = t->drops - 1;
    }
}

tcr_status tcr_tally_new(const tcr_tally_use *uses, size_t n, const tcr_plan_pace *pace,
                         const tcr_allocator *allocator, tcr_tally *tally) {
    if (tally == NULL || (n > 0 && uses == NULL))
        return TCR_E_ARGUMENT;
    const tcr_plan_pace usual = tcr_plan_pace_default();
    pace = pace != NULL ? pace : &usual;
    tcr_tally t = {0};
    tcr_status status = tcr_allocator_choose(allocator, &t.allocator);
    if (status == TCR_OK)
        status = check(uses, n, pace);
    if (status != TCR_OK)
        return status;
    double *values = tcr_resize(&t.allocator, NULL, n, sizeof *values);
    t.row = tcr_resize(&t.allocator, NULL, n, sizeof *t.row);
    if (values == NULL || t.row == NULL) {
        tcr_release(&t.allocator, values);
        tcr_release(&t.allocator, t.row);
        return TCR_E_MEMORY;
    }
    for (size_t i = 0; i < n; i++)
        t.row[i] = (tcr_tally_row){.length_mm = uses[i].length_mm,
                                   .curl = uses[i].curl,
                                   .diameter_mm = uses[i].diameter_mm,
                                   .lashes = 1,
                                   .fibres = (size_t)uses[i].fan};
    unify(t.row, n, false, values);
    unify(t.row, n, true, values);
    tcr_release(&t.allocator, values);
    tcr_sort_items(t.row, n, sizeof *t.row, comes_before, NULL);
    t.rows = merge(t.row, n);
    sum_up(&t, pace->loss_share);
    *tally = t;
    return TCR_OK;
}

void tcr_tally_free(tcr_tally *tally) {
    if (tally == NULL || tally->row == NULL)
        return;
    tcr_release(&tally->allocator, tally->row);
    *tally = (tcr_tally){0};
}
