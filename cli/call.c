/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a call, read by getopt_long and held against the table of options. */
#include "call.h"

#include <ctype.h>
#include <getopt.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include <tipcrest/text.h>

#include "common.h"

/* What getopt_long returns: HELP, or FIRST and the place of an option among the command's. */
enum { HELP = 256, FIRST, OPTIONS_MAX = 32, WORDS_MAX = 64 };

typedef struct reading {
    const tcr_command *command;
    tcr_call *call;
    size_t count;
    const tcr_option *option[OPTIONS_MAX];
    const tcr_option *last; /* with a value from the word before; NULL: none */
    char letters[4 + 2 * OPTIONS_MAX];
    struct option words[OPTIONS_MAX + 2];
} reading;

static tcr_value *value_of(const reading *r, const tcr_option *option) {
    return (tcr_value *)(void *)((char *)r->call + option->member);
}

/* Whether getopt_long is to expect a value. */
static int argument_of(const tcr_option *o) {
    if (o->value == NULL)
        return no_argument;
    return o->bare ? optional_argument : required_argument;
}

/* "-" in front: operands are reported in their order, also where POSIXLY_CORRECT is set. */
static void prepare(reading *r) {
    size_t word = 0, letter = (size_t)snprintf(r->letters, sizeof r->letters, "-:h"), next = 0;
    const tcr_option *o;
    while (r->count < OPTIONS_MAX && (o = tcr_option_next(r->command->bit, &next)) != NULL) {
        if (o->name[1] == '\0') {
            r->letters[letter++] = o->name[0];
            r->letters[letter++] = ':';
        } else {
            r->words[word++] =
                (struct option){o->name, argument_of(o), NULL, (int)(FIRST + r->count)};
        }
        r->option[r->count++] = o;
    }
    r->words[word] = (struct option){"help", no_argument, NULL, HELP};
}

/* The option that getopt_long means by a number or a letter, or NULL. */
static const tcr_option *option_of(const reading *r, int result) {
    if (result >= FIRST)
        return r->option[result - FIRST];
    for (size_t i = 0; i < r->count; i++)
        if (r->option[i]->name[1] == '\0' && r->option[i]->name[0] == result)
            return r->option[i];
    return NULL;
}

/* ---- Values -------------------------------------------------------------------------- */

/* How a message begins, "--at is 2, but" or "--fans has 2.5; each": an option, and its value or one
 * of its list. */
typedef struct found {
    char text[400];
} found;

static const char *say_found(found *out, const tcr_option *o, const char *quote, const char *text,
                             size_t bytes) {
    tcr_option_name name;
    const bool list = o->separator != '\0';
    snprintf(out->text, sizeof out->text, "%s %s %s%.*s%s%s", tcr_option_named(&name, o),
             list ? "has" : "is", quote, (int)(bytes < 200 ? bytes : 200), text, quote,
             list ? "; each" : ", but");
    return out->text;
}

static bool read_number(const tcr_option *o, const char *text, size_t bytes, double *number) {
    found start;
    tcr_range_text range_text;
    char point[TCR_NUMBER_SIZE];
    const char *whole = o->kind == TCR_OPTION_COUNT ? "whole " : "";
    const char *or_word = o->word != NULL ? ", or all" : "";
    const tcr_range range = tcr_option_range(o);
    tcr_option_range_text(&range_text, o, " to ");
    if (!tcr_number_parse(text, bytes, number)) {
        say_found(&start, o, "\"", text, bytes);
        if (memchr(text, ',', bytes) != NULL && tcr_number_parse_comma(text, bytes, number)) {
            tcr_number_text(*number, point);
            tcr_say_wrong("%s needs a decimal point: %s", start.text, point);
        } else {
            tcr_say_wrong("%s must be a %snumber from %s%s", start.text, whole, range_text.text,
                          or_word);
        }
        return false;
    }
    say_found(&start, o, "", text, bytes);
    if (o->kind == TCR_OPTION_COUNT && *number != floor(*number))
        tcr_say_wrong("%s must be a whole number from %s%s", start.text, range_text.text, or_word);
    else if (*number < range.least || *number > range.most)
        tcr_say_wrong("%s must be from %s%s", start.text, range_text.text, or_word);
    else
        return true;
    return false;
}

