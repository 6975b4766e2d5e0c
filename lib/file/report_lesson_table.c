/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the layering rule gains, for people: the answer for the set, how far off one line the tips
 * lie over how far the layers are apart, and what viewer and variation make of it. Each sentence
 * follows from its figures, in either direction.
 */
#include "file/report_lesson_table.h"

#include <math.h>

#include "num/range.h"

enum { LABEL_AT = 4, FIRST_RIGHT = 27, COLUMN = 6 };

static const char *const NAME[TCR_LESSON_CHOICES] = {"equal lengths", "1 mm less a layer",
                                                     "2 mm less a layer", "best sizes"};

/* ---- Numbers ----------------------------------------------------------------------- */

/* Two decimals, three where two figures that differ would read alike. */
static int decimals_for(double a, double b) {
    return isfinite(a) && isfinite(b) && a != b && round(100.0 * a) == round(100.0 * b) ? 3 : 2;
}

/* A bound, rounded up, so that what is said of numbers beyond it holds. */
static double rounded_up(double bound, double unit) { return ceil(bound / unit - 1e-9) * unit; }

/* Whether equal lengths and 1 mm less could both be tried: no length is below 3 mm. */
static bool is_compared(const tcr_lesson *l) {
    return isfinite(l->rms_mm[TCR_LESSON_EQUAL]) && isfinite(l->rms_mm[TCR_LESSON_ONE_LESS]);
}

static void add_rms(tcr_paragraph *line, const tcr_lesson *l, tcr_lesson_choice choice,
                    tcr_lesson_choice other) {
    tcr_add_fixed(line, l->rms_mm[choice], decimals_for(l->rms_mm[choice], l->rms_mm[other]),
                  false);
}

/* ---- The answer -------------------------------------------------------------------- */

/* Whether the best sizes are 'less' mm a layer, on the layers that have lashes. */
static bool best_is(const tcr_step_range *range, const tcr_lesson *l, double less_mm) {
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        if (range->heights.lashes[i + 1] > 0 && fabs(l->best_less_mm[i] - (i + 1) * less_mm) > 1e-9)
            return false;
    return isfinite(l->rms_mm[TCR_LESSON_BEST]);
}

/* "12/11/10": what the layers wear where the map has its length at the pupil. */
static void add_lengths(tcr_paragraph *line, double bottom_mm, double middle_less_mm,
                        double top_less_mm) {
    tcr_add_number(line, bottom_mm);
    tcr_add(line, "/");
    tcr_add_number(line, bottom_mm - middle_less_mm);
    tcr_add(line, "/");
    tcr_add_number(line, bottom_mm - top_less_mm);
}

static void put_other_sizes(tcr_table *t, const tcr_step_range *range, const tcr_lesson *l,
                            bool has_side) {
    const bool tray_lacks = l->rms_mm[TCR_LESSON_ONE_LESS] < l->rms_mm[TCR_LESSON_BEST] ||
                            l->rms_mm[TCR_LESSON_EQUAL] < l->rms_mm[TCR_LESSON_BEST];
    if (has_side)
        tcr_add(&t->line, tray_lacks ? "best of the tray with " : "best with ");
    else
        tcr_add(&t->line, tray_lacks ? "Best of the tray: " : "Best here: ");
    add_lengths(&t->line, range->map_mm, l->best_less_mm[0], l->best_less_mm[1]);
    tcr_add(&t->line, ", ");
    add_rms(&t->line, l, TCR_LESSON_BEST, TCR_LESSON_ONE_LESS);
    tcr_add(&t->line, " mm rms off one line; ");
    add_lengths(&t->line, range->map_mm, 1.0, 2.0);
    tcr_add(&t->line, " has ");
    add_rms(&t->line, l, TCR_LESSON_ONE_LESS, TCR_LESSON_BEST);
    tcr_add(&t->line, ", equal ");
    add_rms(&t->line, l, TCR_LESSON_EQUAL, TCR_LESSON_BEST);
    tcr_add(&t->line, ".");
}

/* "Best for this set: ", or "best with " behind "Left: "; where how far the layers are apart is
 * asked "Best 0.3 mm apart: ". */
static void add_best(tcr_table *t, const tcr_step_range *range, bool has_side, bool tray_lacks) {
    tcr_add(&t->line, has_side ? "best " : "Best ");
    tcr_add(&t->line, tray_lacks ? "of the tray" : "");
    if (tray_lacks && !range->has_apart) {
        tcr_add(&t->line, has_side ? " with " : ": ");
        return;
    }
    tcr_add(&t->line, tray_lacks ? " " : "");
    if (range->has_apart) {
        tcr_add_number(&t->line, range->apart_mm);
        tcr_add(&t->line, has_side ? " mm apart with " : " mm apart: ");
    } else {
        tcr_add(&t->line, has_side ? "with " : "for this set: ");
    }
}

