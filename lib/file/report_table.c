/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of a check for people: at most about 40 lines an eye, 80 columns wide, no colours.
 * Words a lash artist knows, millimetres and degrees, assumptions called assumptions.
 */
#include <tipcrest/file.h>
#include <tipcrest/load.h>

#include <math.h>
#include <string.h>

#include "file/doubts.h"
#include "file/report.h"
#include "file/table.h"

enum {
    WORST_MAX = 12, /* staggered lashes that are listed */
    ID_COLUMNS = 20 /* that an id may take */
};

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
    tcr_add_fixed_at(&t->line, SHARE_AT - 2, 100.0 * share, 0, false);
    tcr_add(&t->line, " %");
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
    tcr_add_number(&words, tcr_check_tolerance(t->check));
    tcr_add_to_column(&t->line, SHARE_AT + 2 - words.columns);
    tcr_add(&t->line, words.columns > 10 ? "  within" : words.text);
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
    static const int layer_at[TCR_LAYERS] = {43, 54, 63};
    const tcr_eye_result *eye = t->eye;
    if (eye->view_status[TCR_OPEN_FRONT] != TCR_OK && eye->view_status[TCR_ARTIST] != TCR_OK)
        return;
    if (eye->too_few) /* each from a line fitted to them, near 0 whatever they are */
        return;
    tcr_add(&t->line, "Layers above or below the line, in mm");
    tcr_add_to_column(&t->line, layer_at[0] + 2 - 6);
    tcr_add(&t->line, "bottom     middle      top");
    tcr_table_end(t, 2, 4);
    for (int v = 0; v < TCR_VIEWS; v++) {
        if (v == TCR_OPEN_FRONT)
            tcr_add_view(&t->line, tcr_check_view(t->check));
        else
            tcr_add(&t->line, v == TCR_ARTIST ? "artist's seat (60°, assumed)"
                                              : "eye closed, from the front");
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            tcr_add_fixed_at(&t->line, layer_at[layer],
                             eye->view_status[v] == TCR_OK ? eye->view_offset_mm[v][layer] : NAN, 2,
                             true);
        tcr_table_end(t, 4, 6);
    }
    put_couch(t);
}

/* ---- Staggered lashes -------------------------------------------------------------- */

/* The indices of the worst lashes, worst first; returns how many there are. */
static size_t find_worst(const tcr_eye_result *eye, size_t worst[WORST_MAX]) {
    size_t count = 0;
    for (size_t i = 0; i < eye->lashes; i++) {
        if (eye->lash[i].status != TCR_OK || !eye->lash[i].staggered)
            continue;
        const double size = fabs(eye->lash[i].deviation_mm);
        size_t at = count < WORST_MAX ? count : WORST_MAX;
        while (at > 0 && size > fabs(eye->lash[worst[at - 1]].deviation_mm))
            at--;
        if (at == WORST_MAX)
            continue;
        if (count < WORST_MAX)
            count++;
        memmove(worst + at + 1, worst + at, (count - 1 - at) * sizeof *worst);
        worst[at] = i;
    }
    return count;
}

static bool is_remedied(const tcr_lash_result *result) {
    return result->remedy.length_mm != result->choice.length_mm;
}

/* Without a tray the length stands in place of a number of sizes, to two decimals. */
static void add_remedy(tcr_paragraph *line, const tcr_lash_result *result) {
    static const char *const words[] = {"", "one size", "two sizes", "three sizes", "four sizes"};
    const tcr_remedy *remedy = &result->remedy;
    const unsigned sizes = (unsigned)(remedy->sizes < 0 ? -remedy->sizes : remedy->sizes);
    if (!is_remedied(result)) {
        tcr_add(line, "no length of the tray does better");
        return;
    }
    if (sizes == 0) {
        tcr_add_fixed(line, remedy->length_mm, 2, false);
        tcr_add(line, " mm leaves ");
        tcr_add_fixed(line, remedy->deviation_mm, 2, true);
        return;
    }
    if (sizes < sizeof words / sizeof *words) {
        tcr_add(line, words[sizes]);
    } else {
        tcr_add_count(line, sizes);
        tcr_add(line, " sizes");
    }
    tcr_add(line, remedy->sizes < 0 ? " shorter (" : " longer (");
    tcr_add_number(line, remedy->length_mm);
    tcr_add(line, " mm leaves ");
    tcr_add_fixed(line, remedy->deviation_mm, 2, true);
    tcr_add(line, ")");
}

