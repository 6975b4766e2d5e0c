/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FILE_SETS_DRAWN_H
#define TCR_TESTS_FILE_SETS_DRAWN_H

/* Sets drawn at random over all that the calls of set.h take. */

#include <math.h>
#include <stdio.h>

#include <tipcrest/set.h>

#include "file/sample.h"
#include "support/check.h"
#include "support/make.h"

static inline bool toss(gsl_rng *rng) { return gsl_rng_uniform(rng) < 0.5; }

static inline int below(gsl_rng *rng, int n) {
    return (int)gsl_rng_uniform_int(rng, (unsigned long)n);
}

static inline double angle(gsl_rng *rng, double low_deg, double high_deg) {
    const double degrees = tcr_draw_between(rng, low_deg, high_deg);
    /* As a person writes it, or any double. */
    return tcr_degrees(toss(rng) ? round(degrees * 10.0) / 10.0 : degrees);
}

static const char *const LABELS[] = {"C", "DD", "X", "measured \xc3\xa9", "-", "=y", "1", "true"};
enum { LABEL_COUNT = sizeof LABELS / sizeof *LABELS };

static inline void draw_wish(gsl_rng *rng, const tcr_tray *tray, bool in_map, tcr_wish *wish) {
    *wish = (tcr_wish){
        .fixed = (unsigned)below(rng, TCR_FIX_BARE),
        .length_mm = in_map ? tray->length_mm[below(rng, (int)tray->count)]
                            : tcr_draw_between(rng, 3.0, 30.0),
        .diameter_mm = tcr_draw_between(rng, 0.02, 0.3),
        .fan = 1 + below(rng, 20),
        .spread_rad = angle(rng, 0.0, 120.0),
        .placement = (tcr_placement)below(rng, TCR_PLACEMENTS),
    };
    snprintf(wish->curl, sizeof wish->curl, "%s", LABELS[below(rng, LABEL_COUNT)]);
    if (!in_map && toss(rng)) /* a bare lash has no length */
        wish->fixed = (wish->fixed & ~(unsigned)TCR_FIX_LENGTH) | TCR_FIX_BARE;
    *wish = tcr_only_fixed(wish);
}

/* Makes any of some numbers unknown. */
static inline void forget(gsl_rng *rng, double *const *number, size_t n) {
    for (size_t i = 0; i < n; i++)
        if (toss(rng))
            *number[i] = NAN;
}

/* Some numbers of a lash are not known. */
static inline void assume_some(gsl_rng *rng, tcr_lash *lash) {
    double *const numbers[] = {&lash->height_mm,        &lash->pitch_rad,       &lash->yaw_rad,
                               &lash->roll_rad,         &lash->final_length_mm, &lash->turn_rad,
                               &lash->root_diameter_mm, &lash->tip_diameter_mm};
    lash->final_length_mm = tcr_draw_between(rng, 1.0, 20.0);
    forget(rng, numbers, sizeof numbers / sizeof *numbers);
}

/* Curls in diameters, each with some of the lengths; the first has all. */
static inline void draw_kinds(gsl_rng *rng, tcr_tray *tray) {
    const uint64_t all = UINT64_MAX >> (TCR_TRAY_MAX - tray->count);
    tray->kinds = (size_t)(1 + below(rng, 12));
    for (size_t k = 0; k < tray->kinds; k++) {
        tcr_tray_kind *kind = &tray->kind[k];
        snprintf(kind->curl, sizeof kind->curl, "%s", LABELS[below(rng, LABEL_COUNT)]);
        kind->diameter_mm = tcr_draw_between(rng, 0.02, 0.3);
        kind->lengths = k == 0 ? all : all & ~(UINT64_MAX << (1 + below(rng, 63)));
    }
}

static inline tcr_lid draw_lid(gsl_rng *rng) {
    tcr_lid lid, complete;
    do {
        lid = tcr_draw_lid(rng);
        double *const measures[] = {
            &lid.fissure_width_mm, &lid.canthal_tilt_rad, &lid.inner_corner_height_mm,
            &lid.mrd1_mm,          &lid.mrd2_mm,          &lid.peak_offset_mm,
            &lid.fullness,         &lid.globe_radius_mm,  &lid.lateral_semiaxis_mm};
        forget(rng, measures, sizeof measures / sizeof *measures);
        complete = tcr_lid_complete(&lid, NULL);
    } while (tcr_lid_validate(&complete, NULL) != TCR_OK);
    return lid;
}

/* A catalogue's curl replaced, curls of one profile, and one measured at several lengths. */
static inline void add_curls(gsl_rng *rng, tcr_set *set) {
    for (int i = 0; i < LABEL_COUNT; i++) {
        enum { LENGTHS = 5 };
        double length_mm[LENGTHS];
        tcr_profile profiles[LENGTHS];
        const size_t count = i == 3 ? LENGTHS : 1;
        for (size_t k = 0; k < count; k++) {
            length_mm[k] = (k > 0 ? length_mm[k - 1] : 3.0) + tcr_draw_between(rng, 0.1, 5.0);
            do
                profiles[k] = tcr_draw_profile(rng, -90.0, 270.0);
            while (profiles[k].pieces != 2 + i % 3);
        }
        const tcr_curl curl = {LABELS[i], count, count > 1 ? length_mm : NULL, profiles};
        given("curl %s", LABELS[i]);
        expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
    }
}

