/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A first set file and its surveys as files that must not be there yet. All are prepared by
 * tcr_outputs; then each name is claimed with an empty file, which open() refuses where there is
 * one (O_EXCL), so that nothing is overwritten that came into being meanwhile; then all are put in
 * place over the claims. After a failure the claims are taken back.
 */
#include "file/begin.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file/error.h"
#include "file/keys.h"
#include "num/memory.h"

/* The set file first, then the surveys. */
enum { FILES_MAX = 1 + TCR_SIDES };

typedef struct new_file {
    char path[PATH_MAX];
    size_t index;    /* among the outputs */
    bool is_through; /* a device, a pipe or standard output: nothing to overwrite */
    bool is_claimed;
} new_file;

typedef struct job {
    tcr_begin_options options;
    tcr_outputs *outputs;
    new_file file[FILES_MAX];
    size_t files;
    char name[TCR_SIDES][PATH_MAX]; /* of the surveys, as the set file is to name them */
    tcr_file_error *error;
} job;

static tcr_status fail_for(const job *j, tcr_status status, const char *path, const char *text) {
    const tcr_place place = {path, 0, 0};
    return tcr_fail(j->error, status, place, "%s", text);
}

static tcr_status fail_exists(const job *j, const char *path) {
    return fail_for(j, TCR_E_WRITE, path,
                    "there is a file of this name already; choose another name, or move it away; "
                    "nothing was written");
}

/* ---- Names --------------------------------------------------------------------------- */

/* FILE.csv, or FILE-left.csv for one eye of two. */
static tcr_status survey_path(const job *j, const char *given, tcr_side side, char path[PATH_MAX]) {
    static const char ENDING[] = ".csv";
    const bool two = j->options.eye[TCR_LEFT] && j->options.eye[TCR_RIGHT];
    const char *word = two ? tcr_words_side.word[side] : "";
    const char *slash = strrchr(given, '/'), *base = slash != NULL ? slash + 1 : given;
    const size_t length = strlen(given), ending = sizeof ENDING - 1;
    if (strlen(base) <= ending || strcmp(given + length - ending, ENDING) != 0)
        return fail_for(j, TCR_E_CONTENT, given,
                        "a survey needs a name that ends in .csv, such as lashes.csv");
    if (length + strlen(word) + sizeof "-" > PATH_MAX)
        return fail_for(j, TCR_E_OPEN, given, "the name is too long");
    memcpy(path, given, length - ending);
    path[length - ending] = '\0';
    strcat(path, two ? "-" : "");
    strcat(path, word);
    strcat(path, ENDING);
    return TCR_OK;
}

/* The folder of a path, as it is after links; NULL with errno. */
static char *real_folder(const char *path, char real[PATH_MAX]) {
    char folder[PATH_MAX];
    const char *slash = strrchr(path, '/');
    const size_t length = slash != NULL ? (size_t)(slash - path) : 0;
    memcpy(folder, path, length);
    strcpy(folder + length, slash == NULL ? "." : length == 0 ? "/" : "");
    return realpath(folder, real);
}

/* How the set file names a survey: from its own folder. */
static tcr_status name_survey(const job *j, const char *path, char name[PATH_MAX]) {
    char set[PATH_MAX], survey[PATH_MAX];
    const char *slash = strrchr(path, '/'), *base = slash != NULL ? slash + 1 : path;
    if (real_folder(j->file[0].path, set) == NULL || real_folder(path, survey) == NULL)
        return fail_for(j, TCR_E_OPEN, path, "its folder cannot be found");
    const size_t inside = strcmp(set, "/") == 0 ? 0 : strlen(set);
    const bool is_below =
        strncmp(survey, set, inside) == 0 && (survey[inside] == '/' || survey[inside] == '\0');
    if (!is_below)
        return fail_for(
            j, TCR_E_CONTENT, path,
            "a survey must lie in the folder of its set file or below it; choose a name "
            "there");
    const char *between = survey + inside; /* "" or "/folder/below" */
    while (*between == '/')
        between++;
    const size_t length = strlen(between);
    if (length + 1 + strlen(base) >= PATH_MAX)
        return fail_for(j, TCR_E_OPEN, path, "the name is too long");
    memcpy(name, between, length);
    strcpy(name + length, length > 0 ? "/" : "");
    strcat(name, base);
    return TCR_OK;
}

/* ---- Files --------------------------------------------------------------------------- */

