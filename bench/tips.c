/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cost of a tip: by columns (tcr_tips_n), all lashes and what they wear different; in blocks
 * that share lid and curl, as a study has them (model/rows.h); and one by one (tcr_tip). The rod is
 * the C library's sine and cosine of one angle each, of which a tip took about 25 when it called
 * them.
 */
#include "lashes.h"

#include "model/rows.h"

enum { LASHES = 1000, BLOCKS = (LASHES + TCR_ROWS - 1) / TCR_ROWS, CURLS = 8 };

static tcr_lid lid;
static tcr_bond bond;
static tcr_profile curl[CURLS];
static tcr_lash lash[LASHES];
static tcr_extension extension[LASHES];
static tcr_vec3 tip[LASHES];
static double x[LASHES], y[LASHES], z[LASHES];
static double column[12][LASHES];
static int fan[LASHES], placement[LASHES], profile[LASHES];
static volatile double sink;

/* Any placement, any curl, every length its own. */
static void make_different(void) {
    for (int i = 0; i < LASHES; i++) {
        const tcr_random draw = {.seed = 3, .lash = (uint32_t)i};
        profile[i] = i % CURLS;
        extension[i].profile = curl[profile[i]];
        extension[i].placement = (tcr_placement)(i / CURLS % TCR_PLACEMENTS);
        extension[i].length_mm = 8.0 + 6.0 * tcr_random_uniform(&draw);
    }
}

/* One curl at one length, on top. */
static void make_shared(void) {
    for (int i = 0; i < LASHES; i++) {
        profile[i] = 2; /* C */
        extension[i].profile = curl[2];
        extension[i].placement = TCR_ON_TOP;
        extension[i].length_mm = 12.0;
    }
}

static void fill_columns(void) {
    for (int i = 0; i < LASHES; i++) {
        const tcr_lash *l = &lash[i];
        const tcr_extension *e = &extension[i];
        const double row[12] = {l->u,         l->height_mm,        l->pitch_rad,
                                l->yaw_rad,   l->roll_rad,         l->length_mm,
                                l->turn_rad,  l->root_diameter_mm, l->tip_diameter_mm,
                                e->length_mm, e->diameter_mm,      e->spread_rad};
        for (int j = 0; j < 12; j++)
            column[j][i] = row[j];
        fan[i] = e->fan;
        placement[i] = (int)e->placement;
    }
}

static void by_columns(void *unused) {
    (void)unused;
    const tcr_lash_columns in = {column[0],  column[1],  column[2], column[3], column[4],
                                 column[5],  column[6],  column[7], column[8], column[9],
                                 column[10], column[11], fan,       placement, profile};
    tcr_tip_columns out = {x, y, z, NULL};
    tcr_bench_must(tcr_tips_n(&lid, 1.0, &bond, curl, CURLS, LASHES, &in, &out) == TCR_OK,
                   "tcr_tips_n");
}

static void one_by_one(void *unused) {
    (void)unused;
    for (int i = 0; i < LASHES; i++)
        tcr_bench_must(tcr_tip(&lid, 1.0, &lash[i], &extension[i], &bond, &tip[i]) == TCR_OK,
                       "tcr_tip");
}

/* What lashes share, worked out before the clock starts. */
static tcr_lash_rows lashes[BLOCKS];
static tcr_seat_rows seats[BLOCKS];
static tcr_worn_rows worn[BLOCKS];
static tcr_tip_rows tips[BLOCKS];

static void share(void) {
    const tcr_lid_constants k = tcr_lid_prepare(&lid);
    const tcr_fibre fibre = tcr_fibre_of_extension(&extension[0]);
    for (int b = 0; b < BLOCKS; b++) {
        for (int i = 0; i < TCR_ROWS; i++) {
            const int of = b * TCR_ROWS + i < LASHES ? b * TCR_ROWS + i : 0;
            tcr_lash_row(&lashes[b], (size_t)i, &lash[of]);
            tcr_worn_row(&worn[b], (size_t)i, &extension[of], &fibre, &bond);
        }
        tcr_seats_n(&k, 1.0, TCR_ROWS, &lashes[b], &seats[b]);
        tcr_partings_n(TCR_ROWS, &worn[b]);
    }
}

