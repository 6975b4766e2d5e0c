/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The words of a lesson: its answer in a line, three short sentences, and the figures behind them
 * in small type. Each has two directions: the rule helps, hurts or changes little, and which of it
 * is said follows from the figures.
 */
#include "draw/lesson_words.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/why.h>

#include "draw/hair.h"
#include "draw/words.h"
#include "num/error.h"
#include "num/range.h"

/* 4 degrees is what tipcrest assumes of a person's lashes; twice that is for comparison; 11 was
 * read in a secondary source, over several people (doc/science.md). */
const double tcr_lesson_spread_deg[TCR_LESSON_SPREADS] = {0, 4, 8, 11};

void tcr_lesson_take_layers(tcr_lesson_sheet *s, const tcr_layer_heights *heights) {
    int low = TCR_LAYERS, high = 0;
    s->heights = *heights;
    s->layers = 0;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        if (heights->lashes[layer] == 0)
            continue;
        s->layers |= 1u << layer;
        low = layer < low ? layer : low;
        high = layer;
    }
    if (s->layers == 0) {
        s->layers = TCR_EVERY_LAYER;
        low = TCR_BOTTOM;
        high = TCR_TOP;
    }
    s->apart_mm =
        high > low ? (heights->height_mm[high] - heights->height_mm[low]) / (high - low) : NAN;
}

double tcr_lesson_apart_mm(int point) { return point / 10.0; }

void tcr_lesson_list_places(bool has_apart, double apart_mm,
                            tcr_lesson_place place[TCR_LESSON_AT_HERE + 1]) {
    tcr_lesson_place here = tcr_lesson_place_default();
    here.has_apart = has_apart;
    here.apart_mm = apart_mm;
    for (int i = 0; i <= TCR_LESSON_AT_HERE; i++)
        place[i] = here;
    for (int i = 0; i < 2 * TCR_LESSON_POINTS; i++) {
        place[i].has_apart = true;
        place[i].apart_mm = tcr_lesson_apart_mm(i % TCR_LESSON_POINTS);
        place[i].alike = i >= TCR_LESSON_AT_ALIKE;
    }
}

tcr_status tcr_lesson_tried(tcr_status status, const tcr_lesson *here) {
    return status == TCR_OK && here->lashes < TCR_TOO_FEW ? TCR_E_MISSING : status;
}

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

/* What height and placement ask for of each upper layer, mm. Placement is the difference of what is
 * printed beside it, so that the sum adds up on paper. */
typedef struct level {
    double height[TCR_UPPER_LAYERS], whole[TCR_UPPER_LAYERS], placement[TCR_UPPER_LAYERS];
    bool known, alike; /* alike: all layers have one placement */
} level;

static level level_of(const tcr_lesson_sheet *s) {
    const tcr_step_reason *r = &s->reason;
    level l = {.known = s->reasoned == TCR_OK && count_layers(s) > 1, .alike = true};
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        l.height[i] = hundredths(r->by_height_mm[i]);
        l.whole[i] = hundredths(r->by_height_mm[i] + r->by_placement_mm[i]);
        l.placement[i] = l.whole[i] - l.height[i];
        if (!tcr_lesson_has(s, i + 1))
            continue;
        l.known = l.known && isfinite(l.whole[i]);
        l.alike = l.alike && s->placement[i + 1] == s->placement[TCR_BOTTOM];
    }
    return l;
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
    const level l = level_of(s);
    if (!l.known)
        return;
    add(text, count_layers(s) > 2 ? " The upper layers come level with "
                                  : " The upper layer comes level with ");
    add_upper(text, s, l.whole, false);
    add(text, " mm less.");
}

/* What the level lengths are made of. */
static void add_level(char text[TCR_LESSON_TEXT], const tcr_lesson_sheet *s) {
    const level l = level_of(s);
    if (!l.known)
        return;
    add(text, " Level by height alone: ");
    add_upper(text, s, l.height, false);
    add(text, " mm less");
    if (l.alike) {
        add(text, "; placement is the same on every layer.");
        return;
    }
    add(text, "; placement changes that by ");
    add_upper(text, s, l.placement, true);
    add(text, ".");
}

/* ---- Whether and when --------------------------------------------------------------- */

