/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_HAIR_H
#define TCR_DRAW_HAIR_H

#include <stddef.h>

#include <tipcrest/check.h>

#include "draw/canvas.h"
#include "draw/viewport.h"

/* More hairs than this are thinned out evenly: nobody could tell them apart. */
enum { TCR_HAIRS_MAX = 12000 };

/*
 * All hairs of an eye with their shadows on a panel, the farthest first. Where there are too many,
 * only every n-th lash is drawn; every receives n. TCR_E_MEMORY, or the status of a lash that
 * cannot stand at the viewport's opening.
 */
tcr_status tcr_hairs_draw(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                          const tcr_viewport *viewport, tcr_box panel, size_t *every);

/* Widens low and high (mm, seen in a view) so that they hold the hairs of an eye. */
void tcr_hairs_extent(const tcr_check *check, tcr_side side, const tcr_view *view, tcr_vec2 *low,
                      tcr_vec2 *high);

#endif
