/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_TARGET_H
#define TCR_PLAN_TARGET_H

#include <tipcrest/line.h>
#include <tipcrest/set.h>

/*
 * The line that is planned for in a view: the line of model.md, section 6, not robust, through the
 * places of the intended lines of all eyes. With one eye that is its intended line.
 */
tcr_status tcr_plan_target(const tcr_set *set, const tcr_view *view, tcr_line *line);

#endif
