/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A shared object to preload into a command: it writes down every call that changes files, for
 * disk.py, which works out what a disk may hold if the power fails at any of them. The environment
 * says what to do:
 *
 *   JOURNAL          the file to write
 *   JOURNAL_WITHOUT  "links": link() fails, as on a file system that does not know it
 *
 * A line for each call, with tabs between: what it does, then
 *
 *   open      the number of the file (its inode), 1 if the call made it, 1 if it emptied it, and
 *             its path
 *   write     the number, the place in the file, the count of bytes; these follow the line
 *   cut       the number, the size
 *   sync      the number
 *   folder    the path of a folder that is synced
 *   rename    both paths
 *   link      both paths
 *   unlink    the path
 *
 * The first line is "in" and the folder that paths begin in. Nothing is really synced, which takes
 * long; only the journal says that it was asked for.
 */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* RTLD_NEXT, renameat2 */
#endif
#include "replace.h"

#include <errno.h>
#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

enum { LINE_SIZE = 2 * PATH_MAX + 100 };

static int journal = -1;
static bool without_links;

#pragma GCC visibility push(default)

/* ---- The journal --------------------------------------------------------------------- */

/* Adds a line, and bytes behind it, in one call: threads may write too. */
static void add(const void *bytes, size_t count, const char *format, ...) {
    FIND_REAL(ssize_t, writev, (int, const struct iovec *, int))
    char line[LINE_SIZE];
    const int code = errno;
    va_list arguments;
    if (journal < 0)
        return;
    va_start(arguments, format);
    const int length = vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    const struct iovec parts[] = {{line, (size_t)length}, {(void *)(size_t)bytes, count}};
    if (length < 0 || length >= LINE_SIZE || real(journal, parts, 2) != length + (ssize_t)count)
        abort();
    errno = code;
}

__attribute__((constructor)) static void begin(void) {
    FIND_REAL(int, open, (const char *, int, ...))
    char folder[PATH_MAX];
    const char *path = getenv("JOURNAL");
    if (path == NULL || getcwd(folder, sizeof folder) == NULL)
        return;
    journal = real(path, O_WRONLY | O_CREAT | O_TRUNC | O_APPEND | O_CLOEXEC, 0666);
    const char *without = getenv("JOURNAL_WITHOUT");
    without_links = without != NULL && strcmp(without, "links") == 0;
    add(NULL, 0, "in\t%s\n", folder);
}

/* Whether a descriptor is that of a file; *number is then that of its inode. */
static bool is_file(int fd, unsigned long *number) {
    struct stat found;
    const int code = errno;
    const bool is_one = fstat(fd, &found) == 0 && S_ISREG(found.st_mode);
    errno = code;
    *number = is_one ? (unsigned long)found.st_ino : 0;
    return is_one;
}

/* ---- Opening ------------------------------------------------------------------------- */

static bool is_there(int folder, const char *path) {
    struct stat found;
    const int code = errno;
    const bool there = fstatat(folder, path, &found, AT_SYMLINK_NOFOLLOW) == 0;
    errno = code;
    return there;
}

static int opened(int fd, int flags, bool was_there, const char *path) {
    unsigned long number;
    if (fd >= 0 && (flags & O_ACCMODE) != O_RDONLY && is_file(fd, &number))
        add(NULL, 0, "open\t%lu\t%d\t%d\t%s\n", number, !was_there, (flags & O_TRUNC) != 0, path);
    return fd;
}

/* A path that begins in a folder other than the current one would be beyond disk.py. */
#define REPLACE_OPEN(name, parameters, arguments, folder)                                          \
    int name parameters {                                                                          \
        FIND_REAL(int, name, parameters)                                                           \
        TAKE_MODE(flags)                                                                           \
        const bool was_there = is_there(folder, path);                                             \
        return opened(real arguments, flags, was_there, path);                                     \
    }

