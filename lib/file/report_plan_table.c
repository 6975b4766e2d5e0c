/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of a plan for people: who gets one, what each zone and layer gets, what the corrections
 * bring, and what all that rests on. */
#include <tipcrest/file.h>

#include <math.h>
#include <stdint.h>

#include "file/report_plan.h"
#include "file/table.h"
#include "num/options.h"
#include "num/range.h"

enum { ID_COLUMNS = 24 };

void tcr_add_choice(tcr_paragraph *line, const tcr_set *set, const tcr_choice *choice) {
    tcr_add_number(line, choice->length_mm);
    tcr_add(line, " ");
    tcr_add_safe(line, tcr_set_curl(set, choice->curl)->label, TCR_LABEL_SIZE);
    tcr_add(line, " ");
    tcr_add(line, tcr_placement_words(choice->placement));
}

/* How thick, and how many fibres. */
static void add_kind(tcr_paragraph *line, const tcr_choice *choice) {
    tcr_add_number(line, choice->diameter_mm);
    tcr_add(line, " mm");
    if (choice->fan > 1) {
        tcr_add(line, ", fan of ");
        tcr_add_count(line, (size_t)choice->fan);
    }
}

/* ---- An eye -------------------------------------------------------------------------- */

static void put_uses(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    const double share = tcr_plan_options_of(plan)->share;
    const double usual = tcr_plan_options_default().share;
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    tcr_add_count(&t->line, eye->used);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, eye->lashes);
    tcr_add(&t->line, " lashes get an extension; target: ");
    tcr_add_fixed(&t->line, 100.0 * share, 0, false);
    tcr_add(&t->line, " %");
    tcr_add_source(&t->line, share, usual, " (common practice)");
    tcr_add(&t->line, ", ");
    tcr_add_count(&t->line, eye->suitable);
    tcr_add(&t->line, " are suitable.");
    for (int use = TCR_BARE_COVER; use < TCR_USES; use++)
        if (eye->uses[use] > 0) {
            tcr_add(&t->line, " ");
            tcr_add_count(&t->line, eye->uses[use]);
            tcr_add(&t->line, " ");
            tcr_add(&t->line, tcr_use_text((tcr_use)use));
            tcr_add(&t->line, ".");
        }
    if (eye->uses[TCR_BARE_WEAK] > 0)
        tcr_add(&t->line, " A smaller diameter (--diameters) or wider limits, under plan in the "
                          "set file, may let more of these carry one.");
    tcr_table_end(t, 2, 4);
    tcr_add(&t->line, "Largest gap along the lid ");
    tcr_add_fixed(&t->line, eye->gap_mm, 2, false);
    if (eye->used < eye->suitable) {
        tcr_add(&t->line, " mm; with every suitable lash it would be ");
        tcr_add_fixed(&t->line, eye->least_gap_mm, 2, false);
    }
    tcr_add(&t->line, " mm.");
    tcr_table_end(t, 2, 4);
}

void tcr_table_plan_zones(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    static const int COLUMN_AT[TCR_LAYERS] = {16, 37, 58};
    size_t zones;
    const tcr_zone *map = tcr_set_map(t->set, side, &zones);
    tcr_add(&t->line, "Zone, up to");
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        tcr_add_to_column(&t->line, COLUMN_AT[layer]);
        tcr_add(&t->line, tcr_word(&tcr_words_layer, layer));
    }
    tcr_table_end(t, 2, 4);
    for (size_t zone = 0; zone < zones; zone++) {
        tcr_add_count(&t->line, zone + 1);
        tcr_add_to_column(&t->line, 4);
        tcr_add_fixed(&t->line, map[zone].to, 2, false);
        for (int layer = 0; layer < TCR_LAYERS; layer++) {
            const tcr_plan_cell *cell =
                tcr_plan_cell_at(tcr_plan_result_of(plan), side, zone, (tcr_layer)layer);
            tcr_add_to_column(&t->line, COLUMN_AT[layer]);
            if (cell == NULL)
                tcr_add(&t->line, tcr_set_lashes_in(t->set, side, zone, (tcr_layer)layer) > 0
                                      ? "all stay bare"
                                      : "no lash");
            else
                tcr_add_choice(&t->line, t->set, &cell->choice);
        }
        tcr_table_end(t, 2, 4);
        for (int layer = 0; layer < TCR_LAYERS && !tcr_plan_result_of(plan)->one_kind; layer++) {
            const tcr_plan_cell *cell =
                tcr_plan_cell_at(tcr_plan_result_of(plan), side, zone, (tcr_layer)layer);
            tcr_add_to_column(&t->line, COLUMN_AT[layer]);
            if (cell != NULL)
                add_kind(&t->line, &cell->choice);
            if (layer == TCR_TOP)
                tcr_table_end(t, 2, 4);
        }
    }
}

