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
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include <tipcrest/check.h>
#include <tipcrest/plan.h>

#include "call.h"
#include "num/number.h"
#include "output.h"
#include "picture.h"
#include "plan_call.h"

static const char HELP[] =
    "usage: tipcrest plan SET [-o PLANNED.yaml] [--sheet FILE.pdf] [--json FILE]\n"
    "                         [--look NAME [--longest MM]] [--share S]\n"
    "                         [--least rms|max] [--free]\n"
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
    "                   for each eye beside it, PLANNED-left.csv, PLANNED-right.csv.\n"
    "                   What plan did not write itself it does not write over.\n"
    "  --sheet FILE.pdf a work sheet to print on A4: maps at 1:1, lengths, what to\n"
    "                   lay out, the working order, corrections, loads and cautions\n"
    "  --json FILE      all of it, for programs\n"
    "  --look NAME      plans for a look in place of the set's map: natural, doll\n"
    "                   (also open), cat or squirrel; shapes are common practice\n"
    "  --longest MM     the longest length of the look; that of the map unless given\n"
    "  --share S        the share of an eye's lashes to use, 0.05 to 1; 0.7 unless\n"
    "                   given, common practice. As many as are suitable at most\n"
    "  --least WHAT     what is made least: rms, the distances from the line all\n"
    "                   together, or max, the largest of them; rms unless given\n"
    "  --free           the line may be shifted and tilted as a whole, and so stand\n"
    "                   lower or higher than the map asks; the table tells how far\n"
    "  --most-lengths K at most so many different lengths, 1 to 64\n"
    "  --zone-step MM   neighbouring zones of a layer differ by so much at most\n"
    "  --curls LIST     curls to choose from, such as C,CC,D; those of the map unless\n"
    "                   given\n"
    "  --placements LIST  placements you are willing to use, of top, underside,\n"
    "                   inner-side and outer-side; all but inner-side unless given\n"
    "  --diameters LIST diameters to choose from; that of the layering unless given\n"
    "  --fans LIST      fibres of a fan to choose from, 1 for a single one; that of\n"
    "                   the layering unless given\n"
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

typedef struct plan_work {
    tcr_set_file *file;
    const tcr_look *look; /* in place of the set's map; NULL without one */
    double longest_mm;
    tcr_set *by_look;
    tcr_check *before, *after;
    tcr_plan *plan;
    tcr_plan_work *work;
    tcr_set *planned;
    char *survey[TCR_SIDES]; /* paths, NULL for an eye that is not there */
} plan_work;

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

enum { LINE_SIZE = 200 };

/* The look that is planned for, in a line of its own; nothing without one. */
static void say_look(const plan_work *work, char *line, size_t size) {
    char longest[TCR_NUMBER_SIZE];
    tcr_number_text(work->longest_mm, longest);
    line[0] = '\0';
    if (work->look != NULL)
        snprintf(
            line, size,
            "The map is the look %s, %s mm where it is longest; its shape is common practice.\n",
            work->look->name, longest);
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    char line[LINE_SIZE];
    say_look(of, line, sizeof line);
    if (sink(context, line, strlen(line)) != 0)
        return TCR_E_WRITE;
    return tcr_report_plan_table(of->plan, of->work, of->before, of->after, sink, context);
}

#ifdef TCR_WITH_DRAW
static tcr_status write_sheet(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    return tcr_work_sheet_write(of->plan, of->work, of->after, sink, context);
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

/* The first words of what -o writes: by them a later run knows what it may write over. */
#define PLANNED "A set planned by tipcrest."

static tcr_status write_set(const void *work, tcr_sink sink, void *context) {
    static const char COMMENT[] =
        PLANNED " Each zone says what its layers get; lashes that get\n"
                "something else have it in their row of the survey, and the last column says why.\n"
                "For trained and, where the law asks, licensed hands; local rules go first.";
    const plan_work *of = work;
    static const char DRAWN[] = "\nIts lashes are drawn by chance, not measured.";
    char comment[sizeof COMMENT + sizeof DRAWN + 1 + LINE_SIZE], look[LINE_SIZE];
    bool drawn = false;
    for (int side = 0; side < TCR_SIDES; side++)
        drawn = drawn || tcr_set_drawn_count(of->planned, (tcr_side)side) > 0;
    say_look(of, look, sizeof look);
    snprintf(comment, sizeof comment, "%s%s%s%.*s", COMMENT, drawn ? DRAWN : "",
             *look != '\0' ? "\n" : "", (int)strcspn(look, "\n"), look);
    tcr_set_write_options options = tcr_set_write_options_default();
    options.comment = comment;
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
        snprintf(work->survey[side], size, "%.*s%s", (int)tcr_plan_call_stem(output), output,
                 ENDING[side]);
    }
    return TCR_OK;
}

