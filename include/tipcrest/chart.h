/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CHART_H
#define TCR_CHART_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/draw.h>
#include <tipcrest/export.h>
#include <tipcrest/sink.h>
#include <tipcrest/status.h>

/*
 * A chart of numbers of any source, such as the results of a study, in the look of all pictures.
 * Part of libtipcrest-draw. It reads plain arrays and knows nothing of eyes.
 *
 *   curve   one quantity over one factor, with a band; words on the axis give points; over numbers
 *           a line for each of the few words or numbers of a second
 *   map     one quantity over two factors, the darker the better; a panel for each word or number
 *           of a third
 *   bars    shares of factors, or one number of each of several things, each with a bar or two:
 *           filled and outlined
 *   curves  one quantity over each of several factors, a panel for each, all at one height
 *
 * A number that is NaN is missing: a gap in a curve, a crossed cell of a map, no bar.
 *
 * Stack: below 384 kB.
 */
typedef enum tcr_chart_form {
    TCR_CHART_CURVE = 0,
    TCR_CHART_MAP = 1,
    TCR_CHART_BARS = 2,
    TCR_CHART_CURVES = 3
} tcr_chart_form;
enum { TCR_CHART_FORMS = 4 };

enum {
    TCR_CHART_POINTS_MAX = 10000, /* of a curve, over all its lines */
    TCR_CHART_LINES_MAX = 3,
    TCR_CHART_CELLS_MAX = 1000, /* of a map, along each axis */
    TCR_CHART_PANELS_MAX = 16,
    TCR_CHART_BARS_MAX = 24,
    TCR_CHART_CURVES_MAX = 6,  /* panels of curves */
    TCR_CHART_CURVE_MAX = 100, /* points of each */
    TCR_CHART_REMARKS_MAX = 6
};

/* An axis: numbers, or words in their place. Texts are in any bytes. */
typedef struct tcr_chart_axis {
    const char *name;        /* "longest_mm"; NULL: none */
    size_t count;            /* numbers or words */
    const double *value;     /* in the unit of the axis; finite, and rising along a curve; not read
                                where there are words */
    const char *const *word; /* NULL: numbers */
} tcr_chart_axis;

typedef struct tcr_chart {
    size_t size; /* of this struct; set by tcr_chart_default */
    tcr_chart_form form;
    const char *title, *text; /* title, and a line below it; NULL: none */
    const char *quantity;     /* what the numbers are, with their unit: "fitted.rms_mm, mm" */
    tcr_chart_axis x;         /* of a curve and a map; of bars the names of the factors, as words,
                                 and 'name' says what the numbers are */
    tcr_chart_axis y;         /* of a map; of a curve over numbers its lines, a count of 0, the
                                 default: one */
    tcr_chart_axis panel;     /* of a map; a count of 0, the default: one panel. Of curves the
                                 factors, as words */
    /* In the unit of the quantity: of a curve and of bars x.count numbers, of lines value[y *
     * x.count + x]; of a map value[(panel * y.count + y) * x.count + x]; of curves value[panel *
     * x.count + i], at x.value[panel * x.count + i], which need not rise; NaN there behind the last
     * point of a shorter curve. */
    const double *value;
    /* In the unit of the quantity: ends of the band, or of the intervals of the filled bars, as
     * many as there are values; NULL, the default: none. */
    const double *low, *high;
    /* In the unit of the quantity, of bars: the outlined ones; NULL: none. */
    const double *second, *second_low, *second_high;
    const char *first_name, *second_name; /* of bars: what each is; NULL: none */
    size_t best;                          /* index of the best value; SIZE_MAX, the
                                             default: none */
    bool most;                            /* of a map: the largest is best; default false */
    const char *const *remark;            /* sentences beside the chart */
    size_t remarks;                       /* default 0 */
    const char *foot;                     /* a line at the foot; NULL: none */
} tcr_chart;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_chart_init(tcr_chart *chart, size_t size);
static inline tcr_chart tcr_chart_default(void) {
    tcr_chart chart;
    tcr_chart_init(&chart, sizeof chart);
    return chart;
}

/*
 * Writes a chart, as tcr_picture_write does. Of the options it uses size, width_mm, dpi and dark;
 * options may be NULL. TCR_E_RANGE (a count, a value of an axis that is not finite, an option),
 * TCR_E_ARGUMENT (NULL, a form, low without high, lines over words), TCR_E_FONT, TCR_E_MEMORY,
 * TCR_E_WRITE.
 */
TCR_API tcr_status tcr_chart_write(tcr_picture_format format, const tcr_chart *chart,
                                   const tcr_picture_options *options, tcr_sink sink,
                                   void *context);

#endif
