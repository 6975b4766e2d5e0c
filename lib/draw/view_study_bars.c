/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shares of factors, or one number of each of several things: for each a filled bar, and where
 * there is a second number an outlined one, with their intervals. A bar that stands alone has its
 * number at its end. */
#include "draw/view_study.h"

#include <math.h>
#include <stdio.h>

#include "draw/figures.h"

static tcr_plot plot_of(const tcr_chart *c) {
    const tcr_box p = tcr_sheet_panel();
    double least = 0, most = 0.1;
    const double *const all[] = {c->value,  c->low,        c->high,
                                 c->second, c->second_low, c->second_high};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        if (all[i] != NULL)
            (void)tcr_chart_range(all[i], c->x.count, &least, &most);
    return (tcr_plot){.area = {p.x + 58, p.y + 10, p.width - 58 - 16, p.height - 10 - 12},
                      .x_low = least,
                      .x_high = most + 0.04 * (most - least),
                      .y_low = 0,
                      .y_high = (double)c->x.count};
}

static void rules(tcr_canvas *canvas, const tcr_plot *plot) {
    const double step = tcr_plot_step(plot->x_high - plot->x_low, 8);
    const tcr_setting words = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet, .align = 0.5};
    cairo_t *cr = canvas->cr;
    for (double k = ceil(plot->x_low / step); k * step <= plot->x_high; k++) {
        char number[TCR_WORDS];
        const double x = tcr_plot_at(plot, k * step, 0).x;
        cairo_new_path(cr);
        cairo_move_to(cr, x, plot->area.y);
        cairo_line_to(cr, x, plot->area.y + plot->area.height);
        tcr_canvas_colour(canvas, k == 0 ? canvas->style->label_ink : canvas->style->paper_rule);
        cairo_set_line_width(cr, k == 0 ? 0.4 : 0.15);
        cairo_stroke(cr);
        tcr_canvas_text(canvas, x, plot->area.y + plot->area.height + 4,
                        tcr_say_trimmed(number, k * step, 3), &words);
    }
}

/* An interval as a thin line with ends. */
static void whisker(tcr_canvas *canvas, double from, double to, double y, tcr_rgba colour) {
    cairo_t *cr = canvas->cr;
    if (!isfinite(from) || !isfinite(to))
        return;
    cairo_new_path(cr);
    cairo_move_to(cr, from, y);
    cairo_line_to(cr, to, y);
    for (int end = 0; end < 2; end++) {
        cairo_move_to(cr, end == 0 ? from : to, y - 0.8);
        cairo_line_to(cr, end == 0 ? from : to, y + 0.8);
    }
    tcr_canvas_colour(canvas, colour);
    cairo_set_line_width(cr, 0.35);
    cairo_stroke(cr);
}

static void bar(tcr_canvas *canvas, const tcr_plot *plot, double value, double y, double half,
                bool filled) {
    const double from = tcr_plot_at(plot, 0, 0).x, to = tcr_plot_at(plot, value, 0).x;
    cairo_t *cr = canvas->cr;
    if (!isfinite(value))
        return;
    cairo_new_path(cr);
    cairo_rectangle(cr, fmin(from, to), y - half, fabs(to - from), 2 * half);
    tcr_canvas_colour(canvas,
                      filled ? canvas->style->help : tcr_rgba_faded(canvas->style->help, 0.12));
    cairo_fill_preserve(cr);
    tcr_canvas_colour(canvas, canvas->style->help);
    cairo_set_line_width(cr, 0.35);
    cairo_stroke(cr);
}

static void write_number(tcr_canvas *canvas, const tcr_chart *c, const tcr_plot *plot, size_t i,
                         double middle) {
    const tcr_setting words = {.type = TCR_TYPE_LABEL, .colour = canvas->style->label_ink};
    char number[TCR_WORDS];
    if (!isfinite(c->value[i]) || c->low != NULL) /* an interval says more, and stands there */
        return;
    tcr_canvas_text(canvas, tcr_plot_at(plot, fmax(c->value[i], 0), 0).x + 1.2, middle + 0.9,
                    tcr_chart_number(c->value[i], plot->x_high - plot->x_low, number), &words);
}

static void factor(tcr_canvas *canvas, const tcr_chart *c, const tcr_plot *plot, size_t i) {
    const double row = plot->area.height / (double)c->x.count;
    const double middle = tcr_plot_at(plot, 0, (double)(c->x.count - i) - 0.5).y;
    const double half = fmin(0.17 * row, 3.4);
    const double apart = c->second != NULL ? 1.15 * half : 0;
    const tcr_setting name = {
        .type = TCR_TYPE_LABEL, .colour = canvas->style->label_ink, .align = 1, .width_mm = 52};
    tcr_canvas_text(canvas, plot->area.x - 3, middle + 0.9, c->x.word[i], &name);
    bar(canvas, plot, c->value[i], middle - apart, half, true);
    if (c->low != NULL)
        whisker(canvas, tcr_plot_at(plot, c->low[i], 0).x, tcr_plot_at(plot, c->high[i], 0).x,
                middle - apart, canvas->style->label_ink);
    if (c->second == NULL) {
        write_number(canvas, c, plot, i, middle);
        return;
    }
    bar(canvas, plot, c->second[i], middle + apart, half, false);
    if (c->second_low != NULL)
        whisker(canvas, tcr_plot_at(plot, c->second_low[i], 0).x,
                tcr_plot_at(plot, c->second_high[i], 0).x, middle + apart,
                canvas->style->label_ink);
}

void tcr_chart_bars(tcr_canvas *canvas, const tcr_chart *c) {
    const tcr_plot plot = plot_of(c);
    const tcr_box p = tcr_sheet_panel();
    const tcr_setting quiet = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet, .width_mm = p.width - 12};
    rules(canvas, &plot);
    for (size_t i = 0; i < c->x.count; i++)
        factor(canvas, c, &plot, i);
    tcr_canvas_text(canvas, p.x + 4, p.y + 5.6, c->quantity, &quiet);
    if (c->x.name != NULL)
        tcr_canvas_text(canvas, plot.area.x, p.y + p.height - 3.2, c->x.name, &quiet);
}

static double legend_row(tcr_canvas *canvas, const char *words, bool filled, tcr_box column,
                         double y) {
    cairo_t *cr = canvas->cr;
    if (words == NULL)
        return y;
    cairo_new_path(cr);
    cairo_rectangle(cr, column.x, y + 0.9, 6, 2.6);
    tcr_canvas_colour(canvas, tcr_rgba_faded(canvas->style->help, filled ? 1 : 0.15));
    cairo_fill_preserve(cr);
    tcr_canvas_colour(canvas, canvas->style->help);
    cairo_set_line_width(cr, 0.35);
    cairo_stroke(cr);
    return tcr_figures_body(canvas, words, column.x + 8.5, y, column.width - 8.5);
}

double tcr_chart_bars_legend(tcr_canvas *canvas, const tcr_chart *c, tcr_box column) {
    if (c->first_name == NULL && c->second_name == NULL)
        return column.y - 3;
    double y = tcr_figures_heading(canvas, "How to read it", column.x, column.y, column.width);
    y = legend_row(canvas, c->first_name, true, column, y);
    return legend_row(canvas, c->second_name, false, column, y);
}
