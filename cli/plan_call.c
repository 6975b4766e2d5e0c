/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The call of tipcrest plan. */
#include "plan_call.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "call.h"
#include "common.h"
#include "file/look_name.h"

int tcr_plan_call_read(int argc, char **argv, tcr_plan_call *call) {
    const tcr_call_option options[] = {
        {"o", &call->output},
        {"sheet", &call->sheet},
        {"json", &call->json},
        {"share", &call->share},
        {"least", &call->least},
        {"most-lengths", &call->lengths},
        {"zone-step", &call->step},
        {"curls", &call->curls},
        {"placements", &call->placements},
        {"diameters", &call->diameters},
        {"fans", &call->fans},
        {"overlength", &call->overlength},
        {"corrections", &call->corrections},
        {"spread", &call->spread},
        {"look", &call->look},
        {"longest", &call->longest},
    };
    const tcr_call_flag flags[] = {{"free", &call->free_line}};
    return tcr_call_read_flags("plan", argc, argv, options, sizeof options / sizeof *options, flags,
                               sizeof flags / sizeof *flags, &call->set, &call->help);
}

/* A whole number of an option, where it is given. */
static bool read_count(const char *option, const char *text, double low, double high,
                       const char *range, size_t *count) {
    double number = 0.0;
    if (text == NULL)
        return true;
    if (!tcr_option_number(option, text, low, high, range, &number))
        return false;
    if (number != floor(number)) {
        tcr_say("%s is \"%s\"; it needs %s", option, text, range);
        return false;
    }
    *count = (size_t)number;
    return true;
}

/* The next word of a list with commas; its length, with *list moved behind it. */
static size_t next_word(const char **list, const char **word) {
    while (**list == ' ')
        ++*list;
    *word = *list;
    size_t length = strcspn(*list, ",");
    *list += length + ((*list)[length] == ',');
    while (length > 0 && (*word)[length - 1] == ' ')
        length--;
    return length;
}

static bool read_placements(const char *list, tcr_plan_options *o) {
    static const char *const WORDS[TCR_PLACEMENTS] = {"top", "underside", "inner-side",
                                                      "outer-side"};
    if (list == NULL)
        return true;
    memset(o->placement, 0, sizeof o->placement);
    while (*list != '\0') {
        const char *word;
        const size_t length = next_word(&list, &word);
        int p = 0;
        while (p < TCR_PLACEMENTS &&
               !(strlen(WORDS[p]) == length && memcmp(WORDS[p], word, length) == 0))
            p++;
        if (p == TCR_PLACEMENTS) {
            tcr_say("--placements has \"%.*s\"; it needs a list of top, underside, inner-side and "
                    "outer-side, with commas between",
                    (int)length, word);
            return false;
        }
        o->placement[p] = true;
    }
    return true;
}

/* A list of numbers with commas between, as many as 'most'. */
static bool read_numbers(const char *option, const char *list, double low, double high,
                         const char *range, double *number, size_t most, size_t *count) {
    enum { TEXT_SIZE = 32 };
    while (list != NULL && *list != '\0') {
        const char *word;
        char text[TEXT_SIZE];
        const size_t length = next_word(&list, &word);
        snprintf(text, sizeof text, "%.*s", (int)length, length < sizeof text ? word : "");
        if (*count == most) {
            tcr_say("%s has more than %zu numbers", option, most);
            return false;
        }
        if (!tcr_option_number(option, text, low, high, range, &number[(*count)++]))
            return false;
    }
    return true;
}

static bool read_fans(const char *list, tcr_plan_options *o) {
    static const char RANGE[] = "whole numbers of fibres from 1 to 20 with commas between, such as "
                                "1,3,5";
    double number[TCR_PLAN_FANS_MAX] = {0};
    if (!read_numbers("--fans", list, 1, 20, RANGE, number, TCR_PLAN_FANS_MAX, &o->fans))
        return false;
    for (size_t i = 0; i < o->fans; i++) {
        o->fan[i] = (int)number[i];
        if (number[i] != floor(number[i])) {
            tcr_say("--fans is \"%s\"; it needs %s", list, RANGE);
            return false;
        }
    }
    return true;
}

/* Curls have names only once the set is known. */
static bool read_curls(const char *list, const tcr_set *set, tcr_plan_options *o) {
    while (list != NULL && *list != '\0') {
        const char *word;
        char label[TCR_LABEL_SIZE];
        const size_t length = next_word(&list, &word);
        snprintf(label, sizeof label, "%.*s", (int)length, word);
        if (o->curls == TCR_PLAN_CURLS_MAX) {
            tcr_say("--curls has more than %d curls", TCR_PLAN_CURLS_MAX);
            return false;
        }
        if (length >= sizeof label ||
            tcr_set_find_curl(set, label, &o->curl[o->curls++]) != TCR_OK) {
            char known[256] = "";
            size_t used = 0;
            for (size_t i = 0; i < tcr_set_curl_count(set) && used < sizeof known; i++)
                used += (size_t)snprintf(known + used, sizeof known - used, " %s",
                                         tcr_set_get_curl(set, i)->label);
            tcr_say("--curls has \"%.*s\", which this set does not have; it has%s", (int)length,
                    word, known);
            return false;
        }
    }
    return true;
}

