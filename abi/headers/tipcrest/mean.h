/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MEAN_H
#define TCR_MEAN_H 
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
enum { TCR_MEAN_KNOTS = 3 };
typedef struct tcr_mean_lash {
    tcr_lash lash;
    double yaw_slope_rad;
    double length_mm[TCR_MEAN_KNOTS];
    unsigned assumed;
} tcr_mean_lash;
TCR_API tcr_status tcr_mean_lash_of(const tcr_set *set, tcr_side side, tcr_mean_lash *mean);
TCR_API tcr_lash tcr_mean_lash_at(const tcr_mean_lash *mean, double u);
typedef struct tcr_layer_heights {
    double height_mm[TCR_LAYERS];
    size_t lashes[TCR_LAYERS];
} tcr_layer_heights;
TCR_API tcr_status tcr_layer_heights_of(const tcr_set *set, tcr_side side,
                                        tcr_layer_heights *heights);
TCR_API tcr_layer_heights tcr_layer_heights_apart(const tcr_layer_heights *heights,
                                                  double apart_mm);
#endif
