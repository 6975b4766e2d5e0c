/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cost of a lash's weight (tcr_weight_of: masses, moments, and the droop with three roots and
 * two clamps) against the cost of its tip (tcr_tip), for the lashes of a described eye. The result
 * is checked first: the droop of the default lash by its figures in model.md, and that of a thicker
 * root by the droop of a thicker lash.
 */
#include "lashes.h"

enum { LASHES = 1000 };

static tcr_lid lid;
static tcr_bond bond;
static tcr_lash lash[LASHES];
static tcr_stance stance[LASHES];
static tcr_extension extension[LASHES];
static tcr_vec3 tip[LASHES];
static tcr_weight weight[LASHES];

static void make_lashes(void) {
    lid = tcr_lid_default();
    bond = tcr_bond_default();
    tcr_bench_lashes(lash, extension, LASHES);
    for (uint32_t i = 0; i < LASHES; i++)
        tcr_bench_must(tcr_lash_stance(&lash[i], &lid, 1.0, &stance[i]) == TCR_OK,
                       "tcr_lash_stance");
}

static void tips(void *unused) {
    (void)unused;
    for (int i = 0; i < LASHES; i++)
        tcr_bench_must(tcr_tip(&lid, 1.0, &lash[i], &extension[i], &bond, &tip[i]) == TCR_OK,
                       "tcr_tip");
}

static void weights(void *unused) {
    (void)unused;
    for (int i = 0; i < LASHES; i++)
        tcr_bench_must(
            tcr_weight_of(&lash[i], &stance[i], &extension[i], &bond, NULL, &weight[i]) == TCR_OK,
            "tcr_weight_of");
}

static void check_results(void) {
    weights(NULL);
    const tcr_lash unknown = tcr_lash_unknown(0.5, TCR_BOTTOM);
    const tcr_lash usual = tcr_lash_complete(&unknown, NULL);
    tcr_extension ext = extension[0];
    ext.length_mm = 12.0;
    ext.placement = TCR_ON_TOP;
    tcr_stance stands;
    tcr_weight w;
    tcr_bench_must(tcr_lash_stance(&usual, &lid, 1.0, &stands) == TCR_OK, "tcr_lash_stance");
    tcr_bench_must(tcr_weight_of(&usual, &stands, &ext, &bond, NULL, &w) == TCR_OK,
                   "tcr_weight_of");
    tcr_bench_expect("droop, held rigidly", w.droop_mm, 0.004, 5e-4); /* model.md, section 9 */
    tcr_bench_expect("droop, k = 1000", w.droop_what_if_mm, 0.04, 5e-3);
    for (int i = 0; i < LASHES; i++) {
        tcr_lash thick = lash[i];
        thick.root_diameter_mm += 0.01;
        tcr_bench_must(tcr_weight_of(&thick, &stance[i], &extension[i], &bond, NULL, &w) == TCR_OK,
                       "tcr_weight_of");
        tcr_bench_expect("droop of a thicker root", weight[i].droop_thicker_mm, w.droop_mm,
                         1e-9 * w.shift_length_mm);
    }
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    make_lashes();
    check_results();
    const tcr_bench_time limit = tcr_bench_run(tips, NULL);
    tcr_bench_row(&bench, "limit: tcr_tip", LASHES, limit, NULL);
    tcr_bench_row(&bench, "tcr_weight_of", LASHES, tcr_bench_run(weights, NULL), &limit);
    return tcr_bench_close(&bench);
}
