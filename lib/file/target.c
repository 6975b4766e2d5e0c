/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One output: a temporary file that is renamed into place (POSIX makes rename atomic), or text kept
 * in memory for what cannot be taken back. Interrupted and short writes are gone on with.
 */
#define _GNU_SOURCE /* renameat2 */
#include "file/target.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <stdatomic.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "file/descriptor.h"
#include "num/memory.h"

enum {
    BUFFER_SIZE = 65536,
    NAMES_MAX = 1000,    /* temporary names tried; killed processes may have left some */
    NAME_SIZE = 64,      /* of a temporary name with its NUL */
    WRITE_MAX = 1 << 30, /* bytes given to one write(): Linux takes at most 2 GB */
};

tcr_identity tcr_identity_of(const struct stat *found) {
    return (tcr_identity){found->st_dev, found->st_ino};
}

bool tcr_identity_equal(tcr_identity one, tcr_identity other) {
    return one.device == other.device && one.number == other.number;
}

/* A copy of a text with room for more bytes behind it, or NULL. */
static char *copy_of(const tcr_allocator *allocator, const char *text, size_t more) {
    const size_t size = strlen(text) + 1;
    char *copy = tcr_resize(allocator, NULL, size + more, 1);
    return copy != NULL ? memcpy(copy, text, size) : NULL;
}

/* The absolute path of a file that is not there yet. */
static int resolve_new(const char *given, char resolved[PATH_MAX]) {
    struct stat found;
    if (lstat(given, &found) == 0)
        return ELOOP; /* a link that leads nowhere */
    const char *slash = strrchr(given, '/');
    const char *name = slash != NULL ? slash + 1 : given;
    if (*name == '\0')
        return *given == '\0' ? ENOENT : EISDIR;
    char folder[PATH_MAX] = ".";
    const size_t length = slash == NULL ? 1 : slash > given ? (size_t)(slash - given) : 1;
    if (length + strlen(name) + 1 >= sizeof folder)
        return ENAMETOOLONG;
    if (slash != NULL) {
        memcpy(folder, given, length);
        folder[length] = '\0';
    }
    if (realpath(folder, resolved) == NULL)
        return errno;
    const size_t at = strcmp(resolved, "/") == 0 ? 0 : strlen(resolved);
    if (at + 1 + strlen(name) >= PATH_MAX)
        return ENAMETOOLONG;
    resolved[at] = '/';
    memcpy(resolved + at + 1, name, strlen(name) + 1);
    return 0;
}

void tcr_folder_of(const char *path, char folder[PATH_MAX]) {
    const size_t length = (size_t)(strrchr(path, '/') - path);
    memcpy(folder, path, length);
    strcpy(folder + length, length == 0 ? "/" : "");
}

static int find_file(tcr_target *target, const char *given) {
    char path[PATH_MAX], folder[PATH_MAX];
    if (!target->exists) {
        const int failed = resolve_new(given, path);
        if (failed != 0)
            return failed;
    } else if (realpath(given, path) == NULL) {
        return errno;
    } else if (faccessat(AT_FDCWD, path, W_OK, AT_EACCESS) != 0) {
        return errno; /* rename would replace it all the same, but it was made read-only */
    }
    struct stat found;
    tcr_folder_of(path, folder);
    if (stat(folder, &found) != 0)
        return errno;
    target->folder = tcr_identity_of(&found);
    target->path = copy_of(target->allocator, path, 0);
    target->temporary = copy_of(target->allocator, path, NAME_SIZE);
    return target->path && target->temporary ? 0 : ENOMEM;
}

int tcr_target_find(tcr_target *target, const tcr_allocator *allocator, const char *given) {
    *target = (tcr_target){.allocator = allocator, .fd = -1};
    tcr_sha256_begin(&target->seal);
    target->given = copy_of(allocator, given, 0);
    if (target->given == NULL)
        return ENOMEM;
    struct stat found;
    const bool is_stdout = strcmp(given, "-") == 0;
    if (is_stdout)
        target->fd = STDOUT_FILENO;
    if ((is_stdout ? fstat(STDOUT_FILENO, &found) : stat(given, &found)) == 0) {
        target->exists = true;
        target->file = tcr_identity_of(&found);
        target->is_device = S_ISCHR(found.st_mode);
        target->mode = found.st_mode & 0777;
        target->owner = found.st_uid;
        target->group = found.st_gid;
    } else if (is_stdout || errno != ENOENT) {
        return errno;
    }
    if (is_stdout)
        return 0;
    if (target->exists && S_ISDIR(found.st_mode))
        return EISDIR;
    return target->exists && !S_ISREG(found.st_mode) ? 0 : find_file(target, given);
}

