/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of causes for people: the figures of each cause and one sentence for it, chosen by what
 * the cause does alone and what taking it out of the set as it is would do.
 */
#include <tipcrest/file.h>

#include <math.h>
#include <string.h>

#include "file/report_why.h"
#include "file/table.h"
#include "num/number.h"

/* By itself a cause that adds less puts the tips less than 0.1 mm off the line, which an eye does
 * not see. */
static const double SEEN_MM2 = 0.1 * 0.1;
/* What takes the tips this much nearer or further is little: half of that. */
static const double LITTLE_MM = 0.05;

/* How a cause is spoken of. */
typedef struct phrase {
    const char *row;    /* in the table */
    const char *name;   /* at the start of a sentence */
    bool plural;        /* of the name */
    const char *absent; /* why it plays no part, where it plays none */
    const char *because;
    const char *without; /* when it is levelled out */
} phrase;

static const phrase PHRASES[TCR_CAUSES] = {
    [TCR_CAUSE_HEIGHTS] = {"root heights", "Root heights", true, "all roots stand at one height",
                           "roots stand at different heights",
                           "with all roots at the mean lash's height"},
    [TCR_CAUSE_SHORTENING] = {"layer shortening", "Layer shortening", false,
                              "no layer is shortened", "lengths differ from layer to layer",
                              "with the bottom layer's lengths on every layer"},
    [TCR_CAUSE_PLACEMENT] = {"placement", "Placement", false, "every extension is placed on top",
                             "a tip moves with the side of the lash at which its extension sits",
                             "with every extension on top"},
    [TCR_CAUSE_ZONES] = {"zone steps", "Zone steps", true, "lengths do not jump from zone to zone",
                         "lengths change by jumps along the lid",
                         "with lengths that change smoothly along the lid"},
    [TCR_CAUSE_SINGLE] = {"single choices", "Single choices", true,
                          "every lash wears what its zone and layer give it",
                          "some lashes differ from their zone and layer",
                          "with every lash as its zone and layer"},
    [TCR_CAUSE_VARIATION] = {"natural variation", "Natural variation", false,
                             "every lash grows as the mean lash does",
                             "no lash grows quite like the next",
                             "if every lash grew as the mean lash does,"},
};

static const phrase LAYERING = {"heights and shortening",
                                "Layering, heights and shortening together,",
                                false,
                                "all roots stand at one height and no layer is shortened",
                                "the two do not make up for each other",
                                "with neither of the two"};

static const phrase ALONG = {"steps and single choices",
                             "Lengths along the lid, steps and single choices together,",
                             false,
                             "lengths do not jump and no lash differs from its zone and layer",
                             "the two do not make up for each other",
                             "with neither of the two"};

/* ---- Sentences --------------------------------------------------------------------- */

typedef enum effect { BETTER = -1, LITTLE = 0, WORSE = 1 } effect;

static effect effect_of(double added_mm2) {
    return added_mm2 > SEEN_MM2 ? WORSE : added_mm2 < -SEEN_MM2 ? BETTER : LITTLE;
}

static void add_mm(tcr_paragraph *line, double rms_mm) {
    tcr_add_fixed(line, rms_mm, 2, false);
    tcr_add(line, " mm");
}

static bool same_in_print(double a, double b) {
    char first[TCR_NUMBER_SIZE], second[TCR_NUMBER_SIZE];
    tcr_number_fixed(a, 2, first);
    tcr_number_fixed(b, 2, second);
    return strcmp(first, second) == 0;
}

/* "with all roots at one height the tips would lie 0.29 mm off it instead of 0.81" */
static void add_without(tcr_paragraph *line, const char *without, double rms_mm, double whole_mm) {
    tcr_add(line, without);
    tcr_add(line, " the tips would lie ");
    if (same_in_print(rms_mm, whole_mm)) {
        tcr_add(line, "as far off it as they do, ");
        add_mm(line, whole_mm);
    } else {
        add_mm(line, rms_mm);
        tcr_add(line, " off it instead of ");
        tcr_add_fixed(line, whole_mm, 2, false);
    }
    tcr_add(line, ".");
}

/* What a cause does in the set as it is; what does not show in the figures printed is little. */
static effect effect_now(const tcr_share *share, const tcr_why *why) {
    return same_in_print(share->without_rms_mm, why->whole_rms_mm) ? LITTLE
                                                                   : effect_of(share->last_out_mm2);
}

