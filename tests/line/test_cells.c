/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a cell of the causes wears (model.md, section 8), against sets that wear just that. */
#include <tipcrest/why.h>

#include <math.h>
#include <stdio.h>

#include <tipcrest/tipcrest.h>

#include "support/check.h"
#include "support/make.h"

enum { ALL = TCR_COMBINATIONS - 1, LASHES = 96 };
static const unsigned NO_SINGLE = ALL & ~(1u << TCR_CAUSE_SINGLE);

static const tcr_zone ZONES[] = {
    {.to = 0.5, .length_mm = 10.0, .curl = "C"},
    {.to = 1.0, .length_mm = 12.0, .curl = "CC"},
};

/* Every lash, or three in four of them, wears by its row what no zone gives. */
static tcr_why causes_of_rows(bool all) {
    const tcr_wish own = {.fixed = TCR_FIX_CURL | TCR_FIX_DIAMETER | TCR_FIX_FAN | TCR_FIX_SPREAD |
                                   TCR_FIX_PLACEMENT,
                          .curl = "D",
                          .diameter_mm = 0.07,
                          .fan = 3,
                          .spread_rad = 0.2,
                          .placement = TCR_INNER_SIDE};
    tcr_set *set = NULL;
    tcr_check *check = NULL;
    tcr_why why;
    expect_status(tcr_set_new(NULL, &set), TCR_OK);
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    expect_status(tcr_set_put_map(set, TCR_LEFT, ZONES, 2), TCR_OK);
    for (uint32_t k = 0; k < LASHES; k++) {
        char id[16];
        snprintf(id, sizeof id, "r%u", (unsigned)k);
        tcr_lash lash =
            tcr_lash_unknown(0.03 + 0.94 * k / (LASHES - 1), (tcr_layer)(k % TCR_LAYERS));
        lash.pitch_rad = tcr_degrees(10.0 + k % 7);
        const bool wears = all || k / TCR_LAYERS % 4 != 3;
        expect_status(tcr_set_add_lash(set, TCR_LEFT, id, &lash, wears ? &own : NULL), TCR_OK);
    }
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_status(tcr_why_of(check, TCR_LEFT, &why), TCR_OK);
    tcr_check_free(check);
    tcr_set_free(set);
    return why;
}

CLAIM(a_cell_wears_what_most_of_its_rows_say) {
    const tcr_why some = causes_of_rows(false), every = causes_of_rows(true);
    /* Where all rows say the same, there are no single choices. */
    expect_near(every.mean_square_mm2[NO_SINGLE], every.mean_square_mm2[ALL], 1e-12,
                "lines good to 1e-10 mm");
    /* Where one in four says nothing, levelling these out gives that same set. */
    expect_near(some.mean_square_mm2[NO_SINGLE], every.mean_square_mm2[ALL], 1e-12, "as above");
    expect_true(fabs(some.mean_square_mm2[ALL] - every.mean_square_mm2[ALL]) > 1e-6);
}

int main(void) {
    static const TTest *const claims[] = {&a_cell_wears_what_most_of_its_rows_say};
    return RUN_CLAIMS("cells", claims);
}
