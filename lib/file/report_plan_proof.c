/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is known of a plan's choice for the zones, in its table: its bound, what the bound is of,
 * and what keeps the choice from coming nearer.
 */
#include "file/report_plan.h"

#include <math.h>
#include <tipcrest/why.h>

enum { DECIMALS = 3 }; /* of a bound and of what it bounds */

/* What the bound is of: the distance that was minimised, as the zones' choices have it. */
static double bounded(const tcr_plan_result *r, const tcr_plan_options *o) {
    if (o->objective == TCR_LEAST_MAXIMUM)
        return r->samples > 0 ? r->samples_max_mm : r->max_mm;
    return r->samples > 0 ? r->expected_rms_mm : r->rms_mm;
}

/* A sentence behind others, or the first of a paragraph. */
static void add_sentence(tcr_paragraph *line, const char *text) {
    tcr_add(line, line->used > 0 ? " " : "");
    tcr_add(line, text);
}

/*
 * What the zones come to over the samples, which the bound is of. Of eyes that nobody measured the
 * answer has it already, but for the farthest tip.
 */
static void add_over_samples(tcr_paragraph *line, const tcr_plan_result *r,
                             const tcr_plan_options *o) {
    const bool maximum = o->objective == TCR_LEAST_MAXIMUM;
    if (r->samples == 0 || (!maximum && r->points == 0))
        return;
    add_sentence(line, "For lashes that vary, zones alone: ");
    tcr_add_fixed(line, bounded(r, o), DECIMALS, false);
    tcr_add(line, maximum ? " mm at most in " : " mm rms.");
    if (!maximum)
        return;
    tcr_add_fixed(line, 100.0 * o->samples_share, 0, false);
    tcr_add(line, " % of the samples (assumed).");
}

/* Where the work ended before the choice was proved. */
static void add_stopped(tcr_paragraph *line, const tcr_plan_result *r, const tcr_plan_options *o) {
    if (r->samples < o->samples) {
        add_sentence(line, "Stopped after ");
        tcr_add_count(line, r->samples);
        tcr_add(line, " of ");
        tcr_add_count(line, o->samples);
        tcr_add(line, r->samples > 0 ? " samples: chosen by these."
                                     : " samples: chosen by the lashes as they are.");
    } else if (!r->proved)
        add_sentence(line, r->stopped ? "Stopped: the best choice so far, not proved."
                                      : "Not proved: the best choice so far.");
}

static void add_proof(tcr_paragraph *line, const tcr_plan_result *r, const tcr_plan_options *o) {
    add_stopped(line, r, o);
    if (!(r->bound_mm > 0.0) && !r->proved) { /* it was stopped before it had one */
        add_sentence(line, "No bound is known.");
        return;
    }
    add_sentence(line, r->proved ? "Proved for this map, tray" : "For this map, tray");
    tcr_add(line, o->same_placement ? ", limits and these placements" : " and limits");
    tcr_add(line, r->proved ? ": no choice " : " no choice ");
    tcr_add(line, r->samples == 0  ? "for the zones comes nearer than "
                  : r->points == 0 ? "is nearer on these than "
                                   : "is then nearer than ");
    tcr_add_bound(line, r->bound_mm, DECIMALS, false);
    tcr_add(line, o->objective == TCR_LEAST_MAXIMUM ? " mm at most" : " mm rms");
    if (!r->proved) {
        tcr_add(line, "; this one is at most ");
        tcr_add_bound(line, bounded(r, o) - r->bound_mm, DECIMALS, true);
        tcr_add(line, " mm above that");
    }
    tcr_add(line, ".");
    if (r->proved && r->stopped)
        add_sentence(line, "Stopped before every lash was looked at for a correction.");
}

/* How far the tips of a cell lie above the line on average, with what its zone gives; NaN where
 * the zone or the rows fix its length, or none has it. */
static double above_line(const tcr_set *set, const tcr_plan *plan, const tcr_plan_cell *cell) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, cell->side);
    size_t zones;
    const tcr_zone *zone = tcr_set_map(set, cell->side, &zones) + cell->zone;
    double sum = 0.0, lashes = 0.0;
    if ((zone->layer[cell->layer].fixed & TCR_FIX_LENGTH) != 0)
        return NAN;
    for (size_t i = 0; i < eye->lashes; i++)
        if (eye->lash[i].use == TCR_USED && tcr_plan_cell_of(plan, set, cell->side, i) == cell) {
            sum += eye->lash[i].zone_deviation_mm;
            lashes += 1.0;
        }
    return sum / lashes;
}

