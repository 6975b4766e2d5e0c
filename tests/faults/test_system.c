/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Reading and writing where the system fails: each call that lib/file makes of it, with each error
 * that has words of its own. A message says which; an older file stays as it was, nothing is left
 * for a while, and what is only interrupted goes on. The linker puts __wrap_open() and its like
 * before what the library calls.
 */
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <sys/stat.h>

#include "file/folder.h"

/* ---- A system that fails ------------------------------------------------------------- */

static struct fault {
    const char *call; /* which fails; NULL: none */
    int code;         /* an errno; 0: nothing is read or written, as at an end */
    int after;        /* so many that fare well come before it */
    int times;        /* it fails so often */
    int seen;         /* calls of that name */
    bool hides_size;  /* fstat() says that a file is empty */
} fault;

static bool fails(const char *call) {
    if (fault.call == NULL || strcmp(fault.call, call) != 0)
        return false;
    const int seen = fault.seen++;
    errno = fault.code;
    return seen >= fault.after && seen < fault.after + fault.times;
}

int __real_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...) {
    va_list rest;
    va_start(rest, flags);
    const mode_t mode = (flags & O_CREAT) != 0 ? (mode_t)va_arg(rest, int) : 0;
    va_end(rest);
    return fails((flags & O_DIRECTORY) != 0 ? "open a folder" : "open")
               ? -1
               : __real_open(path, flags, mode);
}

#define WRAP(result, name, failure, parameters, arguments)                                         \
    result __real_##name parameters;                                                               \
    result __wrap_##name parameters;                                                               \
    result __wrap_##name parameters { return fails(#name) ? failure : __real_##name arguments; }
WRAP(int, stat, -1, (const char *path, struct stat *found), (path, found))
WRAP(int, fsync, -1, (int file), (file))
WRAP(int, fchmod, -1, (int file, mode_t mode), (file, mode))
WRAP(int, rename, -1, (const char *from, const char *to), (from, to))
WRAP(int, link, -1, (const char *from, const char *to), (from, to))
WRAP(char *, realpath, NULL, (const char *path, char *found), (path, found))
WRAP(ssize_t, read, (fault.code != 0 ? -1 : 0), (int file, void *bytes, size_t count),
     (file, bytes, count))
WRAP(ssize_t, write, (fault.code != 0 ? -1 : 0), (int file, const void *bytes, size_t count),
     (file, bytes, count))

int __real_fstat(int file, struct stat *found);
int __wrap_fstat(int file, struct stat *found);
int __wrap_fstat(int file, struct stat *found) {
    if (fails("fstat"))
        return -1;
    const int status = __real_fstat(file, found);
    if (fault.hides_size)
        found->st_size = 0;
    return status;
}

/* The descriptor is gone all the same. */
int __real_close(int file);
int __wrap_close(int file);
int __wrap_close(int file) {
    const int status = __real_close(file);
    return fails("close") ? -1 : status;
}

static void fail_with(const char *call, int code, int after, int times) {
    fault = (struct fault){.call = call, .code = code, .after = after, .times = times};
    given("%s, error %d, after %d", call != NULL ? call : "no call", code, after);
}

/* ---- Reading ------------------------------------------------------------------------- */

static const char SET[] = "tipcrest: 1\neyes:\n- side: left\n  lashes: {survey: a.csv}\n"
                          "  map: [{to: 1, length_mm: 10, curl: C}]\n";

static void begin(void) {
    enter_folder();
    put("set.yaml", SET);
    put("a.csv", "id,u,layer,length_mm\nn,0.5,top,8\n");
    put("old", "before");
}

/* Reads the set and its survey; says what went wrong, or "". */
static const char *read_set(tcr_status *status) {
    static tcr_error error;
    tcr_set_file *file = NULL;
    *status = tcr_set_file_read("set.yaml", NULL, &file, &error);
    fault.call = NULL;
    if (*status == TCR_OK) {
        expect_count(tcr_set_lash_count(tcr_set_file_set(file), TCR_LEFT), 1);
        tcr_set_file_free(file);
        return "";
    }
    ck_assert_ptr_null(file);
    expect_status(error.status, *status);
    return error.message;
}

