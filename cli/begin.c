/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest begin: writes a first set file, and a survey to fill in, to be changed by hand. */
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <tipcrest/begin.h>
#include <tipcrest/doubts.h>
#include <tipcrest/file.h>
#include <tipcrest/limits.h>
#include <tipcrest/text.h>

#include "common.h"
#include "output.h"
#include "signals.h"

static const char ABOUT[] =
    "Writes a first set file. Its notes say what each number is, where it comes from\n"
    "and what to change first. tipcrest check and plan read it without a change.\n"
    "On a terminal, begin without any option but -o asks a few questions.\n";

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

/* "8, 9 and 10" */
static void add_numbers(char *text, size_t size, const double *number, size_t count) {
    size_t used = strlen(text);
    for (size_t i = 0; i < count && used + TCR_NUMBER_SIZE + 5 < size; i++) {
        char one[TCR_NUMBER_SIZE];
        tcr_number_text(number[i], one);
        used += (size_t)snprintf(text + used, size - used, "%s%s",
                                 i == 0           ? ""
                                 : i + 1 == count ? " and "
                                                  : ", ",
                                 one);
    }
}

static bool are_alike(const double *numbers, size_t count) {
    for (size_t i = 1; i < count; i++)
        if (numbers[i] != numbers[0])
            return false;
    return true;
}

enum { FIT_SIZE = 900 };

/* The nearest zones that keep some of a look, and 1 mm less a layer, where lashes carry them. */
static void add_kept(const tcr_begin_options *o, const tcr_begin_fit *fit, char text[FIT_SIZE]) {
    tcr_begin_options tried = *o;
    tried.look = NULL;
    tried.zones = fit->zones;
    memcpy(tried.length_mm, fit->kept_mm, sizeof tried.length_mm);
    if (tcr_begin_try(&tried, NULL) != TCR_OK)
        return;
    strcat(text, fit->step_mm < 1.0 ? "Longer zones keep 1 mm less a layer: --lengths "
                                    : "Nearest with some of it: --lengths ");
    for (size_t i = 0; i < fit->zones; i++) {
        char one[TCR_NUMBER_SIZE];
        tcr_number_text(fit->kept_mm[i], one);
        const size_t used = strlen(text);
        snprintf(text + used, FIT_SIZE - used, "%s%s", i == 0 ? "" : ",", one);
    }
    strncat(text, "\n", FIT_SIZE - 1 - strlen(text));
}

/* What the tray made of map and layers, on one line; "" if nothing. */
static void say_fit(const tcr_begin_options *o, char text[FIT_SIZE]) {
    tcr_begin_fit fit;
    *text = '\0';
    if (!tcr_begin_fit_of(o, &fit))
        return;
    strcpy(text, "The tray lacks ");
    if (fit.lacking > 0) {
        add_numbers(text, FIT_SIZE / 2, fit.lacking_mm, fit.lacking);
        strcat(text, " mm");
    } else {
        strcat(text, "the lengths");
    }
    strcat(text, " for 1 mm less a layer");
    if (fit.step_mm == 0.0 && o->zones == 0 && are_alike(fit.length_mm, fit.zones)) {
        strcat(text, ", so all layers have\n  equal lengths, and all zones too: nothing of the "
                     "look is left.\n");
    } else if (fit.step_mm == 0.0) {
        strcat(text, ", so all layers have equal lengths.\n");
    } else if (fit.step_mm < 1.0) {
        strcat(text, ", so each layer is ");
        add_numbers(text, FIT_SIZE, &fit.step_mm, 1);
        strcat(text, " mm shorter.\n");
    } else {
        strcat(text, " with\n  the look as it is, so its zones have ");
        add_numbers(text, FIT_SIZE - 60, fit.length_mm, fit.zones);
        strcat(text, are_alike(fit.length_mm, fit.zones) ? " mm:\n  nothing of the look is left.\n"
                                                         : " mm.\n");
    }
    if (fit.keeps)
        add_kept(o, &fit, text);
}

enum { DOUBTS_SIZE = TCR_DOUBTS_MAX * 100 + 200 };

static int keep(void *context, const void *bytes, size_t count) {
    char *text = context;
    const size_t length = strlen(text);
    if (count >= DOUBTS_SIZE - length)
        return 1;
    memcpy(text + length, bytes, count);
    text[length + count] = '\0';
    return 0;
}

