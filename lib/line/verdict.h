/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_VERDICT_H
#define TCR_LINE_VERDICT_H

#include <tipcrest/verdict.h>

/* What reports call the verdicts, in the order of the enumeration; the one copy. */
#define TCR_VERDICT_NAMES "not-judged", "even", "mostly-even", "uneven"

#endif
