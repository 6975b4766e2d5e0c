/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest plan: what goes where, as a table, a planned set file with its surveys, and JSON. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "common.h"

#include <math.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <tipcrest/check.h>
#include <tipcrest/plan.h>

#include "call.h"
#include "output.h"
#include "picture.h"

static const char HELP[] =
    "usage: tipcrest plan SET [-o PLANNED.yaml] [--sheet FILE.pdf] [--json FILE]\n"
    "                         [--share S] [--least rms|max] [--free]\n"
    "                         [--most-lengths K]\n"
    "                         [--zone-step MM] [--curls C,...] [--placements P,...]\n"
    "                         [--diameters MM,...] [--fans N,...] [--overlength MM]\n"
    "                         [--corrections N|all] [--spread N]\n"
    "\n"
    "Plans the set in the set file SET: which lashes get an extension, what every\n"
    "zone and layer gets from the tray, and which few lashes get something else, so\n"
    "that the tips come as near as can be to the line that the map intends. Both\n"
    "eyes are planned towards one line. What a zone fixes for a layer, and what the\n"
    "row of a lash gives, is kept. Prints a table.\n"
    "\n"
    "  -o PLANNED.yaml  the planned set, which check and draw take, with a survey\n"
    "                   for each eye beside it: PLANNED-left.csv, PLANNED-right.csv\n"
    "  --sheet FILE.pdf a work sheet to print on A4: maps at 1:1, lengths, what to lay\n"
    "                   out, the working order, corrections, loads and cautions\n"
    "  --json FILE      all of it, for programs\n"
    "  --share S        the share of an eye's lashes to use, 0.05 to 1; 0.7 unless\n"
    "                   given, common practice. As many as are suitable at most\n"
    "  --least WHAT     what is made least: rms, the distances from the line all\n"
    "                   together, or max, the largest of them; rms unless given\n"
    "  --free           the line may be shifted and tilted as a whole\n"
    "  --most-lengths K at most so many different lengths, 1 to 64\n"
    "  --zone-step MM   neighbouring zones of a layer differ by so much at most\n"
    "  --curls LIST     curls to choose from, such as C,CC,D; those of the map unless\n"
    "                   given\n"
    "  --placements LIST  placements you are willing to use, of top, underside,\n"
    "                   inner-side and outer-side; all but inner-side unless given\n"
    "  --diameters LIST diameters to choose from; that of the layering unless given\n"
    "  --fans LIST      fibres of a fan to choose from, 1 for a single one; that of the\n"
    "                   layering unless given\n"
    "  --overlength MM  how much longer than its lash an extension may be; as the\n"
    "                   set file says under plan, 5 where it does not (assumed)\n"
    "  --corrections N  how many lashes may get something else than their zone, or\n"
    "                   all that come nearer the line; unless given, as few as bring\n"
    "                   95 per cent of the tips within the tolerance\n"
    "  --spread N       chooses by the mean over N samples of how lashes vary and how\n"
    "                   far the eye opens, 1 to 100000; with --least max by what each\n"
    "                   lash keeps in 95 per cent of them (assumed)\n"
    "\n"
    "The choice for the zones is proved: the table tells below which distance none\n"
    "comes. An interrupt (Ctrl-C) ends a long search with the best plan so far.\n"
    "- as FILE is standard output; the table is then left out. Files appear whole\n"
    "or not at all: a run that fails leaves an older file as it was.\n"
    "\n"
    "Exit status: 0 done; 1 the work failed or nothing meets the limits; 2 the call\n"
    "or the set is wrong.\n";

typedef struct plan_call {
    const char *set, *output, *sheet, *json, *share, *least, *lengths, *step, *curls, *placements;
    const char *diameters, *fans, *overlength, *corrections, *spread;
    bool free_line, help;
} plan_call;

typedef struct plan_work {
    tcr_set_file *file;
    tcr_check *before, *after;
    tcr_plan *plan;
    tcr_plan_work *work;
    tcr_set *planned;
    char *survey[TCR_SIDES]; /* paths, NULL for an eye that is not there */
} plan_work;

