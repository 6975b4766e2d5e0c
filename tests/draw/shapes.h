/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_DRAW_SHAPES_H
#define TCR_TESTS_DRAW_SHAPES_H

/*
 * The shapes of a picture in the order in which they are drawn: what is filled or stroked, in which
 * colour and where on the sheet. The functions of cairo that draw a path are replaced by ones that
 * note it and then call cairo's. It defines functions of cairo, so a program includes it in one
 * source file.
 */

#include <dlfcn.h>
#include <string.h>

#include "draw/said.h"

enum { SHAPES_MAX = 40000, PATH_MAX_POINTS = 800000 };

typedef struct shape {
    bool stroke;
    tcr_rgba colour; /* alpha -1 where it is not one colour */
    double width;    /* of a stroke */
    tcr_box box;     /* of its path on the sheet */
    size_t first, count;
} shape;

static shape shapes[SHAPES_MAX];
static size_t shape_count;
static tcr_vec2 path_point[PATH_MAX_POINTS]; /* ends of lines and curves, one path after another */
static size_t path_points;

static inline void note(cairo_t *cr, bool stroke) {
    ck_assert_uint_lt(shape_count, SHAPES_MAX);
    shape *s = &shapes[shape_count++];
    *s = (shape){.stroke = stroke, .colour = {.alpha = -1}, .first = path_points};
    tcr_rgba *c = &s->colour;
    if (cairo_pattern_get_rgba(cairo_get_source(cr), &c->red, &c->green, &c->blue, &c->alpha) !=
        CAIRO_STATUS_SUCCESS)
        c->alpha = -1;
    s->width = cairo_get_line_width(cr);
    double x[2], y[2];
    cairo_path_extents(cr, &x[0], &y[0], &x[1], &y[1]);
    for (int i = 0; i < 2; i++)
        cairo_user_to_device(cr, &x[i], &y[i]);
    s->box = (tcr_box){fmin(x[0], x[1]), fmin(y[0], y[1]), fabs(x[1] - x[0]), fabs(y[1] - y[0])};
    cairo_path_t *path = cairo_copy_path(cr);
    for (int i = 0; i < path->num_data; i += path->data[i].header.length) {
        const int ends = path->data[i].header.length - 1;
        if (ends == 0)
            continue;
        ck_assert_uint_lt(path_points, PATH_MAX_POINTS);
        tcr_vec2 p = {path->data[i + ends].point.x, path->data[i + ends].point.y};
        cairo_user_to_device(cr, &p.x, &p.y);
        path_point[path_points++] = p;
    }
    cairo_path_destroy(path);
    s->count = path_points - s->first;
}

static inline void draw_noted(cairo_t *cr, const char *name, bool stroke) {
    void *found = dlsym(RTLD_NEXT, name);
    void (*real)(cairo_t *);
    memcpy(&real, &found, sizeof real);
    note(cr, stroke);
    real(cr);
}

void cairo_fill(cairo_t *cr) { draw_noted(cr, "cairo_fill", false); }
void cairo_fill_preserve(cairo_t *cr) { draw_noted(cr, "cairo_fill_preserve", false); }
void cairo_stroke(cairo_t *cr) { draw_noted(cr, "cairo_stroke", true); }
void cairo_stroke_preserve(cairo_t *cr) { draw_noted(cr, "cairo_stroke_preserve", true); }

static inline void forget_shapes(void) { shape_count = path_points = 0; }

static inline bool is_colour(const shape *s, tcr_rgba colour) {
    return fabs(s->colour.red - colour.red) < 1e-6 && fabs(s->colour.green - colour.green) < 1e-6 &&
           fabs(s->colour.blue - colour.blue) < 1e-6 && fabs(s->colour.alpha - colour.alpha) < 1e-6;
}

static inline tcr_vec2 middle_of(const shape *s) {
    return (tcr_vec2){s->box.x + s->box.width / 2, s->box.y + s->box.height / 2};
}

/* The n-th shape of a colour, from 0, or NULL. */
static inline const shape *shape_of(bool stroke, tcr_rgba colour, size_t n) {
    for (size_t i = 0; i < shape_count; i++)
        if (shapes[i].stroke == stroke && is_colour(&shapes[i], colour) && n-- == 0)
            return &shapes[i];
    return NULL;
}

static inline size_t shapes_of(bool stroke, tcr_rgba colour) {
    size_t n = 0;
    while (shape_of(stroke, colour, n) != NULL)
        n++;
    return n;
}

/* The same, which must be there. */
static inline const shape *need_shape(bool stroke, tcr_rgba colour, size_t n) {
    const shape *found = shape_of(stroke, colour, n);
    if (found == NULL)
        ck_abort_msg("there is no shape %zu of this colour", n);
    return found;
}

static inline tcr_vec2 point_of(const shape *s, size_t i) {
    ck_assert_uint_lt(i, s->count);
    return path_point[s->first + i];
}

/* ---- A canvas to draw on ----------------------------------------------------------------------
 */

typedef struct board {
    cairo_surface_t *surface;
    tcr_canvas canvas;
    const tcr_style *style;
} board;

static inline board board_new(void) {
    const cairo_rectangle_t page = {0, 0, 600, 600};
    board b = {.surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &page),
               .style = tcr_style_on(false)};
    cairo_t *cr = cairo_create(b.surface);
    expect_status(tcr_canvas_begin(&b.canvas, cr, b.style), TCR_OK);
    forget_shapes();
    return b;
}

static inline void board_free(board *b) {
    cairo_t *cr = b->canvas.cr;
    expect_status(tcr_canvas_end(&b->canvas), TCR_OK);
    cairo_destroy(cr);
    cairo_surface_destroy(b->surface);
}

#endif
