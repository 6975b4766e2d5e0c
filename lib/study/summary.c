/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of an output over the runs of a point. */
#include <tipcrest/study_answer.h>

#include <math.h>

#include "num/order.h"

tcr_status tcr_summarise(const double *value, size_t n, size_t stride, double *scratch,
                         tcr_summary *summary) {
    tcr_summary s = {.mean = NAN, .se = NAN, .p5 = NAN, .p95 = NAN, .least = NAN, .most = NAN};
    if (value == NULL || scratch == NULL || summary == NULL || n == 0 || stride == 0)
        return TCR_E_ARGUMENT;
    double sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < n; i++)
        if (isfinite(value[i * stride])) {
            scratch[s.runs++] = value[i * stride];
            s.least = fmin(s.least, value[i * stride]);
            s.most = fmax(s.most, value[i * stride]);
            sum += value[i * stride];
        }
    if (s.runs > 0) {
        s.mean = sum / (double)s.runs;
        for (size_t i = 0; i < s.runs; i++)
            squares += (scratch[i] - s.mean) * (scratch[i] - s.mean);
        if (s.runs > 1)
            s.se = sqrt(squares / (double)(s.runs - 1) / (double)s.runs);
        s.p5 = tcr_quantile(scratch, s.runs, 0.05);
        s.p95 = tcr_quantile(scratch, s.runs, 0.95);
    }
    *summary = s;
    return TCR_OK;
}
