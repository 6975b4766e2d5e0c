/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What every picture needs of cairo and Pango. Text is set by attributes and never as markup, so
 * that no title or id can mean anything to Pango; bytes that are not UTF-8 are replaced before
 * Pango sees them, since it would complain on stderr. Hinting is off: a picture is the same at
 * every resolution.
 *
 * Type is as large as the style says in Noto Sans. A wider face is set smaller, until a line holds
 * as many words; so a sheet is whole with whatever face the machine has.
 */
#include "draw/canvas.h"

#include <math.h>
#include <sys/mman.h>

/* What the sample measures in Noto Sans (2.004), in em; by regular and bold. */
static const char SAMPLE[] =
    "rms from the fitted line: 95 % of tips within 0.57 mm, closed, seen from "
    "60 above (assumed)";
static const double SAMPLE_EM[2] = {42.80, 45.25};

/* A text that has no room is set smaller in steps, down to the least, before it is cut. */
static const double SMALLER = 0.96, LEAST = 0.7;

/*
 * Whether the libraries below have room. They do not cope without: GLib ends the process where it
 * cannot begin a thread, and fontconfig 2.14 reads through NULL (FcFontSetSort, FcRuleDestroy).
 * Pango looks for fonts in several threads, and each may take a stack of 8 MB and 128 MB of
 * addresses for its heap (glibc); 250 MB in all were measured. Addresses alone are asked for, not
 * memory, of which a picture takes some 20 MB.
 */
