/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Linear rods, arc by arc: closed forms, and the order of convergence. */
#include "rod/rod.h"

#include <math.h>

#include <gsl/gsl_integration.h>
#include <gsl/gsl_math.h>

#include "support/check.h"
#include "support/make.h"

/* Of 1 mm diameter: bending stiffness 1, torsion 2, weight w per mm. */
static tcr_rod_matter matter_of(double w) {
    return (tcr_rod_matter){.bending_uN_mm2 = 1.0, .torsion_uN_mm2 = 2.0, .weight_uN_mm3 = w};
}

/* An arc of a length that starts along x and turns towards y, in so many equal arcs. */
static tcr_rod bend_arc(double length, double turn, double own, double end_load, int arcs) {
    tcr_rod rod = {.weight_uN = end_load};
    const tcr_rod_stretch s = {
        .core = matter_of(own), .core_mm = {1.0, 1.0}, .fibre_mm = {0.0, 0.0}};
    for (int i = arcs; i > 0; i--) {
        tcr_rod_arc arc;
        tcr_rod_arc_set(&arc, length / arcs, turn / arcs, turn * i / arcs);
        tcr_rod_step(&rod, &arc, &s, true);
    }
    return rod;
}

CLAIM(the_rule_integrates_polynomials) {
    for (int k = 0; k < 2 * TCR_GAUSS; k++) {
        double sum = 0.0;
        for (int j = 0; j < TCR_GAUSS; j++)
            sum += TCR_GAUSS_WEIGHT[j] * gsl_pow_int(TCR_GAUSS_NODE[j], k);
        given("degree %d", k);
        /* Source: closed form. */
        expect_near(sum, k % 2 == 0 ? 2.0 / (k + 1) : 0.0, 1e-15, "roundings of 8 terms");
        for (int i = 0; k < TCR_GAUSS && i < TCR_GAUSS_HALF; i++) {
            const double(*rule)[TCR_GAUSS_HALF] =
                k % 2 == 0 ? TCR_GAUSS_EVEN_TO_END : TCR_GAUSS_ODD_TO_END;
            double to_end = 0.0;
            for (int j = 0; j < TCR_GAUSS_HALF; j++)
                to_end += rule[i][j] * gsl_pow_int(TCR_GAUSS_NODE[TCR_GAUSS_HALF + j], k);
            const double from = gsl_pow_int(TCR_GAUSS_NODE[TCR_GAUSS_HALF + i], k + 1);
            expect_near(to_end, (1.0 - from) / (k + 1), 1e-15, "roundings of 8 terms");
        }
    }
}

CLAIM(an_arc_with_an_end_load_bends_as_castigliano_says) {
    const double turns[] = {20.0, 60.0, 90.0, 150.0};
    for (int i = 0; i < 4; i++) {
        const double a = tcr_degrees(turns[i]), R = 1.7, P = 0.3, c = cos(a), s = sin(a);
        const tcr_rod rod = bend_arc(R * a, a, 0.0, P, 8);
        /* At the tip, the tangent is (c, s); radial is from the tip to the centre, (-s, c). */
        const tcr_vec3 radial = tcr_rod_shift(&rod, (tcr_vec3){-s, c, 0}, INFINITY);
        const tcr_vec3 tangential = tcr_rod_shift(&rod, (tcr_vec3){c, s, 0}, INFINITY);
        const tcr_vec3 across = tcr_rod_shift(&rod, (tcr_vec3){0, 0, 1}, INFINITY);
        /* Source: closed form, Castigliano (Timoshenko; Roark); science.md. */
        const double A = a / 2.0 - sin(2.0 * a) / 4.0, B = 1.0 - c - s * s / 2.0;
        const double C = 1.5 * a - 2.0 * s + sin(2.0 * a) / 4.0, unit = P * R * R * R;
        const char *why = "8 arcs of at most 19 degrees: roundings of 10";
        given("%g degrees", turns[i]);
        expect_near(-s * radial.x + c * radial.y, A * unit, 1e-14, why);
        expect_near(c * tangential.x + s * tangential.y, C * unit, 1e-14, why);
        expect_near(fabs(c * radial.x + s * radial.y), B * unit, 1e-14, why);
        expect_near(fabs(-s * tangential.x + c * tangential.y), B * unit, 1e-14, why);
        expect_near(across.z, unit * (A / 1.0 + C / 2.0), 1e-14, why);
        expect_near(hypot(across.x, across.y), 0.0, 1e-15, "a planar arc stays in its plane");
    }
}

