/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Studies as the command makes them: what is said, and which have a picture. The set is INVENTED.
 */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include <fcntl.h>
#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../cli/call.h"
#include "../cli/common.h"
#include "file/folder.h"

enum { WORDS_MAX = 80 };

static char out[20000], err[4000]; /* what the last call printed and said */

static void read_back(const char *path, char *to, size_t size) {
    FILE *stream = fopen(path, "r");
    ck_assert_ptr_nonnull(stream);
    to[fread(to, 1, size - 1, stream)] = '\0';
    fclose(stream);
    for (char *at = to; *at != '\0'; at++) /* sentences, wherever their lines end */
        if (*at == '\n' && strncmp(at, "\n  ", 3) == 0)
            memmove(at, at + 2, strlen(at + 2) + 1);
        else if (*at == '\n')
            *at = ' ';
    for (char *at; (at = strstr(to, "\n ")) != NULL;)
        memmove(at, at + 1, strlen(at + 1) + 1);
}

/* Runs a study with the words of a line; its exit status. */
static int study(const char *line) {
    static char copy[6000];
    char *argv[WORDS_MAX + 1] = {NULL};
    int argc = 0, kept[2];
    tcr_call call;
    bool help;
    given("study %s", line);
    snprintf(copy, sizeof copy, "study %s", line);
    for (char *word = strtok(copy, " "); word != NULL; word = strtok(NULL, " ")) {
        ck_assert_int_lt(argc, WORDS_MAX);
        argv[argc++] = word;
    }
    fflush(NULL);
    for (int i = 0; i < 2; i++) {
        const int to = open(i == 0 ? "out" : "err", O_WRONLY | O_CREAT | O_TRUNC, 0600);
        kept[i] = dup(1 + i);
        ck_assert_int_ge(dup2(to, 1 + i), 0);
        close(to);
    }
    optind = 0; /* glibc: begins anew */
    tcr_set_command("study");
    int status = tcr_call_read(&tcr_command_study, argc, argv, &call, &help);
    if (status == TCR_EXIT_DONE)
        status = tcr_command_study.run(&call);
    fflush(NULL);
    for (int i = 0; i < 2; i++) {
        ck_assert_int_ge(dup2(kept[i], 1 + i), 0);
        close(kept[i]);
    }
    read_back("out", out, sizeof out);
    read_back("err", err, sizeof err);
    return status;
}

static void expect_in(const char *text, const char *part) {
    if (strstr(text, part) == NULL)
        ck_abort_msg("\"%s\" is not in: %s%s", part, out, err);
}

static const char SET[] = "tipcrest: 1\neyes:\n- side: left\n"
                          "  lashes: {describe: {count: 14, phases: none}}\n"
                          "  map: [{to: 0.5, length_mm: 11, curl: C}, {to: 1, length_mm: 10, curl: "
                          "C}]\n";

static void begin(void) {
    enter_folder();
    put("set.yaml", SET);
}

/* ---- Sentences ----------------------------------------------------------------------- */

/* Source of the words: earlier results of this project; the counts follow from the call. */
static const struct {
    const char *line, *says;
} TABLES[] = {
    {"set.yaml", "1 combination "},
    {"set.yaml --vary opening=0.5,1", "2 combinations "},
    {"set.yaml --vary opening=0.5,1",
     "The lashes are one sample drawn by chance; --runs tries many."},
    {"set.yaml --vary opening=0.5,1 --runs 1", "One run tells nothing apart."},
    {"set.yaml --vary opening=0.5,1 --runs 1", "1 run of each"},
    {"set.yaml --vary opening=0.5,1 --output fitted.layer_offset_mm.top",
     "the size of fitted.layer_offset_mm.top"},
    {"set.yaml --vary opening=0.5,1 --output fitted.within_tolerance",
     "fitted.within_tolerance, value: most 1.000 at opening 1, least 0."},
    {"set.yaml --vary curl=C,D --output fitted.within_tolerance", "of fitted.within_tolerance"},
    {"set.yaml --vary curl=C,D --runs 1", "One run tells nothing apart."},
    {"set.yaml", "Nothing varies (--vary KEY=LIST): the set as it is, with value "},
    {"set.yaml --indices --vary viewer_deg=0,5 --vary opening=0.5,1 --points 2 "
     "--output load.mass_ratio.max",
     "Nothing to share out: load.mass_ratio.max is the same at all points of a scrambling."},
    {"set.yaml --indices --points 2 --vary opening=0.5,1 --vary viewer_deg=0,5 "
     "--vary layering.step_mm=0,1 --vary eyes.left.lid.mrd1_mm=3,4 --vary bond.offset_mm=0.6,0.7 "
     "--vary bond.glue_mm=0.03,0.04 --vary longest_mm=10,11 --vary layering.diameter_mm=0.1,0.15 "
     "--vary eyes.left.lid.fissure_width_mm=26,27 --vary eyes.left.lid.fullness=1.5,1.6",
     "... and 2 more, which matter less"},
    {"set.yaml --vary opening=0.5,0.7,1 --part 1/3 -o part --no-chart",
     "This is a part; --join puts the parts together and has the answer."},
};

