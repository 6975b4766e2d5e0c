/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How even a plan comes with how many corrections, as two curves on a work sheet: it tells which
 * number is worth its while. */
#include "draw/work_sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "draw/plot.h"
#include "num/order.h"

static const double HEIGHT_MM = 40.0, LINE_MM = 0.5;
static const double LEAST_WIDE = 9.0; /* corrections: ticks stand at whole ones */
static const double DASH_MM[] = {1.6, 0.9};

static double rms_of(const tcr_plan_point *point) { return point->rms_mm; }
static double p95_of(const tcr_plan_point *point) { return point->p95_mm; }

static tcr_plot plot_of(const tcr_work_flow *flow, const tcr_plan_result *r, double tolerance) {
    const double high = fmax(tolerance, r->point[0].p95_mm);
    const double step = tcr_plot_step(high, 5);
    return (tcr_plot){
        .area = {tcr_work_left(flow) + 8, flow->y + 6, TCR_PAGE_COLUMN - 8 - 17, HEIGHT_MM - 15},
        .x_high = fmax(LEAST_WIDE, (double)r->point[r->points - 1].corrections),
        .y_high = step * ceil(1.02 * high / step),
    };
}

static void line_between(tcr_canvas *canvas, tcr_vec2 from, tcr_vec2 to, tcr_rgba colour,
                         bool dashed) {
    cairo_new_path(canvas->cr);
    cairo_move_to(canvas->cr, from.x, from.y);
    cairo_line_to(canvas->cr, to.x, to.y);
    tcr_canvas_colour(canvas, colour);
    cairo_set_line_width(canvas->cr, 0.6 * LINE_MM);
    cairo_set_dash(canvas->cr, DASH_MM, dashed ? 2 : 0, 0);
    cairo_stroke(canvas->cr);
    cairo_set_dash(canvas->cr, NULL, 0, 0);
}

/* A curve, with its name behind its end; where that is. */
static tcr_vec2 curve(tcr_canvas *canvas, const tcr_plot *plot, const tcr_plan_result *r,
                      double (*of)(const tcr_plan_point *), bool dashed) {
    tcr_vec2 end = {0, 0};
    cairo_new_path(canvas->cr);
    for (size_t i = 0; i < r->points; i++) {
        end = tcr_plot_at(plot, (double)r->point[i].corrections, of(&r->point[i]));
        cairo_line_to(canvas->cr, end.x, end.y);
    }
    tcr_canvas_colour(canvas, canvas->style->ink);
    cairo_set_line_width(canvas->cr, LINE_MM);
    cairo_set_dash(canvas->cr, DASH_MM, dashed ? 2 : 0, 0);
    cairo_stroke(canvas->cr);
    cairo_set_dash(canvas->cr, NULL, 0, 0);
    return end;
}

typedef struct named {
    double y;
    const char *name;
} named;

static bool from_above(const void *a, const void *b, const void *unused) {
    (void)unused;
    return ((const named *)a)->y < ((const named *)b)->y;
}

/* Names behind the ends of the curves and of the tolerance, none over another: each as near its
 * own place as may be, and none below 'lowest', where the numbers of the axis are. */
static void names(tcr_canvas *canvas, double x, double lowest, named *of, size_t n) {
    static const double APART_MM = 3.4;
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet};
    tcr_sort_items(of, n, sizeof *of, from_above, NULL);
    for (size_t i = 1; i < n; i++)
        of[i].y = fmax(of[i].y, of[i - 1].y + APART_MM);
    for (size_t i = n; i-- > 0;) {
        of[i].y = fmin(of[i].y, lowest);
        lowest = of[i].y - APART_MM;
        tcr_canvas_text(canvas, x + 1.2, of[i].y + 1.0, of[i].name, &small);
    }
}

void tcr_work_curve(tcr_work_flow *flow) {
    const tcr_plan_result *r = tcr_plan_result_of(flow->sheet->plan);
    const double tolerance = tcr_set_tolerance(flow->sheet->set);
    tcr_canvas *canvas = flow->canvas;
    char axis[TCR_WORDS], of_tolerance[TCR_WORDS], number[TCR_WORDS];
    if (r->points < 2)
        return;
    tcr_work_room(flow, HEIGHT_MM + 8);
    const tcr_plot plot = plot_of(flow, r, tolerance);
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas->style->quiet};
    tcr_canvas_text(canvas, tcr_work_left(flow), flow->y + 3,
                    "Distance of tips from the line, mm, over the number of corrections", &small);
    tcr_plot_rules(canvas, &plot, false);
    line_between(canvas, tcr_plot_at(&plot, 0, tolerance),
                 tcr_plot_at(&plot, plot.x_high, tolerance), canvas->style->quiet, false);
    const tcr_vec2 p95 = curve(canvas, &plot, r, p95_of, true);
    const tcr_vec2 rms = curve(canvas, &plot, r, rms_of, false);
    const double made = (double)r->corrections;
    line_between(canvas, tcr_plot_at(&plot, made, 0), tcr_plot_at(&plot, made, plot.y_high),
                 canvas->style->ring, false);
    snprintf(of_tolerance, sizeof of_tolerance, "%.20s mm", tcr_say_trimmed(number, tolerance, 2));
    named end[] = {
        {tcr_plot_at(&plot, 0, tolerance).y, of_tolerance}, {p95.y, "95th pct"}, {rms.y, "rms"}};
    const double low = plot.area.y + plot.area.height;
    names(canvas, plot.area.x + plot.area.width, low, end, sizeof end / sizeof *end);
    snprintf(axis, sizeof axis, "corrections; the bar: %zu, as planned", r->corrections);
    tcr_canvas_text(canvas, plot.area.x, low + 7.4, axis, &small);
    flow->y += HEIGHT_MM;
    tcr_work_paragraph(
        flow,
        flow->sheet->picture.eyes > 1
            ? "rms: root of the mean square of all tips\xe2\x80\x99 distances, both eyes "
              "together. 95th pct: the distance that one tip in twenty exceeds, of the worse eye."
            : "rms: root of the mean square of all tips\xe2\x80\x99 distances. 95th pct: the "
              "distance that one tip in twenty exceeds.",
        canvas->style->quiet);
}
