/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_HAIR_H
#define TCR_DRAW_HAIR_H

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
 * every n-th lash is drawn, and every is raised to n. TCR_E_MEMORY, or the status of a lash that
 * cannot stand at the viewport's opening.
 */
tcr_status tcr_hairs_draw(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                          const tcr_viewport *viewport, const tcr_hair_choice *choice,
                          size_t *every);

/* Widens low and high (mm, as the viewport projects) so that they hold the hairs of an eye. */
void tcr_hairs_extent(const tcr_check *check, tcr_side side, const tcr_viewport *viewport,
                      tcr_vec2 *low, tcr_vec2 *high);

#endif
