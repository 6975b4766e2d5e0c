/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lists of a work sheet: zones, corrections, what to lay out, and loads. */
#include "draw/work_sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/load.h>

/* ---- Zones --------------------------------------------------------------------------- */

const tcr_plan_cell *tcr_work_cell_at(const tcr_plan *plan, tcr_side side, size_t zone,
                                      tcr_layer layer) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    for (size_t c = 0; c < r->cells; c++)
        if (r->cell[c].side == side && r->cell[c].zone == zone && r->cell[c].layer == layer)
            return &r->cell[c];
    return NULL;
}

/* A line below a zone's with how many lashes of each layer get it. */
static void counts(tcr_work_flow *flow, const double *at, tcr_side side, size_t zone) {
    const tcr_work_table table = {at, 5, 0, true};
    char text[5][TCR_WORDS] = {"", "", "", "", ""};
    const char *cell[5];
    /* Of lashes that nobody measured it is a mean over clients, rounded. */
    const char *about = tcr_plan_eye_of(flow->sheet->plan, side)->zones_only ? "about " : "";
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_plan_cell *of = tcr_work_cell_at(flow->sheet->plan, side, zone, (tcr_layer)layer);
        if (of != NULL && of->lashes == 0) /* a mean that is rounded */
            snprintf(text[2 + layer], TCR_WORDS, "hardly any lash");
        else if (of != NULL)
            snprintf(text[2 + layer], TCR_WORDS, "%s%zu %s", about, of->lashes,
                     of->lashes == 1 ? "lash" : "lashes");
    }
    for (int i = 0; i < 5; i++)
        cell[i] = text[i];
    tcr_work_cells(flow, &table, cell, false);
}

/* A line below a zone's with how thick each layer's are, and how many fibres. */
static void kinds(tcr_work_flow *flow, const double *at, tcr_side side, size_t zone) {
    const tcr_work_table table = {at, 5, 0, true};
    char text[5][TCR_WORDS] = {"", "", "", "", ""}, number[TCR_WORDS];
    const char *cell[5];
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_plan_cell *of = tcr_work_cell_at(flow->sheet->plan, side, zone, (tcr_layer)layer);
        if (of == NULL)
            continue;
        tcr_say_trimmed(number, of->choice.diameter_mm, 3);
        if (of->choice.fan > 1)
            snprintf(text[2 + layer], TCR_WORDS, "%.20s \xc3\x97 %d", number, of->choice.fan);
        else
            snprintf(text[2 + layer], TCR_WORDS, "%.20s mm", number);
    }
    for (int i = 0; i < 5; i++)
        cell[i] = text[i];
    tcr_work_cells(flow, &table, cell, false);
}

void tcr_work_zones(tcr_work_flow *flow, tcr_side side) {
    static const double AT[] = {0, 9, 22, 46, 70};
    static const tcr_work_table TABLE = {AT, 5, 0, false};
    static const char *const HEAD[] = {"zone", "up to", "bottom", "middle", "top"};
    const tcr_set *set = flow->sheet->set;
    char title[TCR_WORDS];
    size_t zones;
    const tcr_zone *map = tcr_set_map(set, side, &zones);
    snprintf(title, sizeof title, "%s: zones, from the inner corner", tcr_say_side(side));
    tcr_work_heading(flow, title);
    tcr_work_cells(flow, &TABLE, HEAD, true);
    for (size_t k = 0; k < zones; k++) {
        char text[5][TCR_WORDS], number[TCR_WORDS];
        const char *cell[5];
        snprintf(text[0], TCR_WORDS, "%zu", k + 1);
        snprintf(text[1], TCR_WORDS, "%.20s %%", tcr_say_trimmed(number, 100 * map[k].to, 1));
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            const tcr_plan_cell *at =
                tcr_work_cell_at(flow->sheet->plan, side, k, (tcr_layer)layer);
            if (at != NULL)
                tcr_work_say(text[2 + layer], set, &at->choice, true);
            else
                snprintf(text[2 + layer], TCR_WORDS,
                         tcr_set_lashes_in(set, side, k, (tcr_layer)layer) > 0 ? "bare"
                                                                               : "no lash");
        }
        for (int i = 0; i < 5; i++)
            cell[i] = text[i];
        tcr_work_cells(flow, &TABLE, cell, false);
        if (!tcr_plan_result_of(flow->sheet->plan)->one_kind)
            kinds(flow, AT, side, k);
        if (flow->sheet->form == TCR_SHEET_ZONES)
            counts(flow, AT, side, k);
    }
}

