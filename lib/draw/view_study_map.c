/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One quantity over two factors, a cell for each pair: the darker, the better. Cells that are large
 * enough have their number, so that the map reads without colour. Of a third factor each word or
 * number has a panel of its own, all on one scale.
 */
#include "draw/view_study.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "draw/figures.h"

/* How dark the best and the worst cell are. */
static const double DARKEST = 0.92, LIGHTEST = 0.05;

typedef struct scale {
    double least, most;
    bool any, all; /* cells have a value */
} scale;

static size_t panels_of(const tcr_chart *c) { return c->panel.count > 0 ? c->panel.count : 1; }

static scale scale_of(const tcr_chart *c) {
    const size_t cells = panels_of(c) * c->x.count * c->y.count;
    scale s = {INFINITY, -INFINITY, false, true};
    s.any = tcr_chart_range(c->value, cells, &s.least, &s.most);
    for (size_t i = 0; i < cells; i++)
        s.all = s.all && isfinite(c->value[i]);
    return s;
}

/* How dark a value is. */
static double shade(const tcr_chart *c, const scale *s, double value) {
    const double share = s->most > s->least ? (value - s->least) / (s->most - s->least) : 0;
    return LIGHTEST + (DARKEST - LIGHTEST) * (c->most ? share : 1 - share);
}

/* ---- Cells ----------------------------------------------------------------------------------- */

static tcr_box cell_of(const tcr_chart *c, tcr_box area, size_t i, size_t j) {
    const double width = area.width / (double)c->x.count, height = area.height / (double)c->y.count;
    return (tcr_box){area.x + (double)i * width, area.y + area.height - (double)(j + 1) * height,
                     width, height};
}

static void cross(tcr_canvas *canvas, tcr_box b) {
    cairo_t *cr = canvas->cr;
    const double x = b.x + b.width / 2, y = b.y + b.height / 2;
    const double half = fmin(1.4, 0.3 * fmin(b.width, b.height));
    cairo_new_path(cr);
    cairo_move_to(cr, x - half, y - half);
    cairo_line_to(cr, x + half, y + half);
    cairo_move_to(cr, x - half, y + half);
    cairo_line_to(cr, x + half, y - half);
    tcr_canvas_colour(canvas, canvas->style->paper_quiet);
    cairo_set_line_width(cr, 0.2);
    cairo_stroke(cr);
}

static void cell(tcr_canvas *canvas, const tcr_chart *c, const scale *s, tcr_box b, double value) {
    cairo_t *cr = canvas->cr;
    if (!isfinite(value)) {
        cross(canvas, b);
        return;
    }
    const double dark = shade(c, s, value);
    cairo_new_path(cr);
    cairo_rectangle(cr, b.x, b.y, b.width, b.height);
    tcr_canvas_colour(canvas, tcr_rgba_faded(canvas->style->help, dark));
    cairo_fill(cr);
    char number[TCR_WORDS];
    const tcr_setting words = {.type = TCR_TYPE_SMALL,
                               .colour =
                                   dark > 0.5 ? canvas->style->paper : canvas->style->label_ink,
                               .align = 0.5};
    tcr_chart_number(value, s->most - s->least, number);
    if (b.height >= 4 && tcr_canvas_measure(canvas, number, &words).width <= b.width - 1)
        tcr_canvas_text(canvas, b.x + b.width / 2, b.y + b.height / 2 + 0.9, number, &words);
}

static void ring(tcr_canvas *canvas, tcr_box b) {
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_rectangle(cr, b.x, b.y, b.width, b.height);
    tcr_canvas_colour(canvas, canvas->style->halo);
    cairo_set_line_width(cr, 1.3);
    cairo_stroke_preserve(cr);
    tcr_canvas_colour(canvas, canvas->style->ring);
    cairo_set_line_width(cr, 0.7);
    cairo_stroke(cr);
}

/* ---- Panels ---------------------------------------------------------------------------------- */

/* Words of an axis, every so many that they do not touch. */
static void axis_words(tcr_canvas *canvas, const tcr_chart *c, tcr_box area, bool along) {
    const tcr_chart_axis *axis = along ? &c->x : &c->y;
    const tcr_setting words = {.type = TCR_TYPE_SMALL,
                               .colour = canvas->style->paper_quiet,
                               .align = along ? 0.5 : 1,
                               .width_mm = along ? 0 : 15};
    double need = along ? 0 : 3.2;
    char text[TCR_WORDS];
    for (size_t i = 0; i < axis->count && along; i++)
        need = fmax(need, tcr_canvas_measure(canvas, tcr_chart_word(axis, i, text), &words).width);
    const double each = (along ? area.width : area.height) / (double)axis->count;
    const size_t every = (size_t)fmax(1, ceil((need + (along ? 1.2 : 0)) / each));
    for (size_t i = 0; i < axis->count; i += every) {
        const tcr_box b = cell_of(c, area, along ? i : 0, along ? 0 : i);
        tcr_canvas_text(canvas, along ? b.x + b.width / 2 : area.x - 1.4,
                        along ? area.y + area.height + 3.8 : b.y + b.height / 2 + 0.9,
                        tcr_chart_word(axis, i, text), &words);
    }
}

