/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The mean lash of an eye against its definition (model.md, section 7), written out here a second
 * time: means by GSL's statistics, the broken line by GSL's least squares. All lashes are invented.
 */
#include <tipcrest/mean.h>

#include <math.h>
#include <stddef.h>

#include <gsl/gsl_multifit.h>
#include <gsl/gsl_statistics_double.h>

#include "support/check.h"
#include "support/make.h"

enum { EYES = 200, MOST = 80, NUMBERS = 8, PLACES = 97 };

/* The numbers of a lash in the order of the bits TCR_LASH_..., without the final length. */
static const size_t OFFSET[NUMBERS] = {
    offsetof(tcr_lash, height_mm),        offsetof(tcr_lash, pitch_rad),
    offsetof(tcr_lash, yaw_rad),          offsetof(tcr_lash, roll_rad),
    offsetof(tcr_lash, length_mm),        offsetof(tcr_lash, turn_rad),
    offsetof(tcr_lash, root_diameter_mm), offsetof(tcr_lash, tip_diameter_mm),
};
static const unsigned BIT[NUMBERS] = {TCR_LASH_HEIGHT,        TCR_LASH_PITCH,       TCR_LASH_YAW,
                                      TCR_LASH_ROLL,          TCR_LASH_LENGTH,      TCR_LASH_TURN,
                                      TCR_LASH_ROOT_DIAMETER, TCR_LASH_TIP_DIAMETER};
enum { HEIGHT = 0, YAW = 2, LENGTH = 4, ROOT = 6, TIP = 7 };

static double *number_of(tcr_lash *lash, int k) { return (double *)((char *)lash + OFFSET[k]); }

static double get_number(const tcr_lash *lash, int k) {
    return *(const double *)((const char *)lash + OFFSET[k]);
}

/* ---- The definition -------------------------------------------------------------------------- */

/* An eye as it was given. */
typedef struct eye {
    size_t n;
    tcr_lash lash[MOST];
} eye;

/* Section 3: -10 + 20 u degrees. */
static double default_yaw(double u) { return tcr_degrees(-10.0 + 20.0 * u); }

/* What a lash says for a mean: NaN where it does not count. */
static double counts_as(const tcr_lash *lash, int k) {
    if (lash->condition != TCR_SUITABLE || (k == HEIGHT && lash->layer != TCR_BOTTOM))
        return NAN;
    return k == YAW ? lash->yaw_rad - default_yaw(lash->u) : get_number(lash, k);
}

/* The mean of a number over those of which it is known (yaw: of the difference), or NaN. */
static double mean_number(const eye *e, int k) {
    double known[MOST];
    size_t n = 0;
    for (size_t i = 0; i < e->n; i++) {
        const double value = counts_as(&e->lash[i], k);
        if (!isnan(value))
            known[n++] = value;
    }
    return n > 0 ? gsl_stats_mean(known, 1, n) : NAN;
}

/* The broken line as straight pieces between knots. */
typedef struct pieces {
    double at_0, at_half, at_1;
} pieces;

static double at(pieces p, double u) {
    return u < 0.5 ? p.at_0 + (p.at_half - p.at_0) * 2.0 * u
                   : p.at_half + (p.at_1 - p.at_half) * (2.0 * u - 1.0);
}

/* What the broken line is with 1 for one free knot and 0 for the others; section 7 ties those
 * without a lash nearer than 1/4. */
static pieces basis(const bool has[3], int k) {
    const double one[3] = {k == 0, k == 1, k == 2};
    const double half = has[1] ? one[1] : (one[0] + one[2]) / 2.0;
    return (pieces){has[0] ? one[0] : half, half, has[2] ? one[2] : half};
}

