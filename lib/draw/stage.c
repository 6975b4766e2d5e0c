/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Eyes on skin. One eye fills its panel. Two stand in halves of it at one scale and level, the
 * client's right eye at the viewer's left; the bridge of the nose is left out, so that they are
 * large.
 */
#include "draw/stage.h"

#include <math.h>

#include "draw/eye.h"
#include "draw/hair.h"
#include "draw/lid.h"
#include "draw/marks.h"
#include "draw/plot.h"
#include "draw/sheet.h"

static const double GAP_MM = 3; /* between two halves, on the sheet */

static double mirror_of(tcr_side side) { return side == TCR_LEFT ? 1 : -1; }

tcr_box tcr_stage_part(tcr_box panel, int eyes, int i) {
    if (eyes == 1)
        return panel;
    panel.width = (panel.width - GAP_MM) / 2;
    panel.x += i * (panel.width + GAP_MM);
    return panel;
}

tcr_extent tcr_extent_empty(void) {
    return (tcr_extent){{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
}

/* What has to be in sight of an eye, mm as seen, y upwards. */
static tcr_extent reach_of(const tcr_check *check, tcr_side side, const tcr_view *view) {
    const tcr_viewport plain = {*view, 1, 1, {0, 0}, false};
    tcr_eye_shape shape;
    tcr_eye_shape_of(tcr_set_lid(tcr_check_set(check), side), &plain, &shape);
    tcr_vec2 low = {INFINITY, INFINITY}, high = {-INFINITY, -INFINITY};
    for (int i = 0; i < TCR_CONTOUR; i++) {
        low.x = fmin(low.x, shape.upper[i].x - 4);
        high.x = fmax(high.x, shape.upper[i].x + 4);
        low.y = fmin(low.y, -shape.lower[i].y - 3.6);
        high.y = fmax(high.y, -shape.crease[i].y + 2.5);
    }
    tcr_vec2 hair_low = low, hair_high = high;
    tcr_hairs_extent(check, side, &plain, &hair_low, &hair_high);
    return (tcr_extent){{fmin(low.x, hair_low.x - 1.5), fmin(low.y, hair_low.y - 1.5)},
                        {fmax(high.x, hair_high.x + 1.5), fmax(high.y, hair_high.y + 3.5)}};
}

void tcr_extent_widen(tcr_extent *extent, const tcr_check *check, const tcr_picture *picture,
                      const tcr_view *view) {
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_extent reach = reach_of(check, picture->side[i], view);
        extent->low =
            (tcr_vec2){fmin(extent->low.x, reach.low.x), fmin(extent->low.y, reach.low.y)};
        extent->high =
            (tcr_vec2){fmax(extent->high.x, reach.high.x), fmax(extent->high.y, reach.high.y)};
    }
}

double tcr_extent_scale(const tcr_extent *extent, tcr_box panel, int eyes) {
    const tcr_box part = tcr_stage_part(panel, eyes, 0);
    return fmin(part.width / (extent->high.x - extent->low.x),
                part.height / (extent->high.y - extent->low.y));
}

void tcr_stage_place(tcr_stage *stage, const tcr_check *check, const tcr_picture *picture,
                     const tcr_view *view, const tcr_extent *extent, double scale, tcr_box panel) {
    *stage = (tcr_stage){
        .check = check, .panel = panel, .eyes = picture->eyes, .tips = picture->options.staggered};
    const double x = (extent->low.x + extent->high.x) / 2;
    const double y = (extent->low.y + extent->high.y) / 2;
    for (int i = 0; i < picture->eyes; i++) {
        const tcr_side side = picture->side[i];
        const tcr_box part = tcr_stage_part(panel, picture->eyes, i);
        stage->side[i] = side;
        stage->part[i] = part;
        stage->eye[i] =
            (tcr_viewport){.view = *view,
                           .scale = scale,
                           .mirror = mirror_of(side),
                           .origin = {part.x + part.width / 2 - mirror_of(side) * scale * x,
                                      part.y + part.height / 2 + scale * y}};
    }
}

void tcr_stage_fit(tcr_stage *stage, const tcr_picture *picture, const tcr_view *view,
                   tcr_box panel) {
    tcr_extent extent = tcr_extent_empty();
    tcr_extent_widen(&extent, picture->check, picture, view);
    tcr_stage_place(stage, picture->check, picture, view, &extent,
                    tcr_extent_scale(&extent, panel, picture->eyes), panel);
}

void tcr_stage_band(tcr_canvas *canvas, const tcr_stage *stage, int i, void *context) {
    (void)context;
    const tcr_eye_result *eye = tcr_check_eye(stage->check, stage->side[i]);
    const bool fitted = tcr_check_against(stage->check) == TCR_FITTED;
    if ((fitted ? eye->fitted_status : eye->intended_status) == TCR_OK)
        tcr_mark_band(canvas, &stage->eye[i], fitted ? &eye->fitted_line : &eye->intended_line,
                      tcr_check_tolerance(stage->check));
}

tcr_vec2 tcr_stage_at(const tcr_stage *stage, int i, tcr_vec2 point) {
    const tcr_box part = stage->part[i];
    if (!stage->turned)
        return point;
    return (tcr_vec2){2 * part.x + part.width - point.x, 2 * part.y + part.height - point.y};
}

void tcr_stage_tips(tcr_canvas *canvas, const tcr_stage *stage, int i, unsigned layers) {
    static const double LARGEST_MM = 0.5; /* of the sheet, */
    static const double SHARE_MM = 0.2;   /* and of the eye */
    const tcr_eye_result *eye = tcr_check_eye(stage->check, stage->side[i]);
    const tcr_set *set = tcr_check_set(stage->check);
    const double radius = fmin(LARGEST_MM, SHARE_MM * stage->eye[i].scale);
    const size_t every = tcr_hairs_every(stage->check, stage->side[i]);
    for (size_t k = 0; k < eye->lashes; k += every) {
        const tcr_layer layer = tcr_set_lash(set, stage->side[i], k)->layer;
        if ((layers >> layer & 1u) == 0 || eye->lash[k].status != TCR_OK)
            continue;
        const tcr_vec2 tip = tcr_hair_tip(stage->check, stage->side[i], k, &stage->eye[i]);
        tcr_plot_mark(canvas, layer, tcr_stage_at(stage, i, tip), radius);
    }
}

/* Turns what is drawn next about the middle of an eye's part. */
static void turn(tcr_canvas *canvas, const tcr_stage *stage, int i) {
    const tcr_vec2 corner = tcr_stage_at(stage, i, (tcr_vec2){0, 0});
    if (!stage->turned)
        return;
    cairo_translate(canvas->cr, corner.x, corner.y);
    cairo_scale(canvas->cr, -1, -1);
}

static tcr_status draw_eye(tcr_canvas *canvas, const tcr_stage *stage, int i, unsigned layers,
                           tcr_stage_under under, void *context, size_t *every) {
    const tcr_lid *lid = tcr_set_lid(tcr_check_set(stage->check), stage->side[i]);
    const tcr_hair_choice hairs = {.layers = layers, .shadow_on = stage->part[i]};
    tcr_eye_shape shape;
    tcr_eye_shape_of(lid, &stage->eye[i], &shape);
    tcr_eye_draw(canvas, &stage->eye[i], &shape, lid);
    tcr_skin_draw(canvas, stage->part[i], TCR_CORNER, &stage->eye[i], &shape);
    tcr_lid_edges_draw(canvas, &stage->eye[i], &shape);
    if (under != NULL)
        under(canvas, stage, i, context);
    return tcr_hairs_draw(canvas, stage->check, stage->side[i], &stage->eye[i], &hairs, every);
}

tcr_status tcr_stage_draw(tcr_canvas *canvas, const tcr_stage *stage, unsigned layers,
                          tcr_stage_under under, void *context, size_t *every) {
    tcr_status status = TCR_OK;
    for (int i = 0; i < stage->eyes && status == TCR_OK; i++) {
        cairo_save(canvas->cr);
        turn(canvas, stage, i);
        status = draw_eye(canvas, stage, i, layers, under, context, every);
        cairo_restore(canvas->cr);
        if (status == TCR_OK && stage->tips)
            tcr_stage_tips(canvas, stage, i, layers);
    }
    return status;
}

/* How far the roots lie below the tips on the sheet, on average: so deep below its line an eye has
 * lashes, off which names keep. */
static double depth_of(const tcr_stage *stage, int i) {
    const tcr_eye_result *eye = tcr_check_eye(stage->check, stage->side[i]);
    double sum = 0;
    for (size_t k = 0; k < eye->lashes; k++) {
        if (eye->lash[k].status != TCR_OK)
            continue;
        const tcr_vec2 root = tcr_viewport_point(&stage->eye[i], eye->lash[k].stance.root);
        sum += root.y - tcr_viewport_seen(&stage->eye[i], eye->lash[k].seen).y;
    }
    return eye->extended > 0 ? sum / (double)eye->extended : 0;
}

void tcr_stage_lines(tcr_canvas *canvas, const tcr_stage *stage, tcr_label_map *map) {
    for (int i = 0; i < stage->eyes; i++) {
        const tcr_eye_result *eye = tcr_check_eye(stage->check, stage->side[i]);
        const bool against_fitted = tcr_check_against(stage->check) == TCR_FITTED;
        const bool fitted = eye->fitted_status == TCR_OK, intended = eye->intended_status == TCR_OK;
        /* The line that tips are measured from lies above the other. */
        if (fitted && !against_fitted)
            tcr_mark_line(canvas, &stage->eye[i], &eye->fitted_line, TCR_FITTED);
        if (intended)
            tcr_mark_line(canvas, &stage->eye[i], &eye->intended_line, TCR_INTENDED);
        if (fitted && against_fitted)
            tcr_mark_line(canvas, &stage->eye[i], &eye->fitted_line, TCR_FITTED);
        if (against_fitted ? fitted : intended)
            tcr_mark_line_block(&stage->eye[i],
                                against_fitted ? &eye->fitted_line : &eye->intended_line,
                                depth_of(stage, i), map);
    }
}

void tcr_stage_bar(tcr_canvas *canvas, const tcr_stage *stage) {
    const tcr_box p = stage->panel;
    tcr_mark_bar(canvas, (tcr_vec2){p.x + 4, p.y + p.height - 3.5}, stage->eye[0].scale, 46);
}

tcr_label_map tcr_stage_begin_marks(tcr_canvas *canvas, const tcr_stage *stage) {
    const tcr_box p = stage->panel;
    tcr_label_map map = {.area = {p.x + 1, p.y + 1, p.width - 2, p.height - 2}};
    tcr_label_block(&map, (tcr_box){p.x, p.y + p.height - 9, fmin(50, p.width), 9}); /* the bar */
    for (int i = 1; i < stage->eyes; i++)
        tcr_label_block(&map, (tcr_box){stage->part[i].x - GAP_MM - 1, p.y, GAP_MM + 2, p.height});
    cairo_save(canvas->cr);
    cairo_new_path(canvas->cr);
    cairo_rectangle(canvas->cr, p.x, p.y, p.width, p.height);
    cairo_clip(canvas->cr);
    return map;
}

void tcr_stage_end_marks(tcr_canvas *canvas) { cairo_restore(canvas->cr); }
