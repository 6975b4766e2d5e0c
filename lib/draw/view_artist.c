/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the artist sees from the head end of the couch: the closed eye from 60 degrees above
 * (assumed), on a pad on which the map is drawn: a ray at each border of two zones, and in each
 * zone its length and curl and what the three layers get. Small beside it, the same set with the
 * eye open: the picture that nobody sees from the couch.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "draw/figures.h"
#include "draw/hair.h"
#include "draw/layout.h"
#include "draw/mean.h"
#include "draw/sheet.h"
#include "draw/words.h"
#include "num/range.h"

static const double beyond_mm =
    1.6;                         /* how far the rays reach beyond the mean tips, mm of the eye */
static const double rim_mm = 13; /* of the sheet: what the labels need beyond the rays */
static const double ray_from = TCR_ROOTS_FROM, ray_to = TCR_ROOTS_TO; /* the pad's ends, as u */

/* A ray of the pad: from the lid's edge along the mean lash to just beyond its tip, on the sheet.
 */
typedef struct ray {
    tcr_vec2 from, to, direction;
} ray;

static ray ray_at(const tcr_stage *stage, int i, double u) {
    const tcr_viewport *eye = &stage->eye[i];
    const tcr_set *set = tcr_check_set(stage->check);
    tcr_vec2 root = {0, 0}, tip;
    if (tcr_mean_seen(set, stage->side[i], u, &eye->view, &root, &tip) != TCR_OK)
        tip = (tcr_vec2){root.x, root.y - 8};
    ray r = {.from = tcr_viewport_seen(eye, root), .to = tcr_viewport_seen(eye, tip)};
    const double x = r.to.x - r.from.x, y = r.to.y - r.from.y, length = hypot(x, y);
    r.direction = length > 0 ? (tcr_vec2){x / length, y / length} : (tcr_vec2){0, 1};
    r.to.x += beyond_mm * eye->scale * r.direction.x;
    r.to.y += beyond_mm * eye->scale * r.direction.y;
    return r;
}

/* The same ray as it is drawn, for what is not turned with the eye. */
static ray ray_drawn(const tcr_stage *stage, int i, double u) {
    ray r = ray_at(stage, i, u);
    r.from = tcr_stage_at(stage, i, r.from);
    r.to = tcr_stage_at(stage, i, r.to);
    if (stage->turned)
        r.direction = (tcr_vec2){-r.direction.x, -r.direction.y};
    return r;
}

/* How far beyond a ray's end the hairs near it reach, mm of the sheet: those at most NEAR away,
 * which is about half a label. */
static double beyond_ray(const tcr_stage *stage, int i, double u) {
    static const double NEAR = 0.14;
    const ray r = ray_at(stage, i, u);
    const double length = hypot(r.to.x - r.from.x, r.to.y - r.from.y);
    const double reach = tcr_hairs_reach(stage->check, stage->side[i], &stage->eye[i], u - NEAR,
                                         u + NEAR, r.from, r.direction);
    return fmax(0, reach - length);
}

/* The pad under the lashes, and the borders of the zones on it. */
static void pad(tcr_canvas *canvas, const tcr_stage *stage, int i, void *context) {
    enum { POINTS = 41 };
    (void)context;
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    ray rays[POINTS];
    cairo_new_path(cr);
    for (int k = 0; k < POINTS; k++) {
        rays[k] = ray_at(stage, i, ray_from + (ray_to - ray_from) * k / (POINTS - 1));
        cairo_line_to(cr, rays[k].from.x, rays[k].from.y);
    }
    for (int k = POINTS; k-- > 0;)
        cairo_line_to(cr, rays[k].to.x, rays[k].to.y);
    cairo_close_path(cr);
    tcr_canvas_colour(canvas, style->pad);
    cairo_fill(cr);
    size_t zones;
    const tcr_zone *map = tcr_set_map(tcr_check_set(stage->check), stage->side[i], &zones);
    for (size_t k = 0; k + 1 < zones; k++) {
        const double u = fmax(ray_from, fmin(ray_to, map[k].to));
        const ray border = ray_at(stage, i, u);
        cairo_move_to(cr, border.from.x, border.from.y);
        cairo_line_to(cr, border.to.x, border.to.y);
    }
    tcr_canvas_colour(canvas, style->pad_line);
    cairo_set_line_width(cr, 0.3);
    cairo_stroke(cr);
}

