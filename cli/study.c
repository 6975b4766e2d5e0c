/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest study: a set with other numbers, by the million: which are best, and what matters. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "study.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <tipcrest/text.h>

#include "common.h"
#include "output.h"
#include "progress.h"
#include "signals.h"

static const char ABOUT[] =
    "Tries a set with other numbers, every combination or points by chance, and says\n"
    "which combination is best, or with --indices which number matters how much. The\n"
    "set file is SET, or the one that a study file in its place names. A study file\n"
    "has what the options say, in the same words:\n"
    "\n"
    "  tipcrest-study: 1\n"
    "  set: drill.yaml\n"
    "  vary: {curl: [C, CC, D], longest_mm: 8:14:1}\n"
    "  runs: 100\n"
    "\n"
    "A key is the path in the set file, such as layering.step_mm, lid.mrd1_mm or\n"
    "eyes.left.map.2.length_mm, with zones by number from the inner corner. curl is\n"
    "that of all zones, longest_mm moves all zones along, and apart_mm is how far the\n"
    "layers are apart. With --runs every combination has the same lashes in the same\n"
    "run, so that differences are of the numbers alone. The number of runs must be\n"
    "fixed beforehand: adding runs until something is told apart voids the intervals.\n";

#ifdef TCR_WITH_STUDY

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    return tcr_results_table(((const tcr_study_work *)work)->results, sink, context);
}

/* ---- What is asked for ----------------------------------------------------------------------- */

/* "2/5"; an exit status. */
static int read_part(const tcr_call *call, tcr_results_options *o) {
    const char *text = call->part.text, *slash = text != NULL ? strchr(text, '/') : NULL;
    double part, parts;
    if (text == NULL)
        return TCR_EXIT_DONE;
    if (slash == NULL || !tcr_number_parse(text, (size_t)(slash - text), &part) ||
        !tcr_number_parse(slash + 1, strlen(slash + 1), &parts) ||
        !(parts >= 1.0 && parts <= TCR_PARTS_MAX) || !(part >= 1.0 && part <= parts) ||
        part != (double)(size_t)part || parts != (double)(size_t)parts)
        return tcr_say_wrong("--part is \"%s\"; it is I/N, such as 2/5, with N at most %d", text,
                             TCR_PARTS_MAX);
    o->part = (size_t)part;
    o->parts = (size_t)parts;
    return TCR_EXIT_DONE;
}

/* Options that do not go together; an exit status. */
static int check_call(const tcr_call *call) {
    if (call->indices.text != NULL && call->design.text != NULL)
        return tcr_say_wrong("--indices has a design of its own; leave out --design");
    if (call->output.text == NULL) {
        const char *needs = call->resume.text != NULL ? "--resume"
                            : call->part.text != NULL ? "--part"
                            : call->join.text != NULL ? "--join"
                            : call->all.text != NULL  ? "--all"
                                                      : NULL;
        if (needs != NULL)
            return tcr_say_wrong("%s needs the folder of the results, -o DIR", needs);
    }
    if (call->join.text != NULL && call->part.text != NULL)
        return tcr_say_wrong("--join puts parts together and computes none; leave out --part");
    return TCR_EXIT_DONE;
}

tcr_study_ask tcr_study_ask_of(const tcr_call *call) {
    tcr_study_ask ask = tcr_study_ask_default();
    ask.vary = call->vary.each;
    ask.varied = call->vary.times;
    ask.output = call->outputs.each;
    ask.outputs = call->outputs.times;
    ask.has_design = call->design.text != NULL || call->indices.text != NULL;
    ask.design = call->indices.text != NULL ? TCR_DESIGN_SENSITIVITY
                                            : (tcr_design_kind)tcr_value_or(&call->design, 0.0);
    ask.has_points = call->points.count > 0;
    ask.points = (uint64_t)tcr_value_or(&call->points, 0.0);
    ask.has_scramblings = call->scramblings.count > 0;
    ask.scramblings = (size_t)tcr_value_or(&call->scramblings, 0.0);
    ask.has_runs = call->runs.count > 0;
    ask.runs = (size_t)tcr_value_or(&call->runs, 0.0);
    ask.has_seed = call->seed.count > 0;
    ask.seed = (uint64_t)tcr_value_or(&call->seed, 0.0);
    return ask;
}

static tcr_results_options results_of(const tcr_call *call) {
    tcr_results_options o = tcr_results_options_default();
    o.dir = call->output.text;
    o.all = call->all.text != NULL;
    o.decimal_comma = tcr_csv_options_of(call).decimal_comma;
    o.resume = call->resume.text != NULL;
    o.of = call->of.text;
    o.goal = (tcr_goal)tcr_value_or(&call->goal, 0.0);
    o.best.by = (tcr_best_by)tcr_value_or(&call->best, 0.0);
    o.best.alike = tcr_value_or(&call->alike, o.best.alike);
    return o;
}

/* ---- Work ------------------------------------------------------------------------------------ */

/* Says how far a study came that was stopped. */
static void say_stopped(const tcr_study_work *work) {
    tcr_results_state state;
    (void)tcr_results_state_of(work->results, &state);
    if (work->call->output.text == NULL)
        tcr_say("stopped; without -o DIR nothing is kept");
    else
        tcr_say("stopped; %llu of %llu points are kept in %s, and --resume goes on with them",
                (unsigned long long)state.done, (unsigned long long)(state.end - state.first),
                work->call->output.text);
}

