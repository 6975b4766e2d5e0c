/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_WATCH_H
#define TCR_NUM_WATCH_H

/* Long work under a caller's tcr_progress: once stopped, it stays so, but where a plan goes on
 * without more samples. */

#include <stddef.h>

#include <tipcrest/progress.h>

typedef struct tcr_watch {
    tcr_progress progress;
    bool stopped;
} tcr_watch;

/* Reports, and says whether the work is to end; watch may be NULL. */
static inline bool tcr_watch_stops(tcr_watch *watch, const char *phase, double share) {
    if (watch == NULL)
        return false;
    if (!watch->stopped && watch->progress.report != NULL)
        watch->stopped = !watch->progress.report(watch->progress.context, phase, share);
    return watch->stopped;
}

#endif
