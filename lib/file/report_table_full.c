/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The full form of the table of a check: all that was found, at most about 40 lines an eye. */
#include "file/report_table.h"

#include <math.h>
#include <string.h>

enum { WORST_MAX = 12 }; /* staggered lashes that are listed */

/* Layer offsets that differ by less are the same to an eye: the floor of the line's own scale. */
static const double SEEN_MM = 0.1;

/* ---- The lines --------------------------------------------------------------------- */

/* Right ends of the columns of figures. */
enum { RMS_AT = 36, P95_AT = 53, MAX_AT = 61, SHARE_AT = 76 };

/* Share of the tips within the tolerance at right angles to the line. */
static double share_across(const tcr_table *t, const tcr_line *line, double tolerance_mm) {
    size_t within = 0;
    for (size_t i = 0; i < t->eye->lashes; i++) {
        const tcr_lash_result *result = &t->eye->lash[i];
        if (result->status != TCR_OK)
            continue;
        const double upright = result->seen.y - tcr_line_at(line, result->seen.x);
        const double slope = tcr_line_slope(line, result->seen.x);
        if (fabs(upright) / sqrt(1.0 + slope * slope) <= tolerance_mm)
            within++;
    }
    return (double)within / (double)t->eye->extended;
}

static void put_residuals(tcr_table *t, const char *name, const tcr_residuals *off, double share) {
    tcr_add(&t->line, name);
    tcr_add_fixed_at(&t->line, RMS_AT, off->rms_mm, 2, false);
    tcr_add_fixed_at(&t->line, P95_AT, off->p95_abs_mm, 2, false);
    tcr_add_fixed_at(&t->line, MAX_AT, off->max_abs_mm, 2, false);
    tcr_paragraph words;
    tcr_paragraph_begin(&words);
    tcr_add_share(&words, share);
    tcr_add_to_column(&t->line, SHARE_AT - words.columns);
    tcr_add(&t->line, words.text);
    tcr_table_end(t, 4, 6);
}

static void put_evenness(tcr_table *t, const char *name, const char *of_what,
                         const tcr_evenness *evenness, const tcr_line *line, const char *no_line) {
    tcr_add(&t->line, name);
    tcr_add(&t->line, no_line != NULL ? ": no line, because " : ": off ");
    tcr_add(&t->line, no_line != NULL ? no_line : of_what);
    tcr_table_end(t, 2, 4);
    if (no_line != NULL)
        return;
    put_residuals(t, "upright", &evenness->upright, evenness->within_tolerance);
    put_residuals(t, "across the line", &evenness->across,
                  share_across(t, line, evenness->tolerance_mm));
}

/* "within 0.5" over the column of shares. */
static void put_tolerance(tcr_table *t) {
    tcr_paragraph words;
    tcr_paragraph_begin(&words);
    tcr_add(&words, "within ");
    tcr_add_given(&words, tcr_check_tolerance(t->check));
    tcr_add_to_column(&t->line, SHARE_AT + 2 - words.columns);
    tcr_add(&t->line, words.text);
}

static void put_lines(tcr_table *t) {
    const tcr_eye_result *eye = t->eye;
    if ((eye->fitted_status == TCR_OK && !eye->too_few) || eye->intended_status == TCR_OK) {
        tcr_add(&t->line, "Tips off the line, in mm");
        tcr_add_to_column(&t->line, RMS_AT + 2 - 3);
        tcr_add(&t->line, "rms  95th percentile     max");
        put_tolerance(t);
        tcr_table_end(t, 2, 4);
    }
    if (eye->fitted_status == TCR_OK && eye->too_few)
        tcr_table_line(t, 2, "Evenness: not judged, too few tips");
    else
        put_evenness(t, "Evenness", "the line fitted to the tips", &eye->fitted, &eye->fitted_line,
                     eye->fitted_status == TCR_OK
                         ? NULL
                         : tcr_no_line_reason(eye->fitted_status, eye->extended));
    put_evenness(
        t, "Match to the map", "the line that the map intends", &eye->intended, &eye->intended_line,
        eye->intended_status == TCR_OK ? NULL : tcr_no_intended_reason(eye->intended_status));
}

/* ---- The layers -------------------------------------------------------------------- */

/* How far apart the layers lie in a view; NaN where fewer than two can be told apart. */
static double layers_apart(const double offset_mm[TCR_LAYERS]) {
    double low = INFINITY, high = -INFINITY;
    int count = 0;
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        if (isnan(offset_mm[layer]))
            continue;
        low = fmin(low, offset_mm[layer]);
        high = fmax(high, offset_mm[layer]);
        count++;
    }
    return count > 1 ? high - low : NAN;
}

