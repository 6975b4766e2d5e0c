/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_MEAN_H
#define TCR_DRAW_MEAN_H

#include <tipcrest/check.h>

/*
 * The mean lash on each layer: what map and rule come to where nothing varies. Its root stands 0, 1
 * and 2 mm (a layer's gap) above where the set's mean lash has it.
 */

/*
 * A set with one eye whose lashes are, at each of n places, the mean lash on the bottom, middle and
 * top layer, in this order; everything else is as in the set of a check. A lash for which the rule
 * gives a length that the tray lacks stays bare by its row. *set is the caller's to free.
 */
tcr_status tcr_mean_set(const tcr_check *check, tcr_side side, const double *u, size_t n,
                        tcr_set **set);

/* Root and tip, as seen in a view, of what the map asks for at u: the lash of the intended line. */
tcr_status tcr_mean_seen(const tcr_set *set, tcr_side side, double u, const tcr_view *view,
                         tcr_vec2 *root, tcr_vec2 *tip);

#endif
