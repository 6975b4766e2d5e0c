/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_WRITE_H
#define TCR_DRAW_WRITE_H

#include "draw/picture.h"

/* Pictures as files, each format in a file of its own. */

/* A file in memory while it is made; all zero before. */
typedef struct tcr_picture_file {
    char *byte;
    size_t count, capacity;
    bool lost; /* there was no memory for a part */
} tcr_picture_file;

/* Adds to a file; false once there was no memory to. */
bool tcr_picture_add(tcr_picture_file *file, const void *bytes, size_t count);
/* The same as cairo's function to write; context is the file. */
cairo_status_t tcr_picture_add_cairo(void *context, const unsigned char *bytes, unsigned count);
/* Frees a file, which goes to the sink before if it is whole: nothing was lost, and its writer
 * returned TCR_OK. The writer's status, TCR_E_MEMORY or TCR_E_WRITE. */
tcr_status tcr_picture_hand_over(tcr_picture_file *file, tcr_status status, tcr_sink sink,
                                 void *context);

/* What a picture shows, in a sentence or two. */
enum { TCR_DESCRIPTION = 700 };
const char *tcr_picture_describe(char out[TCR_DESCRIPTION], const tcr_picture_view *view,
                                 const tcr_picture *picture);

/* What the properties of a PDF say, and no date. Call it once something was drawn: GLib must not be
 * called without room (canvas.c). */
void tcr_pdf_describe(cairo_surface_t *surface, const char *title, const char *subject);

/* A picture in memory, 32 bits a pixel, in the pixels of its dpi; *surface is the caller's to
 * destroy and may be NULL where this fails. */
tcr_status tcr_picture_paint(const tcr_picture_view *view, const tcr_picture *picture,
                             cairo_surface_t **surface);

/* Without success the file may hold a part, and is still the caller's. */
typedef tcr_status (*tcr_picture_writer)(const tcr_picture_view *view, const tcr_picture *picture,
                                         tcr_picture_file *file);
tcr_status tcr_picture_png(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_file *file);
tcr_status tcr_picture_svg(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_file *file);
tcr_status tcr_picture_pdf(const tcr_picture_view *view, const tcr_picture *picture,
                           tcr_picture_file *file);

#endif
