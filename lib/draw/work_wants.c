/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How to recognise the lashes that want another size than their zone, for an eye that nobody
 * measured, as in the table of 'plan'.
 */
#include "draw/work_sheet.h"

#include <math.h>
#include <stdio.h>

enum { TEXT = 3 * TCR_WORDS };

/* "22 % want a longer size than their zone: natural tip 0.5 mm (3.3°) lower, ..." */
static void say_want(char out[TEXT], const tcr_plan_wanting *w, const char *size, double lash_mm) {
    char number[TCR_WORDS], words[TCR_PLAN_WANTING_SIZE];
    tcr_plan_wanting_text(w, lash_mm, words);
    if (*words == '\0')
        snprintf(out, TEXT, "Fewer than 1 in 100 want a %s size than their zone.", size);
    else
        snprintf(out, TEXT, "%.20s %% want a %s size than their zone: %s.",
                 tcr_say_number(number, 100 * w->share, 0, false), size, words);
}

enum { LONGER, SHORTER, NOTE, PARAGRAPHS };

static void say_all(const tcr_work_sheet *sheet, tcr_side side, char text[PARAGRAPHS][TEXT]) {
    const tcr_plan_over *over = &tcr_plan_eye_of(sheet->plan, side)->over;
    char number[TCR_WORDS], within[TCR_WORDS], near[TCR_WORDS];
    const double lash_mm = tcr_plan_lash_mm(sheet->set, side);
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
