/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest begin: writes a first set file, and a survey to fill in, to be changed by hand. */
#include "common.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include <tipcrest/begin.h>

#include "call.h"
#include "num/number.h"

static const char HELP[] =
    "usage: tipcrest begin -o SET [--lengths MM,MM,...] [--look NAME]\n"
    "                      [--layers B/M/T] [--curl C] [--eyes both|left|right]\n"
    "                      [--survey FILE.csv]\n"
    "\n"
    "Writes a first set file, with notes that say what each number is, where it\n"
    "comes from and what to change first. tipcrest check takes it as it is.\n"
    "\n"
    "  -o SET           the file to write, whose name ends in .yaml, such as my.yaml;\n"
    "                   - is standard output\n"
    "  --lengths LIST   the map: a length for each zone from the inner to the outer\n"
    "                   corner, in millimetres, such as 9,10,12,11; 1 to 64 zones\n"
    "                   of one width, whole or half millimetres from 5 to 20\n"
    "  --look NAME      the map by a look instead, such as natural, doll (also\n"
    "                   open), cat or squirrel; natural unless given. The shapes\n"
    "                   are common practice, without a source; artists differ\n"
    "  --layers B/M/T   bottom, middle and top length where the map is longest,\n"
    "                   such as 12/11/10; a millimetre less for each layer up\n"
    "                   unless given. Where they step down by a millimetre, the\n"
    "                   placement that is taught with it is written too: bottom\n"
    "                   on top, middle at the outer side, top underneath\n"
    "  --curl C         one of J B C CC D DD L M; C unless given\n"
    "  --eyes WHICH     both, left or right: the client's own; both unless given\n"
    "  --survey FILE    writes a survey too, a table of INVENTED lashes to fill in\n"
    "                   with what you measure; FILE ends in .csv and lies in the\n"
    "                   folder of the set file or below it. For both eyes it is\n"
    "                   FILE-left.csv and FILE-right.csv. Without --survey the\n"
    "                   lashes are drawn by chance from a description\n"
    "\n"
    "Overwrites nothing: where one of the files is there already, none is written.\n"
    "\n"
    "Exit status: 0 done; 1 the work failed; 2 the call is wrong.\n";

typedef struct begin_call {
    const char *output, *lengths, *look, *layers, *curl, *eyes, *survey; /* NULL: not given */
    tcr_begin_options options;
} begin_call;

/*
 * Numbers with a separator between, and blanks about it, at least one and at most 'most'; their
 * count, or 0 after it was said what is wrong. 'needs' is what the option needs.
 */
static size_t read_list(const char *option, const char *text, char separator, size_t most,
                        const char *needs, double *numbers) {
    size_t count = 0;
    for (const char *at = text, *end;; at = end + 1) {
        end = strchr(at, separator);
        if (end == NULL)
            end = at + strlen(at);
        if (count == most) {
            tcr_say("%s has more than %zu lengths; it needs %s", option, most, needs);
            return 0;
        }
        const char *first = at + strspn(at, " "), *last = end;
        while (last > first && last[-1] == ' ')
            last--;
        if (!tcr_number_parse(first, (size_t)(last - first), &numbers[count])) {
            tcr_say("%s is \"%s\"; it needs %s", option, text, needs);
            return 0;
        }
        count++;
        if (*end == '\0')
            return count;
    }
}

static bool understand_eyes(begin_call *call) {
    bool *eye = call->options.eye;
    const char *eyes = call->eyes != NULL ? call->eyes : "both";
    eye[TCR_LEFT] = strcmp(eyes, "right") != 0;
    eye[TCR_RIGHT] = strcmp(eyes, "left") != 0;
    if (!eye[TCR_LEFT] || !eye[TCR_RIGHT] || strcmp(eyes, "both") == 0)
        return true;
    tcr_say("--eyes is \"%s\"; it is both, left or right", eyes);
    return false;
}