/* Columns that the ids of some lashes take. */
static int id_columns(const tcr_table *t, const size_t *lashes, size_t count) {
    int most = 0;
    for (size_t i = 0; i < count; i++) {
        tcr_paragraph id;
        tcr_paragraph_begin(&id);
        tcr_add_safe(&id, tcr_set_id(t->set, t->eye->side, lashes[i]), ID_COLUMNS);
        most = id.columns > most ? id.columns : most;
    }
    return most;
}

/* Advice that a plan would not follow is told as such. */
static bool is_beyond(const tcr_table *t, size_t i, const tcr_limits *limits) {
    const tcr_lash_result *result = &t->eye->lash[i];
    tcr_choice choice = result->choice;
    choice.length_mm = result->remedy.length_mm;
    return is_remedied(result) &&
           tcr_limits_beyond(limits, t->set, tcr_set_lash(t->set, t->eye->side, i), &result->stance,
                             &choice) != 0;
}

static void put_staggered(tcr_table *t, const tcr_limits *limits) {
    const tcr_eye_result *eye = t->eye;
    const bool fitted = tcr_check_against(t->check) == TCR_FITTED;
    if ((fitted ? eye->fitted_status : eye->intended_status) != TCR_OK)
        return;
    if (fitted && eye->too_few) {
        tcr_table_line(t, 2, "Staggered: not judged, too few tips");
        return;
    }
    tcr_add(&t->line, "Staggered, more than ");
    tcr_add_number(&t->line, tcr_check_tolerance(t->check));
    tcr_add(&t->line, fitted ? " mm off the fitted line: " : " mm off the intended line: ");
    if (eye->staggered == 0)
        tcr_add(&t->line, "none");
    else
        tcr_add_count(&t->line, eye->staggered);
    tcr_table_end(t, 2, 4);

    size_t worst[WORST_MAX];
    const size_t count = find_worst(eye, worst);
    const int wide = id_columns(t, worst, count);
    for (size_t i = 0; i < count; i++) {
        const tcr_lash_result *result = &eye->lash[worst[i]];
        const tcr_layer layer = tcr_set_lash(t->set, eye->side, worst[i])->layer;
        tcr_add_safe(&t->line, tcr_set_id(t->set, eye->side, worst[i]), ID_COLUMNS);
        tcr_add_to_column(&t->line, wide + 2);
        tcr_add(&t->line, tcr_word(&tcr_words_layer, (int)layer));
        tcr_add_fixed_at(&t->line, wide + 15, result->deviation_mm, 2, true);
        tcr_add(&t->line, " mm: ");
        add_remedy(&t->line, result);
        if (is_beyond(t, worst[i], limits))
            tcr_add(&t->line, ", but beyond the limits that plan assumes");
        tcr_table_end(t, 4, 6);
    }
    if (eye->staggered > count) {
        tcr_add(&t->line, "and ");
        tcr_add_count(&t->line, eye->staggered - count);
        tcr_add(&t->line, " more, none worse");
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
    tcr_add_safe(&t->line, tcr_set_id(t->set, t->eye->side, heaviest.lash), ID_COLUMNS);
    tcr_add(&t->line, " carries ");
    tcr_add_fixed(&t->line, heaviest.load.mass_ratio, 1, false);
    tcr_add(&t->line, " times its own mass");
    if (hardest.share > 0.0) {
        tcr_add(&t->line, "; the root of ");
        tcr_add_safe(&t->line, tcr_set_id(t->set, t->eye->side, hardest.lash), ID_COLUMNS);
        tcr_add(&t->line, " bears ");
        tcr_add_fixed(&t->line, hardest.load.moment_ratio, 1, false);
        tcr_add(&t->line, " times the turning force of the bare lash");
    }
    tcr_add(&t->line, ". No validated limit of what a lash may carry exists.");
    tcr_table_end(t, 2, 4);
}

/* How far the tips sink under their own weight: the lash that sinks most. */
static void put_droop(tcr_table *t) {
    tcr_weight weight, most = {.droop_mm = NAN};
    size_t lash = 0, beyond = 0;
    for (size_t i = 0; i < t->eye->lashes; i++) {
        if (t->eye->lash[i].status != TCR_OK ||
            tcr_check_weight(t->check, t->eye->side, i, &weight) != TCR_OK)
            continue;
        beyond += !weight.is_linear;
        if (fabs(weight.droop_mm) <= fabs(most.droop_mm))
            continue;
        most = weight;
        lash = i;
    }
    if (isnan(most.droop_mm))
        return;
    tcr_add(&t->line, "Weight: the tip of ");
    tcr_add_safe(&t->line, tcr_set_id(t->set, t->eye->side, lash), ID_COLUMNS);
    tcr_add(&t->line, most.droop_mm < 0.0 ? " rises most, by " : " sinks most, by ");
    tcr_add_fixed(&t->line, fabs(most.droop_mm), 3, false);
    tcr_add(&t->line, " mm with its root held rigidly, which is assumed; by ");
    tcr_add_fixed(&t->line, fabs(most.droop_blink_mm), 3, false);
    tcr_add(&t->line, " in a blink, size only, assumed. What-if, held by the skin with "
                      "1000 µN·mm/rad: by ");
    tcr_add_fixed(&t->line, fabs(most.droop_what_if_mm), 3, false);
    tcr_add(&t->line, ". All other figures leave this out.");
    tcr_table_end(t, 2, 4);
    if (beyond == 0)
        return;
    tcr_add(&t->line, "Linear theory does not hold for ");
    tcr_add_count(&t->line, beyond);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, t->eye->extended);
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

/* ---- Both eyes --------------------------------------------------------------------- */

static void put_symmetry(tcr_table *t) {
    tcr_symmetry symmetry;
    const tcr_status status = tcr_check_symmetry(t->check, &symmetry);
    if (status == TCR_E_MISSING)
        return;
    tcr_add(&t->line, "Both eyes: ");
    if (status != TCR_OK) {
        tcr_add(&t->line, status == TCR_E_COMMON ? "their lines have no part in common to compare"
                                                 : "one of them has no line to compare");
    } else {
        tcr_add(&t->line, "the right line differs from the left by ");
        tcr_add_fixed(&t->line, symmetry.rms_mm, 2, false);
        tcr_add(&t->line, " mm rms, ");
        tcr_add_fixed(&t->line, symmetry.max_mm, 2, false);
        tcr_add(&t->line, " at most; brought to one height, by ");
        tcr_add_fixed(&t->line, symmetry.level_rms_mm, 2, false);
        tcr_add(&t->line, " and ");
        tcr_add_fixed(&t->line, symmetry.level_max_mm, 2, false);
    }
    tcr_table_end(t, 0, 2);
    tcr_table_line(t, 0, "");
}

static void put_eye(tcr_table *t, const tcr_limits *limits) {
    tcr_table_heading(t, t->eye->side, tcr_check_view(t->check));
    tcr_table_carriers(t);
    put_lines(t);
    put_layers(t);
    put_staggered(t, limits);
    put_gap(t);
    put_load(t);
    put_droop(t);
    put_limits(t, limits);
    tcr_table_line(t, 0, "");
}

tcr_status tcr_report_table(const tcr_check *check, tcr_sink sink, void *context) {
    const tcr_limits limits = tcr_limits_default();
    return tcr_report_table_limits(check, &limits, sink, context);
}

tcr_status tcr_report_table_limits(const tcr_check *check, const tcr_limits *limits, tcr_sink sink,
                                   void *context) {
    if (check == NULL || limits == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_writer writer;
    tcr_table t = {.check = check, .set = tcr_check_set(check), .writer = &writer};
    tcr_writer_begin(&writer, sink, context);
    tcr_paragraph_begin(&t.line);
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(t.set, sides);
    for (size_t e = 0; e < eyes; e++) {
        t.eye = tcr_check_eye(check, sides[e]);
        put_eye(&t, limits);
    }
    put_symmetry(&t);
    tcr_table_doubts(&t);
    tcr_table_assumptions(&t);
    tcr_table_line(&t, 0, tcr_table_cautions);
    return tcr_writer_end(&writer);
}
