/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_PLOT_H
#define TCR_DRAW_PLOT_H

#include <tipcrest/lash.h>

#include "draw/canvas.h"

/* A plot of two quantities on paper. */
typedef struct tcr_plot {
    tcr_box area; /* of the points, on the sheet */
    double x_low, x_high, y_low, y_high;
    bool mirrored; /* x runs to the left */
} tcr_plot;

tcr_vec2 tcr_plot_at(const tcr_plot *plot, double x, double y);

/* A step of 1, 2 or 5 times a power of ten that cuts a range into at most n pieces. */
double tcr_plot_step(double range, int most);

/* Rules at the ticks, numbers at the left and below; those of y with a plus where asked for. */
/* Those of y alone, where words stand below. */
void tcr_plot_rules_across(tcr_canvas *canvas, const tcr_plot *plot, bool plus);
void tcr_plot_rules(tcr_canvas *canvas, const tcr_plot *plot, bool plus);

/* A point in a layer's colour and shape: disc, square, triangle, so that it reads without colour.
 */
void tcr_plot_mark(tcr_canvas *canvas, tcr_layer layer, tcr_vec2 at, double radius);

#endif
