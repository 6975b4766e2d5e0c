/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How tips lie about a line, and how two lines lie to each other (model.md, section 6). */
#include <tipcrest/line.h>

#include <math.h>

#include "line/deviations.h"
#include "num/order.h"

static tcr_residuals spread_of(const double *deviation, size_t n, double *scratch) {
    double squares = 0.0, sum = 0.0, most = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double size = fabs(deviation[i]);
        squares += size * size;
        sum += size;
        most = size > most ? size : most;
        scratch[i] = size;
    }
    return (tcr_residuals){
        .rms_mm = sqrt(squares / (double)n),
        .mean_abs_mm = sum / (double)n,
        .p95_abs_mm = tcr_quantile(scratch, n, 0.95),
        .max_abs_mm = most,
    };
}

static void layer_offsets(const double *deviation, const tcr_layer *layer, size_t n,
                          double offset[TCR_LAYERS]) {
    size_t count[TCR_LAYERS] = {0};
    double sum[TCR_LAYERS] = {0.0};
    for (size_t i = 0; i < n; i++) {
        sum[layer[i]] += deviation[i];
        count[layer[i]]++;
    }
    for (int j = 0; j < TCR_LAYERS; j++)
        offset[j] = count[j] > 0 ? sum[j] / (double)count[j] : NAN;
}

tcr_status tcr_line_evenness(const tcr_line *line, const double *x_mm, const double *y_mm,
                             const tcr_layer *layer, size_t n, double tolerance_mm,
                             double *deviation_mm, double *across_mm, double *scratch,
                             tcr_evenness *evenness) {
    if (n == 0 || line == NULL || x_mm == NULL || y_mm == NULL || layer == NULL ||
        deviation_mm == NULL || across_mm == NULL || scratch == NULL || evenness == NULL)
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < n; i++)
        if ((int)layer[i] < 0 || (int)layer[i] >= TCR_LAYERS)
            return TCR_E_ARGUMENT;
    size_t within = 0;
    tcr_line_deviations(line, x_mm, y_mm, n, deviation_mm, across_mm);
    for (size_t i = 0; i < n; i++)
        within += fabs(deviation_mm[i]) <= tolerance_mm;
    evenness->lashes = n;
    evenness->upright = spread_of(deviation_mm, n, scratch);
    evenness->across = spread_of(across_mm, n, scratch);
    evenness->tolerance_mm = tolerance_mm;
    evenness->within_tolerance = (double)within / (double)n;
    layer_offsets(deviation_mm, layer, n, evenness->layer_offset_mm);
    return TCR_OK;
}

double tcr_line_largest_gap(const double *x_mm, size_t n, double *scratch) {
    if (n < 2 || x_mm == NULL || scratch == NULL)
        return NAN;
    for (size_t i = 0; i < n; i++)
        scratch[i] = x_mm[i];
    tcr_sort(scratch, n);
    double most = 0.0;
    for (size_t i = 1; i < n; i++)
        most = fmax(most, scratch[i] - scratch[i - 1]);
    return most;
}

tcr_status tcr_line_symmetry(const tcr_line *left, const tcr_line *right, tcr_symmetry *symmetry) {
    if (left == NULL || right == NULL || symmetry == NULL)
        return TCR_E_ARGUMENT;
    const double low = fmax(left->x_min_mm, right->x_min_mm),
                 high = fmin(left->x_max_mm, right->x_max_mm);
    if (!(high > low))
        return TCR_E_COMMON;
    double difference[TCR_LINE_SAMPLES], mean = 0.0;
    for (int i = 0; i < TCR_LINE_SAMPLES; i++) {
        const double x =
            i < TCR_LINE_SAMPLES - 1 ? low + (high - low) * i / (TCR_LINE_SAMPLES - 1) : high;
        difference[i] = tcr_line_at(right, x) - tcr_line_at(left, x);
        mean += difference[i] / TCR_LINE_SAMPLES;
    }
    double scratch[TCR_LINE_SAMPLES];
    const tcr_residuals whole = spread_of(difference, TCR_LINE_SAMPLES, scratch);
    for (int i = 0; i < TCR_LINE_SAMPLES; i++)
        difference[i] -= mean;
    const tcr_residuals level = spread_of(difference, TCR_LINE_SAMPLES, scratch);
    *symmetry = (tcr_symmetry){whole.rms_mm, whole.max_abs_mm, level.rms_mm, level.max_abs_mm};
    return TCR_OK;
}
