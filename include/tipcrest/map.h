/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MAP_H
#define TCR_MAP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/curl.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>

/* The map: zones, the layering rule, the tray, and what one lash or layer fixes for itself. */

/* Which members of a tcr_wish are fixed. */
enum {
    TCR_FIX_LENGTH = 1 << 0,
    TCR_FIX_CURL = 1 << 1,
    TCR_FIX_DIAMETER = 1 << 2,
    TCR_FIX_FAN = 1 << 3,
    TCR_FIX_SPREAD = 1 << 4,
    TCR_FIX_PLACEMENT = 1 << 5,
    TCR_FIX_BARE = 1 << 6, /* the lash stays bare */
    TCR_FIX_FROM_SKIN = 1 << 7,
    TCR_FIX_ALL = (1 << 8) - 1
};

/*
 * The properties of an extension that a lash or a layer of a zone fixes. The others come from map
 * and rule. {0} fixes nothing. A member that is not fixed must be 0: a number given without its bit
 * is an error and is never ignored.
 */
typedef struct tcr_wish {
    unsigned fixed;   /* bits TCR_FIX_... */
    double length_mm; /* 3 to 30 */
    char curl[TCR_LABEL_SIZE];
    double diameter_mm; /* 0.02 to 0.3 */
    int fan;            /* 1 to 20 */
    double spread_rad;  /* 0 to 120 degrees */
    tcr_placement placement;
    double from_skin_mm; /* 0 to 20: start of the bond; only in a lash's own row */
} tcr_wish;

/*
 * A zone of the map. It holds the lashes with u below 'to' that no earlier zone holds; the last
 * zone also holds u = 1.
 */
typedef struct tcr_zone {
    double to;        /* share, above 0, rising from zone to zone; the last is 1 */
    double length_mm; /* 3 to 30 */
    char curl[TCR_LABEL_SIZE];
    tcr_wish layer[TCR_LAYERS]; /* what the zone fixes for each layer, in place of the rule */
} tcr_zone;

enum { TCR_ZONES_MAX = 64, TCR_TRAY_MAX = 64, TCR_TRAY_KINDS_MAX = 64 };

/* The layering rule: extension length = zone length - step_mm x layer (0, 1, 2). */
typedef struct tcr_layering {
    double step_mm;                      /* 0 to 3; default 1, common practice */
    double diameter_mm;                  /* 0.02 to 0.3; default 0.15, common practice */
    int fan;                             /* 1 to 20; default 1 */
    double spread_rad;                   /* 0 to 120 degrees; default 0 */
    tcr_placement placement[TCR_LAYERS]; /* default: all on top */
    bool blend; /* interpolate zone lengths between zone centres and round them to the tray; default
                   false */
} tcr_layering;

/*
 * The usual placement for a step of 1 mm, as an initialiser by layer: bottom on top, middle at the
 * outer side, top underneath. Common practice, no source.
 */
#define TCR_USUAL_PLACEMENT                                                                        \
    { TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE }

/* What a tray holds of one curl in one diameter. */
typedef struct tcr_tray_kind {
    char curl[TCR_LABEL_SIZE];
    double diameter_mm; /* 0.02 to 0.3 */
    uint64_t lengths;   /* bit i: the tray's length i is there; at least one */
} tcr_tray_kind;

/*
 * The available lengths in mm, rising, each 3 to 30. Default: 5 to 20 in steps of 1. A count of 0
 * means no tray: every length from 3 to 30 mm is available. A tray without kinds, as the default
 * is, has each of its lengths in every curl and diameter; with kinds, what they hold and no more,
 * and then each length is in one at least.
 */
typedef struct tcr_tray {
    size_t count;                   /* 0 to TCR_TRAY_MAX */
    double length_mm[TCR_TRAY_MAX]; /* 3 to 30, rising */
    size_t kinds; /* 0 to TCR_TRAY_KINDS_MAX, 0 where count is; no two of one curl and diameter */
    tcr_tray_kind kind[TCR_TRAY_KINDS_MAX];
} tcr_tray;

/* The default layering rule, as given above. */
TCR_API tcr_layering tcr_layering_default(void);
/* The default tray, as given above. */
TCR_API tcr_tray tcr_tray_default(void);
/* Checks a layering rule. TCR_E_RANGE or TCR_E_ARGUMENT (NULL, placement). error may be NULL. */
TCR_API tcr_status tcr_layering_validate(const tcr_layering *layering, tcr_error *error);

/*
 * Checks a tray. TCR_E_RANGE (a length, lengths that do not rise, a diameter) or TCR_E_ARGUMENT
 * (NULL, counts, a label without an end, a kind twice or without a length, a length that no kind
 * has). error may be NULL.
 */
TCR_API tcr_status tcr_tray_validate(const tcr_tray *tray, tcr_error *error);

/*
 * What a tray has of one curl and diameter_mm (any), as a tray without kinds; *out is a copy of a
 * tray that has none itself. TCR_E_TRAY (it has nothing of these; *out is not touched) or
 * TCR_E_ARGUMENT (a pointer is NULL, counts). The tray must be valid; nothing else of it is
 * checked.
 */
TCR_API tcr_status tcr_tray_of(const tcr_tray *tray, const char *curl, double diameter_mm,
                               tcr_tray *out);

/*
 * The tray's length nearest to length_mm (any), of whatever kind; of two equally near, the longer.
 * Without a tray, length_mm itself. The tray must be valid, which is not checked; NaN for NULL and
 * a count out of range.
 */
TCR_API double tcr_tray_nearest(const tcr_tray *tray, double length_mm);

/*
 * Whether the tray has length_mm (any), of whatever kind, to within 1e-9 mm. Without a tray,
 * whether it lies within 3 to 30 mm. The tray must be valid, which is not checked; false for NULL
 * and a count out of range.
 */
TCR_API bool tcr_tray_has(const tcr_tray *tray, double length_mm);

#endif
