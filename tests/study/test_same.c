/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The numbers of a study are those of a check of the same set written out, to the last bit: 200
 * random points, at which every kind of factor varies. The set files are written here, key by key,
 * and read back by libtipcrest-file; of the study only the keys are used.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_math.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>

#include <tipcrest/random.h>
#include <tipcrest/study.h>

#include "study/no_gsl_error.h"
#include "study/written.h"
#include "support/check.h"
#include "support/make.h"

/* ---- Comparing ------------------------------------------------------------------------------- */

static tcr_study *study_of(const tcr_set *set, const point *p, size_t runs, bool all_outputs) {
    tcr_study_options o = tcr_study_options_default();
    tcr_study *study;
    tcr_error error = tcr_error_none();
    o.runs = runs;
    o.seed = 99;
    expect_status(tcr_study_new(NULL, set, &o, &study, &error), TCR_OK);
    for (size_t i = 0; i < p->n; i++) {
        const tcr_factor f = {
            .key = p->kinds[i].key, .distribution = TCR_LEVELS, .level = &p->value[i], .levels = 1};
        if (tcr_study_add_factor(study, &f, &error) != TCR_OK)
            ck_abort_msg("%s", error.message);
    }
    size_t count;
    const tcr_quantity *q = tcr_quantities(&count);
    static const char *const OVER[] = {"", ".mean", ".min", ".max", ".p95"};
    for (int over = 0; over < 5 && all_outputs; over++) /* those of eyes first */
        for (size_t i = 0; i < count; i++) {
            char name[80];
            if (q[i].kind == TCR_KIND_ENUM || q[i].kind == TCR_KIND_LABEL ||
                (q[i].owner == TCR_OWNER_LASH) != (over > 0) ||
                tcr_study_output_count(study) + TCR_SIDES > TCR_OUTPUTS_MAX)
                continue;
            snprintf(name, sizeof name, "%s%s", q[i].name, OVER[over]);
            if (tcr_study_add_output(study, name, &error) != TCR_OK)
                ck_abort_msg("%s", error.message);
        }
    return study;
}

/* An output from a check, made here again. */
static double expected_of(const tcr_check *check, const tcr_output *o) {
    static double column[1000];
    if (o->over == TCR_OVER_NONE) {
        double value;
        expect_status(tcr_check_column(check, (tcr_side)o->side, o->quantity, &value, 1), TCR_OK);
        return value;
    }
    const size_t n = tcr_check_eye(check, (tcr_side)o->side)->lashes;
    size_t there = 0;
    double sum = 0.0;
    expect_status(tcr_check_column(check, (tcr_side)o->side, o->quantity, column, n), TCR_OK);
    for (size_t i = 0; i < n; i++)
        if (!isnan(column[i])) {
            sum += column[i];
            column[there++] = column[i];
        }
    if (there == 0)
        return NAN;
    if (o->over == TCR_OVER_MEAN)
        return sum / (double)there;
    gsl_sort(column, 1, there);
    return o->over == TCR_OVER_MIN   ? column[0]
           : o->over == TCR_OVER_MAX ? column[there - 1]
                                     : gsl_stats_quantile_from_sorted_data(column, 1, there, 0.95);
}

static void expect_outputs(const tcr_study *study, const tcr_check *check, const double *output) {
    for (size_t i = 0; i < tcr_study_output_count(study); i++) {
        const tcr_output *o = tcr_study_output_at(study, i);
        const double expected = expected_of(check, o);
        given("output %s", o->name);
        if (o->over == TCR_OVER_P95 && !isnan(expected))
            expect_near(output[i], expected, 1e-12 * (1.0 + fabs(expected)),
                        "GSL interpolates in another order");
        else if (isnan(expected))
            expect_nan(output[i]);
        else
            expect_same(output[i], expected, "of the file's own check");
    }
}

/* Reads the set file; NULL where it is not valid. */
static tcr_set_file *read_file(void) {
    tcr_set_file *file = NULL;
    (void)tcr_set_file_read("set.yaml", NULL, &file, NULL);
    return file;
}

static tcr_status check_file(const tcr_set_file *file, tcr_check **check) {
    return file != NULL ? tcr_check_new(tcr_set_file_set(file), NULL, check, NULL) : TCR_E_CONTENT;
}

/* What varies in a study of the point's kinds: with runs no seed, since runs have their own. */
static point factors_of(const point *p, bool seed, bool count, kind room[KINDS_MAX]) {
    point f = {room, 0, {0.0}};
    for (size_t i = 0; i < p->n; i++)
        if ((seed || strstr(p->kinds[i].key, ".seed") == NULL) &&
            (count || strstr(p->kinds[i].key, ".count") == NULL))
            room[f.n++] = p->kinds[i];
    return f;
}

static void put_into(point *p, const char *key, double value) {
    for (size_t i = 0; i < p->n; i++)
        if (strcmp(p->kinds[i].key, key) == 0)
            p->value[i] = value;
}

