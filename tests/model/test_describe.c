/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The described eye: each field of a large sample against its distribution, the growth law, the
 * growth of the shape, the conditions, regression values. Kolmogorov's test with alpha = 0.001
 * (support/statistics.h), seeds fixed.
 */
#include <tipcrest/describe.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_math.h>

#include "support/check.h"
#include "support/make.h"
#include "support/statistics.h"

enum { COUNT = 100000 };
static tcr_lash lashes[COUNT];
static double column[COUNT], other[COUNT];

static const char *const KOLMOGOROV = "alpha 0.001, seed fixed";

/* A large eye in which rows can be told apart by height: 1 mm and more between them. */
static tcr_description large(void) {
    tcr_description d = tcr_description_default();
    d.count = COUNT;
    d.seed = 2;
    d.gap_mm = 2.0;
    return d;
}

/* The same with every lash full-grown, as turn and root diameter are drawn. */
static tcr_description full_grown(void) {
    tcr_description d = large();
    d.phases = TCR_PHASES_NONE;
    return d;
}

static void draw_all(const tcr_description *d) {
    for (uint32_t k = 0; k < COUNT; k++)
        expect_status(tcr_describe_lash(d, 0, k, &lashes[k]), TCR_OK);
}

/* The row of a lash of large(): its height is row mm, give or take 0.3. */
static int row_of(const tcr_lash *lash) { return (int)lround(lash->height_mm); }

CLAIM(the_default_description_is_the_contracts) {
    const tcr_description d = tcr_description_default();
    /* Source: model.md, section 11. */
    expect_count(d.count, 96);
    expect_same(d.gap_mm, 1.0, "given");
    expect_same(d.height_sd_mm, 0.1, "given");
    expect_near(d.pitch_rad, tcr_degrees(-10.0), 1e-16, "one rounding");
    expect_near(d.pitch_sd_rad, tcr_degrees(4.0), 1e-16, "one rounding");
    expect_near(d.yaw_rad, tcr_degrees(-10.0), 1e-16, "one rounding");
    expect_near(d.yaw_fan_rad, tcr_degrees(20.0), 1e-16, "one rounding");
    expect_near(d.yaw_sd_rad, tcr_degrees(4.0), 1e-16, "one rounding");
    expect_same(d.roll_rad, 0.0, "given");
    expect_same(d.roll_sd_rad, 0.0, "given");
    expect_same(d.length_mm, 7.5, "given");
    expect_same(d.length_sd_mm, 1.0, "given");
    expect_same(d.length_inner_share, 0.7, "given");
    expect_same(d.length_outer_share, 0.9, "given");
    expect_near(d.turn_rad, tcr_degrees(60.0), 1e-15, "one rounding");
    expect_near(d.turn_sd_rad, tcr_degrees(8.0), 1e-16, "one rounding");
    expect_same(d.root_diameter_mm, 0.08, "given");
    expect_same(d.root_diameter_sd_mm, 0.01, "given");
    expect_same(d.tip_diameter_mm, 0.015, "model.md, section 3");
    expect_same(d.stray_share, 0.02, "given");
    expect_same(d.stray_rise_mm, 1.0, "given");
    expect_same(d.baby_below_mm, 5.0, "given");
    expect_same(d.weak_below_mm, 0.055, "given");
    expect_count(d.phases, TCR_PHASES_A);
}

CLAIM(places_are_evenly_spaced_and_moved_by_up_to_a_quarter) {
    const tcr_description d = large();
    draw_all(&d);
    const double spacing = 0.9 / COUNT;
    for (int k = 0; k < COUNT; k++) {
        const double moved = (lashes[k].u - 0.05) / spacing - (k + 0.5);
        column[k] = 2.0 * moved + 0.5; /* uniform from 0 to 1: model.md, section 11 */
    }
    expect_within(tcr_kolmogorov(column, COUNT, tcr_cumulative_uniform), 0.0, TCR_KOLMOGOROV_LIMIT,
                  KOLMOGOROV);
    /* Sorted by now; 1e-6: rounding of u, divided by the spacing of 9e-6. */
    expect_within(column[0], -1e-6, 1e-3, "the move is never more than a quarter");
    expect_within(column[COUNT - 1], 1.0 - 1e-3, 1.0 + 1e-6, "never more than a quarter");
}

