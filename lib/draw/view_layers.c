/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The set taken apart: the whole and each layer alone, at one scale and with the lines of the whole
 * in each, so that it shows which layer stands above it and which below.
 */
#include <math.h>
#include <stdio.h>

#include "draw/figures.h"
#include "draw/hair.h"
#include "draw/sheet.h"
#include "draw/stage.h"
#include "draw/words.h"

enum { PANELS = TCR_LAYERS + 1, COLUMNS = 2 };

static tcr_box panel_at(int i) {
    const double width = (TCR_SHEET_WIDTH - 2 * TCR_EDGE - TCR_COLUMN - 10) / COLUMNS;
    const double height = 46, top = TCR_HEAD + 6, between = 8;
    return (tcr_box){TCR_EDGE + i % COLUMNS * (width + 4), top + i / COLUMNS * (height + between),
                     width, height};
}

/* The panels in order: the whole, then the layers from the top. */
static unsigned layers_of(int i) { return i == 0 ? TCR_EVERY_LAYER : 1u << (TCR_LAYERS - i); }

static void heading(tcr_canvas *canvas, const tcr_picture *picture, int i) {
    static const char *const name[PANELS] = {"The whole", "Top layer", "Middle layer",
                                             "Bottom layer"};
    const tcr_box panel = panel_at(i);
    const tcr_setting bold = {
        .type = TCR_TYPE_HEADING, .colour = canvas->style->ink, .width_mm = panel.width};
    const tcr_setting quiet = {.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet, .align = 1};
    tcr_canvas_text(canvas, panel.x, panel.y - 2, name[i], &bold);
    for (int k = 0; k < picture->eyes && picture->eyes > 1; k++) {
        const tcr_box part = tcr_stage_part(panel, picture->eyes, k);
        tcr_canvas_text(canvas, part.x + part.width, panel.y - 2, tcr_say_side(picture->side[k]),
                        &quiet);
    }
}

static tcr_status draw_panel(tcr_canvas *canvas, const tcr_picture *picture,
                             const tcr_extent *extent, int i, size_t *every) {
    const tcr_view view = tcr_check_view(picture->check);
    tcr_stage stage;
    tcr_stage_place(&stage, picture->check, picture, &view, extent,
                    tcr_extent_scale(extent, panel_at(0), picture->eyes), panel_at(i));
    const tcr_status status = tcr_stage_draw(
        canvas, &stage, layers_of(i), picture->options.lines ? tcr_stage_band : NULL, NULL, every);
    if (status != TCR_OK)
        return status;
    tcr_label_map map = tcr_stage_begin_marks(canvas, &stage);
    if (picture->options.lines)
        tcr_stage_lines(canvas, &stage, &map);
    tcr_stage_bar(canvas, &stage);
    tcr_stage_end_marks(canvas);
    heading(canvas, picture, i);
    return TCR_OK;
}

/* How many tips each layer has. */
static double counts(tcr_canvas *canvas, const tcr_picture *picture, double x, double y) {
    y = tcr_figures_heading(canvas, "Tips, and lashes left bare", x, y, TCR_COLUMN);
    for (int layer = TCR_LAYERS - 1; layer >= 0; layer--) {
        size_t tips = 0, bare = 0;
        for (int i = 0; i < picture->eyes; i++) {
            const tcr_eye_result *eye = tcr_check_eye(picture->check, picture->side[i]);
            const tcr_set *set = tcr_check_set(picture->check);
            for (size_t k = 0; k < eye->lashes; k++) {
                const bool here = (int)tcr_set_lash(set, picture->side[i], k)->layer == layer;
                tips += here && eye->lash[k].status == TCR_OK;
                bare += here && eye->lash[k].status != TCR_OK;
            }
        }
        char text[TCR_WORDS];
        snprintf(text, sizeof text, "%s: %zu, %zu bare", tcr_layer_name((tcr_layer)layer), tips,
                 bare);
        tcr_figures_lash(canvas, (tcr_layer)layer, x, y);
        y = tcr_figures_body(canvas, text, x + TCR_SAMPLE + 2, y, TCR_COLUMN - TCR_SAMPLE - 2);
    }
    return y;
}

static void figures(tcr_canvas *canvas, const tcr_picture *picture) {
    const tcr_check *check = picture->check;
    const double x = tcr_sheet_column().x, width = TCR_COLUMN;
    double y = panel_at(0).y - 5;
    if (picture->eyes == 1)
        y = tcr_figures_evenness(canvas, check, picture->side[0], NULL, x, y, width) + 2.6;
    for (int i = 0; i < picture->eyes; i++) {
        if (picture->eyes > 1)
            y = tcr_figures_heading(canvas, tcr_say_side(picture->side[i]), x, y, width);
        y = tcr_figures_layers(canvas, check, &picture->side[i], 1, x, y, width) + 2.6;
    }
    y = counts(canvas, picture, x, y) + 2.6;
    tcr_picture lines = *picture;
    lines.options.staggered = false;
    tcr_figures_legend(canvas, &lines, 0, 1, x, y, width);
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    const tcr_view view = tcr_check_view(picture->check);
    tcr_extent extent = tcr_extent_empty();
    size_t every = 1;
    tcr_status status = TCR_OK;
    tcr_extent_widen(&extent, picture->check, picture, &view);
    for (int i = 0; i < PANELS && status == TCR_OK; i++)
        status = draw_panel(canvas, picture, &extent, i, &every);
    if (status != TCR_OK)
        return status;
    char words[TCR_WORDS], count[TCR_WORDS], text[3 * TCR_WORDS];
    snprintf(text, sizeof text, "%s %s, layer by layer%s", tcr_sheet_eyes(picture),
             tcr_say_view(words, &view), tcr_sheet_count(count, sizeof count, picture));
    tcr_sheet_titles(canvas, tcr_sheet_title(picture->check, "The set layer by layer"), text,
                     TCR_SHEET_WIDTH - 2 * TCR_EDGE);
    figures(canvas, picture);
    tcr_sheet_footer(canvas, picture->check, tcr_sheet_drawn(picture), every);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_layers = {
    "layers", "each layer alone, and the whole, at one scale", draw};
