/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_REPORT_LESSON_TABLE_H
#define TCR_FILE_REPORT_LESSON_TABLE_H

/* Parts of the table of steps that say what the layering rule gains; lessons->status is TCR_OK. */

#include "file/report_step.h"
#include "file/table.h"

/* Whether one layer alone has lashes: a table over layers then says nothing. */
bool tcr_step_is_one_layer(const tcr_step_range *range);
/* What is right for an eye, in one sentence; has_side: the eye is named, since there is another. */
void tcr_step_lessons_verdict(tcr_table *table, const tcr_step_range *range, const tcr_lesson *here,
                              bool has_side);
/* The figures behind it, in few lines; all: of all choices. */
void tcr_step_lessons_short(tcr_table *table, const tcr_step_lessons *lessons, bool all);
/* The other tables. */
void tcr_step_lessons_full(tcr_table *table, const tcr_step_lessons *lessons);

#endif
