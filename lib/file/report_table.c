/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of a check: the verdicts that it begins with, and what its two forms share. */
#include "file/report_table.h"

#include <tipcrest/file.h>

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "file/doubts.h"
#include "num/options.h"

enum { LINES_OF_EYE = 15 }; /* of the short form, beside cautions and blank lines */

void tcr_table_options_init(tcr_table_options *options, size_t size) {
    const tcr_table_options defaults = {.size = sizeof defaults};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

/* ---- The verdicts ------------------------------------------------------------------ */

bool tcr_table_is_judged(const tcr_table *t) { return t->eye->verdict != TCR_NOT_JUDGED; }

/* With a capital where no eye is named before it. */
static void add_verdict(tcr_table *t, const char *words, bool is_first) {
    const char first[] = {(char)toupper((unsigned char)words[0]), '\0'};
    tcr_add(&t->line, is_first ? first : "");
    tcr_add(&t->line, is_first ? words + 1 : words);
    tcr_add(&t->line, is_first ? ": " : ", ");
}

/* "Mostly even: 0.30 mm rms; 91 % within 0.5 mm; 7 of 81 tips stick out" */
static void put_verdict(tcr_table *t, bool is_only) {
    const tcr_against against = tcr_check_against(t->check);
    tcr_judgement found;
    if (tcr_check_judge(t->check, 1u << t->eye->side, &found) != TCR_OK)
        return;
    if (!is_only)
        tcr_table_add_side(t, t->eye->side);
    add_verdict(t, tcr_verdict_words(found.verdict, against), is_only);
    if (found.verdict == TCR_NOT_JUDGED) {
        tcr_table_add_why_not_judged(t);
        tcr_table_end(t, 0, 2);
        return;
    }
    tcr_add_fixed(&t->line, found.rms_mm, 2, false);
    tcr_add(&t->line, " mm rms; ");
    tcr_add_share(&t->line, found.within_tolerance);
    tcr_add(&t->line, " within ");
    tcr_add_given(&t->line, tcr_check_tolerance(t->check));
    tcr_add(&t->line, " mm; ");
    if (found.staggered > 0)
        tcr_add_count(&t->line, found.staggered);
    else
        tcr_add(&t->line, "none");
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, found.tips);
    tcr_add(&t->line, found.tips == 1 ? " tip" : " tips");
    tcr_add(&t->line, found.staggered == 1 ? " sticks out" : " stick out");
    tcr_table_end(t, 0, 2);
}

/* "Both eyes: alike, lines 0.12 mm rms apart, at most 0.31"; in full, and where it decides, also
 * how far apart they are with the mean difference in height taken off. */
static void put_symmetry(tcr_table *t, bool full) {
    static const char *const words[TCR_LIKENESSES] = {"alike", "alike but for their height",
                                                      "unlike"};
    tcr_symmetry symmetry;
    tcr_likeness likeness;
    const tcr_status status = tcr_check_symmetry(t->check, &symmetry);
    if (status == TCR_E_MISSING)
        return;
    const tcr_status judged = tcr_check_likeness(t->check, &likeness);
    tcr_add(&t->line, "Both eyes: ");
    if (judged != TCR_OK) {
        tcr_add(&t->line, judged == TCR_E_COMMON ? "their lines have no part in common to compare"
                          : status == TCR_OK     ? "not judged, too few tips"
                                                 : "one of them has no line to compare");
        tcr_table_end(t, 0, 2);
        return;
    }
    tcr_add(&t->line, words[likeness]);
    tcr_add(&t->line, ", lines ");
    tcr_add_fixed(&t->line, symmetry.rms_mm, 2, false);
    tcr_add(&t->line, " mm rms apart, at most ");
    tcr_add_bound(&t->line, symmetry.max_mm, 2, true);
    if (likeness != TCR_ALIKE_BUT_HEIGHT && !full) {
        tcr_table_end(t, 0, 2);
        return;
    }
    tcr_add(&t->line, "; moved to one height ");
    tcr_add_fixed(&t->line, symmetry.level_rms_mm, 2, false);
    tcr_add(&t->line, ", at most ");
    tcr_add_bound(&t->line, symmetry.level_max_mm, 2, true);
    tcr_table_end(t, 0, 2);
}

static void put_verdicts(tcr_table *t, const tcr_side *sides, size_t eyes, bool full) {
    bool any = false;
    for (size_t e = 0; e < eyes; e++) {
        t->eye = tcr_check_eye(t->check, sides[e]);
        put_verdict(t, eyes == 1);
        any = any || tcr_table_is_judged(t);
    }
    put_symmetry(t, full);
    if (any)
        tcr_table_rms(t, tcr_table_line_of(tcr_check_against(t->check)));
    tcr_table_doubts(t);
    tcr_table_line(t, 0, "");
}

/* ---- The layers -------------------------------------------------------------------- */

/* Right ends of the columns. */
static const int LAYER_AT[TCR_LAYERS] = {39, 48, 57};
enum { SHOWS_FROM_AT = 76 };

