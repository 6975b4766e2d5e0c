/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of level steps for people: what is right for the set, the level step at the pupil, and
 * what the rule gains. In full: for two ways to place extensions the steps of each curl, exactly
 * and from the tray, and what the tray leaves over; what moves a tip, in sentences; assumptions.
 */
#include <tipcrest/file.h>

#include <math.h>

#include "file/doubts.h"
#include "file/report_lesson_table.h"
#include "file/report_step.h"
#include "file/table.h"
#include "num/options.h"
#include "num/range.h"

static const double MM_PER_CM = 10.0;

typedef struct step_table {
    tcr_table table;
    const tcr_step_range *range;
    bool tray; /* the set has one */
    bool full; /* all is asked for */
    int wide;  /* columns of the widest label */
    /* Of two eyes without one that was asked for: the other, which is answered for in one line. */
    const tcr_step_range *other;
    const tcr_lesson *other_here;
} step_table;

static void add_label(tcr_paragraph *line, const tcr_step_range *range, size_t curl) {
    tcr_add_safe(line, tcr_set_curl(range->set, curl)->label, TCR_LABEL_SIZE);
}

static int widest_label(const tcr_step_range *range) {
    int most = 4; /* "curl" */
    for (size_t i = 0; i < range->curls; i++) {
        tcr_paragraph label;
        tcr_paragraph_begin(&label);
        add_label(&label, range, range->first_curl + i);
        most = label.columns > most ? label.columns : most;
    }
    return most;
}

/* ---- One way to place extensions --------------------------------------------------- */

/* What the tray gives for a step; the columns are those of put_placement. */
static void add_sizes(step_table *t, const tcr_step *step) {
    tcr_paragraph *line = &t->table.line;
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        tcr_paragraph size; /* with as many digits as the tray has */
        tcr_paragraph_begin(&size);
        if (isnan(step->tray_mm[i]))
            tcr_add(&size, "-");
        else
            tcr_add_number(&size, step->tray_mm[i]);
        tcr_add_to_column(line, t->wide + 28 + 5 * i - size.columns);
        tcr_add(line, size.text);
    }
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        tcr_add_fixed_at(line, t->wide + 40 + 6 * i, step->left_over_mm[i], 2, true);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        if (isfinite(step->left_over_mm[i]) && !tcr_can_be_seen(step->left_over_mm[i]))
            tcr_add_text_at(line, t->wide + 54 + 5 * i, "<10");
        else
            tcr_add_fixed_at(line, t->wide + 54 + 5 * i, step->shows_from_mm[i] / MM_PER_CM, 0,
                             false);
}

static void put_row(step_table *t, size_t curl, const tcr_step *step) {
    tcr_paragraph *line = &t->table.line;
    add_label(line, t->range, curl);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        tcr_add_fixed_at(line, t->wide + 8 + 6 * i, step->step_mm[i], 2, false);
    tcr_add_fixed_at(line, t->wide + 20, step->step_mm[0] + step->step_mm[1], 2, false);
    if (t->tray)
        add_sizes(t, step);
    for (int i = 0; i < TCR_UPPER_LAYERS && !t->tray; i++)
        tcr_add_fixed_at(line, t->wide + 28 + 6 * i, step->length_mm[i], 2, false);
    tcr_table_end(&t->table, 4, 6);
}

/* What the tray leaves over where it leaves most. */
typedef struct leftover {
    double mm, shows_from_mm; /* mm: above or below */
    size_t curl;
    int layer;
} leftover;

static void put_most(step_table *t, const leftover *most) {
    tcr_paragraph *line = &t->table.line;
    tcr_add(line, "Most is left over with ");
    add_label(line, t->range, most->curl);
    tcr_add(line, " on the ");
    tcr_add(line, tcr_word(&tcr_words_layer, most->layer));
    tcr_add(line, " layer: ");
    tcr_add_fixed(line, most->mm, 2, false);
    if (tcr_can_be_seen(most->mm)) {
        tcr_add(line, " mm, which shows from nearer than ");
        tcr_add_fixed(line, most->shows_from_mm / MM_PER_CM, 0, false);
        tcr_add(line, " cm.");
    } else {
        tcr_add(line, " mm, too little to be seen.");
    }
    tcr_table_end(&t->table, 4, 6);
}

