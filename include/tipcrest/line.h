/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_H
#define TCR_LINE_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>

/*
 * The top line: a penalised cubic B-spline (P-spline; Eilers & Marx 1996, Statistical Science
 * 11:89) through the tips as seen, made robust by Huber's weights (model.md, section 6), and the
 * deviations of the tips from it. TCR_TOO_FEW: with fewer tips than this, evenness cannot be
 * judged.
 */
enum { TCR_LINE_COEFFICIENTS = 12, TCR_LINE_SAMPLES = 201, TCR_TOO_FEW = 12 };

/* A line Y(X). Beyond its ends it continues straight, with the slope of the end. */
typedef struct tcr_line {
    double x_min_mm, x_max_mm;
    double coefficient_mm[TCR_LINE_COEFFICIENTS];
    double sigma_mm; /* scale of the robust fit; 0 for a plain fit */
} tcr_line;

typedef struct tcr_line_options {
    size_t size;    /* of this struct; set by tcr_line_options_default */
    bool robust;    /* true: Huber's weights; false: plain least squares; default true */
    double penalty; /* no unit, 1e-12 to 1e12: lambda = penalty x n; default 1e-4, assumed: about
                       ten degrees of freedom */
    double huber;   /* no unit, 1e-3 to 1e3: limit in sigmas; default 1.345 (95 % efficiency) */
    double
        sigma_floor_mm; /* 1e-6 to 1e3: least sigma; default 0.1, assumed: less than an eye sees */
} tcr_line_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_line_options_init(tcr_line_options *options, size_t size);
static inline tcr_line_options tcr_line_options_default(void) {
    tcr_line_options options;
    tcr_line_options_init(&options, sizeof options);
    return options;
}

/*
 * Fits the line to n points x_mm, y_mm (-1e6 to 1e6) in any order. options may be NULL for the
 * defaults. scratch holds n doubles of the caller's. TCR_E_FEW (n < 3), TCR_E_ONE_X (all points
 * within 1e-9 mm of one X), TCR_E_RANGE (an option, or a coordinate not finite or beyond 1e6 mm),
 * TCR_E_NO_CONVERGENCE, TCR_E_ARGUMENT. Allocates nothing; thread-safe. Cost: a few passes over the
 * points; a robust line of more than 160 points some six times as much a point, since its quick way
 * keeps the basis of all points on the stack, 10 kB of it.
 *
 * Accuracy: within 1e-10 mm of the minimiser at every point, for a penalty from 1e-8 to 1e4, a
 * huber from 0.1 to 1000, a sigma_floor_mm of 1e-3 or more and Y within 1000 mm. There it
 * converges. Beyond, where doubles may not tell the minimiser, TCR_E_NO_CONVERGENCE is possible.
 */
TCR_API tcr_status tcr_line_fit(const double *x_mm, const double *y_mm, size_t n,
                                const tcr_line_options *options, double *scratch, tcr_line *line);

/* Y of the line in mm at x_mm (any). The line is not checked; NaN for NULL. */
TCR_API double tcr_line_at(const tcr_line *line, double x_mm);
/* dY/dX of the line at x_mm (any). The line is not checked; NaN for NULL. */
TCR_API double tcr_line_slope(const tcr_line *line, double x_mm);

/* Statistics of n deviations, mm. */
typedef struct tcr_residuals {
    double rms_mm; /* root mean square, divided by n */
    double mean_abs_mm;
    double p95_abs_mm; /* 95th percentile: quantile of type 7 (Hyndman & Fan
                          1996, 10.1080/00031305.1996.10473566) */
    double max_abs_mm;
} tcr_residuals;

/* The deviations of n tips from a line, in figures. */
typedef struct tcr_evenness {
    size_t lashes;         /* the number of tips, n */
    tcr_residuals upright; /* Y - line(X) */
    tcr_residuals across;  /* at right angles to the line: upright times cos(atan(slope)) */
    double tolerance_mm;
    double within_tolerance; /* share of tips, 0 to 1, with |Y - line(X)| at most the tolerance */
    double layer_offset_mm[TCR_LAYERS]; /* mean deviation of each layer; NaN for an empty one */
} tcr_evenness;

/*
 * Computes the deviations of n points from a line, and their statistics. n is above 0; x_mm, y_mm
 * (finite) and tolerance_mm (0 or more) are not checked. layer gives each point's layer.
 * deviation_mm and across_mm receive n numbers each. scratch holds n doubles of the caller's.
 * TCR_E_ARGUMENT (NULL, n is 0, a layer that does not exist). Allocates nothing; thread-safe.
 */
TCR_API tcr_status tcr_line_evenness(const tcr_line *line, const double *x_mm, const double *y_mm,
                                     const tcr_layer *layer, size_t n, double tolerance_mm,
                                     double *deviation_mm, double *across_mm, double *scratch,
                                     tcr_evenness *evenness);

/*
 * The largest step in X, mm, between neighbours in order of x_mm (finite, not checked); NaN for
 * fewer than two points and for NULL. scratch holds n doubles of the caller's. Allocates nothing.
 */
TCR_API double tcr_line_largest_gap(const double *x_mm, size_t n, double *scratch);

/* Right line minus left line at 201 points of their common range of X. */
typedef struct tcr_symmetry {
    double rms_mm, max_mm;             /* as they are */
    double level_rms_mm, level_max_mm; /* without the mean difference in height */
} tcr_symmetry;

/*
 * Compares the lines of two eyes. TCR_E_COMMON if they have no common range of X, or only a point;
 * TCR_E_ARGUMENT. Allocates nothing; thread-safe.
 */
TCR_API tcr_status tcr_line_symmetry(const tcr_line *left, const tcr_line *right,
                                     tcr_symmetry *symmetry);

#endif
