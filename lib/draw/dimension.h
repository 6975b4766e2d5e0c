/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_DIMENSION_H
#define TCR_DRAW_DIMENSION_H

#include "draw/canvas.h"

/* Lines that measure, as in a technical drawing. Points are on the sheet. */

/* A thin line in a colour, dashed where asked for. */
void tcr_dimension_thin(tcr_canvas *canvas, tcr_vec2 from, tcr_vec2 to, tcr_rgba colour,
                        bool dashed);
/* A filled arrow head with its point at 'at', coming from a direction. */
void tcr_dimension_head(tcr_canvas *canvas, tcr_vec2 at, tcr_vec2 from, tcr_rgba colour);
/* The distance between two points: arrows between them, or outside where there is no room. */
void tcr_dimension_line(tcr_canvas *canvas, tcr_vec2 a, tcr_vec2 b, tcr_rgba colour);
/* An arc about a point with an arrow at its end, angles from +x towards the sheet's top. */
void tcr_dimension_arc(tcr_canvas *canvas, tcr_vec2 middle, double radius, double from_rad,
                       double to_rad, tcr_rgba colour);
/* A text on a ground that lets what lies below shine through, its middle at a point. Returns its
 * box. */
tcr_box tcr_dimension_text(tcr_canvas *canvas, tcr_vec2 middle, const char *text, tcr_rgba colour);

/* Moves n rising places apart, so that neighbours are at least gap apart, as little as may be, and
 * keeps them from low to high where they fit. */
void tcr_dimension_spread(double *place, int n, double gap, double low, double high);

#endif