int tcr_say_unknown(const char *option, bool of_list, const char *value, const char *const *words,
                    size_t count) {
    char list[400] = "";
    size_t used = 0;
    const char *meant = tcr_suggest(value, strlen(value), words, count);
    const char *verb = of_list ? "has" : "is";
    if (meant != NULL)
        return tcr_say_wrong("%s %s \"%s\"; perhaps %s was meant", option, verb, value, meant);
    for (size_t i = 0; i < count && used < sizeof list; i++)
        used += (size_t)snprintf(list + used, sizeof list - used, "%s%s",
                                 i == 0           ? ""
                                 : i + 1 == count ? " or "
                                                  : ", ",
                                 words[i]);
    return tcr_say_wrong("%s %s \"%s\"; %s is %s", option, verb, value, of_list ? "each" : "it",
                         list);
}

int tcr_find_curl(const tcr_set *set, const char *option, bool of_list, const char *label,
                  size_t *index) {
    const char *labels[WORDS_MAX];
    size_t count = tcr_set_curl_count(set);
    if (tcr_set_find_curl(set, label, index) == TCR_OK)
        return TCR_EXIT_DONE;
    count = count < WORDS_MAX ? count : WORDS_MAX;
    for (size_t i = 0; i < count; i++)
        labels[i] = tcr_set_curl(set, i)->label;
    return tcr_say_unknown(option, of_list, label, labels, count);
}

const char *tcr_next_value(const char **at, char separator, size_t *bytes) {
    const char marks[] = {separator, '\0'}, *text = *at + strspn(*at, " ");
    *at = text + strcspn(text, marks);
    for (*bytes = (size_t)(*at - text); *bytes > 0 && text[*bytes - 1] == ' ';)
        --*bytes;
    return text;
}

static bool are_values(const tcr_list_form *form, const char *list) {
    for (;; list++) {
        size_t bytes;
        const char *text = tcr_next_value(&list, form->separator, &bytes);
        if (!form->is_value(form->context, text, bytes))
            return false;
        if (*list == '\0')
            return true;
    }
}

bool tcr_say_separator(const tcr_list_form *form, const char *list) {
    static const char MARKS[] = ";/-, ";
    char fixed[200];
    const size_t bytes = strlen(list);
    const char *mark = MARKS;
    while (*mark != '\0' && (*mark == form->separator || strchr(list, *mark) == NULL))
        mark++;
    /* Beside ; and / a comma is decimal, as in spreadsheets: "9,5;10". */
    const bool decimal = form->numbers && (*mark == ';' || *mark == '/') && strchr(list, ',');
    if (*mark == '\0' || bytes >= sizeof fixed || are_values(form, list) ||
        (strchr(list, form->separator) != NULL && !(decimal && form->separator == ',')) ||
        (form->runs && *mark == '-' && strchr(list, '-') == strrchr(list, '-')))
        return false;
    for (size_t i = 0; i <= bytes; i++)
        fixed[i] = (char)(list[i] == *mark            ? form->separator
                          : decimal && list[i] == ',' ? '.'
                                                      : list[i]);
    if (!are_values(form, fixed))
        return false;
    tcr_say_wrong("%s is \"%s\"; separate its values by %s%s: %s", form->option, list,
                  form->separator == ',' ? "commas" : "/",
                  decimal ? ", with a point in a number" : "", fixed);
    return true;
}

static bool find_word(const tcr_option *o, const char *text, size_t bytes, size_t *place) {
    const char *word;
    for (*place = 0; (word = o->word(*place)) != NULL; ++*place)
        if (strlen(word) == bytes && memcmp(word, text, bytes) == 0)
            return true;
    return false;
}

