/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cost of a line (tcr_line_fit) against GSL's gsl_multifit_linear on the same least-squares
 * problem: the B-spline matrix with the penalty as ten more rows. GSL's matrix is filled before the
 * clock starts, which is in GSL's favour; GSL goes by singular values and would serve any matrix,
 * while ours has a band. The robust line, many such problems in a row, stands beside them.
 */
#include "bench.h"

#include <gsl/gsl_multifit.h>

#include <tipcrest/tipcrest.h>

enum { K = TCR_LINE_COEFFICIENTS, PENALTIES = K - 2 };

typedef struct problem {
    size_t n;
    double *x, *y, *scratch;
    tcr_line_options options;
    tcr_line line;
    gsl_matrix *matrix;
    gsl_vector *right, *coefficients;
    gsl_matrix *covariance;
    gsl_multifit_linear_workspace *work;
} problem;

static void *or_end(void *made) {
    tcr_bench_must(made != NULL, "getting memory");
    return made;
}

/* The cubic cardinal B-spline by its closed form, at a distance from its middle in knot spacings.
 */
static double cardinal(double distance) {
    const double r = fabs(distance);
    if (r >= 2.0)
        return 0.0;
    return r < 1.0 ? 2.0 / 3.0 - r * r + r * r * r / 2.0 : (2.0 - r) * (2.0 - r) * (2.0 - r) / 6.0;
}

/* Tips over 24 mm of a lid's line, moved up or down by up to half a millimetre; some stand out. */
static void make_points(problem *p, size_t n) {
    p->n = n;
    p->x = or_end(malloc(n * sizeof *p->x));
    p->y = or_end(malloc(n * sizeof *p->y));
    p->scratch = or_end(malloc(n * sizeof *p->scratch));
    for (size_t i = 0; i < n; i++) {
        const tcr_random draw = {.seed = 5, .lash = (uint32_t)i};
        p->x[i] = -12.0 + 24.0 * ((double)i + 0.5) / (double)n;
        p->y[i] = 14.0 - 0.03 * p->x[i] * p->x[i] + tcr_random_uniform(&draw) - 0.5;
        if (i % 20 == 7)
            p->y[i] += 1.5;
    }
    p->options = tcr_line_options_default();
    p->options.robust = false;
}

/* Rows of B, then rows of sqrt(lambda) D; lambda = penalty x n. */
static void make_matrix(problem *p) {
    const size_t rows = p->n + PENALTIES;
    p->matrix = or_end(gsl_matrix_calloc(rows, K));
    p->right = or_end(gsl_vector_calloc(rows));
    p->coefficients = or_end(gsl_vector_alloc(K));
    p->covariance = or_end(gsl_matrix_alloc(K, K));
    p->work = or_end(gsl_multifit_linear_alloc(rows, K));
    const double low = p->x[0], high = p->x[p->n - 1];
    for (size_t i = 0; i < p->n; i++) {
        const double place = (p->x[i] - low) / (high - low) * (K - 3);
        for (size_t j = 0; j < K; j++)
            gsl_matrix_set(p->matrix, i, j, cardinal(place - ((double)j - 1.0)));
        gsl_vector_set(p->right, i, p->y[i]);
    }
    const double weight = sqrt(p->options.penalty * (double)p->n);
    for (size_t i = 0; i < PENALTIES; i++) {
        gsl_matrix_set(p->matrix, p->n + i, i, weight);
        gsl_matrix_set(p->matrix, p->n + i, i + 1, -2.0 * weight);
        gsl_matrix_set(p->matrix, p->n + i, i + 2, weight);
    }
}

static void free_problem(problem *p) {
    free(p->x);
    free(p->y);
    free(p->scratch);
    gsl_matrix_free(p->matrix);
    gsl_vector_free(p->right);
    gsl_vector_free(p->coefficients);
    gsl_matrix_free(p->covariance);
    gsl_multifit_linear_free(p->work);
}

static void ours(void *context) {
    problem *p = context;
    tcr_bench_must(tcr_line_fit(p->x, p->y, p->n, &p->options, p->scratch, &p->line) == TCR_OK,
                   "tcr_line_fit");
}

static void by_gsl(void *context) {
    problem *p = context;
    double squares;
    tcr_bench_must(gsl_multifit_linear(p->matrix, p->right, p->coefficients, p->covariance,
                                       &squares, p->work) == 0,
                   "gsl_multifit_linear");
}

/* Both solve one problem. The line promises 1e-10 mm; GSL's rounding adds about as much. */
static void check_results(problem *p) {
    ours(p);
    by_gsl(p);
    for (size_t j = 0; j < K; j++)
        tcr_bench_expect("coefficient", p->line.coefficient_mm[j],
                         gsl_vector_get(p->coefficients, j), 1e-9);
}

/*
 * The robust line is the one at which reweighting rests: with each tip weighing limit/|r| beyond
 * Huber's limit, GSL's weighted fit must give the line's own coefficients back.
 */
static void check_robust_result(problem *p) {
    ours(p);
    const double limit = p->options.huber * p->line.sigma_mm;
    gsl_vector *weights = or_end(gsl_vector_alloc(p->n + PENALTIES));
    gsl_vector_set_all(weights, 1.0);
    for (size_t i = 0; i < p->n; i++) {
        const double r = fabs(p->y[i] - tcr_line_at(&p->line, p->x[i]));
        gsl_vector_set(weights, i, r > limit ? limit / r : 1.0);
    }
    double squares;
    tcr_bench_must(gsl_multifit_wlinear(p->matrix, weights, p->right, p->coefficients,
                                        p->covariance, &squares, p->work) == 0,
                   "gsl_multifit_wlinear");
    gsl_vector_free(weights);
    for (size_t j = 0; j < K; j++)
        tcr_bench_expect("robust coefficient", p->line.coefficient_mm[j],
                         gsl_vector_get(p->coefficients, j), 1e-9);
}

static void bench_points(const tcr_bench *bench, size_t n) {
    problem p;
    make_points(&p, n);
    make_matrix(&p);
    check_results(&p);
    const tcr_bench_time limit = tcr_bench_run(by_gsl, &p);
    tcr_bench_row(bench, "gsl_multifit_linear", n, limit, NULL);
    tcr_bench_row(bench, "tcr_line_fit not robust", n, tcr_bench_run(ours, &p), &limit);
    p.options.robust = true;
    check_robust_result(&p);
    tcr_bench_row(bench, "tcr_line_fit robust", n, tcr_bench_run(ours, &p), &limit);
    free_problem(&p);
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    bench_points(&bench, 96);
    bench_points(&bench, 1000);
    return tcr_bench_close(&bench);
}
