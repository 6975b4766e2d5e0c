/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RESULTS_GROWING_H
#define TCR_RESULTS_GROWING_H

/*
 * A file that grows as a study goes on, under its own name. What was written stays when the process
 * ends, however it ends. Calls return 0 or an errno; the first failure sticks.
 */
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "file/digest.h"

typedef struct tcr_growing {
    const char *path;  /* the caller's */
    int fd;            /* -1: not open */
    int failed;        /* errno of the first failure */
    uint64_t bytes;    /* written since it began, with those on their way */
    bool digests;      /* whether there is to be a digest: false when it is opened */
    tcr_sha256 digest; /* of what is not on its way any more */
    size_t used;       /* bytes on their way */
    unsigned char buffer[1 << 14];
} tcr_growing;

/* Opens a file, which is made if it is not there, at its start; what it has stays. EWOULDBLOCK
 * where another process has it open for a study, EEXIST for what is no regular file. */
int tcr_growing_open(tcr_growing *file, const char *path);

/* Opens a file of another study, to be read alone. */
int tcr_growing_read_only(tcr_growing *file, const char *path);

/* Closes it without a word; allowed also where it never was open. */
void tcr_growing_close(tcr_growing *file);

int tcr_growing_write(tcr_growing *file, const void *bytes, size_t count);
/* Hands what is on its way to the system. */
int tcr_growing_flush(tcr_growing *file);
/* The same as a sink; context is the file. */
int tcr_growing_sink(void *context, const void *bytes, size_t count);

/* Reads up to 'count' bytes from the present place; *got is less only at the end. */
int tcr_growing_read(tcr_growing *file, void *bytes, size_t count, size_t *got);
/* Cuts the file off behind so many bytes, and goes on there. */
int tcr_growing_cut(tcr_growing *file, uint64_t bytes);
/* Goes to a place to read from. */
int tcr_growing_go(tcr_growing *file, uint64_t bytes);

/* Flushes it and makes sure that it is on the disk. */
int tcr_growing_sync(tcr_growing *file);

#endif