static bool read_word(const tcr_option *o, const char *text, size_t bytes, double *number) {
    const char *words[WORDS_MAX];
    size_t count = 0;
    if (find_word(o, text, bytes, &count)) {
        *number = (double)count;
        return true;
    }
    for (count = 0; count < WORDS_MAX && (words[count] = o->word(count)) != NULL;)
        count++;
    char value[200];
    tcr_option_name name;
    snprintf(value, sizeof value, "%.*s", (int)(bytes < sizeof value ? bytes : 0), text);
    tcr_say_unknown(tcr_option_named(&name, o), o->separator != '\0', value, words, count);
    return false;
}

static bool read_one(const tcr_option *o, const char *text, size_t bytes, double *number) {
    return o->kind == TCR_OPTION_CHOICE ? read_word(o, text, bytes, number)
                                        : read_number(o, text, bytes, number);
}

/* Numbers below 1 with a decimal comma in a list that takes no 0: "0,15". */
static bool is_decimal_comma(const tcr_option *o, const char *text) {
    char fixed[200];
    tcr_option_name name;
    const size_t bytes = strlen(text);
    if (o->separator != ',' || bytes >= sizeof fixed || strspn(text, "0123456789,") != bytes ||
        o->kind == TCR_OPTION_CHOICE || !(tcr_option_range(o).least > 0.0))
        return false;
    memcpy(fixed, text, bytes + 1);
    for (char *at = fixed;; at++) {
        if (strncmp(at, "0,", 2) != 0 || strspn(at + 2, "0123456789") == 0)
            return false;
        at[1] = '.';
        at += 2 + strspn(at + 2, "0123456789");
        if (*at == '\0')
            break;
    }
    tcr_say_wrong("%s is \"%s\"; write a number with a point: %s", tcr_option_named(&name, o), text,
                  fixed);
    return true;
}

static bool is_value_of(const void *option, const char *text, size_t bytes) {
    const tcr_option *o = option;
    size_t place;
    double number;
    return o->kind == TCR_OPTION_CHOICE ? find_word(o, text, bytes, &place)
                                        : tcr_number_parse(text, bytes, &number);
}

static bool say_too_many(const tcr_option *o) {
    tcr_option_name name;
    tcr_say_wrong("%s has more than %zu values", tcr_option_named(&name, o), o->many);
    return false;
}

/* One value of a list, or a run of them: "8-13". */
static bool read_item(const tcr_option *o, tcr_value *value, const char *text, size_t bytes) {
    const char *dash = o->runs && bytes > 1 ? memchr(text + 1, '-', bytes - 1) : NULL;
    double first, last;
    if (value->count == o->many)
        return say_too_many(o);
    if (dash == NULL)
        return read_one(o, text, bytes, &value->number[value->count++]);
    if (!tcr_number_parse(text, (size_t)(dash - text), &first) ||
        !tcr_number_parse(dash + 1, bytes - 1 - (size_t)(dash - text), &last) || first > last) {
        tcr_option_name name;
        tcr_say_wrong("%s has \"%.*s\"; a run goes up by 1, such as 8-13",
                      tcr_option_named(&name, o), (int)(bytes < 200 ? bytes : 200), text);
        return false;
    }
    for (int i = 0; first + i <= last; i++) {
        char one[TCR_NUMBER_SIZE];
        tcr_number_text(first + i, one);
        if (value->count == o->many)
            return say_too_many(o);
        if (!read_one(o, one, strlen(one), &value->number[value->count++]))
            return false;
    }
    return true;
}

/* A list, with blanks about its values. */
static bool read_list(const tcr_option *o, tcr_value *value) {
    tcr_option_name name;
    const tcr_list_form form = {.option = tcr_option_named(&name, o),
                                .separator = o->separator,
                                .numbers = o->kind != TCR_OPTION_CHOICE,
                                .runs = o->runs,
                                .is_value = is_value_of,
                                .context = o};
    if (is_decimal_comma(o, value->text) || tcr_say_separator(&form, value->text))
        return false;
    for (const char *at = value->text;; at++) {
        size_t bytes;
        const char *text = tcr_next_value(&at, o->separator, &bytes);
        if (!read_item(o, value, text, bytes))
            return false;
        if (*at != '\0')
            continue;
        if (value->count >= o->fewest)
            return true;
        tcr_say_wrong("%s is \"%s\"; it is %s, %zu values", tcr_option_named(&name, o), value->text,
                      o->value, o->fewest);
        return false;
    }
}

