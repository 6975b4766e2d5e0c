/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of level steps for people: for two ways to place extensions what each curl asks for,
 * exactly and from the tray, whether one size a layer suits; then what moves a tip, in sentences.
 */
#include <tipcrest/file.h>

#include <math.h>

#include "file/report_step.h"
#include "file/table.h"
#include "num/range.h"

/* Layers that lie this close together look level: our own limit, between what an eye sees and half
 * of what the nearest whole millimetre may leave. */
static const double SUITS_MM = 0.15;

typedef struct step_table {
    tcr_table table;
    const tcr_step_range *range;
    int wide; /* columns of the widest label */
} step_table;

static void add_label(tcr_paragraph *line, const tcr_step_range *range, size_t curl) {
    tcr_add_safe(line, tcr_set_get_curl(range->set, curl)->label, TCR_LABEL_SIZE);
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

/* ---- Does one size a layer suit? --------------------------------------------------- */

static bool is_left_within(const tcr_step *step, int i) {
    return fabs(step->left_over_mm[i]) <= SUITS_MM; /* not for NaN */
}

/* Whether the middle and top layer's lengths are the next ones of the tray below the bottom's. */
static bool is_one_size_a_layer(const tcr_tray *tray, double bottom_mm, const tcr_step *step) {
    for (size_t i = 2; i < tray->count; i++)
        if (fabs(tray->length_mm[i] - bottom_mm) < 1e-9) /* the tray's own, as everywhere */
            return tray->length_mm[i - 1] == step->tray_mm[0] &&
                   tray->length_mm[i - 2] == step->tray_mm[1];
    return false;
}

/* How a curl is suited. */
typedef enum suited { BY_NONE, BY_ONE_SIZE, BY_OTHER_SIZES } suited;

static suited suited_by(const tcr_step_range *range, const tcr_step *step) {
    if (!is_left_within(step, 0) || !is_left_within(step, 1))
        return BY_NONE;
    return is_one_size_a_layer(tcr_set_get_tray(range->set), range->shown_mm, step)
               ? BY_ONE_SIZE
               : BY_OTHER_SIZES;
}

static const char *verdict_of(const tcr_step_range *range, const tcr_step *step) {
    const bool middle = is_left_within(step, 0), top = is_left_within(step, 1);
    if (isnan(step->left_over_mm[0]))
        return "cannot be bonded";
    const suited by = suited_by(range, step);
    if (by != BY_NONE)
        return by == BY_ONE_SIZE ? "one size a layer suits" : "these sizes suit";
    return top ? "no size suits the middle" : middle ? "no size suits the top" : "no size suits";
}

/* ---- One way to place extensions --------------------------------------------------- */

static void put_row(step_table *t, size_t curl, const tcr_step *step) {
    tcr_paragraph *line = &t->table.line;
    add_label(line, t->range, curl);
    for (int i = 0; i < TCR_UPPER_LAYERS; i++)
        tcr_add_fixed_at(line, t->wide + 8 + 6 * i, step->step_mm[i], 2, false);
    tcr_add_fixed_at(line, t->wide + 20, step->step_mm[0] + step->step_mm[1], 2, false);
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
    tcr_add(line, "  ");
    tcr_add(line, verdict_of(t->range, step));
    tcr_table_end(&t->table, 4, 6);
}

/* "C, CC and D": the curls that are suited so; returns how many. With no line it only counts. */
static size_t add_suited(tcr_paragraph *line, const tcr_step_range *range,
                         const tcr_step_placements *placements, suited by, size_t of) {
    size_t count = 0;
    for (size_t i = 0; i < range->curls; i++) {
        const size_t curl = range->first_curl + i;
        const tcr_step step = tcr_step_answer(range, curl, range->shown_mm, placements);
        if (suited_by(range, &step) != by)
            continue;
        if (line != NULL) {
            tcr_add(line, count == 0 ? "" : count + 1 == of ? " and " : ", ");
            add_label(line, range, curl);
        }
        count++;
    }
    return count;
}

static void put_suited(step_table *t, const tcr_step_placements *placements) {
    const tcr_step_range *range = t->range;
    tcr_paragraph *line = &t->table.line;
    const size_t one = add_suited(NULL, range, placements, BY_ONE_SIZE, 0);
    const size_t others = add_suited(NULL, range, placements, BY_OTHER_SIZES, 0);
    tcr_add(line, one > 0            ? "One size a layer suits "
                  : range->curls > 1 ? "One size a layer suits none of these curls"
                                     : "One size a layer does not suit");
    (void)add_suited(line, range, placements, BY_ONE_SIZE, one);
    tcr_add(line, others > 0 ? "; other sizes suit " : "");
    (void)add_suited(line, range, placements, BY_OTHER_SIZES, others);
    tcr_add(line, ".");
    tcr_table_end(&t->table, 4, 6);
}

static void put_placement(step_table *t, const char *name, const tcr_step_placements *placements) {
    tcr_paragraph *line = &t->table.line;
    tcr_table_line(&t->table, 2, name);
    tcr_add_to_column(line, t->wide + 4);
    tcr_add(line, "exact step  both  nearest size  left over");
    tcr_table_end(&t->table, 4, 6);
    tcr_add(line, "curl");
    tcr_add_to_column(line, t->wide + 2);
    tcr_add(line, "middle   top   top  middle  top  middle   top");
    tcr_table_end(&t->table, 4, 6);
    for (size_t i = 0; i < t->range->curls; i++) {
        const size_t curl = t->range->first_curl + i;
        const tcr_step step = tcr_step_answer(t->range, curl, t->range->shown_mm, placements);
        put_row(t, curl, &step);
    }
    put_suited(t, placements);
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

static void put_heading(step_table *t) {
    const tcr_view open_front = {.opening = 1.0, .viewer_rad = 0.0};
    tcr_table_heading(&t->table, t->range->side, open_front);
    tcr_add(&t->table.line, "Level steps: by how many mm an extension must be shorter than on the "
                            "layer below, so that the tips of the mean lash stand at one height "
                            "at the pupil. Both: the top layer than the bottom one, the two steps "
                            "together. Layers 1 mm apart; ");
    tcr_add_number(&t->table.line, t->range->shown_mm);
    tcr_add(&t->table.line, " mm on the bottom layer.");
    tcr_table_end(&t->table, 2, 4);
    tcr_add(&t->table.line, "Left over: how far the tip with the tray's nearest size then stands "
                            "above (+) or below the bottom layer's; within ");
    tcr_add_number(&t->table.line, SUITS_MM);
    tcr_add(&t->table.line, " mm it suits.");
    tcr_table_end(&t->table, 2, 4);
}

static void put_assumptions(step_table *t, const tcr_sensitivity *sensitivity) {
    tcr_assumed assumed[TCR_LASH_BITS];
    const size_t count = tcr_step_assumed(t->range, sensitivity, assumed);
    tcr_table_line(&t->table, 0, "Assumed, not measured");
    for (size_t i = 0; i < count; i++) {
        tcr_add(&t->table.line, i == 0 ? "of the mean lash: " : ", ");
        tcr_add_column_words(&t->table.line, assumed[i].field->key);
    }
    if (count > 0)
        tcr_table_end(&t->table, 2, 4);
    tcr_table_lid_assumption(&t->table, t->range->side);
    tcr_table_line(&t->table, 2, "layers 1 mm apart: common practice, no source");
    tcr_add(&t->table.line, "that what is left over within ");
    tcr_add_number(&t->table.line, SUITS_MM);
    tcr_add(&t->table.line, " mm suits");
    tcr_table_end(&t->table, 2, 4);
    tcr_table_line(&t->table, 2, tcr_table_curls);
    tcr_table_line(&t->table, 0, "");
}

tcr_status tcr_report_step_table(const tcr_set *set, const tcr_step_report_options *options,
                                 tcr_sink sink, void *context) {
    tcr_step_range range;
    const tcr_status status = tcr_step_range_of(set, options, &range);
    if (status != TCR_OK || sink == NULL)
        return status != TCR_OK ? status : TCR_E_ARGUMENT;
    tcr_writer writer;
    tcr_writer_begin(&writer, sink, context);
    step_table t = {
        .table = {.set = set, .writer = &writer}, .range = &range, .wide = widest_label(&range)};
    tcr_paragraph_begin(&t.table.line);
    put_heading(&t);
    put_placement(&t, "All at the outer side", &tcr_step_beside);
    put_placement(&t, "As taught: bottom on top, middle at the outer side, top underneath",
                  &tcr_step_taught);
    tcr_sensitivity found;
    const bool known = tcr_step_shown_sensitivity(&range, &found) == TCR_OK;
    if (known)
        put_sensitivities(&t, &found);
    tcr_table_line(&t.table, 0, "");
    put_assumptions(&t, known ? &found : NULL);
    tcr_table_line(&t.table, 0, tcr_table_cautions);
    return tcr_writer_end(&writer);
}