/* Pearson's chi-square of lashes on rows, in the middle of the lid or outside it. */
static double row_unevenness(bool middle, int rows, long *strangers) {
    long count[6] = {0}, all = 0;
    *strangers = 0;
    for (int k = 0; k < COUNT; k++) {
        const tcr_lash *lash = &lashes[k];
        if (lash->condition == TCR_STRAY || (lash->u > 0.2 && lash->u < 0.85) != middle)
            continue;
        const int row = row_of(lash);
        *strangers += row < 0 || row > 5 || (rows == 3 && row % 2 != 0);
        count[row]++;
        all++;
    }
    double sum = 0.0;
    for (int row = 0; row < 6; row += 6 / rows) {
        const double expected = (double)all / rows, miss = (double)count[row] - expected;
        sum += miss * miss / expected;
    }
    return sum;
}

CLAIM(six_rows_in_the_middle_are_equally_likely) {
    const tcr_description d = large();
    draw_all(&d);
    long strangers;
    const double chi_square = row_unevenness(true, 6, &strangers);
    expect_within(chi_square, 0.0, gsl_cdf_chisq_Pinv(0.999, 5.0), "alpha 0.001, seed fixed");
    expect_count(strangers, 0);
}

CLAIM(rows_0_2_and_4_towards_the_corners_are_equally_likely) {
    const tcr_description d = large();
    draw_all(&d);
    long strangers;
    const double chi_square = row_unevenness(false, 3, &strangers);
    expect_within(chi_square, 0.0, gsl_cdf_chisq_Pinv(0.999, 2.0), "alpha 0.001, seed fixed");
    expect_count(strangers, 0);
}

CLAIM(two_rows_make_a_layer) {
    const tcr_description d = large();
    draw_all(&d);
    for (int k = 0; k < COUNT; k++)
        if (lashes[k].condition != TCR_STRAY)
            expect_count(lashes[k].layer, row_of(&lashes[k]) / 2); /* model.md, section 3 */
}

/* A field of the lashes, less its mean, over its sd; strays have heights of their own. */
typedef double (*standardised)(const tcr_description *d, const tcr_lash *lash);

static double height(const tcr_description *d, const tcr_lash *lash) {
    return (lash->height_mm - row_of(lash) * d->gap_mm / 2.0) / d->height_sd_mm;
}
static double pitch(const tcr_description *d, const tcr_lash *lash) {
    return (lash->pitch_rad - d->pitch_rad) / d->pitch_sd_rad;
}
static double yaw(const tcr_description *d, const tcr_lash *lash) {
    return (lash->yaw_rad - d->yaw_rad - d->yaw_fan_rad * lash->u) / d->yaw_sd_rad;
}
static double roll(const tcr_description *d, const tcr_lash *lash) {
    return (lash->roll_rad - d->roll_rad) / d->roll_sd_rad;
}
static double turn(const tcr_description *d, const tcr_lash *lash) {
    return (lash->turn_rad - d->turn_rad) / d->turn_sd_rad;
}
static double root_diameter(const tcr_description *d, const tcr_lash *lash) {
    return (lash->root_diameter_mm - d->root_diameter_mm) / d->root_diameter_sd_mm;
}
/* 0.7 at u = 0, 1 at u = 1/2, 0.9 at u = 1, linear between: model.md, section 11. */
static double final_length(const tcr_description *d, const tcr_lash *lash) {
    const double u = lash->u, share = u < 0.5 ? 0.7 + 0.6 * u : 1.1 - 0.2 * u;
    return (lash->final_length_mm - d->length_mm * share) / d->length_sd_mm;
}

static const struct {
    const char *name;
    standardised value;
} NORMALS[] = {
    {"height", height},
    {"pitch", pitch},
    {"yaw", yaw},
    {"roll", roll},
    {"turn", turn},
    {"root diameter", root_diameter},
    {"final length", final_length},
};
enum { NORMAL_COUNT = sizeof NORMALS / sizeof NORMALS[0] };

