/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_BAND_H
#define TCR_NUM_BAND_H

/*
 * Symmetric positive definite systems with a narrow band, in place: the normal equations of a cubic
 * spline. Row i holds entries (i, i), (i + 1, i), ... (i + width, i) of the lower triangle. What
 * would lie below the matrix is not read.
 */

#include <stdbool.h>

enum { TCR_BAND_WIDTH = 3, TCR_BAND_MAX = 16 };

typedef struct tcr_band {
    int n; /* 1 to TCR_BAND_MAX */
    double entry[TCR_BAND_MAX + TCR_BAND_WIDTH][TCR_BAND_WIDTH + 1];
} tcr_band;

/* The factor in place; false where the matrix is not safely positive definite. */
bool tcr_band_factor(tcr_band *band);

/* Solves with the factor; x holds the right side and receives the solution. */
void tcr_band_solve(const tcr_band *factor, double *x);

#endif
