/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The eyeball between the lids, looking straight ahead. The iris is to scale, a circle of the
 * published diameter in the plane where a globe of the lid's radius is that wide; all else is drawn
 * to look like an eye and has no meaning.
 */
#include "draw/eye.h"

#include <math.h>
#include <stdint.h>

#include "draw/soft.h"

static const double iris_radius = TCR_IRIS_DIAMETER_MM / 2;
static const double pupil_radius = 1.9;

static double full_turn(void) { return 4 * acos(0.0); }

/* A number in [0, 1) from a counter: the texture is the same in every picture. */
static double speckle(uint32_t *state) {
    *state = *state * 1664525u + 1013904223u;
    return (*state >> 8) / 16777216.0;
}

static void disc(cairo_t *cr, double x, double y, double radius) {
    cairo_new_path(cr);
    cairo_arc(cr, x, y, radius, 0, full_turn());
}

/* Thin wedges along the radius, one fill for all. */
static void iris_texture(tcr_canvas *canvas, uint32_t seed, int count, double from, double to,
                         tcr_rgba colour) {
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    for (int i = 0; i < count; i++) {
        const double angle = full_turn() * (i + 0.8 * speckle(&seed)) / count;
        const double width = (0.25 + 0.55 * speckle(&seed)) * 3.0 / count;
        const double inner = from + 0.5 * speckle(&seed);
        const double outer = inner + (to - inner) * (0.45 + 0.55 * speckle(&seed));
        const double bend = 0.06 * (speckle(&seed) - 0.5);
        const double middle = (inner + outer) / 2;
        cairo_move_to(cr, inner * cos(angle), inner * sin(angle));
        cairo_line_to(cr, middle * cos(angle + bend + width), middle * sin(angle + bend + width));
        cairo_line_to(cr, outer * cos(angle), outer * sin(angle));
        cairo_line_to(cr, middle * cos(angle + bend - width), middle * sin(angle + bend - width));
        cairo_close_path(cr);
    }
    tcr_canvas_colour(canvas, colour);
    cairo_fill(cr);
}

static void iris_ground(tcr_canvas *canvas) {
    const tcr_style *style = canvas->style;
    const tcr_rgba stop[] = {style->iris_inner, style->iris_inner, style->iris_middle,
                             style->iris_outer, style->limbus,     style->limbus};
    const double where[] = {0, 0.40, 0.62, 0.86, 0.97, 1};
    cairo_pattern_t *pattern = cairo_pattern_create_radial(0, 0, 0, 0, 0, iris_radius);
    for (int i = 0; i < 6; i++)
        cairo_pattern_add_color_stop_rgb(pattern, where[i], stop[i].red, stop[i].green,
                                         stop[i].blue);
    disc(canvas->cr, 0, 0, iris_radius);
    cairo_set_source(canvas->cr, pattern);
    cairo_fill(canvas->cr);
    cairo_pattern_destroy(pattern);
}

/* In millimetres of the eye about the middle of the iris. */
static void iris(tcr_canvas *canvas) {
    const tcr_style *style = canvas->style;
    cairo_t *cr = canvas->cr;
    iris_ground(canvas);
    iris_texture(canvas, 11, 90, 2.2, 5.5, tcr_rgba_faded(style->iris_dark, 0.34));
    iris_texture(canvas, 23, 110, 2.0, 5.2, tcr_rgba_faded(style->iris_light, 0.30));
    iris_texture(canvas, 37, 64, 1.9, 3.6, tcr_rgba_faded(style->iris_light, 0.34));
    /* Light from above leaves the lower half of the iris brighter. */
    tcr_canvas_glow(canvas, (tcr_vec2){0, 3.2}, 3.6, 0.7, tcr_rgba_faded(style->iris_light, 0.30));
    disc(cr, 0, 0, pupil_radius);
    tcr_canvas_soft_stroke(canvas, tcr_rgba_faded(style->pupil, 0.5), 1.0, 5);
    tcr_canvas_colour(canvas, style->pupil);
    cairo_fill(cr);
}

/* The window that the cornea mirrors; on the same side in both eyes, as one window would be. */
static void catch_light(tcr_canvas *canvas) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    tcr_canvas_glow(canvas, (tcr_vec2){-1.7, -1.35}, 1.9, 0.9,
                    tcr_rgba_faded(style->catch_light, 0.45));
    cairo_new_path(cr);
    cairo_move_to(cr, -2.35, -1.75);
    cairo_curve_to(cr, -2.0, -2.15, -1.5, -2.3, -1.05, -2.25);
    cairo_curve_to(cr, -0.95, -1.85, -1.0, -1.3, -1.15, -0.95);
    cairo_curve_to(cr, -1.6, -0.95, -2.0, -0.8, -2.25, -0.6);
    cairo_curve_to(cr, -2.4, -0.9, -2.42, -1.35, -2.35, -1.75);
    cairo_close_path(cr);
    tcr_canvas_colour(canvas, tcr_rgba_faded(style->catch_light, 0.93));
    cairo_fill(cr);
    tcr_canvas_glow(canvas, (tcr_vec2){2.3, 2.5}, 1.5, 0.8,
                    tcr_rgba_faded(style->catch_light, 0.35));
}

