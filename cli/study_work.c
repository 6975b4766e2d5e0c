/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is made of a study: how long it would take, its table and its pictures. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "study.h"

#ifdef TCR_WITH_STUDY

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "common.h"
#include "progress.h"

int tcr_study_say_wrong(const tcr_error *error) {
    const int exit_status = tcr_exit_for(error->status);
    if (exit_status == TCR_EXIT_WRONG)
        return tcr_say_wrong("%s", error->message);
    return tcr_say_error(error);
}

/* ---- How long it takes ----------------------------------------------------------------------- */

/* Seconds that an evaluation takes in one thread, from some of them: a few points by a few runs, as
 * a study goes through them. *measured receives how many. */
static tcr_status measure(const tcr_study *study, uint64_t points, size_t runs, double *seconds,
                          size_t *measured) {
    enum { PLACES = 64, POINTS = 16, RUNS = 16, OUTPUTS = TCR_OUTPUTS_MAX };
    static const double LONG_ENOUGH = 0.5;
    double value[POINTS * TCR_FACTORS_MAX], output[OUTPUTS];
    tcr_trial *trial = NULL;
    tcr_status status = tcr_trial_new(study, &trial);
    struct timespec start;
    const size_t factors = tcr_study_factor_count(study);
    *measured = 0;
    *seconds = 0.0;
    clock_gettime(CLOCK_MONOTONIC, &start);
    for (uint64_t place = 0; place < PLACES && status == TCR_OK && *seconds < LONG_ENOUGH;
         place++) {
        const uint64_t first = points / PLACES * place + points % PLACES * place / PLACES;
        const size_t n = points - first < POINTS ? (size_t)(points - first) : POINTS;
        status = tcr_study_points(study, first, n, value);
        for (size_t run = 0; run < RUNS && run < runs && status == TCR_OK; run++)
            for (size_t i = 0; i < n && status == TCR_OK; i++) {
                if (tcr_trial_evaluate(trial, value + i * factors, run, output, NULL) ==
                    TCR_E_MEMORY)
                    status = TCR_E_MEMORY;
                ++*measured;
            }
        *seconds = tcr_seconds_since(&start);
    }
    tcr_trial_free(trial);
    *seconds /= *measured > 0 ? (double)*measured : 1.0;
    return status;
}

/* A duration as words of a sentence. */
static void time_text(double seconds, char text[TCR_DURATION_SIZE]) {
    if (seconds < 1.0)
        strcpy(text, "less than a second");
    else
        tcr_duration_text(seconds, text);
}

int tcr_study_dry_run(const tcr_study_work *work) {
    const tcr_study *study = tcr_study_file_study(work->file);
    const size_t runs = tcr_study_runs(study);
    const long online = sysconf(_SC_NPROCESSORS_ONLN);
    const double threads = tcr_value_or(&work->call->threads, online > 0 ? (double)online : 1.0);
    uint64_t points;
    double seconds;
    size_t measured;
    char text[400], took[TCR_DURATION_SIZE], by_runs[60] = "";
    tcr_error error = tcr_error_none();
    if (tcr_study_count(study, &points, &error) != TCR_OK)
        return tcr_study_say_wrong(&error);
    const tcr_status status = measure(study, points, runs > 0 ? runs : 1, &seconds, &measured);
    if (status != TCR_OK) {
        (void)tcr_fill_error(&error, status, "");
        return tcr_study_say_wrong(&error);
    }
    const double evaluations = (double)points * (double)(runs > 0 ? runs : 1);
    if (runs > 0)
        (void)snprintf(by_runs, sizeof by_runs, " by %zu run%s", runs, runs == 1 ? "" : "s");
    time_text(evaluations * seconds / threads, took);
    (void)snprintf(
        text, sizeof text,
        "%.0f evaluation%s: %llu point%s%s.\n"
        "About %s with %.0f thread%s, if these share the work evenly: %.0f µs for each,\n"
        "measured on %zu in one thread.\n",
        evaluations, evaluations == 1.0 ? "" : "s", (unsigned long long)points,
        points == 1 ? "" : "s", by_runs, took, threads, threads == 1.0 ? "" : "s", 1e6 * seconds,
        measured);
    return tcr_print(text);
}

