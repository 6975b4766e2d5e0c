/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Two sets, before and after, on one sheet and at one scale: above as the artist sees them from the
 * couch, below with the eye open. What looks even above may not be below: the picture that shows
 * what each view shows. Both sets are seen in the view of the first one's check.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "draw/figures.h"
#include "draw/hair.h"
#include "draw/marks.h"
#include "draw/seen.h"
#include "draw/sheet.h"
#include "draw/stage.h"
#include "draw/words.h"

enum { BEFORE, AFTER, SETS };
enum { SEAT, OPEN, ROWS };

static const double width = (TCR_SHEET_WIDTH - 2 * TCR_EDGE - TCR_COLUMN - 10) / 2;
static const double top = TCR_HEAD + 6, between = 7; /* of the rows of panels */
static const double heights = 88;                    /* of both rows */
static const double least[ROWS] = {37, 42};          /* what the figures beside them need */

/* Everything that is compared. */
typedef struct comparison {
    const tcr_check *check[SETS];
    tcr_view view[ROWS];
    double y[ROWS], height[ROWS]; /* of the rows of panels */
    tcr_stage stage[ROWS][SETS];
    tcr_seen seen[ROWS][SETS][TCR_SIDES]; /* by number of the eye in the picture */
} comparison;

static tcr_box panel_at(const comparison *all, int row, int set) {
    return (tcr_box){TCR_EDGE + set * (width + 4), all->y[row], width, all->height[row]};
}

/* The rows share the height as their eyes need it. */
static void share_height(comparison *all, const tcr_extent extent[ROWS]) {
    const double seat = extent[SEAT].high.y - extent[SEAT].low.y;
    const double open = extent[OPEN].high.y - extent[OPEN].low.y;
    const double wanted = heights * seat / (seat + open);
    all->height[SEAT] = fmax(least[SEAT], fmin(heights - least[OPEN], wanted));
    all->height[OPEN] = heights - all->height[SEAT];
    all->y[SEAT] = top;
    all->y[OPEN] = top + all->height[SEAT] + between;
}

/* One scale for all: that of the panel that needs the smallest. */
static void place(comparison *all, const tcr_picture *picture) {
    tcr_extent extent[ROWS];
    double scale = INFINITY;
    for (int row = 0; row < ROWS; row++) {
        extent[row] = tcr_extent_empty();
        for (int set = 0; set < SETS; set++)
            tcr_extent_widen(&extent[row], all->check[set], picture, &all->view[row]);
    }
    share_height(all, extent);
    for (int row = 0; row < ROWS; row++)
        scale = fmin(scale, tcr_extent_scale(&extent[row], panel_at(all, row, 0), picture->eyes));
    for (int row = 0; row < ROWS; row++)
        for (int set = 0; set < SETS; set++)
            tcr_stage_place(&all->stage[row][set], all->check[set], picture, &all->view[row],
                            &extent[row], scale, panel_at(all, row, set));
}

static tcr_status judge(comparison *all, const tcr_picture *picture) {
    tcr_status status = TCR_OK;
    for (int row = 0; row < ROWS; row++)
        for (int set = 0; set < SETS; set++)
            for (int i = 0; i < picture->eyes && status == TCR_OK; i++)
                status = tcr_seen_of(all->check[set], picture->side[i], &all->view[row],
                                     &all->seen[row][set][i]);
    return status;
}

static tcr_status draw_panel(tcr_canvas *canvas, const tcr_stage *stage, const tcr_seen *seen,
                             bool lines, size_t *every) {
    const tcr_status status = tcr_stage_draw(canvas, stage, TCR_EVERY_LAYER, NULL, NULL, every);
    if (status != TCR_OK)
        return status;
    tcr_stage_begin_marks(canvas, stage);
    for (int i = 0; i < stage->eyes; i++)
        if (lines && seen[i].status == TCR_OK)
            tcr_mark_line(canvas, &stage->eye[i], &seen[i].line, seen[i].against);
    tcr_stage_bar(canvas, stage);
    tcr_stage_end_marks(canvas);
    return TCR_OK;
}

/* ---- Figures ----------------------------------------------------------------------- */

/* A row of the table: what it is, before, after. */
static double row_at(tcr_canvas *canvas, const char *text, const char *before, const char *after,
                     double x, double y) {
    tcr_figures_body(canvas, text, x, y, TCR_COLUMN - 32);
    tcr_figures_aligned(canvas, TCR_TYPE_BODY, before, 1, x + 0.72 * TCR_COLUMN, y + 3.1);
    tcr_figures_aligned(canvas, TCR_TYPE_BODY, after, 1, x + TCR_COLUMN, y + 3.1);
    return y + TCR_ROW;
}

static double number_row(tcr_canvas *canvas, const char *text, const double value[SETS],
                         int decimals, bool plus, double x, double y) {
    char a[TCR_WORDS], b[TCR_WORDS];
    return row_at(canvas, text, tcr_say_number(a, value[BEFORE], decimals, plus),
                  tcr_say_number(b, value[AFTER], decimals, plus), x, y);
}

