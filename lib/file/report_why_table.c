/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of causes for people: the answer first, by the sentences of tipcrest/why.h. The full
 * table also has a sentence and the figures of each cause.
 */
#include <tipcrest/file.h>

#include <ctype.h>
#include <math.h>

#include "file/doubts.h"
#include "file/report_why.h"
#include "file/table.h"

/* ---- Figures ----------------------------------------------------------------------- */

/* Right ends of the columns. */
enum { COLUMNS = 5 };
static const int COLUMN_AT[COLUMNS] = {36, 46, 56, 66, 76};

static void add_right(tcr_paragraph *line, int right, const char *text) {
    tcr_paragraph words;
    tcr_paragraph_begin(&words);
    tcr_add(&words, text);
    tcr_add_to_column(line, right - words.columns);
    tcr_add(line, text);
}

static void put_head(tcr_table *t, const char *name, const char *const column[COLUMNS]) {
    tcr_add(&t->line, name);
    for (int i = 0; i < COLUMNS; i++)
        add_right(&t->line, COLUMN_AT[i], column[i]);
    tcr_table_end(t, 4, 6);
}

static void put_row(tcr_table *t, const char *name, const tcr_share *share) {
    tcr_add(&t->line, name);
    const double mm2[] = {share->shapley_mm2, share->first_in_mm2, share->last_out_mm2};
    for (int i = 0; i < 3; i++)
        tcr_add_fixed_at(&t->line, COLUMN_AT[i], mm2[i], 3, true);
    tcr_add_fixed_at(&t->line, COLUMN_AT[3], share->alone_rms_mm, 2, false);
    tcr_add_fixed_at(&t->line, COLUMN_AT[4], share->without_rms_mm, 2, false);
    tcr_table_end(t, 4, 6);
}

static void put_figures(tcr_table *t, const tcr_why *why) {
    static const char *const names[COLUMNS] = {"share", "first in", "last out", "alone", "without"};
    static const char *const units[COLUMNS] = {"mm²", "mm²", "mm²", "mm rms", "mm rms"};
    const double whole = why->mean_square_mm2[TCR_COMBINATIONS - 1], bare = why->mean_square_mm2[0];
    const tcr_share all = {whole - bare, whole - bare, whole - bare, why->whole_rms_mm,
                           why->bare_rms_mm};
    put_head(t, "Causes", names);
    put_head(t, "", units);
    put_row(t, "heights and shortening", &why->layering);
    put_row(t, "  root heights", &why->cause[TCR_CAUSE_HEIGHTS]);
    put_row(t, "  layer shortening", &why->cause[TCR_CAUSE_SHORTENING]);
    for (int cause = TCR_CAUSE_PLACEMENT; cause < TCR_CAUSES; cause++)
        put_row(t, tcr_cause_text((tcr_cause)cause), &why->cause[cause]);
    put_row(t, "all six together", &all);
    put_row(t, "steps and single choices", &why->lengths_along);
}

/* ---- An eye -------------------------------------------------------------------------- */

static void put_sentence(tcr_table *t, const tcr_why *why, tcr_why_sentence sentence, int indent) {
    char text[TCR_WHY_TEXT];
    tcr_why_say(why, sentence, text);
    tcr_table_line(t, indent, text);
}

/* What is left with every cause levelled out, against a line that two eyes share. */
static void put_eyes_differ(tcr_table *t, const tcr_why *why) {
    if (isnan(why->eyes_differ_mm2))
        return;
    tcr_add(&t->line, "The eyes differ: ");
    tcr_add_fixed(&t->line, sqrt(why->eyes_differ_mm2), 2, false);
    tcr_add(&t->line, " mm rms off their shared line with all causes levelled.");
    tcr_table_end(t, 2, 4);
}

/* What only the full table has, in place of the rest in brief. */
static void put_all(tcr_table *t, const tcr_why *why) {
    tcr_table_carriers(t);
    tcr_add(&t->line, "With all six causes levelled out: ");
    tcr_add_fixed(&t->line, why->bare_rms_mm, 2, false);
    tcr_add(&t->line, " mm rms");
    tcr_table_end(t, 2, 4);
    put_sentence(t, why, TCR_WHY_LAYERING, 4);
    for (int cause = 0; cause < TCR_CAUSES; cause++) {
        char text[TCR_WHY_TEXT];
        tcr_why_say_cause(why, (tcr_cause)cause, text);
        tcr_table_line(t, 4, text);
    }
    put_figures(t, why);
}

