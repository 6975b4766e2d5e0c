/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Described lashes from random numbers that descriptions share. */
#include <math.h>
#include <string.h>

#include <tipcrest/describe.h>
#include <tipcrest/random.h>

#include "support/check.h"
#include "support/make.h"

enum { LASHES = 96 };

/* Another description for each i, from all over the ranges that matter to the draws. */
static tcr_description description_of(gsl_rng *rng) {
    tcr_description d = tcr_description_default();
    d.count = LASHES;
    d.seed = gsl_rng_get(rng);
    d.gap_mm = tcr_draw_between(rng, 0.0, 2.0);
    d.pitch_sd_rad = tcr_draw_between(rng, 0.0, 0.3);
    d.yaw_fan_rad = tcr_draw_between(rng, -0.5, 0.5);
    d.length_mm = tcr_draw_between(rng, 2.0, 12.0);
    d.length_sd_mm = tcr_draw_between(rng, 0.0, 3.0);
    d.stray_share = tcr_draw_between(rng, 0.0, 0.2);
    d.phases = (tcr_phases)gsl_rng_uniform_int(rng, 3);
    return d;
}

CLAIM(lashes_made_from_their_numbers_are_those_of_tcr_describe_lash) {
    gsl_rng *rng = tcr_make_rng(1);
    for (int i = 0; i < 200; i++) {
        const tcr_description d = description_of(rng);
        const uint32_t eye = (uint32_t)(i % 2);
        tcr_lash_draw draw[LASHES];
        tcr_lash lashes[LASHES];
        expect_status(tcr_describe_draw(d.seed, eye, 0, LASHES, draw), TCR_OK);
        expect_status(tcr_describe_lashes(&d, 0, LASHES, draw, lashes), TCR_OK);
        for (uint32_t k = 0; k < LASHES; k++) {
            tcr_lash expected;
            given("description %d, lash %u", i, (unsigned)k);
            expect_status(tcr_describe_lash(&d, eye, k, &expected), TCR_OK);
            expect_bytes(&lashes[k], &expected, sizeof expected);
        }
    }
    gsl_rng_free(rng);
}

CLAIM(a_part_of_the_lashes_is_that_of_the_whole) {
    const tcr_description d = tcr_description_default();
    tcr_lash_draw all[LASHES], part[10];
    tcr_lash lashes[LASHES], few[10];
    expect_status(tcr_describe_draw(5, 1, 0, LASHES, all), TCR_OK);
    expect_status(tcr_describe_draw(5, 1, 40, 10, part), TCR_OK);
    expect_bytes(part, all + 40, sizeof part);
    expect_status(tcr_describe_lashes(&d, 0, LASHES, all, lashes), TCR_OK);
    expect_status(tcr_describe_lashes(&d, 40, 10, part, few), TCR_OK);
    expect_bytes(few, lashes + 40, sizeof few);
    expect_status(tcr_describe_lashes(&d, LASHES, 0, part, few), TCR_OK);
}

CLAIM(the_numbers_are_those_of_random_h) {
    /* Source: describe.h: u, row, age and stray are uniform; use 0. */
    static const bool UNIFORM[TCR_DESCRIBE_FIELDS] = {[TCR_FIELD_U] = true,
                                                      [TCR_FIELD_ROW] = true,
                                                      [TCR_FIELD_AGE] = true,
                                                      [TCR_FIELD_STRAY] = true};
    tcr_lash_draw draw[3];
    expect_status(tcr_describe_draw(77, 1, 9, 3, draw), TCR_OK);
    for (uint32_t i = 0; i < 3; i++)
        for (uint32_t field = 0; field < TCR_DESCRIBE_FIELDS; field++) {
            const tcr_random number = {.seed = 77, .lash = 9 + i, .field = field, .eye = 1};
            given("lash %u, field %u", (unsigned)i, (unsigned)field);
            expect_same(draw[i].number[field],
                        UNIFORM[field] ? tcr_random_uniform(&number) : tcr_random_normal(&number),
                        "the same call");
        }
}

CLAIM(numbers_that_no_draw_gives_are_refused) {
    const tcr_description d = tcr_description_default();
    const double never[] = {NAN, INFINITY, -INFINITY, 0.0, 1.0, -0.5, 1.5};
    tcr_lash_draw right, wrong;
    tcr_lash lash = tcr_make_default_lash(0.5, TCR_TOP);
    const tcr_lash before = lash;
    expect_status(tcr_describe_draw(1, 0, 0, 1, &right), TCR_OK);
    for (size_t i = 0; i < sizeof never / sizeof *never; i++)
        for (int field = 0; field < TCR_DESCRIBE_FIELDS; field++) {
            const bool uniform = field == TCR_FIELD_U || field == TCR_FIELD_ROW ||
                                 field == TCR_FIELD_AGE || field == TCR_FIELD_STRAY;
            if (!uniform && isfinite(never[i]))
                continue;
            wrong = right;
            wrong.number[field] = never[i];
            given("field %d, %g", field, never[i]);
            expect_status(tcr_describe_lashes(&d, 0, 1, &wrong, &lash), TCR_E_RANGE);
            expect_bytes(&lash, &before, sizeof lash);
        }
    /* However far a finite one lies out, the lash is valid. */
    for (int field = 0; field < TCR_DESCRIBE_FIELDS; field++) {
        wrong = right;
        wrong.number[field] = field == TCR_FIELD_HEIGHT ? -1e308 : 1e308;
        if (tcr_describe_lashes(&d, 0, 1, &wrong, &lash) == TCR_OK)
            expect_status(tcr_lash_validate(&lash, NULL), TCR_OK);
    }
}

CLAIM(lashes_and_eyes_that_do_not_exist_are_refused) {
    const tcr_description d = tcr_description_default();
    tcr_lash_draw draw[1];
    tcr_lash lash;
    expect_status(tcr_describe_draw(1, 2, 0, 1, draw), TCR_E_ARGUMENT);
    expect_status(tcr_describe_draw(1, 0, 0, 1, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_describe_draw(1, 0, SIZE_MAX, 1, draw), TCR_E_ARGUMENT);
    expect_status(tcr_describe_draw(1, 0, 1, SIZE_MAX, draw), TCR_E_ARGUMENT);
    expect_status(tcr_describe_draw(1, 0, UINT32_MAX - 1, 1, draw), TCR_OK);
    expect_status(tcr_describe_lashes(NULL, 0, 1, draw, &lash), TCR_E_ARGUMENT);
    expect_status(tcr_describe_lashes(&d, 0, 1, NULL, &lash), TCR_E_ARGUMENT);
    expect_status(tcr_describe_lashes(&d, 0, 1, draw, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_describe_lashes(&d, 96, 1, draw, &lash), TCR_E_ARGUMENT);
    expect_status(tcr_describe_lashes(&d, SIZE_MAX, 2, draw, &lash), TCR_E_ARGUMENT);
    tcr_description wrong = d;
    wrong.pitch_sd_rad = NAN;
    expect_status(tcr_describe_lashes(&wrong, 0, 1, draw, &lash), TCR_E_RANGE);
}

int main(void) {
    static const TTest *const claims[] = {
        &lashes_made_from_their_numbers_are_those_of_tcr_describe_lash,
        &a_part_of_the_lashes_is_that_of_the_whole,
        &the_numbers_are_those_of_random_h,
        &numbers_that_no_draw_gives_are_refused,
        &lashes_and_eyes_that_do_not_exist_are_refused,
    };
    return RUN_CLAIMS("describe_draw", claims);
}