/* The white, round at its edges. */
static void sclera(tcr_canvas *canvas, const tcr_viewport *viewport) {
    const tcr_rgba white = canvas->style->sclera, rim = canvas->style->sclera_edge;
    const double s = viewport->scale;
    const tcr_vec2 middle = tcr_viewport_seen(viewport, (tcr_vec2){0, -0.5});
    cairo_pattern_t *round =
        cairo_pattern_create_radial(middle.x, middle.y, 8.4 * s, middle.x, middle.y, 15 * s);
    cairo_pattern_add_color_stop_rgb(round, 0, white.red, white.green, white.blue);
    cairo_pattern_add_color_stop_rgb(round, 1, rim.red, rim.green, rim.blue);
    cairo_set_source(canvas->cr, round);
    cairo_paint(canvas->cr);
    cairo_pattern_destroy(round);
}

/* The flesh at the inner corner, and the warm outer one. */
static void corners(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_eye_shape *shape) {
    const tcr_style *style = canvas->style;
    const double s = viewport->scale;
    const tcr_vec2 inner = {shape->lower[0].x + viewport->mirror * 1.5 * s,
                            shape->lower[0].y + 0.35 * s};
    const tcr_vec2 outer = shape->upper[TCR_CONTOUR - 1];
    tcr_canvas_glow(canvas, outer, 4.5 * s, 0.8, tcr_rgba_faded(style->caruncle, 0.40));
    tcr_canvas_glow(canvas, inner, 4.2 * s, 0.8, tcr_rgba_faded(style->caruncle, 0.75));
    tcr_canvas_glow(canvas, inner, 2.3 * s, 0.85, style->caruncle);
    tcr_canvas_glow(canvas, (tcr_vec2){inner.x - 0.2 * s, inner.y - 0.4 * s}, 0.6 * s, 0.6,
                    tcr_rgba_faded(style->flesh_glow, 0.9));
}

/* The lids' shade on the eye. */
static void shades(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_eye_shape *shape) {
    const tcr_rgba shade = canvas->style->eye_shade;
    const double s = viewport->scale;
    tcr_canvas_polyline(canvas, shape->upper, TCR_CONTOUR, false);
    tcr_canvas_soft_stroke(canvas, tcr_rgba_faded(shade, 0.66), 4.6 * s, 6);
    cairo_new_path(canvas->cr);
    tcr_canvas_polyline(canvas, shape->lower, TCR_CONTOUR, false);
    tcr_canvas_soft_stroke(canvas, tcr_rgba_faded(shade, 0.20), 1.6 * s, 3);
    cairo_new_path(canvas->cr);
}

void tcr_eye_draw(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_eye_shape *shape,
                  const tcr_lid *lid) {
    if (!shape->open)
        return;
    const double s = viewport->scale;
    const tcr_box box = {shape->low.x - s, shape->low.y - s, shape->high.x - shape->low.x + 2 * s,
                         shape->high.y - shape->low.y + 2 * s};
    tcr_soft soft;
    cairo_new_path(canvas->cr);
    tcr_soft_begin(canvas, box, 0.3 * s, &soft);
    sclera(canvas, viewport);
    corners(canvas, viewport, shape);
    tcr_soft_end(canvas, &soft);
    const double globe = fmax(lid->globe_radius_mm, iris_radius);
    const double depth = sqrt(globe * globe - iris_radius * iris_radius);
    const tcr_vec2 middle = tcr_viewport_point(viewport, (tcr_vec3){0, 0, depth});
    cairo_matrix_t sheet;
    cairo_get_matrix(canvas->cr, &sheet);
    cairo_translate(canvas->cr, middle.x, middle.y);
    cairo_scale(canvas->cr, s, s * cos(viewport->view.viewer_rad));
    cairo_matrix_t about_iris;
    cairo_get_matrix(canvas->cr, &about_iris);
    iris(canvas);
    cairo_set_matrix(canvas->cr, &sheet);
    tcr_soft_begin(canvas, box, 0.8 * s, &soft);
    shades(canvas, viewport, shape);
    tcr_soft_end(canvas, &soft);
    cairo_set_matrix(canvas->cr, &about_iris);
    catch_light(canvas);
    cairo_set_matrix(canvas->cr, &sheet);
}
