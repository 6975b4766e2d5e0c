/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Folders with a study that is another one, or none: what is said of them, and that they stay. */
#include <string.h>
#include <sys/stat.h>

#include "results/made.h"

static const char *const VARY[] = {"layering.step_mm=0,1", "opening=0.2:1:0.2"};
enum { POINTS = 10 };

static void shell(const char *line) {
    given("%s", line);
    expect_count(system(line), 0);
}

static tcr_study_file *file;

/* Makes the folder 'dir' of the study with its log. */
static void make(const char *dir, size_t part, size_t parts) {
    tcr_results_options o = tcr_results_options_default();
    o.dir = dir;
    o.all = true;
    o.part = part;
    o.parts = parts;
    tcr_results *results = results_of(file, &o);
    run(results);
    tcr_results_free(results);
}

static void begin(void) {
    tcr_study_ask ask = tcr_study_ask_default();
    enter_folder();
    file = study_of(VARY, 2, &ask);
}

static void end(void) {
    tcr_study_file_free(file);
    leave_folder();
}

/* What is said where a folder is gone on with; "" where that goes well. */
static const char *said(const char *dir, tcr_status status) {
    static tcr_error error;
    tcr_results_options o = tcr_results_options_default();
    tcr_results *results = NULL;
    o.dir = dir;
    o.all = true;
    o.resume = true;
    error = tcr_error_none();
    tcr_status found = tcr_results_new(file, &o, NULL, &results, &error);
    if (found == TCR_OK)
        found = tcr_results_run(results, NULL, &error);
    tcr_results_free(results);
    expect_status(found, status);
    expect_status(error.status, status);
    return error.message;
}

static const char STRANGE[] = "this is not what tipcrest study wrote; give -o another folder";

/* Each is what a shell makes of study.json, and what is said then. */
static const struct {
    const char *edit, *message;
} EDITS[] = {
    {"echo '[1]' >made/study.json", STRANGE},
    {"echo '{\"study\": [' >made/study.json", STRANGE},
    {"sed -i 's/\"study\": \\[/\"studie\": [/' made/study.json", STRANGE},
    {"echo '{\"study\": {}, \"part\": {}, \"complete\": true}' >made/study.json", STRANGE},
    {"sed -i 's/\"part\"/\"piece\"/' made/study.json", STRANGE},
    {"sed -i 's/\"complete\"/\"done\"/' made/study.json", STRANGE},
    {"sed -i 's/\"complete\": true/\"complete\": []/' made/study.json", STRANGE},
    {"sed -i 's/\"part\": .*/\"part\": 1,/' made/study.json", STRANGE},
    {"sed -i 's/\"index\": 1/\"index\": []/' made/study.json", STRANGE},
    {"sed -i 's/\"index\": 1/\"index\": \"one\"/' made/study.json", STRANGE},
    {"sed -i 's/\"index\": 1/\"index\": -1/' made/study.json", STRANGE},
    {"sed -i 's/\"index\": 1, \"of\": 1/\"index\": 2, \"of\": 1/' made/study.json", STRANGE},
    {"sed -i 's/\"of\": 1,/\"of\": 1000000,/' made/study.json", STRANGE},
    {"sed -i 's/\"key\": \"design\"/\"kye\": \"design\"/' made/study.json", STRANGE},
    {"sed -i 's/\"value\": \"grid\"/\"value\": []/' made/study.json", STRANGE},
    {"sed -i 's/{\"key\": \"design\".*}/7/' made/study.json", STRANGE},
    {"sed -i 's/\"of\": 1,/\"of\": 3,/' made/study.json",
     "this is part 1 of 3, but part 1 of 1 is asked for"},
    {"sed -i 's/\"index\": 1, \"of\": 1/\"index\": 2, \"of\": 2/' made/study.json",
     "this is part 2 of 2, but part 1 of 1 is asked for"},
    {"sed -i 's/\"value\": \"grid\"/\"value\": \"random\"/' made/study.json",
     "the study has changed: design was \"random\" and is \"grid\" now; change it back, or give -o "
     "another folder"},
    {"sed -i '/\"key\": \"title\"/s/\"value\": .*/\"value\": \"\"},/' made/study.json",
     "the study has changed: title was empty and is \"Small drill (invented)\" now; change it "
     "back, or give -o another folder"},
    {"sed -i 's/\"key\": \"design\"/\"key\": \"dessin\"/' made/study.json",
     "the study has changed: dessin is no longer there; change it back, or give -o another folder"},
    {"sed -i '/\"key\": \"design\"/d' made/study.json",
     "the study has changed: design is new; change it back, or give -o another folder"},
    {"sed -i 's/\\(\"key\": \"set\", \"value\": \"sha256:\\)../\\1xx/' made/study.json",
     "the set has changed since this study began (a lash, a curl or the tray); change it back, or "
     "give -o another folder"},
    {"rm made/study.json", "there is no study in this folder to go on with"},
};

