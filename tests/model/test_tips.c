/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tips: put together from the parts, invariant where they should be, alike one by one or in
 * columns.
 */
#include <tipcrest/tips.h>

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "geom/vector.h"
#include "support/check.h"
#include "support/make.h"

enum { MANY = 10000, PROFILES = 50 };

static tcr_vec3 tip_of(const tcr_lid *lid, double opening, const tcr_lash *lash,
                       const tcr_extension *ext, const tcr_bond *bond) {
    tcr_vec3 tip;
    expect_status(tcr_tip(lid, opening, lash, ext, bond, &tip), TCR_OK);
    return tip;
}

CLAIM(a_tip_is_the_attachments_tip_at_the_lashs_stance) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 500; i++) {
        const tcr_lid lid = tcr_draw_lid(rng);
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        const double opening = gsl_rng_uniform(rng);
        tcr_attachment a;
        tcr_stance s;
        expect_status(tcr_attach(&lash, &ext, &bond, &a), TCR_OK);
        expect_status(tcr_lash_stance(&lash, &lid, opening, &s), TCR_OK);
        expect_vector(tip_of(&lid, opening, &lash, &ext, &bond), tcr_stance_point(&s, a.tip), 1e-13,
                      "the same operations"); /* source: model.md, sections 3 and 4 */
    }
    gsl_rng_free(rng);
}

/*
 * Turned with the lid, an extension keeps its place on its lash. Source: invariant, the attachment
 * does not depend on the lid.
 */
CLAIM(an_extension_lies_alike_on_its_lash_at_every_opening) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 200; i++) {
        const tcr_lid lid = tcr_draw_lid(rng);
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        tcr_attachment a;
        expect_status(tcr_attach(&lash, &ext, &bond, &a), TCR_OK);
        for (int j = 0; j <= 4; j++) {
            tcr_stance s;
            expect_status(tcr_lash_stance(&lash, &lid, j / 4.0, &s), TCR_OK);
            const tcr_vec3 reach =
                tcr_vec3_step(tip_of(&lid, j / 4.0, &lash, &ext, &bond), -1.0, s.root);
            const tcr_vec3 local = {tcr_vec3_dot(reach, s.along), tcr_vec3_dot(reach, s.up),
                                    tcr_vec3_dot(reach, s.out)};
            given("pair %d at opening %g", i, j / 4.0);
            expect_vector(local, a.tip, 2e-12, "roundings of 30 mm, times 10 where b is steep");
        }
    }
    gsl_rng_free(rng);
}

CLAIM(the_distance_from_root_to_tip_does_not_depend_on_lid_or_opening) {
    gsl_rng *rng = tcr_make_rng(3);
    for (int i = 0; i < 200; i++) {
        const tcr_lash lash = tcr_draw_lash(rng);
        const tcr_extension ext = tcr_draw_extension(rng);
        const tcr_bond bond = tcr_draw_bond(rng);
        double first = NAN;
        for (int j = 0; j < 5; j++) {
            const tcr_lid lid = tcr_draw_lid(rng);
            const double opening = gsl_rng_uniform(rng);
            tcr_stance s;
            expect_status(tcr_lash_stance(&lash, &lid, opening, &s), TCR_OK);
            const double distance = tcr_vec3_length(
                tcr_vec3_step(tip_of(&lid, opening, &lash, &ext, &bond), -1.0, s.root));
            if (j == 0)
                first = distance;
            expect_near(distance, first, 2e-12, "roundings of 40 mm, times 10 where b is steep");
        }
    }
    gsl_rng_free(rng);
}

