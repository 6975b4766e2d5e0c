/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The maps of a work sheet: the closed eyes from the artist's seat in thin lines on white paper, at
 * 1:1 to hold against the work, and larger with the zones, what their layers get, and the numbers
 * of corrections. A mark at each tip tells its layer in grey print too.
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

static const double BAR_MM = 50.0;       /* the check bar */
static const double LARGEST = 3.0;       /* scale of the larger maps of two eyes, */
static const double LARGEST_ALONE = 3.6; /* of one */
static const double HIGHEST_MM = 84.0;   /* of the larger maps */
static const double ABOVE_MM = 16.0;     /* room for the numbers of corrections, */
static const double ABOVE_NONE = 10.0;   /* where there are none, */
static const double BELOW_MM = 13.0;     /* and of zones */
static const double BEYOND_MM = 1.0;     /* of the eye: borders reach so far beyond the mean tips */
static const double FIRST_U = 0.02, LAST_U = 0.98;
static const double ROW_TOP_MM = 3.4; /* above the margin no root stands higher, mostly */

/* ---- An eye in lines ----------------------------------------------------------------- */

static void rays(tcr_canvas *canvas, const tcr_stage *stage, int i, double beyond) {
    const tcr_set *set = tcr_check_set(stage->check);
    const tcr_viewport *eye = &stage->eye[i];
    size_t zones;
    const tcr_zone *map = tcr_set_map(set, stage->side[i], &zones);
    static const double DASH[] = {1.1, 0.8};
    cairo_new_path(canvas->cr);
    for (size_t k = 0; k + 1 < zones; k++) {
        tcr_vec2 root, tip;
        const double u = fmax(FIRST_U, fmin(LAST_U, map[k].to));
        if (tcr_mean_seen(set, stage->side[i], u, &eye->view, &root, &tip) != TCR_OK)
            continue;
        const double length = hypot(tip.x - root.x, tip.y - root.y);
        const double reach = length > 0 ? 1 + beyond / (eye->scale * length) : 1;
        const tcr_vec2 end = {root.x + reach * (tip.x - root.x), root.y + reach * (tip.y - root.y)};
        const tcr_vec2 a = tcr_viewport_seen(eye, root), b = tcr_viewport_seen(eye, end);
        cairo_move_to(canvas->cr, a.x, a.y);
        cairo_line_to(canvas->cr, b.x, b.y);
    }
    tcr_canvas_colour(canvas, canvas->style->pad_line);
    cairo_set_line_width(canvas->cr, 0.25);
    cairo_set_dash(canvas->cr, DASH, 2, 0);
    cairo_stroke(canvas->cr);
    cairo_set_dash(canvas->cr, NULL, 0, 0);
}

/* The lid's edge, and the crease where nothing else needs its room. */
static void line_of_lid(tcr_canvas *canvas, const tcr_stage *stage, int i, bool crease) {
    tcr_eye_shape shape;
    tcr_eye_shape_of(tcr_set_lid(tcr_check_set(stage->check), stage->side[i]), &stage->eye[i],
                     &shape);
    cairo_new_path(canvas->cr);
    if (crease) {
        tcr_canvas_polyline(canvas, shape.crease, TCR_CONTOUR, false);
        tcr_canvas_colour(canvas, tcr_rgba_faded(canvas->style->quiet, 0.5));
        cairo_set_line_width(canvas->cr, 0.2);
        cairo_stroke(canvas->cr);
    }
    tcr_canvas_polyline(canvas, shape.upper, TCR_CONTOUR, false);
    tcr_canvas_colour(canvas, canvas->style->ink);
    cairo_set_line_width(canvas->cr, 0.4);
    cairo_stroke(canvas->cr);
}

/* The borders lie under the hairs, so that they cover none. */
static tcr_status eyes_of(tcr_canvas *canvas, const tcr_stage *stage, double beyond, bool crease,
                          size_t *every) {
    const tcr_hair_choice hairs = {.layers = TCR_EVERY_LAYER};
    tcr_status status = TCR_OK;
    for (int i = 0; i < stage->eyes && status == TCR_OK; i++) {
        rays(canvas, stage, i, beyond);
        line_of_lid(canvas, stage, i, crease);
        status =
            tcr_hairs_draw(canvas, stage->check, stage->side[i], &stage->eye[i], &hairs, every);
    }
    return status;
}

/* ---- 1:1 ----------------------------------------------------------------------------- */

static void check_bar(tcr_canvas *canvas, double x, double y) {
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->ink};
    cairo_t *cr = canvas->cr;
    tcr_canvas_colour(canvas, canvas->style->ink);
    cairo_rectangle(cr, x, y - 1.4, BAR_MM, 1.4);
    cairo_fill(cr);
    /* Every other centimetre of it is light. */
    tcr_canvas_colour(canvas, canvas->style->paper);
    for (int i = 10; i < BAR_MM; i += 20)
        cairo_rectangle(cr, x + i, y - 1.15, 10, 0.9);
    cairo_fill(cr);
    tcr_canvas_text(canvas, x + BAR_MM + 2.5, y,
                    "This bar is 50 mm long on paper printed at full size (100 %). The maps above "
                    "it are then 1:1.",
                    &small);
}