CLAIM(a_straight_rod_under_its_own_weight_sinks_by_the_closed_form) {
    const double w = 0.2, L = 3.0;
    const tcr_rod rod = bend_arc(L, 0.0, w, 0.0, 1);
    /* Source: closed form, w L^4 / 8 EI. */
    expect_near(tcr_rod_shift(&rod, (tcr_vec3){0, -1, 0}, INFINITY).y, -w * gsl_pow_4(L) / 8.0,
                1e-15, "roundings of 2");
    expect_near(tcr_rod_shift(&rod, (tcr_vec3){0, 0, -1}, INFINITY).z, -w * gsl_pow_4(L) / 8.0,
                1e-15, "roundings of 2");
    /* And a clamp that turns by w L^2 / 2 k. */
    expect_near(tcr_rod_shift(&rod, (tcr_vec3){0, -1, 0}, 5.0).y,
                -w * gsl_pow_4(L) / 8.0 - w * L * L / 2.0 / 5.0 * L, 1e-15, "roundings of 3");
}

typedef struct own_weight {
    double turn;
    int row, column; /* of the matrix */
} own_weight;

/* The integrand of the shift per unit of w R^4 / EI, at an angle from the root: moment of a unit
 * force at the tip, times moment of the weight beyond. Torsion is as stiff as twice bending. */
static double own_weight_at(double t, void *context) {
    const own_weight *o = context;
    const double a = o->turn, rx = sin(a) - sin(t), ry = cos(t) - cos(a);
    const double sx = cos(t) - cos(a) - (a - t) * sin(t);
    const double sy = (a - t) * cos(t) - sin(a) + sin(t);
    if (o->row == 2) {
        const double bent = (cos(t) * rx + sin(t) * ry) * (cos(t) * sx + sin(t) * sy);
        const double twisted = (cos(t) * ry - sin(t) * rx) * (cos(t) * sy - sin(t) * sx);
        return bent + twisted / 2.0;
    }
    return (o->row == 0 ? -ry : rx) * (o->column == 0 ? -sy : sx);
}

CLAIM(an_arc_under_its_own_weight_bends_by_the_closed_form) {
    const double turns[] = {40.0, 90.0, 150.0};
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(1000);
    for (int i = 0; i < 3; i++) {
        const double a = tcr_degrees(turns[i]), R = 1.3, w = 0.4, unit = w * gsl_pow_4(R);
        const double c = cos(a), s = sin(a), c2 = cos(2.0 * a), s2 = sin(2.0 * a);
        /* Source: closed form, the integrals above worked out; GSL integrates them once more. */
        const double closed[3][3] = {
            {a * a / 4.0 + a * s2 / 2.0 - 2.0 * c + 9.0 / 8.0 * c2 + 7.0 / 8.0,
             -a * (c + c2 / 2.0 + 0.75) + 9.0 / 8.0 * s2, 0.0},
            {a * (1.25 - c2 / 2.0) - 3.0 * s + 9.0 / 8.0 * s2,
             a * a / 4.0 - a * (s + s2 / 2.0) + c - 9.0 / 8.0 * c2 + 0.125, 0.0},
            {0.0, 0.0, 1.0 - c - s * s / 2.0 + gsl_pow_2(a - s) / 2.0 / 2.0}};
        const tcr_rod rod = bend_arc(R * a, a, w, 0.0, 8);
        for (int row = 0; row < 3; row++)
            for (int column = 0; column < 3; column++) {
                given("%g degrees, row %d, column %d", turns[i], row, column);
                expect_near(rod.shift[row][column], closed[row][column] * unit, 2e-14,
                            "8 arcs of at most 19 degrees: roundings of 10");
                if ((row == 2) != (column == 2))
                    continue;
                own_weight o = {a, row, column};
                gsl_function f = {own_weight_at, &o};
                double value, error;
                ck_assert_int_eq(gsl_integration_qag(&f, 0.0, a, 1e-13, 0.0, 1000,
                                                     GSL_INTEG_GAUSS61, space, &value, &error),
                                 0);
                expect_near(closed[row][column], value, 1e-12, "cancellation of 10, and GSL");
            }
    }
    gsl_integration_workspace_free(space);
}

static double difference(const tcr_rod *a, const tcr_rod *b) {
    double most = 0.0;
    for (int i = 0; i < 9; i++)
        most = fmax(most, fabs(a->shift[i / 3][i % 3] - b->shift[i / 3][i % 3]));
    return most;
}

CLAIM(halving_arcs_converges_with_order_16) {
    const double turn = tcr_degrees(400.0);
    const tcr_rod fine = bend_arc(2.0, turn, 1.0, 0.0, 32);
    const tcr_rod one = bend_arc(2.0, turn, 1.0, 0.0, 1), two = bend_arc(2.0, turn, 1.0, 0.0, 2);
    const double order = log2(difference(&one, &fine) / difference(&two, &fine));
    given("off by %g with one arc, %g with two", difference(&one, &fine), difference(&two, &fine));
    /* Source: twice the number of nodes (Butcher 1964). */
    expect_within(order, 14.0, 19.0, "one halving from as coarse as it gets");
    /* lash_rod.c allows arcs of 2 rad. */
    const tcr_rod four = bend_arc(2.0, turn, 1.0, 0.0, 4);
    given("off by %g with four", difference(&four, &fine));
    expect_near(difference(&four, &fine), 0.0, 1e-10, "of 1; the contract's 1e-9, with room");
}

