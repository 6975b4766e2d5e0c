/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One quantity over one factor: a curve with a band, a few of them for a second factor, or points
 * with bars where the axis has words; or over each of several, a small curve for each. */
#include "draw/view_study.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "draw/dimension.h"
#include "draw/figures.h"

enum { NAME_WIDTH = 30 }; /* mm, for the names of lines at their ends */

/* Lines differ by dash and colour, so that they do in grey too. */
static const double DASH_MM[TCR_CHART_LINES_MAX] = {0, 2.2, 0.8}; /* 0: whole */

static tcr_rgba colour_of(const tcr_canvas *canvas, size_t line) {
    const tcr_style *style = canvas->style;
    const tcr_rgba colours[TCR_CHART_LINES_MAX] = {style->help, style->label_ink, style->fitted};
    return colours[line];
}

static double x_of(const tcr_chart *c, size_t i) {
    return c->x.word != NULL ? (double)i : c->x.value[i];
}

/* A plot in a box, at the height of 'count' values of a chart. */
static tcr_plot plot_of(const tcr_chart *c, tcr_box p, const tcr_chart *all, size_t count) {
    double least = INFINITY, most = -INFINITY;
    const double right = c->form == TCR_CHART_CURVE && c->y.count > 0 ? NAME_WIDTH : 8;
    tcr_plot plot = {.area = {p.x + 18, p.y + 11, p.width - 18 - right, p.height - 11 - 13}};
    bool any = tcr_chart_range(all->value, count, &least, &most);
    if (all->low != NULL) {
        any |= tcr_chart_range(all->low, count, &least, &most);
        any |= tcr_chart_range(all->high, count, &least, &most);
    }
    if (!any)
        least = most = 0;
    const double rim = most > least ? 0.06 * (most - least) : fmax(0.1 * fabs(most), 0.01);
    plot.y_low = least >= 0 ? fmax(0, least - rim) : least - rim;
    plot.y_high = most + rim;
    const double first = x_of(c, 0), last = x_of(c, c->x.count - 1);
    const double side = c->x.word != NULL ? 0.6 : last > first ? 0.03 * (last - first) : 1;
    plot.x_low = first - side;
    plot.x_high = last + side;
    return plot;
}

/* The band from its lower end to its upper one, stretch by stretch. */
static void band(tcr_canvas *canvas, const tcr_chart *c, const tcr_plot *plot, size_t number) {
    cairo_t *cr = canvas->cr;
    for (size_t from = 0; from < c->x.count; from++) {
        size_t to = from;
        while (to < c->x.count && isfinite(c->low[to]) && isfinite(c->high[to]))
            to++;
        if (to == from)
            continue;
        cairo_new_path(cr);
        for (size_t i = from; i < to; i++) {
            const tcr_vec2 p = tcr_plot_at(plot, x_of(c, i), c->low[i]);
            (i == from ? cairo_move_to : cairo_line_to)(cr, p.x, p.y);
        }
        for (size_t i = to; i-- > from;) {
            const tcr_vec2 p = tcr_plot_at(plot, x_of(c, i), c->high[i]);
            cairo_line_to(cr, p.x, p.y);
        }
        cairo_close_path(cr);
        tcr_canvas_colour(canvas, tcr_rgba_faded(colour_of(canvas, number), 0.18));
        cairo_fill(cr);
        from = to;
    }
}

/* A bar from end to end of the band at each word. */
static void spans(tcr_canvas *canvas, const tcr_chart *c, const tcr_plot *plot) {
    cairo_t *cr = canvas->cr;
    for (size_t i = 0; i < c->x.count; i++) {
        if (!isfinite(c->low[i]) || !isfinite(c->high[i]))
            continue;
        const tcr_vec2 a = tcr_plot_at(plot, x_of(c, i), c->low[i]),
                       b = tcr_plot_at(plot, x_of(c, i), c->high[i]);
        cairo_new_path(cr);
        cairo_move_to(cr, a.x, a.y);
        cairo_line_to(cr, b.x, b.y);
        tcr_canvas_colour(canvas, tcr_rgba_faded(canvas->style->help, 0.4));
        cairo_set_line_width(cr, 2);
        cairo_stroke(cr);
    }
}