/* Says how many extensions of both eyes are beyond plan's limits. */
static void add_beyond(const tcr_check *check, char text[DOUBTS_SIZE]) {
    const tcr_limits limits = tcr_limits_default();
    const tcr_set *set = tcr_check_set(check);
    size_t extended = 0, beyond = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        for (size_t i = 0; eye != NULL && i < eye->lashes; i++) {
            const tcr_lash_result *lash = &eye->lash[i];
            if (lash->status != TCR_OK)
                continue;
            extended++;
            beyond += tcr_limits_beyond(&limits, set, tcr_set_lash(set, eye->side, i),
                                        &lash->stance, &lash->choice) != 0;
        }
    }
    const size_t used = strlen(text);
    if (beyond > 0)
        snprintf(text + used, DOUBTS_SIZE - used,
                 "Beyond the limits that plan assumes of a lash: %zu of %zu extensions.\n"
                 "  A plan keeps to them; so may shorter or thinner ones.\n",
                 beyond, extended);
}

/* What is doubtful about the set that was written, such as a lid in centimetres, or lashes that
 * carry too much; "" if nothing. TCR_E_MEMORY; a file that may be written and not read keeps its
 * doubts. */
static tcr_status say_doubts(const char *path, char text[DOUBTS_SIZE], tcr_error *error) {
    tcr_set_file *file = NULL;
    tcr_check *check = NULL;
    *text = '\0';
    tcr_status status = tcr_set_file_read(path, NULL, &file, error);
    if (status == TCR_OK) {
        (void)tcr_report_doubts(tcr_set_file_set(file), keep, text);
        status = tcr_set_file_check(file, NULL, &check, error);
    }
    if (status == TCR_OK)
        add_beyond(check, text);
    tcr_check_free(check);
    tcr_set_file_free(file);
    return status == TCR_E_MEMORY ? status : TCR_OK;
}

/* Says what to do next, unless the set file itself went where this would go. */
static int say_next(const tcr_call *call, const tcr_begin_options *o) {
    enum { TEXT_SIZE = 2000 + DOUBTS_SIZE, COLUMNS = 60 };
    const char *path = call->output.text;
    char text[TEXT_SIZE], shown[4 * COLUMNS], word[TCR_SHELL_WORD_SIZE] = "SET";
    char fit[FIT_SIZE], doubts[DOUBTS_SIZE];
    struct stat found;
    tcr_error error = {.status = TCR_OK};
    if (strcmp(path, "-") == 0 || (stat(path, &found) == 0 && !S_ISREG(found.st_mode)))
        return TCR_EXIT_DONE;
    tcr_printable(path, COLUMNS, shown, sizeof shown);
    (void)tcr_shell_word(path, word, sizeof word);
    say_fit(o, fit);
    if (say_doubts(path, doubts, &error) != TCR_OK)
        return tcr_say_error(&error);
    snprintf(text, sizeof text,
             "\"%s\" is written%s.\n"
             "%s%s"
             "Its notes say what to change first. How the set comes out:\n"
             "  %s check %s\n",
             shown,
             call->survey.text == NULL ? "; its lashes are drawn by chance, not measured"
                                       : ", and the survey that it names; its lashes are invented",
             fit, doubts, tcr_program(), word);
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
    o->title = call->title.text;
    o->count = (size_t)tcr_value_or(&call->count, 0.0);
    o->lash_mm = tcr_value_or(&call->length, o->lash_mm);
    o->mrd1_mm = tcr_value_or(&call->mrd1, o->mrd1_mm);
    o->mrd1_right_mm = tcr_value_or(&call->mrd1_right, o->mrd1_right_mm);
    o->diameter_mm = tcr_value_or(&call->diameter, o->diameter_mm);
    o->tray_lengths = call->tray.count;
    memcpy(o->tray_mm, call->tray.number, o->tray_lengths * sizeof *o->tray_mm);
    o->decimal_comma = tcr_csv_options_of(call).decimal_comma;
    o->program = tcr_program_name();
}

/* ---- The conversation ---------------------------------------------------------------- */

enum { QUESTIONS_MAX = 10, LINE_SIZE = 1200 };

/* A person is there to ask, and has given nothing but the name of the file. */
static bool is_to_ask(const tcr_call *call) {
    const tcr_value *const given[] = {
        &call->lengths,    &call->look,  &call->layers,  &call->curl,   &call->eyes,
        &call->survey,     &call->title, &call->count,   &call->length, &call->mrd1,
        &call->mrd1_right, &call->tray,  &call->diameter};
    for (size_t i = 0; i < sizeof given / sizeof *given; i++)
        if (given[i]->text != NULL)
            return false;
    return isatty(STDIN_FILENO) && isatty(STDERR_FILENO);
}

