/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A client to plan for, by description. */
#include "support/client.h"

#include "support/check.h"

tcr_set *tcr_make_client(const tcr_allocator *allocator, size_t eyes, size_t lashes) {
    static const tcr_zone ZONES[] = {{.to = 0.3, .length_mm = 9.0, .curl = "C"},
                                     {.to = 0.7, .length_mm = 11.0, .curl = "C"},
                                     {.to = 1.0, .length_mm = 10.0, .curl = "C"}};
    tcr_set *set;
    expect_status(tcr_set_new(allocator, &set), TCR_OK);
    for (size_t e = 0; e < eyes; e++) {
        tcr_description description = tcr_description_default();
        description.count = lashes;
        description.seed = 5 + e;
        description.length_mm = 8.0;
        expect_status(tcr_set_add_eye(set, (tcr_side)e, NULL), TCR_OK);
        expect_status(tcr_set_describe(set, (tcr_side)e, &description), TCR_OK);
        expect_status(tcr_set_put_map(set, (tcr_side)e, ZONES, 3), TCR_OK);
    }
    return set;
}

tcr_set *tcr_make_measured(const tcr_allocator *allocator, size_t eyes, size_t lashes) {
    tcr_set *set = tcr_make_client(allocator, eyes, lashes);
    for (size_t e = 0; e < eyes; e++)
        expect_status(tcr_set_mark_drawn(set, (tcr_side)e, 0), TCR_OK);
    return set;
}
