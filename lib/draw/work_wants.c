/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How to recognise the lashes that want another size than their zone, for an eye that nobody
 * measured: the traits of tcr_plan_wanting that tell them, as in the table of 'plan'.
 */
#include "draw/work_sheet.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "num/range.h"

enum { TEXT = 3 * TCR_WORDS, MOST = 2 };
static const double LEAST_SD = 0.5;     /* a trait tells from half a standard deviation on */
static const double LEAST_SHARE = 0.01; /* of fewer lashes no trait is named */

/* "natural tip 0.4 mm (3.3°) lower", of a lash of lash_mm; "root 0.13 mm lower" */
static void say_trait(char out[TCR_WORDS], tcr_trait trait, double apart, double lash_mm) {
    static const struct {
        const char *noun, *unit, *less, *more;
    } WORD[TCR_TRAITS] = {
        [TCR_TRAIT_HEIGHT] = {"root", " mm", "lower", "higher"},
        [TCR_TRAIT_PITCH] = {"natural tip", "\xc2\xb0)", "lower", "higher"},
        [TCR_TRAIT_LENGTH] = {"lash", " mm", "shorter", "longer"},
        [TCR_TRAIT_TURN] = {"curl", "\xc2\xb0", "less", "more"},
    };
    const bool angle = trait == TCR_TRAIT_PITCH || trait == TCR_TRAIT_TURN;
    char number[TCR_WORDS], tip[TCR_WORDS], rise[TCR_WORDS] = "";
    if (trait == TCR_TRAIT_PITCH)
        snprintf(rise, sizeof rise, "%.20s mm (",
                 tcr_say_number(tip, lash_mm * sin(fabs(apart)), 1, false));
    tcr_say_number(number, fabs(angle ? apart / TCR_DEG : apart), angle ? 1 : 2, false);
    snprintf(out, TCR_WORDS, "%s %.30s%.20s%s %s", WORD[trait].noun, rise, number, WORD[trait].unit,
             apart > 0 ? WORD[trait].more : WORD[trait].less);
}

/* The trait that tells most among those that are not told yet; -1 for none. */
static int next_trait(const tcr_plan_wanting *w, const bool told[TCR_TRAITS]) {
    int best = -1;
    for (int k = 0; k < TCR_TRAITS; k++)
        if (!told[k] && fabs(w->in_sd[k]) >= LEAST_SD &&
            (best < 0 || fabs(w->in_sd[k]) > fabs(w->in_sd[best])))
            best = k;
    return best;
}

/* "22 % want a longer size than their zone: natural tip 0.5 mm (3.3°) lower, ..." */
static void say_want(char out[TEXT], const tcr_plan_wanting *w, const char *size, double lash_mm) {
    bool told[TCR_TRAITS] = {false};
    char number[TCR_WORDS], trait[TCR_WORDS];
    const char *before = ": ";
    snprintf(out, TEXT, "%.20s %% want a %s size than their zone",
             tcr_say_number(number, 100 * w->share, 0, false), size);
    for (int count = 0; count < MOST && w->share >= LEAST_SHARE; count++) {
        const int best = next_trait(w, told);
        if (best < 0 && count == 0)
            snprintf(out + strlen(out), TEXT - strlen(out), ", which nothing tells by itself");
        if (best < 0)
            break;
        told[best] = true;
        say_trait(trait, (tcr_trait)best, w->apart[best], lash_mm);
        snprintf(out + strlen(out), TEXT - strlen(out), "%s%s", before, trait);
        before = ", ";
    }
    snprintf(out + strlen(out), TEXT - strlen(out), ".");
}

enum { LONGER, SHORTER, NOTE, PARAGRAPHS };

static void say_all(const tcr_work_sheet *sheet, tcr_side side, char text[PARAGRAPHS][TEXT]) {
    const tcr_plan_over *over = &tcr_plan_eye_of(sheet->plan, side)->over;
    const tcr_description *described = tcr_set_description(sheet->set, side);
    char number[TCR_WORDS], within[TCR_WORDS], near[TCR_WORDS];
    const double lash_mm =
        described != NULL ? described->length_mm : tcr_description_default().length_mm;
    say_want(text[LONGER], &over->wants[TCR_WANTS_LONGER], "longer", lash_mm);
    say_want(text[SHORTER], &over->wants[TCR_WANTS_SHORTER], "shorter", lash_mm);
    snprintf(text[NOTE], TEXT,
             "Against the others of their zone and layer; the natural tip is that of a lash of "
             "%.20s mm. With these sizes %.20s %% of tips lie within %.20s mm.",
             tcr_say_trimmed(number, lash_mm, 1),
             tcr_say_number(within, floor(100 * over->within_sized + 1e-9), 0, false),
             tcr_say_trimmed(near, tcr_set_tolerance(sheet->set), 2));
}

double tcr_work_wants_height(const tcr_work_flow *flow, tcr_side side) {
    char text[PARAGRAPHS][TEXT];
    double height = TCR_WORK_HEADING;
    if (!tcr_plan_eye_of(flow->sheet->plan, side)->zones_only)
        return 0;
    say_all(flow->sheet, side, text);
    for (int i = 0; i < PARAGRAPHS; i++)
        height += tcr_work_paragraph_height(flow, text[i]);
    return height;
}

void tcr_work_wants(tcr_work_flow *flow, tcr_side side) {
    const tcr_style *style = flow->canvas->style;
    char text[PARAGRAPHS][TEXT];
    if (!tcr_plan_eye_of(flow->sheet->plan, side)->zones_only)
        return;
    say_all(flow->sheet, side, text);
    tcr_work_heading(flow, flow->sheet->zones_among_lists
                               ? (side == TCR_LEFT ? "Left eye: lashes that want another size"
                                                   : "Right eye: lashes that want another size")
                               : "Lashes that want another size");
    for (int i = 0; i < PARAGRAPHS; i++)
        tcr_work_paragraph(flow, text[i], i == NOTE ? style->quiet : style->ink);
}