/* Strays apart, the standardised values of a field; their number. */
static size_t values_of(const tcr_description *d, int field, double *values) {
    size_t n = 0;
    for (int k = 0; k < COUNT; k++)
        if (lashes[k].condition != TCR_STRAY)
            values[n++] = NORMALS[field].value(d, &lashes[k]);
    return n;
}

CLAIM(heights_angles_turns_diameters_and_final_lengths_are_normal_cut_at_three) {
    tcr_description d = full_grown();
    d.roll_rad = tcr_degrees(5.0);
    d.roll_sd_rad = tcr_degrees(3.0); /* the default's 0 says nothing of its distribution */
    draw_all(&d);
    for (int field = 0; field < NORMAL_COUNT; field++) {
        const size_t n = values_of(&d, field, column);
        given("%s", NORMALS[field].name);
        expect_within(tcr_kolmogorov(column, n, tcr_cumulative_cut_normal), 0.0,
                      TCR_KOLMOGOROV_LIMIT, KOLMOGOROV);
        /* Rounding of u and of angles, divided by the sd. */
        expect_within(column[0], -3.0 - 1e-11, -2.9, "cut at three; model.md, section 11");
        expect_within(column[n - 1], 2.9, 3.0 + 1e-11, "cut at three");
    }
}

CLAIM(no_two_fields_go_together) {
    tcr_description d = full_grown();
    d.roll_sd_rad = tcr_degrees(3.0);
    draw_all(&d);
    for (int a = 0; a < NORMAL_COUNT; a++)
        for (int b = 0; b < a; b++) {
            const size_t n = values_of(&d, a, column);
            (void)values_of(&d, b, other);
            given("%s and %s", NORMALS[a].name, NORMALS[b].name);
            /* Source: independent columns have correlation 0 with sd 1/sqrt(n). */
            expect_near(tcr_correlation(column, other, n), 0.0, 4.0 / sqrt((double)n),
                        "four standard deviations, seed fixed");
        }
}

CLAIM(the_two_eyes_are_drawn_apart) {
    const tcr_description d = full_grown();
    for (uint32_t k = 0; k < COUNT; k++) {
        tcr_lash left, right;
        expect_status(tcr_describe_lash(&d, 0, k, &left), TCR_OK);
        expect_status(tcr_describe_lash(&d, 1, k, &right), TCR_OK);
        column[k] = turn(&d, &left);
        other[k] = turn(&d, &right);
    }
    expect_near(tcr_correlation(column, other, COUNT), 0.0, 4.0 / sqrt(COUNT),
                "four standard deviations, seed fixed");
}

/* The share of lashes shorter than their final length. */
static double growing(void) {
    int count = 0;
    for (int k = 0; k < COUNT; k++)
        count += lashes[k].length_mm < lashes[k].final_length_mm;
    return (double)count / COUNT;
}

CLAIM(with_option_a_41_per_cent_of_the_lashes_grow) {
    const tcr_description d = large();
    draw_all(&d);
    /* Source: closed form, (7.5/0.12)/152 = 0.41118; its sd over 100 000 lashes is 0.00156. */
    expect_near(growing(), 7.5 / 0.12 / 152.0, 4.0 * 0.00156, "four standard deviations");
    /* Source: Elder 1997, PMID 9076779: 41 % in one patient; model.md, section 10. */
    expect_near(growing(), 0.41, 0.01, "one patient's share has two digits");
}

CLAIM(with_option_b_69_per_cent_of_the_lashes_grow) {
    tcr_description d = large();
    d.phases = TCR_PHASES_B;
    draw_all(&d);
    /* Source: closed form, (F/0.12)/(90 F/7.5) = 0.69444 (model.md, section 10); its sd over
     * 100 000 lashes is 0.00146. */
    expect_near(growing(), 7.5 / 0.12 / 90.0, 4.0 * 0.00146, "four standard deviations");
}