/* The least-squares broken line by GSL, or the mean at all knots. */
static pieces mean_length(const eye *e) {
    double u[MOST], length[MOST];
    size_t n = 0;
    bool has[3] = {false, false, false};
    for (size_t i = 0; i < e->n; i++) {
        length[n] = counts_as(&e->lash[i], LENGTH);
        if (isnan(length[n]))
            continue;
        u[n] = e->lash[i].u;
        for (int k = 0; k < 3; k++)
            has[k] = has[k] || fabs(u[n] - k / 2.0) < 0.25;
        n++;
    }
    const size_t free = (size_t)has[0] + has[1] + has[2];
    const double mean = n > 0 ? gsl_stats_mean(length, 1, n) : 7.5; /* the default of section 3 */
    if (n < 12 || free < 2)
        return (pieces){mean, mean, mean};
    gsl_matrix *x = gsl_matrix_alloc(n, free), *covariance = gsl_matrix_alloc(free, free);
    gsl_vector *c = gsl_vector_alloc(free);
    gsl_multifit_linear_workspace *space = gsl_multifit_linear_alloc(n, free);
    for (size_t i = 0; i < n; i++)
        for (int k = 0, column = 0; k < 3; k++)
            if (has[k])
                gsl_matrix_set(x, i, (size_t)column++, at(basis(has, k), u[i]));
    double chisq;
    const gsl_vector_view y = gsl_vector_view_array(length, n);
    expect_count(gsl_multifit_linear(x, &y.vector, c, covariance, &chisq, space), 0);
    pieces fitted = {0.0, 0.0, 0.0};
    for (int k = 0, column = 0; k < 3; k++) {
        if (!has[k])
            continue;
        const double value = gsl_vector_get(c, (size_t)column++);
        const pieces b = basis(has, k);
        fitted.at_0 += value * b.at_0;
        fitted.at_half += value * b.at_half;
        fitted.at_1 += value * b.at_1;
    }
    gsl_multifit_linear_free(space);
    gsl_vector_free(c);
    gsl_matrix_free(covariance);
    gsl_matrix_free(x);
    return fitted;
}

/* ---- Eyes ------------------------------------------------------------------------------------ */

static tcr_set *set_of(const eye *e) {
    tcr_set *set = NULL;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_add_lashes(set, TCR_LEFT, e->n, NULL, e->lash, NULL), TCR_OK);
    return set;
}

static tcr_mean_lash mean_of_set(const tcr_set *set) {
    tcr_mean_lash mean;
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, &mean), TCR_OK);
    return mean;
}

static tcr_mean_lash mean_of(const eye *e) {
    tcr_set *set = set_of(e);
    const tcr_mean_lash mean = mean_of_set(set);
    tcr_set_free(set);
    return mean;
}

/* Where lashes stand: all over the lid, or so that one knot or two have none near by. */
static double draw_place(gsl_rng *rng, unsigned kind) {
    static const double range[][4] = {{0.02, 0.98, 0.02, 0.98}, {0.02, 0.24, 0.76, 0.98},
                                      {0.3, 0.98, 0.3, 0.98},   {0.02, 0.7, 0.02, 0.7},
                                      {0.3, 0.7, 0.3, 0.7},     {0.8, 0.98, 0.8, 0.98},
                                      {0.4, 0.4, 0.4, 0.4},     {0.25, 0.25, 0.75, 0.75}};
    const double *r = range[kind % 8];
    const size_t side = gsl_rng_uniform_int(rng, 2) * 2;
    return tcr_draw_between(rng, r[side], r[side + 1]);
}

/* An eye of 1 to 80 lashes from all over their ranges, of which much is not known. */
static eye draw_eye(gsl_rng *rng, unsigned kind) {
    eye e = {.n = 1 + gsl_rng_uniform_int(rng, MOST)};
    for (size_t i = 0; i < e.n; i++) {
        tcr_lash *lash = &e.lash[i];
        *lash = tcr_draw_lash(rng);
        lash->u = draw_place(rng, kind);
        lash->tip_diameter_mm *= 0.4; /* at most the root's default of 0.08 mm */
        if (gsl_rng_uniform_int(rng, 4) == 0)
            lash->condition = (tcr_condition)gsl_rng_uniform_int(rng, TCR_CONDITIONS);
        for (int k = 0; k < NUMBERS; k++)
            if (gsl_rng_uniform_int(rng, 3) == 0)
                *number_of(lash, k) = NAN;
    }
    return e;
}

