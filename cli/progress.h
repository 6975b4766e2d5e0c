/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_PROGRESS_H
#define TCR_CLI_PROGRESS_H

/* Long work: a terminal shows that it goes on, and an interrupt (Ctrl-C) ends it early. One at a
 * time. A second interrupt ends the process; one that is ignored stays so. */

#include <signal.h>
#include <stdbool.h>
#include <time.h>

typedef struct tcr_progress {
    const char *doing; /* "searching" */
    const char *early; /* what Ctrl-C does: "takes the best plan so far" */
    double share;      /* of the work that is done; below 0: not known */
    struct timespec start;
    double shown_at; /* seconds; 0: not yet */
    struct sigaction before;
} tcr_progress;

void tcr_progress_begin(tcr_progress *progress, const char *doing, const char *early);

/* Shows how far it is, at most five times a second; true after an interrupt. context is the
 * tcr_progress. */
bool tcr_progress_stop(void *context);

void tcr_progress_end(tcr_progress *progress);

#endif
