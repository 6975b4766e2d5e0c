/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The front view: the client's eyes as a portrait shows them, the right eye at the viewer's left,
 * with lashes, lines and figures, and small beside them what the artist sees of the same set from
 * the couch. One eye fills the picture; two stand 63 mm apart (assumed, model.md section 1).
 */
#include "draw/front.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/version.h>

#include "draw/eye.h"
#include "draw/figures.h"
#include "draw/hair.h"
#include "draw/lid.h"
#include "draw/marks.h"
#include "draw/words.h"

static const double pupil_distance_mm = 63;
static const double edge = 8;    /* of the sheet */
static const double foot = 9.5;  /* height of the footer */
static const double corner = 2;  /* radius of a panel's corners */
static const double column = 58; /* width of the figures beside one eye */
static const double head = 25;   /* height of title and subtitle */

tcr_picture_options tcr_picture_options_default(void) {
    return (tcr_picture_options){.size = sizeof(tcr_picture_options),
                                 .width_mm = TCR_SHEET_WIDTH,
                                 .dpi = 160,
                                 .lines = true,
                                 .staggered = true,
                                 .artist = true};
}

tcr_status tcr_picture_options_take(const tcr_picture_options *given, tcr_picture_options *taken) {
    *taken = tcr_picture_options_default();
    if (given != NULL) {
        if (given->size < offsetof(tcr_picture_options, dark) || given->size > 4096)
            return TCR_E_ARGUMENT;
        memcpy(taken, given, given->size < sizeof *taken ? given->size : sizeof *taken);
    }
    const bool good =
        taken->width_mm >= 20 && taken->width_mm <= 2000 && taken->dpi >= 10 && taken->dpi <= 1200;
    return good ? TCR_OK : TCR_E_RANGE;
}

/* What has to be in sight of an eye, mm as seen, y upwards. */
static tcr_status extent_of(const tcr_check *check, tcr_side side, const tcr_view *view,
                            tcr_vec2 *low, tcr_vec2 *high) {
    const tcr_viewport plain = {*view, 1, 1, {0, 0}};
    tcr_eye_shape shape;
    const tcr_status status =
        tcr_eye_shape_of(tcr_set_get_lid(tcr_check_set(check), side), &plain, &shape);
    if (status != TCR_OK)
        return status;
    *low = (tcr_vec2){INFINITY, INFINITY};
    *high = (tcr_vec2){-INFINITY, -INFINITY};
    for (int i = 0; i < TCR_CONTOUR; i++) {
        low->x = fmin(low->x, shape.upper[i].x - 4);
        high->x = fmax(high->x, shape.upper[i].x + 4);
        low->y = fmin(low->y, -shape.lower[i].y - 4.5);
        high->y = fmax(high->y, -shape.crease[i].y + 2.5);
    }
    tcr_vec2 hair_low = *low, hair_high = *high;
    tcr_hairs_extent(check, side, view, &hair_low, &hair_high);
    *low = (tcr_vec2){fmin(low->x, hair_low.x - 1.5), fmin(low->y, hair_low.y - 1.5)};
    *high = (tcr_vec2){fmax(high->x, hair_high.x + 1.5), fmax(high->y, hair_high.y + 3.5)};
    return TCR_OK;
}

/* Stands the eyes, mirrored and shifted sideways by apart / 2, into a box as large as they fit. */
static tcr_status fit(const tcr_check *check, const tcr_side *side, int eyes, const tcr_view *view,
                      double apart, tcr_box box, tcr_viewport *viewport) {
    tcr_vec2 low = {INFINITY, INFINITY}, high = {-INFINITY, -INFINITY};
    for (int i = 0; i < eyes; i++) {
        tcr_vec2 a, b;
        const double mirror = side[i] == TCR_LEFT ? 1 : -1;
        const tcr_status status = extent_of(check, side[i], view, &a, &b);
        if (status != TCR_OK)
            return status;
        const double left = mirror > 0 ? a.x + apart / 2 : -b.x - apart / 2;
        low = (tcr_vec2){fmin(low.x, left), fmin(low.y, a.y)};
        high = (tcr_vec2){fmax(high.x, left + b.x - a.x), fmax(high.y, b.y)};
    }
    const double scale = fmin(box.width / (high.x - low.x), box.height / (high.y - low.y));
    for (int i = 0; i < eyes; i++) {
        const double mirror = side[i] == TCR_LEFT ? 1 : -1;
        const double x = (low.x + high.x) / 2 - mirror * apart / 2;
        viewport[i] = (tcr_viewport){*view,
                                     scale,
                                     mirror,
                                     {box.x + box.width / 2 - scale * x,
                                      box.y + box.height / 2 + scale * (low.y + high.y) / 2}};
    }
    return TCR_OK;
}

