/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many sets in a line each, the most even first, for a judge or a class. */
#include <tipcrest/file.h>

#include <math.h>
#include <string.h>

#include "file/doubts.h"
#include "file/table.h"

/* Where the columns begin, or end where they are set to the right. */
enum { RANK_END = 4, RMS_END = 13, WORDS_AT = 15, SHARE_END = 48, OUT_END = 59, NAME_AT = 61 };

enum { NAME_ROOM = TCR_TABLE_COLUMNS - NAME_AT, NAME_COLUMNS = 40, NAMED_MOST = 12 };

/* The name, or without its folders where it is too long. */
static const char *shown_name(const char *name) {
    const char *slash = strrchr(name, '/');
    return (int)strlen(name) > NAME_ROOM && slash != NULL && slash[1] != '\0' ? slash + 1 : name;
}

static void add_name(tcr_table *t, const char *name) {
    tcr_add_to_column(&t->line, NAME_AT);
    tcr_add_safe(&t->line, shown_name(name), NAME_ROOM);
}

static void add_to_right(tcr_table *t, const tcr_paragraph *words, int end) {
    tcr_add_to_column(&t->line, end - words->columns);
    tcr_add(&t->line, words->text);
}

/* "91 % (0.5 mm)", since each set may have its own tolerance, and "7 of 81" */
static void add_figures(tcr_table *t, const tcr_judgement *found, double tolerance_mm) {
    tcr_paragraph words;
    tcr_paragraph_begin(&words);
    tcr_add_share(&words, found->within_tolerance);
    tcr_add(&words, " (");
    tcr_add_given(&words, tolerance_mm);
    tcr_add(&words, " mm)");
    add_to_right(t, &words, SHARE_END);
    tcr_paragraph_begin(&words);
    tcr_add_count(&words, found->staggered);
    tcr_add(&words, " of ");
    tcr_add_count(&words, found->tips);
    add_to_right(t, &words, OUT_END);
}

/* Whether two figures read the same with this many decimals, 2 or 3. */
static bool looks_alike(double one_mm, double other_mm, int digits) {
    const double scale = digits == 2 ? 1e2 : 1e3;
    return round(scale * one_mm) == round(scale * other_mm);
}

/* Two digits, or three where these tell sets apart that two do not. */
static int digits_for(const tcr_ranked_set *sets, size_t count) {
    for (size_t i = 1; i < count; i++) {
        const double before_mm = sets[i - 1].found.rms_mm, rms_mm = sets[i].found.rms_mm;
        if (looks_alike(before_mm, rms_mm, 2) && !looks_alike(before_mm, rms_mm, 3))
            return 3;
    }
    return 2;
}

static void put_set(tcr_table *t, const tcr_ranked_set *set, int digits) {
    const bool judged = set->found.verdict != TCR_NOT_JUDGED;
    tcr_add_fixed_at(&t->line, RANK_END, judged ? (double)set->rank : NAN, 0, false);
    tcr_add(&t->line, set->shares ? " =" : "");
    tcr_add_fixed_at(&t->line, RMS_END, set->found.rms_mm, digits, false);
    tcr_add_to_column(&t->line, WORDS_AT);
    tcr_add(&t->line, tcr_verdict_words(set->found.verdict, tcr_check_against(set->check)));
    if (judged)
        add_figures(t, &set->found, tcr_check_tolerance(set->check));
    add_name(t, set->name);
    tcr_table_end(t, 0, 2);
}

/* Why a set is not judged, eye by eye. */
static void put_why_not_judged(tcr_table *t, const tcr_ranked_set *set) {
    if (set->found.verdict != TCR_NOT_JUDGED)
        return;
    t->check = set->check;
    for (int side = 0; side < TCR_SIDES; side++) {
        t->eye = tcr_check_eye(set->check, (tcr_side)side);
        if (t->eye == NULL || t->eye->verdict != TCR_NOT_JUDGED)
            continue;
        tcr_add_safe(&t->line, shown_name(set->name), NAME_COLUMNS);
        tcr_add(&t->line, ", ");
        tcr_add(&t->line, tcr_side_text((tcr_side)side));
        tcr_add(&t->line, " eye, is not judged: ");
        tcr_table_add_why_not_judged(t);
        tcr_add(&t->line, ".");
        tcr_table_end(t, 0, 2);
    }
    t->check = NULL;
    t->eye = NULL;
}

