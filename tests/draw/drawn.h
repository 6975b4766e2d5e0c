/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_DRAW_DRAWN_H
#define TCR_TESTS_DRAW_DRAWN_H

/* Sets built in memory, their pictures kept as bytes, and what is in a picture: chunks and pixels.
 */

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/draw_cairo.h>
#include <tipcrest/tipcrest.h>

#include "support/check.h"
#include "support/make.h"

typedef struct bytes {
    unsigned char *byte;
    size_t count, capacity, calls;
    size_t fail_at; /* the call that is refused, from 1; 0 none */
} bytes;

static inline int keep_bytes(void *context, const void *piece, size_t count) {
    bytes *to = context;
    to->calls++;
    if (to->fail_at != 0 && to->calls >= to->fail_at)
        return 1;
    if (to->count + count > to->capacity) {
        to->capacity = 2 * (to->count + count);
        to->byte = realloc(to->byte, to->capacity);
        ck_assert_ptr_nonnull(to->byte);
    }
    memcpy(to->byte + to->count, piece, count);
    to->count += count;
    return 0;
}

/* A new set with a title (may be NULL) whose eyes have the map 9 10 12 11 C; both eyes if right and
 * left. */
static inline tcr_set *new_set(const char *title, bool right, bool left) {
    static const double length[] = {9, 10, 12, 11}, to[] = {0.2, 0.4, 0.8, 1};
    tcr_zone zone[4] = {0};
    tcr_set *set;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    if (title != NULL)
        expect_status(tcr_set_put_title(set, title), TCR_OK);
    for (int i = 0; i < 4; i++) {
        zone[i].to = to[i];
        zone[i].length_mm = length[i];
        strcpy(zone[i].curl, "C");
    }
    for (int side = 0; side < TCR_SIDES; side++) {
        if (!(side == TCR_LEFT ? left : right))
            continue;
        expect_status(tcr_set_add_eye(set, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, zone, 4), TCR_OK);
    }
    return set;
}

static inline void add_lash(tcr_set *set, tcr_side side, const char *id, double u,
                            tcr_layer layer) {
    const tcr_lash lash = tcr_lash_unknown(u, layer);
    expect_status(tcr_set_add_lash(set, side, id, &lash, NULL), TCR_OK);
}

/* About 90 lashes of three layers, all drawn by the contract's defaults but full grown. */
static inline void describe(tcr_set *set, size_t count) {
    tcr_description description = tcr_description_default();
    description.count = count;
    description.seed = 11;
    description.phases = TCR_PHASES_NONE;
    for (int side = 0; side < TCR_SIDES; side++)
        if (tcr_set_has_eye(set, (tcr_side)side))
            expect_status(tcr_set_describe(set, (tcr_side)side, &description), TCR_OK);
}

static inline tcr_check *check_of(const tcr_set *set) {
    tcr_check *check;
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    return check;
}

/* The picture's bytes, the caller's to free. */
static inline bytes png_of(const tcr_check *check, const tcr_picture_options *options) {
    bytes png = {0};
    expect_status(tcr_picture_write("front", TCR_PNG, check, options, keep_bytes, &png), TCR_OK);
    return png;
}

static inline uint32_t big_endian(const unsigned char *b) {
    return (uint32_t)b[0] << 24 | (uint32_t)b[1] << 16 | (uint32_t)b[2] << 8 | b[3];
}

/* The content of the n-th chunk of a type, from 0, or NULL. */
static inline const unsigned char *chunk(const bytes *png, const char *type, int n, size_t *count) {
    *count = 0;
    for (size_t at = 8; at + 12 <= png->count; at += 12 + big_endian(png->byte + at)) {
        *count = big_endian(png->byte + at);
        ck_assert(at + 12 + *count <= png->count);
        if (memcmp(png->byte + at + 4, type, 4) == 0 && n-- == 0)
            return png->byte + at + 8;
    }
    return NULL;
}

/* The text that a chunk holds under a key, the caller's to free, or NULL. */
static inline char *text_of(const bytes *png, const char *key) {
    static const char *const types[] = {"tEXt", "iTXt"};
    /* After the key's NUL, an uncompressed iTXt has two flags and two empty texts with their NULs.
     */
    static const size_t skip[] = {1, 5};
    for (int type = 0; type < 2; type++) {
        size_t count;
        const unsigned char *content;
        for (int n = 0; (content = chunk(png, types[type], n, &count)) != NULL; n++) {
            const size_t from = strlen(key) + skip[type];
            if (count < from || memcmp(content, key, strlen(key) + 1) != 0)
                continue;
            char *text = calloc(count - from + 1, 1);
            ck_assert_ptr_nonnull(text);
            memcpy(text, content + from, count - from);
            return text;
        }
    }
    return NULL;
}

typedef struct reader {
    const bytes *png;
    size_t at;
} reader;

static inline cairo_status_t read_piece(void *context, unsigned char *to, unsigned count) {
    reader *from = context;
    if (count > from->png->count - from->at)
        return CAIRO_STATUS_READ_ERROR;
    memcpy(to, from->png->byte + from->at, count);
    from->at += count;
    return CAIRO_STATUS_SUCCESS;
}

/* The pixels, by cairo's own reader; the caller's to destroy. */
static inline cairo_surface_t *pixels_of(const bytes *png) {
    reader from = {png, 0};
    cairo_surface_t *surface = cairo_image_surface_create_from_png_stream(read_piece, &from);
    ck_assert_int_eq(cairo_surface_status(surface), CAIRO_STATUS_SUCCESS);
    return surface;
}

static inline uint32_t pixel(cairo_surface_t *surface, int x, int y) {
    uint32_t value;
    /* Not ck_assert, which notes its place in a file each time: pictures have many pixels. */
    if (x < 0 || x >= cairo_image_surface_get_width(surface) || y < 0 ||
        y >= cairo_image_surface_get_height(surface))
        ck_abort_msg("there is no pixel %d, %d", x, y);
    memcpy(&value,
           cairo_image_surface_get_data(surface) +
               (size_t)y * (size_t)cairo_image_surface_get_stride(surface) + 4 * (size_t)x,
           sizeof value);
    return value & 0xffffff;
}

/* How light a pixel is, from 0 to 1, weights of Rec. 709 on the stored values. */
static inline double lightness(cairo_surface_t *surface, int x, int y) {
    const uint32_t value = pixel(surface, x, y);
    return (0.2126 * (value >> 16 & 0xff) + 0.7152 * (value >> 8 & 0xff) +
            0.0722 * (value & 0xff)) /
           255;
}

#endif
