/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest check: evaluates a set and writes what it found as a table, JSON, CSV and a picture. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"

#include <string.h>
#include <strings.h>

#include <tipcrest/check.h>
#ifdef TCR_WITH_DRAW
#include <tipcrest/draw.h>
#endif

#include "call.h"
#include "num/range.h"

static const char HELP[] =
    "usage: tipcrest check SET [--json FILE] [--csv FILE] [--picture FILE.png]\n"
    "                          [--opening A] [--viewer DEG]\n"
    "                          [--against fitted|intended]\n"
    "\n"
    "Evaluates the set in the set file SET: where every tip stands with the eye\n"
    "open, how even their line is, how well it matches the map, which lashes are\n"
    "staggered and what to do about them. Prints a table for each eye.\n"
    "\n"
    "  --json FILE      everything, for programs\n"
    "  --csv FILE       a row for each lash, for spreadsheets\n"
    "  --picture FILE   the front view, as a PNG; FILE ends in .png\n"
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
    const char *set;
    const char *json, *csv, *picture; /* NULL: not asked for */
    const char *opening, *viewer, *against;
    bool help;
    tcr_check_options options;
} check_call;

/* ---- The call ---------------------------------------------------------------------- */

static int read_call(int argc, char **argv, check_call *call) {
    const tcr_call_option options[] = {
        {"json", &call->json},       {"csv", &call->csv},       {"picture", &call->picture},
        {"opening", &call->opening}, {"viewer", &call->viewer}, {"against", &call->against},
    };
    return tcr_call_read("check", argc, argv, options, sizeof options / sizeof *options, &call->set,
                         &call->help);
}

static bool ends_in_png(const char *path) {
    const size_t length = strlen(path);
    return length > 4 && strcasecmp(path + length - 4, ".png") == 0;
}

/* What the words of the call mean; the view comes later, from the set. */
static int understand(check_call *call) {
    if (call->set == NULL || *call->set == '\0')
        return tcr_say_wrong("check needs a set file: tipcrest check SET");
    if (strcmp(call->set, "-") == 0)
        return tcr_say_wrong("check reads a set from a file, not from standard input, because "
                             "surveys lie beside it");
    if (call->picture != NULL && !ends_in_png(call->picture))
        return tcr_say_wrong("--picture is \"%s\"; it needs the name of a file that ends in .png",
                             call->picture);
    if (call->json != NULL && call->csv != NULL && strcmp(call->json, "-") == 0 &&
        strcmp(call->csv, "-") == 0)
        return tcr_say_wrong("only one of --json and --csv can go to standard output; give the "
                             "other a file");
    call->options = tcr_check_options_default();
    if (call->against != NULL && strcmp(call->against, "intended") == 0)
        call->options.against = TCR_INTENDED;
    else if (call->against != NULL && strcmp(call->against, "fitted") != 0)
        return tcr_say_wrong("--against is \"%s\"; it is fitted or intended", call->against);
    tcr_view *view = &call->options.view;
    double degrees = 0.0;
    if (call->opening != NULL &&
        !tcr_option_number("--opening", call->opening, 0.0, 1.0,
                           "a number from 0 (closed) to 1 (open)", &view->opening))
        return TCR_EXIT_WRONG;
    if (call->viewer != NULL && !tcr_option_number("--viewer", call->viewer, -80.0, 80.0,
                                                   "a number of degrees from -80 to 80", &degrees))
        return TCR_EXIT_WRONG;
    view->viewer_rad = degrees * TCR_DEG;
    return TCR_EXIT_DONE;
}

/* ---- The outputs ------------------------------------------------------------------- */

/* One of several outputs. */
typedef struct output {
    tcr_outputs *outputs;
    size_t index;
} output;

static int put_text(void *context, const char *text, size_t bytes) {
    output *to = context;
    return tcr_outputs_write(to->outputs, to->index, text, bytes) == TCR_OK ? 0 : -1;
}

static tcr_status write_json(output *to, const tcr_set_file *file, const tcr_check *check) {
    return tcr_report_json(check, tcr_set_file_digest(file), put_text, to);
}

static tcr_status write_csv(output *to, const tcr_set_file *file, const tcr_check *check) {
    (void)file;
    return tcr_report_csv(check, put_text, to);
}

static tcr_status write_table(output *to, const tcr_set_file *file, const tcr_check *check) {
    (void)file;
    return tcr_report_table(check, put_text, to);
}

#ifdef TCR_WITH_DRAW
static int put_bytes(void *context, const void *bytes, size_t count) {
    return put_text(context, bytes, count);
}

static tcr_status write_picture(output *to, const tcr_set_file *file, const tcr_check *check) {
    (void)file;
    const tcr_picture_options options = tcr_picture_options_default();
    return tcr_draw_front_png(check, &options, put_bytes, to);
}
#else
#define write_picture NULL
#endif

