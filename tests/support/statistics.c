/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Goodness of fit for the tests, on GSL's distributions and sorting. */
#include "support/statistics.h"

#include <math.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

double tcr_cumulative_uniform(double x) { return gsl_cdf_flat_P(x, 0.0, 1.0); }

double tcr_cumulative_cut_normal(double x) {
    const double low = gsl_cdf_ugaussian_P(-3.0), high = gsl_cdf_ugaussian_P(3.0);
    const double share = (gsl_cdf_ugaussian_P(x) - low) / (high - low);
    return fmin(fmax(share, 0.0), 1.0);
}

double tcr_kolmogorov(double *sample, size_t n, tcr_cumulative cumulative) {
    gsl_sort(sample, 1, n);
    double most = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double f = cumulative(sample[i]);
        most = fmax(most, fmax((double)(i + 1) / (double)n - f, f - (double)i / (double)n));
    }
    return sqrt((double)n) * most;
}

double tcr_correlation(const double *a, const double *b, size_t n) {
    return gsl_stats_correlation(a, 1, b, 1, n);
}
