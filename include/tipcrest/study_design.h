/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_DESIGN_H
#define TCR_STUDY_DESIGN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>

/*
 * Designs: which points of the unit cube are tried. A design knows nothing of eyes. A point is a
 * number u from 0 to below 1 for each factor; tcr_factor_value makes it a value of the factor. Any
 * point can be computed by itself, by its index, in any thread, and is the same on every machine.
 * The calls keep no state and allocate nothing.
 */
typedef enum tcr_design_kind {
    TCR_DESIGN_GRID = 0,   /* every combination of the levels of the factors */
    TCR_DESIGN_RANDOM = 1, /* independent, uniform */
    TCR_DESIGN_SOBOL = 2,  /* Sobol points: they fill the cube evenly */
    /* For tcr_sobol_indices: Sobol points in scramblings, each base point followed by its mixed
     * points (Saltelli et al. 2010, 10.1016/j.cpc.2009.09.018). */
    TCR_DESIGN_SENSITIVITY = 3
} tcr_design_kind;
enum { TCR_DESIGNS = 4 };
/* "grid", "random", "sobol" or "sensitivity"; "unknown" for any other value. Static storage. */
TCR_API const char *tcr_design_text(tcr_design_kind kind);

enum {
    TCR_FACTORS_MAX = 64,
    TCR_LEVELS_MAX = 1000000,
    TCR_SCRAMBLINGS_MIN = 16,
    TCR_SCRAMBLINGS_MAX = 256,
    TCR_SOBOL_DIMENSIONS = 2 * TCR_FACTORS_MAX /* two for each factor of a sensitivity design */
};
/* Most points of a design. */
#define TCR_DESIGN_POINTS_MAX UINT64_C(10000000000)

typedef struct tcr_design {
    tcr_design_kind kind;
    size_t factors;       /* 1 to TCR_FACTORS_MAX */
    const size_t *levels; /* of each factor, 1 to TCR_LEVELS_MAX; read for a grid only */
    uint64_t points;      /* at least 1; of a sensitivity design the base points of one scrambling,
                             at least 2, best a power of 2; not read for a grid */
    size_t scramblings;   /* of a sensitivity design, TCR_SCRAMBLINGS_MIN to TCR_SCRAMBLINGS_MAX */
    bool shifted;         /* Sobol points get a digital shift, too; otherwise point 0 is all 0 */
    uint64_t seed;        /* of random points and of shifts */
} tcr_design;

/*
 * The number of points: the product of the levels; 'points'; of a sensitivity design scramblings x
 * points x (factors + 2). TCR_E_RANGE (a member, or more than TCR_DESIGN_POINTS_MAX points; error
 * says how many), TCR_E_ARGUMENT (NULL, kind). error may be NULL.
 */
TCR_API tcr_status tcr_design_count(const tcr_design *design, uint64_t *count, tcr_error *error);

/*
 * The points first, ..., first + n - 1. u receives n x factors numbers, a point's behind each
 * other.
 *
 *   - grid: the last factor changes fastest; level i of n has u = (i + 1/2)/n.
 *   - random: tcr_random_uniform with lash = low and eye = high word of the index, field = factor,
 *     use 5.
 *   - sobol: tcr_sobol_points with dimensions 0, 1, ...
 *   - sensitivity: index = (scrambling x points + base point) x (factors + 2) + m. With m = 0 all
 *     factors are those of matrix A, with m = 1 those of B, with m = 2 + j those of A but factor j
 * of B. A has dimensions 0 to factors - 1 of the Sobol points, B the next ones; scrambling s is
 *     digital shift s.
 *
 * Statuses of tcr_design_count; TCR_E_RANGE also if there is no such point.
 */
TCR_API tcr_status tcr_design_points(const tcr_design *design, uint64_t first, size_t n, double *u);

/* ---- Sobol points ---------------------------------------------------------------------------- */

/*
 * A digital shift: 53 random bits for each dimension, added to the bits of a point without carry
 * (exclusive or). They are words 0 and 1 of tcr_philox, as a 64-bit number shifted right by 11, for
 * the counter (dimension, scrambling, 0, 4) and the seed's low and high word as key.
 */
typedef struct tcr_sobol_shift {
    uint64_t seed;
    uint32_t scrambling;
} tcr_sobol_shift;

/*
 * Sobol points by index, with 53 bits: points first, ..., first + n - 1 in the order of the Gray
 * code (Antonov & Saleev 1979, 10.1016/0041-5553(79)90085-5), point 0 included, dimensions 'from'
 * to from
 * + dimensions - 1. u receives n x dimensions numbers from 0 to below 1, a point's behind each
 * other. shift may be NULL: none. Index below 2^53, dimensions below TCR_SOBOL_DIMENSIONS, or
 * TCR_E_RANGE; TCR_E_ARGUMENT.
 *
 * The direction numbers are the project's own, found by build-aux/sobol-table.py.
 */
TCR_API tcr_status tcr_sobol_points(uint64_t first, size_t n, size_t from, size_t dimensions,
                                    const tcr_sobol_shift *shift, double *u);

/* ---- Factors --------------------------------------------------------------------------------- */

/* How the values of a factor are distributed. */
typedef enum tcr_distribution {
    TCR_LEVELS = 0,  /* a list of values, equally likely */
    TCR_UNIFORM = 1, /* from least to most */
    TCR_NORMAL =
        2, /* with mean and sd, cut at three sd as all normals are (model.md, section 11) */
    TCR_TRIANGULAR = 3 /* from least by mode to most */
} tcr_distribution;
enum { TCR_DISTRIBUTIONS = 4 };
/* "levels", "uniform", "normal" or "triangular"; "unknown" for any other value. Static storage. */
TCR_API const char *tcr_distribution_text(tcr_distribution distribution);

/*
 * A factor: what varies, and how. Numbers are in the unit of the key, and in its range in the set
 * file. All are finite and at most 1e100 in size.
 */
typedef struct tcr_factor {
    const char *key; /* study_key.h; not read by the calls of this header */
    tcr_distribution distribution;
    const double *level; /* of levels: their values */
    size_t levels;       /* 1 to TCR_LEVELS_MAX; 0 with another distribution */
    double least, most;  /* of uniform and triangular: least below most */
    double mode;         /* of triangular, least to most */
    double mean, sd;     /* of normal: sd above 0 */
} tcr_factor;

/*
 * Checks the numbers of a factor. TCR_E_RANGE, TCR_E_ARGUMENT (NULL, distribution). error names the
 * number and may be NULL.
 */
TCR_API tcr_status tcr_factor_validate(const tcr_factor *factor, tcr_error *error);

/*
 * The value below which a part u (share, 0 to below 1) of the factor's values lies: their quantile;
 * of levels the one at index floor(u x levels). Accuracy: 1e-14 of the sd or the range. The factor
 * is not checked; NaN for NULL and for u out of range.
 */
TCR_API double tcr_factor_value(const tcr_factor *factor, double u);

/*
 * The levels of a range with from, to and step (unit of the factor, finite): from, from + step, ...
 * up to 'to', which belongs to it if it is met to within 1e-9 of the step. step may be negative.
 * Values are rounded to the decimals of from and step, so that 0:1:0.1 has 0.3 and not
 * 0.30000000000000004. level receives 'room' values at most; it may be NULL with a room of 0.
 * Returns how many there are; 0 if a number is not finite, step is 0 or points the wrong way, or
 * there would be more than TCR_LEVELS_MAX.
 */
TCR_API size_t tcr_factor_range(double from, double to, double step, double *level, size_t room);

#endif