int tcr_target_allow(const tcr_target *target) {
    bool holds;
    if (target->path == NULL || !target->exists || target->replaces != TCR_REPLACES_SEALED)
        return 0;
    const int failed = tcr_seal_check(target->path, &holds);
    if (failed != 0)
        return failed == ENOENT ? 0 : failed; /* it has gone since */
    return holds ? 0 : EEXIST;
}

bool tcr_target_collides(const tcr_target *one, const tcr_target *other) {
    if (strcmp(one->given, "-") == 0 && strcmp(other->given, "-") == 0)
        return true;
    if (one->exists && other->exists) /* two may well share a device such as /dev/null */
        return tcr_identity_equal(one->file, other->file) && !one->is_device;
    return one->path != NULL && other->path != NULL &&
           tcr_identity_equal(one->folder, other->folder) &&
           strcmp(strrchr(one->path, '/'), strrchr(other->path, '/')) == 0;
}

/*
 * Makes a temporary file of a name that nothing has yet. The target calls it its own before it is
 * there, so that no signal comes between; what lies there already is seen before.
 */
static int open_temporary(tcr_target *target, unsigned number, mode_t mode) {
    struct stat found;
    char *name = strrchr(target->temporary, '/') + 1;
    snprintf(name, NAME_SIZE, TCR_TEMPORARY_START "%ld-%u" TCR_TEMPORARY_END, (long)getpid(),
             number);
    if (lstat(target->temporary, &found) == 0)
        return EEXIST;
    atomic_signal_fence(memory_order_seq_cst);
    target->is_temporary = 1;
    target->fd = tcr_open_again(target->temporary, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW, mode);
    const int failed = target->fd < 0 ? errno : 0;
    target->is_temporary = failed == 0;
    return failed;
}

int tcr_target_open(tcr_target *target, unsigned *names) {
    if (target->fd == STDOUT_FILENO)
        return 0;
    if (target->path == NULL) {
        target->fd = tcr_open_again(target->given, O_WRONLY | O_NOCTTY, 0);
        return target->fd >= 0 ? 0 : errno;
    }
    target->buffer = tcr_resize(target->allocator, NULL, BUFFER_SIZE, 1);
    if (target->buffer == NULL)
        return ENOMEM;
    target->capacity = BUFFER_SIZE;
    /* Nobody else may look into what replaces a private file, not even before its mode is set. */
    const mode_t mode = target->exists ? 0600 : 0666;
    int failed = EEXIST;
    for (int tries = 0; tries < NAMES_MAX && failed == EEXIST; tries++)
        failed = open_temporary(target, (*names)++, mode);
    if (failed != 0)
        return failed;
    if (!target->exists)
        return 0;
    /* Only root can keep another's file theirs; not every file system knows modes. */
    const int chowned = fchown(target->fd, target->owner, target->group);
    (void)chowned;
    return fchmod(target->fd, target->mode) == 0 || errno == EPERM || errno == ENOTSUP ? 0 : errno;
}

static int write_all(int fd, const char *bytes, size_t count) {
    while (count > 0) {
        const ssize_t written = write(fd, bytes, count < WRITE_MAX ? count : WRITE_MAX);
        if (written > 0) {
            bytes += written;
            count -= (size_t)written;
        } else if (written == 0) {
            return EIO;
        } else if (errno == EAGAIN || errno == EWOULDBLOCK) {
            struct pollfd wait = {.fd = fd, .events = POLLOUT};
            (void)poll(&wait, 1, -1); /* whatever comes of it, write() says what is the matter */
        } else if (errno != EINTR) {
            return errno;
        }
    }
    return 0;
}

static int flush(tcr_target *target) {
    const int failed = write_all(target->fd, target->buffer, target->used);
    target->used = 0;
    return failed;
}

/* Grows the buffer 1.5 times, or to hold count bytes more. */
static int reserve(tcr_target *target, size_t count) {
    if (count <= target->capacity - target->used)
        return 0;
    if (count > SIZE_MAX / 2 - target->used || target->capacity > SIZE_MAX / 2)
        return ENOMEM;
    const size_t least = target->used + count;
    const size_t more = target->capacity + target->capacity / 2 + BUFFER_SIZE;
    const size_t capacity = least > more ? least : more;
    char *buffer = tcr_resize(target->allocator, target->buffer, capacity, 1);
    if (buffer == NULL)
        return ENOMEM;
    target->buffer = buffer;
    target->capacity = capacity;
    return 0;
}

/* Writes what the seal does not count. */
static int append(tcr_target *target, const char *bytes, size_t count) {
    if (count == 0)
        return 0;
    int failed = 0;
    if (target->path == NULL) {
        failed = reserve(target, count);
    } else if (count > target->capacity - target->used) {
        failed = flush(target);
        if (failed == 0 && count >= target->capacity)
            return write_all(target->fd, bytes, count);
    }
    if (failed != 0)
        return failed;
    memcpy(target->buffer + target->used, bytes, count);
    target->used += count;
    return 0;
}

