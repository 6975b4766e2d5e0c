/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The maps of a work sheet: the closed eyes from the artist's seat in thin lines on white paper. At
 * 1:1, to hold against the work, the zones with the length of each and no lash; larger, the lashes,
 * what the layers of each zone get, and the numbers of corrections. A mark at each tip tells its
 * layer in grey print too.
 */
#include "draw/work_sheet.h"

#include <math.h>
#include <stdio.h>

#include "draw/hair.h"
#include "draw/labels.h"
#include "draw/marks.h"
#include "draw/mean.h"
#include "draw/plot.h"
#include "draw/stage.h"

static const double BAR_MM = 50.0;           /* the check bar, */
static const double BAR_ROOM_MM = 54.0;      /* and its words */
static const double LENGTHS_MM = 5.0;        /* room for the lengths at 1:1 */
static const double LEAST_MM = 22.0;         /* of the maps at 1:1: the bar's words beside them */
static const double LARGEST = 3.0;           /* scale of the larger maps of two eyes, */
static const double LARGEST_ALONE = 3.6;     /* of one */
static const double HIGHEST_MM = 84.0;       /* of the larger maps of two eyes, */
static const double HIGHEST_ALONE_MM = 84.0; /* of one */
static const double ABOVE_MM = 16.0;         /* room for the numbers of corrections, */
static const double ABOVE_NONE_MM = 2.0;     /* where there are none, */
static const double BELOW_MM = 13.0;         /* and of zones, */
static const double BELOW_MORE_MM = 21.0;    /* which get what numbers leave */
static const double BEYOND_MM = 2.5;         /* borders reach so far beyond the lashes near them, */
static const double BEYOND_FULL_MM = 1.0;    /* or the mean ones at 1:1, */
static const double BACK_MM = 3.0;           /* and so far over the lid of the larger maps */
static const double ROW_TOP_MM = 3.4;        /* above the margin no root stands higher, mostly */

/* ---- An eye in lines ----------------------------------------------------------------- */

/* Where the mean lash at a place of the lid begins and ends on the sheet, and its direction. */
typedef struct mean_line {
    tcr_vec2 root, tip, direction;
    double length;
} mean_line;

static bool mean_at(const tcr_stage *stage, int i, double at, mean_line *line) {
    const tcr_viewport *eye = &stage->eye[i];
    const double u = fmax(TCR_ROOTS_FROM, fmin(TCR_ROOTS_TO, at));
    if (tcr_mean_seen(tcr_check_set(stage->check), stage->side[i], u, &eye->view, &line->root,
                      &line->tip) != TCR_OK)
        return false;
    line->root = tcr_viewport_seen(eye, line->root);
    line->tip = tcr_viewport_seen(eye, line->tip);
    const tcr_vec2 way = {line->tip.x - line->root.x, line->tip.y - line->root.y};
    line->length = hypot(way.x, way.y);
    if (!(line->length > 0))
        return false;
    line->direction = (tcr_vec2){way.x / line->length, way.y / line->length};
    return true;
}

/* The borders of the zones, from 'back' over the lid to beyond the lashes near them, or the mean
 * one where none is drawn. */
static void rays(tcr_canvas *canvas, const tcr_stage *stage, int i, bool hairs, double back) {
    static const double NEAR_U = 0.06;
    size_t zones;
    const tcr_zone *map = tcr_set_map(tcr_check_set(stage->check), stage->side[i], &zones);
    cairo_new_path(canvas->cr);
    for (size_t k = 0; k + 1 < zones; k++) {
        mean_line at;
        if (!mean_at(stage, i, map[k].to, &at))
            continue;
        const double reach =
            hairs ? tcr_hairs_reach(stage->check, stage->side[i], &stage->eye[i],
                                    map[k].to - NEAR_U, map[k].to + NEAR_U, at.root, at.direction)
                  : 0;
        const double far = fmax(at.length, reach) + (hairs ? BEYOND_MM : BEYOND_FULL_MM);
        cairo_move_to(canvas->cr, at.root.x - back * at.direction.x,
                      at.root.y - back * at.direction.y);
        cairo_line_to(canvas->cr, at.root.x + far * at.direction.x,
                      at.root.y + far * at.direction.y);
    }
    tcr_canvas_colour(canvas, canvas->style->pad_line);
    cairo_set_line_width(canvas->cr, 0.3);
    cairo_stroke(canvas->cr);
}

