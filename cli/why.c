/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest why: what makes a set uneven, cause by cause, as a table, JSON and a picture. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"

#include <tipcrest/check.h>

#include "call.h"
#include "output.h"
#include "picture.h"
#include "view.h"

static const char HELP[] =
    "usage: tipcrest why SET [--json FILE] [--picture FILE] [--width MM]\n"
    "                        [--dpi N] [--dark] [--opening A] [--viewer DEG]\n"
    "                        [--against fitted|intended]\n"
    "\n"
    "Says why the line of the set in the set file SET is as even as it is: what\n"
    "root heights, shorter lengths on the upper layers, placement, the steps from\n"
    "zone to zone and natural variation each add to the distances from the line\n"
    "or take from them. Prints the answer in short, a sentence for each cause and\n"
    "a table.\n"
    "\n"
    "A cause is levelled out on every lash: roots at their mean height; the bottom\n"
    "layer's lengths on every layer; every extension at the outer side; lengths\n"
    "that change smoothly along the lid; lashes that all grow as the mean lash\n"
    "does. Each cause gets its share of the unevenness, and beside it what it does\n"
    "alone and what taking it out would do.\n"
    "\n"
    "  --json FILE      the same figures, for programs\n"
    "  --picture FILE   a bar for each cause, from what the distance is to what it\n"
    "                   would be without the cause; FILE ends in .png, .svg or .pdf\n"
    "  --width MM       how wide the picture is, 20 to 2000 mm; 254 unless given\n"
    "  --dpi N          points an inch of a PNG, 10 to 1200; 160 unless given\n"
    "  --dark           a dark ground\n"
    "  --opening A      how far the eye is open, 0 closed to 1 open; unless given,\n"
    "                   as the set says\n"
    "  --viewer DEG     how far the viewer is raised, -80 to 80 degrees; unless\n"
    "                   given, as the set says\n"
    "  --against LINE   the line from which tips are measured: fitted, which\n"
    "                   follows the tips, or intended, which follows the map;\n"
    "                   fitted unless given\n"
    "\n"
    "- as FILE is standard output; the table is then left out. Files appear whole\n"
    "or not at all: a run that fails leaves an older file as it was.\n"
    "\n"
    "Exit status: 0 done; 1 the work failed; 2 the call or the set is wrong.\n";

typedef struct why_call {
    tcr_view_words view;
    const char *json; /* NULL: not asked for */
    tcr_picture_words picture;
    tcr_picture_look look;
    tcr_check_options options;
} why_call;

typedef struct why_work {
    tcr_set_file *file;
    tcr_check *check;
    const tcr_picture_look *look;
} why_work;

static tcr_status write_json(const void *work, tcr_sink sink, void *context) {
    const why_work *of = work;
    return tcr_report_why_json(of->check, tcr_set_file_digest(of->file), sink, context);
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    return tcr_report_why_table(((const why_work *)work)->check, sink, context);
}

#ifdef TCR_WITH_DRAW
static tcr_status write_picture(const void *work, tcr_sink sink, void *context) {
    const why_work *of = work;
    return tcr_picture_write("why", of->look->format, of->check, &of->look->options, sink, context);
}
#else
#define write_picture NULL
#endif

static int understand(void *context) {
    why_call *call = context;
    const int status = tcr_view_understand("why", &call->view, &call->options);
    return status == TCR_EXIT_DONE ? tcr_picture_understand(&call->picture, &call->look) : status;
}

static int run(int argc, char **argv) {
    why_call call = {.picture = {.option = "--picture"}};
    const tcr_call_option options[] = {
        {"json", &call.json},
        {"picture", &call.picture.path},
        {"width", &call.picture.width},
        {"dpi", &call.picture.dpi},
        {"opening", &call.view.opening},
        {"viewer", &call.view.viewer},
        {"against", &call.view.against},
    };
    const tcr_call_flag flags[] = {{"dark", &call.picture.dark}};
    const tcr_call_words words = {options, sizeof options / sizeof *options, flags, 1,
                                  &call.view.set};
    int exit_status;
    if (!tcr_call_start(HELP, argc, argv, &words, understand, &call, &exit_status))
        return exit_status;
    const tcr_output report[] = {{call.json, write_json}, {call.picture.path, write_picture}};
    why_work work = {.look = &call.look};
    tcr_file_error error;
    tcr_status status = tcr_set_file_read(call.view.set, NULL, &work.file, &error);
    if (status == TCR_OK)
        status = tcr_view_evaluate(&call.view, work.file, &call.options, &work.check, &error);
    if (status == TCR_OK)
        status = tcr_put_outputs(&work, work.file, report, sizeof report / sizeof *report,
                                 write_table, &error);
    tcr_check_free(work.check);
    tcr_set_file_free(work.file);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(&error);
}

const tcr_command tcr_command_why = {"why", "what makes a set uneven, cause by cause", HELP, run};
