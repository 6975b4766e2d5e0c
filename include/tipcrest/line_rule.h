/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_RULE_H
#define TCR_LINE_RULE_H

#include <stdbool.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>

/* How tips are judged (model.md, sections 6 and 7). */
typedef struct tcr_line_rule {
    double tolerance_mm; /* 0.05 to 5: tips farther off are staggered; default 0.5, assumed */
    double seen_from_mm; /* 60 to 5700: the viewer's distance. The tolerance is then
                            tcr_tolerance_from of it, not tolerance_mm; default NaN: not used */
    bool shared; /* two eyes share one intended line, since they should match; default true */
} tcr_line_rule;

/* The default rule, as given above. */
TCR_API tcr_line_rule tcr_line_rule_default(void);

/* Checks a rule. TCR_E_RANGE or TCR_E_ARGUMENT (NULL). error may be NULL. */
TCR_API tcr_status tcr_line_rule_validate(const tcr_line_rule *rule, tcr_error *error);

/*
 * The length in mm that 3 minutes of arc (3') span at distance_mm (0 or more): S tan 3'. People
 * tolerate this much noise in position when they join elements to one contour, as measured in the
 * laboratory and not on lashes (Scientific Reports 2017, 7:13048). The argument is not checked.
 */
TCR_API double tcr_tolerance_from(double distance_mm);

/*
 * The inverse: the distance in mm at which tolerance_mm (0 or more) spans 3 minutes of arc. The
 * argument is not checked.
 */
TCR_API double tcr_distance_of(double tolerance_mm);

#endif
