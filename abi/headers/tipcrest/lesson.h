/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LESSON_H
#define TCR_LESSON_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/export.h>
#include <tipcrest/progress.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
#include <tipcrest/step.h>
typedef enum tcr_lesson_choice {
    TCR_LESSON_EQUAL = 0,
    TCR_LESSON_ONE_LESS = 1,
    TCR_LESSON_TWO_LESS = 2,
    TCR_LESSON_BEST = 3
} tcr_lesson_choice;
enum { TCR_LESSON_CHOICES = 4, TCR_LESSON_DRAWS = 10 };
typedef struct tcr_lesson_place {
    bool has_apart;
    double apart_mm;
    tcr_view view;
    bool alike;
    double pitch_sd_rad;
} tcr_lesson_place;
TCR_API tcr_lesson_place tcr_lesson_place_default(void);
typedef struct tcr_lesson {
    size_t lashes;
    double rms_mm[TCR_LESSON_CHOICES];
    double best_less_mm[TCR_UPPER_LAYERS];
} tcr_lesson;
TCR_API tcr_status tcr_lesson_of(const tcr_set *set, tcr_side side, const tcr_lesson_place *place,
                                 size_t n, const tcr_progress *progress, tcr_lesson *lesson);
TCR_API tcr_status tcr_lesson_pays_from(const tcr_set *set, tcr_side side, int less, bool alike,
                                        double *apart_mm);
TCR_API tcr_status tcr_lesson_turns_at(const tcr_set *set, tcr_side side,
                                       const tcr_lesson_place *place, double *viewer_rad);
#endif