static double rms_of(const tcr_seen *seen) {
    return tcr_seen_is_judged(seen) ? seen->even.upright.rms_mm : NAN;
}

static double offset_of(const tcr_seen *seen, int layer) {
    return tcr_seen_is_judged(seen) ? seen->even.layer_offset_mm[layer] : NAN;
}

/* How far the highest layer stands above the lowest. */
static double apart_of(const tcr_seen *seen) {
    double low = NAN, high = NAN;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        low = fmin(low, offset_of(seen, layer)); /* fmin passes over NaN */
        high = fmax(high, offset_of(seen, layer));
    }
    return high - low;
}

static double staggered_of(const tcr_seen *seen) {
    if (!tcr_seen_is_judged(seen))
        return NAN;
    return round((1 - seen->even.within_tolerance) * (double)seen->even.lashes);
}

/* A plan keeps the map that it was made for, as other sets seldom do. */
static bool is_planned(const tcr_check *check) {
    size_t zones = 0;
    for (int side = 0; side < TCR_SIDES && zones == 0; side++)
        (void)tcr_set_intended(tcr_check_set(check), (tcr_side)side, &zones);
    return zones > 0;
}

/* What a plan is made for, which a fitted line does not show: how far tips lie off the map's line
 * in the check's own view. Nothing where the first set is compared with another that is no plan. */
static double map_row(tcr_canvas *canvas, const comparison *all, tcr_side side, double x,
                      double y) {
    double rms[SETS];
    if (!is_planned(all->check[AFTER]))
        return y;
    for (int set = 0; set < SETS; set++) {
        const tcr_eye_result *eye = tcr_check_eye(all->check[set], side);
        rms[set] = eye->intended_status == TCR_OK ? eye->intended.upright.rms_mm : NAN;
    }
    return number_row(canvas, "off the map\xe2\x80\x99s line", rms, 2, false, x, y);
}

static double name_layer(tcr_canvas *canvas, int layer, double x, double y) {
    tcr_figures_lash(canvas, (tcr_layer)layer, x, y);
    return tcr_figures_body(canvas, tcr_layer_name((tcr_layer)layer), x + TCR_SAMPLE + 2, y,
                            TCR_COLUMN);
}

/* The large numbers of one eye, and its layers. */
static void figures_of_one(tcr_canvas *canvas, const comparison *all, int row,
                           const tcr_picture *picture, double x, double y) {
    const tcr_seen *seen[SETS] = {&all->seen[row][BEFORE][0], &all->seen[row][AFTER][0]};
    tcr_figures_large(canvas, rms_of(seen[BEFORE]), "", x, y);
    y = tcr_figures_large(canvas, rms_of(seen[AFTER]), "mm", x + TCR_COLUMN / 2, y);
    tcr_figures_quiet(canvas, "before", x, y, TCR_COLUMN / 2);
    const bool judged = tcr_seen_is_judged(seen[BEFORE]) && tcr_seen_is_judged(seen[AFTER]);
    y = tcr_figures_quiet(canvas,
                          !judged                              ? "after; \xe2\x80\x93: too few tips"
                          : seen[AFTER]->against == TCR_FITTED ? "after: rms from the line"
                                                               : "after: rms from the map",
                          x + TCR_COLUMN / 2, y, TCR_COLUMN / 2) +
        1.2;
    for (int layer = TCR_LAYERS - 1; layer >= 0; layer--) {
        const double offset[SETS] = {offset_of(seen[BEFORE], layer), offset_of(seen[AFTER], layer)};
        number_row(canvas, "", offset, 2, true, x, y);
        y = name_layer(canvas, layer, x, y);
    }
    const double apart[SETS] = {apart_of(seen[BEFORE]), apart_of(seen[AFTER])};
    y = number_row(canvas, "layers apart, mm", apart, 2, false, x, y);
    const double staggered[SETS] = {staggered_of(seen[BEFORE]), staggered_of(seen[AFTER])};
    if (row == OPEN)
        y = number_row(canvas, "tips that stick out", staggered, 0, false, x, y);
    if (row == OPEN)
        map_row(canvas, all, picture->side[0], x, y);
}

static void figures_of_two(tcr_canvas *canvas, const comparison *all, int row,
                           const tcr_picture *picture, double x, double y) {
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, "before", 1, x + 0.72 * TCR_COLUMN, y + 2.8);
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, "after", 1, x + TCR_COLUMN, y + 2.8);
    y += 0.4;
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_seen *seen[SETS] = {&all->seen[row][BEFORE][i], &all->seen[row][AFTER][i]};
        const double rms[SETS] = {rms_of(seen[BEFORE]), rms_of(seen[AFTER])};
        const double apart[SETS] = {apart_of(seen[BEFORE]), apart_of(seen[AFTER])};
        const double staggered[SETS] = {staggered_of(seen[BEFORE]), staggered_of(seen[AFTER])};
        tcr_figures_aligned(canvas, TCR_TYPE_SMALL, tcr_say_side(picture->side[i]), 0, x, y + 2.8);
        y += 3.6;
        y = number_row(canvas, "rms, mm", rms, 2, false, x, y);
        y = number_row(canvas, "layers apart, mm", apart, 2, false, x, y);
        if (row == OPEN)
            y = number_row(canvas, "tips that stick out", staggered, 0, false, x, y);
        if (row == OPEN)
            y = map_row(canvas, all, picture->side[i], x, y);
        y += 0.6;
    }
    y += 0.8;
    for (int layer = TCR_LAYERS - 1; layer >= 0 && row != OPEN; layer--)
        y = name_layer(canvas, layer, x, y);
}