/* Lashes that stand evenly along the lid and differ in length alone. */
static eye even_eye(size_t n) {
    eye e = {.n = n};
    for (size_t i = 0; i < n; i++) {
        const double u = 0.05 + 0.9 * (double)i / (double)(n - 1);
        e.lash[i] = tcr_lash_unknown(u, TCR_BOTTOM);
        e.lash[i].length_mm = 6.0 + 4.0 * u * (1.0 - u);
    }
    return e;
}

/* ---- Claims ---------------------------------------------------------------------------------- */

static void expect_definition(const eye *e, const tcr_mean_lash *mean) {
    const tcr_lash nothing = tcr_lash_unknown(0.0, TCR_BOTTOM);
    const tcr_lash fallback = tcr_lash_complete(&nothing, NULL);
    const pieces length = mean_length(e);
    for (int place = 0; place < PLACES; place++) {
        const double u = (2.0 + place) / 100.0;
        const tcr_lash found = tcr_mean_lash_at(mean, u);
        double root = NAN;
        for (int k = 0; k < NUMBERS; k++) {
            const double own = mean_number(e, k);
            double expected = isnan(own) ? get_number(&fallback, k) : own;
            if (k == YAW)
                expected = default_yaw(u) + (isnan(own) ? 0.0 : own);
            if (k == LENGTH)
                expected = at(length, u);
            root = k == ROOT ? expected : root;
            if (k == TIP) /* no taper outwards, as tests/reference chose too */
                expected = fmin(expected, root);
            given("number %d at u = %g", k, u);
            expect_near(get_number(&found, k), expected, 1e-9 * fmax(1.0, fabs(expected)),
                        "the accuracy of the contract");
            expect_count((mean->assumed & BIT[k]) != 0, isnan(own));
        }
        expect_same(found.u, u, "given");
        expect_count(found.layer, TCR_BOTTOM);
        expect_count(found.condition, TCR_SUITABLE);
    }
}

CLAIM(the_mean_lash_of_random_eyes_is_that_of_its_definition) {
    gsl_rng *rng = tcr_make_rng(71);
    int broken = 0;
    for (unsigned i = 0; i < EYES; i++) {
        const eye e = draw_eye(rng, i);
        const tcr_mean_lash mean = mean_of(&e);
        expect_definition(&e, &mean);
        broken += mean.length_mm[0] != mean.length_mm[1] || mean.length_mm[1] != mean.length_mm[2];
    }
    expect_within(broken, EYES / 4.0, EYES * 0.6, "five of eight kinds can break, if large enough");
    gsl_rng_free(rng);
}

CLAIM(a_described_eye_has_a_mean_lash_by_the_same_definition) {
    tcr_description d = tcr_description_default();
    d.count = MOST;
    for (unsigned seed = 0; seed < 20; seed++) {
        eye e = {.n = MOST};
        tcr_set *set = NULL;
        d.seed = seed;
        for (uint32_t k = 0; k < MOST; k++)
            expect_status(tcr_describe_lash(&d, TCR_LEFT, k, &e.lash[k]), TCR_OK);
        expect_status(tcr_set_new(NULL, &set), TCR_OK);
        expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
        expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
        const tcr_mean_lash mean = mean_of_set(set);
        expect_definition(&e, &mean);
        tcr_set_free(set);
    }
}

CLAIM(lengths_on_a_broken_line_give_it_back) {
    /* 6, 8.2 and 7 mm at the knots; closed form. */
    eye e = even_eye(40);
    for (size_t i = 0; i < e.n; i++)
        e.lash[i].length_mm = at((pieces){6.0, 8.2, 7.0}, e.lash[i].u);
    const tcr_mean_lash mean = mean_of(&e);
    const double expected[] = {6.0, 8.2, 7.0};
    for (int k = 0; k < 3; k++)
        expect_near(mean.length_mm[k], expected[k], 1e-12, "roundings of 40 numbers below 9");
}