bool tcr_table_plan_kind(tcr_table *t, const tcr_plan *plan) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    if (!r->one_kind || r->cells == 0)
        return false;
    tcr_add(&t->line, t->line.used > 0 ? " Each is " : "Each is ");
    tcr_add_number(&t->line, r->cell[0].choice.diameter_mm);
    tcr_add(&t->line, " mm thick");
    if (r->cell[0].choice.fan > 1) {
        tcr_add(&t->line, ", a fan of ");
        tcr_add_count(&t->line, (size_t)r->cell[0].choice.fan);
    }
    tcr_add(&t->line, ".");
    return true;
}

static void put_correction(tcr_table *t, const tcr_plan *plan, tcr_side side, size_t i) {
    const tcr_plan_lash *lash = &tcr_plan_eye_of(plan, side)->lash[i];
    const tcr_plan_cell *cell = tcr_plan_cell_of(plan, t->set, side, i);
    tcr_add_safe(&t->line, tcr_set_id(t->set, side, i), ID_COLUMNS);
    tcr_add(&t->line, ": ");
    tcr_add_choice(&t->line, t->set, &lash->choice);
    tcr_add(&t->line, ", not ");
    tcr_add_choice(&t->line, t->set, &cell->choice); /* of the same thickness and fan */
    tcr_add(&t->line, ": ");
    tcr_add_fixed(&t->line, lash->deviation_mm, 2, true);
    tcr_add(&t->line, " mm off the line, not ");
    tcr_add_fixed(&t->line, lash->zone_deviation_mm, 2, true);
    tcr_table_end(t, 4, 6);
}

/* Whether a lash is one of those that a cell chooses for. */
static bool is_of_cell(const tcr_table *t, const tcr_plan_eye *eye, const tcr_plan_cell *cell,
                       size_t i) {
    const tcr_lash *lash = tcr_set_lash(t->set, cell->side, i);
    return eye->lash[i].use == TCR_USED && lash->layer == cell->layer &&
           tcr_set_zone_at(t->set, cell->side, lash->u) == cell->zone;
}

/* Why several lashes of a cell get more than it: a weaker one among them bears no more. */
static void put_held_back(tcr_table *t, const tcr_plan *plan, const tcr_check *after,
                          const tcr_plan_cell *cell) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, cell->side);
    size_t longer = 0, weak = 0, first = 0;
    tcr_choice next = cell->choice;
    next.length_mm = INFINITY;
    for (size_t i = 0; i < eye->lashes; i++)
        if (is_of_cell(t, eye, cell, i) && eye->lash[i].choice.length_mm > cell->choice.length_mm) {
            longer++;
            next.length_mm = fmin(next.length_mm, eye->lash[i].choice.length_mm);
        }
    for (size_t i = 0; i < eye->lashes && longer > 1; i++)
        if (is_of_cell(t, eye, cell, i) &&
            tcr_limits_beyond(&tcr_plan_options_of(plan)->limits, t->set,
                              tcr_set_lash(t->set, cell->side, i),
                              &tcr_check_eye(after, cell->side)->lash[i].stance, &next) != 0) {
            first = weak == 0 ? i : first;
            weak++;
        }
    if (weak == 0 || weak >= longer)
        return;
    tcr_add(&t->line, "Zone ");
    tcr_add_count(&t->line, cell->zone + 1);
    tcr_add(&t->line, ", ");
    tcr_add(&t->line, tcr_layer_text(cell->layer));
    tcr_add(&t->line, ": ");
    tcr_add_safe(&t->line, tcr_set_id(t->set, cell->side, first), ID_COLUMNS);
    if (weak > 1) {
        tcr_add(&t->line, " and ");
        tcr_add_count(&t->line, weak - 1);
        tcr_add(&t->line, " more");
    }
    tcr_add(&t->line, " cannot carry a longer one; ");
    tcr_add_count(&t->line, longer);
    tcr_add(&t->line, " others get more than the zone.");
    tcr_table_end(t, 2, 4);
}

