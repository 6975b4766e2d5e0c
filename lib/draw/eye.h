/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_EYE_H
#define TCR_DRAW_EYE_H

#include <tipcrest/lid.h>

#include "draw/canvas.h"
#include "draw/viewport.h"

/* Horizontal diameter of the visible iris: Rüfer 2005, 10.1097/01.ico.0000148312.01805.53. */
#define TCR_IRIS_DIAMETER_MM 11.71

/* The eyeball: white, iris, pupil, the flesh at the inner corner. The skin then covers what the
 * lids do. */
void tcr_eye_draw(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_eye_shape *shape,
                  const tcr_lid *lid);

#endif
