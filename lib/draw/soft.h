/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_SOFT_H
#define TCR_DRAW_SOFT_H

#include "draw/canvas.h"

/*
 * A layer for what has no edges: skin, shade, glow. Between begin and end the canvas draws, in the
 * same coordinates, on a coarse transparent image of a box of the sheet; end blurs it and lays it,
 * smoothed, on the sheet. Its resolution does not depend on the sheet's, so its cost does not grow
 * with the picture, and in a vector file it is one small image.
 */
typedef struct tcr_soft {
    cairo_t *sheet; /* the canvas's own context meanwhile */
    cairo_surface_t *surface;
    tcr_box box;
    double per_mm; /* resolution */
    double blur;
} tcr_soft;

/*
 * blur is the distance in mm over which an edge becomes a slope. What the layer may cover is the
 * path that the canvas has now, by the even-odd rule, or the whole box where it has none. Always to
 * be followed by tcr_soft_end: an error stays in the cairo context or the canvas.
 */
void tcr_soft_begin(tcr_canvas *canvas, tcr_box box, double blur, tcr_soft *soft);
void tcr_soft_end(tcr_canvas *canvas, tcr_soft *soft);

#endif
