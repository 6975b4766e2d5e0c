/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_RULE_H
#define TCR_LINE_RULE_H

#include <stdbool.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>

/* By what tips are judged (model.md, sections 6 and 7). */
typedef struct tcr_line_rule {
    double tolerance_mm; /* 0.05 to 5; default 0.5, assumed: farther off the line is staggered */
    double seen_from_mm; /* 60 to 5700: the viewer's distance, and the tolerance is then
                            tcr_tolerance_from of it, whatever tolerance_mm is; default NaN */
    bool shared; /* two eyes have one intended line, since they are to match; default true */
} tcr_line_rule;

TCR_API tcr_line_rule tcr_line_rule_default(void);

/* TCR_OK, TCR_E_RANGE or TCR_E_ARGUMENT (NULL); error may be NULL. */
TCR_API tcr_status tcr_line_rule_check(const tcr_line_rule *rule, tcr_error *error);

/*
 * What 3 minutes of arc are at a distance, mm: S tan 3'. So much noise in position people still
 * tolerate when they join elements to one contour, measured in the laboratory and not on lashes
 * (Scientific Reports 2017, 7:13048).
 */
TCR_API double tcr_tolerance_from(double distance_mm);

/* The distance from which so much is 3 minutes of arc, mm: the inverse. */
TCR_API double tcr_distance_of(double tolerance_mm);

#endif
