/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MEAN_H
#define TCR_MEAN_H

#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * The mean lash of an eye (model.md, section 7). Each number comes from tcr_set_put_mean_lash if
 * given there, else from the mean of the eye's own suitable lashes, else from the default. The mean
 * lash roots on the bottom layer. The intended line runs through its tips.
 */
enum { TCR_MEAN_KNOTS = 3 };

typedef struct tcr_mean_lash {
    tcr_lash lash;                    /* at u = 0; yaw and length change with u */
    double yaw_slope_rad;             /* change of the yaw from u = 0 to u = 1 */
    double length_mm[TCR_MEAN_KNOTS]; /* at u = 0, 1/2 and 1; linear between */
    unsigned assumed;                 /* bits TCR_LASH_...: numbers at their default */
} tcr_mean_lash;

/*
 * Computes the mean lash of an eye into *mean: plain data, nothing to free. TCR_E_MISSING (eye),
 * TCR_E_ARGUMENT. Allocates nothing. Cost: a pass or two over the lashes.
 */
TCR_API tcr_status tcr_mean_lash_of(const tcr_set *set, tcr_side side, tcr_mean_lash *mean);

/*
 * The mean lash at u (share, 0 to 1). Nothing is checked: an interpolated length may lie outside a
 * lash's range, and the lash can then carry no extension. All numbers are NaN for NULL.
 */
TCR_API tcr_lash tcr_mean_lash_at(const tcr_mean_lash *mean, double u);

/* How high the layers of an eye root (model.md, section 7). */
typedef struct tcr_layer_heights {
    double height_mm[TCR_LAYERS]; /* mean root height above the margin's edge */
    size_t lashes[TCR_LAYERS];    /* suitable lashes of which it is the mean; 0: assumed, 1 mm from
                                     the next layer */
} tcr_layer_heights;

/* The heights of an eye's layers. TCR_E_MISSING (eye), TCR_E_ARGUMENT. Cost: a pass. */
TCR_API tcr_status tcr_layer_heights_of(const tcr_set *set, tcr_side side,
                                        tcr_layer_heights *heights);

/*
 * The same with the upper layers moved, so that layers lie apart_mm (any) apart; the bottom one
 * stays. Heights are NaN for NULL.
 */
TCR_API tcr_layer_heights tcr_layer_heights_apart(const tcr_layer_heights *heights,
                                                  double apart_mm);

#endif