/* Whether the name of a file has one of the endings; any will do where there are none. */
static bool has_ending(const tcr_option *o, const char *path) {
    const char *name = tcr_base_name(path);
    const size_t length = strlen(name);
    for (size_t i = 0; o->word != NULL && o->word(i) != NULL; i++) {
        const size_t ending = strlen(o->word(i));
        if (length > ending && strcasecmp(name + length - ending, o->word(i)) == 0)
            return true;
    }
    if (o->word == NULL)
        return true;
    tcr_option_name option;
    tcr_word_list endings;
    tcr_say_wrong("%s is \"%s\"; the name of the file must end in %s", tcr_option_named(&option, o),
                  path, tcr_option_words(&endings, o));
    return false;
}

static bool understand(const tcr_option *o, tcr_value *value) {
    /* Without pictures there are no words for a view. */
    const bool any_text = o->kind == TCR_OPTION_CHOICE && o->word == NULL;
    const bool stands_bare = o->bare && *value->text == '\0';
    if (o->kind == TCR_OPTION_FLAG || o->kind == TCR_OPTION_TEXT || any_text || stands_bare)
        return true;
    if (o->kind == TCR_OPTION_FILE)
        return has_ending(o, value->text);
    if (o->separator != '\0')
        return read_list(o, value);
    if (o->kind == TCR_OPTION_COUNT && o->word != NULL && strcmp(value->text, o->word(0)) == 0)
        return true;
    value->count = 1;
    return read_one(o, value->text, strlen(value->text), &value->number[0]);
}

/* ---- Words --------------------------------------------------------------------------- */

/* " check, draw": the commands that have an option of this name; "" for none. */
static const char *commands_with(const char *name, size_t bytes, char *out, size_t size) {
    size_t used = 0;
    out[0] = '\0';
    for (size_t c = 0; c < TCR_COMMANDS; c++) {
        const tcr_option *option;
        for (size_t i = 0; (option = tcr_option_next(tcr_commands[c]->bit, &i)) != NULL;)
            if (strlen(option->name) == bytes && memcmp(option->name, name, bytes) == 0 &&
                used < size)
                used += (size_t)snprintf(out + used, size - used, "%s%s", used > 0 ? ", " : " ",
                                         tcr_commands[c]->name);
    }
    return out;
}

static int say_no_option(const reading *r, const char *text) {
    const char *names[OPTIONS_MAX + 1] = {"help"};
    size_t known = 1;
    for (size_t i = 0; i < r->count; i++)
        names[known++] = r->option[i]->name;
    const char *name = text + strspn(text, "-");
    const char *meant = tcr_suggest(name, strcspn(name, "="), names, known);
    if (meant != NULL)
        return tcr_say_wrong("there is no option \"%s\"; perhaps %s%s was meant", text,
                             meant[1] == '\0' ? "-" : "--", meant);
    char with[100];
    if (*commands_with(name, strcspn(name, "="), with, sizeof with) != '\0')
        return tcr_say_wrong("there is no option \"%s\" here; commands that have it:%s%s", text,
                             with,
                             strncmp(name, "tray", strlen("tray")) == 0
                                 ? "; in a set file it is tray: {lengths_mm: [8, 9, 10]}"
                                 : "");
    return tcr_say_wrong("there is no option \"%s\"; %s help %s lists them", text, tcr_program(),
                         r->command->name);
}