static void line_of_lid(tcr_canvas *canvas, const tcr_stage *stage, int i) {
    tcr_eye_shape shape;
    tcr_eye_shape_of(tcr_set_lid(tcr_check_set(stage->check), stage->side[i]), &stage->eye[i],
                     &shape);
    cairo_new_path(canvas->cr);
    tcr_canvas_polyline(canvas, shape.upper, TCR_CONTOUR, false);
    tcr_canvas_colour(canvas, canvas->style->ink);
    cairo_set_line_width(canvas->cr, 0.4);
    cairo_stroke(canvas->cr);
}

/* ---- 1:1 ----------------------------------------------------------------------------- */

static void check_bar(tcr_canvas *canvas, double x, double y) {
    const tcr_setting small = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->ink, .width_mm = BAR_ROOM_MM, .lines = 4};
    cairo_t *cr = canvas->cr;
    tcr_canvas_colour(canvas, canvas->style->ink);
    cairo_rectangle(cr, x, y - 1.4, BAR_MM, 1.4);
    cairo_fill(cr);
    /* Every other centimetre of it is light. */
    tcr_canvas_colour(canvas, canvas->style->paper);
    for (int i = 10; i < BAR_MM; i += 20)
        cairo_rectangle(cr, x + i, y - 1.15, 10, 0.9);
    cairo_fill(cr);
    tcr_canvas_text(canvas, x, y + 4,
                    "This bar is 50 mm long on paper printed at full size (100 %). The maps beside "
                    "it are then 1:1, as seen from above: of the lengths only the numbers hold, "
                    "those of the bottom layer.",
                    &small);
}

static void number_at(tcr_canvas *canvas, tcr_box box, const char *text, tcr_setting words) {
    words.align = 0.5;
    const tcr_box size = tcr_canvas_measure(canvas, text, &words);
    tcr_canvas_text(canvas, box.x + box.width / 2, box.y - size.y, text, &words);
}

/* The tips of the mean lashes, from corner to corner. */
static void tips_of_mean(tcr_canvas *canvas, const tcr_stage *stage, int i) {
    enum { POINTS = 33 };
    cairo_new_path(canvas->cr);
    for (int k = 0; k < POINTS; k++) {
        mean_line at;
        if (mean_at(stage, i, (double)k / (POINTS - 1), &at))
            cairo_line_to(canvas->cr, at.tip.x, at.tip.y);
    }
    tcr_canvas_colour(canvas, canvas->style->quiet);
    cairo_set_line_width(canvas->cr, 0.2);
    cairo_stroke(canvas->cr);
}

/* The length of each zone's bottom layer, where there is room. */
static void lengths(tcr_canvas *canvas, const tcr_work_sheet *sheet, const tcr_stage *stage, int i,
                    tcr_label_map *map) {
    const tcr_setting label = {.type = TCR_TYPE_LABEL, .colour = canvas->style->ink};
    size_t zones;
    const tcr_zone *zone = tcr_set_map(sheet->set, stage->side[i], &zones);
    for (size_t k = 0; k < zones; k++) {
        const tcr_plan_cell *cell = tcr_work_cell_at(sheet->plan, stage->side[i], k, TCR_BOTTOM);
        char number[TCR_WORDS];
        mean_line at;
        if (cell == NULL ||
            !mean_at(stage, i, ((k > 0 ? zone[k - 1].to : 0) + zone[k].to) / 2, &at))
            continue;
        tcr_say_trimmed(number, cell->choice.length_mm, 2);
        const tcr_box size = tcr_canvas_measure(canvas, number, &label);
        const tcr_label *placed =
            tcr_label_along(map, at.root, at.direction, at.length + BEYOND_FULL_MM + 0.4,
                            size.width + 0.6, size.height);
        if (placed != NULL)
            number_at(canvas, placed->box, number, label);
    }
}