/* ---- Labels of zones --------------------------------------------------------------- */

/* What a zone gives: length and curl on its first line, what the layers get on its second. */
typedef struct zone_label {
    char text[TCR_WORDS];
    char layer[TCR_LAYERS][TCR_WORDS];
    double width[TCR_LAYERS]; /* of the layers' texts */
    double gap, height;       /* between two texts, of a line */
    tcr_box size;             /* of the whole, with its rim */
} zone_label;

static tcr_setting label_setting(const tcr_canvas *canvas) {
    return (tcr_setting){.type = TCR_TYPE_LABEL, .colour = canvas->style->label_ink};
}

static void measure_label(tcr_canvas *canvas, zone_label *label) {
    const tcr_setting setting = label_setting(canvas);
    const tcr_box first = tcr_canvas_measure(canvas, label->text, &setting);
    double second = 0;
    label->gap = 1.1;
    label->height = first.height;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        label->width[layer] = tcr_canvas_measure(canvas, label->layer[layer], &setting).width;
        second += label->width[layer] + (layer > 0 ? label->gap : 0);
    }
    label->size = (tcr_box){0, first.y, fmax(first.width, second) + 1.8, 2 * first.height + 0.2};
}

/* Whether any lash of a zone's layer carries an extension. */
static bool is_worn(const tcr_check *check, tcr_side side, size_t zone, int layer) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash *lash = tcr_set_lash(set, side, i);
        if (eye->lash[i].status == TCR_OK && (int)lash->layer == layer &&
            tcr_set_zone_at(set, side, lash->u) == zone)
            return true;
    }
    return false;
}

/* asked: the mean lashes at the zones' centres; zone k, layer l is its lash 3 k + l. */
static void word_label(const tcr_check *check, const tcr_set *asked, tcr_side side,
                       const tcr_zone *zone, size_t k, zone_label *label) {
    char number[TCR_WORDS];
    /* Where a zone fixes the bottom layer's length, nothing wears the zone's own. */
    if ((zone->layer[TCR_BOTTOM].fixed & TCR_FIX_LENGTH) != 0)
        snprintf(label->text, sizeof label->text, "%.15s", zone->curl);
    else
        snprintf(label->text, sizeof label->text, "%.8s %.15s",
                 tcr_say_trimmed(number, zone->length_mm, 2), zone->curl);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        tcr_choice choice;
        const size_t i = k * TCR_LAYERS + (size_t)layer;
        if (!is_worn(check, side, k, layer) || tcr_set_choice(asked, side, i, &choice) != TCR_OK) {
            snprintf(label->layer[layer], sizeof label->layer[layer], "\xe2\x80\x93");
            continue;
        }
        const char *curl = tcr_set_curl(asked, choice.curl)->label;
        snprintf(label->layer[layer], sizeof label->layer[layer], "%.8s%.15s",
                 tcr_say_trimmed(number, choice.length_mm, 2),
                 strcmp(curl, zone->curl) != 0 ? curl : "");
    }
}

static void draw_label(tcr_canvas *canvas, const zone_label *label, tcr_box box) {
    const tcr_style *style = canvas->style;
    tcr_setting setting = label_setting(canvas);
    tcr_canvas_rounded(canvas, box, 0.9);
    tcr_canvas_colour(canvas, style->label_ground);
    cairo_fill(canvas->cr);
    setting.align = 0.5;
    const double baseline = box.y + 0.1 - label->size.y;
    tcr_canvas_text(canvas, box.x + box.width / 2, baseline, label->text, &setting);
    double x = box.x + box.width / 2 - label->gap;
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        x -= label->width[layer] / 2;
    setting.align = 0;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        setting.colour = style->layer[layer];
        tcr_canvas_text(canvas, x, baseline + label->height, label->layer[layer], &setting);
        x += label->width[layer] + label->gap;
    }
}

