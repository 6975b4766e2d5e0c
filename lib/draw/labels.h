/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_LABELS_H
#define TCR_DRAW_LABELS_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/vector.h>

#include "draw/canvas.h"

/*
 * Places labels beside points so that none covers another, nor anything else that was blocked, and
 * no leader from a point to its label runs through another label or leader.
 */
enum { TCR_LABEL_BLOCKS = 400, TCR_LABELS = 64 };

typedef struct tcr_label {
    tcr_box box;
    tcr_vec2 from, to; /* its leader */
} tcr_label;

/* All zero but the area, to begin with. */
typedef struct tcr_label_map {
    tcr_box area; /* labels stay inside */
    bool below;   /* they may also lie below their points, where there is no room elsewhere */
    size_t blocks, labels;
    tcr_box block[TCR_LABEL_BLOCKS];
    tcr_label label[TCR_LABELS];
} tcr_label_map;

/* Keeps labels off a box; leaders may cross it. Beyond TCR_LABEL_BLOCKS boxes are not heeded. */
void tcr_label_block(tcr_label_map *map, tcr_box box);

/*
 * Room for a label of a size beside a point that keeps clear mm around it free; NULL where there is
 * none. Label by label, so the most important comes first.
 */
const tcr_label *tcr_label_place(tcr_label_map *map, tcr_vec2 point, double clear, double width,
                                 double height);

/* The same on the way from a point along a direction of length 1, as near to it as may be. */
const tcr_label *tcr_label_along(tcr_label_map *map, tcr_vec2 point, tcr_vec2 direction,
                                 double clear, double width, double height);

#endif
