/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file that grows as a study goes on. */
#define _XOPEN_SOURCE 700
#include "results/growing.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file/descriptor.h"

static int keep(tcr_growing *file, int failed) {
    if (file->failed == 0)
        file->failed = failed;
    return file->failed;
}

/* The lock goes when the process ends, so none is ever left behind. */
static int lock(int fd) {
    const struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    int result;
    do
        result = fcntl(fd, F_SETLK, &whole);
    while (result != 0 && errno == EINTR);
    if (result == 0)
        return 0;
    /* Some file systems have no locks; then nothing is held against a second process. */
    return errno == EACCES || errno == EAGAIN ? EWOULDBLOCK : 0;
}

/* Opens a regular file; anything else cannot be gone on with. */
static int open_regular(tcr_growing *file, const char *path, int flags) {
    struct stat found;
    file->path = path;
    file->failed = 0;
    file->bytes = file->used = 0;
    file->digests = false;
    tcr_sha256_begin(&file->digest);
    file->fd = tcr_open_unknown(path, flags);
    if (file->fd < 0)
        return keep(file, errno);
    if (fstat(file->fd, &found) != 0)
        return keep(file, errno);
    return S_ISREG(found.st_mode) ? 0 : keep(file, EEXIST);
}

int tcr_growing_open(tcr_growing *file, const char *path) {
    int failed = open_regular(file, path, O_RDWR | O_CREAT);
    if (failed == 0)
        failed = lock(file->fd);
    if (failed != 0)
        tcr_growing_close(file);
    return keep(file, failed);
}

int tcr_growing_read_only(tcr_growing *file, const char *path) {
    const int failed = open_regular(file, path, O_RDONLY);
    if (failed != 0)
        tcr_growing_close(file);
    return failed;
}

void tcr_growing_close(tcr_growing *file) {
    if (file->fd >= 0)
        close(file->fd);
    file->fd = -1;
}

int tcr_growing_flush(tcr_growing *file) {
    const unsigned char *at = file->buffer;
    size_t left = file->used;
    if (file->failed != 0)
        return file->failed;
    while (left > 0) {
        const ssize_t done = write(file->fd, at, left);
        if (done < 0 && errno != EINTR)
            return keep(file, errno);
        if (done > 0) {
            at += done;
            left -= (size_t)done;
        }
    }
    if (file->digests)
        tcr_sha256_add(&file->digest, file->buffer, file->used);
    file->used = 0;
    return 0;
}

int tcr_growing_write(tcr_growing *file, const void *bytes, size_t count) {
    const unsigned char *at = bytes;
    while (count > 0 && file->failed == 0) {
        const size_t room = sizeof file->buffer - file->used;
        const size_t part = count < room ? count : room;
        memcpy(file->buffer + file->used, at, part);
        file->used += part;
        file->bytes += part;
        at += part;
        count -= part;
        if (file->used == sizeof file->buffer)
            (void)tcr_growing_flush(file);
    }
    return file->failed;
}

int tcr_growing_sink(void *context, const void *bytes, size_t count) {
    return tcr_growing_write(context, bytes, count);
}

int tcr_growing_read(tcr_growing *file, void *bytes, size_t count, size_t *got) {
    char *to = bytes;
    *got = 0;
    while (*got < count) {
        const ssize_t part = read(file->fd, to + *got, count - *got);
        if (part == 0)
            break;
        if (part > 0)
            *got += (size_t)part;
        else if (errno != EINTR)
            return keep(file, errno);
    }
    return 0;
}

int tcr_growing_go(tcr_growing *file, uint64_t bytes) {
    return lseek(file->fd, (off_t)bytes, SEEK_SET) < 0 ? keep(file, errno) : 0;
}

int tcr_growing_cut(tcr_growing *file, uint64_t bytes) {
    int result;
    do
        result = ftruncate(file->fd, (off_t)bytes);
    while (result != 0 && errno == EINTR);
    return result != 0 ? keep(file, errno) : tcr_growing_go(file, bytes);
}

int tcr_growing_sync(tcr_growing *file) {
    if (tcr_growing_flush(file) != 0)
        return file->failed;
    return keep(file, tcr_sync_all(file->fd));
}
