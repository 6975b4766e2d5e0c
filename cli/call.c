/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a call, by getopt_long, and what is wrong with them in plain words. */
#include "call.h"

#include <getopt.h>
#include <stdio.h>
#include <string.h>

#include "common.h"

/* What getopt_long returns: HELP, the number of an option from FIRST on, of a flag from FLAG on. */
enum { HELP = 256, FIRST, FLAG = FIRST + TCR_CALL_OPTIONS_MAX };

typedef struct reading {
    const char *command;
    const tcr_call_option *options;
    size_t count;
    const tcr_call_flag *flags;
    size_t flag_count;
    const tcr_call_option *last; /* that got a value from the word before; NULL: none */
    char letters[4 + 2 * TCR_CALL_OPTIONS_MAX];
    struct option words[TCR_CALL_OPTIONS_MAX + TCR_CALL_FLAGS_MAX + 2];
} reading;

static bool is_letter(const tcr_call_option *option) { return option->name[1] == '\0'; }

/* "-" in front: operands are told where they stand, also where POSIXLY_CORRECT is set. */
static void prepare(reading *r) {
    size_t word = 0, letter = (size_t)snprintf(r->letters, sizeof r->letters, "-:h");
    for (size_t i = 0; i < r->count; i++) {
        if (is_letter(&r->options[i])) {
            r->letters[letter++] = r->options[i].name[0];
            r->letters[letter++] = ':';
        } else {
            r->words[word++] =
                (struct option){r->options[i].name, required_argument, NULL, (int)(FIRST + i)};
        }
    }
    for (size_t i = 0; i < r->flag_count; i++)
        r->words[word++] = (struct option){r->flags[i].name, no_argument, NULL, (int)(FLAG + i)};
    r->words[word] = (struct option){"help", no_argument, NULL, HELP};
}

/* The option that getopt_long means by a number or a letter, or NULL. */
static const tcr_call_option *option_of(const reading *r, int result) {
    if (result >= FIRST && result < FLAG)
        return &r->options[result - FIRST];
    for (size_t i = 0; i < r->count; i++)
        if (is_letter(&r->options[i]) && r->options[i].name[0] == result)
            return &r->options[i];
    return NULL;
}

static const char *dashes(const tcr_call_option *option) { return is_letter(option) ? "-" : "--"; }

static int say_unknown(const reading *r, const char *text) {
    const char *names[TCR_CALL_OPTIONS_MAX + TCR_CALL_FLAGS_MAX + 1] = {"help"};
    size_t known = 1;
    for (size_t i = 0; i < r->count; i++)
        names[known++] = r->options[i].name;
    for (size_t i = 0; i < r->flag_count; i++)
        names[known++] = r->flags[i].name;
    const char *name = text + strspn(text, "-");
    const char *meant = tcr_suggest(name, strcspn(name, "="), names, known);
    if (meant != NULL)
        return tcr_say_wrong("%s has no option \"%s\"; perhaps %s%s was meant", r->command, text,
                             meant[1] == '\0' ? "-" : "--", meant);
    return tcr_say_wrong("%s has no option \"%s\"; %s help %s lists them", r->command, text,
                         tcr_program(), r->command);
}

/* What getopt_long did not understand. */
static int say_misunderstood(const reading *r, int result, char *const *argv) {
    const tcr_call_option *option = option_of(r, optopt);
    if (result == ':' && option != NULL)
        return tcr_say_wrong("%s%s needs a value behind it; %s help %s says which", dashes(option),
                             option->name, tcr_program(), r->command);
    if (optopt == HELP)
        return tcr_say_wrong("--help takes no value");
    if (optopt >= FLAG)
        return tcr_say_wrong("--%s takes no value", r->flags[optopt - FLAG].name);
    if (optopt == 0)
        return say_unknown(r, argv[optind - 1]);
    const char letter[] = {'-', (char)optopt, '\0'};
    return say_unknown(r, letter);
}

/* Bytes of a long dash or a minus sign in front, as word processors make of --; 0 if none. */
static size_t long_dash(const char *word) {
    static const char *const DASHES[] = {"\xE2\x80\x93", "\xE2\x80\x94", "\xE2\x88\x92"};
    for (size_t i = 0; i < sizeof DASHES / sizeof *DASHES; i++)
        if (strncmp(word, DASHES[i], strlen(DASHES[i])) == 0)
            return strlen(DASHES[i]);
    return 0;
}