static void put_couch(tcr_table *t) {
    const double couch = layers_apart(t->eye->view_offset_mm[TCR_ARTIST]);
    const double open = layers_apart(t->eye->view_offset_mm[TCR_OPEN_FRONT]);
    if (isnan(couch) || isnan(open))
        return;
    if (open - couch > SEEN_MM)
        tcr_add(&t->line, "The couch hides a stagger");
    else if (couch - open > SEEN_MM)
        tcr_add(&t->line, "The couch shows more stagger than this view");
    else
        tcr_add(&t->line, "The couch shows the layers as this view does");
    tcr_add(&t->line, ": the layers lie ");
    tcr_add_fixed(&t->line, couch, 2, false);
    tcr_add(&t->line, " mm apart from the artist's seat, ");
    tcr_add_fixed(&t->line, open, 2, false);
    tcr_add(&t->line, " mm with the ");
    tcr_add_view(&t->line, tcr_check_view(t->check));
    tcr_add(&t->line, ".");
    tcr_table_end(t, 2, 4);
}

static void put_layers(tcr_table *t) {
    if (!tcr_table_has_layers(t))
        return;
    tcr_table_layers_heading(t);
    for (int v = 0; v < TCR_VIEWS; v++)
        tcr_table_layers_row(t, (tcr_named_view)v);
    tcr_table_put(t, tcr_table_add_cause);
    put_couch(t);
}

/* ---- Staggered lashes -------------------------------------------------------------- */

static void put_staggered(tcr_table *t, const tcr_limits *limits) {
    const tcr_eye_result *eye = t->eye;
    const bool fitted = tcr_check_against(t->check) == TCR_FITTED;
    if (!tcr_table_is_judged(t))
        return;
    tcr_add(&t->line, "Sticking out, more than ");
    tcr_add_given(&t->line, tcr_check_tolerance(t->check));
    tcr_add(&t->line, fitted ? " mm off the fitted line: " : " mm off the map's line: ");
    if (eye->staggered == 0)
        tcr_add(&t->line, "none");
    else
        tcr_add_count(&t->line, eye->staggered);
    tcr_table_end(t, 2, 4);

    size_t worst[WORST_MAX];
    const size_t count = tcr_table_find_worst(t, worst, WORST_MAX);
    const int wide = tcr_table_id_columns(t, worst, count);
    for (size_t i = 0; i < count; i++) {
        tcr_table_add_staggered(t, worst[i], wide, limits,
                                ", but beyond the limits that plan assumes");
        tcr_table_end(t, 4, 6);
    }
    if (eye->staggered > count) {
        tcr_add(&t->line, "and ");
        tcr_add_count(&t->line, eye->staggered - count);
        tcr_add(&t->line, " more, none worse; --csv FILE has all");
        tcr_table_end(t, 4, 6);
    }
}

/* ---- Gaps and loads ---------------------------------------------------------------- */

static void put_gap(tcr_table *t) {
    if (t->eye->extended < 2)
        return;
    tcr_add(&t->line, "Largest gap between neighbouring tips: ");
    tcr_add_fixed(&t->line, t->eye->largest_gap_mm, 2, false);
    tcr_add(&t->line, " mm");
    tcr_table_end(t, 2, 4);
}

static void put_load(tcr_table *t) {
    static const tcr_limits MASS = {.mass_ratio = 1.0, .moment_ratio = INFINITY};
    static const tcr_limits MOMENT = {.mass_ratio = INFINITY, .moment_ratio = 1.0};
    tcr_loaded_lash heaviest, hardest;
    const unsigned side = 1u << t->eye->side;
    if (tcr_limits_nearest(&MASS, t->check, side, &heaviest, 1) == 0)
        return;
    (void)tcr_limits_nearest(&MOMENT, t->check, side, &hardest, 1);
    tcr_add(&t->line, "Heaviest load: ");
    tcr_add_safe(&t->line, tcr_set_id(t->set, t->eye->side, heaviest.lash), TCR_TABLE_ID_COLUMNS);
    tcr_add(&t->line, " carries ");
    tcr_add_fixed(&t->line, heaviest.load.mass_ratio, 1, false);
    tcr_add(&t->line, " times its own mass");
    if (hardest.share > 0.0) {
        tcr_add(&t->line, "; the root of ");
        tcr_add_safe(&t->line, tcr_set_id(t->set, t->eye->side, hardest.lash),
                     TCR_TABLE_ID_COLUMNS);
        tcr_add(&t->line, " bears ");
        tcr_add_fixed(&t->line, hardest.load.moment_ratio, 1, false);
        tcr_add(&t->line, " times the turning force of the bare lash");
    }
    tcr_add(&t->line, ". No validated limit of what a lash may carry exists.");
    tcr_table_end(t, 2, 4);
}

