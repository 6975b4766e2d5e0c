/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_LID_H
#define TCR_DRAW_LID_H

#include "draw/canvas.h"
#include "draw/viewport.h"

/*
 * Skin over a whole panel with round corners, with the hollows, heights and folds around its eye,
 * and a hole where the lids leave the eyeball free: that is drawn before.
 */
void tcr_skin_draw(tcr_canvas *canvas, tcr_box panel, double corner, const tcr_viewport *eye,
                   const tcr_eye_shape *shape);

/* The lids' edges, over the eyeball: lash line, the lower lid's free edge and its lashes. */
void tcr_lid_edges_draw(tcr_canvas *canvas, const tcr_viewport *viewport,
                        const tcr_eye_shape *shape);

#endif
