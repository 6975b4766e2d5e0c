/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_STUDY_NO_GSL_ERROR_H
#define TCR_TESTS_STUDY_NO_GSL_ERROR_H

/* The library never reaches GSL's error handler, which is the host's: here it fails the test. */

#include <stdio.h>
#include <stdlib.h>

#include <gsl/gsl_errno.h>

static inline void gsl_must_not_complain(const char *reason, const char *file, int line,
                                         int number) {
    (void)number;
    fprintf(stderr, "GSL's error handler was reached: %s (%s:%d)\n", reason, file, line);
    abort();
}

static inline void refuse_gsl_errors(void) { (void)gsl_set_error_handler(gsl_must_not_complain); }

#endif