/* Tries n points of a described eye, with runs or without; how many were valid. */
static size_t compare_described(size_t runs, bool count_varies, size_t n) {
    static const char COUNT[] = "eyes.left.lashes.describe.count",
                      SEED[] = "eyes.left.lashes.describe.seed";
    static double output[TCR_OUTPUTS_MAX];
    kind room[KINDS_MAX];
    point p = {DESCRIBED, sizeof DESCRIBED / sizeof *DESCRIBED, {0.0}};
    gsl_rng *rng = tcr_make_rng(1 + runs);
    tcr_set_file *first = NULL;
    tcr_trial *trial;
    size_t valid = 0;
    enter_folder();
    while (first == NULL) { /* one to begin with */
        draw_point(rng, &p);
        write_described(&p);
        first = read_file();
    }
    const double count = value_of(&p, COUNT);
    point f = factors_of(&p, runs == 0, count_varies, room);
    for (size_t k = 0; k < f.n; k++)
        f.value[k] = value_of(&p, f.kinds[k].key);
    tcr_study *study = study_of(tcr_set_file_set(first), &f, runs, true);
    expect_status(tcr_trial_new(study, &trial), TCR_OK);
    for (size_t i = 0; i < n; i++) {
        tcr_check *check = NULL;
        const size_t run = runs > 0 ? i % runs : 0;
        draw_point(rng, &p);
        if (!count_varies)
            put_into(&p, COUNT, count);
        if (runs > 0)
            put_into(&p, SEED, (double)tcr_study_run_seed(study, run));
        for (size_t k = 0; k < f.n; k++)
            f.value[k] = value_of(&p, f.kinds[k].key);
        write_described(&p);
        tcr_set_file *file = read_file();
        const tcr_status whole = check_file(file, &check);
        const tcr_status status = tcr_trial_evaluate(trial, f.value, run, output, NULL);
        given("point %zu: check %d, study %d", i, (int)whole, (int)status);
        expect_true((whole == TCR_OK) == (status == TCR_OK));
        if (whole == TCR_OK)
            expect_outputs(study, check, output);
        else
            expect_nan(output[0]);
        valid += whole == TCR_OK;
        tcr_check_free(check);
        tcr_set_file_free(file);
    }
    tcr_trial_free(trial);
    tcr_study_free(study);
    tcr_set_file_free(first);
    gsl_rng_free(rng);
    leave_folder();
    return valid;
}

CLAIM(every_factor_of_a_described_eye_is_that_of_the_set_file) {
    expect_true(compare_described(0, true, 60) > 30);
    expect_true(compare_described(0, false, 60) > 30);
}

CLAIM(a_run_of_a_described_eye_is_the_set_file_with_its_seed) {
    expect_true(compare_described(5, true, 20) > 10);
    expect_true(compare_described(5, false, 30) > 15);
}

CLAIM(every_factor_of_surveyed_eyes_and_every_short_is_that_of_the_set_file) {
    static double output[TCR_OUTPUTS_MAX];
    point p = {SURVEYED, sizeof SURVEYED / sizeof *SURVEYED, {0.0}};
    gsl_rng *rng = tcr_make_rng(2);
    size_t valid = 0;
    tcr_trial *trial;
    enter_folder();
    write_surveyed(NULL);
    tcr_set_file *first = read_file();
    ck_assert_ptr_nonnull(first);
    draw_point(rng, &p);
    tcr_study *study = study_of(tcr_set_file_set(first), &p, 0, true);
    expect_status(tcr_trial_new(study, &trial), TCR_OK);
    for (size_t i = 0; i < 80; i++) {
        tcr_check *check = NULL;
        draw_point(rng, &p);
        write_surveyed(&p);
        tcr_set_file *file = read_file();
        const tcr_status whole = check_file(file, &check);
        const tcr_status status = tcr_trial_evaluate(trial, p.value, 0, output, NULL);
        given("point %zu: check %d, study %d", i, (int)whole, (int)status);
        expect_true((whole == TCR_OK) == (status == TCR_OK));
        if (whole == TCR_OK)
            expect_outputs(study, check, output);
        valid += whole == TCR_OK;
        tcr_check_free(check);
        tcr_set_file_free(file);
    }
    expect_true(valid > 40);
    tcr_trial_free(trial);
    tcr_study_free(study);
    tcr_set_file_free(first);
    gsl_rng_free(rng);
    leave_folder();
}

