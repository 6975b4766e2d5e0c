/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pictures as PNG: cairo draws into memory, libpng makes a file of it row by row, with the physical
 * size and with text chunks, so that a picture that was sent on still says what it shows. libpng's
 * errors come back by longjmp into write_png and leave as a status; it never prints.
 */
#include "draw/write.h"

#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <png.h>

#include <tipcrest/version.h>

#include "draw/words.h"
#include "num/number.h"

typedef struct tcr_png_stream {
    tcr_picture_file *file;
    jmp_buf failed;
} tcr_png_stream;

static void on_error(png_structp png, png_const_charp message) {
    tcr_png_stream *stream = png_get_error_ptr(png);
    (void)message;
    longjmp(stream->failed, 1);
}

static void on_warning(png_structp png, png_const_charp message) {
    (void)png;
    (void)message;
}

static void on_write(png_structp png, png_bytep bytes, png_size_t count) {
    tcr_png_stream *stream = png_get_io_ptr(png);
    if (!tcr_picture_add(stream->file, bytes, count))
        png_error(png, "out of memory");
}

static void on_flush(png_structp png) { (void)png; }

/* The text chunks of a picture; keys of figures are those of the report. */
enum { CHUNKS_MAX = 40, KEY_SIZE = 80 };
typedef struct tcr_png_texts {
    int count;
    png_text chunk[CHUNKS_MAX];
    char key[CHUNKS_MAX][KEY_SIZE];
    char value[CHUNKS_MAX][TCR_TITLE_SIZE_MAX];
} tcr_png_texts;

static void add_text(tcr_png_texts *texts, const char *key, const char *value) {
    if (texts->count >= CHUNKS_MAX || value[0] == '\0')
        return;
    const int i = texts->count++;
    bool ascii = true;
    for (const char *c = value; *c != '\0'; c++)
        ascii = ascii && *c >= ' ' && *c <= '~';
    snprintf(texts->key[i], KEY_SIZE, "%s", key);
    snprintf(texts->value[i], sizeof texts->value[i], "%s", value);
    texts->chunk[i] =
        (png_text){.compression = ascii ? PNG_TEXT_COMPRESSION_NONE : PNG_ITXT_COMPRESSION_NONE,
                   .key = texts->key[i],
                   .text = texts->value[i],
                   .text_length = strlen(texts->value[i])};
}

static void add_number(tcr_png_texts *texts, const char *side, const char *name, double value) {
    char key[KEY_SIZE], text[TCR_NUMBER_SIZE];
    snprintf(key, sizeof key, "%.5s.%.70s", side, name);
    tcr_number_text(value, text);
    add_text(texts, key, text);
}

static void add_eye(tcr_png_texts *texts, const tcr_eye_result *eye, const char *side) {
    const tcr_evenness *even = &eye->fitted;
    char key[KEY_SIZE], count[TCR_WORDS];
    snprintf(key, sizeof key, "%s.lashes", side);
    snprintf(count, sizeof count, "%zu", eye->lashes);
    add_text(texts, key, count);
    snprintf(key, sizeof key, "%s.extended", side);
    snprintf(count, sizeof count, "%zu", eye->extended);
    add_text(texts, key, count);
    if (eye->fitted_status != TCR_OK) {
        snprintf(key, sizeof key, "%s.fitted_reason", side);
        add_text(texts, key, tcr_status_text(eye->fitted_status));
        return;
    }
    add_number(texts, side, "fitted.rms_mm", even->upright.rms_mm);
    add_number(texts, side, "fitted.p95_abs_mm", even->upright.p95_abs_mm);
    add_number(texts, side, "fitted.tolerance_mm", even->tolerance_mm);
    add_number(texts, side, "fitted.within_tolerance", even->within_tolerance);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        snprintf(key, sizeof key, "fitted.layer_offset_mm.%s", tcr_layer_name((tcr_layer)layer));
        add_number(texts, side, key, even->layer_offset_mm[layer]);
    }
    if (eye->intended_status == TCR_OK)
        add_number(texts, side, "intended.rms_mm", eye->intended.upright.rms_mm);
}

static void texts_of(const tcr_picture_view *view, const tcr_picture *picture,
                     tcr_png_texts *texts) {
    const tcr_check *check = picture->check;
    texts->count = 0;
    char *title = g_utf8_make_valid(tcr_picture_title(picture), -1);
    add_text(texts, "Title", title);
    g_free(title);
    char software[TCR_WORDS], text[TCR_DESCRIPTION];
    snprintf(software, sizeof software, "tipcrest %s", tcr_version());
    add_text(texts, "Software", software);
    add_text(texts, "Description", tcr_picture_describe(text, view, picture));
    for (int side = 0; side < TCR_SIDES && check != NULL; side++) {
        const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
        if (eye != NULL)
            add_eye(texts, eye, side == TCR_LEFT ? "left" : "right");
    }
}