/* One choice is right; the other is named beside it where it can be tried, also where it would be
 * better, had the tray its sizes. */
static void put_right(tcr_table *t, const tcr_lesson *l, const char *words,
                      tcr_lesson_choice choice, tcr_lesson_choice other) {
    tcr_add(&t->line, words);
    add_rms(&t->line, l, choice, other);
    tcr_add(&t->line, " mm rms off one line");
    if (isnan(l->rms_mm[other])) {
        tcr_add(&t->line, ".");
        return;
    }
    if (l->rms_mm[other] < l->rms_mm[choice]) {
        tcr_add(&t->line, other == TCR_LESSON_EQUAL ? "; equal lengths would have "
                                                    : "; 1 mm less would have ");
        add_rms(&t->line, l, other, choice);
        tcr_add(&t->line, ", but the tray lacks its sizes.");
        return;
    }
    tcr_add(&t->line, other == TCR_LESSON_EQUAL ? " (equal: " : " (1 mm less: ");
    add_rms(&t->line, l, other, choice);
    tcr_add(&t->line, ").");
}

/* The tray has no sizes of the curls and diameters that the layers would wear, or no choice can be
 * tried at all: lengths below 3 mm, or no line. */
static void put_no_size(tcr_table *t, const tcr_lesson *l) {
    const double equal = l->rms_mm[TCR_LESSON_EQUAL], less = l->rms_mm[TCR_LESSON_ONE_LESS];
    if (isnan(equal) && isnan(less))
        tcr_add(&t->line, "Neither equal lengths nor 1 mm less a layer can be tried on these "
                          "lashes.");
    else if (isnan(equal) || less < equal)
        put_right(t, l, "No size of the tray fits here; 1 mm less a layer would lie ",
                  TCR_LESSON_ONE_LESS, TCR_LESSON_EQUAL);
    else
        put_right(t, l, "No size of the tray fits here; equal lengths would lie ", TCR_LESSON_EQUAL,
                  TCR_LESSON_ONE_LESS);
}

bool tcr_step_is_one_layer(const tcr_step_range *range) {
    const size_t *lashes = range->heights.lashes;
    return (lashes[TCR_BOTTOM] > 0) + (lashes[TCR_MIDDLE] > 0) + (lashes[TCR_TOP] > 0) == 1;
}

/* A rule has nothing to bring level: how even it is, with any. */
static void put_one_layer(tcr_table *t, const tcr_step_range *range, const tcr_lesson *l) {
    int layer = TCR_BOTTOM;
    while (range->heights.lashes[layer] == 0)
        layer++;
    tcr_add(&t->line, "All lashes are on the ");
    tcr_add(&t->line, tcr_word(&tcr_words_layer, layer));
    tcr_add(&t->line, " layer: a rule for layers changes nothing");
    if (isfinite(l->rms_mm[TCR_LESSON_EQUAL])) {
        tcr_add(&t->line, "; ");
        tcr_add_fixed(&t->line, l->rms_mm[TCR_LESSON_EQUAL], 2, false);
        tcr_add(&t->line, " mm rms off one line");
    }
    tcr_add(&t->line, ".");
}

void tcr_step_lessons_verdict(tcr_table *t, const tcr_step_range *range, const tcr_lesson *l,
                              bool has_side) {
    if (has_side)
        tcr_table_add_side(t, range->side);
    if (l->lashes < TCR_TOO_FEW) {
        tcr_add_count(&t->line, l->lashes);
        tcr_add(&t->line, l->lashes == 1 ? " lash is" : " lashes are");
        tcr_add(&t->line, " too few to judge how even a choice of lengths is.");
    } else if (tcr_step_is_one_layer(range)) {
        put_one_layer(t, range, l);
    } else if (isnan(l->rms_mm[TCR_LESSON_BEST])) {
        put_no_size(t, l);
    } else if (best_is(range, l, 1.0)) {
        add_best(t, range, has_side, l->rms_mm[TCR_LESSON_EQUAL] < l->rms_mm[TCR_LESSON_ONE_LESS]);
        put_right(t, l, "1 mm less a layer, ", TCR_LESSON_ONE_LESS, TCR_LESSON_EQUAL);
    } else if (best_is(range, l, 0.0)) {
        add_best(t, range, has_side, l->rms_mm[TCR_LESSON_ONE_LESS] < l->rms_mm[TCR_LESSON_EQUAL]);
        put_right(t, l, "equal lengths, ", TCR_LESSON_EQUAL, TCR_LESSON_ONE_LESS);
    } else {
        put_other_sizes(t, range, l, has_side);
    }
    tcr_table_end(t, 0, 2);
}

