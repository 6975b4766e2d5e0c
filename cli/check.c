/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest check: evaluates a set and writes what it found as a table, JSON, CSV and a picture. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"

#include <string.h>
#include <strings.h>

#include <tipcrest/check.h>

#include "call.h"
#include "output.h"
#include "picture.h"
#include "view.h"

static const char HELP[] =
    "usage: tipcrest check SET [--json FILE] [--csv FILE] [--picture FILE.png]\n"
    "                          [--width MM] [--dpi N] [--dark] [--opening A]\n"
    "                          [--viewer DEG] [--against fitted|intended]\n"
    "\n"
    "Evaluates the set in the set file SET: where every tip stands with the eye\n"
    "open, how even their line is, how well it matches the map, which lashes are\n"
    "staggered and what to do about them. Prints a table for each eye.\n"
    "\n"
    "  --json FILE      everything, for programs\n"
    "  --csv FILE       a row for each lash, for spreadsheets\n"
    "  --picture FILE   the front view, as a PNG; FILE ends in .png\n"
    "  --width MM       how wide the picture is, 20 to 2000 mm; 254 unless given\n"
    "  --dpi N          its points an inch, 10 to 1200; 160 unless given\n"
    "  --dark           a dark ground\n"
    "  --opening A      how far the eye is open, 0 closed to 1 open; unless given,\n"
    "                   as the set says, and that is 1 unless it says so\n"
    "  --viewer DEG     how far the viewer is raised, -80 to 80 degrees; unless\n"
    "                   given, as the set says, and that is 0, straight from the\n"
    "                   front, unless it says so\n"
    "  --against LINE   the line from which lashes are measured: fitted, which\n"
    "                   follows the tips and shows how even they are, or intended,\n"
    "                   which follows the map; fitted unless given\n"
    "\n"
    "- as FILE is standard output; the table is then left out. Files appear whole\n"
    "or not at all: a run that fails leaves an older file as it was.\n"
    "\n"
    "Exit status: 0 done; 1 the work failed; 2 the call or the set is wrong.\n";

typedef struct check_call {
    tcr_view_words view;
    const char *json, *csv; /* NULL: not asked for */
    tcr_picture_words picture;
    tcr_picture_look look;
    tcr_check_options options;
} check_call;

/* ---- The call ---------------------------------------------------------------------- */

static bool ends_in_png(const char *path) {
    const size_t length = strlen(path);
    return length > 4 && strcasecmp(path + length - 4, ".png") == 0;
}

/* What the words of the call mean; the view comes later, from the set. */
static int understand(void *context) {
    check_call *call = context;
    const int status = tcr_view_understand("check", &call->view, &call->options);
    if (status != TCR_EXIT_DONE)
        return status;
    if (call->picture.path != NULL && !ends_in_png(call->picture.path))
        return tcr_say_wrong("--picture is \"%s\"; it needs the name of a file that ends in .png",
                             call->picture.path);
    if (call->json != NULL && call->csv != NULL && strcmp(call->json, "-") == 0 &&
        strcmp(call->csv, "-") == 0)
        return tcr_say_wrong("only one of --json and --csv can go to standard output; give the "
                             "other a file");
    return tcr_picture_understand(&call->picture, &call->look);
}

/* ---- The outputs ------------------------------------------------------------------- */

typedef struct check_work {
    tcr_set_file *file;
    tcr_check *check;
    const tcr_picture_look *look;
} check_work;

static tcr_status write_json(const void *work, tcr_sink sink, void *context) {
    const check_work *of = work;
    return tcr_report_json(of->check, tcr_set_file_digest(of->file), sink, context);
}

static tcr_status write_csv(const void *work, tcr_sink sink, void *context) {
    return tcr_report_csv(((const check_work *)work)->check, sink, context);
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    const check_work *of = work;
    const tcr_plan_limits limits = tcr_set_file_plan_limits(of->file);
    return tcr_report_table_limits(of->check, &limits, sink, context);
}

#ifdef TCR_WITH_DRAW
static tcr_status write_picture(const void *work, tcr_sink sink, void *context) {
    const check_work *of = work;
    return tcr_picture_write("front", of->look->format, of->check, &of->look->options, sink,
                             context);
}
#else
#define write_picture NULL
#endif

static int run(int argc, char **argv) {
    check_call call = {.picture = {.option = "--picture"}};
    const tcr_call_option options[] = {
        {"json", &call.json},
        {"csv", &call.csv},
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
    const tcr_output reports[] = {
        {call.json, write_json}, {call.csv, write_csv}, {call.picture.path, write_picture}};
    tcr_file_error error;
    check_work work = {.look = &call.look};
    tcr_status status = tcr_set_file_read(call.view.set, NULL, &work.file, &error);
    if (status == TCR_OK)
        status = tcr_view_evaluate(&call.view, work.file, &call.options, &work.check, &error);
    if (status == TCR_OK)
        status = tcr_put_outputs(&work, work.file, reports, sizeof reports / sizeof *reports,
                                 write_table, &error);
    tcr_check_free(work.check);
    tcr_set_file_free(work.file);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(&error);
}

const tcr_command tcr_command_check = {
    "check", "how a set looks with the eye open, and which lashes are staggered", HELP, run};