/* One row of cairo's 32-bit pixels as red, green, blue. */
static void to_rgb(const unsigned char *pixels, int count, png_bytep rgb) {
    for (int i = 0; i < count; i++) {
        uint32_t pixel;
        memcpy(&pixel, pixels + 4 * (size_t)i, sizeof pixel);
        *rgb++ = (png_byte)(pixel >> 16);
        *rgb++ = (png_byte)(pixel >> 8);
        *rgb++ = (png_byte)pixel;
    }
}

static void write_rows(png_structp png, png_infop info, cairo_surface_t *surface, double dpi,
                       tcr_png_texts *texts, png_bytep row) {
    const int width = cairo_image_surface_get_width(surface);
    const int height = cairo_image_surface_get_height(surface);
    const size_t stride = (size_t)cairo_image_surface_get_stride(surface);
    const unsigned char *pixels = cairo_image_surface_get_data(surface);
    const png_uint_32 per_metre = (png_uint_32)lround(dpi / 0.0254);
    png_set_IHDR(png, info, (png_uint_32)width, (png_uint_32)height, 8, PNG_COLOR_TYPE_RGB,
                 PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    png_set_sRGB(png, info, PNG_sRGB_INTENT_PERCEPTUAL);
    png_set_pHYs(png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
    png_set_text(png, info, texts->chunk, texts->count);
    png_set_compression_level(png, 4);
    png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_UP);
    png_write_info(png, info);
    for (int y = 0; y < height; y++) {
        to_rgb(pixels + (size_t)y * stride, width, row);
        png_write_row(png, row);
    }
    png_write_end(png, NULL);
}

static tcr_status write_png(cairo_surface_t *surface, double dpi, tcr_png_texts *texts,
                            tcr_picture_file *file) {
    tcr_png_stream stream = {.file = file};
    volatile tcr_status status = TCR_E_MEMORY; /* libpng fails of nothing else: sizes and chunks
                                                  are our own */
    const size_t width = (size_t)cairo_image_surface_get_width(surface);
    png_bytep const row = malloc(3 * width);
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, &stream, on_error, on_warning);
    png_infop info = png != NULL ? png_create_info_struct(png) : NULL;
    if (row != NULL && info != NULL) {
        png_set_write_fn(png, &stream, on_write, on_flush);
        if (setjmp(stream.failed) == 0) {
            write_rows(png, info, surface, dpi, texts, row);
            status = TCR_OK;
        }
    }
    png_destroy_write_struct(&png, &info);
    free(row);
    return status;
}

double tcr_picture_dpi_most(double width_mm) {
    return floor(TCR_PICTURE_PIXELS_MAX * 25.4 / width_mm);
}

tcr_status tcr_picture_paint(const tcr_picture_view *view, const tcr_picture *picture,
                             cairo_surface_t **surface) {
    const double per_mm = picture->options.dpi / 25.4;
    const double width = fmax(1, round(picture->options.width_mm * per_mm));
    const double height = fmax(1, round(tcr_picture_height_mm(picture) * per_mm));
    *surface = NULL;
    if (width > TCR_PICTURE_PIXELS_MAX || height > TCR_PICTURE_PIXELS_MAX)
        return TCR_E_RANGE;
    *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)width, (int)height);
    cairo_t *cr = cairo_create(*surface);
    cairo_scale(cr, per_mm, per_mm);
    tcr_status status = tcr_picture_fill(view, cr, picture);
    cairo_destroy(cr);
    cairo_surface_flush(*surface);
    if (status == TCR_OK && cairo_surface_status(*surface) != CAIRO_STATUS_SUCCESS)
        status = TCR_E_MEMORY;
    return status;
}

tcr_status tcr_picture_png(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_file *file) {
    cairo_surface_t *surface;
    tcr_status status = tcr_picture_paint(view, picture, &surface);
    tcr_png_texts *texts = status == TCR_OK ? malloc(sizeof *texts) : NULL;
    if (status == TCR_OK && texts == NULL)
        status = TCR_E_MEMORY;
    if (status == TCR_OK) {
        texts_of(view, picture, texts);
        status = write_png(surface, picture->options.dpi, texts, file);
    }
    free(texts);
    if (surface != NULL)
        cairo_surface_destroy(surface);
    return status;
}
