/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Temporary files that processes left behind when they were killed, beside the targets of now. A
 * process that is at work keeps its files to itself: only those are named whose process is gone.
 */
#define _XOPEN_SOURCE 700
#include "file/leftover.h"

#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The process that made a file of this name; 0 where it is no name of a temporary file. */
static long process_of(const char *name) {
    static const char START[] = TCR_TEMPORARY_START;
    if (strncmp(name, START, sizeof START - 1) != 0)
        return 0;
    const char *at = name + sizeof START - 1;
    const size_t digits = strspn(at, "0123456789");
    errno = 0;
    const long process = strtol(at, NULL, 10);
    if (digits == 0 || errno != 0 || process <= 0 || process > INT_MAX || at[digits] != '-')
        return 0;
    at += digits + 1;
    at += strspn(at, "0123456789");
    return strcmp(at, TCR_TEMPORARY_END) == 0 ? process : 0;
}

/* Whether a temporary file of this process is one of the targets of now. */
static bool is_at_work(const tcr_target *latest, const char *name) {
    for (const tcr_target *t = latest; t != NULL; t = t->earlier)
        if (t->path != NULL && strcmp(strrchr(t->temporary, '/') + 1, name) == 0)
            return true;
    return false;
}

static bool is_left_over(const tcr_target *latest, const char *name) {
    const long process = process_of(name);
    if (process == 0)
        return false;
    if (process == (long)getpid())
        return !is_at_work(latest, name);
    return kill((pid_t)process, 0) != 0 && errno == ESRCH;
}

/* Tells what lies in one folder. */
static void say_folder(const tcr_target *latest, const char *folder, tcr_leftover_say say,
                       void *context) {
    char first[NAME_MAX + 1] = "", path[PATH_MAX + NAME_MAX + 2];
    size_t count = 0;
    DIR *stream = opendir(folder);
    if (stream == NULL) /* not readable, or no memory: say nothing */
        return;
    for (const struct dirent *entry; (entry = readdir(stream)) != NULL;) {
        if (!is_left_over(latest, entry->d_name))
            continue;
        if (count++ == 0 || strcmp(entry->d_name, first) < 0)
            snprintf(first, sizeof first, "%s", entry->d_name);
    }
    closedir(stream);
    if (count == 0)
        return;
    snprintf(path, sizeof path, "%s%s%s", folder, strcmp(folder, "/") == 0 ? "" : "/", first);
    say(context, path, count);
}

void tcr_leftovers_say(const tcr_target *latest, tcr_leftover_say say, void *context) {
    for (const tcr_target *t = latest; t != NULL; t = t->earlier) {
        char folder[PATH_MAX];
        bool is_told = t->path == NULL;
        for (const tcr_target *e = t->earlier; e != NULL && !is_told; e = e->earlier)
            is_told = e->path != NULL && tcr_identity_equal(e->folder, t->folder);
        if (is_told)
            continue;
        tcr_folder_of(t->path, folder);
        say_folder(latest, folder, say, context);
    }
}
