/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_FIGURES_H
#define TCR_DRAW_FIGURES_H

#include "draw/picture.h"
#include "draw/words.h"

/*
 * Blocks of figures and legends that stand beside a picture. Each is drawn with its top left at (x,
 * y), width mm wide, and returns the y of its lower end.
 */

#define TCR_ROW 4.35   /* from baseline to baseline */
#define TCR_SAMPLE 9.0 /* width of what stands for a mark or a lash in a legend */

double tcr_figures_heading(tcr_canvas *canvas, const char *text, double x, double y, double width);
/* On up to three lines. */
double tcr_figures_body(tcr_canvas *canvas, const char *text, double x, double y, double width);
/* Small and quiet, on up to four lines. */
double tcr_figures_quiet(tcr_canvas *canvas, const char *text, double x, double y, double width);
/* That so few tips are too few to judge, in place of figures. */
double tcr_figures_too_few(tcr_canvas *canvas, size_t tips, double x, double y, double width);
/* A number in large type with its unit in small. */
double tcr_figures_large(tcr_canvas *canvas, double value, const char *unit, double x, double y);
/* A text on a baseline, aligned as tcr_setting says; small ones are quiet. */
void tcr_figures_aligned(tcr_canvas *canvas, tcr_type type, const char *text, double align,
                         double x, double baseline);
/* A little lash in the layer's colour, with its mark, TCR_SAMPLE wide, on a piece of skin. */
void tcr_figures_lash(tcr_canvas *canvas, tcr_layer layer, double x, double y);

/* "Left eye, evenness", or "Left eye, off the map": by the line that the check measures from. */
const char *tcr_figures_name(char out[TCR_WORDS], const tcr_check *check, tcr_side side);
/* How even an eye is against that line: its main number and what belongs to it. heading may be NULL
 * for "Off the line" or "Off the map's line". */
double tcr_figures_evenness(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                            const char *heading, double x, double y, double width);
/* The layers by colour, and how far each lies off the line in each eye: as seen, and from the
 * artist's seat. */
double tcr_figures_layers(tcr_canvas *canvas, const tcr_check *check, const tcr_side *side,
                          int eyes, double x, double y, double width);
/* Which mark of the options means what, in one or two columns; 'named' staggered tips of all eyes
 * stand in the picture by name. */
double tcr_figures_legend(tcr_canvas *canvas, const tcr_picture *picture, size_t named, int columns,
                          double x, double y, double width);
/* How even the tips look from the artist's seat, and how even they are as the check sees them. */
double tcr_figures_seat(tcr_canvas *canvas, const tcr_picture *picture, tcr_side side,
                        const char *heading, double x, double y, double width);
/* On which side of the lash the extensions lie, layer by layer. */
double tcr_figures_placement(tcr_canvas *canvas, const tcr_picture *picture, double x, double y,
                             double width);
/* The staggered lashes of an eye by id and deviation, worst first, in columns of 'rows' rows, and
 * the number of the others. */
double tcr_figures_staggered(tcr_canvas *canvas, const tcr_check *check, tcr_side side, int columns,
                             int rows, double x, double y, double width);
/* How like two eyes are; nothing for one eye. */
double tcr_figures_symmetry(tcr_canvas *canvas, const tcr_check *check, double x, double y,
                            double width);

#endif
