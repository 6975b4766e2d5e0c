/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_CAIRO_H
#define TCR_DRAW_CAIRO_H

#include <cairo.h>

#include <tipcrest/draw.h>

/*
 * Pictures of libtipcrest-draw on a cairo context. A program that includes this header asks
 * pkg-config for cairo beside tipcrest-draw.
 */

/*
 * A view of a check on a context whose unit is the millimetre, in a sheet from (0, 0) to (width_mm,
 * height); y runs downwards. options may be NULL for the defaults. height_mm, which may be NULL,
 * receives the sheet's height and may be asked for first with cr = NULL. The context's path is
 * lost, its state restored. Statuses as tcr_picture_write, without TCR_E_WRITE; after TCR_E_MEMORY
 * the sheet is half drawn.
 */
TCR_API tcr_status tcr_picture_draw(const char *view, cairo_t *cr, const tcr_check *check,
                                    const tcr_picture_options *options, double *height_mm);

/* The same for the picture of level steps; statuses as tcr_step_picture_write. */
TCR_API tcr_status tcr_step_picture_draw(cairo_t *cr, const tcr_set *set,
                                         const tcr_step_picture *step,
                                         const tcr_picture_options *options, double *height_mm);

#endif
