/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_SEEN_H
#define TCR_DRAW_SEEN_H

#include <tipcrest/check.h>

/* How even the tips of an eye are in any view, and against which line of that view: the line that
 * the check measures from. */
typedef struct tcr_seen {
    tcr_against against;
    tcr_status status; /* TCR_OK, or why there is no line */
    tcr_line line;
    tcr_evenness even;
} tcr_seen;

/* Whether there is a line, and tips enough to judge by how far they lie off it. */
bool tcr_seen_is_judged(const tcr_seen *seen);

/* TCR_OK, also where there is no line; TCR_E_MEMORY. */
tcr_status tcr_seen_of(const tcr_check *check, tcr_side side, const tcr_view *view, tcr_seen *seen);

#endif