CLAIM(a_study_says_what_it_found) {
    begin();
    for (size_t i = 0; i < sizeof TABLES / sizeof *TABLES; i++) {
        expect_count(study(TABLES[i].line), TCR_EXIT_DONE);
        expect_in(out, TABLES[i].says);
        expect_text(err, "");
    }
    leave_folder();
}

CLAIM(a_dry_run_says_how_much_it_would_be) {
    static const struct {
        const char *line, *count, *threads;
    } RUNS[] = {
        {"set.yaml --dry-run --threads 1", "1 evaluation: 1 point. About ",
         " with 1 thread, if these share the work evenly: "},
        {"set.yaml --vary opening=0.5,1 --runs 1 --dry-run --threads 2",
         "2 evaluations: 2 points by 1 run. About ", " with 2 threads, if these share the work "},
        {"set.yaml --vary opening=0.5,1 --runs 2 --dry-run",
         "4 evaluations: 2 points by 2 runs. About ", " with "},
        {"set.yaml --vary opening=0.5,1 --design random --points 1e10 --dry-run",
         "10000000000 evaluations: 10000000000 points. About ", " with "},
    };
    begin();
    for (size_t i = 0; i < sizeof RUNS / sizeof *RUNS; i++) {
        expect_count(study(RUNS[i].line), TCR_EXIT_DONE);
        expect_in(out, RUNS[i].count);
        expect_in(out, RUNS[i].threads);
        expect_text(err, "");
    }
    expect_count(study("set.yaml --vary opening=0:1:0.00001 --vary viewer_deg=0:9:0.00001 "
                       "--dry-run"),
                 TCR_EXIT_WRONG);
    expect_in(err, " points, but must have at most 10000000000");
    leave_folder();
}

CLAIM(a_wrong_call_is_told_with_what_would_be_right) {
    static const struct {
        const char *line, *says;
    } WRONG[] = {
        {"set.yaml --part 0/2 -o a", "--part is \"0/2\"; it is I/N, such as 2/5, with N at most "},
        {"set.yaml --part 3/2 -o a", "--part is \"3/2\"; it is I/N"},
        {"set.yaml --part 1.5/2 -o a", "--part is \"1.5/2\"; it is I/N"},
        {"set.yaml --part 2 -o a", "--part is \"2\"; it is I/N"},
        {"set.yaml --part 1/2", "--part needs the folder of the results, -o DIR"},
        {"set.yaml --resume", "--resume needs the folder of the results, -o DIR"},
        {"set.yaml --all", "--all needs the folder of the results, -o DIR"},
        {"set.yaml --indices --design random",
         "--indices has a design of its own; leave out --design"},
        {"set.yaml --vary opening=0.5,1 --output largest",
         "there is no output \"largest\"; did you mean largest_gap_mm?"},
    };
    begin();
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        expect_count(study(WRONG[i].line), TCR_EXIT_WRONG);
        expect_in(err, WRONG[i].says);
        expect_text(out, "");
    }
    leave_folder();
}

CLAIM(the_goal_of_a_call_turns_the_ranking) {
    /* Of two choices the best for one goal is the worst for the other. */
    static const char *const GOALS[] = {"least", "most"};
    bool is_c[2];
    begin();
    for (int i = 0; i < 2; i++) {
        char line[120];
        snprintf(line, sizeof line, "set.yaml --vary curl=C,D --of fitted.rms_mm --goal %s",
                 GOALS[i]);
        expect_count(study(line), TCR_EXIT_DONE);
        is_c[i] = strstr(out, "Best: curl C,") != NULL;
        expect_true(is_c[i] != (strstr(out, "Best: curl D,") != NULL));
    }
    expect_true(is_c[0] != is_c[1]);
    leave_folder();
}

CLAIM(shares_name_what_matters_most) {
    /* The opening moves all tips by millimetres, the glue by hundredths. */
    begin();
    expect_count(study("set.yaml --indices --points 16 --vary bond.glue_mm=0.03:0.031:0.001 --vary "
                       "opening=0.2:1:0.1 --output fitted.rms_mm"),
                 TCR_EXIT_DONE);
    expect_in(out, "opening matters most for fitted.rms_mm. The mean of this output is ");
    const char *opening = strstr(out, " opening "), *glue = strstr(out, " bond.glue_mm ");
    expect_true(opening != NULL && glue != NULL && opening < glue); /* the largest share first */
    leave_folder();
}

