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
 * Limits of what a lash may be given. None has a validated value: they are common practice or
 * assumptions, to be shown as such. A check counts the lashes beyond them, a plan keeps to them, a
 * set file can change them.
 */
typedef struct tcr_limits {
    double baby_below_mm;  /* 0 to 20: shorter lashes stay bare; default 5, assumed */
    double thin_below_mm;  /* 0 to 0.2: so do lashes with thinner roots; default 0.055, assumed */
    double stray_above_mm; /* -2 to 8: roots higher than this are strays; default 3, assumed */
    double out_of_fan_rad; /* 0 to 90 degrees: how far yaw or pitch may lie off those of a lash of
                              this place by default; default 25 degrees, assumed */
    double overlength_mm;  /* 0 to 30: how much longer than its lash an extension may be; default 5,
                              assumed */
    double mass_ratio;     /* 0.1 to 1e6: of extension and lash; default 10, assumed */
    double moment_ratio; /* 0.1 to 1e6: root moment of both, and of the lash alone, client sitting;
                            default 20, assumed */
} tcr_limits;

TCR_API tcr_limits tcr_limits_default(void);

enum {
    TCR_BEYOND_LENGTH = 1 << 0, /* longer than its lash by more than overlength_mm */
    TCR_BEYOND_MASS = 1 << 1,
    TCR_BEYOND_MOMENT = 1 << 2,
    TCR_BEYOND_BOND = 1 << 3 /* too short for the bond; then no other bit is set */
};

/*
 * The limits that an extension on a lash of the set, at its stance, would pass: bits TCR_BEYOND_.
 * 0: none, or an argument is NULL or not valid. Closed form.
 */
TCR_API unsigned tcr_limits_beyond(const tcr_limits *limits, const tcr_set *set,
                                   const tcr_lash *lash, const tcr_stance *stance,
                                   const tcr_choice *choice);

/* A lash with its load. */
typedef struct tcr_loaded_lash {
    tcr_side side;
    size_t lash; /* in the order of the set */
    tcr_load load;
    double share; /* of the limit that is nearer, mass_ratio or moment_ratio; above 1: beyond it */
} tcr_loaded_lash;

/*
 * The lashes of a check that come nearest to the limits of mass and moment, nearest first, at most
 * 'most' of them into nearest; how many these are. A limit of INFINITY takes no part. sides: bits 1
 * << TCR_LEFT, 1 << TCR_RIGHT. 0 where an argument is NULL or no lash carries an extension. Cost:
 * masses and moments of each lash, not its droops (load.h).
 */
TCR_API size_t tcr_limits_nearest(const tcr_limits *limits, const tcr_check *check, unsigned sides,
                                  tcr_loaded_lash *nearest, size_t most);

#endif
