/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Cholesky factorisation of a narrow band without square roots, L D L^T (Golub & Van Loan, Matrix
 * Computations, 4.1.2 and 4.3.5). The factor holds 1/D, so that a solution divides by nothing. Rows
 * behind the last are there and zero: no loop has to look for the end of the band.
 */
#include "num/band.h"

#include <string.h>

/* A pivot that lost this share of its diagonal entry has no digits left. */
static const double PIVOT_LEAST = 1e-14;

bool tcr_band_factor(tcr_band *band) {
    double diagonal[TCR_BAND_MAX];
    for (int i = 0; i < band->n; i++)
        diagonal[i] = band->entry[i][0];
    memset(band->entry[band->n], 0, TCR_BAND_WIDTH * sizeof band->entry[0]);
    for (int i = 1; i <= TCR_BAND_WIDTH && i <= band->n; i++) /* what would lie below the matrix */
        for (int k = i; k <= TCR_BAND_WIDTH; k++)
            band->entry[band->n - i][k] = 0.0;
    for (int j = 0; j < band->n; j++) {
        double *row = band->entry[j], *first = band->entry[j + 1], *second = band->entry[j + 2],
               *third = band->entry[j + 3];
        if (!(row[0] > PIVOT_LEAST * diagonal[j])) /* cppcheck-suppress uninitvar ; filled above */
            return false;
        const double inverse = 1.0 / row[0];
        const double a = row[1], b = row[2], c = row[3];
        row[0] = inverse;
        row[1] = a * inverse;
        row[2] = b * inverse;
        row[3] = c * inverse;
        first[0] -= row[1] * a;
        first[1] -= row[1] * b;
        first[2] -= row[1] * c;
        second[0] -= row[2] * b;
        second[1] -= row[2] * c;
        third[0] -= row[3] * c;
    }
    return true;
}

void tcr_band_solve(const tcr_band *factor, double *x) {
    double y[TCR_BAND_MAX + TCR_BAND_WIDTH] = {0.0};
    const int n = factor->n;
    memcpy(y, x, (size_t)n * sizeof *x);
    for (int j = 0; j < n; j++) {
        const double *row = factor->entry[j];
        y[j + 1] -= row[1] * y[j];
        y[j + 2] -= row[2] * y[j];
        y[j + 3] -= row[3] * y[j];
    }
    for (int j = 0; j < TCR_BAND_WIDTH; j++)
        y[n + j] = 0.0;
    for (int j = n; j-- > 0;) {
        const double *row = factor->entry[j];
        /* The last one found comes last: the others do not wait for it. */
        y[j] = ((y[j] * row[0] - row[3] * y[j + 3]) - row[2] * y[j + 2]) - row[1] * y[j + 1];
    }
    memcpy(x, y, (size_t)n * sizeof *x);
}