static void put_placement(step_table *t, const char *name, const tcr_step_placements *placements) {
    tcr_paragraph *line = &t->table.line;
    leftover most = {.mm = -1.0};
    tcr_table_line(&t->table, 2, name);
    tcr_add_to_column(line, t->wide + 4);
    tcr_add(line, t->tray ? "exact step  both  nearest size  left over  shows from"
                          : "exact step  both  level length");
    tcr_table_end(&t->table, 4, 6);
    tcr_add(line, "curl");
    tcr_add_to_column(line, t->wide + 2);
    tcr_add(line, t->tray ? "middle   top   top  middle  top  middle   top  middle  top"
                          : "middle   top   top  middle   top");
    tcr_table_end(&t->table, 4, 6);
    for (size_t i = 0; i < t->range->curls; i++) {
        const size_t curl = t->range->first_curl + i;
        const tcr_step step = tcr_step_answer(t->range, curl, t->range->shown_mm, placements);
        put_row(t, curl, &step);
        for (int layer = 0; layer < TCR_UPPER_LAYERS; layer++)
            if (fabs(step.left_over_mm[layer]) > most.mm)
                most = (leftover){fabs(step.left_over_mm[layer]), step.shows_from_mm[layer], curl,
                                  layer + 1};
    }
    if (t->tray && t->range->curls > 1 && t->full)
        put_most(t, &most);
}

/* ---- What moves a tip -------------------------------------------------------------- */

/* Rises that print as zero. */
static bool is_nothing(double rise_mm) { return fabs(rise_mm) < 0.005; }

/* "lifts it by 0.95 mm" */
static void add_rise(tcr_paragraph *line, double rise_mm) {
    if (is_nothing(rise_mm)) {
        tcr_add(line, " does not move it up or down");
        return;
    }
    tcr_add(line, rise_mm > 0.0 ? " lifts it by " : " lowers it by ");
    tcr_add_fixed(line, fabs(rise_mm), 2, false);
    tcr_add(line, " mm");
}

static void put_rise(step_table *t, const char *what, double rise_mm, const char *reason) {
    if (isnan(rise_mm))
        return;
    tcr_add(&t->table.line, what);
    add_rise(&t->table.line, rise_mm);
    tcr_add(&t->table.line, reason);
    tcr_add(&t->table.line, ".");
    tcr_table_end(&t->table, 4, 6);
}

static void put_placements(step_table *t, const tcr_sensitivity *s) {
    static const char *const words[TCR_PLACEMENTS] = {
        [TCR_UNDERSIDE] = "the underside",
        [TCR_INNER_SIDE] = ", the inner side",
        [TCR_OUTER_SIDE] = ", the outer side",
    };
    tcr_add(&t->table.line, "Instead of on top of the lash, ");
    for (int placement = TCR_UNDERSIDE; placement < TCR_PLACEMENTS; placement++) {
        tcr_add(&t->table.line, words[placement]);
        add_rise(&t->table.line, s->by_placement_mm[placement]);
    }
    tcr_add(&t->table.line, ".");
    tcr_table_end(&t->table, 4, 6);
}

/* Why a millimetre from layer to layer asks for another step than a millimetre. */
static void put_rule(step_table *t, const tcr_sensitivity *s) {
    const double step = s->per_height / s->per_length;
    if (!(s->per_length > 0.1) || !(step > 0.0)) /* a tip that hardly rises makes no rule */
        return;
    tcr_add(&t->table.line, "So a layer that roots 1 mm higher asks for an extension that is "
                            "shorter by about ");
    tcr_add_fixed(&t->table.line, s->per_height, 2, false);
    tcr_add(&t->table.line, " / ");
    tcr_add_fixed(&t->table.line, s->per_length, 2, false);
    tcr_add(&t->table.line, " = ");
    tcr_add_fixed(&t->table.line, step, 2, false);
    tcr_add(&t->table.line, " mm, where both are placed alike.");
    tcr_table_end(&t->table, 4, 6);
}