/* Where an eye at 1:1 with its lengths begins and ends across the page. */
static void span_of(const tcr_stage *stage, int i, double span[2]) {
    const double length_mm = 3.4; /* a length's number beside a tip */
    span[0] = INFINITY;
    span[1] = -INFINITY;
    for (int end = 0; end < 2; end++) {
        mean_line at;
        if (!mean_at(stage, i, end, &at))
            continue;
        span[0] = fmin(span[0], at.tip.x - length_mm);
        span[1] = fmax(span[1], at.tip.x + length_mm);
    }
}

/* The bar between two eyes or beside one, else below; returns where that ends. */
static double place_bar(tcr_canvas *canvas, const tcr_stage *stage) {
    const tcr_box panel = stage->panel;
    double first[2], last[2], left, right;
    span_of(stage, 0, first);
    span_of(stage, stage->eyes - 1, last);
    left = first[1];
    right = stage->eyes == 1 ? panel.x + panel.width : last[0];
    if (right - left < BAR_ROOM_MM) {
        check_bar(canvas, panel.x, panel.y + panel.height + 4);
        return panel.y + panel.height + 18;
    }
    check_bar(canvas, stage->eyes == 1 ? right - BAR_ROOM_MM : (left + right - BAR_ROOM_MM) / 2,
              panel.y + 5);
    return panel.y + panel.height;
}

static void full_size(tcr_canvas *canvas, const tcr_work_sheet *sheet, double top, double *end) {
    const tcr_view seat = sheet->picture.options.seat;
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet};
    tcr_extent extent = tcr_extent_empty();
    tcr_stage stage;
    tcr_extent_widen(&extent, sheet->after, &sheet->picture, &seat);
    extent.low.y -= LENGTHS_MM;
    const double height = fmax(extent.high.y - extent.low.y, LEAST_MM);
    const tcr_box panel = {TCR_PAGE_EDGE, top, TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE, height};
    tcr_stage_place(&stage, sheet->after, &sheet->picture, &seat, &extent, 1.0, panel);
    tcr_label_map map = {.area = panel};
    for (int i = 0; i < stage.eyes; i++) {
        rays(canvas, &stage, i, false, 0);
        tips_of_mean(canvas, &stage, i);
        line_of_lid(canvas, &stage, i);
        lengths(canvas, sheet, &stage, i, &map);
        const double x = panel.x + (i == 0 ? 0 : panel.width);
        const tcr_setting name = {
            .type = TCR_TYPE_HEADING, .colour = canvas->style->ink, .align = i};
        tcr_setting under = small;
        under.align = i;
        tcr_canvas_text(canvas, x, top + 3, tcr_say_side(stage.side[i]), &name);
        tcr_canvas_text(canvas, x, top + 6.8, "at 1:1", &under);
    }
    *end = place_bar(canvas, &stage);
}

/* ---- Larger -------------------------------------------------------------------------- */

/* A zone's name, and below it what its layers get, bottom to top. */
typedef struct zone_words {
    char name[TCR_WORDS], gets[TCR_WORDS];
    tcr_setting setting[2]; /* of the one and the other */
    tcr_box size;           /* of both lines */
    double line;            /* height of the first */
} zone_words;

/* The curl that all zones and layers get, which the caption says once; NULL for several. */
static const char *one_curl(const tcr_work_sheet *sheet) {
    const tcr_plan_result *r = tcr_plan_result_of(sheet->plan);
    for (size_t c = 1; c < r->cells; c++)
        if (r->cell[c].choice.curl != r->cell[0].choice.curl)
            return NULL;
    return r->cells > 0 ? tcr_set_curl(sheet->set, r->cell[0].choice.curl)->label : NULL;
}