static void expect_unread(const char *words) {
    tcr_status status;
    const char *message = read_set(&status);
    given("says \"%s\", not \"%s\"", message, words);
    expect_status(status, TCR_E_OPEN);
    expect_true(strstr(message, words) != NULL);
}

static void expect_read(void) {
    tcr_status status;
    expect_text(read_set(&status), "");
}

/* Words of this project for the errors of POSIX. */
static const struct {
    int code;
    const char *words;
} READING[] = {{EACCES, "there is no permission to read it"},
               {EPERM, "there is no permission to read it"},
               {ENOENT, "there is no such file"},
               {ENOTDIR, "there is no such file"},
               {ELOOP, "its links lead round in a circle"},
               {ENAMETOOLONG, "its name is too long"},
               {EMFILE, "too many files are open"},
               {ENFILE, "too many files are open"},
               {EIO, "the disk reports an error"},
               {EFAULT, "the system refuses to read it"}};

CLAIM(a_file_that_cannot_be_read_is_told_with_the_reason) {
    begin();
    for (size_t i = 0; i < sizeof READING / sizeof *READING; i++) {
        for (int after = 0; after <= 1; after++) { /* the set file, its survey */
            fail_with("open", READING[i].code, after, 1);
            expect_unread(READING[i].words);
            fail_with("read", READING[i].code, 2 * after, 1);
            expect_unread(READING[i].words);
            fail_with("fstat", READING[i].code, after, 1);
            expect_unread(READING[i].words);
        }
        fail_with("realpath", READING[i].code, 0, 1);
        expect_unread(READING[i].words);
    }
    leave_folder();
}

CLAIM(an_interrupted_reading_goes_on_and_a_file_may_grow) {
    begin();
    static const char *const calls[] = {"open", "read"};
    for (size_t i = 0; i < sizeof calls / sizeof *calls; i++)
        for (int after = 0; after < 3; after++) {
            fail_with(calls[i], EINTR, after, 2);
            expect_read();
        }
    fail_with(NULL, 0, 0, 0);
    fault.hides_size = true; /* as if it had been empty when it was looked at */
    expect_read();
    leave_folder();
}

/* ---- Writing ------------------------------------------------------------------------- */

static tcr_error write_error;