static void put_sensitivities(step_table *t, const tcr_sensitivity *s) {
    tcr_paragraph *line = &t->table.line;
    tcr_add(line, "What moves a tip up or down (mean lash, curl ");
    add_label(line, t->range, t->range->shown_curl);
    tcr_add(line, ", ");
    tcr_add_number(line, t->range->shown_mm);
    tcr_add(line, " mm, at the outer side)");
    tcr_table_end(&t->table, 2, 4);
    put_rise(t, "A root 1 mm higher", s->per_height, "");
    put_rise(t, "A lash that grows 1° further up the lid", s->per_pitch * TCR_DEG, "");
    put_rise(t, "A natural lash 1 mm longer", s->per_natural,
             s->per_natural < 0.0 && s->per_turn > 0.0
                 ? ", because the same turn bends it less where the extension is bonded"
                 : "");
    put_rise(t, "A natural lash that turns 10° more from root to tip", 10.0 * s->per_turn * TCR_DEG,
             "");
    put_rise(t, "An extension 1 mm longer", s->per_length, "");
    put_placements(t, s);
    put_rule(t, s);
}

/* ---- The table --------------------------------------------------------------------- */

static void add_layers(step_table *t) {
    const tcr_layer_heights *h = &t->range->heights;
    tcr_paragraph *line = &t->table.line;
    const double steps[TCR_UPPER_LAYERS] = {h->height_mm[TCR_MIDDLE] - h->height_mm[TCR_BOTTOM],
                                            h->height_mm[TCR_TOP] - h->height_mm[TCR_MIDDLE]};
    const bool some = h->lashes[0] + h->lashes[1] + h->lashes[2] > 0;
    const bool all = h->lashes[0] > 0 && h->lashes[1] > 0 && h->lashes[2] > 0;
    tcr_add(line, "layers root ");
    tcr_add_fixed(line, steps[0], 2, false);
    tcr_add(line, " and ");
    tcr_add_fixed(line, steps[1], 2, false);
    tcr_add(line, t->range->has_apart ? " mm apart, as asked."
                  : all               ? " mm apart, the means of its lashes."
                  : some              ? " mm apart, assumed where a layer has no lash."
                                      : " mm apart, assumed.");
}

/* "Two lids, left eye, open, from the front" */
static void put_heading(step_table *t) {
    const char *title = tcr_set_title(t->table.set);
    tcr_paragraph *line = &t->table.line;
    if (*title != '\0') {
        tcr_add_safe(line, title, 40);
        tcr_add(line, ", ");
    }
    tcr_add(line, t->range->side == TCR_LEFT ? "left eye" : "right eye");
    tcr_add(line,
            tcr_set_subject(t->table.set) == TCR_PRACTICE_HEAD ? ", as if it opened" : ", open");
    tcr_add(line, ", from the front; ");
    add_layers(t);
    tcr_table_end(&t->table, 0, 2);
}

/* Whether an upper layer has lashes; without any on the eye all are assumed. */
static bool has_layer(const step_table *t, int upper) {
    const size_t *lashes = t->range->heights.lashes;
    return lashes[upper + 1] > 0 || lashes[0] + lashes[1] + lashes[2] == 0;
}

static bool has_upper(const step_table *t) { return has_layer(t, 0) || has_layer(t, 1); }

/* "middle 1.04 and top 1.84 mm less than bottom", or more where both are longer */
static void add_level(step_table *t, const tcr_step *step) {
    tcr_paragraph *line = &t->table.line;
    const double less[TCR_UPPER_LAYERS] = {step->step_mm[0], step->step_mm[0] + step->step_mm[1]};
    const bool longer = (less[0] < 0.0 || !has_layer(t, 0)) && (less[1] < 0.0 || !has_layer(t, 1));
    const char *between = "";
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        if (!has_layer(t, i))
            continue;
        tcr_add(line, between);
        tcr_add(line, tcr_word(&tcr_words_layer, i + 1));
        tcr_add(line, " ");
        tcr_add_fixed(line, longer ? -less[i] : less[i], 2, false);
        between = " and ";
    }
    tcr_add(line, longer ? " mm more than bottom" : " mm less than bottom");
}

static void add_sizes_of(step_table *t, const tcr_step *step) {
    tcr_paragraph *line = &t->table.line;
    const bool both = has_layer(t, 0) && has_layer(t, 1);
    double most = 0.0;
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        if (!has_layer(t, i))
            continue;
        tcr_add(line, both && i > 0 ? " and " : "; ");
        tcr_add_number(line, step->tray_mm[i]);
    }
    tcr_add(line, both ? " mm leave " : " mm leaves ");
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        if (!has_layer(t, i))
            continue;
        tcr_add(line, both && i > 0 ? " and " : "");
        tcr_add_fixed(line, step->left_over_mm[i], 2, true);
        most = fmax(most, fabs(step->left_over_mm[i]));
    }
    if (!tcr_can_be_seen(most)) {
        tcr_add(line, " mm, too little to be seen (3′)");
        return;
    }
    tcr_add(line, " mm, seen from nearer than ");
    tcr_add_shows_from(line, most);
    tcr_add(line, " (3′)");
}

