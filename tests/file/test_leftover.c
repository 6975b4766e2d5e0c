/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Temporary files that nobody will finish. Those of a process that has gone are reported and stay;
 * those of a command that a signal ends are removed. Expected values: what was put into the folder.
 */
#include <tipcrest/file.h>

#include <sys/wait.h>
#include <unistd.h>

#include "file/folder.h"

typedef struct told {
    size_t calls, count;
    char path[256];
} told;

static void tell(void *context, const char *path, size_t count) {
    told *to = context;
    to->calls++;
    to->count = count;
    snprintf(to->path, sizeof to->path, "%s", path);
}

CLAIM(what_a_killed_process_left_is_told_and_stays) {
    enter_folder();
    put("foreign.tmp", "somebody's");
    const pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) { /* ends as a kill would end it */
        tcr_outputs *lost = new_outputs();
        expect_status(add(lost, "a.json", "half", NULL), TCR_OK);
        expect_status(add(lost, "b.json", "half", NULL), TCR_OK);
        _exit(0);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    expect_count(names_in(".", ".tipcrest-", NULL), 2);
    tcr_outputs *outputs = new_outputs();
    expect_status(add(outputs, "c.json", "half", NULL), TCR_OK); /* at work: not left over */
    told to = {0};
    tcr_outputs_leftovers(outputs, tell, &to);
    expect_count(to.calls, 1); /* one folder */
    expect_count(to.count, 2);
    expect_true(strstr(to.path, ".tipcrest-") != NULL && access(to.path, F_OK) == 0);
    tcr_outputs_free(outputs);
    expect_count(names_in(".", ".tipcrest-", NULL), 2);
    leave_folder();
}

CLAIM(only_files_of_processes_that_have_gone_are_told_and_the_first_is_named) {
    char name[64];
    enter_folder();
    const pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0)
        _exit(0);
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child); /* its number is nobody's now */
    for (int i = 1; i <= 3; i++) {
        snprintf(name, sizeof name, ".tipcrest-%ld-%d.tmp", (long)child, i);
        put(name, "half");
    }
    snprintf(name, sizeof name, ".tipcrest-%ld-0.tmp", (long)getppid()); /* at work */
    put(name, "half");
    tcr_outputs *outputs = new_outputs();
    expect_status(add(outputs, "c.json", "half", NULL), TCR_OK);
    told to = {0};
    tcr_outputs_leftovers(outputs, tell, &to);
    snprintf(name, sizeof name, "/.tipcrest-%ld-1.tmp", (long)child);
    given("%s", to.path);
    expect_count(to.count, 3);
    expect_true(strstr(to.path, name) !=
                NULL); /* the first by its name, whatever the folder's order */
    tcr_outputs_free(outputs);
    leave_folder();
}

CLAIM(abandoned_outputs_leave_the_folder_as_it_was) {
    enter_folder();
    put("a.json", "older");
    tcr_outputs *outputs = new_outputs();
    expect_status(add(outputs, "a.json", "half", NULL), TCR_OK);
    expect_status(add(outputs, "b.json", "half", NULL), TCR_OK);
    expect_count(names_in(".", ".tipcrest-", NULL), 2);
    tcr_outputs_abandon(outputs);
    expect_count(names_in(".", ".tipcrest-", NULL), 0);
    tcr_outputs_free(outputs);
    expect_text(held("a.json"), "older");
    expect_true(access("b.json", F_OK) != 0);
    tcr_outputs_abandon(NULL); /* which is accepted */
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &what_a_killed_process_left_is_told_and_stays,
        &only_files_of_processes_that_have_gone_are_told_and_the_first_is_named,
        &abandoned_outputs_leave_the_folder_as_it_was,
    };
    return RUN_CLAIMS("leftover", claims);
}
