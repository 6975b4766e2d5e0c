/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A study: the set it tries, its factors and its outputs, its points and the seeds of its runs. */
#include "study/study.h"

#include <math.h>
#include <string.h>

#include "num/error.h"
#include "num/memory.h"
#include "num/number.h"
#include "num/options.h"
#include "study/sobol.h"

enum { USE_RUNS = 7 };

void tcr_study_options_init(tcr_study_options *options, size_t size) {
    const tcr_study_options defaults = {.design = TCR_DESIGN_GRID,
                                        .points = 1024,
                                        .scramblings = TCR_SCRAMBLINGS_MIN,
                                        .seed = 1,
                                        .spread = tcr_description_default(),
                                        .against = TCR_FITTED};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

/* ---- Beginning and end ----------------------------------------------------------------------- */

static tcr_status check_set(const tcr_set *set, tcr_error *error) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(set, sides);
    tcr_status status = eyes > 0 ? TCR_OK : TCR_E_MISSING;
    for (size_t e = 0; e < eyes && status == TCR_OK; e++) {
        size_t zones;
        (void)tcr_set_map(set, sides[e], &zones);
        if (zones == 0)
            status = TCR_E_MAP;
        else if (tcr_set_lash_count(set, sides[e]) == 0)
            status = TCR_E_MISSING;
        if (status != TCR_OK && error != NULL) {
            (void)tcr_error_status(error, status);
            error->side = (int)sides[e];
        }
    }
    return eyes > 0 ? status : tcr_error_set(error, status, "a study needs a set with an eye");
}

static tcr_status check_options(const tcr_study_options *o, tcr_error *error) {
    if ((unsigned)o->design >= TCR_DESIGNS ||
        (o->against != TCR_FITTED && o->against != TCR_INTENDED))
        return tcr_error_status(error, TCR_E_ARGUMENT);
    if (o->runs > TCR_RUNS_MAX)
        return tcr_error_set(error, TCR_E_RANGE, "runs is %zu, but must be at most %d", o->runs,
                             TCR_RUNS_MAX);
    /* The numbers of the design, as if there were one factor. */
    uint64_t count;
    const size_t one = 1;
    const tcr_design design = {.kind = o->design,
                               .factors = 1,
                               .levels = &one,
                               .points = o->points,
                               .scramblings = o->scramblings};
    const tcr_status status = tcr_design_count(&design, &count, error);
    return status == TCR_OK ? tcr_description_validate(&o->spread, error) : status;
}

tcr_status tcr_study_new(const tcr_allocator *allocator, const tcr_set *set,
                         const tcr_study_options *options, tcr_study **out, tcr_error *error) {
    tcr_allocator chosen;
    tcr_study_options o = tcr_study_options_default();
    if (set == NULL || out == NULL || tcr_allocator_choose(allocator, &chosen) != TCR_OK ||
        tcr_options_take(&o, sizeof o, options) != TCR_OK)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    tcr_status status = check_set(set, error);
    if (status == TCR_OK)
        status = check_options(&o, error);
    if (status != TCR_OK)
        return status;
    tcr_study *study = tcr_resize(&chosen, NULL, 1, sizeof *study);
    if (study == NULL)
        return tcr_error_status(error, TCR_E_MEMORY);
    *study = (tcr_study){.allocator = chosen, .options = o};
    status = tcr_set_copy(&chosen, set, &study->set);
    if (status == TCR_OK)
        status = tcr_study_add_usual_outputs(study);
    study->usual_outputs = true;
    if (status != TCR_OK) {
        tcr_study_free(study);
        return tcr_error_status(error, status);
    }
    *out = study;
    return TCR_OK;
}

/* The levels are the study's own; a factor of the caller's has const ones. */
static void release_levels(const tcr_allocator *allocator, const tcr_factor *factor) {
    void *own;
    memcpy(&own, &factor->level, sizeof own);
    tcr_release(allocator, own);
}

void tcr_study_free(tcr_study *study) {
    if (study == NULL)
        return;
    const tcr_allocator allocator = study->allocator;
    for (size_t i = 0; i < study->factors; i++)
        release_levels(&allocator, &study->factor[i].factor);
    tcr_release(&allocator, study->output);
    tcr_set_free(study->set);
    tcr_release(&allocator, study);
}

