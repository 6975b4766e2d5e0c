/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Long work on a terminal. */
#include "progress.h"

#include <stdio.h>
#include <unistd.h>

static volatile sig_atomic_t interrupted;

static void interrupt(int number) {
    (void)number;
    interrupted = 1;
}

static double seconds_since(const struct timespec *start) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - start->tv_sec) + 1e-9 * (double)(now.tv_nsec - start->tv_nsec);
}

void tcr_progress_begin(tcr_progress *progress, const char *doing, const char *early) {
    const struct sigaction ours = {.sa_handler = interrupt, .sa_flags = (int)SA_RESETHAND};
    *progress = (tcr_progress){.doing = doing, .early = early, .share = -1.0};
    interrupted = 0;
    clock_gettime(CLOCK_MONOTONIC, &progress->start);
    if (sigaction(SIGINT, NULL, &progress->before) == 0 && progress->before.sa_handler != SIG_IGN)
        sigaction(SIGINT, &ours, NULL);
}

bool tcr_progress_stop(void *context) {
    tcr_progress *p = context;
    const double seconds = seconds_since(&p->start);
    if (seconds > 2.0 && seconds > p->shown_at + 0.2 && isatty(STDERR_FILENO)) {
        fprintf(stderr, "\r%s for %.0f s", p->doing, seconds);
        if (p->share >= 0.0)
            fprintf(stderr, ", %.0f %% done", 100.0 * p->share);
        fprintf(stderr, "; Ctrl-C %s ", p->early);
        p->shown_at = seconds;
    }
    return interrupted != 0;
}

void tcr_progress_end(tcr_progress *progress) {
    sigaction(SIGINT, &progress->before, NULL);
    if (progress->shown_at > 0.0)
        fputs("\n", stderr);
}
