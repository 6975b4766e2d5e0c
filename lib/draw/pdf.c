/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pictures as PDF, by cairo: one page, as large as the picture and a strip below it with a bar to
 * check the size of a print by. No date is written, so that the same picture is the same bytes.
 */
#include "draw/write.h"

#include <cairo-pdf.h>

#include <stdio.h>

#include <tipcrest/version.h>

#include "draw/sheet.h"
#include "draw/words.h"

static const double points_per_mm = 72 / 25.4;
static const double strip = 7; /* height, of a sheet TCR_SHEET_WIDTH wide */

static double unit_of(const tcr_picture *picture) {
    return picture->options.width_mm / TCR_SHEET_WIDTH;
}

/* The bar and its name, in the strip below the picture; cr is in millimetres of the page. */
static tcr_status check_bar(cairo_t *cr, const tcr_picture *picture) {
    const double unit = unit_of(picture), top = tcr_picture_height_mm(picture);
    const double thick = 1.2 * unit, left = TCR_EDGE * unit, y = top + 3.2 * unit;
    const int length = picture->options.width_mm >= 70 ? 50 : 10;
    tcr_canvas canvas;
    const tcr_status status = tcr_canvas_begin(&canvas, cr, tcr_style_on(picture->options.dark));
    if (status != TCR_OK)
        return status;
    tcr_canvas_colour(&canvas, canvas.style->ground);
    cairo_rectangle(cr, 0, top - 0.1 * unit, picture->options.width_mm, (strip + 1) * unit);
    cairo_fill(cr);
    tcr_canvas_colour(&canvas, canvas.style->ink);
    cairo_rectangle(cr, left, y - thick, length, thick);
    cairo_fill(cr);
    /* Every other centimetre of it is light. */
    tcr_canvas_colour(&canvas, canvas.style->ground);
    for (int i = 10; i < length; i += 20)
        cairo_rectangle(cr, left + i, y - 0.8 * thick, 10, 0.6 * thick);
    cairo_fill(cr);
    char text[TCR_WORDS];
    const tcr_setting small = {.type = TCR_TYPE_SMALL, .colour = canvas.style->quiet};
    snprintf(text, sizeof text, "This bar is %d mm long on paper printed at full size (100 %%).",
             length);
    cairo_scale(cr, unit, unit);
    tcr_canvas_text(&canvas, (left + length) / unit + 2.5, y / unit + 0.2, text, &small);
    return tcr_canvas_end(&canvas);
}

void tcr_pdf_describe(cairo_surface_t *surface, const char *titled, const char *subject) {
    char software[TCR_WORDS];
    char *title = g_utf8_make_valid(titled, -1);
    snprintf(software, sizeof software, "tipcrest %s", tcr_version());
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, subject);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, software);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    g_free(title);
}

tcr_status tcr_picture_pdf(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_file *file) {
    char words[TCR_DESCRIPTION];
    const double width = picture->options.width_mm;
    const double height = tcr_picture_height_mm(picture) + strip * unit_of(picture);
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(
        tcr_picture_add_cairo, file, points_per_mm * width, points_per_mm * height);
    cairo_t *cr = cairo_create(surface);
    cairo_scale(cr, points_per_mm, points_per_mm);
    tcr_status status = tcr_picture_fill(view, cr, picture);
    if (status == TCR_OK)
        status = check_bar(cr, picture);
    if (status == TCR_OK)
        tcr_pdf_describe(surface, tcr_picture_title(picture),
                         tcr_picture_describe(words, view, picture));
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    if (status == TCR_OK && cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        status = TCR_E_MEMORY;
    cairo_surface_destroy(surface);
    return status;
}
