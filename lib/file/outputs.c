/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Files that appear whole or not at all. Each target is prepared on its own (target.c); only when
 * all are there and synced does the commit touch anything. It writes first what is written through,
 * whose failure is the likeliest, and then puts one file after the other in place. No system call
 * does that for several files at once: where one fails, the files before it stay in place, and the
 * message names them. A process that is killed, or power that fails, leaves files
 * .tipcrest-PID-N.tmp beside the targets, never a half target.
 */
#include <tipcrest/file.h>

#include <errno.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <string.h>
#include <unistd.h>

#include "file/error.h"
#include "file/leftover.h"
#include "file/target.h"
#include "num/memory.h"

enum { SHOWN_SIZE = 400 }; /* bytes shown of a path within a message about two */

typedef struct input {
    char *given; /* "-": standard output, that is written to beside these outputs */
    tcr_identity file;
} input;

struct tcr_outputs {
    tcr_allocator allocator;
    tcr_target **targets;
    size_t count, capacity;
    tcr_target *volatile latest; /* the targets once more, for a signal handler: no array that may
                                    just be growing */
    input *inputs;
    size_t input_count, input_capacity;
    unsigned names;       /* counter of temporary names */
    int failed;           /* errno of the first write that failed; nothing is then put in place */
    size_t failed_target; /* which one it was */
    bool is_over;         /* committed, or failed to be */
};

/* Why a call of the system failed, in words that do not depend on the locale; NULL if rare. */
static const char *why(int code) {
    switch (code) {
    case EACCES:
    case EPERM:
        return "permission denied";
    case ENOENT:
        return "there is no such folder";
    case ENOTDIR:
        return "a part of the path is not a folder";
    case EISDIR:
        return "it is a folder; give the name of a file";
    case ELOOP:
        return "its links lead nowhere";
    case ENAMETOOLONG:
        return "the name is too long";
    case EROFS:
        return "the disk is read-only";
    case ENOSPC:
        return "the disk is full";
    case EDQUOT:
        return "the space allowed on the disk is used up";
    case EFBIG:
        return "it would be larger than is allowed";
    case EIO:
        return "the disk reports an error";
    case EPIPE:
        return "whoever reads it has stopped";
    case EBADF:
        return "it is not open for writing";
    case ENXIO:
        return "nothing is behind it";
    case EMFILE:
    case ENFILE:
        return "too many files are open";
    default:
        return NULL;
    }
}

/* What a target is called in messages. */
static const char *called(const char *given) {
    return strcmp(given, "-") == 0 ? "standard output" : given;
}

tcr_status tcr_fail_target(tcr_error *error, tcr_status status, const char *given, int code) {
    const tcr_place place = {called(given), 0, 0};
    const char *what = status == TCR_E_OPEN ? "cannot be opened for writing" : "cannot be written";
    if (code == ENOMEM)
        return tcr_fail_memory(error, place.path);
    if (why(code) == NULL)
        return tcr_fail(error, status, place, "%s: system error %d", what, code);
    return tcr_fail(error, status, place, "%s: %s", what, why(code));
}

/* The same for a target that would replace what it must not. */
static tcr_status tell_exists(tcr_error *error, const char *given, tcr_replaces replaces) {
    return tcr_fail(error, TCR_E_CONTENT, (tcr_place){given, 0, 0},
                    "%s; choose another name or folder, or move it away",
                    replaces == TCR_REPLACES_SEALED
                        ? "this file was not written by plan, or was changed since"
                        : "there is a file of this name already");
}

/* What stands before its name there: standard output needs nothing. */
static const char *kind_of(const char *given, const char *kind) {
    return strcmp(given, "-") == 0 ? "" : kind;
}

/* The message about two names of one file names both; its path is left empty. */
static tcr_status tell_same(tcr_error *error, const char *given, const char *kind,
                            const char *other) {
    const tcr_place place = {"", 0, 0};
    if (strcmp(given, "-") == 0 && strcmp(other, "-") == 0)
        return tcr_fail(error, TCR_E_CONTENT, place,
                        "only one output can be \"-\", standard output; give the other a file");
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "%s%.*s and %s%.*s are the same file; give the output a name of its own",
                    kind_of(given, "the output "), SHOWN_SIZE, called(given), kind_of(other, kind),
                    SHOWN_SIZE, called(other));
}