/* Whether 1 mm less is more even at all distances of the curve from some on. */
static bool gains_from(const tcr_lesson_sheet *s, double from_mm) {
    for (int i = 0; i < TCR_LESSON_POINTS; i++)
        if (tcr_lesson_apart_mm(i) > from_mm &&
            !(tcr_lesson_rms(s, TCR_LESSON_AT_OWN + i, TCR_LESSON_ONE_LESS) <
              tcr_lesson_rms(s, TCR_LESSON_AT_OWN + i, TCR_LESSON_EQUAL)))
            return false;
    return true;
}

/* Why there is nothing to compare, or NULL. */
static const char *no_comparison(const tcr_lesson_sheet *s) {
    if (s->tried != TCR_OK)
        return "Too few lashes to judge how even they are";
    if (count_layers(s) < 2)
        return "One layer: a rule for layers has nothing to level";
    return isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_EQUAL)) &&
                   isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_ONE_LESS))
               ? NULL
               : "No figure for all lashes: a length is below 3 mm";
}

/* A distance from which something holds, rounded to the safe side. */
static void add_distance(char text[TCR_LESSON_TEXT], double mm) {
    add_number(text, ceil(100 * mm - 1e-9) / 100);
}

static void say_when(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    if (no_comparison(s) != NULL)
        return;
    const bool always = !isnan(s->pays_mm) && gains_from(s, s->pays_mm);
    if (isnan(s->pays_mm)) {
        add(text, "It pays at no distance of the layers up to 1.6 mm");
    } else if (s->pays_mm == 0) {
        add(text, "It pays at %s distance of the layers up to 1.6 mm", always ? "any" : "some");
    } else {
        add(text, "It pays where layers root at least ");
        add_distance(text, s->pays_mm);
        add(text, " mm apart%s", always ? "" : ", but not at every greater distance");
    }
    if (s->more_mm > 0) {
        add(text, "; from ");
        add_distance(text, s->more_mm);
        add(text, " mm on, 2 mm less pays more");
    }
    add(text, ".");
}

/* ---- The couch ---------------------------------------------------------------------- */

static bool shows_couch(const tcr_lesson_sheet *s) {
    return no_comparison(s) == NULL &&
           isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_COUCH, TCR_LESSON_EQUAL)) &&
           isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_COUCH, TCR_LESSON_ONE_LESS));
}

static void say_couch(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    const double equal = tcr_lesson_rms(s, TCR_LESSON_AT_COUCH, TCR_LESSON_EQUAL);
    const double less = tcr_lesson_rms(s, TCR_LESSON_AT_COUCH, TCR_LESSON_ONE_LESS);
    if (!shows_couch(s))
        return;
    const tcr_effect effect = tcr_effect_of(less, equal);
    add(text, "From the couch %s: equal ",
        effect == TCR_HURTS   ? "equal lengths look more even"
        : effect == TCR_HELPS ? "1 mm less looks more even"
                              : "both look about as even");
    add_number(text, equal);
    add(text, ", 1 mm less ");
    add_number(text, less);
    add(text, " mm rms.");
}

/* What the couch is, and from which angle it shows equal lengths as the more even ones. */
static void add_angles(char text[TCR_LESSON_TEXT], const tcr_lesson_sheet *s) {
    char number[TCR_WORDS];
    if (!shows_couch(s))
        return;
    add(text, " Couch: eye closed, seen from 60\xc2\xb0 above; with the eye closed equal lengths "
              "look more even ");
    if (s->turns_rad == 0)
        add(text, "at every angle.");
    else if (isnan(s->turns_rad))
        add(text, "from no angle up to 70\xc2\xb0.");
    else
        add(text, "from %s\xc2\xb0 up.",
            tcr_say_number(number, ceil(s->turns_rad / TCR_DEG - 1e-9), 0, false));
}

/* ---- Public ------------------------------------------------------------------------- */

void tcr_lesson_say_lengths(const tcr_lesson_sheet *s, int less_mm, char text[TCR_LESSON_TEXT]) {
    const char *before = "";
    text[0] = '\0';
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        char number[TCR_WORDS];
        if (!tcr_lesson_has(s, layer))
            continue;
        add(text, "%s%.12s", before, tcr_say_trimmed(number, s->bottom_mm - less_mm * layer, 2));
        before = "/";
    }
}

/* Whether the tray has no sizes for what would be more even. */
static bool tray_lacks(const tcr_lesson_sheet *s) {
    return tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_BEST) >
           tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_ONE_LESS);
}