/* What getopt_long did not understand. */
static int say_misunderstood(const reading *r, int result, char *const *argv) {
    tcr_option_name name;
    const tcr_option *option = optopt == HELP ? NULL : option_of(r, optopt);
    if (result == ':' && option != NULL)
        return tcr_say_wrong("%s needs a value; %s help %s says which",
                             tcr_option_named(&name, option), tcr_program(), r->command->name);
    if (optopt == HELP)
        return tcr_say_wrong("--help takes no value");
    if (option != NULL)
        return tcr_say_wrong("%s takes no value", tcr_option_named(&name, option));
    if (optopt == 0)
        return say_no_option(r, argv[optind - 1]);
    const char letter[] = {'-', (char)optopt, '\0'};
    return say_no_option(r, letter);
}

/* Bytes of a long dash or a minus sign in front, as word processors make of --; 0 if none. */
static size_t long_dash(const char *word) {
    static const char *const DASHES[] = {"\xE2\x80\x93", "\xE2\x80\x94", "\xE2\x88\x92"};
    for (size_t i = 0; i < sizeof DASHES / sizeof *DASHES; i++)
        if (strncmp(word, DASHES[i], strlen(DASHES[i])) == 0)
            return strlen(DASHES[i]);
    return 0;
}

static int say_long_dash(const char *word, const char *name) {
    const bool is_letter = name[0] != '\0' && name[1] == '\0';
    return tcr_say_wrong("\"%s\" begins with a long dash; write it with %s, -%s%s", word,
                         is_letter ? "a hyphen" : "two hyphens", is_letter ? "" : "-", name);
}

/* A word where only options may stand. The option before it decides what the message suggests. */
static int say_stray(const reading *r, const char *word) {
    const tcr_option *last = r->last;
    if (last != NULL && last->name[1] != '\0')
        return tcr_say_wrong("\"%s\" is no option; if it belongs to the value of --%s, put the "
                             "whole value in quotes, or leave out its blanks",
                             word, last->name);
    for (size_t i = 0; i < r->count; i++)
        if (r->option[i]->name[1] == '\0' && value_of(r, r->option[i])->text == NULL)
            return tcr_say_wrong("\"%s\" is no option; to write that file, put -%s in front of it",
                                 word, r->option[i]->name);
    return tcr_say_wrong("\"%s\" is no option; %s help %s lists them", word, tcr_program(),
                         r->command->name);
}

/* One more value of an option that repeats. */
static int take_again(const tcr_option *option, tcr_value *value, const char *word) {
    tcr_option_name name;
    if (value->times == TCR_VALUES_MAX)
        return tcr_say_wrong("%s has more than %d values", tcr_option_named(&name, option),
                             TCR_VALUES_MAX);
    value->each[value->times++] = word;
    return TCR_EXIT_DONE;
}

static int take_operand(const reading *r, const char *word) {
    const size_t dash = long_dash(word);
    if (dash > 0)
        return say_long_dash(word, word + dash + strspn(word + dash, "-"));
    if (r->command->set == TCR_NO_SET)
        return say_stray(r, word);
    double number;
    if (r->last != NULL && r->last->bare && tcr_number_parse(word, strlen(word), &number))
        return tcr_say_wrong("--%s takes its value behind =; write --%s=%s", r->last->name,
                             r->last->name, word);
    const bool many = r->command->set == TCR_MANY_SETS;
    if (r->call->set_count > 0 && !many)
        return tcr_say_wrong("one set file is enough; \"%s\" is one too many", word);
    if (r->call->set_count == TCR_SETS_MAX)
        return tcr_say_wrong("%d set files are enough; \"%s\" is one too many", TCR_SETS_MAX, word);
    r->call->sets[r->call->set_count++] = word;
    r->call->set = r->call->sets[0];
    return TCR_EXIT_DONE;
}

/* A value that looks like an option is a value that was forgotten, unless = stands between. */
static bool is_forgotten(const char *value, const char *word) {
    return value == word && value[0] == '-' &&
           (value[1] == '-' || isalpha((unsigned char)value[1]));
}

