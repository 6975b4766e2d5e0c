/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What outputs may go to: files with their modes, links, folders, devices, pipes, standard output,
 * and two names of one file.
 */
#include <tipcrest/file.h>

#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include "file/folder.h"

/* ---- Modes, links, folders --------------------------------------------------------- */

static int mode_of(const char *path) {
    struct stat found;
    ck_assert_int_eq(stat(path, &found), 0);
    return (int)(found.st_mode & 0777);
}

CLAIM(a_new_file_has_the_mode_that_the_umask_leaves) {
    enter_folder();
    umask(027);
    expect_status(write_file("new", "text", NULL), TCR_OK);
    expect_count(mode_of("new"), 0640);
    leave_folder();
}

CLAIM(a_replaced_file_keeps_its_mode) {
    enter_folder();
    umask(077);
    const int modes[] = {0604, 0666, 0600, 0755};
    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        put("old", "before");
        ck_assert_int_eq(chmod("old", (mode_t)modes[i]), 0);
        expect_status(write_file("old", "after", NULL), TCR_OK);
        expect_text(held("old"), "after");
        expect_count(mode_of("old"), modes[i]);
    }
    leave_folder();
}

CLAIM(a_link_is_followed_and_stays) {
    enter_folder();
    ck_assert_int_eq(mkdir("below", 0700), 0);
    put("below/old", "before");
    ck_assert_int_eq(symlink("below/old", "link"), 0);
    ck_assert_int_eq(symlink("link", "link-to-link"), 0);
    expect_status(write_file("link-to-link", "after", NULL), TCR_OK);
    struct stat found;
    ck_assert_int_eq(lstat("link-to-link", &found), 0);
    expect_true(S_ISLNK(found.st_mode));
    ck_assert_int_eq(lstat("link", &found), 0);
    expect_true(S_ISLNK(found.st_mode));
    expect_text(held("below/old"), "after");
    leave_folder();
}

CLAIM(a_link_that_leads_nowhere_is_refused) {
    enter_folder();
    ck_assert_int_eq(symlink("new", "dangling"), 0);
    ck_assert_int_eq(symlink("circle", "circle"), 0);
    const char *const names[] = {"dangling", "circle"};
    for (size_t i = 0; i < 2; i++) {
        tcr_error error;
        given("%s", names[i]);
        expect_status(write_file(names[i], "text", &error), TCR_E_OPEN);
        expect_text(error.message, "cannot be opened for writing: its links lead nowhere");
    }
    expect_text(held("new"), "(none)");
    leave_folder();
}

CLAIM(the_working_folder_may_change_before_commit) {
    enter_folder();
    tcr_outputs *outputs = new_outputs();
    expect_status(add(outputs, "new", "text", NULL), TCR_OK);
    ck_assert_int_eq(chdir("/"), 0);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    tcr_outputs_free(outputs);
    ck_assert_int_eq(chdir(folder), 0);
    expect_text(held("new"), "text");
    leave_folder();
}

