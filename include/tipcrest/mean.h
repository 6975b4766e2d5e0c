/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MEAN_H
#define TCR_MEAN_H

#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * The mean lash of an eye (model.md, section 7): what the set says of it (tcr_set_mean_lash), then
 * the means of the eye's own suitable lashes, then the defaults. It stands on the bottom layer; the
 * intended line is that of its tips.
 */
enum { TCR_MEAN_KNOTS = 3 };

typedef struct tcr_mean_lash {
    tcr_lash lash;                    /* at u = 0; its yaw and length change with u */
    double yaw_slope_rad;             /* of the yaw by u */
    double length_mm[TCR_MEAN_KNOTS]; /* at u = 0, 1/2 and 1, straight between */
    unsigned assumed;                 /* bits TCR_LASH_...: numbers that have a default */
} tcr_mean_lash;

/*
 * The mean lash of an eye; mean receives plain data. TCR_E_MISSING (eye), TCR_E_ARGUMENT. Cost: one
 * pass over the lashes.
 */
TCR_API tcr_status tcr_mean_lash_of(const tcr_set *set, tcr_side side, tcr_mean_lash *mean);

/* The mean lash at u. Its length may lie outside a lash's range where the broken line leaves it:
 * it then cannot bond. */
TCR_API tcr_lash tcr_mean_lash_at(const tcr_mean_lash *mean, double u);

#endif