CLAIM(without_phases_every_lash_has_its_final_length) {
    tcr_description d = large();
    d.phases = TCR_PHASES_NONE;
    draw_all(&d);
    for (int k = 0; k < COUNT; k++)
        expect_same(lashes[k].length_mm, lashes[k].final_length_mm, "model.md, section 11");
}

CLAIM(growing_lashes_are_of_every_length_alike) {
    const tcr_description d = large();
    draw_all(&d);
    size_t n = 0;
    for (int k = 0; k < COUNT; k++) {
        const double length = lashes[k].length_mm, final = lashes[k].final_length_mm;
        /* Source: growth at a constant rate, so uniform over 0.3 mm to F once the floor is left. */
        if (length > 0.3 && length < final)
            column[n++] = (length - 0.3) / (final - 0.3);
    }
    expect_within(tcr_kolmogorov(column, n, tcr_cumulative_uniform), 0.0, TCR_KOLMOGOROV_LIMIT,
                  KOLMOGOROV);
}

CLAIM(no_lash_is_shorter_than_0_3_mm) {
    const tcr_description d = large();
    draw_all(&d);
    int at_floor = 0;
    for (int k = 0; k < COUNT; k++) {
        expect_within(lashes[k].length_mm, 0.3, 20.0, "model.md, section 11");
        at_floor += lashes[k].length_mm == 0.3;
    }
    ck_assert_int_gt(at_floor, 0); /* the floor was met */
}

/* tau of model.md, section 3, by its own three formulas. */
static double share_of_turn(double q) {
    if (q > 2.0 / 3.0)
        return 4.0 * q / 3.0 - 1.0 / 3.0;
    return q > 1.0 / 3.0 ? q - 1.0 / 9.0 : 2.0 * q / 3.0;
}

CLAIM(turn_and_root_diameter_follow_the_growth_of_the_shape) {
    static tcr_lash full[COUNT];
    for (int phases = TCR_PHASES_A; phases <= TCR_PHASES_B; phases++) {
        tcr_description d = full_grown();
        draw_all(&d);
        memcpy(full, lashes, sizeof full);
        d.phases = (tcr_phases)phases;
        draw_all(&d);
        int kept = 0;
        for (int k = 0; k < COUNT; k++) {
            const tcr_lash *l = &lashes[k];
            const double q = l->length_mm / full[k].length_mm, tip = l->tip_diameter_mm;
            const double diameter = tip + (full[k].root_diameter_mm - tip) * q;
            given("phases %d, lash %d", phases, k);
            /* Source: model.md, sections 3 and 11; lash.h: a root diameter is 0.02 mm or more. */
            expect_near(l->turn_rad, full[k].turn_rad * share_of_turn(q), 1e-12, "roundings of 1");
            expect_near(l->root_diameter_mm, fmax(diameter, 0.02), 1e-12, "roundings of 0.1");
            expect_same(l->final_length_mm, full[k].length_mm, "the same draw");
            kept += diameter < 0.02;
        }
        expect_within(kept, 1.0, 0.06 * COUNT, "very young hair only");
    }
}

CLAIM(a_lash_of_its_final_length_has_the_turn_and_diameter_that_were_drawn) {
    tcr_description d = large();
    for (uint32_t k = 0; k < 1000; k++) {
        tcr_lash a, full;
        d.phases = TCR_PHASES_A;
        expect_status(tcr_describe_lash(&d, 0, k, &a), TCR_OK);
        d.phases = TCR_PHASES_NONE;
        expect_status(tcr_describe_lash(&d, 0, k, &full), TCR_OK);
        if (a.length_mm < a.final_length_mm)
            continue;
        expect_same(a.turn_rad, full.turn_rad, "model.md, section 3: q = 1");
        expect_same(a.root_diameter_mm, full.root_diameter_mm, "model.md, section 3: q = 1");
    }
}

