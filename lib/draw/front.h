/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_FRONT_H
#define TCR_DRAW_FRONT_H

#include <tipcrest/draw.h>

#include "draw/canvas.h"
#include "draw/viewport.h"

/* Where everything of the front view lies, on a sheet TCR_SHEET_WIDTH wide. */
typedef struct tcr_front_layout {
    double height_mm;
    tcr_box panel; /* the skin with the eyes */
    int eyes;
    tcr_side side[TCR_SIDES]; /* from the viewer's left to right */
    tcr_viewport eye[TCR_SIDES];
    tcr_box couch[TCR_SIDES]; /* the small pictures from the artist's seat */
    tcr_viewport couch_eye[TCR_SIDES];
} tcr_front_layout;

tcr_status tcr_front_layout_of(const tcr_check *check, tcr_front_layout *layout);

/* Options as given, or the defaults for NULL, checked: TCR_OK, TCR_E_ARGUMENT, TCR_E_RANGE. */
tcr_status tcr_picture_options_take(const tcr_picture_options *given, tcr_picture_options *taken);

#endif
