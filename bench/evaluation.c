/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cost of one evaluation as a study has it: 96 lashes of an eye varied (height, pitch, yaw and
 * turn), their tips, the robust line, its statistics. By figures alone, in the memory of the one
 * before; beside it each part, and a full check. The eye's lashes are put into the set by
 * tcr_set_replace_lash, each with its checks.
 */
#include "lashes.h"

#include "num/random_rows.h"

enum { LASHES = 96, VARIED = 4 };

static tcr_set *set;
static tcr_check *check, *loaded, *full;
static tcr_check_options figures_only, loads_too, whole;
static tcr_lash about[LASHES], lash[LASHES];
static double shift[VARIED][LASHES];
static uint64_t seed;

static void make_set(void) {
    tcr_lid lid = tcr_lid_default();
    const tcr_zone zones[] = {{.to = 0.25, .length_mm = 10, .curl = "C"},
                              {.to = 0.5, .length_mm = 11, .curl = "C"},
                              {.to = 0.75, .length_mm = 12, .curl = "C"},
                              {.to = 1.0, .length_mm = 11, .curl = "C"}};
    tcr_description d = tcr_description_default();
    d.count = LASHES;
    d.phases = TCR_PHASES_NONE; /* full grown, so that all can carry one */
    d.stray_share = 0.0;
    tcr_bench_must(tcr_set_new(NULL, &set) == TCR_OK &&
                       tcr_set_add_eye(set, TCR_LEFT, &lid) == TCR_OK &&
                       tcr_set_put_map(set, TCR_LEFT, zones, 4) == TCR_OK &&
                       tcr_set_describe(set, TCR_LEFT, &d) == TCR_OK,
                   "making a set");
    for (size_t i = 0; i < LASHES; i++)
        about[i] = *tcr_set_lash(set, TCR_LEFT, i);
}

static void draw(void *unused) {
    (void)unused;
    seed++;
    static const uint32_t fields[VARIED] = {TCR_FIELD_HEIGHT, TCR_FIELD_PITCH, TCR_FIELD_YAW,
                                            TCR_FIELD_TURN};
    for (int k = 0; k < VARIED; k++) {
        const tcr_random number = {.seed = seed, .field = fields[k], .use = 6};
        tcr_random_normals(&number, LASHES, shift[k]);
    }
}

static void draw_singly(void *unused) {
    (void)unused;
    seed++;
    for (int k = 0; k < VARIED; k++)
        for (uint32_t i = 0; i < LASHES; i++) {
            const tcr_random number = {.seed = seed, .lash = i, .field = (uint32_t)k, .use = 6};
            shift[k][i] = tcr_random_normal(&number);
        }
}

static void vary(void *unused) {
    (void)unused;
    const double degree = 3.14159265358979323846 / 180.0;
    for (int i = 0; i < LASHES; i++) {
        lash[i] = about[i];
        lash[i].height_mm += 0.1 * shift[0][i];
        lash[i].pitch_rad += 4.0 * degree * shift[1][i];
        lash[i].yaw_rad += 4.0 * degree * shift[2][i];
        lash[i].turn_rad += 8.0 * degree * shift[3][i];
    }
}

static void put(void *unused) {
    (void)unused;
    tcr_bench_must(tcr_set_replace_lashes(set, TCR_LEFT, LASHES, lash) == TCR_OK,
                   "tcr_set_replace_lashes");
}

static void figures(void *unused) {
    (void)unused;
    tcr_bench_must(tcr_check_again(check, set, &figures_only, NULL) == TCR_OK, "tcr_check_again");
}

static void figures_and_loads(void *unused) {
    (void)unused;
    tcr_bench_must(tcr_check_again(loaded, set, &loads_too, NULL) == TCR_OK, "tcr_check_again");
}

static void in_full(void *unused) {
    (void)unused;
    tcr_bench_must(tcr_check_again(full, set, &whole, NULL) == TCR_OK, "tcr_check_again");
}

/* The loads of a block are those of single lashes. */
static void check_loads(void) {
    figures_and_loads(NULL);
    for (size_t i = 0; i < LASHES; i++) {
        tcr_load load, single;
        if (tcr_check_load(full, TCR_LEFT, i, &single) != TCR_OK)
            continue;
        tcr_bench_must(tcr_check_load(loaded, TCR_LEFT, i, &load) == TCR_OK, "tcr_check_load");
        tcr_bench_expect("root moment", load.root_moment_uNmm, single.root_moment_uNmm, 0.0);
    }
}

static void evaluate(void *unused) {
    draw(unused);
    vary(unused);
    put(unused);
    figures(unused);
}

static void evaluate_loads(void *unused) {
    draw(unused);
    vary(unused);
    put(unused);
    figures_and_loads(unused);
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    make_set();
    whole = figures_only = tcr_check_options_default();
    whole.parts = figures_only.parts = TCR_PART_FITTED;
    figures_only.figures_only = true;
    loads_too = figures_only;
    loads_too.parts |= TCR_PART_LOADS;
    tcr_bench_must(tcr_check_new(set, &figures_only, &check, NULL) == TCR_OK &&
                       tcr_check_new(set, &loads_too, &loaded, NULL) == TCR_OK &&
                       tcr_check_new(set, &whole, &full, NULL) == TCR_OK,
                   "tcr_check_new");
    for (int i = 0; i < 100; i++) {
        evaluate(NULL);
        in_full(NULL);
        tcr_bench_expect("rms", tcr_check_eye(check, TCR_LEFT)->fitted.upright.rms_mm,
                         tcr_check_eye(full, TCR_LEFT)->fitted.upright.rms_mm, 0.0);
        check_loads();
    }
    const tcr_bench_time limit = tcr_bench_run(in_full, NULL);
    tcr_bench_row(&bench, "check of the fitted line", LASHES, limit, NULL);
    tcr_bench_row(&bench, "figures alone", LASHES, tcr_bench_run(figures, NULL), &limit);
    tcr_bench_row(&bench, "4 x 96 normals, one by one", LASHES, tcr_bench_run(draw_singly, NULL),
                  &limit);
    tcr_bench_row(&bench, "4 x 96 normals in columns", LASHES, tcr_bench_run(draw, NULL), &limit);
    tcr_bench_row(&bench, "lashes put into the set", LASHES, tcr_bench_run(put, NULL), &limit);
    tcr_bench_row(&bench, "all: drawn, put, figures", LASHES, tcr_bench_run(evaluate, NULL),
                  &limit);
    tcr_bench_row(&bench, "all, loads too", LASHES, tcr_bench_run(evaluate_loads, NULL), &limit);
    tcr_check_free(check);
    tcr_check_free(loaded);
    tcr_check_free(full);
    tcr_set_free(set);
    return tcr_bench_close(&bench);
}
