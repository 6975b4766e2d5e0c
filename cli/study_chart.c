/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chart of a study: which form shows its answer, and the numbers that go into it. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "study.h"

#if defined(TCR_WITH_STUDY) && defined(TCR_WITH_DRAW)

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/chart.h>
#include <tipcrest/text.h>

enum { TEXT_SIZE = 400, PANEL_FACTORS = 3, REMARKS = 4 };

static const double LEVEL = 0.95;

/* A chart being made, with the memory that it refers to. */
typedef struct making {
    const tcr_study_work *work;
    const tcr_study *study;
    const tcr_set *set;
    uint64_t points;
    size_t runs, factors;
    tcr_chart chart;
    size_t order[PANEL_FACTORS]; /* of a map: the factors along x, along y and of the panels */
    double *value, *low, *high, *second, *second_low, *second_high, *place, *scratch;
    char (*text)[TCR_KEY_VALUE_SIZE]; /* words of all axes */
    const char **word;
    size_t words; /* of them in use */
    char title[TEXT_SIZE], line[TEXT_SIZE], quantity[TEXT_SIZE];
    char remark[REMARKS][TCR_RESULTS_SENTENCE_SIZE];
    const char *remarks[REMARKS];
    char axis[TCR_CHART_CURVES_MAX][TEXT_SIZE]; /* names of the axes of curves */
} making;

static size_t levels_of(const making *m, size_t factor) {
    return tcr_study_factor_at(m->study, factor)->factor.levels;
}

static bool has_words(const making *m, size_t factor) {
    const tcr_key *key = &tcr_study_factor_at(m->study, factor)->key;
    return key->words != NULL || key->kind == TCR_KIND_LABEL;
}

/* The levels of a factor as words of an axis; numbers too, since an axis of a map may have any. */
static tcr_chart_axis axis_of(making *m, size_t factor) {
    const tcr_study_factor *f = tcr_study_factor_at(m->study, factor);
    const tcr_chart_axis axis = {
        .name = f->key.name, .count = f->factor.levels, .word = m->word + m->words};
    for (size_t i = 0; i < f->factor.levels; i++) {
        char *text = m->text[m->words];
        (void)tcr_key_value_text(m->set, &f->key, f->factor.level[i], text);
        m->word[m->words++] = text;
    }
    return axis;
}

/* ---- Which form ------------------------------------------------------------------------------ */

static bool is_grid(const making *m) {
    size_t levels[TCR_FACTORS_MAX];
    tcr_design design;
    return tcr_study_design(m->study, levels, &design) == TCR_OK && design.kind == TCR_DESIGN_GRID;
}

/* Puts the factors of a map in order: panels for the one with the fewest levels, words upwards.
 * False where there is no room. */
static bool order_map(making *m) {
    size_t *o = m->order;
    for (size_t i = 0; i < m->factors; i++)
        o[i] = i;
    for (size_t i = 1; i < m->factors; i++) /* most levels first, words behind numbers */
        for (size_t k = i; k > 0; k--) {
            const bool later = has_words(m, o[k - 1]) && !has_words(m, o[k]);
            const bool more = has_words(m, o[k - 1]) == has_words(m, o[k]) &&
                              levels_of(m, o[k]) > levels_of(m, o[k - 1]);
            if (later || more) {
                const size_t kept = o[k];
                o[k] = o[k - 1];
                o[k - 1] = kept;
            }
        }
    return levels_of(m, o[0]) <= TCR_CHART_CELLS_MAX && levels_of(m, o[1]) <= TCR_CHART_CELLS_MAX &&
           (m->factors < PANEL_FACTORS || levels_of(m, o[2]) <= TCR_CHART_PANELS_MAX);
}

/* Puts two factors in order for a curve with a line for each of the few levels of one: that over
 * more numbers, then the other. False where a map shows them better. */
static bool order_lines(making *m) {
    enum { POINTS_LEAST = 4 };
    if (m->factors != 2)
        return false;
    size_t *o = m->order;
    o[0] = has_words(m, 0) || levels_of(m, 0) < levels_of(m, 1) ? 1 : 0;
    o[1] = 1 - o[0];
    return !has_words(m, o[0]) && levels_of(m, o[0]) >= POINTS_LEAST && levels_of(m, o[1]) >= 2 &&
           levels_of(m, o[1]) <= TCR_CHART_LINES_MAX && m->points <= TCR_CHART_POINTS_MAX;
}