static void put_corrections(tcr_table *t, const tcr_plan *plan, const tcr_check *after,
                            tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    size_t corrected = 0;
    for (size_t i = 0; i < eye->lashes; i++)
        corrected += eye->lash[i].corrected;
    if (corrected == 0)
        return;
    tcr_add_count(&t->line, corrected);
    tcr_add(&t->line,
            corrected == 1 ? " lash differs from its zone:" : " lashes differ from their zone:");
    tcr_table_end(t, 2, 4);
    for (size_t i = 0; i < eye->lashes && t->writer->status == TCR_OK; i++)
        if (eye->lash[i].corrected)
            put_correction(t, plan, side, i);
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    for (size_t c = 0; c < r->cells; c++)
        if (r->cell[c].side == side)
            put_held_back(t, plan, after, &r->cell[c]);
}

/* Lashes that stay beyond the tolerance, and what would bring each nearer. */
static void put_left_over(tcr_table *t, const tcr_plan *plan, tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    const double tolerance = tcr_set_tolerance(t->set);
    bool first = true;
    for (size_t i = 0; i < eye->lashes && t->writer->status == TCR_OK; i++) {
        const tcr_plan_lash *lash = &eye->lash[i];
        if (!(fabs(lash->deviation_mm) > tolerance))
            continue;
        if (first) {
            tcr_add(&t->line, "Still more than ");
            tcr_add_given(&t->line, tolerance);
            tcr_add(&t->line, " mm off the line:");
            tcr_table_end(t, 2, 4);
        }
        first = false;
        tcr_add_safe(&t->line, tcr_set_id(t->set, side, i), ID_COLUMNS);
        tcr_add(&t->line, ": ");
        tcr_add_beside(&t->line, lash->deviation_mm, tolerance, true);
        if (lash->use == TCR_USED_BY_ROW) {
            tcr_add(&t->line, " mm, with what its row gives");
        } else if (!lash->corrected && !isnan(lash->better_mm)) {
            tcr_add(&t->line, " mm; ");
            tcr_add_choice(&t->line, t->set, &lash->better);
            tcr_add(&t->line, " would leave ");
            tcr_add_beside(&t->line, lash->better_mm, tolerance, true);
        } else {
            tcr_add(&t->line, " mm; no size next to the zone's and no other placement within "
                              "the limits does better");
        }
        tcr_table_end(t, 4, 6);
    }
}

