/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_REPORT_STEP_H
#define TCR_FILE_REPORT_STEP_H

/* What the reports of the level steps share: which questions are put, and their answers. */

#include <tipcrest/file.h>
#include <tipcrest/lesson.h>
#include <tipcrest/mean.h>
#include <tipcrest/step.h>

#include "file/json.h"
#include "file/report.h"

/* Placements of the three layers. */
typedef struct tcr_step_placements {
    tcr_placement layer[TCR_LAYERS];
} tcr_step_placements;

extern const tcr_step_placements tcr_step_beside; /* all at the outer side */
extern const tcr_step_placements tcr_step_taught; /* on top, outer side, underside */

/* The options, looked up in the set. */
typedef struct tcr_step_range {
    const tcr_set *set;
    tcr_side side;
    size_t first_curl, curls; /* the first one and how many */
    double first_mm;          /* lengths by 1 mm from here */
    int lengths;
    size_t shown_curl;         /* of the answer and of the sensitivities: the map's at u = 1/2 */
    double shown_mm;           /* bottom length of the answer, the table and the sensitivities */
    bool asked;                /* another curl or length than the map's at u = 1/2 */
    double map_mm;             /* the map's length at u = 1/2; NaN without a map */
    tcr_step_placements shown; /* of the answer: those of the map at u = 1/2 */
    bool full;
    bool has_apart;
    double apart_mm;
    tcr_layer_heights heights; /* with 'apart' */
    tcr_progress progress;
} tcr_step_range;

/* TCR_E_ARGUMENT, TCR_E_MISSING, TCR_E_CURL, TCR_E_RANGE. */
tcr_status tcr_step_range_of(const tcr_set *set, const tcr_step_report_options *options,
                             tcr_step_range *range);

/*
 * The questions of a whole report: for each curl and length each placement on the bottom layer with
 * each one on both upper layers, and then those that are taught.
 */
typedef struct tcr_step_row {
    size_t curl;
    double length_mm; /* on the bottom layer */
    tcr_step_placements placements;
} tcr_step_row;
size_t tcr_step_row_count(const tcr_step_range *range);
tcr_step_row tcr_step_row_at(const tcr_step_range *range, size_t i);

/* The answer to a question; NaN for every number that there is not. */
tcr_step tcr_step_answer(const tcr_step_range *range, size_t curl, double length_mm,
                         const tcr_step_placements *placements);

/*
 * What moves the tip of the mean lash with the curl and length that are shown, at the outer side.
 * The status of tcr_step_sensitivity.
 */
tcr_status tcr_step_shown_sensitivity(const tcr_step_range *range, tcr_sensitivity *sensitivity);

/* Why the level step of the answer is what it is. The status of tcr_step_reason_of. */
tcr_status tcr_step_shown_reason(const tcr_step_range *range, tcr_step_reason *reason);

/* What is assumed of the mean lash, in the order of the survey's columns; returns how much that is.
 * sensitivity may be NULL where there is none. */
size_t tcr_step_assumed(const tcr_step_range *range, const tcr_sensitivity *sensitivity,
                        tcr_assumed assumed[TCR_LASH_BITS]);

/* ---- What the rule gains ---- */

enum { TCR_STEP_APART = 17, TCR_STEP_VIEWERS = 8, TCR_STEP_SPREADS = 4, TCR_STEP_COUCH = 6 };
extern const double tcr_step_spread_deg[TCR_STEP_SPREADS]; /* of pitch, standard deviations */

/* How far apart, and from which angle, the lessons are. */
static inline double tcr_step_apart_mm(int i) { return i / 10.0; }
static inline double tcr_step_viewer_deg(int i) { return 10.0 * i; }

/* At the heights of the range, open front. TCR_E_MISSING (no lash takes part), TCR_E_MAP,
 * TCR_E_MEMORY, TCR_E_STOPPED. */
tcr_status tcr_step_here_of(const tcr_step_range *range, tcr_lesson *here);

typedef struct tcr_step_lessons {
    tcr_status status; /* TCR_OK, TCR_E_MISSING (no lash takes part) or TCR_E_MAP */
    tcr_lesson here;   /* tcr_step_here_of */
    tcr_lesson own[TCR_STEP_APART], alike[TCR_STEP_APART];
    tcr_lesson open[TCR_STEP_VIEWERS], closed[TCR_STEP_VIEWERS];
    tcr_lesson spread[TCR_STEP_SPREADS];
    double own_pays_mm[2], alike_pays_mm[2]; /* 1 and 2 mm less */
    double turns_rad;
} tcr_step_lessons;

/* All lessons of a range. TCR_OK with a status inside, TCR_E_MEMORY or TCR_E_STOPPED. */
tcr_status tcr_step_lessons_of(const tcr_step_range *range, tcr_step_lessons *lessons);
/* The member 'lesson' of the report. */
void tcr_step_lessons_json(tcr_json *json, const tcr_step_lessons *lessons);

#endif
