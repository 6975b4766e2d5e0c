/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The sentences of a lesson. Each has two directions: the rule helps, hurts or changes little, and
 * which of it is said follows from the figures.
 */
#include "draw/lesson_words.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/why.h>

#include "draw/words.h"
#include "num/error.h"
#include "num/range.h"

/* 4 degrees is what tipcrest assumes of a person's lashes; twice that is for comparison. */
const double tcr_lesson_spread_deg[TCR_LESSON_SPREADS] = {0, 4, 8};

double tcr_lesson_rms(const tcr_lesson_sheet *s, int place, tcr_lesson_choice choice) {
    return s->tried == TCR_OK ? s->lesson[place].rms_mm[choice] : (double)NAN;
}

bool tcr_lesson_has(const tcr_lesson_sheet *s, int layer) { return s->layers >> layer & 1u; }

static int count_layers(const tcr_lesson_sheet *s) {
    int count = 0;
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        count += tcr_lesson_has(s, layer);
    return count;
}

/* Adds to a text; what does not fit is left out. */
static void add(char text[TCR_LESSON_TEXT], const char *form, ...) TCR_PRINTF(2, 3);
static void add(char text[TCR_LESSON_TEXT], const char *form, ...) {
    const size_t used = strlen(text);
    va_list values;
    va_start(values, form);
    (void)vsnprintf(text + used, TCR_LESSON_TEXT - used, form, values);
    va_end(values);
}

static void add_number(char text[TCR_LESSON_TEXT], double value) {
    char number[TCR_WORDS];
    add(text, "%s", tcr_say_number(number, value, 2, false));
}

/* ---- Why ---------------------------------------------------------------------------- */

/* "raises the tip 0.95 mm" */
static void add_move(char text[TCR_LESSON_TEXT], double rise_mm, const char *what) {
    if (fabs(rise_mm) < 0.005) {
        add(text, "hardly moves %s", what);
        return;
    }
    add(text, "%s %s ", rise_mm > 0 ? "raises" : "lowers", what);
    add_number(text, fabs(rise_mm));
    add(text, " mm");
}

/* "1.16 and 2.27": a number of each upper layer that has lashes. */
static void add_upper(char text[TCR_LESSON_TEXT], const tcr_lesson_sheet *s,
                      const double mm[TCR_UPPER_LAYERS], bool plus) {
    const char *between = "";
    char number[TCR_WORDS];
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        if (!tcr_lesson_has(s, i + 1))
            continue;
        add(text, "%s%s", between, tcr_say_number(number, mm[i], 2, plus));
        between = " and ";
    }
}

static double hundredths(double mm) { return round(100 * mm) / 100; }

/* What height and placement ask for. Placement is the difference of what stands beside it, so that
 * the sum adds up on paper. */
static void add_level(char text[TCR_LESSON_TEXT], const tcr_lesson_sheet *s) {
    const tcr_step_reason *r = &s->reason;
    double height[TCR_UPPER_LAYERS], whole[TCR_UPPER_LAYERS], placement[TCR_UPPER_LAYERS];
    bool known = true, alike = true;
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        height[i] = hundredths(r->by_height_mm[i]);
        whole[i] = hundredths(r->by_height_mm[i] + r->by_placement_mm[i]);
        placement[i] = whole[i] - height[i];
        if (!tcr_lesson_has(s, i + 1))
            continue;
        known = known && isfinite(whole[i]);
        alike = alike && s->placement[i + 1] == s->placement[TCR_BOTTOM];
    }
    if (!known || count_layers(s) < 2)
        return;
    add(text, count_layers(s) > 2 ? " To come level, the upper layers need "
                                  : " To come level, the upper layer needs ");
    add_upper(text, s, height, false);
    add(text, " mm less than the bottom layer");
    if (alike) {
        add(text, "; placement changes nothing, since it is the same on every layer.");
        return;
    }
    add(text, " by height alone; placement changes that by ");
    add_upper(text, s, placement, true);
    add(text, ", to ");
    add_upper(text, s, whole, false);
    add(text, " mm.");
}

static void say_why(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    if (s->reasoned != TCR_OK) {
        add(text, "The average lash here is too short to carry an extension.");
        return;
    }
    add(text, "A root 1 mm higher ");
    add_move(text, s->reason.by_higher_mm, "the tip");
    if (isfinite(s->reason.by_shorter_mm)) {
        add(text, "; 1 mm less length ");
        add_move(text, s->reason.by_shorter_mm, "it");
    }
    add(text, ".");
    add_level(text, s);
}

/* ---- Whether and when --------------------------------------------------------------- */

/* Whether 1 mm less is more even at all distances of the curve from some on. */
static bool gains_from(const tcr_lesson_sheet *s, double from_mm) {
    for (int i = 0; i < TCR_LESSON_POINTS; i++)
        if (i / 10.0 > from_mm && !(tcr_lesson_rms(s, TCR_LESSON_AT_OWN + i, TCR_LESSON_ONE_LESS) <
                                    tcr_lesson_rms(s, TCR_LESSON_AT_OWN + i, TCR_LESSON_EQUAL)))
            return false;
    return true;
}

