/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plausible eye, and what each mistake makes of it. */
#include "support/doubtful.h"

#include "support/check.h"
#include "support/make.h"

static tcr_lash make_lash(tcr_doubt_kind kind, size_t i) {
    const double share = (double)i / DOUBTFUL_LASHES; /* of the way along the lid */
    int layer = (int)(i % TCR_LAYERS);
    double apart_mm = 1.0;
    tcr_lash lash = tcr_lash_unknown(0.05 + 0.9 * share, (tcr_layer)layer);
    lash.length_mm = 7.0 + 0.1 * (double)(i % 17);
    lash.turn_rad = tcr_degrees(50.0 + (double)(i % 13));
    lash.pitch_rad = tcr_degrees(-10.0 + (double)(i % 7));
    if (kind == TCR_DOUBT_LAYERS_REVERSED)
        apart_mm = -1.0;
    if (kind == TCR_DOUBT_HEIGHTS_CM)
        apart_mm = 0.1;
    if (kind == TCR_DOUBT_LENGTHS_CM)
        lash.length_mm /= 10.0;
    if (kind == TCR_DOUBT_TURNS_RAD)
        lash.turn_rad *= tcr_degrees(1.0);
    if (kind == TCR_DOUBT_LAYERS_ALONG_LID)
        layer = (int)(TCR_LAYERS * i / DOUBTFUL_LASHES);
    if (kind == TCR_DOUBT_ONE_HALF)
        lash.u /= 2.0;
    if (kind == TCR_DOUBT_ALL_ALIKE) {
        lash.length_mm = 8.0;
        lash.turn_rad = tcr_degrees(60.0);
        lash.pitch_rad = tcr_degrees(-10.0);
    }
    lash.layer = kind == TCR_DOUBT_ONE_LAYER ? TCR_BOTTOM : (tcr_layer)layer;
    lash.height_mm = apart_mm * layer;
    return lash;
}

tcr_set *tcr_make_doubtful(tcr_doubt_kind kind, tcr_side side) {
    static const tcr_zone ZONES[] = {{.to = 1.0, .length_mm = 10.0, .curl = "C"}};
    /* C in radians, near enough. */
    const tcr_profile radians = {
        .pieces = 2, .share = {0.2, 0.8}, .turn_rad = {0.0, tcr_degrees(1.5)}};
    const tcr_curl curl = {"MINE", 1, NULL, &radians};
    tcr_lid lid = tcr_lid_unknown();
    tcr_set *set;
    if (kind == TCR_DOUBT_LID_HARDLY_OPENS)
        lid.mrd1_mm = 0.35;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    if (kind == TCR_DOUBT_CURLS_RAD)
        expect_status(tcr_set_add_curl(set, &curl), TCR_OK);
    expect_status(tcr_set_add_eye(set, side, &lid), TCR_OK);
    expect_status(tcr_set_put_map(set, side, ZONES, 1), TCR_OK);
    for (size_t i = 0; i < DOUBTFUL_LASHES; i++) {
        const tcr_lash lash = make_lash(kind, i);
        expect_status(tcr_set_add_lashes(set, side, 1, NULL, &lash, NULL), TCR_OK);
    }
    return set;
}
