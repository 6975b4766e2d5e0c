/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Studies: any text as a key, its values or an output, any numbers as factors, designs and results.
 * The first byte picks what is tried; the rest are texts, each ended by a line feed, or numbers.
 */
#include "fuzz/target.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <tipcrest/study.h>

#include "fuzz/any.h"
#include "fuzz/claim.h"

enum { TEXT_MAX = 300, NUMBERS_MAX = 512 };

/* A text up to the end of a line. */
static const char *text_of(tcr_bytes *bytes, char text[TEXT_MAX]) {
    size_t n = 0;
    while (bytes->at < bytes->end && n + 1 < TEXT_MAX) {
        const char c = (char)*bytes->at++;
        if (c == '\n' || c == '\0')
            break;
        text[n++] = c;
    }
    text[n] = '\0';
    return text;
}

/* A small set: a described left eye, and a right one with two lashes of its own. */
static tcr_set *make_set(void) {
    tcr_set *set = NULL;
    tcr_description d = tcr_description_default();
    tcr_zone zones[2] = {{.to = 0.5, .length_mm = 10, .curl = "C"},
                         {.to = 1, .length_mm = 12, .curl = "D"}};
    d.count = 14;
    const tcr_lash lashes[] = {tcr_lash_unknown(0.3, TCR_BOTTOM), tcr_lash_unknown(0.6, TCR_TOP),
                               tcr_lash_unknown(0.8, TCR_MIDDLE)};
    tcr_status status = tcr_set_new(NULL, &set);
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        status = tcr_set_add_eye(set, (tcr_side)side, NULL);
        if (status == TCR_OK)
            status = tcr_set_put_map(set, (tcr_side)side, zones, 2);
    }
    if (status == TCR_OK)
        status = tcr_set_describe(set, TCR_LEFT, &d);
    if (status == TCR_OK)
        status = tcr_set_add_lashes(set, TCR_RIGHT, 3, NULL, lashes, NULL);
    claim(status == TCR_OK, "%s", tcr_status_text(status));
    return set;
}

/* ---- Keys and values ------------------------------------------------------------------------- */

static void claim_value(const tcr_set *set, const tcr_key *key, double value) {
    char text[TCR_KEY_VALUE_SIZE];
    double again = NAN;
    const tcr_status valid = tcr_key_validate(set, key, value, NULL);
    const size_t bytes = tcr_key_value_text(set, key, value, text);
    claim(strlen(text) == bytes, "%zu bytes of \"%s\"", bytes, text);
    if (valid == TCR_OK)
        claim(tcr_key_parse(set, key, text, bytes, &again, NULL) == TCR_OK && again == value,
              "%.17g reads back as %.17g from %s", value, again, text);
}

static void try_key(tcr_bytes *bytes, const tcr_set *set) {
    char name[TEXT_MAX], values[TEXT_MAX];
    double level[NUMBERS_MAX], value;
    size_t levels;
    tcr_key key;
    tcr_error error = tcr_error_none();
    tcr_mark(&key, sizeof key);
    tcr_status status = tcr_key_find(set, text_of(bytes, name), &key, &error);
    tcr_claim_untouched("tcr_key_find", status, &key, sizeof key);
    if (status != TCR_OK) {
        tcr_claim_error(status, &error);
        return;
    }
    tcr_mark(level, sizeof level);
    tcr_mark(&levels, sizeof levels);
    status = tcr_key_parse_levels(set, &key, text_of(bytes, values), level, NUMBERS_MAX, &levels,
                                  &error);
    tcr_claim_untouched("tcr_key_parse_levels", status, level, sizeof level);
    tcr_claim_untouched("tcr_key_parse_levels", status, &levels, sizeof levels);
    if (status != TCR_OK)
        tcr_claim_error(status, &error);
    for (size_t i = 0; status == TCR_OK && i < levels && i < NUMBERS_MAX; i++)
        claim(tcr_key_validate(set, &key, level[i], NULL) == TCR_OK, "level %.17g of %s", level[i],
              key.name);
    tcr_mark(&value, sizeof value);
    status = tcr_key_parse(set, &key, values, strlen(values), &value, NULL);
    tcr_claim_untouched("tcr_key_parse", status, &value, sizeof value);
    if (status == TCR_OK)
        claim_value(set, &key, value);
    claim_value(set, &key, tcr_any_double(bytes));
    if (tcr_key_at(set, tcr_any_byte(bytes), &key))
        claim(tcr_key_find(set, key.name, &key, NULL) == TCR_OK, "key %s", key.name);
}