CLAIM(two_per_cent_are_strays_1_mm_above_the_top_row) {
    const tcr_description d = large();
    draw_all(&d);
    int strays = 0;
    for (int k = 0; k < COUNT; k++) {
        if (lashes[k].condition != TCR_STRAY)
            continue;
        strays++;
        expect_count(lashes[k].layer, TCR_TOP);
        /* Source: model.md, section 11: row 5 stands at 2.5 gaps, here 5 mm, sd 0.1. */
        expect_near(lashes[k].height_mm, 6.0, 0.3 + 1e-12, "cut at three sd of 0.1 mm");
    }
    expect_near(strays, 0.02 * COUNT, 4.0 * sqrt(COUNT * 0.02 * 0.98), "four standard deviations");
}

CLAIM(babies_are_short_and_weak_ones_thin_the_first_that_holds) {
    tcr_description d = large();
    d.root_diameter_sd_mm = 0.02; /* so that there are weak ones */
    draw_all(&d);
    int count[TCR_CONDITIONS] = {0};
    for (int k = 0; k < COUNT; k++) {
        const tcr_lash *l = &lashes[k];
        count[l->condition]++;
        if (l->condition == TCR_STRAY)
            continue;
        const tcr_condition expected = l->length_mm < 5.0            ? TCR_BABY
                                       : l->root_diameter_mm < 0.055 ? TCR_WEAK
                                                                     : TCR_SUITABLE;
        expect_count(l->condition, expected); /* source: model.md, section 11 */
    }
    for (int i = TCR_SUITABLE; i <= TCR_WEAK; i++)
        ck_assert_int_gt(count[i], 0);
    expect_count(count[TCR_SHEDDING], 0);
}

CLAIM(the_first_lashes_of_seed_11_are_what_they_were) {
    /* Source: earlier result of this project; how words become numbers is part of the contract. */
    static const struct {
        uint32_t eye, k;
        double value[10];
        int layer, condition;
    } earlier[] = {
        {0,
         0,
         {0.056543974877013667, -0.048749045368161784, -0.19245776873546255, -0.090787573938726288,
          0, 5.9258230987793983, 5.9258230987793983, 0.82564132730912687, 0.093436502950092662,
          0.015},
         0,
         0},
        {0,
         1,
         {0.063573153673525742, 1.8223208350539279, -0.31867996561601003, -0.17926734221041149, 0,
          0.71962093348367784, 5.8083532693777968, 0.08275237671250435, 0.021440899925171092,
          0.015},
         2,
         1},
        {0,
         3,
         {0.083983402354138412, 2.1440946895408723, -0.11368291133939072, -0.014559502031757376, 0,
          6.4000655846851622, 6.4000655846851622, 0.94663821279383742, 0.081157178310702002, 0.015},
         2,
         0},
        {1,
         0,
         {0.055947474714171837, -0.018418943494611855, -0.13621916247462099, -0.24767510004073631,
          0, 5.3250171743257262, 5.4048116933487229, 0.98921060936235683, 0.076068982035654542,
          0.015},
         0,
         0},
        {1,
         1,
         {0.063445901241132641, 1.0193721207443287, -0.21834012305668302, -0.20154094464086958, 0,
          1.4020914899073011, 4.7277126551533959, 0.17316858973256843, 0.033982605311123029, 0.015},
         1,
         1},
    };
    tcr_description d = tcr_description_default();
    d.seed = 11;
    for (size_t i = 0; i < sizeof earlier / sizeof earlier[0]; i++) {
        tcr_lash l;
        expect_status(tcr_describe_lash(&d, earlier[i].eye, earlier[i].k, &l), TCR_OK);
        const double value[10] = {
            l.u,         l.height_mm,       l.pitch_rad, l.yaw_rad,          l.roll_rad,
            l.length_mm, l.final_length_mm, l.turn_rad,  l.root_diameter_mm, l.tip_diameter_mm};
        for (int j = 0; j < 10; j++) {
            given("eye %d, lash %d, number %d", (int)earlier[i].eye, (int)earlier[i].k, j);
            expect_near(value[j], earlier[i].value[j], 1e-13,
                        "another machine's logarithm and cosine may differ in the last bit");
        }
        expect_count(l.layer, earlier[i].layer);
        expect_count(l.condition, earlier[i].condition);
        expect_status(tcr_lash_validate(&l, NULL), TCR_OK); /* describe.h: all are drawn */
    }
}

