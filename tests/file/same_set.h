/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FILE_SAME_SET_H
#define TCR_TESTS_FILE_SAME_SET_H

/* Two sets held against each other, field by field. */

#include <math.h>
#include <stdlib.h>

#include <tipcrest/set.h>

#include "support/check.h"

static const char AS_PUT_IN[] = "the fewest digits that read back as the same double";

/* ---- Every field ---------------------------------------------------------------------------- */

/*
 * A file has degrees, a set radians, and one multiplication lies between. Where a double of degrees
 * exists that becomes this angle it must be found; for about one angle in ten there is none, since
 * neighbouring doubles of degrees become radians that are up to 1.12 units in the last place apart,
 * and the next double is then the best there is.
 */
static inline void expect_angle(double got, double expected) {
    static const double DEGREE = 3.14159265358979323846 / 180.0;
    double degrees = expected / DEGREE;
    bool exact = false;
    for (int i = -2; i <= 2; i++) {
        double near = degrees;
        for (int k = 0; k < abs(i); k++)
            near = nextafter(near, i > 0 ? INFINITY : -INFINITY);
        exact = exact || near * DEGREE == expected;
    }
    if (exact)
        expect_same(got, expected, AS_PUT_IN);
    else
        expect_within(got, nextafter(expected, -INFINITY), nextafter(expected, INFINITY),
                      "no double of degrees becomes this angle");
}

static inline void expect_profile(const tcr_profile *got, const tcr_profile *expected) {
    expect_count(got->pieces, expected->pieces);
    for (int i = 0; i < expected->pieces; i++) {
        expect_same(got->share[i], expected->share[i], AS_PUT_IN);
        expect_angle(got->turn_rad[i], expected->turn_rad[i]);
    }
}

static inline void expect_curls(const tcr_set *got, const tcr_set *expected) {
    expect_count(tcr_set_curl_count(got), tcr_set_curl_count(expected));
    for (size_t i = 0; i < tcr_set_curl_count(expected); i++) {
        const tcr_curl *a = tcr_set_curl(got, i), *b = tcr_set_curl(expected, i);
        expect_text(a->label, b->label);
        expect_count(a->count, b->count);
        expect_true((a->length_mm == NULL) == (b->length_mm == NULL));
        for (size_t k = 0; k < b->count; k++) {
            if (b->length_mm != NULL)
                expect_same(a->length_mm[k], b->length_mm[k], AS_PUT_IN);
            expect_profile(&a->profiles[k], &b->profiles[k]);
        }
    }
}

static inline void expect_wish(const tcr_wish *got, const tcr_wish *expected) {
    expect_count(got->fixed, expected->fixed);
    if (expected->fixed & TCR_FIX_LENGTH)
        expect_same(got->length_mm, expected->length_mm, AS_PUT_IN);
    if (expected->fixed & TCR_FIX_CURL)
        expect_text(got->curl, expected->curl);
    if (expected->fixed & TCR_FIX_DIAMETER)
        expect_same(got->diameter_mm, expected->diameter_mm, AS_PUT_IN);
    if (expected->fixed & TCR_FIX_FAN)
        expect_count(got->fan, expected->fan);
    if (expected->fixed & TCR_FIX_SPREAD)
        expect_angle(got->spread_rad, expected->spread_rad);
    if (expected->fixed & TCR_FIX_PLACEMENT)
        expect_count(got->placement, expected->placement);
}

/* The same number, or both unknown. */
static inline void expect_known(double got, double expected) {
    if (isnan(expected))
        expect_nan(got);
    else
        expect_same(got, expected, AS_PUT_IN);
}

static inline void expect_known_angle(double got, double expected) {
    if (isnan(expected))
        expect_nan(got);
    else
        expect_angle(got, expected);
}

/* All but u, layer and condition, which a mean lash has not. */
static inline void expect_numbers(const tcr_lash *got, const tcr_lash *expected) {
    expect_known(got->height_mm, expected->height_mm);
    expect_known_angle(got->pitch_rad, expected->pitch_rad);
    expect_known_angle(got->yaw_rad, expected->yaw_rad);
    expect_known_angle(got->roll_rad, expected->roll_rad);
    expect_known(got->length_mm, expected->length_mm);
    expect_known(got->final_length_mm, expected->final_length_mm);
    expect_known_angle(got->turn_rad, expected->turn_rad);
    expect_known(got->root_diameter_mm, expected->root_diameter_mm);
    expect_known(got->tip_diameter_mm, expected->tip_diameter_mm);
}

static inline void expect_lid(const tcr_lid *got, const tcr_lid *expected) {
    expect_known(got->fissure_width_mm, expected->fissure_width_mm);
    expect_known_angle(got->canthal_tilt_rad, expected->canthal_tilt_rad);
    expect_known(got->inner_corner_height_mm, expected->inner_corner_height_mm);
    expect_known(got->mrd1_mm, expected->mrd1_mm);
    expect_known(got->mrd2_mm, expected->mrd2_mm);
    expect_known(got->peak_offset_mm, expected->peak_offset_mm);
    expect_known(got->fullness, expected->fullness);
    expect_known(got->globe_radius_mm, expected->globe_radius_mm);
    expect_known(got->lateral_semiaxis_mm, expected->lateral_semiaxis_mm);
}

