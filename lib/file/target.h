/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_TARGET_H
#define TCR_FILE_TARGET_H

/*
 * One output of tcr_outputs: a file that appears whole or not at all, or a device, a pipe or
 * standard output, for which text is kept in memory until all of it is there. Calls return 0 or an
 * errno.
 */
#include <limits.h>
#include <signal.h>
#include <stdbool.h>
#include <stddef.h>
#include <sys/stat.h>

#include <tipcrest/alloc.h>

#include <tipcrest/error.h>

#include "file/digest.h"

/* Fills error for a file at a path that cannot be opened for writing (TCR_E_OPEN) or written
 * (TCR_E_WRITE), with the errno; returns the status, TCR_E_MEMORY for ENOMEM. */
tcr_status tcr_fail_target(tcr_error *error, tcr_status status, const char *given, int code);

/* What makes two names the same file. */
typedef struct tcr_identity {
    dev_t device;
    ino_t number;
} tcr_identity;

tcr_identity tcr_identity_of(const struct stat *found);
bool tcr_identity_equal(tcr_identity one, tcr_identity other);

/* What a target may replace. */
typedef enum tcr_replaces {
    TCR_REPLACES_ANY,   /* any file */
    TCR_REPLACES_NONE,  /* none: there must be no file of this name */
    TCR_REPLACES_SEALED /* a file whose seal holds (digest.h); it gets a seal itself */
} tcr_replaces;

/* How the name of a temporary file begins and ends; between stand the process and a number. */
#define TCR_TEMPORARY_START ".tipcrest-"
#define TCR_TEMPORARY_END ".tmp"

typedef struct tcr_target tcr_target;

struct tcr_target {
    const tcr_allocator *allocator;
    tcr_target *earlier; /* among those of its outputs */
    char *given;         /* the path as the caller wrote it */
    char *path;          /* what links lead to, absolute; NULL where written through */
    char *temporary;     /* name in the same folder, */
    volatile sig_atomic_t is_temporary; /* while that file may be there; for a signal handler */
    bool is_finished;                   /* the temporary file has all of its text and is closed */
    bool is_placed;                     /* the temporary file has become the target */
    tcr_replaces replaces;
    tcr_sha256 seal; /* of what was written */
    bool exists;     /* there was a file when the target was found; 'file' is then known */
    bool is_device;  /* a character device */
    mode_t mode;     /* of the old file, with its owner and group */
    uid_t owner;
    gid_t group;
    tcr_identity file, folder;
    int fd; /* -1 while closed; STDOUT_FILENO is not ours to close */
    char *buffer;
    size_t used, capacity;
};

/* The folder of an absolute path. */
void tcr_folder_of(const char *path, char folder[PATH_MAX]);

/* Finds out what is at a path, without changing anything. Release it also on failure. */
int tcr_target_find(tcr_target *target, const tcr_allocator *allocator, const char *given);

/* Whether a sealed target may replace the file that is there; EEXIST where that file's seal does
 * not hold. */
int tcr_target_allow(const tcr_target *target);

/* Whether two targets would get into each other's way. */
bool tcr_target_collides(const tcr_target *one, const tcr_target *other);

/* Opens it: the temporary file, or the device. names counts the names tried so far. */
int tcr_target_open(tcr_target *target, unsigned *names);

int tcr_target_write(tcr_target *target, const char *bytes, size_t count);

/* A file: writes the rest and its seal, syncs and closes it; nothing where that is done. */
int tcr_target_finish(tcr_target *target);

/* A device, pipe or standard output: writes everything and closes it. */
int tcr_target_pour(tcr_target *target);

/* Puts a finished file in place; EEXIST where there was none and now is one, and it may not be
 * replaced. */
int tcr_target_place(tcr_target *target);

/* Makes the new name durable. */
int tcr_target_sync_folder(const tcr_target *target);

/* Removes the temporary file, if there is one. A signal handler may call it at any moment. */
void tcr_target_unlink(const tcr_target *target);

/* Closes it and removes what is not in place. */
void tcr_target_discard(tcr_target *target);

/* Frees the memory of a target that is discarded or was never opened. */
void tcr_target_release(tcr_target *target);

#endif
