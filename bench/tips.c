/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cost of a tip, by columns (tcr_tips_n) and one by one (tcr_tip), against what no program for
 * this model can avoid: its calls of sin, cos, pow, asin and atan2. The kernel is compiled here
 * once more with counting versions of them, which also keep the arguments; the limit is the time
 * for exactly these calls, without all else. A compiler that joins sine and cosine of one angle
 * into one call may bring the kernel nearer the limit, or below it.
 */
#include "lashes.h"

enum { LASHES = 1000, CALLS_MAX = 64 * LASHES };

typedef struct calls {
    size_t count;
    double x[CALLS_MAX], y[CALLS_MAX];
} calls;

static calls sines, cosines, powers, arcsines, arctangents;

static void keep(calls *c, double x, double y) {
    tcr_bench_must(c->count < CALLS_MAX, "keeping all calls: more of them than there is room for;");
    c->x[c->count] = x;
    c->y[c->count++] = y;
}

static double counted_sin(double x) {
    keep(&sines, x, 0.0);
    return sin(x);
}

static double counted_cos(double x) {
    keep(&cosines, x, 0.0);
    return cos(x);
}

static double counted_pow(double x, double y) {
    keep(&powers, x, y);
    return pow(x, y);
}

static double counted_asin(double x) {
    keep(&arcsines, x, 0.0);
    return asin(x);
}

static double counted_atan2(double y, double x) {
    keep(&arctangents, y, x);
    return atan2(y, x);
}

#define sin counted_sin
#define cos counted_cos
#define pow counted_pow
#define asin counted_asin
#define atan2 counted_atan2
#include "model/lash_kernel.h"
#undef sin
#undef cos
#undef pow
#undef asin
#undef atan2

/* The lashes of a described eye with what they carry, as columns and one by one. */
static tcr_lid lid;
static tcr_bond bond;
static tcr_lash lash[LASHES];
static tcr_extension extension[LASHES];
static tcr_vec3 tip[LASHES];
static double x[LASHES], y[LASHES], z[LASHES];
static double column[12][LASHES];
static int fan[LASHES], placement[LASHES], profile[LASHES];
static volatile double sink;

static void make_lashes(void) {
    lid = tcr_lid_default();
    bond = tcr_bond_default();
    tcr_bench_lashes(lash, extension, LASHES);
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
        profile[i] = 0;
    }
}

static void by_columns(void *unused) {
    (void)unused;
    const tcr_lash_columns in = {column[0],  column[1],  column[2], column[3], column[4],
                                 column[5],  column[6],  column[7], column[8], column[9],
                                 column[10], column[11], fan,       placement, profile};
    tcr_tip_columns out = {x, y, z, NULL};
    tcr_bench_must(tcr_tips_n(&lid, 1.0, &bond, &extension[0].profile, 1, LASHES, &in, &out) ==
                       TCR_OK,
                   "tcr_tips_n");
}

static void one_by_one(void *unused) {
    (void)unused;
    for (int i = 0; i < LASHES; i++)
        tcr_bench_must(tcr_tip(&lid, 1.0, &lash[i], &extension[i], &bond, &tip[i]) == TCR_OK,
                       "tcr_tip");
}

/* The kernel that counts. */
static void count_calls(void) {
    const tcr_lid_constants k = tcr_lid_prepare(&lid);
    sines.count = cosines.count = powers.count = arcsines.count = arctangents.count = 0;
    for (int i = 0; i < LASHES; i++) {
        tcr_attachment attachment;
        tcr_bench_must(tcr_attach_kernel(&lash[i], &extension[i], &bond, &attachment) == TCR_OK,
                       "tcr_attach_kernel");
        const tcr_stance stance = tcr_lash_stance_kernel(&lash[i], &k, 1.0);
        const tcr_vec3 p = tcr_stance_point_kernel(&stance, attachment.tip);
        tcr_bench_expect("the counting kernel's tip, Y", p.y, y[i], 1e-9); /* the contract's */
    }
}

/* The same calls alone. */
static void replay(void *unused) {
    (void)unused;
    double sum = 0.0;
    for (size_t i = 0; i < sines.count; i++)
        sum += sin(sines.x[i]);
    for (size_t i = 0; i < cosines.count; i++)
        sum += cos(cosines.x[i]);
    for (size_t i = 0; i < powers.count; i++)
        sum += pow(powers.x[i], powers.y[i]);
    for (size_t i = 0; i < arcsines.count; i++)
        sum += asin(arcsines.x[i]);
    for (size_t i = 0; i < arctangents.count; i++)
        sum += atan2(arctangents.x[i], arctangents.y[i]);
    sink = sum;
}

/* Columns and single calls give the same doubles, and the model's own figure comes out. */
static void check_results(void) {
    by_columns(NULL);
    one_by_one(NULL);
    for (int i = 0; i < LASHES; i++) {
        tcr_bench_expect("tip by columns, X", x[i], tip[i].x, 0.0);
        tcr_bench_expect("tip by columns, Y", y[i], tip[i].y, 0.0);
        tcr_bench_expect("tip by columns, Z", z[i], tip[i].z, 0.0);
    }
    /* model.md, section 5: bottom to middle with 12 mm of C on the outer side, open front: 0.9549.
     */
    tcr_extension e = extension[0];
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
    make_lashes();
    fill_columns();
    check_results();
    count_calls();
    printf("calls a tip: %.2f sin, %.2f cos, %.2f pow, %.2f asin, %.2f atan2\n",
           (double)sines.count / LASHES, (double)cosines.count / LASHES,
           (double)powers.count / LASHES, (double)arcsines.count / LASHES,
           (double)arctangents.count / LASHES);
    const tcr_bench_time limit = tcr_bench_run(replay, NULL);
    tcr_bench_row(&bench, "limit: the calls alone", LASHES, limit, NULL);
    tcr_bench_row(&bench, "tcr_tips_n", LASHES, tcr_bench_run(by_columns, NULL), &limit);
    tcr_bench_row(&bench, "tcr_tip", LASHES, tcr_bench_run(one_by_one, NULL), &limit);
    return tcr_bench_close(&bench);
}