CLAIM(a_knot_without_a_lash_near_by_is_tied_to_its_neighbours) {
    /* Lengths 6 + 2 u where the lashes stand; closed form for each tie of model.md, section 7. */
    const struct {
        double from, to, and_from, and_to, expected[3];
    } cases[] = {
        /* No lash below 0.25: the inner knot has the middle one's value. Lashes on 0.5 and beyond
         * lie on one piece, which gives 7 and 8. */
        {0.5, 0.98, 0.5, 0.98, {7.0, 7.0, 8.0}},
        {0.02, 0.5, 0.02, 0.5, {6.0, 7.0, 7.0}},
        /* None about the middle: straight between the outer knots. */
        {0.02, 0.24, 0.76, 0.98, {6.0, 7.0, 8.0}},
    };
    for (size_t c = 0; c < 3; c++) {
        eye e = even_eye(20);
        for (size_t i = 0; i < 20; i++) {
            const double share = (double)(i % 10) / 9.0;
            const double low = i < 10 ? cases[c].from : cases[c].and_from;
            const double high = i < 10 ? cases[c].to : cases[c].and_to;
            e.lash[i].u = low + (high - low) * share;
            e.lash[i].length_mm = 6.0 + 2.0 * e.lash[i].u;
        }
        const tcr_mean_lash mean = mean_of(&e);
        for (int k = 0; k < 3; k++) {
            given("case %zu, knot %d", c, k);
            expect_near(mean.length_mm[k], cases[c].expected[k], 1e-11, "a few roundings of 8");
        }
    }
}

CLAIM(from_twelve_lengths_on_the_line_is_broken) {
    for (size_t n = 11; n <= 12; n++) {
        const eye e = even_eye(n);
        const tcr_mean_lash mean = mean_of(&e);
        given("%zu lashes", n);
        /* Source: model.md, section 7. The lengths are longest in the middle. */
        expect_true((mean.length_mm[1] > mean.length_mm[0] + 0.1) == (n == 12));
        expect_definition(&e, &mean);
    }
    /* It is known lengths of suitable lashes that are counted. */
    for (int what = 0; what < 2; what++) {
        eye e = even_eye(12);
        if (what == 0)
            e.lash[5].length_mm = NAN;
        else
            e.lash[5].condition = TCR_WEAK;
        const tcr_mean_lash mean = mean_of(&e);
        expect_same(mean.length_mm[1], mean.length_mm[0], "the mean of eleven");
        expect_definition(&e, &mean);
    }
}

CLAIM(lashes_at_one_place_or_about_one_knot_have_their_mean) {
    const double range[][2] = {{0.1, 0.1}, {0.3, 0.7}, {0.25, 0.25}, {0.8, 0.98}};
    for (size_t c = 0; c < 4; c++) {
        eye e = even_eye(30);
        double sum = 0.0;
        for (size_t i = 0; i < e.n; i++) {
            e.lash[i].u = range[c][0] + (range[c][1] - range[c][0]) * (double)i / 29.0;
            sum += e.lash[i].length_mm;
        }
        const tcr_mean_lash mean = mean_of(&e);
        for (int k = 0; k < 3; k++) {
            given("case %zu", c);
            expect_near(mean.length_mm[k], sum / 30.0, 1e-14, "a sum in another order"); /* s. 7 */
        }
    }
}

CLAIM(only_suitable_lashes_count) {
    /* Source: model.md, section 7. Such a lash, however it is, leaves the mean as it was. */
    gsl_rng *rng = tcr_make_rng(72);
    for (int condition = 0; condition < TCR_CONDITIONS; condition++) {
        eye e = even_eye(20);
        const tcr_mean_lash before = mean_of(&e);
        e.lash[e.n] = tcr_draw_lash(rng);
        e.lash[e.n].layer = TCR_BOTTOM;
        e.lash[e.n].condition = (tcr_condition)condition;
        e.n++;
        const tcr_mean_lash after = mean_of(&e);
        for (int k = 0; k < NUMBERS; k++) {
            given("condition %d, number %d", condition, k);
            const bool same = get_number(&after.lash, k) == get_number(&before.lash, k);
            expect_count(same, condition != TCR_SUITABLE);
        }
        expect_count(after.length_mm[1] == before.length_mm[1], condition != TCR_SUITABLE);
        expect_definition(&e, &after);
    }
    gsl_rng_free(rng);
}

