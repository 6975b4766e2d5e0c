/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Files that appear whole or not at all. Calls of the system are made to fail by definitions of our
 * own of write(), fsync() and others, which stand before the C library's.
 */
#define _GNU_SOURCE /* RTLD_NEXT, renameat2 */
#include <tipcrest/file.h>

#include <errno.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include "faults/replace.h"
#include "file/folder.h"
#include "support/memory.h"

/* ---- Calls that fail on demand ----------------------------------------------------- */

static struct {
    const char *call; /* which one fails; NULL: none */
    int at;           /* the how manieth of it, from 1, */
    bool once;        /* and only that one */
    int code;         /* with this errno */
    int seen;
    bool stammer; /* write() takes one byte, and is interrupted every other time */
    int writes;
    bool claims; /* renameat2() does not know how to leave a file of the new name alone */
} fault;

static bool fails(const char *call) {
    if (fault.call == NULL || strcmp(call, fault.call) != 0)
        return false;
    fault.seen++;
    if (fault.once ? fault.seen != fault.at : fault.seen < fault.at)
        return false;
    errno = fault.code;
    return true;
}

ssize_t write(int fd, const void *bytes, size_t count) {
    FIND_REAL(ssize_t, write, (int, const void *, size_t))
    if (fails("write"))
        return -1;
    if (fault.stammer && fault.writes++ % 2 == 0) {
        errno = EINTR;
        return -1;
    }
    return real(fd, bytes, fault.stammer && count > 1 ? 1 : count);
}