/* ---- Designs and distributions --------------------------------------------------------------- */

static void try_design(tcr_bytes *bytes) {
    size_t levels[3];
    for (int i = 0; i < 3; i++)
        levels[i] = tcr_any_byte(bytes) == 255 ? (size_t)tcr_any_word(bytes) : tcr_any_byte(bytes);
    const tcr_design design = {.kind = (tcr_design_kind)tcr_any_choice(bytes, TCR_DESIGNS),
                               .factors = (size_t)tcr_any_choice(bytes, 4),
                               .levels = levels,
                               .points = tcr_any_byte(bytes) > 128 ? tcr_any_word(bytes)
                                                                   : tcr_any_byte(bytes),
                               .scramblings = (size_t)tcr_any_byte(bytes) + 10,
                               .shifted = tcr_any_byte(bytes) % 2 == 0,
                               .seed = tcr_any_word(bytes)};
    const tcr_design *use = design.factors <= 3 ? &design : NULL;
    uint64_t count;
    double u[15];
    tcr_error error;
    (void)tcr_design_text(design.kind);
    tcr_mark(&count, sizeof count);
    tcr_status status = tcr_design_count(use, &count, &error);
    tcr_claim_untouched("tcr_design_count", status, &count, sizeof count);
    const uint64_t first = status == TCR_OK ? tcr_any_word(bytes) % (count + 2) : 0;
    tcr_mark(u, sizeof u);
    status = tcr_design_points(use, first, 5, u);
    tcr_claim_untouched("tcr_design_points", status, u, sizeof u);
    for (size_t i = 0; status == TCR_OK && i < 5 * design.factors; i++)
        claim(u[i] >= 0.0 && u[i] < 1.0, "u is %.17g", u[i]);
    const tcr_sobol_shift shift = {tcr_any_word(bytes), tcr_any_byte(bytes)};
    tcr_mark(u, sizeof u);
    status = tcr_sobol_points(tcr_any_word(bytes), tcr_any_byte(bytes) % 6, tcr_any_byte(bytes),
                              tcr_any_byte(bytes) % 3, &shift, u);
    tcr_claim_untouched("tcr_sobol_points", status, u, sizeof u);
}

static tcr_factor factor_of(tcr_bytes *bytes, const char *key, double *level, size_t room) {
    tcr_factor f = {.key = key,
                    .distribution = (tcr_distribution)tcr_any_choice(bytes, TCR_DISTRIBUTIONS)};
    if (f.distribution == TCR_LEVELS) {
        f.level = level;
        f.levels = tcr_any_byte(bytes) % (room + 1);
        for (size_t i = 0; i < f.levels; i++)
            level[i] = tcr_any_number(bytes, 0.0, 3.0, (double)i);
    }
    f.least = tcr_any_number(bytes, 0.0, 1.0, 0.5);
    f.most = tcr_any_number(bytes, 1.0, 3.0, 1.5);
    f.mode = tcr_any_number(bytes, 0.5, 1.5, 1.0);
    f.mean = tcr_any_number(bytes, 0.0, 3.0, 1.0);
    f.sd = tcr_any_number(bytes, 0.0, 3.0, 0.5);
    return f;
}

static void try_factor(tcr_bytes *bytes) {
    double level[8], range[4];
    const tcr_factor f = factor_of(bytes, "layering.step_mm", level, 8);
    const double u = tcr_any_number(bytes, 0.0, 0.999, 0.25);
    (void)tcr_distribution_text(f.distribution);
    tcr_error error = tcr_error_none();
    const tcr_status status = tcr_factor_validate(&f, &error);
    const double value = tcr_factor_value(status == TCR_OK ? &f : NULL, u);
    claim((status == TCR_OK && u >= 0.0 && u < 1.0) == isfinite(value), "value %.17g at %.17g",
          value, u);
    tcr_mark(range, sizeof range);
    const double from = tcr_any_double(bytes), to = tcr_any_double(bytes),
                 step = tcr_any_double(bytes);
    const size_t n = tcr_factor_range(from, to, step, range, 4);
    claim(n <= TCR_LEVELS_MAX, "%zu levels", n);
    for (size_t i = 0; i < n && i < 4; i++)
        claim(isfinite(range[i]), "level %zu is %.17g", i, range[i]);
}

