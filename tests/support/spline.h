/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_SPLINE_H
#define TCR_TESTS_SUPPORT_SPLINE_H

/*
 * The line's problem as model.md, section 6, writes it, put together without the library: a dense
 * basis by the recursion of Cox and de Boor, a dense second-difference matrix, GSL's solvers.
 */

#include <stdbool.h>
#include <stddef.h>

#include <gsl/gsl_matrix.h>
#include <gsl/gsl_rng.h>

#include <tipcrest/line.h>

enum { TCR_K = TCR_LINE_COEFFICIENTS };

/* Basis function j at x, on uniform knots of which three lie beyond each end. */
double tcr_dense_basis(int j, double x, double x_min, double x_max);

typedef struct tcr_dense {
    size_t n;
    const double *x, *y;
    double lambda;
    gsl_matrix *b; /* n x 12 */
} tcr_dense;

/* The problem of n points; x and y stay the caller's. */
tcr_dense *tcr_dense_new(const double *x, const double *y, size_t n, double lambda);
void tcr_dense_free(tcr_dense *dense);

/*
 * The minimiser of sum weight (Y - Bc)^2 + lambda |Dc|^2 by GSL's linear least squares (singular
 * values) on the system extended by sqrt(lambda) D; weight may be NULL.
 */
void tcr_dense_solve(const tcr_dense *dense, const double *weight, double c[TCR_K]);

/* Y - Bc, into r. */
void tcr_dense_residuals(const tcr_dense *dense, const double c[TCR_K], double *r);

/* Sum of h(Y - Bc) + lambda |Dc|^2 for a limit of h; INFINITY makes h a square. */
double tcr_dense_objective(const tcr_dense *dense, const double c[TCR_K], double limit);

/* Its gradient. */
void tcr_dense_gradient(const tcr_dense *dense, const double c[TCR_K], double limit,
                        double gradient[TCR_K]);

/* 1.4826 times the median of |Y - Bc|, not below the floor. */
double tcr_dense_scale(const tcr_dense *dense, const double c[TCR_K], double floor_mm);

/* n points about a line like that of a set: an arch 30 mm wide, scattered, in no order. */
void tcr_draw_tips(gsl_rng *rng, size_t n, double scatter_mm, double *x, double *y);

#endif
