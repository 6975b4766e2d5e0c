/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results: their files against the study itself, stops, parts, and the answer. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "num/memory.h"
#include "results/made.h"
#include "results/npy.h"
#include "support/options.h"

static const char *const STEPS[] = {"layering.step_mm=0,1", "opening=0.2:1:0.2"};
enum { POINTS = 10 };

static size_t size_of(const char *path) {
    struct stat found;
    return stat(path, &found) == 0 ? (size_t)found.st_size : 0;
}

/* ---- Tables for NumPy ------------------------------------------------------------------------ */

CLAIM(the_head_of_a_table_is_what_numpy_documents) {
    const tcr_npy_column columns[] = {
        {"curl", TCR_NPY_TEXT, 3}, {"rms_mm", TCR_NPY_DOUBLE, 0}, {"failed", TCR_NPY_INT, 0}};
    char *head;
    size_t bytes;
    tcr_allocator allocator;
    expect_status(tcr_allocator_choose(NULL, &allocator), TCR_OK);
    expect_status(tcr_npy_head(&allocator, columns, 3, 7, &head, &bytes), TCR_OK);
    /* Source: numpy.lib.format: magic, version, little-endian length, a dictionary, blanks and a
     * line end, in all a multiple of 64. */
    expect_bytes(head, "\x93NUMPY\x01\x00", 8);
    expect_count(bytes % 64, 0);
    expect_count((unsigned char)head[8] + 256 * (unsigned char)head[9], bytes - 10);
    expect_count(head[bytes - 1], '\n');
    static const char DICTIONARY[] =
        "{'descr': [('curl', '<U3'), ('rms_mm', '<f8'), ('failed', '<i4'), ], 'fortran_order': "
        "False, 'shape': (7,), }";
    expect_bytes(head + 10, DICTIONARY, strlen(DICTIONARY));
    expect_count(tcr_npy_row_bytes(columns, 3), 12 + 8 + 4);
    free(head);
    unsigned char row[24];
    unsigned char *at = tcr_npy_put_text(row, &columns[0],
                                         "\xc3\x89"
                                         "A"); /* É, A, nothing */
    expect_bytes(row, "\xc9\0\0\0A\0\0\0\0\0\0\0", 12);
    at = tcr_npy_put_double(at, -0.1);
    (void)tcr_npy_put_int(at, -5);
    expect_same(tcr_npy_get_double(row + 12), -0.1, "the same bits");
    expect_count(tcr_npy_get_int(row + 20), -5);
    (void)tcr_npy_put_double(row, -NAN);
    expect_bytes(row, "\0\0\0\0\0\0\xf8\x7f", 8); /* one NaN for all */
}

CLAIM(a_head_beyond_version_1_is_of_version_2) {
    enum { MANY = 1500 };
    static tcr_npy_column columns[MANY];
    tcr_allocator allocator;
    char *head;
    size_t bytes;
    for (int i = 0; i < MANY; i++) {
        columns[i].kind = TCR_NPY_DOUBLE;
        (void)snprintf(columns[i].name, sizeof columns[i].name,
                       "a.name.as.long.as.names.of.outputs.are.%d", i);
    }
    expect_status(tcr_allocator_choose(NULL, &allocator), TCR_OK);
    expect_status(tcr_npy_head(&allocator, columns, MANY, 1, &head, &bytes), TCR_OK);
    expect_true(bytes > 65535); /* source: numpy.lib.format, two bytes for the length */
    expect_bytes(head, "\x93NUMPY\x02\x00", 8);
    expect_count(bytes % 64, 0);
    const unsigned char *length = (const unsigned char *)head + 8;
    expect_count(length[0] + 256 * length[1] + 65536 * length[2], bytes - 12);
    free(head);
}

/* ---- Files ----------------------------------------------------------------------------------- */

