/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of a plan's work: what to lay out, the working order, minutes and glue. */
#include "file/report_plan.h"

#include "num/range.h"

void tcr_add_source(tcr_paragraph *line, double value, double usual, const char *source) {
    if (value == usual)
        tcr_add(line, source);
}

void tcr_table_work_rows(tcr_table *t, const tcr_plan_work *work) {
    const double usual = tcr_plan_pace_default().loss_share;
    tcr_add(&t->line, "To lay out, with ");
    tcr_add_number(&t->line, 100.0 * work->pace->loss_share);
    tcr_add(&t->line, " % for loss");
    tcr_add_source(&t->line, work->pace->loss_share, usual, " (assumed)");
    tcr_add(&t->line, work->fibres != work->lashes ? ", in fibres: " : ": ");
    for (size_t r = 0; r < work->rows; r++) {
        const tcr_plan_row *row = &work->row[r];
        tcr_add_count(&t->line, row->with_loss);
        tcr_add(&t->line, " of ");
        tcr_add_number(&t->line, row->length_mm);
        tcr_add(&t->line, " ");
        tcr_add_safe(&t->line, tcr_set_curl(t->set, row->curl)->label, TCR_LABEL_SIZE);
        tcr_add(&t->line, " ");
        tcr_add_number(&t->line, row->diameter_mm);
        tcr_add(&t->line, r + 1 < work->rows ? ", " : "; ");
    }
    tcr_add_count(&t->line, work->with_loss);
    tcr_add(&t->line, " in all.");
    tcr_table_end(t, 2, 4);
}

static void put_order(tcr_table *t, const tcr_plan_work *work) {
    const tcr_plan_pace *pace = work->pace, usual = tcr_plan_pace_default();
    tcr_add(&t->line, "Working order: ");
    tcr_add_count(&t->line, work->changes);
    tcr_add(&t->line, work->changes == 1 ? " change of tray row, " : " changes of tray row, ");
    tcr_add_count(&t->line, work->least_changes);
    tcr_add(&t->line, " at least; ");
    if (work->eye_changes > 0) {
        tcr_add_count(&t->line, work->eye_changes);
        tcr_add(&t->line, " of eye; ");
    }
    if (work->order == TCR_ORDER_FOUND) {
        tcr_add(&t->line, "no lash");
    } else if (work->order == TCR_ORDER_TOO_MANY) {
        tcr_add(&t->line, "there are too many lashes to search for an order in which no lash");
    } else {
        tcr_add(&t->line, work->order == TCR_ORDER_NOT_FOUND
                              ? "none was found that keeps the distance: "
                              : "none can keep the distance: ");
        tcr_add_count(&t->line, work->conflicts);
        tcr_add(&t->line, work->conflicts == 1 ? " lash" : " lashes");
    }
    tcr_add(&t->line, work->conflicts > 1 ? " come within " : " comes within ");
    tcr_add_number(&t->line, pace->distance_mm);
    tcr_add(&t->line, " mm");
    tcr_add_source(&t->line, pace->distance_mm, usual.distance_mm, " (assumed)");
    tcr_add(&t->line, " of one placed in the ");
    tcr_add_number(&t->line, pace->setting_s);
    tcr_add(&t->line, " s");
    tcr_add_source(&t->line, pace->setting_s, usual.setting_s, " (assumed)");
    tcr_add(&t->line, " before.");
    if (work->stopped)
        tcr_add(&t->line, " Stopped: it is the best order so far.");
    tcr_add(&t->line, " --sheet prints it, --json lists it.");
    tcr_table_end(t, 2, 4);
}

static void put_minutes(tcr_table *t, const tcr_plan_work *work) {
    const tcr_plan_pace *pace = work->pace, usual = tcr_plan_pace_default();
    tcr_add(&t->line, "About ");
    tcr_add_fixed(&t->line, work->minutes, 0, false);
    tcr_add(&t->line, " minutes: ");
    tcr_add_number(&t->line, pace->preparation_min);
    tcr_add(&t->line, " to prepare");
    tcr_add_source(&t->line, pace->preparation_min, usual.preparation_min, " (assumed)");
    tcr_add(&t->line, ", ");
    tcr_add_number(&t->line, pace->lash_s);
    tcr_add(&t->line, " s a lash");
    tcr_add_source(&t->line, pace->lash_s, usual.lash_s, " (common practice)");
    tcr_add(&t->line, ", ");
    tcr_add_number(&t->line, pace->change_s);
    tcr_add(&t->line, " s a change of row");
    tcr_add_source(&t->line, pace->change_s, usual.change_s, " (assumed)");
    if (work->eye_changes > 0) {
        tcr_add(&t->line, ", ");
        tcr_add_number(&t->line, pace->eye_change_s);
        tcr_add(&t->line, " s a change of eye");
        tcr_add_source(&t->line, pace->eye_change_s, usual.eye_change_s, " (assumed)");
    }
    tcr_add(&t->line, ". Fresh glue every ");
    tcr_add_number(&t->line, pace->drop_min);
    tcr_add(&t->line, " minutes");
    tcr_add_source(&t->line, pace->drop_min, usual.drop_min, " (common practice)");
    tcr_add(&t->line, ": ");
    tcr_add_count(&t->line, work->drops);
    tcr_add(&t->line, work->drops == 1 ? " drop." : " drops.");
    tcr_table_end(t, 2, 4);
}

void tcr_table_work(tcr_table *t, const tcr_plan_work *work, bool with_order) {
    tcr_table_work_rows(t, work);
    if (with_order)
        put_order(t, work);
    put_minutes(t, work);
}

/* A limit, and whether the set file gives another than the usual one. */
static void add_limit(tcr_paragraph *line, const char *before, double value, double usual,
                      const char *unit) {
    tcr_add(line, before);
    tcr_add_number(line, value);
    tcr_add(line, unit);
    if (value != usual)
        tcr_add(line, " (given)");
}

void tcr_table_plan_limits(tcr_table *t, const tcr_limits *l) {
    const tcr_limits usual = tcr_limits_default();
    tcr_paragraph *line = &t->line;
    tcr_add(line, "Limits, common practice or assumed, none with a validated value:");
    add_limit(line, " no lash shorter than ", l->baby_below_mm, usual.baby_below_mm, " mm");
    add_limit(line, " or thinner than ", l->thin_below_mm, usual.thin_below_mm, " mm");
    add_limit(line, ", none that roots above ", l->stray_above_mm, usual.stray_above_mm, " mm");
    add_limit(line, " or points more than ", tcr_degrees_of(l->out_of_fan_rad),
              tcr_degrees_of(usual.out_of_fan_rad), " degrees out of the fan");
    add_limit(line, "; an extension at most ", l->overlength_mm, usual.overlength_mm,
              " mm longer than its lash");
    add_limit(line, ", ", l->mass_ratio, usual.mass_ratio, " times as heavy");
    add_limit(line, ", and ", l->moment_ratio, usual.moment_ratio,
              " times its own turning force (moment) at the root");
    tcr_add(line, ". The set file can change them, under plan.");
    tcr_table_end(t, 2, 4);
}
