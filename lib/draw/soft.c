/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Soft layers: a small image, blurred by three running means (which come close to a Gaussian) and
 * laid on the sheet by cairo's bilinear filter.
 */
#include "draw/soft.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { PIXELS_MAX = 512 * 512, CHANNELS = 4 };

void tcr_soft_begin(tcr_canvas *canvas, tcr_box box, double blur, tcr_soft *soft) {
    *soft = (tcr_soft){.sheet = canvas->cr, .box = box, .blur = fmax(blur, 0.1)};
    const double area = fmax(box.width, 1) * fmax(box.height, 1);
    if (!cairo_has_current_point(canvas->cr))
        cairo_rectangle(canvas->cr, box.x, box.y, box.width, box.height);
    /* Six points to a slope are enough for it to look smooth. */
    soft->per_mm = fmin(fmin(2, 6 / soft->blur), sqrt(PIXELS_MAX / area));
    const int width = (int)ceil(fmax(box.width, 1) * soft->per_mm);
    const int height = (int)ceil(fmax(box.height, 1) * soft->per_mm);
    soft->surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    canvas->cr = cairo_create(soft->surface);
    cairo_scale(canvas->cr, soft->per_mm, soft->per_mm);
    cairo_translate(canvas->cr, -box.x, -box.y);
}

/*
 * The running mean of 2 radius + 1 rows, of all columns at once; beyond the ends the end rows go
 * on. sum holds count numbers.
 */
static void mean_of_rows(const unsigned char *from, unsigned char *to, int rows, size_t count,
                         int radius, uint32_t *sum) {
    const uint32_t width = (uint32_t)(2 * radius + 1);
    const uint32_t factor = (1u << 22) / width; /* 255 width factor stays below 2^32 */
    for (size_t i = 0; i < count; i++)
        sum[i] = (uint32_t)(radius + 1) * from[i];
    for (int y = 1; y <= radius; y++) {
        const unsigned char *row = from + (size_t)(y < rows ? y : rows - 1) * count;
        for (size_t i = 0; i < count; i++)
            sum[i] += row[i];
    }
    for (int y = 0; y < rows; y++) {
        const int next = y + radius + 1, last = y - radius;
        const unsigned char *enters = from + (size_t)(next < rows ? next : rows - 1) * count;
        const unsigned char *leaves = from + (size_t)(last > 0 ? last : 0) * count;
        unsigned char *out = to + (size_t)y * count;
        for (size_t i = 0; i < count; i++) {
            out[i] = (unsigned char)((sum[i] * factor + (1u << 21)) >> 22);
            sum[i] += (uint32_t)enters[i] - leaves[i];
        }
    }
}

/* Rows become columns, point by point. */
static void transpose(const unsigned char *from, unsigned char *to, int width, int height) {
    for (int y = 0; y < height; y++)
        for (int x = 0; x < width; x++)
            memcpy(to + CHANNELS * ((size_t)x * (size_t)height + (size_t)y),
                   from + CHANNELS * ((size_t)y * (size_t)width + (size_t)x), CHANNELS);
}

/* Three means one way, then the other; a and b hold the image each, the result is in a. */
static void blur_pixels(unsigned char *a, unsigned char *b, int width, int height, int radius,
                        uint32_t *sum) {
    for (int way = 0; way < 2; way++) {
        const int rows = way == 0 ? height : width, columns = way == 0 ? width : height;
        const size_t count = CHANNELS * (size_t)columns;
        mean_of_rows(a, b, rows, count, radius, sum);
        mean_of_rows(b, a, rows, count, radius, sum);
        mean_of_rows(a, b, rows, count, radius, sum);
        transpose(b, a, columns, rows);
    }
}

/*
 * Premultiplied channels stay consistent, as the same linear filter runs over all of them. False
 * without memory.
 */
static bool blur_surface(cairo_surface_t *surface, int radius) {
    const int width = cairo_image_surface_get_width(surface);
    const int height = cairo_image_surface_get_height(surface);
    cairo_surface_flush(surface);
    unsigned char *pixels = cairo_image_surface_get_data(surface);
    if (pixels == NULL || cairo_image_surface_get_stride(surface) != CHANNELS * width)
        return false; /* cairo's stride of 32-bit pixels is just that, unless it has no memory */
    const size_t bytes = CHANNELS * (size_t)width * (size_t)height;
    unsigned char *other = calloc(bytes, 1);
    uint32_t *sum = malloc(sizeof *sum * CHANNELS * (size_t)(width > height ? width : height));
    const bool done = other != NULL && sum != NULL;
    if (done)
        blur_pixels(pixels, other, width, height, radius, sum);
    free(other);
    free(sum);
    cairo_surface_mark_dirty(surface);
    return done;
}

void tcr_soft_end(tcr_canvas *canvas, tcr_soft *soft) {
    cairo_t *cr = soft->sheet;
    cairo_destroy(canvas->cr);
    canvas->cr = cr;
    /* Three means of 2 r + 1 points spread an edge over about 3 (2 r + 1), most of it over half of
     * that. */
    const int radius = (int)lround(soft->blur * soft->per_mm / 3);
    if (radius > 0 && !blur_surface(soft->surface, radius))
        canvas->lacks_memory = true;
    cairo_save(cr);
    cairo_translate(cr, soft->box.x, soft->box.y);
    cairo_scale(cr, 1 / soft->per_mm, 1 / soft->per_mm);
    cairo_set_source_surface(cr, soft->surface, 0, 0);
    cairo_pattern_set_extend(cairo_get_source(cr), CAIRO_EXTEND_PAD);
    cairo_pattern_set_filter(cairo_get_source(cr), CAIRO_FILTER_BILINEAR);
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
    cairo_fill(cr);
    cairo_restore(cr);
    cairo_surface_destroy(soft->surface);
    soft->surface = NULL;
}