static void say_zone(tcr_canvas *canvas, const tcr_work_sheet *sheet, tcr_side side, size_t zone,
                     bool shortly, zone_words *words) {
    const bool curls = one_curl(sheet) == NULL;
    size_t used = 0;
    words->setting[0] =
        (tcr_setting){.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet, .align = 0.5};
    words->setting[1] = (tcr_setting){.type = shortly ? TCR_TYPE_LABEL : TCR_TYPE_HEADING,
                                      .colour = canvas->style->ink,
                                      .align = 0.5};
    snprintf(words->name, TCR_WORDS, shortly ? "%zu" : "zone %zu", zone + 1);
    words->gets[0] = '\0';
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_plan_cell *of = tcr_work_cell_at(sheet->plan, side, zone, (tcr_layer)layer);
        char number[TCR_WORDS];
        used += (size_t)snprintf(
            words->gets + used, TCR_WORDS - used, "%s%.8s%.15s",
            layer == 0 ? ""
            : curls    ? " "
                       : "/",
            of != NULL ? tcr_say_trimmed(number, of->choice.length_mm, 2) : "\xe2\x80\x93",
            of != NULL && curls ? tcr_set_curl(sheet->set, of->choice.curl)->label : "");
    }
    const tcr_box name = tcr_canvas_measure(canvas, words->name, &words->setting[0]);
    const tcr_box gets = tcr_canvas_measure(canvas, words->gets, &words->setting[1]);
    words->line = name.height;
    words->size = (tcr_box){0, name.y, fmax(name.width, gets.width), words->line + gets.height};
}

/* Straight out of the zone, or as little aslant as finds room. */
static const tcr_label *name_outside(tcr_label_map *map, const mean_line *at, double far,
                                     const tcr_box *size) {
    static const double ASLANT[] = {0, -0.1, 0.1, -0.2, 0.2, -0.3, 0.3, -0.45, 0.45};
    const tcr_label *placed = NULL;
    for (size_t i = 0; i < sizeof ASLANT / sizeof *ASLANT && placed == NULL; i++) {
        const double c = cos(ASLANT[i]), s = sin(ASLANT[i]);
        const tcr_vec2 out = {c * at->direction.x - s * at->direction.y,
                              s * at->direction.x + c * at->direction.y};
        placed = tcr_label_along(map, at->root, out, far, size->width + 0.8, size->height);
    }
    return placed;
}

static void name_zones(tcr_canvas *canvas, const tcr_stage *stage, const tcr_work_sheet *sheet,
                       tcr_label_map *map, size_t *unnamed) {
    const tcr_side side = stage->side[0];
    const tcr_viewport *eye = &stage->eye[0];
    size_t zones;
    const tcr_zone *zone = tcr_set_map(sheet->set, side, &zones);
    for (size_t k = 0; k < zones; k++) {
        const double from = k > 0 ? zone[k - 1].to : 0;
        zone_words words;
        mean_line at;
        if (!mean_at(stage, 0, (from + zone[k].to) / 2, &at))
            continue;
        say_zone(canvas, sheet, side, k, zones > 12, &words);
        /* Off all hairs that the words are wide enough to meet; neighbours lean over, and borders
         * end beyond them. */
        const double wide = eye->scale * tcr_set_lid(sheet->set, side)->fissure_width_mm;
        const double lean = 0.03 + words.size.width / 2 / wide, clear = 1;
        const double reach = tcr_hairs_reach(stage->check, side, eye, from - lean,
                                             zone[k].to + lean, at.root, at.direction);
        const double far = fmax(reach, at.length) + BEYOND_MM + clear;
        const tcr_label *placed = name_outside(map, &at, far, &words.size);
        if (placed == NULL) {
            ++*unnamed;
            continue;
        }
        tcr_box line = {placed->box.x, placed->box.y, placed->box.width, words.line};
        number_at(canvas, line, words.name, words.setting[0]);
        line.y += words.line;
        number_at(canvas, line, words.gets, words.setting[1]);
    }
}

/* Straight above, or as little aslant as finds room. */
static const tcr_label *number_above(tcr_label_map *map, tcr_vec2 root, double clear,
                                     tcr_box size) {
    static const double ASLANT[] = {0, -0.12, 0.12, -0.25, 0.25, -0.4, 0.4, -0.6, 0.6};
    const tcr_label *placed = NULL;
    for (size_t i = 0; i < sizeof ASLANT / sizeof *ASLANT && placed == NULL; i++) {
        const double length = hypot(ASLANT[i], 1);
        placed = tcr_label_along(map, root, (tcr_vec2){ASLANT[i] / length, -1 / length}, clear,
                                 size.width + 1.2, size.height - 0.4);
    }
    return placed;
}

