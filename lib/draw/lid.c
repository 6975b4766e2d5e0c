/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Skin, lids, crease. Nothing here is computed except the margin that it follows: light falls from
 * above, heights catch it and hollows do not. Sizes are in mm of the eye, times the scale.
 */
#include "draw/lid.h"

#include <math.h>

#include "draw/soft.h"
#include "num/range.h"

static void ground(tcr_canvas *canvas, tcr_box panel) {
    const tcr_style *style = canvas->style;
    cairo_pattern_t *down = cairo_pattern_create_linear(0, panel.y, 0, panel.y + panel.height);
    const tcr_rgba stop[] = {style->skin_light, style->skin, style->skin, style->skin_light};
    const double where[] = {0, 0.45, 0.7, 1};
    for (int i = 0; i < 4; i++)
        cairo_pattern_add_color_stop_rgb(down, where[i], stop[i].red, stop[i].green, stop[i].blue);
    cairo_set_source(canvas->cr, down);
    cairo_paint(canvas->cr);
    cairo_pattern_destroy(down);
}

/* A hollow (shade) or a height (glow) about a point of the seen eye. */
static void patch(tcr_canvas *canvas, const tcr_viewport *eye, double x, double y, double radius,
                  double squash, tcr_rgba colour, double strength) {
    tcr_canvas_glow(canvas, tcr_viewport_seen(eye, (tcr_vec2){x, y}), radius * eye->scale, squash,
                    tcr_rgba_faded(colour, strength));
}

static void hollows(tcr_canvas *canvas, const tcr_viewport *eye) {
    const tcr_rgba shade = canvas->style->skin_shade, glow = canvas->style->skin_glow;
    patch(canvas, eye, -19, 4, 15, 1.5, shade, 0.29);   /* towards the nose */
    patch(canvas, eye, 1, 9, 22, 0.34, shade, 0.16);    /* under the brow */
    patch(canvas, eye, -3, -11, 17, 0.32, shade, 0.15); /* under the eye */
    patch(canvas, eye, 17, -3, 11, 1.0, shade, 0.10);   /* the outer corner */
    patch(canvas, eye, 9, 16, 20, 0.42, glow, 0.75);    /* the bone of the brow */
    patch(canvas, eye, 5, -18, 22, 0.36, glow, 0.55);   /* the cheek */
}

/* A line along a contour that swells in its middle. */
static void swelling_line(tcr_canvas *canvas, const tcr_vec2 *contour, double half,
                          tcr_rgba colour) {
    double width[TCR_CONTOUR];
    for (int i = 0; i < TCR_CONTOUR; i++)
        width[i] = half * pow(sin(TCR_PI * i / (TCR_CONTOUR - 1)), 0.7);
    cairo_new_path(canvas->cr);
    tcr_canvas_taper(canvas, contour, width, TCR_CONTOUR);
    tcr_canvas_colour(canvas, colour);
    cairo_fill(canvas->cr);
}

/* Shade or glow along a contour moved down, strongest in its middle and gone at the corners. */
static void follow(tcr_canvas *canvas, const tcr_vec2 *contour, double down, double width,
                   tcr_rgba colour, double strength) {
    enum { STEPS = 4 };
    tcr_vec2 moved[TCR_CONTOUR];
    tcr_contour_moved(contour, down, moved);
    for (int i = 1; i <= STEPS; i++)
        swelling_line(canvas, moved, width / 2 * i / STEPS,
                      tcr_rgba_faded(colour, 1 - pow(1 - strength, 1.0 / STEPS)));
}

