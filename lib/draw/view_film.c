/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One moment of an opening eye. All frames share one layout, so that nothing jumps; the frames are
 * evenly spaced in time. The line is that of the moment, fitted to its tips or intended by the
 * map, and shows how the layers part or meet on the way.
 */
#include <math.h>
#include <stdio.h>

#include "draw/figures.h"
#include "draw/hair.h"
#include "draw/layout.h"
#include "draw/marks.h"
#include "draw/plot.h"
#include "draw/seen.h"
#include "draw/sheet.h"
#include "draw/words.h"

/* The moment that a frame shows. */
typedef struct moment {
    double share; /* of the time */
    tcr_view view;
    tcr_seen seen[TCR_SIDES]; /* by number of the eye in the picture */
} moment;

static tcr_status moment_of(const tcr_picture *picture, moment *now) {
    const int frame = picture->options.frame, frames = picture->options.frames;
    now->share = frames > 1 ? (double)frame / (frames - 1) : 1;
    now->view = tcr_check_view(picture->check);
    now->view.opening = tcr_blink_opening(now->share);
    tcr_status status = TCR_OK;
    for (int i = 0; i < picture->eyes && status == TCR_OK; i++)
        status = tcr_seen_of(picture->check, picture->side[i], &now->view, &now->seen[i]);
    return status;
}

/* The same place in every frame: all openings have to fit. */
static void place(const tcr_picture *picture, const moment *now, tcr_box panel, tcr_stage *stage) {
    enum { OPENINGS = 5 };
    tcr_extent extent = tcr_extent_empty();
    for (int i = 0; i < OPENINGS; i++) {
        const tcr_view view = {(double)i / (OPENINGS - 1), now->view.viewer_rad};
        tcr_extent_widen(&extent, picture->check, picture, &view);
    }
    tcr_stage_place(stage, picture->check, picture, &now->view, &extent,
                    tcr_extent_scale(&extent, panel, picture->eyes), panel);
}

/* ---- Figures ----------------------------------------------------------------------- */

/* The opening over time, and where the frame is. */
static void course(tcr_canvas *canvas, const moment *now, tcr_box panel) {
    enum { POINTS = 61 };
    cairo_t *cr = canvas->cr;
    const tcr_plot plot = {.area = {panel.x + 13, panel.y + 7, panel.width - 19, panel.height - 16},
                           .x_high = TCR_BLINK_MS,
                           .y_high = 100};
    const tcr_setting quiet = {.type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet};
    tcr_sheet_paper(canvas, panel);
    tcr_canvas_text(canvas, panel.x + 2, panel.y + 4.4, "% open, over milliseconds", &quiet);
    tcr_plot_rules(canvas, &plot, false);
    cairo_new_path(cr);
    for (int i = 0; i < POINTS; i++) {
        const double share = (double)i / (POINTS - 1);
        const tcr_vec2 p = tcr_plot_at(&plot, share * TCR_BLINK_MS, 100 * tcr_blink_opening(share));
        cairo_line_to(cr, p.x, p.y);
    }
    tcr_canvas_colour(canvas, canvas->style->label_ink);
    cairo_set_line_width(cr, 0.4);
    cairo_stroke(cr);
    const tcr_vec2 p = tcr_plot_at(&plot, now->share * TCR_BLINK_MS, 100 * now->view.opening);
    tcr_mark_ring(canvas, p, 1.2);
}

/* How far each layer stands off the line of the moment. */
static double layers(tcr_canvas *canvas, const tcr_seen *seen, double x, double y, double width) {
    y = tcr_figures_heading(canvas, "Layers off the line, mm", x, y, width);
    for (int layer = TCR_LAYERS - 1; layer >= 0; layer--) {
        char number[TCR_WORDS];
        const double offset = tcr_seen_is_judged(seen) ? seen->even.layer_offset_mm[layer] : NAN;
        tcr_figures_lash(canvas, (tcr_layer)layer, x, y);
        tcr_figures_aligned(canvas, TCR_TYPE_BODY, tcr_say_number(number, offset, 2, true), 1,
                            x + fmin(width, 44), y + 3.1);
        y = tcr_figures_body(canvas, tcr_layer_name((tcr_layer)layer), x + TCR_SAMPLE + 2, y,
                             width);
    }
    return y;
}

