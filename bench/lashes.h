/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_BENCH_LASHES_H
#define TCR_BENCH_LASHES_H

#include "bench.h"

#include <tipcrest/tipcrest.h>

/* The full-grown lashes of a described eye, each with a single C extension of 12, 11 or 10 mm on
 * the bottom, middle or top layer. */
static inline void tcr_bench_lashes(tcr_lash *lash, tcr_extension *extension, uint32_t count) {
    static const tcr_placement on_layer[] = {TCR_ON_TOP, TCR_OUTER_SIDE, TCR_UNDERSIDE};
    tcr_description d = tcr_description_default();
    d.count = count;
    d.phases = TCR_PHASES_NONE; /* full grown, so that all can carry one */
    size_t curls;
    const tcr_profile c = tcr_curl_catalogue(&curls)[2].profiles[0]; /* C */
    for (uint32_t i = 0; i < count; i++) {
        tcr_bench_must(tcr_describe_lash(&d, 0, i, &lash[i]) == TCR_OK, "tcr_describe_lash");
        const tcr_layer layer = lash[i].layer;
        extension[i] = (tcr_extension){.length_mm = 12.0 - (double)layer,
                                       .diameter_mm = 0.15,
                                       .fan = 1,
                                       .placement = on_layer[layer],
                                       .profile = c};
    }
}

#endif
