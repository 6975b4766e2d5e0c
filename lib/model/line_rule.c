/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tolerance of tips and the viewer's distance (model.md, section 6). */
#include <tipcrest/line_rule.h>

#include <math.h>

#include "model/field_table.h"
#include "num/elementary.h"
#include "num/range.h"

static const double NOTICED_RAD = 3.0 / 60.0 * TCR_DEG;

tcr_line_rule tcr_line_rule_default(void) {
    tcr_line_rule rule = {.seen_from_mm = NAN};
    tcr_fields_default(TCR_GROUP_LINE, &rule);
    return rule;
}

tcr_status tcr_line_rule_validate(const tcr_line_rule *rule, tcr_error *error) {
    return tcr_fields_validate(TCR_GROUP_LINE, rule, error);
}

double tcr_tolerance_from(double distance_mm) { return distance_mm * tcr_tangent(NOTICED_RAD); }

double tcr_distance_of(double tolerance_mm) { return tolerance_mm / tcr_tangent(NOTICED_RAD); }
