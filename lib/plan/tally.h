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
#include <tipcrest/status.h>

/* Where no other source is given: common practice of the trade, without a published one, or
 * assumed. */
typedef struct tcr_pace {
    double loss_share;          /* of fibres dropped, bent or misplaced, 0 to 1; default 0.1,
                                   assumed */
    double drop_minutes;        /* that a drop of glue serves, 0.001 to 1e9; default 20,
 common practice */
    double seconds_per_lash;    /* isolate, pick up, dip, place; 0 to 3600; default 45, common
                                   practice: two hours for 160 lashes */
    double seconds_per_change;  /* of the tray's row; 0 to 3600; default 5, assumed */
    double preparation_minutes; /* before the first lash; 0 to 1440; default 20, assumed */
} tcr_pace;

tcr_pace tcr_pace_default(void);

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
 * mm from the least of them are one. changes: of the tray's row, as the working order has them.
 * pace may be NULL for the default. TCR_E_ARGUMENT for NULL, also as a label; TCR_E_RANGE for a
 * length or diameter that is not finite, a fan below 1 or above 1000, more than a million uses or
 * ten million changes, a pace outside its range; TCR_E_MEMORY; then nothing is written. n log n.
 */
tcr_status tcr_tally_new(const tcr_tally_use *uses, size_t n, size_t changes, const tcr_pace *pace,
                         const tcr_allocator *allocator, tcr_tally *tally);

/* Frees the rows; NULL is accepted, and a tally of zeros. */
void tcr_tally_free(tcr_tally *tally);

#endif
