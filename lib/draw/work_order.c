/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lash by lash: the working order, and the lashes that are left bare. */
#include "draw/work_sheet.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { LISTED_MOST = 2000 };

/* ---- The order ----------------------------------------------------------------------- */

static void say_order(tcr_work_flow *flow) {
    const tcr_plan_work *w = flow->sheet->work;
    const tcr_plan_pace usual = tcr_plan_pace_default();
    char line[3 * TCR_WORDS], a[TCR_WORDS], b[TCR_WORDS];
    static const char *const FOUND[] = {
        [TCR_ORDER_FOUND] = "No lash comes",
        [TCR_ORDER_NOT_FOUND] = "No order was found that avoids it: lashes come",
        [TCR_ORDER_CROWD] = "The lashes are too crowded to avoid it: lashes come",
        [TCR_ORDER_NARROW] = "The eyes are too narrow to avoid it: lashes come",
        [TCR_ORDER_TOO_MANY] = "With so many lashes no order was looked for in which none comes"};
    snprintf(line, sizeof line, "%s within %.20s mm%s of one placed in the %.20s s%s before. ",
             FOUND[w->order], tcr_say_trimmed(a, w->pace->distance_mm, 2),
             tcr_work_source(w->pace->distance_mm, usual.distance_mm, " (assumed)"),
             tcr_say_trimmed(b, w->pace->setting_s, 1),
             tcr_work_source(w->pace->setting_s, usual.setting_s, " (assumed)"));
    const size_t used = strlen(line);
    char eyes[TCR_WORDS] = "";
    if (w->eye_changes > 0)
        snprintf(eyes, sizeof eyes, " %zu %s of eye.", w->eye_changes,
                 w->eye_changes == 1 ? "change" : "changes");
    snprintf(
        line + used, sizeof line - used,
        "%zu %s of tray row; no order has fewer than %zu.%s R and L: the client\xe2\x80\x99s "
        "right and left eye. Place: along the lid from the inner corner (0 %%) to the outer one "
        "(100 %%). Laid: on which side of the lash. Correction: its number.",
        w->changes, w->changes == 1 ? "change" : "changes", w->least_changes, eyes);
    tcr_work_paragraph(flow, line, flow->canvas->style->quiet);
}

/* The number of a lash among the corrections, or 0. */
static size_t correction_of(const tcr_work_sheet *sheet, const tcr_plan_place *place) {
    for (size_t c = 0; c < sheet->corrections; c++)
        if (sheet->correction[c].side == place->side && sheet->correction[c].lash == place->lash)
            return c + 1;
    return 0;
}

/* The columns of the order; fans have one where they differ. */
static const double PLAIN[] = {-5.5, 7, 33, 41.5, -63, 64.5, 75};
static const double WITH_FAN[] = {-5.5, 7, 28.5, 36.5, -58, 59.5, 69, 75.5};
static const tcr_work_table TABLE = {PLAIN, 7, 1 << 1, true};
static const tcr_work_table FAN_TABLE = {WITH_FAN, 8, 1 << 1, true};

static void head(tcr_work_flow *flow, const tcr_work_table *table) {
    static const char *const HEAD[] = {"no.",   "lash", "zone",       "layer",
                                       "place", "laid", "correction", ""};
    static const char *const FAN_HEAD[] = {"no.",   "lash", "zone", "layer",
                                           "place", "laid", "fan",  "correction"};
    tcr_work_cells(flow, table, table == &FAN_TABLE ? FAN_HEAD : HEAD, true);
}

static void row(tcr_work_flow *flow, const tcr_work_table *table, size_t p) {
    const tcr_work_sheet *sheet = flow->sheet;
    const tcr_plan_place *place = &sheet->work->place[p];
    const tcr_lash *lash = tcr_set_lash(sheet->set, place->side, place->lash);
    const tcr_choice *choice = &tcr_plan_eye_of(sheet->plan, place->side)->lash[place->lash].choice;
    const size_t correction = correction_of(sheet, place);
    char id[TCR_WORK_ID], number[24], zone[24], at[TCR_WORDS], corrected[32] = "", fan[24];
    snprintf(number, sizeof number, "%zu", p + 1);
    snprintf(zone, sizeof zone, "%zu", tcr_set_zone_at(sheet->set, place->side, lash->u) + 1);
    snprintf(fan, sizeof fan, "%d", choice->fan);
    if (correction > 0)
        snprintf(corrected, sizeof corrected, "no. %zu", correction);
    const char *const cell[] = {number,
                                tcr_work_id(id, sheet->set, place->side, place->lash),
                                zone,
                                tcr_layer_name(lash->layer),
                                tcr_work_place(at, lash->u),
                                tcr_say_placement(choice->placement),
                                table == &FAN_TABLE ? fan : corrected,
                                corrected};
    tcr_work_cells(flow, table, cell, false);
}

/* "8 C 0.12 mm, 33 lashes", which begins a run of one tray row and each column it goes on in. */
static void heading_of(tcr_work_flow *flow, size_t p, size_t end, bool continued) {
    const tcr_plan_row *of = &flow->sheet->work->row[flow->sheet->work->place[p].row];
    const tcr_setting heading = {
        .type = TCR_TYPE_HEADING, .colour = flow->canvas->style->ink, .width_mm = TCR_PAGE_COLUMN};
    char a[TCR_WORDS], b[TCR_WORDS], line[2 * TCR_WORDS];
    snprintf(line, sizeof line, "%.20s %s %.20s mm, %zu %s%s", tcr_say_trimmed(a, of->length_mm, 2),
             tcr_set_curl(flow->sheet->set, of->curl)->label,
             tcr_say_trimmed(b, of->diameter_mm, 3), end - p, end - p == 1 ? "lash" : "lashes",
             continued ? ", continued" : "");
    tcr_canvas_text(flow->canvas, tcr_work_left(flow), flow->y + 3.4, line, &heading);
    flow->y += 4.4;
}

