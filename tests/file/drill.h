/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FILE_DRILL_H
#define TCR_TESTS_FILE_DRILL_H

/* Sets that have some causes of unevenness and lack others, and the reports of why. */

#include <tipcrest/file.h>
#include <tipcrest/why.h>

#include "file/read_report.h"
#include "file/sample.h"

static const char *const CAUSES[TCR_CAUSES] = {"root_heights",   "layer_shortening",
                                               "placement",      "zone_steps",
                                               "single_choices", "natural_variation"};

/*
 * An invented eye of 90 lashes; a bit for each cause that it is to have. What it lacks is as if
 * levelled out (model.md, section 8), and the mean lash has the defaults with every cause.
 */
static inline tcr_set *new_drill(unsigned causes) {
    tcr_set *set = new_set("");
    tcr_layering layering = tcr_layering_default();
    const bool placed = causes >> TCR_CAUSE_PLACEMENT & 1u;
    layering.step_mm = causes >> TCR_CAUSE_SHORTENING & 1u ? 1.0 : 0.0;
    layering.placement[TCR_BOTTOM] = TCR_ON_TOP;
    layering.placement[TCR_MIDDLE] = placed ? TCR_OUTER_SIDE : TCR_ON_TOP;
    layering.placement[TCR_TOP] = placed ? TCR_UNDERSIDE : TCR_ON_TOP;
    const tcr_zone one = {.to = 1, .length_mm = 12, .curl = "C"};
    const tcr_zone three[] = {{.to = 0.3, .length_mm = 10, .curl = "C"},
                              {.to = 0.7, .length_mm = 12, .curl = "C"},
                              {.to = 1, .length_mm = 11, .curl = "C"}};
    const bool zones = causes >> TCR_CAUSE_ZONES & 1u;
    expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones ? three : &one, zones ? 3 : 1), TCR_OK);
    for (int i = 0; i < 90; i++) {
        char id[16];
        snprintf(id, sizeof id, "d%d", i);
        tcr_lash lash = tcr_lash_unknown(0.05 + 0.01 * i, (tcr_layer)(i % TCR_LAYERS));
        if (!(causes >> TCR_CAUSE_HEIGHTS & 1u))
            lash.height_mm = 0.0;
        if (causes >> TCR_CAUSE_VARIATION & 1u)
            lash.turn_rad = tcr_degrees(60 + 2 * (i * 7 % 10) - 9); /* 60 in the mean */
        const double zone_mm = zones ? three[lash.u < 0.3   ? 0
                                             : lash.u < 0.7 ? 1
                                                            : 2]
                                           .length_mm
                                     : one.length_mm;
        const tcr_wish longer = {.fixed = TCR_FIX_LENGTH,
                                 .length_mm =
                                     zone_mm - layering.step_mm * (double)lash.layer + 1.0};
        const bool single = causes >> TCR_CAUSE_SINGLE & 1u && i % 10 == 3;
        add_lash(set, TCR_LEFT, id, &lash, single ? &longer : NULL);
    }
    return set;
}

static inline tcr_check *check_against(const tcr_set *set, tcr_against against) {
    tcr_check_options options = tcr_check_options_default();
    options.against = against;
    return new_check(set, &options);
}

static inline char *table_of(const tcr_check *check) {
    text written = {0};
    expect_status(tcr_report_why_table(check, true, keep_text, &written), TCR_OK);
    return written.bytes;
}

#endif