static bool understand_numbers(const tcr_plan_call *call, tcr_plan_options *o) {
    if (call->share != NULL &&
        !tcr_option_number("--share", call->share, 0.05, 1,
                           "a share from 0.05 to 1, such as 0.7 for 70 %", &o->share))
        return false;
    if (call->step != NULL &&
        !tcr_option_number("--zone-step", call->step, 0, 30, "a number of millimetres from 0 to 30",
                           &o->zone_step_most_mm))
        return false;
    if (call->corrections != NULL && strcmp(call->corrections, "all") == 0)
        o->correct_all = true;
    else if (!read_count("--corrections", call->corrections, 0, TCR_LASHES_MAX,
                         "a whole number from 0 on, or all", &o->corrections))
        return false;
    return read_count("--most-lengths", call->lengths, 1, TCR_TRAY_MAX,
                      "a whole number from 1 to 64", &o->lengths_most) &&
           read_count("--spread", call->spread, 1, TCR_SPREAD_MAX,
                      "a whole number from 1 to 100000", &o->spread);
}

int tcr_plan_call_understand(const tcr_plan_call *call, tcr_plan_options *o) {
    if (call->set == NULL)
        return tcr_say_wrong("plan needs a set file: %s plan SET", tcr_program());
    if (call->longest != NULL && call->look == NULL)
        return tcr_say_wrong("--longest is for a look; give --look too, or leave it out");
    o->free_line = call->free_line;
    if (call->least != NULL) {
        if (strcmp(call->least, "rms") != 0 && strcmp(call->least, "max") != 0)
            return tcr_say_wrong("--least is \"%s\"; it is rms or max", call->least);
        o->objective = strcmp(call->least, "max") == 0 ? TCR_LEAST_MAXIMUM : TCR_LEAST_SQUARES;
    }
    if (!understand_numbers(call, o) || !read_placements(call->placements, o) ||
        !read_numbers("--diameters", call->diameters, 0.02, 0.3,
                      "diameters from 0.02 to 0.3 mm with commas between, such as 0.12,0.15",
                      o->diameter_mm, TCR_PLAN_DIAMETERS_MAX, &o->diameters) ||
        !read_fans(call->fans, o))
        return TCR_EXIT_WRONG;
    if (o->spread > 0 && o->objective == TCR_LEAST_MAXIMUM && o->free_line)
        return tcr_say_wrong("--spread with --least max is for a line that is held; leave out "
                             "--free, or --least max");
    if (call->output != NULL && tcr_plan_call_stem(call->output) == 0)
        return tcr_say_wrong("-o is \"%s\"; it needs the name of a file that ends in .yaml, beside "
                             "which the surveys will lie",
                             call->output);
    return TCR_EXIT_DONE;
}

int tcr_plan_call_understand_set(const tcr_plan_call *call, const tcr_set_file *file,
                                 tcr_plan_options *o) {
    o->limits = tcr_set_file_plan_limits(file);
    if (call->overlength != NULL &&
        !tcr_option_number("--overlength", call->overlength, 0, 30,
                           "a number of millimetres from 0 to 30", &o->limits.overlength_mm))
        return TCR_EXIT_WRONG;
    return read_curls(call->curls, tcr_set_file_set(file), o) ? TCR_EXIT_DONE : TCR_EXIT_WRONG;
}

int tcr_plan_call_look(const tcr_plan_call *call, const tcr_set *set, const tcr_look **look,
                       double *longest_mm) {
    tcr_file_error error;
    const tcr_tray *tray = tcr_set_get_tray(set);
    *look = NULL;
    if (call->look == NULL)
        return TCR_EXIT_DONE;
    if (tcr_look_name_read("--look", call->look, look, &error) != TCR_OK) {
        tcr_say("%s", error.message);
        return TCR_EXIT_WRONG;
    }
    *longest_mm = tcr_tray_nearest(tray, tcr_set_longest_mm(set));
    if (call->longest == NULL)
        return TCR_EXIT_DONE;
    if (!tcr_option_number("--longest", call->longest, 3, 30,
                           "a number of millimetres from 3 to 30", longest_mm))
        return TCR_EXIT_WRONG;
    if (!tcr_tray_has(tray, *longest_mm))
        return tcr_say_wrong("--longest is \"%s\", which the tray lacks", call->longest);
    return TCR_EXIT_DONE;
}

size_t tcr_plan_call_stem(const char *path) {
    static const char *const ENDING[] = {".yaml", ".yml"};
    const char *name = strrchr(path, '/');
    name = name != NULL ? name + 1 : path;
    const size_t length = strlen(name);
    for (int i = 0; i < 2; i++) {
        const size_t ending = strlen(ENDING[i]);
        if (length > ending && strcasecmp(name + length - ending, ENDING[i]) == 0)
            return (size_t)(name - path) + length - ending;
    }
    return 0;
}