/* ---- Corrections --------------------------------------------------------------------- */

static const double CORRECTION_AT[] = {0, 8, 34, 58, 75};
static const tcr_work_table CORRECTION = {CORRECTION_AT, 5, 1 << 1, true};

/* The eye above its first row and above each column that its rows go on in. */
static void correction_head(tcr_work_flow *flow, tcr_side side, bool first) {
    static const char *const HEAD[] = {"no.", "lash", "where", "gets", "not"};
    char line[TCR_WORDS];
    if (!first && flow->y + tcr_work_line(flow, &CORRECTION) <= flow->bottom)
        return;
    tcr_work_room(flow, 4 * TCR_WORK_DENSE); /* no heading without a row below it */
    snprintf(line, sizeof line, "%s%s", tcr_say_side(side), first ? "" : ", corrections continued");
    tcr_work_paragraph(flow, line, flow->canvas->style->ink);
    tcr_work_cells(flow, &CORRECTION, HEAD, true);
}

static void correction_row(tcr_work_flow *flow, size_t c) {
    const tcr_work_sheet *sheet = flow->sheet;
    const tcr_work_correction *of = &sheet->correction[c];
    const tcr_lash *lash = tcr_set_lash(sheet->set, of->side, of->lash);
    const size_t zone = tcr_set_zone_at(sheet->set, of->side, of->u);
    const tcr_plan_cell *at = tcr_work_cell_at(sheet->plan, of->side, zone, lash->layer);
    char text[4][TCR_WORDS], place[TCR_WORDS];
    snprintf(text[0], TCR_WORDS, "%zu", c + 1);
    snprintf(text[1], TCR_WORDS, "%zu %s %.12s", zone + 1, tcr_layer_name(lash->layer),
             tcr_work_place(place, of->u));
    tcr_work_say(text[2], sheet->set,
                 &tcr_plan_eye_of(sheet->plan, of->side)->lash[of->lash].choice, true);
    text[3][0] = '\0';
    if (at != NULL)
        tcr_work_say(text[3], sheet->set, &at->choice, true);
    char id[TCR_WORK_ID];
    const char *const cell[] = {text[0], tcr_work_id(id, sheet->set, of->side, of->lash), text[1],
                                text[2], text[3]};
    tcr_work_cells(flow, &CORRECTION, cell, false);
}

static void corrections(tcr_work_flow *flow) {
    const tcr_work_sheet *sheet = flow->sheet;
    char line[TCR_WORDS];
    snprintf(line, sizeof line, "Corrections: %zu %s", sheet->corrections,
             sheet->corrections == 1 ? "lash" : "lashes");
    if (tcr_plan_result_of(sheet->plan)->points > 1)
        tcr_work_room(flow, 56); /* the heading stays with the curve */
    tcr_work_heading(flow, line);
    tcr_work_curve(flow);
    if (sheet->corrections == 0)
        return;
    tcr_work_paragraph(flow,
                       "They differ from their zone. Where: zone, layer, and how far "
                       "from the inner corner (0 %) to the outer "
                       "one (100 %).",
                       flow->canvas->style->quiet);
    for (size_t c = 0; c < sheet->corrections; c++) {
        const tcr_side side = sheet->correction[c].side;
        correction_head(flow, side, c == 0 || sheet->correction[c - 1].side != side);
        correction_row(flow, c);
    }
}

/* ---- What to lay out ----------------------------------------------------------------- */

enum { PACES_SIZE = 2 * TCR_WORDS };
static const char ASSUMED[] = " (assumed)", PRACTICE[] = " (common practice)";

/* "with 10 % for loss (assumed)" */
static const char *say_loss(const tcr_plan_work *w, char words[TCR_WORDS]) {
    char share[TCR_WORDS];
    snprintf(words, TCR_WORDS, "with %.20s %% for loss%s",
             tcr_say_trimmed(share, 100 * w->pace->loss_share, 1),
             tcr_work_source(w->pace->loss_share, tcr_plan_pace_default().loss_share, ASSUMED));
    return words;
}