/* The level step for what the set puts at the pupil. */
static void put_pupil(step_table *t, int first) {
    const tcr_step_range *range = t->range;
    const tcr_step step = tcr_step_answer(range, range->shown_curl, range->shown_mm, &range->shown);
    tcr_paragraph *line = &t->table.line;
    tcr_add(line, "Level at the pupil (");
    add_label(line, range, range->shown_curl);
    tcr_add(line, " ");
    tcr_add_number(line, range->shown_mm);
    if (isfinite(step.step_mm[0]) && isfinite(step.step_mm[1])) {
        tcr_add(line, " mm): ");
        add_level(t, &step);
    } else {
        tcr_add(line, " mm): no length from 3 to 30 mm does it for each layer");
    }
    if (t->tray && isfinite(step.tray_mm[0]) && isfinite(step.tray_mm[1]))
        add_sizes_of(t, &step);
    tcr_add(line, ".");
    tcr_table_end(&t->table, first, first + 2);
}

static void put_assumptions(step_table *t, const tcr_sensitivity *sensitivity) {
    tcr_assumed assumed[TCR_LASH_BITS];
    const size_t count = tcr_step_assumed(t->range, sensitivity, assumed);
    tcr_table_line(&t->table, 0, "");
    tcr_table_line(&t->table, 0, "Assumed, not measured");
    tcr_table_drawn(&t->table);
    for (size_t i = 0; i < count; i++) {
        tcr_add(&t->table.line, i == 0 ? "of the mean lash: " : ", ");
        tcr_add_column_words(&t->table.line, assumed[i].field->key);
    }
    if (count > 0)
        tcr_table_end(&t->table, 2, 4);
    tcr_table_lid_assumption(&t->table, t->range->side);
    const size_t *lashes = t->range->heights.lashes;
    if (!t->range->has_apart && (lashes[0] == 0 || lashes[1] == 0 || lashes[2] == 0))
        tcr_table_line(&t->table, 2,
                       "layers without lashes 1 mm apart: common practice, no source");
    if (t->tray)
        tcr_table_line(&t->table, 2,
                       "that more than 3′ of arc shows: contour noise in the laboratory, not "
                       "on lashes");
    tcr_table_line(&t->table, 2, tcr_table_curls);
    tcr_table_line(&t->table, 0, "");
}

static void put_curls(step_table *t) {
    tcr_add(&t->table.line, "Level steps by curl: mm shorter than on the layer below, ");
    tcr_add_number(&t->table.line, t->range->shown_mm);
    tcr_add(&t->table.line, " mm on the bottom layer");
    tcr_table_end(&t->table, 2, 4);
    tcr_table_line(
        &t->table, 2,
        t->tray ? "Left over, mm: how far the tip with the tray's nearest size then stands above "
                  "(+) or below the bottom layer's. Shows from, cm: at this distance that is 3′ "
                  "of arc, contour noise in the laboratory; from nearer it shows. <10: not "
                  "to be seen."
                : "The set has no tray (tray: any): a level length is exact, and nothing is left "
                  "over.");
    put_placement(t, "All at the outer side", &tcr_step_beside);
    put_placement(t, "Usual placement: bottom on top, middle at the outer side, top underneath",
                  &tcr_step_taught);
}

/* A mean lash that is too short for one length and curl is too short for all. */
static void put_no_answer(step_table *t, tcr_status status, int first) {
    tcr_add(&t->table.line, "The mean lash cannot carry an extension: ");
    tcr_add(&t->table.line, tcr_status_text(status));
    tcr_add(&t->table.line, ".");
    tcr_table_end(&t->table, first, first + 2);
}

/* How many zones give an upper layer a length of its own, which the rule would not. */
static size_t count_own_lengths(const step_table *t, size_t *zones) {
    size_t own = 0;
    const tcr_zone *zone = tcr_set_map(t->table.set, t->range->side, zones);
    for (size_t z = 0; z < *zones; z++)
        own += ((zone[z].layer[TCR_MIDDLE].fixed | zone[z].layer[TCR_TOP].fixed) &
                TCR_FIX_LENGTH) != 0;
    return own;
}