CLAIM(a_folder_has_a_row_for_each_point_and_no_second_study) {
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    tcr_results_state state;
    tcr_results *second = NULL;
    tcr_error error;
    enter_folder();
    tcr_study_file *file = study_of(STEPS, 2, &ask);
    o.dir = "out";
    tcr_results *results = results_of(file, &o);
    run(results);
    expect_status(tcr_results_state_of(results, &state), TCR_OK);
    expect_count(state.points, POINTS);
    expect_count(state.done, POINTS);
    expect_count(state.failed, 0);
    expect_true(state.complete && !state.was_complete && state.has_answer);
    tcr_results_free(results);
    FILE *csv = fopen("out/results.csv", "r");
    char line[4096];
    int rows = 0;
    while (fgets(line, sizeof line, csv) != NULL)
        rows++;
    fclose(csv);
    expect_count(rows, 1 + POINTS);
    expect_count(size_of("out/runs.npy"), 0); /* the log of a study that is done is gone */
    expect_status(tcr_results_new(file, &o, NULL, &second, &error), TCR_E_CONTENT);
    expect_true(second == NULL && strstr(error.message, "--resume") != NULL);
    o.resume = true; /* it is done: nothing more to say, and no answer without its log */
    results = results_of(file, &o);
    run(results);
    expect_status(tcr_results_state_of(results, &state), TCR_OK);
    expect_true(state.was_complete && !state.has_answer);
    tcr_results_free(results);
    tcr_study_file_free(file);
    leave_folder();
}

static bool stop(void *context, const char *phase, double share) {
    (void)phase;
    (void)share;
    return --*(int *)context > 0;
}

CLAIM(a_study_that_was_stopped_and_cut_anywhere_goes_on_to_the_same_file) {
    static const char *const VARY[] = {"layering.step_mm=0:2:1", "lid.mrd1_mm=2:5:0.05"};
    enum { RUN_BYTES = 4 + 10 * 8, ALL = 3 * 61 };
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    tcr_study_run_options slow = tcr_study_run_options_default();
    int polls = 3;
    enter_folder();
    tcr_study_file *file = study_of(VARY, 2, &ask);
    o.dir = "whole";
    o.all = true;
    tcr_results *results = results_of(file, &o);
    run(results);
    tcr_results_free(results);
    o.dir = "stopped";
    slow.block = 7;
    slow.threads = 1;
    slow.progress = (tcr_progress){stop, &polls};
    results = results_of(file, &o);
    expect_status(tcr_results_run(results, &slow, NULL), TCR_E_STOPPED);
    tcr_results_free(results);
    const size_t head = size_of("whole/runs.npy") - ALL * RUN_BYTES;
    /* As if the process had been killed in the middle of a row, of the head, or before it. */
    const size_t cut[] = {head + 20 * RUN_BYTES + 3, head, head - 5, 0};
    o.resume = true;
    for (size_t i = 0; i < sizeof cut / sizeof *cut; i++) {
        char command[200];
        given("cut behind %zu bytes", cut[i]);
        if (cut[i] < size_of("stopped/runs.npy"))
            expect_count(truncate("stopped/runs.npy", (off_t)cut[i]), 0);
        (void)snprintf(command, sizeof command, "cp -r stopped stopped%zu", i);
        expect_count(system(command), 0);
        (void)snprintf(command, sizeof command, "stopped%zu", i);
        o.dir = command;
        results = results_of(file, &o);
        run(results);
        tcr_results_free(results);
        (void)snprintf(command, sizeof command, "diff -rq whole stopped%zu", i);
        expect_count(system(command), 0);
    }
    tcr_study_file_free(file);
    leave_folder();
}

/* Hands blocks on, each evaluated by itself as another machine would do it. */
static void take_all(tcr_results *results, const tcr_study *study, uint64_t first, uint64_t end,
                     size_t points) {
    double factor[POINTS * 2], value[POINTS * TCR_OUTPUTS_MAX];
    tcr_status status[POINTS];
    for (uint64_t at = first; at < end; at += points) {
        const size_t n = end - at < points ? (size_t)(end - at) : points;
        tcr_error error = tcr_error_none();
        expect_status(tcr_study_points(study, at, n, factor), TCR_OK);
        expect_status(tcr_study_evaluate(study, at, n, NULL, value, status), TCR_OK);
        tcr_study_block block = {.first = at + 1,
                                 .points = n,
                                 .runs = 1,
                                 .factors = 2,
                                 .outputs = tcr_study_output_count(study),
                                 .factor = factor,
                                 .value = value,
                                 .status = status};
        expect_status(tcr_results_take(results, &block, &error), TCR_E_ARGUMENT); /* not the next */
        block.first = at;
        block.runs = 2;
        expect_status(tcr_results_take(results, &block, NULL), TCR_E_ARGUMENT);
        block.runs = 1;
        expect_status(tcr_results_take(results, &block, &error), TCR_OK);
    }
}