/* ---- The call ------------------------------------------------------------------------ */

static int read_call(int argc, char **argv, plan_call *call) {
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

static bool understand_numbers(const plan_call *call, tcr_plan_options *o) {
    if (call->share != NULL &&
        !tcr_option_number("--share", call->share, 0.05, 1, "a share from 0.05 to 1", &o->share))
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

static int understand(const plan_call *call, tcr_plan_options *o) {
    if (call->set == NULL)
        return tcr_say_wrong("plan needs a set file: tipcrest plan SET");
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
    if (call->output != NULL) {
        const size_t length = strlen(call->output);
        if (length < 6 || strcmp(call->output + length - 5, ".yaml") != 0)
            return tcr_say_wrong("-o is \"%s\"; it needs the name of a file that ends in .yaml, "
                                 "beside which the surveys will lie",
                                 call->output);
    }
    return TCR_EXIT_DONE;
}

/* ---- Long work ----------------------------------------------------------------------- */

static volatile sig_atomic_t interrupted;

static void interrupt(int number) {
    (void)number;
    interrupted = 1;
}

typedef struct progress {
    struct timespec start;
    double shown_at; /* seconds; 0: not yet */
} progress;

static double seconds_since(const struct timespec *start) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - start->tv_sec) + 1e-9 * (double)(now.tv_nsec - start->tv_nsec);
}

static bool ask_to_stop(void *context) {
    progress *p = context;
    const double seconds = seconds_since(&p->start);
    if (seconds > 2.0 && seconds > p->shown_at + 0.2 && isatty(STDERR_FILENO)) {
        fprintf(stderr, "\rsearching for %.0f s; Ctrl-C takes the best plan so far ", seconds);
        p->shown_at = seconds;
    }
    return interrupted != 0;
}

/* ---- Outputs ------------------------------------------------------------------------- */

static tcr_status write_json(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    return tcr_report_plan_json(of->plan, of->work, of->before, of->after,
                                tcr_set_file_digest(of->file), sink, context);
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    return tcr_report_plan_table(of->plan, of->work, of->before, of->after, sink, context);
}

#ifdef TCR_WITH_DRAW
static tcr_status write_sheet(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    tcr_text_sink to = {sink, context};
    return tcr_work_sheet_write(of->plan, of->work, of->after, tcr_text_sink_put, &to);
}
#else
#define write_sheet NULL
#endif

/* What --sheet asks for: an exit status. */
static int understand_sheet(const char *path) {
#ifdef TCR_WITH_DRAW
    tcr_picture_format format;
    if (path != NULL && (!tcr_picture_format_of(path, &format) || format != TCR_PDF))
        return tcr_say_wrong("--sheet is \"%s\"; it needs the name of a file that ends in .pdf",
                             path);
#else
    if (path != NULL) {
        tcr_say("this tipcrest was built without pictures; leave out --sheet, or build it with "
                "cairo");
        return TCR_EXIT_FAILED;
    }
#endif
    return TCR_EXIT_DONE;
}

static const char *base_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash != NULL ? slash + 1 : path;
}

static tcr_status write_set(const void *work, tcr_sink sink, void *context) {
    static const char COMMENT[] =
        "A set planned by tipcrest. Each zone says what its layers get; lashes that get\n"
        "something else have it in their row of the survey, and the last column says why.\n"
        "For trained and, where the law asks, licensed hands; local rules go first.";
    const plan_work *of = work;
    tcr_set_write_options options = tcr_set_write_options_default();
    options.comment = COMMENT;
    options.limits = &tcr_plan_get_options(of->plan)->limits;
    options.pace = of->work->pace;
    for (int side = 0; side < TCR_SIDES; side++)
        if (of->survey[side] != NULL)
            options.survey[side] = base_name(of->survey[side]);
    return tcr_set_write(of->planned, &options, sink, context);
}

