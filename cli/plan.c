/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest plan: what goes where, as a table, a planned set file with its surveys, and JSON. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/check.h>
#include <tipcrest/plan.h>
#include <tipcrest/text.h>

#include "common.h"
#include "output.h"
#include "picture.h"
#include "progress.h"
#include "signals.h"

static const char ABOUT[] =
    "Plans the set in the set file SET: which lashes get an extension, what every\n"
    "zone and layer gets from the tray, and which few lashes differ from their zone.\n"
    "The tips come as near as possible to the line that the map intends. Two eyes\n"
    "share one line, unless the set file gives each its own (line: {shared: false}).\n"
    "plan keeps what a zone fixes for a layer and what the row of a lash gives. For\n"
    "lashes that nobody measured it plans zones and layers only, by what is best on\n"
    "average over clients drawn by chance.\n"
    "Prints a table.\n";

static const char NOTES[] =
    "The table gives a bound: a distance from the line below which no choice for the\n"
    "zones comes. Ctrl-C and --time-limit end a long search with the best plan so\n"
    "far.\n"
    "If FILE is -, the report goes to standard output and plan prints no table. Files\n"
    "appear whole or not at all: a run that fails leaves an older file as it was.\n"
    "\n"
    "Exit status: 0 done; 1 the work failed or nothing meets the limits; 2 the call\n"
    "or the set is wrong.\n";

typedef struct plan_work {
    tcr_set_file *file;
    const tcr_call *call;
    const tcr_look *look; /* in place of the set's map; NULL without one */
    double longest_mm;
    bool full;    /* the table has all that is known */
    tcr_set *own; /* the file's set with what the call changes; NULL: nothing */
    tcr_check *before, *after;
    tcr_plan *plan;
    tcr_plan_work *work;
    tcr_set *planned;
    char *survey[TCR_SIDES]; /* paths, NULL for an eye that is not there */
} plan_work;

/* ---- Outputs ------------------------------------------------------------------------- */

static tcr_status write_json(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    return tcr_report_plan_json(of->plan, of->work, of->before, of->after,
                                tcr_set_file_digest(of->file), sink, context);
}

static tcr_status write_csv(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    const tcr_csv_options options = tcr_csv_options_of(of->call);
    return tcr_report_plan_csv(of->plan, tcr_check_set(of->before), &options, sink, context);
}

enum { LINE_SIZE = 200, SHOWN_COLUMNS = 70, SHOWN_SIZE = 4 * SHOWN_COLUMNS };

/* The look that is planned for, where its sentence begins; nothing without one. */
static void say_look(const plan_work *work, char *line, size_t size) {
    char longest[TCR_NUMBER_SIZE];
    tcr_number_text(work->longest_mm, longest);
    line[0] = '\0';
    if (work->look != NULL)
        snprintf(line, size, "The map: look %s, longest %s mm (shape: common practice)",
                 work->look->name, longest);
}

/* Names the files that are in place, a line each. */
static tcr_status say_files(const plan_work *of, tcr_sink sink, void *context) {
    const tcr_call *call = of->call;
    const char *const path[] = {call->output.text, of->survey[TCR_LEFT],   of->survey[TCR_RIGHT],
                                call->sheet.text,  call->sheet_zones.text, call->csv.text,
                                call->json.text};
    const char *before = "\nWritten: ";
    for (size_t i = 0; i < sizeof path / sizeof *path; i++) {
        char shown[SHOWN_SIZE], line[SHOWN_SIZE + 16];
        if (path[i] == NULL)
            continue;
        (void)tcr_printable(path[i], SHOWN_COLUMNS, shown, sizeof shown);
        const int bytes = snprintf(line, sizeof line, "%s%s\n", before, shown);
        before = "         ";
        if (sink(context, line, (size_t)bytes) != 0)
            return TCR_E_WRITE;
    }
    return TCR_OK;
}

static tcr_status write_table(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    char line[LINE_SIZE];
    tcr_plan_report_options options = tcr_plan_report_options_default();
    say_look(of, line, sizeof line);
    options.full = of->full;
    options.map = *line != '\0' ? line : NULL;
    const tcr_status status =
        tcr_report_plan_table(of->plan, of->work, of->before, of->after, &options, sink, context);
    return status == TCR_OK ? say_files(of, sink, context) : status;
}