CLAIM(blocks_that_others_evaluate_make_the_same_files) {
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    tcr_results_state state;
    enter_folder();
    tcr_study_file *file = study_of(STEPS, 2, &ask);
    const tcr_study *study = tcr_study_file_study(file);
    o.dir = "whole";
    o.all = true;
    tcr_results *results = results_of(file, &o);
    run(results);
    expect_status(tcr_results_begin(results, NULL, NULL), TCR_E_ARGUMENT); /* it is done */
    tcr_results_free(results);
    o.dir = "taken";
    results = results_of(file, &o);
    const tcr_study_block none = {.first = 0};
    expect_status(tcr_results_take(results, &none, NULL), TCR_E_ARGUMENT); /* it has not begun */
    expect_status(tcr_results_end(results, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_begin(results, NULL, NULL), TCR_OK);
    expect_status(tcr_results_begin(results, NULL, NULL), TCR_E_ARGUMENT);
    take_all(results, study, 0, 7, 3);
    expect_status(tcr_results_end(results, NULL), TCR_E_ARGUMENT); /* points are missing */
    tcr_results_free(results);
    o.resume = true;
    results = results_of(file, &o);
    expect_status(tcr_results_begin(results, NULL, NULL), TCR_OK);
    expect_status(tcr_results_state_of(results, &state), TCR_OK);
    expect_count(state.done, 7); /* what was taken stayed */
    take_all(results, study, 7, POINTS, 2);
    expect_status(tcr_results_end(results, NULL), TCR_OK);
    expect_status(tcr_results_state_of(results, &state), TCR_OK);
    expect_true(state.complete && state.has_answer);
    tcr_results_free(results);
    expect_count(system("diff -rq whole taken"), 0);
    results = results_of(file, &o); /* a study that is complete has nothing left to take */
    expect_status(tcr_results_begin(results, NULL, NULL), TCR_OK);
    expect_status(tcr_results_take(results, &none, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_end(results, NULL), TCR_OK);
    tcr_results_free(results);
    expect_status(tcr_results_begin(NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_take(NULL, &none, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_end(NULL, NULL), TCR_E_ARGUMENT);
    tcr_study_file_free(file);
    leave_folder();
}

CLAIM(parts_make_the_whole_and_only_all_of_them) {
    static const char *const PARTS[] = {"p3", "p1", "p2"}, *const TWICE[] = {"p3", "p1", "p1"};
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    tcr_results_state state;
    tcr_error error;
    enter_folder();
    tcr_study_file *file = study_of(STEPS, 2, &ask);
    uint64_t points = 0;
    o.parts = 3;
    for (o.part = 1; o.part <= 3; o.part++) {
        char dir[8];
        (void)snprintf(dir, sizeof dir, "p%zu", o.part);
        o.dir = dir;
        tcr_results *part = results_of(file, &o);
        run(part);
        expect_status(tcr_results_state_of(part, &state), TCR_OK);
        expect_count(state.first, points); /* they lie one behind the other */
        points = state.end;
        expect_true(!state.has_answer);
        tcr_results_free(part);
    }
    expect_count(points, POINTS);
    o.part = o.parts = 1;
    o.dir = "joined";
    tcr_results *results = results_of(file, &o);
    expect_status(tcr_results_join(results, TWICE, 3, &error), TCR_E_CONTENT);
    tcr_results_free(results);
    results = results_of(file, &o);
    expect_status(tcr_results_join(results, PARTS, 3, &error), TCR_OK);
    expect_status(tcr_results_state_of(results, &state), TCR_OK);
    expect_true(state.complete && state.has_answer);
    tcr_results_free(results);
    o.dir = "whole";
    results = results_of(file, &o);
    run(results);
    tcr_results_free(results);
    expect_count(system("diff -rq whole joined"), 0);
    tcr_study_file_free(file);
    leave_folder();
}

/* ---- The answer ------------------------------------------------------------------------------ */

CLAIM(the_answer_is_that_of_the_points) {
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    double scratch[1], value[10], least = INFINITY;
    tcr_summary s;
    uint64_t best, found = 0;
    const char *unit;
    char sentence[TCR_RESULTS_SENTENCE_SIZE];
    enter_folder();
    tcr_study_file *file = study_of(STEPS, 2, &ask);
    const tcr_study *study = tcr_study_file_study(file);
    tcr_results *results = results_of(file, &o); /* without files */
    run(results);
    for (uint64_t i = 0; i < POINTS; i++) {
        expect_status(tcr_study_evaluate(study, i, 1, NULL, value, NULL), TCR_OK);
        expect_status(tcr_results_point(results, i, scratch, &s), TCR_OK);
        expect_same(s.mean, value[0], "the first output of the same point");
        found = value[0] < least ? i : found;
        least = fmin(least, value[0]);
    }
    expect_status(tcr_results_best(results, &best), TCR_OK);
    expect_count(best, found);
    expect_text(tcr_results_output(results, &unit), "fitted.rms_mm");
    expect_text(unit, "mm");
    expect_true(!tcr_results_is_most(results) && !tcr_results_is_most(NULL));
    expect_status(tcr_results_sentence(results, sentence), TCR_OK);
    expect_true(strstr(sentence, " of opening") != NULL); /* no artist's choice */
    expect_true(strstr(sentence, " mm of fitted.rms_mm. ") != NULL);
    expect_true(!tcr_results_has_best(results) && !tcr_results_has_best(NULL));
    expect_status(tcr_results_sentence(NULL, sentence), TCR_E_ARGUMENT);
    expect_status(tcr_results_sentence(results, NULL), TCR_E_ARGUMENT);
    expect_text(tcr_results_output(NULL, NULL), "");
    expect_status(tcr_results_point(results, POINTS, scratch, &s), TCR_E_RANGE);
    expect_status(tcr_results_point(NULL, 0, scratch, &s), TCR_E_ARGUMENT);
    expect_status(tcr_results_best(NULL, &best), TCR_E_ARGUMENT);
    expect_status(tcr_results_state_of(NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_run(NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_results_join(NULL, NULL, 0, NULL), TCR_E_ARGUMENT);
    tcr_results_free(results);
    tcr_results_free(NULL);
    tcr_study_file_free(file);
    leave_folder();
}

/* Keeps a study in a folder, and reads its study.json. */
static const char *json_of(const tcr_study_file *file, tcr_results_options o, const char *dir) {
    static char text[32768];
    o.dir = dir;
    tcr_results *results = results_of(file, &o);
    run(results);
    tcr_results_free(results);
    ck_assert_int_eq(chdir(dir), 0);
    FILE *stream = fopen("study.json", "r");
    ck_assert_ptr_nonnull(stream);
    text[fread(text, 1, sizeof text - 1, stream)] = '\0';
    fclose(stream);
    ck_assert_int_eq(chdir(".."), 0);
    return text;
}

static void expect_has(const char *text, const char *words) {
    if (strstr(text, words) == NULL)
        ck_abort_msg("study.json lacks %s:\n%s", words, text);
}

/* The first number in the list behind some words. */
static double first_behind(const char *text, const char *words) {
    expect_has(text, words);
    return strtod(strstr(text, words) + strlen(words), NULL);
}

CLAIM(study_json_has_the_answer_of_the_points) {
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    tcr_sobol_index index[TCR_FACTORS_MAX];
    tcr_sobol_variance v;
    uint64_t best;
    double scratch[1];
    tcr_summary s;
    enter_folder();
    tcr_study_file *file = study_of(STEPS, 2, &ask);
    tcr_results *results = results_of(file, &o); /* without files, whose answer stays */
    run(results);
    expect_status(tcr_results_best(results, &best), TCR_OK);
    expect_status(tcr_results_point(results, best, scratch, &s), TCR_OK);
    expect_status(tcr_results_indices(results, 0.95, index, &v), TCR_OK);
    const char *text = json_of(file, o, "whole");
    expect_has(text, "\"part\": {\"index\": 1, \"of\": 1, \"first_point\": 1, \"points\": 10}");
    expect_has(text, "\"complete\": true");
    expect_has(text, "\"failures\": []");
    expect_has(text, "\"goal\": \"least\""); /* the usual one of an rms */
    /* Points are counted from one; 17 digits read back as the same double. */
    expect_same(first_behind(text, "\"best\": [\n   {\"point\": "), (double)best + 1, "a count");
    expect_same(first_behind(strstr(text, "\"best\": ["), "\"value\": "), s.mean,
                "17 digits, below 1");
    const char *standing = strstr(text, "\"standing\": ");
    expect_true(standing != NULL && strncmp(standing, "\"standing\": \"first\"", 19) == 0);
    expect_has(standing, "\"standing\": \"worse\"");
    const char *opening = strstr(text, "{\"key\": \"opening\"");
    ck_assert_ptr_nonnull(opening);
    expect_same(first_behind(opening, "\"first\": ["), index[1].first.estimate, "17 digits");
    expect_same(first_behind(opening, "\"total\": ["), index[1].total.estimate, "17 digits");
    expect_true(index[1].total.estimate > index[1].first.estimate);
    o.part = o.parts = 2; /* a part has no answer */
    text = json_of(file, o, "half");
    expect_has(text, "\"part\": {\"index\": 2, \"of\": 2, \"first_point\": 6, \"points\": 5}");
    expect_has(text, "\"answer\": null");
    tcr_results_free(results);
    tcr_study_file_free(file);
    leave_folder();
}

CLAIM(of_a_sensitivity_design_the_sentence_names_what_matters_most) {
    /* The opening moves tips by millimetres, so thin a change of glue by less than a hundredth. */
    static const char *const VARY[] = {"bond.glue_mm=0.03,0.031", "opening=0.2:1:0.1"};
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    char sentence[TCR_RESULTS_SENTENCE_SIZE];
    ask.has_design = ask.has_points = true;
    ask.design = TCR_DESIGN_SENSITIVITY;
    ask.points = 16;
    enter_folder();
    tcr_study_file *file = study_of(VARY, 2, &ask);
    tcr_results *results = results_of(file, &o);
    run(results);
    expect_status(tcr_results_sentence(results, sentence), TCR_OK);
    expect_text(sentence, "opening matters most for fitted.rms_mm.");
    tcr_results_free(results);
    tcr_study_file_free(file);
    leave_folder();
}

CLAIM(of_a_grid_what_does_nothing_has_no_share) {
    /* Source: definition. The mean lash bears on the intended line alone, so not on this output;
     * all of the variance is then the other factor's, by itself and in all. */
    static const char *const VARY[] = {"mean_lash.turn_deg=40,50,60", "layering.step_mm=0:2:1"};
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    tcr_sobol_index index[2];
    tcr_sobol_variance v;
    enter_folder();
    tcr_study_file *file = study_of(VARY, 2, &ask);
    tcr_results *results = results_of(file, &o);
    run(results);
    expect_status(tcr_results_indices(results, 0.95, index, &v), TCR_OK);
    expect_true(v.variance > 0.0 && v.missing == 0);
    expect_near(index[0].first.estimate, 0.0, 1e-12, "rounding of means");
    expect_near(index[0].total.estimate, 0.0, 1e-12, "rounding of means");
    expect_near(index[1].first.estimate, 1.0, 1e-12, "rounding of means");
    expect_near(index[1].total.estimate, 1.0, 1e-12, "rounding of means");
    expect_nan(index[1].first.low);
    expect_status(tcr_results_indices(NULL, 0.95, index, &v), TCR_E_ARGUMENT);
    tcr_results_free(results);
    tcr_study_file_free(file);
    leave_folder();
}

static int count_bytes(void *context, const void *bytes, size_t count) {
    (void)bytes;
    *(size_t *)context += count;
    return 0;
}

static tcr_status new_with(const void *options, void *context) {
    tcr_results *results = NULL;
    const tcr_status status = tcr_results_new(context, options, NULL, &results, NULL);
    expect_true((status == TCR_OK) == (results != NULL));
    tcr_results_free(results);
    return status;
}

CLAIM(bins_are_those_of_the_points_by_their_factor) {
    /* Source: the points themselves, put into bins one by one. */
    enum { ALL = 64, BINS = 4 };
    static const char *const VARY[] = {"opening=0.2,0.6,1", "lid.mrd1_mm=2,3,3.5,4,5"};
    const double LEVELS[] = {2, 3, 3.5, 4, 5};
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = tcr_results_options_default();
    tcr_results_bin bin[BINS];
    size_t count = 0, levels[TCR_FACTORS_MAX];
    double share, u[ALL * 2], value[ALL * TCR_OUTPUTS_MAX], scratch[ALL];
    tcr_design design;
    ask.has_design = ask.has_points = true;
    ask.design = TCR_DESIGN_SOBOL;
    ask.points = ALL;
    enter_folder();
    tcr_study_file *file = study_of(VARY, 2, &ask);
    const tcr_study *study = tcr_study_file_study(file);
    const size_t outputs = tcr_study_output_count(study);
    tcr_results *results = results_of(file, &o);
    expect_status(tcr_results_bins(results, 1, BINS, bin, &count, &share), TCR_E_MISSING);
    run(results);
    expect_status(tcr_results_bins(results, 1, BINS, bin, &count, &share), TCR_OK);
    expect_count(count, BINS);
    expect_status(tcr_study_design(study, levels, &design), TCR_OK);
    expect_status(tcr_design_points(&design, 0, ALL, u), TCR_OK);
    expect_status(tcr_study_evaluate(study, 0, ALL, NULL, value, NULL), TCR_OK);
    for (size_t k = 0; k < BINS; k++) {
        double own[ALL], at = 0.0;
        size_t n = 0;
        tcr_summary s;
        for (size_t i = 0; i < ALL; i++)
            if ((size_t)(BINS * u[2 * i + 1]) == k) {
                at += LEVELS[(size_t)(5 * u[2 * i + 1])];
                own[n++] = value[i * outputs];
            }
        expect_status(tcr_summarise(own, n, 1, scratch, &s), TCR_OK);
        expect_count(bin[k].over.runs, n);
        expect_near(bin[k].at, at / (double)n, 1e-12, "sums in one order");
        expect_near(bin[k].over.mean, s.mean, 1e-12, "sums in one order");
        expect_same(bin[k].over.p95, s.p95, "the same values");
    }
    expect_true(share > 0.0 && share < 1.0);
    expect_status(tcr_results_bins(results, 0, BINS, bin, &count, &share), TCR_OK);
    expect_count(count, 3); /* fewer levels than bins */
    expect_near(bin[2].at, 2.0, 0.0, "its place in the list");
    expect_status(tcr_results_bins(results, 2, BINS, bin, &count, &share), TCR_E_RANGE);
    expect_status(tcr_results_bins(results, 0, 0, bin, &count, &share), TCR_E_RANGE);
    expect_status(tcr_results_bins(NULL, 0, 1, bin, &count, &share), TCR_E_ARGUMENT);
    tcr_results_free(results);
    tcr_study_file_free(file);
    leave_folder();
}

CLAIM(options_have_their_defaults_and_ranges) {
    const tcr_results_options standard = tcr_results_options_default();
    tcr_study_ask ask = tcr_study_ask_default();
    tcr_results_options o = standard;
    tcr_results *results;
    size_t bytes = 0;
    enter_folder();
    tcr_study_file *file = study_of(STEPS, 2, &ask);
    expect_true(o.dir == NULL && o.of == NULL && !o.all && !o.resume); /* source: the header */
    expect_count(o.part, 1);
    expect_count(o.parts, 1);
    tcr_expect_sizes(&standard, sizeof standard, new_with, file);
    o.part = 2;
    expect_status(tcr_results_new(file, &o, NULL, &results, NULL), TCR_E_RANGE);
    o = standard;
    o.of = "largest_gap";
    expect_status(tcr_results_new(file, &o, NULL, &results, NULL), TCR_E_MISSING);
    o = standard;
    o.goal = (tcr_goal)9;
    expect_status(tcr_results_new(file, &o, NULL, &results, NULL), TCR_E_ARGUMENT);
    o = standard;
    o.best.by = TCR_BEST_P90; /* which takes runs */
    expect_status(tcr_results_new(file, &o, NULL, &results, NULL), TCR_E_FEW);
    results = results_of(file, &standard);
    expect_status(tcr_results_table(results, count_bytes, &bytes), TCR_OK);
    expect_true(bytes > 0); /* it says that the study is not done */
    expect_status(tcr_results_table(NULL, count_bytes, &bytes), TCR_E_ARGUMENT);
    tcr_results_free(results);
    tcr_study_file_free(file);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &the_head_of_a_table_is_what_numpy_documents,
        &a_head_beyond_version_1_is_of_version_2,
        &a_folder_has_a_row_for_each_point_and_no_second_study,
        &a_study_that_was_stopped_and_cut_anywhere_goes_on_to_the_same_file,
        &blocks_that_others_evaluate_make_the_same_files,
        &parts_make_the_whole_and_only_all_of_them,
        &the_answer_is_that_of_the_points,
        &study_json_has_the_answer_of_the_points,
        &of_a_sensitivity_design_the_sentence_names_what_matters_most,
        &of_a_grid_what_does_nothing_has_no_share,
        &bins_are_those_of_the_points_by_their_factor,
        &options_have_their_defaults_and_ranges,
    };
    return RUN_CLAIMS("results", claims);
}