void tcr_lesson_say_answer(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    const double equal = tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_EQUAL);
    const double less = tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_ONE_LESS);
    if (no_comparison(s) != NULL) {
        snprintf(text, TCR_LESSON_TEXT, "%s", no_comparison(s));
        return;
    }
    static const char *const SAID[][2] = {{"helps here", "would help"},
                                          {"changes little here", "would change little"},
                                          {"hurts here", "would hurt"}};
    const bool lacks = tray_lacks(s);
    tcr_lesson_say_lengths(s, 1, text);
    add(text, " %s: ", SAID[tcr_effect_of(less, equal) - TCR_HELPS][lacks]);
    add_number(text, less);
    add(text, " mm rms, equal%s ", lacks ? "" : " lengths");
    add_number(text, equal);
    add(text, lacks ? "; the tray lacks sizes" : "");
}

void tcr_lesson_say(const tcr_lesson_sheet *s, int sentence, char text[TCR_LESSON_TEXT]) {
    static void (*const SAY[TCR_LESSON_SENTENCES])(
        const tcr_lesson_sheet *, char[TCR_LESSON_TEXT]) = {say_why, say_when, say_couch};
    text[0] = '\0';
    SAY[sentence](s, text);
}

static void add_lacking(char text[TCR_LESSON_TEXT], const tcr_lesson_sheet *s) {
    if (!tray_lacks(s))
        return;
    add(text, " The tray lacks sizes for 1 mm less; with the best that it has it is ");
    add_number(text, tcr_lesson_rms(s, TCR_LESSON_AT_HERE, TCR_LESSON_BEST));
    add(text, " mm.");
}

static bool knows_variation(const tcr_lesson_sheet *s) {
    for (int i = 0; i < TCR_LESSON_SPREADS; i++)
        if (!isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_SPREAD + i, TCR_LESSON_EQUAL)) ||
            !isfinite(tcr_lesson_rms(s, TCR_LESSON_AT_SPREAD + i, TCR_LESSON_ONE_LESS)))
            return false;
    return no_comparison(s) == NULL;
}

/* Whether equal lengths come out otherwise than on lashes that are all alike, by over 0.01 mm. */
static bool varies(const tcr_lesson_sheet *s) {
    const double shown_mm = 0.01;
    for (int i = 0; i < TCR_LESSON_POINTS; i++)
        if (fabs(tcr_lesson_rms(s, TCR_LESSON_AT_OWN + i, TCR_LESSON_EQUAL) -
                 tcr_lesson_rms(s, TCR_LESSON_AT_ALIKE + i, TCR_LESSON_EQUAL)) > shown_mm)
            return true;
    return false;
}

void tcr_lesson_say_more(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    text[0] = '\0';
    if (no_comparison(s) == NULL)
        add(text,
            "rms: a tip's typical distance from one line, over all %zu lashes%s; far tips count "
            "more.",
            s->lesson[TCR_LESSON_AT_HERE].lashes, varies(s) ? ", which vary" : "");
    add_lacking(text, s);
    add_level(text, s);
    add_angles(text, s);
    if (knows_variation(s))
        add(text, " Spreads: over ten draws, all else alike.");
}

/* The rms at each spread: " 0.21, 0.37, 0.64" */
static void add_spreads(char text[TCR_LESSON_TEXT], const tcr_lesson_sheet *s,
                        tcr_lesson_choice choice) {
    for (int i = 0; i < TCR_LESSON_SPREADS; i++) {
        add(text, "%s ", i > 0 ? "," : "");
        add_number(text, tcr_lesson_rms(s, TCR_LESSON_AT_SPREAD + i, choice));
    }
}

void tcr_lesson_say_variation(const tcr_lesson_sheet *s, char text[TCR_LESSON_TEXT]) {
    text[0] = '\0';
    if (!knows_variation(s))
        return;
    add(text, "Where pitches spread by");
    static const char *const of[TCR_LESSON_SPREADS] = {"", " (assumed of a person)", "",
                                                       " (from a secondary source)"};
    for (int i = 0; i < TCR_LESSON_SPREADS; i++)
        add(text, "%s %.0f\xc2\xb0%s", i > 0 ? "," : "", tcr_lesson_spread_deg[i], of[i]);
    add(text, ": 1 mm less");
    add_spreads(text, s, TCR_LESSON_ONE_LESS);
    add(text, ", equal");
    add_spreads(text, s, TCR_LESSON_EQUAL);
    add(text, " mm rms.");
}
