/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts of plain numbers: their sheet, and what all forms share. */
#include "draw/view_study.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "draw/figures.h"
#include "num/options.h"

void tcr_chart_init(tcr_chart *chart, size_t size) {
    const tcr_chart defaults = {.best = SIZE_MAX};
    tcr_options_init(chart, size, &defaults, sizeof defaults);
}

/* ---- What is asked for ----------------------------------------------------------------------- */

static size_t values_of(const tcr_chart *c) {
    const size_t panels = c->panel.count > 0 ? c->panel.count : 1;
    return c->form == TCR_CHART_MAP      ? c->x.count * c->y.count * panels
           : c->form == TCR_CHART_CURVES ? c->x.count * panels
           : c->form == TCR_CHART_CURVE  ? c->x.count * tcr_chart_lines(c)
                                         : c->x.count;
}

static tcr_status check_axis(const tcr_chart_axis *axis, size_t most, bool rising) {
    if (axis->count < 1 || axis->count > most)
        return TCR_E_RANGE;
    if (axis->word == NULL && axis->value == NULL)
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < axis->count; i++) {
        if (axis->word != NULL && axis->word[i] == NULL)
            return TCR_E_ARGUMENT;
        if (axis->word == NULL && !(fabs(axis->value[i]) < 1e12))
            return TCR_E_RANGE;
        if (axis->word == NULL && rising && i > 0 && axis->value[i] <= axis->value[i - 1])
            return TCR_E_RANGE;
    }
    return TCR_OK;
}

/* The axes of several curves. */
static tcr_status check_curves(const tcr_chart *c) {
    if (c->panel.count < 1 || c->panel.count > TCR_CHART_CURVES_MAX || c->x.count < 1 ||
        c->x.count > TCR_CHART_CURVE_MAX)
        return TCR_E_RANGE;
    if (c->panel.word == NULL || c->x.value == NULL)
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < c->panel.count; i++)
        if (c->panel.word[i] == NULL)
            return TCR_E_ARGUMENT;
    for (size_t i = 0; i < c->panel.count * c->x.count; i++)
        if (fabs(c->x.value[i]) >= 1e12) /* false for NaN */
            return TCR_E_RANGE;
    return TCR_OK;
}

/* The axis of a curve, and its lines. */
static tcr_status check_curve(const tcr_chart *c) {
    const tcr_status status = check_axis(&c->x, TCR_CHART_POINTS_MAX, true);
    if (status != TCR_OK || c->y.count == 0)
        return status;
    if (c->x.word != NULL)
        return TCR_E_ARGUMENT;
    return c->x.count * c->y.count > TCR_CHART_POINTS_MAX
               ? TCR_E_RANGE
               : check_axis(&c->y, TCR_CHART_LINES_MAX, false);
}

tcr_status tcr_picture_take_chart(const tcr_chart *given, const tcr_picture_options *options,
                                  tcr_chart *c, tcr_picture *picture) {
    static const size_t MOST[TCR_CHART_FORMS] = {
        [TCR_CHART_MAP] = TCR_CHART_CELLS_MAX, [TCR_CHART_BARS] = TCR_CHART_BARS_MAX};
    *c = tcr_chart_default();
    if (given == NULL || tcr_options_take(c, sizeof *c, given) != TCR_OK ||
        (unsigned)c->form >= TCR_CHART_FORMS || c->value == NULL || c->quantity == NULL ||
        (c->low == NULL) != (c->high == NULL) ||
        (c->second_low == NULL) != (c->second_high == NULL) ||
        (c->remarks > 0 && c->remark == NULL) || (c->form == TCR_CHART_BARS && c->x.word == NULL))
        return TCR_E_ARGUMENT;
    tcr_status status = c->form == TCR_CHART_CURVES  ? check_curves(c)
                        : c->form == TCR_CHART_CURVE ? check_curve(c)
                                                     : check_axis(&c->x, MOST[c->form], false);
    if (status == TCR_OK && c->form == TCR_CHART_MAP)
        status = check_axis(&c->y, TCR_CHART_CELLS_MAX, false);
    if (status == TCR_OK && c->form == TCR_CHART_MAP && c->panel.count > 0)
        status = check_axis(&c->panel, TCR_CHART_PANELS_MAX, false);
    if (status == TCR_OK &&
        (c->remarks > TCR_CHART_REMARKS_MAX || (c->best != SIZE_MAX && c->best >= values_of(c))))
        status = TCR_E_RANGE;
    *picture = (tcr_picture){.chart = c, .eyes = 1};
    return status == TCR_OK ? tcr_picture_take_options(options, &picture->options) : status;
}

/* ---- What the forms share -------------------------------------------------------------------- */

size_t tcr_chart_lines(const tcr_chart *c) { return c->y.count > 0 ? c->y.count : 1; }

bool tcr_chart_range(const double *value, size_t count, double *least, double *most) {
    for (size_t i = 0; i < count; i++) {
        if (!(fabs(value[i]) < 1e12))
            continue;
        *least = fmin(*least, value[i]);
        *most = fmax(*most, value[i]);
    }
    return *least <= *most;
}

const char *tcr_chart_word(const tcr_chart_axis *axis, size_t i, char out[TCR_WORDS]) {
    if (axis->word != NULL)
        return axis->word[i];
    return tcr_say_trimmed(out, axis->value[i], 4);
}

const char *tcr_chart_number(double value, double range, char out[TCR_WORDS]) {
    const int digits = range > 0 ? (int)ceil(1.7 - log10(range)) : 2;
    return tcr_say_number(out, value, digits < 0 ? 0 : digits > 6 ? 6 : digits, false);
}

/* ---- The sheet ------------------------------------------------------------------------------- */

static void remarks(tcr_canvas *canvas, const tcr_chart *c, double y) {
    const tcr_box column = tcr_sheet_column();
    const tcr_setting words = {
        .type = TCR_TYPE_BODY, .colour = canvas->style->ink, .width_mm = column.width, .lines = 7};
    for (size_t i = 0; i < c->remarks; i++)
        y += tcr_canvas_text(canvas, column.x, y + 3.1, c->remark[i], &words) + 2;
}

static tcr_status draw(tcr_canvas *canvas, const tcr_picture *picture) {
    const tcr_chart *c = picture->chart;
    const tcr_box column = tcr_sheet_column();
    tcr_sheet_paper(canvas, tcr_sheet_panel());
    double y;
    if (c->form == TCR_CHART_CURVES) {
        tcr_chart_curves(canvas, c);
        y = tcr_chart_curve_legend(canvas, c, column);
    } else if (c->form == TCR_CHART_CURVE) {
        tcr_chart_curve(canvas, c);
        y = tcr_chart_curve_legend(canvas, c, column);
    } else if (c->form == TCR_CHART_MAP) {
        tcr_chart_map(canvas, c);
        y = tcr_chart_map_legend(canvas, c, column);
    } else {
        tcr_chart_bars(canvas, c);
        y = tcr_chart_bars_legend(canvas, c, column);
    }
    remarks(canvas, c, y + 3);
    tcr_sheet_titles(canvas, c->title != NULL && c->title[0] != '\0' ? c->title : "A study",
                     c->text != NULL ? c->text : "", tcr_sheet_panel().width);
    tcr_sheet_foot(canvas, c->foot != NULL ? c->foot : "", "");
    return TCR_OK;
}

const tcr_picture_view tcr_picture_view_study = {"study", "the answer of a study", draw};
