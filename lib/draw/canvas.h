/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_CANVAS_H
#define TCR_DRAW_CANVAS_H

#include <stdbool.h>
#include <stddef.h>

#include <pango/pangocairo.h>

#include <tipcrest/status.h>
#include <tipcrest/vector.h>

#include "draw/style.h"

/* A box on the sheet, y downwards. */
typedef struct tcr_box {
    double x, y, width, height;
} tcr_box;

/* A text that was drawn, and where on the surface, in its units. */
typedef struct tcr_text_drawn {
    const char *text;
    int page;          /* from 0 */
    tcr_box ink, clip; /* what its glyphs fill, and what of the surface can be drawn on */
    bool cut;          /* dots stand for a part of it */
    int unknown;       /* glyphs that no font has */
} tcr_text_drawn;

/* Is told of each text, so that a test can ask whether it is whole; call is NULL for none. */
typedef struct tcr_text_watcher {
    void (*call)(void *context, const tcr_text_drawn *text);
    void *context;
} tcr_text_watcher;

/* A sheet to draw on: a cairo context in millimetres, a style, and text. */
typedef struct tcr_canvas {
    cairo_t *cr;
    const tcr_style *style;
    PangoContext *context;
    PangoLayout *layout;
    double fit[2]; /* size of regular and bold type against the style's */
    tcr_text_watcher watcher;
    int page;          /* from 0 */
    bool lacks_memory; /* for a part of the picture, which is then not whole */
} tcr_canvas;

/* How a text is set. */
typedef struct tcr_setting {
    tcr_type type;
    tcr_rgba colour;
    double align; /* of x in the text: 0 at its left end, 1/2 in the middle, 1 at its right end */
    double
        width_mm;  /* wider text is broken into lines; where they do not hold it, it is set smaller,
                      and cut with dots only where that does not help either; 0 no limit */
    int lines;     /* at most; 0 counts as 1 */
    bool keep_end; /* cut text loses its middle */
} tcr_setting;

/* Starts drawing with a style; saves the context's state, which tcr_canvas_end restores. Without
 * success there is nothing to end. TCR_E_FONT, TCR_E_MEMORY. */
tcr_status tcr_canvas_begin(tcr_canvas *canvas, cairo_t *cr, const tcr_style *style);
/* The status of all that was drawn: TCR_OK or TCR_E_MEMORY. */
tcr_status tcr_canvas_end(tcr_canvas *canvas);

/* Ends a page and begins the next. */
void tcr_canvas_page(tcr_canvas *canvas);

void tcr_canvas_colour(tcr_canvas *canvas, tcr_rgba colour);

/*
 * Any bytes as text, one paragraph, its first baseline at y; markup means nothing. Returns the
 * height of its lines, so that y + height is the next baseline.
 */
double tcr_canvas_text(tcr_canvas *canvas, double x, double y, const char *text,
                       const tcr_setting *setting);
/* The box that the text would fill with its baseline at (0, 0). */
tcr_box tcr_canvas_measure(tcr_canvas *canvas, const char *text, const tcr_setting *setting);

/* Adds to the path. */
void tcr_canvas_rounded(tcr_canvas *canvas, tcr_box box, double radius);
void tcr_canvas_polyline(tcr_canvas *canvas, const tcr_vec2 *point, size_t count, bool reversed);
/* A closed outline at half[i] to both sides of a line: a tapered stroke. Up to TCR_TAPER_MAX
 * points. */
enum { TCR_TAPER_MAX = 128 };
void tcr_canvas_taper(tcr_canvas *canvas, const tcr_vec2 *point, const double *half, size_t count);

/* Strokes the path, from full colour in the middle to nothing at width / 2, in steps; keeps the
 * path. */
void tcr_canvas_soft_stroke(tcr_canvas *canvas, tcr_rgba colour, double width, int steps);
/* Fills a disc, flattened in y by squash, with a colour that fades from the middle to the rim. */
void tcr_canvas_glow(tcr_canvas *canvas, tcr_vec2 middle, double radius, double squash,
                     tcr_rgba colour);

#endif