/* ---- Tables ------------------------------------------------------------------------ */

/* Lessons side by side: every 'stride'-th of 'n', with the number of each. */
typedef struct columns {
    const tcr_lesson *lesson;
    int n, stride;
    double (*number)(int i);
    int decimals;
} columns;

static int right_of(int column) { return FIRST_RIGHT + column * COLUMN; }

static void put_numbers(tcr_table *t, const columns *c, const char *label) {
    tcr_add(&t->line, label);
    for (int i = 0, column = 0; i < c->n; i += c->stride, column++)
        tcr_add_fixed_at(&t->line, right_of(column) - LABEL_AT, c->number(i), c->decimals, false);
    tcr_table_end(t, LABEL_AT, LABEL_AT);
}

static void put_choice(tcr_table *t, const columns *c, tcr_lesson_choice choice) {
    const bool of_tray = choice == TCR_LESSON_BEST && tcr_set_tray(t->set)->count > 0;
    tcr_add(&t->line, of_tray ? "best of the tray" : NAME[choice]);
    for (int i = 0, column = 0; i < c->n; i += c->stride, column++)
        tcr_add_fixed_at(&t->line, right_of(column) - LABEL_AT, c->lesson[i].rms_mm[choice], 2,
                         false);
    tcr_table_end(t, LABEL_AT, LABEL_AT);
}

/* "1/2": what the best sizes take off the middle and the top layer. */
static void put_best_less(tcr_table *t, const columns *c) {
    tcr_add(&t->line, "  less, middle/top");
    for (int i = 0, column = 0; i < c->n; i += c->stride, column++) {
        tcr_paragraph pair;
        tcr_paragraph_begin(&pair);
        for (int layer = 0; layer < TCR_UPPER_LAYERS; layer++) {
            const double less = c->lesson[i].best_less_mm[layer];
            tcr_add(&pair, layer == 0 ? "" : "/");
            if (isnan(less))
                tcr_add(&pair, "-");
            else
                tcr_add_number(&pair, less);
        }
        tcr_add_to_column(&t->line, right_of(column) - LABEL_AT - pair.columns);
        tcr_add(&t->line, pair.text);
    }
    tcr_table_end(t, LABEL_AT, LABEL_AT);
}

static columns by_apart(const tcr_lesson *lesson) {
    return (columns){lesson, TCR_STEP_APART, 2, tcr_step_apart_mm, 1};
}

static columns by_viewer(const tcr_lesson *lesson) {
    return (columns){lesson, TCR_STEP_VIEWERS, 1, tcr_step_viewer_deg, 0};
}

static void put_all_choices(tcr_table *t, const columns *c, const char *label) {
    put_numbers(t, c, label);
    for (int choice = 0; choice < TCR_LESSON_CHOICES; choice++)
        put_choice(t, c, (tcr_lesson_choice)choice);
    put_best_less(t, c);
}

/* ---- Sentences --------------------------------------------------------------------- */

static void add_pays(tcr_paragraph *line, const char *what, double from_mm, const char *unit) {
    tcr_add(line, what);
    if (isnan(from_mm)) {
        tcr_add(line, " nowhere up to 1.6 mm");
    } else if (from_mm == 0.0) {
        tcr_add(line, " at any distance");
    } else {
        tcr_add(line, " from ");
        tcr_add_fixed(line, rounded_up(from_mm, 0.01), 2, false);
        tcr_add(line, unit);
    }
}

static void put_pays(tcr_table *t, const char *lashes, const tcr_lesson *tried,
                     const double pays_mm[2]) {
    if (!is_compared(tried))
        return;
    tcr_add(&t->line, lashes);
    add_pays(&t->line, "1 mm less beats equal", pays_mm[0], " mm apart");
    if (isnan(pays_mm[0]) && isnan(pays_mm[1]))
        tcr_add(&t->line, ", nor does 2 mm beat 1");
    else
        add_pays(&t->line, ", 2 mm beats 1", pays_mm[1], " mm");
    tcr_add(&t->line, ".");
    tcr_table_end(t, 2, 4);
}