/* Where a corrected lash roots on the map, and the lid's edge there; false if it is of another eye.
 */
static bool correction_at(const tcr_stage *stage, const tcr_work_sheet *sheet, size_t c,
                          tcr_vec2 *root, tcr_vec2 *margin) {
    const tcr_work_correction *of = &sheet->correction[c];
    const tcr_viewport *eye = &stage->eye[0];
    const tcr_lid *lid = tcr_set_lid(sheet->set, stage->side[0]);
    tcr_stance stance;
    tcr_frame frame;
    if (of->side != stage->side[0] ||
        tcr_lash_stance(tcr_set_lash(sheet->set, of->side, of->lash), lid, eye->view.opening,
                        &stance) != TCR_OK ||
        tcr_lid_frame(lid, of->u, eye->view.opening, &frame) != TCR_OK)
        return false;
    *root = tcr_viewport_point(eye, stance.root);
    *margin = tcr_viewport_point(eye, frame.point);
    return true;
}

static const double RING_MM = 0.55;

/* A ring at the root of each corrected lash; numbers keep off them. */
static void ring_corrections(tcr_canvas *canvas, const tcr_stage *stage,
                             const tcr_work_sheet *sheet, tcr_label_map *map) {
    const double around = RING_MM + 0.2;
    tcr_canvas_colour(canvas, canvas->style->ring);
    cairo_set_line_width(canvas->cr, 0.25);
    for (size_t c = 0; c < sheet->corrections; c++) {
        tcr_vec2 root, margin;
        if (!correction_at(stage, sheet, c, &root, &margin))
            continue;
        cairo_new_path(canvas->cr);
        cairo_arc(canvas->cr, root.x, root.y, RING_MM, 0, 2 * acos(-1.0));
        cairo_stroke(canvas->cr);
        tcr_label_block(map, (tcr_box){root.x - around, root.y - around, 2 * around, 2 * around});
    }
}

/* The number of each above the lid where there is room. */
static void number_corrections(tcr_canvas *canvas, const tcr_stage *stage,
                               const tcr_work_sheet *sheet, tcr_label_map *map,
                               size_t *unnumbered) {
    const tcr_setting label = {.type = TCR_TYPE_LABEL, .colour = canvas->style->ink};
    for (size_t c = 0; c < sheet->corrections; c++) {
        char text[TCR_WORDS];
        tcr_vec2 root, margin;
        if (!correction_at(stage, sheet, c, &root, &margin))
            continue;
        snprintf(text, sizeof text, "%zu", c + 1);
        const tcr_box size = tcr_canvas_measure(canvas, text, &label);
        const double clear = fmax(0.8, root.y - margin.y + ROW_TOP_MM * stage->eye[0].scale);
        const tcr_label *placed = number_above(map, root, clear, size);
        if (placed == NULL) {
            ++*unnumbered;
            continue;
        }
        /* The leader is the one that other labels keep off, up to the number. */
        const double up = (root.y - placed->box.y - placed->box.height) / (root.y - placed->to.y);
        tcr_canvas_colour(canvas, canvas->style->ring);
        cairo_set_line_width(canvas->cr, 0.12);
        cairo_move_to(canvas->cr, root.x, root.y - RING_MM);
        cairo_line_to(canvas->cr, root.x + up * (placed->to.x - root.x),
                      placed->box.y + placed->box.height);
        cairo_stroke(canvas->cr);
        number_at(canvas, placed->box, text, label);
    }
}

/* What the caption of the maps has to say. */
typedef struct map_notes {
    size_t every;      /* one hair of this many is drawn */
    size_t unnumbered; /* corrections without room for their number */
    size_t unnamed;    /* zones without room for their name */
    double scale[TCR_SIDES];
} map_notes;