/* The form that shows the answer; TCR_E_MISSING where none does. */
static tcr_status choose_form(making *m) {
    double level = LEVEL;
    tcr_sobol_index index[TCR_FACTORS_MAX];
    tcr_sobol_variance variance;
    uint64_t best;
    const bool ranked = tcr_results_best(m->work->results, &best) == TCR_OK;
    const bool one = m->factors == 1 && (m->points <= TCR_CHART_POINTS_MAX || is_grid(m));
    if (ranked && (one || (is_grid(m) && order_lines(m)))) {
        m->chart.form = TCR_CHART_CURVE;
        return TCR_OK;
    }
    if (ranked && is_grid(m) && (m->factors == 2 || m->factors == PANEL_FACTORS) && order_map(m)) {
        m->chart.form = TCR_CHART_MAP;
        return TCR_OK;
    }
    m->chart.form = TCR_CHART_BARS;
    const tcr_status status = m->factors >= 2
                                  ? tcr_results_indices(m->work->results, level, index, &variance)
                                  : TCR_E_MISSING;
    if (status == TCR_OK)
        return isfinite(index[0].total.estimate) ? TCR_OK : TCR_E_MISSING;
    m->chart.form = TCR_CHART_CURVES;
    return status == TCR_E_MISSING && ranked ? TCR_OK : status;
}

/* ---- Numbers --------------------------------------------------------------------------------- */

static void *array(size_t count, size_t size) { return calloc(count > 0 ? count : 1, size); }

static bool make_room(making *m, size_t values) {
    double **const all[] = {&m->value,      &m->low,         &m->high, &m->second,
                            &m->second_low, &m->second_high, &m->place};
    size_t words = m->factors;
    bool there = true;
    for (size_t i = 0; i < m->factors; i++)
        words += levels_of(m, i);
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        there &= (*all[i] = array(values, sizeof **all[i])) != NULL;
    m->scratch = array(m->runs, sizeof *m->scratch);
    m->text = array(words, sizeof *m->text);
    m->word = array(words, sizeof *m->word);
    return there && m->scratch != NULL && m->text != NULL && m->word != NULL;
}

static void free_room(making *m) {
    void *const all[] = {m->value,       m->low,   m->high,    m->second, m->second_low,
                         m->second_high, m->place, m->scratch, m->text,   m->word};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        free(all[i]);
}

/* A point of a curve, to be put in order. */
typedef struct place {
    double at;
    uint64_t point;
} place;

static int by_place(const void *a, const void *b) {
    const double left = ((const place *)a)->at, right = ((const place *)b)->at;
    return (left > right) - (left < right);
}

