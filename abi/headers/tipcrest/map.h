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
enum {
    TCR_FIX_LENGTH = 1 << 0,
    TCR_FIX_CURL = 1 << 1,
    TCR_FIX_DIAMETER = 1 << 2,
    TCR_FIX_FAN = 1 << 3,
    TCR_FIX_SPREAD = 1 << 4,
    TCR_FIX_PLACEMENT = 1 << 5,
    TCR_FIX_BARE = 1 << 6,
    TCR_FIX_FROM_SKIN = 1 << 7,
    TCR_FIX_ALL = (1 << 8) - 1
};
typedef struct tcr_wish {
    unsigned fixed;
    double length_mm;
    char curl[TCR_LABEL_SIZE];
    double diameter_mm;
    int fan;
    double spread_rad;
    tcr_placement placement;
    double from_skin_mm;
} tcr_wish;
typedef struct tcr_zone {
    double to;
    double length_mm;
    char curl[TCR_LABEL_SIZE];
    tcr_wish layer[TCR_LAYERS];
} tcr_zone;
enum { TCR_ZONES_MAX = 64, TCR_TRAY_MAX = 64, TCR_TRAY_KINDS_MAX = 64 };
typedef struct tcr_layering {
    double step_mm;
    double diameter_mm;
    int fan;
    double spread_rad;
    tcr_placement placement[TCR_LAYERS];
    bool blend;
} tcr_layering;
#define TCR_USUAL_PLACEMENT \
    { TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE }
typedef struct tcr_tray_kind {
    char curl[TCR_LABEL_SIZE];
    double diameter_mm;
    uint64_t lengths;
} tcr_tray_kind;
typedef struct tcr_tray {
    size_t count;
    double length_mm[TCR_TRAY_MAX];
    size_t kinds;
    tcr_tray_kind kind[TCR_TRAY_KINDS_MAX];
} tcr_tray;
TCR_API tcr_layering tcr_layering_default(void);
TCR_API tcr_tray tcr_tray_default(void);
TCR_API tcr_status tcr_layering_validate(const tcr_layering *layering, tcr_error *error);
TCR_API tcr_status tcr_tray_validate(const tcr_tray *tray, tcr_error *error);
TCR_API tcr_status tcr_tray_of(const tcr_tray *tray, const char *curl, double diameter_mm,
                               tcr_tray *out);
TCR_API double tcr_tray_nearest(const tcr_tray *tray, double length_mm);
TCR_API bool tcr_tray_has(const tcr_tray *tray, double length_mm);
#endif
