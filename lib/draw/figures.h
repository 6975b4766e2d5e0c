/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_FIGURES_H
#define TCR_DRAW_FIGURES_H

#include <stdbool.h>

#include <tipcrest/check.h>

#include "draw/canvas.h"

/*
 * Blocks of figures and legends that stand beside a picture. Each is drawn with its top left at (x,
 * y), width mm wide, and returns the y of its lower end.
 */

/* The evenness of an eye: its main number and what belongs to it. heading may be NULL for
 * "Evenness". */
double tcr_figures_evenness(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                            const char *heading, double x, double y, double width);
/* The layers by colour, and how far each lies off the line in each eye: as seen, and from the
 * artist's seat. */
double tcr_figures_layers(tcr_canvas *canvas, const tcr_check *check, const tcr_side *side,
                          int eyes, double x, double y, double width);
/* Which mark means what, in one or two columns. */
double tcr_figures_legend(tcr_canvas *canvas, const tcr_check *check, bool lines, bool staggered,
                          int columns, double x, double y, double width);
/* How like two eyes are; nothing for one eye. */
double tcr_figures_symmetry(tcr_canvas *canvas, const tcr_check *check, double x, double y,
                            double width);

#endif
