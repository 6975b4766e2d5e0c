/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LIMITS_H
#define TCR_LIMITS_H 
#include <stddef.h>
#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/load.h>
#include <tipcrest/set.h>
typedef struct tcr_limits {
    double baby_below_mm;
    double thin_below_mm;
    double stray_above_mm;
    double out_of_fan_rad;
    double overlength_mm;
    double mass_ratio;
    double moment_ratio;
} tcr_limits;
TCR_API tcr_limits tcr_limits_default(void);
enum {
    TCR_BEYOND_LENGTH = 1 << 0,
    TCR_BEYOND_MASS = 1 << 1,
    TCR_BEYOND_MOMENT = 1 << 2,
    TCR_BEYOND_BOND = 1 << 3
};
TCR_API unsigned tcr_limits_beyond(const tcr_limits *limits, const tcr_set *set,
                                   const tcr_lash *lash, const tcr_stance *stance,
                                   const tcr_choice *choice);
typedef struct tcr_loaded_lash {
    tcr_side side;
    size_t lash;
    tcr_load load;
    double share;
} tcr_loaded_lash;
TCR_API size_t tcr_limits_nearest(const tcr_limits *limits, const tcr_check *check, unsigned sides,
                                  tcr_loaded_lash *nearest, size_t most);
#endif