/* 10 mm of the eye at the scale of a larger map. */
static void scale_bar(tcr_canvas *canvas, double x, double y, double scale) {
    static const double LONG_MM = 10, END_MM = 1.2;
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->ink};
    const double end = x + LONG_MM * scale;
    char text[TCR_WORDS], number[TCR_WORDS];
    cairo_new_path(canvas->cr);
    cairo_move_to(canvas->cr, x, y - END_MM);
    cairo_line_to(canvas->cr, x, y);
    cairo_line_to(canvas->cr, end, y);
    cairo_line_to(canvas->cr, end, y - END_MM);
    tcr_canvas_colour(canvas, canvas->style->ink);
    cairo_set_line_width(canvas->cr, 0.25);
    cairo_stroke(canvas->cr);
    snprintf(text, sizeof text, "10 mm, at %.20s:1", tcr_say_number(number, scale, 2, false));
    tcr_canvas_text(canvas, end + 1.5, y, text, &small);
}

/* Each layer's colour and mark with its name. */
static void legend(tcr_canvas *canvas, double x, double y) {
    static const char WORDS[] = "A mark at each tip tells its layer:";
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->ink};
    tcr_canvas_text(canvas, x, y, WORDS, &small);
    x += tcr_canvas_measure(canvas, WORDS, &small).width + 3;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const char *name = tcr_layer_name((tcr_layer)layer);
        cairo_new_path(canvas->cr);
        cairo_move_to(canvas->cr, x, y - 0.9);
        cairo_line_to(canvas->cr, x + 6, y - 0.9);
        tcr_canvas_colour(canvas, canvas->style->layer[layer]);
        cairo_set_line_width(canvas->cr, 0.5);
        cairo_stroke(canvas->cr);
        tcr_plot_mark(canvas, (tcr_layer)layer, (tcr_vec2){x + 6, y - 0.9}, 0.75);
        tcr_canvas_text(canvas, x + 8, y, name, &small);
        x += 8 + tcr_canvas_measure(canvas, name, &small).width + 5;
    }
}

/* One eye with the lashes of a check, its own or average ones. */
static tcr_status larger(tcr_canvas *canvas, const tcr_work_sheet *sheet, const tcr_check *shown,
                         int i, double top, double *end, map_notes *notes) {
    const int eyes = sheet->picture.eyes;
    const tcr_view seat = sheet->picture.options.seat;
    tcr_picture one = sheet->picture;
    tcr_extent extent = tcr_extent_empty();
    tcr_stage stage;
    one.eyes = 1;
    one.side[0] = sheet->picture.side[i];
    tcr_extent_widen(&extent, shown, &one, &seat);
    const bool numbers = sheet->form == TCR_SHEET_FULL && sheet->corrections > 0;
    const double above = numbers ? ABOVE_MM : ABOVE_NONE_MM;
    const double below = numbers ? BELOW_MM : BELOW_MORE_MM;
    const double width = eyes == 1 ? TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE : TCR_PAGE_COLUMN;
    const double wide = extent.high.x - extent.low.x, high = extent.high.y - extent.low.y;
    const double scale = fmin(fmin(eyes == 1 ? LARGEST_ALONE : LARGEST, (width - 8) / wide),
                              ((eyes == 1 ? HIGHEST_ALONE_MM : HIGHEST_MM) - above - below) / high);
    extent.high.y += above / scale - 8;
    extent.low.y -= below / scale;
    const double x = TCR_PAGE_EDGE + (i == 0 ? 0 : TCR_PAGE_COLUMN + TCR_PAGE_GAP);
    const tcr_box panel = {x, top, width, scale * (extent.high.y - extent.low.y)};
    tcr_stage_place(&stage, shown, &one, &seat, &extent, scale, panel);
    const tcr_hair_choice hairs = {.layers = TCR_EVERY_LAYER};
    rays(canvas, &stage, 0, true, BACK_MM); /* under the hairs, so that they cover none */
    line_of_lid(canvas, &stage, 0);
    const tcr_status status =
        tcr_hairs_draw(canvas, stage.check, stage.side[0], &stage.eye[0], &hairs, &notes->every);
    tcr_stage_tips(canvas, &stage, 0, TCR_EVERY_LAYER);
    const double rim = TCR_PAGE_GAP / 2 - 0.5; /* words may stand beside the column */
    tcr_label_map map = {.area = {panel.x - rim, panel.y, panel.width + 2 * rim,
                                  panel.height - 2.5 /* the scale bar's words */}};
    if (sheet->form == TCR_SHEET_FULL)
        ring_corrections(canvas, &stage, sheet, &map);
    if (sheet->form == TCR_SHEET_FULL)
        number_corrections(canvas, &stage, sheet, &map, &notes->unnumbered);
    name_zones(canvas, &stage, sheet, &map, &notes->unnamed);
    notes->scale[i] = scale;
    *end = fmax(*end, panel.y + panel.height);
    return status;
}

