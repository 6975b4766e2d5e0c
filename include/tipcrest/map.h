/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MAP_H
#define TCR_MAP_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/curl.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>

/* What is to be glued where: the map's zones, the layering rule, and what a single lash asks for.
 */

/* Which members of a tcr_wish are fixed. */
enum {
    TCR_FIX_LENGTH = 1 << 0,
    TCR_FIX_CURL = 1 << 1,
    TCR_FIX_DIAMETER = 1 << 2,
    TCR_FIX_FAN = 1 << 3,
    TCR_FIX_SPREAD = 1 << 4,
    TCR_FIX_PLACEMENT = 1 << 5,
    TCR_FIX_BARE = 1 << 6, /* the lash is to stay bare */
    TCR_FIX_FROM_SKIN = 1 << 7,
    TCR_FIX_ALL = (1 << 8) - 1
};

/*
 * Some of an extension's properties, fixed; the others come from the rule. {0} asks for nothing. A
 * member that is not fixed must be 0: a number that is given and not fixed is an error, never
 * ignored.
 */
typedef struct tcr_wish {
    unsigned fixed; /* bits TCR_FIX_... */
    double length_mm;
    char curl[TCR_LABEL_SIZE];
    double diameter_mm;
    int fan;
    double spread_rad;
    tcr_placement placement;
    double from_skin_mm; /* 0 to 20: where the bond starts; of a lash's own row only */
} tcr_wish;

/* A zone of the map: the lashes with u below 'to' that no zone before it holds. */
typedef struct tcr_zone {
    double to; /* rising; the last is 1 */
    double length_mm;
    char curl[TCR_LABEL_SIZE];
    tcr_wish layer[TCR_LAYERS]; /* what the zone fixes for a layer; it wins over the rule */
} tcr_zone;

enum { TCR_ZONES_MAX = 64, TCR_TRAY_MAX = 64 };

/* extension length = zone length - step x (layer 0, 1, 2). */
typedef struct tcr_layering {
    double step_mm;                      /* 0 to 3; default 1, common practice */
    double diameter_mm;                  /* default 0.15, common practice */
    int fan;                             /* default 1 */
    double spread_rad;                   /* default 0 */
    tcr_placement placement[TCR_LAYERS]; /* default: all on top */
    bool blend; /* zone lengths interpolated between zone centres, rounded to the tray */
} tcr_layering;

/* The usual placement with a step of 1 mm, by layer, as an initialiser: bottom on top, middle at
 * the outer side, top underneath. Common practice, no source. */
#define TCR_USUAL_PLACEMENT                                                                        \
    { TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE }

/* The lengths at hand, mm, rising. Default 5 to 20 by 1. With a count of 0 there is no tray: any
 * length from 3 to 30 mm is at hand. */
typedef struct tcr_tray {
    size_t count; /* 0 to TCR_TRAY_MAX */
    double length_mm[TCR_TRAY_MAX];
} tcr_tray;

TCR_API tcr_layering tcr_layering_default(void);
TCR_API tcr_tray tcr_tray_default(void);
TCR_API tcr_status tcr_layering_check(const tcr_layering *layering,
                                      tcr_error *error); /* TCR_OK, _ARGUMENT, _RANGE */
TCR_API tcr_status tcr_tray_check(const tcr_tray *tray,
                                  tcr_error *error); /* TCR_OK, _ARGUMENT, _RANGE */

/*
 * The tray's length nearest to a wanted one, ties to the longer; without a tray the length itself.
 * Within 1e-9 mm a length counts as the tray's own. The tray must be valid.
 */
TCR_API double tcr_tray_nearest(const tcr_tray *tray, double length_mm);
TCR_API bool tcr_tray_has(const tcr_tray *tray, double length_mm);

#endif
