/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tipcrest check of many sets: a line for each, ranked, and their reports in a folder. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

#include "check.h"
#include "check_class.h"
#include "common.h"

/* The endings of a set's reports, and what writes them. */
static const struct {
    const char *ending;
    tcr_report_writer write;
} REPORTS[] = {
    {".json", tcr_check_write_json}, {".csv", tcr_check_write_csv}, {".txt", tcr_check_write_full}};
enum { REPORTS_OF_SET = sizeof REPORTS / sizeof *REPORTS, NAME_SIZE = 256, STEM_MOST = 240 };

/* A set of the call. */
typedef struct entry {
    tcr_work work;
    tcr_error error;      /* why it has no check */
    char name[NAME_SIZE]; /* of its reports; "" where they have none */
    char path[REPORTS_OF_SET][PATH_MAX];
} entry;

typedef struct many {
    const tcr_call *call;
    size_t count, checked;
    entry *entries;
    tcr_ranked_set *ranked; /* those with a check */
    tcr_work_output *outputs;
    const char **inputs;
    size_t output_count, input_count;
    tcr_picture_look look;
} many;

/* ---- Names --------------------------------------------------------------------------- */

/* How many bytes the name of a file has without its ending, and without what is too long. */
static int stem_of(const char *base) {
    const char *point = strrchr(base, '.');
    const size_t length = point != NULL && point != base ? (size_t)(point - base) : strlen(base);
    return (int)(length < STEM_MOST ? length : STEM_MOST);
}

/* Whether a set before has the name; some folders do not tell capitals from small letters. */
static bool is_taken(const many *m, const entry *of, const char *name) {
    for (const entry *e = m->entries; e < of; e++)
        if (strcasecmp(e->name, name) == 0)
            return true;
    return false;
}

/* Gives the reports of a set a name of their own: drill, drill-2, drill-3 ... */
static void choose_name(const many *m, entry *e, const char *path) {
    const char *base = tcr_base_name(path);
    const int stem = stem_of(base);
    snprintf(e->name, sizeof e->name, "%.*s", stem, base);
    for (unsigned i = 2; is_taken(m, e, e->name); i++)
        snprintf(e->name, sizeof e->name, "%.*s-%u", stem, base, i);
}

/* ---- The work ------------------------------------------------------------------------ */

static bool make_room(many *m) {
    m->entries = calloc(m->count, sizeof *m->entries);
    m->ranked = calloc(m->count, sizeof *m->ranked);
    m->outputs = calloc(m->count * REPORTS_OF_SET + 1, sizeof *m->outputs);
    m->inputs = calloc(m->count * (1 + TCR_INPUTS_MAX), sizeof *m->inputs);
    return m->entries != NULL && m->ranked != NULL && m->outputs != NULL && m->inputs != NULL;
}

static void release(many *m) {
    for (size_t i = 0; m->entries != NULL && i < m->count; i++)
        tcr_free_checked(&m->entries[i].work.set);
    free(m->entries);
    free(m->ranked);
    free(m->outputs);
    free(m->inputs);
}

/* Reads, checks and ranks the sets. Messages about sets that failed come at the end. */
static void check_all(many *m) {
    for (size_t i = 0; i < m->count; i++) {
        entry *e = &m->entries[i];
        const char *path = m->call->sets[i];
        e->work = (tcr_work){.call = m->call, .full = m->call->full.text != NULL};
        m->inputs[m->input_count++] = path;
        if (tcr_read_checked(m->call, path, true, &e->work.set, &e->error) != TCR_OK)
            continue;
        e->error.status = TCR_OK;
        m->ranked[m->checked++] = (tcr_ranked_set){.name = path, .check = e->work.set.check};
        m->input_count += tcr_input_paths(e->work.set.file, &m->inputs[m->input_count]);
    }
    (void)tcr_rank_sets(m->ranked, m->checked); /* none where none was checked */
}

