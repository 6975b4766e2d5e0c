/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_REPORT_PLAN_H
#define TCR_FILE_REPORT_PLAN_H

/* What both reports of a plan share. */

#include <tipcrest/plan.h>

#include "file/report.h"
#include "file/table.h"

/* Words for what becomes of a lash: for JSON, and for people. */
extern const tcr_words tcr_words_use, tcr_words_order;
const char *tcr_use_text(tcr_use use);

/* How the set stands that was planned from: its tips from the plan's line, over both eyes; where
 * the line is free, from the line as it suits them best. */
typedef struct tcr_as_is {
    size_t lashes;
    double rms_mm; /* NaN without a lash */
} tcr_as_is;
tcr_as_is tcr_plan_as_is(const tcr_plan *plan, const tcr_check *before);

/* The cell of a zone and layer, or NULL where it has no lash to be used. */
const tcr_plan_cell *tcr_plan_cell_at(const tcr_plan_result *result, tcr_side side, size_t zone,
                                      tcr_layer layer);

/* What its zone gives a lash. */
const tcr_plan_cell *tcr_plan_cell_of(const tcr_plan *plan, const tcr_set *set, tcr_side side,
                                      size_t lash);

/* Where a number comes from, said only while it is the usual one: another is the set file's. */
void tcr_add_source(tcr_paragraph *line, double value, double usual, const char *source);

/* The work in a plan's table. */
void tcr_table_work(tcr_table *t, const tcr_plan_work *work);

#endif