/* What the survey gives to lashes that a plan would not give it to. */
void tcr_table_plan_against_limits(tcr_table *t, const tcr_plan *plan, const tcr_check *after,
                                   tcr_side side) {
    static const char *const WHAT[] = {"length", "mass", "moment", "bond"};
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    const tcr_limits *limits = &tcr_plan_options_of(plan)->limits;
    for (size_t i = 0; i < eye->lashes && t->writer->status == TCR_OK; i++) {
        const tcr_lash *lash = tcr_set_lash(t->set, side, i);
        if (eye->lash[i].use != TCR_USED_BY_ROW)
            continue;
        const tcr_stance *stance = &tcr_check_eye(after, side)->lash[i].stance;
        const unsigned beyond =
            tcr_limits_beyond(limits, t->set, lash, stance, &eye->lash[i].choice);
        if (beyond == 0 && lash->condition == TCR_SUITABLE)
            continue;
        tcr_add(&t->line, "LOOK AGAIN: the row of ");
        tcr_add_safe(&t->line, tcr_set_id(t->set, side, i), ID_COLUMNS);
        tcr_add(&t->line, " gives it ");
        tcr_add_choice(&t->line, t->set, &eye->lash[i].choice);
        if (lash->condition != TCR_SUITABLE) {
            tcr_add(&t->line, ", and calls it ");
            tcr_add(&t->line, tcr_word(&tcr_words_condition, (int)lash->condition));
        }
        const char *between = beyond != 0 ? "; beyond the limits of " : "";
        for (int k = 0; k < 4; k++)
            if ((beyond & 1u << k) != 0) {
                tcr_add(&t->line, between);
                tcr_add(&t->line, WHAT[k]);
                between = ", ";
            }
        tcr_add(&t->line, ".");
        tcr_table_end(t, 2, 4);
    }
}

/* What the zones come to over the samples of an eye. */
static void put_over(tcr_table *t, const tcr_plan_eye *eye) {
    tcr_add(&t->line, "Over the samples, off the line of each: ");
    tcr_add_fixed(&t->line, eye->over.rms_mm, 2, false);
    tcr_add(&t->line, " mm rms, ");
    tcr_add_fixed(&t->line, eye->over.p95_mm, 2, false);
    tcr_add(&t->line, " mm the 95th percentile, ");
    tcr_add_fixed(&t->line, eye->over.max_mm, 2, false);
    tcr_add(&t->line, " mm at most; ");
    tcr_add_share(&t->line, eye->over.within_tolerance);
    tcr_add(&t->line, " within the tolerance.");
    tcr_table_end(t, 2, 4);
}

static void put_eye(tcr_table *t, const tcr_plan *plan, const tcr_check *after, tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    tcr_table_heading(t, side, *tcr_set_view(t->set));
    if (eye->zones_only)
        tcr_table_line(t, 2, "Counts and gaps are those of one client drawn by chance.");
    put_uses(t, plan, side);
    tcr_table_plan_zones(t, plan, side);
    if (tcr_table_plan_kind(t, plan))
        tcr_table_end(t, 2, 4);
    if (eye->zones_only) {
        put_over(t, eye);
        tcr_table_plan_wanting(t, eye, side);
    } else {
        put_corrections(t, plan, after, side);
        put_left_over(t, plan, side);
        tcr_table_plan_against_limits(t, plan, after, side);
    }
    tcr_put(t->writer, "\n");
}

/* ---- Figures ------------------------------------------------------------------------- */

enum { RMS_AT = 42, P95_AT = 54, MOST_AT = 63, WITHIN_AT = 76 };

static void put_point(tcr_table *t, const tcr_plan_point *point) {
    if (point->corrections == 0) {
        tcr_add(&t->line, "zones alone");
    } else {
        tcr_add(&t->line, "with ");
        tcr_add_count(&t->line, point->corrections);
        tcr_add(&t->line, point->corrections == 1 ? " correction" : " corrections");
    }
    tcr_add_fixed_at(&t->line, RMS_AT, point->rms_mm, 2, false);
    tcr_add_fixed_at(&t->line, P95_AT, point->p95_mm, 2, false);
    tcr_add_fixed_at(&t->line, MOST_AT, point->max_mm, 2, false);
    /* Rounded down, but for rounding of the product: 94.96 % is not 95. */
    tcr_add_fixed_at(&t->line, WITHIN_AT, floor(1000.0 * point->within_tolerance + 1e-9) / 10.0, 1,
                     false);
    tcr_add(&t->line, " %");
    tcr_table_end(t, 2, 4);
}