static double evenness(tcr_canvas *canvas, const tcr_seen *seen, const char *heading, double x,
                       double y, double width) {
    char number[TCR_WORDS], tolerance[TCR_WORDS], text[3 * TCR_WORDS];
    y = tcr_figures_heading(canvas, heading, x, y, width);
    if (seen->status != TCR_OK) {
        snprintf(text, sizeof text, "no line: %s", tcr_status_text(seen->status));
        return tcr_figures_quiet(canvas, text, x, y, width);
    }
    if (!tcr_seen_is_judged(seen))
        return tcr_figures_too_few(canvas, seen->even.lashes, x, y, width);
    y = tcr_figures_large(canvas, seen->even.upright.rms_mm, "mm", x, y);
    y = tcr_figures_quiet(canvas,
                          seen->against == TCR_FITTED ? "rms from the line of this moment"
                                                      : "rms from the map's line of this moment",
                          x, y, width) +
        0.8;
    snprintf(text, sizeof text, "%s %% within \xc2\xb1%s mm",
             tcr_say_share(number, seen->even.within_tolerance),
             tcr_say_trimmed(tolerance, seen->even.tolerance_mm, 2));
    return tcr_figures_body(canvas, text, x, y, width);
}

static void figures(tcr_canvas *canvas, const tcr_picture *picture, const tcr_layout *layout,
                    const moment *now) {
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_box box = tcr_layout_figures(layout, i);
        const char *heading = picture->eyes > 1                    ? tcr_say_side(picture->side[i])
                              : now->seen[i].against == TCR_FITTED ? "Evenness now"
                                                                   : "Match to the map now";
        const double share = picture->eyes == 1 ? 1 : 0.44; /* the table of layers is beside it */
        const double y = evenness(canvas, &now->seen[i], heading, box.x, box.y, share * box.width);
        if (picture->eyes == 1)
            layers(canvas, &now->seen[i], box.x, y + 3, box.width);
        else
            layers(canvas, &now->seen[i], box.x + 0.45 * box.width, box.y, 0.55 * box.width - 1);
    }
    const tcr_box column = tcr_sheet_column(), common = tcr_layout_common(layout);
    if (picture->eyes == 1)
        course(canvas, now,
               (tcr_box){column.x, TCR_SHEET_HEIGHT - TCR_FOOT - 2 - 46, column.width, 46});
    else
        course(canvas, now, (tcr_box){common.x, common.y, common.width - 4, 36});
}

/* ---- The sheet --------------------------------------------------------------------- */

static void titles(tcr_canvas *canvas, const tcr_picture *picture, const tcr_layout *layout,
                   const moment *now) {
    char open[TCR_WORDS], time[TCR_WORDS], text[3 * TCR_WORDS];
    snprintf(text, sizeof text, "%s opening: %s %% open after %s ms", tcr_sheet_eyes(picture),
             tcr_say_number(open, 100 * now->view.opening, 0, false),
             tcr_say_number(time, now->share * TCR_BLINK_MS, 1, false));
    tcr_sheet_titles(canvas, tcr_sheet_title(picture->check, "The set as the eye opens"), text,
                     tcr_layout_title_width(layout));
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    moment now = {0};
    size_t every = 1;
    tcr_layout layout = {.main = {.eyes = picture->eyes}};
    const tcr_box panel = tcr_layout_panel(picture->eyes);
    tcr_status status = moment_of(picture, &now);
    place(picture, &now, panel, &layout.main);
    if (status == TCR_OK)
        status = tcr_stage_draw(canvas, &layout.main, TCR_EVERY_LAYER, NULL, NULL, &every);
    if (status != TCR_OK)
        return status;
    tcr_stage_begin_marks(canvas, &layout.main);
    for (int i = 0; i < picture->eyes; i++)
        if (picture->options.lines && now.seen[i].status == TCR_OK)
            tcr_mark_line(canvas, &layout.main.eye[i], &now.seen[i].line, now.seen[i].against);
    tcr_stage_bar(canvas, &layout.main);
    tcr_stage_end_marks(canvas);
    titles(canvas, picture, &layout, &now);
    figures(canvas, picture, &layout, &now);
    tcr_sheet_footer(
        canvas, picture->check,
        "The course is a measured closing of 77.6 ms run backwards; its shape in between "
        "is assumed (up to 1215\xc2\xb0/s, measured up to 1289\xc2\xb0/s).",
        every);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_film = {"film", "one moment of an opening eye", draw};
