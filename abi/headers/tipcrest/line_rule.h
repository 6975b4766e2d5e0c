/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LINE_RULE_H
#define TCR_LINE_RULE_H 
#include <stdbool.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
typedef struct tcr_line_rule {
    double tolerance_mm;
    double seen_from_mm;
    bool shared;
} tcr_line_rule;
TCR_API tcr_line_rule tcr_line_rule_default(void);
TCR_API tcr_status tcr_line_rule_validate(const tcr_line_rule *rule, tcr_error *error);
TCR_API double tcr_tolerance_from(double distance_mm);
TCR_API double tcr_distance_of(double tolerance_mm);
#endif
