/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_REPORT_PLAN_H
#define TCR_FILE_REPORT_PLAN_H

/* What the reports of a plan share. */

#include <tipcrest/plan.h>

#include "file/report.h"
#include "file/table.h"

/*
 * Whether a plan can be reported to a sink, with its work and checks of the set before and after:
 * TCR_E_ARGUMENT for NULL and where they do not belong together, TCR_E_MISSING for a check without
 * eyes.
 */
tcr_status tcr_plan_report_validate(const tcr_plan *plan, const tcr_plan_work *work,
                                    const tcr_check *before, const tcr_check *after, tcr_sink sink);

/* Words for what becomes of a lash: for JSON, and for people. */
extern const tcr_words tcr_words_use, tcr_words_order;
const char *tcr_use_text(tcr_use use);
const char *tcr_use_brief(tcr_use use); /* "too short or weak" */

/* The limit of bit 1 << k of TCR_BEYOND_..., as the set file calls it; NULL behind the last. */
const char *tcr_plan_limit_name(int k);
double tcr_plan_limit_value(const tcr_limits *limits, int k);

/* How the set stands that was planned from: its tips from the plan's line, over both eyes; where
 * the line is free, from the line as it suits them best. */
typedef struct tcr_as_is {
    size_t lashes;
    double rms_mm; /* NaN without a lash */
} tcr_as_is;
tcr_as_is tcr_plan_as_is(const tcr_plan *plan, const tcr_check *before);

/* How many eyes are planned by zones only, or lash by lash; side receives the last of them. */
int tcr_plan_eyes(const tcr_plan *plan, bool zones_only, tcr_side *side);

/* The cell of a zone and layer, or NULL where it has no lash to be used. */
const tcr_plan_cell *tcr_plan_cell_at(const tcr_plan_result *result, tcr_side side, size_t zone,
                                      tcr_layer layer);

/* What its zone gives a lash. */
const tcr_plan_cell *tcr_plan_cell_of(const tcr_plan *plan, const tcr_set *set, tcr_side side,
                                      size_t lash);

/* Where a number comes from, said only while it is the usual one: another is the set file's. */
void tcr_add_source(tcr_paragraph *line, double value, double usual, const char *source);

/* The work in a plan's table; the order only where lashes are known one by one. */
void tcr_table_work(tcr_table *t, const tcr_plan_work *work, bool with_order);
/* What to lay out. */
void tcr_table_work_rows(tcr_table *t, const tcr_plan_work *work);

/* ---- Parts of the table that the short and the full one share ---- */

/* The limits of what a lash may carry, and which of them are the usual ones. */
void tcr_table_plan_limits(tcr_table *t, const tcr_limits *limits);

/* The side of a lash as tables have it: "on top", since a layer is called top too. */
static inline const char *tcr_placement_words(tcr_placement placement) {
    return placement == TCR_ON_TOP ? "on top" : tcr_word(&tcr_words_placement, (int)placement);
}

/* "9 C underside" */
void tcr_add_choice(tcr_paragraph *line, const tcr_set *set, const tcr_choice *choice);
/* The first lines: what the plan comes to. map: where the map comes from, or NULL. */
void tcr_table_plan_answer(tcr_table *t, const tcr_plan *plan, const char *map);
/* Adds over which clients an expectation for eyes that nobody measured is, and how one may differ;
 * whether there is one. */
bool tcr_table_plan_clients(tcr_table *t, const tcr_plan *plan);
/* What each zone and layer of an eye gets. */
void tcr_table_plan_zones(tcr_table *t, const tcr_plan *plan, tcr_side side);
/* Adds the kind of all extensions, where the zones need not say it one by one; whether it did. */
bool tcr_table_plan_kind(tcr_table *t, const tcr_plan *plan);
/* How many lashes of an eye that nobody measured will want another size, and how to tell them. */
void tcr_table_plan_wanting(tcr_table *t, const tcr_plan_eye *eye, tcr_side side);
/* What the survey gives to lashes that a plan would not give it to. */
void tcr_table_plan_against_limits(tcr_table *t, const tcr_plan *plan, const tcr_check *after,
                                   tcr_side side);
/* Adds what one placement for each layer comes to; where the plan has that, each zone its own.
 * Whether there is anything to say. */
bool tcr_table_add_placed(tcr_paragraph *line, const tcr_plan *plan, bool full);
/* What is known of the choice for the zones, and in full what simpler placements would cost. */
void tcr_table_plan_proof(tcr_table *t, const tcr_plan *plan, bool full);
/* Why another plan of a planned set changes little. */
void tcr_table_plan_planned_before(tcr_table *t);
/* The short table, but for its first lines and its last. */
void tcr_table_plan_short(tcr_table *t, const tcr_plan *plan, const tcr_plan_work *work,
                          const tcr_check *after);

#endif
