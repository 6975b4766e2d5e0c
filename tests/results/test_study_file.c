/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Study files: what they say comes into the study, and what is wrong has its place. */
#include <string.h>

#include "results/made.h"
#include "support/options.h"

static tcr_study_file *read_file(const char *text) {
    tcr_study_file *file;
    tcr_error error = tcr_error_none();
    put("set.yaml", DRAWN_SET);
    put("study.yaml", text);
    if (tcr_study_file_read("study.yaml", NULL, NULL, &file, &error) != TCR_OK)
        ck_abort_msg("%lu:%lu: %s", error.line, error.column, error.message);
    return file;
}

CLAIM(a_study_file_says_all_that_a_study_is_made_of) {
    enter_folder();
    tcr_study_file *file =
        read_file("tipcrest-study: 1\nset: set.yaml\ntitle: Trial (invented)\ndesign: random\n"
                  "points: 50\nruns: 3\nseed: 9\noutputs: [largest_gap_mm, fitted.rms_mm]\n"
                  "vary:\n"
                  "  curl: [C, D]\n"
                  "  longest_mm: 9:12:1.5\n"
                  "  opening: 0.5\n"
                  "  apart_mm: {distribution: uniform, least: 0.2, most: 1.2}\n"
                  "  describe.pitch_sd_deg: {distribution: normal, mean: 6, sd: 1}\n"
                  "  viewer_deg: {distribution: triangular, least: 0, mode: 5, most: 20}\n");
    const tcr_study *study = tcr_study_file_study(file);
    uint64_t points;
    expect_status(tcr_study_count(study, &points, NULL), TCR_OK);
    expect_count(points, 50);
    expect_count(tcr_study_runs(study), 3);
    expect_count(tcr_study_factor_count(study), 6);
    expect_count(tcr_study_factor_at(study, 0)->factor.levels, 2);
    const tcr_factor *longest = &tcr_study_factor_at(study, 1)->factor;
    expect_count(longest->levels, 3);
    expect_same(longest->level[1], 10.5, "given: from 9 by 1.5");
    expect_count(tcr_study_factor_at(study, 2)->factor.levels, 1);
    expect_same(tcr_study_factor_at(study, 3)->factor.most, 1.2, "given");
    expect_same(tcr_study_factor_at(study, 4)->factor.sd, 1.0, "given");
    expect_same(tcr_study_factor_at(study, 5)->factor.mode, 5.0, "given");
    expect_count(tcr_study_output_count(study), 2);
    expect_text(tcr_study_output_at(study, 0)->name, "largest_gap_mm");
    expect_text(tcr_study_file_title(file), "Trial (invented)");
    expect_text(tcr_set_title(tcr_set_file_set(tcr_study_file_set_file(file))),
                "Small drill (invented)");
    expect_count(tcr_study_file_input_count(file), 2);
    expect_text(tcr_study_file_input(file, 0), "study.yaml");
    expect_text(tcr_study_file_input(file, 1), "set.yaml");
    expect_true(tcr_study_file_input(file, 2) == NULL);
    tcr_study_file_free(file);
    leave_folder();
}

CLAIM(a_set_file_is_a_study_with_the_words_of_a_call) {
    static const char *const VARY[] = {"layering.step_mm=0:1:0.5", "curl=C,CC,D"};
    static const char *const OUTPUT[] = {"fitted.max_abs_mm"};
    tcr_study_ask ask = tcr_study_ask_default();
    uint64_t points;
    enter_folder();
    ask.output = OUTPUT;
    ask.outputs = 1;
    ask.has_runs = true;
    ask.runs = 4;
    tcr_study_file *file = study_of(VARY, 2, &ask);
    expect_status(tcr_study_count(tcr_study_file_study(file), &points, NULL), TCR_OK);
    expect_count(points, 9);
    expect_count(tcr_study_runs(tcr_study_file_study(file)), 4);
    expect_text(tcr_study_output_at(tcr_study_file_study(file), 0)->name, "fitted.max_abs_mm");
    expect_text(tcr_study_file_title(file), "Small drill (invented)"); /* that of the set */
    expect_count(tcr_study_file_input_count(file), 1);
    tcr_study_file_free(file);
    expect_true(tcr_study_file_study(NULL) == NULL && tcr_study_file_set_file(NULL) == NULL);
    expect_text(tcr_study_file_title(NULL), "");
    expect_count(tcr_study_file_input_count(NULL), 0);
    expect_true(tcr_study_file_input(NULL, 0) == NULL);
    tcr_study_file_free(NULL);
    leave_folder();
}

