/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_DESCRIPTOR_H
#define TCR_FILE_DESCRIPTOR_H

/* Calls on descriptors that a signal does not end. POSIX only. */

#include <errno.h>
#include <fcntl.h>
#include <sys/types.h>
#include <unistd.h>

/* As open(), never inherited by another program. */
static inline int tcr_open_again(const char *path, int flags, mode_t mode) {
    int fd;
    do
        fd = open(path, flags | O_CLOEXEC, mode);
    while (fd < 0 && errno == EINTR);
    return fd;
}

/* Opens what may turn out to be no file: it neither waits for a pipe nor takes a terminal. */
static inline int tcr_open_unknown(const char *path, int flags) {
    return tcr_open_again(path, flags | O_NONBLOCK | O_NOCTTY, 0666);
}

/* Syncs, where the file system knows how; elsewhere a file is as safe as it gets. 0 or an errno. */
static inline int tcr_sync_all(int fd) {
    while (fsync(fd) != 0)
        if (errno != EINTR)
            return errno == EINVAL || errno == ENOTSUP || errno == ENOSYS ? 0 : errno;
    return 0;
}

#endif
