/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines that measure, as in a technical drawing. */
#include "draw/dimension.h"

#include <math.h>

static const double thin = 0.18, head_length = 1.5, head_half = 0.42;

void tcr_dimension_thin(tcr_canvas *canvas, tcr_vec2 from, tcr_vec2 to, tcr_rgba colour,
                        bool dashed) {
    const double dash[] = {1.0, 0.8};
    cairo_t *cr = canvas->cr;
    cairo_save(cr);
    cairo_new_path(cr);
    cairo_move_to(cr, from.x, from.y);
    cairo_line_to(cr, to.x, to.y);
    if (dashed)
        cairo_set_dash(cr, dash, 2, 0);
    tcr_canvas_colour(canvas, colour);
    cairo_set_line_width(cr, thin);
    cairo_stroke(cr);
    cairo_restore(cr);
}

void tcr_dimension_head(tcr_canvas *canvas, tcr_vec2 at, tcr_vec2 from, tcr_rgba colour) {
    const double x = at.x - from.x, y = at.y - from.y, length = hypot(x, y);
    if (!(length > 0))
        return;
    const tcr_vec2 along = {x / length, y / length};
    const tcr_vec2 back = {at.x - head_length * along.x, at.y - head_length * along.y};
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_move_to(cr, at.x, at.y);
    cairo_line_to(cr, back.x - head_half * along.y, back.y + head_half * along.x);
    cairo_line_to(cr, back.x + head_half * along.y, back.y - head_half * along.x);
    cairo_close_path(cr);
    tcr_canvas_colour(canvas, colour);
    cairo_fill(cr);
}

void tcr_dimension_line(tcr_canvas *canvas, tcr_vec2 a, tcr_vec2 b, tcr_rgba colour) {
    const double x = b.x - a.x, y = b.y - a.y, length = hypot(x, y);
    if (!(length > 0))
        return;
    /* Without room inside, the arrows come from outside. */
    const bool inside = length > 2.6 * head_length;
    const double reach = inside ? 0 : 2 * head_length / length;
    const tcr_vec2 from = {a.x - reach * x, a.y - reach * y},
                   to = {b.x + reach * x, b.y + reach * y};
    tcr_dimension_thin(canvas, from, to, colour, false);
    tcr_dimension_head(canvas, a, inside ? b : from, colour);
    tcr_dimension_head(canvas, b, inside ? a : to, colour);
}

void tcr_dimension_arc(tcr_canvas *canvas, tcr_vec2 middle, double radius, double from_rad,
                       double to_rad, tcr_rgba colour) {
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    /* The sheet's y runs downwards, so angles change their sign. */
    if (to_rad > from_rad)
        cairo_arc_negative(cr, middle.x, middle.y, radius, -from_rad, -to_rad);
    else
        cairo_arc(cr, middle.x, middle.y, radius, -from_rad, -to_rad);
    tcr_canvas_colour(canvas, colour);
    cairo_set_line_width(cr, thin);
    cairo_stroke(cr);
    const double before = to_rad - copysign(fmin(head_length / radius, 1), to_rad - from_rad);
    const tcr_vec2 end = {middle.x + radius * cos(to_rad), middle.y - radius * sin(to_rad)};
    const tcr_vec2 back = {middle.x + radius * cos(before), middle.y - radius * sin(before)};
    if (fabs(to_rad - from_rad) * radius > head_length)
        tcr_dimension_head(canvas, end, back, colour);
}

tcr_box tcr_dimension_text(tcr_canvas *canvas, tcr_vec2 middle, const char *text, tcr_rgba colour) {
    const tcr_setting setting = {.type = TCR_TYPE_LABEL, .colour = colour};
    const tcr_box size = tcr_canvas_measure(canvas, text, &setting);
    const tcr_box box = {middle.x - size.width / 2 - 0.5, middle.y - size.height / 2,
                         size.width + 1, size.height};
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, box, fmin(0.8, box.height / 2));
    tcr_canvas_colour(canvas, canvas->style->label_ground);
    cairo_fill(canvas->cr);
    tcr_canvas_text(canvas, box.x + 0.5, box.y - size.y, text, &setting);
    return box;
}

void tcr_dimension_spread(double *place, int n, double gap, double low, double high) {
    enum { ROUNDS = 40 };
    for (int round = 0; round < ROUNDS; round++) {
        for (int i = 0; i + 1 < n; i++) {
            const double lack = gap - (place[i + 1] - place[i]);
            if (lack > 0) {
                place[i] -= lack / 2;
                place[i + 1] += lack / 2;
            }
        }
    }
    for (int i = 0; i < n; i++)
        place[i] = fmax(place[i], low + i * gap);
    for (int i = n; i-- > 0;)
        place[i] = fmin(place[i], high - (n - 1 - i) * gap);
}