static void dot(tcr_canvas *canvas, tcr_vec2 at, double radius, tcr_rgba colour, bool ring) {
    cairo_new_path(canvas->cr);
    cairo_arc(canvas->cr, at.x, at.y, radius, 0, 4 * acos(0.0));
    tcr_canvas_colour(canvas, ring ? canvas->style->ring : colour);
    cairo_set_line_width(canvas->cr, 0.5);
    (ring ? cairo_stroke : cairo_fill)(canvas->cr);
}

/* Points that are few enough, or words, have a dot each. */
static bool has_dots(const tcr_chart *c) {
    enum { DOTS_MAX = 60 };
    return c->x.count <= DOTS_MAX || c->x.word != NULL;
}

static void line(tcr_canvas *canvas, const tcr_chart *c, const tcr_plot *plot, size_t number) {
    cairo_t *cr = canvas->cr;
    const tcr_rgba colour = colour_of(canvas, number);
    bool drawing = false;
    cairo_new_path(cr);
    for (size_t i = 0; i < c->x.count && c->x.word == NULL; i++) {
        const tcr_vec2 p = tcr_plot_at(plot, x_of(c, i), c->value[i]);
        if (isfinite(c->value[i]))
            (drawing ? cairo_line_to : cairo_move_to)(cr, p.x, p.y);
        drawing = isfinite(c->value[i]);
    }
    tcr_canvas_colour(canvas, colour);
    cairo_set_line_width(cr, 0.5);
    cairo_set_dash(cr, &DASH_MM[number], DASH_MM[number] > 0, 0);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0);
    for (size_t i = 0; i < c->x.count; i++) {
        const tcr_vec2 p = tcr_plot_at(plot, x_of(c, i), c->value[i]);
        if (isfinite(c->value[i]) && has_dots(c))
            dot(canvas, p, 0.9, colour, false);
        if (isfinite(c->value[i]) && i == c->best)
            dot(canvas, p, 1.8, colour, true);
    }
}

static void words_below(tcr_canvas *canvas, const tcr_chart *c, const tcr_plot *plot) {
    const tcr_setting name = {.type = TCR_TYPE_LABEL,
                              .colour = canvas->style->label_ink,
                              .align = 0.5,
                              .width_mm = plot->area.width / (double)c->x.count - 1};
    for (size_t i = 0; i < c->x.count; i++)
        tcr_canvas_text(canvas, tcr_plot_at(plot, x_of(c, i), 0).x,
                        plot->area.y + plot->area.height + 4, c->x.word[i], &name);
}

/* The numbers of a line or of a panel, as a chart of its own. */
static tcr_chart line_of(const tcr_chart *c, size_t number) {
    const size_t from = number * c->x.count;
    tcr_chart own = *c;
    own.value += from;
    own.low = c->low != NULL ? c->low + from : NULL;
    own.high = c->high != NULL ? c->high + from : NULL;
    own.best = c->best - from < c->x.count ? c->best - from : SIZE_MAX;
    return own;
}

/* "step_mm 1" at the end of each line that has numbers. */
static void name_lines(tcr_canvas *canvas, const tcr_chart *c, const tcr_plot *plot) {
    double place[TCR_CHART_LINES_MAX];
    size_t order[TCR_CHART_LINES_MAX], named = 0;
    for (size_t k = 0; k < c->y.count; k++) {
        size_t last = c->x.count;
        while (last > 0 && !isfinite(c->value[k * c->x.count + last - 1]))
            last--;
        if (last == 0)
            continue;
        const double y = tcr_plot_at(plot, 0, c->value[k * c->x.count + last - 1]).y;
        size_t i = named++;
        for (; i > 0 && place[i - 1] > y; i--) {
            place[i] = place[i - 1];
            order[i] = order[i - 1];
        }
        place[i] = y;
        order[i] = k;
    }
    tcr_dimension_spread(place, (int)named, 7, plot->area.y, plot->area.y + plot->area.height);
    for (size_t i = 0; i < named; i++) {
        char text[2 * TCR_WORDS], number[TCR_WORDS];
        const tcr_setting name = {.type = TCR_TYPE_LABEL,
                                  .colour = colour_of(canvas, order[i]),
                                  .width_mm = NAME_WIDTH - 5,
                                  .lines = 2};
        const char *of = c->y.name != NULL ? c->y.name : "";
        snprintf(text, sizeof text, "%.60s%s%.60s", of, *of != '\0' ? " " : "",
                 tcr_chart_word(&c->y, order[i], number));
        tcr_canvas_text(canvas, plot->area.x + plot->area.width + 2, place[i] + 0.8, text, &name);
    }
}

