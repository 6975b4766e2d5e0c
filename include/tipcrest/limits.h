/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LIMITS_H
#define TCR_LIMITS_H

#include <stddef.h>

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/load.h>
#include <tipcrest/set.h>

/*
 * Limits for the extension of a lash. None has a validated value. They are common practice or
 * assumptions and must be shown as such. A check counts the lashes beyond them, a plan respects
 * them, and a set file can change them.
 */
typedef struct tcr_limits {
    double baby_below_mm;  /* 0 to 20: shorter lashes stay bare; default 5, assumed */
    double thin_below_mm;  /* 0 to 0.2: lashes with thinner roots too; default 0.055, assumed */
    double stray_above_mm; /* -2 to 8: lashes with higher roots are strays; default 3, assumed */
    double out_of_fan_rad; /* 0 to 90 degrees: largest difference of yaw or pitch from the default
                              of the lash's place; default 25 degrees, assumed */
    double overlength_mm;  /* 0 to 30: an extension may exceed its lash by this length; default 5,
                              assumed */
    double mass_ratio;   /* 0.1 to 1e6: largest mass of the extension over that of the lash; default
                            10, assumed */
    double moment_ratio; /* 0.1 to 1e6: largest root moment of lash and extension over that of the
                            lash alone, client sitting; default 20, assumed */
} tcr_limits;

/* The default limits, as given above. */
TCR_API tcr_limits tcr_limits_default(void);

enum {
    TCR_BEYOND_LENGTH = 1 << 0, /* exceeds its lash by more than overlength_mm */
    TCR_BEYOND_MASS = 1 << 1,
    TCR_BEYOND_MOMENT = 1 << 2,
    TCR_BEYOND_BOND = 1 << 3 /* too short for the bond; no other bit is then set */
};

/*
 * The limits that an extension on a lash of the set exceeds: bits TCR_BEYOND_.... stance is the
 * lash's stance. A mass_ratio or moment_ratio of INFINITY is no limit. Returns 0 if no limit is
 * exceeded, or if an argument is NULL or not valid. Closed form; allocates nothing.
 */
TCR_API unsigned tcr_limits_beyond(const tcr_limits *limits, const tcr_set *set,
                                   const tcr_lash *lash, const tcr_stance *stance,
                                   const tcr_choice *choice);

/* A lash with its load. */
typedef struct tcr_loaded_lash {
    tcr_side side;
    size_t lash; /* index in the order of the set */
    tcr_load load;
    double share; /* of the nearer limit, mass_ratio or moment_ratio; above 1: beyond it */
} tcr_loaded_lash;

/*
 * Finds the lashes of a check that are nearest to the limits of mass and moment. nearest receives
 * at most 'most' of them, nearest first. sides has bits 1 << TCR_LEFT and 1 << TCR_RIGHT. A limit
 * of INFINITY does not count. Returns the number of lashes written: 0 if an argument is NULL or no
 * lash carries an extension. Allocates nothing. Cost: masses and moments of each lash, without
 * droops (load.h).
 */
TCR_API size_t tcr_limits_nearest(const tcr_limits *limits, const tcr_check *check, unsigned sides,
                                  tcr_loaded_lash *nearest, size_t most);

#endif