/* ---- Answers --------------------------------------------------------------------------------- */

static size_t numbers_of(tcr_bytes *bytes, double *number, size_t most) {
    const size_t n = (size_t)(tcr_any_word(bytes) % (most + 1));
    for (size_t i = 0; i < n; i++)
        number[i] = tcr_any_number(bytes, 0.0, 1.0, (double)(i * 7 % 11) / 11.0);
    return n;
}

static void try_indices(tcr_bytes *bytes) {
    double value[NUMBERS_MAX];
    tcr_sobol_index index[4];
    tcr_sobol_variance variance;
    const size_t n = numbers_of(bytes, value, NUMBERS_MAX), factors = tcr_any_byte(bytes) % 4;
    const size_t points = n / (16 * (factors + 2));
    tcr_mark(index, sizeof index);
    const tcr_status status =
        tcr_sobol_indices(value, tcr_any_byte(bytes) % 2 == 0 ? value : NULL, 1, factors, points,
                          16, tcr_any_number(bytes, 0.5, 0.9999, 0.95), index, &variance);
    tcr_claim_untouched("tcr_sobol_indices", status, index, sizeof index);
    for (size_t j = 0; status == TCR_OK && j < factors; j++)
        claim(!(index[j].first.low > index[j].first.high) &&
                  !(index[j].total.low > index[j].total.high),
              "factor %zu", j);
}

static void try_best(tcr_bytes *bytes) {
    double value[NUMBERS_MAX], scratch[NUMBERS_MAX];
    tcr_ranked ranked[8];
    tcr_summary summary;
    const size_t n = numbers_of(bytes, value, NUMBERS_MAX), k = 1 + tcr_any_byte(bytes) % 8;
    tcr_best_options o = tcr_best_options_default();
    o.by = (tcr_best_by)tcr_any_choice(bytes, TCR_BEST_BYS);
    o.most = tcr_any_byte(bytes) % 2 == 1;
    o.exact = tcr_any_byte(bytes) % 4 == 1;
    o.level = tcr_any_number(bytes, 0.5, 0.9999, 0.95);
    o.alike = tcr_any_number(bytes, 0.0, 1.0, 0.05);
    (void)tcr_best_by_text(o.by);
    tcr_mark(ranked, sizeof ranked);
    const tcr_status status = tcr_best_of(NULL, value, 1, k, n / k, &o, ranked);
    tcr_claim_untouched("tcr_best_of", status, ranked, sizeof ranked);
    unsigned seen = 0;
    for (size_t i = 0; status == TCR_OK && i < k; i++) {
        claim(ranked[i].combination < k, "combination %zu of %zu", ranked[i].combination, k);
        seen |= 1u << ranked[i].combination;
        claim((ranked[i].missing > 0) == (ranked[i].standing == TCR_STANDING_NONE), "standing %d",
              (int)ranked[i].standing);
    }
    claim(status != TCR_OK || seen == (1u << k) - 1, "ranked %x of %zu", seen, k);
    (void)tcr_summarise(value, n, 1, scratch, &summary);
}

/* ---- Whole studies --------------------------------------------------------------------------- */

static bool take_block(void *context, const tcr_study_block *block) {
    uint64_t *next = context;
    claim(block->first == *next, "block from %zu", (size_t)block->first);
    *next += block->points;
    return true;
}

/* One evaluation against the check of the set written out. */
static void claim_trial(const tcr_study *study, const double *value, size_t run) {
    double output[TCR_OUTPUTS_MAX];
    tcr_trial *trial;
    tcr_set *set;
    tcr_check *check;
    tcr_error error = tcr_error_none();
    claim(tcr_trial_new(study, &trial) == TCR_OK, "no trial");
    const tcr_status status = tcr_trial_evaluate(trial, value, run, output, &error);
    if (status != TCR_OK)
        tcr_claim_error(status, &error);
    if (tcr_study_set(study, value, run, &set, NULL) == TCR_OK) {
        const tcr_status checked = tcr_check_new(set, NULL, &check, NULL);
        claim(checked == status, "check %s, study %s", tcr_status_text(checked),
              tcr_status_text(status));
        if (checked == TCR_OK)
            tcr_check_free(check);
        tcr_set_free(set);
    } else {
        claim(status != TCR_OK, "an evaluation of no set");
    }
    tcr_trial_free(trial);
}