static void add_when(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    const bool always = !isnan(s->pays_mm) && gains_from(s, s->pays_mm);
    if (isnan(s->pays_mm)) {
        add(text, " At no distance of the layers up to 1.6 mm is it more even than equal lengths.");
    } else if (s->pays_mm == 0) {
        add(text, " It is more even than equal lengths at %s distance of the layers up to 1.6 mm.",
            always ? "any" : "some");
    } else {
        add(text, " It pays where layers root at least ");
        add_number(text, ceil(100 * s->pays_mm - 1e-9) / 100);
        add(text, " mm apart%s; closer together, equal lengths are more even.",
            always ? "" : ", but not at every greater distance");
    }
}

/* Why there is nothing to compare, or NULL. */
static const char *no_comparison(const tcr_lesson_sheet *s) {
    if (s->tried != TCR_OK || s->lesson[TCR_LESSON_AT_HERE].lashes < TCR_TOO_FEW)
        return "So few lashes are too few to judge how even they are.";
    if (count_layers(s) < 2)
        return "All lashes are on one layer, so a rule for layers has nothing to level here.";
    return isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_EQUAL)) &&
                   isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_ONE_LESS))
               ? NULL
               : "A length would be below 3 mm, so that there is no figure for all lashes.";
}

static void say_whether(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    const double equal = tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_EQUAL);
    const double less = tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_ONE_LESS);
    if (no_comparison(s) != NULL) {
        add(text, "%s", no_comparison(s));
        return;
    }
    const tcr_effect effect = tcr_effect_of(less, equal);
    add(text, "1 mm less a layer %s here: all %zu lashes, which vary, lie ",
        effect == TCR_HELPS   ? "helps"
        : effect == TCR_HURTS ? "hurts"
                              : "changes little",
        s->lesson[TCR_LESSON_AT_HERE].lashes);
    add_number(text, less);
    add(text, " mm off one line (rms) with it and ");
    add_number(text, equal);
    add(text, " mm with equal lengths.");
    add_when(s, text);
}

/* ---- The couch ---------------------------------------------------------------------- */

static void say_couch(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    const double equal = tcr_lesson_rms(s, TCR_LESSON_AT_COUCH, TCR_LESSON_EQUAL);
    const double less = tcr_lesson_rms(s, TCR_LESSON_AT_COUCH, TCR_LESSON_ONE_LESS);
    char number[TCR_WORDS];
    if (no_comparison(s) != NULL || !isfinite(equal) || !isfinite(less)) {
        add(text, "So there is nothing to say of the couch.");
        return;
    }
    add(text, "From the couch, eye closed and seen from 60\xc2\xb0 above, they lie ");
    add_number(text, less);
    add(text, " mm off with 1 mm less and ");
    add_number(text, equal);
    add(text, " with equal lengths: with the eye closed equal lengths look more even ");
    if (s->turns_rad == 0)
        add(text, "at every angle.");
    else if (isnan(s->turns_rad))
        add(text, "from no angle up to 70\xc2\xb0.");
    else
        add(text, "from %s\xc2\xb0 up.",
            tcr_say_number(number, ceil(s->turns_rad / TCR_DEG - 1e-9), 0, false));
}

/* ---- Public ------------------------------------------------------------------------- */

void tcr_lesson_say(const tcr_lesson_sheet *s, int sentence, char text[TCR_LESSON_TEXT]) {
    static void (*const SAY[TCR_LESSON_SENTENCES])(
        const tcr_lesson_sheet *, char[TCR_LESSON_TEXT]) = {say_why, say_whether, say_couch};
    text[0] = '\0';
    SAY[sentence](s, text);
}

void tcr_lesson_say_variation(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    text[0] = '\0';
    for (int i = 0; i < TCR_LESSON_SPREADS; i++)
        if (!isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_SPREAD + i, TCR_LESSON_EQUAL)) ||
            !isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_SPREAD + i, TCR_LESSON_ONE_LESS)))
            return;
    if (no_comparison(s) != NULL)
        return;
    add(text, "What variation costs, where only the pitch varies (ten draws; 4\xc2\xb0 is assumed "
              "of a person), 1 mm less against equal:");
    for (int i = 0; i < TCR_LESSON_SPREADS; i++) {
        const int place = TCR_LESSON_AT_SPREAD + i;
        add(text, "%s ", i > 0 ? "," : "");
        add_number(text, tcr_lesson_rms(s, place, TCR_LESSON_ONE_LESS));
        add(text, " against ");
        add_number(text, tcr_lesson_rms(s, place, TCR_LESSON_EQUAL));
        add(text, i == 0 ? " mm at %.0f\xc2\xb0" : " at %.0f\xc2\xb0", tcr_lesson_spread_deg[i]);
    }
    add(text, ".");
}
