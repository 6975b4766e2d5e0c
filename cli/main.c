/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line: the table of subcommands, help, version. */
#include "common.h"
#include "signals.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/text.h>
#include <tipcrest/version.h>

enum { HELP_SIZE = 3000 };

static int print_help(void) {
    char text[HELP_SIZE];
    int used =
        snprintf(text, sizeof text,
                 "usage: tipcrest COMMAND ...\n"
                 "\n"
                 "tipcrest computes how a set of eyelash extensions looks with the eye open.\n"
                 "\n");
    for (int i = 0; i < TCR_COMMANDS; i++)
        used += snprintf(text + used, sizeof text - (size_t)used, "  %-10s%s\n",
                         tcr_commands[i]->name, tcr_commands[i]->brief);
    snprintf(text + used, sizeof text - (size_t)used,
             "\n"
             "  %s help COMMAND   all options of a command\n"
             "  %s --version      the version\n",
             tcr_program_name(), tcr_program_name());
    return tcr_print(text);
}

/* The command of a name, or NULL after it was said what might be meant. */
static const tcr_command *find_command(const char *name) {
    const char *names[TCR_COMMANDS];
    for (int i = 0; i < TCR_COMMANDS; i++) {
        names[i] = tcr_commands[i]->name;
        if (strcmp(name, names[i]) == 0)
            return tcr_commands[i];
    }
    const char *meant = tcr_suggest(name, strlen(name), names, TCR_COMMANDS);
    if (meant != NULL)
        tcr_say("there is no command \"%s\"; perhaps %s was meant", name, meant);
    else
        tcr_say("there is no command \"%s\"; %s --help lists them", name, tcr_program());
    return NULL;
}

static int run_help(int argc, char **argv) {
    if (argc > 2)
        return tcr_say_wrong("help takes one command, and \"%s\" is one too many", argv[2]);
    if (argc < 2)
        return print_help();
    const tcr_command *command = find_command(argv[1]);
    return command != NULL ? tcr_print_help(command) : TCR_EXIT_WRONG;
}

static int run(const tcr_command *command, int argc, char **argv) {
    tcr_call call;
    bool help;
    tcr_set_command(command->name);
    const int exit_status = tcr_call_read(command, argc, argv, &call, &help);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    return help ? tcr_print_help(command) : command->run(&call);
}

int main(int argc, char **argv) {
    tcr_guard_descriptors();
    tcr_set_program(argv[0]); /* NULL where there is no word at all */
    tcr_catch_signals();
    /* Writing to a reader that has gone, or beyond a limit, is to fail, not to kill. */
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
    if (argc < 2)
        return tcr_say_wrong("a command is missing; %s --help lists them", tcr_program());
    const char *first = argv[1];
    const bool is_help = strcmp(first, "--help") == 0 || strcmp(first, "-h") == 0;
    const bool is_version = strcmp(first, "--version") == 0;
    if ((is_help || is_version) && argc > 2)
        return tcr_say_wrong("%s takes no argument; \"%s\" is one too many", first, argv[2]);
    if (is_help)
        return print_help();
    if (is_version)
        return tcr_print("tipcrest " TCR_VERSION "\n");
    if (strcmp(first, "help") == 0)
        return run_help(argc - 1, argv + 1);
    if (first[0] == '-')
        return tcr_say_wrong("a command comes first, not \"%s\"; %s --help lists them", first,
                             tcr_program());
    const tcr_command *command = find_command(first);
    return command != NULL ? run(command, argc - 1, argv + 1) : TCR_EXIT_WRONG;
}