static const char *note_of(void *context, tcr_side side, size_t lash) {
    static const char *const NOTES[TCR_USES] = {"",
                                                "as its row gives it",
                                                "left bare: the line is covered without it",
                                                "left bare: its condition",
                                                "left bare: its row says none",
                                                "left bare: short or thin",
                                                "left bare: astray",
                                                "left bare: too short for the bond",
                                                "left bare: too weak for its zone"};
    const plan_work *of = context;
    const tcr_plan_lash *planned = &tcr_plan_get_eye(of->plan, side)->lash[lash];
    return planned->corrected ? "not what its zone gets" : NOTES[planned->use];
}

static tcr_status write_survey(const plan_work *of, tcr_side side, tcr_sink sink, void *context) {
    plan_work notes = *of;
    return tcr_survey_write(of->planned, side, note_of, &notes, sink, context);
}

static tcr_status write_left(const void *work, tcr_sink sink, void *context) {
    return write_survey(work, TCR_LEFT, sink, context);
}

static tcr_status write_right(const void *work, tcr_sink sink, void *context) {
    return write_survey(work, TCR_RIGHT, sink, context);
}

/* PLANNED-left.csv for PLANNED.yaml. */
static tcr_status name_surveys(plan_work *work, const char *output, tcr_file_error *error) {
    static const char *const ENDING[TCR_SIDES] = {"-left.csv", "-right.csv"};
    for (int side = 0; output != NULL && side < TCR_SIDES; side++) {
        const size_t size = strlen(output) + sizeof "-right.csv";
        if (!tcr_set_has_eye(tcr_set_file_set(work->file), (tcr_side)side))
            continue;
        work->survey[side] = malloc(size);
        if (work->survey[side] == NULL) {
            snprintf(error->message, sizeof error->message, "%s", tcr_status_text(TCR_E_MEMORY));
            error->path[0] = '\0';
            return error->status = TCR_E_MEMORY;
        }
        snprintf(work->survey[side], size, "%.*s%s", (int)(strlen(output) - strlen(".yaml")),
                 output, ENDING[side]);
    }
    return TCR_OK;
}

/* ---- The work ------------------------------------------------------------------------ */

/* Why there is no plan, and what would let there be one. */
static int say_obstacle(const tcr_plan_fault *fault) {
    static const char *const SIDES[] = {"left", "right"}, *const LAYERS[] = {"bottom", "middle",
                                                                             "top"};
    switch (fault->obstacle) {
    case TCR_OBSTACLE_LASHES:
        tcr_say("the %s eye has no lash to plan for within the limits; look at "
                "its conditions, or widen the limits under plan in the set file",
                SIDES[fault->side]);
        break;
    case TCR_OBSTACLE_LOAD:
        tcr_say(
            "no length of the tray suits all lashes of the %s layer in zone %zu of the %s eye; "
            "a larger --overlength, more --placements, --diameters, --fans or --curls, a smaller "
            "--share, or wider limits under plan would leave a choice",
            LAYERS[fault->layer], fault->zone + 1, SIDES[fault->side]);
        break;
    case TCR_OBSTACLE_STEP:
        tcr_say("no choice keeps neighbouring zones within --zone-step; a larger one would");
        break;
    case TCR_OBSTACLE_STEP_AND_LENGTHS:
        tcr_say("no choice keeps neighbouring zones within --zone-step, and none has so few "
                "lengths; larger ones of both, --zone-step and --most-lengths, would leave one");
        break;
    case TCR_OBSTACLE_ROWS:
        tcr_say("there is nothing to plan: the survey says what each lash gets; empty the "
                "ext_ columns of those that are to be planned");
        break;
    case TCR_OBSTACLE_LENGTHS:
        tcr_say("no choice has so few lengths; a larger --most-lengths would leave one");
        break;
    default:
        tcr_say("%s", tcr_status_text(TCR_E_NO_SOLUTION));
        break;
    }
    return TCR_EXIT_FAILED;
}

