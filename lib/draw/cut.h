/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_CUT_H
#define TCR_DRAW_CUT_H

#include "draw/section.h"

/*
 * The bonds of a section's three lashes cut across, enlarged: where on its natural lash each
 * layer's extension lies. Up is the side to which the lash curls, right its outer side.
 */
#define TCR_CUT_WIDTH 48.0 /* mm on the sheet */
#define TCR_CUT_HEIGHT 21.0

/* Draws them in a box of that size with its top left at (x, y). */
void tcr_cut_draw(tcr_canvas *canvas, const tcr_section *section, double x, double y);

#endif