CLAIM(the_short_curl_is_that_curl_in_every_zone) {
    const kind kinds[] = {{"curl", 0, 7, CURLS}};
    point p = {kinds, 1, {0.0}};
    enter_folder();
    write_surveyed(NULL);
    tcr_set_file *file = read_file();
    tcr_study *study = study_of(tcr_set_file_set(file), &p, 0, true);
    for (p.value[0] = 0.0; p.value[0] < 8.0; p.value[0]++) {
        static double output[TCR_OUTPUTS_MAX];
        tcr_trial *trial;
        tcr_set *set;
        tcr_check *check;
        expect_status(tcr_set_copy(NULL, tcr_set_file_set(file), &set), TCR_OK);
        for (int side = 0; side < TCR_SIDES; side++)
            for (int meant = 0; meant < 2; meant++) {
                tcr_zone zones[4];
                size_t count;
                const tcr_zone *old = meant ? tcr_set_intended(set, (tcr_side)side, &count)
                                            : tcr_set_map(set, (tcr_side)side, &count);
                for (size_t z = 0; z < count; z++) {
                    zones[z] = old[z];
                    strcpy(zones[z].curl, curl_of(p.value[0]));
                }
                if (count > 0)
                    expect_status(meant ? tcr_set_put_intended(set, (tcr_side)side, zones, count)
                                        : tcr_set_put_map(set, (tcr_side)side, zones, count),
                                  TCR_OK);
            }
        expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
        expect_status(tcr_trial_new(study, &trial), TCR_OK);
        expect_status(tcr_trial_evaluate(trial, p.value, 0, output, NULL), TCR_OK);
        expect_outputs(study, check, output);
        tcr_trial_free(trial);
        tcr_check_free(check);
        tcr_set_free(set);
    }
    tcr_study_free(study);
    tcr_set_file_free(file);
    leave_folder();
}

/* ---- Runs ------------------------------------------------------------------------------------ */

/* The lashes of a run of a survey, made here again from the text of study.h. */
static void vary_here(tcr_set *set, tcr_side side, uint64_t seed) {
    const double degree = M_PI / 180.0;
    for (size_t i = 0; i < tcr_set_lash_count(set, side); i++) {
        const tcr_lash *complete = tcr_set_lash(set, side, i);
        tcr_lash lash;
        tcr_random number = {.seed = seed, .lash = (uint32_t)i, .eye = (uint32_t)side, .use = 6};
        expect_status(tcr_set_given_lash(set, side, i, &lash), TCR_OK);
        number.field = TCR_FIELD_HEIGHT;
        lash.height_mm = complete->height_mm + 0.1 * tcr_random_normal(&number);
        number.field = TCR_FIELD_PITCH;
        lash.pitch_rad = complete->pitch_rad + 4.0 * degree * tcr_random_normal(&number);
        number.field = TCR_FIELD_YAW;
        lash.yaw_rad = complete->yaw_rad + 4.0 * degree * tcr_random_normal(&number);
        number.field = TCR_FIELD_TURN;
        lash.turn_rad = complete->turn_rad + 8.0 * degree * tcr_random_normal(&number);
        expect_status(tcr_set_replace_lash(set, side, i, &lash), TCR_OK);
    }
}

CLAIM(a_run_of_surveyed_eyes_moves_their_lashes_by_the_spreads) {
    const kind kinds[] = {{"layering.step_mm", 0, 2, NULL}};
    point p = {kinds, 1, {1.0}};
    static double output[TCR_OUTPUTS_MAX];
    enter_folder();
    write_surveyed(NULL);
    tcr_set_file *file = read_file();
    tcr_study *study = study_of(tcr_set_file_set(file), &p, 4, true);
    tcr_trial *trial;
    expect_status(tcr_trial_new(study, &trial), TCR_OK);
    for (size_t run = 0; run < 4; run++) {
        tcr_set *set, *written;
        tcr_check *check;
        expect_status(tcr_set_copy(NULL, tcr_set_file_set(file), &set), TCR_OK);
        for (int side = 0; side < TCR_SIDES; side++)
            vary_here(set, (tcr_side)side, tcr_study_run_seed(study, run));
        expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
        expect_status(tcr_trial_evaluate(trial, p.value, run, output, NULL), TCR_OK);
        expect_outputs(study, check, output);
        tcr_check_free(check);
        /* And so is the set that a study writes out. */
        expect_status(tcr_study_set(study, p.value, run, &written, NULL), TCR_OK);
        expect_status(tcr_check_new(written, NULL, &check, NULL), TCR_OK);
        expect_outputs(study, check, output);
        expect_count(tcr_set_drawn_count(written, TCR_LEFT), LASHES);
        tcr_check_free(check);
        tcr_set_free(written);
        tcr_set_free(set);
    }
    tcr_trial_free(trial);
    tcr_study_free(study);
    tcr_set_file_free(file);
    leave_folder();
}

int main(void) {
    static const TTest *const claims[] = {
        &every_factor_of_a_described_eye_is_that_of_the_set_file,
        &every_factor_of_surveyed_eyes_and_every_short_is_that_of_the_set_file,
        &the_short_curl_is_that_curl_in_every_zone,
        &a_run_of_a_described_eye_is_the_set_file_with_its_seed,
        &a_run_of_surveyed_eyes_moves_their_lashes_by_the_spreads,
    };
    refuse_gsl_errors();
    return RUN_CLAIMS("same", claims);
}
