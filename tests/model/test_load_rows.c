/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Loads in blocks of lashes: the bits of tcr_check_load's own call for one lash, also where the
 * block keeps some of what it had, on every instruction set.
 */
#include "model/load_rows.h"

#include <math.h>
#include <string.h>

#include "support/check.h"
#include "support/make.h"

enum { BLOCKS = 300 };

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
    tcr_load_block loads;
} block;

static block one, other;

static void draw_lash(gsl_rng *rng, block *b, int i) {
    do
        b->lash[i] = tcr_draw_lash(rng);
    while (tcr_bond_length(&b->lash[i], b->ext[i].length_mm, &b->bond) < TCR_BOND_LEAST_MM);
    tcr_lash_row(&b->lashes, (size_t)i, &b->lash[i]);
}

/* Puts what row i wears, on a bond as long as both allow. */
static void put_worn(block *b, int i) {
    const tcr_fibre fibre = tcr_fibre_of_extension(&b->ext[i]);
    const double c = tcr_bond_length(&b->lash[i], b->ext[i].length_mm, &b->bond);
    const tcr_borne borne = tcr_borne_of(&b->ext[i], &fibre, c);
    tcr_worn_row(&b->worn, (size_t)i, &b->ext[i], &fibre, &b->bond);
    b->worn.bond_mm[i] = c;
    tcr_borne_row(&b->loads.borne, (size_t)i, &borne);
}

static void draw_block(gsl_rng *rng, block *b, int k) {
    const tcr_lid lid = tcr_draw_lid(rng);
    const tcr_view view = {OPENINGS[k % 3], 0.0};
    memset(b, 0, sizeof *b);
    b->at = tcr_looking_at(&lid, &view);
    b->bond = k % 4 < 2 ? tcr_bond_default() : tcr_draw_bond(rng);
    for (int i = 0; i < TCR_ROWS; i++) {
        b->ext[i] = k % 2 == 0 && i > 0 ? b->ext[0] : tcr_draw_extension(rng);
        draw_lash(rng, b, i);
        put_worn(b, i);
    }
}

static void seat(block *b) {
    tcr_seats_n(&b->at.lid, b->at.opening, TCR_ROWS, &b->lashes, &b->seat);
    tcr_partings_n(TCR_ROWS, &b->worn);
    tcr_tip_rows_n(TCR_ROWS, &b->lashes, &b->seat, &b->worn, true, &b->tip, &b->loads.lie);
    b->loads.stood = 0;
}

static void evaluate(block *b) {
    seat(b);
    tcr_load_rows_n(TCR_ROWS, &b->lashes, &b->seat, &b->worn, &b->loads);
}

/* Usual rows have the load of a single call, to the bit; how many. */
static int expect_single(const block *b) {
    static const char *const SAME = "the same lanes";
    int usual = 0;
    for (int i = 0; i < TCR_ROWS; i++) {
        tcr_sight sight;
        if (b->tip.usual[i] == 0.0 || b->loads.borne.usual[i] == 0.0)
            continue;
        expect_status(tcr_evaluate(&b->at, &b->lash[i], &b->ext[i], &b->bond, TCR_ANEW_ALL, &sight),
                      TCR_OK);
        const tcr_load load = tcr_load_in_row(&b->loads, (size_t)i);
        const tcr_load single = tcr_usual_load(&b->lash[i], &sight.stance,
                                               (tcr_worn){&b->ext[i], &b->bond, &sight.attachment});
        given("row %d", i);
        expect_same(load.natural_mass_mg, single.natural_mass_mg, SAME);
        expect_same(load.extension_mass_mg, single.extension_mass_mg, SAME);
        expect_same(load.mass_ratio, single.mass_ratio, SAME);
        expect_same(load.natural_moment_uNmm, single.natural_moment_uNmm, SAME);
        expect_same(load.root_moment_uNmm, single.root_moment_uNmm, SAME);
        expect_same(load.moment_ratio, single.moment_ratio, SAME);
        usual++;
    }
    return usual;
}