CLAIM(the_order_of_the_calls_changes_nothing) {
    tcr_description d = tcr_description_default();
    d.count = 1000;
    d.seed = 11;
    for (uint32_t k = 0; k < 1000; k++)
        expect_status(tcr_describe_lash(&d, 1, k, &lashes[k]), TCR_OK);
    for (uint32_t i = 1000; i-- > 0;) {
        const uint32_t k = (i * 7) % 1000; /* 7 and 1000 share no divisor, so every one is drawn */
        tcr_lash again;
        expect_status(tcr_describe_lash(&d, 1, k, &again), TCR_OK);
        given("lash %d", (int)k);
        expect_same(again.u, lashes[k].u, "there is no state");
        expect_same(again.pitch_rad, lashes[k].pitch_rad, "there is no state");
        expect_same(again.length_mm, lashes[k].length_mm, "there is no state");
        expect_same(again.root_diameter_mm, lashes[k].root_diameter_mm, "there is no state");
    }
}

CLAIM(every_description_in_range_gives_valid_lashes) {
    gsl_rng *rng = tcr_make_rng(9);
    for (int i = 0; i < 500; i++) {
        tcr_description d = tcr_description_default();
        d.count = 1 + gsl_rng_uniform_int(rng, 60);
        d.seed = gsl_rng_get(rng);
        d.gap_mm = tcr_draw_between(rng, 0.0, 3.0);
        d.height_sd_mm = tcr_draw_between(rng, 0.0, 1.0);
        d.pitch_rad = tcr_degrees(tcr_draw_between(rng, -84.0, 84.0));
        d.pitch_sd_rad = tcr_degrees(tcr_draw_between(rng, 0.0, 20.0));
        d.yaw_rad = tcr_degrees(tcr_draw_between(rng, -84.0, 84.0));
        d.yaw_fan_rad = tcr_degrees(tcr_draw_between(rng, -168.0, 168.0));
        d.yaw_sd_rad = d.pitch_sd_rad;
        d.roll_rad = tcr_degrees(tcr_draw_between(rng, -90.0, 90.0));
        d.roll_sd_rad = d.pitch_sd_rad;
        d.length_mm = tcr_draw_between(rng, 1.0, 20.0);
        d.length_sd_mm = tcr_draw_between(rng, 0.0, 3.0);
        d.length_inner_share = tcr_draw_between(rng, 0.1, 2.0);
        d.length_outer_share = tcr_draw_between(rng, 0.1, 2.0);
        d.turn_rad = tcr_degrees(tcr_draw_between(rng, -60.0, 200.0));
        d.turn_sd_rad = tcr_degrees(tcr_draw_between(rng, 0.0, 40.0));
        d.root_diameter_mm = tcr_draw_between(rng, 0.02, 0.2);
        d.root_diameter_sd_mm = tcr_draw_between(rng, 0.0, 0.05);
        d.tip_diameter_mm = tcr_draw_between(rng, 0.0, 0.2);
        d.stray_share = gsl_rng_uniform(rng);
        d.stray_rise_mm = tcr_draw_between(rng, 0.0, 3.0);
        d.phases = (tcr_phases)gsl_rng_uniform_int(rng, 3);
        for (uint32_t k = 0; k < d.count; k++) {
            tcr_lash lash;
            given("description %d, lash %d", i, (int)k);
            expect_status(tcr_describe_lash(&d, k % 2, k, &lash), TCR_OK);
            expect_status(tcr_lash_validate(&lash, NULL), TCR_OK); /* source: describe.h */
        }
    }
    gsl_rng_free(rng);
}

