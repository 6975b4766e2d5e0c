/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_H
#define TCR_LINE_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>
enum { TCR_LINE_COEFFICIENTS = 12, TCR_LINE_SAMPLES = 201, TCR_TOO_FEW = 12 };
typedef struct tcr_line {
    double x_min_mm, x_max_mm;
    double coefficient_mm[TCR_LINE_COEFFICIENTS];
    double sigma_mm;
} tcr_line;
typedef struct tcr_line_options {
    size_t size;
    bool robust;
    double penalty;
    double huber;
    double
        sigma_floor_mm;
} tcr_line_options;
TCR_API void tcr_line_options_init(tcr_line_options *options, size_t size);
static inline tcr_line_options tcr_line_options_default(void) {
    tcr_line_options options;
    tcr_line_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_line_fit(const double *x_mm, const double *y_mm, size_t n,
                                const tcr_line_options *options, double *scratch, tcr_line *line);
TCR_API double tcr_line_at(const tcr_line *line, double x_mm);
TCR_API double tcr_line_slope(const tcr_line *line, double x_mm);
typedef struct tcr_residuals {
    double rms_mm;
    double mean_abs_mm;
    double p95_abs_mm;
    double max_abs_mm;
} tcr_residuals;
typedef struct tcr_evenness {
    size_t lashes;
    tcr_residuals upright;
    tcr_residuals across;
    double tolerance_mm;
    double within_tolerance;
    double layer_offset_mm[TCR_LAYERS];
} tcr_evenness;
TCR_API tcr_status tcr_line_evenness(const tcr_line *line, const double *x_mm, const double *y_mm,
                                     const tcr_layer *layer, size_t n, double tolerance_mm,
                                     double *deviation_mm, double *across_mm, double *scratch,
                                     tcr_evenness *evenness);
TCR_API double tcr_line_largest_gap(const double *x_mm, size_t n, double *scratch);
typedef struct tcr_symmetry {
    double rms_mm, max_mm;
    double level_rms_mm, level_max_mm;
} tcr_symmetry;
TCR_API tcr_status tcr_line_symmetry(const tcr_line *left, const tcr_line *right,
                                     tcr_symmetry *symmetry);
#endif