#ifdef TCR_WITH_DRAW
static tcr_status write_sheet(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    return tcr_work_sheet_write(of->plan, of->work, of->after, TCR_SHEET_FULL, sink, context);
}

static tcr_status write_zones(const void *work, tcr_sink sink, void *context) {
    const plan_work *of = work;
    return tcr_work_sheet_write(of->plan, of->work, of->after, TCR_SHEET_ZONES, sink, context);
}
#else
#define write_sheet NULL
#define write_zones NULL
#endif

/* A copy of the planned set whose title says that it is planned. The caller frees it. */
static tcr_status copy_titled(const plan_work *of, tcr_set **copy) {
    static const char SAYS[] = ", planned";
    const char *title = tcr_set_title(of->planned);
    const size_t length = strlen(title), more = sizeof SAYS - 1;
    char titled[TCR_TITLE_SIZE_MAX];
    tcr_status status = tcr_set_copy(NULL, of->planned, copy);
    if (length == 0 || length + more >= sizeof titled ||
        (length > more && strcmp(title + length - more, SAYS) == 0))
        return status;
    snprintf(titled, sizeof titled, "%s%s", title, SAYS);
    return status == TCR_OK ? tcr_set_put_title(*copy, titled) : status;
}

static tcr_status write_set(const void *work, tcr_sink sink, void *context) {
    static const char COMMENT[] =
        "A set planned by tipcrest. Each zone says what its layers get. A lash that differs from "
        "its\n"
        "zone has its own values in its row of the survey, and the last column says so.\n"
        "For trained and, where the law asks, licensed hands; local rules go first.";
    const plan_work *of = work;
    static const char DRAWN[] = "\nIts lashes are drawn by chance, not measured.";
    static const char ZONES[] = " Zones and layers alone\nare planned, and no row says what a lash "
                                "gets:\ncheck counts lashes too that the plan leaves bare.";
    char comment[sizeof COMMENT + sizeof DRAWN + sizeof ZONES + 1 + LINE_SIZE], look[LINE_SIZE];
    bool drawn = false, zones_only = false;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_plan_eye *eye = tcr_plan_eye_of(of->plan, (tcr_side)side);
        drawn = drawn || tcr_set_drawn_count(of->planned, (tcr_side)side) > 0;
        zones_only = zones_only || (eye != NULL && eye->zones_only);
    }
    say_look(of, look, sizeof look);
    snprintf(comment, sizeof comment, "%s%s%s%s%.*s", COMMENT, drawn ? DRAWN : "",
             zones_only ? ZONES : "", *look != '\0' ? "\n" : "", (int)sizeof look, look);
    tcr_set_write_options options = tcr_set_write_options_default();
    options.comment = comment;
    options.limits = &tcr_plan_options_of(of->plan)->limits;
    options.pace = of->work->pace;
    for (int side = 0; side < TCR_SIDES; side++)
        if (of->survey[side] != NULL)
            options.survey[side] = tcr_base_name(of->survey[side]);
    tcr_set *titled = NULL;
    tcr_status status = copy_titled(of, &titled);
    if (status == TCR_OK)
        status = tcr_set_write(titled, &options, sink, context);
    tcr_set_free(titled);
    return status;
}

static const char *note_of(void *context, tcr_side side, size_t lash) {
    static const char *const REASONS[TCR_USES] = {"",
                                                  "as its row gives it",
                                                  "left bare: the line is covered without it",
                                                  "left bare: its condition",
                                                  "left bare: its row says none",
                                                  "left bare: short or thin",
                                                  "left bare: astray",
                                                  "left bare: too short for the bond",
                                                  "left bare: too weak for its zone"};
    const plan_work *of = context;
    const tcr_plan_lash *planned = &tcr_plan_eye_of(of->plan, side)->lash[lash];
    if (tcr_plan_eye_of(of->plan, side)->zones_only)
        return ""; /* the lash is nobody's */
    return planned->corrected ? "differs from its zone" : REASONS[planned->use];
}