CLAIM(a_mirrored_lash_on_a_symmetric_lid_has_a_mirrored_tip) {
    gsl_rng *rng = tcr_make_rng(4);
    static const tcr_placement other[] = {TCR_ON_TOP, TCR_UNDERSIDE, TCR_OUTER_SIDE,
                                          TCR_INNER_SIDE};
    for (int i = 0; i < 1000; i++) {
        tcr_lid lid = tcr_draw_lid(rng);
        lid.peak_offset_mm = lid.canthal_tilt_rad = 0.0;
        const tcr_bond bond = tcr_draw_bond(rng);
        tcr_lash lash = tcr_draw_lash(rng), mirrored = lash;
        tcr_extension ext = tcr_draw_extension(rng), swapped = ext;
        mirrored.u = 1.0 - lash.u;
        mirrored.yaw_rad = -lash.yaw_rad;
        mirrored.roll_rad = -lash.roll_rad;
        swapped.placement = other[ext.placement];
        const double opening = gsl_rng_uniform(rng);
        given("pair %d", i);
        /* Source: mirror at x = 0; model.md, sections 2 to 4. */
        expect_vector(tip_of(&lid, opening, &mirrored, &swapped, &bond),
                      tcr_mirror(tip_of(&lid, opening, &lash, &ext, &bond)), 2e-12,
                      "roundings of 40 mm, times 10 where b is steep");
    }
    gsl_rng_free(rng);
}

CLAIM(a_higher_root_raises_the_tip_by_as_much_along_b) {
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    const tcr_extension ext = tcr_make_extension("C", 12.0, TCR_ON_TOP);
    for (int j = 0; j <= 2; j++) {
        const double opening = j / 2.0;
        tcr_frame f;
        expect_status(tcr_lid_frame(&lid, 0.4, opening, &f), TCR_OK);
        const tcr_lash low = tcr_make_lash(0.4, 0.0), high = tcr_make_lash(0.4, 2.5);
        /* Source: invariant, model.md section 3: the height moves the root alone. */
        expect_vector(tip_of(&lid, opening, &high, &ext, &bond),
                      tcr_vec3_step(tip_of(&lid, opening, &low, &ext, &bond), 2.5, f.b), 1e-14,
                      "roundings of 20 mm");
    }
}

/* Random lashes as columns and one by one. */
typedef struct columns {
    double value[11][MANY];
    int fan[MANY], placement[MANY], profile[MANY], status[MANY];
    double x[MANY], y[MANY], z[MANY];
    tcr_profile profiles[PROFILES];
    tcr_lash lash[MANY];
    tcr_extension ext[MANY];
    tcr_lash_columns in;
    tcr_tip_columns out;
} columns;

/* Every tenth lash is bare, some are too short to bond or out of range. */
static columns *make_columns(unsigned long seed) {
    columns *c = malloc(sizeof *c);
    ck_assert_ptr_nonnull(c);
    gsl_rng *rng = tcr_make_rng(seed);
    for (int i = 0; i < PROFILES; i++)
        c->profiles[i] = tcr_draw_profile(rng, -20.0, 60.0);
    for (int i = 0; i < MANY; i++) {
        tcr_lash l = tcr_draw_lash(rng);
        tcr_extension e = tcr_draw_extension(rng);
        l.layer = TCR_BOTTOM; /* columns have no layer */
        if (i % 17 == 0)
            l.length_mm = tcr_draw_between(rng, 0.3, 3.0);
        if (i % 101 == 0)
            l.u = 0.99;
        c->profile[i] = (int)gsl_rng_uniform_int(rng, PROFILES);
        e.profile = c->profiles[c->profile[i]];
        const double row[11] = {l.u,
                                l.height_mm,
                                l.pitch_rad,
                                l.yaw_rad,
                                l.roll_rad,
                                l.length_mm,
                                l.turn_rad,
                                l.root_diameter_mm,
                                l.tip_diameter_mm,
                                i % 10 == 0 ? 0.0 : e.length_mm,
                                e.diameter_mm};
        for (int j = 0; j < 11; j++)
            c->value[j][i] = row[j];
        c->x[i] = e.spread_rad; /* kept there until the columns are tied together */
        c->fan[i] = e.fan;
        c->placement[i] = (int)e.placement;
        c->lash[i] = l;
        c->ext[i] = e;
    }
    gsl_rng_free(rng);
    return c;
}

