/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_LESSON_WORDS_H
#define TCR_DRAW_LESSON_WORDS_H

#include <stddef.h>

#include <tipcrest/lesson.h>
#include <tipcrest/mean.h>
#include <tipcrest/step.h>

#include "draw/picture.h"

/* Places at which a lesson tries the rule: over the distance of the layers, then once each. */
enum {
    TCR_LESSON_POINTS = 17,
    TCR_LESSON_SPREADS = 4,
    TCR_LESSON_AT_OWN = 0,
    TCR_LESSON_AT_ALIKE = TCR_LESSON_POINTS,
    TCR_LESSON_AT_HERE = 2 * TCR_LESSON_POINTS,
    TCR_LESSON_AT_COUCH,
    TCR_LESSON_AT_SPREAD,
    TCR_LESSON_PLACES = TCR_LESSON_AT_SPREAD + TCR_LESSON_SPREADS
};
enum { TCR_LESSON_PROFILES = 2 }; /* equal lengths, 1 mm less a layer */

extern const double tcr_lesson_spread_deg[TCR_LESSON_SPREADS]; /* of pitch */

/* What the sheet of a lesson shows. */
typedef struct tcr_lesson_sheet {
    const tcr_picture *picture;
    tcr_side side;
    tcr_layer_heights heights;
    unsigned layers;                     /* that have lashes, bits 1 << layer; all if none */
    double apart_mm;                     /* mean distance of the layers; NaN: there is only one */
    double bottom_mm;                    /* length of the profiles' bottom layer */
    tcr_placement placement[TCR_LAYERS]; /* of the profiles */
    tcr_status reasoned;
    tcr_step_reason reason; /* of the level step at the pupil */
    tcr_status tried;
    tcr_lesson lesson[TCR_LESSON_PLACES];
    double pays_mm, more_mm, turns_rad;
} tcr_lesson_sheet;

/* Takes over the layers' heights, which layers have lashes, and how far they are apart. */
void tcr_lesson_take_layers(tcr_lesson_sheet *sheet, const tcr_layer_heights *heights);
/* How far the layers are apart at a point of the curves, mm. */
double tcr_lesson_apart_mm(int point);
/* The places from TCR_LESSON_AT_OWN and TCR_LESSON_AT_ALIKE on, and TCR_LESSON_AT_HERE. */
void tcr_lesson_list_places(bool has_apart, double apart_mm,
                            tcr_lesson_place place[TCR_LESSON_AT_HERE + 1]);

/* The rms of a choice at a place; NaN where there is none. */
double tcr_lesson_rms(const tcr_lesson_sheet *sheet, int place, tcr_lesson_choice choice);
/* Whether a layer has lashes. */
bool tcr_lesson_has(const tcr_lesson_sheet *sheet, int layer);

/* Whether a rule was tried on lashes that can be judged: too few of them are as none,
 * TCR_E_MISSING.
 */
tcr_status tcr_lesson_tried(tcr_status status, const tcr_lesson *here);

/* Words that follow from the figures. Every text has room for TCR_LESSON_TEXT bytes. */
enum { TCR_LESSON_TEXT = 1600, TCR_LESSON_SENTENCES = 3 };
/* "12/11/10": the lengths of the layers that have lashes, less_mm shorter for each layer up. */
void tcr_lesson_say_lengths(const tcr_lesson_sheet *sheet, int less_mm, char text[TCR_LESSON_TEXT]);
/* Whether 1 mm less a layer helps here, without a full stop; or why nobody can say. */
void tcr_lesson_say_answer(const tcr_lesson_sheet *sheet, char text[TCR_LESSON_TEXT]);
/* Why, when, and what the couch shows; empty where that is not known. */
void tcr_lesson_say(const tcr_lesson_sheet *sheet, int sentence, char text[TCR_LESSON_TEXT]);
/* What variation costs the rule; empty where that is not known. */
void tcr_lesson_say_variation(const tcr_lesson_sheet *sheet, char text[TCR_LESSON_TEXT]);
/* The figures behind all these. */
void tcr_lesson_say_more(const tcr_lesson_sheet *sheet, char text[TCR_LESSON_TEXT]);

#endif
