/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STEP_H
#define TCR_STEP_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
typedef struct tcr_step_question {
    tcr_side side;
    size_t curl;
    double bottom_length_mm;
    tcr_placement bottom, middle, top;
    bool has_apart;
    double apart_mm;
} tcr_step_question;
enum { TCR_UPPER_LAYERS = 2 };
typedef struct tcr_step {
    tcr_status status[TCR_UPPER_LAYERS];
    double length_mm[TCR_UPPER_LAYERS];
    double step_mm[TCR_UPPER_LAYERS];
    double tray_mm[TCR_UPPER_LAYERS];
    double left_over_mm[TCR_UPPER_LAYERS];
    double shows_from_mm[TCR_UPPER_LAYERS];
} tcr_step;
TCR_API tcr_status tcr_step_of(const tcr_set *set, const tcr_step_question *question,
                               tcr_step *step);
typedef struct tcr_sensitivity {
    double per_height;
    double per_pitch;
    double per_natural;
    double per_turn;
    double per_length;
    double by_placement_mm[TCR_PLACEMENTS];
} tcr_sensitivity;
TCR_API tcr_status tcr_step_sensitivity(const tcr_set *set, const tcr_step_question *question,
                                        tcr_sensitivity *sensitivity);
typedef struct tcr_step_reason {
    double by_higher_mm;
    double by_shorter_mm;
    double by_height_mm[TCR_UPPER_LAYERS];
    double by_placement_mm[TCR_UPPER_LAYERS];
} tcr_step_reason;
TCR_API tcr_status tcr_step_reason_of(const tcr_set *set, const tcr_step_question *question,
                                      tcr_step_reason *reason);
#endif