/* ---- Factors --------------------------------------------------------------------------------- */

bool tcr_study_varies(const tcr_study *study, int what) {
    for (size_t i = 0; i < study->factors; i++)
        if (study->factor[i].key.what == what)
            return true;
    return false;
}

static bool is_member(const tcr_key *key, const char *name) {
    return key->what == TCR_AT_DESCRIPTION && strcmp(key->field->key, name) == 0;
}

bool tcr_study_varies_count(const tcr_study *study, tcr_side side) {
    for (size_t i = 0; i < study->factors; i++)
        if (is_member(&study->factor[i].key, "count") &&
            (study->factor[i].key.sides >> side & 1u) != 0)
            return true;
    return false;
}

/* Whether two keys are one number of the set, in an eye at least. */
static bool same_number(const tcr_key *a, const tcr_key *b) {
    return a->what == b->what && a->field == b->field && a->zone == b->zone &&
           a->layer == b->layer && (a->sides == b->sides || (a->sides & b->sides) != 0);
}

/* A file gives one of the two. */
static bool are_one_tolerance(const tcr_key *a, const tcr_key *b) {
    return a->what == TCR_AT_LINE && b->what == TCR_AT_LINE && a->unit == TCR_UNIT_MM &&
           b->unit == TCR_UNIT_MM;
}

static tcr_status check_new_key(const tcr_study *study, const tcr_key *key, tcr_error *error) {
    if (study->factors == TCR_FACTORS_MAX)
        return tcr_error_set(error, TCR_E_ARGUMENT, "a study has at most %d factors",
                             TCR_FACTORS_MAX);
    for (size_t i = 0; i < study->factors; i++) {
        const tcr_key *other = &study->factor[i].key;
        if (same_number(key, other) || are_one_tolerance(key, other))
            return tcr_error_set(error, TCR_E_DUPLICATE, "%s and %s are one factor", other->name,
                                 key->name);
    }
    if (is_member(key, "seed") && study->options.runs > 0)
        return tcr_error_set(error, TCR_E_ARGUMENT,
                             "%s is no factor of a study with runs, which have seeds of their own",
                             key->name);
    for (int side = 0; side < TCR_SIDES && is_member(key, "count"); side++)
        for (size_t k = 0; k < tcr_set_lash_count(study->set, (tcr_side)side); k++)
            if ((key->sides >> side & 1u) &&
                tcr_set_wish(study->set, (tcr_side)side, k)->fixed != 0)
                return tcr_error_set(error, TCR_E_ARGUMENT,
                                     "%s is no factor where a lash fixes what it wears", key->name);
    return TCR_OK;
}

/* Whether the values of a factor suit its key. */
static tcr_status check_values(const tcr_study *study, const tcr_key *key, const tcr_factor *f,
                               tcr_error *error) {
    tcr_status status = tcr_factor_validate(f, error);
    if (status != TCR_OK)
        return status;
    for (size_t i = 0; i < f->levels && status == TCR_OK; i++)
        status = tcr_key_validate(study->set, key, f->level[i], error);
    if (status != TCR_OK || f->distribution == TCR_LEVELS)
        return status;
    if (key->kind != TCR_KIND_DOUBLE)
        return tcr_error_set(error, TCR_E_ARGUMENT, "%s takes a list of values and no distribution",
                             key->name);
    if (study->options.design == TCR_DESIGN_GRID)
        return tcr_error_set(error, TCR_E_ARGUMENT,
                             "a grid takes a list or a range for %s; a distribution needs random "
                             "or Sobol points",
                             key->name);
    if (f->distribution == TCR_NORMAL)
        return tcr_key_validate(study->set, key, f->mean, error);
    status = tcr_key_validate(study->set, key, f->least, error);
    return status == TCR_OK ? tcr_key_validate(study->set, key, f->most, error) : status;
}