static inline void expect_zones(const tcr_zone *a, size_t found, const tcr_zone *b, size_t count) {
    expect_count(found, count);
    for (size_t i = 0; i < count; i++) {
        expect_same(a[i].to, b[i].to, AS_PUT_IN);
        expect_same(a[i].length_mm, b[i].length_mm, AS_PUT_IN);
        expect_text(a[i].curl, b[i].curl);
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            expect_wish(&a[i].layer[layer], &b[i].layer[layer]);
    }
}

static inline void expect_map(const tcr_set *got, const tcr_set *expected, tcr_side side) {
    size_t count = 0, found = 0;
    const tcr_zone *b = tcr_set_map(expected, side, &count);
    const tcr_zone *a = tcr_set_map(got, side, &found);
    expect_zones(a, found, b, count);
    count = found = 0;
    b = tcr_set_intended(expected, side, &count);
    a = tcr_set_intended(got, side, &found);
    expect_zones(a, found, b, count);
}

static inline void expect_eye(const tcr_set *got, const tcr_set *expected, tcr_side side) {
    tcr_lid lid, lid_expected;
    expect_status(tcr_set_given_lid(got, side, &lid), TCR_OK);
    expect_status(tcr_set_given_lid(expected, side, &lid_expected), TCR_OK);
    expect_lid(&lid, &lid_expected);
    expect_map(got, expected, side);
    expect_count(tcr_set_lash_count(got, side), tcr_set_lash_count(expected, side));
    expect_count(tcr_set_drawn_count(got, side), tcr_set_drawn_count(expected, side));
    for (size_t i = 0; i < tcr_set_lash_count(expected, side); i++) {
        tcr_lash lash, lash_expected;
        expect_status(tcr_set_given_lash(got, side, i, &lash), TCR_OK);
        expect_status(tcr_set_given_lash(expected, side, i, &lash_expected), TCR_OK);
        const tcr_lash *a = &lash, *b = &lash_expected;
        expect_text(tcr_set_id(got, side, i), tcr_set_id(expected, side, i));
        expect_same(a->u, b->u, AS_PUT_IN);
        expect_count(a->layer, b->layer);
        expect_count(a->condition, b->condition);
        expect_numbers(a, b);
        expect_wish(tcr_set_wish(got, side, i), tcr_set_wish(expected, side, i));
    }
}

/* A file has them by curl, so that their order is another. */
static inline void expect_kinds(const tcr_tray *got, const tcr_tray *expected) {
    expect_count(got->kinds, expected->kinds);
    for (size_t k = 0; k < expected->kinds; k++) {
        const tcr_tray_kind *kind = &expected->kind[k];
        tcr_tray a, b;
        expect_status(tcr_tray_of(expected, kind->curl, kind->diameter_mm, &b), TCR_OK);
        expect_status(tcr_tray_of(got, kind->curl, kind->diameter_mm, &a), TCR_OK);
        expect_count(a.count, b.count);
        for (size_t i = 0; i < b.count; i++)
            expect_same(a.length_mm[i], b.length_mm[i], AS_PUT_IN);
    }
}

static inline void expect_rule(const tcr_set *got, const tcr_set *expected) {
    const tcr_layering *a = tcr_set_layering(got), *b = tcr_set_layering(expected);
    expect_same(a->step_mm, b->step_mm, AS_PUT_IN);
    expect_same(a->diameter_mm, b->diameter_mm, AS_PUT_IN);
    expect_count(a->fan, b->fan);
    expect_angle(a->spread_rad, b->spread_rad);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        expect_count(a->placement[layer], b->placement[layer]);
    expect_count(a->blend, b->blend);
    const tcr_tray *tray = tcr_set_tray(expected);
    expect_count(tcr_set_tray(got)->count, tray->count);
    for (size_t i = 0; i < tray->count; i++)
        expect_same(tcr_set_tray(got)->length_mm[i], tray->length_mm[i], AS_PUT_IN);
    expect_kinds(tcr_set_tray(got), tray);
    const tcr_bond *bond = tcr_set_bond(got), *was = tcr_set_bond(expected);
    expect_same(bond->offset_mm, was->offset_mm, AS_PUT_IN);
    expect_same(bond->length_mm, was->length_mm, AS_PUT_IN);
    expect_same(bond->glue_mm, was->glue_mm, AS_PUT_IN);
    expect_same(tcr_set_view(got)->opening, tcr_set_view(expected)->opening, AS_PUT_IN);
    expect_angle(tcr_set_view(got)->viewer_rad, tcr_set_view(expected)->viewer_rad);
    expect_same(tcr_set_tolerance(got), tcr_set_tolerance(expected), AS_PUT_IN);
}

static inline void expect_same_set(const tcr_set *got, const tcr_set *expected) {
    tcr_side sides[TCR_SIDES], found[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(expected, sides);
    expect_text(tcr_set_title(got), tcr_set_title(expected));
    expect_count(tcr_set_subject(got), tcr_set_subject(expected));
    expect_rule(got, expected);
    expect_curls(got, expected);
    expect_numbers(tcr_set_mean_lash(got), tcr_set_mean_lash(expected));
    expect_count(tcr_set_eyes(got, found), eyes);
    for (size_t e = 0; e < eyes; e++) {
        expect_count(found[e], sides[e]);
        expect_eye(got, expected, sides[e]);
    }
}

#endif