static tcr_status write_survey(const plan_work *of, tcr_side side, tcr_sink sink, void *context) {
    plan_work notes = *of;
    tcr_csv_options csv = tcr_csv_options_default(); /* all digits: it is read back */
    csv.decimal_comma = tcr_csv_options_of(of->call).decimal_comma;
    return tcr_survey_write(of->planned, side, note_of, &notes, &csv, sink, context);
}

static tcr_status write_left(const void *work, tcr_sink sink, void *context) {
    return write_survey(work, TCR_LEFT, sink, context);
}

static tcr_status write_right(const void *work, tcr_sink sink, void *context) {
    return write_survey(work, TCR_RIGHT, sink, context);
}

/* PLANNED-left.csv for PLANNED.yaml. */
static tcr_status name_surveys(plan_work *work, const char *output, tcr_error *error) {
    static const char *const ENDING[TCR_SIDES] = {"-left.csv", "-right.csv"};
    for (int side = 0; output != NULL && side < TCR_SIDES; side++) {
        const size_t size = strlen(output) + sizeof "-right.csv";
        if (!tcr_set_has_eye(tcr_set_file_set(work->file), (tcr_side)side))
            continue;
        work->survey[side] = malloc(size);
        if (work->survey[side] == NULL)
            return tcr_fill_error(error, TCR_E_MEMORY, "");
        snprintf(work->survey[side], size, "%.*s%s", (int)(strrchr(output, '.') - output), output,
                 ENDING[side]);
    }
    return TCR_OK;
}

/* Refuses, before the search, to write over what somebody else wrote or changed. */
static tcr_status keep_work_of_others(const plan_work *work, const char *output, tcr_error *error) {
    const char *const written[] = {output, work->survey[TCR_LEFT], work->survey[TCR_RIGHT]};
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < sizeof written / sizeof *written && status == TCR_OK; i++)
        if (written[i] != NULL)
            status = tcr_outputs_may_seal(written[i], error);
    return status;
}

/* ---- The work ------------------------------------------------------------------------ */

/* A look in place of the set's map; an exit status. */
static int take_look(plan_work *work, const tcr_call *call) {
    const tcr_set *set = tcr_set_file_set(work->file);
    const tcr_tray *tray = tcr_set_tray(set);
    work->look = tcr_look_find(call->look.text);
    work->longest_mm =
        tcr_value_or(&call->longest, tcr_tray_nearest(tray, tcr_set_longest_mm(set)));
    if (!tcr_tray_has(tray, work->longest_mm)) {
        char nearest[TCR_NUMBER_SIZE];
        tcr_number_text(tcr_tray_nearest(tray, work->longest_mm), nearest);
        return tcr_say_wrong("--longest is %s, which the tray lacks; the nearest that it has is %s",
                             call->longest.text, nearest);
    }
    const tcr_status status =
        tcr_set_new_by_look(NULL, set, work->look, work->longest_mm, &work->own);
    if (status != TCR_OK)
        tcr_say("%s: %s", call->set, tcr_status_text(status));
    return tcr_exit_for(status);
}

/* Each of two eyes gets its own line; an exit status. */
static int part_eyes(plan_work *work, const tcr_call *call) {
    tcr_status status = TCR_OK;
    if (work->own == NULL)
        status = tcr_set_copy(NULL, tcr_set_file_set(work->file), &work->own);
    if (status == TCR_OK) {
        tcr_line_rule rule = *tcr_set_line(work->own);
        rule.shared = false;
        status = tcr_set_put_line(work->own, &rule);
    }
    if (status != TCR_OK)
        tcr_say("%s: %s", call->set, tcr_status_text(status));
    return tcr_exit_for(status);
}

/* Checks the set that is to be planned, the file's or one that the call changed; an exit status.
 * The rule may give what the tray lacks, since the plan chooses. */
static int check_before(plan_work *work, const tcr_call *call, tcr_error *error) {
    tcr_check_options options = tcr_check_options_default();
    options.any_length = true;
    int status = call->look.text != NULL ? take_look(work, call) : TCR_EXIT_DONE;
    if (status == TCR_EXIT_DONE && call->each_eye.text != NULL)
        status = part_eyes(work, call);
    if (status != TCR_EXIT_DONE)
        return status;
    if (work->own == NULL)
        return tcr_set_file_check(work->file, &options, &work->before, error) == TCR_OK
                   ? TCR_EXIT_DONE
                   : tcr_say_error(error);
    const tcr_status checked = tcr_check_new(work->own, &options, &work->before, error);
    if (checked != TCR_OK)
        tcr_say("%s: %s", call->set, error->message);
    return tcr_exit_for(checked);
}