int tcr_target_write(tcr_target *target, const char *bytes, size_t count) {
    if (target->replaces == TCR_REPLACES_SEALED && count > 0)
        tcr_sha256_add(&target->seal, bytes, count);
    return append(target, bytes, count);
}

/* Writes what is still in the buffer, and the seal before it. */
static int write_end(tcr_target *target) {
    char seal[TCR_SEAL_SIZE];
    int failed = 0;
    if (target->replaces == TCR_REPLACES_SEALED) {
        tcr_seal_text(&target->seal, seal);
        failed = append(target, seal, strlen(seal));
    }
    return failed == 0 ? flush(target) : failed;
}

/* Closes it; the descriptor is gone even where close() fails. */
static int close_it(tcr_target *target) {
    const int fd = target->fd;
    target->fd = -1;
    if (fd < 0 || fd == STDOUT_FILENO)
        return 0;
    return close(fd) == 0 || errno == EINTR ? 0 : errno;
}

int tcr_target_finish(tcr_target *target) {
    if (target->is_finished)
        return 0;
    int failed = write_end(target);
    if (failed == 0)
        failed = tcr_sync_all(target->fd);
    const int not_closed = close_it(target);
    target->is_finished = true; /* also where it failed: the target is then given up */
    tcr_release(target->allocator, target->buffer);
    target->buffer = NULL;
    target->capacity = 0;
    return failed != 0 ? failed : not_closed;
}

int tcr_target_pour(tcr_target *target) {
    const int failed = write_end(target);
    const int not_closed = close_it(target);
    return failed != 0 ? failed : not_closed;
}

/* Whether a call failed because the system or the file system does not have it. */
static bool is_lacking(int code) {
    return code == EPERM || code == EINVAL || code == ENOTSUP || code == ENOSYS;
}

/* The temporary file gets a second name, and loses the first. */
static int place_by_link(const tcr_target *target) {
    if (link(target->temporary, target->path) != 0)
        return errno;
    unlink(target->temporary);
    return 0;
}

/* For a file system without links, such as that of many memory sticks. */
static int place_by_renaming(const tcr_target *target) {
#ifdef RENAME_NOREPLACE
    return renameat2(AT_FDCWD, target->temporary, AT_FDCWD, target->path, RENAME_NOREPLACE) == 0
               ? 0
               : errno;
#else
    (void)target;
    return ENOSYS;
#endif
}

/*
 * For one that has no such call either: makes an empty file of the name, which fails where there is
 * one, and moves the finished one over it. A process that is killed between the two, or power that
 * fails, leaves the empty file; without it a rename could replace somebody's.
 */
static int place_by_claim(const tcr_target *target) {
    const int fd = tcr_open_again(target->path, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW, 0600);
    if (fd < 0)
        return errno;
    close(fd);
    if (rename(target->temporary, target->path) == 0)
        return 0;
    const int failed = errno;
    unlink(target->path);
    return failed;
}

/* Puts a file in place of none. */
static int place_new(const tcr_target *target) {
    int failed = place_by_link(target);
    if (is_lacking(failed))
        failed = place_by_renaming(target);
    return is_lacking(failed) ? place_by_claim(target) : failed;
}

int tcr_target_place(tcr_target *target) {
    const bool may_replace = target->exists || target->replaces == TCR_REPLACES_ANY;
    const int failed = !may_replace                                   ? place_new(target)
                       : rename(target->temporary, target->path) == 0 ? 0
                                                                      : errno;
    target->is_placed = failed == 0;
    target->is_temporary = failed != 0;
    return failed;
}

int tcr_target_sync_folder(const tcr_target *target) {
    char folder[PATH_MAX];
    tcr_folder_of(target->path, folder);
    const int fd = tcr_open_again(folder, O_RDONLY | O_DIRECTORY, 0);
    if (fd < 0) /* a folder may be written to but not read: then the kernel syncs when it likes */
        return errno == EACCES ? 0 : errno;
    const int failed = tcr_sync_all(fd);
    close(fd);
    return failed;
}

void tcr_target_unlink(const tcr_target *target) {
    if (target->is_temporary)
        unlink(target->temporary);
}

void tcr_target_discard(tcr_target *target) {
    close_it(target);
    tcr_target_unlink(target);
    target->is_temporary = 0;
}

void tcr_target_release(tcr_target *target) {
    tcr_release(target->allocator, target->given);
    tcr_release(target->allocator, target->path);
    tcr_release(target->allocator, target->temporary);
    tcr_release(target->allocator, target->buffer);
}
