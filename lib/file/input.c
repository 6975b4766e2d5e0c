/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Files are opened without waiting (a FIFO would block for ever) and then looked at, so that what
 * is read is what was looked at. A survey is opened by the path that its links lead to, and not
 * through another link.
 */
#define _XOPEN_SOURCE 700
#include "file/input.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file/descriptor.h"
#include "num/memory.h"

#ifdef PATH_MAX
enum { PATH_ROOM = PATH_MAX };
#else
enum { PATH_ROOM = 4096 };
#endif

/* Why a file cannot be opened or read, in plain words: the C library's depend on the locale. */
static const char *reason(int number) {
    switch (number) {
    case ENOENT:
    case ENOTDIR:
        return "there is no such file";
    case EACCES:
    case EPERM:
        return "there is no permission to read it";
    case ELOOP:
        return "its links lead round in a circle";
    case ENAMETOOLONG:
        return "its name is too long";
    case EMFILE:
    case ENFILE:
        return "too many files are open";
    case EIO:
        return "the disk reports an error";
    default:
        return "the system refuses to read it";
    }
}

/* Reads to the end into input; 0 or an errno; EFBIG above the limit. */
static int read_whole(const tcr_allocator *allocator, int file, size_t expected, size_t limit,
                      tcr_input *input) {
    size_t room = expected + 1; /* one more, to see the end */
    tcr_input whole = {tcr_resize(allocator, NULL, room, 1), 0};
    int failed = whole.bytes == NULL ? ENOMEM : 0;
    while (failed == 0) {
        if (whole.size == room) { /* it grew, or has no size beforehand */
            room = room <= limit / 2 ? 2 * room + 4096 : limit + 1;
            char *bytes = tcr_resize(allocator, whole.bytes, room, 1);
            if (bytes == NULL) {
                failed = ENOMEM;
                break;
            }
            whole.bytes = bytes;
        }
        const ssize_t got = read(file, whole.bytes + whole.size, room - whole.size);
        if (got == 0)
            break;
        if (got > 0)
            whole.size += (size_t)got;
        else if (errno != EINTR)
            failed = errno;
        if (whole.size > limit)
            failed = EFBIG;
    }
    if (failed != 0)
        tcr_input_release(allocator, &whole);
    else
        whole.bytes[whole.size] = '\0'; /* there is room: the end shows only where some is left */
    *input = whole;
    return failed;
}

/* Looks at an open file, reads it and closes it. */
static tcr_status read_open(const tcr_allocator *allocator, int file, const char *path,
                            size_t limit, tcr_input *input, tcr_error *error) {
    const tcr_place place = {path, 0, 0};
    struct stat about;
    tcr_status status = TCR_OK;
    if (fstat(file, &about) != 0)
        status = tcr_fail(error, TCR_E_OPEN, place, "cannot be read: %s", reason(errno));
    else if (S_ISDIR(about.st_mode))
        status = tcr_fail(error, TCR_E_CONTENT, place, "this is a folder; give the file itself");
    else if (!S_ISREG(about.st_mode))
        status = tcr_fail(error, TCR_E_CONTENT, place, "this is a device or a pipe; give a file");
    else if (about.st_size > (off_t)limit)
        status = tcr_input_fail_large(error, place, limit);
    if (status == TCR_OK) {
        const int failed = read_whole(allocator, file, (size_t)about.st_size, limit, input);
        if (failed == ENOMEM)
            status = tcr_fail_memory(error, path);
        else if (failed == EFBIG)
            status = tcr_input_fail_large(error, place, limit);
        else if (failed != 0)
            status = tcr_fail(error, TCR_E_OPEN, place, "cannot be read: %s", reason(failed));
    }
    close(file);
    return status;
}

tcr_status tcr_input_read(const tcr_allocator *allocator, const char *path, size_t limit,
                          tcr_input *input, tcr_error *error) {
    const int file = tcr_open_unknown(path, O_RDONLY);
    if (file < 0) {
        const tcr_place place = {path, 0, 0};
        return tcr_fail(error, TCR_E_OPEN, place, "cannot be opened: %s", reason(errno));
    }
    return read_open(allocator, file, path, limit, input, error);
}

static bool lies_below(const char *path, const char *folder) {
    size_t length = strlen(folder);
    if (length == 1) /* the root: its slash ends every folder's name */
        length = 0;
    return strncmp(path, folder, length) == 0 && path[length] == '/';
}

