/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_HAIR_H
#define TCR_DRAW_HAIR_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/check.h>

#include "draw/canvas.h"
#include "draw/viewport.h"

/* More hairs than this are thinned out evenly: nobody could tell them apart. */
enum { TCR_HAIRS_MAX = 12000 };

/* Bits 1 << layer. */
enum { TCR_EVERY_LAYER = (1 << TCR_LAYERS) - 1 };

typedef struct tcr_hair_choice {
    unsigned layers;
    tcr_box shadow_on; /* the panel that takes their shadows; none where it has no width */
} tcr_hair_choice;

/*
 * All hairs of an eye, or those of some layers, the farthest first. Where there are too many, only
 * every n-th lash is drawn, and every is raised to n. TCR_E_MEMORY.
 */
tcr_status tcr_hairs_draw(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                          const tcr_viewport *viewport, const tcr_hair_choice *choice,
                          size_t *every);

/* One in how many lashes of an eye is drawn, from the first on. */
size_t tcr_hairs_every(const tcr_check *check, tcr_side side);

/* Widens low and high (mm, as the viewport projects) so that they hold the hairs of an eye. */
void tcr_hairs_extent(const tcr_check *check, tcr_side side, const tcr_viewport *viewport,
                      tcr_vec2 *low, tcr_vec2 *high);

/* How far, in mm on the sheet, the hairs of the lashes from u_low to u_high reach from a point
 * along a direction of length 1; 0 where none does. */
double tcr_hairs_reach(const tcr_check *check, tcr_side side, const tcr_viewport *viewport,
                       double u_low, double u_high, tcr_vec2 from, tcr_vec2 direction);

/* Where the first fibre of a lash's extension ends on the sheet; the lash carries one. */
tcr_vec2 tcr_hair_tip(const tcr_check *check, tcr_side side, size_t lash,
                      const tcr_viewport *viewport);

#endif
