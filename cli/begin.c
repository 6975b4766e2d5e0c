/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest begin: writes a first set file, and a survey to fill in, to be changed by hand. */
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include <tipcrest/begin.h>
#include <tipcrest/text.h>

#include "common.h"

static const char ABOUT[] =
    "Writes a first set file. Its notes say what each number is, where it comes from\n"
    "and what to change first. tipcrest check reads it without a change.\n";

static const char NOTES[] = "Overwrites nothing: if one of the files exists, begin writes none.\n"
                            "\n"
                            "Exit status: 0 done; 1 the work failed; 2 the call is wrong.\n";

/* Whether a list looks as if 9.5 stood in it as 9,5. */
static bool has_comma_half(const char *list) {
    for (const char *at = list; list != NULL && (at = strstr(at, ",5")) != NULL; at += 2)
        if (at[2] == ',' || at[2] == '\0')
            return true;
    return false;
}

/* Says what to do next, unless the set file itself went where this would go. */
static int say_next(const tcr_call *call) {
    enum { TEXT_SIZE = 1200, COLUMNS = 60 };
    const char *path = call->output.text;
    char text[TEXT_SIZE], shown[4 * COLUMNS], word[TCR_SHELL_WORD_SIZE] = "SET";
    struct stat found;
    if (strcmp(path, "-") == 0 || (stat(path, &found) == 0 && !S_ISREG(found.st_mode)))
        return TCR_EXIT_DONE;
    tcr_printable(path, COLUMNS, shown, sizeof shown);
    (void)tcr_shell_word(path, word, sizeof word);
    snprintf(text, sizeof text,
             "\"%s\" is written%s.\n"
             "Its notes say what to change first. How the set comes out:\n"
             "  %s check %s\n",
             shown,
             call->survey.text == NULL ? "; its lashes are drawn by chance, not measured"
                                       : ", and the survey that it names; its lashes are invented",
             tcr_program(), word);
    return tcr_print(text);
}

static void understand(const tcr_call *call, tcr_begin_options *o) {
    const char *eyes = call->eyes.text != NULL ? call->eyes.text : "both";
    o->eye[TCR_LEFT] = strcmp(eyes, "right") != 0;
    o->eye[TCR_RIGHT] = strcmp(eyes, "left") != 0;
    o->zones = call->lengths.count;
    memcpy(o->length_mm, call->lengths.number, o->zones * sizeof *o->length_mm);
    o->has_layers = call->layers.count > 0;
    memcpy(o->layer_mm, call->layers.number, sizeof o->layer_mm);
    o->look = call->look.text;
    o->curl = call->curl.text;
    o->program = tcr_program_name();
}

static int run(const tcr_call *call) {
    tcr_begin_options options = tcr_begin_options_default();
    tcr_error error;
    if (call->look.text != NULL && call->lengths.text != NULL)
        return tcr_say_wrong("--look and --lengths both give the map; leave one of them out");
    understand(call, &options);
    if (tcr_begin_validate(&options, &error) != TCR_OK) /* it begins with the option's name */
        return tcr_say_wrong(
            "--%s%s", error.message,
            has_comma_half(call->lengths.text)
                ? "; commas separate the lengths, so write half a millimetre with a point: 9.5"
                : "");
    if (tcr_begin_files(&options, call->output.text, call->survey.text, &error) != TCR_OK)
        return tcr_say_error(&error);
    return say_next(call);
}

const tcr_command tcr_command_begin = {
    "begin", TCR_BIT_BEGIN, TCR_NO_SET, "writes a first set file to change, with notes",
    ABOUT,   NOTES,         run};
