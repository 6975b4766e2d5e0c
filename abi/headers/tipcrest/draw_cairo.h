/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_CAIRO_H
#define TCR_DRAW_CAIRO_H 
#include <cairo.h>
#include <tipcrest/draw.h>
TCR_API tcr_status tcr_picture_draw(const char *view, cairo_t *cr, const tcr_check *check,
                                    const tcr_picture_options *options, double *height_mm);
TCR_API tcr_status tcr_step_picture_draw(cairo_t *cr, const tcr_set *set,
                                         const tcr_step_picture *step,
                                         const tcr_picture_options *options, double *height_mm);
#endif