/* Adds a file that must be new. */
static tcr_status add_file(job *j, const char *path) {
    new_file *file = &j->file[j->files];
    struct stat found, target;
    if (strlen(path) >= PATH_MAX)
        return fail_for(j, TCR_E_OPEN, path, "the name is too long");
    memmove(file->path, path, strlen(path) + 1);
    if (strcmp(path, "-") == 0) {
        file->is_through = true;
    } else if (lstat(path, &found) == 0) {
        const bool leads = stat(path, &target) == 0;
        if (!leads || S_ISREG(target.st_mode))
            return fail_exists(j, path);
        file->is_through = !S_ISDIR(target.st_mode); /* of folders tcr_outputs_add has to say */
    }
    const tcr_status status = tcr_outputs_add(j->outputs, path, &file->index, j->error);
    if (status == TCR_OK)
        j->files++;
    return status;
}

static tcr_status claim_all(job *j) {
    for (size_t i = 0; i < j->files; i++) {
        new_file *file = &j->file[i];
        if (file->is_through)
            continue;
        const int fd = open(file->path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (fd < 0)
            return errno == EEXIST ? fail_exists(j, file->path)
                                   : fail_for(j, TCR_E_WRITE, file->path, "cannot be written");
        file->is_claimed = true;
        close(fd);
    }
    return TCR_OK;
}

static void take_back(job *j) {
    for (size_t i = 0; i < j->files; i++)
        if (j->file[i].is_claimed)
            unlink(j->file[i].path);
}

/* ---- The job ------------------------------------------------------------------------- */

/* One of the outputs, as a sink. */
typedef struct output {
    tcr_outputs *outputs;
    size_t index;
} output;

static int put_text(void *context, const char *text, size_t bytes) {
    const output *to = context;
    return tcr_outputs_write(to->outputs, to->index, text, bytes) == TCR_OK ? 0 : -1;
}

/* Finds out where everything goes; nothing is there yet but temporary files. */
static tcr_status prepare(job *j, const char *set_path, const char *given_survey) {
    tcr_status status = add_file(j, set_path);
    for (size_t side = 0; side < TCR_SIDES; side++) {
        char path[PATH_MAX];
        j->options.survey[side] = NULL;
        if (status != TCR_OK || given_survey == NULL || !j->options.eye[side])
            continue;
        status = survey_path(j, given_survey, (tcr_side)side, path);
        if (status == TCR_OK)
            status = add_file(j, path);
        if (status == TCR_OK)
            status = name_survey(j, path, j->name[side]);
        j->options.survey[side] = j->name[side];
    }
    return status == TCR_OK ? tcr_begin_check(&j->options, j->error) : status;
}

/* Writes all, in the order in which they were added. */
static tcr_status write_all(const job *j) {
    output to = {j->outputs, j->file[0].index};
    size_t next = 1;
    tcr_status status = tcr_begin_write(&j->options, put_text, &to);
    for (size_t side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (j->options.survey[side] != NULL) {
            to.index = j->file[next++].index;
            status = tcr_begin_write_survey((tcr_side)side, put_text, &to);
        }
    return status;
}

static tcr_status work(job *j, const char *set_path, const char *given_survey) {
    tcr_status status = prepare(j, set_path, given_survey);
    if (status != TCR_OK)
        return status;
    /* Where writing fails the commit refuses, and says why. */
    if (write_all(j) == TCR_OK)
        status = claim_all(j);
    if (status == TCR_OK)
        status = tcr_outputs_commit(j->outputs, j->error);
    if (status != TCR_OK)
        take_back(j);
    return status;
}

tcr_status tcr_begin_files(const tcr_begin_options *options, const char *set_path,
                           const char *given_survey, tcr_file_error *error) {
    const tcr_place nowhere = {"", 0, 0};
    tcr_file_error unread;
    tcr_allocator allocator;
    if (error == NULL)
        error = &unread;
    if (options == NULL || options->size != sizeof *options || set_path == NULL)
        return tcr_fail(error, TCR_E_ARGUMENT, nowhere, "%s", tcr_status_text(TCR_E_ARGUMENT));
    if (given_survey != NULL && strcmp(set_path, "-") == 0)
        return tcr_fail(
            error, TCR_E_CONTENT, nowhere,
            "a survey lies beside its set file, so the set file cannot go to standard output; give "
            "it a name");
    tcr_status status = tcr_allocator_choose(NULL, &allocator);
    /* Its paths are too much for the stack of a small thread. */
    job *j = status == TCR_OK ? tcr_resize(&allocator, NULL, 1, sizeof *j) : NULL;
    if (j == NULL)
        return tcr_fail_memory(error, set_path);
    memset(j, 0, sizeof *j);
    j->options = *options;
    j->error = error;
    for (size_t side = 0; side < TCR_SIDES; side++)
        j->options.survey[side] = NULL;
    status = tcr_begin_check(&j->options, error); /* before anything is touched */
    if (status == TCR_OK && tcr_outputs_new(NULL, &j->outputs) != TCR_OK)
        status = tcr_fail_memory(error, set_path);
    if (status == TCR_OK)
        status = work(j, set_path, given_survey);
    tcr_outputs_free(j->outputs);
    tcr_release(&allocator, j);
    return status;
}
