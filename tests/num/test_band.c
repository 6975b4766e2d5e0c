/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The banded Cholesky solver against GSL's dense one. */
#include "num/band.h"

#include <math.h>

#include <gsl/gsl_linalg.h>

#include "support/check.h"
#include "support/make.h"

/* A matrix with a dominant diagonal, as a band and in full. */
static tcr_band draw_matrix(gsl_rng *rng, int n, gsl_matrix *full) {
    tcr_band band = {.n = n};
    gsl_matrix_set_zero(full);
    for (int i = 0; i < n; i++)
        for (int k = 0; k <= TCR_BAND_WIDTH && i + k < n; k++) {
            const double value =
                k == 0 ? tcr_draw_between(rng, 6.0, 9.0) : tcr_draw_between(rng, -1.0, 1.0);
            band.entry[i][k] = value;
            gsl_matrix_set(full, (size_t)(i + k), (size_t)i, value);
            gsl_matrix_set(full, (size_t)i, (size_t)(i + k), value);
        }
    return band;
}

CLAIM(a_banded_system_has_gsls_solution) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int n = 1; n <= TCR_BAND_MAX; n++) {
        const size_t size = (size_t)n;
        gsl_matrix *full = gsl_matrix_alloc(size, size);
        gsl_vector *right = gsl_vector_alloc(size);
        double x[TCR_BAND_MAX];
        tcr_band band = draw_matrix(rng, n, full);
        for (size_t i = 0; i < size; i++) {
            x[i] = tcr_draw_between(rng, -5.0, 5.0);
            gsl_vector_set(right, i, x[i]);
        }
        expect_true(tcr_band_factor(&band));
        tcr_band_solve(&band, x);
        gsl_linalg_cholesky_decomp1(full);
        gsl_linalg_cholesky_svx(full, right);
        for (size_t i = 0; i < size; i++) {
            given("unknown %zu of %d", i, n);
            expect_near(x[i], gsl_vector_get(right, i), 1e-14,
                        "rounding: condition below 4, solutions below 2");
        }
        gsl_vector_free(right);
        gsl_matrix_free(full);
    }
    gsl_rng_free(rng);
}

CLAIM(a_matrix_that_is_not_positive_definite_is_refused) {
    tcr_band singular = {.n = 2, .entry = {{1.0, 1.0}, {1.0}}}; /* both rows alike */
    expect_true(!tcr_band_factor(&singular));
    /* 1 - (1 - 2^-53)^2 is 2^-52: of the second pivot one bit is left (band.c). */
    tcr_band nearly = {.n = 2, .entry = {{1.0, 1.0 - 0x1p-53}, {1.0}}};
    expect_true(!tcr_band_factor(&nearly));
    tcr_band negative = {.n = 1, .entry = {{-1.0}}};
    expect_true(!tcr_band_factor(&negative));
    tcr_band undefined = {.n = 1, .entry = {{NAN}}};
    expect_true(!tcr_band_factor(&undefined));
}

int main(void) {
    static const TTest *const claims[] = {
        &a_banded_system_has_gsls_solution,
        &a_matrix_that_is_not_positive_definite_is_refused,
    };
    return RUN_CLAIMS("band", claims);
}