CLAIM(the_height_is_that_of_the_bottom_layer) {
    eye e = {.n = 6};
    const double heights[] = {0.2, 0.4, 1.1, 1.3, 2.2, 2.6};
    for (size_t i = 0; i < e.n; i++) {
        e.lash[i] = tcr_lash_unknown(0.1 + 0.1 * (double)i, (tcr_layer)(i / 2));
        e.lash[i].height_mm = heights[i];
    }
    expect_near(mean_of(&e).lash.height_mm, 0.3, 1e-16, "one rounding"); /* (0.2 + 0.4) / 2 */
    e.lash[0].height_mm = e.lash[1].height_mm = NAN;
    const tcr_mean_lash mean = mean_of(&e);
    expect_same(mean.lash.height_mm, 0.0, "the default of the bottom layer"); /* section 3 */
    expect_true((mean.assumed & TCR_LASH_HEIGHT) != 0);
}

CLAIM(the_yaw_is_a_difference_from_the_fan) {
    eye e = {.n = 2}; /* 3 and 5 degrees more than -10 + 20 u */
    e.lash[0] = tcr_lash_unknown(0.2, TCR_TOP);
    e.lash[1] = tcr_lash_unknown(0.9, TCR_MIDDLE);
    e.lash[0].yaw_rad = tcr_degrees(-10.0 + 20.0 * 0.2 + 3.0);
    e.lash[1].yaw_rad = tcr_degrees(-10.0 + 20.0 * 0.9 + 5.0);
    const tcr_mean_lash mean = mean_of(&e);
    for (int i = 2; i <= 98; i++)
        expect_near(tcr_mean_lash_at(&mean, i / 100.0).yaw_rad, tcr_degrees(-10.0 + 0.2 * i + 4.0),
                    1e-15, "a few roundings of 0.3");
}

CLAIM(what_is_said_of_the_mean_lash_holds_at_every_place) {
    gsl_rng *rng = tcr_make_rng(73);
    for (unsigned i = 0; i < 10; i++)
        for (int k = 0; k < NUMBERS; k++) {
            const eye e = draw_eye(rng, 0);
            tcr_set *set = set_of(&e);
            tcr_lash said = tcr_lash_unknown(0.5, TCR_TOP);
            const tcr_lash drawn = tcr_draw_lash(rng);
            *number_of(&said, k) = k == TIP ? 0.001 : get_number(&drawn, k);
            expect_status(tcr_set_put_mean_lash(set, &said), TCR_OK);
            const tcr_mean_lash own = mean_of(&e), mean = mean_of_set(set);
            for (int place = 0; place < PLACES; place++) {
                const double u = (2.0 + place) / 100.0;
                const tcr_lash found = tcr_mean_lash_at(&mean, u),
                               other = tcr_mean_lash_at(&own, u);
                for (int n = 0; n < NUMBERS; n++) {
                    given("%d is said, number %d at u = %g", k, n, u);
                    if (n == k) /* source: model.md, section 7 */
                        expect_near(get_number(&found, n), get_number(&said, k), 1e-14,
                                    "weights of knots that sum to 1");
                    else if (n != TIP || k != ROOT)
                        expect_same(get_number(&found, n), get_number(&other, n), "as it was");
                }
            }
            expect_count((mean.assumed & BIT[k]) != 0, 0);
            tcr_set_free(set);
        }
    gsl_rng_free(rng);
}

CLAIM(an_eye_of_which_nothing_is_known_has_the_defaults) {
    eye e = {.n = 20};
    for (size_t i = 0; i < e.n; i++)
        e.lash[i] = tcr_lash_unknown(0.03 + 0.04 * (double)i, (tcr_layer)(i % TCR_LAYERS));
    const tcr_mean_lash mean = mean_of(&e);
    expect_definition(&e, &mean);
    /* Source: model.md, section 3. */
    const tcr_lash middle = tcr_mean_lash_at(&mean, 0.5);
    expect_near(middle.yaw_rad, 0.0, 1e-16, "a rounding of 10 degrees");
    expect_near(middle.pitch_rad, tcr_degrees(-10.0), 1e-16, "one rounding");
    expect_near(middle.turn_rad, tcr_degrees(60.0), 1e-15, "one rounding");
    expect_same(middle.length_mm, 7.5, "given");
    expect_same(middle.root_diameter_mm, 0.08, "given");
    expect_same(middle.tip_diameter_mm, 0.015, "given");
    expect_count(mean.assumed, TCR_LASH_ALL & ~TCR_LASH_FINAL_LENGTH);
}