tcr_status tcr_study_add_factor(tcr_study *study, const tcr_factor *factor, tcr_error *error) {
    tcr_study_factor own;
    if (study == NULL || factor == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    tcr_status status = tcr_key_find(study->set, factor->key, &own.key, error);
    if (status == TCR_OK)
        status = check_new_key(study, &own.key, error);
    if (status == TCR_OK)
        status = check_values(study, &own.key, factor, error);
    if (status != TCR_OK)
        return status;
    tcr_study_factor *kept = &study->factor[study->factors];
    double *level = NULL;
    if (factor->levels > 0) {
        level = tcr_resize(&study->allocator, NULL, factor->levels, sizeof *level);
        if (level == NULL)
            return tcr_error_status(error, TCR_E_MEMORY);
        memcpy(level, factor->level, factor->levels * sizeof *level);
    }
    kept->key = own.key;
    kept->factor = *factor;
    kept->factor.key = kept->key.name;
    kept->factor.level = level;
    study->factors++;
    return TCR_OK;
}

size_t tcr_study_factor_count(const tcr_study *study) { return study != NULL ? study->factors : 0; }

const tcr_study_factor *tcr_study_factor_at(const tcr_study *study, size_t i) {
    return study != NULL && i < study->factors ? &study->factor[i] : NULL;
}

/* ---- Points ---------------------------------------------------------------------------------- */

tcr_status tcr_study_design(const tcr_study *study, size_t levels[TCR_FACTORS_MAX],
                            tcr_design *design) {
    if (study == NULL || levels == NULL || design == NULL)
        return TCR_E_ARGUMENT;
    for (size_t j = 0; j < study->factors; j++)
        levels[j] = study->factor[j].factor.levels;
    *design = (tcr_design){.kind = study->options.design,
                           .factors = study->factors,
                           .levels = levels,
                           .points = study->options.points,
                           .scramblings = study->options.scramblings,
                           .shifted = true,
                           .seed = study->options.seed};
    return TCR_OK;
}

tcr_status tcr_study_count(const tcr_study *study, uint64_t *points, tcr_error *error) {
    size_t levels[TCR_FACTORS_MAX];
    tcr_design design;
    uint64_t count = 1;
    if (points == NULL || tcr_study_design(study, levels, &design) != TCR_OK)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    if (study->factors > 0) {
        const tcr_status status = tcr_design_count(&design, &count, error);
        if (status != TCR_OK)
            return status;
    }
    const uint64_t runs = study->options.runs > 0 ? study->options.runs : 1;
    if (count > TCR_DESIGN_POINTS_MAX / runs)
        return tcr_error_set(error, TCR_E_RANGE,
                             "%llu points with %llu runs each are more than %llu evaluations",
                             (unsigned long long)count, (unsigned long long)runs,
                             (unsigned long long)TCR_DESIGN_POINTS_MAX);
    *points = count;
    return TCR_OK;
}

size_t tcr_study_runs(const tcr_study *study) { return study != NULL ? study->options.runs : 0; }

tcr_status tcr_study_points(const tcr_study *study, uint64_t first, size_t n, double *value) {
    size_t levels[TCR_FACTORS_MAX];
    tcr_design design;
    uint64_t count = 0;
    tcr_status status = tcr_study_count(study, &count, NULL);
    if (status != TCR_OK)
        return status;
    if (value == NULL && n > 0 && study->factors > 0)
        return TCR_E_ARGUMENT;
    if (first > count || n > count - first)
        return TCR_E_RANGE;
    if (study->factors == 0 || n == 0)
        return TCR_OK;
    (void)tcr_study_design(study, levels, &design);
    status = tcr_design_points(&design, first, n, value);
    for (size_t i = 0; i < n && status == TCR_OK; i++)
        for (size_t j = 0; j < study->factors; j++) {
            double *at = &value[i * study->factors + j];
            const tcr_study_factor *f = &study->factor[j];
            *at = tcr_factor_value(&f->factor, *at);
            if (f->factor.distribution == TCR_NORMAL)
                *at = fmin(fmax(*at, f->key.least), f->key.most);
        }
    return status;
}

uint64_t tcr_study_run_seed(const tcr_study *study, size_t run) {
    if (study == NULL)
        return 0;
    return tcr_study_bits(study->options.seed, (uint32_t)run, (uint32_t)((uint64_t)run >> 32),
                          USE_RUNS);
}
