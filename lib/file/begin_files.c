/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A first set file and its surveys, as new files that appear together or not at all. Most of it is
 * about names: where the surveys go, and how the set file names them.
 */
#include "file/begin.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

#include "file/error.h"
#include "file/keys.h"
#include "num/memory.h"

/* The set file first, then the surveys. */
enum { FILES_MAX = 1 + TCR_SIDES };

typedef struct job {
    tcr_begin_options options;
    tcr_outputs *outputs;
    size_t index[FILES_MAX]; /* among the outputs */
    size_t files;
    const char *set_path;
    char name[TCR_SIDES][PATH_MAX]; /* of the surveys, as the set file is to name them */
    tcr_error *error;
} job;

static tcr_status fail_for(const job *j, tcr_status status, const char *path, const char *text) {
    const tcr_place place = {path, 0, 0};
    return tcr_fail(j->error, status, place, "%s", text);
}

/* ---- Names --------------------------------------------------------------------------- */

/* A set file's name tells what it is, to people and to editors; a device or a pipe has its own. */
static tcr_status check_set_path(const job *j) {
    static const char *const ENDINGS[] = {".yaml", ".yml"};
    struct stat found;
    const char *path = j->set_path, *slash = strrchr(path, '/');
    const size_t base = strlen(slash != NULL ? slash + 1 : path);
    if (*path == '\0' || strlen(path) >= PATH_MAX) /* told where it is opened */
        return TCR_OK;
    if (strcmp(path, "-") == 0 || (stat(path, &found) == 0 && !S_ISREG(found.st_mode)))
        return TCR_OK;
    for (size_t i = 0; i < sizeof ENDINGS / sizeof *ENDINGS; i++) {
        const size_t ending = strlen(ENDINGS[i]);
        if (base > ending && strcasecmp(path + strlen(path) - ending, ENDINGS[i]) == 0)
            return TCR_OK;
    }
    return fail_for(j, TCR_E_CONTENT, path,
                    "a set file needs a name that ends in .yaml, such as my.yaml");
}

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
    if (real_folder(j->set_path, set) == NULL || real_folder(path, survey) == NULL)
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

/* ---- The job ------------------------------------------------------------------------- */

static tcr_status add_file(job *j, const char *path) {
    const tcr_status status = tcr_outputs_add_new(j->outputs, path, &j->index[j->files], j->error);
    if (status == TCR_OK)
        j->files++;
    return status;
}

/* Finds out where everything goes; nothing is there yet but temporary files. */
static tcr_status prepare(job *j, const char *given_survey) {
    tcr_status status = check_set_path(j);
    if (status == TCR_OK)
        status = add_file(j, j->set_path);
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
    return status == TCR_OK ? tcr_begin_validate(&j->options, j->error) : status;
}

/* Writes all, in the order in which they were added. */
static tcr_status write_all(const job *j) {
    tcr_outputs_target to = {j->outputs, j->index[0]};
    tcr_csv_options csv = tcr_csv_options_default();
    size_t next = 1;
    csv.decimal_comma = j->options.decimal_comma;
    tcr_status status = tcr_begin_write(&j->options, tcr_outputs_sink, &to);
    for (size_t side = 0; side < TCR_SIDES && status == TCR_OK; side++)
        if (j->options.survey[side] != NULL) {
            to.index = j->index[next++];
            status = tcr_begin_write_survey((tcr_side)side, &csv, tcr_outputs_sink, &to);
        }
    return status;
}

static tcr_status work(job *j, const char *given_survey) {
    tcr_status status = prepare(j, given_survey);
    if (status != TCR_OK)
        return status;
    status = write_all(j);
    if (status == TCR_E_WRITE) /* then the commit refuses, and says why */
        status = tcr_outputs_commit(j->outputs, j->error);
    return status;
}

/* Makes a job for a path, which the caller releases; NULL after an error. */
static job *begin_job(const tcr_allocator *allocator, const char *set_path, tcr_outputs *outputs,
                      tcr_error *error) {
    /* Its paths are too much for the stack of a small thread. */
    job *j = tcr_resize(allocator, NULL, 1, sizeof *j);
    if (j == NULL) {
        (void)tcr_fail_memory(error, set_path);
        return NULL;
    }
    memset(j, 0, sizeof *j);
    j->set_path = set_path;
    j->error = error;
    j->outputs = outputs;
    return j;
}

tcr_status tcr_begin_place(const char *set_path, tcr_outputs *outputs, tcr_error *error) {
    tcr_error unread;
    tcr_allocator allocator;
    if (error == NULL)
        error = &unread;
    if (set_path == NULL || outputs == NULL)
        return tcr_fail(error, TCR_E_ARGUMENT, (tcr_place){"", 0, 0}, "%s",
                        tcr_status_text(TCR_E_ARGUMENT));
    (void)tcr_allocator_choose(NULL, &allocator);
    job *j = begin_job(&allocator, set_path, outputs, error);
    if (j == NULL)
        return error->status;
    tcr_status status = check_set_path(j);
    if (status == TCR_OK)
        status = add_file(j, set_path);
    tcr_release(&allocator, j);
    return status;
}

tcr_status tcr_begin_files(const tcr_begin_options *options, const char *set_path,
                           const char *given_survey, tcr_outputs *outputs, tcr_error *error) {
    const tcr_place nowhere = {"", 0, 0};
    tcr_error unread;
    tcr_allocator allocator;
    if (error == NULL)
        error = &unread;
    tcr_begin_options taken;
    if (tcr_begin_options_take(options, &taken) != TCR_OK || set_path == NULL || outputs == NULL)
        return tcr_fail(error, TCR_E_ARGUMENT, nowhere, "%s", tcr_status_text(TCR_E_ARGUMENT));
    if (given_survey != NULL && strcmp(set_path, "-") == 0)
        return tcr_fail(
            error, TCR_E_CONTENT, nowhere,
            "a survey lies beside its set file, so the set file cannot go to standard output; give "
            "it a name");
    for (size_t side = 0; side < TCR_SIDES; side++)
        taken.survey[side] = NULL;
    tcr_status status = tcr_begin_try(&taken, error); /* before anything is touched */
    if (status != TCR_OK)
        return status;
    (void)tcr_allocator_choose(NULL, &allocator);
    job *j = begin_job(&allocator, set_path, outputs, error);
    if (j == NULL)
        return error->status;
    j->options = taken;
    status = work(j, given_survey);
    tcr_release(&allocator, j);
    return status;
}