/* What a cause does by itself, where it does something else in the set as it is. */
static void add_contrast(tcr_paragraph *line, const phrase *of, const tcr_share *share, effect now,
                         double bare_mm) {
    tcr_add(line, " alone would put the tips ");
    add_mm(line, share->alone_rms_mm);
    tcr_add(line, " off the line");
    if (effect_of(bare_mm * bare_mm) != LITTLE) {
        tcr_add(line, " instead of ");
        tcr_add_fixed(line, bare_mm, 2, false);
    }
    if (now == BETTER)
        tcr_add(line, of->plural ? ", but the rest of this set suits them: "
                                 : ", but the rest of this set suits it: ");
    else if (now == WORSE)
        tcr_add(line, ", but not with the rest of this set: ");
    else
        tcr_add(line,
                of->plural ? ", but here they matter little: " : ", but here it matters little: ");
}

/* "largest": no other cause has a larger share. */
static void put_sentence(tcr_table *t, const phrase *of, const tcr_share *share, const tcr_why *why,
                         bool largest) {
    const effect alone = effect_of(share->first_in_mm2), now = effect_now(share, why);
    const bool small = fabs(share->without_rms_mm - why->whole_rms_mm) < LITTLE_MM;
    tcr_add(&t->line, of->name);
    if (alone != LITTLE && now != alone) {
        add_contrast(&t->line, of, share, now, why->bare_rms_mm);
    } else if (now == WORSE) {
        tcr_add(&t->line, of->plural ? " take the tips " : " takes the tips ");
        tcr_add(&t->line, small ? "a little off the line" : "off the line");
        tcr_add(&t->line, largest ? ", more than anything else, because " : ", because ");
        tcr_add(&t->line, of->because);
        tcr_add(&t->line, ": ");
    } else if (now == BETTER) {
        tcr_add(&t->line, of->plural ? " bring the tips " : " brings the tips ");
        tcr_add(&t->line, small ? "a little nearer to the line: " : "to the line: ");
    } else {
        tcr_add(&t->line, of->plural ? " matter little here: " : " matters little here: ");
    }
    add_without(&t->line, of->without, share->without_rms_mm, why->whole_rms_mm);
    tcr_table_end(t, 4, 6);
}

static void put_absent(tcr_table *t, const phrase *of) {
    tcr_add(&t->line, of->name);
    tcr_add(&t->line, of->plural ? " play no part: " : " plays no part: ");
    tcr_add(&t->line, of->absent);
    tcr_add(&t->line, ".");
    tcr_table_end(t, 4, 6);
}

/*
 * Whether heights and shortening make up for each other: levelling the roots alone would make it
 * worse, levelling the lengths alone would too, and it is not others that they make up for. What
 * the shortening adds at these heights, less what it would add at level roots, is their
 * interaction.
 */
static bool is_matched(const tcr_why *why) {
    const double *value = why->mean_square_mm2;
    const unsigned all = TCR_COMBINATIONS - 1u;
    const unsigned heights = 1u << TCR_CAUSE_HEIGHTS, shortening = 1u << TCR_CAUSE_SHORTENING;
    const double here = value[all] - value[all & ~shortening];
    const double level = value[all & ~heights] - value[all & ~heights & ~shortening];
    return effect_of(here - level) == BETTER &&
           effect_now(&why->cause[TCR_CAUSE_HEIGHTS], why) == BETTER &&
           effect_now(&why->cause[TCR_CAUSE_SHORTENING], why) == BETTER;
}

static void put_matched(tcr_table *t, const tcr_why *why) {
    const tcr_share *heights = &why->cause[TCR_CAUSE_HEIGHTS];
    tcr_add(&t->line, "Layering: root heights and shortening make up for each other here. That is "
                      "why levelling the roots alone would make it worse, ");
    add_mm(&t->line, heights->without_rms_mm);
    tcr_add(&t->line, " off the line instead of ");
    tcr_add_fixed(&t->line, why->whole_rms_mm, 2, false);
    if (why->layering.without_rms_mm < heights->without_rms_mm) {
        tcr_add(&t->line, "; with both levelled the tips would lie ");
        add_mm(&t->line, why->layering.without_rms_mm);
        tcr_add(&t->line, " off it");
    }
    tcr_add(&t->line, ".");
    tcr_table_end(t, 4, 6);
}

static void put_layering(tcr_table *t, const tcr_why *why) {
    const bool no_heights = tcr_cause_is_absent(why, TCR_CAUSE_HEIGHTS);
    const bool no_shortening = tcr_cause_is_absent(why, TCR_CAUSE_SHORTENING);
    if (no_heights || no_shortening)
        tcr_table_line(t, 4,
                       no_heights && no_shortening ? "Layering plays no part."
                       : no_heights                ? "Layering: here it is the shortening alone."
                                    : "Layering: here it is the heights alone, since no layer is "
                                      "shortened for them.");
    else if (is_matched(why))
        put_matched(t, why);
    else
        put_sentence(t, &LAYERING, &why->layering, why, false);
}