CLAIM(two_halves_of_a_load_add_up) {
    const tcr_rod whole = bend_arc(2.0, 1.0, 1.0, 0.6, 4), half = bend_arc(2.0, 1.0, 0.5, 0.3, 4);
    const tcr_rod own = bend_arc(2.0, 1.0, 1.0, 0.0, 4), end = bend_arc(2.0, 1.0, 0.0, 0.6, 4);
    for (int i = 0; i < 9; i++) { /* source: linear theory */
        const int r = i / 3, c = i % 3;
        expect_near(2.0 * half.shift[r][c], whole.shift[r][c], 0.0, "a power of 2");
        expect_near(own.shift[r][c] + end.shift[r][c], whole.shift[r][c], 1e-15, "roundings of 1");
    }
}

CLAIM(an_arc_that_does_not_bend_only_weighs) {
    const tcr_rod bent = bend_arc(2.0, 1.0, 1.0, 0.0, 1);
    tcr_rod stiff = {0};
    tcr_rod_arc arc;
    const tcr_rod_stretch s = {.core = matter_of(1.0), .core_mm = {1.0, 1.0}};
    tcr_rod_arc_set(&arc, 2.0, 1.0, 1.0);
    tcr_rod_step(&stiff, &arc, &s, false);
    expect_near(stiff.weight_uN, 2.0, 1e-15, "closed form: 2 mm of 1 uN");
    expect_vector(stiff.first, bent.first, 0.0, "the same sums");
    /* Source: closed form, R = 2: w R^2 (cos 0 - cos 1 - 1 sin 0, 1 - sin 1). */
    expect_near(stiff.first.x, 4.0 * (1.0 - cos(1.0)), 1e-15, "roundings of 2");
    expect_near(stiff.first.y, 4.0 * (1.0 - sin(1.0)), 1e-15, "roundings of 2");
    expect_same(stiff.shift[1][1], 0.0, "rigid");
}

CLAIM(a_bonded_rod_is_as_stiff_as_its_parts_and_their_distance_make_it) {
    /* Source: closed form. A straight cantilever with an end load sinks by P L^3 / (3 EI); of rods
     * that are bonded in the plane of bending EI is the sum and rho^2 a b / (a + b), with a and b
     * their E A (model.md, section 9), across it the sum alone. */
    const double L = 2.0, P = 0.3, apart = 1.3;
    const tcr_rod_matter core = {
        .bending_uN_mm2 = 1.0, .torsion_uN_mm2 = 2.0, .tension_uN_mm2 = 5.0};
    const tcr_rod_matter fibre = {
        .bending_uN_mm2 = 0.5, .torsion_uN_mm2 = 1.0, .tension_uN_mm2 = 3.0};
    for (int n = 1; n <= 3; n++)
        for (int aside = 0; aside <= 1; aside++) {
            tcr_rod rod = {.weight_uN = P};
            const tcr_rod_stretch s = {.core = core,
                                       .fibre = fibre,
                                       .core_mm = {1.0, 1.0},
                                       .fibre_mm = {1.0, 1.0},
                                       .fibres = n,
                                       .apart_mm = apart,
                                       .aside = aside == 1};
            tcr_rod_arc arc;
            tcr_rod_arc_set(&arc, L, 0.0, 0.0);
            tcr_rod_step(&rod, &arc, &s, true);
            const double sum = 1.0 + n * 0.5, a = 5.0, b = n * 3.0;
            const double joined = sum + apart * apart * a * b / (a + b);
            const tcr_vec3 down = tcr_rod_shift(&rod, (tcr_vec3){0, 1, 0}, INFINITY);
            const tcr_vec3 across = tcr_rod_shift(&rod, (tcr_vec3){0, 0, 1}, INFINITY);
            given("%d fibres, aside %d", n, aside);
            expect_near(down.y, P * L * L * L / 3.0 / (aside == 1 ? sum : joined), 1e-14,
                        "roundings of 10");
            expect_near(across.z, P * L * L * L / 3.0 / (aside == 1 ? joined : sum), 1e-14,
                        "roundings of 10");
        }
}

int main(void) {
    static const TTest *const claims[] = {
        &a_bonded_rod_is_as_stiff_as_its_parts_and_their_distance_make_it,
        &the_rule_integrates_polynomials,
        &an_arc_with_an_end_load_bends_as_castigliano_says,
        &a_straight_rod_under_its_own_weight_sinks_by_the_closed_form,
        &an_arc_under_its_own_weight_bends_by_the_closed_form,
        &halving_arcs_converges_with_order_16,
        &two_halves_of_a_load_add_up,
        &an_arc_that_does_not_bend_only_weighs,
    };
    return RUN_CLAIMS("rod", claims);
}
