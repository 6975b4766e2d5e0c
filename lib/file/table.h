/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_TABLE_H
#define TCR_FILE_TABLE_H

/*
 * What the tables for people share: the heading of an eye, who carries an extension, what was
 * assumed, cautions. 80 columns wide, no colours; words a lash artist knows.
 */
#include "file/layout.h"
#include "file/report.h"

/* A table being written. */
typedef struct tcr_table {
    const tcr_check *check; /* NULL where the table is not of a check */
    const tcr_set *set;
    const tcr_eye_result *eye; /* the one in hand; NULL as above */
    tcr_writer *writer;
    tcr_paragraph line; /* what comes next */
    int lines;          /* written so far, without blank ones */
    bool has_distances; /* it says from how near offsets show */
} tcr_table;

/* Ends the paragraph: its first line is indented by first spaces, the others by next. */
void tcr_table_end(tcr_table *table, int first, int next);
/* A paragraph of our own words. */
void tcr_table_line(tcr_table *table, int indent, const char *text);
/* A paragraph that may have nothing to say, and is then left out; indented by two columns. */
void tcr_table_put(tcr_table *table, void (*add)(tcr_table *));

/* "eye open, from the front" */
void tcr_add_view(tcr_paragraph *line, tcr_view view);

/* Title and side on one line; the view where it is not the open eye from the front. */
void tcr_table_heading(tcr_table *table, tcr_side side, tcr_view view);

/* Adds how many natural lashes are longer than their extensions reach along the lash, and by how
 * much at most; nothing where there is none. Short forms leave it out where they have no room. */
void tcr_table_add_beyond(tcr_table *table);
/* How many lashes of the eye in hand carry an extension, and why the others are bare; in_one_line:
 * the reasons are left out where they take more. */
void tcr_table_carried(tcr_table *table, bool in_one_line);
/* The same, and whether they are too few to judge. */
void tcr_table_carriers(tcr_table *table);

/* Which lashes were drawn by chance; nothing where none was. */
void tcr_table_drawn(tcr_table *table);
/* What was assumed for lashes, lids and curls of the check. */
void tcr_table_assumptions(tcr_table *table);
/* The same in one sentence. */
void tcr_table_assumed_shortly(tcr_table *table);
/* What was assumed of one lid, where anything was. */
void tcr_table_lid_assumption(tcr_table *table, tcr_side side);
/* "root diameter" of root_diameter_mm */
void tcr_add_column_words(tcr_paragraph *line, const char *name);

/* "28 cm": from nearer than this an offset shows, rounded up (line_rule.h); "not seen" where it is
 * nearer than 10 cm, the nearest at which a young eye sees sharply (textbook, from memory) */
void tcr_add_shows_from(tcr_paragraph *line, double offset_mm);
/* Whether the distance is beyond these 10 cm. */
bool tcr_can_be_seen(double offset_mm);

extern const char tcr_table_curls[]; /* that what a curl's letter means was assumed */
/* Why the eye in hand is not judged; for none that is. */
void tcr_table_add_why_not_judged(tcr_table *table);
/* "Left: ", in front of the answer for one of two eyes. */
void tcr_table_add_side(tcr_table *table, tcr_side side);
/* The word for the line that deviations are measured from: "fitted" or "map's". */
const char *tcr_table_line_of(tcr_against against);
/* What rms is, as a line of its own; line is the word for the line of the figures. */
void tcr_table_rms(tcr_table *table, const char *line);

extern const char tcr_table_cautions[]; /* the last line of every table */

#endif