static void put_sentences(tcr_table *t, const tcr_why *why) {
    int largest = 0;
    for (int cause = 1; cause < TCR_CAUSES; cause++)
        if (why->cause[cause].shapley_mm2 > why->cause[largest].shapley_mm2)
            largest = cause;
    for (int cause = 0; cause < TCR_CAUSES; cause++) {
        if (tcr_cause_is_absent(why, (tcr_cause)cause))
            put_absent(t, &PHRASES[cause]);
        else
            put_sentence(t, &PHRASES[cause], &why->cause[cause], why, cause == largest);
    }
    put_layering(t, why);
}

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
    for (int cause = 0; cause < TCR_CAUSES; cause++)
        put_row(t, PHRASES[cause].row, &why->cause[cause]);
    put_row(t, "all six together", &all);
    put_row(t, LAYERING.row, &why->layering);
    put_row(t, ALONG.row, &why->lengths_along);
}

/* What to remember of it all: the cause without which the tips would lie nearest to the line. */
static void put_answer(tcr_table *t, const tcr_why *why) {
    int worst = 0;
    for (int cause = 1; cause < TCR_CAUSES; cause++)
        if (why->cause[cause].without_rms_mm < why->cause[worst].without_rms_mm)
            worst = cause;
    const phrase *of = &PHRASES[worst];
    if (why->cause[worst].without_rms_mm > why->whole_rms_mm - LITTLE_MM) {
        tcr_add(&t->line, "In short: levelling any one of the six causes alone would bring the "
                          "tips ");
        tcr_add(&t->line, why->cause[worst].without_rms_mm < why->whole_rms_mm
                              ? "hardly nearer to the line."
                              : "no nearer to the line.");
    } else {
        tcr_add(&t->line, "In short: of the six causes it is ");
        tcr_add(&t->line, of->row);
        tcr_add(&t->line,
                of->plural ? " that harm the line most: " : " that harms the line most: ");
        add_without(&t->line, of->without, why->cause[worst].without_rms_mm, why->whole_rms_mm);
    }
    tcr_table_end(t, 2, 4);
}

/* What is left with every cause levelled out, against a line that two eyes share. */
static void put_eyes_differ(tcr_table *t, const tcr_why *why) {
    if (isnan(why->eyes_differ_mm2))
        return;
    tcr_add(&t->line, "The two eyes share this line. What is left with all causes levelled out, ");
    add_mm(&t->line, sqrt(why->eyes_differ_mm2));
    tcr_add(&t->line, ", is how the eyes differ from each other.");
    tcr_table_end(t, 2, 4);
}

static void put_eye(tcr_table *t, const tcr_eye_causes *of) {
    const bool fitted = tcr_check_against(t->check) == TCR_FITTED;
    tcr_table_heading(t, t->eye->side, tcr_check_view(t->check));
    tcr_table_carriers(t);
    if (of->reason != NULL) {
        tcr_add(&t->line, "No causes to tell, because ");
        tcr_add(&t->line, of->reason);
        tcr_table_end(t, 2, 4);
    } else if (fitted && t->eye->too_few) {
        tcr_table_line(t, 2, "No causes to tell: too few tips");
    } else {
        put_answer(t, &of->why);
        tcr_add(&t->line, "Tips off the line ");
        tcr_add(&t->line, fitted ? "fitted to them: " : "that the map intends: ");
        add_mm(&t->line, of->why.whole_rms_mm);
        tcr_add(&t->line, " rms; with all six causes levelled out ");
        add_mm(&t->line, of->why.bare_rms_mm);
        tcr_table_end(t, 2, 4);
        put_eyes_differ(t, &of->why);
        put_sentences(t, &of->why);
        put_figures(t, &of->why);
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
    tcr_table_line(t, 0, "");
}

tcr_status tcr_report_why_table(const tcr_check *check, tcr_sink sink, void *context) {
    if (check == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_eye_causes causes[TCR_SIDES];
    size_t eyes;
    const tcr_status status = tcr_collect_causes(check, causes, &eyes);
    if (status != TCR_OK)
        return status;
    tcr_writer writer;
    tcr_table t = {.check = check, .set = tcr_check_set(check), .writer = &writer};
    tcr_writer_begin(&writer, sink, context);
    tcr_paragraph_begin(&t.line);
    bool any = false;
    for (size_t e = 0; e < eyes; e++) {
        t.eye = causes[e].eye;
        put_eye(&t, &causes[e]);
        any = any || causes[e].reason == NULL;
    }
    if (any)
        put_key(&t);
    tcr_table_assumptions(&t);
    tcr_table_line(&t, 0, tcr_table_cautions);
    return tcr_writer_end(&writer);
}
