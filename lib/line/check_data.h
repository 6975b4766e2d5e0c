/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_CHECK_DATA_H
#define TCR_LINE_CHECK_DATA_H

/* What a check is made of, and the parts that check.c puts together. */

#include <tipcrest/check.h>
#include <tipcrest/load.h>

#include "line/intended.h"
#include "model/evaluate.h"

/* What a check that gives figures alone keeps of an eye (figures.c). */
typedef struct tcr_figures tcr_figures;

/* One eye of a check. Its arrays stay from run to run and only ever grow. */
typedef struct tcr_checked_eye {
    bool present;
    tcr_eye_result result;
    size_t room; /* lashes that there is room for */
    tcr_lash_result *lash;
    /* Of the lashes that wear an extension. */
    tcr_variant variant;
    double *deviation, *across, *scratch;
    tcr_layer *layer;
    tcr_figures *figures; /* NULL at first */
    tcr_load *load;       /* of each lash of a check of figures with loads; NaN where it is bare */
    size_t load_room;
    size_t blank; /* of the lashes' results, those from the first on that have no numbers */
} tcr_checked_eye;

struct tcr_check {
    const tcr_set *set;
    size_t changes; /* of the set, when it was evaluated */
    tcr_allocator allocator;
    tcr_view view;
    tcr_against against;
    unsigned parts;
    tcr_line_options line;
    double tolerance_mm;
    bool any_length, figures_only;
    tcr_checked_eye eye[TCR_SIDES];
    tcr_intended intended[TCR_SIDES]; /* a shared one is the first */
    tcr_status symmetry_status;
    tcr_symmetry symmetry;
};

/* Whether the loads of a check are those that it keeps, and not computed when they are read. */
static inline bool tcr_check_keeps_loads(const tcr_check *check) {
    return check->figures_only && (check->parts & TCR_PART_LOADS) != 0;
}

/* For lash j of those that wear an extension: the length that brings it nearest a line. slope: how
 * far the tip of the lash before rose for a millimetre of length, not 0; receives this one's. */
tcr_remedy tcr_check_remedy(const tcr_checked_eye *eye, size_t j, const tcr_lash_result *result,
                            const tcr_line *line, double tolerance_mm, double *slope);

/* Which inputs of an eye's lashes were assumed, and what one unit of each moves a tip by. */
void tcr_check_assumptions(tcr_checked_eye *eye);

#endif