static void run_of(tcr_work_flow *flow, const tcr_work_table *table, size_t first, size_t end) {
    const double line = tcr_work_line(flow, table);
    tcr_work_room(flow, 4.4 + 3 * line);
    heading_of(flow, first, end, false);
    head(flow, table);
    for (size_t p = first; p < end; p++) {
        if (flow->y + line > flow->bottom) {
            tcr_work_room(flow, line);
            heading_of(flow, first, end, true);
            head(flow, table);
        }
        row(flow, table, p);
    }
    flow->y += 1;
}

void tcr_work_order(tcr_work_flow *flow) {
    const tcr_plan_work *w = flow->sheet->work;
    bool diameter, fan;
    tcr_work_heading(flow, "Working order");
    say_order(flow);
    if (w->places > LISTED_MOST) {
        tcr_work_paragraph(flow, "Too many to list here; the JSON report has them.",
                           flow->canvas->style->quiet);
        return;
    }
    tcr_work_same(flow->sheet, &diameter, &fan);
    for (size_t p = 0, end; p < w->places; p = end) {
        for (end = p + 1; end < w->places && w->place[end].row == w->place[p].row;)
            end++;
        run_of(flow, fan ? &TABLE : &FAN_TABLE, p, end);
    }
}

/* ---- Bare ---------------------------------------------------------------------------- */

static const char *const REASON[TCR_USES] = {
    [TCR_BARE_COVER] = "spared: the line is covered without it",
    [TCR_BARE_CONDITION] = "its condition",
    [TCR_BARE_ROW] = "its row says none",
    [TCR_BARE_BABY] = "short or thin",
    [TCR_BARE_STRAY] = "astray",
    [TCR_BARE_BOND] = "too short for the bond",
    [TCR_BARE_WEAK] = "too short or too weak for its zone\xe2\x80\x99s lengths",
};

static size_t bare_of(const tcr_plan_eye *eye) {
    size_t count = 0;
    for (int use = TCR_BARE_COVER; use < TCR_USES; use++)
        count += eye->uses[use];
    return count;
}

/* The lash of a use that comes next along the lid behind 'last'; the count of lashes if none. */
static size_t next_of(const tcr_work_sheet *sheet, tcr_side side, tcr_use use, size_t last) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(sheet->plan, side);
    const double behind = last < eye->lashes ? tcr_set_lash(sheet->set, side, last)->u : -INFINITY;
    size_t next = eye->lashes;
    double least = INFINITY;
    for (size_t i = 0; i < eye->lashes; i++) {
        const double u = tcr_set_lash(sheet->set, side, i)->u;
        const bool is_behind = u > behind || (u == behind && i > last);
        if (eye->lash[i].use == use && is_behind && u < least) {
            next = i;
            least = u;
        }
    }
    return next;
}

/* Ids with their places along the lid, three on a line. */
static void bare_by(tcr_work_flow *flow, tcr_side side, tcr_use use) {
    enum { PAIRS = 3 };
    static const double AT[] = {0, -28, 31, -59, 62, -90};
    static const tcr_work_table IDS = {AT, 2 * PAIRS, 1 << 0 | 1 << 2 | 1 << 4, true};
    const tcr_work_sheet *sheet = flow->sheet;
    const tcr_plan_eye *eye = tcr_plan_eye_of(sheet->plan, side);
    char line[TCR_WORDS], place[PAIRS][TCR_WORDS];
    snprintf(line, sizeof line, "%s, %s: %zu %s", tcr_say_side(side), REASON[use], eye->uses[use],
             eye->uses[use] == 1 ? "lash" : "lashes");
    tcr_work_room(flow, 2.5 * TCR_WORK_LINE);
    tcr_work_paragraph(flow, line, flow->canvas->style->ink);
    size_t last = next_of(sheet, side, use, eye->lashes);
    while (last < eye->lashes) {
        const char *cell[2 * PAIRS] = {"", "", "", "", "", ""};
        char id[PAIRS][TCR_WORK_ID];
        for (size_t k = 0; k < PAIRS && last < eye->lashes; k++) {
            cell[2 * k] = tcr_work_id(id[k], sheet->set, side, last);
            cell[2 * k + 1] = tcr_work_place(place[k], tcr_set_lash(sheet->set, side, last)->u);
            last = next_of(sheet, side, use, last);
        }
        tcr_work_cells(flow, &IDS, cell, false);
    }
    flow->y += 1;
}

void tcr_work_bare(tcr_work_flow *flow) {
    const tcr_work_sheet *sheet = flow->sheet;
    size_t count = 0;
    char line[TCR_WORDS];
    for (int i = 0; i < sheet->picture.eyes; i++)
        count += bare_of(tcr_plan_eye_of(sheet->plan, sheet->picture.side[i]));
    snprintf(line, sizeof line, "Kept bare: %zu %s", count, count == 1 ? "lash" : "lashes");
    tcr_work_heading(flow, line);
    if (count > LISTED_MOST) {
        tcr_work_paragraph(flow, "Too many to list here; the JSON report has them.",
                           flow->canvas->style->quiet);
        return;
    }
    for (int i = 0; i < sheet->picture.eyes; i++)
        for (int use = TCR_BARE_COVER; use < TCR_USES; use++)
            if (tcr_plan_eye_of(sheet->plan, sheet->picture.side[i])->uses[use] > 0)
                bare_by(flow, sheet->picture.side[i], (tcr_use)use);
}
