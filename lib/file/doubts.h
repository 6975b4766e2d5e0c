/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_DOUBTS_H
#define TCR_FILE_DOUBTS_H

/* The doubts about a set (tipcrest/doubts.h) in words: the one place of their sentences. */

#include "file/json.h"
#include "file/table.h"

/* A line for each doubt, and a blank one behind them; nothing without a doubt. */
void tcr_table_doubts(tcr_table *table);
/* The same of one set among many, by its name. */
void tcr_table_doubts_of(tcr_table *table, const tcr_set *set, const char *name);

/* The member "doubts" of the object that is open. */
void tcr_json_doubts(tcr_json *json, const tcr_set *set);

#endif
