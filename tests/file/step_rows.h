/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FILE_STEP_ROWS_H
#define TCR_TESTS_FILE_STEP_ROWS_H

/* The rows that the JSON and the CSV report of steps have of a set of defaults: for each curl, each
 * length from 8 to 15 mm by 1, and each way of placing. */

#include <tipcrest/step.h>

#include "file/sample.h"

static const char *const PLACEMENTS[] = {"top", "underside", "inner-side", "outer-side"};
enum { LENGTHS = 8, PLACED = 17, CURLS = 8 };

/* A set of defaults with a left eye. */
static inline tcr_set *new_plain(void) {
    tcr_set *set = new_set("");
    expect_status(tcr_set_add_eye(set, TCR_LEFT, NULL), TCR_OK);
    return set;
}

/* The placements of row i of a curl and length: each one below with each one on both layers above,
 * then the ones that are taught. */
static inline tcr_step_question question_of(int i, size_t curl, double length_mm) {
    const tcr_placement upper = (tcr_placement)(i % TCR_PLACEMENTS);
    tcr_step_question q = {.side = TCR_LEFT,
                           .curl = curl,
                           .bottom_length_mm = length_mm,
                           .bottom = (tcr_placement)(i / TCR_PLACEMENTS % TCR_PLACEMENTS),
                           .middle = upper,
                           .top = upper};
    if (i == PLACED - 1) {
        q.bottom = TCR_ON_TOP;
        q.middle = TCR_OUTER_SIDE;
        q.top = TCR_UNDERSIDE;
    }
    return q;
}

#endif
