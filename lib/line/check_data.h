/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_CHECK_DATA_H
#define TCR_LINE_CHECK_DATA_H

/* What a check is made of, and the steps that check.c puts together. */

#include <tipcrest/check.h>

#include "model/lid_kernel.h"

/* Columns over the lashes of one eye that carry an extension, and scratch, all within one block. */
typedef struct tcr_check_columns {
    size_t n;
    double *block;
    double *x, *y;              /* in the view of the check */
    double *deviation, *across; /* of the line that was asked last */
    double *scratch;
    size_t *lash; /* index of the lash in its eye */
    tcr_layer *layer;
    tcr_vec3 *closed; /* tips with the eye closed */
} tcr_check_columns;

struct tcr_check {
    const tcr_set *set;
    tcr_allocator allocator;
    tcr_view view;
    tcr_against against;
    bool present[TCR_SIDES];
    tcr_eye_result eye[TCR_SIDES];
    tcr_lash_result *lash[TCR_SIDES];
    tcr_status symmetry_status;
    tcr_symmetry symmetry;
};

/* The tips of the mean lash that the intended line runs through, TCR_LINE_SAMPLES places; x and y
 * are undefined after a failure. */
tcr_status tcr_check_intended_points(const tcr_set *set, tcr_side side, const tcr_view *view,
                                     double *x, double *y);

/* The intended line of an eye in a view: through the tips of the mean lash at 201 places. */
tcr_status tcr_check_intended_line(const tcr_set *set, tcr_side side, const tcr_view *view,
                                   tcr_line *line);

/* For a lash that carries an extension: the tray length that brings it nearest a line. */
tcr_remedy tcr_check_remedy(const tcr_set *set, tcr_side side, size_t i,
                            const tcr_lash_result *result, const tcr_view *view,
                            const tcr_line *line);

/* Which inputs of an eye's lashes were assumed, and what one unit of each moves a tip by. */
void tcr_check_assumptions(const tcr_set *set, tcr_side side, const tcr_view *view,
                           tcr_eye_result *eye);

#endif
