/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CHART_H
#define TCR_CHART_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/draw.h>
#include <tipcrest/export.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>
typedef enum tcr_chart_form {
    TCR_CHART_CURVE = 0,
    TCR_CHART_MAP = 1,
    TCR_CHART_BARS = 2,
    TCR_CHART_CURVES = 3
} tcr_chart_form;
enum { TCR_CHART_FORMS = 4 };
enum {
    TCR_CHART_POINTS_MAX = 10000,
    TCR_CHART_LINES_MAX = 3,
    TCR_CHART_CELLS_MAX = 1000,
    TCR_CHART_PANELS_MAX = 16,
    TCR_CHART_BARS_MAX = 24,
    TCR_CHART_CURVES_MAX = 6,
    TCR_CHART_CURVE_MAX = 100,
    TCR_CHART_REMARKS_MAX = 6
};
typedef struct tcr_chart_axis {
    const char *name;
    size_t count;
    const double *value;
    const char *const *word;
} tcr_chart_axis;
typedef struct tcr_chart {
    size_t size;
    tcr_chart_form form;
    const char *title, *text;
    const char *quantity;
    tcr_chart_axis x;
    tcr_chart_axis y;
    tcr_chart_axis panel;
    const double *value;
    const double *low, *high;
    const double *second, *second_low, *second_high;
    const char *first_name, *second_name;
    size_t best;
    bool most;
    const char *const *remark;
    size_t remarks;
    const char *foot;
} tcr_chart;
TCR_API void tcr_chart_init(tcr_chart *chart, size_t size);
static inline tcr_chart tcr_chart_default(void) {
    tcr_chart chart;
    tcr_chart_init(&chart, sizeof chart);
    return chart;
}
TCR_API tcr_status tcr_chart_write(tcr_picture_format format, const tcr_chart *chart,
                                   const tcr_picture_options *options, tcr_sink sink,
                                   void *context);
#endif
