/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LOOK_H
#define TCR_LOOK_H

#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/map.h>
#include <tipcrest/status.h>

/*
 * A look is the shape of a map under its trade name: the length of each zone as a share of the
 * longest. The shapes are common practice, without a source; every artist has her own.
 */
enum { TCR_LOOK_ZONES_MAX = 16 };

typedef struct tcr_look {
    const char *name;
    const char *other_name; /* a second name; "" if none */
    const char *about;      /* a description in a few words */
    size_t zones;           /* equally wide, from the inner corner; 1 to TCR_LOOK_ZONES_MAX */
    double share[TCR_LOOK_ZONES_MAX]; /* above 0; the largest is 1 */
} tcr_look;

/* The built-in looks, static storage. count receives their number; it may be NULL. */
TCR_API const tcr_look *tcr_look_catalogue(size_t *count);

/*
 * The built-in look with this name or second name; NULL if there is none or name is NULL. Static
 * storage.
 */
TCR_API const tcr_look *tcr_look_find(const char *name);

/*
 * The zone lengths of a look in mm, if its longest zone is longest_mm (3 to 30). Each is rounded to
 * the tray's nearest and is at least 3 mm. length_mm receives look->zones numbers. TCR_E_TRAY if
 * the tray lacks longest_mm, TCR_E_RANGE (tray, a share not above 0 or above 1), TCR_E_ARGUMENT
 * (also the number of zones).
 */
TCR_API tcr_status tcr_look_lengths(const tcr_look *look, double longest_mm, const tcr_tray *tray,
                                    double *length_mm);

/*
 * Where a zone ends if a map has 'zones' equally wide ones: 'to' of a map, 0 to 1, rounded to a
 * thousandth, which nobody sees. zone counts from 0. Returns 1 for the last zone and all behind it.
 */
TCR_API double tcr_look_zone_end(size_t zone, size_t zones);

#endif