typedef tcr_status (*writer)(output *, const tcr_set_file *, const tcr_check *);

/* Adds an output, if it is asked for, and writes it whole; it is not in place yet. */
static tcr_status add_output(tcr_outputs *outputs, const char *path, writer write,
                             const tcr_set_file *file, const tcr_check *check,
                             tcr_file_error *error) {
    if (path == NULL)
        return TCR_OK;
    output to = {.outputs = outputs};
    tcr_status status = tcr_outputs_add(outputs, path, &to.index, error);
    if (status != TCR_OK)
        return status;
    status = write(&to, file, check);
    if (status == TCR_E_WRITE) /* commit refuses and knows what went wrong */
        return tcr_outputs_commit(outputs, error);
    if (status != TCR_OK) {
        const tcr_place place = {path, 0, 0};
        return tcr_fail(error, status, place, "%s", tcr_status_text(status));
    }
    return TCR_OK;
}

/* Protects the inputs, and what standard output goes to where the table is printed there. */
static tcr_status protect(tcr_outputs *outputs, const tcr_set_file *file, bool prints_table) {
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < tcr_set_file_input_count(file) && status != TCR_E_MEMORY; i++)
        status = tcr_outputs_protect(outputs, tcr_set_file_input(file, i));
    if (prints_table && status != TCR_E_MEMORY)
        status = tcr_outputs_protect(outputs, "/dev/stdout");
    return status == TCR_E_MEMORY ? status : TCR_OK; /* what is not there needs no protection */
}

/* Prepares everything, puts the files in place, prints the table last. */
static tcr_status put_out(const check_call *call, const tcr_set_file *file, const tcr_check *check,
                          tcr_outputs *files, tcr_outputs *table, tcr_file_error *error) {
    const bool prints_table = !(call->json != NULL && strcmp(call->json, "-") == 0) &&
                              !(call->csv != NULL && strcmp(call->csv, "-") == 0);
    tcr_status status = protect(files, file, prints_table);
    if (status != TCR_OK)
        return tcr_fail_memory(error, call->set);
    status = add_output(files, call->json, write_json, file, check, error);
    if (status == TCR_OK)
        status = add_output(files, call->csv, write_csv, file, check, error);
    if (status == TCR_OK)
        status = add_output(files, call->picture, write_picture, file, check, error);
    if (status == TCR_OK)
        status = add_output(table, prints_table ? "-" : NULL, write_table, file, check, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(files, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(table, error);
    return status;
}

static tcr_status write_outputs(const check_call *call, const tcr_set_file *file,
                                const tcr_check *check, tcr_file_error *error) {
    tcr_outputs *files = NULL, *table = NULL;
    tcr_status status = tcr_outputs_new(NULL, &files);
    if (status == TCR_OK)
        status = tcr_outputs_new(NULL, &table);
    if (status == TCR_OK)
        status = put_out(call, file, check, files, table, error);
    else
        status = tcr_fail_memory(error, call->set);
    tcr_outputs_free(files);
    tcr_outputs_free(table);
    return status;
}

/* The view of the call where it gives one, else the set's; each of its two numbers for itself. */
static void complete_view(check_call *call, const tcr_set *set) {
    tcr_view view = *tcr_set_get_view(set);
    if (call->opening != NULL)
        view.opening = call->options.view.opening;
    if (call->viewer != NULL)
        view.viewer_rad = call->options.view.viewer_rad;
    call->options.view = view;
    call->options.has_view = true;
}

static int run(int argc, char **argv) {
    check_call call = {0};
    int exit_status = read_call(argc, argv, &call);
    if (exit_status == TCR_EXIT_DONE && call.help)
        return tcr_print(HELP);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = understand(&call);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
#ifndef TCR_WITH_DRAW
    if (call.picture != NULL) {
        tcr_say("this tipcrest was built without pictures; leave out --picture, or build it with "
                "cairo");
        return TCR_EXIT_FAILED;
    }
#endif
    tcr_file_error error;
    tcr_set_file *file = NULL;
    tcr_check *check = NULL;
    tcr_status status = tcr_set_file_read(call.set, NULL, &file, &error);
    if (status == TCR_OK) {
        complete_view(&call, tcr_set_file_set(file));
        status = tcr_set_file_check(file, &call.options, &check, &error);
    }
    if (status == TCR_OK)
        status = write_outputs(&call, file, check, &error);
    tcr_check_free(check);
    tcr_set_file_free(file);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(&error);
}

const tcr_command tcr_command_check = {
    "check", "how a set looks with the eye open, and which lashes are staggered", HELP, run};
