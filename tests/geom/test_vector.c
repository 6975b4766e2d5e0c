/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arithmetic of small vectors, by its identities. */
#include "geom/vector.h"

#include <math.h>

#include "support/check.h"
#include "support/make.h"

static const tcr_vec3 X = {1.0, 0.0, 0.0}, Y = {0.0, 1.0, 0.0}, Z = {0.0, 0.0, 1.0};

static tcr_vec3 draw(gsl_rng *rng) {
    return (tcr_vec3){tcr_draw_between(rng, -5.0, 5.0), tcr_draw_between(rng, -5.0, 5.0),
                      tcr_draw_between(rng, -5.0, 5.0)};
}

CLAIM(the_cross_product_is_right_handed) {
    expect_vector(tcr_vec3_cross(X, Y), Z, 0.0, "definition, exact");
    expect_vector(tcr_vec3_cross(Y, Z), X, 0.0, "definition, exact");
    expect_vector(tcr_vec3_cross(Z, X), Y, 0.0, "definition, exact");
}

CLAIM(cross_and_dot_keep_lagranges_identity) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 100; i++) {
        const tcr_vec3 a = draw(rng), b = draw(rng), c = tcr_vec3_cross(a, b);
        /* Source: |a x b|^2 + (a.b)^2 = |a|^2 |b|^2, and a x b stands at right angles to both. */
        const double left = tcr_vec3_dot(c, c) + tcr_vec3_dot(a, b) * tcr_vec3_dot(a, b);
        const double right = tcr_vec3_dot(a, a) * tcr_vec3_dot(b, b);
        expect_near(left, right, 1e-14 * (1.0 + right), "a dozen roundings");
        expect_near(tcr_vec3_dot(a, c), 0.0, 2e-13, "rounding of products up to 250");
        expect_near(tcr_vec3_dot(b, c), 0.0, 2e-13, "rounding of products up to 250");
    }
    gsl_rng_free(rng);
}

CLAIM(a_unit_vector_has_length_1_and_keeps_its_direction) {
    gsl_rng *rng = tcr_make_rng(2);
    for (int i = 0; i < 100; i++) {
        const tcr_vec3 a = draw(rng), u = tcr_vec3_unit(a);
        expect_near(tcr_vec3_length(u), 1.0, 1e-15, "a few roundings"); /* source: definition */
        expect_vector(tcr_vec3_scale(tcr_vec3_length(a), u), a, 5e-15, "roundings of 5");
    }
    gsl_rng_free(rng);
}

CLAIM(a_step_adds_a_multiple) {
    const tcr_vec3 a = {1.0, 2.0, 3.0}, b = {4.0, -8.0, 16.0}, expected = {3.0, -2.0, 11.0};
    expect_vector(tcr_vec3_step(a, 0.5, b), expected, 0.0, "by hand, exact in binary");
    expect_vector(tcr_vec3_add(a, tcr_vec3_scale(0.5, b)), expected, 0.0, "by hand, exact");
}

int main(void) {
    static const TTest *const claims[] = {
        &the_cross_product_is_right_handed,
        &cross_and_dot_keep_lagranges_identity,
        &a_unit_vector_has_length_1_and_keeps_its_direction,
        &a_step_adds_a_multiple,
    };
    return RUN_CLAIMS("vector", claims);
}
