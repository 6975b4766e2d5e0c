/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_LAYOUT_H
#define TCR_DRAW_LAYOUT_H

#include "draw/stage.h"

/*
 * A sheet with the eyes large in one view and, for each eye, small in another. One eye has its
 * figures beside it, two have them below.
 */
typedef struct tcr_layout {
    tcr_stage main;
    tcr_stage small[TCR_SIDES]; /* one for each eye */
} tcr_layout;

#define TCR_PAIR_HEIGHT 67.0 /* of the panel with two eyes, mm */

/* Widths of the columns below two eyes: figures of each eye, and what is common to both. */
#define TCR_OUTER_COLUMN 78.0
#define TCR_MIDDLE_COLUMN 74.0

/* The panel of the large eyes. */
tcr_box tcr_layout_panel(int eyes);
void tcr_layout_of(const tcr_picture *picture, const tcr_view *main, const tcr_view *small,
                   tcr_layout *layout);

/* Where the figures of eye i stand, at the top, and the column for what is common to both. */
tcr_box tcr_layout_figures(const tcr_layout *layout, int i);
tcr_box tcr_layout_common(const tcr_layout *layout);
/* Width of the titles: beside one eye the figures begin at the sheet's top. */
double tcr_layout_title_width(const tcr_layout *layout);

/* The eyes of a layout, the small ones where asked for; under, for the large ones, and every as in
 * tcr_stage_draw. */
tcr_status tcr_layout_draw(tcr_canvas *canvas, const tcr_layout *layout, bool small,
                           tcr_stage_under under, void *context, size_t *every);

#endif
