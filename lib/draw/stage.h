/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_STAGE_H
#define TCR_DRAW_STAGE_H

#include "draw/labels.h"
#include "draw/picture.h"
#include "draw/viewport.h"

/* Eyes on skin in a panel: one in its middle, or two in a half each, without what lies between. */
typedef struct tcr_stage {
    const tcr_check *check;
    tcr_box panel;
    int eyes;
    tcr_side side[TCR_SIDES];
    tcr_box part[TCR_SIDES]; /* of the panel, for each eye */
    tcr_viewport eye[TCR_SIDES];
    bool turned; /* each eye stands on its head in its part, as from the head of the couch */
    bool tips;   /* the mark of its layer at each tip that carries an extension */
} tcr_stage;

/* What has to be in sight of each eye: a box in its own frame, mm, y upwards. */
typedef struct tcr_extent {
    tcr_vec2 low, high;
} tcr_extent;

/* Nothing yet. */
tcr_extent tcr_extent_empty(void);
/* Widens an extent to hold the eyes of a picture, with the hairs of a check, in a view. */
void tcr_extent_widen(tcr_extent *extent, const tcr_check *check, const tcr_picture *picture,
                      const tcr_view *view);
/* The part of a panel that belongs to eye i, counted from 0; eyes: how many share the panel. */
tcr_box tcr_stage_part(tcr_box panel, int eyes, int i);
/* Sheet mm per mm of the eye at which an extent fills the part of each eye. */
double tcr_extent_scale(const tcr_extent *extent, tcr_box panel, int eyes);

/* Stands the eyes of a picture into a panel, the middle of the extent in the middle of a part. */
void tcr_stage_place(tcr_stage *stage, const tcr_check *check, const tcr_picture *picture,
                     const tcr_view *view, const tcr_extent *extent, double scale, tcr_box panel);
/* The same as large as they fit. */
void tcr_stage_fit(tcr_stage *stage, const tcr_picture *picture, const tcr_view *view,
                   tcr_box panel);

/* Where a point of eye i, as its viewport has it, is drawn: it is moved where the stage is turned.
 */
tcr_vec2 tcr_stage_at(const tcr_stage *stage, int i, tcr_vec2 point);

/* What lies on the skin of eye i, under its hairs. */
typedef void (*tcr_stage_under)(tcr_canvas *canvas, const tcr_stage *stage, int i, void *context);
/* The band of the tolerance about the check's line; takes no context. */
void tcr_stage_band(tcr_canvas *canvas, const tcr_stage *stage, int i, void *context);

/* A mark at each tip of eye i that carries an extension, of some layers (bits 1 << layer), so that
 * a print without colours shows the layers. */
void tcr_stage_tips(tcr_canvas *canvas, const tcr_stage *stage, int i, unsigned layers);
/* Eyeball, skin, lids and hairs of some layers, with the marks of the tips where the stage has them
 * and with something under the hairs, which may be NULL. every is raised to what hair.h says. */
tcr_status tcr_stage_draw(tcr_canvas *canvas, const tcr_stage *stage, unsigned layers,
                          tcr_stage_under under, void *context, size_t *every);
/* The check's own lines over the hairs; keeps labels off them. */
void tcr_stage_lines(tcr_canvas *canvas, const tcr_stage *stage, tcr_label_map *map);
/* The bar of millimetres in the panel's lower left corner. */
void tcr_stage_bar(tcr_canvas *canvas, const tcr_stage *stage);

/* Begins to draw over a panel, clipped to it, with room for labels; ends it. */
tcr_label_map tcr_stage_begin_marks(tcr_canvas *canvas, const tcr_stage *stage);
void tcr_stage_end_marks(tcr_canvas *canvas);

#endif
