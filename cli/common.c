/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the subcommands share: messages, exit status, numbers of options, standard output. */
#include "common.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "num/number.h"
#include "num/printable.h"

enum { MESSAGE_SIZE = 6000 }; /* a path and what is wrong with it */

bool tcr_shell_word(const char *word, char *out, size_t size) {
    static const char PLAIN[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
                                "/._-+,:@%=";
    const size_t bytes = strlen(word);
    if (bytes == 0 || *word == '-' || bytes + sizeof "''" > size)
        return false;
    bool plain = true;
    for (const char *at = word; *at != '\0';) {
        uint32_t code;
        at += tcr_utf8_next(at, &code);
        if (tcr_utf8_is_unsafe(code) || code == '\'')
            return false;
        plain = plain && (code >= 0x80 || strchr(PLAIN, (int)code) != NULL);
    }
    const char *quote = plain ? "" : "'";
    snprintf(out, size, "%s%s%s", quote, word, quote);
    return true;
}

static char program[TCR_SHELL_WORD_SIZE] = "tipcrest";
static char program_name[TCR_SHELL_WORD_SIZE] = "tipcrest";

void tcr_set_program(const char *called) {
    if (called == NULL || !tcr_shell_word(called, program, sizeof program))
        return;
    const char *folder = strrchr(called, '/');
    (void)tcr_shell_word(folder == NULL ? called : folder + 1, program_name, sizeof program_name);
}

const char *tcr_program(void) { return program; }

const char *tcr_program_name(void) { return program_name; }

static void say(const char *format, va_list arguments) {
    char message[MESSAGE_SIZE], safe[2 * MESSAGE_SIZE];
    vsnprintf(message, sizeof message, format, arguments);
    tcr_printable(message, INT_MAX, safe, sizeof safe);
    fprintf(stderr, "tipcrest: %s\n", safe);
}

void tcr_say(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    say(format, arguments);
    va_end(arguments);
}

int tcr_say_wrong(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    say(format, arguments);
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
        return TCR_EXIT_FAILED;
    default:
        return TCR_EXIT_WRONG;
    }
}

int tcr_say_error(const tcr_file_error *error) {
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
    tcr_file_error error = {.status = tcr_outputs_new(NULL, &outputs)};
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

bool tcr_option_number(const char *option, const char *text, double low, double high,
                       const char *range, double *value) {
    const size_t bytes = strlen(text);
    double number;
    if (tcr_number_parse(text, bytes, &number) && number >= low && number <= high) {
        *value = number;
        return true;
    }
    char point[TCR_NUMBER_SIZE];
    if (strchr(text, ',') != NULL && tcr_number_parse_comma(text, bytes, &number)) {
        tcr_number_text(number, point);
        tcr_say("%s is \"%s\" with a decimal comma; write %s", option, text, point);
    } else {
        tcr_say("%s is \"%s\"; it needs %s", option, text, range);
    }
    return false;
}

void tcr_guard_descriptors(void) {
    for (int fd = 0; fd <= 2; fd++) {
        if (fcntl(fd, F_GETFD) >= 0 || errno != EBADF)
            continue;
        /* For reading only: what is written to a closed standard output has to fail. */
        if (open("/dev/null", O_RDONLY) < 0)
            (void)open("/", O_RDONLY);
    }
}