/* Plans, until it is interrupted at most, and checks the planned set; an exit status. */
static int make_plan(plan_work *work, const tcr_call *call, const tcr_plan_options *o) {
    tcr_watch watch; /* of the plan and of its work */
    tcr_plan_options watched = *o;
    tcr_error error = tcr_error_none();
    const tcr_plan_pace pace = tcr_set_file_pace(work->file);
    watched.progress = (tcr_progress){tcr_watch_report, &watch};
    tcr_watch_begin(&watch, "keeps the best so far");
    tcr_may_end_early(true);
    watch.limit_s = tcr_value_or(&call->time_limit, watch.limit_s);
    tcr_status status = tcr_plan_new(tcr_check_set(work->before), &watched, &work->plan, &error);
    if (status == TCR_OK)
        status = tcr_plan_apply(work->plan, &work->planned);
    if (status == TCR_OK)
        status = tcr_check_new(work->planned, NULL, &work->after, NULL);
    if (status == TCR_OK)
        status = tcr_plan_work_new(work->plan, &pace, &work->work);
    tcr_may_end_early(false);
    tcr_watch_end(&watch);
    if (status == TCR_E_NO_SOLUTION)
        tcr_say("%s", error.message);
    else if (status != TCR_OK)
        tcr_say("%s: %s", call->set,
                error.status == status ? error.message : tcr_status_text(status));
    return tcr_exit_for(status);
}

static int put_outputs(plan_work *work, const tcr_call *call, tcr_error *error) {
    const tcr_report_file report[] = {
        {call->json.text, write_json, TCR_REPLACE_ANY},
        {call->csv.text, write_csv, TCR_REPLACE_ANY},
        {call->sheet.text, write_sheet, TCR_REPLACE_ANY},
        {call->sheet_zones.text, write_zones, TCR_REPLACE_ANY},
        {call->output.text, write_set, TCR_REPLACE_OWN},
        {work->survey[TCR_LEFT], write_left, TCR_REPLACE_OWN},
        {work->survey[TCR_RIGHT], write_right, TCR_REPLACE_OWN},
    };
    const tcr_status status = tcr_put_outputs(work, work->file, report,
                                              sizeof report / sizeof *report, write_table, error);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(error);
}

/* ---- The call ------------------------------------------------------------------------ */

static bool is_curl(const void *set, const char *text, size_t bytes) {
    char label[TCR_LABEL_SIZE];
    size_t index;
    snprintf(label, sizeof label, "%.*s", (int)bytes, text);
    return tcr_set_find_curl(set, label, &index) == TCR_OK;
}

/* Curls have names once the set is known. */
static int read_curls(const char *list, const tcr_set *set, tcr_plan_options *o) {
    char label[TCR_LABEL_SIZE];
    const tcr_list_form form = {
        .option = "--curls", .separator = ',', .is_value = is_curl, .context = set};
    if (list != NULL && tcr_say_separator(&form, list))
        return TCR_EXIT_WRONG;
    while (list != NULL && *list != '\0') {
        size_t bytes;
        const char *text = tcr_next_value(&list, form.separator, &bytes);
        snprintf(label, sizeof label, "%.*s", (int)bytes, text);
        if (o->curls == TCR_PLAN_CURLS_MAX)
            return tcr_say_wrong("--curls has more than %d values", TCR_PLAN_CURLS_MAX);
        if (tcr_find_curl(set, "--curls", true, label, &o->curl[o->curls++]) != TCR_EXIT_DONE)
            return TCR_EXIT_WRONG;
        list += *list == form.separator;
    }
    return TCR_EXIT_DONE;
}

