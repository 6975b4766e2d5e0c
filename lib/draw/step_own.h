/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_STEP_OWN_H
#define TCR_DRAW_STEP_OWN_H

#include "draw/canvas.h"
#include "draw/lesson_words.h"

enum { TCR_STEP_OWN_ANGLES = 8 };

/* The set's own case in the picture of step: what map and rule give at the pupil, what they come to
 * on its lashes, and how that changes with the layers' distance and with the viewer. */
typedef struct tcr_step_own {
    bool known; /* the set has a map */
    size_t curl;
    tcr_lesson_sheet
        lesson;      /* for tcr_lesson_say_answer and the curves over the layers' distance */
    bool has_curves; /* lashes on two layers or more take part */
    tcr_lesson closed[TCR_STEP_OWN_ANGLES], open[TCR_STEP_OWN_ANGLES]; /* by the viewer */
} tcr_step_own;

/* Returns what tcr_lesson_of returns; TCR_OK in place of TCR_E_MISSING. */
tcr_status tcr_step_own_of(const tcr_picture *picture, tcr_step_own *own);
/* Two panels, one below the other. */
void tcr_step_own_curves(tcr_canvas *canvas, const tcr_step_own *own, tcr_box place);

/* The layers' heights: the set's, or as far apart as asked. */
tcr_layer_heights tcr_step_heights(const tcr_picture *picture);

#endif
