/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_STUDY_SETS_H
#define TCR_TESTS_STUDY_SETS_H

/* Sets to study, built in memory; the caller's to free. */

#include <stdio.h>

#include <tipcrest/study.h>
#include <tipcrest/tipcrest.h>

#include "support/check.h"

static inline void take_any_length(tcr_set *set) {
    tcr_tray tray = tcr_tray_default();
    tray.count = 0;
    expect_status(tcr_set_put_tray(set, &tray), TCR_OK);
}

/* One described eye of 96 lashes with four zones, the third with a top layer of its own; no tray.
 */
static inline tcr_set *described_set(void) {
    tcr_set *set;
    tcr_description d = tcr_description_default();
    tcr_layering layering = tcr_layering_default();
    tcr_zone zones[] = {{.to = 0.2, .length_mm = 9, .curl = "C"},
                        {.to = 0.4, .length_mm = 10, .curl = "C"},
                        {.to = 0.8, .length_mm = 12, .curl = "C"},
                        {.to = 1, .length_mm = 11, .curl = "C"}};
    zones[2].layer[TCR_TOP] =
        (tcr_wish){.fixed = TCR_FIX_LENGTH | TCR_FIX_CURL, .length_mm = 10, .curl = "D"};
    layering.placement[TCR_MIDDLE] = TCR_OUTER_SIDE;
    d.seed = 11;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    take_any_length(set);
    expect_status(tcr_set_put_layering(set, &layering), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, zones, 4), TCR_OK);
    expect_status(tcr_set_describe(set, TCR_LEFT, &d), TCR_OK);
    return set;
}

/* Two eyes of 40 lashes, as if surveyed, with two zones each; the right one has an intended map. */
static inline tcr_set *surveyed_set(void) {
    tcr_set *set;
    const tcr_zone left[] = {{.to = 0.4, .length_mm = 10, .curl = "C"},
                             {.to = 1, .length_mm = 12, .curl = "D"}};
    const tcr_zone right[] = {{.to = 0.6, .length_mm = 9.5, .curl = "CC"},
                              {.to = 1, .length_mm = 11, .curl = "C"}};
    const tcr_zone meant[] = {{.to = 0.5, .length_mm = 10.5, .curl = "B"},
                              {.to = 1, .length_mm = 11.5, .curl = "C"}};
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    take_any_length(set);
    for (int side = 0; side < TCR_SIDES; side++) {
        expect_status(tcr_set_add_eye(set, (tcr_side)side, NULL), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)side, side == 0 ? left : right, 2), TCR_OK);
        for (int i = 0; i < 40; i++) {
            char id[16];
            tcr_lash lash = tcr_lash_unknown(0.06 + 0.022 * i, (tcr_layer)(i % TCR_LAYERS));
            lash.length_mm = 6.5 + 0.1 * (i * 7 % 20);
            lash.condition = i % 11 == 0 ? TCR_BABY : TCR_SUITABLE;
            snprintf(id, sizeof id, "s%02d", i);
            expect_status(tcr_set_add_lash(set, (tcr_side)side, id, &lash, NULL), TCR_OK);
        }
    }
    expect_status(tcr_set_put_intended(set, TCR_RIGHT, meant, 2), TCR_OK);
    return set;
}

/* A factor with levels. */
static inline void add_levels(tcr_study *study, const char *key, const double *level,
                              size_t levels) {
    const tcr_factor f = {.key = key, .distribution = TCR_LEVELS, .level = level, .levels = levels};
    tcr_error error = tcr_error_none();
    if (tcr_study_add_factor(study, &f, &error) != TCR_OK)
        ck_abort_msg("%s", error.message);
}

#endif