static void put_own_lengths(step_table *t) {
    size_t zones;
    const size_t own = count_own_lengths(t, &zones);
    if (own == 0)
        return;
    tcr_add(&t->table.line, "In ");
    tcr_add_count(&t->table.line, own);
    tcr_add(&t->table.line, " of ");
    tcr_add_count(&t->table.line, zones);
    tcr_add(&t->table.line, " zones layers have their own lengths: left aside here, not by check.");
    tcr_table_end(&t->table, 2, 4);
}

/* Whether there are figures of how even choices are: not of too few lashes. */
static bool is_judged(const tcr_step_lessons *lessons) {
    return lessons->status == TCR_OK && lessons->here.lashes >= TCR_TOO_FEW;
}

/* Without lashes there is nothing to try the rule on: the answer is the level step. */
static void put_short(step_table *t, const tcr_step_lessons *lessons, tcr_status known) {
    const bool tried = lessons->status == TCR_OK;
    const bool one_layer = tried && tcr_step_is_one_layer(t->range);
    const bool judged = is_judged(lessons);
    if (tried)
        tcr_step_lessons_verdict(&t->table, t->range, &lessons->here, t->other != NULL);
    else if (known == TCR_OK)
        put_pupil(t, 0);
    else
        put_no_answer(t, known, 0);
    if (t->other != NULL)
        tcr_step_lessons_verdict(&t->table, t->other, t->other_here, true);
    tcr_table_doubts(&t->table);
    put_heading(t);
    put_own_lengths(t);
    if (tried && known == TCR_OK && !one_layer)
        put_pupil(t, 2);
    else if (tried && known != TCR_OK)
        put_no_answer(t, known, 2);
    if (judged && t->range->asked && !one_layer)
        tcr_table_line(&t->table, 2,
                       "Figures off one line are of the set as it is, its own curls and lengths.");
    if (judged && one_layer) {
        tcr_table_line(&t->table, 2, "rms: a tip's typical distance; far tips count more");
    } else if (judged) {
        tcr_table_line(
            &t->table, 2,
            "Tips off the fitted line, rms: a typical distance in mm; far tips count more");
        tcr_step_lessons_short(&t->table, lessons, t->full);
    } else if (known == TCR_OK && !t->full) {
        put_placement(t, "Usual placement: bottom on top, middle at the outer side, top underneath",
                      &tcr_step_taught);
    }
}

static void put_full(step_table *t, const tcr_step_lessons *lessons, const tcr_sensitivity *s) {
    if (is_judged(lessons) && !tcr_step_is_one_layer(t->range))
        tcr_step_lessons_full(&t->table, lessons);
    if (s != NULL) {
        put_curls(t);
        put_sensitivities(t, s);
    }
    put_assumptions(t, s);
}

static double hundredths(double mm) { return round(100.0 * mm) / 100.0; }

/* " raises a tip 0.95 mm" */
static void add_lever(tcr_paragraph *line, double rise_mm, const char *what) {
    tcr_add(line, is_nothing(rise_mm) ? " moves " : rise_mm > 0.0 ? " raises " : " lowers ");
    tcr_add(line, what);
    if (is_nothing(rise_mm)) {
        tcr_add(line, " by less than 0.01 mm");
        return;
    }
    tcr_add(line, " ");
    tcr_add_fixed(line, fabs(rise_mm), 2, false);
    tcr_add(line, " mm");
}

/* The two parts of the level step. Placement is the difference of what is printed beside it, so
 * that the sum adds up for the reader too. */
static void add_parts(step_table *t, const tcr_step_reason *r) {
    tcr_paragraph *line = &t->table.line;
    const char *between = "";
    bool alike = true;
    tcr_add(line, " By height alone: ");
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        if (!has_layer(t, i))
            continue;
        alike = alike && r->by_placement_mm[i] == 0.0;
        tcr_add(line, between);
        tcr_add_fixed(line, r->by_height_mm[i], 2, false);
        between = " and ";
    }
    tcr_add(line, alike ? " mm less; all are placed alike" : " mm less; placement");
    between = " ";
    for (int i = 0; i < TCR_UPPER_LAYERS; i++) {
        const double whole = hundredths(r->by_height_mm[i] + r->by_placement_mm[i]);
        if (alike || !has_layer(t, i))
            continue;
        tcr_add(line, between);
        tcr_add_fixed(line, whole - hundredths(r->by_height_mm[i]), 2, true);
        between = " and ";
    }
    tcr_add(line, ".");
}