static int take_option(const reading *r, const tcr_option *option, const char *word) {
    tcr_option_name name;
    tcr_value *value = value_of(r, option);
    tcr_option_named(&name, option);
    if (value->text != NULL && !option->repeats)
        return tcr_say_wrong("%s is given twice", name.text);
    const bool has_value = option->value != NULL && !(option->bare && optarg == NULL);
    value->text = has_value ? optarg : "";
    if (has_value && *optarg == '\0')
        return tcr_say_wrong("%s has an empty value; %s help %s says what it needs", name.text,
                             tcr_program(), r->command->name);
    if (has_value && is_forgotten(optarg, word))
        return option->name[1] == '\0'
                   ? tcr_say_wrong("%s needs a value, and \"%s\" looks like an option; for a file "
                                   "of that name write ./%s",
                                   name.text, optarg, optarg)
                   : tcr_say_wrong("%s needs a value, and \"%s\" looks like an option; if it is "
                                   "the value, write %s=%s",
                                   name.text, optarg, name.text, optarg);
    return option->repeats ? take_again(option, value, optarg) : TCR_EXIT_DONE;
}

/* Whether there is a set where one must be, and where sets come from. */
static int check_sets(const reading *r) {
    const tcr_set_use use = r->command->set;
    const bool needs_one = use == TCR_ONE_SET || use == TCR_MANY_SETS;
    if (needs_one && (r->call->set == NULL || *r->call->set == '\0'))
        return tcr_say_wrong("a set file is missing: %s %s SET", tcr_program(), r->command->name);
    for (size_t i = 0; i < r->call->set_count; i++) {
        if (*r->call->sets[i] == '\0')
            return tcr_say_wrong("the name of the set file is empty; leave it out, or give one");
        if (strcmp(r->call->sets[i], "-") == 0)
            return tcr_say_wrong("a set is read from a file, not from standard input, because "
                                 "surveys lie beside it");
    }
    return TCR_EXIT_DONE;
}

/* What must be there, and values. */
static int check_whole(const reading *r) {
    tcr_option_name name;
    tcr_word_list words;
    const char *command = r->command->name;
    if (check_sets(r) != TCR_EXIT_DONE)
        return TCR_EXIT_WRONG;
    for (size_t i = 0; i < r->count; i++) {
        const tcr_option *o = r->option[i];
        if (value_of(r, o)->text != NULL && !understand(o, value_of(r, o)))
            return TCR_EXIT_WRONG;
        if (!o->required || value_of(r, o)->text != NULL)
            continue;
        tcr_option_named(&name, o);
        if (o->kind == TCR_OPTION_CHOICE && o->word != NULL)
            return tcr_say_wrong("%s is missing; it is %s", name.text, tcr_option_words(&words, o));
        return tcr_say_wrong("%s %s is missing; %s help %s says what it is", name.text, o->value,
                             tcr_program(), command);
    }
    return TCR_EXIT_DONE;
}

int tcr_call_read(const tcr_command *command, int argc, char **argv, tcr_call *call, bool *help) {
    reading r = {.command = command, .call = call};
    int status = TCR_EXIT_DONE, result;
    *call = (tcr_call){.set = NULL};
    *help = false;
    prepare(&r);
    opterr = 0;
    while (status == TCR_EXIT_DONE &&
           (result = getopt_long(argc, argv, r.letters, r.words, NULL)) != -1) {
        const tcr_option *option = NULL;
        if (result == 1 && r.last != NULL && r.last->greedy) {
            status = take_again(r.last, value_of(&r, r.last), optarg);
            continue;
        }
        if (result == 1)
            status = take_operand(&r, optarg);
        else if (result == 'h' || result == HELP)
            *help = true;
        else if (result == '?' || result == ':' || (option = option_of(&r, result)) == NULL)
            status = say_misunderstood(&r, result, argv);
        else
            status = take_option(&r, option, argv[optind - 1]);
        r.last = option != NULL && option->value != NULL ? option : NULL;
    }
    while (status == TCR_EXIT_DONE && optind < argc)
        status = take_operand(&r, argv[optind++]);
    return status == TCR_EXIT_DONE && !*help ? check_whole(&r) : status;
}