CLAIM(rows_have_the_bits_of_single_loads) {
    gsl_rng *rng = tcr_make_rng(1);
    int usual = 0;
    for (int k = 0; k < BLOCKS; k++) {
        draw_block(rng, &one, k);
        evaluate(&one);
        usual += expect_single(&one);
    }
    /* Drawn curls have up to eight pieces, and short extensions taper under the bond. */
    expect_within((double)usual / (BLOCKS * TCR_ROWS), 0.2, 0.9, "both kinds were met");
    gsl_rng_free(rng);
}

CLAIM(what_a_block_keeps_follows_every_change) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int k = 0; k < BLOCKS; k++) {
        const int i = k % TCR_ROWS;
        if (k % 50 == 0)
            draw_block(rng, &one, k);
        const tcr_lash drawn = tcr_draw_lash(rng);
        switch (k % 8) { /* one number of one row at a time */
        case 0:
            one.lash[i].pitch_rad = drawn.pitch_rad;
            break;
        case 1:
            one.lash[i].turn_rad = drawn.turn_rad;
            break;
        case 2:
            one.lash[i].root_diameter_mm = one.lash[i].tip_diameter_mm + 0.01;
            break;
        case 3:
            one.lash[i].yaw_rad = drawn.yaw_rad;
            break;
        case 4:
            one.lash[i].roll_rad = drawn.roll_rad;
            break;
        case 5:
            one.lash[i].u = drawn.u;
            break;
        case 6:
            one.lash[i].tip_diameter_mm = one.lash[i].root_diameter_mm * 0.4;
            break;
        default:
            draw_lash(rng, &one, i);
        }
        tcr_lash_row(&one.lashes, (size_t)i, &one.lash[i]);
        put_worn(&one, i);
        const size_t stood = k % 50 == 0 || k % 8 == 5 || k % 8 == 7 ? 0 : one.loads.stood;
        seat(&one);
        one.loads.stood = stood; /* the seats are new only where a lash moved along the lid */
        tcr_load_rows_n(TCR_ROWS, &one.lashes, &one.seat, &one.worn, &one.loads);
        given("change %d", k % 8);
        (void)expect_single(&one);
    }
    gsl_rng_free(rng);
}

CLAIM(what_a_block_keeps_is_used_again) {
    gsl_rng *rng = tcr_make_rng(3);
    draw_block(rng, &one, 1);
    evaluate(&one);
    other = one;
    for (int i = 0; i < TCR_ROWS; i++)
        other.loads.own_x[i] = other.loads.own_y[i] = 0.0;
    tcr_load_rows_n(TCR_ROWS, &other.lashes, &other.seat, &other.worn, &other.loads);
    for (int i = 0; i < TCR_ROWS; i++)
        expect_same(other.loads.load.natural_moment_uNmm[i], 0.0, "of the moments that it kept");
    gsl_rng_free(rng);
}

#if defined(__x86_64__) && defined(__GNUC__)
#define SET(name)                                                                                  \
    void tcr_load_rows_n_##name(size_t, const tcr_lash_rows *, const tcr_seat_rows *,              \
                                const tcr_worn_rows *, tcr_load_block *);                          \
    static void evaluate_##name(block *b) {                                                        \
        seat(b);                                                                                   \
        tcr_load_rows_n_##name(TCR_ROWS, &b->lashes, &b->seat, &b->worn, &b->loads);               \
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
    gsl_rng *rng = tcr_make_rng(4);
    for (int k = 0; k < BLOCKS; k++) {
        draw_block(rng, &one, k);
        other = one;
        evaluate(&one);
        given("block %d", k);
        if (HAS("avx2")) {
            evaluate_avx2(&other);
            expect_bytes(&other.loads.load, &one.loads.load, sizeof one.loads.load);
            other.loads.weighed = 0;
        }
        if (HAS("avx512f")) {
            evaluate_avx512(&other);
            expect_bytes(&other.loads.load, &one.loads.load, sizeof one.loads.load);
        }
    }
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {
        &rows_have_the_bits_of_single_loads,
        &what_a_block_keeps_follows_every_change,
        &what_a_block_keeps_is_used_again,
        &every_instruction_set_has_the_same_bits,
    };
    return RUN_CLAIMS("load rows", claims);
}