CLAIM(what_cannot_be_a_file_is_refused_with_the_reason) {
    enter_folder();
    ck_assert_int_eq(mkdir("folder", 0700), 0);
    put("file", "before");
    char long_name[300], long_path[6000];
    memset(long_name, 'x', sizeof long_name - 1);
    long_name[sizeof long_name - 1] = '\0';
    memset(long_path, '/', sizeof long_path - 1);
    long_path[sizeof long_path - 1] = '\0';
    const struct {
        const char *path, *message;
    } cases[] = {
        {"folder", "it is a folder; give the name of a file"},
        {".", "it is a folder; give the name of a file"},
        {"..", "it is a folder; give the name of a file"},
        {"/", "it is a folder; give the name of a file"},
        {"new/", "it is a folder; give the name of a file"},
        {"", "there is no such folder"},
        {"nowhere/new", "there is no such folder"},
        {"file/new", "a part of the path is not a folder"},
        {long_name, "the name is too long"},
        {long_path, "the name is too long"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tcr_error error = {0};
        char expected[128];
        given("path \"%.40s\"", cases[i].path);
        snprintf(expected, sizeof expected, "cannot be opened for writing: %s", cases[i].message);
        expect_status(write_file(cases[i].path, "text", &error), TCR_E_OPEN);
        expect_text(error.message, expected);
        expect_status(error.status, TCR_E_OPEN);
        expect_count(names_in(".", ".tipcrest-", NULL), 0);
    }
    expect_text(held("file"), "before");
    leave_folder();
}

/* Root may write everywhere; then this goes on as somebody else. */
static void become_nobody(void) {
    if (geteuid() != 0)
        return;
    ck_assert_int_eq(chown(folder, 65534, 65534), 0);
    ck_assert_int_eq(setegid(65534), 0);
    ck_assert_int_eq(seteuid(65534), 0);
}

static void become_root_again(void) {
    if (getuid() != 0)
        return;
    ck_assert_int_eq(seteuid(0), 0);
    ck_assert_int_eq(setegid(0), 0);
}

CLAIM(a_read_only_folder_or_file_is_refused_and_stays) {
    enter_folder();
    become_nobody();
    put("old", "before");
    ck_assert_int_eq(chmod("old", 0444), 0);
    tcr_error error;
    expect_status(write_file("old", "after", &error), TCR_E_OPEN);
    expect_text(error.message, "cannot be opened for writing: permission denied");
    ck_assert_int_eq(chmod("old", 0644), 0);
    ck_assert_int_eq(chmod(".", 0555), 0);
    expect_status(write_file("old", "after", &error), TCR_E_OPEN);
    expect_text(error.message, "cannot be opened for writing: permission denied");
    expect_status(write_file("new", "after", &error), TCR_E_OPEN);
    expect_text(held("old"), "before");
    become_root_again();
    leave_folder();
}

/* ---- The same file twice ----------------------------------------------------------- */

static void expect_same_file(const char *first, const char *second) {
    tcr_outputs *outputs = new_outputs();
    tcr_error error = {0};
    size_t index;
    given("outputs \"%s\" and \"%s\"", first, second);
    expect_status(tcr_outputs_add(outputs, first, &index, &error), TCR_OK);
    expect_status(tcr_outputs_add(outputs, second, &index, &error), TCR_E_CONTENT);
    expect_true(strstr(error.message, first) != NULL);
    expect_true(strstr(error.message, second) != NULL);
    tcr_outputs_free(outputs);
}

CLAIM(two_names_of_one_file_are_refused) {
    enter_folder();
    ck_assert_int_eq(mkdir("below", 0700), 0);
    ck_assert_int_eq(symlink(".", "here"), 0);
    put("old", "before");
    ck_assert_int_eq(link("old", "hard"), 0);
    ck_assert_int_eq(symlink("old", "soft"), 0);
    char absolute[PATH_MAX + 8];
    snprintf(absolute, sizeof absolute, "%s/new", folder);
    expect_same_file("old", "old");
    expect_same_file("old", "./below/../old");
    expect_same_file("hard", "old");
    expect_same_file("soft", "hard");
    expect_same_file("new", "here/new");
    expect_same_file("new", "below/../new");
    expect_same_file(absolute, "new");
    expect_text(held("old"), "before");
    expect_text(held("new"), "(none)");
    leave_folder();
}

CLAIM(an_output_that_is_an_input_is_refused) {
    enter_folder();
    put("input", "before");
    ck_assert_int_eq(link("input", "hard"), 0);
    ck_assert_int_eq(symlink("input", "soft"), 0);
    const char *const names[] = {"input", "./input", "hard", "soft"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        tcr_outputs *outputs = new_outputs();
        tcr_error error = {0};
        size_t index;
        expect_status(tcr_outputs_protect(outputs, "input"), TCR_OK);
        expect_status(tcr_outputs_add(outputs, names[i], &index, &error), TCR_E_CONTENT);
        char expected[200];
        snprintf(expected, sizeof expected,
                 "the output %s and the input input are the same file; give the output a name of "
                 "its own",
                 names[i]);
        expect_text(error.message, expected);
        tcr_outputs_free(outputs);
    }
    tcr_outputs *outputs = new_outputs();
    expect_status(tcr_outputs_protect(outputs, "nowhere"), TCR_E_OPEN);
    tcr_outputs_free(outputs);
    expect_text(held("input"), "before");
    leave_folder();
}

CLAIM(standard_output_can_be_protected_and_devices_need_not_be) {
    enter_folder();
    put("stream", "before");
    fflush(stdout);
    const int before = dup(STDOUT_FILENO), fd = open("stream", O_WRONLY | O_APPEND);
    ck_assert_int_eq(dup2(fd, STDOUT_FILENO), STDOUT_FILENO);
    tcr_outputs *outputs = new_outputs();
    tcr_error error = {0};
    size_t index;
    const tcr_status protects = tcr_outputs_protect(outputs, "-");
    const tcr_status status = tcr_outputs_add(outputs, "./stream", &index, &error);
    ck_assert_int_eq(dup2(before, STDOUT_FILENO), STDOUT_FILENO);
    close(before);
    close(fd);
    expect_status(protects, TCR_OK);
    expect_status(status, TCR_E_CONTENT);
    expect_text(error.message, "the output ./stream and standard output are the same file; give "
                               "the output a name of its own");
    expect_status(tcr_outputs_protect(outputs, "/dev/null"), TCR_OK);
    expect_status(tcr_outputs_add(outputs, "/dev/null", &index, &error), TCR_OK);
    tcr_outputs_free(outputs);
    leave_folder();
}

CLAIM(a_name_is_made_safe_in_messages) {
    enter_folder();
    put("in\x1b[31mput", "before");
    tcr_outputs *outputs = new_outputs();
    tcr_error error = {0};
    size_t index;
    expect_status(tcr_outputs_protect(outputs, "in\x1b[31mput"), TCR_OK);
    expect_status(tcr_outputs_add(outputs, "in\x1b[31mput", &index, &error), TCR_E_CONTENT);
    expect_true(strstr(error.message, "in\\x1b[31mput") != NULL);
    expect_true(strchr(error.message, '\x1b') == NULL);
    tcr_outputs_free(outputs);
    leave_folder();
}

/* ---- Devices, pipes, standard output ----------------------------------------------- */

CLAIM(a_full_device_fails_and_the_file_beside_it_stays_old) {
    if (access("/dev/full", W_OK) != 0)
        ck_abort_msg("this system has no /dev/full");
    enter_folder();
    put("old", "before");
    tcr_outputs *outputs = new_outputs();
    tcr_error error;
    expect_status(add(outputs, "old", "after", &error), TCR_OK);
    expect_status(add(outputs, "/dev/full", "text", &error), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_WRITE);
    expect_text(error.path, "/dev/full");
    expect_text(error.message, "cannot be written: the disk is full");
    tcr_outputs_free(outputs);
    expect_text(held("old"), "before");
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    struct stat found;
    ck_assert_int_eq(stat("/dev/full", &found), 0);
    expect_true(S_ISCHR(found.st_mode));
    leave_folder();
}

CLAIM(two_outputs_may_go_to_one_device) {
    tcr_outputs *outputs = new_outputs();
    expect_status(add(outputs, "/dev/null", "text", NULL), TCR_OK);
    expect_status(add(outputs, "/dev/null", "text", NULL), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    tcr_outputs_free(outputs);
}

CLAIM(a_pipe_is_written_through_and_stays_a_pipe) {
    enter_folder();
    ck_assert_int_eq(mkfifo("pipe", 0600), 0);
    const int reader = open("pipe", O_RDONLY | O_NONBLOCK);
    expect_true(reader >= 0);
    expect_status(write_file("pipe", "through", NULL), TCR_OK);
    char text[16] = "";
    expect_count(read(reader, text, sizeof text - 1), 7);
    expect_text(text, "through");
    close(reader);
    struct stat found;
    ck_assert_int_eq(lstat("pipe", &found), 0);
    expect_true(S_ISFIFO(found.st_mode));
    leave_folder();
}

/* Standard output turned to a file; what it was before is put back. */
static tcr_status write_to_stdout(const char *to, const char *text, const char *beside,
                                  tcr_error *error) {
    fflush(stdout);
    const int before = dup(STDOUT_FILENO), fd = open(to, O_WRONLY | O_APPEND);
    expect_true(before >= 0 && fd >= 0);
    ck_assert_int_eq(dup2(fd, STDOUT_FILENO), STDOUT_FILENO);
    tcr_outputs *outputs = new_outputs();
    tcr_status status = add(outputs, beside, "beside", error);
    if (status == TCR_OK)
        status = add(outputs, "-", text, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(outputs, error);
    tcr_outputs_free(outputs);
    ck_assert_int_eq(dup2(before, STDOUT_FILENO), STDOUT_FILENO);
    close(before);
    close(fd);
    return status;
}

CLAIM(a_dash_is_standard_output_and_stays_open) {
    enter_folder();
    put("stream", "first,");
    tcr_error error;
    expect_status(write_to_stdout("stream", "second,", "beside", &error), TCR_OK);
    expect_status(write_to_stdout("stream", "third", "beside", &error), TCR_OK);
    expect_text(held("stream"), "first,second,third");
    expect_text(held("beside"), "beside");
    leave_folder();
}

CLAIM(standard_output_that_is_full_leaves_the_file_beside_it_old) {
    enter_folder();
    put("beside", "before");
    tcr_error error;
    expect_status(write_to_stdout("/dev/full", "text", "beside", &error), TCR_E_WRITE);
    expect_text(error.path, "standard output");
    expect_text(error.message, "cannot be written: the disk is full");
    expect_text(held("beside"), "before");
    leave_folder();
}

CLAIM(standard_output_that_is_another_output_is_refused) {
    enter_folder();
    put("stream", "before");
    tcr_error error;
    expect_status(write_to_stdout("stream", "text", "stream", &error), TCR_E_CONTENT);
    expect_text(error.message, "standard output and the output stream are the same file; give "
                               "the output a name of its own");
    expect_status(write_to_stdout("/dev/null", "text", "-", &error), TCR_E_CONTENT);
    expect_text(error.message,
                "only one output can be \"-\", standard output; give the other a file");
    expect_text(held("stream"), "before");
    leave_folder();
}

/* ---- Outputs that are complete before the commit ----------------------------------- */

CLAIM(an_output_that_is_finished_takes_no_more_and_waits_for_the_commit) {
    enter_folder();
    put("a", "before");
    tcr_outputs *outputs = new_outputs();
    size_t index, other;
    expect_status(tcr_outputs_add(outputs, "a", &index, NULL), TCR_OK);
    expect_status(tcr_outputs_write(outputs, index, "whole", 5), TCR_OK);
    expect_status(tcr_outputs_finish(outputs, index), TCR_OK);
    expect_status(tcr_outputs_write(outputs, index, "more", 4), TCR_E_ARGUMENT);
    expect_status(tcr_outputs_finish(outputs, index), TCR_OK); /* twice is once */
    expect_status(tcr_outputs_finish(outputs, 1), TCR_E_ARGUMENT);
    expect_text(held("a"), "before");
    expect_status(tcr_outputs_add(outputs, "b", &other, NULL), TCR_OK);
    expect_status(tcr_outputs_write(outputs, other, "too", 3), TCR_OK);
    expect_status(tcr_outputs_commit(outputs, NULL), TCR_OK);
    expect_text(held("a"), "whole");
    expect_text(held("b"), "too");
    tcr_outputs_free(outputs);
    leave_folder();
}

CLAIM(an_output_that_cannot_be_finished_is_told_by_the_commit) {
    enter_folder();
    put("a", "before");
    tcr_outputs *outputs = new_outputs();
    size_t index;
    tcr_error error;
    expect_status(tcr_outputs_add(outputs, "a", &index, NULL), TCR_OK);
    expect_status(tcr_outputs_write(outputs, index, "whole", 5), TCR_OK);
    const struct rlimit none = {0, RLIM_INFINITY}; /* a stand-in for a full disk */
    const struct rlimit open = {RLIM_INFINITY, RLIM_INFINITY};
    signal(SIGXFSZ, SIG_IGN);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &none), 0);
    expect_status(tcr_outputs_finish(outputs, index), TCR_E_WRITE);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &open), 0);
    expect_status(tcr_outputs_commit(outputs, &error), TCR_E_WRITE);
    expect_text(error.message, "cannot be written: it would be larger than is allowed");
    expect_text(held("a"), "before");
    tcr_outputs_free(outputs);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_new_file_has_the_mode_that_the_umask_leaves,
        &a_replaced_file_keeps_its_mode,
        &a_link_is_followed_and_stays,
        &a_link_that_leads_nowhere_is_refused,
        &the_working_folder_may_change_before_commit,
        &what_cannot_be_a_file_is_refused_with_the_reason,
        &a_read_only_folder_or_file_is_refused_and_stays,
        &two_names_of_one_file_are_refused,
        &an_output_that_is_an_input_is_refused,
        &standard_output_can_be_protected_and_devices_need_not_be,
        &a_name_is_made_safe_in_messages,
        &a_full_device_fails_and_the_file_beside_it_stays_old,
        &two_outputs_may_go_to_one_device,
        &a_pipe_is_written_through_and_stays_a_pipe,
        &a_dash_is_standard_output_and_stays_open,
        &standard_output_that_is_full_leaves_the_file_beside_it_old,
        &standard_output_that_is_another_output_is_refused,
        &an_output_that_is_finished_takes_no_more_and_waits_for_the_commit,
        &an_output_that_cannot_be_finished_is_told_by_the_commit,
    };
    return RUN_CLAIMS("targets", claims);
}
