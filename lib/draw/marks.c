/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Marks over the eye. Every mark has a light rim so that it reads on hair as well as on skin, and a
 * shape of its own (solid, dashed, ring), so that it reads without colour.
 */
#include "draw/marks.h"

#include <math.h>
#include <stdio.h>

#include "draw/words.h"

/* Rings shrink with the eye, within what can be seen. */
static double ring_radius(const tcr_viewport *viewport) {
    return fmax(0.8, fmin(1.15, 0.32 * viewport->scale));
}

static double line_x(const tcr_line *line, int i) {
    return line->x_min_mm + (line->x_max_mm - line->x_min_mm) * i / (TCR_LINE_SAMPLES - 1);
}

static bool on_sheet(tcr_vec2 p) { return fabs(p.x) < 1e5 && fabs(p.y) < 1e5; }

/* The line raised by an amount, one way or the other along it; points off any sheet are left out.
 */
static void add_line(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_line *line,
                     double raised, bool reversed) {
    for (int i = 0; i < TCR_LINE_SAMPLES; i++) {
        const double x = line_x(line, reversed ? TCR_LINE_SAMPLES - 1 - i : i);
        const tcr_vec2 p =
            tcr_viewport_seen(viewport, (tcr_vec2){x, tcr_line_at(line, x) + raised});
        if (on_sheet(p))
            cairo_line_to(canvas->cr, p.x, p.y);
    }
}

void tcr_mark_band(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_line *line,
                   double tolerance_mm) {
    cairo_new_path(canvas->cr);
    add_line(canvas, viewport, line, tolerance_mm, false);
    add_line(canvas, viewport, line, -tolerance_mm, true);
    cairo_close_path(canvas->cr);
    tcr_canvas_colour(canvas, canvas->style->band);
    cairo_fill(canvas->cr);
}

void tcr_mark_line_block(const tcr_viewport *viewport, const tcr_line *line, double depth_mm,
                         tcr_label_map *map) {
    enum { STEP = 5 };
    const double clear = 0.3;
    for (int i = 0; i + STEP < TCR_LINE_SAMPLES; i += STEP) {
        const double x[] = {line_x(line, i), line_x(line, i + STEP)};
        const tcr_vec2 a = tcr_viewport_seen(viewport, (tcr_vec2){x[0], tcr_line_at(line, x[0])});
        const tcr_vec2 b = tcr_viewport_seen(viewport, (tcr_vec2){x[1], tcr_line_at(line, x[1])});
        const double top = fmin(a.y, b.y) - clear + fmin(depth_mm, 0);
        const double foot = fmax(a.y, b.y) + clear + fmax(depth_mm, 0);
        if (on_sheet(a) && on_sheet(b))
            tcr_label_block(map, (tcr_box){fmin(a.x, b.x), top, fabs(b.x - a.x), foot - top});
    }
}

void tcr_mark_stroke(tcr_canvas *canvas, tcr_against line, double weight) {
    cairo_t *cr = canvas->cr;
    const double dash[] = {2.2 * weight, 1.5 * weight};
    cairo_save(cr);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    if (line == TCR_INTENDED)
        cairo_set_dash(cr, dash, 2, 0);
    tcr_canvas_colour(canvas, canvas->style->halo);
    cairo_set_line_width(cr, 1.05 * weight);
    cairo_stroke_preserve(cr);
    tcr_canvas_colour(canvas, line == TCR_FITTED ? canvas->style->fitted : canvas->style->intended);
    cairo_set_line_width(cr, (line == TCR_FITTED ? 0.55 : 0.5) * weight);
    cairo_stroke(cr);
    cairo_restore(cr);
}

void tcr_mark_line(tcr_canvas *canvas, const tcr_viewport *viewport, const tcr_line *line,
                   tcr_against which) {
    cairo_new_path(canvas->cr);
    cairo_new_sub_path(canvas->cr);
    add_line(canvas, viewport, line, 0, false);
    /* Thinner on small eyes, so that it does not cover what it is to show. */
    tcr_mark_stroke(canvas, which, fmax(0.5, fmin(1, viewport->scale / 2.6)));
}

void tcr_mark_ring(tcr_canvas *canvas, tcr_vec2 middle, double radius) {
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_arc(cr, middle.x, middle.y, radius, 0, 4 * acos(0.0));
    tcr_canvas_colour(canvas, canvas->style->halo);
    cairo_set_line_width(cr, 0.85);
    cairo_stroke_preserve(cr);
    tcr_canvas_colour(canvas, canvas->style->ring);
    cairo_set_line_width(cr, 0.42);
    cairo_stroke(cr);
}

