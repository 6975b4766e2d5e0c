/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How long a plan takes: 15 cells (5 zones, 3 layers), 10 lengths, 3 curls, 3 placements and 140
 * lashes of one eye, all of which are used. The limit is the tips alone: every option laid on every
 * lash once, through tcr_tip. The lashes are described: invented. The plan is checked before it is
 * timed: proved, and its bound reached.
 */
#include "bench.h"

#include <tipcrest/plan.h>
#include <tipcrest/tips.h>

enum { LASHES = 140, LENGTHS = 10, CURLS = 3, PLACEMENTS = 3, RUNS = 11 };

typedef struct job {
    tcr_set *set;
    tcr_plan_options options;
} job;

static tcr_set *make_set(void) {
    static const double TO[] = {0.15, 0.3, 0.5, 0.8, 1.0}, LENGTH[] = {8.0, 9.0, 10.0, 11.0, 10.0};
    tcr_set *set;
    tcr_zone zones[5] = {0};
    tcr_tray tray = {.count = LENGTHS};
    tcr_description description = tcr_description_default();
    description.count = LASHES;
    description.seed = 3;
    description.length_mm = 8.5;
    description.phases = TCR_PHASES_NONE;
    description.stray_share = description.baby_below_mm = description.weak_below_mm = 0.0;
    for (size_t i = 0; i < LENGTHS; i++)
        tray.length_mm[i] = 5.0 + (double)i;
    for (size_t i = 0; i < 5; i++)
        zones[i] = (tcr_zone){.to = TO[i], .length_mm = LENGTH[i], .curl = "C"};
    tcr_bench_must(tcr_set_new(NULL, &set) == TCR_OK && tcr_set_put_tray(set, &tray) == TCR_OK &&
                       tcr_set_add_eye(set, TCR_LEFT, NULL) == TCR_OK &&
                       tcr_set_put_map(set, TCR_LEFT, zones, 5) == TCR_OK &&
                       tcr_set_describe(set, TCR_LEFT, &description) == TCR_OK,
                   "the set");
    return set;
}

static tcr_plan_options options_of(const tcr_set *set) {
    static const char *const LABEL[CURLS] = {"C", "CC", "D"};
    tcr_plan_options o = tcr_plan_options_default();
    o.share = 1.0;
    o.corrections = 0;
    o.limits.baby_below_mm = 0.0; /* so that all 140 take part, with every length */
    o.limits.thin_below_mm = 0.0;
    o.limits.out_of_fan_rad = 1.5;
    o.limits.stray_above_mm = 8.0;
    o.limits.overlength_mm = 30.0;
    o.limits.mass_ratio = 1e6;
    o.limits.moment_ratio = 1e6;
    o.curls = CURLS;
    for (size_t i = 0; i < CURLS; i++)
        tcr_bench_must(tcr_set_find_curl(set, LABEL[i], &o.curl[i]) == TCR_OK, "a curl");
    return o;
}

static void plan_once(job *j, tcr_plan_result *result, size_t *used) {
    tcr_plan *plan;
    tcr_bench_must(tcr_plan_new(j->set, &j->options, &plan, NULL) == TCR_OK, "tcr_plan_new");
    *result = *tcr_plan_result_of(plan);
    *used = tcr_plan_eye_of(plan, TCR_LEFT)->used;
    tcr_plan_free(plan);
}

static void tips_once(const job *j) {
    static const tcr_placement PLACEMENT[] = {TCR_ON_TOP, TCR_UNDERSIDE, TCR_OUTER_SIDE};
    const tcr_tray *tray = tcr_set_tray(j->set);
    double sum = 0.0;
    for (size_t i = 0; i < LASHES; i++)
        for (size_t option = 0; option < LENGTHS * CURLS * PLACEMENTS; option++) {
            const tcr_choice choice = {.length_mm = tray->length_mm[option % LENGTHS],
                                       .curl = j->options.curl[option / LENGTHS % CURLS],
                                       .diameter_mm = 0.15,
                                       .fan = 1,
                                       .placement = PLACEMENT[option / (LENGTHS * CURLS)]};
            const tcr_extension ext = tcr_set_extension(j->set, &choice);
            tcr_vec3 tip;
            tcr_bench_must(tcr_tip(tcr_set_lid(j->set, TCR_LEFT), 1.0,
                                   tcr_set_lash(j->set, TCR_LEFT, i), &ext, tcr_set_bond(j->set),
                                   &tip) == TCR_OK,
                           "tcr_tip");
            sum += tip.y;
        }
    tcr_bench_must(sum > 0.0, "the tips");
}

static tcr_bench_time time_of(job *j, bool plans) {
    double run[RUNS];
    for (int i = 0; i < RUNS; i++) {
        tcr_plan_result result;
        size_t used;
        const double before = tcr_bench_now();
        if (plans)
            plan_once(j, &result, &used);
        else
            tips_once(j);
        run[i] = tcr_bench_now() - before;
    }
    qsort(run, RUNS, sizeof run[0], tcr_bench_compare);
    return (tcr_bench_time){run[0], run[RUNS / 2]};
}

static void bench_plan(const tcr_bench *bench, const char *name, job *j,
                       const tcr_bench_time *limit) {
    tcr_plan_result result;
    size_t used;
    plan_once(j, &result, &used);
    tcr_bench_must(result.proved && result.cells == 15 && used == LASHES, name);
    const double value = j->options.samples > 0                      ? result.expected_rms_mm
                         : j->options.objective == TCR_LEAST_MAXIMUM ? result.max_mm
                                                                     : result.rms_mm;
    tcr_bench_expect(name, result.bound_mm, value, 1e-6);
    const tcr_bench_time time = time_of(j, true);
    tcr_bench_row(bench, name, LASHES, time, limit);
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    job j = {.set = make_set()};
    j.options = options_of(j.set);
    const tcr_bench_time limit = time_of(&j, false);
    tcr_bench_row(&bench, "every option's tips, once", LASHES, limit, NULL);
    bench_plan(&bench, "the line held", &j, &limit);
    j.options.objective = TCR_LEAST_MAXIMUM;
    bench_plan(&bench, "the line held, least maximum", &j, &limit);
    j.options.free_mm = 1.0;
    bench_plan(&bench, "the line free, least maximum", &j, &limit);
    j.options.objective = TCR_LEAST_SQUARES;
    bench_plan(&bench, "the line free", &j, &limit);
    j.options.lengths_most = 4;
    bench_plan(&bench, "the line free, 4 lengths", &j, &limit);
    j.options.lengths_most = 0;
    j.options.free_mm = 0.0;
    j.options.samples = 1000;
    bench_plan(&bench, "1000 samples", &j, &limit);
    tcr_set_free(j.set);
    return tcr_bench_close(&bench);
}