tcr_status tcr_outputs_new(const tcr_allocator *allocator, tcr_outputs **outputs) {
    tcr_allocator chosen;
    if (outputs == NULL || tcr_allocator_choose(allocator, &chosen) != TCR_OK)
        return TCR_E_ARGUMENT;
    tcr_outputs *made = tcr_resize(&chosen, NULL, 1, sizeof *made);
    if (made == NULL)
        return TCR_E_MEMORY;
    *made = (tcr_outputs){.allocator = chosen};
    *outputs = made;
    return TCR_OK;
}

tcr_status tcr_outputs_protect(tcr_outputs *outputs, const char *input_path) {
    if (outputs == NULL || input_path == NULL)
        return TCR_E_ARGUMENT;
    struct stat found;
    const bool is_stdout = strcmp(input_path, "-") == 0;
    if ((is_stdout ? fstat(STDOUT_FILENO, &found) : stat(input_path, &found)) != 0)
        return TCR_E_OPEN;
    if (S_ISCHR(found.st_mode)) /* as two outputs may share a device such as /dev/null */
        return TCR_OK;
    void *inputs = outputs->inputs;
    if (tcr_grow(&outputs->allocator, &inputs, outputs->input_count, &outputs->input_capacity,
                 sizeof *outputs->inputs) != TCR_OK)
        return TCR_E_MEMORY;
    outputs->inputs = inputs;
    const size_t size = strlen(input_path) + 1;
    char *given = tcr_resize(&outputs->allocator, NULL, size, 1);
    if (given == NULL)
        return TCR_E_MEMORY;
    memcpy(given, input_path, size);
    outputs->inputs[outputs->input_count++] = (input){given, tcr_identity_of(&found)};
    return TCR_OK;
}

/* Whether a name is that of a file, or of a link that leads nowhere; devices and pipes may be
 * written to all the same, and of folders tcr_target_find has to say. */
static bool is_taken(const char *path) {
    struct stat found;
    return strcmp(path, "-") != 0 && lstat(path, &found) == 0 &&
           (stat(path, &found) != 0 || S_ISREG(found.st_mode));
}

/* Refuses a target that is an input or another target. */
static tcr_status check_alone(const tcr_outputs *outputs, const tcr_target *target,
                              tcr_error *error) {
    for (size_t i = 0; i < outputs->input_count; i++)
        if (target->exists && tcr_identity_equal(target->file, outputs->inputs[i].file))
            return tell_same(error, target->given, "the input ", outputs->inputs[i].given);
    for (size_t i = 0; i < outputs->count; i++)
        if (tcr_target_collides(target, outputs->targets[i]))
            return tell_same(error, target->given, "the output ", outputs->targets[i]->given);
    return TCR_OK;
}

/* Opens a target where a signal handler sees it. */
static int open_target(tcr_outputs *outputs, tcr_target *target) {
    target->earlier = outputs->latest;
    atomic_signal_fence(memory_order_seq_cst);
    outputs->latest = target;
    const int failed = tcr_target_open(target, &outputs->names);
    if (failed != 0) {
        tcr_target_discard(target);
        outputs->latest = target->earlier;
    }
    return failed;
}

