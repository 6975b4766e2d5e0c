/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_CAIRO_H
#define TCR_DRAW_CAIRO_H

#include <cairo.h>

#include <tipcrest/draw.h>

/*
 * Pictures of libtipcrest-draw on a cairo context. A program that includes this header needs cairo
 * from pkg-config as well as tipcrest-draw. Stack: below 384 kB.
 */

/*
 * Draws a view of a check on a cairo context with the millimetre as its unit, on a sheet from (0,
 * 0) to (width_mm, height); y runs downwards. options may be NULL for the defaults. height_mm
 * receives the sheet's height and may be NULL. If cr is NULL, nothing is drawn and only the height
 * is given. The context's path is lost and its state restored; the caller keeps the context.
 * Statuses as for tcr_picture_write, without TCR_E_WRITE; after TCR_E_MEMORY the sheet is half
 * drawn.
 */
TCR_API tcr_status tcr_picture_draw(const char *view, cairo_t *cr, const tcr_check *check,
                                    const tcr_picture_options *options, double *height_mm);

/*
 * The same for the picture of the level steps. Statuses as for tcr_step_picture_write, without
 * TCR_E_WRITE.
 */
TCR_API tcr_status tcr_step_picture_draw(cairo_t *cr, const tcr_set *set,
                                         const tcr_step_picture *step,
                                         const tcr_picture_options *options, double *height_mm);

#endif
