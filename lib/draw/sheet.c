/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet that all views share: ground, titles, footer, panels. */
#include "draw/sheet.h"

#include <stdio.h>

#include <tipcrest/version.h>

#include "draw/words.h"

#define DRAWN                                                                                      \
    "Lashes, extensions and lines are to scale; skin, eyeball and lower lid are only drawn"

const char *tcr_sheet_drawn(const tcr_picture *picture) {
    return picture->eyes == 1 ? DRAWN "." : DRAWN ", the bridge of the nose is left out.";
}

static const double FOOT_GAP = 4; /* mm, between its left and right words */

const char tcr_sheet_cautions[] =
    "For trained and, where the law asks, licensed hands; local rules go first.";

tcr_box tcr_sheet_panel(void) {
    return (tcr_box){TCR_EDGE, TCR_HEAD, TCR_SHEET_WIDTH - 2 * TCR_EDGE - TCR_COLUMN - 6,
                     TCR_SHEET_HEIGHT - TCR_FOOT - TCR_HEAD - 2};
}

tcr_box tcr_sheet_column(void) {
    return (tcr_box){TCR_SHEET_WIDTH - TCR_EDGE - TCR_COLUMN, TCR_EDGE - 0.6, TCR_COLUMN,
                     TCR_SHEET_HEIGHT - TCR_FOOT - 2 - TCR_EDGE + 0.6};
}

void tcr_sheet_ground(tcr_canvas *canvas) {
    tcr_canvas_colour(canvas, canvas->style->ground);
    cairo_rectangle(canvas->cr, 0, 0, TCR_SHEET_WIDTH, TCR_SHEET_HEIGHT);
    cairo_fill(canvas->cr);
}

void tcr_sheet_titles(tcr_canvas *canvas, const char *title, const char *text, double width) {
    const tcr_style *style = canvas->style;
    tcr_setting large = {.type = TCR_TYPE_TITLE, .colour = style->ink};
    const bool fits = tcr_canvas_measure(canvas, title, &large).width <= width;
    large.width_mm = width;
    if (!fits) { /* a long one in small type on two lines */
        large.type = TCR_TYPE_HEADING;
        large.lines = 2;
    }
    const tcr_setting body = {.type = TCR_TYPE_BODY, .colour = style->quiet, .width_mm = width};
    tcr_canvas_text(canvas, TCR_EDGE, fits ? 13.4 : 10.4, title, &large);
    tcr_canvas_text(canvas, TCR_EDGE, 20.2, text, &body);
}

const char *tcr_sheet_title(const tcr_check *check, const char *otherwise) {
    const char *title = tcr_set_title(tcr_check_set(check));
    return title[0] != '\0' ? title : otherwise;
}

const char *tcr_sheet_eyes(const tcr_picture *picture) {
    return picture->eyes == 2 ? "Both eyes" : tcr_say_side(picture->side[0]);
}

const char *tcr_sheet_count(char out[], size_t size, const tcr_picture *picture) {
    size_t lashes = 0, extended = 0;
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_eye_result *eye = tcr_check_eye(picture->check, picture->side[i]);
        lashes += eye->lashes;
        extended += eye->extended;
    }
    snprintf(out, size, " \xc2\xb7 %zu of %zu lashes carry an extension", extended, lashes);
    return out;
}

/* What the cautions leave of the first line of the foot, mm. */
static double first_line_width(tcr_canvas *canvas) {
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet};
    return TCR_SHEET_WIDTH - 2 * TCR_EDGE - FOOT_GAP -
           tcr_canvas_measure(canvas, tcr_sheet_cautions, &small).width;
}

void tcr_sheet_foot(tcr_canvas *canvas, const char *first, const char *second) {
    const tcr_style *style = canvas->style;
    const double y = TCR_SHEET_HEIGHT - 6.4, width = TCR_SHEET_WIDTH - 2 * TCR_EDGE;
    const double end = TCR_SHEET_WIDTH - TCR_EDGE;
    tcr_setting left = {.type = TCR_TYPE_SMALL, .colour = style->quiet};
    const tcr_setting right = {.type = TCR_TYPE_SMALL, .colour = style->quiet, .align = 1};
    char maker[TCR_WORDS];
    left.width_mm = first_line_width(canvas);
    tcr_canvas_text(canvas, end, y, tcr_sheet_cautions, &right);
    tcr_canvas_text(canvas, TCR_EDGE, y, first, &left);
    snprintf(maker, sizeof maker, "tipcrest %s", tcr_version());
    left.width_mm = width - FOOT_GAP - tcr_canvas_measure(canvas, maker, &right).width;
    tcr_canvas_text(canvas, TCR_EDGE, y + 3.5, second, &left);
    tcr_canvas_text(canvas, end, y + 3.5, maker, &right);
}

void tcr_sheet_footer(tcr_canvas *canvas, const tcr_check *check, const char *note, size_t every) {
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet};
    char assumed[TCR_WORDS], thinned[TCR_WORDS];
    tcr_say_assumed(assumed, check);
    if (tcr_canvas_measure(canvas, assumed, &small).width > first_line_width(canvas))
        tcr_say_assumed_short(assumed, check);
    snprintf(thinned, sizeof thinned,
             "Only one lash in %zu is drawn; lines and figures are of all.", every);
    tcr_sheet_foot(canvas, assumed, every > 1 ? thinned : note);
}

void tcr_sheet_paper(tcr_canvas *canvas, tcr_box panel) {
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, panel, TCR_CORNER);
    tcr_canvas_colour(canvas, canvas->style->paper);
    cairo_fill(canvas->cr);
}

void tcr_sheet_caption(tcr_canvas *canvas, tcr_box panel, const char *text) {
    const tcr_setting small = {.type = TCR_TYPE_SMALL,
                               .colour = canvas->style->quiet,
                               .width_mm = panel.width,
                               .lines = 2};
    tcr_canvas_text(canvas, panel.x, panel.y + panel.height + 3.4, text, &small);
}