/* ---- Reports --------------------------------------------------------------------------------- */

#ifdef TCR_WITH_DRAW

/* A picture in memory: it is drawn once, before anything is put in place. */
typedef struct drawn {
    unsigned char *bytes;
    size_t used, room;
} drawn;

static int keep(void *context, const void *bytes, size_t count) {
    drawn *d = context;
    if (count > d->room - d->used) {
        const size_t room = 2 * d->room + count;
        unsigned char *grown = realloc(d->bytes, room);
        if (grown == NULL)
            return ENOMEM;
        d->bytes = grown;
        d->room = room;
    }
    memcpy(d->bytes + d->used, bytes, count);
    d->used += count;
    return 0;
}

static tcr_status write_drawn(const void *picture, tcr_sink sink, void *context) {
    const drawn *d = picture;
    return sink(context, d->bytes, d->used) == 0 ? TCR_OK : TCR_E_WRITE;
}

static tcr_status draw(const tcr_study_work *work, tcr_picture_format format,
                       const tcr_picture_options *options, drawn *d) {
    const tcr_status status = tcr_study_chart(work, format, options, keep, d);
    return status == TCR_E_WRITE ? TCR_E_MEMORY : status; /* keep() has no other failure */
}

/* The picture that is asked for. Where there is nothing to draw it says so, which is no failure. */
static tcr_status draw_asked(const tcr_study_work *work, drawn *d) {
    const tcr_status status = draw(work, work->look.format, &work->look.options, d);
    if (status == TCR_E_MISSING)
        tcr_say("no picture: nothing varies, no point ranks, or points failed and the grid is too "
                "large for a map");
    return status;
}

/* The chart of the results' folder. Where it fails, a message is all. */
static bool draw_for_folder(const tcr_study_work *work, const char *path, drawn *d) {
    const tcr_status status = draw(work, TCR_PNG, NULL, d);
    if (status != TCR_OK && status != TCR_E_MISSING)
        tcr_say("no %s: %s", path, tcr_status_text(status));
    return status == TCR_OK;
}

#endif

char *tcr_study_chart_path(const char *dir) {
    static const char NAME[] = "/chart.png";
    char *path = dir != NULL ? malloc(strlen(dir) + sizeof NAME) : NULL;
    if (path != NULL)
        strcat(strcpy(path, dir), NAME);
    return path;
}

tcr_status tcr_study_report(const tcr_study_work *work, const tcr_results_state *state,
                            tcr_report_writer table, tcr_error *error) {
    const char *inputs[1 + TCR_INPUTS_MAX];
    tcr_work_output pictures[2];
    size_t n = 0, count = 0;
    for (size_t i = 0; i < tcr_study_file_input_count(work->file) && n <= TCR_INPUTS_MAX; i++)
        inputs[n++] = tcr_study_file_input(work->file, i);
    char *chart = NULL;
#ifdef TCR_WITH_DRAW
    drawn picture = {NULL, 0, 0}, of_folder = {NULL, 0, 0};
    const char *asked = state->has_answer ? work->call->picture.text : NULL;
    const tcr_status of_picture = asked != NULL ? draw_asked(work, &picture) : TCR_E_MISSING;
    if (of_picture == TCR_OK)
        pictures[count++] = (tcr_work_output){{asked, write_drawn, TCR_REPLACE_ANY}, &picture};
    if (state->has_answer && work->call->no_chart.text == NULL &&
        (chart = tcr_study_chart_path(work->call->output.text)) != NULL &&
        draw_for_folder(work, chart, &of_folder))
        pictures[count++] = (tcr_work_output){{chart, write_drawn, TCR_REPLACE_ANY}, &of_folder};
#else
    (void)state;
#endif
    tcr_status status = tcr_put_outputs_beside(work, inputs, n, pictures, count, table, error);
    free(chart);
#ifdef TCR_WITH_DRAW
    /* Results and table are already written. */
    if (status == TCR_OK && of_picture != TCR_OK && of_picture != TCR_E_MISSING)
        status = tcr_fill_error(error, of_picture, asked);
    free(picture.bytes);
    free(of_folder.bytes);
#endif
    return status;
}

#endif
