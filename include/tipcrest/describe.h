/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DESCRIBE_H
#define TCR_DESCRIBE_H

#include <stddef.h>
#include <stdint.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>

/*
 * The described eye (model.md, section 11): lashes drawn from distributions. They are the same on
 * every machine and for every number of threads.
 */
typedef enum tcr_phases {
    TCR_PHASES_A = 0,   /* by growth and rest, cycle 152 days for 7.5 mm */
    TCR_PHASES_B = 1,   /* by growth and rest, cycle 90 days for 7.5 mm (Thibaut 2010) */
    TCR_PHASES_NONE = 2 /* every lash at its final length */
} tcr_phases;

/* Fields of the random numbers (random.h). Their values are part of the contract. */
typedef enum tcr_describe_field {
    TCR_FIELD_U = 0,
    TCR_FIELD_ROW = 1,
    TCR_FIELD_HEIGHT = 2,
    TCR_FIELD_PITCH = 3,
    TCR_FIELD_YAW = 4,
    TCR_FIELD_ROLL = 5,
    TCR_FIELD_FINAL_LENGTH = 6,
    TCR_FIELD_AGE = 7,
    TCR_FIELD_TURN = 8,
    TCR_FIELD_ROOT_DIAMETER = 9,
    TCR_FIELD_STRAY = 10
} tcr_describe_field;
enum { TCR_DESCRIBE_FIELDS = 11 };

/*
 * Means, standard deviations (sd) and limits. tcr_description_default gives the defaults named
 * here. Means have the ranges of tcr_lash unless a comment says otherwise.
 */
typedef struct tcr_description {
    size_t count;        /* lashes, 1 to 100000; default 96, assumed */
    uint64_t seed;       /* any; default 1 */
    double gap_mm;       /* 0 to 3, from layer to layer; default 1, common practice */
    double height_sd_mm; /* 0 to 1; default 0.1, assumed */
    double pitch_rad;    /* mean, -84 to 84 degrees; default -10 degrees, assumed */
    double pitch_sd_rad; /* 0 to 20 degrees; default 4 degrees, assumed */
    double yaw_rad;      /* mean at u = 0, -84 to 84 degrees; default -10 degrees, assumed */
    double yaw_fan_rad;  /* -168 to 168 degrees: added at u = 1, in proportion between; default 20
                            degrees, assumed */
    double yaw_sd_rad;   /* 0 to 20 degrees; default 4 degrees, assumed */
    double roll_rad;     /* mean, -90 to 90 degrees; default 0 */
    double roll_sd_rad;  /* 0 to 20 degrees; default 0 */
    double length_mm;    /* mean final length at u = 1/2, 1 to 20; default 7.5 */
    double length_sd_mm; /* of the final length, 0 to 3; default 1.0 (Glaser 2014
                            has 1.15, 10.1097/DSS.0000000000000170) */
    double length_inner_share; /* mean length at u = 0 over that at u = 1/2, 0.1 to 2; default 0.7,
                                  assumed */
    double length_outer_share; /* the same at u = 1, 0.1 to 2; default 0.9, assumed */
    double turn_rad;         /* mean, full-grown, -60 to 200 degrees; default 60 degrees, assumed */
    double turn_sd_rad;      /* 0 to 40 degrees; default 8 degrees, assumed */
    double root_diameter_mm; /* mean, full-grown, 0.02 to 0.2; default 0.08, assumed */
    double root_diameter_sd_mm; /* 0 to 0.05; default 0.01, assumed */
    double tip_diameter_mm;     /* of every lash, 0 to root_diameter_mm; default 0.015, assumed */
    double stray_share;         /* 0 to 1: share of strays; default 0.02, assumed */
    double stray_rise_mm;       /* 0 to 3: height of strays above the top row; default 1, assumed */
    double baby_below_mm;       /* 0 to 20: shorter lashes are babies; default 5, assumed */
    double weak_below_mm; /* 0 to 0.2: lashes with thinner roots are weak; default 0.055, assumed */
    tcr_phases phases;    /* default A */
} tcr_description;

/* The default description, as given above. */
TCR_API tcr_description tcr_description_default(void);

/*
 * Checks a description. TCR_E_RANGE or TCR_E_ARGUMENT (NULL, phases). error names the number and
 * may be NULL.
 */
TCR_API tcr_status tcr_description_validate(const tcr_description *description, tcr_error *error);

/*
 * Lash number k (0 to count - 1) of the described eye. eye is 0 for left, 1 for right. Numbers
 * outside a lash's ranges (lash.h) are cut to them, so every lash is valid. None is unknown.
 *
 * Turn and root diameter are drawn for the full-grown lash. Those of a shorter lash follow from its
 * length by the growth of the shape (growth.h). The root diameter stays at 0.02 mm or more, which
 * with the defaults thickens hair shorter than 0.6 mm. With TCR_PHASES_NONE the call gives the same
 * lash full-grown.
 *
 * TCR_E_ARGUMENT if lash is NULL, eye is above 1 or k is not below count; else the status of
 * tcr_description_validate. A failed call leaves *lash as it was. Allocates nothing.
 */
TCR_API tcr_status tcr_describe_lash(const tcr_description *description, uint32_t eye, uint32_t k,
                                     tcr_lash *lash);

/*
 * The random numbers of one lash of a described eye, by tcr_describe_field: u, row, age and stray
 * uniform in (0, 1), the others standard normal, cut at three (random.h). They depend on the seed,
 * the eye and the lash alone, so descriptions that differ in nothing else can share them.
 */
typedef struct tcr_lash_draw {
    double number[TCR_DESCRIBE_FIELDS]; /* no unit */
} tcr_lash_draw;

/*
 * Draws the numbers of the lashes first, ..., first + n - 1. eye is 0 for left, 1 for right; draw
 * receives n items. TCR_E_ARGUMENT (NULL, eye, a lash beyond 2^32 - 1). Allocates nothing.
 */
TCR_API tcr_status tcr_describe_draw(uint64_t seed, uint32_t eye, size_t first, size_t n,
                                     tcr_lash_draw *draw);

/*
 * Makes the lashes first, ..., first + n - 1 of a described eye from their numbers, as
 * tcr_describe_lash does to the last bit; the description's seed is not read. lash receives n
 * items. A number that is not finite, or a uniform one not inside 0 to 1, is TCR_E_RANGE.
 * TCR_E_ARGUMENT (NULL, a lash that is not below count), or the status of tcr_description_validate.
 * A failed call leaves lash as it was. Allocates nothing.
 */
TCR_API tcr_status tcr_describe_lashes(const tcr_description *description, size_t first, size_t n,
                                       const tcr_lash_draw *draw, tcr_lash *lash);

#endif
