/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_TALLY_H
#define TCR_PLAN_TALLY_H

/*
 * What a set takes: fibres of each length, curl and diameter, with an allowance for those that are
 * lost, drops of glue, and minutes. All but the count follows from paces, which differ from artist
 * to artist; a report says which it used and where they come from.
 */
#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/plan.h>
#include <tipcrest/status.h>

/* What one lash carries. */
typedef struct tcr_tally_use {
    double length_mm;
    const char *curl; /* its label */
    double diameter_mm;
    int fan; /* fibres of one base, 1 or more */
} tcr_tally_use;

/* Of one length, curl and diameter. */
typedef struct tcr_tally_row {
    double length_mm;
    const char *curl; /* the label given with one of the lashes: the caller's */
    double diameter_mm;
    size_t lashes;
    size_t fibres;    /* lashes, each as often as its fan has fibres */
    size_t with_loss; /* fibres to have at hand: fibres (1 + loss), rounded up */
} tcr_tally_row;

typedef struct tcr_tally {
    tcr_tally_row *row; /* by length, then curl, byte by byte, then diameter */
    size_t rows;
    size_t lashes, fibres, with_loss; /* sums of the rows */
    double placing_minutes;           /* lashes and changes of row */
    double minutes;                   /* and preparation */
    size_t drops;                     /* of glue; the first when placing begins */
    size_t refreshes;                 /* drops after the first */
    tcr_allocator allocator;          /* for tcr_tally_free */
} tcr_tally;

/*
 * Counts n uses, whose order does not matter. Lengths, and diameters, that differ by at most 1e-9
 * mm from the least of them are one. pace, which may be NULL for the default, says how much is
 * lost. The minutes and drops stay 0. TCR_E_ARGUMENT for NULL, also as a label; TCR_E_RANGE for a
 * length or diameter that is not finite, a fan below 1 or above 1000, more than a million uses, a
 * pace outside its range; TCR_E_MEMORY; then nothing is written. n log n.
 */
tcr_status tcr_tally_new(const tcr_tally_use *uses, size_t n, const tcr_plan_pace *pace,
                         const tcr_allocator *allocator, tcr_tally *tally);

/* The minutes and drops of a tally with this many changes of the tray's row, by a valid pace. */
void tcr_tally_time(tcr_tally *tally, size_t changes, size_t eye_changes,
                    const tcr_plan_pace *pace);

/* Frees the rows; NULL is accepted, and a tally of zeros. */
void tcr_tally_free(tcr_tally *tally);

#endif