static void boxes_of(tcr_front_layout *layout) {
    layout->height_mm = TCR_SHEET_WIDTH * 9 / 16;
    const double width = TCR_SHEET_WIDTH - 2 * edge, bottom = layout->height_mm - foot;
    if (layout->eyes == 1) {
        layout->panel = (tcr_box){edge, head, width - column - 6, bottom - head - 2};
        layout->couch[0] = (tcr_box){TCR_SHEET_WIDTH - edge - column, bottom - 44, column, 37};
        return;
    }
    layout->panel = (tcr_box){edge, head, width, 62};
    for (int i = 0; i < layout->eyes; i++) {
        const double x = i == 0 ? edge : TCR_SHEET_WIDTH - edge - 78;
        layout->couch[i] = (tcr_box){x + 42, head + 62 + 4, 36, 27};
    }
}

tcr_status tcr_front_layout_of(const tcr_check *check, tcr_front_layout *layout) {
    *layout = (tcr_front_layout){0};
    if (tcr_check_eye(check, TCR_RIGHT) != NULL)
        layout->side[layout->eyes++] = TCR_RIGHT;
    if (tcr_check_eye(check, TCR_LEFT) != NULL)
        layout->side[layout->eyes++] = TCR_LEFT;
    if (layout->eyes == 0)
        return TCR_E_ARGUMENT;
    boxes_of(layout);
    const tcr_view view = tcr_check_view(check), couch = tcr_view_named(TCR_ARTIST);
    const double apart = layout->eyes == 2 ? pupil_distance_mm : 0;
    tcr_status status =
        fit(check, layout->side, layout->eyes, &view, apart, layout->panel, layout->eye);
    for (int i = 0; i < layout->eyes && status == TCR_OK; i++)
        status =
            fit(check, &layout->side[i], 1, &couch, 0, layout->couch[i], &layout->couch_eye[i]);
    return status;
}

/* Eyes on their skin in a panel; the band of the tolerance runs between skin and hairs. */
static tcr_status eyes_on_skin(tcr_canvas *canvas, const tcr_check *check, tcr_box panel,
                               const tcr_viewport *eye, const tcr_side *side, int eyes, bool band,
                               size_t *every) {
    const tcr_set *set = tcr_check_set(check);
    tcr_eye_shape shape[TCR_SIDES];
    tcr_status status = TCR_OK;
    for (int i = 0; i < eyes && status == TCR_OK; i++)
        status = tcr_eye_shape_of(tcr_set_get_lid(set, side[i]), &eye[i], &shape[i]);
    if (status != TCR_OK)
        return status;
    for (int i = 0; i < eyes; i++)
        tcr_eye_draw(canvas, &eye[i], &shape[i], tcr_set_get_lid(set, side[i]));
    tcr_skin_draw(canvas, panel, corner, eye, shape, eyes);
    for (int i = 0; i < eyes && status == TCR_OK; i++) {
        const tcr_eye_result *result = tcr_check_eye(check, side[i]);
        const bool fitted = tcr_check_against(check) == TCR_FITTED;
        tcr_lid_edges_draw(canvas, &eye[i], &shape[i]);
        if (band && (fitted ? result->fitted_status : result->intended_status) == TCR_OK)
            tcr_mark_band(canvas, &eye[i], fitted ? &result->fitted_line : &result->intended_line,
                          tcr_set_get_tolerance(set));
        status = tcr_hairs_draw(canvas, check, side[i], &eye[i], panel, every);
    }
    return status;
}

static void lines_of(tcr_canvas *canvas, const tcr_viewport *eye, const tcr_eye_result *result,
                     tcr_label_map *map) {
    if (result->intended_status == TCR_OK) {
        cairo_new_path(canvas->cr);
        tcr_mark_line_path(canvas, eye, &result->intended_line);
        tcr_mark_stroke(canvas, TCR_INTENDED);
    }
    if (result->fitted_status == TCR_OK) {
        cairo_new_path(canvas->cr);
        tcr_mark_line_path(canvas, eye, &result->fitted_line);
        tcr_mark_stroke(canvas, TCR_FITTED);
        tcr_mark_line_block(eye, &result->fitted_line, map);
    }
}