/* Which end of the pad is which. */
static void ends_of_pad(tcr_canvas *canvas, const tcr_stage *stage, int i, tcr_label_map *map) {
    static const char *const name[] = {"inner corner", "outer corner"};
    const double u[] = {ray_from, ray_to};
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->label_ink};
    for (int end = 0; end < 2; end++) {
        const ray r = ray_drawn(stage, i, u[end]);
        const tcr_box size = tcr_canvas_measure(canvas, name[end], &small);
        /* Beyond the corner, at the height of the lid's edge there. */
        const double middle = tcr_stage_at(stage, i, stage->eye[i].origin).x;
        const double out = r.from.x < middle ? -1 : 1;
        const double x = r.from.x + out * (size.width / 2 + 7 + 0.5 * fabs(r.to.x - r.from.x));
        const double y = stage->turned ? r.from.y + 4 : r.from.y - 4 - size.height;
        const tcr_box box = {x - size.width / 2, y, size.width, size.height};
        if (box.x < map->area.x || box.x + box.width > map->area.x + map->area.width)
            continue;
        tcr_canvas_text(canvas, box.x, box.y - size.y, name[end], &small);
        tcr_label_block(map, box);
    }
}

/* The labels of an eye's zones; their number that found no room is added to without. */
static tcr_status zones_of(tcr_canvas *canvas, const tcr_stage *stage, int i, tcr_label_map *map,
                           size_t *without) {
    size_t zones;
    const tcr_zone *zone = tcr_set_map(tcr_check_set(stage->check), stage->side[i], &zones);
    double centre[TCR_ZONES_MAX], place[TCR_ZONES_MAX][TCR_LAYERS];
    for (size_t k = 0; k < zones; k++) {
        centre[k] = fmax(ray_from, fmin(ray_to, ((k > 0 ? zone[k - 1].to : 0) + zone[k].to) / 2));
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            place[k][layer] = centre[k];
    }
    tcr_set *asked = NULL;
    const tcr_set *set = tcr_check_set(stage->check);
    tcr_layer_heights heights;
    (void)tcr_layer_heights_of(set, stage->side[i], &heights); /* the eye is there */
    const tcr_status status = tcr_mean_set(set, stage->side[i], &heights, place, zones, &asked);
    for (size_t k = 0; k < zones && status == TCR_OK; k++) {
        const ray middle = ray_drawn(stage, i, centre[k]);
        zone_label label;
        word_label(stage->check, asked, stage->side[i], &zone[k], k, &label);
        measure_label(canvas, &label);
        const double clear = 0.6 + beyond_ray(stage, i, centre[k]);
        const tcr_label *placed = tcr_label_along(map, middle.to, middle.direction, clear,
                                                  label.size.width, label.size.height);
        if (placed != NULL)
            draw_label(canvas, &label, placed->box);
        *without += placed == NULL;
    }
    tcr_set_free(asked);
    return status;
}

/* ---- The sheet --------------------------------------------------------------------- */

/* Makes room below the lashes for the labels. */
static void make_room(tcr_layout *layout, const tcr_picture *picture) {
    tcr_stage *stage = &layout->main;
    const tcr_view view = stage->eye[0].view;
    tcr_extent extent = tcr_extent_empty();
    tcr_extent_widen(&extent, picture->check, picture, &view);
    const tcr_box panel = stage->panel;
    const double height = extent.high.y - extent.low.y;
    /* Scale s with s (height + beyond) + rim = the panel's height, or what the width allows. */
    const double upright = (panel.height - rim_mm) / (height + beyond_mm);
    const double scale = fmin(upright, tcr_extent_scale(&extent, panel, picture->eyes));
    extent.low.y -= beyond_mm + rim_mm / scale;
    tcr_stage_place(stage, picture->check, picture, &view, &extent, scale, panel);
    stage->turned = picture->options.from_head;
}

static void titles(tcr_canvas *canvas, const tcr_picture *picture, const tcr_layout *layout) {
    char view[TCR_WORDS], count[TCR_WORDS], text[3 * TCR_WORDS];
    snprintf(text, sizeof text, "%s from the artist\xe2\x80\x99s seat%s: %s%s",
             tcr_sheet_eyes(picture),
             picture->options.from_head ? ", as from the head of the couch" : "",
             tcr_say_seat(view, &layout->main.eye[0].view),
             tcr_sheet_count(count, sizeof count, picture));
    tcr_sheet_titles(canvas,
                     tcr_sheet_title(picture->check, "The set from the artist\xe2\x80\x99s seat"),
                     text, tcr_layout_title_width(layout));
}

