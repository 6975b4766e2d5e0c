/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cholesky factorisation of a narrow band (Golub & Van Loan, Matrix Computations, 4.3.5). */
#include "num/band.h"

#include <math.h>

/* A pivot that lost this share of its diagonal entry has no digits left. */
static const double PIVOT_LEAST = 1e-14;

static int last_row(const tcr_band *band, int column) {
    return column + TCR_BAND_WIDTH < band->n - 1 ? column + TCR_BAND_WIDTH : band->n - 1;
}

bool tcr_band_factor(tcr_band *band) {
    double diagonal[TCR_BAND_MAX];
    for (int i = 0; i < band->n; i++)
        diagonal[i] = band->entry[i][0];
    for (int j = 0; j < band->n; j++) {
        if (!(band->entry[j][0] > PIVOT_LEAST * diagonal[j]))
            return false;
        const double root = sqrt(band->entry[j][0]);
        const int last = last_row(band, j);
        band->entry[j][0] = root;
        for (int i = j + 1; i <= last; i++)
            band->entry[j][i - j] /= root;
        for (int k = j + 1; k <= last; k++)
            for (int i = k; i <= last; i++)
                band->entry[k][i - k] -= band->entry[j][i - j] * band->entry[j][k - j];
    }
    return true;
}

void tcr_band_solve(const tcr_band *factor, double *x) {
    for (int j = 0; j < factor->n; j++) {
        x[j] /= factor->entry[j][0];
        for (int i = j + 1; i <= last_row(factor, j); i++)
            x[i] -= factor->entry[j][i - j] * x[j];
    }
    for (int j = factor->n - 1; j >= 0; j--) {
        for (int i = j + 1; i <= last_row(factor, j); i++)
            x[j] -= factor->entry[j][i - j] * x[i];
        x[j] /= factor->entry[j][0];
    }
}