/* The fold above the crease catches light; the lower lid rolls in towards the eye. */
static void folds(tcr_canvas *canvas, const tcr_viewport *eye, const tcr_eye_shape *shape) {
    const tcr_rgba shade = canvas->style->skin_shade, glow = canvas->style->skin_glow;
    const double s = eye->scale, t = s * cos(eye->view.viewer_rad);
    follow(canvas, shape->crease, -2.2 * s, 4.4 * s, glow, 0.6);
    if (!shape->open)
        return;
    follow(canvas, shape->lower, 1.3 * t, 2.6 * t, shade, 0.24);
    follow(canvas, shape->lower, 3.2 * t, 1.8 * t, glow, 0.30);
    follow(canvas, shape->lower, 5.4 * t, 1.6 * t, shade, 0.20);
}

/* The part of the lid between crease and margin, lit where the eyeball bulges. */
static void plate(tcr_canvas *canvas, const tcr_viewport *eye, const tcr_eye_shape *shape) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    const double s = eye->scale;
    const tcr_vec2 margin = shape->upper[TCR_CONTOUR / 2], crease = shape->crease[TCR_CONTOUR / 2];
    cairo_save(cr);
    cairo_new_path(cr);
    tcr_canvas_polyline(canvas, shape->upper, TCR_CONTOUR, false);
    tcr_canvas_polyline(canvas, shape->crease, TCR_CONTOUR, true);
    cairo_close_path(cr);
    cairo_clip_preserve(cr);
    tcr_canvas_colour(canvas, tcr_rgba_faded(style->skin_deep, 0.7));
    cairo_fill(cr);
    const tcr_vec2 middle = {margin.x, 0.45 * margin.y + 0.55 * crease.y};
    tcr_canvas_glow(canvas, middle, 12 * s, 0.3, tcr_rgba_faded(style->skin_glow, 0.6));
    /* The fold above throws its shade onto the plate, the lash line darkens its edge. */
    follow(canvas, shape->crease, 0, 3.0 * s, style->skin_shade, 0.75);
    follow(canvas, shape->upper, 0, 2.6 * s, style->skin_shade, 0.55);
    cairo_restore(cr);
}

/* What bounds both of an eye's upper curves. */
static tcr_box around_lid(const tcr_eye_shape *shape, double pad) {
    double x0 = INFINITY, x1 = -INFINITY, y0 = INFINITY, y1 = -INFINITY;
    for (int i = 0; i < TCR_CONTOUR; i++) {
        x0 = fmin(x0, fmin(shape->upper[i].x, shape->crease[i].x));
        x1 = fmax(x1, fmax(shape->upper[i].x, shape->crease[i].x));
        y0 = fmin(y0, fmin(shape->upper[i].y, shape->crease[i].y));
        y1 = fmax(y1, fmax(shape->upper[i].y, shape->crease[i].y));
    }
    return (tcr_box){x0 - pad, y0 - pad, x1 - x0 + 2 * pad, y1 - y0 + 2 * pad};
}

/* Adds to the path what the lids leave free: a hole in the skin. */
static void hole(tcr_canvas *canvas, const tcr_eye_shape *shape) {
    if (!shape->open)
        return;
    cairo_new_sub_path(canvas->cr);
    tcr_canvas_polyline(canvas, shape->upper, TCR_CONTOUR, false);
    tcr_canvas_polyline(canvas, shape->lower, TCR_CONTOUR, true);
    cairo_close_path(canvas->cr);
}

void tcr_skin_draw(tcr_canvas *canvas, tcr_box panel, double corner, const tcr_viewport *eye,
                   const tcr_eye_shape *shape) {
    const double s = eye->scale;
    const tcr_box box = around_lid(shape, 1.5 * s);
    tcr_soft soft;
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, panel, corner);
    hole(canvas, shape);
    tcr_soft_begin(canvas, panel, 1.2 * s, &soft);
    ground(canvas, panel);
    hollows(canvas, eye);
    folds(canvas, eye, shape);
    tcr_soft_end(canvas, &soft);
    /* The hole reaches beyond the box, where an SVG would repeat the layer. */
    cairo_save(canvas->cr);
    cairo_rectangle(canvas->cr, box.x, box.y, box.width, box.height);
    cairo_clip(canvas->cr);
    cairo_rectangle(canvas->cr, box.x, box.y, box.width, box.height);
    hole(canvas, shape);
    tcr_soft_begin(canvas, box, 0.5 * s, &soft);
    plate(canvas, eye, shape);
    tcr_soft_end(canvas, &soft);
    cairo_restore(canvas->cr);
    swelling_line(canvas, shape->crease, 0.12 * s, tcr_rgba_faded(canvas->style->crease, 0.6));
}

