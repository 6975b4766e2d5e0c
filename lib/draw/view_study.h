/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_VIEW_STUDY_H
#define TCR_DRAW_VIEW_STUDY_H

/* What the forms of a chart share. */

#include <tipcrest/chart.h>

#include "draw/plot.h"
#include "draw/sheet.h"
#include "draw/words.h"

/* The smallest and the largest of numbers that are there; false where none is. */
bool tcr_chart_range(const double *value, size_t count, double *least, double *most);

/* How many lines a curve has. */
size_t tcr_chart_lines(const tcr_chart *chart);

/* The word or number i of an axis. */
const char *tcr_chart_word(const tcr_chart_axis *axis, size_t i, char out[TCR_WORDS]);
/* A number with as many digits as tell a range apart. */
const char *tcr_chart_number(double value, double range, char out[TCR_WORDS]);

/* The forms; each fills the panel of the sheet. */
void tcr_chart_curve(tcr_canvas *canvas, const tcr_chart *chart);
void tcr_chart_curves(tcr_canvas *canvas, const tcr_chart *chart);
void tcr_chart_map(tcr_canvas *canvas, const tcr_chart *chart);
void tcr_chart_bars(tcr_canvas *canvas, const tcr_chart *chart);

/* What the marks mean, at the top of the column; returns the y of its lower end. */
double tcr_chart_map_legend(tcr_canvas *canvas, const tcr_chart *chart, tcr_box column);
double tcr_chart_bars_legend(tcr_canvas *canvas, const tcr_chart *chart, tcr_box column);
double tcr_chart_curve_legend(tcr_canvas *canvas, const tcr_chart *chart, tcr_box column);

#endif
