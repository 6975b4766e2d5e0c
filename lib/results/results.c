/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Results of a study from beginning to end. The log, runs.npy, decides what is done: all other
 * files are made from it again when a study goes on. study.json is there before the log and is
 * complete after everything else.
 */
#define _XOPEN_SOURCE 700
#include "results/results.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "num/memory.h"
#include "num/options.h"

static const char *const NAME[TCR_RESULTS_FILES] = {[TCR_RUNS_NPY] = "runs.npy",
                                                    [TCR_RESULTS_CSV] = "results.csv",
                                                    [TCR_RESULTS_NPY] = "results.npy",
                                                    [TCR_RUNS_CSV] = "runs.csv",
                                                    [TCR_STUDY_JSON] = "study.json"};

void tcr_results_options_init(tcr_results_options *options, size_t size) {
    const tcr_results_options defaults = {
        .part = 1, .parts = 1, .best = tcr_best_options_default()};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

tcr_status tcr_results_fail(tcr_error *error, tcr_status status, tcr_place place) {
    if (status == TCR_E_MEMORY)
        return tcr_fail_memory(error, place.path);
    return tcr_fail(error, status, place, "%s", tcr_status_text(status));
}

/* ---- Beginning ------------------------------------------------------------------------------- */

uint64_t tcr_part_end(uint64_t points, uint64_t part, uint64_t parts) {
    const uint64_t over = points % parts;
    return part * (points / parts) + (part < over ? part : over);
}

static tcr_status check_options(const tcr_results_options *o, tcr_error *error) {
    static const tcr_place NOWHERE = {"", 0, 0};
    if (o->parts < 1 || o->parts > TCR_PARTS_MAX || o->part < 1 || o->part > o->parts)
        return tcr_fail(error, TCR_E_RANGE, NOWHERE,
                        "part %zu of %zu does not exist; parts are 1 to their number, at most %d",
                        o->part, o->parts, TCR_PARTS_MAX);
    if ((unsigned)o->goal >= TCR_GOALS)
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "%s", tcr_status_text(TCR_E_ARGUMENT));
    return TCR_OK;
}

char *tcr_results_path(const tcr_allocator *allocator, const char *dir, int name) {
    const size_t folder = strlen(dir), bytes = folder + strlen(NAME[name]) + 2;
    char *path = tcr_resize(allocator, NULL, bytes, 1);
    if (path != NULL)
        (void)snprintf(path, bytes, "%s%s%s", dir, folder > 0 && dir[folder - 1] == '/' ? "" : "/",
                       NAME[name]);
    return path;
}

static tcr_status name_files(tcr_results *r, const char *dir) {
    const size_t bytes = strlen(dir) + 1;
    r->dir = tcr_resize(&r->allocator, NULL, bytes, 1);
    if (r->dir == NULL)
        return TCR_E_MEMORY;
    memcpy(r->dir, dir, bytes);
    for (int i = 0; i < TCR_RESULTS_FILES; i++) {
        r->path[i] = tcr_results_path(&r->allocator, dir, i);
        if (r->path[i] == NULL)
            return TCR_E_MEMORY;
    }
    return TCR_OK;
}

static bool is_there(const char *path) {
    struct stat found;
    return lstat(path, &found) == 0;
}

static tcr_status make_folder(const tcr_results *r, tcr_error *error) {
    struct stat found;
    if (mkdir(r->dir, 0777) == 0)
        return TCR_OK;
    const int failed = errno;
    if (failed == EEXIST && stat(r->dir, &found) == 0 && S_ISDIR(found.st_mode))
        return TCR_OK;
    return tcr_fail_target(error, TCR_E_OPEN, r->dir, failed == EEXIST ? ENOTDIR : failed);
}

static tcr_status fail_busy(const tcr_results *r, tcr_error *error) {
    return tcr_fail(error, TCR_E_OPEN, (tcr_place){r->dir, 0, 0},
                    "another tipcrest is at work in this folder; wait for it, or give -o another "
                    "folder");
}

static tcr_status fail_taken(const tcr_results *r, tcr_error *error) {
    return tcr_fail(error, TCR_E_CONTENT, (tcr_place){r->dir, 0, 0},
                    "this folder has the results of a study; --resume goes on with it, and -o "
                    "takes another folder");
}