REPLACE_OPEN(open, (const char *path, int flags, ...), (path, flags, mode), AT_FDCWD)
REPLACE_OPEN(open64, (const char *path, int flags, ...), (path, flags, mode), AT_FDCWD)
REPLACE_OPEN(openat, (int folder, const char *path, int flags, ...), (folder, path, flags, mode),
             folder)
REPLACE_OPEN(openat64, (int folder, const char *path, int flags, ...), (folder, path, flags, mode),
             folder)

/* ---- Writing ------------------------------------------------------------------------- */

/* Writes down what a call has just written at the place where the file now ends up. */
static void written(int fd, const void *bytes, ssize_t count) {
    unsigned long number;
    if (count <= 0 || !is_file(fd, &number))
        return;
    const off_t behind = lseek(fd, 0, SEEK_CUR);
    add(bytes, (size_t)count, "write\t%lu\t%lld\t%zd\n", number, (long long)(behind - count),
        count);
}

ssize_t write(int fd, const void *from, size_t count) {
    FIND_REAL(ssize_t, write, (int, const void *, size_t))
    const ssize_t done = real(fd, from, count);
    written(fd, from, done);
    return done;
}

/* As so many calls of write(), which POSIX allows. */
ssize_t writev(int fd, const struct iovec *parts, int count) {
    ssize_t sum = 0;
    for (int i = 0; i < count; i++) {
        const ssize_t done = write(fd, parts[i].iov_base, parts[i].iov_len);
        if (done < 0)
            return sum > 0 ? sum : -1;
        sum += done;
        if ((size_t)done < parts[i].iov_len)
            break;
    }
    return sum;
}

int ftruncate(int fd, off_t size) {
    FIND_REAL(int, ftruncate, (int, off_t))
    unsigned long number;
    const int done = real(fd, size);
    if (done == 0 && is_file(fd, &number))
        add(NULL, 0, "cut\t%lu\t%lld\n", number, (long long)size);
    return done;
}

/* ---- Syncing ------------------------------------------------------------------------- */

/* The path of a folder by its descriptor, as Linux knows it. */
static void sync_folder(int fd) {
    char name[64], path[PATH_MAX];
    snprintf(name, sizeof name, "/proc/self/fd/%d", fd);
    const ssize_t length = readlink(name, path, sizeof path - 1);
    if (length > 0)
        add(NULL, 0, "folder\t%.*s\n", (int)length, path);
}

static int synced(int fd) {
    unsigned long number;
    if (is_file(fd, &number))
        add(NULL, 0, "sync\t%lu\n", number);
    else
        sync_folder(fd);
    return 0;
}

int fsync(int fd) { return synced(fd); }

int fdatasync(int fd) { return synced(fd); }

/* ---- Names --------------------------------------------------------------------------- */

int rename(const char *from, const char *to) {
    FIND_REAL(int, rename, (const char *, const char *))
    const int done = real(from, to);
    if (done == 0)
        add(NULL, 0, "rename\t%s\t%s\n", from, to);
    return done;
}

int renameat2(int a, const char *from, int b, const char *to, unsigned flags) {
    FIND_REAL(int, renameat2, (int, const char *, int, const char *, unsigned))
    const int done = real(a, from, b, to, flags);
    if (done == 0)
        add(NULL, 0, "rename\t%s\t%s\n", from, to);
    return done;
}

int link(const char *from, const char *to) {
    FIND_REAL(int, link, (const char *, const char *))
    if (without_links) {
        errno = EPERM;
        return -1;
    }
    const int done = real(from, to);
    if (done == 0)
        add(NULL, 0, "link\t%s\t%s\n", from, to);
    return done;
}

int unlink(const char *path) {
    FIND_REAL(int, unlink, (const char *))
    const int done = real(path);
    if (done == 0)
        add(NULL, 0, "unlink\t%s\n", path);
    return done;
}

#pragma GCC visibility pop