/* Computes what is left, with progress on a terminal. */
static tcr_status compute(tcr_study_work *work, tcr_error *error) {
    const tcr_call *call = work->call;
    tcr_study_run_options run = tcr_study_run_options_default();
    tcr_results_state state;
    tcr_watch watch;
    (void)tcr_results_state_of(work->results, &state);
    tcr_watch_begin(&watch, call->output.text != NULL ? "keeps what is done" : "ends it");
    watch.items = (double)(state.end - state.first) * (double)state.runs;
    run.threads = (size_t)tcr_value_or(&call->threads, 0.0);
    run.progress = (tcr_progress){tcr_watch_report, &watch};
    tcr_may_end_early(true);
    const tcr_status status =
        call->join.text != NULL
            ? tcr_results_join(work->results, call->join.each, call->join.times, error)
            : work->compute(work, &run, error);
    tcr_may_end_early(false);
    tcr_watch_end(&watch);
    return status;
}

/* Protects what is read from what is written. */
static tcr_status check_outputs(const tcr_study_work *work, tcr_error *error) {
    tcr_outputs *outputs;
    size_t index;
    tcr_status status = tcr_outputs_new(NULL, &outputs);
    if (status != TCR_OK)
        return tcr_fill_error(error, status, "");
    for (size_t i = 0; i < tcr_study_file_input_count(work->file) && status == TCR_OK; i++)
        if (tcr_outputs_protect(outputs, tcr_study_file_input(work->file, i)) == TCR_E_MEMORY)
            status = tcr_fill_error(error, TCR_E_MEMORY, "");
    if (status == TCR_OK && work->call->picture.text != NULL)
        status = tcr_outputs_add(outputs, work->call->picture.text, &index, error);
#ifdef TCR_WITH_DRAW
    /* The chart of a folder that is there already; a new one is tried when it is made. */
    struct stat found;
    const char *dir = work->call->output.text;
    char *chart = dir != NULL && work->call->no_chart.text == NULL && stat(dir, &found) == 0 &&
                          S_ISDIR(found.st_mode)
                      ? tcr_study_chart_path(dir)
                      : NULL;
    if (status == TCR_OK && chart != NULL)
        status = tcr_outputs_add(outputs, chart, &index, error);
    free(chart);
#endif
    tcr_outputs_free(outputs); /* they were only tried */
    return status;
}

/* The table, and the pictures. */
static tcr_status report(const tcr_study_work *work, tcr_error *error) {
    tcr_results_state state;
    (void)tcr_results_state_of(work->results, &state);
    if (state.was_complete && !state.has_answer) {
        tcr_say("this study is done; its results are in %s", work->call->output.text);
        return TCR_OK;
    }
    return tcr_study_report(work, &state, write_table, error);
}

int tcr_study_command(const tcr_call *call, tcr_study_computer computer) {
    tcr_study_work work = {.call = call, .compute = computer};
    tcr_error error = tcr_error_none();
    const tcr_study_ask ask = tcr_study_ask_of(call);
    tcr_results_options options = results_of(call);
    int exit_status = check_call(call);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = read_part(call, &options);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = tcr_picture_understand(call, "--picture", &call->picture, &work.look);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    tcr_status status = tcr_study_file_read(call->set, &ask, NULL, &work.file, &error);
    if (status == TCR_OK && call->dry_run.text != NULL) {
        exit_status = tcr_study_dry_run(&work);
    } else {
        if (status == TCR_OK)
            status = check_outputs(&work, &error);
        if (status == TCR_OK)
            status = tcr_results_new(work.file, &options, NULL, &work.results, &error);
        if (status == TCR_OK)
            status = compute(&work, &error);
        if (status == TCR_OK)
            status = report(&work, &error);
        else if (status == TCR_E_STOPPED)
            say_stopped(&work);
    }
    tcr_results_free(work.results);
    tcr_study_file_free(work.file);
    if (status == TCR_OK || status == TCR_E_STOPPED)
        return status == TCR_OK ? exit_status : TCR_EXIT_FAILED;
    return error.path[0] != '\0' ? tcr_say_error(&error) : tcr_study_say_wrong(&error);
}

static tcr_status compute_here(const tcr_study_work *work, const tcr_study_run_options *run,
                               tcr_error *error) {
    return tcr_results_run(work->results, run, error);
}

static int run(const tcr_call *call) { return tcr_study_command(call, compute_here); }

#else

static int run(const tcr_call *call) {
    (void)call;
    tcr_say("this tipcrest was built without studies; build it with GSL and POSIX threads");
    return TCR_EXIT_FAILED;
}

#endif

const tcr_command tcr_command_study = {
    "study",
    TCR_BIT_STUDY,
    TCR_ONE_SET,
    "tries a set with other numbers: which are best, and what matters",
    ABOUT,
    "Files in DIR grow as the study goes on and stay when it ends early, however it\n"
    "ends; --resume goes on. They are the same for any number of threads and parts.\n"
    "\n" TCR_NOTES_EXIT,
    run};