/* How far an eye's tips lie off the line that is planned for; an eye has some. */
static double rms_of(const tcr_plan *plan, tcr_side side) {
    const tcr_plan_eye *eye = tcr_plan_eye_of(plan, side);
    double squares = 0.0;
    for (size_t i = 0; i < eye->lashes; i++)
        if (!isnan(eye->lash[i].deviation_mm))
            squares += eye->lash[i].deviation_mm * eye->lash[i].deviation_mm;
    return eye->zones_only ? eye->over.rms_mm : sqrt(squares / (double)eye->used);
}

static void put_symmetry(tcr_table *t, const tcr_plan *plan, const tcr_check *before,
                         const tcr_check *after) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    tcr_symmetry was, is;
    for (int side = 0; side < TCR_SIDES; side++)
        if (tcr_plan_eye_of(plan, (tcr_side)side) != NULL &&
            tcr_plan_eye_of(plan, (tcr_side)side)->zones_only)
            return; /* the lines of one sample tell nothing */
    if (tcr_check_symmetry(before, &was) != TCR_OK || tcr_check_symmetry(after, &is) != TCR_OK)
        return;
    tcr_add(&t->line, "Right line against left: ");
    tcr_add_fixed(&t->line, is.rms_mm, 2, false);
    tcr_add(&t->line, " mm rms, ");
    tcr_add_fixed(&t->line, is.max_mm, 2, false);
    tcr_add(&t->line, " mm at most; as the set is, ");
    tcr_add_fixed(&t->line, was.rms_mm, 2, false);
    tcr_add(&t->line, " and ");
    tcr_add_fixed(&t->line, was.max_mm, 2, false);
    tcr_add(&t->line, " mm.");
    if (r->corrections == r->point[r->points - 1].corrections)
        tcr_add(&t->line, " What is left, neither the next size nor another placement corrects.");
    tcr_table_end(t, 2, 4);
    tcr_add(&t->line,
            tcr_set_line(t->set)->shared
                ? "Both eyes are planned towards one line. Off it lie the left tips by "
                : "Each eye is planned towards its own line. Off it lie the left tips by ");
    tcr_add_fixed(&t->line, rms_of(plan, TCR_LEFT), 2, false);
    tcr_add(&t->line, ", the right ones by ");
    tcr_add_fixed(&t->line, rms_of(plan, TCR_RIGHT), 2, false);
    tcr_add(&t->line, " mm rms.");
    tcr_table_end(t, 2, 4);
}

/* Where the tolerance is out of reach. */
static void put_out_of_reach(tcr_table *t, const tcr_plan *plan) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_plan_options *o = tcr_plan_options_of(plan);
    const bool is_told = o->correct_all || o->corrections != SIZE_MAX;
    if (r->point[r->points - 1].enough_within)
        return;
    tcr_add(&t->line, "No corrections by one size or another placement bring 95 % of each eye's "
                      "tips within ");
    tcr_add_given(&t->line, tcr_set_tolerance(t->set));
    if (is_told)
        tcr_add(&t->line, " mm.");
    else if (r->corrections == 0)
        tcr_add(&t->line, " mm, and none brings another tip within it.");
    else
        tcr_add(&t->line, " mm; the plan makes the fewest that come as near to that as any.");
    tcr_table_end(t, 2, 4);
}

/* Why another plan of a planned set changes little. */
void tcr_table_plan_planned_before(tcr_table *t) {
    size_t meant, zones = 0;
    for (int side = 0; side < TCR_SIDES; side++)
        if (tcr_set_intended(t->set, (tcr_side)side, &meant) != NULL)
            zones += meant;
    if (zones > 0)
        tcr_table_line(t, 2,
                       "This set was planned before, and what its zones and rows say is kept. "
                       "To plan anew, plan the set that it came from.");
}

