/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cost of a check against what it cannot do without: the tips of an eye of 96 described lashes
 * (tcr_tips_n) and one robust line through them (tcr_line_fit). Checks run again in the same
 * memory, as in a sweep of many sets.
 */
#include "bench.h"

#include <tipcrest/tipcrest.h>

enum { LASHES = 96 };

/* The eye as columns, for the limit. */
typedef struct columns {
    size_t n;
    double number[12][LASHES];
    int fan[LASHES], placement[LASHES], profile[LASHES];
    double x[LASHES], y[LASHES], z[LASHES], scratch[LASHES];
    tcr_profile curl;
    tcr_line line;
} columns;

typedef struct job {
    tcr_set *set, *other; /* other: with another map, and so another intended line */
    tcr_check_options options;
    tcr_check *check;
    columns *limit;
    bool turn;
} job;

static tcr_set *make_set(double mrd1_mm, double inner_mm, double tray_step_mm) {
    tcr_set *set;
    tcr_lid lid = tcr_lid_default();
    lid.mrd1_mm = mrd1_mm;
    const tcr_zone zones[] = {{.to = 0.25, .length_mm = inner_mm, .curl = "C"},
                              {.to = 0.5, .length_mm = 11, .curl = "C"},
                              {.to = 0.75, .length_mm = 12, .curl = "C"},
                              {.to = 1.0, .length_mm = 11, .curl = "C"}};
    tcr_description d = tcr_description_default();
    d.count = LASHES;
    d.phases = TCR_PHASES_NONE; /* full grown, so that all can carry one */
    d.stray_share = 0.0;
    tcr_tray tray = {.count = 0};
    for (double at = 5.0; at <= 20.0; at += tray_step_mm)
        tray.length_mm[tray.count++] = at;
    tcr_bench_must(tcr_set_new(NULL, &set) == TCR_OK && tcr_set_put_tray(set, &tray) == TCR_OK &&
                       tcr_set_add_eye(set, TCR_LEFT, &lid) == TCR_OK &&
                       tcr_set_put_map(set, TCR_LEFT, zones, sizeof zones / sizeof *zones) ==
                           TCR_OK &&
                       tcr_set_describe(set, TCR_LEFT, &d) == TCR_OK,
                   "making a set");
    return set;
}

static void fill_columns(const tcr_check *check, columns *c) {
    const tcr_set *set = tcr_check_set(check);
    const tcr_eye_result *eye = tcr_check_eye(check, TCR_LEFT);
    size_t curl;
    tcr_bench_must(tcr_set_find_curl(set, "C", &curl) == TCR_OK, "tcr_set_find_curl");
    c->curl = *tcr_set_curl(set, curl)->profiles;
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash *l = tcr_set_lash(set, TCR_LEFT, i);
        const tcr_choice *e = &eye->lash[i].choice;
        const double row[12] = {l->u,         l->height_mm,        l->pitch_rad,
                                l->yaw_rad,   l->roll_rad,         l->length_mm,
                                l->turn_rad,  l->root_diameter_mm, l->tip_diameter_mm,
                                e->length_mm, e->diameter_mm,      e->spread_rad};
        if (eye->lash[i].status != TCR_OK)
            continue;
        for (int j = 0; j < 12; j++)
            c->number[j][c->n] = row[j];
        c->fan[c->n] = e->fan;
        c->placement[c->n] = (int)e->placement;
        c->profile[c->n++] = 0;
    }
}

static void tips_and_line(void *context) {
    const job *j = context;
    columns *c = j->limit;
    double(*n)[LASHES] = c->number;
    const tcr_lash_columns in = {n[0], n[1], n[2],  n[3],  n[4],   n[5],         n[6],      n[7],
                                 n[8], n[9], n[10], n[11], c->fan, c->placement, c->profile};
    tcr_tip_columns out = {c->x, c->y, c->z, NULL};
    tcr_bench_must(tcr_tips_n(tcr_set_lid(j->set, TCR_LEFT), 1.0, tcr_set_bond(j->set), &c->curl, 1,
                              c->n, &in, &out) == TCR_OK &&
                       tcr_line_fit(c->x, c->y, c->n, NULL, c->scratch, &c->line) == TCR_OK,
                   "tips and line");
}