/* How far weight moves the tips: the lash whose tip moves most, and what is assumed otherwise. */
static void put_droop(tcr_table *t) {
    tcr_weight_most most;
    tcr_weight weight;
    const tcr_side side = t->eye->side;
    if (tcr_check_weight_most(t->check, side, &most) != TCR_OK ||
        tcr_check_weight(t->check, side, most.lash, &weight) != TCR_OK)
        return;
    tcr_add(&t->line, "Weight: the tip of ");
    tcr_add_safe(&t->line, tcr_set_id(t->set, side, most.lash), TCR_TABLE_ID_COLUMNS);
    tcr_add(&t->line, weight.droop_mm < 0.0 ? " rises most, by " : " sinks most, by ");
    tcr_add_fixed(&t->line, fabs(weight.droop_mm), 3, false);
    tcr_add(&t->line,
            " mm with its root held rigidly, which is assumed. No tip moves by more than ");
    tcr_add_bound(&t->line, most.droop_thinner_mm, 3, true);
    tcr_add(&t->line, " with a root 0.01 mm thinner, than ");
    tcr_add_bound(&t->line, most.droop_blink_mm, 3, true);
    tcr_add(&t->line, " in a blink (size only, assumed), than ");
    tcr_add_bound(&t->line, most.droop_what_if_mm, 3, true);
    tcr_add(&t->line, " where its follicle gives way (a what-if: 1000 µN·mm/rad). All other "
                      "figures leave this out.");
    tcr_table_end(t, 2, 4);
    if (most.not_linear == 0)
        return;
    tcr_add(&t->line, "Linear theory does not hold for ");
    tcr_add_count(&t->line, most.not_linear);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, most.lashes);
    tcr_add(&t->line,
            " lashes: a droop is a twentieth of the extension's length or more, and tells "
            "the size alone.");
    tcr_table_end(t, 2, 4);
}

/* How many lashes a plan would not load so, by limits that are assumed. */
static void put_limits(tcr_table *t, const tcr_limits *limits) {
    size_t any = 0, longer = 0, heavier = 0, harder = 0;
    for (size_t i = 0; i < t->eye->lashes; i++) {
        const tcr_lash_result *result = &t->eye->lash[i];
        if (result->status != TCR_OK)
            continue;
        const unsigned beyond =
            tcr_limits_beyond(limits, t->set, tcr_set_lash(t->set, t->eye->side, i),
                              &result->stance, &result->choice);
        longer += (beyond & TCR_BEYOND_LENGTH) != 0;
        heavier += (beyond & TCR_BEYOND_MASS) != 0;
        harder += (beyond & TCR_BEYOND_MOMENT) != 0;
        any += beyond != 0;
    }
    if (t->eye->extended == 0)
        return;
    tcr_add(&t->line, "Beyond the limits that plan assumes: ");
    tcr_add_count(&t->line, any);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, t->eye->extended);
    tcr_add(&t->line, "; ");
    tcr_add_count(&t->line, longer);
    tcr_add(&t->line, " more than ");
    tcr_add_number(&t->line, limits->overlength_mm);
    tcr_add(&t->line, " mm longer than the lash, ");
    tcr_add_count(&t->line, heavier);
    tcr_add(&t->line, " over ");
    tcr_add_number(&t->line, limits->mass_ratio);
    tcr_add(&t->line, " times its mass, ");
    tcr_add_count(&t->line, harder);
    tcr_add(&t->line, " over ");
    tcr_add_number(&t->line, limits->moment_ratio);
    tcr_add(&t->line, " times its turning force.");
    tcr_table_end(t, 2, 4);
}

void tcr_table_full_eye(tcr_table *t, const tcr_limits *limits) {
    tcr_table_heading(t, t->eye->side, tcr_check_view(t->check));
    tcr_table_carriers(t);
    put_lines(t);
    put_layers(t);
    put_staggered(t, limits);
    put_gap(t);
    put_load(t);
    put_droop(t);
    put_limits(t, limits);
}
