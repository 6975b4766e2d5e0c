/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Studies where the system fails: each call that results make of it, one after another, with an
 * error, an interruption, or half of what was asked for. A study says why it failed, and goes on to
 * the same files; what is only interrupted or comes in halves is done as if nothing had been. The
 * linker puts __wrap_write() and its like before what the library calls.
 */
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <sys/stat.h>

#include "results/made.h"

/* ---- A system that fails ------------------------------------------------------------- */

enum { HALF = -1 }; /* in place of an errno */

static struct fault {
    const char *call; /* which fails; NULL: none */
    int code;         /* an errno, or HALF */
    int at, seen;     /* the call of that name that fails, from 0; how many there were */
} fault;

static bool fails(const char *call) {
    if (fault.call == NULL || strcmp(fault.call, call) != 0 || fault.seen++ != fault.at)
        return false;
    errno = fault.code;
    return true;
}

#define WRAP(result, name, failure, parameters, arguments)                                         \
    result __real_##name parameters;                                                               \
    result __wrap_##name parameters;                                                               \
    result __wrap_##name parameters { return fails(#name) ? failure : __real_##name arguments; }
WRAP(int, fstat, -1, (int file, struct stat *found), (file, found))
WRAP(int, fsync, -1, (int file), (file))
WRAP(int, ftruncate, -1, (int file, off_t bytes), (file, bytes))
WRAP(off_t, lseek, -1, (int file, off_t bytes, int from), (file, bytes, from))
WRAP(ssize_t, read, (fault.code == HALF ? __real_read(file, bytes, (count + 1) / 2) : -1),
     (int file, void *bytes, size_t count), (file, bytes, count))
WRAP(ssize_t, write, (fault.code == HALF ? __real_write(file, bytes, (count + 1) / 2) : -1),
     (int file, const void *bytes, size_t count), (file, bytes, count))

int __real_fcntl(int file, int command, ...);
int __wrap_fcntl(int file, int command, ...);
int __wrap_fcntl(int file, int command, ...) {
    va_list rest;
    va_start(rest, command);
    void *lock = va_arg(rest, void *);
    va_end(rest);
    return fails("fcntl") ? -1 : __real_fcntl(file, command, lock);
}

/* ---- Studies ------------------------------------------------------------------------- */

static const char *const VARY[] = {"layering.step_mm=0,1", "opening=0.2:1:0.2"};
static tcr_study_file *file;

static void shell(const char *line) {
    given("%s", line);
    expect_count(system(line), 0);
}

static tcr_status study(const char *dir, bool resume, tcr_error *error) {
    tcr_results_options o = tcr_results_options_default();
    tcr_study_run_options run = tcr_study_run_options_default();
    tcr_results *results = NULL;
    run.threads = 1; /* so that calls come in one order */
    o.dir = dir;
    o.all = true;
    o.resume = resume;
    *error = tcr_error_none();
    tcr_status status = tcr_results_new(file, &o, NULL, &results, error);
    if (status == TCR_OK)
        status = tcr_results_run(results, &run, error);
    tcr_results_free(results);
    return status;
}

/* Whether a study of a folder as 'make' leaves it comes to the right files, whichever call fails.
 */
static void fail_each(const char *call, int code, const char *make, bool resume) {
    int failures = 0;
    for (int at = 0;; at++) {
        tcr_error error;
        shell(make);
        fault = (struct fault){.call = call, .code = code, .at = at};
        const tcr_status status = study("made", resume, &error);
        const bool struck = fault.seen > at;
        fault.call = NULL;
        given("%s %d, error %d: %s", call, at, code, error.message);
        expect_status(error.status, status);
        expect_true((status == TCR_OK) == (error.message[0] == '\0'));
        if (!struck || code == EINTR || code == HALF)
            expect_status(status, TCR_OK);
        if (status != TCR_OK) {
            failures++;
            expect_true(status == TCR_E_OPEN || status == TCR_E_WRITE);
            expect_status(study("made", access("made/study.json", F_OK) == 0, &error), TCR_OK);
        }
        shell("diff -r right made");
        if (!struck)
            break;
    }
    expect_true(failures > 0 || code == EINTR || code == HALF);
    printf("# %s, error %d, %s: failed %d times\n", call, code, resume ? "going on" : "new",
           failures);
    fflush(stdout);
}

CLAIM(a_study_goes_on_to_the_same_files_whichever_call_fails) {
    static const char *const CALLS[] = {"write", "fstat", "fsync", "ftruncate", "lseek"};
    static const char NEW[] = "rm -rf made", HALF_DONE[] = "rm -rf made && cp -r half made";
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_error error;
    enter_folder();
    file = study_of(VARY, 2, &ask);
    expect_status(study("right", false, &error), TCR_OK);
    /* One that was stopped: its log has some points and a half. */
    shell(
        "cp -r right half && rm half/results.* half/runs.csv && truncate -s -500 half/runs.npy && "
        "sed -i 's/\"complete\": true/\"complete\": false/' half/study.json");
    for (size_t i = 0; i < sizeof CALLS / sizeof *CALLS; i++) {
        fail_each(CALLS[i], EIO, NEW, false);
        fail_each(CALLS[i], EIO, HALF_DONE, true);
    }
    fail_each("read", EIO, HALF_DONE, true);
    static const char *const AGAIN[] = {"write", "read", "fsync", "ftruncate", "fcntl"};
    for (size_t i = 0; i < sizeof AGAIN / sizeof *AGAIN; i++)
        fail_each(AGAIN[i], EINTR, HALF_DONE, true);
    fail_each("write", HALF, HALF_DONE, true);
    fail_each("read", HALF, HALF_DONE, true);
    tcr_study_file_free(file);
    leave_folder();
}

CLAIM(a_file_system_without_locks_does_and_a_lock_of_another_is_told) {
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_error error;
    enter_folder();
    file = study_of(VARY, 2, &ask);
    expect_status(study("right", false, &error), TCR_OK);
    fault = (struct fault){.call = "fcntl", .code = ENOLCK};
    expect_status(study("made", false, &error), TCR_OK);
    shell("diff -r right made");
    static const int TAKEN[] = {EACCES, EAGAIN}; /* source: POSIX, which leaves it open */
    for (size_t i = 0; i < sizeof TAKEN / sizeof *TAKEN; i++) {
        shell("rm -rf made");
        fault = (struct fault){.call = "fcntl", .code = TAKEN[i]};
        expect_status(study("made", false, &error), TCR_E_OPEN);
        expect_text(error.message, "another tipcrest is at work in this folder; wait for it, or "
                                   "give -o another folder");
        expect_count(names_in("made", "", NULL), 0);
    }
    tcr_study_file_free(file);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_study_goes_on_to_the_same_files_whichever_call_fails,
        &a_file_system_without_locks_does_and_a_lock_of_another_is_told,
    };
    return RUN_CLAIMS("system that fails studies", claims);
}
