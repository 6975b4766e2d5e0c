/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_PROGRESS_H
#define TCR_CLI_PROGRESS_H

/* Long work: a terminal shows that it goes on. */

#include <stdbool.h>
#include <time.h>

typedef struct tcr_watch {
    const char *early; /* what Ctrl-C does: "keeps the best so far" */
    struct timespec start;
    int columns;     /* of the longest line shown */
    double shown_at; /* seconds; 0: not yet */
    double limit_s;  /* ends the work as a signal does; INFINITY, as begun: no limit */
    double items;    /* 0, as begun, or how many the work has: rate and time left are shown then */
    const char *phase;            /* that the rate is of; NULL: not yet */
    double phase_share, phase_at; /* where it began: share, and seconds */
} tcr_watch;

/* Seconds since a time of CLOCK_MONOTONIC. */
double tcr_seconds_since(const struct timespec *start);

/* "12 s", "3 min", "2.5 h", "12 days"; room for TCR_DURATION_SIZE characters. */
enum { TCR_DURATION_SIZE = 32 };
void tcr_duration_text(double seconds, char *text);

void tcr_watch_begin(tcr_watch *watch, const char *early);

/* Shows what is being done and which share of it is done, NaN where that is not known, at most five
 * times a second. Returns true to go on, false after the limit or where a signal asked to end
 * (signals.h). context is the tcr_watch. */
bool tcr_watch_report(void *context, const char *phase, double share);

void tcr_watch_end(tcr_watch *watch);

#endif