static tcr_status add_target(tcr_outputs *outputs, const char *path, tcr_replaces replaces,
                             size_t *index, tcr_error *error) {
    if (outputs == NULL || path == NULL || index == NULL || outputs->is_over)
        return TCR_E_ARGUMENT;
    tcr_error unread;
    error = error != NULL ? error : &unread;
    if (replaces == TCR_REPLACES_NONE && is_taken(path))
        return tell_exists(error, path, replaces);
    void *targets = outputs->targets;
    if (tcr_grow(&outputs->allocator, &targets, outputs->count, &outputs->capacity,
                 sizeof *outputs->targets) != TCR_OK)
        return tcr_fail_target(error, TCR_E_MEMORY, path, ENOMEM);
    outputs->targets = targets;
    tcr_target *target = tcr_resize(&outputs->allocator, NULL, 1, sizeof *target);
    if (target == NULL)
        return tcr_fail_target(error, TCR_E_MEMORY, path, ENOMEM);
    tcr_status status = TCR_OK;
    int failed = tcr_target_find(target, &outputs->allocator, path);
    if (failed == 0) {
        target->replaces = replaces;
        status = check_alone(outputs, target, error);
        if (status == TCR_OK)
            failed = tcr_target_allow(target);
        if (failed == EEXIST)
            status = tell_exists(error, path, replaces);
        else if (status == TCR_OK && failed == 0)
            failed = open_target(outputs, target);
    }
    if (failed != 0 && status == TCR_OK)
        status = tcr_fail_target(error, TCR_E_OPEN, path, failed);
    if (status != TCR_OK) {
        tcr_target_release(target);
        tcr_release(&outputs->allocator, target);
        return status;
    }
    *index = outputs->count;
    outputs->targets[outputs->count++] = target;
    return TCR_OK;
}

tcr_status tcr_outputs_add(tcr_outputs *outputs, const char *path, size_t *index,
                           tcr_error *error) {
    return add_target(outputs, path, TCR_REPLACES_ANY, index, error);
}

tcr_status tcr_outputs_add_new(tcr_outputs *outputs, const char *path, size_t *index,
                               tcr_error *error) {
    return add_target(outputs, path, TCR_REPLACES_NONE, index, error);
}

tcr_status tcr_outputs_add_sealed(tcr_outputs *outputs, const char *path, size_t *index,
                                  tcr_error *error) {
    return add_target(outputs, path, TCR_REPLACES_SEALED, index, error);
}

tcr_status tcr_outputs_may_seal(const char *path, tcr_error *error) {
    tcr_error unread;
    tcr_allocator allocator;
    tcr_target target;
    error = error != NULL ? error : &unread;
    if (path == NULL || tcr_allocator_choose(NULL, &allocator) != TCR_OK)
        return TCR_E_ARGUMENT;
    int failed = tcr_target_find(&target, &allocator, path);
    target.replaces = TCR_REPLACES_SEALED;
    if (failed == 0)
        failed = tcr_target_allow(&target);
    tcr_target_release(&target);
    return failed == 0        ? TCR_OK
           : failed == EEXIST ? tell_exists(error, path, TCR_REPLACES_SEALED)
                              : tcr_fail_target(error, TCR_E_OPEN, path, failed);
}

tcr_status tcr_outputs_write(tcr_outputs *outputs, size_t index, const void *bytes, size_t count) {
    if (outputs == NULL || outputs->is_over || index >= outputs->count ||
        outputs->targets[index]->is_finished || (bytes == NULL && count > 0))
        return TCR_E_ARGUMENT;
    if (outputs->failed == 0) {
        outputs->failed = tcr_target_write(outputs->targets[index], bytes, count);
        outputs->failed_target = index;
    }
    if (outputs->failed == 0)
        return TCR_OK;
    return outputs->failed == ENOMEM ? TCR_E_MEMORY : TCR_E_WRITE;
}

int tcr_outputs_sink(void *context, const void *bytes, size_t count) {
    const tcr_outputs_target *to = context;
    return to != NULL && tcr_outputs_write(to->outputs, to->index, bytes, count) == TCR_OK ? 0 : -1;
}

tcr_status tcr_outputs_finish(tcr_outputs *outputs, size_t index) {
    if (outputs == NULL || outputs->is_over || index >= outputs->count)
        return TCR_E_ARGUMENT;
    if (outputs->failed == 0 && outputs->targets[index]->path != NULL) {
        outputs->failed = tcr_target_finish(outputs->targets[index]);
        outputs->failed_target = index;
    }
    return outputs->failed == 0 ? TCR_OK : TCR_E_WRITE;
}

