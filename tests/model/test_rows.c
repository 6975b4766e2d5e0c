/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Blocks of lashes: the bits of tcr_evaluate, whatever they share, on every instruction set; and
 * what is not as usual is marked.
 */
#include "model/rows.h"

#include <math.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"

enum { BLOCKS = 400 };

static const double OPENINGS[] = {1.0, 0.0, 0.37};

/* One block, with the lashes that it is made of. */
typedef struct block {
    tcr_looking at;
    tcr_bond bond;
    tcr_lash lash[TCR_ROWS];
    tcr_extension ext[TCR_ROWS];
    tcr_lash_rows lashes;
    tcr_seat_rows seat;
    tcr_worn_rows worn;
    tcr_tip_rows tip;
} block;

static block one, other;

/* Lashes that can bond; every other block shares one extension. 'own' of the bonds as they are, or
 * all as long as bond and extension allow. */
static void draw_block(gsl_rng *rng, block *b, int k, bool own) {
    const tcr_lid lid = tcr_draw_lid(rng);
    const tcr_view view = {OPENINGS[k % 3], 0.0};
    b->at = tcr_looking_at(&lid, &view);
    b->bond = k % 4 < 2 ? tcr_bond_default() : tcr_draw_bond(rng);
    for (int i = 0; i < TCR_ROWS; i++) {
        double c;
        do {
            b->lash[i] = tcr_draw_lash(rng);
            if (i % 5 == 0) /* whose bond starts beyond the first third */
                b->lash[i].length_mm = b->bond.offset_mm + tcr_draw_between(rng, 1.0, 1.4);
            b->ext[i] = k % 2 == 0 && i > 0 ? b->ext[0] : tcr_draw_extension(rng);
            c = tcr_bond_length(&b->lash[i], b->ext[i].length_mm, &b->bond);
        } while (c < TCR_BOND_LEAST_MM);
        const tcr_fibre fibre = tcr_fibre_of_extension(&b->ext[i]);
        tcr_lash_row(&b->lashes, (size_t)i, &b->lash[i]);
        tcr_worn_row(&b->worn, (size_t)i, &b->ext[i], &fibre, &b->bond);
        if (own)
            b->worn.bond_mm[i] = c;
    }
}

static void evaluate(block *b) {
    tcr_seats_n(&b->at.lid, b->at.opening, TCR_ROWS, &b->lashes, &b->seat);
    tcr_partings_n(TCR_ROWS, &b->worn);
    tcr_tip_rows_n(TCR_ROWS, &b->lashes, &b->seat, &b->worn, true, &b->tip, NULL);
}

/* Usual rows have the tip of a single evaluation, to the bit; how many. */
static int expect_single(const block *b) {
    int usual = 0;
    for (int i = 0; i < TCR_ROWS; i++) {
        tcr_sight sight = {.tip = {NAN, NAN, NAN}};
        if (b->tip.usual[i] == 0.0)
            continue;
        expect_status(tcr_evaluate(&b->at, &b->lash[i], &b->ext[i], &b->bond, TCR_ANEW_ALL, &sight),
                      TCR_OK);
        given("row %d", i);
        expect_same(b->tip.x[i], sight.tip.x, "the same lanes");
        expect_same(b->tip.y[i], sight.tip.y, "the same lanes");
        expect_same(b->tip.z[i], sight.tip.z, "the same lanes");
        usual++;
    }
    return usual;
}

CLAIM(rows_have_the_bits_of_single_evaluations) {
    gsl_rng *rng = tcr_make_rng(1);
    int usual = 0;
    for (int k = 0; k < BLOCKS; k++) {
        draw_block(rng, &one, k, true);
        evaluate(&one);
        usual += expect_single(&one);
    }
    /* A fifth starts beyond the first third, and drawn curls are of up to eight pieces. */
    expect_within((double)usual / (BLOCKS * TCR_ROWS), 0.2, 0.8, "both kinds were met");
    gsl_rng_free(rng);
}