/* A curve in its plot, with the name of its axis below it. */
static void curve(tcr_canvas *canvas, const tcr_chart *c, const tcr_plot *plot) {
    const tcr_setting below = {.type = TCR_TYPE_SMALL,
                               .colour = canvas->style->paper_quiet,
                               .align = 0.5,
                               .width_mm = plot->area.width + 12};
    (c->x.word != NULL ? tcr_plot_rules_across : tcr_plot_rules)(canvas, plot, false);
    if (c->x.word != NULL)
        words_below(canvas, c, plot);
    /* No more than have a dash, which holds of every chart that was taken. */
    const size_t asked = c->form == TCR_CHART_CURVE ? tcr_chart_lines(c) : 1;
    const size_t lines = asked < TCR_CHART_LINES_MAX ? asked : TCR_CHART_LINES_MAX;
    for (size_t k = 0; k < lines && c->low != NULL && c->high != NULL; k++) {
        const tcr_chart own = line_of(c, k);
        if (c->x.word != NULL)
            spans(canvas, &own, plot);
        else
            band(canvas, &own, plot, k);
    }
    for (size_t k = 0; k < lines; k++) {
        const tcr_chart own = line_of(c, k);
        line(canvas, &own, plot, k);
    }
    if (c->form == TCR_CHART_CURVE)
        name_lines(canvas, c, plot);
    if (c->x.name != NULL)
        tcr_canvas_text(canvas, plot->area.x + plot->area.width / 2,
                        plot->area.y + plot->area.height + 9.8, c->x.name, &below);
}

static void quantity(tcr_canvas *canvas, const tcr_chart *c) {
    const tcr_box p = tcr_sheet_panel();
    const tcr_setting quiet = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet, .width_mm = p.width - 12};
    tcr_canvas_text(canvas, p.x + 4, p.y + 5.6, c->quantity, &quiet);
}

void tcr_chart_curve(tcr_canvas *canvas, const tcr_chart *c) {
    const tcr_plot plot = plot_of(c, tcr_sheet_panel(), c, c->x.count * tcr_chart_lines(c));
    curve(canvas, c, &plot);
    quantity(canvas, c);
}

/* The curve of a panel, as a chart of its own. */
static tcr_chart curve_of(const tcr_chart *c, size_t panel) {
    tcr_chart own = line_of(c, panel);
    own.x = (tcr_chart_axis){c->panel.word[panel], 0, c->x.value + panel * c->x.count, NULL};
    while (own.x.count < c->x.count && !isnan(own.x.value[own.x.count]))
        own.x.count++;
    return own;
}

void tcr_chart_curves(tcr_canvas *canvas, const tcr_chart *c) {
    const tcr_box p = tcr_sheet_panel();
    const size_t panels = c->panel.count, across = panels > 4 ? 3 : panels > 1 ? 2 : 1;
    const size_t down = (panels + across - 1) / across;
    const double width = p.width / (double)across, height = (p.height - 3) / (double)down;
    for (size_t i = 0; i < panels; i++) {
        const tcr_box box = {p.x + width * (double)(i % across),
                             p.y + 3 + height * (double)(i / across), width, height};
        const tcr_chart own = curve_of(c, i);
        if (own.x.count == 0)
            continue;
        const tcr_plot plot = plot_of(&own, box, c, panels * c->x.count);
        curve(canvas, &own, &plot);
    }
    quantity(canvas, c);
}

double tcr_chart_curve_legend(tcr_canvas *canvas, const tcr_chart *c, tcr_box column) {
    double y = tcr_figures_heading(canvas, "How to read it", column.x, column.y, column.width);
    y = tcr_figures_body(canvas,
                         c->form == TCR_CHART_CURVES
                             ? "dots: the mean of points that lie near each other; band: 90 % of "
                               "these points"
                         : c->low != NULL ? (has_dots(c) ? "dots: the mean; band: 90 % of runs"
                                                         : "line: the mean; band: 90 % of runs")
                                          : (has_dots(c) ? "dots: the value at each point"
                                                         : "line: the value at each point"),
                         column.x, y, column.width);
    if (c->best != SIZE_MAX)
        y = tcr_figures_body(canvas, "ring: the best", column.x, y, column.width);
    return y;
}