CLAIM(descriptions_out_of_range_are_refused) {
    const tcr_description good = tcr_description_default();
    static const size_t at[] = {
        offsetof(tcr_description, gap_mm),
        offsetof(tcr_description, height_sd_mm),
        offsetof(tcr_description, pitch_rad),
        offsetof(tcr_description, pitch_sd_rad),
        offsetof(tcr_description, yaw_rad),
        offsetof(tcr_description, yaw_fan_rad),
        offsetof(tcr_description, yaw_sd_rad),
        offsetof(tcr_description, roll_rad),
        offsetof(tcr_description, roll_sd_rad),
        offsetof(tcr_description, length_mm),
        offsetof(tcr_description, length_sd_mm),
        offsetof(tcr_description, length_inner_share),
        offsetof(tcr_description, length_outer_share),
        offsetof(tcr_description, turn_rad),
        offsetof(tcr_description, turn_sd_rad),
        offsetof(tcr_description, root_diameter_mm),
        offsetof(tcr_description, root_diameter_sd_mm),
        offsetof(tcr_description, tip_diameter_mm),
        offsetof(tcr_description, stray_share),
        offsetof(tcr_description, stray_rise_mm),
        offsetof(tcr_description, baby_below_mm),
        offsetof(tcr_description, weak_below_mm),
    };
    static const double bad[] = {NAN, INFINITY, -INFINITY, -1000.0, 1000.0};
    for (size_t i = 0; i < sizeof at / sizeof at[0]; i++)
        for (size_t j = 0; j < sizeof bad / sizeof bad[0]; j++) {
            tcr_description d = good;
            memcpy((char *)&d + at[i], &bad[j], sizeof bad[j]);
            given("the double at byte %zu is %.17g", at[i], bad[j]);
            expect_status(tcr_description_validate(&d, NULL), TCR_E_RANGE); /* source: describe.h */
        }
    tcr_description d = good;
    d.count = 0;
    expect_status(tcr_description_validate(&d, NULL), TCR_E_RANGE);
    d.count = 100001;
    expect_status(tcr_description_validate(&d, NULL), TCR_E_RANGE);
    d = good;
    d.phases = (tcr_phases)3;
    expect_status(tcr_description_validate(&d, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_description_validate(NULL, NULL), TCR_E_ARGUMENT);
}

CLAIM(lashes_and_eyes_that_do_not_exist_are_refused) {
    const tcr_description d = tcr_description_default();
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_TOP);
    const tcr_lash before = lash;
    expect_status(tcr_describe_lash(&d, 0, 96, &lash), TCR_E_ARGUMENT); /* source: describe.h */
    expect_status(tcr_describe_lash(&d, 2, 0, &lash), TCR_E_ARGUMENT);
    expect_status(tcr_describe_lash(NULL, 0, 0, &lash), TCR_E_ARGUMENT);
    expect_status(tcr_describe_lash(&d, 0, 0, NULL), TCR_E_ARGUMENT);
    expect_bytes(&lash, &before, sizeof lash);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_default_description_is_the_contracts,
        &places_are_evenly_spaced_and_moved_by_up_to_a_quarter,
        &six_rows_in_the_middle_are_equally_likely,
        &rows_0_2_and_4_towards_the_corners_are_equally_likely,
        &two_rows_make_a_layer,
        &heights_angles_turns_diameters_and_final_lengths_are_normal_cut_at_three,
        &no_two_fields_go_together,
        &the_two_eyes_are_drawn_apart,
        &with_option_a_41_per_cent_of_the_lashes_grow,
        &with_option_b_69_per_cent_of_the_lashes_grow,
        &without_phases_every_lash_has_its_final_length,
        &growing_lashes_are_of_every_length_alike,
        &no_lash_is_shorter_than_0_3_mm,
        &turn_and_root_diameter_follow_the_growth_of_the_shape,
        &a_lash_of_its_final_length_has_the_turn_and_diameter_that_were_drawn,
        &two_per_cent_are_strays_1_mm_above_the_top_row,
        &babies_are_short_and_weak_ones_thin_the_first_that_holds,
        &the_first_lashes_of_seed_11_are_what_they_were,
        &the_order_of_the_calls_changes_nothing,
        &every_description_in_range_gives_valid_lashes,
        &descriptions_out_of_range_are_refused,
        &lashes_and_eyes_that_do_not_exist_are_refused,
    };
    return RUN_CLAIMS("describe", claims);
}
