/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plot of two quantities on paper. */
#include "draw/plot.h"

#include <math.h>

#include "draw/words.h"

tcr_vec2 tcr_plot_at(const tcr_plot *plot, double x, double y) {
    const double across = (x - plot->x_low) / (plot->x_high - plot->x_low);
    const double up = (y - plot->y_low) / (plot->y_high - plot->y_low);
    return (tcr_vec2){plot->area.x + plot->area.width * (plot->mirrored ? 1 - across : across),
                      plot->area.y + plot->area.height * (1 - up)};
}

double tcr_plot_step(double range, int most) {
    const double least = range / most, power = pow(10, floor(log10(least)));
    const double share = least / power;
    return power * (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10);
}

static int decimals_of(double step) { return (int)fmax(0, fmin(9, ceil(-log10(step) - 1e-9))); }

void tcr_plot_rules_across(tcr_canvas *canvas, const tcr_plot *plot, bool plus) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    const tcr_box a = plot->area;
    const tcr_setting down = {.type = TCR_TYPE_SMALL, .colour = style->paper_quiet, .align = 1};
    const double dy = tcr_plot_step(plot->y_high - plot->y_low, 9);
    char number[TCR_WORDS];
    cairo_new_path(cr);
    for (double k = ceil(plot->y_low / dy); k * dy <= plot->y_high; k++) {
        const tcr_vec2 p = tcr_plot_at(plot, plot->x_low, k * dy);
        cairo_move_to(cr, a.x, p.y);
        cairo_line_to(cr, a.x + a.width, p.y);
        tcr_canvas_colour(canvas, style->paper_rule);
        cairo_set_line_width(cr, 0.15);
        cairo_stroke(cr);
        tcr_canvas_text(canvas, a.x - 1.4, p.y + 0.9,
                        tcr_say_number(number, k * dy, decimals_of(dy), plus), &down);
    }
}

void tcr_plot_rules(tcr_canvas *canvas, const tcr_plot *plot, bool plus) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    const tcr_setting across = {.type = TCR_TYPE_SMALL, .colour = style->paper_quiet, .align = 0.5};
    const double dx = tcr_plot_step(plot->x_high - plot->x_low, 9);
    char number[TCR_WORDS];
    tcr_plot_rules_across(canvas, plot, plus);
    cairo_new_path(cr);
    for (double k = ceil(plot->x_low / dx); k * dx <= plot->x_high; k++) {
        const tcr_vec2 p = tcr_plot_at(plot, k * dx, plot->y_low);
        cairo_move_to(cr, p.x, p.y);
        cairo_line_to(cr, p.x, p.y + 1);
        tcr_canvas_colour(canvas, style->paper_quiet);
        cairo_set_line_width(cr, 0.2);
        cairo_stroke(cr);
        tcr_canvas_text(canvas, p.x, p.y + 4,
                        tcr_say_number(number, k * dx, decimals_of(dx), false), &across);
    }
}

void tcr_plot_mark(tcr_canvas *canvas, tcr_layer layer, tcr_vec2 at, double radius) {
    cairo_t *cr = canvas->cr;
    /* Squares and triangles as large as the disc. */
    const double half = 0.886 * radius, corner = 1.35 * radius;
    cairo_new_path(cr);
    if (layer == TCR_BOTTOM) {
        cairo_arc(cr, at.x, at.y, radius, 0, 4 * acos(0.0));
    } else if (layer == TCR_MIDDLE) {
        cairo_rectangle(cr, at.x - half, at.y - half, 2 * half, 2 * half);
    } else {
        cairo_move_to(cr, at.x, at.y - corner);
        cairo_line_to(cr, at.x + 0.866 * corner, at.y + 0.5 * corner);
        cairo_line_to(cr, at.x - 0.866 * corner, at.y + 0.5 * corner);
        cairo_close_path(cr);
    }
    tcr_canvas_colour(canvas, canvas->style->layer[layer]);
    cairo_fill_preserve(cr);
    tcr_canvas_colour(canvas, canvas->style->halo);
    cairo_set_line_width(cr, 0.18);
    cairo_stroke(cr);
}