static bool has_room(void) {
    static const size_t ROOM = (size_t)512 << 20;
    void *room = mmap(NULL, ROOM, PROT_NONE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
    return room != MAP_FAILED && munmap(room, ROOM) == 0;
}

static PangoFontDescription *font_of(double size_mm, bool bold) {
    PangoFontDescription *font = pango_font_description_new();
    if (font != NULL) {
        pango_font_description_set_family_static(font, "Noto Sans, DejaVu Sans, sans-serif");
        pango_font_description_set_absolute_size(font, size_mm * PANGO_SCALE);
        pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
    }
    return font;
}

static void set_font(PangoLayout *layout, double size_mm, bool bold) {
    PangoFontDescription *font = font_of(size_mm, bold);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
}

static void no_hinting(PangoContext *context) {
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(context, FALSE);
}

/* By how much regular and bold type of the face at hand is set smaller than the style says. It is
 * measured off the sheet, so that it does not depend on the sheet's resolution. TCR_E_FONT where no
 * face has the sample's letters: Pango would draw a box for each. */
static tcr_status measure_fit(double fit[2]) {
    tcr_status status = TCR_OK;
    static const double SIZE = 64;
    PangoContext *context = pango_font_map_create_context(pango_cairo_font_map_get_default());
    no_hinting(context);
    PangoLayout *layout = pango_layout_new(context);
    pango_layout_set_text(layout, SAMPLE, -1);
    for (int bold = 0; bold < 2; bold++) {
        PangoRectangle extents;
        set_font(layout, SIZE, bold);
        if (pango_layout_get_unknown_glyphs_count(layout) > 0)
            status = TCR_E_FONT;
        pango_layout_get_extents(layout, NULL, &extents);
        const double wide = (double)extents.width / PANGO_SCALE / SIZE;
        fit[bold] = wide > 0 ? fmin(1, SAMPLE_EM[bold] / wide) : 1;
    }
    g_object_unref(layout);
    g_object_unref(context);
    return status;
}

tcr_status tcr_canvas_begin(tcr_canvas *canvas, cairo_t *cr, const tcr_style *style) {
    *canvas = (tcr_canvas){.cr = cr, .style = style};
    if (cairo_status(cr) != CAIRO_STATUS_SUCCESS || !has_room())
        return TCR_E_MEMORY;
    const tcr_status status = measure_fit(canvas->fit);
    if (status != TCR_OK)
        return status;
    cairo_save(cr);
    cairo_new_path(cr);
    canvas->context = pango_cairo_create_context(cr);
    no_hinting(canvas->context);
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
    const bool whole = cairo_status(canvas->cr) == CAIRO_STATUS_SUCCESS && !canvas->lacks_memory;
    return whole ? TCR_OK : TCR_E_MEMORY;
}

void tcr_canvas_page(tcr_canvas *canvas) {
    cairo_show_page(canvas->cr);
    canvas->page++;
}

void tcr_canvas_colour(tcr_canvas *canvas, tcr_rgba colour) {
    cairo_set_source_rgba(canvas->cr, colour.red, colour.green, colour.blue, colour.alpha);
}

/* What stands for a sign of ours that the fonts at hand lack: true minus and arrows. */
static char stand_in(gunichar sign) {
    switch (sign) {
    case 0x2212:
        return '-';
    case 0x2190:
        return '<';
    case 0x2192:
        return '>';
    default:
        return '\0';
    }
}

static void set_text(PangoLayout *layout, const char *text) {
    char *valid = g_utf8_make_valid(text, -1);
    pango_layout_set_text(layout, valid, -1);
    if (pango_layout_get_unknown_glyphs_count(layout) > 0) {
        char *to = valid;
        for (const char *from = valid, *next; *from != '\0'; from = next) {
            const char plain = stand_in(g_utf8_get_char(from));
            next = g_utf8_next_char(from);
            if (plain != '\0')
                *to++ = plain;
            else
                for (const char *byte = from; byte < next; byte++)
                    *to++ = *byte;
        }
        pango_layout_set_text(layout, valid, (int)(to - valid));
    }
    g_free(valid);
}

/* Lays the text out; its own extents in millimetres, the origin at the top left of the layout. */
static tcr_box lay_out(tcr_canvas *canvas, const char *text, const tcr_setting *setting) {
    PangoLayout *layout = canvas->layout;
    const tcr_type_face *face = &canvas->style->type[setting->type];
    const bool limited = setting->width_mm > 0;
    const bool broken = setting->lines > 1;
    double size_mm = face->size_mm * canvas->fit[face->bold];
    const double least_mm = LEAST * size_mm;
    set_font(layout, size_mm, face->bold);
    pango_layout_set_width(layout, limited ? (int)(setting->width_mm * PANGO_SCALE) : -1);
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_height(layout, broken ? -setting->lines : -1);
    pango_layout_set_ellipsize(layout, !limited            ? PANGO_ELLIPSIZE_NONE
                                       : setting->keep_end ? PANGO_ELLIPSIZE_MIDDLE
                                                           : PANGO_ELLIPSIZE_END);
    set_text(layout, text);
    while (size_mm * SMALLER >= least_mm && pango_layout_is_ellipsized(layout)) {
        size_mm *= SMALLER;
        set_font(layout, size_mm, face->bold);
    }
    PangoRectangle extents;
    pango_layout_get_extents(layout, NULL, &extents);
    return (tcr_box){(double)extents.x / PANGO_SCALE, (double)extents.y / PANGO_SCALE,
                     (double)extents.width / PANGO_SCALE, (double)extents.height / PANGO_SCALE};
}

/* Of a box of the canvas, the one on the surface that holds it. */
static tcr_box on_surface(cairo_t *cr, tcr_box box) {
    tcr_vec2 low = {INFINITY, INFINITY}, high = {-INFINITY, -INFINITY};
    for (int corner = 0; corner < 4; corner++) {
        double x = box.x + (corner & 1 ? box.width : 0), y = box.y + (corner & 2 ? box.height : 0);
        cairo_user_to_device(cr, &x, &y);
        low = (tcr_vec2){fmin(low.x, x), fmin(low.y, y)};
        high = (tcr_vec2){fmax(high.x, x), fmax(high.y, y)};
    }
    return (tcr_box){low.x, low.y, high.x - low.x, high.y - low.y};
}

/* Tells the canvas' watcher of the text that is laid out, its layout's top left at a point. */
static void report(tcr_canvas *canvas, double left, double top, const char *text) {
    const tcr_text_watcher *watcher = &canvas->watcher;
    PangoRectangle ink;
    double x, y, right, low;
    if (watcher->call == NULL)
        return;
    pango_layout_get_extents(canvas->layout, &ink, NULL);
    cairo_clip_extents(canvas->cr, &x, &y, &right, &low);
    const tcr_text_drawn drawn = {
        .text = text,
        .page = canvas->page,
        .ink = on_surface(canvas->cr, (tcr_box){left + (double)ink.x / PANGO_SCALE,
                                                top + (double)ink.y / PANGO_SCALE,
                                                (double)ink.width / PANGO_SCALE,
                                                (double)ink.height / PANGO_SCALE}),
        .clip = on_surface(canvas->cr, (tcr_box){x, y, right - x, low - y}),
        .cut = pango_layout_is_ellipsized(canvas->layout),
        .unknown = pango_layout_get_unknown_glyphs_count(canvas->layout)};
    watcher->call(watcher->context, &drawn);
}

double tcr_canvas_text(tcr_canvas *canvas, double x, double y, const char *text,
                       const tcr_setting *setting) {
    const tcr_box box = lay_out(canvas, text, setting);
    const double baseline = (double)pango_layout_get_baseline(canvas->layout) / PANGO_SCALE;
    /* -box.x: a right-to-left paragraph stands at the far end of its layout. */
    const double left = x - box.x - setting->align * box.width, top = y - baseline;
    tcr_canvas_colour(canvas, setting->colour);
    cairo_move_to(canvas->cr, left, top);
    pango_cairo_show_layout(canvas->cr, canvas->layout);
    cairo_new_path(canvas->cr);
    report(canvas, left, top, text);
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