/* Removes and frees all targets: no handler sees one that is gone. */
static void discard_all(tcr_outputs *outputs) {
    for (size_t i = 0; i < outputs->count; i++)
        tcr_target_discard(outputs->targets[i]);
    outputs->latest = NULL;
    atomic_signal_fence(memory_order_seq_cst);
    for (size_t i = 0; i < outputs->count; i++) {
        tcr_target_release(outputs->targets[i]);
        tcr_release(&outputs->allocator, outputs->targets[i]);
    }
    outputs->count = 0;
}

/* The steps of a commit, each over all targets; returns the errno and which target it was. */
static int put_in_place(tcr_outputs *outputs, size_t *which) {
    enum { FINISH, ALLOW, POUR, PLACE, SYNC, STEPS };
    for (int step = FINISH; step < STEPS; step++) {
        for (size_t i = 0; i < outputs->count; i++) {
            tcr_target *target = outputs->targets[i];
            if ((target->path == NULL) != (step == POUR))
                continue;
            const int failed = step == FINISH  ? tcr_target_finish(target)
                               : step == ALLOW ? tcr_target_allow(target)
                               : step == POUR  ? tcr_target_pour(target)
                               : step == PLACE ? tcr_target_place(target)
                                               : tcr_target_sync_folder(target);
            if (failed != 0) {
                *which = i;
                return failed;
            }
        }
    }
    return 0;
}

/* Adds to a message which files are in place, where some are, and which are as they were. */
static tcr_status tell_placed(const tcr_outputs *outputs, tcr_error *error) {
    tcr_list placed = {0}, others = {0};
    for (size_t i = 0; i < outputs->count; i++)
        if (outputs->targets[i]->path != NULL)
            tcr_list_add(outputs->targets[i]->is_placed ? &placed : &others,
                         outputs->targets[i]->given);
    if (placed.bytes == 0)
        return error->status;
    const tcr_error first = *error;
    const char *as_before = others.bytes > 0 ? "; as before: " : "";
    return tcr_fail(error, first.status, (tcr_place){first.path, 0, 0}, "%s; written: %s%s%s",
                    first.message, placed.text, as_before, others.text);
}

tcr_status tcr_outputs_commit(tcr_outputs *outputs, tcr_error *error) {
    if (outputs == NULL || outputs->is_over)
        return TCR_E_ARGUMENT;
    outputs->is_over = true;
    size_t which = outputs->failed_target;
    int failed = outputs->failed;
    if (failed == 0)
        failed = put_in_place(outputs, &which);
    tcr_status status = TCR_OK;
    if (failed != 0) { /* told before the targets and their names go */
        tcr_error unread;
        error = error != NULL ? error : &unread;
        const tcr_target *target = outputs->targets[which];
        status = failed == EEXIST && target->replaces != TCR_REPLACES_ANY
                     ? tell_exists(error, target->given, target->replaces)
                     : tcr_fail_target(error, TCR_E_WRITE, target->given, failed);
        if (status == TCR_E_WRITE || status == TCR_E_CONTENT)
            status = tell_placed(outputs, error);
    }
    discard_all(outputs);
    return status;
}

void tcr_outputs_leftovers(const tcr_outputs *outputs, tcr_leftover_say say, void *context) {
    if (outputs != NULL && say != NULL)
        tcr_leftovers_say(outputs->latest, say, context);
}

void tcr_outputs_abandon(const tcr_outputs *outputs) {
    for (const tcr_target *t = outputs != NULL ? outputs->latest : NULL; t != NULL; t = t->earlier)
        tcr_target_unlink(t);
}

void tcr_outputs_free(tcr_outputs *outputs) {
    if (outputs == NULL)
        return;
    const tcr_allocator allocator = outputs->allocator;
    discard_all(outputs);
    for (size_t i = 0; i < outputs->input_count; i++)
        tcr_release(&allocator, outputs->inputs[i].given);
    tcr_release(&allocator, outputs->targets);
    tcr_release(&allocator, outputs->inputs);
    tcr_release(&allocator, outputs);
}