static bool understand_lengths(begin_call *call) {
    static const char ZONES[] = "1 to 64 lengths with commas between, such as 9,10,12,11";
    static const char LAYERS[] = "three lengths, bottom/middle/top, such as 12/11/10";
    tcr_begin_options *o = &call->options;
    if (call->lengths != NULL) {
        o->zones = read_list("--lengths", call->lengths, ',', TCR_ZONES_MAX, ZONES, o->length_mm);
        if (o->zones == 0)
            return false;
    }
    if (call->layers == NULL)
        return true;
    o->has_layers = true;
    const size_t layers = read_list("--layers", call->layers, '/', TCR_LAYERS, LAYERS, o->layer_mm);
    if (layers > 0 && layers < TCR_LAYERS)
        tcr_say("--layers is \"%s\"; it needs %s", call->layers, LAYERS);
    return layers == TCR_LAYERS;
}

/* Whether a list looks as if 9.5 stood in it as 9,5. */
static bool has_comma_half(const char *list) {
    for (const char *at = list; list != NULL && (at = strstr(at, ",5")) != NULL; at += 2)
        if (at[2] == ',' || at[2] == '\0')
            return true;
    return false;
}

/* Says what to do next, unless the set file itself went where this would go. */
static int say_next(const begin_call *call) {
    enum { TEXT_SIZE = 1200 };
    char text[TEXT_SIZE];
    struct stat found;
    tcr_quoted set;
    char word[TCR_SHELL_WORD_SIZE] = "SET";
    (void)tcr_shell_word(call->output, word, sizeof word);
    if (strcmp(call->output, "-") == 0 ||
        (stat(call->output, &found) == 0 && !S_ISREG(found.st_mode)))
        return TCR_EXIT_DONE;
    snprintf(text, sizeof text,
             "%s is written%s.\n"
             "Its notes say what to change first. How the set comes out:\n"
             "  %s check %s\n",
             tcr_quote(&set, call->output, strlen(call->output)),
             call->survey == NULL ? "; its lashes are drawn by chance, not measured"
                                  : ", and the survey that it names; its lashes are invented",
             tcr_program(), word);
    return tcr_print(text);
}

static int understand(void *context) {
    begin_call *call = context;
    if (call->output == NULL)
        return tcr_say_wrong("begin needs the name of the set file: %s begin -o my.yaml",
                             tcr_program());
    if (call->look != NULL && call->lengths != NULL)
        return tcr_say_wrong("--look and --lengths both give the map; leave one of them out");
    if (!understand_eyes(call) || !understand_lengths(call))
        return TCR_EXIT_WRONG;
    call->options.look = call->look;
    call->options.curl = call->curl;
    call->options.program = tcr_program_name();
    return TCR_EXIT_DONE;
}

static int run(int argc, char **argv) {
    begin_call call = {.options = tcr_begin_options_default()};
    const tcr_call_option options[] = {
        {"o", &call.output},      {"lengths", &call.lengths}, {"look", &call.look},
        {"layers", &call.layers}, {"curl", &call.curl},       {"eyes", &call.eyes},
        {"survey", &call.survey},
    };
    const tcr_call_words words = {.options = options, .count = sizeof options / sizeof *options};
    int exit_status;
    if (!tcr_call_start(HELP, argc, argv, &words, understand, &call, &exit_status))
        return exit_status;
    tcr_file_error error;
    if (tcr_begin_check(&call.options, &error) != TCR_OK) /* it begins with the option's name */
        return tcr_say_wrong(
            "--%s%s", error.message,
            has_comma_half(call.lengths)
                ? "; commas part the lengths, so half a millimetre has a point, 9.5"
                : "");
    if (tcr_begin_files(&call.options, call.output, call.survey, &error) != TCR_OK)
        return tcr_say_error(&error);
    return say_next(&call);
}

const tcr_command tcr_command_begin = {"begin", "writes a first set file to change, with notes",
                                       HELP, run};