/* Cells for which the tray has nothing short enough: their tips lie high on average. */
static void add_tray_end(tcr_table *t, const tcr_plan *plan) {
    static const double LEAST_MM = 0.5; /* half a size of most trays */
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    double shortest_mm = INFINITY;
    size_t cells = 0;
    for (size_t c = 0; c < r->cells; c++) {
        const tcr_choice *choice = &r->cell[c].choice;
        tcr_tray of;
        if (tcr_tray_of(tcr_set_tray(t->set), tcr_set_curl(t->set, choice->curl)->label,
                        choice->diameter_mm, &of) != TCR_OK ||
            choice->length_mm > of.length_mm[0] ||
            !(above_line(t->set, plan, &r->cell[c]) > LEAST_MM))
            continue;
        shortest_mm = fmin(shortest_mm, choice->length_mm);
        cells++;
    }
    if (cells == 0)
        return;
    add_sentence(&t->line, "");
    tcr_add_count(&t->line, cells);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, r->cells);
    tcr_add(&t->line, " zones and layers have the tray's shortest, ");
    tcr_add_number(&t->line, shortest_mm);
    tcr_add(&t->line, " mm, and tips over ");
    tcr_add_number(&t->line, LEAST_MM);
    tcr_add(&t->line, " mm high: shorter may help.");
}

/* Whether all zones of a layer have one placement as it is. */
static bool is_placed_by_layer(const tcr_plan_result *r) {
    for (size_t c = 0; c < r->cells; c++)
        for (size_t d = 0; d < c; d++)
            if (r->cell[c].layer == r->cell[d].layer &&
                r->cell[c].choice.placement != r->cell[d].choice.placement)
                return false;
    return true;
}

/* With three decimals where two do not tell it from another. */
static void add_apart(tcr_paragraph *line, double mm, double other_mm) {
    const int decimals = round(100.0 * mm) == round(100.0 * other_mm) && mm != other_mm ? 3 : 2;
    tcr_add_fixed(line, mm, decimals, false);
}

bool tcr_table_add_placed(tcr_paragraph *line, const tcr_plan *plan, bool full) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_plan_options *o = tcr_plan_options_of(plan);
    const bool same = o->same_placement;
    const char *measure = o->objective == TCR_LEAST_MAXIMUM ? " mm at most" : " mm";
    const double own_mm = same ? r->by_layer_mm : r->by_zone_mm;
    const double other_mm = same ? r->by_zone_mm : r->by_layer_mm;
    if (isnan(other_mm) || (!same && is_placed_by_layer(r)))
        return false;
    add_sentence(line, same   ? "Without --same-placement "
                       : full ? "With one placement for each layer (--same-placement; "
                              : "With one placement for each layer (--same-placement) ");
    for (int layer = 0; layer < TCR_LAYERS && !same && full; layer++) {
        tcr_add(line, tcr_word(&tcr_words_layer, layer));
        tcr_add(line, ": ");
        tcr_add(line, tcr_placement_words(r->layer_placement[layer]));
        tcr_add(line, layer < TCR_TOP ? ", " : ") ");
    }
    add_apart(line, other_mm, own_mm);
    tcr_add(line, measure);
    if (full) {
        tcr_add(line, " instead of ");
        add_apart(line, own_mm, other_mm);
    }
    tcr_add(line, tcr_effect_of(own_mm, other_mm) == TCR_LITTLE ? ", as good." : ".");
    return true;
}

void tcr_table_plan_proof(tcr_table *t, const tcr_plan *plan, bool full) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_plan_options *o = tcr_plan_options_of(plan);
    add_over_samples(&t->line, r, o);
    add_proof(&t->line, r, o);
    if (full)
        (void)tcr_table_add_placed(&t->line, plan, full);
    add_tray_end(t, plan);
    if (o->free_mm > 0.0) {
        add_sentence(&t->line, "The line is moved against the map's by ");
        tcr_add_fixed(&t->line, r->shift_mm + r->tilt * r->end_mm[0], 2, true);
        tcr_add(&t->line, " mm at its inner end and ");
        tcr_add_fixed(&t->line, r->shift_mm + r->tilt * r->end_mm[1], 2, true);
        tcr_add(&t->line, " mm at its outer end");
        tcr_add(&t->line, r->at_limit ? ", as far as it may: " : "; it may move by ");
        tcr_add_number(&t->line, o->free_mm);
        tcr_add(&t->line, " mm.");
    }
    tcr_table_end(t, 2, 4);
}