static void say_paces(const tcr_plan_work *w, char line[PACES_SIZE]) {
    const tcr_plan_pace *pace = w->pace, usual = tcr_plan_pace_default();
    char a[TCR_WORDS], b[TCR_WORDS], c[TCR_WORDS], d[TCR_WORDS], e[TCR_WORDS];
    char eye[TCR_WORDS] = "";
    if (w->eye_changes > 0)
        snprintf(eye, sizeof eye, ", %.20s s a change of eye%s",
                 tcr_say_trimmed(a, pace->eye_change_s, 1),
                 tcr_work_source(pace->eye_change_s, usual.eye_change_s, ASSUMED));
    snprintf(line, PACES_SIZE,
             "About %.20s minutes: %.20s to prepare%s, %.20s s a lash%s, "
             "%.20s s a change of row%s%s. Fresh glue every %.20s minutes%s: %zu %s.",
             tcr_say_number(a, w->minutes, 0, false), tcr_say_trimmed(b, pace->preparation_min, 1),
             tcr_work_source(pace->preparation_min, usual.preparation_min, ASSUMED),
             tcr_say_trimmed(c, pace->lash_s, 1),
             tcr_work_source(pace->lash_s, usual.lash_s, PRACTICE),
             tcr_say_trimmed(d, pace->change_s, 1),
             tcr_work_source(pace->change_s, usual.change_s, ASSUMED), eye,
             tcr_say_trimmed(e, pace->drop_min, 1),
             tcr_work_source(pace->drop_min, usual.drop_min, PRACTICE), w->drops,
             w->drops == 1 ? "drop" : "drops");
}

static const char FIBRES[] = "\xe2\x80\x9cLay out\xe2\x80\x9d counts fibres: a fan takes several.";

void tcr_work_tally(tcr_work_flow *flow) {
    static const double AT[] = {0, 16, 32, -62, -82};
    const tcr_work_table table = {AT, 5, 0, flow->sheet->dense_first};
    static const char *const HEAD[] = {"length", "curl", "diameter", "lashes", "lay out"};
    const tcr_plan_work *w = flow->sheet->work;
    char text[5][TCR_WORDS], line[PACES_SIZE], heading[2 * TCR_WORDS];
    snprintf(heading, sizeof heading, "To lay out, %s", say_loss(w, line));
    tcr_work_heading(flow, heading);
    tcr_work_cells(flow, &table, HEAD, true);
    for (size_t r = 0; r < w->rows; r++) {
        const tcr_plan_row *row = &w->row[r];
        tcr_say_trimmed(text[0], row->length_mm, 2);
        snprintf(text[1], TCR_WORDS, "%s", tcr_set_curl(flow->sheet->set, row->curl)->label);
        tcr_say_trimmed(text[2], row->diameter_mm, 3);
        snprintf(text[3], TCR_WORDS, "%zu", row->lashes);
        snprintf(text[4], TCR_WORDS, "%zu", row->with_loss);
        const char *const cell[] = {text[0], text[1], text[2], text[3], text[4]};
        tcr_work_cells(flow, &table, cell, false);
    }
    snprintf(text[3], TCR_WORDS, "%zu", w->lashes);
    snprintf(text[4], TCR_WORDS, "%zu", w->with_loss);
    const char *const sum[] = {"in all", "", "", text[3], text[4]};
    tcr_work_cells(flow, &table, sum, false);
    say_paces(w, line);
    tcr_work_paragraph(flow, line, flow->canvas->style->quiet);
    if (w->fibres > w->lashes)
        tcr_work_paragraph(flow, FIBRES, flow->canvas->style->quiet);
}

double tcr_work_tally_words(tcr_work_flow *flow, double y) {
    enum { SIZE = 700 };
    const tcr_plan_work *w = flow->sheet->work;
    char line[SIZE] = "", paces[PACES_SIZE], length[TCR_WORDS], thick[TCR_WORDS];
    size_t used = 0;
    for (size_t r = 0; r < w->rows && used < SIZE; r++)
        used +=
            (size_t)snprintf(line + used, SIZE - used, "%s%zu of %.20s %s %.20s", r > 0 ? ", " : "",
                             w->row[r].with_loss, tcr_say_trimmed(length, w->row[r].length_mm, 2),
                             tcr_set_curl(flow->sheet->set, w->row[r].curl)->label,
                             tcr_say_trimmed(thick, w->row[r].diameter_mm, 3));
    if (used < SIZE)
        used += (size_t)snprintf(line + used, SIZE - used, "; %zu in all, %s.", w->with_loss,
                                 say_loss(w, length));
    say_paces(w, paces);
    const double high =
        fmax(tcr_work_paragraph_height(flow, line), tcr_work_paragraph_height(flow, paces));
    if (used >= SIZE || y + TCR_WORK_HEADING + high > flow->bottom)
        return y;
    flow->column = 0;
    flow->y = y;
    tcr_work_heading(flow, "To lay out");
    tcr_work_paragraph(flow, line, flow->canvas->style->ink);
    const double end = flow->y;
    flow->column = 1;
    flow->y = y;
    tcr_work_heading(flow, "How long it takes");
    tcr_work_paragraph(flow, paces, flow->canvas->style->quiet);
    return fmax(flow->y, end);
}