/* Puts two texts into files of the folder: one there before, one new. */
static tcr_status write_both(void) {
    tcr_outputs *outputs = new_outputs();
    write_error = tcr_error_none();
    tcr_status status = add(outputs, "old", "after", &write_error);
    if (status == TCR_OK)
        status = add(outputs, "new", "after", &write_error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(outputs, &write_error);
    tcr_outputs_free(outputs);
    fault.call = NULL;
    return status;
}

/* A failure leaves nothing for a while, and files whole: as before or as after. */
static void expect_whole(void) {
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    expect_true(strcmp(held("old"), "before") == 0 || strcmp(held("old"), "after") == 0);
    expect_true(strcmp(held("new"), "(none)") == 0 || strcmp(held("new"), "after") == 0);
}

static void put_back(void) {
    put("old", "before");
    unlink("new");
}

static void expect_unwritten(const char *words, bool as_before) {
    const tcr_status status = write_both();
    given("says \"%s\", not \"%s\"", write_error.message, words);
    expect_true(status == TCR_E_OPEN || status == TCR_E_WRITE);
    expect_status(write_error.status, status);
    expect_true(strstr(write_error.message, words) != NULL);
    expect_whole();
    if (as_before) {
        expect_text(held("old"), "before");
        expect_text(held("new"), "(none)");
    }
    put_back();
}

static void expect_written(void) {
    const tcr_status status = write_both();
    expect_text(write_error.message, "");
    expect_status(status, TCR_OK);
    expect_text(held("old"), "after");
    expect_text(held("new"), "after");
    expect_whole();
    put_back();
}

static const struct {
    int code;
    const char *words;
} WRITING[] = {{EACCES, "permission denied"},
               {EPERM, "permission denied"},
               {ENOENT, "there is no such folder"},
               {ENOTDIR, "a part of the path is not a folder"},
               {EISDIR, "it is a folder; give the name of a file"},
               {ELOOP, "its links lead nowhere"},
               {ENAMETOOLONG, "the name is too long"},
               {EROFS, "the disk is read-only"},
               {ENOSPC, "the disk is full"},
               {EDQUOT, "the space allowed on the disk is used up"},
               {EFBIG, "it would be larger than is allowed"},
               {EIO, "the disk reports an error"},
               {EPIPE, "whoever reads it has stopped"},
               {EBADF, "it is not open for writing"},
               {ENXIO, "nothing is behind it"},
               {EMFILE, "too many files are open"},
               {ENFILE, "too many files are open"},
               {EFAULT, "system error 14"}};

CLAIM(a_file_that_cannot_be_written_is_told_with_the_reason) {
    begin();
    for (size_t i = 0; i < sizeof WRITING / sizeof *WRITING; i++) {
        const int code = WRITING[i].code;
        for (int after = 0; after <= 1; after++) { /* the older file, the new one */
            static const char *const calls[] = {"open", "write", "fsync", "close"};
            for (size_t c = 0; c < sizeof calls / sizeof *calls; c++) {
                fail_with(calls[c], code, after, 1);
                expect_unwritten(WRITING[i].words, true);
            }
        }
        fail_with("realpath", code, 0, 1);
        expect_unwritten(WRITING[i].words, true);
        fail_with("rename", code, 0, 1);
        expect_unwritten(WRITING[i].words, true);
        if (code != ENOENT) { /* then it is a new file */
            fail_with("stat", code, 0, 1);
            expect_unwritten(WRITING[i].words, true);
        }
        fail_with("stat", code, 1, 1); /* of its folder */
        expect_unwritten(WRITING[i].words, true);
        if (code != EPERM) {
            fail_with("fchmod", code, 0, 1);
            expect_unwritten(WRITING[i].words, true);
        }
        fail_with("rename", code, 1, 1); /* the older one is in place by then */
        expect_unwritten(WRITING[i].words, false);
    }
    leave_folder();
}

CLAIM(a_failure_after_the_first_file_names_what_is_in_place) {
    begin();
    fail_with("rename", EIO, 1, 1);
    expect_status(write_both(), TCR_E_WRITE);
    expect_text(write_error.message,
                "cannot be written: the disk reports an error; written: old; as before: new");
    expect_text(held("old"), "after");
    expect_text(held("new"), "(none)");
    put_back();
    fail_with("open a folder", EIO, 0, 1); /* both are in place, and perhaps not on the disk */
    expect_status(write_both(), TCR_E_WRITE);
    expect_text(write_error.message,
                "cannot be written: the disk reports an error; written: old, new");
    expect_whole();
    leave_folder();
}

CLAIM(what_is_only_interrupted_is_written) {
    begin();
    static const char *const calls[] = {"open", "write", "fsync", "open a folder"};
    for (size_t c = 0; c < sizeof calls / sizeof *calls; c++)
        for (int after = 0; after <= 1; after++) {
            fail_with(calls[c], EINTR, after, 2);
            expect_written();
        }
    fail_with("close", EINTR, 0, 2); /* POSIX: the descriptor is gone all the same on Linux */
    expect_written();
    fail_with("write", EAGAIN, 0, 1); /* a file is always ready, so poll() returns at once */
    expect_written();
    fail_with("write", 0, 0, 1);
    expect_unwritten("the disk reports an error", true);
    leave_folder();
}

CLAIM(file_systems_that_know_less_do) {
    begin();
    static const int modes[] = {EPERM, ENOTSUP}, syncs[] = {EINVAL, ENOTSUP, ENOSYS};
    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        fail_with("fchmod", modes[i], 0, 1);
        expect_written();
    }
    for (size_t i = 0; i < sizeof syncs / sizeof *syncs; i++) {
        fail_with("fsync", syncs[i], 0, 4);
        expect_written();
    }
    fail_with("open a folder", EACCES, 0, 2); /* it may be written to but not read */
    expect_written();
    leave_folder();
}

/* A new file that must not replace another, on a file system without links. */
static tcr_status write_new(void) {
    tcr_outputs *outputs = new_outputs();
    size_t index;
    write_error = tcr_error_none();
    expect_status(tcr_outputs_add_new(outputs, "new", &index, &write_error), TCR_OK);
    expect_status(tcr_outputs_write(outputs, index, "after", 5), TCR_OK);
    const tcr_status status = tcr_outputs_commit(outputs, &write_error);
    tcr_outputs_free(outputs);
    return status;
}

