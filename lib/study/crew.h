/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_CREW_H
#define TCR_STUDY_CREW_H

/*
 * A crew: threads that take tiles of work one after the other. Tiles belong to blocks; a block is
 * handed on when all of its tiles are done, while the crew goes on with the next ones. It knows
 * nothing of studies.
 */
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/progress.h>
#include <tipcrest/status.h>

enum { TCR_CREW_AHEAD = 3 }; /* blocks that are in work or wait to be handed on */

typedef struct tcr_crew_work {
    uint64_t tiles;         /* in all */
    uint64_t tiles_a_block; /* the last block may have fewer */
    size_t threads;
    tcr_progress progress;
    const char *phase;
    void *context;
    /* Makes what a thread needs; TCR_E_MEMORY. */
    tcr_status (*begin)(void *context, void **own);
    void (*end)(void *context, void *own);
    /* Does a tile. Any status but TCR_OK ends all work. */
    tcr_status (*tile)(void *context, void *own, uint64_t tile);
    /* Takes a block that is done, in the caller's thread and in order; false stops the work. NULL:
     * nobody wants them. */
    bool (*hand_on)(void *context, uint64_t block);
} tcr_crew_work;

/* Does the work. TCR_E_STOPPED, or the status of begin or tile. With one thread, and where none can
 * be started, the caller's does it. */
tcr_status tcr_crew_run(const tcr_crew_work *work);

#endif