static void evaluate(tcr_bytes *bytes, const tcr_study *study) {
    uint64_t points, next = 0;
    double value[TCR_FACTORS_MAX];
    if (tcr_study_count(study, &points, NULL) != TCR_OK)
        return;
    const size_t runs = tcr_study_runs(study), run = runs > 0 ? tcr_any_byte(bytes) % runs : 0;
    const uint64_t first = tcr_any_word(bytes) % points;
    claim(tcr_study_points(study, first, 1, value) == TCR_OK, "no point");
    claim_trial(study, value, run);
    for (size_t i = 0; i < tcr_study_factor_count(study); i++)
        if (tcr_any_byte(bytes) > 128)
            value[i] = tcr_any_double(bytes);
    claim_trial(study, value, run);
    (void)tcr_study_run_seed(study, run);
    if (points * (runs + 1) > 12)
        return;
    tcr_study_run_options o = tcr_study_run_options_default();
    double *all = malloc(12 * TCR_OUTPUTS_MAX * sizeof *all);
    o.threads = 1 + tcr_any_byte(bytes) % 3;
    o.block = tcr_any_byte(bytes) % 4;
    claim(tcr_study_run(study, 0, points, &o, take_block, &next) == TCR_OK && next == points,
          "%zu of %zu points", (size_t)next, (size_t)points);
    claim(tcr_study_evaluate(study, 0, (size_t)points, &o, all, NULL) == TCR_OK, "no results");
    tcr_set *own = make_set();
    const tcr_set *const sets[] = {own, own, own};
    tcr_status status[3];
    claim(tcr_study_evaluate_sets(study, sets, 3, &o, all, status) == TCR_OK &&
              status[0] == status[2],
          "no results of sets");
    tcr_set_free(own);
    free(all);
}

static void try_study(tcr_bytes *bytes, const tcr_set *set) {
    char text[TEXT_MAX];
    tcr_study_options o = tcr_study_options_default();
    tcr_study *study = NULL;
    tcr_error error = tcr_error_none();
    o.design = (tcr_design_kind)tcr_any_choice(bytes, TCR_DESIGNS);
    o.points = tcr_any_byte(bytes) % 40;
    o.runs = tcr_any_byte(bytes) % 4;
    o.seed = tcr_any_word(bytes);
    o.spread.pitch_sd_rad = tcr_any_degrees(bytes, 0.0, 20.0, 4.0);
    tcr_mark(&study, sizeof study);
    tcr_status status = tcr_study_new(NULL, set, &o, &study, &error);
    tcr_claim_untouched("tcr_study_new", status, &study, sizeof study);
    if (status != TCR_OK) {
        tcr_claim_error(status, &error);
        return;
    }
    for (int i = tcr_any_byte(bytes) % 4; i > 0; i--) {
        double level[4];
        const tcr_factor f = factor_of(bytes, text_of(bytes, text), level, 4);
        status = tcr_study_add_factor(study, &f, &error);
        if (status != TCR_OK)
            tcr_claim_error(status, &error);
    }
    for (int i = tcr_any_byte(bytes) % 3; i > 0; i--) {
        status = tcr_study_add_output(study, text_of(bytes, text), &error);
        if (status != TCR_OK)
            tcr_claim_error(status, &error);
    }
    size_t levels[TCR_FACTORS_MAX];
    tcr_design design;
    claim(tcr_study_design(study, levels, &design) == TCR_OK, "no design");
    claim(tcr_study_factor_at(study, tcr_study_factor_count(study)) == NULL, "one factor more");
    claim(tcr_study_output_at(study, tcr_study_output_count(study)) == NULL, "one output more");
    evaluate(bytes, study);
    tcr_study_free(study);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    tcr_bytes bytes = {.at = data, .end = data + size};
    tcr_set *set = make_set();
    switch (tcr_any_byte(&bytes) % 6) {
    case 0:
        try_key(&bytes, set);
        break;
    case 1:
        try_design(&bytes);
        break;
    case 2:
        try_factor(&bytes);
        break;
    case 3:
        try_indices(&bytes);
        break;
    case 4:
        try_best(&bytes);
        break;
    default:
        try_study(&bytes, set);
        break;
    }
    tcr_set_free(set);
    return 0;
}