static void panel(tcr_canvas *canvas, const tcr_chart *c, const scale *s, size_t k, tcr_box area) {
    const size_t cells = c->x.count * c->y.count;
    for (size_t j = 0; j < c->y.count; j++)
        for (size_t i = 0; i < c->x.count; i++)
            cell(canvas, c, s, cell_of(c, area, i, j), c->value[k * cells + j * c->x.count + i]);
    axis_words(canvas, c, area, true);
    axis_words(canvas, c, area, false);
    if (cells > 0 && c->best != SIZE_MAX && c->best / cells == k)
        ring(canvas, cell_of(c, area, c->best % c->x.count, c->best % cells / c->x.count));
    if (c->panel.count == 0)
        return;
    char text[TCR_WORDS], word[TCR_WORDS];
    const tcr_setting name = {
        .type = TCR_TYPE_LABEL, .colour = canvas->style->label_ink, .width_mm = area.width};
    snprintf(text, sizeof text, "%.60s %.60s", c->panel.name != NULL ? c->panel.name : "",
             tcr_chart_word(&c->panel, k, word));
    tcr_canvas_text(canvas, area.x, area.y - 1.4, text, &name);
}

void tcr_chart_map(tcr_canvas *canvas, const tcr_chart *c) {
    const scale s = scale_of(c);
    const tcr_box p = tcr_sheet_panel();
    const size_t n = panels_of(c);
    const size_t across = n <= 3   ? n
                          : n <= 4 ? 2
                          : n <= 9 ? 3
                                   : 4,
                 down = (n + across - 1) / across;
    const double left = 18, above = c->panel.count > 0 ? 6 : 2, below = 5, head = 8, foot = 6;
    const double width = (p.width - 6) / (double)across,
                 height = (p.height - head - foot) / (double)down;
    const tcr_setting quiet = {
        .type = TCR_TYPE_SMALL, .colour = canvas->style->paper_quiet, .width_mm = p.width - 12};
    for (size_t k = 0; k < n; k++) {
        const double x = p.x + (double)(k % across) * width,
                     y = p.y + head + (double)(k / across) * height;
        panel(canvas, c, &s, k,
              (tcr_box){x + left, y + above, width - left - 2, height - above - below});
    }
    char text[3 * TCR_WORDS];
    tcr_canvas_text(canvas, p.x + 4, p.y + 5.4, c->quantity, &quiet);
    snprintf(text, sizeof text, "across: %.200s \xc2\xb7 up: %.200s",
             c->x.name != NULL ? c->x.name : "", c->y.name != NULL ? c->y.name : "");
    tcr_canvas_text(canvas, p.x + left, p.y + p.height - 2.6, text, &quiet);
}

double tcr_chart_map_legend(tcr_canvas *canvas, const tcr_chart *c, tcr_box column) {
    enum { STEPS = 24 };
    const scale s = scale_of(c);
    cairo_t *cr = canvas->cr;
    double y =
        tcr_figures_heading(canvas, "The darker, the better", column.x, column.y, column.width);
    if (!s.any)
        return tcr_figures_body(canvas, "no cell has a value", column.x, y, column.width);
    tcr_sheet_paper(canvas, (tcr_box){column.x, y + 0.6, column.width, 6});
    for (int i = 0; i < STEPS; i++) {
        const double share = (i + 0.5) / STEPS, value = s.least + share * (s.most - s.least);
        cairo_new_path(cr);
        cairo_rectangle(cr, column.x + column.width * i / STEPS, y + 0.6, column.width / STEPS, 6);
        tcr_canvas_colour(canvas, tcr_rgba_faded(canvas->style->help, shade(c, &s, value)));
        cairo_fill(cr);
    }
    char number[TCR_WORDS];
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, tcr_chart_number(s.least, s.most - s.least, number),
                        0, column.x, y + 9.8);
    tcr_figures_aligned(canvas, TCR_TYPE_SMALL, tcr_chart_number(s.most, s.most - s.least, number),
                        1, column.x + column.width, y + 9.8);
    y += 11;
    const bool best = c->best != SIZE_MAX;
    if (s.all && !best)
        return y;
    return tcr_figures_body(canvas,
                            s.all  ? "frame: the best"
                            : best ? "frame: the best; cross: no value"
                                   : "cross: no value",
                            column.x, y, column.width);
}