static void tie(columns *c, double *spread) {
    memcpy(spread, c->x, sizeof c->x);
    c->in = (tcr_lash_columns){
        .u = c->value[0],
        .height_mm = c->value[1],
        .pitch_rad = c->value[2],
        .yaw_rad = c->value[3],
        .roll_rad = c->value[4],
        .length_mm = c->value[5],
        .turn_rad = c->value[6],
        .root_diameter_mm = c->value[7],
        .tip_diameter_mm = c->value[8],
        .ext_length_mm = c->value[9],
        .ext_diameter_mm = c->value[10],
        .ext_spread_rad = spread,
        .ext_fan = c->fan,
        .ext_placement = c->placement,
        .ext_profile = c->profile,
    };
    c->out = (tcr_tip_columns){c->x, c->y, c->z, c->status};
}

CLAIM(ten_thousand_tips_in_columns_are_those_one_by_one_to_the_bit) {
    static double spread[MANY];
    columns *c = make_columns(5);
    tie(c, spread);
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    expect_status(tcr_tips_n(&lid, 0.7, &bond, c->profiles, PROFILES, MANY, &c->in, &c->out),
                  TCR_OK);
    int failed[2] = {0, 0};
    for (int i = 0; i < MANY; i++) {
        tcr_vec3 tip = {NAN, NAN, NAN};
        const tcr_status status =
            tcr_tip(&lid, 0.7, &c->lash[i], i % 10 == 0 ? NULL : &c->ext[i], &bond, &tip);
        given("lash %d", i);
        expect_status((tcr_status)c->status[i], status);
        if (status == TCR_OK) {
            expect_same(c->x[i], tip.x, "one kernel"); /* source: the scalar call */
            expect_same(c->y[i], tip.y, "one kernel");
            expect_same(c->z[i], tip.z, "one kernel");
        } else {
            expect_nan(c->x[i]);
            expect_nan(c->y[i]);
            expect_nan(c->z[i]);
        }
        failed[0] += status == TCR_E_BOND;
        failed[1] += status == TCR_E_RANGE;
    }
    ck_assert(failed[0] > 50 && failed[1] > 50); /* both kinds of failure were met */
    free(c);
}

static tcr_lash_columns from_row(const tcr_lash_columns *all, size_t i) {
    tcr_lash_columns rest = *all;
    const double **const numbers[] = {&rest.u,
                                      &rest.height_mm,
                                      &rest.pitch_rad,
                                      &rest.yaw_rad,
                                      &rest.roll_rad,
                                      &rest.length_mm,
                                      &rest.turn_rad,
                                      &rest.root_diameter_mm,
                                      &rest.tip_diameter_mm,
                                      &rest.ext_length_mm,
                                      &rest.ext_diameter_mm,
                                      &rest.ext_spread_rad};
    for (size_t k = 0; k < sizeof numbers / sizeof numbers[0]; k++)
        *numbers[k] += i;
    rest.ext_fan += i;
    rest.ext_placement += i;
    rest.ext_profile += i;
    return rest;
}

/* Rows that are all valid, with one fan for each block of 32. The faults are put in later. */
enum { ALIKE = 32, FAULTS = 14 };

static void make_alike(columns *c, double *spread) {
    for (int i = 0; i < MANY; i++) {
        c->value[0][i] = fmin(c->value[0][i], 0.98);
        c->value[5][i] = fmax(c->value[5][i], 4.0);
        c->value[9][i] = c->ext[i].length_mm;
        c->fan[i] = c->fan[i / ALIKE * ALIKE];
        spread[i] = spread[i / ALIKE * ALIKE];
    }
}

static void spoil(columns *c, double *spread, int fault, int i) {
    switch (fault) {
    case 0:
        c->value[0][i] = 0.99;
        break;
    case 1:
        c->value[2][i] = NAN;
        break;
    case 2:
        c->value[8][i] = 2.0 * c->value[7][i];
        break;
    case 3:
        c->value[9][i] = 0.0;
        break; /* bare */
    case 4:
        c->value[9][i] = 31.0;
        break;
    case 5:
        c->value[10][i] = 0.5;
        break;
    case 6: /* just too short to bond, and as usual else */
        c->value[5][i] = 0.95;
        c->value[6][i] = 0.5;
        c->placement[i] = (int)TCR_OUTER_SIDE;
        break;
    case 7:
        c->fan[i] = INT_MAX;
        break;
    case 8:
        c->fan[i] = c->fan[i] % 20 + 1;
        break;
    case 9:
        spread[i] = NAN;
        break;
    case 10:
        spread[i] = 0.5;
        break;
    case 11:
        c->placement[i] = 4;
        break;
    case 12:
        c->profile[i] = -1;
        break;
    default:
        c->profile[i] = PROFILES;
        break;
    }
}