#define FAIL_ON_DEMAND(name, parameters, arguments)                                                \
    int name parameters {                                                                          \
        FIND_REAL(int, name, parameters)                                                           \
        return fails(#name) ? -1 : real arguments;                                                 \
    }

FAIL_ON_DEMAND(fsync, (int fd), (fd))
FAIL_ON_DEMAND(rename, (const char *from, const char *to), (from, to))
FAIL_ON_DEMAND(link, (const char *from, const char *to), (from, to))

/* As Linux does: the descriptor is gone even where close() fails. */
int close(int fd) {
    FIND_REAL(int, close, (int))
    const bool failed = fails("close");
    const int code = errno, result = real(fd);
    if (failed)
        errno = code;
    return failed ? -1 : result;
}

int renameat2(int a, const char *from, int b, const char *to, unsigned flags) {
    FIND_REAL(int, renameat2, (int, const char *, int, const char *, unsigned))
    errno = EINVAL;
    return fault.claims ? -1 : real(a, from, b, to, flags);
}

static void let_fail(const char *call, int at, int code) {
    fault.call = call;
    fault.at = at;
    fault.once = true;
    fault.code = code;
    fault.seen = 0;
}

static void let_all_work(void) {
    fault.call = NULL;
    fault.stammer = fault.claims = false;
}

/* ---- Whole or not at all ----------------------------------------------------------- */

CLAIM(a_file_appears_at_commit_and_not_before) {
    enter_folder();
    tcr_outputs *outputs = new_outputs();
    tcr_error error;
    expect_status(add(outputs, "new", "text", &error), TCR_OK);
    expect_text(held("new"), "(none)");
    expect_status(tcr_outputs_commit(outputs, &error), TCR_OK);
    expect_text(held("new"), "text");
    tcr_outputs_free(outputs);
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

CLAIM(what_is_not_committed_leaves_nothing_behind) {
    enter_folder();
    put("old", "before");
    tcr_outputs *outputs = new_outputs();
    expect_status(add(outputs, "old", "after", NULL), TCR_OK);
    expect_status(add(outputs, "new", "after", NULL), TCR_OK);
    tcr_outputs_free(outputs);
    expect_text(held("old"), "before");
    int others;
    expect_count(names_in(".", ".tipcrest-", &others), 0);
    expect_count(others, 1);
    leave_folder();
}

CLAIM(a_large_text_arrives_byte_by_byte) {
    enter_folder();
    /* More than the buffer of 64 kB, in pieces that do not divide it, and one that is larger. */
    enum { PIECES = 3000, PIECE = 97, LARGE = 200000 };
    static char piece[LARGE], read_back[PIECES * PIECE + LARGE + 1];
    tcr_outputs *outputs = new_outputs();
    size_t index;
    expect_status(tcr_outputs_add(outputs, "large", &index, NULL), TCR_OK);
    for (int i = 0; i < PIECES; i++) {
        memset(piece, 'a' + i % 26, PIECE);
        expect_status(tcr_outputs_write(outputs, index, piece, PIECE), TCR_OK);
    }
    memset(piece, '!', LARGE);
    expect_status(tcr_outputs_write(outputs, index, piece, LARGE), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    tcr_outputs_free(outputs);
    FILE *stream = fopen("large", "r");
    expect_count(fread(read_back, 1, sizeof read_back, stream), PIECES * PIECE + LARGE);
    fclose(stream);
    for (size_t i = 0; i < PIECES * PIECE + LARGE; i++)
        if (read_back[i] != (i < PIECES * PIECE ? 'a' + (int)(i / PIECE % 26) : '!'))
            expect_count(i, -1);
    leave_folder();
}

CLAIM(short_and_interrupted_writes_are_gone_on_with) {
    enter_folder();
    fault.stammer = true;
    tcr_error error;
    expect_status(write_file("new", "one byte at a time", &error), TCR_OK);
    let_all_work();
    expect_true(fault.writes > 18);
    expect_text(held("new"), "one byte at a time");
    leave_folder();
}

/* Fails one call of a commit of two files, the first or both of them there before. */
static tcr_status commit_two(const char *call, int at, int code, tcr_error *error) {
    tcr_outputs *outputs = new_outputs();
    let_fail(call, at, code);
    tcr_status status = add(outputs, "a", "new a", error);
    if (status == TCR_OK)
        status = add(outputs, "b", "new b", error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(outputs, error);
    tcr_outputs_free(outputs);
    let_all_work();
    return status;
}

/* What the message of a commit that failed has to be, from what the two files hold. */
static const char *expected_message(bool b_exists) {
    static char text[200];
    const bool a_new = strcmp(held("a"), "new a") == 0, b_new = strcmp(held("b"), "new b") == 0;
    if (!a_new)
        expect_text(held("a"), "old a");
    if (!b_new)
        expect_text(held("b"), b_exists ? "old b" : "(none)");
    snprintf(text, sizeof text, "cannot be written: the disk reports an error%s%s",
             a_new   ? "; written: a"
             : b_new ? "; written: b"
                     : "",
             a_new && b_new ? ", b"
             : a_new        ? "; as before: b"
             : b_new        ? "; as before: a"
                            : "");
    return text;
}

/* Fails each such call in turn; the first 'whole' failures must leave both files as they were. */
static void fail_each(const char *call, bool b_exists, int whole) {
    int failures = 0;
    for (int at = 1; at < 100; at++) {
        enter_folder();
        put("a", "old a");
        if (b_exists)
            put("b", "old b");
        tcr_error error = {0};
        const tcr_status status = commit_two(call, at, EIO, &error);
        given("%s number %d of a commit", call, at);
        const bool done = fault.seen < at;
        if (status == TCR_OK) { /* also where a folder's descriptor does not close */
            expect_text(held("a"), "new a");
            expect_text(held("b"), "new b");
        } else {
            failures++;
            expect_true(!done);
            expect_status(status, TCR_E_WRITE);
            expect_text(error.message, expected_message(b_exists));
            if (failures <= whole)
                expect_text(held("a"), "old a");
        }
        expect_count(names_in(".", ".tipcrest-", NULL), 0);
        leave_folder();
        if (done) {
            expect_true(failures >= 2); /* one for each file at least */
            return;
        }
    }
    ck_abort_msg("the commit never ran without a failure");
}

CLAIM(a_write_that_fails_leaves_old_files_whole) {
    fail_each("write", true, 2);
    fail_each("write", false, 2);
}

CLAIM(a_sync_that_fails_leaves_old_files_whole) {
    fail_each("fsync", true, 2); /* the folder's comes when all is in place */
    fail_each("fsync", false, 2);
}

CLAIM(a_close_that_fails_leaves_old_files_whole) {
    fail_each("close", true, 2);
    fail_each("close", false, 2);
}

CLAIM(a_rename_that_fails_is_told_with_the_files_that_are_written) {
    fail_each("rename", true, 1);
    fail_each("rename", false, 1);
}

CLAIM(a_target_that_becomes_a_folder_is_told_with_the_files_that_are_written) {
    enter_folder();
    put("a", "old a");
    put("b", "old b");
    tcr_outputs *outputs = new_outputs();
    expect_status(add(outputs, "a", "new a", NULL), TCR_OK);
    expect_status(add(outputs, "b", "new b", NULL), TCR_OK);
    expect_status(add(outputs, "c", "new c", NULL), TCR_OK);
    ck_assert_int_eq(unlink("b"), 0);
    ck_assert_int_eq(mkdir("b", 0700), 0);
    tcr_error error;
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_WRITE);
    expect_text(error.path, "b");
    expect_text(error.message, "cannot be written: it is a folder; give the name of a file; "
                               "written: a; as before: b, c");
    tcr_outputs_free(outputs);
    expect_text(held("a"), "new a");
    expect_text(held("c"), "(none)");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

CLAIM(a_commit_after_a_write_that_failed_names_its_file) {
    static char large[200000]; /* more than is kept back before the first write */
    enter_folder();
    memset(large, 'b', sizeof large);
    tcr_outputs *outputs = new_outputs();
    size_t index;
    tcr_error error = {0};
    expect_status(add(outputs, "a", "new a", NULL), TCR_OK);
    expect_status(tcr_outputs_add(outputs, "b", &index, NULL), TCR_OK);
    let_fail("write", 1, EIO);
    expect_status(tcr_outputs_write(outputs, index, large, sizeof large), TCR_E_WRITE);
    let_all_work();
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_WRITE);
    expect_text(error.path, "b");
    expect_text(error.message, "cannot be written: the disk reports an error");
    tcr_outputs_free(outputs);
    expect_text(held("a"), "(none)");
    expect_text(held("b"), "(none)");
    leave_folder();
}

/* ---- Files that must be new -------------------------------------------------------- */

/* Adds a target that must be new and writes a text to it. */
static tcr_status add_new(tcr_outputs *outputs, const char *path, const char *text,
                          tcr_error *error) {
    size_t index;
    tcr_status status = tcr_outputs_add_new(outputs, path, &index, error);
    if (status == TCR_OK)
        status = tcr_outputs_write(outputs, index, text, strlen(text));
    return status;
}

#define EXISTS                                                                                     \
    "there is a file of this name already; choose another name or folder, or move it away"

CLAIM(a_new_file_appears_at_commit_under_its_one_name) {
    enter_folder();
    tcr_outputs *outputs = new_outputs();
    expect_status(add_new(outputs, "new", "text", NULL), TCR_OK);
    expect_text(held("new"), "(none)");
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    tcr_outputs_free(outputs);
    struct stat found;
    ck_assert_int_eq(stat("new", &found), 0);
    expect_count(found.st_nlink, 1);
    expect_text(held("new"), "text");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

CLAIM(a_name_that_is_taken_is_refused_when_it_is_added) {
    enter_folder();
    put("old", "before");
    ck_assert_int_eq(chmod("old", 0400), 0);
    ck_assert_int_eq(symlink("old", "link"), 0);
    ck_assert_int_eq(symlink("nowhere", "dangling"), 0);
    ck_assert_int_eq(mkdir("folder", 0700), 0);
    const char *const taken[] = {"old", "./old", "link", "dangling"};
    for (size_t i = 0; i < sizeof taken / sizeof *taken; i++) {
        tcr_outputs *outputs = new_outputs();
        tcr_error error = {0};
        given("%s", taken[i]);
        expect_status(add_new(outputs, taken[i], "after", &error), TCR_E_CONTENT);
        expect_text(error.path, taken[i]);
        expect_text(error.message, EXISTS);
        tcr_outputs_free(outputs);
    }
    tcr_outputs *outputs = new_outputs();
    tcr_error error = {0};
    expect_status(add_new(outputs, "folder", "after", &error), TCR_E_OPEN);
    expect_text(error.message,
                "cannot be opened for writing: it is a folder; give the name of a file");
    tcr_outputs_free(outputs);
    expect_text(held("old"), "before");
    expect_text(held("nowhere"), "(none)");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

CLAIM(what_is_no_file_may_be_there_already) {
    enter_folder();
    ck_assert_int_eq(mkfifo("pipe", 0600), 0);
    put("-", "a file whose name is a dash is not standard output");
    const int reader = open("pipe", O_RDONLY | O_NONBLOCK);
    tcr_outputs *outputs = new_outputs();
    size_t index;
    expect_status(add_new(outputs, "/dev/null", "text", NULL), TCR_OK);
    expect_status(add_new(outputs, "pipe", "through", NULL), TCR_OK);
    expect_status(tcr_outputs_add_new(outputs, "-", &index, NULL), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    tcr_outputs_free(outputs);
    char text[16] = "";
    expect_count(read(reader, text, sizeof text - 1), 7);
    expect_text(text, "through");
    close(reader);
    leave_folder();
}

/* Commits an old file that is replaced and new files, whose last name a rival takes first. */
static void lose_to(void (*rival)(const char *), const char *left) {
    enter_folder();
    put("old", "before");
    tcr_outputs *outputs = new_outputs();
    tcr_error error = {0};
    expect_status(add(outputs, "old", "after", &error), TCR_OK);
    expect_status(add_new(outputs, "first", "after", NULL), TCR_OK);
    expect_status(add_new(outputs, "new", "after", NULL), TCR_OK);
    rival("new");
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_CONTENT);
    expect_text(error.path, "new");
    expect_text(error.message, EXISTS "; written: old, first; as before: new");
    tcr_outputs_free(outputs);
    expect_text(held("new"), left);
    expect_text(held("old"), "after");
    expect_text(held("first"), "after");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

static void make_file(const char *path) { put(path, "rival"); }

static void make_dangling_link(const char *path) { ck_assert_int_eq(symlink("nowhere", path), 0); }

CLAIM(a_name_that_is_taken_meanwhile_is_refused) {
    lose_to(make_file, "rival");
    lose_to(make_dangling_link, "(none)");
}

/* New files where link() does not work. */
static void do_without_links(void) {
    let_fail("link", 1, EPERM); /* as a FAT file system answers */
    fault.once = false;
    lose_to(make_file, "rival");
    lose_to(make_dangling_link, "(none)");
    enter_folder();
    umask(027);
    tcr_outputs *outputs = new_outputs();
    expect_status(add_new(outputs, "new", "text", NULL), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    tcr_outputs_free(outputs);
    expect_text(held("new"), "text");
    /* There is nothing to put in place, and a claim on the name is given up. */
    outputs = new_outputs();
    char name[64];
    snprintf(name, sizeof name, ".tipcrest-%ld-0.tmp", (long)getpid());
    expect_status(add_new(outputs, "lost", "text", NULL), TCR_OK);
    ck_assert_int_eq(unlink(name), 0);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_E_WRITE);
    tcr_outputs_free(outputs);
    expect_text(held("lost"), "(none)");
    let_all_work();
    struct stat found;
    ck_assert_int_eq(stat("new", &found), 0);
    expect_count(found.st_mode & 0777, 0640); /* 0666 less the umask */
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

CLAIM(new_files_need_no_links) {
    do_without_links();
    fault.claims = true;
    do_without_links();
}

/* ---- No room, no memory, no process ------------------------------------------------ */

CLAIM(a_full_disk_leaves_the_old_file) {
    enter_folder();
    put("old", "before");
    struct rlimit limit = {65536, RLIM_INFINITY}; /* a stand-in: no file may grow beyond 64 kB */
    signal(SIGXFSZ, SIG_IGN);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
    static char block[100000];
    tcr_outputs *outputs = new_outputs();
    size_t index;
    expect_status(tcr_outputs_add(outputs, "old", &index, NULL), TCR_OK);
    expect_status(tcr_outputs_write(outputs, index, block, sizeof block), TCR_E_WRITE);
    expect_status(tcr_outputs_write(outputs, index, "more", 4), TCR_E_WRITE);
    tcr_error error;
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_WRITE);
    expect_text(error.path, "old");
    expect_text(error.message, "cannot be written: it would be larger than is allowed");
    tcr_outputs_free(outputs);
    expect_text(held("old"), "before");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    leave_folder();
}

CLAIM(no_memory_at_any_call_leaves_old_files_and_no_leak) {
    for (size_t at = 1;; at++) {
        enter_folder();
        put("old", "before");
        tcr_counted counted = {.fail_at = at};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_outputs *outputs = NULL;
        tcr_error error;
        tcr_status status = tcr_outputs_new(&allocator, &outputs);
        if (status == TCR_OK)
            status = tcr_outputs_protect(outputs, "/etc/passwd");
        if (status == TCR_OK)
            status = add(outputs, "old", "after", &error);
        if (status == TCR_OK)
            status = add(outputs, "/dev/null", "after", &error);
        if (status == TCR_OK)
            status = tcr_outputs_commit(outputs, &error);
        tcr_outputs_free(outputs);
        given("no memory from call %zu on", at);
        expect_count(counted.blocks, 0);
        expect_count(names_in(".", ".tipcrest-", NULL), 0);
        const bool done = counted.calls < at;
        expect_status(status, done ? TCR_OK : TCR_E_MEMORY);
        expect_text(held("old"), done ? "after" : "before");
        leave_folder();
        if (done) {
            expect_true(at > 10); /* objects, names, buffers */
            return;
        }
    }
}

CLAIM(a_killed_process_leaves_the_old_file_and_a_name_that_tells) {
    enter_folder();
    put("old", "before");
    const pid_t child = fork();
    if (child == 0) {
        tcr_outputs *outputs;
        if (tcr_outputs_new(NULL, &outputs) == TCR_OK &&
            add(outputs, "old", "half", NULL) == TCR_OK)
            raise(SIGKILL);
        _exit(1);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    expect_true(WIFSIGNALED(status));
    expect_text(held("old"), "before");
    char name[64];
    snprintf(name, sizeof name, ".tipcrest-%ld-", (long)child);
    expect_count(names_in(".", name, NULL), 1);
    leave_folder();
}

CLAIM(names_left_by_others_are_left_alone) {
    enter_folder();
    char name[64];
    for (int i = 0; i < 3; i++) {
        snprintf(name, sizeof name, ".tipcrest-%ld-%d.%s", (long)getpid(), i,
                 i < 2 ? "tmp" : "old");
        put(name, "another's");
    }
    put("old", "before");
    expect_status(write_file("old", "after", NULL), TCR_OK);
    expect_text(held("old"), "after");
    expect_text(held(name), "another's");
    expect_count(names_in(".", ".tipcrest-", NULL), 3);
    leave_folder();
}

CLAIM(nothing_goes_to_a_pipe_where_a_file_fails) {
    enter_folder();
    ck_assert_int_eq(mkfifo("pipe", 0600), 0);
    const int reader = open("pipe", O_RDONLY | O_NONBLOCK);
    put("old", "before");
    tcr_outputs *outputs = new_outputs();
    expect_status(add(outputs, "pipe", "half a result", NULL), TCR_OK);
    expect_status(add(outputs, "old", "after", NULL), TCR_OK);
    let_fail("fsync", 1, EIO);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_E_WRITE);
    let_all_work();
    tcr_outputs_free(outputs);
    char text[16];
    expect_count(read(reader, text, sizeof text), 0);
    close(reader);
    expect_text(held("old"), "before");
    leave_folder();
}

/* ---- Calls in the wrong order ------------------------------------------------------ */

CLAIM(calls_that_make_no_sense_are_refused) {
    tcr_outputs *outputs = NULL;
    const tcr_allocator half = {NULL, NULL, NULL};
    size_t index = 0;
    expect_status(tcr_outputs_new(NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_new(&half, &outputs), TCR_E_ARGUMENT);
    outputs = new_outputs();
    expect_status(tcr_outputs_write(outputs, 0, "x", 1), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(NULL, "x", &index, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(outputs, NULL, &index, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(outputs, "x", NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add_new(NULL, "x", &index, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_protect(outputs, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_commit(NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(outputs, "/dev/null", &index, NULL), TCR_OK);
    expect_status(tcr_outputs_write(outputs, index, NULL, 1), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_write(outputs, index, NULL, 0), TCR_OK);
    tcr_outputs_target there = {outputs, index}, nowhere = {NULL, index}, behind = {outputs, 9};
    expect_count(tcr_outputs_sink(&there, "x", 1), 0);
    expect_count(tcr_outputs_sink(&behind, "x", 1), -1);
    expect_count(tcr_outputs_sink(&nowhere, "x", 1), -1);
    expect_count(tcr_outputs_sink(NULL, "x", 1), -1);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    expect_status(tcr_outputs_write(outputs, index, "x", 1), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_add(outputs, "/dev/null", &index, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_E_ARGUMENT);
    tcr_outputs_free(outputs);
    tcr_outputs_free(NULL);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_file_appears_at_commit_and_not_before,
        &what_is_not_committed_leaves_nothing_behind,
        &a_large_text_arrives_byte_by_byte,
        &short_and_interrupted_writes_are_gone_on_with,
        &a_write_that_fails_leaves_old_files_whole,
        &a_sync_that_fails_leaves_old_files_whole,
        &a_close_that_fails_leaves_old_files_whole,
        &a_rename_that_fails_is_told_with_the_files_that_are_written,
        &a_target_that_becomes_a_folder_is_told_with_the_files_that_are_written,
        &a_commit_after_a_write_that_failed_names_its_file,
        &a_new_file_appears_at_commit_under_its_one_name,
        &a_name_that_is_taken_is_refused_when_it_is_added,
        &what_is_no_file_may_be_there_already,
        &a_name_that_is_taken_meanwhile_is_refused,
        &new_files_need_no_links,
        &a_full_disk_leaves_the_old_file,
        &no_memory_at_any_call_leaves_old_files_and_no_leak,
        &a_killed_process_leaves_the_old_file_and_a_name_that_tells,
        &names_left_by_others_are_left_alone,
        &nothing_goes_to_a_pipe_where_a_file_fails,
        &calls_that_make_no_sense_are_refused,
    };
    return RUN_CLAIMS("outputs", claims);
}
