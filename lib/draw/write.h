/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_WRITE_H
#define TCR_DRAW_WRITE_H

#include "draw/picture.h"

/* Pictures as files, each format in a file of its own. */

/* Where the bytes go. */
typedef struct tcr_picture_sink {
    tcr_sink put;
    void *context;
    bool refused; /* it is not called again */
} tcr_picture_sink;

/* False once the sink refused. */
bool tcr_picture_put(tcr_picture_sink *sink, const void *bytes, size_t count);

/* What a picture shows, in a sentence or two. */
enum { TCR_DESCRIPTION = 700 };
const char *tcr_picture_describe(char out[TCR_DESCRIPTION], const tcr_picture_view *view,
                                 const tcr_picture *picture);

/* A picture in memory, 32 bits a pixel, in the pixels of its dpi; *surface is the caller's to
 * destroy and may be NULL where this fails. */
tcr_status tcr_picture_paint(const tcr_picture_view *view, const tcr_picture *picture,
                             cairo_surface_t **surface);

typedef tcr_status (*tcr_picture_writer)(const tcr_picture_view *view, const tcr_picture *picture,
                                         tcr_picture_sink *sink);
tcr_status tcr_picture_png(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_sink *sink);
tcr_status tcr_picture_svg(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_sink *sink);
tcr_status tcr_picture_pdf(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_sink *sink);

#endif