CLAIM(rows_that_are_taken_together_are_those_one_by_one) {
    static double spread[MANY];
    columns *c = make_columns(9);
    tie(c, spread);
    make_alike(c, spread);
    /* Of three blocks one is whole, one has a fault somewhere, one begins with it. */
    for (int block = 0; block < MANY / ALIKE; block++)
        if (block % 3 > 0)
            spoil(c, spread, block / 3 % FAULTS,
                  block * ALIKE + (block % 3 == 1 ? 1 + block % (ALIKE - 1) : 0));
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = {.offset_mm = 0.0, .length_mm = 3.0, .glue_mm = 0.03};
    expect_status(tcr_tips_n(&lid, 0.7, &bond, c->profiles, PROFILES, MANY, &c->in, &c->out),
                  TCR_OK);
    int failed = 0;
    for (size_t i = 0; i < MANY; i++) {
        double x, y, z;
        int status;
        tcr_tip_columns one = {&x, &y, &z, &status};
        const tcr_lash_columns at = from_row(&c->in, i);
        expect_status(tcr_tips_n(&lid, 0.7, &bond, c->profiles, PROFILES, 1, &at, &one), TCR_OK);
        given("row %zu", i);
        /* Source: each row alone, which the claim above holds to the scalar call. */
        expect_status((tcr_status)c->status[i], (tcr_status)status);
        expect_bytes(&c->x[i], &x, sizeof x);
        expect_bytes(&c->y[i], &y, sizeof y);
        expect_bytes(&c->z[i], &z, sizeof z);
        failed += status != TCR_OK;
    }
    ck_assert_int_gt(failed, 100);
    free(c);
}

CLAIM(columns_may_be_cut_anywhere) {
    static double spread[MANY], x[MANY], y[MANY], z[MANY];
    columns *c = make_columns(6);
    tie(c, spread);
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, PROFILES, MANY, &c->in, &c->out),
                  TCR_OK);
    const size_t cut = 3333;
    const tcr_lash_columns rest = from_row(&c->in, cut);
    tcr_tip_columns into = {x, y, z, NULL}; /* the statuses need not be asked for */
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, PROFILES, MANY - cut, &rest, &into),
                  TCR_OK);
    /* Source: the whole columns. NaN where a lash failed, so bytes are compared. */
    expect_bytes(x, c->x + cut, (MANY - cut) * sizeof *x);
    expect_bytes(y, c->y + cut, (MANY - cut) * sizeof *y);
    expect_bytes(z, c->z + cut, (MANY - cut) * sizeof *z);
    free(c);
}

CLAIM(a_row_with_an_unknown_profile_placement_or_fan_fails_alone) {
    static double spread[MANY];
    columns *c = make_columns(7);
    tie(c, spread);
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    c->profile[1] = PROFILES;
    c->profile[2] = -1;
    c->placement[3] = 4;
    c->fan[4] = 0;
    spread[5] = NAN;
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, PROFILES, 10, &c->in, &c->out), TCR_OK);
    const tcr_status expected[] = {TCR_E_RANGE,    TCR_E_ARGUMENT, TCR_E_ARGUMENT,
                                   TCR_E_ARGUMENT, TCR_E_RANGE,    TCR_E_RANGE,
                                   TCR_OK,         TCR_OK,         TCR_OK};
    for (int i = 0; i < 9; i++) { /* row 0 roots at 0.99 */
        given("row %d", i);
        expect_status((tcr_status)c->status[i], expected[i]); /* source: tips.h, extension.h */
    }
    c->profile[6] = 3; /* behind the three that are passed stand others */
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, 3, 10, &c->in, &c->out), TCR_OK);
    expect_status((tcr_status)c->status[6], TCR_E_ARGUMENT);
    free(c);
}

