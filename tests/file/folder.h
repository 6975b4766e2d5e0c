/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FILE_FOLDER_H
#define TCR_TESTS_FILE_FOLDER_H

/* A folder of a test's own to write outputs in, and what is in it. */

#include <dirent.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <tipcrest/begin.h>
#include <tipcrest/file.h>

#include "support/check.h"

static char folder[PATH_MAX]; /* absolute */

static inline void enter_folder(void) {
    const char *base = getenv("TMPDIR");
    snprintf(folder, sizeof folder, "%s/outputs-XXXXXX", base != NULL ? base : "/tmp");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    ck_assert_int_eq(chdir(folder), 0);
}

/* How many names the folder has; those that begin with a text are told apart. */
static inline int names_in(const char *path, const char *beginning, int *others) {
    DIR *stream = opendir(path);
    ck_assert_ptr_nonnull(stream);
    int found = 0, rest = 0;
    for (const struct dirent *entry; (entry = readdir(stream)) != NULL;) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        if (strncmp(entry->d_name, beginning, strlen(beginning)) == 0)
            found++;
        else
            rest++;
    }
    closedir(stream);
    if (others != NULL)
        *others = rest;
    return found;
}

static inline void leave_folder(void) {
    char command[2 * PATH_MAX + 64];
    snprintf(command, sizeof command, "chmod -R u+rwx '%s' && rm -rf '%s'", folder, folder);
    ck_assert_int_eq(chdir("/"), 0);
    ck_assert_int_eq(system(command), 0);
}

static inline void put(const char *path, const char *text) {
    FILE *stream = fopen(path, "w");
    ck_assert_ptr_nonnull(stream);
    fputs(text, stream);
    fclose(stream);
}

/* What a file holds; "(none)" where there is no file. */
static inline const char *held(const char *path) {
    static char text[256];
    FILE *stream = fopen(path, "r");
    if (stream == NULL)
        return "(none)";
    text[fread(text, 1, sizeof text - 1, stream)] = '\0';
    fclose(stream);
    return text;
}

static inline tcr_outputs *new_outputs(void) {
    tcr_outputs *outputs;
    expect_status(tcr_outputs_new(NULL, &outputs), TCR_OK);
    return outputs;
}

/* Adds a target and writes a text to it. */
static inline tcr_status add(tcr_outputs *outputs, const char *path, const char *text,
                             tcr_error *error) {
    size_t index;
    tcr_status status = tcr_outputs_add(outputs, path, &index, error);
    if (status == TCR_OK)
        status = tcr_outputs_write(outputs, index, text, strlen(text));
    return status;
}

/* One target from beginning to end. */
static inline tcr_status write_file(const char *path, const char *text, tcr_error *error) {
    tcr_outputs *outputs = new_outputs();
    tcr_status status = add(outputs, path, text, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(outputs, error);
    tcr_outputs_free(outputs);
    return status;
}

/* A first set file and its surveys from beginning to end. */
static inline tcr_status begin_files(const tcr_begin_options *options, const char *set_path,
                                     const char *survey_path, tcr_error *error) {
    tcr_outputs *outputs = NULL;
    tcr_status status = tcr_outputs_new(NULL, &outputs);
    if (status == TCR_OK)
        status = tcr_begin_files(options, set_path, survey_path, outputs, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(outputs, error);
    if (outputs == NULL && error != NULL)
        error->status = status;
    tcr_outputs_free(outputs);
    return status;
}

#endif
