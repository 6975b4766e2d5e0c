/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PROGRESS_H
#define TCR_PROGRESS_H

#include <stdbool.h>

/*
 * Progress of long work, and a way to stop it. A call that can take long has a tcr_progress among
 * its options. It calls report on the caller's own thread, at least every 0.1 s while it works.
 */
typedef struct tcr_progress {
    /*
     * context is the member below. phase names the work in English; static storage. share is the
     * share of the phase that is done, 0 to 1, or NaN if unknown. Returns true to go on. After
     * false the call does not report again and ends soon: its result says that it was stopped, or
     * its status is TCR_E_STOPPED if there is no result. Only a plan reports again after false, in
     * the phase "samples": it then chooses by the samples that it has. If report is NULL, nothing
     * stops the work.
     */
    bool (*report)(void *context, const char *phase, double share);
    void *context; /* the caller's; may be NULL */
} tcr_progress;

#endif