CLAIM(a_study_file_that_is_another_s_is_told_with_what_differs) {
    begin();
    make("right", 1, 1);
    for (size_t i = 0; i < sizeof EDITS / sizeof *EDITS; i++) {
        shell("rm -rf made && cp -r right made");
        shell(EDITS[i].edit);
        expect_text(said("made", TCR_E_CONTENT), EDITS[i].message);
        shell("rm -f made/study.json && cp right/study.json made && diff -r right made");
    }
    expect_text(said("made", TCR_OK), "");
    end();
}

CLAIM(a_log_that_is_another_s_is_told_and_zeros_at_its_end_are_no_points) {
    static const char OTHER[] = "this is not the log of this study; give -o another folder";
    begin();
    make("right", 1, 1);
    /* A study that was stopped. */
    shell("cp -r right half && rm half/results.* half/runs.csv half/runs.npy && "
          "sed -i 's/\"complete\": true/\"complete\": false/' half/study.json");
    shell("cp -r half made && (printf x && tail -c +2 right/runs.npy) >made/runs.npy");
    expect_text(said("made", TCR_E_CONTENT), OTHER);
    shell("rm -rf made && cp -r half made && head -c 5 /dev/zero >made/runs.npy");
    expect_text(said("made", TCR_E_CONTENT), OTHER);
    /* What a machine that lost power leaves: three points and room for more. */
    shell("rm -rf made && cp -r half made && size=$(wc -c <right/runs.npy) && "
          "head -c $((size - 7 * 84)) right/runs.npy >made/runs.npy && "
          "head -c 400 /dev/zero >>made/runs.npy");
    expect_text(said("made", TCR_OK), "");
    shell("diff -r right made");
    shell("rm -rf made && cp -r half made && mkdir made/runs.npy");
    expect_text(said("made", TCR_E_OPEN),
                "cannot be opened for writing: it is a folder; give the name of a file");
    shell("rm -rf made && cp -r half made && mkfifo made/runs.npy");
    expect_text(said("made", TCR_E_OPEN),
                "this is no regular file; results need a folder of their own");
    end();
}

/* The failures of a log whose statuses are none. */
CLAIM(an_evaluation_without_a_status_counts_as_failed) {
    tcr_results_options o = tcr_results_options_default();
    tcr_results_state state;
    begin();
    make("made", 1, 1);
    /* The last row: 4 bytes of status and 10 doubles. */
    shell("size=$(wc -c <made/runs.npy) && head -c $((size - 84)) made/runs.npy >log && "
          "printf '\\377\\377\\377\\377' >>log && tail -c 80 made/runs.npy >>log && "
          "mv log made/runs.npy");
    o.dir = "made";
    o.all = o.resume = true;
    tcr_results *results = results_of(file, &o);
    run(results);
    expect_status(tcr_results_state_of(results, &state), TCR_OK);
    expect_count(state.failed, 1);
    expect_true(state.was_complete && state.has_answer);
    tcr_results_free(results);
    end();
}

/* What is said where parts are joined. */
static const char *joined(const char *const *dirs, size_t count, tcr_status status) {
    static tcr_error error;
    tcr_results_options o = tcr_results_options_default();
    o.dir = "made";
    o.all = true;
    shell("rm -rf made");
    tcr_results *results = results_of(file, &o);
    expect_status(tcr_results_join(results, dirs, count, &error), status);
    tcr_results_free(results);
    return status != TCR_OK ? error.message : "";
}

