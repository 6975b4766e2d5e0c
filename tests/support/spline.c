/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line's problem, dense and by GSL. */
#include "support/spline.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_multifit.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "support/check.h"
#include "support/make.h"

/* B-spline j of a degree on uniform knots, x in units of their spacing from the first end. */
static double recursion(int j, int degree, double x) {
    const double knot = j - 3.0;
    if (degree == 0)
        return x >= knot && x < knot + 1.0 ? 1.0 : 0.0;
    return (x - knot) / degree * recursion(j, degree - 1, x) +
           (knot + degree + 1.0 - x) / degree * recursion(j + 1, degree - 1, x);
}

double tcr_dense_basis(int j, double x, double x_min, double x_max) {
    return recursion(j, 3, (x - x_min) / ((x_max - x_min) / (TCR_K - 3)));
}

tcr_dense *tcr_dense_new(const double *x, const double *y, size_t n, double lambda) {
    tcr_dense *dense = malloc(sizeof *dense);
    ck_assert_ptr_nonnull(dense);
    *dense = (tcr_dense){n, x, y, lambda, gsl_matrix_alloc(n, TCR_K)};
    const double x_min = gsl_stats_min(x, 1, n), x_max = gsl_stats_max(x, 1, n);
    for (size_t i = 0; i < n; i++)
        for (int j = 0; j < TCR_K; j++)
            gsl_matrix_set(dense->b, i, (size_t)j, tcr_dense_basis(j, x[i], x_min, x_max));
    return dense;
}

void tcr_dense_free(tcr_dense *dense) {
    gsl_matrix_free(dense->b);
    free(dense);
}

void tcr_dense_solve(const tcr_dense *dense, const double *weight, double c[TCR_K]) {
    const size_t n = dense->n, rows = n + TCR_K - 2;
    gsl_matrix *a = gsl_matrix_calloc(rows, TCR_K), *covariance = gsl_matrix_alloc(TCR_K, TCR_K);
    gsl_vector *right = gsl_vector_calloc(rows), *solution = gsl_vector_alloc(TCR_K);
    gsl_multifit_linear_workspace *space = gsl_multifit_linear_alloc(rows, TCR_K);
    for (size_t i = 0; i < n; i++) {
        const double root = weight != NULL ? sqrt(weight[i]) : 1.0;
        for (size_t j = 0; j < TCR_K; j++)
            gsl_matrix_set(a, i, j, root * gsl_matrix_get(dense->b, i, j));
        gsl_vector_set(right, i, root * dense->y[i]);
    }
    for (size_t i = 0; i + 2 < TCR_K; i++) {
        gsl_matrix_set(a, n + i, i, sqrt(dense->lambda));
        gsl_matrix_set(a, n + i, i + 1, -2.0 * sqrt(dense->lambda));
        gsl_matrix_set(a, n + i, i + 2, sqrt(dense->lambda));
    }
    double squares;
    ck_assert_int_eq(gsl_multifit_linear(a, right, solution, covariance, &squares, space), 0);
    for (size_t j = 0; j < TCR_K; j++)
        c[j] = gsl_vector_get(solution, j);
    gsl_multifit_linear_free(space);
    gsl_vector_free(solution);
    gsl_vector_free(right);
    gsl_matrix_free(covariance);
    gsl_matrix_free(a);
}

void tcr_dense_residuals(const tcr_dense *dense, const double c[TCR_K], double *r) {
    for (size_t i = 0; i < dense->n; i++) {
        r[i] = dense->y[i];
        for (size_t j = 0; j < TCR_K; j++)
            r[i] -= gsl_matrix_get(dense->b, i, j) * c[j];
    }
}

static double second_difference(const double *c, size_t i) {
    return c[i] - 2 * c[i + 1] + c[i + 2];
}

double tcr_dense_objective(const tcr_dense *dense, const double c[TCR_K], double limit) {
    double *r = malloc(dense->n * sizeof *r), sum = 0.0;
    tcr_dense_residuals(dense, c, r);
    for (size_t i = 0; i < dense->n; i++) {
        const double size = fabs(r[i]);
        sum += size <= limit ? size * size : 2.0 * limit * size - limit * limit;
    }
    for (size_t i = 0; i + 2 < TCR_K; i++)
        sum += dense->lambda * second_difference(c, i) * second_difference(c, i);
    free(r);
    return sum;
}

void tcr_dense_gradient(const tcr_dense *dense, const double c[TCR_K], double limit,
                        double gradient[TCR_K]) {
    double *r = malloc(dense->n * sizeof *r);
    tcr_dense_residuals(dense, c, r);
    for (size_t j = 0; j < TCR_K; j++) {
        gradient[j] = 0.0;
        for (size_t i = 0; i < dense->n; i++)
            gradient[j] -= 2.0 * gsl_matrix_get(dense->b, i, j) * fmin(fmax(r[i], -limit), limit);
    }
    for (size_t i = 0; i + 2 < TCR_K; i++) {
        const double d = 2.0 * dense->lambda * second_difference(c, i);
        gradient[i] += d;
        gradient[i + 1] -= 2.0 * d;
        gradient[i + 2] += d;
    }
    free(r);
}

double tcr_dense_scale(const tcr_dense *dense, const double c[TCR_K], double floor_mm) {
    double *r = malloc(dense->n * sizeof *r);
    tcr_dense_residuals(dense, c, r);
    for (size_t i = 0; i < dense->n; i++)
        r[i] = fabs(r[i]);
    gsl_sort(r, 1, dense->n);
    const double median = gsl_stats_median_from_sorted_data(r, 1, dense->n);
    free(r);
    return fmax(1.4826 * median, floor_mm);
}

void tcr_draw_tips(gsl_rng *rng, size_t n, double scatter_mm, double *x, double *y) {
    for (size_t i = 0; i < n; i++) {
        x[i] = tcr_draw_between(rng, -15.0, 15.0);
        y[i] = 8.0 - 0.02 * x[i] * x[i] + 0.1 * x[i] + gsl_ran_gaussian(rng, scatter_mm);
    }
}