/*
 * Whether a path, of which nothing need be there, leads out of a folder: by the last of its folders
 * that is there. A name outside is then refused for what it is, whether there is such a file or
 * not.
 */
static bool leads_out(char *path, const char *folder) {
    char found[PATH_ROOM];
    for (char *slash; (slash = strrchr(path, '/')) != NULL && slash > path;) {
        *slash = '\0';
        if (realpath(path, found) != NULL)
            return strcmp(found, folder) != 0 && !lies_below(found, folder);
    }
    return false;
}

/* Where a survey is after links, and whether that leads out of the set file's folder; an errno. */
static int find_beside(const tcr_allocator *allocator, const char *set_path, const char *name,
                       char found[PATH_ROOM], bool *out) {
    char inside[PATH_ROOM];
    char *folder = tcr_input_join(allocator, set_path, "."),
         *path = tcr_input_join(allocator, set_path, name);
    int failed = folder == NULL || path == NULL ? ENOMEM : 0;
    *out = false;
    if (failed == 0 && realpath(folder, inside) == NULL) {
        failed = errno;
    } else if (failed == 0 && realpath(path, found) == NULL) {
        failed = errno;
        *out = leads_out(path, inside);
    } else if (failed == 0) {
        *out = strcmp(found, inside) != 0 && !lies_below(found, inside);
    }
    tcr_release(allocator, folder);
    tcr_release(allocator, path);
    return failed;
}

/* Fails for a file beside another that is not there or cannot be opened. */
static tcr_status fail_beside(const tcr_beside *beside, const char *name, int failed,
                              tcr_place place, tcr_error *error) {
    tcr_quoted quoted;
    tcr_quote(&quoted, name, strlen(name));
    if (failed == ENOENT && strchr(name, '\\') == NULL)
        return tcr_fail(error, TCR_E_OPEN, place,
                        "%s %s cannot be opened: %s; it must lie beside the %s or below it, and "
                        "capital letters count",
                        beside->what, quoted.text, reason(failed), beside->whose);
    return tcr_fail(error, TCR_E_OPEN, place, "%s %s cannot be opened: %s%s", beside->what,
                    quoted.text, reason(failed),
                    failed == ENOENT ? "; write / between folders, not \\" : "");
}

/* Finds a file that lies beside another; 'found' is where its links lead. */
static tcr_status look_beside(const tcr_allocator *allocator, const tcr_beside *beside,
                              const char *name, tcr_place place, char found[PATH_ROOM], char **path,
                              tcr_error *error) {
    tcr_quoted quoted;
    bool out;
    tcr_quote(&quoted, name, strlen(name));
    *path = NULL;
    if (name[0] == '\0')
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "%s is an empty text; it needs the name of a file", beside->what);
    if (name[0] == '/')
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "%s %s must lie beside the %s or below it; write its path from there",
                        beside->what, quoted.text, beside->whose);
    *path = tcr_input_join(allocator, beside->path, name);
    const int failed =
        *path != NULL ? find_beside(allocator, beside->path, name, found, &out) : ENOMEM;
    if (failed == ENOMEM)
        return tcr_fail_memory(error, beside->path);
    if (out)
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "%s %s leads out of the %s's folder; keep it beside the %s or below it",
                        beside->what, quoted.text, beside->whose, beside->whose);
    return failed == 0 ? TCR_OK : fail_beside(beside, name, failed, place, error);
}

tcr_status tcr_input_find_beside(const tcr_allocator *allocator, const tcr_beside *beside,
                                 const char *name, tcr_place place, char **path, tcr_error *error) {
    char found[PATH_ROOM];
    return look_beside(allocator, beside, name, place, found, path, error);
}

tcr_status tcr_input_read_beside(void *unused, const tcr_allocator *allocator, const char *set_path,
                                 const char *name, tcr_place place, tcr_input *input, char **path,
                                 tcr_error *error) {
    (void)unused;
    const tcr_beside beside = {"survey", "set file", set_path};
    char found[PATH_ROOM];
    const tcr_status status = look_beside(allocator, &beside, name, place, found, path, error);
    if (status != TCR_OK)
        return status;
    const int file = tcr_open_unknown(found, O_RDONLY | O_NOFOLLOW);
    if (file < 0)
        return fail_beside(&beside, name, errno, place, error);
    return read_open(allocator, file, *path, TCR_SURVEY_MAX, input, error);
}