/* Reads a line; false at the end of input. A line that is too long becomes one that no question
 * takes as it is. */
static bool read_line(char line[LINE_SIZE]) {
    if (fgets(line, LINE_SIZE, stdin) == NULL)
        return false;
    while (strchr(line, '\n') == NULL) {
        char more[LINE_SIZE];
        if (fgets(more, sizeof more, stdin) == NULL)
            return feof(stdin) != 0 && !ferror(stdin) && *line != '\0';
        if (strchr(more, '\n') != NULL)
            break;
    }
    return true;
}

/* Asks one question until its answer will do; false at the end of input. */
static bool ask(tcr_begin_options *o, const tcr_begin_question *question, size_t i,
                char line[LINE_SIZE]) {
    char usual[TCR_BEGIN_ANSWER_SIZE] = "";
    tcr_error error;
    (void)tcr_begin_usual(o, i, usual);
    for (;;) {
        fprintf(stderr, "%s [%s]: ", question->text, usual);
        if (!read_line(line))
            return false;
        if (tcr_begin_answer(o, i, line, &error) == TCR_OK)
            return true;
        fprintf(stderr, "  %s\n", error.message);
    }
}

/* An exit status. The answers must live as long as the options. */
static int ask_all(tcr_begin_options *o, char answer[QUESTIONS_MAX][LINE_SIZE]) {
    size_t count;
    const tcr_begin_question *question = tcr_begin_questions(&count);
    fprintf(stderr,
            "%zu questions. Enter takes what stands in brackets; Ctrl-C ends without a "
            "file.\n",
            count);
    for (size_t i = 0; i < count && i < QUESTIONS_MAX; i++)
        if (!ask(o, &question[i], i, answer[i])) {
            fputc('\n', stderr);
            tcr_say("the input ended before the last answer; nothing is written");
            return TCR_EXIT_FAILED;
        }
    return TCR_EXIT_DONE;
}

/* ---- The files ----------------------------------------------------------------------- */

/* Whether a set file could be written to a path now. */
static tcr_status place(const char *path, tcr_error *error) {
    tcr_outputs *outputs = NULL;
    if (tcr_new_outputs(&outputs) != TCR_OK)
        return tcr_fill_error(error, TCR_E_MEMORY, path);
    const tcr_status status = tcr_begin_place(path, outputs, error);
    tcr_free_outputs(outputs);
    return status;
}

static tcr_status put_files(const tcr_call *call, const tcr_begin_options *o, tcr_error *error) {
    tcr_outputs *outputs = NULL;
    if (tcr_new_outputs(&outputs) != TCR_OK)
        return tcr_fill_error(error, TCR_E_MEMORY, call->output.text);
    tcr_status status = tcr_begin_files(o, call->output.text, call->survey.text, outputs, error);
    if (status == TCR_OK)
        status = tcr_commit_outputs(outputs, error);
    tcr_free_outputs(outputs);
    return status;
}

static int run(const tcr_call *call) {
    tcr_begin_options options = tcr_begin_options_default();
    char answer[QUESTIONS_MAX][LINE_SIZE];
    tcr_error error = {.status = TCR_OK};
    if (call->look.text != NULL && call->lengths.text != NULL)
        return tcr_say_wrong("--look and --lengths both give the map; leave one of them out");
    understand(call, &options);
    if (is_to_ask(call)) {
        if (place(call->output.text, &error) != TCR_OK)
            return tcr_say_error(&error);
        const int asked = ask_all(&options, answer);
        if (asked != TCR_EXIT_DONE)
            return asked;
    } else if (tcr_begin_try(&options, &error) == TCR_E_MEMORY) {
        return tcr_say_error(&error);
    } else if (error.status != TCR_OK) /* the message begins with the option's name */
        return tcr_say_wrong(
            "--%s%s", error.message,
            has_comma_half(call->lengths.text)
                ? "; commas separate the lengths, so write half a millimetre with a point: 9.5"
                : "");
    if (call->survey.text == NULL && tcr_begin_find_seeds(&options, options.seed, &error) != TCR_OK)
        return tcr_say_error(&error);
    if (put_files(call, &options, &error) != TCR_OK)
        return tcr_say_error(&error);
    return say_next(call, &options);
}

const tcr_command tcr_command_begin = {
    "begin", TCR_BIT_BEGIN, TCR_NO_SET, "writes a first set file to change, with notes",
    ABOUT,   NOTES,         run};
