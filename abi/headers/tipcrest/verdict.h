/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VERDICT_H
#define TCR_VERDICT_H 
#include <stddef.h>
#include <tipcrest/export.h>
#include <tipcrest/line.h>
typedef enum tcr_verdict {
    TCR_NOT_JUDGED = 0,
    TCR_EVEN = 1,
    TCR_MOSTLY_EVEN = 2,
    TCR_UNEVEN = 3
} tcr_verdict;
enum { TCR_VERDICTS = 4 };
TCR_API tcr_verdict tcr_verdict_of(size_t tips, size_t staggered);
TCR_API const char *tcr_verdict_text(tcr_verdict verdict);
typedef enum tcr_likeness {
    TCR_ALIKE = 0,
    TCR_ALIKE_BUT_HEIGHT = 1,
    TCR_UNLIKE = 2
} tcr_likeness;
enum { TCR_LIKENESSES = 3 };
TCR_API tcr_likeness tcr_likeness_of(const tcr_symmetry *symmetry, double tolerance_mm);
TCR_API const char *tcr_likeness_text(tcr_likeness likeness);
#endif