static int by_number(const void *a, const void *b) {
    const double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

/* The point to be marked; UINT64_MAX for none: what no artist chooses has no best. */
static uint64_t best_of(const making *m) {
    uint64_t best;
    const bool is_marked = tcr_results_has_best(m->work->results) &&
                           tcr_results_best(m->work->results, &best) == TCR_OK;
    return is_marked ? best : UINT64_MAX;
}

/* How far apart the points lie that a curve has: it takes no more than a chart may. */
static uint64_t stride_of(const making *m) {
    enum { BESIDE_BEST = TCR_CHART_POINTS_MAX - 1 };
    return m->points <= TCR_CHART_POINTS_MAX ? 1 : (m->points + BESIDE_BEST - 1) / BESIDE_BEST;
}

/* False without memory. */
static bool fill_curve(making *m) {
    tcr_chart *c = &m->chart;
    const uint64_t stride = stride_of(m), best = best_of(m);
    place *order = array((size_t)m->points, sizeof *order);
    if (order == NULL)
        return false;
    for (uint64_t i = 0; i < m->points; i++) {
        order[i].point = i;
        (void)tcr_study_points(m->study, i, 1, &order[i].at);
    }
    const bool words = has_words(m, 0);
    if (!words)
        qsort(order, (size_t)m->points, sizeof *order, by_place);
    size_t n = 0;
    for (uint64_t i = 0; i < m->points; i++) {
        tcr_summary s;
        if (!words && n > 0 && order[i].at == m->place[n - 1])
            continue; /* random points that fell together */
        if (i % stride != 0 && order[i].point != best)
            continue;
        (void)tcr_results_point(m->work->results, order[i].point, m->scratch, &s);
        c->best = order[i].point == best ? n : c->best;
        m->place[n] = order[i].at;
        m->value[n] = s.mean;
        m->low[n] = s.p5;
        m->high[n++] = s.p95;
    }
    free(order);
    if (words)
        c->x = axis_of(m, 0);
    else
        c->x = (tcr_chart_axis){tcr_study_factor_at(m->study, 0)->key.name, n, m->place, NULL};
    c->low = m->runs > 1 ? m->low : NULL;
    c->high = m->runs > 1 ? m->high : NULL;
    return true;
}

/* Where the point of a grid lies in a map. */
static size_t cell_of(const making *m, uint64_t point) {
    size_t level[PANEL_FACTORS] = {0};
    for (size_t i = m->factors; i-- > 0;) {
        level[i] = (size_t)(point % levels_of(m, i));
        point /= levels_of(m, i);
    }
    const size_t panel = m->factors == PANEL_FACTORS ? level[m->order[2]] : 0;
    return (panel * levels_of(m, m->order[1]) + level[m->order[1]]) * levels_of(m, m->order[0]) +
           level[m->order[0]];
}

/* A line for each level of the second factor of 'order'. The levels of the first, which rise on the
 * axis, may stand in any order. */
static void fill_lines(making *m) {
    tcr_chart *c = &m->chart;
    const tcr_factor *along = &tcr_study_factor_at(m->study, m->order[0])->factor;
    const size_t across = along->levels;
    const uint64_t best = best_of(m);
    for (size_t i = 0; i < across; i++)
        m->place[i] = along->level[i];
    qsort(m->place, across, sizeof *m->place, by_number);
    c->x = (tcr_chart_axis){tcr_study_factor_at(m->study, m->order[0])->key.name, across, m->place,
                            NULL};
    c->y = axis_of(m, m->order[1]);
    const char *dot = strrchr(c->y.name, '.');
    c->y.name = dot != NULL ? dot + 1 : c->y.name;
    for (uint64_t i = 0; i < m->points; i++) {
        tcr_summary s;
        size_t level = cell_of(m, i), line = 0, at = 0;
        for (; level >= across; level -= across)
            line++;
        while (m->place[at] != along->level[level])
            at++;
        at += line * across;
        (void)tcr_results_point(m->work->results, i, m->scratch, &s);
        m->value[at] = s.mean;
        m->low[at] = s.p5;
        m->high[at] = s.p95;
        c->best = i == best ? at : c->best;
    }
    c->low = m->runs > 1 ? m->low : NULL;
    c->high = m->runs > 1 ? m->high : NULL;
}

static void fill_map(making *m) {
    tcr_chart *c = &m->chart;
    const uint64_t best = best_of(m);
    c->x = axis_of(m, m->order[0]);
    c->y = axis_of(m, m->order[1]);
    if (m->factors == PANEL_FACTORS)
        c->panel = axis_of(m, m->order[2]);
    for (uint64_t i = 0; i < m->points; i++) {
        tcr_summary s;
        (void)tcr_results_point(m->work->results, i, m->scratch, &s);
        m->value[cell_of(m, i)] = s.mean;
    }
    if (best != UINT64_MAX)
        c->best = cell_of(m, best);
}

/* The factors that matter most, as many as there is room for. False without memory. */
static bool fill_bars(making *m) {
    tcr_chart *c = &m->chart;
    tcr_sobol_index index[TCR_FACTORS_MAX];
    tcr_sobol_variance variance;
    bool used[TCR_FACTORS_MAX] = {false};
    if (tcr_results_indices(m->work->results, LEVEL, index, &variance) != TCR_OK)
        return false;
    c->x = (tcr_chart_axis){.name = "share of the variance; 1 is all of it", .word = m->word};
    while (c->x.count < m->factors && c->x.count < TCR_CHART_BARS_MAX) {
        size_t next = m->factors;
        for (size_t i = 0; i < m->factors; i++)
            if (!used[i] &&
                (next == m->factors || index[i].total.estimate > index[next].total.estimate))
                next = i;
        const size_t n = c->x.count++;
        used[next] = true;
        m->word[n] = tcr_study_factor_at(m->study, next)->key.name;
        m->value[n] = index[next].first.estimate;
        m->low[n] = index[next].first.low;
        m->high[n] = index[next].first.high;
        m->second[n] = index[next].total.estimate;
        m->second_low[n] = index[next].total.low;
        m->second_high[n] = index[next].total.high;
    }
    c->low = m->low;
    c->high = m->high;
    c->second = m->second;
    c->second_low = m->second_low;
    c->second_high = m->second_high;
    c->first_name = "what a factor explains by itself";
    c->second_name = "with all that it does together with others";
    return true;
}

/* ---- Curves of random points ----------------------------------------------------------------- */

enum { BINS = 20, POINTS_A_BIN = 5 };

/* The bins of a factor. */
typedef struct binned {
    size_t factor, count;
    double share; /* of the variance; NaN: unknown */
    tcr_results_bin bin[BINS];
} binned;

static int by_share(const void *a, const void *b) {
    const double left = ((const binned *)a)->share, right = ((const binned *)b)->share;
    return (left < right) - (left > right);
}

/* The name of a factor; of words with what the numbers of its axis are, "curl: 0 J, 1 B, 2 C". */
static const char *name_axis(making *m, size_t factor, char text[TEXT_SIZE]) {
    const tcr_study_factor *f = tcr_study_factor_at(m->study, factor);
    size_t used = (size_t)snprintf(text, TEXT_SIZE, "%s", f->key.name);
    for (size_t i = 0; has_words(m, factor) && i < f->factor.levels && used < TEXT_SIZE; i++) {
        char value[TCR_KEY_VALUE_SIZE];
        (void)tcr_key_value_text(m->set, &f->key, f->factor.level[i], value);
        used += (size_t)snprintf(text + used, TEXT_SIZE - used, "%s %zu %s", i > 0 ? "," : ":", i,
                                 value);
    }
    return text;
}

/* Where a bin stands on its axis. */
static double place_of(const making *m, const binned *b, size_t k) {
    const tcr_factor *f = &tcr_study_factor_at(m->study, b->factor)->factor;
    const bool is_level = f->distribution == TCR_LEVELS && f->levels == b->count;
    return is_level && !has_words(m, b->factor) ? f->level[k] : b->bin[k].at;
}

/* A panel for each of the factors that matter most. False without memory. */
static bool fill_curves(making *m) {
    tcr_chart *c = &m->chart;
    const uint64_t most = m->points / POINTS_A_BIN + 1;
    const size_t bins = most < BINS ? (size_t)most : BINS;
    binned *all = array(m->factors, sizeof *all);
    bool there = all != NULL;
    for (size_t i = 0; there && i < m->factors; i++) {
        all[i].factor = i;
        there = tcr_results_bins(m->work->results, i, bins, all[i].bin, &all[i].count,
                                 &all[i].share) == TCR_OK;
    }
    if (there)
        qsort(all, m->factors, sizeof *all, by_share);
    c->panel.word = m->word;
    c->x = (tcr_chart_axis){.count = BINS, .value = m->place};
    for (size_t i = 0; there && i < m->factors && i < TCR_CHART_CURVES_MAX; i++) {
        m->word[i] = name_axis(m, all[i].factor, m->axis[i]);
        c->panel.count++;
        for (size_t k = 0; k < BINS; k++) {
            const tcr_results_bin *bin = &all[i].bin[k];
            const size_t at = i * BINS + k;
            m->place[at] = k < all[i].count ? place_of(m, &all[i], k) : NAN;
            m->value[at] = bin->over.mean;
            m->low[at] = bin->over.p5;
            m->high[at] = bin->over.p95;
        }
    }
    c->low = m->low;
    c->high = m->high;
    free(all);
    return there;
}

/* ---- Words ----------------------------------------------------------------------------------- */

static void add_remark(making *m, const char *text) {
    (void)snprintf(m->remark[m->chart.remarks], TCR_RESULTS_SENTENCE_SIZE, "%s", text);
    m->remarks[m->chart.remarks] = m->remark[m->chart.remarks];
    m->chart.remarks++;
}

/* Whether a quantity stands for that of two eyes. */
static bool is_of_both(const making *m, const char *name) {
    char of_left[TCR_OUTPUT_SIZE + 8];
    (void)snprintf(of_left, sizeof of_left, "left.%s", name);
    for (size_t i = 0; i < tcr_study_output_count(m->study); i++)
        if (strcmp(tcr_study_output_at(m->study, i)->name, of_left) == 0)
            return tcr_set_eyes(m->set, NULL) > 1;
    return false;
}

/* TCR_E_MEMORY. */
static tcr_status say_all(making *m, const tcr_results_state *state) {
    const char *unit, *name = tcr_results_output(m->work->results, &unit);
    char text[TEXT_SIZE], sentence[TCR_RESULTS_SENTENCE_SIZE];
    (void)snprintf(m->title, sizeof m->title, "%s", tcr_study_file_title(m->work->file));
    const bool shares = m->chart.form == TCR_CHART_BARS; /* which have no unit */
    (void)snprintf(m->quantity, sizeof m->quantity, "%s%s%s%s%s", shares ? "variance of " : "",
                   name, !shares && *unit != '\0' ? ", " : "", shares ? "" : unit,
                   m->runs > 1 ? ", mean over the runs" : "");
    (void)snprintf(m->line, sizeof m->line, "%s%s over %llu point%s%s", name,
                   is_of_both(m, name) ? " of the worse eye" : "", (unsigned long long)m->points,
                   m->points == 1 ? "" : "s",
                   m->runs > 1 ? ", each with the same lashes in the same run" : "");
    m->chart.title = m->title;
    m->chart.text = m->line;
    m->chart.quantity = m->quantity;
    m->chart.remark = m->remarks;
    const tcr_status answered = tcr_results_sentence(m->work->results, sentence);
    if (answered == TCR_OK)
        add_remark(m, sentence);
    else if (answered != TCR_E_MISSING)
        return answered;
    if (m->runs > 1) {
        const bool other =
            tcr_value_or(&m->work->call->best, 0.0) > 0.0 && best_of(m) != UINT64_MAX;
        (void)snprintf(text, sizeof text,
                       "%zu runs: lashes drawn by chance, with spreads that are assumed where none "
                       "is given.%s",
                       m->runs,
                       other ? " Drawn are means, which do not decide what is best here." : "");
        add_remark(m, text);
    }
    if (m->chart.form == TCR_CHART_CURVE && m->factors == 1 && stride_of(m) > 1) {
        (void)snprintf(text, sizeof text, "Of %llu points one in %llu is drawn%s.",
                       (unsigned long long)m->points, (unsigned long long)stride_of(m),
                       best_of(m) != UINT64_MAX ? ", and the best" : "");
        add_remark(m, text);
    }
    if (state->failed > 0) {
        (void)snprintf(text, sizeof text, "%llu evaluations failed: the set is not valid there.",
                       (unsigned long long)state->failed);
        add_remark(m, text);
    }
    m->chart.foot = "Computed for the set of the study; other lashes, other answers.";
    return TCR_OK;
}

tcr_status tcr_study_chart(const tcr_study_work *work, tcr_picture_format format,
                           const tcr_picture_options *options, tcr_sink sink, void *context) {
    making m = {.work = work, .chart = tcr_chart_default()};
    tcr_results_state state;
    (void)tcr_results_state_of(work->results, &state);
    m.study = tcr_study_file_study(work->file);
    m.set = tcr_set_file_set(tcr_study_file_set_file(work->file));
    m.points = state.points;
    m.runs = state.runs;
    m.factors = tcr_study_factor_count(m.study);
    if (!state.has_answer || m.factors == 0)
        return TCR_E_MISSING;
    tcr_status status = choose_form(&m);
    if (status != TCR_OK)
        return status;
    status = TCR_E_MEMORY;
    const size_t values = m.chart.form == TCR_CHART_BARS     ? m.factors
                          : m.chart.form == TCR_CHART_CURVES ? (size_t)TCR_CHART_CURVES_MAX * BINS
                                                             : (size_t)m.points;
    if (make_room(&m, values)) {
        m.chart.value = m.value;
        bool filled = true;
        if (m.chart.form == TCR_CHART_CURVE && m.factors == 2)
            fill_lines(&m);
        else if (m.chart.form == TCR_CHART_CURVE)
            filled = fill_curve(&m);
        else if (m.chart.form == TCR_CHART_CURVES)
            filled = fill_curves(&m);
        else if (m.chart.form == TCR_CHART_MAP)
            fill_map(&m);
        else
            filled = fill_bars(&m);
        m.chart.most = tcr_results_is_most(work->results);
        status = filled ? say_all(&m, &state) : TCR_E_MEMORY;
        if (status == TCR_OK)
            status = tcr_chart_write(format, &m.chart, options, sink, context);
    }
    free_room(&m);
    return status;
}

#endif
