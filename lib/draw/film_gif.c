/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A film as one GIF (GIF89a) that plays without end, by giflib. One palette serves all frames: it
 * comes from some of them, evenly chosen, so that it takes no second drawing of the rest. A frame
 * holds only the box that changed, and what did not change inside it is transparent.
 */
#include "draw/write.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gif_lib.h>

#include "draw/palette.h"

enum { SAMPLED = 8, TRANSPARENT = TCR_PALETTE_MOST, COLOURS = 256 };
/* A blink is far shorter than any screen can show: the film runs slowly. Hundredths of a second. */
enum { PLAYS_CS = 200, SHORTEST_CS = 2, FIRST_CS = 60, LAST_CS = 200 };

/* Where the bytes go as they are made: a long film is large. */
typedef struct outlet {
    tcr_sink put;
    void *context;
    bool refused; /* it is not called again */
} outlet;

typedef struct film {
    const tcr_picture_view *view;
    tcr_picture picture;
    tcr_palette *palette;
    int width, height;
    unsigned char *shown, *next; /* indices of the frame before and of this one */
    GifFileType *gif;
    const tcr_progress *progress;
} film;

static int on_write(GifFileType *gif, const GifByteType *bytes, int count) {
    outlet *to = gif->UserData;
    if (!to->refused)
        to->refused = to->put(to->context, bytes, (size_t)count) != 0;
    return to->refused ? 0 : count;
}

/* Whether the caller goes on; share of all frames to be drawn. */
static bool goes_on(const film *f, int drawn, int of) {
    return f->progress == NULL || f->progress->report == NULL ||
           f->progress->report(f->progress->context, "drawing", (double)drawn / of);
}

static tcr_status paint(film *f, int frame, cairo_surface_t **surface) {
    f->picture.options.frame = frame;
    return tcr_picture_paint(f->view, &f->picture, surface);
}

static const unsigned char *row_of(cairo_surface_t *surface, int y) {
    return cairo_image_surface_get_data(surface) +
           (size_t)y * (size_t)cairo_image_surface_get_stride(surface);
}

static int sampled(const film *f) {
    const int frames = f->picture.options.frames;
    return frames < SAMPLED ? frames : SAMPLED;
}

/* The palette, and the size of all frames. */
static tcr_status choose_palette(film *f) {
    const int frames = f->picture.options.frames, samples = sampled(f);
    for (int k = 0; k < samples; k++) {
        cairo_surface_t *surface;
        const int frame = samples > 1 ? k * (frames - 1) / (samples - 1) : 0;
        if (!goes_on(f, k, frames + samples))
            return TCR_E_STOPPED;
        const tcr_status status = paint(f, frame, &surface);
        if (status == TCR_OK) {
            f->width = cairo_image_surface_get_width(surface);
            f->height = cairo_image_surface_get_height(surface);
            for (int y = 0; y < f->height; y++)
                tcr_palette_count(f->palette, row_of(surface, y), f->width);
        }
        if (surface != NULL)
            cairo_surface_destroy(surface);
        if (status != TCR_OK)
            return status;
    }
    tcr_palette_choose(f->palette);
    return TCR_OK;
}

/* ---- The file ------------------------------------------------------------------------ */

static bool begin(film *f) {
    static const unsigned char WITHOUT_END[] = {1, 0, 0};
    uint8_t rgb[TCR_PALETTE_MOST][3];
    GifColorType colour[COLOURS] = {{0}};
    char words[TCR_DESCRIPTION];
    const size_t colours = tcr_palette_colours(f->palette, rgb);
    for (size_t i = 0; i < colours; i++)
        colour[i] = (GifColorType){rgb[i][0], rgb[i][1], rgb[i][2]};
    ColorMapObject *map = GifMakeMapObject(COLOURS, colour);
    if (map == NULL)
        return false;
    EGifSetGifVersion(f->gif, true);
    const bool good =
        EGifPutScreenDesc(f->gif, f->width, f->height, 8, 0, map) == GIF_OK &&
        EGifPutExtensionLeader(f->gif, APPLICATION_EXT_FUNC_CODE) == GIF_OK &&
        EGifPutExtensionBlock(f->gif, 11, "NETSCAPE2.0") == GIF_OK &&
        EGifPutExtensionBlock(f->gif, sizeof WITHOUT_END, WITHOUT_END) == GIF_OK &&
        EGifPutExtensionTrailer(f->gif) == GIF_OK &&
        EGifPutComment(f->gif, tcr_picture_describe(words, f->view, &f->picture)) == GIF_OK;
    GifFreeMapObject(map);
    return good;
}

typedef struct changed {
    int left, top, right, low; /* right and low are behind it */
} changed;

