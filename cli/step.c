/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest step: how much shorter each layer must be to come level, and what moves a tip. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include <tipcrest/set.h>

#include "common.h"
#include "output.h"
#include "picture.h"
#include "progress.h"

static const char ABOUT[] =
    "Says which lengths suit the layers of a set: equal lengths, 1 mm less a layer\n"
    "(12/11/10) or other sizes of the tray. Prints how far off one line the tips of\n"
    "the set's own lashes lie with each, over how far the layers are apart; from how\n"
    "far apart 1 mm less pays; what the couch shows; and what variation costs. What\n"
    "rows of a survey say that lashes wear plays no part, nor what zones give a layer\n"
    "above the bottom one.\n"
    "\n"
    "Says also how much shorter an extension must be on each higher layer, so that\n"
    "the tips of the mean lash reach one height at the pupil, with the eye open and\n"
    "seen from the front, and what the nearest sizes of the tray leave over. With\n"
    "--full it has this for all curls, and how much each measure moves a tip.\n"
    "\n"
    "Lid, lashes, map, layering, tray, curls and bond are those of the set file SET.\n"
    "Without SET everything is assumed, for a left eye without lashes.\n";

typedef struct step_work {
    const tcr_call *call;
    tcr_set_file *file; /* NULL without a set file */
    tcr_set *defaults;  /* used then */
    const tcr_set *set; /* either's */
    tcr_step_report_options options;
    tcr_picture_look look;
} step_work;

static tcr_status write_json(const void *work, tcr_sink sink, void *context) {
    const step_work *of = work;
    const char *digest = of->file != NULL ? tcr_set_file_digest(of->file) : NULL;
    return tcr_report_step_json(of->set, &of->options, digest, sink, context);
}

static tcr_status write_csv(const void *work, tcr_sink sink, void *context) {
    const step_work *of = work;
    const tcr_csv_options form = tcr_csv_options_of(of->call);
    return tcr_report_step_csv(of->set, &of->options, &form, sink, context);
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    const step_work *of = work;
    return tcr_report_step_table(of->set, &of->options, sink, context);
}

#ifdef TCR_WITH_DRAW
static tcr_status write_picture(const void *work, tcr_sink sink, void *context) {
    const step_work *of = work;
    tcr_step_picture step = tcr_step_picture_default();
    tcr_side sides[TCR_SIDES] = {TCR_LEFT, TCR_LEFT};
    (void)tcr_set_eyes(of->set, sides);
    step.side = of->options.has_side ? of->options.side : sides[0];
    step.curl = of->options.curl;
    step.length_mm = of->options.length_mm;
    step.has_apart = of->options.has_apart;
    step.apart_mm = of->options.apart_mm;
    return tcr_step_picture_write(of->look.format, of->set, &step, &of->look.options, sink,
                                  context);
}
#else
#define write_picture NULL
#endif

/* Reads the set, or makes one of defaults with one eye. */
static tcr_status open_set(const tcr_call *call, step_work *work, tcr_error *error) {
    tcr_status status;
    if (call->set != NULL) {
        status = tcr_set_file_read(call->set, NULL, &work->file, error);
        work->set = status == TCR_OK ? tcr_set_file_set(work->file) : NULL;
        return status;
    }
    status = tcr_set_new(NULL, &work->defaults);
    if (status == TCR_OK)
        status = tcr_set_add_eye(work->defaults, work->options.side, NULL);
    work->set = work->defaults;
    return status == TCR_OK ? TCR_OK : tcr_fill_error(error, TCR_E_MEMORY, "");
}

/* Finds in the set what the call names; an exit status. */
static int find_named(const tcr_call *call, step_work *work) {
    size_t index;
    if (work->options.has_side && !tcr_set_has_eye(work->set, work->options.side))
        return tcr_say_wrong("--eye is %s, and %s has no such eye", call->eye.text, call->set);
    work->options.curl = call->curl.text;
    return call->curl.text == NULL
               ? TCR_EXIT_DONE
               : tcr_find_curl(work->set, "--curl", false, call->curl.text, &index);
}

static int run(const tcr_call *call) {
    step_work work = {.call = call, .options = tcr_step_report_options_default()};
    const tcr_report_file reports[] = {{call->json.text, write_json, TCR_REPLACE_ANY},
                                       {call->csv.text, write_csv, TCR_REPLACE_ANY},
                                       {call->picture.text, write_picture, TCR_REPLACE_ANY}};
    tcr_error error;
    work.options.length_mm = tcr_value_or(&call->length, work.options.length_mm);
    work.options.has_apart = call->apart.count > 0;
    work.options.apart_mm = tcr_value_or(&call->apart, 0);
    work.options.full = call->full.text != NULL;
    work.options.has_side = call->eye.count > 0;
    work.options.side = (tcr_side)tcr_value_or(&call->eye, TCR_LEFT);
    int exit_status = tcr_part_reports(call);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = tcr_picture_understand(call, "--picture", &call->picture, &work.look);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    if (open_set(call, &work, &error) != TCR_OK)
        exit_status = tcr_say_error(&error);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = find_named(call, &work);
    tcr_watch watch;
    work.options.progress = (tcr_progress){tcr_watch_report, &watch};
    tcr_watch_begin(&watch, "ends it without a report");
    if (exit_status == TCR_EXIT_DONE &&
        tcr_put_outputs(&work, work.file, reports, 3, write_table, &error) != TCR_OK)
        exit_status = tcr_say_error(&error);
    tcr_watch_end(&watch);
    tcr_set_file_free(work.file);
    tcr_set_free(work.defaults);
    return exit_status;
}

const tcr_command tcr_command_step = {
    "step",      TCR_BIT_STEP,
    TCR_MAY_SET, "says whether 12/11/10 suits a set, and the level step by curl",
    ABOUT,       TCR_NOTES_OUTPUTS,
    run};
