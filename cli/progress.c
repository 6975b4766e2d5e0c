/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Long work on a terminal. */
#include "progress.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
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

/* Rate and time left of what is done in steps alike. */
static void show_rate(tcr_watch *watch, double share, double seconds) {
    const double done = share - watch->phase_share, took = seconds - watch->phase_at;
    if (!(watch->items > 0.0) || !(done > 0.0) || !(took > 0.0))
        return;
    const double left = (1.0 - share) / done * took;
    fprintf(stderr, ", %.0f a second", done * watch->items / took);
    if (left < 100.0)
        fprintf(stderr, ", %.0f s left", left);
    else if (left < 6000.0)
        fprintf(stderr, ", %.0f min left", left / 60.0);
    else
        fprintf(stderr, ", %.1f h left", left / 3600.0);
}

bool tcr_watch_report(void *context, const char *phase, double share) {
    tcr_watch *watch = context;
    const double seconds = seconds_since(&watch->start);
    if (watch->phase == NULL || strcmp(watch->phase, phase) != 0) {
        watch->phase = phase;
        watch->phase_share = isnan(share) ? 0.0 : share;
        watch->phase_at = seconds;
    }
    if (seconds > 2.0 && seconds > watch->shown_at + 0.2 && isatty(STDERR_FILENO)) {
        fprintf(stderr, "\r%s", phase);
        if (!isnan(share))
            fprintf(stderr, ": %.0f %% done", 100.0 * share);
        if (!isnan(share))
            show_rate(watch, share, seconds);
        fprintf(stderr, ", %.0f s; Ctrl-C %s ", seconds, watch->early);
        watch->shown_at = seconds;
    }
    return !tcr_asked_to_end() && seconds < watch->limit_s;
}

void tcr_watch_end(tcr_watch *watch) {
    if (watch->shown_at > 0.0)
        fputs("\n", stderr);
}