CLAIM(parts_that_are_not_whole_are_told) {
    static const char *const BOTH[] = {"b", "a"}, *const ONE[] = {"a"}, *const NONE[] = {"a", "x"};
    begin();
    make("a", 1, 2);
    make("b", 2, 2);
    expect_text(joined(BOTH, 2, TCR_OK), "");
    expect_text(joined(ONE, 1, TCR_E_CONTENT),
                "the number of folders is not that of the parts (part 1 of 2)");
    expect_text(joined(NONE, 2, TCR_E_CONTENT), "there is no study in this folder to go on with");
    shell("cp -r a c && sed -i 's/\"complete\": true/\"complete\": false/' c/study.json");
    static const char *const UNDONE[] = {"c", "b"};
    expect_text(joined(UNDONE, 2, TCR_E_CONTENT),
                "this part is not done; --resume goes on with it (part 1 of 2)");
    shell("cp -r a d && truncate -s -1 d/runs.npy");
    static const char *const SHORT[] = {"d", "b"};
    expect_text(joined(SHORT, 2, TCR_E_CONTENT),
                "this is not the log of this study; give -o another folder");
    shell("cp -r a e && rm e/runs.npy");
    static const char *const GONE[] = {"e", "b"};
    expect_text(joined(GONE, 2, TCR_E_OPEN), "cannot be read: system error 2");
    shell("cp -r a f && rm f/runs.npy && mkdir f/runs.npy");
    static const char *const FOLDER[] = {"f", "b"};
    expect_text(joined(FOLDER, 2, TCR_E_OPEN), "cannot be read: system error 17");
    end();
}

CLAIM(a_folder_may_be_named_with_a_slash_and_a_file_is_none) {
    tcr_results_options o = tcr_results_options_default();
    tcr_results *results = NULL;
    tcr_error error;
    begin();
    make("right", 1, 1);
    make("made/", 1, 1);
    shell("diff -r right made");
    put("taken", "");
    o.dir = "taken";
    expect_status(tcr_results_new(file, &o, NULL, &results, &error), TCR_E_OPEN);
    expect_text(error.message, "cannot be opened for writing: a part of the path is not a folder");
    o.dir = "taken/in";
    expect_status(tcr_results_new(file, &o, NULL, &results, &error), TCR_E_OPEN);
    expect_true(results == NULL);
    end();
}

CLAIM(a_block_that_is_not_the_next_is_refused) {
    enum { FACTORS = 2, MOST = POINTS + 1 };
    static double factor[MOST * FACTORS], value[MOST * TCR_OUTPUTS_MAX];
    static tcr_status status[MOST];
    tcr_results_options o = tcr_results_options_default();
    tcr_error error;
    begin();
    const size_t outputs = tcr_study_output_count(tcr_study_file_study(file));
    const tcr_study_block good = {.points = POINTS,
                                  .runs = 1,
                                  .factors = FACTORS,
                                  .outputs = outputs,
                                  .factor = factor,
                                  .value = value,
                                  .status = status};
    tcr_study_block bad[8];
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        bad[i] = good;
    bad[0].first = 1;
    bad[1].points = MOST;
    bad[2].runs = 2;
    bad[3].factors = 1;
    bad[4].outputs = outputs - 1;
    bad[5].factor = NULL;
    bad[6].value = NULL;
    bad[7].status = NULL;
    tcr_results *results = results_of(file, &o);
    expect_status(tcr_results_begin(results, NULL, &error), TCR_OK);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        given("block %zu", i);
        expect_status(tcr_results_take(results, &bad[i], &error), TCR_E_ARGUMENT);
    }
    static const char *const ONE[] = {"a"};
    expect_status(tcr_results_join(results, ONE, 1, &error), TCR_E_ARGUMENT); /* it has begun */
    expect_status(tcr_results_take(results, &good, &error), TCR_OK);
    expect_status(tcr_results_end(results, &error), TCR_OK);
    tcr_results_free(results);
    end();
}