static tcr_status full_size(tcr_canvas *canvas, const tcr_work_sheet *sheet, double top,
                            double *end, size_t *every) {
    const tcr_view seat = sheet->picture.options.seat;
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet};
    tcr_extent extent = tcr_extent_empty();
    tcr_stage stage;
    tcr_extent_widen(&extent, sheet->after, &sheet->picture, &seat);
    const double height = extent.high.y - extent.low.y;
    const tcr_box panel = {TCR_PAGE_EDGE, top, TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE, height};
    tcr_stage_place(&stage, sheet->after, &sheet->picture, &seat, &extent, 1.0, panel);
    const tcr_status status = eyes_of(canvas, &stage, 1.0, true, every);
    for (int i = 0; i < stage.eyes; i++) {
        const double x = panel.x + (i == 0 ? 0 : panel.width);
        const tcr_setting name = {
            .type = TCR_TYPE_HEADING, .colour = canvas->style->ink, .align = i};
        tcr_setting under = small;
        under.align = i;
        tcr_canvas_text(canvas, x, top + 3, tcr_say_side(stage.side[i]), &name);
        tcr_canvas_text(canvas, x, top + 6.8, "at 1:1", &under);
    }
    check_bar(canvas, TCR_PAGE_EDGE, panel.y + panel.height + 4);
    *end = panel.y + panel.height + 4;
    return status;
}

/* ---- Larger -------------------------------------------------------------------------- */

static void number_at(tcr_canvas *canvas, tcr_box box, const char *text, tcr_rgba colour) {
    const tcr_setting label = {.type = TCR_TYPE_LABEL, .colour = colour, .align = 0.5};
    const tcr_box size = tcr_canvas_measure(canvas, text, &label);
    tcr_canvas_text(canvas, box.x + box.width / 2, box.y - size.y, text, &label);
}

/* A zone's name, and below it what its layers get, bottom to top. */
typedef struct zone_words {
    char name[TCR_WORDS], gets[TCR_WORDS];
    tcr_box size; /* of both lines */
    double line;  /* height of one */
} zone_words;

static void say_zone(tcr_canvas *canvas, const tcr_work_sheet *sheet, tcr_side side, size_t zone,
                     bool shortly, zone_words *words) {
    const tcr_setting label = {.type = TCR_TYPE_LABEL, .colour = canvas->style->ink};
    size_t used = 0;
    snprintf(words->name, TCR_WORDS, shortly ? "%zu" : "zone %zu", zone + 1);
    words->gets[0] = '\0';
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        const tcr_plan_cell *of = tcr_work_cell_at(sheet->plan, side, zone, (tcr_layer)layer);
        char number[TCR_WORDS];
        used += (size_t)snprintf(
            words->gets + used, TCR_WORDS - used, "%s%.8s%.15s", layer > 0 ? " " : "",
            of != NULL ? tcr_say_trimmed(number, of->choice.length_mm, 2) : "\xe2\x80\x93",
            of != NULL ? tcr_set_curl(sheet->set, of->choice.curl)->label : "");
    }
    const tcr_box name = tcr_canvas_measure(canvas, words->name, &label);
    const tcr_box gets = tcr_canvas_measure(canvas, words->gets, &label);
    words->line = fmax(name.height, gets.height);
    words->size = (tcr_box){0, name.y, fmax(name.width, gets.width), 2 * words->line};
}

