/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PROGRESS_H
#define TCR_PROGRESS_H

#include <stdbool.h>

/*
 * Progress of long work, and a way to stop it. A call that can take long has a tcr_progress among
 * its options and calls report on the caller's own thread, at least every 0.1 s.
 */
typedef struct tcr_progress {
    /*
     * context: the member below. phase: an English word for what is being done, static storage.
     * share: the share of the phase that is done, 0 to 1; NaN where it is not known. Returns true
     * to go on. After false the call asks no more and ends soon: its result says that it was
     * stopped, or, without a result, its status is TCR_E_STOPPED. NULL: the work is never stopped.
     */
    bool (*report)(void *context, const char *phase, double share);
    void *context; /* the caller's; may be NULL */
} tcr_progress;

#endif