/* Opens what grows, the log first; nothing is written yet. */
static tcr_status open_files(tcr_results *r, tcr_error *error) {
    for (int i = 0; i < TCR_GROWING; i++) {
        if (!tcr_results_has(r, i))
            continue;
        const int failed = tcr_growing_open(&r->grow[i], r->path[i]);
        if (failed == EWOULDBLOCK)
            return fail_busy(r, error);
        if (failed == EEXIST)
            return tcr_fail(error, TCR_E_OPEN, (tcr_place){r->path[i], 0, 0},
                            "this is no regular file; results need a folder of their own");
        if (failed != 0)
            return tcr_fail_target(error, TCR_E_OPEN, r->path[i], failed);
    }
    r->grow[TCR_RESULTS_CSV].digests = true;
    return TCR_OK;
}

/* A study that could not begin leaves nothing behind, and neither do parts that could not be
 * joined: they have all of it. */
static void remove_all(const tcr_results *r) {
    for (int i = 0; r->has_files && i < TCR_RESULTS_FILES; i++)
        if (tcr_results_has(r, i))
            (void)unlink(r->path[i]);
}

/* A new study takes a folder without one; another goes on with its own. */
static tcr_status take_folder(tcr_results *r, tcr_error *error) {
    tcr_found_study found = {0};
    if (r->options.resume) {
        const tcr_status status = tcr_results_compare(r, r->path[TCR_STUDY_JSON], &found, error);
        if (status != TCR_OK)
            return status;
        if (found.part != r->options.part || found.parts != r->options.parts)
            return tcr_fail(error, TCR_E_CONTENT, (tcr_place){r->path[TCR_STUDY_JSON], 0, 0},
                            "this is part %zu of %zu, but part %zu of %zu is asked for", found.part,
                            found.parts, r->options.part, r->options.parts);
        r->was_complete = r->complete = found.complete;
        return r->complete && !is_there(r->path[TCR_RUNS_NPY]) ? TCR_OK : open_files(r, error);
    }
    for (int i = 0; i < TCR_RESULTS_FILES; i++)
        if (is_there(r->path[i]))
            return fail_taken(r, error);
    tcr_status status = make_folder(r, error);
    if (status == TCR_OK)
        status = tcr_study_json_put(r, true, error);
    if (status == TCR_OK) {
        status = open_files(r, error);
        if (status != TCR_OK)
            remove_all(r);
    }
    return status;
}

static tcr_status prepare(tcr_results *r, const tcr_results_options *o, tcr_error *error) {
    tcr_status status = check_options(o, error);
    if (status == TCR_OK)
        status = tcr_study_count(r->study, &r->points, error);
    if (status != TCR_OK)
        return status;
    r->has_runs = tcr_study_runs(r->study) > 0;
    r->runs = r->has_runs ? tcr_study_runs(r->study) : 1;
    r->first = r->next = tcr_part_end(r->points, r->options.part - 1, r->options.parts);
    r->end = tcr_part_end(r->points, r->options.part, r->options.parts);
    status = tcr_record_make(r->file, &r->allocator, &r->record);
    if (status == TCR_OK)
        status = tcr_rows_prepare(r);
    if (status == TCR_OK && o->dir != NULL)
        status = name_files(r, o->dir);
    if (status != TCR_OK)
        return tcr_results_fail(error, status, (tcr_place){"", 0, 0});
    status = tcr_answer_prepare(r, o->of, error);
    r->has_files = o->dir != NULL;
    return status == TCR_OK && r->has_files ? take_folder(r, error) : status;
}

tcr_status tcr_results_new(const tcr_study_file *file, const tcr_results_options *given,
                           const tcr_allocator *allocator, tcr_results **results,
                           tcr_error *error) {
    tcr_error unread;
    tcr_allocator chosen;
    tcr_results_options o = tcr_results_options_default();
    if (error == NULL)
        error = &unread;
    if (file == NULL || results == NULL || tcr_allocator_choose(allocator, &chosen) != TCR_OK ||
        tcr_options_take(&o, sizeof o, given) != TCR_OK)
        return tcr_fail(error, TCR_E_ARGUMENT, (tcr_place){"", 0, 0}, "%s",
                        tcr_status_text(TCR_E_ARGUMENT));
    tcr_results *r = tcr_resize(&chosen, NULL, 1, sizeof *r);
    if (r == NULL)
        return tcr_fail_memory(error, "");
    memset(r, 0, sizeof *r);
    r->allocator = chosen;
    r->file = file;
    r->study = file->study;
    r->set = tcr_set_file_set(file->set);
    r->options = o;
    r->options.dir = r->options.of = NULL;
    r->factors = tcr_study_factor_count(r->study);
    r->outputs = tcr_study_output_count(r->study);
    r->record.allocator = &r->allocator;
    for (int i = 0; i < TCR_GROWING; i++)
        r->grow[i].fd = -1;
    const tcr_status status = prepare(r, &o, error);
    if (status != TCR_OK) {
        tcr_results_free(r);
        return status;
    }
    *results = r;
    return TCR_OK;
}

