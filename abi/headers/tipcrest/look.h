/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LOOK_H
#define TCR_LOOK_H 
#include <stddef.h>
#include <tipcrest/export.h>
#include <tipcrest/map.h>
#include <tipcrest/status.h>
enum { TCR_LOOK_ZONES_MAX = 16 };
typedef struct tcr_look {
    const char *name;
    const char *other_name;
    const char *about;
    size_t zones;
    double share[TCR_LOOK_ZONES_MAX];
} tcr_look;
TCR_API const tcr_look *tcr_look_catalogue(size_t *count);
TCR_API const tcr_look *tcr_look_find(const char *name);
TCR_API tcr_status tcr_look_lengths(const tcr_look *look, double longest_mm, const tcr_tray *tray,
                                    double *length_mm);
TCR_API double tcr_look_zone_end(size_t zone, size_t zones);
#endif