/* What the rule rests on: the same two moves of a tip as in the report on causes, and what they and
 * placement make of the level step. */
static void put_reason(step_table *t, const tcr_step_reason *r) {
    tcr_paragraph *line = &t->table.line;
    tcr_add(line, "A root 1 mm higher");
    add_lever(line, r->by_higher_mm, "a tip");
    if (isfinite(r->by_shorter_mm)) {
        tcr_add(line, "; 1 mm less length");
        add_lever(line, r->by_shorter_mm, "it");
    }
    tcr_add(line, ".");
    size_t zones; /* where they are told, one line is left for this */
    if (isfinite(r->by_placement_mm[0]) && isfinite(r->by_placement_mm[1]) && has_upper(t) &&
        count_own_lengths(t, &zones) == 0)
        add_parts(t, r);
    tcr_table_end(&t->table, 2, 4);
}

static void put_hint(step_table *t) {
    tcr_paragraph *line = &t->table.line;
    if (t->tray)
        tcr_add(line, "3′: contour noise in the laboratory. ");
    tcr_add(line, tcr_set_eyes(t->table.set, NULL) < 2 ? "Assumptions and all tables: --full."
                  : t->range->side == TCR_LEFT         ? "Tables: --full; other eye: --eye right."
                                                       : "Tables: --full; other eye: --eye left.");
    tcr_table_end(&t->table, 2, 4);
}

/* The other of two eyes, where none was asked for and the rule can be tried on both. */
static tcr_status find_other(const tcr_step_range *range, const tcr_step_report_options *options,
                             step_table *t, tcr_step_range *other, tcr_lesson *here) {
    tcr_step_report_options o = tcr_step_report_options_default();
    (void)tcr_options_take(&o, sizeof o, options); /* taken once already */
    if (o.has_side || tcr_set_eyes(range->set, NULL) < 2)
        return TCR_OK;
    o.has_side = true;
    o.side = range->side == TCR_LEFT ? TCR_RIGHT : TCR_LEFT;
    tcr_status status = tcr_step_range_of(range->set, &o, other);
    if (status == TCR_OK)
        status = tcr_step_here_of(other, here);
    if (status == TCR_E_MISSING || status == TCR_E_MAP)
        return TCR_OK;
    t->other = other;
    t->other_here = here;
    return status;
}

tcr_status tcr_report_step_table(const tcr_set *set, const tcr_step_report_options *options,
                                 tcr_sink sink, void *context) {
    tcr_step_range range, other;
    tcr_step_lessons lessons;
    tcr_lesson other_here;
    step_table t = {.range = &range};
    tcr_status status = tcr_step_range_of(set, options, &range);
    if (status == TCR_OK && sink == NULL)
        status = TCR_E_ARGUMENT;
    if (status != TCR_OK)
        return status;
    status = tcr_step_lessons_of(&range, &lessons);
    if (status == TCR_OK && lessons.status == TCR_OK)
        status = find_other(&range, options, &t, &other, &other_here);
    if (status != TCR_OK)
        return status;
    tcr_writer writer;
    tcr_writer_begin(&writer, sink, context);
    t.table = (tcr_table){.set = set, .writer = &writer};
    t.tray = tcr_set_tray(set)->count > 0;
    t.full = range.full;
    t.wide = widest_label(&range);
    tcr_sensitivity found;
    const tcr_status known = tcr_step_shown_sensitivity(&range, &found);
    tcr_paragraph_begin(&t.table.line);
    put_short(&t, &lessons, known);
    tcr_step_reason reason;
    if (lessons.status == TCR_OK && !tcr_step_is_one_layer(&range) && !t.full &&
        tcr_step_shown_reason(&range, &reason) == TCR_OK)
        put_reason(&t, &reason);
    if (t.full) {
        put_full(&t, &lessons, known == TCR_OK ? &found : NULL);
    } else {
        tcr_table_drawn(&t.table);
        put_hint(&t);
    }
    tcr_table_line(&t.table, 0, tcr_table_cautions);
    return tcr_writer_end(&writer);
}