void tcr_results_free(tcr_results *r) {
    if (r == NULL)
        return;
    const tcr_allocator allocator = r->allocator;
    for (int i = 0; i < TCR_GROWING; i++)
        tcr_growing_close(&r->grow[i]);
    for (int i = 0; i < TCR_RESULTS_FILES; i++)
        tcr_release(&allocator, r->path[i]);
    tcr_record_release(&r->record);
    tcr_release(&allocator, r->dir);
    tcr_release(&allocator, r->column);
    tcr_release(&allocator, r->head);
    tcr_release(&allocator, r->row);
    tcr_release(&allocator, r->scratch);
    tcr_release(&allocator, r->judged);
    tcr_release(&allocator, r->ranked);
    tcr_answer_free_each(r);
    tcr_release(&allocator, r);
}

/* ---- Work ------------------------------------------------------------------------------------ */

/* A log that is not wanted any more; one that stays does no harm. */
static void remove_log(const tcr_results *r) {
    if (!r->options.all && r->options.parts == 1)
        (void)unlink(r->path[TCR_RUNS_NPY]);
}

/* Cuts the tables off at their start, to be made from the log again. */
static tcr_status start_tables(tcr_results *r) {
    for (int i = TCR_RESULTS_CSV; i < TCR_GROWING; i++)
        if (tcr_results_has(r, i) && tcr_growing_cut(&r->grow[i], 0) != 0)
            return tcr_results_fail_write(r, i);
    return TCR_OK;
}

/* Takes in what an earlier run has done, and begins the tables. */
static tcr_status begin(tcr_results *r, const tcr_progress *progress) {
    const bool log = r->has_files && r->options.resume;
    const tcr_log_use use = {.end = r->end,
                             .go_on = true,
                             .progress = progress != NULL ? *progress : (tcr_progress){NULL, NULL}};
    tcr_status status = start_tables(r);
    if (status == TCR_OK)
        status = tcr_rows_begin(r, !log);
    return status == TCR_OK && log ? tcr_log_take(r, &r->grow[TCR_RUNS_NPY], &use) : status;
}

/* A study that was complete: its files stay, and the answer comes from the log, if that is still
 * there. */
static tcr_status take_complete(tcr_results *r) {
    const tcr_log_use use = {.end = r->end};
    if (r->grow[TCR_RUNS_NPY].fd < 0)
        return TCR_OK;
    r->has_files = false; /* so that no table is written */
    tcr_status status = tcr_log_take(r, &r->grow[TCR_RUNS_NPY], &use);
    r->has_files = true;
    if (status == TCR_OK && tcr_answer_rank(r) != TCR_OK)
        status = tcr_fail_memory(r->error, r->dir);
    if (status == TCR_OK)
        remove_log(r);
    return status;
}

/* Completes the files: all of them are on the disk before study.json says so. */
static tcr_status complete(tcr_results *r) {
    const tcr_status ranked = tcr_answer_rank(r);
    if (ranked != TCR_OK)
        return tcr_results_fail(r->error, ranked, (tcr_place){"", 0, 0});
    if (r->has_files) {
        for (int i = 0; i < TCR_GROWING; i++)
            if (tcr_results_has(r, i) && tcr_growing_sync(&r->grow[i]) != 0)
                return tcr_results_fail_write(r, i);
        tcr_digest_text(&r->grow[TCR_RESULTS_CSV].digest, r->digest);
        r->complete = true;
        const tcr_status status = tcr_study_json_put(r, false, r->error);
        if (status != TCR_OK)
            return status;
        remove_log(r);
        for (int i = 0; i < TCR_GROWING; i++)
            tcr_growing_close(&r->grow[i]);
    }
    r->complete = true;
    return TCR_OK;
}

/* What a call with an argument that it cannot take returns. */
static tcr_status refuse(tcr_error *error) {
    return tcr_fail(error, TCR_E_ARGUMENT, (tcr_place){"", 0, 0}, "%s",
                    tcr_status_text(TCR_E_ARGUMENT));
}

/* A failure whose words may already be there. */
static tcr_status tell(tcr_status status, tcr_error *error) {
    return status == TCR_OK || error->status == status
               ? status
               : tcr_results_fail(error, status, (tcr_place){"", 0, 0});
}

tcr_status tcr_results_begin(tcr_results *r, const tcr_progress *progress, tcr_error *error) {
    tcr_error unread;
    if (error == NULL)
        error = &unread;
    if (r == NULL || r->begun || (r->complete && !r->was_complete))
        return refuse(error);
    r->error = error;
    error->status = TCR_OK;
    const tcr_status status = r->was_complete ? take_complete(r) : begin(r, progress);
    r->begun = status == TCR_OK;
    return tell(status, error);
}

