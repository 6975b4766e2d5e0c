/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_MARKS_H
#define TCR_DRAW_MARKS_H

#include <stdbool.h>

#include <tipcrest/check.h>

#include "draw/canvas.h"
#include "draw/labels.h"
#include "draw/viewport.h"
#include "draw/words.h"

/* What is drawn over the eye to be read: lines, rings around staggered tips, a bar of millimetres.
 */

/* The most staggered tips of an eye that are ringed: the worst. */
enum { TCR_RINGS_MAX = 120, TCR_NAMES_MAX = 14 };

/* The stretch within a tolerance of a line; goes under the hairs. */
void tcr_mark_band(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_line *line,
                   double tolerance_mm);
/* Draws the line as the fitted or the intended one. */
void tcr_mark_line(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_line *line,
                   tcr_against which);
/* Keeps labels off the line, and off what lies less than depth_mm below it on the sheet; above it
 * if that is negative. */
void tcr_mark_line_block(const tcr_viewport *viewport, const tcr_line *line, double depth_mm,
                         tcr_label_map *map);
/* Strokes the path as the fitted or the intended line, of weight 1 or thinner; also for legends. */
void tcr_mark_stroke(tcr_canvas *canvas, tcr_against line, double weight);

void tcr_mark_ring(tcr_canvas *canvas, tcr_vec2 middle, double radius);
/* The staggered lashes that stray most, worst first; their number. */
size_t tcr_mark_worst(const tcr_eye_result *eye, size_t index[TCR_RINGS_MAX]);
/* A deviation to a hundredth as in tables, or with as many digits as show that it lies beyond the
 * tolerance. */
void tcr_mark_say(char out[TCR_WORDS], double deviation_mm, double tolerance_mm);
/* Where on the sheet a lash's mark belongs. */
typedef tcr_vec2 (*tcr_mark_place)(const void *context, const tcr_lash_result *lash);
/* Rings around the staggered lashes of an eye, the worst TCR_NAMES_MAX with id and deviation where
 * there is room; how many are named. */
size_t tcr_mark_staggered_at(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                             tcr_mark_place place, const void *context, double radius,
                             tcr_label_map *map);
/* The same around the tips in a viewport. */
size_t tcr_mark_staggered(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                          const tcr_viewport *viewport, tcr_label_map *map);

/* A bar of 10 mm, or 5 where that is too long, with its lower left end at a point of the sheet. */
void tcr_mark_bar(tcr_canvas *canvas, tcr_vec2 corner, double scale, double longest_mm);

#endif
