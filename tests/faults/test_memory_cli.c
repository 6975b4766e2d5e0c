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

enum { WORDS_MAX = 32 };

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

static void shell(const char *line) { ck_assert_int_eq(system(line), 0); }

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
            shell("rm -f new.yaml b-left.csv b-right.csv");
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

#ifdef TCR_WITH_STUDY
/* A study of 4 points by 2 runs in one thread, so that allocations come in one order. */
#define STUDY                                                                                      \
    "study", "set.yaml", "--vary", "opening=0.5,0.7,1", "--vary", "viewer_deg=0,5", "--design",    \
        "random", "--points", "4", "--runs", "2", "--threads", "1"
#define IN_FOLDER STUDY, "--all", "--no-chart", "-o"

/* A study that finds memory. */
static void study(const char *const *word) {
    memory.failed = true; /* no more in this run */
    given("%s", "a study that finds memory");
    expect_count(run(&tcr_command_study, word), TCR_EXIT_DONE);
}

/*
 * Studies, each of which finds its files as 'make' leaves them. Where 'goes_on', what a run left is
 * gone on with, or begun anew where no study had begun, and comes to the files of 'right'.
 */
static void fail_each_study(const char *name, const char *make, const char *const *word,
                            bool goes_on) {
    size_t runs = 0;
    memset(&memory, 0, sizeof memory);
    for (;; runs++) {
        shell(make);
        memory.failed = false;
        memory.calls = 0;
        memory.blocks = 0;
        const int status = run(&tcr_command_study, word);
        given("%s, place %zu: %s", name, memory.places, held("../err"));
        expect_count(memory.blocks, 0);
        expect_count(status, memory.failed ? TCR_EXIT_FAILED : TCR_EXIT_DONE);
        if (memory.failed) {
            expect_true(tells_of_memory());
            expect_text(held("../out"), "");
            if (goes_on)
                study(access("made/study.json", F_OK) == 0 ? WORDS(IN_FOLDER, "made", "--resume")
                                                           : WORDS(IN_FOLDER, "made"));
        }
        if (goes_on)
            shell("diff -r right made");
        if (!memory.failed)
            break;
    }
    expect_true(runs > 20);
    printf("# %s: memory failed in %zu places\n", name, runs);
    fflush(stdout);
}

CLAIM(a_study_without_memory_says_so_and_goes_on) {
    enter();
    study(WORDS(IN_FOLDER, "right"));
    fail_each_study("study", "rm -rf made", WORDS(IN_FOLDER, "made"), true);
    /* One that was stopped: its log has a point and a half. */
    shell("cp -r right half && rm half/results.* half/runs.csv && "
          "sed -i 's/\"complete\": true/\"complete\": false/' half/study.json && "
          "head -c 600 right/runs.npy >half/runs.npy");
    fail_each_study("study, going on", "rm -rf made && cp -r half made",
                    WORDS(IN_FOLDER, "made", "--resume"), true);
    leave_folder();
}

CLAIM(parts_of_a_study_without_memory_say_so) {
    enter();
    study(WORDS(IN_FOLDER, "right"));
    study(WORDS(IN_FOLDER, "a", "--part", "1/2"));
    study(WORDS(IN_FOLDER, "b", "--part", "2/2"));
    fail_each_study("study, joined", "rm -rf made", WORDS(IN_FOLDER, "made", "--join", "a", "b"),
                    true);
    leave_folder();
}

#ifdef TCR_WITH_DRAW
/* Hours of work are not lost for a picture: without memory for one the table comes all the same. */
static void fail_each_chart(const char *name, const char *const *word) {
    size_t drawn = 0;
    memset(&memory, 0, sizeof memory);
    for (;;) {
        memory.failed = false;
        memory.calls = 0;
        memory.blocks = 0;
        const int status = run(&tcr_command_study, word);
        given("%s, place %zu: %s", name, memory.places, held("../err"));
        const bool has_table = *held("../out") != '\0', has_picture = access("a.png", F_OK) == 0;
        const bool of_picture = strstr(held("../err"), "a.png: ") != NULL;
        expect_true(status == TCR_EXIT_DONE ? has_table : !has_table || of_picture);
        expect_count(memory.blocks, 0);
        if (!memory.failed) {
            expect_true(has_table && has_picture);
            break;
        }
        expect_true(tells_of_memory() && !has_picture);
        drawn += has_table;
    }
    expect_true(drawn > 5);
    expect_count(unlink("a.png"), 0);
    printf("# %s: memory failed in %zu places, %zu of them of the picture\n", name, memory.places,
           drawn);
    fflush(stdout);
}

CLAIM(a_chart_without_memory_loses_no_answer) {
    enter();
    fail_each_chart("study, bars", WORDS(STUDY, "--picture", "a.png", "--width", "40"));
    fail_each_chart("study, a map",
                    WORDS("study", "set.yaml", "--vary", "opening=0.5,1", "--vary",
                          "viewer_deg=0,5", "--threads", "1", "--picture", "a.png"));
    fail_each_chart("study, lines",
                    WORDS("study", "set.yaml", "--vary", "opening=0.5,0.6,0.7,1", "--vary",
                          "viewer_deg=0,5", "--threads", "1", "--picture", "a.png"));
    fail_each_chart("study, the best for each",
                    WORDS("study", "set.yaml", "--vary", "opening=0.5,1", "--vary",
                          "layering.step_mm=0,1", "--threads", "1", "--picture", "a.png"));
    fail_each_chart("study, a curve", WORDS("study", "set.yaml", "--vary", "opening=0.5,1",
                                            "--threads", "1", "--picture", "a.png"));
    leave_folder();
}
#endif

static const char STUDY_FILE[] =
    "tipcrest-study: 1\nset: set.yaml\ntitle: Drawn (invented)\n"
    "vary:\n  longest_mm: {distribution: triangular, least: 8, mode: 9, most: 11}\n"
    "  curl: [C, D]\noutputs: [fitted.rms_mm]\ndesign: sensitivity\npoints: 4\nscramblings: 16\n"
    "runs: 2\nspread: {height_sd_mm: 0.2}\n";

CLAIM(studies_that_keep_nothing_say_that_memory_is_short) {
    enter();
    put("study.yaml", STUDY_FILE);
    fail_each_study("study, a file", "true", WORDS("study", "study.yaml", "--threads", "1"), false);
    fail_each_study("study, a dry run", "true", WORDS(STUDY, "--dry-run"), false);
    fail_each_study("study, of two levels", "true",
                    WORDS("study", "set.yaml", "--vary", "opening=0.5,1", "--vary",
                          "viewer_deg=0,5", "--threads", "1"),
                    false);
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
#ifdef TCR_WITH_STUDY
        &a_study_without_memory_says_so_and_goes_on,
        &parts_of_a_study_without_memory_say_so,
        &studies_that_keep_nothing_say_that_memory_is_short,
#ifdef TCR_WITH_DRAW
        &a_chart_without_memory_loses_no_answer,
#endif
#endif
    };
    return RUN_CLAIMS("memory that fails commands", claims);
}
