/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_REPORT_STEP_H
#define TCR_FILE_REPORT_STEP_H

/* What both reports of the level steps share: which questions are put, and their answers. */

#include <tipcrest/file.h>
#include <tipcrest/step.h>

#include "file/report.h"

/* The options, looked up in the set. */
typedef struct tcr_step_range {
    const tcr_set *set;
    tcr_side side;
    size_t first_curl, curls; /* the first one and how many */
    double first_mm;          /* lengths by 1 mm from here */
    int lengths;
    size_t shown_curl; /* of the sensitivities */
    double shown_mm;   /* bottom length of the table and of the sensitivities */
} tcr_step_range;

/* TCR_E_ARGUMENT, TCR_E_MISSING, TCR_E_CURL, TCR_E_RANGE. */
tcr_status tcr_step_range_of(const tcr_set *set, const tcr_step_report_options *options,
                             tcr_step_range *range);

/* Placements of the three layers. */
typedef struct tcr_step_placements {
    tcr_placement layer[TCR_LAYERS];
} tcr_step_placements;

extern const tcr_step_placements tcr_step_beside; /* all at the outer side */
extern const tcr_step_placements tcr_step_taught; /* on top, outer side, underside */

/* The answer to a question; NaN for every number that there is not. */
tcr_step tcr_step_answer(const tcr_step_range *range, size_t curl, double length_mm,
                         const tcr_step_placements *placements);

/*
 * What moves the tip of the mean lash with the curl and length that are shown, at the outer side.
 * The status of tcr_step_sensitivity.
 */
tcr_status tcr_step_shown_sensitivity(const tcr_step_range *range, tcr_sensitivity *sensitivity);

/* What is assumed of the mean lash, in the order of the survey's columns; returns how much that is.
 * sensitivity may be NULL where there is none. */
size_t tcr_step_assumed(const tcr_step_range *range, const tcr_sensitivity *sensitivity,
                        tcr_assumed assumed[TCR_LASH_BITS]);

#endif