/* Whether a file lies at a path; it begins with a text, or is empty, if such_as is not NULL. */
static bool lies_there(const char *path, const char *such_as) {
    struct stat found;
    if (path == NULL || stat(path, &found) != 0 || !S_ISREG(found.st_mode))
        return false;
    if (such_as == NULL || found.st_size == 0)
        return true;
    char start[sizeof PLANNED + 2] = "";
    FILE *file = fopen(path, "re");
    const bool is_read = file != NULL && fgets(start, sizeof start, file) != NULL;
    if (file != NULL)
        fclose(file);
    return is_read && strncmp(start, such_as, strlen(such_as)) == 0;
}

/* A set or a survey that was made by hand is not written over; one of an earlier plan is. */
static int keep_work_of_others(const plan_work *work, const char *output) {
    if (output == NULL || lies_there(output, "# " PLANNED))
        return TCR_EXIT_DONE;
    const char *const there[] = {output, work->survey[TCR_LEFT], work->survey[TCR_RIGHT]};
    for (int i = 0; i < 3; i++)
        if (lies_there(there[i], NULL)) {
            tcr_say("%s: plan did not write this file and would write over it; give -o another "
                    "name",
                    there[i]);
            return TCR_EXIT_FAILED;
        }
    return TCR_EXIT_DONE;
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
    case TCR_OBSTACLE_OPTIONS:
        tcr_say("the %s layer in zone %zu of the %s eye has %zu options (lengths, curls, "
                "diameters, fans and placements, each with each); plan takes at most %d, so give "
                "fewer",
                LAYERS[fault->layer], fault->zone + 1, SIDES[fault->side], fault->options,
                TCR_PLAN_OPTIONS_MAX);
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

/* Checks the set that is to be planned, the file's or one with a look for a map; an exit status. */
static int check_before(plan_work *work, const tcr_plan_call *call, tcr_file_error *error) {
    const tcr_set *set = tcr_set_file_set(work->file);
    const int understood = tcr_plan_call_look(call, set, &work->look, &work->longest_mm);
    if (understood != TCR_EXIT_DONE)
        return understood;
    if (work->look == NULL)
        return tcr_set_file_check(work->file, NULL, &work->before, error) == TCR_OK
                   ? TCR_EXIT_DONE
                   : tcr_say_error(error);
    tcr_status status =
        tcr_set_new_by_look(NULL, set, work->look, work->longest_mm, &work->by_look);
    if (status == TCR_OK)
        status = tcr_check_new(work->by_look, NULL, &work->before, NULL);
    if (status == TCR_OK)
        return TCR_EXIT_DONE;
    if (status == TCR_E_TRAY)
        tcr_say("%s: the tray lacks a length that a layer of the look %s needs; a larger --longest "
                "or more lengths in the tray would do",
                call->set, work->look->name);
    else
        tcr_say("%s: %s", call->set, tcr_status_text(status));
    return tcr_exit_for(status);
}

/* Plans, and checks the set before and after; an exit status. */
static int make_plan(plan_work *work, const tcr_plan_call *call, tcr_plan_options *o,
                     tcr_file_error *error) {
    progress p = {.shown_at = 0.0};
    tcr_plan_fault fault = {.obstacle = TCR_OBSTACLE_NONE};
    const int understood = tcr_plan_call_understand_set(call, work->file, o);
    if (understood != TCR_EXIT_DONE)
        return understood;
    const int checked = check_before(work, call, error);
    if (checked != TCR_EXIT_DONE)
        return checked;
    const tcr_set *set = tcr_check_set(work->before);
    tcr_plan_options watched = *o;
    clock_gettime(CLOCK_MONOTONIC, &p.start);
    watched.stop = ask_to_stop;
    watched.context = &p;
    /* A second interrupt ends the process; one that is ignored stays so. */
    struct sigaction before, ours = {.sa_handler = interrupt, .sa_flags = (int)SA_RESETHAND};
    if (sigaction(SIGINT, NULL, &before) == 0 && before.sa_handler != SIG_IGN)
        sigaction(SIGINT, &ours, NULL);
    tcr_status status = tcr_plan_new(set, &watched, &work->plan, &fault);
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

static int put_outputs(plan_work *work, const tcr_plan_call *call, tcr_file_error *error) {
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
    tcr_plan_call call = {.set = NULL};
    plan_work work = {.file = NULL};
    tcr_plan_options options = tcr_plan_options_default();
    tcr_file_error error;
    int exit_status = tcr_plan_call_read(argc, argv, &call);
    if (exit_status == TCR_EXIT_DONE && call.help)
        return tcr_print(HELP);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = tcr_plan_call_understand(&call, &options);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = understand_sheet(call.sheet);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    if (tcr_set_file_read(call.set, NULL, &work.file, &error) != TCR_OK ||
        name_surveys(&work, call.output, &error) != TCR_OK)
        exit_status = tcr_say_error(&error);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = keep_work_of_others(&work, call.output);
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
    tcr_set_free(work.by_look);
    tcr_set_file_free(work.file);
    return exit_status;
}

const tcr_command tcr_command_plan = {
    "plan", "what goes where: lashes, lengths, placements, corrections", HELP, run};
