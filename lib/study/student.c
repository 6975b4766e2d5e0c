/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Student's t, from GSL. Its arguments are in range, so its error handler is not reached. */
#include "study/student.h"

#include <math.h>

#include <gsl/gsl_cdf.h>

double tcr_student_reach(double alpha, size_t n) {
    return gsl_cdf_tdist_Qinv(alpha / 2.0, (double)(n - 1));
}

tcr_interval tcr_interval_of_mean(const double *value, size_t n, double reach) {
    double sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += value[i];
    const double mean = sum / (double)n;
    for (size_t i = 0; i < n; i++)
        squares += (value[i] - mean) * (value[i] - mean);
    const double half = reach * sqrt(squares / (double)(n - 1) / (double)n);
    return (tcr_interval){mean, mean - half, mean + half};
}
