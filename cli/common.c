/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the subcommands share: messages, exit status, standard output. */
#include "common.h"

#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/text.h>

const tcr_command *const tcr_commands[TCR_COMMANDS] = {
    &tcr_command_begin, &tcr_command_check, &tcr_command_draw, &tcr_command_why,
    &tcr_command_step,  &tcr_command_plan,  &tcr_command_study};

enum { MESSAGE_SIZE = 6000 }; /* a path and what is wrong with it */

bool tcr_shell_word(const char *word, char *out, size_t size) {
    static const char QUOTED[] = " \t!\"#$&()*;<>?[\\]^`{|}~";
    char shown[TCR_SHELL_WORD_SIZE];
    tcr_printable(word, INT_MAX, shown, sizeof shown);
    if (*word == '\0' || *word == '-' || strlen(word) + sizeof "''" > size ||
        strchr(word, '\'') != NULL || strcmp(word, shown) != 0)
        return false;
    const char *quote = strpbrk(word, QUOTED) == NULL ? "" : "'";
    snprintf(out, size, "%s%s%s", quote, word, quote);
    return true;
}

const char *tcr_base_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash != NULL ? slash + 1 : path;
}

static char program[TCR_SHELL_WORD_SIZE] = "tipcrest";
static char program_name[TCR_SHELL_WORD_SIZE] = "tipcrest";

void tcr_set_program(const char *called) {
    if (called == NULL || !tcr_shell_word(called, program, sizeof program))
        return;
    (void)tcr_shell_word(tcr_base_name(called), program_name, sizeof program_name);
}

const char *tcr_program(void) { return program; }

const char *tcr_program_name(void) { return program_name; }

static void say(const char *command, const char *format, va_list arguments) {
    char message[MESSAGE_SIZE], safe[2 * MESSAGE_SIZE];
    vsnprintf(message, sizeof message, format, arguments);
    tcr_printable(message, INT_MAX, safe, sizeof safe);
    fprintf(stderr, "tipcrest%s%s: %s\n", *command != '\0' ? " " : "", command, safe);
}

void tcr_say(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    say("", format, arguments);
    va_end(arguments);
}

static const char *command_at_work = "";

void tcr_set_command(const char *name) { command_at_work = name; }

int tcr_say_wrong(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    say(command_at_work, format, arguments);
    va_end(arguments);
    return TCR_EXIT_WRONG;
}

int tcr_exit_for(tcr_status status) {
    switch (status) {
    case TCR_OK:
        return TCR_EXIT_DONE;
    case TCR_E_OPEN:
    case TCR_E_WRITE:
    case TCR_E_MEMORY:
    case TCR_E_NO_CONVERGENCE:
    case TCR_E_NO_SOLUTION:
    case TCR_E_STOPPED:
    case TCR_E_FONT:
        return TCR_EXIT_FAILED;
    default:
        return TCR_EXIT_WRONG;
    }
}

tcr_status tcr_fill_error(tcr_error *error, tcr_status status, const char *path) {
    *error = tcr_error_none();
    error->status = status;
    tcr_printable(path, INT_MAX, error->path, sizeof error->path);
    snprintf(error->message, sizeof error->message, "%s",
             status == TCR_E_MEMORY ? "there is not enough memory" : tcr_status_text(status));
    return status;
}

int tcr_say_error(const tcr_error *error) {
    if (error->path[0] == '\0')
        tcr_say("%s", error->message);
    else if (error->line == 0)
        tcr_say("%s: %s", error->path, error->message);
    else if (error->column == 0)
        tcr_say("%s:%lu: %s", error->path, error->line, error->message);
    else
        tcr_say("%s:%lu:%lu: %s", error->path, error->line, error->column, error->message);
    return tcr_exit_for(error->status);
}

int tcr_print(const char *text) {
    tcr_outputs *outputs;
    tcr_error error = {.status = tcr_outputs_new(NULL, &outputs)};
    if (error.status != TCR_OK) {
        tcr_say("%s", tcr_status_text(error.status));
        return tcr_exit_for(error.status);
    }
    size_t index;
    tcr_status status = tcr_outputs_add(outputs, "-", &index, &error);
    if (status == TCR_OK) {
        tcr_outputs_write(outputs, index, text, strlen(text)); /* commit tells what went wrong */
        status = tcr_outputs_commit(outputs, &error);
    }
    tcr_outputs_free(outputs);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(&error);
}

void tcr_guard_descriptors(void) {
    for (int fd = 0; fd <= 2; fd++) {
        if (fcntl(fd, F_GETFD) >= 0)
            continue;
        /* For reading only: what is written to a closed standard output has to fail. */
        if (open("/dev/null", O_RDONLY) < 0) /* NO_BRANCH: a system without devices */
            (void)open("/", O_RDONLY);
    }
}