/* The answer, a sentence for each eye that has causes; whether there is one. */
static bool put_answers(tcr_table *t, const tcr_eye_causes *causes, size_t eyes) {
    bool any = false;
    for (size_t e = 0; e < eyes; e++) {
        char text[TCR_WHY_TEXT];
        if (!causes[e].known)
            continue;
        tcr_why_say(&causes[e].why, TCR_WHY_VERDICT, text);
        if (eyes > 1) {
            tcr_table_add_side(t, causes[e].eye->side);
            text[0] = (char)tolower((unsigned char)text[0]);
        }
        tcr_add(&t->line, text);
        tcr_table_end(t, 0, 2);
        any = true;
    }
    if (any)
        tcr_table_rms(t, tcr_table_line_of(tcr_check_against(t->check)));
    tcr_table_doubts(t);
    if (any)
        tcr_table_line(t, 0, "");
    return any;
}

static void put_eye(tcr_table *t, const tcr_eye_causes *of, bool full) {
    tcr_table_heading(t, t->eye->side, tcr_check_view(t->check));
    if (of->reason != NULL) {
        tcr_add(&t->line, "No causes to tell, because ");
        tcr_add(&t->line, of->reason);
        tcr_table_end(t, 2, 4);
        tcr_table_carriers(t);
    } else if (!of->known) {
        tcr_table_line(t, 2, "No causes to tell: too few tips");
        tcr_table_carriers(t);
    } else {
        put_sentence(t, &of->why, TCR_WHY_LEVER, 2);
        put_sentence(t, &of->why, TCR_WHY_CHANGE, 2);
        if (!full)
            put_sentence(t, &of->why, TCR_WHY_REST, 2);
        put_eyes_differ(t, &of->why);
        if (full)
            put_all(t, &of->why);
    }
    tcr_table_line(t, 0, "");
}

static void put_key(tcr_table *t) {
    tcr_table_line(t, 0, "How to read the figures");
    tcr_table_line(t, 2,
                   "share: how much of the unevenness is this cause's, fairly divided; the "
                   "six add up to all six together. Below zero it takes some away.");
    tcr_table_line(t, 2,
                   "first in: what it adds where no other cause is at work; last out: what it "
                   "adds to the set as it is.");
    tcr_table_line(t, 2,
                   "alone, without: how far off the line, rms in mm, the tips would lie with "
                   "this cause alone and with all but this one.");
    tcr_table_line(t, 2,
                   "heights and shortening: the two as one cause; below it the pair, each while "
                   "the other stays.");
    tcr_table_line(t, 0, "");
}

tcr_status tcr_report_why_table(const tcr_check *check, bool full, tcr_sink sink, void *context) {
    tcr_eye_causes causes[TCR_SIDES];
    size_t eyes;
    tcr_status status = tcr_report_validate(check, sink);
    if (status == TCR_OK)
        status = tcr_collect_causes(check, causes, &eyes);
    if (status != TCR_OK)
        return status;
    tcr_writer writer;
    tcr_table t = {.check = check, .set = tcr_check_set(check), .writer = &writer};
    tcr_writer_begin(&writer, sink, context);
    tcr_paragraph_begin(&t.line);
    const bool any = put_answers(&t, causes, eyes);
    for (size_t e = 0; e < eyes; e++) {
        t.eye = causes[e].eye;
        put_eye(&t, &causes[e], full);
    }
    if (any && full)
        put_key(&t);
    if (full) {
        tcr_table_assumptions(&t);
    } else {
        tcr_table_assumed_shortly(&t);
        tcr_table_end(&t, 0, 2);
        tcr_table_line(&t, 0, "");
    }
    tcr_table_line(&t, 0, tcr_table_cautions);
    return tcr_writer_end(&writer);
}
