/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_ROD_REFUSED_H
#define TCR_TESTS_ROD_REFUSED_H

/* Numbers that no range of the model has. */

#include <math.h>

#include "support/check.h"

typedef tcr_status (*tcr_refusing_call)(void *context);

/* Holds that the call answers TCR_E_RANGE where one of the numbers is not finite or huge. */
static inline void tcr_expect_refused(double *const number[], size_t count, tcr_refusing_call call,
                                      void *context) {
    static const double BAD[] = {NAN, INFINITY, -INFINITY, 1e300, -1e300};
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < sizeof BAD / sizeof *BAD; j++) {
            const double usual = *number[i];
            *number[i] = BAD[j];
            given("number %zu is %g", i, BAD[j]);
            expect_status(call(context), TCR_E_RANGE);
            *number[i] = usual;
        }
}

#endif