/* Options that do not go together. */
static int check_call(const tcr_call *call) {
#ifndef TCR_WITH_DRAW
    tcr_picture_look look;
    if (call->sheet.text != NULL)
        return tcr_picture_understand(call, "--sheet", &call->sheet, &look);
    if (call->sheet_zones.text != NULL)
        return tcr_picture_understand(call, "--sheet-zones", &call->sheet_zones, &look);
#endif
    if (call->longest.text != NULL && call->look.text == NULL)
        return tcr_say_wrong("--longest is for a look; give --look too, or leave out --longest");
    if (tcr_value_or(&call->samples, 0) > 0 && call->free_line.text != NULL &&
        (tcr_objective)tcr_value_or(&call->least, 0) == TCR_LEAST_MAXIMUM)
        return tcr_say_wrong("--samples, --least max and --free do not go together; leave out "
                             "one of them");
    return tcr_part_reports(call);
}

/* An eye that nobody measured is planned over samples. */
static double usual_samples(const tcr_set *set) {
    static const double USUAL = 200;
    for (int side = 0; side < TCR_SIDES; side++) {
        const size_t lashes = tcr_set_lash_count(set, (tcr_side)side);
        if (lashes > 0 && tcr_set_drawn_count(set, (tcr_side)side) == lashes)
            return USUAL;
    }
    return 0;
}

static const double USUAL_FREE_MM = 1.0; /* of --free without a value */

static int understand(const tcr_call *call, const tcr_set_file *file, tcr_plan_options *o) {
    *o = tcr_plan_options_default();
    o->limits = tcr_set_file_plan_limits(file);
    o->limits.overlength_mm = tcr_value_or(&call->overlength, o->limits.overlength_mm);
    o->share = tcr_value_or(&call->share, o->share);
    o->objective = (tcr_objective)tcr_value_or(&call->least, (double)o->objective);
    o->free_mm = call->free_line.text != NULL ? tcr_value_or(&call->free_line, USUAL_FREE_MM) : 0.0;
    o->zone_step_most_mm = tcr_value_or(&call->zone_step, o->zone_step_most_mm);
    if (call->most_lengths.count > 0)
        o->lengths_most = (size_t)call->most_lengths.number[0];
    o->samples = (size_t)tcr_value_or(&call->samples, usual_samples(tcr_set_file_set(file)));
    if (call->corrections.count > 0)
        o->corrections = (size_t)call->corrections.number[0];
    o->correct_all = call->corrections.text != NULL && call->corrections.count == 0;
    if (call->placements.count > 0)
        memset(o->placement, 0, sizeof o->placement);
    for (size_t i = 0; i < call->placements.count; i++)
        o->placement[(int)call->placements.number[i]] = true;
    o->same_placement = call->same_placement.text != NULL;
    o->diameters = call->diameters.count;
    memcpy(o->diameter_mm, call->diameters.number, o->diameters * sizeof *o->diameter_mm);
    o->fans = call->fans.count;
    for (size_t i = 0; i < o->fans; i++)
        o->fan[i] = (int)call->fans.number[i];
    return read_curls(call->curls.text, tcr_set_file_set(file), o);
}

static int run(const tcr_call *call) {
    plan_work work = {.call = call, .full = call->full.text != NULL};
    tcr_plan_options options;
    tcr_error error;
    int exit_status = check_call(call);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    if (tcr_set_file_read(call->set, NULL, &work.file, &error) != TCR_OK ||
        name_surveys(&work, call->output.text, &error) != TCR_OK ||
        keep_work_of_others(&work, call->output.text, &error) != TCR_OK)
        exit_status = tcr_say_error(&error);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = understand(call, work.file, &options);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = check_before(&work, call, &error);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = make_plan(&work, call, &options);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = put_outputs(&work, call, &error);
    for (int side = 0; side < TCR_SIDES; side++)
        free(work.survey[side]);
    tcr_check_free(work.after);
    tcr_set_free(work.planned);
    tcr_plan_work_free(work.work);
    tcr_plan_free(work.plan);
    tcr_check_free(work.before);
    tcr_set_free(work.own);
    tcr_set_file_free(work.file);
    return exit_status;
}

const tcr_command tcr_command_plan = {
    "plan",      TCR_BIT_PLAN,
    TCR_ONE_SET, "chooses lashes, lengths, placements and corrections for a map",
    ABOUT,       NOTES,
    run};