/* Lines, rings and the millimetre bar over the main panel. */
static void marks(tcr_canvas *canvas, const tcr_check *check, const tcr_front_layout *layout,
                  const tcr_picture_options *options) {
    const tcr_box p = layout->panel;
    tcr_label_map map = {.area = {p.x + 1, p.y + 1, p.width - 2, p.height - 2}};
    tcr_label_block(&map, (tcr_box){p.x, p.y + p.height - 9, 50, 9});
    cairo_save(canvas->cr);
    cairo_new_path(canvas->cr);
    cairo_rectangle(canvas->cr, p.x, p.y, p.width, p.height);
    cairo_clip(canvas->cr);
    for (int i = 0; i < layout->eyes; i++) {
        if (options->lines)
            lines_of(canvas, &layout->eye[i], tcr_check_eye(check, layout->side[i]), &map);
        if (options->staggered)
            tcr_mark_staggered(canvas, check, layout->side[i], &layout->eye[i], &map);
    }
    tcr_mark_bar(canvas, (tcr_vec2){p.x + 4, p.y + p.height - 3.5}, layout->eye[0].scale, 46);
    cairo_restore(canvas->cr);
}

static void titles(tcr_canvas *canvas, const tcr_check *check, const tcr_front_layout *layout) {
    const tcr_style *style = canvas->style;
    /* Beside one eye the figures begin at the top; the title keeps clear of them. */
    const double width = TCR_SHEET_WIDTH - 2 * edge - (layout->eyes == 1 ? column + 6 : 0);
    const tcr_setting large = {.type = TCR_TYPE_TITLE, .colour = style->ink, .width_mm = width};
    const tcr_setting body = {.type = TCR_TYPE_BODY, .colour = style->quiet, .width_mm = width};
    const char *title = tcr_set_get_title(tcr_check_set(check));
    char view[TCR_WORDS], text[3 * TCR_WORDS];
    const tcr_view seen = tcr_check_view(check);
    tcr_say_view(view, &seen);
    size_t lashes = 0, extended = 0;
    for (int i = 0; i < layout->eyes; i++) {
        lashes += tcr_check_eye(check, layout->side[i])->lashes;
        extended += tcr_check_eye(check, layout->side[i])->extended;
    }
    snprintf(text, sizeof text, "%s %s \xc2\xb7 %zu of %zu lashes carry an extension",
             layout->eyes == 2 ? "Both eyes" : tcr_say_side(layout->side[0]), view, extended,
             lashes);
    tcr_canvas_text(canvas, edge, 13.4, title[0] != '\0' ? title : "The set with the eye open",
                    &large);
    tcr_canvas_text(canvas, edge, 20.2, text, &body);
}

static void footer(tcr_canvas *canvas, const tcr_check *check, const tcr_front_layout *layout,
                   size_t every) {
    const tcr_style *style = canvas->style;
    const double y = layout->height_mm - 6.4, width = TCR_SHEET_WIDTH - 2 * edge;
    const tcr_setting left = {
        .type = TCR_TYPE_SMALL, .colour = style->quiet, .width_mm = width - 30};
    const tcr_setting right = {.type = TCR_TYPE_SMALL, .colour = style->quiet, .align = 1};
    char assumed[TCR_WORDS], text[2 * TCR_WORDS];
    tcr_say_assumed(assumed, check);
    tcr_canvas_text(canvas, edge, y, assumed, &left);
    snprintf(
        text, sizeof text,
        "Lashes, extensions and lines are to scale; skin, eyeball and lower lid are only drawn.");
    if (every > 1)
        snprintf(text, sizeof text, "Only one lash in %zu is drawn; lines and figures are of all.",
                 every);
    tcr_canvas_text(canvas, edge, y + 3.5, text, &left);
    snprintf(text, sizeof text, "tipcrest %s", tcr_version());
    tcr_canvas_text(canvas, TCR_SHEET_WIDTH - edge, y + 3.5, text, &right);
}

