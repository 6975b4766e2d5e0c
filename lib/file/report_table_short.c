/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The short form of the table of a check: for each eye what a judge, an artist and a teacher need
 * first, in the lines that there are. As many of the worst lashes are listed as fit.
 */
#include "file/report_table.h"

#include <math.h>

enum { WORST_MAX = 5 };

/* The line that the verdict is not about, and the largest gap. */
static void put_other_line(tcr_table *t) {
    const tcr_eye_result *eye = t->eye;
    const bool fitted = tcr_check_against(t->check) == TCR_FITTED;
    const tcr_status status = fitted ? eye->intended_status : eye->fitted_status;
    const tcr_residuals *off = fitted ? &eye->intended.upright : &eye->fitted.upright;
    tcr_add(&t->line, fitted ? "Off the map's line" : "Off the fitted line");
    if (status != TCR_OK) {
        tcr_add(&t->line, ": there is none, because ");
        tcr_add(&t->line, fitted ? tcr_no_intended_reason(status)
                                 : tcr_no_line_reason(status, eye->extended));
    } else if (!fitted && eye->too_few) {
        tcr_add(&t->line, ": not judged, too few tips");
    } else {
        tcr_add(&t->line, ": ");
        tcr_add_fixed(&t->line, off->rms_mm, 2, false);
        tcr_add(&t->line, " mm rms, at most ");
        tcr_add_bound(&t->line, off->max_abs_mm, 2, true);
    }
    if (eye->extended >= 2) {
        tcr_add(&t->line, ". Largest gap between tips: ");
        tcr_add_fixed(&t->line, eye->largest_gap_mm, 2, false);
    }
    tcr_table_end(t, 2, 4);
}

static void put_layers(tcr_table *t) {
    if (!tcr_table_has_layers(t))
        return;
    tcr_table_layers_heading(t);
    tcr_table_layers_row(t, TCR_OPEN_FRONT);
    tcr_table_layers_row(t, TCR_ARTIST);
}

/* Weight as it is, and by the assumptions that make it most. */
static void add_weight(tcr_table *t) {
    tcr_weight_most most;
    if (tcr_check_weight_most(t->check, t->eye->side, &most) != TCR_OK)
        return;
    tcr_add(&t->line, "Weight moves no tip by more than ");
    tcr_add_bound(&t->line, most.droop_mm, 3, true);
    tcr_add(&t->line, " mm; if roots are thin ");
    tcr_add_bound(&t->line, most.droop_thinner_mm, 3, true);
    tcr_add(&t->line, ", in a blink ");
    tcr_add_bound(&t->line, most.droop_blink_mm, 3, true);
    tcr_add(&t->line, ", if follicles give way (1000 µN·mm/rad) ");
    tcr_add_bound(&t->line, most.droop_what_if_mm, 3, true);
    tcr_add(&t->line, most.not_linear > 0 ? ", size only; no limit known" : "; no limit known");
}

static const char HEADING[] = "Sticking out: ";

/* The worst lash alone, on one line. */
static void put_worst(tcr_table *t, size_t worst) {
    tcr_add(&t->line, HEADING);
    tcr_add_safe(&t->line, tcr_set_id(t->set, t->eye->side, worst), TCR_TABLE_ID_COLUMNS);
    tcr_add(&t->line, " by ");
    tcr_add_beside(&t->line, t->eye->lash[worst].deviation_mm, tcr_check_tolerance(t->check), true);
    tcr_add(&t->line, " mm");
    if (t->eye->staggered > 1) {
        tcr_add(&t->line, ", and ");
        tcr_add_count(&t->line, t->eye->staggered - 1);
        tcr_add(&t->line, " more, none worse");
    }
    tcr_add(&t->line, ": --full");
    tcr_table_end(t, 2, 4);
}

/* The worst lashes in at most 'room' lines, the first behind a heading; where there is no room for
 * one with its remedy, the worst alone on a line. */