static void again(void *context) {
    job *j = context;
    tcr_bench_must(tcr_check_again(j->check, j->set, &j->options, NULL) == TCR_OK,
                   "tcr_check_again");
}

/* Every other time on the other set, so that the intended line is never kept. */
static void again_anew(void *context) {
    job *j = context;
    j->turn = !j->turn;
    const tcr_set *set = j->turn ? j->set : j->other;
    tcr_bench_must(tcr_check_again(j->check, set, &j->options, NULL) == TCR_OK, "tcr_check_again");
}

static void copy_and_change(void *context) {
    const job *j = context;
    tcr_set *copy;
    tcr_bench_must(tcr_set_copy(NULL, j->set, &copy) == TCR_OK, "tcr_set_copy");
    for (size_t i = 0; i < LASHES; i++) {
        tcr_lash lash = *tcr_set_lash(copy, TCR_LEFT, i);
        lash.height_mm += 1e-3;
        tcr_bench_must(tcr_set_replace_lash(copy, TCR_LEFT, i, &lash) == TCR_OK,
                       "tcr_set_replace_lash");
    }
    tcr_set_free(copy);
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    columns limit_columns = {0};
    job j = {make_set(3.5, 10.0, 1.0),
             make_set(3.5, 9.0, 1.0),
             tcr_check_options_default(),
             NULL,
             &limit_columns,
             false};
    tcr_bench_must(tcr_check_new(j.set, NULL, &j.check, NULL) == TCR_OK, "tcr_check_new");
    fill_columns(j.check, &limit_columns);
    tips_and_line(&j);
    const tcr_eye_result *eye = tcr_check_eye(j.check, TCR_LEFT);
    for (int k = 0; k < TCR_LINE_COEFFICIENTS; k++)
        tcr_bench_expect("coefficient", eye->fitted_line.coefficient_mm[k],
                         limit_columns.line.coefficient_mm[k], 0.0); /* one evaluator: the same */
    printf("%zu lashes carry an extension, %zu are staggered\n", eye->extended, eye->staggered);
    const size_t n = eye->extended;
    const tcr_bench_time limit = tcr_bench_run(tips_and_line, &j);
    tcr_bench_row(&bench, "limit: tips and one line", n, limit, NULL);
    j.options.parts = TCR_PART_FITTED;
    tcr_bench_row(&bench, "check: fitted alone", n, tcr_bench_run(again, &j), &limit);
    j.options.parts = TCR_PART_FITTED | TCR_PART_VIEWS;
    tcr_bench_row(&bench, "check: fitted and views", n, tcr_bench_run(again, &j), &limit);
    j.options.parts = TCR_PART_FITTED | TCR_PART_REMEDIES;
    tcr_bench_row(&bench, "check: fitted and remedies", n, tcr_bench_run(again, &j), &limit);
    j.options.parts = TCR_PART_ALL;
    const tcr_bench_time whole = tcr_bench_run(again, &j);
    tcr_bench_row(&bench, "check: all, intended line kept", n, whole, &limit);
    tcr_bench_row(&bench, "check: all, intended line anew", n, tcr_bench_run(again_anew, &j),
                  &limit);
    tcr_set *map = j.other;
    j.other = make_set(3.4, 10.0, 1.0);
    tcr_bench_row(&bench, "check: all, another lid too", n, tcr_bench_run(again_anew, &j), &limit);
    tcr_set_free(map);
    tcr_bench_row(&bench, "set: copied, each lash changed", n, tcr_bench_run(copy_and_change, &j),
                  &limit);
    tcr_set *fine = make_set(3.5, 10.0, 0.25);
    job k = {fine, fine, j.options, j.check, &limit_columns, false};
    tcr_bench_row(&bench, "check: all, 61 sizes (to 16)", n, tcr_bench_run(again, &k), &whole);
    tcr_check_free(j.check);
    tcr_set_free(fine);
    tcr_set_free(j.set);
    tcr_set_free(j.other);
    return tcr_bench_close(&bench);
}