/* Questions that the header says results refuse. */
CLAIM(what_is_not_there_is_refused) {
    tcr_results_options o = tcr_results_options_default();
    tcr_results *results = NULL;
    tcr_results_bin bin[4];
    tcr_sobol_index index[TCR_FACTORS_MAX];
    tcr_sobol_variance variance;
    tcr_summary summary;
    tcr_error error;
    uint64_t best;
    size_t count;
    double share, scratch[4];
    char sentence[TCR_RESULTS_SENTENCE_SIZE] = "x";
    const char *const *none = NULL;
    static const char *const ONE[] = {"a"};
    static const size_t PARTS[][2] = {{0, 1}, {1, 0}, {2, 1}, {1, TCR_PARTS_MAX + 1}};
    begin();
    expect_status(tcr_results_new(NULL, &o, NULL, &results, &error), TCR_E_ARGUMENT);
    expect_status(tcr_results_new(file, &o, NULL, NULL, &error), TCR_E_ARGUMENT);
    for (size_t i = 0; i < sizeof PARTS / sizeof *PARTS; i++) {
        o.part = PARTS[i][0];
        o.parts = PARTS[i][1];
        expect_status(tcr_results_new(file, &o, NULL, &results, &error), TCR_E_RANGE);
    }
    expect_true(results == NULL);
    o.part = o.parts = 1;
    results = results_of(file, &o);
    /* Before it is done. */
    expect_status(tcr_results_point(results, 0, scratch, &summary), TCR_E_MISSING);
    expect_status(tcr_results_indices(results, 0.95, index, &variance), TCR_E_MISSING);
    expect_status(tcr_results_best(results, &best), TCR_E_MISSING);
    expect_status(tcr_results_sentence(results, sentence), TCR_E_MISSING);
    expect_text(sentence, "");
    expect_status(tcr_results_bins(results, 0, 4, bin, &count, &share), TCR_E_MISSING);
    expect_status(tcr_results_take(results, NULL, &error), TCR_E_ARGUMENT);
    expect_status(tcr_results_end(results, &error), TCR_E_ARGUMENT);
    expect_status(tcr_results_join(results, none, 1, &error), TCR_E_ARGUMENT);
    expect_status(tcr_results_join(results, ONE, 0, &error), TCR_E_ARGUMENT);
    run(results);
    expect_status(tcr_results_begin(results, NULL, &error), TCR_E_ARGUMENT);
    expect_status(tcr_results_point(results, POINTS, scratch, &summary), TCR_E_RANGE);
    expect_status(tcr_results_point(results, 0, NULL, &summary), TCR_E_ARGUMENT);
    expect_status(tcr_results_point(results, 0, scratch, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_indices(results, 0.95, NULL, &variance), TCR_E_ARGUMENT);
    expect_status(tcr_results_indices(results, 0.95, index, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_best(results, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_state_of(results, NULL), TCR_E_ARGUMENT);
    /* A grid has no bins of points by chance. */
    expect_status(tcr_results_bins(results, 0, 4, bin, &count, &share), TCR_E_MISSING);
    expect_status(tcr_results_bins(results, 0, 4, NULL, &count, &share), TCR_E_ARGUMENT);
    expect_status(tcr_results_bins(results, 0, 4, bin, NULL, &share), TCR_E_ARGUMENT);
    expect_status(tcr_results_bins(results, 0, 4, bin, &count, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_bins(results, 0, TCR_BINS_MAX + 1, bin, &count, &share), TCR_E_RANGE);
    expect_status(tcr_results_table(results, NULL, NULL), TCR_E_ARGUMENT);
    tcr_results_free(results);
    end();
}

int main(void) {
    static const TTest *const claims[] = {
        &a_study_file_that_is_another_s_is_told_with_what_differs,
        &a_log_that_is_another_s_is_told_and_zeros_at_its_end_are_no_points,
        &an_evaluation_without_a_status_counts_as_failed,
        &parts_that_are_not_whole_are_told,
        &a_folder_may_be_named_with_a_slash_and_a_file_is_none,
        &a_block_that_is_not_the_next_is_refused,
        &what_is_not_there_is_refused,
    };
    return RUN_CLAIMS("folders of studies", claims);
}