bool tcr_table_has_layers(const tcr_table *t) {
    const tcr_eye_result *eye = t->eye;
    return !eye->too_few &&
           (eye->view_status[TCR_OPEN_FRONT] == TCR_OK || eye->view_status[TCR_ARTIST] == TCR_OK);
}

void tcr_table_layers_heading(tcr_table *t) {
    t->has_distances = true;
    tcr_add(&t->line, "Layers above or below the line, mm");
    tcr_add_to_column(&t->line, LAYER_AT[0] + 2 - 6);
    tcr_add(&t->line, "bottom   middle      top  shows nearer than");
    tcr_table_end(t, 2, 4);
}

/* The offset farthest from the line; NaN without any. */
static double largest(const double offset_mm[TCR_LAYERS]) {
    double most = NAN;
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        most = fmax(most, fabs(offset_mm[layer])); /* passes over NaN */
    return most;
}

void tcr_table_layers_row(tcr_table *t, tcr_named_view view) {
    const tcr_eye_result *eye = t->eye;
    const double *offset_mm = eye->view_offset_mm[view];
    if (view == TCR_OPEN_FRONT)
        tcr_add_view(&t->line, tcr_check_view(t->check));
    else
        tcr_add(&t->line,
                view == TCR_ARTIST ? "artist's seat (60°, assumed)" : "eye closed, from the front");
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        if (isfinite(offset_mm[layer]))
            tcr_add_fixed_at(&t->line, LAYER_AT[layer], offset_mm[layer], 2, true);
        else
            tcr_add_text_at(&t->line, LAYER_AT[layer], "none");
    if (isfinite(largest(offset_mm))) {
        tcr_paragraph distance;
        tcr_paragraph_begin(&distance);
        tcr_add_shows_from(&distance, largest(offset_mm));
        tcr_add_to_column(&t->line, SHOWS_FROM_AT - distance.columns);
        tcr_add(&t->line, distance.text);
    }
    tcr_table_end(t, 4, 6);
}

/* The part of the mean square deviation that the layers' offsets alone would make. */
static double share_of_layers(const tcr_table *t) {
    const tcr_eye_result *eye = t->eye;
    double sum[TCR_LAYERS] = {0.0}, count[TCR_LAYERS] = {0.0}, whole = 0.0, layers = 0.0;
    for (size_t i = 0; i < eye->lashes; i++) {
        if (eye->lash[i].status != TCR_OK)
            continue;
        const tcr_layer layer = tcr_set_lash(t->set, eye->side, i)->layer;
        sum[layer] += eye->lash[i].deviation_mm;
        count[layer] += 1.0;
        whole += eye->lash[i].deviation_mm * eye->lash[i].deviation_mm;
    }
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        layers += count[layer] > 0.0 ? sum[layer] * sum[layer] / count[layer] : 0.0;
    return whole > 0.0 ? layers / whole : 0.0;
}

void tcr_table_add_cause(tcr_table *t) {
    const double share = share_of_layers(t);
    if (!tcr_table_is_judged(t) || !(share > 0.5) ||
        tcr_verdict_of(t->eye->extended, t->eye->staggered) == TCR_EVEN)
        return;
    tcr_add(&t->line, "The layers make ");
    tcr_add_bound(&t->line, 100.0 * share, 0, false);
    tcr_add(&t->line, " % of it (mean square): see tipcrest why first.");
}

/* ---- Staggered lashes -------------------------------------------------------------- */

size_t tcr_table_find_worst(const tcr_table *t, size_t *worst, size_t most) {
    const tcr_eye_result *eye = t->eye;
    size_t count = 0;
    for (size_t i = 0; i < eye->lashes && most > 0; i++) {
        if (eye->lash[i].status != TCR_OK || !eye->lash[i].staggered)
            continue;
        const double size = fabs(eye->lash[i].deviation_mm);
        size_t at = count < most ? count : most;
        while (at > 0 && size > fabs(eye->lash[worst[at - 1]].deviation_mm))
            at--;
        if (at == most)
            continue;
        if (count < most)
            count++;
        memmove(worst + at + 1, worst + at, (count - 1 - at) * sizeof *worst);
        worst[at] = i;
    }
    return count;
}

static bool is_remedied(const tcr_lash_result *result) {
    return result->remedy.length_mm != result->choice.length_mm;
}

/* Without a tray the length stands in place of a number of sizes, to two decimals. */
static void add_remedy(tcr_paragraph *line, const tcr_lash_result *result, double tolerance_mm) {
    static const char *const words[] = {"", "one size", "two sizes", "three sizes", "four sizes"};
    const tcr_remedy *remedy = &result->remedy;
    const unsigned sizes = (unsigned)(remedy->sizes < 0 ? -remedy->sizes : remedy->sizes);
    if (!is_remedied(result)) {
        tcr_add(line, "no length of the tray does better");
        return;
    }
    if (sizes == 0) {
        tcr_add_fixed(line, remedy->length_mm, 2, false);
        tcr_add(line, " mm leaves ");
        tcr_add_beside(line, remedy->deviation_mm, tolerance_mm, true);
        return;
    }
    if (sizes < sizeof words / sizeof *words) {
        tcr_add(line, words[sizes]);
    } else {
        tcr_add_count(line, sizes);
        tcr_add(line, " sizes");
    }
    tcr_add(line, remedy->sizes < 0 ? " shorter (" : " longer (");
    tcr_add_number(line, remedy->length_mm);
    tcr_add(line, " mm leaves ");
    tcr_add_beside(line, remedy->deviation_mm, tolerance_mm, true);
    tcr_add(line, ")");
}

