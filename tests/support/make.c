/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Things to test with: by name, and at random from a fixed seed. */
#include "support/make.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_math.h>

#include <tipcrest/tips.h>

#include "support/check.h"

double tcr_degrees(double degrees) { return degrees * (M_PI / 180.0); }

tcr_extension tcr_make_extension(const char *curl, double length_mm, tcr_placement placement) {
    size_t count;
    const tcr_curl *catalogue = tcr_curl_catalogue(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(catalogue[i].label, curl) == 0)
            return (tcr_extension){
                .length_mm = length_mm,
                .diameter_mm = 0.15,
                .fan = 1,
                .placement = placement,
                .profile = tcr_curl_profile(&catalogue[i], length_mm),
            };
    ck_abort_msg("the catalogue lacks curl %s", curl);
}

tcr_lash tcr_make_default_lash(double u, tcr_layer layer) {
    const tcr_lash unknown = tcr_lash_unknown(u, layer);
    return tcr_lash_complete(&unknown, NULL);
}

tcr_lash tcr_make_lash(double u, double height_mm) {
    tcr_lash lash = tcr_make_default_lash(u, TCR_BOTTOM);
    lash.height_mm = height_mm;
    return lash;
}

double tcr_seen_height(const tcr_lash *lash, const tcr_extension *ext, const tcr_view *view) {
    const tcr_lid lid = tcr_lid_default();
    const tcr_bond bond = tcr_bond_default();
    tcr_vec3 tip;
    expect_status(tcr_tip(&lid, view->opening, lash, ext, &bond, &tip), TCR_OK);
    return tcr_view_project(view, tip).y;
}

tcr_vec3 tcr_mirror(tcr_vec3 v) { return (tcr_vec3){-v.x, v.y, v.z}; }

gsl_rng *tcr_make_rng(unsigned long seed) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    ck_assert_ptr_nonnull(rng);
    gsl_rng_set(rng, seed);
    return rng;
}

double tcr_draw_between(gsl_rng *rng, double low, double high) {
    return low + (high - low) * gsl_rng_uniform(rng);
}

tcr_profile tcr_draw_profile(gsl_rng *rng, double low_deg, double high_deg) {
    tcr_profile profile = {.pieces = 1 + (int)gsl_rng_uniform_int(rng, TCR_PIECES_MAX)};
    double sum = 0.0;
    for (int i = 0; i < profile.pieces; i++) {
        profile.share[i] = tcr_draw_between(rng, 0.1, 1.0);
        profile.turn_rad[i] = tcr_degrees(tcr_draw_between(rng, low_deg, high_deg));
        sum += profile.share[i];
    }
    for (int i = 0; i < profile.pieces; i++)
        profile.share[i] /= sum;
    return profile;
}

tcr_lash tcr_draw_lash(gsl_rng *rng) {
    tcr_lash lash = {
        .u = tcr_draw_between(rng, 0.02, 0.98),
        .height_mm = tcr_draw_between(rng, -2.0, 8.0),
        .pitch_rad = tcr_degrees(tcr_draw_between(rng, -84.0, 84.0)),
        .yaw_rad = tcr_degrees(tcr_draw_between(rng, -84.0, 84.0)),
        .roll_rad = tcr_degrees(tcr_draw_between(rng, -90.0, 90.0)),
        .length_mm = tcr_draw_between(rng, 4.0, 20.0),
        .final_length_mm = NAN,
        .turn_rad = tcr_degrees(tcr_draw_between(rng, -60.0, 200.0)),
        .root_diameter_mm = tcr_draw_between(rng, 0.02, 0.2),
        .layer = (tcr_layer)gsl_rng_uniform_int(rng, TCR_LAYERS),
    };
    lash.tip_diameter_mm = lash.root_diameter_mm * gsl_rng_uniform(rng);
    return lash;
}

tcr_extension tcr_draw_extension(gsl_rng *rng) {
    return (tcr_extension){
        .length_mm = tcr_draw_between(rng, 3.0, 30.0),
        .diameter_mm = tcr_draw_between(rng, 0.02, 0.3),
        .fan = 1 + (int)gsl_rng_uniform_int(rng, 20),
        .spread_rad = tcr_degrees(tcr_draw_between(rng, 0.0, 120.0)),
        .placement = (tcr_placement)gsl_rng_uniform_int(rng, TCR_PLACEMENTS),
        .profile = tcr_draw_profile(rng, -20.0, 60.0),
    };
}

tcr_bond tcr_draw_bond(gsl_rng *rng) {
    return (tcr_bond){
        .offset_mm = tcr_draw_between(rng, 0.0, 3.0),
        .length_mm = tcr_draw_between(rng, 1.0, 8.0),
        .glue_mm = tcr_draw_between(rng, 0.0, 0.2),
    };
}

tcr_lid tcr_draw_lid(gsl_rng *rng) {
    tcr_lid lid = {
        .fissure_width_mm = tcr_draw_between(rng, 22.0, 30.0),
        .canthal_tilt_rad = tcr_degrees(tcr_draw_between(rng, -4.0, 8.0)),
        .inner_corner_height_mm = tcr_draw_between(rng, -2.0, 0.0),
        .mrd1_mm = tcr_draw_between(rng, 1.0, 4.5),
        .mrd2_mm = tcr_draw_between(rng, 4.0, 6.0),
        .peak_offset_mm = tcr_draw_between(rng, -2.0, 2.0),
        .fullness = tcr_draw_between(rng, 1.4, 2.2),
        .globe_radius_mm = tcr_draw_between(rng, 11.5, 13.0),
        .lateral_semiaxis_mm = tcr_draw_between(rng, 17.0, 20.0),
    };
    given("a lid drawn at random, width %.17g, mrd1 %.17g", lid.fissure_width_mm, lid.mrd1_mm);
    expect_status(tcr_lid_validate(&lid, NULL), TCR_OK);
    given("nothing more");
    return lid;
}

tcr_wish tcr_only_fixed(const tcr_wish *all) {
    tcr_wish wish = {.fixed = all->fixed};
    wish.length_mm = all->fixed & TCR_FIX_LENGTH ? all->length_mm : 0.0;
    wish.diameter_mm = all->fixed & TCR_FIX_DIAMETER ? all->diameter_mm : 0.0;
    wish.fan = all->fixed & TCR_FIX_FAN ? all->fan : 0;
    wish.spread_rad = all->fixed & TCR_FIX_SPREAD ? all->spread_rad : 0.0;
    wish.placement = all->fixed & TCR_FIX_PLACEMENT ? all->placement : TCR_ON_TOP;
    wish.from_skin_mm = all->fixed & TCR_FIX_FROM_SKIN ? all->from_skin_mm : 0.0;
    if (all->fixed & TCR_FIX_CURL)
        memcpy(wish.curl, all->curl, sizeof wish.curl);
    return wish;
}
