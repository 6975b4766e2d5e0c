/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_WHY_H
#define TCR_WHY_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
typedef enum tcr_cause {
    TCR_CAUSE_HEIGHTS = 0,
    TCR_CAUSE_SHORTENING = 1,
    TCR_CAUSE_PLACEMENT = 2,
    TCR_CAUSE_ZONES = 3,
    TCR_CAUSE_SINGLE = 4,
    TCR_CAUSE_VARIATION = 5
} tcr_cause;
enum { TCR_CAUSES = 6, TCR_COMBINATIONS = 1 << TCR_CAUSES };
TCR_API bool tcr_cause_can_change(tcr_cause cause);
typedef struct tcr_share {
    double shapley_mm2;
    double first_in_mm2;
    double last_out_mm2;
    double alone_rms_mm;
    double without_rms_mm;
} tcr_share;
typedef enum tcr_layer_lengths {
    TCR_LENGTHS_ONE_LAYER = 0,
    TCR_LENGTHS_EQUAL = 1,
    TCR_LENGTHS_RULED = 2,
    TCR_LENGTHS_OTHER = 3
} tcr_layer_lengths;
enum { TCR_LAYER_LENGTHS = 4 };
typedef struct tcr_why_layers {
    tcr_layer_lengths lengths;
    bool worn;
    double height_mm[TCR_LAYERS];
    double tip_by_height_mm;
    double tip_by_shorter_mm;
    double step_mm;
    double equal_rms_mm;
    double ruled_rms_mm;
    size_t ruled_lacking;
} tcr_why_layers;
typedef struct tcr_why {
    size_t lashes;
    double mean_square_mm2[TCR_COMBINATIONS];
    double whole_rms_mm, bare_rms_mm;
    tcr_share cause[TCR_CAUSES];
    tcr_share layering;
    tcr_share lengths_along;
    tcr_why_layers layers;
    double eyes_differ_mm2;
} tcr_why;
TCR_API tcr_status tcr_why_of(const tcr_check *check, tcr_side side, tcr_why *why);
#define TCR_WHY_LITTLE_MM 0.05
typedef enum tcr_effect { TCR_HELPS = -1, TCR_LITTLE = 0, TCR_HURTS = 1 } tcr_effect;
TCR_API tcr_effect tcr_effect_of(double with_rms_mm, double without_rms_mm);
TCR_API bool tcr_cause_is_absent(const tcr_why *why, tcr_cause cause);
TCR_API const char *tcr_cause_text(tcr_cause cause);
TCR_API const char *tcr_cause_levelled_text(tcr_cause cause);
typedef enum tcr_why_sentence {
    TCR_WHY_VERDICT = 0,
    TCR_WHY_LEVER = 1,
    TCR_WHY_CHANGE = 2,
    TCR_WHY_REST = 3,
    TCR_WHY_LAYERING = 4
} tcr_why_sentence;
enum { TCR_WHY_SENTENCES = 5, TCR_WHY_TEXT = 512 };
TCR_API void tcr_why_say(const tcr_why *why, tcr_why_sentence sentence, char text[TCR_WHY_TEXT]);
TCR_API void tcr_why_say_cause(const tcr_why *why, tcr_cause cause, char text[TCR_WHY_TEXT]);
#endif