CLAIM(a_row_whose_bond_is_shorter_than_the_shared_one_is_marked) {
    gsl_rng *rng = tcr_make_rng(2);
    int shorter = 0;
    for (int k = 0; k < BLOCKS; k++) {
        draw_block(rng, &one, k, false);
        evaluate(&one);
        (void)expect_single(&one);
        for (int i = 0; i < TCR_ROWS; i++) {
            const double c = tcr_bond_length(&one.lash[i], one.ext[i].length_mm, &one.bond);
            if (c == one.worn.bond_mm[i])
                continue;
            expect_same(one.tip.usual[i], 0.0, "it parts elsewhere");
            shorter++;
        }
    }
    expect_true(shorter > 1000);
    gsl_rng_free(rng);
}

CLAIM(rows_beside_the_lash_need_no_contact) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int k = 0; k < BLOCKS; k++) {
        draw_block(rng, &one, k, true);
        for (int i = 0; i < TCR_ROWS; i++) {
            const tcr_fibre fibre = tcr_fibre_of_extension(&one.ext[i]);
            const double c = one.worn.bond_mm[i];
            one.ext[i].placement = i % 2 == 0 ? TCR_INNER_SIDE : TCR_OUTER_SIDE;
            tcr_worn_row(&one.worn, (size_t)i, &one.ext[i], &fibre, &one.bond);
            one.worn.bond_mm[i] = c;
        }
        evaluate(&one);
        (void)expect_single(&one);
        other = one;
        tcr_tip_rows_n(TCR_ROWS, &other.lashes, &other.seat, &other.worn, false, &other.tip, NULL);
        for (int i = 0; i < TCR_ROWS; i++)
            if (one.tip.usual[i] != 0.0)
                expect_same(other.tip.y[i], one.tip.y[i], "there is nothing to touch");
    }
    gsl_rng_free(rng);
}

CLAIM(a_block_need_not_be_full) {
    gsl_rng *rng = tcr_make_rng(4);
    draw_block(rng, &one, 1, true);
    evaluate(&one);
    other = one;
    memset(&other.tip, 0, sizeof other.tip);
    tcr_tip_rows_n(13, &other.lashes, &other.seat, &other.worn, true, &other.tip, NULL);
    expect_bytes(other.tip.y, one.tip.y, 13 * sizeof(double));
    expect_same(other.tip.y[16], 0.0, "behind the last whole vector nothing is written");
    gsl_rng_free(rng);
}

#if defined(__x86_64__) && defined(__GNUC__)
#define SET(name)                                                                                  \
    void tcr_seats_n_##name(const tcr_lid_constants *, double, size_t, const tcr_lash_rows *,      \
                            tcr_seat_rows *);                                                      \
    void tcr_partings_n_##name(size_t, tcr_worn_rows *);                                           \
    void tcr_tip_rows_n_##name(size_t, const tcr_lash_rows *, const tcr_seat_rows *,               \
                               const tcr_worn_rows *, bool, tcr_tip_rows *, tcr_lie_rows *);       \
    static void evaluate_##name(block *b) {                                                        \
        tcr_seats_n_##name(&b->at.lid, b->at.opening, TCR_ROWS, &b->lashes, &b->seat);             \
        tcr_partings_n_##name(TCR_ROWS, &b->worn);                                                 \
        tcr_tip_rows_n_##name(TCR_ROWS, &b->lashes, &b->seat, &b->worn, true, &b->tip, NULL);      \
    }
SET(avx2)
SET(avx512)
#define HAS(set) __builtin_cpu_supports(set)
#else
#define HAS(set) 0
#define evaluate_avx2 evaluate
#define evaluate_avx512 evaluate
#endif

CLAIM(every_instruction_set_has_the_same_bits) {
    gsl_rng *rng = tcr_make_rng(5);
    for (int k = 0; k < BLOCKS; k++) {
        draw_block(rng, &one, k, true);
        memset(&one.tip, 0, sizeof one.tip);
        evaluate(&one);
        given("block %d", k);
        if (HAS("avx2")) {
            other = one;
            evaluate_avx2(&other);
            expect_bytes(&other.tip, &one.tip, sizeof one.tip);
        }
        if (HAS("avx512f")) {
            other = one;
            evaluate_avx512(&other);
            expect_bytes(&other.tip, &one.tip, sizeof one.tip);
        }
    }
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &rows_have_the_bits_of_single_evaluations,
        &a_row_whose_bond_is_shorter_than_the_shared_one_is_marked,
        &rows_beside_the_lash_need_no_contact,
        &a_block_need_not_be_full,
        &every_instruction_set_has_the_same_bits,
    };
    return RUN_CLAIMS("rows", claims);
}
