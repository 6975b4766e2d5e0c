/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_REFUSE_H
#define TCR_PLAN_REFUSE_H

/*
 * Why there is no plan. Each call fills the error, if there is one, and returns its status, so that
 * a caller can return the call.
 */

#include <tipcrest/plan.h>

#include "plan/plan_data.h"

/* TCR_OK; TCR_E_ARGUMENT or TCR_E_RANGE with the option that is wrong. */
tcr_status tcr_plan_check_options(const tcr_set *set, const tcr_plan_options *o, tcr_error *error);

/* A plan chooses from a tray, and there is none: TCR_E_TRAY. */
tcr_status tcr_plan_without_tray(tcr_error *error);

/* TCR_OK where the tray has something for every zone and layer with a suitable lash; else
 * TCR_E_TRAY with what it has. */
tcr_status tcr_plan_is_at_hand(const tcr_plan *plan, tcr_side side, tcr_error *error);

/* TCR_OK where an eye has lashes enough that are used; else TCR_E_NO_SOLUTION, as the others. */
tcr_status tcr_plan_has_enough(const tcr_plan *plan, tcr_side side, tcr_error *error);

tcr_status tcr_plan_all_by_row(tcr_error *error);
tcr_status tcr_plan_nothing_suits(tcr_side side, size_t zone, tcr_layer layer, tcr_error *error);
tcr_status tcr_plan_too_many(tcr_side side, size_t zone, tcr_layer layer, size_t options,
                             tcr_error *error);
/* The step between zones, the number of lengths, or both; one of the two at least is true. */
tcr_status tcr_plan_tied(const tcr_plan_options *o, bool by_step, bool by_lengths,
                         tcr_error *error);
/* These leave a choice, but none with the placement that costs each layer least. */
tcr_status tcr_plan_tied_by_placement(tcr_error *error);

#endif
