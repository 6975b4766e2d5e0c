/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_PICTURE_H
#define TCR_DRAW_PICTURE_H

#include <tipcrest/chart.h>
#include <tipcrest/draw_cairo.h>

#include "draw/canvas.h"

/*
 * What a view is: a name and a function that fills a sheet. To make another, copy the view_NAME.c
 * that is most like it, declare its tcr_picture_view_NAME here and add it to VIEWS in picture.c;
 * the command, PNG, SVG and PDF then know it.
 */

/* What a view is to draw. */
typedef struct tcr_picture {
    const tcr_set *set;
    const tcr_check *check;      /* NULL in a picture of level steps and in a chart */
    tcr_step_picture step;       /* what that shows */
    const tcr_chart *chart;      /* checked; NULL in all other pictures */
    tcr_picture_options options; /* checked */
    tcr_text_watcher watcher;    /* of its texts; all zero for none */
    int eyes;                    /* to be drawn, at least one */
    tcr_side side[TCR_SIDES];    /* from the viewer's left to right: the client's right eye first */
    tcr_side only;               /* for views of one eye: the first of them in the set */
} tcr_picture;

typedef struct tcr_picture_view {
    const char *name;
    const char *brief; /* what it shows, one line without a full stop */
    /* Fills a sheet TCR_SHEET_WIDTH wide and TCR_SHEET_HEIGHT high, on its ground already. */
    tcr_status (*draw)(tcr_canvas *canvas, const tcr_picture *picture);
} tcr_picture_view;

extern const tcr_picture_view tcr_picture_view_front, tcr_picture_view_artist,
    tcr_picture_view_side, tcr_picture_view_deviations, tcr_picture_view_layers,
    tcr_picture_view_compare, tcr_picture_view_film, tcr_picture_view_why, tcr_picture_view_step,
    tcr_picture_view_lesson, tcr_picture_view_study;

/* The view of a name, or NULL. */
const tcr_picture_view *tcr_picture_view_find(const char *name);

/* Check and options put together and checked; options may be NULL. */
tcr_status tcr_picture_take(const tcr_check *check, const tcr_picture_options *options,
                            tcr_picture *picture);
/* The same for a picture of level steps, which needs no check. */
tcr_status tcr_picture_take_step(const tcr_set *set, const tcr_step_picture *step,
                                 const tcr_picture_options *options, tcr_picture *picture);
/* The same for a chart; 'taken' receives what the picture refers to. */
tcr_status tcr_picture_take_chart(const tcr_chart *chart, const tcr_picture_options *options,
                                  tcr_chart *taken, tcr_picture *picture);
tcr_status tcr_picture_take_options(const tcr_picture_options *given, tcr_picture_options *taken);
/* The title of its set or of its chart; "" for none. */
const char *tcr_picture_title(const tcr_picture *picture);
/* The picture's size on paper. */
double tcr_picture_height_mm(const tcr_picture *picture);
/* The view of a taken picture, as tcr_picture_draw does it. */
tcr_status tcr_picture_fill(const tcr_picture_view *view, cairo_t *cr, const tcr_picture *picture);

#endif
