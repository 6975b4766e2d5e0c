/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LOOK_H
#define TCR_LOOK_H

#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/map.h>
#include <tipcrest/status.h>

/*
 * A look is the shape of a map by the name that the trade gives it: how long each zone is, as a
 * share of the longest. The shapes are common practice, without a source; every artist has her own.
 */
enum { TCR_LOOK_ZONES_MAX = 16 };

typedef struct tcr_look {
    const char *name;
    const char *other_name; /* by which it is known too; "" where there is none */
    const char *about;      /* what it is, in a few words */
    size_t zones;           /* evenly wide, from the inner corner; 1 to TCR_LOOK_ZONES_MAX */
    double share[TCR_LOOK_ZONES_MAX]; /* above 0, the largest 1 */
} tcr_look;

/* The built-in looks, static storage; count receives their number. */
TCR_API const tcr_look *tcr_look_catalogue(size_t *count);

/* The look of a name, or NULL. */
TCR_API const tcr_look *tcr_look_find(const char *name);

/*
 * The lengths of a look's zones where the longest is to be longest_mm, each rounded to the nearest
 * of the tray; length_mm receives look->zones numbers. TCR_E_ARGUMENT, TCR_E_RANGE (tray), or
 * TCR_E_TRAY where the tray lacks longest_mm.
 */
TCR_API tcr_status tcr_look_lengths(const tcr_look *look, double longest_mm, const tcr_tray *tray,
                                    double *length_mm);

/* Where zone of so many evenly wide ones ends, to a thousandth of the eye's width, which nobody
 * sees: 'to' of a map. zone counts from 0. */
TCR_API double tcr_look_zone_end(size_t zone, size_t zones);

#endif
