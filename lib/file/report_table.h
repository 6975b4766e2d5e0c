/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_REPORT_TABLE_H
#define TCR_FILE_REPORT_TABLE_H

/*
 * The table of a check for people, 80 columns wide, no colours. Words a lash artist knows,
 * millimetres and degrees, assumptions called assumptions. What its short and its full form share
 * is in report_table.c.
 */
#include <tipcrest/limits.h>
#include <tipcrest/load.h>

#include "file/table.h"

enum { TCR_TABLE_ID_COLUMNS = 20 }; /* that an id may take */

/* Puts all that was found about an eye. */
void tcr_table_full_eye(tcr_table *table, const tcr_limits *limits);
/* Puts what matters most about an eye, in at most 'room' lines. */
void tcr_table_short_eye(tcr_table *table, const tcr_limits *limits, int room);

/* The line of the check for the eye in hand, and whether its figures judge anything. */
bool tcr_table_is_judged(const tcr_table *table);

/* The indices of the worst staggered lashes of the eye in hand, worst first, 'most' of them at
 * most; returns how many. */
size_t tcr_table_find_worst(const tcr_table *table, size_t *worst, size_t most);
/* Columns that the ids of some lashes take. */
int tcr_table_id_columns(const tcr_table *table, const size_t *lashes, size_t count);
/* A staggered lash with its remedy, from the column where the line ends now; beyond: how it is said
 * that a plan would not follow the remedy. */
void tcr_table_add_staggered(tcr_table *table, size_t lash, int id_columns,
                             const tcr_limits *limits, const char *beyond);

/* The heading of the layers' figures, and their row in a view. */
void tcr_table_layers_heading(tcr_table *table);
void tcr_table_layers_row(tcr_table *table, tcr_named_view view);
/* Where the layers' offsets are the larger part of what is uneven: that why tells their cause. */
void tcr_table_add_cause(tcr_table *table);
/* Whether there are such figures: too few tips lie near a line fitted to them, whatever they are.
 */
bool tcr_table_has_layers(const tcr_table *table);

/* How many extensions of an eye are beyond limits. */
size_t tcr_count_beyond(const tcr_set *set, const tcr_limits *limits, const tcr_eye_result *eye);

#endif