static void put_figures(tcr_table *t, const tcr_plan *plan, const tcr_check *before,
                        const tcr_check *after) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    const tcr_as_is as_is = tcr_plan_as_is(plan, before);
    tcr_side side = TCR_LEFT;
    const int eyes = tcr_plan_eyes(plan, false, &side);
    const bool all = eyes == (int)tcr_set_eyes(t->set, NULL);
    if (r->points == 0) { /* no eye was measured */
        tcr_table_plan_proof(t, plan, true);
        tcr_table_plan_planned_before(t);
        return;
    }
    tcr_add(&t->line, "Off the line that is planned for, mm");
    tcr_add_to_column(&t->line, RMS_AT - 3);
    tcr_add(&t->line, "rms");
    tcr_add_to_column(&t->line, P95_AT - 4);
    tcr_add(&t->line, "95th");
    tcr_add_to_column(&t->line, MOST_AT - 3);
    tcr_add(&t->line, "max");
    tcr_add_to_column(&t->line, WITHIN_AT - 8);
    tcr_add(&t->line, "within ");
    tcr_add_given(&t->line, tcr_set_tolerance(t->set));
    tcr_table_end(t, 2, 4);
    if (all) { /* the set as it is has no figure for one eye alone */
        tcr_add(&t->line, "as the set is");
        tcr_add_fixed_at(&t->line, RMS_AT, as_is.rms_mm, 2, false);
        tcr_table_end(t, 2, 4);
    }
    const tcr_plan_point *first = &r->point[0], *last = &r->point[r->points - 1];
    const tcr_plan_point *made = tcr_plan_point_made(plan);
    put_point(t, first);
    if (made != NULL && made != first && made != last)
        put_point(t, made);
    if (last != first)
        put_point(t, last);
    if (!all) {
        tcr_add(&t->line, "These are of the tips of the ");
        tcr_add(&t->line, tcr_side_text(side));
        tcr_add(&t->line, " eye alone: nobody measured the lashes of the other.");
        tcr_table_end(t, 2, 4);
    } else if (eyes > 1) {
        tcr_table_line(t, 2,
                       "rms and max are of all tips together; the 95th percentile and the share "
                       "of tips within the tolerance are of the worse eye.");
    }
    tcr_table_plan_proof(t, plan, true);
    put_out_of_reach(t, plan);
    tcr_table_plan_planned_before(t);
    put_symmetry(t, plan, before, after);
}

/* ---- All of it ----------------------------------------------------------------------- */

void tcr_plan_report_options_init(tcr_plan_report_options *options, size_t size) {
    const tcr_plan_report_options defaults = {.size = sizeof defaults};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

static void put_full(tcr_table *t, const tcr_plan *plan, const tcr_plan_work *work,
                     const tcr_check *before, const tcr_check *after) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(t->set, sides);
    for (size_t e = 0; e < eyes; e++)
        put_eye(t, plan, after, sides[e]);
    if (tcr_table_plan_clients(t, plan))
        tcr_table_end(t, 2, 4);
    put_figures(t, plan, before, after);
    tcr_table_work(t, work, tcr_plan_result_of(plan)->points > 0);
    tcr_table_plan_limits(t, &tcr_plan_options_of(plan)->limits);
    tcr_table_assumptions(t);
}

tcr_status tcr_report_plan_table(const tcr_plan *plan, const tcr_plan_work *work,
                                 const tcr_check *before, const tcr_check *after,
                                 const tcr_plan_report_options *given, tcr_sink sink,
                                 void *context) {
    tcr_plan_report_options o = tcr_plan_report_options_default();
    tcr_status status = tcr_plan_report_validate(plan, work, before, after, sink);
    if (status == TCR_OK)
        status = tcr_options_take(&o, sizeof o, given);
    if (status != TCR_OK)
        return status;
    tcr_writer writer;
    tcr_table t = {.check = before, .set = tcr_check_set(before), .writer = &writer};
    tcr_writer_begin(&writer, sink, context);
    tcr_paragraph_begin(&t.line);
    tcr_table_plan_answer(&t, plan, o.map);
    if (o.full)
        put_full(&t, plan, work, before, after);
    else
        tcr_table_plan_short(&t, plan, work, after);
    tcr_table_line(&t, 0, tcr_table_cautions);
    return tcr_writer_end(&writer);
}