int tcr_table_id_columns(const tcr_table *t, const size_t *lashes, size_t count) {
    int most = 0;
    for (size_t i = 0; i < count; i++) {
        tcr_paragraph id;
        tcr_paragraph_begin(&id);
        tcr_add_safe(&id, tcr_set_id(t->set, t->eye->side, lashes[i]), TCR_TABLE_ID_COLUMNS);
        most = id.columns > most ? id.columns : most;
    }
    return most;
}

/* Advice that a plan would not follow is told as such. */
static bool is_beyond(const tcr_table *t, size_t i, const tcr_limits *limits) {
    const tcr_lash_result *result = &t->eye->lash[i];
    tcr_choice choice = result->choice;
    choice.length_mm = result->remedy.length_mm;
    return is_remedied(result) &&
           tcr_limits_beyond(limits, t->set, tcr_set_lash(t->set, t->eye->side, i), &result->stance,
                             &choice) != 0;
}

void tcr_table_add_staggered(tcr_table *t, size_t lash, int id_columns, const tcr_limits *limits,
                             const char *beyond) {
    const tcr_eye_result *eye = t->eye;
    const tcr_lash_result *result = &eye->lash[lash];
    const double tolerance_mm = tcr_check_tolerance(t->check);
    const int from = t->line.columns;
    tcr_add_safe(&t->line, tcr_set_id(t->set, eye->side, lash), TCR_TABLE_ID_COLUMNS);
    tcr_add_to_column(&t->line, from + id_columns + 2);
    tcr_add(&t->line,
            tcr_word(&tcr_words_layer, (int)tcr_set_lash(t->set, eye->side, lash)->layer));
    tcr_add_to_column(&t->line, from + id_columns + 10);
    tcr_add_beside(&t->line, result->deviation_mm, tolerance_mm, true);
    tcr_add(&t->line, " mm: ");
    add_remedy(&t->line, result, tolerance_mm);
    if (is_beyond(t, lash, limits))
        tcr_add(&t->line, beyond);
}

/* ---- The table --------------------------------------------------------------------- */

static void put_full(tcr_table *t, const tcr_limits *limits, const tcr_side *sides, size_t eyes) {
    for (size_t e = 0; e < eyes; e++) {
        t->eye = tcr_check_eye(t->check, sides[e]);
        tcr_table_full_eye(t, limits);
        tcr_table_line(t, 0, "");
    }
    tcr_table_assumptions(t);
}

/* The eyes share what the verdicts and the assumptions leave of their lines. */
static void put_short(tcr_table *t, const tcr_limits *limits, const tcr_side *sides, size_t eyes) {
    tcr_table_assumed_shortly(t);
    const int all = LINES_OF_EYE * (int)eyes;
    const int taken = t->lines + tcr_paragraph_lines(&t->line, 0, 2);
    tcr_paragraph_begin(&t->line);
    for (size_t e = 0; e < eyes; e++) {
        t->eye = tcr_check_eye(t->check, sides[e]);
        tcr_table_short_eye(t, limits, (all - taken) / (int)eyes);
        tcr_table_line(t, 0, "");
    }
    tcr_table_assumed_shortly(t);
    tcr_table_end(t, 0, 2);
    tcr_table_line(t, 0, "");
}

static const char LABORATORY[] = "\"Shows nearer than\" is by contour noise in the laboratory, 3 "
                                 "minutes of arc; nobody measured "
                                 "it on lashes.";

tcr_status tcr_report_table(const tcr_check *check, const tcr_table_options *options, tcr_sink sink,
                            void *context) {
    tcr_table_options o = tcr_table_options_default();
    tcr_status status = tcr_report_validate(check, sink);
    if (status == TCR_OK)
        status = tcr_options_take(&o, sizeof o, options);
    if (status != TCR_OK)
        return status;
    const tcr_limits standard = tcr_limits_default();
    tcr_writer writer;
    tcr_table t = {.check = check, .set = tcr_check_set(check), .writer = &writer};
    tcr_writer_begin(&writer, sink, context);
    tcr_paragraph_begin(&t.line);
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(t.set, sides);
    put_verdicts(&t, sides, eyes, o.full);
    (o.full ? put_full : put_short)(&t, o.limits != NULL ? o.limits : &standard, sides, eyes);
    if (t.has_distances)
        tcr_table_line(&t, 0, LABORATORY);
    tcr_table_line(&t, 0, tcr_table_cautions);
    return tcr_writer_end(&writer);
}