/* What the couch shows, and from which angle up to 70 degrees on the order is another. */
static void put_couch(tcr_table *t, const tcr_step_lessons *l) {
    const tcr_lesson *couch = &l->closed[TCR_STEP_COUCH];
    const double turns_deg = rounded_up(l->turns_rad / TCR_DEG, 1.0);
    if (!is_compared(couch))
        return;
    tcr_add(&t->line, "Eye closed, couch (");
    tcr_add_fixed(&t->line, tcr_step_viewer_deg(TCR_STEP_COUCH), 0, false);
    tcr_add(&t->line, "°): equal ");
    add_rms(&t->line, couch, TCR_LESSON_EQUAL, TCR_LESSON_ONE_LESS);
    tcr_add(&t->line, ", 1 mm less ");
    add_rms(&t->line, couch, TCR_LESSON_ONE_LESS, TCR_LESSON_EQUAL);
    if (isnan(turns_deg)) {
        tcr_add(&t->line, "; equal never better.");
    } else if (turns_deg == 0.0) {
        tcr_add(&t->line, "; equal always better.");
    } else {
        tcr_add(&t->line, "; equal better above ");
        tcr_add_fixed(&t->line, turns_deg, 0, false);
        tcr_add(&t->line, "°.");
    }
    tcr_table_end(t, 2, 4);
}

static void add_pair(tcr_paragraph *line, const tcr_lesson *l) {
    add_rms(line, l, TCR_LESSON_EQUAL, TCR_LESSON_ONE_LESS);
    tcr_add(line, " to ");
    add_rms(line, l, TCR_LESSON_ONE_LESS, TCR_LESSON_EQUAL);
}

/* What it costs the rule that lashes vary. */
static void put_variation(tcr_table *t, const tcr_step_lessons *l) {
    if (isnan(l->spread[0].rms_mm[TCR_LESSON_EQUAL]))
        return;
    tcr_add(&t->line, "From equal lengths to 1 mm less: ");
    add_pair(&t->line, &l->spread[0]);
    tcr_add(&t->line, " on lashes that are all alike; ");
    for (int i = 1; i < TCR_STEP_SPREADS; i++) {
        tcr_add(&t->line, i > 1 ? ", " : "");
        add_pair(&t->line, &l->spread[i]);
    }
    tcr_add(&t->line, " where they grow upwards by angles that vary by ");
    for (int i = 1; i < TCR_STEP_SPREADS; i++) {
        tcr_add(&t->line, i > 1 ? ", " : "");
        tcr_add_fixed(&t->line, tcr_step_spread_deg[i], 0, false);
        tcr_add(&t->line, "°");
    }
    tcr_add(&t->line, " (one standard deviation, assumed).");
    tcr_table_end(t, 2, 4);
}

/* ---- Both parts -------------------------------------------------------------------- */

void tcr_step_lessons_short(tcr_table *t, const tcr_step_lessons *l, bool all) {
    const columns own = by_apart(l->own);
    put_numbers(t, &own, "layers apart, mm");
    put_choice(t, &own, TCR_LESSON_EQUAL);
    put_choice(t, &own, TCR_LESSON_ONE_LESS);
    if (all)
        put_choice(t, &own, TCR_LESSON_TWO_LESS);
    put_choice(t, &own, TCR_LESSON_BEST);
    if (all)
        put_best_less(t, &own);
    put_pays(t, "", &l->own[0], l->own_pays_mm);
    put_couch(t, l);
    if (all)
        put_variation(t, l);
}

void tcr_step_lessons_full(tcr_table *t, const tcr_step_lessons *l) {
    const columns alike = by_apart(l->alike);
    const columns open = by_viewer(l->open), closed = by_viewer(l->closed);
    tcr_table_line(
        t, 2, "Layers apart, on lashes that are all alike: each is the mean lash of its layer");
    put_all_choices(t, &alike, "layers apart, mm");
    put_pays(t, "Lashes all alike: ", &l->alike[0], l->alike_pays_mm);
    tcr_table_line(t, 2, "From the street to the couch, own lashes, eye open");
    put_all_choices(t, &open, "viewer above, °");
    tcr_table_line(t, 2, "The same, eye closed");
    put_all_choices(t, &closed, "viewer above, °");
    tcr_table_line(
        t, 2,
        "A spread of pitch is normal, over ten draws (seeds 1 to 10). 4° is what tipcrest "
        "assumes of a person; 11° was read second-hand, over several people, and the "
        "original was not seen. What rows of a survey say that lashes wear plays no part "
        "in these figures.");
}
