/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Prints the table of the command's options for programs that make something of it, such as
 * build-aux/completion.sh. One line for each option of each command, with tabs between: command,
 * option, what follows it ("flag", "file", "words" or "text"), what separates the items of a list
 * or "-", and the words with blanks between. A line "command NAME sets" says that it takes set
 * files.
 */
#include <stdio.h>
#include <string.h>

#include "cli/common.h"
#include "cli/option.h"

static const tcr_command *const COMMANDS[] = {
    &tcr_command_begin, &tcr_command_check, &tcr_command_draw, &tcr_command_why,
    &tcr_command_step,  &tcr_command_plan,  &tcr_command_study};

static const char *kind_of(const tcr_option *option) {
    static const char *const NAMES[] = {"FILE", "SET", "DIR", "PLANNED"};
    if (option->value == NULL || option->bare)
        return "flag";
    if (option->kind == TCR_OPTION_FILE)
        return "file";
    for (size_t i = 0; option->kind == TCR_OPTION_TEXT && i < sizeof NAMES / sizeof *NAMES; i++) {
        if (strncmp(option->value, NAMES[i], strlen(NAMES[i])) == 0)
            return "file";
    }
    return option->word != NULL ? "words" : "text";
}

static void print_option(const tcr_command *command, const tcr_option *option) {
    tcr_option_name name;
    const char *const kind = kind_of(option);
    printf("%s\t%s\t%s\t%c\t", command->name, tcr_option_named(&name, option), kind,
           option->separator != '\0' ? option->separator : '-');
    const char *blank = "";
    for (size_t i = 0; strcmp(kind, "words") == 0 && option->word(i) != NULL; i++) {
        printf("%s%s", blank, option->word(i));
        blank = " ";
    }
    putchar('\n');
}

int main(void) {
    for (size_t c = 0; c < sizeof COMMANDS / sizeof *COMMANDS; c++) {
        const tcr_option *option;
        printf("command\t%s\t%s\n", COMMANDS[c]->name,
               COMMANDS[c]->set == TCR_NO_SET ? "none" : "sets");
        for (size_t i = 0; (option = tcr_option_next(COMMANDS[c]->bit, &i)) != NULL;)
            print_option(COMMANDS[c], option);
    }
    return ferror(stdout) != 0;
}
