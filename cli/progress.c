/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Long work on a terminal. */
#include "progress.h"

#include <math.h>
#include <stdio.h>
#include <unistd.h>

#include "signals.h"

static double seconds_since(const struct timespec *start) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - start->tv_sec) + 1e-9 * (double)(now.tv_nsec - start->tv_nsec);
}

void tcr_watch_begin(tcr_watch *watch, const char *early) {
    *watch = (tcr_watch){.early = early, .limit_s = INFINITY};
    clock_gettime(CLOCK_MONOTONIC, &watch->start);
}

bool tcr_watch_report(void *context, const char *phase, double share) {
    tcr_watch *watch = context;
    const double seconds = seconds_since(&watch->start);
    if (seconds > 2.0 && seconds > watch->shown_at + 0.2 && isatty(STDERR_FILENO)) {
        fprintf(stderr, "\r%s", phase);
        if (!isnan(share))
            fprintf(stderr, ": %.0f %% done", 100.0 * share);
        fprintf(stderr, ", %.0f s; Ctrl-C %s ", seconds, watch->early);
        watch->shown_at = seconds;
    }
    return !tcr_asked_to_end() && seconds < watch->limit_s;
}

void tcr_watch_end(tcr_watch *watch) {
    if (watch->shown_at > 0.0)
        fputs("\n", stderr);
}
