/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Commands to which memory fails: each allocation, in every place from which one is made. The
 * command then says so, exits with 1, prints nothing and leaves no file of its own. Its parts are
 * called in this process, so that one run costs little.
 */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include <fcntl.h>
#include <getopt.h>
#include <sys/stat.h>

#include "../cli/call.h"
#include "../cli/common.h"
#include "faults/places.h"
#include "file/folder.h"

enum { WORDS_MAX = 24 };

/* Runs a command with standard output and standard error in files; its exit status. */
static int run(const tcr_command *command, const char *const *word) {
    char copy[WORDS_MAX][64], *argv[WORDS_MAX + 1] = {NULL};
    int argc = 0, kept[2], to[2];
    tcr_call call;
    bool help;
    for (; word[argc] != NULL; argc++) {
        snprintf(copy[argc], sizeof copy[argc], "%s", word[argc]);
        argv[argc] = copy[argc];
    }
    fflush(NULL);
    for (int i = 0; i < 2; i++) {
        kept[i] = dup(1 + i);
        to[i] = open(i == 0 ? "../out" : "../err", O_WRONLY | O_CREAT | O_TRUNC, 0600);
        ck_assert_int_ge(dup2(to[i], 1 + i), 0);
        close(to[i]);
    }
    optind = 0; /* glibc: begins anew */
    tcr_set_command(command->name);
    memory.armed = true;
    int status = tcr_call_read(command, argc, argv, &call, &help);
    if (status == TCR_EXIT_DONE)
        status = command->run(&call);
    memory.armed = false;
    fflush(NULL);
    for (int i = 0; i < 2; i++) {
        ck_assert_int_ge(dup2(kept[i], 1 + i), 0);
        close(kept[i]);
    }
    return status;
}

/* Files in the folder; those that stand there before count for nothing. */
static int files(void) {
    int others;
    return names_in(".", ".", &others) + others;
}

/* Whether a message is one about memory, or about a file that could not be made for lack of it. */
static bool tells_of_memory(void) { return strstr(held("../err"), "memory") != NULL; }

static void fail_each(const tcr_command *command, const char *const *word, int outputs) {
    const int before = files();
    size_t runs = 0;
    memset(&memory, 0, sizeof memory);
    for (;; runs++) {
        memory.failed = false;
        memory.calls = 0;
        const int status = run(command, word);
        given("%s, place %zu: %s", command->name, memory.places, held("../err"));
        if (!memory.failed) {
            expect_count(status, TCR_EXIT_DONE);
            expect_count(files(), before + outputs);
            break;
        }
        expect_count(status, TCR_EXIT_FAILED);
        expect_true(tells_of_memory());
        expect_text(held("../out"), "");
        if (files() == before + outputs) /* all done: only the words at the end found no memory */
            ck_assert_int_eq(system("rm -f new.yaml b-left.csv b-right.csv"), 0);
        expect_count(files(), before);
    }
    expect_true(runs > 3);
    printf("# %s: memory failed in %zu places\n", command->name, runs);
    fflush(stdout);
}

#define WORDS(...) ((const char *const[]){__VA_ARGS__, NULL})

static const char SET[] = "tipcrest: 1\neyes:\n- side: left\n  lashes: {survey: a.csv}\n"
                          "  map: [{to: 1, length_mm: 10, curl: C}]\n";

static void enter(void) {
    char survey[4096] = "id,u,layer,length_mm\n";
    enter_folder();
    ck_assert_int_eq(mkdir("in", 0700), 0);
    ck_assert_int_eq(chdir("in"), 0);
    for (int i = 0; i < 15; i++) {
        const size_t used = strlen(survey);
        static const char *const LAYERS[] = {"bottom", "middle", "top"};
        snprintf(survey + used, sizeof survey - used, "n%d,0.%d,%s,8\n", i, 10 + 5 * i,
                 LAYERS[i % 3]);
    }
    put("set.yaml", SET);
    put("a.csv", survey);
}

CLAIM(begin_without_memory_says_so) {
    enter();
    fail_each(&tcr_command_begin, WORDS("begin", "-o", "new.yaml", "--survey", "b.csv"), 3);
    leave_folder();
}

CLAIM(check_without_memory_says_so) {
    enter();
    fail_each(&tcr_command_check, WORDS("check", "set.yaml", "--json", "a.json", "--csv", "b.csv"),
              2);
    leave_folder();
}

CLAIM(checks_of_many_sets_without_memory_say_so) {
    enter();
    fail_each(&tcr_command_check, WORDS("check", "set.yaml", "--reports", "."), 3);
    leave_folder();
}

CLAIM(why_and_step_without_memory_say_so) {
    enter();
    fail_each(&tcr_command_why, WORDS("why", "set.yaml", "--json", "a.json"), 1);
    fail_each(&tcr_command_step, WORDS("step", "set.yaml", "--json", "b.json"), 1);
    fail_each(&tcr_command_step, WORDS("step", "--csv", "c.csv"), 1);
    leave_folder();
}

CLAIM(plan_without_memory_says_so) {
    enter();
    fail_each(&tcr_command_plan,
              WORDS("plan", "set.yaml", "-o", "new.yaml", "--look", "cat", "--each-eye", "--csv",
                    "b.csv"),
              3);
    leave_folder();
}

#ifdef TCR_WITH_DRAW
CLAIM(draw_without_memory_says_so) {
    enter();
    fail_each(&tcr_command_draw,
              WORDS("draw", "set.yaml", "--view", "compare", "--with", "set.yaml", "--width", "40",
                    "--dpi", "20", "-o", "a.png"),
              1);
    leave_folder();
}
#endif

int main(void) {
    static const TTest *const claims[] = {
        &begin_without_memory_says_so,
        &check_without_memory_says_so,
        &checks_of_many_sets_without_memory_say_so,
        &why_and_step_without_memory_say_so,
        &plan_without_memory_says_so,
#ifdef TCR_WITH_DRAW
        &draw_without_memory_says_so,
#endif
    };
    return RUN_CLAIMS("memory that fails commands", claims);
}