size_t tcr_mark_worst(const tcr_eye_result *eye, size_t index[TCR_RINGS_MAX]) {
    size_t count = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        const double size = fabs(eye->lash[i].deviation_mm);
        if (!eye->lash[i].staggered || !isfinite(size))
            continue;
        size_t place = count;
        while (place > 0 && size > fabs(eye->lash[index[place - 1]].deviation_mm))
            place--;
        if (place >= TCR_RINGS_MAX)
            continue;
        if (count < TCR_RINGS_MAX)
            count++;
        for (size_t k = count - 1; k > place; k--)
            index[k] = index[k - 1];
        index[place] = i;
    }
    return count;
}

void tcr_mark_say(char out[TCR_WORDS], double deviation_mm, double tolerance_mm) {
    int decimals = 2;
    while (decimals < 3 && round(fabs(deviation_mm) * pow(10, decimals)) <=
                               round(tolerance_mm * pow(10, decimals) + 1e-6))
        decimals++;
    tcr_say_number(out, deviation_mm, decimals, true);
}

static bool name_tip(tcr_canvas *canvas, tcr_vec2 tip, double radius, const char *text,
                     tcr_label_map *map) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    const tcr_setting setting = {
        .type = TCR_TYPE_LABEL, .colour = style->label_ink, .width_mm = 24, .keep_end = true};
    const tcr_box size = tcr_canvas_measure(canvas, text, &setting);
    const tcr_label *label = tcr_label_place(map, tip, radius, size.width + 1.2, size.height + 0.1);
    if (label == NULL)
        return false;
    const tcr_box box = label->box;
    cairo_new_path(cr);
    cairo_move_to(cr, label->from.x, label->from.y);
    cairo_line_to(cr, label->to.x, label->to.y);
    tcr_canvas_colour(canvas, style->ring);
    cairo_set_line_width(cr, 0.22);
    cairo_stroke(cr);
    tcr_canvas_rounded(canvas, box, fmin(0.9, box.height / 2));
    tcr_canvas_colour(canvas, style->label_ground);
    cairo_fill(cr);
    tcr_canvas_text(canvas, box.x + 0.6, box.y + 0.05 - size.y, text, &setting);
    return true;
}

size_t tcr_mark_staggered_at(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                             tcr_mark_place place, const void *context, double radius,
                             tcr_label_map *map) {
    const tcr_eye_result *eye = tcr_check_eye(check, side);
    const tcr_set *set = tcr_check_set(check);
    size_t index[TCR_RINGS_MAX];
    const size_t count = tcr_mark_worst(eye, index);
    for (size_t i = 0; i < count; i++) {
        const tcr_vec2 at = place(context, &eye->lash[index[i]]);
        if (!on_sheet(at))
            continue;
        tcr_mark_ring(canvas, at, radius);
        tcr_label_block(map, (tcr_box){at.x - radius, at.y - radius, 2 * radius, 2 * radius});
    }
    size_t named = 0;
    for (size_t i = 0; i < count && i < TCR_NAMES_MAX; i++) {
        char text[TCR_ID_SIZE_MAX + TCR_WORDS], number[TCR_WORDS];
        tcr_mark_say(number, eye->lash[index[i]].deviation_mm, tcr_check_tolerance(check));
        /* Left to right (U+200E) with the id isolated (U+2068, U+2069), so that an id of any script
         * leaves the number and its sign where they are. */
        snprintf(text, sizeof text, "\xe2\x80\x8e\xe2\x81\xa8%s\xe2\x81\xa9  %s",
                 tcr_set_id(set, side, index[i]), number);
        const tcr_vec2 at = place(context, &eye->lash[index[i]]);
        if (on_sheet(at) && name_tip(canvas, at, radius, text, map))
            named++;
    }
    return named;
}

static tcr_vec2 tip_in(const void *context, const tcr_lash_result *lash) {
    return tcr_viewport_seen(context, lash->seen);
}

size_t tcr_mark_staggered(tcr_canvas *canvas, const tcr_check *check, tcr_side side,
                          const tcr_viewport *viewport, tcr_label_map *map) {
    return tcr_mark_staggered_at(canvas, check, side, tip_in, viewport, ring_radius(viewport), map);
}

void tcr_mark_bar(tcr_canvas *canvas, tcr_vec2 corner, double scale, double longest_mm) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    const int length = 10 * scale <= longest_mm ? 10 : 5;
    const double thick = 0.9;
    cairo_new_path(cr);
    cairo_rectangle(cr, corner.x, corner.y - thick, length * scale, thick);
    tcr_canvas_colour(canvas, style->label_ground);
    cairo_fill_preserve(cr);
    tcr_canvas_colour(canvas, style->label_ink);
    cairo_set_line_width(cr, 0.2);
    cairo_stroke(cr);
    for (int i = 0; i < length; i += 2)
        cairo_rectangle(cr, corner.x + i * scale, corner.y - thick, scale, thick);
    cairo_fill(cr);
    const tcr_setting setting = {.type = TCR_TYPE_SMALL, .colour = style->label_ink};
    tcr_canvas_text(canvas, corner.x, corner.y - thick - 1.1, length == 10 ? "10 mm" : "5 mm",
                    &setting);
}