static void name_zones(tcr_canvas *canvas, const tcr_stage *stage, const tcr_work_sheet *sheet,
                       tcr_label_map *map, size_t *unnamed) {
    const tcr_side side = stage->side[0];
    const tcr_viewport *eye = &stage->eye[0];
    size_t zones;
    const tcr_zone *zone = tcr_set_map(sheet->set, side, &zones);
    for (size_t k = 0; k < zones; k++) {
        const double from = k > 0 ? zone[k - 1].to : 0;
        tcr_vec2 root, tip;
        zone_words words;
        const double u = fmax(FIRST_U, fmin(LAST_U, (from + zone[k].to) / 2));
        if (tcr_mean_seen(sheet->set, side, u, &eye->view, &root, &tip) != TCR_OK)
            continue;
        root = tcr_viewport_seen(eye, root);
        tip = tcr_viewport_seen(eye, tip);
        const double length = hypot(tip.x - root.x, tip.y - root.y);
        if (!(length > 0))
            continue;
        const tcr_vec2 direction = {(tip.x - root.x) / length, (tip.y - root.y) / length};
        say_zone(canvas, sheet, side, k, zones > 12, &words);
        /* Off all hairs that the words are wide enough to meet; neighbours lean over, and borders
         * end beyond the mean tip. */
        const double wide = eye->scale * tcr_set_lid(sheet->set, side)->fissure_width_mm;
        const double lean = 0.03 + words.size.width / 2 / wide, clear = 1.2;
        const double reach = tcr_hairs_reach(stage->check, side, eye, from - lean,
                                             zone[k].to + lean, root, direction);
        const double border = length + BEYOND_MM * eye->scale;
        const tcr_label *placed = tcr_label_along(map, root, direction, fmax(reach, border) + clear,
                                                  words.size.width + 0.8, words.size.height);
        if (placed == NULL) {
            ++*unnamed;
            continue;
        }
        tcr_box line = {placed->box.x, placed->box.y, placed->box.width, words.line};
        number_at(canvas, line, words.name, canvas->style->quiet);
        line.y += words.line;
        number_at(canvas, line, words.gets, canvas->style->ink);
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
        number_at(canvas, placed->box, text, canvas->style->ink);
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

static tcr_status larger(tcr_canvas *canvas, const tcr_work_sheet *sheet, int i, double top,
                         double *end, map_notes *notes) {
    const int eyes = sheet->picture.eyes;
    const tcr_view seat = sheet->picture.options.seat;
    tcr_picture one = sheet->picture;
    tcr_extent extent = tcr_extent_empty();
    tcr_stage stage;
    one.eyes = 1;
    one.side[0] = sheet->picture.side[i];
    tcr_extent_widen(&extent, sheet->after, &one, &seat);
    const bool numbers = sheet->form == TCR_SHEET_FULL && sheet->corrections > 0;
    const double above = numbers ? ABOVE_MM : ABOVE_NONE;
    const double width = eyes == 1 ? TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE : TCR_PAGE_COLUMN;
    const double wide = extent.high.x - extent.low.x, high = extent.high.y - extent.low.y;
    const double scale = fmin(fmin(eyes == 1 ? LARGEST_ALONE : LARGEST, (width - 2) / wide),
                              (HIGHEST_MM - above - BELOW_MM) / high);
    extent.high.y += above / scale - 8;
    extent.low.y -= BELOW_MM / scale;
    const double x = TCR_PAGE_EDGE + (i == 0 ? 0 : TCR_PAGE_COLUMN + TCR_PAGE_GAP);
    const tcr_box panel = {x, top, width, scale * (extent.high.y - extent.low.y)};
    tcr_stage_place(&stage, sheet->after, &one, &seat, &extent, scale, panel);
    const tcr_status status = eyes_of(canvas, &stage, BEYOND_MM * scale, false, &notes->every);
    tcr_stage_tips(canvas, &stage, 0, TCR_EVERY_LAYER);
    tcr_label_map map = {.area = panel};
    map.area.height -= 2.5; /* the scale bar's words */
    if (sheet->form == TCR_SHEET_FULL)
        ring_corrections(canvas, &stage, sheet, &map);
    if (sheet->form == TCR_SHEET_FULL)
        number_corrections(canvas, &stage, sheet, &map, &notes->unnumbered);
    name_zones(canvas, &stage, sheet, &map, &notes->unnamed);
    notes->scale[i] = scale;
    *end = fmax(*end, panel.y + panel.height);
    return status;
}

static double caption(tcr_canvas *canvas, const tcr_work_sheet *sheet, const map_notes *notes,
                      double y) {
    const tcr_setting small = {.type = TCR_TYPE_SMALL,
                               .colour = canvas->style->quiet,
                               .width_mm = TCR_PAGE_WIDTH - 2 * TCR_PAGE_EDGE,
                               .lines = 4};
    char text[4 * TCR_WORDS], seat[TCR_WORDS], few[TCR_WORDS] = "", narrow[TCR_WORDS] = "";
    if (notes->unnamed > 0)
        snprintf(narrow, sizeof narrow, " There is no room here for the names of %zu zones.",
                 notes->unnamed);
    if (notes->unnumbered > 0)
        snprintf(few, sizeof few, " There is no room here for the numbers of %zu of them.",
                 notes->unnumbered);
    snprintf(
        text, sizeof text,
        "%s. The maps stand brow up: turn the sheet round to see the eyes as from the head of "
        "the couch. Dashed: borders of zones. Below a zone: what its layers get, bottom to top."
        "%s%s%s%s",
        tcr_say_seat(seat, &sheet->picture.options.seat), narrow,
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
    tcr_status status = full_size(canvas, sheet, top, end, &notes.every);
    double low = *end;
    for (int i = 0; i < sheet->picture.eyes && status == TCR_OK; i++)
        status = larger(canvas, sheet, i, *end + 3, &low, &notes);
    for (int i = 0; i < sheet->picture.eyes && status == TCR_OK; i++)
        scale_bar(canvas, TCR_PAGE_EDGE + i * (TCR_PAGE_COLUMN + TCR_PAGE_GAP), low,
                  notes.scale[i]);
    legend(canvas, TCR_PAGE_EDGE, low + 4.5);
    *end = caption(canvas, sheet, &notes, low + 8.2) - 2;
    return status;
}