/* Whether a block is the one that comes next. */
static bool is_next(const tcr_results *r, const tcr_study_block *b) {
    return b->first == r->next && b->points <= r->end - r->next && b->runs == r->runs &&
           b->factors == r->factors && b->outputs == r->outputs && b->value != NULL &&
           b->status != NULL && (b->factor != NULL || r->factors == 0);
}

tcr_status tcr_results_take(tcr_results *r, const tcr_study_block *block, tcr_error *error) {
    tcr_error unread;
    if (error == NULL)
        error = &unread;
    if (r == NULL || block == NULL || !r->begun || r->was_complete || !is_next(r, block))
        return refuse(error);
    r->error = error;
    error->status = TCR_OK;
    return tell(tcr_rows_put(r, block, true), error);
}

tcr_status tcr_results_end(tcr_results *r, tcr_error *error) {
    tcr_error unread;
    if (error == NULL)
        error = &unread;
    if (r == NULL || !r->begun || (!r->was_complete && r->next != r->end))
        return refuse(error);
    r->error = error;
    error->status = TCR_OK;
    r->begun = false;
    return r->was_complete ? TCR_OK : complete(r);
}

/* What is left of a part being computed, with its progress as that of the whole part. */
typedef struct rest {
    tcr_results *results;
    tcr_error *error;
    tcr_progress progress;
    double done; /* share of the part, before */
} rest;

static bool report_rest(void *context, const char *phase, double share) {
    const rest *r = context;
    return r->progress.report(r->progress.context, phase, r->done + (1.0 - r->done) * share);
}

static bool receive(void *context, const tcr_study_block *block) {
    const rest *r = context;
    return tcr_results_take(r->results, block, r->error) == TCR_OK;
}

static tcr_status run_rest(tcr_results *r, const tcr_study_run_options *given, tcr_error *error) {
    tcr_study_run_options run = *given;
    rest left = {r, error, run.progress,
                 (double)(r->next - r->first) / (double)(r->end - r->first)};
    if (run.progress.report != NULL)
        run.progress = (tcr_progress){report_rest, &left};
    error->status = TCR_OK;
    const tcr_status status = tcr_study_run(r->study, r->next, r->end, &run, receive, &left);
    if (status == TCR_E_STOPPED && error->status != TCR_OK)
        return error->status; /* a block could not be written */
    return tell(status, error);
}

tcr_status tcr_results_run(tcr_results *r, const tcr_study_run_options *given, tcr_error *error) {
    tcr_error unread;
    tcr_study_run_options run = tcr_study_run_options_default();
    if (error == NULL)
        error = &unread;
    if (r == NULL || tcr_options_take(&run, sizeof run, given) != TCR_OK)
        return refuse(error);
    tcr_status status = tcr_results_begin(r, &run.progress, error);
    if (status == TCR_OK && !r->was_complete && r->next < r->end) {
        status = run_rest(r, &run, error);
        r->begun = status == TCR_OK;
    }
    return status == TCR_OK ? tcr_results_end(r, error) : status;
}

tcr_status tcr_results_join(tcr_results *r, const char *const *dirs, size_t count,
                            tcr_error *error) {
    tcr_error unread;
    if (error == NULL)
        error = &unread;
    if (r == NULL || dirs == NULL || count == 0 || r->options.parts != 1 || r->begun)
        return refuse(error);
    r->error = error;
    error->status = TCR_OK;
    tcr_status status = start_tables(r);
    if (status == TCR_OK && r->has_files && tcr_growing_cut(&r->grow[TCR_RUNS_NPY], 0) != 0)
        status = tcr_results_fail_write(r, TCR_RUNS_NPY);
    if (status == TCR_OK)
        status = tcr_rows_begin(r, true);
    for (size_t part = 1; part <= count && status == TCR_OK; part++)
        status = tcr_parts_take(r, dirs, count, part);
    if (status == TCR_OK)
        status = complete(r);
    if (status != TCR_OK)
        remove_all(r);
    return status;
}

tcr_status tcr_results_state_of(const tcr_results *r, tcr_results_state *state) {
    if (r == NULL || state == NULL)
        return TCR_E_ARGUMENT;
    *state = (tcr_results_state){.points = r->points,
                                 .first = r->first,
                                 .end = r->end,
                                 .done = r->complete ? r->end - r->first : r->next - r->first,
                                 .runs = r->runs,
                                 .failed = r->failures.count,
                                 .complete = r->complete,
                                 .was_complete = r->was_complete,
                                 .has_answer = r->judges > 0 && r->next == r->end};
    return TCR_OK;
}