static void figures_beside(tcr_canvas *canvas, const tcr_picture *picture,
                           const tcr_layout *layout) {
    const tcr_box box = tcr_layout_figures(layout, 0);
    double y = tcr_figures_seat(canvas, picture, picture->side[0], NULL, box.x, box.y, box.width);
    y = tcr_figures_layers(canvas, picture->check, picture->side, 1, box.x, y + 3, box.width);
    tcr_figures_placement(canvas, picture, box.x, y + 2.6, box.width);
    if (!picture->options.companion)
        return;
    char seen[TCR_WORDS], text[2 * TCR_WORDS];
    const tcr_view view = tcr_check_view(picture->check);
    snprintf(text, sizeof text, "The same set %s", tcr_say_seen(seen, &view));
    tcr_sheet_caption(canvas, layout->small[0].panel, text);
}

static void figures_below(tcr_canvas *canvas, const tcr_picture *picture,
                          const tcr_layout *layout) {
    const tcr_box common = tcr_layout_common(layout);
    const tcr_view view = tcr_check_view(picture->check);
    char seen[TCR_WORDS];
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_box box = tcr_layout_figures(layout, i);
        char name[TCR_WORDS];
        snprintf(name, sizeof name, "%s, from here", tcr_say_side(picture->side[i]));
        tcr_figures_seat(canvas, picture, picture->side[i], name, box.x, box.y,
                         picture->options.companion ? 41 : box.width);
        if (picture->options.companion)
            tcr_sheet_caption(canvas, layout->small[i].panel, tcr_say_seen(seen, &view));
    }
    const double x = common.x, width = common.width;
    const double y =
        tcr_figures_layers(canvas, picture->check, picture->side, 2, x, common.y, width);
    tcr_figures_placement(canvas, picture, x, y + 1.2, width);
}

/* From the head of the couch the client's left eye is at the artist's left. */
static tcr_picture seated(const tcr_picture *picture) {
    tcr_picture turned = *picture;
    if (picture->options.from_head && picture->eyes == 2) {
        turned.side[0] = picture->side[1];
        turned.side[1] = picture->side[0];
    }
    return turned;
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *given) {
    const tcr_picture seat = seated(given), *const picture = &seat;
    const tcr_view open = tcr_check_view(picture->check);
    size_t every = 1, without = 0;
    tcr_layout layout;
    tcr_layout_of(picture, &picture->options.seat, &open, &layout);
    make_room(&layout, picture);
    tcr_status status =
        tcr_layout_draw(canvas, &layout, picture->options.companion, pad, NULL, &every);
    if (status != TCR_OK)
        return status;
    tcr_label_map map = tcr_stage_begin_marks(canvas, &layout.main);
    for (int i = 0; i < picture->eyes; i++)
        ends_of_pad(canvas, &layout.main, i, &map);
    for (int i = 0; i < picture->eyes && status == TCR_OK; i++)
        status = zones_of(canvas, &layout.main, i, &map, &without);
    tcr_stage_bar(canvas, &layout.main);
    tcr_stage_end_marks(canvas);
    if (status != TCR_OK)
        return status;
    titles(canvas, picture, &layout);
    (picture->eyes == 1 ? figures_beside : figures_below)(canvas, picture, &layout);
    char note[2 * TCR_WORDS];
    snprintf(note, sizeof note,
             "On the pad: length and curl of a zone, below them its layers, bottom to top "
             "(\xe2\x80\x93: none). %s",
             tcr_sheet_drawn(picture));
    if (without > 0)
        snprintf(note, sizeof note, "%zu %s too narrow to be labelled here.", without,
                 without == 1 ? "zone is" : "zones are");
    tcr_sheet_footer(canvas, picture->check, note, every);
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_artist = {
    "artist",
    "the closed eye from the artist\xe2\x80\x99s seat, with the zones and lengths of the map",
    draw};