CLAIM(a_missing_eye_is_told_and_outputs_stay) {
    const eye e = even_eye(12);
    tcr_set *set = set_of(&e);
    tcr_mean_lash mean = {.yaw_slope_rad = 7.0};
    expect_status(tcr_mean_lash_of(set, TCR_RIGHT, &mean), TCR_E_MISSING); /* source: mean.h */
    expect_status(tcr_mean_lash_of(NULL, TCR_LEFT, &mean), TCR_E_ARGUMENT);
    expect_status(tcr_mean_lash_of(set, TCR_LEFT, NULL), TCR_E_ARGUMENT);
    expect_same(mean.yaw_slope_rad, 7.0, "not touched");
    tcr_set_free(set);
}

/* Suitable lashes at heights on a layer, and a stray high above. */
static void add_layer(tcr_set *set, tcr_layer layer, double low, double high) {
    const double height[] = {low, high, 7.0};
    for (int i = 0; i < 3; i++) {
        tcr_lash lash = tcr_make_default_lash(0.3 + 0.1 * i, layer);
        lash.height_mm = height[i];
        lash.condition = i == 2 ? TCR_STRAY : TCR_SUITABLE;
        expect_status(tcr_set_add_lash(set, TCR_LEFT, "x", &lash, NULL), TCR_OK);
    }
}

/* Heights of an eye whose layers have lashes or not; expected ones in the same order. */
static void expect_heights(const bool has[TCR_LAYERS], const double expected[TCR_LAYERS]) {
    static const double MEAN[] = {0.2, 0.9, 2.4};
    tcr_set *set = NULL;
    tcr_layer_heights found;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        if (has[layer])
            add_layer(set, (tcr_layer)layer, MEAN[layer] - 0.1, MEAN[layer] + 0.1);
    expect_status(tcr_layer_heights_of(set, TCR_LEFT, &found), TCR_OK);
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        given("layer %d", layer);
        expect_near(found.height_mm[layer], expected[layer], 1e-15, "one sum of two");
        expect_count(found.lashes[layer], has[layer] ? 2 : 0);
    }
    const tcr_layer_heights apart = tcr_layer_heights_apart(&found, 0.3);
    expect_same(apart.height_mm[TCR_BOTTOM], found.height_mm[TCR_BOTTOM], "stays");
    expect_near(apart.height_mm[TCR_TOP] - apart.height_mm[TCR_BOTTOM], 0.6, 1e-15, "one sum");
    tcr_set_free(set);
}

CLAIM(a_layer_is_as_high_as_its_suitable_lashes_root_on_average) {
    expect_heights((bool[]){true, true, true}, (double[]){0.2, 0.9, 2.4});
    /* A gap of 1 mm from the next layer, of the one below first (model.md, section 7). */
    expect_heights((bool[]){true, false, true}, (double[]){0.2, 1.2, 2.4});
    expect_heights((bool[]){false, true, false}, (double[]){-0.1, 0.9, 1.9});
    expect_heights((bool[]){false, false, true}, (double[]){0.4, 1.4, 2.4});
    expect_heights((bool[]){false, false, false}, (double[]){0.0, 1.0, 2.0});
}

int main(void) {
    static const TTest *const claims[] = {
        &the_mean_lash_of_random_eyes_is_that_of_its_definition,
        &a_described_eye_has_a_mean_lash_by_the_same_definition,
        &lengths_on_a_broken_line_give_it_back,
        &a_knot_without_a_lash_near_by_is_tied_to_its_neighbours,
        &from_twelve_lengths_on_the_line_is_broken,
        &lashes_at_one_place_or_about_one_knot_have_their_mean,
        &only_suitable_lashes_count,
        &the_height_is_that_of_the_bottom_layer,
        &the_yaw_is_a_difference_from_the_fan,
        &what_is_said_of_the_mean_lash_holds_at_every_place,
        &an_eye_of_which_nothing_is_known_has_the_defaults,
        &a_missing_eye_is_told_and_outputs_stay,
        &a_layer_is_as_high_as_its_suitable_lashes_root_on_average,
    };
    return RUN_CLAIMS("mean", claims);
}