/* The box in which a frame differs from the one before; of one pixel where it is the same. */
static changed changed_of(const film *f) {
    changed c = {f->width, f->height, 0, 0};
    for (int y = 0; y < f->height; y++) {
        const unsigned char *a = f->shown + (size_t)y * (size_t)f->width;
        const unsigned char *b = f->next + (size_t)y * (size_t)f->width;
        for (int x = 0; x < f->width; x++)
            if (a[x] != b[x]) {
                c.left = x < c.left ? x : c.left;
                c.right = x + 1 > c.right ? x + 1 : c.right;
                c.top = y < c.top ? y : c.top;
                c.low = y + 1;
            }
    }
    return c.right > 0 ? c : (changed){0, 0, 1, 1};
}

static int delay_of(const film *f, int frame) {
    const int frames = f->picture.options.frames;
    const int even = PLAYS_CS / frames;
    return frame + 1 == frames ? LAST_CS
           : frame == 0        ? FIRST_CS
                               : (even > SHORTEST_CS ? even : SHORTEST_CS);
}

/* Writes what is in 'next' against what is in 'shown'; row has room for a row. */
static bool put_frame(film *f, int frame, unsigned char *row) {
    const changed c = frame == 0 ? (changed){0, 0, f->width, f->height} : changed_of(f);
    const GraphicsControlBlock control = {.DisposalMode = DISPOSE_DO_NOT,
                                          .DelayTime = delay_of(f, frame),
                                          .TransparentColor =
                                              frame == 0 ? NO_TRANSPARENT_COLOR : TRANSPARENT};
    GifByteType extension[4];
    EGifGCBToExtension(&control, extension);
    if (EGifPutExtension(f->gif, GRAPHICS_EXT_FUNC_CODE, sizeof extension, extension) != GIF_OK ||
        EGifPutImageDesc(f->gif, c.left, c.top, c.right - c.left, c.low - c.top, false, NULL) !=
            GIF_OK)
        return false;
    for (int y = c.top; y < c.low; y++) {
        const size_t start = (size_t)y * (size_t)f->width;
        for (int x = c.left; x < c.right; x++) {
            const unsigned char now = f->next[start + (size_t)x];
            const bool same = frame > 0 && now == f->shown[start + (size_t)x];
            row[x - c.left] = same ? TRANSPARENT : now;
        }
        if (EGifPutLine(f->gif, row, c.right - c.left) != GIF_OK)
            return false;
    }
    return true;
}

static tcr_status put_frames(film *f, unsigned char *row) {
    const int frames = f->picture.options.frames, samples = sampled(f);
    for (int frame = 0; frame < frames; frame++) {
        cairo_surface_t *surface;
        if (!goes_on(f, samples + frame, frames + samples))
            return TCR_E_STOPPED;
        const tcr_status status = paint(f, frame, &surface);
        for (int y = 0; y < f->height && status == TCR_OK; y++)
            tcr_palette_map(f->palette, row_of(surface, y), f->width, y,
                            f->next + (size_t)y * (size_t)f->width);
        if (surface != NULL)
            cairo_surface_destroy(surface);
        if (status != TCR_OK)
            return status;
        if (!put_frame(f, frame, row))
            return TCR_E_MEMORY; /* or the sink refused, which write_film tells apart */
        unsigned char *const swap = f->shown;
        f->shown = f->next;
        f->next = swap;
    }
    return TCR_OK;
}

static tcr_status write_film(film *f, outlet *to) {
    int why;
    const size_t pixels = (size_t)f->width * (size_t)f->height;
    unsigned char *row = malloc((size_t)f->width);
    f->shown = calloc(pixels, 1);
    f->next = calloc(pixels, 1);
    f->gif = EGifOpen(to, on_write, &why);
    tcr_status status = row != NULL && f->shown != NULL && f->next != NULL && f->gif != NULL
                            ? TCR_OK
                            : TCR_E_MEMORY;
    if (status == TCR_OK && !begin(f))
        status = TCR_E_MEMORY;
    if (status == TCR_OK)
        status = put_frames(f, row);
    if (f->gif != NULL && EGifCloseFile(f->gif, &why) != GIF_OK && status == TCR_OK)
        status = TCR_E_MEMORY;
    free(row);
    free(f->shown);
    free(f->next);
    return to->refused ? TCR_E_WRITE : status;
}

tcr_status tcr_film_write(const tcr_check *check, const tcr_picture_options *options,
                          const tcr_progress *progress, tcr_sink sink, void *context) {
    film f = {.view = &tcr_picture_view_film, .progress = progress};
    outlet to = {.put = sink, .context = context};
    if (sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_picture_take(check, options, &f.picture);
    if (status != TCR_OK)
        return status;
    f.palette = tcr_palette_new();
    status = f.palette != NULL ? choose_palette(&f) : TCR_E_MEMORY;
    if (status == TCR_OK)
        status = write_film(&f, &to);
    tcr_palette_free(f.palette);
    return status;
}
