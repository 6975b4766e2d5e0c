/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_STATISTICS_H
#define TCR_TESTS_SUPPORT_STATISTICS_H

/* Whether a sample follows a distribution. Seeds are fixed, so a test that passed once always does.
 */

#include <stddef.h>

typedef double (*tcr_cumulative)(double x);

/* Of the uniform distribution on [0, 1], and of the standard normal cut at three. */
double tcr_cumulative_uniform(double x);
double tcr_cumulative_cut_normal(double x);

/*
 * Sorts the sample and returns Kolmogorov's statistic sqrt(n) sup |F_n - F|. For a sample of F it
 * is above 1.9495 once in a thousand (alpha = 0.001): 2 exp(-2 k^2) = alpha, the leading term of
 * Kolmogorov's distribution, the next being below 1e-12.
 */
double tcr_kolmogorov(double *sample, size_t n, tcr_cumulative cumulative);
#define TCR_KOLMOGOROV_LIMIT 1.9495

/* Pearson's correlation of two columns of standardised errors. */
double tcr_correlation(const double *a, const double *b, size_t n);

#endif