static inline void draw_eye(gsl_rng *rng, tcr_set *set, tcr_side side) {
    const tcr_tray *tray = tcr_set_tray(set);
    const tcr_lid lid = draw_lid(rng);
    tcr_zone zones[6];
    const int count = 1 + below(rng, 6);
    double to = 0.0;
    for (int z = 0; z < count; z++) {
        to += tcr_draw_between(rng, 0.01, 0.15);
        zones[z] = (tcr_zone){.to = z == count - 1 ? 1.0 : to,
                              .length_mm = tray->length_mm[below(rng, (int)tray->count)]};
        snprintf(zones[z].curl, sizeof zones[z].curl, "%s", LABELS[below(rng, LABEL_COUNT)]);
        for (int layer = 0; layer < TCR_LAYERS; layer++)
            draw_wish(rng, tray, true, &zones[z].layer[layer]);
    }
    expect_status(tcr_set_add_eye(set, side, &lid), TCR_OK);
    expect_status(tcr_set_put_map(set, side, zones, (size_t)count), TCR_OK);
    if (toss(rng)) {
        draw_wish(rng, tray, true, &zones[0].layer[TCR_TOP]);
        zones[0].length_mm = tray->length_mm[0];
        expect_status(tcr_set_put_intended(set, side, zones, (size_t)count), TCR_OK);
    }
    for (int i = 0; i < 40; i++) {
        char id[16];
        tcr_wish wish;
        tcr_lash lash = tcr_draw_lash(rng);
        lash.condition = (tcr_condition)below(rng, TCR_CONDITIONS);
        assume_some(rng, &lash);
        const tcr_lash complete = tcr_lash_complete(&lash, NULL);
        if (complete.tip_diameter_mm > complete.root_diameter_mm)
            lash.tip_diameter_mm = 0.0;
        draw_wish(rng, tray, false, &wish);
        snprintf(id, sizeof id, "%d", i);
        add_lash(set, side, id, &lash, &wish);
    }
    if (toss(rng))
        expect_status(tcr_set_mark_drawn(set, side, tcr_set_lash_count(set, side)), TCR_OK);
}

static inline tcr_set *draw_set(gsl_rng *rng) {
    tcr_set *set = new_set("drawn");
    const tcr_bond bond = tcr_draw_bond(rng);
    const tcr_layering rule = {
        .step_mm = tcr_draw_between(rng, 0.0, 3.0),
        .diameter_mm = tcr_draw_between(rng, 0.02, 0.3),
        .fan = 1 + below(rng, 20),
        .spread_rad = angle(rng, 0.0, 120.0),
        .placement = {(tcr_placement)below(rng, 4), (tcr_placement)below(rng, 4),
                      (tcr_placement)below(rng, 4)},
        .blend = toss(rng),
    };
    const tcr_view view = {gsl_rng_uniform(rng), angle(rng, -79.0, 79.0)};
    tcr_tray tray = {.count = (size_t)(1 + below(rng, TCR_TRAY_MAX))};
    for (size_t i = 0; i < tray.count; i++)
        tray.length_mm[i] =
            (i > 0 ? tray.length_mm[i - 1] : 3.0) + tcr_draw_between(rng, 0.01, 0.4);
    if (toss(rng))
        draw_kinds(rng, &tray);
    tcr_lash mean = tcr_draw_lash(rng);
    mean.u = 0.5, mean.layer = TCR_BOTTOM;
    tcr_lash complete;
    do {
        mean = tcr_draw_lash(rng);
        assume_some(rng, &mean);
        complete = tcr_lash_complete(&mean, NULL);
    } while (complete.tip_diameter_mm > complete.root_diameter_mm);
    expect_status(tcr_set_put_subject(set, toss(rng) ? TCR_CLIENT : TCR_PRACTICE_HEAD), TCR_OK);
    add_curls(rng, set);
    expect_status(tcr_set_put_bond(set, &bond), TCR_OK);
    expect_status(tcr_set_put_layering(set, &rule), TCR_OK);
    expect_status(tcr_set_put_view(set, &view), TCR_OK);
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
    expect_status(tcr_set_put_tolerance(set, tcr_draw_between(rng, 0.05, 5.0)), TCR_OK);
    expect_status(tcr_set_put_mean_lash(set, &mean), TCR_OK);
    const tcr_side first = (tcr_side)below(rng, TCR_SIDES);
    draw_eye(rng, set, first);
    if (toss(rng))
        draw_eye(rng, set, (tcr_side)(TCR_SIDES - 1 - (int)first));
    return set;
}

#endif
