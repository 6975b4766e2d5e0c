/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What every picture needs of cairo and Pango. Text is set by attributes and never as markup, so
 * that no title or id can mean anything to Pango; bytes that are not UTF-8 are replaced before
 * Pango sees them, since it would complain on stderr. Hinting is off: a picture is the same at
 * every resolution.
 */
#include "draw/canvas.h"

#include <math.h>

static PangoFontDescription *font_of(const tcr_type_face *face) {
    PangoFontDescription *font = pango_font_description_new();
    if (font != NULL) {
        pango_font_description_set_family_static(font, "Noto Sans, sans-serif");
        pango_font_description_set_absolute_size(font, face->size_mm * PANGO_SCALE);
        pango_font_description_set_weight(font,
                                          face->bold ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
    }
    return font;
}

tcr_status tcr_canvas_begin(tcr_canvas *canvas, cairo_t *cr, const tcr_style *style) {
    *canvas = (tcr_canvas){.cr = cr, .style = style};
    if (cairo_status(cr) != CAIRO_STATUS_SUCCESS)
        return TCR_E_MEMORY;
    cairo_save(cr);
    cairo_new_path(cr);
    canvas->context = pango_cairo_create_context(cr);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(canvas->context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(canvas->context, FALSE);
    canvas->layout = pango_layout_new(canvas->context);
    pango_layout_set_single_paragraph_mode(canvas->layout, TRUE);
    return TCR_OK;
}

tcr_status tcr_canvas_end(tcr_canvas *canvas) {
    if (canvas->layout != NULL)
        g_object_unref(canvas->layout);
    if (canvas->context != NULL)
        g_object_unref(canvas->context);
    cairo_new_path(canvas->cr);
    cairo_restore(canvas->cr);
    return cairo_status(canvas->cr) == CAIRO_STATUS_SUCCESS ? TCR_OK : TCR_E_MEMORY;
}

void tcr_canvas_colour(tcr_canvas *canvas, tcr_rgba colour) {
    cairo_set_source_rgba(canvas->cr, colour.red, colour.green, colour.blue, colour.alpha);
}

/* Lays the text out; its own extents in millimetres, the origin at the top left of the layout. */
static tcr_box lay_out(tcr_canvas *canvas, const char *text, const tcr_setting *setting) {
    PangoLayout *layout = canvas->layout;
    PangoFontDescription *font = font_of(&canvas->style->type[setting->type]);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    const bool limited = setting->width_mm > 0;
    const bool broken = setting->lines > 1;
    pango_layout_set_width(layout, limited ? (int)(setting->width_mm * PANGO_SCALE) : -1);
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_height(layout, broken ? -setting->lines : -1);
    pango_layout_set_ellipsize(layout, !limited            ? PANGO_ELLIPSIZE_NONE
                                       : setting->keep_end ? PANGO_ELLIPSIZE_MIDDLE
                                                           : PANGO_ELLIPSIZE_END);
    char *valid = g_utf8_make_valid(text, -1);
    pango_layout_set_text(layout, valid, -1);
    g_free(valid);
    PangoRectangle extents;
    pango_layout_get_extents(layout, NULL, &extents);
    return (tcr_box){(double)extents.x / PANGO_SCALE, (double)extents.y / PANGO_SCALE,
                     (double)extents.width / PANGO_SCALE, (double)extents.height / PANGO_SCALE};
}

double tcr_canvas_text(tcr_canvas *canvas, double x, double y, const char *text,
                       const tcr_setting *setting) {
    const tcr_box box = lay_out(canvas, text, setting);
    const double baseline = (double)pango_layout_get_baseline(canvas->layout) / PANGO_SCALE;
    tcr_canvas_colour(canvas, setting->colour);
    /* -box.x: a right-to-left paragraph stands at the far end of its layout. */
    cairo_move_to(canvas->cr, x - box.x - setting->align * box.width, y - baseline);
    pango_cairo_show_layout(canvas->cr, canvas->layout);
    cairo_new_path(canvas->cr);
    return box.height;
}

tcr_box tcr_canvas_measure(tcr_canvas *canvas, const char *text, const tcr_setting *setting) {
    tcr_box box = lay_out(canvas, text, setting);
    box.x = -setting->align * box.width;
    box.y = -(double)pango_layout_get_baseline(canvas->layout) / PANGO_SCALE;
    return box;
}

void tcr_canvas_rounded(tcr_canvas *canvas, tcr_box box, double radius) {
    cairo_t *cr = canvas->cr;
    const double quarter = acos(0.0);
    const double right = box.x + box.width - radius, bottom = box.y + box.height - radius;
    cairo_new_sub_path(cr);
    cairo_arc(cr, right, box.y + radius, radius, -quarter, 0);
    cairo_arc(cr, right, bottom, radius, 0, quarter);
    cairo_arc(cr, box.x + radius, bottom, radius, quarter, 2 * quarter);
    cairo_arc(cr, box.x + radius, box.y + radius, radius, 2 * quarter, 3 * quarter);
    cairo_close_path(cr);
}

void tcr_canvas_polyline(tcr_canvas *canvas, const tcr_vec2 *point, size_t count, bool reversed) {
    for (size_t i = 0; i < count; i++) {
        const tcr_vec2 p = point[reversed ? count - 1 - i : i];
        cairo_line_to(canvas->cr, p.x, p.y);
    }
}

void tcr_canvas_taper(tcr_canvas *canvas, const tcr_vec2 *point, const double *half, size_t count) {
    tcr_vec2 normal[TCR_TAPER_MAX];
    if (count < 2 || count > TCR_TAPER_MAX)
        return;
    for (size_t i = 0; i < count; i++) {
        const tcr_vec2 before = point[i > 0 ? i - 1 : 0];
        const tcr_vec2 after = point[i + 1 < count ? i + 1 : count - 1];
        const double dx = after.x - before.x, dy = after.y - before.y;
        const double length = hypot(dx, dy);
        normal[i] = length > 0 ? (tcr_vec2){-dy / length, dx / length} : (tcr_vec2){0, 0};
    }
    cairo_new_sub_path(canvas->cr);
    for (size_t i = 0; i < count; i++)
        cairo_line_to(canvas->cr, point[i].x + half[i] * normal[i].x,
                      point[i].y + half[i] * normal[i].y);
    for (size_t i = count; i-- > 0;)
        cairo_line_to(canvas->cr, point[i].x - half[i] * normal[i].x,
                      point[i].y - half[i] * normal[i].y);
    cairo_close_path(canvas->cr);
}

void tcr_canvas_soft_stroke(tcr_canvas *canvas, tcr_rgba colour, double width, int steps) {
    /* Each of n strokes lets 1 - share through, so that together they reach the colour's alpha. */
    const double share = 1 - pow(1 - fmin(colour.alpha, 0.999), 1.0 / steps);
    colour.alpha = share;
    tcr_canvas_colour(canvas, colour);
    for (int i = 0; i < steps; i++) {
        cairo_set_line_width(canvas->cr, width * (steps - i) / steps);
        cairo_stroke_preserve(canvas->cr);
    }
}

void tcr_canvas_glow(tcr_canvas *canvas, tcr_vec2 middle, double radius, double squash,
                     tcr_rgba colour) {
    cairo_t *cr = canvas->cr;
    cairo_pattern_t *pattern = cairo_pattern_create_radial(0, 0, 0, 0, 0, radius);
    /* A smooth fall, 1 - 3 t^2 + 2 t^3 at five places. */
    for (int i = 0; i <= 4; i++) {
        const double t = i / 4.0;
        const double alpha = colour.alpha * (1 - t * t * (3 - 2 * t));
        cairo_pattern_add_color_stop_rgba(pattern, t, colour.red, colour.green, colour.blue, alpha);
    }
    cairo_save(cr);
    cairo_translate(cr, middle.x, middle.y);
    cairo_scale(cr, 1, squash);
    cairo_new_path(cr);
    cairo_arc(cr, 0, 0, radius, 0, 4 * acos(0.0));
    cairo_set_source(cr, pattern);
    cairo_fill(cr);
    cairo_restore(cr);
    cairo_pattern_destroy(pattern);
}
