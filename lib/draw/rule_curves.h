/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_RULE_CURVES_H
#define TCR_DRAW_RULE_CURVES_H

#include <tipcrest/lesson.h>

#include "draw/canvas.h"
#include "draw/lesson_words.h"

/*
 * How far off one line the tips lie with equal lengths, with 1 mm less a layer and with the best
 * sizes: a panel of paper with a curve for each, over how far the layers are apart or the viewer's
 * angle.
 */
typedef struct tcr_rule_curves {
    tcr_box panel;
    const char *head, *along, *what_is_thin; /* title; label of the x axis; what thin curves are */
    int points;
    double step;                    /* from point to point; the first is at 0 */
    const tcr_lesson *thick, *thin; /* of the points; NULL: no such curves */
    double at;                      /* x of the vertical mark; NaN: there is none */
    const char *mark;               /* what it says */
    bool of_tray;                   /* the best sizes are those of a tray */
} tcr_rule_curves;

void tcr_rule_curves_draw(tcr_canvas *canvas, const tcr_rule_curves *curves);
/* Those of a lesson over how far the layers are apart. asked: the user gave the distance. */
void tcr_rule_curves_by_distance(tcr_canvas *canvas, const tcr_lesson_sheet *sheet, bool asked,
                                 tcr_box panel);

#endif
