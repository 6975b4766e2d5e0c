/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_DESIGN_H
#define TCR_STUDY_DESIGN_H 
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
typedef enum tcr_design_kind {
    TCR_DESIGN_GRID = 0,
    TCR_DESIGN_RANDOM = 1,
    TCR_DESIGN_SOBOL = 2,
    TCR_DESIGN_SENSITIVITY = 3
} tcr_design_kind;
enum { TCR_DESIGNS = 4 };
TCR_API const char *tcr_design_text(tcr_design_kind kind);
enum {
    TCR_FACTORS_MAX = 64,
    TCR_LEVELS_MAX = 1000000,
    TCR_SCRAMBLINGS_MIN = 16,
    TCR_SCRAMBLINGS_MAX = 256,
    TCR_SOBOL_DIMENSIONS = 2 * TCR_FACTORS_MAX
};
#define TCR_DESIGN_POINTS_MAX UINT64_C(10000000000)
typedef struct tcr_design {
    tcr_design_kind kind;
    size_t factors;
    const size_t *levels;
    uint64_t points;
    size_t scramblings;
    bool shifted;
    uint64_t seed;
} tcr_design;
TCR_API tcr_status tcr_design_count(const tcr_design *design, uint64_t *count, tcr_error *error);
TCR_API tcr_status tcr_design_points(const tcr_design *design, uint64_t first, size_t n, double *u);
typedef struct tcr_sobol_shift {
    uint64_t seed;
    uint32_t scrambling;
} tcr_sobol_shift;
TCR_API tcr_status tcr_sobol_points(uint64_t first, size_t n, size_t from, size_t dimensions,
                                    const tcr_sobol_shift *shift, double *u);
typedef enum tcr_distribution {
    TCR_LEVELS = 0,
    TCR_UNIFORM = 1,
    TCR_NORMAL =
        2,
    TCR_TRIANGULAR = 3
} tcr_distribution;
enum { TCR_DISTRIBUTIONS = 4 };
TCR_API const char *tcr_distribution_text(tcr_distribution distribution);
typedef struct tcr_factor {
    const char *key;
    tcr_distribution distribution;
    const double *level;
    size_t levels;
    double least, most;
    double mode;
    double mean, sd;
} tcr_factor;
TCR_API tcr_status tcr_factor_validate(const tcr_factor *factor, tcr_error *error);
TCR_API double tcr_factor_value(const tcr_factor *factor, double u);
TCR_API size_t tcr_factor_range(double from, double to, double step, double *level, size_t room);
#endif