static const char couch_caption[] = "The same set from the artist\xe2\x80\x99s seat, eye closed";

static void figures_beside(tcr_canvas *canvas, const tcr_check *check,
                           const tcr_front_layout *layout, const tcr_picture_options *options) {
    const double x = TCR_SHEET_WIDTH - edge - column;
    const tcr_side side = layout->side[0];
    double y = tcr_figures_evenness(canvas, check, side, NULL, x, edge - 0.6, column) + 3;
    y = tcr_figures_layers(canvas, check, &side, 1, x, y, column) + 2.6;
    tcr_figures_legend(canvas, check, options->lines, options->staggered, 1, x, y, column);
    const tcr_setting small = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->quiet, .width_mm = column};
    if (options->artist)
        tcr_canvas_text(canvas, x, layout->couch[0].y + layout->couch[0].height + 3.4,
                        couch_caption, &small);
}

static void figures_below(tcr_canvas *canvas, const tcr_check *check,
                          const tcr_front_layout *layout, const tcr_picture_options *options) {
    const double top = layout->panel.y + layout->panel.height + 3;
    for (int i = 0; i < layout->eyes; i++) {
        const double x = i == 0 ? edge : TCR_SHEET_WIDTH - edge - 78;
        char name[TCR_WORDS];
        snprintf(name, sizeof name, "%s, evenness", tcr_say_side(layout->side[i]));
        tcr_figures_evenness(canvas, check, layout->side[i], name, x, top,
                             options->artist ? 41 : 78);
    }
    double y = tcr_figures_layers(canvas, check, layout->side, 2, edge + 82, top, 74) + 1.6;
    y = tcr_figures_legend(canvas, check, options->lines, options->staggered, 2, edge + 82, y, 74);
    tcr_figures_symmetry(canvas, check, edge + 82, y + 1.6, 74);
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet};
    for (int i = 0; i < layout->eyes && options->artist; i++)
        tcr_canvas_text(canvas, layout->couch[i].x,
                        layout->couch[i].y + layout->couch[i].height + 3.4,
                        "from the artist\xe2\x80\x99s seat, closed", &small);
}

static tcr_status draw_sheet(tcr_canvas *canvas, const tcr_check *check,
                             const tcr_front_layout *layout, const tcr_picture_options *options) {
    size_t every = 1, ignored;
    tcr_canvas_colour(canvas, canvas->style->ground);
    cairo_rectangle(canvas->cr, 0, 0, TCR_SHEET_WIDTH, layout->height_mm);
    cairo_fill(canvas->cr);
    /* No clip about the hairs: everything is laid out to lie inside, and round clips cost much
     * time. */
    tcr_status status = eyes_on_skin(canvas, check, layout->panel, layout->eye, layout->side,
                                     layout->eyes, options->lines, &every);
    for (int i = 0; i < layout->eyes && options->artist && status == TCR_OK; i++)
        status = eyes_on_skin(canvas, check, layout->couch[i], &layout->couch_eye[i],
                              &layout->side[i], 1, false, &ignored);
    if (status != TCR_OK)
        return status;
    marks(canvas, check, layout, options);
    titles(canvas, check, layout);
    (layout->eyes == 1 ? figures_beside : figures_below)(canvas, check, layout, options);
    footer(canvas, check, layout, every);
    return TCR_OK;
}

tcr_status tcr_draw_front(cairo_t *cr, const tcr_check *check, const tcr_picture_options *options,
                          double *height_mm) {
    tcr_picture_options taken;
    tcr_front_layout layout;
    if (check == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_picture_options_take(options, &taken);
    if (status == TCR_OK)
        status = tcr_front_layout_of(check, &layout);
    if (status != TCR_OK)
        return status;
    const double unit = taken.width_mm / TCR_SHEET_WIDTH;
    if (cr != NULL) {
        tcr_canvas canvas;
        status = tcr_canvas_begin(&canvas, cr, tcr_style_on(taken.dark));
        if (status != TCR_OK)
            return status;
        cairo_scale(cr, unit, unit);
        status = draw_sheet(&canvas, check, &layout, &taken);
        const tcr_status drawn = tcr_canvas_end(&canvas);
        status = status == TCR_OK ? drawn : status;
    }
    if (status == TCR_OK && height_mm != NULL)
        *height_mm = layout.height_mm * unit;
    return status;
}
