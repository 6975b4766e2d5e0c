/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest step: how much shorter each layer must be to come level, and what moves a tip. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"

#include <string.h>

#include <tipcrest/set.h>

#include "call.h"
#include "file/curl_name.h"
#include "output.h"
#include "picture.h"

static const char HELP[] =
    "usage: tipcrest step [SET] [--json FILE] [--picture FILE] [--width MM]\n"
    "                     [--dpi N] [--dark] [--curl LABEL] [--length MM]\n"
    "                     [--eye left|right]\n"
    "\n"
    "Says how much shorter an extension must be on each higher layer, so that the\n"
    "tips of the mean lash stand at one height at the pupil, with the eye open and\n"
    "seen from the front: exactly, and in the sizes of the tray with what is left\n"
    "over; and what moves a tip by how much. Prints a table for all curls of 12 mm\n"
    "on the bottom layer, all at the outer side and as it is taught: bottom on\n"
    "top, middle at the outer side, top underneath.\n"
    "\n"
    "Lid, mean lash, tray, curls, bond and diameter are those of the set file SET;\n"
    "its lashes and maps play no part. Without SET everything is assumed, and the\n"
    "eye is a left one.\n"
    "\n"
    "  --json FILE      everything, for programs: bottom lengths of 8 to 15 mm and\n"
    "                   all placements\n"
    "  --picture FILE   the steps over the length on the bottom layer, for each curl,\n"
    "                   on the grid of the tray; FILE ends in .png, .svg or .pdf\n"
    "  --width MM       how wide the picture is, 20 to 2000 mm; 254 unless given\n"
    "  --dpi N          points an inch of a PNG, 10 to 1200; 160 unless given\n"
    "  --dark           a dark ground\n"
    "  --curl LABEL     this curl alone\n"
    "  --length MM      this length on the bottom layer alone, 3 to 30\n"
    "  --eye SIDE       whose lid, left or right, where the set has both; the first\n"
    "                   one unless given\n"
    "\n"
    "- as FILE is standard output; the table is then left out. Files appear whole\n"
    "or not at all: a run that fails leaves an older file as it was.\n"
    "\n"
    "Exit status: 0 done; 1 the work failed; 2 the call or the set is wrong.\n";

typedef struct step_call {
    const char *set, *json, *curl, *length, *eye; /* NULL: not given */
    char label[TCR_LABEL_SIZE];                   /* of the curl */
    tcr_picture_words picture;
    tcr_picture_look look;
    tcr_step_report_options options;
} step_call;

typedef struct step_work {
    tcr_set_file *file; /* NULL without a set file */
    tcr_set *defaults;  /* used then */
    const tcr_set *set; /* either's */
    const tcr_step_report_options *options;
    const tcr_picture_look *look;
} step_work;

static tcr_status write_json(const void *work, tcr_sink sink, void *context) {
    const step_work *of = work;
    const char *digest = of->file != NULL ? tcr_set_file_digest(of->file) : NULL;
    return tcr_report_step_json(of->set, of->options, digest, sink, context);
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    const step_work *of = work;
    return tcr_report_step_table(of->set, of->options, sink, context);
}

#ifdef TCR_WITH_DRAW
static tcr_status write_picture(const void *work, tcr_sink sink, void *context) {
    const step_work *of = work;
    tcr_step_picture step = tcr_step_picture_default();
    tcr_side sides[TCR_SIDES] = {TCR_LEFT, TCR_LEFT};
    (void)tcr_set_get_eyes(of->set, sides);
    step.side = of->options->has_side ? of->options->side : sides[0];
    step.curl = of->options->curl;
    step.length_mm = of->options->length_mm;
    return tcr_step_picture_write(of->look->format, of->set, &step, &of->look->options, sink,
                                  context);
}
#else
#define write_picture NULL
#endif

/* What the words of the call mean; curl and eye come later, from the set. */
static int understand(void *context) {
    step_call *call = context;
    if (call->set != NULL && *call->set == '\0')
        return tcr_say_wrong("the name of the set file is empty; leave it out, or give one");
    if (call->set != NULL && strcmp(call->set, "-") == 0)
        return tcr_say_wrong("step reads a set from a file, not from standard input, because "
                             "surveys lie beside it");
    call->options = tcr_step_report_options_default();
    if (call->length != NULL &&
        !tcr_option_number("--length", call->length, 3.0, 30.0,
                           "a number of millimetres from 3 to 30", &call->options.length_mm))
        return TCR_EXIT_WRONG;
    if (call->eye != NULL) {
        call->options.has_side = true;
        call->options.side = strcmp(call->eye, "right") == 0 ? TCR_RIGHT : TCR_LEFT;
        if (call->options.side == TCR_LEFT && strcmp(call->eye, "left") != 0)
            return tcr_say_wrong("--eye is \"%s\"; it is left or right", call->eye);
    }
    return tcr_picture_understand(&call->picture, &call->look);
}

/* Reads the set, or makes one of defaults with one eye. */
static tcr_status open_set(const step_call *call, step_work *work, tcr_file_error *error) {
    tcr_status status;
    if (call->set != NULL) {
        status = tcr_set_file_read(call->set, NULL, &work->file, error);
        work->set = status == TCR_OK ? tcr_set_file_set(work->file) : NULL;
        return status;
    }
    status = tcr_set_new(NULL, &work->defaults);
    if (status == TCR_OK)
        status = tcr_set_add_eye(work->defaults, call->options.side, NULL);
    work->set = work->defaults;
    return status == TCR_OK ? TCR_OK : tcr_fail_memory(error, "");
}

/* Looks up in the set what the call names. */
static tcr_status look_up(step_call *call, const step_work *work, tcr_file_error *error) {
    const tcr_place call_itself = {"", 0, 0}, file = {call->set, 0, 0};
    if (call->eye != NULL && !tcr_set_has_eye(work->set, call->options.side))
        return tcr_fail(error, TCR_E_CONTENT, file, "it has no %s eye, for which --eye asks",
                        call->eye);
    if (call->curl == NULL)
        return TCR_OK;
    call->options.curl = call->label;
    return tcr_curl_name_read(work->set, "--curl", call->curl, strlen(call->curl), call->label,
                              call_itself, error);
}

static int run(int argc, char **argv) {
    step_call call = {.picture = {.option = "--picture"}};
    const tcr_call_option options[] = {
        {"json", &call.json},
        {"picture", &call.picture.path},
        {"width", &call.picture.width},
        {"dpi", &call.picture.dpi},
        {"curl", &call.curl},
        {"length", &call.length},
        {"eye", &call.eye},
    };
    const tcr_call_flag flags[] = {{"dark", &call.picture.dark}};
    const tcr_call_words words = {options, sizeof options / sizeof *options, flags, 1, &call.set};
    int exit_status;
    if (!tcr_call_start(HELP, argc, argv, &words, understand, &call, &exit_status))
        return exit_status;
    step_work work = {.options = &call.options, .look = &call.look};
    const tcr_output reports[] = {{call.json, write_json}, {call.picture.path, write_picture}};
    tcr_file_error error;
    tcr_status status = open_set(&call, &work, &error);
    if (status == TCR_OK)
        status = look_up(&call, &work, &error);
    if (status == TCR_OK)
        status = tcr_put_outputs(&work, work.file, reports, sizeof reports / sizeof *reports,
                                 write_table, &error);
    tcr_set_file_free(work.file);
    tcr_set_free(work.defaults);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(&error);
}

const tcr_command tcr_command_step = {
    "step", "how much shorter each layer must be to come level, for each curl", HELP, run};