/* Short fine lashes of the lower lid, in one fill; drawn for the look, they carry no meaning. */
static void lower_lashes(tcr_canvas *canvas, const tcr_viewport *eye, const tcr_vec2 *edge) {
    enum { LASHES = 46, POINTS = 7 };
    const double s = eye->scale;
    cairo_new_path(canvas->cr);
    for (int k = 0; k < LASHES; k++) {
        const double jitter = sin(12.9898 * k) + sin(78.233 * k); /* fixed, looks irregular */
        const double u = 0.16 + 0.78 * (k + 0.3 * jitter) / (LASHES - 1);
        const double place = acos(1 - 2 * u) / TCR_PI * (TCR_CONTOUR - 1);
        const int i = (int)place;
        const double share = place - i, length = (1.9 + 0.9 * sin(TCR_PI * u) + 0.35 * jitter) * s;
        const double lean = eye->mirror * (1.5 * (u - 0.42) + 0.12 * jitter);
        const tcr_vec2 root = {edge[i].x + share * (edge[i + 1].x - edge[i].x),
                               edge[i].y + share * (edge[i + 1].y - edge[i].y)};
        tcr_vec2 point[POINTS];
        double half[POINTS];
        for (int j = 0; j < POINTS; j++) {
            const double t = (double)j / (POINTS - 1);
            point[j] = (tcr_vec2){root.x + length * t * (0.55 + 0.45 * t) * sin(lean),
                                  root.y + length * t * (1.1 - 0.35 * t) * cos(lean)};
            half[j] = 0.034 * s * (1 - 0.85 * t);
        }
        tcr_canvas_taper(canvas, point, half, POINTS);
    }
    tcr_canvas_colour(canvas, tcr_rgba_faded(canvas->style->natural, 0.55));
    cairo_fill(canvas->cr);
}

/* The lower lid's free edge, wet and light. */
static void lower_edge(tcr_canvas *canvas, const tcr_viewport *eye, const tcr_eye_shape *shape) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    const double s = eye->scale * cos(eye->view.viewer_rad);
    tcr_vec2 edge[TCR_CONTOUR], wet[TCR_CONTOUR];
    tcr_contour_moved(shape->lower, 0.85 * s, edge);
    tcr_contour_moved(shape->lower, 0.16 * s, wet);
    cairo_new_path(cr);
    tcr_canvas_polyline(canvas, shape->lower, TCR_CONTOUR, false);
    tcr_canvas_polyline(canvas, edge, TCR_CONTOUR, true);
    cairo_close_path(cr);
    tcr_canvas_colour(canvas, style->waterline);
    cairo_fill(cr);
    swelling_line(canvas, wet, 0.11 * s, tcr_rgba_faded(style->flesh_glow, 0.8));
    swelling_line(canvas, edge, 0.07 * s, tcr_rgba_faded(style->waterline_edge, 0.55));
    lower_lashes(canvas, eye, edge);
}

void tcr_lid_edges_draw(tcr_canvas *canvas, const tcr_viewport *viewport,
                        const tcr_eye_shape *shape) {
    const tcr_style *style = canvas->style;
    const double s = viewport->scale;
    if (shape->open)
        lower_edge(canvas, viewport, shape);
    /* The dense roots darken the lid just above its edge; the edge itself stays where the model has
     * it. */
    tcr_vec2 above[TCR_CONTOUR];
    tcr_contour_moved(shape->upper, -0.2 * s, above);
    swelling_line(canvas, above, 0.2 * s, style->lash_line);
}