/* ---- Pictures ------------------------------------------------------------------------ */

#ifdef TCR_WITH_DRAW
static const char DRAWN_FILE[] = "tipcrest-study: 1\nset: set.yaml\nvary:\n"
                                 "  opening: {distribution: uniform, least: 0.5, most: 1}\n"
                                 "design: random\npoints: 20\n";

CLAIM(every_design_has_a_picture) {
    static const char *const LINES[] = {
        "set.yaml --vary opening=0.5,1 --runs 2",
        "set.yaml --vary curl=C,D --runs 2",
        "set.yaml --vary opening=0.5,1 --design random --points 8",
        "set.yaml --vary opening=0.5,1 --vary curl=C,D --output fitted.within_tolerance",
        "set.yaml --vary opening=0.5,1 --vary viewer_deg=0,5 --vary curl=C,D",
        "set.yaml --vary opening=0.5,1 --vary viewer_deg=0,5 --vary curl=C,D --vary "
        "longest_mm=10,11",
        "set.yaml --vary opening=0:1:0.001 --vary viewer_deg=0,5 --output largest_gap_mm",
        "set.yaml --vary opening=0:1:0.1 --vary curl=C,D --design random --points 30 --runs 2",
        "set.yaml --vary opening=0:1:0.1 --vary viewer_deg=0,5 --indices --points 4",
        "set.yaml --vary opening=0.5",
        /* More factors than there are curves, and longer names than there is room for. */
        "set.yaml --vary opening=0.5,1 --vary viewer_deg=0,5 --vary longest_mm=10,11 --vary "
        "eyes.left.lid.mrd1_mm=3,4 --vary eyes.left.lid.mrd2_mm=5,5.2 --vary "
        "eyes.left.lid.fissure_width_mm=26,27 --vary eyes.left.lid.canthal_tilt_deg=4,5 --vary "
        "eyes.left.lid.inner_corner_height_mm=-1.5,-1.6 --vary eyes.left.lid.fullness=1.5,1.6 "
        "--vary eyes.left.lid.globe_radius_mm=12,12.1 --vary "
        "eyes.left.lid.lateral_semiaxis_mm=16,16.1 --vary layering.diameter_mm=0.1,0.15 --vary "
        "layering.step_mm=0,1 --vary bond.offset_mm=0.6,0.7 --vary bond.length_mm=3,3.1 --vary "
        "eyes.left.lid.peak_offset_mm=-1,-0.9 --design random --points 20",
        "drawn.yaml",
    };
    begin();
    put("drawn.yaml", DRAWN_FILE);
    for (size_t i = 0; i < sizeof LINES / sizeof *LINES; i++) {
        char line[1200];
        snprintf(line, sizeof line, "%s --picture a.svg", LINES[i]);
        expect_count(study(line), TCR_EXIT_DONE);
        expect_text(err, "");
        expect_true(strncmp(held("a.svg"), "<?xml", 5) == 0);
        expect_count(unlink("a.svg"), 0);
    }
    leave_folder();
}

CLAIM(a_study_without_an_answer_has_none) {
    static const char NOTHING[] = "tipcrest: no picture: nothing varies, no point ranks, or points "
                                  "failed and the grid is too large for a map ";
    begin();
    expect_count(study("set.yaml --picture a.svg"), TCR_EXIT_DONE);
    expect_text(err, NOTHING);
    expect_in(out, "1 combination");
    expect_count(study("set.yaml --indices --vary viewer_deg=0,5 --vary opening=0.5,1 --points 2 "
                       "--output load.mass_ratio.max --picture a.svg"),
                 TCR_EXIT_DONE);
    expect_text(err, NOTHING);
    expect_in(out, "Nothing to share out");
    expect_count(names_in(".", "a.svg", NULL), 0);
    leave_folder();
}
#endif

int main(void) {
    static const TTest *const claims[] = {
        &a_study_says_what_it_found,
        &a_dry_run_says_how_much_it_would_be,
        &a_wrong_call_is_told_with_what_would_be_right,
        &the_goal_of_a_call_turns_the_ranking,
        &shares_name_what_matters_most,
#ifdef TCR_WITH_DRAW
        &every_design_has_a_picture,
        &a_study_without_an_answer_has_none,
#endif
    };
    return RUN_CLAIMS("studies", claims);
}