CLAIM(faults_of_the_whole_call_are_refused) {
    static double spread[MANY];
    columns *c = make_columns(8);
    tie(c, spread);
    tcr_lid lid = tcr_lid_default();
    tcr_bond bond = tcr_bond_default();
    const size_t p = PROFILES;
    expect_status(tcr_tips_n(NULL, 1.0, &bond, c->profiles, p, 5, &c->in, &c->out),
                  TCR_E_ARGUMENT); /* source of all: tips.h */
    expect_status(tcr_tips_n(&lid, 1.0, NULL, c->profiles, p, 5, &c->in, &c->out), TCR_E_ARGUMENT);
    expect_status(tcr_tips_n(&lid, 1.0, &bond, NULL, p, 5, &c->in, &c->out), TCR_E_ARGUMENT);
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, p, 5, NULL, &c->out), TCR_E_ARGUMENT);
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, p, 5, &c->in, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_tips_n(&lid, 1.1, &bond, c->profiles, p, 5, &c->in, &c->out), TCR_E_RANGE);
    expect_status(tcr_tips_n(&lid, NAN, &bond, c->profiles, p, 5, &c->in, &c->out), TCR_E_RANGE);
    expect_status(tcr_tips_n(&lid, 1.0, &bond, NULL, 0, 0, NULL, NULL), TCR_OK);
    c->profiles[3].share[0] = 0.0;
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, p, 5, &c->in, &c->out), TCR_E_CURL);
    bond.length_mm = 0.5;
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, 3, 5, &c->in, &c->out), TCR_E_RANGE);
    lid.lateral_semiaxis_mm = 12.0;
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, 3, 5, &c->in, &c->out), TCR_E_SEMIAXIS);
    c->in.ext_fan = NULL;
    lid = tcr_lid_default();
    bond = tcr_bond_default();
    expect_status(tcr_tips_n(&lid, 1.0, &bond, c->profiles, 3, 5, &c->in, &c->out), TCR_E_ARGUMENT);
    free(c);
}

CLAIM(a_refused_tip_leaves_its_output_alone) {
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    const tcr_lash lash = tcr_make_default_lash(0.5, TCR_BOTTOM);
    tcr_lash shorter = lash;
    tcr_extension ext = tcr_make_extension("C", 12.0, TCR_ON_TOP);
    tcr_vec3 tip = {1.0, 2.0, 3.0};
    const tcr_vec3 before = tip;
    shorter.length_mm = 1.0;
    expect_status(tcr_tip(&lid, 1.0, &shorter, &ext, &bond, &tip), TCR_E_BOND); /* source: tips.h */
    expect_status(tcr_tip(&lid, -0.5, &lash, &ext, &bond, &tip), TCR_E_RANGE);
    expect_status(tcr_tip(&lid, 1.0, &lash, &ext, NULL, &tip), TCR_E_ARGUMENT);
    expect_status(tcr_tip(NULL, 1.0, &lash, &ext, &bond, &tip), TCR_E_ARGUMENT);
    expect_status(tcr_tip(&lid, 1.0, NULL, &ext, &bond, &tip), TCR_E_ARGUMENT);
    expect_status(tcr_tip(&lid, 1.0, &lash, &ext, &bond, NULL), TCR_E_ARGUMENT);
    ext.fan = 0;
    expect_status(tcr_tip(&lid, 1.0, &lash, &ext, &bond, &tip), TCR_E_RANGE);
    expect_bytes(&tip, &before, sizeof tip);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_tip_is_the_attachments_tip_at_the_lashs_stance,
        &an_extension_lies_alike_on_its_lash_at_every_opening,
        &the_distance_from_root_to_tip_does_not_depend_on_lid_or_opening,
        &a_mirrored_lash_on_a_symmetric_lid_has_a_mirrored_tip,
        &a_higher_root_raises_the_tip_by_as_much_along_b,
        &ten_thousand_tips_in_columns_are_those_one_by_one_to_the_bit,
        &rows_that_are_taken_together_are_those_one_by_one,
        &columns_may_be_cut_anywhere,
        &a_row_with_an_unknown_profile_placement_or_fan_fails_alone,
        &faults_of_the_whole_call_are_refused,
        &a_refused_tip_leaves_its_output_alone,
    };
    return RUN_CLAIMS("tips", claims);
}
