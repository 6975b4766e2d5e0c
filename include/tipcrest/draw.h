/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_H
#define TCR_DRAW_H

#include <stdbool.h>
#include <stddef.h>

#include <cairo.h>

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>

/*
 * libtipcrest-draw: pictures of a checked set, on a cairo context of the embedder's or as a PNG.
 *
 * Pango and GLib end the process when memory runs out; drawing alone is exempt from "no memory is
 * an error". A picture goes to the caller's sink, so that files stay whole even then. Memory comes
 * from the C library. Different threads may draw at once, each on a cairo context of its own, also
 * the same check.
 */

typedef struct tcr_picture_options {
    size_t size; /* of this struct; set by tcr_picture_options_default */
    double
        width_mm; /* of the picture, 20 to 2000; default 254. Everything scales with it, text too */
    double dpi;   /* of a PNG, 10 to 1200; default 160 */
    bool lines;   /* fitted and intended line, and the band of the tolerance; default true */
    bool staggered; /* marks on staggered tips; default true */
    bool artist;    /* the artist's view of the closed eye beside it; default true */
    bool dark;      /* dark ground; default false */
} tcr_picture_options;

/* The longest side of a PNG in pixels: a picture of 12000 x 6750 takes 324 MB while it is made. */
enum { TCR_PICTURE_PIXELS_MAX = 12000 };

TCR_API tcr_picture_options tcr_picture_options_default(void);

/*
 * The front view of every eye of a check on a cairo context whose unit is the millimetre, in a
 * sheet from (0, 0) to (width_mm, height); y runs downwards. options may be NULL for the defaults.
 * height_mm receives the sheet's height and may be asked for first with cr = NULL. The context's
 * path is lost, its state restored. TCR_E_ARGUMENT, TCR_E_RANGE, or TCR_E_MEMORY where cairo
 * reports an error; the sheet is then half drawn. Time grows with the lashes up to 12000 hairs;
 * beyond, they are thinned out evenly and the sheet says so.
 */
TCR_API tcr_status tcr_draw_front(cairo_t *cr, const tcr_check *check,
                                  const tcr_picture_options *options, double *height_mm);

/*
 * The same as a PNG with its physical size (pHYs) and the set's title and figures in text chunks,
 * given to sink in pieces. The status as above; TCR_E_RANGE also for a side above
 * TCR_PICTURE_PIXELS_MAX; TCR_E_WRITE where sink returns other than 0, after which it is not called
 * again. The same check, options and fonts give the same bytes.
 *
 * Text chunks: Title (where the set has one), Software, Description, and for each eye, "left" or
 * "right": left.lashes, left.extended, left.fitted.rms_mm, left.fitted.p95_abs_mm,
 * left.fitted.tolerance_mm, left.fitted.within_tolerance, left.fitted.layer_offset_mm.bottom,
 * .middle and .top ("null" for an empty layer), left.intended.rms_mm, digit for digit as in the
 * report; or left.fitted_reason.
 */
TCR_API tcr_status tcr_draw_front_png(const tcr_check *check, const tcr_picture_options *options,
                                      int (*sink)(void *context, const void *bytes, size_t count),
                                      void *context);

#endif