CLAIM(what_is_wrong_has_its_place) {
    static const struct {
        const char *text;
        unsigned long line, column;
        const char *part; /* of the message */
    } WRONG[] = {
        {"tipcrest-study: 2\nset: set.yaml\n", 1, 17, "the format is 2"},
        {"tipcrest-study: 1\n", 1, 1, "set is missing"},
        {"tipcrest-study: 1\nset: gone.yaml\n", 2, 6, "cannot be opened"},
        {"tipcrest-study: 1\nset: /set.yaml\n", 2, 6, "must lie beside the study file"},
        {"tipcrest-study: 1\nset: set.yaml\nvary: [curl]\n", 3, 7, "needs a line for each key"},
        {"tipcrest-study: 1\nset: set.yaml\nvary:\n  curl:\n", 4, 8, "has no value"},
        {"tipcrest-study: 1\nset: set.yaml\nvary:\n  curl: [C, [D]]\n", 4, 13, "in its list"},
        {"tipcrest-study: 1\nset: set.yaml\nvary:\n  opening: [1, 2]\n", 4, 16, "opening is 2"},
        {"tipcrest-study: 1\nset: set.yaml\nvary:\n  opening: {distribution: normal, mean: 1}\n", 4,
         12, "sd is missing"},
        {"tipcrest-study: 1\nset: set.yaml\nvary:\n  opening: {distribution: uniform, least: 0, "
         "most: 1}\n",
         4, 12, "a grid takes a list"},
        {"tipcrest-study: 1\nset: set.yaml\nvary:\n  opening: {distribution: normal, mean: 1, sd: "
         "0.1, most: 1}\n",
         4, 59, "most is not used in a normal distribution"},
        {"tipcrest-study: 1\nset: set.yaml\nvary:\n  opening: {distribution: even}\n", 4, 27,
         "normal"},
        {"tipcrest-study: 1\nset: set.yaml\nvary:\n  opening: {least: 1}\n", 4, 12,
         "it is uniform, normal or triangular"},
        {"tipcrest-study: 1\nset: set.yaml\nrun: 1\n", 3, 1, "runs"},
        {"tipcrest-study: 1\nset: set.yaml\noutputs: [fitted.rms]\n", 3, 11, "fitted.rms"},
        {"tipcrest-study: 1\nset: set.yaml\nruns: -1\n", 3, 7, "runs is -1"},
        {"tipcrest-study: 1\nset: set.yaml\nspread: {pitch_sd_deg: 90}\n", 3, 24, "pitch_sd_deg"},
    };
    enter_folder();
    put("set.yaml", DRAWN_SET);
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        tcr_study_file *file = NULL;
        tcr_error error = tcr_error_none();
        put("study.yaml", WRONG[i].text);
        given("%s: %s", WRONG[i].text, error.message);
        expect_true(tcr_study_file_read("study.yaml", NULL, NULL, &file, &error) != TCR_OK);
        given("%s: %s", WRONG[i].text, error.message);
        expect_true(file == NULL);
        expect_count(error.line, WRONG[i].line);
        expect_count(error.column, WRONG[i].column);
        expect_true(strstr(error.message, WRONG[i].part) != NULL);
    }
    leave_folder();
}

CLAIM(a_title_has_an_end) {
    char text[1200] = "tipcrest-study: 1\nset: set.yaml\ntitle: ";
    const size_t begins = strlen(text);
    tcr_study_file *file = NULL;
    tcr_error error = tcr_error_none();
    memset(text + begins, 'x', 1024);
    enter_folder();
    put("set.yaml", DRAWN_SET);
    put("study.yaml", text);
    expect_status(tcr_study_file_read("study.yaml", NULL, NULL, &file, &error), TCR_E_CONTENT);
    expect_count(error.line, 3);
    expect_true(strstr(error.message, "the title is too long; it may have at most 1023 bytes") !=
                NULL);
    text[begins + 1023] = '\0';
    tcr_study_file_free(read_file(text));
    leave_folder();
}

static tcr_status read_with(const void *ask, void *context) {
    tcr_study_file *file = NULL;
    const tcr_status status = tcr_study_file_read(context, ask, NULL, &file, NULL);
    expect_true((status == TCR_OK) == (file != NULL));
    tcr_study_file_free(file);
    return status;
}

CLAIM(what_a_call_asks_for_may_be_of_an_older_size) {
    const tcr_study_ask ask = tcr_study_ask_default();
    tcr_study_file *file;
    char path[] = "set.yaml";
    enter_folder();
    put("set.yaml", DRAWN_SET);
    tcr_expect_sizes(&ask, sizeof ask, read_with, path);
    expect_status(tcr_study_file_read(NULL, NULL, NULL, &file, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_file_read("set.yaml", NULL, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_file_read("none.yaml", NULL, NULL, &file, NULL), TCR_E_OPEN);
    leave_folder();
}

CLAIM(the_digest_of_a_study_is_of_what_its_results_depend_on) {
    static const char *const VARY[] = {"opening=0.2,1"}, *const OTHER[] = {"opening=0.2,0.9"};
    tcr_study_ask ask = tcr_study_ask_default();
    char digest[3][TCR_STUDY_DIGEST_SIZE];
    enter_folder();
    tcr_study_file *file = study_of(VARY, 1, &ask);
    expect_status(tcr_study_file_digest(file, digest[0]), TCR_OK);
    expect_status(tcr_study_file_digest(NULL, digest[0]), TCR_E_ARGUMENT);
    expect_status(tcr_study_file_digest(file, NULL), TCR_E_ARGUMENT);
    tcr_study_file_free(file);
    put("commented.yaml",
        "# a comment\ntipcrest-study: 1\nset: set.yaml\nvary: {opening: [0.2, 1]}\n");
    expect_status(tcr_study_file_read("commented.yaml", NULL, NULL, &file, NULL), TCR_OK);
    expect_status(tcr_study_file_digest(file, digest[1]), TCR_OK);
    tcr_study_file_free(file);
    file = study_of(OTHER, 1, &ask);
    expect_status(tcr_study_file_digest(file, digest[2]), TCR_OK);
    tcr_study_file_free(file);
    expect_count(strlen(digest[0]), TCR_STUDY_DIGEST_SIZE - 1);
    expect_text(digest[0], digest[1]);
    expect_true(strcmp(digest[0], digest[2]) != 0);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_study_file_says_all_that_a_study_is_made_of,
        &a_set_file_is_a_study_with_the_words_of_a_call,
        &what_is_wrong_has_its_place,
        &a_title_has_an_end,
        &what_a_call_asks_for_may_be_of_an_older_size,
        &the_digest_of_a_study_is_of_what_its_results_depend_on,
    };
    return RUN_CLAIMS("study_file", claims);
}
