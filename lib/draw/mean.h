/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_MEAN_H
#define TCR_DRAW_MEAN_H

#include <tipcrest/mean.h>

#include "draw/picture.h"

/*
 * The mean lash on each layer: what map and rule come to where nothing varies. On the upper layers
 * its root is higher by the difference of the layers' heights.
 */

/* Where a lash can root along the lid: lash.h. */
#define TCR_ROOTS_FROM 0.02
#define TCR_ROOTS_TO 0.98

/* The heights of an eye's layers, or as far apart as the options of a picture ask. */
tcr_layer_heights tcr_mean_heights(const tcr_picture *picture, tcr_side side);

/*
 * A set with one eye of 3 n lashes, the mean lash on the bottom, middle and top layer in turn, each
 * at its own place u, or left out where that is NaN; everything else is as in another set. A lash
 * for which the rule gives a length that the tray lacks stays bare by its row. *set is the caller's
 * to free.
 */
tcr_status tcr_mean_set(const tcr_set *from, tcr_side side, const tcr_layer_heights *heights,
                        const double (*u)[TCR_LAYERS], size_t n, tcr_set **set);

/* The layers of each zone that wear nothing. */
typedef struct tcr_bare_layers {
    bool of[TCR_ZONES_MAX][TCR_LAYERS];
} tcr_bare_layers;

/* The same with places spread evenly over what a zone of the eye's map has of the lid where lashes
 * can root, the layers side by side; none of a bare layer. */
tcr_status tcr_mean_map(const tcr_set *from, tcr_side side, const tcr_bare_layers *bare,
                        tcr_set **set);

/* Root and tip, as seen in a view, of what the map asks for at u: the lash of the intended line. */
tcr_status tcr_mean_seen(const tcr_set *set, tcr_side side, double u, const tcr_view *view,
                         tcr_vec2 *root, tcr_vec2 *tip);

#endif