/* Plans, and checks the set before and after; an exit status. */
static int make_plan(plan_work *work, const plan_call *call, tcr_plan_options *o,
                     tcr_file_error *error) {
    const tcr_set *set = tcr_set_file_set(work->file);
    progress p = {.shown_at = 0.0};
    tcr_plan_fault fault = {.obstacle = TCR_OBSTACLE_NONE};
    o->limits = tcr_set_file_plan_limits(work->file);
    if (call->overlength != NULL &&
        !tcr_option_number("--overlength", call->overlength, 0, 30,
                           "a number of millimetres from 0 to 30", &o->limits.overlength_mm))
        return TCR_EXIT_WRONG;
    if (!read_curls(call->curls, set, o))
        return TCR_EXIT_WRONG;
    tcr_status status = tcr_set_file_check(work->file, NULL, &work->before, error);
    if (status != TCR_OK)
        return tcr_say_error(error);
    tcr_plan_options watched = *o;
    clock_gettime(CLOCK_MONOTONIC, &p.start);
    watched.stop = ask_to_stop;
    watched.context = &p;
    /* A second interrupt ends the process; one that is ignored stays so. */
    struct sigaction before, ours = {.sa_handler = interrupt, .sa_flags = (int)SA_RESETHAND};
    if (sigaction(SIGINT, NULL, &before) == 0 && before.sa_handler != SIG_IGN)
        sigaction(SIGINT, &ours, NULL);
    status = tcr_plan_new(set, &watched, &work->plan, &fault);
    sigaction(SIGINT, &before, NULL);
    if (p.shown_at > 0.0)
        fputs("\n", stderr);
    if (status == TCR_E_NO_SOLUTION)
        return say_obstacle(&fault);
    if (status == TCR_OK)
        status = tcr_plan_apply(work->plan, &work->planned);
    if (status == TCR_OK)
        status = tcr_check_new(work->planned, NULL, &work->after, NULL);
    const tcr_plan_pace pace = tcr_set_file_pace(work->file);
    if (status == TCR_OK)
        status = tcr_plan_work_new(work->plan, &pace, &work->work);
    if (status != TCR_OK) {
        tcr_say("%s: %s", call->set, tcr_status_text(status));
        return tcr_exit_for(status);
    }
    return TCR_EXIT_DONE;
}

static int put_outputs(plan_work *work, const plan_call *call, tcr_file_error *error) {
    const tcr_output report[] = {
        {call->json, write_json},
        {call->sheet, write_sheet},
        {call->output, write_set},
        {work->survey[TCR_LEFT], write_left},
        {work->survey[TCR_RIGHT], write_right},
    };
    const tcr_status status = tcr_put_outputs(work, work->file, report,
                                              sizeof report / sizeof *report, write_table, error);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(error);
}

static int run(int argc, char **argv) {
    plan_call call = {.set = NULL};
    plan_work work = {.file = NULL};
    tcr_plan_options options = tcr_plan_options_default();
    tcr_file_error error;
    int exit_status = read_call(argc, argv, &call);
    if (exit_status == TCR_EXIT_DONE && call.help)
        return tcr_print(HELP);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = understand(&call, &options);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = understand_sheet(call.sheet);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    if (tcr_set_file_read(call.set, NULL, &work.file, &error) != TCR_OK ||
        name_surveys(&work, call.output, &error) != TCR_OK)
        exit_status = tcr_say_error(&error);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = make_plan(&work, &call, &options, &error);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = put_outputs(&work, &call, &error);
    for (int side = 0; side < TCR_SIDES; side++)
        free(work.survey[side]);
    tcr_check_free(work.after);
    tcr_set_free(work.planned);
    tcr_plan_work_free(work.plan, work.work);
    tcr_plan_free(work.plan);
    tcr_check_free(work.before);
    tcr_set_file_free(work.file);
    return exit_status;
}

const tcr_command tcr_command_plan = {
    "plan", "what goes where: lashes, lengths, placements, corrections", HELP, run};
