/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VERDICT_H
#define TCR_VERDICT_H

#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/line.h>

/*
 * The words for how even a set is (model.md, section 6). They are a convention: common practice, no
 * source. They follow from the tolerance and from nothing else, so a check with another tolerance
 * may have another word. The calls allocate nothing and are thread-safe.
 */
typedef enum tcr_verdict {
    TCR_NOT_JUDGED = 0,  /* too few tips, or no line */
    TCR_EVEN = 1,        /* at least 95 % of the tips lie within the tolerance */
    TCR_MOSTLY_EVEN = 2, /* at least 80 % */
    TCR_UNEVEN = 3       /* fewer */
} tcr_verdict;
enum { TCR_VERDICTS = 4 };

/* The verdict on 'tips' tips, of which 'staggered' lie beyond the tolerance. Not judged for 0. */
TCR_API tcr_verdict tcr_verdict_of(size_t tips, size_t staggered);

/* "not-judged", "even", "mostly-even" or "uneven", as in the JSON report; "unknown" for any other
 * value. Static storage. */
TCR_API const char *tcr_verdict_text(tcr_verdict verdict);

/* How alike the lines of two eyes are; a convention too. */
typedef enum tcr_likeness {
    TCR_ALIKE = 0,            /* they differ nowhere by more than the tolerance */
    TCR_ALIKE_BUT_HEIGHT = 1, /* the same with their mean difference in height removed */
    TCR_UNLIKE = 2            /* neither */
} tcr_likeness;
enum { TCR_LIKENESSES = 3 };

/*
 * The likeness of two eyes for tolerance_mm (0 or more). TCR_UNLIKE for NULL and where a number is
 * NaN.
 */
TCR_API tcr_likeness tcr_likeness_of(const tcr_symmetry *symmetry, double tolerance_mm);

/* "alike", "alike-but-for-height" or "unlike"; "unknown" for any other value. Static storage. */
TCR_API const char *tcr_likeness_text(tcr_likeness likeness);

#endif