/* A word where only options may stand: what it was meant for hangs on what came before. */
static int say_no_option(const reading *r, const char *word) {
    const tcr_call_option *last = r->last;
    if (last != NULL && !is_letter(last))
        return tcr_say_wrong("%s takes options only, and \"%s\" is none; if it belongs to --%s, "
                             "put all of it in quotes, or leave out the blanks",
                             r->command, word, last->name);
    for (size_t i = 0; i < r->count; i++)
        if (is_letter(&r->options[i]) && *r->options[i].value == NULL)
            return tcr_say_wrong("%s takes options only, and \"%s\" is none; to write that file, "
                                 "put -%s in front of it",
                                 r->command, word, r->options[i].name);
    return tcr_say_wrong("%s takes options only, and \"%s\" is none; %s help %s lists them",
                         r->command, word, tcr_program(), r->command);
}

static int take_operand(const reading *r, const char **operand, const char *word) {
    const size_t dash = long_dash(word);
    if (dash > 0)
        return tcr_say_wrong("\"%s\" begins with a long dash; write it with two hyphens, --%s",
                             word, word + dash + strspn(word + dash, "-"));
    if (operand == NULL)
        return say_no_option(r, word);
    if (*operand != NULL)
        return tcr_say_wrong("%s takes one file, and \"%s\" is one too many", r->command, word);
    *operand = word;
    return TCR_EXIT_DONE;
}

static int take_value(const reading *r, const tcr_call_option *option, const char *value) {
    if (*option->value != NULL)
        return tcr_say_wrong("%s%s is given twice", dashes(option), option->name);
    if (*value == '\0')
        return tcr_say_wrong("%s%s has an empty value; %s help %s says what it needs",
                             dashes(option), option->name, tcr_program(), r->command);
    *option->value = value;
    return TCR_EXIT_DONE;
}

static int take_flag(const tcr_call_flag *flag) {
    if (*flag->set)
        return tcr_say_wrong("--%s is given twice", flag->name);
    *flag->set = true;
    return TCR_EXIT_DONE;
}

int tcr_call_read(const char *command, int argc, char **argv, const tcr_call_option *options,
                  size_t count, const char **operand, bool *help) {
    return tcr_call_read_flags(command, argc, argv, options, count, NULL, 0, operand, help);
}

bool tcr_call_start(const char *help_page, int argc, char **argv, const tcr_call_words *words,
                    int (*understand)(void *call), void *call, int *exit_status) {
    bool help = false;
    *exit_status = tcr_call_read_flags(argv[0], argc, argv, words->options, words->count,
                                       words->flags, words->flag_count, words->operand, &help);
    if (*exit_status == TCR_EXIT_DONE && help) {
        *exit_status = tcr_print(help_page);
        return false;
    }
    if (*exit_status == TCR_EXIT_DONE)
        *exit_status = understand(call);
    return *exit_status == TCR_EXIT_DONE;
}

int tcr_call_read_flags(const char *command, int argc, char **argv, const tcr_call_option *options,
                        size_t count, const tcr_call_flag *flags, size_t flag_count,
                        const char **operand, bool *help) {
    reading r = {.command = command,
                 .options = options,
                 .count = count,
                 .flags = flags,
                 .flag_count = flag_count};
    int status = TCR_EXIT_DONE, result;
    prepare(&r);
    opterr = 0;
    while (status == TCR_EXIT_DONE &&
           (result = getopt_long(argc, argv, r.letters, r.words, NULL)) != -1) {
        if (result == 1)
            status = take_operand(&r, operand, optarg);
        else if (result == 'h' || result == HELP)
            *help = true;
        else if (result == '?' || result == ':')
            status = say_misunderstood(&r, result, argv);
        else if (result >= FLAG)
            status = take_flag(&r.flags[result - FLAG]);
        else
            status = take_value(&r, option_of(&r, result), optarg);
        r.last = result < FLAG && result != 1 ? option_of(&r, result) : NULL;
    }
    while (status == TCR_EXIT_DONE && optind < argc)
        status = take_operand(&r, operand, argv[optind++]);
    return status;
}