/* Names the sets that are of a kind, behind words for it; nothing where none is. */
static void put_named(tcr_table *t, const tcr_ranked_set *sets, size_t count, const char *words,
                      bool (*is_so)(const tcr_set *set)) {
    size_t all = 0;
    for (size_t i = 0; i < count; i++) {
        if (!is_so(tcr_check_set(sets[i].check)) || ++all > NAMED_MOST)
            continue;
        tcr_add(&t->line, all == 1 ? words : ", ");
        tcr_add_safe(&t->line, shown_name(sets[i].name), NAME_COLUMNS);
    }
    if (all == 0)
        return;
    if (all > NAMED_MOST) {
        tcr_add(&t->line, " and ");
        tcr_add_count(&t->line, all - NAMED_MOST);
        tcr_add(&t->line, " more");
    }
    tcr_add(&t->line, ".");
    tcr_table_end(t, 0, 2);
}

static bool has_one_eye(const tcr_set *set) { return tcr_set_eyes(set, NULL) == 1; }

static bool has_drawn(const tcr_set *set) {
    return tcr_set_drawn_count(set, TCR_LEFT) + tcr_set_drawn_count(set, TCR_RIGHT) > 0;
}

/* Which sets have one eye, where others have two: what is compared is not the same then. */
static void put_one_eyed(tcr_table *t, const tcr_ranked_set *sets, size_t count) {
    size_t one_eyed = 0;
    for (size_t i = 0; i < count; i++)
        one_eyed += has_one_eye(tcr_check_set(sets[i].check));
    if (one_eyed < count)
        put_named(t, sets, count, "One eye only, where others have two: ", has_one_eye);
}

static void put_heading(tcr_table *t, const tcr_check *check) {
    const bool fitted = tcr_check_against(check) == TCR_FITTED;
    tcr_table_line(t, 0,
                   fitted ? "Sets by evenness, the most even first"
                          : "Sets by match to their maps, the best first");
    tcr_table_rms(t, tcr_table_line_of(tcr_check_against(check)));
    tcr_table_line(t, 0, "rank  rms, mm  verdict          within tolerance  stick out  set");
}

static bool are_ranked(const tcr_ranked_set *sets, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (sets[i].name == NULL || sets[i].check == NULL || sets[i].rank == 0)
            return false;
    return true;
}

tcr_status tcr_report_ranking(const tcr_ranked_set *sets, size_t count, tcr_sink sink,
                              void *context) {
    if (sets == NULL || count == 0 || sink == NULL || !are_ranked(sets, count))
        return TCR_E_ARGUMENT;
    tcr_writer writer;
    tcr_table t = {.writer = &writer};
    tcr_writer_begin(&writer, sink, context);
    tcr_paragraph_begin(&t.line);
    put_heading(&t, sets[0].check);
    const int digits = digits_for(sets, count);
    bool any_share = false;
    for (size_t i = 0; i < count && writer.status == TCR_OK; i++) {
        any_share = any_share || sets[i].shares;
        put_set(&t, &sets[i], digits);
    }
    if (any_share)
        tcr_table_line(&t, 0,
                       "=: a rank is shared by sets less than 0.05 mm behind its first, which "
                       "counts as no difference (assumed).");
    put_one_eyed(&t, sets, count);
    put_named(&t, sets, count, "Lashes drawn by chance, not measured: ", has_drawn);
    for (size_t i = 0; i < count && writer.status == TCR_OK; i++)
        put_why_not_judged(&t, &sets[i]);
    for (size_t i = 0; i < count && writer.status == TCR_OK; i++)
        tcr_table_doubts_of(&t, tcr_check_set(sets[i].check), shown_name(sets[i].name));
    tcr_table_line(&t, 0, tcr_table_cautions);
    return tcr_writer_end(&writer);
}
