/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curls: the catalogue, profiles between measured lengths, what is refused. */
#include <tipcrest/curl.h>

#include <math.h>

#include "support/check.h"
#include "support/make.h"

CLAIM(the_catalogue_is_the_contracts) {
    /* Source: model.md, section 4 (common practice, from memory): share, degrees. */
    static const struct {
        const char *label;
        int pieces;
        double piece[3][2];
    } table[] = {
        {"J", 2, {{0.50, 0}, {0.50, 35}}},
        {"B", 2, {{0.35, 0}, {0.65, 60}}},
        {"C", 2, {{0.20, 0}, {0.80, 90}}},
        {"CC", 2, {{0.15, 0}, {0.85, 110}}},
        {"D", 2, {{0.10, 0}, {0.90, 130}}},
        {"DD", 2, {{0.05, 0}, {0.95, 150}}},
        {"L", 3, {{0.30, 0}, {0.10, 45}, {0.60, 15}}},
        {"M", 3, {{0.35, 0}, {0.10, 60}, {0.55, 20}}},
    };
    size_t count;
    const tcr_curl *curls = tcr_curl_catalogue(&count);
    expect_count(count, sizeof table / sizeof table[0]);
    for (size_t i = 0; i < count; i++) {
        expect_text(curls[i].label, table[i].label);
        const tcr_profile p = tcr_curl_profile(&curls[i], 10.0);
        expect_count(p.pieces, table[i].pieces);
        for (int j = 0; j < p.pieces; j++) {
            given("curl %s, piece %d", curls[i].label, j);
            expect_same(p.share[j], table[i].piece[j][0], "given");
            expect_near(p.turn_rad[j], tcr_degrees(table[i].piece[j][1]), 1e-15, "one rounding");
        }
    }
}

CLAIM(every_curl_of_the_catalogue_is_valid) {
    size_t count;
    const tcr_curl *curls = tcr_curl_catalogue(&count);
    for (size_t i = 0; i < count; i++)
        expect_status(tcr_curl_validate(&curls[i], NULL), TCR_OK);
    (void)tcr_curl_catalogue(NULL); /* the number need not be asked for */
}

/* A curl measured at 8, 12 and 20 mm. */
static const double LENGTHS[] = {8.0, 12.0, 20.0};
static const tcr_profile MEASURED[] = {
    {2, {0.25, 0.75}, {0.0, 1.0}},
    {2, {0.125, 0.875}, {0.5, 2.0}},
    {2, {0.5, 0.5}, {-0.5, 0.0}},
};
static const tcr_curl OWN = {"own", 3, LENGTHS, MEASURED};

static void expect_profile(double length_mm, const tcr_profile *expected) {
    const tcr_profile p = tcr_curl_profile(&OWN, length_mm);
    given("length %.17g", length_mm);
    expect_count(p.pieces, expected->pieces);
    for (int j = 0; j < p.pieces; j++) {
        expect_near(p.share[j], expected->share[j], 1e-15, "one interpolation of numbers up to 2");
        expect_near(p.turn_rad[j], expected->turn_rad[j], 1e-15, "one interpolation");
    }
}

CLAIM(at_a_measured_length_the_measured_profile_is_used) {
    for (int i = 0; i < 3; i++)
        expect_profile(LENGTHS[i], &MEASURED[i]); /* source: model.md, section 4 */
}

CLAIM(between_measured_lengths_share_and_turn_are_interpolated) {
    /* Source: by hand; 9 mm is a quarter of the way to 12, 18 three quarters from 12 to 20. */
    const tcr_profile at_9 = {2, {0.21875, 0.78125}, {0.125, 1.25}};
    const tcr_profile at_18 = {2, {0.40625, 0.59375}, {-0.25, 0.5}};
    expect_profile(9.0, &at_9);
    expect_profile(18.0, &at_18);
}

CLAIM(beyond_measured_lengths_the_nearest_is_used) {
    expect_profile(3.0, &MEASURED[0]); /* source: model.md, section 4 */
    expect_profile(7.999, &MEASURED[0]);
    expect_profile(20.001, &MEASURED[2]);
    expect_profile(30.0, &MEASURED[2]);
}

CLAIM(an_interpolated_profile_is_valid_at_every_length) {
    for (double length = 3.0; length <= 30.0; length += 0.01) {
        const tcr_profile p = tcr_curl_profile(&OWN, length);
        given("length %.17g", length);
        expect_status(tcr_profile_validate(&p, NULL),
                      TCR_OK); /* shares of two that sum to 1 do so too */
    }
}

CLAIM(labels_have_1_to_15_bytes) {
    const tcr_profile p = {1, {1.0}, {1.0}};
    const tcr_curl longest = {"123456789012345", 1, NULL, &p},
                   longer = {"1234567890123456", 1, NULL, &p}, none = {"", 1, NULL, &p},
                   missing = {NULL, 1, NULL, &p};
    expect_status(tcr_curl_validate(&longest, NULL), TCR_OK); /* source: curl.h */
    expect_status(tcr_curl_validate(&longer, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_curl_validate(&none, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_curl_validate(&missing, NULL), TCR_E_ARGUMENT);
}

CLAIM(curls_that_break_the_rules_are_refused) {
    expect_status(tcr_curl_validate(&OWN, NULL), TCR_OK);
    expect_status(tcr_curl_validate(NULL, NULL), TCR_E_ARGUMENT); /* source of all: curl.h */
    tcr_curl bad = OWN;
    bad.count = 0;
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad.count = TCR_CURL_LENGTHS_MAX + 1;
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = OWN;
    bad.length_mm = NULL;
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_ARGUMENT);
    bad = OWN;
    bad.profiles = NULL;
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_ARGUMENT);
    const double falling[] = {8.0, 8.0, 20.0}, undefined[] = {8.0, NAN, 20.0};
    bad = OWN;
    bad.length_mm = falling;
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_RANGE);
    bad.length_mm = undefined;
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_RANGE);
    tcr_profile profiles[3] = {MEASURED[0], MEASURED[1], MEASURED[2]};
    bad = OWN;
    bad.profiles = profiles;
    profiles[1] = (tcr_profile){1, {1.0}, {1.0}};
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_CURL);
    profiles[1] = (tcr_profile){2, {0.5, 0.4}, {1.0, 1.0}};
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_CURL);
    profiles[1] = (tcr_profile){2, {0.5, 0.5}, {1.0, 5.0}};
    expect_status(tcr_curl_validate(&bad, NULL), TCR_E_RANGE);
}

int main(void) {
    static const TTest *const claims[] = {
        &the_catalogue_is_the_contracts,
        &every_curl_of_the_catalogue_is_valid,
        &at_a_measured_length_the_measured_profile_is_used,
        &between_measured_lengths_share_and_turn_are_interpolated,
        &beyond_measured_lengths_the_nearest_is_used,
        &an_interpolated_profile_is_valid_at_every_length,
        &labels_have_1_to_15_bytes,
        &curls_that_break_the_rules_are_refused,
    };
    return RUN_CLAIMS("curl", claims);
}