CLAIM(without_links_a_new_file_takes_its_name_first) {
    begin();
    static const int links[] = {EPERM, ENOTSUP, ENOSYS};
    for (size_t i = 0; i < sizeof links / sizeof *links; i++) {
        fail_with("link", links[i], 0, 1);
        expect_status(write_new(), TCR_OK);
        expect_text(held("new"), "after");
        expect_whole();
        put_back();
    }
    fail_with("link", EIO, 0, 1);
    expect_status(write_new(), TCR_E_WRITE);
    expect_text(write_error.message, "cannot be written: the disk reports an error");
    expect_whole();
    expect_text(held("new"), "(none)");
    fail_with("link", EEXIST, 0, 1); /* somebody else was faster */
    expect_status(write_new(), TCR_E_CONTENT);
    expect_text(write_error.message,
                "there is a file of this name already; choose another name or folder, "
                "or move it away");
    expect_text(held("new"), "(none)");
    leave_folder();
}

/* ---- Seals --------------------------------------------------------------------------- */

CLAIM(a_seal_that_cannot_be_read_is_told) {
    begin();
    tcr_outputs *outputs = new_outputs();
    tcr_error error;
    size_t index;
    fail_with(NULL, 0, 0, 0);
    expect_status(tcr_outputs_add_sealed(outputs, "sealed", &index, &error), TCR_OK);
    expect_status(tcr_outputs_write(outputs, index, "a line\n", 7), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, &error), TCR_OK);
    tcr_outputs_free(outputs);
    expect_status(tcr_outputs_may_seal("sealed", &error), TCR_OK);
    static const struct {
        const char *call;
        int code, after;
        tcr_status status;
    } cases[] = {
        {"open", EIO, 0, TCR_E_OPEN},   {"open", ENOENT, 0, TCR_OK}, /* it has gone since */
        {"open", EINTR, 0, TCR_OK},     {"read", EIO, 0, TCR_E_OPEN}, {"read", EIO, 1, TCR_E_OPEN},
        {"read", EINTR, 0, TCR_OK},     {"read", 0, 0, TCR_E_OPEN},   {"fstat", EIO, 0, TCR_E_OPEN},
        {"stat", EACCES, 0, TCR_E_OPEN}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        fail_with(cases[i].call, cases[i].code, cases[i].after, 1);
        expect_status(tcr_outputs_may_seal("sealed", &error), cases[i].status);
    }
    fault.call = NULL;
    leave_folder();
}

/* Whether the library's calls come by here: where files are large or sources fortified they may
 * have other names. */
static bool stands_between(void) {
    static const char *const calls[] = {"open", "fstat", "stat"};
    for (size_t i = 0; i < sizeof calls / sizeof *calls; i++) {
        tcr_set_file *file = NULL;
        fault = (struct fault){.call = calls[i]};
        if (tcr_set_file_read("/dev/null", NULL, &file, NULL) == TCR_OK)
            tcr_set_file_free(file);
        (void)tcr_outputs_may_seal("/dev/null", NULL);
        if (fault.seen == 0)
            return false;
    }
    fault.call = NULL;
    return true;
}

int main(void) {
    enum { SKIPPED = 77 }; /* an exit status, to the harness of automake */
    if (!stands_between()) {
        puts("ok - a system that fails # SKIP its calls have other names here");
        return SKIPPED;
    }
    static const TTest *const claims[] = {
        &a_file_that_cannot_be_read_is_told_with_the_reason,
        &an_interrupted_reading_goes_on_and_a_file_may_grow,
        &a_file_that_cannot_be_written_is_told_with_the_reason,
        &a_failure_after_the_first_file_names_what_is_in_place,
        &what_is_only_interrupted_is_written,
        &file_systems_that_know_less_do,
        &without_links_a_new_file_takes_its_name_first,
        &a_seal_that_cannot_be_read_is_told,
    };
    return RUN_CLAIMS("system that fails", claims);
}