/* Where nobody measured the lashes of an eye, average ones stand for its zones and layers. */
static tcr_status larger_or_average(tcr_canvas *canvas, const tcr_work_sheet *sheet, int i,
                                    double top, double *end, map_notes *notes) {
    const tcr_side side = sheet->picture.side[i];
    tcr_bare_layers bare;
    tcr_set *set = NULL;
    tcr_check *mean = NULL;
    if (!tcr_plan_eye_of(sheet->plan, side)->zones_only)
        return larger(canvas, sheet, sheet->after, i, top, end, notes);
    for (size_t zone = 0; zone < TCR_ZONES_MAX; zone++)
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            bare.of[zone][layer] =
                tcr_work_cell_at(sheet->plan, side, zone, (tcr_layer)layer) == NULL;
    tcr_status status = tcr_mean_map(sheet->set, side, &bare, &set);
    if (status == TCR_OK)
        status = tcr_check_new(set, NULL, &mean, NULL);
    if (status == TCR_OK)
        status = larger(canvas, sheet, mean, i, top, end, notes);
    tcr_check_free(mean);
    tcr_set_free(set);
    return status;
}

static double caption(tcr_canvas *canvas, const tcr_work_sheet *sheet, const map_notes *notes,
                      double y) {
    const tcr_setting small = {.type = TCR_TYPE_SMALL,
                               .colour = canvas->style->quiet,
                               .width_mm = TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE,
                               .lines = 4};
    char text[4 * TCR_WORDS], seat[TCR_WORDS], few[TCR_WORDS] = "", narrow[TCR_WORDS] = "";
    char all[TCR_WORDS] = "";
    if (one_curl(sheet) != NULL)
        snprintf(all, sizeof all, " All curl %.30s.", one_curl(sheet));
    if (notes->unnamed > 0)
        snprintf(narrow, sizeof narrow, " There is no room here for the names of %zu zones.",
                 notes->unnamed);
    if (notes->unnumbered > 0)
        snprintf(few, sizeof few, " There is no room here for the numbers of %zu of them.",
                 notes->unnumbered);
    snprintf(text, sizeof text,
             "%s. The maps stand brow up: turn the sheet round to see the eyes as from the head of "
             "the couch. Below a zone: the lengths of its layers, bottom to top.%s%s%s%s%s",
             tcr_say_seat(seat, &sheet->picture.options.seat), all, narrow,
             sheet->form == TCR_SHEET_FULL && sheet->corrections > 0
                 ? " Ringed: corrections, by number in the lists."
                 : "",
             few, notes->every > 1 ? " Not every lash is drawn." : "");
    if (text[0] >= 'a' && text[0] <= 'z')
        text[0] = (char)(text[0] - 'a' + 'A');
    return y + tcr_canvas_text(canvas, TCR_PAGE_EDGE, y, text, &small);
}

tcr_status tcr_work_maps(tcr_canvas *canvas, const tcr_work_sheet *sheet, double top, double *end) {
    map_notes notes = {.every = 1};
    tcr_status status = TCR_OK;
    full_size(canvas, sheet, top, end);
    double low = *end;
    for (int i = 0; i < sheet->picture.eyes && status == TCR_OK; i++)
        status = larger_or_average(canvas, sheet, i, *end + 3, &low, &notes);
    for (int i = 0; i < sheet->picture.eyes && status == TCR_OK; i++)
        scale_bar(canvas, TCR_PAGE_EDGE + i * (TCR_PAGE_COLUMN + TCR_PAGE_GAP), low,
                  notes.scale[i]);
    legend(canvas, TCR_PAGE_EDGE, low + 4.5);
    *end = caption(canvas, sheet, &notes, low + 8.2) - 2;
    return status;
}