static void figures(tcr_canvas *canvas, const comparison *all, const tcr_picture *picture) {
    const tcr_view view = tcr_check_view(picture->check);
    const bool usual = view.opening == 1 && view.viewer_rad == 0;
    const char *const heading[ROWS] = {"From the artist\xe2\x80\x99s seat",
                                       usual ? "As everybody sees it" : "In the other view"};
    const double x = tcr_sheet_column().x;
    for (int row = 0; row < ROWS; row++) {
        const double y =
            tcr_figures_heading(canvas, heading[row], x, all->y[row] - 0.6, TCR_COLUMN);
        if (picture->eyes == 1)
            figures_of_one(canvas, all, row, picture, x, y);
        else
            figures_of_two(canvas, all, row, picture, x, y);
    }
}

/* ---- The sheet --------------------------------------------------------------------- */

/* The title that both sets have; "" where they differ. */
static const char *common_title(const comparison *all) {
    const char *const before = tcr_set_title(tcr_check_set(all->check[BEFORE]));
    const char *const after = tcr_set_title(tcr_check_set(all->check[AFTER]));
    return strcmp(before, after) == 0 ? before : "";
}

/* "Before", with what tells this set from the other one: its title, or its name where the titles do
 * not. */
static void set_heading(char out[], size_t size, const comparison *all, const tcr_picture *picture,
                        int set) {
    static const char *const when[SETS] = {"Before", "After"};
    const char *title[SETS], *const called[SETS] = {picture->options.name,
                                                    picture->options.with_name};
    for (int i = 0; i < SETS; i++)
        title[i] = tcr_set_title(tcr_check_set(all->check[i]));
    const bool told =
        *title[BEFORE] != '\0' && *title[AFTER] != '\0' && strcmp(title[BEFORE], title[AFTER]) != 0;
    const char *name = !told && called[set] != NULL ? called[set] : "";
    const char *own = *common_title(all) == '\0' ? title[set] : "";
    snprintf(out, size, "%s%s%.300s%s%s", when[set], *name != '\0' ? ": " : "", name,
             *own == '\0'    ? ""
             : *name != '\0' ? " \xc2\xb7 "
                             : ": ",
             own);
}

static void titles(tcr_canvas *canvas, const comparison *all, const tcr_picture *picture) {
    const tcr_setting heading = {.type = TCR_TYPE_HEADING,
                                 .colour = canvas->style->ink,
                                 .width_mm = width,
                                 .keep_end = true};
    char text[TCR_TITLE_SIZE_MAX + 4 * TCR_WORDS];
    const char *title = common_title(all);
    snprintf(text, sizeof text, "%s%s%s, all at one scale; lines: %s", title,
             *title != '\0' ? " \xc2\xb7 " : "", tcr_sheet_eyes(picture),
             tcr_check_against(picture->check) != TCR_FITTED ? "intended by the map"
             : is_planned(all->check[1]) ? "fitted to the tips; a plan aims at its map\xe2\x80\x99s"
                                         : "fitted to the tips");
    tcr_sheet_titles(canvas, "Before and after", text, TCR_SHEET_WIDTH - 2 * TCR_EDGE);
    for (int set = 0; set < SETS; set++) {
        set_heading(text, sizeof text, all, picture, set);
        tcr_canvas_text(canvas, panel_at(all, 0, set).x, top - 2, text, &heading);
        for (int row = 0; row < ROWS; row++) {
            char view[TCR_WORDS];
            const tcr_view *seen = &all->view[row];
            tcr_sheet_caption(canvas, panel_at(all, row, set),
                              row == SEAT ? tcr_say_seat(view, seen) : tcr_say_view(view, seen));
        }
    }
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    if (picture->options.with == NULL)
        return TCR_E_ARGUMENT;
    comparison all = {
        .check = {picture->check, picture->options.with},
        .view = {[SEAT] = picture->options.seat, [OPEN] = tcr_check_view(picture->check)},
    };
    size_t every = 1;
    place(&all, picture);
    tcr_status status = judge(&all, picture);
    for (int row = 0; row < ROWS; row++)
        for (int set = 0; set < SETS && status == TCR_OK; set++)
            status = draw_panel(canvas, &all.stage[row][set], all.seen[row][set],
                                picture->options.lines, &every);
    if (status != TCR_OK)
        return status;
    titles(canvas, &all, picture);
    figures(canvas, &all, picture);
    tcr_sheet_footer(canvas, picture->check, tcr_sheet_drawn(picture), every);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_compare = {
    "compare", "two sets, each from the artist\xe2\x80\x99s seat and with the eye open", draw};