static void put_staggered(tcr_table *t, const tcr_limits *limits, int room) {
    enum { INDENT = 2, HEADING_BYTES = sizeof HEADING - 1 };
    size_t worst[WORST_MAX], shown = 0;
    const int end = t->lines + room;
    const size_t count = tcr_table_find_worst(t, worst, WORST_MAX);
    const int wide = tcr_table_id_columns(t, worst, count);
    for (; shown < count; shown++) {
        tcr_add(&t->line, shown == 0 ? HEADING : "");
        tcr_add_to_column(&t->line, HEADING_BYTES);
        tcr_table_add_staggered(t, worst[shown], wide, limits, " (beyond plan's limits)");
        const bool others = t->eye->staggered > shown + 1;
        const int lines = tcr_paragraph_lines(&t->line, INDENT, INDENT + HEADING_BYTES);
        if (t->lines + lines + others > end)
            break;
        tcr_table_end(t, INDENT, INDENT + HEADING_BYTES);
    }
    tcr_paragraph_begin(&t->line);
    if (shown == 0 && count > 0)
        put_worst(t, worst[0]);
    if (shown == 0 || t->eye->staggered == shown)
        return;
    tcr_add_to_column(&t->line, HEADING_BYTES);
    tcr_add(&t->line, "and ");
    tcr_add_count(&t->line, t->eye->staggered - shown);
    tcr_add(&t->line, " more, none worse: --full");
    tcr_table_end(t, INDENT, INDENT + HEADING_BYTES);
}

/* The lines that a paragraph would take. */
static int lines_of(tcr_table *t, void (*add)(tcr_table *)) {
    add(t);
    const int lines = t->line.used > 0 ? tcr_paragraph_lines(&t->line, 2, 4) : 0;
    tcr_paragraph_begin(&t->line);
    return lines;
}

size_t tcr_count_beyond(const tcr_set *set, const tcr_limits *limits, const tcr_eye_result *eye) {
    size_t beyond = 0;
    for (size_t i = 0; i < eye->lashes; i++)
        if (eye->lash[i].status == TCR_OK)
            beyond += tcr_limits_beyond(limits, set, tcr_set_lash(set, eye->side, i),
                                        &eye->lash[i].stance, &eye->lash[i].choice) != 0;
    return beyond;
}

/* Whether an eye was planned without measured lashes. Such a plan writes no row, so that a check of
 * it counts lashes that the plan left bare, or gave less. */
static bool is_planned_by_zones(const tcr_table *t) {
    const tcr_side side = t->eye->side;
    size_t intended;
    (void)tcr_set_intended(t->set, side, &intended);
    return intended > 0 && tcr_set_drawn_count(t->set, side) > 0;
}

static void put_over_limits(tcr_table *t, size_t over, const char *limits) {
    tcr_add_count(&t->line, over);
    tcr_add(&t->line, " of the ");
    tcr_add_count(&t->line, t->eye->extended);
    tcr_add(&t->line, over == 1 ? " is beyond " : " are beyond ");
    tcr_add(&t->line, limits);
    tcr_table_end(t, 2, 4);
}

void tcr_table_short_eye(tcr_table *t, const tcr_limits *limits, int room) {
    const int end = t->lines + room;
    const size_t over = tcr_count_beyond(t->set, limits, t->eye);
    const bool is_planned = is_planned_by_zones(t);
    const int over_lines = !is_planned && over > 0 && 10 * over >= t->eye->extended ? 1 : 0;
    tcr_table_heading(t, t->eye->side, tcr_check_view(t->check));
    tcr_table_carried(t, true);
    if (is_planned && over > 0)
        put_over_limits(t, over, "plan's limits: such a lash gets a shorter one, or none.");
    put_other_line(t);
    put_layers(t);
    const int weight = lines_of(t, add_weight), beyond = lines_of(t, tcr_table_add_beyond);
    const int kept = weight + beyond + over_lines; /* for what follows */
    if (tcr_table_has_layers(t))
        tcr_table_put(t, tcr_table_add_cause);
    if (tcr_table_is_judged(t))
        put_staggered(t, limits, end - kept - t->lines);
    if (over_lines > 0 && t->lines + weight + over_lines <= end)
        put_over_limits(t, over, "the limits that plan assumes of a lash: --full.");
    if (t->lines + weight + beyond <= end)
        tcr_table_put(t, tcr_table_add_beyond);
    tcr_table_put(t, add_weight);
}