static void by_blocks(void *unused) {
    (void)unused;
    for (int b = 0; b < BLOCKS; b++)
        tcr_tip_rows_n(b + 1 < BLOCKS ? TCR_ROWS : LASHES % TCR_ROWS, &lashes[b], &seats[b],
                       &worn[b], true, &tips[b], NULL);
}

static void rod(void *unused) {
    (void)unused;
    double sum = 0.0;
    for (int i = 0; i < LASHES; i++)
        sum += sin(column[3][i]) + cos(column[3][i]);
    sink = sum;
}

/* Columns and single calls give the same doubles, and the model's own figure comes out. */
static void check_columns(void) {
    by_columns(NULL);
    one_by_one(NULL);
    for (int i = 0; i < LASHES; i++) {
        tcr_bench_expect("tip by columns, X", x[i], tip[i].x, 0.0);
        tcr_bench_expect("tip by columns, Y", y[i], tip[i].y, 0.0);
        tcr_bench_expect("tip by columns, Z", z[i], tip[i].z, 0.0);
    }
}

static void check_blocks(void) {
    int alone = 0;
    by_blocks(NULL);
    one_by_one(NULL);
    for (int i = 0; i < LASHES; i++) {
        const tcr_tip_rows *t = &tips[i / TCR_ROWS];
        alone += t->usual[i % TCR_ROWS] == 0.0;
        if (t->usual[i % TCR_ROWS] != 0.0)
            tcr_bench_expect("tip by blocks, Y", t->y[i % TCR_ROWS], tip[i].y, 0.0);
    }
    printf("of the shared ones %d of %d would be evaluated alone\n", alone, LASHES);
}

static void check_figure(void) {
    /* model.md, section 5: bottom to middle with 12 mm of C on the outer side, open front: 0.9549.
     */
    tcr_extension e = extension[0];
    e.profile = curl[2];
    e.length_mm = 12.0;
    e.placement = TCR_OUTER_SIDE;
    tcr_vec3 layer[2];
    for (int j = 0; j < 2; j++) {
        const tcr_lash unknown = tcr_lash_unknown(0.5, (tcr_layer)j);
        const tcr_lash l = tcr_lash_complete(&unknown, NULL);
        tcr_bench_must(tcr_tip(&lid, 1.0, &l, &e, &bond, &layer[j]) == TCR_OK, "tcr_tip");
    }
    tcr_bench_expect("layers of equal length apart", layer[1].y - layer[0].y, 0.9549, 5e-5);
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    lid = tcr_lid_default();
    bond = tcr_bond_default();
    for (int i = 0; i < CURLS; i++)
        curl[i] = tcr_curl_catalogue(NULL)[i].profiles[0];
    tcr_bench_lashes(lash, extension, LASHES);
    check_figure();
    make_different();
    fill_columns();
    check_columns();
    const tcr_bench_time limit = tcr_bench_run(rod, NULL);
    tcr_bench_row(&bench, "rod: one sine, one cosine of libm", LASHES, limit, NULL);
    tcr_bench_row(&bench, "tcr_tips_n, all different", LASHES, tcr_bench_run(by_columns, NULL),
                  &limit);
    tcr_bench_row(&bench, "tcr_tip, all different", LASHES, tcr_bench_run(one_by_one, NULL),
                  &limit);
    make_shared();
    fill_columns();
    check_columns();
    share();
    check_blocks();
    tcr_bench_row(&bench, "tcr_tips_n, C on top", LASHES, tcr_bench_run(by_columns, NULL), &limit);
    tcr_bench_row(&bench, "blocks, lid and C on top shared", LASHES, tcr_bench_run(by_blocks, NULL),
                  &limit);
    return tcr_bench_close(&bench);
}