static double line_of(const tcr_work_sheet *sheet) {
    return sheet->dense_first ? TCR_WORK_DENSE : TCR_WORK_LINE;
}

double tcr_work_tally_height(const tcr_work_flow *flow) {
    const tcr_plan_work *w = flow->sheet->work;
    char line[PACES_SIZE];
    say_paces(w, line);
    return TCR_WORK_HEADING + line_of(flow->sheet) * (double)(w->rows + 2) +
           tcr_work_paragraph_height(flow, line) +
           (w->fibres > w->lashes ? tcr_work_paragraph_height(flow, FIBRES) : 0);
}

/* ---- Loads --------------------------------------------------------------------------- */

enum { HEAVIEST = 8 };

enum { LIMITS_SIZE = 2 * TCR_WORDS };

static void say_limits(const tcr_work_sheet *sheet, char line[LIMITS_SIZE]) {
    const tcr_limits *limits = &tcr_plan_options_of(sheet->plan)->limits;
    char a[TCR_WORDS], b[TCR_WORDS];
    snprintf(line, LIMITS_SIZE,
             "Mass: extension against lash. Moment: turning force at the root, of both against the "
             "lash alone. "
             "Limits of this plan: %.20s and %.20s, assumed; no validated limit exists.",
             tcr_say_trimmed(a, limits->mass_ratio, 2),
             tcr_say_trimmed(b, limits->moment_ratio, 2));
}

void tcr_work_loads(tcr_work_flow *flow) {
    static const double AT[] = {0, 30, -58, -74, 77};
    const tcr_work_table table = {AT, 5, 1 << 0, flow->sheet->dense_first};
    static const char *const HEAD[] = {"lash", "gets", "mass", "moment", ""};
    const tcr_work_sheet *sheet = flow->sheet;
    const tcr_limits *limits = &tcr_plan_options_of(sheet->plan)->limits;
    tcr_loaded_lash most[HEAVIEST];
    char line[LIMITS_SIZE];
    const size_t count =
        tcr_limits_nearest(limits, sheet->after, 1u << TCR_LEFT | 1u << TCR_RIGHT, most, HEAVIEST);
    tcr_work_heading(flow, "Load: the lashes that carry most");
    tcr_work_cells(flow, &table, HEAD, true);
    for (size_t i = 0; i < count; i++) {
        char id[TCR_WORK_ID];
        tcr_work_id(id, sheet->set, most[i].side, most[i].lash);
        char gets[TCR_WORDS], mass[TCR_WORDS], moment[TCR_WORDS];
        tcr_work_say(gets, sheet->set,
                     &tcr_check_eye(sheet->after, most[i].side)->lash[most[i].lash].choice, false);
        tcr_say_number(mass, most[i].load.mass_ratio, 1, false);
        tcr_say_number(moment, most[i].load.moment_ratio, 1, false);
        const char *const cell[] = {id, gets, mass, moment, most[i].share > 1 ? "too much" : ""};
        tcr_work_cells(flow, &table, cell, false);
    }
    say_limits(sheet, line);
    tcr_work_paragraph(flow, line, flow->canvas->style->quiet);
}

double tcr_work_loads_height(const tcr_work_flow *flow) {
    char line[LIMITS_SIZE];
    say_limits(flow->sheet, line);
    return TCR_WORK_HEADING + line_of(flow->sheet) * (HEAVIEST + 1) +
           tcr_work_paragraph_height(flow, line);
}

/* ---- All ----------------------------------------------------------------------------- */

void tcr_work_lists(tcr_work_flow *flow) {
    const tcr_picture *picture = &flow->sheet->picture;
    if (flow->sheet->zones_among_lists)
        for (int i = 0; i < picture->eyes; i++)
            tcr_work_zones(flow, picture->side[i]);
    for (int i = 0; i < picture->eyes && flow->sheet->zones_among_lists; i++)
        tcr_work_wants(flow, picture->side[i]);
    if (flow->sheet->form == TCR_SHEET_ZONES)
        return;
    if (!flow->sheet->tally_first)
        tcr_work_tally(flow);
    tcr_work_order(flow);
    corrections(flow);
    tcr_work_bare(flow);
    if (!flow->sheet->loads_first)
        tcr_work_loads(flow);
}