/* Makes the folder, and names the reports of every set that was checked. An exit status. */
static int name_reports(many *m) {
    const char *folder = m->call->reports.text;
    (void)mkdir(folder, 0777); /* one that is there will do; else the first report says why not */
    for (size_t i = 0; i < m->count; i++) {
        entry *e = &m->entries[i];
        if (e->error.status != TCR_OK)
            continue;
        choose_name(m, e, m->call->sets[i]);
        for (size_t k = 0; k < REPORTS_OF_SET; k++) {
            const int length =
                snprintf(e->path[k], PATH_MAX, "%s/%s%s", folder, e->name, REPORTS[k].ending);
            if (length >= PATH_MAX)
                return tcr_say_wrong("--reports: the name of the folder is too long");
            m->outputs[m->output_count++] =
                (tcr_work_output){{e->path[k], REPORTS[k].write, TCR_REPLACE_NONE}, &e->work};
        }
    }
    return TCR_EXIT_DONE;
}

#ifdef TCR_WITH_DRAW

static tcr_status write_picture(const void *work, tcr_sink sink, void *context) {
    const many *m = work;
    return tcr_class_picture(m->ranked, m->checked, &m->look, sink, context);
}

/* The picture of all sets, if one is asked for and there is anything to draw. */
static void add_picture(many *m) {
    const char *file = m->call->picture.text;
    if (file == NULL || m->checked == 0)
        return;
    if (tcr_class_has_picture(m->ranked, m->checked))
        m->outputs[m->output_count++] =
            (tcr_work_output){{file, write_picture, TCR_REPLACE_ANY}, m};
    else
        tcr_say("no picture: none of the sets can be judged");
}

#else
static void add_picture(many *m) { (void)m; }
#endif

static tcr_status write_ranking(const void *work, tcr_sink sink, void *context) {
    const many *m = work;
    return m->count == 1 ? tcr_check_write_table(&m->entries[0].work, sink, context)
                         : tcr_report_ranking(m->ranked, m->checked, sink, context);
}

/* Says what was wrong with sets; an exit status. */
static int say_failed(const many *m) {
    int exit_status = TCR_EXIT_DONE;
    for (size_t i = 0; i < m->count; i++) {
        if (m->entries[i].error.status == TCR_OK)
            continue;
        const int of_set = tcr_say_error(&m->entries[i].error);
        exit_status = of_set > exit_status ? of_set : exit_status;
    }
    return exit_status;
}

static int run(many *m) {
    tcr_error error;
    int exit_status = tcr_picture_understand(m->call, "--picture", &m->call->picture, &m->look);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    check_all(m);
    if (m->call->reports.text != NULL)
        exit_status = name_reports(m);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    add_picture(m);
    if (m->checked > 0 && tcr_put_outputs_beside(m, m->inputs, m->input_count, m->outputs,
                                                 m->output_count, write_ranking, &error) != TCR_OK)
        exit_status = tcr_say_error(&error);
    const int of_sets = say_failed(m);
    return of_sets > exit_status ? of_sets : exit_status;
}

/* Options that are for one set, or beside which --reports has no place. */
static int refuse_strays(const tcr_call *call) {
    const struct {
        const char *option;
        const tcr_value *value;
        bool for_many, beside_reports; /* of many sets; of one set whose reports go into a folder */
    } known[] = {{"--json", &call->json, false, false},      {"--csv", &call->csv, false, false},
                 {"--picture", &call->picture, true, false}, {"--width", &call->width, true, false},
                 {"--dpi", &call->dpi, true, false},         {"--dark", &call->dark, true, false},
                 {"--full", &call->full, false, true}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        if (known[i].value->text == NULL)
            continue;
        if (call->set_count > 1 && !known[i].for_many)
            return tcr_say_wrong("%s is for one set; for many, --reports DIR writes their full "
                                 "reports into a folder",
                                 known[i].option);
        if (call->set_count == 1 && !known[i].beside_reports)
            return tcr_say_wrong("%s and --reports do not go together; leave one of them out",
                                 known[i].option);
    }
    return TCR_EXIT_DONE;
}

int tcr_check_many(const tcr_call *call) {
    many m = {.call = call, .count = call->set_count};
    int exit_status = refuse_strays(call);
    if (exit_status == TCR_EXIT_DONE && !make_room(&m)) {
        tcr_error error;
        tcr_fill_error(&error, TCR_E_MEMORY, call->set);
        exit_status = tcr_say_error(&error);
    } else if (exit_status == TCR_EXIT_DONE) {
        exit_status = run(&m);
    }
    release(&m);
    return exit_status;
}
